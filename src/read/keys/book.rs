//! The keys of a price book, its products aside.

use jiff::civil::{Date, Time};

use crate::base::names::Key;
use crate::base::quantity::{
    AreaRate, Hours, Length, LengthRate, Share, Strength, Thickness, Volume,
};
use crate::model::book::TaxOn;
use crate::read::amount::{Amount, CURRENCIES, PerArea, PerHour};
use crate::read::change::{SignedAmount, SignedPercent};
use crate::read::keys::CREW_SIZE;
use crate::read::keys::product::product;
use crate::read::keys::spec::*;
use crate::read::keys::table::*;

fn currencies() -> Vec<String> {
    CURRENCIES.iter().map(|(code, _)| (*code).to_owned()).collect()
}

keys! {
    book = must(
        "",
        "A price book: wages, rates, terms, and products with the figures of their data sheets.",
    )
    .tables(&[
        labor::TABLE,
        rates::TABLE,
        terms::TABLE,
        prep::TABLE,
        repair::TABLE,
        mixing::TABLE,
        cleaning::TABLE,
        product::TABLE,
        change::TABLE,
    ]) => {
        NAME: String =
            need("name", "What the book is called; customers read it among the sources of their paper.")
                .like("Spring book");
        INVENTED: bool =
            may("invented", "Products and prices are invented, and the papers say so.").shown();
        CURRENCY: String =
            need("currency", "The currency of all amounts, as an ISO 4217 code.")
                .like("USD").words(currencies);
        EFFECTIVE: Date =
            need("effective", "The first day on which the prices hold.").like("2026-04-01");
        GOOD_FOR_DAYS: u32 =
            may("good-for-days", "For how many days they hold; without it 90.").like("120");
    }

    labor = must("labor", "The crew and what an hour of it costs.") => {
        WAGE: PerHour = need("wage", "What one person earns in an hour.");
        BURDEN: Share =
            need("burden", "Taxes, insurance and benefits, as a share of the wage.").like("30 %");
        CREW: u32 = may("crew", "How many persons there are; without it 2.")
                .within(CREW_SIZE)
                .advice("expected 1 to 20 persons");
        DAY_STARTS: Time = need("day-starts", "When the crew's day starts.");
        DAY_ENDS: Time = need("day-ends", "When it ends.").like("17:00:00");
    }

    rates = must("rates", "How much one person does in an hour.") => {
        SET_UP: Hours = need("set-up", "Covering and clearing, once a day on site.").like("1 h");
        CLEAN_UP: Hours =
            need("clean-up", "Cleaning tools and taking up, once a day on site.").like("45 min");
        GRIND: AreaRate = need("grind", "Grinding bare concrete.").above_zero().like("260 ft2/h");
        GRIND_COATED: AreaRate =
            need("grind-coated", "Grinding where an old coating has to come off.")
                .above_zero().like("110 ft2/h");
        STRIP: AreaRate =
            may("strip", "Grinding off a whole floor that came loose; without it as `grind-coated`.")
                .above_zero().like("90 ft2/h");
        SAND: AreaRate =
            may("sand", "Sanding a sound floor before a new topcoat; without it the sheet of years has no price for one.")
                .above_zero().like("350 ft2/h");
        EDGE: LengthRate = need("edge", "Grinding along walls by hand.").above_zero().like("50 ft/h");
        CRACK: LengthRate = need("crack", "Mending cracks.").above_zero().like("25 ft/h");
        JOINT: LengthRate =
            may("joint", "Filling joints; without it as `crack`.").above_zero().like("25 ft/h");
        COVE: LengthRate =
            may("cove", "Forming coves; without it 20 ft/h.").above_zero().like("20 ft/h");
        PATCH: AreaRate =
            may("patch", "Patching spalls, by their surface; without it 15 ft2/h.")
                .above_zero().like("15 ft2/h");
        ROLL: AreaRate =
            need("roll", "Rolling a coat on the floor; mixing is on top.")
                .above_zero().like("300 ft2/h");
        POUR: AreaRate =
            may("pour", "Pouring a coat and spreading it; needed where a floor has a poured coat.")
                .above_zero().like("220 ft2/h");
        TROWEL: AreaRate =
            may("trowel", "Laying a coat with a trowel; needed where a floor has such a coat.")
                .above_zero().like("90 ft2/h");
        UPRIGHT: AreaRate =
            need("upright", "Coating upright faces and steps.").above_zero().like("60 ft2/h");
        BROADCAST: AreaRate = need("broadcast", "Throwing flake.").above_zero().like("600 ft2/h");
        SCRAPE: AreaRate = need("scrape", "Scraping loose flake off.").above_zero().like("450 ft2/h");
    }

    terms = must("terms", "How a price is made of a cost.") => {
        CONSUMABLES: PerArea =
            need("consumables", "Pads, rollers, blades, tape and bags, by floor area.")
                .like("$0.35/ft2");
        REMOVAL: PerArea =
            may("removal", "Blades and disposal where an old coating comes off, beside the rest.")
                .like("$0.40/ft2");
        STRIP: PerArea =
            may("strip", "Discs and disposal where a floor that came loose is ground off; without it as `removal`.")
                .like("$0.60/ft2");
        PER_JOB: Amount = may("per-job", "Travel, dump fees and the like, once a job.").like("$120.00");
        OVERHEAD: Share = need("overhead", "Overhead, as a share of the direct cost.").like("15 %");
        MARGIN: Share = need("margin", "The margin you aim at, as a share of the price.").like("38 %");
        MARGIN_FLOOR: Share =
            need("margin-floor", "The lowest margin that you accept, as a share of the price.")
                .like("25 %");
        MINIMUM: Amount = may("minimum", "The lowest price of a job.").like("$1,800.00");
        ROUND_TO: Amount =
            may("round-to", "Prices are rounded up to a multiple of this.").like("$5.00");
        TAX_NAME: String = may("tax-name", "What the tax is called on the papers; else it is a sales tax, in their language.").like("Sales tax");
        TAX: Share = need("tax", "The rate of the sales tax.").like("6.5 %");
        TAX_ON: TaxOn = need("tax-on", "What the tax is reckoned on; ask your accountant.");
        HOLD_DAYS: u32 =
            may("hold-days", "For how many days a proposal's price holds; without it 30.").like("30");
    }

    prep = once("prep", "What the slab's surface and the shape of the job do to quantities.") => {
        TEXTURE: Thickness =
            may("texture", "The mean depth of ground concrete, which the first coat fills.")
                .like("100 um");
        UPRIGHT_LOSS: Share =
            may("upright-loss", "The share of a coat that runs off upright faces.").like("20 %");
        CRACK_DEPTH: Length = may("crack-depth", "How deep a crack is filled.").like("3/4 in");
        STRENGTH_FROM: Strength =
            may("strength-from", "The surface strength that you ask for where the first coat's data sheet names none.")
                .like("250 psi");
    }

    repair = once(
        "repair",
        "What mends cracks, joints, holes and corners, and how large the cuts are.",
    )
    .shown() => {
        RIGID: Key =
            may("rigid", "The hard filler for cracks: the key of a product.")
                .like("crack-resin").shown();
        FLEXIBLE: Key =
            may("flexible", "The soft filler for joints and for cracks that move.")
                .like("joint-filler").shown();
        PATCH: Key = may("patch", "The mortar for spalls and holes.").like("patch-mortar").shown();
        COVE: Key = may("cove", "The thickened resin for coves.").like("cove-paste").shown();
        HAIRLINE: Length =
            may("hairline", "A crack up to this width is filled by the first coat.").like("1/16 in");
        CHASE: Length =
            may("chase", "A wider crack is opened to this width.").above_zero().like("1/4 in");
        JOINT_WIDTH: Length =
            may("joint-width", "The width of a joint that is filled.").above_zero().like("1/4 in");
        JOINT_DEPTH: Length =
            may("joint-depth", "How deep a joint is filled.").above_zero().like("3/4 in");
    }

    mixing = once("mixing", "How the crew mixes.") => {
        TIME: Hours =
            may("time", "One person's time for measuring and stirring one batch.").like("3 min");
        LARGEST: Volume =
            may("largest", "The largest batch that a pail holds.").above_zero().like("3 gal");
        SMALLEST: Volume =
            may("smallest", "The smallest batch that can be measured well.")
                .above_zero().like("1/4 gal");
        PART_OF_POT_LIFE: Share =
            may("part-of-pot-life", "The part of the pot life in which a batch is out of the pail.")
                .above_zero().like("75 %");
    }

    cleaning = once("cleaning", "What surfaces are wiped and tools are cleaned with.").shown() => {
        SOLVENT: String =
            need("solvent", "The solvent by its name, or \"none\" where you use none.").like("none");
    }

    change = listed(
        "change",
        "An announced change of prices; without product and supplier it is for all.",
    )
    .rules(&[
        Rule::Apart(
            "product",
            "supplier",
            "name one of them; without either it is for all products",
        ),
        Rule::Unless(
            "amount",
            &["percent"],
            Some("add `percent = \"+4.5 %\"`, or `amount = \"+$3.00\"` for every kit"),
        ),
        Rule::Apart("percent", "amount", "give one of them; for both, write a second `[[change]]`"),
    ]) => {
        FROM: Date = need("from", "The first day of papers that it is for.").like("2027-01-01");
        PRODUCT: Key = may("product", "Only this product.");
        SUPPLIER: String = may("supplier", "Only what this supplier sells.").like("Invented Resins");
        PERCENT: SignedPercent = may("percent", "By how much, with its sign.");
        AMOUNT: SignedAmount = may("amount", "By how much on every kit, with its sign.");
    }
}
