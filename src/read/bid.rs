//! Bids of other firms.

use crate::base::money::Cents;
use crate::model::bid::{Bid, BidCoat};
use crate::read::choices::{AmountSigns, keep_sign};
use crate::read::keys::bid::*;
use crate::read::reader::Table;

/// Reads the bids of a job, with the currency signs of their prices.
pub fn bids(top: &Table<'_>, signs: &mut AmountSigns) -> Vec<Bid> {
    top.tables(&bid::TABLE)
        .iter()
        .map(|table| {
            keep_sign(signs, table, bid::PRICE);
            Bid {
                preparation: table.read(bid::PREPARATION),
                moisture_test: table.read(bid::MOISTURE_TEST),
                mver_limit: table.read(bid::MVER_LIMIT),
                rh_limit: table.read(bid::RH_LIMIT),
                area: table.read(bid::AREA),
                coat_count: table.read(bid::COATS),
                coats: coats(table),
                air: table.read(bid::AIR),
                days: table.read(bid::DAYS),
                drive: table.read(bid::DRIVE),
                warranty: table.read(bid::WARRANTY),
                price: table.read(bid::PRICE).map(|price| Cents::round(price.value)),
            }
        })
        .collect()
}

/// Reads the coats of a bid. One coat has one spread: a name that stands twice is refused.
fn coats(table: &Table<'_>) -> Vec<BidCoat> {
    let mut coats: Vec<BidCoat> = vec![];
    for coat in table.tables(&bid_coat::TABLE) {
        let Some(name) = coat.read(bid_coat::NAME) else { continue };
        if coats.iter().any(|known| known.name == name) {
            let message = format!("`{}` stands twice", name.escape_debug());
            let help = "a coat has one spread: give each coat a name of its own, or leave out the \
                        spread of which the bid is not sure";
            coat.fault("name", message, help);
        }
        coats.push(BidCoat {
            name,
            solids: coat.read(bid_coat::SOLIDS),
            spread: coat.read(bid_coat::SPREAD),
            film: coat.read(bid_coat::FILM),
            volume: coat.read(bid_coat::VOLUME),
        });
    }
    coats
}
