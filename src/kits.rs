//! The cheapest mix of kit sizes that covers a need.

use crate::book::Kit;
use crate::money::Cents;
use crate::quantity::whole_up;

/// How many of each size to buy, in the order of the sizes, what that costs, and what is left
/// over beyond the need.
#[derive(Debug, Clone, PartialEq)]
pub struct KitChoice<Q> {
    pub counts: Vec<u32>,
    pub cost: Cents,
    pub leftover: Q,
}

/// A quantity that comes in kits.
pub trait Stock: Copy + PartialOrd + Default + std::ops::Sub<Output = Self> + std::ops::Add<Output = Self> + std::ops::Mul<f64, Output = Self> + std::ops::Div<Output = f64> {}

impl<Q> Stock for Q where
    Q: Copy
        + PartialOrd
        + Default
        + std::ops::Sub<Output = Q>
        + std::ops::Add<Output = Q>
        + std::ops::Mul<f64, Output = Q>
        + std::ops::Div<Output = f64>
{
}

/// Chooses kits for a need: least cost; among equals the least left over; among those the fewest
/// pails. Tries every mix: the last size takes what is missing, so `n` sizes cost `n - 1` loops.
///
/// `sizes` must not be empty and no size may be zero, which the input checks.
pub fn choose<Q: Stock>(sizes: &[Kit<Q>], need: Q) -> KitChoice<Q> {
    let mut best: Option<KitChoice<Q>> = None;
    let mut counts = vec![0; sizes.len()];
    try_size(sizes, 0, need, Cents::ZERO, &mut counts, &mut best);
    best.unwrap_or(KitChoice { counts, cost: Cents::ZERO, leftover: Q::default() })
}

fn try_size<Q: Stock>(
    sizes: &[Kit<Q>],
    at: usize,
    missing: Q,
    spent: Cents,
    counts: &mut Vec<u32>,
    best: &mut Option<KitChoice<Q>>,
) {
    if best.as_ref().is_some_and(|best| spent > best.cost) {
        return;
    }
    let Some(kit) = sizes.get(at) else { return };
    let most = if missing <= Q::default() { 0 } else { whole_up(missing / kit.size) };
    let last = at + 1 == sizes.len();
    for count in (if last { most } else { 0 })..=most {
        counts[at] = count;
        let spent = spent.plus(kit.price.each(count));
        let missing = missing - kit.size * f64::from(count);
        if last {
            offer(missing, spent, counts, best);
        } else {
            try_size(sizes, at + 1, missing, spent, counts, best);
        }
    }
    counts[at] = 0;
}

fn offer<Q: Stock>(missing: Q, cost: Cents, counts: &[u32], best: &mut Option<KitChoice<Q>>) {
    let over = Q::default() - missing;
    let leftover = if over > Q::default() { over } else { Q::default() };
    let pails: u32 = counts.iter().sum();
    let better = best.as_ref().is_none_or(|best| {
        let by_cost = cost.cmp(&best.cost);
        let by_rest = leftover.partial_cmp(&best.leftover).unwrap_or(std::cmp::Ordering::Equal);
        by_cost.then(by_rest).then(pails.cmp(&best.counts.iter().sum())).is_lt()
    });
    if better {
        *best = Some(KitChoice { counts: counts.to_vec(), cost, leftover });
    }
}
