//! What cools before something goes on it, and steps that put a bake together.

use super::{at, comes_after, of, sheet};
use recipe::plan::{Basis, Place, Tasks};

const CAKE: &str = "Pear layer cake\nServes 10\n\nCAKE\n2 sticks unsalted butter\n2 3/4 cups cake flour\n2 1/2 teaspoons baking powder\n1 3/4 cups sugar\n4 eggs\n1 cup sour cream\n\nPEAR FILLING\n1 lb ripe pears, sliced\n1/2 cup sugar\n2 Tbsp cornstarch\n\nFROSTING\n8 oz cream cheese, cold\n6 tbsp butter, softened\n3 cups confectioners' sugar\n\nBrown the butter in a saucepan over medium heat, about 6 minutes. Pour into a bowl and chill until solid but soft, 40 minutes.\nHeat the oven to 350°F. Butter and flour two 8-inch round cake pans.\nWhisk the flour and baking powder. Cream the browned butter and sugar until light, 4 minutes. Beat in the eggs one at a time. Fold in the flour, alternating with the sour cream.\nDivide between the pans and bake 30 to 35 minutes. COOL\nFor the filling, simmer pears, sugar and cornstarch until thick, 8 minutes. Cool.\nFor the frosting, beat cream cheese and butter, then add the confectioners' sugar.\nSandwich the cakes with the pear filling and cover with frosting. Chill 1 hour before slicing.\n";

fn names(t: &Tasks) -> Vec<String> {
    t.list.iter().map(recipe::plan::Task::title).collect()
}

/// Worked by hand: what goes on a bake waits until that is in the cool, whatever its method says.
#[test]
fn frosting_waits_for_a_cake_that_is_cool() {
    for said in [
        "Cool 10 minutes in the pans, then turn out on a rack and cool completely.",
        "Cool in the pans for 10 minutes, then on a rack.",
        "Cool completely.",
        "Cool for 10 minutes.",
        "Turn out.",
    ] {
        let t = of(&sheet(&CAKE.replace("COOL", said)), 1.0);
        let on = names(&t).iter().position(|n| n.starts_with("Sandwich"));
        let on = on.unwrap_or_else(|| panic!("{said}: {:?}", names(&t)));
        assert!(t.list[on].name.contains("frosting"), "{}", t.list[on].name);
        let bake = at(&t, "cake:bake");
        let cold = t.list.iter().enumerate().find(|(i, c)| {
            c.of == "cake"
                && c.what == "cool"
                && c.wait.is_some_and(|w| w.span.least == 60.0)
                && c.wait_basis == Basis::Guess
                && comes_after(&t, *i, bake)
                && comes_after(&t, on, *i)
        });
        // It cools at once, not after it has stood.
        let stands = |a: &usize| t.list[*a].of != "cake" || t.list[*a].stands <= 10.0;
        let (_, cold) = cold.unwrap_or_else(|| panic!("{said}: {:?}", t.list));
        assert!(cold.after.iter().all(stands), "{said}: {:?}", t.list);
    }
    let short = of(
        &sheet(&CAKE.replace("COOL", "Cool 10 minutes in the pans, then cool completely.")),
        1.0,
    );
    let first = short.list[at(&short, "cake:cool")].wait.expect("a wait");
    assert!(
        first.span.least == 10.0 && first.span.most == 10.0,
        "{first:?}"
    );
    // What is put on warm is not held up.
    let warm = CAKE
        .replace("COOL", "Turn out.")
        .replace("Sandwich the cakes", "Sandwich the warm cakes");
    let t = of(&sheet(&warm), 1.0);
    assert!(t.list.iter().all(|t| t.of != "cake" || t.what != "cool"));
}

#[test]
fn a_boiled_filling_is_cool_before_it_goes_on_a_dough() {
    let buns = "Date buns\nMakes 12\n\nFor the dough\n1 cup milk\n7 g active dry yeast\n500 g bread flour\n2 eggs\n115 g butter\n\nFor the date filling\n250 g pitted dates\n75 g butter\n\n1. Mix the dough and knead for 8 minutes. Chill overnight.\n2. Meanwhile simmer the dates with 60 ml water until jammy, 5 minutes; beat in the butter. COOL\n3. Roll the dough out, spread with the filling, roll up and cut into 12 slices.\n4. Let rise 45 minutes. Bake at 375°F for 25 minutes.\n";
    let t = of(&sheet(&buns.replace("COOL", "")), 1.0);
    let cool = at(&t, "date filling:cool_filling");
    let roll = names(&t).iter().position(|n| n.starts_with("Roll"));
    assert!(comes_after(&t, roll.expect("a roll"), cool));
    assert!(comes_after(&t, cool, at(&t, "date filling:boil")));
    assert!(t.list[cool].guessed());
    // Where the method cools it, once is enough; and a hot filling that is meant so stays.
    let said = of(&sheet(&buns.replace("COOL", "Cool.")), 1.0);
    assert!(said.task("date filling:cool_filling").is_none());
    let hot = buns
        .replace("COOL", "")
        .replace("with the filling", "with the hot filling");
    assert!(
        of(&sheet(&hot), 1.0)
            .task("date filling:cool_filling")
            .is_none()
    );
}

#[test]
fn steps_that_put_a_bake_together_are_named() {
    let t = of(&sheet(&CAKE.replace("COOL", "")), 1.0);
    let all = names(&t).join("; ");
    assert!(all.contains("Brown butter (cake)"), "{all}");
    // The rest is that of the batter, not of the butter that is browned.
    let rest = at(&t, "cake:rest");
    assert!(comes_after(&t, rest, at(&t, "cake:mix")), "{all}");
    let pie = "Leek pie\nServes 6\n\nPastry:\n2 1/2 cups all-purpose flour\n2 sticks cold butter\n1/2 cup ice water\n1 egg, beaten, to glaze\n\nFilling:\n3 leeks, sliced\n2 Tbsp flour\n1/2 cup heavy cream\n\nRub the butter into the flour. Add the ice water and bring together. Chill for 1 hour.\nSoften the leeks 8 minutes. Stir in the flour and cream. Simmer 15 minutes. Cool.\nPreheat oven to 400°F. Line a 9-inch deep pie dish with two thirds of the pastry, fill, cover with the rest, crimp, cut a vent and brush with beaten egg.\nBake 40 to 45 minutes until deep golden.\n";
    let t = of(&sheet(pie), 1.0);
    let all = names(&t).join("; ");
    assert!(
        all.contains("Line with pastry, fill, cover with the rest, crimp"),
        "{all}"
    );
    let task = t
        .list
        .iter()
        .find(|t| t.name.starts_with("Line"))
        .expect("it");
    assert!(task.hands.usual >= 12.0, "{task:?}");
    assert!(!all.contains("Step "), "{all}");
}

/// R6.7 of the rules of the trade: powder 1–3 minutes, and the yeast comes up before it goes in.
#[test]
fn yeast_foams_before_the_psyllium_gels() {
    let buns = "Milk buns\nMakes 12\n\n1 cup milk\n7 g active dry yeast\n500 g bread flour\n2 eggs\n115 g butter\n\n1. Stir the yeast into the warm milk and let stand until foamy, 10 minutes.\n2. Beat in the eggs, then the flour. Knead for 8 minutes.\n3. Shape into 12 buns. Let rise 45 minutes. Bake at 375°F for 25 minutes.\n";
    let t = of(&sheet(buns), 1.0);
    let (rest, gel) = (at(&t, ":rest"), at(&t, ":hydrate"));
    let span = |i: usize| t.list[i].wait.map(|w| (w.span.least, w.span.most));
    assert_eq!(span(rest), Some((10.0, 10.0)));
    assert_eq!(span(gel), Some((1.0, 3.0)));
    assert!(comes_after(&t, gel, rest));
    assert!(comes_after(&t, at(&t, ":mix#2"), gel) || comes_after(&t, at(&t, ":paste"), gel));
    // The dough of it rests once it is mixed.
    assert!(comes_after(&t, at(&t, ":rest#2"), gel));
    let dry = buns.replace(
        "1. Stir the yeast into the warm milk and let stand until foamy, 10 minutes.",
        "1. Mix the flour, yeast and sugar.",
    );
    let t = of(&sheet(&dry), 1.0);
    assert!(comes_after(&t, at(&t, ":mix"), at(&t, ":hydrate")));
}

#[test]
fn an_oven_turned_down_is_not_heated_again() {
    let loaf = "Loaf\nMakes 1 loaf\n\n500 g bread flour\n7 g yeast\n350 g water\n\n1. Mix. Let rise 1 hour.\n2. Preheat the oven to 230°C. Shape into a loaf.\n3. Bake for 10 minutes.\n4. SAID. Brush with butter and return to the oven for 15 minutes.\n";
    let heatings = |said: &str| {
        let t = of(&sheet(&loaf.replace("SAID", said)), 1.0);
        t.list.iter().filter(|t| t.what == "preheat").count()
    };
    assert_eq!(heatings("Reduce the oven to 180°C"), 1);
    assert_eq!(heatings("Turn the oven down to 180°C"), 1);
    assert_eq!(heatings("Preheat the oven to 180°C"), 2);
    assert_eq!(heatings("Turn out and heat the oven to 180°C"), 2);
}

/// A yeast bread with this title, yield and end.
fn bread(title: &str, shape: &str, end: &str) -> Tasks {
    of(
        &sheet(&format!(
            "{title}\n\n500 g strong white flour\n7 g fast-action yeast\n40 g sugar\n8 g salt\n300 g water\n30 g oil\n\nMethod\n1. Mix and knead for 8 minutes.\n2. Let rise for 1 hour.\n3. {shape}\n4. Let rise for 45 minutes.\n5. Bake at 200 °C for 35 minutes. {end}\n"
        )),
        1.0,
    )
}

/// Worked by hand: one cooling where the method means one, as long as what is baked needs.
#[test]
fn a_bread_cools_once() {
    for (title, shape, end, least, was) in [
        ("Milk rolls", "Shape into 12 rolls.", "Cool.", 45.0, None),
        (
            "Milk rolls",
            "Shape into 12 rolls.",
            "Cool for 20 minutes.",
            45.0,
            Some("cool, 20 min"),
        ),
        (
            "Milk loaf",
            "Shape into a loaf.",
            "Cool on a rack.",
            180.0,
            None,
        ),
        (
            "Milk loaf",
            "Shape into a loaf.",
            "Cool for 10 minutes.",
            180.0,
            Some("cool, 10 min"),
        ),
        (
            "Milk loaf",
            "Shape into a loaf.",
            "Cool 10 minutes in the tin, then on a rack.",
            180.0,
            None,
        ),
        ("Milk loaf", "Shape into a loaf.", "", 180.0, None),
        // One piece on a tray, as thick as its bake is long: 35 min, 41 of them without gluten, of the 45 of a
        // loaf, so 165 of 180; many pieces are small.
        (
            "Cinnamon wreath\nServes 12",
            "Shape into a ring.",
            "Cool.",
            165.0,
            None,
        ),
        ("Seed plait", "Plait three strands.", "", 165.0, None),
        ("Nut twist", "Twist two strands.", "", 165.0, None),
        (
            "Tear-and-share crown",
            "Shape into 9 balls.",
            "",
            165.0,
            None,
        ),
        (
            "Cinnamon twists\nMakes 8 twists",
            "Shape into 8 twists.",
            "",
            45.0,
            None,
        ),
        ("Bagels", "Shape into 8 rings.", "Cool.", 45.0, None),
    ] {
        let t = bread(title, shape, end);
        let cools: Vec<_> = t
            .list
            .iter()
            .filter(|t| t.what.starts_with("cool"))
            .collect();
        let long: Vec<_> = cools
            .iter()
            .filter(|t| t.name == "Cool before cutting")
            .collect();
        let told = |t: &&recipe::plan::Task| (t.name.clone(), t.wait.map(|w| w.span.least));
        let brief = usize::from(end.contains("in the tin"));
        assert_eq!(
            (long.len(), cools.len() - long.len()),
            (1, brief),
            "{title}: {end}: {:?}",
            cools.iter().map(told).collect::<Vec<_>>()
        );
        assert_eq!(
            told(long[0]),
            ("Cool before cutting".to_owned(), Some(least)),
            "{title}: {end}"
        );
        assert_eq!(long[0].was.as_deref(), was, "{title}: {end}");
    }
}

/// Worked by hand: a cup of warm milk is lukewarm in less than a bun is cool, so that the warm hours of an
/// overnight dough suffice for its rise.
#[test]
fn milk_for_a_dough_is_soon_lukewarm() {
    let text = "Overnight buns\nMakes 16 buns\n\n250 ml milk\n110 g butter\n560 g plain flour\n100 g sugar\n7 g instant yeast\n5 g salt\n1 egg\n\nWarm the milk with the butter; cool to lukewarm.\nMix in the flour, sugar, yeast, salt and egg and knead for 8 minutes.\nChill overnight, 8 to 12 hours.\nShape into 16 balls.\nLet rise until puffy, about 1 1/2 hours.\nBake at 190C for 20 minutes.\n";
    let t = of(&sheet(text), 1.0);
    let cool = &t.list[at(&t, ":cool_liquid")];
    assert_eq!(cool.wait.map(|w| w.span.least), Some(10.0));
    assert_eq!(t.breaches, []);
}

/// Worked by hand: what is baked round a custard or meat stands two hours at most, then it cools on in the
/// fridge; with a filling of nuts and sugar it cools on the rack.
#[test]
fn a_bread_with_a_filling_that_spoils_ends_its_cooling_in_the_fridge() {
    let loaf = |filling: &str| {
        of(
            &sheet(&format!(
                "Filled loaf\n\nDough\n500 g strong white flour\n7 g fast-action yeast\n9 g salt\n330 g water\n\nFilling\n{filling}\n\n1. Mix everything for the dough. Let rise for 1 hour.\n2. Mix the filling. Roll out the dough, spread with the filling and roll up into a loaf.\n3. Bake at 200 °C for 40 minutes. Cool on a rack.\n"
            )),
            1.0,
        )
    };
    for filling in [
        "250 g ricotta\n1 egg\n60 g sugar",
        "300 g minced beef\n100 g onions",
    ] {
        let t = loaf(filling);
        let cool = t
            .list
            .iter()
            .position(|t| t.what == "cool")
            .expect("it cools");
        let wait = t.list[cool].wait.expect("a wait");
        assert_eq!(wait.place, Place::Bench);
        assert!(wait.span.most <= 120.0, "{filling}: {wait:?}");
        let next = t.list.iter().find(|t| t.after.contains(&cool));
        let next = next.expect("it goes on");
        let cold = next.wait.expect("a wait");
        assert_eq!((next.of.as_str(), cold.place), ("dough", Place::Fridge));
        // Three hours to the middle of a loaf, two of them in the room.
        assert_eq!(cold.span.least, 60.0);
        assert!(next.notes.iter().any(|n| n.contains("below 35 °C")));
        assert_eq!(t.breaches, [], "{filling}");
    }
    let t = loaf("200 g walnuts\n100 g sugar\n40 g oil");
    let last = t.list.iter().rfind(|t| t.what == "cool").expect("it cools");
    assert_eq!(last.wait.map(|w| w.span.most), Some(960.0));
    assert!(t.list.iter().all(|t| t.what != "chill"));
}

/// Worked by hand: what is done to a cold bake in the step that bakes it comes behind the oven and the cooling.
#[test]
fn what_is_done_when_cool_in_the_step_that_bakes_waits_for_the_rack() {
    for (end, verb) in [
        ("Dust with icing sugar when cool.", None),
        ("Frost once cold.", Some("Frost")),
        ("Cut into squares when cold.", None),
        ("Spread the walnuts over when cold.", Some("Spread")),
    ] {
        let text = format!(
            "Carrot tray cake\nServes 12\n\n300 g plain flour\n2 tsp baking powder\n200 g sugar\n200 g oil\n4 eggs\n250 g carrots\n80 g walnuts\n\n1. Mix everything.\n2. Bake at 180 °C for 50 minutes. {end}\n"
        );
        let t = of(&sheet(&text), 1.0);
        let out = at(&t, ":take_out");
        let cool = t.list.iter().position(|t| t.what.starts_with("cool"));
        assert!(cool.is_none_or(|c| !comes_after(&t, out, c)), "{end}");
        let Some(verb) = verb else { continue };
        let on = names(&t).iter().position(|n| n.starts_with(verb));
        let on = on.unwrap_or_else(|| panic!("{end}: {:?}", names(&t)));
        let cool = cool.unwrap_or_else(|| panic!("{end}: {:?}", names(&t)));
        assert!(comes_after(&t, on, cool), "{end}: {:?}", names(&t));
    }
}

/// A range goes up: thirty hours that the method wants are two in the room and twenty-eight in the fridge.
#[test]
fn a_cooling_of_more_than_a_day_is_no_range_upside_down() {
    let text = "Cheesecake\n\nBase\n200 g digestive biscuits\n90 g butter\n\nFilling\n600 g cream cheese\n150 g sugar\n3 eggs\n\n1. Press the base into a tin.\n2. Beat the filling, pour over the base and bake at 160 °C for 50 minutes.\n3. Leave to cool for 30 hours.\n";
    let t = of(&sheet(text), 1.0);
    let cold = t.list.iter().find(|t| t.name.contains("in the fridge"));
    let span = cold
        .and_then(|t| t.wait)
        .expect("it goes in the fridge")
        .span;
    assert_eq!(
        (span.least, span.usual, span.most),
        (1680.0, 1680.0, 1680.0)
    );
}

/// By the rework's own words: rolls cool for 45–60 minutes, also those of a braid of 12.
#[test]
fn counted_rolls_cool_as_rolls() {
    let t = super::of(
        &super::sheet(
            "Cinnamon roll braid\nMakes 12 rolls\n\nDough\n500 g bread flour\n300 g water\n7 g instant yeast\n8 g salt\n\n1. Mix, shape into rolls and set in a 9x13 pan. Let rise for 1 hour. Bake at 180 °C for 28 minutes.\n",
        ),
        1.0,
    );
    let cool = t
        .list
        .iter()
        .find(|t| t.what.starts_with("cool"))
        .and_then(|t| t.wait);
    let span = cool.expect("it cools").span;
    assert_eq!((span.least, span.usual), (45.0, 60.0));
}

/// What goes on 'while still warm' goes on between the ten minutes in the tin and the long cooling on the rack; what
/// goes on 'while hot' before any cooling. With no such words it waits for a cold cake.
#[test]
fn what_goes_on_while_warm_goes_on_before_it_is_cold() {
    let cake = |said: &str| {
        format!(
            "Rye coffee cake\nServes 8\n\nSponge\n180 g butter\n180 g sugar\n3 eggs\n180 g self-raising flour\n\nSyrup\n90 g sugar\n90 ml coffee\n\nCream butter and sugar, add eggs, fold in the flour. Bake at 180 °C for 25 minutes in a 20 cm tin. Cool in the tin 10 mins, then on a rack.\nBoil the sugar and coffee for 2 minutes for the syrup; brush over the sponge {said}.\n"
        )
    };
    let t = of(&sheet(&cake("while still warm")), 1.0);
    let (tin, rack) = (at(&t, "sponge:cool"), at(&t, "sponge:cool#2"));
    let brush = at(&t, "syrup:brush");
    assert!(comes_after(&t, brush, tin) && comes_after(&t, rack, brush));
    assert!(t.list[brush].soon.contains(&tin));
    let t = of(&sheet(&cake("when cold")), 1.0);
    let (rack, brush) = (at(&t, "sponge:cool#2"), at(&t, "syrup:boil"));
    assert!(t.list[brush].name.contains("brush"));
    assert!(comes_after(&t, brush, rack));
    let t = of(
        &sheet(&cake("while still warm. Cool, then brush again")),
        1.0,
    );
    let again = t.list.iter().position(|t| t.name == "Brush again");
    let again = again.expect("brushed again");
    let mut cools = (0..t.list.len()).filter(|&c| t.list[c].what == "cool");
    assert!(cools.any(|c| t.list[c].step == Some(2) && comes_after(&t, again, c)));
    let bread = "Damson tray bread\n\nDough\n480 g bread flour\n20 g fresh yeast\n70 g sugar\n1 egg\n240 ml milk\n70 g butter\n\nDamsons\n900 g damsons\n2 tbsp sugar\n1 tsp cinnamon\n\nMix the dough; let rise 60 minutes.\nRoll onto a tray. Lay the damsons on top. Leave to rise for 20 minutes more.\nBake at 190 °C for 35 minutes. Sprinkle the damsons with the sugar and cinnamon while hot.\n";
    let t = of(&sheet(bread), 1.0);
    let sprinkle = t
        .list
        .iter()
        .position(|t| t.name.starts_with("Sprinkle"))
        .expect("sprinkled");
    let cool = t
        .list
        .iter()
        .position(|t| t.what.starts_with("cool"))
        .expect("cooled");
    assert!(comes_after(&t, cool, sprinkle));
}
