//! `roll`: the jobs below a folder with their standing, price, days and what is due.

use std::collections::HashMap;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};

use jiff::civil::Date;
use slableaf::base::money::Cents;
use slableaf::issued::roll::{RollState, RolledJob, Said, due, sheet};
use slableaf::issued::{differing_scope, received, schedule, with_orders, work_days};
use slableaf::judge::laid::laid_on;
use slableaf::model::job::Job;
use slableaf::model::shop::Testing;
use slableaf::read::{read_job, read_shop};
use slableaf::results::roll::RollForm;
use slableaf::site::site;

use crate::shell::args::{Paper, Roll, TableFormat};
use crate::shell::commands::roll_table::roll_table;
use crate::shell::store::{
    Agreement, Cache, FoundJobs, StoredRecord, all_jobs, folder_of, input_of_record, meant_job,
    nearest, no_job, parallel, read_text, records_beside, today, understood,
};
use crate::shell::terminal::{Cause, Exit, Report, Result, json, printable, shown};

pub fn roll(wanted: &Roll, report: &mut Report) -> Result<Exit> {
    let on = wanted.on.unwrap_or_else(today);
    let FoundJobs { jobs, unsearched } = all_jobs(&wanted.jobs)?;
    unsearched.iter().for_each(|error| report.error(error));
    let round = Round { on, cache: Cache::default(), shops: Mutex::default() };
    let threads = parallel::threads(wanted.jobs.at_a_time);
    let rolled = parallel::map(&jobs, threads, |job| round.roll(job));
    let rolled: Vec<RolledJob> = rolled.into_iter().flatten().collect();
    if rolled.is_empty() && unsearched.is_empty() {
        return Err(no_job());
    }
    report.print(match wanted.format {
        TableFormat::Table => format!("{}\n", roll_table(&rolled, on)),
        TableFormat::Json => format!("{}\n", json(&RollForm::of(&rolled, on))),
        TableFormat::Csv => sheet(&rolled),
    });
    let trouble = !unsearched.is_empty() || rolled.iter().any(|job| !job.trouble.is_empty());
    Ok(if trouble { Exit::Partly } else { Exit::Fine })
}

/// One run over many jobs.
struct Round {
    on: Date,
    cache: Cache,
    /// Terms of testing by shop file; what the shop has not said is as usual.
    shops: Mutex<HashMap<PathBuf, Testing>>,
}

impl Round {
    /// Rolls the job of one file: `None` when it is no job.
    fn roll(&self, path: &Path) -> Option<RolledJob> {
        let (source, seen) = match meant_job(path)? {
            Ok(found) => found,
            Err(error) => {
                return Some(RolledJob::unread(shown(path), String::new(), error.to_string()));
            }
        };
        Some(match understood(source, |source| read_job(source).alone()) {
            Ok((_, job)) => self.rolled(path, &job),
            Err(error) => {
                let number = seen.map_or_else(String::new, |seen| printable(&seen.number));
                RolledJob::unread(shown(path), number, error.to_string())
            }
        })
    }

    fn rolled(&self, path: &Path, job: &Job) -> RolledJob {
        let mut rolled = RolledJob {
            customer: job.customer.full_name().into_owned(),
            place: job.customer.address.join(", "),
            state: RollState::Draft,
            start: job.plan.start,
            laid: job.plan.laid,
            crew: job.plan.crew_name.clone(),
            ..RolledJob::unread(shown(path), job.number.0.clone(), String::new())
        };
        let mut payments = vec![];
        let mut agreed = None;
        let told = records_beside(path, job).and_then(|records| {
            let latest = records.latest(Paper::Proposal.name())?;
            self.add_papers(&mut rolled, latest.as_ref(), job);
            if let Some(accepted) = &job.accepted {
                rolled.state = RollState::Accepted;
                let agreement = Agreement::read(path, job, accepted, &records)?;
                agreed = Some(agreement.agreed.total());
                payments = agreement.agreed.payments.clone();
                self.add_agreement(&mut rolled, job, &agreement)?;
            }
            Ok(())
        });
        if let Err(error) = told {
            // A mistake in a file has its place with it.
            rolled.trouble = match error.cause {
                Cause::Problems(..) => error.to_string(),
                Cause::Message(_) => format!("{}: {error}", rolled.path),
            };
        }
        if rolled.laid.is_some() {
            rolled.state = RollState::Laid;
        }
        let testing = self.testing(path);
        let found = site(job, &testing);
        let mver = found.moisture.mver.as_ref().filter(|one| one.counts()).map(|one| one.date);
        let rh = found.moisture.rh.as_ref().filter(|one| one.counts()).map(|one| one.date);
        let tests: Vec<Date> = mver.into_iter().chain(rh).collect();
        let said = Said {
            state: rolled.state,
            valid_until: rolled.valid_until,
            start: rolled.start,
            payments: &payments,
            received: received(job),
            agreed,
            tests: &tests,
            test_days: testing.reading_days,
        };
        rolled.due = due(&said, self.on);
        rolled
    }

    /// Adds what the proposal says that was issued last.
    fn add_papers(&self, rolled: &mut RolledJob, latest: Option<&StoredRecord>, job: &Job) {
        let Some(stored) = latest else { return };
        let facts = &stored.record.facts;
        let until = facts.valid_until.map(|until| until.0).or_else(|| {
            // A record of before this was kept has it in its book.
            let input = input_of_record(&stored.folder, &self.cache).ok()?;
            Some(input.book.terms.valid_until(input.job.date))
        });
        rolled.valid_until = until;
        let expired = until.is_some_and(|until| self.on > until);
        rolled.state = if expired { RollState::Expired } else { RollState::Offered };
        rolled.currency = Some(facts.currency.clone());
        if job.accepted.is_none()
            && let Some(floor) = facts.recommended()
        {
            rolled.price = Some(Cents(floor.total));
            rolled.floor = Some(floor.key.clone());
        }
    }

    /// Adds what was signed: price, days, and whether the job is still that.
    fn add_agreement(
        &self,
        rolled: &mut RolledJob,
        job: &Job,
        agreement: &Agreement,
    ) -> Result<()> {
        let agreed = &agreement.agreed;
        rolled.currency = Some(agreed.currency.clone());
        rolled.price = Some(agreed.total());
        rolled.floor = Some(agreed.floor.clone());
        rolled.valid_until = agreed.valid_until.map(|until| until.0).or(rolled.valid_until);
        let signed = agreement.signed_job()?;
        if !differing_scope(&signed, &with_orders(job, true)).is_empty() {
            rolled.state = RollState::Changed;
        }
        if rolled.laid.is_none() && !job.laid.is_empty() {
            let mut input = input_of_record(&agreement.accepted.folder, &self.cache)?;
            input.job = job.clone();
            rolled.laid = laid_on(&input);
        }
        let Some(start) = job.plan.start.filter(|_| job.plan.crew_name.is_some()) else {
            return Ok(());
        };
        // As the paper has them, when it was for this first day; else they are worked out.
        let known = agreed.start.is_some_and(|on| on.0 == start) && !agreed.visits.is_empty();
        let visits = if known {
            agreed.visits.clone()
        } else {
            let mut input = input_of_record(&agreement.accepted.folder, &self.cache)?;
            input.job = signed;
            input.job.plan = job.plan.clone();
            schedule(&input).map_or_else(Vec::new, |schedule| schedule.visit_days())
        };
        rolled.work_days = work_days(start, &visits);
        Ok(())
    }

    /// The terms of testing of the shop that a job belongs to.
    fn testing(&self, path: &Path) -> Testing {
        let Some(shop) = nearest(&folder_of(path), "shop.toml").ok().flatten() else {
            return Testing::default();
        };
        let mut shops = self.shops.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(known) = shops.get(&shop) {
            return known.clone();
        }
        let read = read_text(&shop).ok().and_then(|(source, _)| read_shop(&source).ok());
        let testing = read.map_or_else(Testing::default, |shop| shop.testing);
        shops.insert(shop, testing.clone());
        testing
    }
}
