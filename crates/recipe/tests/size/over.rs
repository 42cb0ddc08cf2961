//! What lies over the rim of a case, and what is kept back: neither is in the tin.

use super::{makes, near, part, sized, worked};
use recipe::size::{Ask, Filled, Pans, PartSize, Target};

fn filled(text: &str, tin: &str) -> Filled {
    let tin = Pans::read(tin, &[]).expect("a tin");
    sized(&worked(text), Target::Pan(tin)).pans.expect("a tin")
}

const CASE: &str = "Greengage tart\n\nPastry\n200 g plain flour\n100 g butter\n1 egg\n\nFilling\n500 g plums\n80 g sugar\n20 g cornstarch\n\n";

/// By hand: 350 g of pastry and 600 g of filling are in the tin, 280 g of crumble heaped on them are not.
#[test]
fn a_crumble_on_a_case_lies_over_its_rim() {
    let text = format!(
        "{CASE}Crumble\n120 g plain flour\n80 g butter\n80 g sugar\n\n1. Make the pastry, line a 23 cm tart tin with it and bake blind at 190 C for 15 minutes.\n2. Toss the plums with sugar and cornstarch, tip into the case.\n3. Rub the crumble together, scatter it over the filling and bake at 180 C for 35 minutes.\n"
    );
    // A case that is full to its rim is no tin that runs over.
    let tin = Pans::read("25 cm tart tin", &[]).expect("a tin");
    let batch = sized(&worked(&text), Target::Pan(tin));
    let full = batch.pans.as_ref().expect("a tin").fill.likely().get();
    assert!((0.92..1.0).contains(&full), "{full}");
    assert!(
        !batch.cautions.iter().any(|c| c.code == "overfull"),
        "{:?}",
        batch.cautions
    );
    let pans = filled(&text, "23 cm tart tin");
    near(pans.grams.as_grams(), 951.0, 3.0);
    assert_eq!(pans.what, "filling and pastry");
    let said = pans.not_counted.expect("said");
    assert_eq!(said, "The crumble lies over the rim and is not counted.");
}

/// Bars of a tin of 9 × 13 in are as thick in one of 8 × 8: by hand 64 ÷ 117 square inches.
#[test]
fn bars_are_as_thick_in_another_tin() {
    let text = "Oat bars\nMakes 24 bars\n\n230 g butter\n330 g brown sugar\n2 eggs\n310 g plain flour\n5 g baking soda\n270 g rolled oats\n340 g chocolate chips\n\n1. Cream the butter and sugar, beat in the eggs, stir in the rest.\n2. Press into a 9x13-inch pan and bake at 350 F for 25 minutes.\n";
    let tin = Pans::read("8x8 in square", &[]).expect("a tin");
    let batch = sized(&worked(text), Target::Pan(tin));
    near(batch.factor, 64.0 / 117.0, 1e-3);
    assert!(
        batch.sums[0].contains("as thick as before"),
        "{:?}",
        batch.sums
    );
}

/// The same of a meringue.
#[test]
fn a_meringue_on_a_case_lies_over_its_rim() {
    let text = "Lime pie\n\nPastry\n200 g plain flour\n100 g butter\n1 egg\n\nLime filling\n60 g cornstarch\n300 g water\n150 g sugar\n4 egg yolks\n50 g butter\n\nMeringue\n4 egg whites\n200 g caster sugar\n\n1. Make the pastry, line a 23 cm tart tin with it and bake blind at 190 C for 20 minutes.\n2. Boil the cornstarch and water, stir in sugar, butter and yolks. Pour into the case.\n3. Whisk the whites with the sugar, pile the meringue on the filling and bake at 150 C for 30 minutes.\n";
    let pans = filled(text, "23 cm tart tin");
    let said = pans.not_counted.expect("said");
    assert_eq!(said, "The meringue lies over the rim and is not counted.");
    assert!(!pans.what.contains("meringue"), "{}", pans.what);
}

/// A streusel on a batter is in the tin with it: whole, or the share that the method puts on. By hand: 220 g
/// of streusel, of which two thirds are 146.7 g.
#[test]
fn of_a_streusel_what_is_put_on_counts() {
    let text = |step: &str| {
        format!(
            "Streusel cake\n\nCake\n200 g butter\n200 g sugar\n4 eggs\n250 g plain flour\n2 tsp baking powder\n\nStreusel\n100 g plain flour\n60 g butter\n60 g sugar\n\n1. Cream butter and sugar, beat in eggs, fold in flour and baking powder. Spread in a 23 cm springform tin.\n2. Rub the streusel together. {step}\n3. Bake at 170 C for 50 minutes.\n"
        )
    };
    let grams = |step: &str| {
        let pans = filled(&text(step), "springform 26x6.5 cm");
        (pans.grams.as_grams(), pans.not_counted)
    };
    let once = |step: &str| {
        let w = worked(&text(step));
        let rework = &w.rework;
        let cake = (0..2)
            .find(|c| rework.components[*c].name == "cake")
            .expect("a cake");
        rework.panful(cake).grams(rework).iter().sum::<f64>()
    };
    let whole = once("Scatter it over.");
    let some = once("Scatter two thirds of the streusel over and freeze the rest.");
    near(whole - some, 220.0 / 3.0, 0.5);
    let said = grams("Scatter two thirds of the streusel over and freeze the rest.").1;
    assert_eq!(
        said.as_deref(),
        Some("Of the streusel two thirds is counted, as the method has it.")
    );
    // So it is of each muffin, and what is over is told.
    let muffins = "Muffins\nMakes 10\n\nBatter\n250 g plain flour\n10 g baking powder\n100 g butter\n100 g sugar\n2 eggs\n200 g milk\n\nCrumb topping\n50 g plain flour\n30 g butter\n20 g sugar\n\n1. Mix the batter and divide it among the cups.\n2. Rub the topping and scatter half of the crumb topping over; freeze the rest. Bake at 190 C for 20 minutes.\n";
    let batch = sized(&worked(muffins), Ask::times(1.0));
    let whole = batch
        .pieces
        .and_then(|p| p.whole)
        .expect("a piece")
        .raw
        .likely()
        .as_grams();
    near(
        whole,
        (makes(part(&batch, "batter")) / 1.02 + 50.0) / 10.0,
        0.2,
    );
    let over = batch
        .cautions
        .iter()
        .find(|c| c.code == "rest")
        .expect("told");
    assert_eq!(
        over.text,
        "Of the crumb topping the method puts half on: 50 g of it are over."
    );
    // Half inside and the rest on top is all of it.
    for step in [
        "Scatter it over.",
        "Scatter half of the streusel over, then the rest.",
        "Scatter over half of the streusel and serve the cake.\n3. Sprinkle with the remaining streusel.",
    ] {
        assert_eq!(grams(step).1, None, "{step}");
    }
}

/// Of 330 g of crumbs the filling takes 120 g and step 3 the rest, 210 g; with exactly enough there is none.
#[test]
fn the_rest_of_a_part_is_for_the_step_that_uses_it() {
    let text = |end: &str| {
        format!(
            "Buns\n\nDough\n500 g bread flour\n300 g milk\n7 g instant yeast\n\nCrumbs\n150 g plain flour\n100 g butter\n80 g sugar\n\nFilling\n300 g plums\n120 g of the crumbs\n\n1. Mix the dough.\n2. Mix the filling, spread it on the dough and roll up.\n3. {end} Bake at 190 C for 25 minutes.\n"
        )
    };
    let said = |end: &str, ask: Ask| {
        let batch = sized(&worked(&text(end)), ask);
        let rest = batch.cautions.into_iter().find(|c| c.code == "rest");
        rest.map(|c| c.text)
    };
    let enough = || Ask {
        parts: [("crumbs".to_owned(), PartSize::Enough)].into(),
        ..Ask::times(1.0)
    };
    let scatter = "Scatter over the rest of the crumbs.";
    let words = said(scatter, Ask::times(1.0)).expect("said");
    assert_eq!(
        words,
        "Step 3 uses the rest of the crumbs: the 210 g that are left are for that."
    );
    let words = said(scatter, enough()).expect("said");
    assert!(words.contains("here is none"), "{words}");
    assert_eq!(said("Brush with the rest of the milk.", enough()), None);
}

/// Of a tin of 30 × 20 cm whose depth no one says the area is known, 600 cm²: in one of 33 × 23 cm, 759 cm², biscuits
/// and a sponge stand as thick as before at × 1.265. It filled 55 % of the new tin, whatever the method named.
#[test]
fn a_tin_without_a_depth_goes_by_its_area() {
    for text in [
        "Butter Fingers\n\nMakes 20 fingers\n\n200 g plain flour\n130 g butter\n70 g caster sugar\n\nPress into a 20 x 30 cm tin, bake at 160C for 35 minutes. Cut into 20 fingers.\n",
        "Tea Sponge\n\n200 g plain flour\n180 g butter\n180 g caster sugar\n3 eggs\n2 tsp baking powder\n\nSpread in a 20 x 30 cm tin, bake at 180C for 30 minutes.\n",
    ] {
        let w = worked(text);
        let to = Pans::of("33x23x6cm", &[]).expect("a pan");
        let batch = sized(&w, Target::Pan(to));
        assert!((batch.factor - 1.265).abs() < 0.001, "{}", batch.factor);
        assert!(
            batch.sums[0].contains("as thick as before"),
            "{:?}",
            batch.sums
        );
    }
}
