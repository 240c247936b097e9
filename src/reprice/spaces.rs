//! The price of a job of several spaces before and now: of all of them together, with the causes of the
//! difference.

use crate::base::money::Cents;
use crate::base::names::Key;
use crate::issued::Facts;
use crate::judge::spaces::{JudgedSpaces, judge_spaces};
use crate::model::space::Space;
use crate::price::estimate::price::Bill;
use crate::price::whole::{self, WholePrice};
use crate::read::Input;
use crate::reprice::{Cause, CauseKind, ChangedThing, FloorPrice, Repriced, differences};

/// The name that stands for the floors of all spaces together.
pub(super) const ALL_SPACES: &str = "all-spaces";

/// A price before and after the shop's rounding step, and the part of it that each space has.
#[derive(Debug, Clone, Default, PartialEq)]
struct Steps {
    unrounded: Cents,
    total: Cents,
    shares: Vec<Cents>,
}

/// Compares what the spaces of a job cost, together and each, or lists it for a job that was never offered
/// before. The floors are those that come first; which they are may change, and is then a cause of its own.
pub fn reprice_spaces(before: Option<&Input>, after: &Input) -> Repriced {
    let is = floors_and_price(after);
    let was = before.map(|before| (before, floors_and_price(before)));
    let key = || Key(ALL_SPACES.to_owned());
    let total = |priced: &Priced| priced.as_ref().map(|(_, steps)| steps.total);
    let causes = match &was {
        Some((before, Some((floors, was)))) => is.as_ref().map(|(_, is)| {
            let change = Change { before, after, floors, was, is };
            change.causes()
        }),
        _ => None,
    };
    let (whole, each) = causes.unwrap_or_default();
    let was_each = was.as_ref().map_or_else(Vec::new, |(input, was)| by_space(input, was));
    let is_each = by_space(after, &is);
    let before_total = was.as_ref().and_then(|(_, was)| total(was));
    let all = FloorPrice { floor: key(), before: before_total, after: total(&is), causes: whole };
    let mut floors = vec![];
    if all.before.is_some() || all.after.is_some() {
        floors.push(all);
    }
    for (at, floor, before) in &was_each {
        let same = is_each.iter().find(|(_, now, _)| now == floor);
        let causes = each.get(*at).filter(|_| same.is_some()).cloned().unwrap_or_default();
        let after = same.map(|(.., after)| *after);
        floors.push(FloorPrice { floor: floor.clone(), before: Some(*before), after, causes });
    }
    for (_, floor, after) in is_each {
        if !was_each.iter().any(|(_, was, _)| *was == floor) {
            floors.push(FloorPrice::plain(floor, None, Some(after)));
        }
    }
    Repriced {
        recommended_before: before.map(|_| key()),
        recommended_after: is.map(|_| key()),
        floors,
    }
}

/// The floor of each space that has one, by the place of the space, with its part of the price.
fn by_space(input: &Input, priced: &Priced) -> Vec<(usize, Key, Cents)> {
    let Some((floors, steps)) = priced else { return vec![] };
    let spaces = input.job.spaces.iter().zip(floors).zip(&steps.shares).enumerate();
    let floor = |(at, ((space, floor), share)): (usize, ((&Space, &Option<Key>), &Cents))| {
        let floor = floor.as_ref()?;
        Some((at, Key(Facts::in_space(&space.place.name, &floor.0)), *share))
    };
    spaces.filter_map(floor).collect()
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
    let shares = whole.shares.iter().map(|share| share.total()).collect();
    Steps { unrounded, total: whole.bill.total(), shares }
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

/// A change of the prices of some floors, one for each space.
struct Change<'a> {
    before: &'a Input,
    after: &'a Input,
    floors: &'a [Option<Key>],
    was: &'a Steps,
    is: &'a Steps,
}

impl Change<'_> {
    /// The causes in the order in which they were taken, those of the whole and those of each space; they sum
    /// to the change. The rounding of the whole is a cause of its own; a share is rounded at each step.
    fn causes(&self) -> (Vec<Cause>, Vec<Vec<Cause>>) {
        let Self { before, after, floors, was, is } = *self;
        let mut causes = vec![];
        let mut each = vec![vec![]; was.shares.len()];
        let mut now = was.clone();
        let add = |causes: &mut Vec<Cause>, what: &ChangedThing, change: Cents| {
            if change != Cents::ZERO {
                causes.push(Cause { what: what.clone(), change });
            }
        };
        let mut take = |what: ChangedThing, next: &Steps| {
            add(&mut causes, &what, next.unrounded.minus(now.unrounded));
            for (at, of_space) in each.iter_mut().enumerate() {
                let share = |steps: &Steps| steps.shares.get(at).copied().unwrap_or_default();
                add(of_space, &what, share(next).minus(share(&now)));
            }
            now = next.clone();
        };
        let mut way = before.clone();
        for difference in &differences::all(before, after) {
            difference.carry(&mut way, after);
            // A job that has other spaces now has no price for these floors: the job is then the last cause.
            if let Some(next) = price(&way, floors) {
                take(difference.what(before, after), &next);
            }
        }
        let priced = price(after, floors).is_some();
        take(if priced { CauseKind::Floors } else { CauseKind::Job }.into(), is);
        let rounding = is.total.minus(is.unrounded).minus(was.total.minus(was.unrounded));
        add(&mut causes, &CauseKind::Rounding.into(), rounding);
        (causes, each)
    }
}
