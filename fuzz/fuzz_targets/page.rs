//! Arbitrary text as a saved page: once as it is, once as the recipe data of a page.

#![no_main]

use libfuzzer_sys::fuzz_target;
use unwheat_fuzz::{locale, reader, through};

fuzz_target!(|data: &[u8]| {
    let Some((first, bytes)) = data.split_first() else {
        return;
    };
    let locale = locale(*first);
    let Ok(text) = std::str::from_utf8(bytes) else {
        return;
    };
    let around = format!("<script type=\"application/ld+json\">{text}</script>");
    for page in [text, &around] {
        if let Ok(recipe) = recipe::read::page(page, &reader(locale)) {
            through(recipe, locale);
        }
    }
});
