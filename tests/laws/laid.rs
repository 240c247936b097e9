//! Floors as they were laid: films, readings, and floors laid exactly as planned.

use super::close;
use crate::chance::tried;
use crate::facts::example::{self, BOOK, SHOP};
use proptest::prelude::*;
use slableaf::base::quantity::*;
use slableaf::judge::checks::{FindingPlace, Severity};
use slableaf::judge::judge;
use slableaf::judge::laid::film::*;
use slableaf::judge::laid::floor_as_laid;
use slableaf::price::case::case;

/// The checks that speak of a floor as it was laid.
const OF_LAID: [&str; 10] = [
    "coat-not-recorded",
    "laid-date-differs",
    "coat-not-agreed",
    "film-low",
    "film-not-shown",
    "film-disagrees",
    "window-missed",
    "laid-out-of-conditions",
    "pot-life-passed",
    "laid-not-known",
];

fn film_of(films: &[f64], planned: f64, area: f64) -> FilmAsLaid {
    let read: Vec<_> = films.iter().map(|mils| (Thickness::mils(*mils), None)).collect();
    FilmAsLaid {
        planned: Thickness::mils(planned),
        solids: Share::percent(100.0),
        balance: None,
        readings: readings(&read, Thickness::mils(planned), Area::square_feet(area)),
    }
}

proptest! {
    #![proptest_config(tried(300))]

    #[test]
    fn twice_the_area_is_half_the_film(
        gallons in 0.1..40.0f64,
        area in 10.0..3000.0f64,
        loss in 0.0..40.0f64,
    ) {
        let film = |gallons: f64, area: f64| balance(&Spent {
            used: Volume::gallons(gallons),
            area: Area::square_feet(area),
            texture: Volume::ZERO,
            cracks: Volume::ZERO,
            loss: Share::percent(loss),
        });
        let (one, half, twice) = (film(gallons, area), film(gallons, 2.0 * area), film(2.0 * gallons, area));
        prop_assert!(close(half.most.as_mils(), one.most.as_mils() / 2.0));
        prop_assert!(close(half.least.as_mils(), one.least.as_mils() / 2.0));
        prop_assert!(close(twice.most.as_mils(), one.most.as_mils() * 2.0));
        // What a handbook makes of it lies between the two, without and with the loss.
        let plain = gallons * 1604.1667 / area;
        prop_assert!(one.least.as_mils() <= plain * (1.0 - loss / 100.0) * (1.0 + 1e-9));
        prop_assert!(one.most.as_mils() >= plain * (1.0 - 1e-9));
    }

    #[test]
    fn more_readings_never_make_a_film_unknown_that_was_shown(
        films in prop::collection::vec(1.0..40.0f64, 0..40),
        more in prop::collection::vec(1.0..40.0f64, 0..20),
        planned in 3.0..30.0f64,
        area in 20.0..2500.0f64,
    ) {
        let before = film_of(&films, planned, area).standing();
        let after = film_of(&[films, more].concat(), planned, area).standing();
        if before != FilmStanding::NotShown {
            prop_assert_ne!(after, FilmStanding::NotShown);
        }
    }

    #[test]
    fn a_thinner_reading_never_makes_a_low_film_good(
        films in prop::collection::vec(1.0..40.0f64, 1..40),
        at in any::<prop::sample::Index>(),
        off in 0.0..10.0f64,
        planned in 3.0..30.0f64,
        area in 20.0..2500.0f64,
    ) {
        let before = film_of(&films, planned, area).standing();
        let mut thinner = films.clone();
        let at = at.index(films.len());
        thinner[at] = (films[at] - off).max(0.5);
        let after = film_of(&thinner, planned, area).standing();
        if before == FilmStanding::Low {
            prop_assert_eq!(after, FilmStanding::Low);
        }
    }
}

/// Records of a floor of the example, laid as its plan has it.
fn as_planned(floor: &str, loss_too: bool, extra_minutes: f64) -> String {
    let start = "[plan]\nstart = 2026-05-26\n";
    let accepted = format!("\n[accepted]\nrevision = 1\nfloor = \"{floor}\"\non = 2026-05-20\n");
    let job = example::JOB.to_owned();
    let job = if job.contains("[plan]") { job } else { job + "\n" + start };
    let input = example::read(&format!("{job}{accepted}"), BOOK, SHOP);
    let case = case(&input);
    let option = case.options.iter().find(|option| option.key().0 == floor).unwrap();
    let places = places_to_read(case.site.take_off.coated());
    let mut text = format!("{job}{accepted}");
    let moment = |hours: f64| {
        let minutes = (hours * 60.0).round() as i64;
        let first = jiff::civil::date(2026, 5, 26).at(0, 0, 0, 0);
        let at = first.checked_add(jiff::Span::new().minutes(minutes)).unwrap();
        at.strftime("%Y-%m-%dT%H:%M:%S").to_string()
    };
    for (coat, resin) in option.floor.resins() {
        let key = &coat.spec.key;
        let laid = option.estimate.schedule.laid(key).unwrap();
        let volume = option.estimate.coat_volume(key).unwrap();
        let share = if loss_too { 1.0 } else { 1.0 - resin.loss.as_of_one() };
        let film = coat.wet_film(resin).as_mils();
        let films: Vec<String> = (0..places).map(|_| format!("\"{film:.3} mil\"")).collect();
        text += &format!(
            "\n[[laid]]\ncoat = \"{key}\"\nstart = {}\nend = {}\nair = \"70 F\"\nhumidity = \"50 %\"\nslab = \"{} F\"\n\
             used = \"{:.4} gal\"\nfilms = [{}]\n",
            moment(laid.from.0.as_hours() + extra_minutes / 60.0),
            moment(laid.to.0.as_hours() + extra_minutes / 60.0),
            case.site.air.unwrap().slab.as_fahrenheit(),
            volume.as_gallons() * share,
            films.join(", "),
        );
    }
    text
}

/// A floor that was laid exactly as planned has no finding of how it was laid, whether all of the loss is
/// counted as used or none of it.
#[test]
fn a_floor_laid_exactly_as_planned_has_no_finding() {
    for floor in ["barrier", "clear-epoxy"] {
        for loss_too in [false, true] {
            let input = example::read(&as_planned(floor, loss_too, 0.0), BOOK, SHOP);
            let judged = judge(&input);
            let laid = floor_as_laid(&judged.case).unwrap();
            assert!(laid.is_complete(), "{floor}");
            assert!(laid.times.is_some(), "{floor}");
            let found = judged.findings.iter().filter(|f| OF_LAID.contains(&f.check.name));
            let found: Vec<_> = found.collect();
            assert!(found.is_empty(), "{floor}, loss {loss_too}: {found:#?}");
        }
    }
}

/// Without a record no check speaks of how a floor was laid, and what they say is never for the customer.
#[test]
fn a_job_without_records_has_no_such_finding() {
    let judged_input = example::input();
    let judged = judge(&judged_input);
    assert!(judged.findings.iter().all(|f| !OF_LAID.contains(&f.check.name)));
    for check in slableaf::judge::checks::CHECKS.iter().filter(|c| OF_LAID.contains(&c.name)) {
        assert_eq!(check.place, FindingPlace::Shop, "{}", check.name);
        assert!(!check.severities.contains(&Severity::Stop), "{}", check.name);
    }
}

/// The times of use are those of the plan, where the floor was laid as planned.
#[test]
fn real_times_are_those_of_the_plan_where_it_was_kept() {
    let input = example::read(&as_planned("barrier", true, 0.0), BOOK, SHOP);
    let case = case(&input);
    let option = case.options.iter().find(|option| option.key().0 == "barrier").unwrap();
    let times = floor_as_laid(&case).unwrap().times.unwrap();
    let first = jiff::civil::date(2026, 5, 26).at(0, 0, 0, 0);
    let hours = |at: jiff::civil::DateTime| at.duration_since(first).as_secs_f64() / 3600.0;
    let plan = &option.estimate.schedule;
    // To the minute in which the records are written.
    assert!((hours(times.walk) - plan.walk.0.as_hours()).abs() < 0.02);
    assert!((hours(times.drive) - plan.drive.0.as_hours()).abs() < 0.02);
    assert!((hours(times.carry) - plan.carry.0.as_hours()).abs() < 0.02);
}
