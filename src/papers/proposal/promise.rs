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
        cannot: if priced { text.cannot.clone() } else { vec![] },
    }
}
