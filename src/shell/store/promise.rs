//! A promise holds: no paper is issued that takes back what an earlier one said until its own last day.

use jiff::civil::Date;
use slableaf::base::money::Cents;
use slableaf::base::names::Key;
use slableaf::issued::{Breach, Broken, Facts, Options, Promise, RecordDate, breaches};
use slableaf::judge::judge;
use slableaf::model::job::Job;
use slableaf::read::Input;
use slableaf::results::facts::payment_steps;
use slableaf::say::figures::Figures;

use crate::shell::args::Paper;
use crate::shell::store::{Cache, JobPapers, Records, StoredRecord, input_of_record, today};
use crate::shell::terminal::{Error, Exit, Result};

/// Every promise that the records of a job hold, the earliest first.
pub fn promises(records: &Records) -> Result<Vec<Promise>> {
    let cache = Cache::default();
    let mut found = vec![];
    for stored in records.all(Paper::Proposal.name())? {
        found.push(promise_of(&stored, &cache)?);
    }
    // A leaflet with prices says how long they hold, and nothing of payments or additions.
    for stored in records.all(Paper::Leaflet.name())? {
        if stored.record.options.prices {
            let mut promise = promise_of(&stored, &cache)?;
            for floor in &mut promise.facts.floors {
                floor.additions.clear();
                floor.payments.clear();
            }
            promise.facts.warranty = None;
            found.push(promise);
        }
    }
    Ok(found)
}

/// The promise of a record. One of before these facts were kept is completed from its own inputs.
fn promise_of(stored: &StoredRecord, cache: &Cache) -> Result<Promise> {
    let record = &stored.record;
    let mut facts = record.facts.clone();
    if facts.valid_until.is_none() {
        complete(&mut facts, &input_of_record(&stored.folder, cache)?);
    }
    let date = record.date.0;
    let until = facts.valid_until.map_or(date, |until| until.0);
    Ok(Promise { revision: record.revision, date, until, facts })
}

/// Adds what an older record does not state: the last day, the payments of its totals, the warranty.
fn complete(facts: &mut Facts, input: &Input) {
    let Input { job, book, shop, .. } = input;
    facts.valid_until = Some(RecordDate(book.terms.valid_until(job.date)));
    facts.warranty = Some(shop.warranty.clone());
    for floor in &mut facts.floors {
        floor.payments = payment_steps(Cents(floor.total), shop);
    }
}

/// Refuses to issue a paper with these facts where it breaks a promise that stands today.
pub fn guard_promises(papers: &JobPapers<'_>, records: &Records, facts: &Facts) -> Result<()> {
    let promises = promises(records)?;
    let input = &papers.job.input;
    let found = broken_promises(&promises, facts, input, today());
    let Some(first) = found.first() else { return Ok(()) };
    let writer = papers.writer();
    let figures = &writer.figures;
    let mut error = Error::new(Exit::Stop, said(first, figures));
    for further in found.iter().skip(1).take(MOST_TOLD - 1) {
        error = error.help(format!("also: {}", said(further, figures)));
    }
    for help in advice(first, &input.job, figures) {
        error = error.help(help);
    }
    Err(error)
}

/// Breaches that one error tells.
const MOST_TOLD: usize = 4;

/// The promises that a paper with these facts would break on a day.
pub fn broken_promises(
    promises: &[Promise],
    facts: &Facts,
    input: &Input,
    today: Date,
) -> Vec<Breach> {
    let job = &input.job;
    let mut offers: Vec<Key> = job.offer.iter().map(|offer| offer.value.clone()).collect();
    for space in &job.spaces {
        let keys = space.offer.iter().map(|offer| &offer.value.0);
        offers.extend(keys.map(|floor| Key(Facts::in_space(&space.place.name, floor))));
    }
    let aged = |floor: &str, date: Date| {
        if job.has_spaces() {
            return false;
        }
        let mut then = input.clone();
        then.job.date = date;
        judge(&then).recommendation.offers(&Key(floor.to_owned()))
    };
    breaches(promises, facts, &offers, &job.asked, today, aged)
}

/// True for a paper that names prices.
pub fn names_prices(paper: Paper, options: &Options) -> bool {
    paper == Paper::Proposal || options.prices
}

/// The breach in a sentence: revision, cap, last day, and what the new paper would say.
fn said(breach: &Breach, figures: &Figures<'_>) -> String {
    let money = |cents: i64| figures.money(Cents(cents));
    let Breach { revision, date, until, what } = breach;
    let of = format!("revision {revision} of {date}");
    match what {
        Broken::Currency { was, now } => {
            format!("{of} promises prices in {was} until {until}, and this paper has them in {now}")
        }
        Broken::Price { floor, cap, now } => format!(
            "{of} promises {floor} for {} until {until}, and this paper asks for {}",
            money(*cap),
            money(*now)
        ),
        Broken::Addition { floor, addition, cap, now } => format!(
            "{of} promises {addition} on {floor} for {} until {until}, and this paper asks for {}",
            money(*cap),
            money(*now)
        ),
        Broken::AdditionGone { floor, addition } => {
            format!("{of} offers {addition} on {floor} until {until}, and this paper does not")
        }
        Broken::Withdrawn { floor } => {
            format!("{of} offers {floor} until {until}, and the job does not any more")
        }
        Broken::Aged { floor } => format!(
            "{of} offers {floor} until {until}, and only the later date takes it off this paper"
        ),
        Broken::Payment { floor, when, cap, now } => format!(
            "{of} promises {floor} with at most {} paid until {until} by `{when}`, and this paper asks for {}",
            money(*cap),
            money(*now)
        ),
        Broken::When { floor, was, now } => format!(
            "{of} promises {floor} until {until} with a payment due `{was}`, and on this paper it is due `{now}`"
        ),
        Broken::Warranty { paragraph } => format!(
            "{of} promises this warranty until {until}, and this paper leaves it out: {paragraph}"
        ),
    }
}

/// The ways out of a breach.
fn advice(breach: &Breach, job: &Job, figures: &Figures<'_>) -> Vec<String> {
    let by = job.customer.signers.first().unwrap_or(&job.customer.name);
    let on = today().max(breach.date);
    let asked = format!(
        "if the customer asked for a change, write it into the job: `[[asked]]`, `on = {on}`, `by = \"{by}\"`, `what = \"...\"`"
    );
    let day_after = breach.until.tomorrow().unwrap_or(breach.until);
    let keep = match &breach.what {
        Broken::Price { cap, now, .. } => format!(
            "else keep the promise: a `[discount]` takes off the {} that are too much, tax included; or wait until {day_after}",
            figures.money(Cents(now - cap))
        ),
        Broken::Aged { .. } => {
            format!("else keep `date = {}`, or test again before the paper is written", breach.date)
        }
        Broken::Withdrawn { .. } => {
            format!("else put the floor back into `offer`; or wait until {day_after}")
        }
        Broken::Warranty { .. } => format!(
            "else keep the paragraph in the shop file, and add beside it what is better; or wait until {day_after}"
        ),
        Broken::Currency { .. }
        | Broken::Addition { .. }
        | Broken::AdditionGone { .. }
        | Broken::Payment { .. }
        | Broken::When { .. } => {
            format!("else put back what was promised; or wait until {day_after}")
        }
    };
    vec![asked, keep]
}
