//! Every key of the moisture tests in a job file.

use jiff::civil::{Date, DateTime};

use crate::base::quantity::*;
use crate::model::job::*;
use crate::read::job::{after_day, not_after};
use crate::read::reader::Table;
use crate::read::shapes::{extent, needed_length};
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
    for later in table.tables("visit") {
        let Some(read) = visit(&later, context) else {
            if !["dishes", "probes", "plastic-sheet"].iter().any(|key| later.has(key)) {
                let help = "add a `[moisture.visit.dishes]`, a `[moisture.visit.probes]` or a \
                            `[[moisture.visit.plastic-sheet]]` table, or leave the visit out";
                later.fault("visit", "has no test", help);
            }
            continue;
        };
        let last = visits.last().and_then(last_reading);
        if let (Some(last), Some(first)) = (last, first_reading(&read))
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
    let dishes = table.table("dishes").and_then(|t| dishes(&t, context));
    let probes = table.table("probes").and_then(|t| probes(&t, context));
    let sheets: Vec<SheetTest> =
        table.tables("plastic-sheet").iter().filter_map(|t| sheet(t, context)).collect();
    let none = dishes.is_none() && probes.is_none() && sheets.is_empty();
    (!none).then_some(TestVisit { dishes, probes, sheets })
}

/// The moments at which the tests of a visit were read.
fn readings(visit: &TestVisit) -> impl Iterator<Item = DateTime> + '_ {
    let dishes = visit.dishes.iter().flat_map(|test| test.dishes.iter().map(|dish| dish.lifted));
    let probes = visit.probes.iter().flat_map(|test| test.probes.iter().map(|probe| probe.read));
    dishes.chain(probes).chain(visit.sheets.iter().map(|sheet| sheet.lifted))
}

fn first_reading(visit: &TestVisit) -> Option<DateTime> {
    readings(visit).min()
}

fn last_reading(visit: &TestVisit) -> Option<DateTime> {
    readings(visit).max()
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

/// Two moments in their order, the later not after the paper.
fn times(
    table: &Table<'_>,
    from: &'static str,
    to: &'static str,
    date: Option<Date>,
) -> (Option<DateTime>, Option<DateTime>) {
    let (start, end): (Option<DateTime>, Option<DateTime>) = (table.need(from), table.need(to));
    if let (Some(start), Some(end)) = (start, end)
        && end <= start
    {
        table.fault(to, format!("is not after `{from}`"), "check both dates and times");
    }
    not_after(table, to, end.map(DateTime::date), date, after_day);
    (start, end)
}

fn dishes(table: &Table<'_>, context: Context) -> Option<DishTest> {
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
    let as_used = table.or("room-as-used", false);
    let settled = table.maybe("settled");
    let instrument = table.maybe("instrument");
    let tables = table.tables("dish");
    if tables.is_empty() {
        table.fault("dish", "is missing", "add a `[[moisture.dishes.dish]]` table for each dish");
    }
    let dishes: Vec<Dish> = tables.iter().filter_map(|t| dish(t, context)).collect();
    Some(DishTest { scale: scale?, room, as_used, settled, instrument, dishes })
}

/// How long the ground spot of a dish stays open: ASTM F1869.
const OPEN_BEFORE: Hours = Hours::hours(24.0);

fn dish(table: &Table<'_>, context: Context) -> Option<Dish> {
    let place = table.need("place");
    let at = place_on_plan(table, context.floor);
    let exposed: Option<Area> = table.need("exposed");
    let (before, after): (Option<Mass>, Option<Mass>) = (table.need("before"), table.need("after"));
    let (set, lifted) = times(table, "set", "lifted", context.date);
    let surface: Option<TestSurface> = table.maybe("surface");
    let ground: Option<DateTime> = table.maybe("ground");
    if let (Some(ground), Some(set)) = (ground, set) {
        if ground >= set {
            table.fault(
                "ground",
                "is not before `set`",
                "the spot is ground first and left open for 24 hours; check both dates and times",
            );
        } else if surface == Some(TestSurface::GroundOpen)
            && hours_between(ground, set) < OPEN_BEFORE
        {
            table.fault(
                "ground",
                "is less than 24 hours before `set`, and `surface` says open for 24 hours",
                "write `surface = \"bare\"`, or mend the times",
            );
        }
    }
    let void = table.maybe("void");
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
        surface: surface.or_else(|| Some(surface_since(ground?, set?))),
        ground,
        exposed: exposed?,
        before: before?,
        after: after?,
        set: set?,
        lifted: lifted?,
        void,
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
        let most = MOST_MVER.as_pounds();
        table.fault(
            "after",
            format!("makes a rate of {:.0} lb/1000ft2/24h", rate.as_pounds()),
            format!("the most accepted is {most}; check both weights, `exposed` and the times"),
        );
    }
    within
}

/// No probe is that far off and still in use.
const WORST_ACCURACY: Humidity = Humidity::percent(10.0);

fn probes(table: &Table<'_>, context: Context) -> Option<ProbeTest> {
    let edition = table.need("edition");
    let accuracy: Option<Humidity> = table.maybe("accuracy");
    let wrong = match accuracy {
        Some(accuracy) if accuracy <= Humidity::ZERO => Some("is zero"),
        Some(accuracy) if accuracy > WORST_ACCURACY => Some("is more than 10 %"),
        _ => None,
    };
    if let Some(wrong) = wrong {
        table.fault(
            "accuracy",
            wrong,
            "how far a probe may be off either way, by its data sheet, for example `\"2 %\"`",
        );
    }
    let settled = table.maybe("settled");
    let instrument = table.maybe("instrument");
    let tables = table.tables("probe");
    if tables.is_empty() {
        table.fault("probe", "is missing", "add a `[[moisture.probes.probe]]` table for each hole");
    }
    let probes: Vec<Probe> = tables.iter().filter_map(|t| probe(t, context)).collect();
    Some(ProbeTest { edition: edition?, accuracy, settled, instrument, probes })
}

fn probe(table: &Table<'_>, context: Context) -> Option<Probe> {
    let place = table.need("place");
    let at = place_on_plan(table, context.floor);
    let depth = needed_length(table, "depth");
    let reading = table.need("reading");
    let (drilled, read) = times(table, "drilled", "read", context.date);
    let calibrated = table.maybe("calibrated");
    if let (Some(Calibrated::On(day)), Some(read)) = (calibrated, read)
        && day > read.date()
    {
        table.fault("calibrated", "is after `read`", "the last check before the reading counts");
    }
    let void = table.maybe("void");
    Some(Probe {
        place: place?,
        at,
        depth: depth?,
        reading: reading?,
        drilled: drilled?,
        read: read?,
        calibrated,
        void,
        span: table.span(),
    })
}

fn sheet(table: &Table<'_>, context: Context) -> Option<SheetTest> {
    let place = table.need("place");
    let at = place_on_plan(table, context.floor);
    let (taped, lifted) = times(table, "taped", "lifted", context.date);
    let sealed = table.maybe("sealed");
    let found = table.need("found");
    let void = table.maybe("void");
    Some(SheetTest {
        place: place?,
        at,
        taped: taped?,
        lifted: lifted?,
        sealed,
        found: found?,
        void,
        span: table.span(),
    })
}
