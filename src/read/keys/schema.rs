//! JSON Schemas of the files, made from their keys: draft-07, which editors for TOML read.
//!
//! JSON has no dates. A program that holds a TOML file against a schema turns a date, a time or
//! both into a text: `2026-05-12`, `07:30:00`, `2026-05-08T10:30:00`. The formats `time` and
//! `date-time` ask for a time zone, which our files never have, so a short pattern stands in their
//! place. What only a grammar could tell (units, amounts, paths) is for the reader to say: a schema
//! names the units in words and gives an example, and refuses what has no unit at all.

use serde_json::{Map, Value, json};

use crate::read::form::ValueForm;
use crate::read::keys::FileKind;
use crate::read::keys::spec::{KeySpec, Shape};
use crate::read::keys::table::{Rule, Stands, TableSpec};
use crate::read::limits;

/// The schema of a kind of file.
pub fn schema(kind: FileKind) -> Value {
    let file = kind.file();
    let mut repeated = vec![];
    collect_repeated(file, "", &mut repeated);
    let schemas = Schemas { repeated };
    let mut schema = schemas.object(file);
    schema["$schema"] = "http://json-schema.org/draft-07/schema#".into();
    schema["title"] = format!("slableaf {}", kind.word()).into();
    schema["$comment"] =
        "Dates and times stand in the file without quotes; a schema sees them as text.".into();
    let named = schemas.repeated.iter().map(|table| (table.name().to_owned(), schemas.own(table)));
    let definitions: Map<String, Value> = named.collect();
    if !definitions.is_empty() {
        schema["definitions"] = definitions.into();
    }
    schema
}

/// The schema of a kind of file as the text of its own file.
pub fn schema_text(kind: FileKind) -> String {
    let mut out = String::new();
    print(&schema(kind), 0, &mut out);
    out + "\n"
}

/// Columns of a line of a schema.
const COLUMNS: usize = 160;

/// The words of a schema that are printed first, in this order.
const FIRST: &[&str] = &["$schema", "title", "$comment", "description", "type", "examples"];

/// Prints a value in one line where that is short, else with a line for each of its parts.
fn print(value: &Value, indent: usize, out: &mut String) {
    let line = in_one_line(value);
    let mut parts: Vec<(String, &Value)> = match value {
        _ if indent + line.chars().count() < COLUMNS => vec![],
        Value::Object(parts) => {
            parts.iter().map(|(name, v)| (format!("\"{name}\": "), v)).collect()
        }
        Value::Array(parts) => parts.iter().map(|part| (String::new(), part)).collect(),
        _ => vec![],
    };
    if parts.is_empty() {
        return out.push_str(&line);
    }
    parts.sort_by_key(|(name, _)| {
        let first = FIRST.iter().position(|first| name.trim_matches(['"', ':', ' ']) == *first);
        first.unwrap_or(FIRST.len())
    });
    let (open, close) = if value.is_object() { ('{', '}') } else { ('[', ']') };
    out.push(open);
    for (at, (name, part)) in parts.into_iter().enumerate() {
        let comma = if at > 0 { "," } else { "" };
        out.push_str(&format!("{comma}\n{:1$}{name}", "", indent + 1));
        print(part, indent + 1, out);
    }
    out.push_str(&format!("\n{:indent$}{close}", ""));
}

fn in_one_line(value: &Value) -> String {
    match value {
        Value::Object(parts) => {
            let part = |(name, value): (&String, _)| format!("\"{name}\": {}", in_one_line(value));
            format!("{{ {} }}", parts.iter().map(part).collect::<Vec<_>>().join(", "))
        }
        Value::Array(parts) => {
            format!("[{}]", parts.iter().map(in_one_line).collect::<Vec<_>>().join(", "))
        }
        one => one.to_string(),
    }
}

/// Finds the tables that stand in more than one place of a file.
fn collect_repeated(table: &TableSpec, at: &str, found: &mut Vec<&'static TableSpec>) {
    for below in table.tables {
        let path =
            if at.is_empty() { below.name().to_owned() } else { format!("{at}.{}", below.name()) };
        if path == below.path || below.free {
            collect_repeated(below, &path, found);
        } else if !found.iter().any(|known| known.path == below.path) {
            found.push(below);
        }
    }
}

/// The schemas of one file.
struct Schemas {
    /// Tables that are defined once and referred to.
    repeated: Vec<&'static TableSpec>,
}

impl Schemas {
    /// A table of the file, however often it stands: its schema, or where that is defined.
    fn table(&self, table: &TableSpec) -> Value {
        match self.repeated.iter().any(|known| known.path == table.path) {
            true => json!({ "$ref": format!("#/definitions/{}", table.name()) }),
            false => self.own(table),
        }
    }

    fn own(&self, table: &TableSpec) -> Value {
        match table.stands {
            Stands::Once { .. } => self.object(table),
            Stands::Listed { least, most } => {
                let mut list =
                    json!({ "type": "array", "items": self.object(table), "maxItems": most });
                if least > 0 {
                    list["minItems"] = least.into();
                }
                list
            }
        }
    }

    /// One table with its keys and no others.
    fn object(&self, table: &TableSpec) -> Value {
        let mut schema = json!({ "type": "object", "description": table.what });
        let mut properties = Map::new();
        let mut others = Value::Bool(false);
        let versions = table.versions.iter().rev().map(|(_, version)| version);
        for version in std::iter::once(table).chain(versions) {
            self.add_properties(version, &mut properties, &mut others);
        }
        schema["additionalProperties"] = others;
        if !properties.is_empty() {
            schema["properties"] = properties.into();
        }
        if table.versions.is_empty() {
            add_conditions(table, &mut schema);
        } else {
            schema["allOf"] = json!([version_by_version(table)]);
        }
        schema
    }

    fn add_properties(&self, of: &TableSpec, known: &mut Map<String, Value>, others: &mut Value) {
        let keys = of.keys.iter().map(|key| (key.name, key.free, value(key)));
        let tables = of.tables.iter().map(|below| (below.name(), below.free, self.table(below)));
        for (name, free, schema) in keys.chain(tables) {
            if free {
                *others = schema;
            } else {
                known.entry(name).or_insert(schema);
            }
        }
    }
}

/// Adds what has to be there, and what holds between keys.
fn add_conditions(table: &TableSpec, schema: &mut Value) {
    let keys = table.keys.iter().filter(|key| key.need).map(|key| key.name);
    let tables = table.tables.iter().filter(|below| below.need()).map(TableSpec::name);
    let (held, needed): (Vec<&str>, Vec<&str>) =
        keys.chain(tables).partition(|name| table.is_held(name, |_| true));
    if !needed.is_empty() {
        schema["required"] = needed.into();
    }
    let mut all = vec![];
    let mut beside = Map::new();
    for rule in table.rules {
        match *rule {
            Rule::Apart(a, b, _) => all.push(json!({ "not": { "required": [a, b] } })),
            Rule::Together(a, b, _) => {
                beside.insert(a.to_owned(), json!([b]));
                beside.insert(b.to_owned(), json!([a]));
            }
            Rule::Unless(other, names, _) => all.push(json!({
                "anyOf": [{ "required": [other] }, { "required": names }]
            })),
            Rule::OneOf(names, _) => {
                let one = |name: &&str| json!({ "required": [name] });
                all.push(json!({ "anyOf": names.iter().map(one).collect::<Vec<_>>() }));
            }
            Rule::Holds(holder, others, _) => {
                let beside = others.iter().map(|name| json!({ "required": [name] }));
                all.push(json!({
                    "if": { "required": [holder] },
                    "then": { "not": { "anyOf": beside.collect::<Vec<_>>() } },
                    "else": { "required": held },
                }));
            }
        }
    }
    if !all.is_empty() {
        schema["allOf"] = all.into();
    }
    if !beside.is_empty() {
        schema["dependencies"] = beside.into();
    }
}

/// The version of a table that its tables choose, by the names that it may have.
fn version_by_version(table: &TableSpec) -> Value {
    table.versions.iter().rev().fold(Value::Bool(true), |others, (by, version)| {
        let names: Vec<&str> = version.names().collect();
        let mut schema = json!({ "propertyNames": { "enum": names } });
        add_conditions(version, &mut schema);
        match by {
            None => schema,
            Some(by) => json!({ "if": { "required": [by] }, "then": schema, "else": others }),
        }
    })
}

/// The schema of what stands behind a key.
fn value(key: &KeySpec) -> Value {
    let one = form(&key.form());
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
            "maxItems": limits::LIST,
        }),
    };
    schema["description"] = match key.bounds() {
        Some(bounds) => format!("{} {bounds}", key.what).into(),
        None => key.what.into(),
    };
    if let Some(example) = json_of(&key.example()) {
        schema["examples"] = json!([example]);
    }
    schema
}

fn pair(one: Value) -> Value {
    json!({ "type": "array", "items": one, "minItems": 2, "maxItems": 2 })
}

fn form(form: &ValueForm) -> Value {
    match form {
        ValueForm::Flag => json!({ "type": "boolean" }),
        ValueForm::Whole { least, most } => {
            json!({ "type": "integer", "minimum": least, "maximum": most })
        }
        ValueForm::Date => json!({ "type": "string", "format": "date" }),
        ValueForm::DateOr(word) => {
            json!({ "type": "string", "anyOf": [{ "format": "date" }, { "const": word }] })
        }
        ValueForm::DateTime => {
            json!({ "type": "string", "pattern": r"^\d{4}-\d{2}-\d{2}[Tt ]\d{2}:\d{2}" })
        }
        ValueForm::Time => json!({ "type": "string", "pattern": r"^\d{2}:\d{2}" }),
        ValueForm::Words(words) => json!({ "type": "string", "enum": words }),
        ValueForm::Text { pattern: Some(pattern), .. } => {
            json!({ "type": "string", "pattern": pattern })
        }
        ValueForm::Text { pattern: None, .. } => json!({ "type": "string", "minLength": 1 }),
        // A number alone has no unit.
        ValueForm::Measure { .. } => json!({ "type": "string", "pattern": "[^-+0-9.,/ ]" }),
        ValueForm::Number { most } => {
            json!({ "type": ["number", "string"], "minimum": 0, "maximum": most })
        }
    }
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
