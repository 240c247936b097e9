//! Moisture readings in words: how each floor stands to them, the highest of them, a past one.

use jiff::civil::Date;

use crate::base::figure::Figure;
use crate::base::quantity::{Humidity, Mver};
use crate::model::book::MoistureTestAsked;
use crate::papers::proposal::writer::{Writer, between, capital};
use crate::price::case::FloorOption;
use crate::site::method::TestMethod;
use crate::site::moisture::Series;
use crate::site::standing::{Headroom, Measure, MoistureLimit, Settles, Standing, StandingReason};

/// A measure of moisture as papers write it.
pub trait Written: Measure {
    const NONE: Self;
    /// A reading of the slab, or a limit for one.
    fn of_slab(self) -> Figure;
    /// The distance between two of them.
    fn distance(self) -> Figure;
}

impl Written for Mver {
    const NONE: Self = Self::ZERO;
    fn of_slab(self) -> Figure {
        Figure::Mver(self)
    }
    fn distance(self) -> Figure {
        Figure::Mver(self)
    }
}

impl Written for Humidity {
    const NONE: Self = Self::ZERO;
    fn of_slab(self) -> Figure {
        Figure::SlabHumidity(self)
    }
    fn distance(self) -> Figure {
        Figure::Points(self)
    }
}

/// The highest reading against a limit, as texts.
#[derive(Debug, Clone)]
pub struct MoistureRoom {
    pub limit: String,
    /// The distance between the two, whichever is higher.
    pub room: String,
    pub reading: String,
    /// Standing of this method's readings to the limit.
    pub standing: Standing,
    /// The reading is at the limit or over it.
    pub full: bool,
}

/// A reading that a sentence tells of.
#[derive(Debug, Clone)]
pub struct PastReading {
    pub value: String,
    pub place: String,
    pub date: Date,
}

impl Writer<'_> {
    /// The highest reading against a floor's limit, of a method that the floor's standing comes from;
    /// of two such, the one that leaves less room. A method that settles nothing never stands for one
    /// that does.
    pub fn room(&self, option: &FloorOption<'_>) -> Option<MoistureRoom> {
        let m = &option.moisture;
        let told = |method, standing| match m.standing {
            Standing::Clear => standing == Standing::Clear,
            Standing::Over => m.reasons.contains(&StandingReason::Over(method)),
            Standing::Close => m.is_near(method) || (!m.is_near_any() && m.was_over(method)),
            Standing::NotJudged => true,
        };
        let mver = m.mver.filter(|h| told(TestMethod::Dish, h.standing)).map(|h| {
            let mut room = self.room_to(h);
            // A rate that its limit does not ask for in more digits has its whole unit.
            if room.reading == self.figure(h.reading) {
                room.reading = self.figures.mver(h.reading, true);
            }
            (1.0 - h.reading / h.limit, room)
        });
        let rh = m.rh.filter(|h| told(TestMethod::Probe, h.standing));
        let rh = rh.map(|h| (1.0 - h.reading / h.limit, self.room_to(h)));
        match (mver, rh) {
            (Some((left, a)), Some((other, b))) => Some(if other < left { b } else { a }),
            (a, b) => a.or(b).map(|(_, room)| room),
        }
    }

    fn room_to<Q: Written>(&self, h: Headroom<Q>) -> MoistureRoom {
        let (reading, limit) = self.figures.told_apart(&h.reading.of_slab(), &h.limit.of_slab());
        MoistureRoom {
            limit,
            room: self.room_left(between(h.limit, h.reading)),
            reading,
            standing: h.standing,
            full: h.reading >= h.limit,
        }
    }

    /// Returns the test for which a data sheet has no limit, as words files name it: a test that
    /// was `made`, one that the sheet has `asked` for, or moisture at all (`any`).
    pub fn lacks_limit(&self, option: &FloorOption<'_>) -> &'static str {
        let (terms, moisture) = (option.moisture.terms, &self.case.site.moisture);
        let dish = terms.mver.and_then(MoistureLimit::stated).is_some();
        let probe = terms.rh.and_then(MoistureLimit::stated).is_some();
        match terms.test {
            _ if (moisture.mver.is_some() && !dish) || (moisture.rh.is_some() && !probe) => "made",
            MoistureTestAsked::Both if dish || probe => "asked",
            _ => "any",
        }
    }

    /// Returns the distance between a reading and a limit, never printed as nothing where there is
    /// something.
    pub fn room_left<Q: Written>(&self, left: Q) -> String {
        self.figures.told_apart(&left.distance(), &Q::NONE.distance()).0
    }

    /// Returns the standing of a floor to the slab's moisture, in words: a cell of a table.
    pub fn room_words(&self, option: &FloorOption<'_>) -> String {
        self.room_by(option, "room_cell")
    }

    /// The same as a sentence.
    pub fn headroom_words(&self, option: &FloorOption<'_>) -> String {
        capital(&self.room_by(option, "headroom"))
    }

    fn room_by(&self, option: &FloorOption<'_>, form: &str) -> String {
        let room = self.room(option);
        let moisture = &option.moisture;
        let of_method = |wanted| room.as_ref().is_some_and(|room| room.standing == wanted);
        let name = match moisture.standing {
            Standing::Over if of_method(Standing::Over) => "over",
            Standing::Over => "damp_sheet",
            Standing::NotJudged if self.case.site.moisture.tested() => {
                if moisture.settles() == Some(Settles::Maker) { "no_limit" } else { "not_judged" }
            }
            Standing::NotJudged => "no_reading",
            Standing::Close if !moisture.is_near_any() => "was",
            Standing::Close => "close",
            Standing::Clear if room.as_ref().is_some_and(|room| room.full) => "full",
            Standing::Clear if room.is_some() => "clear",
            Standing::Clear if moisture.terms.test == MoistureTestAsked::PlasticSheet => {
                "dry_sheet"
            }
            Standing::Clear => "none_needed",
        };
        let (limit, room) = room.map_or_else(Default::default, |room| (room.limit, room.room));
        let lacks = self.lacks_limit(option).to_owned();
        let facts = [("room", room), ("limit", limit), ("lacks", lacks)];
        self.say(&format!("compare.{form}.{name}"), facts)
    }

    /// A reading of a method by its position, as texts.
    pub fn reading(&self, method: TestMethod, at: usize) -> Option<PastReading> {
        fn of<Q: Written>(w: &Writer<'_>, series: &Series<Q>, at: usize) -> Option<PastReading> {
            let reading = series.readings.get(at)?;
            let value = w.figure(reading.value.of_slab());
            Some(PastReading { value, place: reading.place.clone(), date: reading.to.date() })
        }
        let moisture = &self.case.site.moisture;
        match method {
            TestMethod::Dish => of(self, moisture.mver.as_ref()?, at),
            TestMethod::Probe => of(self, moisture.rh.as_ref()?, at),
            TestMethod::Sheet => None,
        }
    }

    /// The highest reading that counts of each method that was used, its place, and how many
    /// readings count.
    pub fn highest(&self) -> Option<(String, String, usize)> {
        fn of<Q: Written>(w: &Writer<'_>, series: &Series<Q>) -> Option<(String, String, usize)> {
            let highest = series.counts().then(|| series.highest())?;
            Some((w.figure(highest.value.of_slab()), highest.place.clone(), series.count()))
        }
        let moisture = &self.case.site.moisture;
        let mver = moisture.mver.as_ref().and_then(|series| of(self, series));
        let rh = moisture.rh.as_ref().and_then(|series| of(self, series));
        match (mver, rh) {
            (Some(a), Some(b)) => {
                let pair = |a: String, b: String| self.figures.list(&[a, b]);
                Some((pair(a.0, b.0), pair(a.1, b.1), a.2 + b.2))
            }
            (a, b) => a.or(b),
        }
    }
}
