//! Days of all kinds: hot, cold, humid, wet, short and long ones, closed ones. What a day does to a
//! plan is worked out here by hand; the sources of the rules stand beside them.

mod calendar;
mod cold;
mod hot;
mod signing;

use jiff::civil::Date;
use jiff::tz::TimeZoneDatabase;
use slableaf::base::names::Key;
use slableaf::base::quantity::*;
use slableaf::judge::checks::{Finding, Severity, stops};
use slableaf::judge::judge;
use slableaf::price::batches::Batches;
use slableaf::price::case::{FloorOption, case};
use slableaf::price::estimate::labor::Task;
use slableaf::price::schedule::Schedule;
use slableaf::read::Input;

use crate::facts::example;

/// 480 ft2 of dry slab, 88 ft of edge, nothing to mend; a barrier floor and a fast-cure floor.
const JOB: &str = include_str!("../worked/plain-rectangle/job.toml");

/// A job on a day of its own kind, with the products and the shop of the examples.
struct Day {
    input: Input,
}

impl Day {
    fn new() -> Self {
        let mut input = example::read(JOB, example::BOOK, example::SHOP);
        input.job.plan.start = None;
        Self { input }
    }

    fn slab(mut self, fahrenheit: f64) -> Self {
        self.input.job.air.as_mut().expect("measured air").slab =
            Temperature::fahrenheit(fahrenheit);
        self
    }

    fn air(mut self, fahrenheit: f64, humidity: f64) -> Self {
        let air = self.input.job.air.as_mut().expect("measured air");
        air.temperature = Temperature::fahrenheit(fahrenheit);
        air.humidity = Humidity::percent(humidity);
        self
    }

    fn crew(mut self, persons: u32) -> Self {
        self.input.job.plan.crew = Some(persons);
        self
    }

    fn starting(mut self, start: Date) -> Self {
        self.input.job.plan.start = Some(start);
        self
    }

    fn zone(mut self, name: Option<&str>) -> Self {
        let zone = |name| TimeZoneDatabase::bundled().get(name).expect("a zone of the database");
        self.input.shop.calendar.zone = name.map(zone);
        self
    }

    /// Open on every day of the year.
    fn always_open(mut self) -> Self {
        self.input.shop.calendar.closed_weekdays = vec![];
        self.input.shop.calendar.federal_holidays = false;
        self
    }

    #[track_caller]
    fn with<T>(&self, floor: &str, see: impl FnOnce(&FloorOption<'_>) -> T) -> T {
        let case = case(&self.input);
        see(case.options.iter().find(|choice| choice.key().0 == floor).expect("an offered floor"))
    }

    fn schedule(&self, floor: &str) -> Schedule {
        self.with(floor, |choice| choice.estimate.schedule.clone())
    }

    #[track_caller]
    fn batches(&self, floor: &str, coat: &str) -> Batches {
        self.with(floor, |choice| {
            let all = &choice.estimate.batches;
            all.iter().find(|(key, _)| key.0 == coat).expect("a liquid coat").1.clone()
        })
    }

    /// The findings of a check for a floor, or of the job when the floor is empty.
    fn said(&self, check: &str, floor: &str) -> Option<Finding> {
        let about = |finding: &Finding| finding.option.as_ref().map_or("", |key| &key.0) == floor;
        let judged = judge(&self.input);
        judged.findings.iter().find(|found| found.check.name == check && about(found)).cloned()
    }

    #[track_caller]
    fn says(&self, check: &str, floor: &str, severity: Severity) -> Finding {
        let found = self.said(check, floor).unwrap_or_else(|| panic!("{check} is silent"));
        assert_eq!(found.severity, severity, "{check}");
        found
    }

    #[track_caller]
    fn silent(&self, check: &str, floor: &str) {
        let found = self.said(check, floor);
        assert!(found.is_none(), "{check} says {found:?}");
    }

    fn offered(&self, floor: &str) -> bool {
        stops(&judge(&self.input).findings, &Key(floor.to_owned())).is_empty()
    }
}

fn coat(name: &str) -> Task {
    Task::Coat(Key(name.to_owned()))
}

/// Day and clock on which a coat is begun.
#[track_caller]
fn begun(schedule: &Schedule, name: &str) -> (u32, f64) {
    let stretch = schedule.stretches.iter().find(|s| s.task == coat(name)).expect("a coat");
    (stretch.from.day(), stretch.from.of_day().as_hours())
}
