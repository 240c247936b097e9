//! The shop form: everything that is computed, as `estimate --format json` prints it.

use schemars::JsonSchema;
use serde::Serialize;

use crate::papers::proposal::Spaces;
use crate::papers::proposal::writer::Writer;
use crate::price::case::{FloorOption, Quote};
use crate::price::estimate::price::Payment;
use crate::results::VERSION;
use crate::results::cost::{Cost, PriceMove, Terms};
use crate::results::decided::Decided;
use crate::results::findings::Finding;
use crate::results::floor::{Days, FloorFacts};
use crate::results::laid::ShopLaid;
use crate::results::moisture::Moisture;
use crate::results::recommendation::{EvenChance, Recommendation, payments};
use crate::results::slab::Air;
use crate::results::spaces::{self, ShopSpace, Whole};
use crate::results::values::Day;
use crate::results::work::{CrewPlan, Repair, ShopCoat};
use crate::say::words::WordsError;
use crate::site::take_off::TakeOff;

/// Everything that is computed of a job. For the shop only: it holds costs and margin.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[schemars(title = "slableaf results for the shop")]
pub struct ShopForm {
    /// Version of the shape of all results.
    #[schemars(extend("const" = VERSION))]
    pub version: u32,
    /// The reader.
    #[schemars(extend("const" = AUDIENCE))]
    pub audience: &'static str,
    /// The job's number.
    pub job: String,
    /// The date of the proposal.
    pub date: Day,
    /// Currency of every amount: its ISO 4217 code.
    pub currency: String,
    /// Notes for the crew, as typed. They never reach the customer.
    pub crew_notes: Vec<String>,
    /// The slab, summed up.
    pub take_off: TakeOff,
    /// Results of the moisture tests.
    pub moisture: Moisture,
    /// Air and dew point; null when nobody measured them.
    pub air: Option<Air>,
    /// Cracks, joints, holes and coves.
    pub repairs: Vec<Repair>,
    #[serde(flatten)]
    pub recommendation: Recommendation,
    /// The terms by which a price is made of a cost.
    pub terms: Terms,
    /// Every floor on offer, in the order of the offer, also those that a stop takes off it.
    pub floors: Vec<ShopFloor>,
    /// For each pair of an offered floor without a barrier and one with.
    pub even_chances: Vec<EvenChance>,
    /// Payments of the recommended floor; empty when nothing may be offered.
    pub payments: Vec<Payment>,
    #[serde(flatten)]
    pub decided: Decided,
    /// Every finding, most serious first.
    pub findings: Vec<Finding>,
    /// The floor as it was laid; null in a job without a record.
    pub laid: Option<ShopLaid>,
    /// The spaces, where the job has several; empty where it has not. What is of a single space (moisture,
    /// air, repairs, recommendation, floors, chances, findings, the floor as it was laid) then stands in each of
    /// them, and above is null or empty.
    pub spaces: Vec<ShopSpace>,
    /// The price of all spaces together; null without spaces, and where none has a floor with a price.
    pub whole: Option<Whole>,
    /// Cost and profit of all spaces together; null like it.
    pub whole_cost: Option<Cost>,
}

const AUDIENCE: &str = "shop only: holds costs and margin";

/// One floor on offer.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ShopFloor {
    #[serde(flatten)]
    pub facts: FloorFacts,
    /// Its coats, bottom coat first.
    pub coats: Vec<ShopCoat>,
    #[serde(flatten)]
    pub cost: Cost,
    #[serde(flatten)]
    pub quote: Quote,
    #[serde(flatten)]
    pub days: Days,
    #[serde(flatten)]
    pub crew: CrewPlan,
    /// The things that move the price that the margin asks for, the strongest first.
    pub price_moves: Vec<PriceMove>,
}

impl ShopForm {
    /// # Errors
    /// [`WordsError`] when a check has no words, or uses a value that it is not given.
    pub fn of(w: &Writer<'_>) -> Result<Self, WordsError> {
        let (job, book) = (w.case.job, w.case.book);
        Ok(Self {
            version: VERSION,
            audience: AUDIENCE,
            job: job.number.0.clone(),
            date: job.date.into(),
            currency: book.currency.clone(),
            crew_notes: job.crew_notes.clone(),
            take_off: w.case.site.take_off,
            moisture: Moisture::of(w),
            air: Air::of(w),
            repairs: Repair::all(w),
            recommendation: w.recommendation.into(),
            terms: (&book.terms).into(),
            floors: w.case.options.iter().map(|option| ShopFloor::of(w, option)).collect(),
            even_chances: EvenChance::all(w),
            payments: payments(w),
            decided: job.into(),
            findings: Finding::all(w)?,
            laid: ShopLaid::of(w),
            spaces: vec![],
            whole: None,
            whole_cost: None,
        })
    }

    /// The form of a job of several spaces.
    ///
    /// # Errors
    /// [`WordsError`] when a check has no words, or uses a value that it is not given.
    pub fn of_spaces(s: &Spaces<'_>) -> Result<Self, WordsError> {
        let plain = Self::of(s.w())?;
        s.checked(Self {
            crew_notes: s.job.crew_notes.clone(),
            take_off: spaces::take_off(s),
            moisture: Moisture::none(),
            air: None,
            repairs: vec![],
            recommendation: Recommendation::none(),
            floors: vec![],
            even_chances: vec![],
            payments: spaces::payments(s),
            findings: vec![],
            laid: None,
            spaces: ShopSpace::all(s)?,
            whole: Whole::of(s),
            whole_cost: spaces::cost(s),
            ..plain
        })
    }
}

impl ShopFloor {
    pub fn of(w: &Writer<'_>, option: &FloorOption<'_>) -> Self {
        Self {
            facts: FloorFacts::of(w, option),
            coats: ShopCoat::all(w, option),
            cost: (&option.estimate).into(),
            quote: option.quote.clone(),
            days: Days::of(w, option),
            crew: CrewPlan::of(w, option),
            price_moves: PriceMove::all(w, option),
        }
    }
}
