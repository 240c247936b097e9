//! Rules hold where they hold: the papers of shops in several countries, and of one that has not said
//! where it works.

use std::fs;

use serde_json::Value;

use crate::documents::letters;
use crate::fixture::{Folder, all_files};
use crate::readers;

/// Each text of a value, keys aside.
fn texts_of(value: &Value, found: &mut Vec<String>) {
    match value {
        Value::String(text) => found.push(text.clone()),
        Value::Array(list) => list.iter().for_each(|value| texts_of(value, found)),
        Value::Object(table) => table.values().for_each(|value| texts_of(value, found)),
        _ => {}
    }
}

/// Every paper that the program makes of a job, by its name, as text.
fn papers(folder: &Folder, floor: &str) -> Vec<(String, String)> {
    let write = ["write", "job.toml", "--draft", "--out", "all"];
    let each = ["--paper", "proposal", "--paper", "leaflet", "--paper", "care", "--floor", floor];
    folder.run(&[&write[..], &each[..]].concat()).success();
    folder.run(&["mail", "job.toml", "--out", "all"]).success();
    let prepare = ["prepare", "job.toml", "--floor", floor, "--out", "own", "--papers", "all"];
    folder.run(&prepare).success();
    let own = all_files(&folder.path("own"));
    own.into_iter()
        .chain(all_files(&folder.path("all")))
        .map(|(path, bytes)| {
            let name = path.file_name().unwrap().to_string_lossy().into_owned();
            let text = match path.extension().and_then(|ending| ending.to_str()) {
                Some("pdf") => readers::pages(&path).join("\n"),
                Some("json") => {
                    let mut found = vec![];
                    texts_of(&serde_json::from_slice(&bytes).unwrap(), &mut found);
                    found.join("\n")
                }
                _ => String::from_utf8_lossy(&bytes).into_owned(),
            };
            (name, text)
        })
        .collect()
}

fn metric(language: &str) -> Folder {
    let own = format!("language = \"{language}\"");
    Folder::of("metric-probes").replace("shop.toml", "language = \"en\"", &own)
}

/// Words of the customary units of the United States, as papers in these languages would have them.
const US_UNITS: &[&str] = &[
    "°F", " psi", "cfm", "sq ft", "ft²", " ft ", " gal", " qt", "fl oz", " mils", " lb", "1000 ft",
    " inch", " feet", " foot", "cubic f", " pies", "pulg.", "pulgada", "galón", "galon", "libra",
    "onza",
];

#[test]
fn a_metric_paper_has_no_us_unit_and_no_us_rule() {
    let mut found = vec![];
    for language in ["en", "es"] {
        let papers = papers(&metric(language), "barrier");
        let kinds = |part: &str| papers.iter().any(|(name, _)| name.contains(part));
        let names: Vec<&String> = papers.iter().map(|(name, _)| name).collect();
        let all = ["proposal", "crew-sheet", "buying-list", "leaflet", "care", ".eml", ".ics"];
        assert!(all.into_iter().all(kinds), "{names:?}");
        for (name, text) in &papers {
            let plain = text.replace('\u{A0}', " ");
            // Lines without a space are files within a mail.
            let encoded = name.ends_with(".eml");
            for line in plain.lines().filter(|line| !encoded || line.contains(' ')) {
                let foreign = US_UNITS.iter().chain(&["CFR", "OSHA", "NIOSH"]);
                let foreign = foreign.filter(|word| line.contains(**word));
                found
                    .extend(foreign.map(|word| format!("`{word}` in {name} ({language}): {line}")));
            }
        }
    }
    assert!(found.is_empty(), "{found:#?}");
}

/// The words of a crew sheet that let somebody do without a respirator.
const PERMISSIONS: &[&str] = &["asks for no", "no respirator", "no exige"];

#[track_caller]
fn crew_sheet(folder: &Folder) -> String {
    folder
        .run(&["prepare", "job.toml", "--floor", "barrier", "--out", "s", "--papers", "p"])
        .success();
    let files = fs::read_dir(folder.path("s")).unwrap().map(|file| file.unwrap().path());
    let sheet = files.into_iter().find(|path| path.to_string_lossy().contains("crew-sheet"));
    letters(&readers::pages(&sheet.unwrap()).join(" "))
}

#[test]
fn no_table_gives_a_permission_in_another_country_or_in_none() {
    // The example grinds for 3.99 hours, too near to four to go without; a faster machine stays well below.
    let near = crew_sheet(&Folder::new());
    assert!(near.contains(&letters("29 CFR 1926.1153")));
    assert!(!near.contains(&letters("asks for no respirator")));
    let fast =
        || Folder::new().replace("book.toml", "grind = \"260 ft2/h\"", "grind = \"600 ft2/h\"");
    let us = crew_sheet(&fast());
    assert!(us.contains(&letters("29 CFR 1926.1153")));
    assert!(us.contains(&letters("asks for no respirator")));
    let there = fast().replace("shop.toml", "country = \"US\"", "country = \"NO\"");
    let unsaid = fast().replace("shop.toml", "country = \"US\"\n", "");
    for folder in [there, unsaid] {
        let sheet = crew_sheet(&folder);
        for permission in PERMISSIONS {
            assert!(!sheet.contains(&letters(permission)), "{permission}");
        }
        assert!(!sheet.contains("CFR"));
        assert!(sheet.contains(&letters("Wear a respirator for all grinding")));
    }
}

#[test]
fn old_paint_takes_the_permission_away() {
    let folder =
        Folder::new().replace("job.toml", "old-coating = \"none\"", "old-coating = \"paint\"");
    let job = folder.read("job.toml");
    let year = job.lines().find(|line| line.starts_with("built")).unwrap().to_owned();
    let sheet = crew_sheet(&folder.replace("job.toml", &year, "built = 1961"));
    for permission in PERMISSIONS {
        assert!(!sheet.contains(&letters(permission)), "{permission}");
    }
    for said in
        ["40 CFR 745.85(a)(3)", "40 CFR 745.84", "29 CFR 1926.62(d)(2)", "shroud and HEPA vacuum"]
    {
        assert!(sheet.contains(&letters(said)), "{said}");
    }
}

const LOCAL: &str = r#"

[[rule]]
subject = "dust"
text = "Grinders wear masks of class three here."
source = "The labor office of Seljavik"
checked = 2026-05-04

[[notice]]
title = "Right to withdraw"
text = ["You may withdraw for as long as the law here says."]
source = "The consumer office of Seljavik"
checked = 2026-05-04
"#;

#[test]
fn a_shop_names_the_rules_and_notices_of_its_place() {
    let folder = Folder::of("metric-probes");
    let shop = folder.read("shop.toml") + LOCAL;
    let folder = folder.write("shop.toml", shop);
    let sheet = crew_sheet(&folder);
    assert!(sheet.contains(&letters("Grinders wear masks of class three here.")));
    folder.run(&["write", "job.toml", "--draft", "--out", "all"]).success();
    let proposal = all_files(&folder.path("all"));
    let path = proposal.keys().find(|path| path.to_string_lossy().contains("proposal")).unwrap();
    let text = letters(&readers::pages(path).join(" "));
    for said in [
        "Grinders wear masks of class three here.",
        "The labor office of Seljavik, read on",
        "Right to withdraw",
        "You may withdraw for as long as the law here says.",
        "Source: The consumer office of Seljavik",
    ] {
        assert!(text.contains(&letters(said)), "{said} in {text}");
    }
}

/// 16 CFR 429 is no right elsewhere; a shop that has not said where it works keeps its notice.
#[test]
fn the_notice_of_the_united_states_stands_there_and_where_no_country_is_said() {
    let title = letters("Notice of Cancellation");
    let has_notice = |folder: Folder| {
        folder.run(&["write", "job.toml", "--draft", "--out", "all"]).success();
        let files = all_files(&folder.path("all"));
        let path = files.keys().find(|path| path.to_string_lossy().contains("proposal")).unwrap();
        letters(&readers::pages(path).join(" ")).contains(&title)
    };
    let of = |country: &str| Folder::new().replace("shop.toml", "country = \"US\"\n", country);
    assert!(has_notice(of("country = \"US\"\n")));
    assert!(has_notice(of("")));
    assert!(!has_notice(of("country = \"NO\"\n")));
}

/// The last day to cancel that `check` names is the one that the paper prints: dates over four years,
/// 16 CFR 429.0(f) counting Saturdays and leaving out Sundays and federal holidays.
#[test]
fn check_and_paper_name_the_same_last_day() {
    use slableaf::base::layouts::Layouts;
    use slableaf::base::source::SourceFile;
    use slableaf::judge::judge;
    use slableaf::papers::proposal::writer::Writer;
    use slableaf::papers::proposal::{self, Issue};
    use slableaf::read::{self, Files};
    use slableaf::say::words::Words;

    let folder = Folder::new();
    let words = Words::read(&Layouts::default(), "en").unwrap();
    let file = |name: &str| SourceFile { name: name.into(), text: folder.read(name) };
    let files = Files {
        job: file("job.toml"),
        book: file("book.toml"),
        shop: file("shop.toml"),
        systems: Layouts::default()
            .below("systems/")
            .map(|(path, text)| SourceFile { name: path.into(), text: text.into() })
            .collect(),
    };
    let mut input = read::read(&files).unwrap();
    let mut date = jiff::civil::date(2026, 5, 12);
    let mut compared = 0;
    while date.year() < 2030 {
        input.job.date = date;
        input.job.plan.start = Some(date);
        let judged = judge(&input);
        let w = Writer::new(&judged.case, &judged.findings, &judged.recommendation, &words);
        let found =
            judged.findings.iter().find(|found| found.check.name == "cancellation-notice").unwrap();
        let (_, limit) = w.measured_and_limit(found);
        let page = proposal::page(&w, &Issue::default()).unwrap();
        if page.accept.open {
            let says = format!("until midnight on {}.", limit.unwrap());
            assert!(page.accept.terms.join(" ").contains(&says), "{date}: {says}");
            compared += 1;
        }
        date = date.checked_add(jiff::Span::new().days(5)).unwrap();
    }
    assert!(compared > 250, "{compared}");
}
