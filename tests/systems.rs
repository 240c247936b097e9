//! Floor systems are data: one that a shop adds as a file is priced, checked, drawn and explained
//! like those that ship. And the shipped ones behave as the trade knows them.

use jiff::civil::Weekday;
use slableaf::base::layouts::Layouts;
use slableaf::base::quantity::Mver;
use slableaf::model::system::SystemWords;
use slableaf::price::case::{FloorOption, case};
use slableaf::price::estimate::labor::Task;
use slableaf::price::floor::Floor;
use slableaf::read::Input;
use slableaf::say::words::Words;

use crate::documents::{Paper, list, paper, word};
use crate::facts::example;
use crate::fixture::Folder;

const DRY: &str = include_str!("../examples/dry-and-quick/job.toml");
const EXTRAS: &str = "[extras]\nclear-epoxy = [\"urethane-coat\"]\n";

// ------------------------------------------------------------------------- a system of the shop

/// Two products and a floor made of them; all invented.
const QUARTZ_PRODUCTS: &str = r#"
[[product]]
key = "quartz-sand"
name = "Colored quartz"
kit = [{ size = "50 lb", price = "$61.00" }]

[product.flake]
full = "0.5 lb/ft2"
scattered = "0.1 lb/ft2"
reclaimed = "25 %"
thickness = "60 mil"

[[product]]
key = "grout-coat"
name = "Grout coat"
kit = [{ size = "3 gal", price = "$240.00" }]
volume-solids = "100 %"
spread = "90 ft2/gal"
loss = "10 %"
isocyanate = false
uv-stable = true
slab-from = "45 F"
slab-to = "95 F"
cure = [{ at = "70 F", pot-life = "30 min", recoat-from = "6 h", recoat-to = "30 h", foot = "12 h", vehicle = "60 h" }]
"#;

const QUARTZ: &str = r#"
# A quartz floor of this shop.
key = "quartz"
life-from = 12
life-to = 25

[[coat]]
key = "bed"
product = "epoxy-primer"
look = "primer"

[[coat]]
key = "sand"
product = "quartz-sand"
look = "flake"
broadcast = "full"

[[coat]]
key = "grout"
product = "grout-coat"
look = "clear"

[words]
name = "quartz floor"
the_name = "the quartz floor"
summary = "Sand of colored quartz, thrown into epoxy and locked in by a grout coat."
better_at = ["It has grip that you can feel."]
harder_at = ["It is harder to mop."]
choose_if = "Choose this if snow melts on your floor all winter."
yellowing = "Keeps its color"
tires = "Holds for years"
smell = "Hardly any"
damp = "Low limit, like its primer"

[words.coats.bed]
name = "Bed of epoxy"
does = "Holds the sand to the slab."

[words.coats.sand]
name = "Quartz sand"
does = "Gives the floor body and tooth."

[words.coats.grout]
name = "Grout over quartz"
does = "Locks each grain in its place."
"#;

fn with_quartz(example: &str, offer: &str) -> Folder {
    let folder = Folder::of(example).write("systems/quartz.toml", QUARTZ);
    let book = folder.read("book.toml") + QUARTZ_PRODUCTS;
    let job = folder.read("job.toml");
    let line = job.lines().find(|line| line.starts_with("offer")).unwrap();
    folder.write("job.toml", job.replace(line, offer)).write("book.toml", book)
}

#[test]
fn a_fifth_system_is_priced_drawn_and_explained_without_a_rebuild() {
    let paper = Paper::of(
        &with_quartz("dry-and-quick", "offer = [\"quartz\", \"barrier\"]")
            .replace("job.toml", EXTRAS, ""),
    );
    let floor = paper.floor("quartz");
    assert_eq!(floor["offered"], true);
    let products: Vec<&str> =
        list(&floor["materials"]).iter().map(|line| word(&line["product"])).collect();
    assert_eq!(products, ["epoxy-primer", "quartz-sand", "grout-coat"]);
    // Price: on the page as in the estimate, to the cent.
    let total = crate::documents::on_page("$", word(&floor["total"]));
    assert_eq!(paper.price_table("Quartz floor").unwrap()["total"]["amount"], total);
    paper.must_show(&total);
    // Explained, with every word of its file.
    let file: toml::Table = QUARTZ.parse().unwrap();
    let words = file["words"].as_table().unwrap();
    for key in ["summary", "choose_if", "yellowing", "tires", "smell", "damp"] {
        paper.must_show(words[key].as_str().unwrap());
    }
    for key in ["better_at", "harder_at"] {
        paper.must_show(words[key][0].as_str().unwrap());
    }
    for coat in words["coats"].as_table().unwrap().values() {
        paper.must_show(coat["name"].as_str().unwrap());
        paper.must_show(coat["does"].as_str().unwrap());
    }
    paper.must_show("12 to 25 years");
    // Drawn, top coat first, over the slab.
    let stack = &list(&paper.page["layers"]["stacks"])[0];
    let coats: Vec<&str> = list(&stack["coats"]).iter().map(|coat| word(&coat["name"])).collect();
    assert_eq!(coats, ["Grout over quartz", "Quartz sand", "Bed of epoxy", "Your concrete slab"]);
    assert!(
        word(&stack["alt"]).starts_with("Quartz floor, from the top down: Grout over quartz, ")
    );
    let looks: Vec<&str> = list(&stack["coats"]).iter().map(|coat| word(&coat["look"])).collect();
    assert_eq!(looks, ["clear", "flake", "primer", "concrete"]);
}

#[test]
fn a_fifth_system_is_checked_like_the_others() {
    let paper = Paper::of(&with_quartz("two-car-barrier", "offer = [\"quartz\", \"barrier\"]"));
    let stops: Vec<&str> = list(&paper.check["findings"])
        .iter()
        .filter(|finding| finding["floor"] == "quartz" && finding["severity"] == "stop")
        .map(|finding| word(&finding["check"]))
        .collect();
    assert_eq!(stops, ["moisture-over-limit"]);
    assert_eq!(paper.check["offered"], serde_json::json!(["barrier"]));
    assert!(paper.price_table("Quartz floor").is_none());
    paper.must_show("Quartz floor");
}

#[test]
fn a_fifth_system_can_be_the_recommended_one() {
    let folder = with_quartz("dry-and-quick", "offer = [\"barrier\", \"quartz\"]")
        .replace("job.toml", EXTRAS, "")
        .replace("job.toml", "wishes = [\"quick\", \"lasting\"]", "wishes = [\"lasting\"]");
    let paper = Paper::of(&folder);
    assert_eq!(paper.check["recommended"], "quartz");
    paper.page_one_must_show("We recommend the quartz floor");
}

#[test]
fn a_system_that_nobody_offers_is_no_trouble() {
    // Its products are not in this book.
    Folder::new().write("systems/quartz.toml", QUARTZ).run(&["check", "job.toml"]).code(1);
}

#[test]
fn a_file_of_the_shop_replaces_the_shipped_system_of_its_key() {
    let own = QUARTZ
        .replace("key = \"quartz\"", "key = \"fast-cure\"")
        .replace("quartz-sand", "flake-quarter-inch")
        .replace("grout-coat", "polyaspartic-top");
    let paper = Paper::of(&Folder::of("dry-and-quick").write("systems/anything.toml", own));
    let products: Vec<&str> = list(&paper.floor("fast-cure")["materials"])
        .iter()
        .map(|line| word(&line["product"]))
        .collect();
    assert_eq!(products, ["epoxy-primer", "flake-quarter-inch", "polyaspartic-top"]);
    assert_eq!(list(&paper.page["layers"]["stacks"])[0]["name"], "Quartz floor");
    assert!(!paper.shows("Polyurea primer"), "the shipped floor is still there");
    // The others stay.
    paper.must_show("Vapor-barrier floor");
}

/// A shop that changes the coats of a shipped floor keeps the words that ship.
#[test]
fn a_replaced_system_without_words_keeps_those_of_the_language() {
    let (own, _) = QUARTZ.split_once("[words]").unwrap();
    let own = own
        .replace("key = \"quartz\"", "key = \"fast-cure\"")
        .replace("key = \"bed\"", "key = \"primer\"")
        .replace("quartz-sand", "flake-quarter-inch")
        .replace("grout-coat", "polyaspartic-top");
    let paper = Paper::of(&Folder::of("dry-and-quick").write("systems/anything.toml", own));
    assert_eq!(list(&paper.page["layers"]["stacks"])[0]["name"], "Fast-cure floor");
    let stack = &list(&paper.page["layers"]["stacks"])[0];
    // A coat that the language has no words for goes by its product's name.
    assert_eq!(stack["coats"][0]["name"], "Polyaspartic topcoat");
    assert_eq!(stack["coats"][2]["name"], "Polyurea primer");
}

#[test]
fn a_mistake_in_a_shops_system_is_shown_where_it_is() {
    let folder = with_quartz("dry-and-quick", "offer = [\"quartz\"]")
        .replace("job.toml", EXTRAS, "")
        .replace("systems/quartz.toml", "look = \"clear\"", "look = \"shiny\"");
    let place = folder.place_of("systems/quartz.toml", "\"shiny\"");
    folder.run(&["check", "job.toml"]).code(2).err_has(&format!("--> {place}\n"));
}

// ------------------------------------------------------------------ what the trade knows
//
// Common practice, no published source: all of the following.

fn dry() -> Input {
    example::read(DRY, example::BOOK, example::SHOP)
}

#[track_caller]
fn with<R>(input: &Input, key: &str, see: impl FnOnce(&FloorOption<'_>) -> R) -> R {
    let case = case(input);
    see(case.options.iter().find(|option| option.key().0 == key).unwrap())
}

#[track_caller]
fn limit(key: &str) -> Mver {
    with(&dry(), key, |option| option.floor.first().unwrap().mver_limit.unwrap())
}

/// A primer that is no barrier stands about 3 lb per 1000 ft2 in 24 hours; a barrier epoxy 10 to 20.
#[test]
fn plain_primers_stand_three_pounds_and_barriers_ten_to_twenty() {
    for plain in ["fast-cure", "clear-epoxy", "water-kit"] {
        assert!((2.5..=5.0).contains(&limit(plain).as_pounds()), "{plain}");
        assert!(!with(&dry(), plain, |option| option.floor.has_barrier()));
    }
    assert!((10.0..=25.0).contains(&limit("barrier").as_pounds()));
    assert!(with(&dry(), "barrier", |option| option.floor.has_barrier()));
}

#[track_caller]
fn days(input: &Input, key: &str, expected: u32) {
    assert_eq!(with(input, key, |option| option.estimate.schedule.days), expected, "days of {key}");
}

/// The fast-cure day: flake before noon, a wait of about two hours, topcoat the same afternoon.
#[test]
fn a_fast_cure_floor_is_flaked_by_noon_and_topped_the_same_day() {
    let input = dry();
    days(&input, "fast-cure", 1);
    with(&input, "fast-cure", |option| {
        let stretch = |wanted: &str| {
            let coat = |task: &Task| matches!(task, Task::Coat(key) if key.0 == wanted);
            option.estimate.schedule.stretches.iter().find(|stretch| coat(&stretch.task)).unwrap()
        };
        let (primer, top) = (stretch("primer"), stretch("top"));
        assert_eq!((primer.to.day(), top.to.day()), (1, 1));
        // Flake goes into the wet primer, so both end together.
        assert!(primer.to.of_day().as_hours() < 12.0, "flake is in at {:?}", primer.to.of_day());
        let wait = (top.from.0 - primer.to.0).as_hours();
        assert!((1.5..=3.0).contains(&wait), "the topcoat waits {wait} hours");
        assert!(top.to.of_day().as_hours() < 17.0);
    });
}

#[test]
fn a_barrier_floor_takes_two_days() {
    for job in [DRY, example::JOB] {
        days(&example::read(job, example::BOOK, example::SHOP), "barrier", 2);
    }
}

#[test]
fn a_clear_epoxy_floor_takes_two_days_and_three_with_a_urethane_coat() {
    assert!(DRY.contains(EXTRAS));
    days(&dry(), "clear-epoxy", 3);
    days(
        &example::read(&example::replaced(DRY, EXTRAS, ""), example::BOOK, example::SHOP),
        "clear-epoxy",
        2,
    );
}

/// A car may come back within a day after fast-cure coats and after some days on epoxy.
#[test]
fn a_car_is_back_sooner_on_fast_cure_coats_than_on_epoxy() {
    let input = dry();
    let drive = |key: &str| with(&input, key, |option| option.estimate.schedule.drive.0.as_hours());
    assert!(drive("fast-cure") < drive("barrier"));
    assert!(drive("barrier") < drive("clear-epoxy"));
}

/// Epoxy under full flake and a UV-stable top does not show its tint; clear epoxy above the flake
/// does, and a urethane coat over it only slows that.
#[test]
fn only_clear_epoxy_shows_its_amber_tint() {
    let with_urethane = dry();
    let without = example::read(&example::replaced(DRY, EXTRAS, ""), example::BOOK, example::SHOP);
    for input in [&with_urethane, &without] {
        let ambers = |key: &str| with(input, key, |option| option.floor.shows_ambering());
        assert!(!ambers("barrier") && !ambers("fast-cure"));
        assert!(ambers("clear-epoxy"));
    }
    with(&with_urethane, "clear-epoxy", |option| assert!(option.floor.top().unwrap().uv_stable));
}

/// Hot tires lift thin, water-based films; high-solids floors on ground concrete hold.
#[test]
fn only_the_water_based_kit_is_thin_for_hot_tires() {
    let input = dry();
    let thin = |key: &str| with(&input, key, |option| option.floor.is_thin());
    assert!(thin("water-kit"));
    assert!(!thin("barrier") && !thin("fast-cure") && !thin("clear-epoxy"));
    for (floor, name) in paper("dry-and-quick").floors() {
        let warned = list(&paper("dry-and-quick").check["findings"])
            .iter()
            .any(|finding| finding["check"] == "hot-tires" && finding["floor"] == floor["floor"]);
        assert_eq!(warned, floor["floor"] == "water-kit", "{name}");
    }
}

/// Fast-cure coats and urethane harden with isocyanates; epoxy with amines.
#[test]
fn isocyanates_are_in_fast_cure_and_urethane_coats_and_not_in_epoxy() {
    let input = dry();
    for product in &input.book.products {
        let slableaf::model::book::Stuff::Resin(resin) = &product.stuff else { continue };
        let expected = ["polyurea", "polyaspartic", "urethane"]
            .iter()
            .any(|kind| product.key.0.contains(kind));
        assert_eq!(resin.isocyanate, expected, "{}", product.key);
    }
}

/// A kit floor serves 1 to 3 years under cars; professional floors longer, by any account.
#[test]
fn a_kit_floor_is_said_to_serve_the_shortest() {
    let input = dry();
    let life = |key: &str| with(&input, key, |option| option.floor.system.life_years);
    assert_eq!(life("water-kit"), (1, 3));
    for key in ["barrier", "fast-cure", "clear-epoxy"] {
        assert!(life(key).0 > 3, "{key}");
    }
    // Neither chemistry is said to outlast the other.
    assert_eq!(life("barrier"), life("fast-cure"));
}

/// The work of a shipped example starts on a working day.
#[test]
fn examples_start_work_on_a_day_that_is_no_weekend() {
    for job in [DRY, example::JOB] {
        let start = example::read(job, example::BOOK, example::SHOP).job.plan.start.unwrap();
        assert!(!matches!(start.weekday(), Weekday::Saturday | Weekday::Sunday), "{start}");
    }
}

// ------------------------------------------------------------------------------- both sides

fn system_words(key: &str) -> SystemWords {
    Words::read(&Layouts::default(), "en").unwrap().systems[key].clone()
}

fn length(lines: &[String]) -> f64 {
    lines.iter().map(|line| line.chars().count()).sum::<usize>() as f64
}

#[track_caller]
fn even(one: f64, other: f64) {
    assert!((one - other).abs() <= 0.1 * one.max(other), "{one} letters against {other}");
}

#[test]
fn barrier_and_fast_cure_get_the_same_room() {
    let (barrier, fast) = (system_words("barrier"), system_words("fast-cure"));
    for (one, other) in
        [(&barrier.better_at, &fast.better_at), (&barrier.harder_at, &fast.harder_at)]
    {
        assert_eq!(one.len(), other.len());
        even(length(one), length(other));
    }
    even(
        length(&barrier.better_at) + length(&barrier.harder_at),
        length(&fast.better_at) + length(&fast.harder_at),
    );
    even(length(&[barrier.choose_if]), length(&[fast.choose_if]));
    even(length(&[barrier.summary]), length(&[fast.summary]));
}

/// As many points for as against, for every floor: none is a foil.
#[test]
fn every_floor_has_as_many_points_for_as_against() {
    for key in ["barrier", "fast-cure", "clear-epoxy", "water-kit"] {
        let words = system_words(key);
        assert_eq!(words.better_at.len(), words.harder_at.len(), "{key}");
    }
}

#[test]
fn every_way_answers_every_question_with_both_sides_of_it() {
    for example in crate::fixture::EXAMPLES {
        let paper = paper(example);
        let ways = list(&paper.page["compare"]["ways"]);
        for row in list(&paper.page["compare"]["rows"]) {
            let cells = list(&row["cells"]);
            assert_eq!(cells.len(), ways.len());
            assert!(cells.iter().all(|cell| !word(cell).is_empty()), "{row}");
        }
        for way in ways {
            for field in ["name", "choose_if"] {
                assert!(!word(&way[field]).is_empty(), "{way}");
            }
            assert_eq!(list(&way["better_at"]).len(), 3);
            assert_eq!(list(&way["harder_at"]).len(), 3);
        }
    }
}

/// Extras of a floor go down in the order of its coats and are never part of the bare floor.
#[test]
fn an_extra_is_a_coat_more() {
    let input = dry();
    let system = input.systems.iter().find(|system| system.key.0 == "clear-epoxy").unwrap();
    let bare = Floor::new(system, &input.book, &[]);
    let with_extra = with(&input, "clear-epoxy", |option| option.floor.coats.len());
    assert_eq!(with_extra, bare.coats.len() + 1);
}
