//! The keys for what a customer decides beside the floor.

use jiff::civil::Date;

use crate::base::names::Key;
use crate::base::quantity::Share;
use crate::read::amount::Amount;
use crate::read::keys::spec::*;
use crate::read::keys::table::*;
use crate::read::limits;

keys! {
    choices = once("choices", "How the floor looks, as the customer chose it; what is open stays a line to fill in.")
        .rules(&[Rule::Together("sample-approved", "sample-initials", "a sample that was approved has a day and initials: add `{}`")]) => {
        COLOR: String = may("color", "The color, or the blend of flake.").like("Slate and cream");
        FLAKE_SIZE: String = may("flake-size", "The size of the flake.").like("1/4 in");
        TEXTURE: String = may("texture", "Texture or grip.").like("light grip");
        GLOSS: String = may("gloss", "The gloss of the top coat.").like("satin");
        SAMPLE_APPROVED: Date =
            may("sample-approved", "The day on which the customer approved a sample.").like("2026-05-18");
        SAMPLE_INITIALS: String =
            may("sample-initials", "The initials of whoever approved it.").like("R. T.");
    }

    item = listed("item", "Work or a purchase that is no coat, as a line of its own in the price.")
        .at_most(limits::ITEMS)
        .rules(&[
            Rule::Apart("price", "on-request", "what has a price is not on request: leave one of them out"),
            Rule::Apart("cost", "on-request", "what has a cost is not on request: leave one of them out"),
            Rule::OneOf(&["price", "cost", "on-request"], "add `price`, or `cost` to make the price from, or `on-request = true`"),
        ]) => {
        NAME: String = need("name", "Its name, as it is printed.").like("Moving the workbench");
        PRICE: Amount = may("price", "The customer's price, before tax.").like("$180.00");
        COST: Amount =
            may("cost", "What it costs you; without `price`, the price is made from it.")
                .like("$120.00");
        ON_REQUEST: bool =
            may("on-request", "It is named, with a price on request, and is not in the total.").like("true");
    }

    addition = listed("addition", "What the customer may tick when signing, beside the extras of the floor that are not in the price.")
        .at_most(limits::ADDITIONS)
        .rules(&[
            Rule::Apart("price", "extra", "an extra is priced by its coats: leave `price` out"),
            Rule::Apart("cost", "extra", "an extra is priced by its coats: leave `cost` out"),
            Rule::OneOf(&["price", "cost", "extra"], "add `price` or `cost`, or `extra = \"KEY\"` for coats of a floor system"),
        ]) => {
        KEY: Key = need("key", "Its short name, which `[accepted]` uses.").like("step-grip");
        NAME: String = need("name", "Its name, as it is printed.").like("Grip on the steps");
        EXTRA: Key =
            may("extra", "The extra of a floor system whose coats it adds.").like("urethane-coat");
        PRICE: Amount = may("price", "The customer's price, before tax.").like("$95.00");
        COST: Amount =
            may("cost", "What it costs you; without `price`, the price is made from it.")
                .like("$60.00");
        FLOORS: Vec<Key> =
            list("floors", "The floors that it is for; without it, every floor that can have it.")
                .like(r#"["barrier"]"#);
    }

    discount = once("discount", "What comes off the price, after minimum and rounding and before tax.")
        .rules(&[
            Rule::Apart("percent", "amount", "give an amount or a share, not both"),
            Rule::OneOf(&["percent", "amount"], "add `amount = \"$200.00\"` or `percent = \"5 %\"`"),
        ]) => {
        AMOUNT: Amount = may("amount", "How much comes off.").like("$200.00");
        PERCENT: Share =
            may("percent", "Its share of floor, extras and items together.").above_zero().like("5 %");
        REASON: String = need("reason", "Why, as it is printed.").like("Two floors in one visit");
        FLOORS: Vec<Key> =
            list("floors", "The floors that it is for; without it, all of them.").like(r#"["barrier"]"#);
    }

    paid = listed("paid", "Money that was received.") => {
        ON: Date = need("on", "The day on which it was received.").like("2026-05-21");
        AMOUNT: Amount = need("amount", "How much was received.").like("$500.00");
        NOTE: String = may("note", "What it was, for you alone.").like("Deposit, check 1042");
    }
}
