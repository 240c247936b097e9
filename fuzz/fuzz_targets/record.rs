#![no_main]

use libfuzzer_sys::{fuzz_mutator, fuzz_target};
use slableaf_fuzz::{lines, targets};

fuzz_target!(|data: &[u8]| {
    targets::record(data);
});
fuzz_mutator!(|data: &mut [u8], size: usize, most: usize, seed: u32| {
    lines::change(data, size, most, seed)
});
