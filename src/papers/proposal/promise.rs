//! The shop's own promise, and what no coating can promise.

use crate::papers::proposal::page::Promise;
use crate::papers::proposal::writer::{Writer, text_if};

pub fn promise(w: &Writer<'_>) -> Promise {
    let text = &w.words.promise;
    let priced = !w.priced().is_empty();
    let warranty = if priced { w.case.shop.warranty.clone() } else { vec![] };
    Promise {
        warranty,
        cannot_intro: text_if(priced, &text.cannot_intro),
        cannot: if priced { flake_or_color(w, &text.cannot) } else { vec![] },
    }
}

/// Fills in lists that say flake where a floor with a price has some, and color where none has.
pub fn flake_or_color(w: &Writer<'_>, lines: &[String]) -> Vec<String> {
    with_flake(w, w.priced().iter().any(|option| option.floor.has_flake()), lines)
}

/// The same for floors that are known to have flake, or none.
pub fn with_flake(w: &Writer<'_>, flake: bool, lines: &[String]) -> Vec<String> {
    let facts = minijinja::context! { flake };
    lines.iter().map(|line| w.fill(line, &facts, "promise.toml")).collect()
}
