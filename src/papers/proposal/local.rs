//! Local rules: the source of a finding, and the rule that stands beside it.

use crate::judge::checks::{Finding, Source};
use crate::model::rules::{Jurisdiction, LocalRule, Subject};
use crate::papers::proposal::page::LocalNotice;
use crate::papers::proposal::writer::Writer;

impl Writer<'_> {
    /// True where federal rules of the United States are known to hold.
    pub fn is_us(&self) -> bool {
        self.case.shop.jurisdiction().is_us()
    }

    /// Measured value and limit of a finding, told apart where they differ.
    pub fn measured_and_limit(&self, finding: &Finding) -> (Option<String>, Option<String>) {
        match (&finding.measured, &finding.limit) {
            (Some(measured), Some(limit)) => {
                let (measured, limit) = self.figures.told_apart(measured, limit);
                (Some(measured), Some(limit))
            }
            (measured, limit) => {
                let text = |figure| self.figures.write(figure);
                (measured.as_ref().map(text), limit.as_ref().map(text))
            }
        }
    }

    /// Returns the name of a source on paper. A rule of the United States is one there alone.
    pub(super) fn source_name(&self, finding: &Finding, source: Source) -> String {
        let named = |name: &str| -> String {
            let own = self.check_text(finding).source.clone();
            own.unwrap_or_else(|| name.to_owned())
        };
        match source {
            Source::Published(name) => named(name),
            Source::Unverified(name) => self.say("sources.unverified", [("name", named(name))]),
            Source::Rule(subject, name) => match self.case.shop.jurisdiction() {
                Jurisdiction::UnitedStates => named(name),
                Jurisdiction::Unsaid if subject == Subject::Cancel => named(name),
                Jurisdiction::Other(_) | Jurisdiction::Unsaid => self.local_source(subject),
            },
            Source::DataSheet => self.plain("sources.data_sheet"),
            Source::Shop => self.plain("sources.shop"),
            Source::CommonPractice => self.plain("sources.common"),
        }
    }

    /// Returns the source of the shop's rules on a subject, or that the authority is to be asked.
    fn local_source(&self, subject: Subject) -> String {
        let names = self.case.shop.rules_on(subject).map(|rule| self.read_at(rule));
        let names: Vec<String> = names.collect();
        match names.is_empty() {
            true => self.plain("sources.ask"),
            false => self.figures.list(&names),
        }
    }

    fn read_at(&self, rule: &LocalRule) -> String {
        let read = [("source", rule.source.clone()), ("date", self.date(rule.checked))];
        self.say("sources.read", read)
    }

    /// Returns the shop's rules on a subject, as a sentence; empty when it has none.
    pub fn local_rule(&self, subject: Subject) -> String {
        let texts: Vec<&str> =
            self.case.shop.rules_on(subject).map(|rule| rule.text.as_str()).collect();
        match texts.is_empty() {
            true => String::new(),
            false => self.say("sources.local_rule", [("text", texts.join(" "))]),
        }
    }

    /// Returns the text of a finding, with the local rule on its check's subject.
    pub(super) fn with_rule(&self, says: String, finding: &Finding) -> String {
        let rule = match finding.check.source {
            Source::Rule(subject, _) => self.local_rule(subject),
            _ => String::new(),
        };
        if rule.is_empty() { says } else { format!("{says} {rule}") }
    }

    /// Returns the notices that the customer's paper has to carry where the shop works.
    pub(super) fn local_notices(&self) -> Vec<LocalNotice> {
        let notices = self.case.shop.notices.iter().map(|notice| {
            let read = [("source", notice.source.clone()), ("date", self.date(notice.checked))];
            LocalNotice {
                title: notice.title.clone(),
                text: notice.text.clone(),
                source: self.say("accept.notice_source", read),
            }
        });
        notices.collect()
    }
}
