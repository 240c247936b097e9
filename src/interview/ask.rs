//! A question: what kind of answer it takes, and how a typed line becomes a value of the file.
//!
//! A line is put as a file has it (`typed`, `choice`), turned into a TOML value, and that value is
//! read by the reader of its type: what is refused here is refused in a file, in the same words.

use toml::de::DeValue;
use toml_edit::{Array, Value};

use crate::base::quantity::Length;
use crate::interview::choice::{by_number, is_unknown};
use crate::interview::typed::{Here, Typed, UNKNOWN, Untaken};
use crate::read::form::ValueForm;
use crate::read::keys::spec::{KeySpec, Shape, TypedKey};
use crate::read::scalar::{LongText, Scalar, ValueFault};
use crate::read::suggest::nearest;

/// One question of an interview.
#[derive(Debug, Clone)]
pub struct Ask {
    /// The table of the words in which it stands; `key` is its name there, and in messages.
    pub group: &'static str,
    pub key: &'static str,
    /// The key of the file that it asks for; none where an answer only leads the questions.
    pub spec: Option<KeySpec>,
    /// Which of several: the second area, its third corner.
    pub nth: Vec<usize>,
    pub kind: AnswerKind,
    pub need: Need,
    /// The answer that Enter alone stands for.
    pub default: Option<String>,
    /// The thing that the sentence names: a floor.
    pub about: String,
}

/// Tells if a file can do without an answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Need {
    /// A fact without which the file does not load.
    Must,
    /// As [`Need::Must`], but its default is no fact of the site: it is taken by who stops early.
    Usual,
    /// Not known is a fair answer.
    May,
}

/// The kind of line that may be typed, and the reader that judges it.
#[derive(Debug, Clone)]
pub struct AnswerKind {
    pub form: AnswerForm,
    read: fn(&DeValue<'_>) -> Result<(), ValueFault>,
    plainly: fn(&str, &Here<'_>) -> Result<String, Untaken>,
    /// The example of its type, as the reader's advice has it.
    pub usual_example: fn() -> String,
}

/// The form in which a typed line is written down.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum AnswerForm {
    /// As a text.
    Text,
    /// As a number, a date or a time.
    Bare,
    /// As a year, or as a date.
    YearOrDay,
    YesNo,
    /// One word of a list.
    Word(Vec<String>),
    /// Several words of a list.
    Words(Vec<String>),
    /// Two lengths: along, then across.
    Place,
    /// One of the pictures that are there.
    Picture(Vec<String>),
}

impl AnswerKind {
    pub fn of<T: Typed>(form: AnswerForm) -> Self {
        let read = |value: &DeValue<'_>| T::read(value).map(drop);
        Self { form, read, plainly: T::plainly, usual_example: T::example }
    }

    /// The words that may be chosen from.
    pub fn words(&self) -> &[String] {
        match &self.form {
            AnswerForm::Word(words) | AnswerForm::Words(words) | AnswerForm::Picture(words) => {
                words
            }
            _ => &[],
        }
    }

    /// An answer that is always taken, as it is typed.
    pub fn example(&self) -> String {
        match &self.form {
            AnswerForm::YesNo => "yes".into(),
            AnswerForm::Place => "3 ft, 20 ft".into(),
            AnswerForm::Word(words) | AnswerForm::Words(words) if !words.is_empty() => {
                words[0].clone()
            }
            AnswerForm::YearOrDay => "1996".into(),
            _ => (self.usual_example)().trim_matches('"').to_owned(),
        }
    }
}

/// The question for a key of a file, needed where the file needs it.
impl<T: Typed> From<TypedKey<T>> for Ask {
    fn from(key: TypedKey<T>) -> Self {
        Self::of_spec::<T>(key.spec)
    }
}

/// The question for several words of a list, or for one text of several.
impl<T: Typed> From<TypedKey<Vec<T>>> for Ask {
    fn from(key: TypedKey<Vec<T>>) -> Self {
        Self::of_spec::<T>(key.spec)
    }
}

/// The question for a place on the plan.
impl From<TypedKey<(Length, Length)>> for Ask {
    fn from(key: TypedKey<(Length, Length)>) -> Self {
        Self::of_spec::<Length>(key.spec)
    }
}

impl Ask {
    fn new(group: &'static str, key: &'static str, kind: AnswerKind) -> Self {
        let (spec, nth, about) = (None, vec![], String::new());
        Self { group, key, spec, nth, kind, need: Need::Must, default: None, about }
    }

    fn of_spec<T: Typed>(spec: KeySpec) -> Self {
        let form = match (spec.shape, spec.form()) {
            (Shape::Pair, _) => AnswerForm::Place,
            (Shape::List { .. }, ValueForm::Words(words)) => AnswerForm::Words(words),
            (_, ValueForm::Words(words)) => AnswerForm::Word(words),
            (_, ValueForm::Flag) => AnswerForm::YesNo,
            (
                _,
                ValueForm::Whole { .. }
                | ValueForm::Date
                | ValueForm::DateOr(_)
                | ValueForm::DateTime
                | ValueForm::Time,
            ) => AnswerForm::Bare,
            _ => AnswerForm::Text,
        };
        let ask = Self::new(spec.group, spec.name, AnswerKind::of::<T>(form));
        let need = if spec.need { Need::Must } else { Need::May };
        Self { spec: Some(spec), need, ..ask }
    }

    /// A question for yes or no that only leads the questions; no is what is not known.
    pub fn yes_no(group: &'static str, key: &'static str) -> Self {
        Self::new(group, key, AnswerKind::of::<bool>(AnswerForm::YesNo)).may()
    }

    /// A question for one word that only leads the questions.
    pub fn word(group: &'static str, key: &'static str, words: &[&str]) -> Self {
        let words = words.iter().map(|word| (*word).to_owned()).collect();
        Self::new(group, key, AnswerKind::of::<String>(AnswerForm::Word(words)))
    }

    /// A question for several words that only leads the questions.
    pub fn words(group: &'static str, key: &'static str, words: &[&str]) -> Self {
        let ask = Self::word(group, key, words);
        let several = AnswerForm::Words(ask.kind.words().to_vec());
        ask.form(several)
    }

    /// A question for a place on the plan that is one of several.
    pub fn place(group: &'static str, key: &'static str) -> Self {
        Self::new(group, key, AnswerKind::of::<Length>(AnswerForm::Place))
    }

    /// Answered in another form than that of its key.
    pub fn form(mut self, form: AnswerForm) -> Self {
        self.kind.form = form;
        self
    }

    /// One of which the questions that follow make use.
    pub fn must(mut self) -> Self {
        self.need = Need::Must;
        self
    }

    /// Under another name in the words, for a key whose name is data.
    pub fn called(mut self, group: &'static str, key: &'static str) -> Self {
        (self.group, self.key, self.spec) = (group, key, None);
        self
    }

    /// One that may stay open.
    pub fn may(mut self) -> Self {
        self.need = Need::May;
        self
    }

    /// One with a default that is no fact of the site.
    pub fn usual(mut self, default: impl Into<String>) -> Self {
        self.need = Need::Usual;
        self.or(default)
    }

    /// The answer that Enter alone stands for.
    pub fn or(mut self, default: impl Into<String>) -> Self {
        self.default = Some(default.into());
        self
    }

    /// One of several.
    pub fn nth(mut self, n: usize) -> Self {
        self.nth.push(n);
        self
    }

    pub fn about(mut self, what: impl Into<String>) -> Self {
        self.about = what.into();
        self
    }

    /// The name by which its answer is kept: `area.corner 2 3`.
    pub fn id(&self) -> String {
        let nth: String = self.nth.iter().map(|n| format!(" {n}")).collect();
        format!("{}.{}{nth}", self.group, self.key)
    }

    /// The way to its key in the file: `moisture.dishes.dish.before`.
    pub fn path(&self) -> Option<String> {
        let KeySpec { table, name, .. } = self.spec?;
        Some(if table.is_empty() { name.to_owned() } else { format!("{table}.{name}") })
    }

    /// True for a line that says that nothing is known. A list may have a word for that: then the word
    /// is the answer.
    fn is_skipped(&self, typed: &str) -> bool {
        let has_word = || self.kind.words().iter().any(|word| word == UNKNOWN);
        typed.is_empty() || (self.need == Need::May && is_unknown(typed) && !has_word())
    }

    /// A typed line as a file has it; empty when it says that nothing is known.
    ///
    /// # Errors
    /// The reason for which it is not taken, as far as [`Ask::read`] does not tell it.
    pub fn plainly(&self, typed: &str, here: &Here<'_>) -> Result<String, Untaken> {
        let typed = typed.trim();
        if self.is_skipped(typed) {
            return Ok(String::new());
        }
        if LongText::read(&DeValue::String(typed.into())).is_err() {
            return Ok(typed.to_owned());
        }
        match &self.kind.form {
            AnswerForm::Text | AnswerForm::Bare => (self.kind.plainly)(typed, here),
            AnswerForm::YearOrDay if typed.chars().all(|c| c.is_ascii_digit()) => {
                Ok(typed.to_owned())
            }
            AnswerForm::YearOrDay => (self.kind.plainly)(typed, here).map_err(|untaken| {
                untaken.or_without_help(here.no("That is neither a year nor a date"))
            }),
            AnswerForm::YesNo => match typed.to_lowercase().as_str() {
                "y" | "yes" | "true" | "yeah" | "yep" => Ok("yes".into()),
                "n" | "no" | "false" | "nope" => Ok("no".into()),
                _ => Err(Untaken::new(format!("`{typed}` is neither yes nor no; type yes or no"))),
            },
            AnswerForm::Word(_) => here.list.one(typed),
            AnswerForm::Words(_) => here.list.several(typed).map(|words| words.join(", ")),
            AnswerForm::Place => {
                let parts = typed.split([',', ';']).map(|part| (self.kind.plainly)(part, here));
                Ok(parts.collect::<Result<Vec<_>, _>>()?.join(", "))
            }
            AnswerForm::Picture(known) => {
                Ok(by_number(typed, known).cloned().unwrap_or_else(|| holding(typed, known)))
            }
        }
    }

    /// The value of a line that is put as a file has it; `None` when it says that nothing is known.
    ///
    /// # Errors
    /// The fault of the line, in the words of the reader of files.
    pub fn read(&self, typed: &str) -> Result<Option<Value>, ValueFault> {
        let typed = typed.trim();
        if self.is_skipped(typed) {
            return if self.need == Need::May { Ok(None) } else { Err(unanswered()) };
        }
        // No line may be longer than the longest text, whatever it is for.
        LongText::read(&DeValue::String(typed.into()))?;
        let value = self.value(typed)?;
        self.judge(&value)?;
        Ok(Some(value))
    }

    fn value(&self, typed: &str) -> Result<Value, ValueFault> {
        Ok(match &self.kind.form {
            AnswerForm::Text => Value::from(typed),
            AnswerForm::Bare | AnswerForm::YearOrDay => bare(typed),
            AnswerForm::YesNo => match typed {
                "yes" => Value::from(true),
                "no" => Value::from(false),
                _ => return Err(ValueFault::new(format!("is neither yes nor no: `{typed}`"))),
            },
            AnswerForm::Word(words) => Value::from(known(typed, words)?),
            AnswerForm::Words(words) => {
                let parts = typed.split(',').map(str::trim).filter(|part| !part.is_empty());
                let parts = parts.map(|part| known(part, words));
                Value::from(parts.collect::<Result<Array, _>>()?)
            }
            AnswerForm::Place => {
                let parts: Vec<&str> = typed.split([',', ';']).map(str::trim).collect();
                let [along, across] = parts.as_slice() else {
                    let fault = ValueFault::new(format!("is not two lengths: `{typed}`"));
                    return Err(fault.help("write two with a comma between: `3 ft, 20 ft 6 in`"));
                };
                Value::from([*along, *across].into_iter().collect::<Array>())
            }
            AnswerForm::Picture(known) => {
                let name = Value::from(typed);
                self.judge_one(&name)?;
                if !known.iter().any(|known| known == typed) {
                    return Err(no_picture(typed, known));
                }
                name
            }
        })
    }

    /// Hands a value to the reader of its type; a list, each of its parts.
    fn judge(&self, value: &Value) -> Result<(), ValueFault> {
        match value {
            Value::Array(parts) => parts.iter().try_for_each(|part| self.judge_one(part)),
            one => self.judge_one(one),
        }
    }

    fn judge_one(&self, value: &Value) -> Result<(), ValueFault> {
        let text = plain(value.clone()).to_string();
        let read = DeValue::parse(&text).map_err(|_| ValueFault::new("cannot be written down"))?;
        match (&self.kind.form, read.get_ref()) {
            // A day for new concrete, else a year.
            (AnswerForm::YearOrDay, DeValue::Integer(_)) => u32::read(read.get_ref()).map(drop),
            (_, value) => (self.kind.read)(value),
        }
    }
}

fn unanswered() -> ValueFault {
    ValueFault::new("needs an answer").help("`?` says more; `back` goes to the question before")
}

fn no_picture(name: &str, known: &[String]) -> ValueFault {
    let help = match nearest(name, known.iter().map(String::as_str)) {
        Some(near) => format!("did you mean `{near}`?"),
        None if known.is_empty() => "there is no JPEG or PNG in the folder of the job".to_owned(),
        None => format!("there are: {}", known.join(", ")),
    };
    ValueFault::new(format!("names no picture that is there: `{name}`")).help(help)
}

/// A value without the blanks and comments about it.
pub fn plain(mut value: Value) -> Value {
    value.decor_mut().clear();
    value
}

/// A number, a date or a time as TOML writes it; anything else as a text, for the reader to refuse.
fn bare(typed: &str) -> Value {
    // `2026-05-12 07:30` is there `2026-05-12T07:30:00`.
    let seconds = if typed.matches(':').count() == 1 { ":00" } else { "" };
    match format!("{}{seconds}", typed.replace(' ', "T")).parse() {
        Ok(value @ (Value::Integer(_) | Value::Float(_) | Value::Datetime(_))) => plain(value),
        _ => Value::from(typed),
    }
}

/// A word that has to be in the list.
fn known<'a>(word: &'a str, words: &[String]) -> Result<&'a str, ValueFault> {
    if words.iter().any(|known| known == word) {
        return Ok(word);
    }
    Err(ValueFault::new(format!("is none of these: `{word}`"))
        .help(format!("one of: {}", words.join(", "))))
}

/// The one of several names that a piece stands in, where there is one.
fn holding(piece: &str, names: &[String]) -> String {
    let mut holding = names.iter().filter(|name| name.contains(piece));
    match (holding.next(), holding.next()) {
        (Some(name), None) => name.clone(),
        _ => piece.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::interview::choice::List;
    use crate::interview::typed::testing::here;
    use crate::read::keys::job::slab;
    use crate::read::keys::shapes::crack;

    #[test]
    fn a_list_takes_nothing_that_is_not_in_it() {
        let words = vec!["none".to_owned(), "dishes".to_owned()];
        let ask = Ask::word("moisture", "method", &["none", "dishes"]).may();
        let here = Here { list: List { words: &words, meanings: &[] }, ..here() };
        for typed in ["yes", "calcium", "3", "banana"] {
            assert!(ask.plainly(typed, &here).is_err(), "{typed}");
            assert!(ask.read(typed).is_err(), "{typed}");
        }
        assert_eq!(ask.plainly("2", &here).unwrap(), "dishes");
        assert_eq!(ask.read("dishes").unwrap().unwrap().to_string(), "\"dishes\"");
        assert!(Ask::from(slab::WATER_DROP).read("baeds").is_err());
    }

    #[test]
    fn yes_and_no_are_told_when_it_is_neither() {
        let ask = Ask::yes_no("crack", "any");
        assert_eq!(ask.plainly("Y", &here()).unwrap(), "yes");
        let untaken = ask.plainly("one", &here()).unwrap_err();
        assert_eq!(untaken.message, "`one` is neither yes nor no; type yes or no");
    }

    #[test]
    fn a_wrong_unit_is_refused_in_the_words_of_the_reader() {
        let ask = Ask::from(slab::THICKNESS);
        let typed = DeValue::String("4 psi".into());
        let expected = Length::read(&typed).unwrap_err();
        let found = ask.read("4 psi").unwrap_err();
        assert_eq!((found.message, found.help), (expected.message, expected.help));
    }

    #[test]
    fn not_known_is_an_answer_only_where_a_file_can_do_without() {
        let ask = Ask::from(slab::THICKNESS);
        for typed in ["", "unknown", "Not known", "-"] {
            assert!(ask.read(typed).unwrap().is_none(), "{typed}");
        }
        assert!(Ask::from(crack::LENGTH).read("").is_err());
    }

    #[test]
    fn no_line_may_be_longer_than_the_longest_text() {
        let ask = Ask::from(slab::THICKNESS);
        assert!(ask.read(&"9".repeat(5_000)).unwrap_err().message.contains("5000 characters"));
    }
}
