//! Laws of changes of price: the causes add up, the way there and back leads home, and order makes
//! no difference.

use proptest::prelude::*;
use rust_decimal::Decimal;
use slableaf::base::money::Cents;
use slableaf::base::names::Key;
use slableaf::base::quantity::Share;
use slableaf::base::source::{SourceFile, Span};
use slableaf::judge::judge;
use slableaf::model::book::changes::{PriceChange, PriceScope, PriceStep, changed_price};
use slableaf::model::book::{Book, Stuff, TaxOn};
use slableaf::read::book_text::settled;
use slableaf::read::{Input, read_book};
use slableaf::reprice::{
    Cause, CauseKind, JobState, Outcome, Repriced, Side, assess, reprice, totals,
};

use crate::chance::tried;
use crate::facts::example::{self, BOOK, JOB, SHOP};

fn compared(before: &Input, after: &Input) -> Repriced {
    let (was, is) = (judge(before), judge(after));
    reprice(Some(Side { input: before, judged: &was }), Side { input: after, judged: &is })
}

fn after(before: &Input, change: impl Fn(&mut Book)) -> Input {
    let mut after = before.clone();
    change(&mut after.book);
    after
}

#[track_caller]
fn add_up(repriced: &Repriced) {
    for floor in &repriced.floors {
        if let Some(change) = floor.change() {
            let sum: Cents = floor.causes.iter().map(|cause| cause.change).sum();
            assert_eq!(sum, change, "{floor:#?}");
            assert!(floor.causes.iter().all(|cause| cause.change != Cents::ZERO), "{floor:#?}");
        }
    }
}

/// One edit of a book: which, and by how many thousandths of what it was.
type Edit = (u8, u16);

fn edits() -> impl Strategy<Value = Vec<Edit>> {
    prop::collection::vec((0u8..=42, 500u16..=1800), 0..=8)
}

/// Makes an edit. Each is one that a shop may make, so that the book stays one that would load.
fn edit(book: &mut Book, (which, thousandths): Edit) {
    let factor = f64::from(thousandths) / 1000.0;
    let ratio = Decimal::new(i64::from(thousandths), 3);
    let count = book.products.len();
    let product = usize::from(which) % count;
    let terms = &mut book.terms;
    match which {
        0 => book.labor.wage *= ratio,
        1 => book.labor.burden *= ratio,
        2 => book.labor.crew = 1 + u32::from(thousandths) % 4,
        3 => book.rates.grind = book.rates.grind * factor,
        4 => book.rates.edge = book.rates.edge * factor,
        5 => book.rates.roll = book.rates.roll * factor,
        6 => book.rates.set_up = book.rates.set_up * factor,
        7 => book.rates.crack = book.rates.crack * factor,
        8 => book.prep.texture = book.prep.texture * factor,
        9 => terms.consumables *= ratio,
        10 => terms.per_job = terms.per_job.times(ratio),
        11 => terms.overhead *= ratio,
        12 => terms.margin = Decimal::new(i64::from(thousandths) / 3, 3),
        13 => terms.minimum = Cents(i64::from(thousandths) * 400),
        14 => terms.round_to = Cents(i64::from(thousandths) % 2000),
        15 => terms.tax *= ratio,
        16 => {
            terms.tax_on =
                [TaxOn::Price, TaxOn::Purchases, TaxOn::Nothing][usize::from(thousandths) % 3];
        }
        17 => book.mixing.smallest = book.mixing.smallest * factor.min(1.0),
        18 => terms.removal = ratio,
        19 => book.repair.rigid = book.repair.patch.clone(),
        20 => book.repair.chase = book.repair.chase * factor,
        21..=30 => for_kits(&mut book.products[product].stuff, |price| price.times(ratio)),
        31..=33 => first_size(&mut book.products[product].stuff, factor),
        34..=36 => match &mut book.products[product].stuff {
            Stuff::Resin(resin) => resin.loss = Share::of_one(factor / 4.0),
            Stuff::Flake(flake) => flake.full = flake.full * factor,
            Stuff::Filler(filler) => filler.loss = Share::of_one(factor / 4.0),
            Stuff::Pigment(pigment) => pigment.dose = pigment.dose * factor,
            Stuff::Grit(grit) => grit.rate = grit.rate * factor,
        },
        37..=38 => match &mut book.products[product].stuff {
            Stuff::Resin(resin) => resin.stock = resin.kits[0].size * factor,
            Stuff::Flake(flake) => flake.stock = flake.kits[0].size * factor,
            Stuff::Filler(filler) => filler.stock = filler.kits[0].size * factor,
            Stuff::Pigment(pigment) => pigment.stock = pigment.kits[0].size * factor,
            Stuff::Grit(grit) => grit.stock = grit.kits[0].size * factor,
        },
        41 => book.rates.pour = book.rates.pour.map(|rate| rate * factor),
        42 => book.rates.trowel = book.rates.trowel.map(|rate| rate * factor),
        _ => {
            if let Stuff::Resin(resin) = &mut book.products[product].stuff {
                resin.kits.truncate(1);
            }
        }
    }
}

fn for_kits(stuff: &mut Stuff, change: impl Fn(Cents) -> Cents) {
    stuff.reprice_kits(|_, price| change(price));
}

fn first_size(stuff: &mut Stuff, factor: f64) {
    match stuff {
        Stuff::Resin(resin) => resin.kits[0].size = resin.kits[0].size * factor,
        Stuff::Flake(flake) => flake.kits[0].size = flake.kits[0].size * factor,
        Stuff::Filler(filler) => filler.kits[0].size = filler.kits[0].size * factor,
        Stuff::Pigment(pigment) => pigment.kits[0].size = pigment.kits[0].size * factor,
        Stuff::Grit(grit) => grit.kits[0].size = grit.kits[0].size * factor,
    }
}

fn edited(input: &Input, edits: &[Edit]) -> Input {
    after(input, |book| edits.iter().for_each(|one| edit(book, *one)))
}

/// True for causes that have a name of their own in the book.
fn is_named(cause: &Cause) -> bool {
    let rest = [CauseKind::Job, CauseKind::Shop, CauseKind::Systems];
    !rest.contains(&cause.what.kind) && cause.what.key != Some("book")
}

proptest! {
    #![proptest_config(tried(150))]

    #[test]
    fn causes_sum_to_the_change_and_all_have_names(first in edits(), second in edits()) {
        let base = example::input();
        let (one, other) = (edited(&base, &first), edited(&base, &second));
        let repriced = compared(&one, &other);
        add_up(&repriced);
        for floor in &repriced.floors {
            prop_assert!(floor.causes.iter().all(is_named), "{:#?}", floor);
        }
    }

    #[test]
    fn causes_sum_to_the_change_when_everything_is_other(
        changes in edits(),
        length in 120u32..=500,
        extra in any::<bool>(),
        closed in any::<bool>(),
    ) {
        let base = example::input();
        let mut job = example::job_with_floor(&format!("length = \"{length} in\"\nwidth = \"240 in\""));
        if extra {
            job += "\n[extras]\nclear-epoxy = [\"urethane-coat\"]\n";
        }
        let shop = if closed { SHOP.replace("[calendar]", "[calendar]\nclosed-days = [2026-05-27]") } else { SHOP.into() };
        let shop = if slableaf::read::read(&example::files(&job, BOOK, &shop)).is_ok() { shop } else { SHOP.into() };
        let other = edited(&example::read(&job, BOOK, &shop), &changes);
        add_up(&compared(&base, &other));
        add_up(&compared(&other, &base));
    }

    #[test]
    fn the_same_book_changes_nothing(changes in edits()) {
        let input = edited(&example::input(), &changes);
        let repriced = compared(&input, &input);
        prop_assert!(repriced.is_unchanged());
        prop_assert!(repriced.floors.iter().all(|floor| floor.causes.is_empty()));
        prop_assert!(repriced.floors.iter().all(|floor| floor.before == floor.after));
    }

    #[test]
    fn there_and_back_gives_the_first_price(changes in edits()) {
        let here = example::input();
        let there = edited(&here, &changes);
        let (out, back) = (compared(&here, &there), compared(&there, &here));
        for floor in &out.floors {
            let home = back.floors.iter().find(|other| other.floor == floor.floor).unwrap();
            prop_assert_eq!((floor.before, floor.after), (home.after, home.before));
            if let Some(change) = floor.change() {
                prop_assert_eq!(home.change(), Some(Cents(-change.0)));
            }
        }
    }

    #[test]
    fn the_order_of_entries_in_the_book_changes_nothing(
        changes in edits(),
        order in prop::collection::vec(any::<u32>(), 12),
    ) {
        let here = example::input();
        let there = edited(&here, &changes);
        let mixed = |input: &Input| after(input, |book| {
            let mut ranked: Vec<_> = order.iter().cycle().zip(std::mem::take(&mut book.products)).collect();
            ranked.sort_by_key(|(rank, _)| **rank);
            book.products = ranked.into_iter().map(|(_, product)| product).collect();
            for product in &mut book.products {
                match &mut product.stuff {
                    Stuff::Resin(resin) => resin.kits.reverse(),
                    Stuff::Flake(flake) => flake.kits.reverse(),
                    Stuff::Filler(filler) => filler.kits.reverse(),
                    Stuff::Pigment(pigment) => pigment.kits.reverse(),
                    Stuff::Grit(grit) => grit.kits.reverse(),
                }
            }
        });
        let plain = compared(&here, &there);
        prop_assert_eq!(&plain, &compared(&mixed(&here), &mixed(&there)));
        prop_assert_eq!(&plain, &compared(&here, &mixed(&there)));
    }

    #[test]
    fn a_dearer_book_makes_no_floor_cheaper(which in 21u8..=30, thousandths in 1000u16..=1800) {
        let here = example::input();
        let repriced = compared(&here, &edited(&here, &[(which, thousandths)]));
        for floor in repriced.floors {
            prop_assert!(floor.change().is_none_or(|change| change >= Cents::ZERO), "{:?}", floor);
        }
    }
}

// ------------------------------------------------------------------------------ changes in a book

fn announced() -> impl Strategy<Value = Vec<(u8, i16, bool, u8)>> {
    prop::collection::vec((0u8..=3, -400i16..=900, any::<bool>(), 0u8..=2), 0..=5)
}

/// Changes as a book writes them: reach, tenths of a percent or cents, which of the two, month.
fn written(changes: &[(u8, i16, bool, u8)]) -> String {
    let mut text = BOOK.to_owned();
    for (reach, by, percent, month) in changes {
        let reach = match reach {
            0 => "",
            1 => "product = \"barrier-epoxy\"\n",
            2 => "supplier = \"Invented Resins\"\n",
            _ => "supplier = \"Made-up Coatings\"\n",
        };
        let sign = if *by < 0 { '-' } else { '+' };
        let by = i32::from(*by).abs();
        let by = if *percent {
            format!("percent = \"{sign}{}.{} %\"", by / 10, by % 10)
        } else {
            format!("amount = \"{sign}${}.{:02}\"", by / 100, by % 100)
        };
        text += &format!("\n[[change]]\nfrom = 2026-0{}-01\n{reach}{by}\n", 4 + month);
    }
    text
}

fn book_of(text: &str) -> Book {
    let file = SourceFile { name: "book.toml".into(), text: text.into() };
    read_book(&file).unwrap_or_else(|problems| panic!("{problems:#?}\n{text}"))
}

fn prices(book: &Book) -> Vec<(Key, Vec<Cents>)> {
    book.products
        .iter()
        .map(|product| (product.key.clone(), product.stuff.prices().collect()))
        .collect()
}

proptest! {
    #![proptest_config(tried(100))]

    /// The job is dated 2026-05-12: changes of April and May are due, those of June are not.
    #[test]
    fn a_settled_book_has_the_prices_that_its_changes_give(changes in announced()) {
        let text = written(&changes);
        let mut by_changes = book_of(&text);
        let by_text = settled(&text, &by_changes, example::input().job.date).unwrap();
        by_changes.settle(example::input().job.date);
        let read = book_of(&by_text.text);
        prop_assert_eq!(prices(&read), prices(&by_changes));
        prop_assert_eq!(read.changes.len(), by_changes.changes.len());
        let by = |book: &Book| book.changes.iter().map(|c| (c.from, c.of.clone(), c.by)).collect::<Vec<_>>();
        prop_assert_eq!(by(&read), by(&by_changes));
        // And so the job costs the same.
        let (one, other) = (example::read(JOB, &text, SHOP), example::read(JOB, &by_text.text, SHOP));
        prop_assert!(compared(&one, &other).is_unchanged());
        // What the settling does not touch stays to the letter.
        for line in BOOK.lines().filter(|line| !line.contains("price")) {
            prop_assert!(by_text.text.contains(line), "{}", line);
        }
    }

    #[test]
    fn changes_of_one_day_are_made_in_the_order_of_the_file(changes in announced()) {
        let day = example::input().job.date;
        let mut book = book_of(&written(&changes));
        let before = book.clone();
        book.settle(day);
        // By hand: every due change in turn, months first, then as they stand.
        let mut due: Vec<&PriceChange> = before.changes.iter().filter(|c| c.from <= day).collect();
        due.sort_by_key(|change| change.from);
        for (was, is) in before.products.iter().zip(&book.products) {
            for (was_price, is_price) in was.stuff.prices().zip(is.stuff.prices()) {
                let mut exact = was_price.decimal();
                for change in due.iter().filter(|change| change.of.takes(was)) {
                    exact = match change.by {
                        PriceStep::Share(share) => exact + exact * share,
                        PriceStep::PerKit(amount) => exact + amount,
                    };
                }
                prop_assert_eq!(Cents::round(exact), is_price);
            }
        }
    }

    #[test]
    fn a_change_and_its_contrary_in_money_give_the_first_price(price in 0i64..=500_000, by in 0i64..=90_000) {
        let step = |by: i64| PriceChange {
            from: example::input().job.date,
            of: PriceScope::All,
            by: PriceStep::PerKit(Cents(by).decimal()),
            span: Span::default(),
        };
        prop_assert_eq!(changed_price(Cents(price), [&step(by), &step(-by)]).unwrap(), Cents(price));
    }
}

// ------------------------------------------------------------------------------------- many jobs

#[test]
fn the_order_of_jobs_changes_no_sum() {
    let here = example::input();
    let one = |edits: &[Edit]| {
        let there = edited(&here, edits);
        let (state, prices) = assess(Some(&here), &there, here.job.date, false).unwrap();
        Outcome {
            path: format!("{edits:?}"),
            number: "1".into(),
            state,
            prices: Some(prices),
            trouble: String::new(),
            written: None,
        }
    };
    let mut jobs = vec![one(&[(21, 1200)]), one(&[]), one(&[(12, 900)]), one(&[(0, 800)])];
    jobs[1].state = JobState::Unreadable;
    let forward = totals(&jobs);
    jobs.reverse();
    assert_eq!(totals(&jobs), forward);
    jobs.swap(0, 2);
    assert_eq!(totals(&jobs), forward);
}

/// By hand: three kits of the barrier epoxy at $14.00 more are $42.00; with 15 % overhead $48.30;
/// over 1 - 38 % $77.90; with 6.5 % tax $82.97, a cent about for the roundings between.
#[test]
fn one_dearer_product_is_the_one_cause_and_its_amount_is_that_of_the_hand() {
    let here = example::input();
    let there = example::read(JOB, &example::replaced(BOOK, "$276.00", "$290.00"), SHOP);
    let repriced = compared(&here, &there);
    let barrier = repriced.floors.iter().find(|floor| floor.floor.0 == "barrier").unwrap();
    let named: Vec<&Cause> =
        barrier.causes.iter().filter(|cause| cause.what.kind != CauseKind::Rounding).collect();
    let [cause] = named.as_slice() else { panic!("{named:#?}") };
    assert_eq!(cause.what.product, Some(Key("barrier-epoxy".into())));
    assert_eq!(cause.what.supplier, "Invented Resins");
    assert_eq!(cause.what.sizes.len(), 1);
    assert!((cause.change.0 - 8297).abs() <= 1, "{cause:?}");
}

/// By hand: the job's price before rounding, and so the rounding cause, follow from the step alone.
#[test]
fn another_step_of_rounding_is_a_cause_of_its_own() {
    let here = example::input();
    let there = after(&here, |book| book.terms.round_to = Cents::ZERO);
    for floor in compared(&here, &there).floors {
        assert!(
            floor.causes.iter().all(|cause| cause.what.kind == CauseKind::Rounding),
            "{floor:#?}"
        );
        // Up to $5.00 and its tax of 6.5 %.
        assert!((-533..=0).contains(&floor.change().unwrap().0), "{floor:#?}");
    }
}

#[test]
fn a_lower_wage_may_recommend_another_floor_and_says_so() {
    let job =
        example::replaced(JOB, "wishes = [\"lasting\", \"quick\"]", "wishes = [\"low-price\"]");
    let job = example::replaced(&job, "before = \"218.4 g\"", "before = \"222.0 g\"");
    let job = example::replaced(&job, "before = \"219.1 g\"", "before = \"222.1 g\"");
    let job = example::replaced(&job, "before = \"217.8 g\"", "before = \"222.1 g\"");
    let here = example::read(&job, BOOK, SHOP);
    let there = after(&here, |book| {
        for product in &mut book.products {
            if product.key.0.starts_with("water-") {
                for_kits(&mut product.stuff, |price| price.times(Decimal::from(20)));
            }
        }
    });
    let repriced = compared(&here, &there);
    assert!(repriced.recommends_otherwise(), "{repriced:#?}");
    add_up(&repriced);
}
