//! `estimate`: the shop's own view of every floor on offer, or a customer's as JSON.

use slableaf::results::customer::CustomerForm;
use slableaf::results::shop::ShopForm;

use crate::shell::args::{Audience, Estimate, Format};
use crate::shell::commands::{estimate_spaces, estimate_view};
use crate::shell::store::{judge_any, read_for_shop, writer};
use crate::shell::terminal::{Error, Exit, Report, Result, json};

pub fn estimate(wanted: &Estimate, report: &mut Report) -> Result<Exit> {
    let Estimate { look, audience } = wanted;
    if (look.format, *audience) == (Format::Text, Audience::Customer) {
        let message = "the text form holds costs and margin: it is for the shop only";
        return Err(Error::new(Exit::Input, message)
            .help("for what a customer may know, add `--format json`"));
    }
    let (input, layouts) = read_for_shop(&look.files, report)?;
    let spaces = input.job.of_spaces();
    let judged = judge_any(&input, &spaces)?;
    let w = writer(judged.first(), &layouts.words);
    let text = match (look.format, audience, judged.spaces(&layouts.words)) {
        (Format::Text, _, None) => Ok(estimate_view::text(judged.first(), &w.figures)),
        (Format::Text, _, Some(spaces)) => Ok(estimate_spaces::text(&spaces)),
        (Format::Json, Audience::Shop, None) => ShopForm::of(&w).map(|form| json(&form)),
        (Format::Json, Audience::Shop, Some(spaces)) => {
            ShopForm::of_spaces(&spaces).map(|form| json(&form))
        }
        (Format::Json, Audience::Customer, None) => CustomerForm::of(&w).map(|form| json(&form)),
        (Format::Json, Audience::Customer, Some(spaces)) => {
            CustomerForm::of_spaces(&spaces).map(|form| json(&form))
        }
    };
    let text = text.map_err(|error| Error::words(&error, layouts.layouts()))?;
    report.print(format!("{text}\n"));
    Ok(Exit::Fine)
}
