//! Batches: how much of a coat may be mixed at a time, so that it is on the floor before it gels,
//! and how long mixing and laying take together.
//!
//! A mixed pail holds its heat and gels sooner than a film; the data sheet's pot life is for the
//! pail. It starts when the parts meet, so stirring counts. A batch is as large as fits into the
//! part of the pot life that the book allows and into the largest pail; all batches of a coat are
//! alike.
//!
//! Mixing is somebody's time. Each batch keeps one person for the book's mixing time `m`:
//!
//! - A crew of `n` persons, two or more, mixes ahead: one of them stirs the next batch while the
//!   others lay the one before, and it is ready when that one is down. A batch of `w` person-hours
//!   then follows the one before by `(w + m) / n`, or by `m` where stirring takes longer than the
//!   others need. Nobody lays anything while the first batch is stirred, and everybody lays the last.
//!   Of the `p` person-hours that rolling one batch takes, the stirring of the next costs a pair of
//!   hands for `m`: it is out of the pail `m + (p + m) / n` after its parts met, or `m + p / (n - 1)`
//!   where that is sooner than a second stirring.
//! - One person alone stirs, then lays, in turn: a batch every `m + w`. So does a larger crew where
//!   even the smallest batch would be late with a pair of hands away, and a single batch is laid by
//!   all: `m + p / n`. Such a crew mixes the smallest batches, though all hands might manage larger
//!   ones: less time for a batch never makes it larger.
//!
//! A paid hour of mixing is one person's: a coat costs its hours at the book's rates and `m` for each
//! batch. The number of batches follows from pot life, pace and crew alone, never from the day's
//! hours, so that nothing goes round in a circle. Common practice, no published source.

use schemars::JsonSchema;
use serde::Serialize;

use crate::base::names::choices;
use crate::base::quantity::*;
use crate::model::book::{Mixing, Resin};

/// The batches of one coat.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Batches {
    /// Their number.
    pub count: u32,
    /// One batch, mixed, liters.
    #[serde(rename = "batch_litres")]
    pub volume: Volume,
    /// Its parts, resin first, liters.
    #[serde(rename = "parts_litres")]
    pub parts: Vec<Volume>,
    /// Area that one batch covers, of floor and upright faces, square meters.
    #[serde(rename = "area_m2")]
    pub area: Area,
    /// Until a mixed pail gels, hours.
    #[serde(rename = "pot_life_hours")]
    pub pot_life: Hours,
    /// From the moment the parts meet until the batch is out of the pail, hours.
    #[serde(rename = "placed_in_hours")]
    pub placed_in: Hours,
    /// From the start of one batch to the start of the next, hours.
    #[serde(rename = "every_hours")]
    pub every: Hours,
    /// One person's time at the pail, all batches.
    #[serde(skip)]
    pub mixing: Hours,
    /// From the first parts that meet until all of the coat is down, flake included.
    #[serde(skip)]
    pub takes: Hours,
    /// The next batch is mixed while the one before is laid.
    #[serde(skip)]
    pub ahead: bool,
    /// Relation of a batch to its pot life.
    pub verdict: BatchVerdict,
}

choices! {
    /// Relation of a batch to its pot life.
    BatchVerdict {
        /// It is out of the pail in good time.
        Calm = "calm",
        /// It gels soon after the pail is empty.
        Tight = "tight",
        /// It gels in the pail, however small the batch.
        Gels = "gels",
    }
}

/// One coat as it is laid.
#[derive(Debug, Clone, Copy)]
pub struct Laying<'a> {
    pub resin: &'a Resin,
    /// All that is mixed, loss included.
    pub volume: Volume,
    /// All that is covered.
    pub area: Area,
    /// One person's time for rolling all of it, or pouring or troweling, as it is laid.
    pub rolling: Hours,
    /// One person's time for the flake and grit that are thrown into it.
    pub throwing: Hours,
    pub persons: u32,
    pub pot_life: Hours,
    /// The smallest kit that is bought, for parts that are mixed whole.
    pub kit: Option<Volume>,
}

impl Batches {
    /// From the first of the coat that is on the floor until all of it is: without the stirring of the
    /// first batch, while nothing gives off vapor there.
    pub fn spread_in(&self) -> Hours {
        self.takes - self.mixing * (1.0 / f64::from(self.count.max(1)))
    }
}

impl Laying<'_> {
    fn crew(&self) -> f64 {
        f64::from(self.persons.max(1))
    }

    /// The crew's time for rolling out a batch of some person-hours.
    fn out_of_pail(&self, rolling: Hours, mixing: Hours, ahead: bool) -> Hours {
        let crew = self.crew();
        match ahead {
            true if rolling > mixing * (crew - 1.0) => (rolling + mixing) * (1.0 / crew),
            true => rolling * (1.0 / (crew - 1.0)),
            false => rolling * (1.0 / crew),
        }
    }

    /// The volume that is out of the pail within a time from when the parts meet.
    fn rolled_in(&self, time: Hours, mixing: Hours, ahead: bool) -> Volume {
        let (left, crew) = ((time - mixing).max(Hours::ZERO), self.crew());
        let hours = match ahead {
            true if left > mixing => left * crew - mixing,
            true => left * (crew - 1.0),
            false => left * crew,
        };
        if self.rolling > Hours::ZERO { self.volume * (hours / self.rolling) } else { self.volume }
    }
}

/// Divides a coat into batches.
pub fn batches(laying: Laying<'_>, mixing: &Mixing) -> Batches {
    let Laying { volume, pot_life, .. } = laying;
    let (time, crew) = (mixing.time, laying.crew());
    let calm_time = pot_life * mixing.part_of_pot_life.as_of_one();
    let whole_kit = laying.kit.filter(|_| laying.resin.whole_kits);
    let smallest = whole_kit.unwrap_or(mixing.smallest).min(volume);
    let calm = laying.rolled_in(calm_time, time, false);
    let verdict = match () {
        () if smallest <= calm => BatchVerdict::Calm,
        () if smallest <= laying.rolled_in(pot_life, time, false) => BatchVerdict::Tight,
        () => BatchVerdict::Gels,
    };
    let calm_ahead =
        if crew > 1.0 { laying.rolled_in(calm_time, time, true) } else { Volume::ZERO };
    let may_be_ahead = smallest <= calm_ahead;
    let largest = match (verdict, may_be_ahead) {
        (BatchVerdict::Calm, true) => calm_ahead.min(mixing.largest),
        (BatchVerdict::Calm, false) if crew <= 1.0 => calm.min(mixing.largest),
        _ => smallest,
    };
    let count = match whole_kit {
        Some(kit) => whole_up(volume / kit),
        // All of it at once, with every hand.
        None if volume <= calm.min(mixing.largest) => 1,
        None => whole_up(volume / largest.max(smallest)),
    }
    .max(1);
    let ahead = may_be_ahead && count > 1;
    // Alike, but none below what can be measured well: then the last is what is left.
    let one = whole_kit.unwrap_or((volume * (1.0 / f64::from(count))).max(smallest));
    let share = (one / volume).min(1.0);
    let work = laying.rolling + laying.throwing;
    let before_last = f64::from(count - 1);
    let one_turn = if ahead {
        time.max((work * share + time) * (1.0 / crew))
    } else {
        time + work * (share / crew)
    };
    let takes = if ahead {
        let last = (1.0 - share * before_last).max(0.0);
        time + one_turn * before_last + work * (last / crew)
    } else {
        time * f64::from(count) + work * (1.0 / crew)
    };
    Batches {
        count,
        volume: one,
        parts: laying.resin.mix.split(one),
        area: laying.area * share,
        pot_life,
        placed_in: time + laying.out_of_pail(laying.rolling * share, time, ahead),
        every: one_turn,
        mixing: time * f64::from(count),
        takes,
        ahead,
        verdict,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::book::{Coverage, MixRatio};
    use crate::price::schedule::testing::resin;

    const MIXING: Mixing = Mixing {
        time: Hours::minutes(3.0),
        largest: Volume::gallons(3.0),
        smallest: Volume::gallons(0.5),
        part_of_pot_life: Share::percent(75.0),
    };

    /// Two persons who lay 4 gallons, of which each rolls 5 in an hour, within a pot life in minutes.
    fn two_persons(resin: &Resin, pot_life: f64) -> Laying<'_> {
        Laying {
            resin,
            volume: Volume::gallons(4.0),
            area: Area::square_feet(480.0),
            rolling: Hours::minutes(48.0),
            throwing: Hours::ZERO,
            persons: 2,
            pot_life: Hours::minutes(pot_life),
            kit: None,
        }
    }

    /// 4 gallons, of which two persons roll 5 in an hour each ([`four_gallons`]). Within 75 % of 36 min, 27 min, less 3
    /// for stirring they roll all 4: one batch, out of the pail 27 min after its parts met. To stir a second one
    /// meanwhile would take 3 min of rolling away.
    #[test]
    fn what_two_can_roll_at_once_is_one_batch() {
        let largest = Mixing { largest: Volume::gallons(5.0), ..MIXING };
        let resin = resin(2.0);
        let laying = two_persons(&resin, 36.001);
        let all = batches(laying, &largest);
        assert_eq!((all.count, all.ahead), (1, false));
        assert!((all.placed_in.as_minutes() - 27.0).abs() < 1e-6, "{all:?}");
        // A little less time, and it takes two.
        let short = Laying { pot_life: Hours::minutes(35.9), ..laying };
        assert_eq!(batches(short, &largest).count, 2);
    }

    /// 4 gallons over 480 ft2: of one person 48 minutes of rolling, 12 a gallon, and 24 of throwing.
    fn four_gallons(pot_life_minutes: f64, change: impl FnOnce(&mut Resin)) -> Batches {
        with_crew(1, pot_life_minutes, change)
    }

    fn with_crew(persons: u32, pot_life_minutes: f64, change: impl FnOnce(&mut Resin)) -> Batches {
        let mut resin = resin(2.0);
        resin.mix = MixRatio { parts: vec![2.0, 1.0] };
        resin.coverage = Coverage::Spread(Spread::square_feet_per_gallon(120.0));
        change(&mut resin);
        let laying = Laying {
            resin: &resin,
            volume: Volume::gallons(4.0),
            area: Area::square_feet(480.0),
            rolling: Hours::minutes(48.0),
            throwing: Hours::minutes(24.0),
            persons,
            pot_life: Hours::minutes(pot_life_minutes),
            kit: Some(Volume::gallons(2.0)),
        };
        batches(laying, &MIXING)
    }

    fn near(a: f64, b: f64) {
        assert!((a - b).abs() < 1e-9, "{a} is not {b}");
    }

    /// By hand: of 20 minutes 75 % are 15; less 3 for stirring 12, in which 1 gallon is rolled. Four
    /// times 3 minutes of stirring, and 72 of laying.
    #[test]
    fn a_batch_is_what_one_person_alone_rolls_in_its_part_of_the_pot_life() {
        let b = four_gallons(20.0, |_| {});
        assert_eq!((b.count, b.verdict, b.ahead), (4, BatchVerdict::Calm, false));
        near(b.volume.as_gallons(), 1.0);
        near(b.parts[0].as_gallons(), 2.0 / 3.0);
        near(b.parts[1].as_gallons(), 1.0 / 3.0);
        near(b.area.as_square_feet(), 120.0);
        near(b.placed_in.as_minutes(), 15.0);
        near(b.every.as_minutes(), 3.0 + 18.0);
        near(b.takes.as_minutes(), 4.0 * 3.0 + 72.0);
        near(b.mixing.as_minutes(), 12.0);
    }

    /// By hand, two persons: 12 minutes are left, in which two roll for 24 minutes, less 3 in which
    /// one of them stirs the next batch: 21 of 48, 1.75 gallons, so three batches of 4/3. Each is 16
    /// minutes of rolling and 8 of throwing. It is out of the pail after 3 + (16 + 3) / 2 = 12.5, and
    /// followed after (24 + 3) / 2 = 13.5. In all 3 + 13.5 + 13.5 + 24 / 2 = 42.
    #[test]
    fn of_two_persons_one_stirs_ahead() {
        let b = with_crew(2, 20.0, |_| {});
        assert_eq!((b.count, b.verdict, b.ahead), (3, BatchVerdict::Calm, true));
        near(b.volume.as_gallons(), 4.0 / 3.0);
        near(b.placed_in.as_minutes(), 12.5);
        near(b.every.as_minutes(), 13.5);
        near(b.takes.as_minutes(), 42.0);
        near(b.mixing.as_minutes(), 9.0);
        // No minute of anybody is spent twice: two persons for 42 minutes, one of whom waits for 3.
        near(2.0 * b.takes.as_minutes(), 72.0 + 9.0 + 3.0);
    }

    /// By hand, five persons, 10 minutes: 7.5 less 3 are 4.5, five times that less 3 is 19.5 of 48, so
    /// three batches of 16 + 8 minutes. Four persons roll one out in 4 minutes, more than a stirring,
    /// so (16 + 3) / 5 = 3.8; the next starts after (24 + 3) / 5 = 5.4. With ten persons nine roll 16
    /// minutes in 1.78, sooner than anyone stirs a batch: one starts every 3 minutes.
    #[test]
    fn a_large_crew_waits_for_the_one_who_stirs() {
        let five = with_crew(5, 10.0, |_| {});
        assert_eq!((five.count, five.ahead), (3, true));
        near(five.placed_in.as_minutes(), 6.8);
        near(five.every.as_minutes(), 5.4);
        near(five.takes.as_minutes(), 3.0 + 5.4 * 2.0 + 24.0 / 5.0);
        let ten = with_crew(10, 5.0, |_| {});
        // 3.75 less 3 are 0.75 minutes for nine: 6.75 of 48, so eight batches of 6 + 3 minutes.
        assert_eq!((ten.count, ten.ahead), (8, true));
        near(ten.placed_in.as_minutes(), 3.0 + 6.0 / 9.0);
        near(ten.every.as_minutes(), 3.0);
        near(ten.takes.as_minutes(), 3.0 + 3.0 * 7.0 + 0.9);
    }

    /// Half a gallon is 6 minutes. With both rolling it is out after 3 + 3, with one of them stirring
    /// after 3 + (6 + 3) / 2 = 7.5. Three quarters of 9 minutes are 6.75: mixed in turn.
    #[test]
    fn a_crew_that_would_be_late_stirs_and_rolls_in_turn() {
        let b = with_crew(2, 9.0, |_| {});
        assert_eq!((b.count, b.verdict, b.ahead), (8, BatchVerdict::Calm, false));
        near(b.placed_in.as_minutes(), 6.0);
        near(b.every.as_minutes(), 3.0 + 9.0 / 2.0);
        near(b.takes.as_minutes(), 8.0 * 3.0 + 36.0);
    }

    #[test]
    fn all_of_it_at_once_is_rolled_by_all() {
        let b = with_crew(2, 600.0, |resin| resin.whole_kits = false);
        assert_eq!((b.count, b.ahead), (2, true));
        let small = Mixing { largest: Volume::gallons(5.0), ..MIXING };
        let resin = resin(2.0);
        let b = batches(two_persons(&resin, 60.0), &small);
        assert_eq!((b.count, b.ahead), (1, false));
        near(b.placed_in.as_minutes(), 27.0);
        near(b.takes.as_minutes(), 27.0);
        near(b.spread_in().as_minutes(), 24.0);
    }

    /// Half a gallon takes 3 + 6 minutes: calm to a pot life of 12 minutes, tight to 9.
    #[test]
    fn the_smallest_batch_tells_calm_from_tight_and_tight_from_gelling() {
        assert_eq!(four_gallons(12.01, |_| {}).verdict, BatchVerdict::Calm);
        assert_eq!(four_gallons(11.99, |_| {}).verdict, BatchVerdict::Tight);
        assert_eq!(four_gallons(9.01, |_| {}).verdict, BatchVerdict::Tight);
        assert_eq!(four_gallons(8.99, |_| {}).verdict, BatchVerdict::Gels);
        assert_eq!(four_gallons(9.5, |_| {}).count, 8);
    }

    #[test]
    fn a_pail_bounds_a_batch_that_would_have_time() {
        let b = four_gallons(600.0, |_| {});
        assert_eq!(b.count, 2);
        near(b.volume.as_gallons(), 2.0);
    }

    /// Two whole kits of 2 gallons: 3 + 24 minutes each.
    #[test]
    fn parts_that_are_measured_for_each_other_are_mixed_whole() {
        let whole = |minutes| four_gallons(minutes, |resin| resin.whole_kits = true);
        assert_eq!((whole(40.0).count, whole(40.0).verdict), (2, BatchVerdict::Calm));
        near(whole(40.0).placed_in.as_minutes(), 27.0);
        assert_eq!(whole(30.0).verdict, BatchVerdict::Tight);
        assert_eq!(whole(26.0).verdict, BatchVerdict::Gels);
    }
}
