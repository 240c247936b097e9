//! The sheet of years: its costs are those of its prices, it says what it leaves out, and it is one page for two floors.

use super::{Small, shows, written};
use crate::documents::{list, texts, word};
use crate::fixture::{EXAMPLES, Folder};
use serde_json::Value;

fn years(folder: &Folder) -> Small {
    written(folder, &["years"])
}

/// Dollars of a text such as `$4,810 to $8,520`.
fn dollars(text: &str) -> Vec<f64> {
    let plain = |word: &str| word.trim_start_matches('$').replace(',', "").parse().ok();
    text.split([' ', '\u{a0}']).filter_map(plain).collect()
}

fn line<'a>(page: &'a Value, floor: &str) -> &'a Value {
    let found = list(&page["lines"]).iter().find(|line| word(&line["floor"]).starts_with(floor));
    found.unwrap_or_else(|| panic!("{floor}: {page:#}"))
}

fn cost(page: &Value, floor: &str, story: usize) -> Vec<f64> {
    dollars(word(&list(&line(page, floor)["stories"])[story]["amount"]))
}

#[test]
fn every_offer_has_a_sheet_and_every_story_its_answer() {
    for example in EXAMPLES.iter().filter(|example| **example != "too-wet-yet") {
        let folder = Folder::of(example);
        if folder.read("job.toml").contains("[[space]]") {
            continue;
        }
        let sheet = years(&folder);
        let lines = list(&sheet.page["lines"]).len();
        let most = if lines > 2 { 2 } else { 1 };
        assert!(sheet.pages.len() <= most, "{example}: {} pages", sheet.pages.len());
        for story in list(&sheet.page["stories"]) {
            assert_eq!(word(&story["cheapest"]).is_empty(), lines == 1, "{example}: {story:#}");
        }
        assert!(
            !texts(&sheet.page)
                .into_iter()
                .any(|text| text.contains("probab") && text.contains('%'))
        );
    }
}

/// Without a rate and with lives of one length, the costs are sums that a reader can do: the price today, and of
/// the floor laid again the years that are counted.
#[test]
fn costs_are_those_of_the_prices() {
    let own = "key = \"thin\"\nlife-from = 5\nlife-to = 5\n\n[[coat]]\nkey = \"base\"\nproduct = \"epoxy-primer\"\n\
               look = \"primer\"\n\n[words]\nname = \"thin floor\"\nthe_name = \"the thin floor\"\nsummary = \"Thin.\"\n\
               better_at = []\nharder_at = []\nchoose_if = \"Choose it.\"\nyellowing = \"Some\"\ntires = \"Some\"\n\
               smell = \"Some\"\ndamp = \"Low\"\n\n[words.coats.base]\nname = \"Primer\"\ndoes = \"Binds.\"\n";
    let folder = Folder::of("dry-and-quick");
    let job = folder.read("job.toml");
    let job: String = job
        .lines()
        .map(|line| match line {
            _ if line.starts_with("offer") => "offer = [\"barrier\", \"thin\"]\n".to_owned(),
            _ if line.starts_with("extras") => String::new(),
            _ => format!("{line}\n"),
        })
        .collect();
    let shop = folder.read("shop.toml");
    let shop =
        shop.replace("rate = \"3 %\"\n", "").replace("rate-source = \"our own choice\"\n", "");
    let sheet = |count: u32| {
        let shop = shop.replace("count = 20\n", &format!("count = {count}\n"));
        let folder = Folder::of("dry-and-quick").write("systems/thin.toml", own);
        years(&folder.write("job.toml", &job).write("shop.toml", shop)).page
    };
    // In ten years the thin floor is laid once more, in fifteen twice.
    let (five, ten, fifteen) = (sheet(5), sheet(10), sheet(15));
    let at = |page: &Value| cost(page, "Thin floor", 0)[0];
    let again = at(&ten) - at(&five);
    assert!(again > 0.0);
    assert!((at(&fifteen) - at(&ten) - again).abs() <= 10.0, "{again} {}", at(&fifteen) - at(&ten));
    let today = dollars(word(&line(&five, "Thin floor")["today"]))[0];
    assert!((at(&five) - today).abs() <= 5.0, "{today}");
    assert!(texts(&five).iter().any(|text| text.contains("counts as much as money paid today")));
    // A floor with a barrier costs the same, damp or dry.
    assert_eq!(cost(&ten, "Vapor-barrier floor", 0), cost(&ten, "Vapor-barrier floor", 1));
}

/// The line under a cost is drawn from its least to its most, and the highest cost of all ends at the end.
#[test]
fn lines_are_drawn_to_one_scale() {
    let sheet = years(&Folder::of("dry-and-quick"));
    let costs: Vec<&Value> =
        list(&sheet.page["lines"]).iter().flat_map(|line| list(&line["stories"])).collect();
    let range = |cost: &Value| dollars(word(&cost["amount"]));
    let most = costs.iter().flat_map(|cost| range(cost)).fold(0.0, f64::max);
    assert_eq!(costs.len(), 12);
    for cost in costs {
        let amount = range(cost);
        for (share, dollars) in [("from", amount[0]), ("to", amount[1])] {
            let drawn = cost[share].as_f64().unwrap();
            assert!((drawn - dollars / most).abs() < 1e-3, "{cost}: {drawn}");
        }
    }
}

/// Where the stories do not agree, the message has the floor of each; of a floor alone it has the cost.
#[test]
fn the_message_is_the_answer() {
    let sheet = years(&Folder::of("dry-and-quick"));
    let says = word(&sheet.page["message"]["says"]);
    for story in ["Stays dry: the fast-cure", "Damp in year 5: the vapor-barrier"] {
        assert!(says.contains(story), "{says}");
    }
    let sheet = years(&Folder::of("two-car-barrier"));
    let costs = list(&line(&sheet.page, "Vapor-barrier floor")["stories"]);
    let all: Vec<f64> = costs.iter().flat_map(|cost| dollars(word(&cost["amount"]))).collect();
    let lead = dollars(word(&sheet.page["message"]["lead"]));
    assert!(lead.contains(&all.iter().copied().fold(f64::MAX, f64::min)), "{lead:?}");
    assert!(lead.contains(&all.iter().copied().fold(0.0, f64::max)), "{lead:?}");
}

#[test]
fn the_owners_years_come_before_the_shops() {
    let job = Folder::of("dry-and-quick").read("job.toml");
    let with = |years: &str| match job.contains("[house]") {
        true => job.replace("[house]", &format!("[house]\nstay-years = {years}")),
        false => format!("{job}\n[house]\nstay-years = {years}\n"),
    };
    let sheet = years(&Folder::of("dry-and-quick").write("job.toml", with("8")));
    let lead = word(&sheet.page["message"]["lead"]).replace('\u{a0}', " ").to_lowercase();
    assert!(lead.contains("over 8 years"), "{lead}");
    shows(&sheet, "the 8 years that you plan to stay");
    // The story of damp comes in year 5, which is past three years.
    let sheet = years(&Folder::of("dry-and-quick").write("job.toml", with("3")));
    shows(&sheet, "year 5 is past the 3 years that we count");
    shows(&sheet, "None falls within the years that we count.");
    assert_eq!(list(&sheet.page["columns"]).len(), 2);
}

#[test]
fn what_has_no_price_is_left_out_and_said() {
    let folder = Folder::of("dry-and-quick");
    let book: String = folder
        .read("book.toml")
        .lines()
        .filter(|line| !line.starts_with("sand ="))
        .map(|line| format!("{line}\n"))
        .collect();
    let sheet = years(&folder.write("book.toml", book));
    shows(&sheet, "We have no price for a new topcoat here");
    assert_eq!(list(&sheet.page["columns"]).len(), 2);
}

#[test]
fn a_floor_that_waits_is_not_called_fit() {
    let sheet = years(&Folder::of("smallest"));
    shows(&sheet, "First a test or its maker must say yes to");
}

#[test]
fn without_a_floor_there_is_no_sheet() {
    let run = Folder::of("too-wet-yet").run(&["write", "job.toml", "--draft", "--paper", "years"]);
    run.code(1).err_has("no floor is offered for this job yet");
}
