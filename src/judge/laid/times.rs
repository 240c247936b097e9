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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::names::Key;
    use crate::judge::checks::testing::{BARRIER, Sample, TOP, laid};
    use crate::judge::laid::floor_as_laid;
    use crate::model::system::SystemCoat;
    use crate::price::case::case;
    use jiff::civil::date;

    fn times(sample: &Sample) -> Option<RealTimes> {
        sample.with_case(|case| floor_as_laid(&case).unwrap().times)
    }

    /// Nobody may be told when to drive on a floor whose last coat nobody wrote down.
    #[test]
    fn without_its_last_coat_a_floor_has_no_times() {
        assert_eq!(times(&laid(&[BARRIER])), None);
        let done = times(&laid(&[BARRIER, TOP])).unwrap();
        assert_eq!((done.done, done.done_reckoned), (date(2026, 5, 27).at(9, 40, 0, 0), false));
        assert_eq!(times(&laid(&[BARRIER, &TOP.replace(", slab = \"68 F\"", "")])), None);
        // Flake that is thrown into the last coat has no times of its own.
        let mut input = laid(&[BARRIER, TOP]).input();
        let barrier = input.systems.iter_mut().find(|system| system.key.0 == "barrier").unwrap();
        let thrown = SystemCoat { key: Key("thrown".into()), ..barrier.coats[1].clone() };
        barrier.coats.push(thrown);
        assert_eq!(floor_as_laid(&case(&input)).unwrap().times, Some(done));
        // Half of it is not the floor.
        let half = TOP.replace("used =", "area = \"242 ft2\", used =");
        assert_eq!(times(&laid(&[BARRIER, &half])), None);
    }

    /// Laid in two parts: times run from the later end, at the colder of both slabs.
    #[test]
    fn of_two_parts_the_later_and_the_colder_count() {
        let part = |hour: &str, slab: &str| {
            TOP.replace("used =", "area = \"242 ft2\", used =")
                .replace("T09:", &format!("T{hour}:"))
                .replace("slab = \"68 F\"", &format!("slab = \"{slab}\""))
        };
        let parts = [part("10", "60 F"), part("13", "70 F")];
        let both = times(&laid(&[BARRIER, &parts[0], &parts[1]])).unwrap();
        assert_eq!(both.done, date(2026, 5, 27).at(13, 40, 0, 0));
        assert_eq!(both.slab, Temperature::fahrenheit(60.0));
        let whole = TOP.replace("T09:", "T13:").replace("slab = \"68 F\"", "slab = \"60 F\"");
        let whole = times(&laid(&[BARRIER, &whole])).unwrap();
        assert_eq!((both.walk, both.carry, both.drive), (whole.walk, whole.carry, whole.drive));
    }

    /// A coat that was laid though nobody had agreed to it is the last one all the same.
    #[test]
    fn an_extra_coat_that_was_laid_is_the_last() {
        let coat = |key: &str, day: u32| {
            format!(
                "{{ coat = \"{key}\", start = 2026-05-{day}T09:00:00, end = 2026-05-{day}T09:40:00, \
                 air = \"70 F\", humidity = \"50 %\", slab = \"68 F\", used = \"4.2 gal\" }}"
            )
        };
        let (primer, top, urethane) = (coat("primer", 25), coat("top", 26), coat("urethane", 27));
        let clear = |records: &[&str]| {
            times(&laid(records).job("accepted.floor", "\"clear-epoxy\"")).unwrap().done.date()
        };
        let agreed = |sample: Sample| {
            sample.with_case(|case| {
                let coats = floor_as_laid(&case).unwrap().coats;
                coats.iter().map(|coat| coat.agreed).collect::<Vec<_>>()
            })
        };
        let all = laid(&[&primer, &top, &urethane]).job("accepted.floor", "\"clear-epoxy\"");
        assert_eq!(agreed(all.clone()), [true, true, true, false]);
        // A signed order makes it part of the floor.
        let order = "[{ additions = [\"urethane-coat\"], revision = 1, on = 2026-05-21 }]";
        assert_eq!(agreed(all.job("order", order)), [true; 4]);
        assert_eq!(clear(&[&primer, &top]), date(2026, 5, 26));
        assert_eq!(clear(&[&primer, &top, &urethane]), date(2026, 5, 27));
    }
}
