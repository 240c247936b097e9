//! One pass over the questions: what was answered is taken from what is known, and the first open
//! question ends the pass.
//!
//! A flow is a plain function that asks and goes on. It is run anew after each answer, from the
//! start, with all answers so far: so that going back, and mending one answer among many, are only
//! other sets of answers.

use std::collections::BTreeMap;

use toml_edit::{Array, DocumentMut, Value};

use crate::interview::Setting;
use crate::interview::ask::{Ask, Need};
use crate::interview::draft::{Draft, Place};
use crate::interview::typed::Typed;
use crate::read::limits;

/// Answers as a file has them, by the question's id; empty for what is not known.
pub type Answers = BTreeMap<String, String>;

/// What a flow gives: it ends early at a question that is open.
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
    /// What an hour of work costs.
    Labor,
    /// What a price is made of.
    Terms,
}

/// A pass over the questions.
pub struct Run<'a> {
    pub setting: &'a Setting,
    answers: &'a Answers,
    /// True when only what is needed is still asked.
    brief: bool,
    /// Answers that were taken back: their questions are asked in any case.
    pub again: Option<&'a Answers>,
    pub draft: Draft<'a>,
    /// The ids of the questions that were answered, in their order.
    pub asked: Vec<String>,
    pub marks: Vec<Mark>,
    /// The topic that is being asked about, and how many there were.
    pub topic: &'static str,
    pub topics: usize,
    pub metric: bool,
}

impl<'a> Run<'a> {
    pub fn new(
        setting: &'a Setting,
        answers: &'a Answers,
        brief: bool,
        base: Option<&'a DocumentMut>,
    ) -> Self {
        Self {
            setting,
            answers,
            brief,
            again: None,
            draft: Draft::of(base),
            asked: vec![],
            marks: vec![],
            topic: "",
            topics: 0,
            metric: false,
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
            return match ask.read(typed) {
                Ok(value) => {
                    self.asked.push(id);
                    Ok(value)
                }
                Err(_) => Err(Box::new(ask)),
            };
        }
        let brief = self.brief && !self.again.is_some_and(|again| again.contains_key(&id));
        match (brief, ask.need, &ask.default) {
            (true, Need::May, _) => Ok(None),
            (true, Need::Usual, Some(default)) => ask.read(default).map_err(|_| Box::new(ask)),
            _ => Err(Box::new(ask)),
        }
    }

    /// Asks, and writes the answer down under the question's own key.
    pub fn fill(&mut self, place: Place, ask: Ask) -> Flow<Option<Value>> {
        let ask = if place.nth > 0 { ask.nth(place.nth) } else { ask };
        let key = ask.key;
        let value = self.ask(ask)?;
        if let Some(value) = &value {
            self.put(place, key, Some(value.clone()));
        }
        Ok(value)
    }

    /// Writes down what the last answer says.
    pub fn put(&mut self, place: Place, key: &str, value: Option<Value>) {
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

    /// Asks for a list, a line at a time, and writes it down. Gives how many there were.
    pub fn lines<T: Typed>(
        &mut self,
        place: Place,
        group: &'static str,
        key: &'static str,
    ) -> Flow<usize> {
        let mut list = Array::new();
        for n in 1..=limits::LIST {
            let Some(line) = self.ask(Ask::text::<T>(group, key).may().nth(n))? else { break };
            list.push(line);
            self.put(place, key, Some(Value::Array(list.clone())));
        }
        Ok(list.len())
    }

    /// Asks about things one by one, as long as there is another one. Gives how many there were.
    pub fn each(
        &mut self,
        group: &'static str,
        least: usize,
        one: impl Fn(&mut Self, usize) -> Flow,
    ) -> Flow<usize> {
        for n in 1..=limits::LIST {
            let key = if n == 1 { "any" } else { "another" };
            if n > least && !self.yes(Ask::yes_no(group, key).may().or("no").nth(n))? {
                return Ok(n - 1);
            }
            one(self, n)?;
        }
        Ok(limits::LIST)
    }
}
