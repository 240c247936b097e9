//! The changes that a save made in price and findings, in one line.

use std::collections::BTreeMap;

use slableaf::base::money::Cents;
use slableaf::judge::Judged;
use slableaf::judge::checks::Severity;
use slableaf::papers::proposal::Spaces;
use slableaf::say::figures::Figures;

use crate::shell::store::signed_money;

/// Price and findings of a job as they are now.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Seen {
    recommended: Option<String>,
    /// The floor that comes first and waits.
    waiting: Option<String>,
    /// Floors on offer, in the job's order.
    prices: Vec<(String, Cents)>,
    /// Severity, check, and the floors that it is about: none for the slab, house or job.
    findings: BTreeMap<(Severity, &'static str), Vec<String>>,
}

impl Seen {
    /// The same of all spaces of a job, each floor under the name of its space.
    pub fn of_spaces(spaces: &Spaces<'_>) -> Self {
        let mut all = Self::default();
        let mut recommended = vec![];
        for ((name, _), judged) in spaces.named().zip(&spaces.judged.spaces) {
            let own = Self::of(judged);
            let named = |floor: String| format!("{name}: {floor}");
            recommended.extend(own.recommended.map(named));
            all.waiting = all.waiting.or(own.waiting.map(named));
            all.prices.extend(own.prices.into_iter().map(|(floor, price)| (named(floor), price)));
            for (finding, floors) in own.findings {
                all.findings.entry(finding).or_default().extend(floors.into_iter().map(named));
            }
        }
        all.recommended = (!recommended.is_empty()).then(|| recommended.join(", "));
        all.prices.push(("all spaces".to_owned(), spaces.total()));
        all
    }

    pub fn of(judged: &Judged<'_>) -> Self {
        let mut findings: BTreeMap<_, Vec<String>> = BTreeMap::new();
        for finding in &judged.findings {
            let floors = findings.entry((finding.severity, finding.check.name)).or_default();
            floors.extend(finding.option.iter().map(ToString::to_string));
        }
        let options = judged.case.options.iter();
        let recommendation = &judged.recommendation;
        let waiting = recommendation.floor.as_ref().filter(|first| recommendation.waits(first));
        Self {
            recommended: recommendation.recommended().map(ToString::to_string),
            waiting: waiting.map(ToString::to_string),
            prices: options.map(|one| (one.key().to_string(), one.quote.total)).collect(),
            findings,
        }
    }

    fn price(&self, floor: &str) -> Option<Cents> {
        self.prices.iter().find(|(key, _)| key == floor).map(|(_, price)| *price)
    }

    /// The differences from before.
    pub fn since(&self, before: &Self, figures: &Figures<'_>) -> String {
        let mut parts = self.recommendation(before, figures);
        for (floor, price) in &self.prices {
            match before.price(floor) {
                None => parts.push(format!("now on offer: {floor}, {}", figures.money(*price))),
                Some(old) if old != *price => {
                    let change = signed_money(Cents(price.0 - old.0), figures);
                    let (old, new) = (figures.money(old), figures.money(*price));
                    parts.push(format!("{floor} {old} to {new} ({change})"));
                }
                Some(_) => {}
            }
        }
        let gone = before.prices.iter().filter(|(floor, _)| self.price(floor).is_none());
        parts.extend(gone.map(|(floor, _)| format!("no longer on offer: {floor}")));
        let new = self.found_beside(before);
        let gone = before.found_beside(self);
        parts.extend((!new.is_empty()).then(|| format!("new: {}", new.join(", "))));
        parts.extend((!gone.is_empty()).then(|| format!("gone: {}", gone.join(", "))));
        if parts.is_empty() { "price and findings unchanged".to_owned() } else { parts.join("; ") }
    }

    fn recommendation(&self, before: &Self, figures: &Figures<'_>) -> Vec<String> {
        if self.recommended == before.recommended && self.waiting == before.waiting {
            return vec![];
        }
        vec![match (&self.recommended, &self.waiting) {
            (None, None) => "recommends nothing yet".to_owned(),
            (None, Some(first)) => format!("puts {first} first, which waits"),
            (Some(floor), _) => {
                let price = self.price(floor).map(|price| format!(", {}", figures.money(price)));
                format!("recommends {floor}{}", price.unwrap_or_default())
            }
        }]
    }

    /// The findings that are here and not there, most serious first.
    fn found_beside(&self, there: &Self) -> Vec<String> {
        let mut found = vec![];
        for ((severity, check), floors) in self.findings.iter().rev() {
            let known = there.findings.get(&(*severity, *check));
            let more: Vec<&str> = floors
                .iter()
                .filter(|floor| known.is_none_or(|known| !known.contains(floor)))
                .map(String::as_str)
                .collect();
            let name = format!("{} {check}", severity.word());
            if !more.is_empty() {
                found.push(format!("{name} ({})", more.join(", ")));
            } else if known.is_none() {
                found.push(name);
            }
        }
        found
    }
}
