//! Gluten in the finished food, ppm.

use super::{loss, near, of_text, portion};
use quantity::{Mass, Spread};
use recipe::screen::{Portion, finished_ppm};

/// Source: gluten notes of the project, 'Finished-food ppm', worked example 1 (arithmetic).
#[test]
fn worked_1_rice_and_tapioca() {
    let parts = [
        portion(250.0, 15.0, 15.0),
        portion(50.0, 5.0, 5.0),
        portion(400.0, 0.0, 0.0),
    ];
    near(finished_ppm(&parts, None).1, 5.71, 0.005);
    let (low, high) = finished_ppm(&parts, loss(0.12));
    near(high, 6.49, 0.005);
    near(Some(low), 6.49, 0.005);
}

/// Worked example 2: 2 % of soy flour at the survey's 2925 ppm is enough to fail.
#[test]
fn worked_2_soy_flour() {
    let parts = [portion(10.0, 2925.0, 2925.0), portion(490.0, 0.0, 0.0)];
    near(finished_ppm(&parts, loss(0.12)).1, 66.5, 0.05);
}

/// Worked example 3: all flour at 20, flour 60 % of the dough, loss 15 %.
#[test]
fn worked_3_all_flour_at_the_limit() {
    let parts = [portion(60.0, 20.0, 20.0), portion(40.0, 0.0, 0.0)];
    near(finished_ppm(&parts, loss(0.15)).1, 14.1, 0.05);
}

/// Worked example 4: crackers end over 20 though every input is under.
#[test]
fn worked_4_crackers_end_over() {
    let parts = [portion(70.0, 19.0, 19.0), portion(30.0, 0.0, 0.0)];
    near(finished_ppm(&parts, loss(0.35)).1, 20.46, 0.005);
}

/// Worked example 5: wheat flour of 85 000 ppm; about 0.24 g makes 20 ppm of a kilogram, and
/// about 0.19 g of an 800 g loaf.
#[test]
fn worked_5_a_quarter_gram_of_wheat_flour() {
    for (flour, finished) in [(20.0 / 85.0, 1000.0), (16.0 / 85.0, 800.0)] {
        let parts = [
            portion(flour, 85_000.0, 85_000.0),
            portion(finished - flour, 0.0, 0.0),
        ];
        near(finished_ppm(&parts, None).1, 20.0, 1e-9);
    }
    assert!((20.0_f64 / 85.0 - 0.24).abs() < 0.005 && (16.0_f64 / 85.0 - 0.19).abs() < 0.005);
}

/// Worked example 6: 0.05 g of wheat dust into a kilogram.
#[test]
fn worked_6_wheat_dust() {
    let parts = [portion(0.05, 85_000.0, 85_000.0), portion(999.95, 0.0, 0.0)];
    near(finished_ppm(&parts, None).1, 4.25, 1e-9);
}

/// Worked example 7: an interval; 300 g of labelled flour, 400 g of others, 616 g baked.
#[test]
fn worked_7_interval() {
    let parts = [portion(300.0, 0.0, 20.0), portion(400.0, 0.0, 0.0)];
    let (low, high) = finished_ppm(&parts, loss(0.12));
    assert!(low.abs() < 1e-12);
    near(high, 9.74, 0.005);
    // And the same from a recipe's words.
    let s = of_text(
        "Test loaf\n\nIngredients\n300 g rice flour, labelled gluten-free\n400 g water\n",
        loss(0.12),
    );
    near(s.ppm.high, 9.74, 0.005);
    assert!(s.ppm.unknown.is_empty(), "{:?}", s.ppm);
}

/// Worked example 8: 100 g of oats at 20 ppm in a kilogram, loss 10 %.
#[test]
fn worked_8_oats() {
    let parts = [portion(100.0, 20.0, 20.0), portion(900.0, 0.0, 0.0)];
    near(finished_ppm(&parts, loss(0.10)).1, 2.2, 0.03);
}

/// Worked example 9: if every grain input is at most 20·(1−L)·M/Σm, the finished food is too.
#[test]
fn worked_9_bound_on_inputs() {
    for (flour, whole, l) in [
        (300.0, 700.0, 0.12),
        (70.0, 100.0, 0.35),
        (500.0, 900.0, 0.0),
    ] {
        let input = 20.0 * (1.0 - l) * whole / flour;
        let parts = [portion(flour, 0.0, input), portion(whole - flour, 0.0, 0.0)];
        near(finished_ppm(&parts, loss(l)).1, 20.0, 1e-9);
    }
}

/// Weights in ranges: the bound is the true extreme, not the quotient of sums.
#[test]
fn ranges_of_weight_give_the_extreme() {
    let wide = Spread::new(Mass::grams(90.0), Mass::grams(100.0), Mass::grams(110.0));
    let parts = [
        Portion {
            grams: wide,
            low: 0.0,
            high: Some(20.0),
        },
        Portion {
            grams: wide,
            low: 0.0,
            high: Some(0.0),
        },
    ];
    near(finished_ppm(&parts, None).1, 20.0 * 110.0 / 200.0, 1e-9);
    let (_, none) = finished_ppm(
        &[Portion {
            grams: wide,
            low: 0.0,
            high: None,
        }],
        None,
    );
    assert_eq!(none, None);
    assert_eq!(finished_ppm(&parts, loss(1.0)).1, None);
}
