//! Wishes of the customer.

use super::Slab;
use slableaf::judge::recommend::{RuleStep, rule};
use slableaf::model::job::Wish;

/// Without the wish one floor wins, with it the other.
#[track_caller]
fn turns(slab: impl Fn(&[&str]) -> Slab, wish: &str, from: &str, to: &str) {
    slab(&[]).recommends(from);
    let wish_of = |word: &str| match word {
        "quick" => Wish::Quick,
        "lasting" => Wish::Lasting,
        "low-price" => Wish::LowPrice,
        "no-yellowing" => Wish::NoYellowing,
        _ => Wish::MoistureRoom,
    };
    slab(&[wish]).recommends(to).by(RuleStep::Wish { wish: wish_of(wish) });
}

/// Half an hour earlier, so that one may park on the fast-cure floor in the evening. From 9 pm on it would be the
/// morning after, which is the day of the barrier floor too.
fn early(slab: Slab) -> Slab {
    slab.book("day-starts = 07:30:00", "day-starts = 07:00:00")
}

/// A dear fast-cure primer, so that price alone would take the barrier floor.
fn dear_fast_cure(wishes: &[&str]) -> Slab {
    early(Slab::offering(&["barrier", "fast-cure"], wishes))
        .book("size = \"2 gal\", price = \"$236.00\"", "size = \"2 gal\", price = \"$536.00\"")
        .book(
            "size = \"10 gal\", price = \"$1,080.00\"",
            "size = \"10 gal\", price = \"$2,680.00\"",
        )
}

#[test]
fn the_wish_for_a_quick_floor_turns_the_choice() {
    turns(dear_fast_cure, "quick", "barrier", "fast-cure");
}

/// No daylight on the floor, so that ambering is nobody's concern.
pub fn in_the_dark(offer: &[&str], wishes: &[&str]) -> Slab {
    Slab::offering(offer, wishes).job("daylight = true", "daylight = false")
}

/// At 9 pm nobody parks: both floors are then free on the same day, and the wish for a quick one does not decide.
#[test]
fn a_car_that_may_return_at_night_returns_the_morning_after() {
    let both = || Slab::offering(&["fast-cure", "barrier"], &["quick", "moisture-room"]);
    both().recommends("barrier");
    early(both()).recommends("fast-cure");
}

#[test]
fn the_wish_for_a_lasting_floor_turns_the_choice() {
    // Where no daylight turns it amber the epoxy floor is cheaper; it is said to serve 5 to 10 years.
    turns(
        |wishes| in_the_dark(&["barrier", "clear-epoxy"], wishes),
        "lasting",
        "clear-epoxy",
        "barrier",
    );
}

#[test]
fn the_wish_for_no_yellowing_turns_the_choice() {
    turns(
        |wishes| in_the_dark(&["barrier", "clear-epoxy"], wishes),
        "no-yellowing",
        "clear-epoxy",
        "barrier",
    );
}

#[test]
fn the_wish_for_a_low_price_turns_the_choice() {
    // The kit is the cheapest; daylight turns it amber, and warm tires may lift it.
    turns(
        |wishes| Slab::offering(&["barrier", "water-kit"], wishes),
        "low-price",
        "barrier",
        "water-kit",
    );
}

#[test]
fn the_wish_for_moisture_room_turns_the_choice() {
    turns(
        |wishes| Slab::offering(&["fast-cure", "barrier"], wishes),
        "moisture-room",
        "fast-cure",
        "barrier",
    );
}

#[test]
fn wishes_count_in_the_order_of_the_customer() {
    early(Slab::offering(&["fast-cure", "barrier"], &["quick", "moisture-room"]))
        .recommends("fast-cure");
    Slab::offering(&["fast-cure", "barrier"], &["moisture-room", "quick"]).recommends("barrier");
}

#[test]
fn a_wish_on_which_floors_are_alike_leaves_the_next_to_decide() {
    Slab::offering(&["fast-cure", "barrier"], &["lasting", "moisture-room"])
        .recommends("barrier")
        .see(|judged| {
            let steps = &judged.recommendation.steps;
            let taken: Vec<RuleStep> = steps.iter().map(|step| step.rule).collect();
            let wishes = [Wish::Lasting, Wish::MoistureRoom];
            assert_eq!(taken, rule(&wishes)[..4]);
            let decides: Vec<bool> = steps.iter().map(|step| step.decides()).collect();
            assert_eq!(decides, [false, false, false, true]);
        });
}
