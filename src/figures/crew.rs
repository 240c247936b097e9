//! Figures as hands go by them: clocks to the minute, marked pails, a tape.

use super::Figures;
use crate::calendar::Moment;
use crate::job::Units;
use crate::quantity::{Length, Volume};

impl Figures<'_> {
    /// What a clock shows, to the minute and without its half of the day: `9:23`. For a row of
    /// times that follow each other.
    pub fn clock_face(&self, moment: Moment) -> String {
        let minutes = moment.of_day().as_minutes().round() as u32 % (24 * 60);
        let face = self.words.clock.replace("{hour}", &self.hour(minutes / 60).to_string());
        let face = face.replace("{minute}", &format!("{:02}", minutes % 60));
        face.replace("{half}", "").trim().to_owned()
    }

    /// A liquid as one measures it out in a marked pail: quarts and fluid ounces, or litres.
    pub fn measured_out(&self, volume: Volume) -> String {
        let unit = &self.words.unit;
        if self.units == Units::Metric {
            return format!("{}{}", self.number(volume.as_litres(), 2), unit.litres);
        }
        let ounces = volume.as_fluid_ounces().round();
        let (quarts, rest) = ((ounces / QUART_OUNCES).floor(), ounces % QUART_OUNCES);
        let part = |count: f64, unit: &str| format!("{}{unit}", self.number(count, 0));
        match (quarts > 0.0, rest > 0.0) {
            (false, _) => part(rest, &unit.fluid_ounces),
            (true, false) => part(quarts, &unit.quarts),
            (true, true) => {
                format!("{}\u{A0}{}", part(quarts, &unit.quarts), part(rest, &unit.fluid_ounces))
            }
        }
    }

    /// A small width or depth as a tape shows it: `1/16 in`, `1 1/2 in`; else as any length.
    pub fn width(&self, length: Length) -> String {
        let parts = length.as_inches() * f64::from(TAPE);
        let whole = parts.round();
        if self.units == Units::Metric || (parts - whole).abs() > TAPE_SLACK || whole < 1.0 {
            return self.length(length);
        }
        let (inches, rest) = (whole as u32 / TAPE, whole as u32 % TAPE);
        if rest == 0 || inches >= 12 {
            return self.length(length);
        }
        // Both are powers of two times something odd: halve while it goes.
        let halves = rest.trailing_zeros().min(TAPE.trailing_zeros());
        let fraction = format!("{}/{}", rest >> halves, TAPE >> halves);
        let front = if inches > 0 { format!("{inches}\u{A0}") } else { String::new() };
        format!("{front}{fraction}{}", self.words.unit.inches)
    }
}

const QUART_OUNCES: f64 = 32.0;
/// The finest parts of an inch on a tape.
const TAPE: u32 = 32;
/// Parts of [`TAPE`] by which a length may miss a mark and still be on it.
const TAPE_SLACK: f64 = 0.02;
