//! The meaning of the answers so far: area, moisture against the limits of the floors, dew point, and for
//! a book what an hour and a price come to. Worked out by the code that works out a job.

use minijinja::{Value, context};

use crate::base::figure::Figure;
use crate::base::money::Cents;
use crate::base::quantity::{Humidity, Mver, Thickness};
use crate::interview::Interview;
use crate::interview::run::Mark;
use crate::judge::checks::unusual_figure::{LONG_SIDE, longest_side};
use crate::judge::laid::floor_as_laid;
use crate::judge::laid::window::WindowKept;
use crate::model::book::Book;
use crate::model::job::{Dish, Job, TestSurface, Units};
use crate::model::system::System;
use crate::price::case;
use crate::price::estimate::price::price;
use crate::price::floor::{Floor, FloorCoat};
use crate::price::plausible;
use crate::price::whole;
use crate::read::Input;
use crate::say::figures::Figures;
use crate::say::words::WordsError;
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
    interview: &Interview<'_>,
    mark: Mark,
    input: &Input,
) -> Result<Vec<String>, WordsError> {
    let mut view = View { interview, units: input.job.units, lines: vec![] };
    let site = site::site(&input.job, &input.shop.testing);
    let (mver, rh) = (site.moisture.mver.as_ref(), site.moisture.rh.as_ref());
    match mark {
        Mark::Floor(areas, cutouts) => {
            view.say("floor", context! { area => view.both(site.take_off.floor) })?;
            let area = input.job.shapes.areas.get(areas.saturating_sub(1));
            let side = area.filter(|_| cutouts == 0).map(longest_side);
            if let Some(side) = side.filter(|side| *side > LONG_SIDE.value) {
                view.say("long-side", context! { length => view.both(side) })?;
            }
        }
        Mark::Upright => {
            view.say("coated", context! { area => view.both(site.take_off.coated()) })?;
        }
        Mark::Inside => match &input.job.slab.inside {
            None => view.say("inside-unknown", context! {})?,
            Some(things) if !things.is_empty() => view.say("inside-there", context! {})?,
            Some(_) => {}
        },
        Mark::Surface(n) => {
            let is_other = |dish: &Dish| dish.surface != Some(TestSurface::GroundOpen);
            if dish(input, n).is_some_and(is_other) {
                view.say("surface", context! {})?;
            }
        }
        Mark::Sheet(n) => view.sheet(&site, n)?,
        Mark::Dish(n) => {
            view.tests(mver, Figure::Mver)?;
            view.exposure(input, mver, n)?;
        }
        Mark::Depth(n) => view.depth(input, rh, n)?,
        Mark::Probe(_) => view.tests(rh, Figure::SlabHumidity)?,
        Mark::Moisture => {
            view.highest(&site)?;
            if interview.setting.book_found {
                view.floors(input)?;
            } else {
                view.say("no-book", context! {})?;
            }
        }
        Mark::Air => view.air(&site)?,
        Mark::AirOpen => view.say("air-open", minijinja::Value::UNDEFINED)?,
        Mark::Labor | Mark::Terms | Mark::Kits(_) | Mark::Coats(_) | Mark::CoatLaid(_) => {}
    }
    Ok(view.lines)
}

/// Returns the sentences after a mark of a price book.
///
/// # Errors
/// As [`of_job`].
pub fn of_book(
    interview: &Interview<'_>,
    mark: Mark,
    book: &Book,
) -> Result<Vec<String>, WordsError> {
    let mut view = View { interview, units: Units::Us, lines: vec![] };
    let figures = Figures { currency: &book.currency, ..view.figures(Units::Us) };
    match mark {
        Mark::Labor => {
            let hour = Cents::round(book.labor.burdened_rate());
            view.say("hour", context! { hour => figures.money(hour) })?;
        }
        Mark::Terms => {
            let direct = Cents(100_000);
            let cost = direct.plus(direct.times(book.terms.overhead));
            let (wanted, price) = price(cost, &book.terms);
            let wanted = wanted.up_to_multiple_of(book.terms.round_to);
            let (direct, shown) = (figures.money(direct), figures.money(wanted));
            view.say("price", context! { direct, price => shown })?;
            if price > wanted {
                view.say("least-price", context! { least => figures.money(price) })?;
            }
        }
        _ => {}
    }
    Ok(view.lines)
}

/// Returns the price of each kit of a new product for a gallon or a pound, and asks where one of them is
/// out of line.
///
/// # Errors
/// As [`of_job`].
pub fn of_product(interview: &Interview<'_>, book: &Book) -> Result<Vec<String>, WordsError> {
    let mut view = View { interview, units: Units::Us, lines: vec![] };
    let figures = Figures { currency: &book.currency, ..view.figures(Units::Us) };
    let product = book.products.get(interview.setting.products);
    let Some(product) = product else { return Ok(vec![]) };
    let liquid = product.stuff.is_liquid();
    if let Some((cheap, dear)) = plausible::kits_apart(&product.stuff) {
        let (cheap, dear) = (figures.money(cheap), figures.money(dear));
        view.say("kit-odd", context! { cheap, dear, liquid })?;
    } else if let Some(rate) = plausible::kit_rates(&product.stuff).last() {
        view.say("kit-rate", context! { rate => figures.money(*rate), liquid })?;
    }
    Ok(view.lines)
}

/// Returns how thick a new floor is so far.
///
/// # Errors
/// As [`of_job`].
pub fn of_system(
    interview: &Interview<'_>,
    mark: Mark,
    system: &System,
    book: &Book,
) -> Result<Vec<String>, WordsError> {
    let mut view = View { interview, units: Units::Us, lines: vec![] };
    let Mark::Coats(count) = mark else { return Ok(vec![]) };
    let floor = Floor::new(system, book, &Floor::new(system, book, &[]).other_extras());
    let thickness = floor.coats.iter().take(count).map(FloorCoat::thickness).sum::<Thickness>();
    view.say("stack", context! { thickness => view.both(thickness) })?;
    Ok(view.lines)
}

/// Returns the sentences after the record of a coat: the film that went on the floor, and a window that was
/// missed.
///
/// # Errors
/// As [`of_job`].
pub fn of_laid(
    interview: &Interview<'_>,
    mark: Mark,
    input: &Input,
) -> Result<Vec<String>, WordsError> {
    let mut view = View { interview, units: input.job.units, lines: vec![] };
    let Mark::CoatLaid(n) = mark else { return Ok(vec![]) };
    let record = n.checked_sub(1).and_then(|at| input.job.laid.get(at));
    let Some(record) = record else { return Ok(vec![]) };
    let spaces = input.job.of_spaces();
    let jobs = if spaces.is_empty() { std::slice::from_ref(&input.job) } else { &spaces };
    let is_there =
        |job: &Job| job.place.as_ref().is_none_or(|at| Some(&at.name) == record.space.as_ref());
    let Some(at) = jobs.iter().position(is_there) else { return Ok(vec![]) };
    let cases = whole::alone(input, &jobs[at..=at]);
    let Some(laid) = cases.first().and_then(floor_as_laid) else { return Ok(vec![]) };
    let Some(coat) = laid.liquids().find(|coat| coat.coat.spec.key == record.coat.value) else {
        return Ok(vec![]);
    };
    if let Some((film, made)) = coat.film.and_then(|film| Some((film, film.balance?))) {
        let name = if film.is_low_by_balance() { "film-low" } else { "film-laid" };
        let (least, most) = (view.both(made.least), view.both(made.most));
        view.say(name, context! { least, most, planned => view.both(film.planned) })?;
    }
    match coat.records.last().and_then(|one| one.window).map(|window| window.kept) {
        Some(WindowKept::Early) => view.say("window-early", context! {})?,
        Some(WindowKept::Late) => view.say("window-late", context! {})?,
        Some(WindowKept::Kept | WindowKept::NotKnown) | None => {}
    }
    Ok(view.lines)
}

/// One of the dishes of a visit, by its place in their row.
fn dish(input: &Input, n: usize) -> Option<&Dish> {
    input.job.moisture.dish_tests().next()?.dishes.get(n.checked_sub(1)?)
}

/// The sentences on one state of the answers.
struct View<'a> {
    interview: &'a Interview<'a>,
    units: Units,
    lines: Vec<String>,
}

impl<'a> View<'a> {
    fn say(&mut self, name: &str, values: Value) -> Result<(), WordsError> {
        self.lines.push(self.interview.said(name, &values)?);
        Ok(())
    }

    fn figures(&self, units: Units) -> Figures<'a> {
        Figures { units, currency: "", words: &self.interview.words.figures }
    }

    /// A figure in the units of the job, and in the others behind it where they differ.
    fn both(&self, figure: impl Into<Figure>) -> String {
        let figure = figure.into();
        let other = if self.units == Units::Us { Units::Metric } else { Units::Us };
        let own = self.figures(self.units).write(&figure);
        let other = self.figures(other).write(&figure);
        if own == other { own } else { format!("{own} ({other})") }
    }

    /// The highest reading of a method, and its place.
    fn highest_of<Q: Copy>(&self, series: &Series<Q>, figure: fn(Q) -> Figure) -> Value {
        let highest = series.highest();
        let reading = self.both(figure(highest.value));
        context! { reading, place => highest.place.as_str() }
    }

    /// The highest reading, and how many tests the method asks for.
    fn tests<Q: Copy>(
        &mut self,
        series: Option<&Series<Q>>,
        figure: fn(Q) -> Figure,
    ) -> Result<(), WordsError> {
        let Some(series) = series else { return Ok(()) };
        let (done, needed) = (series.readings.len(), series.needed);
        self.say("tests", context! { done, needed, ..self.highest_of(series, figure) })
    }

    /// The highest reading of each method.
    fn highest(&mut self, site: &Site) -> Result<(), WordsError> {
        let (mver, rh) = (&site.moisture.mver, &site.moisture.rh);
        let mver = mver.as_ref().map(|series| self.highest_of(series, Figure::Mver));
        let rh = rh.as_ref().map(|series| self.highest_of(series, Figure::SlabHumidity));
        let readings: Vec<Value> = mver.into_iter().chain(rh).collect();
        if readings.is_empty() { Ok(()) } else { self.say("highest", context! { readings }) }
    }

    /// Tells how far a plastic sheet counts, once, and if it was taped down as its method asks.
    fn sheet(&mut self, site: &Site, n: usize) -> Result<(), WordsError> {
        if n == 1 {
            self.say("sheet", context! {})?;
        }
        let sheets = site.moisture.sheets.as_ref().map(|series| &series.readings);
        let reading = sheets.and_then(|readings| readings.get(n.checked_sub(1)?));
        for fault in reading.iter().flat_map(|reading| &reading.faults) {
            match fault {
                MethodFault::SheetTooShort { needed, .. } => {
                    let needed = format!("{:.0}", needed.as_hours());
                    self.say("sheet-short", context! { needed })?;
                }
                MethodFault::SheetNotSealed { .. } => self.say("sheet-open", context! {})?,
                _ => {}
            }
        }
        Ok(())
    }

    /// Tells if a dish stood for as long as its method asks.
    fn exposure(
        &mut self,
        input: &Input,
        series: Option<&Series<Mver>>,
        n: usize,
    ) -> Result<(), WordsError> {
        let Some((dish, series)) = dish(input, n).zip(series) else { return Ok(()) };
        let hours = hours_between(dish.set, dish.lifted);
        let fault = MethodFault::Exposure { place: dish.place.clone(), hours };
        if series.faults.contains(&fault) { self.say("exposure", context! {}) } else { Ok(()) }
    }

    /// Tells if a hole is as deep as its method asks in this slab.
    fn depth(
        &mut self,
        input: &Input,
        series: Option<&Series<Humidity>>,
        n: usize,
    ) -> Result<(), WordsError> {
        let test = input.job.moisture.probe_tests().next();
        let probe = test.and_then(|test| test.probes.get(n.checked_sub(1)?));
        let Some((probe, series)) = probe.zip(series) else { return Ok(()) };
        let needed = series.faults.iter().find_map(|fault| match fault {
            MethodFault::Depth { place, depth, needed } => {
                (*place == probe.place && *depth == probe.depth).then_some(*needed)
            }
            _ => None,
        });
        if let Some(needed) = needed {
            return self.say("depth", context! { needed => self.both(needed) });
        }
        let unknown = series.faults.contains(&MethodFault::DepthUnknown) && n == 1;
        if unknown { self.say("depth-unknown", context! {}) } else { Ok(()) }
    }

    /// Each floor that the book can supply against the highest readings.
    fn floors(&mut self, input: &Input) -> Result<(), WordsError> {
        self.say("floors", context! {})?;
        for choice in case::case(input).options {
            let key = &choice.key().0;
            let known = self.interview.setting.floors.iter().find(|floor| floor.key.0 == *key);
            let floor = known.map_or(key, |floor| &floor.name);
            let FloorMoisture { mver, rh, standing, .. } = &choice.moisture;
            let mver = mver.as_ref().map(|room| Mver::pounds(room.limit.as_pounds()));
            let limits = [
                mver.map(|limit| self.both(Figure::Mver(limit))),
                rh.as_ref().map(|room| self.both(Figure::SlabHumidity(room.limit))),
            ];
            let limit = limits.into_iter().flatten().collect::<Vec<_>>().join(", ");
            let name = match standing {
                Standing::Clear => "clear",
                Standing::Close => "close",
                Standing::Over => "over",
                Standing::NotJudged if choice.moisture.settles() == Some(Settles::Test) => "waits",
                Standing::NotJudged => "unknown",
            };
            self.say(name, context! { floor, limit })?;
        }
        Ok(())
    }

    fn air(&mut self, site: &Site) -> Result<(), WordsError> {
        let Some(air) = site.air else { return Ok(()) };
        let spread = air.spread;
        let name = match spread {
            spread if spread.as_kelvin() < 0.0 => "wet",
            spread if spread < LEAST_SPREAD => "near",
            _ => "dry",
        };
        let (dew, least) = (self.both(air.dew_point), self.both(LEAST_SPREAD));
        self.say(name, context! { dew, spread => self.both(spread), least })
    }
}
