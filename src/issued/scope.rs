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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::price::testing::{Sample, sample};

    fn signed() -> Sample {
        sample().job("accepted", "{ revision = 1, floor = \"barrier\", on = 2026-05-20 }")
    }

    fn job(sample: &Sample) -> Job {
        sample.input().job
    }

    fn changed(key: &str, value: &str) -> Job {
        job(&signed().job(key, value))
    }

    /// One change of each part, as the list of parts says it; none of them is a change of another part.
    #[test]
    fn each_part_of_the_scope_is_told_by_itself() {
        let accepted = |floor: &str, additions: &str| {
            changed(
                "accepted",
                &format!(
                    "{{ revision = 1, floor = \"{floor}\", on = 2026-05-20, additions = {additions} }}"
                ),
            )
        };
        let grip = "[{ key = \"grip\", name = \"Grip\", price = \"$95.00\" }]";
        let ticked = signed().job("addition", grip).job("accepted.additions", "[\"grip\"]");
        let crack = "[{ name = \"a\", length = \"9 ft\", width = \"1/8 in\", moves = \"no\" }]";
        let cove = "[{ name = \"a\", length = \"9 ft\", radius = \"1 in\" }]";
        let spall = "[{ name = \"a\", area = \"72 in2\", depth = \"1/4 in\" }]";
        let joint = "[{ name = \"a\", length = \"9 ft\", treatment = \"fill\" }]";
        let item = "[{ name = \"Work\", price = \"$180.00\" }]";
        let upright = "[{ name = \"Curb\", length = \"9 ft\", height = \"4 in\" }]";
        let off = |for_floor: &str| {
            format!("{{ amount = \"$100.00\", reason = \"Thanks\", floors = [\"{for_floor}\"] }}")
        };
        let was = job(&signed());
        for (now, part) in [
            (accepted("fast-cure", "[]"), Scope::Floor),
            (changed("area.0.length", "\"23 ft\""), Scope::Area),
            (changed("upright", upright), Scope::Area),
            (job(&ticked), Scope::Additions),
            (changed("item", item), Scope::Items),
            (changed("discount", &off("barrier")), Scope::Discount),
            (changed("customer.tax-exempt", "\"EX-1\""), Scope::Tax),
            (changed("crack", crack), Scope::Repairs),
            (changed("joint", joint), Scope::Repairs),
            (changed("spall", spall), Scope::Repairs),
            (changed("slab.old-coating", "\"paint\""), Scope::Slab),
            (changed("slab.texture", "\"150 um\""), Scope::Slab),
        ] {
            assert_eq!(differing_scope(&was, &now), [part]);
            assert_eq!(differing_scope(&now, &was), [part], "and back");
            assert_eq!(differing_scope(&now, &now), []);
            // The old job with the new scope asks for what the new one asks for, and back.
            assert_eq!(differing_scope(&with_scope(&was, &now), &now), []);
            assert_eq!(differing_scope(&with_scope(&now, &was), &was), []);
        }
        // The round of a cove is coated too.
        let coved = differing_scope(&was, &changed("cove", cove));
        assert_eq!(coved, [Scope::Area, Scope::Repairs]);
        // An extra of the floor that was signed for; one of another floor is no matter.
        let extra = "{ clear-epoxy = [\"urethane-coat\"] }";
        let clear = signed().job("accepted.floor", "\"clear-epoxy\"");
        let with = job(&clear.clone().job("extras", extra));
        assert_eq!(differing_scope(&job(&clear), &with), [Scope::Extras]);
        assert_eq!(differing_scope(&with_scope(&job(&clear), &with), &with), []);
        assert_eq!(differing_scope(&was, &changed("extras", extra)), []);
        assert_eq!(differing_scope(&was, &with), [Scope::Floor]);
        // The same addition for another price is another addition.
        let dearer = ticked.clone().job("addition.0.price", "\"$96.00\"");
        assert_eq!(differing_scope(&job(&ticked), &job(&dearer)), [Scope::Additions]);
        // What nobody ticked, a discount on another floor, people, days and readings are no scope.
        for now in [
            changed("addition", grip),
            changed("discount", &off("fast-cure")),
            changed("customer.name", "\"B. Person\""),
            changed("plan", "{ start = 2026-06-01 }"),
            changed("air.slab", "\"60 F\""),
        ] {
            assert_eq!(differing_scope(&was, &now), []);
        }
    }

    /// Two spaces: what differs in either, a space that went, and the scope of one state in the other.
    #[test]
    fn each_space_is_held_against_its_own() {
        let two = |porch: &str, length: &str, air: &str| {
            let space = |name: &str, offer: &str, length: &str| {
                format!(
                    "{{ name = \"{name}\", kind = \"garage\", offer = [{offer}], \
                     surroundings = {{ daylight = false }}, slab = {{ on-ground = true }}, \
                     area = [{{ length = \"{length}\", width = \"20 ft\" }}], \
                     air = {{ measured = 2026-05-08, temperature = \"70 F\", humidity = \"50 %\", \
                     slab = \"{air}\" }} }}"
                )
            };
            let mut sample = sample().without("moisture");
            for key in ["slab", "area", "air", "garage", "offer"] {
                sample = sample.without(key);
            }
            let both = "\"barrier\", \"fast-cure\"";
            let garage = space("Garage", both, "22 ft");
            let porch =
                if porch.is_empty() { String::new() } else { space("Porch", porch, length) };
            job(&sample.job("sold-at-home", "false").job("space", &format!("[{garage}, {porch}]")))
        };
        let both = "\"barrier\", \"fast-cure\"";
        let was = two(both, "9 ft", "70 F");
        let larger = two("\"barrier\"", "10 ft", "60 F");
        assert_eq!(differing_scope(&was, &was), []);
        assert_eq!(differing_scope(&was, &larger), [Scope::Area]);
        assert_eq!(differing_scope(&was, &two("", "", "70 F")), [Scope::Area]);
        // A job of one space in place of several is another area, and the other way.
        let one = job(&signed().without("accepted"));
        assert!(differing_scope(&was, &one).contains(&Scope::Area));
        assert!(differing_scope(&one, &was).contains(&Scope::Area));
        let carried = with_scope(&was, &larger);
        assert_eq!(differing_scope(&carried, &larger), []);
        let (porch, as_was, as_is) = (&carried.spaces[1], &was.spaces[1], &larger.spaces[1]);
        assert_eq!(porch.offer, as_is.offer);
        let slab = |space: &Space| space.air.as_ref().map(|air| air.slab);
        assert_eq!(slab(porch), slab(as_was), "readings are no scope");
        assert_ne!(slab(porch), slab(as_is));
    }
}
