//! The reason for which a floor comes first: its standing to the moisture, then the step of the
//! rule that decided.
//!
//! No sentence here is a superlative. What a step decided is said as a comparison with the floors that
//! it left behind, by name, and only after [`Comparison::holds`] has found it so between this floor
//! and each of them. A floor that fell to an earlier step is not named, and nothing is said of it.

use minijinja::context;

use crate::base::names::{Key, choices};
use crate::judge::recommend::{Band, Compared, MoistureRank, RuleStep, StepTaken};
use crate::model::book::MoistureTestAsked;
use crate::model::job::Wish;
use crate::papers::proposal::chosen::concern_words;
use crate::papers::proposal::writer::{Writer, joined, values};
use crate::price::case::FloorOption;
use crate::site::standing::{Settles, Standing, StandingReason};

choices! {
    /// Comparison that a sentence makes between the first floor and another one, by the name of the
    /// sentence.
    Comparison {
        /// Its car is back, or it is in full use, on an earlier day.
        Sooner = "reason.sooner",
        /// Its usual life is longer at its end, and not shorter at its start.
        LastsLonger = "reason.lasts_longer",
        /// It leaves more room over the reading.
        MoreRoom = "reason.more_room",
        /// It costs less.
        CostsLess = "reason.costs_less",
        /// No coat of it in daylight turns amber, and one of the other's does.
        NoAmber = "reason.no_amber",
        /// Something about this slab speaks against the other and not against it.
        Against = "reason.against",
    }
}

impl Comparison {
    /// True when it is so between the two floors.
    fn holds(
        self,
        steps: &[StepTaken],
        (this, other): (&FloorOption<'_>, &FloorOption<'_>),
        cars: bool,
    ) -> bool {
        let compared = |step: &StepTaken, option: &FloorOption<'_>| {
            step.compared.iter().find(|one| one.floor == *option.key()).map(|one| one.value)
        };
        match self {
            Self::Sooner => {
                let day = |option: &FloorOption<'_>| {
                    option.estimate.schedule.in_full_use(cars).by_day().day()
                };
                day(this) < day(other)
            }
            Self::LastsLonger => {
                let (from, to) = this.floor.system.life_years;
                let (other_from, other_to) = other.floor.system.life_years;
                to > other_to && from >= other_from
            }
            Self::MoreRoom => {
                // Where no reading stands beside a limit there is no room to tell of.
                let told = other.moisture.mver.is_some() || other.moisture.rh.is_some();
                told && Band::of(this) > Band::of(other)
            }
            Self::CostsLess => this.quote.total < other.quote.total,
            Self::NoAmber => !this.floor.shows_ambering() && other.floor.shows_ambering(),
            Self::Against => steps.iter().any(|step| {
                compared(step, this) == Some(Compared::Concern(false))
                    && compared(step, other) == Some(Compared::Concern(true))
            }),
        }
    }

    /// True where a step followed a wish, and the comparison is the one wished for: whoever wished for a long
    /// life did not ask for room.
    fn is_wished(self, rule: RuleStep) -> bool {
        match rule {
            RuleStep::Wish { wish: Wish::Lasting } => self == Self::LastsLonger,
            RuleStep::Wish { .. } => true,
            _ => false,
        }
    }

    /// Every comparison that a step of the rule may have decided by, the more telling first.
    fn of(rule: RuleStep) -> &'static [Self] {
        match rule {
            RuleStep::Wish { wish: Wish::Quick } => &[Self::Sooner],
            RuleStep::Wish { wish: Wish::Lasting } => &[Self::LastsLonger, Self::MoreRoom],
            RuleStep::Wish { wish: Wish::MoistureRoom } => &[Self::MoreRoom],
            RuleStep::Wish { wish: Wish::LowPrice } | RuleStep::LowestPrice => &[Self::CostsLess],
            RuleStep::Wish { wish: Wish::NoYellowing } => &[Self::NoAmber],
            RuleStep::Concern { .. } => &[Self::Against],
            RuleStep::NotOffered | RuleStep::Moisture | RuleStep::OrderOfOffer => &[],
        }
    }
}

/// The reason for which a floor comes first.
pub fn reason(w: &Writer<'_>, first: &FloorOption<'_>) -> String {
    joined([moisture_standing(w, first), decisive_comparison(w, first), over_cheaper(w, first)])
}

/// Comparisons that tell what a dearer floor does better, the more telling first.
const OVER_CHEAPER: &[Comparison] =
    &[Comparison::LastsLonger, Comparison::MoreRoom, Comparison::Sooner, Comparison::NoAmber];

/// Returns what the recommended floor does better than every cheaper one that is clear and that the decisive
/// step does not name; empty where there is none, or nothing is so of all of them.
fn over_cheaper(w: &Writer<'_>, first: &FloorOption<'_>) -> String {
    if !w.recommendation.recommends(first.key()) {
        return String::new();
    }
    let decisive = w.recommendation.steps.iter().rev().find(|step| step.decides());
    let is_named = |key: &Key| decisive.is_some_and(|step| step.left_behind(key));
    let cheaper: Vec<&FloorOption<'_>> = w
        .offered()
        .into_iter()
        .filter(|other| other.quote.total < first.quote.total)
        .filter(|other| other.moisture.standing == Standing::Clear && !is_named(other.key()))
        .collect();
    if cheaper.is_empty() {
        return String::new();
    }
    let keys: Vec<Key> = cheaper.iter().map(|other| other.key().clone()).collect();
    let (floors, cars) = (w.names(&keys), w.case.job.has_cars());
    let holds = |comparison: Comparison, steps: &[StepTaken]| {
        cheaper.iter().all(|other| comparison.holds(steps, (first, other), cars))
    };
    // What speaks against them on this slab comes first, where one concern is so of all.
    let against = w.recommendation.steps.iter().find_map(|step| match step.rule {
        RuleStep::Concern { concern } => {
            holds(Comparison::Against, std::slice::from_ref(step)).then_some(concern)
        }
        _ => None,
    });
    // Then the wish that left all of them behind.
    let by_wish = w.recommendation.steps.iter().find_map(|step| {
        let left_behind = cheaper.iter().all(|other| step.left_behind(other.key()));
        let mut comparisons = Comparison::of(step.rule).iter().copied();
        comparisons.find(|one| left_behind && one.is_wished(step.rule) && holds(*one, &[]))
    });
    let found = match against {
        Some(_) => Some(Comparison::Against),
        None => by_wish
            .or_else(|| OVER_CHEAPER.iter().copied().find(|comparison| holds(*comparison, &[]))),
    };
    let concern = against.map_or_else(String::new, |concern| concern_words(w, concern));
    let wished = found.is_some() && found == by_wish;
    let facts = context! { floors, concern, wished, cars };
    found.map_or_else(String::new, |comparison| w.say_with(comparison.word(), facts))
}

/// Returns the floor's standing to the slab's moisture; empty where no reading can be held against
/// it.
fn moisture_standing(w: &Writer<'_>, first: &FloorOption<'_>) -> String {
    let floor = w.the_name(first.key());
    match w.recommendation.state(first.key()).waits_for() {
        Some(Settles::Test) => return w.say("reason.test", [("floor", floor)]),
        Some(Settles::Maker) => {
            let lacks = w.lacks_limit(first).to_owned();
            return w.say("reason.maker", [("floor", floor), ("lacks", lacks)]);
        }
        None => {}
    }
    let Some(room) = w.room(first) else {
        return match first.moisture.terms.test {
            MoistureTestAsked::PlasticSheet => w.plain("reason.sheet"),
            MoistureTestAsked::NoneNeeded => w.plain("reason.none_needed"),
            _ => String::new(),
        };
    };
    let was = first.moisture.reasons.iter().find_map(|reason| match reason {
        StandingReason::WasOver(method, at) => w.reading(*method, *at),
        _ => None,
    });
    let (limit, reading) = (room.limit, room.reading);
    match (first.moisture.standing, was) {
        (Standing::Clear, _) => {
            let name = if room.full { "reason.full" } else { "reason.clear" };
            w.say(name, [("limit", limit), ("reading", reading)])
        }
        (_, Some(before)) if !first.moisture.is_near_any() => {
            let date = w.date(before.date);
            let was = [("before", before.value), ("place", before.place), ("date", date)];
            w.say_with("reason.was", context! { limit => limit, ..values(was) })
        }
        _ => w.say("reason.near", [("limit", limit), ("reading", reading)]),
    }
}

/// Returns the comparison of the last step that left floors behind, in words.
fn decisive_comparison(w: &Writer<'_>, first: &FloorOption<'_>) -> String {
    let decisive = w.recommendation.steps.iter().rev().find(|step| step.decides());
    let Some(step) = decisive else { return w.plain("reason.only_named") };
    let behind = step.compared.iter().map(|one| one.floor.clone());
    let behind: Vec<Key> = behind.filter(|key| step.left_behind(key)).collect();
    let others: Vec<&FloorOption<'_>> = behind.iter().filter_map(|key| w.choice(key)).collect();
    let floors = w.names(&behind);
    match step.rule {
        RuleStep::NotOffered => {
            w.say("reason.only", [("waits", w.recommendation.waits(first.key()))])
        }
        RuleStep::Moisture => {
            use MoistureRank::{Close, CloseSafe, NotJudged, NotJudgedSafe, Over};
            let rank_of = |option: &FloorOption<'_>| MoistureRank::of(option, w.case);
            let open =
                |other: &&FloorOption<'_>| matches!(rank_of(other), Close | NotJudged | Over);
            let safe =
                matches!(rank_of(first), CloseSafe | NotJudgedSafe) && others.iter().all(open);
            let near = others.iter().all(|other| {
                other.moisture.standing == Standing::Close && other.moisture.is_near_any()
            });
            let name = match (safe, near) {
                (true, _) => "reason.barrier",
                (false, true) => "reason.close",
                (false, false) => "reason.better_known",
            };
            w.say_with(name, context! { floors, count => behind.len() })
        }
        RuleStep::OrderOfOffer => w.say("reason.first_named", [("floors", floors)]),
        rule => {
            let cars = w.case.job.has_cars();
            let so = |comparison: &&Comparison| {
                let step = std::slice::from_ref(step);
                others.iter().all(|other| comparison.holds(step, (first, other), cars))
            };
            let decided = Comparison::of(rule).iter().find(so);
            let wished = decided.is_some_and(|comparison| comparison.is_wished(rule));
            let concern = match rule {
                RuleStep::Concern { concern } => concern_words(w, concern),
                _ => String::new(),
            };
            let facts = context! { floors, concern, wished, cars };
            // Floors that differ in more than one way: the rule in the pages says it whole.
            w.say_with(decided.map_or("reason.by_rule", |comparison| comparison.word()), facts)
        }
    }
}
