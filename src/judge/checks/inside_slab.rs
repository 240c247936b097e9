//! `inside-slab`: cables under tension, tubes, wires or pipes cast into the slab.
//!
//! Caution where something is there, and where nobody knows: a cable under tension that is cut can
//! kill, and a drill finds tubes and wires. No drilling, coring, chasing or cutting before the slab
//! was scanned. Common practice, no published source; the scan belongs to a licensed trade.

use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::price::case::Case;

pub const CHECK: Check =
    Check::new("inside-slab", FindingPlace::Safety, Source::CommonPractice, find)
        .severities(&[Severity::Caution]);

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
    use crate::judge::checks::testing::*;

    #[test]
    fn cautions_of_what_is_there_and_of_what_nobody_knows() {
        let inside = |kinds: &str| sample().job("slab.inside", kinds);
        let cables = inside("[\"post-tension-cables\"]");
        assert_eq!(cables.values(&CHECK, "kind"), [Figure::from("post-tension-cables")]);
        let unknown = sample().without("slab.inside");
        assert_eq!(unknown.values(&CHECK, "kind"), [Figure::from("unknown")]);
        CHECK.says([(cables, "", CAUTION), (inside("[\"none\"]"), "", SILENT)]);
    }
}
