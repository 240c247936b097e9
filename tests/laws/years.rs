//! Costs over years: what any prices, lives and rates must keep to.

use crate::chance::tried;
use proptest::prelude::*;
use rust_decimal::Decimal;
use slableaf::base::money::Cents;
use slableaf::base::names::Key;
use slableaf::price::even_chance::STEP;
use slableaf::price::years::{
    AfterDamp, Cheapest, CostRange, FloorYears, Outlook, Renewal, Story, YearRange,
};

fn price() -> impl Strategy<Value = Cents> {
    (100i64..=20_000).prop_map(|tens| Cents(tens * STEP.0))
}

fn years() -> impl Strategy<Value = YearRange> {
    (1u32..=30, 0u32..=20).prop_map(|(from, more)| (from, from + more))
}

fn floor(nth: usize) -> impl Strategy<Value = FloorYears> {
    let renewal = prop::option::of((years(), price()));
    let renewal = renewal.prop_map(|some| some.map(|(every, price)| Renewal { every, price }));
    (price(), years(), price(), any::<bool>(), renewal).prop_map(
        move |(now, life, again, has_barrier, renewal)| FloorYears {
            floor: Key(format!("floor-{nth}")),
            now,
            life,
            again,
            has_barrier,
            renewal,
        },
    )
}

fn outlook() -> impl Strategy<Value = Outlook> {
    let after = (price(), years(), price()).prop_map(|(redo, life, again)| AfterDamp {
        floor: Key("barrier".to_owned()),
        redo,
        life,
        again,
    });
    (1u32..=60, 0i64..=2000, (floor(0), floor(1), floor(2)), after).prop_map(
        |(count, rate, (a, b, c), after)| Outlook {
            count,
            rate: Decimal::new(rate, 4),
            floors: vec![a, b, c],
            after_damp: Some(after),
        },
    )
}

fn stories(count: u32) -> [Story; 4] {
    [Story::Dry, Story::Damp(1), Story::Damp(count), Story::Renewed]
}

/// The floors with lives out of their ranges that are set.
fn settled(outlook: &Outlook, at: [u32; 3]) -> Outlook {
    let mut settled = outlook.clone();
    for (floor, at) in settled.floors.iter_mut().zip(at) {
        let one =
            |(from, to): YearRange| (from + at % (to - from + 1), from + at % (to - from + 1));
        floor.life = one(floor.life);
        if let Some(renewal) = &mut floor.renewal {
            renewal.every = one(renewal.every);
        }
    }
    settled
}

proptest! {
    #![proptest_config(tried(300))]

    /// Without a rate a floor costs its price and, of the same floor laid again, the years that are counted.
    #[test]
    fn without_a_rate_later_floors_cost_by_the_year(
        outlook in outlook(), life in 1u32..=60, price in price(),
    ) {
        let floor = FloorYears {
            life: (life, life), again: price, renewal: None, ..outlook.floors[0].clone()
        };
        let outlook = Outlook { rate: Decimal::ZERO, ..outlook };
        let later = i64::from(outlook.count.saturating_sub(life));
        let wanted = floor.now.0 as f64 + price.0 as f64 * later as f64 / f64::from(life);
        let CostRange { least, most } = outlook.cost(&floor, Story::Dry);
        prop_assert_eq!(least, most);
        prop_assert!((least.0 as f64 - wanted).abs() <= STEP.0 as f64, "{least:?} {wanted}");
    }

    #[test]
    fn a_floor_with_a_barrier_costs_the_same_damp_and_dry(outlook in outlook(), year in 1u32..=60) {
        let floor = FloorYears { has_barrier: true, ..outlook.floors[0].clone() };
        prop_assert_eq!(outlook.cost(&floor, Story::Damp(year)), outlook.cost(&floor, Story::Dry));
        // What comes after the count changes nothing.
        let plain = FloorYears { has_barrier: false, ..floor };
        let late = Story::Damp(outlook.count + year);
        prop_assert_eq!(outlook.cost(&plain, late), outlook.cost(&plain, Story::Dry));
    }

    /// A floor that surely costs the least does so whatever each floor lasts within its range.
    #[test]
    fn surely_is_sure(outlook in outlook(), at in prop::array::uniform3(0u32..=20)) {
        for story in stories(outlook.count) {
            let Some(Cheapest::Surely(first, by)) = outlook.cheapest(story) else { continue };
            let settled = settled(&outlook, at);
            let cost = |floor: &FloorYears| settled.cost(floor, story);
            let (own, others): (Vec<_>, Vec<_>) =
                settled.floors.iter().partition(|floor| floor.floor == first);
            let next = others.iter().map(|floor| cost(floor).least).min().unwrap();
            let ahead = next.minus(cost(own[0]).most);
            // A life between two points of the comparison may differ from them by little.
            prop_assert!(ahead.0 >= by.least.0 - next.0 / 20 - STEP.0, "{story:?}: {ahead:?} {by:?}");
        }
    }

    /// The years of a bar are all of the count, one after the other.
    #[test]
    fn the_years_of_a_bar_are_all_that_are_counted(outlook in outlook()) {
        for stretches in [outlook.by_damp_year(), outlook.by_years_counted(Story::Dry)] {
            let mut next = 1;
            for stretch in stretches {
                prop_assert_eq!(stretch.from, next);
                prop_assert!(stretch.to >= stretch.from);
                next = stretch.to + 1;
            }
            prop_assert_eq!(next, outlook.count + 1);
        }
    }

    #[test]
    fn no_cost_is_below_the_price_of_today(outlook in outlook()) {
        for story in stories(outlook.count) {
            for floor in &outlook.floors {
                let CostRange { least, most } = outlook.cost(floor, story);
                prop_assert!(floor.now <= least && least <= most, "{story:?} {floor:?}");
            }
        }
    }
}
