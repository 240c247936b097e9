//! A question: what kind of answer it takes, and how a typed line becomes a value of the file.
//!
//! A line is put as a file has it (`typed`, `choice`), turned into a TOML value, and that value is
//! read by the reader of its type: what is refused here is refused in a file, in the same words.

use toml::de::DeValue;
use toml_edit::{Array, Value};

use crate::base::quantity::Length;
use crate::interview::choice::is_unknown;
use crate::interview::typed::{Here, Typed, UNKNOWN, Untaken};
use crate::read::scalar::{LongText, Scalar, ValueFault};
use crate::read::suggest::nearest;

/// One question of an interview.
#[derive(Debug, Clone)]
pub struct Ask {
    /// The table of the words in which it stands; `key` is its name there, and in messages.
    pub group: &'static str,
    pub key: &'static str,
    /// Which of several: the second area, its third corner.
    pub nth: Vec<usize>,
    pub kind: Kind,
    pub need: Need,
    /// What Enter alone stands for.
    pub default: Option<String>,
    /// What the sentence is about, when it names something: a floor.
    pub about: String,
}

/// Whether a file can do without an answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Need {
    /// A fact without which the file does not load.
    Must,
    /// As [`Need::Must`], but its default is no fact of the site: it is taken by who stops early.
    Usual,
    /// Not known is a fair answer.
    May,
}

/// What may be typed, and the reader that judges it.
#[derive(Debug, Clone)]
pub struct Kind {
    pub form: Form,
    read: fn(&DeValue<'_>) -> Result<(), ValueFault>,
    plainly: fn(&str, &Here<'_>) -> Result<String, Untaken>,
    example: fn() -> String,
}

/// How a typed line is written down.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Form {
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

impl Kind {
    pub fn of<T: Typed>(form: Form) -> Self {
        let read = |value: &DeValue<'_>| T::read(value).map(drop);
        Self { form, read, plainly: T::plainly, example: T::example }
    }

    /// The example of its type, as the reader's advice has it.
    pub fn usual_example(&self) -> String {
        (self.example)()
    }

    /// The words that may be chosen from.
    pub fn words(&self) -> &[String] {
        match &self.form {
            Form::Word(words) | Form::Words(words) | Form::Picture(words) => words,
            _ => &[],
        }
    }

    /// An answer that is always taken, as it is typed.
    pub fn example(&self) -> String {
        match &self.form {
            Form::YesNo => "yes".into(),
            Form::Place => "3 ft, 20 ft".into(),
            Form::Word(words) | Form::Words(words) if !words.is_empty() => words[0].clone(),
            Form::YearOrDay => "1996".into(),
            _ => (self.example)().trim_matches('"').to_owned(),
        }
    }
}

impl Ask {
    fn new(group: &'static str, key: &'static str, kind: Kind) -> Self {
        let (nth, about) = (vec![], String::new());
        Self { group, key, nth, kind, need: Need::Must, default: None, about }
    }

    /// A question for something that is written as a text: a name, a length, an amount.
    pub fn text<T: Typed>(group: &'static str, key: &'static str) -> Self {
        Self::new(group, key, Kind::of::<T>(Form::Text))
    }

    /// A question for a whole number, a date or a time.
    pub fn bare<T: Typed>(group: &'static str, key: &'static str) -> Self {
        Self::new(group, key, Kind::of::<T>(Form::Bare))
    }

    pub fn yes_no(group: &'static str, key: &'static str) -> Self {
        Self::new(group, key, Kind::of::<bool>(Form::YesNo))
    }

    /// A question for one word of a list.
    pub fn word<T: Typed>(group: &'static str, key: &'static str, words: Vec<String>) -> Self {
        Self::new(group, key, Kind::of::<T>(Form::Word(words)))
    }

    /// A question for several words of a list.
    pub fn words<T: Typed>(group: &'static str, key: &'static str, words: Vec<String>) -> Self {
        Self::new(group, key, Kind::of::<T>(Form::Words(words)))
    }

    /// A question for a value of a type in a form of its own.
    pub fn formed<T: Typed>(group: &'static str, key: &'static str, form: Form) -> Self {
        Self::new(group, key, Kind::of::<T>(form))
    }

    /// A question for a place on the plan.
    pub fn place(group: &'static str, key: &'static str) -> Self {
        Self::new(group, key, Kind::of::<Length>(Form::Place))
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

    /// What Enter alone stands for.
    pub fn or(mut self, default: impl Into<String>) -> Self {
        self.default = Some(default.into());
        self
    }

    /// What Enter alone stands for, where something is known.
    pub fn or_as(mut self, default: Option<String>) -> Self {
        self.default = default;
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
    pub fn path(&self) -> String {
        match self.group {
            "job" | "shop" | "book" => self.key.to_owned(),
            "dishes" | "probes" => format!("moisture.{}.{}", self.group, self.key),
            "dish" => format!("moisture.dishes.dish.{}", self.key),
            "probe" => format!("moisture.probes.probe.{}", self.key),
            "sheet" => format!("moisture.plastic-sheet.{}", self.key),
            group => format!("{group}.{}", self.key),
        }
    }

    /// True when the list of words has one for what is not known, or this may stay open.
    fn takes_unknown(&self) -> bool {
        self.need == Need::May && !self.kind.words().iter().any(|word| word == UNKNOWN)
    }

    /// A typed line as a file has it; empty when it says that nothing is known.
    ///
    /// # Errors
    /// Why it is not taken. What only the reader of files can tell is left to [`Ask::read`].
    pub fn plainly(&self, typed: &str, here: &Here<'_>) -> Result<String, Untaken> {
        let typed = typed.trim();
        if typed.is_empty() || (self.takes_unknown() && is_unknown(typed)) {
            return Ok(if self.need == Need::May { "" } else { typed }.to_owned());
        }
        if LongText::read(&DeValue::String(typed.into())).is_err() {
            return Ok(typed.to_owned());
        }
        match &self.kind.form {
            Form::Text | Form::Bare => (self.kind.plainly)(typed, here),
            Form::YearOrDay if typed.chars().all(|c| c.is_ascii_digit()) => Ok(typed.to_owned()),
            Form::YearOrDay => (self.kind.plainly)(typed, here).map_err(|untaken| {
                let neither = "That is neither a year nor a date; type it as";
                match untaken.help {
                    Some(_) => untaken,
                    None => Untaken::new(format!("{neither} {}", here.example)),
                }
            }),
            Form::YesNo => match typed.to_lowercase().as_str() {
                "y" | "yes" | "true" | "yeah" | "yep" => Ok("yes".into()),
                "n" | "no" | "false" | "nope" => Ok("no".into()),
                _ => Err(Untaken::new(format!("`{typed}` is neither yes nor no; type yes or no"))),
            },
            Form::Word(_) => here.list.one(typed),
            Form::Words(_) => here.list.several(typed).map(|words| words.join(", ")),
            Form::Place => {
                let parts = typed.split([',', ';']).map(|part| (self.kind.plainly)(part, here));
                Ok(parts.collect::<Result<Vec<_>, _>>()?.join(", "))
            }
            Form::Picture(known) => Ok(holding(&numbered(typed, known), known)),
        }
    }

    /// The value of a line that is put as a file has it; `None` when it says that nothing is known.
    ///
    /// # Errors
    /// What is wrong with the line, in the words of the reader of files.
    pub fn read(&self, typed: &str) -> Result<Option<Value>, ValueFault> {
        let typed = typed.trim();
        if typed.is_empty() || (self.takes_unknown() && is_unknown(typed)) {
            return if self.need == Need::May { Ok(None) } else { Err(unanswered()) };
        }
        // No line may be longer than the longest text, whatever it is for.
        let whole = DeValue::String(typed.into());
        LongText::read(&whole)?;
        let value = self.value(typed)?;
        self.judge(&value)?;
        Ok(Some(value))
    }

    fn value(&self, typed: &str) -> Result<Value, ValueFault> {
        Ok(match &self.kind.form {
            Form::Text => Value::from(typed),
            Form::Bare => bare(typed),
            Form::YearOrDay => bare(typed),
            Form::YesNo => match typed {
                "yes" => Value::from(true),
                "no" => Value::from(false),
                _ => return Err(ValueFault::new(format!("is neither yes nor no: `{typed}`"))),
            },
            Form::Word(words) => Value::from(known(typed, words)?),
            Form::Words(words) => {
                let parts = typed.split(',').map(str::trim).filter(|part| !part.is_empty());
                let parts = parts.map(|part| known(part, words));
                Value::from(parts.collect::<Result<Array, _>>()?)
            }
            Form::Place => {
                let parts: Vec<&str> = typed.split([',', ';']).map(str::trim).collect();
                let [along, across] = parts.as_slice() else {
                    let fault = ValueFault::new(format!("is not two lengths: `{typed}`"));
                    return Err(fault.help("write two with a comma between: `3 ft, 20 ft 6 in`"));
                };
                Value::from([*along, *across].into_iter().collect::<Array>())
            }
            Form::Picture(known) => {
                let name = typed.to_owned();
                self.judge_one(&Value::from(typed))?;
                if !known.contains(&name) {
                    let fault =
                        ValueFault::new(format!("names no picture that is there: `{name}`"));
                    return Err(match nearest(&name, known.iter().map(String::as_str)) {
                        Some(near) => fault.help(format!("did you mean `{near}`?")),
                        None if known.is_empty() => {
                            fault.help("there is no JPEG or PNG in the folder of the job")
                        }
                        None => fault.help(format!("there are: {}", known.join(", "))),
                    });
                }
                Value::from(name)
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
            (Form::YearOrDay, DeValue::Integer(_)) => u32::read(read.get_ref()).map(drop),
            (_, value) => (self.kind.read)(value),
        }
    }
}

fn unanswered() -> ValueFault {
    ValueFault::new("needs an answer").help("`?` says more; `back` goes to the question before")
}

/// A value without the blanks and comments about it.
pub fn plain(mut value: Value) -> Value {
    value.decor_mut().clear();
    value
}

/// A number, a date or a time as TOML writes it; anything else as a text, for the reader to refuse.
fn bare(typed: &str) -> Value {
    let whole = with_seconds(typed);
    let parsed = [whole.as_str(), typed].into_iter().find_map(|text| text.parse::<Value>().ok());
    match parsed {
        Some(value @ (Value::Integer(_) | Value::Float(_) | Value::Datetime(_))) => plain(value),
        _ => Value::from(typed),
    }
}

/// A time of day as people write it, `7:30`, with what TOML asks for: `07:30:00`.
fn with_seconds(typed: &str) -> String {
    let (day, time) = match typed.rsplit_once([' ', 'T', 't']) {
        Some((day, time)) => (Some(day.trim()), time),
        None => (None, typed),
    };
    let parts: Vec<&str> = time.split(':').collect();
    let digits = |part: &&str| !part.is_empty() && part.chars().all(|c| c.is_ascii_digit());
    let time = match parts.as_slice() {
        [hour, minute] if parts.iter().all(digits) => format!("{hour:0>2}:{minute}:00"),
        _ => time.to_owned(),
    };
    day.map_or(time.clone(), |day| format!("{day}T{time}"))
}

/// A word that has to be in the list.
fn known<'a>(word: &'a str, words: &[String]) -> Result<&'a str, ValueFault> {
    if words.iter().any(|known| known == word) {
        return Ok(word);
    }
    Err(ValueFault::new(format!("is none of these: `{word}`"))
        .help(format!("one of: {}", words.join(", "))))
}

/// The name that a number stands for, else what was typed.
fn numbered(typed: &str, names: &[String]) -> String {
    let named = typed.parse::<usize>().ok().and_then(|n| names.get(n.wrapping_sub(1)));
    named.cloned().unwrap_or_else(|| typed.to_owned())
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
    use crate::model::job::WaterDrop;

    fn water_drop() -> Ask {
        let words = WaterDrop::WORDS.iter().map(|(word, _)| (*word).into()).collect();
        Ask::word::<WaterDrop>("slab", "water-drop", words)
    }

    #[test]
    fn a_list_takes_nothing_that_is_not_in_it() {
        let words = vec!["none".to_owned(), "dishes".to_owned()];
        let ask = Ask::word::<String>("moisture", "method", words.clone()).may();
        let here = Here { list: List { words: &words, meanings: &[] }, ..here() };
        for typed in ["yes", "calcium", "3", "banana"] {
            assert!(ask.plainly(typed, &here).is_err(), "{typed}");
            assert!(ask.read(typed).is_err(), "{typed}");
        }
        assert_eq!(ask.plainly("2", &here).unwrap(), "dishes");
        assert_eq!(ask.read("dishes").unwrap().unwrap().to_string(), "\"dishes\"");
        assert!(water_drop().read("baeds").is_err());
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
        let ask = Ask::text::<Length>("slab", "thickness");
        let typed = DeValue::String("4 psi".into());
        let expected = Length::read(&typed).unwrap_err();
        let found = ask.read("4 psi").unwrap_err();
        assert_eq!((found.message, found.help), (expected.message, expected.help));
    }

    #[test]
    fn not_known_is_an_answer_only_where_a_file_can_do_without() {
        let ask = Ask::text::<Length>("slab", "thickness").may();
        for typed in ["", "unknown", "Not known", "-"] {
            assert!(ask.read(typed).unwrap().is_none(), "{typed}");
        }
        assert!(Ask::text::<Length>("area", "length").read("").is_err());
    }

    #[test]
    fn no_line_may_be_longer_than_the_longest_text() {
        let ask = Ask::text::<Length>("slab", "thickness").may();
        assert!(ask.read(&"9".repeat(5_000)).unwrap_err().message.contains("5000 characters"));
    }
}
