//! The floor as it was laid: what the crew wrote down on the crew sheet, coat by coat.

use jiff::civil::DateTime;

use crate::base::names::Key;
use crate::base::quantity::{Area, Humidity, Mass, Temperature, Thickness, Volume};
use crate::base::source::{Located, Span};
use crate::model::job::{Accepted, Job};

/// One coat as it was laid, or one part of it. What nobody wrote down is `None`, or an empty list: not
/// known, and never as planned.
#[derive(Debug, Clone, PartialEq)]
pub struct CoatRecord {
    /// The key of the coat in the floor's system.
    pub coat: Located<Key>,
    /// The name of the space, where the job has several.
    pub space: Option<String>,
    /// True where it went over the same floor once more; else a second record is of another part.
    pub again: bool,
    /// The moment at which the first of it was on the floor.
    pub start: DateTime,
    /// The moment at which the last of it was on the floor.
    pub end: Option<DateTime>,
    /// The temperature of the surface that it went on.
    pub slab: Option<Temperature>,
    pub air: Option<Temperature>,
    pub humidity: Option<Humidity>,
    /// The area that it covered; without one, the whole floor or space.
    pub area: Option<Area>,
    /// Liquid, mixed, that went on the floor.
    pub used: Option<Volume>,
    /// Weight of flake or grit that was thrown or stirred in.
    pub weight: Option<Mass>,
    /// The numbers on the pails and boxes, in the order in which they were opened.
    pub batches: Vec<String>,
    /// Readings of the wet film, each the last notch that was wet: ASTM D4414.
    pub films: Vec<Thickness>,
    /// The step from one notch of the gauge to the next; `None` for the steps of the gauge that ASTM D4414
    /// has as its example.
    pub gauge_step: Option<Thickness>,
    /// The person who laid it, as typed.
    pub who: Option<String>,
    pub note: Option<String>,
    pub span: Span,
}

impl Job {
    /// The acceptance with floor and additions as the signed orders left them; `None` where nothing was
    /// accepted, and for a space that was left out.
    pub fn agreed_by_orders(&self) -> Option<Accepted> {
        if self.place.is_some() {
            return self.agreed.clone();
        }
        let signed = self.orders.iter().filter(|order| order.signed.is_some());
        signed.fold(self.accepted.clone(), |agreed, order| Some(agreed?.with(order)))
    }

    /// The records of one coat, in the order in which they were written.
    pub fn records_of<'j>(&'j self, coat: &'j Key) -> impl Iterator<Item = &'j CoatRecord> {
        self.laid.iter().filter(move |record| record.coat.value == *coat)
    }
}
