//! The spaces of a job that has several, each read by the readers of a job of one space.

use jiff::civil::Date;

use crate::base::names::Key;
use crate::base::source::Located;
use crate::model::choices::Discount;
use crate::model::job::Garage;
use crate::model::space::{Place, Space, SpaceKind};
use crate::read::choices::{look, offered};
use crate::read::job::{JobNames, OfferNames, air, offer_fits, slab};
use crate::read::keys::choices::choices;
use crate::read::keys::job::{
    air as air_keys, extras, floors, job, order_floors, slab as slab_keys,
};
use crate::read::keys::moisture::moisture as tests;
use crate::read::keys::space::{space, surroundings};
use crate::read::keys::spec::TypedKey;
use crate::read::keys::table::TableSpec;
use crate::read::moisture::moisture;
use crate::read::reader::Table;
use crate::read::shapes::shapes;
use crate::read::suggest::instead;

/// The names of floors in every space, which other files define.
pub fn names(tables: &[Table<'_>]) -> Vec<OfferNames> {
    let named = |table: &Table<'_>| OfferNames {
        offer: table.located_list(space::OFFER),
        extras: table.named_lists(&extras::TABLE),
    };
    tables.iter().map(named).collect()
}

/// Reads every space from its table; `None` where one has a mistake.
pub fn spaces(
    top: &Table<'_>,
    tables: &[Table<'_>],
    date: Option<Date>,
    names: &JobNames,
) -> Option<Vec<Space>> {
    if top.is_empty_list("space") {
        let help = "write `[[space]]` with `name` and `kind` for each, or leave it out";
        top.fault("space", "is empty", help);
    }
    let mut taken: Vec<String> = vec![];
    for table in tables {
        let Some(name) = table.read(space::NAME) else { continue };
        if taken.iter().any(|other| other.to_lowercase() == name.to_lowercase()) {
            let help = "give each space a name of its own, such as `Front patio`";
            table.fault("name", format!("`{name}` stands at two spaces"), help);
        }
        taken.push(name);
    }
    let sold_at_home = top.read(job::SOLD_AT_HOME).unwrap_or(true);
    let read: Vec<Option<Space>> = tables
        .iter()
        .zip(&names.spaces)
        .map(|(table, own)| one(table, date, names, own, sold_at_home))
        .collect();
    let mut spaces: Vec<Space> = read.into_iter().collect::<Option<_>>()?;
    (1..).zip(&mut spaces).for_each(|(number, space)| space.place.number = number);
    Some(spaces)
}

fn one(
    table: &Table<'_>,
    date: Option<Date>,
    names: &JobNames,
    own: &OfferNames,
    sold_at_home: bool,
) -> Option<Space> {
    let slab = table.table(&slab_keys::TABLE).and_then(|t| slab(&t, date));
    let shapes = shapes(table);
    let moisture =
        table.table(&tests::TABLE).map(|t| moisture(&t, shapes.as_ref(), date)).unwrap_or_default();
    let air = table.table(&air_keys::TABLE).and_then(|t| air(&t, date));
    let kind = table.read(space::KIND);
    let place = table.table(&surroundings::TABLE).and_then(|t| surroundings_of(&t, kind?));
    offer_fits(table, &own.offer);
    let offer = if table.has("offer") { &own.offer } else { &names.offer };
    if offer.is_empty() && !table.has("offer") {
        let help = "add `offer = [\"barrier\"]` to this space, or to the top of the job for all";
        table.fault("offer", "is missing here and at the top of the job", help);
    }
    let extras = if table.has("extras") { &own.extras } else { &names.extras };
    let extras = extras.iter().map(|(name, list)| (Key(name.value.clone()), list.clone()));
    let (place, mut garage) = place?;
    garage.sold_at_home = sold_at_home;
    Some(Space {
        place: Place { name: table.read(space::NAME)?, ..place },
        slab: slab?,
        shapes: shapes?,
        moisture,
        air,
        garage,
        offer: offer.clone(),
        extras: extras.collect(),
        choices: table.table(&choices::TABLE).map(|table| look(&table)),
        span: table.span(),
    })
}

fn surroundings_of(table: &Table<'_>, kind: SpaceKind) -> Option<(Place, Garage)> {
    let outdoors = match (kind, table.read(surroundings::OUTDOORS)) {
        (SpaceKind::Patio, Some(false)) => {
            let help =
                "for a floor with a roof write `covered = true`; inside the house it is a `room`";
            table.fault("outdoors", "is false, and a patio is outdoors", help);
            return None;
        }
        (SpaceKind::Basement | SpaceKind::Room, Some(true)) => {
            let help = "what is outdoors is a `patio`, or `steps`";
            table.fault("outdoors", format!("is true, and a {} is not", kind.word()), help);
            return None;
        }
        (SpaceKind::Steps, None) if !table.has("outdoors") => {
            let help = "steps are in the house or outside of it: add `outdoors = true` or `outdoors = false`";
            table.fault("outdoors", "is missing", help);
            return None;
        }
        (SpaceKind::Patio, None) => true,
        (_, said) => said.unwrap_or(false),
    };
    let daylight = match (outdoors, table.read(surroundings::DAYLIGHT)) {
        (true, Some(false)) => {
            let help = "daylight reaches all that is outdoors: leave the key out";
            table.fault("daylight", "is false, and this space is outdoors", help);
            return None;
        }
        (true, _) => true,
        (false, None) if !table.has("daylight") => {
            table.fault("daylight", "is missing", "add `daylight = true` or `daylight = false`");
            return None;
        }
        (false, said) => said?,
    };
    let place = Place {
        number: 0,
        name: String::new(),
        kind,
        outdoors,
        covered: table.read(surroundings::COVERED),
        air_exchange: table.read(surroundings::AIR_EXCHANGE),
        slept_in: table.read(surroundings::SLEPT_IN),
    };
    let garage = Garage {
        height: table.read(surroundings::HEIGHT),
        ignition: table.list(surroundings::IGNITION),
        daylight,
        wet: table.read_or(surroundings::WET, true),
        sold_at_home: true,
    };
    Some((place, garage))
}

/// The floors that were chosen, by space: each names a space of the job, and a floor that is offered for
/// it.
pub fn chosen(table: &Table<'_>, spaces: &[Space]) -> Vec<(String, Key)> {
    let floors = by_space(table, &floors::TABLE, spaces, false).into_iter();
    floors.filter_map(|(name, floor)| Some((name, floor?))).collect()
}

/// The word for a space that an order leaves out.
const NONE: &str = "none";

/// The floors that an order changes, by space; `None` for a space that it leaves out.
pub fn ordered(table: &Table<'_>, spaces: &[Space]) -> Vec<(String, Option<Key>)> {
    by_space(table, &order_floors::TABLE, spaces, true)
}

fn by_space(
    table: &Table<'_>,
    spec: &'static TableSpec,
    spaces: &[Space],
    or_none: bool,
) -> Vec<(String, Option<Key>)> {
    let mut floors = vec![];
    for (name, floor) in table.named_values::<Key>(spec) {
        let Some(space) = spaces.iter().find(|space| space.place.name == name.value) else {
            let known = spaces.iter().map(|space| space.place.name.as_str());
            unknown_space(table, &name, known);
            continue;
        };
        if or_none && floor.value.0 == NONE {
            floors.push((name.value, None));
            continue;
        }
        if let Err(help) = offered(&floor.value, &space.offer) {
            let message = format!("`{}` is not on offer for `{}`", floor.value, name.value);
            table.report(&floor.span, message, help);
            continue;
        }
        floors.push((name.value, Some(floor.value)));
    }
    floors
}

/// The acceptance of a job with spaces, or of one without: each has its own key for what was chosen.
pub fn keeps_to_spaces(table: &Table<'_>, spaces: &[Space]) -> bool {
    match (spaces.first(), table.has("floors"), table.has("floor")) {
        (Some(first), false, true) => {
            let floor = first.offer.first().map_or("barrier", |floor| floor.value.0.as_str());
            let help = format!("write `floors = {{ {:?} = \"{floor}\" }}`", first.place.name);
            table.fault("floor", "names one floor, and the job has several spaces", help);
            false
        }
        (None, true, _) => {
            let help = "write `floor = \"barrier\"`: `floors` is for a job with `[[space]]`";
            table.fault("floors", "names spaces, and the job has none", help);
            false
        }
        _ => true,
    }
}

/// Refuses floors of a discount, which is off the price of all spaces.
pub fn whole_discount(top: &Table<'_>, discount: Option<&Discount>) {
    let Some(discount) = discount.filter(|discount| !discount.floors.is_empty()) else { return };
    let span = top.span_below("discount", "floors").unwrap_or_else(|| discount.span.clone());
    let help = "leave it out: a discount is off the price of all spaces together";
    top.report(&span, "`floors` names floors, and this job has several spaces", help);
}

/// Refuses a space that there is not; without spaces any name may stand.
pub fn known_space(table: &Table<'_>, key: TypedKey<String>, spaces: &[Space]) {
    let Some(name) = table.located(key) else { return };
    let known = spaces.iter().map(|space| space.place.name.as_str());
    if !spaces.is_empty() && !known.clone().any(|known| known == name.value) {
        unknown_space(table, &name, known);
    }
}

/// Refuses what names no space, or one that there is not, where the job has several.
pub fn in_one_space(table: &Table<'_>, key: TypedKey<String>, spaces: &[Space]) {
    known_space(table, key, spaces);
    if let (Some(first), false) = (spaces.first(), table.has(key.spec.name)) {
        let help =
            format!("add `{} = {:?}`, or the name of another", key.spec.name, first.place.name);
        table.fault(key.spec.name, "is missing, and the job has several spaces", help);
    }
}

fn unknown_space<'a>(
    table: &Table<'_>,
    name: &Located<String>,
    known: impl Iterator<Item = &'a str>,
) {
    let known: Vec<&str> = known.collect();
    let all = || format!("known: {}", known.join(", "));
    let help = instead(&name.value, known.iter().copied(), all);
    table.report(&name.span, format!("no space is called `{}`", name.value), help);
}
