//! Every text that does harm somewhere, at every place where text is typed: it comes out as the same
//! letters in everything that the place reaches, or the file is refused where it stands.
//!
//! The places are those of the full files, and what each reaches is found with a plain word first, so
//! neither is a list that could fall behind.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use slableaf::judge::{Judged, judge};
use slableaf::papers::proposal::writer::Writer;
use slableaf::papers::proposal::{self, Issue};
use slableaf::typeset::{Failure, Manuscript, PaperKind as Sheet, Renderer};
use unicode_normalization::UnicodeNormalization;

use super::bench::{
    FULL, Kind, LAYOUTS, NAMES, Output, Place, WORDS, changed, changed_at, outputs, places, quoted,
    read, seen,
};
use super::strings::STRINGS;
use crate::fixture::Folder;
use crate::readers;

/// A text as it may come out: in normal form C, each run of white space as one space.
fn plain(text: &str) -> String {
    readers::squeezed(&text.nfc().collect::<String>())
}

fn holds(output: &Output, words: &str) -> bool {
    let words = plain(words);
    let mut letters = words.chars();
    let capital: String =
        letters.next().into_iter().flat_map(char::to_uppercase).chain(letters).collect();
    output
        .texts
        .iter()
        .map(|text| plain(text))
        .any(|text| text.contains(&words) || text.contains(&capital))
}

/// The places where text stands, of whatever kind: also numbers with units, names of files, words of
/// a choice. The supplier that a change of prices names stays, so that the change finds a product.
fn text_places() -> Vec<Place> {
    let named = |place: &Place| place.path == "product[12].supplier";
    places().into_iter().filter(|place| place.kind == Kind::Text && !named(place)).collect()
}

/// Marks that stand for a text at each place, to see where it comes out.
fn marker(at: usize) -> String {
    format!("Quillmark{at:03}x")
}

/// The outputs that a place reaches, by its number in [`text_places`]; absent when no plain word may stand there.
fn reached(places: &[Place]) -> BTreeMap<usize, Vec<&'static str>> {
    let mut reached = BTreeMap::new();
    let may: Vec<usize> = (0..places.len())
        .filter(|at| read(&changed([(&places[*at], quoted(&marker(*at)))])).is_ok())
        .collect();
    let all = may.iter().map(|at| (&places[*at], quoted(&marker(*at))));
    let input = read(&changed(all)).unwrap();
    let made = outputs(&input).unwrap();
    for at in may {
        let names = made.iter().filter(|output| holds(output, &marker(at)));
        reached.insert(at, names.map(|output| output.name).collect());
    }
    reached
}

#[test]
fn no_text_is_part_of_another_or_of_the_files() {
    let plain: Vec<String> = STRINGS.iter().map(|(_, text)| plain(text)).collect();
    for (at, one) in plain.iter().enumerate() {
        assert!(
            plain.iter().enumerate().all(|(other, text)| other == at || !text.contains(one)),
            "{one}"
        );
        assert!(FULL.iter().all(|file| !file.contains(one.as_str())), "{one}");
    }
    assert!(STRINGS.len() >= 130, "{}", STRINGS.len());
}

/// Each round puts another text at every place, so that after as many rounds as there are texts every
/// pair was there.
#[test]
fn every_text_at_every_place_comes_out_as_typed_or_is_refused_where_it_stands() {
    let places = text_places();
    let reached = reached(&places);
    let free: Vec<usize> = reached.keys().copied().collect();
    let rounds: Vec<usize> = (0..STRINGS.len()).collect();
    let counted = std::thread::scope(|scope| {
        let parts: Vec<_> = rounds
            .chunks(STRINGS.len().div_ceil(2))
            .map(|part| {
                let (places, reached) = (&places, &reached);
                scope.spawn(move || {
                    let counts = part.iter().map(|round| one_round(*round, places, reached));
                    counts.fold([0; 3], |sum, count| [0, 1, 2].map(|at| sum[at] + count[at]))
                })
            })
            .collect();
        let counts = parts.into_iter().map(|part| part.join().unwrap());
        counts.fold([0; 3], |sum: [usize; 3], count| [0, 1, 2].map(|at| sum[at] + count[at]))
    });
    let [refused, printed, meetings] = counted;
    assert_eq!(refused + printed, STRINGS.len() * places.len(), "every pair is one or the other");
    // Places of plain text, places of any kind, pairs, and texts found in what they reach.
    assert!(free.len() > 50 && places.len() > 250, "{} of {}", free.len(), places.len());
    assert!(refused > 30_000 && printed > 4_000 && meetings > 12_000, "{counted:?}");
}

/// Pairs refused, pairs printed, and how often a printed text was found where its place reaches.
fn one_round(
    round: usize,
    places: &[Place],
    reached: &BTreeMap<usize, Vec<&'static str>>,
) -> [usize; 3] {
    let (mut refused, mut printed, mut meetings) = (0, 0, 0);
    // More places than texts: no text twice in one job.
    for group in (0..places.len()).collect::<Vec<_>>().chunks(STRINGS.len()) {
        let typed = |at: usize| STRINGS[(at + round) % STRINGS.len()].1;
        let changes = group.iter().map(|at| (&places[*at], quoted(typed(*at))));
        let (texts, bytes) = changed_at(changes);
        let problems = read(&texts).err().unwrap_or_default();
        let is_refused = |at: usize| {
            let here = &bytes[at - group[0]];
            let file = NAMES[places[at].file];
            problems.iter().filter_map(|problem| problem.span.as_ref()).any(|span| {
                span.file == file
                    && span.bytes.start < here.end
                    && here.start < span.bytes.end.max(span.bytes.start + 1)
            })
        };
        let (no, yes): (Vec<usize>, Vec<usize>) =
            group.iter().copied().partition(|at| is_refused(*at));
        refused += no.len();
        printed += yes.len();
        // What was not refused loads by itself, and stands in all that its place reaches.
        let kept = yes.iter().map(|at| (&places[*at], quoted(typed(*at))));
        let input = read(&changed(kept)).unwrap_or_else(|problems| {
            panic!("round {round}: refused elsewhere than where it stands: {problems:#?}")
        });
        let made = outputs(&input).unwrap();
        for at in yes {
            let names = reached.get(&at).map(Vec::as_slice).unwrap_or_default();
            for output in made.iter().filter(|output| names.contains(&output.name)) {
                // A name in the head of a mail may not begin with a dot (RFC 5322, section 3.2.5).
                let kept = match output.name {
                    "mail heads" => typed(at).trim_start_matches(['.', ' ']),
                    _ => typed(at),
                };
                assert!(
                    holds(output, kept),
                    "{}: {:?} is not in the {}",
                    places[at].name(),
                    typed(at),
                    output.name
                );
                meetings += 1;
            }
        }
        for output in made.iter().filter(|output| output.name == "buying list as CSV") {
            let formula = |cell: &&String| {
                cell.trim_start().starts_with([
                    '=', '+', '-', '@', '\u{FF1D}', '\u{FF0B}', '\u{FF0D}', '\u{FF20}',
                ])
            };
            assert_eq!(output.texts.iter().find(formula), None);
        }
    }
    [refused, printed, meetings]
}

// -------------------------------------------------------------------------------- real papers

/// Texts that may be typed at all: the rest is refused everywhere, which the rounds have shown.
fn typeable() -> Vec<&'static str> {
    let place = places().into_iter().find(|place| place.path == "customer.name").unwrap();
    let texts = STRINGS.iter().map(|(_, text)| *text);
    texts.filter(|text| read(&changed([(&place, quoted(text))])).is_ok()).collect()
}

/// The full files with texts at places of plain text, as many at a time as there are places, in a
/// folder with its pictures.
fn folder(texts: &[String; 4]) -> Folder {
    let mut folder = Folder::of("dry-and-quick");
    for (name, text) in NAMES.iter().zip(texts) {
        folder = folder.write(name, text);
    }
    folder
}

/// Places at which any text may stand, and whose text the proposal prints.
fn printing(places: &[Place]) -> Vec<usize> {
    let free = |at: &usize| read(&changed([(&places[*at], quoted("{{ 7 }} # $x$"))])).is_ok();
    let reached = reached(places).into_iter();
    // Without its photo a caption is not printed. Names of cracks, joints and doors are in the text of the plan
    // for who cannot see it.
    let unseen = |at: usize| {
        ["photo", "crack", "joint", "door", "cutout"]
            .iter()
            .any(|one| places[at].path.starts_with(one))
    };
    let printed =
        reached.filter(|(at, names)| names.contains(&"proposal") && !unseen(*at)).map(|(at, _)| at);
    printed.filter(free).collect()
}

/// Every text on a real page, read back by another program; or the character that no font has, named.
#[test]
fn every_text_stands_on_a_real_page_or_its_character_is_named() {
    let places = text_places();
    let on_pages = printing(&places);
    let renderer = Renderer::new(LAYOUTS.clone());
    let print = |changes: &[(usize, &str)]| {
        let changes = changes.iter().map(|(at, text)| (&places[*at], quoted(text)));
        let input = read(&changed(changes)).unwrap();
        let judged = judge(&input);
        let Judged { case, findings, recommendation } = &judged;
        let w = Writer::new(case, findings, recommendation, &WORDS);
        let page = proposal::page(&w, &Issue { revision: Some(1), ..Issue::default() }).unwrap();
        renderer.pdf(Manuscript {
            kind: Sheet::Proposal,
            page: &page,
            pictures: vec![],
            date: input.job.date,
            identity: "hostile".into(),
            drawn: None,
        })
    };
    let typeable = typeable();
    let covered = |text: &str| slableaf::typeset::fonts::uncovered(text).is_none();
    let (printable, not): (Vec<&str>, Vec<&str>) = typeable.iter().partition(|text| covered(text));
    let mut shown = 0;
    for part in printable.chunks(on_pages.len()) {
        let changes: Vec<(usize, &str)> =
            on_pages.iter().copied().zip(part.iter().copied()).collect();
        let document = print(&changes).unwrap();
        let file = tempfile::NamedTempFile::new().unwrap();
        fs::write(file.path(), &document.pdf).unwrap();
        // A narrow column breaks within words, and before a letter with its mark on it.
        let letters = |text: &str| -> String {
            plain(text).chars().filter(|c| !c.is_whitespace()).collect::<String>().to_lowercase()
        };
        let page = letters(&readers::text(file.path()));
        for (at, text) in changes {
            assert!(page.contains(&letters(text)), "{}: {text:?}", places[at].name());
            shown += 1;
        }
    }
    for text in &not {
        let at = places.iter().position(|place| place.path == "customer.name").unwrap();
        match print(&[(at, text)]) {
            Err(Failure::Uncovered { character, .. }) => assert!(text.contains(character)),
            other => panic!("{text:?}: {:?}", other.map(|document| document.pages)),
        }
    }
    assert_eq!(shown + not.len(), typeable.len());
    assert!(shown > 80 && not.len() > 5, "{shown} shown, {} not", not.len());
}

/// The verbs as they are run: mail with its headers, calendars, table, terminal, names of files.
#[test]
fn every_text_leaves_by_every_verb_as_typed() {
    let places = text_places();
    let at = |path: &str| places.iter().find(|place| place.path == path).unwrap();
    let printable: Vec<&str> = typeable()
        .into_iter()
        .filter(|text| slableaf::typeset::fonts::uncovered(text).is_none())
        .collect();
    // The names that stand in a head of the mail, and one place for each of the other ways out.
    let ways = ["shop name", "customer", "supplier", "street", "crack"];
    let mut counts = [0; 6];
    for (round, _) in printable.iter().enumerate() {
        let typed = |way: usize| printable[(round + way * 17) % printable.len()];
        // One run for several texts: the names of the ways are given texts far apart.
        if round % 6 != 0 {
            continue;
        }
        let texts: Vec<&str> = (0..ways.len()).map(typed).collect();
        let mut job = changed([
            (at("customer.name"), quoted(texts[1])),
            (at("customer.address[0]"), quoted(texts[3])),
            (at("crack[0].name"), quoted(texts[4])),
        ]);
        let shop = places.iter().find(|place| place.file == 2 && place.path == "name").unwrap();
        job[2] = changed([(shop, quoted(texts[0]))])[2].clone();
        job[1] = job[1].replace("\"Invented Resins\"", &quoted(texts[2]));
        job[0] = job[0].split("[accepted]").next().unwrap().to_owned();
        // The name alone, as typed.
        job[0] = job[0].replace("latin = \"Family Fullexample\"\n", "");
        let folder = folder(&job);
        folder.run(&["mail", "job.toml", "--out", "mail", "--papers", "papers"]).success();
        folder.run(&["prepare", "job.toml", "--floor", "barrier"]).success();
        let mail = folder.bytes("mail/2026-0199-mail-r1.eml");
        let message = mail_parser::MessageParser::default().parse(&mail).unwrap();
        let name = |field: Option<&mail_parser::Address<'_>>| {
            let people: Vec<_> = field.unwrap().iter().collect();
            // Both addresses of a customer go under one name.
            assert!(people.iter().all(|one| one.name() == people[0].name()));
            people[0].name().unwrap_or_default().to_owned()
        };
        assert_eq!(plain(&name(message.from())), plain(texts[0]));
        assert_eq!(plain(&name(message.to())), plain(texts[1]));
        assert!(
            plain(message.subject().unwrap()).contains(&plain(texts[0])),
            "{:?}",
            message.subject()
        );
        assert_eq!(message.headers().len(), 7, "a field was slipped in");
        counts[0] += 3;
        let html = plain(&seen(&message.body_html(0).unwrap()));
        let text = plain(&message.body_text(0).unwrap());
        for typed in [texts[0], texts[1]] {
            assert!(html.contains(&plain(typed)), "{typed:?} in {html}");
            assert!(text.contains(&plain(typed)), "{typed:?} in {text}");
            counts[1] += 2;
        }
        let shop_only = files_of(&folder.path("shop-only"));
        assert_eq!(shop_only.len(), 4, "{shop_only:?}");
        let plain_name = |name: &String| {
            name.starts_with("2026-0199-")
                && name.chars().all(|c| c.is_ascii_alphanumeric() || matches!(c, '-' | '.'))
        };
        for folder_name in ["shop-only", "papers", "mail"] {
            let names = files_of(&folder.path(folder_name));
            assert!(!names.is_empty() && names.iter().all(plain_name), "{names:?}");
            counts[2] += names.len();
        }
        let csv = folder.bytes("shop-only/2026-0199-buying-list-r1.csv");
        let mut rows = csv::Reader::from_reader(csv.as_slice());
        let suppliers: Vec<String> =
            rows.records().map(|row| row.unwrap().get(2).unwrap().to_owned()).collect();
        assert!(
            suppliers.iter().any(|cell| plain(cell.trim_start_matches('\''))
                == plain(texts[2].trim_start_matches('\''))),
            "{suppliers:?}"
        );
        counts[3] += 1;
        for name in ["shop-only/2026-0199-crew-days-r1.ics", "papers/2026-0199-days-r1.ics"] {
            let events = super::bench::unfolded(&folder.read(name));
            assert!(plain(&events).contains(&plain(texts[3])), "{:?} in {events}", texts[3]);
            counts[4] += 1;
        }
        let ran = folder.run(&["check", "job.toml", "--format", "json"]);
        let found: serde_json::Value = serde_json::from_str(&ran.stdout()).unwrap();
        assert!(found.is_object());
        let printed = plain(&folder.run(&["check", "job.toml"]).stdout());
        assert!(!printed.contains(['\u{1B}', '\u{7}']));
        let is_said = outputs(&read(&job).unwrap())
            .unwrap()
            .iter()
            .any(|output| output.name == "findings" && holds(output, texts[4]));
        assert!(!is_said || printed.contains(&plain(texts[4])), "{:?} in {printed}", texts[4]);
        counts[5] += 1;
    }
    assert!(counts[0] >= 3 * 14 && counts[3] >= 14, "{counts:?} of {}", printable.len());
}

/// A refused text does nothing to a terminal, and its place is named.
#[test]
fn a_text_that_is_refused_is_shown_without_its_effect() {
    let place = places().into_iter().find(|place| place.path == "customer.name").unwrap();
    let mut refused = 0;
    for (_, text) in STRINGS {
        let texts = changed([(&place, quoted(text))]);
        if read(&texts).is_ok() {
            continue;
        }
        // As letters of the file and not as escapes, where TOML allows it.
        let raw = changed([(&place, format!("\"{text}\""))]);
        for texts in [texts, raw] {
            let folder = folder(&texts);
            let line = texts[0][..place.bytes.start].matches('\n').count() + 1;
            let ran = folder.run(&["check", "job.toml"]).code(2);
            let ran = ran.err_has(&format!("--> job.toml:{line}:"));
            let shown = ran.stderr();
            assert!(
                !shown.contains(|c: char| c != '\n' && slableaf::read::text::hides(c)),
                "{shown:?}"
            );
        }
        refused += 1;
    }
    assert!(refused >= 30, "{refused}");
}

fn files_of(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).unwrap();
    entries.map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect()
}
