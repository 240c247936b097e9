//! The steps after a proposal was read: who does what, and by when.

use jiff::civil::Date;

use crate::judge::recommend::Headline;
use crate::papers::proposal::glance::first_steps;
use crate::papers::proposal::hangs::test_order;
use crate::papers::proposal::page::NextStep;
use crate::papers::proposal::writer::Writer;
use crate::price::signing::{TimeToSign, can_be_cancelled, time_to_sign};

/// Returns the next steps, at most seven.
pub fn next_steps(w: &Writer<'_>) -> Vec<NextStep> {
    let mut steps = Steps { w, steps: vec![] };
    let call = w.contact();
    match w.recommendation.headline {
        Headline::NotYet => {
            for step in first_steps(w) {
                steps.add("next.you", step);
            }
            steps.add("next.you", w.say("next.call_when_done", [("call", call)]));
            steps.add("next.we", w.plain("next.measure_again"));
        }
        _ if w.offered().is_empty() => {
            match test_order(w) {
                Some(_) => {
                    let until = [("call", call)];
                    steps.add("next.you", w.say("next.order_test", until));
                    steps.add("next.we", w.plain("next.test"));
                }
                None => {
                    steps.add("next.we", w.plain("next.ask_maker"));
                    steps.add("next.you", w.say("next.questions", [("call", call)]));
                }
            }
            steps.add("next.we", w.plain("next.new_proposal"));
        }
        _ => {
            let several = w.offered().len() > 1;
            let flake = w.offered().iter().any(|option| option.floor.has_flake());
            let facts = minijinja::context! { several, flake, call };
            steps.add("next.you", w.say_with("next.choose", facts));
            steps.add("next.you", sign_step(w));
            match w.start() {
                Some(start) => {
                    let start = w.figures.date_weekday(start);
                    steps.add("next.you", w.say("next.empty_by", [("start", start.as_str())]));
                    steps.add("next.we", w.say("next.start", [("start", start)]));
                }
                None => {
                    steps.add("next.we", w.plain("next.agree_days"));
                    steps.add("next.you", w.plain("next.empty"));
                }
            }
        }
    }
    steps.steps.truncate(7);
    steps.steps
}

/// The step to sign, with its last day and the start that it is for.
pub fn sign_step(w: &Writer<'_>) -> String {
    let kept = w.start().filter(|_| w.sign_by() < w.prices_until());
    let sign = [
        ("date", w.figures.date_weekday(w.sign_by())),
        ("start", kept.map_or_else(String::new, |date| w.figures.date_short(date))),
    ];
    w.say("next.sign", sign)
}

struct Steps<'w, 'a> {
    w: &'w Writer<'a>,
    steps: Vec<NextStep>,
}

impl Steps<'_, '_> {
    fn add(&mut self, who: &str, says: String) {
        if !says.is_empty() {
            self.steps.push(NextStep { who: self.w.plain(who), says });
        }
    }
}

impl Writer<'_> {
    /// Returns how the shop is reached: its telephone, else its mail address; empty without both.
    pub fn contact(&self) -> String {
        let shop = self.case.shop;
        shop.phone.clone().or_else(|| shop.email.clone()).unwrap_or_default()
    }

    /// The last day on which the prices hold, with its weekday.
    pub fn until(&self) -> String {
        self.figures.date_weekday(self.prices_until())
    }

    pub fn prices_until(&self) -> Date {
        self.case.book.terms.valid_until(self.case.job.date)
    }

    /// The first day of work, where the days before it leave time for a customer to sign and for any right to
    /// cancel to end; that of a floor that was agreed in any case.
    pub fn start(&self) -> Option<Date> {
        let start = self.case.job.plan.start?;
        let can = self.case.job.accepted.is_some() || self.time_to_sign(start) != TimeToSign::None;
        can.then_some(start)
    }

    fn time_to_sign(&self, start: Date) -> TimeToSign {
        time_to_sign(start, self.case.job, self.case.shop)
    }

    /// The last day on which to sign: while the prices hold, and where a start is planned, early enough that
    /// any right to cancel has ended and the material is ordered by then.
    pub fn sign_by(&self) -> Date {
        let until = self.prices_until();
        let last = self.case.job.plan.start.and_then(|start| self.time_to_sign(start).last_day());
        last.map_or(until, |day| day.min(until))
    }

    /// True where the federal rule on sales at home gives the customer days to cancel.
    pub fn can_be_cancelled(&self) -> bool {
        can_be_cancelled(self.case.job, self.case.shop)
    }
}
