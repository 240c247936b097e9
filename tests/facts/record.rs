//! Intervals of a counted rate: scipy 1.17.1, `binomtest(k, n).proportion_ci(method="exact")`.

use super::near;
use slableaf::price::failure_rate::rate;

#[track_caller]
fn interval(failures: u32, jobs: u32, from: f64, to: f64) {
    let rate = rate(failures, jobs).unwrap();
    near(rate.from.as_of_one(), from, 1e-7);
    near(rate.to.as_of_one(), to, 1e-7);
    near(rate.counted.as_of_one(), f64::from(failures) / f64::from(jobs), 1e-12);
}

/// 682 of 925 is the example of `binom.test` in R (Conover, Practical Nonparametric Statistics,
/// after Mendel's peas), which prints 0.7076683.
#[test]
fn intervals_follow_clopper_and_pearson() {
    interval(682, 925, 0.707668264, 0.765406558);
    interval(2, 120, 0.002024822, 0.058909219);
    interval(1, 10, 0.002528579, 0.445016117);
    interval(3, 400, 0.001549359, 0.021760669);
}

/// Without a failure the upper bound is `1 - 0.025^(1/n)`, from the binomial law itself.
#[test]
fn no_failure_and_nothing_but_failures_have_a_bound_of_their_own() {
    interval(0, 20, 0.0, 1.0 - 0.025f64.powf(1.0 / 20.0));
    interval(0, 50, 0.0, 0.071121736);
    interval(7, 7, 0.025f64.powf(1.0 / 7.0), 1.0);
}

#[test]
fn a_record_that_cannot_be_has_no_rate() {
    assert_eq!(rate(0, 0), None);
    assert_eq!(rate(3, 2), None);
}
