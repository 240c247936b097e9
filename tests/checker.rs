//! Holds values against JSON Schemas in the tests; the judges do the same with an outside program.

use std::cell::RefCell;
use std::collections::HashMap;

use regex::Regex;
use serde_json::{Map, Value};

use crate::documents::{list, word};

/// Holds a value against the part of JSON Schema draft-07 that our schemas use. A keyword that it
/// does not know is a fault of the test.
struct Checker<'s> {
    root: &'s Value,
}

impl Checker<'_> {
    /// The faults of a value, each with its place.
    fn faults(&self, value: &Value, schema: &Value, place: &str) -> Vec<String> {
        let mut faults = vec![];
        let parts = schema.as_object().unwrap_or_else(|| panic!("no schema at {place}: {schema}"));
        for (keyword, wanted) in parts {
            faults.extend(self.keyword(value, parts, keyword, wanted, place));
        }
        faults
    }

    fn keyword(
        &self,
        value: &Value,
        parts: &Map<String, Value>,
        keyword: &str,
        wanted: &Value,
        place: &str,
    ) -> Vec<String> {
        let fault = |wrong: bool, what: &str| {
            if wrong { vec![format!("{place}: {what} {wanted}, is {value}")] } else { vec![] }
        };
        let branches = || {
            let fits = |branch: &&Value| self.faults(value, branch, place).is_empty();
            list(wanted).iter().filter(fits).count()
        };
        match keyword {
            "$schema" | "$comment" | "title" | "description" | "examples" | "definitions"
            | "format" | "then" | "else" => vec![],
            "$ref" => {
                let path = word(wanted).strip_prefix('#').expect("a reference within the schema");
                let target = self.root.pointer(path).unwrap_or_else(|| panic!("no {wanted}"));
                self.faults(value, target, place)
            }
            "allOf" => list(wanted).iter().flat_map(|all| self.faults(value, all, place)).collect(),
            "anyOf" => fault(branches() == 0, "any of"),
            "oneOf" => fault(branches() != 1, "one of"),
            "not" => fault(self.faults(value, wanted, place).is_empty(), "not"),
            "if" => {
                let fits = self.faults(value, wanted, place).is_empty();
                let next = parts.get(if fits { "then" } else { "else" });
                next.map_or(vec![], |next| self.faults(value, next, place))
            }
            "type" => {
                let types = wanted.as_array().cloned().unwrap_or_else(|| vec![wanted.clone()]);
                fault(!types.iter().any(|kind| is_a(value, word(kind))), "type")
            }
            "const" => fault(value != wanted, "always"),
            "enum" => fault(!list(wanted).contains(value), "one of"),
            "minimum" => fault(value.is_number() && value.as_f64() < wanted.as_f64(), "at least"),
            "maximum" => fault(value.is_number() && value.as_f64() > wanted.as_f64(), "at most"),
            "maxLength" => {
                let length = value.as_str().map_or(0, |text| text.chars().count());
                fault(length > count(wanted), "characters at most")
            }
            "minLength" => fault(
                value.as_str().is_some_and(|text| text.chars().count() < count(wanted)),
                "characters at least",
            ),
            "propertyNames" => fields(value)
                .flat_map(|(name, _)| self.faults(&Value::from(name.as_str()), wanted, place))
                .collect(),
            "minItems" => fault(items(value).is_some_and(|n| n < count(wanted)), "entries from"),
            "maxItems" => fault(items(value).is_some_and(|n| n > count(wanted)), "entries to"),
            "uniqueItems" => {
                let twice = value.as_array().is_some_and(|values| {
                    (0..values.len()).any(|at| values[..at].contains(&values[at]))
                });
                fault(twice, "no entry twice")
            }
            "pattern" => fault(value.as_str().is_some_and(|text| !fits(text, word(wanted))), "as"),
            "items" => {
                let items = value.as_array().into_iter().flatten().enumerate();
                items
                    .flat_map(|(at, item)| self.faults(item, wanted, &format!("{place}/{at}")))
                    .collect()
            }
            "required" => {
                let missing = |name: &&Value| value.is_object() && value.get(word(name)).is_none();
                fault(list(wanted).iter().any(|name| missing(&name)), "needs")
            }
            "properties" => fields(value)
                .filter_map(|(name, field)| Some((name, field, wanted.get(name)?)))
                .flat_map(|(name, field, schema)| {
                    self.faults(field, schema, &format!("{place}/{name}"))
                })
                .collect(),
            "additionalProperties" => {
                let known =
                    |name: &str| parts.get("properties").is_some_and(|p| p.get(name).is_some());
                let others = fields(value).filter(|(name, _)| !known(name));
                if *wanted == Value::Bool(false) {
                    return others
                        .map(|(name, _)| format!("{place}: `{name}` is no field"))
                        .collect();
                }
                others
                    .flat_map(|(name, field)| {
                        self.faults(field, wanted, &format!("{place}/{name}"))
                    })
                    .collect()
            }
            "dependencies" => fields(value)
                .filter_map(|(name, _)| wanted.get(name))
                .flat_map(list)
                .filter(|needed| value.get(word(needed)).is_none())
                .map(|needed| format!("{place}: needs {needed}"))
                .collect(),
            _ => panic!("the checker does not know `{keyword}`"),
        }
    }
}

pub fn fields(value: &Value) -> impl Iterator<Item = (&String, &Value)> {
    value.as_object().into_iter().flatten()
}

fn items(value: &Value) -> Option<usize> {
    value.as_array().map(Vec::len)
}

fn count(wanted: &Value) -> usize {
    usize::try_from(wanted.as_u64().unwrap()).unwrap()
}

fn is_a(value: &Value, kind: &str) -> bool {
    match kind {
        "null" => value.is_null(),
        "boolean" => value.is_boolean(),
        "string" => value.is_string(),
        "number" => value.is_number(),
        "integer" => value.is_i64() || value.is_u64(),
        "array" => value.is_array(),
        "object" => value.is_object(),
        _ => panic!("no type: {kind}"),
    }
}

thread_local! {
    static PATTERNS: RefCell<HashMap<String, Regex>> = RefCell::default();
}

fn fits(text: &str, pattern: &str) -> bool {
    PATTERNS.with_borrow_mut(|patterns| {
        patterns
            .entry(pattern.to_owned())
            .or_insert_with(|| Regex::new(pattern).unwrap())
            .is_match(text)
    })
}

/// The faults of a value, each with its place.
pub fn faults(value: &Value, schema: &Value) -> Vec<String> {
    Checker { root: schema }.faults(value, schema, "")
}

#[track_caller]
pub fn keeps_to(value: &Value, schema: &Value, name: &str) {
    let faults = faults(value, schema);
    assert!(faults.is_empty(), "{name}: {faults:#?}");
}

#[track_caller]
pub fn breaks(value: &Value, schema: &Value, what: &str) {
    assert!(!faults(value, schema).is_empty(), "{what} passed");
}
