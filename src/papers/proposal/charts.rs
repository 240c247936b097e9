//! Scales of charts with round steps; positions on them as shares.

use crate::papers::proposal::page::Tick;

/// A scale from `from` to `to` with ticks at round numbers.
#[derive(Debug, Clone, Copy)]
pub struct Scale {
    pub from: f64,
    pub to: f64,
    step: f64,
}

impl Scale {
    /// A scale that holds both ends, with about `steps` round steps.
    pub fn around(least: f64, most: f64, steps: f64) -> Self {
        let raw = ((most - least).max(1e-9)) / steps;
        let power = 10f64.powf(raw.log10().floor());
        let steps = [1.0, 2.0, 5.0, 10.0].map(|n| n * power);
        let step = steps.into_iter().find(|s| *s >= raw * 0.999).unwrap_or(raw);
        Self { from: (least / step).floor() * step, to: (most / step).ceil() * step, step }
    }

    /// Returns the position of a value, from 0 to 1; one outside the scale stands at its end.
    pub fn at(&self, value: f64) -> f64 {
        ((value - self.from) / (self.to - self.from)).clamp(0.0, 1.0)
    }

    pub fn ticks(&self, text: impl Fn(f64) -> String) -> Vec<Tick> {
        let count = ((self.to - self.from) / self.step).round() as usize;
        let values = (0..=count).map(|i| self.from + i as f64 * self.step);
        values.map(|value| Tick { at: self.at(value), text: text(value), short: vec![] }).collect()
    }
}

/// A position on a drawing, to a ten-thousandth: stable text in the page data.
pub fn share(value: f64) -> f64 {
    (value.clamp(0.0, 1.0) * 10_000.0).round() / 10_000.0
}
