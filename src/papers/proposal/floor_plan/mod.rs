//! The floor plan: what was measured, drawn to scale, with every length, crack and test spot at its place.

mod dimensions;
mod drawing;
mod lengths;
mod listed;
mod placing;
mod text;

use geo::Coord;

use crate::base::quantity::Length;
use crate::model::job::{Patch, Point, SheetFound, Units};
use crate::papers::proposal::PageForm;
use crate::papers::proposal::floor_plan::dimensions::Area;
use crate::papers::proposal::floor_plan::drawing::{Drawing, Label, Mark, Path, PathKind, Subject};
use crate::papers::proposal::floor_plan::listed::{MANY, laid_out};
use crate::papers::proposal::page::{
    ChartReading, FloorPlan, MoistureChart, PlanKey, PlanLabel, PlanLine, PlanShape,
};
use crate::papers::proposal::readings::Written;
use crate::papers::proposal::writer::Writer;
use crate::site::moisture::{ReadingPart, Series, place_name};
use crate::site::take_off::{distance, places_known, sides};

/// The room for a plan, in sizes of a label: the narrowest column that it stands in, on letter or A4 paper. In the
/// usual print it shares a page with the charts of moisture, and charts with many rows leave it less.
fn room(form: PageForm, charts: &[MoistureChart]) -> (f64, f64) {
    let two_lines = |reading: &&ChartReading| reading.label.chars().count() > LABEL_LINE;
    let rows = charts.iter().map(|chart| {
        let long = chart.readings.iter().filter(two_lines).count();
        chart.readings.len() + long + chart.limits.len() + 3
    });
    let more = rows.sum::<usize>().saturating_sub(CHART_ROWS) as f64;
    match form {
        PageForm::Usual => (28.4, (TALLEST - more * CHART_ROW).max(SHORTEST)),
        PageForm::Large => (35.0, 24.0),
        PageForm::Phone => (20.6, 26.0),
    }
}

/// The height of a plan beside charts of this many rows, what each further row takes of it, and its least height.
const TALLEST: f64 = 22.0;
const CHART_ROWS: usize = 9;
const CHART_ROW: f64 = 1.6;
const SHORTEST: f64 = 12.5;
/// Characters in one line of a chart's label.
const LABEL_LINE: usize = 22;

/// The room for a plan of many areas, which has the width of the page to itself: numbers of three digits ask
/// for more height.
fn wide_room(areas: usize) -> (f64, f64) {
    (46.0, if areas < 100 { 30.0 } else { 44.0 })
}

/// The most room for the legend beside a plan; longer entries run over two lines.
const LEGEND: f64 = 8.8;
/// The gap between plan and legend, and the width of a sign with the gap behind it.
const LEGEND_GAP: f64 = 1.0;
const SIGN: f64 = 2.3;
/// The height of a line of the legend, the gap between two entries in a line, and the room for the bar.
const LEGEND_LINE: f64 = 1.6;
const ENTRY_GAP: f64 = 1.4;
/// The part of its worth that a plan keeps for each name that has to be looked up in the legend.
const LOOKED_UP: f64 = 0.95;
const BAR: f64 = 8.0;
/// More cracks than these share one entry of the legend.
const CRACKS_IN_LEGEND: usize = 4;

/// The measured shapes to scale, north as the job has it: x to the right, y up. The charts stand on the same page.
pub fn floor_plan(w: &Writer<'_>, form: PageForm, charts: &[MoistureChart]) -> FloorPlan {
    let told = Told::of(w);
    let subject = told.subject(w);
    let legend = legend(w, &subject, &told);
    let wide = subject.numbered && form == PageForm::Usual;
    let room = if wide { wide_room(subject.areas.len()) } else { room(form, charts) };
    let (drawing, legend_width) = arranged(&subject, &legend, room);
    let areas = subject.numbered.then(|| listed::areas(w, &told.areas));
    FloorPlan { wide, areas, ..told.page(w, &subject, drawing, legend, legend_width) }
}

/// Returns the larger drawing of two, and the room for a legend beside it: one stands beside its legend, the
/// other above it. Of plans that are too tall with their legend, the less tall one counts more.
fn arranged(subject: &Subject, legend: &[PlanKey], (width, height): (f64, f64)) -> (Drawing, f64) {
    let entry = |text: &str| text::width(text) + SIGN;
    let entries = |drawing: &Drawing| -> Vec<f64> {
        let names = drawing.letters.iter().map(|(_, name)| entry(name));
        legend.iter().map(|key| entry(&key.text)).chain(names).collect()
    };
    // Letters are not known before there is a drawing.
    let names = subject.areas.iter().chain(&subject.cutouts).map(|area| entry(&area.name));
    let widest = legend.iter().map(|key| entry(&key.text)).chain(names).fold(0.0, f64::max);
    let least = if subject.numbered { BAR } else { 0.0 };
    let widest = widest.min(LEGEND).max(least);
    let beside = subject.fitted((width - widest - LEGEND_GAP, height));
    let rows = |wide: f64| (wide / widest).ceil();
    let column = entries(&beside).into_iter().map(rows).sum::<f64>() + 1.0;
    let beside_tall = beside.size.1.max(column * LEGEND_LINE);

    let lines = |drawing: &Drawing| {
        let all: f64 = entries(drawing).into_iter().map(|wide| wide + ENTRY_GAP).sum();
        ((all + BAR) / width).ceil() + 0.6
    };
    let below = lines(&beside) * LEGEND_LINE;
    let above = subject.fitted((width, (height - below).max(height / 2.0)));
    let above_tall = above.size.1 + lines(&above) * LEGEND_LINE;
    let worth = |drawing: &Drawing, tall: f64| {
        let looked_up = LOOKED_UP.powi(drawing.letters.len() as i32);
        drawing.scale * looked_up * (height / tall).min(1.0)
    };
    if worth(&beside, beside_tall) >= worth(&above, above_tall) * 0.97 {
        (beside, widest)
    } else {
        (above, 0.0)
    }
}

/// What the job tells of its plan, with the texts for it.
struct Told<'a> {
    areas: Vec<(&'a Patch, Vec<Point>)>,
    cutouts: Vec<&'a Patch>,
    /// Cracks with a place: number, name, length.
    cracks: Vec<(String, &'a str, String)>,
    tests: Vec<Test>,
}

/// A moisture test with its number on the pages, which is that of its place in the list.
struct Test {
    place: String,
    at: Option<Point>,
    found: String,
}

impl<'a> Told<'a> {
    fn of(w: &Writer<'a>) -> Self {
        let shapes = &w.case.job.shapes;
        let drawn = shapes.cracks.iter().filter(|crack| crack.path.len() > 1);
        let cracks = (1_usize..).zip(drawn).map(|(number, crack)| {
            let number = w.say("slab.plan_crack", [("number", number)]);
            (number, crack.name.as_str(), w.figure(crack.length))
        });
        Self {
            areas: laid_out(&shapes.areas),
            cutouts: shapes.cutouts.iter().filter(|cutout| cutout.placed).collect(),
            cracks: cracks.collect(),
            tests: tests(w),
        }
    }

    fn subject(&self, w: &Writer<'_>) -> Subject {
        let shapes = &w.case.job.shapes;
        let numbered = self.areas.len() > MANY;
        let areas = (1_usize..).zip(&self.areas).map(|(number, (patch, corners))| Area {
            name: if numbered { number.to_string() } else { name(w, patch, "slab.unnamed_area") },
            corners: places(corners),
            lengths: if numbered { vec![] } else { lengths(w, corners) },
        });
        let cutouts = self.cutouts.iter().map(|patch| Area {
            name: name(w, patch, "slab.unnamed_cutout"),
            corners: places(&patch.corners),
            lengths: vec![],
        });
        let mut subject = Subject {
            areas: areas.collect(),
            cutouts: cutouts.collect(),
            paths: vec![],
            marks: vec![],
            loose: !places_known(&shapes.areas),
            numbered,
        };
        let path = |kind, points: &[Point], label: &str| Path {
            kind,
            points: places(points),
            label: label.to_owned(),
        };
        let joints = shapes.joints.iter().map(|joint| path(PathKind::Joint, &joint.path, ""));
        let drawn = shapes.cracks.iter().filter(|crack| crack.path.len() > 1).zip(&self.cracks);
        let cracks = drawn.map(|(crack, (number, ..))| path(PathKind::Crack, &crack.path, number));
        let steps = shapes.steps.iter().filter_map(|steps| {
            let at = steps.at?;
            let (right, top) = (at.x + steps.width, at.y + steps.tread * f64::from(steps.count));
            let corner = |x, y| Point { x, y };
            let outline = [at, corner(right, at.y), corner(right, top), corner(at.x, top), at];
            Some(path(PathKind::Steps, &outline, ""))
        });
        let doors =
            shapes.doors.iter().map(|door| path(PathKind::Door, &[door.from, door.to], &door.name));
        let all = joints.chain(cracks).chain(steps).chain(doors);
        subject.paths = all.filter(|path| path.points.len() > 1).collect();
        // A place that was read again has one mark with all its numbers.
        let mut marked: Vec<(String, Mark)> = vec![];
        for (number, test) in (1_u32..).zip(&self.tests) {
            let Some(at) = test.at else { continue };
            let place = place_name(&test.place);
            match marked.iter_mut().find(|(known, _)| *known == place) {
                Some((_, mark)) => mark.text = format!("{}, {number}", mark.text),
                None => marked.push((place, Mark { at: coord(at), text: number.to_string() })),
            }
        }
        subject.marks = marked.into_iter().map(|(_, mark)| mark).collect();
        // A line or a test that was written down off the floor stands at its edge.
        let bounds = subject.bounds();
        let inside = |c: &mut Coord| {
            c.x = c.x.clamp(bounds.min().x, bounds.max().x);
            c.y = c.y.clamp(bounds.min().y, bounds.max().y);
        };
        subject.paths.iter_mut().flat_map(|path| &mut path.points).for_each(inside);
        subject.marks.iter_mut().for_each(|mark| inside(&mut mark.at));
        subject
    }

    fn page(
        &self,
        w: &Writer<'_>,
        subject: &Subject,
        drawing: Drawing,
        mut legend: Vec<PlanKey>,
        legend_width: f64,
    ) -> FloorPlan {
        let bounds = subject.bounds();
        let corner = drawing.corner;
        let on_sheet = |c: Coord| {
            let c = c - corner;
            [rounded(c.x), rounded(c.y)]
        };
        let to = |c: &Coord| on_sheet((*c - bounds.min()) * drawing.scale);
        let all = |corners: &[Coord]| corners.iter().map(to).collect::<Vec<_>>();
        let shape = |kind, area: &Area| PlanShape { kind, points: all(&area.corners) };
        let floors = subject.areas.iter().map(|area| shape("floor", area));
        let holes = subject.cutouts.iter().map(|cutout| shape("cutout", cutout));
        let line = |path: &Path| PlanLine { kind: path.kind.word(), points: all(&path.points) };
        let label = |label: &Label| PlanLabel {
            kind: label.kind.word(),
            lines: label.lines.clone(),
            at: on_sheet(label.at),
            width: rounded(label.size.0),
            height: rounded(label.size.1),
            turned: label.turned,
        };
        legend.extend(drawing.letters.iter().map(|(letter, name)| PlanKey {
            kind: "letter",
            letter: letter.clone(),
            text: name.clone(),
        }));
        let bar = scale_bar(w.case.job.units, &bounds, drawing.scale);
        FloorPlan {
            width: rounded(drawing.size.0),
            height: rounded(drawing.size.1),
            legend_width: rounded(legend_width),
            shapes: floors.chain(holes).collect(),
            lines: subject.paths.iter().map(line).collect(),
            rules: drawing.rules.iter().map(|l| [on_sheet(l.start), on_sheet(l.end)]).collect(),
            leads: drawing.leads.iter().map(|l| [on_sheet(l.start), on_sheet(l.end)]).collect(),
            ticks: drawing.ticks.iter().map(|tick| on_sheet(*tick)).collect(),
            dots: drawing.dots.iter().map(|dot| on_sheet(*dot)).collect(),
            labels: drawing.labels.iter().map(label).collect(),
            legend,
            scale_width: rounded(bar.as_meters() * drawing.scale),
            scale_text: w.say("slab.scale", [("length", w.figure(bar))]),
            caption: w.say(
                "slab.plan_caption",
                [("marks", !subject.marks.is_empty()), ("numbered", subject.numbered)],
            ),
            alt: self.alt(w),
            wide: false,
            areas: None,
        }
    }

    /// Says what is drawn: areas with the lengths of their sides, cracks, joints, steps, doors and tests.
    fn alt(&self, w: &Writer<'_>) -> String {
        let shapes = &w.case.job.shapes;
        let described = |name: String, corners: &[Point]| {
            let sides = lengths(w, corners).join(", ");
            w.say("slab.shape", [("name", name), ("sides", sides)])
        };
        let areas = self.areas.iter();
        let areas = areas.map(|(p, corners)| described(name(w, p, "slab.unnamed_area"), corners));
        let cutouts = self.cutouts.iter();
        let cutouts = cutouts.map(|p| described(name(w, p, "slab.unnamed_cutout"), &p.corners));
        let named = |name: &str, length: String| {
            w.say("slab.plan_named", [("name", name.to_owned()), ("length", length)])
        };
        let cracks = self.cracks.iter().map(|(number, name, length)| {
            let name = if name.is_empty() { String::new() } else { format!(" {name}") };
            named(&format!("{number}{name}"), length.clone())
        });
        let joints = shapes.joints.iter().filter(|joint| joint.path.len() > 1);
        let joints = joints.map(|joint| named(&joint.name, w.figure(joint.length)));
        let doors = shapes.doors.iter();
        let doors = doors.map(|d| named(&d.name, w.figures.side(distance(d.from, d.to))));
        let steps = shapes.steps.iter().filter(|steps| steps.at.is_some());
        let steps = steps.map(|steps| {
            let facts =
                minijinja::context! { count => steps.count, width => w.figure(steps.width) };
            w.say_with("slab.plan_steps", facts)
        });
        let tests = (1_u32..).zip(&self.tests).filter(|(_, test)| test.at.is_some());
        let tests = tests.map(|(number, test)| {
            let facts = [
                ("number", number.to_string()),
                ("place", test.place.clone()),
                ("found", test.found.clone()),
            ];
            w.say("slab.plan_test", facts)
        });
        let facts = [
            ("area", w.figure(w.case.site.take_off.floor)),
            ("shapes", list(areas)),
            ("cutouts", list(cutouts)),
            ("cracks", list(cracks)),
            ("joints", list(joints)),
            ("steps", list(steps)),
            ("doors", list(doors)),
            ("tests", list(tests)),
        ];
        w.say("slab.plan_alt", facts)
    }
}

fn list(items: impl Iterator<Item = String>) -> String {
    items.collect::<Vec<_>>().join("; ")
}

/// All tests in the order of the page: dishes, probes, then plastic sheets.
fn tests(w: &Writer<'_>) -> Vec<Test> {
    let (job, site) = (&w.case.job.moisture, &w.case.site.moisture);
    let words = |value: String, part: ReadingPart| {
        let void = matches!(part, ReadingPart::Void | ReadingPart::VoidReadAgain);
        w.say_with("slab.plan_found", minijinja::context! { value => value, void => void })
    };
    fn of<Q: Written>(w: &Writer<'_>, series: Option<&Series<Q>>) -> Vec<(String, ReadingPart)> {
        let readings = series.into_iter().flat_map(|series| &series.readings);
        readings.map(|one| (w.figure(one.value.of_slab()), one.part)).collect()
    }
    let sheets = site.sheets.iter().flat_map(|series| &series.readings).map(|one| {
        let damp = one.value == SheetFound::Damp;
        let found = if damp { "damp_sheet" } else { "dry_sheet" };
        (w.plain(&format!("compare.room_cell.{found}")), one.part)
    });
    let found = of(w, site.mver.as_ref()).into_iter();
    let found = found.chain(of(w, site.rh.as_ref())).chain(sheets);
    let dishes = job.dish_tests().flat_map(|t| &t.dishes).map(|dish| (&dish.place, dish.at));
    let probes = job.probe_tests().flat_map(|t| &t.probes).map(|probe| (&probe.place, probe.at));
    let sheets = job.sheet_tests().map(|sheet| (&sheet.place, sheet.at));
    let places = dishes.chain(probes).chain(sheets);
    places
        .zip(found)
        .map(|((place, at), (value, part))| Test {
            place: place.clone(),
            at,
            found: words(value, part),
        })
        .collect()
}

/// Returns an entry for every kind of sign that is drawn.
fn legend(w: &Writer<'_>, subject: &Subject, told: &Told<'_>) -> Vec<PlanKey> {
    let key = |kind, text| PlanKey { kind, letter: String::new(), text };
    let mut keys = vec![];
    if !subject.marks.is_empty() {
        keys.push(key("mark", w.plain("slab.plan_key.mark")));
    }
    if !subject.cutouts.is_empty() {
        keys.push(key("cutout", w.plain("slab.plan_key.cutout")));
    }
    if told.cracks.len() > CRACKS_IN_LEGEND {
        keys.push(key("crack", w.plain("slab.plan_key.cracks")));
    } else {
        keys.extend(told.cracks.iter().map(|(number, _, length)| {
            let facts = [("number", number.clone()), ("length", length.clone())];
            key("crack", w.say("slab.plan_key.crack", facts))
        }));
    }
    for (kind, words) in [
        (PathKind::Joint, "slab.plan_key.joint"),
        (PathKind::Steps, "slab.plan_key.steps"),
        (PathKind::Door, "slab.plan_key.door"),
    ] {
        if subject.paths.iter().any(|path| path.kind == kind) {
            keys.push(key(kind.word(), w.plain(words)));
        }
    }
    keys
}

/// A bar shorter than this on paper, in sizes of a label, cannot be read.
const LEAST_BAR: f64 = 0.6;

/// The longest round length of at most a third of the plan's width; of a narrow plan, of its longer side.
fn scale_bar(units: Units, bounds: &geo::Rect, scale: f64) -> Length {
    let inches = [1.0, 3.0, 6.0].map(Length::inches);
    let decimal = |from: i32, to: i32, unit: fn(f64) -> Length| {
        (from..to).flat_map(move |power| [1.0, 2.0, 5.0].map(|n| unit(n * 10_f64.powi(power))))
    };
    let lengths: Vec<Length> = match units {
        Units::Us => inches.into_iter().chain(decimal(0, 5, Length::feet)).collect(),
        Units::Metric => decimal(-2, 5, Length::meters).collect(),
    };
    let longest = |most: f64| {
        let fits = lengths.iter().rev().find(|length| length.as_meters() <= most / 3.0);
        fits.copied().unwrap_or(Length::meters(most / 3.0))
    };
    let bar = longest(bounds.width());
    if bar.as_meters() * scale >= LEAST_BAR {
        return bar;
    }
    longest(bounds.width().max(bounds.height()))
}

fn coord(p: Point) -> Coord {
    Coord { x: p.x.as_meters(), y: -p.y.as_meters() }
}

fn places(points: &[Point]) -> Vec<Coord> {
    points.iter().map(|point| coord(*point)).collect()
}

fn lengths(w: &Writer<'_>, corners: &[Point]) -> Vec<String> {
    sides(corners).map(|(a, b)| w.figures.side(distance(a, b))).collect()
}

fn name(w: &Writer<'_>, patch: &Patch, unnamed: &str) -> String {
    if patch.name.is_empty() { w.plain(unnamed) } else { patch.name.clone() }
}

/// A place on a drawing, to a thousandth: stable text in the page data.
fn rounded(value: f64) -> f64 {
    (value * 1000.0).round() / 1000.0
}
