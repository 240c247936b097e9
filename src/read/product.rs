//! Every key that a product of a price book may hold.

use crate::base::quantity::*;
use crate::model::book::*;
use crate::model::voc::Masses;
use crate::read::amount::Amount;
use crate::read::book::money;
use crate::read::keys::product::*;
use crate::read::keys::spec::TypedKey;
use crate::read::keys::table::TableSpec;
use crate::read::reader::Table;
use crate::read::scalar::Scalar;

/// A loss is a share of what is bought, so all of it is no loss but a mistake.
pub fn loss(table: &Table<'_>, key: TypedKey<Share>) -> Option<Share> {
    let share = table.read(key)?;
    let is_loss = share.as_percent() < 90.0;
    if !is_loss {
        let help = "the share of what is bought that does not reach the floor";
        table.fault(key.spec.name, "is 90 % or more", help);
    }
    is_loss.then_some(share)
}

pub fn product(table: &Table<'_>, code: &str) -> Option<Product> {
    let key = table.read(resin::KEY);
    let stuff = if table.has("flake") {
        flake(table, code).map(Stuff::Flake)
    } else if table.has("filler") {
        filler(table, code).map(Stuff::Filler)
    } else if table.has("pigment") {
        pigment(table, code).map(Stuff::Pigment)
    } else if table.has("grit") {
        grit(table, code).map(Stuff::Grit)
    } else {
        resin(table, code).map(|resin| Stuff::Resin(Box::new(resin)))
    };
    Some(Product {
        key: key?,
        name: table.read(resin::NAME)?,
        supplier: table.read_or(resin::SUPPLIER, String::new()),
        // What is no liquid coat has no limit that a customer reads.
        data_sheet: match stuff {
            Some(Stuff::Resin(_)) => table.read(resin::DATA_SHEET),
            _ => None,
        },
        stuff: stuff?,
        span: table.span(),
    })
}

/// The sizes a product is sold in.
fn kits<Q: Scalar + PartialEq>(
    table: &Table<'_>,
    (kit, size, price): (&TableSpec, TypedKey<Q>, TypedKey<Amount>),
    code: &str,
) -> Option<Vec<Kit<Q>>> {
    let mut kits = vec![];
    for kit in table.tables(kit) {
        if let (Some(size), Some(price)) = (kit.read(size), money(&kit, price, code)) {
            let other = |known: &Kit<Q>| known.size == size && known.price != price;
            if kits.iter().any(other) {
                let help = "take one of the two kits out: nobody can tell which price is yours";
                kit.fault("size", "stands twice, at two prices", help);
            }
            kits.push(Kit { size, price });
        }
    }
    if kits.is_empty() {
        let help = format!("add `kit = [{{ size = {}, price = \"$285.00\" }}]`", Q::example());
        table.fault("kit", "is missing or has no usable size", help);
        return None;
    }
    Some(kits)
}

fn flake(table: &Table<'_>, code: &str) -> Option<Flake> {
    let kit = (&flakes_kit::TABLE, flakes_kit::SIZE, flakes_kit::PRICE);
    let kits = kits(table, kit, code);
    let inner = table.table(&flake::TABLE)?;
    let reclaimed = loss(&inner, flake::RECLAIMED).unwrap_or_default();
    Some(Flake {
        kits: kits?,
        stock: table.read_or(flakes::STOCK, Mass::ZERO),
        full: inner.read(flake::FULL)?,
        scattered: inner.read(flake::SCATTERED)?,
        reclaimed,
        thickness: inner.read(flake::THICKNESS)?,
    })
}

fn filler(table: &Table<'_>, code: &str) -> Option<Filler> {
    let kit = (&fillers_kit::TABLE, fillers_kit::SIZE, fillers_kit::PRICE);
    let kits = kits(table, kit, code);
    let loss = loss(table, fillers::LOSS).unwrap_or_default();
    let inner = table.table(&filler::TABLE)?;
    let sensitizers = sensitizers(&inner);
    Some(Filler {
        kits: kits?,
        stock: table.read_or(fillers::STOCK, Volume::ZERO),
        loss,
        flexible: inner.read(filler::FLEXIBLE)?,
        isocyanate: inner.read(filler::ISOCYANATE)?,
        sensitizers,
        sets: inner.read(filler::SETS)?,
    })
}

fn pigment(table: &Table<'_>, code: &str) -> Option<Pigment> {
    let kit = (&pigments_kit::TABLE, pigments_kit::SIZE, pigments_kit::PRICE);
    let kits = kits(table, kit, code);
    let inner = table.table(&pigment::TABLE)?;
    let (dose, pack_for) = (inner.read(pigment::DOSE), inner.read(pigment::PACK_FOR));
    let kits = kits?;
    let pack = kits.iter().map(|kit| kit.size).reduce(Mass::min)?;
    let dose = dose.or(pack_for.map(|volume| pack / volume))?;
    Some(Pigment { kits, stock: table.read_or(pigments::STOCK, Mass::ZERO), dose })
}

fn grit(table: &Table<'_>, code: &str) -> Option<Grit> {
    let kit = (&grits_kit::TABLE, grits_kit::SIZE, grits_kit::PRICE);
    let kits = kits(table, kit, code);
    let inner = table.table(&grit::TABLE)?;
    let silica = inner.read(grit::SILICA);
    Some(Grit {
        kits: kits?,
        stock: table.read_or(grits::STOCK, Mass::ZERO),
        rate: inner.read(grit::RATE)?,
        silica,
    })
}

fn resin(table: &Table<'_>, code: &str) -> Option<Resin> {
    let kit = (&resin_kit::TABLE, resin_kit::SIZE, resin_kit::PRICE);
    let kits = kits(table, kit, code);
    let solids = table.read(resin::VOLUME_SOLIDS);
    let coverage = coverage(table);
    let loss = loss(table, resin::LOSS).unwrap_or_default();
    let help = "the warmest slab that the sheet allows";
    let (slab_from, slab_to) =
        table.two(resin::SLAB_FROM, resin::SLAB_TO, (PartialOrd::ge, "is not above"), help);
    let barrier = table.read_or(resin::BARRIER, false);
    let moisture_test = table.read_or(resin::MOISTURE_TEST, MoistureTestAsked::Either);
    if moisture_test == MoistureTestAsked::NoneNeeded && !barrier {
        let help = "only a product with `barrier = true` may go on without a test";
        let message = "is `none-needed` for a coat that is no vapor barrier";
        table.fault("moisture-test", message, help);
    }
    let help = "the highest pH that the data sheet allows";
    let (ph_from, ph_to) =
        table.two(resin::PH_FROM, resin::PH_TO, (PartialOrd::ge, "is not above"), help);
    let voc = voc(table);
    let solvent = stated_solvent(table);
    let sensitizers = sensitizers(table);
    let mut cure: Vec<Cure> = table.each(&cure::TABLE, cure_row);
    cure.sort_by(|a, b| a.at.order(b.at));
    if cure.is_empty() {
        let help = "add a `[[product.cure]]` table from the data sheet";
        table.fault("cure", "is missing or has no usable row", help);
    }
    Some(Resin {
        kits: kits?,
        stock: table.read_or(resin::STOCK, Volume::ZERO),
        solids: solids?,
        mix: table.read_or(resin::MIX, MixRatio { parts: vec![1.0] }),
        whole_kits: table.read_or(resin::WHOLE_KITS, false),
        humidity_speeds: table.read_or(resin::HUMIDITY_SPEEDS, false),
        coverage: coverage?,
        loss,
        barrier,
        mver_limit: table.read(resin::MVER_LIMIT),
        rh_limit: table.read(resin::RH_LIMIT),
        moisture_test,
        ground_contact: table.read(resin::GROUND_CONTACT),
        profile: table.read(resin::SURFACE_PROFILE),
        permeance: table.read(resin::PERMEANCE),
        ph: ph_from.zip(ph_to),
        opaque: table.read(resin::OPAQUE),
        voc,
        solvent: solvent?,
        isocyanate: table.read(resin::ISOCYANATE)?,
        sensitizers,
        uv_stable: table.read(resin::UV_STABLE)?,
        water_based: table.read_or(resin::WATER_BASED, false),
        slab_from: slab_from?,
        slab_to: slab_to?,
        air_humidity_to: table.read(resin::AIR_HUMIDITY_TO),
        dew_spread: table.read(resin::DEW_SPREAD),
        strength_from: table.read(resin::STRENGTH_FROM),
        concrete_days: table.read(resin::CONCRETE_DAYS),
        cure,
    })
}

/// The VOC content that rules set limits for: as the sheet prints it, or from its masses.
fn voc(table: &Table<'_>) -> Option<Content> {
    let printed = table.read(resin::VOC);
    let worked_out = table.table(&voc_masses::TABLE).and_then(|masses| content_of(&masses));
    printed.or(worked_out)
}

/// More than any liquid weighs that evaporates from a coating: a slip in a mass or a volume.
const MOST_CONTENT: Content = Content::grams_per_liter(1500.0);

fn content_of(table: &Table<'_>) -> Option<Content> {
    let (volatiles, volume) = (table.read(voc_masses::VOLATILES)?, table.read(voc_masses::VOLUME)?);
    let (water, water_volume) = left_out(table, voc_masses::WATER, voc_masses::WATER_VOLUME)?;
    let (exempt, exempt_volume) = left_out(table, voc_masses::EXEMPT, voc_masses::EXEMPT_VOLUME)?;
    // Sums of binary fractions: the last bits decide nothing.
    if (water + exempt) * (1.0 - 1e-9) > volatiles {
        let help = "the mass of all that evaporates, water and exempt compounds included";
        table.fault("volatiles", "weigh less than `water` and `exempt` together", help);
        return None;
    }
    if volume * (1.0 - 1e-9) <= water_volume + exempt_volume {
        let message = "is not more than `water-volume` and `exempt-volume` together";
        let help =
            "the volume of the coating as thinned to the maker's maximum, for example `\"1 L\"`";
        table.fault("volume", message, help);
        return None;
    }
    let masses = Masses { volatiles, water, exempt, volume, water_volume, exempt_volume };
    let content = masses.regulatory();
    if content > MOST_CONTENT {
        let (made, most) = (content.as_grams_per_liter(), MOST_CONTENT.as_grams_per_liter());
        let help = format!(
            "the most accepted is {most:.0} g/L; check the masses, the volumes and their units"
        );
        table.fault("volatiles", format!("make a content of {made:.0} g/L"), help);
        return None;
    }
    Some(content)
}

/// The mass and the volume of what is taken out of a content: both, or neither, which is none. A
/// mass without its volume would make a coating look cleaner than it is.
fn left_out(
    table: &Table<'_>,
    mass: TypedKey<Mass>,
    volume: TypedKey<Volume>,
) -> Option<(Mass, Volume)> {
    if !table.has(mass.spec.name) && !table.has(volume.spec.name) {
        return Some((Mass::ZERO, Volume::ZERO));
    }
    Some((table.read(mass)?, table.read(volume)?))
}

fn coverage(table: &Table<'_>) -> Option<Coverage> {
    let spread = table.read(resin::SPREAD).map(Coverage::Spread);
    spread.or(table.read(resin::FILM).map(Coverage::Film))
}

/// Reads the substances that can make skin allergic; `None` where the book is silent, which is not none.
fn sensitizers(table: &Table<'_>) -> Option<Vec<Sensitizer>> {
    let listed = table.list(resin::SENSITIZERS);
    table.has("sensitizers").then_some(listed)
}

/// Reads the solvent that can catch fire: none, one, or nothing said at all.
fn stated_solvent(table: &Table<'_>) -> Option<Stated<Solvent>> {
    let free = table.read(resin::SOLVENT_FREE);
    let given = table.table(&solvent::TABLE).map(|t| solvent(&t));
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
    let content = table.read(solvent::CONTENT)?;
    if content < LEAST_SOLVENT {
        let help = "the solvent by volume of the coating; without any, write `solvent-free = true` instead";
        table.fault("content", "is less than 1 g/L", help);
    }
    Some(Solvent {
        name: table.read(solvent::NAME)?,
        content,
        molar_mass: table.read(solvent::MOLAR_MASS)?,
        lel: table.read(solvent::LEL)?,
        exposure: table.read(solvent::EXPOSURE)?,
        exposure_source: table.read(solvent::EXPOSURE_SOURCE),
    })
}

fn cure_row(table: &Table<'_>) -> Option<Cure> {
    let help = "the latest time for the next coat without sanding";
    let (recoat_from, recoat_to) =
        table.two(cure::RECOAT_FROM, cure::RECOAT_TO, (PartialOrd::gt, "is before"), help);
    Some(Cure {
        at: table.read(cure::AT)?,
        pot_life: table.read(cure::POT_LIFE)?,
        recoat_from: recoat_from?,
        recoat_to: recoat_to?,
        foot: table.read(cure::FOOT)?,
        vehicle: table.read(cure::VEHICLE)?,
    })
}
