//! `treatments`: a curing compound, a densifier, silicone or wax on the slab or in it.
//!
//! Caution, one for each: like a sealer, each keeps a coat from holding until it is ground off or
//! out. Note where nobody looked or asked. Common practice, no published source.

use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::price::case::Case;

pub const CHECK: Check = Check::new("treatments", FindingPlace::Slab, Source::CommonPractice, find)
    .severities(&[Severity::Caution, Severity::Note]);

fn find(case: &Case<'_>) -> Vec<Finding> {
    let Some(treatments) = &case.job.slab.treatments else {
        return vec![CHECK.note().value("kind", "unknown")];
    };
    let caution = |kind: &'static str| CHECK.caution().value("kind", kind);
    treatments.iter().map(|treatment| caution(treatment.word())).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::figure::Figure;
    use crate::judge::checks::testing::*;

    #[test]
    fn cautions_of_each_treatment() {
        let two = sample().job("slab.treatments", "[\"densifier\", \"silicone\"]");
        two.expect(&CHECK, "", Severity::Caution);
        let kinds = two.values(&CHECK, "kind");
        assert_eq!(kinds, [Figure::from("densifier"), Figure::from("silicone")]);
    }

    #[test]
    fn fires_and_stays_silent() {
        CHECK.says([
            (sample().without("slab.treatments"), "", NOTE),
            // Stays silent where there is none.
            (sample().job("slab.treatments", "[\"none\"]"), "", SILENT),
        ]);
    }
}
