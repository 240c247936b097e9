//! Contrast ratios of WCAG 2: pairs computed from its formula by hand, those of #767676, #777777,
//! black and white widely printed.

use super::near;
use slableaf::model::shop::Accent;
use slableaf::papers::contrast::*;

fn color(hex: &str) -> Accent {
    let channel = |at: usize| u8::from_str_radix(&hex[at..at + 2], 16).unwrap();
    Accent(channel(1), channel(3), channel(5))
}

#[track_caller]
fn contrast(a: &str, b: &str, printed: f64) {
    near(ratio(color(a), color(b)), printed, 0.000_05);
    near(ratio(color(b), color(a)), printed, 0.000_05);
}

#[test]
fn contrast_ratios_follow_wcag_2() {
    contrast("#000000", "#FFFFFF", 21.0);
    contrast("#FFFFFF", "#FFFFFF", 1.0);
    contrast("#767676", "#FFFFFF", 4.5422);
    contrast("#777777", "#FFFFFF", 4.4781);
    contrast("#FF0000", "#FFFFFF", 3.9985);
    contrast("#0000FF", "#FFFFFF", 8.5925);
    contrast("#008000", "#FFFFFF", 5.1374);
    contrast("#595959", "#FFFFFF", 7.0047);
    contrast("#949494", "#FFFFFF", 3.0335);
    contrast("#959595", "#FFFFFF", 2.9953);
    contrast("#27566B", "#FFFFFF", 7.9857);
    contrast("#333333", "#F2F2F2", 11.2860);
}

/// WCAG 2, success criterion 1.4.3: 4.5 for text. A ratio is not rounded up to its threshold.
#[test]
fn grays_pass_and_fail_where_wcag_2_says() {
    let on_white = |gray| ratio(color(gray), color("#FFFFFF"));
    assert!(on_white("#767676") >= READABLE && on_white("#777777") < READABLE);
    near(READABLE, 4.5, 0.0);
}

/// An accent of any brightness ends up readable, and one that is readable is left alone.
#[test]
fn accents_are_darkened_until_wcag_2_passes_them() {
    for accent in ["#FFFFFF", "#FFFF00", "#FF0000", "#777777", "#010101", "#00FF7F"] {
        assert!(ratio(readable_on_white(color(accent)), color("#FFFFFF")) >= READABLE, "{accent}");
    }
    assert_eq!(readable_on_white(color("#27566B")), color("#27566B"));
    assert_eq!(readable_on_white(color("#767676")), color("#767676"));
}

#[test]
fn a_color_is_written_in_hexadecimal() {
    assert_eq!(hex(color("#27566B")), "#27566b");
    assert_eq!(hex(Accent(0, 10, 255)), "#000aff");
}
