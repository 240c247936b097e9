//! Every key that the measured shapes of a job may hold.

use crate::base::quantity::*;
use crate::model::job::*;
use crate::read::reader::Table;
use crate::site::take_off;

/// A length that may be absent but not zero.
pub fn above_zero(table: &Table<'_>, key: &'static str) -> Option<Length> {
    let length: Option<Length> = table.maybe(key);
    if length.is_some_and(|length| length <= Length::ZERO) {
        table.fault(key, "is zero", "write a length above zero");
        return None;
    }
    length
}

/// A length that must be there and not zero.
pub fn needed_length(table: &Table<'_>, key: &'static str) -> Option<Length> {
    if table.has(key) { above_zero(table, key) } else { table.need(key) }
}

/// A gap that is wider is no crack but a hole, which is patched: common practice, no published
/// source.
const MOST_CRACK: Length = Length::inches(2.0);

pub fn shapes(top: &Table<'_>) -> Option<Shapes> {
    let area_tables = top.tables("area");
    if !top.has("area") || top.is_empty_list("area") {
        top.fault(
            "area",
            if top.has("area") { "is empty" } else { "is missing" },
            "add an `[[area]]` table with `length` and `width`, or with `outline`",
        );
    }
    let areas: Vec<Patch> = area_tables.iter().filter_map(patch).collect();
    let cutout_tables = top.tables("cutout");
    let cutouts: Vec<Patch> = cutout_tables.iter().filter_map(patch).collect();
    let uprights = top
        .tables("upright")
        .iter()
        .filter_map(|t| {
            let name = t.or("name", String::new());
            let (length, height) = (needed_length(t, "length"), needed_length(t, "height"));
            Some(Upright { name, length: length?, height: height? })
        })
        .collect();
    let steps = top
        .tables("steps")
        .iter()
        .filter_map(|t| {
            let count = t.need("count");
            let width = needed_length(t, "width");
            let (tread, riser) = (needed_length(t, "tread"), needed_length(t, "riser"));
            let at = place(t, "at");
            Some(Steps { count: count?, width: width?, tread: tread?, riser: riser?, at })
        })
        .collect();
    let cracks = top
        .tables("crack")
        .iter()
        .filter_map(|t| {
            let name = t.or("name", String::new());
            let (length, width) = (needed_length(t, "length"), needed_length(t, "width"));
            if width.is_some_and(|width| width > MOST_CRACK) {
                let help = format!(
                    "the most accepted is {:.0} in; a wider gap is a `[[spall]]`",
                    MOST_CRACK.as_inches()
                );
                t.fault("width", "is more than a crack has", help);
            }
            let moves = t.or("moves", Known::Unknown);
            let path = path(t);
            Some(Crack { name, length: length?, width: width?, moves, path })
        })
        .collect();
    let joints = top
        .tables("joint")
        .iter()
        .filter_map(|t| {
            let name = t.or("name", String::new());
            let length = needed_length(t, "length");
            let treatment = t.or("treatment", JointTreatment::Honor);
            let path = path(t);
            Some(Joint { name, length: length?, treatment, path })
        })
        .collect();
    let spalls = top.tables("spall").iter().filter_map(spall).collect();
    let coves = top
        .tables("cove")
        .iter()
        .filter_map(|t| {
            let name = t.or("name", String::new());
            let (length, radius) = (needed_length(t, "length"), needed_length(t, "radius"));
            Some(Cove { name, length: length?, radius: radius? })
        })
        .collect();
    let doors = top
        .tables("door")
        .iter()
        .filter_map(|t| {
            let name = t.or("name", String::new());
            let (from, to) = (needed_place(t, "from"), needed_place(t, "to"));
            Some(Door { name, from: from?, to: to? })
        })
        .collect();
    if areas.is_empty() {
        return None;
    }
    if areas.len() == area_tables.len() && cutouts.len() == cutout_tables.len() {
        lie_well(&area_tables, &areas, &cutout_tables, &cutouts);
    }
    let left = take_off::outline(&areas, &cutouts).area;
    if left <= Area::ZERO {
        top.fault(
            "cutout",
            "takes away the whole floor",
            "check the sizes: nothing is left to coat",
        );
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
                table.fault(
                    key(table),
                    "puts this area wholly on others",
                    "check where its corner stands, or take the area out: it adds no floor",
                );
                return;
            }
        }
    }
    for (table, cutout) in cutout_tables.iter().zip(cutouts) {
        if take_off::misses(whole, areas, cutout) {
            table.fault(
                key(table),
                "puts this cut-out off the floor",
                "check where its corner stands: it takes nothing away from any area",
            );
        }
    }
}

/// The part of an area that has to lie outside of all others.
const ADDS_NOTHING: f64 = 1e-6;

/// A place on the plan.
fn place(table: &Table<'_>, key: &'static str) -> Option<Point> {
    table.pair(key).map(|(x, y)| Point { x, y })
}

/// A place on the plan that must be there.
fn needed_place(table: &Table<'_>, key: &'static str) -> Option<Point> {
    let place = place(table, key);
    if !table.has(key) {
        table.fault(key, "is missing", format!("add `{key} = [\"3 ft\", \"0 ft\"]`"));
    }
    place
}

/// Where a crack or a joint runs: two points or more, or nothing.
fn path(table: &Table<'_>) -> Vec<Point> {
    let points: Vec<Point> = table.pairs("path").into_iter().map(|(x, y)| Point { x, y }).collect();
    if points.len() == 1 {
        table.fault("path", "has one point", "write two points or more, from end to end");
    } else if table.is_empty_list("path") {
        table.fault("path", "has no point", "write two points or more, or take the key out");
    }
    points
}

/// A spall with its area, or with a length and a width.
fn spall(table: &Table<'_>) -> Option<Spall> {
    let name = table.or("name", String::new());
    let depth = needed_length(table, "depth");
    if table.has("area") {
        for key in ["length", "width"] {
            if table.has(key) {
                table.fault(key, "stands beside `area`", "give the area, or length and width");
            }
        }
        let area: Option<Area> = table.need("area");
        if area.is_some_and(|area| area <= Area::ZERO) {
            table.fault("area", "is zero", "write an area above zero");
        }
        let _: (Option<Length>, Option<Length>) = (table.maybe("length"), table.maybe("width"));
        return Some(Spall { name, area: area?, depth: depth? });
    }
    let _: Option<Area> = table.maybe("area");
    let (length, width) = (needed_length(table, "length"), needed_length(table, "width"));
    Some(Spall { name, area: Area::rectangle(length?, width?), depth: depth? })
}

/// Two points nearer than this are one: far below what a tape can show.
const SAME_POINT: Length = Length::millimeters(0.01);

fn patch(table: &Table<'_>) -> Option<Patch> {
    let name = table.or("name", String::new());
    let at: Option<(Length, Length)> = table.pair("at");
    let origin = at.unwrap_or_default();
    if !table.has("outline") {
        table.may_also_have(&["outline"]);
        let (length, width) = (needed_length(table, "length"), needed_length(table, "width"));
        let (length, width) = (length?, width?);
        let corner = |x: Length, y: Length| Point { x: origin.0 + x, y: origin.1 + y };
        let corners = vec![
            corner(Length::ZERO, Length::ZERO),
            corner(length, Length::ZERO),
            corner(length, width),
            corner(Length::ZERO, width),
        ];
        return Some(Patch { name, corners, placed: at.is_some() });
    }
    for key in ["length", "width"] {
        let given: Option<Length> = table.maybe(key);
        if given.is_some() {
            table.fault(key, "stands beside `outline`", "give length and width, or an outline");
        }
    }
    let mut corners: Vec<Point> = table
        .pairs("outline")
        .into_iter()
        .map(|(x, y): (Length, Length)| Point { x: origin.0 + x, y: origin.1 + y })
        .collect();
    // A repeated closing point changes nothing, also when it is written in another unit.
    if let (Some(first), Some(last)) = (corners.first(), corners.last())
        && corners.len() > 1
        && take_off::distance(*first, *last) < SAME_POINT
    {
        corners.pop();
    }
    if corners.len() < 3 {
        table.fault(
            "outline",
            format!("has {} corners", corners.len()),
            "write three corners or more, in order",
        );
        return None;
    }
    if let Some((a, b)) = take_off::self_crossing(&corners) {
        table.fault(
            "outline",
            format!("crosses itself: side {} meets side {}", a + 1, b + 1),
            "list the corners in the order in which one walks round the floor",
        );
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
