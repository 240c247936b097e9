//! Faults that once showed on slabs like these, each held to what is so.

use slableaf::base::figure::Figure;
use slableaf::judge::checks::{Finding, Severity};
use slableaf::judge::recommend::{Compared, Concern, OfferState, RuleStep};
use slableaf::judge::{Judged, judge};
use slableaf::model::book::Stuff;
use slableaf::model::job::{Job, Units, Wish};
use slableaf::read::Input;
use slableaf::say::figures::{FigureWords, Figures};
use slableaf::site::standing::Settles;

use super::notation::Slab;
use super::outcome;
use crate::facts::example;
use crate::fixture::Folder;

/// Looks at a slab, judged.
#[track_caller]
fn on<R>(text: &str, look: impl FnOnce(&Judged<'_>) -> R) -> R {
    look(&judge(&Slab::from(text).input()))
}

#[track_caller]
fn comes_out(text: &str, expected: &str) {
    assert_eq!(outcome(&Slab::from(text).input()), expected, "{text}");
}

/// The sentence of a check about the floor of a letter; with ' ' about the job.
fn says<'j>(judged: &'j Judged<'_>, check: &str, floor: char) -> Vec<&'j Finding> {
    let about = |finding: &Finding| {
        finding.option.as_ref().map_or(' ', |key| super::files::letter(&key.0).expect("a floor"))
    };
    judged.findings.iter().filter(|one| one.check.name == check && about(one) == floor).collect()
}

fn value<'f>(finding: &'f Finding, name: &str) -> Option<&'f Figure> {
    finding.values.iter().find(|(key, _)| *key == name).map(|(_, figure)| figure)
}

#[track_caller]
fn state(judged: &Judged<'_>, floor: char) -> OfferState {
    let options = judged.case.options.iter();
    let mut keys = options.map(slableaf::price::case::FloorOption::key);
    let key = keys.find(|key| super::files::letter(&key.0) == Some(floor)).expect("a floor");
    judged.recommendation.state(key)
}

// ------------------------------------------------------------------- a method without a limit

/// Probes at 95 to 97 % say nothing good of a primer whose data sheet has a dish limit only, and no
/// test at all is never worse than they are.
#[test]
fn high_probes_never_recommend_a_primer_with_a_dish_limit_only() {
    comes_out("no-sheet; F 3lb; p 95 96 97", "N- C+ > B recommend");
    comes_out("no-sheet; offer F; F 3lb; p 95 96 97", "N- > not-yet");
    comes_out("no-sheet; offer F; F 3lb", "N? > F test-first");
    on("no-sheet; offer F; F 3lb; p 95 96 97", |judged| {
        let found = says(judged, "moisture-limit-unknown", 'F');
        assert_eq!(found[0].severity, Severity::Wait);
        assert_eq!(value(found[0], "high"), Some(&Figure::from("yes")));
        assert!(judged.recommendation.priced().is_empty());
    });
}

/// Clear dishes do not hide it, and a barrier that is too near to call is not called clear.
#[test]
fn clear_dishes_do_not_hide_probes_that_read_high() {
    comes_out("no-sheet; F 3lb; d 1x3 p 98x3", "N- ~+ > B near");
    comes_out("no-sheet; F 3lb; d 1x3", "C+ C+ > F recommend");
}

// --------------------------------------------------------------------------- over is over

/// 3.16 lb on a scale that is good to 0.23 lb: over 3 lb, and said to be.
#[test]
fn the_doubt_of_the_scale_excuses_no_reading() {
    comes_out("?; d 3.16x3", "O- C+ > B recommend");
    comes_out("?; offer F; d 3.16x3", "O- > not-yet");
    on("?; d 3.16x3", |judged| {
        let stops = says(judged, "moisture-over-limit", 'F');
        assert_eq!(stops[0].severity, Severity::Stop);
        assert_eq!(value(stops[0], "over"), Some(&Figure::from("yes")));
    });
}

/// The two figures of a floor over its limit never read alike, in any unit.
#[test]
fn no_two_equal_figures_are_printed_as_over() {
    let words: FigureWords =
        toml::from_str(include_str!("../../layouts/words/en/figures.toml")).unwrap();
    let mut over = 0;
    let parts = (1..=60).map(|at| 10f64.powf(-1.0 - f64::from(at) / 10.0));
    for part in parts {
        let dish = format!("?; offer F; d {:.9}", 3.0 * (1.0 + part));
        let probe = format!("?; offer F; p {:.9}", 75.0 * (1.0 + part));
        let flagged = format!("?; offer F; F 3lb; p {:.9}", 75.0 * (1.0 + part));
        for text in [dish, probe, flagged] {
            on(&text, |judged| {
                let stops = says(judged, "moisture-over-limit", 'F').into_iter();
                let stops = stops.filter(|one| one.severity == Severity::Stop);
                let asks = says(judged, "moisture-limit-unknown", 'F').into_iter();
                let asks = asks.filter(|one| value(one, "high") == Some(&Figure::from("yes")));
                for finding in stops.chain(asks) {
                    over += 1;
                    let measured = finding.measured.as_ref().expect("a reading");
                    let limit = finding.limit.as_ref().expect("a limit");
                    for units in [Units::Us, Units::Metric] {
                        let figures = Figures { units, currency: "USD", words: &words };
                        let (reading, limit) = figures.told_apart(measured, limit);
                        assert_ne!(reading, limit, "{text}");
                    }
                }
            });
        }
    }
    assert!(over > 60, "{over} were over");
}

// ---------------------------------------------------------------------- not to the method

/// One dish for six hours in a cold room that gained nothing: no reading to go by.
#[test]
fn a_dish_of_six_hours_in_a_cold_room_settles_nothing() {
    let slab = "?; d room:48F/50% 0,6h";
    comes_out(slab, "N? N? > B test-first");
    comes_out("sheet; d room:48F/50% 0,6h", "N? N? > F test-first");
    on(slab, |judged| {
        let faults: Vec<_> = says(judged, "moisture-method", ' ')
            .into_iter()
            .map(|one| (value(one, "fault").cloned(), one.severity))
            .collect();
        for fault in ["exposure", "room", "too-few"] {
            let expected = (Some(Figure::from(fault)), Severity::Caution);
            assert!(faults.contains(&expected), "{fault}: {faults:?}");
        }
        for floor in ['F', 'B'] {
            let found = says(judged, "moisture-not-judged", floor);
            assert_eq!(found[0].measured, Some(Figure::Count(0)), "good places");
            assert_eq!(found[0].limit, Some(Figure::Count(3)));
            assert_eq!(state(judged, floor), OfferState::Waits(Settles::Test));
        }
    });
}

/// A dish on paint tells nothing good of the concrete below, whatever it reads.
#[test]
fn a_dish_on_paint_settles_nothing() {
    comes_out("?; sealed; d 1.6x3,coated", "N? N? > B test-first");
    comes_out("sheet; sealed; d 1.6x3,coated", "N? N? > F test-first");
    comes_out("sheet; sealed; d 1.6x3", "C+ C+ > F recommend");
    comes_out("?; sealed; d 3.4x3,coated", "O- N? > B test-first");
    on("?; sealed; d 1.6x3,coated", |judged| {
        let found = says(judged, "moisture-method", ' ');
        assert_eq!(value(found[0], "fault"), Some(&Figure::from("surface-coated")));
    });
}

// ------------------------------------------------------------------------------ too old

/// Fourteen months, and ten years: such a test recommends nothing, and its age is told.
#[test]
fn an_old_test_settles_nothing() {
    for (visit, days) in [("2025-03-12", 426), ("2016-05-12", 3652)] {
        comes_out(&format!("sheet; {visit} d 0.9x3"), "N? N? > F test-first");
        comes_out(&format!("?; {visit} d 0.9x3"), "N? N? > B test-first");
        comes_out(&format!("?; {visit} p 60x3"), "N? N? > B test-first");
        comes_out(&format!("?; {visit} d 4x3"), "O- N? > B test-first");
        on(&format!("sheet; {visit} d 0.9x3"), |judged| {
            let found = says(judged, "moisture-test-old", ' ');
            assert_eq!(found[0].measured, Some(Figure::Days(days)));
            assert!(judged.recommendation.offered().is_empty());
        });
    }
}

// --------------------------------------------------------------------- wishes and concerns

/// 2.3 of 3 lb with nothing known beneath, and a floor that is to last: years tie, room decides, and the
/// price is not asked.
#[test]
fn lasting_over_unknown_ground_goes_by_the_room_over_the_reading() {
    comes_out("?; d 2.3x3; wish lasting", "C+ C+ > B recommend");
    on("?; d 2.3x3; wish lasting", |judged| {
        let last = judged.recommendation.steps.last().expect("a step");
        assert_eq!(last.rule, RuleStep::Wish { wish: Wish::Lasting });
        assert!(last.compared.iter().all(|one| matches!(one.value, Compared::Life(20, Some(_)))));
    });
    // Over a known sheet, and off the ground, it is the price.
    comes_out("sheet; d 2.3x3; wish lasting", "C+ C+ > F recommend");
    comes_out("hung; d 2.3x3; wish lasting", "C+ C+ > F recommend");
}

/// The cheaper floor with a caution more than the other, by a change of its book or system.
#[track_caller]
fn still_first(slab: &str, check: &str, change: impl FnOnce(&mut Input)) {
    let mut input = Slab::from(slab).input();
    assert_eq!(outcome(&input), "C+ C+ > F recommend");
    change(&mut input);
    let judged = judge(&input);
    let cautions = says(&judged, check, 'F');
    assert!(cautions.iter().any(|one| one.severity == Severity::Caution), "{check} is silent");
    assert!(says(&judged, check, 'B').is_empty(), "{check} speaks of both");
    assert_eq!(outcome(&input), "C+ C+ > F recommend", "{check} counted against F");
    let last = judged.recommendation.steps.last().expect("a step");
    assert_eq!(last.rule, RuleStep::LowestPrice);
}

/// All take two days, and only the quick floor was meant to take one.
#[test]
fn a_quick_floor_does_not_lose_by_a_caution_that_only_it_can_have() {
    still_first("sheet; d 1x3; no-wish; area 1000", "one-day-misses", |input| {
        let fast = input.systems.iter_mut().find(|system| system.key.0 == "fast-floor");
        fast.expect("the fast floor").one_day = true;
        input.job.plan.crew = Some(1);
    });
}

/// Hazards that every such coat has and the temperature of the visit are no concern of this slab.
#[test]
fn hazards_and_the_weather_of_the_visit_are_not_counted() {
    let resin = |input: &mut Input, change: &dyn Fn(&mut slableaf::model::book::Resin)| {
        for product in &mut input.book.products {
            if let (true, Stuff::Resin(resin)) =
                (product.key.0.starts_with("fast-"), &mut product.stuff)
            {
                change(resin);
            }
        }
    };
    still_first("sheet; d 1x3; no-wish", "isocyanate", |input| {
        resin(input, &|resin| resin.isocyanate = true);
    });
    still_first("sheet; d 1x3; no-wish", "slab-temperature", |input| {
        resin(input, &|resin| {
            resin.slab_from = slableaf::base::quantity::Temperature::fahrenheit(80.0)
        });
    });
}

/// Each concern against a floor is asked for by name, in its order, yes or no; nothing is counted.
#[test]
fn concerns_are_yes_or_no_in_their_order() {
    on("?; d 1x3; no-wish", |judged| {
        let steps = &judged.recommendation.steps;
        let concerns: Vec<_> = steps
            .iter()
            .filter_map(|step| match step.rule {
                RuleStep::Concern { concern } => Some((concern, step)),
                _ => None,
            })
            .collect();
        let all = Concern::WORDS.iter().map(|(_, concern)| *concern);
        assert!(concerns.iter().map(|(concern, _)| *concern).eq(all));
        for (_, step) in concerns {
            assert!(step.compared.iter().all(|one| one.value == Compared::Concern(false)));
        }
    });
}

// -------------------------------------------------------------------------- what is handed out

/// A price beside "test first" is no offer: the results say that each floor waits.
#[test]
fn the_results_say_what_waits() {
    let folder = Folder::of("dry-and-quick");
    let job = folder.read("job.toml");
    let (before, rest) = job.split_once("[moisture.dishes]").expect("dishes");
    let (_, after) = rest.split_once("[air]").expect("air");
    let folder = folder.write("job.toml", format!("{before}[air]{after}"));
    let ran = folder.run(&["check", "job.toml", "--format", "json"]);
    let found: serde_json::Value = serde_json::from_str(&ran.stdout()).expect("JSON");
    assert_eq!(found["headline"], "test-first");
    assert_eq!(found["first"], "fast-cure");
    assert!(found["recommended"].is_null());
    assert_eq!(found["offered"].as_array().map(Vec::len), Some(0));
    assert_eq!(found["waiting"].as_array().map(Vec::len), Some(4));
}

// -------------------------------------------------------------------------- older job files

/// A job file from before surfaces, visits, void readings and what lies inside the slab is still read.
/// A value that it does not give is not known.
#[test]
fn job_files_without_the_later_keys_are_still_read() {
    let later =
        ["surface", "ground", "void", "treatments", "inside", "ph", "room-as-used", "accuracy"];
    let with: &str = include_str!("../../examples/two-car-barrier/job.toml");
    assert!(with.contains("\nsurface = "), "nothing to take out");
    let old: String = with
        .lines()
        .filter(|line| !later.iter().any(|key| line.starts_with(&format!("{key} = "))))
        .map(|line| format!("{line}\n"))
        .collect();
    let job: Job = example::read(&old, example::BOOK, example::SHOP).job;
    assert_eq!(job.moisture.visits.len(), 1);
    let dishes = job.moisture.dish_tests().next().expect("dishes");
    assert!(!dishes.as_used);
    for dish in &dishes.dishes {
        assert!(dish.surface.is_none() && dish.ground.is_none() && dish.void.is_none());
    }
    assert!(job.slab.inside.is_none() && job.slab.treatments.is_none() && job.slab.ph.is_none());
}
