//! Mistakes in what is known of a slab.

use super::job;

const INSIDE: &str = r#"inside = ["none"]"#;
const TREATMENTS: &str = r#"treatments = ["none"]"#;

#[test]
#[rustfmt::skip]
fn what_is_in_or_on_a_slab_is_none_or_something() {
    job("").replace(INSIDE, "inside = [\"none\", \"pipes\"]").says(r#"
        error: `inside` names `none` beside other things
          --> job.toml:24:10
           |
        24 | inside = ["none", "pipes"]
           |          ^^^^^^^^^^^^^^^^^
           |
           = help: leave out `"none"` or the rest
    "#);
    job("").replace(INSIDE, "inside = []").says(r#"
        error: `inside` is empty
          --> job.toml:24:10
           |
        24 | inside = []
           |          ^^
           |
           = help: write `["none"]` if there is nothing, or leave the key out
    "#);
    job("").replace(INSIDE, "inside = [\"pipes\", \"pipes\"]").says(r#"
        error: `inside` names a thing twice
          --> job.toml:24:10
           |
        24 | inside = ["pipes", "pipes"]
           |          ^^^^^^^^^^^^^^^^^^
           |
           = help: take one of them out
    "#);
    job("").replace(INSIDE, "inside = [\"cables\"]").says(r#"
        error: `inside` is `cables`
          --> job.toml:24:11
           |
        24 | inside = ["cables"]
           |           ^^^^^^^^
           |
           = help: expected one of "none", "post-tension-cables", "heating-tubes", "heating-wires", "pipes", "wiring"
    "#);
    job("").replace(TREATMENTS, "treatments = [\"wax\", \"none\"]").says(r#"
        error: `treatments` names `none` beside other things
          --> job.toml:23:14
           |
        23 | treatments = ["wax", "none"]
           |              ^^^^^^^^^^^^^^^
           |
           = help: leave out `"none"` or the rest
    "#);
    job("").replace(TREATMENTS, "treatments = \"wax\"").says(r#"
        error: `treatments` is text
          --> job.toml:23:14
           |
        23 | treatments = "wax"
           |              ^^^^^
           |
           = help: write a list in brackets
    "#);
    job("").replace("tile-glue = \"none\"", "tile-glue = \"none\"\nph = 15").says(r"
        error: `ph` is outside 0 to 14: `15`
          --> job.toml:23:6
           |
        23 | ph = 15
           |      ^^
           |
           = help: write a pH from 0 to 14, for example `10.5`
    ");
    job("").replace("tile-glue = \"none\"", "tile-glue = \"none\"\nph = \"high\"").says(r#"
        error: `ph` is not a pH: `high`
          --> job.toml:23:6
           |
        23 | ph = "high"
           |      ^^^^^^
           |
           = help: write a pH from 0 to 14, for example `10.5`
    "#);
}
