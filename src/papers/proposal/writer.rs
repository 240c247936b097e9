//! The desk at which all parts of the page are written: the case, its judgment, the words.

use std::collections::BTreeMap;

use jiff::civil::Date;
use minijinja::Value;

use crate::base::calendar::Moment;
use crate::base::figure::Figure;
use crate::base::money::Cents;
use crate::base::names::Key;
use crate::judge::checks::{Check, Finding, FindingPlace, Severity, Source};
use crate::judge::recommend::Recommendation;
use crate::model::job::{Known, Poured};
use crate::model::rules::Jurisdiction;
use crate::model::system::SystemWords;
use crate::papers::proposal::page::Notice;
use crate::price::case::{Case, FloorOption};
use crate::price::floor::Floor;
use crate::price::schedule::{PlanBasis, USUAL_SLAB};
use crate::say::acts::{Acts, Priced};
use crate::say::figures::{Figures, earliest};
use crate::say::words::{CheckText, Words, WordsError, fill};
use crate::site::moisture::{Series, days_between};

/// Everything that the pages are written from.
pub struct Writer<'a> {
    pub case: &'a Case<'a>,
    pub findings: &'a [Finding],
    pub recommendation: &'a Recommendation,
    pub words: &'a Words,
    pub figures: Figures<'a>,
}

/// Findings of one check that say the same, with the floors that they are about.
pub struct Group {
    pub check: &'static Check,
    pub severity: Severity,
    pub notice: Notice,
    pub about: Vec<Key>,
}

/// Values for a template, by name.
pub fn values<const N: usize, V: Into<Value>>(pairs: [(&str, V); N]) -> Value {
    Value::from_pairs(pairs.into_iter().map(|(name, value)| (name, value.into())))
}

impl<'a> Writer<'a> {
    pub fn new(
        case: &'a Case<'a>,
        findings: &'a [Finding],
        recommendation: &'a Recommendation,
        words: &'a Words,
    ) -> Self {
        let figures =
            Figures { units: case.job.units, currency: &case.book.currency, words: &words.figures };
        Self { case, findings, recommendation, words, figures }
    }

    /// A sentence of `pages.toml` with values.
    pub fn say(&self, name: &str, values: Value) -> Result<String, WordsError> {
        self.words.page(name, &values)
    }

    /// A sentence of `pages.toml` that needs no values.
    pub fn plain(&self, name: &str) -> Result<String, WordsError> {
        self.say(name, Value::UNDEFINED)
    }

    /// Whom to call when somebody cannot breathe.
    pub fn emergency(&self) -> Result<String, WordsError> {
        self.plain(match self.case.shop.jurisdiction() {
            Jurisdiction::UnitedStates => "safety.emergency.us",
            Jurisdiction::Other(_) => "safety.emergency.other",
            Jurisdiction::Unsaid => "safety.emergency.unsaid",
        })
    }

    pub fn figure(&self, figure: impl Into<Figure>) -> String {
        self.figures.write(&figure.into())
    }

    pub fn money(&self, cents: Cents) -> String {
        self.figures.money(cents)
    }

    pub fn date(&self, date: Date) -> String {
        self.figures.date(date)
    }

    /// The last day on which the proposal's prices hold.
    pub fn valid_until(&self) -> String {
        self.date(self.case.book.terms.valid_until(self.case.job.date))
    }

    // ------------------------------------------------------------------------ floors

    /// The floors that may be signed for, in the order of the offer.
    pub fn offered(&self) -> Vec<&'a FloorOption<'a>> {
        self.case.options.iter().filter(|choice| self.recommendation.offers(choice.key())).collect()
    }

    /// The floors that carry a price, those that wait among them, in the order of the offer.
    pub fn priced(&self) -> Vec<&'a FloorOption<'a>> {
        self.case.options.iter().filter(|choice| self.recommendation.prices(choice.key())).collect()
    }

    /// The floor that comes first, whether it is recommended or waits.
    pub fn first(&self) -> Option<&'a FloorOption<'a>> {
        self.case.options.iter().find(|choice| self.recommendation.puts_first(choice.key()))
    }

    /// The floor that is recommended; `None` also when the first one waits.
    pub fn recommended(&self) -> Option<&'a FloorOption<'a>> {
        self.case.options.iter().find(|choice| self.recommendation.recommends(choice.key()))
    }

    pub fn choice(&self, key: &Key) -> Option<&'a FloorOption<'a>> {
        self.case.options.iter().find(|choice| choice.key() == key)
    }

    /// The words of a floor: its own file's, else those of the language, else its plain key.
    pub fn system(&self, floor: &Floor<'_>) -> SystemWords {
        let key = &floor.system.key.0;
        let known = floor.system.words.as_ref().or_else(|| self.words.systems.get(key));
        known.cloned().unwrap_or_else(|| SystemWords {
            name: key.clone(),
            the_name: key.clone(),
            ..SystemWords::default()
        })
    }

    /// A floor's name as a heading: `Vapor-barrier floor`.
    pub fn name(&self, key: &Key) -> String {
        self.choice(key)
            .map_or_else(|| key.0.clone(), |choice| capital(&self.system(&choice.floor).name))
    }

    /// A floor's name within a sentence: `the vapor-barrier floor`.
    pub fn the_name(&self, key: &Key) -> String {
        self.choice(key).map_or_else(|| key.0.clone(), |choice| self.system(&choice.floor).the_name)
    }

    pub fn names(&self, keys: &[Key]) -> String {
        self.figures.list(&keys.iter().map(|key| self.the_name(key)).collect::<Vec<_>>())
    }

    /// An extra's name: that of the coat which it adds.
    pub fn extra_name(&self, floor: &Floor<'_>, extra: &Key) -> String {
        let coat = floor.system.coats.iter().find(|coat| coat.extra.as_ref() == Some(extra));
        let words = self.system(floor);
        coat.and_then(|coat| words.coats.get(&coat.key.0))
            .map_or_else(|| extra.0.clone(), |coat| coat.name.clone())
    }

    // ------------------------------------------------------------------------ time

    /// The calendar day of a moment, when the first day of work is agreed.
    pub fn day_of(&self, moment: Moment) -> Option<Date> {
        let start = self.case.job.plan.start?;
        start.checked_add(jiff::Span::new().try_days(i64::from(moment.day()) - 1).ok()?).ok()
    }

    /// From when on something may be done, never earlier than it is: `May 27, 2026, about 4 pm`, or
    /// `day 2, about 4 pm`.
    pub fn moment(&self, moment: Moment) -> Result<String, WordsError> {
        let clock = self.figures.clock(moment);
        let moment = earliest(moment);
        match self.day_of(moment) {
            Some(date) => {
                let date = self.figures.date_short(date);
                self.say("time.dated", values([("date", date), ("clock", clock)]))
            }
            None => self.say(
                "time.numbered",
                values([("day", moment.day().to_string()), ("clock", clock)]),
            ),
        }
    }

    /// From what day on something may be done: `May 29, 2026`, or `Day 4`. It goes with
    /// [`Figures::clock`].
    pub fn day(&self, moment: Moment) -> Result<String, WordsError> {
        let moment = earliest(moment);
        match self.day_of(moment) {
            Some(date) => self.say("time.day_dated", values([("date", self.date(date))])),
            None => self.say("time.day_numbered", values([("day", moment.day())])),
        }
    }

    /// The slab temperature that a floor's times hold for, and whether it was measured.
    pub fn planned_slab(&self) -> (String, bool) {
        match self.case.site.air {
            Some(air) => (self.figure(air.slab), true),
            None => (self.figure(USUAL_SLAB), false),
        }
    }

    /// True when some of a floor's times are an estimate beyond the data sheet.
    pub fn by_rule(choice: &FloorOption<'_>) -> bool {
        matches!(
            choice.estimate.schedule.basis,
            PlanBasis::Measured { by: crate::price::cure::Basis::Rule, .. }
        )
    }

    /// True when the slab as measured is beyond what a coat's data sheet covers, so that the
    /// times are for the nearest temperature that it does cover.
    pub fn slab_not_covered(choice: &FloorOption<'_>) -> bool {
        choice.estimate.schedule.basis == PlanBasis::Nearest
    }

    // ------------------------------------------------------------------------ findings

    /// Findings of some places as notices, most serious first.
    pub fn notices(&self, places: &[FindingPlace]) -> Result<Vec<Notice>, WordsError> {
        let mut all = vec![];
        for place in places {
            let of_place = |f: &&Finding| f.check.place == *place;
            let shown = |f: &&Finding| of_place(f) && !self.is_beside_the_point(f);
            all.extend(self.grouped(self.findings.iter().filter(shown))?);
        }
        all.sort_by_key(|group| std::cmp::Reverse(group.severity));
        let named = all.into_iter().map(|group| {
            let names: Vec<String> = group.about.iter().map(|key| self.name(key)).collect();
            Notice { about: self.figures.list(&names), ..group.notice }
        });
        Ok(named.collect())
    }

    /// Findings in words; those that say the same of several floors are one.
    pub fn grouped<'f>(
        &self,
        findings: impl Iterator<Item = &'f Finding>,
    ) -> Result<Vec<Group>, WordsError> {
        let mut groups: Vec<Group> = vec![];
        for finding in findings {
            let notice = self.notice(finding)?;
            let about = finding.option.clone();
            match groups.iter_mut().find(|g| g.check == finding.check && g.notice == notice) {
                Some(group) => group.about.extend(about),
                None => groups.push(Group {
                    check: finding.check,
                    severity: finding.severity,
                    notice,
                    about: about.into_iter().collect(),
                }),
            }
        }
        Ok(groups)
    }

    /// True for what is less than a stop about a floor that has no price: it would only bury
    /// what matters.
    fn is_beside_the_point(&self, finding: &Finding) -> bool {
        let off = finding.option.as_ref().is_some_and(|key| !self.recommendation.prices(key));
        // Where no floor has a price, what was found on the slab is the point.
        let of_slab =
            finding.check.place == FindingPlace::Slab && self.recommendation.floor.is_none();
        off && finding.severity != Severity::Stop && !of_slab
    }

    /// The words of a check.
    pub fn check_text(&self, check: &Check) -> Result<&'a CheckText, WordsError> {
        let text = self.words.checks.get(check.name);
        text.ok_or_else(|| WordsError::new(format!("checks: {}", check.name), "has no words"))
    }

    /// A finding in words.
    pub fn notice(&self, finding: &Finding) -> Result<Notice, WordsError> {
        let text = self.check_text(finding.check)?;
        let values = self.finding_values(finding);
        let fill =
            |template: &str| fill(template, &values, &format!("checks: {}", finding.check.name));
        let Acts { we, you, priced } = self.acts(finding)?;
        Ok(Notice {
            severity: finding.severity.word(),
            word: self.plain(&format!("severity.{}", finding.severity.word()))?,
            title: fill(&text.title)?,
            says: self.with_rule(fill(&text.says)?, finding)?,
            we,
            you,
            // Where nothing has a price, nothing is in it.
            priced: match priced.filter(|priced| {
                *priced == Priced::OnRequest || self.recommendation.floor.is_some()
            }) {
                Some(Priced::OnRequest) if self.test_price(finding).is_some() => {
                    let price = self.test_price(finding).unwrap_or_default();
                    self.say("acts.test", minijinja::context! { price => price })?
                }
                Some(priced) => self.plain(&format!("acts.{}", priced.word()))?,
                None => String::new(),
            },
            basis: self.basis(finding, finding.source.unwrap_or(finding.check.source))?,
            about: String::new(),
        })
    }

    /// Returns the price of a moisture test, where that is the shop's part and the shop gives one.
    /// A paper without a price has none for a test either.
    fn test_price(&self, finding: &Finding) -> Option<String> {
        let priced =
            finding.check.place == FindingPlace::Moisture && self.recommendation.floor.is_some();
        let price = self.case.shop.testing.price.filter(|_| priced)?;
        Some(self.money(price))
    }

    /// Returns the acts that answer a finding, and whose they are.
    pub fn acts(&self, finding: &Finding) -> Result<Acts, WordsError> {
        let text = self.check_text(finding.check)?;
        Acts::of(text, finding.check, &self.finding_values(finding))
    }

    /// One of a finding's short sentences: for page one, why not, what first.
    pub fn short(
        &self,
        finding: &Finding,
        template: Option<&String>,
    ) -> Result<Option<String>, WordsError> {
        let Some(template) = template else { return Ok(None) };
        let text = fill(
            template,
            &self.finding_values(finding),
            &format!("checks: {}", finding.check.name),
        )?;
        Ok((!text.is_empty()).then_some(text))
    }

    fn finding_values(&self, finding: &Finding) -> Value {
        let mut map: BTreeMap<&str, Value> = BTreeMap::new();
        map.insert("severity", finding.severity.word().into());
        map.insert("us_rules", self.is_us().into());
        let (measured, limit) = self.measured_and_limit(finding);
        for (name, figure) in [("measured", measured), ("limit", limit)] {
            if let Some(figure) = figure {
                map.insert(name, figure.into());
            }
        }
        for (name, figure) in &finding.values {
            map.insert(name, self.figures.write(figure).into());
        }
        if let Some(key) = &finding.option {
            map.insert("floor", self.the_name(key).into());
        }
        Value::from_pairs(map)
    }

    fn basis(&self, finding: &Finding, source: Source) -> Result<String, WordsError> {
        let (measured, limit) = self.measured_and_limit(finding);
        self.say(
            "sources.basis",
            values([
                ("measured", measured.unwrap_or_default()),
                ("limit", limit.unwrap_or_default()),
                ("source", self.source_name(finding, source)?),
            ]),
        )
    }

    // ------------------------------------------------------------------------ job context

    /// Returns the values that job-level templates may use. See `DEVELOPERS.md`, "Words".
    pub fn context(&self) -> Result<Value, WordsError> {
        use minijinja::context;
        let job = self.case.job;
        let age = match job.slab.poured {
            Some(Poured::Day(day)) => {
                let days = days_between(day, job.date);
                Some(self.say("slab.days_old", values([("days", self.figures.days(days))]))?)
            }
            Some(Poured::Year(year)) => {
                let years = (job.date.year() as u32).saturating_sub(year);
                Some(self.say("slab.years_old", values([("years", years)]))?)
            }
            None => None,
        };
        let options = self
            .case
            .options
            .iter()
            .map(|choice| self.option_context(choice))
            .collect::<Result<Vec<_>, _>>()?;
        let recommended = self
            .recommended()
            .map(|choice| self.option_context(choice))
            .transpose()?
            .unwrap_or(Value::from(()));
        let air = match self.case.site.air {
            Some(air) => context! {
                known => true,
                temperature => self.figure(air.air),
                humidity => self.figure(Figure::Humidity(air.humidity)),
                dew_point => self.figure(air.dew_point),
                slab => self.figure(air.slab),
                spread => self.figure(air.spread),
            },
            None => context! { known => false },
        };
        let moisture = &self.case.site.moisture;
        Ok(context! {
            shop => context! { name => self.case.shop.name.as_str() },
            test_price => self.case.shop.testing.price.map(|price| self.money(price)),
            customer => context! { name => job.customer.name.as_str() },
            slab => context! {
                area => self.figure(self.case.site.take_off.floor),
                thickness => job.slab.thickness.map(|t| self.figure(t)),
                age => age,
                on_ground => job.slab.on_ground,
                retarder => match job.slab.retarder { Known::Yes => "yes", Known::No => "no", Known::Unknown => "unknown" },
            },
            moisture => context! {
                known => moisture.known(),
                tested => moisture.tested(),
                mver => moisture.mver.as_ref().filter(|s| s.counts()).map(|s| self.series_context(s, |v| self.figures.mver(v, true))),
                rh => moisture.rh.as_ref().filter(|s| s.counts()).map(|s| self.series_context(s, |v| self.figure(Figure::SlabHumidity(v)))),
            },
            air => air,
            options => options,
            recommended => recommended,
        })
    }

    fn series_context<Q: Copy>(&self, series: &Series<Q>, text: impl Fn(Q) -> String) -> Value {
        let highest = series.highest();
        minijinja::context! {
            highest => text(highest.value),
            place => highest.place.as_str(),
            count => series.count(),
            needed => series.needed,
            date => self.date(highest.to.date()),
        }
    }

    fn option_context(&self, choice: &FloorOption<'_>) -> Result<Value, WordsError> {
        let words = self.system(&choice.floor);
        let schedule = &choice.estimate.schedule;
        let room = self.room(choice);
        let (from, to) = choice.floor.system.life_years;
        Ok(minijinja::context! {
            key => choice.key().0.as_str(),
            name => words.name,
            the_name => words.the_name,
            offered => self.recommendation.offers(choice.key()),
            recommended => self.recommendation.recommends(choice.key()),
            days => schedule.days,
            days_text => self.figures.days(schedule.days),
            price => self.money(choice.quote.total),
            limit => room.as_ref().map(|r| r.limit.clone()),
            headroom => room.as_ref().filter(|r| !r.full).map(|r| r.room.clone()),
            waits => self.recommendation.waits(choice.key()),
            priced => self.recommendation.prices(choice.key()),
            standing => choice.moisture.standing.word(),
            barrier => choice.floor.has_barrier(),
            ambers => choice.floor.shows_ambering(),
            thin => choice.floor.is_thin(),
            fast => schedule.days == 1,
            life => self.say("compare.life_long", values([("from", from), ("to", to)]))?,
            isocyanate => choice.floor.resins().any(|(_, resin)| resin.isocyanate),
            solvent => choice.floor.resins().any(|(_, resin)| resin.solvent.given().is_some()),
            drive => self.moment(schedule.drive)?,
            walk => self.moment(schedule.walk)?,
        })
    }
}

/// The distance between two values, never negative.
pub fn between<Q>(a: Q, b: Q) -> Q
where
    Q: Copy + PartialOrd + std::ops::Sub<Output = Q>,
{
    if a > b { a - b } else { b - a }
}

/// The text with a capital first letter.
pub fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |first| first.to_uppercase().chain(chars).collect())
}
