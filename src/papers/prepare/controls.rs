//! Controls that keep a crew from harm on this job, reasons to stop, boxes to tick, tools to bring,
//! and handling of waste. Each line stands only where the job calls for it.

use serde::Serialize;

use crate::base::quantity::{Airflow, Area, Length, Share};
use crate::judge::checks::{old_coating_lead, silica};
use crate::model::book::{Product, Resin, Skin, Stated};
use crate::model::job::{TileGlue, Units};
use crate::model::rules::Subject;
use crate::model::system::{Broadcast, Lay};
use crate::papers::proposal::start_conditions;
use crate::papers::proposal::writer::{Writer, values};
use crate::price::case::FloorOption;
use crate::price::floor::FloorCoat;
use crate::price::repair;

/// One danger and what is done about it.
#[derive(Debug, Clone, Serialize)]
pub struct Control {
    pub title: String,
    pub says: Vec<String>,
    /// Conditions before the work, each with a box to tick; may be empty.
    pub ticks: Vec<String>,
    /// Consequences once all is ticked, or if not.
    pub then: Vec<String>,
}

/// Boxes to tick at one moment of the job, or things to bring for one task.
#[derive(Debug, Clone, Serialize)]
pub struct Ticks {
    pub title: String,
    pub items: Vec<String>,
}

/// Controls that have boxes to tick.
const TICKED: &[&str] = &["silica", "lead"];

/// Least airflow of a hand grinder's vacuum for each [`WHEEL`] of its wheel: 29 CFR 1926.1153,
/// Table 1, row xii. Elsewhere it stands as good practice.
const AIR: Airflow = Airflow::cubic_feet_per_minute(25.0);
const WHEEL: Length = Length::inches(1.0);

/// The least that a filter holds back: rows xii and xiii of the same table.
const FILTER: Share = Share::of_one(0.99);

/// The dangers of this floor on this slab.
pub fn controls(w: &Writer<'_>, option: &FloorOption<'_>) -> Vec<Control> {
    let job = w.case.job;
    let facts = template_values(w, option);
    let used = products_used(w, option);
    let tile_glue = job.slab.tile_glue.is_none_or(|glue| glue != TileGlue::Nothing);
    let isocyanate = used.iter().any(|product| product.isocyanate());
    let skin = used.iter().any(|product| product.skin() != Skin::Nothing);
    let vapor = |resin: &Resin| resin.solvent.given().is_some() || resin.solvent_unknown();
    let vapor = option.floor.resins().any(|(_, resin)| vapor(resin));
    let solvent = vapor || !w.case.book.cleaning.is_nothing();
    // Each by its name in the words, with the subject of the rules about it.
    let all = [
        ("silica", Some(Subject::Dust), true),
        ("asbestos", Some(Subject::Asbestos), tile_glue),
        ("lead", Some(Subject::Lead), old_coating_lead::may_hold_lead(job)),
        ("respirator", Some(Subject::Respirator), true),
        ("power", None, true),
        ("isocyanate", Some(Subject::Chemicals), isocyanate),
        ("skin", None, skin),
        ("solvent", Some(Subject::Fire), solvent),
    ];
    let wanted = all.into_iter().filter(|(.., wanted)| *wanted);
    wanted
        .map(|(name, subject, _)| {
            let text = |key: &str| format!("crew.controls.{name}.{key}");
            let rule = subject.map_or(String::new(), |subject| w.local_rule(subject));
            let facts = minijinja::context! { rule => rule.as_str(), ..facts.clone() };
            let list = |key: &str| w.lines(&text(key), &facts);
            let (ticks, mut then) = match TICKED.contains(&name) {
                true => (list("ticks"), list("then")),
                false => (vec![], vec![]),
            };
            then.extend((!rule.is_empty()).then_some(rule));
            Control { title: w.plain(&text("title")), says: list("says"), ticks, then }
        })
        .collect()
}

/// Returns the reasons to stop the work.
pub fn stops(w: &Writer<'_>) -> Vec<String> {
    w.lines("crew.stops", &values([("emergency", w.emergency())]))
}

/// Moments at which a crew ticks boxes, in the order of the job: what the customer does, before the work,
/// before a can is opened, while a coat goes down, before it leaves.
const MOMENTS: &[&str] = &["customer", "before", "can", "coating", "leaving"];

/// All that is ticked off; a moment without anything to tick is left out. Measurements that no coat would
/// stand stand first: the work starts only when they have changed.
pub fn ticks(w: &Writer<'_>, option: &FloorOption<'_>) -> Vec<Ticks> {
    let facts = template_values(w, option);
    let start = Ticks { title: w.plain("crew.ticks.start.title"), items: start_conditions(w) };
    let all = MOMENTS.iter().map(|moment| {
        let name = |part: &str| format!("crew.ticks.{moment}.{part}");
        titled(w, &name("title"), &name("items"), &facts)
    });
    std::iter::once(start).chain(all).filter(|ticks| !ticks.items.is_empty()).collect()
}

/// Tasks that tools are for.
const TOOLS: &[&str] = &["prepare", "coat", "protect"];

/// Returns the tools to bring, by what they are for.
pub fn tools(w: &Writer<'_>, option: &FloorOption<'_>) -> Vec<Ticks> {
    let facts = template_values(w, option);
    let all = TOOLS.iter().map(|task| {
        let name = |part: &str| format!("crew.tools.{task}.{part}");
        titled(w, &name("title"), &name("items"), &facts)
    });
    all.collect()
}

/// A list of the words with its title, by their names.
fn titled(w: &Writer<'_>, title: &str, items: &str, facts: &minijinja::Value) -> Ticks {
    Ticks { title: w.plain(title), items: w.lines(items, facts) }
}

/// Returns the handling of waste.
pub fn waste(w: &Writer<'_>, option: &FloorOption<'_>) -> Vec<String> {
    w.lines("crew.waste", &template_values(w, option))
}

/// Returns the products that go onto the slab: the coats of the floor, then the fillers of its
/// repairs, each once.
fn products_used<'a>(w: &Writer<'a>, option: &FloorOption<'a>) -> Vec<&'a Product> {
    let repairs = repair::repairs(&w.case.job.shapes, w.case.book);
    let pigment = |coat: &FloorCoat<'a>| coat.pigment.map(|(product, _)| product);
    let coats = option.floor.coats.iter().flat_map(|coat| [Some(coat.product), pigment(coat)]);
    let mut all: Vec<&Product> = vec![];
    for product in
        coats.flatten().chain(repair::fillers(&repairs).into_iter().map(|(product, _)| product))
    {
        if !all.iter().any(|known| known.name == product.name) {
            all.push(product);
        }
    }
    all
}

/// Returns the values that the sentences may use.
pub fn template_values(w: &Writer<'_>, option: &FloorOption<'_>) -> minijinja::Value {
    let job = w.case.job;
    let used = products_used(w, option);
    let names = |kind: &dyn Fn(&Product) -> bool| {
        let such = used.iter().filter(|product| kind(product));
        w.figures.list(&such.map(|product| product.name.clone()).collect::<Vec<_>>())
    };
    let resin = |kind: fn(&Resin) -> bool| names(&|product| product.resin().is_some_and(kind));
    let (cleaner, cleaner_unsaid) = match &w.case.book.cleaning {
        Stated::Given(cleaner) => (cleaner.0.clone(), false),
        Stated::Nothing => (String::new(), false),
        Stated::NotSaid => (String::new(), true),
    };
    let grinding = silica::longest_shift(w.case, &option.estimate);
    let (hours, hours_limit) =
        w.figures.told_apart(&grinding.together().into(), &silica::LIMIT.into());
    let laid = |how: Lay| option.floor.resins().any(|(coat, _)| coat.spec.lay == how);
    let us = job.units == Units::Us;
    // For an inch of wheel, or for a millimeter.
    let wheels = if us { 1.0 } else { WHEEL.as_millimeters() };
    let batches: u32 = option.estimate.batches.iter().map(|(_, batches)| batches.count).sum();
    let airs = crate::papers::proposal::solvent_coats(w, option);
    let flow = airs.iter().map(|(_, air)| air.fire).reduce(Airflow::max);
    minijinja::context! {
        us_rules => w.is_us(),
        us => us,
        // Nothing lies in the slab, as far as somebody knows.
        bare_slab => !job.slab.needs_scan(),
        lead => old_coating_lead::may_hold_lead(job),
        grinding_hours => hours,
        long_grinding => grinding.is_long(),
        near_grinding => grinding.is_near(),
        grinding_about => w.figure(grinding.together()),
        grinding_limit => hours_limit,
        factor => w.figures.number(f64::from(silica::FACTOR), 0),
        wheel_air => w.figures.airflow_each(AIR, wheels),
        filter => w.figure(FILTER),
        isocyanates => names(&Product::isocyanate),
        skin => names(&|product| product.skin() == Skin::Allergy),
        skin_unsaid => names(&|product| product.skin() == Skin::NotSaid),
        solvents => resin(|resin| resin.solvent.given().is_some()),
        solvents_unknown => resin(Resin::solvent_unknown),
        cleaner => cleaner,
        cleaner_unsaid => cleaner_unsaid,
        emergency => w.emergency(),
        airflow => flow.map_or_else(String::new, |flow| w.figure(flow)),
        ignition => w.figures.list(&job.garage.ignition),
        quartz => names(&Product::may_hold_silica),
        poured => laid(Lay::Poured),
        troweled => laid(Lay::Troweled),
        weighs => used.iter().any(|one| one.pigment().is_some() || one.grit().is_some()),
        full_flake => option.floor.broadcast() == Some(Broadcast::Full),
        flake => option.floor.broadcast().is_some(),
        upright => w.case.site.take_off.upright > Area::ZERO,
        repairs => !job.shapes.cracks.is_empty() || !job.shapes.joints.is_empty()
            || !job.shapes.spalls.is_empty() || !job.shapes.coves.is_empty(),
        coves => !job.shapes.coves.is_empty(),
        batches => w.figures.number(f64::from(batches), 0),
        old_coating => crate::price::estimate::has_old_coating(job),
        water_based => option.floor.resins().any(|(_, resin)| resin.water_based),
    }
}
