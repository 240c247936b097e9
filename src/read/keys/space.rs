//! The keys of a job's spaces, where it has several.

use crate::base::names::Key;
use crate::base::quantity::Length;
use crate::model::space::SpaceKind;
use crate::read::keys::choices::choices;
use crate::read::keys::job::{air, extras, slab};
use crate::read::keys::moisture::moisture;
use crate::read::keys::shapes::*;
use crate::read::keys::spec::*;
use crate::read::keys::table::*;
use crate::read::limits;

keys! {
    space = listed(
        "space",
        "One of several spaces, with the tables of its floor: `[space.slab]`, `[[space.area]]` and so on.",
    )
    .at_most(limits::SPACES)
    .brief()
    .tables(&[
        slab::TABLE,
        area::TABLE,
        cutout::TABLE,
        upright::TABLE,
        steps::TABLE,
        crack::TABLE,
        joint::TABLE,
        spall::TABLE,
        cove::TABLE,
        door::TABLE,
        moisture::TABLE,
        air::TABLE,
        surroundings::TABLE,
        extras::TABLE,
        choices::TABLE,
    ]) => {
        NAME: String =
            need("name", "Its name on the papers and in `[accepted]`; no two are the same.").like("Patio");
        KIND: SpaceKind =
            need("kind", "What it is: `patio` is outdoors, `basement` and `room` are inside the house.");
        OFFER: Vec<Key> =
            set("offer", limits::OPTIONS, "The floor systems on offer for it; without it, those of the job.")
                .like(r#"["barrier", "clear-epoxy"]"#);
    }

    surroundings = must("space.surroundings", "Light, water, air and people about this space.") => {
        DAYLIGHT: bool =
            may("daylight", "Daylight reaches the floor; needed for a space that is not outdoors.");
        OUTDOORS: bool =
            may("outdoors", "Sun, rain and dew reach it; without it true for a patio, and false for others.");
        COVERED: bool = may("covered", "A roof keeps the rain off it.").like("false");
        WET: bool =
            may("wet", "Rain, snow or wash water wets it in use; without it the papers take it as true.");
        HEIGHT: Length = side("height", "From the floor to the ceiling.").like("8 ft");
        AIR_EXCHANGE: bool =
            may("air-exchange", "A window, a door or a fan brings in outside air.");
        SLEPT_IN: bool = may("slept-in", "People sleep in it, or in a room beside it.").like("false");
        IGNITION: Vec<String> =
            list("ignition", "Flames, heaters and motors that could light vapor, one by one.")
                .like(r#"["furnace"]"#);
    }
}
