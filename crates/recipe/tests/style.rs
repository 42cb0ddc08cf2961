//! The style that a recipe is taken for, by its words and its ratios. The recipes are our own.

mod common;

use common::{formula, larder};
use recipe::rework::{Kept, Options, Rework, rework};

fn reworked(text: &str) -> Rework {
    rework(formula(text), larder(), &Options::default())
}

/// The style of a recipe's first part, and how sure it is.
fn guessed(text: &str) -> (&'static str, f64) {
    let choice = reworked(text).components[0].style.expect("a style");
    (choice.style.key(), choice.confidence)
}

/// Taken for a style without being asked about: surer than this.
const SURE: f64 = 0.6;

#[test]
fn puddings_are_cakes_scones_and_batters() {
    for (text, style) in [
        (STICKY, "butter_cake"),
        (SPONGE, "butter_cake"),
        (SAUCING, "butter_cake"),
        (TEACUP, "butter_cake"),
        (SUET, "muffin_quick_bread"),
        (ROLY, "muffin_quick_bread"),
        (SCONES, "muffin_quick_bread"),
        (COBBLER, "muffin_quick_bread"),
        (YORKSHIRE, "pancake_crepe"),
        (BLONDIES, "butter_cake"),
    ] {
        let (key, sure) = guessed(text);
        let title = text.lines().next();
        assert!(key == style && sure > SURE, "{title:?}: {key} {sure}");
    }
    // Hardly any flour under all the fruit, and a batter that egg sets, are asked about, the likely
    // style first.
    for (text, style) in [(EVE, "butter_cake"), (CLAFOUTIS, "filling")] {
        let (key, sure) = guessed(text);
        let title = text.lines().next();
        assert!(key == style && sure < SURE, "{title:?}: {key} {sure}");
    }
}

/// A part called streusel that fat rubs together is one, whatever seeds and cheese make of its ratios: it had been
/// taken for a sauce, all in starch, and for a pie pastry.
#[test]
fn a_savoury_streusel_is_a_streusel() {
    let text = |lines: &str| {
        format!(
            "Tea loaf\n\n250 g self-raising flour\n100 g sugar\n2 eggs\n60 g butter\n\nStreusel\n{lines}\n\nMethod\n1. Mix the loaf. For the streusel, rub the fat into the flour. Scatter over. Bake at 160 C for 1 hour.\n"
        )
    };
    // With next to no flour under all the fat it is asked about still.
    for (lines, sure) in [
        (
            "25 g butter\n30 g plain flour\n1 stock cube\n2 tbsp pumpkin seeds\n30 g cheddar",
            true,
        ),
        (
            "85 g butter\n30 g plain flour\n2 tbsp pumpkin seeds\n30 g cheddar",
            false,
        ),
    ] {
        let choice = reworked(&text(lines)).components[1].style.expect("a style");
        assert_eq!(choice.style.key(), "crumb_streusel", "{lines}");
        assert_eq!(choice.confidence > SURE, sure, "{lines}");
    }
}

/// What the title calls plainly what its ratios come nearest to is not asked about, however wet or dry it is.
#[test]
fn a_plain_name_makes_a_guess_sure() {
    let text = |title: &str, lines: &str| {
        format!("{title}\nMakes 12\n\n{lines}\n\nMethod\n1. Mix. Bake at 180 C for 40 minutes.\n")
    };
    let scones = "225 g self-raising flour\n55 g butter\n120 g cheddar, grated\n90 ml milk";
    let banana = "140 g butter\n140 g caster sugar\n2 eggs\n140 g self-raising flour\n1 tsp baking powder\n2 ripe bananas, mashed";
    // Soda raises it, so it is no flatbread, whose water would be a third more.
    let soda = "250 g plain flour\n200 g wholemeal flour\n1 tsp bicarbonate of soda\n1 tsp salt\n400 ml buttermilk";
    for (title, lines) in [
        ("Cheese scones", scones),
        ("Brown soda bread", soda),
        ("Banana bread", banana),
        ("Banana loaf with pecans", banana),
    ] {
        let (key, sure) = guessed(&text(title, lines));
        assert!(
            key == "muffin_quick_bread" && sure > SURE,
            "{title}: {key} {sure}"
        );
    }
    // A cake says no quick bread, and a name that says two styles or none changes nothing.
    for title in ["Banana cake", "Sunday bake"] {
        let (key, sure) = guessed(&text(title, banana));
        assert!(key == "butter_cake" && sure < SURE, "{title}: {key} {sure}");
    }
    // Ratios of a cake under a tart's name: the pastry and its filling in one.
    let tarts = "250 g plain flour\n225 g cold butter\n80 ml cold water\n110 g butter\n200 g brown sugar\n2 eggs";
    let (_, sure) = guessed(&text("Butter tarts", tarts));
    assert!(sure < SURE, "{sure}");
}

/// Whites and sugar with a spoon of starch are no dough, batter or roux; with much of it they are asked about.
#[test]
fn a_meringue_has_no_style() {
    let of = |starch: &str| {
        let text = format!(
            "Pavlova\nServes 8\n\n4 egg whites\n220 g caster sugar\n{starch}\n1 tsp white wine vinegar\n\nMethod\n1. Whisk the whites stiff, add the sugar, then the cornflour and vinegar. Bake at 130 C for 75 minutes.\n"
        );
        reworked(&text)
    };
    let light = of("1 tsp cornflour");
    let unsure = |d: &recipe::Doubt| d.code == recipe::DoubtCode::StyleUnsure;
    assert!(light.components[0].style.is_none());
    assert!(!light.components[0].doubts.iter().any(unsure));
    assert!(of("150 g cornflour").components[0].style.is_some());
    // Wheat has to be swapped.
    assert!(of("1 tbsp plain flour").components[0].style.is_some());
}

#[test]
fn what_is_baked_dry_and_crisp_is_a_cracker() {
    for text in [CRACKERS, SEEDS, OATCAKES, CRISPBREAD, CRISPS, CHEESE] {
        let (key, sure) = guessed(text);
        let title = text.lines().next();
        assert!(key == "cracker" && sure > SURE, "{title:?}: {key} {sure}");
    }
    // Sweet and buttery: a rolled biscuit, whatever it is called.
    let (key, _) = guessed(GRAHAM);
    assert_eq!(key, "rolled_cookie");
}

/// A purée is no fruit in pieces: without its water the batter would be a biscuit's. And butter folded into a
/// dough without yeast is laminated, but does not rise (common practice, no source).
#[test]
fn a_puree_wets_the_batter_and_rough_puff_does_not_rise() {
    let (key, _) = guessed(
        "Pumpkin sandwich cakes\n\n3 cups all-purpose flour\n1 tsp baking powder\n1 tsp baking soda\n2 cups packed light brown sugar\n1 cup canola oil\n1 (15-ounce) can pumpkin puree\n2 large eggs\n\nMethod\n1. Whisk the flour, baking powder and soda. Whisk the sugar and oil; add the pumpkin, then the eggs, then the flour.\n2. Drop spoonfuls on sheets. Bake at 350 F for 15 minutes until the cookies crack.\n",
    );
    assert_eq!(key, "butter_cake");
    let puff = reworked(
        "Rough puff\n\n250 g plain flour\n250 g butter\n150 ml water\n\nMethod\n1. Rub the butter loosely into the flour, add the water.\n2. Roll, fold in three, turn and roll again; chill for 20 minutes.\n3. Bake at 200 C for 25 minutes.\n",
    );
    let dough = &puff.components[0];
    assert_eq!(dough.style.expect("a style").style.key(), "laminated");
    assert!(dough.changes.iter().all(|c| c.what != "end of the rise"));
}

/// Butter, sugar, ground almonds and egg in about equal parts, a little flour or none (common practice, no
/// source): no gum and no water goes in.
#[test]
fn frangipane_is_set_by_egg_and_almond() {
    for flour in ["25 g plain flour\n", ""] {
        let text = format!(
            "Damson tart\n\nPastry\n200 g plain flour\n100 g butter\n1 egg\n\nFrangipane\n120 g soft butter\n120 g caster sugar\n2 eggs\n120 g ground almonds\n{flour}\nFor the top\n300 g damsons\n\n1. Rub the butter into the flour, bind with the egg, chill and line a 23 cm tart tin.\n2. Cream the butter and sugar, beat in the eggs and almonds. Spread the frangipane in the case, press in the damsons and bake at 180 C for 40 minutes.\n"
        );
        let r = reworked(&text);
        let keys: Vec<&str> = r.components[..2]
            .iter()
            .map(|c| c.style.expect("a style").style.key())
            .collect();
        assert_eq!(keys, ["pie_pastry", "frangipane"], "{flour}");
        let c = &r.components[1];
        let live = c.lines.iter().filter(|l| l.kept != Kept::Dropped);
        let names: Vec<&str> = live.map(|l| l.name.as_str()).collect();
        assert!(
            !names
                .iter()
                .any(|n| n.contains("water") || n.contains("gum")),
            "{names:?}"
        );
        assert!(c.doubts.is_empty(), "{:?}", c.doubts);
    }
}

/// The same in one bowl, called a cake, is a cake.
#[test]
fn an_almond_cake_stays_a_cake() {
    for flour in ["100 g plain flour\n", "40 g plain flour\n"] {
        let text = format!(
            "Orange almond cake\n\n200 g butter\n200 g caster sugar\n4 eggs\n160 g ground almonds\n{flour}1 tsp baking powder\n\n1. Cream the butter and sugar, beat in the eggs, fold in the rest. Bake in a 20 cm tin at 170 C for 40 minutes.\n"
        );
        assert_eq!(guessed(&text).0, "butter_cake", "{flour}");
    }
}

/// Raw potato is 79.25 % water (USDA SR28 11352), so 1 kg brings 792.5 g, 317 % of 250 g of flour.
#[test]
fn a_dough_of_potatoes_is_one_of_its_own() {
    for text in [
        "Gnocchi\n\n1 kg floury potatoes\n250 g plain flour\n1 egg\n\n1. Boil the potatoes, peel and mash. Mix in flour and egg.\n2. Roll into ropes, cut and boil.\n",
        "Potato farls\n\n500 g cooked mashed potato\n100 g plain flour\n25 g butter\n\n1. Mix the mash with butter and flour to a dough. Roll out 1 cm thick, cut and cook on a griddle.\n",
        "Squash gnocchi\n\n600 g butternut squash\n200 g plain flour\n1 egg yolk\n\n1. Roast the squash and mash it. Knead with the flour and yolk, cut into gnocchi, boil.\n",
    ] {
        let (key, sure) = guessed(text);
        assert!(key == "potato_dough" && sure > SURE, "{text}: {key} {sure}");
        let c = &reworked(text).components[0];
        assert!(!c.lines.iter().any(|l| l.name == "water"), "{text}");
        assert!(c.doubts.is_empty(), "{text}: {:?}", c.doubts);
        let water = c.changes.iter().find(|c| c.what == "water").expect("said");
        assert!(!water.sums.is_empty());
        if text.starts_with("Gnocchi") {
            assert!(water.sums[1].ends_with("= 317 %"), "{:?}", water.sums);
        }
    }
    // Grated with little flour, sweet, wet, or with more flour than mash: something else.
    for text in [
        "Latkes\n\n600 g potatoes\n40 g plain flour\n2 eggs\n\n1. Grate the potatoes, squeeze dry, stir in flour and eggs and fry.\n",
        "Potato cake\n\n300 g mashed potato\n200 g plain flour\n200 g sugar\n150 g butter\n3 eggs\n2 tsp baking powder\n\n1. Mix. Bake at 180 C for 40 minutes.\n",
        "Leek soup\n\n500 g potatoes\n100 g plain flour\n1 litre milk\n\n1. Boil the potatoes in the milk with the flour and mash.\n",
        "Pumpkin scones\n\n250 g mashed pumpkin\n400 g self-raising flour\n1 egg\n30 g butter\n\n1. Rub in the butter, mix to a dough, cut out and bake at 220 C for 15 minutes.\n",
        "Potato rolls\n\n500 g mashed potato\n400 g bread flour\n7 g instant yeast\n100 g milk\n\n1. Knead to a dough, let it rise, shape and bake at 200 C for 20 minutes.\n",
    ] {
        assert_ne!(guessed(text).0, "potato_dough", "{text}");
    }
}

#[test]
fn a_cracker_is_reworked_as_one() {
    let r = reworked(CRACKERS);
    let c = &r.components[0];
    let wet = c.reworked.hydration.expect("wet").likely().get();
    assert!((30.0..=62.0).contains(&wet), "{wet}");
    let style = c.style.expect("a style").style;
    assert!(style.is_baked() && !style.is_thickened());
    let notes: Vec<&str> = c.method_notes.iter().map(|n| n.text.as_str()).collect();
    let says = |words: &str| notes.iter().any(|n| n.contains(words));
    assert!(says("an even 1–2 mm"), "{notes:#?}");
    assert!(says("dry and crisp to the middle"), "{notes:#?}");
    assert!(says("colour and crispness decide"), "{notes:#?}");
    // No probe goes into it.
    assert!(!says("middle reads") && !says("core"), "{notes:#?}");
    let binder = c.reworked.binder_percent();
    assert!((0.3..=3.0).contains(&binder), "{binder}");
}

const STICKY: &str = "Sticky date pudding\n\nServes 8\n\n200 g dates, chopped\n250 ml boiling water\n1 tsp bicarbonate of soda\n85 g butter\n150 g dark brown sugar\n2 large eggs\n175 g self-raising flour\n\n1. Pour the water over the dates and soda and leave for 10 minutes.\n2. Cream the butter and sugar, beat in the eggs, fold in the flour and the dates.\n3. Bake in a 20 cm square tin at 180 °C for 35 minutes.\n";
const SPONGE: &str = "Steamed syrup pudding\n\nServes 6\n\n3 tbsp golden syrup\n120 g butter\n120 g caster sugar\n2 eggs\n150 g self-raising flour\n2 tbsp milk\n\n1. Butter a basin and pour in the syrup.\n2. Cream butter and sugar, beat in the eggs, fold in the flour and milk.\n3. Cover and steam for 1 hour 30 minutes.\n";
const SUET: &str = "Currant suet pudding\n\nServes 6\n\n200 g self-raising flour\n100 g shredded suet\n60 g sugar\n120 g currants\n150 ml milk\n\n1. Mix everything to a soft dough.\n2. Put into a pudding basin and steam for 2 hours.\n";
const EVE: &str = "Apple sponge pudding\n\nServes 6\n\n120 g butter\n120 g caster sugar\n2 eggs\n120 g self-raising flour\n1 tbsp milk\n500 g cooking apples, sliced\n\n1. Lay the apples in a dish.\n2. Cream butter and sugar, beat in the eggs and fold in the flour. Spread over the apples.\n3. Bake at 180 °C for 40 minutes.\n";
const SAUCING: &str = "Chocolate pudding with its own sauce\n\nServes 6\n\n150 g self-raising flour\n30 g cocoa\n130 g sugar\n150 ml milk\n60 g butter, melted\n1 egg\n\n1. Whisk milk, butter and egg into flour, cocoa and sugar.\n2. Spread in a dish, strew with more sugar and pour boiling water over.\n3. Bake at 180 °C for 35 minutes.\n";
const CLAFOUTIS: &str = "Plum clafoutis\n\nServes 6\n\n80 g plain flour\n80 g sugar\n3 eggs\n300 ml milk\n20 g butter\n400 g plums\n\n1. Whisk flour, sugar, eggs and milk to a batter.\n2. Pour over the plums.\n3. Bake at 180 °C for 40 minutes.\n";
const BLONDIES: &str = "Hazelnut blondies\n\nMakes 16\n\n170 g butter, melted\n250 g light brown sugar\n2 eggs\n200 g plain flour\n100 g white chocolate\n80 g hazelnuts\n1/4 tsp baking powder\n\n1. Stir sugar and eggs into the butter, then the rest.\n2. Bake in a 20 cm square tin at 175 °C for 28 minutes.\n";
const SCONES: &str = "Sultana scones\n\nMakes 8\n\n350 g self-raising flour\n1 tsp baking powder\n85 g butter\n45 g sugar\n175 ml milk\n80 g sultanas\n\n1. Rub the butter into the flour, stir in the rest.\n2. Pat out 2.5 cm thick, cut rounds.\n3. Bake at 220 °C for 12 minutes.\n";
const COBBLER: &str = "Peach cobbler\n\nServes 6\n\nTopping:\n200 g plain flour\n2 tsp baking powder\n60 g sugar\n85 g cold butter\n140 ml buttermilk\n\nFruit:\n900 g peaches, sliced\n80 g sugar\n1 tbsp cornflour\n\n1. Toss the fruit with sugar and cornflour in a dish.\n2. Rub butter into the flour, stir in the buttermilk, and drop spoonfuls over the fruit.\n3. Bake at 190 °C for 40 minutes.\n";
const YORKSHIRE: &str = "Yorkshire puddings\n\nMakes 12\n\n140 g plain flour\n4 eggs\n200 ml milk\n30 g beef dripping\n1/2 tsp salt\n\n1. Beat flour, eggs and milk to a batter and rest it for 30 minutes.\n2. Heat the fat in a 12-hole tin at 230 °C, pour in the batter.\n3. Bake for 20 minutes.\n";
const ROLY: &str = "Jam roly-poly\n\nServes 6\n\n250 g self-raising flour\n125 g suet\n30 g sugar\n160 ml milk\n200 g jam\n\n1. Mix flour, suet, sugar and milk to a dough.\n2. Roll out, spread with jam, roll up and wrap.\n3. Bake at 190 °C for 40 minutes.\n";
const TEACUP: &str = "Ginger puddings\n\nServes 4\n\n100 g butter\n100 g dark brown sugar\n2 tbsp black treacle\n2 eggs\n140 g self-raising flour\n2 tsp ground ginger\n3 tbsp milk\n\n1. Beat everything together.\n2. Divide between four buttered moulds.\n3. Bake at 180 °C for 22 minutes.\n";
const CRACKERS: &str = "Rosemary crackers\n\nMakes 40\n\n250 g plain flour\n1 tsp baking powder\n1 tsp salt\n50 ml olive oil\n100 ml water\n1 tbsp rosemary\n\n1. Mix to a dough and rest it for 20 minutes.\n2. Roll out thinly on baking paper, prick all over and cut into squares.\n3. Bake at 200 °C for 14 minutes, until dry and golden.\n";
const SEEDS: &str = "Seeded crispbread\n\nMakes 24\n\n200 g wholemeal flour\n100 g rye flour\n80 g mixed seeds\n60 ml rapeseed oil\n150 ml water\n6 g salt\n\n1. Stir together and rest.\n2. Roll very thin, score and prick.\n3. Bake at 180 °C for 20 minutes.\n";
const OATCAKES: &str = "Oatcakes\n\nMakes 20\n\n225 g oatmeal\n60 g plain flour\n60 g butter\n1/2 tsp bicarbonate of soda\n70 ml hot water\n1/2 tsp salt\n\n1. Rub in the butter and bind with the water.\n2. Roll out 4 mm thick and cut rounds.\n3. Bake at 180 °C for 20 minutes.\n";
const CRISPBREAD: &str = "Rye knäckebröd\n\nMakes 8\n\n250 g rye flour\n150 g bread flour\n250 ml water\n5 g dried yeast\n8 g salt\n\n1. Mix and let it rise for 1 hour.\n2. Roll paper thin, prick.\n3. Bake at 230 °C for 8 minutes, until crisp.\n";
const CRISPS: &str = "Flatbread crisps\n\nMakes 30\n\n250 g plain flour\n120 ml water\n30 ml olive oil\n5 g salt\n10 g sesame seeds\n\n1. Knead and rest for 30 minutes.\n2. Roll as thin as paper, brush with water, strew with sesame.\n3. Bake at 200 °C for 10 minutes until crisp.\n";
const CHEESE: &str = "Cheddar crackers\n\nMakes 60\n\n150 g plain flour\n80 g butter\n150 g cheddar, grated\n2 tbsp cold water\n1/4 tsp cayenne\n\n1. Rub butter into flour and cheese, bind with water, chill for 30 minutes.\n2. Roll out 3 mm thick, cut squares, dock.\n3. Bake at 190 °C for 15 minutes.\n";
const GRAHAM: &str = "Honey crackers\n\nMakes 24\n\n250 g wholemeal flour\n110 g butter\n90 g brown sugar\n60 g honey\n1/2 tsp bicarbonate of soda\n\n1. Cream, mix to a dough and chill.\n2. Roll out 3 mm thick and cut.\n3. Bake at 175 °C for 15 minutes.\n";

/// The table has what its advice says: 60 g of malt syrup are 0.75 × 60 = 45 g of molasses. Wheat germ in a crumb becomes
/// a bran, gram for gram: ground flaxseed at 28 of 120 g flour, 23 %, had bound it like 2.7 % xanthan.
#[test]
fn what_stands_in_for_malt_and_germ_is_its_advice_and_binds_nothing() {
    let text = "Crumble\n\n120 g plain flour\n28 g wheat germ\n60 g butter\n50 g sugar\n60 g malt extract\n\nMethod\n1. Rub in. Bake at 180 C for 35 minutes.\n";
    let r = reworked(text);
    let part = &r.components[0];
    let grams = |key: &str| {
        let line = part
            .lines
            .iter()
            .find(|l| l.kept != Kept::Dropped && l.key == key);
        line.and_then(|l| Some(l.grams?.likely().as_grams()))
    };
    assert_eq!(grams("molasses"), Some(45.0));
    assert_eq!(grams("rice_bran"), Some(28.0));
    let binding = part.binding.as_ref().expect("what binds it");
    assert!(binding.sum.likely().get() < 0.01, "{binding:?}");
}

/// Until the baker has said what it is, only the flour of an unsure guess is changed: 100 g of plain blend, no binder, the
/// syrup as it was, the oven as it was. By its ratios it had been a sauce, all of it thickened with sweet rice.
#[test]
fn what_is_no_style_for_certain_is_left_as_it_was() {
    let text = "Panforte\nServes 16\n\n100 g plain flour\n150 g almonds\n150 g hazelnuts\n200 g candied peel\n30 g cocoa\n150 g honey\n150 g sugar\n\nMethod\n1. Boil honey and sugar to 115 C. Stir in the rest. Press into a 20 cm round tin.\n2. Bake at 150 C for 35 minutes.\n";
    let r = reworked(text);
    let part = &r.components[0];
    let choice = part.style.expect("a guess");
    assert!(choice.is_left_alone(), "{choice:?}");
    assert_eq!(
        part.blend.as_ref().map(|b| b.key.to_string()).as_deref(),
        Some("plain")
    );
    // What is there is what was there: 100 + 150 + 150 + 200 + 30 + 150 + 150 = 930 g.
    assert!((part.makes.likely().as_grams() - 930.0).abs() < 0.1);
    let whats: Vec<&str> = part.changes.iter().map(|c| c.what.as_str()).collect();
    assert_eq!(whats, ["flour", "water"]);
    assert!(part.method_notes.is_empty(), "{:?}", part.method_notes);
    let asked = part
        .doubts
        .iter()
        .find(|d| d.code == recipe::DoubtCode::StyleUnsure);
    assert!(
        asked
            .expect("a question")
            .message
            .contains("until then only its flour is swapped")
    );
    // Said, it is followed.
    let style = recipe::rework::style::Style::from_key("rolled_cookie").expect("a style");
    let said = rework(
        formula(text),
        larder(),
        &Options {
            styles: vec![(String::new(), style)],
            ..Options::default()
        },
    );
    assert!(said.components[0].changes.iter().any(|c| c.what == "oven"));
}

/// A cake by any of its names is a cake, however unsure its ratios are: a sponge that is creamed, bars of pumpkin and
/// oil, a crumble cake without milk. They rest, are given a binder and bake longer.
#[test]
fn a_cake_by_another_name_is_set_as_one() {
    for (title, lines) in [
        (
            "Jam sponge",
            "175 g butter\n175 g sugar\n3 eggs\n175 g self-raising flour",
        ),
        (
            "Pumpkin bars",
            "250 g plain flour\n2 tsp baking powder\n4 eggs\n300 g sugar\n220 g oil\n425 g pumpkin puree",
        ),
        (
            "Crumble cake",
            "200 g plain flour\n1 tsp baking powder\n100 g butter\n100 g sugar\n2 eggs",
        ),
    ] {
        let r = reworked(&format!(
            "{title}\n\n{lines}\n\nMethod\n1. Mix all, spread in a tin, bake at 180 C for 30 minutes.\n"
        ));
        let part = &r.components[0];
        let choice = part.style.expect("a guess");
        assert!(!choice.is_left_alone(), "{title}: {choice:?}");
        assert!(part.changes.iter().any(|c| c.what == "oven"), "{title}");
    }
}

/// Sausages lie in the batter, and their fat is none of its own: 140 g flour, 4 eggs and 200 ml milk are a batter, not a
/// choux paste with 119 % fat.
#[test]
fn meat_in_a_batter_says_nothing_of_its_style() {
    let text = "Toad in the hole\nServes 4\n\n140 g plain flour\n4 eggs\n200 ml milk\n8 pork sausages\n2 tbsp vegetable oil\n\nMethod\n1. Heat the oil in a roasting tin with the sausages at 220 C for 15 minutes.\n2. Whisk the flour, eggs and milk, pour in and bake for 30 minutes.\n";
    let (key, _) = guessed(text);
    assert_eq!(key, "pancake_crepe");
}
