//! Work laid into days.

use super::close;
use crate::chance::tried;
use crate::facts::example::{self};
use jiff::civil::{Date, Weekday, date, time};
use jiff::tz::TimeZoneDatabase;
use proptest::prelude::*;
use slableaf::base::calendar::{Calendar, Clock, Moment};
use slableaf::base::quantity::*;
use slableaf::model::book::{Book, Resin};
use slableaf::model::job::{Crack, Known, Shapes};
use slableaf::price::cure::cure_at;
use slableaf::price::estimate::labor::{self, Task, Work};
use slableaf::price::floor::Floor;
use slableaf::price::repair;
use slableaf::price::schedule::{Crew, Schedule, schedule};
use slableaf::read::Input;
use slableaf::site::take_off::TakeOff;

/// A floor of the example's book, one of the shipped systems, and a size.
#[derive(Debug, Clone)]
struct Plan {
    system: usize,
    floor: f64,
    upright: f64,
    cracks: f64,
    slab: Option<f64>,
    starts: i8,
    hours: i8,
}

fn plans() -> impl Strategy<Value = Plan> {
    let size = (150.0..2500.0f64, 0.0..80.0f64, 0.0..80.0f64);
    (0usize..4, size, prop::option::of(45.0..90.0f64), 6i8..=10, 6i8..=11).prop_map(
        |(system, (floor, upright, cracks), slab, starts, hours)| Plan {
            system,
            floor,
            upright,
            cracks,
            slab,
            starts,
            hours,
        },
    )
}

impl Plan {
    fn take_off(&self) -> TakeOff {
        TakeOff {
            floor: Area::square_feet(self.floor),
            upright: Area::square_feet(self.upright),
            edge: Length::feet(4.0 * self.floor.sqrt()),
            cracks: Length::feet(self.cracks),
            filled_joints: Length::ZERO,
        }
    }

    /// Lays the work of a crew into days, and hands the result on with the work it is made of.
    fn lay<T>(
        &self,
        input: &Input,
        crew: u32,
        see: impl FnOnce(&Schedule, &[Work<'_>], &Book) -> T,
    ) -> T {
        self.lay_by(Clock { calendar: &Calendar::default(), start: None }, input, crew, see)
    }

    /// The same by a calendar.
    fn lay_by<T>(
        &self,
        clock: Clock<'_>,
        input: &Input,
        crew: u32,
        see: impl FnOnce(&Schedule, &[Work<'_>], &Book) -> T,
    ) -> T {
        let mut book = input.book.clone();
        book.labor.day_starts = time(self.starts, 0, 0, 0);
        book.labor.day_ends = time(self.starts + self.hours, 0, 0, 0);
        let floor = Floor::new(&input.systems[self.system], &book, &[]);
        let crack = Crack {
            name: String::new(),
            length: Length::feet(self.cracks),
            width: Length::inches(0.125),
            moves: Known::No,
            path: vec![],
        };
        let shapes = Shapes { cracks: vec![crack], ..Shapes::default() };
        let repairs = repair::repairs(&shapes, &book);
        let hands = labor::WorkCrew { persons: crew, batches: &[] };
        let work = labor::work(
            &floor,
            &self.take_off(),
            &book.rates,
            &repairs,
            labor::Substrate::Concrete,
            hands,
        );
        let slab = self.slab.map(Temperature::fahrenheit);
        let crew = Crew { labor: &book.labor, rates: &book.rates, persons: crew, clock };
        see(&schedule(&work, crew, slab), &work, &book)
    }
}

/// Slack of a comparison between moments: a thousandth of a minute.
const MOMENT: f64 = 0.001 / 60.0;

proptest! {
    #![proptest_config(tried(400))]

    /// A crew that has more of a coat to lay than a day has hours works on into the night. That can
    /// save it a day that the bigger crew needs, so the days of such a crew are not compared.
    #[test]
    fn a_bigger_crew_is_never_later(plan in plans(), crew in 1u32..=5) {
        let input = example::input();
        let of = |crew| plan.lay(&input, crew, |s, work, book| {
            let rest = (book.rates.set_up + book.rates.clean_up) * (1.0 / f64::from(crew));
            let day = book.labor.ends() - book.labor.starts();
            let fits = work.iter().all(|piece| piece.task.may_pause() || piece.takes + rest <= day);
            (fits, s.days, s.done.0.as_hours(), s.drive.0.as_hours())
        });
        let (fits, days, done, drive) = of(crew);
        let (_, bigger_days, bigger_done, bigger_drive) = of(crew + 1);
        prop_assert!(!fits || bigger_days <= days, "{} days instead of {}", bigger_days, days);
        prop_assert!(bigger_done <= done + MOMENT, "done at hour {} instead of {}", bigger_done, done);
        prop_assert!(bigger_drive <= drive + MOMENT);
    }

    #[test]
    fn work_runs_in_order_and_no_coat_goes_down_early(plan in plans(), crew in 1u32..=4) {
        let input = example::input();
        plan.lay(&input, crew, |found, work, _| {
            for pair in found.stretches.windows(2) {
                prop_assert!(pair[0].from.0 <= pair[0].to.0);
                prop_assert!(pair[0].to.0.as_hours() <= pair[1].from.0.as_hours() + MOMENT);
            }
            let coats: Vec<_> = found.stretches.iter().filter(|s| matches!(s.task, Task::Coat(_))).collect();
            let resins: Vec<&Resin> = work.iter().filter_map(|piece| piece.lays).collect();
            prop_assert_eq!(coats.len(), resins.len());
            for (pair, below) in coats.windows(2).zip(resins) {
                let slab = plan.slab.map_or(slableaf::price::schedule::USUAL_SLAB, Temperature::fahrenheit);
                if let Ok(cure) = cure_at(below, slab) {
                    let wait = (pair[1].from.0 - pair[0].to.0).as_hours();
                    prop_assert!(wait >= cure.times.recoat_from.as_hours() - MOMENT);
                }
            }
            prop_assert!(found.done.0 <= found.walk.0 && found.walk.0 <= found.carry.0 && found.carry.0 <= found.drive.0);
            Ok(())
        })?;
    }

    /// Nobody sets up, waits and cleans up again without having worked: that day would be charged.
    #[test]
    fn every_day_on_site_has_work(plan in plans(), crew in 1u32..=4) {
        let input = example::input();
        plan.lay(&input, crew, |found, _, _| {
            for pair in found.stretches.windows(2) {
                let idle = pair[0].task == Task::SetUp && pair[1].task == Task::CleanUp;
                prop_assert!(!idle, "set up at {:?} for nothing", pair[0].from);
            }
            Ok(())
        })?;
    }

    /// Work that could wait for the morning does not run past the end of the day: only what is
    /// longer than a whole day does.
    #[test]
    fn work_ends_with_the_day(plan in plans(), crew in 1u32..=4) {
        let input = example::input();
        plan.lay(&input, crew, |found, _, book| {
            let whole_day = Hours::hours(f64::from(plan.hours)) - (book.rates.set_up + book.rates.clean_up) * (1.0 / f64::from(crew));
            let ends = f64::from(plan.starts + plan.hours);
            for stretch in &found.stretches {
                let takes = stretch.to.0 - stretch.from.0;
                let late = stretch.from.of_day().as_hours() + takes.as_hours() > ends + MOMENT;
                // Clean-up is late only after work that was.
                let may_be_late = takes > whole_day || stretch.task == Task::CleanUp;
                prop_assert!(!late || may_be_late, "{:?} ends after {}:00", stretch, ends);
            }
            Ok(())
        })?;
    }
}

/// A day of the years 2024 to 2031, leap years among them.
fn dates() -> impl Strategy<Value = Date> {
    (0i64..2900).prop_map(|days| date(2024, 1, 1) + jiff::Span::new().days(days))
}

/// Closed weekdays (never all of them), federal holidays, and days of the first two weeks.
fn closings() -> impl Strategy<Value = (Vec<Weekday>, bool, Vec<i64>)> {
    let weekday =
        (1i8..=7).prop_map(|day| Weekday::from_monday_one_offset(day).expect("a weekday"));
    (prop::collection::vec(weekday, 0..=4), any::<bool>(), prop::collection::vec(0i64..14, 0..=5))
}

proptest! {
    #![proptest_config(tried(400))]

    #[test]
    fn closed_days_never_make_a_job_finish_earlier(
        plan in plans(),
        crew in 1u32..=4,
        start in dates(),
        (closed_weekdays, federal_holidays, named) in closings(),
    ) {
        let input = example::input();
        let closed_days = named.iter().map(|days| start + jiff::Span::new().days(*days)).collect();
        let closed = Calendar { zone: None, closed_weekdays, federal_holidays, closed_days };
        let open = Calendar::default();
        let of = |calendar| {
            plan.lay_by(Clock { calendar, start: Some(start) }, &input, crew, |found, _, _| {
                (found.done.0.as_hours(), found.drive.0.as_hours())
            })
        };
        let ((done, drive), (closed_done, closed_drive)) = (of(&open), of(&closed));
        prop_assert!(closed_done >= done - MOMENT, "done at hour {} instead of {}", closed_done, done);
        prop_assert!(closed_drive >= drive - MOMENT);
        // Nobody works on a closed day but the first, which somebody agreed on.
        plan.lay_by(Clock { calendar: &closed, start: Some(start) }, &input, crew, |found, _, book| {
            let set_ups = found.stretches.iter().filter(|stretch| stretch.task == Task::SetUp);
            for stretch in set_ups.skip(1) {
                let day = start + jiff::Span::new().days(i64::from(stretch.from.day()) - 1);
                prop_assert_eq!(closed.closed(day), None, "{} {:?}", day, stretch);
                prop_assert!(close(stretch.from.of_day().as_hours(), book.labor.starts().as_hours()));
            }
            Ok(())
        })?;
    }

    #[test]
    fn a_zone_that_never_changes_its_clocks_is_like_no_zone(
        plan in plans(),
        crew in 1u32..=4,
        start in dates(),
        zone in prop::sample::select(vec!["America/Phoenix", "Pacific/Honolulu", "America/Puerto_Rico", "Etc/UTC"]),
    ) {
        let input = example::input();
        let of = |zone: Option<&str>| {
            let zone = zone.map(|name| TimeZoneDatabase::bundled().get(name).expect("a zone"));
            let calendar = Calendar { zone, ..Calendar::default() };
            plan.lay_by(Clock { calendar: &calendar, start: Some(start) }, &input, crew, |found, _, _| found.clone())
        };
        let (nowhere, somewhere) = (of(None), of(Some(zone)));
        prop_assert_eq!(nowhere.days, somewhere.days);
        prop_assert_eq!(nowhere.missed.len(), somewhere.missed.len());
        prop_assert_eq!(nowhere.stretches.len(), somewhere.stretches.len());
        let same = |a: Moment, b: Moment| (a.0 - b.0).as_hours().abs() <= MOMENT;
        for (one, other) in nowhere.stretches.iter().zip(&somewhere.stretches) {
            prop_assert_eq!(&one.task, &other.task);
            prop_assert!(same(one.from, other.from) && same(one.to, other.to), "{:?} {:?}", one, other);
        }
        prop_assert!(same(nowhere.walk, somewhere.walk) && same(nowhere.carry, somewhere.carry));
        prop_assert!(same(nowhere.drive, somewhere.drive));
    }
}
