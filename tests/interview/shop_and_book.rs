//! The questions for a shop file and a price book.

use super::{TODAY, Visit};
use slableaf::interview::InterviewKind;

#[test]
fn a_shop_file_has_the_answers_and_none_of_the_invented_shop() {
    let mut visit = Visit::new(InterviewKind::Shop);
    visit.with(&[("shop.name", "Invented Gray Heron Floors"), ("calendar.closed", "sat, sun")]);
    assert_eq!(visit.interview.troubles().unwrap(), []);
    let text = visit.file().text;
    for invented in [
        "Pikemere",
        "555-0114",
        "office@",
        "00-0000",
        "logo",
        "airflow",
        "peels",
        "deposit-share =",
    ] {
        assert!(!text.contains(invented), "{invented}\n{text}");
    }
    assert!(text.contains("closed = [\"saturday\", \"sunday\"]"), "{text}");
    assert!(text.contains("# Limits where you work."), "{text}");
    let shop = slableaf::read::read_shop(&visit.file()).unwrap();
    assert_eq!(shop.name, "Invented Gray Heron Floors");
    assert!(shop.phone.is_none() && shop.fan.is_none() && shop.limits.voc.is_none());
}

#[test]
fn a_book_keeps_the_comments_of_the_neutral_one_and_says_that_it_is_invented() {
    let mut visit = Visit::new(InterviewKind::Book);
    visit.with(&[
        ("book.name", "Marsh book"),
        ("labor.wage", "$40/h"),
        ("terms.margin", "40 %"),
        ("terms.minimum", "2000"),
    ]);
    let text = visit.file().text;
    assert!(text.contains("wage = \"$40/h\"        # of one person"), "{text}");
    assert!(text.contains("INVENTED") && text.contains("invented = true"), "{text}");
    let book = slableaf::read::read_book(&visit.file()).unwrap();
    assert_eq!((book.name.as_str(), book.effective), ("Marsh book", TODAY));
    assert_eq!(book.products.len(), 13);
    // 40 dollars and 30 % of it; 1,000 and 15 % of it over 60 %, up to 5 dollars (by hand).
    for line in ["$52.00", "$1,920.00", "Your minimum price, $2,000.00, is higher"] {
        assert!(visit.said.iter().any(|said| said.contains(line)), "{line}: {:?}", visit.said);
    }
    assert!(text.contains("$276.00"));
}

#[test]
fn a_book_in_another_currency_has_all_its_amounts_in_it() {
    for (code, sign) in [("EUR", "\u{20ac}"), ("CHF", "CHF "), ("GBP", "\u{a3}")] {
        let mut visit = Visit::new(InterviewKind::Book);
        visit.with(&[("book.name", "A book"), ("book.currency", code)]);
        assert_eq!(visit.interview.troubles().unwrap(), [], "{code}");
        let text = visit.file().text;
        assert!(text.contains(&format!("wage = \"{sign}32.00/h\"")), "{text}");
        assert_eq!(slableaf::read::read_book(&visit.file()).unwrap().currency, code);
    }
}

#[test]
fn a_margin_floor_above_the_margin_is_refused_at_once() {
    let mut visit = Visit::new(InterviewKind::Book);
    visit.until("book.name");
    visit.takes("A book");
    visit.until("terms.margin-floor");
    assert_eq!(visit.refuses("60 %").0, "`margin-floor` is above `margin`");
}
