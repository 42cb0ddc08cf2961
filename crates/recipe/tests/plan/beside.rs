//! What is done while something waits. Worked by hand from the texts.

use super::{at, comes_after, of, sheet};
use recipe::plan::Tasks;

/// Keys of a part's tasks, in order.
fn keys<'a>(t: &'a Tasks, part: &str) -> Vec<&'a str> {
    let mine = t.list.iter().filter(|x| x.of == part);
    mine.map(|x| x.key.as_str()).collect()
}

const BUNS: &str = "Cardamom Buns\nMakes 12\n\nDough\n500 g strong white flour\n250 g milk\n7 g dried yeast\n60 g sugar\n80 g butter\n1 egg\n1 tsp salt\n\nFilling\n100 g butter\n100 g brown sugar\n2 tsp cardamom\n\nGlaze\n100 g icing sugar\n2 tbsp milk\n\nMethod\n1. Warm the milk, stir in the yeast and mix with the flour, sugar, butter, egg and salt. Knead for 10 minutes.\n2. Leave the dough to rise for 1 hour. While the dough rises, beat the butter, sugar and cardamom together for the filling.\n3. Roll out the dough, spread with the filling, roll up and cut into 12. Set in a 23 x 33 cm tin.\n4. Leave to rise for 40 minutes. In the meantime, heat the oven to 190 °C.\n5. Bake for 25 minutes. While the buns bake, stir the icing sugar and milk together.\n6. Leave the buns to cool for 15 minutes, then drizzle with the glaze.\n";

/// A filling and a glaze made in a step of the dough are work of their own parts, once, and wait for
/// nothing of the dough.
#[test]
fn what_is_made_while_the_dough_waits_goes_with_its_own_part() {
    let t = of(&sheet(BUNS), 1.0);
    assert_eq!(keys(&t, "filling"), ["filling:weigh", "filling:mix"]);
    assert_eq!(keys(&t, "glaze"), ["glaze:weigh", "glaze:mix"]);
    let dough = keys(&t, "dough");
    assert_eq!(
        dough.iter().filter(|k| k.starts_with("dough:mix")).count(),
        1
    );
    let (fill, glaze) = (at(&t, "filling:mix"), at(&t, "glaze:mix"));
    assert!(comes_after(&t, at(&t, "dough:roll"), fill));
    assert!(comes_after(&t, at(&t, "dough:other"), glaze));
    for (made, waits) in [(fill, "dough:rest"), (glaze, "dough:bake")] {
        assert!(!comes_after(&t, made, at(&t, waits)), "{waits}");
        assert!(!comes_after(&t, at(&t, waits), made), "{waits}");
    }
}

/// In a recipe of one part too: the syrup is boiled beside the bake, before the cake is taken out.
#[test]
fn a_syrup_is_boiled_while_the_cake_bakes() {
    let text = "Lemon Squares\nMakes 16\n\n225 g butter\n225 g caster sugar\n4 eggs\n275 g self-raising flour\n2 lemons\n100 g granulated sugar\n\n1. Beat the butter, caster sugar, eggs and flour together for 3 minutes. Spread in a 23 x 33 cm tin.\n2. Bake at 170 °C for 35 minutes. Meanwhile, boil the lemon juice and granulated sugar for 4 minutes to a syrup.\n3. Spoon the syrup over the warm cake.\n";
    let t = of(&sheet(text), 1.0);
    let (bake, boil) = (at(&t, ":bake"), at(&t, ":boil"));
    assert!(!comes_after(&t, boil, bake) && !comes_after(&t, bake, boil));
    assert_eq!(t.list[boil].hands.usual, 4.0);
    let spoon = at(&t, ":other");
    assert!(comes_after(&t, spoon, boil) && comes_after(&t, spoon, bake));
}

/// 'While the pastry rests' is no work on the pastry, and 'while the loaves cool' no cooling of the icing.
#[test]
fn what_waits_meanwhile_is_not_done_again() {
    let pie = "Leek Pie\n\nPastry\n300 g plain flour\n150 g butter\n80 g cold water\n\nFilling\n3 leeks, sliced\n40 g butter\n40 g plain flour\n300 ml milk\n\n1. Rub the butter into the flour, add the water and bring together. Chill for 30 minutes.\n2. While the pastry rests, fry the leeks in the butter for 10 minutes. Stir in the flour, then the milk, and simmer for 10 minutes. Leave to cool for 30 minutes.\n3. Roll out the pastry and line a 23 cm pie dish. Fill with the leeks.\n4. Bake at 200 °C for 40 minutes.\n";
    let t = of(&sheet(pie), 1.0);
    assert_eq!(
        keys(&t, "filling"),
        ["filling:weigh", "filling:fry", "filling:cool"]
    );
    // One stretch on the stove, and the milk is in it.
    let fry = &t.list[at(&t, "filling:fry")];
    assert!(fry.cooks, "{}", fry.name);
    assert!(t.task("pastry:fry").is_none() && t.task("pastry:cool").is_none());

    let loaves = "Date Loaves\n\nLoaves\n300 g plain flour\n2 tsp baking powder\n2 eggs\n120 g butter\n\nIcing\n150 g cream cheese\n80 g icing sugar\n\n1. Mix the flour, baking powder, eggs and butter. Bake in two 900 g loaf tins at 170 °C for 50 minutes. Cool in the tins for 20 minutes, then turn out.\n2. While the loaves cool, beat the cream cheese and icing sugar for the icing.\n3. Spread the icing over the cold loaves.\n";
    let t = of(&sheet(loaves), 1.0);
    let icing = keys(&t, "icing");
    assert!(
        !icing.iter().any(|k| k.starts_with("icing:cool")),
        "{icing:?}"
    );
    // Where nothing else says that they cool, they do.
    let silent = loaves.replace(" Cool in the tins for 20 minutes, then turn out.", "");
    let t = of(&sheet(&silent), 1.0);
    assert!(t.list.iter().any(|x| x.what == "cool"));
}

/// A time in such words is that of what waits, not of the work beside it.
#[test]
fn a_time_beside_what_waits_is_that_of_the_wait() {
    let tart = "Pear Tart\n\nPastry\n180 g plain flour\n90 g butter\n1 egg yolk\n\nFrangipane\n100 g butter\n100 g sugar\n2 eggs\n100 g ground almonds\n20 g plain flour\n3 pears\n\n1. Rub the butter into the flour, add the yolk, bring together. Chill for 1 hour.\n2. For the frangipane, cream the butter and sugar, beat in the eggs, fold in the almonds and flour. Rest for 5 minutes.\n3. Roll out the pastry and line a 23 cm tart tin. While the case chills for 20 minutes, heat the oven to 180 °C.\n4. Fill the case with the frangipane and press in the pears. Bake for 45 minutes.\n";
    let t = of(&sheet(tart), 1.0);
    let chill = t.list[at(&t, "pastry:chill#2")].wait.expect("a wait");
    assert_eq!(chill.span.least, 20.0);
    // The frangipane rests where the text rests it, before it is spread: once.
    let rests = t.list.iter().filter(|x| x.what == "rest");
    assert_eq!(rests.count(), 1);
    let (rest, press) = (at(&t, "frangipane:rest"), at(&t, "frangipane:other"));
    assert!(comes_after(&t, press, rest));
}

/// One reading of when a bread leaves its tin: the method's, where it gives one.
#[test]
fn a_time_in_the_tin_is_not_said_twice() {
    let loaf = "Loaf\nMakes 1 loaf\n\n500 g bread flour\n7 g yeast\n350 g water\n9 g salt\n\n1. Mix. Let rise 1 hour in a 900 g loaf tin.\n2. Bake at 220 °C for 35 minutes. Cool in the tin for 20 minutes, then on a rack.\n";
    let out = |text: &str| {
        let larder = larder::Larder::built_in().expect("the built-in tables");
        let w = recipe::sheet::work(&sheet(text), &[], &larder, &[]).expect("a recipe");
        let notes = &w.rework.components[0].method_notes;
        let note = notes.iter().find(|n| n.rule == "cool before cutting");
        note.expect("a note").text.clone()
    };
    assert!(out(loaf).starts_with("Out of the tin when the method says so; cut when"));
    let silent = loaf.replace("in the tin for 20 minutes, then ", "");
    assert!(out(&silent).starts_with("Out of the tin after 10 minutes; cut when"));
}

/// A paste that is made in the step that bakes is made while the loaf proves.
#[test]
fn a_paste_of_the_step_that_bakes_does_not_wait_for_the_loaf() {
    let text = "Speckled Loaf\n\nFor the poolish: 150 g strong flour, 150 g water, pinch of yeast\nFor the dough: 350 g strong white flour, 175 g water, 5 g yeast, 10 g salt\nFor the rice paste: 100 g rice flour, 1 tsp yeast, 1 tsp sugar, 1 tbsp sesame oil, 100 ml warm water\n\nMake the poolish and leave it 12 hours at room temperature.\nMix all the dough ingredients with the poolish. Knead 10 mins. Rise 1 hour. Shape and prove 45 minutes.\nMix the paste and leave 15 minutes. Spread over the loaf. Bake at Gas 8 for 30 mins.\n";
    let t = of(&sheet(text), 1.0);
    let (mix, bake) = (at(&t, "rice paste:mix"), at(&t, "rice paste:bake"));
    for rises in t.list.iter().enumerate().filter(|(_, x)| x.what == "rise") {
        assert!(comes_after(&t, bake, rises.0));
        assert!(!comes_after(&t, mix, rises.0));
    }
    assert!(comes_after(&t, bake, mix));
}

/// Two parts begun beforehand in one step each get their own work and wait, neither behind the other.
#[test]
fn a_soaker_named_beside_a_poolish_is_begun_beside_it() {
    let steps = [
        "Mix the poolish and leave overnight at room temperature. Pour the boiling water over the seeds for the soaker and leave 8 hours.",
        "Pour the boiling water over the seeds for the soaker and leave 8 hours. Mix the poolish and leave overnight at room temperature.",
    ];
    for step in steps {
        let text = format!(
            "Seeded Loaf\n\nPoolish\n150 g strong flour\n150 g water\n1 g yeast\n\nSoaker\n80 g sunflower seeds\n40 g linseeds\n120 g boiling water\n\nDough\n350 g strong flour\n170 g water\n8 g salt\n4 g yeast\n\n1. {step}\n2. Mix the dough with the poolish and soaker. Rise 1 hour.\n3. Shape, prove 45 minutes and bake at 230 °C for 35 minutes.\n"
        );
        let t = of(&sheet(&text), 1.0);
        assert_eq!(
            keys(&t, "poolish"),
            ["poolish:weigh", "poolish:mix", "poolish:rest"]
        );
        assert_eq!(
            keys(&t, "soaker"),
            ["soaker:weigh", "soaker:other", "soaker:rest"]
        );
        let (poolish, soaker) = (at(&t, "poolish:rest"), at(&t, "soaker:rest"));
        assert!(!comes_after(&t, soaker, poolish) && !comes_after(&t, poolish, soaker));
        let mix = at(&t, "dough:mix");
        assert!(comes_after(&t, mix, poolish) && comes_after(&t, mix, soaker));
    }
}

/// Work on a filling beside the dough's wait comes behind the filling's own chill.
#[test]
fn work_beside_another_parts_wait_keeps_its_own_order() {
    let text = BUNS
        .replace("1. Warm", "1. For the filling, beat the butter. Chill for 20 minutes.\n2. Warm")
        .replace(
            "2. Leave the dough to rise for 1 hour. While the dough rises, beat the butter, sugar and cardamom together for the filling.",
            "3. Leave the dough to rise for 1 hour. While the dough rises, beat the sugar and cardamom into the filling.\n4. Chill the filling for 10 minutes.",
        );
    let t = of(&sheet(&text), 1.0);
    assert!(comes_after(
        &t,
        at(&t, "filling:mix#2"),
        at(&t, "filling:chill")
    ));
}

/// A step names each kind of work once: what is beaten beside the dough's rise is work all the same.
#[test]
fn a_filling_beaten_in_the_step_that_mixes_the_dough_is_beaten() {
    let text = "Currant ring\n\nDough\n500 g strong flour\n7 g fast-action yeast\n220 ml warm milk\n\nFilling\n80 g soft butter\n90 g brown sugar\n1 tsp cinnamon\n\n1. Mix all the dough ingredients and knead for 8 minutes. Leave to rise for 1 hour. In the meantime, beat the butter, sugar and cinnamon for the filling.\n2. Roll out the dough, spread with the filling and roll up. Bake at 190 °C for 25 minutes.\n";
    let t = of(&sheet(text), 1.0);
    assert_eq!(keys(&t, "filling"), ["filling:weigh", "filling:mix"]);
    assert!(comes_after(&t, at(&t, "dough:roll"), at(&t, "filling:mix")));
    assert!(!comes_after(
        &t,
        at(&t, "dough:mix"),
        at(&t, "filling:weigh")
    ));
}

/// 'While they bake' is the bake of the step before, in whatever words; the syrup is boiled beside it and goes on when
/// the buns are out.
#[test]
fn while_they_bake_bakes_nothing_again() {
    for said in ["they bake", "the buns bake", "they are baking"] {
        let text = format!(
            "Aniseed Buns\nMakes 12\n\nDough\n480 g bread flour\n7 g instant yeast\n300 g water\n8 g salt\n\nSyrup\n60 g sugar\n60 g water\n\n1. Mix the dough. Let rise 1 hour. Shape. Bake at 200 °C for 20 minutes.\n2. While {said}, boil the sugar and water for 1 minute. Brush the hot syrup on as soon as the buns are out.\n"
        );
        let t = of(&sheet(&text), 1.0);
        assert!(t.task("syrup:bake").is_none(), "{said}");
        let (bake, out) = (at(&t, "dough:bake"), at(&t, "dough:take_out"));
        let (boil, brush) = (at(&t, "syrup:boil"), at(&t, "syrup:brush"));
        assert!(!comes_after(&t, boil, bake), "{said}");
        assert!(
            comes_after(&t, brush, boil) && comes_after(&t, brush, out),
            "{said}"
        );
        // At once, not within the quarter of an hour that a bake is warm.
        assert!(t.list[brush].soon.contains(&out), "{said}");
        assert!(t.list[out].stands <= 5.0, "{}", t.list[out].stands);
    }
}

const SYRUP_CAKE: &str = "Orange Syrup Cake\nServes 8\n\n200 g plain flour\n150 g butter\n150 g sugar\n3 eggs\n\nFor the syrup\n200 g sugar\n200 ml water\n1 lemon\n\n";

/// In one paragraph it is the cake that is baked, and it cools once the syrup is on, which has cooled before.
#[test]
fn in_one_paragraph_the_syrup_is_boiled_beside_the_bake_too() {
    let text = format!(
        "{SYRUP_CAKE}Beat the butter and sugar, beat in the eggs, fold in the flour. Spread in a 20 cm tin and bake at 180 C for 40 minutes. Meanwhile boil the sugar and water with the lemon for 10 minutes. Leave to cool. Pour the cold syrup over the hot cake. Leave until cold.\n"
    );
    let t = of(&sheet(&text), 1.0);
    assert_eq!(
        keys(&t, "syrup"),
        ["syrup:weigh", "syrup:boil", "syrup:cool"]
    );
    let (bake, boil) = (at(&t, ":bake"), at(&t, "syrup:boil"));
    assert!(!comes_after(&t, boil, bake) && !comes_after(&t, bake, boil));
    let pour = at(&t, ":other");
    assert!(comes_after(&t, pour, bake) && comes_after(&t, pour, at(&t, "syrup:cool")));
    assert!(comes_after(&t, at(&t, ":cool"), pour));
}

/// 'Over low heat' puts nothing on the cake; what is poured over the hot cake follows the bake, though the same step
/// then says what it is served with.
#[test]
fn a_syrup_stirred_over_low_heat_waits_for_no_cake() {
    let text = format!(
        "{SYRUP_CAKE}To serve\n200 ml cream\n\n1. Beat the butter and sugar, beat in the eggs, fold in the flour. Spread in a 20 cm tin and bake at 180 C for 40 minutes.\n2. Meanwhile make the syrup: put everything in a small pan, stir over low heat until the sugar dissolves, then simmer for 5 minutes.\n3. Prick the hot cake all over and pour over the warm syrup. Leave in the tin until cold. Serve with cream.\n"
    );
    let t = of(&sheet(&text), 1.0);
    let (bake, simmer) = (at(&t, ":bake"), at(&t, "syrup:mix"));
    assert!(!comes_after(&t, simmer, bake) && !comes_after(&t, bake, simmer));
    let mut all = 0..t.list.len();
    let pour = all.find(|&n| t.list[n].name.contains("pour syrup"));
    let pour = pour.expect("the syrup is poured");
    assert!(comes_after(&t, pour, bake) && comes_after(&t, pour, simmer));
}
