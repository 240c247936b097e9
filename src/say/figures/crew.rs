//! Figures for work by hand: clock times to the minute, volumes on marked pails, lengths on a tape.

use super::{Figures, Toward, counted};
use crate::base::calendar::Moment;
use crate::base::quantity::{Airflow, Area, Hours, Length, Mass, Temperature, Volume};
use crate::model::job::Units;

impl Figures<'_> {
    /// A small area to the tenth.
    pub fn small_area(&self, area: Area) -> String {
        let unit = &self.words.unit;
        match self.units {
            Units::Us => {
                let number = self.short(area.as_square_feet(), 1);
                counted(number, &unit.one_square_foot, &unit.square_feet)
            }
            Units::Metric => {
                format!("{}{}", self.short(area.as_square_meters(), 2), unit.square_meters)
            }
        }
    }

    /// A temperature in whole degrees, without its unit: for a table that has it at the head of each row.
    pub fn degrees_alone(&self, temperature: Temperature) -> String {
        let degrees = match self.units {
            Units::Us => temperature.as_fahrenheit(),
            Units::Metric => temperature.as_celsius(),
        };
        self.number(degrees, 0)
    }

    /// Whole minutes, cut off: what is short is never said longer.
    pub fn minutes(&self, time: Hours) -> String {
        let minutes = Toward::Less.step(time.as_minutes(), 1.0);
        self.minutes_of(&self.number(minutes, 0))
    }

    /// An airflow for each of so many parts, to the tenth.
    pub fn airflow_each(&self, flow: Airflow, parts: f64) -> String {
        let unit = &self.words.unit;
        let (flow, unit) = match self.units {
            Units::Us => (flow.as_cubic_feet_per_minute(), &unit.cubic_feet_per_minute),
            Units::Metric => (flow.as_cubic_meters_per_hour(), &unit.cubic_meters_per_hour),
        };
        format!("{}{unit}", self.short(flow / parts, 1))
    }

    /// Returns the clock time to the minute and without its half of the day: `9:23`. For a row of
    /// times that follow each other.
    pub fn clock_face(&self, moment: Moment) -> String {
        let minutes = moment.of_day().as_minutes().round() as u32 % (24 * 60);
        let face = self.words.clock.replace("{hour}", &self.hour(minutes / 60).to_string());
        let face = face.replace("{minute}", &format!("{:02}", minutes % 60));
        face.replace("{half}", "").trim().to_owned()
    }

    /// A batch to what a marked pail shows, never more than it is, and its parts, which sum to it.
    pub fn batch(&self, batch: Volume, parts: &[Volume]) -> (Volume, Vec<Volume>) {
        let (size, step) = match self.units {
            Units::Us => (batch.as_fluid_ounces(), Volume::fluid_ounces(1.0)),
            Units::Metric => (batch.as_liters() * 100.0, Volume::liters(0.01)),
        };
        let whole = Toward::Less.step(size, 1.0);
        if whole < parts.len() as f64 || parts.is_empty() {
            return (batch, parts.to_vec());
        }
        let exact: Vec<f64> = parts.iter().map(|part| *part / batch * whole).collect();
        let mut steps: Vec<f64> = exact.iter().map(|part| Toward::Less.step(*part, 1.0)).collect();
        // What is left over goes to the parts that lost most.
        let mut by_loss: Vec<usize> = (0..steps.len()).collect();
        by_loss.sort_by(|a, b| (exact[*b] - steps[*b]).total_cmp(&(exact[*a] - steps[*a])));
        let over = (whole - steps.iter().sum::<f64>()).round().max(0.0) as usize;
        for at in by_loss.into_iter().take(over) {
            steps[at] += 1.0;
        }
        (step * whole, steps.into_iter().map(|part| step * part).collect())
    }

    /// A liquid as one measures it out in a marked pail: quarts and fluid ounces, or liters.
    pub fn measured_out(&self, volume: Volume) -> String {
        let unit = &self.words.unit;
        if self.units == Units::Metric {
            return format!("{}{}", self.number(volume.as_liters(), 2), unit.liters);
        }
        let ounces = volume.as_fluid_ounces().round();
        self.in_two_units(ounces, QUART_OUNCES, &unit.quarts, &unit.fluid_ounces)
    }

    /// A whole count of small units, as large ones of so many each and what is left.
    fn in_two_units(&self, count: f64, each: f64, large: &str, small: &str) -> String {
        let (whole, rest) = ((count / each).floor(), count % each);
        let part = |count: f64, unit: &str| format!("{}{unit}", self.number(count, 0));
        match (whole > 0.0, rest > 0.0) {
            (false, _) => part(rest, small),
            (true, false) => part(whole, large),
            (true, true) => format!("{}\u{A0}{}", part(whole, large), part(rest, small)),
        }
    }

    /// A powder or a paste as one weighs it out: pounds and ounces, or grams.
    pub fn weighed_out(&self, mass: Mass) -> String {
        let unit = &self.words.unit;
        if self.units == Units::Metric {
            return match mass.as_kilograms() {
                light if light < 1.0 => {
                    format!("{}{}", self.number(mass.as_grams().round().max(1.0), 0), unit.grams)
                }
                kilograms => format!("{}{}", self.number(kilograms, 2), unit.kilograms),
            };
        }
        let ounces = (mass.as_pounds() * POUND_OUNCES).round().max(1.0);
        self.in_two_units(ounces, POUND_OUNCES, &unit.pounds, &unit.ounces)
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
        let front = if inches > 0 { format!("{inches}\u{A0}") } else { String::new() };
        format!("{front}{}{}", fraction(rest, TAPE), self.words.unit.inches)
    }

    /// A side of a floor as it was measured, to the eighth of an inch, so that sides add up:
    /// `5 ft 4 1/2 in`.
    pub fn side(&self, length: Length) -> String {
        let eighths = (length.as_inches() * f64::from(SIDE)).round();
        if self.units == Units::Metric || eighths % f64::from(SIDE) == 0.0 {
            return self.length(length);
        }
        let (inches, rest) = (eighths as u32 / SIDE, eighths as u32 % SIDE);
        let unit = &self.words.unit;
        let mut parts = vec![];
        if inches >= 12 {
            parts.push(counted(self.number(f64::from(inches / 12), 0), &unit.one_foot, &unit.feet));
        }
        if inches % 12 > 0 {
            parts.push((inches % 12).to_string());
        }
        parts.push(format!("{}{}", fraction(rest, SIDE), unit.inches));
        parts.join("\u{A0}")
    }
}

/// A proper fraction in lowest terms; `of` is a power of two.
fn fraction(parts: u32, of: u32) -> String {
    // Both are powers of two times something odd: halve while it goes.
    let halves = parts.trailing_zeros().min(of.trailing_zeros());
    format!("{}/{}", parts >> halves, of >> halves)
}

const QUART_OUNCES: f64 = 32.0;
/// Ounces in a pound, avoirdupois (NIST Handbook 44, appendix C).
const POUND_OUNCES: f64 = 16.0;
/// The finest parts of an inch on a tape.
const TAPE: u32 = 32;
/// The parts of an inch to which the side of a floor is printed.
const SIDE: u32 = 8;
/// Parts of [`TAPE`] by which a length may miss a mark and still be on it.
const TAPE_SLACK: f64 = 0.02;
