//! A change order: what differs from what was signed, for what price, in how many days.
//!
//! Its price is the price of the job as it is to be, less that of the job as it was signed with its signed
//! orders, both by book and shop file of the accepted paper and with the crew, the first day and the air of
//! that paper: only the scope of the work makes the difference.

use jiff::civil::Date;

use crate::base::calendar::Moment;
use crate::base::money::Cents;
use crate::base::names::Key;
use crate::issued::agreed::by_space;
use crate::issued::{
    Agreed, Ordered, RecordDate, Scope, Step, differing_scope, still_to_pay, with_change,
    with_scope,
};
use crate::judge::judge;
use crate::judge::spaces::judge_chosen;
use crate::model::job::Job;
use crate::model::space::Space;
use crate::price::schedule::Schedule;
use crate::read::Input;

/// A change of what was signed.
#[derive(Debug, Clone)]
pub struct ChangeOrder {
    /// The agreement before it.
    pub before: Agreed,
    /// The agreement once it is signed.
    pub after: Agreed,
    /// The price of the change; below zero when something comes off.
    pub change: Cents,
    /// The parts of the scope that differ, the weightiest first.
    pub scope: Vec<Scope>,
    /// Money that was received.
    pub received: Cents,
    /// The days of the floor as it was agreed, from the first day that holds now.
    pub days_before: Option<Schedule>,
    /// The days of the floor as it is to be.
    pub days_after: Option<Schedule>,
}

/// Works out what differs between a job as it was signed and as it is to be. Both are by book, shop file and
/// systems of the accepted paper, and `now` names floor and additions as its orders have them.
pub fn change_order(signed: &Input, now: &Input, agreed: &Agreed) -> ChangeOrder {
    let scope = differing_scope(&signed.job, &now.job);
    let change = match scope.as_slice() {
        [] => Cents::ZERO,
        _ => {
            let was = priced(&with_job(signed, signed.job.clone()));
            let is = priced(&with_job(signed, with_scope(&signed.job, &now.job)));
            is.unwrap_or_default().minus(was.unwrap_or_default())
        }
    };
    let days_before = schedule(&with_job(now, with_scope(&now.job, &signed.job)));
    let days_after = schedule(now);
    let accepted = now.job.accepted.as_ref();
    let floors = accepted.map(by_space).unwrap_or_default();
    let floor = match accepted {
        _ if floors == agreed.floors && !floors.is_empty() => agreed.floor.clone(),
        Some(_) if !floors.is_empty() => Agreed::floors_as_key(&floors),
        Some(accepted) => accepted.floor.0.clone(),
        None => agreed.floor.clone(),
    };
    let additions = accepted.iter().flat_map(|accepted| &accepted.additions);
    let after = Agreed {
        name: if floor == agreed.floor { agreed.name.clone() } else { floor.clone() },
        floor,
        floors,
        additions: additions.map(|key| key.value.0.clone()).collect(),
        total: agreed.total + change.0,
        days: days_after.as_ref().map_or(agreed.days, |schedule| schedule.days),
        visits: days_after.as_ref().map_or_else(Vec::new, Schedule::visit_days),
        start: now.job.plan.start.map(RecordDate),
        payments: with_change(&agreed.payments, change.0),
        ..agreed.clone()
    };
    ChangeOrder {
        before: agreed.clone(),
        after,
        change,
        scope,
        received: received(&now.job),
        days_before,
        days_after,
    }
}

/// The date on a change order: its own, else the latest of the paper's date and of the signatures that it
/// builds on.
pub fn order_date(job: &Job) -> Date {
    let own = job.open_order().and_then(|order| order.date);
    let signed = job.accepted.iter().map(|accepted| accepted.on);
    let ordered = job.signed_orders().map(|order| order.on);
    own.unwrap_or_else(|| signed.chain(ordered).fold(job.date, Date::max))
}

/// Money that the job says was received.
pub fn received(job: &Job) -> Cents {
    job.paid.iter().map(|one| one.amount).sum()
}

fn with_job(input: &Input, job: Job) -> Input {
    Input { job, ..input.clone() }
}

/// The floors that were chosen for the spaces of a job, in their order.
fn chosen_floors(job: &Job) -> Vec<Option<Key>> {
    let floor = |space: &Space| Some(job.accepted.as_ref()?.of(&space.place.name)?.floor);
    job.spaces.iter().map(floor).collect()
}

/// The total of the floor that was chosen, or of those of all spaces, with what was ticked.
pub fn priced(input: &Input) -> Option<Cents> {
    if input.job.has_spaces() {
        let jobs = input.job.of_spaces();
        let judged = judge_chosen(input, &jobs, chosen_floors(&input.job));
        return Some(judged.price?.bill.total());
    }
    let floor = &input.job.accepted.as_ref()?.floor;
    let judged = judge(input);
    let option = judged.case.options.iter().find(|option| option.key() == floor)?;
    Some(option.quote.total)
}

/// The days of the floor that was chosen; of several spaces the days of all of them.
pub fn schedule(input: &Input) -> Option<Schedule> {
    if input.job.has_spaces() {
        return schedule_of_spaces(input);
    }
    let floor = &input.job.accepted.as_ref()?.floor;
    let judged = judge(input);
    let option = judged.case.options.into_iter().find(|option| option.key() == floor)?;
    Some(option.estimate.schedule)
}

/// The days of all spaces: the work of each, and the moments by which the last of them is done and ready.
fn schedule_of_spaces(input: &Input) -> Option<Schedule> {
    let jobs = input.job.of_spaces();
    let floors = chosen_floors(&input.job);
    let judged = judge_chosen(input, &jobs, floors.clone());
    let days = judged.price.as_ref()?.estimate.days;
    let laid = judged.spaces.into_iter().zip(floors).filter_map(|(judged, floor)| {
        let floor = floor?;
        let option = judged.case.options.into_iter().find(|one| *one.key() == floor)?;
        Some(option.estimate.schedule)
    });
    let mut whole = laid.reduce(|all, one| {
        let later = |a: Moment, b: Moment| if a > b { a } else { b };
        Schedule {
            stretches: [all.stretches, one.stretches].concat(),
            done: later(all.done, one.done),
            walk: later(all.walk, one.walk),
            carry: later(all.carry, one.carry),
            drive: later(all.drive, one.drive),
            ..one
        }
    })?;
    whole.stretches.sort_by(|a, b| a.from.0.as_hours().total_cmp(&b.from.0.as_hours()));
    whole.days = days;
    Some(whole)
}

impl ChangeOrder {
    /// True when there is nothing to sign.
    pub fn is_empty(&self) -> bool {
        self.scope.is_empty()
    }

    /// The payments that are still to come.
    pub fn open_payments(&self) -> Vec<Step> {
        still_to_pay(&self.after.payments, self.received)
    }

    /// The new total less what was received; below zero when money goes back.
    pub fn due(&self) -> Cents {
        self.after.total().minus(self.received)
    }

    /// The facts that a later order starts from.
    pub fn ordered(&self) -> Ordered {
        Ordered { before: self.before.total, change: self.change.0, agreed: self.after.clone() }
    }
}

/// The days on which the crew is there, from the first one on.
pub fn work_days(start: Date, visits: &[u32]) -> Vec<Date> {
    let day = |day: &u32| {
        let days = jiff::Span::new().try_days(i64::from(*day) - 1).ok()?;
        start.checked_add(days).ok()
    };
    visits.iter().filter_map(day).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::price::testing::{Sample, sample};
    use jiff::civil::date;

    fn agreed() -> Agreed {
        Agreed {
            revision: 1,
            date: RecordDate(date(2026, 5, 12)),
            signed: RecordDate(date(2026, 5, 20)),
            valid_until: None,
            floor: "barrier".into(),
            floors: vec![],
            name: "the vapor-barrier floor".into(),
            currency: "USD".into(),
            additions: vec![],
            total: 500_000,
            days: 9,
            visits: vec![],
            start: None,
            orders: vec![],
            payments: vec![Step { when: "at the end".into(), amount: 500_000 }],
        }
    }

    fn signed() -> Sample {
        sample().job("accepted", "{ revision = 1, floor = \"barrier\", on = 2026-05-20 }")
    }

    const ITEM: &str = "[{ name = \"Moving the workbench\", price = \"$180.00\" }]";

    /// $180.00 with a tax of 6.5 % are $191.70 (by hand). The first day is the one that holds now, the days are
    /// those of the floor, and a floor that stays keeps the name that the paper gave it.
    #[test]
    fn an_order_changes_price_and_days_and_no_more() {
        let was = signed().input();
        let now = signed().job("item", ITEM).job("plan", "{ start = 2026-06-01 }").input();
        let order = change_order(&was, &now, &agreed());
        assert_eq!(
            (order.scope.as_slice(), order.change),
            ([Scope::Items].as_slice(), Cents(19_170))
        );
        assert_eq!((order.before.total, order.after.total), (500_000, 519_170));
        assert_eq!(order.after.payments[0].amount, 519_170);
        assert_eq!(order.after.start, Some(RecordDate(date(2026, 6, 1))));
        let floor = |after: &Agreed| (after.floor.clone(), after.name.clone(), after.floors.len());
        assert_eq!(floor(&order.after), ("barrier".into(), "the vapor-barrier floor".into(), 0));
        let days = order.days_after.as_ref().unwrap();
        assert_eq!((order.after.days, &order.after.visits), (days.days, &days.visit_days()));
        assert!(!order.is_empty() && order.after.days < 9);
        assert_eq!(order.ordered().change, 19_170);
        let nothing = change_order(&was, &was, &agreed());
        assert_eq!(
            (nothing.is_empty(), nothing.change, nothing.after.total),
            (true, Cents(0), 500_000)
        );
    }

    /// Another floor: its price less that of the one that was signed for, by the same book.
    #[test]
    fn another_floor_goes_by_its_own_key_and_price() {
        let was = signed().input();
        let now = signed().job("accepted.floor", "\"fast-cure\"").input();
        let order = change_order(&was, &now, &agreed());
        let total = |key: &str| {
            let judged = judge(&was);
            let of = |option: &&crate::price::case::FloorOption<'_>| option.key().0 == key;
            judged.case.options.iter().find(of).unwrap().quote.total
        };
        assert_eq!(order.change, total("fast-cure").minus(total("barrier")));
        assert_eq!([&order.after.floor, &order.after.name], ["fast-cure"; 2]);
        assert_eq!(order.scope, [Scope::Floor]);
        let grip = "[{ key = \"grip\", name = \"Grip\", price = \"$100.00\" }]";
        let ticked = signed().job("addition", grip).job("accepted.additions", "[\"grip\"]");
        let order = change_order(&was, &ticked.input(), &agreed());
        // $100.00 with a tax of 6.5 % are $106.50 (by hand).
        assert_eq!((order.change, order.after.additions), (Cents(10_650), vec!["grip".to_owned()]));
    }

    /// Received money counts against the new total; what is beyond it goes back.
    #[test]
    fn money_that_came_in_is_taken_off() {
        let was = signed().input();
        let paid = "[{ on = 2026-05-20, amount = \"$5,000.00\" }, { on = 2026-05-21, amount = \"$191.71\" }]";
        let now = signed().job("item", ITEM).job("paid", paid).input();
        let order = change_order(&was, &now, &agreed());
        assert_eq!((order.received, order.due()), (Cents(519_171), Cents(-1)));
        assert_eq!(order.open_payments(), []);
    }

    /// Its own date, else the latest day that it builds on.
    #[test]
    fn an_order_is_dated_no_sooner_than_what_it_builds_on() {
        let dated = |orders: &str| order_date(&signed().job("order", orders).input().job);
        assert_eq!(dated("[{ floor = \"barrier\" }]"), date(2026, 5, 20));
        assert_eq!(dated("[{ floor = \"barrier\", date = 2026-05-29 }]"), date(2026, 5, 29));
        let first = "{ floor = \"fast-cure\", revision = 1, on = 2026-05-25 }";
        assert_eq!(dated(&format!("[{first}, {{ floor = \"barrier\" }}]")), date(2026, 5, 25));
        assert_eq!(order_date(&sample().input().job), date(2026, 5, 12));
    }

    /// Days are counted from the first one, which is day 1.
    #[test]
    fn days_of_work_are_counted_from_the_first() {
        let start = date(2026, 5, 29);
        assert_eq!(work_days(start, &[1, 2, 5]), [start, date(2026, 5, 30), date(2026, 6, 2)]);
        assert_eq!(work_days(start, &[]), [] as [Date; 0]);
    }
}
