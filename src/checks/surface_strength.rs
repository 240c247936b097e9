//! `surface-strength`: the concrete's pull-off strength against what the first coat asks for.
//!
//! Stop below what its data sheet asks for: whatever is laid comes off with the concrete under it.
//! Where the sheet names no figure a usual one stands in, known from memory: below it is a caution.
//! Note where the slab was not tested.

use crate::checks::{Check, Finding, Place, Severity, Source};
use crate::figures::Figure;
use crate::options::Case;
use crate::quantity::Strength;

pub const CHECK: Check = Check {
    name: "surface-strength",
    place: Place::Slab,
    source: Source::DataSheet,
    severities: &[Severity::Stop, Severity::Caution, Severity::Note],
    limits: &[("usual", Figure::Strength(LIGHT_SERVICE))],
    find,
};

/// The strength that a first coat wants when its sheet names none: 200 psi, light service in
/// SSPC-SP 13/NACE No. 6 (from memory).
const LIGHT_SERVICE: Strength = Strength::psi(200.0);
const LIGHT_SERVICE_SOURCE: &str = "SSPC-SP 13/NACE No. 6, light service";

fn find(case: &Case<'_>) -> Vec<Finding> {
    let Some(strength) = case.job.slab.strength else {
        return vec![Finding::new(&CHECK, Severity::Note)];
    };
    let mut found = vec![];
    for choice in &case.options {
        let sheet = choice.floor.first().and_then(|resin| resin.strength_from);
        let limit = sheet.unwrap_or(LIGHT_SERVICE);
        if strength < limit {
            found.push(
                Finding::new(
                    &CHECK,
                    if sheet.is_some() { Severity::Stop } else { Severity::Caution },
                )
                .about(choice)
                .measured(strength)
                .limit(limit)
                .by(sheet.map_or(Source::Unverified(LIGHT_SERVICE_SOURCE), |_| Source::DataSheet))
                .value("sheet", if sheet.is_some() { "yes" } else { "no" }),
            );
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::testing::{self, Sample};

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
    fn cautions_below_light_service_where_the_sheet_names_none() {
        let no_strength = |pull| pulled(pull).without_book("product.polyurea-primer.strength-from");
        no_strength("199 psi").expect(&CHECK, "fast-cure", Severity::Caution);
        no_strength("200 psi").expect_silent(&CHECK, "fast-cure");
    }

    #[test]
    fn notes_a_slab_that_was_not_tested() {
        testing::sample().without("slab.surface-strength").expect(&CHECK, "", Severity::Note);
    }
}
