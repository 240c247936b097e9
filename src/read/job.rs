//! Every key that a job file may hold.

use jiff::civil::Date;

use crate::base::names::Key;
use crate::base::quantity::Length;
use crate::base::source::Located;
use crate::model::choices::{Addition, AdditionKind};
use crate::model::job::*;
use crate::model::space::Space;
use crate::read::after;
use crate::read::choices::{AmountSigns, Decided, decided, know_floor};
use crate::read::keys::job::*;
use crate::read::keys::moisture::moisture as tests;
use crate::read::keys::space::space;
use crate::read::keys::spec::TypedKey;
use crate::read::laid;
use crate::read::limits;
use crate::read::moisture::moisture;
use crate::read::orders;
use crate::read::reader::Table;
use crate::read::scalar::Scalar;
use crate::read::shapes::shapes;
use crate::read::spaces;
use crate::read::worked;

/// Names in a job that other files define. They are checked even when the rest of the job has
/// mistakes, so that one run reports everything.
#[derive(Debug, Clone, Default)]
pub struct JobNames {
    pub offer: Vec<Located<Key>>,
    pub extras: Vec<(Located<String>, Vec<Located<Key>>)>,
    /// Extras that an addition names, each with the floors that it is for.
    pub additions: Vec<(Located<Key>, Vec<Key>)>,
    /// Additions that were ticked, with the floors that were chosen: at the signature, and with each order.
    pub ticked: Vec<(Vec<Key>, Vec<Located<Key>>)>,
    /// The keys of the additions of the job; empty where it has none.
    pub addition_keys: Vec<Key>,
    /// Coats that are named, each with its floor.
    pub coats: Vec<(Located<Key>, Key)>,
    pub signs: AmountSigns,
    /// Those of each space, where the job has several.
    pub spaces: Vec<OfferNames>,
}

/// Names of systems on offer for a space, and of their extras.
#[derive(Debug, Clone, Default)]
pub struct OfferNames {
    pub offer: Vec<Located<Key>>,
    pub extras: Vec<(Located<String>, Vec<Located<Key>>)>,
}

/// Reads a job: its names in any case, and the whole of it when it has no mistakes.
pub fn job(top: &Table<'_>) -> (JobNames, Option<Job>) {
    let in_spaces = top.tables(&space::TABLE);
    let mut names = JobNames {
        offer: top.located_list(job::OFFER),
        extras: top.named_lists(&extras::TABLE),
        spaces: spaces::names(&in_spaces),
        ..JobNames::default()
    };
    let (job, signs) = whole(top, &in_spaces, &names);
    names.signs = signs;
    if let Some(job) = &job {
        let named = |one: &Addition| match &one.what {
            AdditionKind::Extra(extra) => {
                let floors = one.floors.iter().map(|floor| floor.value.clone());
                Some((extra.clone(), floors.collect()))
            }
            AdditionKind::Item(_) => None,
        };
        names.additions = job.additions.iter().filter_map(named).collect();
        names.addition_keys = job.additions.iter().map(|one| one.key.clone()).collect();
        names.coats = job
            .failures
            .iter()
            .filter_map(|seen| seen.coat.clone().zip(job.agreed_floor(seen.space.as_deref())))
            .collect();
        let signed = job.accepted.as_ref();
        let mut floors = signed.map(Accepted::all_floors);
        let ticked = signed.map(|signed| (signed.all_floors(), signed.additions.clone()));
        names.ticked = ticked.into_iter().collect();
        for order in &job.orders {
            let of_spaces = order.floors.iter().filter_map(|(_, floor)| floor.clone());
            floors = order.floor.clone().map(|floor| vec![floor]).or(floors);
            floors.iter_mut().for_each(|floors| floors.extend(of_spaces.clone()));
            names.ticked.extend(floors.clone().zip(order.additions.clone()));
        }
    }
    (names, job)
}

fn whole(top: &Table<'_>, in_spaces: &[Table<'_>], names: &JobNames) -> (Option<Job>, AmountSigns) {
    let spaces = spaces::spaces(top, in_spaces, top.read(job::DATE), names);
    let offer: Vec<Located<Key>> =
        names.spaces.iter().flat_map(|space| &space.offer).chain(&names.offer).cloned().collect();
    // With a mistake in a space nobody can tell what is said of it elsewhere.
    let accepted = spaces
        .as_deref()
        .and_then(|spaces| top.table(&accepted::TABLE).and_then(|t| accepted(&t, &offer, spaces)));
    let mut decided = decided(top, &offer, accepted.as_ref());
    if !in_spaces.is_empty() {
        spaces::whole_discount(top, decided.discount.as_ref());
    }
    let signs = std::mem::take(&mut decided.signs);
    (put_together(top, names, spaces, accepted, decided), signs)
}

fn put_together(
    top: &Table<'_>,
    names: &JobNames,
    spaces: Option<Vec<Space>>,
    accepted: Option<Accepted>,
    decided: Decided,
) -> Option<Job> {
    let date = top.read(job::DATE);
    let units = top.read(job::UNITS);
    let usual = if units == Some(Units::Metric) { PaperSize::A4 } else { PaperSize::Letter };
    let paper = top.read_or(job::PAPER, usual);
    let customer = top.table(&customer::TABLE).and_then(|t| customer(&t));
    let house = top.table(&house::TABLE).map(|t| house(&t, date)).unwrap_or_default();
    let slab = top.table(&slab::TABLE).and_then(|t| slab(&t, date));
    let shapes = shapes(top);
    let moisture =
        top.table(&tests::TABLE).map(|t| moisture(&t, shapes.as_ref(), date)).unwrap_or_default();
    let air = top.table(&air::TABLE).and_then(|t| air(&t, date));
    let garage = top.table(&garage::TABLE).and_then(|t| garage(&t));
    let offer = names.offer.clone();
    offer_fits(top, &offer);
    let extras =
        names.extras.iter().map(|(name, list)| (Key(name.value.clone()), list.clone())).collect();
    let plan = top.table(&plan::TABLE).map(|t| plan(&t, date)).unwrap_or_default();
    let known = spaces.as_deref().unwrap_or_default();
    let handover = after::handover(top, accepted.as_ref());
    let failures = after::failures(top, accepted.as_ref(), known);
    let orders = orders::orders(top, accepted.as_ref(), &offer, known);
    let laid = laid::records(top, accepted.as_ref(), &orders, known, date);
    let asked = orders::asked(top);
    let worked = worked::worked(top);
    let photos: Vec<Photo> = top.each(&photo::TABLE, |t| photo(t, known));
    let spaces = spaces?;
    let first = spaces.first().cloned();
    let first = first.as_ref();
    let (notes, crew_notes) = (top.paragraphs(job::NOTES), top.paragraphs(job::CREW_NOTES));
    Some(Job {
        number: top.read(job::NUMBER)?,
        date: date?,
        units: units?,
        paper,
        print: top.read_or(job::PRINT, Print::Usual),
        edition: top.read_or(job::EDITION, Edition::Paper),
        language: top.read(job::LANGUAGE),
        invented: top.read_or(job::INVENTED, false),
        customer: customer?,
        wishes: top.list(job::WISHES),
        house,
        slab: slab.or_else(|| first.map(|space| space.slab.clone()))?,
        shapes: first.map(|space| space.shapes.clone()).or(shapes)?,
        moisture: first.map_or(moisture, |space| space.moisture.clone()),
        air: first.map_or(air, |space| space.air),
        garage: garage.or_else(|| first.map(|space| space.garage.clone()))?,
        offer: first.map_or(offer, |space| space.offer.clone()),
        extras: first.map_or(extras, |space| space.extras.clone()),
        plan,
        laid,
        worked,
        choices: decided.choices,
        additions: decided.additions,
        items: decided.items,
        discount: decided.discount,
        spaces,
        place: None,
        accepted,
        agreed: None,
        asked,
        orders,
        paid: decided.paid,
        bids: decided.bids,
        handover,
        failures,
        photos,
        notes,
        crew_notes,
        span: top.span(),
    })
}

/// Reads the plan of the work, none of which lies before the date of the paper.
fn plan(table: &Table<'_>, date: Option<Date>) -> WorkPlan {
    let not_before = |key: TypedKey<Date>, help: fn(Date) -> String| {
        let day = table.read(key);
        if let Some(date) = date.filter(|date| day.is_some_and(|day| day < *date)) {
            table.fault(key.spec.name, format!("is before the job's date, {date}"), help(date));
        }
        day
    };
    WorkPlan {
        start: not_before(plan::START, |date| {
            format!(
                "write {date} or a later day, or leave `start` out: nobody starts before the paper is written"
            )
        }),
        crew: table.read(plan::CREW),
        crew_name: table.read(plan::CREW_NAME),
        contact: table.read(plan::CONTACT),
        laid: not_before(plan::LAID, |_| {
            "write the day on which the floor was done, or leave `laid` out".to_owned()
        }),
    }
}

/// Refuses an offer without a floor, or with more than a page can hold.
pub fn offer_fits(table: &Table<'_>, offer: &[Located<Key>]) {
    if table.is_empty_list("offer") {
        table.fault("offer", "is empty", "name a floor to look at: `offer = [\"barrier\"]`");
    } else if offer.len() > limits::OPTIONS {
        let most = format!("the most accepted is {}", limits::OPTIONS);
        table.fault("offer", format!("has {} systems", offer.len()), most);
    }
}

fn customer(table: &Table<'_>) -> Option<Customer> {
    Some(Customer {
        name: table.read(customer::NAME)?,
        latin: table.read(customer::LATIN),
        name_prints: true,
        address: table.list(customer::ADDRESS),
        signers: table.list(customer::SIGNERS),
        email: table.read(customer::EMAIL),
        second_email: table.read(customer::SECOND_EMAIL),
        phone: table.read(customer::PHONE),
        tax_exempt: table.read(customer::TAX_EXEMPT),
    })
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
    let built = table.read(house::BUILT);
    not_after(table, "built", built, date, after_year);
    House { built, stay_years: table.read(house::STAY_YEARS) }
}

/// More than any floor of a garage has: a slip in the number or the unit.
const MOST_THICKNESS: Length = Length::inches(24.0);

pub fn slab(table: &Table<'_>, date: Option<Date>) -> Option<Slab> {
    let poured = match (table.read(slab::POURED), table.read(slab::POURED_YEAR)) {
        (Some(day), _) => Some(Poured::Day(day)),
        (None, year) => year.map(Poured::Year),
    };
    match poured {
        Some(Poured::Day(day)) => not_after(table, "poured", Some(day), date, after_day),
        Some(Poured::Year(year)) => not_after(table, "poured-year", Some(year), date, after_year),
        None => {}
    }
    let thickness = table.read(slab::THICKNESS);
    if thickness.is_some_and(|thickness| thickness > MOST_THICKNESS) {
        let most = format!("the most accepted is {:.0} in", MOST_THICKNESS.as_inches());
        table.fault("thickness", "is more than any garage floor has", most);
    }
    let (oil, salts) = (table.read(slab::OIL), table.read(slab::SALTS));
    let (coating, tile_glue) = (table.read(slab::OLD_COATING), table.read(slab::TILE_GLUE));
    let treatments =
        table.has("treatments").then(|| without_none(table, slab::TREATMENTS, Treatment::Nothing));
    let inside = table.has("inside").then(|| without_none(table, slab::INSIDE, Inside::Nothing));
    Some(Slab {
        thickness,
        poured,
        on_ground: table.read(slab::ON_GROUND)?,
        retarder: table.read_or(slab::VAPOR_RETARDER, Known::Unknown),
        strength: table.read(slab::SURFACE_STRENGTH),
        water_drop: table.read(slab::WATER_DROP),
        oil,
        salts,
        coating,
        tile_glue,
        treatments,
        inside,
        ph: table.read(slab::PH),
        texture: table.read(slab::TEXTURE),
    })
}

/// The things that a list names, where `["none"]` says that there are none of them.
pub fn without_none<T: Scalar + Copy + PartialEq>(
    table: &Table<'_>,
    listed: TypedKey<Vec<T>>,
    none: T,
) -> Vec<T> {
    let (key, mut named) = (listed.spec.name, table.list(listed));
    if table.is_empty_list(key) {
        let help = "write `[\"none\"]` if there is nothing, or leave the key out";
        table.fault(key, "is empty", help);
    } else if named.contains(&none) && named.len() > 1 {
        table.fault(key, "names `none` beside other things", "leave out `\"none\"` or the rest");
    } else {
        no_twice(table, key, &named);
    }
    named.retain(|one| *one != none);
    named
}

/// Refuses a list that holds something twice.
pub fn no_twice<T: PartialEq>(table: &Table<'_>, name: &str, list: &[T]) {
    if (1..list.len()).any(|at| list[..at].contains(&list[at])) {
        table.fault(name, "names a thing twice", "take one of them out");
    }
}

pub fn air(table: &Table<'_>, date: Option<Date>) -> Option<Air> {
    let measured = table.read(air::MEASURED);
    not_after(table, "measured", measured, date, after_day);
    Some(Air {
        measured: measured?,
        temperature: table.read(air::TEMPERATURE)?,
        humidity: table.read(air::HUMIDITY)?,
        slab: table.read(air::SLAB)?,
    })
}

fn garage(table: &Table<'_>) -> Option<Garage> {
    Some(Garage {
        height: table.read(garage::HEIGHT),
        ignition: table.list(garage::IGNITION),
        daylight: table.read(garage::DAYLIGHT)?,
        wet: table.read_or(garage::WET, true),
        sold_at_home: table.read(garage::SOLD_AT_HOME)?,
    })
}

fn accepted(table: &Table<'_>, offer: &[Located<Key>], spaces: &[Space]) -> Option<Accepted> {
    if !spaces::keeps_to_spaces(table, spaces) {
        return None;
    }
    let floors = if spaces.is_empty() { vec![] } else { spaces::chosen(table, spaces) };
    let floor = match floors.first() {
        Some((_, first)) => first.clone(),
        None if !spaces.is_empty() => return None,
        None => {
            let floor = table.read(accepted::FLOOR)?;
            know_floor(table, "floor", &floor, offer).then_some(floor)?
        }
    };
    Some(Accepted {
        revision: table.read(accepted::REVISION)?,
        floor,
        floors,
        on: table.read(accepted::ON)?,
        additions: table.located_list(accepted::ADDITIONS),
        span: table.span(),
    })
}

fn photo(table: &Table<'_>, spaces: &[Space]) -> Option<Photo> {
    spaces::known_space(table, photo::SPACE, spaces);
    Some(Photo {
        file: table.located(photo::FILE)?,
        caption: table.read(photo::CAPTION)?,
        space: table.read(photo::SPACE),
        when: table.read_or(photo::WHEN, PhotoWhen::Before),
    })
}
