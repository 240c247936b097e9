//! The comparison: the same questions for every way to go on, both sides of each, and the shop's
//! own interest.
//!
//! A floor that is not offered is a line with its reason. To leave the slab as it is stands beside
//! the floors with the same detail, and so does a further test where it may change what is offered.

use jiff::ToSpan;
use jiff::civil::Date;
use minijinja::Value;

use crate::base::figure::Figure;
use crate::base::lists::each_once;
use crate::model::job::Wish;
use crate::papers::proposal::chances::{chances, own_records};
use crate::papers::proposal::chosen::steps;
use crate::papers::proposal::glance::reason_not_offered;
use crate::papers::proposal::page::{
    Compare, CompareRow, NotOffered, OpenWays, Way, WishBox, Wishes,
};
use crate::papers::proposal::writer::Writer;
use crate::price::case::FloorOption;
use crate::site::moisture::{ReadingPart, Series, days_between};
use crate::site::standing::{MoistureLimit, Settles, Standing};

pub fn compare(w: &Writer<'_>) -> Compare {
    let floors = priced_in_order(w);
    let others: Vec<Other> = [Some(Other::Leave), further_test(w)].into_iter().flatten().collect();
    let facts = other_facts(w, &others);
    let mut ways: Vec<Way> = floors.iter().map(|option| floor_way(w, option)).collect();
    ways.extend(others.iter().map(|other| other_way(w, *other, &facts)));
    let not_offered = w.case.options.iter().filter(|one| !w.recommendation.prices(one.key()));
    Compare {
        intro: w.plain("compare.intro"),
        earns: interest(w),
        dated: dated(w),
        wishes: wishes(w),
        decide: w.lines("compare.decide", &Value::UNDEFINED),
        ways,
        rows: rows(w, &floors, &others, &facts),
        not_offered: not_offered
            .map(|one| NotOffered { name: w.name(one.key()), why: reason_not_offered(w, one) })
            .collect(),
        even: chances(w),
        records: own_records(w, &floors),
        steps: steps(w),
    }
}

/// The ways that are open where no floor has a price: to leave the slab, and a further test.
pub fn open_ways(w: &Writer<'_>) -> OpenWays {
    let others: Vec<Other> = [Some(Other::Leave), further_test(w)].into_iter().flatten().collect();
    let facts = other_facts(w, &others);
    OpenWays {
        intro: w.say("compare.open", [("several", others.len() > 1)]),
        earns: interest(w),
        dated: dated(w),
        ways: others.iter().map(|other| other_way(w, *other, &facts)).collect(),
        decide: if others.len() > 1 {
            w.lines("compare.decide_open", &Value::UNDEFINED)
        } else {
            vec![]
        },
        questions: first_questions(w),
        records: own_records(w, &w.case.options.iter().collect::<Vec<_>>()),
    }
}

/// Number of questions where there is no room for all of them.
const FIRST_QUESTIONS: usize = 3;

/// The first of the questions for anyone who wants to coat the floor.
pub fn first_questions(w: &Writer<'_>) -> Vec<String> {
    w.words.claims.questions.iter().take(FIRST_QUESTIONS).cloned().collect()
}

/// The shop's interest in what is chosen.
pub fn interest(w: &Writer<'_>) -> String {
    w.say("compare.earns", [("shop", w.case.shop.name.as_str())])
}

/// The floors with a price: the one that comes first, then the order of the offer.
fn priced_in_order<'a>(w: &Writer<'a>) -> Vec<&'a FloorOption<'a>> {
    let mut floors = w.priced();
    floors.sort_by_key(|option| !w.recommendation.puts_first(option.key()));
    floors
}

// ---------------------------------------------------------------------------- date and wishes

/// Date of the pages, and until when their readings and prices hold.
fn dated(w: &Writer<'_>) -> String {
    let until = readings_until(w).map_or_else(String::new, |date| w.date(date));
    let prices = if w.offered().is_empty() { String::new() } else { w.valid_until() };
    let facts = [("date", w.date(w.case.job.date)), ("until", until), ("prices", prices)];
    w.say("compare.dated", facts)
}

/// The day on which the first of the good readings grows too old for the shop; `None` where none is
/// young enough today.
pub fn readings_until(w: &Writer<'_>) -> Option<Date> {
    fn good<Q: Copy>(series: Option<&Series<Q>>) -> Vec<Date> {
        let readings = series.map_or(&[][..], |series| &series.readings);
        let good = readings.iter().filter(|one| one.part == ReadingPart::Latest);
        good.map(|one| one.to.date()).collect()
    }
    let moisture = &w.case.site.moisture;
    let mut days = good(moisture.mver.as_ref());
    days.extend(good(moisture.rh.as_ref()));
    days.extend(good(moisture.sheets.as_ref()));
    let most = w.case.shop.testing.reading_days;
    let young = days.into_iter().filter(|day| days_between(*day, w.case.job.date) <= most);
    young.min()?.checked_add(i64::from(most).days()).ok()
}

fn wishes(w: &Writer<'_>) -> Wishes {
    let taken = &w.case.job.wishes;
    let said = taken.iter().map(|wish| w.plain(&format!("wish.said.{}", wish.word())));
    let boxes = Wish::WORDS.iter().map(|(_, wish)| {
        let place = taken.iter().position(|one| one == wish).map(|at| at + 1);
        let taken = place.map(|place| w.say("wish.taken", [("place", place)]));
        WishBox { name: wish_name(w, *wish), taken: taken.unwrap_or_default() }
    });
    Wishes {
        said: w.say("wish.wrote", [("wishes", said.collect::<Vec<_>>())]),
        boxes: boxes.collect(),
        ask: w.plain("wish.ask"),
    }
}

pub fn wish_name(w: &Writer<'_>, wish: Wish) -> String {
    match wish {
        Wish::Quick if !w.case.job.has_cars() => w.plain("compare.wish.quick_use"),
        _ => w.plain(&format!("compare.wish.{}", wish.word())),
    }
}

// ------------------------------------------------------------------------------- ways to go on

/// A way to go on without a floor.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Other {
    Leave,
    Test(FurtherTest),
}

/// A further test, by what comes before it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum FurtherTest {
    /// The slab read over the limit of a floor.
    AfterDrying,
    /// A new test: the tests so far do not settle it.
    Again,
    First,
}

impl Other {
    /// Its table of the words, below `way`.
    fn word(self) -> &'static str {
        match self {
            Self::Leave => "leave",
            Self::Test(_) => "test",
        }
    }
}

/// A further test, where moisture keeps a floor off the offer or makes it wait.
fn further_test(w: &Writer<'_>) -> Option<Other> {
    let over = w.case.options.iter().any(|option| option.moisture.standing == Standing::Over);
    let waits = w
        .case
        .options
        .iter()
        .any(|option| w.recommendation.state(option.key()).waits_for() == Some(Settles::Test));
    match (over, waits) {
        (true, _) => Some(Other::Test(FurtherTest::AfterDrying)),
        (false, true) if w.case.site.moisture.tested() => Some(Other::Test(FurtherTest::Again)),
        (false, true) => Some(Other::Test(FurtherTest::First)),
        (false, false) => None,
    }
}

/// Values for the words of ways without a floor.
fn other_facts(w: &Writer<'_>, others: &[Other]) -> Value {
    let test = others.iter().find_map(|other| match other {
        Other::Test(test) => Some(*test),
        Other::Leave => None,
    });
    minijinja::context! {
        dry => test == Some(FurtherTest::AfterDrying),
        again => test == Some(FurtherTest::Again),
        price => w.case.shop.testing.price.map(|price| w.money(price)).unwrap_or_default(),
        reading => w.highest().map(|(value, ..)| value).unwrap_or_default(),
        salts => w.case.job.slab.salts == Some(true),
        cracks => !w.case.job.shapes.cracks.is_empty(),
    }
}

fn floor_way(w: &Writer<'_>, option: &FloorOption<'_>) -> Way {
    let words = w.system(&option.floor);
    Way {
        name: w.name(option.key()),
        mark: w.mark(option.key()),
        better_at: words.better_at,
        harder_at: words.harder_at,
        choose_if: words.choose_if,
    }
}

/// A further test as a way to go on; `None` where moisture keeps no floor waiting.
pub fn test_way(w: &Writer<'_>) -> Option<Way> {
    let test = further_test(w)?;
    Some(other_way(w, test, &other_facts(w, &[test])))
}

fn other_way(w: &Writer<'_>, other: Other, facts: &Value) -> Way {
    let of = other.word();
    Way {
        name: w.say_with(&format!("way.{of}.name"), facts.clone()),
        mark: None,
        better_at: w.lines(&format!("way.{of}.better_at"), facts),
        harder_at: w.lines(&format!("way.{of}.harder_at"), facts),
        choose_if: w.say_with(&format!("way.{of}.choose_if"), facts.clone()),
    }
}

// ------------------------------------------------------------------------------------- rows

type Cell<'c> = &'c dyn Fn(&FloorOption<'_>) -> String;

fn rows(
    w: &Writer<'_>,
    floors: &[&FloorOption<'_>],
    others: &[Other],
    facts: &Value,
) -> Vec<CompareRow> {
    let taxed = w.case.options.iter().any(|option| option.quote.tax.0 > 0);
    let moisture = &w.case.site.moisture;
    let mut rows = vec![];
    // `same` names the sentence of a way without a floor.
    let mut add = |label: &str, same: &str, cell: Cell<'_>| {
        let mut cells: Vec<String> = floors.iter().map(|option| cell(option)).collect();
        cells.extend(
            others
                .iter()
                .map(|other| w.say_with(&format!("way.{}.{same}", other.word()), facts.clone())),
        );
        rows.push(CompareRow { label: w.plain(label), cells });
    };
    let price = if taxed { "compare.price" } else { "compare.price_no_tax" };
    add(price, "price", &|c| w.money(c.quote.total));
    add("compare.days", "days", &|c| w.figures.days(c.estimate.schedule.days));
    let cars = w.case.job.has_cars();
    if cars {
        add("compare.drive", "drive", &|c| w.usable_cell(c.estimate.schedule.drive));
    }
    let limit = |figure: Option<Figure>| {
        figure.map_or_else(|| w.plain("compare.no_limit"), |f| w.figures.write(&f))
    };
    if moisture.mver.is_some() || moisture.rh.is_none() {
        add("compare.limit_mver", "limit", &|c| {
            limit(c.moisture.terms.mver.and_then(MoistureLimit::stated).map(Figure::Mver))
        });
    }
    if moisture.rh.is_some() {
        add("compare.limit_rh", "limit", &|c| {
            limit(c.moisture.terms.rh.and_then(MoistureLimit::stated).map(Figure::SlabHumidity))
        });
    }
    add("compare.sheet", "sheet", &|c| limit_sources(w, c));
    add("compare.reading", "reading", &|c| w.room_words(c));
    add("compare.damp", "damp", &|c| w.system(&c.floor).damp);
    add("compare.life", "life", &|c| life_words(w, c));
    if cars {
        add("compare.tires", "tires", &|c| w.system(&c.floor).tires);
    }
    add("compare.daylight", "daylight", &|c| w.system(&c.floor).yellowing);
    add("compare.smell", "smell", &|c| w.system(&c.floor).smell);
    add("compare.first", "first", &|c| {
        w.plain(if c.floor.has_barrier() { "compare.barrier" } else { "compare.no_barrier" })
    });
    rows
}

/// The data sheets that a floor's moisture limits come from, each with its date where one is noted.
fn limit_sources(w: &Writer<'_>, option: &FloorOption<'_>) -> String {
    let terms = option.moisture.terms;
    let dish = terms.mver.and_then(MoistureLimit::stated);
    let probe = terms.rh.and_then(MoistureLimit::stated);
    let reached = option.floor.up_to_barrier().count();
    let of_limit = option.floor.resins().take(reached).filter(|(_, resin)| {
        (dish.is_some() && resin.mver_limit == dish) || (probe.is_some() && resin.rh_limit == probe)
    });
    let sheets = of_limit.map(|(coat, _)| {
        let date = coat.product.data_sheet.as_deref().unwrap_or_default();
        w.say("compare.sheet_cell", [("product", coat.product.name.as_str()), ("date", date)])
    });
    let sheets = each_once(sheets);
    if sheets.is_empty() { w.plain("compare.no_limit") } else { sheets.join("; ") }
}

/// Returns the usual life of a floor: `10 to 20 years`.
pub fn life_words(w: &Writer<'_>, option: &FloorOption<'_>) -> String {
    let (from, to) = option.floor.system.life_years;
    w.say("compare.life_cell", [("from", from), ("to", to)])
}
