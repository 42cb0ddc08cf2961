//! Methods in an awkward order. Worked by hand from the texts.

use super::{at, comes_after, of, sheet};

/// A plait that is brushed twice with one egg is no custard: it cools as a bread, not in the fridge.
#[test]
fn a_wash_that_goes_on_twice_is_baked_twice() {
    let text = "Saffron crown\nMakes 1 loaf\n\nFor the dough\n500 g strong white flour\n7 g instant yeast\n250 ml milk\n80 g butter\n70 g sugar\n1 egg\n\nTo glaze\n1 egg, beaten\n\n1. Mix and knead for 8 minutes. Let rise 1 hour.\n2. Plait into a crown. Brush with half the egg. Let rise 45 minutes.\n3. Brush again with the egg and bake at 190 °C for 30 minutes.\n4. Cool on a rack.\n";
    let t = of(&sheet(text), 1.0);
    assert!(t.list.iter().all(|x| x.what != "chill"), "{:?}", t.list);
    let cool = t.list.iter().find(|x| x.what.starts_with("cool"));
    assert_eq!(cool.and_then(|c| c.wait).map(|w| w.span.least), Some(180.0));
}

/// What a step behind its bake takes is weighed for that, not for the bake.
#[test]
fn a_glaze_is_weighed_for_what_takes_it() {
    let text = "Tea loaf\nMakes 1 loaf\n\n250 g self-raising flour\n150 g brown sugar\n1 egg\n250 ml tea\n\nFor the glaze\n2 tbsp honey\n1 tbsp orange juice\n\n1. Mix the flour, sugar, egg and tea. Spoon into a loaf tin.\n2. Bake at 160 °C for 1 hour. Warm the honey and orange juice and brush over the loaf while it is warm.\n";
    let t = of(&sheet(text), 1.0);
    let (weigh, bake) = (at(&t, "glaze:weigh"), at(&t, ":bake"));
    assert!(!comes_after(&t, bake, weigh), "{:?}", t.list);
    assert!(comes_after(&t, at(&t, ":brush"), weigh));
}

/// Fruit that was stewed the day before does not wait for it that the crumbs go into a tin: that is another.
#[test]
fn a_new_tin_is_not_that_of_the_step_before() {
    let text = "Plum squares\n\nFor the plums\n500 g plums\n80 g sugar\n\nFor the base\n200 g plain flour\n150 g butter\n100 g brown sugar\n\n1. Simmer the plums with the sugar for 15 minutes. Chill overnight.\n2. Rub the butter into the flour and sugar. Press two thirds into a 20 cm square tin.\n3. Spread over the plums, scatter over the rest and bake at 180 °C for 35 minutes.\n";
    let t = of(&sheet(text), 1.0);
    let chill = at(&t, "plums:chill");
    assert!(
        !comes_after(&t, at(&t, "base:rub_in"), chill),
        "{:?}",
        t.list
    );
    assert!(comes_after(&t, at(&t, "base:bake"), chill));
}

/// 'Fold. Chill. Repeat twice more, chilling between folds' is three folds with two chills between them.
#[test]
fn folds_that_are_repeated_are_each_work() {
    let text = "Rough puff\n\n250 g plain flour\n180 g cold butter\n120 ml water\n\n1. Mix the flour, butter and water.\n2. Roll out to a long strip, fold in three. Chill for 20 minutes. Repeat twice more, chilling for 20 minutes between folds.\n3. Roll out, cut into strips and bake at 200 °C for 14 minutes.\n";
    let t = of(&sheet(text), 1.0);
    let of_two = t.list.iter().filter(|x| x.step == Some(2));
    let kinds: Vec<&str> = of_two.map(|x| x.what).collect();
    assert_eq!(kinds, ["roll", "chill", "roll", "chill", "roll"]);
}

/// What is left to cool cools, though it may then be chilled for up to a day.
#[test]
fn what_may_be_chilled_up_to_a_day_cools_all_the_same() {
    let text = "Cheese puffs\n\n40 g butter\n40 g plain flour\n300 ml milk\n4 eggs\n\n1. Mix everything and fill six ramekins. Bake at 180 °C for 20 minutes. Leave to cool and chill for up to 24 hours.\n2. Turn out and bake at 200 °C for 12 minutes.\n";
    let t = of(&sheet(text), 1.0);
    assert!(
        t.list.iter().any(|x| x.what == "cool" && x.step == Some(1)),
        "{:?}",
        t.list
    );
}

/// A paste that is made 'meanwhile', while a cream chills, is what is piped and baked.
#[test]
fn what_is_made_meanwhile_is_baked() {
    let text = "Choux ring\n\nChoux\n75 g butter\n175 ml water\n100 g strong flour\n3 eggs\n\nCream\n400 ml whole milk\n4 egg yolks\n80 g sugar\n35 g cornflour\n\n1. Heat the milk. Whisk the yolks, sugar and cornflour, pour on the milk and boil for 2 minutes. Chill for 2 hours.\n2. Meanwhile boil the butter and water, beat in the flour, cool for 5 minutes and beat in the eggs. Pipe a ring. Bake at 190 °C for 35 minutes. Cool on a rack.\n3. Split the ring and fill with the cream.\n";
    let t = of(&sheet(text), 1.0);
    let (bake, chill) = (at(&t, "choux:bake"), at(&t, "cream:chill"));
    assert!(comes_after(&t, bake, at(&t, "choux:shape")), "{:?}", t.list);
    assert!(!comes_after(&t, bake, chill));
    let fill = t
        .list
        .iter()
        .position(|x| x.name.contains("Fill"))
        .expect("filled");
    assert!(comes_after(&t, fill, bake) && comes_after(&t, fill, chill));
}
