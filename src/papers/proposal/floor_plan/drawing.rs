//! A plan laid out to fill its room: every line and label has its place, in sizes of the labels.

use geo::{BoundingRect, Coord, Line, LineString, Rect};

use crate::base::names::choices;
use crate::papers::proposal::floor_plan::dimensions::{Area, dimensions};
use crate::papers::proposal::floor_plan::lengths;
use crate::papers::proposal::floor_plan::listed::MANY;
use crate::papers::proposal::floor_plan::placing::*;
use crate::papers::proposal::floor_plan::text::{in_two, size};

/// What is drawn. Places are in meters, x to the right, y down.
#[derive(Debug, Clone, Default)]
pub struct Subject {
    pub areas: Vec<Area>,
    pub cutouts: Vec<Area>,
    pub paths: Vec<Path>,
    pub marks: Vec<Mark>,
    /// True where nobody wrote down how the areas lie to each other.
    pub loose: bool,
    /// True where areas have numbers, which a list explains.
    pub numbered: bool,
}

/// Something that runs over the plan.
#[derive(Debug, Clone)]
pub struct Path {
    pub kind: PathKind,
    pub points: Vec<Coord>,
    /// The name of a door, the number of a crack; else empty.
    pub label: String,
}

choices! {
    PathKind {
        Joint = "joint",
        Crack = "crack",
        Steps = "steps",
        Door = "door",
    }
}

/// A test spot with its numbers.
#[derive(Debug, Clone)]
pub struct Mark {
    pub at: Coord,
    pub text: String,
}

choices! {
    LabelKind {
        Length = "length",
        Area = "area",
        Cutout = "cutout",
        Door = "door",
        Letter = "letter",
        Crack = "crack",
        Mark = "mark",
    }
}

#[derive(Debug, Clone)]
pub struct Label {
    pub kind: LabelKind,
    pub lines: Vec<String>,
    pub at: Coord,
    pub size: (f64, f64),
    /// True where the words run upward.
    pub turned: bool,
}

impl Label {
    /// A label whose words run across.
    fn level(kind: LabelKind, lines: Vec<String>, at: Coord, size: (f64, f64)) -> Self {
        Self { kind, lines, at, size, turned: false }
    }

    pub fn room(&self) -> Rect {
        around(self.at, self.size, 0.0)
    }
}

#[derive(Debug)]
pub struct Drawing {
    /// Sizes of a label to a meter.
    pub scale: f64,
    /// The corner of the drawing, from the top left corner of the areas.
    pub corner: Coord,
    pub size: (f64, f64),
    pub labels: Vec<Label>,
    /// Lengths with their extension lines.
    pub rules: Vec<Line>,
    /// Lines that lead from a label to its place.
    pub leads: Vec<Line>,
    /// Ends of lengths.
    pub ticks: Vec<Coord>,
    /// The place of what has its label elsewhere.
    pub dots: Vec<Coord>,
    /// Names that did not fit, by the letter that stands for each.
    pub letters: Vec<(String, String)>,
}

impl Subject {
    /// The room that areas and steps span, in meters.
    pub fn bounds(&self) -> Rect {
        let areas = self.areas.iter().flat_map(|area| &area.corners);
        let steps = self.paths.iter().filter(|path| path.kind == PathKind::Steps);
        let all: Vec<Coord> = areas.chain(steps.flat_map(|path| &path.points)).copied().collect();
        let bounds = LineString::from(all).bounding_rect();
        let bounds = bounds.unwrap_or_else(|| Rect::new(Coord::zero(), Coord::zero()));
        // Nothing is divided by zero.
        let least = Coord { x: 1e-6, y: 1e-6 };
        Rect::new(bounds.min(), bounds.max() + least)
    }

    /// Returns the largest drawing that fits this room, in sizes of a label.
    pub fn fitted(&self, (width, height): (f64, f64)) -> Drawing {
        let bounds = self.bounds();
        let widest = (width / bounds.width()).min(height / bounds.height());
        let mut scale = widest * 0.8;
        for _ in 0..4 {
            let trial = self.at_scale(scale);
            let beside = trial.size.0 - bounds.width() * scale;
            let above = trial.size.1 - bounds.height() * scale;
            let fits = ((width - beside) / bounds.width()).min((height - above) / bounds.height());
            scale = fits.clamp(widest * 0.15, widest);
        }
        let mut drawing = self.at_scale(scale);
        for _ in 0..12 {
            if drawing.size.0 <= width && drawing.size.1 <= height {
                break;
            }
            scale *= 0.95;
            drawing = self.at_scale(scale);
        }
        drawing
    }

    fn at_scale(&self, scale: f64) -> Drawing {
        let bounds = self.bounds();
        let to = |c: &Coord| (*c - bounds.min()) * scale;
        let scaled = |corners: &[Coord]| corners.iter().map(to).collect::<Vec<Coord>>();
        let area = |area: &Area| Area { corners: scaled(&area.corners), ..area.clone() };
        let subject = Self {
            areas: self.areas.iter().map(area).collect(),
            cutouts: self.cutouts.iter().map(area).collect(),
            paths: self
                .paths
                .iter()
                .map(|path| Path { points: scaled(&path.points), ..path.clone() })
                .collect(),
            marks: self.marks.iter().map(|m| Mark { at: to(&m.at), ..m.clone() }).collect(),
            loose: self.loose,
            numbered: self.numbered,
        };
        let shown = dimensions(&self.areas, self.loose).into_iter().map(|mut dimension| {
            (dimension.from, dimension.to) = (to(&dimension.from), to(&dimension.to));
            dimension
        });
        let shown: Vec<_> = shown.collect();
        let mut sheet = Sheet::of(&subject);
        lengths::outside(&mut sheet, &shown, &subject.bounds());
        sheet.marks(&subject.marks);
        sheet.cracks(&subject.paths);
        sheet.names(&subject);
        lengths::beside(&mut sheet, &shown);
        sheet.doors(&subject.paths);
        sheet.finished(scale, &subject)
    }
}

/// A drawing in the making.
pub struct Sheet {
    pub taken: Taken,
    pub labels: Vec<Label>,
    pub rules: Vec<Line>,
    pub ticks: Vec<Coord>,
    leads: Vec<Line>,
    dots: Vec<Coord>,
    letters: Vec<(String, String)>,
    /// The inside of each area.
    floors: Vec<Region>,
    numbered: bool,
}

/// The sign of a test spot is a circle of this size.
const SIGN: f64 = 1.55;
/// The height of a capital letter with a little ground.
const LETTER: f64 = 0.9;

impl Sheet {
    fn of(subject: &Subject) -> Self {
        let mut taken = Taken::default();
        for shape in subject.areas.iter().chain(&subject.cutouts) {
            taken.add_wall(&shape.corners);
        }
        for path in &subject.paths {
            match path.kind {
                PathKind::Door => taken.add_door(&path.points),
                _ => taken.add_thin(&path.points),
            }
        }
        Self {
            taken,
            labels: vec![],
            rules: vec![],
            ticks: vec![],
            leads: vec![],
            dots: vec![],
            letters: vec![],
            floors: subject.areas.iter().filter_map(|a| Region::of(&a.corners)).collect(),
            numbered: subject.numbered,
        }
    }

    /// Puts a label where its room was found free.
    pub fn put(&mut self, label: Label) {
        self.taken.add(around(label.at, label.size, 0.08));
        self.labels.push(label);
    }

    /// Whether a label of this size may stand there.
    pub fn is_free(&self, at: Coord, size: (f64, f64), ground: Ground) -> bool {
        self.taken.is_free(&around(at, size, RIM), ground)
    }

    /// Whether a place lies on the floor.
    pub fn on_floor(&self, at: Coord) -> bool {
        self.floors.iter().any(|floor| floor.holds(at))
    }

    /// The first of these places that is free: on clear ground, else over thin lines.
    pub fn first_free(&self, places: &[Coord], size: (f64, f64)) -> Option<Coord> {
        let free = |ground| places.iter().find(|at| self.is_free(**at, size, ground));
        free(Ground::Clear).or_else(|| free(Ground::OverThinLines)).copied()
    }

    /// The nearest free place around one from which a line to it runs over no label: on the floor if it may be.
    fn near(&self, to: Coord, room: (f64, f64)) -> Option<Coord> {
        let found = |on_floor: bool| {
            rings(to).find_map(|ring| {
                let clear = |at: &Coord| {
                    (!on_floor || self.on_floor(*at)) && self.taken.is_clear(&Line::new(*at, to))
                };
                let ring: Vec<Coord> = ring.into_iter().filter(clear).collect();
                self.first_free(&ring, room)
            })
        };
        found(true).or_else(|| found(false))
    }

    /// A test spot stands at its place, or near it with a line to a dot there.
    fn marks(&mut self, marks: &[Mark]) {
        for mark in marks {
            let lines = vec![mark.text.clone()];
            let wide = if mark.text.chars().count() > 2 { size(&lines).0 + 1.0 } else { SIGN };
            let room = (wide, SIGN);
            let own = around(mark.at, room, 0.05);
            let free = self.taken.is_free(&own, Ground::OverThinLines);
            let at = if free { Some(mark.at) } else { self.near(mark.at, room) };
            let Some(at) = at else { continue };
            self.lead(at, mark.at);
            self.put(Label::level(LabelKind::Mark, lines, at, room));
        }
    }

    /// Draws a line from a label to the dot at its place, unless it stands there.
    fn lead(&mut self, from: Coord, to: Coord) {
        if from != to {
            self.leads.push(Line::new(from, to));
            self.dots.push(to);
            self.taken.add(around(to, (0.5, 0.5), 0.0));
        }
    }

    /// A crack has its number beside it, from its middle outward.
    fn cracks(&mut self, paths: &[Path]) {
        for path in paths.iter().filter(|path| path.kind == PathKind::Crack) {
            let label_lines = vec![path.label.clone()];
            let room = size(&label_lines);
            let mut places = vec![];
            let mut parts = lines(&path.points, false);
            let longest = |line: &Line| (line.dx()).hypot(line.dy());
            parts.sort_by(|a, b| longest(b).total_cmp(&longest(a)));
            for far in [0.25, 0.6] {
                for part in &parts {
                    for along in [0.5, 0.2, 0.8] {
                        let at = part.start + part.delta() * along;
                        places.extend(beside_line(at, part, room, far));
                    }
                }
            }
            let Some(middle) = parts.first().map(|part| part.start + part.delta() * 0.5) else {
                continue;
            };
            let beside = self.first_free(&places, room);
            let Some(at) = beside.or_else(|| self.near(middle, room)) else { continue };
            if beside.is_none() {
                self.lead(at, middle);
            }
            self.put(Label::level(LabelKind::Crack, label_lines, at, room));
        }
    }

    /// Names go where they fit, in one line or two. The others get a letter in the shape, or beside it.
    fn names(&mut self, subject: &Subject) {
        let holes: Vec<Region> =
            subject.cutouts.iter().filter_map(|cutout| Region::of(&cutout.corners)).collect();
        for area in &subject.areas {
            self.name(area, LabelKind::Area, &holes);
        }
        // The sign for what is not coated stands in the legend; many names would cover the plan.
        for cutout in subject.cutouts.iter().filter(|_| subject.cutouts.len() <= MANY) {
            self.name(cutout, LabelKind::Cutout, &[]);
        }
    }

    fn name(&mut self, shape: &Area, kind: LabelKind, holes: &[Region]) {
        let Some(region) = Region::of(&shape.corners) else { return };
        let mut ways = vec![vec![shape.name.clone()]];
        ways.extend(in_two(&shape.name));
        for ground in [Ground::Clear, Ground::OverThinLines] {
            for (lines, rim) in ways.iter().flat_map(|way| [(way, NAME_RIM), (way, RIM)]) {
                let room = size(lines);
                if let Some(at) = region.place(&self.taken, room, rim, holes, ground) {
                    return self.put(Label::level(kind, lines.clone(), at, room));
                }
            }
        }
        // The list has it; the number of a neighbor says where to look.
        if self.numbered && kind == LabelKind::Area {
            return;
        }
        let letter = letter(self.letters.len());
        let lines = vec![letter.clone()];
        let room = (size(&lines).0, LETTER);
        let inside = region.place(&self.taken, room, 0.1, holes, Ground::OverThinLines);
        let middle = region.middle();
        // No word is printed over another: the text beside the drawing has every name.
        let Some(at) = inside.or_else(|| self.near(middle, room)) else { return };
        self.letters.push((letter, shape.name.clone()));
        if inside.is_none() {
            self.lead(at, middle);
        }
        self.put(Label::level(LabelKind::Letter, lines, at, room));
    }

    /// A door has its name on the floor beside it where there is room; its sign stands in the legend.
    fn doors(&mut self, paths: &[Path]) {
        for path in paths.iter().filter(|path| path.kind == PathKind::Door) {
            let [from, to] = path.points[..] else { continue };
            let door = Line::new(from, to);
            let turned = door.dy().abs() > door.dx().abs();
            let label_lines = vec![path.label.clone()];
            let (long, high) = size(&label_lines);
            let room = if turned { (high, long) } else { (long, high) };
            if path.label.is_empty() || long > door.dx().hypot(door.dy()) * 1.6 {
                continue;
            }
            let places = [0.5, 0.3, 0.7].map(|along| from + (to - from) * along);
            let mut places = places.into_iter().flat_map(|at| beside_line(at, &door, room, 0.6));
            let free = |at: &Coord| self.on_floor(*at) && self.is_free(*at, room, Ground::Clear);
            if let Some(at) = places.find(free) {
                let kind = LabelKind::Door;
                self.put(Label { kind, lines: label_lines, at, size: room, turned });
            }
        }
    }

    fn finished(self, scale: f64, subject: &Subject) -> Drawing {
        let bounds = subject.bounds();
        // Walls, doors and ticks have a width of their own.
        let rim = Coord { x: 0.35, y: 0.35 };
        let mut corners = vec![bounds.min() - rim, bounds.max() + rim];
        for room in self.labels.iter().map(Label::room) {
            corners.extend([room.min(), room.max()]);
        }
        corners.extend(self.ticks.iter().flat_map(|tick| [*tick - rim, *tick + rim]));
        let frame = LineString::from(corners).bounding_rect().unwrap_or(bounds);
        Drawing {
            scale,
            corner: frame.min(),
            size: (frame.width(), frame.height()),
            labels: self.labels,
            rules: self.rules,
            leads: self.leads,
            ticks: self.ticks,
            dots: self.dots,
            letters: self.letters,
        }
    }
}

/// The two places on either side of a line at which a label of this size stands so far from it.
pub fn beside_line(at: Coord, line: &Line, room: (f64, f64), far: f64) -> [Coord; 2] {
    let length = line.dx().hypot(line.dy()).max(1e-9);
    let (x, y) = (line.dy() / length, -line.dx() / length);
    let reach = x.abs() * room.0 / 2.0 + y.abs() * room.1 / 2.0 + far;
    let step = Coord { x: x * reach, y: y * reach };
    [at + step, at - step]
}

/// A to Z, then AA, AB and so on.
fn letter(at: usize) -> String {
    let one = char::from(b'A' + (at % 26) as u8).to_string();
    if at < 26 { one } else { letter(at / 26 - 1) + &one }
}
