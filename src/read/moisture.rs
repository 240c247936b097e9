//! Every key of the moisture tests in a job file.

use jiff::civil::{Date, DateTime};

use crate::base::quantity::*;
use crate::model::job::*;
use crate::read::job::{after_day, not_after};
use crate::read::keys::moisture::*;
use crate::read::keys::spec::TypedKey;
use crate::read::reader::Table;
use crate::read::shapes::extent;
use crate::site::moisture::{hours_between, mver};

/// Readings are held against these.
#[derive(Clone, Copy)]
struct Context {
    /// The corners of the measured floor, where it is known.
    floor: Option<(Point, Point)>,
    /// The date of the paper.
    date: Option<Date>,
}

/// Reads the tests of all visits: those that stand alone are the first visit's.
pub fn moisture(table: &Table<'_>, shapes: Option<&Shapes>, date: Option<Date>) -> Moisture {
    let context = Context { floor: shapes.and_then(|shapes| extent(&shapes.areas)), date };
    let mut visits: Vec<TestVisit> = visit(table, context).into_iter().collect();
    for later in table.tables(&visit::TABLE) {
        let Some(read) = visit(&later, context) else {
            if !["dishes", "probes", "plastic-sheet"].iter().any(|key| later.has(key)) {
                let help = "add a `[moisture.visit.dishes]`, a `[moisture.visit.probes]` or a \
                            `[[moisture.visit.plastic-sheet]]` table, or leave the visit out";
                later.fault("visit", "has no test", help);
            }
            continue;
        };
        let last = visits.last().and_then(|visit| readings(visit).max());
        if let (Some(last), Some(first)) = (last, readings(&read).min())
            && first.date() < last.date()
        {
            let help = format!(
                "one of its tests was read on {}, before the visit above it ended on {}: \
                 put the visits in their order",
                first.date(),
                last.date()
            );
            later.fault("visit", "is out of order", help);
        }
        visits.push(read);
    }
    Moisture { visits }
}

fn visit(table: &Table<'_>, context: Context) -> Option<TestVisit> {
    let dishes = table.table(&dishes::TABLE).and_then(|t| dishes(&t, context));
    let probes = table.table(&probes::TABLE).and_then(|t| probes(&t, context));
    let sheets: Vec<SheetTest> = table.each(&sheet::TABLE, |t| sheet(t, context));
    let none = dishes.is_none() && probes.is_none() && sheets.is_empty();
    (!none).then_some(TestVisit { dishes, probes, sheets })
}

/// The moments at which the tests of a visit were read.
fn readings(visit: &TestVisit) -> impl Iterator<Item = DateTime> + '_ {
    let dishes = visit.dishes.iter().flat_map(|test| test.dishes.iter().map(|dish| dish.lifted));
    let probes = visit.probes.iter().flat_map(|test| test.probes.iter().map(|probe| probe.read));
    dishes.chain(probes).chain(visit.sheets.iter().map(|sheet| sheet.lifted))
}

/// Reads the place of a test: on the floor, when the plan says how far that goes.
fn place_on_plan(
    table: &Table<'_>,
    key: TypedKey<(Length, Length)>,
    floor: Option<(Point, Point)>,
) -> Option<Point> {
    let at = table.pair(key).map(|(x, y)| Point { x, y })?;
    if let Some((from, to)) = floor
        && !(from.x <= at.x && at.x <= to.x && from.y <= at.y && at.y <= to.y)
    {
        let help =
            "both lengths start at the corner where the areas start: along first, then across";
        table.fault("at", "lies beside the floor", help);
    }
    Some(at)
}

/// Two moments in their order, the later not after the paper.
fn times(
    table: &Table<'_>,
    from: TypedKey<DateTime>,
    to: TypedKey<DateTime>,
    date: Option<Date>,
) -> (Option<DateTime>, Option<DateTime>) {
    let not_later = (PartialOrd::ge as fn(&_, &_) -> _, "is not after");
    let (start, end) = table.two(from, to, not_later, "check both dates and times");
    not_after(table, to.spec.name, end.map(DateTime::date), date, after_day);
    (start, end)
}

fn dishes(table: &Table<'_>, context: Context) -> Option<DishTest> {
    let scale = table.read(dishes::SCALE);
    let room = table.read(dishes::ROOM_TEMPERATURE).zip(table.read(dishes::ROOM_HUMIDITY));
    let room = room.map(|(temperature, humidity)| RoomAir { temperature, humidity });
    let dishes = table.each(&dish::TABLE, |t| dish(t, context));
    Some(DishTest {
        scale: scale?,
        room,
        as_used: table.read_or(dishes::ROOM_AS_USED, false),
        settled: table.read(dishes::SETTLED),
        instrument: table.read(dishes::INSTRUMENT),
        dishes,
    })
}

/// The time for which the ground spot of a dish stays open: ASTM F1869.
const OPEN_BEFORE: Hours = Hours::hours(24.0);

fn dish(table: &Table<'_>, context: Context) -> Option<Dish> {
    let at = place_on_plan(table, dish::AT, context.floor);
    let exposed = table.read(dish::EXPOSED);
    let help = "a dish gains weight; check both readings";
    let (before, after) =
        table.two(dish::BEFORE, dish::AFTER, (PartialOrd::gt, "is less than"), help);
    let (set, lifted) = times(table, dish::SET, dish::LIFTED, context.date);
    let surface = table.read(dish::SURFACE);
    let ground = table.read(dish::GROUND);
    if let (Some(ground), Some(set)) = (ground, set) {
        let is_open = surface == Some(TestSurface::GroundOpen);
        if ground >= set {
            let help =
                "the spot is ground first and left open for 24 hours; check both dates and times";
            table.fault("ground", "is not before `set`", help);
        } else if is_open && hours_between(ground, set) < OPEN_BEFORE {
            let message =
                "is less than 24 hours before `set`, and `surface` says open for 24 hours";
            table.fault("ground", message, "write `surface = \"bare\"`, or mend the times");
        }
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
        place: table.read(dish::PLACE)?,
        at,
        surface: surface.or_else(|| Some(surface_since(ground?, set?))),
        ground,
        exposed: exposed?,
        before: before?,
        after: after?,
        set: set?,
        lifted: lifted?,
        void: table.read(dish::VOID),
        span: table.span(),
    })
}

/// The surface that follows from the moment at which a spot was ground.
fn surface_since(ground: DateTime, set: DateTime) -> TestSurface {
    let open = hours_between(ground, set) >= OPEN_BEFORE;
    if open { TestSurface::GroundOpen } else { TestSurface::Bare }
}

/// More than any slab gives off, as much as any limit may be: a slip in a weight, a size or a day.
const MOST_MVER: Mver = Mver::pounds(100.0);

/// Refuses a rate that no slab has.
fn rate_within_bounds(table: &Table<'_>, rate: Mver) -> bool {
    let within = rate <= MOST_MVER;
    if !within {
        let (made, most) = (rate.as_pounds(), MOST_MVER.as_pounds());
        let help =
            format!("the most accepted is {most}; check both weights, `exposed` and the times");
        table.fault("after", format!("makes a rate of {made:.0} lb/1000ft2/24h"), help);
    }
    within
}

/// No probe is that far off and still in use.
const WORST_ACCURACY: Humidity = Humidity::percent(10.0);

fn probes(table: &Table<'_>, context: Context) -> Option<ProbeTest> {
    let accuracy = table.read(probes::ACCURACY);
    if accuracy.is_some_and(|accuracy| accuracy > WORST_ACCURACY) {
        let advice = probes::ACCURACY.spec.advice.unwrap_or_default();
        table.fault("accuracy", "is more than 10 %", advice);
    }
    let probes = table.each(&probe::TABLE, |t| probe(t, context));
    Some(ProbeTest {
        edition: table.read(probes::EDITION)?,
        accuracy,
        settled: table.read(probes::SETTLED),
        instrument: table.read(probes::INSTRUMENT),
        probes,
    })
}

fn probe(table: &Table<'_>, context: Context) -> Option<Probe> {
    let at = place_on_plan(table, probe::AT, context.floor);
    let (drilled, read) = times(table, probe::DRILLED, probe::READ, context.date);
    let calibrated = table.read(probe::CALIBRATED);
    if let (Some(Calibrated::On(day)), Some(read)) = (calibrated, read)
        && day > read.date()
    {
        table.fault("calibrated", "is after `read`", "the last check before the reading counts");
    }
    Some(Probe {
        place: table.read(probe::PLACE)?,
        at,
        depth: table.read(probe::DEPTH)?,
        reading: table.read(probe::READING)?,
        drilled: drilled?,
        read: read?,
        calibrated,
        void: table.read(probe::VOID),
        span: table.span(),
    })
}

fn sheet(table: &Table<'_>, context: Context) -> Option<SheetTest> {
    let at = place_on_plan(table, sheet::AT, context.floor);
    let (taped, lifted) = times(table, sheet::TAPED, sheet::LIFTED, context.date);
    Some(SheetTest {
        place: table.read(sheet::PLACE)?,
        at,
        taped: taped?,
        lifted: lifted?,
        sealed: table.read(sheet::SEALED),
        found: table.read(sheet::FOUND)?,
        void: table.read(sheet::VOID),
        span: table.span(),
    })
}
