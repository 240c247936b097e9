//! Volatile organic compounds of a coating, from the masses and volumes of its data sheet.
//!
//! 40 CFR 59.406(a)(1), equation 5: `VOC = (Ws - Ww - Wec) / (Vm - Vw - Vec)`, the coating as
//! thinned to the maker's maximum. Water and exempt compounds are taken out of the mass and of the
//! volume, so that a water-based coating is not made to look better by its water.

use crate::quantity::{Content, Mass, Volume};

/// What a volume of a coating holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Masses {
    /// All that evaporates, water and exempt compounds included (Ws).
    pub volatiles: Mass,
    pub water: Mass,
    /// Compounds that the rule exempts (Wec).
    pub exempt: Mass,
    /// The coating, as thinned to the maker's maximum (Vm).
    pub volume: Volume,
    pub water_volume: Volume,
    pub exempt_volume: Volume,
}

/// The content as the rule counts it, less water and exempt compounds. `None` when nothing is left
/// of the volume, or less than nothing of the mass.
pub fn regulatory(masses: &Masses) -> Option<Content> {
    let mass = masses.volatiles - masses.water - masses.exempt;
    let volume = masses.volume - masses.water_volume - masses.exempt_volume;
    content(mass, volume)
}

/// The content of the material as it is in the pail, water and all.
pub fn material(masses: &Masses) -> Option<Content> {
    content(masses.volatiles - masses.water - masses.exempt, masses.volume)
}

/// Slack for the last bits of binary arithmetic: a thousandth of a milligram.
const SLACK: Mass = Mass::kilograms(1e-9);

fn content(mass: Mass, volume: Volume) -> Option<Content> {
    if mass + SLACK < Mass::ZERO || volume <= Volume::ZERO {
        return None;
    }
    let mass = mass.max(Mass::ZERO);
    Some(Content::grams_per_litre(mass.as_grams() / volume.as_litres()))
}
