//! A garage and a landing in one visit, worked by hand with the round numbers of
//! `tests/worked/plain-rectangle`, whose `working.md` has the garage alone.
//!
//! The landing, 6 ft by 4 ft: 24 ft2, edge 20 ft. Its barrier coat takes 24 / 100 = 0.24 gal, its texture
//! 24 x 144 x 0.001 / 231 = 0.014961 gal, together / 0.9 = 0.283290 gal; its top coat 24 / 120 / 0.8 =
//! 0.25 gal; its flake 24 x 0.15 = 3.6 lb. Alone that is a kit of each: $450 + $250 + $120 = $820.

use slableaf::base::money::Cents;
use slableaf::base::names::Key;
use slableaf::price::whole::{Whole, alone, whole};
use slableaf::read::Input;

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
    let head = "number = \"A-2\"\ndate = 2026-05-04\nunits = \"us\"\nsold-at-home = false\n\
                offer = [\"barrier\", \"fast-cure\"]\ncustomer = { name = \"A. Plain (invented)\" }\n\
                plan = { start = 2026-05-12 }\n\n";
    let spaces = space("Garage", "garage", 24, 20) + &space("Landing", "room", 6, 4);
    example::read(&format!("{head}{spaces}"), BOOK, SHOP)
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
