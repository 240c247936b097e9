//! Warnings for a crew on this job: findings of the checks that bear on its work, in short.

use serde::Serialize;

use crate::base::figure::Figure;
use crate::judge::checks::{self, Finding, Severity, old_coating_lead};
use crate::papers::proposal::writer::{Writer, values};
use crate::price::case::FloorOption;
use crate::say::words::WordsError;

/// A finding as a crew needs it: what it is, what to do about it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Watch {
    pub title: String,
    pub does: String,
}

/// Warnings, and things that nobody looked at on the visit.
pub struct Watched {
    pub items: Vec<Watch>,
    pub unseen: String,
}

/// Checks whose cautions bear on the work, in the order of the day. The rest is for the customer
/// or the office: prices, papers, how a floor looks and wears.
const FOR_THE_CREW: &[&str] = &[
    "start-closed-day",
    "day-overrun",
    "one-day-misses",
    "tile-glue",
    "old-coating-lead",
    "silica",
    "inside-slab",
    "moisture-unknown",
    "moisture-over-limit",
    "moisture-limit-unknown",
    "moisture-not-judged",
    "moisture-method",
    "moisture-test-old",
    "ground-contact",
    "concrete-age",
    "surface-strength",
    "surface-ph",
    "treatments",
    "water-drop",
    "oil",
    "salts",
    "moving-crack",
    "dew-point-spread",
    "slab-temperature",
    "air-humidity",
    "flammable-solvent",
    "isocyanate",
    "batch-gels",
    "batch-tight",
    "recoat-missed",
];

/// Checks that say when nobody looked, and that a crew can look at before it grinds.
const TO_LOOK_AT: &[&str] = &[
    "tile-glue",
    "old-coating-lead",
    "treatments",
    "oil",
    "salts",
    "water-drop",
    "surface-strength",
    "surface-ph",
];

/// True for a finding about a coating that nobody looked for.
fn nobody_looked(finding: &Finding) -> bool {
    let unknown = Figure::Text("unknown".to_owned());
    finding.values.iter().any(|(name, value)| *name == "coating" && *value == unknown)
}

/// Returns the findings for a floor that bear on the work.
///
/// # Errors
/// [`WordsError`] when a sentence is missing.
pub fn watch(w: &Writer<'_>, choice: &FloorOption<'_>) -> Result<Watched, WordsError> {
    let about =
        w.findings.iter().filter(|f| f.option.as_ref().is_none_or(|key| key == choice.key()));
    let (mut items, mut unseen): (Vec<Watch>, Vec<String>) = (vec![], vec![]);
    let mut found: Vec<_> = about
        .filter_map(|f| Some((FOR_THE_CREW.iter().position(|name| *name == f.check)?, f)))
        .collect();
    found.sort_by_key(|(at, _)| *at);
    for (_, finding) in found {
        let Some(check) = checks::check(finding.check) else { continue };
        let note = finding.severity == Severity::Note;
        if TO_LOOK_AT.contains(&finding.check) && (note || nobody_looked(finding)) {
            unseen.push(w.plain(&format!("crew.look.{}", finding.check))?);
        }
        if note {
            continue;
        }
        let (measured, limit) = w.measured_and_limit(finding);
        let known = minijinja::context! {
            measured => measured.unwrap_or_default(),
            limit => limit.unwrap_or_default(),
            us_rules => w.is_us(),
            lead => old_coating_lead::may_hold_lead(w.case.job),
        };
        let item = Watch {
            title: w.notice(finding, check.source)?.title,
            does: w.say(&format!("crew.watch.{}", finding.check), known)?,
        };
        if !items.contains(&item) {
            items.push(item);
        }
    }
    let unseen = match unseen.is_empty() {
        true => String::new(),
        false => w.say("crew.look.first", values([("things", w.figures.list(&unseen))]))?,
    };
    Ok(Watched { items, unseen })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_name_is_a_check() {
        for name in FOR_THE_CREW.iter().chain(TO_LOOK_AT) {
            assert!(checks::check(name).is_some(), "{name} is no check");
        }
        assert!(TO_LOOK_AT.iter().all(|name| FOR_THE_CREW.contains(name)));
    }
}
