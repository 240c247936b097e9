//! Decisions of the customer beside the floor, as shop and customer may both know them.

use schemars::JsonSchema;
use serde::Serialize;

use crate::base::money::Cents;
use crate::model::job::Job;
use crate::results::values::Day;

/// Choices, what is on request, why the price is less, and what was received.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Decided {
    /// The look of the floor, as far as it is chosen.
    pub choices: Choices,
    /// Items that are named with a price on request.
    pub on_request: Vec<String>,
    /// The reason of the discount, as typed; null without one.
    pub discount_reason: Option<String>,
    /// The number of the certificate by which no tax is paid on the price; null without one.
    pub tax_exempt: Option<String>,
    /// Money that was received, in the order in which the job lists it.
    pub paid: Vec<Receipt>,
    /// The sum of what was received.
    pub received: Cents,
}

/// The look of a floor; null where a choice is still open.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Choices {
    /// The color, or the blend of flake.
    pub color: Option<String>,
    /// The size of the flake.
    pub flake_size: Option<String>,
    /// Texture or grip.
    pub texture: Option<String>,
    /// The gloss of the top coat.
    pub gloss: Option<String>,
    /// The day on which the customer approved a sample.
    pub sample_approved: Option<Day>,
    /// The initials of whoever approved it.
    pub sample_initials: Option<String>,
}

/// Money that was received.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Receipt {
    /// The day.
    pub on: Day,
    /// The amount.
    pub amount: Cents,
}

impl From<&Job> for Decided {
    fn from(job: &Job) -> Self {
        let (chosen, sample) = (&job.choices, job.choices.sample.as_ref());
        let on_request = job.items.iter().filter(|item| item.priced.is_none());
        Self {
            choices: Choices {
                color: chosen.color.clone(),
                flake_size: chosen.flake_size.clone(),
                texture: chosen.texture.clone(),
                gloss: chosen.gloss.clone(),
                sample_approved: sample.map(|sample| sample.on.into()),
                sample_initials: sample.map(|sample| sample.initials.clone()),
            },
            on_request: on_request.map(|item| item.name.clone()).collect(),
            discount_reason: job.discount.as_ref().map(|discount| discount.reason.clone()),
            tax_exempt: job.customer.tax_exempt.clone(),
            paid: job
                .paid
                .iter()
                .map(|one| Receipt { on: one.on.into(), amount: one.amount })
                .collect(),
            received: job.paid.iter().map(|one| one.amount).sum(),
        }
    }
}
