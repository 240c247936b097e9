//! Facts with which a paper's next revision is compared: parts of the customer form, and the address.

use crate::base::quantity::{Area, rounded};
use crate::issued::{Facts, Offered, RecordDate};
use crate::papers::proposal::writer::Writer;
use crate::results::customer::CustomerForm;
use crate::results::moisture::{DishRate, ProbeHumidity, Reading};
use crate::say::words::WordsError;

impl Facts {
    /// # Errors
    /// [`WordsError`] as the customer form has them.
    pub fn of(w: &Writer<'_>) -> Result<Self, WordsError> {
        let form = CustomerForm::of(w)?;
        let dish = |dish: &Reading<DishRate>| {
            let rate = rounded(dish.value.rate_lb_per_1000ft2_24h.as_pounds());
            format!("dish, {}: {rate} lb/1000ft2/24h", dish.place)
        };
        let probe = |probe: &Reading<ProbeHumidity>| {
            let humidity = rounded(probe.value.humidity_percent.as_percent());
            format!("probe, {}: {humidity} %", probe.place)
        };
        let dishes = form.moisture.dishes.iter().flat_map(|test| test.readings.iter().map(dish));
        let probes = form.moisture.probes.iter().flat_map(|test| test.readings.iter().map(probe));
        let area = |area: Area| rounded(area.as_square_meters());
        let offered = w.offered().into_iter().map(|option| Offered {
            key: option.key().0.clone(),
            name: w.the_name(option.key()),
            total: option.quote.total.0,
            days: option.estimate.schedule.days,
        });
        Ok(Self {
            readings: dishes.chain(probes).collect(),
            area_m2: (area(form.take_off.floor), area(form.take_off.upright)),
            recommended: form.recommendation.recommended.map(|key| key.0),
            currency: form.currency,
            customer: w.case.job.customer.full_name().into_owned(),
            address: w.case.job.customer.address.clone(),
            start: w.case.job.plan.start.map(RecordDate),
            floors: offered.collect(),
        })
    }
}
