//! The keys of the measured shapes of a job.

use crate::base::quantity::{Area, Length};
use crate::model::job::{JointTreatment, Known};
use crate::read::keys::Rule::{Apart, Unless};
use crate::read::keys::job::at;
use crate::read::keys::{Key, Table, listed, may, need, needed_list};
use crate::read::limits;

/// The tables of shapes, in the order in which one measures.
pub fn shapes() -> [Table; 9] {
    [area(), cutout(), upright(), steps(), crack(), joint(), spall(), cove(), door()]
}

fn name(example: &str) -> Key {
    may::<String>("name", "What it is called on the papers.").like(example)
}

/// A length that must be there and be above zero.
fn length(name: &'static str, what: &'static str, example: &str) -> Key {
    need::<Length>(name, what).above_zero().like(example)
}

/// A length that is needed when something else is left out.
fn side(name: &'static str, what: &'static str, example: &str) -> Key {
    may::<Length>(name, what).above_zero().like(example)
}

fn path(example: &str) -> Key {
    may::<Length>("path", "Where it runs on the plan, from end to end.").pairs(2, example)
}

/// A patch of floor: a rectangle, or corners in their order.
fn patch(table: Table, [called, length, width, place, outline]: [&str; 5]) -> Table {
    table
        .keys([
            name(called),
            side("length", "How long it is, along the plan.", length),
            side("width", "How wide it is, across the plan.", width),
            may::<Length>("at", "Its corner on the plan: along first, then across.").pair(place),
            may::<Length>("outline", "Its corners in the order in which one walks round it.")
                .pairs(3, outline),
        ])
        .rules([
            Unless("outline", &["length", "width"]),
            Apart("outline", "length"),
            Apart("outline", "width"),
        ])
}

fn area() -> Table {
    patch(
        needed_list(
            "area",
            limits::LIST,
            "A patch of floor that is coated: a rectangle or an outline.",
        ),
        [
            "\"Garage floor\"",
            "\"22 ft 6 in\"",
            "\"21 ft\"",
            "[\"0 ft\", \"0 ft\"]",
            "[[\"0 ft\", \"0 ft\"], [\"22 ft\", \"0 ft\"], [\"22 ft\", \"21 ft\"], [\"0 ft\", \"24 ft\"]]",
        ],
    )
}

fn cutout() -> Table {
    patch(
        listed("cutout", "A patch of floor that stays bare."),
        [
            "\"Furnace pad\"",
            "\"3 ft\"",
            "\"2 ft 6 in\"",
            "[\"1 ft\", \"18 ft\"]",
            "[[\"0 ft\", \"0 ft\"], [\"3 ft\", \"0 ft\"], [\"0 ft\", \"2 ft\"]]",
        ],
    )
}

fn upright() -> Table {
    listed("upright", "An upright face that is coated, such as a stem wall.").keys([
        name("\"Stem wall\""),
        length("length", "How long it is.", "\"38 ft\""),
        length("height", "How high it is.", "\"5 in\""),
    ])
}

fn steps() -> Table {
    listed("steps", "A flight of steps whose treads and risers are coated.").keys([
        need::<u32>("count", "How many steps there are."),
        length("width", "How wide they are.", "\"4 ft\""),
        length("tread", "How deep one tread is.", "\"11 in\""),
        length("riser", "How high one riser is.", "\"7 in\""),
        at("The lower left corner of the flight on the plan."),
    ])
}

fn crack() -> Table {
    listed("crack", "A crack in the slab.").keys([
        name("\"From the door to the middle\""),
        length("length", "How long it is.", "\"11 ft\""),
        length("width", "How wide it is.", "\"1/16 in\""),
        may::<Known>("moves", "Whether its sides move against each other.").like("\"no\""),
        path("[[\"11 ft\", \"0 ft\"], [\"11 ft\", \"11 ft\"]]"),
    ])
}

fn joint() -> Table {
    listed("joint", "A joint or saw cut in the slab.").keys([
        name("\"Saw cut across\""),
        length("length", "How long it is.", "\"22 ft\""),
        may::<JointTreatment>("treatment", "It stays open in the new floor, or it is filled."),
        path("[[\"0 ft\", \"12 ft\"], [\"22 ft\", \"12 ft\"]]"),
    ])
}

fn spall() -> Table {
    listed("spall", "A hole or a broken edge in the slab.")
        .keys([
            name("\"Hole by the door\""),
            side("length", "How long it is.", "\"8 in\""),
            side("width", "How wide it is.", "\"5 in\""),
            may::<Area>("area", "Its area, in place of length and width.")
                .above_zero()
                .like("\"40 in2\""),
            length("depth", "Its mean depth.", "\"1/2 in\""),
        ])
        .rules([
            Unless("area", &["length", "width"]),
            Apart("area", "length"),
            Apart("area", "width"),
        ])
}

fn cove() -> Table {
    listed("cove", "A rounded corner between floor and wall.").keys([
        name("\"Along the back wall\""),
        length("length", "How long it is.", "\"22 ft\""),
        length("radius", "Its radius.", "\"1 in\""),
    ])
}

fn door() -> Table {
    listed("door", "A door, for the drawing of the plan alone.").keys([
        name("\"Garage door\""),
        need::<Length>("from", "One end on the plan.").pair("[\"3 ft\", \"0 ft\"]"),
        need::<Length>("to", "The other end on the plan.").pair("[\"19 ft\", \"0 ft\"]"),
    ])
}
