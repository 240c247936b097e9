//! Descriptions of keys: [`TypedKey`] has the type of its value, [`KeySpec`] is the same without.

use std::marker::PhantomData;
use std::ops::RangeInclusive;

use toml::de::DeValue;

use crate::read::form::ValueForm;
use crate::read::keys::table::TableSpec;
use crate::read::limits;
use crate::read::scalar::{Scalar, ValueFault};

/// A key with the type of the value behind it: `TypedKey<Length>` for one length,
/// `TypedKey<Vec<String>>` for a list, `TypedKey<(Length, Length)>` for a pair.
#[derive(Debug)]
pub struct TypedKey<T> {
    pub spec: KeySpec,
    value: PhantomData<fn() -> T>,
}

impl<T> Clone for TypedKey<T> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<T> Copy for TypedKey<T> {}

/// All that is said of a key, whatever its type.
#[derive(Debug, Clone, Copy)]
pub struct KeySpec {
    /// The group in which the words of its question stand.
    pub group: &'static str,
    /// The path of its table: `moisture.dishes.dish`; empty for the top of the file.
    pub table: &'static str,
    /// Its name; an example when the name is free.
    pub name: &'static str,
    /// The name is data that a person chooses.
    pub free: bool,
    /// A file without it is refused.
    pub need: bool,
    /// A blank file shows it ready to be filled in, though it may be left out.
    pub shown: bool,
    /// Its meaning in one sentence.
    pub what: &'static str,
    /// One value, a list or pairs.
    pub shape: Shape,
    /// The bound that is narrower than that of the type.
    pub bound: Bound,
    /// Advice for a value that breaks the bound.
    pub advice: Option<&'static str>,
    example: Option<&'static str>,
    scalar: ScalarSpec,
}

/// The facts that a type of values states.
#[derive(Debug, Clone, Copy)]
struct ScalarSpec {
    form: fn() -> ValueForm,
    expected: fn() -> String,
    example: fn() -> String,
    check: fn(&DeValue<'_>, &KeySpec) -> Result<(), ValueFault>,
}

/// The number of values behind a key.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shape {
    /// One value.
    One,
    /// A list of at most `most`; `once` when none may stand twice.
    List { most: usize, once: bool },
    /// Two values in brackets, such as a place on the plan.
    Pair,
    /// A list of pairs, such as corners.
    Pairs { least: usize },
}

/// The bound of a value within its type.
#[derive(Debug, Clone, Copy)]
pub enum Bound {
    /// None but that of the type.
    Type,
    AboveZero,
    Within {
        least: u32,
        most: u32,
    },
    /// As [`Bound::Within`]; a refusal names both ends in place of what was found.
    Numbered {
        least: u32,
        most: u32,
    },
    /// One of these words.
    Words(fn() -> Vec<String>),
}

/// Refuses what the type of a key does not take, or its bound.
fn check<S: Scalar>(value: &DeValue<'_>, key: &KeySpec) -> Result<(), ValueFault> {
    let broken = S::read(value)?.breaks(key.bound);
    let refused = |message| ValueFault::new(message).help(key.instead());
    broken.map_or(Ok(()), |message| Err(refused(message)))
}

const fn key<T, S: Scalar>(name: &'static str, what: &'static str, shape: Shape) -> TypedKey<T> {
    let (form, expected, example) = (S::form, S::expected, S::example);
    let scalar = ScalarSpec { form, expected, example, check: check::<S> };
    let spec = KeySpec {
        group: "",
        table: "",
        name,
        free: false,
        need: false,
        shown: false,
        what,
        shape,
        bound: Bound::Type,
        advice: None,
        example: None,
        scalar,
    };
    TypedKey { spec, value: PhantomData }
}

/// A key that must be there.
pub const fn need<T: Scalar>(name: &'static str, what: &'static str) -> TypedKey<T> {
    may(name, what).needed()
}

/// A key that may be left out.
pub const fn may<T: Scalar>(name: &'static str, what: &'static str) -> TypedKey<T> {
    key::<T, T>(name, what, Shape::One)
}

/// A list that may be left out.
pub const fn list<T: Scalar>(name: &'static str, what: &'static str) -> TypedKey<Vec<T>> {
    key::<_, T>(name, what, Shape::List { most: limits::LIST, once: false })
}

/// A list of at most `most` values, in which none stands twice; it may be left out.
pub const fn set<T: Scalar>(
    name: &'static str,
    most: usize,
    what: &'static str,
) -> TypedKey<Vec<T>> {
    key::<_, T>(name, what, Shape::List { most, once: true })
}

/// Two values in brackets that may be left out.
pub const fn pair<T: Scalar>(name: &'static str, what: &'static str) -> TypedKey<(T, T)> {
    key::<_, T>(name, what, Shape::Pair)
}

/// A list of at least `least` pairs that may be left out.
pub const fn pairs<T: Scalar>(
    name: &'static str,
    least: usize,
    what: &'static str,
) -> TypedKey<Vec<(T, T)>> {
    key::<_, T>(name, what, Shape::Pairs { least })
}

impl<T> TypedKey<T> {
    pub const fn needed(mut self) -> Self {
        self.spec.need = true;
        self
    }

    /// Another example than that of the type: one value without its quotes, a list as in TOML.
    pub const fn like(mut self, example: &'static str) -> Self {
        self.spec.example = Some(example);
        self
    }

    /// Refuses zero.
    pub const fn above_zero(mut self) -> Self {
        self.spec.bound = Bound::AboveZero;
        self
    }

    /// Refuses whole numbers outside of a range.
    pub const fn within(mut self, range: RangeInclusive<u32>) -> Self {
        self.spec.bound = Bound::Within { least: *range.start(), most: *range.end() };
        self
    }

    /// As [`TypedKey::within`]; a refusal names both ends in place of what was found.
    pub const fn numbered(mut self, range: RangeInclusive<u32>) -> Self {
        self.spec.bound = Bound::Numbered { least: *range.start(), most: *range.end() };
        self
    }

    /// Refuses all but these words.
    pub const fn words(mut self, words: fn() -> Vec<String>) -> Self {
        self.spec.bound = Bound::Words(words);
        self
    }

    /// Advice for a value that breaks the bound.
    pub const fn advice(mut self, advice: &'static str) -> Self {
        self.spec.advice = Some(advice);
        self
    }

    /// Shown in a blank file ready to be filled in.
    pub const fn shown(mut self) -> Self {
        self.spec.shown = true;
        self
    }

    /// Any name may stand in place of this one.
    pub const fn any_name(mut self) -> Self {
        self.spec.free = true;
        self
    }

    pub(super) const fn in_table(mut self, group: &'static str, table: &'static str) -> Self {
        (self.spec.group, self.spec.table) = (group, table);
        self
    }

    /// The key of the same name and type in another table.
    pub fn of(mut self, table: &TableSpec) -> Self {
        self.spec = *table.key(self.spec.name).unwrap_or(&self.spec);
        self
    }
}

impl KeySpec {
    /// Refuses a value that the readers do not take, with what to write instead.
    ///
    /// # Errors
    /// A [`ValueFault`] that says what is wrong.
    pub fn check(&self, value: &DeValue<'_>) -> Result<(), ValueFault> {
        (self.scalar.check)(value, self)
    }

    /// Advice for a value that breaks the bound.
    fn instead(&self) -> String {
        match (self.advice, self.bound) {
            (Some(advice), _) => advice.to_owned(),
            (None, Bound::Words(words)) => {
                let words: Vec<String> = words().iter().map(|word| format!("\"{word}\"")).collect();
                format!("expected one of {}", words.join(", "))
            }
            (None, _) => {
                let (expected, example) = (self.expected(), self.usual_example());
                format!("write {expected} above zero, for example `{example}`")
            }
        }
    }

    /// Returns the form of each value, within the bound of the key.
    pub fn form(&self) -> ValueForm {
        match ((self.scalar.form)(), self.bound) {
            (_, Bound::Words(words)) => ValueForm::Words(words()),
            (
                ValueForm::Whole { .. },
                Bound::Within { least, most } | Bound::Numbered { least, most },
            ) => ValueForm::Whole { least, most },
            (ValueForm::Whole { most, .. }, Bound::AboveZero) => {
                ValueForm::Whole { least: 1, most }
            }
            (form, _) => form,
        }
    }

    /// Returns the value that is expected, in words: `a length with its unit`.
    pub fn expected(&self) -> String {
        (self.scalar.expected)()
    }

    /// The example of the type, as it is written in TOML.
    pub fn usual_example(&self) -> String {
        (self.scalar.example)()
    }

    /// An example of the value, as it is written in TOML.
    pub fn example(&self) -> String {
        match (self.example, self.shape) {
            (None, Shape::One) => self.usual_example(),
            (None, _) => format!("[{}]", self.usual_example()),
            (Some(example), Shape::One) if self.form().in_quotes(example) => {
                format!("\"{example}\"")
            }
            (Some(example), _) => example.to_owned(),
        }
    }

    /// The key with its example, as a line of TOML.
    pub fn line(&self) -> String {
        format!("{} = {}", self.name, self.example())
    }

    /// Its units, the least and the most.
    pub fn bounds(&self) -> Option<String> {
        self.said_of_form(true)
    }

    /// Returns its units where there is a choice, and the number of values, for a blank file.
    pub fn hint(&self) -> Option<String> {
        self.said_of_form(false)
    }

    fn said_of_form(&self, whole: bool) -> Option<String> {
        let form = match self.form() {
            ValueForm::Measure { units, .. } if units.len() == 1 && !whole => None,
            form @ ValueForm::Measure { .. } => form.units(whole),
            ValueForm::Whole { least, most } if least > 0 => {
                Some(format!("From {least} to {most}."))
            }
            _ => None,
        };
        let shape = match self.shape {
            Shape::List { most, .. } if most < limits::LIST => Some(format!("At most {most}.")),
            Shape::Pair => Some("Two values in brackets.".to_owned()),
            Shape::Pairs { least } => Some(format!("Pairs of values, {least} or more.")),
            _ => None,
        };
        let both: Vec<String> = [shape, form].into_iter().flatten().collect();
        (!both.is_empty()).then(|| both.join(" "))
    }
}
