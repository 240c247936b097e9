//! The standing of a floor to the moisture of a slab: clear of its limits, close to one, over one,
//! or not judged, always with the reasons.
//!
//! Worked out once for each floor, and read by the checks, the rule and every paper. A reading that
//! may be too low, is void or too old never proves a slab dry; it can prove it damp. A method for
//! which a floor's data sheet has no limit never clears the floor.

use jiff::civil::Date;

use crate::base::names::choices;
use crate::base::quantity::{Humidity, Mver};
use crate::model::book::MoistureTestAsked;
use crate::model::job::SheetFound;
use crate::model::shop::Testing;
use crate::site::method::TestMethod;
use crate::site::moisture::{MoistureReading, MoistureResult, ReadingPart, Series, days_between};

choices! {
    /// Relation of a floor, or of a reading, to a limit.
    Standing {
        /// Below the limit by more than the doubt of every reading.
        Clear = "clear",
        /// Nearer to the limit than a reading can tell, or over it within the last year.
        Close = "close",
        /// Not known: too few good readings, or no limit to hold them against.
        NotJudged = "not-judged",
        /// Above the limit.
        Over = "over",
    }
}

/// A floor's limit for one method.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MoistureLimit<Q> {
    /// The lowest limit of the coats up to the first vapor barrier.
    pub value: Q,
    /// True when the data sheet of the coat on the concrete states one. Without that a reading may
    /// be over the limit of a coat above, and is never clear.
    pub of_first_coat: bool,
}

impl<Q> MoistureLimit<Q> {
    /// Returns the limit that the data sheet of the coat on the concrete states.
    pub fn stated(self) -> Option<Q> {
        self.of_first_coat.then_some(self.value)
    }
}

/// The moisture terms of a floor, by the data sheets of its coats.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MoistureTerms {
    /// One of its coats is a vapor barrier.
    pub barrier: bool,
    /// The test that the data sheet of the coat on the concrete asks for.
    pub test: MoistureTestAsked,
    pub mver: Option<MoistureLimit<Mver>>,
    pub rh: Option<MoistureLimit<Humidity>>,
}

/// A reason for a floor's standing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StandingReason {
    /// A reading is over the limit.
    Over(TestMethod),
    /// A sheet that the data sheet asks for was damp.
    DampSheet,
    /// A reading is nearer to the limit than its doubt.
    Near(TestMethod),
    /// A reading was over the limit before a later one answered it; it stands at this position.
    WasOver(TestMethod, usize),
    /// No test of the slab was made that the floor can be held against.
    NotTested,
    /// Fewer places have a good, recent reading than the method asks for.
    FewGood { method: TestMethod, good: u32, needed: u32 },
    /// A void reading over the limit, whose place was not read again; it stands at this position.
    ReadAgain(TestMethod, usize),
    /// The data sheet has no limit for a method that was used.
    NoLimit(TestMethod),
    /// Such a method reads high, so the floor waits for its maker's word.
    AskMaker(TestMethod),
    /// The data sheet asks for dishes and probes, and this one is not judged.
    BothAsked(TestMethod),
}

impl StandingReason {
    /// True where a reading is too near a limit, or was over it.
    fn is_near_or_was_over(&self) -> bool {
        matches!(self, Self::Near(_) | Self::WasOver(..))
    }
}

choices! {
    /// A thing that would settle a floor that is not judged.
    Settles {
        /// A moisture test.
        Test = "test",
        /// A word from the maker of the coat: its data sheet is silent on the test that was made.
        Maker = "maker",
    }
}

/// The highest reading of a method against a limit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Headroom<Q> {
    pub limit: Q,
    pub reading: Q,
    pub doubt: Q,
    pub standing: Standing,
}

/// Standing of one floor, with its reasons.
#[derive(Debug, Clone, PartialEq)]
pub struct FloorMoisture {
    pub terms: MoistureTerms,
    /// Dishes against the floor's limit; `None` without readings that count, or without a limit.
    pub mver: Option<Headroom<Mver>>,
    /// Probes against the floor's limit.
    pub rh: Option<Headroom<Humidity>>,
    pub standing: Standing,
    /// Most serious first; empty when it is clear and nothing is to be said.
    pub reasons: Vec<StandingReason>,
}

impl FloorMoisture {
    /// The method whose high reading no data sheet has a limit for, if there is one.
    pub fn asks_maker(&self) -> Option<TestMethod> {
        self.reasons.iter().find_map(|reason| match reason {
            StandingReason::AskMaker(method) => Some(*method),
            _ => None,
        })
    }

    /// True when a reading of a method is nearer to the limit than it can tell.
    pub fn is_near(&self, method: TestMethod) -> bool {
        self.reasons.contains(&StandingReason::Near(method))
    }

    /// True when a reading of any method is nearer to its limit than it can tell.
    pub fn is_near_any(&self) -> bool {
        self.reasons.iter().any(|reason| matches!(reason, StandingReason::Near(_)))
    }

    /// True when a method read over the limit before a later reading answered it.
    pub fn was_over(&self, method: TestMethod) -> bool {
        self.reasons
            .iter()
            .any(|reason| matches!(reason, StandingReason::WasOver(of, _) if *of == method))
    }

    /// True when a reading is too near a limit, or was over it: whatever else is read, the floor is
    /// not clear until that place is read again.
    pub fn cannot_be_clear(&self) -> bool {
        let near = self.reasons.iter().any(StandingReason::is_near_or_was_over);
        self.standing == Standing::Over || near
    }

    /// Returns the means that would settle it; `None` for a floor that is judged.
    pub fn settles(&self) -> Option<Settles> {
        if self.standing != Standing::NotJudged {
            return None;
        }
        let asks = |reason: &StandingReason| matches!(reason, StandingReason::AskMaker(_));
        let tests = |reason: &StandingReason| {
            matches!(
                reason,
                StandingReason::NotTested
                    | StandingReason::FewGood { .. }
                    | StandingReason::ReadAgain(..)
                    | StandingReason::BothAsked(_)
            )
        };
        // No test settles a floor whose data sheet has no limit for a test that it asks for.
        let dish = self.terms.mver.is_some_and(|limit| limit.of_first_coat);
        let probe = self.terms.rh.is_some_and(|limit| limit.of_first_coat);
        let limits = match self.terms.test {
            MoistureTestAsked::PlasticSheet => true,
            MoistureTestAsked::Both => dish && probe,
            MoistureTestAsked::Either | MoistureTestAsked::NoneNeeded => dish || probe,
        };
        let test = !self.reasons.iter().any(asks) && self.reasons.iter().any(tests) && limits;
        Some(if test { Settles::Test } else { Settles::Maker })
    }
}

/// Terms for the readings beside a floor's own.
#[derive(Debug, Clone, Copy)]
pub struct JudgingTerms<'a> {
    pub testing: &'a Testing,
    /// The date of the paper.
    pub date: Date,
    /// The slab lies on the ground, and no plastic sheet is known beneath it.
    pub open_to_ground: bool,
}

/// A measure of moisture that has a scale.
pub trait Measure:
    Copy + PartialOrd + std::ops::Add<Output = Self> + std::ops::Sub<Output = Self>
{
    /// The largest value that there is.
    const MOST: Option<Self>;
    /// By how much a value may pass a limit and still be the same figure: less than any paper prints,
    /// so that none says "over" of two figures that read alike, and more than binary fractions round.
    fn slack(self) -> Self;
}

/// A paper prints a moisture rate to a hundred-thousandth of a pound or a ten-thousandth of a gram at
/// the finest, a humidity to a ten-thousandth of a percent: this part of half a pound or of 50 % is
/// no less.
const SAME: f64 = 5e-5;

impl Measure for Mver {
    const MOST: Option<Self> = None;
    fn slack(self) -> Self {
        self * SAME
    }
}

impl Measure for Humidity {
    const MOST: Option<Self> = Some(Self::percent(100.0));
    fn slack(self) -> Self {
        self * SAME
    }
}

/// True when a value is over a limit by more than a paper can print.
pub fn exceeds<Q: Measure>(value: Q, limit: Q) -> bool {
    value > limit + limit.slack()
}

/// The highest value that a reading allows for.
pub fn upper<Q: Measure>(reading: &MoistureReading<Q>) -> Q {
    let upper = reading.value + reading.doubt;
    Q::MOST.filter(|most| upper > *most).unwrap_or(upper)
}

/// The standing of one method against one limit.
struct JudgedMethod<Q> {
    headroom: Option<Headroom<Q>>,
    standing: Standing,
    reasons: Vec<StandingReason>,
}

/// Judges one method. `None` when no test by it was made.
fn judge<Q: Measure>(
    series: Option<&Series<Q>>,
    limit: Option<MoistureLimit<Q>>,
    method: TestMethod,
    setting: JudgingTerms<'_>,
) -> Option<JudgedMethod<Q>> {
    let series = series?;
    let Some(limit) = limit else {
        let reasons = vec![StandingReason::NoLimit(method)];
        return Some(JudgedMethod { headroom: None, standing: Standing::NotJudged, reasons });
    };
    let mut reasons = vec![];
    let over = series.standing().any(|reading| exceeds(reading.value, limit.value));
    if over {
        reasons.push(StandingReason::Over(method));
    }
    if !over && series.standing().any(|reading| exceeds(upper(reading), limit.value)) {
        reasons.push(StandingReason::Near(method));
    }
    if limit.of_first_coat {
        let spoiled = series
            .readings
            .iter()
            .position(|one| one.part == ReadingPart::Void && exceeds(one.value, limit.value));
        reasons.extend(spoiled.map(|at| StandingReason::ReadAgain(method, at)));
        let good = series.good_places(setting.date, setting.testing.reading_days);
        if good < series.needed {
            reasons.push(StandingReason::FewGood { method, good, needed: series.needed });
        }
    } else {
        // More of such tests would settle nothing.
        reasons.push(StandingReason::NoLimit(method));
    }
    if setting.open_to_ground {
        let was = series.readings.iter().position(|one| {
            one.answer.is_some_and(|answer| {
                let days = days_between(one.to.date(), series.readings[answer].to.date());
                exceeds(one.value, limit.value) && days <= setting.testing.look_back_days
            })
        });
        reasons.extend(was.map(|at| StandingReason::WasOver(method, at)));
    }
    let has = |wanted: fn(&StandingReason) -> bool| reasons.iter().any(wanted);
    let unjudged = has(|r| {
        matches!(
            r,
            StandingReason::ReadAgain(..)
                | StandingReason::FewGood { .. }
                | StandingReason::NoLimit(_)
        )
    });
    let standing = if over {
        Standing::Over
    } else if unjudged {
        Standing::NotJudged
    } else if has(StandingReason::is_near_or_was_over) {
        Standing::Close
    } else {
        Standing::Clear
    };
    let highest = series.highest();
    let headroom = series.counts().then_some(Headroom {
        limit: limit.value,
        reading: highest.value,
        doubt: highest.doubt,
        standing,
    });
    Some(JudgedMethod { headroom, standing, reasons })
}

/// The standing of plastic sheets: damp is over, enough good dry ones are clear.
fn judge_sheets(
    series: Option<&Series<SheetFound>>,
    setting: JudgingTerms<'_>,
) -> Option<JudgedMethod<()>> {
    let series = series?;
    let method = TestMethod::Sheet;
    let mut reasons = vec![];
    let damp = |found: &MoistureReading<SheetFound>| found.value == SheetFound::Damp;
    let over = series.standing().any(damp);
    if over {
        reasons.push(StandingReason::DampSheet);
    }
    let spoiled = series.readings.iter().position(|one| one.part == ReadingPart::Void && damp(one));
    reasons.extend(spoiled.map(|at| StandingReason::ReadAgain(method, at)));
    let good = series.good_places(setting.date, setting.testing.reading_days);
    if good < series.needed {
        reasons.push(StandingReason::FewGood { method, good, needed: series.needed });
    }
    let standing = match (over, reasons.is_empty()) {
        (true, _) => Standing::Over,
        (false, false) => Standing::NotJudged,
        (false, true) => Standing::Clear,
    };
    Some(JudgedMethod { headroom: None, standing, reasons })
}

/// Works out how a floor of these terms stands to a slab's readings.
pub fn floor_moisture(
    terms: MoistureTerms,
    moisture: &MoistureResult,
    setting: JudgingTerms<'_>,
) -> FloorMoisture {
    let dishes = judge(moisture.mver.as_ref(), terms.mver, TestMethod::Dish, setting);
    let probes = judge(moisture.rh.as_ref(), terms.rh, TestMethod::Probe, setting);
    let asked = moisture.sheets.as_ref().filter(|_| terms.test == MoistureTestAsked::PlasticSheet);
    let sheets = judge_sheets(asked, setting);
    let mver = dishes.as_ref().and_then(|judged| judged.headroom);
    let rh = probes.as_ref().and_then(|judged| judged.headroom);
    let methods: Vec<(TestMethod, Standing)> = [
        dishes.as_ref().map(|judged| (TestMethod::Dish, judged.standing)),
        probes.as_ref().map(|judged| (TestMethod::Probe, judged.standing)),
    ]
    .into_iter()
    .flatten()
    .collect();
    let mut reasons: Vec<StandingReason> = asks_maker(terms, moisture, setting.testing).collect();
    reasons.extend(dishes.map(|judged| judged.reasons).unwrap_or_default());
    reasons.extend(probes.map(|judged| judged.reasons).unwrap_or_default());
    let near = reasons.iter().any(StandingReason::is_near_or_was_over);
    let asks = reasons.iter().any(|reason| matches!(reason, StandingReason::AskMaker(_)));
    let sheet = sheets.as_ref().map(|judged| judged.standing);
    reasons.extend(sheets.map(|judged| judged.reasons).unwrap_or_default());
    let judged = |standing: Standing| matches!(standing, Standing::Clear | Standing::Close);
    let unjudged_of_both: Vec<TestMethod> = [TestMethod::Dish, TestMethod::Probe]
        .into_iter()
        .filter(|method| {
            terms.test == MoistureTestAsked::Both
                && !methods.iter().any(|(known, standing)| known == method && judged(*standing))
        })
        .collect();
    let over = methods.iter().any(|(_, standing)| *standing == Standing::Over);
    let at_best = |standing: Standing| if near { standing.max(Standing::Close) } else { standing };
    let standing = if over || sheet == Some(Standing::Over) {
        Standing::Over
    } else if asks {
        Standing::NotJudged
    } else if !unjudged_of_both.is_empty() {
        reasons.extend(unjudged_of_both.into_iter().map(StandingReason::BothAsked));
        Standing::NotJudged
    } else if sheet == Some(Standing::Clear) {
        at_best(Standing::Clear)
    } else if let Some(worst) =
        methods.iter().map(|(_, standing)| *standing).filter(|s| judged(*s)).max()
    {
        at_best(worst)
    } else if terms.barrier && terms.test == MoistureTestAsked::NoneNeeded {
        at_best(Standing::Clear)
    } else {
        Standing::NotJudged
    };
    // A plastic sheet tells nothing of a floor whose data sheet does not ask for one.
    if standing == Standing::NotJudged && (!moisture.tested() || reasons.is_empty()) {
        reasons.push(StandingReason::NotTested);
    }
    // A method that is not judged is no matter beside one that is.
    if matches!(standing, Standing::Clear | Standing::Close) {
        reasons.retain(StandingReason::is_near_or_was_over);
    }
    FloorMoisture { terms, mver, rh, standing, reasons }
}

/// Methods without a limit that read high on a floor without a barrier.
fn asks_maker(
    terms: MoistureTerms,
    moisture: &MoistureResult,
    testing: &Testing,
) -> impl Iterator<Item = StandingReason> {
    fn high<Q: Measure>(
        series: Option<&Series<Q>>,
        limit: Option<MoistureLimit<Q>>,
        most: Q,
    ) -> bool {
        let silent = limit.is_none_or(|limit| !limit.of_first_coat);
        let over = |series: &Series<Q>| series.standing().any(|one| exceeds(one.value, most));
        silent && series.is_some_and(over)
    }
    let dish = high(moisture.mver.as_ref(), terms.mver, testing.ask_over_mver);
    let probe = high(moisture.rh.as_ref(), terms.rh, testing.ask_over_rh);
    [(dish, TestMethod::Dish), (probe, TestMethod::Probe)]
        .into_iter()
        .filter(move |(high, _)| *high && !terms.barrier)
        .map(|(_, method)| StandingReason::AskMaker(method))
}
