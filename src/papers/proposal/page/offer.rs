//! The parts of the page on the floors on offer: their layers and prices, safety, promise and sources.

use serde::Serialize;

use crate::papers::proposal::page::{FloorMark, Notice, Tick};

/// Part 3: a cross-section of each floor.
#[derive(Debug, Clone, Serialize)]
pub struct Layers {
    pub intro: String,
    /// Height of every cross-section in millimeters: one height, so that all coats of the page
    /// are drawn to one scale.
    pub drawing_mm: f64,
    /// Caption of all drawings: the scale.
    pub caption: String,
    pub stacks: Vec<Stack>,
}

/// One option's cross-section.
#[derive(Debug, Clone, Serialize)]
pub struct Stack {
    pub name: String,
    /// Absent for a floor that is offered and not recommended.
    pub mark: Option<FloorMark>,
    pub summary: String,
    /// Top coat first, concrete last: the order in which they are drawn.
    pub coats: Vec<CoatBand>,
    /// Thickness of all coats together.
    pub total: String,
    pub alt: String,
}

#[derive(Debug, Clone, Serialize)]
pub struct CoatBand {
    /// `concrete`, `primer`, `barrier`, `flake`, `clear`, `top`, `thin`: the pattern to draw.
    pub look: String,
    pub name: String,
    pub thickness: String,
    /// One plain sentence on what the coat does.
    pub does: String,
    /// Share of the drawing's height. All heights of a stack sum to 1.
    pub height: f64,
}

/// Part 6: price, work, days and payments.
#[derive(Debug, Clone, Serialize)]
pub struct Plan {
    pub intro: String,
    /// Empty when nothing may be offered.
    pub prices: Vec<PriceTable>,
    /// Work in the price that this slab asks for.
    pub included_here: Vec<String>,
    /// Work in the price of every job.
    pub included: Vec<String>,
    pub excluded: Vec<String>,
    pub timeline: Option<Timeline>,
    /// Times from which one may walk, carry things in and drive in, for each option.
    pub times: Vec<TimeRow>,
    pub times_note: String,
    /// Payment steps of the recommended option; empty when nothing may be offered.
    pub payments: Vec<AmountLine>,
    pub payments_note: String,
}

#[derive(Debug, Clone, Serialize)]
pub struct PriceTable {
    pub name: String,
    pub mark: Option<FloorMark>,
    /// The result on which the price hangs; empty for a floor that may be signed for.
    pub only_if: String,
    /// The lines sum exactly to `total`.
    pub lines: Vec<AmountLine>,
    pub total: AmountLine,
    /// Extras that may be added, each with what it would add to the total.
    pub extras: Vec<AmountLine>,
}

#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct AmountLine {
    pub label: String,
    pub amount: String,
}

/// Each option's days on one shared axis.
#[derive(Debug, Clone, Serialize)]
pub struct Timeline {
    /// Day boundaries: `Day 1`, `Day 2` and so on.
    pub ticks: Vec<Tick>,
    pub rows: Vec<TimelineRow>,
    pub caption: String,
    pub alt: String,
}

#[derive(Debug, Clone, Serialize)]
pub struct TimelineRow {
    pub name: String,
    pub spans: Vec<TimelineSpan>,
}

#[derive(Debug, Clone, Serialize)]
pub struct TimelineSpan {
    /// `work` (the crew is there), `wait` (the floor cures), `foot` (you may walk on it),
    /// `car` (you may drive on it).
    pub kind: &'static str,
    pub from: f64,
    pub to: f64,
    pub label: String,
}

#[derive(Debug, Clone, Serialize)]
pub struct TimeRow {
    pub name: String,
    pub walk: String,
    pub carry: String,
    pub drive: String,
}

/// Part 7: dangers to people, and the air that a coat needs.
#[derive(Debug, Clone, Serialize)]
pub struct Safety {
    pub intro: String,
    /// Notices that apply on this job, most serious first.
    pub notices: Vec<Notice>,
    /// Notices for every job: children, pets, re-entry, strong smell.
    pub always: Vec<String>,
    /// Cautions for extras that are not in a price and may be ticked.
    pub extras: Vec<String>,
    /// The meaning of fresh air for the coats of this job; empty where no floor has a price.
    pub air_note: String,
    /// Authorities over this text: data sheets, local code, licensed practice.
    pub defer: String,
}

/// Part 8: the shop's own promise, and care.
#[derive(Debug, Clone, Serialize)]
pub struct Promise {
    /// The shop's own words.
    pub warranty: Vec<String>,
    pub cannot_intro: String,
    /// Empty where no floor has a price, like the warranty.
    pub cannot: Vec<String>,
}

/// Part 10: tests, figures with their sources, assumptions.
#[derive(Debug, Clone, Serialize)]
pub struct Sources {
    pub intro: String,
    /// Every test: number, place, result, times, instrument.
    pub tests: Vec<TestRow>,
    pub rows: Vec<SourceRow>,
    pub assumptions: Vec<String>,
}

#[derive(Debug, Clone, Serialize)]
pub struct TestRow {
    pub test: String,
    pub place: String,
    pub result: String,
    pub times: String,
    pub instrument: String,
}

#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SourceRow {
    pub what: String,
    pub value: String,
    pub source: String,
}
