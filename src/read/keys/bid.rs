//! The keys for bids of other firms.

use crate::base::quantity::{Area, Humidity, Mver, Share, Spread, Thickness, Volume};
use crate::read::amount::Amount;
use crate::read::keys::spec::*;
use crate::read::keys::table::*;
use crate::read::limits;

keys! {
    bid = listed("bid", "Another firm's bid, as the customer showed it; leave out what it does not say, and name no firm.")
        .at_most(limits::BIDS)
        .tables(&[bid_coat::TABLE]) => {
        PREPARATION: String =
            may("preparation", "How the concrete is prepared, in the bid's own words.").like("acid wash");
        MOISTURE_TEST: String =
            may("moisture-test", "The moisture test that was made, in the bid's own words.").like("none");
        MVER_LIMIT: Mver = may("mver-limit", "The highest rate that the floor may take.").like("3 lb/1000ft2/24h");
        RH_LIMIT: Humidity = may("rh-limit", "The highest humidity that the floor may take.").like("75 %");
        AREA: Area = may("area", "The area that it is for; without it, the floor as you measured it.").like("500 ft2");
        COATS: u32 = may("coats", "How many coats it has, where it lists none.").within(1..=12)
            .advice("write how many coats the bid states").like("2");
        AIR: String =
            may("air", "What it says of vapor, dust and fresh air.").like("open the door");
        DAYS: u32 = may("days", "Days of work.").within(1..=60).advice("write how many days the bid states").like("1");
        DRIVE: String = may("drive", "When a car may drive on it, in its own words.").like("next day");
        WARRANTY: String = may("warranty", "What it says of a warranty.").like("lifetime");
        PRICE: Amount = may("price", "Its price in all.").like("$3,900.00");
    }

    bid_coat = listed("bid.coat", "One coat of the bid.").at_most(limits::COATS) => {
        NAME: String = need("name", "What the bid calls it.").like("base coat");
        SOLIDS: Share = may("solids", "Solids by volume.").above_zero().like("50 %");
        SPREAD: Spread = may("spread", "How far a gallon goes.").like("430 ft2/gal");
        FILM: Thickness = may("film", "How thick it is when dry.").like("5 mil");
        VOLUME: Volume = may("volume", "How much of it is laid on the whole area.").like("2 gal");
    }
}
