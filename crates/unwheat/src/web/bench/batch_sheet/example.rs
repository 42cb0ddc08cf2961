//! What the tests of plans share.

use super::{BatchSheet, batch_sheet};
use larder::Larder;
use quantity::Locale;
use recipe::household::Scale;
use recipe::sheet::{Sheet, Worked, work};
use recipe::size::{Ask, Batch, size};
use store::Settings;

/// A bench scale and a fine one.
pub const SCALE: Scale = Scale {
    step: 1.0,
    fine: Some(0.1),
};

/// A kitchen with these scales.
pub fn with(scale: Scale) -> Settings {
    Settings {
        scale_step: scale.step,
        fine_scale_step: scale.fine.unwrap_or(0.0),
        ..Settings::default()
    }
}

/// A text, worked.
pub fn worked(text: &str) -> (Worked, Sheet, Larder) {
    let larder = Larder::built_in().expect("the built-in tables");
    let sheet = Sheet::new(text, Locale::Us);
    let w = work(&sheet, &[], &larder, &[]).expect("a recipe");
    (w, sheet, larder)
}

/// One of the examples, worked.
pub fn named(name: &str) -> (Worked, Sheet, Larder) {
    let path = format!("{}/../../examples/{name}.txt", env!("CARGO_MANIFEST_DIR"));
    worked(&std::fs::read_to_string(path).expect("an example"))
}

/// The buns.
pub fn buns() -> (Worked, Sheet, Larder) {
    named("apricot-almond-buns")
}

/// The batch sheet of a worked text, for so many times the recipe.
pub fn planned((w, sheet, larder): &(Worked, Sheet, Larder), factor: f64) -> BatchSheet {
    batch_sheet(w, sheet, larder, &with(SCALE), &times(w, larder, factor))
}

/// So many times a recipe.
pub fn times(w: &Worked, larder: &Larder, factor: f64) -> Batch {
    size(&w.rework, &Ask::times(factor), larder).expect("a batch")
}
