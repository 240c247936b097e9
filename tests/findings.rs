//! Every kind of finding about moisture and the slab can be said, in every language: each is brought
//! about by a job of its own. Exposure, room, scale and ground concrete are those of ASTM F1869;
//! depth, rest and calibration those of ASTM F2170; time and seal of a plastic sheet those of ASTM
//! D4263.

use std::collections::BTreeMap;

use serde_json::Value;
use slableaf::base::layouts::Layouts;
use slableaf::judge::checks::{CHECKS, Check, Severity};
use slableaf::say::words::Words;

use crate::blocks::faults_of_finding;
use crate::fixture::Folder;

const SHEET_KNOWN: &str = "vapor-retarder = \"yes\"\n";
const NONE_KNOWN: &str = "vapor-retarder = \"unknown\"\n";

/// One job: lines of `[slab]`, its moisture tests, and lines for the primers of the book.
struct Slab {
    slab: String,
    tests: String,
    primer: &'static str,
}

/// A slab without any test.
fn slab(lines: &str) -> Slab {
    Slab { slab: lines.to_owned(), tests: String::new(), primer: "" }
}

impl Slab {
    fn tests(mut self, tests: impl AsRef<str>) -> Self {
        self.tests.push_str(tests.as_ref());
        self
    }

    /// Lines of the fast-cure primer's entry in the book.
    fn primer(mut self, lines: &'static str) -> Self {
        self.primer = lines;
        self
    }

    fn folder(&self, language: &str) -> Folder {
        let Self { slab, tests, primer } = self;
        let job = format!(
            "number = \"F-1\"\ndate = 2026-05-12\nunits = \"us\"\noffer = [\"fast-cure\", \"barrier\"]\n\
             customer = {{ name = \"Ana Quill\" }}\n\
             area = [{{ length = \"22 ft\", width = \"21 ft\" }}]\n\
             garage = {{ daylight = true, sold-at-home = true }}\n\
             [slab]\non-ground = true\n{slab}\n{tests}"
        );
        let key = "key = \"polyurea-primer\"\n";
        let folder = Folder::of("smallest").write("job.toml", job);
        let language = format!("language = \"{language}\"");
        let folder = folder.replace("shop.toml", "language = \"en\"", &language);
        let book = folder.read("book.toml");
        // A line that is given takes the place of the primer's own.
        let (before, own) = book.split_once(key).unwrap();
        let (own, after) = own.split_once("\n\n").unwrap();
        let given = |line: &&str| {
            primer.lines().any(|with| with.split(" = ").next() == line.split(" = ").next())
        };
        let own: Vec<&str> = own.lines().filter(|line| !given(line)).collect();
        let lines: Vec<&str> = primer.lines().filter(|line| !line.ends_with("= absent")).collect();
        let entry = format!("{}\n{}", lines.join("\n"), own.join("\n"));
        folder.write("book.toml", format!("{before}{key}{entry}\n\n{after}"))
    }

    /// A finding of a check: severity, title, and what it means and the shop does. Each is short enough for its block.
    #[track_caller]
    fn found(&self, check: &str, language: &str) -> Vec<(String, String, String)> {
        let folder = self.folder(language);
        let run = folder.run(&["check", "job.toml", "--format", "json"]);
        let all: Value = serde_json::from_str(&run.stdout())
            .unwrap_or_else(|_| panic!("{language}: {}{}", run.stderr(), self.slab));
        let text = |value: &Value| value.as_str().unwrap().to_owned();
        let said = |f: &Value| format!("{} {}", text(&f["says"]), text(&f["we"])).trim().to_owned();
        let findings = all["findings"].as_array().unwrap().iter().filter(|f| f["check"] == check);
        let faults: Vec<String> =
            findings.clone().flat_map(|f| faults_of_finding(language, f, &folder)).collect();
        assert!(faults.is_empty(), "{faults:#?}");
        findings.map(|f| (text(&f["severity"]), text(&f["title"]), said(f))).collect()
    }
}

/// Dishes to the method, that read about so many pounds; `series` replaces what all share.
fn dishes(at: &str, day: u32, pounds: &[f64], series: &str, each: &str) -> String {
    let mut text = format!("[{at}.dishes]\nscale = \"0.1 g\"\n{series}\n");
    for (place, pounds) in pounds.iter().enumerate() {
        // 62 hours over half a square foot: 52.91 x gain / (area x hours), ASTM F1869.
        let after = 200.0 + pounds * 31.0 / 52.91;
        let lifted = day + 2;
        text.push_str(&format!(
            "[[{at}.dishes.dish]]\nplace = \"bay {place}\"\nexposed = \"0.5 ft2\"\nbefore = \"200 g\"\n\
             after = \"{after:.3} g\"\n"
        ));
        let set = format!("set = 2026-05-{day:02}T09:00:00\nlifted = 2026-05-{lifted:02}T");
        let each = if each.is_empty() { "surface = \"ground-open-24h\"" } else { each };
        let time = if each.contains("lifted") { String::new() } else { format!("{set}23:00:00\n") };
        text.push_str(&format!("{time}{each}\n"));
    }
    text
}

const ROOM: &str = "room-temperature = \"70 F\"\nroom-humidity = \"50 %\"\nsettled = true";

fn good_dishes(pounds: &[f64]) -> String {
    dishes("moisture", 5, pounds, ROOM, "")
}

/// Probes, with keys of each in place of those to the method.
fn probes(percent: &[f64], settled: &str, each: &[(&str, &str)]) -> String {
    let mut text = format!("[moisture.probes]\nedition = 2019\n{settled}\n");
    for (place, percent) in percent.iter().enumerate() {
        text.push_str(&format!("[[moisture.probes.probe]]\nplace = \"bay {place}\"\n"));
        let mut keys: BTreeMap<&str, String> = [
            ("depth", "\"1.6 in\"".to_owned()),
            ("reading", format!("\"{percent} %\"")),
            ("drilled", "2026-05-06T09:00:00".to_owned()),
            ("read", "2026-05-08T09:00:00".to_owned()),
            ("calibrated", "2026-05-01".to_owned()),
        ]
        .into();
        for (key, value) in each {
            keys.insert(key, (*value).to_owned());
        }
        let lines = keys.iter().filter(|(_, value)| !value.is_empty());
        text.extend(lines.map(|(key, value)| format!("{key} = {value}\n")));
    }
    text
}

fn good_probes(percent: f64) -> String {
    probes(&[percent; 3], "settled = true", &[])
}

fn plastic(lifted: &str, sealed: bool, found: &str, more: &str) -> String {
    format!(
        "[[moisture.plastic-sheet]]\nplace = \"door\"\ntaped = 2026-05-06T09:00:00\n\
         lifted = 2026-05-{lifted}:00\nsealed = {sealed}\nfound = \"{found}\"\n{more}\n"
    )
}

/// Each job is found at this severity by this check, in every language, in words of its own.
#[track_caller]
fn said(check: &str, cases: &[(&str, &str, Slab)]) {
    for language in Layouts::default().languages() {
        let mut sentences: BTreeMap<String, &str> = BTreeMap::new();
        for (name, severity, slab) in cases {
            let found = slab.found(check, &language);
            let one = found.iter().find(|(found, ..)| found == severity);
            let (_, title, says) = one.unwrap_or_else(|| panic!("{check}, {name}: {found:#?}"));
            assert!(!title.is_empty() && says.ends_with(['.', '?']), "{check}, {name}: {says}");
            if let Some(other) = sentences.insert(says.clone(), name) {
                panic!("{language}: {check} says the same of {name} and {other}: {says}");
            }
        }
    }
}

#[test]
fn a_floor_without_a_test_says_so() {
    let dry = plastic("07T09:00", true, "dry", "");
    said(
        "moisture-unknown",
        &[
            ("nothing", "wait", slab(SHEET_KNOWN)),
            ("plastic alone", "wait", slab(SHEET_KNOWN).tests(dry)),
        ],
    );
}

#[test]
fn readings_against_a_limit_are_told_apart() {
    let asks = "moisture-test = \"plastic-sheet\"\n";
    let damp = plastic("07T09:00", true, "damp", "");
    let later = dishes("moisture.visit", 8, &[1.5, 1.0, 1.0], ROOM, "").replacen(
        "[moisture.visit.dishes]",
        "[[moisture.visit]]\n[moisture.visit.dishes]",
        1,
    );
    let before = good_dishes(&[4.5, 1.0, 1.0]);
    let was = || slab(NONE_KNOWN).tests(&before).tests(&later);
    said(
        "moisture-over-limit",
        &[
            ("over", "stop", slab(SHEET_KNOWN).tests(good_dishes(&[4.0, 1.0, 1.0]))),
            ("over by a hair", "stop", slab(SHEET_KNOWN).tests(good_probes(75.2))),
            ("damp sheet", "stop", slab(SHEET_KNOWN).tests(damp).primer(asks)),
            ("near", "caution", slab(SHEET_KNOWN).tests(good_dishes(&[2.9, 1.0, 1.0]))),
            ("was over", "caution", was()),
        ],
    );
    // Both readings, both days and the place.
    let says = &was().found("moisture-over-limit", "en")[0].2;
    for part in ["bay 0", "4.5 lb", "May 7, 2026", "1.5 lb", "May 10, 2026", "3 lb"] {
        assert!(says.replace('\u{a0}', " ").contains(part), "no {part}: {says}");
    }
}

#[test]
fn a_test_without_a_limit_waits_for_the_maker() {
    let no_rh = "rh-limit = absent\n";
    let neither = "rh-limit = absent\nmver-limit = absent\n";
    let both = good_dishes(&[1.0; 3]) + &good_probes(60.0);
    said(
        "moisture-limit-unknown",
        &[
            ("probes", "wait", slab(SHEET_KNOWN).tests(good_probes(60.0)).primer(no_rh)),
            ("high probes", "wait", slab(SHEET_KNOWN).tests(good_probes(97.0)).primer(no_rh)),
            ("dishes", "wait", slab(SHEET_KNOWN).tests(good_dishes(&[1.0; 3])).primer(neither)),
            ("both", "wait", slab(SHEET_KNOWN).tests(both).primer(neither)),
        ],
    );
}

#[test]
fn tests_that_settle_nothing_say_what_is_missing() {
    let void = good_dishes(&[1.0, 1.0, 1.0, 5.0]) + "void = \"the dome was knocked over\"\n";
    let asks = "moisture-test = \"plastic-sheet\"\n";
    let damp = plastic("07T09:00", true, "damp", "void = \"rain came in\"");
    let both = "moisture-test = \"both\"\n";
    said(
        "moisture-not-judged",
        &[
            ("few", "wait", slab(SHEET_KNOWN).tests(good_dishes(&[1.0, 1.0]))),
            ("void dish", "wait", slab(SHEET_KNOWN).tests(void)),
            ("void sheet", "wait", slab(SHEET_KNOWN).tests(damp).primer(asks)),
            ("no probes", "wait", slab(SHEET_KNOWN).tests(good_dishes(&[1.0; 3])).primer(both)),
            ("no dishes", "wait", slab(SHEET_KNOWN).tests(good_probes(60.0)).primer(both)),
        ],
    );
}

#[test]
fn every_fault_of_a_method_is_said_and_none_reads_as_a_pass() {
    let dish = |series: &str, each: &str| {
        slab(&format!("{SHEET_KNOWN}thickness = \"4 in\"\n"))
            .tests(dishes("moisture", 5, &[1.0; 3], series, each))
    };
    let probe = |each: &[(&str, &str)]| {
        slab(&format!("{SHEET_KNOWN}thickness = \"4 in\"\n")).tests(probes(
            &[60.0; 3],
            "settled = true",
            each,
        ))
    };
    let sheet =
        |lifted: &str, sealed: bool| slab(SHEET_KNOWN).tests(plastic(lifted, sealed, "dry", ""));
    let short =
        "surface = \"ground-open-24h\"\nset = 2026-05-05T09:00:00\nlifted = 2026-05-05T15:00:00";
    let room = |temperature: &str, humidity: &str| {
        format!(
            "room-temperature = \"{temperature}\"\nroom-humidity = \"{humidity}\"\nsettled = true"
        )
    };
    let coarse = {
        let mut slab = dish(ROOM, "");
        slab.tests = slab.tests.replace("\"0.1 g\"", "\"0.2 g\"");
        slab
    };
    let few = slab(SHEET_KNOWN).tests(good_dishes(&[1.0]));
    let unsettled = "room-temperature = \"70 F\"\nroom-humidity = \"50 %\"";
    let cases = [
        ("too few", "caution", few),
        ("6 hours", "caution", dish(ROOM, short)),
        ("surface unknown", "caution", dish(ROOM, "# nobody wrote it down")),
        ("surface coated", "caution", dish(ROOM, "surface = \"coated\"")),
        ("surface bare", "caution", dish(ROOM, "surface = \"bare\"")),
        ("scale", "caution", coarse),
        ("room unknown", "caution", dish("settled = true", "")),
        ("cold room", "caution", dish(&room("48 F", "50 %"), "")),
        ("warm room", "note", dish(&room("92 F", "35 %"), "")),
        ("not settled", "caution", dish(unsettled, "")),
        ("read at once", "caution", probe(&[("read", "2026-05-06T19:00:00")])),
        ("shallow", "caution", probe(&[("depth", "\"0.5 in\"")])),
        ("deep", "note", probe(&[("depth", "\"3 in\"")])),
        ("thickness", "caution", slab(SHEET_KNOWN).tests(good_probes(60.0))),
        ("no check", "caution", probe(&[("calibrated", "")])),
        ("old check", "caution", probe(&[("calibrated", "2026-03-01")])),
        ("short sheet", "caution", sheet("06T14:00", true)),
        ("open sheet", "caution", sheet("07T09:00", false)),
    ];
    said("moisture-method", &cases);
    // A fault that may read low says that it proves no dry slab; one that reads high, what is true.
    for (name, severity, slab) in &cases {
        let says = &slab.found("moisture-method", "en")[0].2;
        let counted = ["too few", "scale"].contains(name);
        let low = says.contains("cannot show that the slab is dry");
        assert_eq!(low, *severity == "caution" && !counted, "{name}: {says}");
        assert_eq!(says.contains("may be lower"), *severity == "note", "{name}: {says}");
    }
}

#[test]
fn the_age_of_a_test_is_said_for_today_and_for_the_start() {
    let old = |date: &str| {
        let mut slab = slab(SHEET_KNOWN).tests(good_dishes(&[1.0; 3]));
        slab.tests.push_str(date);
        slab
    };
    let late = old("[plan]\nstart = 2026-09-01\n");
    said("moisture-test-old", &[("at the start", "caution", late)]);
    for language in Layouts::default().languages() {
        let folder = old("").folder(&language).replace("job.toml", "2026-05-12", "2026-09-01");
        let run = folder.run(&["check", "job.toml", "--format", "json"]);
        assert!(run.stdout().contains("\"moisture-test-old\""), "{language}: {}", run.stderr());
    }
}

#[test]
fn what_a_data_sheet_asks_for_on_the_ground_is_said() {
    let asks = |primer| slab(NONE_KNOWN).primer(primer);
    let close = good_dishes(&[2.9, 1.0, 1.0]);
    let either = "ground-contact = \"sheet-or-test\"\n";
    said(
        "ground-contact",
        &[
            ("barrier", "stop", asks("ground-contact = \"barrier\"\n")),
            ("sheet", "stop", asks("ground-contact = \"sheet\"\n")),
            ("sheet or test", "stop", asks(either).tests(close)),
            ("untested", "wait", asks(either)),
        ],
    );
    let clear = good_dishes(&[0.4; 3]);
    said(
        "slab-on-ground-no-barrier",
        &[
            ("silent", "note", slab(NONE_KNOWN).tests(&clear)),
            ("speaks", "note", asks("ground-contact = \"any\"\n").tests(&clear)),
            ("not clear", "caution", slab(NONE_KNOWN)),
            ("no sheet", "caution", slab("vapor-retarder = \"no\"\n")),
        ],
    );
}

#[test]
fn what_is_on_the_slab_and_in_it_is_said() {
    let range = "ph-from = 6\nph-to = 11\n";
    said(
        "surface-ph",
        &[
            ("not measured", "note", slab(SHEET_KNOWN).primer(range)),
            ("outside", "stop", slab("ph = 12\n").primer(range)),
        ],
    );
    let of = |key: &str, what: &str| slab(&format!("{key} = [\"{what}\"]\n"));
    said(
        "treatments",
        &[
            ("unknown", "note", slab("")),
            ("curing compound", "caution", of("treatments", "curing-compound")),
            ("densifier", "caution", of("treatments", "densifier")),
            ("silicone", "caution", of("treatments", "silicone")),
            ("wax", "caution", of("treatments", "wax")),
        ],
    );
    said(
        "inside-slab",
        &[
            ("unknown", "caution", slab("")),
            ("cables", "caution", of("inside", "post-tension-cables")),
            ("tubes", "caution", of("inside", "heating-tubes")),
            ("heating wires", "caution", of("inside", "heating-wires")),
            ("pipes", "caution", of("inside", "pipes")),
            ("wiring", "caution", of("inside", "wiring")),
        ],
    );
}

#[test]
fn what_takes_a_floor_off_says_why_and_what_to_do_first() {
    let layouts = Layouts::default();
    for language in layouts.languages() {
        let words = Words::read(&layouts, &language).unwrap();
        let off = |check: &&&Check| check.severities[0] >= Severity::Wait;
        for check in CHECKS.iter().filter(off) {
            let text = &words.checks[check.name];
            assert!(text.why_not.is_some() && text.first.is_some(), "{language}: {}", check.name);
        }
    }
}

/// A stop has its reason on page one, and what to do first where no floor is left, in every language.
#[test]
fn a_paper_can_be_made_of_every_stop() {
    let range = "ph-from = 6\nph-to = 11\n";
    let asks = "moisture-test = \"plastic-sheet\"\n";
    let wet = good_dishes(&[25.0, 1.0, 1.0]);
    let damp = plastic("07T09:00", true, "damp", "");
    let contact = |what| slab(NONE_KNOWN).primer(what).tests(good_dishes(&[2.9, 1.0, 1.0]));
    let slabs = [
        slab("ph = 12\n").primer(range).tests(&wet),
        slab(SHEET_KNOWN).primer(asks).tests(damp + &wet),
        contact("ground-contact = \"barrier\"\n"),
        contact("ground-contact = \"sheet\"\n"),
        contact("ground-contact = \"sheet-or-test\"\n"),
    ];
    for language in Layouts::default().languages() {
        for slab in &slabs {
            let folder = slab.folder(&language);
            let run = ["write", "job.toml", "--draft", "--page-data", "--out", "out"];
            folder.run(&run).success();
            let data = crate::documents::files(&folder, "out");
            let data = data.iter().find(|name| name.ends_with(".json")).unwrap();
            let page: Value = serde_json::from_str(&folder.read(&format!("out/{data}"))).unwrap();
            let options = page["glance"]["options"].as_array().unwrap();
            let why = options.iter().filter_map(|option| option["why_not"].as_str());
            assert!(why.into_iter().any(|why| !why.is_empty()), "{language}: {options:#?}");
        }
    }
}
