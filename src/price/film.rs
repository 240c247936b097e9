//! Film thickness, spread, and the material a coat takes.
//!
//! `wet = dry x (1 + t) / solids` (MIL-HDBK-1110 section 2.1.5; `t` is thinner by volume of
//! coating); one US gallon spreads 231 in3 / 0.001 in / 144 = 1604.17 ft2 at 1 mil, one liter
//! 1000 m2 at 1 micrometer. Loss is a share of what is bought, so a need is `net / (1 - loss)`;
//! `net x (1 + loss)` would be too little.

use crate::base::quantity::*;

/// Wet film for a dry film. `thinner` is the volume of thinner per volume of coating.
pub fn wet_from_dry(dry: Thickness, solids: Share, thinner: Share) -> Thickness {
    dry * ((1.0 + thinner.as_of_one()) / solids.as_of_one())
}

/// Dry film of a wet film.
pub fn dry_from_wet(wet: Thickness, solids: Share, thinner: Share) -> Thickness {
    wet * (solids.as_of_one() / (1.0 + thinner.as_of_one()))
}

/// Spread of a liquid at a wet film, without loss.
pub fn spread_at(wet: Thickness) -> Spread {
    Spread::square_meters_per_liter(1000.0 / wet.as_micrometers())
}

/// Wet film that a spread leaves, without loss.
pub fn wet_at(spread: Spread) -> Thickness {
    Thickness::micrometers(1000.0 / spread.as_square_meters_per_liter())
}

/// Returns the volume to buy so that `net` reaches the floor.
pub fn with_loss(net: Volume, loss: Share) -> Volume {
    net * (1.0 / (1.0 - loss.as_of_one()))
}

/// Liquid that fills the texture of a surface: area times mean depth (not peak to valley).
pub fn texture_fill(area: Area, mean_depth: Thickness) -> Volume {
    area.at(mean_depth)
}
