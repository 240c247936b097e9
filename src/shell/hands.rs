//! Work on many things at a time.

use std::sync::atomic::{AtomicUsize, Ordering};

use slableaf::typeset::{alone, is_alone};

/// Cores that this thread may use: in a batch its own alone.
pub fn cores() -> usize {
    if is_alone() { 1 } else { std::thread::available_parallelism().map_or(1, usize::from) }
}

/// As [`each`], for work that typesets: every hand keeps to one core.
pub fn each_alone<T: Sync, R: Send>(
    things: &[T],
    hands: usize,
    work: impl Fn(&T) -> R + Sync,
) -> Vec<R> {
    each(things, hands, |thing| alone(|| work(thing)))
}

/// Does something with each thing, by at most so many hands; results are in the order of the things.
pub fn each<T: Sync, R: Send>(things: &[T], hands: usize, work: impl Fn(&T) -> R + Sync) -> Vec<R> {
    let next = AtomicUsize::new(0);
    let hand = || {
        let mut done = vec![];
        while let Some((at, thing)) = {
            let at = next.fetch_add(1, Ordering::Relaxed);
            things.get(at).map(|thing| (at, thing))
        } {
            done.push((at, work(thing)));
        }
        done
    };
    let mut done = std::thread::scope(|scope| {
        // This thread is a hand too.
        let others: Vec<_> = (1..hands.min(things.len())).map(|_| scope.spawn(hand)).collect();
        let mut done = hand();
        for other in others {
            match other.join() {
                Ok(more) => done.extend(more),
                // A fault of ours in a thread is one here.
                Err(fault) => std::panic::resume_unwind(fault),
            }
        }
        done
    });
    done.sort_by_key(|(at, _)| *at);
    done.into_iter().map(|(_, result)| result).collect()
}
