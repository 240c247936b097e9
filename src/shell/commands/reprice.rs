//! `reprice`: the proposals below a folder that new prices change, by how much and why; and new
//! revisions of those that are open.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};

use jiff::civil::Date;
use slableaf::base::source::SourceFile;
use slableaf::issued::{Agreed, caps};
use slableaf::model::job::Job;
use slableaf::read::glance::glance;
use slableaf::read::job_text::with_date;
use slableaf::read::{Input, read_job};
use slableaf::reprice::{self, JobState, Outcome, Prices, Repriced, Side, assess, sheet};
use slableaf::results::reprice::RepriceForm;

use crate::shell::args::{JobFiles, NearFiles, Paper, Reprice, Requote, TableFormat};
use crate::shell::commands::reprice_table::reprice_table;
use crate::shell::store::{
    Agreement, Cache, FoundJobs, JobPapers, JudgedJob, LoadedJob, Lock, Records, all_jobs,
    folder_of, highest, input_of_record, is_same, judge_any, load_book, meant_job, nearest, no_job,
    parallel, promises, read_text, records_beside, refuse_other_than_folder, today, write_file,
};
use crate::shell::terminal::{Error, Exit, OrCannot as _, Report, Result, json, printable, shown};

pub fn reprice(wanted: &Reprice, report: &mut Report) -> Result<Exit> {
    let on = wanted.on.unwrap_or_else(today);
    if let Some(book) = &wanted.book {
        // A book that does not load is refused before every job says so.
        load_book(book)?;
    }
    let FoundJobs { jobs, unsearched } = all_jobs(&wanted.jobs)?;
    unsearched.iter().for_each(|error| report.error(error));
    let threads = parallel::threads(wanted.jobs.at_a_time);
    let round = Round { wanted, on, cache: Cache::default(), announced: Mutex::default() };
    let outcomes = parallel::map(&jobs, threads, |job| round.work_out(job));
    let mut outcomes: Vec<Outcome> = outcomes.into_iter().flatten().collect();
    if outcomes.is_empty() && unsearched.is_empty() {
        return Err(no_job());
    }
    if !wanted.dry_run {
        let written = parallel::map(&outcomes, threads, |outcome| round.rewrite(outcome));
        for (outcome, written) in outcomes.iter_mut().zip(written) {
            match written {
                Ok(written) => outcome.written = written.map(|path| shown(&path)),
                Err(error) => outcome.trouble = format!("{}: {}", outcome.path, error.message()),
            }
        }
    }
    report.print(match wanted.format {
        TableFormat::Table => format!("{}\n", reprice_table(&outcomes, wanted.dry_run)),
        TableFormat::Json => format!("{}\n", json(&RepriceForm::of(&outcomes, on))),
        TableFormat::Csv => sheet(&outcomes),
    });
    let has_new_book = |job: &PathBuf, new: &Path| {
        let own = nearest(&folder_of(job), "book.toml").ok().flatten();
        own.is_some_and(|own| is_same(&own, new))
    };
    if let Some(book) = &wanted.book
        && outcomes.iter().any(|outcome| outcome.written.is_some())
        && !jobs.iter().all(|job| has_new_book(job, book))
    {
        report.help("`write` takes each job's own book: put the new one in its place");
    }
    let announced = *round.announced.lock().unwrap_or_else(PoisonError::into_inner);
    if let Some(from) = announced {
        report.help(&format!(
            "a price book announces other prices from {from}: `--on {from}` lists what they change"
        ));
    }
    let trouble =
        !unsearched.is_empty() || outcomes.iter().any(|outcome| !outcome.trouble.is_empty());
    Ok(if trouble { Exit::Partly } else { Exit::Fine })
}

/// One run over many jobs.
struct Round<'a> {
    wanted: &'a Reprice,
    on: Date,
    cache: Cache,
    /// The next day from which a book announces other prices.
    announced: Mutex<Option<Date>>,
}

impl Round<'_> {
    /// Works out the job of one file: `None` when it is no job.
    fn work_out(&self, path: &Path) -> Option<Outcome> {
        let mut outcome = Outcome {
            path: shown(path),
            number: String::new(),
            state: JobState::Unreadable,
            prices: None,
            trouble: String::new(),
            written: None,
        };
        let (source, seen) = match meant_job(path)? {
            Ok(found) => found,
            Err(error) => {
                outcome.trouble = error.to_string();
                return Some(outcome);
            }
        };
        let accepted = seen.as_ref().is_some_and(|seen| seen.accepted);
        outcome.number = seen.map_or_else(String::new, |seen| printable(&seen.number));
        match self.sides(path, &source, &outcome.number) {
            Err(error) => outcome.trouble = error.to_string(),
            Ok((before, after)) => match assess(before.as_ref(), &after, self.on, accepted) {
                Ok((state, prices)) => {
                    // A record that cannot be read is told when a paper is to be written.
                    let promised = self.is_promised(path, &after, &prices).unwrap_or(false);
                    if !accepted {
                        self.look_ahead(&after);
                    }
                    outcome.state = match state {
                        JobState::Open if promised => JobState::Promised,
                        state => state,
                    };
                    // What was signed changes by its orders alone; one that cannot be read is told by `check`.
                    let agreed = self.agreed(path, &after.job).unwrap_or(None);
                    outcome.prices = Some(match agreed {
                        Some(agreed) => prices.as_agreed(&agreed.floor, agreed.total()),
                        None => prices,
                    });
                }
                Err(why) => outcome.trouble = format!("{}: {why}", source.name),
            },
        }
        Some(outcome)
    }

    /// The agreement on a job that was accepted.
    fn agreed(&self, path: &Path, job: &Job) -> Result<Option<Agreed>> {
        let Some(accepted) = &job.accepted else { return Ok(None) };
        let records = records_beside(path, job)?;
        Ok(Some(Agreement::read(path, job, accepted, &records)?.agreed))
    }

    /// Keeps the first day after the one asked about from which a book announces other prices.
    fn look_ahead(&self, after: &Input) {
        let later = after.book.changes.iter().map(|change| change.from);
        let first = later.filter(|from| *from > self.on).min();
        let mut announced = self.announced.lock().unwrap_or_else(PoisonError::into_inner);
        *announced = [*announced, first].into_iter().flatten().min();
    }

    /// True when a floor would cost more than an issued paper still promises today.
    fn is_promised(&self, path: &Path, after: &Input, prices: &Prices) -> Result<bool> {
        if !prices.changed() {
            return Ok(false);
        }
        let records = records_beside(path, &after.job)?;
        let caps = caps(&promises(&records)?, &after.job.asked, today());
        let floors = prices.repriced.floors.iter();
        let mut now = floors.filter_map(|floor| Some((&floor.floor.0, floor.after?)));
        Ok(now.any(|(floor, after)| caps.get(floor).is_some_and(|cap| after.0 > *cap)))
    }

    /// The job as it was offered, and as it is to be: every job is held against the proposal that was
    /// issued last.
    fn sides(
        &self,
        path: &Path,
        source: &SourceFile,
        number: &str,
    ) -> Result<(Option<Input>, Input)> {
        let near = |kind: &str| {
            nearest(&folder_of(path), &format!("{kind}.toml")).ok().flatten().ok_or_else(|| {
                let name = &source.name;
                let message =
                    format!("no `{kind}.toml` in the folder of {name} or any folder above it");
                Error::new(Exit::Input, message)
            })
        };
        let (shop, own) = (near("shop")?, near("book")?);
        let new = self.wanted.book.as_ref().unwrap_or(&own);
        let job = read_job(source);
        let shared = self.cache.shared_files(new, &shop)?;
        let mut after = shared.join(source, job.clone(), Some(self.on))?;
        if self.wanted.new_date {
            after.job.date = after.job.date.max(self.on);
        }
        let before = match self.wanted.book {
            // A job of which nothing was issued yet is held against its own book.
            Some(_) => match self.issued(path, number)? {
                Some(issued) => Some(issued),
                None => Some(self.cache.shared_files(&own, &shop)?.join(source, job, None)?),
            },
            None => self.issued(path, number)?,
        };
        Ok((before, after))
    }

    /// The inputs of a job's latest proposal, as they were kept beside it; `None` when none was issued.
    fn issued(&self, path: &Path, number: &str) -> Result<Option<Input>> {
        let records = folder_of(path).join("records");
        let stem = format!("{number}-{}", Paper::Proposal.name());
        let revision = highest(&records, &stem, "").unwrap_or(0);
        if revision == 0 {
            return Ok(None);
        }
        input_of_record(&records.join(format!("{stem}-r{revision}")), &self.cache).map(Some)
    }

    /// Writes a new revision of an open job whose price has changed, and returns its path.
    fn rewrite(&self, outcome: &Outcome) -> Result<Option<PathBuf>> {
        // An offer that has ended is made anew, also at the same price.
        let ended = outcome.state == JobState::Expired;
        let changed = outcome.prices.as_ref().filter(|prices| ended || prices.changed());
        let wanted = match outcome.state {
            JobState::Open => true,
            JobState::Expired => self.wanted.requote == Some(Requote::Expired),
            _ => false,
        };
        let Some(prices) = changed.filter(|_| wanted) else { return Ok(None) };
        let job = Path::new(&outcome.path);
        let revise = || self.revise(job, &prices.repriced);
        if self.wanted.new_date { with_new_date(job, self.on, revise) } else { revise() }
    }

    /// Writes the proposal of a job as `write` does. `None` when its latest revision is the same to the
    /// byte. Either the whole paper is written or nothing of it, and nothing that has other prices than
    /// were listed.
    fn revise(&self, job: &Path, listed: &Repriced) -> Result<Option<PathBuf>> {
        let near = NearFiles { book: self.wanted.book.clone(), shop: None };
        let job = LoadedJob::read(&JobFiles { job: job.to_owned(), near }, &self.cache)?;
        let spaces = job.input.job.of_spaces();
        let judged = judge_any(&job.input, &spaces)?;
        let now = match &judged {
            JudgedJob::One(judged) => reprice::reprice(None, Side { input: &job.input, judged }),
            JudgedJob::Spaces(..) => reprice::reprice_spaces(None, &job.input),
        };
        let LoadedJob { files, input, .. } = &job;
        if !now.offers_as(listed) {
            let message = format!(
                "the new price is for papers of a later day than {}; to write them, add `--new-date`",
                input.job.date
            );
            return Err(Error::new(Exit::Input, message));
        }
        let papers = files.folder(None, "papers", "--out")?;
        refuse_other_than_folder(&papers)?;
        let records = files.folder(None, "records", "--records")?;
        let records = Records::open(records, &input.job.number.0)?;
        files.are_as_read()?;
        let job_papers = JobPapers::new(&job, &judged);
        // The list of all jobs says which papers are written.
        let mut report = Report::default();
        let issued = job_papers.issue(Paper::Proposal, &records, &papers, &mut report)?;
        for edition in job_papers.editions(Paper::Proposal, false).into_iter().skip(1) {
            let stored = &issued.stored;
            job_papers.issue_for_phone(edition.paper, stored, &records, &papers, &mut report)?;
        }
        Ok(issued.is_new.then_some(issued.path))
    }
}

/// Sets the date of a job, unless it is a later one, and does some work with it; puts the file back as
/// it was when that cannot be done.
fn with_new_date<T>(job: &Path, on: Date, work: impl FnOnce() -> Result<T>) -> Result<T> {
    // A link stays one: what it leads to is edited.
    let real = fs::canonicalize(job).or_cannot("read", job)?;
    let job = real.as_path();
    let _lock = Lock::beside(job)?;
    let (was, _) = read_text(job)?;
    if glance(&was.text).and_then(|seen| seen.date).is_some_and(|date| date >= on) {
        return work();
    }
    let is = with_date(&was.text, on)
        .ok_or_else(|| Error::new(Exit::Input, "it has no `date` that could be set"))?;
    write_file(job, is.as_bytes())?;
    let done = work();
    // What somebody saved meanwhile stays.
    if done.is_err() && read_text(job)?.0.text == is {
        write_file(job, was.text.as_bytes())?;
    }
    done
}
