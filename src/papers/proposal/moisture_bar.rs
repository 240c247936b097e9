//! The highest reading against the limits, as page one draws it: floors that share a limit share a bar.

use crate::papers::proposal::page::{LimitBar, LimitLine, MoistureBar, MoistureChart};
use crate::papers::proposal::slab::{Shown, charts, moisture_notes};
use crate::papers::proposal::writer::{Writer, joined};
use crate::site::standing::Standing;

/// Returns the moisture in words, where there is no picture of it.
pub fn moisture_in_words(w: &Writer<'_>) -> Vec<String> {
    let highest = charts(w, Shown::Highest).into_iter().filter_map(|chart| {
        let highest =
            chart.readings.into_iter().find(|reading| reading.highest && !reading.faded)?;
        Some(w.say("bar.no_limit", [("reading", highest.value), ("place", highest.label)]))
    });
    moisture_notes(w).into_iter().chain(highest).collect()
}

/// The paper on which a picture stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BarsOn {
    /// It recommends a floor, which is told apart from the others.
    Proposal,
    /// It recommends none.
    Leaflet,
}

/// Returns a picture for each method that has a reading that counts, and a limit.
pub fn moisture_bars(w: &Writer<'_>, on: BarsOn) -> Vec<MoistureBar> {
    let charts = charts(w, Shown::Highest).into_iter();
    let mut bars: Vec<_> = charts.filter_map(|chart| moisture_bar(w, &chart, on)).collect();
    if let [_, .., last] = bars.as_mut_slice() {
        last.caption = joined([std::mem::take(&mut last.caption), w.plain("bar.each")]);
    }
    bars
}

fn moisture_bar(w: &Writer<'_>, chart: &MoistureChart, on: BarsOn) -> Option<MoistureBar> {
    let highest = chart.readings.iter().find(|reading| reading.highest && !reading.faded)?;
    let mut lines: Vec<&LimitLine> = chart.limits.iter().collect();
    if lines.is_empty() {
        return None;
    }
    lines.sort_by(|a, b| b.at.total_cmp(&a.at));
    let bars = lines.chunk_by(|a, b| a.value == b.value).map(|same| {
        let floors = same.iter().map(|line| w.floor_name(&line.floor)).collect::<Vec<_>>();
        let first = on == BarsOn::Proposal
            && same.iter().any(|line| w.recommendation.puts_first(&line.floor));
        // A long list of names is told by its number; the table of the floors has each with its limit.
        let facts = minijinja::context! {
            floors => w.figures.list(&floors),
            count => floors.len(),
            all => floors.len() == lines.len(),
            first => first,
            limit => same[0].value.as_str(),
        };
        LimitBar { label: w.say_with("bar.limit", facts), at: same[0].at, first }
    });
    let limits: Vec<LimitBar> = bars.collect();
    let any = |standing: Standing| lines.iter().any(|line| line.standing == standing.word());
    let meaning = match () {
        () if any(Standing::Over) => "bar.over",
        () if any(Standing::Close) => "bar.close",
        () if any(Standing::NotJudged) => "bar.not_judged",
        () => "bar.clear",
    };
    let reading = w.say("bar.reading", [("reading", highest.value.as_str())]);
    let spoken = limits.iter().map(|bar| bar.label.as_str()).collect::<Vec<_>>().join("; ");
    let alt = [("reading", reading.clone()), ("limits", spoken)];
    let unit = [("unit", chart.unit.as_str())];
    Some(MoistureBar {
        at: highest.at,
        caption: joined([w.say(meaning, [("count", lines.len())]), w.say("bar.unit", unit)]),
        alt: w.say("bar.alt", alt),
        reading,
        limits,
    })
}
