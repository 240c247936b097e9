//! The handover: what was laid, as it was written down; from when it may be used; what was paid and what is left; a
//! list to walk through and sign; care in short, and what to do if a spot lifts.

use jiff::civil::DateTime;
use minijinja::{Value, context};
use serde::Serialize;

use crate::base::calendar::Moment;
use crate::base::figure::Figure;
use crate::base::money::Cents;
use crate::base::quantity::Degrees;
use crate::issued::{Agreed, received, still_to_pay};
use crate::judge::laid::film::FilmStanding;
use crate::judge::laid::window::WindowKept;
use crate::judge::laid::{CoatAsLaid, RecordAsLaid};
use crate::model::job::{CoatRecord, Job, JointTreatment, PhotoWhen};
use crate::papers::after::laid::LaidFloor;
use crate::papers::change_order::signed_orders;
use crate::papers::family::{Message, TimeSign, care_values, time_signs};
use crate::papers::proposal::page::{AmountLine, CoatBand, Frame, Picture, Stack};
use crate::papers::proposal::writer::{Writer, capital, joined};
use crate::papers::proposal::{
    Issue, LookChoice, frame, look_chosen, photos_of, picture, signatures,
};
use crate::papers::usable::Usable;
use crate::price::floor::{CoatStuff, FloorCoat};
use crate::say::words::WordsError;
use crate::site::dew_point::dew_point;

/// The handover as its layout sees it.
#[derive(Debug, Clone, Serialize)]
pub struct Handover {
    #[serde(flatten)]
    pub frame: Frame,
    pub message: Message,
    pub intro: String,
    /// Work that differs from what was agreed, and what was not written down, a sentence each.
    pub differs: Vec<String>,
    /// In their place where nothing is known to differ.
    pub as_agreed: String,
    pub floors: Vec<FloorLaid>,
    pub wet_note: String,
    pub choices: Vec<LookChoice>,
    /// The agreed price, what was received, what is left or goes back.
    pub money: Vec<AmountLine>,
    /// A sentence on the rest: how much it is, that there is none, or that the customer gets money back.
    pub money_note: String,
    pub walk_list: Vec<String>,
    /// Work that is left to do.
    pub left: Vec<String>,
    pub before: Vec<Picture>,
    pub after: Vec<Picture>,
    pub care: Vec<String>,
    pub care_note: String,
    pub renew: Vec<String>,
    /// Steps for a spot that lifts.
    pub lifts: Vec<String>,
    /// Dangers to people.
    pub always: Vec<String>,
    pub warranty: Vec<String>,
    pub no_warranty: String,
    pub sign_note: String,
    pub signatures: Vec<String>,
}

/// One floor that was laid.
#[derive(Debug, Clone, Serialize)]
pub struct FloorLaid {
    /// The floor, with its space where the job has several.
    pub title: String,
    /// The coats, each with its planned and its measured film.
    pub stack: Stack,
    /// From when it may be used, as pictures.
    pub times: Vec<TimeSign>,
    pub coats: Vec<CoatRow>,
}

/// One coat as it was written down.
#[derive(Debug, Clone, Serialize)]
pub struct CoatRow {
    pub name: String,
    /// The product, with the date of its data sheet.
    pub product: String,
    pub batches: String,
    pub when: String,
}

/// Puts the handover into words; `job` is the whole job.
///
/// # Errors
/// [`WordsError`] when a sentence uses a value that it is not given.
pub fn handover(
    w: &Writer<'_>,
    job: &Job,
    floors: &[LaidFloor<'_, '_>],
    agreed: &Agreed,
    issue: &Issue,
) -> Result<Handover, WordsError> {
    let title = w.say("handover.title", [("customer", job.customer.name_on_paper().as_ref())]);
    let mut frame = frame(w, issue, title, w.words.labels_of("handover"));
    frame.head.valid_until = None;
    let differs = differs(job, floors);
    let given = job.handover.as_ref();
    let first = floors.first();
    let care = first
        .map(|floor| care_values(floor.w, floor.option, floor.usable().as_ref()))
        .unwrap_or_default();
    let call = context! {
        phone => w.case.shop.phone.as_deref(),
        email => w.case.shop.email.as_deref(),
        job => job.number.0.as_str(),
    };
    let call = w.say_with("handover.call", call);
    let warranty = w.case.shop.warranty.clone();
    let page = Handover {
        frame,
        message: message(w, job, floors),
        intro: intro(w, job, agreed),
        as_agreed: w.plain_if(differs.is_empty(), "handover.as_agreed"),
        differs,
        floors: floors.iter().map(floor_laid).collect(),
        wet_note: w.plain("handover.wet_note"),
        choices: look_chosen(w),
        money: money(w, job, agreed),
        money_note: money_note(w, job, agreed),
        walk_list: w.lines("handover.walk_list", &to_look_at(floors)),
        left: given.map(|given| given.left.clone()).unwrap_or_default(),
        before: photos_of(w, job, PhotoWhen::Before, issue),
        after: photos_of(w, job, PhotoWhen::After, issue),
        care: w.lines("family.care.weeks", &care),
        care_note: w.plain("handover.care_note"),
        renew: w.lines("family.care.renew", &care),
        lifts: w.lines("handover.lifts", &context! { call }),
        always: w.lines("family.care.always", &care),
        no_warranty: w.plain_if(warranty.is_empty(), "handover.no_warranty"),
        warranty,
        sign_note: w.plain("handover.sign_note"),
        signatures: signatures(w),
    };
    floors.iter().try_fold(w.checked(page)?, |page, floor| floor.w.checked(page))
}

fn intro(w: &Writer<'_>, job: &Job, agreed: &Agreed) -> String {
    let facts = context! {
        revision => agreed.revision,
        signed => w.date(agreed.signed.0),
        orders => signed_orders(w, job, "handover.order"),
    };
    w.say_with("handover.intro", facts)
}

/// The things of these floors that there are to look at, for the list.
fn to_look_at(floors: &[LaidFloor<'_, '_>]) -> Value {
    let shapes = || floors.iter().map(|floor| &floor.w.case.job.shapes);
    let joints = |treated: JointTreatment| {
        shapes().flat_map(|shapes| &shapes.joints).any(|joint| joint.treatment == treated)
    };
    context! {
        filled => joints(JointTreatment::Fill),
        open => joints(JointTreatment::Honor),
        steps => shapes().any(|shapes| !shapes.steps.is_empty()),
        flake => floors.iter().any(|floor| floor.option.floor.has_flake()),
        cars => floors.iter().any(|floor| floor.w.case.job.has_cars()),
    }
}

// -------------------------------------------------------------------------------------- what differs

/// Sentences of the shop itself, then those on what the records tell beside the plan and what they leave open.
fn differs(job: &Job, floors: &[LaidFloor<'_, '_>]) -> Vec<String> {
    let own = job.handover.iter().flat_map(|handover| handover.differs.iter().cloned());
    let told = floors.iter().flat_map(|floor| {
        let coats = floor.coats().into_iter();
        coats.flat_map(|(coat, laid)| coat_differs(floor, &coat, laid)).collect::<Vec<_>>()
    });
    own.chain(told).collect()
}

fn coat_differs(
    floor: &LaidFloor<'_, '_>,
    coat: &FloorCoat<'_>,
    laid: Option<&CoatAsLaid<'_>>,
) -> Vec<String> {
    let name = floor.headed(&floor.coat_name(coat));
    let say =
        |what: &str| floor.w.say(&format!("handover.differs.{what}"), [("coat", name.as_str())]);
    let Some(laid) = laid else { return vec![say("missing")] };
    let liquid = coat.resin().is_some();
    let any = |holds: &dyn Fn(&RecordAsLaid<'_>) -> bool| laid.records.iter().any(holds);
    let window = |kept: WindowKept| {
        any(&|one: &RecordAsLaid<'_>| one.window.is_some_and(|window| window.kept == kept))
    };
    let told = [
        ("not_agreed", !laid.agreed),
        ("part", liquid && !laid.is_recorded()),
        ("low", laid.film_standing() == Some(FilmStanding::Low)),
        ("early", window(WindowKept::Early)),
        ("late", window(WindowKept::Late)),
        ("weather", any(&|one| one.conditions.is_some_and(|found| found.any_missed()))),
        ("pot_life", any(&|one| one.pot_life.is_some_and(|batch| batch.is_passed()))),
    ];
    told.into_iter().filter(|(_, applies)| *applies).map(|(what, _)| say(what)).collect()
}

// --------------------------------------------------------------------------------------- what was laid

fn floor_laid(floor: &LaidFloor<'_, '_>) -> FloorLaid {
    let coats = floor.coats().into_iter();
    let coats = coats.map(|(coat, laid)| coat_row(floor, &coat, laid)).collect();
    FloorLaid {
        title: floor.headed(&floor.w.name(floor.option.key())),
        stack: stack(floor),
        times: time_signs(floor.w, floor.usable().as_ref()),
        coats,
    }
}

/// The drawing of the plan, with the words of what was measured beside each coat.
fn stack(floor: &LaidFloor<'_, '_>) -> Stack {
    let w = floor.w;
    let planned = picture(w, floor.option);
    let laid = floor.coats();
    let coats = floor.option.floor.coats.iter().rev();
    let mut bands: Vec<CoatBand> = planned.coats.clone();
    for (band, coat) in bands.iter_mut().zip(coats) {
        let laid = laid.iter().find(|(one, _)| one.spec.key == coat.spec.key);
        let films = capital(&films(w, coat, laid.and_then(|(_, laid)| *laid)));
        band.does = joined([band.does.clone(), films]);
        band.thickness = String::new();
    }
    let spoken = bands.iter().take(floor.option.floor.coats.len()).map(|band| {
        let facts = [("name", band.name.as_str()), ("words", band.does.as_str())];
        w.say("handover.layers_coat", facts)
    });
    let spoken: Vec<String> = spoken.collect();
    let alt = [("name", planned.name.clone()), ("coats", spoken.join(" "))];
    let alt = w.say("handover.layers_alt", alt);
    Stack { alt, coats: bands, summary: String::new(), total: String::new(), ..planned }
}

/// The wet film that was planned for a liquid coat beside what was read and what was used. Grit and flake are
/// not measured.
pub(super) fn films(w: &Writer<'_>, coat: &FloorCoat<'_>, laid: Option<&CoatAsLaid<'_>>) -> String {
    let Some(resin) = coat.resin() else {
        return match coat.stuff {
            CoatStuff::Grit(..) => String::new(),
            _ => w.plain("handover.film.none"),
        };
    };
    let film = laid.and_then(|laid| laid.film);
    let planned = film.map_or_else(|| coat.wet_film(resin), |film| film.planned);
    let mut said = vec![w.say("handover.film.planned", [("film", w.figure(planned))])];
    let readings = film.and_then(|film| film.readings);
    if let Some(read) = readings {
        let facts = context! {
            least => w.figure(read.thinnest.least),
            most => w.figure(read.thickest.most),
            count => read.count,
        };
        said.push(w.say_with("handover.film.read", facts));
    }
    if let Some(used) = film.and_then(|film| film.balance) {
        let facts = [("least", w.figure(used.least)), ("most", w.figure(used.most))];
        said.push(w.say("handover.film.used", facts));
    }
    said.push(match film.filter(|_| readings.is_some()).map(|film| film.standing()) {
        Some(standing) => w.plain(&format!("handover.film.{}", standing.word())),
        None => w.plain("handover.film.none"),
    });
    joined(said)
}

fn coat_row(
    floor: &LaidFloor<'_, '_>,
    coat: &FloorCoat<'_>,
    laid: Option<&CoatAsLaid<'_>>,
) -> CoatRow {
    let w = floor.w;
    let sheet = coat.product.data_sheet.clone().unwrap_or_default();
    let batches = laid.map(CoatAsLaid::batches).unwrap_or_default();
    CoatRow {
        name: floor.coat_name(coat),
        product: w.say("handover.product", [("name", coat.product.name.clone()), ("sheet", sheet)]),
        batches: if batches.is_empty() { w.plain("handover.no_batch") } else { batches.join(", ") },
        when: laid.map_or_else(|| w.plain("handover.not_recorded"), |laid| times_of(w, laid)),
    }
}

/// The times of all records of a coat.
pub(super) fn times_of(w: &Writer<'_>, laid: &CoatAsLaid<'_>) -> String {
    let times = laid.records.iter().map(|one| when(w, one.record));
    times.collect::<Vec<_>>().join("; ")
}

/// The time of a coat, and the weather as far as it was measured.
fn when(w: &Writer<'_>, record: &CoatRecord) -> String {
    let clock = |moment: DateTime| w.figures.time(moment.time());
    let facts = [
        ("date", w.date(record.start.date())),
        ("clock", clock(record.start)),
        ("until", record.end.map(clock).unwrap_or_default()),
    ];
    let time = match record.end {
        Some(_) => w.say("handover.when_to", facts),
        None => w.say("handover.when", facts),
    };
    let weather = weather(w, record);
    if weather.is_empty() {
        return time;
    }
    w.say("handover.when_more", [("when", time), ("more", weather)])
}

/// Slab, air and dew point at a coat, as far as they were measured.
fn weather(w: &Writer<'_>, record: &CoatRecord) -> String {
    let known = |value: Option<String>| value.unwrap_or_default();
    let facts = context! {
        slab => known(record.slab.map(|slab| w.figure(slab))),
        air => known(record.air.map(|air| w.figure(air))),
        humidity => known(record.humidity.map(|humidity| w.figure(Figure::Humidity(humidity)))),
        dew => dew(w, record),
    };
    w.say_with("handover.weather", facts)
}

/// The distance of the slab from the dew point; empty where it cannot be worked out.
fn dew(w: &Writer<'_>, record: &CoatRecord) -> String {
    let (Some(slab), Some(air), Some(humidity)) = (record.slab, record.air, record.humidity) else {
        return String::new();
    };
    let spread = slab - dew_point(air, humidity);
    let facts = context! {
        spread => w.figure(spread.max(Degrees::ZERO - spread)),
        below => spread < Degrees::ZERO,
    };
    w.say_with("handover.dew", facts)
}

// ---------------------------------------------------------------------------------------- times

/// The one main message: from when the floor may be used, as far as that is known.
fn message(w: &Writer<'_>, job: &Job, floors: &[LaidFloor<'_, '_>]) -> Message {
    let all: Option<Vec<Usable>> = floors.iter().map(LaidFloor::usable).collect();
    let latest = |of: fn(&Usable) -> Moment| {
        let all = all.as_ref()?;
        all.iter().map(of).reduce(|one, other| if one > other { one } else { other })
    };
    let (walk, park) = (latest(|one| one.walk), latest(|one| one.park));
    let cars = floors.iter().any(|floor| floor.w.case.job.has_cars());
    let on = job.handover.as_ref().map(|handover| handover.on);
    let walk_day = walk.and_then(|walk| w.day_of(walk.by_day()));
    let words = |moment: Option<Moment>| moment.map(|moment| w.usable(moment)).unwrap_or_default();
    let facts = context! {
        walk => words(walk),
        park => words(park.filter(|_| cars)),
        walk_later => walk_day.zip(on).is_some_and(|(walk, on)| walk > on),
        about => all.iter().flatten().any(|one| one.about),
    };
    Message {
        lead: w.say_with("handover.lead", facts.clone()),
        says: w.say_with("handover.says", facts),
    }
}

// ---------------------------------------------------------------------------------------- money

fn money(w: &Writer<'_>, job: &Job, agreed: &Agreed) -> Vec<AmountLine> {
    let line = |label: String, amount: Cents| AmountLine { label, amount: w.money(amount) };
    let price = w.say("handover.money.price", [("orders", agreed.orders.len())]);
    let mut lines = vec![line(price, agreed.total())];
    for paid in &job.paid {
        let label = w.say("handover.money.received", [("on", w.date(paid.on))]);
        lines.push(line(label, paid.amount));
    }
    let due = agreed.total().minus(received(job));
    lines.push(if due < Cents::ZERO {
        line(w.plain("handover.money.back"), Cents(-due.0))
    } else {
        line(w.plain("handover.money.due"), due)
    });
    lines
}

fn money_note(w: &Writer<'_>, job: &Job, agreed: &Agreed) -> String {
    let received = received(job);
    let due = agreed.total().minus(received);
    let facts = context! {
        state => match due.0 {
            0 => "paid",
            1.. => "due",
            _ => "over",
        },
        amount => w.money(Cents(due.0.abs())),
        unpaid => job.paid.is_empty(),
        steps => still_to_pay(&agreed.payments, received)
            .into_iter()
            .map(|step| step.when)
            .collect::<Vec<_>>(),
    };
    w.say_with("handover.money.note", facts)
}
