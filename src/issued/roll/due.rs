//! Things that are due on a job: an offer that ends, a start that nobody signed for, money, a new test.

use jiff::civil::Date;

use crate::base::money::Cents;
use crate::issued::Step;
use crate::issued::roll::RollState;

/// Days that the roll looks ahead for offers that end: a week.
pub const LOOK_AHEAD: i32 = 7;

/// Something that is due.
#[derive(Debug, Clone, PartialEq)]
pub enum Due {
    /// The prices of an offer hold until this day, and it is near.
    OfferEnds { on: Date },
    /// Work is planned for this day, and nobody has signed.
    NotSigned { start: Date },
    /// Money that was to be paid by now and was not received.
    Money { amount: Cents },
    /// Money that was received beyond the price that was agreed: it is due back to the customer.
    Back { amount: Cents },
    /// On the first day of work the last moisture test is older than the shop relies on.
    TestTooOld { read: Date, start: Date },
}

impl Due {
    /// Its name in results.
    pub fn word(&self) -> &'static str {
        match self {
            Self::OfferEnds { .. } => "offer-ends",
            Self::NotSigned { .. } => "not-signed",
            Self::Money { .. } => "money",
            Self::Back { .. } => "back",
            Self::TestTooOld { .. } => "test-too-old",
        }
    }
}

/// Everything of a job that tells what is due.
#[derive(Debug, Clone)]
pub struct Said<'a> {
    pub state: RollState,
    pub valid_until: Option<Date>,
    pub start: Option<Date>,
    /// The payments of what was signed.
    pub payments: &'a [Step],
    pub received: Cents,
    /// The price of what was signed, with its signed orders.
    pub agreed: Option<Cents>,
    /// The days of the last moisture tests that count, one for each method.
    pub tests: &'a [Date],
    /// Days for which the shop relies on a test.
    pub test_days: u32,
}

/// Returns what is due on a day, what ends first before the rest.
pub fn due(said: &Said<'_>, on: Date) -> Vec<Due> {
    let mut found = vec![];
    if let (RollState::Offered, Some(until)) = (said.state, said.valid_until)
        && days(on, until) < LOOK_AHEAD
    {
        found.push(Due::OfferEnds { on: until });
    }
    let open = matches!(said.state, RollState::Draft | RollState::Offered | RollState::Expired);
    if let (true, Some(start)) = (open, said.start) {
        found.push(Due::NotSigned { start });
    }
    let money = owed(said, on).minus(said.received);
    if money > Cents::ZERO {
        found.push(Due::Money { amount: money });
    }
    if let Some(back) = said.agreed.map(|agreed| said.received.minus(agreed))
        && back > Cents::ZERO
    {
        found.push(Due::Back { amount: back });
    }
    if let (true, Some(start)) = (said.state != RollState::Laid, said.start) {
        let most = i32::try_from(said.test_days).unwrap_or(i32::MAX);
        let old = said.tests.iter().filter(|read| days(**read, start) > most);
        found.extend(old.min().map(|read| Due::TestTooOld { read: *read, start }));
    }
    found
}

/// Money that was to be paid by a day: the first payment with the signature, all but the last from the
/// first day of work on, the last one when the floor is done. Common practice, no published source: a
/// shop words its own payments, and no program can date them.
fn owed(said: &Said<'_>, on: Date) -> Cents {
    let signed = said.state.is_signed() || said.state == RollState::Laid;
    let begun = said.start.is_some_and(|start| start <= on);
    let count = match said.payments.len() {
        _ if !signed => 0,
        all if said.state == RollState::Laid => all,
        all if begun => all.saturating_sub(1).max(1).min(all),
        // A single payment is for the floor that is done.
        1 => 0,
        all => all.min(1),
    };
    said.payments.iter().take(count).map(|step| Cents(step.amount)).sum()
}

/// Days from one to another, below zero when the other is earlier.
fn days(from: Date, to: Date) -> i32 {
    (to - from).get_days()
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    const ON: Date = date(2026, 5, 20);

    fn step(amount: i64) -> Step {
        Step { when: "some day".into(), amount }
    }

    fn said<'a>(state: RollState, payments: &'a [Step]) -> Said<'a> {
        Said {
            state,
            valid_until: None,
            start: None,
            payments,
            received: Cents::ZERO,
            agreed: None,
            tests: &[],
            test_days: 90,
        }
    }

    #[test]
    fn an_offer_is_due_in_its_last_week() {
        let ends =
            |until| due(&Said { valid_until: Some(until), ..said(RollState::Offered, &[]) }, ON);
        assert_eq!(ends(date(2026, 5, 20)), [Due::OfferEnds { on: date(2026, 5, 20) }]);
        assert_eq!(ends(date(2026, 5, 26)), [Due::OfferEnds { on: date(2026, 5, 26) }]);
        assert_eq!(ends(date(2026, 5, 27)), []);
    }

    #[test]
    fn a_start_needs_a_signature() {
        let start = date(2026, 5, 26);
        let planned = |state| due(&Said { start: Some(start), ..said(state, &[]) }, ON);
        for state in [RollState::Draft, RollState::Offered, RollState::Expired] {
            assert_eq!(planned(state), [Due::NotSigned { start }]);
        }
        for state in [RollState::Accepted, RollState::Changed, RollState::Laid] {
            assert_eq!(planned(state), []);
        }
    }

    /// Three payments of $100, $200 and $300: by hand $100 with the signature, $300 from the first day
    /// on, $600 when the floor is done.
    #[test]
    fn money_falls_due_with_signature_first_day_and_end() {
        let steps = [step(10_000), step(20_000), step(30_000)];
        let owed = |state, start: Option<Date>, received| {
            due(&Said { start, received: Cents(received), ..said(state, &steps) }, ON)
        };
        let money = |cents| vec![Due::Money { amount: Cents(cents) }];
        assert_eq!(owed(RollState::Accepted, None, 0), money(10_000));
        assert_eq!(owed(RollState::Accepted, None, 10_000), []);
        assert_eq!(owed(RollState::Accepted, Some(date(2026, 5, 21)), 10_000), []);
        assert_eq!(owed(RollState::Changed, Some(ON), 10_000), money(20_000));
        assert_eq!(owed(RollState::Laid, Some(ON), 30_000), money(30_000));
        assert_eq!(owed(RollState::Laid, Some(ON), 70_000), []);
        assert_eq!(owed(RollState::Offered, None, 0), []);
        assert_eq!(due(&said(RollState::Accepted, &steps[..1]), ON), []);
    }

    /// A test of 8 May is 91 days old on 7 August.
    #[test]
    fn a_test_is_too_old_by_the_start() {
        let tests = [date(2026, 5, 8)];
        let start = |start| {
            due(&Said { start: Some(start), tests: &tests, ..said(RollState::Accepted, &[]) }, ON)
        };
        let late = date(2026, 8, 7);
        assert_eq!(start(late), [Due::TestTooOld { read: tests[0], start: late }]);
        assert_eq!(start(date(2026, 8, 6)), []);
    }

    #[test]
    fn money_beyond_the_price_is_due_back() {
        let paid = |received| {
            let said = said(RollState::Accepted, &[]);
            due(&Said { received: Cents(received), agreed: Some(Cents(1000)), ..said }, ON)
        };
        assert_eq!(paid(1000), []);
        assert_eq!(paid(1001), [Due::Back { amount: Cents(1) }]);
    }
}
