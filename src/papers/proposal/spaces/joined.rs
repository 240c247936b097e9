//! What is said of several spaces, said once: each sentence with the spaces that it is about.

use crate::base::lists::{each_once, grouped};
use crate::papers::proposal::claims;
use crate::papers::proposal::page::{Notice, Safety, SourceRow, Sources, TestRow};
use crate::papers::proposal::safety;
use crate::papers::proposal::sources;
use crate::papers::proposal::spaces::Spaces;
use crate::papers::proposal::writer::{Writer, joined};
use crate::papers::usable::back_in_all;
use crate::say::words::{Claim, Claims};

/// Sentences of all spaces, each once, with the names of the spaces in front of those that are not about
/// all of them.
pub fn by_space(s: &Spaces<'_>, of: impl Fn(&Writer<'_>) -> Vec<String>) -> Vec<String> {
    let said = s.named().flat_map(|(name, w)| of(w).into_iter().map(move |said| (said, name)));
    grouped(said).into_iter().map(|(said, names)| of_some(s, said, &names)).collect()
}

/// A text with the names of the spaces that it is about in front, where those are not all.
fn of_some(s: &Spaces<'_>, says: String, names: &[&str]) -> String {
    if names.len() == s.writers.len() { says } else { s.w().headed(&names.join(", "), &says) }
}

/// Dangers to people in all spaces: what is the same in several is one notice.
pub fn safety(s: &Spaces<'_>) -> Safety {
    let parts: Vec<Safety> = s.writers.iter().map(safety::safety).collect();
    let own = s.named().zip(&parts).flat_map(|((name, w), part)| {
        part.notices.iter().map(move |notice| {
            let about = &notice.about;
            let about = if about.is_empty() { name.to_owned() } else { w.headed(name, about) };
            (Notice { about: String::new(), ..notice.clone() }, about)
        })
    });
    let mut notices = grouped(own);
    // As each space has them: the most serious first.
    let rank = |notice: &Notice| {
        ["stop", "wait", "caution", "note"].iter().position(|word| *word == notice.severity)
    };
    notices.sort_by_key(|(notice, _)| rank(notice));
    let notices =
        notices.into_iter().map(|(notice, about)| Notice { about: about.join("; "), ..notice });
    let extras = parts.iter().any(|part| !part.extras.is_empty());
    let some = parts.iter().any(|part| !part.always.is_empty());
    Safety {
        intro: parts[0].intro.clone(),
        notices: notices.collect(),
        always: if some { safety::always(s.w(), back_in_all(&s.writers)) } else { vec![] },
        extras: each_once(parts.iter().flat_map(|part| part.extras.clone())),
        air_note: joined(each_once(s.writers.iter().map(|w| safety::air_note(w, extras)))),
        defer: parts[0].defer.clone(),
    }
}

/// Claims that a customer may hear, with what is so in each space that has a floor.
pub fn claims(s: &Spaces<'_>) -> Option<Claims> {
    let spaces: Vec<(&str, Claims)> = s
        .first_floors()
        .into_iter()
        .filter_map(|(name, w, _)| Some((name, claims::claims(w, &w.context())?)))
        .collect();
    let (_, first) = spaces.first()?;
    let of_all = |asked: &Claim| {
        let own = spaces.iter().filter_map(|(name, claims)| {
            let claim = claims.claims.iter().find(|claim| claim.key == asked.key)?;
            Some((*name, claim))
        });
        let own: Vec<(&str, &Claim)> = own.collect();
        let (_, claim) = own.first()?;
        let here = own.iter().filter(|(_, claim)| !claim.here.is_empty());
        let said = grouped(here.map(|(name, claim)| (claim.here.clone(), *name))).into_iter();
        let here = joined(said.map(|(here, names)| of_some(s, here, &names)));
        Some(Claim { here, ..(*claim).clone() })
    };
    let claims = s.w().words.claims.claims.iter().filter_map(of_all).collect();
    Some(Claims { claims, ..first.clone() })
}

/// Tests and figures of all spaces with their sources.
pub fn sources(s: &Spaces<'_>) -> Sources {
    let mut tests: Vec<TestRow> = vec![];
    let mut rows: Vec<(SourceRow, &str)> = vec![];
    let mut intro = String::new();
    for (name, w) in s.named() {
        let own = sources::sources(w, &w.context());
        intro = own.intro;
        tests.extend(
            own.tests.into_iter().map(|row| TestRow { test: w.headed(name, &row.test), ..row }),
        );
        rows.extend(own.rows.into_iter().map(|row| (row, name)));
    }
    // A figure that is not of all spaces says of which it is.
    let row = |(row, names): (SourceRow, Vec<&str>)| SourceRow {
        what: of_some(s, row.what, &names),
        ..row
    };
    let rows = grouped(rows).into_iter().map(row).collect();
    let assumptions = by_space(s, |w| sources::sources(w, &w.context()).assumptions);
    Sources { intro, tests, rows, assumptions }
}
