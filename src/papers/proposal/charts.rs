//! Geometry of the drawings: scales with round steps, positions as shares of a drawing.

use crate::base::quantity::Length;
use crate::model::job::{Patch, Point, Shapes, Units};
use crate::papers::proposal::page::{FloorPlan, PlanLine, PlanMark, PlanShape, SideLabel, Tick};
use crate::papers::proposal::writer::Writer;
use crate::site::moisture::place_name;
use crate::site::take_off::{distance, sides};

/// A scale from `from` to `to` with ticks at round numbers.
#[derive(Debug, Clone, Copy)]
pub struct Scale {
    pub from: f64,
    pub to: f64,
    step: f64,
}

impl Scale {
    /// A scale that holds both ends, with about `steps` round steps.
    pub fn around(least: f64, most: f64, steps: f64) -> Self {
        let raw = ((most - least).max(1e-9)) / steps;
        let power = 10f64.powf(raw.log10().floor());
        let steps = [1.0, 2.0, 5.0, 10.0].map(|n| n * power);
        let step = steps.into_iter().find(|s| *s >= raw * 0.999).unwrap_or(raw);
        Self { from: (least / step).floor() * step, to: (most / step).ceil() * step, step }
    }

    /// Returns the position of a value, from 0 to 1; one outside the scale stands at its end.
    pub fn at(&self, value: f64) -> f64 {
        ((value - self.from) / (self.to - self.from)).clamp(0.0, 1.0)
    }

    pub fn ticks(&self, text: impl Fn(f64) -> String) -> Vec<Tick> {
        let count = ((self.to - self.from) / self.step).round() as usize;
        let values = (0..=count).map(|i| self.from + i as f64 * self.step);
        values.map(|value| Tick { at: self.at(value), text: text(value) }).collect()
    }
}

/// Gap on the plan between patches that the job does not place.
const GAP: Length = Length::feet(3.0);
/// Sides shorter than this share of the plan's width have no room for their length.
const LABELLED_SIDE: f64 = 0.07;

/// The measured shapes to scale, north as the job has it: x to the right, y up.
pub fn floor_plan(w: &Writer<'_>, tests: &[(String, Option<Point>)]) -> FloorPlan {
    let shapes = &w.case.job.shapes;
    let areas = laid_out(&shapes.areas);
    let bounds = Bounds::of(&areas);
    let lines = lines(shapes, &bounds);
    let cutouts = shapes.cutouts.iter().filter(|cutout| cutout.placed);
    let cutouts: Vec<(&Patch, Vec<Point>)> = cutouts.map(|c| (c, c.corners.clone())).collect();
    let floors = areas.iter().map(|(patch, corners)| shape(w, &bounds, "floor", patch, corners));
    let holes = cutouts.iter().map(|(patch, corners)| shape(w, &bounds, "cutout", patch, corners));
    let drawn = floors.chain(holes).collect();
    // A place that was read again has one mark with all its numbers.
    let mut marked: Vec<(String, Point, Vec<String>)> = vec![];
    for (number, (place, at)) in (1_u32..).zip(tests) {
        let Some(at) = *at else { continue };
        let place = place_name(place);
        match marked.iter_mut().find(|(known, ..)| *known == place) {
            Some((.., numbers)) => numbers.push(number.to_string()),
            None => marked.push((place, at, vec![number.to_string()])),
        }
    }
    let marks = marked.into_iter();
    let marks: Vec<PlanMark> =
        marks.map(|(_, at, n)| PlanMark { at: bounds.at(at), text: n.join(", ") }).collect();
    let bar = if w.case.job.units == Units::Us { Length::feet(5.0) } else { Length::meters(2.0) };
    let bar_text = w.figure(bar);
    let described = |patches: &[(&Patch, Vec<Point>)]| -> String {
        let texts = patches.iter().map(|(patch, corners)| {
            let lengths = sides(corners).map(|(a, b)| w.figures.side(distance(a, b)));
            let lengths = lengths.collect::<Vec<_>>().join(", ");
            let name = patch_name(w, patch, "slab.unnamed_area");
            w.say("slab.shape", [("name", name), ("sides", lengths)])
        });
        texts.collect::<Vec<_>>().join("; ")
    };
    let spots: Vec<String> = match marks.is_empty() {
        true => vec![],
        false => {
            (1..).zip(tests).map(|(number, (place, _))| format!("{number}, {place}")).collect()
        }
    };
    let on_plan = |kind: &str| lines.iter().filter(|line| line.kind == kind).count();
    let counts = [
        ("cracks", on_plan("crack")),
        ("joints", on_plan("joint")),
        ("doors", on_plan("door")),
        ("steps", on_plan("steps")),
    ];
    let alt = [
        ("area", w.figure(w.case.site.take_off.floor)),
        ("shapes", described(&areas)),
        ("cutouts", described(&cutouts)),
        ("marks", spots.join("; ")),
        ("lines", w.say("slab.plan_lines", counts)),
    ];
    let caption = minijinja::context! { bar => bar_text.as_str(), marks => !marks.is_empty() };
    FloorPlan {
        aspect: bounds.width() / bounds.height(),
        shapes: drawn,
        scale_width: (bar.as_meters() / bounds.width()).min(1.0),
        scale_text: w.say("slab.scale", [("length", bar_text)]),
        caption: w.say_with("slab.plan_caption", caption),
        alt: w.say("slab.plan_alt", alt),
        marks,
        lines,
    }
}

/// Returns the lines that the job places on the plan beside the shapes.
fn lines(shapes: &Shapes, bounds: &Bounds) -> Vec<PlanLine> {
    let cracks = shapes.cracks.iter().map(|crack| ("crack", crack.path.clone()));
    let joints = shapes.joints.iter().map(|joint| ("joint", joint.path.clone()));
    let doors = shapes.doors.iter().map(|door| ("door", vec![door.from, door.to]));
    let steps = shapes.steps.iter().filter_map(|steps| {
        let at = steps.at?;
        let (right, top) = (at.x + steps.width, at.y + steps.tread * f64::from(steps.count));
        let corner = |x, y| Point { x, y };
        let outline = [at, corner(right, at.y), corner(right, top), corner(at.x, top)];
        Some(("steps", outline.to_vec()))
    });
    let all = joints.chain(cracks).chain(steps).chain(doors);
    all.filter(|(_, points)| points.len() > 1)
        .map(|(kind, points)| PlanLine { kind, points: bounds.all(&points) })
        .collect()
}

/// Patches with their corners on one plan: those without a place stand in a row to the right.
fn laid_out(patches: &[Patch]) -> Vec<(&Patch, Vec<Point>)> {
    let mut right = Length::ZERO;
    let mut out: Vec<(&Patch, Vec<Point>)> = vec![];
    for patch in patches {
        let shift = if patch.placed || out.is_empty() { Length::ZERO } else { right + GAP };
        let corners: Vec<Point> =
            patch.corners.iter().map(|p| Point { x: p.x + shift, y: p.y }).collect();
        right = corners.iter().fold(right, |most, p| most.max(p.x));
        out.push((patch, corners));
    }
    out
}

struct Bounds {
    left: f64,
    bottom: f64,
    right: f64,
    top: f64,
}

impl Bounds {
    fn of(patches: &[(&Patch, Vec<Point>)]) -> Self {
        let mut b = Self { left: f64::MAX, bottom: f64::MAX, right: f64::MIN, top: f64::MIN };
        for p in patches.iter().flat_map(|(_, corners)| corners) {
            b.left = b.left.min(p.x.as_meters());
            b.right = b.right.max(p.x.as_meters());
            b.bottom = b.bottom.min(p.y.as_meters());
            b.top = b.top.max(p.y.as_meters());
        }
        b
    }

    fn width(&self) -> f64 {
        (self.right - self.left).max(1e-6)
    }

    fn height(&self) -> f64 {
        (self.top - self.bottom).max(1e-6)
    }

    fn at(&self, p: Point) -> [f64; 2] {
        let x = (p.x.as_meters() - self.left) / self.width();
        let y = (self.top - p.y.as_meters()) / self.height();
        [share(x), share(y)]
    }

    fn all(&self, points: &[Point]) -> Vec<[f64; 2]> {
        points.iter().map(|point| self.at(*point)).collect()
    }
}

/// A position on a drawing, to a ten-thousandth: stable text in the page data.
pub fn share(value: f64) -> f64 {
    (value.clamp(0.0, 1.0) * 10_000.0).round() / 10_000.0
}

fn patch_name(w: &Writer<'_>, patch: &Patch, unnamed: &str) -> String {
    if patch.name.is_empty() { w.plain(unnamed) } else { patch.name.clone() }
}

fn shape(
    w: &Writer<'_>,
    bounds: &Bounds,
    kind: &'static str,
    patch: &Patch,
    corners: &[Point],
) -> PlanShape {
    let unnamed = if kind == "floor" { "slab.unnamed_area" } else { "slab.unnamed_cutout" };
    let count = corners.len() as f64;
    let center = Point {
        x: corners.iter().map(|p| p.x).sum::<Length>() * (1.0 / count),
        y: corners.iter().map(|p| p.y).sum::<Length>() * (1.0 / count),
    };
    let labels = sides(corners).filter(|(a, b)| {
        kind == "floor" && distance(*a, *b).as_meters() / bounds.width() >= LABELLED_SIDE
    });
    let labels = labels.map(|(a, b)| {
        let middle = Point { x: (a.x + b.x) * 0.5, y: (a.y + b.y) * 0.5 };
        let (dx, dy) = ((b.x - a.x).as_meters().abs(), (b.y - a.y).as_meters().abs());
        let text = w.figures.side(distance(a, b));
        SideLabel { at: bounds.at(middle), text, upright: dy > dx }
    });
    PlanShape {
        kind,
        points: bounds.all(corners),
        name: patch_name(w, patch, unnamed),
        name_at: bounds.at(center),
        sides: labels.collect(),
    }
}
