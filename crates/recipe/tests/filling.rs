//! What is no dough or batter keeps its liquid, and no free liquid falls far.

mod common;

use common::larder;
use quantity::Locale;
use recipe::DoubtCode;
use recipe::read::Reader;
use recipe::rework::style::Style;
use recipe::rework::{Hold, Kept, Options, Rework, ReworkedComponent, rework};
use recipe::sheet::{Change, Sheet, work};

/// The one sentence or two about a component's water: what the page and the terminal show.
fn story(ingredients: &str, style: &str) -> String {
    let r = reworked("Bake", ingredients, Some(style));
    let c = &r.components[0];
    let said = c.doubts.iter().map(|d| d.message.clone());
    let outside = said.filter(|m| m.starts_with("hydration"));
    c.wetness()
        .into_iter()
        .chain(outside)
        .collect::<Vec<_>>()
        .join(" | ")
}

fn reworked(title: &str, ingredients: &str, style: Option<&str>) -> Rework {
    let text = format!("{title}\n\nIngredients\n{ingredients}\n");
    let reader = recipe::read::Reader::new(larder(), Locale::Us);
    let read = recipe::read::recipe(&text, &reader).expect("reads");
    let formula = recipe::weigh::formula(read, larder(), Locale::Us).expect("weighs");
    let styles = style
        .map(|s| (String::new(), Style::from_key(s).expect("a style")))
        .into_iter()
        .collect();
    let options = Options {
        styles,
        ..Options::default()
    };
    rework(formula, larder(), &options)
}

/// Low, likely and high grams of a line.
fn grams(c: &ReworkedComponent, name: &str) -> [f64; 3] {
    let line = c.lines.iter().find(|l| l.name == name).expect("the line");
    assert_ne!(line.kept, Kept::Dropped);
    let g = line.grams.expect("weighed");
    [g.low(), g.likely(), g.high()].map(quantity::Mass::as_grams)
}

fn water_change(c: &ReworkedComponent) -> &recipe::rework::Change {
    c.changes
        .iter()
        .find(|x| x.what == "water")
        .expect("a change")
}

const PLUMS: &str = "500 g plums\n142 g water\n100 g sugar\n30 g butter\n";

#[test]
fn a_fruit_filling_keeps_its_water_whatever_it_is_taken_for() {
    // Flour of about a twentieth, then of about an eighth with five times its weight of water.
    for flour in ["40 g flour", "110 g flour"] {
        for style in ["butter_cake", "muffin_quick_bread", "pie_pastry"] {
            let r = reworked("Plums", &format!("{PLUMS}{flour}"), Some(style));
            let c = &r.components[0];
            assert_eq!(grams(c, "water"), [142.0; 3], "{flour} {style}");
            let said = water_change(c);
            assert!(said.rule.contains("no dough or batter"), "{}", said.rule);
            assert!(
                c.lines.iter().all(|l| l.name != "xanthan gum"),
                "{flour} {style}"
            );
        }
    }
    // Without a style by hand a doubt asks what it is.
    let r = reworked("Plum cake", &format!("{PLUMS}110 g flour"), None);
    let c = &r.components[0];
    let choice = c.style.expect("flour");
    assert_eq!(grams(c, "water"), [142.0; 3]);
    assert!(
        choice.style.key() == "roux_sauce"
            || c.doubts.iter().any(|d| d.code == DoubtCode::StyleUnsure),
        "{choice:?}"
    );
}

#[test]
fn what_is_a_batter_still_has_its_binder_and_its_water_moved() {
    // A rich fruit cake: a tenth of flour, and a batter all the same.
    let cake = "225 g flour\n225 g butter\n225 g brown sugar\n4 eggs\n900 g raisins\n100 ml milk";
    let r = reworked("Fruit cake", cake, Some("butter_cake"));
    let c = &r.components[0];
    assert!(!water_change(c).rule.contains("no dough or batter"));
    assert!(c.lines.iter().any(|l| l.name == "xanthan gum"));
    // Egg whites carry a sponge that is a seventh flour.
    let angel = "120 g flour\n360 g egg whites\n300 g sugar";
    let r = reworked("Angel sponge", angel, None);
    assert!(
        !water_change(&r.components[0])
            .rule
            .contains("no dough or batter")
    );
}

/// The water of much fruit counts in the hydration, so a tenth of all water may be half of the
/// milk: the milk itself gives a tenth. The low end of its range lies below that by no more than
/// the egg, of a class with a range, leaves open in the original's own hydration.
#[test]
fn the_free_liquid_gives_a_tenth_at_most() {
    for (fruit, milk) in [(300, 120), (350, 90), (400, 60), (450, 40)] {
        let text = format!(
            "250 g flour\n100 g sugar\n80 g butter\n1 egg\n2 tsp baking powder\n{fruit} g blueberries\n{milk} g milk"
        );
        let r = reworked("Blueberry muffins", &text, Some("muffin_quick_bread"));
        let c = &r.components[0];
        let [low, likely, high] = grams(c, "whole milk");
        let least = 0.9 * f64::from(milk) - 1e-9;
        assert!(
            low >= 0.99 * least && likely >= least,
            "{fruit}: {low} {likely}"
        );
        assert!(low <= likely && likely <= high);
    }
    let r = reworked(
        "Blueberry muffins",
        "250 g flour\n100 g sugar\n80 g butter\n1 egg\n2 tsp baking powder\n450 g blueberries\n40 g milk",
        Some("muffin_quick_bread"),
    );
    let said = water_change(&r.components[0]);
    assert!(said.source.contains("a tenth at the most"), "{said:?}");
    // A yeast dough still follows the style's range as far as it leads.
    let dough = reworked(
        "Bread",
        "500 g flour\n650 g water\n7 g yeast\n9 g salt",
        None,
    );
    assert!(grams(&dough.components[0], "water")[1] < 650.0);
}

#[test]
fn meat_and_eggs_with_a_little_flour_are_no_sure_pasta() {
    for meat in [100, 250, 500, 900] {
        let r = reworked(
            "Dinner",
            &format!("200 g almond flour\n2 eggs\n{meat} g chicken breast"),
            None,
        );
        let c = &r.components[0];
        assert!(c.style.expect("flour").confidence < 0.6);
        assert!(c.doubts.iter().any(|d| d.code == DoubtCode::StyleUnsure));
    }
}

#[test]
fn a_trace_is_no_amount() {
    let r = reworked(
        "Bread",
        "500 g flour\n350 g water\n7 g yeast\n0.01 g caster sugar\n9 g salt",
        None,
    );
    let c = &r.components[0];
    assert_eq!((c.original.sugar, c.reworked.sugar), (0.0, 0.0));
    assert!(c.original.salt > 1.7);
}

/// 'It is only a filling': its thickener and hidden gluten go, all else stays, nothing is asked.
#[test]
fn a_filling_is_no_dough() {
    let text = "150 g walnuts\n80 g sugar\n90 g flour\n60 g butter\n50 g digestive biscuits";
    let r = reworked("Walnut filling", text, Some("filling"));
    let c = &r.components[0];
    assert!(c.doubts.is_empty(), "{:?}", c.doubts);
    assert!(!c.is_dough() && c.expected.is_none() && c.wetness().is_none());
    let changed: Vec<&str> = c.changes.iter().map(|x| x.what.as_str()).collect();
    assert_eq!(changed, ["flour", "hidden gluten", "water"]);
    assert!(c.lines.iter().all(|l| l.kept != Kept::New));
    assert_eq!(grams(c, "unsalted butter"), [60.0; 3]);
    // No ratio is ever taken for it.
    for flour in [5, 40, 200, 900] {
        let r = reworked("Filling", &format!("{PLUMS}{flour} g flour"), None);
        assert_ne!(r.components[0].style.expect("flour").style.key(), "filling");
    }
}

/// Two ranges are never shown without a word of which is followed and why they differ.
#[test]
fn the_water_has_one_story() {
    let agrees = story("250 g flour\n125 g butter\n60 g water", "pie_pastry");
    assert!(
        agrees.contains("That lies inside the usual range of pie"),
        "{agrees}"
    );
    assert!(!agrees.contains('|'), "{agrees}");
    let dry = story("250 g flour\n180 g butter\n15 g water", "pie_pastry");
    assert!(dry.contains("is outside the usual range of pie"), "{dry}");
    assert!(
        dry.contains("the original itself is drier than that"),
        "{dry}"
    );
    assert_eq!(dry.matches("26–54 %").count(), 1, "{dry}");
    let held = story(
        "500 g flour\n7 g yeast\n160 g water\n8 g salt",
        "lean_bread",
    );
    assert!(
        held.contains("held at the low end of the published range"),
        "{held}"
    );
    let eggs = story("100 g flour\n200 g water\n80 g butter\n50 g egg", "choux");
    assert!(eggs.contains("outside the usual range of choux"), "{eggs}");
}

#[test]
fn flour_is_a_base_only_where_there_is_enough_of_it() {
    let r = reworked("Filling", "20 g flour\n85 g sugar\n200 g apricots", None);
    assert!(!r.components[0].is_dough() && !r.formula.components[0].is_dough());
    let r = reworked("Filling", "30 g flour\n128 g sugar\n60 g butter", None);
    assert!(!r.components[0].is_dough() && !r.formula.components[0].is_dough());
    let r = reworked(
        "Angel sponge",
        "120 g flour\n360 g egg whites\n300 g sugar",
        None,
    );
    assert!(r.components[0].is_dough() && r.formula.components[0].is_dough());
}

/// Psyllium of 26.6 g is 26.6 g in the table and in the change; the middle has one range.
#[test]
fn a_figure_has_the_same_digits_everywhere() {
    for flour in [501, 511, 532, 537, 549] {
        let text = format!("{flour} g flour\n{} g water\n7 g yeast", flour * 7 / 10);
        let r = reworked("Bread", &text, Some("lean_bread"));
        let c = &r.components[0];
        for line in c.lines.iter().filter(|l| l.kept == Kept::New) {
            let food = line.food.expect("a food");
            let fine = recipe::household::is_fine(larder(), food);
            let shown = recipe::household::weight(line.grams.expect("grams").likely(), fine);
            let said =
                |x: &recipe::rework::Change| x.to.contains(&format!("{shown} {}", line.name));
            assert!(c.changes.iter().any(said), "{shown} {}", line.name);
        }
        let core = c.changes.iter().find(|x| x.what == "core temperature");
        let range = core.and_then(|x| x.range.clone()).expect("a range");
        let (range, _) = range.split_once(" °C").expect("degrees");
        let note = c.method_notes.iter().find(|n| n.rule == "core temperature");
        assert!(
            note.expect("a note").text.contains(&format!("({range})")),
            "{range}"
        );
    }
}

fn of_text(text: &str) -> Rework {
    let sheet = Sheet::new(text, Locale::Us);
    work(&sheet, &[], larder(), &[]).expect("a rework").rework
}

const ROLLS: &str = "Nut rolls\n\nFor the dough:\n500 g bread flour\n7 g dried yeast\n250 g milk\n\n\
    For the filling:\nNUTS\n80 g sugar\n60 g butter\n2 tbsp milk\n\nMethod\n\
    1. Knead the dough and let it rise 1 hour.\n\
    2. Roll out, spread with the filling and roll up.\n3. Bake at 180 °C for 25 minutes.\n";

/// Nuts are no flour of a dough, whoever grinds them: nothing is set by them.
#[test]
fn ground_nuts_of_a_filling_are_no_flour() {
    for (nuts, name) in [
        ("150 g hazelnuts, toasted and ground", "hazelnuts"),
        ("150 g almonds, finely ground", "almonds"),
        ("150 g ground hazelnuts", "hazelnut flour"),
        ("150 g ground almonds", "almond flour"),
    ] {
        let r = of_text(&ROLLS.replace("NUTS", nuts));
        let filling = &r.components[1];
        let weighed = &r.formula.components[1];
        assert_eq!(weighed.flour.likely().as_grams(), 0.0, "{nuts}");
        assert!(weighed.hydration.is_none(), "{nuts}");
        assert_eq!(grams(filling, name), [150.0; 3], "{nuts}");
        assert!(!filling.is_dough(), "{nuts}");
        assert!(filling.doubts.is_empty(), "{nuts} {:?}", filling.doubts);
        assert!(filling.wetness().is_none(), "{nuts}");
        assert!(filling.binding.is_none(), "{nuts}");
        let added = filling.lines.iter().find(|l| l.kept == Kept::New);
        assert!(added.is_none(), "{nuts} {added:?}");
    }
    // A crumb of them is a dough of its own, and bought ground almonds are flour in a cake.
    let crumb = ROLLS.replace("the filling:", "the streusel:");
    let r = of_text(&crumb.replace("NUTS", "150 g ground almonds"));
    assert_eq!(r.formula.components[1].flour.likely().as_grams(), 150.0);
    let cake = "Almond cake\n\n100 g flour\n100 g ground almonds\n3 eggs\n150 g sugar\n";
    let r = of_text(cake);
    assert_eq!(r.formula.components[0].flour.likely().as_grams(), 200.0);
}

fn notes_of(r: &Rework, component: usize) -> String {
    let notes = r.components[component].method_notes.iter();
    notes
        .map(|n| n.text.as_str())
        .collect::<Vec<_>>()
        .join("\n")
}

/// A soft filling never reads like the crumb; where it goes in after the bake nothing is said.
#[test]
fn the_probe_stands_beside_a_filling_that_is_baked() {
    let baked = ROLLS.replace("NUTS", "150 g walnuts");
    let notes = notes_of(&of_text(&baked), 0);
    assert!(notes.contains("Probe beside the filling"), "{notes}");
    let after = baked
        .replace(", spread with the filling and roll up", "")
        .replace(
            "25 minutes.",
            "25 minutes.\n4. Split and spread with the filling.",
        );
    let notes = notes_of(&of_text(&after), 0);
    assert!(notes.contains("Done when the middle reads"), "{notes}");
    assert!(!notes.contains("Probe beside"), "{notes}");
}

/// A sheet is as large as its dough: the page's size is of another.
#[test]
fn a_rolled_sheet_has_the_size_of_its_dough() {
    let text = ROLLS
        .replace("NUTS", "150 g walnuts")
        .replace(
            "250 g milk\n",
            "250 g milk\n60 g sugar\n80 g butter\n1 egg\n",
        )
        .replace("Roll out,", "Roll the dough out to 40 × 30 cm,");
    let r = of_text(&text);
    let made: f64 = r.components[0].makes.likely().as_grams();
    let notes = notes_of(&r, 0);
    assert!(notes.contains("not the page’s 40 × 30 cm"), "{notes}");
    assert!(
        notes.contains(&format!("This dough, {made:.0} g,")),
        "{notes}"
    );
}

/// No binder drinks where there is none.
#[test]
fn only_a_binder_that_is_there_drinks() {
    let steps = "\nMethod\n1. Mix the dough.\n2. Bake at 180 °C for 12 minutes.\n";
    let without = format!("Streusel\n\n150 g flour\n100 g butter\n100 g brown sugar\n{steps}");
    let r = of_text(&without);
    let c = &r.components[0];
    assert_eq!(c.reworked.binder_percent(), 0.0);
    let words = |r: &Rework| {
        let rest = r.components[0].changes.iter().find(|c| c.what == "rest");
        format!(
            "{}\n{}",
            rest.map_or("", |c| c.rule.as_str()),
            notes_of(r, 0)
        )
    };
    let said = words(&r);
    assert!(!said.contains("binder"), "{said}");
    assert!(
        said.contains("the flours drink") && said.contains("lets the flours drink"),
        "{said}"
    );
    let with = format!("Loaf\n\n500 g bread flour\n330 g water\n7 g yeast\n{steps}");
    let said = words(&of_text(&with));
    assert!(said.contains("the binder drinks"), "{said}");
}

/// What the baker holds is not kept anywhere by us.
#[test]
fn a_held_wetness_is_not_kept_by_us() {
    let loaf = "Loaf\n\n500 g bread flour\n330 g water\n7 g yeast\n8 g salt\n";
    let story = |sheet: &Sheet| {
        let w = work(sheet, &[], larder(), &[]).expect("a rework");
        w.rework.components[0].wetness().expect("a dough")
    };
    let free = Sheet::new(loaf, Locale::Us);
    assert!(
        story(&free).contains("It is kept inside"),
        "{}",
        story(&free)
    );
    let now = {
        let w = work(&free, &[], larder(), &[]).expect("a rework");
        let h = w.rework.components[0].reworked.hydration.expect("flour");
        h.likely().get()
    };
    for (line, hold) in [
        ("hydration", Hold::Percent(now)),
        ("hydration", Hold::Percent(now + 4.0)),
        ("water", Hold::Grams(now * 5.0)),
    ] {
        let mut held = free.clone();
        let pin = Change::Pin {
            component: String::new(),
            line: line.to_owned(),
            hold: Some(hold),
        };
        held.change(&pin).expect("held");
        let said = story(&held);
        assert!(
            !said.contains("kept inside") && !said.contains("is held at the"),
            "{said}"
        );
        assert!(said.contains("That lies inside"), "{said}");
    }
}

/// A recipe as it stands, its style guessed; the part asked for.
fn guessed(text: &str, part: usize) -> ReworkedComponent {
    let reader = Reader::new(larder(), Locale::Uk);
    let recipe = recipe::read::recipe(text, &reader).expect("a recipe");
    let formula = recipe::weigh::formula(recipe, larder(), Locale::Uk).expect("a formula");
    let all = rework(formula, larder(), &Options::default()).components;
    all.into_iter().nth(part).expect("the part")
}

/// None of the nine published sauces and fillings holds egg (crates/evidence/data/formulas).
#[test]
fn what_egg_sets_in_the_oven_fits_no_style() {
    for (text, part) in [
        (
            "Cheesecake\n\nBase\n200 g digestive biscuits\n90 g butter\n\nFilling\n600 g cream cheese\n150 g sugar\n2 tbsp plain flour\n3 eggs\n200 ml sour cream\n\nPress the base into a tin. Beat the filling, pour over the base and bake at 160 C for 50 minutes.\n",
            1,
        ),
        (
            "Quark cake\n\n1 kg quark\n200 g sugar\n100 g butter\n5 eggs\n60 g plain flour\n\nMix, pour into a springform tin, bake at 170 C for 60 minutes.\n",
            0,
        ),
        (
            "Custard tart\n\nPastry\n200 g plain flour\n100 g butter\n3 tbsp water\n\nCustard\n500 ml cream\n8 egg yolks\n80 g sugar\n1 tbsp plain flour\n\nLine a tart tin, bake blind at 180 C for 20 minutes. Whisk the custard, pour in and bake at 150 C for 40 minutes.\n",
            1,
        ),
        (
            "Cherry clafoutis\n\n500 g cherries\n3 eggs\n80 g sugar\n60 g plain flour\n250 ml milk\n\nWhisk, pour over the cherries and bake at 180 C for 40 minutes.\n",
            0,
        ),
    ] {
        let c = guessed(text, part);
        let choice = c.style.expect("flour");
        assert!(
            choice.fits_none.is_some() && choice.confidence < 0.5,
            "{text}: {choice:?}"
        );
        assert!(choice.words().starts_with("no style fits: egg sets it"));
        let doubt = c.doubts.iter().find(|d| d.code == DoubtCode::StyleUnsure);
        let doubt = doubt.expect("it is asked");
        assert!(
            doubt.message.contains("all else stays"),
            "{}",
            doubt.message
        );
        let offered = recipe::sheet::answers_rework(doubt, &c);
        assert_eq!(offered[0].words, "only a filling, topping or glaze");
        let mut words: Vec<&str> = offered.iter().map(|a| a.words.as_str()).collect();
        words.sort_unstable();
        words.dedup();
        assert_eq!(words.len(), offered.len(), "each once");
        // Nothing is stirred over heat; only the flour is another.
        let notes: Vec<&str> = c.method_notes.iter().map(|n| n.text.as_str()).collect();
        assert!(
            notes.iter().all(|n| !n.contains("to the boil")),
            "{notes:?}"
        );
        assert!(
            notes.iter().any(|n| n.contains("the middle still wobbles")),
            "{notes:?}"
        );
        assert!(
            c.lines
                .iter()
                .all(|l| l.kept == Kept::Same || l.blend || l.key == "all_purpose_flour"),
            "{:?}",
            c.lines
        );
    }
}

/// Worked by hand: what egg sets wobbles, whatever it is baked in; what a batter is known by is how it rises.
#[test]
fn a_custard_wobbles_beside_puff_pastry_and_a_sponge_in_its_name() {
    let set = |title: &str, end: &str| {
        let text = format!(
            "{title}\n\n500 g leeks\n4 eggs\n300 ml cream\n30 g plain flour\n200 ml milk\n\nWhisk all but the leeks. {end} at 180 C for 40 minutes.\n"
        );
        let notes = guessed(&text, 0).method_notes;
        let says = |w: &str| notes.iter().any(|n| n.text.contains(w));
        (says("middle still wobbles"), says("dry in the middle"))
    };
    for (title, end) in [
        ("Leek custard", "Pour into the puff pastry and bake"),
        ("Leek bake", "Pour into a case of puff pastry and bake"),
        ("Lemon sponge cheesecake", "Pour into a tin and bake"),
        (
            "Plum clafoutis",
            "Pour over the plums and bake until puffed",
        ),
    ] {
        assert_eq!(set(title, end), (true, false), "{title}: {end}");
    }
    for (title, end) in [
        ("Leek soufflé", "Pour into a dish and bake"),
        ("Oven dish", "Pour into a dish and bake until puffed"),
    ] {
        assert_eq!(set(title, end), (false, true), "{title}: {end}");
    }
}

/// What is filled into a bake that is out of the oven is no custard that sets there, whatever else is baked
/// after it is made; what is put into the case before is one.
#[test]
fn a_custard_is_baked_only_where_it_goes_into_the_oven() {
    let buns = |method: &str| {
        format!(
            "Cream buns\n\nVanilla cream\n500 ml milk\n5 egg yolks\n100 g sugar\n40 g plain flour\n\nDough\n500 g strong white flour\n7 g yeast\n300 g water\n\nMethod\n1. Whisk the yolks, sugar and flour. Pour on the hot milk and leave to stand.\n{method}\n"
        )
    };
    for (method, set) in [
        (
            "2. Mix and knead the dough. Let rise 1 hour. Bake at 200 C for 25 minutes.\n3. Cool. Fill the buns with the cream.",
            false,
        ),
        (
            "2. Mix and knead the dough. Let rise 1 hour.\n3. Leave the cream to cool.\n4. Bake the buns at 200 C for 25 minutes. Fill.",
            false,
        ),
        (
            "2. Mix and knead the dough. Let rise 1 hour.\n3. Spoon the cream into the buns and bake at 200 C for 25 minutes.",
            true,
        ),
        (
            "2. Mix and knead the dough. Shape into cases and fill.\n3. Bake at 200 C for 25 minutes.",
            true,
        ),
    ] {
        let choice = guessed(&buns(method), 0).style.expect("flour");
        assert_eq!(choice.fits_none.is_some(), set, "{method}: {choice:?}");
    }
}

/// What is thickened over the heat and then browned in the oven is no custard that sets there; whatever the
/// words for the stove.
#[test]
fn what_is_stirred_on_the_stove_is_no_baked_custard() {
    let cream = |how: &str| {
        let text = format!(
            "Vanilla cream\n\n500 ml milk\n5 egg yolks\n100 g sugar\n40 g plain flour\n\nMethod\n1. Whisk all together. {how}.\n2. Spoon into dishes and bake at 220 C for 5 minutes.\n"
        );
        guessed(&text, 0).style.expect("flour")
    };
    for how in [
        "Cook, stirring, until it coats a spoon",
        "Cook, whisking hard, for 5 minutes",
        "Cook until it is smooth",
        "Cook over hot water",
        "Heat until it coats a spoon",
        "Heat, stirring all the time",
        "Warm it on a small flame",
        "Warm it on a gentle heat",
    ] {
        let choice = cream(how);
        assert_eq!(choice.fits_none, None, "{how}: {choice:?}");
    }
    assert!(cream("Leave to stand").fits_none.is_some());
}

/// A custard 'until the filling is just set' bakes no longer; a case that is filled in the same step is empty
/// until then.
#[test]
fn a_filling_that_sets_is_not_poured_in_later() {
    let tart = |bake: &str| {
        let text = format!(
            "Milk Tart\n\nPastry\n200 g plain flour\n100 g butter\n40 g water\n\nFilling\n500 g milk\n4 eggs\n80 g sugar\n\n1. Rub the butter into the flour, add the water, roll out and line a 23 cm tart tin.\n2. Whisk the filling. Pour it in.\n3. {bake}\n"
        );
        let notes = guessed(&text, 0).method_notes;
        notes.iter().any(|n| {
            n.text
                .contains("30 minutes and then 10 minutes at 160 °C / 325 °F: no longer")
        })
    };
    for until in ["the filling is", "it is", "the spoonable middle is"] {
        let bake = format!(
            "Bake at 160 °C for 30 minutes until {until} just set at the edge, then turn the tin and bake for 10 minutes more."
        );
        assert!(tart(&bake), "{until}");
    }
    assert!(!tart(
        "Bake at 160 °C for 30 minutes, fill and bake for 10 minutes more until just set."
    ));
}

#[test]
fn a_sauce_is_surer_than_what_no_published_sauce_has() {
    let white = "White sauce\n\n50 g butter\n50 g plain flour\n600 ml milk\n\nMelt, stir in the flour, add the milk and simmer 5 minutes.\n";
    let choice = guessed(white, 0).style.expect("flour");
    assert!(
        choice.confidence > 0.9 && choice.fits_none.is_none(),
        "{choice:?}"
    );
    let cream = "Vanilla cream\n\n500 ml milk\n5 egg yolks\n100 g sugar\n40 g plain flour\n\nBoil the milk, whisk into the rest, boil again, stirring.\n";
    let c = guessed(cream, 0);
    let choice = c.style.expect("flour");
    assert_eq!(choice.style.key(), "roux_sauce");
    assert!(
        choice.fits_none.is_none() && choice.confidence <= 0.6,
        "{choice:?}"
    );
    assert!(
        c.method_notes
            .iter()
            .any(|n| n.text.contains("to the boil"))
    );
    // Choux, a meringue and a crumble are no custard.
    for text in [
        "Choux buns\n\n75 g butter\n200 ml water\n100 g plain flour\n3 eggs\n\nBoil the water and butter, beat in the flour and eggs. Bake at 200 C for 25 minutes.\n",
        "Meringue\n\n4 egg whites\n220 g sugar\n1 tsp cornflour\n\nWhisk. Bake at 120 C for 75 minutes.\n",
        "Crumble topping\n\n200 g plain flour\n100 g butter\n100 g sugar\n\nRub in and bake at 190 C for 35 minutes.\n",
    ] {
        let c = guessed(text, 0);
        assert_eq!(c.style.and_then(|s| s.fits_none), None, "{text}");
        assert!(
            c.method_notes.iter().all(|n| !n.text.contains("wobbles")),
            "{text}"
        );
    }
}

/// Wheat starch in a meringue becomes as much maize starch: no blend, no style, no water is moved.
#[test]
fn the_wheat_starch_of_a_meringue_becomes_maize_starch() {
    let text = "Meringue\n\n4 egg whites\n220 g sugar\n8 g wheaten cornflour\n\nWhisk. Bake at 120 C for 75 minutes.\n";
    let c = guessed(text, 0);
    assert!(c.style.is_none(), "{:?}", c.style);
    let corn = larder().by_key("corn_starch");
    let line = c
        .lines
        .iter()
        .find(|l| l.food == corn)
        .expect("maize starch");
    assert_eq!(line.grams.map(|g| g.likely().as_grams()), Some(8.0));
    assert!(c.lines.iter().all(|l| !l.blend && l.kept != Kept::Dropped));
}

/// What is poured or dipped round meat or fish is a batter: as thin as those of pancakes, with as much
/// liquid as flour at least. A little flour in a stew is none (common practice, no source).
#[test]
fn a_batter_round_meat_or_fish_is_a_batter() {
    let guess = |text: &str| {
        let choice = guessed(text, 0).style.expect("flour");
        (choice.style.key().to_owned(), choice.fits_none.is_some())
    };
    let pancake = ("pancake_crepe".to_owned(), false);
    for text in [
        "Fish\n\nIngredients\n150 g plain flour\n720 g cod\n250 ml sparkling water\n1 tsp baking powder\n\nMethod\n1. Whisk flour and water to a batter.\n2. Dip the cod and fry.\n",
        "Toad\n\nIngredients\n140 g plain flour\n2 eggs\n175 ml milk\n12 chipolatas\n\nMethod\n1. Whisk flour, eggs and milk. Brown the sausages, pour it over and bake for 30 minutes.\n",
    ] {
        assert_eq!(guess(text), pancake, "{text}");
    }
    let stew = "Stew\n\nIngredients\n40 g plain flour\n800 g stewing beef\n500 ml beef stock\n\nMethod\n1. Toss the beef in the flour, add the stock and simmer for 2 hours.\n";
    assert_ne!(guess(stew).0, "pancake_crepe");
}

/// A curd that is made before a sponge bakes, and goes between its layers after it, is in no crumb to probe.
#[test]
fn no_probe_stands_beside_what_goes_on_afterwards() {
    let r = of_text(
        "Lemon layer cake\n\nFor the curd filling\n100 ml lemon juice\n3 egg yolks\n100 g caster sugar\n60 g butter\n\nFor the sponge\n225 g butter\n225 g caster sugar\n4 eggs\n225 g self-raising flour\n2 tbsp milk\n\nMethod\n1. To make the curd, stir juice, yolks, sugar and butter in a pan over a low heat for 8 minutes until it coats a spoon. Chill.\n2. Heat the oven to 180 C. Beat the butter with the sugar, add the eggs, fold in the flour and the milk. Divide between two 20 cm tins and bake for 22 minutes.\n3. Sandwich the cold cakes with the curd.\n",
    );
    let sponge = r.components.iter().position(|c| c.name == "sponge");
    let notes = notes_of(&r, sponge.expect("a sponge"));
    assert!(
        notes.contains("95") && !notes.contains("Probe beside"),
        "{notes}"
    );
}
