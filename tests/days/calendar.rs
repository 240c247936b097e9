//! Clocks that change, closed days and days for nothing.

use super::{Day, begun};
use crate::facts::near;
use jiff::civil::{Date, Weekday, date};
use slableaf::base::figure::Figure;
use slableaf::base::names::Key;
use slableaf::base::quantity::*;
use slableaf::judge::checks::Severity;
use slableaf::model::book::{Product, Stuff};
use slableaf::price::estimate::labor::Task;

/// On a slab at 77 F the topcoat takes a car after 24 hours. Clock hours from the end of the coat
/// to the car.
#[track_caller]
fn car_after(start: Date, zone: Option<&str>, expected: f64) {
    let day = Day::new().slab(77.0).always_open().starting(start).zone(zone);
    let schedule = day.schedule("fast-cure");
    assert_eq!(schedule.days, 1);
    near((schedule.drive.0 - schedule.done.0).as_hours(), expected, 1e-6);
    let walk = (schedule.walk.0 - schedule.done.0).as_hours();
    near(walk, 5.0, 1e-6);
}

/// Clocks in the United States go forward at 2 am on the second Sunday of March and back at 2 am
/// on the first Sunday of November: 15 U.S.C. 260a. Most of Arizona does not change them.
#[test]
fn a_car_comes_back_by_elapsed_hours_over_a_night_on_which_clocks_change() {
    let (spring, autumn) = (date(2026, 3, 7), date(2026, 10, 31));
    car_after(spring, Some("America/Chicago"), 25.0);
    car_after(autumn, Some("America/Chicago"), 23.0);
    for day in [spring, autumn] {
        car_after(day, Some("America/Phoenix"), 24.0);
        car_after(day, None, 24.0);
    }
    // The day before, and the Sunday itself: the change is past or still to come.
    for day in [date(2026, 3, 6), date(2026, 3, 8), date(2026, 10, 30), date(2026, 11, 1)] {
        car_after(day, Some("America/Chicago"), 24.0);
    }
}

/// The epoxy of the barrier floor waits 10 hours at 77 F and is hard long before the morning: the
/// crew begins by the clock on the wall, also on the Sunday.
#[test]
fn a_crew_begins_by_the_clock_on_the_wall() {
    let at = |start, zone| {
        let day = Day::new().slab(77.0).always_open().starting(start).zone(zone);
        begun(&day.schedule("barrier"), "top")
    };
    // 7:30, half an hour of set-up, 480 / 450 / 2 hours of scraping.
    let morning = 8.0 + 480.0 / 450.0 / 2.0;
    for start in [date(2026, 3, 7), date(2026, 10, 31)] {
        for zone in [Some("America/Chicago"), Some("America/Phoenix"), None] {
            let (day, clock) = at(start, zone);
            assert_eq!(day, 2);
            near(clock, morning, 1e-6);
        }
    }
}

/// At 50 F the epoxy waits 22 hours. Its pot life of 50 minutes leaves 2 x (37.5 - 3) - 3 = 66 of 96
/// minutes, two batches; but 480 ft2 at 100 ft2/gal and 1.178 gal for a texture of 100 um, over 0.9,
/// are 6.64 gal, three pails of 3 gal at most. 3 + 2 x (48 + 3) / 2 + 24 = 78 minutes. It is down at
/// 7:30 + 0.5 + 0.9231 + 0.88 + 1.3 = 11.1031, so the next coat may come at 9.1031 in the morning, an hour later in March and earlier in
/// November, when that is before the crew is set up.
#[test]
fn a_coat_waits_by_the_stopwatch_over_the_night() {
    let from = |start, zone| {
        let day = Day::new().slab(50.0).always_open().starting(start).zone(zone);
        let schedule = day.schedule("barrier");
        let window = schedule.laid(&Key("top".to_owned())).expect("a topcoat").window;
        let scrape = schedule.stretches.iter().find(|s| s.task == Task::Scrape).expect("scraping");
        (window.expect("a window").from.of_day().as_hours(), scrape.from.of_day().as_hours())
    };
    let chicago = Some("America/Chicago");
    for (start, zone, opens, scraped) in [
        (date(2026, 3, 7), chicago, 10.1031, 10.1031),
        (date(2026, 10, 31), chicago, 8.1031, 8.1031),
        (date(2026, 3, 7), Some("America/Phoenix"), 9.1031, 9.1031),
        (date(2026, 3, 14), chicago, 9.1031, 9.1031),
    ] {
        let (window, scrape) = from(start, zone);
        near(window, opens, 0.0001);
        near(scrape, scraped, 0.0001);
    }
}

/// A floor of two days that begins on `start`: the date of its second day.
fn second_day(start: Date, change: impl FnOnce(&mut Day)) -> Date {
    let mut day = Day::new().starting(start);
    change(&mut day);
    let (at, _) = begun(&day.schedule("barrier"), "top");
    start.checked_add(jiff::Span::new().days(i64::from(at) - 1)).expect("a date")
}

/// Federal holidays: 5 U.S.C. 6103. One that falls on a Saturday is observed on the Friday before,
/// one on a Sunday on the Monday after (Executive Order 11582; both repeated in secondary sources).
#[test]
fn work_goes_on_after_a_holiday() {
    let after = |start| second_day(start, |_| {});
    // Saturday; Sunday is closed, and Monday is Memorial Day.
    assert_eq!(after(date(2026, 5, 23)), date(2026, 5, 26));
    // Thursday; July 4 is a Saturday, observed on Friday the 3rd; then comes a Sunday.
    assert_eq!(after(date(2026, 7, 2)), date(2026, 7, 6));
    // Wednesday before Thanksgiving, the fourth Thursday of November.
    assert_eq!(after(date(2026, 11, 25)), date(2026, 11, 27));
    // Saturday before July 4, 2027, a Sunday, observed on Monday the 5th.
    assert_eq!(after(date(2027, 7, 3)), date(2027, 7, 6));
    // A week without one.
    assert_eq!(after(date(2026, 5, 12)), date(2026, 5, 13));
}

#[test]
fn a_shop_that_works_on_holidays_goes_on_the_next_morning() {
    let open = |start| second_day(start, |day| day.input.shop.calendar.federal_holidays = false);
    assert_eq!(open(date(2026, 7, 2)), date(2026, 7, 3));
    assert_eq!(open(date(2026, 5, 23)), date(2026, 5, 25));
}

#[test]
fn days_that_a_shop_names_are_closed_too() {
    let named = |day: &mut Day| day.input.shop.calendar.closed_days = vec![date(2026, 5, 13)];
    assert_eq!(second_day(date(2026, 5, 12), named), date(2026, 5, 14));
    let weekend = |day: &mut Day| {
        day.input.shop.calendar.closed_weekdays = vec![Weekday::Saturday, Weekday::Sunday];
    };
    assert_eq!(second_day(date(2026, 5, 15), weekend), date(2026, 5, 18));
}

/// The epoxy is down about 11 on Saturday and takes a coat until 36 h x (60/36)^(7/27) = 41.1
/// hours later at 70 F: Monday, 4 in the morning. Tuesday is too late.
#[test]
fn a_holiday_that_lets_the_window_pass_is_told() {
    let over = Day::new().starting(date(2026, 5, 23));
    let schedule = over.schedule("barrier");
    let window = schedule.laid(&Key("top".to_owned())).expect("a topcoat").window.expect("one");
    near((window.to.0 - schedule.coats[0].to.0).as_hours(), 41.099, 0.01);
    over.says("recoat-missed", "barrier", Severity::Caution);
    Day::new().starting(date(2026, 5, 12)).silent("recoat-missed", "barrier");
}

/// Somebody agreed on the day, so it stands; the shop is told.
#[test]
fn a_start_on_a_closed_day_is_kept_and_told() {
    let sunday = Day::new().starting(date(2026, 5, 24));
    let found = sunday.says("start-closed-day", "", Severity::Caution);
    assert!(found.values.contains(&("why", Figure::from("weekday"))), "{found:?}");
    let schedule = sunday.schedule("barrier");
    assert_eq!(begun(&schedule, "barrier").0, 1);
    // Monday is Memorial Day.
    assert_eq!(begun(&schedule, "top").0, 3);
    assert!(sunday.offered("barrier"));
    let holiday = Day::new().starting(date(2026, 7, 3));
    let found = holiday.says("start-closed-day", "", Severity::Caution);
    assert!(found.values.contains(&("why", Figure::from("holiday"))), "{found:?}");
    Day::new().starting(date(2026, 5, 26)).silent("start-closed-day", "");
    Day::new().silent("start-closed-day", "");
}

/// An epoxy that takes a coat after 29.5 hours at 50 F. It is down at 11.1031 on the first day, see
/// above, so the next coat may come at 16.6031 on the second: scraping would take until 17.14, and
/// clean-up begins at 16.625. The crew comes on the third day, and is there on two.
#[test]
fn nobody_comes_for_a_day_on_which_nothing_can_be_done() {
    let mut day = Day::new().slab(50.0).always_open().starting(date(2026, 5, 12));
    let epoxy = |product: &&mut Product| product.key.0 == "barrier-epoxy";
    let product = day.input.book.products.iter_mut().find(epoxy).expect("an epoxy");
    let Stuff::Resin(resin) = &mut product.stuff else { panic!("a liquid") };
    resin.cure[0].recoat_from = Hours::hours(29.5);
    let schedule = day.schedule("barrier");
    assert_eq!(begun(&schedule, "top").0, 3);
    assert_eq!(schedule.days, 2, "{:#?}", schedule.stretches);
}

/// A primer that gels after 7.85 minutes at 95 F. One person has 0.25 gal, the smallest batch, out
/// of the pail after 3 + 96 x 0.25 / 4.864 = 7.934 minutes: too late, and later than it gels.
#[test]
fn a_coat_that_gels_is_late_by_the_figures_that_are_shown() {
    let mut day = Day::new().air(95.0, 30.0).slab(95.0).crew(1);
    let primer = |product: &&mut Product| product.key.0 == "polyurea-primer";
    let product = day.input.book.products.iter_mut().find(primer).expect("a primer");
    let Stuff::Resin(resin) = &mut product.stuff else { panic!("a liquid") };
    resin.cure[1].pot_life = Hours::minutes(15.7);
    let found = day.says("batch-gels", "fast-cure", Severity::Stop);
    let Some(Figure::NoLonger(gels)) = &found.limit else { panic!("{found:?}") };
    let placed = day.batches("fast-cure", "primer").placed_in;
    near(gels.as_minutes(), 7.85, 0.0001);
    near(placed.as_minutes(), 7.934, 0.001);
}

/// The one rounding rule, half away from zero: 1.125 hours of one person are 1.13.
#[test]
fn half_a_hundredth_of_an_hour_rounds_up_as_money_does() {
    let mut day = Day::new();
    day.input.book.rates.set_up = Hours::hours(1.125);
    let hours = day.with("fast-cure", |choice| choice.estimate.labor[0].hours);
    assert_eq!(hours.to_string(), "1.13");
}
