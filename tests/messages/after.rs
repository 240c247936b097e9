//! The handover and failures of a floor.

use super::{SmallShop, job};

/// The small job, signed on 20 May, with these lines.
fn signed(lines: &str) -> SmallShop {
    let accepted = "\n[accepted]\nrevision = 1\nfloor = \"thin\"\non = 2026-05-20\n";
    job(&format!("{accepted}{lines}"))
}

#[test]
fn what_comes_after_the_work_follows_a_signature() {
    job("\n[[failure]]\nseen = 2027-05-20\nkind = \"blister\"\n").says(
        r#"
        error: this is of a floor that was laid, and the job has no `[accepted]`
          --> job.toml:35:1
           |
        35 | [[failure]]
           | ^^^^^^^^^^^
           |
           = help: add `[accepted]` with the revision, the floor and the day of the signature
    "#,
    );
    signed("\n[handover]\non = 2026-05-19\n").says(
        r#"
        error: `on` is before 2026-05-20, when the floor was signed for
          --> job.toml:41:6
           |
        41 | on = 2026-05-19
           |      ^^^^^^^^^^
           |
           = help: check both days
    "#,
    );
}

#[test]
fn a_failure_has_a_day_and_a_kind() {
    signed("\n[[failure]]\nkind = \"bubble\"\n").says_among_others(
        r#"
        error: `kind` is `bubble`
    "#,
    );
    signed("\n[[failure]]\nkind = \"blister\"\n").says(
        r#"
        error: `seen` is missing in [[failure]] 1
          --> job.toml:40:1
           |
        40 | [[failure]]
           | ^^^^^^^^^^^ expected a date
           |
           = help: add `seen = 2026-05-12`
    "#,
    );
}

#[test]
fn a_failure_is_in_a_coat_of_its_floor() {
    signed(
        "\n[[failure]]\nseen = 2027-05-20\nkind = \"peeled\"\nbreak = \"in-coat\"\ncoat = \"bas\"\n",
    )
    .says(
        r#"
        error: no coat of `thin` is called `bas`
          --> job.toml:44:8
           |
        44 | coat = "bas"
           |        ^^^^^
           |
           = help: did you mean `base`?
    "#,
    );
    signed(
        "\n[[failure]]\nseen = 2027-05-20\nkind = \"peeled\"\nbreak = \"at-slab\"\ncoat = \"base\"\n",
    )
    .says(
        r#"
        error: `coat` stands beside `break = "at-slab"`, which is in no coat
          --> job.toml:44:8
           |
        44 | coat = "base"
           |        ^^^^^^
           |
           = help: leave it out, or write `break = "between-coats"` or `break = "in-coat"`
    "#,
    );
}

#[test]
fn nothing_behind_a_piece_stands_alone() {
    signed("\n[[failure]]\nseen = 2027-05-20\nkind = \"peeled\"\nbehind = [\"none\", \"damp\"]\n")
        .says(
            r#"
        error: `behind` names `none` beside other things
          --> job.toml:43:10
           |
        43 | behind = ["none", "damp"]
           |          ^^^^^^^^^^^^^^^^
           |
           = help: leave out `"none"` or the rest
    "#,
        );
}
