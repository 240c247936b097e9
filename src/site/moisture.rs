//! Moisture tests of the slab, each with the conditions that its own method sets: calcium chloride
//! dishes (ASTM F1869), humidity probes (ASTM F2170) and taped plastic sheets (ASTM D4263).
//!
//! The methods measure different things. There is no published conversion between them, so nothing
//! here turns one into the other. A test that was not made is absent, never a pass.
//!
//! A place that is read again on a later visit is spoken for by its latest good reading; a reading
//! that nobody answered with a later good one still counts, and nobody has to delete one.

use jiff::civil::{Date, DateTime};

use crate::base::lists::each_once;
use crate::base::names::choices;
use crate::base::quantity::*;
use crate::model::job::{DishTest, Job, ProbeTest, SheetFound, SheetTest, Slab};
use crate::model::shop::Testing;
use crate::site::method::{self, MethodFault, TestMethod};

/// `1000 ft2 x 24 h` over grams in a pound: pounds per 1000 ft2 in 24 hours from a gain in grams,
/// an area in ft2 and hours. ASTM F1869, section on calculation, prints 52.91.
const MVER_FACTOR: f64 = 1000.0 * 24.0 / 453.59237;

/// Dishes and probes: three tests for the first 1000 ft2, one more for each further 1000 ft2 or part
/// of it (ASTM F1869 and F2170; repeated in secondary sources).
const TESTS_FOR_FIRST: u32 = 3;
const AREA_PER_TEST: Area = Area::square_feet(1000.0);
/// Plastic sheets: one for each 500 ft2 or part of it (ASTM D4263, from memory).
const AREA_PER_SHEET: Area = Area::square_feet(500.0);

/// Accuracy of a probe where nobody wrote down its own, percent RH either way (from memory: the
/// class of instrument). It widens what is too near to call and stops nothing.
pub const PROBE_DOUBT: Humidity = Humidity::percent(2.0);

/// Results of all methods; `None` where a method was not used.
#[derive(Debug, Clone, Default)]
pub struct MoistureResult {
    pub mver: Option<Series<Mver>>,
    pub rh: Option<Series<Humidity>>,
    pub sheets: Option<Series<SheetFound>>,
}

impl MoistureResult {
    /// True when a dish or a probe has a reading that counts.
    pub fn known(&self) -> bool {
        self.mver.as_ref().is_some_and(Series::counts)
            || self.rh.as_ref().is_some_and(Series::counts)
    }

    /// True when any test was made, void ones too.
    pub fn tested(&self) -> bool {
        self.mver.is_some() || self.rh.is_some() || self.sheets.is_some()
    }

    /// The day of the last reading that counts, of dishes and probes; of plastic sheets where there is
    /// no other.
    pub fn last(&self) -> Option<Date> {
        let mver = self.mver.as_ref().filter(|series| series.counts()).map(|series| series.date);
        let rh = self.rh.as_ref().filter(|series| series.counts()).map(|series| series.date);
        let sheets = self.sheets.as_ref().filter(|series| series.counts()).map(|one| one.date);
        mver.max(rh).or(sheets)
    }
}

/// All readings of one method, of all visits.
#[derive(Debug, Clone)]
pub struct Series<Q> {
    /// In the order in which the job has them.
    pub readings: Vec<MoistureReading<Q>>,
    /// Position of the highest reading that counts; of all, where none does.
    pub highest: usize,
    /// Tests that the method asks for on this floor.
    pub needed: u32,
    /// The day of the last reading that counts; of all, where none does.
    pub date: Date,
    /// Departures from the method, of the readings that count, each once.
    pub faults: Vec<MethodFault>,
    /// The instruments of the visits, each once.
    pub instrument: Option<String>,
}

impl<Q: Copy> Series<Q> {
    pub fn highest(&self) -> &MoistureReading<Q> {
        &self.readings[self.highest]
    }

    /// The readings that still count: the latest good one of each place, and those that no later
    /// good one has answered.
    pub fn standing(&self) -> impl Iterator<Item = &MoistureReading<Q>> {
        self.readings.iter().filter(|reading| reading.part.counts())
    }

    /// True when any reading counts.
    pub fn counts(&self) -> bool {
        self.standing().next().is_some()
    }

    /// Returns the number of readings that count.
    pub fn count(&self) -> usize {
        self.standing().count()
    }

    /// The places with a good reading no older than `days` on `date`.
    pub fn good_places(&self, date: Date, days: u32) -> u32 {
        let good = self.readings.iter().filter(|reading| reading.part == ReadingPart::Latest);
        good.filter(|reading| days_between(reading.to.date(), date) <= days).count() as u32
    }
}

/// One reading with the band in which the true value may lie.
#[derive(Debug, Clone)]
pub struct MoistureReading<Q> {
    pub place: String,
    pub value: Q,
    /// Doubt either way, from the scale or the probe.
    pub doubt: Q,
    pub from: DateTime,
    pub to: DateTime,
    /// The reason for which it does not count, as typed.
    pub void: Option<String>,
    /// Its own departures from the method and those of its series.
    pub faults: Vec<MethodFault>,
    pub part: ReadingPart,
    /// The position of the later good reading that speaks for its place; `None` for a void one.
    pub answer: Option<usize>,
}

impl<Q> MoistureReading<Q> {
    /// True when it can prove a place dry: not void, and with no fault that may read low.
    pub fn is_good(&self) -> bool {
        self.void.is_none() && !self.faults.iter().any(MethodFault::may_read_low)
    }
}

choices! {
    /// The part that a reading plays among all readings of its place by its method.
    ReadingPart {
        /// The latest good reading: it counts.
        Latest = "latest",
        /// Not answered by a later good reading: it counts, and cannot prove the place dry.
        Unanswered = "unanswered",
        /// A later good reading speaks for its place.
        Answered = "answered",
        /// Void, and its place was not read again.
        Void = "void",
        /// Void, and a later good reading speaks for its place.
        VoidReadAgain = "void-read-again",
    }
}

impl ReadingPart {
    /// True for readings that are held against limits.
    pub fn counts(self) -> bool {
        matches!(self, Self::Latest | Self::Unanswered)
    }
}

/// Works out the results of a job's tests.
pub fn result(job: &Job, floor: Area, testing: &Testing) -> MoistureResult {
    let needed = tests_needed(floor);
    MoistureResult {
        mver: series(
            job.moisture.dish_tests().flat_map(dishes).collect(),
            needed,
            job.moisture.dish_tests().filter_map(|test| test.instrument.as_deref()),
        ),
        rh: series(
            job.moisture.probe_tests().flat_map(|test| probes(test, &job.slab, testing)).collect(),
            needed,
            job.moisture.probe_tests().filter_map(|test| test.instrument.as_deref()),
        ),
        sheets: series(
            job.moisture.sheet_tests().map(sheet).collect(),
            sheets_needed(floor),
            std::iter::empty(),
        ),
    }
}

/// Returns the number of tests that either method asks for on a floor.
pub fn tests_needed(floor: Area) -> u32 {
    TESTS_FOR_FIRST + whole_up(floor / AREA_PER_TEST).saturating_sub(1)
}

/// Returns the number of taped plastic sheets that a floor needs.
pub fn sheets_needed(floor: Area) -> u32 {
    whole_up(floor / AREA_PER_SHEET).max(1)
}

/// Moisture vapor emission rate of one dish: `52.91 x gain / (area x hours)`.
pub fn mver(gain: Mass, exposed: Area, exposure: Hours) -> Mver {
    Mver::pounds(MVER_FACTOR * gain.as_grams() / (exposed.as_square_feet() * exposure.as_hours()))
}

/// The time between two moments on the clock of a test.
pub fn hours_between(from: DateTime, to: DateTime) -> Hours {
    Hours::minutes(
        (to - from)
            .total((jiff::Unit::Minute, jiff::SpanRelativeTo::days_are_24_hours()))
            .unwrap_or(0.0),
    )
}

/// Returns the days between two dates, never below zero.
pub fn days_between(from: Date, to: Date) -> u32 {
    let days = (to - from).total((jiff::Unit::Day, jiff::SpanRelativeTo::days_are_24_hours()));
    days.unwrap_or(0.0).max(0.0) as u32
}

fn dishes(test: &DishTest) -> Vec<MoistureReading<Mver>> {
    // Two weighings, each doubtful by one step of the scale, add as independent errors do.
    let doubt_in_gain = test.scale * std::f64::consts::SQRT_2;
    let of_all = method::dish_series(test);
    test.dishes
        .iter()
        .map(|dish| {
            let exposure = hours_between(dish.set, dish.lifted);
            MoistureReading {
                place: dish.place.clone(),
                value: mver(dish.after - dish.before, dish.exposed, exposure),
                doubt: mver(doubt_in_gain, dish.exposed, exposure),
                from: dish.set,
                to: dish.lifted,
                void: dish.void.clone(),
                faults: [method::dish(dish), of_all.clone()].concat(),
                part: ReadingPart::Unanswered,
                answer: None,
            }
        })
        .collect()
}

fn probes(test: &ProbeTest, slab: &Slab, testing: &Testing) -> Vec<MoistureReading<Humidity>> {
    let of_all = method::probe_series(test, slab.thickness);
    let needed = slab.thickness.map(|thickness| method::probe_depth(thickness, slab.on_ground));
    test.probes
        .iter()
        .map(|probe| MoistureReading {
            place: probe.place.clone(),
            value: probe.reading,
            doubt: test.accuracy.unwrap_or(PROBE_DOUBT),
            from: probe.drilled,
            to: probe.read,
            void: probe.void.clone(),
            faults: [
                method::probe(probe, test.edition, needed, testing.depth_slack),
                of_all.clone(),
            ]
            .concat(),
            part: ReadingPart::Unanswered,
            answer: None,
        })
        .collect()
}

fn sheet(test: &SheetTest) -> MoistureReading<SheetFound> {
    MoistureReading {
        place: test.place.clone(),
        value: test.found,
        doubt: SheetFound::Dry,
        from: test.taped,
        to: test.lifted,
        void: test.void.clone(),
        faults: method::sheet(test),
        part: ReadingPart::Unanswered,
        answer: None,
    }
}

/// The words for a place without what people type differently from visit to visit.
pub fn place_name(place: &str) -> String {
    place.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase()
}

/// Sums readings up; no readings, no result.
fn series<'i, Q: Copy + PartialOrd>(
    mut readings: Vec<MoistureReading<Q>>,
    needed: u32,
    instruments: impl Iterator<Item = &'i str>,
) -> Option<Series<Q>> {
    let names: Vec<String> = readings.iter().map(|reading| place_name(&reading.place)).collect();
    let parts: Vec<(ReadingPart, Option<usize>)> =
        (0..readings.len()).map(|at| part(&readings, &names, at)).collect();
    for (reading, part) in readings.iter_mut().zip(parts) {
        (reading.part, reading.answer) = part;
    }
    let any = readings.iter().any(|reading| reading.part.counts());
    let shown = |reading: &MoistureReading<Q>| !any || reading.part.counts();
    let mut highest: Option<usize> = None;
    for (at, reading) in readings.iter().enumerate().filter(|(_, reading)| shown(reading)) {
        // Of two that are alike the one of which less is sure speaks, in whatever order they stand.
        let rank = |reading: &MoistureReading<Q>| (reading.value, reading.doubt);
        if highest.is_none_or(|known| rank(reading) > rank(&readings[known])) {
            highest = Some(at);
        }
    }
    let date = readings.iter().filter(|one| shown(one)).map(|one| one.to.date()).max()?;
    let mut places: Vec<&String> = names
        .iter()
        .zip(&readings)
        .filter(|(_, reading)| reading.part.counts())
        .map(|(name, _)| name)
        .collect();
    places.sort_unstable();
    places.dedup();
    let done = places.len() as u32;
    let few = (any && done < needed).then_some(MethodFault::TooFewTests { done, needed });
    let own = readings.iter().filter(|one| one.part.counts()).flat_map(|one| one.faults.clone());
    let faults = each_once(few.into_iter().chain(own));
    let named = each_once(instruments);
    let instrument = (!named.is_empty()).then(|| named.join("; "));
    Some(Series { highest: highest?, needed, date, faults, instrument, readings })
}

/// The part that the reading at a position plays, and the one that answers it. `names` are the places in one spelling.
fn part<Q: Copy + PartialOrd>(
    readings: &[MoistureReading<Q>],
    names: &[String],
    at: usize,
) -> (ReadingPart, Option<usize>) {
    let mut latest: Option<usize> = None;
    for (other, reading) in readings.iter().enumerate() {
        if names[other] != names[at] || !reading.is_good() {
            continue;
        }
        // Of two that end together the higher one speaks.
        let rank = |reading: &MoistureReading<Q>| (reading.to, reading.value, reading.doubt);
        let later = latest.is_none_or(|known| rank(reading) > rank(&readings[known]));
        if later {
            latest = Some(other);
        }
    }
    let answer = latest.filter(|answer| readings[*answer].to > readings[at].to);
    match (readings[at].void.is_some(), answer) {
        (true, Some(_)) => (ReadingPart::VoidReadAgain, None),
        (true, None) => (ReadingPart::Void, None),
        (false, _) if latest == Some(at) => (ReadingPart::Latest, None),
        (false, Some(_)) => (ReadingPart::Answered, answer),
        (false, None) => (ReadingPart::Unanswered, None),
    }
}

impl MoistureResult {
    /// The place of a reading, as typed.
    pub fn place(&self, method: TestMethod, at: usize) -> Option<&str> {
        fn place<Q>(series: Option<&Series<Q>>, at: usize) -> Option<&str> {
            Some(series?.readings.get(at)?.place.as_str())
        }
        match method {
            TestMethod::Dish => place(self.mver.as_ref(), at),
            TestMethod::Probe => place(self.rh.as_ref(), at),
            TestMethod::Sheet => place(self.sheets.as_ref(), at),
        }
    }

    /// The departures of a method's tests.
    pub fn faults(&self, method: TestMethod) -> &[MethodFault] {
        let faults = match method {
            TestMethod::Dish => self.mver.as_ref().map(|series| &series.faults),
            TestMethod::Probe => self.rh.as_ref().map(|series| &series.faults),
            TestMethod::Sheet => self.sheets.as_ref().map(|series| &series.faults),
        };
        faults.map_or(&[], Vec::as_slice)
    }
}
