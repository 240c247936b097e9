//! The look of the floor as the customer chose it: what is open stays a line to write on.

use serde::Serialize;

use crate::papers::proposal::writer::Writer;

/// One choice: its label, and what was chosen; empty where it is still open.
#[derive(Debug, Clone, Serialize)]
pub struct LookChoice {
    pub label: String,
    pub value: String,
}

/// Returns the choices of every floor, then those that were made beside them, in the order of the leaf that is signed.
pub fn look(w: &Writer<'_>) -> Vec<LookChoice> {
    let chosen = &w.case.job.choices;
    let sample = chosen.sample.as_ref().map(|sample| {
        let facts = [("date", w.date(sample.on)), ("initials", sample.initials.clone())];
        w.say("accept.choice.sample_seen", facts)
    });
    let all = [
        ("accept.choice.color", &chosen.color, true),
        ("accept.choice.flake_size", &chosen.flake_size, false),
        ("accept.choice.texture", &chosen.texture, true),
        ("accept.choice.gloss", &chosen.gloss, false),
        ("accept.choice.sample", &sample, true),
    ];
    let wanted = all.into_iter().filter(|(_, value, always)| *always || value.is_some());
    wanted
        .map(|(label, value, _)| LookChoice {
            label: w.plain(label),
            value: value.clone().unwrap_or_default(),
        })
        .collect()
}

/// Returns the choices that were made.
pub fn look_chosen(w: &Writer<'_>) -> Vec<LookChoice> {
    look(w).into_iter().filter(|choice| !choice.value.is_empty()).collect()
}
