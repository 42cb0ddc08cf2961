//! Arbitrary bytes as a file: read, weighed, screened, reworked.

#![no_main]

use libfuzzer_sys::fuzz_target;
use unwheat_fuzz::{locale, reader, through};

fuzz_target!(|data: &[u8]| {
    let Some((first, bytes)) = data.split_first() else {
        return;
    };
    let locale = locale(*first);
    if let Ok(recipe) = recipe::read::bytes(bytes, &reader(locale)) {
        through(recipe, locale);
    }
});
