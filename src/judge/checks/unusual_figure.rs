//! `unusual-figure`: a figure of the files that may be right but seldom is: a slip of a finger, a unit or a
//! decimal point.
//!
//! Asks the shop, and nobody else, to look at it once more. It stops nothing, and a figure that is meant
//! stays. Every bound is common practice, no published source.

use crate::base::figure::Figure;
use crate::base::lists::each_once;
use crate::base::quantity::{Humidity, Length};
use crate::judge::checks::{Check, Finding, FindingPlace, Limit, Severity, Source};
use crate::model::book::Product;
use crate::model::job::Patch;
use crate::price::case::Case;
use crate::price::plausible::{self, KITS_APART};

pub const CHECK: Check = Check {
    limits: &[
        ("side", LONG_SIDE.shown(Figure::Length(LONG_SIDE.value))),
        ("height", HIGH_CEILING.shown(Figure::Length(HIGH_CEILING.value))),
        ("humidity", DRY_AIR.shown(Figure::Humidity(DRY_AIR.value))),
        ("kits", APART.shown(Figure::Count(APART.value))),
    ],
    ..Check::new("unusual-figure", FindingPlace::Shop, Source::CommonPractice, find)
        .severities(&[Severity::Note])
};

/// A longer side of a garage floor is asked about.
pub const LONG_SIDE: Limit<Length> = Limit::common_practice(Length::feet(100.0));
/// A higher ceiling is asked about.
const HIGH_CEILING: Limit<Length> = Limit::common_practice(Length::feet(30.0));
/// Drier air is asked about: `0.54 %` where `54 %` was read.
const DRY_AIR: Limit<Humidity> = Limit::common_practice(Humidity::percent(5.0));
/// Kits whose prices by content are so many times apart are asked about.
const APART: Limit<u32> = Limit::common_practice(KITS_APART as u32);

fn find(case: &Case<'_>) -> Vec<Finding> {
    let job = case.job;
    let sides = job.shapes.areas.iter().map(longest_side).reduce(Length::max);
    let sides = sides.filter(|side| *side > LONG_SIDE.value);
    let height = job.garage.height.filter(|height| *height > HIGH_CEILING.value);
    let air = job.air.as_ref().map(|air| air.humidity).filter(|air| *air < DRY_AIR.value);
    let one = |what: &'static str, measured: Figure, limit: Figure| {
        CHECK.note().value("what", what).measured(measured).limit(limit)
    };
    let mut found: Vec<Finding> = vec![];
    found.extend(sides.map(|side| one("side", side.into(), LONG_SIDE.value.into())));
    found.extend(height.map(|height| one("height", height.into(), HIGH_CEILING.value.into())));
    found.extend(
        air.map(|air| one("humidity", Figure::Humidity(air), Figure::Humidity(DRY_AIR.value))),
    );
    found.extend(products(case).into_iter().filter_map(kits));
    found
}

/// The longest side of what lies around an area.
pub fn longest_side(patch: &Patch) -> Length {
    let extent = |of: fn(&crate::model::job::Point) -> Length| {
        let all = patch.corners.iter().map(of);
        let least = all.clone().reduce(Length::min).unwrap_or_default();
        all.reduce(Length::max).unwrap_or_default() - least
    };
    extent(|corner| corner.x).max(extent(|corner| corner.y))
}

/// The products of all floors on offer, each once.
fn products<'a>(case: &Case<'a>) -> Vec<&'a Product> {
    let coats = case.options.iter().flat_map(|option| &option.floor.coats);
    let keys = each_once(coats.map(|coat| &coat.product.key));
    keys.into_iter().filter_map(|key| case.book.product(key)).collect()
}

fn kits(product: &Product) -> Option<Finding> {
    let (cheap, dear) = plausible::kits_apart(&product.stuff)?;
    Some(
        CHECK
            .note()
            .value("what", "kits")
            .value("product", product.name.as_str())
            .value("cheap", Figure::Money(cheap))
            .value("dear", Figure::Money(dear))
            .yes_no("liquid", product.stuff.is_liquid()),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::checks::testing::*;

    #[test]
    fn fires_and_stays_silent() {
        CHECK.says([
            (sample().job("area.0.length", "\"300 ft\""), "", NOTE),
            (sample().job("area.0.length", "\"100 ft\""), "barrier", SILENT),
            // A side is long by its length, wherever on the plan it lies.
            (
                sample().job(
                    "area",
                    "[{ outline = [[\"60 ft\", \"70 ft\"], [\"82 ft\", \"70 ft\"], \
                     [\"82 ft\", \"92 ft\"], [\"60 ft\", \"92 ft\"]] }]",
                ),
                "barrier",
                SILENT,
            ),
            (sample().job("garage.height", "\"90 ft\""), "", NOTE),
            (sample().job("garage.height", "\"30 ft\""), "barrier", SILENT),
            // A share where a percentage was meant: 0.54 %.
            (sample().job("air.humidity", "\"0.54 %\""), "", NOTE),
            (sample().job("air.humidity", "\"5 %\""), "barrier", SILENT),
            // A decimal point in a price: a gallon at $9.20 beside one at $86.00 (by hand).
            (sample().book("product.barrier-epoxy.kit.0.price", "\"$27.60\""), "", NOTE),
            // Half as much again by content is what a small kit may cost.
            (sample().book("product.barrier-epoxy.kit.0.price", "\"$387.00\""), "barrier", SILENT),
        ]);
    }
}
