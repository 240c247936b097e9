//! `dew-point-spread`: how far the slab lay above the dew point, against what the offered coats
//! ask for.
//!
//! Caution, never a stop: it is a condition of the day of work, not of the offer. One finding for
//! the job, by the strictest coat.

use crate::base::figure::Figure;
use crate::base::quantity::Degrees;
use crate::judge::checks::{Check, Finding, FindingPlace, Limit, Severity, Source};
use crate::price::case::Case;
use crate::site::dew_point::LEAST_SPREAD;

pub const CHECK: Check = Check {
    limits: &[("spread", Limit::new(Figure::Degrees(LEAST_SPREAD), SOURCE))],
    ..Check::new("dew-point-spread", FindingPlace::Air, SOURCE, find)
        .severities(&[Severity::Caution])
};

const SOURCE: Source = Source::Published("MIL-HDBK-1110, section 9.6.6");

/// The error of a thermometer in use: a spread that passes the limit by less is at the limit,
/// and nobody can tell on which side. It stops nothing.
const THERMOMETER: Limit<Degrees> = Limit::common_practice(Degrees::fahrenheit(1.0));
/// Last bits of binary arithmetic.
const SLACK: Degrees = Degrees::kelvin(1e-6);
/// A spread nearer to the limit than this may print as the limit itself; then it is not printed,
/// and the value `just_under` tells.
const SAME_IN_PRINT: Degrees = Degrees::kelvin(0.06);

fn find(case: &Case<'_>) -> Vec<Finding> {
    let (Some(air), Some(visit)) = (&case.site.air, &case.job.air) else { return vec![] };
    let asked = case
        .options
        .iter()
        .flat_map(|option| option.floor.resins())
        .map(|(_, resin)| resin.dew_spread.unwrap_or(LEAST_SPREAD));
    let needed = asked.reduce(Degrees::max).unwrap_or(LEAST_SPREAD);
    if air.spread + SLACK >= needed + THERMOMETER.value {
        return vec![];
    }
    let at_limit = air.spread + SLACK >= needed;
    let just_under = !at_limit && needed - air.spread < SAME_IN_PRINT;
    let mut finding = CHECK
        .caution()
        .limit(needed)
        .value("slab", Figure::Temperature(air.slab))
        .value("dew_point", Figure::Temperature(air.dew_point))
        .value("day", visit.measured)
        .yes_no("at_limit", at_limit)
        .yes_no("just_under", just_under)
        .yes_no("wet", air.spread <= Degrees::ZERO);
    if !just_under && !at_limit {
        finding = finding.measured(air.spread);
    }
    vec![finding]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;

    fn air(temperature: &str, humidity: &str, slab: &str) -> Sample {
        let quoted = |value: &str| format!("\"{value}\"");
        sample()
            .job("air.temperature", &quoted(temperature))
            .job("air.humidity", &quoted(humidity))
            .job("air.slab", &quoted(slab))
    }

    #[test]
    fn fires_and_stays_silent() {
        CHECK.says([
            // Dew points by psychrolib 2.5.0 (ASHRAE equations): 60.19, 53.82, 50.53, 74.12 F.
            (air("75 F", "60 %", "62 F"), "", CAUTION),
            (air("60 F", "80 %", "58 F"), "", CAUTION),
            // Stays silent well above five degrees.
            (air("70 F", "50 %", "57 F"), "", SILENT),
            // Goes by the strictest sheet.
            // 5.47 F of spread: enough by the handbook, too little for a sheet that asks for 6.
            (
                air("70 F", "50 %", "56 F").book("product.polyaspartic-top.dew-spread", "\"6 F\""),
                "",
                CAUTION,
            ),
            // Leaves unknown air to its own check.
            (sample().without("air"), "", SILENT),
        ]);
    }

    /// 5.008 F above the dew point, where 5 F are asked for, is no pass.
    #[test]
    fn a_spread_that_a_thermometer_cannot_tell_from_the_limit_is_at_the_limit() {
        let at = air("70 F", "50 %", "55.53 F");
        at.expect(&CHECK, "", Severity::Caution);
        assert_eq!(at.values(&CHECK, "at_limit"), [Figure::from("yes")]);
        air("70 F", "50 %", "56.6 F").expect_silent(&CHECK, "");
    }

    #[test]
    fn tells_a_wet_slab_from_a_near_miss() {
        let wet = |sample: Sample| sample.values(&CHECK, "wet");
        assert_eq!(wet(air("85 F", "70 %", "70 F")), [Figure::from("yes")]);
        assert_eq!(wet(air("60 F", "80 %", "58 F")), [Figure::from("no")]);
        let found = &air("85 F", "70 %", "70 F").findings(&CHECK)[0];
        assert!(found.says_yes("wet") && !found.says_yes("at_limit") && !found.says_yes("slab"));
    }

    #[test]
    fn never_prints_the_limit_as_too_little() {
        // 70 F and 50 % have their dew point at 50.51 F by the formula that is used here.
        let near = air("70 F", "50 %", "55.49 F");
        assert_eq!(near.values(&CHECK, "just_under"), [Figure::from("yes")]);
        assert_eq!(near.findings(&CHECK)[0].measured, None);
    }
}
