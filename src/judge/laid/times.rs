//! The moments at which a floor may really be used, from the real end and temperature of its last coat.

use jiff::civil::DateTime;

use crate::base::quantity::Temperature;
use crate::judge::laid::CoatAsLaid;
use crate::price::case::{Case, FloorOption};
use crate::price::cure::{CureBasis, cure_at};
use crate::price::schedule::in_use_after;

/// Moments of use, reckoned as the plan reckons them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RealTimes {
    /// The moment at which the last of the last coat was down.
    pub done: DateTime,
    /// True where nobody wrote its end down: its start and as long as was planned for it.
    pub done_reckoned: bool,
    pub walk: DateTime,
    pub carry: DateTime,
    pub drive: DateTime,
    /// The temperature that the times are for.
    pub slab: Temperature,
    pub basis: CureBasis,
}

/// The moments after the last record of the last liquid coat; `None` where that coat is not recorded on the
/// whole floor, its temperature is not known, or its data sheet has no times for it.
pub fn real_times(
    case: &Case<'_>,
    option: &FloorOption<'_>,
    coats: &[CoatAsLaid<'_>],
) -> Option<RealTimes> {
    let last = coats
        .iter()
        .rev()
        .find(|coat| coat.coat.resin().is_some() && (coat.agreed || !coat.records.is_empty()))?;
    let resin = last.coat.resin().filter(|_| last.is_recorded())?;
    let calendar = &case.shop.calendar;
    let planned = option.estimate.schedule.laid(&last.coat.spec.key);
    let ends = last.records.iter().map(|one| {
        let record = one.record;
        let reckoned =
            planned.map(|planned| calendar.after(record.start, planned.to.0 - planned.from.0));
        Some((record.end.or(reckoned)?, record.end.is_none()))
    });
    let ends: Vec<(DateTime, bool)> = ends.collect::<Option<_>>()?;
    let (done, done_reckoned) = ends.into_iter().max_by_key(|(end, _)| *end)?;
    // The coldest part takes the longest.
    let slabs: Option<Vec<Temperature>> = last.records.iter().map(|one| one.record.slab).collect();
    let slab = slabs?.into_iter().min_by(|a, b| a.order(*b))?;
    let cure = cure_at(resin, slab).ok()?;
    let after = in_use_after(&cure.times);
    Some(RealTimes {
        done,
        done_reckoned,
        walk: calendar.after(done, after.walk),
        carry: calendar.after(done, after.carry),
        drive: calendar.after(done, after.drive),
        slab,
        basis: cure.basis,
    })
}
