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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::names::Key;
    use crate::base::quantity::{Mass, Volume};
    use crate::reprice::{Cause, CauseKind, ChangedThing, FloorPrice, JobState, Prices, Repriced};

    fn outcome(units: Units, causes: Vec<Cause>) -> Outcome {
        let floor = |key: &str, before, after, causes| FloorPrice {
            floor: Key(key.into()),
            before,
            after,
            causes,
        };
        let repriced = Repriced {
            recommended_before: Some(Key("barrier".into())),
            recommended_after: Some(Key("plain".into())),
            floors: vec![
                floor("barrier", Some(Cents(500_000)), Some(Cents(490_050)), causes),
                floor("plain", None, Some(Cents(1)), vec![]),
            ],
        };
        Outcome {
            path: "a/job.toml".into(),
            number: "7".into(),
            state: JobState::StopFound,
            prices: Some(Prices {
                units,
                currency: "USD".into(),
                valid_until: jiff::civil::date(2026, 6, 11),
                compared: true,
                repriced,
            }),
            trouble: "none".into(),
            written: Some("new.pdf".into()),
        }
    }

    fn rows(outcomes: &[Outcome]) -> Vec<String> {
        sheet(outcomes).lines().skip(1).map(str::to_owned).collect()
    }

    /// A gallon is 3.785 L (NIST SP 811), and causes stand with the strongest first, whichever way they go.
    #[test]
    fn a_row_says_price_and_causes_of_a_floor() {
        let of_epoxy = |kind: CauseKind, sizes| {
            let product = Some(Key("epoxy".into()));
            ChangedThing { product, sizes, ..kind.into() }
        };
        let gallon = vec![KitMeasure::Volume(Volume::gallons(1.0))];
        let pounds =
            vec![KitMeasure::Mass(Mass::pounds(40.0)), KitMeasure::Mass(Mass::pounds(5.0))];
        let cause = |what, cents| Cause { what, change: Cents(cents) };
        let wage = ChangedThing { key: Some("labor.wage"), ..CauseKind::Book.into() };
        let causes = vec![
            cause(of_epoxy(CauseKind::ProductFigures, vec![]), 50),
            cause(of_epoxy(CauseKind::KitSizes, pounds), -12_000),
            cause(of_epoxy(CauseKind::ProductPrice, gallon), 2_005),
            cause(wage, 7),
            cause(CauseKind::Rounding.into(), -12),
        ];
        let us = rows(&[outcome(Units::Us, causes.clone())]);
        let start = "a/job.toml,7,stop found,2026-06-11";
        assert_eq!(
            us,
            [
                format!(
                    "{start},barrier,yes,no,5000.00,4900.50,-99.50,USD,\"epoxy kit sizes (40 lb, 5 lb) -120.00; \
                     epoxy price (1 gal) 20.05; epoxy figures 0.50; rounding -0.12; labor.wage 0.07\",new.pdf,none"
                ),
                format!("{start},plain,no,yes,,0.01,,USD,,new.pdf,none"),
            ]
        );
        let metric = &rows(&[outcome(Units::Metric, causes)])[0];
        assert!(metric.contains("epoxy price (3.785 L) 20.05"), "{metric}");
        assert!(metric.contains("epoxy kit sizes (18.144 kg, 2.268 kg)"), "{metric}");
    }

    /// A job that could not be priced has one row, so that no job is left out.
    #[test]
    fn a_job_without_a_price_has_a_row() {
        let unread = Outcome {
            state: JobState::Unreadable,
            prices: None,
            written: None,
            ..outcome(Units::Us, vec![])
        };
        assert_eq!(rows(&[unread]), ["a/job.toml,7,could not be read,,,,,,,,,,,none"]);
    }
}
