#![no_main]

use libfuzzer_sys::fuzz_target;
use slableaf_fuzz::targets;

fuzz_target!(|data: &[u8]| {
    targets::lengths_and_quantities(data);
});
