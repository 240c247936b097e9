//! Part 5: claims a homeowner may hear, each tied to this slab's figures.

use minijinja::Value;

use crate::papers::proposal::page::{Claim, Claims};
use crate::papers::proposal::writer::Writer;
use crate::say::words::{WordsError, fill};

pub fn claims(w: &Writer<'_>, context: &Value) -> Result<Claims, WordsError> {
    let text = &w.words.claims;
    let claims = text.claim.iter().map(|claim| {
        let put = |template: &str| fill(template, context, &format!("claims.toml: {}", claim.key));
        Ok(Claim {
            heard: claim.heard.clone(),
            truth: put(&claim.truth)?,
            leaves_out: put(&claim.leaves_out)?,
            here: put(&claim.here)?,
        })
    });
    Ok(Claims {
        intro: text.intro.clone(),
        claims: claims.collect::<Result<_, _>>()?,
        questions_intro: text.questions_intro.clone(),
        questions: text.questions.clone(),
    })
}
