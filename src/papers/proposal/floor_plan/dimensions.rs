//! The sides whose lengths a plan shows, and from which side of it each is read.
//!
//! A side that lies open to the left, the right, above or below has its length outside the plan, in a chain with
//! its neighbors. One that does not, such as a wall of a notch, has it beside itself. A length is shown once: not
//! again for the opposite wall of a rectangle, nor for a wall that two areas share.

use geo::Coord;

/// An area with the texts of its sides; places in meters, x to the right, y down.
#[derive(Debug, Clone)]
pub struct Area {
    pub name: String,
    pub corners: Vec<Coord>,
    /// The length of each side, that from the first corner to the second first.
    pub lengths: Vec<String>,
}

/// The direction that a side is read from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Facing {
    Below,
    Left,
    Right,
    Above,
}

impl Facing {
    pub const ALL: [Self; 4] = [Self::Below, Self::Left, Self::Right, Self::Above];

    /// True where the sides that are read from here run across.
    pub fn level(self) -> bool {
        matches!(self, Self::Below | Self::Above)
    }

    /// Returns 1 where the way out leads to higher coordinates, else -1.
    pub fn out(self) -> f64 {
        if matches!(self, Self::Below | Self::Right) { 1.0 } else { -1.0 }
    }

    /// Returns the coordinate of a place along the sides that are read from here, and that across them.
    pub fn split(self, c: Coord) -> (f64, f64) {
        if self.level() { (c.x, c.y) } else { (c.y, c.x) }
    }

    /// Returns the place with these two coordinates.
    pub fn join(self, along: f64, across: f64) -> Coord {
        if self.level() { Coord { x: along, y: across } } else { Coord { x: across, y: along } }
    }
}

/// A length that is shown.
#[derive(Debug, Clone)]
pub struct Dimension {
    pub text: String,
    pub from: Coord,
    pub to: Coord,
    /// `None` where the length stands beside its side.
    pub facing: Option<Facing>,
}

/// Lengths that differ by less are one: a tape is read to the eighth of an inch.
const SAME: f64 = 0.003;

/// Returns the lengths to show. Areas whose places are `loose` stand on the plan as it suits, so that the same
/// length of two of them is shown at both.
pub fn dimensions(areas: &[Area], loose: bool) -> Vec<Dimension> {
    let mut shown: Vec<(Dimension, usize)> = vec![];
    let sides: Vec<(usize, Coord, Coord, &str)> = areas
        .iter()
        .enumerate()
        .flat_map(|(area, one)| {
            let ends = (0..one.lengths.len()).map(|i| (i, (i + 1) % one.corners.len()));
            ends.map(move |(i, j)| (area, one.corners[i], one.corners[j], one.lengths[i].as_str()))
        })
        .collect();
    let mut show = |area: usize, from: Coord, to: Coord, text: &str, facing: Option<Facing>| {
        let known = |(d, of): &(Dimension, usize)| {
            d.text == text && (!loose || *of == area) && same_stretch((d.from, d.to), (from, to))
        };
        if !shown.iter().any(known) {
            shown.push((Dimension { text: text.to_owned(), from, to, facing }, area));
        }
    };
    for facing in Facing::ALL {
        for (area, from, to, text) in &sides {
            if open_to(facing, *from, *to, areas) {
                show(*area, *from, *to, text, Some(facing));
            }
        }
    }
    for (area, from, to, text) in sides {
        show(area, from, to, text, None);
    }
    shown.into_iter().map(|(dimension, _)| dimension).collect()
}

/// True when two sides cover the same stretch of the plan's width or height, or are the same slanted side.
fn same_stretch(a: (Coord, Coord), b: (Coord, Coord)) -> bool {
    let near = |p: f64, q: f64| (p - q).abs() < SAME;
    let ends = |facing: Facing, side: (Coord, Coord)| {
        let (p, q) = (facing.split(side.0).0, facing.split(side.1).0);
        (p.min(q), p.max(q))
    };
    for facing in [Facing::Below, Facing::Left] {
        if runs(facing, a.0, a.1) && runs(facing, b.0, b.1) {
            let (a, b) = (ends(facing, a), ends(facing, b));
            return near(a.0, b.0) && near(a.1, b.1);
        }
    }
    let same = |p: Coord, q: Coord| near(p.x, q.x) && near(p.y, q.y);
    (same(a.0, b.0) && same(a.1, b.1)) || (same(a.0, b.1) && same(a.1, b.0))
}

/// Whether a side runs level (read from below or above) or upright (from left or right).
fn runs(facing: Facing, from: Coord, to: Coord) -> bool {
    (facing.split(from).1 - facing.split(to).1).abs() < SAME
}

/// Whether the whole side can be seen from there: no area lies in the way.
fn open_to(facing: Facing, from: Coord, to: Coord, areas: &[Area]) -> bool {
    if !runs(facing, from, to) {
        return false;
    }
    let (start, at) = facing.split(from);
    let end = facing.split(to).0;
    [0.01, 0.25, 0.5, 0.75, 0.99].iter().all(|part| {
        let along = start + (end - start) * part;
        areas.iter().all(|area| {
            let corners = &area.corners;
            (0..corners.len()).all(|i| {
                let a = facing.split(corners[i]);
                let b = facing.split(corners[(i + 1) % corners.len()]);
                if (a.0 > along) == (b.0 > along) {
                    return true;
                }
                let crossing = a.1 + (b.1 - a.1) * (along - a.0) / (b.0 - a.0);
                (crossing - at) * facing.out() < SAME
            })
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn area(corners: &[(f64, f64)]) -> Area {
        let corners: Vec<Coord> = corners.iter().map(|&(x, y)| Coord { x, y }).collect();
        let next = |i: usize| corners[(i + 1) % corners.len()];
        let length = |i: usize| (next(i).x - corners[i].x).hypot(next(i).y - corners[i].y);
        let lengths = (0..corners.len()).map(|i| format!("{:.1}", length(i))).collect();
        Area { name: String::new(), corners, lengths }
    }

    fn rectangle(x: f64, y: f64, w: f64, h: f64) -> Area {
        area(&[(x, y), (x + w, y), (x + w, y + h), (x, y + h)])
    }

    /// Texts by where they stand, in order.
    fn texts(areas: &[Area], loose: bool, facing: Option<Facing>) -> Vec<String> {
        let all = dimensions(areas, loose).into_iter();
        all.filter(|d| d.facing == facing).map(|d| d.text).collect()
    }

    #[test]
    fn a_rectangle_shows_its_width_and_its_depth_once() {
        let one = [rectangle(0.0, 0.0, 6.0, 7.0)];
        assert_eq!(texts(&one, false, Some(Facing::Below)), ["6.0"]);
        assert_eq!(texts(&one, false, Some(Facing::Left)), ["7.0"]);
        assert_eq!(dimensions(&one, false).len(), 2);
    }

    #[test]
    fn sides_of_an_l_stand_in_chains_outside_it() {
        // The notch is above at the right.
        let one = [area(&[(0.0, 0.0), (4.0, 0.0), (4.0, 2.0), (6.0, 2.0), (6.0, 7.0), (0.0, 7.0)])];
        assert_eq!(texts(&one, false, Some(Facing::Below)), ["6.0"]);
        assert_eq!(texts(&one, false, Some(Facing::Left)), ["7.0"]);
        assert_eq!(texts(&one, false, Some(Facing::Right)), ["2.0", "5.0"]);
        assert_eq!(texts(&one, false, Some(Facing::Above)), ["4.0", "2.0"]);
        assert_eq!(texts(&one, false, None), Vec::<String>::new());
    }

    #[test]
    fn walls_of_a_notch_have_their_length_beside_them_once() {
        let notch = [(2.0, 0.0), (2.0, 3.0), (4.0, 3.0), (4.0, 0.0)];
        let around = [(6.0, 0.0), (6.0, 7.0), (0.0, 7.0), (0.0, 0.0)];
        let one = [area(&[notch, around].concat())];
        assert_eq!(texts(&one, false, None), ["3.0"]);
        assert_eq!(texts(&one, false, Some(Facing::Above)).len(), 3);
    }

    #[test]
    fn a_wall_that_two_areas_share_is_shown_once() {
        let two = [rectangle(0.0, 0.0, 6.0, 7.0), rectangle(6.0, 0.0, 3.0, 7.0)];
        assert_eq!(texts(&two, false, Some(Facing::Below)), ["6.0", "3.0"]);
        assert_eq!(texts(&two, false, Some(Facing::Left)), ["7.0"]);
        assert_eq!(dimensions(&two, false).len(), 3);
        // Of loose areas nobody knows that they share it.
        let apart = [rectangle(0.0, 0.0, 6.0, 7.0), rectangle(7.0, 0.0, 3.0, 7.0)];
        assert_eq!(dimensions(&apart, true).len(), 4);
    }

    #[test]
    fn a_slanted_side_has_its_length_beside_it() {
        let one = [area(&[(0.0, 4.0), (3.0, 0.0), (3.0, 4.0)])];
        assert_eq!(texts(&one, false, None), ["5.0"]);
        assert_eq!(texts(&one, false, Some(Facing::Right)), ["4.0"]);
        assert_eq!(texts(&one, false, Some(Facing::Below)), ["3.0"]);
    }
}
