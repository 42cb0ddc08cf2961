use super::*;
use larder::Larder;
use quantity::Locale;

/// The names of the parts the steps are about, `-` for the one without a name.
fn parts(text: &str) -> Vec<String> {
    let larder = Larder::built_in().expect("the built-in tables");
    let reader = crate::read::Reader::new(&larder, Locale::Us);
    let recipe = crate::read::recipe(text, &reader).expect("reads");
    steps_of(&recipe)
        .into_iter()
        .map(|c| match recipe.components[c].name.as_str() {
            "" => "-".to_owned(),
            name => name.to_owned(),
        })
        .collect()
}

#[test]
fn buns_with_crumb_and_glaze() {
    let text = "Pear Buns\n\nFor the dough:\n300 g plain flour\n5 g instant yeast\n150 ml milk\n1 egg\n\n\
            For the crumb topping:\n50 g plain flour\n40 g butter\n30 g hazelnuts\n\n\
            For the filling:\n200 g dried pears\n50 ml water\n\n\
            For the glaze:\n100 g icing sugar\n20 ml milk\n\nMethod\n\
            1. Make the dough. Mix all of it and knead for 8 minutes.\n\
            2. Let rise for 1 hour, then chill overnight.\n\
            3. Make the crumb topping. Rub the flour and butter together; stir in the nuts.\n\
            4. Simmer the pears in the water for 10 minutes.\n\
            5. Roll the cold dough out on a floured board and spread with the filling.\n\
            6. Scatter over the reserved crumb topping and cut into 9 pieces.\n\
            7. Let rise until puffy, 1 hour. Heat the oven to 180 °C.\n\
            8. Brush the buns with milk and strew with the remaining crumb topping.\n\
            9. Bake for 25 minutes.\n\
            10. Whisk the glaze ingredients together and drizzle over the warm buns.\n";
    assert_eq!(
        parts(text),
        [
            "dough",
            "dough",
            "crumb topping",
            "filling",
            "dough",
            "dough",
            "dough",
            "dough",
            "dough",
            "glaze"
        ]
    );
}

#[test]
fn biscuits_base_and_filling() {
    let text = "Lime Slice\n\nFor the nut biscuits:\n150 g plain flour\n80 g butter\n60 g sugar\n\n\
            For the base:\n200 g of the nut biscuits, crushed\n60 g butter, melted\n\n\
            For the filling:\n400 g cream cheese\n20 g plain flour\n2 limes\n\nMethod\n\
            1. For the biscuits, mix everything and roll into balls.\n\
            2. Bake the biscuits for 15 minutes at 170 °C.\n\
            3. Turn the oven down to 150 °C. Weigh out 200 g of the biscuits and crush them for the base.\n\
            4. Stir the crumbs into the melted butter and press into the base of a tin. Bake for 8 minutes.\n\
            5. Beat the cream cheese with the juice of the limes.\n\
            6. Pour over the base and bake for 40 minutes.\n\
            7. Chill overnight.\n";
    assert_eq!(
        parts(text),
        [
            "nut biscuits",
            "nut biscuits",
            "base",
            "base",
            "filling",
            "filling",
            "filling"
        ]
    );
}

#[test]
fn labels_shells_and_drizzles() {
    let tart = "Onion Tart\n\nFor the pastry:\n200 g plain flour\n100 g butter\n\n\
            For the onion filling:\n3 onions\n2 eggs\n1 tbsp plain flour\n\nMethod\n\
            1. PASTRY: Rub the butter into the flour. Chill.\n\
            2. Roll out, line a tin and bake blind for 15 minutes.\n\
            3. FILLING: Fry the onions for 10 minutes.\n\
            4. Beat in the eggs and pour into the case.\n\
            5. Bake for 30 minutes.\n";
    assert_eq!(
        parts(tart),
        [
            "pastry",
            "pastry",
            "onion filling",
            "onion filling",
            "pastry"
        ]
    );
    let cake = "Orange Cake\n\n200 g self-raising flour\n150 g butter\n3 eggs\n\n\
            For the drizzle:\n2 oranges, juice only\n80 g granulated sugar\n\nMethod\n\
            1. Beat everything and bake for 30 minutes at 180 °C.\n\
            2. Meanwhile stir the orange juice into the sugar. Prick the hot cake and spoon the drizzle over it.\n";
    assert_eq!(parts(cake), ["-", "drizzle"]);
}

#[test]
fn a_starter_goes_into_the_dough() {
    let text = "Rye Loaf\n\nFor the sponge:\n100 g strong white flour\n1 g dried yeast\n100 g water\n\n\
            For the dough:\n400 g strong white flour\nall of the sponge\n3 g dried yeast\n250 g water\n8 g salt\n\nMethod\n\
            1. Mix the sponge ingredients and let rise overnight.\n\
            2. Add the rest and knead for 8 minutes.\n\
            3. Let rise for 1 hour.\n\
            4. Bake for 35 minutes at 220 °C.\n";
    assert_eq!(parts(text), ["sponge", "dough", "dough", "dough"]);
}

#[test]
fn a_poolish_is_not_kneaded() {
    let text = "White Loaf\n\nPoolish\n150 g bread flour\n150 g water\n0.4 g instant yeast\n\n\
            Final dough\nall of the poolish\n350 g bread flour\n170 g water\n4 g instant yeast\n\nMethod\n\
            1. Mix the poolish and leave covered for 12 to 16 hours.\n\
            2. Mix the poolish with everything else.\n\
            3. Bulk ferment for 90 minutes.\n\
            4. Bake at 190 °C for 35 minutes.\n";
    assert_eq!(
        parts(text),
        ["poolish", "final dough", "final dough", "final dough"]
    );
}

#[test]
fn the_oven_the_pan_and_the_putting_together_are_the_cakes() {
    let text = "Crumb Cake\n\nFor the crumb:\n150 g plain flour\n100 g butter\n80 g brown sugar\n1 tsp cinnamon\n\n\
            For the cake:\n200 g plain flour\n120 g butter\n150 g sugar\n2 eggs\n150 g soured cream\n\nMethod\n\
            Heat the oven to 180 °C. Butter a 23 cm square tin and dust it with flour.\n\
            1. For the crumb, rub the butter into the flour; stir in the sugar and cinnamon.\n\
            2. For the cake, beat the butter and sugar; beat in the eggs, soured cream and flour.\n\
            3. Spread half the batter in the tin and scatter half the crumb over it.\n\
            4. Scatter half of the crumb over the cake, add the rest of the batter, then the other crumb.\n\
            5. Bake for 45 minutes.\n";
    assert_eq!(
        parts(text),
        ["cake", "crumb", "cake", "cake", "cake", "cake"]
    );
}

#[test]
fn one_part_has_every_step() {
    let text = "Plain Scones\n\n200 g plain flour\n100 ml milk\n\nMethod\n1. Mix.\n2. Bake for 12 minutes.\n";
    assert_eq!(parts(text), ["-", "-"]);
}

/// Worked by hand: only the cake has eggs and powder.
#[test]
fn a_batter_behind_a_crumble_is_the_cakes() {
    let text = "Rhubarb cake\n\nCake\n200 g plain flour\n2 tsp baking powder\n150 g butter\n150 g sugar\n3 eggs\n400 g rhubarb\n\nCrumble\n120 g plain flour\n80 g butter\n60 g sugar\n\nMethod\n1. Make the crumble: rub the butter into the flour and sugar. Chill overnight.\n2. Cream the butter and sugar, beat in the eggs, fold in the flour.\n3. Spread in a tin, scatter over the rhubarb and the crumble and bake at 180 °C for 45 minutes.\n";
    assert_eq!(parts(text), ["crumble", "cake", "cake"]);
    for rub in [
        "Rub the butter, flour and sugar together for the crumble.",
        "Rub the butter, flour and sugar for the crumble together and chill overnight.",
    ] {
        let rub = text.replace(
            "Make the crumble: rub the butter into the flour and sugar. Chill overnight.",
            rub,
        );
        assert_eq!(parts(&rub)[0], "crumble", "{rub}");
    }
    // 'Beat the butter into it' may be either's.
    let beat = text.replace(
        "Cream the butter and sugar, beat in the eggs",
        "Beat the butter",
    );
    assert_eq!(parts(&beat)[1], "crumble");
}

/// 'The night before, stir the sponge ingredients' makes the sponge; 'beat in the egg, the milk and the sponge' the dough.
#[test]
fn a_sponge_is_stirred_the_night_before() {
    let text = |step: &str| {
        parts(&format!(
            "Rings\n\nFor the sponge\n150g bread flour\n150ml water\n1 tsp yeast\n\nFor the dough\n350g bread flour\n100ml milk\n1 egg\n\n\
             {step}\nNext day add the flour and milk to the sponge and knead for 10 minutes.\nBake for 20 minutes.\n"
        ))
    };
    let first = |step: &str| text(step)[0].clone();
    let night =
        "The night before, stir the sponge ingredients together, cover and leave for 8 hours.";
    assert_eq!(first(night), "sponge");
    assert_eq!(
        first("Stir the egg, the milk and the sponge to a paste."),
        "dough"
    );
}

/// Cream is in the soak as well; the cinnamon is the topping's alone.
#[test]
fn a_cake_that_is_soaked_and_topped() {
    let text = "Three-milk cake\n\n1 1/2 cups cake flour\n1 tablespoon baking powder\n5 eggs\n1 cup sugar\n1/3 cup milk\n\n\
            Soak:\n12 oz evaporated milk\n14 oz condensed milk\n1/4 cup heavy cream\n\n\
            Topping:\n2 cups heavy cream\n3 tbsp sugar\nGround cinnamon, for dusting\n\n\
            Beat the yolks with the sugar. Fold in the flour.\n\
            Pour into a pan and bake 35 minutes. Cool 30 minutes.\n\
            Whisk the soak. Pierce the cake all over with a fork and pour the soak over. Cover and refrigerate at least 4 hours.\n\
            Whip cream with sugar; spread over the cake and dust with cinnamon just before serving.\n";
    assert_eq!(parts(text), ["-", "-", "soak", "topping"]);
}

/// The last heat of the method is the raw dough's, not the custard's that stands before it.
#[test]
fn a_dough_is_fried_behind_the_custard_that_fills_it() {
    let text = "Filled Rounds\nMakes 8\n\nDough:\n300 g plain flour\n5 g yeast\n1 egg\n180 g milk\n\n\
            Custard:\n250 ml milk\n3 egg yolks\n20 g cornflour\n\nMethod\n\
            1. Knead the dough and let rise 1 hour. Roll out, cut 8 rounds and prove 30 minutes.\n\
            2. Custard: boil the milk, yolks and cornflour, stirring. Chill.\n\
            3. Heat the oil to 175C and fry 2 minutes a side. Cool.\n";
    assert_eq!(parts(text), ["dough", "custard", "dough"]);
}

/// How the parts look tells when the whole is done: the bake is the dough's.
#[test]
fn a_bake_until_two_parts_look_so_is_the_doughs() {
    let text = "Pear Slab\n\nFor the dough:\n300 g plain flour\n5 g yeast\n150 ml milk\n\n\
            For the custard:\n200 g cream cheese\n1 egg\n\n\
            For the crumble:\n60 g plain flour\n40 g butter\n\nMethod\n\
            1. Knead the dough and let it rise 1 hour.\n\
            2. Make the custard: beat the cheese and egg.\n\
            3. Make the crumble: rub the butter into the flour.\n\
            4. Roll the dough out, spread with the custard and scatter the crumble over.\n\
            5. Bake until the crumble is browned and the custard is just set, 40 minutes.\n";
    let all = parts(text);
    assert_eq!(all.last().map(String::as_str), Some("dough"));
}

/// What is begun is mixed with the rest of the list: the dough's. The list under no heading is the bread,
/// whatever else has yeast.
#[test]
fn the_rest_of_a_list_is_mixed_into_the_dough() {
    let sour = "Rye\n\nSour\n150 g rye meal\n150 g water\n15 g rye starter\n\n\
            Dough\n250 g rye meal\n12 g salt\n100 g water\n\nMethod\n\
            1. Mix the sour and stand 16 hours.\n\
            2. Mix all with the rest; leave 30 minutes.\n\
            3. Bake at 150C for 1 hour.\n";
    assert_eq!(parts(sour), ["sour", "dough", "dough"]);
    let striped = "Striped Loaf\n\n500 g strong bread flour\n7 g dried yeast\n325 g water\n\n\
            For the crackle paste:\n60 g rice flour\n1 tsp dried yeast\n60 ml warm water\n\nMethod\n\
            1. Mix the dough and let rise 1 hour. Brush the paste over the loaf and prove 45 minutes.\n\
            2. Bake at 230C for 30 minutes.\n";
    assert_eq!(parts(striped).last().map(String::as_str), Some("-"));
}
