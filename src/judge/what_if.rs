//! The same job with one thing other than it is: what would come first, at what price, and when a car
//! could return. Each answer is a full run of the engine.

use crate::base::calendar::Moment;
use crate::base::money::Cents;
use crate::base::names::Key;
use crate::base::quantity::{Humidity, Mass, Mver, Share, Temperature};
use crate::judge::judge;
use crate::read::Input;
use crate::site::moisture::{hours_between, mver};

/// The thing that is other.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Other {
    /// Every dish reads this.
    Mver(Mver),
    /// Every probe reads this.
    Rh(Humidity),
    /// The slab is this warm.
    Slab(Temperature),
    /// So many persons work on it.
    Crew(u32),
    /// Everything that is bought costs so much more.
    Dearer(Share),
}

/// The answer of the engine.
#[derive(Debug, Clone, PartialEq)]
pub struct Answer {
    /// The floor that comes first; `None` where none may be offered.
    pub first: Option<Key>,
    /// It waits for a test or its maker's word.
    pub waits: bool,
    /// Its price in all.
    pub total: Option<Cents>,
    /// First moment at which a car may drive in.
    pub drive: Option<Moment>,
}

impl Other {
    /// The job as it would be. What was not measured is not made up: a reading or a slab temperature that
    /// nobody took stays unknown.
    pub fn applied_to(self, input: &Input) -> Input {
        let mut input = input.clone();
        let (job, book) = (&mut input.job, &mut input.book);
        match self {
            Self::Mver(wanted) => {
                let visits = job.moisture.visits.iter_mut();
                for dish in
                    visits.filter_map(|visit| visit.dishes.as_mut()).flat_map(|t| &mut t.dishes)
                {
                    let hours = hours_between(dish.set, dish.lifted);
                    let of_a_gram = mver(Mass::grams(1.0), dish.exposed, hours);
                    dish.after = dish.before + Mass::grams(wanted / of_a_gram);
                }
            }
            Self::Rh(wanted) => {
                let visits = job.moisture.visits.iter_mut();
                for probe in
                    visits.filter_map(|visit| visit.probes.as_mut()).flat_map(|t| &mut t.probes)
                {
                    probe.reading = wanted;
                }
            }
            Self::Slab(wanted) => job.air.iter_mut().for_each(|air| air.slab = wanted),
            Self::Crew(persons) => job.plan.crew = Some(persons),
            Self::Dearer(share) => {
                let ratio = rust_decimal::Decimal::try_from(1.0 + share.as_of_one());
                let ratio = ratio.unwrap_or(rust_decimal::Decimal::ONE);
                for product in &mut book.products {
                    product.stuff.reprice_kits(|_, price| price.times(ratio));
                }
            }
        }
        input
    }
}

/// Runs the engine on a job.
pub fn answer(input: &Input) -> Answer {
    let judged = judge(input);
    let first = judged.recommendation.floor.clone();
    let options = &judged.case.options;
    let option = options.iter().find(|option| Some(option.key()) == first.as_ref());
    Answer {
        waits: first.as_ref().is_some_and(|key| judged.recommendation.waits(key)),
        total: option.map(|option| option.quote.total),
        drive: option.map(|option| option.estimate.schedule.drive),
        first,
    }
}

/// A reading from which on another floor comes first.
#[derive(Debug, Clone, PartialEq)]
pub struct Switch<Q> {
    pub from: Q,
    /// The floor that comes first from there; `None` where none may be offered.
    pub first: Option<Key>,
    pub waits: bool,
}

/// Returns the readings at which the floor that comes first changes, from the lowest up, each to a step.
pub fn switches<Q: Copy>(
    input: &Input,
    steps: u32,
    reading: impl Fn(u32) -> Q,
    other: impl Fn(Q) -> Other,
) -> Vec<Switch<Q>> {
    let at = |step: u32| {
        let Answer { first, waits, .. } = answer(&other(reading(step)).applied_to(input));
        (first, waits)
    };
    let mut found = vec![];
    let mut from = (0, at(0));
    for coarse in (0..=steps).step_by(COARSE as usize).skip(1) {
        let here = at(coarse);
        // Between two that differ the first that differs is looked for, step by step.
        while from.1 != here {
            let mut step = from.0;
            let mut next = from.1.clone();
            while next == from.1 && step < coarse {
                step += 1;
                next = at(step);
            }
            from = (step, next.clone());
            found.push(Switch { from: reading(step), first: next.0, waits: next.1 });
        }
        from.0 = coarse;
    }
    found
}

/// Steps between two looks; what changes and changes back within so few is no answer to lean on.
const COARSE: u32 = 10;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::price::testing::sample;

    /// The sample's dishes read 1 lb; a limit of 3 lb for a plain floor of the example book is between 2 and 4.
    #[test]
    fn a_reading_is_what_the_dishes_read_then() {
        for pounds in [0.5, 2.0, 4.0, 16.0] {
            let input = Other::Mver(Mver::pounds(pounds)).applied_to(&sample().input());
            let judged = judge(&input);
            let series = judged.case.site.moisture.mver.as_ref().unwrap();
            let read: Vec<f64> = series.readings.iter().map(|one| one.value.as_pounds()).collect();
            assert!(read.iter().all(|value| (value - pounds).abs() < 1e-9), "{read:?}");
        }
    }

    /// A switch is the first step of its answer: one step below it the answer is another one.
    #[test]
    fn a_switch_is_found_to_the_step() {
        let input = sample().input();
        let reading = |step: u32| Mver::pounds(f64::from(step) / 10.0);
        let found = switches(&input, 250, reading, Other::Mver);
        assert!(!found.is_empty());
        for one in found {
            let at = |mver: Mver| answer(&Other::Mver(mver).applied_to(&input));
            let below = at(Mver::pounds(one.from.as_pounds() - 0.1));
            let here = at(one.from);
            assert_eq!((&here.first, here.waits), (&one.first, one.waits));
            assert_ne!((below.first, below.waits), (here.first, here.waits));
        }
    }

    /// A tenth more: a kit of $86.00 then costs $94.60 (by hand).
    #[test]
    fn whatever_is_bought_costs_so_much_more() {
        let kit = "product.polyurea-primer.kit.0.price";
        let input = sample().book(kit, "\"$86.00\"").input();
        let dearer = Other::Dearer(Share::percent(10.0)).applied_to(&input);
        let price = |input: &Input| {
            let product = input.book.product(&Key("polyurea-primer".into())).unwrap();
            product.stuff.kits()[0].1
        };
        assert_eq!((price(&input), price(&dearer)), (Cents(8_600), Cents(9_460)));
    }

    #[test]
    fn what_was_not_measured_stays_unknown() {
        let plain = sample().without("air").without("moisture").input();
        for other in [Other::Mver(Mver::pounds(9.0)), Other::Slab(Temperature::fahrenheit(50.0))] {
            assert_eq!(answer(&other.applied_to(&plain)), answer(&plain));
        }
    }
}
