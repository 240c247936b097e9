//! The buying list.

use super::{estimate, named, prepared, shows};
use crate::fixture::{FLOORS, Folder};
use crate::readers;

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
    assert_eq!((cell(barrier, "from_stock"), cell(barrier, "unit")), ("2", "gal"));
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
