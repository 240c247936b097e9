//! The standing of each floor on the offer, and the conditions of the offer: floors that wait for a
//! moisture test or for their maker's word, each with its price and the result that would let it be
//! laid.

use crate::base::figure::Figure;
use crate::base::names::Key;
use crate::judge::recommend::OfferState;
use crate::model::book::MoistureTestAsked;
use crate::papers::proposal::page::{FloorMark, Hangs, HangsRow, TestOrder};
use crate::papers::proposal::writer::Writer;
use crate::price::case::{FloorOption, Ground};
use crate::site::moisture::{MoistureReading, ReadingRole, Series};
use crate::site::standing::{Measure, MoistureLimit, Settles, Standing, exceeds};

/// Returns the conditions of the offer; `None` when no floor waits.
pub fn hangs(w: &Writer<'_>) -> Option<Hangs> {
    let waiting: Vec<(&FloorOption<'_>, Settles)> = w
        .priced()
        .into_iter()
        .filter_map(|option| Some((option, w.recommendation.state(option.key()).waits_for()?)))
        .collect();
    if waiting.is_empty() {
        return None;
    }
    let tests = waiting.iter().any(|(_, settles)| *settles == Settles::Test);
    let asks = waiting.iter().any(|(_, settles)| *settles == Settles::Maker);
    let says = match (tests, asks) {
        (true, true) => "hangs.both",
        (true, false) => "hangs.test",
        (false, _) => "hangs.maker",
    };
    let count = waiting.len();
    let rows = waiting.iter().map(|(option, settles)| HangsRow {
        name: w.name(option.key()),
        price: w.money(option.quote.total),
        only_if: only_if(w, option, *settles),
    });
    let none_offered = w.recommendation.offered().is_empty();
    Some(Hangs {
        says: w.say(says, [("count", count)]),
        rows: rows.collect(),
        otherwise: w.say_with(
            "hangs.otherwise",
            minijinja::context! { none_offered => none_offered, count => count },
        ),
        order: match test_order(w) {
            // Probes are drilled for, and nobody drills before the slab was scanned.
            Some(order) if w.case.job.slab.needs_scan() => {
                format!("{} {}", order.says, w.plain("hangs.scan"))
            }
            Some(order) => order.says,
            None => String::new(),
        },
    })
}

/// The test that a customer may order, with its price; `None` when no floor waits for one.
pub fn test_order(w: &Writer<'_>) -> Option<TestOrder> {
    let waits_for_test = OfferState::Waits(Settles::Test);
    if w.recommendation.states.iter().all(|(_, state)| *state != waits_for_test) {
        return None;
    }
    let price = w.case.shop.testing.price.map(|price| w.money(price)).unwrap_or_default();
    Some(TestOrder {
        name: w.plain("hangs.test_name"),
        says: w.say("hangs.order", [("price", price.as_str())]),
        price: if price.is_empty() { w.plain("hangs.on_request") } else { price },
    })
}

/// The result that lets a waiting floor be laid.
pub fn only_if(w: &Writer<'_>, option: &FloorOption<'_>, settles: Settles) -> String {
    if settles == Settles::Maker {
        return w.plain("hangs.if_maker");
    }
    let terms = option.moisture.terms;
    let moisture = &w.case.site.moisture;
    let again = |tested: bool| if tested { "yes" } else { "" }.to_owned();
    if terms.test == MoistureTestAsked::PlasticSheet {
        return w.say("hangs.if_sheet", [("again", again(moisture.sheets.is_some()))]);
    }
    fn stated_limit<Q: Copy>(limit: Option<MoistureLimit<Q>>) -> Option<Q> {
        limit.filter(|limit| limit.of_first_coat).map(|limit| limit.value)
    }
    let mver =
        stated_limit(terms.mver).map(|limit| w.figures.mver(limit, false)).unwrap_or_default();
    let rh = stated_limit(terms.rh)
        .map(|limit| w.figure(Figure::SlabHumidity(limit)))
        .unwrap_or_default();
    let clear = if option.ground == Ground::Waits { "yes" } else { "" };
    let both = if terms.test == MoistureTestAsked::Both { "yes" } else { "" };
    w.say(
        "hangs.if_reading",
        [
            ("mver", mver),
            ("rh", rh),
            ("clear", clear.to_owned()),
            ("both", both.to_owned()),
            ("again", again(moisture.mver.is_some() || moisture.rh.is_some())),
            ("places", w.figures.list(&places_to_read(w, option))),
        ],
    )
}

/// The places whose void reading was over a floor's limit and was not read again, each once.
fn places_to_read(w: &Writer<'_>, option: &FloorOption<'_>) -> Vec<String> {
    fn of<Q: Measure>(series: Option<&Series<Q>>, limit: Option<MoistureLimit<Q>>) -> Vec<String> {
        let (Some(series), Some(limit)) = (series, limit) else { return vec![] };
        let void = |one: &&MoistureReading<Q>| {
            one.part == ReadingRole::Void && exceeds(one.value, limit.value)
        };
        series.readings.iter().filter(void).map(|one| one.place.clone()).collect()
    }
    let moisture = &w.case.site.moisture;
    let mut places = of(moisture.mver.as_ref(), option.moisture.terms.mver);
    places.extend(of(moisture.rh.as_ref(), option.moisture.terms.rh));
    places.dedup();
    places
}

impl Writer<'_> {
    /// Returns the standing of a floor on the offer, in a word or two.
    pub fn standing_words(&self, key: &Key) -> String {
        self.plain(match self.recommendation.state(key) {
            OfferState::Offered if self.recommendation.recommends(key) => "glance.recommended",
            OfferState::Offered if self.is_close(key) => "glance.offered_close",
            OfferState::Offered => "glance.offered",
            OfferState::Waits(Settles::Test) => "glance.waits_test",
            OfferState::Waits(Settles::Maker) => "glance.waits_maker",
            OfferState::NotOffered => "glance.not_offered",
        })
    }

    /// True for a floor close to its moisture limit.
    fn is_close(&self, key: &Key) -> bool {
        self.choice(key).is_some_and(|option| option.moisture.standing == Standing::Close)
    }

    /// Returns the mark beside a floor's name; none for one that is offered and not recommended.
    pub fn mark(&self, key: &Key) -> Option<FloorMark> {
        let strong = self.recommendation.recommends(key);
        if !strong && self.recommendation.offers(key) && !self.is_close(key) {
            return None;
        }
        Some(FloorMark { word: self.standing_words(key), strong })
    }
}
