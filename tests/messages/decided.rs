//! Additions, items, a discount and money received that cannot be.

use super::job;

const GRIP: &str = "\n[[addition]]\nkey = \"grip\"\nname = \"Grip\"\nprice = \"$10\"\n";
const SIGNED: &str = "\n[accepted]\nrevision = 1\nfloor = \"thin\"\non = 2026-05-20\n";

#[test]
#[rustfmt::skip]
fn additions_are_of_floors_on_offer_and_have_a_price() {
    job(&GRIP.replace("price = \"$10\"", "extra = \"urethane-coat\"")).says(r#"
        error: no extra of a floor on offer is called `urethane-coat`
          --> job.toml:38:9
           |
        38 | extra = "urethane-coat"
           |         ^^^^^^^^^^^^^^^
           |
           = help: there is no extra of a floor on offer here
    "#);
    job(&GRIP.replace("price = \"$10\"", "")).says(r#"
        error: `price` is missing
          --> job.toml:35:1
           |
        35 | [[addition]]
           | ^^^^^^^^^^^^
           |
           = help: add `price` or `cost`, or `extra = "KEY"` for coats of a floor system
    "#);
    job(&format!("{GRIP}{GRIP}")).says(r#"
        error: `key` `grip` stands twice
          --> job.toml:41:7
           |
        41 | key = "grip"
           |       ^^^^^^
           |
           = help: give each addition a key of its own
    "#);
    job(&format!("{GRIP}floors = [\"thick\"]")).says(r#"
        error: `floors` names `thick`, which `offer` does not
          --> job.toml:39:10
           |
        39 | floors = ["thick"]
           |          ^^^^^^^^^
           |
           = help: did you mean `thin`?
    "#);
    job(&GRIP.repeat(8)).says_among_others(r#"
        error: `addition` stands 8 times
          --> job.toml:35:1
           |
        35 | [[addition]]
           | ^^^^^^^^^^^^
           |
           = help: the most accepted is 7
    "#);
    job(&format!("{SIGNED}additions = [\"gripp\"]\n{GRIP}")).says(r#"
        error: no addition is called `gripp`
          --> job.toml:39:14
           |
        39 | additions = ["gripp"]
           |              ^^^^^^^
           |
           = help: did you mean `grip`?
    "#);
}

#[test]
#[rustfmt::skip]
fn an_item_has_a_price_a_cost_or_is_on_request() {
    job("\n[[item]]\nname = \"Moving\"\n").says(r#"
        error: `price` is missing
          --> job.toml:35:1
           |
        35 | [[item]]
           | ^^^^^^^^
           |
           = help: add `price`, or `cost` to make the price from, or `on-request = true`
    "#);
    job("\n[[item]]\nname = \"Moving\"\nprice = \"€80\"\n").says(r#"
        error: `price` is in `€`
          --> job.toml:37:9
           |
        37 | price = "€80"
           |         ^^^^^
           |
           = help: the book's currency is USD
    "#);
}

#[test]
#[rustfmt::skip]
fn a_discount_is_an_amount_or_a_share_and_within_the_price() {
    job("\n[discount]\nreason = \"why\"\n").says(r#"
        error: `percent` is missing
          --> job.toml:35:1
           |
        35 | [discount]
           | ^^^^^^^^^^
           |
           = help: add `amount = "$200.00"` or `percent = "5 %"`
    "#);
    job("\n[discount]\npercent = \"105 %\"\nreason = \"why\"\n").says(r#"
        error: `percent` is too large: `105 %`
          --> job.toml:36:11
           |
        36 | percent = "105 %"
           |           ^^^^^^^
           |
           = help: the most accepted is 100 %; check the number and the unit
    "#);
    job("\n[discount]\namount = \"$10\"\npercent = \"5 %\"\nreason = \"why\"\n").says(r#"
        error: `amount` stands beside `percent`
          --> job.toml:36:10
           |
        36 | amount = "$10"
           |          ^^^^^
           |
           = help: give an amount or a share, not both
    "#);
    job("\n[discount]\namount = \"$90,000\"\nreason = \"why\"\n").says_among_others("error: the discount takes off $90,000.00, and `thin` costs $");
}

#[test]
#[rustfmt::skip]
fn money_is_received_from_the_day_of_the_contract_on() {
    job(&format!("{SIGNED}\n[[paid]]\non = 2026-05-19\namount = \"$500\"\n")).says(r#"
        error: `on` is before the contract, which was signed on 2026-05-20
          --> job.toml:41:6
           |
        41 | on = 2026-05-19
           |      ^^^^^^^^^^
           |
           = help: check both days: money for this price is received when it is signed, or later
    "#);
}
