//! The questions of a floor: its coats, bottom first, each of a product of the book, then what the
//! papers say of it.

use toml_edit::{InlineTable, Value};

use crate::interview::ask::{AnswerForm, Ask};
use crate::interview::draft::DraftPlace;
use crate::interview::product::{key_of, short_name, unused};
use crate::interview::run::{Flow, Mark, Run};
use crate::model::book::{Book, Product, Resin, Stuff};
use crate::model::system::{Lay, Look};
use crate::read::keys::spec::TypedKey;
use crate::read::keys::system::{coat, coat_words, system, words};
use crate::read::limits;

/// The words for one coat: the question that they answer, the coat's key, and what is said.
type CoatSaid = (String, String, InlineTable);

const WORDS: DraftPlace = DraftPlace::table("words");
const COATS: DraftPlace = DraftPlace::table("words.coats");

pub fn floor(run: &mut Run<'_>) -> Flow {
    run.topic("system");
    let name = run.ask(Ask::from(words::NAME))?;
    let named = "words.name";
    let text = name.as_ref().and_then(Value::as_str).unwrap_or_default().to_owned();
    let short = short_name(&text);
    run.fill(Ask::from(system::KEY).or(short.strip_suffix("-floor").unwrap_or(&short)))?;
    run.fill(system::LIFE_FROM)?;
    run.fill(system::LIFE_TO)?;
    run.fill(Ask::from(system::ONE_DAY).or("no"))?;
    run.topic("coats");
    let said = coats(run)?;
    run.topic("system-words");
    run.draft.put(WORDS, "name", name, named);
    run.fill(Ask::from(words::THE_NAME).or(format!("the {text}")))?;
    run.fill(words::SUMMARY)?;
    sentences(run, words::BETTER_AT)?;
    sentences(run, words::HARDER_AT)?;
    run.fill(words::CHOOSE_IF)?;
    run.fill(words::YELLOWING)?;
    run.fill(words::TIRES)?;
    run.fill(words::SMELL)?;
    run.fill(words::DAMP)?;
    for (owner, coat, words) in said {
        run.draft.put(COATS, &coat, Some(Value::InlineTable(words)), &owner);
    }
    Ok(())
}

/// Asks for sentences, at least one.
fn sentences(run: &mut Run<'_>, key: TypedKey<Vec<String>>) -> Flow {
    let line = |n| {
        let ask = Ask::from(key).nth(n);
        if n == 1 { ask.must() } else { ask.may() }
    };
    run.lines_at(WORDS, key, line).map(drop)
}

/// Asks coat by coat; returns what is said of each.
fn coats(run: &mut Run<'_>) -> Flow<Vec<CoatSaid>> {
    let mut said: Vec<CoatSaid> = vec![];
    for n in 1..=limits::COATS {
        if n > 1 && !run.yes(Ask::yes_no("coat", "another").or("no").nth(n))? {
            break;
        }
        let known: Vec<String> = said.iter().map(|(_, key, _)| key.clone()).collect();
        said.push(one_coat(run, n, &known)?);
        run.mark(Mark::Coats(n));
    }
    Ok(said)
}

fn one_coat(run: &mut Run<'_>, n: usize, known: &[String]) -> Flow<CoatSaid> {
    let place = DraftPlace::list("coat", n);
    let book = run.setting.shared.book();
    let products = book.map_or(&[][..], |book| &book.products);
    let is_coat =
        |product: &&Product| !matches!(product.stuff, Stuff::Filler(_) | Stuff::Pigment(_));
    let keys = products.iter().filter(is_coat).map(|product| product.key.0.clone()).collect();
    let ask = Ask::from(coat::PRODUCT).form(AnswerForm::Word(keys)).nth(n);
    let chosen = run.ask(ask)?;
    let product = chosen.as_ref().and_then(key_of);
    let product = product.and_then(|key| book?.product(&key));
    let asked = run.asked.last().cloned().unwrap_or_default();
    let look = match product.map(|product| &product.stuff) {
        Some(Stuff::Flake(_)) => Look::Flake.word().to_owned(),
        Some(Stuff::Grit(_)) => Look::Grit.word().to_owned(),
        _ => look(run, n, product.and_then(Product::resin))?,
    };
    let key = unused(&look, known);
    run.draft.put(place, "key", Some(key.as_str().into()), &asked);
    // Its place; it stands there when the rest of the coat is known, by which it is judged.
    run.draft.put(place, "product", None, &asked);
    let owner = run.asked.last().cloned().unwrap_or_default();
    run.draft.put(place, "look", Some(look.as_str().into()), &owner);
    match product.map(|product| &product.stuff) {
        Some(Stuff::Flake(_)) => {
            run.fill_at(place, "broadcast", Ask::from(coat::BROADCAST).must().nth(n))?;
        }
        Some(Stuff::Grit(_)) => {
            run.fill_at(place, "grit", Ask::from(coat::GRIT).must().nth(n))?;
        }
        _ => liquid(run, place, &look, product.and_then(Product::resin))?,
    }
    run.draft.put(place, "product", chosen, &asked);
    if n > 1 && run.yes(Ask::yes_no("coat", "is-extra").or("no").nth(n))? {
        run.fill_at(place, "extra", Ask::from(coat::EXTRA).must().or(key.as_str()).nth(n))?;
    }
    let usual = product.map_or_else(String::new, |product| product.name.clone());
    let words = run.row([
        ("name", Ask::from(coat_words::NAME).or(usual).nth(n)),
        ("does", Ask::from(coat_words::DOES).nth(n)),
    ])?;
    let owner = run.asked.last().cloned().unwrap_or_default();
    Ok((owner, key, words))
}

/// Asks what a liquid coat is for, which decides how it is drawn.
fn look(run: &mut Run<'_>, n: usize, resin: Option<&Resin>) -> Flow<String> {
    let is_solid = |look: &&str| ![Look::Flake.word(), Look::Grit.word()].contains(look);
    let words = Look::WORDS.iter().map(|(word, _)| *word).filter(is_solid).map(str::to_owned);
    let usual = match resin {
        Some(resin) if resin.barrier => Look::Barrier,
        Some(resin) if resin.opaque == Some(true) => Look::Solid,
        _ if n == 1 => Look::Primer,
        _ => Look::Top,
    };
    let ask = Ask::from(coat::LOOK).form(AnswerForm::Word(words.collect()));
    run.word(ask.or(usual.word()).nth(n))
}

/// Asks how a liquid coat is laid, what colors it, and how far it goes here.
fn liquid(run: &mut Run<'_>, place: DraftPlace, look: &str, resin: Option<&Resin>) -> Flow {
    let n = place.nth;
    let book = run.setting.shared.book();
    let ways: Vec<String> = book.map_or_else(Vec::new, ways);
    if ways.len() > 1 {
        let ask = Ask::from(coat::LAY).form(AnswerForm::Word(ways)).must().or(Lay::Rolled.word());
        let lay = run.word(ask.nth(n))?;
        let other = Some(lay).filter(|lay| !lay.is_empty() && lay != Lay::Rolled.word());
        other.into_iter().for_each(|lay| run.put(place, "lay", Some(lay.into())));
    }
    let pigments = book.into_iter().flat_map(|book| &book.products);
    let pigments = pigments.filter(|product| product.pigment().is_some());
    let pigments: Vec<String> = pigments.map(|product| product.key.to_string()).collect();
    if look == Look::Solid.word() && !pigments.is_empty() {
        let ask = Ask::from(coat::PIGMENT).form(AnswerForm::Word(pigments)).nth(n);
        let clear = resin.is_some_and(|resin| resin.opaque == Some(false));
        run.fill_at(place, "pigment", if clear { ask.must() } else { ask })?;
    }
    if run.fill_at(place, "spread", Ask::from(coat::SPREAD).nth(n))?.is_none() {
        run.fill_at(place, "film", Ask::from(coat::FILM).nth(n))?;
    }
    Ok(())
}

/// The ways of laying for which a book has a rate.
fn ways(book: &Book) -> Vec<String> {
    let known = |lay: &Lay| match lay {
        Lay::Rolled => true,
        Lay::Poured => book.rates.pour.is_some(),
        Lay::Troweled => book.rates.trowel.is_some(),
    };
    let ways = Lay::WORDS.iter().filter(|(_, lay)| known(lay));
    ways.map(|(word, _)| (*word).to_owned()).collect()
}
