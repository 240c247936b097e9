//! What else a first visit brings, and air of which a part is not known.

use super::{FEWEST, Visit};
use slableaf::interview::InterviewKind;

fn visit(more: &[(&'static str, &'static str)]) -> Visit<'static> {
    let mut visit = Visit::new(InterviewKind::Job);
    let air = more.iter().any(|(id, _)| *id == "air.any");
    let fewest = FEWEST.iter().filter(|(id, _)| !(air && *id == "air.any"));
    let answers: Vec<_> = fewest.chain(more).copied().collect();
    visit.with(&answers);
    visit
}

#[test]
fn what_else_was_said_is_asked_only_where_there_is_something() {
    assert!(!visit(&[]).asked.iter().any(|id| id.starts_with("item") || id == "plan.contact"));
    let job = visit(&[
        ("more.what", "color, contact, stay, item, discount, second-email, tax-exempt"),
        ("choices.color", "Slate and cream"),
        ("plan.contact", "Emil, 555-0127"),
        ("customer.email", "ana@quill.example"),
        ("customer.second-email", "emil@quill.example"),
        ("customer.tax-exempt", "EX-4471"),
        ("house.stay-years", "12"),
        ("item.name 1", "Moving the workbench"),
        ("item.price 1", "180"),
        ("item.another 2", "yes"),
        ("item.name 2", "Hauling the old cabinets"),
        ("discount.amount", "200"),
        ("discount.reason", "Two floors in one visit"),
    ])
    .job();
    assert_eq!(job.choices.color.as_deref(), Some("Slate and cream"));
    assert_eq!(job.plan.contact.as_deref(), Some("Emil, 555-0127"));
    assert_eq!(job.house.stay_years, Some(12));
    assert_eq!(job.items.len(), 2);
    // What has no price is on request.
    assert!(job.items[0].priced.is_some() && job.items[1].priced.is_none());
    assert!(job.discount.is_some() && job.customer.tax_exempt.is_some());
}

/// Without one of the three there is no dew point, and nothing is made up for it.
#[test]
fn humidity_that_nobody_measured_leaves_the_air_unmeasured() {
    let visit = visit(&[
        ("air.any", "yes"),
        ("air.temperature", "66 F"),
        ("air.humidity", "not known"),
        ("air.slab", "62 F"),
    ]);
    assert!(visit.job().air.is_none());
    assert!(
        visit.said.iter().any(|said| said.contains("there is no dew point")),
        "{:?}",
        visit.said
    );
}
