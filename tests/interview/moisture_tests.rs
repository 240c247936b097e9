//! The questions about moisture tests.

use super::typed::on_to;
use super::{FEWEST, TEXT, Visit};
use slableaf::interview::InterviewKind;
use slableaf::model::job::Inside;

/// Asked before any probe; nobody drills where something may lie (common practice, no published source).
#[test]
fn what_lies_inside_is_asked_before_the_probes_and_nobody_drills_before_a_scan() {
    for (typed, inside, warned) in [
        ("", None, true),
        ("don't know", None, true),
        ("nothing", Some(vec![]), false),
        ("cables", Some(vec![Inside::Cables]), true),
        ("gas pipes and tubes", Some(vec![Inside::Pipes, Inside::HeatingTubes]), true),
        ("2, wiring", Some(vec![Inside::Cables, Inside::Wiring]), true),
    ] {
        let mut visit = on_to(&[], "slab.inside");
        visit.takes(typed);
        let said = visit.said.iter().any(|said| said.contains("drills, cores or cuts"));
        assert_eq!(said, warned, "{typed}: {:?}", visit.said);
        let rest = [FEWEST, &[("moisture.method", "none")]].concat();
        while visit.question().id != "moisture.method" {
            let asked = visit.question().id;
            let known = rest.iter().find(|(known, _)| *known == asked);
            visit.takes(known.map_or("", |(_, line)| line));
        }
        assert!(!visit.asked.iter().any(|id| id.starts_with("probe")), "{:?}", visit.asked);
        visit.interview.answer("done").unwrap();
        while let Some(question) = visit.interview.ask().unwrap() {
            visit.takes(if question.id == "job.offer" { "" } else { "yes" });
        }
        assert_eq!(visit.job().slab.inside, inside, "{typed}");
    }
    // Not both: the readers say so at once.
    let mut visit = on_to(&[], "slab.inside");
    assert_eq!(visit.refuses("none, pipes").0, "`inside` names `none` beside other things");
    let mut visit = on_to(&[], "slab.treatments");
    assert_eq!(visit.refuses("none, wax").0, "`treatments` names `none` beside other things");
    visit.takes("tire dressing and hardener");
    assert!(visit.file().text.contains("treatments = [\"silicone\", \"densifier\"]"));
}

/// Bare ground concrete, open for 24 hours (ASTM F1869): else a dish cannot prove a slab dry.
#[test]
fn the_spot_of_a_dish_is_told_in_ones_own_words() {
    let dish = [("moisture.method", "dishes"), ("dish.place 1", "middle")];
    for (typed, surface) in [
        ("painted", Some("coated")),
        ("sealed", Some("coated")),
        ("ground and open", None),
        ("ground bare", Some("ground-open-24h")),
        ("open", None),
        ("not ground", Some("bare")),
        ("", Some("")),
    ] {
        let mut visit = on_to(&dish, "dish.surface 1");
        let Some(surface) = surface else {
            assert!(visit.refuses(typed).0.contains("these"), "{typed}");
            continue;
        };
        visit.takes(typed);
        let line = format!("surface = \"{surface}\"\n");
        let text = visit.file().text;
        assert_eq!(text.contains(&line), !surface.is_empty(), "{typed}: {text}");
        let told = visit.said.iter().any(|said| said.contains("but not that it is dry"));
        assert_eq!(told, surface != "ground-open-24h", "{typed}: {:?}", visit.said);
    }
    let weighed = [
        ("dish.surface 1", "1"),
        ("dish.exposed 1", "65.7 in2"),
        ("dish.before 1", "218.4 g"),
        ("dish.after 1", "222.4 g"),
        ("dish.set 1", "2026-05-05 9:10"),
        ("dish.lifted 1", "2026-05-08 8:00"),
    ];
    let answers = [dish.as_slice(), &weighed].concat();
    let mut visit = on_to(&answers, "dish.ground 1");
    visit.talk(&[
        ("dish.ground 1", "2026-05-06 9:00", "`ground` is not before `set`"),
        ("dish.ground 1", "2026-05-04 10:00", "`ground` is less than 24 hours"),
        ("dish.ground 1", "5/4/2026 9 am", ""),
    ]);
    assert!(visit.file().text.contains("ground = 2026-05-04T09:00:00"));
}

#[test]
fn a_probe_is_new_or_was_checked_on_a_day() {
    let hole = [
        ("slab.thickness", "4 in"),
        ("moisture.method", "probes"),
        ("probe.place 1", "middle"),
        ("probe.depth 1", "1.6 in"),
        ("probe.reading 1", "74"),
        ("probe.drilled 1", "2026-05-06 9:00"),
        ("probe.read 1", "2026-05-07 10:00"),
    ];
    for (typed, line) in [
        ("new", "calibrated = \"new\"\n"),
        ("Brand new", "calibrated = \"new\"\n"),
        ("4/20/2026", "calibrated = 2026-04-20\n"),
        ("2026-05-01", "calibrated = 2026-05-01\n"),
    ] {
        let mut visit = on_to(&hole, "probe.calibrated 1");
        visit.takes(typed);
        assert!(visit.file().text.contains(line), "{typed}: {}", visit.file().text);
    }
    let mut visit = on_to(&hole, "probe.calibrated 1");
    visit.talk(&[
        ("probe.calibrated 1", "last week", "That is neither a date nor `new`"),
        ("probe.calibrated 1", "not new", "That is neither a date nor `new`"),
        ("probe.calibrated 1", "2026-05-09", "`calibrated` is after `read`"),
    ]);
}

/// 16 hours, sealed all round (ASTM D4263).
#[test]
fn a_plastic_sheet_is_a_third_kind_of_test() {
    let sheet = [
        ("moisture.method", "sheet"),
        ("sheet.place 1", "by the door"),
        ("sheet.taped 1", "2026-05-07 16:00"),
    ];
    let mut visit = on_to(&sheet, "sheet.lifted 1");
    assert_eq!(visit.refuses("2026-05-07 15:00").0, "`lifted` is not after `taped`");
    for line in ["2026-05-08 7:00", "no", "a darker spot"] {
        visit.takes(line);
    }
    for part in ["gives no figure", "stay down for 16 hours", "not sealed all round"] {
        assert!(visit.said.iter().any(|said| said.contains(part)), "{part}: {:?}", visit.said);
    }
    let text = visit.file().text;
    let table = "[[moisture.plastic-sheet]]\nplace = \"by the door\"\ntaped = 2026-05-07T16:00:00\n\
                 lifted = 2026-05-08T07:00:00\nsealed = false\nfound = \"damp\"\n";
    assert!(text.contains(table), "{text}");
    visit.takes("");
    // No figure, so there is no highest one; each floor still has its line.
    assert!(!visit.said.iter().any(|said| said.starts_with("Highest")), "{:?}", visit.said);
    let floors = visit.said.iter().filter(|said| said.contains("not known"));
    assert_eq!(floors.count(), 4, "{:?}", visit.said);
    // Beside dishes a sheet is asked for, and may be left out.
    let dish = [("moisture.method", "dishes"), ("dish.place 1", "middle")];
    let more = [
        ("dish.exposed 1", "65.7 in2"),
        ("dish.before 1", "218.4 g"),
        ("dish.after 1", "222.4 g"),
        ("dish.set 1", "2026-05-05 9:10"),
        ("dish.lifted 1", "2026-05-08 8:00"),
    ];
    let answers = [dish.as_slice(), &more].concat();
    let mut visit = on_to(&answers, "sheet.any 1");
    visit.takes("");
    assert_eq!(visit.question().id, "air.any");
}

/// A floor without enough good readings waits; one without a limit is its maker's to judge.
#[test]
fn floors_that_wait_are_told_apart_from_those_that_are_too_damp() {
    let mut visit = on_to(
        &[
            ("moisture.method", "dishes"),
            ("dish.place 1", "middle"),
            ("dish.surface 1", "bare"),
            ("dish.exposed 1", "65.7 in2"),
            ("dish.before 1", "218.4 g"),
            ("dish.after 1", "222.4 g"),
            ("dish.set 1", "2026-05-05 9:10"),
            ("dish.lifted 1", "2026-05-08 8:00"),
        ],
        "air.any",
    );
    visit.takes("no");
    let line = |start: &str| visit.said.iter().find(|said| said.starts_with(start)).unwrap();
    assert!(line("vapor-barrier floor").contains("these tests do not settle it"));
    assert!(line("fast-cure floor").contains("too damp"));
}

#[test]
fn a_time_zone_is_taken_as_people_of_the_us_name_it() {
    let mut visit = Visit::new(InterviewKind::Shop);
    visit.takes("Invented Gray Heron Floors");
    visit.until("calendar.time-zone");
    assert!(visit.refuses("mountain").0.contains("America/Denver or America/Phoenix"));
    visit.takes("EST");
    assert_eq!(visit.said.last().unwrap(), "Taken as America/New_York.");
    assert!(visit.file().text.contains("time-zone = \"America/New_York\""));
}

/// `?` has something to say that the question and its hint do not.
#[test]
fn every_question_has_more_to_say() {
    for (group, keys) in &TEXT.ask {
        for (key, text) in keys {
            let help = text.help.as_deref().unwrap_or_default();
            assert!(help.split_whitespace().count() >= 5, "{group}.{key}: {help}");
            assert_ne!(Some(help), text.hint.as_deref(), "{group}.{key}");
        }
    }
}
