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
pub enum ChangedThing {
    /// The price of a product's kits of these sizes.
    ProductPrice { product: Key, supplier: String, sizes: Vec<KitMeasure> },
    /// The sizes in which a product is sold: those that came or went.
    KitSizes { product: Key, supplier: String, sizes: Vec<KitMeasure> },
    /// The other figures of a product: coverage, loss, stock, times.
    ProductFigures { product: Key, supplier: String },
    /// A key of one of the book's tables, as in `rates.grind`; `book` for what is left of it.
    Book(&'static str),
    /// The rounding of prices to the shop's step.
    Rounding,
    /// Floor systems.
    Systems,
    /// Other floors that come first, in a job of several spaces.
    Floors,
    /// The shop file: days on which it is closed.
    Shop,
    /// Items of the job, and additions that were ticked.
    Items,
    /// The discount.
    Discount,
    /// The customer's exemption from tax.
    TaxExempt,
    /// The job itself.
    Job,
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

impl ChangedThing {
    pub fn kind(&self) -> CauseKind {
        match self {
            Self::ProductPrice { .. } => CauseKind::ProductPrice,
            Self::KitSizes { .. } => CauseKind::KitSizes,
            Self::ProductFigures { .. } => CauseKind::ProductFigures,
            Self::Book(_) => CauseKind::Book,
            Self::Rounding => CauseKind::Rounding,
            Self::Systems => CauseKind::Systems,
            Self::Floors => CauseKind::Floors,
            Self::Shop => CauseKind::Shop,
            Self::Items => CauseKind::Items,
            Self::Discount => CauseKind::Discount,
            Self::TaxExempt => CauseKind::TaxExempt,
            Self::Job => CauseKind::Job,
        }
    }

    pub fn product(&self) -> Option<&Key> {
        match self {
            Self::ProductPrice { product, .. }
            | Self::KitSizes { product, .. }
            | Self::ProductFigures { product, .. } => Some(product),
            _ => None,
        }
    }

    /// In a few words, with the sizes of kits as `size` writes them.
    pub fn plain(&self, size: &dyn Fn(KitMeasure) -> String) -> String {
        let sizes = |sizes: &[KitMeasure]| {
            let sizes: Vec<String> = sizes.iter().map(|one| size(*one)).collect();
            sizes.join(", ")
        };
        match self {
            Self::ProductPrice { product, sizes: of, .. } => {
                format!("{product} price ({})", sizes(of))
            }
            Self::KitSizes { product, sizes: of, .. } => {
                format!("{product} kit sizes ({})", sizes(of))
            }
            Self::ProductFigures { product, .. } => format!("{product} figures"),
            Self::Book(key) => (*key).to_owned(),
            _ => self.kind().word().to_owned(),
        }
    }

    /// Empty where there is none.
    pub fn supplier(&self) -> &str {
        match self {
            Self::ProductPrice { supplier, .. }
            | Self::KitSizes { supplier, .. }
            | Self::ProductFigures { supplier, .. } => supplier,
            _ => "",
        }
    }

    pub fn sizes(&self) -> &[KitMeasure] {
        match self {
            Self::ProductPrice { sizes, .. } | Self::KitSizes { sizes, .. } => sizes,
            _ => &[],
        }
    }

    /// The key of the book's table, where it is one.
    pub fn key(&self) -> Option<&'static str> {
        match self {
            Self::Book(key) => Some(key),
            _ => None,
        }
    }
}
