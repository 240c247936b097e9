//! From a job and its site to what each floor takes, costs and how long it lasts.

pub mod film;
pub mod bid;
pub mod kits;
pub mod cure;
pub mod floor;
pub mod visit;
pub mod signing;
pub mod repair;
pub mod batches;
pub mod ventilation;
pub mod schedule;
pub mod estimate;
pub mod case;
pub mod whole;
pub mod even_chance;
pub mod present_value;
pub mod years;
pub mod failure_rate;
pub mod own_rate;
pub mod plausible;
pub mod sensitivity;
#[cfg(test)]
pub mod testing;
