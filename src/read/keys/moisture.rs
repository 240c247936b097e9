//! The keys of the moisture tests in a job file.

use jiff::civil::DateTime;

use crate::base::quantity::{Area, Humidity, Length, Mass, Temperature};
use crate::model::job::*;
use crate::read::keys::Rule::Together;
use crate::read::keys::job::at;
use crate::read::keys::{Table, listed, may, need, needed_list, once};
use crate::read::limits;

pub fn moisture() -> Table {
    once(
        "moisture",
        "Moisture tests of the first visit; the methods are never converted into each other.",
    )
    .tables([
        dishes(),
        probes(),
        sheet(),
        listed("visit", "The tests of a later visit, in the order of the visits.").tables([
            dishes(),
            probes(),
            sheet(),
        ]),
    ])
}

/// A reading that does not count.
fn void() -> crate::read::keys::Key {
    may::<String>("void", "Why its result does not count; it stays on the paper.")
        .like("\"the dome was knocked over\"")
}

fn dishes() -> Table {
    once("dishes", "Calcium chloride dishes, ASTM F1869.")
        .keys([
            need::<Mass>("scale", "The smallest step that the scale shows.").like("\"0.1 g\""),
            may::<String>("instrument", "The scale, as the papers name it.")
                .like("\"Field scale, 500 g by 0.1 g\""),
            may::<Temperature>(
                "room-temperature",
                "The temperature of the room while the dishes stood.",
            )
            .like("\"67 F\""),
            may::<Humidity>(
                "room-humidity",
                "The relative humidity of the room while the dishes stood.",
            )
            .like("\"52 %\""),
            may::<bool>("room-as-used", "The room was as damp as it is in normal use."),
            may::<bool>("settled", "The room was at its usual conditions for 48 hours before."),
        ])
        .rules([Together("room-temperature", "room-humidity")])
        .tables([needed_list("dish", limits::LIST, "One dish.").keys([
            need::<String>(
                "place",
                "Where it stood; the same words for the same place on every visit.",
            )
            .like("\"middle\""),
            at("Its place on the plan."),
            may::<TestSurface>("surface", "The concrete under it."),
            may::<DateTime>("ground", "When its spot was ground bare.").like("2026-05-04T08:30:00"),
            need::<Area>(
                "exposed",
                "The concrete under the dome without the dish's own footprint.",
            )
            .above_zero()
            .like("\"65.7 in2\""),
            need::<Mass>("before", "What the dish weighed when it was set.").like("\"219.1 g\""),
            need::<Mass>("after", "What it weighed when it was lifted.").like("\"222.5 g\""),
            need::<DateTime>("set", "When it was set.").like("2026-05-05T09:15:00"),
            need::<DateTime>("lifted", "When it was lifted.").like("2026-05-08T08:05:00"),
            void(),
        ])])
}

fn probes() -> Table {
    once("probes", "Humidity probes in drilled holes, ASTM F2170.")
        .keys([
            need::<u32>("edition", "The year of the edition of ASTM F2170 that was followed.")
                .like("2019"),
            may::<Humidity>(
                "accuracy",
                "How far a probe may be off either way, by its data sheet; without it 2 %.",
            )
            .above_zero()
            .like("\"2 %\""),
            may::<String>("instrument", "The probe, as the papers name it.")
                .like("\"Reusable probe\""),
            may::<bool>("settled", "The room was at its usual conditions for 48 hours before."),
        ])
        .tables([needed_list("probe", limits::LIST, "One hole.").keys([
            need::<String>(
                "place",
                "Where it was drilled; the same words for the same place on every visit.",
            )
            .like("\"middle\""),
            at("Its place on the plan."),
            need::<Length>("depth", "How deep the hole is.").above_zero().like("\"1.6 in\""),
            need::<Humidity>("reading", "The relative humidity that was read.").like("\"74 %\""),
            need::<DateTime>("drilled", "When the hole was drilled.").like("2026-05-07T09:00:00"),
            need::<DateTime>("read", "When it was read.").like("2026-05-08T10:00:00"),
            may::<Calibrated>(
                "calibrated",
                "When the probe was last checked; `\"new\"` for a new one.",
            ),
            void(),
        ])])
}

fn sheet() -> Table {
    listed("plastic-sheet", "One plastic sheet taped to the slab, ASTM D4263.").keys([
        need::<String>("place", "Where it lay.").like("\"middle\""),
        at("Its place on the plan."),
        need::<DateTime>("taped", "When it was taped down.").like("2026-05-07T15:00:00"),
        need::<DateTime>("lifted", "When it was lifted.").like("2026-05-08T09:00:00"),
        may::<bool>("sealed", "All four edges were sealed with tape."),
        need::<SheetFound>("found", "Its underside and the concrete below when it was lifted."),
        void(),
    ])
}
