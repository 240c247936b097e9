//! Areas and lengths of measured shapes. The first polygon is that of the Rosetta Code task
//! "Shoelace formula for polygonal area"; the others are computed by hand.

use super::{example, near};
use slableaf::base::quantity::*;
use slableaf::model::job::Point;
use slableaf::site::take_off::*;

fn corners(feet: &[(f64, f64)]) -> Vec<Point> {
    feet.iter().map(|(x, y)| Point { x: Length::feet(*x), y: Length::feet(*y) }).collect()
}

#[track_caller]
fn polygon(feet: &[(f64, f64)], square_feet: f64, around: f64) {
    let corners = corners(feet);
    near(polygon_area(&corners).as_square_feet(), square_feet, 1e-9);
    near(perimeter(&corners).as_feet(), around, 0.000_05);
    assert_eq!(self_crossing(&corners), None);
}

#[test]
fn the_rosetta_code_polygon_has_an_area_of_thirty() {
    polygon(&[(3.0, 4.0), (5.0, 11.0), (12.0, 8.0), (9.0, 5.0), (5.0, 6.0)], 30.0, 26.0901);
}

#[test]
fn garage_floors_have_their_areas_and_perimeters() {
    polygon(&[(0.0, 0.0), (24.0, 0.0), (24.0, 24.0), (0.0, 24.0)], 576.0, 96.0);
    polygon(
        &[(0.0, 0.0), (30.0, 0.0), (30.0, 20.0), (20.0, 20.0), (20.0, 26.0), (0.0, 26.0)],
        720.0,
        112.0,
    );
    polygon(
        &[(0.0, 0.0), (22.0, 0.0), (22.0, 21.0), (16.0, 21.0), (16.0, 24.0), (0.0, 24.0)],
        510.0,
        92.0,
    );
    polygon(&[(0.0, 0.0), (20.0, 0.0), (22.0, 18.0), (0.0, 22.0)], 422.0, 82.4715);
    polygon(&[(1.0, 6.0), (3.0, 1.0), (7.0, 2.0), (4.0, 4.0), (8.0, 5.0)], 16.5, 24.308);
}

/// A bow tie has an area of zero by the formula, and no other sign of the mistake.
#[test]
fn a_crossing_outline_is_found() {
    let bow_tie = corners(&[(0.0, 0.0), (10.0, 10.0), (10.0, 0.0), (0.0, 10.0)]);
    near(polygon_area(&bow_tie).as_square_feet(), 0.0, 1e-9);
    assert_eq!(self_crossing(&bow_tie), Some((0, 2)));
    let spike = corners(&[(0.0, 0.0), (10.0, 0.0), (4.0, 0.0), (4.0, 8.0)]);
    assert!(self_crossing(&spike).is_some());
}

#[track_caller]
fn refused(outline: &str, message: &str) {
    let job = example::job_with(example::OUTLINE, &format!("outline = {outline}"));
    let problems = example::try_job(&job).expect_err("the outline is wrong");
    assert!(problems.iter().any(|problem| problem.message.contains(message)), "{problems:#?}");
}

#[test]
fn outlines_without_an_area_are_refused() {
    refused(r#"[["0 ft", "0 ft"], ["22 ft", "0 ft"]]"#, "2 corners");
    refused(r#"[["0 ft", "0 ft"], ["22 ft", "0 ft"], ["0 ft", "0 ft"]]"#, "2 corners");
    refused(
        r#"[["0 ft", "0 ft"], ["20 ft", "20 ft"], ["20 ft", "0 ft"], ["0 ft", "20 ft"]]"#,
        "crosses itself",
    );
}

/// The example, by hand: 510 ft2 of floor less a pad of 3 ft by 2 ft 6 in; 92 ft of outline and 11
/// ft around the pad; a stem wall of 38 ft by 5 in; two steps of 4 ft with 11 in and 7 in; a crack.
#[test]
fn the_example_is_taken_off_as_by_hand() {
    let found = take_off(&example::input().job.shapes);
    near(found.floor.as_square_feet(), 510.0 - 7.5, 1e-9);
    near(found.edge.as_feet(), 92.0 + 11.0, 1e-9);
    near(found.upright.as_square_feet(), 38.0 * 5.0 / 12.0 + 2.0 * 4.0 * 18.0 / 12.0, 1e-9);
    near(found.coated().as_square_feet(), 502.5 + 15.833_333_333 + 12.0, 1e-6);
    near(found.cracks.as_feet(), 11.0, 1e-9);
    // Its only joint is left open.
    near(found.filled_joints.as_feet(), 0.0, 0.0);
}

/// A plan whose origin is far away keeps the digits of its areas.
#[test]
fn a_far_origin_changes_no_area() {
    let far = corners(&[
        (90_000.0, 70_000.0),
        (90_022.0, 70_000.0),
        (90_022.0, 70_021.0),
        (90_000.0, 70_021.0),
    ]);
    near(polygon_area(&far).as_square_feet(), 462.0, 1e-6);
}

/// A corner on another side, from every corner on and both ways round: by hand on squared paper.
#[test]
fn an_outline_that_touches_itself_is_found() {
    let mut outline = [
        (0.0, 0.0),
        (20.0, 0.0),
        (20.0, 20.0),
        (10.0, 20.0),
        (10.0, 0.0),
        (5.0, 10.0),
        (0.0, 10.0),
    ];
    for _ in 0..2 {
        for _ in 0..outline.len() {
            outline.rotate_left(1);
            assert!(self_crossing(&corners(&outline)).is_some(), "{outline:?}");
        }
        outline.reverse();
    }
}
