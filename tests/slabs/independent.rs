//! The judgment of a slab written a second time, from the rule's text alone, over plain numbers. It
//! shares no code with the program but what a floor costs, when its car is back and how long it lasts.

use std::collections::BTreeMap;

use jiff::civil::Date;
use proptest::prelude::*;
use proptest::strategy::ValueTree as _;
use proptest::test_runner::TestRunner;
use slableaf::judge::recommend::{Concern, RuleStep};
use slableaf::judge::{Judged, judge};
use slableaf::model::job::{Known, Wish};

use super::notation::{Checked, Dish, Floor, Probe, Sheet, Slab, Visit};
use super::{files, random};
use crate::chance::tried;

/// A reading with what counts of it, whatever its method.
#[derive(Debug, Clone)]
struct Reading {
    place: String,
    value: f64,
    upper: f64,
    day: Date,
    good: bool,
    void: bool,
}

fn over(value: f64, limit: f64) -> bool {
    value > limit * (1.0 + 1e-9)
}

/// The faults of ASTM F1869 that may read low: its hours with a quarter of an hour for the walk, the
/// spot, the room, the 48 hours before.
fn dish(dish: &Dish, visit: &Visit) -> Reading {
    let room =
        visit.room.is_some_and(|(warm, damp)| warm >= 65.0 && (damp <= 60.0 || visit.as_used));
    let faultless = (59.75..=72.25).contains(&dish.hours)
        && dish.surface == Some("ground-open-24h")
        && room
        && visit.settled;
    let doubt = visit.scale * 2.0f64.sqrt() * (24_000.0 / 453.592_37) / (dish.over * dish.hours);
    Reading {
        place: dish.place.clone(),
        value: dish.pounds,
        upper: dish.pounds + doubt,
        day: visit.day,
        good: faultless && !dish.void,
        void: dish.void,
    }
}

/// Those of ASTM F2170: depth, wait, the hours before, calibration. A quarter of an inch of depth is
/// the shop's own measure.
fn probe(probe: &Probe, visit: &Visit, on_ground: bool) -> Reading {
    let deep = 4.0 * if on_ground { 0.4 } else { 0.2 };
    let checked = match probe.checked {
        Checked::Before(days) => days <= 30,
        Checked::New => true,
        Checked::Unknown => false,
    };
    let faultless =
        probe.inches >= deep - 0.25 - 1e-9 && probe.hours >= 24.0 && visit.settled && checked;
    Reading {
        place: probe.place.clone(),
        value: probe.percent,
        upper: (probe.percent + visit.accuracy.unwrap_or(2.0)).min(100.0),
        day: visit.day,
        good: faultless && !probe.void,
        void: probe.void,
    }
}

/// A damp sheet is 1, a dry one 0.
fn sheet(sheet: &Sheet, visit: &Visit) -> Reading {
    let value = if sheet.damp { 1.0 } else { 0.0 };
    Reading {
        place: sheet.place.clone(),
        value,
        upper: value,
        day: visit.day,
        good: sheet.hours >= 16.0 && sheet.sealed && !sheet.void,
        void: sheet.void,
    }
}

/// Whole days from one date to another.
fn days(from: Date, to: Date) -> i64 {
    i64::from((to - from).get_days())
}

fn answer<'r>(readings: &'r [Reading], place: &str) -> Option<&'r Reading> {
    let good = readings.iter().filter(|one| one.good && one.place == place);
    good.max_by(|a, b| a.day.cmp(&b.day).then(a.value.total_cmp(&b.value)))
}

/// True when a later good reading speaks for its place.
fn answered(readings: &[Reading], one: &Reading) -> bool {
    answer(readings, &one.place).is_some_and(|latest| latest.day > one.day)
}

/// The readings that count: the latest good one of each place, and what none has answered.
fn counting(readings: &[Reading]) -> Vec<&Reading> {
    readings.iter().filter(|one| !one.void && !answered(readings, one)).collect()
}

#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
enum Standing {
    Clear,
    Close,
    NotJudged,
    Over,
}

struct Method {
    standing: Standing,
    /// Near the limit, or over it before a later reading.
    close: bool,
}

fn method(readings: &[Reading], limit: f64, needed: usize, slab: &Slab) -> Method {
    let counting = counting(readings);
    let is_over = counting.iter().any(|one| over(one.value, limit));
    let near = counting.iter().any(|one| over(one.upper, limit));
    let spoiled =
        readings.iter().any(|one| one.void && over(one.value, limit) && !answered(readings, one));
    let mut fresh: Vec<&str> = readings
        .iter()
        .filter(|one| one.good && !answered(readings, one) && days(one.day, slab.paper) <= 90)
        .map(|one| one.place.as_str())
        .collect();
    fresh.sort_unstable();
    fresh.dedup();
    let was = slab.on_ground
        && slab.sheet != Known::Yes
        && readings.iter().filter(|one| !one.void && over(one.value, limit)).any(|one| {
            let latest = answer(readings, &one.place).filter(|latest| latest.day > one.day);
            latest.is_some_and(|latest| days(one.day, latest.day) <= 365)
        });
    let standing = match () {
        () if is_over => Standing::Over,
        () if spoiled || fresh.len() < needed => Standing::NotJudged,
        () if near || was => Standing::Close,
        () => Standing::Clear,
    };
    Method { standing, close: near || was }
}

#[derive(Debug, Clone, Copy, PartialEq)]
enum State {
    Offered,
    TestFirst,
    AskFirst,
    NotOffered,
}

#[derive(Debug, Clone)]
struct Verdict {
    standing: Standing,
    state: State,
    rank: u32,
    safe: bool,
    /// Highest counting dish over its limit, highest counting probe below its limit.
    share: Option<f64>,
    points: Option<f64>,
}

fn whole_up(number: f64) -> usize {
    number.ceil() as usize
}

fn highest(readings: &[Reading]) -> Option<f64> {
    counting(readings).iter().map(|one| one.value).max_by(f64::total_cmp)
}

fn judge_floor(floor: &Floor, slab: &Slab) -> Verdict {
    let visits = || slab.visits.iter();
    let dishes: Vec<Reading> =
        visits().flat_map(|visit| visit.dishes.iter().map(|one| dish(one, visit))).collect();
    let probes: Vec<Reading> = visits()
        .flat_map(|visit| visit.probes.iter().map(|one| probe(one, visit, slab.on_ground)))
        .collect();
    let sheets: Vec<Reading> =
        visits().flat_map(|visit| visit.sheets.iter().map(|one| sheet(one, visit))).collect();
    let needed = 3 + whole_up(slab.area / 1000.0).saturating_sub(1);
    // The lowest limit of the coats up to the first barrier; a body coat lies above a barrier.
    let body = floor.body.filter(|_| !floor.barrier);
    let lowest = [floor.pounds, body].into_iter().flatten().min_by(f64::total_cmp);
    // A limit of a coat above stops a floor, and clears none: the first coat's sheet is silent.
    let methods = [(&dishes, lowest, floor.pounds), (&probes, floor.percent, floor.percent)].map(
        |(readings, limit, own)| {
            let limit = limit.filter(|_| !readings.is_empty())?;
            let mut found = method(readings, limit, needed, slab);
            if own.is_none() && found.standing != Standing::Over {
                found.standing = Standing::NotJudged;
            }
            Some(found)
        },
    );
    let standings = || methods.iter().flatten().map(|one| one.standing);
    let judged = |standing: Standing| standing <= Standing::Close;
    let close = methods.iter().flatten().any(|one| one.close);
    let at_best = |standing: Standing| {
        if close && standing == Standing::Clear { Standing::Close } else { standing }
    };
    let names_sheet = floor.asks == "plastic-sheet" && !sheets.is_empty();
    let of_sheets = names_sheet.then(|| {
        let one_in = whole_up(slab.area / 500.0).max(1);
        // A sheet has no doubt, and over half is damp.
        method(&sheets, 0.5, one_in, &Slab { sheet: Known::Yes, ..slab.clone() }).standing
    });
    let high = |readings: &[Reading], own: Option<f64>, most: f64| {
        own.is_none() && highest(readings).is_some_and(|value| over(value, most))
    };
    let flagged =
        !floor.barrier && (high(&dishes, floor.pounds, 3.0) || high(&probes, floor.percent, 75.0));
    let both = methods.iter().all(|one| one.as_ref().is_some_and(|one| judged(one.standing)));
    let worst =
        standings().filter(|one| judged(*one)).max_by(|a, b| a.partial_cmp(b).expect("order"));
    let standing =
        if standings().any(|one| one == Standing::Over) || of_sheets == Some(Standing::Over) {
            Standing::Over
        } else if flagged || (floor.asks == "both" && !both) {
            Standing::NotJudged
        } else if of_sheets == Some(Standing::Clear) {
            at_best(Standing::Clear)
        } else if let Some(worst) = worst {
            at_best(worst)
        } else if floor.barrier && floor.asks == "none-needed" {
            at_best(Standing::Clear)
        } else {
            Standing::NotJudged
        };

    let sheet = slab.sheet == Known::Yes;
    let unmet = slab.on_ground
        && match floor.ground.as_deref() {
            Some("barrier") => !floor.barrier,
            Some("sheet") => !sheet,
            // While it is not judged it waits, unless it is known already that it cannot be clear.
            Some("sheet-or-test") => {
                let open = standing == Standing::NotJudged && !close;
                !sheet && standing != Standing::Clear && !open
            }
            _ => false,
        };
    let limits = match floor.asks.as_str() {
        "both" => floor.pounds.is_some() && floor.percent.is_some(),
        "plastic-sheet" => true,
        _ => floor.pounds.is_some() || floor.percent.is_some(),
    };
    let tested = !dishes.is_empty() || !probes.is_empty() || names_sheet;
    let told = (floor.pounds.is_some() && !dishes.is_empty())
        || (floor.percent.is_some() && !probes.is_empty())
        || names_sheet;
    let state = match () {
        () if standing == Standing::Over || unmet || (flagged && slab.on_ground) => {
            State::NotOffered
        }
        () if standing != Standing::NotJudged => State::Offered,
        () if flagged || !limits || (tested && !told) => State::AskFirst,
        () => State::TestFirst,
    };
    let safe = floor.barrier || !slab.on_ground || sheet;
    let rank = match (standing, safe) {
        (Standing::Clear, _) => 0,
        (Standing::Close, true) => 1,
        (Standing::NotJudged, true) => 2,
        (Standing::Close, false) => 3,
        (Standing::NotJudged, false) => 4,
        (Standing::Over, _) => 5,
    };
    let share = highest(&dishes).zip(lowest).map(|(value, limit)| value / limit);
    let points = highest(&probes).zip(floor.percent).map(|(value, limit)| limit - value);
    Verdict { standing, state, rank, safe, share, points }
}

/// Little room is 0, some 1, much 2: the worse of the methods, little where there is none.
fn room(verdict: &Verdict) -> u32 {
    let small = 1e-9;
    let dish = verdict.share.map(|share| match () {
        () if share * 1.5 > 1.0 + small => 0,
        () if share * 3.0 > 1.0 + small => 1,
        () => 2,
    });
    let probe = verdict.points.map(|points| match () {
        () if points < 5.0 - small => 0,
        () if points < 15.0 - small => 1,
        () => 2,
    });
    dish.into_iter().chain(probe).min().unwrap_or(0)
}

/// The floor that comes first, by the steps as they are written.
fn choose(slab: &Slab, verdicts: &[Verdict], judged: &Judged<'_>) -> Option<usize> {
    let mut left: Vec<usize> =
        (0..verdicts.len()).filter(|at| verdicts[*at].state != State::NotOffered).collect();
    let keep = |left: &mut Vec<usize>, worth: &dyn Fn(usize) -> i64| {
        let best = left.iter().map(|at| worth(*at)).min();
        left.retain(|at| Some(worth(*at)) == best);
    };
    let estimate = |at: usize| &judged.case.options[at].estimate;
    let price = |at: usize| judged.case.options[at].quote.total.0;
    let open = slab.on_ground && slab.sheet != Known::Yes;
    keep(&mut left, &|at| i64::from(verdicts[at].rank));
    for wish in &slab.wishes {
        match wish.as_str() {
            "quick" => keep(&mut left, &|at| free_day(estimate(at).schedule.drive.0.as_hours())),
            "lasting" => {
                keep(&mut left, &|at| -i64::from(slab.floors[at].life));
                if open {
                    keep(&mut left, &|at| -i64::from(room(&verdicts[at])));
                }
            }
            "low-price" => keep(&mut left, &price),
            "moisture-room" => keep(&mut left, &|at| -i64::from(room(&verdicts[at]))),
            other => panic!("wish {other}"),
        }
    }
    keep(&mut left, &|at| {
        let verdict = &verdicts[at];
        let damp = verdict.share.is_some_and(|share| share > 0.5 + 1e-9)
            || verdict.points.is_some_and(|points| points < 10.0 - 1e-9);
        i64::from(!verdict.safe && slab.floors[at].ground.is_none() && damp)
    });
    keep(&mut left, &price);
    left.first().copied()
}

fn outcome(slab: &Slab, judged: &Judged<'_>) -> String {
    let verdicts: Vec<Verdict> = slab.floors.iter().map(|floor| judge_floor(floor, slab)).collect();
    let each: Vec<String> = verdicts
        .iter()
        .map(|verdict| {
            let standing = ['C', '~', 'N', 'O'][verdict.standing as usize];
            let state = match verdict.state {
                State::Offered => '+',
                State::TestFirst | State::AskFirst => '?',
                State::NotOffered => '-',
            };
            format!("{standing}{state}")
        })
        .collect();
    let first = choose(slab, &verdicts, judged);
    let headline =
        first.map_or("not-yet", |at| match (verdicts[at].state, verdicts[at].standing) {
            (State::TestFirst, _) => "test-first",
            (State::AskFirst, _) => "ask-first",
            (_, Standing::Close) => "near",
            _ => "recommend",
        });
    let first = first.map_or(String::new(), |at| format!("{} ", slab.floors[at].letter));
    format!("{} > {first}{headline}", each.join(" "))
}

/// The rows worked by hand hold for this second writing too.
#[test]
fn the_second_writing_comes_to_what_was_worked_by_hand() {
    for (text, expected, why) in super::table::ROWS.iter().chain(super::more::ROWS) {
        let slab = Slab::from(*text);
        assert_eq!(outcome(&slab, &judge(&slab.input())), *expected, "{text}: {why}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { max_shrink_iters: 5_000, ..tried(20_000) })]

    #[test]
    fn the_program_judges_as_the_rule_is_written(slab in random::slab()) {
        let input = slab.input();
        let expected = outcome(&slab, &judge(&input));
        let found = super::outcome(&input);
        prop_assert_eq!(found, expected, "{}", files::told(&slab));
    }
}

/// The slabs tried above are worth something only where they come by everything: each standing with each
/// state that it can have, each headline, each step that can decide between these floors.
#[test]
fn slabs_at_random_come_by_everything() {
    let mut runner = TestRunner::new(tried(1));
    let mut counts = BTreeMap::<String, u32>::new();
    for _ in 0..3_000 {
        let slab = random::slab().new_tree(&mut runner).expect("a slab").current();
        let input = slab.input();
        let outcome = super::outcome(&input);
        let (floors, headline) = outcome.split_once(" > ").expect("an outcome");
        let deciding = judge(&input).recommendation.steps;
        let deciding = deciding.last().filter(|step| step.left.len() == 1 && step.decides());
        let step = deciding.map(|step| format!("{:?}", step.rule));
        for seen in floors.split(' ').chain([headline]).map(str::to_owned).chain(step) {
            *counts.entry(seen).or_default() += 1;
        }
    }
    for floor in ["F", "B", "K"] {
        for headline in ["recommend", "near", "test-first", "ask-first"] {
            let expected = format!("{floor} {headline}");
            assert!(counts.get(&expected).is_some_and(|n| *n >= 5), "{expected}: {counts:#?}");
        }
    }
    let wish = |wish| RuleStep::Wish { wish };
    let steps = [
        RuleStep::NotOffered,
        RuleStep::Moisture,
        wish(Wish::Quick),
        wish(Wish::Lasting),
        wish(Wish::LowPrice),
        wish(Wish::MoistureRoom),
        RuleStep::Concern { concern: Concern::Damp },
        RuleStep::LowestPrice,
        RuleStep::OrderOfOffer,
    ];
    let seen = ["C+", "C-", "~+", "~-", "N?", "N-", "O-", "not-yet"].map(str::to_owned);
    for expected in seen.into_iter().chain(steps.map(|step| format!("{step:?}"))) {
        assert!(counts.get(&expected).is_some_and(|n| *n >= 5), "{expected}: {counts:#?}");
    }
}

/// The day on which a car is back, in hours from midnight before the first day: the next half hour, and
/// from nine in the evening to seven in the morning the morning that follows.
fn free_day(hours: f64) -> i64 {
    let half_hours = (hours * 2.0 - 1e-6).ceil() as i64;
    let (day, of_day) = (half_hours / 48 + 1, half_hours % 48);
    day + i64::from(of_day >= 42)
}
