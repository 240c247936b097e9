//! What a visit finds, in the order in which one goes through it: the questions of a job file.

use jiff::civil::Date;
use toml_edit::Value;

use crate::base::address::MailAddress;
use crate::base::names::{JobNumber, JobPath, Key};
use crate::base::quantity::{Humidity, Length, Strength, Temperature};
use crate::interview::ask::{Ask, Form};
use crate::interview::draft::Place;
use crate::interview::run::{Flow, Mark, Run};
use crate::interview::{moisture, shapes};
use crate::model::job::{Inside, Known, OldCoating, TileGlue, Treatment, Units, WaterDrop, Wish};
use crate::read::scalar::LongText;

/// The words of a choice, as they stand in a file.
pub fn words<T>(list: &[(&'static str, T)]) -> Vec<String> {
    list.iter().map(|(word, _)| (*word).to_owned()).collect()
}

pub fn visit(run: &mut Run<'_>) -> Flow {
    let date = paper(run)?;
    customer(run)?;
    slab(run)?;
    shapes::floor(run)?;
    shapes::repairs(run)?;
    moisture::tests(run)?;
    air(run, date)?;
    garage(run)?;
    let offered = offer(run)?;
    plan(run)?;
    extras(run, &offered)?;
    notes(run)
}

/// Number, units, date. Gives the date.
fn paper(run: &mut Run<'_>) -> Flow<String> {
    run.topic("paper");
    let (number, today) = (run.setting.number.clone(), run.setting.today.to_string());
    run.fill(Place::TOP, Ask::text::<JobNumber>("job", "number").usual(number))?;
    // The units tell which way round a date is typed.
    let units = Ask::word::<Units>("job", "units", words(Units::WORDS)).usual("us");
    let units = run.fill(Place::TOP, units)?;
    run.metric = units.is_some_and(|units| units.as_str() == Some(Units::Metric.word()));
    let date = run.fill(Place::TOP, Ask::bare::<Date>("job", "date").usual(&today))?;
    Ok(date.map_or(today, |date| date.to_string()))
}

fn customer(run: &mut Run<'_>) -> Flow {
    run.topic("customer");
    let customer = Place::table("customer");
    run.fill(customer, Ask::text::<String>("customer", "name"))?;
    run.lines::<String>(customer, "customer", "address")?;
    run.fill(customer, Ask::text::<MailAddress>("customer", "email").may())?;
    run.fill(Place::table("house"), Ask::bare::<u32>("house", "built").may())?;
    Ok(())
}

fn slab(run: &mut Run<'_>) -> Flow {
    run.topic("slab");
    let slab = Place::table("slab");
    run.fill(slab, Ask::yes_no("slab", "on-ground").or("yes"))?;
    run.fill(slab, Ask::text::<Length>("slab", "thickness").may())?;
    let poured = Ask::formed::<Date>("slab", "poured", Form::YearOrDay).may();
    if let Some(poured) = run.ask(poured)? {
        let key = if matches!(poured, Value::Datetime(_)) { "poured" } else { "poured-year" };
        run.put(slab, key, Some(poured));
    }
    run.fill(slab, Ask::word::<Known>("slab", "vapor-retarder", words(Known::WORDS)).may())?;
    run.fill(slab, Ask::word::<WaterDrop>("slab", "water-drop", words(WaterDrop::WORDS)).may())?;
    run.fill(slab, Ask::yes_no("slab", "oil").may())?;
    run.fill(slab, Ask::yes_no("slab", "salts").may())?;
    let coating = Ask::word::<OldCoating>("slab", "old-coating", words(OldCoating::WORDS));
    run.fill(slab, coating.may())?;
    run.fill(slab, Ask::word::<TileGlue>("slab", "tile-glue", words(TileGlue::WORDS)).may())?;
    let treatments = Ask::words::<Treatment>("slab", "treatments", words(Treatment::WORDS));
    run.fill(slab, treatments.may())?;
    run.fill(slab, Ask::text::<Strength>("slab", "surface-strength").may())?;
    // Before the holes of probes: a drill must not meet it.
    run.fill(slab, Ask::words::<Inside>("slab", "inside", words(Inside::WORDS)).may())?;
    run.mark(Mark::Inside);
    Ok(())
}

fn air(run: &mut Run<'_>, date: String) -> Flow {
    run.topic("air");
    if !run.yes(Ask::yes_no("air", "any").may().or("yes"))? {
        return Ok(());
    }
    let air = Place::table("air");
    run.fill(air, Ask::bare::<Date>("air", "measured").or(date))?;
    run.fill(air, Ask::text::<Temperature>("air", "temperature"))?;
    run.fill(air, Ask::text::<Humidity>("air", "humidity"))?;
    run.fill(air, Ask::text::<Temperature>("air", "slab"))?;
    run.mark(Mark::Air);
    Ok(())
}

fn garage(run: &mut Run<'_>) -> Flow {
    run.topic("garage");
    let garage = Place::table("garage");
    run.fill(garage, Ask::yes_no("garage", "daylight").or("yes"))?;
    run.fill(garage, Ask::yes_no("garage", "sold-at-home").or("yes"))?;
    run.fill(garage, Ask::yes_no("garage", "wet").may().or("yes"))?;
    run.fill(garage, Ask::text::<Length>("garage", "height").may())?;
    run.lines::<String>(garage, "garage", "ignition")?;
    Ok(())
}

/// The floors on offer and what the customer cares about. Gives the floors.
fn offer(run: &mut Run<'_>) -> Flow<Vec<String>> {
    run.topic("offer");
    let keys: Vec<String> = run.setting.floors.iter().map(|floor| floor.key.0.clone()).collect();
    let offer = run.fill(Place::TOP, Ask::words::<Key>("job", "offer", keys))?;
    let wishes = Ask::words::<Wish>("job", "wishes", words(Wish::WORDS)).may();
    run.fill(Place::TOP, wishes)?;
    let offer = offer.as_ref().and_then(Value::as_array);
    let keys = offer.into_iter().flatten().filter_map(|key| key.as_str().map(str::to_owned));
    Ok(keys.collect())
}

fn plan(run: &mut Run<'_>) -> Flow {
    run.topic("plan");
    let plan = Place::table("plan");
    run.fill(plan, Ask::bare::<Date>("plan", "start").may())?;
    run.fill(plan, Ask::bare::<u32>("plan", "crew").may())?;
    Ok(())
}

/// What may be added to the floors on offer.
fn extras(run: &mut Run<'_>, offered: &[String]) -> Flow {
    let setting = run.setting;
    for (at, floor) in setting.floors.iter().enumerate() {
        if floor.extras.is_empty() || !offered.contains(&floor.key.0) {
            continue;
        }
        let words = floor.extras.iter().map(|extra| extra.0.clone()).collect();
        let ask = Ask::words::<Key>("extras", "which", words).may().nth(at + 1);
        if let Some(extras) = run.ask(ask.about(&floor.name))? {
            run.put(Place::table("extras"), &floor.key.0, Some(extras));
        }
    }
    Ok(())
}

fn notes(run: &mut Run<'_>) -> Flow {
    run.topic("notes");
    let setting = run.setting;
    for n in 1..=crate::read::limits::PHOTOS {
        let form = Form::Picture(setting.photos.clone());
        let photo = Place::list("photo", n);
        if run.fill(photo, Ask::formed::<JobPath>("photo", "file", form).may())?.is_none() {
            break;
        }
        run.fill(photo, Ask::text::<String>("photo", "caption"))?;
    }
    run.lines::<LongText>(Place::TOP, "job", "notes")?;
    run.lines::<LongText>(Place::TOP, "job", "crew-notes")?;
    Ok(())
}
