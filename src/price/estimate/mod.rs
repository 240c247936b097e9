//! One floor's estimate: material, labor, cost, price. The shop's own view; of all this only
//! [`Quote`](crate::price::case::Quote) may reach a customer.

pub mod labor;
pub mod materials;
pub mod price;

use rust_decimal::{Decimal, RoundingStrategy};

use crate::base::calendar::{Calendar, Clock};
use crate::base::money::{self, Cents};
use crate::base::names::Key;
use crate::base::quantity::{Area, Hours, Temperature, Volume};
use crate::model::book::{Book, PriceTerms, TaxOn};
use crate::model::job::{Job, OldCoating};
use crate::price::batches::{self, Batches, Laying};
use crate::price::floor::{CoatStuff, Floor};
use crate::price::repair::{self, Repair};
use crate::price::schedule::{self, Crew, Schedule, SpaceWork};
use crate::price::visit::{Beside, SpaceFloor};
use crate::site::Site;
use crate::site::take_off::TakeOff;
use labor::{Substrate, Task, Work, WorkCrew};
use materials::{CoatNeed, KitMeasure, MaterialLine, ProductNeed};
use price::{Bill, PricedItem};

/// Everything about what a floor costs the shop and earns it.
#[derive(Debug, Clone)]
pub struct Estimate {
    /// Need of each coat, bottom coat first.
    pub coats: Vec<CoatNeed>,
    pub materials: Vec<MaterialLine>,
    pub labor: Vec<LaborLine>,
    pub consumables: Cents,
    /// Blades and disposal where an old coating comes off.
    pub removal: Cents,
    pub per_job: Cents,
    /// Tax on what the shop buys, where its state taxes that.
    pub purchase_tax: Cents,
    /// All of the above.
    pub direct: Cents,
    pub overhead: Cents,
    pub cost: Cents,
    /// Price at the target margin, before minimum and rounding.
    pub wanted: Cents,
    /// Price of the floor with its extras, before items, discount and the customer's tax.
    pub price: Cents,
    pub bill: Bill,
    /// The days of this floor; in one space of several those on which the crew works there.
    pub schedule: Schedule,
    /// Days on which the crew comes in all.
    pub days: u32,
    /// Batches of each liquid coat.
    pub batches: Vec<(Key, Batches)>,
    pub crew: u32,
}

/// One task's hours (of one person, to the hundredth) and what they cost.
#[derive(Debug, Clone)]
pub struct LaborLine {
    pub task: Task,
    pub hours: Decimal,
    pub cost: Cents,
}

impl Estimate {
    /// Price for the customer in all.
    pub fn total(&self) -> Cents {
        self.bill.total()
    }

    /// Cost of the floor and of the items in its price.
    pub fn cost_in_all(&self) -> Cents {
        self.cost.plus(self.bill.items_cost())
    }

    pub fn hours(&self) -> Decimal {
        self.labor.iter().map(|line| line.hours).sum()
    }

    /// All that is mixed of a liquid coat, loss included.
    pub fn coat_volume(&self, coat: &Key) -> Option<Volume> {
        self.coats.iter().find(|need| need.coat == *coat).and_then(|need| match need.need {
            ProductNeed::Liquid(volume) => Some(volume),
            ProductNeed::Flake { .. } | ProductNeed::Solid(_) => None,
        })
    }

    /// Returns the rest of the price after all cost.
    pub fn profit(&self) -> Cents {
        self.bill.net.minus(self.cost_in_all())
    }

    /// Profit as a share of the price; `None` for a price of zero.
    pub fn margin(&self) -> Option<Decimal> {
        self.profit().decimal().checked_div(self.bill.net.decimal())
    }

    /// Profit for each day that the crew is on site.
    pub fn profit_per_day(&self) -> Cents {
        self.profit().times(Decimal::ONE / Decimal::from(self.days.max(1)))
    }
}

/// Basis of an estimate.
#[derive(Debug, Clone, Copy)]
pub struct EstimateInput<'a> {
    pub job: &'a Job,
    pub site: &'a Site,
    pub book: &'a Book,
    pub calendar: &'a Calendar,
    /// There is a coating that has to come off first.
    pub old_coating: bool,
    /// The other spaces of the visit. Material, work, cost and price are then of all of them.
    pub beside: Beside<'a>,
}

impl<'a> EstimateInput<'a> {
    /// The slab as the job found it.
    pub fn new(job: &'a Job, site: &'a Site, book: &'a Book, calendar: &'a Calendar) -> Self {
        let beside = Beside::default();
        Self { job, site, book, calendar, old_coating: has_old_coating(job), beside }
    }

    /// The same beside other spaces.
    pub fn beside(self, beside: Beside<'a>) -> Self {
        Self { beside, ..self }
    }
}

/// Works out one floor on one site.
pub fn estimate(floor: &Floor<'_>, given: EstimateInput<'_>) -> Estimate {
    estimate_over(floor, given, substrate(given.old_coating))
}

fn substrate(old_coating: bool) -> Substrate {
    if old_coating { Substrate::OldCoating } else { Substrate::Concrete }
}

/// A floor in its space, with what it needs.
struct FloorNeeds<'a> {
    floor: &'a Floor<'a>,
    take_off: &'a TakeOff,
    slab: Option<Temperature>,
    under: Substrate,
    repairs: Vec<Repair<'a>>,
    coats: Vec<CoatNeed>,
}

impl<'a> FloorNeeds<'a> {
    fn new(
        floor: &'a Floor<'a>,
        job: &'a Job,
        take_off: &'a TakeOff,
        slab: Option<Temperature>,
        under: Substrate,
        book: &'a Book,
    ) -> Self {
        let repairs = repair::repairs(&job.shapes, book);
        let coats = materials::coats(floor, job, take_off, book, &repairs);
        Self { floor, take_off, slab, under, repairs, coats }
    }

    /// A floor of another space.
    fn beside(floor: &'a Floor<'a>, space: &'a SpaceFloor<'a>, book: &'a Book) -> Self {
        let under = substrate(has_old_coating(space.job));
        Self::new(floor, space.job, &space.take_off, space.slab, under, book)
    }
}

/// Works out a floor over something that may be other than what the job found.
pub fn estimate_over(floor: &Floor<'_>, given: EstimateInput<'_>, under: Substrate) -> Estimate {
    let EstimateInput { job, site, book, .. } = given;
    let persons = job.plan.crew.unwrap_or(book.labor.crew);
    let Beside { before, after } = given.beside;
    let others: Vec<Floor<'_>> =
        before.iter().chain(after).map(|one| Floor::new(one.system, book, &one.extras)).collect();
    let (floors_before, floors_after) = others.split_at(before.len());
    // In the order in which they are laid.
    let slab = site.air.map(|air| air.slab);
    let mut spaces: Vec<FloorNeeds<'_>> = floors_before
        .iter()
        .zip(before)
        .map(|(floor, space)| FloorNeeds::beside(floor, space, book))
        .collect();
    let own = spaces.len();
    spaces.push(FloorNeeds::new(floor, job, &site.take_off, slab, under, book));
    let after = floors_after.iter().zip(after);
    spaces.extend(after.map(|(floor, space)| FloorNeeds::beside(floor, space, book)));

    let needs = spaces.iter().map(|one| (one.coats.as_slice(), one.repairs.as_slice()));
    let materials = materials::materials(needs, book);
    let mut batches: Vec<Vec<(Key, Batches)>> =
        spaces.iter().map(|one| coat_batches(one, &materials, book, persons)).collect();
    let work: Vec<Vec<Work<'_>>> = spaces
        .iter()
        .zip(&batches)
        .map(|(one, batches)| {
            let at_work = WorkCrew { persons, batches };
            labor::work(one.floor, one.take_off, &book.rates, &one.repairs, one.under, at_work)
        })
        .collect();
    let clock = Clock { calendar: given.calendar, start: job.plan.start };
    let crew = Crew { labor: &book.labor, rates: &book.rates, persons, clock };
    let in_spaces: Vec<SpaceWork<'_>> =
        spaces.iter().zip(&work).map(|(one, work)| SpaceWork { work, slab: one.slab }).collect();
    let mut visit = schedule::visit(&in_spaces, crew);
    let labor = labor_lines(work.iter().flatten(), visit.days, book);

    let bought: Cents = materials.iter().map(|line| line.cost).sum();
    let terms = &book.terms;
    let consumables = spaces
        .iter()
        .map(|one| by_area(one.take_off.coated(), terms.consumables_per, terms.consumables))
        .sum();
    let removal = spaces.iter().map(|one| removal(one, terms)).sum();
    let supplies = bought.plus(consumables).plus(removal);
    let purchase_tax = match terms.tax_on {
        TaxOn::Purchases => money::tax(supplies, terms.tax),
        TaxOn::Price | TaxOn::Nothing => Cents::ZERO,
    };
    let worked: Cents = labor.iter().map(|line| line.cost).sum();
    let direct: Cents = [supplies, worked, terms.per_job, purchase_tax].into_iter().sum();
    let overhead = direct.times(terms.overhead);
    let cost = direct.plus(overhead);
    let (wanted, price) = price::price(cost, terms);
    let key = &floor.system.key;
    let items = price::items_of(job, key);
    let items = items.iter().filter_map(|item| PricedItem::of(item, terms)).collect();
    let bill = Bill::of(price, items, key, job, terms);
    Estimate {
        coats: spaces.swap_remove(own).coats,
        materials,
        labor,
        consumables,
        removal,
        per_job: terms.per_job,
        purchase_tax,
        direct,
        overhead,
        cost,
        wanted,
        price,
        bill,
        schedule: visit.spaces.swap_remove(own),
        days: visit.days,
        batches: batches.swap_remove(own),
        crew: persons,
    }
}

/// Cost of taking off what lies on a slab.
fn removal(space: &FloorNeeds<'_>, terms: &PriceTerms) -> Cents {
    let floor = space.take_off.floor;
    match space.under {
        Substrate::Concrete | Substrate::SoundFloor => Cents::ZERO,
        Substrate::OldCoating => by_area(floor, terms.removal_per, terms.removal),
        Substrate::FailedFloor => by_area(floor, terms.strip_per, terms.strip),
    }
}

/// The batches of every liquid coat, in the order of the coats.
fn coat_batches(
    space: &FloorNeeds<'_>,
    materials: &[MaterialLine],
    book: &Book,
    persons: u32,
) -> Vec<(Key, Batches)> {
    let FloorNeeds { floor, take_off, slab, coats, .. } = space;
    let mut all = vec![];
    for (at, coat) in floor.coats.iter().enumerate() {
        let CoatStuff::Resin(resin) = coat.stuff else { continue };
        let need = coats.iter().find(|need| need.coat == coat.spec.key);
        let Some(need) = need else { continue };
        let ProductNeed::Liquid(volume) = need.need else { continue };
        let bought = materials.iter().find(|line| line.product == need.product);
        let kits = bought.into_iter().flat_map(|line| &line.buy);
        let kit = kits
            .filter_map(|(_, size)| match size {
                KitMeasure::Volume(volume) => Some(*volume),
                KitMeasure::Mass(_) => None,
            })
            .reduce(Volume::min);
        let laying = Laying {
            resin,
            volume,
            area: take_off.coated(),
            rolling: labor::laying(take_off, &book.rates, coat.spec.lay),
            throwing: labor::throwing(floor, at, take_off, &book.rates),
            persons,
            pot_life: schedule::planning_times(resin, *slab).times.pot_life,
            kit: kit.or_else(|| resin.kits.iter().map(|kit| kit.size).reduce(Volume::min)),
        };
        all.push((coat.spec.key.clone(), batches::batches(laying, &book.mixing)));
    }
    all
}

/// True when the job says that something has to be ground off first.
pub fn has_old_coating(job: &Job) -> bool {
    job.slab.coating.is_some_and(|coating| coating != OldCoating::Nothing)
}

/// Money for an area, the area to the hundredth of what the rate is for.
fn by_area(area: Area, per: Area, rate: Decimal) -> Cents {
    let areas = to_hundredths(area / per);
    Cents::round(areas.checked_mul(rate).unwrap_or(Decimal::MAX))
}

/// A number to the hundredth, half away from zero, as all money is.
fn to_hundredths(value: f64) -> Decimal {
    let exact = Decimal::try_from(value).unwrap_or_default();
    exact.round_dp_with_strategy(2, RoundingStrategy::MidpointAwayFromZero)
}

fn labor_lines<'a>(
    work: impl Iterator<Item = &'a Work<'a>>,
    days: u32,
    book: &Book,
) -> Vec<LaborLine> {
    let days = f64::from(days);
    let first = (Task::SetUp, book.rates.set_up * days);
    let last = (Task::CleanUp, book.rates.clean_up * days);
    let tasks = work.map(|piece| (piece.task.clone(), piece.hours));
    std::iter::once(first)
        .chain(tasks)
        .chain(std::iter::once(last))
        .map(|(task, hours)| labor_line(task, hours, book))
        .collect()
}

fn labor_line(task: Task, hours: Hours, book: &Book) -> LaborLine {
    let hours = to_hundredths(hours.as_hours());
    let rate = book.labor.burdened_rate();
    LaborLine { task, hours, cost: Cents::round(hours.checked_mul(rate).unwrap_or(Decimal::MAX)) }
}
