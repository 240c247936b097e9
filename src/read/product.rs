//! Every key that a product of a price book may hold.

use crate::base::names::Key;
use crate::base::quantity::*;
use crate::model::book::*;
use crate::model::voc::Masses;
use crate::read::book::{above_zero, money};
use crate::read::limits;
use crate::read::reader::Table;
use crate::read::scalar::Scalar;

/// A loss is a share of what is bought, so all of it is no loss but a mistake.
pub fn loss(table: &Table<'_>, key: &'static str) -> Option<Share> {
    let share: Share = table.maybe(key)?;
    if share.as_percent() >= 90.0 {
        table.fault(
            key,
            "is 90 % or more",
            "the share of what is bought that does not reach the floor",
        );
        return None;
    }
    Some(share)
}

pub fn product(table: &Table<'_>, code: &str) -> Option<Product> {
    let key: Option<Key> = table.need("key");
    let name = table.need("name");
    let supplier = table.or("supplier", String::new());
    table.may_also_have(&["flake", "filler"]);
    let stuff = if table.has("flake") {
        flake(table, code).map(Stuff::Flake)
    } else if table.has("filler") {
        filler(table, code).map(Stuff::Filler)
    } else {
        resin(table, code).map(|resin| Stuff::Resin(Box::new(resin)))
    };
    Some(Product { key: key?, name: name?, supplier, stuff: stuff?, span: table.span() })
}

/// The sizes a product is sold in.
fn kits<Q>(table: &Table<'_>, code: &str) -> Option<Vec<Kit<Q>>>
where
    Q: crate::read::scalar::Scalar + Copy + PartialOrd + Default,
{
    let mut kits = vec![];
    for kit in table.tables("kit") {
        let size: Option<Q> = kit.need("size");
        let price = money(&kit, "price", code);
        if let (Some(size), Some(price)) = (size, price) {
            if size <= Q::default() {
                kit.fault("size", "is zero", "write how much a kit holds");
                continue;
            }
            kits.push(Kit { size, price });
        }
    }
    if kits.is_empty() {
        table.fault(
            "kit",
            "is missing or has no usable size",
            format!("add `kit = [{{ size = {}, price = \"$285.00\" }}]`", Q::example()),
        );
        return None;
    }
    if kits.len() > limits::KIT_SIZES {
        let most = format!("the most accepted is {}", limits::KIT_SIZES);
        table.fault("kit", format!("has {} sizes", kits.len()), most);
    }
    Some(kits)
}

fn flake(table: &Table<'_>, code: &str) -> Option<Flake> {
    let kits = kits(table, code);
    let stock = table.or("stock", Mass::ZERO);
    let inner = table.table("flake")?;
    let full = inner.need("full");
    let scattered = inner.need("scattered");
    let reclaimed = loss(&inner, "reclaimed").unwrap_or_default();
    let thickness = inner.need("thickness");
    Some(Flake {
        kits: kits?,
        stock,
        full: full?,
        scattered: scattered?,
        reclaimed,
        thickness: thickness?,
    })
}

fn filler(table: &Table<'_>, code: &str) -> Option<Filler> {
    let kits = kits(table, code);
    let stock = table.or("stock", Volume::ZERO);
    let loss = loss(table, "loss").unwrap_or_default();
    let inner = table.table("filler")?;
    let flexible = inner.need("flexible");
    let isocyanate = inner.need("isocyanate");
    let sensitizers = sensitizers(&inner);
    let sets = inner.need("sets");
    Some(Filler {
        kits: kits?,
        stock,
        loss,
        flexible: flexible?,
        isocyanate: isocyanate?,
        sensitizers,
        sets: sets?,
    })
}

fn resin(table: &Table<'_>, code: &str) -> Option<Resin> {
    let kits = kits(table, code);
    let stock = table.or("stock", Volume::ZERO);
    let solids: Option<Share> = table.need("volume-solids");
    if solids.is_some_and(|s| s <= Share::ZERO) {
        table.fault(
            "volume-solids",
            "is zero",
            "the data sheet's volume solids, for example `\"100 %\"`",
        );
    }
    let mix = table.or("mix", MixRatio { parts: vec![1.0] });
    let whole_kits = table.or("whole-kits", false);
    let humidity_speeds = table.or("humidity-speeds", false);
    let coverage = coverage(table);
    let loss = loss(table, "loss").unwrap_or_default();
    let slab_from: Option<Temperature> = table.need("slab-from");
    let slab_to: Option<Temperature> = table.need("slab-to");
    if let (Some(from), Some(to)) = (slab_from, slab_to)
        && from >= to
    {
        table.fault(
            "slab-to",
            "is not above `slab-from`",
            "the warmest slab that the sheet allows",
        );
    }
    let barrier = table.or("barrier", false);
    let mver_limit = table.maybe("mver-limit");
    let rh_limit = table.maybe("rh-limit");
    let moisture_test = table.or("moisture-test", MoistureTestAsked::Either);
    if moisture_test == MoistureTestAsked::NoneNeeded && !barrier {
        table.fault(
            "moisture-test",
            "is `none-needed` for a coat that is no vapor barrier",
            "only a product with `barrier = true` may go on without a test",
        );
    }
    let ground_contact = table.maybe("ground-contact");
    let profile = table.maybe("surface-profile");
    let permeance = table.maybe("permeance");
    let ph = ph_range(table);
    let opaque = table.maybe("opaque");
    let voc = voc(table);
    let solvent = stated_solvent(table);
    let isocyanate = table.need("isocyanate");
    let sensitizers = sensitizers(table);
    let uv_stable = table.need("uv-stable");
    let water_based = table.or("water-based", false);
    let air_humidity_to = table.maybe("air-humidity-to");
    let dew_spread = table.maybe("dew-spread");
    let strength_from = table.maybe("strength-from");
    let concrete_days = table.maybe("concrete-days");
    let mut cure: Vec<Cure> = table.tables("cure").iter().filter_map(cure_row).collect();
    cure.sort_by(|a, b| a.at.order(b.at));
    if cure.is_empty() {
        table.fault(
            "cure",
            "is missing or has no usable row",
            "add a `[[product.cure]]` table from the data sheet",
        );
    }
    Some(Resin {
        kits: kits?,
        stock,
        solids: solids?,
        mix,
        whole_kits,
        humidity_speeds,
        coverage: coverage?,
        loss,
        barrier,
        mver_limit,
        rh_limit,
        moisture_test,
        ground_contact,
        profile,
        permeance,
        ph,
        opaque,
        voc,
        solvent: solvent?,
        isocyanate: isocyanate?,
        sensitizers,
        uv_stable: uv_stable?,
        water_based,
        slab_from: slab_from?,
        slab_to: slab_to?,
        air_humidity_to,
        dew_spread,
        strength_from,
        concrete_days,
        cure,
    })
}

/// The pH of the concrete that a coat may go on: both ends or neither.
fn ph_range(table: &Table<'_>) -> Option<(Ph, Ph)> {
    let (from, to): (Option<Ph>, Option<Ph>) = (table.maybe("ph-from"), table.maybe("ph-to"));
    for (key, other, example) in [("ph-to", "ph-from", "11"), ("ph-from", "ph-to", "6")] {
        if table.has(other) && !table.has(key) {
            table.fault(
                key,
                format!("is missing beside `{other}`"),
                format!("write both as the data sheet has them, for example `{key} = {example}`"),
            );
        }
    }
    let (from, to) = (from?, to?);
    if from >= to {
        table.fault("ph-to", "is not above `ph-from`", "the highest pH that the data sheet allows");
        return None;
    }
    Some((from, to))
}

/// The VOC content that rules set limits for: as the sheet prints it, or from its masses.
fn voc(table: &Table<'_>) -> Option<Content> {
    let printed = table.maybe("voc");
    let worked_out = table.table("voc-masses").and_then(|masses| content_of(&masses));
    if table.has("voc") && table.has("voc-masses") {
        table.fault(
            "voc-masses",
            "stands beside `voc`",
            "give one: the content that the sheet prints, or the masses it follows from",
        );
        return None;
    }
    printed.or(worked_out)
}

/// More than any liquid weighs that evaporates from a coating: a slip in a mass or a volume.
const MOST_CONTENT: Content = Content::grams_per_liter(1500.0);

fn content_of(table: &Table<'_>) -> Option<Content> {
    let volatiles = table.need("volatiles");
    let volume = table.need("volume");
    let water = left_out(table, "water", "water-volume");
    let exempt = left_out(table, "exempt", "exempt-volume");
    let (volatiles, volume): (Mass, Volume) = (volatiles?, volume?);
    let ((water, water_volume), (exempt, exempt_volume)) = (water?, exempt?);
    // Sums of binary fractions: the last bits decide nothing.
    if (water + exempt) * (1.0 - 1e-9) > volatiles {
        table.fault(
            "volatiles",
            "weigh less than `water` and `exempt` together",
            "the mass of all that evaporates, water and exempt compounds included",
        );
        return None;
    }
    if volume * (1.0 - 1e-9) <= water_volume + exempt_volume {
        table.fault(
            "volume",
            "is not more than `water-volume` and `exempt-volume` together",
            "the volume of the coating as thinned to the maker's maximum, for example `\"1 L\"`",
        );
        return None;
    }
    let masses = Masses { volatiles, water, exempt, volume, water_volume, exempt_volume };
    let content = masses.regulatory();
    if content > MOST_CONTENT {
        table.fault(
            "volatiles",
            format!("make a content of {:.0} g/L", content.as_grams_per_liter()),
            format!(
                "the most accepted is {:.0} g/L; check the masses, the volumes and their units",
                MOST_CONTENT.as_grams_per_liter()
            ),
        );
        return None;
    }
    Some(content)
}

/// The mass and the volume of what is taken out of a content: both, or neither, which is none. A
/// mass without its volume would make a coating look cleaner than it is.
fn left_out(table: &Table<'_>, mass: &'static str, volume: &'static str) -> Option<(Mass, Volume)> {
    let (weighs, fills) = (table.maybe(mass), table.maybe(volume));
    let (missing, other) = match (table.has(mass), table.has(volume)) {
        (true, true) => return Some((weighs?, fills?)),
        (false, false) => return Some((Mass::ZERO, Volume::ZERO)),
        (true, false) => (volume, mass),
        (false, true) => (mass, volume),
    };
    let help = format!("the mass and the volume of `{mass}` are both taken out: write both");
    table.fault(missing, format!("is missing beside `{other}`"), help);
    None
}

fn coverage(table: &Table<'_>) -> Option<Coverage> {
    let spread: Option<Spread> = table.maybe("spread");
    let film: Option<Thickness> = table.maybe("film");
    match (table.has("spread"), table.has("film")) {
        (true, true) => {
            table.fault(
                "film",
                "stands beside `spread`",
                "give one: the sheet's wet coverage or a dry film",
            );
            None
        }
        (false, false) => {
            table.fault(
                "spread",
                "is missing, and so is `film`",
                "add `spread = \"160 ft2/gal\"` (wet coverage) or `film = \"10 mil\"` (dry film)",
            );
            None
        }
        (true, false) if spread == Some(Spread::ZERO) => {
            table.fault(
                "spread",
                "is zero",
                "write a wet coverage above zero, for example `\"160 ft2/gal\"`",
            );
            None
        }
        (false, true) if film == Some(Thickness::ZERO) => {
            table.fault("film", "is zero", "write a dry film above zero, for example `\"10 mil\"`");
            None
        }
        (true, false) => spread.map(Coverage::Spread),
        (false, true) => film.map(Coverage::Film),
    }
}

/// What can make skin allergic; `None` where the book does not say, which is not none.
fn sensitizers(table: &Table<'_>) -> Option<Vec<Sensitizer>> {
    let listed = table.values("sensitizers");
    table.has("sensitizers").then_some(listed)
}

/// What the book says of a solvent that can catch fire: none, which one, or nothing at all.
fn stated_solvent(table: &Table<'_>) -> Option<Stated<Solvent>> {
    let free: Option<bool> = table.maybe("solvent-free");
    // Read in any case, so that one run reports what is wrong in both.
    let given = table.table("solvent").map(|t| solvent(&t));
    if free == Some(true) && given.is_some() {
        table.fault(
            "solvent-free",
            "stands beside `solvent`",
            "give one: that its safety data sheet names no solvent that can catch fire, or which it names",
        );
        return None;
    }
    match given {
        Some(given) => given.map(Stated::Given),
        None if free == Some(true) => Some(Stated::Nothing),
        None if table.has("solvent") => None,
        None => Some(Stated::NotSaid),
    }
}

/// Less is no solvent-borne coating: its vapor would fill no room.
const LEAST_SOLVENT: Content = Content::grams_per_liter(1.0);

fn solvent(table: &Table<'_>) -> Option<Solvent> {
    let name = table.need("name");
    let content: Option<Content> = table.need("content");
    if content.is_some_and(|content| content < LEAST_SOLVENT) {
        table.fault(
            "content",
            "is less than 1 g/L",
            "the solvent by volume of the coating; without any, write `solvent-free = true` instead",
        );
    }
    let molar_mass = table.need("molar-mass");
    let lel: Option<Share> = table.need("lel");
    let exposure: Option<Ppm> = table.need("exposure");
    let exposure_source = table.maybe("exposure-source");
    if lel.is_some_and(|s| s <= Share::ZERO) {
        table.fault(
            "lel",
            "is zero",
            "the lower explosive limit from the safety data sheet, `\"1.4 %\"`",
        );
    }
    if exposure.is_some_and(|e| e <= Ppm::ZERO) {
        table.fault(
            "exposure",
            "is zero",
            "an exposure limit of the safety data sheet, `\"100 ppm\"`",
        );
    }
    if molar_mass.is_some_and(|m| m <= MolarMass::ZERO) {
        table.fault("molar-mass", "is zero", "the solvent's molar mass, `\"106.2 g/mol\"`");
    }
    Some(Solvent {
        name: name?,
        content: content?,
        molar_mass: molar_mass?,
        lel: lel?,
        exposure: exposure?,
        exposure_source,
    })
}

fn cure_row(table: &Table<'_>) -> Option<Cure> {
    let at = table.need("at");
    let pot_life = above_zero!(table, "pot-life", Hours);
    let recoat_from = above_zero!(table, "recoat-from", Hours);
    let recoat_to = above_zero!(table, "recoat-to", Hours);
    let foot = above_zero!(table, "foot", Hours);
    let vehicle = above_zero!(table, "vehicle", Hours);
    if let (Some(from), Some(to)) = (recoat_from, recoat_to)
        && to < from
    {
        table.fault(
            "recoat-to",
            "is before `recoat-from`",
            "the latest time for the next coat without sanding",
        );
    }
    Some(Cure {
        at: at?,
        pot_life: pot_life?,
        recoat_from: recoat_from?,
        recoat_to: recoat_to?,
        foot: foot?,
        vehicle: vehicle?,
    })
}
