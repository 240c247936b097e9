//! Figures of the shop's own view.

use slableaf::base::layouts::Layouts;
use slableaf::base::money::Cents;
use slableaf::model::job::Units;
use slableaf::say::figures::{FigureWords, Figures};
use slableaf::say::words::Words;

/// The words by which figures are always shown to a shop, whatever its papers speak.
pub fn english() -> Option<FigureWords> {
    Words::read(&Layouts::default(), "en").ok().map(|words| words.figures)
}

/// An amount of money, by its number where no words can be read.
pub fn in_english(cents: Cents, currency: &str) -> String {
    let money = |words| Figures { units: Units::Us, currency, words: &words }.money(cents);
    english().map_or_else(|| cents.to_string(), money)
}

/// A change of money with its sign.
pub fn signed_money(change: Cents, figures: &Figures<'_>) -> String {
    let plus = if change > Cents::ZERO { "+" } else { "" };
    format!("{plus}{}", figures.money(change))
}
