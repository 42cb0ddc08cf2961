//! What both targets do: take a recipe through every stage and look at what comes out.

use larder::Larder;
use quantity::{Locale, Quantity, Spread};
use recipe::read::Reader;
use recipe::rework::Options;
use recipe::{Doubt, Recipe};
use std::ops::Range;
use std::sync::OnceLock;

/// The larder, made once.
pub fn larder() -> &'static Larder {
    static LARDER: OnceLock<Larder> = OnceLock::new();
    LARDER.get_or_init(|| Larder::built_in().expect("the built-in tables"))
}

/// The locale that the input's first byte picks.
pub fn locale(byte: u8) -> Locale {
    Locale::ALL[usize::from(byte) % Locale::ALL.len()]
}

/// A reader of this locale.
pub fn reader(locale: Locale) -> Reader<'static> {
    Reader::new(larder(), locale)
}

fn inside(span: &Range<usize>, text: &str) {
    assert!(
        span.start <= span.end && text.get(span.clone()).is_some(),
        "{span:?} is no part of {text:?}"
    );
}

fn doubts(all: &[Doubt], text: &str) {
    for span in all.iter().filter_map(|d| d.span.as_ref()) {
        inside(span, text);
    }
}

/// Spans lie in their text, on the bounds of characters.
fn spans(recipe: &Recipe) {
    for line in recipe.components.iter().flat_map(|c| &c.lines) {
        doubts(&line.doubts, &line.clean);
        for item in &line.items {
            inside(&item.name, &line.clean);
            item.amounts
                .iter()
                .for_each(|a| inside(&a.span, &line.clean));
            item.food.iter().for_each(|m| inside(&m.span, &line.clean));
            item.reference
                .iter()
                .for_each(|r| inside(&r.span, &line.clean));
        }
    }
    for step in &recipe.steps {
        step.facts.iter().for_each(|f| inside(&f.span, &step.text));
        doubts(&step.doubts, &step.text);
    }
}

fn sound<Q: Quantity>(s: Spread<Q>) {
    let (low, likely, high) = (s.low().value(), s.likely().value(), s.high().value());
    assert!(
        0.0 <= low && low <= likely && likely <= high && high.is_finite(),
        "{low} {likely} {high}"
    );
}

/// Weighs, screens, reworks, screens again.
///
/// # Panics
/// When a span leaves its text or a figure is negative, endless or out of order.
pub fn through(recipe: Recipe, locale: Locale) {
    spans(&recipe);
    let _ = recipe.to_text();
    let Ok(formula) = recipe::weigh::formula(recipe, larder(), locale) else {
        return;
    };
    for c in &formula.components {
        c.items.iter().filter_map(|w| w.grams).for_each(sound);
        c.items.iter().filter_map(|w| w.percent).for_each(sound);
        [c.flour, c.water, c.makes].into_iter().for_each(sound);
        c.hydration.into_iter().for_each(sound);
    }
    let _ = recipe::screen::screen(&formula, larder(), None);
    let rework = recipe::rework::rework(formula, larder(), &Options::default());
    for c in &rework.components {
        c.lines.iter().filter_map(|l| l.grams).for_each(sound);
        [c.makes, c.reworked.flour].into_iter().for_each(sound);
        c.reworked.hydration.into_iter().for_each(sound);
    }
    let _ = rework.screen(larder());
}
