//! A question of `check`: a floor whose price for its area is far from what the papers of similar jobs beside
//! it ask. It stops nothing, and it is asked of the shop alone.

use std::fs;
use std::path::{Path, PathBuf};

use slableaf::base::money::Cents;
use slableaf::base::quantity::Area;
use slableaf::judge::Judged;
use slableaf::model::job::Units;
use slableaf::price::plausible::far_from_similar;
use slableaf::read::read_job;
use slableaf::say::figures::Figures;

use crate::shell::args::Paper;
use crate::shell::store::{folder_of, has_usual_name, read_text, records_beside, toml_files};
use crate::shell::terminal::Report;

/// Folders beside a job that are looked into.
const MOST_FOLDERS: usize = 500;

/// Area and price of each floor that another job's latest paper offers.
struct Issued {
    floor: String,
    area: f64,
    price: Cents,
}

/// Asks about each floor whose price is far from that of similar jobs.
pub fn ask(path: &Path, judged: &Judged<'_>, figures: &Figures<'_>, report: &mut Report) {
    let case = &judged.case;
    let others = issued_beside(path, &case.job.number.0, &case.book.currency);
    let area = case.site.take_off.coated();
    for option in &case.options {
        let same = others.iter().filter(|one| one.floor == option.key().0);
        let same: Vec<(f64, Cents)> = same.map(|one| (one.area, one.price)).collect();
        let own = option.estimate.total();
        let found = far_from_similar((area.as_square_meters(), own), &same);
        let Some((usual, jobs)) = found else { continue };
        let (unit, each) = match case.job.units {
            Units::Us => ("sq ft", Area::square_feet(1.0)),
            Units::Metric => ("m2", Area::square_meters(1.0)),
        };
        let rate =
            |cents: f64| figures.money(Cents((cents * each.as_square_meters()).round() as i64));
        let own = rate(own.0 as f64 / area.as_square_meters());
        let usual = rate(usual.0 as f64);
        let key = option.key();
        report.warn(
            &format!(
                "{key} costs {own} a {unit} here, and {usual} in the middle of {jobs} similar jobs"
            ),
            "look at area, rates and prices once more; if it is meant, leave it as it is",
        );
    }
}

/// The floors that the latest papers of the jobs in the folders beside this one offer.
fn issued_beside(path: &Path, own: &str, currency: &str) -> Vec<Issued> {
    let folder = std::path::absolute(folder_of(path)).unwrap_or_default();
    let Some(beside) = folder.parent() else { return vec![] };
    let entries = fs::read_dir(beside).into_iter().flatten().flatten().map(|entry| entry.path());
    let mut folders: Vec<PathBuf> = entries.filter(|path| path.is_dir()).collect();
    folders.sort();
    folders.truncate(MOST_FOLDERS);
    let jobs = folders.iter().filter_map(|folder| toml_files(folder).ok()).flatten();
    let jobs = jobs.filter(|path| has_usual_name(path));
    jobs.filter_map(|path| issued(&path, own, currency)).flatten().collect()
}

fn issued(path: &Path, own: &str, currency: &str) -> Option<Vec<Issued>> {
    let job = read_job(&read_text(path).ok()?.0).alone().ok()?;
    let records = records_beside(path, &job).ok()?;
    let facts = records.latest(Paper::Proposal.name()).ok()??.record.facts;
    let (flat, upright) = facts.area_m2;
    let is_other = job.number.0 != own && facts.currency == currency && job.spaces.is_empty();
    let (area, floors) = (flat + upright, facts.floors.into_iter());
    let floors = floors.map(|one| Issued { floor: one.key, area, price: Cents(one.total) });
    is_other.then(|| floors.collect())
}
