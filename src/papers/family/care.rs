//! The care sheet: one page that stays with the floor that was laid. When it may be used, how to
//! keep it, what to watch for and whom to call.

use minijinja::Value;
use serde::Serialize;

use crate::papers::proposal::page::{Fact, Frame};
use crate::papers::proposal::writer::Writer;
use crate::papers::proposal::{Issue, frame, times_note};
use crate::price::case::FloorOption;
use crate::say::words::WordsError;
use crate::site::standing::Standing;

/// The care sheet as its layout sees it.
#[derive(Debug, Clone, Serialize)]
pub struct CareSheet {
    #[serde(flatten)]
    pub frame: Frame,
    pub headline: String,
    pub intro: String,
    /// Times from which one may walk, carry things in and drive in.
    pub times: Vec<Fact>,
    pub times_note: String,
    /// The first weeks.
    pub weeks_care: Care,
    pub cleaning_care: Care,
    pub keep_off_care: Care,
    pub watch: Vec<Sign>,
    pub damp_note: String,
    /// Dangers to people.
    pub always: Vec<String>,
    pub contact_note: String,
    /// The shop's own words.
    pub warranty: Vec<String>,
    /// Things that the shop leaves with the customer, in its own words.
    pub left: Vec<String>,
    pub left_note: String,
}

/// Habits under one head.
#[derive(Debug, Clone, Serialize)]
pub struct Care {
    pub care: Vec<String>,
}

/// Something to watch for.
#[derive(Debug, Clone, Serialize)]
pub struct Sign {
    pub sign: String,
    pub says: String,
    pub todo: String,
}

/// Signs to watch for, in the order of the page. Ambering only where a coat in daylight ambers.
const SIGNS: &[&str] = &["blister", "bloom", "edge", "amber"];

/// Puts the care sheet of a floor into words.
///
/// # Errors
/// [`WordsError`] when a sentence uses a value that it is not given.
pub fn care_sheet(
    w: &Writer<'_>,
    option: &FloorOption<'_>,
    issue: &Issue,
) -> Result<CareSheet, WordsError> {
    let facts = template_values(w, option);
    let say = |name: &str| w.say_with(name, facts.clone());
    let list = |name: &str| w.lines(name, &facts);
    let title = say("family.care.title");
    let mut frame = frame(w, issue, title.clone(), w.words.family_labels.clone());
    // No price is held by a floor that is paid for.
    frame.head.valid_until = None;
    let left = w.case.shop.leaves.clone();
    w.checked(CareSheet {
        frame,
        headline: title,
        intro: say("family.care.intro"),
        times: time_facts(w, option),
        times_note: format!("{} {}", times_note(w, &[option]), say("family.care.times_note")),
        weeks_care: Care { care: list("family.care.weeks") },
        cleaning_care: Care { care: list("family.care.cleaning") },
        keep_off_care: Care { care: list("family.care.keep_off") },
        watch: signs_to_watch(w, option),
        damp_note: say("family.care.damp"),
        always: list("family.care.always"),
        contact_note: say("family.care.contact"),
        warranty: w.case.shop.warranty.clone(),
        left_note: if left.is_empty() { String::new() } else { say("family.care.left") },
        left,
    })
}

fn time_facts(w: &Writer<'_>, option: &FloorOption<'_>) -> Vec<Fact> {
    let schedule = &option.estimate.schedule;
    let times = [
        ("family.care.walk", schedule.walk),
        ("family.care.carry", schedule.carry),
        ("family.care.drive", schedule.drive),
    ];
    let facts = times.map(|(name, at)| {
        let clock = w.say("family.care.clock", [("clock", w.figures.clock(at))]);
        w.fact(name, w.day(at), clock)
    });
    facts.to_vec()
}

fn signs_to_watch(w: &Writer<'_>, option: &FloorOption<'_>) -> Vec<Sign> {
    let shown = SIGNS.iter().filter(|sign| **sign != "amber" || option.floor.shows_ambering());
    let signs = shown.map(|sign| {
        let say = |what: &str| w.plain(&format!("family.care.signs.{sign}.{what}"));
        Sign { sign: say("sign"), says: say("says"), todo: say("todo") }
    });
    signs.collect()
}

/// Returns the values that the sentences may use.
fn template_values(w: &Writer<'_>, option: &FloorOption<'_>) -> Value {
    let room = w.room(option).filter(|room| room.standing != Standing::NotJudged);
    let (limit, reading) = room.map_or_else(Default::default, |room| (room.limit, room.reading));
    minijinja::context! {
        floor => w.the_name(option.key()),
        customer => w.case.job.customer.name_on_paper().as_ref(),
        job => w.case.job.number.0.as_str(),
        reading => reading,
        limit => limit,
        barrier => option.floor.has_barrier(),
        thin => option.floor.is_thin(),
        isocyanate => option.floor.resins().any(|(_, resin)| resin.isocyanate),
        emergency => w.emergency(),
    }
}
