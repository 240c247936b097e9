//! Outlines of a floor.

use super::close;
use crate::chance::tried;
use crate::facts::example::{self};
use proptest::prelude::*;
use slableaf::base::quantity::*;
use slableaf::model::job::Point;
use slableaf::site::take_off::{perimeter, polygon_area, self_crossing, take_off};

/// Corners round a center, in order of their direction: never crossing.
fn outlines() -> impl Strategy<Value = Vec<Point>> {
    prop::collection::vec(24u32..=360, 3..=9).prop_map(|inches_out| {
        let turn = std::f64::consts::TAU / inches_out.len() as f64;
        let corner = |(at, out): (usize, &u32)| {
            let (sin, cos) = (at as f64 * turn).sin_cos();
            let out = Length::inches(f64::from(*out));
            Point { x: out * cos, y: out * sin }
        };
        inches_out.iter().enumerate().map(corner).collect()
    })
}

proptest! {
    #![proptest_config(tried(300))]

    #[test]
    fn an_outline_may_start_anywhere_and_run_either_way(
        corners in outlines(),
        start in 0usize..9,
        by in (-500.0..500.0, -500.0..500.0),
    ) {
        let (area, around) = (polygon_area(&corners), perimeter(&corners));
        prop_assert!(area > Area::ZERO);
        prop_assert_eq!(self_crossing(&corners), None);
        let mut turned = corners.clone();
        turned.rotate_left(start % corners.len());
        let mut reversed = corners.clone();
        reversed.reverse();
        let (x, y) = (Length::feet(by.0), Length::feet(by.1));
        let moved: Vec<Point> = corners.iter().map(|p| Point { x: p.x + x, y: p.y + y }).collect();
        for same in [&turned, &reversed, &moved] {
            prop_assert!(close(polygon_area(same).as_square_feet(), area.as_square_feet()));
            prop_assert!(close(perimeter(same).as_feet(), around.as_feet()));
        }
    }
}

proptest! {
    #![proptest_config(tried(60))]

    /// The closing corner may be written in other units than the first one.
    #[test]
    fn a_repeated_closing_corner_changes_nothing(x in 0u32..=40, y in 0u32..=40, in_inches in any::<bool>()) {
        let corner = |x: u32, y: u32| format!(r#"["{x} ft", "{y} ft"]"#);
        let open = [corner(x, y), corner(x + 20, y), corner(x + 20, y + 24), corner(x, y + 24)].join(", ");
        let closing = if in_inches { format!(r#"["{} in", "{} in"]"#, x * 12, y * 12) } else { corner(x, y) };
        let with = |corners: String| {
            let job = example::job_with_floor_from(&format!("outline = [{corners}]"), x, y);
            example::try_job(&job).map(|input| take_off(&input.job.shapes))
        };
        let (open, closed) = (with(open.clone()), with(format!("{open}, {closing}")));
        prop_assert!(open.is_ok());
        prop_assert_eq!(closed, open);
    }
}
