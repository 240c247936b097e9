//! Questions about what was measured: areas and what is left out of them, walls and steps, and
//! what has to be mended.

use toml_edit::{Array, Value};

use crate::interview::ask::Ask;
use crate::interview::draft::DraftPlace;
use crate::interview::run::{Flow, Mark, Run};
use crate::read::keys::shapes::{area, cove, crack, cutout, joint, spall, steps, upright};
use crate::read::keys::table::TableSpec;
use crate::read::limits;

/// Areas, cut-outs, walls and steps.
pub fn floor(run: &mut Run<'_>) -> Flow {
    run.topic("floor");
    let areas = run.each("area", 1, |run, n| {
        patch(run, &area::TABLE, "area", n)?;
        run.mark(Mark::Floor(n, 0));
        Ok(())
    })?;
    run.each("cutout", 0, |run, n| {
        patch(run, &cutout::TABLE, "cutout", n)?;
        run.mark(Mark::Floor(areas, n));
        Ok(())
    })?;
    run.topic("upright");
    let walls = run.each("upright", 0, |run, _| {
        run.fill(upright::NAME)?;
        run.fill(upright::LENGTH)?;
        run.fill(upright::HEIGHT)
    })?;
    let flights = run.each("steps", 0, |run, _| {
        run.fill(steps::COUNT)?;
        run.fill(steps::WIDTH)?;
        run.fill(steps::TREAD)?;
        run.fill(steps::RISER)?;
        run.fill(steps::AT)
    })?;
    let coves = run.each("cove", 0, |run, _| {
        run.fill(cove::NAME)?;
        run.fill(cove::LENGTH)?;
        run.fill(cove::RADIUS)
    })?;
    if walls + flights + coves > 0 {
        run.mark(Mark::Upright);
    }
    Ok(())
}

/// A flat patch: a rectangle, or its corners in order.
fn patch(run: &mut Run<'_>, table: &TableSpec, group: &'static str, n: usize) -> Flow {
    run.fill(area::NAME.of(table))?;
    let shape = Ask::word(group, "shape", &[RECTANGLE, CORNERS]).usual(RECTANGLE).nth(n);
    if run.word(shape)? == CORNERS {
        return outline(run, group, n);
    }
    run.fill(Ask::from(area::LENGTH.of(table)).must())?;
    run.fill(Ask::from(area::WIDTH.of(table)).must())?;
    // The plan starts at the first area, so only what comes later has to say where it lies.
    if group == "area" && n == 1 {
        return Ok(());
    }
    if run.fill(area::AT.of(table))?.is_some() && group == "area" {
        let origin = DraftPlace::list("area", 1);
        if !run.draft.has(origin, "outline") && !run.draft.has(origin, "at") {
            let zero = if run.metric { "0 m" } else { "0 ft" };
            let corner: Array = [zero, zero].into_iter().collect();
            run.put(origin, "at", Some(Value::Array(corner)));
        }
    }
    Ok(())
}

const RECTANGLE: &str = "rectangle";
const CORNERS: &str = "corners";
/// Fewer enclose nothing.
const LEAST_CORNERS: usize = 3;

fn outline(run: &mut Run<'_>, group: &'static str, n: usize) -> Flow {
    let mut corners = Array::new();
    for corner in 1..=limits::LIST {
        let ask = Ask::place(group, "corner").nth(n).nth(corner);
        let ask = if corner > LEAST_CORNERS { ask.may() } else { ask };
        let Some(place) = run.ask(ask)? else { break };
        corners.push(place);
    }
    run.put(DraftPlace::list(group, n), "outline", Some(Value::Array(corners)));
    Ok(())
}

/// Cracks, joints, spalls.
pub fn repairs(run: &mut Run<'_>) -> Flow {
    run.topic("repairs");
    run.each("crack", 0, |run, _| {
        run.fill(crack::NAME)?;
        run.fill(crack::LENGTH)?;
        run.fill(crack::WIDTH)?;
        run.fill(crack::MOVES)
    })?;
    run.each("joint", 0, |run, _| {
        run.fill(joint::NAME)?;
        run.fill(joint::LENGTH)?;
        run.fill(Ask::from(joint::TREATMENT).or("honor"))
    })?;
    run.each("spall", 0, |run, _| {
        run.fill(spall::NAME)?;
        if run.fill(spall::AREA)?.is_none() {
            run.fill(Ask::from(spall::LENGTH).must())?;
            run.fill(Ask::from(spall::WIDTH).must())?;
        }
        run.fill(spall::DEPTH)
    })?;
    Ok(())
}
