//! The floors on offer, each priced and held against what was measured.

use schemars::JsonSchema;
use serde::Serialize;

use crate::base::money::Cents;
use crate::base::names::Key;
use crate::base::quantity::{Humidity, Mver};
use crate::base::source::Located;
use crate::model::book::{Book, GroundContact, MoistureTestAsked, Resin};
use crate::model::choices::{self, AdditionKind};
use crate::model::job::{Job, Known, Slab};
use crate::model::shop::Shop;
use crate::price::estimate::price::{PricedItem, addition};
use crate::price::estimate::{self, Estimate, EstimateInput};
use crate::price::floor::Floor;
use crate::price::ventilation::{CoatAir, coat_air};
use crate::price::visit::OtherSpaces;
use crate::read::Input;
use crate::site::standing::{
    FloorMoisture, JudgingTerms, MoistureLimit, MoistureTerms, Standing, floor_moisture,
};
use crate::site::{self, Site};

/// A job with everything that was worked out before judging it.
#[derive(Debug, Clone)]
pub struct Case<'a> {
    pub job: &'a Job,
    pub book: &'a Book,
    pub shop: &'a Shop,
    pub site: Site,
    /// In the order in which the job offers them.
    pub options: Vec<FloorOption<'a>>,
    /// The other spaces, where the job is one of several.
    pub others: OtherSpaces<'a>,
}

/// One floor on offer.
#[derive(Debug, Clone)]
pub struct FloorOption<'a> {
    pub floor: Floor<'a>,
    pub estimate: Estimate,
    pub quote: Quote,
    pub moisture: FloorMoisture,
    pub ground: Ground,
}

impl FloorOption<'_> {
    /// True when a damper slab than was found would not reach the floor: it has a vapor barrier, or
    /// the slab is not on the ground, or a plastic sheet is known beneath it.
    pub fn is_safe(&self, slab: &Slab) -> bool {
        self.floor.has_barrier() || !slab.open_to_ground()
    }

    pub fn key(&self) -> &Key {
        &self.floor.system.key
    }
}

/// The prices that a customer may see. Floor, extras and items, less the discount, with tax are the total.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Quote {
    /// The floor without extras, before tax.
    #[serde(rename = "floor_price")]
    pub floor: Cents,
    /// Extras that are included.
    pub extras: Vec<Extra>,
    /// Items that are included.
    pub items: Vec<Item>,
    /// Taken off floor, extras and items, before tax; zero without a discount.
    pub discount: Cents,
    /// Tax on the price; zero where the customer pays none.
    pub tax: Cents,
    /// Price for the customer in all.
    pub total: Cents,
    /// Additions that may still be ticked.
    pub could_add: Vec<CouldAdd>,
}

/// An item that the price includes.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Item {
    /// Its name, as typed.
    pub item: String,
    /// Its price, before tax.
    pub price: Cents,
}

/// An extra that the price includes.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Extra {
    /// The extra's key.
    pub extra: Key,
    /// Its part of the price, before tax.
    pub price: Cents,
}

/// An addition that a customer may tick: its price, its time and what it brings with it.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct CouldAdd {
    /// Its key, which `[accepted]` names.
    pub addition: Key,
    /// Its name as the job gives it; null where the floor system names it.
    pub name: Option<String>,
    /// The extra of the floor system whose coats it adds; null for an item.
    pub extra: Option<Key>,
    /// Addition to the total, tax included.
    pub adds: Cents,
    /// Days on site with it.
    pub days: u32,
    /// It brings a flammable solvent; null where the price book does not say of each of its coats.
    pub flammable: Option<bool>,
    /// One of its coats may give off a vapor of which nobody has said if it can catch fire.
    #[serde(skip)]
    pub solvent_unknown: bool,
    /// It brings isocyanates.
    pub isocyanate: bool,
}

/// Works out everything about a job up to the judging.
pub fn case(input: &Input) -> Case<'_> {
    case_of(&input.job, input, OtherSpaces::default())
}

/// The same for one space, which is a job of its own, beside the floors of the others. An estimate is
/// then of the whole visit, and a quote what the whole costs with that floor.
pub fn case_of<'a>(job: &'a Job, input: &'a Input, others: OtherSpaces<'a>) -> Case<'a> {
    let Input { book, shop, systems, .. } = input;
    let site = site::site(job, &shop.testing);
    let on = EstimateInput::new(job, &site, book, &shop.calendar).beside(others.beside());
    let open_to_ground = job.slab.open_to_ground();
    let setting = JudgingTerms { testing: &shop.testing, date: job.date, open_to_ground };
    let options = job
        .offer
        .iter()
        .filter_map(|name| systems.iter().find(|system| system.key == name.value))
        .map(|system| {
            let floor = Floor::new(system, book, &Floor::chosen_extras(job, &system.key));
            let estimate = estimate::estimate(&floor, on);
            let quote = quote(&floor, &estimate, on, shop);
            let moisture = floor_moisture(moisture_terms(&floor), &site.moisture, setting);
            let ground = ground(&floor, &job.slab, &moisture);
            FloorOption { floor, estimate, quote, moisture, ground }
        })
        .collect();
    Case { job, book, shop, site, options, others }
}

/// Splits a floor's price into the lines that the customer sees. What an extra costs is the
/// difference that it makes to the whole, by the same estimate.
fn quote(floor: &Floor<'_>, whole: &Estimate, on: EstimateInput<'_>, shop: &Shop) -> Quote {
    let book = on.book;
    let priced = |extras: &[Key]| {
        let floor = Floor::new(floor.system, book, extras);
        estimate::estimate(&floor, on)
    };
    let base = if floor.extras.is_empty() { whole.price } else { priced(&[]).price };
    let mut before = base;
    let mut extras = vec![];
    for at in 0..floor.extras.len() {
        let with = if at + 1 == floor.extras.len() {
            whole.price
        } else {
            priced(&floor.extras[..=at]).price
        };
        extras.push(Extra { extra: floor.extras[at].clone(), price: with.minus(before) });
        before = with;
    }
    let with_extra = |addition: Key, name: Option<String>, extra: Key| {
        let mut chosen = floor.extras.clone();
        chosen.push(extra.clone());
        let with = priced(&chosen);
        let resins: Vec<&Resin> = resins_of(&extra, floor, book);
        CouldAdd {
            addition,
            name,
            extra: Some(extra),
            adds: with.total().minus(whole.total()),
            days: with.schedule.days,
            flammable: flammable(&resins),
            solvent_unknown: resins.iter().any(|resin| resin.solvent_unknown()),
            isocyanate: resins.iter().any(|resin| resin.isocyanate),
        }
    };
    let could_add = not_included(floor, on.job).into_iter().filter_map(|one| match one.what {
        AdditionKind::Extra(extra) => may_be_sold(&extra.value, floor, book, shop)
            .then(|| with_extra(one.key, one.name, extra.value)),
        AdditionKind::Item(priced) => {
            let item = choices::Item { name: String::new(), priced: Some(priced) };
            let price = PricedItem::of(&item, &book.terms)?.price;
            let adds = addition(price, &floor.system.key, on.job, &book.terms);
            Some(CouldAdd {
                addition: one.key,
                name: one.name,
                extra: None,
                adds,
                days: whole.schedule.days,
                flammable: Some(false),
                solvent_unknown: false,
                isocyanate: false,
            })
        }
    });
    let item = |item: &PricedItem| Item { item: item.name.clone(), price: item.price };
    Quote {
        floor: base,
        extras,
        items: whole.bill.items.iter().map(item).collect(),
        discount: whole.bill.discount,
        tax: whole.bill.tax,
        total: whole.total(),
        could_add: could_add.collect(),
    }
}

/// An addition that is not in the price of a floor; without a name where the floor system names it.
struct NotIncluded {
    key: Key,
    name: Option<String>,
    what: AdditionKind,
}

/// Returns what may be ticked with a floor: the job's additions, then the extras of its system that none of
/// them names.
fn not_included(floor: &Floor<'_>, job: &Job) -> Vec<NotIncluded> {
    let others = floor.other_extras();
    let system = &floor.system.key;
    let is_named = |key: &Key| {
        job.additions.iter().any(|one| match &one.what {
            AdditionKind::Extra(extra) => {
                one.key == *key || (extra.value == *key && one.is_for(system))
            }
            AdditionKind::Item(_) => one.key == *key,
        })
    };
    let of_system = others.iter().filter(|key| !is_named(key)).map(|key| {
        let extra = Located { value: key.clone(), span: job.span.clone() };
        NotIncluded { key: key.clone(), name: None, what: AdditionKind::Extra(extra) }
    });
    let ticked = job.ticked(&floor.system.key);
    let open = job.additions.iter().filter(|one| {
        let may = match &one.what {
            AdditionKind::Extra(extra) => others.contains(&extra.value),
            AdditionKind::Item(_) => !ticked.iter().any(|key| key.value == one.key),
        };
        may && one.is_for(&floor.system.key)
    });
    open.map(|one| NotIncluded {
        key: one.key.clone(),
        name: Some(one.name.clone()),
        what: one.what.clone(),
    })
    .chain(of_system)
    .collect()
}

/// Returns true when one of these coats gives off a vapor that can catch fire: one is enough, and
/// none only where that is said of each.
fn flammable(resins: &[&Resin]) -> Option<bool> {
    let said: Vec<Option<bool>> = resins.iter().map(|resin| resin.flammable()).collect();
    if said.contains(&Some(true)) {
        return Some(true);
    }
    said.iter().all(Option::is_some).then_some(false)
}

/// False for an extra with a coat over the shop's local limit on volatile organic compounds: it
/// must not be put up for sale.
fn may_be_sold(extra: &Key, floor: &Floor<'_>, book: &Book, shop: &Shop) -> bool {
    let mut contents = resins_of(extra, floor, book).into_iter().filter_map(|resin| resin.voc);
    shop.limits.voc.is_none_or(|limit| contents.all(|voc| voc <= limit))
}

/// The liquid coats that an extra adds to a floor.
fn resins_of<'b>(extra: &Key, floor: &Floor<'_>, book: &'b Book) -> Vec<&'b Resin> {
    let coats = floor.system.coats.iter().filter(|coat| coat.extra.as_ref() == Some(extra));
    coats.filter_map(|coat| book.product(&coat.product.value)?.resin()).collect()
}

/// The coats of a floor that give off a flammable vapor, with the air that each needs.
pub fn coat_airs(case: &Case<'_>, option: &FloorOption<'_>) -> Vec<(Key, CoatAir)> {
    let floor = case.site.take_off.floor;
    let (height, fan) = (case.job.garage.height, case.shop.fan);
    option
        .floor
        .resins()
        .filter_map(|(coat, resin)| {
            let key = &coat.spec.key;
            let (_, batches) = option.estimate.batches.iter().find(|(coat, _)| coat == key)?;
            let (used, over) = (option.estimate.coat_volume(key)?, batches.spread_in());
            Some((key.clone(), coat_air(resin, used, over, floor, height, fan)?))
        })
        .collect()
}

/// The moisture terms of a floor: the lowest limits of the coats up to the first vapor barrier.
fn moisture_terms(floor: &Floor<'_>) -> MoistureTerms {
    let below = || floor.up_to_barrier();
    let first = floor.first();
    let mver = below().filter_map(|resin| resin.mver_limit).reduce(Mver::min);
    let rh = below().filter_map(|resin| resin.rh_limit).reduce(Humidity::min);
    MoistureTerms {
        barrier: floor.has_barrier(),
        test: first.map_or(MoistureTestAsked::Either, |resin| resin.moisture_test),
        mver: mver.map(|value| MoistureLimit {
            value,
            of_first_coat: first.is_some_and(|resin| resin.mver_limit.is_some()),
        }),
        rh: rh.map(|value| MoistureLimit {
            value,
            of_first_coat: first.is_some_and(|resin| resin.rh_limit.is_some()),
        }),
    }
}

/// Standing of a floor to its data sheets' condition for a slab on the ground.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ground {
    /// No coat asks for anything here, or what it asks for is there.
    Met,
    /// A coat asks for a plastic sheet or a clear moisture test, and a test may still be clear.
    Waits,
    /// A coat's condition is not met.
    Unmet(GroundContact),
}

/// Holds the ground-contact terms of a floor's coats against the slab.
fn ground(floor: &Floor<'_>, slab: &Slab, moisture: &FloorMoisture) -> Ground {
    if !slab.on_ground {
        return Ground::Met;
    }
    let sheet = slab.retarder == Known::Yes;
    let may_be_clear = moisture.standing == Standing::NotJudged && !moisture.cannot_be_clear();
    let one = |asked: GroundContact| match asked {
        GroundContact::Any => Ground::Met,
        GroundContact::Barrier if floor.has_barrier() => Ground::Met,
        GroundContact::Sheet | GroundContact::SheetOrTest if sheet => Ground::Met,
        GroundContact::SheetOrTest if moisture.standing == Standing::Clear => Ground::Met,
        // A further test must not make a floor worse that no test can clear: it does not wait for one.
        GroundContact::SheetOrTest if may_be_clear => Ground::Waits,
        unmet => Ground::Unmet(unmet),
    };
    let all: Vec<Ground> =
        floor.up_to_barrier().filter_map(|resin| resin.ground_contact).map(one).collect();
    let unmet = all.iter().find(|ground| matches!(ground, Ground::Unmet(_)));
    let waits = all.iter().find(|ground| matches!(ground, Ground::Waits));
    unmet.or(waits).copied().unwrap_or(Ground::Met)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::price::testing::{Sample, sample};

    /// Keys of what may be ticked with a floor, with the extra behind it and its price.
    fn may_tick(sample: &Sample, floor: &str) -> Vec<(String, bool, Cents)> {
        sample.with_case(|case| {
            let option = case.options.iter().find(|option| option.key().0 == floor).unwrap();
            let all = option.quote.could_add.iter();
            all.map(|one| (one.addition.0.clone(), one.extra.is_some(), one.adds)).collect()
        })
    }

    fn keys(sample: &Sample, floor: &str) -> Vec<String> {
        may_tick(sample, floor).into_iter().map(|(key, ..)| key).collect()
    }

    const GRIP: &str =
        "{ key = \"grip\", name = \"Grip\", price = \"$95.00\", floors = [\"barrier\"] }";

    /// $95.00 with a tax of 6.5 % are $101.175, rounded to $101.18 (by hand).
    #[test]
    fn an_addition_may_be_ticked_with_the_floors_that_it_is_for() {
        let grip = sample().job("addition", &format!("[{GRIP}]"));
        assert_eq!(may_tick(&grip, "barrier"), [("grip".to_owned(), false, Cents(10_118))]);
        assert_eq!(keys(&grip, "fast-cure"), [] as [&str; 0]);
        // A discount of 5 % is one of this too: $90.25 and a tax of $5.87. One of an amount is taken off once.
        let off =
            |off: &str| grip.clone().job("discount", &format!("{{ {off}, reason = \"why\" }}"));
        assert_eq!(may_tick(&off("percent = \"5 %\""), "barrier")[0].2, Cents(9_612));
        assert_eq!(may_tick(&off("amount = \"$50.00\""), "barrier")[0].2, Cents(10_118));
        // Once ticked it is in the price, and nothing is left to tick.
        let signed =
            "{ revision = 1, floor = \"barrier\", on = 2026-05-20, additions = [\"grip\"] }";
        assert_eq!(keys(&grip.job("accepted", signed), "barrier"), [] as [&str; 0]);
    }

    /// The extra of a floor system goes by its own key, or by that of the addition that names it: once.
    #[test]
    fn an_extra_is_offered_once() {
        assert_eq!(keys(&sample(), "clear-epoxy"), ["urethane-coat"]);
        let harder = "{ key = \"harder\", name = \"A harder coat\", extra = \"urethane-coat\" }";
        let named = sample().job("addition", &format!("[{harder}, {GRIP}]"));
        assert_eq!(keys(&named, "clear-epoxy"), ["harder"]);
        assert_eq!(keys(&named, "barrier"), ["grip"]);
        assert_eq!(may_tick(&named, "clear-epoxy")[0].2, may_tick(&sample(), "clear-epoxy")[0].2);
        // An extra that is included is not offered again.
        let included = sample().job("extras", "{ clear-epoxy = [\"urethane-coat\"] }");
        assert_eq!(keys(&included, "clear-epoxy"), [] as [&str; 0]);
    }

    /// The urethane coat of the example has 335 g/L: where the law allows less it is not put up for sale.
    #[test]
    fn an_extra_over_the_local_limit_is_not_for_sale() {
        let limit = |grams: &str| {
            let shop = sample().shop("limits.voc", &format!("\"{grams} g/L\""));
            let shop = shop.shop("limits.voc-source", "\"A rule of the test\"");
            keys(&shop.shop("limits.voc-checked", "2026-05-04"), "clear-epoxy")
        };
        assert_eq!(limit("335"), ["urethane-coat"]);
        assert_eq!(limit("334"), [] as [&str; 0]);
    }
}
