//! The reason for which a floor comes first: its standing to the moisture, then the step of the
//! rule that decided.
//!
//! No sentence here is a superlative. What a step decided is said as a comparison with the floors that
//! it left behind, by name, and only after [`Comparison::holds`] has found it so between this floor
//! and each of them. A floor that fell to an earlier step is not named, and nothing is said of it.

use crate::base::names::Key;
use crate::judge::recommend::{Band, Compared, Concern, MoistureRank, RuleStep, StepTaken};
use crate::model::book::MoistureTestAsked;
use crate::model::job::Wish;
use crate::papers::proposal::writer::{Writer, values};
use crate::price::case::FloorOption;
use crate::site::standing::{Settles, Standing, StandingReason};

/// Comparison that a sentence makes between the first floor and another one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Comparison {
    /// Its car is back on an earlier day.
    Sooner,
    /// Its usual life is longer at its end, and not shorter at its start.
    LastsLonger,
    /// It leaves more room over the reading.
    MoreRoom,
    /// It costs less.
    CostsLess,
    /// No coat of it in daylight turns amber, and one of the other's does.
    NoAmber,
    /// Something about this slab speaks against the other and not against it.
    Against(Concern),
}

impl Comparison {
    /// True when it is so between the two floors.
    fn holds(self, step: &StepTaken, this: &FloorOption<'_>, other: &FloorOption<'_>) -> bool {
        let compared = |option: &FloorOption<'_>| {
            step.compared.iter().find(|one| one.floor == *option.key()).map(|one| one.value)
        };
        match self {
            Self::Sooner => {
                this.estimate.schedule.drive.day() < other.estimate.schedule.drive.day()
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
            Self::Against(_) => {
                compared(this) == Some(Compared::Concern(false))
                    && compared(other) == Some(Compared::Concern(true))
            }
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
            RuleStep::Concern { concern: Concern::Damp } => &[Self::Against(Concern::Damp)],
            RuleStep::Concern { concern: Concern::Bond } => &[Self::Against(Concern::Bond)],
            RuleStep::Concern { concern: Concern::MovingCracks } => {
                &[Self::Against(Concern::MovingCracks)]
            }
            RuleStep::Concern { concern: Concern::Ambering } => &[Self::Against(Concern::Ambering)],
            RuleStep::Concern { concern: Concern::HotTires } => &[Self::Against(Concern::HotTires)],
            RuleStep::NotOffered | RuleStep::Moisture | RuleStep::OrderOfOffer => &[],
        }
    }

    /// The sentence of it.
    fn name(self) -> &'static str {
        match self {
            Self::Sooner => "reason.sooner",
            Self::LastsLonger => "reason.lasts_longer",
            Self::MoreRoom => "reason.more_room",
            Self::CostsLess => "reason.costs_less",
            Self::NoAmber => "reason.no_amber",
            Self::Against(_) => "reason.against",
        }
    }
}

/// The reason for which a floor comes first.
pub fn reason(w: &Writer<'_>, first: &FloorOption<'_>) -> String {
    let mut sentences = vec![moisture_standing(w, first), decisive_comparison(w, first)];
    sentences.retain(|sentence| !sentence.is_empty());
    sentences.join(" ")
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
        (_, Some(before)) if !first.moisture.is_near_any() => w.say(
            "reason.was",
            [
                ("limit", limit),
                ("before", before.value),
                ("place", before.place),
                ("date", w.date(before.date)),
            ],
        ),
        _ => w.say("reason.near", [("limit", limit), ("reading", reading)]),
    }
}

/// Returns the comparison of the last step that left floors behind, in words.
fn decisive_comparison(w: &Writer<'_>, first: &FloorOption<'_>) -> String {
    let decisive = w.recommendation.steps.iter().rev().find(|step| step.decides());
    let Some(step) = decisive else { return w.plain("reason.only_named") };
    let behind: Vec<Key> = step
        .compared
        .iter()
        .map(|one| one.floor.clone())
        .filter(|key| !step.left.contains(key))
        .collect();
    let others: Vec<&FloorOption<'_>> = behind.iter().filter_map(|key| w.choice(key)).collect();
    let floors = w.names(&behind);
    match step.rule {
        RuleStep::NotOffered => {
            let waits = w.recommendation.waits(first.key());
            w.say("reason.only", [("waits", waits)])
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
            w.say(name, [("floors", floors)])
        }
        RuleStep::OrderOfOffer => w.say("reason.first_named", [("floors", floors)]),
        rule => {
            let so = |comparison: &&Comparison| {
                others.iter().all(|other| comparison.holds(step, first, other))
            };
            let concern = match rule {
                RuleStep::Concern { concern } => {
                    w.plain(&format!("compare.concern.{}", concern.word()))
                }
                _ => String::new(),
            };
            // Whoever wished for a long life did not ask for room.
            let wished = |comparison: &Comparison| match (rule, comparison) {
                (RuleStep::Wish { wish: Wish::Lasting }, Comparison::MoreRoom) => "",
                (RuleStep::Wish { .. }, _) => "yes",
                _ => "",
            };
            let decided = Comparison::of(rule).iter().find(so);
            let facts = values([
                ("floors", floors),
                ("concern", concern),
                ("wished", decided.map_or("", wished).to_owned()),
            ]);
            // Floors that differ in more than one way: the rule in the pages says it whole.
            w.say_with(decided.map_or("reason.by_rule", |comparison| comparison.name()), facts)
        }
    }
}
