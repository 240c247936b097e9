//! The keys of a shop file.

use jiff::civil::{Date, Weekday};
use jiff::tz::TimeZone;

use crate::base::address::MailAddress;
use crate::base::layouts::Layouts;
use crate::base::names::{JobPath, Key};
use crate::base::quantity::{Airflow, Content, Humidity, Length, Mver, Share};
use crate::model::rules::{Country, Subject};
use crate::model::shop::Accent;
use crate::read::amount::Amount;
use crate::read::job::YEARS;
use crate::read::keys::{Table, listed, may, must, need, needed_list, once};
use crate::read::limits;
use crate::read::scalar::LongText;
use crate::read::shop::TEST_DAYS;

pub fn file() -> Table {
    must("", "A shop: who signs, on what terms, and under which local limits.")
        .keys([
            need::<String>("name", "The shop's name as it stands on the papers.")
                .like("\"Name of the shop\""),
            may::<Country>(
                "country",
                "The country where you work, as ISO 3166-1 writes it: its rules hold, and no other's.",
            )
            .shown(),
            may::<String>("address", "Its address, a line each.")
                .list()
                .like("[\"14 Boathouse Lane\", \"Pikemere Lake\"]"),
            may::<String>("phone", "Its telephone number.").like("\"555-0114\""),
            may::<MailAddress>("email", "Its mail address, from which mail drafts are sent.")
                .like("\"office@pikemere.example\""),
            may::<String>(
                "license",
                "License or registration, as it must be printed where you work.",
            )
            .like("\"Contractor registration 00-0000 (invented)\""),
            may::<JobPath>("logo", "A JPEG or PNG file in the folder of this file.")
                .like("\"logo.png\""),
            may::<Accent>("accent", "The color of headings and lines."),
            may::<String>("language", "The language of all papers.")
                .like("\"en\"")
                .words(Layouts::default().languages()),
            may::<LongText>("warranty", "Your own promise, paragraph by paragraph.")
                .list()
                .like("[\"If the floor peels within five years, we repair that spot.\"]"),
            may::<LongText>("leaves", "What you leave with the customer, for the care sheet.")
                .list()
                .like("[\"A bag of your flake, for small repairs\"]"),
        ])
        .tables([payment(), fan(), calendar(), limits_where_you_work(), testing(), record(), cancellation(), rule(), notice()])
}

fn payment() -> Table {
    needed_list("payment", limits::LIST, "One payment, in their order; the shares sum to 100 %.")
        .keys([
            need::<String>("when", "When it falls due.").like("\"When you sign\""),
            need::<Share>("share", "Its share of the whole price."),
        ])
        .more(&[
            &[("when", "\"On the first day of work\""), ("share", "\"40 %\"")],
            &[("when", "\"When the floor is done\""), ("share", "\"50 %\"")],
        ])
}

fn fan() -> Table {
    once("fan", "What you move air with while solvents evaporate.").keys([need::<Airflow>(
        "airflow",
        "What one fan really moves, through a door or a duct.",
    )
    .above_zero()
    .like("\"1,500 cfm\"")])
}

fn calendar() -> Table {
    once("calendar", "When you work.").keys([
        may::<TimeZone>("time-zone", "Where your clocks are set."),
        may::<Weekday>("closed", "Days of the week on which you do not work.").list(),
        may::<bool>(
            "federal-holidays",
            "You do not work on federal holidays of the United States.",
        ),
        may::<Date>("closed-days", "Other days on which you do not work.")
            .list()
            .like("[2026-07-03]"),
    ])
}

fn limits_where_you_work() -> Table {
    once("limits", "Limits where you work; none is set for you.").keys([
        may::<Content>("voc", "The most VOC in a floor coating.").like("\"400 g/L\""),
        may::<Share>(
            "deposit-share",
            "The most that may be taken before work starts, as a share of the price.",
        )
        .like("\"33 %\""),
        may::<Amount>("deposit-most", "The most that may be taken before work starts.")
            .like("\"$1,000.00\""),
    ])
}

fn testing() -> Table {
    once("testing", "How long and how far you trust a moisture test, where no data sheet says it.")
        .keys([
            may::<u32>("reading-days", "The oldest reading that still speaks for a slab, in days.")
                .within(TEST_DAYS)
                .like("90"),
            may::<u32>(
                "look-back-days",
                "How long a reading over a limit is remembered after a lower one, in days.",
            )
            .within(TEST_DAYS)
            .like("365"),
            may::<Mver>(
                "ask-over-mver",
                "A floor without a barrier and without a limit for dishes waits above this.",
            )
            .like("\"3 lb/1000ft2/24h\""),
            may::<Humidity>(
                "ask-over-rh",
                "A floor without a barrier and without a limit for probes waits above this.",
            )
            .like("\"75 %\""),
            may::<Length>("depth-slack", "How far a probe may sit from the depth of its method.")
                .like("\"1/4 in\""),
            may::<Amount>(
                "price",
                "The price of a moisture test that the customer orders, with any tax.",
            )
            .like("\"$180.00\""),
        ])
}

fn record() -> Table {
    listed("record", "Floors of one system that you laid, and how many came loose from moisture.")
        .keys([
            need::<Key>("system", "The floor system.").like("\"barrier\""),
            need::<u32>("jobs", "How many floors of it you laid.").above_zero().like("40"),
            need::<u32>("moisture-failures", "How many of them came loose from moisture.")
                .like("1"),
            need::<u32>("since", "The first year that is counted.").within(YEARS).like("2019"),
        ])
}

fn cancellation() -> Table {
    once("cancellation", "What your state adds to the right to cancel.").keys([may::<LongText>(
        "state",
        "Its own text, paragraph by paragraph.",
    )
    .list()
    .like("[\"The text that your state asks for.\"]")])
}

fn rule() -> Table {
    listed("rule", "A rule of the place where you work, as you looked it up.").keys([
        need::<Subject>("subject", "What it is about."),
        need::<LongText>("text", "What it asks for, in a sentence or two.")
            .like("\"What the rule asks for, in a sentence.\""),
        need::<String>("source", "The law or the authority that says so.")
            .like("\"The authority that you asked\""),
        need::<Date>("checked", "The day on which you read it there.").like("2026-05-04"),
    ])
}

fn notice() -> Table {
    listed(
        "notice",
        "What a customer's paper has to carry where you work, printed where it is signed.",
    )
    .keys([
        need::<String>("title", "Its heading.").like("\"Right to withdraw\""),
        need::<LongText>("text", "Its own text, paragraph by paragraph.")
            .list()
            .like("[\"The text that your law asks for.\"]"),
        need::<String>("source", "The law or the authority that asks for it.")
            .like("\"The authority that you asked\""),
        need::<Date>("checked", "The day on which you read it there.").like("2026-05-04"),
    ])
}
