//! The shop: who signs, on what terms, under which local limits, in whose words.

use jiff::civil::Date;
use rust_decimal::Decimal;

use crate::base::calendar::Calendar;
use crate::base::money::Cents;
use crate::base::names::{JobPath, Key};
use crate::base::quantity::{Airflow, Content, Humidity, Length, Mver};
use crate::base::source::Located;
use crate::model::rules::{Country, Jurisdiction, LocalNotice, LocalRule, Subject};

#[derive(Debug, Clone)]
pub struct Shop {
    pub name: String,
    /// Country that it works in; `None` when it has not said.
    pub country: Option<Country>,
    pub address: Vec<String>,
    pub phone: Option<String>,
    pub email: Option<String>,
    /// Licence or registration, as it must be printed where the shop works.
    pub license: Option<String>,
    pub logo: Option<Located<JobPath>>,
    pub accent: Accent,
    pub language: String,
    /// The shop's own promise, paragraph by paragraph.
    pub warranty: Vec<String>,
    /// The promise in a word or two.
    pub warranty_short: Option<String>,
    /// Things left with the customer after the job.
    pub leaves: Vec<String>,
    /// The same where the floor has flake, such as a bag of it.
    pub leaves_flake: Vec<String>,
    pub payments: Vec<PaymentStep>,
    pub limits: Limits,
    /// Terms on which it trusts a moisture test.
    pub testing: Testing,
    /// Terms on which it compares floors over years.
    pub years: YearsTerms,
    /// Airflow of one of its fans.
    pub fan: Option<Airflow>,
    /// Its own count of floors that came loose from moisture.
    pub records: Vec<FailureRecord>,
    /// Its working days.
    pub calendar: Calendar,
    pub cancellation: CancellationTerms,
    /// Rules of the place where it works, as it has looked them up.
    pub rules: Vec<LocalRule>,
    /// Notices that its customers' papers have to carry there.
    pub notices: Vec<LocalNotice>,
}

impl Shop {
    /// Whose rules hold.
    pub fn jurisdiction(&self) -> Jurisdiction {
        Jurisdiction::of(self.country)
    }

    /// Returns the rules that the shop has looked up on a subject.
    pub fn rules_on(&self, subject: Subject) -> impl Iterator<Item = &LocalRule> {
        self.rules.iter().filter(move |rule| rule.subject == subject)
    }

    /// The promise in a word or two; `None` also where no paragraph makes it.
    pub fn promise_in_short(&self) -> Option<&String> {
        self.warranty_short.as_ref().filter(|_| !self.warranty.is_empty())
    }
}

/// A color as red, green, blue.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Accent(pub u8, pub u8, pub u8);

/// One payment: when it falls due and its share of the total. The last takes what is left.
#[derive(Debug, Clone)]
pub struct PaymentStep {
    pub when: String,
    pub share: Decimal,
}

/// Limits where the shop works. All start as "not set": the program knows no state's law.
#[derive(Debug, Clone, Default)]
pub struct Limits {
    /// The most volatile organic compounds in a floor coating.
    pub voc: Option<Content>,
    /// The most that may be taken before work starts, as a share of the whole contract.
    pub deposit_share: Option<Decimal>,
    /// The most that may be taken before work starts, as an amount.
    pub deposit_most: Option<Cents>,
    /// The currency sign written with that amount.
    pub deposit_sign: Option<Located<String>>,
    pub voc_read: ReadAt,
    pub deposit_read: ReadAt,
    /// Days for which a rule, a notice or a limit that was looked up stays good; `None` for ever.
    pub checked_within: Option<u32>,
}

/// The source of a limit of the place, and the day on which the shop read it there.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct ReadAt {
    pub source: Option<String>,
    pub checked: Option<Date>,
}

/// Terms on which a shop reads moisture tests, where no data sheet gives any. Common practice, no
/// published source; so none of these is a stop, and each is printed where it makes a floor wait. Only
/// the two `ask_over` figures take a floor on the ground off the offer, until its maker answers.
#[derive(Debug, Clone, PartialEq)]
pub struct Testing {
    /// The oldest reading that still speaks for a slab, in days.
    pub reading_days: u32,
    /// Days for which a reading over a limit counts after a lower one.
    pub look_back_days: u32,
    /// A floor without a barrier and without a limit for dishes needs its maker's word above this.
    pub ask_over_mver: Mver,
    /// The same for probes.
    pub ask_over_rh: Humidity,
    /// Distance that a probe may sit from the depth of its method (from memory: a hole is drilled
    /// to about that).
    pub depth_slack: Length,
    /// The price of a moisture test that the customer orders; `None`: on request.
    pub price: Option<Cents>,
    /// The currency sign written with that price.
    pub price_sign: Option<Located<String>>,
}

impl Default for Testing {
    fn default() -> Self {
        Self {
            reading_days: 90,
            look_back_days: 365,
            ask_over_mver: Mver::pounds(3.0),
            ask_over_rh: Humidity::percent(75.0),
            depth_slack: Length::inches(0.25),
            price: None,
            price_sign: None,
        }
    }
}

/// Terms on which a shop compares what floors cost over years. Its own choice: none of them is a forecast.
#[derive(Debug, Clone, PartialEq)]
pub struct YearsTerms {
    /// Years that are counted, where the owners have not said how long they stay.
    pub count: u32,
    /// Year in which the slab turns damp in the story of a damp slab.
    pub damp_in: u32,
    /// Real discount rate, as a share a year; zero counts every year the same.
    pub rate: Decimal,
    /// The source of that rate.
    pub rate_source: Option<String>,
}

impl Default for YearsTerms {
    fn default() -> Self {
        Self { count: 20, damp_in: 5, rate: Decimal::ZERO, rate_source: None }
    }
}

/// Floors of one system that the shop has laid, and how many came loose from moisture.
#[derive(Debug, Clone)]
pub struct FailureRecord {
    pub system: Located<Key>,
    pub jobs: u32,
    pub failures: u32,
    /// The first year that is counted.
    pub since: u32,
}

/// The shop's additions to the right-to-cancel notice.
#[derive(Debug, Clone, Default)]
pub struct CancellationTerms {
    /// The state's own text, paragraph by paragraph.
    pub state: Vec<String>,
}
