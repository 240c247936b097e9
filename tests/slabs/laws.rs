//! Laws of evidence and of the rule, over slabs at random.
//!
//! A floor gets better or worse by its standing, clear before close before not judged before over, and
//! by its state, offered before waiting before not offered. No law looks at both through one number.

use jiff::Span;
use proptest::prelude::*;
use proptest::sample::Index;
use slableaf::judge::recommend::{Headline, OfferState, RuleStep, rule};
use slableaf::judge::{Judged, judge};
use slableaf::model::job::{Known, Wish};
use slableaf::read::Input;
use slableaf::site::standing::Standing;

use super::notation::{Dish, Floor, Probe, Sheet, Slab, Visit};
use super::{files, random};
use crate::chance::tried;

/// The standing of a floor: larger is worse.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Stands {
    standing: Standing,
    state: u32,
}

fn stands(slab: &Slab) -> Vec<Stands> {
    let input = slab.input();
    let judged = judge(&input);
    let state = |option: &slableaf::price::case::FloorOption<'_>| match judged
        .recommendation
        .state(option.key())
    {
        OfferState::Offered => 0,
        OfferState::Waits(_) => 1,
        OfferState::NotOffered => 2,
    };
    let options = judged.case.options.iter();
    options.map(|one| Stands { standing: one.moisture.standing, state: state(one) }).collect()
}

/// No floor of which `asked` is true is better off on the second slab.
fn never_improves(
    before: &Slab,
    after: &Slab,
    asked: impl Fn(&Floor) -> bool,
) -> Result<(), TestCaseError> {
    for ((floor, was), is) in before.floors.iter().zip(stands(before)).zip(stands(after)) {
        let kept = is.standing >= was.standing && is.state >= was.state;
        prop_assert!(
            kept || !asked(floor),
            "{} from {was:?} to {is:?}\n{}\n--- then\n{}",
            floor.letter,
            files::told(before),
            files::told(after)
        );
    }
    Ok(())
}

fn any_floor(_: &Floor) -> bool {
    true
}

/// A test of one place.
#[derive(Debug, Clone)]
enum Test {
    Dish(Dish),
    Probe(Probe),
    Sheet(Sheet),
}

fn test() -> impl Strategy<Value = Test> {
    prop_oneof![
        random::dish().prop_map(Test::Dish),
        random::probe().prop_map(Test::Probe),
        random::sheet().prop_map(Test::Sheet),
    ]
}

/// A slab with one more visit, so many days before the paper, with this test alone.
fn with(slab: &Slab, days: i64, test: &Test) -> Slab {
    let day = slab.paper.checked_sub(Span::new().days(days)).expect("a day");
    let mut visit = Visit::on(day);
    match test.clone() {
        Test::Dish(dish) => visit.dishes.push(dish),
        Test::Probe(probe) => visit.probes.push(probe),
        Test::Sheet(sheet) => visit.sheets.push(sheet),
    }
    let mut slab = slab.clone();
    slab.visits.push(visit);
    slab.visits.sort_by_key(|visit| visit.day);
    slab
}

/// The test with a fault that may read low, or void.
fn spoiled(test: Test, void: bool) -> Test {
    match test {
        Test::Dish(dish) if void => Test::Dish(Dish { void, ..dish }),
        Test::Dish(dish) => Test::Dish(Dish { hours: 6.0, ..dish }),
        Test::Probe(probe) if void => Test::Probe(Probe { void, ..probe }),
        Test::Probe(probe) => Test::Probe(Probe { hours: 3.0, ..probe }),
        Test::Sheet(sheet) if void => Test::Sheet(Sheet { void, ..sheet }),
        Test::Sheet(sheet) => Test::Sheet(Sheet { sealed: false, ..sheet }),
    }
}

/// A good test that is clear of every limit that these slabs have, and that flags no method: below 3 lb
/// and 75 % by more than any doubt.
fn clear_test() -> impl Strategy<Value = Test> {
    prop_oneof![
        random::dish().prop_map(|dish| Test::Dish(Dish::good(&dish.place, dish.pounds.min(1.6)))),
        random::probe().prop_map(|one| Test::Probe(Probe::good(&one.place, one.percent.min(71.0)))),
        random::sheet().prop_map(|sheet| Test::Sheet(Sheet::good(&sheet.place, false))),
    ]
}

const DAYS: std::ops::RangeInclusive<i64> = 0..=500;

proptest! {
    #![proptest_config(ProptestConfig { max_shrink_iters: 3_000, ..tried(2_000) })]

    #[test]
    fn evidence_that_is_not_good_or_void_never_improves_a_floor(
        slab in random::slab(),
        test in test(),
        void in any::<bool>(),
        days in DAYS,
    ) {
        never_improves(&slab, &with(&slab, days, &spoiled(test, void)), any_floor)?;
    }

    #[test]
    fn a_low_reading_that_is_not_good_never_makes_a_floor_clear(
        slab in random::slab(),
        test in clear_test(),
        void in any::<bool>(),
        days in DAYS,
    ) {
        let after = with(&slab, days, &spoiled(test, void));
        for (was, is) in stands(&slab).into_iter().zip(stands(&after)) {
            prop_assert!(is.standing != Standing::Clear || was.standing == Standing::Clear);
        }
    }

    #[test]
    fn a_good_reading_clear_of_every_limit_never_worsens_a_floor(
        slab in random::slab(),
        test in clear_test(),
        days in DAYS,
    ) {
        never_improves(&with(&slab, days, &test), &slab, any_floor)?;
    }

    #[test]
    fn raising_a_reading_never_improves_a_floor(
        slab in random::slab(),
        which in any::<Index>(),
        by in 0.0..1.0f64,
    ) {
        let mut after = slab.clone();
        let mut values: Vec<&mut f64> = vec![];
        let mut sheets: Vec<&mut bool> = vec![];
        for visit in &mut after.visits {
            values.extend(visit.dishes.iter_mut().map(|dish| &mut dish.pounds));
            values.extend(visit.probes.iter_mut().map(|probe| &mut probe.percent));
            sheets.extend(visit.sheets.iter_mut().map(|sheet| &mut sheet.damp));
        }
        let all = values.len() + sheets.len();
        prop_assume!(all > 0);
        let at = which.index(all);
        if at < values.len() {
            // Dishes up to 25 lb, probes to 100 %.
            let most: f64 = if *values[at] > 30.0 { 100.0 } else { 25.0 };
            *values[at] += by * (most - *values[at]);
        } else {
            *sheets[at - values.len()] = true;
        }
        never_improves(&slab, &after, any_floor)?;
    }

    /// A reading over the limit that is older than all others of its place. Of a floor that has a
    /// higher limit, or none for it, it says something else.
    #[test]
    fn an_earlier_reading_over_the_limit_never_improves_a_floor(
        slab in random::slab(),
        test in test(),
        more in 1..400i64,
    ) {
        let test = match test {
            Test::Dish(dish) => Test::Dish(Dish::good(&dish.place, dish.pounds.max(3.4))),
            Test::Probe(probe) => Test::Probe(Probe::good(&probe.place, probe.percent.max(77.0))),
            Test::Sheet(sheet) => Test::Sheet(Sheet::good(&sheet.place, true)),
        };
        let first = slab.visits.first().map_or(slab.paper, |visit| visit.day);
        let age = i64::from((slab.paper - first).get_days()) + more;
        let over = |floor: &Floor| match &test {
            Test::Dish(dish) => floor.pounds.is_none_or(|limit| dish.pounds > limit),
            Test::Probe(probe) => floor.percent.is_none_or(|limit| probe.percent > limit),
            Test::Sheet(_) => true,
        };
        never_improves(&slab, &with(&slab, age, &test), over)?;
    }

    #[test]
    fn a_known_sheet_never_hurts_a_floor(slab in random::slab()) {
        let known = Slab { sheet: Known::Yes, ..slab.clone() };
        let not = |sheet| Slab { sheet, ..slab.clone() };
        never_improves(&known, &not(Known::Unknown), any_floor)?;
        // "No" and "unknown" count alike.
        prop_assert_eq!(stands(&not(Known::Unknown)), stands(&not(Known::No)));
    }

    #[test]
    fn waiting_improves_nothing(slab in random::slab(), days in 1..600i64) {
        let paper = slab.paper.checked_add(Span::new().days(days)).expect("a day");
        never_improves(&slab, &Slab { paper, ..slab.clone() }, any_floor)?;
    }

    #[test]
    fn the_order_within_a_visit_does_not_matter(slab in random::slab(), turn in 0..5usize, back in any::<bool>()) {
        fn turned<T>(list: &mut [T], turn: usize, back: bool) {
            let len = list.len().max(1);
            list.rotate_left(turn.min(list.len()) % len);
            if back { list.reverse() }
        }
        let mut after = slab.clone();
        for visit in &mut after.visits {
            turned(&mut visit.dishes, turn, back);
            turned(&mut visit.probes, turn, back);
            turned(&mut visit.sheets, turn, back);
        }
        let (one, other) = (slab.input(), after.input());
        let (one, other) = (judge(&one), judge(&other));
        let rooms = |judged: &Judged<'_>| {
            let options = judged.case.options.iter();
            options.map(|one| (one.moisture.standing, one.moisture.mver, one.moisture.rh)).collect::<Vec<_>>()
        };
        prop_assert_eq!(rooms(&one), rooms(&other), "{}", files::told(&slab));
        prop_assert_eq!(one.recommendation, other.recommendation, "{}", files::told(&slab));
    }

    #[test]
    fn the_printed_rule_is_the_rule_that_was_taken(slab in random::slab()) {
        let input: Input = slab.input();
        let judged = judge(&input);
        let found = &judged.recommendation;
        let printed = rule(&input.job.wishes);
        let taken: Vec<RuleStep> = found.steps.iter().map(|step| step.rule).collect();
        prop_assert_eq!(&taken[..], &printed[..taken.len()]);
        // Each step compares what the one before left, and leaves some of it.
        let mut there: Vec<_> = judged.case.options.iter().map(|one| one.key().clone()).collect();
        for step in &found.steps {
            let compared: Vec<_> = step.compared.iter().map(|one| one.floor.clone()).collect();
            prop_assert_eq!(&compared, &there);
            prop_assert!(step.left.iter().all(|key| there.contains(key)));
            prop_assert!(!step.left.is_empty() || step.rule == RuleStep::NotOffered);
            there.clone_from(&step.left);
        }
        prop_assert_eq!(found.floor.as_ref(), there.first());
        prop_assert!(there.len() <= 1);
        // Steps end where one floor is left.
        let early = found.steps.iter().rev().skip(1);
        prop_assert!(early.clone().all(|step| step.left.len() > 1));
    }

    #[test]
    fn a_floor_that_comes_first_is_offered_or_waits(slab in random::slab()) {
        let input = slab.input();
        let judged = judge(&input);
        let found = &judged.recommendation;
        match &found.floor {
            None => {
                prop_assert_eq!(found.headline, Headline::NotYet);
                prop_assert!(found.priced().is_empty());
            }
            Some(floor) => {
                prop_assert!(found.prices(floor));
                prop_assert!(found.headline != Headline::NotYet);
                let waits = matches!(found.headline, Headline::TestFirst | Headline::AskFirst);
                prop_assert_eq!(found.waits(floor), waits);
                prop_assert_eq!(found.recommends(floor), !waits);
            }
        }
        // Nothing over its limit, and nothing that is not judged, may be signed for.
        for option in &judged.case.options {
            let standing = option.moisture.standing;
            prop_assert!(!found.offers(option.key()) || standing <= Standing::Close);
        }
    }

    #[test]
    fn the_order_of_the_offer_decides_only_as_the_last_step(slab in random::slab()) {
        let mut turned = slab.clone();
        turned.floors.reverse();
        let (one, other) = (slab.input(), turned.input());
        let (one, other) = (judge(&one).recommendation, judge(&other).recommendation);
        let last = |steps: &[slableaf::judge::recommend::StepTaken]| steps.last().map(|step| step.rule);
        if one.floor != other.floor {
            prop_assert_eq!(last(&one.steps), Some(RuleStep::OrderOfOffer), "{}", files::told(&slab));
            prop_assert_eq!(last(&other.steps), Some(RuleStep::OrderOfOffer));
        }
        prop_assert_eq!(one.headline, other.headline);
    }

    /// A wish more at the end of the list only decides where floors were alike by all before it.
    #[test]
    fn a_later_wish_never_overrules_an_earlier_one(slab in random::slab()) {
        let input = slab.input();
        let judged = judge(&input);
        let mut more = input.clone();
        more.job.wishes.push(Wish::NoYellowing);
        let after = judge(&more).recommendation;
        let steps = &judged.recommendation.steps;
        let decided = steps.len() <= 2 + input.job.wishes.len();
        if decided {
            prop_assert_eq!(&judged.recommendation.floor, &after.floor);
            prop_assert_eq!(steps, &after.steps);
        }
    }
}
