//! Hot days.

use super::Day;
use crate::facts::near;
use slableaf::base::figure::Figure;
use slableaf::base::names::Key;
use slableaf::judge::checks::Severity;
use slableaf::price::batches::BatchVerdict;
use slableaf::price::cure::CureBasis;
use slableaf::price::schedule::PlanBasis;

/// The mixing of the primer on a slab: its pot life and where that comes from, the batches, whether
/// one of the crew stirs ahead, and the minutes until a batch is out of the pail.
struct Primer {
    pot_life: f64,
    basis: CureBasis,
    count: u32,
    ahead: bool,
    placed_in: f64,
    verdict: BatchVerdict,
}

#[track_caller]
fn primer(slab: f64, expected: Primer) {
    let day = Day::new().slab(slab);
    let batches = day.batches("fast-cure", "primer");
    near(batches.pot_life.as_minutes(), expected.pot_life, 0.0005);
    let laid = day.schedule("fast-cure").laid(&Key("primer".to_owned())).cloned();
    assert_eq!(laid.expect("a primer").cure.basis, expected.basis, "{slab} F");
    assert_eq!(
        (batches.count, batches.ahead, batches.verdict),
        (expected.count, expected.ahead, expected.verdict),
        "{slab} F"
    );
    near(batches.placed_in.as_minutes(), expected.placed_in, 0.001);
}

/// By the sheet to 77 F; beyond it the doubling rule, half the time for 10 C (18 F) more: rule of
/// thumb for epoxies and urethanes, repeated in secondary sources. How batches follow from a pot
/// life is common practice, no published source; computed by hand.
///
/// The primer is sold for 12 minutes at 77 F. One person rolls 480 ft2 at 300 ft2/h in 96 minutes,
/// 4.864 gal in all, so the smallest batch, 0.25 gal, in 96 x 0.25 / 4.864 = 4.934. Three quarters of
/// the pot life less 3 minutes of stirring are left for two persons, of whom one stirs the next batch
/// for 3 of those minutes.
#[test]
fn a_hotter_slab_asks_for_more_and_smaller_batches() {
    // 22 x 0.75 - 3 = 13.5 minutes; 2 x 13.5 - 3 = 24 of one person: 96 / 24 = 4. Out of the pail
    // after 3 + (24 + 3) / 2.
    primer(
        50.0,
        Primer {
            pot_life: 22.0,
            basis: CureBasis::Sheet,
            count: 4,
            ahead: true,
            placed_in: 16.5,
            verdict: BatchVerdict::Calm,
        },
    );
    // 12 x 0.75 - 3 = 6; 2 x 6 - 3 = 9: 96 / 9 = 10.7, so 11 batches of 96 / 11 = 8.727. Out after
    // 3 + (8.727 + 3) / 2.
    primer(
        77.0,
        Primer {
            pot_life: 12.0,
            basis: CureBasis::Sheet,
            count: 11,
            ahead: true,
            placed_in: 8.8636,
            verdict: BatchVerdict::Calm,
        },
    );
    // 12 / root 2 = 8.485; x 0.75 - 3 = 3.364; 2 x 3.364 - 3 = 3.728, less than the 4.934 of the
    // smallest batch. With both rolling it has 2 x 3.364 = 6.728 and is calm, out of the pail after
    // 3 + 4.934 / 2: stirred and rolled in turn, 4.864 / 0.25 = 19.5.
    primer(
        86.0,
        Primer {
            pot_life: 8.4853,
            basis: CureBasis::Rule,
            count: 20,
            ahead: false,
            placed_in: 5.4672,
            verdict: BatchVerdict::Calm,
        },
    );
    // 12 / 2 = 6; x 0.75 - 3 = 1.5; 2 x 1.5 = 3, less than 4.934. Of the whole pot life 2 x 3 = 6 are
    // left: the smallest batch is out half a minute before it gels.
    primer(
        95.0,
        Primer {
            pot_life: 6.0,
            basis: CureBasis::Rule,
            count: 20,
            ahead: false,
            placed_in: 5.4672,
            verdict: BatchVerdict::Tight,
        },
    );
}

#[test]
fn a_tight_batch_is_a_word_for_the_shop_and_no_stop() {
    let hot = Day::new().air(95.0, 30.0).slab(95.0);
    hot.says("batch-tight", "fast-cure", Severity::Caution);
    hot.silent("batch-gels", "fast-cure");
    assert!(hot.offered("fast-cure"));
    Day::new().slab(86.0).silent("batch-tight", "fast-cure");
}

/// One person rolls 0.25 gal in 96 x 0.25 / 4.864 = 4.93 minutes; with stirring 7.93, and the
/// primer gels after 6.
#[test]
fn a_coat_that_gels_in_the_pail_stops_the_floor() {
    let alone = Day::new().air(95.0, 30.0).slab(95.0).crew(1);
    let found = alone.says("batch-gels", "fast-cure", Severity::Stop);
    // Somebody holds to both figures: the one is rounded down, the other up.
    let Some(Figure::NoLonger(gels)) = found.limit else { panic!("{found:?}") };
    let placed = alone.batches("fast-cure", "primer").placed_in;
    near(gels.as_minutes(), 6.0, 1e-6);
    assert!(placed > gels, "out of the pail after {} minutes", placed.as_minutes());
    near(placed.as_minutes(), 7.934, 0.001);
    assert!(found.values.contains(&("placed_in", Figure::NoShorter(placed))), "{found:?}");
    assert!(!alone.offered("fast-cure"));
    // A cooler hour of the day is enough: at 77 F there are 12 minutes.
    assert!(Day::new().slab(77.0).crew(1).offered("fast-cure"));
}

#[test]
fn past_the_sheets_range_the_plan_says_that_it_is_for_a_cooler_slab() {
    let hot = Day::new().air(96.0, 30.0).slab(96.0);
    hot.says("slab-temperature", "fast-cure", Severity::Caution);
    assert_eq!(hot.schedule("fast-cure").basis, PlanBasis::Nearest);
    near(hot.batches("fast-cure", "primer").pot_life.as_minutes(), 6.0, 1e-6);
}
