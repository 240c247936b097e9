//! `slept-in`: people who sleep in a room that is coated, or beside it.
//!
//! Caution for a basement or a room where people sleep, or of which nobody has said: who sleeps there
//! breathes what fresh coats give off for hours, and does not wake from it. Silent where the job says that
//! nobody does. Common practice, no published source; the safety data sheets rule.

use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::price::case::Case;

pub const CHECK: Check = Check::new("slept-in", FindingPlace::Safety, Source::CommonPractice, find)
    .severities(&[Severity::Caution]);

fn find(case: &Case<'_>) -> Vec<Finding> {
    let place = case.job.place.as_ref().filter(|place| place.kind.is_in_house());
    let slept = place.map(|place| place.slept_in);
    match slept {
        Some(slept @ (None | Some(true))) => {
            vec![CHECK.caution().yes_no("known", slept == Some(true))]
        }
        _ => vec![],
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;

    #[test]
    fn fires_where_people_sleep_or_nobody_has_said() {
        CHECK.says([
            (sample().in_space("room", "daylight = true, slept-in = true"), "", CAUTION),
            (sample().in_space("basement", "daylight = false"), "", CAUTION),
            (sample().in_space("basement", "daylight = false, slept-in = false"), "", SILENT),
            (sample().in_space("garage", "daylight = false"), "", SILENT),
            (sample(), "", SILENT),
        ]);
    }
}
