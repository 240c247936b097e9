//! Lengths on a plan: in chains outside it with extension lines, and beside sides that no chain reaches.

use geo::{Coord, Line, Rect};

use crate::papers::proposal::floor_plan::dimensions::{Dimension, Facing};
use crate::papers::proposal::floor_plan::drawing::{Label, LabelKind, Sheet, beside_line};
use crate::papers::proposal::floor_plan::placing::Ground;
use crate::papers::proposal::floor_plan::text::{LINE, size};

/// From the plan to its chain of lengths.
const CHAIN: f64 = 1.15;
/// The gap between a corner and its extension line, and the part of that line past the chain.
const GAP: f64 = 0.35;
const PAST: f64 = 0.3;
/// A shorter side has no room for its ends.
const LEAST: f64 = 0.6;
/// Room at either end of a text within its length.
const MARGIN: f64 = 0.45;
/// Rows beyond the chain for texts that are longer than their length.
const ROWS: u32 = 3;

/// Puts the lengths of open sides into chains around the plan. Those that fit stand in the line, the others
/// beyond it.
pub fn outside(sheet: &mut Sheet, shown: &[Dimension], bounds: &Rect) {
    let mut long = vec![];
    for dimension in shown {
        let Some(facing) = dimension.facing else { continue };
        let chain = Chain::of(facing, bounds);
        let stretch = chain.stretch(dimension);
        if stretch.1 - stretch.0 < LEAST {
            continue;
        }
        let (width, _) = size(std::slice::from_ref(&dimension.text));
        if width + 2.0 * MARGIN <= stretch.1 - stretch.0 {
            let at = facing.join((stretch.0 + stretch.1) / 2.0, chain.line);
            let room = if facing.level() { (width, LINE) } else { (LINE, width) };
            sheet.put(label(dimension, at, room, !facing.level()));
            chain.draw(sheet, dimension);
        } else {
            long.push((chain, dimension));
        }
    }
    for (chain, dimension) in long {
        chain.put_beyond(sheet, dimension);
    }
}

fn label(dimension: &Dimension, at: Coord, size: (f64, f64), turned: bool) -> Label {
    Label { kind: LabelKind::Length, lines: vec![dimension.text.clone()], at, size, turned }
}

/// The line on which all lengths that are read from one side of the plan stand.
struct Chain {
    facing: Facing,
    line: f64,
}

impl Chain {
    fn of(facing: Facing, bounds: &Rect) -> Self {
        let edge = if facing.out() > 0.0 { bounds.max() } else { bounds.min() };
        Self { facing, line: facing.split(edge).1 + CHAIN * facing.out() }
    }

    /// Returns the two ends of a length along the chain.
    fn stretch(&self, dimension: &Dimension) -> (f64, f64) {
        let (a, b) = (self.facing.split(dimension.from).0, self.facing.split(dimension.to).0);
        (a.min(b), a.max(b))
    }

    /// Draws the line of a length with its ends and its extension lines.
    fn draw(&self, sheet: &mut Sheet, dimension: &Dimension) {
        let out = self.facing.out();
        let ends = [dimension.from, dimension.to].map(|end| self.facing.split(end));
        let [from, to] = ends.map(|(along, _)| self.facing.join(along, self.line));
        let mut lines = vec![Line::new(from, to)];
        for (along, across) in ends {
            lines.push(Line::new(
                self.facing.join(along, across + GAP * out),
                self.facing.join(along, self.line + PAST * out),
            ));
        }
        for line in &lines {
            sheet.taken.add_thin(&[line.start, line.end]);
        }
        sheet.rules.extend(lines);
        for end in [from, to] {
            if !sheet.ticks.contains(&end) {
                sheet.ticks.push(end);
            }
        }
    }

    /// Puts a text that is longer than its length into the first free row beyond the chain.
    fn put_beyond(&self, sheet: &mut Sheet, dimension: &Dimension) {
        let room = size(std::slice::from_ref(&dimension.text));
        let (from, to) = self.stretch(dimension);
        let out = self.facing.out();
        let middle = (from + to) / 2.0;
        let deep = if self.facing.level() { room.1 } else { room.0 };
        for row in 0..ROWS {
            let near = PAST + 0.15 + f64::from(row) * (deep + 0.2);
            let at = self.facing.join(middle, self.line + out * (near + deep / 2.0));
            if sheet.is_free(at, (room.0, room.1 - 0.3), Ground::OverThinLines) {
                sheet.put(label(dimension, at, room, false));
                self.draw(sheet, dimension);
                if row > 0 {
                    let end = self.facing.join(middle, self.line + out * near);
                    sheet.rules.push(Line::new(self.facing.join(middle, self.line), end));
                }
                return;
            }
        }
    }
}

/// Puts the lengths of sides that no chain reaches beside them.
pub fn beside(sheet: &mut Sheet, shown: &[Dimension]) {
    for dimension in shown.iter().filter(|dimension| dimension.facing.is_none()) {
        let side = Line::new(dimension.from, dimension.to);
        if side.dx().hypot(side.dy()) < LEAST {
            continue;
        }
        let room = size(std::slice::from_ref(&dimension.text));
        let mut places = vec![];
        for along in [0.5, 0.35, 0.65, 0.2, 0.8] {
            let at = side.start + side.delta() * along;
            places.extend(beside_line(at, &side, room, 0.4));
        }
        // Off the floor first: the length of a wall stands outside of it.
        places.sort_by_key(|at| sheet.on_floor(*at));
        if let Some(at) = sheet.first_free(&places, room) {
            sheet.put(label(dimension, at, room, false));
        }
    }
}
