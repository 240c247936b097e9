//! `moisture-over-limit`: the highest moisture reading against an option's own limit.
//!
//! Stop when the reading is over the limit by more than the doubt of scale or probe; caution when
//! the reading cannot tell the two apart, since 2.9 and 3.1 lb on a 0.1 g scale are not different.

use crate::checks::{Check, Finding, Place, Severity, Source};
use crate::figures::Figure;
use crate::options::Case;
use crate::site::moisture::{Headroom, Standing};

pub const CHECK: Check = Check {
    name: "moisture-over-limit",
    place: Place::Moisture,
    source: Source::DataSheet,
    severities: &[Severity::Stop, Severity::Caution],
    limits: &[],
    find,
};

fn find(case: &Case<'_>) -> Vec<Finding> {
    let mut found = vec![];
    for choice in &case.options {
        let mver = choice.moisture.mver.and_then(|h| finding(&h, Figure::Mver));
        let rh = choice.moisture.rh.and_then(|h| finding(&h, Figure::SlabHumidity));
        found.extend([mver, rh].into_iter().flatten().map(|finding| finding.about(choice)));
    }
    found
}

fn finding<Q: Copy>(headroom: &Headroom<Q>, figure: fn(Q) -> Figure) -> Option<Finding> {
    let severity = match headroom.standing {
        Standing::Over => Severity::Stop,
        Standing::Close => Severity::Caution,
        Standing::Clear | Standing::Unknown => return None,
    };
    let over = if severity == Severity::Stop { "yes" } else { "no" };
    Some(
        Finding::new(&CHECK, severity)
            .measured(figure(headroom.reading))
            .limit(figure(headroom.limit))
            .value("over", over),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::testing::{self, Sample};

    fn reading(pounds: f64) -> Sample {
        testing::sample().mver(&[pounds, 1.0, 1.0])
    }

    #[test]
    fn fires_over_the_limit() {
        reading(3.6).expect(&CHECK, "fast-cure", Severity::Stop);
        testing::sample().rh(&[90.0, 70.0, 70.0]).expect(&CHECK, "fast-cure", Severity::Stop);
    }

    #[test]
    fn cautions_where_the_scale_cannot_tell() {
        reading(2.9).expect(&CHECK, "fast-cure", Severity::Caution);
        reading(3.1).expect(&CHECK, "fast-cure", Severity::Caution);
    }

    #[test]
    fn stays_silent_well_below_the_limit() {
        reading(2.0).expect_silent(&CHECK, "fast-cure");
        reading(3.6).expect_silent(&CHECK, "barrier");
    }
}
