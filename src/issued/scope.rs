//! The scope of a job: what a price is for. And the differences between what was signed and what the job
//! says today.

use crate::base::lists::each_once;
use crate::base::names::{Key, choices};
use crate::base::quantity::{Area, Length, rounded};
use crate::model::choices::AdditionKind;
use crate::model::job::{Job, Shapes, Slab};
use crate::model::space::Space;
use crate::site::take_off::take_off;

choices! {
    /// A part of the scope, the weightiest first.
    Scope {
        /// Another floor.
        Floor = "floor",
        /// The coated area, flat, upright or on steps.
        Area = "area",
        /// Additions that were ticked.
        Additions = "additions",
        /// Extras that the price includes.
        Extras = "extras",
        /// Items with a line of their own.
        Items = "items",
        Discount = "discount",
        /// An exemption from tax.
        Tax = "tax",
        /// Cracks, joints, holes and coves.
        Repairs = "repairs",
        /// A coating that has to come off, or a rougher slab.
        Slab = "slab",
    }
}

/// A job that was signed, with floor and additions as its orders have them: those that are signed, and the
/// open one where it is wanted too.
pub fn with_orders(job: &Job, open_too: bool) -> Job {
    let mut job = job.clone();
    let orders = job.orders.iter().filter(|order| open_too || order.signed.is_some());
    job.accepted = orders.fold(job.accepted.clone(), |agreed, order| Some(agreed?.with(order)));
    job
}

/// A job with the scope of another: what is coated and mended, with which floor, additions, extras, items and
/// discount. Everything else stays: people, plan, readings, air.
pub fn with_scope(job: &Job, of: &Job) -> Job {
    let mut job = job.clone();
    job.shapes.clone_from(&of.shapes);
    job.slab = Slab { coating: of.slab.coating, texture: of.slab.texture, ..job.slab };
    job.offer.clone_from(&of.offer);
    job.extras.clone_from(&of.extras);
    job.additions.clone_from(&of.additions);
    job.items.clone_from(&of.items);
    job.discount.clone_from(&of.discount);
    job.accepted.clone_from(&of.accepted);
    job.customer.tax_exempt.clone_from(&of.customer.tax_exempt);
    let spaces = of.spaces.iter().map(|space| {
        let own = job.spaces.iter().find(|own| own.place.name == space.place.name);
        own.map_or_else(|| space.clone(), |own| space_with_scope(own, space))
    });
    job.spaces = spaces.collect();
    job
}

fn space_with_scope(space: &Space, of: &Space) -> Space {
    Space {
        shapes: of.shapes.clone(),
        slab: Slab { coating: of.slab.coating, texture: of.slab.texture, ..space.slab.clone() },
        offer: of.offer.clone(),
        extras: of.extras.clone(),
        ..space.clone()
    }
}

/// Returns the parts of the scope that differ between two states of a job, each with floor and additions as
/// its orders have them.
pub fn differing_scope(signed: &Job, now: &Job) -> Vec<Scope> {
    if !signed.has_spaces() && !now.has_spaces() {
        return differing(signed, now);
    }
    // The whole has items, discount and tax; each space has the rest. A space that came or went is another area.
    let mut found = differing(signed, now);
    let (was, is) = (signed.of_spaces(), now.of_spaces());
    let name = |job: &Job| job.place.as_ref().map(|place| place.name.clone());
    if was.iter().map(name).ne(is.iter().map(name)) {
        found.push(Scope::Area);
    }
    for (was, is) in was.iter().zip(&is) {
        found.extend(differing(was, is));
    }
    found.sort();
    found.dedup();
    found
}

/// The same of one space.
fn differing(signed: &Job, now: &Job) -> Vec<Scope> {
    let floor = |job: &Job| job.accepted.as_ref().map(|accepted| accepted.floor.clone());
    let additions =
        |job: &Job| keys(job.accepted.iter().flat_map(|a| &a.additions).map(|k| &k.value));
    let extras = |job: &Job| {
        let own = floor(job).and_then(|floor| job.extras.get(&floor));
        keys(own.into_iter().flatten().map(|extra| &extra.value))
    };
    // A definition of an addition that was not ticked is no matter.
    let defined = |job: &Job| {
        let ticked = additions(job);
        let own = job.additions.iter().filter(|one| ticked.contains(&one.key));
        let mut own: Vec<String> = own
            .map(|one| match &one.what {
                AdditionKind::Extra(extra) => format!("{} {}", one.key, extra.value),
                AdditionKind::Item(price) => format!("{} {price:?}", one.key),
            })
            .collect();
        own.sort();
        own
    };
    let discount = |job: &Job| {
        let floor = floor(job);
        let discount = job.discount.as_ref()?;
        let is_for = discount.floors.is_empty()
            || discount.floors.iter().any(|named| Some(&named.value) == floor.as_ref());
        is_for.then_some(discount.off)
    };
    let differs = |part: Scope| match part {
        Scope::Floor => floor(signed) != floor(now),
        Scope::Area => areas(&signed.shapes) != areas(&now.shapes),
        Scope::Additions => additions(signed) != additions(now) || defined(signed) != defined(now),
        Scope::Extras => floor(signed) == floor(now) && extras(signed) != extras(now),
        Scope::Items => signed.items != now.items,
        Scope::Discount => discount(signed) != discount(now),
        Scope::Tax => signed.customer.tax_exempt.is_some() != now.customer.tax_exempt.is_some(),
        Scope::Repairs => repairs(&signed.shapes) != repairs(&now.shapes),
        Scope::Slab => {
            (signed.slab.coating, signed.slab.texture) != (now.slab.coating, now.slab.texture)
        }
    };
    Scope::WORDS.iter().map(|(_, part)| *part).filter(|part| differs(*part)).collect()
}

/// Keys in one order, each once.
fn keys<'a>(keys: impl Iterator<Item = &'a Key>) -> Vec<Key> {
    let mut keys = each_once(keys.cloned());
    keys.sort();
    keys
}

/// Flat area, upright area and edge, as records round them.
fn areas(shapes: &Shapes) -> (f64, f64, f64) {
    let take_off = take_off(shapes);
    let area = |area: Area| rounded(area.as_square_meters());
    (area(take_off.floor), area(take_off.upright), rounded(take_off.edge.as_meters()))
}

/// Everything that is mended, by kind and size; names and places on the plan are no matter.
fn repairs(shapes: &Shapes) -> Vec<String> {
    let length = |length: Length| rounded(length.as_meters());
    let cracks = shapes.cracks.iter().map(|crack| {
        format!("crack {} {} {}", length(crack.length), length(crack.width), crack.moves.word())
    });
    let joints = shapes
        .joints
        .iter()
        .map(|joint| format!("joint {} {}", length(joint.length), joint.treatment.word()));
    let spalls = shapes.spalls.iter().map(|spall| {
        let area = rounded(spall.area.as_square_meters());
        format!("spall {area} {}", length(spall.depth))
    });
    let coves = shapes
        .coves
        .iter()
        .map(|cove| format!("cove {} {}", length(cove.length), length(cove.radius)));
    let mut all: Vec<String> = cracks.chain(joints).chain(spalls).chain(coves).collect();
    all.sort();
    all
}
