//! `moving-crack`: cracks that move, cracks of which nobody knows, and joints that are filled.
//!
//! Caution for a crack that moves: no thin film bridges it, so it comes back. Note for one that
//! may move, and for a filled joint, whose line may show. One finding for each kind.

use crate::base::quantity::Length;
use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::model::job::{JointTreatment, Known};
use crate::price::case::Case;

pub const CHECK: Check =
    Check::new("moving-crack", FindingPlace::Slab, Source::CommonPractice, find)
        .severities(&[Severity::Caution, Severity::Note]);

fn find(case: &Case<'_>) -> Vec<Finding> {
    let shapes = &case.job.shapes;
    let cracks = |moves: Known| -> Length {
        let such = shapes.cracks.iter().filter(|crack| crack.moves == moves);
        such.map(|crack| crack.length).sum()
    };
    let filled: Length = shapes
        .joints
        .iter()
        .filter(|joint| joint.treatment == JointTreatment::Fill)
        .map(|joint| joint.length)
        .sum();
    [
        (Severity::Caution, "moves", cracks(Known::Yes)),
        (Severity::Note, "unknown", cracks(Known::Unknown)),
        (Severity::Note, "joint", filled),
    ]
    .into_iter()
    .filter(|(_, _, length)| *length > Length::ZERO)
    .map(|(severity, kind, length)| {
        Finding::new(&CHECK, severity).value("kind", kind).value("length", length)
    })
    .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::figure::Figure;
    use crate::judge::checks::testing::*;

    fn crack(moves: &str) -> Sample {
        let crack = |feet: u32| {
            format!(
                "{{ name = \"Crack\", length = \"{feet} ft\", width = \"1/16 in\", moves = \"{moves}\" }}"
            )
        };
        sample().job("crack", &format!("[{}, {}]", crack(11), crack(4)))
    }

    fn joint(treatment: &str) -> Sample {
        let joint = "name = \"Saw cut\", length = \"22 ft\"";
        sample().job("joint", &format!("[{{ {joint}, treatment = \"{treatment}\" }}]"))
    }

    #[test]
    fn fires_on_a_crack_that_moves() {
        crack("yes").expect(&CHECK, "", Severity::Caution);
        let length = crack("yes").values(&CHECK, "length");
        assert_eq!(length, [Figure::Length(Length::feet(11.0) + Length::feet(4.0))]);
    }

    #[test]
    fn fires_and_stays_silent() {
        CHECK.says([
            // Notes what is not known and what may show.
            (crack("unknown"), "", NOTE),
            (joint("fill"), "", NOTE),
            // Stays silent on dead cracks and open joints.
            (crack("no"), "", SILENT),
            (joint("honor"), "", SILENT),
            (sample(), "", SILENT),
        ]);
    }
}
