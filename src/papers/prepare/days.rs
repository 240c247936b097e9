//! The days of a job as calendars: the crew's visits, and what the customer waits for.

use jiff::civil::Date;

use crate::base::calendar::{Clock, Moment};
use crate::base::quantity::Hours;
use crate::papers::prepare::ics::{Event, Time, calendar};
use crate::papers::proposal::writer::{Writer, values};
use crate::price::case::FloorOption;
use crate::price::estimate::labor::Task;
use crate::price::schedule::WorkStretch;
use crate::say::figures::earliest;
use crate::say::words::WordsError;

/// The crew's days as a calendar file. `None` while the job has no first day.
///
/// # Errors
/// [`WordsError`] when a sentence uses a value that it is not given.
pub fn crew_days(
    w: &Writer<'_>,
    option: &FloorOption<'_>,
    revision: u32,
) -> Result<Option<String>, WordsError> {
    let mut events = vec![];
    for (at, day) in visits(&option.estimate.schedule.stretches).into_iter().enumerate() {
        let mut tasks = vec![];
        for stretch in &day {
            let values = [
                ("from", w.figures.crew_clock(stretch.from)),
                ("to", w.figures.crew_clock(stretch.to)),
                ("task", task_name(w, option, &stretch.task)),
            ];
            tasks.push(w.say("crew.days.task", values));
        }
        let (Some(first), Some(last)) = (day.first(), day.last()) else { continue };
        let number = at + 1;
        let summary = [
            ("job", w.case.job.number.0.clone()),
            ("day", w.figures.number(number as f64, 0)),
            ("floor", w.name(option.key())),
        ];
        events.push(DayEntry {
            key: format!("crew-{number}"),
            from: first.from,
            to: Some(last.to),
            summary: w.say("crew.days.summary", summary),
            description: tasks.join("\n"),
        });
    }
    let name = w.say_with("crew.days.crew_calendar", job_values(w));
    w.checked(calendar_file(w, &name, revision, events))
}

/// Returns the customer's calendar file. It holds the visits and when the floor may be used, and
/// nothing of the work. `None` while the job has no first day.
///
/// # Errors
/// [`WordsError`] when a sentence uses a value that it is not given.
pub fn customer_days(
    w: &Writer<'_>,
    option: &FloorOption<'_>,
    revision: u32,
) -> Result<Option<String>, WordsError> {
    let schedule = &option.estimate.schedule;
    let floor = || values([("floor", w.the_name(option.key()))]);
    let mut events = vec![];
    for (at, day) in visits(&schedule.stretches).into_iter().enumerate() {
        let (Some(first), Some(last)) = (day.first(), day.last()) else { continue };
        events.push(DayEntry {
            key: format!("visit-{}", at + 1),
            from: half_hour(first.from),
            to: Some(half_hour(last.to)),
            summary: w.say_with("crew.days.visit", floor()),
            description: w.plain("crew.days.visit_note"),
        });
    }
    let milestones =
        [("walk", schedule.walk), ("carry", schedule.carry), ("drive", schedule.drive)];
    for (what, moment) in milestones {
        events.push(DayEntry {
            key: what.to_owned(),
            from: earliest(moment),
            to: None,
            summary: w.plain(&format!("crew.days.{what}")),
            description: w.plain("crew.days.milestone_note"),
        });
    }
    let name = w.say_with("crew.days.customer_calendar", job_values(w));
    w.checked(calendar_file(w, &name, revision, events))
}

fn job_values(w: &Writer<'_>) -> minijinja::Value {
    values([
        ("job", w.case.job.number.0.as_str()),
        ("customer", w.case.job.customer.name.as_str()),
        ("shop", w.case.shop.name.as_str()),
    ])
}

/// A task by the name that a crew calls it.
pub fn task_name(w: &Writer<'_>, option: &FloorOption<'_>, task: &Task) -> String {
    match task {
        Task::SetUp => w.plain("crew.task.set_up"),
        Task::Strip => w.plain("crew.task.strip"),
        Task::Grind => w.plain("crew.task.grind"),
        Task::Edge => w.plain("crew.task.edge"),
        Task::Repair => w.plain("crew.task.repair"),
        Task::Scrape => w.plain("crew.task.scrape"),
        Task::CleanUp => w.plain("crew.task.clean_up"),
        Task::Coat(coat) => {
            let coats = &option.floor.coats;
            let found = coats.iter().position(|c| c.spec.key == *coat);
            let name = found.map_or(coat.0.as_str(), |at| coats[at].product.name.as_str());
            let flake =
                found.and_then(|at| coats.get(at + 1)).filter(|next| next.resin().is_none());
            let flake = flake.map_or_else(String::new, |next| next.product.name.clone());
            w.say("crew.task.coat", [("coat", name.to_owned()), ("flake", flake)])
        }
    }
}

/// Stretches by the day that they are on, those without length left out.
pub fn visits(stretches: &[WorkStretch]) -> Vec<Vec<&WorkStretch>> {
    let mut days: Vec<Vec<&WorkStretch>> = vec![];
    for stretch in stretches.iter().filter(|stretch| stretch.to > stretch.from) {
        match days.last_mut() {
            Some(day) if day[0].from.day() == stretch.from.day() => day.push(stretch),
            _ => days.push(vec![stretch]),
        }
    }
    days
}

/// The nearest half hour, for the hours of a visit.
fn half_hour(moment: Moment) -> Moment {
    Moment(Hours::hours((moment.0.as_hours() * 2.0).round() / 2.0))
}

/// An entry of a calendar, on the job's own clock.
struct DayEntry {
    key: String,
    from: Moment,
    /// None for a milestone, which takes no time.
    to: Option<Moment>,
    summary: String,
    description: String,
}

fn calendar_file(
    w: &Writer<'_>,
    name: &str,
    revision: u32,
    entries: Vec<DayEntry>,
) -> Option<String> {
    let job = w.case.job;
    let clock = Clock { calendar: &w.case.shop.calendar, start: job.plan.start };
    let location = job.customer.address.join(", ");
    let mut events = vec![];
    for DayEntry { key, from, to, summary, description } in entries {
        let to = match to {
            Some(to) => Some(calendar_time(&clock, to)?),
            None => None,
        };
        events.push(Event {
            uid: format!("{}-{key}@slableaf.invalid", job.number.0),
            from: calendar_time(&clock, from)?,
            to,
            summary,
            description,
            location: location.clone(),
        });
    }
    let stamped = noon_utc(job.date)?;
    Some(calendar(name, stamped, revision.saturating_sub(1), &events))
}

/// Noon UTC of the job's date: the file is the same whenever it is made.
fn noon_utc(date: Date) -> Option<jiff::Timestamp> {
    date.at(12, 0, 0, 0).to_zoned_datetime(jiff::tz::TimeZone::UTC).ok().map(|z| z.timestamp())
}

/// A moment to the minute, on the time line where the shop has named its zone.
fn calendar_time(clock: &Clock<'_>, moment: Moment) -> Option<Time> {
    let moment = Moment(Hours::minutes(moment.0.as_minutes().round()));
    if let Some(zoned) = clock.zoned(moment) {
        return Some(Time::Fixed(zoned.timestamp()));
    }
    let date = clock.date(moment.day());
    let minutes = moment.of_day().as_minutes().round() as i64;
    let midnight = date?.to_datetime(jiff::civil::Time::midnight());
    midnight.checked_add(jiff::SignedDuration::from_mins(minutes)).ok().map(Time::Floating)
}
