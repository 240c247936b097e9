//! The keys of a price book, its products aside.

use jiff::civil::{Date, Time};

use crate::base::names::Key;
use crate::base::quantity::{
    AreaRate, Hours, Length, LengthRate, Share, Strength, Thickness, Volume,
};
use crate::model::book::TaxOn;
use crate::read::amount::{Amount, CURRENCIES, PerArea, PerHour};
use crate::read::book::CREW;
use crate::read::change::{SignedAmount, SignedPercent};
use crate::read::keys::Rule::{Apart, Unless};
use crate::read::keys::product::product;
use crate::read::keys::{Table, listed, may, must, need, once};

pub fn file() -> Table {
    let codes = CURRENCIES.iter().map(|(code, _)| (*code).to_owned());
    must(
        "",
        "A price book: wages, rates, terms, and products with the figures of their data sheets.",
    )
    .keys([
        need::<String>(
            "name",
            "What the book is called; customers read it among the sources of their paper.",
        )
        .like("\"Spring book\""),
        may::<bool>("invented", "Products and prices are invented, and the papers say so.").shown(),
        need::<String>("currency", "The currency of all amounts, as an ISO 4217 code.")
            .like("\"USD\"")
            .words(codes),
        need::<Date>("effective", "The first day on which the prices hold.").like("2026-04-01"),
        may::<u32>("good-for-days", "For how many days they hold; without it 90.").like("120"),
    ])
    .tables([
        labor(),
        rates(),
        terms(),
        prep(),
        repair(),
        mixing(),
        cleaning(),
        product(),
        change(),
    ])
}

fn labor() -> Table {
    must("labor", "The crew and what an hour of it costs.").keys([
        need::<PerHour>("wage", "What one person earns in an hour."),
        need::<Share>("burden", "Taxes, insurance and benefits, as a share of the wage.")
            .like("\"30 %\""),
        may::<u32>("crew", "How many persons there are; without it 2.").within(CREW),
        need::<Time>("day-starts", "When the crew's day starts."),
        need::<Time>("day-ends", "When it ends.").like("17:00:00"),
    ])
}

/// What one person does in an hour.
fn area_rate(name: &'static str, what: &'static str, example: &str) -> crate::read::keys::Key {
    need::<AreaRate>(name, what).above_zero().like(example)
}

fn length_rate(name: &'static str, what: &'static str, example: &str) -> crate::read::keys::Key {
    need::<LengthRate>(name, what).above_zero().like(example)
}

fn rates() -> Table {
    must("rates", "How much one person does in an hour.").keys([
        need::<Hours>("set-up", "Covering and clearing, once a day on site.").like("\"1 h\""),
        need::<Hours>("clean-up", "Cleaning tools and taking up, once a day on site.")
            .like("\"45 min\""),
        area_rate("grind", "Grinding bare concrete.", "\"260 ft2/h\""),
        area_rate(
            "grind-coated",
            "Grinding where an old coating has to come off.",
            "\"110 ft2/h\"",
        ),
        may::<AreaRate>(
            "strip",
            "Grinding off a whole floor that came loose; without it as `grind-coated`.",
        )
        .above_zero()
        .like("\"90 ft2/h\""),
        length_rate("edge", "Grinding along walls by hand.", "\"50 ft/h\""),
        length_rate("crack", "Mending cracks.", "\"25 ft/h\""),
        may::<LengthRate>("joint", "Filling joints; without it as `crack`.")
            .above_zero()
            .like("\"25 ft/h\""),
        may::<LengthRate>("cove", "Forming coves; without it 20 ft/h.")
            .above_zero()
            .like("\"20 ft/h\""),
        may::<AreaRate>("patch", "Patching spalls, by their surface; without it 15 ft2/h.")
            .above_zero()
            .like("\"15 ft2/h\""),
        area_rate("roll", "Rolling a coat on the floor; mixing is on top.", "\"300 ft2/h\""),
        area_rate("upright", "Coating upright faces and steps.", "\"60 ft2/h\""),
        area_rate("broadcast", "Throwing flake.", "\"600 ft2/h\""),
        area_rate("scrape", "Scraping loose flake off.", "\"450 ft2/h\""),
    ])
}

fn terms() -> Table {
    must("terms", "How a price is made of a cost.").keys([
        need::<PerArea>("consumables", "Pads, rollers, blades, tape and bags, by floor area.")
            .like("\"$0.35/ft2\""),
        may::<PerArea>(
            "removal",
            "Blades and disposal where an old coating comes off, beside the rest.",
        )
        .like("\"$0.40/ft2\""),
        may::<PerArea>(
            "strip",
            "Discs and disposal where a floor that came loose is ground off; without it as `removal`.",
        )
        .like("\"$0.60/ft2\""),
        may::<Amount>("per-job", "Travel, dump fees and the like, once a job.").like("\"$120.00\""),
        need::<Share>("overhead", "Overhead, as a share of the direct cost.").like("\"15 %\""),
        need::<Share>("margin", "The margin you aim at, as a share of the price.").like("\"38 %\""),
        need::<Share>(
            "margin-floor",
            "The lowest margin that you accept, as a share of the price.",
        )
        .like("\"25 %\""),
        may::<Amount>("minimum", "The lowest price of a job.").like("\"$1,800.00\""),
        may::<Amount>("round-to", "Prices are rounded up to a multiple of this.").like("\"$5.00\""),
        may::<String>("tax-name", "What the tax is called on the papers.").like("\"Sales tax\""),
        need::<Share>("tax", "The rate of the sales tax.").like("\"6.5 %\""),
        need::<TaxOn>("tax-on", "What the tax is reckoned on; ask your accountant."),
        may::<u32>("hold-days", "For how many days a proposal's price holds; without it 30.")
            .like("30"),
    ])
}

fn prep() -> Table {
    once("prep", "What the slab's surface and the shape of the job do to quantities.").keys([
        may::<Thickness>(
            "texture",
            "The mean depth of ground concrete, which the first coat fills.",
        )
        .like("\"100 um\""),
        may::<Share>("upright-loss", "The share of a coat that runs off upright faces.")
            .like("\"20 %\""),
        may::<Length>("crack-depth", "How deep a crack is filled.").like("\"3/4 in\""),
        may::<Strength>(
            "strength-from",
            "The surface strength that you ask for where the first coat's data sheet names none.",
        )
        .like("\"250 psi\""),
    ])
}

fn repair() -> Table {
    once("repair", "What mends cracks, joints, holes and corners, and how large the cuts are.")
        .shown()
        .keys([
            may::<Key>("rigid", "The hard filler for cracks: the key of a product.")
                .like("\"crack-resin\"")
                .shown(),
            may::<Key>("flexible", "The soft filler for joints and for cracks that move.")
                .like("\"joint-filler\"")
                .shown(),
            may::<Key>("patch", "The mortar for spalls and holes.")
                .like("\"patch-mortar\"")
                .shown(),
            may::<Key>("cove", "The thickened resin for coves.").like("\"cove-paste\"").shown(),
            may::<Length>("hairline", "A crack up to this width is filled by the first coat.")
                .like("\"1/16 in\""),
            may::<Length>("chase", "A wider crack is opened to this width.")
                .above_zero()
                .like("\"1/4 in\""),
            may::<Length>("joint-width", "The width of a joint that is filled.")
                .above_zero()
                .like("\"1/4 in\""),
            may::<Length>("joint-depth", "How deep a joint is filled.")
                .above_zero()
                .like("\"3/4 in\""),
        ])
}

fn mixing() -> Table {
    once("mixing", "How the crew mixes.").keys([
        may::<Hours>("time", "One person's time for measuring and stirring one batch.")
            .like("\"3 min\""),
        may::<Volume>("largest", "The largest batch that a pail holds.")
            .above_zero()
            .like("\"3 gal\""),
        may::<Volume>("smallest", "The smallest batch that can be measured well.")
            .above_zero()
            .like("\"1/4 gal\""),
        may::<Share>(
            "part-of-pot-life",
            "The part of the pot life in which a batch is out of the pail.",
        )
        .above_zero()
        .like("\"75 %\""),
    ])
}

fn cleaning() -> Table {
    once("cleaning", "What surfaces are wiped and tools are cleaned with.").shown().keys([need::<
        String,
    >(
        "solvent",
        "The solvent by its name, or \"none\" where you use none.",
    )
    .like("\"none\"")])
}

fn change() -> Table {
    listed("change", "An announced change of prices; without product and supplier it is for all.")
        .keys([
            need::<Date>("from", "The first day of papers that it is for.").like("2027-01-01"),
            may::<Key>("product", "Only this product."),
            may::<String>("supplier", "Only what this supplier sells.").like("\"Invented Resins\""),
            may::<SignedPercent>("percent", "By how much, with its sign."),
            may::<SignedAmount>("amount", "By how much on every kit, with its sign."),
        ])
        .rules([
            Apart("product", "supplier"),
            Unless("amount", &["percent"]),
            Apart("percent", "amount"),
        ])
}
