//! Many jobs as a spreadsheet: a row for each floor of each job.

use crate::base::money::Cents;
use crate::base::spreadsheet::{guard_cell, to_csv};
use crate::model::job::Units;
use crate::reprice::{KitMeasure, Outcome};

const COLUMNS: [&str; 14] = [
    "path",
    "job",
    "state",
    "valid_until",
    "floor",
    "recommended_before",
    "recommended_after",
    "before",
    "after",
    "change",
    "currency",
    "causes",
    "written",
    "trouble",
];

/// The jobs as comma-separated values. A job without a price has one row.
pub fn sheet(outcomes: &[Outcome]) -> String {
    let mut rows: Vec<Vec<String>> = vec![COLUMNS.map(str::to_owned).to_vec()];
    for outcome in outcomes {
        let floors = outcome.prices.iter().flat_map(|prices| &prices.repriced.floors);
        let before = rows.len();
        rows.extend(floors.map(|floor| row(outcome, Some(floor))));
        if rows.len() == before {
            rows.push(row(outcome, None));
        }
    }
    to_csv(&rows)
}

fn row(outcome: &Outcome, floor: Option<&super::FloorPrice>) -> Vec<String> {
    let prices = outcome.prices.as_ref();
    let units = prices.map_or(Units::Metric, |prices| prices.units);
    let money = |cents: Option<Cents>| cents.map_or_else(String::new, |cents| cents.to_string());
    let yes = |yes: bool| if yes { "yes" } else { "no" }.to_owned();
    let of_floor = |text: &dyn Fn(&super::FloorPrice, &super::Repriced) -> String| {
        floor.zip(prices).map_or_else(String::new, |(floor, prices)| text(floor, &prices.repriced))
    };
    vec![
        guard_cell(&outcome.path),
        guard_cell(&outcome.number),
        outcome.state.words().to_owned(),
        prices.map_or_else(String::new, |prices| prices.valid_until.to_string()),
        guard_cell(&of_floor(&|floor, _| floor.floor.0.clone())),
        of_floor(&|floor, all| yes(all.recommended_before.as_ref() == Some(&floor.floor))),
        of_floor(&|floor, all| yes(all.recommended_after.as_ref() == Some(&floor.floor))),
        money(floor.and_then(|floor| floor.before)),
        money(floor.and_then(|floor| floor.after)),
        money(floor.and_then(|floor| floor.change())),
        prices.map_or_else(String::new, |prices| prices.currency.clone()),
        guard_cell(&of_floor(&|floor, _| causes(floor, units))),
        guard_cell(outcome.written.as_deref().unwrap_or_default()),
        guard_cell(&outcome.trouble),
    ]
}

/// Every cause with its amount, the strongest first: `barrier-epoxy price 41.29; rounding -0.12`.
fn causes(floor: &super::FloorPrice, units: Units) -> String {
    let kit_size = |size: KitMeasure| kit_size(size, units);
    let causes = floor.strongest();
    let one = |cause: &&super::Cause| format!("{} {}", cause.what.plain(&kit_size), cause.change);
    causes.iter().map(one).collect::<Vec<_>>().join("; ")
}

/// A kit's size in the units of its job.
fn kit_size(size: KitMeasure, units: Units) -> String {
    let (volume_unit, mass_unit) = units.of_trade();
    let us = units == Units::Us;
    let rounded = |value: f64| (value * 1000.0).round() / 1000.0;
    match size {
        KitMeasure::Volume(volume) => {
            let content = if us { volume.as_gallons() } else { volume.as_liters() };
            format!("{} {volume_unit}", rounded(content))
        }
        KitMeasure::Mass(mass) => {
            let content = if us { mass.as_pounds() } else { mass.as_kilograms() };
            format!("{} {mass_unit}", rounded(content))
        }
    }
}
