//! Checks: hazards and faults of a floor on this slab, in this house, for this shop.
//!
//! A check is one file of one shape. It compares something measured with a limit that has a
//! source, and says what it found; the sentences that people read are in
//! `words/*/checks-moisture.toml`, `checks-slab.toml` and `checks-house.toml` under the check's name,
//! and what explains it in `explain-slab.toml` and `explain-house.toml`.

use crate::base::figure::Figure;
use crate::base::lists::each_once;
use crate::base::names::{Key, choices};
use crate::judge::laid::{CoatAsLaid, FloorAsLaid, floor_as_laid};
use crate::model::book::{Product, Resin};
use crate::model::rules::Subject;
use crate::price::case::{Case, FloorOption};
use crate::price::floor::Floor;
use crate::price::repair;

/// One check.
#[derive(Debug)]
pub struct Check {
    /// Stable name, as in `moisture-over-limit`.
    pub name: &'static str,
    /// The part of the paper in which its findings stand.
    pub place: FindingPlace,
    /// Origin of the limit.
    pub source: Source,
    /// Weights that its findings may have, most serious first.
    pub severities: &'static [Severity],
    /// The limits that are constants here, by the names that its explanation gives them. Limits of
    /// data sheets and shops are none of them.
    pub limits: &'static [(&'static str, Limit<Figure>)],
    pub find: fn(&Case<'_>) -> Vec<Finding>,
}

impl Check {
    /// A check whose findings have no weights and no limits of its own yet.
    const fn new(
        name: &'static str,
        place: FindingPlace,
        source: Source,
        find: fn(&Case<'_>) -> Vec<Finding>,
    ) -> Self {
        Self { name, place, source, severities: &[], limits: &[], find }
    }

    const fn severities(self, severities: &'static [Severity]) -> Self {
        Self { severities, ..self }
    }

    /// A stop about the slab, the house or the job.
    pub fn stop(&'static self) -> Finding {
        Finding::new(self, Severity::Stop)
    }

    pub fn wait(&'static self) -> Finding {
        Finding::new(self, Severity::Wait)
    }

    pub fn caution(&'static self) -> Finding {
        Finding::new(self, Severity::Caution)
    }

    pub fn note(&'static self) -> Finding {
        Finding::new(self, Severity::Note)
    }
}

/// A check is the same as another when its name is.
impl PartialEq for Check {
    fn eq(&self, other: &Self) -> bool {
        self.name == other.name
    }
}

choices! {
    /// The part of the proposal that shows a finding.
    #[schemars(rename = "Place")]
    FindingPlace {
        /// With the moisture result.
        Moisture = "moisture",
        /// With air and dew point.
        Air = "air",
        /// With the slab as found.
        Slab = "slab",
        /// With the comparison of the floors.
        Floors = "floors",
        /// With safety, air and local rules.
        Safety = "safety",
        /// For the shop alone, never for the customer.
        Shop = "shop",
    }
}

/// Origin of a limit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Source {
    /// A standard, a test method or a handbook, by its name: the same everywhere.
    Published(&'static str),
    /// A rule of the United States on a subject, by its name. It is a source there alone; elsewhere
    /// stands what the shop has looked up on the subject, or that the authority is to be asked.
    Rule(Subject, &'static str),
    /// A named source whose figure is known from memory alone. A limit with such a source is no
    /// ground for a stop.
    Unverified(&'static str),
    /// The product's data sheet, as the book has it.
    DataSheet,
    /// A figure that the shop has set for itself.
    Shop,
    /// Common practice, no published source.
    CommonPractice,
}

/// A limit that is a constant of the program, with the origin of its figure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limit<T> {
    pub value: T,
    pub source: Source,
}

impl<T> Limit<T> {
    pub const fn new(value: T, source: Source) -> Self {
        Self { value, source }
    }

    /// A limit of common practice, without a published source.
    pub const fn common_practice(value: T) -> Self {
        Self::new(value, Source::CommonPractice)
    }

    /// This limit as a figure for the words of a check.
    pub const fn shown(&self, figure: Figure) -> Limit<Figure> {
        Limit::new(figure, self.source)
    }

    /// The limit of a data sheet, or this one where the data sheet has none.
    pub fn unless(self, sheet: Option<T>) -> Self {
        sheet.map_or(self, |value| Self::new(value, Source::DataSheet))
    }
}

choices! {
    /// Weight of a finding, least first.
    Severity {
        /// Good to know.
        Note = "note",
        /// Something to watch or to do.
        Caution = "caution",
        /// The floor waits for a test or for its maker's word.
        Wait = "wait",
        /// The floor is off the offer, or the whole job waits.
        Stop = "stop",
    }
}

/// A finding of a check.
#[derive(Debug, Clone)]
pub struct Finding {
    pub check: &'static Check,
    pub severity: Severity,
    /// The option it is about; `None` when it is about the slab, the house or the job, and then
    /// a stop holds for every option.
    pub option: Option<Key>,
    pub measured: Option<Figure>,
    pub limit: Option<Figure>,
    /// Origin of this limit, when it is not the check's usual source.
    pub source: Option<Source>,
    /// Further values that the sentences use, by name.
    pub values: Vec<(&'static str, Figure)>,
}

impl Finding {
    pub fn new(check: &'static Check, severity: Severity) -> Self {
        debug_assert!(check.severities.contains(&severity), "{} at {severity:?}", check.name);
        Self {
            check,
            severity,
            option: None,
            measured: None,
            limit: None,
            source: None,
            values: vec![],
        }
    }

    pub fn about(mut self, choice: &FloorOption<'_>) -> Self {
        self.option = Some(choice.key().clone());
        self
    }

    /// The floor as it was laid that it is about.
    pub fn of(mut self, laid: &FloorAsLaid<'_>) -> Self {
        self.option = Some(laid.floor.system.key.clone());
        self
    }

    pub fn measured(mut self, figure: impl Into<Figure>) -> Self {
        self.measured = Some(figure.into());
        self
    }

    pub fn limit(mut self, figure: impl Into<Figure>) -> Self {
        self.limit = Some(figure.into());
        self
    }

    pub fn by(mut self, source: Source) -> Self {
        let verified = !matches!(source, Source::Unverified(_));
        debug_assert!(verified || self.severity < Severity::Stop, "{}: a stop", self.check.name);
        self.source = Some(source);
        self
    }

    pub fn value(mut self, name: &'static str, figure: impl Into<Figure>) -> Self {
        self.values.push((name, figure.into()));
        self
    }

    /// A value, where it is known.
    pub fn value_if(self, name: &'static str, figure: Option<impl Into<Figure>>) -> Self {
        if let Some(figure) = figure { self.value(name, figure) } else { self }
    }

    /// A value that is `yes` or `no`.
    pub fn yes_no(self, name: &'static str, is: bool) -> Self {
        self.value(name, if is { "yes" } else { "no" })
    }

    /// True where a value of that name says yes.
    pub fn says_yes(&self, name: &str) -> bool {
        self.values.iter().any(|(known, value)| *known == name && *value == Figure::from("yes"))
    }

    /// A value of names, where there are any.
    pub fn names(self, name: &'static str, names: Vec<String>) -> Self {
        if names.is_empty() { self } else { self.value(name, Figure::Texts(names)) }
    }
}

/// The findings about single floors, in the order of the offer.
fn each_floor<'c>(
    case: &'c Case<'_>,
    find: impl Fn(&'c FloorOption<'_>) -> Option<Finding>,
) -> Vec<Finding> {
    case.options.iter().filter_map(|option| Some(find(option)?.about(option))).collect()
}

/// The findings about the liquid coats of the floor as it was laid, bottom coat first; none in a job without
/// records.
fn each_coat_laid<F: IntoIterator<Item = Finding>>(
    case: &Case<'_>,
    find: impl Fn(&CoatAsLaid<'_>) -> F,
) -> Vec<Finding> {
    let Some(laid) = floor_as_laid(case) else { return vec![] };
    let found = laid.liquids().flat_map(|coat| find(coat).into_iter().map(move |one| (coat, one)));
    found.map(|(coat, finding)| finding.value("coat", coat.name()).of(&laid)).collect()
}

/// All findings of a case, most serious first, then in the order of [`CHECKS`] and of the options.
pub fn findings(case: &Case<'_>) -> Vec<Finding> {
    let mut all: Vec<Finding> = CHECKS.iter().flat_map(|check| (check.find)(case)).collect();
    all.sort_by_key(|finding| std::cmp::Reverse(finding.severity));
    all
}

/// The check of a name.
pub fn check(name: &str) -> Option<&'static Check> {
    CHECKS.iter().copied().find(|check| check.name == name)
}

/// A stop that holds for an option: one about it, or one about the whole job.
pub fn stops<'f>(findings: &'f [Finding], option: &Key) -> Vec<&'f Finding> {
    findings
        .iter()
        .filter(|f| {
            f.severity == Severity::Stop && f.option.as_ref().is_none_or(|about| about == option)
        })
        .collect()
}

/// Names of a floor's liquid coats of a kind, bottom coat first, each name once.
fn coats_with(floor: &Floor<'_>, kind: impl Fn(&Resin) -> bool) -> Vec<String> {
    names_once(floor.resins().filter(|(_, resin)| kind(resin)).map(|(coat, _)| coat.product))
}

/// Names of the fillers of a kind that this slab's repairs take, each name once.
fn fillers_with(case: &Case<'_>, kind: impl Fn(&Product) -> bool) -> Vec<String> {
    names_once(fillers(case).into_iter().filter(|product| kind(product)))
}

/// The fillers that this slab's repairs take.
fn fillers<'a>(case: &Case<'a>) -> Vec<&'a Product> {
    let repairs = repair::repairs(&case.job.shapes, case.book);
    repair::fillers(&repairs).into_iter().map(|(product, _)| product).collect()
}

/// The names of products in their order, each name once.
fn names_once<'a>(products: impl Iterator<Item = &'a Product>) -> Vec<String> {
    each_once(products.map(|product| product.name.clone()))
}

#[cfg(test)]
pub(crate) mod testing;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_stop_rests_on_a_figure_from_memory() {
        for check in CHECKS {
            let verified = !matches!(check.source, Source::Unverified(_));
            assert!(verified || !check.severities.contains(&Severity::Stop), "{}", check.name);
        }
    }
}

pub mod moisture_unknown;
pub mod moisture_over_limit;
pub mod moisture_limit_unknown;
pub mod moisture_not_judged;
pub mod moisture_method;
pub mod moisture_test_old;
pub mod ground_contact;
pub mod slab_on_ground_no_barrier;
pub mod retarder_unknown;
pub mod dew_point_spread;
pub mod slab_temperature;
pub mod air_humidity;
pub mod air_unknown;
pub mod surface_strength;
pub mod concrete_age;
pub mod surface_ph;
pub mod treatments;
pub mod inside_slab;
pub mod barrier_permeance;
pub mod water_drop;
pub mod oil;
pub mod salts;
pub mod moving_crack;
pub mod ambering;
pub mod hot_tires;
pub mod outdoor_sun;
pub mod outdoor_weather;
pub mod recoat_missed;
pub mod one_day_misses;
pub mod batch_gels;
pub mod tile_glue;
pub mod old_coating_lead;
pub mod silica;
pub mod isocyanate;
pub mod skin_allergy;
pub mod flammable_solvent;
pub mod voc_over_limit;
pub mod room_air;
pub mod slept_in;
pub mod wet_slip;
pub mod areas_not_placed;
pub mod day_overrun;
pub mod start_closed_day;
pub mod start_too_soon;
pub mod batch_tight;
pub mod humid_cure;
pub mod book_expired;
pub mod price_under_floor;
pub mod deposit_limit_unset;
pub mod deposit_capped;
pub mod paid_before_contract;
pub mod coat_not_recorded;
pub mod laid_date_differs;
pub mod coat_not_agreed;
pub mod film_low;
pub mod film_not_shown;
pub mod film_disagrees;
pub mod window_missed;
pub mod laid_out_of_conditions;
pub mod pot_life_passed;
pub mod laid_not_known;
pub mod voc_limit_unset;
pub mod cancellation_notice;
pub mod country_unset;
pub mod rules_old;
pub mod unusual_figure;

/// Every check, in the order in which readers meet them.
pub const CHECKS: &[&Check] = &[
    &moisture_unknown::CHECK,
    &moisture_over_limit::CHECK,
    &moisture_limit_unknown::CHECK,
    &moisture_not_judged::CHECK,
    &moisture_method::CHECK,
    &moisture_test_old::CHECK,
    &ground_contact::CHECK,
    &slab_on_ground_no_barrier::CHECK,
    &retarder_unknown::CHECK,
    &dew_point_spread::CHECK,
    &slab_temperature::CHECK,
    &air_humidity::CHECK,
    &air_unknown::CHECK,
    &surface_strength::CHECK,
    &concrete_age::CHECK,
    &surface_ph::CHECK,
    &treatments::CHECK,
    &inside_slab::CHECK,
    &barrier_permeance::CHECK,
    &water_drop::CHECK,
    &oil::CHECK,
    &salts::CHECK,
    &moving_crack::CHECK,
    &ambering::CHECK,
    &hot_tires::CHECK,
    &outdoor_sun::CHECK,
    &outdoor_weather::CHECK,
    &recoat_missed::CHECK,
    &one_day_misses::CHECK,
    &batch_gels::CHECK,
    &tile_glue::CHECK,
    &old_coating_lead::CHECK,
    &silica::CHECK,
    &isocyanate::CHECK,
    &skin_allergy::CHECK,
    &flammable_solvent::CHECK,
    &voc_over_limit::CHECK,
    &room_air::CHECK,
    &slept_in::CHECK,
    &wet_slip::CHECK,
    &areas_not_placed::CHECK,
    &day_overrun::CHECK,
    &start_closed_day::CHECK,
    &start_too_soon::CHECK,
    &batch_tight::CHECK,
    &humid_cure::CHECK,
    &book_expired::CHECK,
    &price_under_floor::CHECK,
    &deposit_limit_unset::CHECK,
    &deposit_capped::CHECK,
    &paid_before_contract::CHECK,
    &coat_not_recorded::CHECK,
    &laid_date_differs::CHECK,
    &coat_not_agreed::CHECK,
    &film_low::CHECK,
    &film_not_shown::CHECK,
    &film_disagrees::CHECK,
    &window_missed::CHECK,
    &laid_out_of_conditions::CHECK,
    &pot_life_passed::CHECK,
    &laid_not_known::CHECK,
    &voc_limit_unset::CHECK,
    &cancellation_notice::CHECK,
    &country_unset::CHECK,
    &rules_old::CHECK,
    &unusual_figure::CHECK,
];
