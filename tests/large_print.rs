//! Large print: the same words in larger type, one column, nothing cut off.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use lopdf::content::Content;
use lopdf::{Document, Object};

use crate::fixture::{EXAMPLES, Folder};
use crate::readers;

/// The sizes that the design promises, in points.
const BODY: f64 = 16.0;
const LEAST: f64 = 14.0;
/// The lines above and below each page.
const MARGINS: f64 = 10.5;

fn large(example: &str) -> Folder {
    let folder = Folder::of(example);
    let job = format!("print = \"large\"\n{}", folder.read("job.toml"));
    folder.write("job.toml", job)
}

#[track_caller]
fn draft(folder: &Folder, options: &[&str]) -> std::path::PathBuf {
    let arguments = [&["write", "job.toml", "--draft", "--out", "out"], options].concat();
    folder.run(&arguments).success();
    let mut files = std::fs::read_dir(folder.path("out")).unwrap();
    files
        .find_map(|f| f.ok().map(|f| f.path()).filter(|f| f.extension().unwrap() == "pdf"))
        .unwrap()
}

/// A matrix of PDF 32000-1, 8.3.3: `[a b c d e f]`.
type Matrix = [f64; 6];

fn times(m: Matrix, n: Matrix) -> Matrix {
    [
        m[0] * n[0] + m[1] * n[2],
        m[0] * n[1] + m[1] * n[3],
        m[2] * n[0] + m[3] * n[2],
        m[2] * n[1] + m[3] * n[3],
        m[4] * n[0] + m[5] * n[2] + n[4],
        m[4] * n[1] + m[5] * n[3] + n[5],
    ]
}

fn matrix(operands: &[Object]) -> Matrix {
    let mut m = [0.0; 6];
    for (to, from) in m.iter_mut().zip(operands) {
        *to = f64::from(from.as_float().unwrap());
    }
    m
}

/// Bytes of glyphs by their size on paper, in tenths of a point: font size, text matrix and page
/// matrix multiplied (PDF 32000-1, 9.4.4).
pub fn sizes(path: &Path) -> BTreeMap<i64, usize> {
    const UNIT: Matrix = [1.0, 0.0, 0.0, 1.0, 0.0, 0.0];
    let document = Document::load(path).unwrap();
    let mut sizes = BTreeMap::new();
    for page in document.get_pages().into_values() {
        let content = Content::decode(&document.get_page_content(page)).unwrap();
        let (mut page, mut text, mut font, mut kept) = (UNIT, UNIT, 0.0, vec![]);
        for operation in &content.operations {
            let operands = &operation.operands;
            match operation.operator.as_str() {
                "q" => kept.push((page, font)),
                "Q" => (page, font) = kept.pop().unwrap(),
                "cm" => page = times(matrix(operands), page),
                "BT" => text = UNIT,
                "Tm" => text = matrix(operands),
                "Tf" => font = f64::from(operands[1].as_float().unwrap()),
                "Tj" | "TJ" => {
                    let [a, b, c, d, ..] = times(text, page);
                    let size = (font * (a * d - b * c).abs().sqrt() * 10.0).round() as i64;
                    *sizes.entry(size).or_default() += shown(&operands[0]);
                }
                _ => {}
            }
        }
    }
    sizes
}

fn shown(object: &Object) -> usize {
    match object {
        Object::String(bytes, _) => bytes.len(),
        Object::Array(items) => items.iter().map(shown).sum(),
        _ => 0,
    }
}

fn tenths(points: f64) -> i64 {
    (points * 10.0).round() as i64
}

#[test]
fn nothing_that_is_read_is_below_fourteen_points_and_most_is_sixteen() {
    for example in EXAMPLES.iter().chain(&["three-spaces"]) {
        let sizes = sizes(&draft(&large(example), &[]));
        let most = sizes.iter().max_by_key(|(_, bytes)| **bytes).unwrap();
        assert_eq!(*most.0, tenths(BODY), "{example}: {sizes:?}");
        let small = sizes.keys().find(|size| **size < tenths(LEAST) && **size != tenths(MARGINS));
        assert_eq!(small, None, "{example}: {sizes:?}");
    }
}

#[test]
fn the_usual_print_is_ten_and_a_half_points() {
    let sizes = sizes(&draft(&Folder::new(), &[]));
    assert_eq!(*sizes.iter().max_by_key(|(_, bytes)| **bytes).unwrap().0, 105, "{sizes:?}");
}

/// Words of a paper, apart from its page numbers.
fn words(path: &Path) -> BTreeSet<String> {
    let text = readers::text(path);
    let plain = |word: &str| word.trim_matches(|c: char| !c.is_alphanumeric()).to_owned();
    text.split([' ', '-', '/']).map(plain).filter(|word| word.chars().count() > 3).collect()
}

/// Heads of first columns: in large print the cells below them are titles and need none.
const FIRST_HEADS: &[&str] = &["Number", "Compare", "Test", "Mark", "Space"];

/// Words of a blank back: there need be none in large print.
const BLANK_BACKS: &[&str] = &["Left", "blank", "purpose"];

#[test]
fn large_print_says_all_that_the_usual_print_says() {
    for example in EXAMPLES.iter().chain(&["three-spaces"]) {
        let usual = words(&draft(&Folder::of(example), &[]));
        let large = words(&draft(&large(example), &[]));
        // Narrow columns break words, and their pieces are no words.
        let piece =
            |word: &str| large.iter().any(|whole| whole.ends_with(word) || whole.starts_with(word));
        let lost = usual.difference(&large);
        let excused =
            |word: &str| FIRST_HEADS.contains(&word) || BLANK_BACKS.contains(&word) || piece(word);
        let lost: Vec<&String> = lost.filter(|word| !excused(word)).collect();
        assert!(lost.is_empty(), "{example}: {lost:?}");
    }
}

#[test]
fn a_paper_in_large_print_has_at_most_two_and_a_half_times_the_pages() {
    for example in EXAMPLES {
        let usual = readers::pages(&draft(&Folder::of(example), &[])).len();
        let large = readers::pages(&draft(&large(example), &[]));
        assert!(usual < large.len() && large.len() * 2 <= usual * 5, "{example}: {}", large.len());
        assert!(large.iter().all(|page| page.split_whitespace().count() > 15), "{example}");
    }
}

#[test]
fn the_option_is_the_key_of_the_job() {
    let by_key = std::fs::read(draft(&large("dry-and-quick"), &[])).unwrap();
    let by_option = std::fs::read(draft(&Folder::of("dry-and-quick"), &["--large-print"])).unwrap();
    assert!(by_key == by_option);
    large("dry-and-quick")
        .replace("job.toml", "print = \"large\"", "print = \"big\"")
        .run(&["check", "job.toml"])
        .code(2)
        .err_has("`print`");
}

#[test]
fn the_crew_has_the_usual_print() {
    let folder = large("two-car-barrier");
    folder.run(&["prepare", "job.toml"]).success();
    let sheet = folder.path("shop-only/2026-0142-crew-sheet-r1.pdf");
    assert!(!sizes(&sheet).contains_key(&tenths(BODY)));
}
