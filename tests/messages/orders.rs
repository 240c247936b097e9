//! Orders, changes that were asked for, and the day on which a floor was laid.

use super::{SmallShop, job};

/// The small job, signed on 20 May, with these lines.
fn signed(lines: &str) -> SmallShop {
    let accepted = "\n[accepted]\nrevision = 1\nfloor = \"thin\"\non = 2026-05-20\n";
    job(&format!("{accepted}{lines}"))
}

#[test]
fn a_signed_order_has_a_number_and_a_day() {
    signed("\n[[order]]\nrevision = 1\n").says(
        r#"
        error: `on` is missing beside `revision`
          --> job.toml:40:1
           |
        40 | [[order]]
           | ^^^^^^^^^
           |
           = help: a signed order has both: add `on = 2026-05-27`
    "#,
    );
}

#[test]
fn an_order_is_for_a_floor_on_offer() {
    signed("\n[[order]]\nfloor = \"thick\"\n").says(
        r#"
        error: `floor` names `thick`, which `offer` does not
          --> job.toml:41:9
           |
        41 | floor = "thick"
           |         ^^^^^^^
           |
           = help: did you mean `thin`?
    "#,
    );
}

#[test]
fn one_order_is_open_at_the_most() {
    signed("\n[[order]]\nwhat = \"One\"\n\n[[order]]\nwhat = \"Two\"\n").says(
        r#"
        error: `order` stands behind an order that is not signed
          --> job.toml:43:1
           |
        43 | [[order]]
           | ^^^^^^^^^
           |
           = help: write both changes into one order, or `revision` and `on` into the first
    "#,
    );
}

#[test]
fn orders_follow_each_other() {
    signed("\n[[order]]\nrevision = 1\non = 2026-05-19\n").says(
        r#"
        error: `on` is before 2026-05-20, when what it changes was signed
          --> job.toml:42:6
           |
        42 | on = 2026-05-19
           |      ^^^^^^^^^^
           |
           = help: check both days
    "#,
    );
    signed(
        "\n[[order]]\nrevision = 1\non = 2026-05-21\n\n[[order]]\nrevision = 1\non = 2026-05-22\n",
    )
    .says(
        r#"
        error: `revision` is not above that of the order before it
          --> job.toml:45:12
           |
        45 | revision = 1
           |            ^
           |
           = help: each order has a number of its own, the later the higher
    "#,
    );
}

#[test]
fn what_was_asked_names_who_asked() {
    job("\n[[asked]]\non = 2026-05-20\nwhat = \"More\"\n").says(
        r#"
        error: `by` is missing in [[asked]] 1
          --> job.toml:35:1
           |
        35 | [[asked]]
           | ^^^^^^^^^ expected text
           |
           = help: add `by = "as it should be printed"`
    "#,
    );
}

#[test]
fn a_floor_is_laid_after_its_paper() {
    job("\n[plan]\nlaid = 2026-05-02\n").says(
        r#"
        error: `laid` is before the job's date, 2026-05-12
          --> job.toml:36:8
           |
        36 | laid = 2026-05-02
           |        ^^^^^^^^^^
           |
           = help: write the day on which the floor was done, or leave `laid` out
    "#,
    );
}

#[test]
fn one_floor_is_named_where_one_is_laid() {
    job("\n[accepted]\nrevision = 1\nfloor = \"thin, thick\"\non = 2026-05-20\n").says(
        r#"
        error: `floor` is not a plain name: `thin, thick`
          --> job.toml:37:9
           |
        37 | floor = "thin, thick"
           |         ^^^^^^^^^^^^^
           |
           = help: one name goes here: `"thin"`, or another of them
    "#,
    );
}
