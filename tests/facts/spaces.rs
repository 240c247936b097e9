//! A garage and a landing in one visit, worked by hand with the round numbers of
//! `tests/worked/plain-rectangle`, whose `working.md` has the garage alone.
//!
//! The landing, 6 ft by 4 ft: 24 ft2, edge 20 ft. Its barrier coat takes 24 / 100 = 0.24 gal, its texture
//! 24 x 144 x 0.001 / 231 = 0.014961 gal, together / 0.9 = 0.283290 gal; its top coat 24 / 120 / 0.8 =
//! 0.25 gal; its flake 24 x 0.15 = 3.6 lb. Alone that is a kit of each: $450 + $250 + $120 = $820.

use slableaf::base::money::Cents;
use slableaf::base::names::Key;
use slableaf::issued::{Agreed, RecordDate, Scope, change_order, schedule};
use slableaf::judge::spaces::judge_spaces;
use slableaf::price::whole::{Whole, alone, whole};
use slableaf::read::Input;
use slableaf::reprice::{CauseKind, ChangedThing, reprice_spaces};

use super::example;

const BOOK: &str = include_str!("../worked/plain-rectangle/book.toml");
const SHOP: &str = include_str!("../worked/plain-rectangle/shop.toml");

fn space(name: &str, kind: &str, length: u32, width: u32) -> String {
    format!(
        "[[space]]\nname = \"{name}\"\nkind = \"{kind}\"\n\
         surroundings = {{ daylight = false }}\n\
         area = [{{ length = \"{length} ft\", width = \"{width} ft\" }}]\n\
         air = {{ measured = 2026-04-29, temperature = \"70 F\", humidity = \"50 %\", slab = \"70 F\" }}\n\
         [space.slab]\non-ground = true\nvapor-retarder = \"yes\"\nold-coating = \"none\"\n\n"
    )
}

fn input() -> Input {
    example::read(&text(), BOOK, SHOP)
}

fn text() -> String {
    let head = "number = \"A-2\"\ndate = 2026-05-04\nunits = \"us\"\nsold-at-home = false\n\
                offer = [\"barrier\", \"fast-cure\"]\ncustomer = { name = \"A. Plain (invented)\" }\n\
                plan = { start = 2026-05-12 }\n\n";
    let spaces = space("Garage", "garage", 24, 20) + &space("Landing", "room", 6, 4);
    format!("{head}{spaces}")
}

fn with_both<T>(see: impl FnOnce(&Whole<'_>) -> T) -> T {
    let input = input();
    let jobs = input.job.of_spaces();
    let alone = alone(&input, &jobs);
    assert_eq!(alone[0].options[0].estimate.direct, Cents(246_650), "the garage by itself");
    assert_eq!(alone[1].options[0].estimate.direct, Cents(99_450), "the landing by itself");
    let barrier = || Some(Key("barrier".to_owned()));
    see(&whole(&input, &jobs, &alone, vec![barrier(), barrier()]))
}

/// Together the barrier coats take 5.665801 + 0.283290 = 5.949091 gal: two kits of 3 gal, as for the
/// garage alone. So do the top coats, 5.25 gal in three kits of 2 gal, and the flake, 75.6 lb in two boxes
/// of 40 lb. All that the landing adds is in the rest of the kits.
#[test]
fn kits_are_chosen_for_all_spaces_together() {
    with_both(|whole| {
        let price = whole.price.as_ref().unwrap();
        let bought: Vec<(u32, Cents)> =
            price.estimate.materials.iter().map(|line| (line.buy[0].0, line.cost)).collect();
        assert_eq!(bought, [(2, Cents(90_000)), (2, Cents(24_000)), (3, Cents(75_000))]);
    });
}

/// The crew is done with the garage at 14:49:30. On the landing it grinds 24 / 240 = 0.1 h and edges
/// 20 / 44 = 0.4545 h, two persons: 14:52:30 and 15:06:08; the barrier coat takes (6 + 3 + 3 + 3) / 2 =
/// 7.5 min, till 15:13:38. Two hours later the day is over, so that it scrapes and lays the top coat on the
/// second day: set-up 30 min, scrape 1.5 min, top coat (6 + 3 + 3) / 2 = 6 min, till 07:37:30.
#[test]
fn the_crew_goes_from_space_to_space() {
    with_both(|whole| {
        let price = whole.price.as_ref().unwrap();
        assert_eq!(price.estimate.days, 2);
        let days = |at: usize| whole.spaces[at].options[0].estimate.schedule.clone();
        let (garage, landing) = (days(0), days(1));
        assert_eq!((garage.days, landing.days), (1, 2));
        let seconds = |hours: f64| (hours * 3600.0).round() as i64;
        let clock = |h: i64, m: i64, s: i64| h * 3600 + m * 60 + s;
        assert_eq!(seconds(garage.done.0.as_hours()), clock(14, 49, 30));
        assert_eq!(seconds(landing.coats[0].to.0.as_hours()), clock(15, 13, 38));
        assert_eq!(seconds(landing.done.0.as_hours()), clock(24 + 7, 37, 30));
    });
}

/// Labor, with the hours of a task to the hundredth at $30: set-up and clean-up on two days $60 + $60; the
/// garage $60 + $60 + $96 + $30 + $70.50 = $316.50; the landing 0.10, 0.45, 0.20, 0.05 and 0.15 h: $3 +
/// $13.50 + $6 + $1.50 + $4.50 = $28.50; together $465. Direct cost $1,890 material + $126 consumables +
/// $465 + $80 for the job, once, = $2,561; with 10 % overhead $2,817.10; / 0.6 = $4,695.17, up to $4,700;
/// tax 8 % = $376.
///
/// Alone the garage costs $2,466.50 and the landing $820 + $6 + $88.50 + $80 = $994.50: $3,461. Of $4,700
/// the garage has 2,466.50 / 3,461 = $3,349.4799 and the landing $1,350.5201, cut to the cent; the cent
/// that remains goes to the garage. Of the tax, $267.9584 and $108.0416, likewise.
#[test]
fn the_price_is_of_the_whole_and_shared_out() {
    with_both(|whole| {
        let price = whole.price.as_ref().unwrap();
        let estimate = &price.estimate;
        let worked: Cents = estimate.labor.iter().map(|line| line.cost).sum();
        assert_eq!((worked, estimate.direct), (Cents(46_500), Cents(256_100)));
        assert_eq!((estimate.cost, estimate.wanted), (Cents(281_710), Cents(469_517)));
        assert_eq!(estimate.total(), Cents(507_600));
        let shares: Vec<(i64, i64)> =
            price.shares.iter().map(|share| (share.price.0, share.tax.0)).collect();
        assert_eq!(shares, [(334_948, 26_796), (135_052, 10_804)]);
        let totals: Vec<Cents> =
            whole.spaces.iter().map(|case| case.options[0].quote.total).collect();
        assert_eq!(totals, [Cents(361_744), Cents(145_856)]);
    });
}

/// The days of what was signed: both spaces are done when the landing is, at 07:37:30 of the second day, and
/// the garage without the landing at 14:49:30 of the first. Either floor may be driven on when the data sheet
/// of its own last coat says so.
#[test]
fn the_days_of_an_agreement_are_those_of_all_its_spaces() {
    let signed = |floors: &str| {
        let mut input = input();
        let accepted = format!("{{ revision = 1, on = 2026-05-06, floors = {{ {floors} }} }}");
        let head = "customer = { name = \"A. Plain (invented)\" }\n";
        let job = text().replacen(head, &format!("{head}accepted = {accepted}\n"), 1);
        input.job = example::read(&job, BOOK, SHOP).job;
        schedule(&input)
    };
    let seconds = |hours: f64| (hours * 3600.0).round() as i64;
    let clock = |day: i64, h: i64, m: i64, s: i64| day * 86_400 + h * 3600 + m * 60 + s;
    let both = signed("Garage = \"barrier\", Landing = \"barrier\"").unwrap();
    assert_eq!((both.days, both.visit_days()), (2, vec![1, 2]));
    assert_eq!(seconds(both.done.0.as_hours()), clock(1, 7, 37, 30));
    assert_eq!(both.coats.len(), 2, "the landing's, which is laid last");
    let starts: Vec<f64> = both.stretches.iter().map(|one| one.from.0.as_hours()).collect();
    assert!(starts.is_sorted(), "{starts:?}");
    let garage = signed("Garage = \"barrier\"").unwrap();
    assert_eq!((garage.days, garage.visit_days()), (1, vec![1]));
    assert_eq!(seconds(garage.done.0.as_hours()), clock(0, 14, 49, 30));
    for (all, one) in
        [(both.walk, garage.walk), (both.carry, garage.carry), (both.drive, garage.drive)]
    {
        // The same last coat: later by as much as it is done later.
        let later = both.done.0 - garage.done.0;
        assert!(((all.0 - one.0).as_hours() - later.as_hours()).abs() < 1e-6, "{all:?} {one:?}");
    }
}

/// An item of $200.00 is $216.00 with a tax of 8 %, whatever floors are ticked. It stands beside the shares.
#[test]
fn items_stand_beside_the_prices_of_the_spaces() {
    let item = "[[item]]\nname = \"Moving a bench\"\nprice = \"$200.00\"\n";
    let input = example::read(&format!("{}{item}", text()), BOOK, SHOP);
    let jobs = input.job.of_spaces();
    let barrier = || Some(Key("barrier".to_owned()));
    let whole = whole(&input, &jobs, &alone(&input, &jobs), vec![barrier(), barrier()]);
    let price = whole.price.unwrap();
    assert_eq!((price.beside(), price.tax_beside()), (Cents(21_600), Cents(1_600)));
    assert_eq!(price.shares.iter().map(|share| share.total()).sum::<Cents>(), Cents(507_600));
}

/// Alone the landing costs the shop's minimum of $3,000.00, with 8 % tax $3,240.00, with either floor, so that the one
/// that the job names first comes first: the barrier floor, and on the garage the cheaper fast-cure floor. As kits
/// are shared, each space would then rather have the floor of the other, and would again once both have changed.
/// Two floors of a kind end that, and those are taken that cost less: $4,600.80 in place of $5,076.00.
#[test]
fn a_floor_comes_first_at_the_price_that_it_has_in_the_whole() {
    let book = BOOK.replacen("minimum = \"$1,000.00\"", "minimum = \"$3,000.00\"", 1);
    let input = example::read(&text(), &book, SHOP);
    let jobs = input.job.of_spaces();
    let by_itself = &alone(&input, &jobs)[1];
    let totals: Vec<Cents> = by_itself.options.iter().map(|option| option.quote.total).collect();
    assert_eq!(totals, [Cents(324_000), Cents(324_000)]);
    let judged = judge_spaces(&input, &jobs);
    let floors = &judged.price.as_ref().unwrap().floors;
    for (space, floor) in judged.spaces.iter().zip(floors) {
        assert_eq!(space.recommendation.floor, *floor);
    }
    let both = |key: &str| vec![Some(Key(key.to_owned())); 2];
    assert_eq!((floors, judged.total()), (&both("fast-cure"), Cents(460_080)));
    let barrier = whole(&input, &jobs, &alone(&input, &jobs), both("barrier")).price.unwrap();
    assert_eq!(barrier.bill.total(), Cents(507_600));
}

/// Another floor for the landing: the order names the floors of both spaces, and its price is what both cost then
/// less what they cost as they were signed.
#[test]
fn an_order_for_one_space_names_the_floors_of_all() {
    let with = |landing: &str| {
        let floors = format!("{{ Garage = \"barrier\", Landing = \"{landing}\" }}");
        let head = "customer = { name = \"A. Plain (invented)\" }\n";
        let accepted =
            format!("accepted = {{ revision = 1, on = 2026-05-06, floors = {floors} }}\n");
        example::read(&text().replacen(head, &format!("{head}{accepted}"), 1), BOOK, SHOP)
    };
    let total = |input: &Input, landing: &str| {
        let jobs = input.job.of_spaces();
        let floors = ["barrier", landing].map(|key| Some(Key(key.to_owned()))).to_vec();
        let whole = whole(input, &jobs, &alone(input, &jobs), floors);
        whole.price.unwrap().estimate.total()
    };
    let (was, now) = (with("barrier"), with("fast-cure"));
    let pair = |landing: &str| {
        [("Garage", "barrier"), ("Landing", landing)]
            .map(|(at, key)| (at.into(), key.into()))
            .to_vec()
    };
    let day = RecordDate(jiff::civil::date(2026, 5, 6));
    let agreed = Agreed {
        revision: 1,
        date: day,
        signed: day,
        valid_until: None,
        floor: "Garage = barrier, Landing = barrier".into(),
        floors: pair("barrier"),
        name: "both".into(),
        currency: "USD".into(),
        additions: vec![],
        total: 507_600,
        days: 2,
        visits: vec![],
        start: None,
        orders: vec![],
        payments: vec![],
    };
    let order = change_order(&was, &now, &agreed);
    assert_eq!(order.after.floors, pair("fast-cure"));
    assert_eq!(order.after.floor, "Garage = barrier, Landing = fast-cure");
    assert_eq!(total(&was, "barrier"), Cents(507_600));
    assert_eq!(order.change, total(&now, "fast-cure").minus(Cents(507_600)));
    assert_eq!(order.scope, [Scope::Floor]);
    let same = change_order(&was, &was, &agreed);
    assert_eq!((same.after.floors, same.after.name), (pair("barrier"), "both".to_owned()));
}

/// A slab of 50 F, 11.1 C colder, takes 2 to the 1.11th, 2.16 times as long (the rule of thumb): the garage is
/// done first and may be driven on last, 24 h x 2.16 = 51.84 h after it was done. Things may be carried in a day
/// after the last coat, so that there the landing is the later one.
#[test]
fn a_space_that_was_done_first_may_be_ready_last() {
    let accepted = "accepted = { revision = 1, on = 2026-05-06, floors = { Garage = \"barrier\", Landing = \"barrier\" } }";
    let head = "customer = { name = \"A. Plain (invented)\" }\n";
    let job = text().replacen(head, &format!("{head}{accepted}\n"), 1);
    let job = job.replacen("slab = \"70 F\"", "slab = \"50 F\"", 1);
    let input = example::read(&job, BOOK, SHOP);
    let days = schedule(&input).unwrap();
    let jobs = input.job.of_spaces();
    let barrier = || Some(Key("barrier".to_owned()));
    let whole = whole(&input, &jobs, &alone(&input, &jobs), vec![barrier(), barrier()]);
    let [garage, landing] = [0, 1].map(|at| whole.spaces[at].options[0].estimate.schedule.clone());
    assert!(garage.done < landing.done && days.done == landing.done);
    assert_eq!([days.walk, days.carry, days.drive], [garage.walk, landing.carry, garage.drive]);
    let hours = (days.drive.0 - garage.done.0).as_hours();
    assert!((hours - 24.0 * 2f64.powf(20.0 / 1.8 / 10.0)).abs() < 1e-6, "{hours}");
    assert!(landing.drive < days.drive && landing.walk < days.walk);
}

/// An hour for $33 in place of $30 (a wage of $27.50 in place of $25, with 20 % on it): 15.5 h cost $46.50 more, with
/// 10 % overhead $51.15; $2,868.25 / 0.6 is $4,780.42, and with a tax of 8 % $5,162.85, $92.07 more than $4,695.17
/// with tax, $5,070.78. The shop's step took that to $4,700, $5,076.00 with tax, and takes this to $4,790,
/// $5,173.20: the other $5.13 of the difference.
#[test]
fn one_difference_is_one_cause() {
    let text = text().replacen("offer = [\"barrier\", \"fast-cure\"]", "offer = [\"barrier\"]", 1);
    let before = example::read(&text, BOOK, SHOP);
    let mut after = before.clone();
    let book = BOOK.replacen("wage = \"$25.00/h\"", "wage = \"$27.50/h\"", 1);
    after.book = example::read(&text, &book, SHOP).book;
    let repriced = reprice_spaces(Some(&before), &after);
    let wage = || ChangedThing { key: Some("labor.wage"), ..CauseKind::Book.into() };
    let causes: Vec<_> =
        repriced.floors[0].causes.iter().map(|one| (one.what.clone(), one.change)).collect();
    assert_eq!(causes, [(wage(), Cents(9_207)), (CauseKind::Rounding.into(), Cents(513))]);
    for space in repriced.of_spaces() {
        assert!(space.causes.iter().all(|cause| cause.what == wage()), "{space:?}");
    }
}
