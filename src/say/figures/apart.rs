//! Two figures that are compared: what differs is printed as different.

use crate::base::figure::Figure;
use crate::base::quantity::*;
use crate::model::job::Units;
use crate::say::figures::{Figures, grams};

/// More digits than this tell nobody anything.
const MOST: usize = 4;

impl Figures<'_> {
    /// A measured figure and its limit, in as many digits as it takes to tell them apart. Those of
    /// one value, and those that differ by less than any digit shows, are printed as they always are.
    pub fn told_apart(&self, measured: &Figure, limit: &Figure) -> (String, String) {
        let texts = |more| (self.finer(measured, more), self.finer(limit, more));
        let usual = texts(0);
        if measured == limit || usual.0 != usual.1 {
            return usual;
        }
        (1..=MOST).map(texts).find(|(a, b)| a != b).unwrap_or(usual)
    }

    /// A number with its usual decimals, or with some more where they tell something.
    pub(super) fn digits(&self, value: f64, decimals: usize, more: usize) -> String {
        if more == 0 { self.number(value, decimals) } else { self.short(value, decimals + more) }
    }

    /// A length in one unit, to parts of an inch or of a millimeter.
    pub(super) fn fine_length(&self, length: Length, more: usize) -> String {
        let unit = &self.words.unit;
        if self.units == Units::Metric {
            return match length.as_millimeters() {
                small if small < 1000.0 => {
                    format!("{}{}", self.short(small, more), unit.millimeters)
                }
                _ => format!("{}{}", self.short(length.as_meters(), 2 + more), unit.meters),
            };
        }
        match length.as_inches() {
            small if small < 12.0 => format!("{}{}", self.short(small, 2 + more), unit.inches),
            _ => format!("{}{}", self.short(length.as_inches() / 12.0, 1 + more), unit.feet),
        }
    }

    pub(super) fn fine_mver(&self, rate: Mver, more: usize) -> String {
        let unit = &self.words.unit;
        match self.units {
            Units::Us => format!("{}{}", self.short(rate.as_pounds(), 1 + more), unit.mver_us),
            Units::Metric => format!("{}{}", self.short(grams(rate), more), unit.mver_metric),
        }
    }

    /// Hours, or minutes where it is less than one, to parts of them.
    pub(super) fn fine_hours(&self, hours: Hours, more: usize) -> String {
        match hours.as_hours() {
            h if h < 1.0 => {
                format!("{}{}", self.short(h * 60.0, more - 1), self.words.minutes)
            }
            h => format!("{}{}", self.short(h, 1 + more), self.words.hours),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::layouts::Layouts;
    use crate::say::words::Words;

    fn apart(
        units: Units,
        measured: impl Into<Figure>,
        limit: impl Into<Figure>,
    ) -> (String, String) {
        let words = Words::read(&Layouts::default(), "en").unwrap();
        let figures = Figures { units, currency: "USD", words: &words.figures };
        let (a, b) = figures.told_apart(&measured.into(), &limit.into());
        (a.replace('\u{A0}', " "), b.replace('\u{A0}', " "))
    }

    fn pair(a: &str, b: &str) -> (String, String) {
        (a.to_owned(), b.to_owned())
    }

    #[test]
    fn what_differs_is_printed_as_different() {
        let content = Content::grams_per_liter;
        assert_eq!(apart(Units::Us, content(202.3), content(202.0)), pair("202.3 g/L", "202 g/L"));
        assert_eq!(
            apart(Units::Us, content(202.0), content(201.96)),
            pair("202 g/L", "201.96 g/L")
        );
        let strength = Strength::psi;
        assert_eq!(
            apart(Units::Us, strength(199.8), strength(200.0)),
            pair("199.8 psi", "200 psi")
        );
        let spread = Degrees::fahrenheit;
        assert_eq!(apart(Units::Us, spread(4.96), spread(5.0)), pair("4.96 °F", "5 °F"));
        let mils = Thickness::mils;
        assert_eq!(apart(Units::Us, mils(11.9), mils(12.0)), pair("11.9 mils", "12 mils"));
    }

    #[test]
    fn what_already_differs_and_what_is_one_value_stays_short() {
        let content = Content::grams_per_liter;
        assert_eq!(apart(Units::Us, content(203.4), content(202.0)), pair("203 g/L", "202 g/L"));
        assert_eq!(apart(Units::Us, content(202.3), content(202.3)), pair("202 g/L", "202 g/L"));
        let hair = content(202.0 + 1e-9);
        assert_eq!(apart(Units::Us, hair, content(202.0)), pair("202 g/L", "202 g/L"));
    }

    /// Every quantity, in both units, a little apart: the texts differ.
    #[test]
    fn every_kind_of_figure_can_be_told_apart() {
        let near = |a: f64| a * 1.0004;
        let pairs: Vec<(Figure, Figure)> = vec![
            (Length::meters(2.4).into(), Length::meters(near(2.4)).into()),
            (Length::inches(3.0).into(), Length::inches(near(3.0)).into()),
            (Area::square_feet(400.0).into(), Area::square_feet(near(400.0)).into()),
            (Thickness::mils(20.0).into(), Thickness::mils(near(20.0)).into()),
            (Temperature::celsius(20.0).into(), Temperature::celsius(near(20.0)).into()),
            (Degrees::fahrenheit(5.0).into(), Degrees::fahrenheit(near(5.0)).into()),
            (Mver::pounds(3.0).into(), Mver::pounds(near(3.0)).into()),
            (Strength::psi(200.0).into(), Strength::psi(near(200.0)).into()),
            (Content::grams_per_liter(50.0).into(), Content::grams_per_liter(near(50.0)).into()),
            (Hours::hours(0.5).into(), Hours::hours(near(0.5)).into()),
            (Hours::hours(12.0).into(), Hours::hours(near(12.0)).into()),
            (Volume::liters(3.0).into(), Volume::liters(near(3.0)).into()),
            (Mass::kilograms(3.0).into(), Mass::kilograms(near(3.0)).into()),
        ];
        for units in [Units::Us, Units::Metric] {
            for (a, b) in &pairs {
                let (one, other) = apart(units, a.clone(), b.clone());
                assert_ne!(one, other, "{a:?} in {units:?}");
            }
        }
    }
}
