//! The cheapest mix of kit sizes that covers a need.

use std::cmp::Ordering;

use crate::base::money::Cents;
use crate::base::quantity::{Mass, Volume, whole_up};
use crate::model::book::Kit;

/// Number of kits of each size to buy, in the order of the sizes, their cost, and the amount left
/// over beyond the need.
#[derive(Debug, Clone, PartialEq)]
pub struct KitChoice<Q> {
    pub counts: Vec<u32>,
    pub cost: Cents,
    pub leftover: Q,
}

/// A quantity that comes in kits.
pub trait KitQuantity:
    Copy
    + PartialOrd
    + Default
    + std::ops::Add<Output = Self>
    + std::ops::Sub<Output = Self>
    + std::ops::Mul<f64, Output = Self>
    + std::ops::Div<Output = f64>
{
}

impl KitQuantity for Volume {}
impl KitQuantity for Mass {}

/// Chooses kits for a need: least cost; among equals the least left over; among those the fewest
/// pails.
///
/// Tries mixes, the cheapest size by content first and many of it first, and leaves out every
/// branch that could not get cheaper even if its missing part were bought at the best rate left.
/// `sizes` must not be empty and no size may be zero, which the input checks.
pub fn choose<Q: KitQuantity>(sizes: &[Kit<Q>], need: Q) -> KitChoice<Q> {
    let zero = Q::default();
    let mut search =
        Search { sizes, order: vec![], counts: vec![0; sizes.len()], best: None, steps: 0 };
    let mut order: Vec<usize> = (0..sizes.len()).collect();
    order.sort_by(|&a, &b| search.rate(a, need).total_cmp(&search.rate(b, need)).then(a.cmp(&b)));
    search.order = order;
    search.go(0, if need < zero { zero } else { need }, Cents::ZERO);
    search.best.unwrap_or(KitChoice { counts: search.counts, cost: Cents::ZERO, leftover: zero })
}

/// Mixes that are looked at. A garage needs hundreds; the bound keeps absurd input from taking
/// for ever, with the best mix found so far.
const MOST_STEPS: u32 = 500_000;

/// Leftovers nearer to each other than this share of a pail are the same.
const SAME_SHARE: f64 = 1e-6;

struct Search<'s, Q> {
    sizes: &'s [Kit<Q>],
    /// Positions of the sizes, the best rate first.
    order: Vec<usize>,
    counts: Vec<u32>,
    best: Option<KitChoice<Q>>,
    steps: u32,
}

impl<Q: KitQuantity> Search<'_, Q> {
    /// Cents for the whole need at a size's rate: a bound, never a price.
    fn rate(&self, at: usize, need: Q) -> f64 {
        need / self.sizes[at].size * self.sizes[at].price.0 as f64
    }

    fn go(&mut self, depth: usize, missing: Q, spent: Cents) {
        self.steps += 1;
        let zero = Q::default();
        let Some(&at) = self.order.get(depth) else { return self.offer(missing, spent) };
        if missing <= zero || whole_up(missing / self.sizes[at].size) == 0 {
            return self.offer(missing, spent);
        }
        if let Some(best) = &self.best
            && (spent.0 as f64 + self.rate(at, missing) > best.cost.0 as f64 + 0.5
                || self.steps > MOST_STEPS)
        {
            return;
        }
        let kit = &self.sizes[at];
        let most = whole_up(missing / kit.size);
        let last = depth + 1 == self.order.len();
        for count in (if last { most } else { 0 }..=most).rev() {
            if self.steps > MOST_STEPS && self.best.is_some() {
                break;
            }
            self.counts[at] = count;
            let missing = missing - kit.size * f64::from(count);
            self.go(depth + 1, missing, spent.plus(kit.price.each(count)));
        }
        self.counts[at] = 0;
    }

    fn offer(&mut self, missing: Q, cost: Cents) {
        let zero = Q::default();
        let over = zero - missing;
        let leftover = if over > zero { over } else { zero };
        let better = self.best.as_ref().is_none_or(|best| {
            let smallest =
                self.sizes.iter().map(|kit| kit.size).reduce(|a, b| if b < a { b } else { a });
            let apart = smallest.map_or(0.0, |size| (leftover - best.leftover) / size);
            let by_rest =
                if apart.abs() < SAME_SHARE { Ordering::Equal } else { apart.total_cmp(&0.0) };
            let pails = |counts: &[u32]| counts.iter().map(|count| u64::from(*count)).sum::<u64>();
            cost.cmp(&best.cost)
                .then(by_rest)
                .then(pails(&self.counts).cmp(&pails(&best.counts)))
                .is_lt()
        });
        if better {
            self.best = Some(KitChoice { counts: self.counts.clone(), cost, leftover });
        }
    }
}
