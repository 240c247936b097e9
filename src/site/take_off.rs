//! Take-off: how much there is to coat, edge, fill. Areas by the shoelace formula, as for any
//! simple polygon.
//!
//! If the plan knows the place of every area, the floor is what they cover together: what lies in
//! two of them counts once, a side that two share is no edge, and a cut-out at a known place takes
//! away what it covers of the floor. Elsewhere areas and outlines are summed, shared sides and all.

use geo::orient::Direction;
use geo::{Area as _, BooleanOps, LineString, Orient, Polygon, unary_union};
use schemars::JsonSchema;
use serde::Serialize;

use crate::base::quantity::{Area, Length};
use crate::model::job::{JointTreatment, Patch, Point, Shapes};

/// Measured quantities, summed up.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct TakeOff {
    /// Flat floor to coat, square meters.
    #[serde(rename = "floor_m2")]
    pub floor: Area,
    /// Upright faces, coves, treads and risers, square meters.
    #[serde(rename = "upright_m2")]
    pub upright: Area,
    /// Outline of the floor and of its cut-outs, where a hand grinder works, meters.
    #[serde(rename = "edge_m")]
    pub edge: Length,
    /// All cracks together, meters.
    #[serde(rename = "cracks_m")]
    pub cracks: Length,
    /// All joints that are filled, meters.
    #[serde(rename = "filled_joints_m")]
    pub filled_joints: Length,
}

impl TakeOff {
    /// All that is coated.
    pub fn coated(&self) -> Area {
        self.floor + self.upright
    }
}

/// Sums up the measured shapes.
pub fn take_off(shapes: &Shapes) -> TakeOff {
    let walls: Area = shapes.uprights.iter().map(|u| Area::rectangle(u.length, u.height)).sum();
    let steps: Area = shapes
        .steps
        .iter()
        .map(|s| Area::rectangle(s.width, s.tread + s.riser) * f64::from(s.count))
        .sum();
    let coves: Area = shapes.coves.iter().map(|cove| cove_face(cove.length, cove.radius)).sum();
    let floor = outline(&shapes.areas, &shapes.cutouts);
    TakeOff {
        floor: floor.area,
        upright: walls + steps + coves,
        edge: floor.edge,
        cracks: shapes.cracks.iter().map(|crack| crack.length).sum(),
        filled_joints: shapes
            .joints
            .iter()
            .filter(|joint| joint.treatment == JointTreatment::Fill)
            .map(|joint| joint.length)
            .sum(),
    }
}

/// The face of a cove: a quarter of a cylinder.
pub fn cove_face(length: Length, radius: Length) -> Area {
    Area::rectangle(length, radius * std::f64::consts::FRAC_PI_2)
}

/// The flat floor that is left, and all that bounds it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Outline {
    pub area: Area,
    pub edge: Length,
}

/// True where the plan knows how the areas lie to each other: a single one lies where it lies.
pub fn places_known(areas: &[Patch]) -> bool {
    areas.len() < 2 || areas.iter().all(|area| area.placed)
}

/// The floor without its cut-outs.
pub fn outline(areas: &[Patch], cutouts: &[Patch]) -> Outline {
    let placed = |patch: &&Patch| places_known(areas) && patch.placed;
    let (cut, loose): (Vec<&Patch>, Vec<&Patch>) = cutouts.iter().partition(placed);
    let whole = if places_known(areas) && areas.len() + cut.len() > 1 {
        covered_outline(areas, &cut)
    } else {
        sum_areas(areas.iter(), &cut)
    };
    let loose = sum_areas(loose.into_iter(), &[]);
    Outline { area: whole.area - loose.area, edge: whole.edge + loose.edge }
}

/// Areas and outlines as sums: what is cut away is less area and more edge.
fn sum_areas<'p>(patches: impl Iterator<Item = &'p Patch>, cut: &[&Patch]) -> Outline {
    let mut sum = Outline { area: Area::ZERO, edge: Length::ZERO };
    for patch in patches {
        sum.area = sum.area + polygon_area(&patch.corners);
        sum.edge = sum.edge + perimeter(&patch.corners);
    }
    for patch in cut {
        sum.area = sum.area - polygon_area(&patch.corners);
        sum.edge = sum.edge + perimeter(&patch.corners);
    }
    sum
}

/// Returns the outline that areas cover together, less what is cut away.
fn covered_outline(areas: &[Patch], cut: &[&Patch]) -> Outline {
    let union = unary_union(&areas.iter().map(|area| polygon(&area.corners)).collect::<Vec<_>>());
    let away = unary_union(&cut.iter().map(|cut| polygon(&cut.corners)).collect::<Vec<_>>());
    let left = if cut.is_empty() { union } else { union.difference(&away) };
    let rings = left.iter().flat_map(|one| std::iter::once(one.exterior()).chain(one.interiors()));
    let edge: f64 = rings.flat_map(LineString::lines).map(|line| line.dx().hypot(line.dy())).sum();
    let found =
        Outline { area: Area::square_meters(left.unsigned_area()), edge: Length::meters(edge) };
    // The library works on a fine grid. Where nothing overlaps or touches, the sums are exact.
    let sums = sum_areas(areas.iter(), cut);
    let near = |a: f64, b: f64| (a - b).abs() <= GRID * a.abs().max(1.0);
    let same_area = near(found.area.as_square_meters(), sums.area.as_square_meters());
    let same_edge = near(found.edge.as_meters(), sums.edge.as_meters());
    Outline {
        area: if same_area { sums.area } else { found.area },
        edge: if same_edge { sums.edge } else { found.edge },
    }
}

/// Differences below this, as a part of what is measured, are the grid's and not the floor's.
const GRID: f64 = 1e-6;

/// A patch for the geometry library, its corners counterclockwise.
fn polygon(corners: &[Point]) -> Polygon {
    let ring = corners.iter().map(|p| (p.x.as_meters(), p.y.as_meters()));
    Polygon::new(LineString::from_iter(ring), vec![]).orient(Direction::Default)
}

/// The floor that an area adds to the others, of the whole that all cover together.
pub fn adds(whole: Area, areas: &[Patch], at: usize) -> Area {
    let others: Vec<Patch> =
        areas.iter().enumerate().filter(|(i, _)| *i != at).map(|(_, area)| area.clone()).collect();
    whole - outline(&others, &[]).area
}

/// True when a placed cut-out takes nothing away from the whole that areas cover together, where
/// their places are known.
pub fn misses(whole: Area, areas: &[Patch], cutout: &Patch) -> bool {
    if !places_known(areas) || !cutout.placed {
        return false;
    }
    let left = outline(areas, std::slice::from_ref(cutout)).area;
    (whole - left).as_square_meters() <= GRID * whole.as_square_meters().max(1.0)
}

/// The area of a simple polygon, whichever way round its corners run: half the sum of
/// `x1 * y2 - x2 * y1` over its sides (the shoelace formula). Coordinates are taken from the
/// first corner, which keeps digits when the plan's origin is far away.
pub fn polygon_area(corners: &[Point]) -> Area {
    let Some(first) = corners.first() else { return Area::ZERO };
    let twice: f64 = sides(corners)
        .map(|(a, b)| {
            let (ax, ay) = ((a.x - first.x).as_meters(), (a.y - first.y).as_meters());
            let (bx, by) = ((b.x - first.x).as_meters(), (b.y - first.y).as_meters());
            ax * by - bx * ay
        })
        .sum();
    Area::square_meters(twice.abs() / 2.0)
}

pub fn perimeter(corners: &[Point]) -> Length {
    sides(corners).map(|(a, b)| distance(a, b)).sum()
}

pub fn distance(a: Point, b: Point) -> Length {
    Length::meters((b.x - a.x).as_meters().hypot((b.y - a.y).as_meters()))
}

/// The sides of a polygon, the closing one included.
pub fn sides(corners: &[Point]) -> impl Iterator<Item = (Point, Point)> + '_ {
    (0..corners.len()).map(|i| (corners[i], corners[(i + 1) % corners.len()]))
}

/// The first pair of sides that meet where they should not, counted from zero. A crossing
/// outline would have a wrong area without any other sign of it.
pub fn self_crossing(corners: &[Point]) -> Option<(usize, usize)> {
    let all: Vec<(Point, Point)> = sides(corners).collect();
    let count = all.len();
    for a in 0..count {
        for b in a + 1..count {
            let neighbors = b == a + 1 || (a == 0 && b == count - 1);
            if neighbors {
                // Neighbours share a corner; they cross only when one folds back on the other.
                let (p, q) = if b == a + 1 { (all[a], all[b]) } else { (all[b], all[a]) };
                if folds_back(p.0, p.1, q.1) {
                    return Some((a, b));
                }
            } else if meet(all[a], all[b]) {
                return Some((a, b));
            }
        }
    }
    None
}

/// Which way `c` lies from the line `a` to `b`: above zero on its left.
fn turn(a: Point, b: Point, c: Point) -> f64 {
    let (ux, uy) = ((b.x - a.x).as_meters(), (b.y - a.y).as_meters());
    let (vx, vy) = ((c.x - a.x).as_meters(), (c.y - a.y).as_meters());
    ux * vy - uy * vx
}

fn folds_back(a: Point, b: Point, c: Point) -> bool {
    let (ux, uy) = ((a.x - b.x).as_meters(), (a.y - b.y).as_meters());
    let (vx, vy) = ((c.x - b.x).as_meters(), (c.y - b.y).as_meters());
    let along = ux * vx + uy * vy;
    turn(b, a, c).abs() < 1e-12 && along >= 0.0
}

fn meet(p: (Point, Point), q: (Point, Point)) -> bool {
    let within = |a: Point, b: Point, c: Point| {
        let inside =
            |v: f64, from: f64, to: f64| v >= from.min(to) - 1e-12 && v <= from.max(to) + 1e-12;
        inside(c.x.as_meters(), a.x.as_meters(), b.x.as_meters())
            && inside(c.y.as_meters(), a.y.as_meters(), b.y.as_meters())
    };
    let (d1, d2) = (turn(q.0, q.1, p.0), turn(q.0, q.1, p.1));
    let (d3, d4) = (turn(p.0, p.1, q.0), turn(p.0, p.1, q.1));
    let touch = |d: f64, a, b, c| d.abs() < 1e-12 && within(a, b, c);
    (d1 * d2 < 0.0 && d3 * d4 < 0.0)
        || touch(d1, q.0, q.1, p.0)
        || touch(d2, q.0, q.1, p.1)
        || touch(d3, p.0, p.1, q.0)
        || touch(d4, p.0, p.1, q.1)
}
