//! A floor on offer: a system's coats, each with its product, as this job has them.

use crate::base::lists::each_once;
use crate::base::names::Key;
use crate::base::quantity::{Share, Spread, Thickness};
use crate::model::book::{Book, Coverage, Flake, Grit, Pigment, Product, Resin, Stuff};
use crate::model::choices::AdditionKind;
use crate::model::job::Job;
use crate::model::system::{Broadcast, GritHow, Look, System, SystemCoat};
use crate::price::film;

/// Dry film below which a floor counts as thin, so that hot tyres may lift it: 8 mil of resin in
/// all. Common practice, no published source (kit films are 3 to 5 mil, high-build starts at 10).
pub const THIN_BELOW: Thickness = Thickness::mils(8.0);

/// A floor of one system with the extras that were chosen.
#[derive(Debug, Clone)]
pub struct Floor<'a> {
    pub system: &'a System,
    /// Bottom coat first.
    pub coats: Vec<FloorCoat<'a>>,
    /// Extras that are part of it.
    pub extras: Vec<Key>,
}

#[derive(Debug, Clone, Copy)]
pub struct FloorCoat<'a> {
    pub spec: &'a SystemCoat,
    pub product: &'a Product,
    pub stuff: CoatStuff<'a>,
    /// The color that is stirred into it.
    pub pigment: Option<(&'a Product, &'a Pigment)>,
}

#[derive(Debug, Clone, Copy)]
pub enum CoatStuff<'a> {
    Resin(&'a Resin),
    Flake(&'a Flake, Broadcast),
    Grit(&'a Grit, GritHow),
}

impl<'a> Floor<'a> {
    /// The floor that a system makes of a book's products. Coats whose product the book lacks
    /// are left out; `read::link` has reported them.
    pub fn new(system: &'a System, book: &'a Book, extras: &[Key]) -> Self {
        let wanted =
            |coat: &&SystemCoat| coat.extra.as_ref().is_none_or(|extra| extras.contains(extra));
        let coats = system.coats.iter().filter(wanted).filter_map(|spec| {
            let product = book.product(&spec.product.value)?;
            let stuff = match (&product.stuff, spec.broadcast) {
                (Stuff::Resin(resin), _) => CoatStuff::Resin(resin),
                (Stuff::Flake(flake), how) => {
                    CoatStuff::Flake(flake, how.unwrap_or(Broadcast::Full))
                }
                (Stuff::Grit(grit), _) => {
                    CoatStuff::Grit(grit, spec.grit.unwrap_or(GritHow::Thrown))
                }
                (Stuff::Filler(_) | Stuff::Pigment(_), _) => return None,
            };
            let pigment = spec.pigment.as_ref().and_then(|name| book.product(&name.value));
            let pigment = pigment.and_then(|product| Some((product, product.pigment()?)));
            Some(FloorCoat { spec, product, stuff, pigment })
        });
        // An item that was ticked is no extra, and one of another space's floor is none here.
        let has =
            |extra: &&Key| system.coats.iter().any(|coat| coat.extra.as_ref() == Some(*extra));
        let extras = extras.iter().filter(has).cloned().collect();
        Self { system, coats: coats.collect(), extras }
    }

    /// The extras that a job includes in a system: those of its price, and those that were ticked.
    pub fn chosen_extras(job: &Job, system: &Key) -> Vec<Key> {
        let included = job.extras.get(system).into_iter().flatten().map(|extra| &extra.value);
        let ticked = job.ticked(system).iter().filter_map(|key| {
            match job.additions.iter().find(|one| one.key == key.value) {
                Some(addition) => match &addition.what {
                    AdditionKind::Extra(extra) => Some(&extra.value),
                    AdditionKind::Item(_) => None,
                },
                None => Some(&key.value),
            }
        });
        each_once(included.chain(ticked).cloned())
    }

    /// Extras of the system that are not part of this floor, in the order of its coats.
    pub fn other_extras(&self) -> Vec<Key> {
        let mut others: Vec<Key> = vec![];
        for extra in self.system.coats.iter().filter_map(|coat| coat.extra.as_ref()) {
            if !self.extras.contains(extra) && !others.contains(extra) {
                others.push(extra.clone());
            }
        }
        others
    }

    /// The liquid coats, bottom first.
    pub fn resins(&self) -> impl DoubleEndedIterator<Item = (&FloorCoat<'a>, &'a Resin)> {
        self.coats.iter().filter_map(|coat| coat.resin().map(|resin| (coat, resin)))
    }

    /// The flake and grit that go into a liquid coat: what stands right behind it.
    pub fn upon(&self, coat: &Key) -> impl Iterator<Item = &FloorCoat<'a>> {
        let from = self.coats.iter().skip_while(move |one| one.spec.key != *coat).skip(1);
        from.take_while(|one| one.resin().is_none())
    }

    /// The liquid coats from the concrete up to the first vapor barrier, that one included: those
    /// that the slab's moisture reaches.
    pub fn up_to_barrier(&self) -> impl Iterator<Item = &'a Resin> {
        let mut above = false;
        self.resins().map(|(_, resin)| resin).take_while(move |resin| {
            let reached = !above;
            above |= resin.barrier;
            reached
        })
    }

    /// The coat on the concrete.
    pub fn first(&self) -> Option<&'a Resin> {
        self.resins().next().map(|(_, resin)| resin)
    }

    /// The coat that daylight and tyres meet.
    pub fn top(&self) -> Option<&'a Resin> {
        self.resins().next_back().map(|(_, resin)| resin)
    }

    /// The floor with its last liquid coat alone, and what goes into that; `None` without one.
    pub fn last_coat(&self) -> Option<Self> {
        let from = self.coats.iter().rposition(|coat| coat.resin().is_some())?;
        Some(Self { coats: self.coats[from..].to_vec(), ..self.clone() })
    }

    /// True when a coat is a vapor barrier.
    pub fn has_barrier(&self) -> bool {
        self.resins().any(|(_, resin)| resin.barrier)
    }

    pub fn broadcast(&self) -> Option<Broadcast> {
        self.coats.iter().find_map(|coat| match coat.stuff {
            CoatStuff::Flake(_, how) => Some(how),
            CoatStuff::Resin(_) | CoatStuff::Grit(..) => None,
        })
    }

    /// True when the floor has flake, whole or scattered.
    pub fn has_flake(&self) -> bool {
        self.broadcast().is_some()
    }

    /// True when daylight reaches a coat that turns amber: any coat above a full flake, an opaque
    /// coat and any above it, and every coat where neither covers the floor. Epoxy under full flake does not show;
    /// clear epoxy over it does, and a UV-stable coat on top only slows that. Common practice, no
    /// published source.
    pub fn shows_ambering(&self) -> bool {
        let covers = |coat: &FloorCoat<'_>| {
            matches!(coat.stuff, CoatStuff::Flake(_, Broadcast::Full)) || coat.is_opaque()
        };
        let from = self.coats.iter().rposition(covers).unwrap_or(0);
        self.coats[from..].iter().filter_map(FloorCoat::resin).any(|resin| !resin.uv_stable)
    }

    /// Dry film of all resin together.
    pub fn resin_film(&self) -> Thickness {
        self.resins().map(|(coat, resin)| coat.dry_film(resin)).sum()
    }

    pub fn is_thin(&self) -> bool {
        self.resin_film() < THIN_BELOW
    }
}

impl<'a> FloorCoat<'a> {
    pub fn resin(&self) -> Option<&'a Resin> {
        match self.stuff {
            CoatStuff::Resin(resin) => Some(resin),
            CoatStuff::Flake(..) | CoatStuff::Grit(..) => None,
        }
    }

    /// True for a liquid coat of one color, below which nothing shows.
    pub fn is_opaque(&self) -> bool {
        self.spec.look == Look::Solid && self.resin().is_some()
    }

    /// The coverage of this coat: the system's own where it states one, else the product's.
    fn coverage(&self, resin: &Resin) -> Coverage {
        match (self.spec.spread, self.spec.film) {
            (Some(spread), _) => Coverage::Spread(spread),
            (None, Some(film)) => Coverage::Film(film),
            (None, None) => resin.coverage,
        }
    }

    pub fn wet_film(&self, resin: &Resin) -> Thickness {
        match self.coverage(resin) {
            Coverage::Spread(spread) => film::wet_at(spread),
            Coverage::Film(dry) => film::wet_from_dry(dry, resin.solids, Share::ZERO),
        }
    }

    pub fn dry_film(&self, resin: &Resin) -> Thickness {
        film::dry_from_wet(self.wet_film(resin), resin.solids, Share::ZERO)
    }

    /// Wet coverage before loss.
    pub fn spread(&self, resin: &Resin) -> Spread {
        film::spread_at(self.wet_film(resin))
    }

    /// Returns the thickness that the coat adds to the floor: dry film, or the bed of flake. Grit lies
    /// within its coat.
    pub fn thickness(&self) -> Thickness {
        match self.stuff {
            CoatStuff::Resin(resin) => self.dry_film(resin),
            CoatStuff::Flake(flake, Broadcast::Full) => flake.thickness,
            CoatStuff::Flake(flake, Broadcast::Scattered) => {
                flake.thickness * (flake.scattered / flake.full).min(1.0)
            }
            CoatStuff::Grit(..) => Thickness::ZERO,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::price::testing::sample;

    fn keys(floor: &Floor<'_>) -> Vec<String> {
        floor.coats.iter().map(|coat| coat.spec.key.0.clone()).collect()
    }

    /// The coats of the shipped barrier floor, as its file has them.
    #[test]
    fn the_last_coat_is_renewed_alone() {
        sample().with_case(|case| {
            let floor = &case.options[0].floor;
            assert_eq!(keys(floor), ["barrier", "flake", "top"]);
            assert_eq!(keys(&floor.last_coat().unwrap()), ["top"]);
            let upon = |coat: &str| -> Vec<&str> {
                floor.upon(&Key(coat.into())).map(|coat| coat.spec.key.0.as_str()).collect()
            };
            assert_eq!((upon("barrier"), upon("top")), (vec!["flake"], vec![]));
        });
    }

    /// Clear epoxy over full flake shows its tint; below a coat of one color nothing does, and that one only if it
    /// turns amber itself.
    #[test]
    fn below_a_coat_of_one_color_no_tint_shows() {
        let mut input = sample().input();
        let clear = |input: &crate::read::Input| {
            let case = crate::price::case::case(input);
            let of =
                |option: &&crate::price::case::FloorOption<'_>| option.key().0 == "clear-epoxy";
            let floor = &case.options.iter().find(of).unwrap().floor;
            let opaque = floor.coats.iter().map(FloorCoat::is_opaque).collect::<Vec<_>>();
            (floor.shows_ambering(), opaque)
        };
        assert_eq!(clear(&input), (true, vec![false; 3]));
        let system = input.systems.iter_mut().find(|one| one.key.0 == "clear-epoxy").unwrap();
        let last = system.coats.iter_mut().find(|coat| coat.key.0 == "urethane").unwrap();
        (last.extra, last.look) = (None, Look::Solid);
        assert_eq!(clear(&input), (false, vec![false, false, false, true]));
        // Flake of one color is no coat of it.
        let system = input.systems.iter_mut().find(|one| one.key.0 == "clear-epoxy").unwrap();
        system.coats.iter_mut().for_each(|coat| coat.look = Look::Solid);
        assert_eq!(clear(&input).1, [true, false, true, true]);
    }
}
