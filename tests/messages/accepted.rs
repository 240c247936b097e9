//! Values that are accepted in more than one spelling.

use super::job;
use super::small::SIZE;

/// The small job's floor with these sides, in square meters.
#[track_caller]
fn floor(length: &str, width: &str) -> f64 {
    let sides = format!("length = '''{length}'''\nwidth = '''{width}'''");
    let job = job("").replace(SIZE, &sides);
    let ran = job.folder.run(&["estimate", "job.toml", "--format", "json"]);
    let sums: serde_json::Value = serde_json::from_str(&ran.success().stdout()).unwrap();
    sums["take_off"]["floor_m2"].as_f64().unwrap()
}

/// However a tape or a keyboard writes a length, 22 ft 6 in is 6.858 m (the foot is 0.3048 m by
/// definition: NIST SP 811, appendix B).
#[test]
fn a_length_may_be_written_as_people_write_it() {
    for same in [
        "22 ft 6 in",
        "22ft 6in",
        "22 ft 6in",
        "22.5 ft",
        "22 1/2 ft",
        "270 in",
        "270 inches",
        "22 feet 6 inches",
        "22' 6\"",
        "22'6\"",
        "22\u{2019} 6\u{201d}",
        "22\u{2032} 6\u{2033}",
        "22\u{2032}6\u{2033}",
        "22\u{a0}ft 6\u{a0}in",
        "22\u{202f}ft 6\u{2009}in",
        "6.858 m",
        "685.8 cm",
        "6858 mm",
        "6,858 mm",
        " 22 ft  6 in ",
        "22'6",
        "22 ft 6",
        "22'-6\"",
        "22' - 6\"",
        "22-1/2 ft",
        "22 FT 6 IN",
        "22 Ft. 6 In.",
        "22 Feet 6",
        "22 ft 5 12/12 in",
    ] {
        let found = floor(same, "10 m");
        assert!((found - 68.58).abs() < 0.000_06, "{same:?}: {found}");
    }
    let halves = floor("22 ft 6 1/2 in", "6.86 m");
    assert!((halves - 22.541_666_666_7 * 0.3048 * 6.86).abs() < 0.000_06, "{halves}");
}
