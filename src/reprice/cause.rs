//! Causes of a change in price, by the names that book and job use.

use crate::base::money::Cents;
use crate::base::names::{Key, choices};
pub use crate::price::estimate::materials::KitMeasure;

/// One thing that moved a price, and by how much.
#[derive(Debug, Clone, PartialEq)]
pub struct Cause {
    pub what: ChangedThing,
    pub change: Cents,
}

/// Thing that differs.
#[derive(Debug, Clone, PartialEq)]
pub struct ChangedThing {
    pub kind: CauseKind,
    /// A key of one of the book's tables, as in `rates.grind`; `book` for what is left of it.
    pub key: Option<&'static str>,
    /// The product that it is about.
    pub product: Option<Key>,
    /// Its supplier; empty where there is none.
    pub supplier: String,
    /// The sizes of its kits that changed their price, came or went.
    pub sizes: Vec<KitMeasure>,
}

choices! {
    /// Kind of a cause.
    CauseKind {
        /// The price of a product's kits.
        ProductPrice = "product-price",
        /// The sizes in which a product is sold.
        KitSizes = "kit-sizes",
        /// The other figures of a product.
        ProductFigures = "product-figures",
        /// A wage, a rate, a term, a tax: see `key`.
        Book = "book",
        /// The rounding of prices to the shop's step.
        Rounding = "rounding",
        /// The coats that a floor is made of.
        Systems = "systems",
        /// Other floors that come first, in a job of several spaces.
        Floors = "floors",
        /// The shop file.
        Shop = "shop",
        /// Items of the job, and additions that were ticked.
        Items = "items",
        /// The discount.
        Discount = "discount",
        /// The customer's exemption from tax.
        TaxExempt = "tax-exempt",
        /// The job itself.
        Job = "job",
    }
}

/// A thing of which its kind says all.
impl From<CauseKind> for ChangedThing {
    fn from(kind: CauseKind) -> Self {
        Self { kind, key: None, product: None, supplier: String::new(), sizes: vec![] }
    }
}

impl ChangedThing {
    /// In a few words, with the sizes of kits as `size` writes them.
    pub fn plain(&self, size: &dyn Fn(KitMeasure) -> String) -> String {
        let product = self.product.as_ref().map_or("", |product| product.0.as_str());
        let sizes = || self.sizes.iter().map(|one| size(*one)).collect::<Vec<_>>().join(", ");
        match self.kind {
            CauseKind::ProductPrice => format!("{product} price ({})", sizes()),
            CauseKind::KitSizes => format!("{product} kit sizes ({})", sizes()),
            CauseKind::ProductFigures => format!("{product} figures"),
            kind => self.key.unwrap_or(kind.word()).to_owned(),
        }
    }
}
