//! Facts with which a paper's next revision is compared: parts of the customer form, and the address.

use crate::base::money::Cents;
use crate::base::quantity::{Area, rounded};
use crate::issued::{AskedFor, Facts, Offered, OfferedAddition, RecordDate, Step};
use crate::model::shop::Shop;
use crate::papers::proposal::writer::Writer;
use crate::price::case::FloorOption;
use crate::price::estimate::price::{Payment, payments};
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
            visits: option.estimate.schedule.visit_days(),
            additions: additions(w, option),
            payments: payment_steps(option.quote.total, w.case.shop),
        });
        Ok(Self {
            readings: dishes.chain(probes).collect(),
            area_m2: (area(form.take_off.floor), area(form.take_off.upright)),
            recommended: form.recommendation.recommended.map(|key| key.0),
            currency: form.currency,
            customer: w.case.job.customer.full_name().into_owned(),
            address: w.case.job.customer.address.clone(),
            start: w.start().map(RecordDate),
            valid_until: Some(RecordDate(w.case.book.terms.valid_until(w.case.job.date))),
            warranty: Some(w.case.shop.warranty.clone()),
            asked: w.case.job.asked.iter().map(AskedFor::from).collect(),
            order: None,
            beside: 0,
            additions: vec![],
            floors: offered.collect(),
        })
    }
}

/// The additions of a floor that may be ticked, each with what it adds.
fn additions(w: &Writer<'_>, option: &FloorOption<'_>) -> Vec<OfferedAddition> {
    let additions = option.quote.could_add.iter().map(|addition| OfferedAddition {
        key: addition.addition.0.clone(),
        name: w.addition_name(&option.floor, addition),
        adds: addition.adds.0,
        days: addition.days,
    });
    additions.collect()
}

/// The payments of a total, as a record keeps them.
pub fn payment_steps(total: Cents, shop: &Shop) -> Vec<Step> {
    let steps = payments(total, &shop.payments, &shop.limits).into_iter();
    steps.map(|Payment { when, amount }| Step { when, amount: amount.0 }).collect()
}
