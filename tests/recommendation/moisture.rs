//! Moisture, ties and what is not known.

use super::examples::holes;
use super::wishes::in_the_dark;
use super::{Slab, key, keys};
use slableaf::judge::checks::{Finding, FindingPlace, Severity};
use slableaf::judge::recommend::{Compared, Concern, Headline, MoistureRank, OfferState, RuleStep};
use slableaf::model::job::Wish;
use slableaf::site::standing::{Settles, Standing};

/// On a 0.1 g scale 2.95 and 3 lb cannot be told apart.
#[test]
fn a_floor_too_near_its_limit_waits_behind_one_that_is_clear_of_it() {
    let close = |offer: &[&str]| Slab::offering(offer, &["quick", "low-price"]).reading(2.95);
    close(&["fast-cure", "barrier"]).recommends("barrier").by(RuleStep::Moisture).see(|judged| {
        assert_eq!(judged.case.options[0].moisture.standing, Standing::Close);
        let compared = &judged.recommendation.steps[1].compared;
        let ranks = [MoistureRank::CloseSafe, MoistureRank::Clear].map(Compared::Moisture);
        assert_eq!(compared.iter().map(|one| one.value).collect::<Vec<_>>(), ranks);
        // It may still be bought.
        assert!(judged.recommendation.offers(&key("fast-cure")));
    });
    // Where none is clear, none is set aside, and page one says how near it is.
    close(&["fast-cure", "clear-epoxy"]).recommends("fast-cure").headline(Headline::Near);
}

#[test]
fn a_floor_over_its_limit_is_not_offered_whatever_is_wished() {
    Slab::offering(&["fast-cure", "barrier"], &["quick", "low-price"])
        .reading(5.0)
        .recommends("barrier")
        .by(RuleStep::NotOffered)
        .headline(Headline::Recommend)
        .see(|judged| {
            assert_eq!(judged.recommendation.offered(), keys(&["barrier"]));
            assert_eq!(judged.recommendation.steps.len(), 1);
        });
}

#[test]
fn a_slab_too_wet_for_every_floor_has_no_recommendation() {
    Slab::offering(&["fast-cure", "barrier"], &[]).reading(24.0).see(|judged| {
        assert_eq!(judged.recommendation.floor, None);
        assert_eq!(judged.recommendation.headline, Headline::NotYet);
        assert!(judged.recommendation.priced().is_empty());
        let [step] = &judged.recommendation.steps[..] else { panic!("one step") };
        assert_eq!(step.rule, RuleStep::NotOffered);
        assert!(step.left.is_empty());
    });
}

/// A stop about the slab itself holds for every floor.
#[test]
fn a_stop_about_the_whole_job_leaves_nothing() {
    Slab::offering(&["fast-cure", "barrier"], &[])
        .job("tile-glue = \"none\"", "tile-glue = \"dark\"")
        .see(|judged| {
            assert_eq!(judged.recommendation.floor, None);
        });
}

/// Either can be right: on the same dry slab the wish decides, not the name on the pail.
#[test]
fn both_chemistries_win_where_their_figures_do() {
    for (wish, floor) in
        [("quick", "fast-cure"), ("low-price", "fast-cure"), ("moisture-room", "barrier")]
    {
        for offer in [["fast-cure", "barrier"], ["barrier", "fast-cure"]] {
            Slab::offering(&offer, &[wish]).recommends(floor);
        }
    }
}

/// The rule reads figures, not names: a fast-cure primer with a barrier's limit is as good as one.
#[test]
fn the_rule_knows_no_chemistry() {
    Slab::offering(&["barrier", "fast-cure"], &["moisture-room", "quick"])
        .primer("\"3 lb", "\"20 lb")
        .reading(8.0)
        .recommends("fast-cure");
}

#[test]
fn a_concern_of_the_slab_goes_before_a_lower_price() {
    // The kit is far cheaper, but amber; the barrier floor is not.
    Slab::offering(&["water-kit", "barrier"], &[])
        .recommends("barrier")
        .by(RuleStep::Concern { concern: Concern::Ambering });
    // Without daylight: warm tires.
    in_the_dark(&["water-kit", "barrier"], &[])
        .recommends("barrier")
        .by(RuleStep::Concern { concern: Concern::HotTires });
}

#[test]
fn the_lower_price_goes_before_the_order_of_the_offer() {
    for offer in [["barrier", "fast-cure"], ["fast-cure", "barrier"]] {
        Slab::offering(&offer, &[]).recommends("fast-cure").by(RuleStep::LowestPrice);
    }
}

#[test]
fn of_floors_alike_in_everything_the_first_named_wins() {
    for first in ["one", "two"] {
        let other = if first == "one" { "two" } else { "one" };
        Slab::offering(&[first, other], &["quick", "low-price"])
            .twin("fast-cure", "one")
            .twin("fast-cure", "two")
            .recommends(first)
            .by(RuleStep::OrderOfOffer);
    }
}

#[test]
fn the_order_of_the_offer_changes_nothing_else() {
    let all = ["barrier", "fast-cure", "clear-epoxy", "water-kit"];
    for wishes in
        [&[][..], &["quick"], &["lasting"], &["low-price"], &["no-yellowing"], &["moisture-room"]]
    {
        for pounds in [1.0, 2.95, 5.0] {
            let winner = |offer: &[&str]| {
                Slab::offering(offer, wishes)
                    .reading(pounds)
                    .see(|judged| judged.recommendation.floor.clone())
            };
            let expected = winner(&all);
            for turn in 1..4 {
                let mut turned = all;
                turned.rotate_left(turn);
                assert_eq!(winner(&turned), expected, "{wishes:?} at {pounds} lb");
                turned.reverse();
                assert_eq!(winner(&turned), expected, "{wishes:?} at {pounds} lb");
            }
        }
    }
}

/// The shop's own business is no reason for or against a floor.
#[test]
fn findings_for_the_shop_alone_do_not_count() {
    // Work that starts before the right to cancel is over.
    let slab = Slab::offering(&["fast-cure", "barrier"], &[])
        .job("start = 2026-06-15", "start = 2026-06-04");
    let shop_cautions = slab.see(|judged| {
        let own = |f: &&Finding| f.check.place == FindingPlace::Shop;
        judged.findings.iter().filter(own).filter(|f| f.severity == Severity::Caution).count()
    });
    assert!(shop_cautions > 0);
    slab.recommends("fast-cure");
}

const ALL: [&str; 4] = ["fast-cure", "barrier", "clear-epoxy", "water-kit"];

#[test]
fn without_a_moisture_test_every_floor_waits_alike() {
    Slab::offering(&ALL, &["quick", "low-price"]).untested().headline(Headline::TestFirst).see(
        |judged| {
            let found = &judged.recommendation;
            assert!(found.offered().is_empty());
            assert_eq!(found.priced(), keys(&ALL));
            for name in ALL {
                assert_eq!(found.state(&key(name)), OfferState::Waits(Settles::Test), "{name}");
                let about = |f: &&Finding| {
                    f.check.name == "moisture-unknown" && f.option == Some(key(name))
                };
                let finding = judged.findings.iter().find(about);
                assert_eq!(finding.map(|f| f.severity), Some(Severity::Wait), "{name}");
            }
            // A sheet is known beneath, so that no floor is safer than another: the wish decides.
            assert!(found.puts_first(&key("fast-cure")) && !found.recommends(&key("fast-cure")));
        },
    );
}

/// Over the ground with nothing known beneath the barrier comes first, and it waits like the others.
#[test]
fn without_a_moisture_test_and_a_known_sheet_the_barrier_comes_first_and_waits() {
    Slab::offering(&ALL, &["quick", "low-price"])
        .job("vapor-retarder = \"yes\"", "vapor-retarder = \"unknown\"")
        .untested()
        .recommends("barrier")
        .by(RuleStep::Moisture)
        .headline(Headline::TestFirst)
        .see(|judged| assert!(judged.recommendation.offered().is_empty()));
}

#[test]
fn without_a_moisture_test_and_a_barrier_nothing_is_offered() {
    Slab::offering(&["fast-cure", "clear-epoxy"], &[])
        .untested()
        .headline(Headline::TestFirst)
        .see(|judged| assert!(judged.recommendation.offered().is_empty()));
}

/// A test whose method has no limit on the data sheet says nothing about that floor.
#[test]
fn a_floor_without_a_limit_for_the_test_waits_behind_one_that_is_clear() {
    let slab = |offer: &[&str]| {
        Slab::offering(offer, &["quick"]).primer("mver-limit = \"3 lb/1000ft2/24h\"\n", "")
    };
    slab(&["fast-cure", "barrier"]).recommends("barrier").see(|judged| {
        assert_eq!(judged.case.options[0].moisture.standing, Standing::NotJudged);
        let state = judged.recommendation.state(&key("fast-cure"));
        assert_eq!(state, OfferState::Waits(Settles::Maker));
    });
    slab(&["fast-cure"]).headline(Headline::AskFirst);
}

/// Room is counted by the method that was used: probes at 65 % leave 10 points of 75 %, which is some
/// room, and 34 of 99 % or 35 of 100 %, which is much.
#[test]
fn room_over_probes_decides_as_room_over_dishes_does() {
    let room = RuleStep::Wish { wish: Wish::MoistureRoom };
    for (limit, floor, step) in
        [("75 %", "barrier", room), ("100 %", "fast-cure", RuleStep::LowestPrice)]
    {
        let slab = Slab::offering(&["fast-cure", "barrier"], &["moisture-room"])
            .untested()
            .job("[air]", &format!("{}[air]", holes(65)))
            .primer("75 %", limit);
        slab.recommends(floor).by(step);
    }
}
