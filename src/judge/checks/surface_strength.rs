//! `surface-strength`: the concrete's pull-off strength against what the first coat asks for.
//!
//! Stop below the figure of the data sheet or of the shop: whatever is laid comes off with the
//! concrete under it. Below our own usual figure, which nobody has verified, it is a caution. Note
//! where it was not tested.

use crate::base::figure::Figure;
use crate::base::quantity::Strength;
use crate::judge::checks::{Check, Finding, FindingPlace, Limit, Severity, Source, each_floor};
use crate::price::case::Case;

pub const CHECK: Check = Check {
    limits: &[("usual", USUAL.shown(Figure::Strength(USUAL.value)))],
    ..Check::new("surface-strength", FindingPlace::Slab, Source::DataSheet, find).severities(&[
        Severity::Stop,
        Severity::Caution,
        Severity::Note,
    ])
};

/// The strength that a first coat usually wants when neither its data sheet nor the shop names one.
/// That class is meant for minimal traffic; a garage with cars may need more. Nothing stops by it.
const USUAL: Limit<Strength> =
    Limit::new(Strength::psi(200.0), Source::Unverified("SSPC-SP 13/NACE No. 6, the lowest class"));

fn find(case: &Case<'_>) -> Vec<Finding> {
    let Some(strength) = case.job.slab.strength else { return vec![CHECK.note()] };
    let shop = case.book.prep.strength_from.map(|from| Limit::new(from, Source::Shop));
    each_floor(case, |option| {
        let sheet = option.floor.first().and_then(|resin| resin.strength_from);
        let limit = shop.unwrap_or(USUAL).unless(sheet);
        let (whose, finding): (_, fn() -> Finding) = match limit.source {
            Source::DataSheet => ("sheet", || CHECK.stop()),
            Source::Shop => ("shop", || CHECK.stop()),
            _ => ("usual", || CHECK.caution()),
        };
        let found = || finding().measured(strength).limit(limit.value).by(limit.source);
        (strength < limit.value).then(|| found().value("whose", whose))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;

    fn pulled(strength: &str) -> Sample {
        sample().job("slab.surface-strength", &format!("\"{strength}\""))
    }

    #[test]
    fn fires_and_stays_silent() {
        let no_strength = |pull| pulled(pull).without_book("product.polyurea-primer.strength-from");
        let own = |pull| no_strength(pull).book("prep.strength-from", "\"250 psi\"");
        CHECK.says([
            (pulled("199 psi"), "fast-cure", STOP),
            (
                pulled("240 psi").book("product.barrier-epoxy.strength-from", "\"250 psi\""),
                "barrier",
                STOP,
            ),
            (pulled("200 psi"), "fast-cure", SILENT),
            // Stops nothing by a figure of our own.
            (no_strength("199 psi"), "fast-cure", CAUTION),
            (no_strength("200 psi"), "fast-cure", SILENT),
            (own("249 psi"), "fast-cure", STOP),
            (own("250 psi"), "fast-cure", SILENT),
            // Notes a slab that was not tested.
            (sample().without("slab.surface-strength"), "", NOTE),
        ]);
    }
}
