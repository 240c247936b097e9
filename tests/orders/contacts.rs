//! A second address for mail, and whom to call on the day.

use super::WRITE;
use crate::fixture::Folder;
use crate::readers;

#[test]
fn mail_goes_to_both_and_the_crew_knows_whom_to_call() {
    let folder = Folder::of("signed-and-changed");
    folder
        .run(&["mail", "job.toml"])
        .success()
        .out_has("to imke@vossbrook.example and jorin@vossbrook.example");
    let eml = folder.bytes("papers/2026-0188-mail-r1.eml");
    let mail = mail_parser::MessageParser::default().parse(&eml[..]).unwrap();
    let to: Vec<&str> = [mail.to(), mail.cc()]
        .into_iter()
        .flatten()
        .flat_map(|to| to.iter())
        .filter_map(|to| to.address())
        .collect();
    assert_eq!(to, ["imke@vossbrook.example", "jorin@vossbrook.example"]);
    let by_hand = folder.read("papers/2026-0188-mail-r1.txt");
    assert!(by_hand.contains("To: jorin@vossbrook.example"), "{by_hand}");
    folder.run(&["prepare", "job.toml"]).success();
    let sheet = readers::text(&folder.path("shop-only/2026-0188-crew-sheet-r1.pdf"));
    let sheet = sheet.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(sheet.contains("Call on the day") && sheet.contains("Jorin, 555-0142"), "{sheet}");
    let days = folder.read("papers/2026-0188-days-r1.ics").replace("\r\n ", "");
    assert!(days.contains("Whom we call on the day: Jorin\\, 555-0142."), "{days}");
    // The name of a crew is the shop's own.
    assert!(!days.contains("North"), "{days}");
}

/// Of several spaces the price of what was signed is the sum of their floors, as the paper says it.
#[test]
fn several_spaces_are_signed_together_and_their_changes_are_told() {
    let folder = Folder::of("three-spaces");
    folder.run(WRITE).success();
    let job: toml::Table = folder.read("job.toml").parse().unwrap();
    let number = job["number"].as_str().unwrap().to_owned();
    let record = folder.read(&format!("records/{number}-proposal-r1/record.toml"));
    let record: toml::Table = record.parse().unwrap();
    let facts = record["facts"].as_table().unwrap();
    let floors = facts["floor"].as_array().unwrap();
    let together = facts["recommended"].as_str().unwrap().to_owned();
    let total = |key: &str| {
        let floor = floors.iter().find(|floor| floor["key"].as_str() == Some(key)).unwrap();
        floor["total"].as_integer().unwrap()
    };
    let chosen: Vec<(&str, &str)> =
        together.split(", ").map(|one| one.split_once(" = ").unwrap()).collect();
    let sum: i64 = chosen.iter().map(|(space, floor)| total(&format!("{space}: {floor}"))).sum();
    // An item for 160.00 and 250.00 off, with 6.5 % tax: -95.85 (by hand).
    let beside = facts["beside"].as_integer().unwrap();
    assert_eq!(beside, -9_585);
    let sum = sum + beside;
    assert_eq!(sum, total(&together));
    let floors: Vec<String> =
        chosen.iter().map(|(space, floor)| format!("\"{space}\" = \"{floor}\"")).collect();
    let date = facts["valid-until"].to_string();
    let accepted =
        format!("[accepted]\nrevision = 1\nfloors = {{ {} }}\non = {date}", floors.join(", "));
    let folder = super::add(folder, &accepted);
    let roll = folder.run(&["roll", ".", "--format", "json"]).success().stdout();
    let roll: serde_json::Value = serde_json::from_str(&roll).unwrap();
    assert_eq!(roll["jobs"][0]["state"], "accepted");
    let price = roll["jobs"][0]["price"].as_str().unwrap().replace('.', "");
    assert_eq!(price.parse::<i64>().unwrap(), sum);
    let folder = super::add(folder, "[[item]]\nname = \"One more thing\"\nprice = \"$50\"");
    // An item of 50.00 adds 53.25 with the tax of 6.5 % (by hand), whatever the spaces are.
    folder
        .run(&["check", "job.toml"])
        .err_has("not what was signed: items changed")
        .err_has("by the accepted price book +$53.25");
    folder.run(super::ORDER).success().out_has("+$53.25; the new price is $");
    let order = super::text(&folder, &format!("papers/{number}-change-order-r1.pdf"));
    super::has(&order, &["This change adds $53.25.", "One more thing ($50.00)"]);
    // Another floor in a space costs what the proposal says that it costs more or less.
    let keys: Vec<&str> =
        facts["floor"].as_array().unwrap().iter().filter_map(|one| one["key"].as_str()).collect();
    let (space, floor, other) = chosen
        .iter()
        .find_map(|(space, floor)| {
            let mut of_space =
                keys.iter().filter_map(|key| key.strip_prefix(&format!("{space}: ")));
            let other = of_space.find(|other| other != floor)?;
            Some((*space, *floor, other.to_owned()))
        })
        .expect("a space with two floors");
    let folder = folder.replace(
        "job.toml",
        "[[item]]\nname = \"One more thing\"\nprice = \"$50\"",
        &format!("[[order]]\nwhat = \"The other floor\"\nfloors = {{ \"{space}\" = \"{other}\" }}"),
    );
    let change = total(&format!("{space}: {other}")) - total(&format!("{space}: {floor}"));
    folder.run(super::ORDER).success();
    let order = super::text(&folder, &format!("papers/{number}-change-order-r2.pdf"));
    let cents = change.abs();
    let amount = crate::documents::on_page("", &format!("{}.{:02}", cents / 100, cents % 100));
    super::has(&order, &[&format!("${amount}"), &format!("{space}: Floor"), "The other floor"]);
    // A space that is left out is said so, and once all is signed it is part of the agreement.
    let last = chosen.last().unwrap().0;
    let folder = folder.replace(
        "job.toml",
        &format!("floors = {{ \"{space}\" = \"{other}\" }}"),
        &format!("floors = {{ \"{last}\" = \"none\" }}"),
    );
    folder.run(super::ORDER).success();
    let order = super::text(&folder, &format!("papers/{number}-change-order-r3.pdf"));
    super::has(&order, &["This change takes off", &format!("{last}: Floor"), "Not coated"]);
    let signed = "revision = 3\non = 2026-06-20\nwhat = \"The other floor\"";
    let folder = folder.replace("job.toml", "what = \"The other floor\"", signed);
    let check = folder.run(&["check", "job.toml"]);
    assert!(!check.stderr().contains("not what was signed"), "{}", check.stderr());
    folder.run(&["verify", "job.toml"]).success();
    folder.run(&["prepare", "job.toml"]).success();
    let sheets = crate::documents::files(&folder, "shop-only");
    let sheets = sheets.iter().filter(|name| name.contains("crew-sheet")).count();
    assert_eq!(sheets, chosen.len() - 1, "the space that is left out has no crew sheet");
}
