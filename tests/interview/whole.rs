//! Whole conversations: what is answered is what the file means.

use super::{FEWEST, FULL, TODAY, Visit};
use jiff::civil::Date;
use slableaf::base::quantity::{Area, Humidity, Length};
use slableaf::base::source::SourceFile;
use slableaf::interview::InterviewKind;
use slableaf::model::job::{Calibrated, Known, Poured};
use slableaf::model::shop::Testing;
use slableaf::read::read_job;
use slableaf::site::site;

/// The same facts as the main example gives the same job: what differs is told.
#[test]
fn a_full_visit_means_what_the_main_example_says() {
    let mut visit = Visit::new(InterviewKind::Job);
    visit.with(FULL);
    let job = visit.job();
    let example = SourceFile {
        name: "example".into(),
        text: include_str!("../../examples/two-car-barrier/job.toml").into(),
    };
    let example = read_job(&example).alone().unwrap();
    let (own, theirs) = (site(&job, &Testing::default()), site(&example, &Testing::default()));
    assert_eq!(own.take_off, theirs.take_off);
    assert_eq!(own.air, theirs.air);
    let series = |site: &slableaf::site::Site| {
        let series = site.moisture.mver.clone().unwrap();
        let readings = series.readings.iter().map(|r| (r.place.clone(), r.value, r.from, r.to));
        (readings.collect::<Vec<_>>(), series.faults)
    };
    assert_eq!(series(&own), series(&theirs));
    assert_eq!(format!("{:?}", job.slab), format!("{:?}", example.slab));
    assert_eq!(job.customer.name, example.customer.name);
    assert_eq!(job.customer.address, example.customer.address);
    assert_eq!(job.offer, example.offer);
    assert_eq!(job.wishes, example.wishes);
    assert_eq!(job.plan.start, example.plan.start);
    assert_eq!(job.house.built, Some(1994));
    assert_eq!(job.photos[0].file.value.0, "photos/door.jpg");
    assert_eq!(job.crew_notes, ["Key under the second pot."]);
    assert_eq!(job.extras.len(), 1);
}

#[test]
fn the_answers_are_told_what_they_mean() {
    let mut visit = Visit::new(InterviewKind::Job);
    visit.with(FULL);
    // 22 by 21 and 16 by 3 make 510 square feet; 7.5 are left out (worked by hand). 52.91 times
    // 4.7 g over 65.7 in2 and 70.8 h is 7.7 lb (ASTM F1869, as in `tests/facts/moisture.rs`).
    for line in [
        "That makes 510 sq ft (47.4 m\u{b2}) of floor.",
        "That makes 503 sq ft (46.7 m\u{b2}) of floor.",
        "Highest so far: 7.7 lb (37.6 g), right bay, near the door. The method asks for 3 tests on this floor; 3 are in.",
        "vapor-barrier floor: possible, the limit is 20 lb (97.6 g).",
        "fast-cure floor: too damp, the limit is 3 lb (14.6 g).",
    ] {
        let plain = |text: &str| text.replace('\u{a0}', " ");
        assert!(visit.said.iter().any(|said| plain(said) == line), "{line}\n{:#?}", visit.said);
    }
    assert!(visit.said.iter().any(|said| said.starts_with("The dew point is 49")));
}

#[test]
fn the_file_has_its_schema_its_comments_and_the_order_of_the_questions() {
    let mut visit = Visit::new(InterviewKind::Job);
    visit.with(FULL);
    let text = visit.file().text;
    assert!(text.starts_with("#:schema ./job.schema.json\n# "));
    let places: Vec<usize> = [
        "[customer]",
        "[house]",
        "[[area]]",
        "[slab]",
        "[moisture.dishes]",
        "[air]",
        "[garage]",
        "[plan]",
        "[[photo]]",
    ]
    .iter()
    .map(|head| text.find(&format!("\n{head}\n")).unwrap_or_else(|| panic!("{head}\n{text}")))
    .collect();
    assert!(places.is_sorted(), "{text}");
    for head in ["[customer]", "[slab]", "[[crack]]", "[air]"] {
        let before = text.split(&format!("\n{head}\n")).next().unwrap();
        assert!(before.lines().last().unwrap().starts_with("# "), "{head} has no comment");
    }
}

#[test]
fn everything_that_may_be_unknown_can_be_left_open() {
    let mut visit = Visit::new(InterviewKind::Job);
    visit.with(FEWEST);
    let job = visit.job();
    assert_eq!(job.number.0, "2026-0001");
    assert_eq!(job.date, TODAY);
    assert!(job.slab.thickness.is_none() && job.slab.poured.is_none() && job.slab.oil.is_none());
    assert_eq!(job.slab.retarder, Known::Unknown);
    assert!(job.air.is_none() && job.moisture.visits.is_empty());
    let text = visit.file().text;
    for table in ["[house]", "[moisture", "[air]", "[plan]", "[[photo]]", "[extras]"] {
        assert!(!text.contains(table), "{table} with nothing in it\n{text}");
    }
    // With no reading no floor is ruled out.
    assert_eq!(job.offer.len(), 4);
}

#[test]
fn probes_and_a_metric_slab_can_be_told() {
    let mut visit = Visit::new(InterviewKind::Job);
    visit.with(&[
        ("job.units", "metric"),
        ("job.date", "2026-09-14"),
        ("customer.name", "Ingrid M\u{e5}sv\u{e6}r"),
        ("slab.thickness", "120 mm"),
        ("slab.poured", "2026-03-02"),
        ("area.length 1", "6.86 m"),
        ("area.width 1", "5.90 m"),
        ("area.another 2", "yes"),
        ("area.name 2", "Store room"),
        ("area.length 2", "2.40 m"),
        ("area.width 2", "3.80 m"),
        ("area.at 2", "6.86 m, 2.10 m"),
        ("spall.any 1", "yes"),
        ("spall.length 1", "250 mm"),
        ("spall.width 1", "150 mm"),
        ("spall.depth 1", "12 mm"),
        ("cove.any 1", "yes"),
        ("cove.length 1", "6 m"),
        ("cove.radius 1", "25 mm"),
        ("moisture.method", "probes"),
        ("probes.accuracy", "2"),
        ("probes.settled", "yes"),
        ("probe.place 1", "garage, middle"),
        ("probe.depth 1", "48 mm"),
        ("probe.reading 1", "74 %"),
        ("probe.drilled 1", "2026-09-07 9:00"),
        ("probe.read 1", "2026-09-08T10:00:00"),
        ("probe.calibrated 1", "2026-08-25"),
        ("probe.another 2", "yes"),
        ("probe.place 2", "store room"),
        ("probe.reading 2", "69 %"),
        ("probe.another 3", "yes"),
        ("probe.place 3", "by the door"),
        ("probe.reading 3", "71 %"),
        ("probe.calibrated 3", "a new one"),
        ("air.any", "no"),
    ]);
    let job = visit.job();
    assert_eq!(job.slab.poured, Some(Poured::Day(Date::constant(2026, 3, 2))));
    // The first area starts the plan that the second one has a place on.
    assert!(job.shapes.areas.iter().all(|area| area.placed));
    let floor = site(&job, &Testing::default()).take_off.floor;
    assert!((floor.as_square_meters() - (6.86 * 5.90 + 2.40 * 3.80)).abs() < 1e-9);
    assert_eq!(
        job.shapes.spalls[0].area,
        Area::rectangle(Length::millimeters(250.0), Length::millimeters(150.0))
    );
    let probes = job.moisture.probe_tests().next().unwrap();
    assert_eq!(probes.edition, 2019);
    assert_eq!(probes.probes[1].depth, Length::millimeters(48.0));
    assert_eq!(probes.probes[1].calibrated, Some(Calibrated::On(Date::constant(2026, 8, 25))));
    assert_eq!(probes.probes[2].calibrated, Some(Calibrated::New));
    assert_eq!(probes.accuracy, Some(Humidity::percent(2.0)));
    assert!(visit.said.iter().any(|said| said.contains("fast-cure floor: too close to call")));
}
