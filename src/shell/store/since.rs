//! What has changed since a job was signed, told wherever somebody works on it.

use std::path::Path;

use jiff::civil::Date;
use slableaf::base::layouts::Layouts;
use slableaf::base::money::Cents;
use slableaf::base::names::Key;
use slableaf::issued::{Agreed, Scope, differing_scope, with_scope};
use slableaf::judge::judge;
use slableaf::model::job::Units;
use slableaf::model::system::System;
use slableaf::read::Input;
use slableaf::say::figures::Figures;
use slableaf::say::words::Words;

use crate::shell::store::{Agreement, Cache, OrderFiles, read_alone, records_beside};
use crate::shell::terminal::{Report, Result, hints};

/// The standing of a job to what was signed.
pub struct Since {
    /// The parts that differ and were not ordered.
    pub scope: Vec<Scope>,
    /// Their price by the accepted price book; `None` for a job of several spaces.
    pub change: Option<Cents>,
    pub currency: String,
    /// The floor that was signed, where it may not be laid as things are: a reading over its limit, say.
    pub held: Option<String>,
    /// The day of the signature and the last day of the prices, where it was signed after that.
    pub late: Option<(Date, Date)>,
    /// The job as it was agreed, with its own book, shop file and systems; `None` for several spaces.
    pub signed: Option<Input>,
}

/// Holds a job against what was signed. `None` for a job that nobody has accepted.
pub fn since_signed(path: &Path, cache: &Cache) -> Result<Option<Since>> {
    let job = read_alone(path)?;
    if job.accepted.is_none() {
        return Ok(None);
    }
    let records = records_beside(path, &job)?;
    if let (true, Some(accepted)) = (job.has_spaces(), &job.accepted) {
        let agreement = Agreement::read(&job, accepted, &records)?;
        let agreed = &agreement.agreed;
        return Ok(Some(Since {
            scope: differing_scope(&agreement.signed_job()?, &job),
            change: None,
            currency: agreed.currency.clone(),
            held: None,
            late: late(agreed),
            signed: None,
        }));
    }
    let Some(read) = OrderFiles::read(path, &records, cache)? else { return Ok(None) };
    let (order, signed) = (read.basis.order, read.basis.signed);
    let agreed = &order.before;
    let floor = Key(agreed.floor.clone());
    let judged = judge(&read.input);
    let is_there = judged.case.options.iter().any(|option| *option.key() == floor);
    let is_held = is_there && !judged.recommendation.offers(&floor);
    Ok(Some(Since {
        held: is_held.then_some(floor.0),
        late: late(agreed),
        currency: agreed.currency.clone(),
        scope: order.scope,
        change: Some(order.change),
        signed: Some(signed),
    }))
}

fn late(agreed: &Agreed) -> Option<(Date, Date)> {
    let until = agreed.valid_until.filter(|_| agreed.signed_late());
    until.map(|until| (agreed.signed.0, until.0))
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
            let price = self.change.map_or_else(String::new, |change| self.price_words(change));
            let order = match self.signed {
                Some(_) => format!(
                    "`slableaf write {} --paper change-order` prints the change to be signed",
                    hints::as_typed(path)
                ),
                None => "agree on the change in writing".to_owned(),
            };
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
    }

    fn price_words(&self, change: Cents) -> String {
        let words = Words::read(&Layouts::default(), "en").ok().map(|words| words.figures);
        let Some(words) = words else { return String::new() };
        let figures = Figures { units: Units::Us, currency: &self.currency, words: &words };
        match change.0 {
            0 => ", at the same price".to_owned(),
            more if more > 0 => {
                format!(", by the accepted price book +{}", figures.money(change))
            }
            _ => format!(", by the accepted price book {}", figures.money(change)),
        }
    }

    /// A job's own files with the scope and the floor systems that were agreed; its readings, its plan and
    /// its slab stay as they are known now.
    pub fn to_be_laid(&self, now: &Input) -> Input {
        let mut input = now.clone();
        let Some(signed) = &self.signed else { return input };
        input.job = with_scope(&now.job, &signed.job);
        input.job.slab.clone_from(&now.job.slab);
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
