//! Every key that a job file may hold.

use std::ops::RangeInclusive;

use jiff::civil::Date;

use crate::input::book::CREW;
use crate::input::limits;
use crate::input::reader::Table;
use crate::input::scalar::{JobPath, Key, LongText};
use crate::input::shapes::{above_zero, extent, needed_length, shapes};
use crate::input::shop::language;
use crate::input::suggest::nearest;
use crate::job::*;
use crate::quantity::*;
use crate::site::moisture::{hours_between, mver};
use crate::source::Located;

/// Names in a job that other files define. They are checked even when the rest of the job has
/// mistakes, so that one run reports everything.
#[derive(Debug, Clone, Default)]
pub struct JobNames {
    pub offer: Vec<Located<Key>>,
    pub extras: Vec<(Located<String>, Vec<Located<Key>>)>,
}

/// Reads a job: its names in any case, and the whole of it when it has no mistakes.
pub fn job(top: &Table<'_>) -> (JobNames, Option<Job>) {
    let names = JobNames { offer: top.list("offer"), extras: top.named_lists("extras") };
    let job = whole(top, &names);
    (names, job)
}

fn whole(top: &Table<'_>, names: &JobNames) -> Option<Job> {
    let number = top.need("number");
    let date = top.need("date");
    let units = top.need("units");
    let paper =
        top.or("paper", if units == Some(Units::Metric) { Paper::A4 } else { Paper::Letter });
    let print = top.or("print", Print::Usual);
    let language = language(top);
    let invented = top.or("invented", false);
    let customer = top.need_table("customer").and_then(|t| customer(&t));
    let wishes = top.values("wishes");
    let house = top.table("house").map(|t| house(&t, date)).unwrap_or_default();
    let slab = top.need_table("slab").and_then(|t| slab(&t, date));
    let shapes = shapes(top);
    let moisture = top.table("moisture").map(|t| moisture(&t, shapes.as_ref())).unwrap_or_default();
    let air = top.table("air").and_then(|t| air(&t, date));
    let garage = top.need_table("garage").and_then(|t| garage(&t));
    let offer = names.offer.clone();
    if !top.has("offer") {
        top.fault("offer", "is missing", "add `offer = [\"barrier\", \"fast-cure\"]`");
    } else if top.is_empty_list("offer") {
        top.fault("offer", "is empty", "name a floor to look at: `offer = [\"barrier\"]`");
    } else if offer.len() > limits::OPTIONS {
        top.fault(
            "offer",
            format!("has {} systems", offer.len()),
            format!("the most accepted is {}", limits::OPTIONS),
        );
    }
    let extras =
        names.extras.iter().map(|(name, list)| (Key(name.value.clone()), list.clone())).collect();
    let plan = top.table("plan").map_or_else(WorkPlan::default, |t| {
        let crew: Option<u32> = t.maybe("crew");
        if crew.is_some_and(|crew| !CREW.contains(&crew)) {
            t.fault("crew", "is not 1 to 20", "how many persons work on this job");
        }
        let start: Option<Date> = t.maybe("start");
        if let (Some(start), Some(date)) = (start, date)
            && start < date
        {
            t.fault(
                "start",
                format!("is before the job's date, {date}"),
                format!(
                    "write {date} or a later day, or leave `start` out: nobody starts before the paper is written"
                ),
            );
        }
        WorkPlan { start, crew }
    });
    let accepted = top.table("accepted").and_then(|t| accepted(&t, &offer));
    let photos: Vec<Photo> = top.tables("photo").iter().filter_map(photo).collect();
    if photos.len() > limits::PHOTOS {
        top.fault(
            "photo",
            format!("stands {} times", photos.len()),
            format!("the most accepted is {}", limits::PHOTOS),
        );
    }
    let notes = |key| top.values::<LongText>(key).into_iter().map(|text| text.0).collect();
    let (notes, crew_notes) = (notes("notes"), notes("crew-notes"));
    Some(Job {
        number: number?,
        date: date?,
        units: units?,
        paper,
        print,
        language,
        invented,
        customer: customer?,
        wishes,
        house,
        slab: slab?,
        shapes: shapes?,
        moisture,
        air,
        garage: garage?,
        offer,
        extras,
        plan,
        accepted,
        photos,
        notes,
        crew_notes,
        span: top.span(),
    })
}

fn customer(table: &Table<'_>) -> Option<Customer> {
    let name = table.need("name");
    let address = table.values("address");
    let email = table.maybe("email");
    Some(Customer { name: name?, address, email })
}

/// Years in which a house was built, a slab poured, a shop began to count.
pub const YEARS: RangeInclusive<u32> = 1700..=2199;

/// A year that must be there.
pub fn year(table: &Table<'_>, key: &'static str) -> Option<u32> {
    if table.has(key) { maybe_year(table, key) } else { table.need(key) }
}

fn maybe_year(table: &Table<'_>, key: &'static str) -> Option<u32> {
    let year: u32 = table.maybe(key)?;
    if !YEARS.contains(&year) {
        table.fault(key, format!("is {year}"), "write a year, for example `1996`");
        return None;
    }
    Some(year)
}

/// What a visit found was there before its paper was written.
fn not_after<T: Copy>(
    table: &Table<'_>,
    key: &str,
    found: Option<T>,
    date: Option<Date>,
    is_after: impl FnOnce(T, Date) -> bool,
) {
    if let (Some(found), Some(date)) = (found, date)
        && is_after(found, date)
    {
        let help = format!("check both: the paper's `date` is {date}");
        table.fault(key, "is after the date of the paper", help);
    }
}

fn after_day(found: Date, date: Date) -> bool {
    found > date
}

fn after_year(found: u32, date: Date) -> bool {
    i64::from(found) > i64::from(date.year())
}

fn house(table: &Table<'_>, date: Option<Date>) -> House {
    let built = maybe_year(table, "built");
    not_after(table, "built", built, date, after_year);
    House { built }
}

/// More than any floor of a garage has: a slip in the number or the unit.
const MOST_THICKNESS: Length = Length::inches(24.0);

fn slab(table: &Table<'_>, date: Option<Date>) -> Option<Slab> {
    let poured = match (table.maybe("poured"), maybe_year(table, "poured-year")) {
        (Some(day), None) => Some(Poured::Day(day)),
        (None, year) => year.map(Poured::Year),
        (Some(_), Some(_)) => {
            table.fault(
                "poured-year",
                "stands beside `poured`",
                "give the day or the year, not both",
            );
            None
        }
    };
    match poured {
        Some(Poured::Day(day)) => not_after(table, "poured", Some(day), date, after_day),
        Some(Poured::Year(year)) => not_after(table, "poured-year", Some(year), date, after_year),
        None => {}
    }
    let thickness = above_zero(table, "thickness");
    if thickness.is_some_and(|thickness| thickness > MOST_THICKNESS) {
        let most = format!("the most accepted is {:.0} in", MOST_THICKNESS.as_inches());
        table.fault("thickness", "is more than any garage floor has", most);
    }
    let on_ground = table.need("on-ground");
    // Everything is read before anything is given up, so that no known key looks unknown.
    let retarder = table.or("vapor-retarder", Known::Unknown);
    let strength = table.maybe("surface-strength");
    let water_drop = table.maybe("water-drop");
    let (oil, salts) = (table.maybe("oil"), table.maybe("salts"));
    let (coating, tile_glue) = (table.maybe("old-coating"), table.maybe("tile-glue"));
    let texture = table.maybe("texture");
    Some(Slab {
        thickness,
        poured,
        on_ground: on_ground?,
        retarder,
        strength,
        water_drop,
        oil,
        salts,
        coating,
        tile_glue,
        texture,
    })
}

fn moisture(table: &Table<'_>, shapes: Option<&Shapes>) -> Moisture {
    let floor = shapes.and_then(|shapes| extent(&shapes.areas));
    let dish_test = table.table("dishes").and_then(|t| dishes(&t, floor));
    let probe_test = table.table("probes").and_then(|t| probes(&t, floor));
    Moisture { dishes: dish_test, probes: probe_test }
}

/// Where a test was made: a place on the floor, when the plan says how far that goes.
fn place_on_plan(table: &Table<'_>, floor: Option<(Point, Point)>) -> Option<Point> {
    let at = table.pair("at").map(|(x, y)| Point { x, y })?;
    if let Some((from, to)) = floor
        && !(from.x <= at.x && at.x <= to.x && from.y <= at.y && at.y <= to.y)
    {
        table.fault(
            "at",
            "lies beside the floor",
            "both lengths start at the corner where the areas start: along first, then across",
        );
    }
    Some(at)
}

fn dishes(table: &Table<'_>, floor: Option<(Point, Point)>) -> Option<DishTest> {
    let scale: Option<Mass> = table.need("scale");
    let (temperature, humidity) = (table.maybe("room-temperature"), table.maybe("room-humidity"));
    for (key, other, example) in [
        ("room-humidity", "room-temperature", "\"50 %\""),
        ("room-temperature", "room-humidity", "\"70 F\""),
    ] {
        if table.has(other) && !table.has(key) {
            table.fault(
                key,
                format!("is missing beside `{other}`"),
                format!("add `{key} = {example}`"),
            );
        }
    }
    let room = match (temperature, humidity) {
        (Some(temperature), Some(humidity)) => Some(RoomAir { temperature, humidity }),
        _ => None,
    };
    let settled = table.maybe("settled");
    let instrument = table.maybe("instrument");
    let tables = table.tables("dish");
    if tables.is_empty() {
        table.fault("dish", "is missing", "add a `[[moisture.dishes.dish]]` table for each dish");
    }
    let dishes: Vec<Dish> = tables.iter().filter_map(|t| dish(t, floor)).collect();
    Some(DishTest { scale: scale?, room, settled, instrument, dishes })
}

fn dish(table: &Table<'_>, floor: Option<(Point, Point)>) -> Option<Dish> {
    let place = table.need("place");
    let at = place_on_plan(table, floor);
    let exposed: Option<Area> = table.need("exposed");
    let (before, after): (Option<Mass>, Option<Mass>) = (table.need("before"), table.need("after"));
    let (set, lifted) = (table.need("set"), table.need("lifted"));
    if exposed.is_some_and(|area| area <= Area::ZERO) {
        table.fault(
            "exposed",
            "is zero",
            "the concrete under the dome without the dish's own footprint",
        );
        return None;
    }
    if let (Some(before), Some(after)) = (before, after)
        && after < before
    {
        table.fault("after", "is less than `before`", "a dish gains weight; check both readings");
    }
    if let (Some(set), Some(lifted)) = (set, lifted)
        && lifted <= set
    {
        table.fault("lifted", "is not after `set`", "check both dates and times");
    }
    let within = match (before, after, exposed, set, lifted) {
        (Some(before), Some(after), Some(exposed), Some(set), Some(lifted)) if lifted > set => {
            rate_within_bounds(table, mver(after - before, exposed, hours_between(set, lifted)))
        }
        _ => true,
    };
    if !within {
        return None;
    }
    Some(Dish {
        place: place?,
        at,
        exposed: exposed?,
        before: before?,
        after: after?,
        set: set?,
        lifted: lifted?,
        span: table.span(),
    })
}

/// More than any slab gives off, as much as any limit may be: a slip in a weight, a size or a day.
const MOST_MVER: Mver = Mver::pounds(100.0);

/// Refuses a rate that no slab has.
fn rate_within_bounds(table: &Table<'_>, rate: Mver) -> bool {
    let within = rate <= MOST_MVER;
    if !within {
        let most = MOST_MVER.as_pounds();
        table.fault(
            "after",
            format!("makes a rate of {:.0} lb/1000ft2/24h", rate.as_pounds()),
            format!("the most accepted is {most}; check both weights, `exposed` and the times"),
        );
    }
    within
}

fn probes(table: &Table<'_>, floor: Option<(Point, Point)>) -> Option<ProbeTest> {
    let edition = table.need("edition");
    let settled = table.maybe("settled");
    let instrument = table.maybe("instrument");
    let tables = table.tables("probe");
    if tables.is_empty() {
        table.fault("probe", "is missing", "add a `[[moisture.probes.probe]]` table for each hole");
    }
    let probes: Vec<Probe> = tables.iter().filter_map(|t| probe(t, floor)).collect();
    Some(ProbeTest { edition: edition?, settled, instrument, probes })
}

fn probe(table: &Table<'_>, floor: Option<(Point, Point)>) -> Option<Probe> {
    let place = table.need("place");
    let at = place_on_plan(table, floor);
    let depth = needed_length(table, "depth");
    let reading = table.need("reading");
    let (drilled, read) = (table.need("drilled"), table.need("read"));
    if let (Some(drilled), Some(read)) = (drilled, read)
        && read <= drilled
    {
        table.fault("read", "is not after `drilled`", "check both dates and times");
    }
    let calibrated = table.maybe("calibrated");
    Some(Probe {
        place: place?,
        at,
        depth: depth?,
        reading: reading?,
        drilled: drilled?,
        read: read?,
        calibrated,
        span: table.span(),
    })
}

fn air(table: &Table<'_>, date: Option<Date>) -> Option<Air> {
    let measured = table.need("measured");
    not_after(table, "measured", measured, date, after_day);
    let temperature = table.need("temperature");
    let humidity: Option<Humidity> = table.need("humidity");
    let slab = table.need("slab");
    if humidity.is_some_and(|h| h <= Humidity::ZERO) {
        table.fault("humidity", "is zero", "air is never wholly dry; check the instrument");
        return None;
    }
    Some(Air { measured: measured?, temperature: temperature?, humidity: humidity?, slab: slab? })
}

fn garage(table: &Table<'_>) -> Option<Garage> {
    let height = above_zero(table, "height");
    let ignition = table.values("ignition");
    let daylight = table.need("daylight");
    let wet = table.or("wet", true);
    let sold_at_home = table.need("sold-at-home");
    Some(Garage { height, ignition, daylight: daylight?, wet, sold_at_home: sold_at_home? })
}

fn accepted(table: &Table<'_>, offer: &[Located<Key>]) -> Option<Accepted> {
    let revision = table.need("revision");
    let floor: Option<Key> = table.need("floor");
    let on = table.need("on");
    if revision.is_some_and(|revision| !(1..=limits::REVISIONS).contains(&revision)) {
        table.fault(
            "revision",
            format!("is not 1 to {}", limits::REVISIONS),
            "the number behind the `r` in the name of the paper that was signed",
        );
        return None;
    }
    if let Some(floor) = &floor
        && !offer.iter().any(|offered| offered.value == *floor)
    {
        let known = || offer.iter().map(|offered| offered.value.0.as_str());
        let help = match nearest(&floor.0, known()) {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("on offer: {}", known().collect::<Vec<_>>().join(", ")),
        };
        table.fault("floor", format!("names `{floor}`, which `offer` does not"), help);
        return None;
    }
    Some(Accepted { revision: revision?, floor: floor?, on: on? })
}

fn photo(table: &Table<'_>) -> Option<Photo> {
    let file = table.need_located::<JobPath>("file");
    let caption = table.need("caption");
    Some(Photo { file: file?, caption: caption? })
}
