//! Mistakes in a book's announced changes of prices.

use super::book;
use super::small::URETHANE;

/// The small book with a second product and a change of these lines has this mistake and no other.
#[track_caller]
fn change(lines: &str, block: &str) {
    book(&format!("{URETHANE}\n[[change]]\nfrom = 2027-01-01\n{lines}\n")).says(block);
}

#[test]
#[rustfmt::skip]
fn a_change_says_up_or_down_in_percent_or_in_money() {
    change("percent = \"4.5 %\"", r#"
        error: `percent` does not say up or down: `4.5 %`
          --> book.toml:76:11
           |
        76 | percent = "4.5 %"
           |           ^^^^^^^
           |
           = help: write `"+4.5 %"` or `"-4.5 %"`
    "#);
    change("percent = \"up a little\"", r#"
        error: `percent` does not say up or down: `up a little`
          --> book.toml:76:11
           |
        76 | percent = "up a little"
           |           ^^^^^^^^^^^^^
           |
           = help: write a change in percent with its sign, for example `"+4.5 %"`
    "#);
    change("percent = \"+4.5\"", r#"
        error: `percent` has no `%`: `+4.5`
          --> book.toml:76:11
           |
        76 | percent = "+4.5"
           |           ^^^^^^
           |
           = help: write a change in percent with its sign, for example `"+4.5 %"`
    "#);
    change("percent = 4.5", r#"
        error: `percent` is a number
          --> book.toml:76:11
           |
        76 | percent = 4.5
           |           ^^^
           |
           = help: write a change in percent with its sign, for example `"+4.5 %"`
    "#);
    change("amount = \"$3.00\"", r#"
        error: `amount` does not say up or down: `$3.00`
          --> book.toml:76:10
           |
        76 | amount = "$3.00"
           |          ^^^^^^^
           |
           = help: write `"+$3.00"` or `"-$3.00"`
    "#);
    change("amount = \"+$3.005\"", r#"
        error: `amount` has parts of a cent: `$3.005`
          --> book.toml:76:10
           |
        76 | amount = "+$3.005"
           |          ^^^^^^^^^
           |
           = help: write at most two digits after the decimal point
    "#);
    change("amount = \"+€3.00\"", r#"
        error: `amount` is in `€`
          --> book.toml:76:10
           |
        76 | amount = "+€3.00"
           |          ^^^^^^^^
           |
           = help: the book's currency is USD; write the amount with `$` or with no sign
    "#);
}

#[test]
#[rustfmt::skip]
fn a_change_that_nobody_can_mean_is_refused() {
    change("percent = \"-101 %\"", r#"
        error: `percent` is too much: `-101 %`
          --> book.toml:76:11
           |
        76 | percent = "-101 %"
           |           ^^^^^^^^
           |
           = help: the most accepted is -100 %
    "#);
    change("percent = \"+501 %\"", r#"
        error: `percent` is too much: `+501 %`
          --> book.toml:76:11
           |
        76 | percent = "+501 %"
           |           ^^^^^^^^
           |
           = help: the most accepted is +500 %
    "#);
    change("percent = \"+4.56789 %\"", r#"
        error: `percent` is too fine: `+4.56789 %`
          --> book.toml:76:11
           |
        76 | percent = "+4.56789 %"
           |           ^^^^^^^^^^^^
           |
           = help: write at most four digits after the decimal point
    "#);
    change("amount = \"-$130.00\"", r#"
        error: `amount` takes the price of `urethane-coat` below zero
          --> book.toml:76:10
           |
        76 | amount = "-$130.00"
           |          ^^^^^^^^^^
           |
           = help: a kit of it costs 128.00 on the day before; change it by less, or name one `product`
    "#);
    change("product = \"epoxy-primer\"\namount = \"-$198.01\"", r#"
        error: `amount` takes the price of `epoxy-primer` below zero
          --> book.toml:77:10
           |
        77 | amount = "-$198.01"
           |          ^^^^^^^^^^
           |
           = help: a kit of it costs 198.00 on the day before; change it by less, or name one `product`
    "#);
}

#[test]
#[rustfmt::skip]
fn a_change_is_one_of_two_kinds_and_for_one_of_three() {
    change("", r#"
        error: `percent` is missing, and so is `amount`
          --> book.toml:74:1
           |
        74 | [[change]]
           | ^^^^^^^^^^
           |
           = help: add `percent = "+4.5 %"`, or `amount = "+$3.00"` for every kit
    "#);
    change("percent = \"+1 %\"\namount = \"+$3.00\"", r#"
        error: `amount` stands beside `percent`
          --> book.toml:77:10
           |
        77 | amount = "+$3.00"
           |          ^^^^^^^^
           |
           = help: give one of them; for both, write a second `[[change]]`
    "#);
    change("product = \"epoxy-primer\"\nsupplier = \"Invented Resins\"\npercent = \"+1 %\"", r#"
        error: `supplier` stands beside `product`
          --> book.toml:77:12
           |
        77 | supplier = "Invented Resins"
           |            ^^^^^^^^^^^^^^^^^
           |
           = help: name one of them; without either it is for all products
    "#);
}

#[test]
#[rustfmt::skip]
fn a_change_names_what_is_in_the_book() {
    change("product = \"epoxy-primr\"\npercent = \"+1 %\"", r#"
        error: `product` is `epoxy-primr`, and no product of the book has that
          --> book.toml:76:11
           |
        76 | product = "epoxy-primr"
           |           ^^^^^^^^^^^^^
           |
           = help: did you mean `"epoxy-primer"`?
    "#);
    change("supplier = \"Invented Resin\"\npercent = \"+1 %\"", r#"
        error: `supplier` is `Invented Resin`, and no product of the book has that
          --> book.toml:76:12
           |
        76 | supplier = "Invented Resin"
           |            ^^^^^^^^^^^^^^^^
           |
           = help: did you mean `"Invented Resins"`?
    "#);
    change("supplier = \"Somebody\"\npercent = \"+1 %\"", r#"
        error: `supplier` is `Somebody`, and no product of the book has that
          --> book.toml:76:12
           |
        76 | supplier = "Somebody"
           |            ^^^^^^^^^^
           |
           = help: known: `Invented Resins`, `Made-up Coatings`
    "#);
    change("percent = \"+1 %\"\nsuplier = \"Invented Resins\"", r#"
        error: unknown key `suplier` in [[change]] 1
          --> book.toml:77:1
           |
        77 | suplier = "Invented Resins"
           | ^^^^^^^
           |
           = help: did you mean `supplier`?
    "#);
}
