//! Time zones as people of the US name them.

use jiff::tz::{TimeZone, TimeZoneDatabase};

use crate::interview::typed::{Here, Typed, Untaken, unquoted};
use crate::read::when::{REGIONS, zones_of};

impl Typed for TimeZone {
    fn plainly(typed: &str, _: &Here<'_>) -> Result<String, Untaken> {
        let typed = unquoted(typed);
        let name = typed.to_lowercase().replace(' ', "_");
        if name.contains('/') {
            return Ok(typed.replace(' ', "_"));
        }
        match zones_of(typed) {
            Some([zone]) => return Ok((*zone).to_owned()),
            Some(zones) => {
                let several = format!("That is more than one zone: type {}", zones.join(" or "));
                return Err(Untaken::new(several)
                    .help("America/Phoenix for Arizona, where no clock changes in summer"));
            }
            None => {}
        }
        let zones = TimeZoneDatabase::bundled();
        let city = |zone: &String| {
            zone.rsplit_once('/').is_some_and(|(_, city)| city.to_lowercase() == name)
        };
        let mut of_city = zones.available().map(|zone| zone.to_string()).filter(city);
        match (of_city.next(), of_city.next()) {
            (Some(zone), None) => Ok(zone),
            _ => {
                let mut usual =
                    REGIONS.iter().flat_map(|(_, zones)| *zones).copied().collect::<Vec<_>>();
                usual.dedup();
                let none = format!("`{typed}` is no time zone that is known by a place");
                Err(Untaken::new(none).help(format!("in the US: {}", usual.join(", "))))
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use toml::de::DeValue;

    use super::*;
    use crate::interview::typed::testing::here;
    use crate::read::scalar::Scalar;

    #[test]
    fn a_zone_is_taken_by_its_region_its_city_and_its_name() {
        for (typed, zone) in [
            ("EST", "America/New_York"),
            ("Eastern", "America/New_York"),
            ("eastern time", "America/New_York"),
            ("Central Standard Time", "America/Chicago"),
            ("PT", "America/Los_Angeles"),
            ("Hawaii", "Pacific/Honolulu"),
            ("Denver", "America/Denver"),
            ("new york", "America/New_York"),
            ("America/New York", "America/New_York"),
            ("Europe/Zurich", "Europe/Zurich"),
        ] {
            assert_eq!(TimeZone::plainly(typed, &here()).unwrap(), zone, "{typed}");
            assert!(TimeZone::read(&DeValue::String(zone.into())).is_ok());
        }
    }

    #[test]
    fn mountain_time_and_what_is_no_zone_are_told() {
        for typed in ["MST", "Mountain time"] {
            let untaken = TimeZone::plainly(typed, &here()).unwrap_err();
            assert!(untaken.message.contains("America/Denver or America/Phoenix"), "{typed}");
        }
        let untaken = TimeZone::plainly("here", &here()).unwrap_err();
        assert_eq!(untaken.message, "`here` is no time zone that is known by a place");
        assert!(untaken.help.unwrap().contains("America/Chicago"));
    }

    /// The zones that are offered are in the database.
    #[test]
    fn every_region_has_a_zone() {
        for zone in REGIONS.iter().flat_map(|(_, zones)| *zones) {
            assert!(TimeZone::read(&DeValue::String((*zone).into())).is_ok(), "{zone}");
        }
    }
}
