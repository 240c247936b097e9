//! Times of a coat at the slab's temperature, from the points of its data sheet.
//!
//! Between two points: straight in the logarithm of the time. Outside them: doubling per 10 C
//! colder (halving per 10 C warmer), a rule of thumb for epoxies and urethanes (common practice;
//! it is the Arrhenius law with about 51 kJ/mol between 20 and 30 C), and only so far as it can
//! be trusted. Below the product's own minimum there are no times at all.

use crate::base::names::choices;
use crate::base::quantity::{Degrees, Hours, Temperature};
use crate::model::book::{Cure, Resin};

/// Distance beyond the data sheet's points within which the rule of thumb is used: 15 C (27 F).
/// Common practice, no published source.
pub const REACH: Degrees = Degrees::kelvin(15.0);

/// Times double for each such step colder: the rule of thumb itself. Common practice, no published
/// source.
const DOUBLES_K: f64 = 10.0;
pub const DOUBLES: Degrees = Degrees::kelvin(DOUBLES_K);

/// Times at one temperature, and how they were found.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CureAt {
    pub times: Cure,
    pub basis: CureBasis,
}

choices! {
    /// The way in which times were found.
    #[schemars(rename = "TimesBy")]
    CureBasis {
        /// From the data sheet's points, or between two of them.
        Sheet = "sheet",
        /// Estimated beyond the points by a rule of thumb.
        Rule = "rule",
    }
}

/// The reason for which there are no times.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum NoCure {
    TooCold,
    TooWarm,
    /// Beyond what the rule of thumb may be used for.
    OutOfReach,
}

/// The times of a product on a slab at `slab`.
///
/// # Errors
/// [`NoCure`] when the slab is outside the product's range or too far from its data points.
pub fn cure_at(resin: &Resin, slab: Temperature) -> Result<CureAt, NoCure> {
    if slab < resin.slab_from {
        return Err(NoCure::TooCold);
    }
    if slab > resin.slab_to {
        return Err(NoCure::TooWarm);
    }
    let (Some(first), Some(last)) = (resin.cure.first(), resin.cure.last()) else {
        return Err(NoCure::OutOfReach);
    };
    if slab < first.at {
        return by_rule(first, slab);
    }
    if slab > last.at {
        return by_rule(last, slab);
    }
    let above = resin.cure.iter().position(|row| row.at >= slab).unwrap_or(0);
    let (low, high) = (&resin.cure[above.saturating_sub(1)], &resin.cure[above]);
    Ok(CureAt { times: between(low, high, slab), basis: CureBasis::Sheet })
}

fn between(low: &Cure, high: &Cure, slab: Temperature) -> Cure {
    let whole = (high.at - low.at).as_kelvin();
    let part = if whole > 0.0 { (slab - low.at).as_kelvin() / whole } else { 0.0 };
    map_times(slab, |time| {
        let (a, b) = (time(low).as_hours().ln(), time(high).as_hours().ln());
        Hours::hours((a * (1.0 - part) + b * part).exp())
    })
}

/// Makes the times at a temperature, each from the same time of other rows.
fn map_times(at: Temperature, of: impl Fn(fn(&Cure) -> Hours) -> Hours) -> Cure {
    Cure {
        at,
        pot_life: of(|row| row.pot_life),
        recoat_from: of(|row| row.recoat_from),
        recoat_to: of(|row| row.recoat_to),
        foot: of(|row| row.foot),
        vehicle: of(|row| row.vehicle),
    }
}

fn by_rule(point: &Cure, slab: Temperature) -> Result<CureAt, NoCure> {
    let away = (slab - point.at).as_kelvin();
    if away.abs() > REACH.as_kelvin() + 1e-9 {
        return Err(NoCure::OutOfReach);
    }
    let times = map_times(slab, |time| scaled_by_doubling(time(point), point.at, slab));
    Ok(CureAt { times, basis: CureBasis::Rule })
}

/// A time at another temperature by the doubling rule: `t x 2^((T1 - T2) / 10 C)`.
pub fn scaled_by_doubling(time: Hours, known_at: Temperature, wanted_at: Temperature) -> Hours {
    time * 2f64.powf((known_at - wanted_at).as_kelvin() / DOUBLES_K)
}
