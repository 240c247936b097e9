//! The questions of a job file, in the order in which one walks a garage: the people and the house, the outline with
//! what stands up from it, the slab from close by, the tests, the air, what the garage holds, then wishes and work.

use toml_edit::Value;

use crate::interview::ask::{AnswerForm, Ask};
use crate::interview::draft::DraftPlace;
use crate::interview::run::{Flow, Mark, Run};
use crate::interview::{moisture, shapes};
use crate::model::job::Units;
use crate::read::keys::choices::{choices, discount, item};
use crate::read::keys::job::{air, customer, extras, garage, house, job, photo, plan, slab};
use crate::read::limits;

pub fn visit(run: &mut Run<'_>) -> Flow {
    let date = ask_paper(run)?;
    ask_customer(run)?;
    shapes::floor(run)?;
    ask_slab(run)?;
    shapes::repairs(run)?;
    moisture::tests(run)?;
    ask_air(run, date)?;
    ask_garage(run)?;
    let offered = ask_offer(run)?;
    run.topic("plan");
    run.fill(plan::START)?;
    run.fill(plan::CREW)?;
    ask_extras(run, &offered)?;
    ask_more(run)?;
    ask_notes(run)
}

/// Further matters of a first visit, each with questions of its own.
const MORE: [&str; 7] =
    ["color", "contact", "second-email", "stay", "item", "discount", "tax-exempt"];

/// Asks once what else was said; only that is asked about.
fn ask_more(run: &mut Run<'_>) -> Flow {
    run.topic("more");
    let said = run.ask(Ask::words("more", "what", &MORE).may())?;
    let said = |word: &str| {
        let words = said.as_ref().and_then(Value::as_array).into_iter().flatten();
        words.filter_map(Value::as_str).any(|one| one == word)
    };
    if said("color") {
        run.fill(choices::COLOR)?;
        run.fill(choices::TEXTURE)?;
    }
    if said("contact") {
        run.fill(plan::CONTACT)?;
    }
    if said("second-email") {
        run.fill(customer::SECOND_EMAIL)?;
    }
    if said("stay") {
        run.fill(house::STAY_YEARS)?;
    }
    if said("item") {
        run.each("item", 1, |run, n| {
            run.fill(item::NAME)?;
            if run.fill(item::PRICE)?.is_none() {
                run.put(DraftPlace::list("item", n), "on-request", Some(Value::from(true)));
            }
            Ok(())
        })?;
    }
    if said("discount") {
        run.fill(Ask::from(discount::AMOUNT).must())?;
        run.fill(discount::REASON)?;
    }
    if said("tax-exempt") {
        run.fill(customer::TAX_EXEMPT)?;
    }
    Ok(())
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
    let mut known = vec![];
    for ask in [
        Ask::from(air::MEASURED).or(date),
        Ask::from(air::TEMPERATURE).may(),
        Ask::from(air::HUMIDITY).may(),
        Ask::from(air::SLAB).may(),
    ] {
        let key = ask.key;
        let value = run.ask(ask)?;
        known.push((key, value, run.asked.last().cloned().unwrap_or_default()));
    }
    // A dew point takes all of them: with one that is not known, the air counts as not measured.
    if known.iter().any(|(_, value, _)| value.is_none()) {
        run.mark(Mark::AirOpen);
        return Ok(());
    }
    for (key, value, owner) in known {
        run.draft.put(DraftPlace::table("air"), key, value, &owner);
    }
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
