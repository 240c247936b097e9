//! Names that one file uses and another defines: systems on offer, products of their coats,
//! extras. Every name that leads nowhere is reported where it was written.

use crate::base::lists::each_once;
use crate::base::names::Key;
use crate::base::source::{Diagnostic, Located, Problems};
use crate::model::book::Book;
use crate::model::job::{Job, JointTreatment, Known, Shapes};
use crate::model::shop::Shop;
use crate::model::system::System;
use crate::read::amount::CURRENCIES;
use crate::read::coats;
use crate::read::job::JobNames;
use crate::read::suggest::{in_backquotes, instead};

/// Checks the names of a job against the systems, and those of the systems on offer against the
/// book (when there is one that can be read).
pub fn link(names: &JobNames, book: Option<&Book>, systems: &[System], problems: &Problems) {
    offered(&names.offer, book, systems, problems);
    extras(&names.extras, systems, problems);
    for space in &names.spaces {
        offered(&space.offer, book, systems, problems);
        extras(&space.extras, systems, problems);
    }
}

fn offered(offer: &[Located<Key>], book: Option<&Book>, systems: &[System], problems: &Problems) {
    each_once_in("offer", offer, problems);
    for name in offer {
        match systems.iter().find(|system| system.key == name.value) {
            Some(system) => {
                if let Some(book) = book {
                    coats::products(system, book, problems);
                }
            }
            None => unknown(name, "system", systems.iter().map(|s| s.key.0.as_str()), problems),
        }
    }
}

/// Reports what a list names twice.
fn each_once_in(key: &str, list: &[Located<Key>], problems: &Problems) {
    for (at, name) in list.iter().enumerate() {
        if list[..at].iter().any(|earlier| earlier.value == name.value) {
            let twice = format!("`{key}` names `{}` twice", name.value);
            problems.add(Diagnostic::at(&name.span, twice).help("take one of them out"));
        }
    }
}

fn extras(named: &[(Located<String>, Vec<Located<Key>>)], systems: &[System], problems: &Problems) {
    for (name, extras) in named {
        let system = Key(name.value.clone());
        let Some(found) = systems.iter().find(|known| known.key == system) else {
            let name = Located { value: system, span: name.span.clone() };
            unknown(&name, "system", systems.iter().map(|s| s.key.0.as_str()), problems);
            continue;
        };
        let known = found.coats.iter().filter_map(|coat| coat.extra.as_ref());
        let known: Vec<&str> = known.map(|key| key.0.as_str()).collect();
        extras.iter().for_each(|extra| know(extra, "extra", &known, problems));
    }
}

/// Checks that the extras of a job's additions are extras of a floor on offer, and that what was
/// ticked may be ticked.
pub fn additions(names: &JobNames, systems: &[System], problems: &Problems) {
    let extras_of = |floors: &[Key]| -> Vec<&str> {
        let of_spaces = names.spaces.iter().flat_map(|space| &space.offer);
        let offered = names.offer.iter().chain(of_spaces).map(|offered| &offered.value);
        let meant = offered.filter(|floor| floors.is_empty() || floors.contains(floor));
        let found = meant.filter_map(|floor| systems.iter().find(|system| system.key == *floor));
        let extras = found.flat_map(|s| s.coats.iter().filter_map(|coat| coat.extra.as_ref()));
        each_once(extras.map(|key| key.0.as_str()))
    };
    for (extra, floors) in &names.additions {
        know(extra, "extra of a floor on offer", &extras_of(floors), problems);
    }
    for (floors, ticked) in &names.ticked {
        may_be_ticked(names, floors, ticked, &extras_of, problems);
    }
}

/// Checks that additions may be ticked with some floors, each once.
fn may_be_ticked<'s>(
    names: &JobNames,
    floors: &[Key],
    ticked: &[Located<Key>],
    extras_of: &dyn Fn(&[Key]) -> Vec<&'s str>,
    problems: &Problems,
) {
    let own = names.addition_keys.iter().map(|key| key.0.as_str());
    let known: Vec<&str> = each_once(own.chain(extras_of(floors)));
    each_once_in("additions", ticked, problems);
    ticked.iter().for_each(|one| know(one, "addition", &known, problems));
}

/// Checks that the coats that a job names are coats of their floor.
pub fn coats_of_floors(names: &JobNames, systems: &[System], problems: &Problems) {
    for (coat, floor) in &names.coats {
        let Some(system) = systems.iter().find(|system| system.key == *floor) else { continue };
        let known: Vec<&str> = system.coats.iter().map(|coat| coat.key.0.as_str()).collect();
        know(coat, &format!("coat of `{floor}`"), &known, problems);
    }
}

/// Checks that the amounts of money of job and shop are in the currency of the book.
pub fn currency(book: &Book, shop: &Shop, names: &JobNames, problems: &Problems) {
    let sign = CURRENCIES.iter().find(|(code, _)| *code == book.currency).map(|(_, sign)| *sign);
    let of_shop =
        [("deposit-most", &shop.limits.deposit_sign), ("price", &shop.testing.price_sign)];
    let of_shop = of_shop.into_iter().filter_map(|(key, sign)| Some((key, sign.as_ref()?)));
    for (key, written) in of_shop.chain(names.signs.iter().map(|(key, sign)| (*key, sign))) {
        if written.value != book.currency && Some(written.value.as_str()) != sign {
            let message = format!("`{key}` is in `{}`", written.value);
            let help = format!("the book's currency is {}", book.currency);
            problems.add(Diagnostic::at(&written.span, message).help(help));
        }
    }
}

/// Checks that the shop's records are of systems that there are.
pub fn records(shop: &Shop, systems: &[System], problems: &Problems) {
    let known: Vec<&str> = systems.iter().map(|system| system.key.0.as_str()).collect();
    shop.records.iter().for_each(|record| know(&record.system, "system", &known, problems));
}

/// Checks that the book's fillers are fillers, and that there is one for everything that the job
/// wants filled.
pub fn fillers(book: &Book, job: Option<&Job>, problems: &Problems) {
    let terms = &book.repair;
    let named = [
        ("rigid", &terms.rigid),
        ("flexible", &terms.flexible),
        ("patch", &terms.patch),
        ("cove", &terms.cove),
    ];
    for (key, name) in named {
        let Some(name) = name else { continue };
        if book.unread.contains(&name.value) {
            continue;
        }
        let known = book.products.iter().filter(|product| product.filler().is_some());
        let refuse = |is: &str, help: &str| {
            let message = format!("`{}` is {is}", name.value);
            problems.add(Diagnostic::at(&name.span, message).help(help));
        };
        let help = "`rigid` takes a hard filler, `flexible` a soft one";
        match book.product(&name.value).map(|product| product.filler()) {
            None => unknown(name, "filler", known.map(|p| p.key.0.as_str()), problems),
            Some(None) => refuse("no filler", "name a product that has a `filler` table"),
            Some(Some(filler)) if key == "rigid" && filler.flexible => refuse("flexible", help),
            Some(Some(filler)) if key == "flexible" && !filler.flexible => {
                refuse("not flexible", help);
            }
            Some(Some(_)) => {}
        }
    }
    let Some(job) = job else { return };
    // The shapes of a job with spaces are those of the first.
    let of_spaces = job.spaces.iter().map(|space| &space.shapes);
    let all: Vec<&Shapes> = std::iter::once(&job.shapes).chain(of_spaces).collect();
    let any = |has: fn(&Shapes) -> bool| all.iter().any(|shapes| has(shapes));
    let soft = any(|shapes| {
        shapes.cracks.iter().any(|crack| crack.moves == Known::Yes)
            || shapes.joints.iter().any(|joint| joint.treatment == JointTreatment::Fill)
    });
    let (patch, cove) =
        (any(|shapes| !shapes.spalls.is_empty()), any(|shapes| !shapes.coves.is_empty()));
    for (key, wanted, what, name) in [
        ("flexible", soft, "a joint to fill or a crack that moves", &terms.flexible),
        ("patch", patch, "a spall", &terms.patch),
        ("cove", cove, "a cove", &terms.cove),
    ] {
        if wanted && name.is_none() {
            let message = format!("the book names no filler `{key}`, and the job has {what}");
            let help = format!("add `{key} = \"KEY OF A PRODUCT\"` to the book's `[repair]` table");
            problems.add(Diagnostic::at(&book.span, message).help(help));
        }
    }
}

/// Reports a name that is not among those that are known.
fn know(name: &Located<Key>, what: &str, known: &[&str], problems: &Problems) {
    if !known.contains(&name.value.0.as_str()) {
        unknown(name, what, known.iter().copied(), problems);
    }
}

/// Reports a name that leads nowhere, with the one that was meant or all that there are.
pub(super) fn unknown<'a>(
    name: &Located<Key>,
    what: &str,
    known: impl IntoIterator<Item = &'a str>,
    problems: &Problems,
) {
    let known: Vec<&str> = known.into_iter().collect();
    let problem = Diagnostic::at(&name.span, format!("no {what} is called `{}`", name.value));
    problems.add(problem.help(instead(&name.value.0, known.iter().copied(), || {
        if known.is_empty() {
            format!("there is no {what} here")
        } else {
            format!("known: {}", in_backquotes(known.iter().copied()))
        }
    })));
}
