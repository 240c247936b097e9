//! Mistakes in a job of several spaces.

use super::{SmallShop, job};

const HEAD: &str = "number = \"2026-0142\"\ndate = 2026-05-12\nunits = \"us\"\nsold-at-home = true\n\
    offer = [\"thin\"]\ncustomer = { name = \"Rosa\" }\n";

/// A space of this name and kind with these surroundings, in seven lines.
fn space(name: &str, kind: &str, surroundings: &str) -> String {
    format!(
        "\n[[space]]\nname = \"{name}\"\nkind = \"{kind}\"\nsurroundings = {{ {surroundings} }}\n\
         slab = {{ on-ground = true }}\narea = [{{ length = \"10 ft\", width = \"8 ft\" }}]\n"
    )
}

/// A job of these spaces, with these lines before and behind them.
fn spaces(spaces: &[String], behind: &str) -> SmallShop {
    job("").write("job.toml", format!("{HEAD}{}{behind}", spaces.concat()))
}

fn garage() -> String {
    space("Garage", "garage", "daylight = true")
}

fn patio() -> String {
    space("Patio", "patio", "")
}

#[test]
fn what_was_measured_stands_in_its_space() {
    spaces(&[garage()], "\n[slab]\non-ground = true\n").says(
        r#"
        error: `slab` stands beside `space`
          --> job.toml:15:1
           |
        15 | [slab]
           | ^^^^^^
           |
           = help: what was measured stands in its space: move it below its `[[space]]`, as `[space.slab]`
    "#,
    );
    spaces(&[garage()], "\n[[crack]]\nlength = \"3 ft\"\nwidth = \"1/8 in\"\n")
        .says_among_others("as `[[space.crack]]`");
}

#[test]
fn a_space_has_what_a_job_has() {
    spaces(&[garage().replace("slab = { on-ground = true }\n", "")], "")
        .says_among_others("error: `slab` is missing in [[space]] 1");
    spaces(&[garage().replace("area = [{", "aera = [{")], "")
        .says_among_others("help: did you mean `area`?");
    spaces(&[space("Yard", "yard", "daylight = true")], "").says_among_others(
        "help: expected one of \"garage\", \"patio\", \"basement\", \"room\", \"steps\"",
    );
}

#[test]
fn two_spaces_have_two_names() {
    spaces(&[garage(), space("garage", "room", "daylight = true")], "").says(
        r#"
        error: `name` `garage` stands at two spaces
          --> job.toml:16:8
           |
        16 | name = "garage"
           |        ^^^^^^^^
           |
           = help: give each space a name of its own, such as `Front patio`
    "#,
    );
}

#[test]
fn surroundings_fit_the_kind() {
    spaces(&[space("Patio", "patio", "outdoors = false")], "")
        .says_among_others("error: `outdoors` is false, and a patio is outdoors");
    spaces(&[space("Cellar", "basement", "outdoors = true")], "")
        .says_among_others("error: `outdoors` is true, and a basement is not");
    spaces(&[space("Stoop", "steps", "")], "").says_among_others("error: `outdoors` is missing");
    spaces(&[space("Cellar", "basement", "")], "")
        .says_among_others("error: `daylight` is missing");
    spaces(&[space("Patio", "patio", "daylight = false")], "")
        .says_among_others("error: `daylight` is false, and this space is outdoors");
}

#[test]
fn every_space_has_an_offer() {
    let file = format!("{HEAD}{}", garage()).replace("offer = [\"thin\"]\n", "");
    job("").write("job.toml", file).says(
        r#"
        error: `offer` is missing here and at the top of the job
         --> job.toml:7:1
          |
        7 | [[space]]
          | ^^^^^^^^^
          |
          = help: add `offer = ["barrier"]` to this space, or to the top of the job for all
    "#,
    );
    let own = garage().replace("name = ", "offer = [\"thick\"]\nname = ");
    spaces(&[own], "").says_among_others("error: no system is called `thick`");
}

#[test]
fn the_sale_is_said_once() {
    let file = format!("{HEAD}{}", garage()).replace("sold-at-home = true\n", "");
    job("")
        .write("job.toml", file)
        .says_among_others("error: `sold-at-home` is missing beside `space`");
    job("")
        .replace("offer = ", "sold-at-home = true\noffer = ")
        .says_among_others("error: `sold-at-home` stands beside `garage`");
}

#[test]
fn floors_are_accepted_by_space() {
    let accepted = |floors: &str| {
        let behind = format!("\n[accepted]\nrevision = 1\non = 2026-05-20\n{floors}\n");
        spaces(&[garage(), patio()], &behind)
    };
    accepted("floor = \"thin\"").says(
        r#"
        error: `floor` names one floor, and the job has several spaces
          --> job.toml:25:9
           |
        25 | floor = "thin"
           |         ^^^^^^
           |
           = help: write `floors = { "Garage" = "thin" }`
    "#,
    );
    accepted("floors = { Garage = \"thin\", Patios = \"thin\" }").says(
        r#"
        error: no space is called `Patios`
          --> job.toml:25:29
           |
        25 | floors = { Garage = "thin", Patios = "thin" }
           |                             ^^^^^^
           |
           = help: did you mean `Patio`?
    "#,
    );
    accepted("floors = { Garage = \"thick\" }").says(
        r#"
        error: `thick` is not on offer for `Garage`
          --> job.toml:25:21
           |
        25 | floors = { Garage = "thick" }
           |                     ^^^^^^^
           |
           = help: did you mean `thin`?
    "#,
    );
    // Two floors for one space.
    accepted("floors = { Garage = \"thin\", Garage = \"thin\" }")
        .says_among_others("not TOML: duplicate key");
    accepted("floors = { Garage = [\"thin\", \"thin\"] }").says_among_others("`Garage` is a list");
    job("\n[accepted]\nrevision = 1\non = 2026-05-20\nfloors = { Garage = \"thin\" }\n")
        .says_among_others("error: `floors` names spaces, and the job has none");
}

#[test]
fn a_discount_and_an_addition_of_spaces_name_no_floors() {
    let behind =
        "\n[discount]\namount = \"$50.00\"\nreason = \"Two floors\"\nfloors = [\"thin\"]\n";
    spaces(&[garage(), patio()], behind).says(
        r#"
        error: `floors` names floors, and this job has several spaces
          --> job.toml:25:10
           |
        25 | floors = ["thin"]
           |          ^^^^^^^^
           |
           = help: leave it out: a discount is off the price of all spaces together
    "#,
    );
}

#[test]
fn a_photo_shows_a_space_that_there_is() {
    let photo = "\n[[photo]]\nfile = \"a.jpg\"\ncaption = \"It\"\nspace = \"Pation\"\n";
    spaces(&[garage(), patio()], photo).says_among_others("error: no space is called `Pation`");
}
