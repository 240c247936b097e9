//! What is said of several spaces, said once: each sentence with the spaces that it is about.

use crate::base::lists::each_once;
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
    let mut said: Vec<(String, Vec<String>)> = vec![];
    for (name, w) in s.named() {
        for sentence in of(w) {
            match said.iter_mut().find(|(known, _)| *known == sentence) {
                Some((_, names)) => names.push(name.to_owned()),
                None => said.push((sentence, vec![name.to_owned()])),
            }
        }
    }
    let all = s.writers.len();
    let w = s.w();
    let line = |(sentence, names): (String, Vec<String>)| {
        if names.len() == all { sentence } else { w.headed(&names.join(", "), &sentence) }
    };
    said.into_iter().map(line).collect()
}

/// Dangers to people in all spaces: what is the same in several is one notice.
pub fn safety(s: &Spaces<'_>) -> Safety {
    let mut notices: Vec<(Notice, Vec<String>)> = vec![];
    let mut parts: Vec<Safety> = vec![];
    for (name, w) in s.named() {
        let own = safety::safety(w);
        for notice in &own.notices {
            let (plain, about) = (Notice { about: String::new(), ..notice.clone() }, &notice.about);
            let about = if about.is_empty() { name.to_owned() } else { w.headed(name, about) };
            match notices.iter_mut().find(|(known, _)| *known == plain) {
                Some((_, names)) => names.push(about),
                None => notices.push((plain, vec![about])),
            }
        }
        parts.push(own);
    }
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
    let w = s.w();
    let of_all = |asked: &Claim| {
        let own = spaces.iter().filter_map(|(name, claims)| {
            let claim = claims.claims.iter().find(|claim| claim.key == asked.key)?;
            Some((*name, claim))
        });
        let own: Vec<(&str, &Claim)> = own.collect();
        let (_, claim) = own.first()?;
        let mut said: Vec<(&str, Vec<&str>)> = vec![];
        for (name, claim) in own.iter().filter(|(_, claim)| !claim.here.is_empty()) {
            match said.iter_mut().find(|(known, _)| *known == claim.here) {
                Some((_, names)) => names.push(name),
                None => said.push((&claim.here, vec![name])),
            }
        }
        let line = |(here, names): &(&str, Vec<&str>)| {
            if names.len() == s.writers.len() {
                (*here).to_owned()
            } else {
                w.headed(&names.join(", "), here)
            }
        };
        Some(Claim { here: joined(said.iter().map(line)), ..(*claim).clone() })
    };
    let claims = w.words.claims.claims.iter().filter_map(of_all).collect();
    Some(Claims { claims, ..first.clone() })
}

/// Tests and figures of all spaces with their sources.
pub fn sources(s: &Spaces<'_>) -> Sources {
    let mut tests: Vec<TestRow> = vec![];
    let mut rows: Vec<(SourceRow, Vec<&str>)> = vec![];
    let mut intro = String::new();
    for (name, w) in s.named() {
        let own = sources::sources(w, &w.context());
        intro = own.intro;
        tests.extend(
            own.tests.into_iter().map(|row| TestRow { test: w.headed(name, &row.test), ..row }),
        );
        for row in own.rows {
            match rows.iter_mut().find(|(known, _)| *known == row) {
                Some((_, names)) => names.push(name),
                None => rows.push((row, vec![name])),
            }
        }
    }
    // A figure that is not of all spaces says of which it is.
    let w = s.w();
    let row = |(row, names): (SourceRow, Vec<&str>)| {
        let all = names.len() == s.writers.len();
        SourceRow {
            what: if all { row.what } else { w.headed(&names.join(", "), &row.what) },
            ..row
        }
    };
    let rows = rows.into_iter().map(row).collect();
    let assumptions = by_space(s, |w| sources::sources(w, &w.context()).assumptions);
    Sources { intro, tests, rows, assumptions }
}
