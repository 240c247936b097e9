//! The care sheet: one sheet that stays with the floor that was laid. When it may be used, what to watch
//! for, how to keep it, when to renew its topcoat, whom to call, and room for what was laid.

use minijinja::Value;
use serde::Serialize;

use crate::base::calendar::Moment;
use crate::judge::laid::{FloorAsLaid, floor_as_laid};
use crate::papers::family::message::{Actor, Message, steps};
use crate::papers::proposal::page::{Frame, NextStep};
use crate::papers::proposal::writer::{Writer, capital, joined};
use crate::papers::proposal::{
    Issue, LookChoice, Spaces, frame, life_words, look_chosen, times_note,
};
use crate::papers::usable::{Usable, back_in};
use crate::price::case::FloorOption;
use crate::say::words::WordsError;
use crate::site::standing::Standing;

/// The care sheet as its layout sees it.
#[derive(Debug, Clone, Serialize)]
pub struct CareSheet {
    #[serde(flatten)]
    pub frame: Frame,
    /// The name of the sheet.
    pub headline: String,
    /// The times from which one may walk and park, then the rest that belongs to them.
    pub message: Message,
    /// The same times as pictures, in their order.
    pub times: Vec<TimeSign>,
    pub intro: String,
    /// The floor's look, as the customer chose it; empty when no choice was written down.
    pub choices: Vec<LookChoice>,
    /// Dangers to people.
    pub always: Vec<String>,
    pub watch: Vec<Sign>,
    pub next: Vec<NextStep>,
    /// The first weeks.
    pub weeks_care: Care,
    pub cleaning_care: Care,
    pub keep_off_care: Care,
    /// Things that may happen to a floor, with what to do about each.
    pub mishaps: Vec<String>,
    pub renew: Vec<String>,
    pub damp_note: String,
    /// The coats of the floor from the concrete up, for the products, batches and dates that are
    /// written in by hand.
    pub as_built: Vec<String>,
    pub as_built_note: String,
    /// The shop's own words.
    pub warranty: Vec<String>,
    /// Things that the shop leaves with the customer, in its own words.
    pub left: Vec<String>,
    pub left_note: String,
    /// A sheet for each further space of a job that has several.
    pub more: Vec<CareSheet>,
}

/// Habits under one head.
#[derive(Debug, Clone, Serialize)]
pub struct Care {
    pub care: Vec<String>,
}

/// A time from which something may be done, with its picture.
#[derive(Debug, Clone, Serialize)]
pub struct TimeSign {
    /// Its picture, by name: `walk`, `carry`, `park`.
    pub picture: &'static str,
    /// Text in place of the picture.
    pub alt: String,
    pub what: String,
    pub from: String,
}

/// Something to watch for.
#[derive(Debug, Clone, Serialize)]
pub struct Sign {
    /// Its picture, by name; empty for a sign without one.
    pub picture: &'static str,
    /// Text in place of the picture.
    pub alt: String,
    pub sign: String,
    pub says: String,
    pub todo: String,
}

/// Signs with a picture, in the order of the page.
const SIGNS: &[&str] = &["blister", "bloom", "edge"];

/// A sign that a picture in gray cannot show. It is said only where a coat in daylight ambers.
const AMBER: &str = "amber";

/// Puts the care sheet of a floor into words.
///
/// # Errors
/// [`WordsError`] when a sentence uses a value that it is not given.
pub fn care_sheet(
    w: &Writer<'_>,
    option: &FloorOption<'_>,
    issue: &Issue,
) -> Result<CareSheet, WordsError> {
    let laid = floor_as_laid(w.case).filter(|laid| laid.floor.system.key == *option.key());
    let usable = match &laid {
        Some(laid) => Usable::as_laid(w, laid),
        None => Some(Usable::from(&option.estimate.schedule)),
    };
    let facts = care_values(w, option, usable.as_ref());
    let say = |name: &str| w.say_with(name, facts.clone());
    let list = |name: &str| w.lines(name, &facts);
    let title = say("family.care.title");
    let mut frame = frame(w, issue, title.clone(), w.words.family_labels.clone());
    // No price is held by a floor that is paid for.
    frame.head.valid_until = None;
    // A sheet that tells of the work is of the day on which that was done.
    if let Some(day) = laid.as_ref().and_then(FloorAsLaid::last_day) {
        frame.head.date = w.figures.date_long(day);
    }
    let left = left_behind(w, option);
    let coats = option.floor.coats.iter();
    let basis = match laid {
        Some(_) => w.plain_if(usable.is_some(), "family.care.times_laid"),
        None => joined([times_note(w, &[option]), say("family.care.times_note")]),
    };
    w.checked(CareSheet {
        frame,
        headline: title,
        message: Message { lead: say("family.care.times"), says: basis },
        times: time_signs(w, usable.as_ref()),
        intro: say("family.care.intro"),
        choices: look_chosen(w),
        always: list("family.care.always"),
        watch: signs_to_watch(w, option),
        next: steps(w, NEXT, &facts),
        weeks_care: Care { care: list("family.care.weeks") },
        cleaning_care: Care { care: list("family.care.cleaning") },
        keep_off_care: Care { care: list("family.care.keep_off") },
        mishaps: list("family.care.mishaps"),
        renew: list("family.care.renew"),
        damp_note: say("family.care.damp"),
        as_built: coats.map(|coat| w.coat_name(&option.floor, coat)).collect(),
        as_built_note: say("family.care.as_built"),
        warranty: w.case.shop.warranty.clone(),
        left_note: if left.is_empty() { String::new() } else { say("family.care.left") },
        left,
        more: vec![],
    })
}

/// The care sheets of the floors that are laid in several spaces, as one paper; `None` where none is.
///
/// # Errors
/// [`WordsError`] when a sentence uses a value that it is not given.
pub fn care_sheets(s: &Spaces<'_>, issue: &Issue) -> Result<Option<CareSheet>, WordsError> {
    let one = |(name, w): (&str, &Writer<'_>)| {
        let signed = w.case.job.accepted.as_ref().map(|signed| &signed.floor);
        let laid = match &s.job.accepted {
            Some(_) => signed.and_then(|floor| w.choice(floor)),
            None => w.recommended(),
        };
        let sheet = |laid| {
            let mut sheet = care_sheet(w, laid, issue)?;
            sheet.message.lead = w.headed(name, &sheet.message.lead);
            Ok(sheet)
        };
        laid.map(sheet).transpose()
    };
    let all = s.named().map(one).collect::<Result<Vec<Option<CareSheet>>, _>>()?;
    let mut all = all.into_iter().flatten();
    let first = all.next().map(|first| CareSheet { more: all.collect(), ..first });
    s.checked(first)
}

const NEXT: [(Actor, &str); 4] = [
    (Actor::We, "family.care.next.walk_over"),
    (Actor::You, "family.care.next.use"),
    (Actor::You, "family.care.next.look"),
    (Actor::You, "family.care.next.call"),
];

/// The times from which one may walk, carry things in and park, in their order; without known ones the words that
/// say so.
pub fn time_signs(w: &Writer<'_>, usable: Option<&Usable>) -> Vec<TimeSign> {
    let sign = |picture: &'static str, moment: fn(&Usable) -> Moment| {
        let from = usable.map(|usable| capital(&w.usable_short(moment(usable))));
        time_sign(w, picture, from.unwrap_or_else(|| w.plain("handover.time_unknown")))
    };
    let mut signs = vec![sign("walk", |one| one.walk), sign("carry", |one| one.carry)];
    if w.case.job.has_cars() {
        signs.push(sign("park", |one| one.park));
    }
    signs
}

/// The things that the shop leaves with the customer of a floor, in its own words.
fn left_behind(w: &Writer<'_>, option: &FloorOption<'_>) -> Vec<String> {
    let shop = w.case.shop;
    let flake = if option.floor.has_flake() { &shop.leaves_flake[..] } else { &[] };
    flake.iter().chain(&shop.leaves).cloned().collect()
}

/// The picture of what may be done from some time on: `walk`, `carry` or `park`.
fn time_sign(w: &Writer<'_>, picture: &'static str, from: String) -> TimeSign {
    let facts = [("from", from.as_str())];
    TimeSign {
        picture,
        alt: w.say(&format!("family.care.time_signs.{picture}.alt"), facts),
        what: w.plain(&format!("family.care.time_signs.{picture}.what")),
        from,
    }
}

fn signs_to_watch(w: &Writer<'_>, option: &FloorOption<'_>) -> Vec<Sign> {
    let sign = |name: &str, picture: &'static str| {
        let say = |what: &str| w.plain(&format!("family.care.signs.{name}.{what}"));
        let alt = if picture.is_empty() { String::new() } else { say("alt") };
        Sign { picture, alt, sign: say("sign"), says: say("says"), todo: say("todo") }
    };
    let mut signs: Vec<Sign> = SIGNS.iter().map(|name| sign(name, name)).collect();
    signs.extend(option.floor.shows_ambering().then(|| sign(AMBER, "")));
    signs
}

/// Returns the values that the sentences of the care sheet may use; without `usable` its times are not known.
pub fn care_values(w: &Writer<'_>, option: &FloorOption<'_>, usable: Option<&Usable>) -> Value {
    let room = w.room(option).filter(|room| room.standing != Standing::NotJudged);
    let (limit, reading) = room.map_or_else(Default::default, |room| (room.limit, room.reading));
    let words = |moment: fn(&Usable) -> Moment| {
        usable.map(|usable| w.usable(moment(usable))).unwrap_or_default()
    };
    let back = match usable {
        Some(usable) => back_in(w, Some(usable.park)),
        None => w.plain("time.back_in_unknown"),
    };
    minijinja::context! {
        walk => words(|one| one.walk),
        park => words(|one| one.park),
        back,
        outdoors => w.case.job.place.as_ref().is_some_and(|place| place.outdoors),
        garage => w.case.job.has_cars(),
        cracks => !w.case.job.shapes.cracks.is_empty(),
        cars => w.case.job.has_cars(),
        life => life_words(w, option),
        call => w.contact(),
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
