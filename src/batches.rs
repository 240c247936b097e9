//! Batches: how much of a coat may be mixed at a time, so that it is on the floor before it gels.
//!
//! A mixed pail holds its heat and gels sooner than a film; the data sheet's pot life is for the
//! pail. It starts when the parts meet, so stirring counts. The crew rolls at the pace of its
//! rates. A batch is as large as fits into the part of the pot life that the book allows and into
//! the largest pail; all batches of a coat are alike. Common practice, no published source.

use crate::book::{Mixing, Resin};
use crate::quantity::*;

/// The batches of one coat.
#[derive(Debug, Clone, PartialEq)]
pub struct Batches {
    pub count: u32,
    /// One batch, mixed.
    pub volume: Volume,
    /// Its parts, resin first.
    pub parts: Vec<Volume>,
    /// What one batch covers, of floor and upright faces.
    pub area: Area,
    pub pot_life: Hours,
    /// From the moment the parts meet until the batch is out of the pail.
    pub placed_in: Hours,
    /// From the start of one batch to the start of the next.
    pub every: Hours,
    pub verdict: Verdict,
}

/// How a batch stands against its pot life.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    Calm,
    /// It gels soon after the pail is empty.
    Tight,
    /// It gels in the pail, however small the batch.
    Gels,
}

/// One coat as it is laid.
#[derive(Debug, Clone, Copy)]
pub struct Laying<'a> {
    pub resin: &'a Resin,
    /// All that is mixed, loss included.
    pub volume: Volume,
    /// All that is covered.
    pub area: Area,
    /// The crew's time for rolling all of it.
    pub rolling: Hours,
    /// The crew's time for the whole task, with the flake that is thrown meanwhile.
    pub task: Hours,
    pub pot_life: Hours,
    /// The smallest kit that is bought, for parts that are mixed whole.
    pub kit: Option<Volume>,
}

/// Divides a coat into batches.
pub fn batches(laying: Laying<'_>, mixing: &Mixing) -> Batches {
    let Laying { volume, pot_life, .. } = laying;
    // What the crew rolls out in the time that is left after stirring.
    let rolled_in = |time: Hours| {
        let left = (time - mixing.time).max(Hours::ZERO);
        if laying.rolling > Hours::ZERO { volume * (left / laying.rolling) } else { volume }
    };
    let calm = rolled_in(pot_life * mixing.part_of_pot_life.as_of_one());
    let most = rolled_in(pot_life);
    let whole_kit = laying.kit.filter(|_| laying.resin.whole_kits);
    let smallest = whole_kit.unwrap_or(mixing.smallest).min(volume);
    let verdict = match () {
        () if smallest <= calm => Verdict::Calm,
        () if smallest <= most => Verdict::Tight,
        () => Verdict::Gels,
    };
    let largest = if verdict == Verdict::Calm { calm.min(mixing.largest) } else { smallest };
    let count = match whole_kit {
        Some(kit) => whole_up(volume / kit),
        None => whole_up(volume / largest.max(smallest)),
    }
    .max(1);
    // Alike, but none below what can be measured well: then the last is what is left.
    let one = whole_kit.unwrap_or((volume * (1.0 / f64::from(count))).max(smallest));
    let share = one / volume;
    Batches {
        count,
        volume: one,
        parts: laying.resin.mix.split(one),
        area: laying.area * share.min(1.0),
        pot_life,
        placed_in: mixing.time + laying.rolling * share,
        every: laying.task * share,
        verdict,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::{Coverage, MixRatio};
    use crate::schedule::testing::resin;

    const MIXING: Mixing = Mixing {
        time: Hours::minutes(3.0),
        largest: Volume::gallons(3.0),
        smallest: Volume::gallons(0.5),
        part_of_pot_life: Share::percent(75.0),
    };

    /// 4 gallons over 480 ft2, rolled in 48 minutes: 12 minutes a gallon.
    fn four_gallons(pot_life_minutes: f64, change: impl FnOnce(&mut Resin)) -> Batches {
        let mut resin = resin(2.0);
        resin.mix = MixRatio { parts: vec![2.0, 1.0] };
        resin.coverage = Coverage::Spread(Spread::square_feet_per_gallon(120.0));
        change(&mut resin);
        let laying = Laying {
            resin: &resin,
            volume: Volume::gallons(4.0),
            area: Area::square_feet(480.0),
            rolling: Hours::minutes(48.0),
            task: Hours::minutes(72.0),
            pot_life: Hours::minutes(pot_life_minutes),
            kit: Some(Volume::gallons(2.0)),
        };
        batches(laying, &MIXING)
    }

    fn near(a: f64, b: f64) {
        assert!((a - b).abs() < 1e-9, "{a} is not {b}");
    }

    /// By hand: of 20 minutes 75 % are 15; less 3 for stirring 12, in which 1 gallon is rolled.
    #[test]
    fn a_batch_is_what_the_crew_rolls_in_its_part_of_the_pot_life() {
        let b = four_gallons(20.0, |_| {});
        assert_eq!((b.count, b.verdict), (4, Verdict::Calm));
        near(b.volume.as_gallons(), 1.0);
        near(b.parts[0].as_gallons(), 2.0 / 3.0);
        near(b.parts[1].as_gallons(), 1.0 / 3.0);
        near(b.area.as_square_feet(), 120.0);
        near(b.placed_in.as_minutes(), 15.0);
        near(b.every.as_minutes(), 18.0);
    }

    /// Half a gallon takes 3 + 6 minutes: calm to a pot life of 12 minutes, tight to 9.
    #[test]
    fn the_smallest_batch_tells_calm_from_tight_and_tight_from_gelling() {
        assert_eq!(four_gallons(12.01, |_| {}).verdict, Verdict::Calm);
        assert_eq!(four_gallons(11.99, |_| {}).verdict, Verdict::Tight);
        assert_eq!(four_gallons(9.01, |_| {}).verdict, Verdict::Tight);
        assert_eq!(four_gallons(8.99, |_| {}).verdict, Verdict::Gels);
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
        assert_eq!((whole(40.0).count, whole(40.0).verdict), (2, Verdict::Calm));
        near(whole(40.0).placed_in.as_minutes(), 27.0);
        assert_eq!(whole(30.0).verdict, Verdict::Tight);
        assert_eq!(whole(26.0).verdict, Verdict::Gels);
    }
}
