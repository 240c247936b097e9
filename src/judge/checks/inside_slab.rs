//! `inside-slab`: cables under tension, tubes, wires or pipes cast into the slab.
//!
//! Caution where something is there, and where nobody knows: a cable under tension that is cut can
//! kill, and a drill finds tubes and wires. No drilling, coring, chasing or cutting before the slab
//! was scanned. Common practice, no published source; the scan belongs to a licensed trade.

use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::price::case::Case;

pub const CHECK: Check = Check {
    name: "inside-slab",
    place: FindingPlace::Safety,
    source: Source::CommonPractice,
    severities: &[Severity::Caution],
    limits: &[],
    find,
};

fn find(case: &Case<'_>) -> Vec<Finding> {
    let caution = |kind: &'static str| CHECK.caution().value("kind", kind);
    match &case.job.slab.inside {
        None => vec![caution("unknown")],
        Some(things) => things.iter().map(|thing| caution(thing.word())).collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::figure::Figure;
    use crate::judge::checks::testing;

    #[test]
    fn cautions_of_what_is_there_and_of_what_nobody_knows() {
        let cables = testing::sample().job("slab.inside", "[\"post-tension-cables\"]");
        cables.expect(&CHECK, "", Severity::Caution);
        assert_eq!(cables.values(&CHECK, "kind"), [Figure::from("post-tension-cables")]);
        let unknown = testing::sample().without("slab.inside");
        assert_eq!(unknown.values(&CHECK, "kind"), [Figure::from("unknown")]);
    }

    #[test]
    fn stays_silent_where_nothing_is_known_to_be_there() {
        testing::sample().job("slab.inside", "[\"none\"]").expect_silent(&CHECK, "");
    }
}
