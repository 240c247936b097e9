//! Findings of the checks with their sentences, as `check --format json` prints them.

use schemars::JsonSchema;
use serde::Serialize;

use crate::base::money::Cents;
use crate::base::names::Key;
use crate::issued::Scope;
use crate::judge::checks::{FindingPlace, Severity};
use crate::papers::proposal::Spaces;
use crate::papers::proposal::writer::Writer;
use crate::results::VERSION;
use crate::results::recommendation::Recommendation;
use crate::say::acts::Priced;
use crate::say::words::WordsError;

/// The findings on a job, and the floor that is recommended.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[schemars(title = "slableaf findings")]
pub struct FindingsForm {
    /// Version of the shape of all results.
    #[schemars(extend("const" = VERSION))]
    pub version: u32,
    /// The job's number.
    pub job: String,
    #[serde(flatten)]
    pub recommendation: Recommendation,
    /// Every finding, most serious first. Those of the place `shop` are for the shop alone.
    pub findings: Vec<Finding>,
    /// The spaces of a job that has several, each with its own recommendation and findings, which then do not
    /// stand above; empty where it has not.
    pub spaces: Vec<SpaceFindings>,
    /// The standing to what was signed; null for a job that nobody has signed, and where the records cannot tell.
    pub since_signed: Option<SinceSigned>,
}

/// The standing of a job to what was signed, with its signed orders.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct SinceSigned {
    /// Parts of the work that differ and were not ordered, the weightiest first.
    pub changed: Vec<Scope>,
    /// Their price by the accepted price book.
    pub price_change: Option<Cents>,
    /// The floor that was signed may not be laid as things are.
    pub floor_held: bool,
    /// It was signed after the last day of its prices.
    pub signed_late: bool,
    /// Money that was received beyond the price that was agreed; null where there is none.
    pub due_back: Option<Cents>,
}

/// The findings on one of several spaces.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct SpaceFindings {
    /// Its name, as typed.
    pub name: String,
    #[serde(flatten)]
    pub recommendation: Recommendation,
    /// Every finding, most serious first.
    pub findings: Vec<Finding>,
}

impl FindingsForm {
    /// # Errors
    /// [`WordsError`] when a check has no words, or uses a value that it is not given.
    pub fn of(w: &Writer<'_>) -> Result<Self, WordsError> {
        Ok(Self {
            version: VERSION,
            job: w.case.job.number.0.clone(),
            recommendation: w.recommendation.into(),
            findings: Finding::all(w)?,
            spaces: vec![],
            since_signed: None,
        })
    }

    /// The form of a job of several spaces.
    ///
    /// # Errors
    /// [`WordsError`] when a check has no words, or uses a value that it is not given.
    pub fn of_spaces(s: &Spaces<'_>) -> Result<Self, WordsError> {
        let one = |(name, w): (&str, &Writer<'_>)| {
            Ok(SpaceFindings {
                name: name.to_owned(),
                recommendation: w.recommendation.into(),
                findings: Finding::all(w)?,
            })
        };
        Ok(Self {
            version: VERSION,
            job: s.job.number.0.clone(),
            recommendation: Recommendation::none(),
            findings: vec![],
            spaces: s.named().map(one).collect::<Result<_, _>>()?,
            since_signed: None,
        })
    }
}

/// A finding of a check, in words.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Finding {
    /// The check's stable name, as in `moisture-over-limit`.
    pub check: &'static str,
    /// Its weight.
    pub severity: Severity,
    /// The part of the proposal that it belongs to.
    pub place: FindingPlace,
    /// The floor that it is about; null when it is about the slab, the house or the job.
    pub floor: Option<Key>,
    /// The measured value, in the job's units; null when nothing was measured.
    pub measured: Option<String>,
    /// The limit that it was held against, in the job's units; null when there is none.
    pub limit: Option<String>,
    /// Its name in a few words.
    pub title: String,
    /// Its meaning on this job.
    pub says: String,
    /// The shop's part about it; may be empty.
    pub we: String,
    /// The homeowner's part about it; may be empty.
    pub you: String,
    /// The answer to whether what the shop does is in the price; null when it does nothing, and for the place `shop`.
    pub priced: Option<Priced>,
    /// Measured value, limit and source in one line; may be empty.
    pub basis: String,
}

impl Finding {
    /// Every finding, the shop's own too.
    ///
    /// # Errors
    /// [`WordsError`] when a check has no words, or uses a value that it is not given.
    pub fn all(w: &Writer<'_>) -> Result<Vec<Self>, WordsError> {
        Self::of_places(w, |_| true)
    }

    /// The findings that the customer may know.
    ///
    /// # Errors
    /// [`WordsError`] when a check has no words, or uses a value that it is not given.
    pub fn for_customer(w: &Writer<'_>) -> Result<Vec<Self>, WordsError> {
        Self::of_places(w, |place| place != FindingPlace::Shop)
    }

    fn of_places(
        w: &Writer<'_>,
        wanted: impl Fn(FindingPlace) -> bool,
    ) -> Result<Vec<Self>, WordsError> {
        let mut list = vec![];
        for finding in w.findings {
            let check = finding.check;
            if !wanted(check.place) {
                continue;
            }
            let notice = w.notice(finding);
            let acts = w.acts(finding);
            let (measured, limit) = w.measured_and_limit(finding);
            list.push(Self {
                check: check.name,
                severity: finding.severity,
                place: check.place,
                floor: finding.option.clone(),
                measured,
                limit,
                title: notice.title,
                says: notice.says,
                we: acts.we,
                you: acts.you,
                priced: acts.priced,
                basis: notice.basis,
            });
        }
        w.checked(list)
    }
}
