//! Templates: sentences with places for figures.
//!
//! Templates run in minijinja with strict undefined variables and a limit on work. What a person
//! typed goes in as a value and comes out as text: it is never a template itself.

use std::io::{self, Write};
use std::sync::LazyLock;

use minijinja::{AutoEscape, Environment, UndefinedBehavior, Value};

use crate::read::limits;
use crate::say::words::{FaultSpot, WordsError};

/// Puts values into a template.
///
/// # Errors
/// [`WordsError`] when the template cannot be read, uses a value that is not there, never ends or gives too much.
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
    let mut text = Bounded::default();
    let read = environment.template_from_str(template);
    let filled = read.and_then(|read| read.render_captured_to(values, &mut text).map(drop));
    let is_full = text.is_full;
    filled.map_err(|error| {
        let mut fault = fault(template, place, &error);
        if is_full {
            fault.message = format!("it gives more than {} bytes of text", limits::FILLED_BYTES);
        }
        fault
    })?;
    Ok(String::from_utf8_lossy(&text.bytes).into_owned())
}

/// Text of no more than [`limits::FILLED_BYTES`]: a loop may give much with little work.
#[derive(Default)]
struct Bounded {
    bytes: Vec<u8>,
    is_full: bool,
}

impl Write for Bounded {
    fn write(&mut self, more: &[u8]) -> io::Result<usize> {
        self.is_full = self.bytes.len() + more.len() > limits::FILLED_BYTES;
        if self.is_full {
            return Err(io::ErrorKind::OutOfMemory.into());
        }
        self.bytes.extend(more);
        Ok(more.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_template_that_never_ends_or_gives_too_much_is_refused() {
        let nothing = Value::from(());
        let turns = "{% for a in range(9999) %}{% for b in range(9999) %}{% endfor %}{% endfor %}";
        let endless = fill(turns, &nothing, "mail").map_err(|error| error.message);
        assert!(endless.as_ref().is_err_and(|why| why.contains("fuel")), "{endless:?}");
        let much = format!("{{% for a in range(9999) %}}{}{{% endfor %}}", "word ".repeat(200));
        let much = fill(&much, &nothing, "mail").map_err(|error| error.message);
        assert_eq!(much, Err("it gives more than 4194304 bytes of text".to_owned()));
        let some = fill("{% for a in range(3) %}word {% endfor %}", &nothing, "mail");
        assert_eq!(some.map_err(|error| error.message), Ok("word word word".to_owned()));
    }
}
