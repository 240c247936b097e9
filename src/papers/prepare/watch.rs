//! Warnings for a crew on this job: findings of the checks that bear on its work, in short.

use serde::Serialize;

use crate::base::figure::Figure;
use crate::base::lists::each_once;
use crate::judge::checks::{self, Check, Finding, Severity, old_coating_lead};
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
    &checks::start_closed_day::CHECK,
    &checks::day_overrun::CHECK,
    &checks::one_day_misses::CHECK,
    &checks::tile_glue::CHECK,
    &checks::old_coating_lead::CHECK,
    &checks::silica::CHECK,
    &checks::inside_slab::CHECK,
    &checks::moisture_unknown::CHECK,
    &checks::moisture_over_limit::CHECK,
    &checks::moisture_limit_unknown::CHECK,
    &checks::moisture_not_judged::CHECK,
    &checks::moisture_method::CHECK,
    &checks::moisture_test_old::CHECK,
    &checks::ground_contact::CHECK,
    &checks::concrete_age::CHECK,
    &checks::surface_strength::CHECK,
    &checks::surface_ph::CHECK,
    &checks::treatments::CHECK,
    &checks::water_drop::CHECK,
    &checks::oil::CHECK,
    &checks::salts::CHECK,
    &checks::moving_crack::CHECK,
    &checks::dew_point_spread::CHECK,
    &checks::slab_temperature::CHECK,
    &checks::air_humidity::CHECK,
    &checks::outdoor_weather::CHECK,
    &checks::room_air::CHECK,
    &checks::slept_in::CHECK,
    &checks::flammable_solvent::CHECK,
    &checks::isocyanate::CHECK,
    &checks::batch_gels::CHECK,
    &checks::batch_tight::CHECK,
    &checks::recoat_missed::CHECK,
];

/// Checks that say when nobody looked, and that a crew can look at before it grinds.
const TO_LOOK_AT: &[&Check] = &[
    &checks::tile_glue::CHECK,
    &checks::old_coating_lead::CHECK,
    &checks::treatments::CHECK,
    &checks::oil::CHECK,
    &checks::salts::CHECK,
    &checks::water_drop::CHECK,
    &checks::surface_strength::CHECK,
    &checks::surface_ph::CHECK,
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
    let place = |f: &Finding| FOR_THE_CREW.iter().position(|check| *check == f.check);
    let mut found: Vec<_> = about.filter_map(|f| Some((place(f)?, f))).collect();
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
        items.push(Watch {
            title: w.notice(finding).title,
            does: w.say_with(&format!("crew.watch.{}", finding.check.name), known),
        });
    }
    let unseen = match unseen.is_empty() {
        true => String::new(),
        false => w.say("crew.look.first", [("things", w.figures.list(&unseen))]),
    };
    Watched { items: each_once(items), unseen }
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
