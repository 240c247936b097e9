//! The differences between two inputs, in the order in which they are carried over: products by
//! key, labor, rates, preparation, repair, mixing, terms, tax; then systems, what is left of the
//! book, shop, job.

use std::collections::BTreeSet;

use crate::base::money::Cents;
use crate::base::names::Key;
use crate::model::book::{Book, Stuff};
use crate::read::Input;
use crate::reprice::{CauseKind, ChangedThing, KitMeasure};

/// One difference.
#[derive(Debug, Clone, Copy)]
pub enum Difference<'a> {
    /// Prices of sizes that are sold before and after.
    ProductPrice(&'a Key),
    KitSizes(&'a Key),
    ProductFigures(&'a Key),
    /// A product that is new in the book. Nothing is made of it until the systems change.
    NewProduct(&'a Key),
    Term(&'static Term),
    Systems,
    RestOfBook,
    Shop,
    /// Items and additions of the job.
    Items,
    Discount,
    /// The customer pays no tax, or pays it again.
    TaxExempt,
    Job,
}

/// A key of a table of the book: whether it differs, and how it is carried over.
#[derive(Debug)]
pub struct Term {
    name: &'static str,
    differs: fn(&Book, &Book) -> bool,
    carry: fn(&mut Book, &Book),
}

macro_rules! terms {
    ($($name:literal: $(($table:ident $field:ident))+;)*) => {
        &[$(Term {
            name: $name,
            differs: |a, b| false $(|| a.$table.$field != b.$table.$field)+,
            carry: |to, from| { $(to.$table.$field = from.$table.$field.clone();)+ },
        }),*]
    };
}

/// Everything in a book beside its products that may move a price, in a fixed order.
const TERMS: &[Term] = terms! {
    "labor.wage": (labor wage);
    "labor.burden": (labor burden);
    "labor.crew": (labor crew);
    "labor.day-starts": (labor day_starts);
    "labor.day-ends": (labor day_ends);
    "rates.set-up": (rates set_up);
    "rates.clean-up": (rates clean_up);
    "rates.grind": (rates grind);
    "rates.grind-coated": (rates grind_coated);
    "rates.sand": (rates sand);
    "rates.edge": (rates edge);
    "rates.crack": (rates crack);
    "rates.joint": (rates joint);
    "rates.cove": (rates cove);
    "rates.patch": (rates patch);
    "rates.roll": (rates roll);
    "rates.pour": (rates pour);
    "rates.trowel": (rates trowel);
    "rates.upright": (rates upright);
    "rates.broadcast": (rates broadcast);
    "rates.scrape": (rates scrape);
    "prep.texture": (prep texture);
    "prep.upright-loss": (prep upright_loss);
    "prep.crack-depth": (prep crack_depth);
    "repair.rigid": (repair rigid);
    "repair.flexible": (repair flexible);
    "repair.patch": (repair patch);
    "repair.cove": (repair cove);
    "repair.hairline": (repair hairline);
    "repair.chase": (repair chase);
    "repair.joint-width": (repair joint_width);
    "repair.joint-depth": (repair joint_depth);
    "mixing.time": (mixing time);
    "mixing.largest": (mixing largest);
    "mixing.smallest": (mixing smallest);
    "mixing.part-of-pot-life": (mixing part_of_pot_life);
    "terms.consumables": (terms consumables) (terms consumables_per);
    "terms.removal": (terms removal) (terms removal_per);
    "terms.per-job": (terms per_job);
    "terms.overhead": (terms overhead);
    "terms.margin": (terms margin);
    "terms.minimum": (terms minimum);
    "terms.tax-on": (terms tax_on);
    "terms.tax": (terms tax);
};

/// All that may differ, whether or not it moves a price.
pub fn all<'a>(before: &'a Input, after: &'a Input) -> Vec<Difference<'a>> {
    let (was, is) = (&before.book, &after.book);
    let mut all = vec![];
    let keys: BTreeSet<&Key> = was.products.iter().chain(&is.products).map(|p| &p.key).collect();
    for key in keys {
        match (was.product(key), is.product(key)) {
            (Some(was), Some(is)) if was.stuff != is.stuff => {
                let kits = Kits::compare(&was.stuff, &is.stuff);
                if !kits.dearer_or_cheaper.is_empty() {
                    all.push(Difference::ProductPrice(key));
                }
                if !kits.came_or_went.is_empty() {
                    all.push(Difference::KitSizes(key));
                }
                all.push(Difference::ProductFigures(key));
            }
            (None, Some(_)) => all.push(Difference::NewProduct(key)),
            _ => {}
        }
    }
    all.extend(TERMS.iter().filter(|term| (term.differs)(was, is)).map(Difference::Term));
    all.extend([Difference::Systems, Difference::RestOfBook, Difference::Shop]);
    all.extend([Difference::Items, Difference::Discount, Difference::TaxExempt, Difference::Job]);
    all
}

impl Difference<'_> {
    /// Carries it over. What was carried before it stays.
    pub fn carry(&self, to: &mut Input, from: &Input) {
        match self {
            Self::ProductPrice(key) => with_stuff(to, from, key, carry_prices),
            Self::KitSizes(key) => with_stuff(to, from, key, carry_kits),
            Self::ProductFigures(key) => with_stuff(to, from, key, |to, from| *to = from.clone()),
            Self::NewProduct(key) => to.book.products.extend(from.book.product(key).cloned()),
            Self::Term(term) => (term.carry)(&mut to.book, &from.book),
            Self::Systems => to.systems.clone_from(&from.systems),
            Self::RestOfBook => to.book.clone_from(&from.book),
            Self::Shop => to.shop.clone_from(&from.shop),
            Self::Items => {
                to.job.items.clone_from(&from.job.items);
                to.job.additions.clone_from(&from.job.additions);
            }
            Self::Discount => to.job.discount.clone_from(&from.job.discount),
            Self::TaxExempt => {
                to.job.customer.tax_exempt.clone_from(&from.job.customer.tax_exempt);
            }
            Self::Job => to.job.clone_from(&from.job),
        }
    }

    /// True for what is not looked into closely.
    pub fn is_of_the_rest(&self) -> bool {
        matches!(
            self,
            Self::Systems
                | Self::RestOfBook
                | Self::Shop
                | Self::Items
                | Self::Discount
                | Self::TaxExempt
                | Self::Job
        )
    }

    /// False when it cannot move the price of a floor: a product that is not in it.
    pub fn may_move(&self, input: &Input, floor: &Key) -> bool {
        let (Self::ProductPrice(key) | Self::KitSizes(key) | Self::ProductFigures(key)) = self
        else {
            return !matches!(self, Self::NewProduct(_));
        };
        let repair = &input.book.repair;
        let mut fillers = [&repair.rigid, &repair.flexible, &repair.patch, &repair.cove]
            .into_iter()
            .flatten()
            .map(|name| &name.value);
        let system = input.systems.iter().find(|system| system.key == *floor);
        fillers.any(|filler| filler == *key)
            || system
                .is_some_and(|s| s.coats.iter().any(|coat| coat.products().any(|of| of == *key)))
    }

    /// Returns its name as a cause.
    pub fn what(&self, before: &Input, after: &Input) -> ChangedThing {
        let of_product = |kind: CauseKind, key: &Key, sizes: fn(Kits) -> Vec<KitMeasure>| {
            let (was, is) = (before.book.product(key), after.book.product(key));
            let kits = was.zip(is).map(|(was, is)| Kits::compare(&was.stuff, &is.stuff));
            ChangedThing {
                product: Some(key.clone()),
                supplier: is.map_or_else(String::new, |product| product.supplier.clone()),
                sizes: kits.map(sizes).unwrap_or_default(),
                ..kind.into()
            }
        };
        let of_book = |key| ChangedThing { key: Some(key), ..CauseKind::Book.into() };
        match self {
            Self::ProductPrice(key) => {
                of_product(CauseKind::ProductPrice, key, |kits| kits.dearer_or_cheaper)
            }
            Self::KitSizes(key) => of_product(CauseKind::KitSizes, key, |kits| kits.came_or_went),
            Self::ProductFigures(key) | Self::NewProduct(key) => {
                of_product(CauseKind::ProductFigures, key, |_| vec![])
            }
            Self::Term(term) => of_book(term.name),
            Self::RestOfBook => of_book("book"),
            Self::Systems => CauseKind::Systems.into(),
            Self::Shop => CauseKind::Shop.into(),
            Self::Items => CauseKind::Items.into(),
            Self::Discount => CauseKind::Discount.into(),
            Self::TaxExempt => CauseKind::TaxExempt.into(),
            Self::Job => CauseKind::Job.into(),
        }
    }
}

fn with_stuff(to: &mut Input, from: &Input, key: &Key, carry: fn(&mut Stuff, &Stuff)) {
    let product = to.book.products.iter_mut().find(|product| product.key == *key);
    if let (Some(to), Some(from)) = (product, from.book.product(key)) {
        carry(&mut to.stuff, &from.stuff);
    }
}

// ------------------------------------------------------------------------------------------ kits

/// Difference between the kits of a product.
#[derive(Debug, Default)]
struct Kits {
    /// Sizes that are sold before and after, at another price.
    dearer_or_cheaper: Vec<KitMeasure>,
    came_or_went: Vec<KitMeasure>,
}

impl Kits {
    fn compare(was: &Stuff, is: &Stuff) -> Self {
        let mut kits = Self::default();
        // Another kind of thing under the same key: its figures are all other ones.
        if std::mem::discriminant(was) != std::mem::discriminant(is) {
            return kits;
        }
        let (was, is) = (was.kits(), is.kits());
        // Smallest first, whatever the order in the books. Sizes are finite.
        let mut sizes: Vec<KitMeasure> = was.iter().chain(&is).map(|(size, _)| *size).collect();
        sizes.sort_by(|a, b| a.partial_cmp(b).unwrap_or(std::cmp::Ordering::Equal));
        sizes.dedup();
        for size in sizes {
            match (lowest_price(&was, size), lowest_price(&is, size)) {
                (Some(was), Some(is)) if was != is => kits.dearer_or_cheaper.push(size),
                (Some(_), Some(_)) => {}
                _ => kits.came_or_went.push(size),
            }
        }
        kits
    }
}

/// Returns the price of a size. One that stands twice is bought at the lower price.
fn lowest_price(kits: &[(KitMeasure, Cents)], size: KitMeasure) -> Option<Cents> {
    kits.iter().filter(|(of, _)| *of == size).map(|(_, price)| *price).min()
}

fn carry_prices(to: &mut Stuff, from: &Stuff) {
    if std::mem::discriminant(to) == std::mem::discriminant(from) {
        let kits = from.kits();
        to.reprice_kits(|size, price| lowest_price(&kits, size).unwrap_or(price));
    }
}

fn carry_kits(to: &mut Stuff, from: &Stuff) {
    match (to, from) {
        (Stuff::Resin(to), Stuff::Resin(from)) => to.kits.clone_from(&from.kits),
        (Stuff::Filler(to), Stuff::Filler(from)) => to.kits.clone_from(&from.kits),
        (Stuff::Flake(to), Stuff::Flake(from)) => to.kits.clone_from(&from.kits),
        (Stuff::Pigment(to), Stuff::Pigment(from)) => to.kits.clone_from(&from.kits),
        (Stuff::Grit(to), Stuff::Grit(from)) => to.kits.clone_from(&from.kits),
        _ => {}
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::quantity::{ArealMass, Content, Mass};
    use crate::model::book::{Grit, Kit, Pigment};
    use crate::price::testing::sample;

    /// A dearer kit, another size, another loss: each is told by its own name.
    #[test]
    fn each_difference_of_a_product_has_its_name() {
        let was = sample().input();
        let steps = |key: &str, value: &str| {
            let is = sample().book(&format!("product.barrier-epoxy.{key}"), value).input();
            let of = |difference: &Difference<'_>| match difference {
                Difference::ProductPrice(key) => Some(("price", key.0.clone())),
                Difference::KitSizes(key) => Some(("sizes", key.0.clone())),
                Difference::ProductFigures(key) => Some(("figures", key.0.clone())),
                _ => None,
            };
            all(&was, &is).iter().filter_map(of).collect::<Vec<_>>()
        };
        let told = |names: &[&'static str]| -> Vec<(&str, String)> {
            names.iter().map(|name| (*name, "barrier-epoxy".to_owned())).collect()
        };
        assert_eq!(steps("kit.0.price", "\"$999.00\""), told(&["price", "figures"]));
        assert_eq!(steps("kit.0.size", "\"2.5 gal\""), told(&["sizes", "figures"]));
        assert_eq!(steps("loss", "\"11 %\""), told(&["figures"]));
        assert_eq!(steps("kit.0.price", &price(&was)), []);
    }

    /// The price of the first kit as it stands in the book.
    fn price(input: &Input) -> String {
        let product = input.book.product(&Key("barrier-epoxy".into())).unwrap();
        format!("\"${}\"", product.stuff.kits()[0].1)
    }

    /// Kits of every kind of product go over with their sizes and prices, and nothing else does.
    #[test]
    fn sizes_of_every_kind_of_product_are_carried_over() {
        let kits = || vec![Kit { size: Mass::pounds(2.0), price: Cents(3_300) }];
        let stock = Mass::pounds(1.0);
        let dose = Content::grams_per_liter(60.0);
        let rate = ArealMass::pounds_per_square_foot(0.04);
        let solids = [
            Stuff::Pigment(Pigment { kits: kits(), stock, dose }),
            Stuff::Grit(Grit { kits: kits(), stock, rate, silica: None }),
        ];
        let products = sample().input().book.products;
        let mut kinds = vec![];
        for stuff in products.iter().map(|product| &product.stuff).chain(&solids) {
            let (mut is, mut way) = (stuff.clone(), stuff.clone());
            is.reprice_kits(|_, price| Cents(price.0 * 2 + 1));
            carry_kits(&mut way, &is);
            assert_ne!(way.kits(), stuff.kits());
            assert_eq!(way, is);
            kinds.push(std::mem::discriminant(stuff));
        }
        kinds.dedup();
        assert!(kinds.len() >= 5, "a kind was not tried");
    }
}
