//! A reworked recipe at a size: the arithmetic of batches.

use larder::Larder;
use quantity::{Locale, Mass};
use recipe::sheet::{Sheet, Worked, work};
use recipe::size::{Ask, Batch, SizeError, size};

fn worked(text: &str) -> (Worked, Larder) {
    let larder = Larder::built_in().expect("the built-in tables");
    let sheet = Sheet::new(text, Locale::Us);
    (work(&sheet, &[], &larder, &[]).expect("worked"), larder)
}

const BUNS: &str = "Filled buns\n\nMakes 12 buns\n\nFor the dough:\n500 g bread flour\n240 g whole milk\n2 large eggs\n80 g unsalted butter\n7 g instant yeast\n8 g salt\n\nFor the crumbs:\n100 g plain flour\n50 g butter\n50 g sugar\n\nFor the filling:\n200 g cream cheese\n60 g sugar\n100 g of the crumbs\n";

fn grams(batch: &Batch) -> Vec<f64> {
    let lines = batch.components.iter().flat_map(|c| &c.lines);
    lines
        .filter_map(|l| Some(l.grams?.likely().as_grams()))
        .collect()
}

#[test]
fn without_an_ask_a_batch_is_the_rework_itself() {
    let (w, _) = worked(BUNS);
    assert_eq!(w.batch.factor, 1.0);
    for (c, r) in w.batch.components.iter().zip(&w.rework.components) {
        assert_eq!(
            (c.factor, c.makes, c.used, c.left),
            (1.0, r.makes, r.used, r.left)
        );
        for line in &c.lines {
            assert_eq!(line.grams, r.lines[line.at].grams, "{}", line.name);
        }
    }
}

/// Scaling is multiplication: × 2 then × 3 is × 6.
#[test]
fn scaling_composes() {
    let (w, _) = worked(BUNS);
    let six = size(&w.rework, &Ask::times(6.0)).expect("six");
    let two = size(&w.rework, &Ask::times(2.0)).expect("two");
    for (a, b) in grams(&six).iter().zip(grams(&two)) {
        assert!((a - 3.0 * b).abs() < 1e-9, "{a} {b}");
    }
}

#[test]
fn what_is_made_is_used_or_left() {
    let (w, _) = worked(BUNS);
    let batch = size(&w.rework, &Ask::times(2.5)).expect("a batch");
    let crumbs = batch
        .components
        .iter()
        .find(|c| c.name == "crumbs")
        .expect("crumbs");
    let (used, left) = (crumbs.used.expect("used"), crumbs.left.expect("left"));
    assert_eq!(used.likely(), Mass::grams(250.0));
    let sum = (used.likely() + left.likely() - crumbs.makes.likely()).as_grams();
    assert!(sum.abs() < 1e-9);
}

#[test]
fn no_such_times_the_recipe() {
    let (w, _) = worked(BUNS);
    for factor in [0.0, -1.0, f64::NAN, f64::INFINITY, 1e9, 1e-9] {
        let refused = size(&w.rework, &Ask::times(factor));
        assert!(matches!(refused, Err(SizeError::Factor { .. })), "{factor}");
    }
}

/// A size that cannot be had leaves the rest of the sheet worked, and says so.
#[test]
fn a_sheet_with_an_impossible_size_is_worked_all_the_same() {
    let larder = Larder::built_in().expect("the built-in tables");
    let mut sheet = Sheet::new(BUNS, Locale::Us);
    sheet.size = Some(Ask::times(-2.0));
    let w = work(&sheet, &[], &larder, &[]).expect("worked");
    assert_eq!(w.batch.factor, 1.0);
    let words = w.size_refused.expect("refused").to_string();
    assert!(words.contains("ask for 0.01 to 1000 times"), "{words}");
}
