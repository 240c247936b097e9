//! The roll as a spreadsheet: a row for each job.

use jiff::civil::Date;

use crate::base::spreadsheet::{guard_cell, to_csv};
use crate::issued::roll::{Clash, Due, RolledJob, clashes};

const COLUMNS: &str = "path job customer place state price currency floor valid_until start laid crew \
                       work_days due clashes trouble";

/// The jobs as comma-separated values. No cell is ever read as a formula.
pub fn sheet(jobs: &[RolledJob]) -> String {
    let clashes = clashes(jobs);
    let mut rows: Vec<Vec<String>> = vec![COLUMNS.split(' ').map(str::to_owned).collect()];
    rows.extend(jobs.iter().map(|job| row(job, &clashes)));
    to_csv(&rows)
}

fn row(job: &RolledJob, clashes: &[Clash]) -> Vec<String> {
    let day = |day: Option<Date>| day.map_or_else(String::new, |day| day.to_string());
    let text = |text: &Option<String>| guard_cell(text.as_deref().unwrap_or_default());
    let joined = |texts: Vec<String>| guard_cell(&texts.join("; "));
    let of_job = clashes.iter().filter(|clash| clash.jobs.contains(&job.number));
    vec![
        guard_cell(&job.path),
        guard_cell(&job.number),
        guard_cell(&job.customer),
        guard_cell(&job.place),
        job.state.word().to_owned(),
        job.price.map_or_else(String::new, |price| price.to_string()),
        text(&job.currency),
        text(&job.floor),
        day(job.valid_until),
        day(job.start),
        day(job.laid),
        text(&job.crew),
        joined(job.work_days.iter().map(ToString::to_string).collect()),
        joined(job.due.iter().map(due).collect()),
        joined(of_job.map(|clash| clash.on.to_string()).collect()),
        guard_cell(&job.trouble),
    ]
}

/// `money 500.00`, `offer-ends 2026-06-11`.
fn due(due: &Due) -> String {
    let word = due.word();
    match due {
        Due::OfferEnds { on } => format!("{word} {on}"),
        Due::NotSigned { start } => format!("{word} {start}"),
        Due::Money { amount } | Due::Back { amount } => format!("{word} {amount}"),
        Due::TestTooOld { read, .. } => format!("{word} {read}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::issued::roll::RollState;

    /// OWASP, "CSV Injection": a cell that begins with a sign of a formula is text behind an apostrophe.
    #[test]
    fn no_cell_is_a_formula() {
        let job = RolledJob {
            customer: "=HYPERLINK(\"http://x.invalid\")".into(),
            place: "+1, -2".into(),
            crew: Some("@North".into()),
            state: RollState::Draft,
            ..RolledJob::unread("-a/job.toml".into(), "1".into(), "=no".into())
        };
        let sheet = sheet(&[job]);
        let row = sheet.lines().nth(1).unwrap();
        assert_eq!(
            row,
            "'-a/job.toml,1,\"'=HYPERLINK(\"\"http://x.invalid\"\")\",\"'+1, -2\",draft,,,,,,,'@North,,,,'=no"
        );
    }

    /// A row by hand: amounts and days as ISO 8601 writes them, things that are due one after the other.
    #[test]
    fn a_row_says_all_that_is_due_and_where_crews_meet() {
        let day = jiff::civil::date(2026, 6, 11);
        let job = |number: &str, due: Vec<Due>| RolledJob {
            state: RollState::Accepted,
            price: Some(crate::base::money::Cents(541_020)),
            currency: Some("USD".into()),
            crew: Some("North".into()),
            start: Some(day),
            work_days: vec![day, day.tomorrow().unwrap()],
            due,
            ..RolledJob::unread(format!("{number}.toml"), number.into(), String::new())
        };
        let amount = crate::base::money::Cents(50_005);
        let due = vec![
            Due::OfferEnds { on: day },
            Due::NotSigned { start: day },
            Due::Money { amount },
            Due::Back { amount },
            Due::TestTooOld { read: day, start: day.tomorrow().unwrap() },
        ];
        let mut other = job("2", vec![]);
        other.work_days.pop();
        let sheet = sheet(&[job("1", due), other]);
        let rows: Vec<&str> = sheet.lines().skip(1).collect();
        assert_eq!(
            rows,
            [
                "1.toml,1,,,accepted,5410.20,USD,,,2026-06-11,,North,2026-06-11; 2026-06-12,\
                 offer-ends 2026-06-11; not-signed 2026-06-11; money 500.05; back 500.05; \
                 test-too-old 2026-06-11,2026-06-11,",
                "2.toml,2,,,accepted,5410.20,USD,,,2026-06-11,,North,2026-06-11,,2026-06-11,",
            ]
        );
    }
}
