//! Which floor is recommended, by a rule that is printed with its steps.
//!
//! [`rule`] lists the steps; [`recommend`] takes them one by one, and the pages print the same list.
//! A floor is offered, waits for a test or for its maker's word, or is not offered. The rule knows
//! no chemistry: the fast-cure floor wins wherever its figures do.

use rust_decimal::Decimal;
use schemars::JsonSchema;
use serde::{Serialize, Serializer};

use crate::base::money::Cents;
use crate::base::names::{Key, choices};
use crate::base::quantity::{Humidity, Mver};
use crate::judge::checks::{
    Check, Finding, Limit, Severity, ambering, hot_tires, moving_crack, stops, surface_ph,
    surface_strength,
};
use crate::model::job::Wish;
use crate::price::case::{Case, FloorOption, Ground};
use crate::site::standing::{Headroom, Settles, Standing, exceeds};

/// The outcome, and how it came about.
#[derive(Debug, Clone, PartialEq)]
pub struct Recommendation {
    /// The floor that comes first; `None`: nothing may be offered yet.
    pub floor: Option<Key>,
    pub headline: Headline,
    /// Every floor in the order of the offer.
    pub states: Vec<(Key, OfferState)>,
    pub steps: Vec<StepTaken>,
}

/// Standing of a floor on the offer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OfferState {
    /// It may be signed for.
    Offered,
    /// It is priced, and may be signed for when this has settled it.
    Waits(Settles),
    /// It must not be laid as things are.
    NotOffered,
}

choices! {
    /// The kind of sentence that page one opens with.
    Headline {
        /// A floor is recommended.
        Recommend = "recommend",
        /// It is recommended inside its limit, by less than the test can tell or after a reading
        /// over it.
        Near = "near",
        /// The floor that comes first waits for a moisture test.
        TestFirst = "test-first",
        /// It waits for a word from the maker of its coat.
        AskFirst = "ask-first",
        /// No floor may be laid as things are.
        NotYet = "not-yet",
    }
}

impl OfferState {
    /// The thing that a waiting floor waits for.
    pub fn waits_for(self) -> Option<Settles> {
        match self {
            Self::Waits(settles) => Some(settles),
            Self::Offered | Self::NotOffered => None,
        }
    }
}

impl Recommendation {
    /// The standing of a floor on the offer; one that is not in the offer is not offered.
    pub fn state(&self, key: &Key) -> OfferState {
        let known = self.states.iter().find(|(floor, _)| floor == key);
        known.map_or(OfferState::NotOffered, |(_, state)| *state)
    }

    /// True when a floor may be signed for.
    pub fn offers(&self, key: &Key) -> bool {
        self.state(key) == OfferState::Offered
    }

    /// True when a floor waits for a test or for its maker's word.
    pub fn waits(&self, key: &Key) -> bool {
        matches!(self.state(key), OfferState::Waits(_))
    }

    /// True when a price is printed for a floor: it is offered, or it waits.
    pub fn prices(&self, key: &Key) -> bool {
        self.state(key) != OfferState::NotOffered
    }

    /// Floors that may be signed for, in the order of the offer.
    pub fn offered(&self) -> Vec<Key> {
        self.floors_where(|state| state == OfferState::Offered)
    }

    /// Floors with a price, in the order of the offer.
    pub fn priced(&self) -> Vec<Key> {
        self.floors_where(|state| state != OfferState::NotOffered)
    }

    fn floors_where(&self, wanted: impl Fn(OfferState) -> bool) -> Vec<Key> {
        let named = self.states.iter().filter(|(_, state)| wanted(*state));
        named.map(|(key, _)| key.clone()).collect()
    }

    /// True for the floor that comes first, whether it is recommended or waits.
    pub fn puts_first(&self, key: &Key) -> bool {
        self.floor.as_ref() == Some(key)
    }

    /// The floor that is recommended; `None` also when the one that comes first waits.
    pub fn recommended(&self) -> Option<&Key> {
        self.floor.as_ref().filter(|key| self.offers(key))
    }

    /// True for the floor that is recommended: it comes first and may be signed for.
    pub fn recommends(&self, key: &Key) -> bool {
        self.puts_first(key) && self.offers(key)
    }
}

/// A step of the rule.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(tag = "step", rename_all = "kebab-case")]
#[schemars(rename = "Rule")]
pub enum RuleStep {
    /// Floors that are not offered drop.
    NotOffered,
    /// The best moisture standing is kept.
    Moisture,
    /// A wish of the customer keeps what meets it best.
    Wish {
        /// The wish.
        wish: Wish,
    },
    /// Floors that this slab speaks against fall behind.
    Concern {
        /// The matter that speaks against them.
        concern: Concern,
    },
    /// The lowest price is kept.
    LowestPrice,
    /// The floor that the job names first is kept.
    OrderOfOffer,
}

impl RuleStep {
    /// The plain word that words files know it by.
    pub fn word(self) -> &'static str {
        match self {
            Self::NotOffered => "not-offered",
            Self::Moisture => "moisture",
            Self::Wish { .. } => "wish",
            Self::Concern { .. } => "concern",
            Self::LowestPrice => "lowest-price",
            Self::OrderOfOffer => "order",
        }
    }
}

choices! {
    /// A matter of this slab that speaks against a floor.
    Concern {
        /// Nothing holds back the ground's moisture, the data sheet is silent on it, and the
        /// reading takes up much of the limit.
        Damp = "damp",
        /// The surface may not hold it.
        Bond = "bond",
        /// A crack that moves comes back through it.
        MovingCracks = "moving-cracks",
        /// Daylight turns it amber.
        Ambering = "ambering",
        /// Warm tires may lift it.
        HotTires = "hot-tires",
    }
}

impl Concern {
    /// The checks whose caution about a floor is this concern. Hazards that every solvent or
    /// isocyanate has, the weather of the visit and days that run over are none.
    fn checks(self) -> &'static [&'static Check] {
        match self {
            Self::Damp => &[],
            Self::Bond => &[&surface_strength::CHECK, &surface_ph::CHECK],
            Self::MovingCracks => &[&moving_crack::CHECK],
            Self::Ambering => &[&ambering::CHECK],
            Self::HotTires => &[&hot_tires::CHECK],
        }
    }
}

/// The rule for a customer with these wishes: its steps in their order.
pub fn rule(wishes: &[Wish]) -> Vec<RuleStep> {
    let mut steps = vec![RuleStep::NotOffered, RuleStep::Moisture];
    steps.extend(wishes.iter().map(|wish| RuleStep::Wish { wish: *wish }));
    steps.extend(Concern::WORDS.iter().map(|(_, concern)| RuleStep::Concern { concern: *concern }));
    steps.extend([RuleStep::LowestPrice, RuleStep::OrderOfOffer]);
    steps
}

/// A step of the rule that was taken on this job.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[schemars(rename = "Step")]
pub struct StepTaken {
    /// The step.
    pub rule: RuleStep,
    /// The floors that it compared.
    pub compared: Vec<ComparedFloor>,
    /// The floors that it left.
    pub left: Vec<Key>,
}

impl StepTaken {
    /// True when the step left fewer floors than there were.
    pub fn decides(&self) -> bool {
        self.left.len() < self.compared.len()
    }

    /// True for a floor that the step compared and did not leave.
    pub fn left_behind(&self, floor: &Key) -> bool {
        self.compared.iter().any(|one| one.floor == *floor) && !self.left.contains(floor)
    }
}

/// A floor with the value by which a step compared it.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[schemars(rename = "Compared")]
pub struct ComparedFloor {
    /// The floor.
    pub floor: Key,
    /// The value: a word, a number, an amount of money or several, as the step compares them.
    #[schemars(with = "String")]
    pub value: Compared,
}

/// The value by which a step compared a floor.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Compared {
    State(OfferState),
    Moisture(MoistureRank),
    /// The day on which the car may return, counted from the first day of work; where no car drives, that
    /// on which things may be carried in. What falls into the night is the morning after.
    CarBack(u32),
    /// The longest usual life in years; the room over the reading where it breaks ties.
    Life(u32, Option<Band>),
    Price(Cents),
    Ambers(bool),
    Room(Band),
    Concern(bool),
    /// Its position in the offer, from 1.
    Position(u32),
}

impl Serialize for Compared {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl std::fmt::Display for Compared {
    /// The value as programs read it.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::State(OfferState::Offered) => write!(f, "offered"),
            Self::State(OfferState::Waits(_)) => write!(f, "waits"),
            Self::State(OfferState::NotOffered) => write!(f, "not-offered"),
            Self::Moisture(rank) => write!(f, "{}", rank.word()),
            Self::CarBack(number) | Self::Position(number) => write!(f, "{number}"),
            Self::Life(years, None) => write!(f, "{years}"),
            Self::Life(years, Some(room)) => write!(f, "{years}, {}", room.word()),
            Self::Price(price) => write!(f, "{}", price.decimal()),
            Self::Ambers(yes) | Self::Concern(yes) => {
                write!(f, "{}", if *yes { "yes" } else { "no" })
            }
            Self::Room(room) => write!(f, "{}", room.word()),
        }
    }
}

choices! {
    /// Moisture standings in the order in which the rule prefers them. A floor is safe when a
    /// damper slab than was found would not reach it.
    MoistureRank {
        Clear = "clear",
        CloseSafe = "close-safe",
        NotJudgedSafe = "not-judged-safe",
        Close = "close",
        NotJudged = "not-judged",
        /// Such a floor is never offered.
        Over = "over",
    }
}

impl MoistureRank {
    /// The rank of a floor.
    pub fn of(choice: &FloorOption<'_>, case: &Case<'_>) -> Self {
        match (choice.moisture.standing, choice.is_safe(&case.job.slab)) {
            (Standing::Clear, _) => Self::Clear,
            (Standing::Close, true) => Self::CloseSafe,
            (Standing::NotJudged, true) => Self::NotJudgedSafe,
            (Standing::Close, false) => Self::Close,
            (Standing::NotJudged, false) => Self::NotJudged,
            (Standing::Over, _) => Self::Over,
        }
    }
}

/// Multiples of a dish's reading, and points of humidity over a probe's, up to which a limit leaves
/// little room and some.
const DISH_BANDS: Limit<(f64, f64)> = Limit::common_practice((1.5, 3.0));
const PROBE_BANDS: Limit<(f64, f64)> = Limit::common_practice((5.0, 15.0));

choices! {
    /// Room of a limit over the highest reading, in three bands, so that a difference that no test
    /// can tell decides nothing.
    Band {
        /// Little room, or none that is known.
        Little = "little",
        Some = "some",
        Much = "much",
    }
}

impl Band {
    fn of_dish(room: Headroom<Mver>) -> Self {
        let (limit, reading) = (room.limit, room.reading);
        match () {
            () if exceeds(reading * DISH_BANDS.value.0, limit) => Self::Little,
            () if exceeds(reading * DISH_BANDS.value.1, limit) => Self::Some,
            () => Self::Much,
        }
    }

    fn of_probe(room: Headroom<Humidity>) -> Self {
        let within = |points| exceeds(room.reading + Humidity::percent(points), room.limit);
        match () {
            () if within(PROBE_BANDS.value.0) => Self::Little,
            () if within(PROBE_BANDS.value.1) => Self::Some,
            () => Self::Much,
        }
    }

    /// The worse of the methods that have a reading and a limit.
    pub fn of(choice: &FloorOption<'_>) -> Self {
        let dish = choice.moisture.mver.map(Self::of_dish);
        let probe = choice.moisture.rh.map(Self::of_probe);
        dish.into_iter().chain(probe).min().unwrap_or(Self::Little)
    }
}

/// A dish over this share of the limit, or a probe within so many points of it, speaks of damp.
const DAMP_SHARE: Limit<f64> = Limit::common_practice(0.5);
const DAMP_POINTS: Limit<Humidity> = Limit::common_practice(Humidity::percent(10.0));

/// True when damp speaks against a floor.
fn is_damp(choice: &FloorOption<'_>, case: &Case<'_>) -> bool {
    let silent = choice.floor.first().is_some_and(|resin| resin.ground_contact.is_none());
    let dish = choice
        .moisture
        .mver
        .is_some_and(|room| exceeds(room.reading, room.limit * DAMP_SHARE.value));
    let probe = choice
        .moisture
        .rh
        .is_some_and(|room| exceeds(room.reading + DAMP_POINTS.value, room.limit));
    !choice.is_safe(&case.job.slab) && silent && (dish || probe)
}

/// Works out how each floor stands on the offer.
fn offer_state(choice: &FloorOption<'_>, case: &Case<'_>, findings: &[Finding]) -> OfferState {
    let off = !stops(findings, choice.key()).is_empty()
        || choice.moisture.standing == Standing::Over
        || (choice.moisture.asks_maker().is_some() && case.job.slab.on_ground)
        || matches!(choice.ground, Ground::Unmet(_));
    match (off, choice.moisture.settles(), choice.ground) {
        (true, ..) => OfferState::NotOffered,
        (false, Some(settles), _) => OfferState::Waits(settles),
        (false, None, Ground::Waits) => OfferState::Waits(Settles::Test),
        (false, None, _) => OfferState::Offered,
    }
}

/// Applies the rule.
pub fn recommend(case: &Case<'_>, findings: &[Finding]) -> Recommendation {
    let states: Vec<(Key, OfferState)> = case
        .options
        .iter()
        .map(|choice| (choice.key().clone(), offer_state(choice, case, findings)))
        .collect();
    let mut left: Vec<&FloorOption<'_>> = case.options.iter().collect();
    let mut steps = vec![];
    for rule in rule(&case.job.wishes) {
        if left.is_empty() || (left.len() == 1 && !steps.is_empty()) {
            break;
        }
        let compared: Vec<Compared> =
            left.iter().map(|choice| compare(rule, choice, case, findings, &states)).collect();
        let best = compared.iter().map(|value| rank(*value)).min();
        let keeps = |value: Compared| match value {
            Compared::State(state) => state != OfferState::NotOffered,
            value => Some(rank(value)) == best,
        };
        let kept: Vec<&FloorOption<'_>> = left
            .iter()
            .zip(&compared)
            .filter(|(_, value)| keeps(**value))
            .map(|(choice, _)| *choice)
            .collect();
        let named = left
            .iter()
            .zip(&compared)
            .map(|(one, value)| ComparedFloor { floor: one.key().clone(), value: *value });
        steps.push(StepTaken {
            rule,
            compared: named.collect(),
            left: kept.iter().map(|choice| choice.key().clone()).collect(),
        });
        left = kept;
    }
    // The last floor left; with several alike the order of the offer has chosen.
    let first = left.first();
    let headline = first.map_or(Headline::NotYet, |choice| headline(choice, &states));
    Recommendation { floor: first.map(|choice| choice.key().clone()), headline, states, steps }
}

fn headline(choice: &FloorOption<'_>, states: &[(Key, OfferState)]) -> Headline {
    let state = states.iter().find(|(key, _)| key == choice.key()).map(|(_, state)| *state);
    match state {
        Some(OfferState::Waits(Settles::Test)) => Headline::TestFirst,
        Some(OfferState::Waits(Settles::Maker)) => Headline::AskFirst,
        Some(OfferState::Offered) if choice.moisture.standing == Standing::Close => Headline::Near,
        Some(OfferState::Offered) => Headline::Recommend,
        Some(OfferState::NotOffered) | None => Headline::NotYet,
    }
}

fn compare(
    rule: RuleStep,
    choice: &FloorOption<'_>,
    case: &Case<'_>,
    findings: &[Finding],
    states: &[(Key, OfferState)],
) -> Compared {
    let position = states.iter().position(|(key, _)| key == choice.key()).unwrap_or_default();
    match rule {
        RuleStep::NotOffered => Compared::State(states[position].1),
        RuleStep::Moisture => Compared::Moisture(MoistureRank::of(choice, case)),
        RuleStep::Wish { wish: Wish::Quick } => {
            let cars = case.job.has_cars();
            Compared::CarBack(choice.estimate.schedule.in_full_use(cars).by_day().day())
        }
        RuleStep::Wish { wish: Wish::Lasting } => {
            let open = case.job.slab.open_to_ground();
            Compared::Life(choice.floor.system.life_years.1, open.then(|| Band::of(choice)))
        }
        RuleStep::Wish { wish: Wish::LowPrice } | RuleStep::LowestPrice => {
            Compared::Price(choice.quote.total)
        }
        RuleStep::Wish { wish: Wish::NoYellowing } => {
            Compared::Ambers(choice.floor.shows_ambering())
        }
        RuleStep::Wish { wish: Wish::MoistureRoom } => Compared::Room(Band::of(choice)),
        RuleStep::Concern { concern: Concern::Damp } => Compared::Concern(is_damp(choice, case)),
        RuleStep::Concern { concern } => {
            Compared::Concern(has_caution(findings, choice.key(), concern))
        }
        RuleStep::OrderOfOffer => Compared::Position(position as u32 + 1),
    }
}

/// The order of what was compared: lower is better.
fn rank(value: Compared) -> (Decimal, u32) {
    let yes_no = |against: bool| (Decimal::from(u32::from(against)), 0);
    match value {
        Compared::State(state) => yes_no(state == OfferState::NotOffered),
        Compared::Moisture(rank) => (Decimal::from(rank as u32), 0),
        Compared::CarBack(day) | Compared::Position(day) => (Decimal::from(day), 0),
        Compared::Life(years, room) => {
            (-Decimal::from(years), room.map_or(0, |room| Band::Much as u32 - room as u32))
        }
        Compared::Price(price) => (price.decimal(), 0),
        Compared::Ambers(against) | Compared::Concern(against) => yes_no(against),
        Compared::Room(room) => (-Decimal::from(room as u32), 0),
    }
}

/// True when a check of a concern cautions about a floor, or about the slab for every floor.
fn has_caution(findings: &[Finding], key: &Key, concern: Concern) -> bool {
    findings.iter().any(|finding| {
        finding.severity >= Severity::Caution
            && concern.checks().contains(&finding.check)
            && finding.option.as_ref().is_none_or(|about| about == key)
    })
}
