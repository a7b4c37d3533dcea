#![no_main]

libfuzzer_sys::fuzz_target!(|data: &[u8]| clothwright_fuzz::check(data));
