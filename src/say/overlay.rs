//! A shop's own layouts and words in the place of built-in ones: whether they can stand there, and
//! where in them a fault lies.

use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use crate::base::layouts::{EMBEDDED, Layouts};
use crate::base::source::{Diagnostic, Problems, SourceFile, Span};
use crate::read::suggest::nearest;
use crate::say::template::readable;
use crate::say::words::{FaultSpot, Words, WordsError};

/// Word files that the pages take as they are. No type knows their keys, so the built-in file does.
const BY_EXAMPLE: &[&str] = &[
    "compare.toml",
    "crew.toml",
    "family.toml",
    "labels.toml",
    "mail.toml",
    "order.toml",
    "pages.toml",
    "spaces.toml",
];

/// Floor systems are embedded too; a shop has its own beside its book.
const SYSTEMS: &str = "systems/";

/// Lays a shop's own files, by their paths below its folder `layouts`, over the built-in ones.
///
/// # Errors
/// Every file that replaces none, every word file that is no TOML, lacks a key, has one of the
/// wrong kind, or holds a template that cannot be read.
pub fn lay_over(files: Vec<(String, SourceFile)>) -> Result<Layouts, Vec<Diagnostic>> {
    let mut layouts = Layouts::default();
    let problems = Problems::default();
    let order: Vec<SourceFile> = files.iter().map(|(_, file)| file.clone()).collect();
    for (path, file) in files {
        let mut known = EMBEDDED.iter().filter(|(known, _)| !known.starts_with(SYSTEMS));
        let Some((_, built_in)) = known.find(|(known, _)| *known == path) else {
            problems.add(replaces_none(&path, &file.name));
            continue;
        };
        if path.starts_with("words/") {
            word_file(&path, built_in, &file, &problems);
        } else if path.ends_with(".html")
            && let Err(error) = readable(&file.text, &path)
        {
            problems.add(html_fault(&file, error));
        }
        layouts.replace(&path, file);
    }
    if problems.is_empty() {
        for language in layouts.languages() {
            if let Err(error) = Words::read(&layouts, &language) {
                problems.add(locate(&error, &layouts));
            }
        }
    }
    let order: Vec<&str> = order.iter().map(|file| file.name.as_str()).collect();
    if problems.is_empty() { Ok(layouts) } else { Err(problems.into_sorted(&order)) }
}

fn html_fault(file: &SourceFile, error: WordsError) -> Diagnostic {
    let bytes = within(&file.text, &(0..file.text.len()), &file.text, &error);
    Diagnostic::at(&Span { file: file.name.clone(), bytes }, error.message)
}

fn replaces_none(path: &str, name: &str) -> Diagnostic {
    if path.starts_with(SYSTEMS) {
        return Diagnostic::new(format!("{name}: a floor system is no layout"))
            .help("put it into a folder `systems` beside your book");
    }
    let message = format!("{name} replaces nothing: no built-in file is called `{path}`");
    Diagnostic::new(message).help(match known_like(path) {
        Some(known) => format!("did you mean `{known}`?"),
        None => "`slableaf layouts` lists all files".to_owned(),
    })
}

/// The built-in file whose path is most like this one: in the same folder before any other.
fn known_like(path: &str) -> Option<&'static str> {
    fn split(path: &str) -> (&str, &str) {
        path.rsplit_once('/').unwrap_or(("", path))
    }
    fn stem(path: &str) -> &str {
        let name = split(path).1;
        name.rsplit_once('.').map_or(name, |(stem, _)| stem)
    }
    let like = |folder: Option<&str>| {
        let known = EMBEDDED.iter().map(|(known, _)| *known);
        let known: Vec<&str> =
            known.filter(|known| folder.is_none_or(|folder| split(known).0 == folder)).collect();
        let name = nearest(stem(path), known.iter().map(|known| stem(known)))?;
        known.into_iter().find(|known| stem(known) == name)
    };
    like(Some(split(path).0)).or_else(|| like(None))
}

// ------------------------------------------------------------------------- words, by example

fn word_file(path: &str, built_in: &str, file: &SourceFile, problems: &Problems) {
    let at = |bytes| Span { file: file.name.clone(), bytes };
    let own = match DeTable::parse(&file.text) {
        Ok(own) => own,
        Err(error) => {
            let message = error.message().lines().next().unwrap_or("cannot be read").to_owned();
            let span = at(error.span().unwrap_or(0..0));
            return problems.add(Diagnostic::at(&span, format!("not TOML: {message}")));
        }
    };
    let Ok(example) = DeTable::parse(built_in) else { return };
    let sheet = WordFile { path, at: &at, problems };
    sheet.compare(example.get_ref(), own.get_ref(), own.span(), "");
    for_each_text(own.get_ref(), &mut |template, span| {
        if let Err(error) = readable(template, path) {
            let bytes = within(&file.text, &span, template, &error);
            problems.add(Diagnostic::at(&at(bytes), error.message));
        }
    });
}

/// A word file that is compared with the built-in one.
struct WordFile<'a> {
    path: &'a str,
    at: &'a dyn Fn(Range<usize>) -> Span,
    problems: &'a Problems,
}

impl WordFile<'_> {
    fn compare(&self, example: &DeTable<'_>, own: &DeTable<'_>, span: Range<usize>, above: &str) {
        for (key, wanted) in example {
            let name = format!("{above}{}", key.get_ref());
            let Some(found) = own.get(key.get_ref().as_ref()) else {
                let copy = format!("`slableaf layouts --copy DIR {}` copies that out", self.path);
                let problem =
                    Diagnostic::at(&(self.at)(span.clone()), format!("`{name}` is missing"))
                        .help("a file of one\u{2019}s own has every key of the built-in one");
                self.problems.add(problem.help(copy));
                continue;
            };
            match (wanted.get_ref(), found.get_ref()) {
                (DeValue::Table(wanted), DeValue::Table(table)) => {
                    self.compare(wanted, table, found.span(), &format!("{name}."));
                }
                (wanted, value) if wanted.type_str() != value.type_str() => {
                    let span = (self.at)(found.span());
                    let message = format!("`{name}` is no {}", wanted.type_str());
                    self.problems.add(Diagnostic::at(&span, message));
                }
                _ => {}
            }
        }
        if BY_EXAMPLE.iter().any(|name| self.path.ends_with(name)) {
            self.unknown(example, own, above);
        }
    }

    fn unknown(&self, example: &DeTable<'_>, own: &DeTable<'_>, above: &str) {
        for key in own.keys().filter(|key| !example.contains_key(key.get_ref().as_ref())) {
            let known = example.keys().map(|known| known.get_ref().as_ref());
            let near = nearest(key.get_ref(), known);
            let message = format!("unknown key `{above}{}`", key.get_ref());
            let mut problem = Diagnostic::at(&(self.at)(key.span()), message);
            problem.help.extend(near.map(|near| format!("did you mean `{above}{near}`?")));
            self.problems.add(problem);
        }
    }
}

fn for_each_text(table: &DeTable<'_>, see: &mut dyn FnMut(&str, Range<usize>)) {
    fn value(found: &Spanned<DeValue<'_>>, see: &mut dyn FnMut(&str, Range<usize>)) {
        match found.get_ref() {
            DeValue::String(text) => see(text, found.span()),
            DeValue::Array(items) => items.iter().for_each(|item| value(item, see)),
            DeValue::Table(table) => for_each_text(table, see),
            _ => {}
        }
    }
    table.values().for_each(|found| value(found, see));
}

// --------------------------------------------------------------------------- where a fault is

/// A fault of the words with its place, when it has one in a file.
pub fn locate(error: &WordsError, layouts: &Layouts) -> Diagnostic {
    let span = match &error.spot {
        FaultSpot::Unknown => None,
        FaultSpot::File { path, bytes } => {
            Some(Span { file: layouts.name(path), bytes: bytes.clone() })
        }
        FaultSpot::Template { text, .. } => find_template(text, error, layouts),
    };
    let message = match span {
        Some(_) => error.message.clone(),
        None => error.to_string(),
    };
    Diagnostic { span, ..Diagnostic::new(message) }
}

/// Returns the place of a template: a shop's own files are looked through before the built-in ones.
fn find_template(template: &str, error: &WordsError, layouts: &Layouts) -> Option<Span> {
    let mut files: Vec<(&str, &str)> = layouts.below("words/").collect();
    files.sort_by_key(|(path, _)| layouts.own(path).is_none());
    files.into_iter().find_map(|(path, text)| {
        let table = DeTable::parse(text).ok()?;
        let mut found = None;
        for_each_text(table.get_ref(), &mut |there, span| {
            if there == template && found.is_none() {
                found = Some(within(text, &span, template, error));
            }
        });
        found.map(|bytes| Span { file: layouts.name(path), bytes })
    })
}

/// The bytes of a file at which a template goes wrong. A text in TOML may hold escapes and folded
/// lines, so the piece is looked for as it is written; failing that, the text as a whole.
fn within(file: &str, text: &Range<usize>, template: &str, error: &WordsError) -> Range<usize> {
    let exact = || {
        let FaultSpot::Template { bytes, .. } = &error.spot else { return None };
        let piece = template.get(bytes.clone()).filter(|piece| !piece.trim().is_empty())?;
        let before = template.get(..bytes.start)?.matches(piece).count();
        let written = file.get(text.clone())?;
        let (start, _) = written.match_indices(piece).nth(before)?;
        Some(text.start + start..text.start + start + piece.len())
    };
    exact().unwrap_or_else(|| text.clone())
}
