//! `air-humidity`: the air as measured against the dampest air that each coat may be laid in.
//!
//! Caution: another day may be chosen or the air dried, so the offer stands.

use crate::base::figure::Figure;
use crate::base::quantity::Humidity;
use crate::judge::checks::{Check, Finding, FindingPlace, Limit, Severity, Source, each_floor};
use crate::price::case::Case;

pub const CHECK: Check = Check {
    limits: &[("usual", USUAL_LIMIT.shown(Figure::Humidity(USUAL_LIMIT.value)))],
    ..Check::new("air-humidity", FindingPlace::Air, Source::DataSheet, find)
        .severities(&[Severity::Caution])
};

/// The dampest air for a coat whose sheet names none.
pub const USUAL_LIMIT: Limit<Humidity> = Limit::common_practice(Humidity::percent(85.0));

fn find(case: &Case<'_>) -> Vec<Finding> {
    let Some(visit) = &case.job.air else { return vec![] };
    each_floor(case, |option| {
        let limits = option
            .floor
            .resins()
            .map(|(coat, resin)| (coat, USUAL_LIMIT.unless(resin.air_humidity_to)));
        let (coat, limit) = limits.min_by(|(_, a), (_, b)| a.value.order(b.value))?;
        (visit.humidity > limit.value).then(|| {
            CHECK
                .caution()
                .measured(Figure::Humidity(visit.humidity))
                .limit(Figure::Humidity(limit.value))
                .by(limit.source)
                .value("coat", coat.product.name.as_str())
                .value("day", visit.measured)
                .yes_no("sheet", limit.source == Source::DataSheet)
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;

    fn air(humidity: &str) -> Sample {
        sample().job("air.humidity", &format!("\"{humidity}\""))
    }

    #[test]
    fn fires_and_stays_silent() {
        let no_limit = |humidity| {
            air(humidity)
                .without_book("product.polyurea-primer.air-humidity-to")
                .without_book("product.polyaspartic-top.air-humidity-to")
        };
        CHECK.says([
            // The sample book: water-based coats to 80 %, all others to 85 %.
            (air("86 %"), "fast-cure", CAUTION),
            (air("81 %"), "water-kit", CAUTION),
            (air("85 %"), "fast-cure", SILENT),
            (air("80 %"), "water-kit", SILENT),
            (sample().without("air"), "fast-cure", SILENT),
            // Falls back on common practice.
            (no_limit("86 %"), "fast-cure", CAUTION),
            (no_limit("85 %"), "fast-cure", SILENT),
        ]);
    }
}
