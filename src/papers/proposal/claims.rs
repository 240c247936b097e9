//! Part 5: claims a homeowner may hear, each tied to this slab's figures.

use minijinja::Value;

use crate::papers::proposal::writer::Writer;
use crate::say::words::Claims;

/// Returns the claims, for a proposal with a price.
pub fn claims(w: &Writer<'_>, context: &Value) -> Option<Claims> {
    w.first()?;
    let mut claims = w.words.claims.clone();
    for claim in &mut claims.claims {
        let place = format!("claims.toml: {}", claim.key);
        for text in [&mut claim.truth, &mut claim.leaves_out, &mut claim.here] {
            *text = w.fill(text, context, &place);
        }
    }
    Some(claims)
}
