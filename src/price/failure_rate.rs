//! A shop's own record of floors that came loose from moisture, with what so few floors can tell.
//!
//! The interval is that of Clopper and Pearson (Biometrika 26, 1934): exact for a count of failures
//! among independent jobs, 95 %, two-sided. It says how far the true rate of such jobs may lie from
//! what was counted; it says nothing about one slab.

use statrs::distribution::{Beta, ContinuousCDF};

use crate::base::quantity::Share;

/// Part of all intervals made this way that hold the true rate.
pub const CONFIDENCE: f64 = 0.95;

/// A rate as counted, and between what limits the true one may lie.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rate {
    pub counted: Share,
    pub from: Share,
    pub to: Share,
}

/// The rate of `failures` among `jobs`. `None` without jobs, or with more failures than jobs.
pub fn rate(failures: u32, jobs: u32) -> Option<Rate> {
    if jobs == 0 || failures > jobs {
        return None;
    }
    let (x, n) = (f64::from(failures), f64::from(jobs));
    let tail = (1.0 - CONFIDENCE) / 2.0;
    let bound = |a: f64, b: f64, p: f64| Beta::new(a, b).ok().map(|beta| beta.inverse_cdf(p));
    let from = if failures == 0 { 0.0 } else { bound(x, n - x + 1.0, tail)? };
    let to = if failures == jobs { 1.0 } else { bound(x + 1.0, n - x, 1.0 - tail)? };
    Some(Rate { counted: Share::of_one(x / n), from: Share::of_one(from), to: Share::of_one(to) })
}
