//! The keys of the measured shapes of a job, in the order in which one measures.

use crate::base::quantity::{Area, Length};
use crate::model::job::{JointTreatment, Known};
use crate::read::keys::spec::*;
use crate::read::keys::table::*;
use crate::read::limits;

/// The name of a shape.
const fn called(example: &'static str) -> TypedKey<String> {
    may("name", "What it is called on the papers.").like(example)
}

/// A length that must be there and be above zero.
pub(super) const fn length(name: &'static str, what: &'static str) -> TypedKey<Length> {
    side(name, what).needed()
}

/// A length above zero that is needed when something else is left out.
pub(super) const fn side(name: &'static str, what: &'static str) -> TypedKey<Length> {
    may(name, what).above_zero().advice("write a length above zero")
}

/// A place on the plan.
pub(super) const fn at(what: &'static str) -> TypedKey<(Length, Length)> {
    pair("at", what).like(r#"["11 ft", "11 ft"]"#)
}

/// The way of a crack or a joint.
const fn path(example: &'static str) -> TypedKey<Vec<(Length, Length)>> {
    pairs("path", 2, "Where it runs on the plan, from end to end.").like(example)
}

const OUTLINE_RULES: &[Rule] = &[
    Rule::Unless("outline", &["length", "width"], None),
    Rule::Apart("outline", "length", "give length and width, or an outline"),
    Rule::Apart("outline", "width", "give length and width, or an outline"),
];

keys! {
    area = needed_list(
        "area",
        limits::LIST,
        "A patch of floor that is coated: a rectangle or an outline.",
    )
    .advice("add an `[[area]]` table with `length` and `width`, or with `outline`")
    .rules(OUTLINE_RULES) => {
        NAME: String = called("Garage floor");
        LENGTH: Length = side("length", "How long it is, along the plan.").like("22 ft 6 in");
        WIDTH: Length = side("width", "How wide it is, across the plan.").like("21 ft");
        AT: (Length, Length) =
            pair("at", "Its corner on the plan: along first, then across.")
                .like(r#"["0 ft", "0 ft"]"#);
        OUTLINE: Vec<(Length, Length)> =
            pairs("outline", 3, "Its corners in the order in which one walks round it.").like(
                r#"[["0 ft", "0 ft"], ["22 ft", "0 ft"], ["22 ft", "21 ft"], ["0 ft", "24 ft"]]"#,
            );
    }

    cutout = listed("cutout", "A patch of floor that stays bare.").rules(OUTLINE_RULES) => {
        NAME: String = called("Furnace pad");
        LENGTH: Length = area::LENGTH.like("3 ft");
        WIDTH: Length = area::WIDTH.like("2 ft 6 in");
        AT: (Length, Length) = area::AT.like(r#"["1 ft", "18 ft"]"#);
        OUTLINE: Vec<(Length, Length)> =
            area::OUTLINE.like(r#"[["0 ft", "0 ft"], ["3 ft", "0 ft"], ["0 ft", "2 ft"]]"#);
    }

    upright = listed("upright", "An upright face that is coated, such as a stem wall.") => {
        NAME: String = called("Stem wall");
        LENGTH: Length = length("length", "How long it is.").like("38 ft");
        HEIGHT: Length = length("height", "How high it is.").like("5 in");
    }

    steps = listed("steps", "A flight of steps whose treads and risers are coated.") => {
        COUNT: u32 = need("count", "How many steps there are.");
        WIDTH: Length = length("width", "How wide they are.").like("4 ft");
        TREAD: Length = length("tread", "How deep one tread is.").like("11 in");
        RISER: Length = length("riser", "How high one riser is.").like("7 in");
        AT: (Length, Length) = at("The lower left corner of the flight on the plan.");
    }

    crack = listed("crack", "A crack in the slab.") => {
        NAME: String = called("From the door to the middle");
        LENGTH: Length = length("length", "How long it is.").like("11 ft");
        WIDTH: Length = length("width", "How wide it is.").like("1/16 in");
        MOVES: Known = may("moves", "Whether its sides move against each other.").like("no");
        PATH: Vec<(Length, Length)> = path(r#"[["11 ft", "0 ft"], ["11 ft", "11 ft"]]"#);
    }

    joint = listed("joint", "A joint or saw cut in the slab.") => {
        NAME: String = called("Saw cut across");
        LENGTH: Length = length("length", "How long it is.").like("22 ft");
        TREATMENT: JointTreatment =
            may("treatment", "It stays open in the new floor, or it is filled.");
        PATH: Vec<(Length, Length)> = path(r#"[["0 ft", "12 ft"], ["22 ft", "12 ft"]]"#);
    }

    spall = listed("spall", "A hole or a broken edge in the slab.").rules(&[
        Rule::Unless("area", &["length", "width"], None),
        Rule::Apart("area", "length", "give the area, or length and width"),
        Rule::Apart("area", "width", "give the area, or length and width"),
    ]) => {
        NAME: String = called("Hole by the door");
        LENGTH: Length = side("length", "How long it is.").like("8 in");
        WIDTH: Length = side("width", "How wide it is.").like("5 in");
        AREA: Area = may("area", "Its area, in place of length and width.").above_zero()
                .advice("write an area above zero")
                .like("40 in2");
        DEPTH: Length = length("depth", "Its mean depth.").like("1/2 in");
    }

    cove = listed("cove", "A rounded corner between floor and wall.") => {
        NAME: String = called("Along the back wall");
        LENGTH: Length = length("length", "How long it is.").like("22 ft");
        RADIUS: Length = length("radius", "Its radius.").like("1 in");
    }

    door = listed("door", "A door, for the drawing of the plan alone.") => {
        NAME: String = called("Garage door");
        FROM: (Length, Length) =
            pair("from", "One end on the plan.").needed().like(r#"["3 ft", "0 ft"]"#);
        TO: (Length, Length) =
            pair("to", "The other end on the plan.").needed().like(r#"["19 ft", "0 ft"]"#);
    }
}
