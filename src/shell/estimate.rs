//! `estimate`: the shop's own view of every floor on offer.

use slableaf::base::figure::Figure;
use slableaf::base::quantity::Share;
use slableaf::judge::Judged;
use slableaf::judge::recommend::OfferState;
use slableaf::papers::proposal::writer::Writer;
use slableaf::price::case::FloorOption;
use slableaf::price::estimate::materials::{KitMeasure, MaterialAmount, MaterialLine};
use slableaf::results::customer::CustomerForm;
use slableaf::results::shop::ShopForm;
use slableaf::results::work::task_name;
use slableaf::say::figures::Figures;
use slableaf::site::standing::Settles;

use crate::shell::Exit;
use crate::shell::args::{Audience, Estimate, Format};
use crate::shell::files::Loaded;
use crate::shell::outlook::outlook;
use crate::shell::{files, terminal};

pub fn estimate(wanted: &Estimate) -> Exit {
    let Estimate { look, audience } = wanted;
    if (look.format, *audience) == (Format::Text, Audience::Customer) {
        terminal::error("the text form holds costs and margin: it is for the shop only");
        terminal::help("for what a customer may know, add `--format json`");
        return Exit::Input;
    }
    let Loaded { input, words, layouts } = match files::load_with_words(&look.files) {
        Ok(loaded) => loaded,
        Err(exit) => return exit,
    };
    let judged = match files::judged(&input) {
        Ok(judged) => judged,
        Err(exit) => return exit,
    };
    let w = Writer::new(&judged.case, &judged.findings, &judged.recommendation, &words);
    let text = match (look.format, audience) {
        (Format::Text, _) => Ok(text(&judged, &w.figures)),
        (Format::Json, Audience::Shop) => ShopForm::of(&w).map(|form| terminal::json(&form)),
        (Format::Json, Audience::Customer) => {
            CustomerForm::of(&w).map(|form| terminal::json(&form))
        }
    };
    match text {
        Ok(text) => println!("{text}"),
        Err(error) => return terminal::words(&error, &layouts),
    }
    Exit::Fine
}

fn text(judged: &Judged<'_>, figures: &Figures<'_>) -> String {
    let case = &judged.case;
    let mut out =
        vec![format!("Job {}, for the shop only: costs and margin inside", case.job.number.0)];
    let take_off = case.site.take_off;
    let row = |label: &str, value: String| vec![label.to_owned(), value];
    out.push(terminal::table(&[
        row("floor", figures.write(&Figure::Area(take_off.floor))),
        row("upright faces and steps", figures.write(&Figure::Area(take_off.upright))),
        row("edge", figures.write(&Figure::Length(take_off.edge))),
        row(
            "cracks and filled joints",
            figures.write(&Figure::Length(take_off.cracks + take_off.filled_joints)),
        ),
    ]));
    for option in &case.options {
        let standing = match judged.recommendation.state(option.key()) {
            OfferState::Offered if judged.recommendation.recommends(option.key()) => "recommended",
            OfferState::Offered => "offered",
            OfferState::Waits(Settles::Test) => "waits for a moisture test",
            OfferState::Waits(Settles::Maker) => "waits for a word from its maker",
            OfferState::NotOffered => "not offered as things are",
        };
        out.push(format!("\n{} ({standing})", option.key()));
        out.push(floor(option, figures));
        out.push(outlook(judged, option, figures));
    }
    out.join("\n")
}

fn floor(option: &FloorOption<'_>, figures: &Figures<'_>) -> String {
    let e = &option.estimate;
    let row = |cells: [String; 3]| cells.to_vec();
    let mut rows = vec![row(["to buy".into(), "need".into(), "cost".into()])];
    for line in &e.materials {
        rows.push(row([
            format!("{}: {}", line.name, kits(line, figures)),
            need(line, figures),
            figures.money(line.cost),
        ]));
    }
    rows.push(row(["work".into(), "hours".into(), "cost".into()]));
    for line in &e.labor {
        rows.push(row([
            task_name(&line.task),
            figures.decimal(line.hours),
            figures.money(line.cost),
        ]));
    }
    let margin = e.margin().map_or_else(String::new, |margin| {
        figures
            .write(&Figure::Share(Share::of_one(f64::try_from(margin.round_dp(4)).unwrap_or(0.0))))
    });
    let sum = |label: &str, note: String, cents| vec![label.to_owned(), note, figures.money(cents)];
    rows.extend([
        sum("consumables", String::new(), e.consumables),
        sum("taking off the old coating", String::new(), e.removal),
        sum("once a job", String::new(), e.per_job),
        sum("tax on purchases", String::new(), e.purchase_tax),
        sum("direct cost", format!("{} hours", figures.decimal(e.hours())), e.direct),
        sum("overhead", String::new(), e.overhead),
        sum("cost", String::new(), e.cost),
        sum("price that the margin asks for", String::new(), e.wanted),
        sum("price", String::new(), e.price),
        sum("tax on the price", String::new(), e.tax),
        sum("total for the customer", String::new(), e.total()),
        sum("left over cost", margin, e.profit()),
        sum("left a crew-day", figures.days(e.schedule.days), e.profit_per_day()),
    ]);
    terminal::table(&rows)
}

fn kits(line: &MaterialLine, figures: &Figures<'_>) -> String {
    if line.buy.is_empty() {
        return "nothing to buy".into();
    }
    let kit = |(count, size): &(u32, KitMeasure)| {
        let size = match size {
            KitMeasure::Volume(volume) => figures.write(&Figure::Volume(*volume)),
            KitMeasure::Mass(mass) => figures.write(&Figure::Mass(*mass)),
        };
        format!("{count} x {size}")
    };
    line.buy.iter().map(kit).collect::<Vec<_>>().join(" + ")
}

fn need(line: &MaterialLine, figures: &Figures<'_>) -> String {
    match line.amount {
        MaterialAmount::Liquid { need, .. } => figures.write(&Figure::Volume(need)),
        MaterialAmount::Flake { need, .. } => figures.write(&Figure::Mass(need)),
    }
}
