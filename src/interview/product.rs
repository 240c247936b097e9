//! The questions of a product: the figures of its data sheets, one by one, in the order in which the
//! sheets have them. It is put behind the book that it is for. Of a solid the figures come before the
//! kits: by them a reader of the book tells what it is.

use toml_edit::{Array, Value};

use crate::base::names::Key;
use crate::base::quantity::{Mass, Volume};
use crate::interview::ask::Ask;
use crate::interview::draft::DraftPlace;
use crate::interview::run::{Flow, Mark, Run};
use crate::interview::typed::Typed;
use crate::read::keys::product::*;
use crate::read::keys::spec::TypedKey;
use crate::read::limits;

/// The kinds of a product, which decide what is asked of it.
const KINDS: [&str; 5] = ["liquid", "flake", "filler", "pigment", "grit"];

pub fn product(run: &mut Run<'_>) -> Flow {
    run.topic("product");
    let place = DraftPlace::list("product", run.setting.products + 1);
    let kind = run.word(Ask::word("product", "kind", &KINDS).usual("liquid"))?;
    let name = run.word(Ask::from(resin::NAME).called("product", "name"))?;
    let named = "product.name";
    let key = run.ask(Ask::from(resin::KEY).called("product", "key").or(short_name(&name)))?;
    run.put(place, "key", key);
    run.draft.put(place, "name", Some(name.into()), named);
    run.fill_at(place, "supplier", Ask::from(resin::SUPPLIER).called("product", "supplier"))?;
    match kind.as_str() {
        "flake" => flake(run, place),
        "filler" => filler(run, place),
        "pigment" => pigment(run, place),
        "grit" => grit(run, place),
        _ => liquid(run, place),
    }
}

/// A plain name made of a text: `Clear epoxy, slow` as `clear-epoxy-slow`.
pub fn short_name(text: &str) -> String {
    let parts = text.split(|c: char| !c.is_ascii_alphanumeric()).filter(|part| !part.is_empty());
    let mut name = String::new();
    for part in parts {
        if name.len() + part.len() >= limits::KEY {
            break;
        }
        name.push_str(if name.is_empty() { "" } else { "-" });
        name.push_str(&part.to_ascii_lowercase());
    }
    name
}

// -------------------------------------------------------------------------------------- kits

/// Asks for the sizes that it is sold in, each with its price, then for what is in store.
fn kits<Q: Typed>(
    run: &mut Run<'_>,
    place: DraftPlace,
    size: TypedKey<Q>,
    word: &'static str,
    stock: (TypedKey<Q>, &'static str),
) -> Flow {
    let mut kits = Array::new();
    for n in 1..=limits::KIT_SIZES {
        if n > 1 && !run.yes(Ask::yes_no("kit", "another").or("no").nth(n))? {
            break;
        }
        kits.push(run.row([
            ("size", Ask::from(size).called("kit", word).nth(n)),
            ("price", Ask::from(resin_kit::PRICE).called("kit", "price").nth(n)),
        ])?);
        run.put(place, "kit", Some(Value::Array(kits.clone())));
        run.mark(Mark::Kits(n));
    }
    run.fill_at(place, "stock", Ask::from(stock.0).called("kit", stock.1)).map(drop)
}

fn volumes(run: &mut Run<'_>, place: DraftPlace) -> Flow {
    run.topic("kits");
    kits::<Volume>(run, place, resin_kit::SIZE, "volume", (resin::STOCK, "stock-volume"))
}

fn masses(run: &mut Run<'_>, place: DraftPlace) -> Flow {
    run.topic("kits");
    kits::<Mass>(run, place, flakes_kit::SIZE, "mass", (flakes::STOCK, "stock-mass"))
}

// ------------------------------------------------------------------------------------ solids

fn flake(run: &mut Run<'_>, place: DraftPlace) -> Flow {
    run.topic("sheet");
    let inside = DraftPlace::inside("product.flake", place.nth);
    run.fill_at(inside, "full", flake::FULL)?;
    run.fill_at(inside, "scattered", flake::SCATTERED)?;
    run.fill_at(inside, "reclaimed", flake::RECLAIMED)?;
    run.fill_at(inside, "thickness", flake::THICKNESS)?;
    masses(run, place)
}

fn filler(run: &mut Run<'_>, place: DraftPlace) -> Flow {
    run.topic("sheet");
    let inside = DraftPlace::inside("product.filler", place.nth);
    run.fill_at(inside, "flexible", filler::FLEXIBLE)?;
    run.fill_at(inside, "sets", filler::SETS)?;
    run.fill_at(place, "loss", Ask::from(fillers::LOSS).called("resin", "loss"))?;
    run.topic("safety-sheet");
    let isocyanate = Ask::from(filler::ISOCYANATE).called("resin", "isocyanate");
    run.fill_at(inside, "isocyanate", isocyanate)?;
    sensitizers(run, inside)?;
    run.topic("kits");
    kits::<Volume>(run, place, fillers_kit::SIZE, "filled", (fillers::STOCK, "stock-volume"))
}

fn pigment(run: &mut Run<'_>, place: DraftPlace) -> Flow {
    run.topic("sheet");
    let inside = DraftPlace::inside("product.pigment", place.nth);
    if run.fill_at(inside, "dose", pigment::DOSE)?.is_none() {
        run.fill_at(inside, "pack-for", Ask::from(pigment::PACK_FOR).must())?;
    }
    masses(run, place)
}

fn grit(run: &mut Run<'_>, place: DraftPlace) -> Flow {
    run.topic("sheet");
    let inside = DraftPlace::inside("product.grit", place.nth);
    run.fill_at(inside, "rate", grit::RATE)?;
    run.topic("safety-sheet");
    run.fill_at(inside, "silica", grit::SILICA)?;
    masses(run, place)
}

// ----------------------------------------------------------------------------------- liquids

fn liquid(run: &mut Run<'_>, place: DraftPlace) -> Flow {
    volumes(run, place)?;
    data_sheet(run, place)?;
    slab(run, place)?;
    safety_sheet(run, place)?;
    run.topic("times");
    cure(run, place)
}

/// Asks for what a technical data sheet says of the liquid and its film.
fn data_sheet(run: &mut Run<'_>, place: DraftPlace) -> Flow {
    run.topic("sheet");
    run.fill_at(place, "data-sheet", resin::DATA_SHEET)?;
    run.fill_at(place, "volume-solids", resin::VOLUME_SOLIDS)?;
    if run.fill_at(place, "mix", resin::MIX)?.is_some() {
        run.fill_at(place, "whole-kits", Ask::from(resin::WHOLE_KITS).or("no"))?;
    }
    if run.fill_at(place, "spread", resin::SPREAD)?.is_none() {
        run.fill_at(place, "film", Ask::from(resin::FILM).must())?;
    }
    run.fill_at(place, "loss", resin::LOSS)?;
    run.fill_at(place, "uv-stable", resin::UV_STABLE)?;
    run.fill_at(place, "opaque", resin::OPAQUE)?;
    run.fill_at(place, "water-based", Ask::from(resin::WATER_BASED).or("no"))?;
    run.fill_at(place, "humidity-speeds", resin::HUMIDITY_SPEEDS).map(drop)
}

/// Asks for what the sheet says of the slab and the air.
fn slab(run: &mut Run<'_>, place: DraftPlace) -> Flow {
    run.topic("sheet-slab");
    let barrier = run.fill_at(place, "barrier", Ask::from(resin::BARRIER).or("no"))?;
    let is_barrier = barrier.and_then(|barrier| barrier.as_bool()) == Some(true);
    run.fill_at(place, "mver-limit", resin::MVER_LIMIT)?;
    run.fill_at(place, "rh-limit", resin::RH_LIMIT)?;
    run.fill_at(place, "moisture-test", resin::MOISTURE_TEST)?;
    run.fill_at(place, "ground-contact", resin::GROUND_CONTACT)?;
    if is_barrier {
        run.fill_at(place, "permeance", resin::PERMEANCE)?;
    }
    run.fill_at(place, "surface-profile", resin::SURFACE_PROFILE)?;
    run.fill_at(place, "strength-from", resin::STRENGTH_FROM)?;
    run.fill_at(place, "concrete-days", resin::CONCRETE_DAYS)?;
    if run.fill_at(place, "ph-from", resin::PH_FROM)?.is_some() {
        run.fill_at(place, "ph-to", Ask::from(resin::PH_TO).must())?;
    }
    run.fill_at(place, "slab-from", resin::SLAB_FROM)?;
    run.fill_at(place, "slab-to", resin::SLAB_TO)?;
    run.fill_at(place, "air-humidity-to", resin::AIR_HUMIDITY_TO)?;
    run.fill_at(place, "dew-spread", resin::DEW_SPREAD).map(drop)
}

/// Asks for what a safety data sheet says.
fn safety_sheet(run: &mut Run<'_>, place: DraftPlace) -> Flow {
    run.topic("safety-sheet");
    run.fill_at(place, "voc", resin::VOC)?;
    run.fill_at(place, "isocyanate", resin::ISOCYANATE)?;
    sensitizers(run, place)?;
    let solvent = run.ask(Ask::yes_no("resin", "solvent"))?.and_then(|solvent| solvent.as_bool());
    match solvent {
        Some(false) => run.put(place, "solvent-free", Some(true.into())),
        Some(true) => {
            let inside = DraftPlace::inside("product.solvent", place.nth);
            run.fill_at(inside, "name", solvent::NAME)?;
            run.fill_at(inside, "content", solvent::CONTENT)?;
            run.fill_at(inside, "molar-mass", solvent::MOLAR_MASS)?;
            run.fill_at(inside, "lel", solvent::LEL)?;
            run.fill_at(inside, "exposure", solvent::EXPOSURE)?;
            run.fill_at(inside, "exposure-source", solvent::EXPOSURE_SOURCE)?;
        }
        None => {}
    }
    Ok(())
}

/// Asks what can make skin allergic: some things, none, or nobody has looked.
fn sensitizers(run: &mut Run<'_>, place: DraftPlace) -> Flow {
    match run.ask(Ask::yes_no("resin", "allergy"))?.and_then(|some| some.as_bool()) {
        Some(true) => {
            let ask = Ask::from(resin::SENSITIZERS).called("resin", "sensitizers").must();
            run.fill_at(place, "sensitizers", ask)?;
        }
        Some(false) => run.put(place, "sensitizers", Some(Value::Array(Array::new()))),
        None => {}
    }
    Ok(())
}

/// Asks for the times at one temperature after the other.
fn cure(run: &mut Run<'_>, place: DraftPlace) -> Flow {
    let mut rows = Array::new();
    for n in 1..=limits::LIST {
        if n > 1 && !run.yes(Ask::yes_no("cure", "another").or("no").nth(n))? {
            break;
        }
        let times = [cure::POT_LIFE, cure::RECOAT_FROM, cure::RECOAT_TO, cure::FOOT, cure::VEHICLE];
        let asks = std::iter::once(cure::AT.into()).chain(times.map(Ask::from));
        rows.push(run.row(asks.map(|ask| (ask.key, ask.nth(n))))?);
        run.put(place, "cure", Some(Value::Array(rows.clone())));
    }
    Ok(())
}

/// A key that no earlier one has, made of a word: `top`, then `top-2`.
pub fn unused(word: &str, known: &[String]) -> String {
    let free = |name: &String| !known.contains(name);
    let numbered = (2..).map(|n| format!("{word}-{n}"));
    std::iter::once(word.to_owned()).chain(numbered).find(free).unwrap_or_default()
}

/// A key as one of the book.
pub fn key_of(value: &Value) -> Option<Key> {
    value.as_str().map(|key| Key(key.to_owned()))
}
