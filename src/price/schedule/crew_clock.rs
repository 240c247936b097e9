//! The crew's clock while work is laid out.

use crate::base::calendar::{Clock, Moment};
use crate::base::quantity::Hours;
use crate::model::book::{Labor, Rates};
use crate::price::estimate::labor::{Task, Work};
use crate::price::schedule::WorkStretch;
use crate::read::limits;

/// Nothing is planned finer than this.
const SLACK: Hours = Hours::minutes(0.001);

/// Less time than this before the end of a day is no time to begin something.
const NO_ROOM: Hours = Hours::minutes(1.0);

/// A day with no end: longer than any job.
const ENDLESS: Hours = Hours::days(10_000.0);

/// Days that are looked ahead for one on which work is ready: more than any coat may cure.
const AHEAD: u32 = 2 * limits::DAYS;

pub(super) struct CrewClock<'a> {
    pub now: Moment,
    clock: Clock<'a>,
    starts: Hours,
    ends: Hours,
    set_up: Hours,
    clean_up: Hours,
    /// Days on which the crew is there.
    days: u32,
    pub stretches: Vec<WorkStretch>,
}

impl<'a> CrewClock<'a> {
    pub fn new(labor: &Labor, rates: &Rates, crew: u32, clock: Clock<'a>) -> Self {
        let crew = f64::from(crew.max(1));
        let starts = labor.starts();
        let mut at_work = Self {
            now: Moment(starts),
            clock,
            starts,
            ends: labor.ends(),
            set_up: rates.set_up * (1.0 / crew),
            clean_up: rates.clean_up * (1.0 / crew),
            days: 1,
            stretches: vec![],
        };
        at_work.put(Task::SetUp, at_work.set_up);
        at_work
    }

    /// A crew that stays until the work is done, however late.
    pub fn endless(self) -> Self {
        Self { ends: ENDLESS, ..self }
    }

    /// Returns the moment at which work has to stop today, so that there is time to clean up.
    fn last_call(&self) -> Moment {
        Moment::on(self.now.day(), self.ends - self.clean_up)
    }

    fn put(&mut self, task: Task, time: Hours) -> (Moment, Moment) {
        let (from, to) = (self.now, self.clock.after(self.now, time));
        self.stretches.push(WorkStretch { task, from, to });
        self.now = to;
        (from, to)
    }

    /// Ends today's work and begins on a later day, the first from `day` on that the shop works;
    /// the crew stays away on the days between.
    fn go_on(&mut self, day: u32) {
        self.put(Task::CleanUp, self.clean_up);
        self.days += 1;
        self.now = Moment::on(self.clock.open_day(day), self.starts);
        self.put(Task::SetUp, self.set_up);
    }

    fn next_day(&mut self) {
        self.go_on(self.now.day() + 1);
    }

    /// Places work that may not begin before a moment. The crew waits on site when the work still
    /// fits into the day; else it goes home and comes back on the first day on which it does,
    /// together with the work that follows at once: nobody comes to scrape and leaves.
    pub fn place(&mut self, piece: &Work<'_>, ready: Moment, follows: Hours) -> (Moment, Moment) {
        let takes = piece.takes;
        if piece.task.may_pause() {
            return self.place_in_parts(piece, takes);
        }
        // On a day that has only begun there is no better day to wait for.
        let fresh =
            self.stretches.last().is_some_and(|s| s.task == Task::SetUp && s.to == self.now);
        let starts_today = later_of(self.now, ready);
        let today = starts_today.day() == self.now.day() || self.ends == ENDLESS;
        let fits = today && starts_today.0 + takes <= self.last_call().0 + SLACK;
        let no_better_day = fresh && self.now >= ready;
        if !fits && !no_better_day {
            let together = takes + follows;
            self.go_on(self.first_day(together, ready));
        }
        self.now = later_of(self.now, ready);
        self.put(piece.task.clone(), takes)
    }

    /// The first later day on which work of some length fits, once it is ready. Where the length
    /// is more than a day has, the first day on which it is ready in the morning.
    fn first_day(&self, takes: Hours, ready: Moment) -> u32 {
        let mut day = self.clock.open_day(self.now.day() + 1);
        // What is ready in ages is refused anyway.
        let last = day.saturating_add(AHEAD);
        loop {
            let begun = Moment::on(day, self.starts + self.set_up);
            let ends = Moment::on(day, self.ends - self.clean_up);
            let fits = later_of(begun, ready).0 + takes <= ends.0 + SLACK;
            let next = self.clock.open_day(day + 1);
            if fits || begun >= ready || next <= day || next > last {
                return day;
            }
            day = next;
        }
    }

    fn place_in_parts(&mut self, piece: &Work<'_>, takes: Hours) -> (Moment, Moment) {
        let mut left = takes;
        let mut from = None;
        loop {
            let room = self.last_call().0 - self.now.0;
            if room <= NO_ROOM {
                self.next_day();
                // A day with no room at all would never end, and work of years is refused anyway.
                let endless = self.last_call().0 - self.now.0 <= NO_ROOM;
                if endless || self.days > limits::DAYS {
                    let (start, to) = self.put(piece.task.clone(), left);
                    return (from.unwrap_or(start), to);
                }
                continue;
            }
            let (start, to) = self.put(piece.task.clone(), left.min(room));
            from = from.or(Some(start));
            left = left - left.min(room);
            if left <= SLACK {
                return (from.unwrap_or(start), to);
            }
        }
    }

    /// Cleans up for good.
    pub fn close(&mut self) {
        self.put(Task::CleanUp, self.clean_up);
    }

    /// The days on which the crew was there.
    pub fn days(&self) -> u32 {
        self.days
    }
}

fn later_of(a: Moment, b: Moment) -> Moment {
    if b > a { b } else { a }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::price::testing::sample;

    /// Nobody comes to scrape and leaves: a day that begins with scraping the fast-cure floor has its topcoat, whenever
    /// a day ends. Who is there already may scrape before going home.
    #[test]
    fn who_comes_to_scrape_stays_to_coat() {
        let (mut came, mut stayed) = (0, 0);
        for minutes in (0..480).step_by(15) {
            let ends = format!("{:02}:{:02}:00", 12 + minutes / 60, minutes % 60);
            sample().book("labor.day-ends", &ends).with_case(|case| {
                let stretches = &case.options[1].estimate.schedule.stretches;
                let at = stretches.iter().position(|one| one.task == Task::Scrape).unwrap();
                if stretches[at - 1].task != Task::SetUp {
                    stayed += 1;
                    return;
                }
                came += 1;
                let (scraped, next) = (&stretches[at], &stretches[at + 1]);
                assert!(matches!(next.task, Task::Coat(_)), "{:?} at {ends}", next.task);
                assert_eq!(scraped.to, next.from, "{ends}");
            });
        }
        assert!(came > 3 && stayed > 3, "{came} {stayed}");
        // A barrier coat that is ready on the next day, at any hour: who comes for it lays the topcoat then.
        let mut days = vec![];
        for minutes in (0..600).step_by(15) {
            let cure = format!(
                "[{{ at = \"68 F\", pot-life = \"30 min\", recoat-from = \"{} min\", \
                 recoat-to = \"96 h\", foot = \"30 h\", vehicle = \"72 h\" }}]",
                18 * 60 + minutes
            );
            let slow = sample().book("product.barrier-epoxy.cure", &cure);
            slow.book("rates.roll", "\"100 ft2/h\"").with_case(|case| {
                let stretches = &case.options[0].estimate.schedule.stretches;
                let at = stretches.iter().position(|one| one.task == Task::Scrape).unwrap();
                assert!(matches!(stretches[at + 1].task, Task::Coat(_)), "{minutes}");
                days.push(stretches[at].from.day());
            });
        }
        days.dedup();
        assert!(days.len() > 1, "{days:?}");
    }
}
