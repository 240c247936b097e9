//! Local rules: the source of a finding, and the rule that stands beside it.

use jiff::civil::Date;

use crate::judge::checks::{self, Finding, Source};
use crate::model::rules::{Jurisdiction, NoticePaper, Subject};
use crate::papers::proposal::page::LocalNotice;
use crate::papers::proposal::writer::{Writer, joined};

impl Writer<'_> {
    /// True where federal rules of the United States are known to hold.
    pub fn is_us(&self) -> bool {
        self.case.shop.jurisdiction().is_us()
    }

    /// Measured value and limit of a finding, told apart where they differ.
    pub fn measured_and_limit(&self, finding: &Finding) -> (Option<String>, Option<String>) {
        if let (Some(measured), Some(limit)) = (&finding.measured, &finding.limit) {
            let (measured, limit) = self.figures.told_apart(measured, limit);
            return (Some(measured), Some(limit));
        }
        let text = |figure| self.figures.write(figure);
        (finding.measured.as_ref().map(text), finding.limit.as_ref().map(text))
    }

    /// Returns the name of a source on paper. A rule of the United States is one there alone.
    pub(super) fn source_name(&self, finding: &Finding, source: Source) -> String {
        let own = self.check_text(finding).source.as_ref();
        let named = |name: &str| own.map_or(name, String::as_str).to_owned();
        match source {
            Source::Published(name) => named(name),
            Source::Unverified(name) => self.say("sources.unverified", [("name", named(name))]),
            Source::Rule(subject, name) => match self.case.shop.jurisdiction() {
                Jurisdiction::UnitedStates => named(name),
                Jurisdiction::Unsaid if subject == Subject::Cancel => named(name),
                Jurisdiction::Other(_) | Jurisdiction::Unsaid => self.local_source(subject),
            },
            Source::DataSheet => self.plain("sources.data_sheet"),
            Source::Shop => self.limit_source(finding),
            Source::CommonPractice => self.plain("sources.common"),
        }
    }

    /// Returns the source of the shop's rules on a subject, or that the authority is to be asked.
    fn local_source(&self, subject: Subject) -> String {
        let names = self.case.shop.rules_on(subject);
        let names: Vec<String> =
            names.map(|rule| self.read_at("sources.read", &rule.source, rule.checked)).collect();
        if names.is_empty() { self.plain("sources.ask") } else { self.figures.list(&names) }
    }

    /// Returns the source that the shop names for a limit of its place; else that the shop set it.
    fn limit_source(&self, finding: &Finding) -> String {
        let limits = &self.case.shop.limits;
        let read = match finding.check {
            check if check == &checks::voc_over_limit::CHECK => Some(&limits.voc_read),
            check if check == &checks::deposit_capped::CHECK => Some(&limits.deposit_read),
            _ => None,
        };
        match read.map(|read| (read.source.as_deref(), read.checked)) {
            Some((Some(source), Some(checked))) => self.read_at("sources.read", source, checked),
            Some((Some(source), None)) => source.to_owned(),
            _ => self.plain("sources.shop"),
        }
    }

    /// Returns a source with the day on which the shop read it.
    fn read_at(&self, name: &str, source: &str, checked: Date) -> String {
        self.say(name, [("source", source.to_owned()), ("date", self.date(checked))])
    }

    /// Returns the shop's rules on a subject, as a sentence; empty when it has none.
    pub fn local_rule(&self, subject: Subject) -> String {
        let texts: Vec<&str> =
            self.case.shop.rules_on(subject).map(|rule| rule.text.as_str()).collect();
        if texts.is_empty() {
            return String::new();
        }
        self.say("sources.local_rule", [("text", texts.join(" "))])
    }

    /// Returns the text of a finding, with the local rule on its check's subject.
    pub(super) fn with_rule(&self, says: String, finding: &Finding) -> String {
        let rule = match finding.check.source {
            Source::Rule(subject, _) => self.local_rule(subject),
            _ => String::new(),
        };
        joined([says, rule])
    }

    /// Returns the notices that a paper has to carry where the shop works.
    pub(crate) fn local_notices(&self, on: NoticePaper) -> Vec<LocalNotice> {
        let here = self.case.shop.notices.iter().filter(|notice| notice.printed_on.contains(&on));
        let notices = here.map(|notice| LocalNotice {
            title: notice.title.clone(),
            text: notice.text.clone(),
            source: {
                let facts = [
                    ("source", notice.source.clone()),
                    ("place", notice.place.clone().unwrap_or_default()),
                    ("date", self.date(notice.checked)),
                ];
                self.say("accept.notice_source", facts)
            },
        });
        notices.collect()
    }
}
