//! `slab-on-ground-no-barrier`: a slab on the ground, no vapor retarder known to be under it, and
//! a first coat that is no barrier.
//!
//! Caution: some makers ask for one of the two, and a low reading today does not promise a low one
//! next year. A note when the reading is clear of the floor's limit: then it must not decide
//! between floors, since many such slabs stay dry. Never a stop.

use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source, each_floor};
use crate::model::job::Known;
use crate::price::case::Case;
use crate::site::standing::Standing;

// That some makers' instructions ask for a barrier here: no published source.
pub const CHECK: Check =
    Check::new("slab-on-ground-no-barrier", FindingPlace::Moisture, Source::CommonPractice, find)
        .severities(&[Severity::Caution, Severity::Note]);

fn find(case: &Case<'_>) -> Vec<Finding> {
    let slab = &case.job.slab;
    let retarder = match slab.retarder {
        Known::Yes => return vec![],
        Known::No => "no",
        Known::Unknown => "unknown",
    };
    if !slab.on_ground {
        return vec![];
    }
    each_floor(case, |option| {
        if option.floor.has_barrier() {
            return None;
        }
        let clear = option.moisture.standing == Standing::Clear;
        let finding = if clear { CHECK.note() } else { CHECK.caution() };
        let silent = option.floor.first().is_some_and(|resin| resin.ground_contact.is_none());
        let sheet = if silent { "silent" } else { "speaks" };
        Some(finding.value("retarder", retarder).value("sheet", sheet))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::figure::Figure;
    use crate::judge::checks::testing::*;

    #[test]
    fn fires_and_stays_silent() {
        let none = || sample().job("slab.vapor-retarder", "\"no\"");
        CHECK.says([
            // Fires without retarder and barrier.
            (none(), "fast-cure", NOTE),
            (none().mver(&[2.9, 1.0, 1.0]), "fast-cure, clear-epoxy", CAUTION),
            // Stays silent with a retarder, a barrier or off the ground.
            (sample(), "fast-cure", SILENT),
            (none(), "barrier", SILENT),
            (none().job("slab.on-ground", "false"), "fast-cure", SILENT),
        ]);
    }

    #[test]
    fn says_so_when_the_retarder_is_not_known() {
        for unknown in [
            sample().job("slab.vapor-retarder", "\"unknown\""),
            sample().without("slab.vapor-retarder"),
        ] {
            unknown.expect(&CHECK, "fast-cure", Severity::Note);
            assert_eq!(unknown.values(&CHECK, "retarder")[0], Figure::from("unknown"));
        }
    }
}
