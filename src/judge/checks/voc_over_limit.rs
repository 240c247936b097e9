//! `voc-over-limit`: the VOC content of each coat against the limit where the shop works.
//!
//! Stop when a coat is over it: such a coat may not be sold or put down there. A coat at the
//! limit keeps it. A coat whose content is not known is a caution, one for each floor. The limit
//! is the shop's setting; without one `voc-limit-unset` speaks.

use crate::base::quantity::Content;
use crate::judge::checks::{
    Check, Finding, FindingPlace, Severity, Source, coats_with, each_floor,
};
use crate::price::case::{Case, FloorOption};

pub const CHECK: Check = Check::new("voc-over-limit", FindingPlace::Safety, Source::Shop, find)
    .severities(&[Severity::Stop, Severity::Caution]);

fn find(case: &Case<'_>) -> Vec<Finding> {
    let Some(limit) = case.shop.limits.voc else { return vec![] };
    let over = each_floor(case, |option| over(option, limit));
    [over, each_floor(case, |option| unknown(option, limit))].concat()
}

/// The coats over the limit, with the highest content among them.
fn over(choice: &FloorOption<'_>, limit: Content) -> Option<Finding> {
    let known = choice.floor.resins().filter_map(|(_, resin)| resin.voc);
    let highest = known.max_by(|a, b| a.order(*b)).filter(|voc| *voc > limit)?;
    let coats = coats_with(&choice.floor, |resin| resin.voc.is_some_and(|voc| voc > limit));
    Some(CHECK.stop().measured(highest).limit(limit).names("coats", coats))
}

fn unknown(choice: &FloorOption<'_>, limit: Content) -> Option<Finding> {
    let coats = coats_with(&choice.floor, |resin| resin.voc.is_none());
    let finding = CHECK.caution().limit(limit);
    (!coats.is_empty()).then(|| finding.names("coats", coats))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::figure::Figure;
    use crate::judge::checks::testing::*;

    /// A primer of 60 g/L under a topcoat of 85 g/L.
    fn limit(content: &str) -> Sample {
        sample().shop("limits.voc", content)
    }

    #[test]
    fn fires_and_stays_silent() {
        let unknown = sample().without_book("product.polyurea-primer.voc");
        let unset = sample().without_shop("limits.voc");
        CHECK.says([
            // Stops a floor with a coat over the limit.
            (limit("\"84 g/L\""), "fast-cure", STOP),
            // Stays silent at the limit and below.
            (limit("\"85 g/L\""), "fast-cure", SILENT),
            (limit("\"84 g/L\""), "clear-epoxy", SILENT),
            // Cautions when a content is not known.
            (unknown.clone(), "fast-cure", CAUTION),
            (unknown, "barrier", SILENT),
            // Has nothing to compare without a limit.
            (unset.without_book("product.polyurea-primer.voc"), "fast-cure", SILENT),
        ]);
    }

    #[test]
    fn names_the_coats_that_are_over_and_no_other() {
        let coats = |content: &str| {
            let found = limit(content).findings(&CHECK).into_iter();
            let mut of_it = found.filter(|f| f.option.as_ref().is_some_and(|o| o.0 == "fast-cure"));
            of_it.next().unwrap().values.into_iter().find(|(name, _)| *name == "coats").unwrap().1
        };
        let names = |names: &[&str]| Figure::Texts(names.iter().map(|n| (*n).to_owned()).collect());
        assert_eq!(coats("\"60 g/L\""), names(&["Polyaspartic topcoat"]));
        assert_eq!(
            coats("\"59 g/L\""),
            names(&["Fast-cure polyurea primer", "Polyaspartic topcoat"])
        );
    }
}
