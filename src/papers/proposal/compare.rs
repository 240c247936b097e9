//! Part 4: the same questions for every floor, both sides of each, and how one was chosen.

use crate::base::figure::Figure;
use crate::base::money::Cents;
use crate::base::names::Key;
use crate::base::quantity::Thickness;
use crate::judge::recommend::{Band, Compared, ComparedFloor, Concern, RuleStep, rule};
use crate::model::job::Wish;
use crate::papers::proposal::page::{Card, ChanceRow, Compare, CompareRow, EvenChanceText};
use crate::papers::proposal::writer::{Writer, capital};
use crate::price::case::FloorOption;
use crate::price::even_chance::{Chance, EvenChance as Even, even_chances};
use crate::price::failure_rate::rate;
use crate::site::standing::MoistureLimit;

pub fn compare(w: &Writer<'_>) -> Compare {
    let even = even_chances(w.case, &w.priced());
    Compare {
        intro: w.plain("compare.intro"),
        names: w.case.options.iter().map(|option| w.name(option.key())).collect(),
        rows: rows(w),
        cards: w.case.options.iter().map(|option| card(w, option)).collect(),
        even: even.iter().map(|even| even_chance(w, even)).collect(),
        rule: rule_words(w),
        steps: steps(w),
    }
}

type Cell<'c> = &'c dyn Fn(&FloorOption<'_>) -> String;

fn rows(w: &Writer<'_>) -> Vec<CompareRow> {
    let taxed = w.case.options.iter().any(|option| option.quote.tax.0 > 0);
    let not_offered = w.plain("compare.not_offered");
    let if_priced = |option: &FloorOption<'_>, text: String| {
        if w.recommendation.prices(option.key()) { text } else { not_offered.clone() }
    };
    let no_limit = w.plain("compare.no_limit");
    let moisture = &w.case.site.moisture;
    let mut rows = vec![];
    let mut add = |label: &str, cell: Cell<'_>| {
        rows.push(CompareRow {
            label: w.plain(label),
            cells: w.case.options.iter().map(cell).collect(),
        });
    };
    add(if taxed { "compare.price" } else { "compare.price_no_tax" }, &|c| {
        if_priced(c, w.money(c.quote.total))
    });
    add("compare.days", &|c| if_priced(c, w.figures.days(c.estimate.schedule.days)));
    add("compare.drive", &|c| if_priced(c, w.day(c.estimate.schedule.drive)));
    add("compare.first", &|c| {
        w.plain(if c.floor.has_barrier() { "compare.barrier" } else { "compare.no_barrier" })
    });
    let limit =
        |figure: Option<Figure>| figure.map_or_else(|| no_limit.clone(), |f| w.figures.write(&f));
    if moisture.mver.is_some() || moisture.rh.is_none() {
        add("compare.limit_mver", &|c| {
            limit(c.moisture.terms.mver.and_then(MoistureLimit::stated).map(Figure::Mver))
        });
    }
    if moisture.rh.is_some() {
        add("compare.limit_rh", &|c| {
            limit(c.moisture.terms.rh.and_then(MoistureLimit::stated).map(Figure::SlabHumidity))
        });
    }
    add("compare.reading", &|c| w.room_words(c));
    add("compare.daylight", &|c| w.system(&c.floor).yellowing);
    add("compare.tires", &|c| w.system(&c.floor).tires);
    add("compare.smell", &|c| w.system(&c.floor).smell);
    add("compare.damp", &|c| w.system(&c.floor).damp);
    add("compare.thickness", &|c| {
        let films: Vec<Thickness> =
            c.floor.resins().map(|(coat, resin)| coat.dry_film(resin)).collect();
        w.figures.films(&films)
    });
    add("compare.life", &|c| life_words(w, c));
    rows
}

fn life_words(w: &Writer<'_>, option: &FloorOption<'_>) -> String {
    let (from, to) = option.floor.system.life_years;
    w.say("compare.life_cell", [("from", from), ("to", to)])
}

/// Returns what speaks against a floor, as the rule names it.
pub fn concern_words(w: &Writer<'_>, concern: Concern) -> String {
    w.plain(&format!("compare.concern.{}", concern.word()))
}

fn card(w: &Writer<'_>, option: &FloorOption<'_>) -> Card {
    let words = w.system(&option.floor);
    Card {
        name: w.name(option.key()),
        mark: w.mark(option.key()),
        better_at: words.better_at,
        harder_at: words.harder_at,
        choose_if: words.choose_if,
        headroom: w.headroom_words(option),
    }
}

/// Chances are told out of so many floors: one number for all on a page.
const ALL: u32 = 100;

/// The chance as floors in a row, so many of a hundred.
fn chance_row(w: &Writer<'_>, chance: Chance) -> Option<ChanceRow> {
    let marked = chance.in_hundred().filter(|marked| *marked > 0)?;
    let alt = w.say("even.row_alt", [("all", ALL), ("marked", marked)]);
    Some(ChanceRow { all: ALL, marked, alt })
}

/// Returns the shop's own record of a floor, in words; empty without one.
fn own_record(w: &Writer<'_>, floor: &Key) -> String {
    let record = w.case.shop.records.iter().find(|record| record.system.value == *floor);
    let Some((record, rate)) = record.and_then(|r| Some((r, rate(r.failures, r.jobs)?))) else {
        return String::new();
    };
    let number = |number: f64| w.figures.number(number, 0);
    let facts = [
        ("floor", w.the_name(floor)),
        ("jobs", number(record.jobs.into())),
        ("failures", number(record.failures.into())),
        ("since", record.since.to_string()),
        // Rounded outward: a range printed narrower than it is would claim too much.
        ("from", number(rate.from.as_percent().floor())),
        ("to", number(rate.to.as_percent().ceil())),
    ];
    w.say("even.record", facts)
}

fn even_chance(w: &Writer<'_>, even: &Even) -> EvenChanceText {
    let n = even.chance.in_hundred();
    let n = n.map_or_else(String::new, |n| w.figures.number(f64::from(n), 0));
    let strip = Some(even.redo.strip).filter(|strip| *strip > Cents::ZERO);
    let facts = minijinja::context! {
        barrier => w.the_name(&even.barrier),
        plain => w.the_name(&even.plain),
        extra => w.money(even.extra),
        redo => w.figures.whole_money(even.redo.total()),
        floor => w.figures.whole_money(even.redo.floor),
        strip => strip.map_or_else(String::new, |strip| w.figures.whole_money(strip)),
        n => n.as_str(),
    };
    let (chance, says) = match even.chance {
        Chance::NothingToWeigh => (w.plain("even.always"), "even.says_always"),
        Chance::Never => (w.plain("even.never"), "even.says_never"),
        Chance::Even(_) => (w.say("even.in_hundred", [("n", n.as_str())]), "even.says"),
    };
    let names = [("barrier", w.name(&even.barrier)), ("plain", w.the_name(&even.plain))];
    EvenChanceText {
        title: w.say("even.title", names),
        chance,
        says: capital(&w.say_with(says, facts)),
        leaves_out: w.plain("even.leaves_out"),
        record: own_record(w, &even.plain),
        row: chance_row(w, even.chance),
    }
}

/// The rule in words, from the list of steps that the recommendation took.
fn rule_words(w: &Writer<'_>) -> String {
    let mut concerns = vec![];
    let mut sentences = vec![];
    let steps = rule(&w.case.job.wishes);
    for (at, step) in steps.iter().enumerate() {
        match step {
            RuleStep::Wish { wish } => {
                sentences.push(w.say("rule.wish", [("wish", wish_name(w, *wish))]));
            }
            RuleStep::Concern { concern } => {
                concerns.push(concern_words(w, *concern));
                // Concerns that follow each other are one sentence, in their order.
                if !matches!(steps.get(at + 1), Some(RuleStep::Concern { .. })) {
                    let list = w.figures.list(&concerns);
                    sentences.push(w.say("rule.concern", [("concerns", list)]));
                    concerns.clear();
                }
            }
            other => sentences.push(w.plain(&format!("rule.{}", other.word()))),
        }
    }
    sentences.join(" ")
}

fn wish_name(w: &Writer<'_>, wish: Wish) -> String {
    w.plain(&format!("compare.wish.{}", wish.word()))
}

/// Returns what a step compared of a floor, in words.
fn compared_words(w: &Writer<'_>, option: &FloorOption<'_>, value: Compared) -> String {
    let yes_no = |yes| w.plain(if yes { "slab.yes" } else { "slab.no" });
    let room = |band: Band| w.plain(&format!("rule.room.{}", band.word()));
    match value {
        Compared::State(_) => w.standing_words(option.key()),
        Compared::Moisture(rank) => w.plain(&format!("rule.rank.{}", rank.word())),
        Compared::CarBack(_) => w.day(option.estimate.schedule.drive),
        Compared::Life(_, band) => {
            let years = life_words(w, option);
            band.map_or(years.clone(), |band| w.figures.list(&[years, room(band)]))
        }
        Compared::Price(price) => w.money(price),
        Compared::Ambers(yes) | Compared::Concern(yes) => yes_no(yes),
        Compared::Room(band) => room(band),
        Compared::Position(at) => w.figures.number(f64::from(at), 0),
    }
}

/// The steps that left floors behind, each with what it compared and what it left.
fn steps(w: &Writer<'_>) -> Vec<String> {
    let mut lines = vec![];
    for step in w.recommendation.steps.iter().filter(|step| step.decides()) {
        let what = match step.rule {
            RuleStep::Wish { wish } => wish_name(w, wish),
            RuleStep::Concern { concern } => capital(&concern_words(w, concern)),
            other => w.plain(&format!("rule.step.{}", other.word())),
        };
        let values = step.compared.iter().filter_map(|ComparedFloor { floor: key, value }| {
            let value = compared_words(w, w.choice(key)?, *value);
            Some(w.say("rule.value", [("floor", w.name(key)), ("value", value)]))
        });
        let values = values.collect::<Vec<_>>().join(". ");
        let facts = [("what", what), ("values", values), ("left", w.names(&step.left))];
        lines.push(w.say("rule.taken", facts));
    }
    if w.recommendation.floor.is_none() {
        lines.push(w.plain("compare.step_nothing"));
    }
    lines
}
