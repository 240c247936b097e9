//! Part 5: claims a homeowner may hear, each tied to this slab's figures.

use minijinja::Value;

use crate::papers::proposal::page::{Claim, Claims};
use crate::papers::proposal::writer::Writer;

pub fn claims(w: &Writer<'_>, context: &Value) -> Claims {
    let text = &w.words.claims;
    let claims = text.claim.iter().map(|claim| {
        let put =
            |template: &str| w.fill(template, context, &format!("claims.toml: {}", claim.key));
        Claim {
            heard: claim.heard.clone(),
            truth: put(&claim.truth),
            leaves_out: put(&claim.leaves_out),
            here: put(&claim.here),
        }
    });
    Claims {
        intro: text.intro.clone(),
        claims: claims.collect(),
        questions_intro: text.questions_intro.clone(),
        questions: text.questions.clone(),
    }
}
