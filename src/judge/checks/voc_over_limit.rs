//! `voc-over-limit`: the VOC content of each coat against the limit where the shop works.
//!
//! Stop when a coat is over it: such a coat may not be sold or put down there. A coat at the
//! limit keeps it. A coat whose content is not known is a caution, one for each floor. The limit
//! is the shop's setting; without one `voc-limit-unset` speaks.

use crate::base::figure::Figure;
use crate::base::quantity::Content;
use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source, coats_with};
use crate::price::case::{Case, FloorOption};

pub const CHECK: Check = Check {
    name: "voc-over-limit",
    place: FindingPlace::Safety,
    source: Source::Shop,
    severities: &[Severity::Stop, Severity::Caution],
    limits: &[],
    find,
};

fn find(case: &Case<'_>) -> Vec<Finding> {
    let Some(limit) = case.shop.limits.voc else { return vec![] };
    let over = case.options.iter().filter_map(|choice| over(choice, limit));
    let unknown = case.options.iter().filter_map(|choice| unknown(choice, limit));
    over.chain(unknown).collect()
}

/// The coats over the limit, with the highest content among them.
fn over(choice: &FloorOption<'_>, limit: Content) -> Option<Finding> {
    let known = choice.floor.resins().filter_map(|(_, resin)| resin.voc);
    let highest = known.max_by(|a, b| a.order(*b)).filter(|voc| *voc > limit)?;
    let coats = coats_with(&choice.floor, |resin| resin.voc.is_some_and(|voc| voc > limit));
    Some(
        Finding::new(&CHECK, Severity::Stop)
            .about(choice)
            .measured(highest)
            .limit(limit)
            .value("coats", Figure::Texts(coats)),
    )
}

fn unknown(choice: &FloorOption<'_>, limit: Content) -> Option<Finding> {
    let coats = coats_with(&choice.floor, |resin| resin.voc.is_none());
    let finding = Finding::new(&CHECK, Severity::Caution).about(choice).limit(limit);
    (!coats.is_empty()).then(|| finding.value("coats", Figure::Texts(coats)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::{self, Sample};

    /// A primer of 60 g/L under a topcoat of 85 g/L.
    fn limit(content: &str) -> Sample {
        testing::sample().shop("limits.voc", content)
    }

    #[test]
    fn stops_a_floor_with_a_coat_over_the_limit() {
        limit("\"84 g/L\"").expect(&CHECK, "fast-cure", Severity::Stop);
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

    #[test]
    fn stays_silent_at_the_limit_and_below() {
        limit("\"85 g/L\"").expect_silent(&CHECK, "fast-cure");
        limit("\"84 g/L\"").expect_silent(&CHECK, "clear-epoxy");
    }

    #[test]
    fn cautions_when_a_content_is_not_known() {
        let unknown = testing::sample().without_book("product.polyurea-primer.voc");
        unknown.expect(&CHECK, "fast-cure", Severity::Caution);
        unknown.expect_silent(&CHECK, "barrier");
    }

    #[test]
    fn has_nothing_to_compare_without_a_limit() {
        let unset = testing::sample().without_shop("limits.voc");
        unset.without_book("product.polyurea-primer.voc").expect_silent(&CHECK, "fast-cure");
    }
}
