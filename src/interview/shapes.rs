//! Questions about what was measured: areas and what is left out of them, walls and steps, and
//! what has to be mended.

use toml_edit::{Array, Value};

use crate::base::quantity::{Area, Length};
use crate::interview::ask::Ask;
use crate::interview::draft::Place;
use crate::interview::run::{Flow, Mark, Run};
use crate::interview::visit::words;
use crate::model::job::{JointTreatment, Known};
use crate::read::limits;

/// Areas, cut-outs, walls and steps.
pub fn floor(run: &mut Run<'_>) -> Flow {
    run.topic("floor");
    let areas = run.each("area", 1, |run, n| {
        patch(run, "area", n)?;
        run.mark(Mark::Floor(n, 0));
        Ok(())
    })?;
    run.each("cutout", 0, |run, n| {
        patch(run, "cutout", n)?;
        run.mark(Mark::Floor(areas, n));
        Ok(())
    })?;
    run.topic("upright");
    let walls = run.each("upright", 0, |run, n| {
        let upright = Place::list("upright", n);
        run.fill(upright, name("upright"))?;
        sizes(run, upright, "upright", &["length", "height"])
    })?;
    let steps = run.each("steps", 0, |run, n| {
        let steps = Place::list("steps", n);
        run.fill(steps, Ask::bare::<u32>("steps", "count"))?;
        sizes(run, steps, "steps", &["width", "tread", "riser"])?;
        run.fill(steps, Ask::place("steps", "at").may())?;
        Ok(())
    })?;
    let coves = run.each("cove", 0, |run, n| {
        let cove = Place::list("cove", n);
        run.fill(cove, name("cove"))?;
        sizes(run, cove, "cove", &["length", "radius"])
    })?;
    if walls + steps + coves > 0 {
        run.mark(Mark::Upright);
    }
    Ok(())
}

fn name(group: &'static str) -> Ask {
    Ask::text::<String>(group, "name").may()
}

fn sizes(
    run: &mut Run<'_>,
    place: Place,
    group: &'static str,
    keys: &'static [&'static str],
) -> Flow {
    keys.iter().try_for_each(|key| run.fill(place, Ask::text::<Length>(group, key)).map(drop))
}

/// A flat patch: a rectangle, or its corners in order.
fn patch(run: &mut Run<'_>, group: &'static str, n: usize) -> Flow {
    let place = Place::list(group, n);
    run.fill(place, name(group))?;
    let shapes = [RECTANGLE, CORNERS].map(str::to_owned).to_vec();
    let shape = Ask::word::<String>(group, "shape", shapes).usual(RECTANGLE).nth(n);
    if run.word(shape)? == CORNERS {
        return outline(run, group, n);
    }
    sizes(run, place, group, &["length", "width"])?;
    // The plan starts at the first area, so only what comes later has to say where it lies.
    if group == "area" && n == 1 {
        return Ok(());
    }
    if run.fill(place, Ask::place(group, "at").may())?.is_some() && group == "area" {
        let origin = Place::list("area", 1);
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
        match run.ask(ask)? {
            Some(place) => corners.push(place),
            None => break,
        }
    }
    run.put(Place::list(group, n), "outline", Some(Value::Array(corners)));
    Ok(())
}

/// Cracks, joints, spalls.
pub fn repairs(run: &mut Run<'_>) -> Flow {
    run.topic("repairs");
    run.each("crack", 0, |run, n| {
        let crack = Place::list("crack", n);
        run.fill(crack, name("crack"))?;
        sizes(run, crack, "crack", &["length", "width"])?;
        run.fill(crack, Ask::word::<Known>("crack", "moves", words(Known::WORDS)).may())?;
        Ok(())
    })?;
    run.each("joint", 0, |run, n| {
        let joint = Place::list("joint", n);
        run.fill(joint, name("joint"))?;
        sizes(run, joint, "joint", &["length"])?;
        let treatments = words(JointTreatment::WORDS);
        let treatment = Ask::word::<JointTreatment>("joint", "treatment", treatments);
        run.fill(joint, treatment.may().or("honor"))?;
        Ok(())
    })?;
    run.each("spall", 0, |run, n| {
        let spall = Place::list("spall", n);
        run.fill(spall, name("spall"))?;
        if run.fill(spall, Ask::text::<Area>("spall", "area").may())?.is_none() {
            sizes(run, spall, "spall", &["length", "width"])?;
        }
        sizes(run, spall, "spall", &["depth"])
    })?;
    Ok(())
}
