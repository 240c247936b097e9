//! Cost of each floor over a number of years, in stories that may come true: the slab stays dry, it turns damp,
//! the topcoat is renewed. No story has a chance: which one comes is not known.
//!
//! A life-cycle cost after NIST Handbook 135 and ASTM E917, of the customer's own payments: the price today,
//! and what would be paid later, at the prices of today, brought to today. The price today counts in full; what is
//! laid later counts for its years up to the end of the count, so that a floor laid shortly before it does not
//! decide between two.
//!
//! Years of use are the range of each system. Floors differ in it for two reasons, the floor and the garage, so
//! two comparisons are made: each floor anywhere in its range, and all at the same point of their ranges.

use rust_decimal::Decimal;

use crate::base::money::Cents;
use crate::base::names::Key;
use crate::base::quantity::Thickness;
use crate::model::job::{Job, Shapes};
use crate::model::shop::YearsTerms;
use crate::price::case::{Case, FloorOption};
use crate::price::estimate::labor::Substrate;
use crate::price::estimate::{self, EstimateInput};
use crate::price::even_chance::{STEP, redo};
use crate::price::present_value::{Later, worth_today};

/// From and to, in years.
pub type YearRange = (u32, u32);

/// The costs of one floor, now and later.
#[derive(Debug, Clone, PartialEq)]
pub struct FloorYears {
    pub floor: Key,
    /// The price of the proposal.
    pub now: Cents,
    pub life: YearRange,
    /// The worn floor ground off and laid again.
    pub again: Cents,
    pub has_barrier: bool,
    /// `None` where its system names no years for it, or the book no rate of sanding.
    pub renewal: Option<Renewal>,
}

/// A new topcoat on a floor that is still sound.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Renewal {
    pub every: YearRange,
    pub price: Cents,
}

/// The barrier floor that is laid where a floor without one came loose.
#[derive(Debug, Clone, PartialEq)]
pub struct AfterDamp {
    pub floor: Key,
    /// The failed floor ground off and this one laid.
    pub redo: Cents,
    pub life: YearRange,
    /// This one laid again when it is worn.
    pub again: Cents,
}

/// Everything that a comparison over years is made from.
#[derive(Debug, Clone, PartialEq)]
pub struct Outlook {
    pub count: u32,
    pub rate: Decimal,
    pub floors: Vec<FloorYears>,
    /// `None` where no floor with a price has a barrier.
    pub after_damp: Option<AfterDamp>,
}

/// A course of events over the years.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Story {
    /// Each floor is laid again when it is worn out.
    Dry,
    /// The slab turns damp in this year: a floor without a barrier comes loose.
    Damp(u32),
    /// The topcoat is renewed before wear reaches the coat below.
    Renewed,
}

/// A point in the ranges of years: from 0, the shortest, to [`POINTS`], the longest.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Point(u32);

const POINTS: u32 = 20;
const MIDDLE: Point = Point(POINTS / 2);

impl Point {
    fn all() -> impl Iterator<Item = Self> {
        (0..=POINTS).map(Self)
    }

    /// The years at this point of a range, to the nearest whole one.
    fn of(self, (from, to): YearRange) -> u32 {
        let along = f64::from(to.saturating_sub(from)) * f64::from(self.0) / f64::from(POINTS);
        from.saturating_add(along.round() as u32).max(1)
    }
}

/// The least and the most that something comes to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CostRange {
    pub least: Cents,
    pub most: Cents,
}

/// The floor that costs the least, and how surely.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Cheapest {
    /// This one, anywhere in the ranges of all; by how much less than the next.
    Surely(Key, CostRange),
    /// This one, if all last to the middle of their ranges.
    InTheMiddle {
        floor: Key,
        /// By how much less than the next.
        by: Cents,
        /// The same as all wear sooner or later alike; below zero where it costs more than another.
        alike: CostRange,
    },
    /// The two cheapest cost the same in the middle of their ranges.
    Even,
}

impl Cheapest {
    /// The floor; `None` where two cost the same.
    pub fn floor(&self) -> Option<&Key> {
        match self {
            Self::Surely(floor, _) | Self::InTheMiddle { floor, .. } => Some(floor),
            Self::Even => None,
        }
    }
}

/// Years one after the other with the same answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stretch {
    pub from: u32,
    pub to: u32,
    pub floor: Option<Key>,
}

impl Outlook {
    /// The outlook of the floors that carry a price.
    pub fn of(case: &Case<'_>, priced: &[&FloorOption<'_>], terms: &YearsTerms) -> Self {
        let floors: Vec<FloorYears> =
            priced.iter().map(|option| floor_years(case, option)).collect();
        let with_barrier = priced.iter().filter(|option| option.floor.has_barrier());
        let after_damp =
            with_barrier.min_by_key(|option| option.quote.total).map(|option| AfterDamp {
                floor: option.key().clone(),
                redo: redo(case, option).total(),
                life: option.floor.system.life_years,
                again: again(case, option),
            });
        let count = case.job.house.stay_years.unwrap_or(terms.count);
        Self { count, rate: terms.rate, floors, after_damp }
    }

    /// The same, counted over fewer or more years.
    pub fn over(&self, count: u32) -> Self {
        Self { count, ..self.clone() }
    }

    /// The least and the most that a floor costs in a story, as it lasts its longest or its shortest.
    pub fn cost(&self, floor: &FloorYears, story: Story) -> CostRange {
        let costs: Vec<Cents> = Point::all().map(|at| self.cost_at(floor, story, at)).collect();
        let or_now = |cost: Option<&Cents>| cost.copied().unwrap_or(floor.now);
        CostRange { least: or_now(costs.iter().min()), most: or_now(costs.iter().max()) }
    }

    fn cost_at(&self, floor: &FloorYears, story: Story, at: Point) -> Cents {
        let later = self.payments(floor, story, at);
        floor.now.plus(worth_today(&later, self.rate)).to_multiple_of(STEP)
    }

    /// Returns the payments for a floor after today, in a story, less its value when the count ends.
    fn payments(&self, floor: &FloorYears, story: Story, at: Point) -> Vec<Later> {
        let (life, end) = (at.of(floor.life), self.count);
        let works = match (story, floor.renewal, &self.after_damp) {
            (Story::Renewed, Some(renewal), _) => {
                every(0, at.of(renewal.every), end, renewal.price)
            }
            (Story::Damp(year), _, Some(after)) if !floor.has_barrier && year <= end => {
                let then = at.of(after.life);
                let redone = Work { year, amount: after.redo, lasts: then };
                // What was laid before it is lost.
                let mut works = every(0, life, year, floor.again);
                works.push(redone);
                works.extend(every(year, then, end, after.again));
                works
            }
            _ => every(0, life, end, floor.again),
        };
        let left = works.last().map(|work| work.left_at(end));
        works
            .iter()
            .map(|work| Later { year: work.year, amount: work.amount })
            .chain(left)
            .collect()
    }

    /// Returns the floor that costs the least in a story; `None` where there are not two to compare.
    pub fn cheapest(&self, story: Story) -> Option<Cheapest> {
        if self.floors.len() < 2 {
            return None;
        }
        let ranges: Vec<(&Key, CostRange)> =
            self.floors.iter().map(|floor| (&floor.floor, self.cost(floor, story))).collect();
        for (floor, own) in &ranges {
            let others = || ranges.iter().filter(|(other, _)| other != floor).map(|(_, cost)| cost);
            let least = others().map(|cost| cost.least).min()?;
            if own.most < least {
                let most = others().map(|cost| cost.most).min()?;
                let by = CostRange { least: least.minus(own.most), most: most.minus(own.least) };
                return Some(Cheapest::Surely((*floor).clone(), by));
            }
        }
        for floor in &self.floors {
            let by = self.ahead(floor, story, MIDDLE)?;
            if by > Cents::ZERO {
                let ahead = || Point::all().filter_map(|at| self.ahead(floor, story, at));
                let alike = CostRange { least: ahead().min()?, most: ahead().max()? };
                return Some(Cheapest::InTheMiddle { floor: floor.floor.clone(), by, alike });
            }
        }
        Some(Cheapest::Even)
    }

    /// By how much a floor costs less than the cheapest of the others, all at the same point of their ranges;
    /// below zero where it costs more.
    fn ahead(&self, floor: &FloorYears, story: Story, at: Point) -> Option<Cents> {
        let others = self.floors.iter().filter(|other| other.floor != floor.floor);
        let next = others.map(|other| self.cost_at(other, story, at)).min()?;
        Some(next.minus(self.cost_at(floor, story, at)))
    }

    /// The cheapest floor by the number of years that are counted.
    pub fn by_years_counted(&self, story: Story) -> Vec<Stretch> {
        self.stretches(|count| self.over(count).cheapest(story))
    }

    /// The cheapest floor by the year in which the slab turns damp.
    pub fn by_damp_year(&self) -> Vec<Stretch> {
        self.stretches(|year| self.cheapest(Story::Damp(year)))
    }

    fn stretches(&self, cheapest: impl Fn(u32) -> Option<Cheapest>) -> Vec<Stretch> {
        let mut all: Vec<Stretch> = vec![];
        for year in 1..=self.count {
            let floor = cheapest(year).and_then(|found| found.floor().cloned());
            match all.last_mut().filter(|last| last.floor == floor) {
                Some(last) => last.to = year,
                None => all.push(Stretch { from: year, to: year, floor }),
            }
        }
        all
    }
}

/// A floor or a topcoat that is laid in a later year.
#[derive(Debug, Clone, Copy)]
struct Work {
    year: u32,
    amount: Cents,
    lasts: u32,
}

impl Work {
    /// Its unused part at the end of the count, in proportion to its years, as a payment back: the residual
    /// value of NIST Handbook 135.
    fn left_at(&self, end: u32) -> Later {
        let unused = self.year.saturating_add(self.lasts).saturating_sub(end);
        let part = Decimal::from(unused) / Decimal::from(self.lasts.max(1));
        Later { year: end, amount: Cents::ZERO.minus(self.amount.times(part)) }
    }
}

/// The same work again and again, from one year to before another.
fn every(from: u32, years: u32, end: u32, amount: Cents) -> Vec<Work> {
    let nth = |nth: u32| from.saturating_add(nth.saturating_mul(years));
    let before_end = (1..).map(nth).take_while(|year| *year < end);
    before_end.map(|year| Work { year, amount, lasts: years }).collect()
}

fn floor_years(case: &Case<'_>, option: &FloorOption<'_>) -> FloorYears {
    FloorYears {
        floor: option.key().clone(),
        now: option.quote.total,
        life: option.floor.system.life_years,
        again: again(case, option),
        has_barrier: option.floor.has_barrier(),
        renewal: renewal(case, option),
    }
}

/// The price of a floor over itself, worn: ground off as an old coating is, with the repairs of this slab.
fn again(case: &Case<'_>, option: &FloorOption<'_>) -> Cents {
    let job = case.job.floor_alone();
    let on = EstimateInput::new(&job, &case.site, case.book, &case.shop.calendar);
    let whole = estimate::estimate_over(&option.floor, on, Substrate::OldCoating);
    whole.total().to_multiple_of(STEP)
}

/// The price of a new topcoat: the floor sanded at the book's rate, its last coat rolled, by the same estimate.
fn renewal(case: &Case<'_>, option: &FloorOption<'_>) -> Option<Renewal> {
    let (every, _) = option.floor.system.renew_years.zip(case.book.rates.sand)?;
    // A sound floor has no texture to fill and nothing to repair.
    let mut job = Job { shapes: Shapes::default(), ..case.job.floor_alone() };
    job.slab.texture = Some(Thickness::micrometers(0.0));
    let on = EstimateInput::new(&job, &case.site, case.book, &case.shop.calendar);
    let whole = estimate::estimate_over(&option.floor.last_coat()?, on, Substrate::SoundFloor);
    Some(Renewal { every, price: whole.total().to_multiple_of(STEP) })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::price::testing::sample;
    use rust_decimal::RoundingStrategy;

    fn floor(name: &str, now: i64, life: u32, again: i64) -> FloorYears {
        FloorYears {
            floor: Key(name.to_owned()),
            now: Cents(now * 100),
            life: (life, life),
            again: Cents(again * 100),
            has_barrier: false,
            renewal: None,
        }
    }

    fn outlook(rate: i64, floors: Vec<FloorYears>) -> Outlook {
        Outlook { count: 20, rate: Decimal::new(rate, 2), floors, after_damp: None }
    }

    fn whole(cost: CostRange) -> i64 {
        assert_eq!(cost.least, cost.most);
        let whole = cost.least.decimal().round_dp_with_strategy(0, RoundingStrategy::ToZero);
        whole.try_into().unwrap()
    }

    /// From 10 to 20 years the middle is 15; from 5 to 8 it is 6.5, 7 as a whole number.
    #[test]
    fn a_point_lies_between_the_ends_of_its_range() {
        let years = |range| [Point(0), MIDDLE, Point(POINTS)].map(|point| point.of(range));
        assert_eq!(years((10, 20)), [10, 15, 20]);
        assert_eq!(years((5, 8)), [5, 7, 8]);
        assert_eq!(years((3, 3)), [3, 3, 3]);
    }

    /// By hand, with the factors of NISTIR 85-3273 at 3 % (0.7014 for year 12, 0.5537 for year 20): a floor of $4,000
    /// that lasts twelve years is laid again for $5,000 in year 12, and four of its twelve years are left in year 20:
    /// 4,000 + 5,000 x 0.7014 - 5,000 x 4 / 12 x 0.5537 = 6,584.
    #[test]
    fn a_floor_laid_again_counts_for_the_years_that_are_counted() {
        let one = floor("one", 4000, 12, 5000);
        assert_eq!(whole(outlook(3, vec![]).cost(&one, Story::Dry)), 6580);
        assert_eq!(whole(outlook(0, vec![]).cost(&one, Story::Dry)), 7330);
        assert_eq!(whole(outlook(3, vec![]).over(12).cost(&one, Story::Dry)), 4000);
    }

    /// By hand, without a rate: damp in year 5 costs 3,500 + 3,900 x 15 / 15 for the floor without a barrier, and
    /// 3,800 + 3,900 x 5 / 15 for the one with it.
    #[test]
    fn damp_takes_a_floor_without_a_barrier() {
        let plain = floor("plain", 3500, 15, 3600);
        let barrier = FloorYears { has_barrier: true, ..floor("barrier", 3800, 15, 3900) };
        let outlook = Outlook {
            after_damp: Some(AfterDamp {
                floor: Key("barrier".to_owned()),
                redo: Cents(390_000),
                life: (15, 15),
                again: Cents(390_000),
            }),
            ..outlook(0, vec![plain.clone(), barrier.clone()])
        };
        assert_eq!(whole(outlook.cost(&plain, Story::Damp(5))), 7400);
        assert_eq!(whole(outlook.cost(&barrier, Story::Damp(5))), 5100);
        let Some(Cheapest::Surely(first, by)) = outlook.cheapest(Story::Damp(5)) else { panic!() };
        assert_eq!(
            (first.0.as_str(), by.least, by.most),
            ("barrier", Cents(230_000), Cents(230_000))
        );
        // Dry, the cheaper floor stays the cheaper: 3,500 + 3,600 / 3 = 4,700 against 5,100.
        assert_eq!(outlook.cheapest(Story::Dry).unwrap().floor().unwrap().0, "plain");
    }

    #[test]
    fn a_renewal_past_the_count_adds_nothing() {
        let renewal = Renewal { every: (20, 30), price: Cents(100_000) };
        let one = FloorYears { renewal: Some(renewal), ..floor("one", 4000, 5, 5000) };
        assert_eq!(whole(outlook(3, vec![]).cost(&one, Story::Renewed)), 4000);
    }

    #[test]
    fn one_floor_is_compared_with_nothing_and_two_alike_are_even() {
        let one = floor("one", 4000, 12, 5000);
        assert_eq!(outlook(3, vec![one.clone()]).cheapest(Story::Dry), None);
        let two = FloorYears { floor: Key("two".to_owned()), ..one.clone() };
        assert_eq!(outlook(3, vec![one, two]).cheapest(Story::Dry), Some(Cheapest::Even));
    }

    /// A new topcoat is priced by the same estimate: more than its material, less than the floor; and what was
    /// agreed beside the floor is in no later price.
    #[test]
    fn a_renewal_costs_less_than_the_floor_and_nothing_comes_twice() {
        let renewed = |sample: crate::price::testing::Sample| {
            sample.with_case(|case| {
                let options: Vec<_> = case.options.iter().collect();
                let outlook = Outlook::of(&case, &options, &case.shop.years);
                outlook.floors[0].clone()
            })
        };
        let plain = renewed(sample());
        let price = plain.renewal.unwrap().price;
        assert!(price > Cents::ZERO && price < plain.now && plain.again > plain.now, "{plain:?}");
        let item = "[{ name = \"A\", price = \"$900.00\" }]";
        let with = renewed(sample().job("item", item));
        assert!(with.now > plain.now);
        assert_eq!((with.again, with.renewal), (plain.again, plain.renewal));
    }
}
