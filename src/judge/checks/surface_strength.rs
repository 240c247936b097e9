//! `surface-strength`: the concrete's pull-off strength against what the first coat asks for.
//!
//! Stop below the figure of the data sheet or of the shop: whatever is laid comes off with the
//! concrete under it. Below our own usual figure, which nobody has verified, it is a caution. Note
//! where it was not tested.

use crate::base::figure::Figure;
use crate::base::quantity::Strength;
use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::price::case::Case;

pub const CHECK: Check = Check {
    name: "surface-strength",
    place: FindingPlace::Slab,
    source: Source::DataSheet,
    severities: &[Severity::Stop, Severity::Caution, Severity::Note],
    limits: &[("usual", Figure::Strength(USUAL))],
    find,
};

/// What a first coat usually wants when neither its data sheet nor the shop names a figure. From
/// memory and not verified: the lowest class of SSPC-SP 13/NACE No. 6, meant for minimal traffic; a
/// garage with cars may need more. So nothing stops by it.
const USUAL: Strength = Strength::psi(200.0);
const USUAL_SOURCE: &str = "SSPC-SP 13/NACE No. 6, the lowest class";

fn find(case: &Case<'_>) -> Vec<Finding> {
    let Some(strength) = case.job.slab.strength else {
        return vec![Finding::new(&CHECK, Severity::Note)];
    };
    let mut found = vec![];
    for option in &case.options {
        let sheet = option.floor.first().and_then(|resin| resin.strength_from);
        let (whose, limit, source, severity) = match (sheet, case.book.prep.strength_from) {
            (Some(limit), _) => ("sheet", limit, Source::DataSheet, Severity::Stop),
            (None, Some(limit)) => ("shop", limit, Source::Shop, Severity::Stop),
            (None, None) => ("usual", USUAL, Source::Unverified(USUAL_SOURCE), Severity::Caution),
        };
        if strength < limit {
            let finding = Finding::new(&CHECK, severity).about(option);
            found.push(finding.measured(strength).limit(limit).by(source).value("whose", whose));
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::{self, Sample};

    fn pulled(strength: &str) -> Sample {
        testing::sample().job("slab.surface-strength", &format!("\"{strength}\""))
    }

    #[test]
    fn fires_below_the_sheets_strength() {
        pulled("199 psi").expect(&CHECK, "fast-cure", Severity::Stop);
        pulled("240 psi").book("product.barrier-epoxy.strength-from", "\"250 psi\"").expect(
            &CHECK,
            "barrier",
            Severity::Stop,
        );
    }

    #[test]
    fn stays_silent_from_there_on() {
        pulled("200 psi").expect_silent(&CHECK, "fast-cure");
    }

    #[test]
    fn stops_nothing_by_a_figure_of_our_own() {
        let no_strength = |pull| pulled(pull).without_book("product.polyurea-primer.strength-from");
        no_strength("199 psi").expect(&CHECK, "fast-cure", Severity::Caution);
        no_strength("200 psi").expect_silent(&CHECK, "fast-cure");
        let own = |pull| no_strength(pull).book("prep.strength-from", "\"250 psi\"");
        own("249 psi").expect(&CHECK, "fast-cure", Severity::Stop);
        own("250 psi").expect_silent(&CHECK, "fast-cure");
    }

    #[test]
    fn notes_a_slab_that_was_not_tested() {
        testing::sample().without("slab.surface-strength").expect(&CHECK, "", Severity::Note);
    }
}
