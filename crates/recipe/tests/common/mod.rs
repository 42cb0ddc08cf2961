//! What the tests share.
#![allow(dead_code)]

use larder::Larder;
use quantity::Locale;
use recipe::read::Reader;
use recipe::weigh::Formula;
use std::sync::LazyLock;

/// The recipes of `examples/`.
pub const EXAMPLES: [&str; 6] = [
    include_str!("../../../../examples/apricot-almond-buns.txt"),
    include_str!("../../../../examples/ginger-crumb-cheesecake.txt"),
    include_str!("../../../../examples/leek-and-cheddar-tart.txt"),
    include_str!("../../../../examples/lemon-yoghurt-cake.txt"),
    include_str!("../../../../examples/mushroom-stout-sauce.txt"),
    include_str!("../../../../examples/sunday-pancakes.txt"),
];

pub fn larder() -> &'static Larder {
    static LARDER: LazyLock<Larder> =
        LazyLock::new(|| Larder::built_in().expect("the built-in tables"));
    &LARDER
}

/// A recipe in US words, weighed.
pub fn formula(text: &str) -> Formula {
    let reader = Reader::new(larder(), Locale::Us);
    let read = recipe::read::recipe(text, &reader).expect("a recipe");
    recipe::weigh::formula(read, larder(), Locale::Us).expect("a formula")
}
