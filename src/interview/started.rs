//! The questions of a shop file and of a price book: the few things that every shop must change in
//! the neutral ones. The rest stays, with its comments.

use toml::de::DeValue;
use toml_edit::Value;

use crate::base::quantity::Share;
use crate::interview::ask::Ask;
use crate::interview::draft::DraftPlace;
use crate::interview::run::{Flow, Mark, Run};
use crate::interview::typed::Typed;
use crate::read::keys::book::{book, labor, terms};
use crate::read::keys::shop::{calendar, fan, limits, payment, shop, testing};
use crate::read::keys::spec::{KeySpec, TypedKey};
use crate::read::limits::LIST;
use crate::read::scalar::Scalar;

impl Run<'_> {
    /// Asks with what the neutral file says as the default.
    fn keep(&mut self, ask: impl Into<Ask>) -> Flow<Option<Value>> {
        let ask: Ask = ask.into().must();
        let neutral = ask.spec.and_then(|spec| self.draft.neutral(place(&spec), spec.name));
        match neutral {
            Some(neutral) => self.fill(ask.usual(neutral)),
            None => self.fill(ask),
        }
    }

    /// Asks for something of which the neutral file's own is no use: without an answer, or as long
    /// as there is none, it is taken out.
    fn own<T: Typed>(&mut self, key: TypedKey<T>) -> Flow<bool> {
        let known = self.fill(Ask::from(key).may())?.is_some();
        if !known {
            self.put(place(&key.spec), key.spec.name, None);
        }
        Ok(known)
    }

    fn own_lines<T: Typed>(&mut self, key: TypedKey<Vec<T>>) -> Flow {
        self.put(place(&key.spec), key.spec.name, None);
        self.lines(key)
    }
}

fn place(key: &KeySpec) -> DraftPlace {
    DraftPlace::table(key.table)
}

pub fn shop(run: &mut Run<'_>) -> Flow {
    run.topic("shop");
    // The picture is not beside the new file.
    run.put(DraftPlace::TOP, shop::LOGO.spec.name, None);
    run.fill(shop::NAME)?;
    run.own_lines(shop::ADDRESS)?;
    run.own(shop::PHONE)?;
    run.own(shop::EMAIL)?;
    run.own(shop::LICENSE)?;
    run.keep(shop::LANGUAGE)?;
    run.topic("promise");
    // A promise is the shop's own or none: the example's must not reach a customer by accident.
    run.own_lines(shop::WARRANTY)?;
    run.own_lines(shop::LEAVES)?;
    run.topic("payments");
    payments(run)?;
    run.topic("calendar");
    run.own(calendar::TIME_ZONE)?;
    run.keep(calendar::CLOSED)?;
    run.keep(calendar::FEDERAL_HOLIDAYS)?;
    run.topic("limits");
    run.own(limits::VOC)?;
    run.own(limits::DEPOSIT_SHARE)?;
    if !run.own(testing::PRICE)? {
        run.put(DraftPlace::TOP, testing::TABLE.path, None);
    }
    if !run.own(fan::AIRFLOW)? {
        run.put(DraftPlace::TOP, fan::TABLE.path, None);
    }
    Ok(())
}

/// Asks for the payments, until they make the whole price. The neutral file's are the defaults.
fn payments(run: &mut Run<'_>) -> Flow {
    let mut left = Share::percent(100.0);
    for n in 1..=LIST {
        let place = DraftPlace::list("payment", n);
        let neutral = |run: &Run<'_>, key: &str| run.draft.neutral(place, key);
        let when = Ask::from(payment::WHEN).nth(n);
        let when = neutral(run, "when").map_or(when.clone(), |usual| when.usual(usual));
        run.fill_at(place, "when", when)?;
        let usual = neutral(run, "share").filter(|_| left < Share::percent(100.0) || n == 1);
        let usual = usual.filter(|usual| share(usual).is_some_and(|share| share <= left));
        let usual =
            usual.unwrap_or_else(|| format!("{} %", (left.as_percent() * 100.0).round() / 100.0));
        let given = run.fill_at(place, "share", Ask::from(payment::SHARE).usual(usual).nth(n))?;
        let given = given.and_then(|given| given.as_str().and_then(share)).unwrap_or(left);
        // What a share leaves is less than a hundredth of a percent where the whole is reached.
        if left.as_percent() - given.as_percent() < 0.01 {
            break;
        }
        left = Share::percent(left.as_percent() - given.as_percent());
    }
    Ok(())
}

pub(super) fn share(text: &str) -> Option<Share> {
    Share::read(&DeValue::String(text.into())).ok()
}

pub fn book(run: &mut Run<'_>) -> Flow {
    run.topic("book");
    let today = run.setting.today.to_string();
    run.fill(book::NAME)?;
    if let Some(currency) = run.keep(book::CURRENCY)? {
        run.draft.currency = currency.as_str().map(str::to_owned);
    }
    run.fill(Ask::from(book::EFFECTIVE).usual(today))?;
    run.keep(book::GOOD_FOR_DAYS)?;
    run.topic("labor");
    run.keep(labor::WAGE)?;
    run.keep(labor::BURDEN)?;
    run.keep(labor::CREW)?;
    run.keep(labor::DAY_STARTS)?;
    run.keep(labor::DAY_ENDS)?;
    run.mark(Mark::Labor);
    run.topic("terms");
    run.keep(terms::CONSUMABLES)?;
    run.keep(terms::PER_JOB)?;
    run.keep(terms::OVERHEAD)?;
    run.keep(terms::MARGIN)?;
    run.keep(terms::MARGIN_FLOOR)?;
    run.keep(terms::MINIMUM)?;
    run.keep(terms::ROUND_TO)?;
    run.fill(Ask::from(terms::TAX_NAME).may())?;
    run.keep(terms::TAX)?;
    run.keep(terms::TAX_ON)?;
    run.keep(terms::HOLD_DAYS)?;
    run.mark(Mark::Terms);
    Ok(())
}
