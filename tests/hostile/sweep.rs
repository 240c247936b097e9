//! Every value of every file at the ends of what is accepted, alone and several at a time: whatever
//! loads gives figures that a reader can use, and nothing else.

use std::collections::BTreeSet;
use std::panic::catch_unwind;

use proptest::prelude::*;

use super::bench::{
    Kind, Output, Place, changed_in, full, outputs, places, places_of, quoted, read, second,
};
use crate::chance;

/// Numbers to put in the place of one: nothing, next to nothing, much, and more than any bound.
const NUMBERS: &[&str] =
    &["0", "0.000000000001", "0.01", "1", "60", "100", "10000", "10000000", "-40"];

/// Other values for a place, as TOML.
fn values(place: &Place) -> Vec<String> {
    match place.kind {
        Kind::Text => {
            // The text with another number in the place of its first.
            let digit = |c: char| c.is_ascii_digit();
            let Some(from) = place.text.find(digit).filter(|at| *at <= 1) else { return vec![] };
            if place.path == "phone" {
                return vec![];
            }
            let tail = &place.text[from..];
            let end =
                tail.find(|c: char| !digit(c) && !matches!(c, '.' | ',')).unwrap_or(tail.len());
            let (before, after) = (&place.text[..from], &tail[end..]);
            NUMBERS.iter().map(|n| quoted(&format!("{before}{n}{after}"))).collect()
        }
        Kind::Whole => {
            let few = [
                "0", "1", "2", "3", "12", "20", "999", "1900", "2026", "2199", "9999", "-1", "1e3",
            ];
            few.map(str::to_owned).to_vec()
        }
        Kind::YesNo => vec!["true".into(), "false".into()],
        Kind::Day => [
            "1900-01-01",
            "2026-02-29",
            "2026-06-03",
            "2026-06-04",
            "2026-11-01",
            "2199-12-31",
            "1900-01-01T00:00:00",
            "2026-05-27T10:00:00",
            "2199-12-31T23:59:59",
            "00:00:00",
            "23:59:59",
        ]
        .map(str::to_owned)
        .to_vec(),
        Kind::List => vec!["[]".into()],
    }
}

/// The faults of the figures of an output.
fn absurd(output: &Output) -> Vec<String> {
    let mut found: Vec<String> = output
        .numbers
        .iter()
        .filter(|n| !n.is_finite())
        .map(|n| format!("the number {n}"))
        .collect();
    for text in &output.texts {
        let words = text.split(|c: char| !c.is_alphanumeric() && !matches!(c, '-' | '.' | ','));
        for word in words {
            let plain = word.trim_matches(['-', '.', ',']).to_lowercase();
            if matches!(plain.as_str(), "inf" | "infinity" | "nan" | "null") {
                found.push(format!("`{word}` in `{text}`"));
            }
            let digits = word.chars().filter(char::is_ascii_digit).count();
            let is_number =
                word.chars().all(|c| c.is_ascii_digit() || matches!(c, '-' | '.' | ','));
            if is_number && digits > 14 {
                found.push(format!("{digits} digits: `{word}` in `{text}`"));
            }
        }
        if text.contains("-$") {
            found.push(format!("money below zero in `{text}`"));
        }
    }
    found
}

/// The outcome of a change of the full files, or of their second variant: whether they load, and what is
/// absurd then.
fn tried(texts: &[String; 4], changes: &[(&Place, String)]) -> (bool, Vec<String>) {
    match read(&changed_in(texts.clone(), changes.iter().cloned())) {
        Err(problems) => {
            assert!(!problems.is_empty());
            (false, vec![])
        }
        Ok(input) => {
            let made = outputs(&input).unwrap_or_default();
            let what = made.iter().flat_map(|output| {
                absurd(output).into_iter().map(|what| format!("{}: {what}", output.name))
            });
            (true, what.collect())
        }
    }
}

/// The full files with the places of them that differ from others by more than their product: of the book,
/// one product of each kind. Then the second variant with the places that are its own.
fn telling_places() -> [([String; 4], Vec<Place>); 2] {
    // A coat, one with a solvent, flake, a filler, pigment by weight, grit.
    const OF_EACH_KIND: [&str; 6] =
        ["product[0]", "product[6]", "product[8]", "product[10]", "product[13]", "product[15]"];
    // A coat whose content of volatiles is told by masses, and pigment in packs.
    const OF_SECOND: [&str; 4] =
        ["product[7].voc-masses", "product[14]", "discount", "slab.poured-year"];
    let first = places().into_iter().filter(|place| {
        let product = place.path.split('.').next().unwrap_or_default();
        !product.starts_with("product[") || OF_EACH_KIND.contains(&product)
    });
    let own = places_of(&second()).into_iter();
    let own = own.filter(|place| OF_SECOND.iter().any(|name| place.path.starts_with(name)));
    [(full(), first.collect()), (second(), own.collect())]
}

#[test]
fn the_matrix_tries_pigment_grit_and_masses_of_volatiles() {
    let places = telling_places();
    let all: BTreeSet<&str> =
        places.iter().flat_map(|(_, places)| places).map(|place| place.path.as_str()).collect();
    for path in [
        "product[13].pigment.dose",
        "product[14].pigment.pack-for",
        "product[15].grit.rate",
        "product[15].grit.silica",
        "product[7].voc-masses.volatiles",
        "product[7].voc-masses.water-volume",
        "discount.percent",
        "slab.poured-year",
        "cutout[1].outline[1][0]",
    ] {
        assert!(all.contains(path), "{path}");
    }
}

#[test]
fn any_one_value_at_its_ends_gives_figures_or_a_message() {
    let variants = telling_places();
    let mut all: Vec<(&[String; 4], (&Place, String))> = vec![];
    for (texts, places) in &variants {
        let made = outputs(&read(texts).unwrap()).unwrap();
        assert_eq!(made.len(), 19, "the full job has every paper");
        for place in places {
            all.extend(values(place).into_iter().map(|value| (texts, (place, value))));
        }
    }
    let half = all.len() / 2;
    let (mut loaded, mut wrong) = (0, BTreeSet::new());
    std::thread::scope(|scope| {
        let parts = [&all[..half], &all[half..]].map(|part| {
            scope.spawn(move || {
                let judge = |(texts, change): &(&[String; 4], (&Place, String))| {
                    let tried = catch_unwind(|| tried(texts, std::slice::from_ref(change)));
                    let (loads, what) =
                        tried.unwrap_or_else(|_| (true, vec!["a fault".to_owned()]));
                    (
                        loads,
                        what.into_iter()
                            .map(|what| format!("{} = {}: {what}", change.0.name(), change.1))
                            .collect::<Vec<_>>(),
                    )
                };
                part.iter().map(judge).collect::<Vec<_>>()
            })
        });
        for (loads, what) in parts.into_iter().flat_map(|part| part.join().unwrap()) {
            loaded += usize::from(loads);
            wrong.extend(what);
        }
    });
    assert!(wrong.is_empty(), "{} of {loaded}: {:#?}", wrong.len(), wrong);
    let [first, second] = variants.each_ref().map(|(_, places)| places.len());
    assert!(
        first > 300 && second > 10 && all.len() > 2_000 && loaded > 1_000,
        "{first} {second} {} {loaded}",
        all.len()
    );
}

/// Several values at their ends at a time.
fn several() -> impl Strategy<Value = Vec<(prop::sample::Index, prop::sample::Index)>> {
    prop::collection::vec((any::<prop::sample::Index>(), any::<prop::sample::Index>()), 2..=4)
}

proptest! {
    #![proptest_config(chance::tried(400))]

    #[test]
    fn several_values_at_their_ends_give_figures_or_a_message(
        picks in several(), in_second in prop::bool::weighted(0.2),
    ) {
        let [first, second] = telling_places();
        let (texts, mut places) = if in_second { second } else { first };
        if in_second {
            places.extend(places_of(&texts).into_iter().filter(|place| place.file == 0));
        }
        let mut changes: Vec<(&Place, String)> = vec![];
        for (place, value) in picks {
            let place = place.get(&places);
            let values = values(place);
            let apart = changes.iter().all(|(other, _)| {
                other.file != place.file
                    || other.bytes.end <= place.bytes.start
                    || place.bytes.end <= other.bytes.start
            });
            if apart && !values.is_empty() {
                changes.push((place, value.get(&values).clone()));
            }
        }
        let (_, wrong) = tried(&texts, &changes);
        prop_assert!(wrong.is_empty(), "{:?}: {wrong:#?}", changes.iter().map(|(place, value)| (place.name(), value)).collect::<Vec<_>>());
    }
}
