//! Time zones as people of the US name them.

use jiff::tz::{TimeZone, TimeZoneDatabase};

use crate::interview::typed::{Here, Typed, Untaken, unquoted};

/// Words for the hour of a region, and the zone of the IANA database in which its clocks go.
const REGIONS: &[(&[&str], &str)] = &[
    (&["eastern", "est", "edt", "et"], "America/New_York"),
    (&["central", "cst", "cdt", "ct"], "America/Chicago"),
    (&["arizona"], "America/Phoenix"),
    (&["pacific", "pst", "pdt", "pt"], "America/Los_Angeles"),
    (&["alaska", "akst", "akdt"], "America/Anchorage"),
    (&["hawaii", "hst"], "Pacific/Honolulu"),
];

/// Mountain time is two zones: in most of Arizona no clock changes.
const MOUNTAIN: &[&str] = &["mountain", "mst", "mdt", "mt"];

impl Typed for TimeZone {
    fn plainly(typed: &str, _: &Here<'_>) -> Result<String, Untaken> {
        let typed = unquoted(typed);
        let name = typed.to_lowercase().replace(' ', "_");
        if name.contains('/') {
            return Ok(typed.replace(' ', "_"));
        }
        let region = name.trim_end_matches("_time").trim_end_matches("_standard");
        if MOUNTAIN.contains(&region) {
            let two = "That is two zones: type America/Denver, or America/Phoenix for Arizona";
            return Err(Untaken::new(two).help("in most of Arizona no clock changes in summer"));
        }
        if let Some((_, zone)) = REGIONS.iter().find(|(words, _)| words.contains(&region)) {
            return Ok((*zone).to_owned());
        }
        let zones = TimeZoneDatabase::bundled();
        let city = |zone: &String| {
            zone.rsplit_once('/').is_some_and(|(_, city)| city.to_lowercase() == name)
        };
        let mut of_city = zones.available().map(|zone| zone.to_string()).filter(city);
        match (of_city.next(), of_city.next()) {
            (Some(zone), None) => Ok(zone),
            _ => {
                let usual: Vec<&str> = REGIONS.iter().map(|(_, zone)| *zone).collect();
                let none =
                    Untaken::new(format!("`{typed}` is no time zone that is known by a place"));
                let usual = format!("in the US: America/Denver, {}", usual.join(", "));
                Err(none.help(usual))
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use toml::de::DeValue;

    use super::*;
    use crate::input::scalar::Scalar;
    use crate::interview::typed::testing::here;

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
            assert!(untaken.message.contains("America/Denver, or America/Phoenix"), "{typed}");
        }
        let untaken = TimeZone::plainly("here", &here()).unwrap_err();
        assert_eq!(untaken.message, "`here` is no time zone that is known by a place");
        assert!(untaken.help.unwrap().contains("America/Chicago"));
    }

    /// The zones that are offered are in the database.
    #[test]
    fn every_region_has_a_zone() {
        for (_, zone) in REGIONS {
            assert!(TimeZone::read(&DeValue::String((*zone).into())).is_ok(), "{zone}");
        }
    }
}
