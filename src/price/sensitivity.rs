//! Sensitivity of a floor's price: the same estimate again, with one thing a tenth less or more.
//! For the shop alone.

use crate::base::money::Cents;
use crate::base::names::choices;
use crate::base::quantity::Share;
use crate::model::book::{Book, Stuff};
use crate::price::case::{Case, FloorOption};
use crate::price::estimate::{self, EstimateInput};
use crate::price::floor::Floor;

/// Share by which each thing is moved: a tenth of itself.
pub const STEP: f64 = 0.1;

choices! {
    /// A thing that may turn out otherwise than was thought.
    Lever {
        /// The floor and its upright faces.
        Area = "area",
        /// The price of the coat on the concrete.
        FirstCoatPrice = "first coat's price",
        /// The hours of every task.
        Hours = "hours of work",
        /// Material that does not reach the floor, as a part of all that is bought.
        Waste = "material lost",
    }
}

/// Change of the price that the margin asks for, before minimum and rounding, which would hide
/// small steps.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Swing {
    pub lever: Lever,
    pub less: Cents,
    pub more: Cents,
}

/// Every lever with what it does to a floor's price, the strongest first.
pub fn swings(case: &Case<'_>, option: &FloorOption<'_>) -> Vec<Swing> {
    let now = option.estimate.wanted;
    let moved = |lever, factor| margin_price(case, option, lever, factor).minus(now);
    let swing = |&(_, lever): &(&str, Lever)| Swing {
        lever,
        less: moved(lever, 1.0 - STEP),
        more: moved(lever, 1.0 + STEP),
    };
    let mut swings: Vec<Swing> = Lever::WORDS.iter().map(swing).collect();
    swings.sort_by_key(|swing| std::cmp::Reverse(swing.more.0.max(-swing.less.0)));
    swings
}

/// The price that the margin asks for when one thing is multiplied.
fn margin_price(case: &Case<'_>, option: &FloorOption<'_>, lever: Lever, factor: f64) -> Cents {
    let mut book = case.book.clone();
    let mut site = case.site.clone();
    match lever {
        Lever::Area => {
            site.take_off.floor = site.take_off.floor * factor;
            site.take_off.upright = site.take_off.upright * factor;
            // A floor of the same shape: its outline grows by the square root.
            site.take_off.edge = site.take_off.edge * factor.sqrt();
        }
        Lever::FirstCoatPrice => {
            let first = option.floor.resins().next().map(|(coat, _)| coat.product.key.clone());
            let product =
                book.products.iter_mut().find(|product| Some(&product.key) == first.as_ref());
            if let Some(Stuff::Resin(resin)) = product.map(|product| &mut product.stuff) {
                for kit in &mut resin.kits {
                    kit.price = kit.price.times(
                        rust_decimal::Decimal::try_from(factor).unwrap_or_default().round_dp(6),
                    );
                }
            }
        }
        Lever::Hours => slow_down(&mut book, factor),
        Lever::Waste => raise_waste(&mut book, factor),
    }
    let floor = Floor::new(option.floor.system, &book, &option.floor.extras);
    let on = EstimateInput::new(case.job, &site, &book, &case.shop.calendar)
        .beside(case.others.beside());
    estimate::estimate(&floor, on).wanted
}

fn slow_down(book: &mut Book, factor: f64) {
    let rates = &mut book.rates;
    rates.set_up = rates.set_up * factor;
    rates.clean_up = rates.clean_up * factor;
    book.mixing.time = book.mixing.time * factor;
    for rate in [
        &mut rates.grind,
        &mut rates.grind_coated,
        &mut rates.strip,
        &mut rates.patch,
        &mut rates.roll,
        &mut rates.upright,
        &mut rates.broadcast,
        &mut rates.scrape,
    ] {
        *rate = *rate * (1.0 / factor);
    }
    for rate in [&mut rates.pour, &mut rates.trowel].into_iter().flatten() {
        *rate = *rate * (1.0 / factor);
    }
    for rate in [&mut rates.edge, &mut rates.crack, &mut rates.joint, &mut rates.cove] {
        *rate = *rate * (1.0 / factor);
    }
}

fn raise_waste(book: &mut Book, factor: f64) {
    let more = |loss: &mut Share| *loss = Share::of_one((loss.as_of_one() * factor).min(MOST_LOSS));
    more(&mut book.prep.upright_loss);
    for product in &mut book.products {
        match &mut product.stuff {
            Stuff::Resin(resin) => more(&mut resin.loss),
            Stuff::Filler(filler) => more(&mut filler.loss),
            // Flake that is swept up again is the other side of what is lost.
            Stuff::Flake(flake) => flake.reclaimed = flake.reclaimed * (2.0 - factor),
            // The dose of a pigment follows its liquid.
            Stuff::Pigment(_) => {}
            Stuff::Grit(grit) => grit.rate = grit.rate * factor,
        }
    }
}

/// Below all of it: a need has to stay finite.
const MOST_LOSS: f64 = 0.95;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::quantity::{Area, Length};
    use crate::price::testing;

    #[test]
    fn more_of_anything_never_makes_a_floor_cheaper() {
        testing::sample().with_case(|case| {
            for option in &case.options {
                let swings = swings(&case, option);
                assert_eq!(swings.len(), Lever::WORDS.len());
                for swing in &swings {
                    assert!(swing.more >= Cents::ZERO, "{:?}", swing);
                    assert!(swing.less <= Cents::ZERO, "{:?}", swing);
                }
                let reach = |swing: &Swing| swing.more.0.max(-swing.less.0);
                assert!(swings.windows(2).all(|pair| reach(&pair[0]) >= reach(&pair[1])));
            }
        });
    }

    /// A tenth more hours: whatever is done by area, by length or once takes a tenth longer.
    #[test]
    fn a_slower_crew_is_slower_at_everything() {
        let before = testing::sample().book("rates.pour", "\"200 ft2/h\"").input().book;
        let mut after = before.clone();
        slow_down(&mut after, 1.1);
        let (area, length) = (Area::square_meters(40.0), Length::meters(20.0));
        let hours = |book: &Book| {
            let rates = &book.rates;
            let areas = [
                rates.grind,
                rates.grind_coated,
                rates.strip,
                rates.patch,
                rates.roll,
                rates.upright,
                rates.broadcast,
                rates.scrape,
            ];
            let lengths = [rates.edge, rates.crack, rates.joint, rates.cove];
            let areas = areas.into_iter().chain(rates.pour).map(|rate| area.worked_at(rate));
            let all = areas.chain(lengths.map(|rate| length.worked_at(rate)));
            all.chain([rates.set_up, rates.clean_up, book.mixing.time]).collect::<Vec<_>>()
        };
        for (was, is) in hours(&before).into_iter().zip(hours(&after)) {
            assert!((is.as_hours() / was.as_hours() - 1.1).abs() < 1e-9, "{was:?} {is:?}");
        }
    }

    /// A tenth more waste: of a loss of 10 % it makes 11 %, and of flake that is swept up again a tenth less is.
    #[test]
    fn more_waste_is_a_tenth_more_of_each_loss() {
        let before = testing::sample().input().book;
        let mut after = before.clone();
        raise_waste(&mut after, 1.1);
        let (mut lost, mut swept) = (0, 0);
        for (was, is) in before.products.iter().zip(&after.products) {
            let ratio = match (&was.stuff, &is.stuff) {
                (Stuff::Resin(was), Stuff::Resin(is)) => is.loss.as_of_one() / was.loss.as_of_one(),
                (Stuff::Filler(was), Stuff::Filler(is)) => {
                    is.loss.as_of_one() / was.loss.as_of_one()
                }
                (Stuff::Flake(was), Stuff::Flake(is)) => {
                    swept += 1;
                    assert!((is.reclaimed / was.reclaimed - 0.9).abs() < 1e-9);
                    continue;
                }
                _ => continue,
            };
            lost += 1;
            assert!((ratio - 1.1).abs() < 1e-9, "{}: {ratio}", was.key);
        }
        assert!(lost > 8 && swept > 0, "{lost} {swept}");
        let upright = after.prep.upright_loss.as_of_one() / before.prep.upright_loss.as_of_one();
        assert!((upright - 1.1).abs() < 1e-9, "{upright}");
    }

    /// Labor alone moves with the hours: a tenth of its cost, with overhead, over one less margin.
    #[test]
    fn hours_move_the_price_by_a_tenth_of_labor_and_what_rests_on_it() {
        testing::sample().with_case(|case| {
            let option = &case.options[0];
            let labor: Cents = option.estimate.labor.iter().map(|line| line.cost).sum();
            let by_hand = labor.0 as f64 * 0.1 * 1.15 / (1.0 - 0.38);
            let swings = swings(&case, option);
            let hours = swings.iter().find(|swing| swing.lever == Lever::Hours).unwrap();
            // Every line of labor is rounded to the hundredth of an hour: 8 x 0.005 x $41.60 x 1.15
            // / 0.62.
            assert!((hours.more.0 as f64 - by_hand).abs() < 309.0, "{hours:?}, by hand {by_hand}");
        });
    }
}
