//! Whole kits: worked by hand, as there is no outside table. Two-component kits are mixed whole, so
//! a need is rounded up to kits.

use super::{cents, example};
use slableaf::base::money::Cents;
use slableaf::base::quantity::Volume;
use slableaf::model::book::Kit;
use slableaf::price::case::case;
use slableaf::price::estimate::materials::MaterialAmount;
use slableaf::price::kits::choose;
use slableaf::read;

/// Kits as (gallons, price), a need in gallons, and the kits to buy.
#[track_caller]
fn buys(sizes: &[(f64, &str)], need: f64, counts: &[u32], cost: &str) {
    let sizes: Vec<Kit<Volume>> = sizes
        .iter()
        .map(|(gallons, price)| Kit { size: Volume::gallons(*gallons), price: cents(price) })
        .collect();
    let found = choose(&sizes, Volume::gallons(need));
    assert_eq!(found.counts, counts, "{found:?}");
    assert_eq!(found.cost, cents(cost));
    let bought: f64 = sizes
        .iter()
        .zip(counts)
        .map(|(kit, count)| kit.size.as_gallons() * f64::from(*count))
        .sum();
    super::near(found.leftover.as_gallons(), (bought - need).max(0.0), 1e-9);
}

#[test]
fn a_part_of_a_kit_is_a_kit() {
    let three = [(3.0, "276.00")];
    buys(&three, 0.0, &[0], "0.00");
    buys(&three, 0.1, &[1], "276.00");
    buys(&three, 9.0, &[3], "828.00");
    buys(&three, 9.03, &[4], "1104.00");
    // The last bits of binary arithmetic are no part of a kit.
    buys(&three, 9.000_000_000_3, &[3], "828.00");
}

#[test]
fn the_cheapest_mix_is_bought() {
    let sizes = [(3.0, "276.00"), (15.0, "1290.00")];
    buys(&sizes, 12.0, &[4, 0], "1104.00");
    // Five small kits are 1380: the large one is cheaper, though more is left over.
    buys(&sizes, 13.0, &[0, 1], "1290.00");
    buys(&sizes, 16.0, &[1, 1], "1566.00");
}

#[test]
fn equal_cost_leaves_least_over() {
    buys(&[(2.0, "100.00"), (3.0, "100.00")], 2.0, &[1, 0], "100.00");
    buys(&[(3.0, "100.00"), (2.0, "100.00")], 1.5, &[0, 1], "100.00");
}

#[test]
fn equal_cost_and_rest_mean_fewest_pails() {
    buys(&[(3.0, "200.00"), (15.0, "1000.00")], 15.0, &[0, 1], "1000.00");
    buys(&[(3.0, "200.00"), (15.0, "1000.00")], 14.3, &[0, 1], "1000.00");
    buys(&[(1.0, "70.00"), (5.0, "350.00")], 9.4, &[0, 2], "700.00");
}

/// Three times 0.7 gallons are a last bit short of 2.1: that bit is no reason for a pail of another
/// size. By hand.
#[test]
fn the_last_bits_of_a_mix_ask_for_no_pail_of_the_next_size() {
    buys(&[(0.7, "7.00"), (5.0, "500.00")], 2.1, &[3, 0], "21.00");
    buys(&[(5.0, "500.00"), (0.7, "7.00")], 2.1, &[0, 3], "21.00");
}

#[test]
fn less_than_nothing_is_no_need() {
    let kit = Kit { size: Volume::gallons(3.0), price: cents("276.00") };
    let found = choose(&[kit], Volume::gallons(-1.0));
    assert_eq!((found.counts, found.cost, found.leftover), (vec![0], Cents::ZERO, Volume::ZERO));
}

/// Two coats of one product are bought as one need, so that a part of a kit is rounded up once.
#[test]
fn two_broadcasts_of_one_flake_are_bought_together() {
    let thrown = |twice: bool| {
        let mut files = example::files(example::JOB, example::BOOK, example::SHOP);
        let system = files.systems.iter_mut().find(|file| file.name == "fast-cure.toml").unwrap();
        if twice {
            let (before, top) = system.text.split_once("[[coat]]\nkey = \"top\"").unwrap();
            let flake = before.split_once("[[coat]]\nkey = \"flake\"").unwrap().1;
            let middle = top.replace("look = \"top\"", "look = \"clear\"");
            system.text = format!(
                "{before}[[coat]]\nkey = \"middle\"{middle}\n[[coat]]\nkey = \"flake-two\"{flake}\
                 [[coat]]\nkey = \"top\"{top}"
            );
        }
        let input = read::read(&files).unwrap_or_else(|problems| panic!("{problems:#?}"));
        let case = case(&input);
        let floor = case.options.iter().find(|option| option.key().0 == "fast-cure").unwrap();
        let needs = floor.estimate.materials.iter().filter_map(|line| match line.amount {
            MaterialAmount::Flake { need, kept, .. } => Some((need.as_pounds(), kept.as_pounds())),
            MaterialAmount::Liquid { .. } | MaterialAmount::Solid { .. } => None,
        });
        needs.collect::<Vec<_>>()
    };
    let (once, twice) = (thrown(false), thrown(true));
    assert_eq!((once.len(), twice.len()), (1, 1));
    super::near(twice[0].0, 2.0 * once[0].0, 1e-9);
    super::near(twice[0].1, 2.0 * once[0].1, 1e-9);
}

/// A product that is mixed whole goes by the smallest kit of its own that is bought, here of 2 gal,
/// not by another's and not by the largest batch of the book, 3 gal.
#[test]
fn what_is_mixed_whole_is_mixed_by_its_own_kit() {
    let line = "key = \"polyaspartic-top\"\n";
    let book = example::BOOK.replacen(line, &format!("{line}whole-kits = true\n"), 1);
    let input = example::read(example::JOB, &book, example::SHOP);
    let case = case(&input);
    let floor = case.options.iter().find(|option| option.key().0 == "barrier").unwrap();
    let (coat, batches) = floor.estimate.batches.last().unwrap();
    super::near(batches.volume.as_gallons(), 2.0, 1e-9);
    let lines = &floor.estimate.materials;
    let top = lines.iter().find(|line| line.product.0 == "polyaspartic-top").unwrap();
    let MaterialAmount::Liquid { need, .. } = top.amount else { panic!("no liquid") };
    super::near(floor.estimate.coat_volume(coat).unwrap().as_gallons(), need.as_gallons(), 1e-9);
}
