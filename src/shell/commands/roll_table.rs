//! The text of `roll`: the jobs in a table that fits 80 columns, what is due, days on which one crew has
//! two jobs, the sums.

use std::collections::BTreeMap;

use jiff::civil::Date;
use slableaf::base::money::Cents;
use slableaf::issued::roll::{Due, MonthSum, RollState, RolledJob, clashes, sums};
use slableaf::model::job::Units;
use slableaf::say::figures::{FigureWords, Figures};
use unicode_width::{UnicodeWidthChar as _, UnicodeWidthStr as _};

use crate::shell::store::english;
use crate::shell::terminal::{Align, columns, counted, printable, widths};

/// The most columns of a table: that of a usual terminal.
const MOST: usize = 80;

/// The least that is left of a name, of a crew and of a number.
const LEAST_NAME: usize = 12;
const LEAST_CREW: usize = 4;
const LEAST_NUMBER: usize = 10;

/// The roll as text for a terminal.
pub fn roll_table(jobs: &[RolledJob], on: Date) -> String {
    let Some(words) = english() else { return String::new() };
    let mut out = vec![table(jobs, on, &words)];
    let due = jobs.iter().flat_map(|job| job.due.iter().map(move |due| (job, due)));
    let due = due.map(|(job, due)| vec![job.number.clone(), due_words(due, job, &words)]);
    part(&mut out, "due", due.collect());
    let clashes = clashes(jobs).into_iter();
    let clashes = clashes.map(|clash| {
        vec![clash.on.to_string(), format!("{}: {}", clash.crew, clash.jobs.join(", "))]
    });
    part(&mut out, "one crew on two jobs", clashes.collect());
    let trouble = jobs.iter().map(|job| &job.trouble).filter(|trouble| !trouble.is_empty());
    let mut trouble = trouble.map(|trouble| format!("trouble: {trouble}")).peekable();
    out.extend(trouble.peek().map(|_| String::new()));
    out.extend(trouble);
    let sums = sums(jobs);
    let rows = sums.states.iter().map(|sum| {
        vec![sum.state.word().to_owned(), sum.jobs.to_string(), money(&sum.prices, &words)]
    });
    part(&mut out, "by state", rows.collect());
    let mut rows = vec![["", "signed", "", "offered", ""].map(str::to_owned).to_vec()];
    rows.extend(sums.months.iter().map(|sum| month_row(sum, &words)));
    if rows.len() > 1 {
        let head = "by month of the work".to_owned();
        out.extend([String::new(), head, columns(&rows, &[Align::Left])]);
    }
    out.push(String::new());
    out.push(format!("{} on {on}", counted(jobs.len(), "job")));
    out.iter().map(|line| printable(line)).collect::<Vec<_>>().join("\n")
}

/// Adds a part under its head, unless it is empty.
fn part(out: &mut Vec<String>, head: &str, rows: Vec<Vec<String>>) {
    if !rows.is_empty() {
        let others = if head == "by state" { Align::Right } else { Align::Left };
        let sides = [Align::Left, others, others];
        out.extend([String::new(), head.to_owned(), columns(&rows, &sides)]);
    }
}

fn table(jobs: &[RolledJob], on: Date, words: &FigureWords) -> String {
    let head = ["job", "customer", "state", "price", "until", "start", "crew"];
    let mut rows = vec![head.map(str::to_owned).to_vec()];
    rows.extend(jobs.iter().map(|job| row(job, on, words)));
    narrow(&mut rows);
    use Align::{Left, Right};
    columns(&rows, &[Left, Left, Left, Right, Right, Right, Left])
}

/// Cuts customers and crews, and numbers last, until the table has no more columns than it may.
fn narrow(rows: &mut [Vec<String>]) {
    for (at, least) in [(1, LEAST_NAME), (6, LEAST_CREW), (0, LEAST_NUMBER)] {
        let widths = widths(rows);
        // Two blanks before each column.
        let all: usize = widths.iter().map(|width| width + 2).sum();
        let over = all.saturating_sub(MOST);
        if over == 0 {
            return;
        }
        let room = widths[at].saturating_sub(over).max(least);
        for cell in rows.iter_mut().filter_map(|row| row.get_mut(at)) {
            *cell = cut(cell, room);
        }
    }
}

/// A text of at most so many columns; what is cut off is shown by three dots.
fn cut(text: &str, room: usize) -> String {
    if text.width() <= room {
        return text.to_owned();
    }
    let mut left = room.saturating_sub(3);
    let kept = text.chars().take_while(|c| {
        let width = c.width().unwrap_or(0);
        let fits = width <= left;
        left = left.saturating_sub(width);
        fits
    });
    format!("{}...", kept.collect::<String>().trim_end())
}

fn row(job: &RolledJob, on: Date, words: &FigureWords) -> Vec<String> {
    let day = |day: Option<Date>| day.map_or_else(String::new, |day| short_day(day, on));
    let who = match (job.customer.as_str(), job.place.as_str()) {
        ("", "") => job.path.clone(),
        (customer, "") => customer.to_owned(),
        (customer, place) => format!("{customer}, {place}"),
    };
    let price = match (job.price, &job.currency) {
        (Some(price), Some(currency)) => amount(price, currency, words),
        _ if job.state == RollState::Unreadable => String::new(),
        _ => "not issued".to_owned(),
    };
    vec![
        job.number.clone(),
        who,
        job.state.word().to_owned(),
        price,
        day(job.valid_until),
        day(job.laid.or(job.start)),
        job.crew.clone().unwrap_or_default(),
    ]
}

/// A day without its year where that is this one.
fn short_day(day: Date, on: Date) -> String {
    if day.year() == on.year() { day.strftime("%m-%d").to_string() } else { day.to_string() }
}

fn amount(cents: Cents, currency: &str, words: &FigureWords) -> String {
    Figures { units: Units::Us, currency, words }.money(cents)
}

fn money(prices: &BTreeMap<String, Cents>, words: &FigureWords) -> String {
    let amounts = prices.iter().map(|(currency, cents)| amount(*cents, currency, words));
    amounts.collect::<Vec<_>>().join(" and ")
}

fn month_row(sum: &MonthSum, words: &FigureWords) -> Vec<String> {
    let month = sum.month.map(|(year, month)| format!("{year:04}-{month:02}"));
    let month = month.unwrap_or_else(|| "no day yet".to_owned());
    vec![
        month,
        sum.signed.to_string(),
        money(&sum.signed_prices, words),
        sum.offered.to_string(),
        money(&sum.offered_prices, words),
    ]
}

fn due_words(due: &Due, job: &RolledJob, words: &FigureWords) -> String {
    let money = |cents| amount(cents, job.currency.as_deref().unwrap_or_default(), words);
    match due {
        Due::OfferEnds { on } => format!("its offer ends on {on}"),
        Due::NotSigned { start } => format!("work starts on {start}, and nobody has signed"),
        Due::Money { amount } => format!("{} was to be paid by now", money(*amount)),
        Due::Back { amount } => {
            format!("{} more than the price came in: due back", money(*amount))
        }
        Due::TestTooOld { read, start } => {
            format!("its moisture test of {read} is too old by {start}")
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_table_keeps_to_eighty_columns() {
        let long = "a".repeat(60);
        let job = |number: &str| RolledJob {
            customer: long.clone(),
            place: long.clone(),
            state: RollState::Unreadable,
            currency: Some("USD".into()),
            price: Some(Cents(123_456_789)),
            crew: Some(long.clone()),
            valid_until: Some(Date::constant(2027, 5, 12)),
            start: Some(Date::constant(2026, 5, 12)),
            ..RolledJob::unread(String::new(), number.into(), String::new())
        };
        let on = Date::constant(2026, 5, 12);
        let words = english().unwrap();
        let text = table(&[job("2026-0142"), job(&long)], on, &words);
        assert!(text.lines().all(|line| line.width() <= MOST), "{text}");
        assert!(text.contains("2027-05-12") && text.contains("  05-12  "), "{text}");
        assert_eq!(cut("Wörter", 6), "Wörter");
        assert_eq!(cut("Wörter sind lang", 8), "Wörte...");
    }
}
