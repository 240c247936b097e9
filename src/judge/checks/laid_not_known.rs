//! `laid-not-known`: what nobody wrote down of a coat that was laid.
//!
//! Note: without it nobody can tell if its conditions, its window or its film were kept. Not known is never
//! a pass.

use crate::base::lists::each_once;
use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source, each_coat_laid};
use crate::model::job::CoatRecord;
use crate::price::case::Case;

pub const CHECK: Check = Check::new("laid-not-known", FindingPlace::Shop, Source::Shop, find)
    .severities(&[Severity::Note]);

fn find(case: &Case<'_>) -> Vec<Finding> {
    each_coat_laid(case, |coat| {
        let open = each_once(coat.records.iter().flat_map(|one| left_open(one.record)));
        let keys = open.into_iter().map(str::to_owned).collect::<Vec<_>>();
        (!keys.is_empty()).then(|| CHECK.note().names("keys", keys))
    })
}

/// The keys that a record leaves open, as they are written in the job and in the order of the crew sheet.
fn left_open(record: &CoatRecord) -> Vec<&'static str> {
    let open = [
        ("end", record.end.is_none()),
        ("air", record.air.is_none()),
        ("humidity", record.humidity.is_none()),
        ("slab", record.slab.is_none()),
        ("used", record.used.is_none()),
    ];
    open.into_iter().filter(|(_, open)| *open).map(|(key, _)| key).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::figure::Figure;
    use crate::judge::checks::testing::*;

    #[test]
    fn what_is_left_open_is_named() {
        let open = BARRIER.replace("slab = \"68 F\", ", "").replace("humidity = \"50 %\", ", "");
        CHECK.says([
            (laid(&[BARRIER, TOP]), "barrier", SILENT),
            (laid(&[&open, TOP]), "barrier", NOTE),
        ]);
        let keys = laid(&[&open, TOP]).values(&CHECK, "keys");
        assert_eq!(keys, [Figure::Texts(vec!["humidity".into(), "slab".into()])]);
    }
}
