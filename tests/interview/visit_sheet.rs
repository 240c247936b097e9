//! The visit sheet: every question of a first visit has a blank, or a reason for which it needs none.

use std::collections::BTreeSet;

use slableaf::base::layouts::Layouts;
use slableaf::interview::{InterviewKind, neutral};
use slableaf::model::rules::Country;
use slableaf::papers::visit_sheet::{questions_on_sheet, visit_sheet};
use slableaf::read::read_shop;
use slableaf::say::words::Words;

use super::Visit;
use super::wording::all_ways;
use crate::fixture::Folder;

/// Questions that need no blank, by a name or a whole group, each with the reason.
const NO_BLANK: &[(&str, &str)] = &[
    ("job.number", "`new` gives it"),
    ("job.units", "the shop's own, and the sheet's paper follows them"),
    ("area.shape", "the plan shows it"),
    ("area.corner", "the plan shows it"),
    ("area.at", "the plan shows it"),
    ("cutout.shape", "the plan shows it"),
    ("cutout.corner", "the plan shows it"),
    ("cutout.at", "the plan shows it"),
    ("steps.at", "the plan shows it"),
    ("dish.at", "its number stands on the plan"),
    ("probe.at", "its number stands on the plan"),
    ("sheet.at", "its number stands on the plan"),
    ("spall.area", "length and width make it"),
    ("moisture.method", "the table of readings names each test"),
    ("dishes.scale", "stands on the scale"),
    ("dishes.instrument", "stands on the scale"),
    ("dishes.room-as-used", "the room's figures and the interview tell"),
    ("dish.exposed", "stands in the papers of the dish"),
    ("probes.edition", "the shop knows by which it works"),
    ("probes.instrument", "stands on the probe"),
    ("probes.accuracy", "stands in the papers of the probe"),
    ("probes.settled", "one room: the blank of the dishes serves"),
    ("probe.calibrated", "stands in the papers of the probe"),
    ("extras.which", "the blank of the extras serves for all floors"),
    ("more.what", "what was said stands in its own blank or in the notes"),
    ("choices.texture", "with the color"),
    ("customer.second-email", "in the blank of the first"),
    ("customer.tax-exempt", "in the notes: the certificate itself is needed"),
    ("item.name", "in the notes"),
    ("item.price", "made at the desk"),
    ("discount.amount", "made at the desk"),
    ("discount.reason", "made at the desk"),
    ("photo.file", "the list of photos"),
    ("photo.caption", "the list of photos"),
];

/// What `new` asks on a first visit, whatever is answered.
fn asked() -> BTreeSet<String> {
    let mut asked = BTreeSet::new();
    for shape in ["rectangle", "corners"] {
        all_ways(&mut Visit::new(InterviewKind::Job), shape, &mut |question| {
            asked.insert(question.id.split(' ').next().unwrap().to_owned());
        });
    }
    // A blank that stays empty says that there is none, or no other.
    asked.retain(|id| !id.ends_with(".any") && !id.ends_with(".another"));
    asked
}

#[test]
fn every_question_of_a_first_visit_is_on_the_sheet_or_needs_no_blank() {
    let asked = asked();
    let blanks: BTreeSet<String> = questions_on_sheet().into_iter().collect();
    let none: BTreeSet<String> = NO_BLANK.iter().map(|(id, _)| (*id).to_owned()).collect();
    assert_eq!(none.len(), NO_BLANK.len());
    let both: Vec<_> = blanks.intersection(&none).collect();
    assert!(both.is_empty(), "on the sheet after all: {both:?}");
    let forgotten: Vec<_> =
        asked.iter().filter(|id| !blanks.contains(*id) && !none.contains(*id)).collect();
    assert!(forgotten.is_empty(), "neither on the sheet nor in the list: {forgotten:?}");
    // Extras are asked for by floor, under one name for all of them.
    let known = |id: &&String| !asked.contains(*id) && *id != "extras.clear-epoxy";
    let unasked: Vec<_> = blanks.union(&none).filter(known).collect();
    assert!(unasked.is_empty(), "`new` does not ask: {unasked:?}");
}

#[test]
fn every_label_of_the_sheet_is_a_question() {
    let blanks: BTreeSet<String> = questions_on_sheet().into_iter().collect();
    for language in ["en", "es"] {
        let words = Words::read(&Layouts::default(), language).unwrap();
        let labels: BTreeSet<String> = words
            .names()
            .filter_map(|name| name.strip_prefix("visit.label.").map(str::to_owned))
            .collect();
        // Cells of the table have the head of their column.
        let unused: Vec<_> = labels.difference(&blanks).collect();
        assert!(unused.is_empty(), "{language}: {unused:?}");
        let sheet = visit_sheet(&words, &read_shop(&neutral().1).unwrap()).unwrap();
        let parts = [&sheet.people, &sheet.outline, &sheet.tests].into_iter();
        let parts = parts.chain(&sheet.before_tests).chain(&sheet.after_tests);
        let said = parts.flat_map(|part| part.lines.iter().flatten());
        let ticks: usize = said.map(|blank| blank.ticks.len()).sum();
        let own = words
            .names()
            .filter(|name| name.starts_with("visit.tick.") && name.matches('.').count() == 4);
        // Each word of a choice is printed once; all other boxes are pairs of yes and no.
        let own = own.count();
        assert!(own < ticks && (ticks - own).is_multiple_of(2), "{language}: {own} of {ticks}");
    }
}

#[test]
fn paper_and_squares_are_those_of_the_shop_s_country() {
    let words = Words::read(&Layouts::default(), "en").unwrap();
    let mut shop = read_shop(&neutral().1).unwrap();
    for (country, paper, says) in [
        (None, "us-letter", "one foot"),
        (Some(Country::UNITED_STATES), "us-letter", "one foot"),
        (Country::of("DE"), "a4", "half a meter"),
    ] {
        shop.country = country;
        let sheet = visit_sheet(&words, &shop).unwrap();
        assert_eq!(sheet.frame.paper, paper);
        assert!(sheet.plan.says.contains(says), "{}", sheet.plan.says);
        assert!(sheet.plan.alt.contains(says), "{}", sheet.plan.alt);
        // Enough for a garage of two cars, 24 by 24 feet (common practice, no published source).
        let side = if paper == "a4" { 0.5 } else { 0.3048 };
        assert!(
            f64::from(sheet.plan.across) * side > 7.3 && f64::from(sheet.plan.down) * side > 7.3
        );
    }
}

#[test]
fn it_is_one_page_in_every_language_and_on_both_papers() {
    let folder = Folder::of("smallest");
    let shop = folder.read("shop.toml");
    let rest: Vec<&str> = shop.lines().filter(|line| !line.starts_with("country = ")).collect();
    let folder =
        folder.write("abroad/shop.toml", format!("country = \"DE\"\n{}\n", rest.join("\n")));
    for language in ["en", "es"] {
        for shop in ["shop.toml", "abroad/shop.toml"] {
            let name = format!("{language}-{}.pdf", shop.len());
            folder
                .run(&[
                    "new",
                    "visit-sheet",
                    "--language",
                    language,
                    "--shop",
                    shop,
                    "--out",
                    &name,
                ])
                .success()
                .out_has(&format!("wrote {name} (1 page)\n"));
        }
    }
}

#[test]
fn a_sheet_that_is_there_is_never_changed() {
    let folder = Folder::of("smallest");
    folder.run(&["new", "visit-sheet"]).success().out_has("wrote visit-sheet.pdf (1 page)\n");
    let before = std::fs::read(folder.path("visit-sheet.pdf")).unwrap();
    assert!(before.starts_with(b"%PDF-"));
    folder
        .run(&["new", "visit-sheet", "--language", "es"])
        .code(5)
        .err_has("visit-sheet.pdf is there already; nothing was written")
        .err_has("`slableaf new visit-sheet --out FILE.pdf`");
    assert_eq!(std::fs::read(folder.path("visit-sheet.pdf")).unwrap(), before);
    folder.run(&["new", "visit-sheet", "--out", "papers"]).success();
    assert!(folder.path("papers/visit-sheet.pdf").is_file());
}

#[test]
fn what_is_asked_for_wrongly_says_what_to_write() {
    let folder = Folder::of("smallest");
    folder
        .run(&["new", "visit-sheet", "--out", "sheet.txt"])
        .code(2)
        .err_has("`sheet.txt` is no name for a PDF")
        .err_has("write `--out sheet.pdf`");
    folder
        .run(&["new", "visit-sheet", "--language", "fr"])
        .code(2)
        .err_has("there are no words in the language `fr`")
        .err_has("write one of: en, es");
    folder
        .run(&["new", "visit-sheet", "--shop", "none.toml"])
        .code(2)
        .err_has("cannot read none.toml");
    let folder = folder.write("bad.toml", "name = 5\n");
    folder.run(&["new", "visit-sheet", "--shop", "bad.toml"]).code(2).err_has("bad.toml:1:8");
    assert!(!folder.path("visit-sheet.pdf").exists());
}
