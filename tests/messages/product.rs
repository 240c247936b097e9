//! Mistakes in a product of the book.

use super::book;
use super::small::{BARRIER, FLAKE, URETHANE, WATER_EPOXY};

#[test]
#[rustfmt::skip]
fn a_product_says_what_the_sums_need() {
    book(FLAKE).replace("kit = [{ size = \"40 lb\", price = \"$118.00\" }]\n", "").says(r#"
        error: `kit` is missing or has no usable size
          --> book.toml:50:1
           |
        50 | [[product]]
           | ^^^^^^^^^^^
           |
           = help: add `kit = [{ size = "40 lb", price = "$285.00" }]`
    "#);
    book(WATER_EPOXY).replace(r#"kit = [{ size = "2.5 gal", price = "$104.00" }]"#, r#"kit = [{ size = "0 gal", price = "$104.00" }]"#).says_among_others(r#"
        error: `size` is zero
          --> book.toml:53:17
           |
        53 | kit = [{ size = "0 gal", price = "$104.00" }]
           |                 ^^^^^^^
           |
           = help: write how much a kit holds
    "#);
    book(WATER_EPOXY).replace(r#"kit = [{ size = "2.5 gal", price = "$104.00" }]"#, r#"kit = [{ size = "1 gal", price = "$50.00" }, { size = "2 gal", price = "$100.00" }, { size = "3 gal", price = "$150.00" }, { size = "4 gal", price = "$200.00" }, { size = "5 gal", price = "$250.00" }, { size = "6 gal", price = "$300.00" }, { size = "7 gal", price = "$350.00" }]"#).says(r#"
        error: `kit` stands 7 times
          --> book.toml:53:7
           |
        53 | kit = [{ size = "1 gal", price = "$50.00" }, { size...00" }, { size = "7 gal", price = "$350.00" }]
           |       ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^...^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
           |
           = help: the most accepted is 6
    "#);
    book(WATER_EPOXY).replace(r#"kit = [{ size = "2.5 gal", price = "$104.00" }]"#, r#"kit = [{ size = "2.5 gal", price = "$104.00" }, { size = "10 qt", price = "$140.00" }]"#).says(r#"
        error: `size` stands twice, at two prices
          --> book.toml:53:58
           |
        53 | kit = [{ size = "2.5 gal", price = "$104.00" }, { size = "10 qt", price = "$140.00" }]
           |                                                          ^^^^^^^
           |
           = help: take one of the two kits out: nobody can tell which price is yours
    "#);
    book(WATER_EPOXY).replace(r#"volume-solids = "45 %""#, r#"volume-solids = "0 %""#).says(r#"
        error: `volume-solids` is zero
          --> book.toml:54:17
           |
        54 | volume-solids = "0 %"
           |                 ^^^^^
           |
           = help: the data sheet's volume solids, for example `"100 %"`
    "#);
    book(URETHANE).replace(r#"film = "2.5 mil""#, "film = \"2.5 mil\"\nspread = \"300 ft2/gal\"").says(r#"
        error: `film` stands beside `spread`
          --> book.toml:56:8
           |
        56 | film = "2.5 mil"
           |        ^^^^^^^^^
           |
           = help: give one: the sheet's wet coverage or a dry film
    "#);
    book(URETHANE).replace("film = \"2.5 mil\"\n", "").says(r#"
        error: `spread` is missing, and so is `film`
          --> book.toml:50:1
           |
        50 | [[product]]
           | ^^^^^^^^^^^
           |
           = help: add `spread = "160 ft2/gal"` (wet coverage) or `film = "10 mil"` (dry film)
    "#);
    book("").replace(r#"spread = "160 ft2/gal""#, r#"spread = "0 ft2/gal""#).says(r#"
        error: `spread` is zero
          --> book.toml:40:10
           |
        40 | spread = "0 ft2/gal"
           |          ^^^^^^^^^^^
           |
           = help: write a wet coverage above zero, for example `"160 ft2/gal"`
    "#);
    book(FLAKE).replace(r#"reclaimed = "15 %""#, r#"reclaimed = "90 %""#).says(r#"
        error: `reclaimed` is 90 % or more
          --> book.toml:58:13
           |
        58 | reclaimed = "90 %"
           |             ^^^^^^
           |
           = help: the share of what is bought that does not reach the floor
    "#);
    book(WATER_EPOXY).replace("slab-from = \"35 F\"", "slab-from = \"95 F\"").says(r#"
        error: `slab-to` is not above `slab-from`
          --> book.toml:61:11
           |
        61 | slab-to = "95 F"
           |           ^^^^^^
           |
           = help: the warmest slab that the sheet allows
    "#);
    book(WATER_EPOXY).replace(r#"recoat-from = "16 h", recoat-to = "72 h""#, r#"recoat-from = "72 h", recoat-to = "16 h""#).says(r#"
        error: `recoat-to` is before `recoat-from`
          --> book.toml:66:74
           |
        66 |   { at = "60 F", pot-life = "120 min", recoat-from = "72 h", recoat-to = "16 h", foot = "30 h", vehicle = "168 h" },
           |                                                                          ^^^^^^
           |
           = help: the latest time for the next coat without sanding
    "#);
    book(URETHANE).replace(r#"lel = "0.9 %""#, r#"lel = "0 %""#).says(r#"
        error: `lel` is zero
          --> book.toml:70:7
           |
        70 | lel = "0 %"
           |       ^^^^^
           |
           = help: the lower explosive limit from the safety data sheet, `"1.4 %"`
    "#);
    book(URETHANE).replace(r#"exposure = "100 ppm""#, r#"exposure = "0 ppm""#).says(r#"
        error: `exposure` is zero
          --> book.toml:71:12
           |
        71 | exposure = "0 ppm"
           |            ^^^^^^^
           |
           = help: an exposure limit of the safety data sheet, `"100 ppm"`
    "#);
    book(URETHANE).replace(r#"molar-mass = "106.2 g/mol""#, r#"molar-mass = "0 g/mol""#).says(r#"
        error: `molar-mass` is zero
          --> book.toml:69:14
           |
        69 | molar-mass = "0 g/mol"
           |              ^^^^^^^^^
           |
           = help: the solvent's molar mass, `"106.2 g/mol"`
    "#);
    book(URETHANE).replace(r#"voc = "335 g/L""#, "voc = \"335 g/L\"\nsolvent-free = true").says(r#"
        error: `solvent-free` stands beside `solvent`
          --> book.toml:58:16
           |
        58 | solvent-free = true
           |                ^^^^
           |
           = help: give one: that its safety data sheet names no solvent that can catch fire, or which it names
    "#);
    book(URETHANE).replace(r#"key = "urethane-coat""#, r#"key = "epoxy-primer""#).says_among_others(r#"
        error: `key` `epoxy-primer` is used twice
          --> book.toml:51:7
           |
        51 | key = "epoxy-primer"
           |       ^^^^^^^^^^^^^^
           |
           = help: give each product its own key
    "#);
}

#[test]
#[rustfmt::skip]
fn a_data_sheet_says_what_it_asks_for() {
    book(BARRIER).replace("permeance = \"0.08 perm\"", "permeance = \"0.08\"").says(r#"
        error: `permeance` has no unit: `0.08`
          --> book.toml:57:13
           |
        57 | permeance = "0.08"
           |             ^^^^^^
           |
           = help: units: `perm`, `ng/Pa/s/m2`; for example `"0.1 perm"`
    "#);
    book(BARRIER).replace("permeance = \"0.08 perm\"", "permeance = \"0.08 psi\"").says(r#"
        error: `permeance` has the unit `psi`, which does not fit here
          --> book.toml:57:13
           |
        57 | permeance = "0.08 psi"
           |             ^^^^^^^^^^
           |
           = help: expected a permeance with its unit: `perm`, `ng/Pa/s/m2`
    "#);
    book(BARRIER).replace("permeance = \"0.08 perm\"", "permeance = 0.08").says(r#"
        error: `permeance` has no unit
          --> book.toml:57:13
           |
        57 | permeance = 0.08
           |             ^^^^
           |
           = help: write the number and its unit as text, for example `"0.1 perm"`; units: `perm`, `ng/Pa/s/m2`
    "#);
    book(WATER_EPOXY).replace("ph-from = 6\nph-to = 11", "ph-from = 11\nph-to = 6").says(r"
        error: `ph-to` is not above `ph-from`
          --> book.toml:64:9
           |
        64 | ph-to = 6
           |         ^
           |
           = help: the highest pH that the data sheet allows
    ");
    book(WATER_EPOXY).replace("ph-from = 6\nph-to = 11", "ph-from = 6").says(r"
        error: `ph-to` is missing beside `ph-from`
          --> book.toml:50:1
           |
        50 | [[product]]
           | ^^^^^^^^^^^
           |
           = help: write both as the data sheet has them, for example `ph-to = 11`
    ");
    book(BARRIER).replace("surface-profile = \"CSP 3 to CSP 4\"", "surface-profile = \"CSP 12\"").says(r#"
        error: `surface-profile` is `CSP 12`
          --> book.toml:64:19
           |
        64 | surface-profile = "CSP 12"
           |                   ^^^^^^^^
           |
           = help: write profiles from CSP 1 to CSP 10 as ICRI 310.2R numbers them, for example `"CSP 2 to CSP 3"`
    "#);
    book(BARRIER).replace("surface-profile = \"CSP 3 to CSP 4\"", "surface-profile = \"CSP 3 to CSP 4\"\nmoisture-test = \"dishes\"").says(r#"
        error: `moisture-test` is `dishes`
          --> book.toml:65:17
           |
        65 | moisture-test = "dishes"
           |                 ^^^^^^^^
           |
           = help: expected one of "either", "both", "plastic-sheet", "none-needed"
    "#);
    book(WATER_EPOXY).replace("surface-profile = \"CSP 1 to CSP 2\"", "surface-profile = \"CSP 1 to CSP 2\"\nmoisture-test = \"none-needed\"").says(r#"
        error: `moisture-test` is `none-needed` for a coat that is no vapor barrier
          --> book.toml:63:17
           |
        63 | moisture-test = "none-needed"
           |                 ^^^^^^^^^^^^^
           |
           = help: only a product with `barrier = true` may go on without a test
    "#);
    book(BARRIER).replace(r#"ground-contact = "any""#, "ground-contact = \"yes\"").says(r#"
        error: `ground-contact` is `yes`
          --> book.toml:58:18
           |
        58 | ground-contact = "yes"
           |                  ^^^^^
           |
           = help: expected one of "barrier", "sheet", "sheet-or-test", "any"
    "#);
}

#[test]
fn a_product_with_a_mistake_is_not_called_unknown_as_well() {
    let found = book(URETHANE).replace(r#"film = "2.5 mil""#, r#"film = "2.5 ft""#).mistakes();
    assert_eq!(found, ["error: `film` has the unit `ft`, which does not fit here"]);
}

#[test]
fn a_film_of_zero_is_shown_where_it_stands() {
    let book = book(URETHANE).replace(r#"film = "2.5 mil""#, r#"film = "0 mil""#);
    book.says_among_others("error: `film` is zero");
}

#[test]
fn the_head_of_a_table_is_shown_as_toml_writes_it() {
    // `[[product.kit]] 1` is no head of a table, and `[[kit]]` would stand outside its product.
    let kit = r#"kit = [{ size = "2.5 gal", price = "$104.00" }]"#;
    let printed = book(WATER_EPOXY).replace(kit, r#"kit = ["2.5 gal"]"#).printed();
    assert!(!printed.contains("[[product.kit]] 1"), "{printed}");
    let table = r#"kit = { size = "2.5 gal", price = "$104.00" }"#;
    let printed = book(WATER_EPOXY).replace(kit, table).printed();
    assert!(!printed.contains("`[[kit]]`"), "{printed}");
}
