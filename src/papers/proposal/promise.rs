//! Part 8: the shop's own promise, what no coating can promise, and care.

use crate::papers::proposal::page::Promise;
use crate::papers::proposal::writer::{Writer, text_if};

pub fn promise(w: &Writer<'_>) -> Promise {
    let text = &w.words.promise;
    let warranty = w.case.shop.warranty.clone();
    Promise {
        warranty_intro: text_if(!warranty.is_empty(), &text.warranty_intro),
        warranty,
        cannot_intro: text.cannot_intro.clone(),
        cannot: text.cannot.clone(),
        care_intro: text.care_intro.clone(),
        care: text.care.clone(),
    }
}
