//! A job of several spaces, each with its findings and its recommended floor.
//!
//! What is recommended in a space hangs on prices, and prices on what is recommended in the others. So
//! the whole is worked out for the floors that each space would have by itself, judged, and worked out
//! anew where that recommends other floors, until it holds.

use crate::base::money::Cents;
use crate::base::names::Key;
use crate::judge::{ExceededLimit, Judged, judged};
use crate::model::job::Job;
use crate::price::case::{Case, FloorOption};
use crate::price::whole::{self, WholePrice};
use crate::read::{Input, limits};

/// A job of several spaces, priced as a whole and judged space by space.
#[derive(Debug, Clone)]
pub struct JudgedSpaces<'a> {
    /// In the order of the job. Quotes are what a floor costs in its space.
    pub spaces: Vec<Judged<'a>>,
    /// `None` where no space has a floor with a price.
    pub price: Option<WholePrice>,
}

/// Times that the whole is worked out anew for other floors in all spaces at once. Where prices still chase each
/// other, one space at a time goes on: each such step makes the whole cheaper where prices decide.
const ROUNDS: usize = 5;
/// Steps of one space at a time, for each space. A chase without end is possible in theory; the floors that came
/// last are then taken.
const STEPS: usize = 4;

/// Computes and judges every space of a job; `jobs` are those of [`Job::of_spaces`].
pub fn judge_spaces<'a>(input: &'a Input, jobs: &'a [Job]) -> JudgedSpaces<'a> {
    let alone = whole::alone(input, jobs);
    let mut floors = first_floors(&alone.iter().cloned().map(judged).collect::<Vec<_>>());
    let mut round = 1;
    loop {
        let whole = whole::whole(input, jobs, &alone, floors.clone());
        let spaces: Vec<Judged<'a>> = whole.spaces.into_iter().map(judged).collect();
        let now = first_floors(&spaces);
        if now == floors || round == ROUNDS + STEPS * jobs.len() {
            return JudgedSpaces { spaces, price: whole.price };
        }
        floors = if round < ROUNDS { now } else { one_step(input, jobs, &alone, &floors, &now) };
        round += 1;
    }
}

/// The floors with that of one space as it comes first now: of the spaces that have another one, the one with
/// which the whole costs the least.
fn one_step(
    input: &Input,
    jobs: &[Job],
    alone: &[Case<'_>],
    floors: &[Option<Key>],
    now: &[Option<Key>],
) -> Vec<Option<Key>> {
    let others = (0..floors.len()).filter(|at| floors[*at] != now[*at]);
    let steps = others.map(|at| {
        let mut next = floors.to_vec();
        next[at].clone_from(&now[at]);
        next
    });
    let total = |floors: &Vec<Option<Key>>| {
        let price = whole::whole(input, jobs, alone, floors.clone()).price;
        price.map_or(Cents(i64::MAX), |price| price.bill.total())
    };
    steps.min_by_key(total).unwrap_or_else(|| now.to_vec())
}

/// Computes and judges every space for floors that were chosen, one for each space; a space without one is
/// not laid.
pub fn judge_chosen<'a>(
    input: &'a Input,
    jobs: &'a [Job],
    floors: Vec<Option<Key>>,
) -> JudgedSpaces<'a> {
    let alone = whole::alone(input, jobs);
    let whole = whole::whole(input, jobs, &alone, floors);
    JudgedSpaces { spaces: whole.spaces.into_iter().map(judged).collect(), price: whole.price }
}

/// The floor that comes first in each space, whether it is recommended or waits.
fn first_floors(spaces: &[Judged<'_>]) -> Vec<Option<Key>> {
    spaces.iter().map(|judged| judged.recommendation.floor.clone()).collect()
}

impl<'a> Judged<'a> {
    /// The floor that comes first, whether it is recommended or waits.
    pub fn first(&self) -> Option<&FloorOption<'a>> {
        self.case.options.iter().find(|one| self.recommendation.puts_first(one.key()))
    }
}

impl<'a> JudgedSpaces<'a> {
    /// What all spaces cost with the floors that come first, with items and discount, tax included; zero
    /// where none has one.
    pub fn total(&self) -> Cents {
        let spaces = self.spaces.iter().filter_map(Judged::first).map(|floor| floor.quote.total);
        let beside = self.price.as_ref().map_or(Cents::ZERO, WholePrice::beside);
        spaces.sum::<Cents>().plus(beside)
    }

    /// Days on which the crew comes, for the floors that come first.
    pub fn days(&self) -> u32 {
        self.price.as_ref().map_or(0, |price| price.estimate.days)
    }

    /// The limit that a floor, or the whole, exceeds.
    pub fn exceeded_limit(&self) -> Option<ExceededLimit> {
        let floor = self.spaces.iter().find_map(Judged::exceeded_limit);
        let capped = self.price.as_ref().is_some_and(|price| price.bill.capped);
        floor
            .or_else(|| (self.days() > limits::DAYS).then_some(ExceededLimit::Days))
            .or_else(|| capped.then_some(ExceededLimit::Discount))
    }
}
