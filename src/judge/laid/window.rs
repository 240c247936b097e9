//! The time between two coats as they were laid, against the window of the data sheet of the lower one.

use jiff::civil::DateTime;

use crate::base::calendar::Calendar;
use crate::base::names::choices;
use crate::base::quantity::{Hours, Temperature};
use crate::judge::checks::Limit;
use crate::model::book::{Cure, Resin};
use crate::model::job::CoatRecord;
use crate::price::cure::cure_at;

choices! {
    /// Standing of a coat to the window of the coat below it.
    WindowKept {
        Kept = "kept",
        /// It was laid before the coat below may be coated.
        Early = "early",
        /// It was laid after the coat below may be coated without abrading.
        Late = "late",
        /// A time or a temperature is missing, or the data sheet has no times for it.
        NotKnown = "not-known",
    }
}

/// A coat's time over the one below, and the window that it was held against.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WindowAsLaid {
    pub kept: WindowKept,
    /// From the end of the coat below to the start of this one; `None` where its end is not known.
    pub waited: Option<Hours>,
    /// The earliest and the latest time of the data sheet, at the temperatures that were written down.
    pub from: Option<Hours>,
    pub to: Option<Hours>,
}

const NOT_KNOWN: WindowAsLaid =
    WindowAsLaid { kept: WindowKept::NotKnown, waited: None, from: None, to: None };

/// Watches on a site differ: a window is missed by more than this.
pub const CLOCKS: Limit<Hours> = Limit::common_practice(Hours::minutes(5.0));

/// Holds the start of a record against every record of the coat below it. A coat in parts keeps the window
/// only where every part does: nobody wrote down which part lies on which.
pub fn window(
    calendar: &Calendar,
    resin_below: &Resin,
    below: &[&CoatRecord],
    record: &CoatRecord,
) -> WindowAsLaid {
    let held = below.iter().map(|below| over_one(calendar, resin_below, below, record));
    let rank = |kept: WindowKept| match kept {
        WindowKept::Early => 3,
        WindowKept::Late => 2,
        WindowKept::NotKnown => 1,
        WindowKept::Kept => 0,
    };
    let worse = |worst: WindowAsLaid, one: WindowAsLaid| {
        if rank(one.kept) > rank(worst.kept) { one } else { worst }
    };
    held.reduce(worse).unwrap_or(NOT_KNOWN)
}

fn over_one(
    calendar: &Calendar,
    resin: &Resin,
    below: &CoatRecord,
    record: &CoatRecord,
) -> WindowAsLaid {
    let waited = below.end.map(|end| calendar.between(end, record.start));
    let Some(sheet) = sheet_times(resin, below, record) else {
        return WindowAsLaid { waited, ..NOT_KNOWN };
    };
    // Without its end, the coat below was done at its start at the earliest.
    let at_most = calendar.between(below.end.unwrap_or(below.start), record.start);
    let earliest = |pick: fn(Hours, Hours) -> Hours| pick_of(&sheet, |row| row.recoat_from, pick);
    let latest = |pick: fn(Hours, Hours) -> Hours| pick_of(&sheet, |row| row.recoat_to, pick);
    let (from, to) = (earliest(Hours::max), latest(Hours::min));
    let surely_early = at_most + CLOCKS.value < earliest(Hours::min);
    let surely_late = waited.is_some_and(|waited| waited > latest(Hours::max) + CLOCKS.value);
    let surely_kept =
        waited.is_some_and(|waited| waited + CLOCKS.value >= from && waited <= to + CLOCKS.value);
    let kept = if surely_early {
        WindowKept::Early
    } else if surely_late {
        WindowKept::Late
    } else if surely_kept {
        WindowKept::Kept
    } else {
        WindowKept::NotKnown
    };
    WindowAsLaid { kept, waited, from: Some(from), to: Some(to) }
}

/// The times of the coat below at its own temperature and at that of the surface when it was coated. `None`
/// where its own is not known, or the data sheet has no times for one of them.
fn sheet_times(resin: &Resin, below: &CoatRecord, record: &CoatRecord) -> Option<Vec<Cure>> {
    let temperatures: [Option<Temperature>; 2] = [Some(below.slab?), record.slab];
    let times = temperatures.into_iter().flatten();
    times.map(|slab| cure_at(resin, slab).ok().map(|cure| cure.times)).collect()
}

fn pick_of(rows: &[Cure], time: fn(&Cure) -> Hours, pick: fn(Hours, Hours) -> Hours) -> Hours {
    rows.iter().map(time).reduce(pick).unwrap_or(Hours::ZERO)
}

/// The records of the coat below that lie under a later one: a pass over all of it covers those before.
pub fn uncovered<'r>(records: &[&'r CoatRecord], before: DateTime) -> Vec<&'r CoatRecord> {
    let mut open = vec![];
    for record in records.iter().rev().filter(|record| record.start < before) {
        open.push(*record);
        if record.again && record.area.is_none() {
            break;
        }
    }
    open.reverse();
    open
}
