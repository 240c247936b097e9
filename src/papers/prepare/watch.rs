//! Warnings for a crew on this job: findings of the checks that bear on its work, in short.

use serde::Serialize;

use crate::base::figure::Figure;
use crate::judge::checks::{Check, Finding, Severity};
use crate::judge::checks::{
    air_humidity, batch_gels, batch_tight, concrete_age, day_overrun, dew_point_spread,
    flammable_solvent, ground_contact, inside_slab, isocyanate, moisture_limit_unknown,
    moisture_method, moisture_not_judged, moisture_over_limit, moisture_test_old, moisture_unknown,
    moving_crack, oil, old_coating_lead, one_day_misses, recoat_missed, salts, silica,
    slab_temperature, start_closed_day, surface_ph, surface_strength, tile_glue, treatments,
    water_drop,
};
use crate::papers::proposal::writer::Writer;
use crate::price::case::FloorOption;

/// A finding as a crew needs it: what it is, what to do about it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Watch {
    pub title: String,
    pub does: String,
}

/// Warnings, and things that nobody looked at on the visit.
pub struct Watched {
    pub items: Vec<Watch>,
    pub unseen: String,
}

/// Checks whose cautions bear on the work, in the order of the day. The rest is for the customer
/// or the office: prices, papers, how a floor looks and wears.
const FOR_THE_CREW: &[&Check] = &[
    &start_closed_day::CHECK,
    &day_overrun::CHECK,
    &one_day_misses::CHECK,
    &tile_glue::CHECK,
    &old_coating_lead::CHECK,
    &silica::CHECK,
    &inside_slab::CHECK,
    &moisture_unknown::CHECK,
    &moisture_over_limit::CHECK,
    &moisture_limit_unknown::CHECK,
    &moisture_not_judged::CHECK,
    &moisture_method::CHECK,
    &moisture_test_old::CHECK,
    &ground_contact::CHECK,
    &concrete_age::CHECK,
    &surface_strength::CHECK,
    &surface_ph::CHECK,
    &treatments::CHECK,
    &water_drop::CHECK,
    &oil::CHECK,
    &salts::CHECK,
    &moving_crack::CHECK,
    &dew_point_spread::CHECK,
    &slab_temperature::CHECK,
    &air_humidity::CHECK,
    &flammable_solvent::CHECK,
    &isocyanate::CHECK,
    &batch_gels::CHECK,
    &batch_tight::CHECK,
    &recoat_missed::CHECK,
];

/// Checks that say when nobody looked, and that a crew can look at before it grinds.
const TO_LOOK_AT: &[&Check] = &[
    &tile_glue::CHECK,
    &old_coating_lead::CHECK,
    &treatments::CHECK,
    &oil::CHECK,
    &salts::CHECK,
    &water_drop::CHECK,
    &surface_strength::CHECK,
    &surface_ph::CHECK,
];

/// True for a finding about a coating that nobody looked for.
fn nobody_looked(finding: &Finding) -> bool {
    let unknown = Figure::Text("unknown".to_owned());
    finding.values.iter().any(|(name, value)| *name == "coating" && *value == unknown)
}

/// Returns the findings for a floor that bear on the work.
pub fn watch(w: &Writer<'_>, choice: &FloorOption<'_>) -> Watched {
    let about =
        w.findings.iter().filter(|f| f.option.as_ref().is_none_or(|key| key == choice.key()));
    let (mut items, mut unseen): (Vec<Watch>, Vec<String>) = (vec![], vec![]);
    let mut found: Vec<_> = about
        .filter_map(|f| Some((FOR_THE_CREW.iter().position(|check| *check == f.check)?, f)))
        .collect();
    found.sort_by_key(|(at, _)| *at);
    for (_, finding) in found {
        let note = finding.severity == Severity::Note;
        if TO_LOOK_AT.contains(&finding.check) && (note || nobody_looked(finding)) {
            unseen.push(w.plain(&format!("crew.look.{}", finding.check.name)));
        }
        if note {
            continue;
        }
        let (measured, limit) = w.measured_and_limit(finding);
        let known = minijinja::context! {
            measured => measured.unwrap_or_default(),
            limit => limit.unwrap_or_default(),
            us_rules => w.is_us(),
            lead => old_coating_lead::may_hold_lead(w.case.job),
        };
        let item = Watch {
            title: w.notice(finding).title,
            does: w.say_with(&format!("crew.watch.{}", finding.check.name), known),
        };
        if !items.contains(&item) {
            items.push(item);
        }
    }
    let unseen = match unseen.is_empty() {
        true => String::new(),
        false => w.say("crew.look.first", [("things", w.figures.list(&unseen))]),
    };
    Watched { items, unseen }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::layouts::Layouts;
    use crate::say::words::Words;

    #[test]
    fn all_that_a_crew_may_look_at_is_for_the_crew() {
        assert!(TO_LOOK_AT.iter().all(|check| FOR_THE_CREW.contains(check)));
    }

    #[test]
    fn every_check_for_the_crew_has_its_sentences() {
        let words = Words::read(&Layouts::default(), "en").unwrap();
        let known = |name: String| assert!(words.names().any(|known| known == name), "{name}");
        FOR_THE_CREW.iter().for_each(|check| known(format!("crew.watch.{}", check.name)));
        TO_LOOK_AT.iter().for_each(|check| known(format!("crew.look.{}", check.name)));
    }
}
