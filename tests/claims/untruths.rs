//! Sentences that are not so, put into a page by hand: whoever reads has to find each.

use std::panic::Location;

use serde_json::{Value, json};

use super::files::{BOOK, SHOP};
use super::papers::{Given, Papers};
use super::read;
use crate::facts::example;

const DRY: &str = include_str!("../../examples/dry-and-quick/job.toml");
const WET: &str = include_str!("../../examples/two-car-barrier/job.toml");
const STOPPED: &str = include_str!("../../examples/too-wet-yet/job.toml");

/// The papers of an example, with changes to its job.
#[track_caller]
fn papers(job: &str, changes: &[(&str, &str)]) -> Papers {
    with_book(job, changes, &[])
}

#[track_caller]
fn with_book(job: &str, changes: &[(&str, &str)], of_book: &[(&str, &str)]) -> Papers {
    let changed = |text: &str, changes: &[(&str, &str)]| {
        changes.iter().fold(text.to_owned(), |text, (old, new)| {
            assert!(text.contains(old), "`{old}` is not there");
            text.replace(old, new)
        })
    };
    let files = example::files("", BOOK, SHOP);
    let given = Given {
        job: changed(job, changes),
        book: changed(BOOK, of_book),
        shop: SHOP.to_owned(),
        systems: files.systems,
        spanish: false,
    };
    let papers = Papers::of(given).unwrap_or_else(|problems| panic!("{problems}"));
    let (faults, _) = read(&papers);
    assert!(faults.is_empty(), "before anything was put in: {faults:#?}");
    papers
}

/// Puts a value at a place of a page and expects that a claim is found not to be so.
#[track_caller]
fn caught(papers: &Papers, at: &str, value: impl Into<Value>, claim: &str) {
    let mut papers = papers.clone();
    let value = value.into();
    let place = papers.page.pointer_mut(at).unwrap_or_else(|| panic!("no {at}"));
    assert_ne!(*place, value, "{at} says so already");
    *place = value;
    let (faults, _) = read(&papers);
    let found = faults.iter().any(|fault| fault.starts_with(&format!("{claim}: ")));
    assert!(found, "{}: not found: {claim}; found: {faults:#?}", Location::caller());
}

const HEADLINE: &str = "/glance/headline";
const REASON: &str = "/glance/reason";

/// A dish of six hours proves nothing, whatever it reads.
#[test]
fn a_reading_of_a_dish_that_stood_six_hours_proves_nothing() {
    let short = [("set = 2026-05-26T1", "set = 2026-05-29T0"), ("T00:05", "T02:05")];
    let papers = papers(DRY, &short[..1]);
    caught(&papers, HEADLINE, "We recommend the fast-cure floor", "recommended by evidence");
    caught(
        &papers,
        REASON,
        "Your slab reads 0 lb at the most.",
        "every sentence of the reason is known",
    );
    let clear = "Your slab read at most 0 lb, clearly under this floor’s moisture limit of 3 lb.";
    caught(&papers, REASON, clear, "reason clear");
    caught(&papers, "/glance/unknown", json!([]), "not to its method");
}

/// Probes at 97 % and a primer with a limit for dishes alone.
#[test]
fn a_floor_without_a_limit_for_the_test_is_not_recommended() {
    let (before, rest) = DRY.split_once("[moisture.dishes]").unwrap();
    let rest = rest.split_once("[air]").unwrap().1;
    let mut job = format!("{before}[moisture.probes]\nedition = 2019\nsettled = true\n");
    for place in ["left", "middle", "right"] {
        job += &format!(
            "[[moisture.probes.probe]]\nplace = \"{place}\"\ndepth = \"2 in\"\nreading = \"97 %\"\n\
             drilled = 2026-05-26T09:00:00\nread = 2026-05-29T09:00:00\ncalibrated = \"new\"\n"
        );
    }
    let job = format!("{job}[air]{rest}");
    let papers = with_book(&job, &[("\"yes\"", "\"no\"")], &[("rh-limit = \"75 %\"\n", "")]);
    caught(&papers, HEADLINE, "We recommend the fast-cure floor", "recommended by evidence");
    caught(
        &papers,
        HEADLINE,
        "We recommend the fast-cure floor",
        "recommended is offered and first",
    );
}

/// 3.13 lb and a limit of 3 lb.
#[test]
fn a_reading_over_the_limit_is_no_close_call() {
    let papers = papers(DRY, &[("after = \"220.0 g\"", "after = \"220.9 g\"")]);
    let close = "We recommend the fast-cure floor, and it is a close call";
    caught(&papers, HEADLINE, close, "recommended by evidence");
    let near = "The highest reading, 3.1 lb, is under this floor’s limit of 3 lb, but by less than the test can tell.";
    caught(&papers, REASON, near, "reason near");
}

/// A test of March 2025 for a paper of June 2026.
#[test]
fn an_old_test_is_said_to_be_old() {
    let papers = papers(DRY, &[("2026-05-2", "2025-03-2")]);
    caught(&papers, HEADLINE, "We recommend the fast-cure floor", "recommended by evidence");
    caught(&papers, "/glance/unknown", json!([]), "an old reading has its age");
    let young = "The last moisture test is 5 days old (May 29, 2026). A slab can be damper or drier by now.";
    caught(&papers, "/glance/unknown", json!([young]), "age of the last reading");
}

#[test]
fn dishes_on_paint_are_not_to_their_method() {
    let papers = papers(DRY, &[("\"ground-open-24h\"", "\"coated\"")]);
    caught(&papers, HEADLINE, "We recommend the fast-cure floor", "recommended by evidence");
    caught(&papers, "/glance/unknown", json!([]), "not to its method");
}

#[test]
fn a_slab_below_the_dew_point_is_on_page_one() {
    let papers = papers(DRY, &[("slab = \"68 F\"", "slab = \"50 F\"")]);
    caught(&papers, "/glance/start", json!([]), "near the dew point");
    let dry = papers_of_a_dry_slab();
    let wet = "The air was wetting the slab. We start only 5 °F or more above the dew point.";
    caught(&dry, "/glance/start", json!([wet]), "how near the dew point");
    caught(
        &papers,
        "/glance/start",
        json!(["On our visit the slab was near the dew point."]),
        "we start only when it has changed",
    );
}

#[track_caller]
fn papers_of_a_dry_slab() -> Papers {
    papers(DRY, &[])
}

/// It cost less only among those that were left.
#[test]
fn what_is_not_the_cheapest_does_not_cost_the_least() {
    let papers = papers_of_a_dry_slab();
    let reason = papers.page["glance"]["reason"].as_str().unwrap().to_owned();
    let with = |more: &str| format!("{reason} {more}");
    caught(
        &papers,
        REASON,
        with("This one costs the least."),
        "every sentence of the reason is known",
    );
    caught(
        &papers,
        REASON,
        with("It costs less than the water-based kit floor."),
        "reason costs less",
    );
    caught(
        &papers,
        REASON,
        with("It usually lasts longer than the vapor-barrier floor."),
        "reason lasts longer",
    );
    caught(
        &papers,
        REASON,
        with("It has more room below its moisture limit than the vapor-barrier floor."),
        "reason more room",
    );
    caught(
        &papers,
        REASON,
        with(
            "Unlike the vapor-barrier floor, it has no coat in daylight that turns amber. You asked for that.",
        ),
        "reason no amber",
    );
    caught(
        &papers,
        REASON,
        with(
            "Unlike the vapor-barrier floor, it has a vapor barrier, in case the slab is damper than we know.",
        ),
        "reason barrier",
    );
    caught(
        &papers,
        REASON,
        with(
            "Of the floors we compared, it is the only one that we can offer for this slab as it is.",
        ),
        "reason only",
    );
    caught(
        &papers,
        REASON,
        with("You can park on it sooner than on the fast-cure floor."),
        "floors that are named have a price",
    );
    caught(
        &papers,
        REASON,
        with(
            "On your slab, one point speaks against the vapor-barrier floor and not against this floor: a crack that moves.",
        ),
        "reason against",
    );
    caught(
        &papers,
        REASON,
        with("The others are too near to call."),
        "every sentence of the reason is known",
    );
    caught(
        &papers,
        REASON,
        reason.replace("3 lb.", "4 lb."),
        "reason prints its reading and limit",
    );
}

#[test]
fn a_floor_that_waits_is_not_recommended_nor_signed_for() {
    let (before, rest) = WET.split_once("[moisture.dishes]").unwrap();
    let job = format!("{before}[air]{}", rest.split_once("[air]").unwrap().1);
    let papers = papers(&job, &[]);
    caught(
        &papers,
        HEADLINE,
        "We recommend the vapor-barrier floor",
        "recommended is offered and first",
    );
    caught(&papers, "/accept/test", Value::Null, "a test to tick where a floor waits for one");
    caught(
        &papers,
        "/glance/hangs/rows/0/only_if",
        "the slab reads at most 30 lb with dishes, or 99% RH with probes",
        "what a floor hangs on is its own limit",
    );
    caught(&papers, "/glance/hangs/rows/0/price", "$1,000.00", "price of what hangs");
    caught(
        &papers,
        "/glance/hangs/says",
        "One floor waits for a moisture test by its method. The result decides:",
        "one floor or some",
    );
    let line = papers.page["glance"]["options"][0].clone();
    caught(&papers, "/accept/options", json!([line]), "what can be signed for is what is offered");
    let note = "Good until Friday, July 3";
    caught(&papers, "/glance/answers/0/note", note, "valid until");
    caught(
        &papers,
        "/glance/moisture_notes",
        json!(["One plastic sheet was taped to the slab (ASTM D4263). It came up dry."]),
        "what is said where no reading counts",
    );
    caught(
        &papers,
        "/compare/rows/5/cells/0",
        "17 lb under",
        "a floor's standing in the comparison",
    );
}

#[test]
fn a_job_that_is_stopped_has_nothing_to_sign() {
    let papers = papers(STOPPED, &[]);
    caught(
        &papers,
        "/accept/signatures",
        json!(["Ada"]),
        "nothing to sign where nothing can be ordered",
    );
    let first = "First a moisture test, then the floor";
    caught(&papers, HEADLINE, first, "headline waits for what the floor waits for");
}

#[test]
fn a_solvent_that_nobody_spoke_of_is_not_absent() {
    let unsaid = with_book(WET, &[], &[("solvent-free = true\n", "")]);
    let none = "By their data sheets, no coat of the floors priced here contains a solvent that can catch fire, so we give no airflow number.";
    caught(&unsaid, "/safety/air_note", none, "no coat holds a solvent");
    let some = "Some coats here give off vapor that can catch fire while they dry.";
    caught(&unsaid, "/safety/air_note", some, "some coats give off vapor");
}

/// Nobody knows of a crack that it does not move.
#[test]
fn a_crack_of_which_nobody_knows_does_not_stand_still() {
    let crack =
        "[[crack]]\nlength = \"9 ft\"\nwidth = \"1/8 in\"\nmoves = \"unknown\"\n\n[[joint]]";
    let papers = papers(DRY, &[("[[joint]]", crack)]);
    let still = "Cracks that do not move, 9 ft total: cut open, filled hard and ground flush";
    caught(&papers, "/plan/included_here/0", still, "what is mended is what was found");
    let other = "Cracks that move, 9 ft total: filled with a soft filler. They may show again";
    caught(&papers, "/plan/included_here/0", other, "what is mended is what was found");
}

/// 503 and 28 are not 530.
#[test]
fn sums_are_those_of_their_parts() {
    let papers = papers(WET, &[]);
    let label = papers.page["plan"]["prices"][0]["lines"][0]["label"].as_str().unwrap().to_owned();
    let area = label.rsplit_once(", ").unwrap().1.to_owned();
    let number: u32 = area.split(' ').next().unwrap().parse().unwrap();
    let less = label.replace(&area, &format!("{} sq ft", number - 1));
    caught(&papers, "/plan/prices/0/lines/0/label", less, "areas sum as printed");
    caught(&papers, "/plan/prices/0/lines/0/amount", "$4,000.00", "price lines sum to the total");
    caught(
        &papers,
        "/plan/prices/0/total/amount",
        "$4,000.00",
        "the total is the price of page one",
    );
    caught(&papers, "/plan/payments/0/amount", "$1.00", "payments sum to the total");
    caught(&papers, "/layers/stacks/0/total", "99 mils total", "films sum to their total");
    caught(&papers, "/glance/answers/0/value", "$1.00", "price on page one");
    caught(&papers, "/glance/options/0/price", "$1.00", "price in a line");
    caught(&papers, "/compare/rows/0/cells/0", "$1,000.00", "price in the comparison");
    caught(&papers, "/accept/options/0/price", "$1.00", "price in a line");
    caught(&papers, "/glance/answers/1/value", "Tue to Wed", "days without the garage");
    caught(
        &papers,
        "/glance/answers/1/note",
        "1 day of work from May 26. Park from Wed, May 27.",
        "days on site",
    );
    caught(&papers, "/glance/answers/2/value", "10 to 30 years", "usual life");
    caught(&papers, "/glance/bars/0/reading", "Your slab: 3 lb", "the highest reading on page one");
    caught(
        &papers,
        "/glance/bars/0/limits/0/label",
        "30 lb: vapor-barrier floor",
        "each limit has its bar on page one",
    );
    let clear = "Each bar shows how much moisture a floor is rated for. All end past the line.";
    caught(&papers, "/glance/bars/0/caption", clear, "the meaning of the bars");
}

#[test]
fn a_chart_says_what_was_read() {
    let papers = papers(WET, &[]);
    caught(
        &papers,
        "/slab/moisture/0/readings/0/highest",
        true,
        "the highest in a chart counts and is the highest",
    );
    caught(&papers, "/slab/moisture/0/limits/0/words", "Too close to call", "words at a limit");
    caught(&papers, "/slab/moisture/0/limits/1/words", "0 lb over", "words at a limit");
    let caption = "The reading is 4.9 lb, right bay, near the door. The bracket behind a dot shows how far off a reading could be.";
    caught(&papers, "/slab/moisture/0/caption", caption, "the caption of a chart");
}

#[test]
fn claims_speak_of_the_floors_on_the_page() {
    let papers = papers_of_a_dry_slab();
    let here = |at: usize| format!("/claims/claims/{at}/here");
    caught(
        &papers,
        &here(0),
        "None of the floors compared here should turn amber in daylight.",
        "amber in daylight",
    );
    caught(
        &papers,
        &here(1),
        "None of the floors compared here is thin. Earliest time to park on the fast-cure floor: June 16, about 4 pm.",
        "warm tires",
    );
    caught(
        &papers,
        &here(3),
        "We offer no floor for this slab yet, so the number of days comes later.",
        "no days without a price",
    );
    caught(
        &papers,
        &here(6),
        "We have no test of your slab to show you. Not known is not the same as dry, so we say so.",
        "no test to show",
    );
    caught(&papers, &here(7), "We compare no kit floor here.", "a thin floor on these pages");
    caught(&papers, "/glance/options/0/standing", "Not offered", "standing in a line");
    let mut swapped = papers.page["glance"]["options"].clone();
    swapped.as_array_mut().unwrap().swap(0, 1);
    caught(&papers, "/glance/options", swapped, "order of the floors on page one");
    caught(&papers, "/compare/even/0/grid/marked", 99, "so many of a hundred");
}
