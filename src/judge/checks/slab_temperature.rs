//! `slab-temperature`: the slab as measured against the range of each coat's data sheet.
//!
//! Caution: the slab may be warmed or another day chosen, so the offer stands, but not at this
//! temperature. The coat named is the one that is furthest out of its range.

use crate::base::figure::Figure;
use crate::base::quantity::Temperature;
use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::price::case::{Case, FloorOption};

pub const CHECK: Check = Check::new("slab-temperature", FindingPlace::Air, Source::DataSheet, find)
    .severities(&[Severity::Caution]);

fn find(case: &Case<'_>) -> Vec<Finding> {
    let Some(visit) = &case.job.air else { return vec![] };
    let outside = |option| [too_cold(option, visit.slab), too_warm(option, visit.slab)];
    let found = case.options.iter().flat_map(outside).flatten();
    found.map(|finding| finding.value("day", visit.measured)).collect()
}

fn too_cold(option: &FloorOption<'_>, slab: Temperature) -> Option<Finding> {
    let cold = option.floor.resins().filter(|(_, resin)| slab < resin.slab_from);
    let (coat, resin) = cold.max_by(|(_, a), (_, b)| a.slab_from.order(b.slab_from))?;
    Some(finding(option, &coat.product.name, slab, resin.slab_from).value("too", "cold"))
}

fn too_warm(option: &FloorOption<'_>, slab: Temperature) -> Option<Finding> {
    let warm = option.floor.resins().filter(|(_, resin)| slab > resin.slab_to);
    let (coat, resin) = warm.min_by(|(_, a), (_, b)| a.slab_to.order(b.slab_to))?;
    Some(finding(option, &coat.product.name, slab, resin.slab_to).value("too", "warm"))
}

fn finding(option: &FloorOption<'_>, coat: &str, slab: Temperature, limit: Temperature) -> Finding {
    CHECK
        .caution()
        .about(option)
        .measured(Figure::Temperature(slab))
        .limit(Figure::Temperature(limit))
        .value("coat", coat)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;

    fn slab(temperature: &str) -> Sample {
        sample().job("air.slab", &format!("\"{temperature}\""))
    }

    #[test]
    fn fires_and_stays_silent() {
        CHECK.says([
            // The sample book's ranges: barrier epoxy 50 to 90 F, fast-cure primer and top 35 to 95 F.
            (slab("49 F"), "barrier", CAUTION),
            (slab("91 F"), "barrier", CAUTION),
            (slab("34 F"), "fast-cure", CAUTION),
            (slab("50 F"), "barrier", SILENT),
            (slab("90 F"), "barrier", SILENT),
            (slab("49 F"), "fast-cure", SILENT),
            (sample().without("air"), "barrier", SILENT),
        ]);
    }

    #[test]
    fn names_the_coat_that_is_furthest_out() {
        let barrier_alone = slab("34 F").job("offer", "[\"barrier\"]");
        let coat = barrier_alone.values(&CHECK, "coat");
        assert_eq!(coat, [Figure::from("Moisture-vapor-barrier epoxy")]);
    }
}
