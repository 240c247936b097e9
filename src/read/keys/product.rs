//! The keys of a product of a price book: a liquid coat, a flake, a filler, a pigment or a grit.

use crate::base::names::Key;
use crate::base::quantity::*;
use crate::model::book::{GroundContact, MixRatio, MoistureTestAsked, Sensitizer, SurfaceProfile};
use crate::read::amount::Amount;
use crate::read::keys::spec::*;
use crate::read::keys::table::*;
use crate::read::limits;
use crate::read::scalar::Scalar;

const fn short_name(example: &'static str) -> TypedKey<Key> {
    need("key", "The short name that other files use.").like(example)
}

const fn called(example: &'static str) -> TypedKey<String> {
    need("name", "What it is, as the customer may read it.").like(example)
}

const fn supplier() -> TypedKey<String> {
    may("supplier", "Who sells it.").like("Invented Resins").shown()
}

const fn stock<Q: Scalar>(example: &'static str) -> TypedKey<Q> {
    may("stock", "What you have in store, which is not bought.").like(example)
}

const fn kit() -> TableSpec {
    needed_list("product.kit", limits::KIT_SIZES, "A size that it is sold in.").inline()
}

const fn size<Q: Scalar>(example: &'static str) -> TypedKey<Q> {
    need("size", "How much a kit holds.")
        .above_zero()
        .advice("write how much a kit holds")
        .like(example)
}

const fn price(example: &'static str) -> TypedKey<Amount> {
    need("price", "What a kit costs you.").like(example)
}

const fn loss() -> TypedKey<Share> {
    may("loss", "The share of what is bought that does not reach the floor.")
}

const fn sensitizers() -> TypedKey<Vec<Sensitizer>> {
    set(
        "sensitizers",
        limits::LIST,
        "What in it can make skin allergic beside isocyanates; `[]` when its safety data sheet names nothing.",
    )
    .shown()
}

keys! {
    product = listed("product", "A product with the figures of its data sheet.")
        .shown()
        .versions(&[
            (Some("flake"), flakes::TABLE),
            (Some("filler"), fillers::TABLE),
            (Some("pigment"), pigments::TABLE),
            (Some("grit"), grits::TABLE),
            (None, resin::TABLE),
        ]) => {}

    flakes = listed("product", "Flake that is thrown into a wet coat.")
        .shown()
        .tables(&[flakes_kit::TABLE, flake::TABLE]) => {
        KEY: Key = short_name("flake-quarter-inch");
        NAME: String = called("Vinyl flake, 1/4 inch");
        SUPPLIER: String = supplier();
        STOCK: Mass = stock("10 lb");
    }

    flakes_kit = kit() => {
        SIZE: Mass = size("40 lb");
        PRICE: Amount = price("$118.00");
    }

    flake = must("product.flake", "What makes the product a flake.") => {
        FULL: ArealMass = need("full", "How much is thrown until the wet coat takes no more.");
        SCATTERED: ArealMass =
            need("scattered", "How much is thrown for a light scatter.").like("0.03 lb/ft2");
        RECLAIMED: Share = may("reclaimed", "The share that is swept up and used again.").like("15 %");
        THICKNESS: Thickness =
            need("thickness", "What a full throw adds to the floor after scraping.").like("20 mil");
    }

    fillers = listed(
        "product",
        "What fills cracks, joints, holes or corners; a kit's size is what it fills.",
    )
    .shown()
    .tables(&[fillers_kit::TABLE, filler::TABLE]) => {
        KEY: Key = short_name("crack-resin");
        NAME: String = called("Hard crack filler");
        SUPPLIER: String = supplier();
        STOCK: Volume = stock("0.16 gal");
        LOSS: Share = loss().like("15 %").shown();
    }

    fillers_kit = kit() => {
        SIZE: Volume = size("0.16 gal");
        PRICE: Amount = price("$42.00");
    }

    filler = must("product.filler", "What makes the product a filler.") => {
        FLEXIBLE: bool =
            need("flexible", "It stays soft enough to move with the concrete.").like("false");
        ISOCYANATE: bool = need("isocyanate", "It hardens with isocyanates.");
        SENSITIZERS: Vec<Sensitizer> = sensitizers();
        SETS: Hours =
            need("sets", "How long it takes until it may be ground and coated.").like("30 min");
    }

    pigments = listed("product", "Color that is stirred into a liquid coat.")
        .shown()
        .tables(&[pigments_kit::TABLE, pigment::TABLE]) => {
        KEY: Key = short_name("pigment-gray");
        NAME: String = called("Gray pigment paste");
        SUPPLIER: String = supplier();
        STOCK: Mass = stock("1 lb");
    }

    pigments_kit = kit() => {
        SIZE: Mass = size("2 lb");
        PRICE: Amount = price("$31.00");
    }

    pigment = must("product.pigment", "What makes the product a pigment.").rules(&[
        Rule::Unless(
            "pack-for",
            &["dose"],
            Some("add `dose = \"0.6 lb/gal\"` (mass for mixed liquid), or `pack-for = \"3 gal\"` where one pack does for so much"),
        ),
        Rule::Apart("dose", "pack-for", "give one: a mass for mixed liquid, or how much a pack does for"),
    ]) => {
        DOSE: Content =
            may("dose", "The mass that colors so much of the mixed liquid.")
                .above_zero().like("0.6 lb/gal");
        PACK_FOR: Volume =
            may("pack-for", "How much of the mixed liquid one pack colors, a pack being the smallest kit.")
                .above_zero().like("3 gal");
    }

    grits = listed("product", "Grit that roughens a coat.")
        .shown()
        .tables(&[grits_kit::TABLE, grit::TABLE]) => {
        KEY: Key = short_name("grit-fine");
        NAME: String = called("Fine aluminum oxide grit");
        SUPPLIER: String = supplier();
        STOCK: Mass = stock("5 lb");
    }

    grits_kit = kit() => {
        SIZE: Mass = size("50 lb");
        PRICE: Amount = price("$62.00");
    }

    grit = must("product.grit", "What makes the product a grit.") => {
        RATE: ArealMass = need("rate", "How much goes on an area, as its data sheet has it.")
                .above_zero()
                .advice("a mass on an area above zero, for example `\"0.05 lb/ft2\"`")
                .like("0.05 lb/ft2");
        SILICA: bool =
            may("silica", "It holds crystalline silica, as its safety data sheet has it; left out, it may.")
                .like("false").shown();
    }

    resin = listed("product", "A liquid coat.")
        .shown()
        .rules(&[
            Rule::Unless(
                "film",
                &["spread"],
                Some("add `spread = \"160 ft2/gal\"` (wet coverage) or `film = \"10 mil\"` (dry film)"),
            ),
            Rule::Apart("spread", "film", "give one: the sheet's wet coverage or a dry film"),
            Rule::Apart(
                "voc",
                "voc-masses",
                "give one: the content that the sheet prints, or the masses it follows from",
            ),
            Rule::Apart(
                "solvent",
                "solvent-free",
                "give one: that its safety data sheet names no solvent that can catch fire, or which it names",
            ),
            Rule::Together(
                "ph-from",
                "ph-to",
                "write both as the data sheet has them, for example `{}`",
            ),
        ])
        .tables(&[resin_kit::TABLE, cure::TABLE, voc_masses::TABLE, solvent::TABLE]) => {
        KEY: Key = short_name("barrier-epoxy");
        NAME: String = called("Moisture-vapor-barrier epoxy");
        SUPPLIER: String = supplier();
        STOCK: Volume = stock("1 gal");
        VOLUME_SOLIDS: Share =
            need("volume-solids", "The share of the liquid that stays as dry film, by volume.")
                .above_zero()
                .advice("the data sheet's volume solids, for example `\"100 %\"`")
                .like("100 %");
        MIX: MixRatio =
            may("mix", "Parts by volume, resin first; without it the product is not mixed.").shown();
        WHOLE_KITS: bool =
            may("whole-kits", "The parts come measured for each other and are mixed whole.");
        SPREAD: Spread = may("spread", "The wet coverage that the data sheet names.")
                .above_zero()
                .advice("write a wet coverage above zero, for example `\"160 ft2/gal\"`");
        FILM: Thickness =
            may("film", "The dry film to reach, in place of the coverage.").above_zero()
                .advice("write a dry film above zero, for example `\"10 mil\"`")
                .like("16 mil");
        LOSS: Share = loss().shown();
        DATA_SHEET: String =
            may("data-sheet", "The date or edition of its data sheet, which customers read beside a limit.")
                .like("January 2026");
        BARRIER: bool = may("barrier", "It is a moisture-vapor barrier.").shown();
        MVER_LIMIT: Mver =
            may("mver-limit", "The highest emission rate by ASTM F1869 that it may go on.")
                .like("20 lb/1000ft2/24h").shown();
        RH_LIMIT: Humidity =
            may("rh-limit", "The highest humidity by ASTM F2170 that it may go on.")
                .like("99 %").shown();
        MOISTURE_TEST: MoistureTestAsked =
            may("moisture-test", "The moisture test that the data sheet asks for; without it dishes or probes.");
        GROUND_CONTACT: GroundContact =
            may("ground-contact", "The data sheet's condition for a slab on the ground; left out when it is silent.")
                .like("sheet-or-test");
        SURFACE_PROFILE: SurfaceProfile =
            may("surface-profile", "The roughness of ground concrete that it needs, as ICRI 310.2R numbers it.");
        PERMEANCE: Permeance = may("permeance", "How much water vapor the cured coat lets through.");
        PH_FROM: Ph = may("ph-from", "The lowest pH of concrete that it may go on.").like("6");
        PH_TO: Ph = may("ph-to", "The highest pH of concrete that it may go on.").like("11");
        OPAQUE: bool = may("opaque", "Nothing below it shows.").like("false");
        VOC: Content =
            may("voc", "The VOC content, less water and exempt compounds.").like("40 g/L").shown();
        ISOCYANATE: bool = need("isocyanate", "It hardens with isocyanates.").like("false");
        SENSITIZERS: Vec<Sensitizer> = sensitizers();
        SOLVENT_FREE: bool =
            may("solvent-free", "Its safety data sheet names no solvent that can catch fire; without it nobody knows.");
        UV_STABLE: bool = need("uv-stable", "It does not turn amber in daylight.").like("false");
        WATER_BASED: bool = may("water-based", "It is thinned with water.");
        HUMIDITY_SPEEDS: bool = may("humidity-speeds", "Moisture in the air shortens its times.");
        SLAB_FROM: Temperature = need("slab-from", "The coolest slab that it may go on.").like("50 F");
        SLAB_TO: Temperature = need("slab-to", "The warmest slab that it may go on.").like("90 F");
        AIR_HUMIDITY_TO: Humidity =
            may("air-humidity-to", "The dampest air that it may go on in.").like("85 %").shown();
        DEW_SPREAD: Degrees = may("dew-spread", "How far the slab has to lie above the dew point.");
        STRENGTH_FROM: Strength =
            may("strength-from", "The lowest surface strength of the concrete that it needs.")
                .like("200 psi").shown();
        CONCRETE_DAYS: u32 =
            may("concrete-days", "How many days old new concrete has to be.").like("28").shown();
    }

    resin_kit = kit() => {
        SIZE: Volume = size("3 gal");
        PRICE: Amount = price("$276.00");
    }

    cure = needed_list(
        "product.cure",
        limits::LIST,
        "The times of the data sheet at one temperature.",
    )
    .inline() => {
        AT: Temperature = need("at", "The temperature of the slab.").like("77 F");
        POT_LIFE: Hours =
            need("pot-life", "How long a mixed batch can be worked.").above_zero().like("25 min");
        RECOAT_FROM: Hours =
            need("recoat-from", "The earliest time for the next coat.").above_zero().like("10 h");
        RECOAT_TO: Hours =
            need("recoat-to", "The latest time for the next coat without sanding.")
                .above_zero().like("36 h");
        FOOT: Hours = need("foot", "How long until one may walk on it.").above_zero().like("16 h");
        VEHICLE: Hours =
            need("vehicle", "How long until a car may stand on it.").above_zero().like("72 h");
    }

    voc_masses = once(
        "product.voc-masses",
        "The masses that the VOC content follows from, in place of `voc`.",
    )
    .inline()
    .rules(&[
        Rule::Together(
            "water",
            "water-volume",
            "the mass and the volume of `water` are both taken out: write both",
        ),
        Rule::Together(
            "exempt",
            "exempt-volume",
            "the mass and the volume of `exempt` are both taken out: write both",
        ),
    ]) => {
        VOLATILES: Mass =
            need("volatiles", "All that evaporates, water and exempt compounds included.")
                .like("554.1 g");
        VOLUME: Volume =
            need("volume", "The volume of the coating as thinned to the maker's maximum.").like("1 L");
        WATER: Mass = may("water", "The water in it.").like("510 g");
        WATER_VOLUME: Volume = may("water-volume", "The volume of that water.").like("0.51 L");
        EXEMPT: Mass = may("exempt", "The exempt compounds in it.").like("5 g");
        EXEMPT_VOLUME: Volume = may("exempt-volume", "The volume of those compounds.").like("0.006 L");
    }

    solvent = once(
        "product.solvent",
        "A solvent that can catch fire, with the figures of its safety data sheet.",
    ) => {
        NAME: String = need("name", "What it is.").like("a xylene-type solvent");
        CONTENT: Content = need("content", "How much of it is in the mixed coat.").like("335 g/L");
        MOLAR_MASS: MolarMass = need("molar-mass", "Its molar mass.")
                .above_zero()
                .advice("the solvent's molar mass, `\"106.2 g/mol\"`");
        LEL: Share =
            need("lel", "Its lower explosive limit, by volume in air.").above_zero()
                .advice("the lower explosive limit from the safety data sheet, `\"1.4 %\"`")
                .like("0.9 %");
        EXPOSURE: Ppm = need("exposure", "The exposure limit to go by.")
                .above_zero()
                .advice("an exposure limit of the safety data sheet, `\"100 ppm\"`");
        EXPOSURE_SOURCE: String =
            may("exposure-source", "Whose limit that is, and of which year.").like("NIOSH, 2007");
    }
}
