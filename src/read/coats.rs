//! Coats of a system against the products of a book: that each is there, of the right kind, and can be
//! laid as the system says.

use crate::base::names::Key;
use crate::base::source::{Diagnostic, Located, Problems};
use crate::model::book::{Book, Product, Stuff};
use crate::model::system::{Lay, Look, System, SystemCoat};
use crate::read::link::unknown;

/// Checks that a system's coats name products of the book, of the right kind.
pub fn products(system: &System, book: &Book, problems: &Problems) {
    for (at, coat) in system.coats.iter().enumerate() {
        let Some(product) = named(&coat.product, book, problems) else { continue };
        let liquid_below = system.coats[..at].iter().any(|below| is_liquid(below, book));
        let faults =
            [kind(coat, product), grit(coat, product, liquid_below), laid(coat, product, book)];
        faults.into_iter().flatten().for_each(|fault| problems.add(fault));
        pigment(coat, product, book, problems);
    }
}

/// The product that is named; `None` when there is none, or when it has mistakes of its own.
fn named<'b>(name: &Located<Key>, book: &'b Book, problems: &Problems) -> Option<&'b Product> {
    let found = book.product(&name.value);
    if found.is_none() && !book.unread.contains(&name.value) {
        unknown(name, "product", book.products.iter().map(|p| p.key.0.as_str()), problems);
    }
    found
}

fn is_liquid(coat: &SystemCoat, book: &Book) -> bool {
    let unread = book.unread.contains(&coat.product.value);
    unread || book.product(&coat.product.value).is_some_and(|product| product.resin().is_some())
}

fn fault(coat: &SystemCoat, says: &str, help: impl Into<String>) -> Option<Diagnostic> {
    let message = format!("coat `{}` {says}", coat.key);
    Some(Diagnostic::at(&coat.product.span, message).help(help))
}

/// A product that is no coat, and flake that does not say how it is thrown.
fn kind(coat: &SystemCoat, product: &Product) -> Option<Diagnostic> {
    let (says, help) = match (&product.stuff, coat.broadcast) {
        (Stuff::Flake(_), None) => (
            "is flake but does not say how it is thrown",
            "add `broadcast = \"full\"` or `broadcast = \"scattered\"`",
        ),
        (Stuff::Resin(_), Some(_)) => (
            "is thrown, but its product is no flake",
            "take `broadcast` out, or name a product that has a `flake` table",
        ),
        (Stuff::Grit(_), Some(_)) => (
            "is grit, not flake",
            "write `grit = \"thrown\"` or `grit = \"mixed\"` in place of `broadcast`",
        ),
        (Stuff::Filler(_), _) => {
            ("names a filler, which is no coat", "name a product that is a liquid coat or a flake")
        }
        (Stuff::Pigment(_), _) => {
            let help = format!("name it in a liquid coat: `pigment = \"{}\"`", product.key);
            return fault(coat, "names a pigment, which is no coat", help);
        }
        (Stuff::Flake(_), Some(_)) | (Stuff::Resin(_) | Stuff::Grit(_), None) => return None,
    };
    fault(coat, says, help)
}

fn grit(coat: &SystemCoat, product: &Product, liquid_below: bool) -> Option<Diagnostic> {
    let (says, help) = match (product.grit(), coat.grit) {
        (Some(_), None) => (
            "is grit but does not say how it goes into the coat below",
            "add `grit = \"thrown\"` or `grit = \"mixed\"`",
        ),
        (None, Some(_)) => (
            "has `grit`, but its product is no grit",
            "take `grit` out, or name a product that has a `grit` table",
        ),
        (Some(_), Some(_)) if !liquid_below => (
            "is grit with no liquid coat below it",
            "put it right behind the coat that it goes into",
        ),
        _ => return None,
    };
    fault(coat, says, help)
}

/// A way of laying for which the book has no rate, and an opaque coat that lets the slab show.
fn laid(coat: &SystemCoat, product: &Product, book: &Book) -> Option<Diagnostic> {
    let Some(resin) = product.resin() else {
        let stray =
            (coat.lay != Lay::Rolled).then(|| format!("is {}, but is no liquid", coat.lay.word()));
        return fault(coat, &stray?, "take `lay` out: it is for liquid coats");
    };
    let missing = match coat.lay {
        Lay::Poured if book.rates.pour.is_none() => Some(("pour", "220 ft2/h")),
        Lay::Troweled if book.rates.trowel.is_none() => Some(("trowel", "90 ft2/h")),
        _ => None,
    };
    if let Some((key, example)) = missing {
        let says = format!("is {}, and the book has no rate for that", coat.lay.word());
        let help = format!("add your own `{key} = \"{example}\"` to the book\u{2019}s `[rates]`");
        return fault(coat, &says, help);
    }
    let (says, help) = match (coat.look, &coat.pigment) {
        (Look::Solid, None) if resin.opaque == Some(false) => (
            "is drawn as `solid`, but its product is not opaque",
            "add its `pigment`, or write another `look`",
        ),
        (Look::Clear | Look::Top | Look::Flake, Some(_)) => {
            ("has a pigment, but is not drawn as a coat of color", "write `look = \"solid\"`")
        }
        _ => return None,
    };
    fault(coat, says, help)
}

/// The pigment of a coat: one of the book, in a liquid.
fn pigment(coat: &SystemCoat, product: &Product, book: &Book, problems: &Problems) {
    let Some(name) = &coat.pigment else { return };
    let Some(pigment) = named(name, book, problems) else { return };
    let refuse = |message: String, help: &str| {
        problems.add(Diagnostic::at(&name.span, message).help(help));
    };
    if pigment.pigment().is_none() {
        let help = "name a product that has a `pigment` table";
        refuse(format!("`{}` is no pigment", name.value), help);
    } else if product.resin().is_none() {
        let help = "name the pigment in the liquid coat that it colors";
        refuse(format!("coat `{}` has a pigment, but is no liquid", coat.key), help);
    }
}
