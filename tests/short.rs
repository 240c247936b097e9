//! Words and figures of the papers keep to their bounds: short lists, short sentences, one way to write
//! numbers, lists and times.

use jiff::civil::time;
use slableaf::base::calendar::Moment;
use slableaf::base::figure::Figure;
use slableaf::base::layouts::Layouts;
use slableaf::base::money::Cents;
use slableaf::base::quantity::{Hours, Humidity};
use slableaf::model::job::Units;
use slableaf::say::figures::Figures;
use slableaf::say::words::Words;

/// A list that is read at once: CDC Clear Communication Index, item on chunks of seven or fewer (from memory).
const ITEMS: usize = 7;

/// Another language takes more words for the same: common practice, no published source.
fn languages() -> [(Words, f64); 2] {
    ["en", "es"].map(|language| {
        let words = Words::read(&Layouts::default(), language).unwrap();
        (words, if language == "en" { 1.0 } else { 1.3 })
    })
}

#[track_caller]
fn short(text: &str, most: usize, more: f64) {
    // What stands in braces is a choice between texts or a value.
    let plain = text.replace("{%", "\u{0}").replace("%}", "\u{0}");
    let words = plain.split('\u{0}').step_by(2).flat_map(str::split_whitespace).count();
    assert!(words as f64 <= most as f64 * more, "{words} words: {text}");
}

#[track_caller]
fn short_list(items: &[String], most: usize, more: f64) {
    assert!(items.len() <= ITEMS, "{} items: {items:?}", items.len());
    items.iter().for_each(|item| short(item, most, more));
}

#[test]
fn lists_and_sentences_that_are_signed_or_obeyed_are_short() {
    for (words, more) in languages() {
        short_list(&words.safety.always, 26, more);
        let promise = &words.promise;
        for list in
            [&promise.cannot, &promise.care, &promise.included, &promise.excluded, &promise.terms]
        {
            short_list(list, 20, more);
        }
        short_list(&words.claims.questions, 16, more);
        for claim in &words.claims.claims {
            short(&claim.truth, 26, more);
            short(&claim.leaves_out, 26, more);
        }
        for system in words.systems.values().filter(|system| !system.better_at.is_empty()) {
            for list in [&system.better_at, &system.harder_at] {
                assert!(list.len() <= 3, "{list:?}");
                short_list(list, 14, more);
            }
            short(&system.choose_if, 20, more);
        }
    }
}

fn figures(words: &Words) -> Figures<'_> {
    Figures { units: Units::Us, currency: "USD", words: &words.figures }
}

#[test]
fn numbers_lists_and_times_are_written_in_one_way() {
    let [(english, _), (spanish, _)] = languages();
    let (en, es) = (figures(&english), figures(&spanish));
    let list = |figures: &Figures<'_>, items: &[&str]| {
        figures.list(&items.iter().map(ToString::to_string).collect::<Vec<_>>())
    };
    assert_eq!(list(&en, &["a", "b", "c"]), "a, b and c");
    assert_eq!(list(&es, &["epóxico", "isocianatos"]), "epóxico e isocianatos");
    assert_eq!(list(&es, &["arena", "hielo"]), "arena y hielo");
    assert_eq!(en.number(-0.7, 1), "\u{2212}0.7");
    assert_eq!(en.money(Cents(-100)), "\u{2212}$1.00");
    let points = |percent| en.write(&Figure::Points(Humidity::percent(percent)));
    assert_eq!([points(1.0), points(25.0)], ["1\u{a0}point", "25\u{a0}points"]);
    let minutes = |minutes| en.write(&Figure::NoShorter(Hours::minutes(minutes)));
    assert_eq!(
        [minutes(1.0), minutes(2.0)].map(|text| text.replace('\u{a0}', " ")),
        ["1 minute", "2 minutes"]
    );
    // Of midnight nobody knows which day it belongs to: the next half hour is named, which is later.
    assert_eq!(en.clock(Moment::on(2, Hours::minutes(-10.0))), "12:30\u{a0}am");
    assert_eq!(en.time(time(8, 20, 0, 0)), "8:20\u{a0}am");
}
