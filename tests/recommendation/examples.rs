//! The recommendations of the examples.

use super::{Slab, key};
use crate::documents::paper;
use slableaf::base::money::Cents;
use slableaf::judge::recommend::{Band, Compared, MoistureRank, OfferState, RuleStep};
use slableaf::model::job::Wish;

/// Three probes that read so much, on the slab's own visit, to the method.
pub fn holes(percent: u32) -> String {
    let probe = |n: u32| {
        format!(
            "[[moisture.probes.probe]]\nplace = \"hole {n}\"\ndepth = \"2 in\"\nreading = \"{percent} %\"\n\
             drilled = 2026-05-27T09:00:00\nread = 2026-05-29T09:00:00\ncalibrated = 2026-05-20\n\n"
        )
    };
    let probes: String = (1..=3).map(probe).collect();
    format!("[moisture.probes]\nedition = 2019\nsettled = true\n\n{probes}")
}

/// Room is counted in bands, and the method with less of it counts. By hand: 3 lb over 0.9 lb are 3.3
/// times, and 75 % leaves 15 points over 60 %, both much room and as good as the barrier's; one point
/// more of humidity, or 1.6 lb, and it is only some.
#[test]
fn room_over_moisture_is_counted_in_bands_by_the_worse_method() {
    let slab = |pounds, percent| {
        let probes = format!("{}[air]", holes(percent));
        let offer = ["barrier", "fast-cure"];
        Slab::offering(&offer, &["moisture-room"]).reading(pounds).job("[air]", &probes)
    };
    let room = RuleStep::Wish { wish: Wish::MoistureRoom };
    slab(0.9, 60).recommends("fast-cure").by(RuleStep::LowestPrice);
    slab(0.9, 61).recommends("barrier").by(room);
    slab(1.6, 60).recommends("barrier").by(room);
}

/// A limit below one and a half times the reading leaves little room, one below three times some. By hand: of 2.1
/// lb they are 3.15 and 6.3 lb, so that 3 lb are little and 5.8 lb some: the wish decides, not the price.
#[test]
fn little_room_is_less_than_some() {
    let room = RuleStep::Wish { wish: Wish::MoistureRoom };
    let slab = || {
        Slab::offering(&["barrier", "fast-cure"], &["moisture-room"])
            .book("mver-limit = \"20 lb/1000ft2/24h\"", "mver-limit = \"5.8 lb/1000ft2/24h\"")
    };
    slab().reading(2.1).recommends("barrier").by(room);
    // Of 1.95 lb, 2.9 and 5.85 lb: some is left over either.
    slab().reading(1.95).recommends("fast-cure").by(RuleStep::LowestPrice);
}

/// Recommended and offered floors are asked for by their key.
#[test]
fn a_recommendation_knows_its_floors() {
    Slab::offering(&["barrier", "fast-cure"], &[]).reading(9.0).see(|judged| {
        let found = &judged.recommendation;
        assert!(found.recommends(&key("barrier")) && !found.recommends(&key("fast-cure")));
        assert!(found.offers(&key("barrier")) && !found.offers(&key("fast-cure")));
        assert!(!found.prices(&key("fast-cure")) && found.puts_first(&key("barrier")));
        assert_eq!(found.recommended(), Some(&key("barrier")));
        assert_eq!(found.state(&key("no such floor")), OfferState::NotOffered);
    });
}

#[test]
fn each_example_has_the_floor_that_its_slab_asks_for() {
    for (name, floor) in [
        ("two-car-barrier", "barrier"),
        ("dry-and-quick", "fast-cure"),
        ("metric-probes", "barrier"),
    ] {
        assert_eq!(paper(name).check["recommended"], floor, "{name}");
    }
    assert!(paper("too-wet-yet").check["recommended"].is_null());
}

/// The value by which a step compared a floor, in the results: a word, a number, an amount or several, as the
/// schema of the results says.
#[test]
fn compared_values_are_words_numbers_and_amounts() {
    for (value, text) in [
        (Compared::State(OfferState::Offered), "offered"),
        (Compared::State(OfferState::NotOffered), "not-offered"),
        (Compared::Moisture(MoistureRank::CloseSafe), "close-safe"),
        (Compared::CarBack(3), "3"),
        (Compared::Position(1), "1"),
        (Compared::Life(15, None), "15"),
        (Compared::Life(15, Some(Band::Much)), "15, much"),
        (Compared::Price(Cents(541_020)), "5410.20"),
        (Compared::Ambers(true), "yes"),
        (Compared::Concern(false), "no"),
        (Compared::Room(Band::Little), "little"),
    ] {
        assert_eq!(value.to_string(), text);
        assert_eq!(serde_json::to_value(value).unwrap(), text);
    }
}
