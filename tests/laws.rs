//! Laws that hold for any input, tried on many.

use jiff::civil::{Date, Weekday, date, time};
use jiff::tz::TimeZoneDatabase;
use proptest::prelude::*;
use rust_decimal::Decimal;
use slableaf::base::calendar::{Calendar, Clock, Moment};
use slableaf::base::money::Cents;
use slableaf::base::names::Key;
use slableaf::base::quantity::*;
use slableaf::model::book::{Book, Cure, Kit, Resin, Stuff};
use slableaf::model::job::{Crack, Known, Point, Shapes, Units};
use slableaf::model::shop::{Limits, PaymentStep};
use slableaf::price::case::{Case, FloorOption, case};
use slableaf::price::cure::cure_at;
use slableaf::price::estimate::labor::{self, Task, Work};
use slableaf::price::estimate::materials::{KitMeasure, MaterialAmount, MaterialLine};
use slableaf::price::estimate::price::{payments, price};
use slableaf::price::film::*;
use slableaf::price::floor::Floor;
use slableaf::price::kits::choose;
use slableaf::price::repair;
use slableaf::price::schedule::{Crew, Schedule, schedule};
use slableaf::read::Input;
use slableaf::say::figures::{FigureWords, Figures};
use slableaf::site::moisture::mver;
use slableaf::site::take_off::{TakeOff, perimeter, polygon_area, self_crossing, take_off};

use crate::chance::tried;
use crate::facts::example::{self, BOOK, JOB, SHOP};

fn close(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-9 * a.abs().max(b.abs()).max(1.0)
}

// ------------------------------------------------------------------------------------------ kits

/// Kits by whole kilograms, which binary arithmetic adds without error.
fn sizes() -> impl Strategy<Value = Vec<(u32, i64)>> {
    prop::collection::vec((1u32..=20, 0i64..=90_000), 1..=3)
}

fn kits(sizes: &[(u32, i64)]) -> Vec<Kit<Mass>> {
    sizes
        .iter()
        .map(|(size, price)| Kit { size: Mass::kilograms(f64::from(*size)), price: Cents(*price) })
        .collect()
}

/// Least cost, then least left over, then fewest pails: every mix tried, in whole numbers.
fn best_by_hand(sizes: &[(u32, i64)], need: u32) -> (i64, u32, u32) {
    let (&(size, price), rest) = sizes.split_first().expect("a size");
    let most = need.div_ceil(size);
    (0..=most)
        .filter_map(|count| {
            let left = need.saturating_sub(count * size);
            let over = (count * size).saturating_sub(need);
            let (cost, rest_over, pails) = match (rest.is_empty(), left) {
                (_, 0) => (0, over, 0),
                (true, _) => return None,
                (false, _) => best_by_hand(rest, left),
            };
            Some((cost + price * i64::from(count), rest_over, pails + count))
        })
        .min()
        .expect("enough of one size always covers")
}

proptest! {
    #![proptest_config(tried(300))]

    #[test]
    fn kits_are_the_best_of_all_mixes(sizes in sizes(), need in 0u32..=120) {
        let found = choose(&kits(&sizes), Mass::kilograms(f64::from(need)));
        let pails: u32 = found.counts.iter().sum();
        let (cost, over, fewest) = best_by_hand(&sizes, need);
        prop_assert_eq!((found.cost, found.leftover), (Cents(cost), Mass::kilograms(f64::from(over))));
        prop_assert_eq!(pails, fewest);
    }

    #[test]
    fn kits_cover_the_need_and_are_never_dearer_than_one_size(
        sizes in prop::collection::vec((1u32..=800, 100i64..=200_000), 1..=3),
        need in 0u32..=4000,
    ) {
        // Tenths of a gallon, which binary arithmetic does not add without error.
        let kits: Vec<Kit<Volume>> = sizes
            .iter()
            .map(|(tenths, price)| Kit { size: Volume::gallons(f64::from(tenths + 10) / 10.0), price: Cents(*price) })
            .collect();
        let need = Volume::gallons(f64::from(need) / 10.0);
        let found = choose(&kits, need);
        let bought: Volume = kits.iter().zip(&found.counts).map(|(kit, count)| kit.size * f64::from(*count)).sum();
        // A millionth of a kit is below what binary arithmetic can tell.
        prop_assert!(bought.as_gallons() >= need.as_gallons() - 100.0 * 1e-6);
        prop_assert!(close(found.leftover.as_gallons(), (bought - need).as_gallons().max(0.0)));
        let cost: Cents = kits.iter().zip(&found.counts).map(|(kit, count)| kit.price.each(*count)).sum();
        prop_assert_eq!(found.cost, cost);
        for kit in &kits {
            prop_assert!(found.cost <= kit.price.each(whole_up(need / kit.size)));
        }
    }

    #[test]
    fn a_greater_need_never_costs_less(sizes in sizes(), need in 0u32..=100, more in 0u32..=20) {
        let kits = kits(&sizes);
        let cost = |need: u32| choose(&kits, Mass::kilograms(f64::from(need))).cost;
        prop_assert!(cost(need) <= cost(need + more));
    }
}

// ----------------------------------------------------------------------------------------- money

fn amounts() -> impl Strategy<Value = Cents> {
    (0i64..=50_000_000).prop_map(Cents)
}

/// Shares of two to five payments in hundredths of a percent, which sum to one.
fn shares() -> impl Strategy<Value = Vec<PaymentStep>> {
    prop::collection::vec(0u32..=10_000, 1..=4).prop_map(|mut cuts| {
        cuts.extend([0, 10_000]);
        cuts.sort_unstable();
        cuts.windows(2)
            .map(|pair| PaymentStep {
                when: String::new(),
                share: Decimal::new(i64::from(pair[1] - pair[0]), 4),
            })
            .collect()
    })
}

fn caps() -> impl Strategy<Value = Limits> {
    (prop::option::of(0i64..=10_000), prop::option::of(0i64..=500_000)).prop_map(|(share, most)| {
        Limits {
            voc: None,
            deposit_share: share.map(|share| Decimal::new(share, 4)),
            deposit_most: most.map(Cents),
            deposit_sign: None,
        }
    })
}

proptest! {
    #![proptest_config(tried(500))]

    #[test]
    fn payments_sum_to_the_total_and_the_deposit_keeps_its_caps(
        total in amounts(),
        steps in shares(),
        limits in caps(),
    ) {
        let payments = payments(total, &steps, &limits);
        prop_assert_eq!(payments.iter().map(|payment| payment.amount).sum::<Cents>(), total);
        prop_assert!(payments.iter().all(|payment| payment.amount >= Cents::ZERO));
        let deposit = payments[0].amount;
        prop_assert!(deposit.decimal() <= total.decimal() * steps[0].share);
        if let Some(cap) = limits.deposit_share {
            prop_assert!(deposit.decimal() <= total.decimal() * cap);
        }
        if let Some(cap) = limits.deposit_most {
            prop_assert!(deposit <= cap);
        }
    }

    #[test]
    fn a_price_covers_its_cost_and_never_falls_when_cost_rises(
        cost in amounts(),
        more in 0i64..=1_000_000,
        margin in 0i64..=9_499,
        minimum in 0i64..=500_000,
        step in 0i64..=10_000,
    ) {
        let mut terms = example::input().book.terms;
        terms.margin = Decimal::new(margin, 4);
        terms.minimum = Cents(minimum);
        terms.round_to = Cents(step);
        let (wanted, asked) = price(cost, &terms);
        prop_assert!(cost <= wanted && wanted <= asked && terms.minimum <= asked);
        prop_assert!(asked <= price(cost.plus(Cents(more)), &terms).1);
    }

    #[test]
    fn a_step_up_is_a_multiple_and_less_than_a_step_away(amount in -1_000_000i64..=1_000_000, step in 1i64..=20_000) {
        let stepped = Cents(amount).up_to_multiple_of(Cents(step));
        prop_assert_eq!(stepped.0 % step, 0);
        prop_assert!((0..step).contains(&(stepped.0 - amount)));
    }

    #[test]
    fn money_reads_back_as_it_was_written(amount in -90_000_000_000i64..=90_000_000_000) {
        let text = Cents(amount).to_string();
        prop_assert_eq!(Cents::round(text.parse().unwrap()), Cents(amount), "{}", text);
    }
}

proptest! {
    #![proptest_config(tried(60))]

    /// As printed for a customer, with sign and grouping, and read from a shop's file.
    #[test]
    fn printed_money_is_money_that_can_be_written(amount in 0i64..=1_000_000_000) {
        let words: FigureWords = toml::from_str(include_str!("../layouts/words/en/figures.toml")).unwrap();
        let text = Figures { units: Units::Us, currency: "USD", words: &words }.money(Cents(amount));
        let limits = format!("[limits]\ndeposit-most = \"{text}\"\n");
        let shop = example::replaced(SHOP, "[limits]\n", &limits);
        prop_assert_eq!(example::read(JOB, BOOK, &shop).shop.limits.deposit_most, Some(Cents(amount)), "{}", text);
    }
}

// --------------------------------------------------------------------------------------- outlines

/// Corners round a center, in order of their direction: never crossing.
fn outlines() -> impl Strategy<Value = Vec<Point>> {
    prop::collection::vec(24u32..=360, 3..=9).prop_map(|inches_out| {
        let turn = std::f64::consts::TAU / inches_out.len() as f64;
        let corner = |(at, out): (usize, &u32)| {
            let (sin, cos) = (at as f64 * turn).sin_cos();
            let out = Length::inches(f64::from(*out));
            Point { x: out * cos, y: out * sin }
        };
        inches_out.iter().enumerate().map(corner).collect()
    })
}

proptest! {
    #![proptest_config(tried(300))]

    #[test]
    fn an_outline_may_start_anywhere_and_run_either_way(
        corners in outlines(),
        start in 0usize..9,
        by in (-500.0..500.0, -500.0..500.0),
    ) {
        let (area, around) = (polygon_area(&corners), perimeter(&corners));
        prop_assert!(area > Area::ZERO);
        prop_assert_eq!(self_crossing(&corners), None);
        let mut turned = corners.clone();
        turned.rotate_left(start % corners.len());
        let mut reversed = corners.clone();
        reversed.reverse();
        let (x, y) = (Length::feet(by.0), Length::feet(by.1));
        let moved: Vec<Point> = corners.iter().map(|p| Point { x: p.x + x, y: p.y + y }).collect();
        for same in [&turned, &reversed, &moved] {
            prop_assert!(close(polygon_area(same).as_square_feet(), area.as_square_feet()));
            prop_assert!(close(perimeter(same).as_feet(), around.as_feet()));
        }
    }
}

proptest! {
    #![proptest_config(tried(60))]

    /// The closing corner may be written in other units than the first one.
    #[test]
    fn a_repeated_closing_corner_changes_nothing(x in 0u32..=40, y in 0u32..=40, in_inches in any::<bool>()) {
        let corner = |x: u32, y: u32| format!(r#"["{x} ft", "{y} ft"]"#);
        let open = [corner(x, y), corner(x + 20, y), corner(x + 20, y + 24), corner(x, y + 24)].join(", ");
        let closing = if in_inches { format!(r#"["{} in", "{} in"]"#, x * 12, y * 12) } else { corner(x, y) };
        let with = |corners: String| {
            let job = example::job_with_floor_from(&format!("outline = [{corners}]"), x, y);
            example::try_job(&job).map(|input| take_off(&input.job.shapes))
        };
        let (open, closed) = (with(open.clone()), with(format!("{open}, {closing}")));
        prop_assert!(open.is_ok());
        prop_assert_eq!(closed, open);
    }
}

// ------------------------------------------------------------------------------- slab, film, cure

proptest! {
    #![proptest_config(tried(300))]

    #[test]
    fn emission_grows_as_the_gain_does(gain in 0.0..40.0f64, area in 0.1..2.0f64, hours in 1.0..100.0f64) {
        let rate = |gain, hours| mver(Mass::grams(gain), Area::square_feet(area), Hours::hours(hours)).as_pounds();
        prop_assert!(close(rate(2.0 * gain, hours), 2.0 * rate(gain, hours)));
        prop_assert!(close(rate(gain, 2.0 * hours), 0.5 * rate(gain, hours)));
        prop_assert!(close(rate(gain + 1.0, hours), rate(gain, hours) + rate(1.0, hours)));
    }

    #[test]
    fn wet_and_dry_film_are_inverse(dry in 0.5..60.0f64, solids in 5.0..100.0f64, thinner in 0.0..50.0f64) {
        let (solids, thinner) = (Share::percent(solids), Share::percent(thinner));
        let wet = wet_from_dry(Thickness::mils(dry), solids, thinner);
        prop_assert!(close(dry_from_wet(wet, solids, thinner).as_mils(), dry));
        prop_assert!(wet.as_mils() >= dry * (1.0 - 1e-12));
        prop_assert!(close(wet_at(spread_at(wet)).as_mils(), wet.as_mils()));
        let area = Area::square_feet(480.0);
        prop_assert!(close(area.at(wet).as_gallons(), area.over(spread_at(wet)).as_gallons()));
    }

    #[test]
    fn a_hotter_slab_never_gives_more_time(
        coolest in 35.0..60.0f64,
        steps in prop::collection::vec((4.0..20.0f64, 0.3..1.0f64), 0..=2),
        slab in 30.0..110.0f64,
        hotter in 0.0..30.0f64,
    ) {
        let resin = with_rows(resin(&example::input().book, "barrier-epoxy"), coolest, &steps);
        let at = |slab| cure_at(&resin, Temperature::fahrenheit(slab)).map(|found| found.times);
        if let (Ok(cool), Ok(hot)) = (at(slab), at(slab + hotter)) {
            let shorter = |cool: Hours, hot: Hours| hot.as_hours() <= cool.as_hours() * (1.0 + 1e-9);
            prop_assert!(shorter(cool.pot_life, hot.pot_life), "{:?} {:?}", cool, hot);
            prop_assert!(shorter(cool.recoat_from, hot.recoat_from));
            prop_assert!(shorter(cool.recoat_to, hot.recoat_to));
            prop_assert!(shorter(cool.vehicle, hot.vehicle));
            prop_assert!(hot.recoat_from <= hot.recoat_to);
        }
    }
}

fn resin(book: &Book, key: &str) -> Resin {
    let product = book.product(&Key(key.to_owned())).expect("a product of the example");
    product.resin().expect("a liquid").clone()
}

/// A resin with a row at the coolest temperature (F) and more at steps above it, each with a share
/// of the times before it.
fn with_rows(mut resin: Resin, coolest: f64, steps: &[(f64, f64)]) -> Resin {
    let times = |fahrenheit: f64, part: f64| Cure {
        at: Temperature::fahrenheit(fahrenheit),
        pot_life: Hours::minutes(60.0 * part),
        recoat_from: Hours::hours(20.0 * part),
        recoat_to: Hours::hours(60.0 * part),
        foot: Hours::hours(30.0 * part),
        vehicle: Hours::hours(160.0 * part),
    };
    let (mut at, mut part) = (coolest, 1.0);
    resin.cure = vec![times(at, part)];
    for (step, share) in steps {
        (at, part) = (at + step, part * share);
        resin.cure.push(times(at, part));
    }
    resin
}

// ---------------------------------------------------------------------------------------- schedule

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

// -------------------------------------------------------------------------------------- whole jobs

/// The example with a rectangular floor.
fn job_of(length: u32, width: u32) -> String {
    example::job_with_floor(&format!("length = \"{length} in\"\nwidth = \"{width} in\""))
}

/// What a job comes to, floor by floor: needs of each product (kilograms or liters), kits, lines of
/// cost, prices, days.
fn summary(case: &Case<'_>) -> (Vec<f64>, String) {
    let mut needs = vec![];
    let mut rest = vec![];
    for choice in &case.options {
        let estimate = &choice.estimate;
        for line in &estimate.materials {
            needs.push(match line.amount {
                MaterialAmount::Liquid { need, .. } => need.as_liters(),
                MaterialAmount::Flake { need, .. } => need.as_kilograms(),
            });
            rest.push(format!("{} {:?} {}", line.product, line.buy, line.cost));
        }
        for line in &estimate.labor {
            rest.push(format!("{:?} {} h {}", line.task, line.hours, line.cost));
        }
        rest.push(format!("{} cost {} {:?}", choice.key(), estimate.cost, choice.quote));
        rest.push(format!("{} days, {:?}", estimate.schedule.days, choice.moisture.standing));
    }
    let moisture = &case.site.moisture;
    let highest =
        moisture.mver.as_ref().map(|series| (series.highest().place.clone(), series.faults.len()));
    rest.push(format!("{highest:?}"));
    (needs, rest.join("\n"))
}

proptest! {
    #![proptest_config(tried(60))]

    #[test]
    fn more_floor_never_needs_less_or_costs_less(
        length in 100u32..=600,
        width in 100u32..=600,
        longer in 0u32..=200,
        wider in 0u32..=200,
    ) {
        let small = example::read(&job_of(length, width), BOOK, SHOP);
        let large = example::read(&job_of(length + longer, width + wider), BOOK, SHOP);
        let (small, large) = (case(&small), case(&large));
        prop_assert!(small.site.take_off.floor <= large.site.take_off.floor);
        for (less, more) in summary(&small).0.into_iter().zip(summary(&large).0) {
            prop_assert!(less <= more * (1.0 + 1e-12));
        }
        for (less, more) in small.options.iter().zip(&large.options) {
            prop_assert_eq!(less.key(), more.key());
            prop_assert!(less.estimate.cost <= more.estimate.cost);
            prop_assert!(less.quote.total <= more.quote.total);
            prop_assert!(less.estimate.schedule.days <= more.estimate.schedule.days);
        }
    }

    #[test]
    fn a_quote_adds_up_and_earns_its_margin(length in 100u32..=600, width in 100u32..=600, extra in any::<bool>()) {
        let mut job = job_of(length, width);
        if extra {
            job.push_str("\n[extras]\nclear-epoxy = [\"urethane-coat\"]\n");
        }
        let input = example::read(&job, BOOK, SHOP);
        for choice in case(&input).options {
            let (quote, estimate) = (&choice.quote, &choice.estimate);
            let extras: Cents = quote.extras.iter().map(|(_, adds)| *adds).sum();
            prop_assert_eq!(quote.floor.plus(extras).plus(quote.tax), quote.total);
            prop_assert_eq!(quote.total, estimate.total());
            prop_assert!(quote.extras.iter().map(|e| e.1).chain(quote.could_add.iter().map(|c| c.adds)).all(|adds| adds >= Cents::ZERO));
            prop_assert_eq!(estimate.direct.plus(estimate.overhead), estimate.cost);
            prop_assert!(estimate.margin().unwrap() >= input.book.terms.margin - Decimal::new(1, 6));
            let paid: Cents = payments(quote.total, &input.shop.payments, &input.shop.limits).iter().map(|p| p.amount).sum();
            prop_assert_eq!(paid, quote.total);
        }
    }

    /// What is bought of a product never shrinks with waste; the number of pails may, where a
    /// larger size takes the place of several small ones.
    #[test]
    fn more_waste_never_buys_less(
        length in 100u32..=600,
        width in 100u32..=600,
        loss in 0u32..=50,
        upright_loss in 0u32..=50,
        more in 0u32..=30,
        of_uprights in any::<bool>(),
        one_size in any::<bool>(),
    ) {
        let mut input = example::read(&job_of(length, width), BOOK, SHOP);
        let mut lines = |loss: u32, upright_loss: u32| {
            let book = &mut input.book;
            book.prep.upright_loss = Share::percent(f64::from(upright_loss));
            for product in &mut book.products {
                let loss = Share::percent(f64::from(loss));
                match &mut product.stuff {
                    Stuff::Resin(resin) => {
                        resin.loss = loss;
                        if one_size { resin.kits.truncate(1) }
                    }
                    Stuff::Filler(filler) => filler.loss = loss,
                    Stuff::Flake(_) => {}
                }
            }
            let case = case(&input);
            let floors = case.options.iter();
            floors.map(|choice| choice.estimate.materials.clone()).collect::<Vec<_>>()
        };
        let few = lines(loss, upright_loss);
        let many = if of_uprights { lines(loss, upright_loss + more) } else { lines(loss + more, upright_loss) };
        for (few, many) in few.iter().flatten().zip(many.iter().flatten()) {
            prop_assert_eq!(&few.product, &many.product);
            let ((need, bought, pails), (more_need, more_bought, more_pails)) = (taken(few), taken(many));
            prop_assert!(need <= more_need * (1.0 + 1e-12), "{} {} {}", few.product, need, more_need);
            prop_assert!(bought <= more_bought * (1.0 + 1e-9), "{} {} {}", few.product, bought, more_bought);
            prop_assert!(few.cost <= many.cost);
            let of_one_size = input.book.product(&few.product).is_some_and(|product| match &product.stuff {
                Stuff::Resin(resin) => resin.kits.len() == 1,
                Stuff::Filler(filler) => filler.kits.len() == 1,
                Stuff::Flake(flake) => flake.kits.len() == 1,
            });
            prop_assert!(!of_one_size || pails <= more_pails, "{} {} {}", few.product, pails, more_pails);
        }
    }

    #[test]
    fn an_option_more_on_offer_changes_no_figure_of_another(
        length in 100u32..=600,
        width in 100u32..=600,
        order in Just(vec![0usize, 1, 2, 3]).prop_shuffle(),
        few in 1usize..=3,
    ) {
        let all = example::read(&job_of(length, width), BOOK, SHOP);
        let offering = |at: &[usize]| {
            let mut input = all.clone();
            input.job.offer = at.iter().map(|at| all.job.offer[*at].clone()).collect();
            let case = case(&input);
            let of = |choice: &FloorOption<'_>| format!("{:?} {:?} {:?}", choice.estimate, choice.quote, choice.moisture);
            case.options.iter().map(|choice| (choice.key().clone(), of(choice))).collect::<Vec<_>>()
        };
        let (some, more) = (offering(&order[..few]), offering(&order));
        prop_assert_eq!(some.len(), few);
        prop_assert_eq!(&some[..], &more[..few]);
    }

    /// Less time asks for smaller batches, more hands allow larger ones: also where one of them
    /// stirs, since a second person who stirs ahead leaves the first as much time as one alone has.
    /// Smaller batches are more stirring, so a coat takes no less time and no fewer hours where it is
    /// hotter, and no more of either with more hands.
    #[test]
    fn a_hotter_slab_and_a_smaller_crew_never_make_a_batch_larger_or_a_coat_quicker(
        length in 100u32..=600,
        width in 100u32..=600,
        slab in 30.0..100.0f64,
        hotter in 0.0..40.0f64,
        crew in 1u32..=5,
    ) {
        let mut input = example::read(&job_of(length, width), BOOK, SHOP);
        let mut batches = |slab: f64, crew: u32| {
            input.job.air.as_mut().expect("measured air").slab = Temperature::fahrenheit(slab);
            input.job.plan.crew = Some(crew);
            let case = case(&input);
            let all = case.options.iter().flat_map(|choice| choice.estimate.batches.clone());
            all.map(|(_, batches)| batches).collect::<Vec<_>>()
        };
        let (easy, hot, few) = (batches(slab, crew + 1), batches(slab + hotter, crew + 1), batches(slab, crew));
        prop_assert!(!easy.is_empty() && easy.len() == hot.len() && easy.len() == few.len());
        let no_more = |a: f64, b: f64| a <= b * (1.0 + 1e-9);
        for (easy, (hot, few)) in easy.iter().zip(hot.iter().zip(&few)) {
            for hard in [hot, few] {
                prop_assert!(no_more(hard.volume.as_liters(), easy.volume.as_liters()), "{:?} {:?}", easy, hard);
                prop_assert!(hard.verdict >= easy.verdict, "{:?} {:?}", easy, hard);
                prop_assert!(no_more(easy.takes.as_hours(), hard.takes.as_hours()), "{:?} {:?}", easy, hard);
                prop_assert!(no_more(easy.mixing.as_hours(), hard.mixing.as_hours()), "{:?} {:?}", easy, hard);
            }
        }
    }

    /// Tables of a job and products of a book may stand in any order.
    #[test]
    fn the_order_of_tables_changes_nothing(
        length in 100u32..=600,
        width in 100u32..=600,
        order in prop::collection::vec(any::<u32>(), 40),
    ) {
        let job = format!(
            "{}\n[[area]]\nlength = \"7 ft 3 in\"\nwidth = \"5 ft 1 in\"\n\n[[crack]]\nlength = \"3 ft 7 in\"\nwidth = \"1/8 in\"\n",
            job_of(length, width)
        );
        let (one, other) = (example::read(&job, BOOK, SHOP), example::read(&shuffled(&job, &order), &shuffled(BOOK, &order), SHOP));
        let ((needs, rest), (other_needs, other_rest)) = (summary(&case(&one)), summary(&case(&other)));
        prop_assert!(needs.iter().zip(&other_needs).all(|(a, b)| close(*a, *b)));
        prop_assert_eq!(rest, other_rest);
    }
}

/// What is needed of a product and what is bought (liters or kilograms), and the number of pails.
fn taken(line: &MaterialLine) -> (f64, f64, u32) {
    let need = match line.amount {
        MaterialAmount::Liquid { need, .. } => need.as_liters(),
        MaterialAmount::Flake { need, .. } => need.as_kilograms(),
    };
    let sizes = line.buy.iter().map(|(count, size)| match size {
        KitMeasure::Volume(volume) => f64::from(*count) * volume.as_liters(),
        KitMeasure::Mass(mass) => f64::from(*count) * mass.as_kilograms(),
    });
    (need, sizes.sum(), line.buy.iter().map(|(count, _)| count).sum())
}

/// A file with its tables in another order. A table stays with the tables that belong to the one
/// above it (`[product.solvent]` after its product).
fn shuffled(text: &str, order: &[u32]) -> String {
    let mut tables: Vec<String> = vec![String::new()];
    for line in text.lines() {
        let belongs = line.starts_with("[product.");
        if line.starts_with('[') && !belongs {
            tables.push(String::new());
        }
        let table = tables.last_mut().expect("the keys before the first table");
        table.push_str(line);
        table.push('\n');
    }
    let head = tables.remove(0);
    let mut ranked: Vec<(u32, String)> = tables
        .into_iter()
        .enumerate()
        .map(|(at, table)| (order[at % order.len()], table))
        .collect();
    ranked.sort_by_key(|(rank, _)| *rank);
    head + &ranked.into_iter().map(|(_, table)| table).collect::<String>()
}

#[test]
fn the_same_input_gives_the_same_estimate() {
    let (one, other) = (example::input(), example::input());
    assert_eq!(format!("{:?}", case(&one)), format!("{:?}", case(&other)));
    assert_eq!(format!("{:?}", case(&one)), format!("{:?}", case(&one)));
}

/// A price follows from what was measured and from the book, not from the day of writing.
#[test]
fn the_date_changes_no_price() {
    let input = example::input();
    let mut later = input.clone();
    later.job.date = date(2026, 6, 30);
    assert_eq!(summary(&case(&input)), summary(&case(&later)));
}
