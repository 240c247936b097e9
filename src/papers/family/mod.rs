//! Two small papers of the proposal's family, for the customer: the leaflet, handed out before
//! anyone talks money, and the care sheet, which stays with the floor. Like the proposal they have no
//! field for a cost, a margin or an hour of work.

mod care;
mod leaflet;

pub use care::{CareSheet, care_sheet};
pub use leaflet::{Leaflet, leaflet};

use minijinja::Value;

use crate::papers::proposal::writer::Writer;
use crate::say::words::{WordsError, fill};

/// Sentences of a list of `family.toml`; those that come out empty do not apply.
fn lines(w: &Writer<'_>, name: &str, facts: &Value) -> Result<Vec<String>, WordsError> {
    let templates = w.words.list(name)?;
    let filled = templates.iter().map(|template| fill(template, facts, name));
    let lines: Vec<String> = filled.collect::<Result<_, _>>()?;
    Ok(lines.into_iter().filter(|line| !line.is_empty()).collect())
}
