//! Findings in words: their notices, their acts, and the short sentences for page one.

use std::collections::BTreeMap;

use minijinja::Value;

use crate::base::lists::each_once;
use crate::base::names::Key;
use crate::judge::checks::{self, Check, Finding, FindingPlace, Severity};
use crate::papers::proposal::page::Notice;
use crate::papers::proposal::writer::Writer;
use crate::say::acts::{Acts, Priced};
use crate::say::words::CheckText;

/// Findings of one check that say the same, with the floors that they are about.
pub struct FindingGroup {
    pub check: &'static Check,
    pub severity: Severity,
    pub notice: Notice,
    pub about: Vec<Key>,
}

/// Dangers of work and coats, beside those of the slab and the house.
const OF_A_FLOOR: &[&Check] = &[
    &checks::isocyanate::CHECK,
    &checks::skin_allergy::CHECK,
    &checks::silica::CHECK,
    &checks::wet_slip::CHECK,
    &checks::flammable_solvent::CHECK,
];

/// Returns the place of a finding's words, for messages.
fn place(finding: &Finding) -> String {
    format!("checks: {}", finding.check.name)
}

impl<'a> Writer<'a> {
    /// Findings of some places as notices, most serious first.
    pub fn notices(&self, places: &[FindingPlace]) -> Vec<Notice> {
        let mut all = vec![];
        for place in places {
            let shown = |f: &&Finding| f.check.place == *place && !self.is_beside_the_point(f);
            all.extend(self.grouped(self.findings.iter().filter(shown)));
        }
        all.sort_by_key(|group| std::cmp::Reverse(group.severity));
        if self.recommendation.floor.is_none() {
            // Where no floor has a price, one word on a subject is enough: the most serious.
            let mut told: Vec<&Check> = vec![];
            all.retain(|group| {
                let new = group.severity >= Severity::Wait || !told.contains(&group.check);
                told.push(group.check);
                new
            });
        }
        let named = all.into_iter().map(|group| {
            let names: Vec<String> = group.about.iter().map(|key| self.floor_name(key)).collect();
            Notice { about: self.figures.list(&names), ..group.notice }
        });
        named.collect()
    }

    /// Findings in words; those that say the same of several floors are one.
    pub fn grouped<'f>(&self, findings: impl Iterator<Item = &'f Finding>) -> Vec<FindingGroup> {
        let mut groups: Vec<FindingGroup> = vec![];
        for finding in findings {
            let notice = self.notice(finding);
            let about = finding.option.clone();
            match groups.iter_mut().find(|g| g.check == finding.check && g.notice == notice) {
                Some(group) => group.about.extend(about),
                None => groups.push(FindingGroup {
                    check: finding.check,
                    severity: finding.severity,
                    notice,
                    about: about.into_iter().collect(),
                }),
            }
        }
        groups
    }

    /// True for what would only bury what matters: less than a stop about a floor that has no price, and, where
    /// none has one, what can happen only while a floor is laid or lies there.
    pub(super) fn is_beside_the_point(&self, finding: &Finding) -> bool {
        if self.recommendation.floor.is_none() {
            let of_a_floor =
                finding.check.place == FindingPlace::Floors || OF_A_FLOOR.contains(&finding.check);
            return of_a_floor && finding.severity < Severity::Wait;
        }
        let off = finding.option.as_ref().is_some_and(|key| !self.recommendation.prices(key));
        off && finding.severity != Severity::Stop
    }

    /// Returns the words of a finding's check.
    pub(super) fn check_text(&self, finding: &Finding) -> &'a CheckText {
        &self.words.checks[finding.check.name]
    }

    /// A finding in words.
    pub fn notice(&self, finding: &Finding) -> Notice {
        let text = self.check_text(finding);
        let values = self.finding_values(finding);
        let fill = |template: &str| self.fill(template, &values, &place(finding));
        let Acts { we, you, priced } = self.acts(finding);
        Notice {
            severity: finding.severity.word(),
            word: self.plain(&format!("severity.{}", finding.severity.word())),
            title: fill(&text.title),
            says: self.with_rule(fill(&text.says), finding),
            we,
            you,
            priced: match (priced, self.test_price(finding)) {
                (Some(Priced::OnRequest), Some(price)) => self.say("acts.test", [("price", price)]),
                (Some(Priced::OnRequest), None)
                    if finding.check == &checks::wet_slip::CHECK && finding.says_yes("grip") =>
                {
                    self.plain("acts.to_mark")
                }
                (Some(priced), _)
                    if priced == Priced::OnRequest || self.recommendation.floor.is_some() =>
                {
                    self.plain(&format!("acts.{}", priced.word()))
                }
                // Where nothing has a price, nothing is in it.
                _ => String::new(),
            },
            basis: self.basis(finding),
            about: String::new(),
        }
    }

    /// Returns the price of a moisture test, where that is the shop's part and the shop gives one.
    /// A paper without a price has none for a test either.
    fn test_price(&self, finding: &Finding) -> Option<String> {
        let priced =
            finding.check.place == FindingPlace::Moisture && self.recommendation.floor.is_some();
        let price = self.case.shop.testing.price.filter(|_| priced)?;
        Some(self.money(price))
    }

    /// Returns the acts that answer a finding, and whose they are.
    pub fn acts(&self, finding: &Finding) -> Acts {
        let text = self.check_text(finding);
        self.keep_fault(Acts::of(text, finding.check, &self.finding_values(finding)))
    }

    /// Returns a short sentence of each finding that has one, each once: for page one, why not, what
    /// first.
    pub(super) fn short_sentences<'f>(
        &self,
        findings: impl Iterator<Item = &'f Finding>,
        template: fn(&CheckText) -> Option<&String>,
    ) -> Vec<String> {
        each_once(findings.filter_map(|finding| {
            let template = template(self.check_text(finding))?;
            let text = self.fill(template, &self.finding_values(finding), &place(finding));
            (!text.is_empty()).then_some(text)
        }))
    }

    pub(super) fn finding_values(&self, finding: &Finding) -> Value {
        let (measured, limit) = self.measured_and_limit(finding);
        let floor = finding.option.as_ref().map(|key| self.the_name(key));
        let known = [("measured", measured), ("limit", limit), ("floor", floor)];
        let known = known.into_iter().filter_map(|(name, text)| Some((name, text?.into())));
        let own = finding.values.iter().map(|(name, value)| (*name, self.figure(value.clone())));
        let mut map: BTreeMap<&str, Value> = known.collect();
        map.extend(own.map(|(name, text)| (name, text.into())));
        map.insert("severity", finding.severity.word().into());
        map.insert("us_rules", self.is_us().into());
        Value::from_pairs(map)
    }

    /// Returns what was measured, its limit, and where that comes from.
    fn basis(&self, finding: &Finding) -> String {
        let (measured, limit) = self.measured_and_limit(finding);
        let source = finding.source.unwrap_or(finding.check.source);
        let facts = [
            ("measured", measured.unwrap_or_default()),
            ("limit", limit.unwrap_or_default()),
            ("source", self.source_name(finding, source)),
        ];
        self.say("sources.basis", facts)
    }
}
