//! The papers of a floor that was chosen: what the crew does and when, what the shop buys, and the
//! days in calendars. All but the customer's days are for the shop alone.

mod air;
mod buying;
mod coats;
mod controls;
mod days;
mod ics;
mod mends;
mod sheet;
mod watch;

use crate::papers::proposal::page::Frame;
use crate::papers::proposal::writer::Writer;
use crate::papers::proposal::{Issue, PageForm, frame};

pub use buying::{BuyingList, buying_csv, buying_list};
pub use days::{crew_days, customer_days};
pub use sheet::{CrewSheet, crew_sheet};

/// The frame of a paper for the shop. Large print is for the customer's papers alone.
fn shop_frame(w: &Writer<'_>, issue: &Issue, title: String) -> Frame {
    let mut frame = frame(w, issue, title, w.words.crew_labels.clone());
    // It is numbered by itself; the customer's papers have revisions of their own.
    if let Some(number) = issue.revision {
        frame.head.revision = w.say("crew.sheet.revision", [("number", number)]);
    }
    Frame { edition: PageForm::Usual.word(), ..frame }
}
