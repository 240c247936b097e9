//! The meaning of the answers so far: area, moisture against the limits of the floors, dew point, and for
//! a book what an hour and a price come to. Worked out by the code that works out a job.

use minijinja::{Value, context};

use crate::base::figure::Figure;
use crate::base::money::Cents;
use crate::base::quantity::Mver;
use crate::interview::Setting;
use crate::interview::run::Mark;
use crate::model::book::Book;
use crate::model::job::{TestSurface, Units};
use crate::price::case;
use crate::price::estimate::price::price;
use crate::read::Input;
use crate::say::figures::Figures;
use crate::say::template::fill;
use crate::say::words::{InterviewText, Words, WordsError};
use crate::site::dew_point::LEAST_SPREAD;
use crate::site::method::MethodFault;
use crate::site::moisture::{Series, hours_between};
use crate::site::standing::{FloorMoisture, Settles, Standing};
use crate::site::{self, Site};

/// Returns the sentences after a mark of a job. `input` is the job with examples where it is open.
///
/// # Errors
/// [`WordsError`] when a sentence is missing, or uses a value that it does not get.
pub fn of_job(
    mark: Mark,
    input: &Input,
    setting: &Setting,
    words: &Words,
    text: &InterviewText,
) -> Result<Vec<String>, WordsError> {
    let speaker = Speaker { units: input.job.units, words, text };
    let site = site::site(&input.job, &input.shop.testing);
    match mark {
        Mark::Floor(..) => {
            speaker.one("floor", context! { area => speaker.both(site.take_off.floor) })
        }
        Mark::Upright => {
            let area = speaker.both(site.take_off.coated());
            speaker.one("coated", context! { area })
        }
        Mark::Inside => match &input.job.slab.inside {
            None => speaker.one("inside-unknown", Value::UNDEFINED),
            Some(things) if !things.is_empty() => speaker.one("inside-there", Value::UNDEFINED),
            Some(_) => Ok(vec![]),
        },
        Mark::Surface(n) => speaker.surface(input, n),
        Mark::Sheet(n) => speaker.sheet(&site, n),
        Mark::Dish(n) => {
            let mut all = speaker.tests(site.moisture.mver.as_ref(), Figure::Mver)?;
            all.extend(speaker.exposure(input, &site, n)?);
            Ok(all)
        }
        Mark::Depth(n) => speaker.depth(input, &site, n),
        Mark::Probe(_) => Ok(speaker.tests(site.moisture.rh.as_ref(), Figure::SlabHumidity)?),
        Mark::Moisture => {
            let mut all = speaker.highest(&site)?;
            if setting.book_found {
                all.extend(speaker.floors(input)?);
            } else {
                all.push(speaker.said("no-book", &Value::UNDEFINED)?);
            }
            Ok(all)
        }
        Mark::Air => speaker.air(&site),
        Mark::Labor | Mark::Terms => Ok(vec![]),
    }
}

/// Returns the sentences after a mark of a price book.
///
/// # Errors
/// As [`of_job`].
pub fn of_book(
    mark: Mark,
    book: &Book,
    words: &Words,
    text: &InterviewText,
) -> Result<Vec<String>, WordsError> {
    let speaker = Speaker { units: Units::Us, words, text };
    let figures = Figures { units: Units::Us, currency: &book.currency, words: &words.figures };
    match mark {
        Mark::Labor => {
            let hour = Cents::round(book.labor.burdened_rate());
            speaker.one("hour", context! { hour => figures.money(hour) })
        }
        Mark::Terms => {
            let direct = Cents(100_000);
            let cost = direct.plus(direct.times(book.terms.overhead));
            let (wanted, price) = price(cost, &book.terms);
            let wanted = wanted.up_to_multiple_of(book.terms.round_to);
            let (shown, least) = (figures.money(wanted), figures.money(price));
            let direct = figures.money(direct);
            let mut all = speaker.one("price", context! { direct, price => shown })?;
            if price > wanted {
                all.push(speaker.said("least-price", &context! { least })?);
            }
            Ok(all)
        }
        _ => Ok(vec![]),
    }
}

struct Speaker<'a> {
    units: Units,
    words: &'a Words,
    text: &'a InterviewText,
}

impl Speaker<'_> {
    fn said(&self, name: &str, values: &Value) -> Result<String, WordsError> {
        let place = format!("interview.toml: view.{name}");
        let template = self.text.view.get(name);
        let missing = || WordsError::new(place.as_str(), "is missing");
        fill(template.ok_or_else(missing)?, values, &place)
    }

    fn one(&self, name: &str, values: Value) -> Result<Vec<String>, WordsError> {
        Ok(vec![self.said(name, &values)?])
    }

    fn figures(&self, units: Units) -> Figures<'_> {
        Figures { units, currency: "", words: &self.words.figures }
    }

    /// A figure in the units of the job, and in the others behind it where they differ.
    fn both(&self, figure: impl Into<Figure>) -> String {
        let figure = figure.into();
        let other = if self.units == Units::Us { Units::Metric } else { Units::Us };
        let own = self.figures(self.units).write(&figure);
        let other = self.figures(other).write(&figure);
        if own == other { own } else { format!("{own} ({other})") }
    }

    /// The highest reading, and how many tests the method asks for.
    fn tests<Q: Copy>(
        &self,
        series: Option<&Series<Q>>,
        figure: fn(Q) -> Figure,
    ) -> Result<Vec<String>, WordsError> {
        let Some(series) = series else { return Ok(vec![]) };
        let highest = series.highest();
        let (reading, place) = (self.both(figure(highest.value)), &highest.place);
        let (done, needed) = (series.readings.len(), series.needed);
        self.one("tests", context! { reading, place, done, needed })
    }

    /// The highest reading of each method.
    fn highest(&self, site: &Site) -> Result<Vec<String>, WordsError> {
        let (mver, rh) = (&site.moisture.mver, &site.moisture.rh);
        let mver = mver.as_ref().map(Series::highest).map(|one| {
            context! { reading => self.both(Figure::Mver(one.value)), place => one.place.as_str() }
        });
        let rh = rh.as_ref().map(Series::highest).map(|one| {
            context! { reading => self.both(Figure::SlabHumidity(one.value)), place => one.place.as_str() }
        });
        let readings: Vec<Value> = mver.into_iter().chain(rh).collect();
        if readings.is_empty() {
            return Ok(vec![]);
        }
        self.one("highest", context! { readings })
    }

    /// Tells if a dish stood on concrete as its method asks for it.
    fn surface(&self, input: &Input, n: usize) -> Result<Vec<String>, WordsError> {
        let test = input.job.moisture.dish_tests().next();
        let dish = test.and_then(|test| test.dishes.get(n.checked_sub(1)?));
        match dish {
            Some(dish) if dish.surface != Some(TestSurface::GroundOpen) => {
                self.one("surface", Value::UNDEFINED)
            }
            _ => Ok(vec![]),
        }
    }

    /// Tells how far a plastic sheet counts, once, and if it was taped down as its method asks.
    fn sheet(&self, site: &Site, n: usize) -> Result<Vec<String>, WordsError> {
        let mut all = match n {
            1 => vec![self.said("sheet", &Value::UNDEFINED)?],
            _ => vec![],
        };
        let sheets = site.moisture.sheets.as_ref().map(|series| &series.readings);
        let reading = sheets.and_then(|readings| readings.get(n.checked_sub(1)?));
        for fault in reading.iter().flat_map(|reading| &reading.faults) {
            match fault {
                MethodFault::SheetTooShort { needed, .. } => {
                    let needed = format!("{:.0}", needed.as_hours());
                    all.push(self.said("sheet-short", &context! { needed })?);
                }
                MethodFault::SheetNotSealed { .. } => {
                    all.push(self.said("sheet-open", &Value::UNDEFINED)?);
                }
                _ => {}
            }
        }
        Ok(all)
    }

    /// Tells if a dish stood for as long as its method asks.
    fn exposure(&self, input: &Input, site: &Site, n: usize) -> Result<Vec<String>, WordsError> {
        let test = input.job.moisture.dish_tests().next();
        let dish = test.and_then(|test| test.dishes.get(n.checked_sub(1)?));
        let (Some(dish), Some(series)) = (dish, &site.moisture.mver) else { return Ok(vec![]) };
        let fault = MethodFault::Exposure {
            place: dish.place.clone(),
            hours: hours_between(dish.set, dish.lifted),
        };
        if series.faults.contains(&fault) {
            self.one("exposure", Value::UNDEFINED)
        } else {
            Ok(vec![])
        }
    }

    /// Tells if a hole is as deep as its method asks in this slab.
    fn depth(&self, input: &Input, site: &Site, n: usize) -> Result<Vec<String>, WordsError> {
        let test = input.job.moisture.probe_tests().next();
        let probe = test.and_then(|test| test.probes.get(n.checked_sub(1)?));
        let (Some(probe), Some(series)) = (probe, &site.moisture.rh) else { return Ok(vec![]) };
        let needed = series.faults.iter().find_map(|fault| match fault {
            MethodFault::Depth { place, depth, needed } => {
                (*place == probe.place && *depth == probe.depth).then_some(*needed)
            }
            _ => None,
        });
        if let Some(needed) = needed {
            return self.one("depth", context! { needed => self.both(needed) });
        }
        let unknown = series.faults.contains(&MethodFault::DepthUnknown) && n == 1;
        if unknown { self.one("depth-unknown", Value::UNDEFINED) } else { Ok(vec![]) }
    }

    /// Each floor that the book can supply against the highest readings.
    fn floors(&self, input: &Input) -> Result<Vec<String>, WordsError> {
        let case = case::case(input);
        let lines = case.options.iter().map(|choice| {
            let floor = self.name(&choice.key().0);
            let settles = choice.moisture.settles();
            let FloorMoisture { mver, rh, standing, .. } = choice.moisture.clone();
            let limits = [
                mver.map(|room| self.both(Figure::Mver(Mver::pounds(room.limit.as_pounds())))),
                rh.map(|room| self.both(Figure::SlabHumidity(room.limit))),
            ];
            let limit = limits.into_iter().flatten().collect::<Vec<_>>().join(", ");
            let name = match standing {
                Standing::Clear => "clear",
                Standing::Close => "close",
                Standing::Over => "over",
                Standing::NotJudged if settles == Some(Settles::Test) => "waits",
                Standing::NotJudged => "unknown",
            };
            self.said(name, &context! { floor, limit })
        });
        let mut all = vec![self.said("floors", &Value::UNDEFINED)?];
        all.extend(lines.collect::<Result<Vec<_>, _>>()?);
        Ok(all)
    }

    fn name(&self, key: &str) -> String {
        self.words.systems.get(key).map_or_else(|| key.to_owned(), |words| words.name.clone())
    }

    fn air(&self, site: &Site) -> Result<Vec<String>, WordsError> {
        let Some(air) = site.air else { return Ok(vec![]) };
        let spread = air.spread;
        let name = if spread.as_kelvin() < 0.0 {
            "wet"
        } else if spread < LEAST_SPREAD {
            "near"
        } else {
            "dry"
        };
        let (dew, least) = (self.both(air.dew_point), self.both(LEAST_SPREAD));
        self.one(name, context! { dew, spread => self.both(spread), least })
    }
}
