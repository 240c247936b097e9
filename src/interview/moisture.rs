//! Questions about moisture tests: dishes (ASTM F1869) and probes (ASTM F2170), one by one.

use jiff::civil::{Date, DateTime};

use crate::interview::ask::Ask;
use crate::interview::draft::Place;
use crate::interview::run::{Flow, Mark, Run};
use crate::quantity::{Area, Humidity, Length, Mass, Temperature};

/// Which tests were made.
const METHODS: [&str; 4] = ["none", "dishes", "probes", "both"];

pub fn tests(run: &mut Run<'_>) -> Flow {
    run.topic("moisture");
    let methods = METHODS.map(str::to_owned).to_vec();
    let method = run.word(Ask::word::<String>("moisture", "method", methods).may().or("none"))?;
    if matches!(method.as_str(), "dishes" | "both") {
        dishes(run)?;
    }
    if matches!(method.as_str(), "probes" | "both") {
        probes(run)?;
    }
    if matches!(method.as_str(), "dishes" | "probes" | "both") {
        run.mark(Mark::Moisture);
    }
    Ok(())
}

fn dishes(run: &mut Run<'_>) -> Flow {
    let test = Place::table("moisture.dishes");
    run.fill(test, Ask::text::<Mass>("dishes", "scale").or("0.1 g"))?;
    run.fill(test, Ask::text::<String>("dishes", "instrument").may())?;
    let temperature = Ask::text::<Temperature>("dishes", "room-temperature").may();
    if run.fill(test, temperature)?.is_some() {
        run.fill(test, Ask::text::<Humidity>("dishes", "room-humidity"))?;
    }
    run.fill(test, Ask::yes_no("dishes", "settled").may())?;
    run.each("dish", 1, |run, n| {
        let dish = Place::list("moisture.dishes.dish", n);
        // Dishes of one visit are alike, and stand for the same nights.
        let last = |run: &Run<'_>, key| {
            run.draft.typed(Place::list("moisture.dishes.dish", n.saturating_sub(1)), key)
        };
        run.fill(dish, Ask::text::<String>("dish", "place"))?;
        run.fill(dish, Ask::place("dish", "at").may())?;
        let exposed = last(run, "exposed");
        run.fill(dish, Ask::text::<Area>("dish", "exposed").or_as(exposed))?;
        run.fill(dish, Ask::text::<Mass>("dish", "before"))?;
        run.fill(dish, Ask::text::<Mass>("dish", "after"))?;
        let (set, lifted) = (last(run, "set"), last(run, "lifted"));
        run.fill(dish, Ask::bare::<DateTime>("dish", "set").or_as(set))?;
        run.fill(dish, Ask::bare::<DateTime>("dish", "lifted").or_as(lifted))?;
        run.mark(Mark::Dish(n));
        Ok(())
    })?;
    Ok(())
}

fn probes(run: &mut Run<'_>) -> Flow {
    let test = Place::table("moisture.probes");
    run.fill(test, Ask::bare::<u32>("probes", "edition").or("2019"))?;
    run.fill(test, Ask::text::<String>("probes", "instrument").may())?;
    run.fill(test, Ask::yes_no("probes", "settled").may())?;
    run.each("probe", 1, |run, n| {
        let probe = Place::list("moisture.probes.probe", n);
        let last = |run: &Run<'_>, key| {
            run.draft.typed(Place::list("moisture.probes.probe", n.saturating_sub(1)), key)
        };
        run.fill(probe, Ask::text::<String>("probe", "place"))?;
        run.fill(probe, Ask::place("probe", "at").may())?;
        let depth = last(run, "depth");
        run.fill(probe, Ask::text::<Length>("probe", "depth").or_as(depth))?;
        run.mark(Mark::Depth(n));
        run.fill(probe, Ask::text::<Humidity>("probe", "reading"))?;
        let (drilled, read) = (last(run, "drilled"), last(run, "read"));
        run.fill(probe, Ask::bare::<DateTime>("probe", "drilled").or_as(drilled))?;
        run.fill(probe, Ask::bare::<DateTime>("probe", "read").or_as(read))?;
        let calibrated = last(run, "calibrated");
        run.fill(probe, Ask::bare::<Date>("probe", "calibrated").may().or_as(calibrated))?;
        run.mark(Mark::Probe(n));
        Ok(())
    })?;
    Ok(())
}
