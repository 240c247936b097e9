//! Questions about moisture tests, one by one: dishes (ASTM F1869), probes (ASTM F2170) and taped
//! plastic sheets (ASTM D4263).

use crate::interview::ask::Ask;
use crate::interview::run::{Flow, Mark, Run};
use crate::model::job::TestSurface;
use crate::read::keys::moisture::{dish, dishes, probe, probes, sheet};

/// Which tests were made.
const METHODS: [&str; 5] = ["none", "dishes", "probes", "both", SHEET];
const SHEET: &str = "plastic-sheet";

pub fn tests(run: &mut Run<'_>) -> Flow {
    run.topic("moisture");
    let method = run.word(Ask::word("moisture", "method", &METHODS).may().or("none"))?;
    if matches!(method.as_str(), "dishes" | "both") {
        ask_dishes(run)?;
    }
    if matches!(method.as_str(), "probes" | "both") {
        ask_probes(run)?;
    }
    if matches!(method.as_str(), "dishes" | "probes" | "both" | SHEET) {
        ask_sheets(run, usize::from(method == SHEET))?;
        run.mark(Mark::Moisture);
    }
    Ok(())
}

fn ask_dishes(run: &mut Run<'_>) -> Flow {
    run.fill(Ask::from(dishes::SCALE).or("0.1 g"))?;
    run.fill(dishes::INSTRUMENT)?;
    if run.fill(dishes::ROOM_TEMPERATURE)?.is_some() {
        run.fill(Ask::from(dishes::ROOM_HUMIDITY).must())?;
        run.fill(dishes::ROOM_AS_USED)?;
    }
    run.fill(dishes::SETTLED)?;
    // Dishes of one visit are alike, and stand for the same nights.
    run.each("dish", 1, |run, n| {
        run.fill(dish::PLACE)?;
        run.fill(dish::AT)?;
        let surface = run.fill_as_before(dish::SURFACE)?;
        run.mark(Mark::Surface(n));
        run.fill_as_before(dish::EXPOSED)?;
        run.fill(dish::BEFORE)?;
        run.fill(dish::AFTER)?;
        run.fill_as_before(dish::SET)?;
        run.fill_as_before(dish::LIFTED)?;
        run.mark(Mark::Dish(n));
        // Behind the moment at which it was set, so that a slip is told at once.
        if surface.is_some_and(|word| word.as_str() == Some(TestSurface::GroundOpen.word())) {
            run.fill_as_before(dish::GROUND)?;
        }
        Ok(())
    })
    .map(drop)
}

fn ask_probes(run: &mut Run<'_>) -> Flow {
    run.fill(Ask::from(probes::EDITION).or("2019"))?;
    run.fill(probes::INSTRUMENT)?;
    run.fill(probes::ACCURACY)?;
    run.fill(probes::SETTLED)?;
    run.each("probe", 1, |run, n| {
        run.fill(probe::PLACE)?;
        run.fill(probe::AT)?;
        run.fill_as_before(probe::DEPTH)?;
        run.mark(Mark::Depth(n));
        run.fill(probe::READING)?;
        run.fill_as_before(probe::DRILLED)?;
        run.fill_as_before(probe::READ)?;
        run.fill_as_before(probe::CALIBRATED)?;
        run.mark(Mark::Probe(n));
        Ok(())
    })?;
    Ok(())
}

fn ask_sheets(run: &mut Run<'_>, least: usize) -> Flow {
    run.each("sheet", least, |run, n| {
        run.fill(sheet::PLACE)?;
        run.fill(sheet::AT)?;
        run.fill_as_before(sheet::TAPED)?;
        run.fill_as_before(sheet::LIFTED)?;
        run.fill(sheet::SEALED)?;
        run.fill(sheet::FOUND)?;
        run.mark(Mark::Sheet(n));
        Ok(())
    })?;
    Ok(())
}
