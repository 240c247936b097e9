//! The rule by which one floor is recommended: what is not offered, moisture standing, wishes,
//! concerns of the slab, price, order. Each step is shown to decide in a case of its own, and
//! chemistry never does. Whole slabs, one after another, are in `slabs`.

use slableaf::base::names::Key;
use slableaf::base::source::SourceFile;
use slableaf::judge::checks::{Finding, FindingPlace, Severity};
use slableaf::judge::recommend::{
    Compared, Concern, Headline, MoistureRank, OfferState, RuleStep, rule,
};
use slableaf::judge::{Judged, judge};
use slableaf::model::job::Wish;
use slableaf::read::{self, Input};
use slableaf::site::standing::{Settles, Standing};

use crate::documents::paper;
use crate::facts::example;

const DRY: &str = include_str!("../examples/dry-and-quick/job.toml");
const OFFER: &str = "offer = [\"fast-cure\", \"barrier\", \"clear-epoxy\", \"water-kit\"]";
const WISHES: &str = "wishes = [\"quick\", \"lasting\"]";
const EXTRAS: &str = "[extras]\nclear-epoxy = [\"urethane-coat\"]\n";

/// The dry slab: three dishes between 1.3 and 1.6 lb, a plastic sheet under it.
struct Slab {
    job: String,
    book: String,
    systems: Vec<SourceFile>,
}

fn quoted(names: &[&str]) -> String {
    names.iter().map(|name| format!("\"{name}\"")).collect::<Vec<_>>().join(", ")
}

impl Slab {
    #[track_caller]
    fn offering(offer: &[&str], wishes: &[&str]) -> Self {
        let job = example::replaced(DRY, EXTRAS, "");
        let job = example::replaced(&job, OFFER, &format!("offer = [{}]", quoted(offer)));
        let job = example::replaced(&job, WISHES, &format!("wishes = [{}]", quoted(wishes)));
        Self { job, book: example::BOOK.to_owned(), systems: vec![] }
    }

    #[track_caller]
    fn job(mut self, old: &str, new: &str) -> Self {
        self.job = example::replaced(&self.job, old, new);
        self
    }

    #[track_caller]
    fn book(mut self, old: &str, new: &str) -> Self {
        self.book = example::replaced(&self.book, old, new);
        self
    }

    /// One text for another among the lines of the fast-cure primer.
    #[track_caller]
    fn primer(mut self, old: &str, new: &str) -> Self {
        let (before, rest) = self.book.split_once("key = \"polyurea-primer\"").expect("the primer");
        let (own, after) = rest.split_once("[[product]]").expect("another product");
        let own = example::replaced(own, old, new);
        self.book = format!("{before}key = \"polyurea-primer\"{own}[[product]]{after}");
        self
    }

    /// Every dish at so many pounds: what a dish gains in 72 hours over its 65.7 square inches.
    fn reading(mut self, pounds: f64) -> Self {
        // 1 lb is 453.592 g, 1000 ft2 are 144 000 in2.
        let gain = pounds * 453.592_37 * 65.7 / 144_000.0 * 70.5 / 24.0;
        let lines = self.job.lines().map(|line| {
            if line.starts_with("before") {
                "before = \"218 g\"".to_owned()
            } else if line.starts_with("after") {
                format!("after = \"{:.4} g\"", 218.0 + gain)
            } else {
                line.to_owned()
            }
        });
        self.job = lines.collect::<Vec<_>>().join("\n");
        self
    }

    fn untested(mut self) -> Self {
        let (before, rest) = self.job.split_once("[moisture.dishes]").unwrap();
        self.job = format!("{before}[air]{}", rest.split_once("[air]").unwrap().1);
        self
    }

    /// A system like a shipped one under another key.
    fn twin(mut self, of: &str, key: &str) -> Self {
        let files = example::files(example::JOB, example::BOOK, example::SHOP);
        let line = format!("key = \"{of}\"");
        let text = files
            .systems
            .into_iter()
            .find(|file| file.text.lines().any(|known| known == line))
            .unwrap()
            .text;
        // The first such line is the system's own key.
        let text = text.replacen(&line, &format!("key = \"{key}\""), 1);
        self.systems.push(SourceFile { name: format!("{key}.toml"), text });
        self
    }

    #[track_caller]
    fn input(&self) -> Input {
        let mut files = example::files(&self.job, &self.book, example::SHOP);
        files.systems.extend(self.systems.iter().cloned());
        read::read(&files).unwrap_or_else(|problems| panic!("{problems:#?}"))
    }

    #[track_caller]
    fn recommends(self, floor: &str) -> Self {
        let input = self.input();
        let judged = judge(&input);
        let found = judged.recommendation.floor.as_ref().map(|key| key.0.as_str());
        assert_eq!(found, Some(floor), "{:#?}", judged.recommendation.steps);
        self
    }

    /// The step that decided: the last that was taken, and it left one floor.
    #[track_caller]
    fn by(self, step: RuleStep) -> Self {
        self.see(|judged| {
            let found = &judged.recommendation;
            let last = found.steps.last().expect("a step");
            assert_eq!(last.rule, step, "{:#?}", found.steps);
            assert_eq!(last.left, found.floor.iter().cloned().collect::<Vec<_>>());
            assert!(last.decides());
        });
        self
    }

    #[track_caller]
    fn headline(self, headline: Headline) -> Self {
        self.see(|judged| assert_eq!(judged.recommendation.headline, headline));
        self
    }

    #[track_caller]
    fn see<R>(&self, look: impl FnOnce(&Judged<'_>) -> R) -> R {
        let input = self.input();
        look(&judge(&input))
    }
}

fn key(name: &str) -> Key {
    Key(name.to_owned())
}

fn keys(names: &[&str]) -> Vec<Key> {
    names.iter().map(|name| key(name)).collect()
}

// ------------------------------------------------------------------------------- the examples

/// Three probes that read so much, on the slab's own visit, to the method.
fn holes(percent: u32) -> String {
    let probe = |n: u32| {
        format!(
            "[[moisture.probes.probe]]\nplace = \"hole {n}\"\ndepth = \"2 in\"\nreading = \"{percent} %\"\n\
             drilled = 2026-05-27T09:00:00\nread = 2026-05-29T09:00:00\ncalibrated = 2026-05-20\n\n"
        )
    };
    let probes: String = (1..=3).map(probe).collect();
    format!("[moisture.probes]\nedition = 2019\nsettled = true\n\n{probes}")
}

/// Room is counted in bands, and the method with less of it counts. By hand: 3 lb over 0.9 lb are 3.3
/// times, and 75 % leaves 15 points over 60 %, both much room and as good as the barrier's; one point
/// more of humidity, or 1.6 lb, and it is only some.
#[test]
fn room_over_moisture_is_counted_in_bands_by_the_worse_method() {
    let slab = |pounds, percent| {
        let probes = format!("{}[air]", holes(percent));
        let offer = ["barrier", "fast-cure"];
        Slab::offering(&offer, &["moisture-room"]).reading(pounds).job("[air]", &probes)
    };
    let room = RuleStep::Wish { wish: Wish::MoistureRoom };
    slab(0.9, 60).recommends("fast-cure").by(RuleStep::LowestPrice);
    slab(0.9, 61).recommends("barrier").by(room);
    slab(1.6, 60).recommends("barrier").by(room);
}

/// What is recommended and what is offered is asked by the key of a floor.
#[test]
fn a_recommendation_knows_its_floors() {
    Slab::offering(&["barrier", "fast-cure"], &[]).reading(9.0).see(|judged| {
        let found = &judged.recommendation;
        assert!(found.recommends(&key("barrier")) && !found.recommends(&key("fast-cure")));
        assert!(found.offers(&key("barrier")) && !found.offers(&key("fast-cure")));
        assert!(!found.prices(&key("fast-cure")) && found.puts_first(&key("barrier")));
        assert_eq!(found.state(&key("no such floor")), OfferState::NotOffered);
    });
}

#[test]
fn each_example_has_the_floor_that_its_slab_asks_for() {
    for (name, floor) in [
        ("two-car-barrier", "barrier"),
        ("dry-and-quick", "fast-cure"),
        ("metric-probes", "barrier"),
    ] {
        assert_eq!(paper(name).check["recommended"], floor, "{name}");
    }
    assert!(paper("too-wet-yet").check["recommended"].is_null());
}

// ------------------------------------------------------------------------------------- wishes

/// Without the wish one floor wins, with it the other.
#[track_caller]
fn turns(slab: impl Fn(&[&str]) -> Slab, wish: &str, from: &str, to: &str) {
    slab(&[]).recommends(from);
    let wish_of = |word: &str| match word {
        "quick" => Wish::Quick,
        "lasting" => Wish::Lasting,
        "low-price" => Wish::LowPrice,
        "no-yellowing" => Wish::NoYellowing,
        _ => Wish::MoistureRoom,
    };
    slab(&[wish]).recommends(to).by(RuleStep::Wish { wish: wish_of(wish) });
}

/// A dear fast-cure primer, so that price alone would take the barrier floor.
fn dear_fast_cure(wishes: &[&str]) -> Slab {
    Slab::offering(&["barrier", "fast-cure"], wishes)
        .book("size = \"2 gal\", price = \"$236.00\"", "size = \"2 gal\", price = \"$536.00\"")
        .book(
            "size = \"10 gal\", price = \"$1,080.00\"",
            "size = \"10 gal\", price = \"$2,680.00\"",
        )
}

#[test]
fn the_wish_for_a_quick_floor_turns_the_choice() {
    turns(dear_fast_cure, "quick", "barrier", "fast-cure");
}

/// No daylight on the floor, so that ambering is nobody's concern.
fn in_the_dark(offer: &[&str], wishes: &[&str]) -> Slab {
    Slab::offering(offer, wishes).job("daylight = true", "daylight = false")
}

#[test]
fn the_wish_for_a_lasting_floor_turns_the_choice() {
    // Where no daylight turns it amber the epoxy floor is cheaper; it is said to serve 5 to 10 years.
    turns(
        |wishes| in_the_dark(&["barrier", "clear-epoxy"], wishes),
        "lasting",
        "clear-epoxy",
        "barrier",
    );
}

#[test]
fn the_wish_for_no_yellowing_turns_the_choice() {
    turns(
        |wishes| in_the_dark(&["barrier", "clear-epoxy"], wishes),
        "no-yellowing",
        "clear-epoxy",
        "barrier",
    );
}

#[test]
fn the_wish_for_a_low_price_turns_the_choice() {
    // The kit is the cheapest; daylight turns it amber, and warm tires may lift it.
    turns(
        |wishes| Slab::offering(&["barrier", "water-kit"], wishes),
        "low-price",
        "barrier",
        "water-kit",
    );
}

#[test]
fn the_wish_for_moisture_room_turns_the_choice() {
    turns(
        |wishes| Slab::offering(&["fast-cure", "barrier"], wishes),
        "moisture-room",
        "fast-cure",
        "barrier",
    );
}

#[test]
fn wishes_count_in_the_order_of_the_customer() {
    Slab::offering(&["fast-cure", "barrier"], &["quick", "moisture-room"]).recommends("fast-cure");
    Slab::offering(&["fast-cure", "barrier"], &["moisture-room", "quick"]).recommends("barrier");
}

#[test]
fn a_wish_on_which_floors_are_alike_leaves_the_next_to_decide() {
    Slab::offering(&["fast-cure", "barrier"], &["lasting", "moisture-room"])
        .recommends("barrier")
        .see(|judged| {
            let steps = &judged.recommendation.steps;
            let taken: Vec<RuleStep> = steps.iter().map(|step| step.rule).collect();
            let wishes = [Wish::Lasting, Wish::MoistureRoom];
            assert_eq!(taken, rule(&wishes)[..4]);
            let decides: Vec<bool> = steps.iter().map(|step| step.decides()).collect();
            assert_eq!(decides, [false, false, false, true]);
        });
}

// ----------------------------------------------------------------------------------- moisture

/// On a 0.1 g scale 2.95 and 3 lb cannot be told apart.
#[test]
fn a_floor_too_near_its_limit_waits_behind_one_that_is_clear_of_it() {
    let close = |offer: &[&str]| Slab::offering(offer, &["quick", "low-price"]).reading(2.95);
    close(&["fast-cure", "barrier"]).recommends("barrier").by(RuleStep::Moisture).see(|judged| {
        assert_eq!(judged.case.options[0].moisture.standing, Standing::Close);
        let compared = &judged.recommendation.steps[1].compared;
        let ranks = [MoistureRank::CloseSafe, MoistureRank::Clear].map(Compared::Moisture);
        assert_eq!(compared.iter().map(|one| one.value).collect::<Vec<_>>(), ranks);
        // It may still be bought.
        assert!(judged.recommendation.offers(&key("fast-cure")));
    });
    // Where none is clear, none is set aside, and page one says how near it is.
    close(&["fast-cure", "clear-epoxy"]).recommends("fast-cure").headline(Headline::Near);
}

#[test]
fn a_floor_over_its_limit_is_not_offered_whatever_is_wished() {
    Slab::offering(&["fast-cure", "barrier"], &["quick", "low-price"])
        .reading(5.0)
        .recommends("barrier")
        .by(RuleStep::NotOffered)
        .headline(Headline::Recommend)
        .see(|judged| {
            assert_eq!(judged.recommendation.offered(), keys(&["barrier"]));
            assert_eq!(judged.recommendation.steps.len(), 1);
        });
}

#[test]
fn a_slab_too_wet_for_every_floor_has_no_recommendation() {
    Slab::offering(&["fast-cure", "barrier"], &[]).reading(24.0).see(|judged| {
        assert_eq!(judged.recommendation.floor, None);
        assert_eq!(judged.recommendation.headline, Headline::NotYet);
        assert!(judged.recommendation.priced().is_empty());
        let [step] = &judged.recommendation.steps[..] else { panic!("one step") };
        assert_eq!(step.rule, RuleStep::NotOffered);
        assert!(step.left.is_empty());
    });
}

/// A stop about the slab itself holds for every floor.
#[test]
fn a_stop_about_the_whole_job_leaves_nothing() {
    Slab::offering(&["fast-cure", "barrier"], &[])
        .job("tile-glue = \"none\"", "tile-glue = \"dark\"")
        .see(|judged| {
            assert_eq!(judged.recommendation.floor, None);
        });
}

/// Either can be right: on the same dry slab the wish decides, not the name on the pail.
#[test]
fn both_chemistries_win_where_their_figures_do() {
    for (wish, floor) in
        [("quick", "fast-cure"), ("low-price", "fast-cure"), ("moisture-room", "barrier")]
    {
        for offer in [["fast-cure", "barrier"], ["barrier", "fast-cure"]] {
            Slab::offering(&offer, &[wish]).recommends(floor);
        }
    }
}

/// The rule reads figures, not names: a fast-cure primer with a barrier's limit is as good as one.
#[test]
fn the_rule_knows_no_chemistry() {
    Slab::offering(&["barrier", "fast-cure"], &["moisture-room", "quick"])
        .primer("\"3 lb", "\"20 lb")
        .reading(8.0)
        .recommends("fast-cure");
}

// --------------------------------------------------------------------------- ties and the order

#[test]
fn a_concern_of_the_slab_goes_before_a_lower_price() {
    // The kit is far cheaper, but amber; the barrier floor is not.
    Slab::offering(&["water-kit", "barrier"], &[])
        .recommends("barrier")
        .by(RuleStep::Concern { concern: Concern::Ambering });
    // Without daylight: warm tires.
    in_the_dark(&["water-kit", "barrier"], &[])
        .recommends("barrier")
        .by(RuleStep::Concern { concern: Concern::HotTires });
}

#[test]
fn the_lower_price_goes_before_the_order_of_the_offer() {
    for offer in [["barrier", "fast-cure"], ["fast-cure", "barrier"]] {
        Slab::offering(&offer, &[]).recommends("fast-cure").by(RuleStep::LowestPrice);
    }
}

#[test]
fn of_floors_alike_in_everything_the_first_named_wins() {
    for first in ["one", "two"] {
        let other = if first == "one" { "two" } else { "one" };
        Slab::offering(&[first, other], &["quick", "low-price"])
            .twin("fast-cure", "one")
            .twin("fast-cure", "two")
            .recommends(first)
            .by(RuleStep::OrderOfOffer);
    }
}

#[test]
fn the_order_of_the_offer_changes_nothing_else() {
    let all = ["barrier", "fast-cure", "clear-epoxy", "water-kit"];
    for wishes in
        [&[][..], &["quick"], &["lasting"], &["low-price"], &["no-yellowing"], &["moisture-room"]]
    {
        for pounds in [1.0, 2.95, 5.0] {
            let winner = |offer: &[&str]| {
                Slab::offering(offer, wishes)
                    .reading(pounds)
                    .see(|judged| judged.recommendation.floor.clone())
            };
            let expected = winner(&all);
            for turn in 1..4 {
                let mut turned = all;
                turned.rotate_left(turn);
                assert_eq!(winner(&turned), expected, "{wishes:?} at {pounds} lb");
                turned.reverse();
                assert_eq!(winner(&turned), expected, "{wishes:?} at {pounds} lb");
            }
        }
    }
}

/// What is the shop's own business is no reason for or against a floor.
#[test]
fn findings_for_the_shop_alone_do_not_count() {
    // Work that starts before the right to cancel is over.
    let slab = Slab::offering(&["fast-cure", "barrier"], &[])
        .job("start = 2026-06-15", "start = 2026-06-04");
    let shop_cautions = slab.see(|judged| {
        let own = |f: &&Finding| f.check.place == FindingPlace::Shop;
        judged.findings.iter().filter(own).filter(|f| f.severity == Severity::Caution).count()
    });
    assert!(shop_cautions > 0);
    slab.recommends("fast-cure");
}

// ------------------------------------------------------------------------------- not known

const ALL: [&str; 4] = ["fast-cure", "barrier", "clear-epoxy", "water-kit"];

#[test]
fn without_a_moisture_test_every_floor_waits_alike() {
    Slab::offering(&ALL, &["quick", "low-price"]).untested().headline(Headline::TestFirst).see(
        |judged| {
            let found = &judged.recommendation;
            assert!(found.offered().is_empty());
            assert_eq!(found.priced(), keys(&ALL));
            for name in ALL {
                assert_eq!(found.state(&key(name)), OfferState::Waits(Settles::Test), "{name}");
                let about = |f: &&Finding| {
                    f.check.name == "moisture-unknown" && f.option == Some(key(name))
                };
                let finding = judged.findings.iter().find(about);
                assert_eq!(finding.map(|f| f.severity), Some(Severity::Wait), "{name}");
            }
            // A sheet is known beneath, so that no floor is safer than another: the wish decides.
            assert!(found.puts_first(&key("fast-cure")) && !found.recommends(&key("fast-cure")));
        },
    );
}

/// Over the ground with nothing known beneath the barrier comes first, and it waits like the others.
#[test]
fn without_a_moisture_test_and_a_known_sheet_the_barrier_comes_first_and_waits() {
    Slab::offering(&ALL, &["quick", "low-price"])
        .job("vapor-retarder = \"yes\"", "vapor-retarder = \"unknown\"")
        .untested()
        .recommends("barrier")
        .by(RuleStep::Moisture)
        .headline(Headline::TestFirst)
        .see(|judged| assert!(judged.recommendation.offered().is_empty()));
}

#[test]
fn without_a_moisture_test_and_a_barrier_nothing_is_offered() {
    Slab::offering(&["fast-cure", "clear-epoxy"], &[])
        .untested()
        .headline(Headline::TestFirst)
        .see(|judged| assert!(judged.recommendation.offered().is_empty()));
}

/// A test whose method has no limit on the data sheet says nothing about that floor.
#[test]
fn a_floor_without_a_limit_for_the_test_waits_behind_one_that_is_clear() {
    let slab = |offer: &[&str]| {
        Slab::offering(offer, &["quick"]).primer("mver-limit = \"3 lb/1000ft2/24h\"\n", "")
    };
    slab(&["fast-cure", "barrier"]).recommends("barrier").see(|judged| {
        assert_eq!(judged.case.options[0].moisture.standing, Standing::NotJudged);
        let state = judged.recommendation.state(&key("fast-cure"));
        assert_eq!(state, OfferState::Waits(Settles::Maker));
    });
    slab(&["fast-cure"]).headline(Headline::AskFirst);
}

/// Room is counted by the method that was used: probes at 65 % leave 10 points of 75 %, which is some
/// room, and 34 of 99 % or 35 of 100 %, which is much.
#[test]
fn room_over_probes_decides_as_room_over_dishes_does() {
    let room = RuleStep::Wish { wish: Wish::MoistureRoom };
    for (limit, floor, step) in
        [("75 %", "barrier", room), ("100 %", "fast-cure", RuleStep::LowestPrice)]
    {
        let slab = Slab::offering(&["fast-cure", "barrier"], &["moisture-room"])
            .untested()
            .job("[air]", &format!("{}[air]", holes(65)))
            .primer("75 %", limit);
        slab.recommends(floor).by(step);
    }
}
