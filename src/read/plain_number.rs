//! Numbers without units as people write them: pH, profiles of concrete, mix ratios.

use toml::de::DeValue;

use crate::base::quantity::Ph;
use crate::model::book::{MixRatio, SurfaceProfile};
use crate::read::form::ValueForm;
use crate::read::scalar::{Scalar, ValueFault, kind_of, text_of};

impl Scalar for Ph {
    const EXPECTED: &str = "a pH from 0 to 14";
    const EXAMPLE: &str = "10.5";

    fn form() -> ValueForm {
        ValueForm::Number { most: MOST_PH }
    }

    fn read(value: &DeValue<'_>) -> Result<Self, ValueFault> {
        let number = match value {
            DeValue::Integer(number) => number.as_str().replace('_', "").parse::<f64>().ok(),
            DeValue::Float(number) => number.as_str().replace('_', "").parse::<f64>().ok(),
            DeValue::String(text) => {
                let text = text.trim();
                let bare = text.strip_prefix("pH").unwrap_or(text).trim_start();
                let plain = bare.starts_with(|c: char| c.is_ascii_digit());
                plain.then(|| bare.parse::<f64>().ok()).flatten()
            }
            _ => None,
        };
        let refused = |message: String| {
            Err(ValueFault::new(message).help("write a pH from 0 to 14, for example `10.5`"))
        };
        match (number, value) {
            (Some(number), _) if (0.0..=MOST_PH).contains(&number) => Ok(Self::units(number)),
            (Some(number), _) => refused(format!("is outside 0 to 14: `{number}`")),
            (None, DeValue::String(text)) => {
                refused(format!("is not a pH: `{}`", text.escape_debug()))
            }
            (None, other) => refused(format!("is {}", kind_of(other))),
        }
    }
}

const MOST_PH: f64 = 14.0;

impl Scalar for SurfaceProfile {
    const EXPECTED: &str = "a concrete surface profile, or two";
    const EXAMPLE: &str = "\"CSP 2 to CSP 3\"";

    fn read(value: &DeValue<'_>) -> Result<Self, ValueFault> {
        let text = text_of::<Self>(value)?;
        let number = |part: &str| {
            let part = part.trim();
            let digits = part.strip_prefix("CSP").unwrap_or(part).trim_start();
            digits.parse::<u8>().ok().filter(|n| Self::NUMBERED.contains(n))
        };
        let (from, to) = match text.split_once("to").or_else(|| text.split_once('-')) {
            Some((from, to)) => (number(from), number(to)),
            None => (number(text), number(text)),
        };
        match (from, to) {
            (Some(from), Some(to)) if from <= to => Ok(Self { from, to }),
            _ => Err(ValueFault::new(format!("is `{}`", text.escape_debug())).help(format!(
                "write profiles from CSP 1 to CSP 10 as ICRI 310.2R numbers them, for example `{}`",
                Self::example()
            ))),
        }
    }
}

impl Scalar for MixRatio {
    const EXPECTED: &str = "parts by volume, resin first";
    const EXAMPLE: &str = "\"2 : 1\"";

    fn read(value: &DeValue<'_>) -> Result<Self, ValueFault> {
        let text = text_of::<Self>(value)?;
        let parts: Result<Vec<f64>, _> =
            text.split(':').map(|part| part.trim().parse::<f64>()).collect();
        match parts {
            Ok(parts)
                if parts.len() <= MOST_PARTS
                    && parts.iter().all(|part| *part > 0.0 && *part <= 1000.0) =>
            {
                Ok(Self { parts })
            }
            _ => Err(ValueFault::new(format!("is `{}`", text.escape_debug())).help(format!(
                "write {}, each above zero, for example `{}`",
                Self::expected(),
                Self::example()
            ))),
        }
    }
}

/// Resin, hardener, and what else may go into a pail.
const MOST_PARTS: usize = 4;
