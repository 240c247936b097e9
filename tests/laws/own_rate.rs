//! Own rates and own records: more jobs never claim more than they show.

use crate::chance::tried;
use proptest::prelude::*;
use slableaf::price::failure_rate::rate;
use slableaf::price::own_rate::{JobWork, OwnRate};

fn jobs() -> impl Strategy<Value = Vec<JobWork>> {
    let job = (50.0f64..900.0, 0.2f64..12.0).prop_map(|(amount, hours)| JobWork { amount, hours });
    prop::collection::vec(job, 2..30)
}

/// Half the width of the limits, in hours for one unit.
fn half(own: &OwnRate) -> f64 {
    1.0 / own.limits.unwrap().least - 1.0 / own.rate
}

proptest! {
    #![proptest_config(tried(500))]

    /// The limits hold the mean, and are wider than those of a normal law with the same spread, 1.96 errors.
    #[test]
    fn limits_are_never_narrower_than_the_spread_allows(jobs in jobs()) {
        let own = OwnRate::of(&jobs).unwrap();
        let limits = own.limits.unwrap();
        prop_assert!(limits.least <= own.rate);
        prop_assert!(limits.most.is_none_or(|most| most >= own.rate));
        let times: Vec<f64> = jobs.iter().map(|job| job.hours / job.amount).collect();
        let n = times.len() as f64;
        let mean = times.iter().sum::<f64>() / n;
        let squares: f64 = times.iter().map(|time| (time - mean).powi(2)).sum();
        let error = (squares / (n - 1.0) / n).sqrt();
        prop_assert!(half(&own) >= 1.959 * error, "{} {error}", half(&own));
    }

    /// One more job that lies further off than any before widens the limits, or narrows them by no more than the
    /// better knowledge of the spread: the ratio of Student's factors.
    #[test]
    fn a_job_far_off_never_narrows_by_more_than_students_factor(jobs in jobs()) {
        let own = OwnRate::of(&jobs).unwrap();
        let mean = 1.0 / own.rate;
        let furthest =
            jobs.iter().map(|job| (job.hours / job.amount - mean).abs()).fold(0.0, f64::max);
        prop_assume!(furthest > 1e-6 * mean);
        let mut more = jobs.clone();
        more.push(JobWork { amount: 1.0, hours: mean + 2.0 * furthest });
        let after = OwnRate::of(&more).unwrap();
        let least = if jobs.len() == 2 { 0.25 } else { 0.5 };
        prop_assert!(half(&after) >= least * half(&own), "{} {}", half(&own), half(&after));
        prop_assert!(after.rate < own.rate);
    }

    /// A floor that came loose never makes a record look better, and one that held never makes it look worse.
    #[test]
    fn a_record_moves_the_way_of_what_happened(failures in 0u32..20, sound in 0u32..80) {
        let jobs = failures + sound;
        prop_assume!(jobs > 0);
        let before = rate(failures, jobs).unwrap();
        let failed = rate(failures + 1, jobs + 1).unwrap();
        let held = rate(failures, jobs + 1).unwrap();
        prop_assert!(failed.to >= before.to && failed.from >= before.from);
        prop_assert!(held.to <= before.to && held.from <= before.from);
    }
}
