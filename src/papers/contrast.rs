//! Contrast of two colors, and an accent that can be read.
//!
//! Relative luminance and contrast ratio as in WCAG 2: `(L1 + 0.05) / (L2 + 0.05)`.

use crate::model::shop::Accent;

/// WCAG AA for text of normal size.
pub const READABLE: f64 = 4.5;

/// Relative luminance, from 0 (black) to 1 (white).
pub fn luminance(color: Accent) -> f64 {
    let linear = |channel: u8| {
        let c = f64::from(channel) / 255.0;
        if c <= 0.04045 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) }
    };
    0.2126 * linear(color.0) + 0.7152 * linear(color.1) + 0.0722 * linear(color.2)
}

/// Contrast ratio, from 1 to 21.
pub fn ratio(a: Accent, b: Accent) -> f64 {
    let (a, b) = (luminance(a), luminance(b));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

/// The accent, darkened step by step until it can be read on white (and white on it).
pub fn readable_on_white(accent: Accent) -> Accent {
    const WHITE: Accent = Accent(255, 255, 255);
    let mut color = accent;
    while ratio(color, WHITE) < READABLE {
        let darker = |channel: u8| (f64::from(channel) * 0.95) as u8;
        color = Accent(darker(color.0), darker(color.1), darker(color.2));
    }
    color
}

/// A color as `#rrggbb`.
pub fn hex(color: Accent) -> String {
    format!("#{:02x}{:02x}{:02x}", color.0, color.1, color.2)
}
