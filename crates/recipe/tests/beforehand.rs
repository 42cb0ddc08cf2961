//! What is begun beforehand goes into the dough, whether a line of the dough names it or only the
//! method does. Sums by hand: a dough's flour and water are those of all its stages together
//! (baker's percentage of the whole formula).

use larder::Larder;
use quantity::Locale;
use recipe::read::{self, Reader};
use recipe::rework::{Options, Rework, rework};
use recipe::sheet::{self, Sheet};
use recipe::{DoubtCode, Recipe, weigh};

fn larder() -> Larder {
    Larder::built_in().expect("the built-in larder")
}

fn read(text: &str, larder: &Larder) -> Recipe {
    read::recipe(text, &Reader::new(larder, Locale::Uk)).expect("a recipe")
}

fn reworked(text: &str, options: &Options) -> Rework {
    let larder = larder();
    let formula = weigh::formula(read(text, &larder), &larder, Locale::Uk).expect("a formula");
    rework(formula, &larder, options)
}

const LOAF: &str = "Hearth Loaf\nMakes 1 loaf\n\nPoolish\n200g strong white flour\n200g water\n1/8 tsp instant yeast\n\nDough\n300g strong white flour\n130g water\n10g salt\n3/4 tsp instant yeast\n\nMix the poolish and leave for 12 hours.\nMix the poolish with the dough ingredients and knead for 10 minutes. Let rise for 1 hour.\nShape into a loaf. Prove for 45 minutes. Bake at 220C for 35 minutes.\n";

/// 500 g of flour and 330 g of water in all: 66 %.
#[test]
fn a_poolish_on_no_line_is_counted_like_one_on_a_line() {
    let unlisted = reworked(LOAF, &Options::default());
    let text = LOAF.replace("10g salt", "10g salt\nall of the poolish");
    let listed = reworked(&text, &Options::default());
    for r in [&unlisted, &listed] {
        let dough = &r.components[1];
        let flour = dough.original.flour.likely().as_grams();
        assert!((flour - 500.0).abs() < 0.01, "{flour}");
        let hydration = dough.original.hydration.expect("a dough").likely().get();
        assert!((hydration - 66.0).abs() < 0.1, "{hydration}");
        let used = r.components[0]
            .used
            .expect("it is used")
            .likely()
            .as_grams();
        let made = r.components[0].makes.likely().as_grams();
        assert!((used - made).abs() < 0.01, "{used} of {made}");
    }
    let grams = |r: &Rework, name: &str| {
        let lines = &r.components[1].lines;
        let line = lines.iter().find(|l| l.name.contains(name));
        line.and_then(|l| l.grams).expect(name).likely().as_grams()
    };
    for name in ["psyllium", "water", "yeast"] {
        let (a, b) = (grams(&unlisted, name), grams(&listed, name));
        assert!((a - b).abs() < 0.01, "{name}: {a} and {b}");
    }
}

#[test]
fn what_is_taken_unlisted_is_asked_about() {
    let larder = larder();
    let recipe = read(LOAF, &larder);
    let line = recipe.components[1].lines.last().expect("a line");
    assert_eq!(line.text, "all of the poolish");
    assert!(line.doubts(DoubtCode::ComponentUnlisted));
    // One click each: all of it, or none.
    let answers = sheet::answers(
        &line.doubts[0],
        &recipe,
        1,
        recipe.components[1].lines.len() - 1,
        &larder,
        Locale::Uk,
    );
    let words: Vec<&str> = answers.iter().map(|a| a.words.as_str()).collect();
    assert_eq!(words, ["all of it goes in", "it does not go in"]);
    let mut sheet = Sheet::new(LOAF, Locale::Uk);
    sheet.change(&answers[1].change).expect("it can be changed");
    let worked = sheet::work(&sheet, &[], &larder, &[]).expect("it works");
    let hydration = worked.formula.components[1].hydration.expect("a dough");
    assert!((hydration.likely().get() - 130.0 / 3.0).abs() < 0.1);
    // Where it stands on a line, under its own name or another, none is added.
    for own in [
        "all of the poolish",
        "400 g poolish",
        "200 g sourdough starter",
    ] {
        let text = LOAF.replace("10g salt", &format!("10g salt\n{own}"));
        let recipe = read(&text, &larder);
        let lines = recipe.components.iter().flat_map(|c| &c.lines);
        let asked = lines.filter(|l| l.doubts(DoubtCode::ComponentUnlisted));
        assert_eq!(asked.count(), 0, "{own}");
    }
}

#[test]
fn other_ways_to_begin_a_dough() {
    let larder = larder();
    let unlisted = |text: &str| -> Vec<(String, String)> {
        let recipe = read(text, &larder);
        let parts = recipe.components.iter();
        let lines = parts.flat_map(|c| c.lines.iter().map(move |l| (c.name.clone(), l)));
        let added = lines.filter(|(_, l)| l.doubts(DoubtCode::ComponentUnlisted));
        added.map(|(part, l)| (part, l.text.clone())).collect()
    };
    let one = |part: &str, text: &str| vec![(part.to_owned(), text.to_owned())];
    let milk = "Milk Rolls\n\nTangzhong\n20 g bread flour\n100 g milk\n\nDough\n300 g bread flour\n100 g milk\n5 g instant yeast\n\nCrumb topping\n50 g plain flour\n30 g butter\n\nCook the tangzhong. Mix it with the dough ingredients and knead.\n";
    assert_eq!(unlisted(milk), one("dough", "all of the tangzhong"));
    let sponge = "Buns\n\nFor the dough:\n300 g bread flour\n60 g butter\n\nFor the sponge:\n100 g bread flour\n100 g milk\n5 g dried yeast\n\nMix the sponge; leave for an hour. Knead in the rest.\n";
    assert_eq!(unlisted(sponge), one("dough", "all of the sponge"));
    // A sponge without yeast is a cake, and a filling takes no starter.
    let cake = "Trifle\n\nFor the sponge:\n100 g flour\n3 eggs\n100 g sugar\n\nFor the crust:\n100 g flour\n50 g butter\n\nBake.\n";
    assert_eq!(unlisted(cake), []);
    let none = "Starter\n\nStarter\n100 g flour\n100 g water\n\nFilling\n200 g cream\n10 g flour\n\nMix.\n";
    assert_eq!(unlisted(none), []);
}

/// A preferment is of its dough's style and blend, takes no psyllium, and is asked about once.
#[test]
fn a_preferment_goes_by_its_dough() {
    let mut options = Options::default();
    options
        .blends
        .push(("dough".to_owned(), "rice_free".to_owned()));
    let r = reworked(LOAF, &options);
    let [poolish, dough] = r.components.as_slice() else {
        panic!("two components")
    };
    let key = |c: &recipe::rework::ReworkedComponent| c.blend.as_ref().map(|b| b.key.clone());
    assert_eq!(key(poolish), key(dough));
    assert_eq!(key(dough).as_deref(), Some("rice_free"));
    let style = |c: &recipe::rework::ReworkedComponent| c.style.map(|s| s.style.key());
    assert_eq!(style(poolish), style(dough));
    assert!(poolish.gel.is_none() && dough.gel.is_some());
    let asked = |c: &recipe::rework::ReworkedComponent| {
        c.doubts.iter().any(|d| d.code == DoubtCode::StyleUnsure)
    };
    assert!(!asked(poolish));
    let psyllium = |n: &recipe::rework::MethodNote| n.text.contains("psyllium");
    assert!(!poolish.method_notes.iter().any(psyllium));
    assert!(dough.method_notes.iter().any(psyllium));
}

/// A loaf raised by a levain alone is a yeast bread, and its steps are the dough's.
#[test]
fn a_levain_raises_a_yeast_bread() {
    let text = "Country Sourdough\nMakes 1 large loaf\n\nLevain\n35g active starter\n70g bread flour\n70g water\n\nFinal dough\n1000g bread flour\n700g water\n150g levain\n20g salt\n\n1. Mix the levain and leave for 5 hours until bubbly.\n2. Autolyse flours with 650g of the water for 1 hour. Add levain, salt and the rest of the water.\n3. Bulk ferment 4 hours.\n4. Shape into a boule. Retard in the fridge for 12-16 hours.\n5. Bake at 250C for 45 minutes.\n";
    let r = reworked(text, &Options::default());
    let dough = &r.components[1];
    let style = dough.style.expect("a style");
    assert_eq!(style.style.key(), "lean_bread");
    assert!(style.confidence > 0.6, "{}", style.confidence);
    assert_eq!(recipe::rework::owners(&r.formula.recipe), [0, 1, 1, 1, 1]);
    let says = |what: &str| dough.method_notes.iter().any(|n| n.text.contains(what));
    assert!(says("The starter is meant for it") && !says("yeast in the list"));
    assert!(says("Step 5 bakes") && says("Cool on a rack"));
}

/// Each of several is taken in; a name in common, or a bread called after its starter, takes none away.
#[test]
fn several_begun_beforehand_are_all_taken_in() {
    let larder = larder();
    let added = |text: &str| -> Vec<String> {
        let recipe = read(text, &larder);
        let lines = recipe.components.into_iter().flat_map(|c| c.lines);
        let added = lines.filter(|l| l.doubts(DoubtCode::ComponentUnlisted));
        added.map(|l| l.text).collect()
    };
    let soaker = "Soaker\n80 g wholemeal flour\n120 g water\n\n";
    let both = LOAF.replace("Dough\n", &format!("{soaker}Dough\n"));
    assert_eq!(added(&both), ["all of the poolish", "all of the soaker"]);
    let listed = both.replace("10g salt", "10g salt\n400 g poolish");
    assert_eq!(added(&listed), ["all of the soaker"]);
    let levain = "Loaf\n\nLevain\n20 g starter\n60 g strong white flour\n60 g water\n\nSoaker\n80 g wholemeal flour\n120 g water\n\nDough\n400 g strong white flour\n240 g water\n120 g levain\n9 g salt\n\nMix the levain. Mix the dough. Bake.\n";
    assert_eq!(added(levain), ["all of the soaker"]);
    let bread = "Loaf\n\nSourdough bread:\n500 g strong white flour\n350 g water\n10 g salt\n5 g yeast\n\nTopping:\n20 g butter\n\nMix and bake.\n";
    assert_eq!(added(bread), [""; 0]);
    assert!(read(bread, &larder).components[0].beforehand().is_none());
}

/// A step that takes a preferment among other things is the dough's; one that mixes it is its own.
#[test]
fn steps_that_take_a_preferment_are_the_doughs() {
    let larder = larder();
    let text = "Loaf\n\nFor the poolish\n150g strong white flour\n150g cool water\n1/4 tsp yeast\n\nFor the seed soaker\n40g sunflower seeds\n2 tbsp rolled oats\n100ml water\n\nFor the dough\n300g strong white flour\n1 tsp yeast\n2 tsp salt\n130ml milk\n1 egg\n\n1. The night before, stir together the flour, water and yeast for the poolish. Cover and leave at room temperature for 12 hours, until bubbly.\n2. Pour the water over the seeds and oats, cover, and leave to soak overnight.\n3. Put the flour, yeast and salt in a bowl. Add the milk, the egg and all of the poolish and bring together into a shaggy dough. Rest 20 minutes.\n4. Knead for 10 minutes. Drain the soaker and knead in the seeds.\n5. Cover and leave to rise for 1 1/2 hours.\n6. Shape and prove for 45 minutes.\n7. Bake at 220C for 40 minutes.\n8. Cool on a wire rack for at least 1 hour.\n";
    let recipe = read(text, &larder);
    assert_eq!(recipe::rework::owners(&recipe), [0, 1, 2, 2, 2, 2, 2, 2]);
    let beaten = text.replace("Put the flour, yeast and salt in a bowl. Add the milk, the egg and all of the poolish and bring together into a shaggy dough.", "Beat in the egg, the milk, the poolish and the flour.");
    assert_eq!(recipe::rework::owners(&read(&beaten, &larder))[2], 2);
}

/// The note on an autolyse says nothing against the one that keeps its rest.
#[test]
fn an_autolyse_keeps_its_rest() {
    let text = "Loaf\n\n500 g bread flour\n350 g water\n7 g instant yeast\n10 g salt\n\n1. Mix flour and water and autolyse for 1 hour. Add the rest and knead.\n2. Let rise 1 hour and bake at 220 °C for 40 minutes.\n";
    let r = reworked(text, &Options::default());
    let notes = &r.components[0].method_notes;
    let note = |what: &str| notes.iter().map(|n| &n.text).find(|t| t.contains(what));
    assert!(note("1 hour: keep that").is_some(), "{notes:?}");
    let autolyse = note("no gluten to form").expect("a note");
    assert!(!autolyse.contains("minutes"), "{autolyse}");
}

/// 440 g and 60 g of flour with half of 30 g of starter are 515 g; 290, 60 and 15 g of water 365 g: 70.9 %.
#[test]
fn a_levain_that_only_the_method_mixes_is_of_the_dough() {
    let text = "Country loaf\n\n440 g strong flour\n290 g water\n10 g salt\n\nMethod\n1. Make the levain: mix 30 g starter with 60 g flour and 60 g water and leave overnight.\n2. Mix it into the dough with the rest. Rise 4 hours.\n3. Bake at 230C for 40 minutes.\n";
    let larder = larder();
    let recipe = read(text, &larder);
    assert_eq!(recipe.components[1].name, "levain");
    let lines = recipe.components[0].lines.iter();
    let taken = lines
        .filter(|l| l.doubts(DoubtCode::ComponentUnlisted))
        .count();
    assert_eq!(taken, 1);
    assert!(
        !recipe
            .doubts
            .iter()
            .any(|d| d.code == DoubtCode::InMethodOnly)
    );
    let formula = weigh::formula(recipe, &larder, Locale::Uk).expect("a formula");
    let dough = &formula.components[0];
    assert!((dough.flour.likely().as_grams() - 515.0).abs() < 0.01);
    let hydration = dough.hydration.expect("a dough").likely().get();
    assert!((hydration - 70.9).abs() < 0.1, "{hydration}");
    // Some of what is listed, and what a line has already, make no part.
    let of_list = text.replace("60 g flour", "60 g of the flour");
    assert_eq!(read(&of_list, &larder).components.len(), 1);
    let listed = text.replace("10 g salt", "10 g salt\n150 g levain");
    assert_eq!(read(&listed, &larder).components.len(), 1);
}

#[test]
fn a_soaker_is_of_its_doughs_style() {
    let text = "Seeded loaf\n\nSoaker\n30 g rye flour\n50 g linseed\n300 g water\n\nDough\n400 g strong flour\n200 g water\n7 g yeast\n8 g salt\n\nMethod\n1. Soak the soaker overnight.\n2. Mix the dough with the soaker. Rise 1 hour. Bake at 220C for 35 minutes.\n";
    let r = reworked(text, &Options::default());
    let styles: Vec<_> = r
        .components
        .iter()
        .map(|c| c.style.map(|s| s.style.key()))
        .collect();
    assert_eq!(styles[0], styles[1], "{styles:?}");
}

/// By hand: 500 and 150 g of flour, 350 and 150 g of water are 76.9 %.
#[test]
fn what_a_method_mixes_beforehand_is_read_whole_and_counted_once() {
    let larder = larder();
    let text = |method: &str| {
        format!(
            "Loaf\n\n500 g strong white flour\n350 g water\n10 g salt\n\nMethod\n1. {method}\n2. Knead with the other things. Rise 2 hours.\n3. Bake at 230C for 40 minutes.\n"
        )
    };
    let poolish =
        "Make the poolish: mix 150 g flour, 150 g water and 0.5 g yeast and leave overnight.";
    let recipe = read(&text(poolish), &larder);
    let lines: Vec<&str> = recipe.components[1]
        .lines
        .iter()
        .map(|l| &*l.text)
        .collect();
    assert_eq!(
        lines,
        ["150 g strong white flour", "150 g water", "0.5 g yeast"]
    );
    let formula = weigh::formula(recipe, &larder, Locale::Uk).expect("a formula");
    let dough = &formula.components[0];
    assert!((dough.flour.likely().as_grams() - 650.0).abs() < 0.01);
    let hydration = dough.hydration.expect("a dough").likely().get();
    assert!((hydration - 76.9).abs() < 0.1, "{hydration}");
    for rest in [
        "Add the remaining flour and the water.",
        "Mix in the rest of the flour.",
        "Stir in the remaining 350 g strong flour.",
    ] {
        let once = read(&text(&format!("{poolish} {rest}")), &larder);
        assert_eq!(once.components.len(), 1, "{rest}");
    }
    let water = read(
        &text(&format!(
            "{poolish} Stir the remaining water into the flour."
        )),
        &larder,
    );
    assert_eq!(water.components.len(), 2);
    let both = read(
        &text(&format!(
            "{poolish} Make a biga: mix 100 g flour, 62.5 g water and 1 g yeast; leave overnight."
        )),
        &larder,
    );
    let names: Vec<&str> = both.components.iter().map(|c| &*c.name).collect();
    assert_eq!(names, ["", "poolish", "biga"]);
    assert_eq!(both.components[2].lines[1].text, "62.5 g water");
    let taken = both.components[0].lines.iter();
    let taken = taken.filter(|l| l.doubts(DoubtCode::ComponentUnlisted));
    assert_eq!(taken.count(), 2);
}

/// What stands under 'The night before' is the starter that the method names: the next day's dough takes it, 100 + 450 g
/// of flour and 100 + 300 g of water. With salt in it, it is a dough that waits; where no step names it, it stays as it is.
#[test]
fn what_is_mixed_the_night_before_is_the_starter_of_the_method() {
    let text = "Country loaf\nMakes 1 large loaf\n\nThe night before:\n100 g strong white flour\n100 g water\na pinch of instant yeast\n\nThe next day:\n450 g strong white flour\n300 g water\n10 g salt\n3 g instant yeast\n\nThe evening before, stir the flour, water and yeast of the starter together and leave for 12 hours.\nAdd everything else to the starter and mix. Rise for 1 hour. Shape. Prove for 1 hour. Bake at 230C for 40 minutes.\n";
    let r = reworked(text, &Options::default());
    assert_eq!(r.components[0].name, "starter");
    let dough = &r.components[1].original;
    let (flour, hydration) = (dough.flour.likely(), dough.hydration.expect("a dough"));
    assert!((flour.as_grams() - 550.0).abs() < 0.01, "{flour:?}");
    assert!((hydration.likely().get() - 100.0 * 400.0 / 550.0).abs() < 0.1);
    let larder = larder();
    let salted = text.replace("100 g water", "100 g water\n2 g salt");
    let unnamed = text
        .replace("of the starter ", "")
        .replace("the starter", "it");
    for other in [salted, unnamed] {
        assert_ne!(read(&other, &larder).components[0].name, "starter");
    }
}
