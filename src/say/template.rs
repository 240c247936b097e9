//! Templates: sentences with places for figures.
//!
//! Templates run in minijinja with strict undefined variables and a limit on work. What a person
//! typed goes in as a value and comes out as text: it is never a template itself.

use std::sync::LazyLock;

use minijinja::{AutoEscape, Environment, UndefinedBehavior, Value};

use crate::read::limits;
use crate::say::words::{FaultSpot, WordsError};

/// Puts values into a template.
///
/// # Errors
/// [`WordsError`] when the template cannot be read, uses a value that is not there, or never ends.
pub fn fill(template: &str, values: &Value, place: &str) -> Result<String, WordsError> {
    if !template.contains('{') {
        return Ok(template.trim().to_owned());
    }
    render(template, values, AutoEscape::None, place).map(|text| tidy(&text))
}

/// Puts values into an HTML file: each is escaped, so that it is text there too.
///
/// # Errors
/// As [`fill`].
pub fn fill_html(template: &str, values: &Value, place: &str) -> Result<String, WordsError> {
    render(template, values, AutoEscape::Html, place)
}

fn render(
    template: &str,
    values: &Value,
    escape: AutoEscape,
    place: &str,
) -> Result<String, WordsError> {
    let environment = match escape {
        AutoEscape::Html => &*HTML,
        _ => &*TEXT,
    };
    environment.render_str(template, values).map_err(|error| fault(template, place, &error))
}

/// Looks whether a template can be read at all, without filling it in.
///
/// # Errors
/// [`WordsError`] when its syntax is wrong.
pub fn readable(template: &str, place: &str) -> Result<(), WordsError> {
    let read = TEXT.template_from_str(template).map(drop);
    read.map_err(|error| fault(template, place, &error))
}

/// Environments for sentences and for files of HTML: made once, for there are hundreds of
/// sentences.
static TEXT: LazyLock<Environment<'static>> = LazyLock::new(|| environment(AutoEscape::None));
static HTML: LazyLock<Environment<'static>> = LazyLock::new(|| environment(AutoEscape::Html));

fn environment(escape: AutoEscape) -> Environment<'static> {
    let mut environment = Environment::new();
    environment.set_undefined_behavior(UndefinedBehavior::Strict);
    environment.set_auto_escape_callback(move |_| escape.clone());
    environment.set_fuel(Some(limits::FUEL));
    environment
}

fn fault(template: &str, place: &str, error: &minijinja::Error) -> WordsError {
    let kind = error.kind();
    WordsError {
        place: place.to_owned(),
        message: error.detail().map_or_else(|| kind.to_string(), |more| format!("{kind}: {more}")),
        spot: FaultSpot::Template {
            text: template.to_owned(),
            bytes: error.range().unwrap_or_default(),
        },
    }
}

/// One space between words; the no-break spaces of figures stay as they are. A time of the clock that
/// ends in a dot (`6 p. m.`) ends its sentence, too.
fn tidy(text: &str) -> String {
    let words: Vec<_> = text.split([' ', '\n', '\t']).filter(|part| !part.is_empty()).collect();
    words.join(" ").replace("\u{a0}m..", "\u{a0}m.")
}
