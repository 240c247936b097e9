//! The crew's work: repairs, coats with their batches, stretches on the clock. For the shop.

use schemars::JsonSchema;
use serde::Serialize;

use crate::base::names::Key;
use crate::base::quantity::{Hours, Mass, Spread, Temperature, Thickness, Volume};
use crate::model::system::{Broadcast, GritHow, Lay};
use crate::papers::proposal::writer::Writer;
use crate::price::batches::Batches;
use crate::price::case::FloorOption;
use crate::price::cure;
use crate::price::estimate::labor::Task;
use crate::price::estimate::materials::ProductNeed;
use crate::price::floor::{CoatStuff, FloorCoat};
use crate::price::repair;
use crate::price::schedule;
use crate::results::values::ClockMoment;

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

/// One place that is mended, as the shop sees it.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Repair {
    #[serde(flatten)]
    pub mended: Mended,
    /// The product that fills it; null when none does.
    pub product: Option<Key>,
    /// Volume that fills it, without loss, liters.
    pub litres: Volume,
    /// One person's work, hours.
    pub hours: Hours,
}

/// One place that is mended, as the customer may know it.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Mended {
    /// The kind of place.
    pub kind: RepairKind,
    /// Its name, as typed.
    pub place: String,
    /// The way in which it is mended.
    pub method: RepairMethod,
}

/// A kind of place that is mended.
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

/// A way to mend.
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
    /// All repairs of the slab.
    pub fn all(w: &Writer<'_>) -> Vec<Self> {
        let repairs = repair::repairs(&w.case.job.shapes, w.case.book).into_iter();
        let of = |repair: repair::Repair<'_>| Self {
            mended: (&repair).into(),
            product: match repair.method {
                repair::RepairMethod::Filled(product, _) => Some(product.key.clone()),
                repair::RepairMethod::FirstCoat | repair::RepairMethod::Open => None,
            },
            litres: repair.volume,
            hours: repair.hours,
        };
        repairs.map(of).collect()
    }
}

impl Mended {
    /// All repairs of the slab.
    pub fn all(w: &Writer<'_>) -> Vec<Self> {
        repair::repairs(&w.case.job.shapes, w.case.book).iter().map(Self::from).collect()
    }
}

impl From<&repair::Repair<'_>> for Mended {
    fn from(repair: &repair::Repair<'_>) -> Self {
        let (kind, place) = match repair.place {
            repair::RepairPlace::Crack(crack) => (RepairKind::Crack, &crack.name),
            repair::RepairPlace::Joint(joint) => (RepairKind::Joint, &joint.name),
            repair::RepairPlace::Spall(spall) => (RepairKind::Spall, &spall.name),
            repair::RepairPlace::Cove(cove) => (RepairKind::Cove, &cove.name),
        };
        let method = match repair.method {
            repair::RepairMethod::FirstCoat => RepairMethod::FirstCoat,
            repair::RepairMethod::Filled(..) => RepairMethod::Filled,
            repair::RepairMethod::Open => RepairMethod::Open,
        };
        Self { kind, place: place.clone(), method }
    }
}

// ----------------------------------------------------------------------------------- coats

/// One coat of a floor.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub enum ShopCoat {
    /// A liquid.
    Liquid {
        #[serde(flatten)]
        coat: CoatNames,
        /// All that is mixed, loss included, liters.
        need_litres: Volume,
        /// Area that a liter covers on a flat floor, without loss, square meters a liter.
        spread_m2_per_litre: Spread,
        /// Wet film, micrometers.
        wet_film_um: Thickness,
        /// Dry film, micrometers.
        dry_film_um: Thickness,
        /// Its times on the clock; null when no day could be found for it.
        laid: Option<Box<Laid>>,
        /// Its batches, so that each is on the floor before it gels; null when it is not laid.
        batches: Option<Batches>,
        /// The way in which it is laid.
        lay: Lay,
        /// The pigment that is stirred into it; null without one.
        pigment: Option<PigmentUse>,
    },
    /// Flake, thrown into the wet coat below.
    Flake {
        #[serde(flatten)]
        coat: CoatNames,
        /// The way in which it is thrown.
        broadcast: Broadcast,
        /// Flake that is thrown, kilograms.
        thrown_kg: Mass,
        /// Flake that stays in the floor, kilograms.
        kept_kg: Mass,
        /// Its part of the floor's thickness, micrometers.
        thickness_um: Thickness,
    },
    /// Grit in the liquid coat below.
    Grit {
        #[serde(flatten)]
        coat: CoatNames,
        /// The way in which it goes into that coat.
        grit: GritHow,
        /// Grit that the floor takes, kilograms.
        need_kg: Mass,
    },
}

/// The pigment of a liquid coat.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct PigmentUse {
    /// The product's key in the book.
    pub product: Key,
    /// Pigment for the whole coat, kilograms.
    pub need_kg: Mass,
}

/// The names of a coat.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CoatNames {
    /// The coat's key in its floor.
    pub coat: Key,
    /// Its name on the pages.
    pub name: String,
    /// The product's key in the book.
    pub product: Key,
    /// The extra that adds it; null for a coat that is always there.
    pub extra: Option<Key>,
}

/// A coat on the clock, with its times at the slab's temperature.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Laid {
    /// Its beginning.
    pub from: ClockMoment,
    /// Its end.
    pub to: ClockMoment,
    /// The time in which the coat below takes it; null for the coat on the concrete.
    pub window: Option<RecoatWindow>,
    /// The slab temperature that its times are for, degrees Celsius.
    pub times_at_c: Temperature,
    /// The way in which its times were found.
    pub times_by: cure::CureBasis,
    /// Until a mixed pail gels, hours.
    pub pot_life_hours: Hours,
    /// Until the next coat may go on, hours.
    pub recoat_from_hours: Hours,
    /// Until it has to be sanded before the next coat, hours.
    pub recoat_to_hours: Hours,
    /// Until one may walk on it, hours.
    pub foot_hours: Hours,
    /// Until a car may drive on it, hours.
    pub vehicle_hours: Hours,
}

/// The earliest and the latest moment for a coat, as the sheet of the coat below has it.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct RecoatWindow {
    /// Not before this.
    pub from: ClockMoment,
    /// Later than this the coat below has to be sanded.
    pub to: ClockMoment,
}

impl ShopCoat {
    /// Every coat of a floor, bottom coat first.
    pub fn all(w: &Writer<'_>, option: &FloorOption<'_>) -> Vec<Self> {
        option.floor.coats.iter().map(|coat| Self::of(w, option, coat)).collect()
    }

    fn of(w: &Writer<'_>, option: &FloorOption<'_>, coat: &FloorCoat<'_>) -> Self {
        let estimate = &option.estimate;
        let key = &coat.spec.key;
        let names = CoatNames {
            coat: key.clone(),
            name: w.coat_name(&option.floor, coat),
            product: coat.product.key.clone(),
            extra: coat.spec.extra.clone(),
        };
        let need = estimate.coats.iter().find(|need| need.coat == *key).map(|need| need.need);
        match coat.stuff {
            CoatStuff::Resin(resin) => Self::Liquid {
                coat: names,
                need_litres: match need {
                    Some(ProductNeed::Liquid(volume)) => volume,
                    _ => Volume::ZERO,
                },
                spread_m2_per_litre: coat.spread(resin),
                wet_film_um: coat.wet_film(resin),
                dry_film_um: coat.dry_film(resin),
                laid: estimate.schedule.laid(key).map(|laid| Box::new(Laid::of(w, laid))),
                batches: batches_of(option, key).cloned(),
                lay: coat.spec.lay,
                pigment: coat.pigment.map(|(product, pigment)| PigmentUse {
                    product: product.key.clone(),
                    need_kg: pigment.for_volume(estimate.coat_volume(key).unwrap_or_default()),
                }),
            },
            CoatStuff::Flake(_, how) => {
                let (thrown_kg, kept_kg) = match need {
                    Some(ProductNeed::Flake { thrown, kept }) => (thrown, kept),
                    _ => (Mass::ZERO, Mass::ZERO),
                };
                Self::Flake {
                    coat: names,
                    broadcast: how,
                    thrown_kg,
                    kept_kg,
                    thickness_um: coat.thickness(),
                }
            }
            CoatStuff::Grit(_, how) => Self::Grit {
                coat: names,
                grit: how,
                need_kg: match need {
                    Some(ProductNeed::Solid(mass)) => mass,
                    _ => Mass::ZERO,
                },
            },
        }
    }
}

fn batches_of<'c>(option: &'c FloorOption<'_>, coat: &Key) -> Option<&'c Batches> {
    let all = &option.estimate.batches;
    all.iter().find(|(key, _)| key == coat).map(|(_, batches)| batches)
}

impl Laid {
    fn of(w: &Writer<'_>, laid: &schedule::LaidCoat) -> Self {
        let times = laid.cure.times;
        let window = |window: schedule::Window| RecoatWindow {
            from: ClockMoment::of(w, window.from),
            to: ClockMoment::of(w, window.to),
        };
        Self {
            from: ClockMoment::of(w, laid.from),
            to: ClockMoment::of(w, laid.to),
            window: laid.window.map(window),
            times_at_c: times.at,
            times_by: laid.cure.basis,
            pot_life_hours: times.pot_life,
            recoat_from_hours: times.recoat_from,
            recoat_to_hours: times.recoat_to,
            foot_hours: times.foot,
            vehicle_hours: times.vehicle,
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
    /// The end of the last coat.
    pub done: ClockMoment,
    /// The work and waiting of the whole floor without going home.
    pub one_day: OneDay,
    /// Coats that go down later than the coat below them allows without sanding.
    pub missed_recoats: Vec<MissedRecoat>,
}

/// A stretch of work.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Stretch {
    /// The task.
    pub task: String,
    /// Its beginning.
    pub from: ClockMoment,
    /// Its end.
    pub to: ClockMoment,
}

/// The whole floor in one day.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct OneDay {
    #[serde(flatten)]
    pub time: schedule::OneDay,
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
    pub late_by_hours: Hours,
}

impl CrewPlan {
    pub fn of(w: &Writer<'_>, option: &FloorOption<'_>) -> Self {
        let plan = &option.estimate.schedule;
        let stretch = |s: &schedule::WorkStretch| Stretch {
            task: task_name(&s.task),
            from: ClockMoment::of(w, s.from),
            to: ClockMoment::of(w, s.to),
        };
        let missed = |m: &schedule::MissedRecoat| MissedRecoat {
            task: task_name(&m.task),
            late_by_hours: m.late_by,
        };
        Self {
            crew: option.estimate.crew,
            stretches: plan.stretches.iter().map(stretch).collect(),
            done: ClockMoment::of(w, plan.done),
            one_day: OneDay {
                time: plan.one_day,
                fits: plan.fits_one_day(),
                sold_as_one_day: option.floor.system.one_day,
            },
            missed_recoats: plan.missed.iter().map(missed).collect(),
        }
    }
}
