//! The customer form: the job without anything that is the shop's own. A type of its own, so that
//! a cost, an hour of work or a supplier has no field to be in.

use schemars::JsonSchema;
use serde::Serialize;

use crate::base::names::Key;
use crate::base::quantity::Thickness;
use crate::model::book::Resin;
use crate::papers::proposal::Spaces;
use crate::papers::proposal::writer::Writer;
use crate::price::case::{FloorOption, Quote};
use crate::price::estimate::price::Payment;
use crate::price::floor::FloorCoat;
use crate::results::VERSION;
use crate::results::decided::Decided;
use crate::results::findings::Finding;
use crate::results::floor::{Days, FloorFacts};
use crate::results::laid::CustomerLaid;
use crate::results::moisture::Moisture;
use crate::results::recommendation::{EvenChance, Recommendation, payments};
use crate::results::slab::Air;
use crate::results::spaces::{self, CustomerSpace, Whole};
use crate::results::values::Day;
use crate::results::work::Mended;
use crate::say::words::WordsError;
use crate::site::take_off::TakeOff;

/// A job as its customer may know it: findings, the floors on offer with prices and days, hazards.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[schemars(title = "slableaf results for the customer")]
pub struct CustomerForm {
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
    /// The customer's name, as typed.
    pub customer: String,
    /// The shop's name, as typed.
    pub shop: String,
    /// True when people, products or prices are invented.
    pub invented: bool,
    /// Currency of every amount: its ISO 4217 code.
    pub currency: String,
    /// Notes for the customer, as typed.
    pub notes: Vec<String>,
    /// The slab, summed up.
    pub take_off: TakeOff,
    /// Results of the moisture tests.
    pub moisture: Moisture,
    /// Air and dew point; null when nobody measured them.
    pub air: Option<Air>,
    /// Cracks, joints, holes and coves.
    pub repairs: Vec<Mended>,
    #[serde(flatten)]
    pub recommendation: Recommendation,
    /// Every floor, in the order of the offer, also those that a stop takes off it.
    pub floors: Vec<CustomerFloor>,
    /// For each pair of an offered floor without a barrier and one with.
    pub even_chances: Vec<EvenChance>,
    /// Payments of the recommended floor; empty when nothing may be offered.
    pub payments: Vec<Payment>,
    #[serde(flatten)]
    pub decided: Decided,
    /// Findings, most serious first.
    pub findings: Vec<Finding>,
    /// The floor as it was laid; null in a job without a record.
    pub laid: Option<CustomerLaid>,
    /// The spaces, where the job has several; empty where it has not. What is of a single space (moisture,
    /// air, repairs, recommendation, floors, chances, findings, the floor as it was laid) then stands in each of
    /// them, and above is null or empty.
    pub spaces: Vec<CustomerSpace>,
    /// The price of all spaces together; null without spaces, and where none has a floor with a price.
    pub whole: Option<Whole>,
}

const AUDIENCE: &str = "customer";

/// One floor.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CustomerFloor {
    #[serde(flatten)]
    pub facts: FloorFacts,
    /// Its coats, bottom coat first.
    pub coats: Vec<CustomerCoat>,
    /// Price and days; null for a floor that is not offered.
    pub offer: Option<Offer>,
}

/// Price and days of a floor that is offered.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Offer {
    #[serde(flatten)]
    pub quote: Quote,
    #[serde(flatten)]
    pub days: Days,
}

/// One coat.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CustomerCoat {
    /// The coat's key in its floor.
    pub coat: Key,
    /// Its name.
    pub name: String,
    /// Its part of the floor's thickness once it is dry, micrometers.
    pub thickness_um: Thickness,
    /// Date or edition of the data sheet that its limits come from; null where it was not noted.
    pub data_sheet: Option<String>,
    /// It hardens with isocyanates.
    pub isocyanate: bool,
    /// It gives off a flammable vapor; null where the price book does not say.
    pub flammable: Option<bool>,
}

impl CustomerForm {
    /// # Errors
    /// [`WordsError`] when a check has no words, or uses a value that it is not given.
    pub fn of(w: &Writer<'_>) -> Result<Self, WordsError> {
        let (job, book) = (w.case.job, w.case.book);
        Ok(Self {
            version: VERSION,
            audience: AUDIENCE,
            job: job.number.0.clone(),
            date: job.date.into(),
            customer: job.customer.name.clone(),
            shop: w.case.shop.name.clone(),
            invented: job.invented || book.invented,
            currency: book.currency.clone(),
            notes: job.notes.clone(),
            take_off: w.case.site.take_off,
            moisture: Moisture::of(w),
            air: Air::of(w),
            repairs: Mended::all(w),
            recommendation: w.recommendation.into(),
            floors: w.case.options.iter().map(|option| CustomerFloor::of(w, option)).collect(),
            even_chances: EvenChance::all(w),
            payments: payments(w),
            decided: job.into(),
            findings: Finding::for_customer(w)?,
            laid: CustomerLaid::of(w),
            spaces: vec![],
            whole: None,
        })
    }

    /// The form of a job of several spaces.
    ///
    /// # Errors
    /// [`WordsError`] when a check has no words, or uses a value that it is not given.
    pub fn of_spaces(s: &Spaces<'_>) -> Result<Self, WordsError> {
        let plain = Self::of(s.w())?;
        s.checked(Self {
            notes: s.job.notes.clone(),
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
            spaces: CustomerSpace::all(s)?,
            whole: Whole::of(s),
            ..plain
        })
    }
}

impl CustomerFloor {
    pub fn of(w: &Writer<'_>, option: &FloorOption<'_>) -> Self {
        let coat = |coat: &FloorCoat<'_>| CustomerCoat {
            coat: coat.spec.key.clone(),
            name: w.coat_name(&option.floor, coat),
            thickness_um: coat.thickness(),
            data_sheet: coat.product.data_sheet.clone(),
            isocyanate: coat.resin().is_some_and(|resin| resin.isocyanate),
            flammable: coat.resin().map_or(Some(false), Resin::flammable),
        };
        let priced = w.recommendation.prices(option.key());
        Self {
            facts: FloorFacts::of(w, option),
            coats: option.floor.coats.iter().map(coat).collect(),
            offer: priced.then(|| Offer { quote: option.quote.clone(), days: Days::of(w, option) }),
        }
    }
}
