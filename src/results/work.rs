//! How the crew works: repairs, coats with their batches, stretches on the clock. For the shop.

use schemars::JsonSchema;
use serde::Serialize;

use crate::base::names::Key;
use crate::model::job;
use crate::model::system;
use crate::papers::proposal::writer::Writer;
use crate::price::batches;
use crate::price::case::FloorOption;
use crate::price::estimate::labor::Task;
use crate::price::estimate::materials::ProductNeed;
use crate::price::floor::{CoatStuff, FloorCoat};
use crate::price::repair;
use crate::price::schedule;
use crate::results::floor::{TimesBy, coat_name};
use crate::results::values::{Moment, rounded};

/// A task's plain name.
pub fn task_name(task: &Task) -> String {
    match task {
        Task::SetUp => "set up".into(),
        Task::Strip => "take off the old coating and grind".into(),
        Task::Grind => "grind".into(),
        Task::Edge => "edge".into(),
        Task::Repair => "repair".into(),
        Task::Coat(key) => format!("coat: {key}"),
        Task::Scrape => "scrape".into(),
        Task::CleanUp => "clean up".into(),
    }
}

// --------------------------------------------------------------------------------- repairs

/// One place that is mended.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Repair {
    /// What is mended.
    pub kind: RepairKind,
    /// Its name, as typed.
    pub place: String,
    /// How it is mended.
    pub method: RepairMethod,
    /// The product that fills it; null when none does.
    pub product: Option<String>,
    /// What fills it, without loss, liters.
    pub litres: f64,
    /// One person's work, hours.
    pub hours: f64,
}

/// What is mended.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum RepairKind {
    /// A crack.
    Crack,
    /// A joint that was cut.
    Joint,
    /// A hole or a broken edge.
    Spall,
    /// A rounded corner between floor and wall.
    Cove,
}

/// How something is mended.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum RepairMethod {
    /// The first coat runs in.
    FirstCoat,
    /// Filled with a product of its own.
    Filled,
    /// Left as it is: a joint that stays open.
    Open,
}

impl Repair {
    /// Everything that is mended on the slab.
    pub fn all(w: &Writer<'_>) -> Vec<Self> {
        let repairs = repair::repairs(&w.case.job.shapes, w.case.book);
        repairs.iter().map(Self::from).collect()
    }
}

impl From<&repair::Repair<'_>> for Repair {
    fn from(repair: &repair::Repair<'_>) -> Self {
        let (kind, place) = match repair.place {
            repair::RepairPlace::Crack(crack) => (RepairKind::Crack, &crack.name),
            repair::RepairPlace::Joint(joint) => (RepairKind::Joint, &joint.name),
            repair::RepairPlace::Spall(spall) => (RepairKind::Spall, &spall.name),
            repair::RepairPlace::Cove(cove) => (RepairKind::Cove, &cove.name),
        };
        let (method, product) = match repair.method {
            repair::RepairMethod::FirstCoat => (RepairMethod::FirstCoat, None),
            repair::RepairMethod::Filled(product, _) => {
                (RepairMethod::Filled, Some(product.key.0.clone()))
            }
            repair::RepairMethod::Open => (RepairMethod::Open, None),
        };
        Self {
            kind,
            place: place.clone(),
            method,
            product,
            litres: rounded(repair.volume.as_liters()),
            hours: rounded(repair.hours.as_hours()),
        }
    }
}

// ----------------------------------------------------------------------------------- coats

/// One coat of a floor.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub enum Coat {
    /// A liquid.
    Liquid {
        /// The coat's key in its floor.
        coat: String,
        /// Its name on the pages.
        name: String,
        /// The product's key in the book.
        product: String,
        /// The extra that adds it; null for a coat that is always there.
        extra: Option<String>,
        /// All that is mixed, loss included, liters.
        need_litres: f64,
        /// How far it goes on a flat floor, without loss, square meters a liter.
        spread_m2_per_litre: f64,
        /// Wet film, micrometers.
        wet_film_um: f64,
        /// Dry film, micrometers.
        dry_film_um: f64,
        /// When it is laid; null when no day could be found for it.
        laid: Option<Box<Laid>>,
        /// How it is mixed; null when it is not laid.
        batches: Option<Batches>,
    },
    /// Flake, thrown into the wet coat below.
    Flake {
        /// The coat's key in its floor.
        coat: String,
        /// Its name on the pages.
        name: String,
        /// The product's key in the book.
        product: String,
        /// The extra that adds it; null for a coat that is always there.
        extra: Option<String>,
        /// How it is thrown.
        broadcast: Broadcast,
        /// What is thrown, kilograms.
        thrown_kg: f64,
        /// What stays in the floor, kilograms.
        kept_kg: f64,
        /// What it adds to the floor, micrometers.
        thickness_um: f64,
    },
}

/// How flake is thrown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Broadcast {
    /// Until the wet resin takes no more.
    Full,
    /// Lightly.
    Scattered,
}

/// A coat on the clock, with its times at the slab's temperature.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Laid {
    /// When it is begun.
    pub from: Moment,
    /// When it is down.
    pub to: Moment,
    /// When the coat below takes it; null for the coat on the concrete.
    pub window: Option<RecoatWindow>,
    /// The slab temperature that its times are for, degrees Celsius.
    pub times_at_c: f64,
    /// How its times were found.
    pub times_by: TimesBy,
    /// Until a mixed pail gels, hours.
    pub pot_life_hours: f64,
    /// Until the next coat may go on, hours.
    pub recoat_from_hours: f64,
    /// Until it has to be sanded before the next coat, hours.
    pub recoat_to_hours: f64,
    /// Until one may walk on it, hours.
    pub foot_hours: f64,
    /// Until a car may drive on it, hours.
    pub vehicle_hours: f64,
}

/// The earliest and the latest moment for a coat, as the sheet of the coat below has it.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct RecoatWindow {
    /// Not before this.
    pub from: Moment,
    /// Later than this the coat below has to be sanded.
    pub to: Moment,
}

/// How a coat is mixed so that it is on the floor before it gels.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Batches {
    /// How many batches.
    pub count: u32,
    /// One batch, mixed, liters.
    pub batch_litres: f64,
    /// Its parts, resin first, liters.
    pub parts_litres: Vec<f64>,
    /// What one batch covers, square meters.
    pub area_m2: f64,
    /// Until a mixed pail gels, hours.
    pub pot_life_hours: f64,
    /// From the moment the parts meet until the pail is empty, hours.
    pub placed_in_hours: f64,
    /// From the start of one batch to the start of the next, hours.
    pub every_hours: f64,
    /// How a batch stands against its pot life.
    pub verdict: Verdict,
}

/// How a batch stands against its pot life.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    /// It is out of the pail in good time.
    Calm,
    /// It gels soon after the pail is empty.
    Tight,
    /// It gels in the pail, however small the batch.
    Gels,
}

impl Coat {
    /// Every coat of a floor, bottom coat first.
    pub fn all(w: &Writer<'_>, option: &FloorOption<'_>) -> Vec<Self> {
        option.floor.coats.iter().map(|coat| Self::of(w, option, coat)).collect()
    }

    fn of(w: &Writer<'_>, option: &FloorOption<'_>, coat: &FloorCoat<'_>) -> Self {
        let estimate = &option.estimate;
        let key = &coat.spec.key;
        let name = coat_name(w, option, coat);
        let product = coat.product.key.0.clone();
        let extra = coat.spec.extra.as_ref().map(|extra| extra.0.clone());
        let need = estimate.coats.iter().find(|need| need.coat == *key).map(|need| need.need);
        match coat.stuff {
            CoatStuff::Resin(resin) => Self::Liquid {
                coat: key.0.clone(),
                name,
                product,
                extra,
                need_litres: match need {
                    Some(ProductNeed::Liquid(volume)) => rounded(volume.as_liters()),
                    _ => 0.0,
                },
                spread_m2_per_litre: rounded(coat.spread(resin).as_square_meters_per_liter()),
                wet_film_um: rounded(coat.wet_film(resin).as_micrometers()),
                dry_film_um: rounded(coat.dry_film(resin).as_micrometers()),
                laid: estimate.schedule.laid(key).map(|laid| Box::new(Laid::of(w, laid))),
                batches: batches_of(option, key).map(Batches::from),
            },
            CoatStuff::Flake(_, how) => {
                let (thrown_kg, kept_kg) = match need {
                    Some(ProductNeed::Flake { thrown, kept }) => {
                        (rounded(thrown.as_kilograms()), rounded(kept.as_kilograms()))
                    }
                    _ => (0.0, 0.0),
                };
                Self::Flake {
                    coat: key.0.clone(),
                    name,
                    product,
                    extra,
                    broadcast: match how {
                        system::Broadcast::Full => Broadcast::Full,
                        system::Broadcast::Scattered => Broadcast::Scattered,
                    },
                    thrown_kg,
                    kept_kg,
                    thickness_um: rounded(coat.thickness().as_micrometers()),
                }
            }
        }
    }
}

fn batches_of<'c>(option: &'c FloorOption<'_>, coat: &Key) -> Option<&'c batches::Batches> {
    let all = &option.estimate.batches;
    all.iter().find(|(key, _)| key == coat).map(|(_, batches)| batches)
}

impl Laid {
    fn of(w: &Writer<'_>, laid: &schedule::LaidCoat) -> Self {
        let times = laid.cure.times;
        let window = |window: schedule::Window| RecoatWindow {
            from: Moment::of(w, window.from),
            to: Moment::of(w, window.to),
        };
        Self {
            from: Moment::of(w, laid.from),
            to: Moment::of(w, laid.to),
            window: laid.window.map(window),
            times_at_c: rounded(times.at.as_celsius()),
            times_by: laid.cure.basis.into(),
            pot_life_hours: rounded(times.pot_life.as_hours()),
            recoat_from_hours: rounded(times.recoat_from.as_hours()),
            recoat_to_hours: rounded(times.recoat_to.as_hours()),
            foot_hours: rounded(times.foot.as_hours()),
            vehicle_hours: rounded(times.vehicle.as_hours()),
        }
    }
}

impl From<&batches::Batches> for Batches {
    fn from(b: &batches::Batches) -> Self {
        Self {
            count: b.count,
            batch_litres: rounded(b.volume.as_liters()),
            parts_litres: b.parts.iter().map(|part| rounded(part.as_liters())).collect(),
            area_m2: rounded(b.area.as_square_meters()),
            pot_life_hours: rounded(b.pot_life.as_hours()),
            placed_in_hours: rounded(b.placed_in.as_hours()),
            every_hours: rounded(b.every.as_hours()),
            verdict: match b.verdict {
                batches::BatchVerdict::Calm => Verdict::Calm,
                batches::BatchVerdict::Tight => Verdict::Tight,
                batches::BatchVerdict::Gels => Verdict::Gels,
            },
        }
    }
}

// ---------------------------------------------------------------------------------- clock

/// The crew's days on a floor.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CrewPlan {
    /// Persons.
    pub crew: u32,
    /// Every stretch of work on the clock, in order.
    pub stretches: Vec<Stretch>,
    /// When the last coat is down.
    pub done: Moment,
    /// What it would take to do the whole floor without going home.
    pub one_day: OneDay,
    /// Coats that go down later than the coat below them allows without sanding.
    pub missed_recoats: Vec<MissedRecoat>,
}

/// A stretch of work.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Stretch {
    /// What is done.
    pub task: String,
    /// When it begins.
    pub from: Moment,
    /// When it ends.
    pub to: Moment,
}

/// The whole floor in one day.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct OneDay {
    /// From the crew's arrival to the end of its clean-up, hours.
    pub needs_hours: f64,
    /// How much of that is waiting for a coat or a repair to cure, hours.
    pub waits_hours: f64,
    /// The crew's working day, hours.
    pub has_hours: f64,
    /// The plan does the whole floor on one day.
    pub fits: bool,
    /// It is sold as a floor that is done in one day.
    pub sold_as_one_day: bool,
}

/// A coat that goes down too late to do without sanding.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct MissedRecoat {
    /// The task that comes too late.
    pub task: String,
    /// By how much, hours.
    pub late_by_hours: f64,
}

impl CrewPlan {
    pub fn of(w: &Writer<'_>, option: &FloorOption<'_>) -> Self {
        let plan = &option.estimate.schedule;
        let stretch = |s: &schedule::WorkStretch| Stretch {
            task: task_name(&s.task),
            from: Moment::of(w, s.from),
            to: Moment::of(w, s.to),
        };
        let missed = |m: &schedule::MissedRecoat| MissedRecoat {
            task: task_name(&m.task),
            late_by_hours: rounded(m.late_by.as_hours()),
        };
        Self {
            crew: option.estimate.crew,
            stretches: plan.stretches.iter().map(stretch).collect(),
            done: Moment::of(w, plan.done),
            one_day: OneDay {
                needs_hours: rounded(plan.one_day.needs.as_hours()),
                waits_hours: rounded(plan.one_day.waits.as_hours()),
                has_hours: rounded(plan.one_day.has.as_hours()),
                fits: plan.fits_one_day(),
                sold_as_one_day: option.floor.system.one_day,
            },
            missed_recoats: plan.missed.iter().map(missed).collect(),
        }
    }
}

/// A job's shapes that are mended, as the customer may know them: what and how.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Mended {
    /// What is mended.
    pub kind: RepairKind,
    /// Its name, as typed.
    pub place: String,
    /// How it is mended.
    pub method: RepairMethod,
}

impl Mended {
    /// Everything that is mended on the slab.
    pub fn all(shapes: &job::Shapes, book: &crate::model::book::Book) -> Vec<Self> {
        let of = |repair: &repair::Repair<'_>| {
            let Repair { kind, place, method, .. } = repair.into();
            Self { kind, place, method }
        };
        repair::repairs(shapes, book).iter().map(of).collect()
    }
}
