//! The keys of a shop file.

use jiff::civil::{Date, Weekday};
use jiff::tz::TimeZone;

use crate::base::address::MailAddress;
use crate::base::names::{JobPath, Key};
use crate::base::quantity::{Airflow, Content, Humidity, Length, Mver, Share};
use crate::model::rules::{Country, NoticePaper, Subject};
use crate::model::shop::Accent;
use crate::read::amount::Amount;
use crate::read::keys::spec::*;
use crate::read::keys::table::*;
use crate::read::keys::{A_YEAR, NO_YEARS_AHEAD, TEST_DAYS, YEARS, YEARS_AHEAD, languages};
use crate::read::limits::LIST;
use crate::read::scalar::LongText;

const NO_TEST_DAYS: &str = "write a number of days from 1 to 3650";

keys! {
    shop = must("", "A shop: who signs, on what terms, and under which local limits.").tables(&[
        payment::TABLE,
        fan::TABLE,
        calendar::TABLE,
        limits::TABLE,
        testing::TABLE,
        years::TABLE,
        record::TABLE,
        cancellation::TABLE,
        rule::TABLE,
        notice::TABLE,
    ]) => {
        NAME: String =
            need("name", "The shop's name as it stands on the papers.").like("Name of the shop");
        COUNTRY: Country =
            may("country", "The country where you work, as ISO 3166-1 writes it: its rules hold, and no other's.")
                .shown();
        ADDRESS: Vec<String> =
            list("address", "Its address, a line each.")
                .like(r#"["14 Boathouse Lane", "Pikemere Lake"]"#);
        PHONE: String = may("phone", "Its telephone number.").like("555-0114");
        EMAIL: MailAddress =
            may("email", "Its mail address, from which mail drafts are sent.")
                .like("office@pikemere.example");
        LICENSE: String =
            may("license", "License or registration, as it must be printed where you work.")
                .like("Contractor registration 00-0000 (invented)");
        LOGO: JobPath = may("logo", "A JPEG or PNG file in the folder of this file.").like("logo.png");
        ACCENT: Accent = may("accent", "The color of headings and lines.");
        LANGUAGE: String =
            may("language", "The language of all papers.")
                .like("en").words(languages);
        WARRANTY: Vec<LongText> =
            list("warranty", "Your own promise, paragraph by paragraph.")
                .like(r#"["If the floor peels within five years, we repair that spot."]"#);
        WARRANTY_SHORT: String =
            may("warranty-short", "Your promise in a word or two, for page one; printed where `warranty` makes the promise.")
                .like("5 years");
        LEAVES: Vec<LongText> =
            list("leaves", "What you leave with the customer of any floor, for the care sheet.")
                .like(r#"["A soft mop head"]"#);
        LEAVES_FLAKE: Vec<LongText> =
            list("leaves-flake", "What you leave besides where the floor has flake.")
                .like(r#"["A bag of your flake, for small repairs"]"#);
    }

    payment = needed_list(
        "payment",
        LIST,
        "One payment, in their order; the shares sum to 100 %.",
    )
    .advice("add a `[[payment]]` table with `when` and `share`")
    .more(&[
        &[("when", "\"On the first day of work\""), ("share", "\"40 %\"")],
        &[("when", "\"When the floor is done\""), ("share", "\"50 %\"")],
    ]) => {
        WHEN: String = need("when", "When it falls due.").like("When you sign");
        SHARE: Share = need("share", "Its share of the whole price.");
    }

    fan = once("fan", "What you move air with while solvents evaporate.") => {
        AIRFLOW: Airflow =
            need("airflow", "What one fan really moves, through a door or a duct.")
                .above_zero()
                .advice("what one fan really moves, for example `\"1200 cfm\"`")
                .like("1,500 cfm");
    }

    calendar = once("calendar", "When you work.") => {
        TIME_ZONE: TimeZone = may("time-zone", "Where your clocks are set.");
        CLOSED: Vec<Weekday> = list("closed", "Days of the week on which you do not work.");
        FEDERAL_HOLIDAYS: bool =
            may("federal-holidays", "You do not work on federal holidays of the United States.");
        CLOSED_DAYS: Vec<Date> =
            list("closed-days", "Other days on which you do not work.").like("[2026-07-03]");
    }

    limits = once("limits", "Limits where you work; none is set for you.") => {
        VOC: Content = may("voc", "The most VOC in a floor coating.").like("400 g/L");
        DEPOSIT_SHARE: Share =
            may("deposit-share", "The most that may be taken before work starts, as a share of the price.")
                .like("33 %");
        DEPOSIT_MOST: Amount =
            may("deposit-most", "The most that may be taken before work starts.").like("$1,000.00");
        VOC_SOURCE: String =
            may("voc-source", "The rule or the authority that the limit of VOC comes from.")
                .like("The authority that you asked");
        VOC_CHECKED: Date =
            may("voc-checked", "The day on which you read it there.").like("2026-05-04");
        DEPOSIT_SOURCE: String =
            may("deposit-source", "The law that the cap on the deposit comes from.")
                .like("The authority that you asked");
        DEPOSIT_CHECKED: Date =
            may("deposit-checked", "The day on which you read it there.").like("2026-05-04");
        RULES_CHECKED_WITHIN: u32 =
            may("rules-checked-within", "For how many days a rule, notice or limit that you looked up stays good; without it for ever.")
                .within(TEST_DAYS).advice(NO_TEST_DAYS).like("365");
    }

    testing = once(
        "testing",
        "How long and how far you trust a moisture test, where no data sheet says it.",
    ) => {
        READING_DAYS: u32 =
            may("reading-days", "The oldest reading that still speaks for a slab, in days.")
                .within(TEST_DAYS).advice(NO_TEST_DAYS).like("90");
        LOOK_BACK_DAYS: u32 =
            may("look-back-days", "How long a reading over a limit is remembered after a lower one, in days.")
                .within(TEST_DAYS).advice(NO_TEST_DAYS).like("365");
        ASK_OVER_MVER: Mver =
            may("ask-over-mver", "Above this a floor without a barrier and without a limit for dishes needs its maker’s yes.")
                .like("3 lb/1000ft2/24h");
        ASK_OVER_RH: Humidity =
            may("ask-over-rh", "Above this a floor without a barrier and without a limit for probes needs its maker’s yes.")
                .like("75 %");
        DEPTH_SLACK: Length =
            may("depth-slack", "How far a probe may sit from the depth of its method.").like("1/4 in");
        PRICE: Amount =
            may("price", "The price of a moisture test that the customer orders, with any tax.")
                .like("$180.00");
    }

    years = once(
        "years",
        "How the sheet of years compares what floors cost over time: `write --paper years`.",
    )
    .rules(&[Rule::Together("rate", "rate-source", "add `{}`; a rate of zero needs neither")]) => {
        COUNT: u32 =
            may("count", "For how many years it counts, where the job does not say how long the owners stay.")
                .within(YEARS_AHEAD).advice(NO_YEARS_AHEAD).like("20");
        DAMP_IN: u32 =
            may("damp-in", "The year in which the slab turns damp in one of its stories.")
                .within(YEARS_AHEAD).advice(NO_YEARS_AHEAD).like("5");
        RATE: Share =
            may("rate", "How much less money counts for each year that it is paid later, inflation aside; without it nothing.")
                .like("3 %");
        RATE_SOURCE: String =
            may("rate-source", "Where that rate comes from, as the sheet says it.")
                .like("our own choice");
    }

    record = listed(
        "record",
        "Floors of one system that you laid, and how many came loose from moisture.",
    ) => {
        SYSTEM: Key = need("system", "The floor system.").like("barrier");
        JOBS: u32 = need("jobs", "How many floors of it you laid.").above_zero()
                .advice("write how many floors of this system you have laid")
                .like("40");
        MOISTURE_FAILURES: u32 =
            need("moisture-failures", "How many of them came loose from moisture.").like("1");
        SINCE: u32 = need("since", "The first year that is counted.").within(YEARS).advice(A_YEAR).like("2019");
    }

    cancellation = once("cancellation", "What your state adds to the right to cancel.") => {
        STATE: Vec<LongText> =
            list("state", "Its own text, paragraph by paragraph.")
                .like(r#"["The text that your state asks for."]"#);
    }

    rule = listed("rule", "A rule of the place where you work, as you looked it up.") => {
        SUBJECT: Subject = need("subject", "What it is about.");
        TEXT: LongText =
            need("text", "What it asks for, in a sentence or two.")
                .like("What the rule asks for, in a sentence.");
        SOURCE: String =
            need("source", "The law or the authority that says so.")
                .like("The authority that you asked");
        CHECKED: Date = need("checked", "The day on which you read it there.").like("2026-05-04");
    }

    notice = listed(
        "notice",
        "What a customer's paper has to carry where you work; without `printed-on` where it is signed.",
    ) => {
        TITLE: String = need("title", "Its heading.").like("Right to withdraw");
        TEXT: Vec<LongText> =
            list("text", "Its own text, paragraph by paragraph.")
                .needed()
                .advice("write the text of the notice, a paragraph each")
                .like(r#"["The text that your law asks for."]"#);
        PLACE: String =
            may("place", "The place whose law asks for it.").like("The state of Invented");
        PRINTED_ON: Vec<NoticePaper> =
            set("printed-on", 2, "The papers that carry it; without it the leaf that is signed.")
                .like(r#"["signing", "change-order"]"#);
        SOURCE: String =
            need("source", "The law or the authority that asks for it.")
                .like("The authority that you asked");
        CHECKED: Date = need("checked", "The day on which you read it there.").like("2026-05-04");
    }
}
