//! Another firm's bid, as far as it says anything. No firm is named: papers call it by a letter.

use crate::base::money::Cents;
use crate::base::quantity::{Area, Humidity, Mver, Share, Spread, Thickness, Volume};

/// A bid; what it does not state is `None`, and no fault.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Bid {
    /// Preparation of the concrete, in its own words.
    pub preparation: Option<String>,
    /// The moisture test that was made, in its own words.
    pub moisture_test: Option<String>,
    pub mver_limit: Option<Mver>,
    pub rh_limit: Option<Humidity>,
    /// The area that it is for; without one, the floor as we measured it.
    pub area: Option<Area>,
    /// Number of coats, where it lists none.
    pub coat_count: Option<u32>,
    pub coats: Vec<BidCoat>,
    /// Its words on vapor, dust and fresh air.
    pub air: Option<String>,
    pub days: Option<u32>,
    /// Its words on when a car may drive on it.
    pub drive: Option<String>,
    /// Its words on the warranty.
    pub warranty: Option<String>,
    pub price: Option<Cents>,
}

/// One coat of a bid.
#[derive(Debug, Clone, PartialEq)]
pub struct BidCoat {
    pub name: String,
    /// Solids by volume.
    pub solids: Option<Share>,
    pub spread: Option<Spread>,
    /// Dry film.
    pub film: Option<Thickness>,
    /// Liquid for the whole area.
    pub volume: Option<Volume>,
}
