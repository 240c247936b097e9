//! Single values: what is read is within its bounds, and what is printed again reads the same.

use std::fmt::Debug;

use jiff::civil::{Date, DateTime, Time, Weekday};
use jiff::tz::TimeZone;
use rust_decimal::Decimal;
use slableaf::base::address::MailAddress;
use slableaf::base::names::{JobNumber, JobPath, Key};
use slableaf::base::quantity::*;
use slableaf::model::book::{MixRatio, TaxOn};
use slableaf::model::job::{
    JointTreatment, Known, OldCoating, PaperSize, Print, TileGlue, Units, WaterDrop, Wish,
};
use slableaf::model::system::{Broadcast, Look};
use slableaf::read::amount::{Amount, PerArea, PerHour};
use slableaf::read::change::{SignedAmount, SignedPercent};
use slableaf::read::limits;
use slableaf::read::scalar::{LongText, Scalar, ValueFault};
use slableaf::read::text::hides;
use toml::de::DeValue;

/// One value, as a text in quotes and, where it is TOML, as it stands.
pub fn lengths_and_quantities(data: &[u8]) -> bool {
    let Ok(text) = std::str::from_utf8(data) else { return false };
    let quoted = every_kind(&DeValue::String(text.into()));
    let bare = DeValue::parse(text).is_ok_and(|value| every_kind(value.get_ref()));
    quoted || bare
}

/// Reads a value as everything that it could be; true when it is an amount of something.
fn every_kind(value: &DeValue<'_>) -> bool {
    words(value);
    days(value);
    let (measured, paid) = (measures(value), money(value));
    measured || paid
}

/// Reads a value. A refusal says what is wrong.
fn read<T: Scalar>(value: &DeValue<'_>) -> Option<T> {
    match T::read(value) {
        Ok(read) => Some(read),
        Err(fault) => {
            assert!(!fault.message.trim().is_empty());
            advice::<T>(value, &fault);
            None
        }
    }
}

/// Where a refusal says what to write instead, that is not refused for the same reason.
fn advice<T: Scalar>(value: &DeValue<'_>, fault: &ValueFault) {
    let DeValue::String(_) = value else { return };
    let written = fault.help.as_deref().and_then(|help| help.strip_prefix("write `"));
    let written =
        written.and_then(|help| help.strip_suffix('`')).filter(|text| !text.contains('`'));
    if let Some(text) = written.filter(|text| !text.starts_with('"'))
        && let Err(again) = T::read(&DeValue::String(text.into()))
    {
        assert_ne!(again.message.split(':').next(), fault.message.split(':').next(), "{text}");
    }
}

/// What was printed reads as what was read.
fn again<T: Scalar + PartialEq + Debug>(read: &T, printed: &str) {
    match T::read(&DeValue::String(printed.into())) {
        Ok(again) => assert_eq!(again, *read, "{printed}"),
        Err(fault) => panic!("{fault:?}: {printed}"),
    }
}

fn measures(value: &DeValue<'_>) -> bool {
    let mut taken = false;
    /// Reads, looks at the bounds in the unit of `$size`, prints in it, reads again.
    macro_rules! measure {
        ($($kind:ident $get:ident $unit:literal $most:literal;)*) => {$(
            if let Some(found) = read::<$kind>(value) {
                taken = true;
                let size = found.$get();
                assert!(size.is_finite() && size >= 0.0, "{found:?}");
                assert!(size <= $most * (1.0 + 1e-9), "{found:?}");
                // The last bit may be lost where the bound itself was read in another unit.
                if size <= $most {
                    again(&found, &format!("{size} {}", $unit));
                }
            }
        )*};
    }
    // The base unit of each, and the bound of `read::measure` in it.
    measure! {
        Length as_meters "m" 304.8;
        Area as_square_meters "m2" 9290.304;
        Volume as_liters "L" 3785.411784;
        Thickness as_micrometers "um" 25400.0;
        Spread as_square_meters_per_liter "m2/L" 122.715;
        Mass as_kilograms "kg" 4535.9237;
        ArealMass as_kilograms_per_square_meter "kg/m2" 48.8243;
        Strength as_megapascals "MPa" 13.7896;
        Mver as_pounds "lb" 100.0;
        Hours as_hours "h" 8760.0;
        AreaRate as_square_meters_per_hour "m2/h" 929.0304;
        LengthRate as_meters_per_hour "m/h" 3048.0;
        Content as_grams_per_liter "g/L" 1500.0;
        MolarMass as_grams_per_mole "g/mol" 1000.0;
        Ppm as_parts_per_million "ppm" 100000.0;
        Airflow as_cubic_meters_per_hour "m3/h" 339802.0;
        Humidity as_percent "%" 100.0;
        Degrees as_kelvin "C" 55.6;
    }
    if let Some(share) = read::<Share>(value) {
        taken = true;
        assert!((0.0..=1.0 + 1e-9).contains(&share.as_of_one()), "{share:?}");
    }
    if let Some(temperature) = read::<Temperature>(value) {
        taken = true;
        assert!((-40.0..=60.0).contains(&temperature.as_celsius()), "{temperature:?}");
        again(&temperature, &format!("{} C", temperature.as_celsius()));
    }
    if let Some(ratio) = read::<MixRatio>(value) {
        taken = true;
        assert!(ratio.parts.iter().all(|part| part.is_finite() && *part > 0.0), "{ratio:?}");
        let parts: Vec<String> = ratio.parts.iter().map(f64::to_string).collect();
        again(&ratio, &parts.join(":"));
    }
    taken
}

fn printed(amount: &Amount) -> String {
    format!("{}{}", amount.sign.as_deref().unwrap_or_default(), amount.value)
}

fn money(value: &DeValue<'_>) -> bool {
    let mut taken = false;
    if let Some(amount) = read::<Amount>(value) {
        taken = true;
        assert!(
            !amount.value.is_sign_negative() && amount.value.normalize().scale() <= 2,
            "{amount:?}"
        );
        again(&amount, &printed(&amount));
    }
    if let Some(rate) = read::<PerHour>(value) {
        taken = true;
        again(&rate, &format!("{}/h", printed(&rate.0)));
    }
    if let Some(rate) = read::<PerArea>(value) {
        taken = true;
        let unit = if rate.per == Area::square_feet(1.0) { "ft2" } else { "m2" };
        again(&rate, &format!("{}/{unit}", printed(&rate.amount)));
    }
    if let Some(SignedPercent(share)) = read::<SignedPercent>(value) {
        taken = true;
        let percent = share.abs() * Decimal::ONE_HUNDRED;
        let sign = if share.is_sign_negative() { "-" } else { "+" };
        again(&SignedPercent(share), &format!("{sign}{percent} %"));
    }
    if let Some(change) = read::<SignedAmount>(value) {
        taken = true;
        let sign = if change.down { "-" } else { "+" };
        again(&change, &format!("{sign}{}", printed(&change.amount)));
    }
    taken
}

fn words(value: &DeValue<'_>) {
    let plain = |text: &str, most: usize, lines: bool| {
        assert!(!text.trim().is_empty() && text.chars().count() <= most, "{text:?}");
        assert!(!text.chars().any(|c| hides(c) && !(lines && c == '\n')), "{text:?}");
    };
    if let Some(text) = read::<String>(value) {
        plain(&text, limits::SHORT_TEXT, false);
        again(&text, &text);
    }
    if let Some(LongText(text)) = read::<LongText>(value) {
        plain(&text, limits::LONG_TEXT, true);
        again(&LongText(text.clone()), &text);
    }
    if let Some(JobPath(path)) = read::<JobPath>(value) {
        assert!(!path.starts_with(['/', '\\', '~']) && !path.contains('\\'), "{path:?}");
        assert!(
            path.split('/').all(|part| !part.is_empty() && part != ".." && part != "."),
            "{path:?}"
        );
        again(&JobPath(path.clone()), &path);
    }
    if let Some(key) = read::<Key>(value) {
        again(&key, &key.0);
    }
    if let Some(number) = read::<JobNumber>(value) {
        assert!(
            number.0.bytes().all(|byte| byte.is_ascii_alphanumeric() || byte == b'-'),
            "{number:?}"
        );
        again(&number, &number.0);
    }
    if let Some(address) = read::<MailAddress>(value) {
        assert!(address.0.is_ascii() && address.0.matches('@').count() == 1, "{address:?}");
        again(&address, &address.0);
    }
    macro_rules! option {
        ($($kind:ident)*) => {$(
            if let Some(found) = read::<$kind>(value) {
                again(&found, found.word());
            }
        )*};
    }
    option!(Units PaperSize Print Wish Known WaterDrop OldCoating TileGlue JointTreatment TaxOn Look Broadcast);
    read::<Weekday>(value);
    // Looking for a name like a wrong one goes through all zones of the world.
    if value.as_str().is_none_or(|text| text.len() < 40)
        && let Some(zone) = read::<TimeZone>(value)
    {
        again(&zone, zone.iana_name().unwrap_or_default());
    }
}

fn days(value: &DeValue<'_>) {
    fn as_toml<T: Scalar + PartialEq + Debug>(found: &T, printed: &str) {
        let parsed = DeValue::parse(printed).unwrap_or_else(|error| panic!("{error}: {printed}"));
        match T::read(parsed.get_ref()) {
            Ok(again) => assert_eq!(again, *found, "{printed}"),
            Err(fault) => panic!("{fault:?}: {printed}"),
        }
    }
    if let Some(date) = read::<Date>(value) {
        assert!((1900..=2199).contains(&date.year()), "{date}");
        as_toml(&date, &date.to_string());
    }
    if let Some(moment) = read::<DateTime>(value) {
        as_toml(&moment, &moment.to_string());
    }
    if let Some(time) = read::<Time>(value) {
        as_toml(&time, &time.to_string());
    }
    if let Some(number) = read::<u32>(value) {
        assert!(number <= 9_999);
        as_toml(&number, &number.to_string());
    }
    if let Some(flag) = read::<bool>(value) {
        as_toml(&flag, &flag.to_string());
    }
}
