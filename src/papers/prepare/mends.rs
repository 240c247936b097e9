//! The list of repairs: where, how large, how it is done, what fills it.

use serde::Serialize;

use crate::base::quantity::*;
use crate::papers::proposal::writer::Writer;
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
    let mut rows = vec![];
    for repair in repairs {
        let kind = match repair.place {
            RepairPlace::Crack(_) => "crew.place.crack",
            RepairPlace::Joint(_) => "crew.place.joint",
            RepairPlace::Spall(_) => "crew.place.spall",
            RepairPlace::Cove(_) => "crew.place.cove",
        };
        // Cut open is what is filled; nobody cuts before the slab was scanned.
        let scan = w.case.job.slab.needs_scan();
        let how = match &repair.method {
            RepairMethod::FirstCoat => w.plain("crew.mend.first_coat"),
            RepairMethod::Open => w.plain("crew.mend.open"),
            RepairMethod::Filled(product, filler) => {
                let kind = match (repair.place, filler.flexible) {
                    (RepairPlace::Crack(_), false) => "crew.mend.rigid",
                    (RepairPlace::Crack(_) | RepairPlace::Joint(_), _) => "crew.mend.flexible",
                    (RepairPlace::Spall(_), _) => "crew.mend.patch",
                    (RepairPlace::Cove(_), _) => "crew.mend.cove",
                };
                let how = w.say(kind, [("product", product.name.as_str())]);
                let cut = matches!(repair.place, RepairPlace::Crack(_) | RepairPlace::Joint(_));
                if scan && cut { format!("{} {how}", w.plain("crew.mend.after_scan")) } else { how }
            }
        };
        let name = place_name(&repair.place);
        rows.push(Mend {
            place: if name.is_empty() { w.plain(kind) } else { name },
            size: place_size(w, &repair.place),
            how,
            amount: if repair.volume > Volume::ZERO {
                w.figures.measured_out(repair.volume)
            } else {
                String::new()
            },
        });
    }
    rows
}

fn place_name(place: &RepairPlace<'_>) -> String {
    match place {
        RepairPlace::Crack(crack) => crack.name.clone(),
        RepairPlace::Joint(joint) => joint.name.clone(),
        RepairPlace::Spall(spall) => spall.name.clone(),
        RepairPlace::Cove(cove) => cove.name.clone(),
    }
}

fn place_size(w: &Writer<'_>, place: &RepairPlace<'_>) -> String {
    let pair = |name: &str, a: String, b: String| w.say(name, [("a", a), ("b", b)]);
    match place {
        RepairPlace::Crack(crack) => {
            pair("crew.mend.long_wide", w.figure(crack.length), w.figures.width(crack.width))
        }
        RepairPlace::Joint(joint) => w.figure(joint.length),
        RepairPlace::Spall(spall) => pair(
            "crew.mend.area_deep",
            w.figures.small_area(spall.area),
            w.figures.width(spall.depth),
        ),
        RepairPlace::Cove(cove) => {
            pair("crew.mend.long_round", w.figure(cove.length), w.figures.width(cove.radius))
        }
    }
}
