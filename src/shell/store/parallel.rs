//! Work on several things at a time.
//!
//! Each thread typesets by itself ([`alone`]). One pool for all would not do: a thread that waits for
//! a part of its document would take up a second document within the first one's stack.

use std::collections::BTreeMap;
use std::num::NonZeroUsize;
use std::panic::{AssertUnwindSafe, catch_unwind, resume_unwind};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::mpsc;

use slableaf::typeset::{alone, is_alone};

/// The number of things to work on at a time: as asked for, or as many as there are cores.
pub fn threads(wanted: Option<NonZeroUsize>) -> usize {
    wanted.or_else(|| std::thread::available_parallelism().ok()).map_or(1, NonZeroUsize::get)
}

/// Works on each thing, on at most so many threads; gives the results to `done` in the order of the
/// things, as soon as they are there. A thread of many has no other core to itself, and works on one
/// after the other.
pub fn in_order<T: Sync, R: Send>(
    things: &[T],
    threads: usize,
    work: impl Fn(&T) -> R + Sync,
    mut done: impl FnMut(&T, R),
) {
    if things.len() < 2 || is_alone() {
        return things.iter().for_each(|thing| done(thing, work(thing)));
    }
    let next = AtomicUsize::new(0);
    let (sender, receiver) = mpsc::channel();
    std::thread::scope(|scope| {
        for _ in 0..threads.min(things.len()) {
            let (sender, next, work) = (sender.clone(), &next, &work);
            scope.spawn(move || {
                alone(|| {
                    loop {
                        let at = next.fetch_add(1, Ordering::Relaxed);
                        let Some(thing) = things.get(at) else { break };
                        let result = catch_unwind(AssertUnwindSafe(|| work(thing)));
                        if sender.send((at, result)).is_err() {
                            break;
                        }
                    }
                });
            });
        }
        drop(sender);
        let mut waiting = BTreeMap::new();
        let mut given = things.iter().enumerate().peekable();
        for (at, result) in receiver {
            waiting.insert(at, result);
            while let Some((at, thing)) = given.peek().copied()
                && let Some(result) = waiting.remove(&at)
            {
                // A panic of a thread is one here.
                done(thing, result.unwrap_or_else(|panic| resume_unwind(panic)));
                given.next();
            }
        }
    });
}

/// The results of work on each thing, in the order of the things.
pub fn map<T: Sync, R: Send>(
    things: &[T],
    threads: usize,
    work: impl Fn(&T) -> R + Sync,
) -> Vec<R> {
    let mut results = Vec::with_capacity(things.len());
    in_order(things, threads, work, |_, result| results.push(result));
    results
}
