//! JSON Schemas of the files, made from their keys: draft-07, which editors for TOML read.
//!
//! JSON has no dates. A program that holds a TOML file against a schema turns a date, a time or
//! both into a text: `2026-05-12`, `07:30:00`, `2026-05-08T10:30:00`. The schemas ask for such
//! texts by a pattern, and name the format of a date. The formats `time` and `date-time` ask for a
//! time zone, which our files never have, so they are not named. That a date stands without quotes
//! is for the reader to say: a schema cannot tell.

use serde_json::{Map, Value, json};

use crate::read::form::{Form, Pattern};
use crate::read::keys::{Key, Kind, Rule, Shape, Stands, Table};

/// The schema of a kind of file.
pub fn schema(kind: Kind) -> Value {
    let file = kind.file();
    let mut schema = object(&file);
    schema["$schema"] = "http://json-schema.org/draft-07/schema#".into();
    schema["title"] = format!("slableaf {}", kind.word()).into();
    schema["$comment"] =
        "Dates and times stand in the file without quotes; a schema sees them as text.".into();
    schema
}

/// The schema of a kind of file as the text of its own file.
pub fn schema_text(kind: Kind) -> String {
    format!("{:#}\n", schema(kind))
}

/// A table of the file, however often it stands.
fn table(table: &Table) -> Value {
    match table.stands {
        Stands::Once { .. } => object(table),
        Stands::Listed { least, most } => {
            let mut list = json!({
                "type": "array",
                "description": table.what,
                "items": object(table),
                "maxItems": most,
            });
            if least > 0 {
                list["minItems"] = least.into();
            }
            list
        }
    }
}

/// One table with its keys and no others.
fn object(table: &Table) -> Value {
    let mut schema = if table.versions.is_empty() { closed(table) } else { versions(table) };
    schema["description"] = table.what.into();
    schema
}

fn closed(of: &Table) -> Value {
    let mut properties = Map::new();
    let mut free = None;
    for key in &of.keys {
        if key.free {
            free = Some(value(key));
        } else {
            properties.insert(key.name.to_owned(), value(key));
        }
    }
    for below in &of.tables {
        if below.free {
            free = Some(table(below));
        } else {
            properties.insert(below.name.to_owned(), table(below));
        }
    }
    let needed: Vec<&str> = needed(of).collect();
    let mut schema = json!({
        "type": "object",
        "additionalProperties": free.unwrap_or(Value::Bool(false)),
    });
    if !properties.is_empty() {
        schema["properties"] = properties.into();
    }
    if !needed.is_empty() {
        schema["required"] = needed.into();
    }
    rules(&of.rules, &mut schema);
    schema
}

fn needed(table: &Table) -> impl Iterator<Item = &'static str> {
    let keys = table.keys.iter().filter(|key| key.need).map(|key| key.name);
    keys.chain(table.tables.iter().filter(|below| below.need()).map(|below| below.name))
}

fn rules(rules: &[Rule], schema: &mut Value) {
    let mut all = vec![];
    let mut beside = Map::new();
    for rule in rules {
        match *rule {
            Rule::Apart(a, b) => all.push(json!({ "not": { "required": [a, b] } })),
            Rule::Together(a, b) => {
                beside.insert(a.to_owned(), json!([b]));
                beside.insert(b.to_owned(), json!([a]));
            }
            Rule::Unless(other, names) => all.push(json!({
                "anyOf": [{ "required": [other] }, { "required": names }]
            })),
        }
    }
    if !all.is_empty() {
        schema["allOf"] = all.into();
    }
    if !beside.is_empty() {
        schema["dependencies"] = beside.into();
    }
}

/// A table of several versions: all keys with what they say, for editors to offer, and then the
/// version that its tables choose.
fn versions(table: &Table) -> Value {
    let mut all = Map::new();
    let mut option = Value::Bool(true);
    for (by, version) in table.versions.iter().rev() {
        let schema = closed(version);
        for (name, found) in schema["properties"].as_object().into_iter().flatten() {
            match all.get_mut(name) {
                None => drop(all.insert(name.clone(), found.clone())),
                Some(known) if known == found => {}
                Some(known) => widen(known, found),
            }
        }
        let schema = bare(schema);
        option = match by {
            None => schema,
            Some(by) => json!({ "if": { "required": [by] }, "then": schema, "else": option }),
        };
    }
    json!({
        "type": "object",
        "properties": all,
        "additionalProperties": false,
        "allOf": [option],
    })
}

/// Takes another schema for the same name: what fits either of them.
fn widen(known: &mut Value, found: &Value) {
    if let Some(any) = known.get_mut("anyOf").and_then(Value::as_array_mut) {
        let found = bare(found.clone());
        if !any.contains(&found) {
            any.push(found);
        }
        return;
    }
    let (one, other) = (bare(known.clone()), bare(found.clone()));
    let mut wider = json!({});
    for word in ["description", "examples"] {
        if let Some(said) = known.get(word) {
            wider[word] = said.clone();
        }
    }
    // They differ in what an editor shows and in nothing else.
    if one == other {
        for (word, value) in one.as_object().into_iter().flatten() {
            wider[word] = value.clone();
        }
    } else {
        wider["anyOf"] = json!([one, other]);
    }
    *known = wider;
}

/// A schema without what only people read.
fn bare(schema: Value) -> Value {
    match schema {
        Value::Object(parts) => parts
            .into_iter()
            .filter(|(word, part)| !(word == "examples" && part.is_array()))
            .filter(|(word, part)| !(word == "description" && part.is_string()))
            .map(|(word, part)| (word, bare(part)))
            .collect::<Map<String, Value>>()
            .into(),
        Value::Array(parts) => parts.into_iter().map(bare).collect::<Vec<_>>().into(),
        other => other,
    }
}

/// What stands behind a key.
fn value(key: &Key) -> Value {
    let one = form(&key.form);
    let mut schema = match key.shape {
        Shape::One => one,
        Shape::List { most, once } => {
            let mut list = json!({ "type": "array", "items": one, "maxItems": most });
            if once {
                list["uniqueItems"] = true.into();
            }
            list
        }
        Shape::Pair => pair(one),
        Shape::Pairs { least } => json!({
            "type": "array",
            "items": pair(one),
            "minItems": least,
            "maxItems": crate::read::limits::LIST,
        }),
    };
    schema["description"] = match key.bounds() {
        Some(bounds) => format!("{} {bounds}", key.what).into(),
        None => key.what.into(),
    };
    if let Some(example) = json_of(&key.example) {
        schema["examples"] = json!([example]);
    }
    schema
}

fn pair(one: Value) -> Value {
    json!({ "type": "array", "items": one, "minItems": 2, "maxItems": 2 })
}

fn form(form: &Form) -> Value {
    const DAY: &str = "(?:19|20|21)[0-9]{2}-[0-9]{2}-[0-9]{2}";
    const CLOCK: &str = r"[0-9]{2}:[0-9]{2}(?::[0-9]{2}(?:\.[0-9]+)?)?";
    match form {
        Form::Flag => json!({ "type": "boolean" }),
        Form::Whole { least, most } => {
            json!({ "type": "integer", "minimum": least, "maximum": most })
        }
        Form::Date => {
            json!({ "type": "string", "format": "date", "pattern": format!("^{DAY}$") })
        }
        Form::DateOr(words) => {
            json!({ "type": "string", "pattern": format!("^(?:{DAY}|{})$", words.join("|")) })
        }
        Form::DateTime => {
            json!({ "type": "string", "pattern": format!("^{DAY}[Tt ]{CLOCK}$") })
        }
        Form::Time => json!({ "type": "string", "pattern": format!("^{CLOCK}$") }),
        Form::Words(words) => json!({ "type": "string", "enum": words }),
        Form::Text(pattern) => text(pattern),
        Form::NumberOr { most, text: pattern } => json!({
            "anyOf": [{ "type": "number", "minimum": 0, "maximum": most }, text(pattern)]
        }),
    }
}

/// Patterns longer than this stand in an `anyOf` of one: an editor prints a pattern that does not
/// fit, and nobody wants to read a long one; of an `anyOf` it prints only that none fits.
const SHOWN: usize = 60;

fn text(pattern: &Pattern) -> Value {
    let mut schema = json!({});
    let mut all: Vec<Value> = vec![];
    if let Some((first, others)) = pattern.all.split_first() {
        schema["pattern"] = first.as_str().into();
        all.extend(others.iter().map(|other| json!({ "pattern": other })));
    }
    all.extend(pattern.none.iter().map(|none| json!({ "not": { "pattern": none } })));
    if !all.is_empty() {
        schema["allOf"] = all.into();
    }
    if pattern.all.iter().chain(&pattern.none).any(|one| one.len() > SHOWN) {
        schema = json!({ "anyOf": [schema] });
    }
    schema["type"] = "string".into();
    if let Some(most) = pattern.most {
        schema["maxLength"] = most.into();
    }
    schema
}

/// An example as programs see it that turn TOML into JSON; dates become texts.
fn json_of(example: &str) -> Option<Value> {
    fn of(value: toml::Value) -> Value {
        match value {
            toml::Value::String(text) => text.into(),
            toml::Value::Integer(number) => number.into(),
            toml::Value::Float(number) => number.into(),
            toml::Value::Boolean(flag) => flag.into(),
            toml::Value::Datetime(moment) => moment.to_string().into(),
            toml::Value::Array(values) => values.into_iter().map(of).collect::<Vec<_>>().into(),
            toml::Value::Table(table) => {
                table.into_iter().map(|(key, value)| (key, of(value))).collect::<Map<_, _>>().into()
            }
        }
    }
    let mut table: toml::Table = format!("example = {example}").parse().ok()?;
    table.remove("example").map(of)
}
