//! The crew sheet: one job's work at a glance, for gloved hands. Hours, film targets and mixes are
//! the shop's own, so it never goes to a customer.

use minijinja::context;
use serde::Serialize;

use crate::base::figure::Figure;
use crate::base::quantity::Area;
use crate::papers::prepare::air::{FreshAir, fresh_air};
use crate::papers::prepare::coats::{
    Blank, DewTable, Gate, LiquidCoat, Mix, blanks, coats, dew_table, gate, mix,
};
use crate::papers::prepare::controls::{self, Control, Ticks};
use crate::papers::prepare::days::{task_name, visits};
use crate::papers::prepare::mends::{Mend, mends};
use crate::papers::prepare::shop_frame;
use crate::papers::prepare::watch::{Watch, watch};
use crate::papers::proposal::page::{FloorPlan, Frame};
use crate::papers::proposal::writer::{Writer, capital};
use crate::papers::proposal::{Issue, LookChoice, PageForm, floor_plan, look};
use crate::price::case::FloorOption;
use crate::price::estimate::labor::Task;
use crate::price::repair::{self, Repair};
use crate::say::words::WordsError;

/// The crew sheet as its layout sees it.
#[derive(Debug, Clone, Serialize)]
pub struct CrewSheet {
    #[serde(flatten)]
    pub frame: Frame,
    pub floor: String,
    /// Statement that nobody has signed for this floor; empty where it was signed.
    pub unsigned: String,
    /// The customer's telephone number.
    pub phone: Option<String>,
    /// Floor, crew, slab: label and value.
    pub facts: Vec<Pair>,
    /// Choices of the customer; the open ones are written in by hand.
    pub choices: Vec<LookChoice>,
    /// What is done beside the floor; empty when nothing is.
    pub items: Vec<String>,
    pub watch: Vec<Watch>,
    /// Things that nobody looked at on the visit; empty when all was seen.
    pub unseen: String,
    pub days: Vec<CrewDay>,
    pub basis: String,
    pub mixes: Vec<Mix>,
    /// The plan of the proposal, with its cracks, joints and test spots.
    pub plan: FloorPlan,
    pub repairs: Vec<Mend>,
    pub gates: Vec<Gate>,
    pub blanks: Vec<Blank>,
    pub dew: DewTable,
    pub stops: Vec<String>,
    pub ticks: Vec<Ticks>,
    pub controls: Vec<Control>,
    /// Airflow against fire, in fans; absent where no coat has a figure.
    pub air: Option<FreshAir>,
    pub tools: Vec<Ticks>,
    pub waste: Vec<String>,
    pub notes: Vec<String>,
}

#[derive(Debug, Clone, Serialize)]
pub struct Pair {
    pub label: String,
    pub value: String,
}

/// A day on site.
#[derive(Debug, Clone, Serialize)]
pub struct CrewDay {
    pub title: String,
    pub tasks: Vec<TaskRow>,
}

#[derive(Debug, Clone, Serialize)]
pub struct TaskRow {
    pub from: String,
    pub to: String,
    pub task: String,
    pub how: String,
}

/// Puts the crew sheet of a floor into words.
///
/// # Errors
/// [`WordsError`] when a sentence uses a value that it is not given.
pub fn crew_sheet(
    w: &Writer<'_>,
    option: &FloorOption<'_>,
    issue: &Issue,
) -> Result<CrewSheet, WordsError> {
    let job = [("job", w.case.job.number.0.as_str())];
    let repairs = repair::repairs(&w.case.job.shapes, w.case.book);
    let coats = coats(option);
    let watch = watch(w, option);
    let (slab, measured) = w.planned_slab();
    let basis = if measured { "crew.basis.measured" } else { "crew.basis.assumed" };
    w.checked(CrewSheet {
        frame: shop_frame(w, issue, w.say("crew.sheet.title", job)),
        floor: w.name(option.key()),
        unsigned: w.plain_if(!is_agreed(w, option), "crew.sheet.unsigned"),
        phone: w.case.job.customer.phone.clone(),
        facts: facts(w, option),
        choices: look(w),
        items: option.quote.items.iter().map(|one| one.item.clone()).collect(),
        watch: watch.items,
        unseen: watch.unseen,
        days: days(w, option, &coats, &repairs),
        basis: w.say(basis, [("slab", slab)]),
        mixes: coats.iter().map(|coat| mix(w, option, coat)).collect(),
        // No chart stands beside it, so it takes all the height that it may.
        plan: floor_plan(w, PageForm::Usual, &[]),
        repairs: mends(w, &repairs),
        gates: coats.iter().map(|coat| gate(w, coat)).collect(),
        blanks: blanks(w, option),
        dew: dew_table(w),
        stops: controls::stops(w),
        ticks: controls::ticks(w, option),
        controls: controls::controls(w, option),
        air: fresh_air(w, option),
        tools: controls::tools(w, option),
        waste: controls::waste(w, option),
        notes: w.case.job.crew_notes.clone(),
    })
}

/// True for the floor that was signed.
pub(super) fn is_agreed(w: &Writer<'_>, option: &FloorOption<'_>) -> bool {
    w.case.job.accepted.as_ref().is_some_and(|accepted| accepted.floor == *option.key())
}

fn facts(w: &Writer<'_>, option: &FloorOption<'_>) -> Vec<Pair> {
    let take_off = &w.case.site.take_off;
    let mut facts = vec![];
    let mut add = |label: &str, value: String| {
        facts.push(Pair { label: w.plain(label), value });
    };
    add("crew.facts.floor", w.figure(take_off.floor));
    if take_off.upright > Area::ZERO {
        add("crew.facts.upright", w.figure(take_off.upright));
    }
    add("crew.facts.edge", w.figure(take_off.edge));
    if let Some(accepted) = w.case.job.accepted.as_ref().filter(|_| is_agreed(w, option)) {
        let order = w.case.job.signed_orders().next_back().map(|order| order.revision);
        let facts = context! {
            revision => accepted.revision,
            signed => w.date(accepted.on),
            order => order,
        };
        add("crew.facts.agreed", w.say_with("crew.sheet.agreed", facts));
    }
    add("crew.facts.crew", w.figures.number(f64::from(option.estimate.crew), 0));
    if let Some(air) = w.case.site.air {
        add("crew.facts.slab", w.figure(air.slab));
    }
    add("crew.facts.drive", capital(&w.usable(option.estimate.schedule.drive)));
    if let Some(contact) = &w.case.job.plan.contact {
        add("crew.facts.contact", contact.clone());
    }
    if let Some(phone) = &w.case.shop.phone {
        add("crew.facts.office", phone.clone());
    }
    facts
}

// ---------------------------------------------------------------------------------------- days

fn days(
    w: &Writer<'_>,
    option: &FloorOption<'_>,
    coats: &[LiquidCoat<'_>],
    repairs: &[Repair<'_>],
) -> Vec<CrewDay> {
    let mut days = vec![];
    for (at, stretches) in visits(&option.estimate.schedule.stretches).into_iter().enumerate() {
        let date = stretches.first().and_then(|stretch| w.day_of(stretch.from));
        let day = w.day_on_site(at, stretches.first().map(|stretch| stretch.from));
        let title = [
            ("day", w.figures.number(f64::from(day), 0)),
            ("date", date.map_or_else(String::new, |date| w.date(date))),
        ];
        let tasks = stretches.into_iter().map(|stretch| TaskRow {
            from: w.figures.crew_clock(stretch.from),
            to: w.figures.crew_clock(stretch.to),
            task: task_name(w, option, &stretch.task),
            how: task_figures(w, &stretch.task, at > 0, coats, repairs),
        });
        days.push(CrewDay { title: w.say("crew.sheet.day", title), tasks: tasks.collect() });
    }
    days
}

/// Returns the figures of a task that a crew needs at a glance.
fn task_figures(
    w: &Writer<'_>,
    task: &Task,
    later_day: bool,
    coats: &[LiquidCoat<'_>],
    repairs: &[Repair<'_>],
) -> String {
    let take_off = &w.case.site.take_off;
    match task {
        Task::SetUp if later_day => w.plain("crew.how.set_up_again"),
        Task::SetUp => w.plain("crew.how.set_up"),
        Task::Strip => w.say("crew.how.strip", [("area", w.figure(take_off.floor))]),
        Task::Grind => w.say("crew.how.grind", [("area", w.figure(take_off.floor))]),
        Task::Edge => w.say("crew.how.edge", [("length", w.figure(take_off.edge))]),
        Task::Repair => {
            let sets = repair::sets(repairs)
                .map_or_else(String::new, |sets| w.figure(Figure::NoShorter(sets)));
            w.say("crew.how.repair", [("sets", sets)])
        }
        Task::Scrape => w.plain("crew.how.scrape"),
        Task::CleanUp => w.plain("crew.how.clean_up"),
        Task::Coat(key) => {
            let Some(coat) = coats.iter().find(|coat| coat.coat.spec.key == *key) else {
                return String::new();
            };
            let b = coat.batches;
            let facts = [
                ("count", w.figures.number(f64::from(b.count), 0)),
                ("batch", w.figures.measured_out(w.figures.batch(b.volume, &b.parts).0)),
                ("starts", coat.starts(w)),
                ("wet", w.figure(coat.coat.wet_film(coat.resin))),
            ];
            w.say("crew.how.coat", facts)
        }
    }
}
