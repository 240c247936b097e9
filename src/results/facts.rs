//! What a paper's next revision is compared with: parts of the customer form, and where they live.

use crate::issued::{Facts, Offered, RecordDate};
use crate::papers::proposal::writer::Writer;
use crate::results::customer::CustomerForm;
use crate::results::moisture::{DishReading, ProbeReading};
use crate::say::words::WordsError;

impl Facts {
    /// # Errors
    /// [`WordsError`] as the customer form has them.
    pub fn of(w: &Writer<'_>) -> Result<Self, WordsError> {
        let form = CustomerForm::of(w)?;
        let dish = |dish: &DishReading| {
            format!("dish, {}: {} lb/1000ft2/24h", dish.place, dish.rate_lb_per_1000ft2_24h)
        };
        let probe =
            |probe: &ProbeReading| format!("probe, {}: {} %", probe.place, probe.humidity_percent);
        let dishes = form.moisture.dishes.iter().flat_map(|test| test.readings.iter().map(dish));
        let probes = form.moisture.probes.iter().flat_map(|test| test.readings.iter().map(probe));
        // The form has prices as text; the same quotes have them as cents.
        let offered = w.offered().into_iter().map(|option| Offered {
            key: option.key().0.clone(),
            name: w.the_name(option.key()),
            total: option.quote.total.0,
            days: option.estimate.schedule.days,
        });
        Ok(Self {
            readings: dishes.chain(probes).collect(),
            area_m2: (form.take_off.floor_m2, form.take_off.upright_m2),
            recommended: form.recommendation.recommended,
            currency: form.currency,
            customer: form.customer,
            address: w.case.job.customer.address.clone(),
            start: w.case.job.plan.start.map(RecordDate),
            floors: offered.collect(),
        })
    }
}
