//! The writer of all papers: the case, its judgment, and the words to put them into.
//!
//! A sentence comes out as text at once. If the words have a fault (a template that uses a value it
//! is not given, say), the sentence stays empty, the first fault is kept, and [`Writer::checked`]
//! refuses the paper as a whole. So every public function that writes a paper ends in it.

use std::cell::OnceCell;

use jiff::civil::Date;
use minijinja::Value;

use crate::base::calendar::{Clock, Moment};
use crate::base::figure::Figure;
use crate::base::money::Cents;
use crate::base::names::Key;
use crate::judge::checks::Finding;
use crate::judge::recommend::Recommendation;
use crate::model::rules::Jurisdiction;
use crate::model::system::SystemWords;
use crate::papers::proposal::page::Fact;
use crate::price::case::{Case, CouldAdd, FloorOption};
use crate::price::cure::CureBasis;
use crate::price::floor::{Floor, FloorCoat};
use crate::price::schedule::{PlanBasis, USUAL_SLAB};
use crate::say::figures::Figures;
use crate::say::template::fill;
use crate::say::words::{Words, WordsError};

/// Everything that the pages are written from.
pub struct Writer<'a> {
    pub case: &'a Case<'a>,
    pub findings: &'a [Finding],
    pub recommendation: &'a Recommendation,
    pub words: &'a Words,
    pub figures: Figures<'a>,
    /// The first fault of the words.
    fault: OnceCell<WordsError>,
}

/// Values for a template, by name.
pub fn values<const N: usize, V: Into<Value>>(pairs: [(&str, V); N]) -> Value {
    Value::from_pairs(pairs.into_iter().map(|(name, value)| (name, value.into())))
}

impl<'a> Writer<'a> {
    pub fn new(
        case: &'a Case<'a>,
        findings: &'a [Finding],
        recommendation: &'a Recommendation,
        words: &'a Words,
    ) -> Self {
        let figures =
            Figures { units: case.job.units, currency: &case.book.currency, words: &words.figures };
        Self { case, findings, recommendation, words, figures, fault: OnceCell::new() }
    }

    /// Returns what was written, if no sentence of this writer had a fault.
    ///
    /// # Errors
    /// [`WordsError`] with the first fault.
    pub fn checked<T>(&self, written: T) -> Result<T, WordsError> {
        self.fault.get().map_or(Ok(written), |fault| Err(fault.clone()))
    }

    /// Returns what the words say, or nothing where they have a fault, which is kept.
    pub(super) fn keep_fault<T: Default>(&self, said: Result<T, WordsError>) -> T {
        said.unwrap_or_else(|fault| {
            self.fault.get_or_init(|| fault);
            T::default()
        })
    }

    /// Returns a sentence of the pages with values, each by its name.
    pub fn say<const N: usize, V: Into<Value>>(&self, name: &str, pairs: [(&str, V); N]) -> String {
        self.say_with(name, values(pairs))
    }

    /// Returns a text under the name of its space: `Patio: ...`.
    pub fn headed(&self, space: &str, says: &str) -> String {
        self.say("space.headed", [("space", space), ("says", says)])
    }

    /// Returns the name of a coat in a floor: that of the floor's words, else that of its product.
    pub fn coat_name(&self, floor: &Floor<'_>, coat: &FloorCoat<'_>) -> String {
        let said = self.system(floor).coats.remove(&coat.spec.key.0);
        said.map_or_else(|| coat.product.name.clone(), |said| said.name)
    }

    /// Returns a sentence of the pages with values that are not of one type.
    pub(crate) fn say_with(&self, name: &str, values: Value) -> String {
        self.keep_fault(self.words.sentence(name, &values))
    }

    /// Returns a sentence of the pages that needs no values.
    pub fn plain(&self, name: &str) -> String {
        self.say_with(name, Value::UNDEFINED)
    }

    /// Returns a sentence that needs no values, or nothing where it does not apply.
    pub(crate) fn plain_if(&self, applies: bool, name: &str) -> String {
        if applies { self.plain(name) } else { String::new() }
    }

    /// Returns a figure with its note and its label, which is a sentence of the pages.
    pub(crate) fn fact(&self, label: &str, value: String, note: String) -> Fact {
        Fact { label: self.plain(label), value, note }
    }

    /// Returns the sentences of a list of the pages; those that come out empty do not apply.
    pub(crate) fn lines(&self, name: &str, values: &Value) -> Vec<String> {
        self.keep_fault(self.words.sentences(name, values))
    }

    /// Puts values into a template from another file of words; `place` names it in messages.
    pub(crate) fn fill(&self, template: &str, values: &Value, place: &str) -> String {
        self.keep_fault(fill(template, values, place))
    }

    /// Returns whom to call when somebody cannot breathe.
    pub fn emergency(&self) -> String {
        self.plain(match self.case.shop.jurisdiction() {
            Jurisdiction::UnitedStates => "safety.emergency.us",
            Jurisdiction::Other(_) => "safety.emergency.other",
            Jurisdiction::Unsaid => "safety.emergency.unsaid",
        })
    }

    pub fn figure(&self, figure: impl Into<Figure>) -> String {
        self.figures.write(&figure.into())
    }

    pub fn money(&self, cents: Cents) -> String {
        self.figures.money(cents)
    }

    pub fn date(&self, date: Date) -> String {
        self.figures.date(date)
    }

    /// The last day on which the proposal's prices hold.
    pub fn valid_until(&self) -> String {
        self.date(self.prices_until())
    }

    // ------------------------------------------------------------------------ floors

    /// The floors that may be signed for, in the order of the offer.
    pub fn offered(&self) -> Vec<&'a FloorOption<'a>> {
        self.case.options.iter().filter(|choice| self.recommendation.offers(choice.key())).collect()
    }

    /// The floors that carry a price, those that wait among them, in the order of the offer.
    pub fn priced(&self) -> Vec<&'a FloorOption<'a>> {
        self.case.options.iter().filter(|choice| self.recommendation.prices(choice.key())).collect()
    }

    /// The floor that comes first, whether it is recommended or waits.
    pub fn first(&self) -> Option<&'a FloorOption<'a>> {
        self.case.options.iter().find(|choice| self.recommendation.puts_first(choice.key()))
    }

    /// The floor that is recommended; `None` also when the first one waits.
    pub fn recommended(&self) -> Option<&'a FloorOption<'a>> {
        self.case.options.iter().find(|choice| self.recommendation.recommends(choice.key()))
    }

    pub fn choice(&self, key: &Key) -> Option<&'a FloorOption<'a>> {
        self.case.options.iter().find(|choice| choice.key() == key)
    }

    /// The words of a floor: its own file's, else those of the language, else its plain key.
    pub fn system(&self, floor: &Floor<'_>) -> SystemWords {
        let key = &floor.system.key.0;
        let known = floor.system.words.as_ref().or_else(|| self.words.systems.get(key));
        known.cloned().unwrap_or_else(|| SystemWords {
            name: key.clone(),
            the_name: key.clone(),
            ..SystemWords::default()
        })
    }

    /// A floor's name as a heading: `Vapor-barrier floor`.
    pub fn name(&self, key: &Key) -> String {
        let known = self.choice(key);
        known.map_or_else(|| key.0.clone(), |choice| capital(&self.system(&choice.floor).name))
    }

    /// A floor's name without an article, inside a sentence or behind a label: `vapor-barrier floor`.
    pub fn floor_name(&self, key: &Key) -> String {
        self.choice(key).map_or_else(|| key.0.clone(), |choice| self.system(&choice.floor).name)
    }

    /// A floor's name within a sentence: `the vapor-barrier floor`.
    pub fn the_name(&self, key: &Key) -> String {
        self.choice(key).map_or_else(|| key.0.clone(), |choice| self.system(&choice.floor).the_name)
    }

    pub fn names(&self, keys: &[Key]) -> String {
        self.figures.list(&keys.iter().map(|key| self.the_name(key)).collect::<Vec<_>>())
    }

    /// An extra's name: that of the coat which it adds.
    pub fn extra_name(&self, floor: &Floor<'_>, extra: &Key) -> String {
        let coat = floor.system.coats.iter().find(|coat| coat.extra.as_ref() == Some(extra));
        let words = coat.and_then(|coat| self.system(floor).coats.remove(&coat.key.0));
        words.map_or_else(|| extra.0.clone(), |coat| coat.name)
    }

    /// The name of an addition: as the job gives it, else as the floor system does.
    pub fn addition_name(&self, floor: &Floor<'_>, could: &CouldAdd) -> String {
        match (&could.name, &could.extra) {
            (Some(name), _) => name.clone(),
            (None, extra) => self.extra_name(floor, extra.as_ref().unwrap_or(&could.addition)),
        }
    }

    // ------------------------------------------------------------------------ time

    /// The shop's clock from the first day of work on.
    pub fn clock(&self) -> Clock<'a> {
        Clock { calendar: &self.case.shop.calendar, start: self.start() }
    }

    /// The calendar day of a moment, when the first day of work is agreed.
    pub fn day_of(&self, moment: Moment) -> Option<Date> {
        self.clock().date(moment.day())
    }

    /// From when on a customer may do something, as one plans a day: `Thursday, May 28, 4 pm`. What falls into the
    /// night is said for the morning after: `the morning of Friday, May 29`.
    pub fn usable(&self, moment: Moment) -> String {
        self.usable_by(moment, |date| self.figures.date_weekday(date))
    }

    /// The same with the weekday cut short: `Thu, May 28, 4 pm`.
    pub fn usable_short(&self, moment: Moment) -> String {
        self.usable_by(moment, |date| self.figures.date_weekday_short(date))
    }

    /// The same in a table: `Thu, May 28, morning`.
    pub fn usable_cell(&self, moment: Moment) -> String {
        let name = |date| self.figures.date_weekday_short(date);
        capital(&self.usable_in(moment, name, ["time.morning_cell", "time.at_cell"]))
    }

    fn usable_by(&self, moment: Moment, name: impl Fn(Date) -> String) -> String {
        self.usable_in(moment, name, ["time.morning_of", "time.at"])
    }

    /// `words` are the sentences for the morning of a day and for an hour of it.
    fn usable_in(&self, moment: Moment, name: impl Fn(Date) -> String, words: [&str; 2]) -> String {
        let [morning, at] = words;
        let by_day = moment.by_day();
        let day = match self.day_of(by_day) {
            Some(date) => name(date),
            None => self.say("time.day_in_sentence", [("day", by_day.day())]),
        };
        if moment.half_hour().is_at_night() {
            return self.say(morning, [("day", day)]);
        }
        self.say(at, [("day", day), ("clock", self.figures.clock(by_day))])
    }

    /// From what day on something may be done: `May 29, 2026`, or `Day 4`. It goes with
    /// [`Figures::clock`].
    pub fn day(&self, moment: Moment) -> String {
        let moment = moment.half_hour();
        match self.day_of(moment) {
            Some(date) => self.say("time.day_dated", [("date", self.date(date))]),
            None => self.say("time.day_numbered", [("day", moment.day())]),
        }
    }

    /// The slab temperature that a floor's times hold for, and whether it was measured.
    pub fn planned_slab(&self) -> (String, bool) {
        match self.case.site.air {
            Some(air) => (self.figure(air.slab), true),
            None => (self.figure(USUAL_SLAB), false),
        }
    }

    /// True when some of a floor's times are an estimate beyond the data sheet.
    pub fn by_rule(choice: &FloorOption<'_>) -> bool {
        let basis = choice.estimate.schedule.basis;
        matches!(basis, PlanBasis::Measured { by: CureBasis::Rule, .. })
    }

    /// True when the slab as measured is beyond what a coat's data sheet covers, so that the
    /// times are for the nearest temperature that it does cover.
    pub fn slab_not_covered(choice: &FloorOption<'_>) -> bool {
        choice.estimate.schedule.basis == PlanBasis::Nearest
    }
}

/// The distance between two values, never negative.
pub fn between<Q>(a: Q, b: Q) -> Q
where
    Q: Copy + PartialOrd + std::ops::Sub<Output = Q>,
{
    if a > b { a - b } else { b - a }
}

/// The text where it applies, else nothing.
pub fn text_if(applies: bool, text: &str) -> String {
    if applies { text.to_owned() } else { String::new() }
}

/// Sentences one after the other, without those that came out empty.
pub fn joined(sentences: impl IntoIterator<Item = String>) -> String {
    let said = sentences.into_iter().filter(|sentence| !sentence.is_empty());
    said.collect::<Vec<_>>().join(" ")
}

/// The text with a capital first letter.
pub fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |first| first.to_uppercase().chain(chars).collect())
}
