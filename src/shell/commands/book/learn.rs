//! `book learn`: the shop's own rates of work and its own record of floors, from jobs that were laid.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use slableaf::base::names::Key;
use slableaf::base::quantity::{AreaRate, LengthRate};
use slableaf::model::job::Job;
use slableaf::model::shop::Testing;
use slableaf::model::worked::WorkTask;
use slableaf::price::failure_rate;
use slableaf::price::own_rate::{
    Against, FEWEST_JOBS, JobWork, OwnRate, amount, book_rate, work_of,
};
use slableaf::read::book_text::with_rates;
use slableaf::site::site;

use super::{keep, lock_in_place};
use crate::shell::args::{LearnBook, Target};
use crate::shell::store::{FoundJobs, all_jobs, load_book, read_alone};
use crate::shell::terminal::{Error, Exit, Report, Result, counted, shown};

pub fn learn(wanted: &LearnBook, report: &mut Report) -> Result<Exit> {
    let target = Target { to: wanted.to.clone(), in_place: wanted.in_place };
    let _lock = lock_in_place(&wanted.book, &target)?;
    let (file, book) = load_book(&wanted.book)?;
    let FoundJobs { jobs, unsearched } = all_jobs(&wanted.jobs)?;
    unsearched.iter().for_each(|error| report.error(error));
    let mut seen = Seen::default();
    let mut trouble = !unsearched.is_empty();
    for path in &jobs {
        match read_alone(path) {
            Ok(job) => seen.add(&job),
            Err(error) => {
                report.error(&error);
                trouble = true;
            }
        }
    }
    let rates: Vec<Learned> = WorkTask::WORDS
        .iter()
        .filter_map(|(_, task)| seen.learned(*task, &file.text, &book.rates))
        .collect();
    report.print(format!("{}{}{}", rates_text(&rates), seen.unmeasured_text(), seen.floors_text()));
    if !wanted.accept.is_empty() {
        let taken = taken(&wanted.accept, &rates)?;
        let text = with_rates(&file.text, &taken)
            .map_err(|error| Error::new(Exit::Bug, error.to_string()))?;
        let path = keep(&file, &wanted.book, &target, text)?;
        let count = counted(taken.len(), "rate");
        report.say(format!("wrote {}: {count} of your own", shown(&path)));
    }
    Ok(if trouble { Exit::Partly } else { Exit::Fine })
}

/// Everything that the jobs say.
#[derive(Default)]
struct Seen {
    work: BTreeMap<&'static str, Vec<JobWork>>,
    floors: BTreeMap<Key, Floors>,
    /// Hours of which nobody knows how much was done in them.
    unmeasured: Vec<String>,
}

/// Floors of one system.
#[derive(Default)]
struct Floors {
    laid: u32,
    /// Floors that moisture brought loose, by the shop's own word.
    from_moisture: u32,
    /// Floors with a failure whose cause is not settled.
    open: u32,
    /// The first year in which one was laid.
    since: Option<i16>,
}

impl Seen {
    fn add(&mut self, job: &Job) {
        let take_off = site(job, &Testing::default()).take_off;
        for (word, task) in WorkTask::WORDS {
            self.work.entry(word).or_default().extend(work_of(job, &take_off, *task));
        }
        let unmeasured = job.worked.iter().filter(|one| amount(job, &take_off, one).is_none());
        self.unmeasured
            .extend(unmeasured.map(|one| format!("{} of job {}", one.task.word(), job.number.0)));
        let laid = job.plan.laid.or_else(|| job.laid.last().map(|coat| coat.start.date()));
        let (Some(on), Some(agreed)) = (laid, job.agreed_by_orders()) else { return };
        // A failure in one space says nothing of the floors in the others.
        if !job.spaces.is_empty() {
            return;
        }
        let floors = self.floors.entry(agreed.floor).or_default();
        floors.laid += 1;
        floors.since = Some(floors.since.map_or(on.year(), |first| first.min(on.year())));
        let causes = || job.failures.iter().map(|failure| failure.from_moisture);
        if causes().any(|cause| cause == Some(true)) {
            floors.from_moisture += 1;
        } else if causes().any(|cause| cause.is_none()) {
            floors.open += 1;
        }
    }

    fn learned(
        &self,
        task: WorkTask,
        book: &str,
        rates: &slableaf::model::book::Rates,
    ) -> Option<Learned> {
        let own = OwnRate::of(self.work.get(task.word())?)?;
        let now = book_rate(rates, task);
        let unit = Unit::of(book, task);
        Some(Learned { task, own, now, unit })
    }

    fn unmeasured_text(&self) -> String {
        if self.unmeasured.is_empty() {
            return String::new();
        }
        format!(
            "Left out, with no amount that fits the task: {}.\n\
             Add `area`, or `length` for work along a line.\n\n",
            self.unmeasured.join(", ")
        )
    }

    fn floors_text(&self) -> String {
        let mut text = String::new();
        for (system, floors) in &self.floors {
            let rate = failure_rate::rate(floors.from_moisture, floors.laid);
            let Some(rate) = rate else { continue };
            // Rounded outward: a range printed narrower than it is would claim too much.
            let (from, to) = (rate.from.as_percent().floor(), rate.to.as_percent().ceil());
            let _ = writeln!(
                text,
                "{:13}jobs = {}, moisture-failures = {}, since = {}: {from} to {to} in 100",
                system.to_string(),
                floors.laid,
                floors.from_moisture,
                floors.since.unwrap_or_default(),
            );
            if floors.open > 0 {
                let open = counted(floors.open as usize, "floor");
                let why = "cause not settled: `from-moisture` in `[[failure]]`";
                let _ = writeln!(text, "{:13}{open} more failed, {why}", "");
            }
        }
        if text.is_empty() {
            return "No floor of these jobs is laid: `[plan] laid`, or `[[laid]]`.\n".to_owned();
        }
        format!(
            "Floors of these jobs, for `[[record]]` of the shop file, with the range that such a\n\
             count leaves open (Clopper and Pearson, 95 %). Add what no job file here holds.\n{text}"
        )
    }
}

/// A rate with the one that the book has.
struct Learned {
    task: WorkTask,
    own: OwnRate,
    now: Option<f64>,
    unit: Unit,
}

/// The unit in which the book has a rate.
#[derive(Clone, Copy)]
struct Unit {
    along: bool,
    metric: bool,
}

impl Unit {
    /// The unit of a rate in a book; of one that is not there, that of grinding.
    fn of(book: &str, task: WorkTask) -> Self {
        let line = |key: &str| {
            let starts =
                |line: &&str| line.split('=').next().is_some_and(|name| name.trim() == key);
            book.lines().find(starts)
        };
        let line = line(task.word()).or_else(|| line("grind")).unwrap_or_default();
        Self { along: task.is_along(), metric: !line.contains("ft") }
    }

    fn number(self, rate: f64) -> f64 {
        match (self.along, self.metric) {
            (_, true) => rate,
            (true, false) => LengthRate::meters_per_hour(rate).as_feet_per_hour(),
            (false, false) => AreaRate::square_meters_per_hour(rate).as_square_feet_per_hour(),
        }
    }

    fn name(self) -> &'static str {
        match (self.along, self.metric) {
            (true, true) => "m/h",
            (true, false) => "ft/h",
            (false, true) => "m2/h",
            (false, false) => "ft2/h",
        }
    }

    /// A rate as a book has it: whole, or to the tenth where it is small.
    fn written(self, rate: f64) -> String {
        let number = self.number(rate);
        let decimals = usize::from(number < 20.0);
        format!("{number:.decimals$} {}", self.name())
    }
}

impl Learned {
    fn line(&self) -> String {
        let Self { task, own, now, unit } = self;
        let now = now.map_or_else(|| "none".to_owned(), |rate| unit.written(rate));
        let limits = own.limits.map_or_else(
            || "no limits".to_owned(),
            |limits| {
                // Rounded outward, as above.
                let least = unit.number(limits.least).floor();
                let most = limits.most.map_or_else(
                    || "no limit".to_owned(),
                    |most| format!("{:.0}", unit.number(most).ceil()),
                );
                format!("{least:.0} to {most}")
            },
        );
        let jobs = counted(own.jobs, "job");
        let says = match self.against() {
            Against::TooFew => format!("too few, {FEWEST_JOBS} are needed"),
            Against::Fits => "fits the book".to_owned(),
            Against::Other => "differs from the book".to_owned(),
        };
        let word = task.word();
        let rate = unit.written(own.rate);
        format!("{word:13}{now:>9}{rate:>10}{limits:>15}{jobs:>9}  {says}")
    }

    /// A rate that the book does not have differs from it.
    fn against(&self) -> Against {
        self.own.against(self.now.unwrap_or(f64::INFINITY))
    }
}

fn rates_text(rates: &[Learned]) -> String {
    if rates.is_empty() {
        return "No hours were worked by these jobs: write them under `[[worked]]`.\n\n".to_owned();
    }
    let mut text = String::from(
        "Rates of one person, one figure a job, with the limits of their mean\n\
         (Student's t, 95 %).\n",
    );
    let _ = writeln!(text, "{:13}{:>9}{:>10}{:>15}{:>9}", "", "book", "own", "between", "from");
    for rate in rates {
        let _ = writeln!(text, "{}", rate.line());
    }
    let other = rates.iter().filter(|rate| rate.against() == Against::Other);
    let other: String = other.map(|rate| format!(" --accept {}", rate.task.word())).collect();
    if !other.is_empty() {
        let _ = writeln!(text, "To take what differs:{other} --in-place");
    }
    text.push('\n');
    text
}

/// The rates that were accepted, each as it shall stand in the book.
fn taken(accepted: &[String], rates: &[Learned]) -> Result<Vec<(String, String)>> {
    let one = |name: &String| {
        let learned = rates.iter().find(|rate| rate.task.word() == name).ok_or_else(|| {
            let known: Vec<&str> = rates.iter().map(|rate| rate.task.word()).collect();
            let message = format!("`--accept` is `{name}`, and these jobs have no hours for it");
            Error::new(Exit::Line, message).help(format!("they have: {}", known.join(", ")))
        })?;
        if learned.against() == Against::TooFew {
            let jobs = counted(learned.own.jobs, "job");
            let message = format!("`{name}` comes from {jobs}, and {FEWEST_JOBS} are needed");
            return Err(Error::new(Exit::Line, message).help(
                "more jobs make it surer; a rate of your own can always be typed into the book",
            ));
        }
        Ok((name.clone(), learned.unit.written(learned.own.rate)))
    };
    accepted.iter().map(one).collect()
}
