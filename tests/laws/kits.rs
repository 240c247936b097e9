//! Kits: the mix that is bought.

use super::close;
use crate::chance::tried;
use proptest::prelude::*;
use slableaf::base::money::Cents;
use slableaf::base::quantity::*;
use slableaf::model::book::Kit;
use slableaf::price::kits::choose;

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
