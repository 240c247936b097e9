//! The list of repairs: where, how large, how it is done, what fills it.

use serde::Serialize;

use crate::base::quantity::*;
use crate::papers::proposal::writer::{Writer, joined};
use crate::price::repair::{Repair, RepairMethod, RepairPlace};

#[derive(Debug, Clone, Serialize)]
pub struct Mend {
    pub place: String,
    pub size: String,
    pub how: String,
    pub amount: String,
}

/// The repairs of a slab, in the order in which the job has them.
pub fn mends(w: &Writer<'_>, repairs: &[Repair<'_>]) -> Vec<Mend> {
    let mends = repairs.iter().map(|repair| {
        let (kind, name) = match repair.place {
            RepairPlace::Crack(crack) => ("crew.place.crack", &crack.name),
            RepairPlace::Joint(joint) => ("crew.place.joint", &joint.name),
            RepairPlace::Spall(spall) => ("crew.place.spall", &spall.name),
            RepairPlace::Cove(cove) => ("crew.place.cove", &cove.name),
        };
        let amount = Some(repair.volume).filter(|volume| *volume > Volume::ZERO);
        Mend {
            place: match name.is_empty() {
                true => w.plain(kind),
                false => name.clone(),
            },
            size: place_size(w, &repair.place),
            how: way_to_mend(w, repair),
            amount: amount.map_or_else(String::new, |volume| w.figures.measured_out(volume)),
        }
    });
    mends.collect()
}

fn way_to_mend(w: &Writer<'_>, repair: &Repair<'_>) -> String {
    let (product, filler) = match repair.method {
        RepairMethod::FirstCoat => return w.plain("crew.mend.first_coat"),
        RepairMethod::Open => return w.plain("crew.mend.open"),
        RepairMethod::Filled(product, filler) => (product, filler),
    };
    let kind = match (repair.place, filler.flexible) {
        (RepairPlace::Crack(_), false) => "crew.mend.rigid",
        (RepairPlace::Crack(_) | RepairPlace::Joint(_), _) => "crew.mend.flexible",
        (RepairPlace::Spall(_), _) => "crew.mend.patch",
        (RepairPlace::Cove(_), _) => "crew.mend.cove",
    };
    // Cut open is what is filled; nobody cuts before the slab was scanned.
    let cut = matches!(repair.place, RepairPlace::Crack(_) | RepairPlace::Joint(_));
    let scan = w.plain_if(cut && w.case.job.slab.needs_scan(), "crew.mend.after_scan");
    joined([scan, w.say(kind, [("product", product.name.as_str())])])
}

fn place_size(w: &Writer<'_>, place: &RepairPlace<'_>) -> String {
    let (name, a, b) = match place {
        RepairPlace::Joint(joint) => return w.figure(joint.length),
        RepairPlace::Crack(crack) => {
            ("crew.mend.long_wide", w.figure(crack.length), w.figures.width(crack.width))
        }
        RepairPlace::Spall(spall) => {
            ("crew.mend.area_deep", w.figures.small_area(spall.area), w.figures.width(spall.depth))
        }
        RepairPlace::Cove(cove) => {
            ("crew.mend.long_round", w.figure(cove.length), w.figures.width(cove.radius))
        }
    };
    w.say(name, [("a", a), ("b", b)])
}
