//! The text of `reprice`: a table with a line for each job, the trouble with some, the sum.

use slableaf::base::figure::Figure;
use slableaf::base::money::Cents;
use slableaf::model::job::Units;
use slableaf::price::estimate::materials::KitMeasure;
use slableaf::reprice::{FloorPrice, JobState, Outcome, Prices, Totals, totals};
use slableaf::say::figures::{FigureWords, Figures};

use crate::shell::store::{english, signed_money};
use crate::shell::terminal::{Align, columns, counted, printable};

/// The sides of the columns: job, number, three of money, cause, valid until, state.
const COLUMNS: [Align; 8] = {
    use Align::{Left, Right};
    [Left, Left, Right, Right, Right, Left, Left, Left]
};

/// The jobs as a table, with the trouble and the new papers of single ones, and the sum of all.
pub fn reprice_table(outcomes: &[Outcome], dry_run: bool) -> String {
    let Some(words) = english() else { return String::new() };
    let head = ["job", "number", "before", "after", "change", "cause", "valid until", "state"];
    let mut rows = vec![head.map(str::to_owned).to_vec()];
    for outcome in outcomes {
        rows.push(row(outcome, &words));
        rows.extend(space_rows(outcome, &words));
    }
    let mut out = vec![columns(&rows, &COLUMNS), String::new()];
    let trouble = outcomes.iter().map(|one| &one.trouble).filter(|trouble| !trouble.is_empty());
    out.extend(trouble.map(|trouble| format!("trouble: {trouble}")));
    let written = outcomes.iter().filter_map(|one| one.written.as_ref());
    out.extend(written.map(|path| format!("wrote {path}")));
    out.push(sum(&totals(outcomes), &words, dry_run));
    out.iter().map(|line| printable(line)).collect::<Vec<_>>().join("\n")
}

fn row(outcome: &Outcome, words: &FigureWords) -> Vec<String> {
    let path = outcome.path.clone();
    let Some(prices) = &outcome.prices else {
        let none = String::new;
        let state = outcome.state.words().to_owned();
        return vec![path, outcome.number.clone(), none(), none(), none(), none(), none(), state];
    };
    let figures = figures(prices, words);
    let main = prices.repriced.main();
    let [before, after, change] = money_cells(main, &figures);
    let cause = main.map_or_else(String::new, |floor| cause(floor, prices, &figures));
    let until = prices.valid_until.to_string();
    let number = outcome.number.clone();
    vec![path, number, before, after, change, cause, until, state(outcome, prices)]
}

/// The price of a floor before and after, and what it changes by.
fn money_cells(floor: Option<&FloorPrice>, figures: &Figures<'_>) -> [String; 3] {
    let money = |cents: Option<Cents>| cents.map_or_else(|| "-".into(), |c| figures.money(c));
    let change = floor.and_then(FloorPrice::change);
    [
        money(floor.and_then(|floor| floor.before)),
        money(floor.and_then(|floor| floor.after)),
        change.map_or_else(|| "-".into(), |change| signed_money(change, figures)),
    ]
}

/// A line for each space of a job that has several.
fn space_rows(outcome: &Outcome, words: &FigureWords) -> Vec<Vec<String>> {
    let Some(prices) = &outcome.prices else { return vec![] };
    let figures = figures(prices, words);
    let row = |floor: &FloorPrice| {
        let [before, after, change] = money_cells(Some(floor), &figures);
        let none = String::new;
        let known = !floor.causes.is_empty();
        let cause = if known { cause(floor, prices, &figures) } else { none() };
        vec![format!("  {}", floor.floor), none(), before, after, change, cause, none(), none()]
    };
    prices.repriced.of_spaces().iter().map(row).collect()
}

fn figures<'a>(prices: &'a Prices, words: &'a FigureWords) -> Figures<'a> {
    Figures { units: prices.units, currency: &prices.currency, words }
}

/// The strongest cause, and how many there are beside it.
fn cause(floor: &FloorPrice, prices: &Prices, figures: &Figures<'_>) -> String {
    let causes = floor.strongest();
    let Some(first) = causes.first() else {
        let others = prices.repriced.floors.iter().any(|floor| floor.before != floor.after);
        return if prices.compared && others { "on other floors only" } else { "" }.to_owned();
    };
    let size = |size: KitMeasure| match size {
        KitMeasure::Volume(volume) => figures.write(&Figure::Volume(volume)),
        KitMeasure::Mass(mass) => figures.write(&Figure::Mass(mass)),
    };
    let more = match causes.len() - 1 {
        0 => String::new(),
        more => format!(", and {more} more"),
    };
    format!("{} {}{more}", first.what.plain(&size), signed_money(first.change, figures))
}

fn state(outcome: &Outcome, prices: &Prices) -> String {
    let words = outcome.state.words();
    let repriced = &prices.repriced;
    if outcome.state != JobState::Open {
        return words.to_owned();
    }
    if !prices.compared {
        return format!("{words}, never issued");
    }
    match (&repriced.recommended_before, &repriced.recommended_after) {
        (before, after) if before == after => words.to_owned(),
        (Some(before), Some(after)) => format!("{words}, recommends {after} in place of {before}"),
        (None, Some(after)) => format!("{words}, recommends {after} now"),
        _ => words.to_owned(),
    }
}

/// `7 jobs: 4 open, 1 accepted, 2 expired; prices of 3 change, by +$412.00 together`.
fn sum(totals: &Totals, words: &FigureWords, dry_run: bool) -> String {
    let states: Vec<String> =
        totals.states.iter().map(|(state, count)| format!("{count} {}", state.words())).collect();
    let mut text = format!("{}: {}; ", counted(totals.jobs, "job"), states.join(", "));
    if totals.changed == 0 {
        text += "no open one changes";
    } else {
        let sums = totals.change.iter().map(|(currency, change)| {
            signed_money(*change, &Figures { units: Units::Us, currency, words })
        });
        let sums = sums.collect::<Vec<_>>().join(" and ");
        text += &format!("{} of the open change, by {sums} together", totals.changed);
    }
    if dry_run {
        text + "; nothing was written"
    } else {
        text + &format!("; {} written", counted(totals.written, "paper"))
    }
}
