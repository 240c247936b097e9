//! The days of a job as calendars: the crew's visits, and what the customer waits for.

use jiff::civil::Date;

use crate::base::calendar::{Clock, Moment};
use crate::base::quantity::Hours;
use crate::model::system::GritHow;
use crate::papers::prepare::ics::{Event, Time, calendar};
use crate::papers::prepare::sheet::is_agreed;
use crate::papers::proposal::writer::{Writer, joined, values};
use crate::price::case::FloorOption;
use crate::price::estimate::labor::Task;
use crate::price::floor::{CoatStuff, FloorCoat};
use crate::price::schedule::WorkStretch;
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
    let unsigned = (!is_agreed(w, option)).then(|| w.plain("crew.sheet.unsigned"));
    for (number, day) in (1_u32..).zip(visits(&option.estimate.schedule.stretches)) {
        let (Some(first), Some(last)) = (day.first(), day.last()) else { continue };
        let tasks = day.iter().map(|stretch| {
            let values = [
                ("from", w.figures.crew_clock(stretch.from)),
                ("to", w.figures.crew_clock(stretch.to)),
                ("task", task_name(w, option, &stretch.task)),
            ];
            w.say("crew.days.task", values)
        });
        let day = w.day_on_site(number as usize - 1, Some(first.from));
        let summary = [
            ("job", w.case.job.number.0.clone()),
            ("day", w.figures.number(f64::from(day), 0)),
            ("floor", in_space(w, w.name(option.key()))),
        ];
        events.push(DayEntry {
            key: format!("crew-{number}"),
            from: first.from,
            to: Some(last.to),
            summary: w.say("crew.days.summary", summary),
            description: unsigned.iter().cloned().chain(tasks).collect::<Vec<_>>().join("\n"),
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
    let contact = w.case.job.plan.contact.iter();
    let contact =
        contact.map(|contact| w.say("crew.days.visit_contact", [("contact", contact.as_str())]));
    let contact = joined(contact);
    let unsigned = w.plain_if(!is_agreed(w, option), "crew.days.visit_unsigned");
    let mut events = vec![];
    for (number, day) in (1_u32..).zip(visits(&schedule.stretches)) {
        let (Some(first), Some(last)) = (day.first(), day.last()) else { continue };
        events.push(DayEntry {
            key: format!("visit-{number}"),
            from: half_hour(first.from),
            to: Some(half_hour(last.to)),
            summary: in_space(w, w.say("crew.days.visit", [("floor", w.the_name(option.key()))])),
            description: joined([
                unsigned.clone(),
                w.plain("crew.days.visit_note"),
                contact.clone(),
            ]),
        });
    }
    let milestones =
        [("walk", schedule.walk), ("carry", schedule.carry), ("drive", schedule.drive)];
    let cars = w.case.job.has_cars();
    let milestones = milestones.into_iter().filter(|(what, _)| cars || *what != "drive");
    for (what, moment) in milestones {
        events.push(DayEntry {
            key: what.to_owned(),
            from: moment.by_day(),
            to: None,
            summary: in_space(w, w.plain(&format!("crew.days.{what}"))),
            description: w.plain("crew.days.milestone_note"),
        });
    }
    let name = w.say_with("crew.days.customer_calendar", job_values(w));
    w.checked(calendar_file(w, &name, revision, events))
}

/// A text under the name of its space, where the job is of one of several.
fn in_space(w: &Writer<'_>, says: String) -> String {
    match &w.case.job.place {
        Some(place) => w.headed(&place.name, &says),
        None => says,
    }
}

impl Writer<'_> {
    /// The number of a day on site: that of the visit, counted from 0, or, in one space of several, that of
    /// the whole visit's day.
    pub(super) fn day_on_site(&self, visit: usize, from: Option<Moment>) -> u32 {
        match (&self.case.job.place, from) {
            (Some(_), Some(from)) => from.day(),
            _ => visit as u32 + 1,
        }
    }
}

fn job_values(w: &Writer<'_>) -> minijinja::Value {
    values([
        ("job", w.case.job.number.0.as_str()),
        ("customer", w.case.job.customer.full_name().as_ref()),
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
            let floor = &option.floor;
            let laid = floor.coats.iter().find(|laid| laid.spec.key == *coat);
            let name = laid.map_or(coat.0.as_str(), |laid| laid.product.name.as_str());
            let mixed =
                |one: &&FloorCoat<'_>| matches!(one.stuff, CoatStuff::Grit(_, GritHow::Mixed));
            let thrown = floor.upon(coat).filter(|one| !mixed(one));
            let thrown: Vec<String> = thrown.map(|one| one.product.name.clone()).collect();
            w.say("crew.task.coat", [("coat", name), ("flake", &w.figures.list(&thrown))])
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
    let clock = w.clock();
    let events = entries.into_iter().map(|DayEntry { key, from, to, summary, description }| {
        let to = match to {
            Some(to) => Some(calendar_time(&clock, to)?),
            None => None,
        };
        Some(Event {
            uid: match &job.place {
                Some(place) => {
                    format!("{}-space-{}-{key}@slableaf.invalid", job.number.0, place.number)
                }
                None => format!("{}-{key}@slableaf.invalid", job.number.0),
            },
            from: calendar_time(&clock, from)?,
            to,
            summary,
            description,
            location: job.customer.address.join(", "),
        })
    });
    let events: Vec<Event> = events.collect::<Option<_>>()?;
    Some(calendar(name, noon_utc(job.date)?, revision.saturating_sub(1), &events))
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
    let minutes = moment.of_day().as_minutes().round() as i64;
    let midnight = clock.date(moment.day())?.to_datetime(jiff::civil::Time::midnight());
    midnight.checked_add(jiff::SignedDuration::from_mins(minutes)).ok().map(Time::Floating)
}
