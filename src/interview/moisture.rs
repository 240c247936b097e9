//! Questions about moisture tests, one by one: dishes (ASTM F1869), probes (ASTM F2170) and taped
//! plastic sheets (ASTM D4263).

use jiff::civil::DateTime;

use crate::base::quantity::{Area, Humidity, Length, Mass, Temperature};
use crate::interview::ask::Ask;
use crate::interview::draft::Place;
use crate::interview::run::{Flow, Mark, Run};
use crate::interview::visit::words;
use crate::model::job::{Calibrated, SheetFound, TestSurface};

/// Which tests were made.
const METHODS: [&str; 5] = ["none", "dishes", "probes", "both", SHEET];
const SHEET: &str = "plastic-sheet";

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
    if matches!(method.as_str(), "dishes" | "probes" | "both" | SHEET) {
        sheets(run, usize::from(method == SHEET))?;
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
        run.fill(test, Ask::yes_no("dishes", "room-as-used").may())?;
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
        let surface = Ask::word::<TestSurface>("dish", "surface", words(TestSurface::WORDS));
        let surface = run.fill(dish, surface.may().or_as(last(run, "surface")))?;
        run.mark(Mark::Surface(n));
        let exposed = last(run, "exposed");
        run.fill(dish, Ask::text::<Area>("dish", "exposed").or_as(exposed))?;
        run.fill(dish, Ask::text::<Mass>("dish", "before"))?;
        run.fill(dish, Ask::text::<Mass>("dish", "after"))?;
        let (set, lifted) = (last(run, "set"), last(run, "lifted"));
        run.fill(dish, Ask::bare::<DateTime>("dish", "set").or_as(set))?;
        run.fill(dish, Ask::bare::<DateTime>("dish", "lifted").or_as(lifted))?;
        run.mark(Mark::Dish(n));
        // Behind the moment at which it was set, so that a slip is told at once.
        if surface.is_some_and(|word| word.as_str() == Some(TestSurface::GroundOpen.word())) {
            let ground = last(run, "ground");
            run.fill(dish, Ask::bare::<DateTime>("dish", "ground").may().or_as(ground))?;
        }
        Ok(())
    })?;
    Ok(())
}

fn probes(run: &mut Run<'_>) -> Flow {
    let test = Place::table("moisture.probes");
    run.fill(test, Ask::bare::<u32>("probes", "edition").or("2019"))?;
    run.fill(test, Ask::text::<String>("probes", "instrument").may())?;
    run.fill(test, Ask::text::<Humidity>("probes", "accuracy").may())?;
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
        run.fill(probe, Ask::bare::<Calibrated>("probe", "calibrated").may().or_as(calibrated))?;
        run.mark(Mark::Probe(n));
        Ok(())
    })?;
    Ok(())
}

fn sheets(run: &mut Run<'_>, least: usize) -> Flow {
    run.each("sheet", least, |run, n| {
        let sheet = Place::list("moisture.plastic-sheet", n);
        let last = |run: &Run<'_>, key| {
            run.draft.typed(Place::list("moisture.plastic-sheet", n.saturating_sub(1)), key)
        };
        run.fill(sheet, Ask::text::<String>("sheet", "place"))?;
        run.fill(sheet, Ask::place("sheet", "at").may())?;
        let (taped, lifted) = (last(run, "taped"), last(run, "lifted"));
        run.fill(sheet, Ask::bare::<DateTime>("sheet", "taped").or_as(taped))?;
        run.fill(sheet, Ask::bare::<DateTime>("sheet", "lifted").or_as(lifted))?;
        run.fill(sheet, Ask::yes_no("sheet", "sealed").may())?;
        let found = Ask::word::<SheetFound>("sheet", "found", words(SheetFound::WORDS));
        run.fill(sheet, found)?;
        run.mark(Mark::Sheet(n));
        Ok(())
    })?;
    Ok(())
}
