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
    let mut values = Map::new();
    collect_values(file, &mut values);
    let schemas = Schemas { repeated, values };
    let mut schema = schemas.object(file);
    schema["$schema"] = "http://json-schema.org/draft-07/schema#".into();
    schema["title"] = format!("slableaf {}", kind.word()).into();
    schema["$comment"] =
        "Dates and times stand in the file without quotes; a schema sees them as text.".into();
    let named = schemas.repeated.iter().map(|table| (table.name().to_owned(), schemas.own(table)));
    let definitions: Map<String, Value> = named.chain(schemas.values.clone()).collect();
    if !definitions.is_empty() {
        schema["definitions"] = definitions.into();
    }
    schema
}

/// The schema of a kind of file as the text of its own file.
pub fn schema_text(kind: FileKind) -> String {
    let mut out = String::new();
    print(&schema(kind), &mut out);
    out + "\n"
}

/// Columns of a line of a schema.
const COLUMNS: usize = 160;

/// The words of a schema that are printed first, in this order.
const FIRST: &[&str] = &["$schema", "title", "$comment", "description", "type", "examples"];

/// Prints a value in one line where that is short, else with a line for each of its parts.
fn print(value: &Value, out: &mut String) {
    let line = value.to_string();
    let mut parts: Vec<(String, &Value)> = match value {
        _ if line.chars().count() < COLUMNS => vec![],
        Value::Object(parts) => parts.iter().map(|(name, v)| (format!("\"{name}\":"), v)).collect(),
        Value::Array(parts) => parts.iter().map(|part| (String::new(), part)).collect(),
        _ => vec![],
    };
    if parts.is_empty() {
        return out.push_str(&line);
    }
    parts.sort_by_key(|(name, _)| {
        let first = FIRST.iter().position(|first| name.trim_matches(['"', ':']) == *first);
        first.unwrap_or(FIRST.len())
    });
    let (open, close) = if value.is_object() { ('{', '}') } else { ('[', ']') };
    out.push(open);
    for (at, (name, part)) in parts.into_iter().enumerate() {
        let comma = if at > 0 { "," } else { "" };
        out.push_str(&format!("{comma}\n{name}"));
        print(part, out);
    }
    out.push(close);
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

/// Finds the values that have a pattern, and pairs of such: one definition serves all keys that are alike.
fn collect_values(table: &TableSpec, found: &mut Map<String, Value>) {
    for key in table.keys {
        if let Some(name) = value_name(key) {
            if matches!(key.shape, Shape::Pair | Shape::Pairs { .. }) {
                found.insert(format!("{name}-twice"), pair(refer(&name)));
            }
            found.entry(name).or_insert_with(|| form(key));
        }
    }
    let versions = table.versions.iter().map(|(_, version)| version);
    table.tables.iter().chain(versions).for_each(|below| collect_values(below, found));
}

/// The name under which a value that has a pattern is defined: `in-ft`, `in-lb-1000ft2-24h`, `like-07-30-00`.
fn value_name(key: &KeySpec) -> Option<String> {
    let plain = |text: &str| text.replace('%', "percent").replace(['/', ':', '@'], "-");
    match key.form() {
        ValueForm::Measure { units, .. } => Some(format!("in-{}", plain(units.first()?))),
        ValueForm::DateTime | ValueForm::Time | ValueForm::Text { pattern: Some(_), .. } => {
            Some(format!("like-{}", plain(key.usual_example().trim_matches('"'))))
        }
        _ => None,
    }
}

fn refer(name: &str) -> Value {
    json!({ "$ref": format!("#/definitions/{name}") })
}

fn pair(one: Value) -> Value {
    json!({ "type": "array", "items": one, "minItems": 2, "maxItems": 2 })
}

/// The schemas of one file.
struct Schemas {
    /// Tables that are defined once and referred to.
    repeated: Vec<&'static TableSpec>,
    /// Values that are defined once too.
    values: Map<String, Value>,
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
            Stands::Listed { least, most } => listed(self.object(table), least, most, false),
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

    /// The schema of what stands behind a key.
    fn value(&self, key: &KeySpec) -> Value {
        let is_pair = matches!(key.shape, Shape::Pair | Shape::Pairs { .. });
        let one = form(key);
        let one = match value_name(key).filter(|name| self.values.get(name) == Some(&one)) {
            Some(name) if is_pair => refer(&format!("{name}-twice")),
            Some(name) => refer(&name),
            None if is_pair => pair(one),
            None => one,
        };
        let mut schema = match key.shape {
            // What stands beside a reference counts for nothing.
            Shape::One | Shape::Pair if one.get("$ref").is_some() => json!({ "allOf": [one] }),
            Shape::One | Shape::Pair => one,
            Shape::List { most, once } => listed(one, 0, most, once),
            Shape::Pairs { least } => listed(one, least, limits::LIST, false),
        };
        schema["description"] = key.what.into();
        schema
    }

    fn add_properties(&self, of: &TableSpec, known: &mut Map<String, Value>, others: &mut Value) {
        let keys = of.keys.iter().map(|key| (key.name, key.free, self.value(key)));
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
            Rule::Holds(holder, others, _) => all.push(json!({
                "if": { "required": [holder] },
                "then": { "propertyNames": { "not": { "enum": others } } },
                "else": { "required": held },
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

/// The schema of one value of a key.
fn form(key: &KeySpec) -> Value {
    let mut schema = match key.form() {
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
        ValueForm::Words(words) => json!({ "enum": words }),
        ValueForm::Text { pattern: Some(pattern), .. } => {
            json!({ "type": "string", "pattern": pattern })
        }
        ValueForm::Text { pattern: None, .. } => json!({ "type": "string", "minLength": 1 }),
        // A number alone has no unit.
        form @ ValueForm::Measure { .. } => {
            let units = form.units(true);
            json!({ "type": "string", "pattern": "[^+-9 ]", "description": units })
        }
        ValueForm::Number { most } => {
            json!({ "type": ["number", "string"], "minimum": 0, "maximum": most })
        }
    };
    // A pattern is read more easily beside an example.
    if schema.get("pattern").is_some()
        && let Some(example) = json_of(&key.usual_example())
    {
        schema["examples"] = json!([example]);
    }
    schema
}

/// A list of values or of tables.
fn listed(one: Value, least: usize, most: usize, once: bool) -> Value {
    let mut list = json!({ "type": "array", "items": one, "maxItems": most });
    if least > 0 {
        list["minItems"] = least.into();
    }
    if once {
        list["uniqueItems"] = true.into();
    }
    list
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
