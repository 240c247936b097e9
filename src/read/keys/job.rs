//! The keys of a job file.

use jiff::civil::Date;

use crate::base::address::MailAddress;
use crate::base::layouts::Layouts;
use crate::base::names::{JobNumber, JobPath, Key};
use crate::base::quantity::{Humidity, Length, Ph, Strength, Temperature, Thickness};
use crate::model::job::*;
use crate::read::book::CREW;
use crate::read::job::YEARS;
use crate::read::keys::Rule::Apart;
use crate::read::keys::moisture::moisture;
use crate::read::keys::shapes::shapes;
use crate::read::keys::{Table, listed, may, must, need, once};
use crate::read::limits;
use crate::read::scalar::LongText;

pub fn file() -> Table {
    let mut file = must("", "A job: what one visit to a garage found, and what is on offer.")
        .keys([
            need::<JobNumber>("number", "The job's number, which becomes part of file names."),
            need::<Date>("date", "The date of the proposal, from which its price is valid."),
            need::<Units>("units", "The units that the papers are written in."),
            may::<PaperSize>(
                "paper",
                "The size of the sheet; without it `letter` for `us` units, else `a4`.",
            ),
            may::<Print>("print", "The size of the type in what the customer reads.")
                .like("\"large\""),
            may::<String>(
                "language",
                "The language of this customer's papers, where it is not the shop's.",
            )
            .like("\"es\"")
            .words(Layouts::default().languages()),
            may::<bool>("invented", "People and place are invented, and the papers say so.")
                .shown(),
            need::<Key>(
                "offer",
                "The floor systems on offer, in the order in which they are shown.",
            )
            .set(limits::OPTIONS)
            .like("[\"barrier\", \"fast-cure\"]"),
            may::<Wish>("wishes", "What the customer cares about, most important first.")
                .list()
                .like("[\"lasting\", \"quick\"]"),
            may::<LongText>("notes", "Notes for the customer, a paragraph each.")
                .list()
                .like("[\"The pillar stays bare.\"]"),
            may::<LongText>("crew-notes", "Notes for the crew, which no customer ever sees.")
                .list()
                .like("[\"The dog stays indoors.\"]"),
        ])
        .tables([customer(), house(), slab()]);
    file.tables.extend(shapes());
    file.tables([moisture(), air(), garage(), extras(), plan(), photo(), accepted()])
}

fn customer() -> Table {
    must("customer", "Who the proposal is for.").keys([
        need::<String>("name", "Name as it stands on the papers.").like("\"Name of the customer\""),
        may::<String>("address", "Address of the garage, a line each.")
            .list()
            .like("[\"8 Cattail Court\", \"Pikemere Lake\"]"),
        may::<MailAddress>("email", "Where a mail draft is addressed to.")
            .like("\"rosa@tannenwald.example\""),
    ])
}

fn house() -> Table {
    once("house", "The house that the garage belongs to.").keys([may::<u32>(
        "built",
        "The year in which it was built; before 1978 old paint may hold lead.",
    )
    .within(YEARS)
    .like("1994")])
}

fn slab() -> Table {
    must("slab", "The concrete as it was found; what was not looked at is left out.")
        .keys([
            need::<bool>("on-ground", "The slab lies on the ground, and not over a room."),
            may::<Length>("thickness", "How thick the concrete is.").above_zero().like("\"4 in\""),
            may::<u32>("poured-year", "The year in which the concrete was placed.")
                .within(YEARS)
                .like("1994"),
            may::<Date>("poured", "The day on which the concrete was placed, for a young slab.")
                .like("2026-03-20"),
            may::<Known>("vapor-retarder", "Whether a plastic sheet lies under the slab.")
                .like("\"unknown\""),
            may::<Strength>(
                "surface-strength",
                "The lowest pull-off strength of the bare concrete.",
            )
            .like("\"310 psi\""),
            may::<WaterDrop>("water-drop", "What a drop of water does on the bare slab."),
            may::<bool>("oil", "Oil has soaked into the slab.").like("false"),
            may::<bool>("salts", "A white bloom of salts lies on the slab.").like("false"),
            may::<OldCoating>("old-coating", "What is on the slab now."),
            may::<TileGlue>("tile-glue", "Glue of old floor tiles; dark glue may hold asbestos."),
            may::<Treatment>(
                "treatments",
                "What else lay on it or was worked into it; `none` when someone looked and asked.",
            )
            .set(limits::LIST),
            may::<Inside>(
                "inside",
                "What is cast into it: ask before anyone drills or cuts; `none` when it is known.",
            )
            .set(limits::LIST),
            may::<Ph>("ph", "The pH of its surface."),
            may::<Thickness>(
                "texture",
                "The mean depth of the ground surface, in place of the book's.",
            )
            .like("\"100 um\""),
        ])
        .rules([Apart("poured-year", "poured")])
}

/// A place on the plan.
pub fn at(what: &'static str) -> crate::read::keys::Key {
    may::<Length>("at", what).pair("[\"11 ft\", \"11 ft\"]")
}

fn air() -> Table {
    once("air", "Air and slab as they were measured on the visit, for the dew point.").keys([
        need::<Date>("measured", "The day on which they were measured.").like("2026-05-08"),
        need::<Temperature>("temperature", "The temperature of the air.").like("\"66 F\""),
        need::<Humidity>("humidity", "The relative humidity of the air.")
            .above_zero()
            .like("\"54 %\""),
        need::<Temperature>("slab", "The temperature of the slab's surface.").like("\"62 F\""),
    ])
}

fn garage() -> Table {
    must("garage", "The garage and how the sale is made.").keys([
        need::<bool>("daylight", "Daylight reaches the floor, through the open door or a window."),
        need::<bool>(
            "sold-at-home",
            "The sale is made at the customer's home, so that the buyer may cancel.",
        ),
        may::<bool>(
            "wet",
            "Cars bring in rain, snow or wash water; without it the papers take it as true.",
        ),
        may::<Length>("height", "From the floor to the ceiling.").above_zero().like("\"9 ft\""),
        may::<String>("ignition", "Flames, heaters and motors that could light vapor, one by one.")
            .list()
            .like("[\"water heater\"]"),
    ])
}

fn extras() -> Table {
    once("extras", "By floor system, the extras that its price includes.").keys([may::<Key>(
        "clear-epoxy",
        "Extras of this floor system.",
    )
    .list()
    .like("[\"urethane-coat\"]")
    .any_name()])
}

fn plan() -> Table {
    once("plan", "When and by how many the floor is laid.").keys([
        may::<Date>("start", "The first day of work, when it is agreed.").like("2026-05-26"),
        may::<u32>("crew", "How many persons work on it, in place of the book's crew.")
            .within(CREW),
    ])
}

fn photo() -> Table {
    listed("photo", "A photo for the papers.").at_most(limits::PHOTOS).keys([
        need::<JobPath>("file", "A JPEG or PNG file in the job's folder."),
        need::<String>("caption", "What it shows.").like("\"The slab, seen from the door\""),
    ])
}

fn accepted() -> Table {
    once("accepted", "What the customer signed; from then on the job is not revised.").keys([
        need::<u32>(
            "revision",
            "The number behind the `r` in the name of the paper that was signed.",
        )
        .within(1..=limits::REVISIONS)
        .like("1"),
        need::<Key>("floor", "The floor system that was chosen, one of `offer`.")
            .like("\"barrier\""),
        need::<Date>("on", "The day on which it was signed.").like("2026-05-20"),
    ])
}
