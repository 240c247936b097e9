//! VOC content from masses, as a product data sheet or a laboratory states them.
//!
//! 40 CFR 59.406(a)(1), equation 5: `VOC = (Ws - Ww - Wec) / (Vm - Vw - Vec)`, where Ws is the mass
//! of all volatiles, Ww and Wec that of the water and of the exempt compounds among them, Vm the
//! volume of the coating as thinned to the maker's maximum, Vw and Vec the volume of that water
//! and of those compounds. Both are taken out of mass and volume alike, so that adding water to a
//! coating does not make it a better one. Which compounds are exempt differs by state.

use crate::base::quantity::{Content, Mass, Volume};

/// Masses of the components in a volume of coating. Volatiles weigh at least as much as the water
/// and the exempt compounds among them, and the volume is larger than theirs: whoever reads them
/// sees to it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Masses {
    /// All that evaporates: water, exempt compounds and the rest.
    pub volatiles: Mass,
    pub water: Mass,
    pub exempt: Mass,
    /// Of the coating as thinned to the maker's maximum.
    pub volume: Volume,
    pub water_volume: Volume,
    pub exempt_volume: Volume,
}

impl Masses {
    /// The content that rules set limits for: of the coating less water and exempt compounds.
    pub fn regulatory(&self) -> Content {
        self.organic() / (self.volume - self.water_volume - self.exempt_volume)
    }

    /// Returns the VOC content of the coating as it stands in the pail: material VOC.
    pub fn material(&self) -> Content {
        self.organic() / self.volume
    }

    fn organic(&self) -> Mass {
        (self.volatiles - self.water - self.exempt).max(Mass::ZERO)
    }
}

/// Content of a mixture whose parts are measured by volume, such as resin and hardener, or a
/// coating and its thinner. Zero for no parts at all.
pub fn mixed(parts: &[(Volume, Content)]) -> Content {
    let volume: Volume = parts.iter().map(|(volume, _)| *volume).sum();
    if volume <= Volume::ZERO {
        return Content::ZERO;
    }
    let share = |(part, content): &(Volume, Content)| *content * (*part / volume);
    parts.iter().map(share).sum()
}
