//! The crew's clock while work is laid out.

use crate::book::{Labor, Rates};
use crate::calendar::{Clock, Moment};
use crate::estimate::labour::{Task, Work};
use crate::quantity::Hours;
use crate::schedule::Stretch;

/// Nothing is planned finer than this.
const SLACK: Hours = Hours::minutes(0.001);

/// Less time than this before the end of a day is no time to begin something.
const NO_ROOM: Hours = Hours::minutes(1.0);

/// A day with no end: longer than any job.
const ENDLESS: Hours = Hours::days(10_000.0);

pub(super) struct Desk<'a> {
    pub now: Moment,
    clock: Clock<'a>,
    starts: Hours,
    ends: Hours,
    set_up: Hours,
    clean_up: Hours,
    crew: f64,
    /// Days on which the crew is there.
    days: u32,
    pub stretches: Vec<Stretch>,
}

impl<'a> Desk<'a> {
    pub fn new(labor: &Labor, rates: &Rates, crew: u32, clock: Clock<'a>) -> Self {
        let crew = f64::from(crew.max(1));
        let starts = labor.starts();
        let mut desk = Self {
            now: Moment(starts),
            clock,
            starts,
            ends: labor.ends(),
            set_up: rates.set_up * (1.0 / crew),
            clean_up: rates.clean_up * (1.0 / crew),
            crew,
            days: 1,
            stretches: vec![],
        };
        desk.put(Task::SetUp, desk.set_up);
        desk
    }

    /// A crew that stays until the work is done, however late.
    pub fn endless(self) -> Self {
        Self { ends: ENDLESS, ..self }
    }

    /// When work has to stop today, so that there is time to clean up.
    fn last_call(&self) -> Moment {
        Moment::on(self.now.day(), self.ends - self.clean_up)
    }

    fn put(&mut self, task: Task, time: Hours) -> (Moment, Moment) {
        let (from, to) = (self.now, self.clock.after(self.now, time));
        self.stretches.push(Stretch { task, from, to });
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

    /// Lets time pass until a moment. Past the end of today's work the crew comes back on the
    /// first day on which the moment leaves time to work.
    pub fn wait_until(&mut self, moment: Moment) {
        if self.now >= moment {
            return;
        }
        if self.ends < ENDLESS && (moment.day() > self.now.day() || moment >= self.last_call()) {
            let late = moment.of_day() >= self.ends - self.clean_up;
            self.go_on(moment.day().max(self.now.day()) + u32::from(late));
        }
        if self.now < moment {
            self.now = moment;
        }
    }

    pub fn place(&mut self, piece: &Work<'_>) -> (Moment, Moment) {
        let mut left = piece.hours * (1.0 / self.crew);
        if piece.task.may_pause() {
            let mut from = None;
            loop {
                let room = self.last_call().0 - self.now.0;
                if room <= NO_ROOM {
                    self.next_day();
                    // A day with no room at all would never end.
                    if self.last_call().0 - self.now.0 <= NO_ROOM {
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
        let fits = |desk: &Self| desk.now.0 + left <= desk.last_call().0 + SLACK;
        // On a day that has only begun there is no better day to wait for.
        let fresh =
            self.stretches.last().is_some_and(|s| s.task == Task::SetUp && s.to == self.now);
        if !fits(self) && !fresh {
            self.next_day();
        }
        self.put(piece.task.clone(), left)
    }

    /// Cleans up for good; the days on which the crew was there.
    pub fn close(&mut self) -> u32 {
        self.put(Task::CleanUp, self.clean_up);
        self.days
    }
}
