//! What has changed since a job was signed, told wherever somebody works on it.

use std::path::Path;

use jiff::civil::Date;
use slableaf::base::money::Cents;
use slableaf::issued::{Agreed, Scope, received, with_scope};
use slableaf::model::job::Job;
use slableaf::model::system::System;
use slableaf::read::Input;

use crate::shell::store::{
    Cache, OrderFiles, in_english, judge_for_work, read_alone, records_beside,
};
use crate::shell::terminal::{Report, Result, hints};

/// The standing of a job to what was signed.
pub struct Since {
    /// The parts that differ and were not ordered.
    pub scope: Vec<Scope>,
    /// Their price by the accepted price book.
    pub change: Cents,
    pub currency: String,
    /// The floor that was signed, where it may not be laid as things are: a reading over its limit, say.
    pub held: Option<String>,
    /// The day of the signature and the last day of the prices, where it was signed after that.
    pub late: Option<(Date, Date)>,
    /// Money that was received beyond the price that was agreed.
    pub back: Option<Cents>,
    /// The job as it was agreed, with its own book, shop file and systems.
    pub signed: Input,
}

/// Holds a job against what was signed. `None` for a job that nobody has accepted.
pub fn since_signed(path: &Path, cache: &Cache) -> Result<Option<Since>> {
    let job = read_alone(path)?;
    if job.accepted.is_none() {
        return Ok(None);
    }
    let records = records_beside(path, &job)?;
    let Some(read) = OrderFiles::read(path, &records, cache)? else { return Ok(None) };
    let (order, signed) = (read.basis.order, read.basis.signed);
    let agreed = &order.before;
    let spaces = read.input.job.of_spaces();
    let judged = judge_for_work(&read.input, &spaces)?;
    let held = judged.accepted_floors().into_iter().find_map(|(judged, option)| {
        (!judged.recommendation.offers(option.key())).then(|| option.key().0.clone())
    });
    Ok(Some(Since {
        held,
        late: late(agreed),
        back: back(agreed, &job),
        currency: agreed.currency.clone(),
        scope: order.scope,
        change: order.change,
        signed,
    }))
}

fn late(agreed: &Agreed) -> Option<(Date, Date)> {
    let until = agreed.valid_until.filter(|_| agreed.signed_late());
    until.map(|until| (agreed.signed.0, until.0))
}

/// Money that was received beyond what was agreed.
fn back(agreed: &Agreed, job: &Job) -> Option<Cents> {
    let back = received(job).minus(agreed.total());
    (back > Cents::ZERO).then_some(back)
}

impl Since {
    /// True when something differs that nobody has signed.
    pub fn is_changed(&self) -> bool {
        !self.scope.is_empty()
    }

    /// Warns of what differs, and of a signature that came after the prices had ended.
    pub fn warn(&self, path: &Path, report: &mut Report) {
        if self.is_changed() {
            let parts: Vec<&str> = self.scope.iter().map(|part| part.word()).collect();
            let price = self.price_words(self.change);
            let order = format!(
                "`slableaf write {} --paper change-order` prints the change to be signed",
                hints::as_typed(path)
            );
            report.warn(
                &format!("not what was signed: {} changed{price}", parts.join(", ")),
                &format!("{order}; else put the job back to what was signed"),
            );
        }
        if let Some(floor) = &self.held {
            report.warn(
                &format!("`{floor}` was signed, and may not be laid as things are now"),
                "`slableaf check` says why; no crew sheet is written before that is settled",
            );
        }
        if let Some((signed, until)) = self.late {
            report.warn(
                &format!("it was signed on {signed}, after its prices had ended on {until}"),
                "tell the customer in writing that you keep to them, or agree on a new revision",
            );
        }
        if let Some(back) = self.back {
            let back = self.money(back);
            report.warn(
                &format!("{back} more than the agreed price was received: it is due back"),
                "pay it back and write under `[[paid]]` what you keep; or check the amounts there",
            );
        }
    }

    /// An amount in the currency of the paper, by its number where no words can be read.
    fn money(&self, cents: Cents) -> String {
        in_english(cents, &self.currency)
    }

    fn price_words(&self, change: Cents) -> String {
        let sign = match change.0 {
            0 => return ", at the same price".to_owned(),
            more if more > 0 => "+",
            _ => "",
        };
        format!(", by the accepted price book {sign}{}", self.money(change))
    }

    /// A job's own files with the scope and the floor systems that were agreed; its readings, its plan and
    /// its slab stay as they are known now.
    pub fn to_be_laid(&self, now: &Input) -> Input {
        let mut input = now.clone();
        let signed = &self.signed;
        input.job = with_scope(&now.job, &signed.job);
        input.job.slab.clone_from(&now.job.slab);
        for space in &mut input.job.spaces {
            let own = now.job.spaces.iter().find(|own| own.place.name == space.place.name);
            if let Some(own) = own {
                space.slab.clone_from(&own.slab);
            }
        }
        let known = |system: &System| {
            system.coats.iter().all(|coat| now.book.product(&coat.product.value).is_some())
        };
        for system in &signed.systems {
            if known(system) {
                input.systems.retain(|own| own.key != system.key);
                input.systems.push(system.clone());
            }
        }
        input
    }
}
