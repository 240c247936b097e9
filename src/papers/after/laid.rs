//! The floors that were agreed on and laid: one, or one in each space that has one.

use jiff::civil::Date;

use crate::base::names::Key;
use crate::issued::Agreed;
use crate::judge::laid::{CoatAsLaid, FloorAsLaid, floor_as_laid};
use crate::model::job::Job;
use crate::papers::proposal::Spaces;
use crate::papers::proposal::writer::Writer;
use crate::papers::usable::Usable;
use crate::price::case::FloorOption;
use crate::price::floor::FloorCoat;

/// A floor that was agreed on, with the writer of its space.
pub struct LaidFloor<'w, 'a> {
    /// The name of its space, where the job has several.
    pub space: Option<&'w str>,
    pub w: &'w Writer<'a>,
    pub option: &'a FloorOption<'a>,
    /// `None` where no coat was written down.
    pub as_laid: Option<FloorAsLaid<'a>>,
}

impl<'w, 'a> LaidFloor<'w, 'a> {
    fn new(space: Option<&'w str>, w: &'w Writer<'a>, option: &'a FloorOption<'a>) -> Self {
        Self { space, w, option, as_laid: floor_as_laid(w.case) }
    }

    /// Words that its space leads into, where the job has several.
    pub fn headed(&self, says: &str) -> String {
        match self.space {
            Some(space) => self.w.headed(space, says),
            None => says.to_owned(),
        }
    }

    /// The name of one of its coats.
    pub fn coat_name(&self, coat: &FloorCoat<'_>) -> String {
        self.w.coat_name(&self.option.floor, coat)
    }

    /// Every coat of it, bottom coat first, with what was written down of it.
    pub fn coats(&self) -> Vec<(FloorCoat<'a>, Option<&CoatAsLaid<'a>>)> {
        match &self.as_laid {
            Some(laid) => {
                let recorded = |coat: &&CoatAsLaid<'_>| !coat.records.is_empty();
                laid.coats.iter().map(|coat| (coat.coat, Some(coat).filter(recorded))).collect()
            }
            None => self.option.floor.coats.iter().map(|coat| (*coat, None)).collect(),
        }
    }

    /// From when it may be used, as far as that is known.
    pub fn usable(&self) -> Option<Usable> {
        Usable::as_laid(self.w, self.as_laid.as_ref()?)
    }
}

/// The floors that were agreed on, in the order of the spaces. A space without one is left out.
pub fn laid_floors<'w, 'a>(
    w: &'w Writer<'a>,
    spaces: Option<&'w Spaces<'a>>,
    agreed: &Agreed,
) -> Vec<LaidFloor<'w, 'a>> {
    let Some(spaces) = spaces else {
        let option = w.choice(&Key(agreed.floor.clone()));
        return option.map(|option| LaidFloor::new(None, w, option)).into_iter().collect();
    };
    let mut floors = vec![];
    for (name, w) in spaces.named() {
        let agreed = agreed.floors.iter().find(|(space, _)| space == name);
        if let Some(option) = agreed.and_then(|(_, floor)| w.choice(&Key(floor.clone()))) {
            floors.push(LaidFloor::new(Some(name), w, option));
        }
    }
    floors
}

/// The date on a handover: its own day.
pub fn handover_day(job: &Job) -> Date {
    job.handover.as_ref().map_or_else(|| last_day(job), |handover| handover.on)
}

/// The date on a sheet for a failure: the last day of which the job tells something.
pub fn last_day(job: &Job) -> Date {
    let signed = job.accepted.iter().map(|accepted| accepted.on);
    let ordered = job.signed_orders().map(|order| order.on);
    let laid = job.plan.laid.into_iter().chain(last_coat(job));
    let handed_over = job.handover.iter().map(|handover| handover.on);
    let seen = job.failures.iter().map(|failure| failure.seen);
    signed.chain(ordered).chain(laid).chain(handed_over).chain(seen).fold(job.date, Date::max)
}

/// The day of the first coat that was written down.
pub fn first_coat(job: &Job) -> Option<Date> {
    job.laid.iter().map(|record| record.start.date()).min()
}

/// The day of the last coat that was written down.
pub fn last_coat(job: &Job) -> Option<Date> {
    job.laid.iter().map(|record| record.end.unwrap_or(record.start).date()).max()
}
