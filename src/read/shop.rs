//! Every key that a shop file may hold.

use jiff::civil::Weekday;
use toml::de::DeValue;

use crate::base::calendar::Calendar;
use crate::base::money::Cents;
use crate::model::shop::*;
use crate::read::amount::sign_of;
use crate::read::book::ratio;
use crate::read::form::ValueForm;
use crate::read::keys::shop::*;
use crate::read::reader::Table;
use crate::read::rules;
use crate::read::scalar::{Scalar, ValueFault};

pub fn shop(top: &Table<'_>) -> Option<Shop> {
    let payments = payments(top);
    let limits = top.table(&limits::TABLE).map(|t| limits(&t)).unwrap_or_default();
    let capped = limits.deposit_share.is_some() || limits.deposit_most.is_some();
    if capped && payments.as_ref().is_some_and(|steps| steps.len() == 1) {
        let help = "add a second `[[payment]]`: the first counts as the deposit, and the last takes the rest";
        top.fault("payment", "has one step, which a cap on the deposit would cut", help);
    }
    let warranty = top.paragraphs(shop::WARRANTY);
    let warranty_short = top.read(shop::WARRANTY_SHORT);
    if let Some(short) = &warranty_short {
        promise_in_short(top, short, &warranty);
    }
    let testing = top.table(&testing::TABLE).map(|t| testing(&t)).unwrap_or_default();
    let years = top.table(&years::TABLE).map(|t| years(&t)).unwrap_or_default();
    let fan = top.table(&fan::TABLE).and_then(|t| t.read(fan::AIRFLOW));
    let records = records(top);
    let calendar = top.table(&calendar::TABLE).map(|t| calendar(&t)).unwrap_or_default();
    let state = top.table(&cancellation::TABLE).map(|t| t.paragraphs(cancellation::STATE));
    let cancellation = CancellationTerms { state: state.unwrap_or_default() };
    let (rules, notices) = (rules::rules(top), rules::notices(top));
    Some(Shop {
        name: top.read(shop::NAME)?,
        country: top.read(shop::COUNTRY),
        address: top.list(shop::ADDRESS),
        phone: top.read(shop::PHONE),
        email: top.read(shop::EMAIL).map(|address| address.0),
        license: top.read(shop::LICENSE),
        logo: top.located(shop::LOGO),
        accent: top.read_or(shop::ACCENT, ACCENT),
        language: top.read_or(shop::LANGUAGE, "en".to_owned()),
        warranty,
        warranty_short,
        leaves: top.paragraphs(shop::LEAVES),
        leaves_flake: top.paragraphs(shop::LEAVES_FLAKE),
        payments: payments?,
        limits,
        testing,
        years,
        fan,
        records,
        calendar,
        cancellation,
        rules,
        notices,
    })
}

/// Number words of the languages of the papers, from one on.
const NUMBER_WORDS: [&[&str]; 12] = [
    &["one", "un", "uno", "una"],
    &["two", "dos"],
    &["three", "tres"],
    &["four", "cuatro"],
    &["five", "cinco"],
    &["six", "seis"],
    &["seven", "siete"],
    &["eight", "ocho"],
    &["nine", "nueve"],
    &["ten", "diez"],
    &["eleven", "once"],
    &["twelve", "doce"],
];

/// Reports a promise in short that the promise itself does not make: page one would promise what no paragraph
/// holds.
fn promise_in_short(top: &Table<'_>, short: &str, paragraphs: &[String]) {
    if paragraphs.is_empty() {
        // Without terms it is not printed.
        return;
    }
    let text = paragraphs.join(" ").to_lowercase();
    let words: Vec<&str> = text.split(|c: char| !c.is_alphanumeric()).collect();
    let numbers = short.split(|c: char| !c.is_ascii_digit()).filter(|number| !number.is_empty());
    for number in numbers {
        let spelled =
            number.parse::<usize>().ok().and_then(|n| NUMBER_WORDS.get(n.checked_sub(1)?));
        let said = |word: &&str| *word == number || spelled.is_some_and(|all| all.contains(word));
        if !words.iter().any(said) {
            let message = format!("says {number}, and no paragraph of `warranty` does");
            top.fault("warranty-short", message, "write the same number in both");
        }
    }
}

/// Used where a shop names no color.
const ACCENT: Accent = Accent(0x27, 0x56, 0x6B);

impl Scalar for Accent {
    const EXPECTED: &str = "a color as red, green and blue";
    const EXAMPLE: &str = "\"#27566B\"";

    fn form() -> ValueForm {
        ValueForm::like("#[0-9A-Fa-f]{6}")
    }

    fn read(value: &DeValue<'_>) -> Result<Self, ValueFault> {
        let text = String::read(value)?;
        let channel = |from: usize| u8::from_str_radix(text.get(from..from + 2)?, 16).ok();
        let plain = text.len() == 7 && text.starts_with('#') && !text.contains('+');
        match (plain, channel(1), channel(3), channel(5)) {
            (true, Some(r), Some(g), Some(b)) => Ok(Self(r, g, b)),
            _ => Err(ValueFault::new(format!("is `{text}`"))
                .help(format!("write a color as `{}`", Self::example()))),
        }
    }
}

fn payments(top: &Table<'_>) -> Option<Vec<PaymentStep>> {
    let tables = top.tables(&payment::TABLE);
    let steps: Vec<PaymentStep> = tables
        .iter()
        .filter_map(|t| {
            let share = t.read(payment::SHARE);
            Some(PaymentStep { when: t.read(payment::WHEN)?, share: ratio(share?) })
        })
        .collect();
    if steps.len() != tables.len() {
        return None;
    }
    let sum: rust_decimal::Decimal = steps.iter().map(|step| step.share).sum();
    if !steps.is_empty() && sum != rust_decimal::Decimal::ONE {
        let percent = (sum * rust_decimal::Decimal::ONE_HUNDRED).normalize();
        let help = "the shares of all payments must sum to 100 %";
        top.fault("payment", format!("shares sum to {percent} %"), help);
    }
    Some(steps)
}

fn records(top: &Table<'_>) -> Vec<FailureRecord> {
    let mut records: Vec<FailureRecord> = vec![];
    for table in top.tables(&record::TABLE) {
        let system = table.located(record::SYSTEM);
        let jobs = table.read(record::JOBS);
        let failures = table.read(record::MOISTURE_FAILURES);
        let since = table.read(record::SINCE);
        if jobs.is_some() && failures > jobs {
            let help = "write how many of those floors came loose from moisture";
            table.fault("moisture-failures", "is more than `jobs`", help);
        }
        let Some(system) = system else { continue };
        if records.iter().any(|record| record.system.value == system.value) {
            let twice = format!("`{}` stands twice", system.value);
            table.fault("system", twice, "give each system one record");
        }
        if let (Some(jobs), Some(failures), Some(since)) = (jobs, failures, since) {
            records.push(FailureRecord { system, jobs, failures, since });
        }
    }
    records
}

fn calendar(table: &Table<'_>) -> Calendar {
    let calendar = Calendar {
        zone: table.read(calendar::TIME_ZONE),
        closed_weekdays: table.list(calendar::CLOSED),
        federal_holidays: table.read_or(calendar::FEDERAL_HOLIDAYS, false),
        closed_days: table.list(calendar::CLOSED_DAYS),
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

fn testing(table: &Table<'_>) -> Testing {
    let usual = Testing::default();
    let price = table.located(testing::PRICE);
    Testing {
        reading_days: table.read_or(testing::READING_DAYS, usual.reading_days),
        look_back_days: table.read_or(testing::LOOK_BACK_DAYS, usual.look_back_days),
        ask_over_mver: table.read_or(testing::ASK_OVER_MVER, usual.ask_over_mver),
        ask_over_rh: table.read_or(testing::ASK_OVER_RH, usual.ask_over_rh),
        depth_slack: table.read_or(testing::DEPTH_SLACK, usual.depth_slack),
        price: price.as_ref().map(|amount| Cents::round(amount.value.value)),
        price_sign: price.and_then(sign_of),
    }
}

/// More than any real rate at which a household's money counts: a slip in the number.
const MOST_RATE: rust_decimal::Decimal = rust_decimal::Decimal::from_parts(20, 0, 0, false, 2);

fn years(table: &Table<'_>) -> YearsTerms {
    let usual = YearsTerms::default();
    let read = YearsTerms {
        count: table.read_or(years::COUNT, usual.count),
        damp_in: table.read_or(years::DAMP_IN, usual.damp_in),
        rate: table.read(years::RATE).map_or(usual.rate, ratio),
        rate_source: table.read(years::RATE_SOURCE),
    };
    if read.rate > MOST_RATE {
        let help = "write the rate of one year, with inflation left out, for example `\"3 %\"`";
        table.fault("rate", "is above 20 % a year", help);
    }
    if read.damp_in > read.count {
        let message = format!("is later than the {} years that are counted", read.count);
        let help = "write a year in which the sheet still counts, or count more years in `count`";
        table.fault("damp-in", message, help);
    }
    read
}

fn limits(table: &Table<'_>) -> Limits {
    let most = table.located(limits::DEPOSIT_MOST);
    let read_at =
        |source, checked| ReadAt { source: table.read(source), checked: table.read(checked) };
    Limits {
        voc: table.read(limits::VOC),
        deposit_share: table.read(limits::DEPOSIT_SHARE).map(ratio),
        deposit_most: most.as_ref().map(|amount| Cents::round_down(amount.value.value)),
        deposit_sign: most.and_then(sign_of),
        voc_read: read_at(limits::VOC_SOURCE, limits::VOC_CHECKED),
        deposit_read: read_at(limits::DEPOSIT_SOURCE, limits::DEPOSIT_CHECKED),
        checked_within: table.read(limits::RULES_CHECKED_WITHIN),
    }
}
