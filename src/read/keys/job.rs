//! The keys of a job file.

use jiff::civil::Date;

use crate::base::address::MailAddress;
use crate::base::names::{JobNumber, JobPath, Key};
use crate::base::quantity::{Humidity, Length, Ph, Strength, Temperature, Thickness};
use crate::model::job::*;
use crate::read::keys::after::{failure, handover};
use crate::read::keys::bid::bid;
use crate::read::keys::choices::*;
use crate::read::keys::laid::laid;
use crate::read::keys::moisture::moisture;
use crate::read::keys::shapes::*;
use crate::read::keys::space::space;
use crate::read::keys::spec::*;
use crate::read::keys::table::*;
use crate::read::keys::worked::worked;
use crate::read::keys::{A_YEAR, CREW_SIZE, NO_YEARS_AHEAD, YEARS, YEARS_AHEAD, languages};
use crate::read::limits;
use crate::read::scalar::LongText;

/// Tables of a floor and its surroundings: where a job has several spaces, they stand below those.
const HELD_BY_SPACES: &[&str] = &[
    "slab", "area", "cutout", "upright", "steps", "crack", "joint", "spall", "cove", "door",
    "moisture", "air", "garage",
];

keys! {
    job = must("", "A job: what one visit to a garage found, and what is on offer.").tables(&[
        customer::TABLE,
        house::TABLE,
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
        garage::TABLE,
        space::TABLE,
        extras::TABLE,
        plan::TABLE,
        photo::TABLE,
        choices::TABLE,
        addition::TABLE,
        item::TABLE,
        discount::TABLE,
        accepted::TABLE,
        asked::TABLE,
        order::TABLE,
        paid::TABLE,
        laid::TABLE,
        worked::TABLE,
        bid::TABLE,
        handover::TABLE,
        failure::TABLE,
    ])
    .rules(&[
        Rule::Holds("space", HELD_BY_SPACES, &["offer"]),
        Rule::Apart("garage", "sold-at-home", "below `[garage]` it stands too: give it once"),
        Rule::Together("space", "sold-at-home", "beside `[[space]]` it stands at the top, else below `[garage]`: `{}`"),
    ]) => {
        NUMBER: JobNumber = need("number", "The job's number, which becomes part of file names.");
        DATE: Date = need("date", "The date of the proposal, from which its price is valid.");
        UNITS: Units = need("units", "The units that the papers are written in.");
        PAPER: PaperSize =
            may("paper", "The size of the sheet; without it `letter` for `us` units, else `a4`.");
        PRINT: Print = may("print", "The size of the type in what the customer reads.").like("large");
        EDITION: Edition =
            may("edition", "`phone` writes proposal and leaflet on narrow pages too, beside those to print.")
                .like("phone");
        LANGUAGE: String =
            may("language", "The language of this customer's papers, where it is not the shop's.")
                .like("es").words(languages);
        INVENTED: bool =
            may("invented", "People and place are invented, and the papers say so.").shown();
        OFFER: Vec<Key> =
            set("offer", limits::OPTIONS, "The floor systems on offer, in the order shown.")
                .needed().like(r#"["barrier", "fast-cure"]"#);
        SOLD_AT_HOME: bool =
            may("sold-at-home", "As below `[garage]`, for a job with several spaces.").like("true");
        WISHES: Vec<Wish> =
            list("wishes", "What the customer cares about, most important first.")
                .like(r#"["lasting", "quick"]"#);
        NOTES: Vec<LongText> =
            list("notes", "Notes for the customer, a paragraph each.")
                .like(r#"["The pillar stays bare."]"#);
        CREW_NOTES: Vec<LongText> =
            list("crew-notes", "Notes for the crew, which no customer ever sees.")
                .like(r#"["The dog stays indoors."]"#);
    }

    customer = must("customer", "Who the proposal is for.") => {
        NAME: String = need("name", "Name as it stands on the papers.").like("Name of the customer");
        SIGNERS: Vec<String> =
            list("signers", "Everybody who signs, by name; left out where it is `name` alone.")
                .like(r#"["Rosa Tannenwald", "Emil Tannenwald"]"#);
        LATIN: String =
            may("latin", "The name in Latin letters, as the customer writes it, for papers that cannot print it.")
                .like("Wang Xiaoming");
        ADDRESS: Vec<String> =
            list("address", "Address of the garage, a line each.")
                .like(r#"["8 Cattail Court", "Pikemere Lake"]"#);
        EMAIL: MailAddress =
            may("email", "Where a mail draft is addressed to.").like("rosa@tannenwald.example");
        SECOND_EMAIL: MailAddress =
            may("second-email", "A second address for the draft, such as that of whoever signs too.")
                .like("emil@tannenwald.example");
        PHONE: String = may("phone", "A telephone number, for the crew alone.").like("555-0126");
        TAX_EXEMPT: String =
            may("tax-exempt", "The number of the certificate that frees it from tax.")
                .like("EX-4471");
    }

    house = once("house", "The house that the garage belongs to.") => {
        BUILT: u32 =
            may("built", "The year in which it was built; before 1978 old paint may hold lead.")
                .within(YEARS).advice(A_YEAR).like("1994");
        STAY_YEARS: u32 =
            may("stay-years", "How many years the owners plan to stay: `write --paper years` counts so far.")
                .within(YEARS_AHEAD).advice(NO_YEARS_AHEAD).like("12");
    }

    slab = must("slab", "The concrete as it was found; what was not looked at is left out.")
        .rules(&[Rule::Apart("poured", "poured-year", "give the day or the year, not both")]) => {
        ON_GROUND: bool = need("on-ground", "The slab lies on the ground, and not over a room.");
        THICKNESS: Length = side("thickness", "How thick the concrete is.").like("4 in");
        POURED_YEAR: u32 =
            may("poured-year", "The year in which the concrete was placed.")
                .within(YEARS).advice(A_YEAR).like("1994");
        POURED: Date =
            may("poured", "The day on which the concrete was placed, for a young slab.")
                .like("2026-03-20");
        VAPOR_RETARDER: Known =
            may("vapor-retarder", "Whether a plastic sheet lies under the slab.").like("unknown");
        SURFACE_STRENGTH: Strength =
            may("surface-strength", "The lowest pull-off strength of the bare concrete.")
                .like("310 psi");
        WATER_DROP: WaterDrop = may("water-drop", "What a drop of water does on the bare slab.");
        OIL: bool = may("oil", "Oil has soaked into the slab.").like("false");
        SALTS: bool = may("salts", "A white bloom of salts lies on the slab.").like("false");
        OLD_COATING: OldCoating = may("old-coating", "What is on the slab now.");
        TILE_GLUE: TileGlue = may("tile-glue", "Glue of old floor tiles; dark glue may hold asbestos.");
        TREATMENTS: Vec<Treatment> =
            set("treatments", limits::LIST, "What else lay on it or was worked into it; `none` when someone looked and asked.");
        INSIDE: Vec<Inside> =
            set("inside", limits::LIST, "What is cast into it: ask before anyone drills or cuts; `none` when it is known.");
        PH: Ph = may("ph", "The pH of its surface.");
        TEXTURE: Thickness =
            may("texture", "The mean depth of the ground surface, in place of the book's.")
                .like("100 um");
    }

    air = once("air", "Air and slab as measured on the visit, for the dew point.") => {
        MEASURED: Date = need("measured", "The day on which they were measured.").like("2026-05-08");
        TEMPERATURE: Temperature = need("temperature", "The temperature of the air.").like("66 F");
        HUMIDITY: Humidity =
            need("humidity", "The relative humidity of the air.").above_zero()
                .advice("air is never wholly dry; check the instrument")
                .like("54 %");
        SLAB: Temperature = need("slab", "The temperature of the slab's surface.").like("62 F");
    }

    garage = must("garage", "The garage and how the sale is made.") => {
        DAYLIGHT: bool =
            need("daylight", "Daylight reaches the floor, through the open door or a window.");
        SOLD_AT_HOME: bool =
            need("sold-at-home", "The sale is made at the customer's home, so that the buyer may cancel.");
        WET: bool =
            may("wet", "Cars bring in rain, snow or wash water; without it the papers take it as true.");
        HEIGHT: Length = side("height", "From the floor to the ceiling.").like("9 ft");
        IGNITION: Vec<String> =
            list("ignition", "Flames, heaters and motors that could light vapor, one by one.")
                .like(r#"["water heater"]"#);
    }

    extras = once("extras", "By floor system, the extras that its price includes.") => {
        CLEAR_EPOXY: Vec<Key> =
            list("clear-epoxy", "Extras of this floor system.").like(r#"["urethane-coat"]"#).any_name();
    }

    plan = once("plan", "When and by how many the floor is laid.") => {
        START: Date = may("start", "The first day of work, when it is agreed.").like("2026-05-26");
        CREW: u32 =
            may("crew", "How many persons work on it, in place of the book's crew.").numbered(CREW_SIZE)
                .advice("how many persons work on this job");
        CREW_NAME: String =
            may("crew-name", "The crew that comes, by the name you call it: one crew is on one job a day.")
                .like("North");
        CONTACT: String =
            may("contact", "Whom to call on the day, for the crew and the calendars.")
                .like("Emil, 555-0127");
        LAID: Date = may("laid", "The day on which the floor was done.").like("2026-05-28");
    }

    photo = listed("photo", "A photo for the papers.").at_most(limits::PHOTOS) => {
        FILE: JobPath = need("file", "A JPEG or PNG file in the job's folder.");
        CAPTION: String = need("caption", "What it shows.").like("The slab, seen from the door");
        SPACE: String =
            may("space", "The space that it shows, by name, where the job has several.").like("Patio");
        WHEN: PhotoWhen =
            may("when", "`before` the work, `after` it for the handover, or of a `failure`; without it before.").like("after");
    }

    accepted = once("accepted", "What the customer signed; from then on the job is not revised.")
        .tables(&[floors::TABLE])
        .rules(&[
            Rule::Apart("floor", "floors", "`floor` is for a job of one space, `floors` for one with several"),
            Rule::Unless("floors", &["floor"], None),
        ]) => {
        REVISION: u32 =
            need("revision", "The signed paper's number behind the `r`.")
                .numbered(1..=limits::REVISIONS)
                .advice("the number behind the `r` in the name of the paper that was signed")
                .like("1");
        FLOOR: Key = may("floor", "The floor system that was chosen, one of `offer`.").like("barrier");
        ON: Date = need("on", "The day on which it was signed.").like("2026-05-20");
        ADDITIONS: Vec<Key> =
            list("additions", "The additions that were ticked, by their keys.").like(r#"["step-grip"]"#);
    }

    asked = listed("asked", "A change that the customer asked for after a paper was issued; only then may a promised price rise.") => {
        ON: Date = need("on", "The day on which the customer asked.").like("2026-05-15");
        BY: String = need("by", "Who asked, by name.").like("Rosa Tannenwald");
        WHAT: String =
            need("what", "The change, in words that the customer would use; the paper prints it.")
                .like("Please coat the step to the kitchen too.");
    }

    order = listed("order", "A change of what was signed: first as it is wanted, then with its signature.")
        .tables(&[order_floors::TABLE])
        .rules(&[
            Rule::Together("revision", "on", "a signed order has both: add `{}`"),
            Rule::Apart("floor", "floors", "`floor` is for a job of one space, `floors` for one with several"),
        ]) => {
        DATE: Date =
            may("date", "The date on the change order; without it the day of the last signature.")
                .like("2026-05-25");
        WHAT: String =
            may("what", "The change, in words that the customer would use; the change order prints it.")
                .like("The strip by the side door is coated too.");
        FLOOR: Key =
            may("floor", "The floor system from this order on, where it is another one of `offer`.")
                .like("fast-cure");
        ADDITIONS: Vec<Key> =
            list("additions", "The additions from this order on, where they are other ones.")
                .like(r#"["urethane-coat"]"#);
        REVISION: u32 =
            may("revision", "The change order's number behind the `r`, once it is signed.")
                .numbered(1..=limits::REVISIONS)
                .advice("the number behind the `r` in the name of the change order that was signed")
                .like("2");
        ON: Date = may("on", "The day on which it was signed.").like("2026-05-27");
    }

    floors = once("accepted.floors", "With several spaces, the floor system that was chosen for each of them.") => {
        FLOOR: Key = may("Patio", "The floor system of the space of this name.").like("barrier").any_name();
    }

    order_floors = once("order.floors", "With several spaces, the floor systems that this order changes; `none` leaves a space out.") => {
        FLOOR: Key = may("Patio", "The floor system of the space of this name from this order on.").like("barrier").any_name();
    }
}
