//! Values that job-level templates may use: claims, sources, cancellation.

use minijinja::{Value, context};

use crate::base::figure::Figure;
use crate::model::job::Poured;
use crate::papers::proposal::readings::Written;
use crate::papers::proposal::writer::Writer;
use crate::price::case::FloorOption;
use crate::site::moisture::{Series, days_between};

impl Writer<'_> {
    /// Returns the values that job-level templates may use.
    pub fn context(&self) -> Value {
        let job = self.case.job;
        let age = job.slab.poured.map(|poured| match poured {
            Poured::Day(day) => {
                let days = days_between(day, job.date);
                self.say("slab.days_old", [("days", self.figures.days(days))])
            }
            Poured::Year(year) => {
                let years = (job.date.year() as u32).saturating_sub(year);
                self.say("slab.years_old", [("years", years)])
            }
        });
        let options = self.case.options.iter().map(|choice| self.option_context(choice));
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
        context! {
            shop => context! { name => self.case.shop.name.as_str() },
            test_price => self.case.shop.testing.price.map(|price| self.money(price)),
            customer => context! { name => job.customer.name_on_paper().as_ref() },
            slab => context! {
                area => self.figure(self.case.site.take_off.floor),
                thickness => job.slab.thickness.map(|t| self.figure(t)),
                age => age,
                on_ground => job.slab.on_ground,
                retarder => job.slab.retarder.word(),
            },
            moisture => context! {
                known => moisture.known(),
                tested => moisture.tested(),
                mver => moisture.mver.as_ref().filter(|s| s.counts()).map(|s| self.series_context(s, |v| self.figures.mver(v, true))),
                rh => moisture.rh.as_ref().filter(|s| s.counts()).map(|s| self.series_context(s, |v| self.figure(v.of_slab()))),
            },
            air => air,
            options => options.collect::<Vec<_>>(),
            priced => self.recommendation.floor.is_some(),
            recommended => self.recommended().map(|choice| self.option_context(choice)),
        }
    }

    fn series_context<Q: Copy>(&self, series: &Series<Q>, text: impl Fn(Q) -> String) -> Value {
        let highest = series.highest();
        context! {
            highest => text(highest.value),
            place => highest.place.as_str(),
            count => series.count(),
            needed => series.needed,
            date => self.date(highest.to.date()),
        }
    }

    fn option_context(&self, choice: &FloorOption<'_>) -> Value {
        let words = self.system(&choice.floor);
        let schedule = &choice.estimate.schedule;
        let room = self.room(choice);
        let (from, to) = choice.floor.system.life_years;
        context! {
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
            life => self.say("compare.life_long", [("from", from), ("to", to)]),
            isocyanate => choice.floor.resins().any(|(_, resin)| resin.isocyanate),
            solvent => choice.floor.resins().any(|(_, resin)| resin.solvent.given().is_some()),
            drive => self.usable(schedule.drive),
            walk => self.usable(schedule.walk),
        }
    }
}
