//! Floor plans of every shape: no word over another or over a door, a scale bar that is true, and a text for who
//! cannot see the drawing that leaves nothing out.

use std::fmt::Write as _;

use proptest::prelude::*;
use slableaf::judge::judge;
use slableaf::model::job::Print;
use slableaf::papers::proposal::page::{FloorPlan, PlanLabel};
use slableaf::papers::proposal::writer::Writer;
use slableaf::papers::proposal::{self, Issue};

use crate::chance::tried;
use crate::facts::example::{BOOK, JOB, SHOP, read};
use crate::fixture::{Folder, words};
use crate::readers;

/// A place on the plan, in feet.
type Place = (f64, f64);

/// A floor drawn by hand.
#[derive(Debug, Clone, Default)]
struct Floor {
    areas: Vec<(String, Vec<(f64, f64)>)>,
    cutouts: Vec<(&'static str, f64, f64, f64, f64)>,
    doors: Vec<(&'static str, Place, Place)>,
    cracks: Vec<(&'static str, f64, Vec<Place>)>,
    joints: Vec<Vec<(f64, f64)>>,
    steps: Vec<(u32, f64, f64)>,
    tests: Vec<(f64, f64)>,
    metric: bool,
}

fn pairs(points: &[(f64, f64)]) -> String {
    let pair = |(x, y): &(f64, f64)| format!("[\"{x} ft\", \"{y} ft\"]");
    points.iter().map(pair).collect::<Vec<_>>().join(", ")
}

impl Floor {
    fn of(outline: &[(f64, f64)]) -> Self {
        Self { areas: vec![("Garage floor".into(), outline.to_vec())], ..Self::default() }
    }

    fn rectangle(width: f64, depth: f64) -> Self {
        Self::of(&[(0.0, 0.0), (width, 0.0), (width, depth), (0.0, depth)])
    }

    fn door(mut self, name: &'static str, from: (f64, f64), to: (f64, f64)) -> Self {
        self.doors.push((name, from, to));
        self
    }

    fn crack(mut self, name: &'static str, length: f64, path: &[(f64, f64)]) -> Self {
        self.cracks.push((name, length, path.to_vec()));
        self
    }

    fn tests(mut self, tests: [(f64, f64); 3]) -> Self {
        self.tests = tests.to_vec();
        self
    }

    /// The example's job with this floor.
    fn job(&self) -> String {
        let shapes = ["area", "cutout", "steps", "crack", "joint", "door", "upright", "photo"];
        let tables = JOB.split("\n\n").filter(|table| {
            let table = table.lines().find(|line| !line.starts_with('#')).unwrap_or_default();
            !shapes.iter().any(|shape| table == format!("[[{shape}]]"))
        });
        let mut tests = self.tests.iter();
        let mut job = String::new();
        let mut of_a_test = false;
        for line in tables.collect::<Vec<_>>().join("\n\n").lines() {
            if of_a_test && line.starts_with("at = ") {
                if let Some((x, y)) = tests.next() {
                    writeln!(job, "at = [\"{x} ft\", \"{y} ft\"]").unwrap();
                }
            } else {
                writeln!(job, "{line}").unwrap();
            }
            of_a_test = line.starts_with("place = ");
        }
        if self.metric {
            job = job.replace("units = \"us\"", "units = \"metric\"");
        }
        for (name, corners) in &self.areas {
            let corners = pairs(corners);
            writeln!(job, "\n[[area]]\nname = \"{name}\"\noutline = [{corners}]").unwrap();
        }
        for (name, x, y, length, width) in &self.cutouts {
            writeln!(job, "\n[[cutout]]\nname = \"{name}\"\nat = [\"{x} ft\", \"{y} ft\"]")
                .unwrap();
            writeln!(job, "length = \"{length} ft\"\nwidth = \"{width} ft\"").unwrap();
        }
        for (count, x, y) in &self.steps {
            writeln!(job, "\n[[steps]]\ncount = {count}\nwidth = \"4 ft\"\ntread = \"11 in\"")
                .unwrap();
            writeln!(job, "riser = \"7 in\"\nat = [\"{x} ft\", \"{y} ft\"]").unwrap();
        }
        for (name, length, path) in &self.cracks {
            writeln!(job, "\n[[crack]]\nname = \"{name}\"\nlength = \"{length} ft\"").unwrap();
            writeln!(job, "width = \"1/16 in\"\nmoves = \"no\"\npath = [{}]", pairs(path)).unwrap();
        }
        for path in &self.joints {
            writeln!(job, "\n[[joint]]\nname = \"Saw cut\"\nlength = \"9 ft\"").unwrap();
            writeln!(job, "path = [{}]", pairs(path)).unwrap();
        }
        for (name, from, to) in &self.doors {
            let (from, to) = (pairs(&[*from]), pairs(&[*to]));
            writeln!(job, "\n[[door]]\nname = \"{name}\"\nfrom = {from}\nto = {to}").unwrap();
        }
        job
    }

    fn plan(&self, print: Print) -> FloorPlan {
        let mut input = read(&self.job(), BOOK, SHOP);
        input.job.print = print;
        let judged = judge(&input);
        let words = words();
        let w = Writer::new(&judged.case, &judged.findings, &judged.recommendation, &words);
        proposal::page(&w, &Issue::default()).unwrap().slab.floor
    }
}

/// Floors of every kind, by name.
fn floors() -> Vec<(&'static str, Floor)> {
    let l = [(0.0, 0.0), (22.0, 0.0), (22.0, 21.0), (16.0, 21.0), (16.0, 24.0), (0.0, 24.0)];
    let u = [
        (0.0, 0.0),
        (30.0, 0.0),
        (30.0, 24.0),
        (20.0, 24.0),
        (20.0, 14.0),
        (10.0, 14.0),
        (10.0, 24.0),
        (0.0, 24.0),
    ];
    let t = [
        (0.0, 16.0),
        (10.0, 16.0),
        (10.0, 0.0),
        (22.0, 0.0),
        (22.0, 16.0),
        (32.0, 16.0),
        (32.0, 26.0),
        (0.0, 26.0),
    ];
    let square =
        |x: f64, y: f64, w: f64, h: f64| vec![(x, y), (x + w, y), (x + w, y + h), (x, y + h)];
    let mut many = Floor::default();
    for bay in 0..15_u32 {
        let (x, y) = (f64::from(bay % 5) * 9.0, f64::from(bay / 5) * 12.0);
        many.areas.push((format!("Bay {}", bay + 1), square(x, y, 9.0, 12.0)));
    }
    let shared = Floor {
        areas: vec![
            ("Garage floor".into(), square(0.0, 0.0, 20.0, 22.0)),
            ("Workshop".into(), square(20.0, 4.0, 10.0, 14.0)),
            ("Laundry alcove".into(), square(5.0, 22.0, 6.0, 4.0)),
        ],
        cutouts: vec![
            ("Furnace pad", 1.0, 18.0, 3.0, 3.0),
            ("Post", 12.0, 12.0, 1.0, 1.0),
            ("Drain", 15.0, 5.0, 2.0, 2.0),
        ],
        joints: vec![vec![(0.0, 14.0), (20.0, 14.0)]],
        steps: vec![(3, 16.0, 18.0)],
        ..Floor::default()
    };
    let doors_all_around = Floor::rectangle(24.0, 22.0)
        .door("Garage door", (3.0, 0.0), (19.0, 0.0))
        .door("House", (24.0, 4.0), (24.0, 7.0))
        .door("Yard", (8.0, 22.0), (11.0, 22.0))
        .door("Shed", (0.0, 15.0), (0.0, 18.0));
    vec![
        (
            "rectangle",
            Floor::rectangle(20.0, 22.0).door("Garage door", (2.0, 0.0), (18.0, 0.0)).tests([
                (4.0, 18.0),
                (10.0, 11.0),
                (17.0, 3.0),
            ]),
        ),
        (
            "L",
            Floor::of(&l)
                .door("House", (17.0, 21.0), (20.0, 21.0))
                .crack("Hairline", 11.0, &[(11.0, 0.0), (10.0, 4.0), (11.0, 11.0)])
                .tests([(4.0, 18.0), (11.0, 11.0), (18.0, 3.0)]),
        ),
        (
            "U",
            Floor::of(&u)
                .door("House", (10.0, 16.0), (10.0, 19.0))
                .crack("One", 5.0, &[(12.0, 2.0), (13.0, 4.0), (12.0, 7.0)])
                .crack("Two", 4.0, &[(24.0, 18.0), (26.0, 22.0)])
                .tests([(4.0, 18.0), (15.0, 7.0), (25.0, 3.0)]),
        ),
        (
            "T",
            Floor::of(&t).door("Garage door", (11.0, 0.0), (21.0, 0.0)).tests([
                (4.0, 20.0),
                (16.0, 8.0),
                (28.0, 22.0),
            ]),
        ),
        (
            "triangle",
            Floor::of(&[(0.0, 0.0), (24.0, 0.0), (0.0, 18.0)])
                .crack("A", 7.0, &[(3.0, 3.0), (9.0, 6.0)])
                .tests([(2.0, 12.0), (5.0, 5.0), (15.0, 2.0)]),
        ),
        (
            "very long",
            Floor::rectangle(80.0, 6.0).door("Door", (0.0, 1.0), (0.0, 5.0)).tests([
                (2.0, 3.0),
                (40.0, 3.0),
                (78.0, 3.0),
            ]),
        ),
        (
            "very deep",
            Floor::rectangle(5.0, 60.0).door("Door", (1.0, 0.0), (4.0, 0.0)).tests([
                (2.0, 3.0),
                (2.0, 30.0),
                (3.0, 57.0),
            ]),
        ),
        ("very small", Floor::rectangle(3.0, 3.0).tests([(1.0, 1.0), (2.0, 2.0), (2.5, 0.5)])),
        (
            "spots in a heap",
            Floor::rectangle(20.0, 22.0).door("Garage door", (2.0, 0.0), (18.0, 0.0)).tests([
                (10.0, 1.0),
                (10.4, 1.0),
                (10.2, 0.4),
            ]),
        ),
        (
            "many areas",
            many.door("North", (28.0, 36.0), (35.0, 36.0)).tests([
                (4.0, 18.0),
                (20.0, 11.0),
                (40.0, 30.0),
            ]),
        ),
        (
            "shared walls",
            shared
                .door("Garage door", (2.0, 0.0), (18.0, 0.0))
                .door("To the house", (20.0, 8.0), (20.0, 11.0))
                .crack("At the post", 3.0, &[(13.0, 12.0), (16.0, 13.0)])
                .tests([(4.0, 12.0), (11.0, 12.5), (18.0, 3.0)]),
        ),
        ("doors on every side", doors_all_around.tests([(1.0, 16.0), (12.0, 21.0), (23.0, 5.0)])),
        (
            "in meters",
            Floor {
                metric: true,
                ..Floor::rectangle(21.0, 17.0).tests([(4.0, 4.0), (10.0, 11.0), (17.0, 3.0)])
            },
        ),
    ]
}

/// Left, top, right, bottom.
type Room = [f64; 4];

fn room(label: &PlanLabel) -> Room {
    let ([x, y], w, h) = (label.at, label.width / 2.0, label.height / 2.0);
    [x - w, y - h, x + w, y + h]
}

/// Places are rounded to a thousandth.
const ROUNDED: f64 = 0.003;

fn overlap(a: Room, b: Room) -> bool {
    a[0] + ROUNDED < b[2] && b[0] + ROUNDED < a[2] && a[1] + ROUNDED < b[3] && b[1] + ROUNDED < a[3]
}

/// The law of all plans. A crowded one may leave a word out, but never prints one over another.
fn reads_well(name: &str, plan: &FloorPlan) {
    for (i, a) in plan.labels.iter().enumerate() {
        let own = room(a);
        assert!(
            own[0] > -ROUNDED
                && own[1] > -ROUNDED
                && own[2] < plan.width + ROUNDED
                && own[3] < plan.height + ROUNDED,
            "{name}: {a:?} runs out of the drawing"
        );
        for b in &plan.labels[..i] {
            assert!(!overlap(own, room(b)), "{name}: {a:?} over {b:?}");
        }
        for door in plan.lines.iter().filter(|line| line.kind == "door") {
            let [from, to] = door.points[..] else { panic!("a door has two ends") };
            for step in 0..=60 {
                let part = f64::from(step) / 60.0;
                let [x, y] = [0, 1].map(|i| from[i] + (to[i] - from[i]) * part);
                let hidden = own[0] < x && x < own[2] && own[1] < y && y < own[3];
                assert!(!hidden, "{name}: {a:?} hides a door at {x}, {y}");
            }
        }
    }
    let points = plan.shapes.iter().flat_map(|shape| &shape.points);
    let (mut least, mut most) = ([f64::MAX; 2], [f64::MIN; 2]);
    for point in points {
        for i in 0..2 {
            (least[i], most[i]) = (least[i].min(point[i]), most[i].max(point[i]));
        }
    }
    let (width, height) = (most[0] - least[0], most[1] - least[1]);
    let across = if width > 5.0 { width } else { width.max(height) };
    assert!(
        plan.scale_width > 0.2 && plan.scale_width * 3.0 <= across + ROUNDED,
        "{name}: a bar of {} on a plan of {width} by {height}",
        plan.scale_width
    );
    // The legend explains every letter on the plan, and nothing else.
    let letters = plan.labels.iter().filter(|label| label.kind == "letter");
    let mut shown: Vec<&str> = letters.map(|label| label.lines[0].as_str()).collect();
    shown.sort_unstable();
    let mut told: Vec<&str> =
        plan.legend.iter().map(|k| k.letter.as_str()).filter(|l| !l.is_empty()).collect();
    told.sort_unstable();
    assert_eq!(shown, told, "{name}");
}

#[test]
fn no_word_of_a_plan_stands_over_another_or_over_a_door() {
    for (name, floor) in floors() {
        for (print, columns) in [(Print::Usual, 28.5), (Print::Large, 35.1)] {
            let plan = floor.plan(print);
            reads_well(name, &plan);
            let beside = if plan.legend_width > 0.0 { plan.legend_width + 1.0 } else { 0.0 };
            assert!(plan.width + beside <= columns, "{name}: {} and {beside}", plan.width);
            // On these floors nothing is crowded out.
            let marks = plan.labels.iter().filter(|label| label.kind == "mark").count();
            assert_eq!(marks, 3, "{name}");
            let cracks = plan.labels.iter().filter(|label| label.kind == "crack").count();
            assert_eq!(cracks, floor.cracks.len(), "{name}");
            let names =
                plan.labels.iter().filter(|l| ["area", "cutout", "letter"].contains(&l.kind));
            assert_eq!(names.count(), floor.areas.len() + floor.cutouts.len(), "{name}");
        }
    }
}

#[test]
fn a_plan_is_to_scale_and_so_is_its_bar() {
    for (name, floor) in floors() {
        let plan = floor.plan(Print::Usual);
        let feet: Vec<(f64, f64)> = floor.areas.iter().flat_map(|(_, c)| c.clone()).collect();
        let drawn =
            plan.shapes.iter().filter(|shape| shape.kind == "floor").flat_map(|s| &s.points);
        let drawn: Vec<&[f64; 2]> = drawn.collect();
        let far = |a: usize, b: usize| {
            let feet = (feet[a].0 - feet[b].0).hypot(feet[a].1 - feet[b].1);
            (drawn[a][0] - drawn[b][0]).hypot(drawn[a][1] - drawn[b][1]) / feet
        };
        let scale = far(0, 2);
        for corner in 1..feet.len() {
            assert!((far(0, corner) / scale - 1.0).abs() < 0.01, "{name}, corner {corner}");
        }
        let text = plan.scale_text.replace('\u{A0}', " ");
        let (number, unit) = text.split_once(' ').unwrap();
        // The international foot is 0.3048 m (NIST SP 811, appendix B).
        let feet = number.parse::<f64>().unwrap()
            * match unit {
                "ft" => 1.0,
                "in" => 1.0 / 12.0,
                "m" => 1.0 / 0.3048,
                other => panic!("{other}"),
            };
        assert!((plan.scale_width / scale / feet - 1.0).abs() < 0.01, "{name}: {text}");
    }
}

/// Lengths of the shown sides, by hand.
#[test]
fn lengths_stand_on_a_plan_once() {
    let lengths = |name: &str| {
        let floor = floors().into_iter().find(|(known, _)| *known == name).unwrap().1;
        let plan = floor.plan(Print::Usual);
        let labels = plan.labels.into_iter().filter(|label| label.kind == "length");
        let mut texts: Vec<String> =
            labels.map(|l| l.lines.concat().replace('\u{A0}', " ")).collect();
        texts.sort();
        texts
    };
    assert_eq!(lengths("rectangle"), ["20 ft", "22 ft"]);
    assert_eq!(lengths("L"), ["16 ft", "21 ft", "22 ft", "24 ft", "3 ft", "6 ft"]);
    assert_eq!(lengths("U"), ["10 ft", "10 ft", "10 ft", "10 ft", "24 ft", "30 ft"]);
    assert_eq!(lengths("T"), ["10 ft", "10 ft", "10 ft", "12 ft", "16 ft", "32 ft"]);
    assert_eq!(lengths("triangle"), ["18 ft", "24 ft", "30 ft"]);
    assert_eq!(lengths("shared walls"), ["10 ft", "14 ft", "20 ft", "22 ft", "4 ft", "6 ft"]);
}

#[test]
fn the_text_beside_a_plan_tells_all_that_is_drawn() {
    for (name, floor) in floors() {
        let mut input = read(&floor.job(), BOOK, SHOP);
        input.job.print = Print::Usual;
        let judged = judge(&input);
        let words = words();
        let w = Writer::new(&judged.case, &judged.findings, &judged.recommendation, &words);
        let slab = proposal::page(&w, &Issue::default()).unwrap().slab;
        let alt = slab.floor.alt.replace('\u{A0}', " ");
        let says = |text: &str| {
            assert!(alt.contains(&text.replace('\u{A0}', " ")), "{name}: {text}\n{alt}")
        };
        for label in &slab.floor.labels {
            // What is drawn is said: names, lengths, numbers of cracks and tests.
            if label.kind != "letter" {
                says(&label.lines.join(" "));
            }
        }
        for key in slab.floor.legend.iter().filter(|key| key.kind == "letter") {
            says(&key.text);
        }
        for (area, corners) in &floor.areas {
            let after = alt.split(area.as_str()).nth(1).unwrap_or_else(|| panic!("{name}: {area}"));
            let sides = after.split([';', ':']).next().unwrap();
            assert_eq!(sides.matches(", ").count() + 1, corners.len(), "{name}: {sides}");
        }
        for (number, (crack, length, _)) in (1..).zip(&floor.cracks) {
            says(&format!("C{number} {crack}, {length} ft"));
        }
        for (door, from, to) in floor.doors.iter().filter(|_| !floor.metric) {
            says(&format!("{door}, {} ft", (to.0 - from.0).hypot(to.1 - from.1)));
        }
        for reading in slab.moisture.iter().flat_map(|chart| &chart.readings) {
            says(&format!("{}: {}", reading.label, reading.value));
        }
        if !floor.steps.is_empty() {
            says("3 steps, 4 ft wide");
        }
    }
}

/// Numbers run on from one way of testing to the next: each is one spot on the plan and one row of a chart.
#[test]
fn a_number_on_the_plan_is_that_of_one_reading() {
    let probe = "\n[[moisture.probes.probe]]\nplace = \"by the shelf\"\nat = [\"7 ft\", \"7 ft\"]\ndepth = \"1.6 in\"\n\
        reading = \"82 %\"\ndrilled = 2026-05-05T09:00:00\nread = 2026-05-07T09:00:00\ncalibrated = 2026-05-01\n\n";
    let floor = Floor::rectangle(20.0, 22.0).tests([(4.0, 18.0), (10.0, 11.0), (17.0, 3.0)]);
    let probes = format!("[moisture.probes]\nedition = 2019\nsettled = true\n{probe}[air]");
    let job = floor.job().replace("[air]", &probes);
    let input = read(&job, BOOK, SHOP);
    let judged = judge(&input);
    let words = words();
    let w = Writer::new(&judged.case, &judged.findings, &judged.recommendation, &words);
    let slab = proposal::page(&w, &Issue::default()).unwrap().slab;
    let readings = slab.moisture.iter().flat_map(|chart| &chart.readings);
    let rows: Vec<&str> = readings.map(|r| r.label.split(',').next().unwrap()).collect();
    assert_eq!(rows, ["1", "2", "3", "4"]);
    let marks = slab.floor.labels.iter().filter(|label| label.kind == "mark");
    assert_eq!(marks.map(|mark| mark.lines.concat()).collect::<Vec<_>>(), rows);
    let alt = slab.floor.alt.replace('\u{A0}', " ");
    assert!(alt.contains("4, by the shelf: 82% RH"), "{alt}");
}

/// A wait that runs over midnight is named so on the bars of the days, and no other.
#[test]
fn a_wait_over_a_night_is_named() {
    let mut nights = 0;
    for paper in super::PAPERS.iter().filter(|paper| paper.page["language"] == "en") {
        let days = super::list(&paper.page["plan"]["timeline"]["ticks"]).len() as f64;
        for row in super::list(&paper.page["plan"]["timeline"]["rows"]) {
            for span in super::list(&row["spans"]) {
                let day = |end: &str| (span[end].as_f64().unwrap() * days).floor();
                let night = span["kind"] == "wait" && day("from") < day("to");
                assert_eq!(span["label"], if night { "overnight" } else { "" }, "{span}");
                nights += usize::from(night);
            }
        }
    }
    assert!(nights > 4, "{nights}");
}

/// Corners of a floor with straight walls: steps up, across, and back along the far wall.
fn straight_floors() -> impl Strategy<Value = Floor> {
    let bays = prop::collection::vec((2u32..=14, 6u32..=30), 1..=6);
    let share = || 0.02..0.98_f64;
    let spots = prop::collection::vec((share(), share()), 3);
    let door = (share(), share());
    (bays, spots, door, prop::collection::vec((share(), share()), 2..5)).prop_map(
        |(bays, spots, door, crack)| {
            let mut corners = vec![(0.0, 0.0)];
            let width: u32 = bays.iter().map(|(wide, _)| wide).sum();
            let width = f64::from(width);
            corners.push((width, 0.0));
            let mut x = width;
            for (wide, deep) in bays.iter().rev() {
                let deep = f64::from(*deep);
                // Neighbors of one depth would be one wall.
                if corners.last().is_some_and(|last| last.1 == deep) {
                    corners.pop();
                } else {
                    corners.push((x, deep));
                }
                x -= f64::from(*wide);
                corners.push((x, deep));
            }
            let least = bays.iter().map(|(_, deep)| *deep).min().map_or(6.0, f64::from);
            let at = |(x, y): (f64, f64)| {
                ((x * width * 10.0).round() / 10.0, (y * least * 10.0).round() / 10.0)
            };
            let (from, to) = (at((door.0.min(door.1), 0.0)), at((door.0.max(door.1), 0.0)));
            let mut floor = Floor::of(&corners);
            if to.0 > from.0 {
                floor = floor.door("Garage door", (from.0, 0.0), (to.0, 0.0));
            }
            let path: Vec<(f64, f64)> = crack.into_iter().map(at).collect();
            floor = floor.crack("Crack", 4.0, &path);
            floor.tests([at(spots[0]), at(spots[1]), at(spots[2])])
        },
    )
}

proptest! {
    #![proptest_config(tried(60))]

    #[test]
    fn plans_of_all_straight_floors_read_well(floor in straight_floors()) {
        reads_well("random", &floor.plan(Print::Usual));
    }
}

/// A floor of equal bays side by side, as in a hall or a row of garages.
fn bays(count: u32) -> Floor {
    let across = f64::from(count).sqrt().ceil() as u32;
    let mut floor = Floor::default();
    for bay in 0..count {
        let (x, y) = (f64::from(bay % across) * 10.0, f64::from(bay / across) * 9.0);
        let corners = vec![(x, y), (x + 10.0, y), (x + 10.0, y + 9.0), (x, y + 9.0)];
        floor.areas.push((format!("Bay {}", bay + 1), corners));
    }
    floor.tests([(4.0, 8.0), (14.0, 11.0), (25.0, 3.0)])
}

/// A floor of many areas has numbers on its plan, and every name with its lengths in a list.
#[test]
fn many_areas_have_numbers_and_a_list() {
    for (count, numbered) in [(20, false), (21, true), (60, true), (100, true)] {
        let floor = bays(count);
        let name = format!("{count} bays");
        for print in [Print::Usual, Print::Large] {
            let plan = floor.plan(print);
            reads_well(&name, &plan);
            assert_eq!(plan.areas.is_some(), numbered, "{name}");
            assert_eq!(plan.wide, numbered && print == Print::Usual);
            let Some(list) = plan.areas else { continue };
            let count = count as usize;
            assert_eq!(list.rows.len(), count);
            let row = &list.rows[count - 1];
            assert_eq!((&row.number, &row.name), (&count.to_string(), &format!("Bay {count}")));
            assert_eq!(row.sides.replace('\u{A0}', " "), "10 ft \u{D7} 9 ft");
            assert_eq!(row.size.replace('\u{A0}', " "), "90 sq ft");
            assert!(
                plan.labels.iter().all(|label| label.kind != "length" && label.kind != "letter")
            );
            let numbers: Vec<&str> = plan
                .labels
                .iter()
                .filter(|l| l.kind == "area")
                .map(|l| l.lines[0].as_str())
                .collect();
            // The usual print has room for each of them.
            if print == Print::Usual {
                assert_eq!(numbers.len(), count, "{name}: {numbers:?}");
            }
            assert!(numbers.iter().all(|n| list.rows.iter().any(|row| row.number == *n)), "{name}");
        }
    }
    // An outline that is no rectangle has all its sides.
    let mut floor = bays(25);
    floor.areas[0].1 = vec![(0.0, 0.0), (8.0, 0.0), (0.0, 6.0)];
    let list = floor.plan(Print::Usual).areas.unwrap();
    assert_eq!(list.rows[0].sides.replace('\u{A0}', " "), "8 ft, 10 ft, 6 ft");
}

/// The most areas and places left out that a job may have, with and without places, in every print.
#[test]
fn the_most_areas_print_on_every_paper() {
    let table = |name: &str, at: u32, placed: bool, size: &str| {
        let (x, y) = (at % 15 * 10, at / 15 * 9);
        let place = if placed { format!("at = [\"{x} ft\", \"{y} ft\"]\n") } else { String::new() };
        format!("\n[[{name}]]\nname = \"The {name} of number {at}\"\n{size}\n{place}")
    };
    for (count, placed, top) in [
        (100, true, "print = \"usual\"\nedition = \"phone\""),
        (100, false, "language = \"es\"\nprint = \"large\""),
        (200, true, "language = \"es\""),
    ] {
        let folder = Folder::tested();
        let job = folder.read("job.toml");
        let mut job: String = job
            .lines()
            .filter(|line| !line.starts_with("area = "))
            .map(|line| format!("{line}\n"))
            .collect();
        for at in 0..count {
            job.push_str(&table("area", at, placed, "length = \"9 ft\"\nwidth = \"8 ft\""));
        }
        // ASTM F1869 asks for a dish more on every 1,000 square feet; without them no crew sheet is made. Of more
        // than one page holds, the chart goes on on the next.
        for at in 0..(count * 72 / 1_000 + 1).max(60) {
            let _ = write!(
                job,
                "\n[[moisture.dishes.dish]]\nplace = \"spot {at}\"\nsurface = \"ground-open-24h\"\n\
                 exposed = \"65.7 in2\"\nbefore = \"200.0 g\"\nafter = \"202.8 g\"\n\
                 set = 2026-05-05T09:00:00\nlifted = 2026-05-08T03:00:00\n"
            );
        }
        for at in 0..count / 2 {
            job.push_str(&table("cutout", at, placed, "length = \"1 ft\"\nwidth = \"1 ft\""));
        }
        let folder = folder.write("job.toml", format!("{top}\n{job}"));
        folder.run(&["write", "job.toml", "--draft"]).success();
        folder.run(&["prepare", "job.toml", "--floor", "barrier"]).success();
        for paper in
            ["papers/2026-0170-proposal-draft.pdf", "shop-only/2026-0170-crew-sheet-r1.pdf"]
        {
            let text = readers::squeezed(&readers::text(&folder.path(paper)));
            for at in [0, 57, count - 1] {
                let name = format!("The area of number {at} ");
                assert!(text.contains(&name), "{paper}, {count} {top}: {at}");
            }
        }
    }
}

/// As many in each of two spaces: the paper lists them all, the crew sheet of each its own.
#[test]
fn the_most_areas_of_two_spaces_print_on_paper_and_crew_sheets() {
    let folder = Folder::of("three-spaces");
    let mut job = folder.read("job.toml");
    for (name, outline) in [("Garage floor", "22 ft"), ("Patio", "18 ft")] {
        let head = format!("[[space.area]]\nname = \"{name}\"\nlength = \"{outline}\"\n");
        assert_eq!(job.matches(&head).count(), 1, "{head}");
        let more: String = (1..200)
            .map(|at| {
                let (x, y) = (at % 15 * 2 + 30, at / 15 * 3);
                format!(
                    "[[space.area]]\nname = \"{name}, part {at}\"\nlength = \"1 ft\"\nwidth = \"2 ft\"\n\
                     at = [\"{x} ft\", \"{y} ft\"]\n\n"
                )
            })
            .collect();
        job = job.replace(&head, &format!("{more}{head}at = [\"0 ft\", \"0 ft\"]\n"));
    }
    let folder = folder.write("job.toml", job);
    folder.run(&["write", "job.toml", "--draft"]).success();
    folder.run(&["prepare", "job.toml"]).success();
    let paper = folder.path("papers/2026-0174-proposal-draft.pdf");
    let text = readers::squeezed(&readers::text(&paper));
    for (space, own, other) in [(1, "Garage floor", "Patio"), (2, "Patio", "Garage floor")] {
        let sheet = folder.path(&format!("shop-only/2026-0174-crew-sheet-{space}-r1.pdf"));
        let sheet = readers::squeezed(&readers::text(&sheet));
        for at in [1, 57, 199] {
            for text in [&text, &sheet] {
                assert!(text.contains(&format!("{own}, part {at} ")), "{space}: part {at}");
            }
        }
        assert!(!sheet.contains(&format!("{other}, part ")), "{space}");
    }
}
