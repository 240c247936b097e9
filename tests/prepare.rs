//! The crew's papers: crew sheet, buying list, calendars. Calendars are read back by the crate
//! `icalendar`, tables by the crate `csv`, pages by `lopdf`; none of them had a part in writing.

use std::collections::BTreeSet;
use std::fs;
use std::path::PathBuf;

use icalendar::{Calendar, CalendarComponent, Component, EventLike};
use jiff::civil::DateTime;
use slableaf::base::layouts::Layouts;
use slableaf::base::quantity::Length;
use slableaf::model::job::Units;
use slableaf::say::figures::Figures;
use slableaf::say::words::Words;

use crate::documents::files;
use crate::fixture::{FLOORS, Folder};
use crate::readers;

/// Liters of a US fluid ounce; 32 of them are a quart. NIST Handbook 44 (2024), appendix C.
const FLUID_OUNCE: f64 = 0.029_573_529_562_5;

fn arguments(floor: &str) -> [&str; 8] {
    ["prepare", "job.toml", "--floor", floor, "--out", "shop", "--papers", "papers"]
}

/// Prepares a floor into the folders `shop` and `papers`.
#[track_caller]
fn prepared(folder: Folder, floor: &str) -> Folder {
    folder.run(&arguments(floor)).success();
    folder
}

/// The one file of a folder that has this in its name.
#[track_caller]
fn named(folder: &Folder, within: &str, part: &str) -> PathBuf {
    let names = files(folder, within);
    let mut found = names.iter().filter(|name| name.contains(part));
    let name = found.next().unwrap_or_else(|| panic!("no {part} among {names:?}"));
    assert_eq!(found.next(), None, "{part} among {names:?}");
    folder.path(within).join(name)
}

/// A text without any white space: a page breaks lines where it likes.
fn letters(text: &str) -> String {
    text.chars().filter(|c| !c.is_whitespace()).collect()
}

#[track_caller]
fn shows(page: &str, text: &str) {
    assert!(letters(page).contains(&letters(text)), "no `{text}` in\n{page}");
}

#[track_caller]
fn shows_not(page: &str, text: &str) {
    assert!(!letters(page).contains(&letters(text)), "`{text}` in\n{page}");
}

fn sheet(folder: &Folder) -> Vec<String> {
    readers::pages(&named(folder, "shop", "crew-sheet-r1.pdf"))
}

fn estimate(folder: &Folder, floor: &str) -> serde_json::Value {
    let ran = folder.run(&["estimate", "job.toml", "--format", "json"]);
    let all: serde_json::Value = serde_json::from_str(&ran.stdout()).unwrap();
    let floors = all["floors"].as_array().unwrap();
    floors.iter().find(|of| of["floor"] == floor).unwrap().clone()
}

// ---------------------------------------------------------------------------------- calendars

struct Event {
    uid: String,
    sequence: u32,
    /// As written: with a Z in universal time, without one as the clock shows it.
    from: String,
    to: Option<String>,
    summary: String,
    description: String,
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

fn crew_days(folder: &Folder) -> Vec<Event> {
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

/// A day's work on the Saturday before that night, and a week earlier: the car comes back on Sunday
/// after as many hours, though the clock shows an hour less.
#[test]
fn a_floor_cures_for_as_many_hours_over_the_night_the_clocks_change() {
    let car_back = |date: &str| {
        let folder = starting(Folder::of("dry-and-quick"), "2026-06-15", date);
        let days = customer_days(&prepared(folder, "fast-cure"));
        let last = days.iter().rfind(|day| day.uid.contains("visit")).unwrap();
        let drive = days.iter().find(|day| day.uid.contains("drive")).unwrap();
        (last.from.clone(), drive.from.clone())
    };
    let (from, to) = car_back("2026-10-31");
    assert!(*from < *"20261101T070000Z" && *"20261101T070000Z" < *to, "{from} to {to}");
    let (usual_from, usual_to) = car_back("2026-10-24");
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

// ---------------------------------------------------------------------------------- buying list

/// The rows of the table, each by the head of its column.
#[track_caller]
fn rows(folder: &Folder) -> Vec<Vec<(String, String)>> {
    let mut reader = csv::Reader::from_path(named(folder, "shop", ".csv")).unwrap();
    let heads: Vec<String> = reader.headers().unwrap().iter().map(str::to_owned).collect();
    // The reader refuses a row with more or fewer cells than the head.
    let rows = reader.records().map(|row| row.unwrap());
    rows.map(|row| heads.iter().cloned().zip(row.iter().map(str::to_owned)).collect()).collect()
}

fn cell<'r>(row: &'r [(String, String)], head: &str) -> &'r str {
    &row.iter().find(|(name, _)| name == head).unwrap().1
}

fn cents(text: &str) -> i64 {
    if text.is_empty() { 0 } else { (text.parse::<f64>().unwrap() * 100.0).round() as i64 }
}

#[track_caller]
fn sums_agree(folder: &Folder, floor: &str) {
    let rows = rows(folder);
    let sum = |head: &str| -> i64 { rows.iter().map(|row| cents(cell(row, head))).sum() };
    let estimate = estimate(folder, floor);
    let materials = estimate["materials"].as_array().unwrap();
    let cost: i64 = materials.iter().map(|line| cents(line["cost"].as_str().unwrap())).sum();
    assert_eq!(sum("cost") + sum("shelf_cost"), cost, "{floor}");
    for row in rows.iter().filter(|row| !cell(row, "kit_price").is_empty()) {
        let count: i64 = cell(row, "count").parse().unwrap();
        assert_eq!(count * cents(cell(row, "kit_price")), cents(cell(row, "cost")), "{row:?}");
    }
    // The page says the same sum.
    let whole = (cost / 100).to_string();
    let thousands = whole.len().saturating_sub(3);
    let comma = if thousands > 0 { "," } else { "" };
    let text = format!("{}{comma}{}.{:02}", &whole[..thousands], &whole[thousands..], cost % 100);
    shows(&readers::text(&named(folder, "shop", "buying-list-r1.pdf")), &text);
}

#[test]
fn the_buying_list_adds_up_to_the_materials_of_the_estimate() {
    for (example, floor) in FLOORS {
        sums_agree(&prepared(Folder::of(example), floor), floor);
    }
}

#[test]
fn what_the_shelf_gives_is_counted_and_not_bought() {
    let book = Folder::new()
        .read("book.toml")
        .replace("loss = \"10 %\"", "loss = \"10 %\"\nstock = \"2 gal\"");
    let folder = prepared(Folder::new().write("book.toml", book), "barrier");
    sums_agree(&folder, "barrier");
    let rows = rows(&folder);
    let barrier = rows.iter().find(|row| cell(row, "product") == "barrier-epoxy").unwrap();
    // 2 gallons at the cheapest kit's rate: the large kit's 1,290 dollars for 15 gallons.
    assert_eq!(cell(barrier, "shelf_cost"), "172.00");
    assert_eq!(cell(barrier, "from_stock"), "7.571");
}

#[test]
fn no_cell_of_the_table_is_read_as_a_formula() {
    for evil in ["=1+1", "+x", "-x", "@x", "=HYPERLINK(\\\"a\\\",\\\"b, c\\\")"] {
        let book = Folder::new().read("book.toml").replace("Invented Resins", evil);
        let folder = prepared(Folder::new().write("book.toml", book), "barrier");
        let rows = rows(&folder);
        let guarded = format!("'{}", evil.replace('\\', ""));
        assert!(rows.iter().any(|row| cell(row, "supplier") == guarded), "{rows:?}");
        let cells = rows.iter().flatten().filter(|(head, _)| !head.contains("cost"));
        for (head, cell) in cells {
            assert!(!cell.starts_with(['=', '+', '-', '@', '\t', '\r']), "{head}: {cell}");
        }
    }
}

// ---------------------------------------------------------------------------------- crew sheet

#[test]
fn the_crew_sheet_has_two_to_four_pages_and_the_buying_list_one() {
    for (example, floor) in FLOORS {
        let folder = prepared(Folder::of(example), floor);
        let pages = sheet(&folder);
        assert!((2..=4).contains(&pages.len()), "{example} {floor}: {} pages", pages.len());
        let buying = readers::pages(&named(&folder, "shop", "buying-list-r1.pdf"));
        assert_eq!(buying.len(), 1, "{example} {floor}");
    }
}

#[test]
fn page_one_has_every_task_with_its_times() {
    for (example, floor) in FLOORS {
        let folder = prepared(Folder::of(example), floor);
        let page = letters(&sheet(&folder)[0]);
        let mut from = 0;
        for day in crew_days(&folder) {
            for line in day.description.lines() {
                // `7:30 am to 8 am: Set up`, in this order down the page.
                let (times, task) = line.split_once(": ").unwrap();
                let row = letters(&format!("{times}{task}"));
                let (short, name) = (letters(times), letters(task));
                let at = page[from..].find(&short).or_else(|| page[from..].find(&row));
                let at = from + at.unwrap_or_else(|| panic!("{example} {floor}: {line}\n{page}"));
                let then = page[at..].find(&name);
                from = at + then.unwrap_or_else(|| panic!("{example} {floor}: {line}\n{page}"));
            }
        }
        assert!(from > 0);
    }
}

/// Reckoned from the book and the estimate: two persons, from 7:30, each task its hours by half.
#[test]
fn the_clock_follows_from_the_hours_of_the_estimate() {
    let folder = prepared(Folder::new(), "barrier");
    let estimate = estimate(&folder, "barrier");
    let hours = |task: &str| -> f64 {
        let labor = estimate["labor"].as_array().unwrap();
        let line = labor.iter().find(|line| line["task"] == task).unwrap();
        line["hours"].as_f64().unwrap()
    };
    let clock = |minutes: f64| {
        let steps = (minutes / 5.0).round() as u32 * 5;
        match (steps / 60, steps % 60) {
            (hour, 0) => format!("{hour} am"),
            (hour, minute) => format!("{hour}:{minute:02} am"),
        }
    };
    // Setting up is done on both days: an hour of one person each.
    let tasks = [1.0, hours("grind"), hours("edge"), hours("repair"), hours("coat: barrier")];
    let page = &sheet(&folder)[0];
    let mut minutes = 7.5 * 60.0;
    for hours in tasks {
        let from = clock(minutes);
        minutes += hours * 60.0 / 2.0;
        shows(page, &format!("{from} to {}", clock(minutes)));
    }
}

/// A third of what the coat takes, at two parts to one, in quarts and fluid ounces.
#[test]
fn batches_and_their_parts_add_up_to_what_the_coat_takes() {
    let folder = prepared(Folder::new(), "barrier");
    let estimate = estimate(&folder, "barrier");
    let liters = estimate["materials"][0]["need"]["litres"].as_f64().unwrap();
    let measured = |liters: f64| {
        // A batch is never said larger than it may be.
        let ounces = (liters / FLUID_OUNCE).floor() as u32;
        format!("{} qt {} fl oz", ounces / 32, ounces % 32)
    };
    let pages = sheet(&folder);
    let batch = liters / 3.0;
    shows(&pages[0], &format!("3 × {}, at 10:15, 10:47, 11:18", measured(batch)));
    shows(&pages[1], &format!("3 × {}", measured(batch)));
    shows(&pages[1], &format!("Part A {}", measured(batch * 2.0 / 3.0)));
    shows(&pages[1], &format!("Part B {}", measured(batch / 3.0)));
}

/// Dew points of air at 75 F: 55.1 F at 50 % and 68.5 F at 80 %. Magnus formula with the constants
/// of Alduchov and Eskridge (1996), reckoned here by hand.
#[test]
fn the_dew_point_can_be_read_off_where_it_is_written_down() {
    let page = &sheet(&prepared(Folder::new(), "barrier"))[1];
    let magnus = |fahrenheit: f64, humidity: f64| {
        let celsius = (fahrenheit - 32.0) / 1.8;
        let gamma = (humidity / 100.0_f64).ln() + 17.625 * celsius / (243.04 + celsius);
        243.04 * gamma / (17.625 - gamma) * 1.8 + 32.0
    };
    let row: Vec<String> =
        (3..=9).map(|tens| format!("{:.0} °F", magnus(75.0, f64::from(tens) * 10.0))).collect();
    shows(page, &format!("75 °F {}", row.join(" ")));
    for text in ["85% or less", "50 °F to 90 °F", "5 °F or more", "Stop when"] {
        shows(page, text);
    }
}

#[test]
fn the_sheet_says_what_the_checks_found_as_far_as_a_crew_needs_it() {
    let page = |folder: Folder| sheet(&prepared(folder, "barrier"))[0].clone();
    let usual = page(Folder::new());
    shows(&usual, "White salts on the slab");
    // For the customer, the office, or another floor.
    for title in
        ["Slippery when wet", "right to cancel", "moisture limit", "Slab too near the dew point"]
    {
        shows_not(&usual, title);
    }
    let wet = Folder::new().replace("job.toml", "slab = \"62 F\"", "slab = \"51 F\"");
    shows(&page(wet), "Slab too near the dew point");
    let moving = Folder::new().replace("job.toml", "moves = \"no\"", "moves = \"yes\"");
    shows(&page(moving), "Cracks that move");
    let looked = Folder::new();
    let known = looked.read("job.toml").contains("\ntreatments = ");
    let oil = if known { "oil = false\n" } else { "oil = false\ntreatments = [\"none\"]\n" };
    let looked = looked.replace("job.toml", "oil = false\n", oil);
    let unseen = looked.read("job.toml").replace("oil = false\n", "");
    shows_not(&page(looked), "Not looked at");
    let unseen = page(Folder::new().write("job.toml", unseen));
    shows(&unseen, "Not looked at on the visit, so look before you grind: oil.");
}

#[test]
fn small_widths_are_said_as_a_tape_shows_them() {
    let words = Words::read(&Layouts::default(), "en").unwrap();
    let figures = |units| Figures { units, currency: "USD", words: &words.figures };
    let said =
        |inches: f64| figures(Units::Us).width(Length::inches(inches)).replace('\u{A0}', " ");
    let table = [
        (0.0625, "1/16 in"),
        (0.125, "1/8 in"),
        (0.75, "3/4 in"),
        (0.46875, "15/32 in"),
        (1.5, "1 1/2 in"),
        (2.0, "2 in"),
        (0.06, "0.06 in"),
        (0.3, "0.3 in"),
        (18.0, "1 ft 6 in"),
    ];
    for (inches, text) in table {
        assert_eq!(said(inches), text);
    }
    let metric = figures(Units::Metric).width(Length::inches(0.0625)).replace('\u{A0}', " ");
    assert_eq!(metric, "1.6 mm");
    shows(&sheet(&prepared(Folder::new(), "barrier"))[2], "1/16 in wide");
}

// ---------------------------------------------------------------------------------- folders

#[test]
fn what_the_shop_alone_may_see_lies_apart_from_the_customers_days() {
    for (example, floor) in FLOORS {
        let folder = prepared(Folder::of(example), floor);
        let names = files(&folder, "papers");
        assert_eq!(names.len(), 1, "{names:?}");
        assert!(names[0].ends_with("-days-r1.ics") && !names[0].contains("crew"), "{names:?}");
        assert_eq!(files(&folder, "shop").len(), 4);
    }
    // Without names for the folders too.
    let folder = Folder::new();
    folder.run(&["prepare", "job.toml"]).success();
    assert_eq!(files(&folder, "papers"), ["2026-0142-days-r1.ics"]);
    assert_eq!(files(&folder, "shop-only").len(), 4);
}

#[test]
fn one_folder_for_both_is_refused_however_it_is_written() {
    for (out, papers) in [("a", "a"), ("a", "./a"), ("b/../a", "a"), ("a/inner", "a"), ("a/", "a")]
    {
        let folder = Folder::new();
        folder
            .run(&["prepare", "job.toml", "--out", out, "--papers", papers])
            .code(2)
            .err_has("would lie in the customer's folder")
            .err_has("--out");
        assert!(!folder.path("a").exists(), "{out} {papers}");
    }
}

#[cfg(unix)]
#[test]
fn a_link_to_the_customers_folder_is_that_folder() {
    let folder = Folder::new();
    fs::create_dir(folder.path("papers")).unwrap();
    std::os::unix::fs::symlink("papers", folder.path("link")).unwrap();
    folder.run(&["prepare", "job.toml", "--out", "link"]).code(2);
    assert!(files(&folder, "papers").is_empty());
}

#[test]
fn a_floor_that_is_not_on_offer_is_refused_with_what_may_be_meant() {
    let folder = Folder::new();
    folder.run(&arguments("barier")).code(2).err_has("did you mean `barrier`?");
    folder.run(&arguments("marble")).code(2).err_has("barrier, fast-cure, clear-epoxy, water-kit");
    assert!(!folder.path("shop").exists() && !folder.path("papers").exists());
}

#[test]
fn a_floor_with_a_stop_is_not_prepared() {
    let folder = Folder::new();
    folder.run(&arguments("fast-cure")).code(1).err_has("`slableaf check` says why");
    let wet = Folder::of("too-wet-yet");
    wet.run(&["prepare", "job.toml"]).code(1).err_has("no floor is offered");
    for folder in [folder, wet] {
        assert!(!folder.path("shop").exists() && !folder.path("papers").exists());
    }
}

#[test]
fn the_same_job_gives_the_same_bytes() {
    let all = |folder: &Folder| -> Vec<(String, Vec<u8>)> {
        let of = |within: &str| {
            let names = files(folder, within);
            names
                .into_iter()
                .map(|name| (name.clone(), folder.bytes(&format!("{within}/{name}"))))
                .collect::<Vec<_>>()
        };
        [of("shop"), of("papers")].concat()
    };
    let (one, two) = (prepared(Folder::new(), "barrier"), prepared(Folder::new(), "barrier"));
    let before = all(&one);
    assert_eq!(before.len(), 5);
    assert_eq!(before, all(&two));
    let again = one.run(&arguments("barrier")).success();
    assert_eq!(again.stdout().matches("unchanged").count(), 5, "{}", again.stdout());
    assert_eq!(before, all(&one));
}

#[test]
fn a_changed_job_gives_a_second_revision_and_leaves_the_first() {
    let folder = prepared(Folder::new(), "barrier");
    let first = folder.bytes("shop/2026-0142-crew-sheet-r1.pdf");
    let note = "crew-notes = [\"Ring twice\"]\nwishes =";
    let folder = prepared(folder.replace("job.toml", "wishes =", note), "barrier");
    assert_eq!(folder.bytes("shop/2026-0142-crew-sheet-r1.pdf"), first);
    let second = readers::text(&folder.path("shop/2026-0142-crew-sheet-r2.pdf"));
    shows(&second, "Ring twice");
    shows(&second, "Revision 2");
    // What has not changed has no second revision.
    assert!(!folder.path("shop/2026-0142-buying-list-r2.csv").exists());
    assert!(!folder.path("papers/2026-0142-days-r2.ics").exists());
}
