//! The keys of the moisture tests in a job file.

use jiff::civil::DateTime;

use crate::base::quantity::{Area, Humidity, Length, Mass, Temperature};
use crate::model::job::*;
use crate::read::keys::shapes::{at, length};
use crate::read::keys::spec::*;
use crate::read::keys::table::*;
use crate::read::limits;

/// A reading that does not count.
const fn void() -> TypedKey<String> {
    may("void", "Why its result does not count; it stays on the paper.")
        .like("the dome was knocked over")
}

keys! {
    moisture = once(
        "moisture",
        "Moisture tests of the first visit; the methods are never converted into each other.",
    )
    .tables(&[dishes::TABLE, probes::TABLE, sheet::TABLE, visit::TABLE]) => {}

    visit = listed("moisture.visit", "The tests of a later visit, in the order of the visits.")
        .tables(&[dishes::TABLE, probes::TABLE, sheet::TABLE]) => {}

    dishes = once("moisture.dishes", "Calcium chloride dishes, ASTM F1869.")
        .rules(&[Rule::Together("room-temperature", "room-humidity", "add `{}`")])
        .tables(&[dish::TABLE]) => {
        SCALE: Mass = need("scale", "The smallest step that the scale shows.").like("0.1 g");
        INSTRUMENT: String =
            may("instrument", "The scale, as the papers name it.").like("Field scale, 500 g by 0.1 g");
        ROOM_TEMPERATURE: Temperature =
            may("room-temperature", "The temperature of the room while the dishes stood.").like("67 F");
        ROOM_HUMIDITY: Humidity =
            may("room-humidity", "The relative humidity of the room while the dishes stood.")
                .like("52 %");
        ROOM_AS_USED: bool = may("room-as-used", "The room was as damp as it is in normal use.");
        SETTLED: bool = may("settled", "The room was at its usual conditions for 48 hours before.");
    }

    dish = needed_list("moisture.dishes.dish", limits::LIST, "One dish.")
        .advice("add a `[[moisture.dishes.dish]]` table for each dish") => {
        PLACE: String =
            need("place", "Where it stood; the same words for the same place on every visit.")
                .like("middle");
        AT: (Length, Length) = at("Its place on the plan.");
        SURFACE: TestSurface = may("surface", "The concrete under it.");
        GROUND: DateTime = may("ground", "When its spot was ground bare.").like("2026-05-04T08:30:00");
        EXPOSED: Area =
            need("exposed", "The concrete under the dome without the dish's own footprint.")
                .above_zero()
                .advice("the concrete under the dome without the dish's own footprint")
                .like("65.7 in2");
        BEFORE: Mass = need("before", "What the dish weighed when it was set.").like("219.1 g");
        AFTER: Mass = need("after", "What it weighed when it was lifted.").like("222.5 g");
        SET: DateTime = need("set", "When it was set.").like("2026-05-05T09:15:00");
        LIFTED: DateTime = need("lifted", "When it was lifted.").like("2026-05-08T08:05:00");
        VOID: String = void();
    }

    probes = once("moisture.probes", "Humidity probes in drilled holes, ASTM F2170.")
        .tables(&[probe::TABLE]) => {
        EDITION: u32 =
            need("edition", "The year of the edition of ASTM F2170 that was followed.").like("2019");
        ACCURACY: Humidity =
            may("accuracy", "How far a probe may be off either way, by its data sheet; without it 2 %.")
                .above_zero()
                .advice("how far a probe may be off either way, by its data sheet, for example `\"2 %\"`")
                .like("2 %");
        INSTRUMENT: String =
            may("instrument", "The probe, as the papers name it.").like("Reusable probe");
        SETTLED: bool = may("settled", "The room was at its usual conditions for 48 hours before.");
    }

    probe = needed_list("moisture.probes.probe", limits::LIST, "One hole.")
        .advice("add a `[[moisture.probes.probe]]` table for each hole") => {
        PLACE: String =
            need("place", "Where it was drilled; the same words for the same place on every visit.")
                .like("middle");
        AT: (Length, Length) = at("Its place on the plan.");
        DEPTH: Length = length("depth", "How deep the hole is.").like("1.6 in");
        READING: Humidity = need("reading", "The relative humidity that was read.").like("74 %");
        DRILLED: DateTime = need("drilled", "When the hole was drilled.").like("2026-05-07T09:00:00");
        READ: DateTime = need("read", "When it was read.").like("2026-05-08T10:00:00");
        CALIBRATED: Calibrated =
            may("calibrated", "When the probe was last checked; `\"new\"` for a new one.");
        VOID: String = void();
    }

    sheet = listed("moisture.plastic-sheet", "One plastic sheet taped to the slab, ASTM D4263.") => {
        PLACE: String = need("place", "Where it lay.").like("middle");
        AT: (Length, Length) = at("Its place on the plan.");
        TAPED: DateTime = need("taped", "When it was taped down.").like("2026-05-07T15:00:00");
        LIFTED: DateTime = need("lifted", "When it was lifted.").like("2026-05-08T09:00:00");
        SEALED: bool = may("sealed", "All four edges were sealed with tape.");
        FOUND: SheetFound = need("found", "Its underside and the concrete below when it was lifted.");
        VOID: String = void();
    }
}
