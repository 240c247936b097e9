//! The text of `reprice`: a table with a line for each job, the trouble with some, the sum.

use slableaf::base::figure::Figure;
use slableaf::base::layouts::Layouts;
use slableaf::base::money::Cents;
use slableaf::price::estimate::materials::KitMeasure;
use slableaf::reprice::{FloorPrice, JobState, Outcome, Prices, Totals, totals};
use slableaf::say::figures::{FigureWords, Figures};
use slableaf::say::words::Words;

use crate::shell::terminal::{Align, columns, counted, printable};

/// The sides of the columns: job, number, three of money, cause, valid until, state.
const COLUMNS: [Align; 8] = {
    use Align::{Left, Right};
    [Left, Left, Right, Right, Right, Left, Left, Left]
};

/// The jobs as a table, with the trouble and the new papers of single ones, and the sum of all.
pub fn reprice_table(outcomes: &[Outcome], dry_run: bool) -> String {
    // The shop's own view: always in the words of the program, whatever its papers speak.
    let words = Words::read(&Layouts::default(), "en").ok().map(|words| words.figures);
    let Some(words) = words else { return String::new() };
    let head = ["job", "number", "before", "after", "change", "cause", "valid until", "state"];
    let mut rows = vec![head.map(str::to_owned).to_vec()];
    for outcome in outcomes {
        rows.push(row(outcome, &words));
        rows.extend(space_rows(outcome, &words));
    }
    let mut out = vec![columns(&rows, &COLUMNS), String::new()];
    for outcome in outcomes {
        if !outcome.trouble.is_empty() {
            out.push(format!("trouble: {}", outcome.trouble));
        }
    }
    out.extend(
        outcomes.iter().filter_map(|o| o.written.as_ref()).map(|path| format!("wrote {path}")),
    );
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
    let money = |cents: Option<Cents>| cents.map_or_else(|| "-".into(), |c| figures.money(c));
    let main = prices.repriced.main();
    let change = main.and_then(FloorPrice::change);
    vec![
        path,
        outcome.number.clone(),
        money(main.and_then(|floor| floor.before)),
        money(main.and_then(|floor| floor.after)),
        change.map_or_else(|| "-".into(), |change| signed_money(change, &figures)),
        main.map_or_else(String::new, |floor| cause(floor, prices, &figures)),
        prices.valid_until.to_string(),
        state(outcome, prices),
    ]
}

/// A line for each space of a job that has several.
fn space_rows(outcome: &Outcome, words: &FigureWords) -> Vec<Vec<String>> {
    let Some(prices) = &outcome.prices else { return vec![] };
    let figures = figures(prices, words);
    let money = |cents: Option<Cents>| cents.map_or_else(|| "-".into(), |c| figures.money(c));
    let row = |floor: &FloorPrice| {
        let change = floor.change();
        vec![
            format!("  {}", floor.floor),
            String::new(),
            money(floor.before),
            money(floor.after),
            change.map_or_else(|| "-".into(), |change| signed_money(change, &figures)),
            if floor.causes.is_empty() { String::new() } else { cause(floor, prices, &figures) },
            String::new(),
            String::new(),
        ]
    };
    prices.repriced.of_spaces().iter().map(row).collect()
}

fn figures<'a>(prices: &'a Prices, words: &'a FigureWords) -> Figures<'a> {
    Figures { units: prices.units, currency: &prices.currency, words }
}

/// A change of money with its sign.
pub fn signed_money(change: Cents, figures: &Figures<'_>) -> String {
    let plus = if change > Cents::ZERO { "+" } else { "" };
    format!("{plus}{}", figures.money(change))
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
        let sums: Vec<String> = totals
            .change
            .iter()
            .map(|(currency, change)| {
                let units = slableaf::model::job::Units::Us;
                signed_money(*change, &Figures { units, currency, words })
            })
            .collect();
        text +=
            &format!("{} of the open change, by {} together", totals.changed, sums.join(" and "));
    }
    if dry_run {
        text + "; nothing was written"
    } else {
        text + &format!("; {} written", counted(totals.written, "paper"))
    }
}
