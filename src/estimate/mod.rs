//! One floor's estimate: material, labour, cost, price. The shop's own view; of all this only
//! [`Quote`](crate::options::Quote) may reach a customer.

pub mod labour;
pub mod materials;
pub mod price;

use rust_decimal::Decimal;

use crate::book::{Book, TaxOn};
use crate::floor::Floor;
use crate::job::{Job, OldCoating};
use crate::money::{self, Cents};
use crate::quantity::Hours;
use crate::schedule::{self, Schedule};
use crate::site::Site;
use labour::{Task, Work};
use materials::MaterialLine;

/// Everything about what a floor costs the shop and earns it.
#[derive(Debug, Clone)]
pub struct Estimate {
    pub materials: Vec<MaterialLine>,
    pub labor: Vec<LaborLine>,
    pub consumables: Cents,
    pub per_job: Cents,
    /// Tax on what the shop buys, where its state taxes that.
    pub purchase_tax: Cents,
    /// All of the above.
    pub direct: Cents,
    pub overhead: Cents,
    pub cost: Cents,
    /// What the target margin asks for, before minimum and rounding.
    pub wanted: Cents,
    /// Price before the customer's tax.
    pub price: Cents,
    /// Tax on the price, where the customer pays it.
    pub tax: Cents,
    pub schedule: Schedule,
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
    pub fn total(&self) -> Cents {
        self.price.plus(self.tax)
    }

    pub fn hours(&self) -> Decimal {
        self.labor.iter().map(|line| line.hours).sum()
    }

    /// What is left of the price after all cost.
    pub fn profit(&self) -> Cents {
        self.price.minus(self.cost)
    }

    /// Profit as a share of the price; `None` for a price of zero.
    pub fn margin(&self) -> Option<Decimal> {
        self.profit().decimal().checked_div(self.price.decimal())
    }

    /// Profit for each day that the crew is on site.
    pub fn profit_per_day(&self) -> Cents {
        self.profit().times(Decimal::ONE / Decimal::from(self.schedule.days.max(1)))
    }
}

/// Works out one floor on one site. `old_coating` says whether there is one to take off.
pub fn estimate(
    floor: &Floor<'_>,
    job: &Job,
    site: &Site,
    book: &Book,
    old_coating: bool,
) -> Estimate {
    let crew = job.plan.crew.unwrap_or(book.labor.crew);
    let materials = materials::materials(floor, job, &site.take_off, book);
    let work = labour::work(floor, &site.take_off, &book.rates, old_coating);
    let slab = site.air.map(|air| air.slab);
    let schedule = schedule::schedule(&work, &book.labor, &book.rates, crew, slab);
    let labor = labor_lines(&work, &schedule, book);

    let bought: Cents = materials.iter().map(|line| line.cost).sum();
    let consumables = consumables(site, book);
    let purchase_tax = match book.terms.tax_on {
        TaxOn::Purchases => money::tax(bought.plus(consumables), book.terms.tax),
        TaxOn::Price | TaxOn::Nothing => Cents::ZERO,
    };
    let worked: Cents = labor.iter().map(|line| line.cost).sum();
    let direct: Cents =
        [bought, worked, consumables, book.terms.per_job, purchase_tax].into_iter().sum();
    let overhead = direct.times(book.terms.overhead);
    let cost = direct.plus(overhead);
    let (wanted, price) = price::price(cost, &book.terms);
    let tax = match book.terms.tax_on {
        TaxOn::Price => money::tax(price, book.terms.tax),
        TaxOn::Purchases | TaxOn::Nothing => Cents::ZERO,
    };
    Estimate {
        materials,
        labor,
        consumables,
        per_job: book.terms.per_job,
        purchase_tax,
        direct,
        overhead,
        cost,
        wanted,
        price,
        tax,
        schedule,
        crew,
    }
}

/// True when the job says that something has to be ground off first.
pub fn has_old_coating(job: &Job) -> bool {
    job.slab.coating.is_some_and(|coating| coating != OldCoating::Nothing)
}

fn consumables(site: &Site, book: &Book) -> Cents {
    let areas = site.take_off.coated() / book.terms.consumables_per;
    let areas = Decimal::try_from(areas).unwrap_or_default().round_dp(2);
    Cents::round(areas.checked_mul(book.terms.consumables).unwrap_or(Decimal::MAX))
}

fn labor_lines(work: &[Work<'_>], schedule: &Schedule, book: &Book) -> Vec<LaborLine> {
    let days = f64::from(schedule.days);
    let first = (Task::SetUp, book.rates.set_up * days);
    let last = (Task::CleanUp, book.rates.clean_up * days);
    let tasks = work.iter().map(|piece| (piece.task.clone(), piece.hours));
    std::iter::once(first)
        .chain(tasks)
        .chain(std::iter::once(last))
        .map(|(task, hours)| labor_line(task, hours, book))
        .collect()
}

fn labor_line(task: Task, hours: Hours, book: &Book) -> LaborLine {
    let hours = Decimal::try_from(hours.as_hours()).unwrap_or_default().round_dp(2);
    let rate = book.labor.wage * (Decimal::ONE + book.labor.burden);
    LaborLine { task, hours, cost: Cents::round(hours.checked_mul(rate).unwrap_or(Decimal::MAX)) }
}
