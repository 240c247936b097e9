//! What the customer asked for, and the orders that change what was signed.

use crate::base::names::Key;
use crate::base::source::Located;
use crate::model::job::{Accepted, Asked, Order, SignedOrder};
use crate::model::space::Space;
use crate::read::choices::know_floor;
use crate::read::keys::job::{asked, order};
use crate::read::reader::Table;
use crate::read::spaces::{keeps_to_spaces, ordered};

/// Reads every `[[asked]]`.
pub fn asked(top: &Table<'_>) -> Vec<Asked> {
    top.each(&asked::TABLE, |t| {
        let (on, by, what) = (t.read(asked::ON), t.read(asked::BY), t.read(asked::WHAT));
        Some(Asked { on: on?, by: by?, what: what? })
    })
}

/// Reads every `[[order]]`: the signed ones stand first and in the order of their days, and one at the
/// most is open.
pub fn orders(
    top: &Table<'_>,
    accepted: Option<&Accepted>,
    offer: &[Located<Key>],
    spaces: &[Space],
) -> Vec<Order> {
    let tables = top.tables(&order::TABLE);
    let mut orders: Vec<Order> = vec![];
    let mut before = accepted.map(|accepted| accepted.on);
    for table in &tables {
        if !keeps_to_spaces(table, spaces) {
            continue;
        }
        let floors = ordered(table, spaces);
        let floor = table.read(order::FLOOR);
        if let Some(floor) = &floor {
            know_floor(table, "floor", floor, offer);
        }
        let signed = table.read(order::REVISION).zip(table.read(order::ON));
        let signed = signed.map(|(revision, on)| SignedOrder { revision, on });
        if orders.last().is_some_and(|last| last.signed.is_none()) {
            table.fault(
                "order",
                "stands behind an order that is not signed",
                "write both changes into one order, or `revision` and `on` into the first",
            );
        }
        if let Some(signed) = signed {
            if let Some(before) = before.filter(|before| signed.on < *before) {
                let message = format!("is before {before}, when what it changes was signed");
                table.fault("on", message, "check both days");
            }
            let last = orders.iter().filter_map(|order| order.signed).next_back();
            if last.is_some_and(|last| signed.revision <= last.revision) {
                let help = "each order has a number of its own, the later the higher";
                table.fault("revision", "is not above that of the order before it", help);
            }
            before = Some(signed.on);
        }
        let additions = table.has("additions").then(|| table.located_list(order::ADDITIONS));
        let (date, what) = (table.read(order::DATE), table.read(order::WHAT));
        let span = table.span();
        orders.push(Order { signed, date, what, floor, floors, additions, span });
    }
    orders
}
