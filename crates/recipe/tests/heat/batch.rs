//! A bake of a batch of another size than the recipe once.

use super::{CAKE, notes, plain, read};
use larder::Larder;
use quantity::Locale;
use recipe::heat::{Figures, Given, HeatField, bake, given};
use recipe::sheet::{Sheet, work};

/// Worked by hand: the 30 minutes are those at 325 °F (162.8 °C), not those of the 350 °F (176.7 °C) before, so the
/// whole bake has (15 × 176.7 + 30 × 162.8) ÷ 45 = 167.4 °C; and what goes into the recipe's own pan for its own time is the recipe once, at whatever size it is made.
#[test]
fn a_time_is_of_its_own_oven_and_the_known_bake_of_the_recipe_once() {
    const BARS: &str = "Bars\n\n250 g plain flour\n120 g butter\n100 g sugar\n2 eggs\n300 g milk\n2 tsp baking powder\n\n1. Mix all. Bake for 15 minutes at 350°F in an 8x8x2 inch pan.\n2. Turn it and bake 30 minutes at 325°F.\n";
    let larder = Larder::built_in().expect("the built-in tables");
    let mut sheet = Sheet::new(BARS, Locale::Us);
    let once = work(&sheet, &[], &larder, &[]).expect("a recipe");
    let once = given(&once.rework, &once.batch, &larder, None).expect("it is baked");
    let oven = once.oven.expect("an oven").as_celsius();
    assert!((oven - 167.4).abs() < 0.1, "{oven}");
    assert_eq!(once.makes, once.once);
    sheet.size = Some(recipe::size::Ask::times(2.0));
    let twice = work(&sheet, &[], &larder, &[]).expect("a recipe");
    let twice = given(&twice.rework, &twice.batch, &larder, None).expect("it is baked");
    assert_eq!(twice.once, once.once);
    assert!((twice.makes.as_grams() - 2.0 * once.makes.as_grams()).abs() < 1e-6);
    let n = notes(&[]);
    let figures = plain(&n, &twice);
    let known = figures
        .value(HeatField::KnownDough)
        .expect("it fits the pan");
    assert!(
        known
            .words
            .starts_with(&format!("{:.0}", once.once.as_grams())),
        "{known:?}"
    );
}

/// With a tin of 20 cm chosen the bake to come was still in the recipe's of 23 cm; and what does
/// not go into a tin by its measures was 'not known' without a reason.
#[test]
fn the_pan_of_the_size_is_that_of_the_bake_to_come() {
    let larder = Larder::built_in().expect("the built-in tables");
    let of = |words: &str, text: &str| {
        let mut sheet = Sheet::new(text, Locale::Us);
        let pans = recipe::size::Pans::read(words, &[]).expect("a pan");
        sheet.size = Some(recipe::size::Target::Pan(pans).into());
        let w = work(&sheet, &[], &larder, &[]).expect("a recipe");
        given(&w.rework, &w.batch, &larder, None).expect("it is baked")
    };
    let tart = "Tart\n\nPastry:\n200 g plain flour\n100 g butter\n50 g water\n\nCustard:\n300 g cream\n3 eggs\n\n1. Rub the butter into the flour, bind with the water and line a 23 x 4 cm tart tin.\n2. Fill with the custard and bake at 180 C for 40 minutes.\n";
    for (words, text, pan, count) in [
        ("tart 20x4 cm", tart, "tart tin, 20 × 4 cm", 1.0),
        ("2 x round 6x3 in", CAKE, "round tin, 6 × 3 in", 2.0),
    ] {
        let g = of(words, text);
        let n = notes(&[]);
        let figures = plain(&n, &g);
        let value = |f| figures.value(f).unwrap_or_else(|| panic!("{words}: {f:?}"));
        assert!(
            value(HeatField::Pan).shown().contains(pan),
            "{:?}",
            value(HeatField::Pan)
        );
        let dough = value(HeatField::PanDough).words;
        assert_eq!(
            dough,
            format!("{:.0} g", g.makes.as_grams() / count),
            "{words}"
        );
        let asked = figures.bake().expect("all is known").expect("another pan");
        assert!(bake(&asked).is_ok(), "{words}");
        // What is typed stands over it.
        let typed = notes(&[(HeatField::Pan, "round 18x5 cm")]);
        let figures = Figures {
            notes: &typed,
            ..figures
        };
        assert_eq!(
            figures.value(HeatField::Pan).expect("typed").words,
            "round 18x5 cm"
        );
    }
    let full = tart
        .replace("23 x 4 cm", "15 cm")
        .replace("300 g cream", "600 g cream");
    let g = read(&full, None);
    let n = notes(&[]);
    let figures = plain(&n, &g);
    assert_eq!(figures.value(HeatField::KnownDough), None);
    let why = figures.too_much().expect("a reason").words;
    assert!(
        why.contains("to the rim, and its depth is assumed (such tins are 2 to 5 cm deep): measure how deep yours is"),
        "{why}"
    );
}

/// With a pan typed beside a batch of ×1.5 the dough was still that of the recipe once. Two
/// 9-inch pans once; one 23 × 33 cm tin holds the one and a half.
#[test]
fn a_pan_that_is_typed_takes_the_batch_that_is_chosen() {
    let larder = Larder::built_in().expect("the built-in tables");
    let of = |times: f64| -> Given {
        let mut sheet = Sheet::new(CAKE, Locale::Us);
        sheet.size = Some(recipe::size::Ask::times(times));
        let w = work(&sheet, &[], &larder, &[]).expect("a recipe");
        given(&w.rework, &w.batch, &larder, None).expect("it is baked")
    };
    let dough = |g: &Given, pan: &str| {
        let n = notes(&[(HeatField::Pan, pan)]);
        let figures = plain(&n, g);
        let value = figures.value(HeatField::PanDough).expect("a weight");
        (value.words.clone(), value.from().to_owned())
    };
    let g = of(1.5);
    let all = 1.5 * g.once.as_grams();
    assert_eq!(
        dough(&g, "3 x round 9x2 in"),
        (
            format!("{:.0} g", all / 3.0),
            "for the batch at ×1.5, in each of 3 pans".to_owned()
        )
    );
    // As the recipe has two, so much in each of two.
    let (grams, why) = dough(&g, "round 10x3 in");
    assert_eq!(grams, format!("{:.0} g", all / 2.0));
    assert!(why.starts_with("for the batch at ×1.5"), "{why}");
    // Of a batch for three pans it is each of three.
    let three = {
        let mut sheet = Sheet::new(CAKE, Locale::Us);
        let pans = recipe::size::Pans::read("3 x round 9x2 in", &[]).expect("pans");
        sheet.size = Some(recipe::size::Target::Pan(pans).into());
        let w = work(&sheet, &[], &larder, &[]).expect("a recipe");
        given(&w.rework, &w.batch, &larder, None).expect("it is baked")
    };
    let (grams, why) = dough(&three, "round 10x3 in");
    assert_eq!(grams, format!("{:.0} g", three.makes.as_grams() / 3.0));
    assert!(why.ends_with("in each of 3 pans"), "{why}");
    // What does not go in is said.
    let (_, why) = dough(&g, "round 6x2 in");
    assert!(
        why.ends_with(" of the batch at ×1.5 do not go into this one"),
        "{why}"
    );
    // In the recipe's own pans it is what goes into them, and the batch is told.
    let hotter = notes(&[(HeatField::Oven, "190 C")]);
    let kept = plain(&hotter, &g).value(HeatField::PanDough);
    let kept = kept.expect("a weight");
    assert_eq!(kept.words, format!("{:.0} g", g.once.as_grams() / 2.0));
    let told = format!("the batch at ×1.5 makes {all:.0} g in all");
    assert!(kept.from().ends_with(&told), "{kept:?}");
    let (_, why) = dough(&of(1.0), "round 10x3 in");
    assert_eq!(why, "as in the known bake");
}

/// A bake on record in the pan of the Size page had no time to come, and its own weight for that of the batch:
/// 900 g took 40 minutes, so the batch's own weight in the same pan takes about as long, and its weight is its.
#[test]
fn a_known_bake_in_the_pan_of_the_size_gives_a_time_for_the_batch() {
    let larder = Larder::built_in().expect("the built-in tables");
    let mut sheet = Sheet::new(CAKE, Locale::Us);
    let pans = recipe::size::Pans::of("9x9", &[]).expect("a pan");
    let pans = recipe::size::Pans { full: true, ..pans };
    sheet.size = Some(recipe::size::Target::Pan(pans).into());
    let w = work(&sheet, &[], &larder, &[]).expect("a recipe");
    let g = given(&w.rework, &w.batch, &larder, None).expect("it is baked");
    let makes = format!("{:.0} g", g.makes.as_grams());
    let n = notes(&[
        (HeatField::KnownPan, "9x9"),
        (HeatField::KnownOven, "350 F"),
        (HeatField::KnownTime, "40 min"),
        (HeatField::KnownDough, "1100 g"),
    ]);
    let figures = plain(&n, &g);
    assert_eq!(
        figures.value(HeatField::PanDough).expect("a weight").words,
        makes
    );
    let ask = figures.bake().expect("read").expect("a bake to come");
    let time = bake(&ask).expect("a time").time.likely().as_minutes();
    assert!((34.0..46.0).contains(&time), "{time}");
}
