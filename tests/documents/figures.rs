//! The figures on the pages are those of the results.

use super::{
    PAPERS, Paper, cents, has_money, letters, list, number, on_page, paper, sign, texts, word,
};
use crate::fixture::*;
use serde_json::Value;
use slableaf::judge::checks::{self, FindingPlace};
use std::sync::LazyLock;

const EXTRAS: &str = "[extras]\nclear-epoxy = [\"urethane-coat\"]\n";

/// The dry slab, with the extra left for the customer to add.
static COULD_ADD: LazyLock<Paper> =
    LazyLock::new(|| Paper::of(&Folder::of("dry-and-quick").replace("job.toml", EXTRAS, "")));

/// Looks at the examples, of which one has an extra, and at a paper with an extra to add.
pub fn papers_and(see: impl FnMut(&Paper)) {
    PAPERS.iter().chain([&*COULD_ADD]).for_each(see);
}

#[test]
fn prices_on_the_pages_are_those_of_the_estimate() {
    papers_and(|paper| {
        for (floor, name) in paper.floors() {
            let shown = |key: &str| on_page(sign(paper), word(&floor[key]));
            let Some(table) = paper.price_table(name) else {
                assert_eq!(floor["offered"], false, "{name} is offered and has no price");
                assert!(
                    !paper.shows(&shown("total")),
                    "{name} is not offered, but its price is shown"
                );
                continue;
            };
            assert_eq!(floor["offered"], true);
            assert_eq!(table["total"]["amount"], shown("total"));
            let lines = list(&table["lines"]);
            let sum: i64 = lines.iter().map(|line| cents(word(&line["amount"]))).sum();
            assert_eq!(sum, cents(word(&floor["total"])), "lines of {name}");
            let extras = list(&floor["extras"]);
            assert_eq!(lines.len(), 1 + extras.len() + usize::from(cents(word(&floor["tax"])) > 0));
            for (line, extra) in lines[1..].iter().zip(extras) {
                assert_eq!(line["amount"], on_page(sign(paper), word(&extra["price"])));
            }
            if cents(word(&floor["tax"])) > 0 {
                assert_eq!(lines.last().unwrap()["amount"], shown("tax"));
            }
            let could_add = list(&floor["could_add"]);
            assert_eq!(list(&table["extras"]).len(), could_add.len());
            for (line, extra) in list(&table["extras"]).iter().zip(could_add) {
                assert_eq!(line["amount"], on_page(sign(paper), word(&extra["adds"])));
            }
            for amount in texts(table).into_iter().filter(|text| has_money(text)) {
                paper.must_show(amount);
            }
        }
    });
}

#[test]
fn an_extra_that_is_taken_is_a_line_of_its_own() {
    let paper = paper("dry-and-quick");
    let floor = paper.floor("clear-epoxy");
    assert_eq!(list(&floor["extras"]).len(), 1);
    paper.must_show(&on_page("$", word(&floor["extras"][0]["price"])));
    assert_eq!(
        paper.price_table("Clear-epoxy flake floor").unwrap()["lines"][1]["label"],
        "Urethane coat"
    );
}

#[test]
fn an_extra_that_could_be_added_has_its_price() {
    let floor = COULD_ADD.floor("clear-epoxy");
    assert_eq!(list(&floor["could_add"]).len(), 1);
    COULD_ADD.must_show(&on_page("$", word(&floor["could_add"][0]["adds"])));
    COULD_ADD.must_show("Urethane coat, adds to the total");
}

/// A coat that a local limit forbids is no extra to offer.
#[test]
fn an_extra_over_the_local_limit_is_not_offered() {
    let folder = Folder::of("dry-and-quick").replace("job.toml", EXTRAS, "");
    // The coat has 335 g/L.
    let paper = Paper::of(&folder.replace("shop.toml", "voc = \"400 g/L\"", "voc = \"250 g/L\""));
    assert_eq!(paper.floor("clear-epoxy")["offered"], true);
    assert!(
        !paper.shows("Urethane coat, adds to the total"),
        "a coat over the VOC limit is for sale"
    );
}

#[test]
fn payments_sum_to_the_total_of_the_recommended_floor() {
    papers_and(|paper| {
        let payments = list(&paper.page["plan"]["payments"]);
        let Some(recommended) = paper.check["recommended"].as_str() else {
            return assert!(payments.is_empty());
        };
        let sum: i64 = payments.iter().map(|payment| cents(word(&payment["amount"]))).sum();
        assert_eq!(sum, cents(word(&paper.floor(recommended)["total"])));
        for payment in payments {
            paper.must_show(word(&payment["label"]));
            paper.must_show(word(&payment["amount"]));
        }
        paper.must_show(word(&paper.page["plan"]["payments_note"]));
    });
}

/// The hatched part of a limit's bar is named as the room that is left, and only where a reading leaves some.
#[test]
fn room_is_named_where_a_reading_leaves_some() {
    let (mut some, mut none) = (0, 0);
    papers_and(|paper| {
        let at = |mark: &Value| mark["at"].as_f64().expect("a place on the scale");
        let leaves_room = |chart: &Value| {
            let readings = list(&chart["readings"]);
            let highest = readings.iter().find(|reading| reading["highest"] == true).map(at);
            list(&chart["limits"]).iter().any(|limit| highest.is_some_and(|it| it < at(limit)))
        };
        let room = list(&paper.page["slab"]["moisture"]).iter().any(leaves_room);
        let name = letters(word(&paper.page["labels"]["slab"]["legend"]["room"]));
        assert_eq!(letters(&paper.pages.concat()).contains(&name), room);
        *if room { &mut some } else { &mut none } += 1;
    });
    assert!(some > 0 && none > 0, "{some} papers with room, {none} without");
}

#[test]
fn days_on_the_pages_are_those_of_the_estimate() {
    papers_and(|paper| {
        let rows = list(&paper.page["compare"]["rows"]);
        let Some(days) = rows.iter().find(|row| row["label"] == "Days on site") else {
            assert!(paper.page["plan"].is_null(), "a price without its days");
            return;
        };
        for (way, cell) in list(&paper.page["compare"]["ways"]).iter().zip(list(&days["cells"])) {
            let floors = paper.floors();
            let Some((floor, _)) = floors.iter().find(|(_, name)| *name == way["name"]) else {
                continue;
            };
            assert_eq!(number(word(cell)), floor["days"].as_f64().unwrap());
            paper.must_show(word(cell));
        }
    });
}

#[test]
fn the_highest_reading_and_the_dew_point_are_those_of_the_estimate() {
    papers_and(|paper| {
        let shown = word(&paper.page["glance"]["bars"][0]["reading"]);
        let shown = shown.strip_prefix("Your slab: ").unwrap();
        let moisture = &paper.estimate["moisture"];
        let dishes = moisture["dishes"]["highest"]["rate_lb_per_1000ft2_24h"].as_f64();
        let probes = moisture["probes"]["highest"]["humidity_percent"].as_f64();
        let reading = dishes.or(probes).unwrap();
        // Printed to a tenth of a pound, or to a whole percent.
        let step = if dishes.is_some() { 0.05 } else { 0.5 };
        assert!((number(shown) - reading).abs() <= step);
        paper.page_one_must_show(shown);
        let charts = list(&paper.page["slab"]["moisture"]);
        let highest =
            charts.iter().flat_map(|chart| list(&chart["readings"])).find(|r| r["highest"] == true);
        assert_eq!(highest.unwrap()["value"], shown);
        let dew = paper.estimate["air"]["dew_point_c"].as_f64().unwrap();
        let gauge = list(&paper.page["slab"]["dew"]["points"]);
        let printed = number(word(&gauge[0]["value"]));
        let printed = if sign(paper) == "€" { printed } else { (printed - 32.0) / 1.8 };
        assert!((printed - dew).abs() <= 0.5, "dew point {printed} instead of {dew}");
        for point in gauge {
            paper.must_show(word(&point["value"]));
        }
    });
}

#[test]
fn limits_on_the_pages_are_those_of_the_book() {
    for (name, limits) in [
        ("two-car-barrier", ["20 lb", "3 lb", "3 lb", "3 lb"].as_slice()),
        ("dry-and-quick", &["3 lb", "20 lb", "3 lb", "3 lb"]),
        ("too-wet-yet", &["20 lb", "3 lb"]),
        ("metric-probes", &["75% RH", "99% RH"]),
    ] {
        let paper = paper(name);
        let lines = list(&paper.page["slab"]["moisture"][0]["limits"]);
        assert_eq!(lines.len(), limits.len());
        for ((line, limit), (_, floor)) in lines.iter().zip(limits).zip(paper.floors()) {
            assert_eq!(letters(word(&line["value"])), letters(limit));
            assert_eq!(word(&line["label"]), floor);
            paper.must_show(word(&line["words"]));
        }
    }
}

#[test]
fn every_finding_stands_on_the_pages_with_its_weight_but_the_shops_own() {
    papers_and(|paper| {
        let notices = paper.notices();
        for finding in list(&paper.check["findings"]) {
            let same = |notice: &&&Value| {
                ["severity", "title", "says", "we", "you", "basis"]
                    .iter()
                    .all(|key| notice[key] == finding[key])
            };
            let found = notices.iter().find(same);
            let floor = finding["floor"].as_str();
            // What is less than a stop about a floor that is not offered would only bury the rest.
            let beside = floor.is_some_and(|key| paper.floor(key)["offered"] == false)
                && finding["severity"] != "stop";
            // Where no floor has a price, what can happen only with a floor is no matter yet, and a subject is
            // told once.
            let not_yet = paper.page["glance"]["not_yet"] == true;
            let later = ["isocyanate", "skin-allergy", "silica", "wet-slip", "flammable-solvent"];
            let place = checks::check(word(&finding["check"])).unwrap().place;
            let later = later.contains(&word(&finding["check"])) || place == FindingPlace::Floors;
            let light = ["caution", "note"].contains(&word(&finding["severity"]));
            if not_yet && light && place != FindingPlace::Shop && (later || found.is_none()) {
                assert!(!later || found.is_none(), "nothing is laid yet: {finding}");
                let told = notices.iter().any(|notice| {
                    let of = |one: &&Value| one["title"] == notice["title"];
                    list(&paper.check["findings"])
                        .iter()
                        .filter(of)
                        .any(|one| one["check"] == finding["check"])
                });
                assert!(later || told, "never told: {finding}");
                continue;
            }
            if checks::check(word(&finding["check"])).unwrap().place == FindingPlace::Shop || beside
            {
                assert!(found.is_none() || beside, "the shop's own: {finding}");
                continue;
            }
            let Some(notice) = found else { panic!("not on the pages: {finding}") };
            for key in ["word", "title", "says", "we", "you", "priced", "basis"] {
                let text = word(&notice[key]);
                // Who does nothing has no line.
                if !(text.is_empty() && ["we", "you", "priced"].contains(&key)) {
                    paper.must_show(text);
                }
            }
            // Where nothing has a price, nothing is in one.
            let may_be_empty = finding["priced"].is_null()
                || (paper.page["glance"]["not_yet"] == true && finding["priced"] != "on-request");
            assert_eq!(word(&notice["priced"]).is_empty(), may_be_empty, "{finding}");
        }
        // And nothing else stands there.
        for notice in notices {
            assert!(
                list(&paper.check["findings"])
                    .iter()
                    .any(|finding| finding["says"] == notice["says"])
            );
        }
    });
}

#[test]
fn results_are_json_with_a_version_and_money_as_text() {
    papers_and(|paper| {
        for result in [&paper.check, &paper.estimate] {
            assert_eq!(result["version"], slableaf::results::VERSION);
            assert_eq!(result["job"], paper.page["head"]["job"]);
        }
        for (floor, _) in paper.floors() {
            let mut amounts: Vec<&Value> = vec![];
            for key in [
                "consumables",
                "per_job",
                "purchase_tax",
                "direct",
                "overhead",
                "cost",
                "price",
                "tax",
                "total",
                "profit",
                "profit_per_crew_day",
            ] {
                amounts.push(&floor[key]);
            }
            amounts.extend(list(&floor["materials"]).iter().map(|line| &line["cost"]));
            amounts.extend(list(&floor["labor"]).iter().map(|line| &line["cost"]));
            amounts.extend(list(&floor["extras"]).iter().map(|line| &line["price"]));
            amounts.extend(list(&floor["could_add"]).iter().map(|line| &line["adds"]));
            for amount in amounts {
                let (whole, part) = word(amount).split_once('.').unwrap();
                assert!(
                    whole.parse::<i64>().is_ok() && part.len() == 2 && part.parse::<u8>().is_ok(),
                    "{amount}"
                );
            }
        }
    });
}

#[test]
fn check_and_estimate_agree_on_what_is_offered() {
    papers_and(|paper| {
        let offered: Vec<&Value> = paper
            .floors()
            .iter()
            .filter(|(floor, _)| floor["offered"] == true)
            .map(|(floor, _)| &floor["floor"])
            .collect();
        assert_eq!(offered, list(&paper.check["offered"]).iter().collect::<Vec<_>>());
        assert_eq!(paper.check["recommended"], paper.estimate["recommended"]);
    });
}
