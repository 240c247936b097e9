//! Slabs worked by hand: from what was measured to the standing of each floor, to the floor that comes
//! first and to the sentence that page one opens with.
//!
//! Two invented floors compete. F cures fast, its primer takes 3 lb or 75 %, its car is back sooner and
//! it costs less. B has a vapor barrier that takes 20 lb or 99 % and costs more. Both are said to last
//! up to 20 years. K is a cheap kit. Limits are figures that are usual for such coats: common practice,
//! no published source.

mod files;
mod independent;
mod laws;
mod more;
mod notation;
mod random;
mod seen;
mod table;

use slableaf::judge::judge;
use slableaf::judge::recommend::{OfferState, Recommendation};
use slableaf::read::Input;
use slableaf::site::standing::Standing;

use notation::Slab;

/// A slab in the notation of [`notation`], what comes out of it, and why, by hand.
///
/// The outcome has a letter and a sign for each floor in the order of the offer: C clear, ~ close, N
/// not judged, O over; + offered, ? waits, - not offered. Then the floor that comes first, if any,
/// and the headline.
type Row = (&'static str, &'static str, &'static str);

/// The outcome of a slab, written like that of a [`Row`].
fn outcome(input: &Input) -> String {
    let judged = judge(input);
    let found = &judged.recommendation;
    let floors: Vec<String> = judged
        .case
        .options
        .iter()
        .map(|choice| {
            let standing = match choice.moisture.standing {
                Standing::Clear => 'C',
                Standing::Close => '~',
                Standing::NotJudged => 'N',
                Standing::Over => 'O',
            };
            let state = match found.state(choice.key()) {
                OfferState::Offered => '+',
                OfferState::Waits(_) => '?',
                OfferState::NotOffered => '-',
            };
            format!("{standing}{state}")
        })
        .collect();
    let first = first(found).map_or(String::new(), |floor| format!("{floor} "));
    format!("{} > {first}{}", floors.join(" "), found.headline.word())
}

/// The letter of the floor that comes first.
fn first(found: &Recommendation) -> Option<char> {
    let key = found.floor.as_ref()?;
    files::letter(&key.0)
}

/// Demands of every row what it says; all rows that differ are told at once.
#[track_caller]
fn hold(rows: &[Row]) {
    let mut wrong = vec![];
    for (text, expected, why) in rows {
        let found = outcome(&Slab::from(*text).input());
        if found != *expected {
            wrong.push(format!(
                "{text}\n  expected {expected}\n  found    {found}\n  why      {why}"
            ));
        }
    }
    assert!(wrong.is_empty(), "{} of {} rows\n{}", wrong.len(), rows.len(), wrong.join("\n"));
}

/// The number of rows in which each floor comes first.
fn wins(rows: &[Row], floor: char) -> usize {
    let of =
        |outcome: &str| outcome.split_once("> ").is_some_and(|(_, won)| won.starts_with(floor));
    rows.iter().filter(|(_, outcome, _)| of(outcome)).count()
}

/// The rule knows no chemistry: either floor comes first on many slabs.
#[test]
fn either_chemistry_comes_first_on_many_slabs() {
    let all: Vec<Row> = [table::ROWS, more::ROWS].concat();
    for floor in ['F', 'B'] {
        let won = wins(&all, floor);
        assert!(won * 3 >= all.len(), "{floor} comes first on {won} of {}", all.len());
    }
}

/// The data of the two floors that the rows take for granted.
#[test]
fn the_fast_floor_is_quicker_and_cheaper_and_both_last_alike() {
    let input = Slab::from("sheet; d 1x3").input();
    let judged = judge(&input);
    let [f, b] = &judged.case.options[..] else { panic!("two floors") };
    let prices = [f, b].map(|choice| choice.quote.total.0 / 100);
    assert!((3_700..4_100).contains(&prices[0]), "{prices:?}");
    assert!((4_900..5_400).contains(&prices[1]), "{prices:?}");
    assert_eq!((f.estimate.schedule.days, b.estimate.schedule.days), (1, 2));
    assert!(f.estimate.schedule.drive < b.estimate.schedule.drive);
    assert_eq!(f.floor.system.life_years, b.floor.system.life_years);
    // Doubt of a dish on a scale of 0.1 g after 66 h over 0.5 ft2, by hand 0.227 lb; of a probe 2 %.
    let dish = judged.case.site.moisture.mver.as_ref().expect("dishes").highest().doubt;
    assert!((dish.as_pounds() - 0.227).abs() < 0.001);
    assert_eq!(slableaf::site::moisture::PROBE_DOUBT.as_percent(), 2.0);
    assert!(
        judged
            .findings
            .iter()
            .all(|f| f.option.is_none() || f.severity < slableaf::judge::checks::Severity::Caution),
        "{:#?}",
        judged.findings
    );
}
