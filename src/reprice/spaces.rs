//! The price of a job of several spaces before and now: of all of them together, with the causes of the
//! difference.

use crate::base::money::Cents;
use crate::base::names::Key;
use crate::judge::spaces::{JudgedSpaces, judge_spaces};
use crate::price::estimate::price::Bill;
use crate::price::whole::{self, WholePrice};
use crate::read::Input;
use crate::reprice::{Cause, ChangedThing, FloorPrice, Repriced, differences};

/// The name that stands for the floors of all spaces together.
const ALL_SPACES: &str = "all-spaces";

/// A price before and after the shop's rounding step.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
struct Steps {
    unrounded: Cents,
    total: Cents,
}

/// Compares what all spaces of a job cost together, or lists it for a job that was never offered before.
/// The floors are those that come first; which they are may change, and is then a cause of its own.
pub fn reprice_spaces(before: Option<&Input>, after: &Input) -> Repriced {
    let is = floors_and_price(after);
    let was = before.map(|before| (before, floors_and_price(before)));
    let key = || Key(ALL_SPACES.to_owned());
    let total = |priced: &Priced| priced.as_ref().map(|(_, steps)| steps.total);
    let causes = match &was {
        Some((before, Some((floors, was)))) => {
            is.as_ref().map_or_else(Vec::new, |(_, is)| causes(before, after, (floors, *was), *is))
        }
        _ => vec![],
    };
    let before = was.and_then(|(_, was)| total(&was));
    let price = FloorPrice { floor: key(), before, after: total(&is), causes };
    let floors = if price.before.is_some() || price.after.is_some() { vec![price] } else { vec![] };
    Repriced {
        recommended_before: before.map(|_| key()),
        recommended_after: is.map(|_| key()),
        floors,
    }
}

/// The floor of each space, and what they cost together; `None` where no space has one with a price.
type Priced = Option<(Vec<Option<Key>>, Steps)>;

fn floors_and_price(input: &Input) -> Priced {
    let jobs = input.job.of_spaces();
    let JudgedSpaces { price, .. } = judge_spaces(input, &jobs);
    price.map(|whole| (whole.floors.clone(), steps(&whole, input)))
}

fn steps(whole: &WholePrice, input: &Input) -> Steps {
    let terms = &input.book.terms;
    let price = whole.estimate.wanted.max(terms.minimum);
    let any = Key(String::new());
    let items = whole.bill.items.clone();
    let unrounded = Bill::of(price, items, &any, &input.job, terms).total();
    Steps { unrounded, total: whole.bill.total() }
}

/// What some floors cost together; `None` where the job has not these spaces, or no such floor in one.
fn price(input: &Input, floors: &[Option<Key>]) -> Option<Steps> {
    let jobs = input.job.of_spaces();
    let offers = |(job, floor): (&crate::model::job::Job, &Option<Key>)| {
        floor.as_ref().is_none_or(|floor| job.offer.iter().any(|one| one.value == *floor))
    };
    if jobs.len() != floors.len() || !jobs.iter().zip(floors).all(offers) {
        return None;
    }
    let alone = whole::alone(input, &jobs);
    let whole = whole::whole(input, &jobs, &alone, floors.to_vec()).price?;
    Some(steps(&whole, input))
}

/// The causes in the order in which they were taken; they sum to the change.
fn causes(
    before: &Input,
    after: &Input,
    (floors, was): (&[Option<Key>], Steps),
    is: Steps,
) -> Vec<Cause> {
    let mut causes = vec![];
    let mut add = |what: ChangedThing, change: Cents| {
        if change != Cents::ZERO {
            causes.push(Cause { what, change });
        }
    };
    let mut way = before.clone();
    let mut now = was.unrounded;
    for difference in &differences::all(before, after) {
        difference.carry(&mut way, after);
        // A job that has other spaces now has no price for these floors: the job is then the last cause.
        let next = price(&way, floors).map_or(now, |steps| steps.unrounded);
        add(difference.what(before, after), next.minus(now));
        now = next;
    }
    let what =
        if price(after, floors).is_some() { ChangedThing::Floors } else { ChangedThing::Job };
    add(what, is.unrounded.minus(now));
    let rounding = is.total.minus(is.unrounded).minus(was.total.minus(was.unrounded));
    add(ChangedThing::Rounding, rounding);
    causes
}
