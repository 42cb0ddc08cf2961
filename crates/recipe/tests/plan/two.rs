//! One step that works on two parts, and what goes on a bake while it is hot. Worked by hand from the texts.

use super::{at, comes_after, of, sheet};
use recipe::plan::{Place, Tasks};

fn names<'a>(t: &'a Tasks, part: &str) -> Vec<&'a str> {
    let mine = t
        .list
        .iter()
        .filter(|x| x.of == part && x.what != "preheat");
    mine.map(|x| x.name.as_str()).collect()
}

/// A sugar syrup is boiled beside the bake, once, goes on as the loaves come out, and then they cool: a bread
/// without gluten cools for hours.
#[test]
fn a_syrup_goes_on_as_the_bread_comes_out() {
    let text = "Hazel twist\n\nFor the dough\n530 g plain flour\n7 g fast-action yeast\n120 ml milk\n3 eggs\n100 g caster sugar\n\nSyrup\n160 ml water\n240 g sugar\n\nMix the dough. Cover and leave to rise for 1 hour.\nShape and put in two 2lb tins. Prove 1 1/2 hours.\nBake at 190C for 30 minutes. Meanwhile, boil the water and sugar for 2 min. SAID\n";
    for said in [
        "Brush on the syrup as soon as they come out.",
        "Brush the syrup over the hot loaves.",
        "Brush with the syrup.",
    ] {
        let t = of(&sheet(&text.replace("SAID", said)), 1.0);
        assert_eq!(names(&t, "syrup"), ["Weigh out", "Boil water and sugar"]);
        let boil = at(&t, "syrup:boil");
        let (bake, out) = (at(&t, "dough:bake"), at(&t, "dough:take_out"));
        let (brush, cool) = (at(&t, "dough:brush"), at(&t, "dough:cool_loaf"));
        assert!(!comes_after(&t, boil, bake) && !comes_after(&t, bake, boil));
        assert!(
            comes_after(&t, brush, boil) && comes_after(&t, brush, out),
            "{said}"
        );
        assert!(comes_after(&t, cool, brush), "{said}: {:?}", t.list);
        assert!(t.list[brush].soon.contains(&out), "{said}");
    }
    // Where it is wanted cold, it cools before.
    let cold = text.replace("SAID", "When the loaves are cool, brush with the syrup.");
    let t = of(
        &sheet(&cold.replace("loaves are cool", "loaves are cooled")),
        1.0,
    );
    assert!(
        comes_after(&t, at(&t, "dough:brush"), at(&t, "dough:cool_loaf")),
        "{:?}",
        t.list
    );
}

const BUNS: &str = "Plum buns\nMakes 12\n\nFor the dough\n500 g strong white flour\n7 g instant yeast\n300 ml milk\n50 g butter\n\nFor the streusel\n100 g plain flour\n60 g butter\n50 g sugar\n\nTo glaze\n1 egg, beaten\n\n1. Mix the dough and knead 8 minutes. Let rise 1 hour.\n";

/// The streusel is rubbed in and rests before the buns are brushed: the brushing is the buns'.
#[test]
fn a_topping_made_in_the_step_that_puts_it_on_is_on_before_the_bake() {
    for step in [
        "2. Shape into 12 buns. Let rise 45 minutes.\n3. Rub the butter into the flour and sugar for the streusel. Brush the buns with the egg and sprinkle over the streusel.\n4. Bake at 200 °C for 20 minutes.\n",
        "2. Shape into 12 buns. Let rise 45 minutes.\n3. Make the streusel: rub the butter into the flour and sugar. Brush with the egg and sprinkle over. Bake at 200 °C for 20 minutes.\n",
    ] {
        let t = of(&sheet(&format!("{BUNS}{step}")), 1.0);
        let (rub, brush) = (at(&t, "streusel:rub_in"), at(&t, "dough:brush"));
        assert!(comes_after(&t, brush, rub), "{:?}", t.list);
        assert!(comes_after(&t, brush, at(&t, "dough:rise")), "{:?}", t.list);
        assert!(comes_after(&t, at(&t, "dough:bake"), brush), "{:?}", t.list);
        assert!(!t.list[rub].name.contains("rush"), "{}", t.list[rub].name);
        assert!(
            t.list[brush].name.contains("prinkle"),
            "{}",
            t.list[brush].name
        );
    }
}

/// In a baker's own method too: what is done to the dough before the streusel is made is the dough's.
#[test]
fn a_step_of_two_parts_is_work_on_both() {
    let method = "Mix everything for the dough to a paste. Let rise 1 hour.\nRoll out the dough and cut into 12 squares. Make the streusel: rub the butter into the flour and sugar.\nLet rise 40 minutes. Brush with the egg and scatter over the streusel. Bake at 200 °C for 20 minutes.";
    let mut s = sheet(&format!(
        "{BUNS}2. Shape into 12 buns. Let rise 45 minutes.\n3. Bake at 200 °C for 20 minutes.\n"
    ));
    s.method = Some(method.to_owned());
    let t = of(&s, 1.0);
    assert_eq!(t.list[at(&t, "dough:roll")].step, Some(2));
    let rub = at(&t, "streusel:rub_in");
    assert!(!t.list[rub].name.contains("oll"), "{}", t.list[rub].name);
    let brush = at(&t, "dough:brush");
    assert!(comes_after(&t, brush, rub) && !comes_after(&t, rub, at(&t, "dough:roll")));
}

/// What is dusted or glazed 'when cool' in the step of the bake is work behind its cooling, and the syrup that
/// 'glaze' means is mixed for that.
#[test]
fn what_goes_on_when_cool_in_the_step_of_the_bake_is_work() {
    let of_said = |parts: &str, said: &str| {
        let text = format!(
            "Rolls\nMakes 12 rolls\n\nFor the dough\n500 g strong white flour\n7 g instant yeast\n300 ml milk\n{parts}\n1. Mix the dough and knead 8 minutes. Shape into 12 rolls and let rise 1 hour.\n2. Bake at 190 °C for 20 minutes. {said}\n"
        );
        of(&sheet(&text), 1.0)
    };
    let t = of_said("", "Dust with icing sugar when cool.");
    let dust = at(&t, "dough:dust");
    assert_eq!(t.list[dust].name, "Dust with icing sugar");
    assert!(comes_after(&t, dust, at(&t, "dough:cool_rolls")));
    let syrup = "\nSyrup\n80 g sugar\n80 ml water\n";
    let t = of_said(syrup, "Glaze when cool.");
    let glaze = at(&t, "dough:brush");
    assert!(comes_after(&t, glaze, at(&t, "dough:cool_rolls")));
    assert!(comes_after(&t, glaze, at(&t, "syrup:mix")));
    assert!(!comes_after(&t, at(&t, "dough:bake"), at(&t, "syrup:mix")));
    // A baker's own method that says so leaves no syrup out.
    let mut s = sheet(&format!(
        "Rolls\nMakes 12 rolls\n\nFor the dough\n500 g strong white flour\n7 g instant yeast\n300 ml milk\n{syrup}\n1. Mix and bake at 190 °C for 20 minutes. Boil the syrup and brush it on.\n"
    ));
    s.method = Some("Mix the dough. Shape and let rise 1 hour.\nBake at 190 °C for 20 minutes. Glaze when cool.".to_owned());
    assert!(of(&s, 1.0).unsaid.is_empty());
    // The one brushed on hot and the one when cool are two.
    let t = of_said(
        &format!("{syrup}\nGlaze\n100 g icing sugar\n2 tbsp lemon juice\n"),
        "Brush with the syrup. Glaze when cool.",
    );
    let (brush, cool, glaze) = (
        at(&t, "dough:brush"),
        at(&t, "dough:cool_rolls"),
        at(&t, "dough:other"),
    );
    assert!(comes_after(&t, cool, brush) && comes_after(&t, glaze, cool));
    assert!(comes_after(&t, glaze, at(&t, "glaze:mix")));
}

/// What a recipe of one part does in one step, by name and minutes of work.
fn one(step: &str) -> Vec<(String, f64)> {
    let text = format!(
        "Cherry sauce\nServes 4\n\n400 g cherries\n80 g sugar\n1 tbsp cornflour\n200 ml milk\n2 tbsp dripping\n\n{step}\n"
    );
    let t = of(&sheet(&text), 1.0);
    let worked = t
        .list
        .iter()
        .filter(|x| x.step.is_some() && x.what != "preheat");
    worked.map(|x| (x.name.clone(), x.hands.usual)).collect()
}

/// The minutes of a simmer are those of its stirring, and of the last of them.
#[test]
fn a_stirred_simmer_takes_the_minutes_of_the_simmer() {
    for step in [
        "Simmer the cherries with the sugar for 10 minutes, stirring often.",
        "Simmer the cherries with the sugar for 10 minutes and stir now and then.",
        "Simmer the cherries with the sugar for 10 minutes. Stir occasionally.",
        "Simmer the cherries with the sugar for 10 minutes, stirring for the last 5 minutes.",
    ] {
        assert_eq!(
            one(step),
            [("Cook the cherries".to_owned(), 10.0)],
            "{step}"
        );
    }
    // What is stirred in is work of its own.
    let both = one("Simmer the cherries for 10 minutes. Stir in the sugar.");
    assert!(both.iter().map(|x| x.1).sum::<f64>() > 10.0, "{both:?}");
}

/// What is on the stove, on an iron or in the oven is called by what is done to it.
#[test]
fn heat_is_called_by_what_it_does() {
    let names = |step: &str| one(step).into_iter().map(|x| x.0).collect::<Vec<_>>();
    assert_eq!(names("Simmer gently for 12 minutes."), ["Simmer"]);
    assert_eq!(names("Boil for 12 minutes."), ["Boil"]);
    assert_eq!(
        names("Cook in a hot waffle iron for 4 minutes."),
        ["Cook in the iron"]
    );
    assert_eq!(
        names("Cook on a griddle for 4 minutes."),
        ["Cook on the griddle"]
    );
    // A pot of cast iron is no waffle iron.
    assert_eq!(
        names("Simmer in a cast iron pot for 12 minutes."),
        ["Simmer"]
    );
    for fat in [
        "Heat the dripping in a roasting tin in the oven for 5 minutes.",
        "Put the dripping in a tin and heat in the oven for 5 minutes.",
        "Put a little dripping in each hole of a muffin tin and heat for 5 minutes.",
    ] {
        let text = format!(
            "Batter puddings\n\n140 g plain flour\n4 eggs\n200 ml milk\n2 tbsp dripping\n\nWhisk the eggs and milk into the flour.\nHeat the oven to 220 °C. {fat}\nPour in the batter and bake for 25 minutes.\n"
        );
        let t = of(&sheet(&text), 1.0);
        let heat = &t.list[at(&t, ":heat_fat")];
        assert_eq!(heat.name, "Heat the dripping in the oven", "{fat}");
        let wait = heat.wait.expect("a wait");
        assert_eq!(
            (wait.span.most, wait.place, wait.oven),
            (5.0, Place::Oven, Some(220.0))
        );
        // One oven is heated, once, before the fat.
        let heats = t.list.iter().filter(|x| x.what == "preheat").count();
        assert_eq!(heats, 1, "{:?}", t.list);
        assert!(comes_after(&t, at(&t, ":heat_fat"), at(&t, ":preheat")));
        assert_eq!(t.list.iter().filter(|x| x.what == "bake").count(), 1);
    }
}

/// A gravy that is made 'meanwhile' in a step of its own is made while the pudding bakes, not behind that.
#[test]
fn a_step_that_begins_meanwhile_waits_for_no_bake() {
    let text = "Batter puddings\n\nFor the batter\n140 g plain flour\n4 eggs\n200 ml milk\n\nFor the gravy\n1 tbsp flour\n1 onion\n500 ml stock\n\n1. Whisk the eggs and milk into the flour. Pour into a tin and bake at 220 °C for 30 minutes.\n2. Meanwhile, fry the onion for 10 minutes, stir in the flour and the stock and simmer for 10 minutes.\n";
    let t = of(&sheet(text), 1.0);
    let gravy = t
        .list
        .iter()
        .position(|x| x.of == "gravy" && x.step == Some(2));
    let bake = at(&t, "batter:bake");
    assert!(
        !comes_after(&t, gravy.expect("a gravy"), bake),
        "{:?}",
        t.list
    );
}

/// What is beaten and poured on a base of crumbs is what bakes; the base was baked before.
#[test]
fn a_filling_poured_on_a_base_of_crumbs_bakes_as_the_filling() {
    let text = "Baked cheesecake\nServes 12\n\nBase\n250 g ginger biscuits\n100 g butter, melted\n\nFilling\n900 g cream cheese\n250 g caster sugar\n3 tbsp plain flour\n3 eggs\n\nCompote\n400 g rhubarb\n100 g sugar\n\n1. Crush the biscuits, mix with the butter and press into a 23 cm tin. Bake at 180 °C for 5 minutes and cool.\n2. Beat the cheese and sugar for 2 minutes, then the flour and eggs. Pour on to the base and bake at 160 °C for 40 minutes. Cool, then chill for 8 hours.\n3. For the compote, roast the rhubarb with the sugar at 180 °C for 12 minutes. Leave to cool completely.\n4. Spoon over just before serving.\n";
    let t = of(&sheet(text), 1.0);
    let bakes = t.list.iter().filter(|x| x.what == "bake");
    let bakes: Vec<_> = bakes.map(|x| (x.of.as_str(), x.step)).collect();
    assert_eq!(
        bakes,
        [
            ("base", Some(1)),
            ("filling", Some(2)),
            ("compote", Some(3))
        ]
    );
    let of_filling = at(&t, "filling:bake");
    assert!(comes_after(&t, of_filling, at(&t, "base:cool")));
    // The compote may be roasted any time before it is spooned over.
    assert!(!comes_after(&t, at(&t, "compote:bake"), of_filling));
    assert!(comes_after(&t, at(&t, "compote:other"), of_filling));
}

/// The chill of the method is the crumbs' rest: not one behind the other.
#[test]
fn crumbs_that_are_chilled_rest_there() {
    let text = "Buckle\n\nStreusel\n60 g plain flour\n40 g butter\n40 g sugar\n30 g almonds\n\nBatter\n200 g plain flour\n2 tsp baking powder\n120 g butter\n120 g sugar\n2 eggs\n\n1. For the streusel, rub the butter into the flour and sugar. Toss in the almonds. Chill.\n2. Cream the butter and sugar, beat in the eggs, fold in the flour and baking powder. Spread in a tin, scatter over the streusel. Bake at 180 °C for 40 minutes.\n";
    let t = of(&sheet(text), 1.0);
    let mine = t.list.iter().filter(|x| x.of == "streusel");
    let mine: Vec<_> = mine.map(|x| x.what).collect();
    assert_eq!(mine, ["weigh", "rub_in", "chill"]);
}

/// A label of the day is no first sentence, and what keeps is no wait.
#[test]
fn a_day_s_label_and_how_it_keeps_are_no_work() {
    let text = "Almond plait\n\nDough\n400 g flour\n7 g yeast\n200 ml milk\n\nAlmond filling\n200 g ground almonds\n100 g sugar\n1 egg white\n\n1. Day 1. Mix the dough and chill overnight.\n2. Day 2. Beat everything for the filling until smooth.\n3. Roll out the dough, spread with the filling and fold over. Bake at 190 °C for 25 minutes. Cool on a rack. They keep 2 days in a tin.\n";
    let t = of(&sheet(text), 1.0);
    let mix = t.list.iter().find(|x| x.step == Some(2)).expect("a task");
    assert_eq!(mix.of, "almond filling");
    let long = |x: &&recipe::plan::Task| x.wait.is_some_and(|w| w.span.least > 2000.0);
    assert!(t.list.iter().find(long).is_none(), "{:?}", t.list);
}

/// What goes on a batter is made once, by the step that says so, before it goes on.
#[test]
fn a_crumble_rubbed_together_before_the_batter_is_spread_is_made_once() {
    for flour in ["plain flour", "plain and wholemeal flour"] {
        let text = format!(
            "Crumble cake\n\nCake\n175 g {flour}\n2 tsp baking powder\n125 g butter\n125 g caster sugar\n2 eggs\n250 g gooseberries\n\nCrumble\n60 g plain flour\n40 g butter\n40 g demerara\n\n1. Cream the butter and sugar, beat in the eggs, fold in the flour and baking powder.\n2. Rub the crumble together. Spread the batter in the tin, top with the fruit and the crumble.\n3. Bake at 180 °C for 40 minutes.\n"
        );
        let t = of(&sheet(&text), 1.0);
        assert_eq!(
            names(&t, "crumble"),
            ["Weigh out", "Rub in crumble", "Rest"]
        );
        let bake = at(&t, "cake:bake");
        assert!(comes_after(&t, bake, at(&t, "crumble:rub_in")));
        assert!(!comes_after(
            &t,
            at(&t, "crumble:rub_in"),
            at(&t, "cake:cream")
        ));
    }
    // One filling, and what goes on it, in one step.
    let t = of(
        &sheet(
            "Crumble tart\n\nPastry\n200 g plain flour\n100 g butter\n1 egg yolk\n\nFilling\n500 g rhubarb\n80 g caster sugar\n\nCrumble\n80 g plain flour\n60 g butter\n60 g demerara sugar\n\n1. Rub the butter into the flour, add the yolk, roll out and line a tin. Bake blind at 190 °C for 15 minutes.\n2. Toss the filling together. For the crumble, rub the butter into the flour and stir in the sugar.\n3. Fill the case, scatter over the crumble and bake for 30 minutes.\n",
        ),
        1.0,
    );
    assert_eq!(names(&t, "filling"), ["Weigh out", "Toss filling"]);
    let fill = t.list.iter().position(|x| x.name.starts_with("Fill"));
    assert!(comes_after(
        &t,
        fill.expect("a task"),
        at(&t, "filling:other")
    ));
}

/// A filling that is stewed in the oven first is no pastry yet, and is cooked before the pastry is filled.
#[test]
fn a_filling_stewed_in_the_oven_before_any_pastry_is_the_filling() {
    let t = of(
        &sheet(
            "Beef hand pies\nMakes 6\n\nFilling\n500 g beef skirt\n1 tbsp plain flour\n1 onion\n200 ml ale\n200 ml beef stock\n\nPastry\n400 g plain flour\n200 g butter\n130 ml cold water\n\n1. Toss the beef in the flour, brown for 10 minutes, add the onion, ale and stock. Cover and cook in the oven at 160 °C for 2 hours. Chill overnight.\n2. Make the pastry: toss the flour and butter, add the water and bring together. Chill for 1 hour.\n3. Roll out, cut six rounds, fill with the cold filling, fold and crimp. Bake at 200 °C for 30 minutes.\n",
        ),
        1.0,
    );
    let bakes = t.list.iter().filter(|x| x.what == "bake");
    let bakes: Vec<_> = bakes.map(|x| (x.of.as_str(), x.step)).collect();
    assert_eq!(bakes, [("filling", Some(1)), ("pastry", Some(3))]);
    let (stew, roll) = (at(&t, "filling:bake"), at(&t, "pastry:roll"));
    assert!(comes_after(&t, roll, at(&t, "filling:chill")));
    assert!(comes_after(&t, roll, stew));
    // The pastry may be made before or beside it, and is tossed once.
    assert!(!comes_after(&t, at(&t, "pastry:other"), stew));
    assert!(!t.list.iter().any(|x| x.of == "pastry" && x.what == "mix"));
}

/// What is warmed to go on a hot bake is warm when that comes out, in a part of its own or not.
#[test]
fn jam_for_a_hot_bake_is_warmed_while_it_bakes() {
    for heading in ["\nGlaze\n", ""] {
        let text = format!(
            "Plum loaf\n\nCake\n200 g plain flour\n2 tsp baking powder\n120 g butter\n120 g sugar\n2 eggs\n{heading}3 tbsp apricot jam\n\n1. Cream the butter and sugar, beat in the eggs and fold in the flour and baking powder.\n2. Bake at 180 °C for 45 minutes. Warm the jam and brush over the hot cake.\n"
        );
        let t = of(&sheet(&text), 1.0);
        let find = |word: &str| {
            let found = t
                .list
                .iter()
                .position(|x| x.name.to_lowercase().starts_with(word));
            found.unwrap_or_else(|| panic!("{word}: {:?}", t.list))
        };
        let (warm, brush, bake) = (find("warm jam"), find("brush"), find("bake"));
        assert!(comes_after(&t, brush, warm) && comes_after(&t, brush, bake));
        assert!(!comes_after(&t, warm, bake), "{heading:?}");
    }
}

/// 'Bake both' is said with the first dough's steps: the second one ended with its rise, raw.
#[test]
fn a_dough_whose_bake_is_said_with_another_is_baked() {
    let dough = |n: &str| {
        format!("{n} dough\n500 g strong white flour\n7 g dried yeast\n10 g salt\n350 g water\n\n")
    };
    let text = format!(
        "Two loaves\n\n{}{}1. Mix the dark dough and let it rise in a loaf tin for 1 hour.\n2. Mix the light dough and let it rise in another loaf tin for 1 hour.\n3. Heat the oven to 220 °C.\n4. Bake both for 40 minutes.\n",
        dough("dark"),
        dough("light")
    );
    let t = of(&sheet(&text), 1.0);
    let bakes = t.list.iter().filter(|t| t.what == "bake").count();
    assert_eq!(bakes, 1);
    let bake = t
        .list
        .iter()
        .position(|t| t.what == "bake")
        .expect("a bake");
    for rise in (0..t.list.len()).filter(|&n| t.list[n].what == "rise") {
        assert!(comes_after(&t, bake, rise), "{:?}", t.list[rise]);
    }
}

/// The dough rises in the bowl and again as rolls; the crumbs chill once, beside a dough that rises.
#[test]
fn two_waits_of_one_name_are_told_apart() {
    let text = "Seed rolls\n\nDough\n500 g strong white flour\n7 g instant yeast\n10 g salt\n330 ml water\n\nCrumbs\n50 g butter\n80 g plain flour\n30 g sugar\n\n1. Rub the crumbs together. Chill for 20 minutes.\n2. Mix the dough and knead. Leave to rise for 1 hour.\n3. Shape into 10 rolls. Leave to rise for 40 minutes.\n4. Scatter with the crumbs and bake at 220 C for 20 minutes.\n";
    let mut own = sheet(text);
    own.method = Some("Mix the dough.\nRise for 1 hour.\nShape 10 rolls.\nRise for 40 minutes.\nRub the crumbs and scatter them on.\nBake at 220 C for 20 minutes.".to_owned());
    let t = of(&own, 1.0);
    let rises: Vec<&str> = names(&t, "dough")
        .into_iter()
        .filter(|n| n.contains("rise"))
        .collect();
    assert_eq!(rises, ["First rise", "Second rise"]);
    // Whatever a wait is called by its turn, it is the step it was.
    assert_eq!(t.list[at(&t, "dough:rise")].name, "First rise");
    let once = of(&sheet(text), 1.0);
    assert!(
        names(&once, "crumbs").contains(&"Chill"),
        "{:?}",
        names(&once, "crumbs")
    );
}
