//! Whole jobs.

use super::close;
use crate::chance::tried;
use crate::facts::example::{self, BOOK, SHOP};
use jiff::civil::date;
use proptest::prelude::*;
use rust_decimal::Decimal;
use slableaf::base::money::Cents;
use slableaf::base::quantity::*;
use slableaf::model::book::Stuff;
use slableaf::price::case::{Case, FloorOption, case};
use slableaf::price::estimate::materials::{KitMeasure, MaterialAmount, MaterialLine};
use slableaf::price::estimate::price::payments;

/// The example with a rectangular floor.
fn job_of(length: u32, width: u32) -> String {
    example::job_with_floor(&format!("length = \"{length} in\"\nwidth = \"{width} in\""))
}

/// The figures of a job, floor by floor: needs of each product (kilograms or liters), kits, lines of
/// cost, prices, days.
fn summary(case: &Case<'_>) -> (Vec<f64>, String) {
    let mut needs = vec![];
    let mut rest = vec![];
    for choice in &case.options {
        let estimate = &choice.estimate;
        for line in &estimate.materials {
            needs.push(match line.amount {
                MaterialAmount::Liquid { need, .. } => need.as_liters(),
                MaterialAmount::Flake { need, .. } | MaterialAmount::Solid { need, .. } => {
                    need.as_kilograms()
                }
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
            let extras: Cents = quote.extras.iter().map(|e| e.price).sum();
            prop_assert_eq!(quote.floor.plus(extras).plus(quote.tax), quote.total);
            prop_assert_eq!(quote.total, estimate.total());
            prop_assert!(quote.extras.iter().map(|e| e.price).chain(quote.could_add.iter().map(|c| c.adds)).all(|adds| adds >= Cents::ZERO));
            prop_assert_eq!(estimate.direct.plus(estimate.overhead), estimate.cost);
            prop_assert!(estimate.margin().unwrap() >= input.book.terms.margin - Decimal::new(1, 6));
            let paid: Cents = payments(quote.total, &input.shop.payments, &input.shop.limits).iter().map(|p| p.amount).sum();
            prop_assert_eq!(paid, quote.total);
        }
    }

    /// The quantity bought of a product never shrinks with waste; the number of pails may, where a
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
                    Stuff::Flake(_) | Stuff::Pigment(_) | Stuff::Grit(_) => {}
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
            let of_one_size = input.book.product(&few.product)
                .is_some_and(|product| product.stuff.kits().len() == 1);
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

/// The quantities needed and bought of a product (liters or kilograms), and the number of pails.
fn taken(line: &MaterialLine) -> (f64, f64, u32) {
    let need = match line.amount {
        MaterialAmount::Liquid { need, .. } => need.as_liters(),
        MaterialAmount::Flake { need, .. } | MaterialAmount::Solid { need, .. } => {
            need.as_kilograms()
        }
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
