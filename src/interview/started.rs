//! The questions of a shop file and of a price book: the few things that every shop must change in
//! the neutral ones. The rest stays, with its comments.

use jiff::civil::{Date, Time, Weekday};
use jiff::tz::TimeZone;
use toml_edit::Value;

use crate::base::address::MailAddress;
use crate::base::layouts::Layouts;
use crate::base::quantity::{Airflow, Content, Share};
use crate::interview::ask::Ask;
use crate::interview::draft::Place;
use crate::interview::run::{Flow, Mark, Run};
use crate::interview::typed::Typed;
use crate::interview::visit::words;
use crate::model::book::TaxOn;
use crate::read::amount::{Amount, CURRENCIES, PerArea, PerHour};
use crate::read::scalar::LongText;

impl Run<'_> {
    /// Asks with what the neutral file says as the default.
    fn keep(&mut self, place: Place, ask: Ask) -> Flow<Option<Value>> {
        match self.draft.neutral(place, ask.key) {
            Some(neutral) => self.fill(place, ask.usual(neutral)),
            None => self.fill(place, ask),
        }
    }

    /// Asks for something of which the neutral file's own is no use: without an answer, or as long
    /// as there is none, it is taken out.
    fn own(&mut self, place: Place, ask: Ask) -> Flow<bool> {
        let key = ask.key;
        let known = self.fill(place, ask.may())?.is_some();
        if !known {
            self.put(place, key, None);
        }
        Ok(known)
    }

    fn own_lines<T: Typed>(
        &mut self,
        place: Place,
        group: &'static str,
        key: &'static str,
    ) -> Flow<usize> {
        self.put(place, key, None);
        self.lines::<T>(place, group, key)
    }
}

pub fn shop(run: &mut Run<'_>) -> Flow {
    run.topic("shop");
    // The picture is not beside the new file.
    run.put(Place::TOP, "logo", None);
    run.fill(Place::TOP, Ask::text::<String>("shop", "name"))?;
    run.own_lines::<String>(Place::TOP, "shop", "address")?;
    run.own(Place::TOP, Ask::text::<String>("shop", "phone"))?;
    run.own(Place::TOP, Ask::text::<MailAddress>("shop", "email"))?;
    run.own(Place::TOP, Ask::text::<String>("shop", "license"))?;
    let languages = Layouts::default().languages();
    run.keep(Place::TOP, Ask::word::<String>("shop", "language", languages))?;
    run.topic("promise");
    // A promise is the shop's own or none: the example's must not reach a customer by accident.
    run.own_lines::<LongText>(Place::TOP, "shop", "warranty")?;
    run.own_lines::<LongText>(Place::TOP, "shop", "leaves")?;
    run.topic("calendar");
    let calendar = Place::table("calendar");
    run.own(calendar, Ask::text::<TimeZone>("calendar", "time-zone"))?;
    let days = (1..=7).filter_map(|day| Weekday::from_monday_one_offset(day).ok());
    let days = days.map(|day| format!("{day:?}").to_lowercase()).collect();
    run.keep(calendar, Ask::words::<Weekday>("calendar", "closed", days))?;
    run.keep(calendar, Ask::yes_no("calendar", "federal-holidays"))?;
    run.topic("limits");
    let limits = Place::table("limits");
    run.own(limits, Ask::text::<Content>("limits", "voc"))?;
    run.own(limits, Ask::text::<Share>("limits", "deposit-share"))?;
    if !run.own(Place::table("testing"), Ask::text::<Amount>("testing", "price"))? {
        run.put(Place::TOP, "testing", None);
    }
    if !run.own(Place::table("fan"), Ask::text::<Airflow>("fan", "airflow"))? {
        run.put(Place::TOP, "fan", None);
    }
    Ok(())
}

pub fn book(run: &mut Run<'_>) -> Flow {
    run.topic("book");
    let today = run.setting.today.to_string();
    run.fill(Place::TOP, Ask::text::<String>("book", "name"))?;
    let codes = words(CURRENCIES);
    let currency = Ask::word::<String>("book", "currency", codes);
    if let Some(currency) = run.keep(Place::TOP, currency)? {
        run.draft.currency = currency.as_str().map(str::to_owned);
    }
    run.fill(Place::TOP, Ask::bare::<Date>("book", "effective").usual(today))?;
    run.keep(Place::TOP, Ask::bare::<u32>("book", "good-for-days"))?;
    run.topic("labor");
    let labor = Place::table("labor");
    run.keep(labor, Ask::text::<PerHour>("labor", "wage"))?;
    run.keep(labor, Ask::text::<Share>("labor", "burden"))?;
    run.keep(labor, Ask::bare::<u32>("labor", "crew"))?;
    run.keep(labor, Ask::bare::<Time>("labor", "day-starts"))?;
    run.keep(labor, Ask::bare::<Time>("labor", "day-ends"))?;
    run.mark(Mark::Labor);
    run.topic("terms");
    let terms = Place::table("terms");
    run.keep(terms, Ask::text::<PerArea>("terms", "consumables"))?;
    run.keep(terms, Ask::text::<Amount>("terms", "per-job"))?;
    run.keep(terms, Ask::text::<Share>("terms", "overhead"))?;
    run.keep(terms, Ask::text::<Share>("terms", "margin"))?;
    run.keep(terms, Ask::text::<Share>("terms", "margin-floor"))?;
    run.keep(terms, Ask::text::<Amount>("terms", "minimum"))?;
    run.keep(terms, Ask::text::<Amount>("terms", "round-to"))?;
    run.keep(terms, Ask::text::<String>("terms", "tax-name"))?;
    run.keep(terms, Ask::text::<Share>("terms", "tax"))?;
    run.keep(terms, Ask::word::<TaxOn>("terms", "tax-on", words(TaxOn::WORDS)))?;
    run.keep(terms, Ask::bare::<u32>("terms", "hold-days"))?;
    run.mark(Mark::Terms);
    Ok(())
}
