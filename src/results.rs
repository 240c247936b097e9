//! Results as JSON, for programs. Money is text with two decimals, never a binary number.

use serde_json::{Value, json};

use crate::calendar::Moment;
use crate::checks;
use crate::estimate::labour::Task;
use crate::estimate::materials::{Amount, Size};
use crate::figures::Figure;
use crate::judged::Judged;
use crate::options::Choice;
use crate::proposal::writer::Writer;
use crate::words::{Words, WordsError};

/// Version of the shape of all results.
const VERSION: u32 = 1;

/// Findings with their sentences: what `check --format json` prints.
///
/// # Errors
/// [`WordsError`] when a check has no words, or uses a value that it is not given.
pub fn findings(judged: &Judged<'_>, words: &Words) -> Result<Value, WordsError> {
    let w = Writer::new(&judged.case, &judged.findings, &judged.recommendation, words);
    let mut list = vec![];
    for finding in &judged.findings {
        let Some(check) = checks::check(finding.check) else { continue };
        let notice = w.notice(finding, check.source)?;
        let text = |figure: &Option<Figure>| figure.as_ref().map(|f| w.figures.write(f));
        list.push(json!({
            "check": finding.check,
            "severity": finding.severity.word(),
            "floor": finding.option.as_ref().map(|key| key.0.clone()),
            "measured": text(&finding.measured),
            "limit": text(&finding.limit),
            "title": notice.title,
            "says": notice.says,
            "todo": notice.todo,
            "basis": notice.basis,
        }));
    }
    Ok(json!({
        "version": VERSION,
        "job": judged.case.job.number.0,
        "recommended": judged.recommendation.floor.as_ref().map(|key| key.0.clone()),
        "offered": judged.recommendation.offered.iter().map(|key| key.0.clone()).collect::<Vec<_>>(),
        "findings": list,
    }))
}

/// Every figure of every floor: what `estimate --format json` prints. For the shop only.
pub fn estimates(judged: &Judged<'_>) -> Value {
    let case = &judged.case;
    let take_off = case.site.take_off;
    let moisture = &case.site.moisture;
    json!({
        "version": VERSION,
        "audience": "shop only: holds costs and margin",
        "job": case.job.number.0,
        "currency": case.book.currency,
        "floor_m2": rounded(take_off.floor.as_square_metres()),
        "upright_m2": rounded(take_off.upright.as_square_metres()),
        "edge_m": rounded(take_off.edge.as_metres()),
        "highest_mver_lb_per_1000ft2_24h": moisture.mver.as_ref().map(|s| rounded(s.highest().value.as_pounds())),
        "highest_rh_percent": moisture.rh.as_ref().map(|s| rounded(s.highest().value.as_percent())),
        "dew_point_c": case.site.air.map(|air| rounded(air.dew_point.as_celsius())),
        "slab_above_dew_point_k": case.site.air.map(|air| rounded(air.spread.as_kelvin())),
        "recommended": judged.recommendation.floor.as_ref().map(|key| key.0.clone()),
        "floors": case.options.iter().map(|choice| floor(judged, choice)).collect::<Vec<_>>(),
    })
}

fn floor(judged: &Judged<'_>, choice: &Choice<'_>) -> Value {
    let e = &choice.estimate;
    let moment = |m: Moment| json!({ "day": m.day(), "hour": rounded(m.of_day().as_hours()) });
    json!({
        "floor": choice.key().0,
        "offered": judged.recommendation.offers(choice.key()),
        "materials": e.materials.iter().map(|line| json!({
            "product": line.product.0,
            "need": amount(&line.amount),
            "buy": line.buy.iter().map(|(count, size)| json!({ "count": count, "size": size_of(size) })).collect::<Vec<_>>(),
            "cost": line.cost.to_string(),
        })).collect::<Vec<_>>(),
        "labor": e.labor.iter().map(|line| json!({
            "task": task_name(&line.task),
            "hours": line.hours.to_string(),
            "cost": line.cost.to_string(),
        })).collect::<Vec<_>>(),
        "consumables": e.consumables.to_string(),
        "removal": e.removal.to_string(),
        "per_job": e.per_job.to_string(),
        "purchase_tax": e.purchase_tax.to_string(),
        "direct": e.direct.to_string(),
        "overhead": e.overhead.to_string(),
        "cost": e.cost.to_string(),
        "price": e.price.to_string(),
        "tax": e.tax.to_string(),
        "total": choice.quote.total.to_string(),
        "extras": choice.quote.extras.iter().map(|(key, cents)| json!({ "extra": key.0, "price": cents.to_string() })).collect::<Vec<_>>(),
        "could_add": choice.quote.could_add.iter().map(|e| json!({ "extra": e.extra.0, "adds": e.adds.to_string(), "days": e.days })).collect::<Vec<_>>(),
        "profit": e.profit().to_string(),
        "margin": e.margin().map(|margin| margin.round_dp(4).to_string()),
        "profit_per_crew_day": e.profit_per_day().to_string(),
        "days": e.schedule.days,
        "walk": moment(e.schedule.walk),
        "carry": moment(e.schedule.carry),
        "drive": moment(e.schedule.drive),
    })
}

fn amount(amount: &Amount) -> Value {
    match amount {
        Amount::Liquid { need, from_stock, leftover } => json!({
            "litres": rounded(need.as_litres()),
            "from_stock_litres": rounded(from_stock.as_litres()),
            "leftover_litres": rounded(leftover.as_litres()),
        }),
        Amount::Flake { need, kept, from_stock, leftover } => json!({
            "thrown_kg": rounded(need.as_kilograms()),
            "kept_kg": rounded(kept.as_kilograms()),
            "from_stock_kg": rounded(from_stock.as_kilograms()),
            "leftover_kg": rounded(leftover.as_kilograms()),
        }),
    }
}

fn size_of(size: &Size) -> Value {
    match size {
        Size::Volume(volume) => json!({ "litres": rounded(volume.as_litres()) }),
        Size::Mass(mass) => json!({ "kg": rounded(mass.as_kilograms()) }),
    }
}

/// A measured figure to four decimals, so that the last bits of arithmetic stay out of files.
fn rounded(value: f64) -> f64 {
    (value * 10_000.0).round() / 10_000.0
}

/// A task's plain name.
pub fn task_name(task: &Task) -> String {
    match task {
        Task::SetUp => "set up".into(),
        Task::Strip => "take off the old coating and grind".into(),
        Task::Grind => "grind".into(),
        Task::Edge => "edge".into(),
        Task::Repair => "repair".into(),
        Task::Coat(key) => format!("coat: {key}"),
        Task::Scrape => "scrape".into(),
        Task::CleanUp => "clean up".into(),
    }
}
