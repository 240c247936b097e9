//! Free room on a drawing: labels touch no wall, no door and no other label. All lengths are in sizes of the
//! labels.

use geo::{Contains, Coord, Intersects, Line, LineString, Polygon, Rect};

/// What labels keep clear of.
#[derive(Debug, Default)]
pub struct Taken {
    boxes: Vec<Rect>,
    walls: Vec<Line>,
    doors: Vec<Line>,
    /// Lines that a label may interrupt where it fits nowhere else.
    thin: Vec<Line>,
}

/// Whether a label may stand on a thin line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ground {
    Clear,
    OverThinLines,
}

/// Returns the room around a place.
pub fn around(at: Coord, (width, height): (f64, f64), rim: f64) -> Rect {
    let reach = Coord { x: width / 2.0 + rim, y: height / 2.0 + rim };
    Rect::new(at - reach, at + reach)
}

/// Returns the lines from each corner to the next; `closed` adds that from the last to the first.
pub fn lines(corners: &[Coord], closed: bool) -> Vec<Line> {
    let mut lines: Vec<Line> = corners.windows(2).map(|pair| Line::new(pair[0], pair[1])).collect();
    if let (true, [first, .., last]) = (closed, corners) {
        lines.push(Line::new(*last, *first));
    }
    lines
}

/// The room that a door takes to either side of its line.
const DOOR: f64 = 0.3;

impl Taken {
    pub fn add_wall(&mut self, corners: &[Coord]) {
        self.walls.extend(lines(corners, true));
    }

    pub fn add_door(&mut self, ends: &[Coord]) {
        self.doors.extend(lines(ends, false));
    }

    pub fn add_thin(&mut self, corners: &[Coord]) {
        self.thin.extend(lines(corners, false));
    }

    pub fn add(&mut self, room: Rect) {
        self.boxes.push(room);
    }

    /// Whether a line from end to end runs over no label.
    pub fn is_clear(&self, line: &Line) -> bool {
        !self.boxes.iter().any(|room| room.intersects(line))
    }

    /// Whether nothing is in this room.
    pub fn is_free(&self, room: &Rect, ground: Ground) -> bool {
        let beside_door = around(room.center(), (room.width(), room.height()), DOOR);
        let overlaps = |other: &Rect| {
            room.min().x < other.max().x
                && other.min().x < room.max().x
                && room.min().y < other.max().y
                && other.min().y < room.max().y
        };
        !self.boxes.iter().any(overlaps)
            && !self.doors.iter().any(|door| beside_door.intersects(door))
            && !self.walls.iter().any(|wall| room.intersects(wall))
            && (ground == Ground::OverThinLines
                || !self.thin.iter().any(|line| room.intersects(line)))
    }
}

/// Steps across and down in which a place for a label is looked for.
const STEPS: u32 = 18;

/// A part of the floor in which a label is to stand.
pub struct Region {
    outline: Polygon,
    frame: Rect,
    middle: Coord,
    /// The places to try, from the middle outward.
    places: Vec<Coord>,
}

impl Region {
    /// Returns the inside of these corners; `None` where they span no room.
    pub fn of(corners: &[Coord]) -> Option<Self> {
        use geo::{BoundingRect, Centroid};
        let outline = Polygon::new(LineString::from(corners.to_vec()), vec![]);
        let frame = outline.bounding_rect()?;
        let middle = Coord::from(outline.centroid()?);
        let at = |from: f64, size: f64, step: u32| from + size * f64::from(step) / f64::from(STEPS);
        let mut places = vec![middle, frame.center()];
        for across in 1..STEPS {
            for down in 1..STEPS {
                let x = at(frame.min().x, frame.width(), across);
                places.push(Coord { x, y: at(frame.min().y, frame.height(), down) });
            }
        }
        let far = |p: &Coord| (p.x - middle.x).hypot(p.y - middle.y);
        places.sort_by(|a, b| far(a).total_cmp(&far(b)));
        places.retain(|place| outline.contains(place));
        let middle = places.first().copied().unwrap_or(middle);
        Some(Self { outline, frame, middle, places })
    }

    /// A place inside, as near to the middle as can be.
    pub fn middle(&self) -> Coord {
        self.middle
    }

    /// Whether a place lies inside.
    pub fn holds(&self, place: Coord) -> bool {
        self.outline.contains(&place)
    }

    /// The place nearest to the middle where a label of this size is free, outside of all `holes`.
    pub fn place(
        &self,
        taken: &Taken,
        size: (f64, f64),
        rim: f64,
        holes: &[Self],
        ground: Ground,
    ) -> Option<Coord> {
        if size.0 > self.frame.width() || size.1 > self.frame.height() {
            return None;
        }
        let free = |place: &&Coord| {
            taken.is_free(&around(**place, size, rim), ground)
                && !holes.iter().any(|hole| hole.holds(**place))
        };
        self.places.iter().find(free).copied()
    }
}

/// Room around a label, and around the name of an area, which is the first to give way.
pub const RIM: f64 = 0.15;
pub const NAME_RIM: f64 = 0.4;

/// Places in rings around one, each further out: where a sign goes that cannot stand at its place.
pub fn rings(at: Coord) -> impl Iterator<Item = Vec<Coord>> {
    [1.4, 2.0, 2.7, 3.5, 4.5].into_iter().map(move |far| {
        let turned = |step: u32| {
            let (y, x) = (f64::from(step) * std::f64::consts::TAU / 16.0).sin_cos();
            at + Coord { x: x * far, y: y * far }
        };
        (0..16).map(turned).collect()
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn square(from: f64, to: f64) -> Vec<Coord> {
        [(from, from), (to, from), (to, to), (from, to)].map(|(x, y)| Coord { x, y }).to_vec()
    }

    #[test]
    fn a_label_stands_in_the_middle_or_beside_what_stands_there() {
        let mut taken = Taken::default();
        taken.add_wall(&square(0.0, 10.0));
        let region = Region::of(&square(0.0, 10.0)).unwrap();
        let middle = Coord { x: 5.0, y: 5.0 };
        let size = (3.0, 1.15);
        assert_eq!(region.place(&taken, size, RIM, &[], Ground::Clear), Some(middle));
        taken.add(around(middle, (1.5, 1.5), 0.0));
        let beside = region.place(&taken, size, RIM, &[], Ground::Clear).unwrap();
        assert!(taken.is_free(&around(beside, size, RIM), Ground::Clear), "{beside:?}");
        assert_eq!(region.place(&taken, (10.5, 1.15), RIM, &[], Ground::Clear), None);
    }

    #[test]
    fn a_label_avoids_a_hole_and_a_crack_and_stands_on_a_crack_only_at_need() {
        let mut taken = Taken::default();
        taken.add_wall(&square(0.0, 4.0));
        taken.add_thin(&[Coord { x: 0.0, y: 2.0 }, Coord { x: 4.0, y: 2.0 }]);
        let region = Region::of(&square(0.0, 4.0)).unwrap();
        let low = region.place(&taken, (3.0, 1.15), RIM, &[], Ground::Clear).unwrap();
        assert!((low.y - 2.0).abs() > 0.575, "{low:?}");
        assert_eq!(region.place(&taken, (3.0, 2.3), RIM, &[], Ground::Clear), None);
        assert!(region.place(&taken, (3.0, 2.3), RIM, &[], Ground::OverThinLines).is_some());
        let hole = Region::of(&square(-1.0, 5.0)).unwrap();
        assert_eq!(region.place(&taken, (1.0, 1.0), RIM, &[hole], Ground::OverThinLines), None);
    }

    #[test]
    fn a_door_is_never_hidden() {
        let mut taken = Taken::default();
        taken.add_door(&[Coord { x: 1.0, y: 0.0 }, Coord { x: 3.0, y: 0.0 }]);
        let near = around(Coord { x: 2.0, y: 0.8 }, (1.0, 1.15), 0.0);
        assert!(!taken.is_free(&near, Ground::OverThinLines));
        let clear = around(Coord { x: 2.0, y: 1.0 }, (1.0, 1.15), 0.0);
        assert!(taken.is_free(&clear, Ground::OverThinLines));
    }
}
