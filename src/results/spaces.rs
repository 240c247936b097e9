//! The spaces of a job that has several, in the results: each with what a job of one space has, its
//! share of the price, and the price of the whole.

use schemars::JsonSchema;
use serde::Serialize;

use crate::base::money::Cents;
use crate::base::names::Key;
use crate::issued::{AskedFor, Facts, Offered, OfferedAddition, RecordDate};
use crate::model::space::SpaceKind;
use crate::papers::proposal::Spaces;
use crate::papers::proposal::writer::Writer;
use crate::price::estimate::price::{self, Payment};
use crate::results::cost::Cost;
use crate::results::customer::CustomerFloor;
use crate::results::facts::payment_steps;
use crate::results::findings::Finding;
use crate::results::laid::{CustomerLaid, ShopLaid};
use crate::results::moisture::Moisture;
use crate::results::recommendation::{EvenChance, Recommendation};
use crate::results::shop::ShopFloor;
use crate::results::slab::Air;
use crate::results::work::{Mended, Repair};
use crate::say::words::WordsError;
use crate::site::take_off::TakeOff;

/// A space of a job that has several, as the shop may know it.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ShopSpace {
    #[serde(flatten)]
    pub space: SpaceFacts,
    /// Cracks, joints, holes and coves.
    pub repairs: Vec<Repair>,
    /// Every floor on offer for it. Cost, work and materials are of the whole visit with that floor.
    pub floors: Vec<ShopFloor>,
    /// Every finding, most serious first.
    pub findings: Vec<Finding>,
    /// Its floor as it was laid; null without a record.
    pub laid: Option<ShopLaid>,
}

/// A space of a job that has several, as its customer may know it.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CustomerSpace {
    #[serde(flatten)]
    pub space: SpaceFacts,
    /// Cracks, joints, holes and coves.
    pub repairs: Vec<Mended>,
    /// Every floor on offer for it, with its price in this space.
    pub floors: Vec<CustomerFloor>,
    /// Findings, most serious first.
    pub findings: Vec<Finding>,
    /// Its floor as it was laid; null without a record.
    pub laid: Option<CustomerLaid>,
}

/// What everybody may know of a space.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct SpaceFacts {
    /// Its name, as typed.
    pub name: String,
    /// Its kind.
    pub kind: SpaceKind,
    /// True where sun, rain and dew reach it.
    pub outdoors: bool,
    /// Its share of the price, for the floor that comes first; null where none has a price.
    pub share: Option<Share>,
    /// Its slab, summed up.
    pub take_off: TakeOff,
    /// Results of its moisture tests.
    pub moisture: Moisture,
    /// Its air and dew point; null when nobody measured them.
    pub air: Option<Air>,
    #[serde(flatten)]
    pub recommendation: Recommendation,
    /// For each pair of an offered floor without a barrier and one with.
    pub even_chances: Vec<EvenChance>,
}

/// A space's share of the price. The shares of all spaces sum to the price of the whole.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Share {
    /// Before tax.
    pub price: Cents,
    /// Its part of the tax.
    pub tax: Cents,
    /// Both together.
    pub total: Cents,
}

/// The price of all spaces together, with the floor that comes first in each.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Whole {
    /// The floor of each space, in their order; null for one that has none with a price.
    pub floors: Vec<Option<Key>>,
    /// Price of all floors, before items, discount and tax.
    pub price: Cents,
    /// Items in the price, before tax.
    pub items: Cents,
    /// The amount that comes off.
    pub discount: Cents,
    /// Tax on all of that.
    pub tax: Cents,
    /// Price for the customer in all.
    pub total: Cents,
    /// Days on which the crew comes.
    pub days: u32,
}

impl Whole {
    pub fn of(s: &Spaces<'_>) -> Option<Self> {
        let whole = s.judged.price.as_ref()?;
        Some(Self {
            floors: whole.floors.clone(),
            price: whole.estimate.price,
            items: whole.bill.items.iter().map(|item| item.price).sum(),
            discount: whole.bill.discount,
            tax: whole.bill.tax,
            total: whole.bill.total(),
            days: whole.estimate.days,
        })
    }
}

/// Cost and profit of all spaces together.
pub fn cost(s: &Spaces<'_>) -> Option<Cost> {
    let whole = s.judged.price.as_ref()?;
    let mut estimate = whole.estimate.clone();
    estimate.bill.clone_from(&whole.bill);
    Some((&estimate).into())
}

impl SpaceFacts {
    fn of(s: &Spaces<'_>, at: usize, w: &Writer<'_>) -> Self {
        let place = &s.job.spaces[at].place;
        let share = s.judged.price.as_ref().filter(|whole| whole.floors[at].is_some());
        let share = share.map(|whole| whole.shares[at]);
        Self {
            name: place.name.clone(),
            kind: place.kind,
            outdoors: place.outdoors,
            share: share.map(|share| Share {
                price: share.price,
                tax: share.tax,
                total: share.total(),
            }),
            take_off: w.case.site.take_off,
            moisture: Moisture::of(w),
            air: Air::of(w),
            recommendation: w.recommendation.into(),
            even_chances: EvenChance::all(w),
        }
    }
}

impl ShopSpace {
    /// # Errors
    /// [`WordsError`] when a check has no words, or uses a value that it is not given.
    pub fn all(s: &Spaces<'_>) -> Result<Vec<Self>, WordsError> {
        let one = |(at, w): (usize, &Writer<'_>)| {
            Ok(Self {
                space: SpaceFacts::of(s, at, w),
                repairs: Repair::all(w),
                floors: w.case.options.iter().map(|option| ShopFloor::of(w, option)).collect(),
                findings: Finding::all(w)?,
                laid: ShopLaid::of(w),
            })
        };
        s.writers.iter().enumerate().map(one).collect()
    }
}

impl CustomerSpace {
    /// # Errors
    /// [`WordsError`] when a check has no words, or uses a value that it is not given.
    pub fn all(s: &Spaces<'_>) -> Result<Vec<Self>, WordsError> {
        let one = |(at, w): (usize, &Writer<'_>)| {
            Ok(Self {
                space: SpaceFacts::of(s, at, w),
                repairs: Mended::all(w),
                floors: w.case.options.iter().map(|option| CustomerFloor::of(w, option)).collect(),
                findings: Finding::for_customer(w)?,
                laid: CustomerLaid::of(w),
            })
        };
        s.writers.iter().enumerate().map(one).collect()
    }
}

/// Payments of what may be signed for with the floors that are recommended.
pub fn payments(s: &Spaces<'_>) -> Vec<Payment> {
    let signable = s.signable();
    if signable == Cents::ZERO {
        return vec![];
    }
    let shop = s.w().case.shop;
    price::payments(signable, &shop.payments, &shop.limits)
}

/// All floors to coat and mend, of every space together.
pub fn take_off(s: &Spaces<'_>) -> TakeOff {
    let mut all = s.w().case.site.take_off;
    for w in &s.writers[1..] {
        let one = w.case.site.take_off;
        all.floor = all.floor + one.floor;
        all.upright = all.upright + one.upright;
        all.edge = all.edge + one.edge;
        all.cracks = all.cracks + one.cracks;
        all.filled_joints = all.filled_joints + one.filled_joints;
    }
    all
}

impl Facts {
    /// Facts of a job of several spaces: every floor under the name of its space, and the floors that come
    /// first together.
    ///
    /// # Errors
    /// [`WordsError`] as the customer form has them.
    pub fn of_spaces(s: &Spaces<'_>) -> Result<Self, WordsError> {
        let (mut floors, mut readings, mut together) = (vec![], vec![], vec![]);
        for (name, w) in s.named() {
            let own = Self::of(w)?;
            readings.extend(own.readings.into_iter().map(|reading| format!("{name}: {reading}")));
            if let Some(first) = w.recommended() {
                together.push((format!("{name} = {}", first.key()), w.the_name(first.key())));
            }
            floors.extend(own.floors.into_iter().map(|floor| Offered {
                key: Self::in_space(name, &floor.key),
                name: w.headed(name, &floor.name),
                ..floor
            }));
        }
        let area = take_off(s);
        let rounded = |area: crate::base::quantity::Area| {
            crate::base::quantity::rounded(area.as_square_meters())
        };
        let keys: Vec<String> = together.iter().map(|(key, _)| key.clone()).collect();
        let names: Vec<String> = together.iter().map(|(_, name)| name.clone()).collect();
        let recommended = (!keys.is_empty()).then(|| keys.join(", "));
        floors.extend(recommended.iter().map(|key| Offered {
            key: key.clone(),
            name: s.w().figures.list(&names),
            total: s.signable().0,
            days: s.judged.days(),
            visits: vec![],
            additions: vec![],
            payments: payment_steps(s.signable(), s.w().case.shop),
        }));
        let w = s.w();
        s.checked(Self {
            customer: s.job.customer.full_name().into_owned(),
            address: s.job.customer.address.clone(),
            currency: w.case.book.currency.clone(),
            recommended,
            start: w.start().map(RecordDate),
            readings,
            area_m2: (rounded(area.floor), rounded(area.upright)),
            valid_until: Some(RecordDate(w.case.book.terms.valid_until(s.job.date))),
            warranty: Some(w.case.shop.warranty.clone()),
            asked: s.job.asked.iter().map(AskedFor::from).collect(),
            order: None,
            beside: s.judged.price.as_ref().map_or(0, |price| price.beside().0),
            additions: whole_additions(s),
            floors,
        })
    }
}

/// The additions to the whole, each with what it adds.
fn whole_additions(s: &Spaces<'_>) -> Vec<OfferedAddition> {
    let could_add = s.judged.price.iter().flat_map(|price| &price.could_add);
    could_add
        .map(|(key, name, adds)| OfferedAddition {
            key: key.0.clone(),
            name: name.clone(),
            adds: adds.0,
            days: s.judged.days(),
        })
        .collect()
}
