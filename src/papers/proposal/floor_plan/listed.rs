//! Floors of many areas: numbers on the plan, and a list of the areas with their names and lengths.

use crate::base::quantity::Length;
use crate::model::job::{Patch, Point};
use crate::papers::proposal::floor_plan::{lengths, name};
use crate::papers::proposal::page::{AreaList, AreaRow};
use crate::papers::proposal::writer::Writer;
use crate::site::take_off::{places_known, polygon_area};

/// The most areas, or places that are left out, whose names a plan holds with their lengths. With more the
/// areas have numbers, which are those of a list.
pub const MANY: usize = 20;

/// The list of all areas, in the order of their numbers.
pub fn areas(w: &Writer<'_>, areas: &[(&Patch, Vec<Point>)]) -> AreaList {
    let rows = (1_usize..).zip(areas).map(|(number, (patch, corners))| AreaRow {
        number: number.to_string(),
        name: name(w, patch, "slab.unnamed_area"),
        sides: sides(lengths(w, corners)),
        size: w.figure(polygon_area(&patch.corners)),
    });
    AreaList {
        title: w.plain("slab.areas.title"),
        head: ["number", "name", "sides", "size"]
            .map(|column| w.plain(&format!("slab.areas.{column}")))
            .to_vec(),
        rows: rows.collect(),
    }
}

/// The lengths of all sides; of a rectangle, length by width.
fn sides(lengths: Vec<String>) -> String {
    match lengths.as_slice() {
        [a, b, c, d] if a == c && b == d => format!("{a} \u{D7} {b}"),
        _ => lengths.join(", "),
    }
}

/// Gap on the plan between areas that the job does not place.
const APART: Length = Length::feet(3.0);

/// Areas with their corners on one plan: those without a place stand in a row to the right, many of them in
/// rows one above the other.
pub fn laid_out(areas: &[Patch]) -> Vec<(&Patch, Vec<Point>)> {
    let in_rows = areas.len() > MANY && !places_known(areas);
    let most = if in_rows { row_length(areas) } else { Length::meters(f64::INFINITY) };
    let mut right = Length::ZERO;
    let (mut bottom, mut top) = (Length::ZERO, Length::ZERO);
    let mut out: Vec<(&Patch, Vec<Point>)> = vec![];
    for area in areas {
        let is_first = area.placed || out.is_empty();
        let mut shift = if is_first { Length::ZERO } else { right + APART };
        let wide = area.corners.iter().fold(Length::ZERO, |most, p| most.max(p.x));
        if in_rows && !area.placed && shift + wide > most {
            (shift, bottom) = (Length::ZERO, top + APART);
        }
        let up = if area.placed { Length::ZERO } else { bottom };
        let corners: Vec<Point> =
            area.corners.iter().map(|p| Point { x: p.x + shift, y: p.y + up }).collect();
        right = corners
            .iter()
            .fold(if shift == Length::ZERO { Length::ZERO } else { right }, |most, p| {
                most.max(p.x)
            });
        top = corners.iter().fold(top, |most, p| most.max(p.y));
        out.push((area, corners));
    }
    out
}

/// The length of a row with which many rows span a room that is half as wide again as it is high.
fn row_length(areas: &[Patch]) -> Length {
    let span = |area: &Patch| {
        let most = |of: fn(&Point) -> Length| {
            area.corners.iter().fold(Length::ZERO, |most, p| most.max(of(p)))
        };
        (most(|p| p.x) + APART).as_meters() * (most(|p| p.y) + APART).as_meters()
    };
    let room: f64 = areas.iter().map(span).sum();
    Length::meters((room * 1.5).sqrt())
}
