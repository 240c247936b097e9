//! Every key that a job file may hold.

use std::ops::RangeInclusive;

use jiff::civil::Date;

use crate::base::names::{JobPath, Key};
use crate::base::quantity::*;
use crate::base::source::Located;
use crate::model::job::*;
use crate::read::book::CREW;
use crate::read::limits;
use crate::read::moisture::moisture;
use crate::read::reader::Table;
use crate::read::scalar::{LongText, Scalar};
use crate::read::shapes::{above_zero, shapes};
use crate::read::shop::language;
use crate::read::suggest::nearest;

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
    let paper = top
        .or("paper", if units == Some(Units::Metric) { PaperSize::A4 } else { PaperSize::Letter });
    let print = top.or("print", Print::Usual);
    let language = language(top);
    let invented = top.or("invented", false);
    let customer = top.need_table("customer").and_then(|t| customer(&t));
    let wishes = top.values("wishes");
    let house = top.table("house").map(|t| house(&t, date)).unwrap_or_default();
    let slab = top.need_table("slab").and_then(|t| slab(&t, date));
    let shapes = shapes(top);
    let moisture =
        top.table("moisture").map(|t| moisture(&t, shapes.as_ref(), date)).unwrap_or_default();
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

/// Reports what is dated after the paper: a visit found it before the paper was written.
pub fn not_after<T: Copy>(
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

pub fn after_day(found: Date, date: Date) -> bool {
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
    let treatments =
        table.has("treatments").then(|| without_none(table, "treatments", Treatment::Nothing));
    let inside = table.has("inside").then(|| without_none(table, "inside", Inside::Nothing));
    let ph = table.maybe("ph");
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
        treatments,
        inside,
        ph,
        texture,
    })
}

/// The things that a list names, where `["none"]` says that there are none of them.
fn without_none<T: Scalar + Copy + PartialEq>(
    table: &Table<'_>,
    key: &'static str,
    none: T,
) -> Vec<T> {
    let mut named: Vec<T> = table.values(key);
    if table.is_empty_list(key) {
        table.fault(
            key,
            "is empty",
            "write `[\"none\"]` if there is nothing, or leave the key out",
        );
    } else if named.contains(&none) && named.len() > 1 {
        table.fault(key, "names `none` beside other things", "leave out `\"none\"` or the rest");
    } else if (1..named.len()).any(|at| named[..at].contains(&named[at])) {
        table.fault(key, "names a thing twice", "take one of them out");
    }
    named.retain(|one| *one != none);
    named
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
