//! `surface-ph`: the pH of the slab's surface against the range on a coat's data sheet.
//!
//! Stop outside the range; note where a data sheet has one and nobody measured.

use crate::base::figure::Figure;
use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::price::case::Case;

pub const CHECK: Check = Check {
    name: "surface-ph",
    place: FindingPlace::Slab,
    source: Source::DataSheet,
    severities: &[Severity::Stop, Severity::Note],
    limits: &[],
    find,
};

fn find(case: &Case<'_>) -> Vec<Finding> {
    let mut found = vec![];
    for option in &case.options {
        let Some((from, to)) = option.floor.first().and_then(|resin| resin.ph) else { continue };
        let about = |severity| Finding::new(&CHECK, severity).about(option);
        match case.job.slab.ph {
            None => found.push(
                about(Severity::Note).value("from", Figure::Ph(from)).value("to", Figure::Ph(to)),
            ),
            Some(ph) if ph < from || ph > to => {
                let limit = if ph < from { from } else { to };
                found.push(
                    about(Severity::Stop)
                        .measured(Figure::Ph(ph))
                        .limit(Figure::Ph(limit))
                        .value("from", Figure::Ph(from))
                        .value("to", Figure::Ph(to)),
                );
            }
            Some(_) => {}
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::{self, Sample};

    fn range() -> Sample {
        testing::sample()
            .book("product.polyurea-primer.ph-from", "6")
            .book("product.polyurea-primer.ph-to", "11")
    }

    #[test]
    fn stops_outside_the_range_of_the_data_sheet() {
        range().job("slab.ph", "11.5").expect(&CHECK, "fast-cure", Severity::Stop);
        range().job("slab.ph", "5.5").expect(&CHECK, "fast-cure", Severity::Stop);
    }

    #[test]
    fn notes_that_nobody_measured() {
        range().expect(&CHECK, "fast-cure", Severity::Note);
    }

    #[test]
    fn stays_silent_within_the_range_and_without_one() {
        range().job("slab.ph", "11").expect_silent(&CHECK, "fast-cure");
        range().job("slab.ph", "12").expect_silent(&CHECK, "barrier");
    }
}
