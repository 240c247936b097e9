//! The questions of `new laid`: the coats of the floor that was agreed, in the order of work, each with what
//! the crew sheet has blanks for. They are put behind the job; one that is not laid yet ends them.

use toml_edit::Value;

use crate::base::names::Key;
use crate::interview::ask::Ask;
use crate::interview::draft::DraftPlace;
use crate::interview::run::{Flow, Mark, Run};
use crate::judge::laid::film::places_to_read;
use crate::model::job::{Job, Units};
use crate::price::floor::Floor;
use crate::read::Shared;
use crate::read::keys::laid::laid;
use crate::site::take_off::take_off;

/// A coat that is not recorded yet.
#[derive(Debug, Clone, PartialEq)]
pub struct CoatToRecord {
    pub coat: Key,
    /// The space, where the job has several.
    pub space: Option<String>,
    /// Its product, by which people know it, with the space.
    pub name: String,
    /// False for flake and grit.
    pub liquid: bool,
    /// The number of places at which its wet film is read.
    pub places: u32,
}

/// The facts about a job whose coats are recorded.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct ToRecord {
    /// In the order of work.
    pub coats: Vec<CoatToRecord>,
    /// The number of records that the job has.
    pub records: usize,
    pub metric: bool,
}

/// The coats of the agreed floors that a job does not record yet.
pub fn to_record(job: &Job, shared: &Shared) -> ToRecord {
    let jobs = if job.has_spaces() { job.of_spaces() } else { vec![job.clone()] };
    let coats = jobs.iter().flat_map(|job| of_floor(job, shared).unwrap_or_default()).collect();
    ToRecord { coats, records: job.laid.len(), metric: job.units == Units::Metric }
}

fn of_floor(job: &Job, shared: &Shared) -> Option<Vec<CoatToRecord>> {
    let agreed = Job { accepted: Some(job.agreed_by_orders()?), ..job.clone() };
    let key = &agreed.accepted.as_ref()?.floor;
    let system = shared.systems().iter().find(|system| system.key == *key)?;
    let floor = Floor::new(system, shared.book()?, &Floor::chosen_extras(&agreed, key));
    let space = job.place.as_ref().map(|place| place.name.clone());
    let places = places_to_read(take_off(&job.shapes).coated());
    let open = floor.coats.iter().filter(|coat| job.records_of(&coat.spec.key).next().is_none());
    let to_record = open.map(|coat| CoatToRecord {
        coat: coat.spec.key.clone(),
        space: space.clone(),
        name: match &space {
            Some(space) => format!("{space}: {}", coat.product.name),
            None => coat.product.name.clone(),
        },
        liquid: coat.resin().is_some(),
        places,
    });
    Some(to_record.collect())
}

pub fn coats(run: &mut Run<'_>) -> Flow {
    run.topic("laid");
    let to_record = &run.setting.to_record;
    run.metric = to_record.metric;
    for (at, coat) in to_record.coats.iter().enumerate() {
        if !one(run, to_record.records, at + 1, coat)? {
            break;
        }
    }
    Ok(())
}

/// Asks for the record of one coat; false where it is not laid yet.
fn one(run: &mut Run<'_>, before: usize, n: usize, coat: &CoatToRecord) -> Flow<bool> {
    let place = DraftPlace::list(laid::TABLE.path, before + n);
    let about = |ask: Ask| ask.nth(n).about(&coat.name);
    let start = run.ask(about(Ask::from(laid::START).may()))?;
    let Some(start) = start else { return Ok(false) };
    run.put(place, laid::COAT.spec.name, Some(coat.coat.0.as_str().into()));
    run.put(place, laid::SPACE.spec.name, coat.space.as_deref().map(Value::from));
    run.put(place, laid::START.spec.name, Some(start));
    if coat.liquid {
        run.fill_at(place, laid::END.spec.name, about(laid::END.into()))?;
        run.fill_at(place, laid::AIR.spec.name, about(laid::AIR.into()))?;
        run.fill_at(place, laid::HUMIDITY.spec.name, about(laid::HUMIDITY.into()))?;
        run.fill_at(place, laid::SLAB.spec.name, about(laid::SLAB.into()))?;
        run.fill_at(place, laid::USED.spec.name, about(laid::USED.into()))?;
    } else {
        run.fill_at(place, laid::WEIGHT.spec.name, about(laid::WEIGHT.into()))?;
    }
    run.lines_at(place, laid::BATCHES, |line| about(laid::BATCHES.into()).may().nth(line))?;
    if coat.liquid {
        let film = |line| Ask::from(laid::FILMS).may().nth(n).nth(line);
        let places = coat.places.to_string();
        let read = run.lines_at(place, laid::FILMS, |line| film(line).about(&places))?;
        if read > 0 {
            run.fill_at(place, laid::GAUGE_STEP.spec.name, about(laid::GAUGE_STEP.into()))?;
        }
        run.mark(Mark::CoatLaid(before + n));
    }
    run.fill_at(place, laid::WHO.spec.name, about(laid::WHO.into()))?;
    run.fill_at(place, laid::NOTE.spec.name, about(laid::NOTE.into()))?;
    Ok(true)
}
