//! The floor as it was laid: the records of its coats, and those held against the floor that was agreed.

use jiff::civil::{Date, DateTime};

use crate::base::names::Key;
use crate::base::quantity::{Area, Hours};
use crate::base::source::{Diagnostic, Problems};
use crate::model::book::{Book, Product};
use crate::model::job::{Accepted, CoatRecord, Job, Order};
use crate::model::space::Space;
use crate::model::system::{System, SystemCoat};
use crate::read::keys::laid::laid;
use crate::read::link::unknown;
use crate::read::reader::Table;
use crate::read::spaces::in_one_space;
use crate::site::moisture::hours_between;

/// Reads every `[[laid]]`. They stand in the order of work, and only in a job that was accepted.
pub fn records(
    top: &Table<'_>,
    accepted: Option<&Accepted>,
    orders: &[Order],
    spaces: &[Space],
    date: Option<Date>,
) -> Vec<CoatRecord> {
    let tables = top.tables(&laid::TABLE);
    let signed = orders.iter().filter(|order| order.signed.is_some());
    let agreed = signed.fold(accepted.cloned(), |agreed, order| Some(agreed?.with(order)));
    if let Some(first) = tables.first().filter(|_| !top.has("accepted")) {
        let help = "a floor is laid once it was ordered: add `[accepted]` with `revision`, `floor` and \
                    `on`, as the customer signed it";
        first.report(&first.span(), "a coat is recorded, and nothing was accepted", help);
    }
    let mut all: Vec<CoatRecord> = vec![];
    for table in &tables {
        let space_fits = in_its_space(table, spaces, agreed.as_ref());
        let Some(record) = record(table, accepted, date) else { continue };
        if !space_fits {
            continue;
        }
        let before = all.iter().rev().find(|earlier| earlier.space == record.space);
        if let Some(before) = before.filter(|before| record.start < before.start) {
            let help = format!(
                "`{}` above it began at {}: put the records in the order of work, or mend the times",
                before.coat.value,
                written(before.start)
            );
            table.fault("start", "is before that of the record above it", help);
        }
        all.push(record);
    }
    all
}

/// A moment as a file has it.
fn written(moment: DateTime) -> String {
    moment.strftime("%Y-%m-%dT%H:%M:%S").to_string()
}

/// Refuses a record of a space that there is not, or that nobody ordered; and one without its space.
fn in_its_space(table: &Table<'_>, spaces: &[Space], accepted: Option<&Accepted>) -> bool {
    in_one_space(table, laid::SPACE, spaces);
    if spaces.is_empty() {
        return true;
    }
    let known = |name: &String| spaces.iter().any(|space| space.place.name == *name);
    let Some(name) = table.read(laid::SPACE).filter(known) else { return false };
    if accepted.is_some_and(|accepted| accepted.of(&name).is_none()) {
        let help = format!("`[accepted]` names its floor: `floors = {{ {name:?} = \"KEY\" }}`");
        table.fault("space", "is one for which no floor was accepted", help);
        return false;
    }
    true
}

/// Longer than any crew lays one coat without a break: a slip in a date.
const LONGEST: Hours = Hours::hours(24.0);

/// The least area of a record of its own.
const LEAST: Area = Area::square_feet(1.0);

fn record(
    table: &Table<'_>,
    accepted: Option<&Accepted>,
    date: Option<Date>,
) -> Option<CoatRecord> {
    let (start, end) = (table.read(laid::START), table.read(laid::END));
    let signed = accepted.map(|accepted| (accepted.on, "the day on which the floor was accepted"));
    let earliest = signed.or_else(|| Some((date?, "the job\u{2019}s date")));
    if let (Some(start), Some((day, what))) = (start, earliest)
        && start.date() < day
    {
        let help = "check both days: a floor is laid once it was ordered";
        table.fault("start", format!("is before {what}, {day}"), help);
    }
    if let (Some(start), Some(end)) = (start, end) {
        if end <= start {
            table.fault("end", "is not after `start`", "check both dates and times");
        } else if hours_between(start, end) > LONGEST {
            let help = "check both dates: where a coat was laid on two days, write a record for each \
                        part, with its `area`";
            table.fault("end", "is more than 24 hours after `start`", help);
        }
    }
    let area = table.read(laid::AREA);
    if area.is_some_and(|area| area < LEAST) {
        let help = "write the area that was covered, or leave it out for the whole floor";
        table.fault("area", "is less than a square foot (0.1 m2)", help);
    }
    let again = table.read_or(laid::AGAIN, false);
    Some(CoatRecord {
        coat: table.located(laid::COAT)?,
        space: table.read(laid::SPACE),
        again,
        start: start?,
        end,
        slab: table.read(laid::SLAB),
        air: table.read(laid::AIR),
        humidity: table.read(laid::HUMIDITY),
        area,
        used: table.read(laid::USED),
        weight: table.read(laid::WEIGHT),
        batches: table.list(laid::BATCHES),
        films: table.list(laid::FILMS),
        gauge_step: table.read(laid::GAUGE_STEP),
        who: table.read(laid::WHO),
        note: table.read(laid::NOTE),
        span: table.span(),
    })
}

/// Checks the records of a job against the coats of the floors that were agreed.
pub fn against_floors(job: Option<&Job>, book: &Book, systems: &[System], problems: &Problems) {
    let Some(job) = job.filter(|job| !job.laid.is_empty()) else { return };
    let jobs = if job.has_spaces() { job.of_spaces() } else { vec![job.clone()] };
    for job in &jobs {
        let Some(agreed) = job.agreed_by_orders() else { continue };
        if let Some(system) = systems.iter().find(|system| system.key == agreed.floor) {
            against_floor(&job.laid, system, book, problems);
        }
    }
}

fn against_floor(records: &[CoatRecord], system: &System, book: &Book, problems: &Problems) {
    for (at, record) in records.iter().enumerate() {
        let coat = &record.coat;
        let Some(place) = system.coats.iter().position(|one| one.key == coat.value) else {
            let known = system.coats.iter().map(|one| one.key.0.as_str());
            unknown(coat, &format!("coat of `{}`", system.key), known, problems);
            continue;
        };
        let earlier = &records[..at];
        in_order(record, earlier, system, place, problems);
        stands_once(record, earlier, problems);
        if let Some(product) = book.product(&system.coats[place].product.value) {
            measured_rightly(record, &system.coats[place], product, problems);
        }
    }
}

/// Refuses a coat that was laid before the one below it.
fn in_order(
    record: &CoatRecord,
    earlier: &[CoatRecord],
    system: &System,
    place: usize,
    problems: &Problems,
) {
    let above: Vec<&Key> = system.coats[place + 1..].iter().map(|coat| &coat.key).collect();
    let later = earlier.iter().find(|one| !record.again && above.contains(&&one.coat.value));
    // With an earlier record of another part of the same coat, a part of the floor may be ahead of the rest.
    let in_parts = earlier.iter().any(|one| one.coat.value == record.coat.value);
    if let Some(later) = later.filter(|_| !in_parts) {
        let message = format!(
            "`{}` is recorded after `{}`, which lies above it",
            record.coat.value, later.coat.value
        );
        let help = "check the coats and the times: the lower coat is laid first";
        problems.add(Diagnostic::at(&record.coat.span, message).help(help));
    }
}

/// Refuses a second record of a coat that does not say if it is of another part or over the same.
fn stands_once(record: &CoatRecord, earlier: &[CoatRecord], problems: &Problems) {
    let same: Vec<&CoatRecord> =
        earlier.iter().filter(|one| one.coat.value == record.coat.value).collect();
    let name = &record.coat.value;
    if record.again && same.is_empty() {
        let message = format!("`{name}` is laid again, and no record above it is the first");
        let help = "leave `again` out, or add the first record";
        problems.add(Diagnostic::at(&record.coat.span, message).help(help));
    } else if !record.again && !same.is_empty() {
        let without =
            std::iter::once(record).chain(same).any(|one| !one.again && one.area.is_none());
        if without {
            let message = format!("`{name}` is recorded twice");
            let help = "give each part its `area`, or write `again = true` where it went over the same floor once more";
            problems.add(Diagnostic::at(&record.coat.span, message).help(help));
        }
    }
}

/// Refuses a volume of what is weighed, and a weight of what is a liquid.
fn measured_rightly(
    record: &CoatRecord,
    coat: &SystemCoat,
    product: &Product,
    problems: &Problems,
) {
    let refuse = |message: String, help: &str| {
        problems.add(Diagnostic::at(&record.span, message).help(help));
    };
    match product.resin() {
        Some(_) if record.weight.is_some() => refuse(
            format!("coat `{}` is a liquid and has a `weight`", coat.key),
            "write the volume: `used = \"2.75 gal\"`",
        ),
        None if record.used.is_some() => refuse(
            format!("coat `{}` is no liquid and has `used`", coat.key),
            "write the weight: `weight = \"80 lb\"`",
        ),
        None if !record.films.is_empty() => refuse(
            format!("coat `{}` is no liquid and has `films`", coat.key),
            "a wet film gauge reads liquid coats: put the readings where the liquid is recorded",
        ),
        _ => {}
    }
}
