//! The questions of a job file, in the order in which one goes through a visit.

use toml_edit::Value;

use crate::interview::ask::{AnswerForm, Ask};
use crate::interview::draft::DraftPlace;
use crate::interview::run::{Flow, Mark, Run};
use crate::interview::{moisture, shapes};
use crate::model::job::Units;
use crate::read::keys::job::{air, customer, extras, garage, house, job, photo, plan, slab};
use crate::read::limits;

pub fn visit(run: &mut Run<'_>) -> Flow {
    let date = ask_paper(run)?;
    ask_customer(run)?;
    ask_slab(run)?;
    shapes::floor(run)?;
    shapes::repairs(run)?;
    moisture::tests(run)?;
    ask_air(run, date)?;
    ask_garage(run)?;
    let offered = ask_offer(run)?;
    run.topic("plan");
    run.fill(plan::START)?;
    run.fill(plan::CREW)?;
    ask_extras(run, &offered)?;
    ask_notes(run)
}

/// Asks for number, units and date; returns the date.
fn ask_paper(run: &mut Run<'_>) -> Flow<String> {
    run.topic("paper");
    let (number, today) = (run.setting.number.clone(), run.setting.today.to_string());
    run.fill(Ask::from(job::NUMBER).usual(number))?;
    // The units tell which way round a date is typed.
    let units = run.fill(Ask::from(job::UNITS).usual("us"))?;
    run.metric = units.is_some_and(|units| units.as_str() == Some(Units::Metric.word()));
    let date = run.fill(Ask::from(job::DATE).usual(&today))?;
    Ok(date.map_or(today, |date| date.to_string()))
}

fn ask_customer(run: &mut Run<'_>) -> Flow {
    run.topic("customer");
    run.fill(customer::NAME)?;
    run.lines(customer::ADDRESS)?;
    run.fill(customer::EMAIL)?;
    run.fill(customer::PHONE)?;
    run.lines(customer::SIGNERS)?;
    run.fill(house::BUILT)?;
    Ok(())
}

fn ask_slab(run: &mut Run<'_>) -> Flow {
    run.topic("slab");
    run.fill(Ask::from(slab::ON_GROUND).or("yes"))?;
    run.fill(slab::THICKNESS)?;
    if let Some(poured) = run.ask(Ask::from(slab::POURED).form(AnswerForm::YearOrDay))? {
        let is_day = matches!(poured, Value::Datetime(_));
        let key = if is_day { slab::POURED.spec } else { slab::POURED_YEAR.spec };
        run.put(DraftPlace::table(key.table), key.name, Some(poured));
    }
    run.fill(slab::VAPOR_RETARDER)?;
    run.fill(slab::WATER_DROP)?;
    run.fill(slab::OIL)?;
    run.fill(slab::SALTS)?;
    run.fill(slab::OLD_COATING)?;
    run.fill(slab::TILE_GLUE)?;
    run.fill(slab::TREATMENTS)?;
    run.fill(slab::SURFACE_STRENGTH)?;
    // Before the holes of probes: a drill must not meet it.
    run.fill(slab::INSIDE)?;
    run.mark(Mark::Inside);
    Ok(())
}

fn ask_air(run: &mut Run<'_>, date: String) -> Flow {
    run.topic("air");
    if !run.yes(Ask::yes_no("air", "any").or("yes"))? {
        return Ok(());
    }
    run.fill(Ask::from(air::MEASURED).or(date))?;
    run.fill(air::TEMPERATURE)?;
    run.fill(air::HUMIDITY)?;
    run.fill(air::SLAB)?;
    run.mark(Mark::Air);
    Ok(())
}

fn ask_garage(run: &mut Run<'_>) -> Flow {
    run.topic("garage");
    run.fill(Ask::from(garage::DAYLIGHT).or("yes"))?;
    run.fill(Ask::from(garage::SOLD_AT_HOME).or("yes"))?;
    run.fill(Ask::from(garage::WET).or("yes"))?;
    run.fill(garage::HEIGHT)?;
    run.lines(garage::IGNITION)
}

/// Asks for the floors on offer and what the customer cares about; returns the floors.
fn ask_offer(run: &mut Run<'_>) -> Flow<Vec<String>> {
    run.topic("offer");
    let floors = run.setting.floors.iter().map(|floor| floor.key.0.clone()).collect();
    let offer = run.fill(Ask::from(job::OFFER).form(AnswerForm::Words(floors)))?;
    run.fill(job::WISHES)?;
    let offer = offer.as_ref().and_then(Value::as_array);
    let keys = offer.into_iter().flatten().filter_map(|key| key.as_str().map(str::to_owned));
    Ok(keys.collect())
}

/// Asks what may be added to the floors on offer.
fn ask_extras(run: &mut Run<'_>, offered: &[String]) -> Flow {
    let setting = run.setting;
    for (at, floor) in setting.floors.iter().enumerate() {
        if floor.extras.is_empty() || !offered.contains(&floor.key.0) {
            continue;
        }
        let words = floor.extras.iter().map(|extra| extra.0.clone()).collect();
        let ask = Ask::from(extras::CLEAR_EPOXY).form(AnswerForm::Words(words));
        let ask = ask.called("extras", "which").nth(at + 1).about(&floor.name);
        if let Some(extras) = run.ask(ask)? {
            run.put(DraftPlace::table("extras"), &floor.key.0, Some(extras));
        }
    }
    Ok(())
}

fn ask_notes(run: &mut Run<'_>) -> Flow {
    run.topic("notes");
    let pictures = run.photos.to_vec();
    let file = Ask::from(photo::FILE).form(AnswerForm::Picture(pictures)).may();
    run.each_filled(limits::PHOTOS, file, |run| run.fill(photo::CAPTION).map(drop))?;
    run.lines(job::NOTES)?;
    run.lines(job::CREW_NOTES)
}
