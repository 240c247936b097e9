//! `skin-allergy`: epoxy and amines, which can make skin allergic for good.
//!
//! Names the coats of all floors and the fillers of this slab in which the book has one, and those of
//! which it does not say. Always a caution, one for the whole job: no floor of either chemistry is
//! free of what harms skin while it is fresh, so it may not count against one.

use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source, fillers, names_once};
use crate::model::book::Skin;
use crate::price::case::Case;

pub const CHECK: Check = Check::new("skin-allergy", FindingPlace::Safety, Source::DataSheet, find)
    .severities(&[Severity::Caution]);

fn find(case: &Case<'_>) -> Vec<Finding> {
    let (known, unsaid) = (products(case, Skin::Allergy), products(case, Skin::NotSaid));
    if known.is_empty() && unsaid.is_empty() {
        return vec![];
    }
    vec![CHECK.caution().names("products", known).names("unsaid", unsaid)]
}

/// Names of what goes onto this slab, each once: coats in the order of the offer, then fillers.
fn products(case: &Case<'_>, skin: Skin) -> Vec<String> {
    let coats = case.options.iter().flat_map(|option| &option.floor.coats);
    let all = coats.map(|coat| coat.product).chain(fillers(case));
    names_once(all.filter(|product| product.skin() == skin))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::figure::Figure;
    use crate::judge::checks::testing::{self, Sample};

    fn kit() -> Sample {
        testing::sample().job("offer", "[\"water-kit\"]")
    }

    fn names(sample: &Sample, kind: &str) -> Vec<Figure> {
        sample.values(&CHECK, kind)
    }

    #[test]
    fn names_what_the_book_says_for_the_whole_job() {
        kit().expect(&CHECK, "", Severity::Caution);
        let coats = ["Water-based epoxy", "Thin clear coat"].map(String::from).to_vec();
        assert_eq!(names(&kit(), "products"), [Figure::Texts(coats)]);
        assert!(names(&kit(), "unsaid").is_empty());
    }

    #[test]
    fn names_a_filler_of_this_slab() {
        let cove = kit().job("cove", "[{ length = \"10 ft\", radius = \"1 in\" }]");
        let Figure::Texts(named) = &names(&cove, "products")[0] else { panic!() };
        assert_eq!(named.last().map(String::as_str), Some("Thickened cove resin"));
    }

    #[test]
    fn what_is_not_said_is_not_none() {
        let unsaid = kit().without_book("product.water-clear.sensitizers");
        let coats = vec!["Thin clear coat".to_owned()];
        assert_eq!(names(&unsaid, "unsaid"), [Figure::Texts(coats)]);
    }

    #[test]
    fn stays_silent_where_all_data_sheets_name_nothing() {
        let none = kit()
            .book("product.water-epoxy.sensitizers", "[]")
            .book("product.water-clear.sensitizers", "[]");
        none.expect_silent(&CHECK, "water-kit");
    }
}
