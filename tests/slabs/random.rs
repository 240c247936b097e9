//! Slabs at random: every kind of test, place, fault, age and term, near limits more often than not.

use jiff::Span;
use proptest::prelude::*;
use proptest::sample::{select, subsequence};
use slableaf::model::job::Known;

use super::notation::{Checked, Dish, Floor, PAPER, Probe, Sheet, Slab, Visit};

/// Rates in pounds about the limits of 3, 5, 12 and 20.
const POUNDS: &[f64] = &[
    0.0, 0.2, 0.9, 1.0, 1.3, 1.6, 2.3, 2.7, 2.85, 3.0, 3.05, 3.4, 4.5, 4.9, 6.1, 11.9, 12.3, 19.9,
    21.0,
];
/// Humidities about the limits of 75, 85, 99 and 100 %.
const PERCENT: &[f64] = &[
    40.0, 60.0, 62.0, 65.5, 71.5, 73.0, 74.5, 75.0, 75.5, 77.0, 84.0, 86.0, 96.5, 98.0, 99.5, 100.0,
];
const PLACES: &[&str] = &["left", "mid", "right", "door", "wall"];
/// Days before the paper, about the ages that count.
const AGES: &[i64] =
    &[0, 0, 1, 1, 7, 7, 30, 30, 60, 60, 89, 90, 91, 120, 300, 364, 365, 366, 455, 456, 500];

fn place() -> impl Strategy<Value = String> {
    select(PLACES).prop_map(str::to_owned)
}

/// True in so many cases of a hundred.
fn now_and_then(percent: u32) -> impl Strategy<Value = bool> {
    (0..100u32).prop_map(move |drawn| drawn < percent)
}

pub fn dish() -> impl Strategy<Value = Dish> {
    let surface = prop_oneof![
        12 => Just(Some("ground-open-24h")),
        1 => select(vec![None, Some("bare"), Some("coated")]),
    ];
    let hours = prop_oneof![
        12 => select(vec![60.0, 66.0, 72.0, 59.8, 72.2]),
        1 => select(vec![6.0, 58.0, 59.7, 72.3, 80.0]),
    ];
    (place(), select(POUNDS), surface, hours, now_and_then(6)).prop_map(
        |(place, pounds, surface, hours, void)| Dish {
            surface,
            hours,
            void,
            ..Dish::good(&place, pounds)
        },
    )
}

pub fn probe() -> impl Strategy<Value = Probe> {
    let inches = prop_oneof![12 => Just(1.6), 1 => select(vec![0.5, 1.0, 1.3, 1.4, 1.8, 2.0])];
    let hours = prop_oneof![12 => select(vec![24.0, 48.0]), 1 => select(vec![3.0, 23.9])];
    let checked = prop_oneof![
        12 => select(vec![Checked::Before(5), Checked::Before(30), Checked::New]),
        1 => select(vec![Checked::Before(31), Checked::Unknown]),
    ];
    (place(), select(PERCENT), inches, hours, checked, now_and_then(6)).prop_map(
        |(place, percent, inches, hours, checked, void)| Probe {
            inches,
            hours,
            checked,
            void,
            ..Probe::good(&place, percent)
        },
    )
}

pub fn sheet() -> impl Strategy<Value = Sheet> {
    let hours = prop_oneof![8 => select(vec![16.0, 24.0]), 1 => Just(12.0)];
    (place(), now_and_then(25), hours, now_and_then(90), now_and_then(8)).prop_map(
        |(place, damp, hours, sealed, void)| Sheet {
            hours,
            sealed,
            void,
            ..Sheet::good(&place, damp)
        },
    )
}

/// A visit without tests, with its conditions.
fn conditions() -> impl Strategy<Value = Visit> {
    let room = prop_oneof![
        12 => Just(Some((70.0, 50.0))),
        2 => select(vec![None, Some((48.0, 50.0)), Some((70.0, 70.0)), Some((92.0, 35.0)), Some((92.0, 70.0))]),
    ];
    let scale = prop_oneof![6 => Just(0.1), 1 => select(vec![0.01, 0.5])];
    let accuracy = prop_oneof![3 => Just(None), 1 => select(vec![Some(1.0), Some(3.3)])];
    (select(AGES), room, scale, now_and_then(20), now_and_then(92), accuracy).prop_map(
        |(age, room, scale, as_used, settled, accuracy)| {
            let day = PAPER.checked_sub(Span::new().days(age)).expect("a day");
            Visit { room, scale, as_used, settled, accuracy, ..Visit::on(day) }
        },
    )
}

/// Half of the visits are well done: enough places, each once, and to the method.
fn visit() -> impl Strategy<Value = Visit> {
    let of = |percent| now_and_then(percent).prop_map(|some| if some { 5usize } else { 0 });
    let well = now_and_then(50);
    (conditions(), of(65), of(55), of(30), well).prop_flat_map(
        |(visit, dishes, probes, sheets, well)| {
            let few = |most: usize| if well { most.min(3) } else { 0 };
            let dishes = prop::collection::vec(dish(), few(dishes)..=dishes);
            let probes = prop::collection::vec(probe(), few(probes)..=probes);
            let sheets = prop::collection::vec(sheet(), 0..=sheets.min(3));
            (dishes, probes, sheets).prop_map(move |(dishes, probes, sheets)| {
                let found = Visit { dishes, probes, sheets, ..visit.clone() };
                if well { well_done(found) } else { found }
            })
        },
    )
}

/// The same values, taken to the methods.
fn well_done(visit: Visit) -> Visit {
    let dishes = visit.dishes.iter().zip(PLACES);
    let probes = visit.probes.iter().zip(PLACES);
    Visit {
        dishes: dishes.map(|(dish, place)| Dish::good(place, dish.pounds)).collect(),
        probes: probes.map(|(probe, place)| Probe::good(place, probe.percent)).collect(),
        sheets: visit.sheets,
        ..Visit::on(visit.day)
    }
}

/// Visits in their order, each with a test: one half dry, or near the lowest limits.
fn visits() -> impl Strategy<Value = Vec<Visit>> {
    (prop::collection::vec(visit(), 0..=3), 0..5usize).prop_map(|(mut visits, drawn)| {
        visits.retain(|one| {
            !(one.dishes.is_empty() && one.probes.is_empty() && one.sheets.is_empty())
        });
        visits.sort_by_key(|one| one.day);
        let most = [(2.3, 71.5), (2.3, 71.5), (2.85, 74.5)];
        if let Some((pounds, percent)) = most.get(drawn) {
            for dish in visits.iter_mut().flat_map(|one| &mut one.dishes) {
                dish.pounds = dish.pounds.min(*pounds);
            }
            for probe in visits.iter_mut().flat_map(|one| &mut one.probes) {
                probe.percent = probe.percent.min(*percent);
            }
        }
        visits
    })
}

fn floor(letter: char) -> impl Strategy<Value = Floor> {
    let barrier = letter == 'B';
    let usual = Floor::usual(letter);
    let (lb, rh) = (usual.pounds, usual.percent);
    let pounds =
        prop_oneof![4 => Just(lb), 1 => Just(None), 1 => select(vec![Some(5.0), Some(12.0)])];
    let percent =
        prop_oneof![4 => Just(rh), 1 => Just(None), 1 => select(vec![Some(85.0), Some(100.0)])];
    let body = prop_oneof![8 => Just(None), 1 => Just(Some(3.0))];
    let asks = if barrier {
        prop_oneof![4 => Just("either"), 1 => Just("both"), 1 => Just("none-needed")].boxed()
    } else {
        prop_oneof![4 => Just("either"), 1 => Just("both"), 1 => Just("plastic-sheet")].boxed()
    };
    let ground = prop_oneof![
        4 => Just(None),
        2 => select(vec![Some("barrier"), Some("sheet"), Some("any")]),
        1 => Just(Some("sheet-or-test")),
    ];
    let life = select(vec![15, 20]);
    (pounds, percent, body, asks, ground, life).prop_map(
        move |(pounds, percent, body, asks, ground, life)| Floor {
            pounds,
            percent,
            body,
            asks: asks.to_owned(),
            ground: ground.map(str::to_owned),
            life,
            ..Floor::usual(letter)
        },
    )
}

/// One to three floors in any order; at times one of them has a twin.
fn floors() -> impl Strategy<Value = Vec<Floor>> {
    let all = (floor('F'), floor('B'), floor('K')).prop_map(|(f, b, k)| vec![f, b, k]);
    (all.prop_shuffle(), 1..=3usize, now_and_then(15)).prop_map(|(mut all, count, twin)| {
        all.truncate(count);
        let fast = all.iter().find(|floor| floor.letter == 'F').cloned();
        if let (true, Some(fast)) = (twin, fast) {
            all.push(Floor { letter: 'G', ..fast });
        }
        all
    })
}

pub fn slab() -> impl Strategy<Value = Slab> {
    let wishes =
        subsequence(vec!["quick", "lasting", "low-price", "moisture-room"], 0..=2).prop_shuffle();
    let sheet = select(vec![Known::Yes, Known::No, Known::Unknown]);
    let area = prop_oneof![4 => Just(400.0), 1 => select(vec![60.0, 600.0, 1200.0])];
    (now_and_then(85), sheet, wishes, floors(), area, visits()).prop_map(
        |(on_ground, sheet, wishes, floors, area, visits)| Slab {
            on_ground,
            sheet,
            wishes: wishes.into_iter().map(str::to_owned).collect(),
            floors,
            paper: PAPER,
            area,
            sealed: false,
            visits,
        },
    )
}
