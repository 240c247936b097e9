//! Every key that the measured shapes of a job may hold.

use crate::base::quantity::*;
use crate::model::job::*;
use crate::read::keys::shapes::*;
use crate::read::keys::spec::TypedKey;
use crate::read::reader::Table;
use crate::site::take_off;

/// A gap that is wider is no crack but a hole, which is patched: common practice, no published
/// source.
const MOST_CRACK: Length = Length::inches(2.0);

pub fn shapes(top: &Table<'_>) -> Option<Shapes> {
    let area_tables = top.tables(&area::TABLE);
    let areas: Vec<Patch> = area_tables.iter().filter_map(patch).collect();
    let cutout_tables = top.tables(&cutout::TABLE);
    let cutouts: Vec<Patch> = cutout_tables.iter().filter_map(patch).collect();
    let uprights = top.each(&upright::TABLE, |t| {
        let name = t.read_or(upright::NAME, String::new());
        let (length, height) = (t.read(upright::LENGTH)?, t.read(upright::HEIGHT)?);
        Some(Upright { name, length, height })
    });
    let steps = top.each(&steps::TABLE, |t| {
        let (tread, riser) = (t.read(steps::TREAD)?, t.read(steps::RISER)?);
        let at = t.pair(steps::AT).map(point);
        Some(Steps { count: t.read(steps::COUNT)?, width: t.read(steps::WIDTH)?, tread, riser, at })
    });
    let cracks = top.each(&crack::TABLE, crack);
    let joints = top.each(&joint::TABLE, |t| {
        let path = path(t, joint::PATH);
        let name = t.read_or(joint::NAME, String::new());
        let treatment = t.read_or(joint::TREATMENT, JointTreatment::Honor);
        Some(Joint { name, length: t.read(joint::LENGTH)?, treatment, path })
    });
    let spalls = top.each(&spall::TABLE, spall);
    let coves = top.each(&cove::TABLE, |t| {
        let name = t.read_or(cove::NAME, String::new());
        Some(Cove { name, length: t.read(cove::LENGTH)?, radius: t.read(cove::RADIUS)? })
    });
    let doors = top.each(&door::TABLE, |t| {
        let name = t.read_or(door::NAME, String::new());
        let (from, to) = (t.pair(door::FROM).map(point)?, t.pair(door::TO).map(point)?);
        Some(Door { name, from, to })
    });
    if areas.is_empty() {
        return None;
    }
    if areas.len() == area_tables.len() && cutouts.len() == cutout_tables.len() {
        lie_well(&area_tables, &areas, &cutout_tables, &cutouts);
    }
    let left = take_off::outline(&areas, &cutouts).area;
    if left <= Area::ZERO {
        let help = "check the sizes: nothing is left to coat";
        top.fault("cutout", "takes away the whole floor", help);
    }
    Some(Shapes { areas, cutouts, uprights, steps, cracks, joints, spalls, coves, doors })
}

/// Reports areas that add nothing to the others and cut-outs that miss the floor: places that were
/// written down wrong would show nowhere else.
fn lie_well(
    area_tables: &[Table<'_>],
    areas: &[Patch],
    cutout_tables: &[Table<'_>],
    cutouts: &[Patch],
) {
    let key = |table: &Table<'_>| if table.has("at") { "at" } else { "outline" };
    let whole = take_off::outline(areas, &[]).area;
    if areas.len() > 1 && take_off::places_known(areas) {
        for (at, table) in area_tables.iter().enumerate() {
            let own = take_off::polygon_area(&areas[at].corners);
            if take_off::adds(whole, areas, at) <= own * ADDS_NOTHING {
                let help = "check where its corner stands, or take the area out: it adds no floor";
                table.fault(key(table), "puts this area wholly on others", help);
                return;
            }
        }
    }
    for (table, cutout) in cutout_tables.iter().zip(cutouts) {
        if take_off::misses(whole, areas, cutout) {
            let help = "check where its corner stands: it takes nothing away from any area";
            table.fault(key(table), "puts this cut-out off the floor", help);
        }
    }
}

/// The part of an area that has to lie outside of all others.
const ADDS_NOTHING: f64 = 1e-6;

/// A place on the plan.
fn point((x, y): (Length, Length)) -> Point {
    Point { x, y }
}

/// The way of a crack or a joint: two points or more, or nothing.
fn path(table: &Table<'_>, key: TypedKey<Vec<(Length, Length)>>) -> Vec<Point> {
    let points: Vec<Point> = table.pairs(key).into_iter().map(point).collect();
    if points.len() == 1 {
        table.fault("path", "has one point", "write two points or more, from end to end");
    } else if table.is_empty_list("path") {
        table.fault("path", "has no point", "write two points or more, or take the key out");
    }
    points
}

fn crack(t: &Table<'_>) -> Option<Crack> {
    let path = path(t, crack::PATH);
    let width = t.read(crack::WIDTH)?;
    if width > MOST_CRACK {
        let most = MOST_CRACK.as_inches();
        let help = format!("the most accepted is {most:.0} in; a wider gap is a `[[spall]]`");
        t.fault("width", "is more than a crack has", help);
    }
    let name = t.read_or(crack::NAME, String::new());
    let moves = t.read_or(crack::MOVES, Known::Unknown);
    Some(Crack { name, length: t.read(crack::LENGTH)?, width, moves, path })
}

/// A spall with its area, or with a length and a width.
fn spall(table: &Table<'_>) -> Option<Spall> {
    let (area, depth) = (table.read(spall::AREA), table.read(spall::DEPTH));
    let (length, width) = (table.read(spall::LENGTH), table.read(spall::WIDTH));
    let area = if table.has("area") { area? } else { Area::rectangle(length?, width?) };
    Some(Spall { name: table.read_or(spall::NAME, String::new()), area, depth: depth? })
}

/// Two points nearer than this are one: far below what a tape can show.
const SAME_POINT: Length = Length::millimeters(0.01);

fn patch(table: &Table<'_>) -> Option<Patch> {
    let name = table.read_or(area::NAME, String::new());
    let at = table.pair(area::AT);
    let origin = at.unwrap_or_default();
    let corner = |(x, y): (Length, Length)| Point { x: origin.0 + x, y: origin.1 + y };
    if !table.has("outline") {
        let (length, width) = (table.read(area::LENGTH)?, table.read(area::WIDTH)?);
        let zero = Length::ZERO;
        let corners = [(zero, zero), (length, zero), (length, width), (zero, width)];
        let corners = corners.into_iter().map(corner).collect();
        return Some(Patch { name, corners, placed: at.is_some() });
    }
    let mut corners: Vec<Point> = table.pairs(area::OUTLINE).into_iter().map(corner).collect();
    // A repeated closing point changes nothing, also when it is written in another unit.
    if let (Some(first), Some(last)) = (corners.first(), corners.last())
        && corners.len() > 1
        && take_off::distance(*first, *last) < SAME_POINT
    {
        corners.pop();
    }
    if corners.len() < 3 {
        let message = format!("has {} corners", corners.len());
        table.fault("outline", message, "write three corners or more, in order");
        return None;
    }
    if let Some((a, b)) = take_off::self_crossing(&corners) {
        let message = format!("crosses itself: side {} meets side {}", a + 1, b + 1);
        table.fault("outline", message, "list the corners in order as you walk around the floor");
        return None;
    }
    Some(Patch { name, corners, placed: true })
}

/// The corners of the box about all areas, when the plan knows where each of them lies.
pub fn extent(areas: &[Patch]) -> Option<(Point, Point)> {
    if !take_off::places_known(areas) {
        return None;
    }
    let mut corners = areas.iter().flat_map(|area| area.corners.iter().copied());
    let first = corners.next()?;
    Some(corners.fold((first, first), |(from, to), corner| {
        let low = Point { x: from.x.min(corner.x), y: from.y.min(corner.y) };
        (low, Point { x: to.x.max(corner.x), y: to.y.max(corner.y) })
    }))
}
