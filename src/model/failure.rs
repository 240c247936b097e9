//! A failure of a floor that was laid, as somebody saw it: the signs, and no cause.

use jiff::civil::Date;

use crate::base::names::{Key, choices};
use crate::base::quantity::{Area, Ph};
use crate::base::source::{Located, Span};

/// One failure. What nobody looked at is `None`, or an empty list of places: not known.
#[derive(Debug, Clone, PartialEq)]
pub struct Failure {
    /// The day on which it was seen.
    pub seen: Date,
    pub kind: FailureKind,
    /// The place in the stack of coats where it broke.
    pub breaks: Option<BreakAt>,
    /// The coat that the break is in, or the upper one of the two that came apart.
    pub coat: Option<Located<Key>>,
    /// The space that it is in, where the job has several.
    pub space: Option<String>,
    /// The part of the floor that it takes.
    pub area: Option<Area>,
    /// Places on the floor where it shows.
    pub places: Vec<FailurePlace>,
    /// Findings behind a loose piece, or in a blister; empty when somebody looked and found nothing.
    pub behind: Option<Vec<Behind>>,
    pub liquid: Option<BlisterLiquid>,
    /// pH of the liquid, or of the concrete behind a loose piece.
    pub ph: Option<Ph>,
    /// The shop's own word, once it has looked into it: moisture from the slab brought the floor loose.
    pub from_moisture: Option<bool>,
    pub note: Option<String>,
    pub span: Span,
}

choices! {
    /// The kind of failure, as it looks from above.
    FailureKind {
        /// Raised spots, closed all around.
        Blister = "blister",
        /// White salts on the floor, or at its joints and edges.
        Bloom = "bloom",
        LiftedEdge = "lifted-edge",
        /// Pieces that came off.
        Peeled = "peeled",
        /// Marks or loose spots where tires stood.
        TirePrint = "tire-print",
        /// A coat that stayed soft or sticky.
        Soft = "soft",
        /// A clear coat that turned cloudy.
        Whitish = "whitish",
        Yellow = "yellow",
        /// Worn through, or dull.
        Worn = "worn",
        /// A crack that came through.
        Crack = "crack",
    }

    /// The place of the break, by the failure modes of ASTM D7234.
    BreakAt {
        /// Within the concrete: concrete hangs on the piece.
        InConcrete = "in-concrete",
        /// Between the slab and the first coat.
        AtSlab = "at-slab",
        /// Between two coats.
        BetweenCoats = "between-coats",
        /// Within one coat.
        InCoat = "in-coat",
        /// Nothing came apart.
        Nowhere = "nowhere",
    }

    /// A place where a failure shows.
    FailurePlace {
        Joints = "joints",
        Cracks = "cracks",
        Tires = "tires",
        Door = "door",
        Walls = "walls",
        /// Spots with no order.
        Scattered = "scattered",
        /// All of the floor.
        Everywhere = "everywhere",
    }

    /// A thing found behind a loose piece.
    Behind {
        Nothing = "none",
        Damp = "damp",
        Salts = "salts",
        Oil = "oil",
        Dust = "dust",
        /// The milky skin of weak cement that grinding should take off.
        WeakSkin = "weak-skin",
        OldCoating = "old-coating",
    }

    /// Liquid in a blister that was opened.
    BlisterLiquid {
        Nothing = "none",
        Watery = "watery",
        /// Thick or sticky, or with a smell.
        Sticky = "sticky",
    }
}
