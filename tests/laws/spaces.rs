//! Jobs of several spaces: the whole, its shares, and the price of any floors that are ticked.

use crate::chance::tried;
use crate::facts::example::{self, BOOK, SHOP};
use proptest::prelude::*;
use slableaf::base::money::Cents;
use slableaf::base::names::Key;
use slableaf::judge::spaces::judge_spaces;
use slableaf::model::space::SpaceKind;
use slableaf::price::case::case;
use slableaf::price::estimate::materials::MaterialAmount;
use slableaf::price::whole::{Whole, alone, whole};
use slableaf::read::Input;
use slableaf::reprice::reprice_spaces;

const FLOORS: [&str; 4] = ["barrier", "fast-cure", "clear-epoxy", "water-kit"];

/// A space: its sides in inches, its kind, the floors on offer and the one that is chosen of them.
#[derive(Debug, Clone)]
struct Drawn {
    length: u32,
    width: u32,
    kind: SpaceKind,
    offer: Vec<&'static str>,
    chosen: usize,
    old_coating: bool,
    slab: u32,
}

fn drawn() -> impl Strategy<Value = Drawn> {
    let kinds = SpaceKind::WORDS.iter().map(|(_, kind)| *kind).collect::<Vec<_>>();
    let offer = prop::sample::subsequence(FLOORS.to_vec(), 1..=4).prop_shuffle();
    let sides = (36u32..=400, 36u32..=400, 45u32..=85);
    (sides, prop::sample::select(kinds), offer, any::<prop::sample::Index>(), any::<bool>())
        .prop_map(|((length, width, slab), kind, offer, chosen, old_coating)| {
            let chosen = chosen.index(offer.len());
            Drawn { length, width, kind, offer, chosen, old_coating, slab }
        })
}

/// What stands in a space, or at the top of a job of one space where `at` is empty.
fn tables(one: &Drawn, at: &str) -> String {
    let Drawn { length, width, slab, .. } = one;
    let coating = if one.old_coating { "paint" } else { "none" };
    format!(
        "[{at}slab]\non-ground = true\nold-coating = \"{coating}\"\n\
         [[{at}area]]\nlength = \"{length} in\"\nwidth = \"{width} in\"\n\
         [{at}air]\nmeasured = 2026-05-08\ntemperature = \"70 F\"\nhumidity = \"50 %\"\nslab = \"{slab} F\"\n"
    )
}

const HEAD: &str = "number = \"S-1\"\ndate = 2026-05-12\nunits = \"us\"\n";
const CUSTOMER: &str = "customer = { name = \"A. Person\" }\nplan = { start = 2026-05-26 }\n";

fn job(spaces: &[Drawn]) -> Input {
    let mut text = format!("{HEAD}sold-at-home = false\n{CUSTOMER}");
    for (at, one) in spaces.iter().enumerate() {
        text += &format!(
            "\n[[space]]\nname = \"Space {at}\"\nkind = \"{}\"\noffer = {:?}\n\
             surroundings = {{ outdoors = {}, daylight = true }}\n{}",
            one.kind.word(),
            one.offer,
            one.kind == SpaceKind::Patio,
            tables(one, "space."),
        );
    }
    example::read(&text, BOOK, SHOP)
}

fn chosen(spaces: &[Drawn]) -> Vec<Option<Key>> {
    spaces.iter().map(|one| Some(Key(one.offer[one.chosen].to_owned()))).collect()
}

/// The price of a floor in a space.
fn price(whole: &Whole<'_>, space: usize, floor: &Key) -> Cents {
    let option = whole.spaces[space].options.iter().find(|option| option.key() == floor);
    option.expect("a floor on offer").quote.total
}

proptest! {
    #![proptest_config(tried(40))]

    /// The shares sum to the whole, and any floors that are ticked cost the sum of their prices, where
    /// each is its space's share and the difference that it makes to the whole.
    #[test]
    fn the_spaces_sum_to_the_whole(spaces in prop::collection::vec(drawn(), 1..=4)) {
        let input = job(&spaces);
        let jobs = input.job.of_spaces();
        let alone = alone(&input, &jobs);
        let floors = chosen(&spaces);
        let base = whole(&input, &jobs, &alone, floors.clone());
        let shared = base.price.as_ref().expect("a price");
        let total = shared.estimate.total();
        let sum: Cents = shared.shares.iter().map(|share| share.total()).sum();
        prop_assert_eq!(sum, total);
        let sum: Cents = floors.iter().enumerate().map(|(at, floor)| price(&base, at, floor.as_ref().unwrap())).sum();
        prop_assert_eq!(sum, total);
        for (at, one) in spaces.iter().enumerate() {
            for floor in one.offer.iter().map(|floor| Key((*floor).to_owned())) {
                let mut other = floors.clone();
                other[at] = Some(floor.clone());
                // The whole with that floor, worked out from the start.
                let other = whole(&input, &jobs, &alone, other).price.expect("a price").estimate.total();
                let own = shared.shares[at].total().plus(other.minus(total));
                prop_assert_eq!(price(&base, at, &floor), own.max(Cents::ZERO));
            }
            for option in &base.spaces[at].options {
                let quote = &option.quote;
                let extras: Cents = quote.extras.iter().map(|e| e.price).sum();
                prop_assert_eq!(quote.floor.plus(extras).plus(quote.tax), quote.total);
            }
        }
    }

    /// Shares are proportional to what each space costs alone, to the cent below; what remains is less than
    /// a cent for each space and goes to the largest.
    #[test]
    fn shares_follow_what_each_costs_alone(spaces in prop::collection::vec(drawn(), 2..=4)) {
        let input = job(&spaces);
        let jobs = input.job.of_spaces();
        let alone = alone(&input, &jobs);
        let base = whole(&input, &jobs, &alone, chosen(&spaces));
        let shares = &base.price.as_ref().expect("a price").shares;
        let weights: i128 = shares.iter().map(|share| i128::from(share.alone.0)).sum();
        let amount: i128 = shares.iter().map(|share| i128::from(share.price.0)).sum();
        let largest = shares.iter().map(|share| share.alone).max().unwrap();
        let mut got_rest = 0;
        for (at, share) in shares.iter().enumerate() {
            let option = alone[at].options.iter().find(|one| one.key().0 == spaces[at].offer[spaces[at].chosen]);
            prop_assert_eq!(share.alone, option.unwrap().estimate.direct);
            let floor = amount * i128::from(share.alone.0) / weights;
            let over = i128::from(share.price.0) - floor;
            prop_assert!(over == 0 || share.alone == largest && over < shares.len() as i128, "{shares:?}");
            got_rest += i32::from(over != 0);
        }
        prop_assert!(got_rest <= 1);
    }

    /// Need by need the whole takes what its spaces take, and buys it no dearer; what is charged for each
    /// job is charged once; no space is begun before the crew has left the one before.
    #[test]
    fn the_whole_takes_what_its_spaces_take(spaces in prop::collection::vec(drawn(), 2..=4)) {
        let input = job(&spaces);
        let jobs = input.job.of_spaces();
        let alone = alone(&input, &jobs);
        let floors = chosen(&spaces);
        let base = whole(&input, &jobs, &alone, floors.clone());
        let estimate = &base.price.as_ref().expect("a price").estimate;
        let need = |amount: &MaterialAmount| match amount {
            MaterialAmount::Liquid { need, .. } => need.as_liters(),
            MaterialAmount::Flake { need, .. } | MaterialAmount::Solid { need, .. } => {
                need.as_kilograms()
            },
        };
        let own: Vec<_> = alone.iter().zip(&floors).map(|(case, floor)| {
            case.options.iter().find(|one| Some(one.key()) == floor.as_ref()).unwrap()
        }).collect();
        for line in &estimate.materials {
            let parts = own.iter().flat_map(|one| &one.estimate.materials).filter(|part| part.product == line.product);
            let sum: f64 = parts.clone().map(|part| need(&part.amount)).sum();
            prop_assert!((need(&line.amount) - sum).abs() <= 1e-9 * sum);
            let cost: Cents = parts.map(|part| part.cost).sum();
            prop_assert!(line.cost <= cost, "{}", line.product);
        }
        prop_assert_eq!(estimate.per_job, input.book.terms.per_job);
        prop_assert!(estimate.price >= input.book.terms.minimum);
        let schedule = |at: usize| {
            let option = base.spaces[at].options.iter().find(|one| Some(one.key()) == floors[at].as_ref());
            option.unwrap().estimate.schedule.clone()
        };
        let mut days = 0;
        for at in 0..spaces.len() {
            let own = schedule(at);
            prop_assert!(own.missed.len() <= own.coats.len());
            days += own.days;
            if at > 0 {
                let before = schedule(at - 1);
                let left = before.stretches.last().unwrap().to;
                prop_assert!(own.stretches.first().unwrap().from >= left);
                prop_assert!(own.coats.first().unwrap().from >= before.done);
            }
        }
        // A day on which the crew goes on in the next space counts for both.
        prop_assert!(estimate.days <= days && days < estimate.days + spaces.len() as u32);
    }

    /// Causes add up to the change of the whole, whatever moved it: prices, wages, terms, the job, and floors
    /// that come first.
    #[test]
    fn causes_of_a_new_price_add_up(
        spaces in prop::collection::vec(drawn(), 1..=3),
        wage in 20u32..=60,
        kit in 150u32..=700,
        minimum in 500u32..=9_000,
        longer in 0u32..=60,
    ) {
        let before = job(&spaces);
        let mut larger = spaces.clone();
        larger[0].length += longer;
        let mut after = job(&larger);
        let book = BOOK
            .replace("wage = \"$32.00/h\"", &format!("wage = \"${wage}.00/h\""))
            .replace("price = \"$198.00\"", &format!("price = \"${kit}.00\""))
            .replace("minimum = \"$1,800.00\"", &format!("minimum = \"${minimum}.00\""));
        after.book = example::read(example::JOB, &book, SHOP).book;
        let repriced = reprice_spaces(Some(&before), &after);
        let whole = |input: &Input| {
            let jobs = input.job.of_spaces();
            let judged = judge_spaces(input, &jobs);
            judged.price.as_ref().map(|_| judged.total())
        };
        let (was, is) = (whole(&before), whole(&after));
        let all = repriced.floors.first();
        prop_assert_eq!(all.is_some(), was.is_some() || is.is_some());
        if let Some(all) = all {
            prop_assert_eq!((all.before, all.after), (was, is));
            let parts = repriced.of_spaces();
            let before: Cents = parts.iter().filter_map(|part| part.before).sum();
            let after: Cents = parts.iter().filter_map(|part| part.after).sum();
            prop_assert_eq!((before, after), (was.unwrap_or(Cents::ZERO), is.unwrap_or(Cents::ZERO)));
        }
        for price in &repriced.floors {
            let causes: Cents = price.causes.iter().map(|cause| cause.change).sum();
            prop_assert_eq!(price.change().unwrap_or(Cents::ZERO), causes, "{:?}", price.causes);
        }
        prop_assert!(reprice_spaces(Some(&before), &before).is_unchanged());
    }

    /// The floor that comes first in a space is the one that the whole is priced with: no page names a floor, and
    /// a price that is another one's.
    #[test]
    fn the_price_is_that_of_the_floors_that_come_first(spaces in prop::collection::vec(drawn(), 1..=4)) {
        let input = job(&spaces);
        let jobs = input.job.of_spaces();
        let judged = judge_spaces(&input, &jobs);
        if let Some(price) = &judged.price {
            let first: Vec<_> = judged.spaces.iter().map(|space| space.recommendation.floor.clone()).collect();
            prop_assert_eq!(&first, &price.floors);
        }
    }

    /// One space is the same job as without `[[space]]`.
    #[test]
    fn one_space_is_a_job_of_its_own(one in drawn()) {
        let input = job(std::slice::from_ref(&one));
        let jobs = input.job.of_spaces();
        let spaces = judge_spaces(&input, &jobs);
        let light = "garage = { daylight = true, sold-at-home = false }\n";
        let plain = format!("{HEAD}offer = {:?}\n{CUSTOMER}{light}\n{}", one.offer, tables(&one, ""));
        let plain = example::read(&plain, BOOK, SHOP);
        for (own, plain) in spaces.spaces[0].case.options.iter().zip(&case(&plain).options) {
            prop_assert_eq!(own.key(), plain.key());
            prop_assert_eq!(&own.quote, &plain.quote);
            prop_assert_eq!(format!("{:?}", own.estimate), format!("{:?}", plain.estimate));
        }
    }
}
