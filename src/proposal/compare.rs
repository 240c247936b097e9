//! Part 4: the same questions for every floor, both sides of each, and how one was chosen.

use crate::even_chance::{Chance, EvenChance as Even, even_chances};
use crate::figures::Figure;
use crate::input::scalar::Key;
use crate::money::Cents;
use crate::options::Choice;
use crate::proposal::page::{Card, ChanceRow, Compare, CompareRow, EvenChance};
use crate::proposal::writer::{Writer, capital, values};
use crate::recommend::RuleStep;
use crate::record::rate;
use crate::site::standing::Standing;
use crate::words::WordsError;

pub fn compare(w: &Writer<'_>) -> Result<Compare, WordsError> {
    let offered = w.offered();
    let even = even_chances(w.case, &offered);
    Ok(Compare {
        intro: w.plain("compare.intro")?,
        names: w.case.options.iter().map(|choice| w.name(choice.key())).collect(),
        rows: rows(w)?,
        cards: w.case.options.iter().map(|choice| card(w, choice)).collect::<Result<_, _>>()?,
        even: even.iter().map(|even| even_chance(w, even)).collect::<Result<_, _>>()?,
        rule: w.plain("compare.rule")?,
        steps: steps(w)?,
    })
}

type Cell<'c> = &'c dyn Fn(&Choice<'_>) -> Result<String, WordsError>;

fn rows(w: &Writer<'_>) -> Result<Vec<CompareRow>, WordsError> {
    let taxed = w.case.options.iter().any(|choice| choice.quote.tax.0 > 0);
    let not_offered = w.plain("compare.not_offered")?;
    let if_offered = |choice: &Choice<'_>, text: String| {
        if w.recommendation.offers(choice.key()) { text } else { not_offered.clone() }
    };
    let no_limit = w.plain("compare.no_limit")?;
    let moisture = &w.case.site.moisture;
    let mut rows = vec![];
    let mut add = |label: &str, cell: Cell<'_>| -> Result<(), WordsError> {
        rows.push(CompareRow {
            label: w.plain(&format!("compare.{label}"))?,
            cells: w.case.options.iter().map(cell).collect::<Result<_, _>>()?,
        });
        Ok(())
    };
    add(if taxed { "price" } else { "price_no_tax" }, &|c| {
        Ok(if_offered(c, w.money(c.quote.total)))
    })?;
    add("days", &|c| Ok(if_offered(c, w.figures.days(c.estimate.schedule.days))))?;
    add("drive", &|c| Ok(if_offered(c, w.day(c.estimate.schedule.drive)?)))?;
    add("first", &|c| {
        w.plain(if c.floor.has_barrier() { "compare.barrier" } else { "compare.no_barrier" })
    })?;
    let limit =
        |figure: Option<Figure>| figure.map_or_else(|| no_limit.clone(), |f| w.figures.write(&f));
    if moisture.mver.is_some() || moisture.rh.is_none() {
        add("limit_mver", &|c| {
            Ok(limit(c.floor.first().and_then(|r| r.mver_limit).map(Figure::Mver)))
        })?;
    }
    if moisture.rh.is_some() {
        add("limit_rh", &|c| {
            Ok(limit(c.floor.first().and_then(|r| r.rh_limit).map(Figure::SlabHumidity)))
        })?;
    }
    add("reading", &|c| room_cell(w, c))?;
    add("daylight", &|c| Ok(w.system(&c.floor).yellowing))?;
    add("tires", &|c| Ok(w.system(&c.floor).tires))?;
    add("smell", &|c| Ok(w.system(&c.floor).smell))?;
    add("damp", &|c| Ok(w.system(&c.floor).damp))?;
    add("thickness", &|c| Ok(w.figure(c.floor.resin_film())))?;
    add("life", &|c| {
        let (from, to) = c.floor.system.life_years;
        w.say("compare.life_cell", values([("from", from), ("to", to)]))
    })?;
    Ok(rows)
}

fn room_cell(w: &Writer<'_>, choice: &Choice<'_>) -> Result<String, WordsError> {
    match w.room(choice) {
        None if w.case.site.moisture.known() => w.plain("compare.no_limit"),
        None => w.plain("compare.no_reading"),
        Some((_, room, _, standing)) => match standing {
            Standing::Clear => w.say("compare.clear", values([("room", room)])),
            Standing::Over => w.say("compare.over", values([("room", room)])),
            Standing::Close | Standing::NotJudged => w.plain("compare.close"),
        },
    }
}

fn card(w: &Writer<'_>, choice: &Choice<'_>) -> Result<Card, WordsError> {
    let words = w.system(&choice.floor);
    let headroom = match w.room(choice) {
        None => w.plain("compare.headroom_unknown")?,
        Some((limit, room, _, standing)) => {
            let name = match standing {
                Standing::Clear => "compare.headroom_clear",
                Standing::Over => "compare.headroom_over",
                Standing::Close | Standing::NotJudged => "compare.headroom_close",
            };
            w.say(name, values([("room", room), ("limit", limit)]))?
        }
    };
    Ok(Card {
        name: w.name(choice.key()),
        recommended: w.recommendation.recommends(choice.key()),
        offered: w.recommendation.offers(choice.key()),
        better_at: words.better_at,
        harder_at: words.harder_at,
        choose_if: words.choose_if,
        headroom: capital(&headroom),
    })
}

/// Chances are told out of so many floors: one number for all on a page.
const ALL: u32 = 100;

/// The chance as floors in a row, so many of a hundred.
fn chance_row(w: &Writer<'_>, chance: Chance) -> Result<Option<ChanceRow>, WordsError> {
    let Some(marked) = chance.in_hundred().filter(|marked| *marked > 0) else { return Ok(None) };
    let alt = w.say("even.row_alt", values([("all", ALL), ("marked", marked)]))?;
    Ok(Some(ChanceRow { all: ALL, marked, alt }))
}

/// What the shop's own record says of a floor; empty without one.
fn own_record(w: &Writer<'_>, floor: &Key) -> Result<String, WordsError> {
    let record = w.case.shop.records.iter().find(|record| record.system.value == *floor);
    let Some((record, rate)) = record.and_then(|r| Some((r, rate(r.failures, r.jobs)?))) else {
        return Ok(String::new());
    };
    let count = |count: u32| w.figures.number(f64::from(count), 0);
    // Rounded outward: a range printed narrower than it is would claim too much.
    let of_all = |share: f64| w.figures.number(share, 0);
    let (down, up) = (rate.from.as_percent().floor(), rate.to.as_percent().ceil());
    w.say(
        "even.record",
        values([
            ("floor", w.the_name(floor)),
            ("jobs", count(record.jobs)),
            ("failures", count(record.failures)),
            ("since", record.since.to_string()),
            ("from", of_all(down)),
            ("to", of_all(up)),
        ]),
    )
}

fn even_chance(w: &Writer<'_>, even: &Even) -> Result<EvenChance, WordsError> {
    let n =
        even.chance.in_hundred().map_or_else(String::new, |n| w.figures.number(f64::from(n), 0));
    let facts = minijinja::context! {
        barrier => w.the_name(&even.barrier),
        plain => w.the_name(&even.plain),
        extra => w.money(even.extra),
        redo => w.figures.whole_money(even.redo.total()),
        floor => w.figures.whole_money(even.redo.floor),
        strip => if even.redo.strip > Cents::ZERO {
            w.figures.whole_money(even.redo.strip)
        } else {
            String::new()
        },
        n => n.as_str(),
    };
    let (chance, says) = match even.chance {
        Chance::NothingToWeigh => (w.plain("even.always")?, w.say("even.says_always", facts)?),
        Chance::Never => (w.plain("even.never")?, w.say("even.says_never", facts)?),
        Chance::Even(_) => {
            (w.say("even.in_hundred", values([("n", n.as_str())]))?, w.say("even.says", facts)?)
        }
    };
    Ok(EvenChance {
        title: w.say(
            "even.title",
            values([("barrier", w.name(&even.barrier)), ("plain", w.the_name(&even.plain))]),
        )?,
        chance,
        says: capital(&says),
        leaves_out: w.plain("even.leaves_out")?,
        record: own_record(w, &even.plain)?,
        row: chance_row(w, even.chance)?,
    })
}

fn steps(w: &Writer<'_>) -> Result<Vec<String>, WordsError> {
    let wish_name = |wish: crate::job::Wish| w.plain(&format!("compare.wish.{}", wish.word()));
    let mut lines = vec![];
    if w.case.job.wishes.is_empty() {
        lines.push(w.plain("compare.no_wishes")?);
    } else {
        let names =
            w.case.job.wishes.iter().map(|wish| wish_name(*wish)).collect::<Result<Vec<_>, _>>()?;
        lines.push(w.say("compare.wishes", values([("wishes", names.join(", "))]))?);
    }
    for step in w.recommendation.steps.iter().filter(|step| step.decides()) {
        let dropped: Vec<Key> = step
            .compared
            .iter()
            .map(|(key, _)| key.clone())
            .filter(|key| !step.left.contains(key))
            .collect();
        let (name, wish, floors) = match step.rule {
            RuleStep::NotOffered => ("step_not_offered", String::new(), &dropped),
            RuleStep::Moisture => ("step_aside", String::new(), &dropped),
            RuleStep::Wish(wish) => ("step_wish", wish_name(wish)?, &step.left),
            RuleStep::Concern(concern) => {
                let name = w.plain(&format!("compare.concern.{}", concern.word()))?;
                ("step_concern", name, &dropped)
            }
            RuleStep::LowestPrice => ("step_price", String::new(), &step.left),
            RuleStep::OrderOfOffer => ("step_first", String::new(), &step.left),
        };
        let facts = values([("floors", w.names(floors)), ("wish", wish)]);
        lines.push(w.say(&format!("compare.{name}"), facts)?);
    }
    if w.recommendation.floor.is_none() {
        lines.push(w.plain("compare.step_nothing")?);
    }
    Ok(lines)
}
