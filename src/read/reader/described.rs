//! Holds a table against its description: what is missing, not known, or may not stand together.

use toml::Spanned;
use toml::de::DeValue;

use crate::base::source::Diagnostic;
use crate::read::keys::FileKind;
use crate::read::keys::spec::{KeySpec, Shape};
use crate::read::keys::table::{Rule, Stands, TableSpec};
use crate::read::limits;
use crate::read::reader::Table;
use crate::read::scalar::ValueFault;
use crate::read::suggest::{in_backquotes, nearest};

/// Two values in brackets, as advice.
fn two_of(key: &KeySpec) -> String {
    format!("write two values in brackets: `[{0}, {0}]`", key.usual_example())
}

impl Table<'_> {
    pub(super) fn keep_to(&self, spec: &TableSpec) {
        let version = spec.version(|name| self.has(name));
        let held = |name: &str| version.is_held(name, |holder| self.has(holder));
        for key in version.keys.iter().filter(|key| !key.free) {
            if key.need && !held(key.name) {
                self.need(key);
            }
            self.check(key);
        }
        let below = version.tables.iter().filter(|below| !below.free && !held(below.name()));
        below.for_each(|below| self.need_table(below));
        version.rules.iter().for_each(|rule| self.keep_rule(version, rule));
        if !version.has_free_names() {
            self.know_names(spec, version);
        }
    }

    /// Refuses what stands behind a key, where the readers do not take it.
    fn check(&self, key: &KeySpec) {
        let name = key.name;
        let Some(value) = self.entries.get(name) else { return };
        match key.shape {
            Shape::One => self.check_value(name, key, value),
            Shape::List { .. } => {
                self.array(name).iter().for_each(|value| self.check_value(name, key, value));
            }
            Shape::Pair => {
                let two = self.array(name);
                match two.len() {
                    2 => two.iter().for_each(|value| self.check_value(name, key, value)),
                    0 if !self.is_empty_list(name) => {}
                    count => {
                        let values = if count == 1 { "value" } else { "values" };
                        self.fault(name, format!("has {count} {values}"), two_of(key));
                    }
                }
            }
            Shape::Pairs { .. } => self.array(name).iter().for_each(|pair| match pair.get_ref() {
                DeValue::Array(two) if two.len() == 2 => {
                    two.iter().for_each(|value| self.check_value(name, key, value));
                }
                _ => {
                    let fault = ValueFault::new("holds something that is not a pair");
                    self.refuse(name, pair.span(), fault.help(two_of(key)));
                }
            }),
        }
    }

    pub(super) fn check_value(&self, name: &str, key: &KeySpec, value: &Spanned<DeValue<'_>>) {
        if let Err(fault) = key.check(value.get_ref()) {
            self.refuse(name, value.span(), fault);
        }
    }

    fn need(&self, key: &KeySpec) {
        let name = key.name;
        match (self.has(name), key.shape) {
            (true, Shape::List { .. }) if self.is_empty_list(name) => {
                if let Some(advice) = key.advice {
                    self.fault(name, "is empty", advice);
                }
            }
            (true, _) => {}
            (false, Shape::One) => {
                let add = format!("{name} = {}", key.usual_example());
                self.missing(name, &key.expected(), &add);
            }
            (false, _) => {
                let add = || format!("add `{}`", key.line());
                self.fault(name, "is missing", key.advice.map_or_else(add, str::to_owned));
            }
        }
    }

    fn need_table(&self, below: &TableSpec) {
        let name = below.name();
        match (below.stands, below.advice) {
            (Stands::Once { need: true }, _) if !self.has(name) => {
                self.missing(name, "a table", &format!("[{}]", self.path(name)));
            }
            (Stands::Listed { least: 1.., .. }, Some(advice)) if self.is_empty_list(name) => {
                self.fault(name, "is empty", advice);
            }
            (Stands::Listed { least: 1.., .. }, Some(advice)) if !self.has(name) => {
                self.fault(name, "is missing", advice);
            }
            (Stands::Listed { most, .. }, _) if most < limits::LIST => {
                let count = self.array(name).len();
                if count > most {
                    let message = format!("stands {count} times");
                    self.fault(name, message, format!("the most accepted is {most}"));
                }
            }
            _ => {}
        }
    }

    fn keep_rule(&self, spec: &TableSpec, rule: &Rule) {
        match *rule {
            Rule::Apart(other, name, advice) => {
                if self.has(other) && self.has(name) {
                    self.fault(name, format!("stands beside `{other}`"), advice);
                }
            }
            Rule::Together(a, b, advice) => {
                for (name, other) in [(a, b), (b, a)] {
                    if self.has(other) && !self.has(name) {
                        let line = spec.key(name).map(KeySpec::line).unwrap_or_default();
                        let advice = advice.replace("{}", &line);
                        self.fault(name, format!("is missing beside `{other}`"), advice);
                    }
                }
            }
            Rule::OneOf(names, advice) => {
                if !names.iter().any(|name| self.has(name)) {
                    self.fault(names[0], "is missing", advice);
                }
            }
            Rule::Holds(holder, held, _) if self.has(holder) => {
                for name in held.iter().filter(|name| self.has(name)) {
                    let below = spec.tables.iter().find(|below| below.name() == *name);
                    let listed = below.is_some_and(|b| matches!(b.stands, Stands::Listed { .. }));
                    let path = format!("{holder}.{name}");
                    let head = if listed { format!("[[{path}]]") } else { format!("[{path}]") };
                    let advice = format!(
                        "what was measured stands in its space: move it below its `[[{holder}]]`, as `{head}`"
                    );
                    self.fault(name, format!("stands beside `{holder}`"), advice);
                }
            }
            Rule::Holds(..) => {}
            Rule::Unless(other, names, advice) => {
                for name in names.iter().filter(|name| !self.has(other) && !self.has(name)) {
                    match advice {
                        Some(advice) => {
                            let message = format!("is missing, and so is `{other}`");
                            self.fault(name, message, advice);
                        }
                        None => spec.key(name).into_iter().for_each(|key| self.need(key)),
                    }
                }
            }
        }
    }

    /// Refuses keys that are not known, each with the nearest known name.
    fn know_names(&self, spec: &TableSpec, version: &TableSpec) {
        for (key, _) in self.entries.iter() {
            let name: &str = key.get_ref();
            if version.names().any(|known| known == name) {
                continue;
            }
            let place = match self.title.as_str() {
                "" => "at the top of the file".to_owned(),
                title => format!("in {title}"),
            };
            let problem = Diagnostic::at(
                &self.at(key.span()),
                format!("unknown key `{}` {place}", name.escape_debug()),
            );
            let of_top = !self.title.is_empty() && is_of_the_top(spec, name);
            // What tells one version from another may be written with a slip too.
            let others = spec.versions.iter().filter_map(|(by, _)| *by);
            let help = match nearest(name, version.names().chain(others)) {
                _ if of_top => format!(
                    "`{name}` belongs to the top of the file: move its line above the first `[`"
                ),
                Some(near) => format!("did you mean `{near}`?"),
                None => {
                    let mut known: Vec<&str> = version.names().collect();
                    known.sort_unstable();
                    format!("known here: {}", in_backquotes(known))
                }
            };
            self.problems.add(problem.help(help));
        }
    }
}

/// True for a key that stands at the top of the file to which a table belongs.
fn is_of_the_top(table: &TableSpec, name: &str) -> bool {
    let files = FileKind::ALL.into_iter().map(FileKind::file);
    files.into_iter().any(|file| file.below(table.path).is_some() && file.key(name).is_some())
}
