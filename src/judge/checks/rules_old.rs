//! `rules-old`: a rule, a notice or a limit of the place that the shop read longer ago than it allows
//! itself.
//!
//! A note for the shop alone: law changes, and what a paper says of it is no better than the day on which
//! it was read. The bound is the shop's own; without one nothing is found.

use jiff::civil::Date;

use crate::base::figure::Figure;
use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::model::rules::Subject;
use crate::price::case::Case;

pub const CHECK: Check =
    Check::new("rules-old", FindingPlace::Shop, Source::Shop, find).severities(&[Severity::Note]);

fn find(case: &Case<'_>) -> Vec<Finding> {
    let shop = case.shop;
    let Some(days) = shop.limits.checked_within else { return vec![] };
    let limits = [
        ("voc", shop.limits.voc_read.checked),
        ("deposit-share", shop.limits.deposit_read.checked),
    ];
    let limits = limits.into_iter().filter_map(|(name, on)| Some((name.to_owned(), on?)));
    let notices = shop.notices.iter().map(|notice| (notice.title.clone(), notice.checked));
    let rules = shop.rules.iter().map(|rule| (subject(rule.subject), rule.checked));
    let old = |on: Date| (case.job.date - on).get_days() > i32::try_from(days).unwrap_or(i32::MAX);
    let old: Vec<(String, Date)> =
        rules.chain(notices).chain(limits).filter(|(_, on)| old(*on)).collect();
    let Some(oldest) = old.iter().map(|(_, on)| *on).min() else { return vec![] };
    let names = old.into_iter().map(|(name, _)| name).collect();
    vec![
        CHECK
            .note()
            .measured(oldest)
            .limit(Figure::Days(days))
            .value("names", Figure::Texts(names)),
    ]
}

/// The word of a subject in the shop file.
fn subject(of: Subject) -> String {
    let word = Subject::WORDS.iter().find(|(_, subject)| *subject == of);
    word.map_or_else(String::new, |(word, _)| (*word).to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;

    /// The sample's job is of May 12, 2026: 365 days after May 12, 2025.
    fn read_on(day: &str) -> Sample {
        sample().shop("limits.rules-checked-within", "365").shop("limits.deposit-checked", day)
    }

    #[test]
    fn fires_and_stays_silent() {
        CHECK.says([
            (read_on("2025-05-11"), "", NOTE),
            (read_on("2025-05-12"), "barrier", SILENT),
            // Without a bound nothing is too old.
            (read_on("2001-01-01").without_shop("limits.rules-checked-within"), "barrier", SILENT),
        ]);
    }

    /// An old rule goes by the name that the shop file has for it, and by the day that is longest ago.
    #[test]
    fn what_is_old_is_named() {
        let rule = |subject: &str, day: &str| {
            format!(
                "{{ subject = \"{subject}\", text = \"A rule\", source = \"Its law\", checked = {day} }}"
            )
        };
        let rules = [rule("fire", "2025-01-02"), rule("dust", "2026-05-01")].join(", ");
        let old = read_on("2025-05-11").shop("rule", &format!("[{rules}]"));
        let names = ["fire", "deposit-share"].map(str::to_owned).to_vec();
        assert_eq!(old.values(&CHECK, "names"), [Figure::Texts(names)]);
        let oldest = old.findings(&CHECK)[0].measured.clone();
        assert_eq!(oldest, Some(jiff::civil::date(2025, 1, 2).into()));
    }
}
