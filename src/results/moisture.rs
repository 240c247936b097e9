//! Moisture tests of the slab in the results: each reading with the part that it plays, and the
//! departures from its method.

use schemars::JsonSchema;
use serde::Serialize;

use crate::base::quantity::{Humidity, Mver};
use crate::model::job::SheetFound;
use crate::papers::proposal::writer::Writer;
use crate::results::values::Day;
use crate::site::method::MethodFault;
use crate::site::moisture::{self, MoistureReading, ReadingPart, Series};

/// Results of the moisture tests. The two methods measure different things and are never
/// converted into each other; a method that was not used is null, never a pass.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Moisture {
    /// Number of tests that either method asks for on a floor of this size.
    pub tests_needed: u32,
    /// Calcium chloride dishes (ASTM F1869).
    pub dishes: Option<Tests<DishRate>>,
    /// Humidity probes in drilled holes (ASTM F2170).
    pub probes: Option<Tests<ProbeHumidity>>,
    /// Plastic sheets taped to the slab (ASTM D4263).
    pub sheets: Option<Sheets>,
}

impl Moisture {
    /// None of the whole job: each space has its own.
    pub fn none() -> Self {
        Self { tests_needed: 0, dishes: None, probes: None, sheets: None }
    }

    pub fn of(w: &Writer<'_>) -> Self {
        let site = &w.case.site;
        Self {
            tests_needed: moisture::tests_needed(site.take_off.floor),
            dishes: site.moisture.mver.as_ref().map(Tests::from),
            probes: site.moisture.rh.as_ref().map(Tests::from),
            sheets: site.moisture.sheets.as_ref().map(Sheets::from),
        }
    }
}

/// The dishes or the probes of a job.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Tests<V> {
    /// Every reading, in the order in which the job has them.
    pub readings: Vec<Reading<V>>,
    /// The highest reading that counts, by which everything is decided.
    pub highest: Reading<V>,
    /// The day of the last reading that counts.
    pub date: Day,
    /// The instrument, as typed; null when the job does not name it.
    pub instrument: Option<String>,
    /// Departures from the method.
    pub faults: Vec<MethodFault>,
}

/// Plastic sheets of a job.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Sheets {
    /// Every sheet, in the order in which the job has them.
    pub readings: Vec<Reading<SheetState>>,
    /// Number of sheets that a floor of this size needs.
    pub needed: u32,
    /// The day of the last reading that counts.
    pub date: Day,
    /// Departures from the method.
    pub faults: Vec<MethodFault>,
}

/// One dish, one probe or one plastic sheet.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Reading<V> {
    /// Its place, as typed.
    pub place: String,
    #[serde(flatten)]
    pub value: V,
    /// Local day and time at which a dish was set, a hole drilled, a sheet taped down.
    pub from: String,
    /// Local day and time at which a dish or a sheet was lifted, a probe read.
    pub to: String,
    /// The part that it plays among all readings of its place by its method.
    pub part: ReadingPart,
}

/// The result of a dish.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct DishRate {
    /// Moisture vapor emission rate, pounds per 1000 square feet in 24 hours.
    pub rate_lb_per_1000ft2_24h: Mver,
    /// Doubt either way from the step of the scale, in the same unit.
    pub doubt_lb_per_1000ft2_24h: Mver,
}

/// The result of a probe.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ProbeHumidity {
    /// Relative humidity inside the slab, percent.
    pub humidity_percent: Humidity,
    /// Doubt either way from the accuracy of the probe, percent of relative humidity.
    pub doubt_percent: Humidity,
}

/// The result of a plastic sheet.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct SheetState {
    /// True when its underside or the concrete below was damp.
    pub damp: bool,
}

impl From<&MoistureReading<Mver>> for DishRate {
    fn from(r: &MoistureReading<Mver>) -> Self {
        Self { rate_lb_per_1000ft2_24h: r.value, doubt_lb_per_1000ft2_24h: r.doubt }
    }
}

impl From<&MoistureReading<Humidity>> for ProbeHumidity {
    fn from(r: &MoistureReading<Humidity>) -> Self {
        Self { humidity_percent: r.value, doubt_percent: r.doubt }
    }
}

impl From<&MoistureReading<SheetFound>> for SheetState {
    fn from(r: &MoistureReading<SheetFound>) -> Self {
        Self { damp: r.value == SheetFound::Damp }
    }
}

impl<Q, V: for<'r> From<&'r MoistureReading<Q>>> From<&MoistureReading<Q>> for Reading<V> {
    fn from(r: &MoistureReading<Q>) -> Self {
        Self {
            place: r.place.clone(),
            value: r.into(),
            from: r.from.to_string(),
            to: r.to.to_string(),
            part: r.part,
        }
    }
}

impl<Q: Copy, V: for<'r> From<&'r MoistureReading<Q>>> From<&Series<Q>> for Tests<V> {
    fn from(series: &Series<Q>) -> Self {
        Self {
            readings: series.readings.iter().map(Reading::from).collect(),
            highest: series.highest().into(),
            date: series.date.into(),
            instrument: series.instrument.clone(),
            faults: series.faults.clone(),
        }
    }
}

impl From<&Series<SheetFound>> for Sheets {
    fn from(series: &Series<SheetFound>) -> Self {
        Self {
            readings: series.readings.iter().map(Reading::from).collect(),
            needed: series.needed,
            date: series.date.into(),
            faults: series.faults.clone(),
        }
    }
}
