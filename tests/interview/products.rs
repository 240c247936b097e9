//! The questions for a product and for a floor: what is answered is what the files mean.

use super::{POURED, Visit};
use slableaf::interview::{InterviewKind, Reply, Setting};
use slableaf::model::book::Book;
use slableaf::read::read_book;

/// The answers that make the poured color of the example, with the questions in any order.
pub const LEVEL: &[(&str, &str)] = &[
    ("product.name", "Second leveling epoxy"),
    ("product.supplier", "Invented Resins"),
    ("kit.volume 1", "3"),
    ("kit.price 1", "204"),
    ("kit.another 2", "yes"),
    ("kit.volume 2", "15 gal"),
    ("kit.price 2", "$930.00"),
    ("kit.another 3", "no"),
    ("resin.data-sheet", "February 2026"),
    ("resin.volume-solids", "100"),
    ("resin.mix", "2 : 1"),
    ("resin.film", "20 mil"),
    ("resin.loss", "6 %"),
    ("resin.uv-stable", "no"),
    ("resin.opaque", "no"),
    ("resin.slab-from", "55"),
    ("resin.slab-to", "85 F"),
    ("resin.voc", "35 g/L"),
    ("resin.isocyanate", "no"),
    ("resin.allergy", "yes"),
    ("resin.sensitizers", "epoxy, amine"),
    ("resin.solvent", "no"),
    ("cure.at 1", "77"),
    ("cure.pot-life 1", "35 minutes"),
    ("cure.recoat-from 1", "12 h"),
    ("cure.recoat-to 1", "36 h"),
    ("cure.foot 1", "18 h"),
    ("cure.vehicle 1", "96 h"),
];

fn book_of(visit: &Visit<'_>) -> Book {
    assert_eq!(visit.interview.troubles().unwrap(), []);
    let file = visit.file();
    read_book(&file).unwrap_or_else(|problems| panic!("{problems:#?}\n{}", file.text))
}

/// A product is what its own book entry says, worked out by the reader of files.
#[test]
fn a_liquid_has_the_figures_that_were_typed() {
    let mut visit = Visit::within(&POURED, InterviewKind::Product);
    visit.with(LEVEL);
    let text = visit.file().text;
    let added = text.strip_prefix(&POURED.below).expect("the book stays as it was, comments too");
    assert!(added.starts_with("\n[[product]]\nkey = \"second-leveling-epoxy\"\n"), "{added}");
    let book = book_of(&visit);
    let (known, new) = (book.product(&key("level-epoxy")), book.products.last().unwrap());
    let (known, new) = (known.unwrap().resin().unwrap(), new.resin().unwrap());
    assert_eq!((&known.kits, known.solids, &known.mix), (&new.kits, new.solids, &new.mix));
    assert_eq!((known.coverage, known.loss, known.voc), (new.coverage, new.loss, new.voc));
    assert_eq!((&known.sensitizers, &known.solvent), (&new.sensitizers, &new.solvent));
    assert_eq!(known.cure[1], new.cure[0]);
    // 204 dollars for 3 gallons, 930 for 15 (by hand).
    for rate in ["That is $68.00 a gallon.", "That is $62.00 a gallon."] {
        assert!(visit.said.iter().any(|said| said == rate), "{rate}: {:?}", visit.said);
    }
}

fn key(name: &str) -> slableaf::base::names::Key {
    slableaf::base::names::Key(name.into())
}

/// What nobody knows is left out, and never read as nothing.
#[test]
fn what_nobody_knows_stays_open() {
    let few: Vec<_> = LEVEL
        .iter()
        .filter(|(id, _)| !["resin.allergy", "resin.sensitizers", "resin.solvent"].contains(id))
        .copied()
        .collect();
    let mut visit = Visit::within(&POURED, InterviewKind::Product);
    visit.with(&few);
    let book = book_of(&visit);
    let resin = book.products.last().unwrap().resin().unwrap();
    assert!(resin.sensitizers.is_none() && resin.solvent.is_not_said());
    assert!(resin.mver_limit.is_none() && resin.ground_contact.is_none());
    // Nothing in it makes skin allergic: that is something else than silence.
    let mut visit = Visit::within(&POURED, InterviewKind::Product);
    let none: Vec<_> =
        few.iter().copied().chain([("resin.allergy", "no"), ("resin.solvent", "yes")]).collect();
    let solvent = [
        ("solvent.name", "a test solvent"),
        ("solvent.content", "300 g/L"),
        ("solvent.molar-mass", "106.2 g/mol"),
        ("solvent.lel", "0.9 %"),
        ("solvent.exposure", "100 ppm"),
    ];
    visit.with(&none.into_iter().chain(solvent).collect::<Vec<_>>());
    let book = book_of(&visit);
    let resin = book.products.last().unwrap().resin().unwrap();
    assert_eq!(resin.sensitizers.as_deref(), Some(&[][..]));
    assert_eq!(resin.solvent.given().unwrap().name, "a test solvent");
}

#[test]
fn solids_are_asked_by_mass() {
    let make = |answers: &[(&str, &str)]| {
        let mut visit = Visit::within(&POURED, InterviewKind::Product);
        visit.with(answers);
        book_of(&visit).products.pop().unwrap()
    };
    let grit = make(&[
        ("product.kind", "grit"),
        ("product.name", "Coarse grit"),
        ("kit.mass 1", "50 lb"),
        ("kit.price 1", "62"),
        ("grit.rate", "0.05 lb/ft2"),
        ("grit.silica", "no"),
    ]);
    let known = POURED.shared.book().unwrap().product(&key("grit-fine")).unwrap().grit().unwrap();
    assert_eq!(grit.grit().unwrap().silica, known.silica);
    assert_eq!(grit.grit().unwrap().kits[0].price.0, 6_200);
    let pigment = make(&[
        ("product.kind", "pigment"),
        ("product.name", "Slate again"),
        ("kit.mass 1", "2 lb"),
        ("kit.price 1", "31"),
        ("pigment.pack-for", "3 gal"),
    ]);
    let known = POURED.shared.book().unwrap().product(&key("pigment-slate")).unwrap();
    assert_eq!(pigment.pigment().unwrap().dose, known.pigment().unwrap().dose);
    let filler = make(&[
        ("product.kind", "filler"),
        ("product.name", "Soft filler"),
        ("kit.filled 1", "0.16 gal"),
        ("kit.price 1", "38"),
        ("filler.flexible", "yes"),
        ("filler.sets", "45 min"),
        ("resin.isocyanate", "yes"),
    ]);
    assert!(filler.filler().unwrap().flexible && filler.isocyanate());
    let flake = make(&[
        ("product.kind", "flake"),
        ("product.name", "Mica"),
        ("kit.mass 1", "40 lb"),
        ("kit.price 1", "118"),
        ("flake.full", "0.15 lb/ft2"),
        ("flake.scattered", "0.03 lb/ft2"),
        ("flake.thickness", "20 mil"),
    ]);
    assert_eq!(flake.flake().unwrap().thickness.as_mils().round(), 20.0);
}

/// A slip is asked about, and taken all the same.
#[test]
fn a_kit_out_of_line_is_asked_about() {
    let mut visit = Visit::within(&POURED, InterviewKind::Product);
    visit.until("product.name");
    visit.takes("Odd epoxy");
    visit.until("kit.volume 1");
    for line in ["3 gal", "204", "yes", "15 gal", "93"] {
        visit.takes(line);
    }
    let said = visit.said.last().unwrap();
    // 93 / 15 = 6.20; 204 / 3 = 68 (by hand).
    assert_eq!(said, "A gallon costs $6.20 in one size and $68.00 in another. Typo? Type `back`.");
    assert_eq!(visit.interview.back(), Reply::Back);
    assert_eq!(visit.question().id, "kit.price 2");
}

#[test]
fn a_short_name_that_is_taken_is_refused_at_once() {
    let mut visit = Visit::within(&POURED, InterviewKind::Product);
    visit.until("product.name");
    visit.takes("Level epoxy");
    assert_eq!(visit.question().enter.as_deref(), Some("level-epoxy"));
    let (message, _) = visit.refuses("");
    assert_eq!(message, "`level-epoxy` is the short name of another product already");
    visit.takes("level-epoxy-2");
}

// ---------------------------------------------------------------------------------------- a floor

/// The answers that make the floor of the example `solid-color`.
pub const SOLID: &[(&str, &str)] = &[
    ("words.name", "solid-color floor"),
    ("system.life-from", "5"),
    ("system.life-to", "12"),
    ("coat.product 1", "epoxy-primer"),
    ("coat_words.does 1", "Soaks into the ground concrete and seals it, so fewer bubbles rise."),
    ("coat.another 2", "yes"),
    ("coat.product 2", "level-epoxy"),
    ("coat.look 2", "solid"),
    ("coat.lay 2", "poured"),
    ("coat.pigment 2", "1"),
    ("coat_words.name 2", "Poured color coat"),
    ("coat_words.does 2", "Levels itself and hides the concrete under one color."),
    ("coat.another 3", "yes"),
    ("coat.product 3", "matte-urethane"),
    ("coat_words.name 3", "Matte clear coat"),
    ("coat_words.does 3", "Takes the wear and keeps daylight from most of the color."),
    ("coat.another 4", "yes"),
    ("coat.product 4", "grit-fine"),
    ("coat.grit 4", "thrown"),
    ("coat_words.name 4", "Fine grit"),
    ("coat_words.does 4", "Lies in the clear coat and gives feet more hold."),
    (
        "words.summary",
        "An epoxy primer, one poured coat of color, then a matte clear coat with fine grit in it.",
    ),
    ("words.better_at 1", "It is one even color, with no pattern."),
    ("words.better_at 2", "It has no seams, so it is easy to sweep."),
    ("words.better_at 3", "Fine grit in the last coat makes it less smooth underfoot."),
    ("words.harder_at 1", "It shows dust, scratches and dents more than flake does."),
    ("words.harder_at 2", "It takes days, since the color cures slowly."),
    ("words.harder_at 3", "Its first coat is no moisture barrier, so the slab must read low."),
    ("words.choose_if", "Choose this if you want one plain color and your slab tests low."),
    ("words.yellowing", "The color under the clear coat turns amber"),
    ("words.tires", "Usually holds once cured"),
    ("words.smell", "Some from the epoxy"),
    ("words.damp", "Low limit: its primer is no vapor barrier"),
];

fn for_a_floor() -> Setting {
    Setting { file: "systems/new.toml".into(), below: String::new(), ..POURED.clone() }
}

/// The example's floor is what these answers make, to the byte.
#[test]
fn the_floor_of_the_example_is_made_by_answers() {
    let setting = for_a_floor();
    let mut visit = Visit::within(&setting, InterviewKind::System);
    visit.with(SOLID);
    assert_eq!(visit.interview.troubles().unwrap(), []);
    let example = include_str!("../../examples/solid-color/systems/solid-color.toml");
    let rest = |text: &str| text.split_once("\nkey = ").unwrap().1.to_owned();
    assert_eq!(rest(&visit.file().text), rest(example));
    // 10 mil of primer, 20 of color, 2.5 of topcoat; grit lies within it: 32.5, shown to the mil (by hand).
    assert!(visit.said.iter().any(|said| said.contains("33\u{a0}mils")), "{:?}", visit.said);
}

#[test]
fn a_floor_of_that_name_is_refused_at_once() {
    let setting = for_a_floor();
    let mut visit = Visit::within(&setting, InterviewKind::System);
    visit.takes("Barrier floor");
    let (message, _) = visit.refuses("");
    assert_eq!(message, "`barrier` is the short name of another floor already");
    visit.takes("barrier-two");
}

/// Only ways of laying for which the book has a rate can be chosen.
#[test]
fn a_way_of_laying_without_a_rate_is_not_offered() {
    let without = POURED.below.replace("pour = ", "# pour = ").replace("trowel = ", "# trowel = ");
    let book = slableaf::base::source::SourceFile { name: "book.toml".into(), text: without };
    let (_, shop) = slableaf::interview::neutral();
    let shared = slableaf::read::Shared::read(&book, &shop, &[]);
    let setting = Setting { shared, ..for_a_floor() };
    let mut visit = Visit::within(&setting, InterviewKind::System);
    visit.takes("plain floor");
    visit.until("system.life-from");
    visit.takes("2");
    visit.takes("4");
    visit.until("coat.product 1");
    visit.takes("epoxy-primer");
    visit.until("coat.spread 1");
    assert!(!visit.asked.iter().any(|id| id.starts_with("coat.lay")), "{:?}", visit.asked);
}

// --------------------------------------------------------------------------------------- payments

#[test]
fn a_shop_is_asked_for_its_payments() {
    let mut visit = Visit::new(InterviewKind::Shop);
    visit.with(&[
        ("shop.name", "Invented Gray Heron Floors"),
        ("payment.when 1", "When you sign"),
        ("payment.share 1", "25"),
        ("payment.when 2", "When you park on it"),
        ("payment.share 2", "75 %"),
    ]);
    assert_eq!(visit.interview.troubles().unwrap(), []);
    let shop = slableaf::read::read_shop(&visit.file()).unwrap();
    let steps: Vec<(&str, String)> = shop
        .payments
        .iter()
        .map(|step| (step.when.as_str(), step.share.normalize().to_string()))
        .collect();
    assert_eq!(
        steps,
        [("When you sign", "0.25".to_owned()), ("When you park on it", "0.75".to_owned())]
    );
}

/// More than is left of the price is refused where it is typed.
#[test]
fn payments_over_the_whole_price_are_refused() {
    let mut visit = Visit::new(InterviewKind::Shop);
    visit.until("shop.name");
    visit.takes("A shop");
    visit.until("payment.share 1");
    visit.takes("50 %");
    visit.until("payment.share 2");
    let (message, help) = visit.refuses("60 %");
    assert!(message.contains("`60 %` is more than the 50 % that is left"), "{message}");
    assert!(help[0].contains("at most 50 %"), "{help:?}");
    visit.takes("50 %");
}
