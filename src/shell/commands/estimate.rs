//! `estimate`: the shop's own view of every floor on offer, or a customer's as JSON.

use slableaf::results::customer::CustomerForm;
use slableaf::results::shop::ShopForm;

use crate::shell::args::{Audience, Estimate, Format};
use crate::shell::commands::estimate_view;
use crate::shell::store::{judge_job, read_for_shop, writer};
use crate::shell::terminal::{Error, Exit, Report, Result, json};

pub fn estimate(wanted: &Estimate, report: &mut Report) -> Result<Exit> {
    let Estimate { look, audience } = wanted;
    if (look.format, *audience) == (Format::Text, Audience::Customer) {
        let message = "the text form holds costs and margin: it is for the shop only";
        return Err(Error::new(Exit::Input, message)
            .help("for what a customer may know, add `--format json`"));
    }
    let (input, layouts) = read_for_shop(&look.files, report)?;
    let judged = judge_job(&input)?;
    let w = writer(&judged, &layouts.words);
    let text = match (look.format, audience) {
        (Format::Text, _) => Ok(estimate_view::text(&judged, &w.figures)),
        (Format::Json, Audience::Shop) => ShopForm::of(&w).map(|form| json(&form)),
        (Format::Json, Audience::Customer) => CustomerForm::of(&w).map(|form| json(&form)),
    };
    let text = text.map_err(|error| Error::words(&error, layouts.layouts()))?;
    report.print(format!("{text}\n"));
    Ok(Exit::Fine)
}
