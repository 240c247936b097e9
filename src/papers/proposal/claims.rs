//! Part 5: claims a homeowner may hear, each tied to this slab's figures.

use minijinja::Value;

use crate::papers::proposal::writer::Writer;
use crate::say::words::{Claim, Claims};

/// Claims that compare floors: heard where there is a choice, of a floor that cars stand on. One runs down epoxy, one speaks of fast-cure
/// coats, so that neither gets more room than the other.
const OF_A_CHOICE: &[&str] = &["hot-tires", "stronger"];
/// Claims about thin kits: heard where such a floor is on offer.
const OF_A_KIT: &[&str] = &["store-kit"];

/// Returns the claims that apply to a proposal with a price; `None` without one.
pub fn claims(w: &Writer<'_>, context: &Value) -> Option<Claims> {
    let priced = w.priced();
    if priced.is_empty() {
        return None;
    }
    let thin = priced.iter().any(|option| option.floor.is_thin());
    let applies = |claim: &Claim| {
        let key = claim.key.as_str();
        let is_choice = priced.len() > 1 && w.case.job.has_cars();
        (is_choice || !OF_A_CHOICE.contains(&key)) && (thin || !OF_A_KIT.contains(&key))
    };
    let mut claims = w.words.claims.clone();
    claims.claims.retain(applies);
    for claim in &mut claims.claims {
        let place = format!("claims.toml: {}", claim.key);
        for text in [&mut claim.truth, &mut claim.leaves_out, &mut claim.here] {
            *text = w.fill(text, context, &place);
        }
    }
    Some(claims)
}
