//! One pass over the questions: what was answered is taken from what is known, and the first open
//! question ends the pass.
//!
//! A flow is a plain function that asks and goes on. It is run anew after each answer, from the
//! start, with all answers so far: so that going back, and mending one answer among many, are only
//! other sets of answers.

use std::collections::BTreeMap;

use toml_edit::{Array, InlineTable, Value};

use crate::interview::Setting;
use crate::interview::ask::{Ask, Need};
use crate::interview::draft::{Draft, DraftPlace};
use crate::interview::typed::Typed;
use crate::read::keys::spec::TypedKey;
use crate::read::limits;

/// Answers as a file has them, by the question's id; empty for what is not known.
pub type Answers = BTreeMap<String, String>;

/// The result of a flow: it ends early at a question that is open.
pub type Flow<T = ()> = Result<T, Box<Ask>>;

/// Something that can be said of what was answered so far.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mark {
    /// After so many areas and cut-outs.
    Floor(usize, usize),
    /// After steps, walls and corners.
    Upright,
    /// After what lies inside the slab.
    Inside,
    /// After the surface of so many dishes.
    Surface(usize),
    /// After so many dishes.
    Dish(usize),
    /// After the depth of so many holes.
    Depth(usize),
    /// After so many probes.
    Probe(usize),
    /// After so many plastic sheets.
    Sheet(usize),
    /// After all tests.
    Moisture,
    Air,
    /// After air of which a part is not known.
    AirOpen,
    /// After the cost of an hour of work.
    Labor,
    /// After the parts of a price.
    Terms,
    /// After so many kits of a new product.
    Kits(usize),
    /// After so many coats of a new floor.
    Coats(usize),
    /// After the record of so many coats that were laid.
    CoatLaid(usize),
}

/// A pass over the questions.
pub struct Run<'a> {
    pub setting: &'a Setting,
    /// Pictures that are in the job's folder now.
    pub photos: &'a [String],
    answers: &'a Answers,
    /// True when only what is needed is still asked.
    brief: bool,
    /// Answers that were taken back: their questions are asked in any case, also when brief.
    again: &'a Answers,
    pub draft: Draft<'a>,
    /// The ids of the questions that were answered, in their order.
    pub asked: Vec<String>,
    pub marks: Vec<Mark>,
    /// The topic that is being asked about, and how many there were.
    pub topic: &'static str,
    pub topics: usize,
    pub metric: bool,
    /// Which of a list of tables is being asked about; zero for tables that stand once.
    nth: usize,
}

impl<'a> Run<'a> {
    pub fn new(
        setting: &'a Setting,
        photos: &'a [String],
        answers: &'a Answers,
        brief: bool,
        again: &'a Answers,
        draft: Draft<'a>,
    ) -> Self {
        Self {
            setting,
            photos,
            answers,
            brief,
            again,
            draft,
            asked: vec![],
            marks: vec![],
            topic: "",
            topics: 0,
            metric: false,
            nth: 0,
        }
    }

    pub fn topic(&mut self, name: &'static str) {
        self.topic = name;
        self.topics += 1;
    }

    pub fn mark(&mut self, mark: Mark) {
        self.marks.push(mark);
    }

    /// Asks; `None` when it is not known.
    pub fn ask(&mut self, ask: Ask) -> Flow<Option<Value>> {
        let id = ask.id();
        if let Some(typed) = self.answers.get(&id) {
            // A question may have changed with the answers before it: then it is asked again.
            let Ok(value) = ask.read(typed) else { return Err(Box::new(ask)) };
            self.asked.push(id);
            return Ok(value);
        }
        let brief = self.brief && !self.again.contains_key(&id);
        match (brief, ask.need, &ask.default) {
            (true, Need::May, _) => Ok(None),
            (true, Need::Usual, Some(default)) => ask.read(default).map_err(|_| Box::new(ask)),
            _ => Err(Box::new(ask)),
        }
    }

    /// Asks, and writes the answer down at a key of a place.
    pub fn fill_at(
        &mut self,
        place: DraftPlace,
        key: &str,
        ask: impl Into<Ask>,
    ) -> Flow<Option<Value>> {
        let value = self.ask(ask.into())?;
        if let Some(value) = &value {
            self.put(place, key, Some(value.clone()));
        }
        Ok(value)
    }

    /// Asks for a key, and writes the answer down there.
    pub fn fill(&mut self, ask: impl Into<Ask>) -> Flow<Option<Value>> {
        let mut ask: Ask = ask.into();
        ask.nth.extend(Some(self.nth).filter(|nth| *nth > 0));
        let Some(spec) = ask.spec else { return self.ask(ask) };
        let place = DraftPlace::list(spec.table, self.nth);
        self.fill_at(place, spec.name, ask)
    }

    /// As [`Run::fill`]; what the table before has there is the default.
    pub fn fill_as_before(&mut self, ask: impl Into<Ask>) -> Flow<Option<Value>> {
        let mut ask: Ask = ask.into();
        ask.default = ask.spec.and_then(|spec| {
            let before = DraftPlace::list(spec.table, self.nth.saturating_sub(1));
            self.draft.typed(before, spec.name)
        });
        self.fill(ask)
    }

    /// Writes down what the last answer says.
    pub fn put(&mut self, place: DraftPlace, key: &str, value: Option<Value>) {
        let owner = self.asked.last().cloned().unwrap_or_default();
        self.draft.put(place, key, value, &owner);
    }

    /// Asks for yes or no; what is not known is no.
    pub fn yes(&mut self, ask: Ask) -> Flow<bool> {
        Ok(self.ask(ask)?.and_then(|value| value.as_bool()).unwrap_or(false))
    }

    /// Asks for one word; empty when it is not known.
    pub fn word(&mut self, ask: Ask) -> Flow<String> {
        Ok(self.ask(ask)?.and_then(|value| value.as_str().map(str::to_owned)).unwrap_or_default())
    }

    /// Asks for a list, a line at a time, and writes it down.
    pub fn lines<T: Typed>(&mut self, key: TypedKey<Vec<T>>) -> Flow {
        let place = DraftPlace::table(key.spec.table);
        self.lines_at(place, key, |n| Ask::from(key).may().nth(n)).map(drop)
    }

    /// Asks for a list of a place, each line by a question of its own. Gives how many there were.
    pub fn lines_at<T: Typed>(
        &mut self,
        place: DraftPlace,
        key: TypedKey<Vec<T>>,
        ask: impl Fn(usize) -> Ask,
    ) -> Flow<usize> {
        let mut list = Array::new();
        for n in 1..=limits::LIST {
            let Some(line) = self.ask(ask(n))? else { break };
            list.push(line);
            self.put(place, key.spec.name, Some(Value::Array(list.clone())));
        }
        Ok(list.len())
    }

    /// Asks questions whose answers stand in one row, each by its key.
    pub fn row(
        &mut self,
        asks: impl IntoIterator<Item = (&'static str, Ask)>,
    ) -> Flow<InlineTable> {
        let mut row = InlineTable::new();
        for (key, ask) in asks {
            self.ask(ask)?.into_iter().for_each(|value| drop(row.insert(key, value)));
        }
        Ok(row)
    }

    /// Asks about things one by one, as long as there is another one. Gives how many there were.
    pub fn each<T>(
        &mut self,
        group: &'static str,
        least: usize,
        one: impl Fn(&mut Self, usize) -> Flow<T>,
    ) -> Flow<usize> {
        for n in 1..=limits::LIST {
            let key = if n == 1 { "any" } else { "another" };
            if n > least && !self.yes(Ask::yes_no(group, key).or("no").nth(n))? {
                return Ok(n - 1);
            }
            self.nth = n;
            one(self, n)?;
            self.nth = 0;
        }
        Ok(limits::LIST)
    }

    /// Asks about things one by one, at most so many, as long as the first question is answered.
    pub fn each_filled(
        &mut self,
        most: usize,
        first: Ask,
        rest: impl Fn(&mut Self) -> Flow,
    ) -> Flow {
        for n in 1..=most {
            self.nth = n;
            if self.fill(first.clone())?.is_none() {
                break;
            }
            rest(self)?;
        }
        self.nth = 0;
        Ok(())
    }
}
