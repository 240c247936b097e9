//! Part 2: what was measured, and how it stands to what each floor may take.

use crate::base::figure::Figure;
use crate::base::quantity::*;
use crate::judge::checks::{Finding, FindingPlace, Severity};
use crate::model::job::{Job, Known, PhotoWhen, Poured, SheetFound, Units, WaterDrop};
use crate::papers::proposal::charts::{Scale, share};
use crate::papers::proposal::floor_plan::floor_plan;
use crate::papers::proposal::page::*;
use crate::papers::proposal::readings::Written;
use crate::papers::proposal::writer::{Writer, between};
use crate::papers::proposal::{Issue, photo_path};
use crate::price::case::FloorOption;
use crate::site::dew_point::{AirState, LEAST_SPREAD};
use crate::site::method::TestMethod;
use crate::site::moisture::{MoistureReading, ReadingPart, Series};
use crate::site::standing::{Headroom, Standing};
use crate::site::take_off::places_known;

pub fn slab(w: &Writer<'_>, issue: &Issue) -> SlabPart {
    let site = &w.case.site.moisture;
    let last = [
        site.mver.as_ref().map(|s| s.date),
        site.rh.as_ref().map(|s| s.date),
        site.sheets.as_ref().map(|s| s.date),
    ];
    let last = last.into_iter().flatten().max().map_or_else(String::new, |date| w.date(date));
    let findings = w.notices(&[FindingPlace::Moisture, FindingPlace::Air, FindingPlace::Slab]);
    let moisture = charts(w, Shown::All);
    SlabPart {
        intro: w.say("slab.intro", [("date", last)]),
        floor: floor_plan(w, issue.form(w.case.job), &moisture),
        facts: facts(w),
        pull: strength_meaning(w),
        moisture,
        moisture_notes: moisture_notes(w),
        dew: w.case.site.air.map(|air| dew(w, air)),
        findings_intro: w.plain_if(!findings.is_empty(), "slab.findings_intro"),
        findings,
        notes: w.case.job.notes.clone(),
        photos: photos_of(w, w.case.job, PhotoWhen::Before, issue),
    }
}

/// True where no floor has a price and moisture rules one out.
pub fn too_damp(w: &Writer<'_>) -> bool {
    let wet = |finding: &Finding| {
        finding.check.place == FindingPlace::Moisture && finding.severity == Severity::Stop
    };
    w.first().is_none() && w.findings.iter().any(wet)
}

/// Returns the sources of water and the times of drying, where moisture rules every floor out.
pub fn drying(w: &Writer<'_>) -> Option<Drying> {
    if !too_damp(w) {
        return None;
    }
    let none = minijinja::Value::UNDEFINED;
    Some(Drying {
        title: w.plain("drying.title"),
        intro: w.plain("drying.intro"),
        sources: w.lines("drying.sources", &none),
        alt: w.plain("drying.alt"),
        times_title: w.plain("drying.times_title"),
        times_intro: w.plain("drying.times_intro"),
        times: w.lines("drying.times", &none),
        again: w.plain("drying.again"),
    })
}

fn facts(w: &Writer<'_>) -> Vec<Fact> {
    let (job, take_off) = (w.case.job, w.case.site.take_off);
    let slab = &job.slab;
    let unknown = w.plain("slab.not_known");
    let mut facts = vec![];
    let mut add = |label: &str, value: String, note: String| {
        facts.push(w.fact(label, value, note));
    };
    add("slab.area", w.figure(take_off.floor), String::new());
    if take_off.upright > Area::ZERO {
        add("slab.upright", w.figure(take_off.upright), String::new());
    }
    let summed = w.plain_if(!places_known(&job.shapes.areas), "slab.edge_summed");
    add("slab.edge", w.figure(take_off.edge), summed);
    add("slab.thickness", slab.thickness.map_or(unknown.clone(), |t| w.figure(t)), String::new());
    add("slab.age", poured(w), String::new());
    let on_ground = w.plain(if slab.on_ground { "slab.yes" } else { "slab.no" });
    add("slab.on_ground", on_ground, String::new());
    let retarder = match slab.retarder {
        Known::Yes => w.plain("slab.retarder_yes"),
        Known::No => w.plain("slab.retarder_no"),
        Known::Unknown => unknown.clone(),
    };
    add("slab.retarder", retarder, String::new());
    add("slab.strength", slab.strength.map_or(unknown.clone(), |s| w.figure(s)), String::new());
    let drop = match slab.water_drop {
        Some(WaterDrop::SoaksIn) => w.plain("slab.soaks_in"),
        Some(WaterDrop::Beads) => w.plain("slab.beads"),
        None => unknown.clone(),
    };
    add("slab.water_drop", drop, String::new());
    let coating = slab.coating.map(|coating| w.plain(&format!("slab.{}", coating.word())));
    let coating = coating.unwrap_or(unknown);
    add("slab.coating", coating, String::new());
    if take_off.cracks > Length::ZERO {
        let count = job.shapes.cracks.len() as u32;
        let note = w.say("slab.crack_note", [("count", w.figure(Figure::Count(count)))]);
        add("slab.cracks", w.figure(take_off.cracks), note);
    }
    facts
}

/// The day or the year in which the concrete was placed, or that it is not known.
pub fn poured(w: &Writer<'_>) -> String {
    match w.case.job.slab.poured {
        Some(Poured::Day(day)) => w.date(day),
        Some(Poured::Year(year)) => w.say("slab.year", [("year", year)]),
        None => w.plain("slab.not_known"),
    }
}

/// The meaning of a strength of the surface, with the most that a data sheet of a first coat asks for; empty
/// where none was measured.
fn strength_meaning(w: &Writer<'_>) -> String {
    if w.case.job.slab.strength.is_none() {
        return String::new();
    }
    let floors = w.case.options.iter();
    let asked = floors.filter_map(|option| option.floor.first()?.strength_from);
    let most = asked.reduce(|most, one| if one > most { one } else { most });
    let asked = most.map_or_else(String::new, |asked| w.figure(asked));
    w.say_with("slab.pull", minijinja::context! { asked, us => w.case.job.units == Units::Us })
}

// ------------------------------------------------------------------------------ moisture

/// Which readings a chart draws. The highest is the one that counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shown {
    All,
    Highest,
}

/// One chart for each test method that was used.
pub fn charts(w: &Writer<'_>, shown: Shown) -> Vec<MoistureChart> {
    let moisture = &w.case.site.moisture;
    let mut charts = vec![];
    if let Some(series) = &moisture.mver {
        let unit = [("us", w.case.job.units == Units::Us)];
        let method = MethodDrawing {
            test: TestMethod::Dish,
            before: 0,
            title: w.plain("slab.mver_title"),
            unit: w.say("slab.mver_unit", unit),
            number: &|rate: Mver| w.figures.mver_number(rate),
            headroom: &|option: &FloorOption<'_>| option.moisture.mver,
        };
        charts.push(chart(w, series, &method, shown, None));
    }
    if let Some(series) = &moisture.rh {
        let method = MethodDrawing {
            test: TestMethod::Probe,
            before: moisture.mver.as_ref().map_or(0, |dishes| dishes.readings.len()),
            title: w.plain("slab.rh_title"),
            unit: w.plain("slab.rh_unit"),
            number: &|h: Humidity| h.as_percent(),
            headroom: &|option: &FloorOption<'_>| option.moisture.rh,
        };
        charts.push(chart(w, series, &method, shown, Some(100.0)));
    }
    charts
}

/// Drawing terms of one test method.
struct MethodDrawing<'m, Q> {
    test: TestMethod,
    /// Tests by other methods that are numbered before these.
    before: usize,
    title: String,
    unit: String,
    number: &'m dyn Fn(Q) -> f64,
    headroom: &'m dyn Fn(&FloorOption<'_>) -> Option<Headroom<Q>>,
}

/// A chart from zero (a bar that starts elsewhere would lie) to past every reading and limit, or to
/// the end of a scale that is `full` somewhere.
fn chart<Q: Written>(
    w: &Writer<'_>,
    series: &Series<Q>,
    method: &MethodDrawing<'_, Q>,
    shown: Shown,
    full: Option<f64>,
) -> MoistureChart {
    let options = w.case.options.iter();
    let limits: Vec<(&FloorOption<'_>, Headroom<Q>)> =
        options.filter_map(|option| Some((option, (method.headroom)(option)?))).collect();
    let drawn = series.readings.iter().enumerate();
    let drawn: Vec<(usize, &MoistureReading<Q>)> =
        drawn.filter(|(at, _)| shown == Shown::All || *at == series.highest).collect();
    let ends = drawn.iter().map(|(_, one)| (method.number)(one.value + one.doubt));
    let most = ends.chain(limits.iter().map(|(_, h)| (method.number)(h.limit))).fold(0.0, f64::max);
    let scale = Scale::around(0.0, full.unwrap_or(most * 1.05), 5.0);
    let mut readings = vec![];
    let mut spoken = vec![];
    // Readings of several days are told apart by their date.
    let days = series.readings.iter().any(|one| one.to.date() != series.date);
    for (at, reading) in drawn {
        let MoistureReading { place, value, doubt, .. } = reading;
        let numbered = [
            ("number", (method.before + at + 1).to_string()),
            ("place", place.clone()),
            ("date", if days { w.figures.date_short(reading.to.date()) } else { String::new() }),
            ("part", part_word(reading.part).to_owned()),
        ];
        let label = match shown {
            Shown::All => w.say("slab.reading", numbered),
            Shown::Highest => place.clone(),
        };
        let text = w.figure(value.of_slab());
        let alt =
            [("label", label.clone()), ("value", text.clone()), ("doubt", w.room_left(*doubt))];
        spoken.push(w.say("slab.alt_reading", alt));
        let (number, off) = ((method.number)(*value), (method.number)(*doubt));
        readings.push(ChartReading {
            label,
            value: text,
            at: share(scale.at(number)),
            from: share(scale.at(number - off)),
            to: share(scale.at(number + off)),
            highest: at == series.highest,
            faded: !reading.part.counts(),
        });
    }
    let limits = limits.into_iter().map(|(option, headroom)| {
        let room = w.room_left(between(headroom.limit, headroom.reading));
        let words = match headroom.standing {
            Standing::Clear if headroom.reading >= headroom.limit => w.plain("slab.full"),
            Standing::Clear => w.say("slab.spare", [("room", room)]),
            Standing::Over => w.say("slab.over", [("room", room)]),
            Standing::NotJudged => w.plain("slab.not_judged"),
            Standing::Close if option.moisture.is_near(method.test) => w.plain("slab.close"),
            Standing::Close => w.plain("slab.was_over"),
        };
        LimitLine {
            floor: option.key().clone(),
            label: w.name(option.key()),
            value: w.figure(headroom.limit.of_slab()),
            at: share(scale.at((method.number)(headroom.limit))),
            standing: headroom.standing.word(),
            words,
        }
    });
    let limits: Vec<LimitLine> = limits.collect();
    let spoken_limits = limits.iter().map(|line| {
        let LimitLine { label, value, words, .. } = line.clone();
        w.say("slab.alt_limit", [("label", label), ("value", value), ("words", words)])
    });
    let spoken_limits = spoken_limits.collect::<Vec<_>>().join("; ");
    let highest = series.highest();
    let caption = [
        ("count", series.count().to_string()),
        ("highest", w.figure(highest.value.of_slab())),
        ("place", highest.place.clone()),
        ("others", readings.iter().filter(|one| one.faded).count().to_string()),
    ];
    let alt = [("readings", spoken.join("; ")), ("limits", spoken_limits)];
    MoistureChart {
        title: method.title.clone(),
        unit: method.unit.clone(),
        ticks: scale.ticks(|value| w.figures.short(value, 1)),
        readings,
        limits,
        caption: w.say("slab.chart_caption", caption),
        alt: w.say("slab.chart_alt", alt),
    }
}

/// The plain word for the part that a reading plays, where it no longer counts.
fn part_word(part: ReadingPart) -> &'static str {
    match part {
        ReadingPart::Latest | ReadingPart::Unanswered => "",
        ReadingPart::Answered => "answered",
        ReadingPart::Void | ReadingPart::VoidReadAgain => "void",
    }
}

/// Returns the notes to read before the readings are compared.
pub fn moisture_notes(w: &Writer<'_>) -> Vec<String> {
    let moisture = &w.case.site.moisture;
    let mut notes = vec![];
    if !moisture.tested() {
        notes.push(w.plain("slab.no_moisture"));
    } else if !moisture.known() && moisture.sheets.as_ref().is_none_or(|s| !s.counts()) {
        notes.push(w.plain("slab.no_count"));
    }
    if let Some(sheets) = moisture.sheets.as_ref().filter(|sheets| sheets.counts()) {
        let damp = sheets.standing().filter(|sheet| sheet.value == SheetFound::Damp).count();
        notes.push(w.say("slab.sheets", [("count", sheets.count()), ("damp", damp)]));
    }
    if moisture.mver.is_some() && moisture.rh.is_some() {
        notes.push(w.plain("slab.two_methods"));
    }
    notes
}

// ----------------------------------------------------------------------------- dew point

fn dew(w: &Writer<'_>, air: AirState) -> DewGauge {
    let need_spread = strictest_spread(w);
    let need = air.dew_point + need_spread;
    let us = w.case.job.units == Units::Us;
    let number = |t: Temperature| if us { t.as_fahrenheit() } else { t.as_celsius() };
    let all = [air.dew_point, need, air.slab, air.air].map(number);
    let least = all.iter().copied().fold(f64::MAX, f64::min);
    let most = all.iter().copied().fold(f64::MIN, f64::max);
    let scale = Scale::around(least - 3.0, most + 3.0, 5.0);
    let at = |t: Temperature| share(scale.at(number(t)));
    let point = |kind, label: &str, t: Temperature| GaugePoint {
        kind,
        at: at(t),
        label: w.plain(label),
        value: w.figure(t),
    };
    let caption = minijinja::context! {
        date => w.case.job.air.map(|a| w.date(a.measured)).unwrap_or_default(),
        spread => w.figure(air.spread.max(Degrees::ZERO - air.spread)),
        need => w.figure(need_spread),
        below => air.spread < Degrees::ZERO,
    };
    let alt = [
        ("dew_point", w.figure(air.dew_point)),
        ("lowest", w.figure(need)),
        ("slab", w.figure(air.slab)),
        ("air", w.figure(air.air)),
        ("humidity", w.figure(Figure::Humidity(air.humidity))),
    ];
    DewGauge {
        ticks: scale.ticks(|value| w.figures.short(value, 0)),
        points: vec![
            point("dew", "slab.dew", air.dew_point),
            point("need", "slab.need", need),
            point("slab", "slab.slab", air.slab),
            point("air", "slab.air", air.air),
        ],
        wet_to: at(air.dew_point),
        safe_from: at(need),
        caption: w.say_with("slab.dew_caption", caption),
        alt: w.say("slab.dew_alt", alt),
    }
}

/// The widest spread that any coat on offer asks for.
fn strictest_spread(w: &Writer<'_>) -> Degrees {
    let resins = w.case.options.iter().flat_map(|option| option.floor.resins());
    resins.filter_map(|(_, resin)| resin.dew_spread).fold(LEAST_SPREAD, Degrees::max)
}

/// The photos of a job that were taken at some time, as pictures.
pub fn photos_of(w: &Writer<'_>, job: &Job, when: PhotoWhen, issue: &Issue) -> Vec<Picture> {
    let photos = job.photos.iter().enumerate().take(issue.photos);
    let pictures = photos.filter(|(_, photo)| photo.when == when).map(|(at, photo)| Picture {
        path: photo_path(at),
        alt: w.say("slab.photo_alt", [("caption", photo.caption.as_str())]),
        caption: photo.caption.clone(),
    });
    pictures.collect()
}
