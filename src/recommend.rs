//! Which floor is recommended, by a rule that is printed with its steps.
//!
//! 1. A floor with a stop is not offered.
//! 2. A floor whose moisture limit the highest reading cannot be told from (or that has no
//!    reading to hold against it) is set aside while another is clear of its limit.
//! 3. The customer's wishes, in the customer's order, each keep the best of what is left.
//! 4. Then the fewest cautions, then the lowest price, then the order of the offer.
//!
//! The rule knows no chemistry: the fast-cure floor wins wherever its figures do.

use rust_decimal::Decimal;

use crate::checks::{Finding, Place, Severity, stops};
use crate::input::scalar::Key;
use crate::job::Wish;
use crate::options::{Case, Choice};
use crate::site::moisture::Standing;

/// The outcome, and how it came about.
#[derive(Debug, Clone, PartialEq)]
pub struct Recommendation {
    /// `None`: nothing may be offered yet.
    pub floor: Option<Key>,
    /// Floors without a stop, in the order of the offer.
    pub offered: Vec<Key>,
    pub steps: Vec<Step>,
}

impl Recommendation {
    pub fn offers(&self, key: &Key) -> bool {
        self.offered.contains(key)
    }

    pub fn recommends(&self, key: &Key) -> bool {
        self.floor.as_ref() == Some(key)
    }
}

/// One step of the rule that changed something.
#[derive(Debug, Clone, PartialEq)]
pub enum Step {
    NotOffered(Vec<Key>),
    NothingLeft,
    OnlyOne(Key),
    SetAside(Vec<Key>),
    /// A wish left these; the others fell behind.
    Wish(Wish, Vec<Key>),
    /// A wish on which all that were left are alike.
    WishAlike(Wish),
    FewerCautions(Vec<Key>),
    LowerPrice(Key),
    FirstNamed(Key),
}

/// Applies the rule.
pub fn recommend(case: &Case<'_>, findings: &[Finding]) -> Recommendation {
    let (offered, off): (Vec<&Choice<'_>>, Vec<&Choice<'_>>) =
        case.options.iter().partition(|choice| stops(findings, choice.key()).is_empty());
    let mut steps = vec![];
    if !off.is_empty() {
        steps.push(Step::NotOffered(keys(&off)));
    }
    let floor = match offered.as_slice() {
        [] => {
            steps.push(Step::NothingLeft);
            None
        }
        [one] => {
            steps.push(Step::OnlyOne(one.key().clone()));
            Some(one.key().clone())
        }
        _ => Some(choose(offered.clone(), &case.job.wishes, findings, &mut steps)),
    };
    Recommendation { floor, offered: keys(&offered), steps }
}

fn keys(choices: &[&Choice<'_>]) -> Vec<Key> {
    choices.iter().map(|choice| choice.key().clone()).collect()
}

fn choose(
    mut left: Vec<&Choice<'_>>,
    wishes: &[Wish],
    findings: &[Finding],
    steps: &mut Vec<Step>,
) -> Key {
    let clear = |choice: &&Choice<'_>| choice.moisture.standing == Standing::Clear;
    if left.iter().any(clear) && !left.iter().all(clear) {
        let aside: Vec<&Choice<'_>> = left.iter().filter(|c| !clear(c)).copied().collect();
        steps.push(Step::SetAside(keys(&aside)));
        left.retain(clear);
    }
    for wish in wishes {
        if left.len() == 1 {
            break;
        }
        let before = left.len();
        left = best(left, |choice| wish_rank(*wish, choice));
        steps.push(if left.len() < before {
            Step::Wish(*wish, keys(&left))
        } else {
            Step::WishAlike(*wish)
        });
    }
    let before = left.len();
    left = best(left, |choice| Decimal::from(cautions(findings, choice.key())));
    if left.len() < before {
        steps.push(Step::FewerCautions(keys(&left)));
    }
    let before = left.len();
    left = best(left, |choice| choice.quote.total.decimal());
    let chosen = left[0].key().clone();
    if left.len() > 1 {
        steps.push(Step::FirstNamed(chosen.clone()));
    } else if before > 1 {
        steps.push(Step::LowerPrice(chosen.clone()));
    }
    chosen
}

/// Keeps the choices of the lowest rank, in their order.
fn best<'c, 'a>(
    choices: Vec<&'c Choice<'a>>,
    rank: impl Fn(&Choice<'a>) -> Decimal,
) -> Vec<&'c Choice<'a>> {
    let lowest = choices.iter().map(|choice| rank(choice)).min();
    choices.into_iter().filter(|choice| Some(rank(choice)) == lowest).collect()
}

/// How well a floor meets a wish: lower is better.
fn wish_rank(wish: Wish, choice: &Choice<'_>) -> Decimal {
    match wish {
        Wish::Quick => Decimal::from(choice.estimate.schedule.drive.day()),
        Wish::Lasting => -Decimal::from(choice.floor.system.life_years.1),
        Wish::LowPrice => choice.quote.total.decimal(),
        Wish::NoYellowing => Decimal::from(u8::from(choice.floor.shows_ambering())),
        Wish::MoistureRoom => -room(choice),
    }
}

/// Room over the highest reading as a share of the limit; the smaller of two methods, none when
/// nothing is known.
fn room(choice: &Choice<'_>) -> Decimal {
    let share = |limit: f64, reading: f64| {
        Decimal::try_from((limit - reading) / limit).unwrap_or(Decimal::ZERO).round_dp(4)
    };
    let mver = choice.moisture.mver.map(|h| share(h.limit.as_pounds(), h.reading.as_pounds()));
    let rh = choice.moisture.rh.map(|h| share(h.limit.as_percent(), h.reading.as_percent()));
    [mver, rh].into_iter().flatten().min().unwrap_or(Decimal::ZERO)
}

/// Cautions that bear on one floor; what is only the shop's business does not count.
fn cautions(findings: &[Finding], key: &Key) -> u32 {
    let bears = |f: &&Finding| {
        f.severity == Severity::Caution
            && f.option.as_ref() == Some(key)
            && crate::checks::check(f.check).is_some_and(|check| check.place != Place::Shop)
    };
    findings.iter().filter(bears).count() as u32
}
