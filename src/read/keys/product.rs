//! The keys of a product of a price book: a liquid coat, a flake or a filler.

use crate::base::names::Key;
use crate::base::quantity::*;
use crate::model::book::{GroundContact, MixRatio, MoistureTestAsked, Sensitizer, SurfaceProfile};
use crate::read::amount::Amount;
use crate::read::keys::Rule::{Apart, Together, Unless};
use crate::read::keys::{Table, listed, may, must, need, needed_list, once};
use crate::read::limits;
use crate::read::scalar::Scalar;

pub fn product() -> Table {
    let mut product = listed("product", "A product with the figures of its data sheet.");
    product.shown = true;
    product.versions = vec![(Some("flake"), flake()), (Some("filler"), filler()), (None, resin())];
    product
}

/// What all products have, in sizes of this kind.
fn any<Q: Scalar>(what: &'static str, [key, called, size, price, stock]: [&str; 5]) -> Table {
    listed("product", what)
        .keys([
            need::<Key>("key", "The short name that other files use.").like(key),
            need::<String>("name", "What it is, as the customer may read it.").like(called),
            may::<String>("supplier", "Who sells it.").like("\"Invented Resins\"").shown(),
            may::<Q>("stock", "What you have in store, which is not bought.").like(stock),
        ])
        .tables([needed_list("kit", limits::KIT_SIZES, "A size that it is sold in.")
            .inline()
            .keys([
                need::<Q>("size", "How much a kit holds.").above_zero().like(size),
                need::<Amount>("price", "What a kit costs you.").like(price),
            ])])
}

fn loss() -> crate::read::keys::Key {
    may::<Share>("loss", "The share of what is bought that does not reach the floor.")
}

fn flake() -> Table {
    let flake = any::<Mass>(
        "Flake that is thrown into a wet coat.",
        [
            "\"flake-quarter-inch\"",
            "\"Vinyl flake, 1/4 inch\"",
            "\"40 lb\"",
            "\"$118.00\"",
            "\"10 lb\"",
        ],
    );
    flake.shown().tables([must("flake", "What makes the product a flake.").keys([
        need::<ArealMass>("full", "How much is thrown until the wet coat takes no more."),
        need::<ArealMass>("scattered", "How much is thrown for a light scatter.")
            .like("\"0.03 lb/ft2\""),
        may::<Share>("reclaimed", "The share that is swept up and used again.").like("\"15 %\""),
        need::<Thickness>("thickness", "What a full throw adds to the floor after scraping.")
            .like("\"20 mil\""),
    ])])
}

fn filler() -> Table {
    let filler = any::<Volume>(
        "What fills cracks, joints, holes or corners; a kit's size is what it fills.",
        ["\"crack-resin\"", "\"Hard crack filler\"", "\"0.16 gal\"", "\"$42.00\"", "\"0.16 gal\""],
    );
    filler.shown().keys([loss().like("\"15 %\"").shown()]).tables([must(
        "filler",
        "What makes the product a filler.",
    )
    .keys([
        need::<bool>("flexible", "It stays soft enough to move with the concrete.").like("false"),
        need::<bool>("isocyanate", "It hardens with isocyanates."),
        sensitizers(),
        need::<Hours>("sets", "How long it takes until it may be ground and coated.")
            .like("\"30 min\""),
    ])])
}

fn resin() -> Table {
    let table = any::<Volume>(
        "A liquid coat.",
        [
            "\"barrier-epoxy\"",
            "\"Moisture-vapor-barrier epoxy\"",
            "\"3 gal\"",
            "\"$276.00\"",
            "\"1 gal\"",
        ],
    );
    table
        .shown()
        .keys([
            need::<Share>(
                "volume-solids",
                "The share of the liquid that stays as dry film, by volume.",
            )
            .above_zero()
            .like("\"100 %\""),
            may::<MixRatio>(
                "mix",
                "Parts by volume, resin first; without it the product is not mixed.",
            )
            .shown(),
            may::<bool>(
                "whole-kits",
                "The parts come measured for each other and are mixed whole.",
            ),
            may::<Spread>("spread", "The wet coverage that the data sheet names.").above_zero(),
            may::<Thickness>("film", "The dry film to reach, in place of the coverage.")
                .above_zero()
                .like("\"16 mil\""),
            loss().shown(),
            may::<bool>("barrier", "It is a moisture-vapor barrier.").shown(),
            may::<Mver>("mver-limit", "The highest emission rate by ASTM F1869 that it may go on.")
                .like("\"20 lb/1000ft2/24h\"")
                .shown(),
            may::<Humidity>("rh-limit", "The highest humidity by ASTM F2170 that it may go on.")
                .like("\"99 %\"")
                .shown(),
            may::<MoistureTestAsked>(
                "moisture-test",
                "The moisture test that the data sheet asks for; without it dishes or probes.",
            ),
            may::<GroundContact>(
                "ground-contact",
                "The data sheet's condition for a slab on the ground; left out when it is silent.",
            )
            .like("\"sheet-or-test\""),
            may::<SurfaceProfile>(
                "surface-profile",
                "The roughness of ground concrete that it needs, as ICRI 310.2R numbers it.",
            ),
            may::<Permeance>("permeance", "How much water vapor the cured coat lets through."),
            may::<Ph>("ph-from", "The lowest pH of concrete that it may go on.").like("6"),
            may::<Ph>("ph-to", "The highest pH of concrete that it may go on.").like("11"),
            may::<bool>("opaque", "Nothing below it shows.").like("false"),
            may::<Content>("voc", "The VOC content, less water and exempt compounds.")
                .like("\"40 g/L\"")
                .shown(),
            need::<bool>("isocyanate", "It hardens with isocyanates.").like("false"),
            sensitizers(),
            may::<bool>(
                "solvent-free",
                "Its safety data sheet names no solvent that can catch fire; without it nobody knows.",
            ),
            need::<bool>("uv-stable", "It does not turn amber in daylight.").like("false"),
            may::<bool>("water-based", "It is thinned with water."),
            may::<bool>("humidity-speeds", "Moisture in the air shortens its times."),
            need::<Temperature>("slab-from", "The coolest slab that it may go on.")
                .like("\"50 F\""),
            need::<Temperature>("slab-to", "The warmest slab that it may go on.").like("\"90 F\""),
            may::<Humidity>("air-humidity-to", "The dampest air that it may go on in.")
                .like("\"85 %\"")
                .shown(),
            may::<Degrees>("dew-spread", "How far the slab has to lie above the dew point."),
            may::<Strength>(
                "strength-from",
                "The lowest surface strength of the concrete that it needs.",
            )
            .like("\"200 psi\"")
            .shown(),
            may::<u32>("concrete-days", "How many days old new concrete has to be.")
                .like("28")
                .shown(),
        ])
        .rules([
            Unless("film", &["spread"]),
            Apart("spread", "film"),
            Apart("voc", "voc-masses"),
            Apart("solvent", "solvent-free"),
            Together("ph-from", "ph-to"),
        ])
        .tables([
            needed_list("cure", limits::LIST, "The times of the data sheet at one temperature.")
                .inline()
                .keys([
                    need::<Temperature>("at", "The temperature of the slab.").like("\"77 F\""),
                    time("pot-life", "How long a mixed batch can be worked.", "\"25 min\""),
                    time("recoat-from", "The earliest time for the next coat.", "\"10 h\""),
                    time(
                        "recoat-to",
                        "The latest time for the next coat without sanding.",
                        "\"36 h\"",
                    ),
                    time("foot", "How long until one may walk on it.", "\"16 h\""),
                    time("vehicle", "How long until a car may stand on it.", "\"72 h\""),
                ]),
            once("voc-masses", "The masses that the VOC content follows from, in place of `voc`.")
                .inline()
                .keys([
                    need::<Mass>(
                        "volatiles",
                        "All that evaporates, water and exempt compounds included.",
                    )
                    .like("\"554.1 g\""),
                    need::<Volume>(
                        "volume",
                        "The volume of the coating as thinned to the maker's maximum.",
                    )
                    .like("\"1 L\""),
                    may::<Mass>("water", "The water in it.").like("\"510 g\""),
                    may::<Volume>("water-volume", "The volume of that water.").like("\"0.51 L\""),
                    may::<Mass>("exempt", "The exempt compounds in it.").like("\"5 g\""),
                    may::<Volume>("exempt-volume", "The volume of those compounds.")
                        .like("\"0.006 L\""),
                ])
                .rules([Together("water", "water-volume"), Together("exempt", "exempt-volume")]),
            once(
                "solvent",
                "A solvent that can catch fire, with the figures of its safety data sheet.",
            )
            .keys([
                need::<String>("name", "What it is.").like("\"a xylene-type solvent\""),
                need::<Content>("content", "How much of it is in the mixed coat.")
                    .like("\"335 g/L\""),
                need::<MolarMass>("molar-mass", "Its molar mass.").above_zero(),
                need::<Share>("lel", "Its lower explosive limit, by volume in air.")
                    .above_zero()
                    .like("\"0.9 %\""),
                need::<Ppm>("exposure", "The exposure limit to go by.").above_zero(),
                may::<String>("exposure-source", "Whose limit that is, and of which year.")
                    .like("\"NIOSH, 2007\""),
            ]),
        ])
}

fn sensitizers() -> crate::read::keys::Key {
    may::<Sensitizer>(
        "sensitizers",
        "What in it can make skin allergic beside isocyanates; `[]` when its safety data sheet names nothing.",
    )
    .set(limits::LIST)
    .shown()
}

fn time(name: &'static str, what: &'static str, example: &str) -> crate::read::keys::Key {
    need::<Hours>(name, what).above_zero().like(example)
}
