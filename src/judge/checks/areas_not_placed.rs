//! `areas-not-placed`: areas whose places on the plan are not written down, so that a side that two of
//! them share is counted as an edge.
//!
//! Note, for the shop alone: hand grinding is priced along every edge, and only the shop knows which
//! areas lie side by side.

use crate::base::figure::Figure;
use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::price::case::Case;
use crate::site::take_off::places_known;

pub const CHECK: Check = Check::new("areas-not-placed", FindingPlace::Shop, Source::Shop, find)
    .severities(&[Severity::Note]);

fn find(case: &Case<'_>) -> Vec<Finding> {
    let areas = &case.job.shapes.areas;
    if places_known(areas) {
        return vec![];
    }
    let unplaced = areas.iter().filter(|area| !area.placed).count();
    let finding = CHECK
        .note()
        .measured(case.site.take_off.edge)
        .value("areas", Figure::Count(areas.len() as u32))
        .value("unplaced", Figure::Count(unplaced as u32));
    vec![finding]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;

    fn second(place: &str) -> Sample {
        let first = r#"{ length = "22 ft", width = "22 ft", at = ["0 ft", "0 ft"] }"#;
        sample()
            .job("area", &format!("[{first}, {{ length = \"8 ft\", width = \"5 ft\"{place} }}]"))
    }

    #[test]
    fn fires_and_stays_silent() {
        CHECK.says([
            // Fires when one of two areas has no place.
            (second(""), "", NOTE),
            // Stays silent about one area and about placed ones.
            (sample(), "", SILENT),
            (second(r#", at = ["22 ft", "0 ft"]"#), "", SILENT),
        ]);
    }

    /// Of three areas the last two have no place.
    #[test]
    fn counts_the_areas_without_a_place() {
        let third = ", { length = \"4 ft\", width = \"5 ft\"";
        let three = second(&format!(" }}{third}"));
        assert_eq!(three.values(&CHECK, "areas"), [Figure::Count(3)]);
        assert_eq!(three.values(&CHECK, "unplaced"), [Figure::Count(2)]);
    }
}
