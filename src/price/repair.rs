//! Cracks, joints, holes and coves: what is done to each, what it takes, how long it takes.
//!
//! A crack that does not move is filled hard; up to a hairline the first coat runs in, a wider one
//! is chased open to a clean edge. A crack that moves is a joint that nobody cut: it is filled
//! soft, and so is a joint that is filled at all. Common practice, no published source.

use std::f64::consts::PI;

use crate::base::names::Key;
use crate::base::quantity::*;
use crate::model::book::{Book, Filler, Product};
use crate::model::job::{Cove, Crack, Joint, JointTreatment, Known, Shapes, Spall};
use crate::price::film;

/// One place that is mended.
#[derive(Debug, Clone)]
pub struct Repair<'a> {
    pub place: RepairPlace<'a>,
    pub method: RepairMethod<'a>,
    /// Volume that fills it, without loss.
    pub volume: Volume,
    /// One person's work.
    pub hours: Hours,
}

/// Place that is mended.
#[derive(Debug, Clone, Copy)]
pub enum RepairPlace<'a> {
    Crack(&'a Crack),
    Joint(&'a Joint),
    Spall(&'a Spall),
    Cove(&'a Cove),
}

impl RepairPlace<'_> {
    /// Returns its length; zero for a hole.
    pub fn length(&self) -> Length {
        match self {
            Self::Crack(crack) => crack.length,
            Self::Joint(joint) => joint.length,
            Self::Cove(cove) => cove.length,
            Self::Spall(_) => Length::ZERO,
        }
    }
}

/// Method of mending.
#[derive(Debug, Clone, Copy)]
pub enum RepairMethod<'a> {
    /// The first coat runs in.
    FirstCoat,
    /// Filled with a product of its own.
    Filled(&'a Product, &'a Filler),
    /// Left as it is: a joint that stays open.
    Open,
}

impl RepairMethod<'_> {
    pub fn filler(&self) -> Option<&Filler> {
        match self {
            Self::Filled(_, filler) => Some(filler),
            Self::FirstCoat | Self::Open => None,
        }
    }
}

/// Everything that is mended on a slab, in the order in which the job has it.
pub fn repairs<'a>(shapes: &'a Shapes, book: &'a Book) -> Vec<Repair<'a>> {
    let cracks = shapes.cracks.iter().map(|crack| crack_repair(crack, book));
    let joints = shapes.joints.iter().map(|joint| joint_repair(joint, book));
    let spalls = shapes.spalls.iter().map(|spall| Repair {
        place: RepairPlace::Spall(spall),
        method: fill_with(book, book.repair.patch.as_ref().map(|name| &name.value)),
        volume: spall_volume(spall.area, spall.depth),
        hours: spall.area.worked_at(book.rates.patch),
    });
    let coves = shapes.coves.iter().map(|cove| Repair {
        place: RepairPlace::Cove(cove),
        method: fill_with(book, book.repair.cove.as_ref().map(|name| &name.value)),
        volume: cove_volume(cove.length, cove.radius),
        hours: cove.length.worked_at(book.rates.cove),
    });
    cracks.chain(joints).chain(spalls).chain(coves).collect()
}

fn fill_with<'a>(book: &'a Book, key: Option<&Key>) -> RepairMethod<'a> {
    let product = key.and_then(|key| book.product(key));
    product
        .and_then(|product| Some(RepairMethod::Filled(product, product.filler()?)))
        .unwrap_or(RepairMethod::FirstCoat)
}

fn crack_repair<'a>(crack: &'a Crack, book: &'a Book) -> Repair<'a> {
    let terms = &book.repair;
    let method = if crack.moves == Known::Yes {
        fill_with(book, terms.flexible.as_ref().map(|name| &name.value))
    } else if crack.width <= terms.hairline {
        RepairMethod::FirstCoat
    } else {
        fill_with(book, terms.rigid.as_ref().map(|name| &name.value))
    };
    let width = match method {
        RepairMethod::Filled(..) => crack.width.max(terms.chase),
        RepairMethod::FirstCoat | RepairMethod::Open => crack.width,
    };
    Repair {
        place: RepairPlace::Crack(crack),
        method,
        volume: groove_volume(crack.length, width, book.prep.crack_depth),
        hours: crack.length.worked_at(book.rates.crack),
    }
}

fn joint_repair<'a>(joint: &'a Joint, book: &'a Book) -> Repair<'a> {
    let place = RepairPlace::Joint(joint);
    match joint.treatment {
        JointTreatment::Honor => {
            Repair { place, method: RepairMethod::Open, volume: Volume::ZERO, hours: Hours::ZERO }
        }
        JointTreatment::Fill => Repair {
            place,
            method: fill_with(book, book.repair.flexible.as_ref().map(|name| &name.value)),
            volume: groove_volume(joint.length, book.repair.joint_width, book.repair.joint_depth),
            hours: joint.length.worked_at(book.rates.joint),
        },
    }
}

/// A groove: length times width times depth.
pub fn groove_volume(length: Length, width: Length, depth: Length) -> Volume {
    Volume::liters(Area::rectangle(length, width).as_square_meters() * depth.as_millimeters())
}

/// A hole: area times mean depth.
pub fn spall_volume(area: Area, depth: Length) -> Volume {
    Volume::liters(area.as_square_meters() * depth.as_millimeters())
}

/// A cove: what lies between a corner and a quarter circle that touches both of its sides,
/// `r2 (1 - pi / 4)` along its length.
pub fn cove_volume(length: Length, radius: Length) -> Volume {
    let section = Area::rectangle(radius, radius) * (1.0 - PI / 4.0);
    Volume::liters(section.as_square_meters() * length.as_meters() * 1000.0)
}

/// Returns the volume that the first coat has to fill.
pub fn into_first_coat(repairs: &[Repair<'_>]) -> Volume {
    let by_coat = repairs.iter().filter(|repair| matches!(repair.method, RepairMethod::FirstCoat));
    by_coat.map(|repair| repair.volume).sum()
}

/// Returns the volume of each filler, loss included, in the order of first use.
pub fn fillers<'a>(repairs: &[Repair<'a>]) -> Vec<(&'a Product, Volume)> {
    let mut needs: Vec<(&Product, Volume)> = vec![];
    for repair in repairs {
        let RepairMethod::Filled(product, filler) = repair.method else { continue };
        let need = film::with_loss(repair.volume, filler.loss);
        match needs.iter_mut().find(|(known, _)| known.key == product.key) {
            Some((_, known)) => *known = *known + need,
            None => needs.push((product, need)),
        }
    }
    needs
}

/// One person's work on all of them.
pub fn hours(repairs: &[Repair<'_>]) -> Hours {
    repairs.iter().map(|repair| repair.hours).sum()
}

/// One person's work with a hand grinder, at the most: cracks that are chased open and holes that are
/// filled are ground flush. How much of that work is grinding is not written down, so all of it counts.
pub fn grinder_hours(repairs: &[Repair<'_>]) -> Hours {
    let ground = |repair: &&Repair<'_>| {
        let filled = matches!(repair.method, RepairMethod::Filled(..));
        filled && matches!(repair.place, RepairPlace::Crack(_) | RepairPlace::Spall(_))
    };
    repairs.iter().filter(ground).map(|repair| repair.hours).sum()
}

/// The longest time that a filler needs before it is coated.
pub fn sets(repairs: &[Repair<'_>]) -> Option<Hours> {
    let times = repairs.iter().filter_map(|repair| repair.method.filler()).map(|f| f.sets);
    times.reduce(Hours::max)
}
