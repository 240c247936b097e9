//! The keys for the time after the work: the handover, and failures that were seen.

use jiff::civil::Date;

use crate::base::names::Key;
use crate::base::quantity::{Area, Ph};
use crate::model::failure::{Behind, BlisterLiquid, BreakAt, FailureKind, FailurePlace};
use crate::read::keys::spec::*;
use crate::read::keys::table::*;
use crate::read::limits;
use crate::read::scalar::LongText;

keys! {
    handover = once("handover", "The handover of the floor, once it was laid: the customer walks it with you.") => {
        ON: Date = need("on", "The day on which you walk the floor together.").like("2026-06-01");
        DIFFERS: Vec<LongText> =
            set("differs", limits::HANDOVER_LINES, "Work that differs from what was agreed, in words that the customer would use.")
                .like(r#"["The strip behind the furnace stayed bare: the furnace could not be moved."]"#);
        LEFT: Vec<LongText> =
            set("left", limits::HANDOVER_LINES, "Work that is left to do, and by when.")
                .like(r#"["We fill the chip at the side door by June 8."]"#);
    }

    failure = listed("failure", "A failure of the floor, as it was seen; leave out what nobody looked at.")
        .at_most(limits::FAILURES) => {
        SEEN: Date = need("seen", "The day on which it was seen.").like("2027-04-18");
        KIND: FailureKind = need("kind", "What is seen.");
        BREAK: BreakAt =
            may("break", "Where it came apart, by the failure modes of ASTM D7234.").like("between-coats");
        COAT: Key =
            may("coat", "The coat that broke, or the upper of two that came apart, by its key.")
                .like("top");
        SPACE: String =
            may("space", "The space that it is in, by name, where the job has several.").like("Patio");
        AREA: Area = may("area", "The part of the floor that it takes.").like("2 ft2");
        PLACES: Vec<FailurePlace> = set("places", limits::LIST, "Where on the floor it shows.");
        BEHIND: Vec<Behind> =
            set("behind", limits::LIST, "What is found behind a loose piece or in a blister; `none` when somebody looked.");
        LIQUID: BlisterLiquid = may("liquid", "The liquid in a blister that was opened.");
        PH: Ph = may("ph", "The pH of that liquid, or of the concrete behind a loose piece.").like("11");
        FROM_MOISTURE: bool =
            may("from-moisture", "Moisture from the slab brought the floor loose; without it nobody has looked into it.")
                .like("false");
        NOTE: LongText = may("note", "What else was seen.").like("Three spots by the saw cut.");
    }
}
