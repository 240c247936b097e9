//! The roll: states, prices, what is due, crews on two jobs, sums; as table, JSON and spreadsheet.

use serde_json::Value;
use slableaf::results::roll::RollForm;
use slableaf::results::schema;

use super::{WRITE, add};
use crate::checker::keeps_to;
use crate::fixture::Folder;

/// A folder with a draft, an offer, a job that was signed, one that changed and one that is laid, and a file
/// with a mistake.
fn shop() -> Folder {
    let small = Folder::tested();
    let job = small.read("job.toml");
    let mut folder = Folder::empty();
    for name in ["book.toml", "shop.toml"] {
        folder = folder.write(name, small.read(name));
    }
    folder = folder.write("logo.png", small.bytes("logo.png"));
    for name in ["draft", "offered", "signed", "changed", "laid"] {
        let number = format!("number = \"{}\"", name.to_uppercase());
        let text = job.replacen("number = \"2026-0170\"", &number, 1);
        folder = folder.write(&format!("{name}/job.toml"), text);
        if name != "draft" {
            folder.run(&["write", &format!("{name}/job.toml")]).success();
        }
    }
    let sign = |folder: Folder, name: &str, more: &str| {
        let path = format!("{name}/job.toml");
        let job = folder.read(&path);
        let plan = "plan = { crew-name = \"North\", start = 2026-05-26 }";
        let job = job.replacen("plan = { start = 2026-05-26 }", plan, 1);
        let accepted = "[accepted]\nrevision = 1\nfloor = \"barrier\"\non = 2026-05-20";
        folder.write(&path, format!("{job}\n{accepted}\n{more}\n"))
    };
    let folder = sign(folder, "signed", "[[paid]]\non = 2026-05-20\namount = \"$100\"");
    let folder = sign(folder, "changed", "[[item]]\nname = \"More\"\nprice = \"$50\"");
    let folder = sign(folder, "laid", "");
    let folder = folder.replace("laid/job.toml", "crew-name", "laid = 2026-05-27, crew-name");
    folder.write("broken/job.toml", "number = \"X\"\n[customer]\n")
}

#[test]
fn every_job_has_its_state_price_and_days() {
    let folder = shop();
    let run = folder.run(&["roll", ".", "--format", "json", "--on", "2026-06-08"]).code(3);
    let form: Value = serde_json::from_str(&run.stdout()).unwrap();
    keeps_to(&form, &schema::<RollForm>().to_value(), "roll");
    let job = |number: &str| {
        let jobs = form["jobs"].as_array().unwrap();
        jobs.iter().find(|job| job["job"] == number).unwrap_or_else(|| panic!("{number}")).clone()
    };
    for (number, state) in [
        ("DRAFT", "draft"),
        ("OFFERED", "offered"),
        ("SIGNED", "accepted"),
        ("CHANGED", "changed"),
        ("LAID", "laid"),
        ("X", "unreadable"),
    ] {
        assert_eq!(job(number)["state"], state, "{number}");
    }
    assert!(job("X")["trouble"].as_str().unwrap().contains("broken/job.toml"));
    assert_eq!(job("DRAFT")["price"], Value::Null);
    let price = job("OFFERED")["price"].clone();
    assert!(price.as_str().unwrap().ends_with(".55"), "{price}");
    assert_eq!(job("SIGNED")["price"], price);
    assert_eq!(job("CHANGED")["price"], price);
    assert_eq!(job("SIGNED")["work_days"][0], "2026-05-26");
    // 12 May and thirty days is 11 June: within the week.
    assert_eq!(job("OFFERED")["due"][0]["what"], "offer-ends");
    assert_eq!(job("OFFERED")["due"][0]["day"], "2026-06-11");
    // North is on two jobs that are signed; the laid one is done.
    assert_eq!(form["clashes"][0]["on"], "2026-05-26");
    assert_eq!(form["clashes"][0]["jobs"], serde_json::json!(["CHANGED", "SIGNED"]));
    // Of three payments all but the last are due from the first day on, and $100 were received.
    let cents =
        |value: &Value| -> i64 { value.as_str().unwrap().replace('.', "").parse().unwrap() };
    let record = folder.read("signed/records/SIGNED-proposal-r1/record.toml");
    let record: toml::Table = record.parse().unwrap();
    let floors = record["facts"]["floor"].as_array().unwrap();
    let floor = floors.iter().find(|floor| floor["key"].as_str() == Some("barrier")).unwrap();
    let steps = floor["payment"].as_array().unwrap();
    let paid: i64 =
        steps[..steps.len() - 1].iter().map(|s| s["amount"].as_integer().unwrap()).sum();
    let money = |job: &Value| {
        let due = job["due"].as_array().unwrap();
        cents(&due.iter().find(|due| due["what"] == "money").unwrap()["amount"])
    };
    assert_eq!(money(&job("SIGNED")), paid - 10_000);
    assert_eq!(money(&job("LAID")), cents(&price));
    let months = form["months"].as_array().unwrap();
    assert_eq!(months[0]["month"], "2026-05");
    assert_eq!(months[0]["signed"], 3);
}

#[test]
fn the_table_fits_and_the_spreadsheet_has_a_row_a_job() {
    let folder = shop();
    let table = folder.run(&["roll", ".", "--on", "2026-06-08"]).code(3).stdout();
    let before_due = table.split("\n\n").next().unwrap();
    assert!(before_due.lines().all(|line| line.chars().count() <= 80), "{table}");
    assert!(table.contains("its offer ends on 2026-06-11"), "{table}");
    assert!(table.contains("2026-05-26  North: CHANGED, SIGNED"), "{table}");
    let csv = folder.run(&["roll", ".", "--format", "csv"]).code(3).stdout();
    let rows: Vec<csv::StringRecord> =
        csv::Reader::from_reader(csv.as_bytes()).records().map(Result::unwrap).collect();
    assert_eq!(rows.len(), 6);
    assert!(rows.iter().all(|row| row.len() == 16));
}

#[test]
fn a_start_without_a_signature_and_an_old_test_are_due() {
    let folder = Folder::tested();
    folder.run(WRITE).success();
    let folder = folder.replace("job.toml", "start = 2026-05-26", "start = 2026-08-10");
    folder
        .run(&["roll", "."])
        .success()
        .out_has("work starts on 2026-08-10, and nobody has signed")
        .out_has("its moisture test of 2026-05-08 is too old by 2026-08-10");
    let folder = add(folder, "[[paid]]\non = 2026-05-20\namount = \"$5\"");
    folder.run(&["roll", ".", "--on", "2026-06-12"]).success().out_has("expired");
}

/// A floor counts as laid once every liquid coat is recorded, on the day of the last one; flake may be left
/// out. By the checks a day that differs is told.
#[test]
fn a_floor_with_all_coats_recorded_is_laid() {
    let record = |coat: &str, day: u32| {
        format!("[[laid]]\ncoat = \"{coat}\"\nstart = 2026-05-{day}T10:00:00")
    };
    let state = |folder: &Folder| {
        let run = folder.run(&["roll", ".", "--format", "json", "--on", "2026-06-08"]).success();
        let form: Value = serde_json::from_str(&run.stdout()).unwrap();
        (form["jobs"][0]["state"].clone(), form["jobs"][0]["laid"].clone())
    };
    let folder = add(super::signed(), &record("barrier", 26));
    assert_eq!(state(&folder), ("accepted".into(), Value::Null));
    folder
        .run(&["check", "job.toml"])
        .out_has("Not recorded as laid: Polyaspartic topcoat.")
        .out_has("leaves open: end,")
        .out_has("Nobody wrote down a reading of Moisture-vapor-barrier epoxy.");
    let folder = add(folder, &record("top", 27));
    assert_eq!(state(&folder), ("laid".into(), "2026-05-27".into()));
}

/// Each space has its own records, and the job is laid once every floor that was ordered is.
#[test]
fn spaces_are_laid_one_by_one() {
    let folder = Folder::of("three-spaces");
    folder.run(&["write", "job.toml"]).success();
    let accepted = "[accepted]\nrevision = 1\nfloors = { Garage = \"barrier\", Patio = \"fast-cure\" }\non = 2026-05-20";
    let folder = add(folder, accepted);
    let record = |space: &str, coat: &str, day: u32| {
        format!(
            "[[laid]]\ncoat = \"{coat}\"\nspace = \"{space}\"\nstart = 2026-06-{day:02}T10:00:00"
        )
    };
    let folder = add(folder, &record("Garage", "barrier", 1));
    // The patio is laid while the garage cures: records are in order space by space.
    let folder = add(folder, &record("Garage", "top", 3));
    let folder = add(folder, &record("Patio", "primer", 2));
    let state = |folder: &Folder| {
        let run = folder.run(&["roll", ".", "--format", "json", "--on", "2026-06-08"]).success();
        let form: Value = serde_json::from_str(&run.stdout()).unwrap();
        (form["jobs"][0]["state"].clone(), form["jobs"][0]["laid"].clone())
    };
    assert_eq!(state(&folder), ("accepted".into(), Value::Null));
    let folder = add(folder, &record("Patio", "top", 2));
    assert_eq!(state(&folder), ("laid".into(), "2026-06-03".into()));
    // One space of several may be done on an earlier day than the whole.
    let form = folder.run(&["estimate", "job.toml", "--format", "json"]).success().stdout();
    let form: Value = serde_json::from_str(&form).unwrap();
    assert_eq!(form["laid"], Value::Null);
    let of = |at: usize| form["spaces"][at]["laid"]["complete"].clone();
    assert_eq!([of(0), of(1), of(2)], [true.into(), true.into(), Value::Null]);
}

/// A floor that a signed order put in the place of another is the one whose coats are recorded, also in a
/// space of several.
#[test]
fn an_order_changes_the_floor_whose_coats_are_recorded() {
    let signed = "[accepted]\nrevision = 1\nfloors = { Garage = \"barrier\" }\non = 2026-05-20\n\n\
                  [[order]]\nrevision = 2\non = 2026-05-22\nfloors = { Garage = \"fast-cure\" }\n";
    let record = |coat: &str| {
        format!("[[laid]]\nspace = \"Garage\"\ncoat = \"{coat}\"\nstart = 2026-06-01T10:00:00")
    };
    let of = |coat: &str| add(add(Folder::of("three-spaces"), signed), &record(coat));
    let form = |folder: &Folder| -> Value {
        let run = folder.run(&["estimate", "job.toml", "--format", "json"]).success();
        serde_json::from_str(&run.stdout()).unwrap()
    };
    assert_eq!(form(&of("primer"))["spaces"][0]["laid"]["floor"], "fast-cure");
    of("barrier").run(&["check", "job.toml"]).err_has("no coat of `fast-cure` is called `barrier`");
}
