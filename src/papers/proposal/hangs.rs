//! The standing of each floor on the offer, and the conditions of the offer: floors that wait for a
//! moisture test or for their maker's word, each with its price and the result that would let it be
//! laid.

use minijinja::context;

use crate::base::names::Key;
use crate::judge::recommend::OfferState;
use crate::model::book::MoistureTestAsked;
use crate::papers::proposal::page::{FloorMark, Hangs, HangsRow, TestOrder};
use crate::papers::proposal::readings::Written;
use crate::papers::proposal::writer::{Writer, joined};
use crate::price::case::{FloorOption, Ground};
use crate::site::moisture::{MoistureReading, ReadingPart, Series};
use crate::site::standing::{MoistureLimit, Settles, Standing, exceeds};

/// Returns the conditions of the offer; `None` when no floor waits.
pub fn hangs(w: &Writer<'_>) -> Option<Hangs> {
    let says = match (any_waits_for(w, Settles::Test), any_waits_for(w, Settles::Maker)) {
        (false, false) => return None,
        (true, true) => "hangs.both",
        (true, false) => "hangs.test",
        (false, true) => "hangs.maker",
    };
    let waiting = w.priced().into_iter().filter_map(|option| {
        let (name, price) = (w.name(option.key()), w.money(option.quote.total));
        Some(HangsRow { name, price, only_if: only_if(w, option)? })
    });
    let rows: Vec<HangsRow> = waiting.collect();
    let none_offered = w.recommendation.offered().is_empty();
    let otherwise = context! { none_offered => none_offered, count => rows.len() };
    Some(Hangs {
        says: w.say_with(
            says,
            context! { count => rows.len(), all => rows.len() == w.case.options.len() },
        ),
        rows,
        otherwise: w.say_with("hangs.otherwise", otherwise),
        order: test_order(w).map_or_else(String::new, |order| {
            // Probes are drilled for, and nobody drills before the slab was scanned.
            joined([order.says, w.plain_if(w.case.job.slab.needs_scan(), "hangs.scan")])
        }),
    })
}

fn any_waits_for(w: &Writer<'_>, settles: Settles) -> bool {
    w.recommendation.states.iter().any(|(_, state)| *state == OfferState::Waits(settles))
}

/// The test that a customer may order, with its price; `None` when no floor waits for one.
pub fn test_order(w: &Writer<'_>) -> Option<TestOrder> {
    if !any_waits_for(w, Settles::Test) {
        return None;
    }
    let price = w.case.shop.testing.price.map(|price| w.money(price)).unwrap_or_default();
    Some(TestOrder {
        name: w.plain("hangs.test_name"),
        says: w.say("hangs.order", [("price", price.as_str())]),
        price: if price.is_empty() { w.plain("hangs.on_request") } else { price },
    })
}

/// Returns the result that lets a waiting floor be laid; `None` for a floor that does not wait.
pub fn only_if(w: &Writer<'_>, option: &FloorOption<'_>) -> Option<String> {
    if w.recommendation.state(option.key()).waits_for()? == Settles::Maker {
        return Some(w.plain("hangs.if_maker"));
    }
    let terms = option.moisture.terms;
    let moisture = &w.case.site.moisture;
    if terms.test == MoistureTestAsked::PlasticSheet {
        return Some(w.say("hangs.if_sheet", [("again", moisture.sheets.is_some())]));
    }
    let (mver, rh) = (
        terms.mver.and_then(MoistureLimit::stated).map(|limit| w.figure(limit.of_slab())),
        terms.rh.and_then(MoistureLimit::stated).map(|limit| w.figure(limit.of_slab())),
    );
    let facts = context! {
        mver => mver.unwrap_or_default(),
        rh => rh.unwrap_or_default(),
        clear => option.ground == Ground::Waits,
        both => terms.test == MoistureTestAsked::Both,
        again => moisture.mver.is_some() || moisture.rh.is_some(),
        places => w.figures.list(&places_to_read(w, option)),
    };
    Some(w.say_with("hangs.if_reading", facts))
}

/// The places whose void reading was over a floor's limit and was not read again, each once.
fn places_to_read(w: &Writer<'_>, option: &FloorOption<'_>) -> Vec<String> {
    fn of<Q: Written>(series: Option<&Series<Q>>, limit: Option<MoistureLimit<Q>>) -> Vec<String> {
        let (Some(series), Some(limit)) = (series, limit) else { return vec![] };
        let void = |one: &&MoistureReading<Q>| {
            one.part == ReadingPart::Void && exceeds(one.value, limit.value)
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
