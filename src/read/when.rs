//! Days of the week and time zones as people write them.

use jiff::civil::Weekday;
use jiff::tz::{TimeZone, TimeZoneDatabase};
use toml::de::DeValue;

use crate::read::form::ValueForm;
use crate::read::scalar::{Scalar, ValueFault, choice, text_of};
use crate::read::suggest::nearest;

const WEEKDAYS: &[(&str, Weekday)] = &[
    ("monday", Weekday::Monday),
    ("tuesday", Weekday::Tuesday),
    ("wednesday", Weekday::Wednesday),
    ("thursday", Weekday::Thursday),
    ("friday", Weekday::Friday),
    ("saturday", Weekday::Saturday),
    ("sunday", Weekday::Sunday),
];

impl Scalar for Weekday {
    const EXAMPLE: &str = "\"sunday\"";

    fn form() -> ValueForm {
        ValueForm::words(WEEKDAYS)
    }

    fn read(value: &DeValue<'_>) -> Result<Self, ValueFault> {
        choice(value, WEEKDAYS, &Self::expected())
    }
}

/// Names of the hour of a region in the United States, and the zones of the database in which
/// its clocks go. Mountain time is two: in most of Arizona no clock changes.
pub const REGIONS: &[(&[&str], &[&str])] = &[
    (&["eastern", "est", "edt", "et"], &["America/New_York"]),
    (&["central", "cst", "cdt", "ct"], &["America/Chicago"]),
    (&["mountain", "mst", "mdt", "mt"], &["America/Denver", "America/Phoenix"]),
    (&["arizona"], &["America/Phoenix"]),
    (&["pacific", "pst", "pdt", "pt"], &["America/Los_Angeles"]),
    (&["alaska", "akst", "akdt"], &["America/Anchorage"]),
    (&["hawaii", "hst"], &["Pacific/Honolulu"]),
];

/// The zones of a region, as people name it: `EST`, `Central Standard Time`.
pub fn zones_of(region: &str) -> Option<&'static [&'static str]> {
    let name = region.trim().to_lowercase().replace('_', " ");
    let name = name.trim_end_matches(" time").trim_end_matches(" standard");
    REGIONS.iter().find(|(words, _)| words.contains(&name)).map(|(_, zones)| *zones)
}

/// A zone of the IANA time zone database, as it comes with the program: the same on every machine.
impl Scalar for TimeZone {
    const EXPECTED: &str = "a time zone of the IANA database";
    const EXAMPLE: &str = "\"America/Chicago\"";

    fn form() -> ValueForm {
        ValueForm::like("/")
    }

    fn read(value: &DeValue<'_>) -> Result<Self, ValueFault> {
        let text = text_of::<Self>(value)?;
        let zones = TimeZoneDatabase::bundled();
        // Zones are places: `EST` and the like keep one hour the whole year.
        if let (true, Ok(zone)) = (text.contains('/'), zones.get(text)) {
            return Ok(zone);
        }
        if let Some(zones) = zones_of(text) {
            let zones: Vec<String> = zones.iter().map(|zone| format!("`\"{zone}\"`")).collect();
            return Err(ValueFault::new(format!("is `{}`", text.escape_debug()))
                .help(format!("name a place of that zone: {}", zones.join(" or "))));
        }
        let names: Vec<String> = zones.available().map(|name| name.to_string()).collect();
        // `nearest` compares as keys are written: small letters and hyphens.
        let as_keys: Vec<String> =
            names.iter().map(|name| name.to_lowercase().replace('_', "-")).collect();
        let near = nearest(text, as_keys.iter().map(String::as_str))
            .and_then(|near| as_keys.iter().position(|key| key == near))
            .map(|at| &names[at]);
        let fault = ValueFault::new(format!("is `{}`", text.escape_debug()));
        Err(match near {
            Some(near) => fault.help(format!("did you mean `\"{near}\"`?")),
            None => fault.help(Self::advice()),
        })
    }
}
