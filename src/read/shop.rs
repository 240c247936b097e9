//! Every key that a shop file may hold.

use std::ops::RangeInclusive;

use jiff::civil::Weekday;
use toml::de::DeValue;

use crate::base::calendar::Calendar;
use crate::base::layouts::Layouts;
use crate::base::money::Cents;
use crate::base::names::Key;
use crate::base::quantity::{Airflow, Share};
use crate::base::source::Located;
use crate::model::shop::*;
use crate::read::amount::Amount;
use crate::read::book::ratio;
use crate::read::form::{self, Form};
use crate::read::job::year;
use crate::read::reader::Table;
use crate::read::rules;
use crate::read::scalar::{Fault, LongText, Scalar};

pub fn shop(top: &Table<'_>) -> Option<Shop> {
    let name = top.need("name");
    let country = top.maybe("country");
    let address = top.values("address");
    let phone = top.maybe("phone");
    let email = top.maybe("email");
    let license = top.maybe("license");
    let logo = top.maybe_located("logo");
    let accent = top.or("accent", ACCENT);
    let language = language(top).unwrap_or_else(|| "en".to_owned());
    let warranty = top.values::<LongText>("warranty").into_iter().map(|text| text.0).collect();
    let leaves = top.values::<LongText>("leaves").into_iter().map(|text| text.0).collect();
    let payments = payments(top);
    let limits = top.table("limits").map(|t| limits(&t)).unwrap_or_default();
    let capped = limits.deposit_share.is_some() || limits.deposit_most.is_some();
    if capped && payments.as_ref().is_some_and(|steps| steps.len() == 1) {
        top.fault(
            "payment",
            "has one step, which a cap on the deposit would cut",
            "add a second `[[payment]]`: the first counts as the deposit, and the last takes the rest",
        );
    }
    let testing = top.table("testing").map(|t| testing(&t)).unwrap_or_default();
    let fan = top.table("fan").and_then(|t| {
        let airflow: Option<Airflow> = t.need("airflow");
        if airflow.is_some_and(|flow| flow <= Airflow::ZERO) {
            t.fault("airflow", "is zero", "what one fan really moves, for example `\"1200 cfm\"`");
            return None;
        }
        airflow
    });
    let records = records(top);
    let calendar = top.table("calendar").map_or_else(Calendar::default, |t| calendar(&t));
    let cancellation =
        top.table("cancellation").map_or_else(CancellationTerms::default, |t| CancellationTerms {
            state: t.values::<LongText>("state").into_iter().map(|text| text.0).collect(),
        });
    let (rules, notices) = (rules::rules(top), rules::notices(top));
    Some(Shop {
        name: name?,
        country,
        address,
        phone,
        email,
        license,
        logo,
        accent,
        language,
        warranty,
        leaves,
        payments: payments?,
        limits,
        testing,
        fan,
        records,
        calendar,
        cancellation,
        rules,
        notices,
    })
}

/// Used where a shop names no color.
const ACCENT: Accent = Accent(0x27, 0x56, 0x6B);

impl Scalar for Accent {
    fn expected() -> String {
        "a color as red, green and blue".into()
    }

    fn example() -> String {
        "\"#27566B\"".into()
    }

    fn form() -> Form {
        form::alone("#[0-9A-Fa-f]{6}")
    }

    fn read(value: &DeValue<'_>) -> Result<Self, Fault> {
        let text = String::read(value)?;
        let channel = |from: usize| u8::from_str_radix(text.get(from..from + 2)?, 16).ok();
        let plain = text.len() == 7 && text.starts_with('#') && !text.contains('+');
        match (plain, channel(1), channel(3), channel(5)) {
            (true, Some(r), Some(g), Some(b)) => Ok(Self(r, g, b)),
            _ => Err(Fault::new(format!("is `{text}`"))
                .help(format!("write a color as `{}`", Self::example()))),
        }
    }
}

fn payments(top: &Table<'_>) -> Option<Vec<PaymentStep>> {
    let tables = top.tables("payment");
    let steps: Vec<PaymentStep> = tables
        .iter()
        .filter_map(|t| {
            let when = t.need("when");
            let share: Option<Share> = t.need("share");
            Some(PaymentStep { when: when?, share: ratio(share?) })
        })
        .collect();
    if steps.len() != tables.len() {
        return None;
    }
    let sum: rust_decimal::Decimal = steps.iter().map(|step| step.share).sum();
    if steps.is_empty() {
        top.fault("payment", "is missing", "add a `[[payment]]` table with `when` and `share`");
    } else if sum != rust_decimal::Decimal::ONE {
        let percent = (sum * rust_decimal::Decimal::ONE_HUNDRED).normalize();
        top.fault(
            "payment",
            format!("shares sum to {percent} %"),
            "the shares of all payments must sum to 100 %",
        );
    }
    Some(steps)
}

fn records(top: &Table<'_>) -> Vec<FailureRecord> {
    let mut records: Vec<FailureRecord> = vec![];
    for table in top.tables("record") {
        let system: Option<Located<Key>> = table.need_located("system");
        let jobs: Option<u32> = table.need("jobs");
        let failures: Option<u32> = table.need("moisture-failures");
        let since = year(&table, "since");
        if jobs == Some(0) {
            table.fault("jobs", "is zero", "write how many floors of this system you have laid");
        } else if failures > jobs {
            let help = "write how many of those floors came loose from moisture";
            table.fault("moisture-failures", "is more than `jobs`", help);
        }
        let known = |record: &FailureRecord| {
            Some(&record.system.value) == system.as_ref().map(|s| &s.value)
        };
        if let (true, Some(system)) = (records.iter().any(known), &system) {
            let twice = format!("`{}` stands twice", system.value);
            table.fault("system", twice, "give each system one record");
        }
        if let (Some(system), Some(jobs), Some(failures), Some(since)) =
            (system, jobs, failures, since)
        {
            records.push(FailureRecord { system, jobs, failures, since });
        }
    }
    records
}

fn calendar(table: &Table<'_>) -> Calendar {
    let calendar = Calendar {
        zone: table.maybe("time-zone"),
        closed_weekdays: table.values("closed"),
        federal_holidays: table.or("federal-holidays", false),
        closed_days: table.values("closed-days"),
    };
    if (1..=7).all(|day| {
        let weekday = Weekday::from_monday_one_offset(day);
        weekday.is_ok_and(|weekday| calendar.closed_weekdays.contains(&weekday))
    }) {
        table.fault(
            "closed",
            "names every day of the week",
            "leave out the days on which you work",
        );
    }
    calendar
}

/// Days that a moisture test may be trusted, or remembered.
pub const TEST_DAYS: RangeInclusive<u32> = 1..=3650;

fn testing(table: &Table<'_>) -> Testing {
    let usual = Testing::default();
    let days = |key: &'static str, usual: u32| {
        let days = table.or(key, usual);
        if !TEST_DAYS.contains(&days) {
            let most =
                format!("write a number of days from {} to {}", TEST_DAYS.start(), TEST_DAYS.end());
            table.fault(key, format!("is {days}"), most);
        }
        days
    };
    let price = table.maybe_located::<Amount>("price");
    Testing {
        reading_days: days("reading-days", usual.reading_days),
        look_back_days: days("look-back-days", usual.look_back_days),
        ask_over_mver: table.or("ask-over-mver", usual.ask_over_mver),
        ask_over_rh: table.or("ask-over-rh", usual.ask_over_rh),
        depth_slack: table.or("depth-slack", usual.depth_slack),
        price: price.as_ref().map(|amount| Cents::round(amount.value.value)),
        price_sign: price
            .and_then(|amount| Some(Located { value: amount.value.sign?, span: amount.span })),
    }
}

fn limits(table: &Table<'_>) -> Limits {
    let most = table.maybe_located::<Amount>("deposit-most");
    Limits {
        voc: table.maybe("voc"),
        deposit_share: table.maybe::<Share>("deposit-share").map(ratio),
        deposit_most: most.as_ref().map(|amount| Cents::round_down(amount.value.value)),
        deposit_sign: most
            .and_then(|amount| Some(Located { value: amount.value.sign?, span: amount.span })),
    }
}

/// The language of papers, where a file names one: one that there are words for.
pub fn language(top: &Table<'_>) -> Option<String> {
    let language: String = top.maybe("language")?;
    let known = Layouts::default().languages();
    if !known.contains(&language) {
        let names: Vec<String> = known.iter().map(|name| format!("\"{name}\"")).collect();
        top.fault(
            "language",
            format!("is `{language}`"),
            format!("expected one of {}", names.join(", ")),
        );
    }
    Some(language)
}
