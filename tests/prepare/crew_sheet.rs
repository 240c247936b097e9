//! The crew sheet.

use super::days::crew_days;
use super::{FLUID_OUNCE, estimate, letters, named, prepared, sheet, shows, shows_not};
use crate::fixture::{FLOORS, Folder};
use crate::readers;
use slableaf::base::layouts::Layouts;
use slableaf::base::quantity::Length;
use slableaf::model::job::Units;
use slableaf::say::figures::Figures;
use slableaf::say::words::Words;

#[test]
fn the_crew_sheet_has_three_to_six_pages_and_the_buying_list_one() {
    for (example, floor) in FLOORS {
        let folder = prepared(Folder::of(example), floor);
        let pages = sheet(&folder);
        assert!((3..=6).contains(&pages.len()), "{example} {floor}: {} pages", pages.len());
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
            // What nobody has signed says so first.
            for line in day.description.lines().filter(|line| !line.starts_with("Not signed")) {
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
        (3..=9).map(|tens| format!("{:.0}", magnus(75.0, f64::from(tens) * 10.0))).collect();
    shows(page, &format!("75 °F {}", row.join(" ")));
    for text in ["85% or less", "50 °F to 90 °F", "5 °F or more", "Stop when"] {
        shows(page, text);
    }
}

#[test]
fn the_sheet_says_what_the_checks_found_as_far_as_a_crew_needs_it() {
    let page = |folder: Folder| sheet(&prepared(folder, "barrier"))[0].clone();
    let usual = page(Folder::new());
    shows(&usual, "White salts, a sign of moisture");
    // For the customer, the office, or another floor.
    for title in ["slippery when wet", "right to cancel", "too damp", "Slab too near the dew point"]
    {
        shows_not(&usual, title);
    }
    let wet = Folder::new().replace("job.toml", "slab = \"62 F\"", "slab = \"51 F\"");
    shows(&page(wet), "Slab too near the dew point");
    let moving = Folder::new().replace("job.toml", "moves = \"no\"", "moves = \"yes\"");
    shows(&page(moving), "Moving cracks tend to show again");
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
    shows(&sheet(&prepared(Folder::new(), "barrier")).concat(), "1/16 in wide");
}

/// The customer's telephone number stands beside the address, and where there is none nothing does.
#[test]
fn the_crew_finds_the_customers_number_beside_the_address() {
    let without = sheet(&prepared(Folder::new(), "barrier"));
    let folder =
        Folder::new().replace("job.toml", "[customer]", "[customer]\nphone = \"555-0144\"");
    let with = sheet(&prepared(folder, "barrier"));
    shows(&with[0], "Pikemere Lake, 555-0144");
    shows_not(&without[0], "555-0144");
    assert_eq!(without[1..], with[1..]);
}

/// The plan of the proposal, lines for the choices, and what the customer and the slab have to be ready for.
#[test]
fn the_sheet_has_the_plan_the_choices_and_the_conditions() {
    let pages = sheet(&prepared(Folder::new(), "barrier"));
    let all = pages.concat();
    for text in ["Color or blend", "Texture or grip", "Sample seen"] {
        shows(&all, text);
    }
    for text in ["Floor plan", "Done by the customer", "To grind and mend", "On the truck"] {
        shows(&all, text);
    }
    let plan = &crate::documents::paper("two-car-barrier").page["slab"]["floor"];
    let labels: Vec<&str> = plan["labels"]
        .as_array()
        .unwrap()
        .iter()
        .flat_map(|label| label["lines"].as_array().unwrap())
        .map(|line| line.as_str().unwrap())
        .collect();
    assert!(labels.len() > 4, "{plan}");
    labels.into_iter().for_each(|label| shows(&all, label));
    let document = lopdf::Document::load(named(
        &prepared(Folder::new(), "barrier"),
        "shop",
        "crew-sheet-r1.pdf",
    ));
    let alts = document.unwrap();
    let figures = alts.objects.values().filter_map(|object| object.as_dict().ok()).filter(|one| {
        let kind = one.get(b"S").and_then(lopdf::Object::as_name).ok();
        kind == Some(b"Figure".as_slice())
    });
    assert!(figures.clone().count() > 0);
    for figure in figures {
        assert!(!figure.get(b"Alt").and_then(lopdf::Object::as_str).unwrap().is_empty());
    }
    // The slab below the dew point: a measurement that no coat would stand.
    let wet = Folder::new().replace("job.toml", "slab = \"62 F\"", "slab = \"51 F\"");
    shows(&sheet(&prepared(wet, "barrier")).concat(), "Start only when this has changed");
    shows_not(&all, "Start only when this has changed");
}

/// Of a floor with a solvent-borne coat the sheet has the airflow and the fans; of another it has none.
#[test]
fn the_sheet_has_the_fresh_air_of_its_own_floor() {
    let with = sheet(&prepared(Folder::of("dry-and-quick"), "clear-epoxy")).concat();
    let without = sheet(&prepared(Folder::of("dry-and-quick"), "water-kit")).concat();
    shows(&with, "Fresh air against fire");
    shows(&with, "mixing factor");
    shows_not(&without, "Fresh air against fire");
    let estimate = estimate(&Folder::of("dry-and-quick"), "clear-epoxy");
    assert!(!estimate["air"].as_array().unwrap().is_empty(), "{estimate}");
}
