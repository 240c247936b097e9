//! Part 10: every test, every figure with its source, every assumption.

use jiff::civil::DateTime;
use minijinja::Value;

use crate::model::job::{SheetFound, Units};
use crate::papers::proposal::chances::chances;
use crate::papers::proposal::page::{SourceRow, Sources, TestRow};
use crate::papers::proposal::readings::Written;
use crate::papers::proposal::writer::{Writer, joined, values};
use crate::site::dew_point::LEAST_SPREAD;
use crate::site::moisture::Series;

pub fn sources(w: &Writer<'_>, context: &Value) -> Sources {
    let text = &w.words.sources;
    let assumptions =
        text.assumptions.iter().map(|a| w.fill(a, context, "sources.toml: assumptions"));
    Sources {
        intro: joined([text.intro.clone(), reading_grade(w)]),
        tests: tests(w),
        rows: rows(w),
        // One that does not apply comes out empty.
        assumptions: assumptions.filter(|line| !line.is_empty()).collect(),
    }
}

/// Returns the reading grade that the words are held to; empty where a shop has words of its own.
pub fn reading_grade(w: &Writer<'_>) -> String {
    w.plain_if(w.words.as_made, "sources.grade")
}

fn tests(w: &Writer<'_>) -> Vec<TestRow> {
    let moisture = &w.case.site.moisture;
    let sheet = |found: SheetFound| match found {
        SheetFound::Dry => w.plain("sources.dry"),
        SheetFound::Damp => w.plain("sources.damp"),
    };
    // The numbers are those of plan and charts: they run on through all methods.
    let mut rows =
        test_rows(w, &moisture.mver, ("sources.dish", 0), |rate| w.figure(rate.of_slab()));
    let probes =
        test_rows(w, &moisture.rh, ("sources.probe", rows.len()), |rh| w.figure(rh.of_slab()));
    rows.extend(probes);
    rows.extend(test_rows(w, &moisture.sheets, ("sources.sheet", rows.len()), sheet));
    rows
}

fn test_rows<Q: Copy>(
    w: &Writer<'_>,
    series: &Option<Series<Q>>,
    (name, before): (&str, usize),
    text: impl Fn(Q) -> String,
) -> Vec<TestRow> {
    let Some(series) = series else { return vec![] };
    let stamp = |moment: DateTime| {
        w.say(
            "sources.stamp",
            [
                ("date", w.figures.date_short(moment.date())),
                ("clock", w.figures.time(moment.time())),
            ],
        )
    };
    let instrument =
        series.instrument.clone().unwrap_or_else(|| w.plain("sources.unknown_instrument"));
    let rows = series.readings.iter().enumerate().map(|(at, reading)| {
        let void = reading.void.clone().unwrap_or_default();
        let times = [("from", stamp(reading.from)), ("to", stamp(reading.to)), ("void", void)];
        TestRow {
            test: w.say(name, [("number", before + at + 1)]),
            place: reading.place.clone(),
            result: text(reading.value),
            times: w.say("sources.times", times),
            instrument: instrument.clone(),
        }
    });
    rows.collect()
}

fn rows(w: &Writer<'_>) -> Vec<SourceRow> {
    let sources = &w.words.sources.rows;
    let mut rows = vec![];
    let mut add = |what: &str, value: String, source: String| {
        rows.push(SourceRow { what: w.plain(what), value, source });
    };
    if let Some(air) = w.case.site.air {
        let spread = [("spread", w.figure(LEAST_SPREAD))];
        let source = w.fill(&sources.dew_point, &values(spread), "sources.toml: rows.dew_point");
        add("sources.dew_point", w.figure(air.dew_point), source);
    }
    if w.recommendation.floor.is_none() {
        return rows;
    }
    let us = values([("us", w.figures.units == Units::Us)]);
    let film = w.fill(&sources.film, &us, "sources.toml: rows.film");
    add("sources.film", w.plain("sources.film_value"), film);
    let (slab, _) = w.planned_slab();
    add("sources.cure", w.say("sources.cure_value", [("slab", slab)]), sources.cure.clone());
    add("sources.life", w.plain("sources.life_value"), sources.common.clone());
    if !chances(w).is_empty() {
        add("sources.even", w.plain("sources.even_value"), w.plain("sources.even_source"));
    }
    let book = w.case.book;
    let book_source = [("name", book.name.clone()), ("date", w.date(book.effective))];
    add("sources.book", w.plain("sources.book_value"), w.say("sources.book_source", book_source));
    rows
}
