//! Boxes that a crew ticks for safety: before the work, before a can is opened, while a coat goes
//! down, before it leaves.

use serde::Serialize;

use crate::papers::prepare::controls::template_values;
use crate::papers::proposal::writer::Writer;
use crate::price::case::FloorOption;

/// Boxes to tick at one moment of the job.
#[derive(Debug, Clone, Serialize)]
pub struct Ticks {
    pub title: String,
    pub items: Vec<String>,
}

/// The moments, in the order of the job.
const MOMENTS: &[&str] = &["before", "can", "coating", "leaving"];

/// All that is ticked off; a moment without anything to tick is left out.
pub fn ticks(w: &Writer<'_>, option: &FloorOption<'_>) -> Vec<Ticks> {
    let facts = template_values(w, option);
    let mut all = vec![];
    for moment in MOMENTS {
        let text = |key: &str| format!("crew.ticks.{moment}.{key}");
        let items = w.lines(&text("items"), &facts);
        if !items.is_empty() {
            all.push(Ticks { title: w.plain(&text("title")), items });
        }
    }
    all
}
