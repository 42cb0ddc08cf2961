//! What is served beside a bake, and words for heat on the stove.

use super::days::{ask, holds};
use super::{at, comes_after, of, sheet};
use recipe::plan::plan;

/// Written for this test.
const TART: &str = "Quince and walnut tart\nServes 8\n\nPastry\n200g plain flour\n100g cold butter, diced\n1 egg yolk\n2 tbsp cold water\n\nNut cream\n120g butter, softened\n120g caster sugar\n2 medium eggs\n120g ground walnuts\n25g plain flour\n\nTopping\n300g quinces, sliced\n3 tbsp apricot jam\n\nCustard\n300ml whole milk\n150ml double cream\n4 egg yolks\n50g caster sugar\n\n1. Rub the butter into the flour. Stir in the yolk and water and chill for 30 minutes.\n2. Roll out and line a 23cm tart tin. Chill 20 minutes.\n3. Heat the oven to 190C. Blind bake for 15 minutes, remove the beans, bake 5 minutes more.\n4. Cream the butter and sugar, beat in the eggs, fold in the walnuts and flour.\n5. Spread in the case, press in the quinces. Bake at 180C for 35-40 minutes.\n6. Warm the jam and brush over the tart. Cool in the tin 20 minutes.\n7. Custard: heat the milk and cream. Whisk yolks and sugar, pour on the milk, return to the pan and stir over a low heat until it coats a spoon. Serve warm or cold.\n";

#[test]
fn a_custard_beside_a_tart_waits_for_no_tart_and_can_be_planned() {
    for text in [TART.to_owned(), TART.replace("warm or cold", "cold")] {
        let s = sheet(&text);
        let t = of(&s, 1.0);
        let heats = |x: &recipe::plan::Task| x.step == Some(7) && x.what == "boil";
        let heat = t.list.iter().position(heats).expect("it is heated");
        assert!(
            t.list[heat].name.starts_with("Heat milk"),
            "{}",
            t.list[heat].name
        );
        assert!(
            !comes_after(&t, heat, at(&t, "pastry:bake#3")),
            "{:#?}",
            t.list
        );
        let day = ask(&[s], Some(1440 + 16 * 60));
        let p = plan(&day).unwrap_or_else(|e| panic!("{e:?}"));
        holds(&day, &p);
    }
}

/// What is poured over it waits for it all the same, however it is served.
#[test]
fn a_custard_over_a_tart_waits_for_it() {
    let over = "pour over the tart. Serve warm or cold";
    let t = of(
        &sheet(&TART.replace(
            "stir over a low heat until it coats a spoon. Serve warm or cold",
            over,
        )),
        1.0,
    );
    let custard = t
        .list
        .iter()
        .position(|x| x.step == Some(7))
        .expect("a step");
    assert!(
        comes_after(&t, custard, at(&t, "pastry:bake#3")),
        "{:#?}",
        t.list
    );
    assert!(t.list[custard].soon.is_empty());
}
