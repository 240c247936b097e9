//! The crew's and the customer's days.

use super::{arguments, named, prepared, sheet, shows, shows_not};
use crate::documents::files;
use crate::fixture::{FLOORS, Folder};
use icalendar::{Calendar, CalendarComponent, Component, EventLike};
use jiff::civil::DateTime;
use std::collections::BTreeSet;
use std::fs;
use std::path::PathBuf;

pub struct Event {
    uid: String,
    sequence: u32,
    /// As written: with a Z in universal time, without one as the clock shows it.
    from: String,
    to: Option<String>,
    summary: String,
    pub description: String,
    location: String,
}

/// The events of a calendar file, as a program reads them that did not write it.
#[track_caller]
fn events(path: PathBuf) -> Vec<Event> {
    let text = fs::read_to_string(path).unwrap();
    let calendar: Calendar = text.parse().unwrap_or_else(|error| panic!("{error}\n{text}"));
    let text = |value: Option<&str>| value.unwrap_or_default().to_owned();
    calendar
        .components
        .iter()
        .map(|component| {
            let CalendarComponent::Event(event) = component else { panic!("{component:?}") };
            Event {
                uid: text(event.get_uid()),
                sequence: event.get_sequence().unwrap(),
                from: event.property_value("DTSTART").unwrap().to_owned(),
                to: event.property_value("DTEND").map(str::to_owned),
                summary: text(event.get_summary()),
                description: text(event.get_description()),
                location: text(event.get_location()),
            }
        })
        .collect()
}

pub fn crew_days(folder: &Folder) -> Vec<Event> {
    events(named(folder, "shop", "crew-days-r1.ics"))
}

fn customer_days(folder: &Folder) -> Vec<Event> {
    events(named(folder, "papers", "days-r1.ics"))
}

fn minutes_between(from: &str, to: &str) -> i64 {
    let time = |text: &str| DateTime::strptime("%Y%m%dT%H%M%SZ", text).unwrap();
    time(to).duration_since(time(from)).as_mins()
}

fn starting(folder: Folder, from: &str, date: &str) -> Folder {
    folder.replace("job.toml", &format!("start = {from}"), &format!("start = {date}"))
}

/// Central time is 5 hours behind universal time until 2 am on the first Sunday of November, then 6:
/// 15 USC 260a and 261. The crew comes at half past seven on both sides of that night.
#[test]
fn the_crew_comes_at_the_same_clock_time_after_the_clocks_change() {
    let folder = starting(Folder::new(), "2026-05-26", "2026-10-31");
    let days = crew_days(&prepared(folder, "barrier"));
    let starts: Vec<&str> = days.iter().map(|day| day.from.as_str()).collect();
    assert_eq!(starts, ["20261031T123000Z", "20261102T133000Z"]);
}

/// A day's work on the Saturday before that night, and a week earlier: things come back on Sunday
/// after as many hours, though the clock shows an hour less.
#[test]
fn a_floor_cures_for_as_many_hours_over_the_night_the_clocks_change() {
    let carried_in = |date: &str| {
        let folder = starting(Folder::of("dry-and-quick"), "2026-06-15", date);
        let days = customer_days(&prepared(folder, "fast-cure"));
        let last = days.iter().rfind(|day| day.uid.contains("visit")).unwrap();
        let carry = days.iter().find(|day| day.uid.contains("carry")).unwrap();
        (last.from.clone(), carry.from.clone())
    };
    let (from, to) = carried_in("2026-10-31");
    assert!(*from < *"20261101T070000Z" && *"20261101T070000Z" < *to, "{from} to {to}");
    let (usual_from, usual_to) = carried_in("2026-10-24");
    assert_eq!(minutes_between(&from, &to), minutes_between(&usual_from, &usual_to));
}

#[test]
fn without_a_zone_times_are_those_of_the_clock_on_the_wall() {
    let folder = Folder::new().replace("shop.toml", "time-zone = \"America/Chicago\"", "");
    let folder = prepared(folder, "barrier");
    let days = crew_days(&folder);
    assert_eq!(days[0].from, "20260526T073000");
    for day in days.iter().chain(&customer_days(&folder)) {
        assert_eq!(day.from.len(), "20260526T073000".len(), "{}", day.from);
    }
    // Nobody is told to walk on a floor at night: the papers say "morning" then.
    for (example, floor) in FLOORS {
        let folder = Folder::of(example);
        let folder = match folder.read("shop.toml").contains("time-zone = \"America/Chicago\"") {
            true => folder.replace("shop.toml", "time-zone = \"America/Chicago\"", ""),
            false => continue,
        };
        for day in customer_days(&prepared(folder, floor)) {
            let hour: u32 = day.from[9..11].parse().unwrap();
            assert!((7..21).contains(&hour), "{example} {floor}: {}", day.from);
        }
    }
}

#[test]
fn visits_have_an_end_and_milestones_have_none() {
    for (example, floor) in FLOORS {
        let folder = prepared(Folder::of(example), floor);
        for event in crew_days(&folder).iter().chain(&customer_days(&folder)) {
            let visit = event.uid.contains("-visit-") || event.uid.contains("-crew-");
            assert_eq!(event.to.is_some(), visit, "{}", event.uid);
            if let Some(to) = &event.to {
                assert!(minutes_between(&event.from, to) > 0, "{} {to}", event.from);
            }
        }
    }
}

#[test]
fn a_new_revision_replaces_the_events_of_the_old_one() {
    let folder = prepared(Folder::new(), "barrier");
    let first = folder.bytes("papers/2026-0142-days-r1.ics");
    let folder = prepared(starting(folder, "2026-05-26", "2026-06-02"), "barrier");
    assert_eq!(folder.bytes("papers/2026-0142-days-r1.ics"), first);
    for (within, name) in [("papers", "days"), ("shop", "crew-days")] {
        let of = |revision: u32| {
            events(folder.path(within).join(format!("2026-0142-{name}-r{revision}.ics")))
        };
        let (old, new) = (of(1), of(2));
        let uids = |events: &[Event]| -> BTreeSet<String> {
            events.iter().map(|event| event.uid.clone()).collect()
        };
        assert_eq!(uids(&old), uids(&new));
        assert_eq!(uids(&old).len(), old.len(), "each event has an identity of its own");
        assert!(old.iter().all(|event| event.sequence == 0));
        assert!(new.iter().all(|event| event.sequence == 1));
    }
}

/// RFC 5545, section 3.1: lines end in CRLF and are at most 75 bytes long without it.
#[track_caller]
fn is_folded(path: PathBuf) {
    let text = fs::read_to_string(path).unwrap();
    assert!(text.ends_with("\r\n"));
    for line in text.trim_end().split("\r\n") {
        assert!(line.len() <= 75, "{} bytes: {line}", line.len());
        assert!(!line.contains(['\r', '\n']) && !line.trim().is_empty(), "{line:?}");
    }
}

#[test]
fn what_was_typed_stays_a_value_in_a_calendar() {
    let address = [
        "BEGIN:VEVENT;TZID=X:1,2\\n3",
        "\"END:VCALENDAR\" é ü 東京 ".repeat(4).trim().to_owned().leak(),
        "<b>{{ 7 * 7 }}</b> #let x = 1 \\N \\; \\,",
    ];
    let quoted: Vec<String> = address
        .iter()
        .map(|line| format!("\"{}\"", line.replace('\\', "\\\\").replace('"', "\\\"")))
        .collect();
    let plain = prepared(Folder::new(), "barrier");
    let folder = Folder::new()
        .replace(
            "job.toml",
            "address = [\"8 Cattail Court\", \"Pikemere Lake\"]",
            &format!("address = [{}]", quoted.join(", ").replace("東京", "Łódź")),
        )
        .replace("shop.toml", "name = \"Pikemere", "name = \"X;END:VCALENDAR,\\\\n Pikemere");
    let folder = prepared(folder, "barrier");
    let wanted = address.join(", ").replace("東京", "Łódź");
    for (within, name) in [("papers", "days-r1.ics"), ("shop", "crew-days-r1.ics")] {
        is_folded(named(&plain, within, name));
        is_folded(named(&folder, within, name));
        let (before, after) =
            (events(named(&plain, within, name)), events(named(&folder, within, name)));
        assert_eq!(before.len(), after.len());
        for (old, new) in before.iter().zip(&after) {
            assert_eq!(new.location, wanted);
            assert_eq!((&old.uid, &old.from, &old.to), (&new.uid, &new.from, &new.to));
        }
    }
}

#[test]
fn the_customers_days_hold_visits_and_milestones_and_nothing_of_the_work() {
    let book = Folder::new().read("book.toml").replace("Invented Resins", "Quagmire Canary");
    let folder = Folder::new().write("book.toml", book).replace(
        "job.toml",
        "wishes =",
        "crew-notes = [\"Canary note: ring twice\"]\nwishes =",
    );
    let folder = prepared(folder, "barrier");
    let inner = ["Canary", "$", "gal", "qt", "mil", "crew", "batch", "Part A", "epoxy", "margin"];
    let tasks = ["Set up", "Grind", "Repair", "Scrape", "Clean up"];
    for day in customer_days(&folder) {
        for text in [&day.uid, &day.summary, &day.description, &day.location] {
            for word in inner.iter().chain(&tasks) {
                assert!(!text.to_lowercase().contains(&word.to_lowercase()), "`{word}` in {text}");
            }
        }
        // To the half hour, as the proposal says it: a plan to the minute is for the crew.
        for time in [Some(&day.from), day.to.as_ref()].into_iter().flatten() {
            assert!(["0000Z", "3000Z"].iter().any(|end| time.ends_with(end)), "{time}");
        }
    }
    assert!(crew_days(&folder).iter().any(|day| day.description.contains("Grind")));
}

#[test]
fn without_a_first_day_there_are_no_calendars_and_the_program_says_so() {
    let folder = Folder::new().replace("job.toml", "start = 2026-05-26", "");
    folder.run(&arguments("barrier")).success().out_has("no calendars");
    assert!(files(&folder, "papers").is_empty());
    assert!(!files(&folder, "shop").iter().any(|name| name.ends_with(".ics")));
    // The days are then numbered, and no date is made up.
    shows(&sheet(&folder)[0], "Day 1");
    shows_not(&sheet(&folder)[0], "May 26");
}
