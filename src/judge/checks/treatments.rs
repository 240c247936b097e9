//! `treatments`: a curing compound, a densifier, silicone or wax on the slab or in it.
//!
//! Caution, one for each: like a sealer, each keeps a coat from holding until it is ground off or
//! out. Note where nobody looked or asked. Common practice, no published source.

use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::price::case::Case;

pub const CHECK: Check = Check {
    name: "treatments",
    place: FindingPlace::Slab,
    source: Source::CommonPractice,
    severities: &[Severity::Caution, Severity::Note],
    limits: &[],
    find,
};

fn find(case: &Case<'_>) -> Vec<Finding> {
    let Some(treatments) = &case.job.slab.treatments else {
        return vec![Finding::new(&CHECK, Severity::Note).value("kind", "unknown")];
    };
    let caution = |kind: &'static str| Finding::new(&CHECK, Severity::Caution).value("kind", kind);
    treatments.iter().map(|treatment| caution(treatment.word())).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::figure::Figure;
    use crate::judge::checks::testing;

    #[test]
    fn cautions_of_each_treatment() {
        let two = testing::sample().job("slab.treatments", "[\"densifier\", \"silicone\"]");
        two.expect(&CHECK, "", Severity::Caution);
        let kinds = two.values(&CHECK, "kind");
        assert_eq!(kinds, [Figure::from("densifier"), Figure::from("silicone")]);
    }

    #[test]
    fn notes_that_nobody_looked() {
        testing::sample().without("slab.treatments").expect(&CHECK, "", Severity::Note);
    }

    #[test]
    fn stays_silent_where_there_is_none() {
        testing::sample().job("slab.treatments", "[\"none\"]").expect_silent(&CHECK, "");
    }
}
