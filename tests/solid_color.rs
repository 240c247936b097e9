//! A floor of one color that is poured, with pigment and grit: its needs and hours worked by hand, laws
//! on random slabs, and how the papers name and draw it. Its products are invented.

use slableaf::model::system::Lay;
use slableaf::price::case::{Case, case};
use slableaf::price::estimate::labor::Task;
use slableaf::price::estimate::materials::{KitMeasure, MaterialAmount};
use slableaf::read;

use crate::documents::{Paper, list, word};
use crate::facts::example;
use crate::fixture::{Folder, dedented};

const JOB: &str = include_str!("../examples/solid-color/job.toml");
const BOOK: &str = include_str!("../examples/solid-color/book.toml");
const SYSTEM: &str = include_str!("../examples/solid-color/systems/solid-color.toml");

/// Spread of a gallon at one mil, in square feet. A US gallon is 231 cubic inches: NIST Handbook 44,
/// appendix C. 231 in3 / 0.001 in / 144 in2 = 1604.17 ft2.
const SQUARE_FEET_MIL: f64 = 231.0 / 0.001 / 144.0;

/// A slab of 400 square feet without anything upright, and a book without loss and texture, so that a
/// need is area times film.
fn plain() -> (String, String) {
    let (before, rest) = JOB.split_once("[[upright]]").unwrap();
    let (_, rest) = rest.split_once("[[joint]]").unwrap();
    let job = format!("{before}[[joint]]{rest}").replace("\"24 ft\"", "\"25 ft\"");
    let mut book = example::replaced(BOOK, "texture = \"100 um\"", "texture = \"0 um\"");
    for loss in ["loss = \"6 %\"", "loss = \"8 %\""] {
        book = example::replaced(&book, loss, "loss = \"0 %\"");
    }
    (job, book)
}

fn with_case<T>(job: &str, book: &str, system: &str, look: impl FnOnce(&Case<'_>) -> T) -> T {
    let mut files = example::files(job, book, example::SHOP);
    files.systems.push(slableaf::base::source::SourceFile {
        name: "systems/solid-color.toml".into(),
        text: system.into(),
    });
    let input = read::read(&files).unwrap_or_else(|problems| panic!("{problems:#?}"));
    look(&case(&input))
}

fn near(found: f64, by_hand: f64) {
    assert!((found - by_hand).abs() <= 1e-6 * by_hand.abs(), "{found}, by hand {by_hand}");
}

fn volume(case: &Case<'_>, coat: &str) -> f64 {
    let estimate = &case.options[0].estimate;
    let key = slableaf::base::names::Key(coat.into());
    estimate.coat_volume(&key).unwrap().as_gallons()
}

/// Need and kits of a product, in pounds.
fn solid(case: &Case<'_>, product: &str) -> (f64, Vec<(u32, f64)>) {
    let materials = &case.options[0].estimate.materials;
    let line = materials.iter().find(|line| line.product.0 == product).unwrap();
    let MaterialAmount::Solid { need, .. } = line.amount else { panic!("{product} is no solid") };
    let kits = line.buy.iter().map(|(count, size)| match size {
        KitMeasure::Mass(mass) => (*count, mass.as_pounds().round()),
        KitMeasure::Volume(_) => panic!("{product} comes in volumes"),
    });
    (need.as_pounds(), kits.collect())
}

/// Hours of laying a coat, mixing aside: each batch takes the book's three minutes of one person.
fn laid_in(case: &Case<'_>, coat: &str) -> f64 {
    let estimate = &case.options[0].estimate;
    let is_it = |task: &Task| matches!(task, Task::Coat(key) if key.0 == coat);
    let line = estimate.labor.iter().find(|line| is_it(&line.task)).unwrap();
    let batches = estimate.batches.iter().find(|(key, _)| key.0 == coat).unwrap().1.count;
    f64::try_from(line.hours).unwrap() - f64::from(batches) * 3.0 / 60.0
}

#[test]
fn needs_are_those_worked_by_hand() {
    let (job, book) = plain();
    with_case(&job, &book, SYSTEM, |case| {
        // 400 ft2 x 20 mil / 1604.17 ft2 mil per gallon = 4.987 gal, all solids.
        near(volume(case, "solid"), 400.0 * 20.0 / SQUARE_FEET_MIL);
        // Half of it dries off: 2.5 mil dry is 5 mil wet.
        near(volume(case, "top"), 400.0 * 5.0 / SQUARE_FEET_MIL);
        // A pack of 2 lb for 3 gal: 4.987 / 3 x 2 = 3.325 lb, so two packs.
        let (pigment, packs) = solid(case, "pigment-slate");
        near(pigment, 400.0 * 20.0 / SQUARE_FEET_MIL / 3.0 * 2.0);
        assert_eq!(packs, [(2, 2.0)]);
        // 400 ft2 x 0.02 lb/ft2 = 8 lb.
        let (grit, bags) = solid(case, "grit-fine");
        near(grit, 8.0);
        assert_eq!(bags, [(1, 10.0)]);
    });
}

#[test]
fn a_dose_by_mass_is_that_of_the_packs() {
    let (job, book) = plain();
    let by_mass = example::replaced(
        &book,
        "pack-for = \"3 gal\"       # one pack for so much mixed liquid",
        "dose = \"0.5 lb/gal\"",
    );
    let need = |book: &str| with_case(&job, book, SYSTEM, |case| solid(case, "pigment-slate").0);
    // 0.5 lb/gal x 4.987 gal = 2.494 lb.
    near(need(&by_mass), 0.5 * 400.0 * 20.0 / SQUARE_FEET_MIL);
    // A pack of 2 lb for 4 gal is the same dose.
    near(need(&by_mass), need(&book.replace("pack-for = \"3 gal\"", "pack-for = \"4 gal\"")));
}

/// Each coat goes at the rate of its way of laying; thrown grit takes a round of its own, stirred grit
/// none.
#[test]
fn hours_follow_from_the_way_of_laying() {
    let (job, book) = plain();
    let hours =
        |system: &str, coat: &str| with_case(&job, &book, system, |case| laid_in(case, coat));
    // The book's rates: pour 220, trowel 90, roll 300, broadcast 600 ft2/h. An hour is rounded to the
    // hundredth.
    let by_hand = |found: f64, by_hand: f64| {
        assert!((found - by_hand).abs() <= 0.005 + 1e-9, "{found}, by hand {by_hand}");
    };
    by_hand(hours(SYSTEM, "solid"), 400.0 / 220.0);
    by_hand(hours(&SYSTEM.replace("poured", "troweled"), "solid"), 400.0 / 90.0);
    by_hand(hours(&SYSTEM.replace("poured", "rolled"), "solid"), 400.0 / 300.0);
    by_hand(hours(&SYSTEM.replace("lay = \"poured\"\n", ""), "solid"), 400.0 / 300.0);
    by_hand(hours(SYSTEM, "top"), 400.0 / 300.0 + 400.0 / 600.0);
    by_hand(hours(&SYSTEM.replace("\"thrown\"", "\"mixed\""), "top"), 400.0 / 300.0);
}

/// Law: a liquid need is area times film over the share that reaches the floor, pigment goes with the
/// liquid, grit with the area, whatever the slab.
#[test]
fn needs_scale_with_what_they_are_for() {
    let (job, book) = plain();
    for (length, width, film) in [(10.0, 10.0, 8.0), (33.5, 21.25, 20.0), (61.0, 40.0, 62.5)] {
        let job = job
            .replace(
                "length = \"25 ft\"\nwidth = \"16 ft\"",
                &format!("length = \"{length} ft\"\nwidth = \"{width} ft\""),
            )
            .replace("at = [\"19 ft\", \"3 ft\"]", "at = [\"8 ft\", \"3 ft\"]")
            .replace("at = [\"12 ft\", \"13 ft\"]", "at = [\"8 ft\", \"8 ft\"]");
        let book = book.replace(
            "film = \"20 mil\"\nloss = \"0 %\"",
            &format!("film = \"{film} mil\"\nloss = \"20 %\""),
        );
        let area: f64 = length * width;
        with_case(&job, &book, SYSTEM, |case| {
            let liquid = area * film / SQUARE_FEET_MIL / 0.8;
            near(volume(case, "solid"), liquid);
            near(solid(case, "pigment-slate").0, liquid / 3.0 * 2.0);
            near(solid(case, "grit-fine").0, area * 0.02);
            for (count, size) in [solid(case, "pigment-slate"), solid(case, "grit-fine")]
                .iter()
                .map(|(need, kits)| {
                    (kits.iter().map(|(n, size)| f64::from(*n) * size).sum::<f64>(), *need)
                })
            {
                assert!(count >= size, "{count} lb are bought of {size} lb");
            }
        });
    }
}

#[test]
fn a_faster_way_of_laying_never_makes_a_floor_dearer() {
    let cost = |rate: &str| {
        let book = example::replaced(BOOK, "pour = \"220 ft2/h\"", &format!("pour = \"{rate}\""));
        with_case(JOB, &book, SYSTEM, |case| case.options[0].estimate.cost.0)
    };
    let costs: Vec<i64> = ["60 ft2/h", "150 ft2/h", "220 ft2/h", "600 ft2/h"].map(cost).to_vec();
    assert!(costs.is_sorted_by(|slow, fast| slow >= fast), "{costs:?}");
    assert!(costs[0] > costs[3], "{costs:?}");
}

/// What lies under an opaque coat does not show; the coat itself and what is on it do.
#[test]
fn an_opaque_coat_hides_the_amber_of_the_coats_below() {
    let ambers = |book: &str, system: &str| {
        with_case(JOB, book, system, |case| case.options[0].floor.shows_ambering())
    };
    let level = BOOK.split("key = \"level-epoxy\"").nth(1).unwrap();
    let fast = BOOK.replace(level, &level.replacen("uv-stable = false", "uv-stable = true", 1));
    assert!(ambers(BOOK, SYSTEM), "the color itself is not made for daylight");
    assert!(!ambers(&fast, SYSTEM), "the primer below it does not show");
    let clear = SYSTEM.replace("look = \"solid\"", "look = \"thin\"");
    assert!(ambers(&fast, &clear), "below a coat that is not opaque it does");
}

#[test]
fn the_papers_name_and_draw_it_as_what_it_is() {
    let folder = Folder::of("solid-color");
    let paper = Paper::of(&folder);
    let stack = &list(&paper.page["layers"]["stacks"])[0];
    let looks: Vec<&str> = list(&stack["coats"]).iter().map(|coat| word(&coat["look"])).collect();
    assert_eq!(looks, ["grit", "top", "solid", "primer", "concrete"]);
    assert_eq!(
        word(&stack["alt"]),
        "Solid-color floor, from the top down: Fine grit; Matte clear coat, 2.5\u{a0}mils; Poured color \
         coat, 20\u{a0}mils; Epoxy primer, 10\u{a0}mils; then the concrete slab."
    );
    // No flake is promised, chosen or warned of.
    let shown = paper.pages.join("\n");
    for words in ["color for the flake", "with its flake", "Color and flake", "flake color"] {
        assert!(!shown.contains(words), "`{words}` stands on the paper of a floor without flake");
    }
    paper.must_show("choose its color");
    paper.must_show("Every coat of the floor you choose, in its color");
    folder.run(&["prepare", "job.toml", "--out", "shop"]).success();
}

#[test]
fn in_spanish_too() {
    let folder = Folder::of("solid-color");
    let job = folder.read("job.toml");
    let paper = Paper::of(&folder.write("job.toml", format!("language = \"es\"\n{job}")));
    let shown = paper.pages.join("\n");
    for words in ["para las hojuelas", "con sus hojuelas", "las hojuelas varían"] {
        assert!(!shown.contains(words), "`{words}` stands on the paper of a floor without flake");
    }
    paper.must_show("elija su color");
}

#[test]
fn the_crew_reads_how_it_is_laid_and_what_goes_in() {
    let sheet = |folder: &Folder| {
        folder.run(&["prepare", "job.toml", "--out", "shop"]).success();
        let name = "shop/2026-0191-crew-sheet-r1.pdf";
        crate::readers::pages(&folder.path(name))
            .join(" ")
            .split_whitespace()
            .collect::<Vec<_>>()
            .join(" ")
    };
    let thrown = sheet(&Folder::of("solid-color"));
    for says in [
        "Pour in ribbons, spread to the film, spike it.",
        "Stir 1 lb 12 oz of Slate gray pigment into each batch.",
        "Matte urethane coat, then Fine aluminum oxide grit",
        "Throw 7.8 lb of Fine aluminum oxide grit into it while wet.",
        "notched squeegee, spiked roller, scale for pigment and grit",
    ] {
        assert!(thrown.contains(says), "no `{says}` in\n{thrown}");
    }
    assert!(!thrown.contains("Grit that may hold silica"), "the book says that it holds none");
    let folder = Folder::of("solid-color")
        .replace("systems/solid-color.toml", "\"thrown\"", "\"mixed\"")
        .replace("systems/solid-color.toml", "\"poured\"", "\"troweled\"")
        .replace("book.toml", "silica = false\n", "");
    let mixed = sheet(&folder);
    for says in [
        "Lay it with a trowel.",
        "Stir 7 lb 13 oz of Fine aluminum oxide grit into each batch.",
        "Grit that may hold silica: Fine aluminum oxide grit.",
    ] {
        assert!(mixed.contains(says), "no `{says}` in\n{mixed}");
    }
    assert!(!mixed.contains("then Fine aluminum"), "stirred in, not thrown");
}

#[test]
fn the_buying_list_and_the_results_have_pigment_and_grit() {
    let folder = Folder::of("solid-color");
    folder.run(&["prepare", "job.toml", "--out", "shop"]).success();
    let list_text = folder.read("shop/2026-0191-buying-list-r1.csv");
    for product in ["pigment-slate", "grit-fine"] {
        assert!(list_text.contains(product), "{list_text}");
    }
    let ran = folder.run(&["estimate", "job.toml", "--format", "json"]).success();
    let results: serde_json::Value = serde_json::from_str(&ran.stdout()).unwrap();
    let coats = list(&results["floors"][0]["coats"]);
    let color = coats.iter().find(|coat| coat["coat"] == "solid").unwrap();
    assert_eq!(
        (word(&color["lay"]), word(&color["pigment"]["product"])),
        ("poured", "pigment-slate")
    );
    let grit = coats.iter().find(|coat| coat["coat"] == "grit").unwrap();
    assert_eq!((word(&grit["kind"]), word(&grit["grit"])), ("grit", "thrown"));
    assert_eq!(Lay::Poured.word(), "poured");
}

/// One change to the floor or its book, one message.
#[test]
#[rustfmt::skip]
fn a_floor_that_cannot_be_laid_so_is_refused_with_what_to_write() {
    let says = |file: &str, from: &str, to: &str, message: &str| {
        let folder = Folder::of("solid-color").replace(file, from, to);
        let said = folder.run(&["check", "job.toml"]).code(2).complaint();
        let (said, _) = said.rsplit_once("\n\n").unwrap();
        assert_eq!(said, dedented(message));
    };
    let system = "systems/solid-color.toml";
    says("book.toml", "pour = \"220 ft2/h\"       # poured out and spread; for floors with a poured coat\n", "", r#"
        error: coat `solid` is poured, and the book has no rate for that
          --> systems/solid-color.toml:18:11
           |
        18 | product = "level-epoxy"
           |           ^^^^^^^^^^^^^
           |
           = help: add your own `pour = "220 ft2/h"` to the book’s `[rates]`
    "#);
    says(system, "pigment = \"pigment-slate\"\n", "", r#"
        error: coat `solid` is drawn as `solid`, but its product is not opaque
          --> systems/solid-color.toml:18:11
           |
        18 | product = "level-epoxy"
           |           ^^^^^^^^^^^^^
           |
           = help: add its `pigment`, or write another `look`
    "#);
    says(system, "look = \"solid\"", "look = \"clear\"", r#"
        error: coat `solid` has a pigment, but is not drawn as a coat of color
          --> systems/solid-color.toml:18:11
           |
        18 | product = "level-epoxy"
           |           ^^^^^^^^^^^^^
           |
           = help: write `look = "solid"`
    "#);
    says(system, "pigment = \"pigment-slate\"", "pigment = \"pigment-slat\"", r#"
        error: no product is called `pigment-slat`
          --> systems/solid-color.toml:21:11
           |
        21 | pigment = "pigment-slat"
           |           ^^^^^^^^^^^^^^
           |
           = help: did you mean `pigment-slate`?
    "#);
    says(system, "pigment = \"pigment-slate\"", "pigment = \"grit-fine\"", r#"
        error: `grit-fine` is no pigment
          --> systems/solid-color.toml:21:11
           |
        21 | pigment = "grit-fine"
           |           ^^^^^^^^^^^
           |
           = help: name a product that has a `pigment` table
    "#);
    says(system, "grit = \"thrown\"\n", "", r#"
        error: coat `grit` is grit but does not say how it goes into the coat below
          --> systems/solid-color.toml:30:11
           |
        30 | product = "grit-fine"
           |           ^^^^^^^^^^^
           |
           = help: add `grit = "thrown"` or `grit = "mixed"`
    "#);
    says(system, "product = \"grit-fine\"", "product = \"pigment-slate\"", r#"
        error: coat `grit` names a pigment, which is no coat
          --> systems/solid-color.toml:30:11
           |
        30 | product = "pigment-slate"
           |           ^^^^^^^^^^^^^^^
           |
           = help: name it in a liquid coat: `pigment = "pigment-slate"`

        error: coat `grit` has `grit`, but its product is no grit
          --> systems/solid-color.toml:30:11
           |
        30 | product = "pigment-slate"
           |           ^^^^^^^^^^^^^^^
           |
           = help: take `grit` out, or name a product that has a `grit` table
    "#);
    says("book.toml", "pack-for = \"3 gal\"       # one pack for so much mixed liquid\n", "", r#"
        error: `dose` is missing, and so is `pack-for`
           --> book.toml:142:1
            |
        142 | [product.pigment]
            | ^^^^^^^^^^^^^^^^^
            |
            = help: add `dose = "0.6 lb/gal"` (mass for mixed liquid), or `pack-for = "3 gal"` where one pack does for so much
    "#);
}

/// Grit that may be ticked has a price, and the caution on wet floors says so; a topcoat that is made for
/// daylight over a color that is not does not send the reader to another topcoat. An own addition stands
/// beside the extra of the floor.
#[test]
fn cautions_know_what_can_be_ticked_and_what_the_top_is_made_for() {
    let grip = SYSTEM.replace("look = \"grit\"", "look = \"grit\"\nextra = \"grip\"");
    assert_ne!(grip, SYSTEM);
    let job = format!(
        "{JOB}\n[[addition]]\nkey = \"shelf\"\nname = \"A shelf put back\"\nprice = \"$40.00\"\n"
    );
    let folder =
        Folder::of("solid-color").write("systems/solid-color.toml", grip).write("job.toml", job);
    let page = Paper::of(&folder).page;
    let text = page.to_string();
    assert!(text.contains("its price is beside what you can mark"), "{text}");
    assert!(text.contains("you can mark more grip"), "{text}");
    assert!(!text.contains("ask us for more grip"), "{text}");
    // Both may be ticked.
    for both in ["A shelf put back", "Fine grit"] {
        assert!(page["accept"].to_string().contains(both), "{both}: {}", page["accept"]);
    }
}
