//! Present value of money that is paid in later years.
//!
//! The single present value factor of NIST Handbook 135 and ASTM E917, `1 / (1 + d)^t`, with a real discount
//! rate `d`: prices are those of today, and inflation is in neither prices nor rate.

use rust_decimal::Decimal;

use crate::base::money::Cents;

/// A payment in a year that is still to come; year 0 is today.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Later {
    pub year: u32,
    pub amount: Cents,
}

/// Returns what one unit of money, paid at the end of a year, is worth today.
pub fn factor(rate: Decimal, year: u32) -> Decimal {
    let each = Decimal::ONE / (Decimal::ONE + rate);
    (0..year).fold(Decimal::ONE, |worth, _| worth * each)
}

/// Returns what payments are worth today, each to the cent.
pub fn worth_today(payments: &[Later], rate: Decimal) -> Cents {
    payments.iter().map(|paid| paid.amount.times(factor(rate, paid.year))).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rate(percent: i64) -> Decimal {
        Decimal::new(percent, 2)
    }

    /// Sum of the factors of each year: the uniform present value factor.
    fn uniform(percent: i64, years: u32) -> Decimal {
        (1..=years).map(|year| factor(rate(percent), year)).sum()
    }

    fn near(found: Decimal, wanted: &str) -> bool {
        let wanted: Decimal = wanted.parse().unwrap();
        (found - wanted).abs() <= Decimal::new(5, wanted.scale() + 1)
    }

    /// Published factors at 3 %: NISTIR 85-3273-24 (2009), table A-1, seven years: 0.813 and 6.230; NIST Handbook
    /// 135 (1995), fifteen years: 0.642 and 11.94.
    #[test]
    fn factors_are_those_of_the_tables() {
        assert!(near(factor(rate(3), 7), "0.813"));
        assert!(near(uniform(3, 7), "6.230"));
        assert!(near(factor(rate(3), 15), "0.642"));
        assert!(near(uniform(3, 15), "11.94"));
        assert_eq!(factor(rate(3), 0), Decimal::ONE);
    }

    /// NIST Handbook 135 (1995), table 5-2: of a life-cycle cost of $516,233 over 20 years at 3 %, replacements
    /// make $8,412 and the residual value -$1,939 ($12,000 in year 12, $3,500 in year 20: from memory). The
    /// handbook rounds its factors to three places.
    #[test]
    fn the_handbooks_own_example_comes_out() {
        let near_dollars = |found: Cents, wanted: i64| (found.0 - wanted * 100).abs() <= 600;
        let fan = Later { year: 12, amount: Cents(1_200_000) };
        let rest = Later { year: 20, amount: Cents(350_000) };
        assert!(near_dollars(worth_today(&[fan], rate(3)), 8_412));
        assert!(near_dollars(worth_today(&[rest], rate(3)), 1_939));
    }

    /// numpy-financial 1.0.0: `-pv(rate, n, 0, 1)`.
    #[test]
    fn factors_are_those_of_an_independent_library() {
        for (percent, year, wanted) in [
            (3, 1, "0.970874"),
            (3, 30, "0.411987"),
            (5, 10, "0.613913"),
            (5, 25, "0.295303"),
            (8, 20, "0.214548"),
            (10, 30, "0.057309"),
        ] {
            assert!(near(factor(rate(percent), year), wanted), "{percent} % {year}");
        }
    }

    #[test]
    fn without_a_rate_every_year_counts_the_same() {
        assert_eq!(factor(Decimal::ZERO, 60), Decimal::ONE);
    }
}
