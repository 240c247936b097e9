//! The leaf that is signed for a job of several spaces: boxes for each, one price, one set of payments.

use crate::base::money::Cents;
use crate::papers::proposal::accept::{leaf, signed_floors};
use crate::papers::proposal::glance::start_conditions;
use crate::papers::proposal::hangs::{hangs, test_order};
use crate::papers::proposal::look::{LookChoice, look_chosen};
use crate::papers::proposal::page::{Accept, AmountLine, FloorExtras, SignedFloor, SignedSpace};
use crate::papers::proposal::plan::price_table;
use crate::papers::proposal::spaces::Spaces;
use crate::papers::proposal::spaces::joined::by_space;
use crate::papers::proposal::spaces::plan;
use crate::papers::proposal::writer::Writer;

pub fn accept(s: &Spaces<'_>) -> Accept {
    let w = s.w();
    let offers = s.some_offered();
    let tests = s.writers.iter().any(|w| test_order(w).is_some());
    if !offers && !tests {
        return Accept::default();
    }
    let mut sum = vec![];
    if offers {
        sum.extend(beside(s));
        sum.push(AmountLine {
            label: w.plain("space.signed_total"),
            amount: w.money(s.signable()),
        });
    }
    let payments = plan::payments(s);
    Accept {
        intro: w.plain(if offers { "space.accept_intro" } else { "accept.intro_test" }),
        spaces: s.named().map(|(name, w)| signed_space(name, w)).collect(),
        choices: if offers { choices(s) } else { vec![] },
        extras: items(s),
        conditions: by_space(s, start_conditions),
        payments_note: w.plain_if(!payments.is_empty(), "space.payments_other"),
        sum,
        payments,
        ..leaf(w, &w.context(), offers, true)
    }
}

/// Items and discount with the tax on them, in one line; `None` where there are none.
fn beside(s: &Spaces<'_>) -> Option<AmountLine> {
    let (w, price) = (s.w(), s.judged.price.as_ref()?);
    let items: Vec<String> = price.bill.items.iter().map(|item| item.name.clone()).collect();
    let discount = s.job.discount.as_ref().filter(|_| price.bill.discount > Cents::ZERO);
    if items.is_empty() && discount.is_none() {
        return None;
    }
    let reason = discount.map(|discount| discount.reason.clone()).unwrap_or_default();
    let facts = minijinja::context! { items, reason };
    let amount = w.money(price.beside());
    Some(AmountLine { label: w.say_with("space.beside", facts), amount })
}

fn signed_space(name: &str, w: &Writer<'_>) -> SignedSpace {
    let options = signed_floors(w)
        .into_iter()
        // Payments are of the whole.
        .map(|floor| SignedFloor { payments: vec![], ..floor });
    let offered = w.offered();
    let extras = offered.iter().map(|option| FloorExtras {
        floor: w.name(option.key()),
        lines: price_table(w, option).extras,
    });
    SignedSpace {
        name: name.to_owned(),
        options: options.collect(),
        extras: extras.filter(|extras| !extras.lines.is_empty()).collect(),
        test: test_order(w),
        waits: hangs(w).map_or_else(Vec::new, |hangs| hangs.rows),
    }
}

/// The look of each space that has a floor on offer: what was chosen, else a line to write on.
fn choices(s: &Spaces<'_>) -> Vec<LookChoice> {
    let offered = s.named().filter(|(_, w)| !w.offered().is_empty());
    let line = |(name, w): (&str, &Writer<'_>)| {
        let chosen = look_chosen(w).into_iter().map(|choice| choice.value);
        LookChoice {
            label: w.say("space.look", [("space", name)]),
            value: chosen.collect::<Vec<_>>().join("; "),
        }
    };
    offered.map(line).collect()
}

/// Items of the whole that may be ticked.
fn items(s: &Spaces<'_>) -> Vec<FloorExtras> {
    let Some(price) = &s.judged.price else { return vec![] };
    let w = s.w();
    let line = |name: &String, adds| AmountLine { label: name.clone(), amount: w.money(adds) };
    let lines: Vec<AmountLine> =
        price.could_add.iter().map(|(_, name, adds)| line(name, *adds)).collect();
    if lines.is_empty() {
        return vec![];
    }
    vec![FloorExtras { floor: w.plain("space.all"), lines }]
}
