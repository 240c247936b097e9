//! Questions in words: as they are shown, and what `?` says about them.

use minijinja::context;

use crate::base::names::Key;
use crate::interview::ask::{AnswerForm, Ask, Need};
use crate::interview::choice::List;
use crate::interview::run::Run;
use crate::interview::typed::Here;
use crate::interview::{Interview, Reply, draft};
use crate::read::measure::first_unit;
use crate::say::template::fill;
use crate::say::words::{QuestionText, WordsError};

/// A question as it is shown.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Question {
    pub id: String,
    pub topic: String,
    /// Which topic it belongs to, and how many there are.
    pub step: (usize, usize),
    pub ask: String,
    pub hint: Option<String>,
    pub example: Option<String>,
    /// Words that may be chosen, with what they mean.
    pub choices: Vec<(String, String)>,
    /// The answer that Enter alone stands for; `None` when there has to be one.
    pub enter: Option<String>,
}

impl<'a> Interview<'a> {
    pub(super) fn shown(&self, ask: &Ask, run: &Run<'_>) -> Result<Question, WordsError> {
        let text = self.text(ask)?;
        let hint = text.hint.as_ref().map(|hint| self.filled_in(ask, hint)).transpose()?;
        // The second time one knows how it goes, and `?` still tells.
        let again = is_again(ask, text);
        let choices = ask.kind.words().iter().cloned().zip(self.meanings(ask));
        let topics = &self.text.topics;
        let example = self.example(ask, text, run.metric).filter(|_| ask.default.is_none());
        let enter = match (&ask.default, ask.need, &text.enter) {
            (Some(default), _, _) => Some(default.clone()),
            (None, Need::May, Some(enter)) => Some(enter.clone()),
            (None, Need::May, None) => Some(self.said("not-known", &context! {})?),
            (None, _, _) => None,
        };
        Ok(Question {
            id: ask.id(),
            topic: topics.get(run.topic).cloned().unwrap_or_default(),
            step: (run.topics, self.topics),
            ask: self.sentence(ask)?,
            hint: hint.filter(|_| !again),
            example: example.filter(|_| !again),
            choices: choices.collect(),
            enter,
        })
    }

    /// Returns the meanings of the words that may be chosen; empty for one that says so itself.
    pub(super) fn meanings(&self, ask: &Ask) -> Vec<String> {
        let told = self.text(ask).ok();
        let meaning = |word: &String| {
            let floor = self.setting.floors.iter().find(|floor| floor.key.0 == *word);
            let said = told.and_then(|text| text.words.get(word));
            let product = || {
                let book = self.setting.shared.book().filter(|_| ask.group == "coat")?;
                Some(&book.product(&Key(word.clone()))?.name)
            };
            let floor = floor.map(|floor| &floor.name);
            // A product and a floor may have one key: where a coat is asked for it is the product's.
            said.or_else(product).or(floor).cloned().unwrap_or_default()
        };
        ask.kind.words().iter().map(meaning).collect()
    }

    /// Returns the facts that are known where a line is typed.
    pub(super) fn here<'h>(
        &self,
        ask: &'h Ask,
        run: &Run<'_>,
        meanings: &'h [String],
    ) -> Result<Here<'h>, WordsError> {
        let example = self.example(ask, self.text(ask)?, run.metric);
        let shown = ask.default.as_deref().or(example.as_deref());
        let unit = shown.and_then(first_unit);
        Ok(Here {
            today: self.setting.today,
            metric: run.metric,
            us_dollars: run.draft.currency.as_deref().is_none_or(|code| code == "USD"),
            sign: run.draft.sign().unwrap_or_else(|| "$".to_owned()),
            example: example.unwrap_or_else(|| ask.kind.example()),
            unit,
            list: List { words: ask.kind.words(), meanings },
        })
    }

    pub(super) fn example(&self, ask: &Ask, text: &QuestionText, metric: bool) -> Option<String> {
        let own = text.metric.as_ref().filter(|_| metric).or(text.example.as_ref());
        if own.is_some() {
            return own.cloned();
        }
        match &ask.kind.form {
            AnswerForm::Place => Some(ask.kind.example()),
            AnswerForm::Text | AnswerForm::Bare | AnswerForm::YearOrDay => {
                draft::as_typed(&ask.spec?.example()).filter(|example| !example.is_empty())
            }
            _ => None,
        }
    }

    pub(super) fn sentence(&self, ask: &Ask) -> Result<String, WordsError> {
        let text = self.text(ask)?;
        let sentence = text.next.as_ref().filter(|_| is_again(ask, text)).unwrap_or(&text.ask);
        self.filled_in(ask, sentence)
    }

    /// The sentence with what it is about: its topic, and which of several things.
    pub(super) fn named(&self, topic: &str, ask: &Ask) -> Result<String, WordsError> {
        let sentence = self.sentence(ask)?;
        let topic = self.text.topics.get(topic).cloned().unwrap_or_default();
        let thing = format!("thing-{}", ask.group);
        let n = ask.nth.first().copied().unwrap_or(1);
        if !self.text.view.contains_key(&thing) {
            return self.said("needed", &context! { topic, sentence });
        }
        let thing = self.said(&thing, &context! { n })?;
        self.said("needed-of", &context! { topic, thing, sentence })
    }

    fn filled_in(&self, ask: &Ask, template: &str) -> Result<String, WordsError> {
        let place = format!("interview.toml: ask.{}.{}", ask.group, ask.key);
        let first = ask.nth.first().copied().unwrap_or(1);
        let last = ask.nth.last().copied().unwrap_or(1);
        fill(template, &context! { n => first, line => last, about => ask.about.as_str() }, &place)
    }

    /// The sentence of a question that was answered, by its id.
    pub(super) fn sentence_of(&self, id: &str) -> Result<String, WordsError> {
        // As if one had gone back to it: then it is asked in any case.
        let mut back = self.clone();
        back.return_to(&[id.to_owned()]);
        let (_, open) = back.run_so_far();
        let open = open.filter(|open| open.id() == id);
        open.map_or_else(|| Ok(id.to_owned()), |open| self.sentence(&open))
    }

    pub(super) fn text(&self, ask: &Ask) -> Result<&'a QuestionText, WordsError> {
        let Ask { group, key, .. } = ask;
        let found = self.text.ask.get(*group).and_then(|group| group.get(*key));
        there(found, &format!("ask.{group}.{key}"))
    }

    pub(super) fn said(&self, name: &str, values: &minijinja::Value) -> Result<String, WordsError> {
        let place = format!("view.{name}");
        let template = there(self.text.view.get(name), &place)?;
        fill(template, values, &format!("interview.toml: {place}"))
    }

    /// Returns the answer to `?`.
    pub(super) fn help(&self) -> Result<Reply, WordsError> {
        let (run, open) = self.run_so_far();
        let Some(open) = open else { return Ok(Reply::Finished) };
        let text = self.text(&open)?;
        let mut lines = vec![];
        for part in [&text.help, &text.hint].into_iter().flatten() {
            lines.push(self.filled_in(&open, part)?);
        }
        if let (Some(path), Some(key)) = (open.path(), open.spec) {
            lines.push(self.said("key", &context! { path, what => key.what })?);
        }
        if let Some(example) = self.example(&open, text, run.metric) {
            lines.push(self.said("example", &context! { example })?);
        }
        lines.push(self.said("commands", &context! {})?);
        Ok(Reply::Help(lines))
    }
}

/// Returns what the words of interviews have at a place, or that it is missing.
pub(super) fn there<T>(found: Option<T>, place: &str) -> Result<T, WordsError> {
    found.ok_or_else(|| WordsError::new(format!("interview.toml: {place}"), "is missing"))
}

/// True for the second thing of a list and those after it.
fn is_again(ask: &Ask, text: &QuestionText) -> bool {
    text.next.is_some() && ask.nth.last().is_some_and(|n| *n > 1)
}
