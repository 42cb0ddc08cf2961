//! Ten ways to harm the user, those that reading, weighing and reworking could commit. (Passing a
//! gluten line, claiming too much, wrong allergens, name collisions: `tests/screen.rs`.)

#![allow(clippy::panic, reason = "tests stop by panicking")]

#[path = "harms/named.rs"]
mod named;

use larder::Larder;
use quantity::Locale;
use recipe::read::{Reader, recipe};
use recipe::rework::{Options, Rework, rework};
use recipe::{DoubtCode, weigh};

fn larder() -> Larder {
    Larder::built_in().expect("the built-in tables")
}

fn formula(text: &str, locale: Locale) -> weigh::Formula {
    let larder = larder();
    let read = recipe(text, &Reader::new(&larder, locale)).expect("a recipe");
    weigh::formula(read, &larder, locale).expect("a formula")
}

fn reworked(text: &str) -> Rework {
    rework(formula(text, Locale::Us), &larder(), &Options::default())
}

/// Likely grams of one ingredient line, with low and high.
fn grams(line: &str, locale: Locale) -> (f64, f64, f64) {
    let larder = larder();
    let read = Reader::new(&larder, locale).line(line);
    let (weighed, _) = weigh::line(&read, &larder, locale);
    let g = weighed
        .first()
        .and_then(|w| w.grams)
        .unwrap_or_else(|| panic!("{line} has no weight"));
    (
        g.low().as_grams(),
        g.likely().as_grams(),
        g.high().as_grams(),
    )
}

const BUNS: &str = "Plain buns\n\nDough\n500 g bread flour\n7 g instant yeast\n8 g salt\n240 g whole milk\n100 g egg\n80 g unsalted butter\n40 g honey\n\nMethod\n1. Mix and knead for 10 minutes.\n2. Let rise until doubled, about 1 hour. Punch down.\n3. Shape, cover and leave in the fridge overnight to rise.\n4. Bake at 190 °C for 20 minutes.\n";

/// Harm 5: cup for cup. Twenty flours weigh 75–170 g a cup; weight stays, volume moves.
#[test]
fn flour_is_replaced_by_weight() {
    let r = reworked(
        "Cake\n\n2 cups all-purpose flour\n1 cup sugar\n2 eggs\n1 cup milk\n1/2 cup butter\n2 tsp baking powder\n",
    );
    let before = r.components[0].original.flour.likely().as_grams();
    let after = r.components[0].reworked.flour.likely().as_grams();
    assert!(
        (before - 250.0).abs() < 1.0,
        "two cups of USDA 20081 are 250 g, not {before}"
    );
    assert!((after / before - 1.0).abs() < 1e-9);
}

/// Harm 5: salt by the spoon. Table salt 6.0 g (USDA SR28 02047, seen); hollow-flake kosher 2.8 g,
/// dense-flake 4.8 g (from memory): the word alone must span both.
#[test]
fn kosher_salt_by_the_spoon_spans_its_kinds() {
    let (low, _, high) = grams("1 tsp kosher salt", Locale::Us);
    assert!(low <= 2.8 && high >= 4.8, "{low}–{high}");
    let (_, table, _) = grams("1 tsp salt", Locale::Us);
    assert!((table - 6.0).abs() < 0.05);
}

/// Harm 5: a stated weight wins over a volume, and twins that contradict are a doubt with both.
#[test]
fn a_stated_weight_wins() {
    assert!((grams("1 cup (150 g) flour", Locale::Au).1 - 150.0).abs() < 1e-9);
    let larder = larder();
    let read = Reader::new(&larder, Locale::Us).line("1 cup (300 g) all-purpose flour");
    let (_, doubts) = weigh::line(&read, &larder, Locale::Us);
    let twin = doubts
        .iter()
        .find(|d| d.code == DoubtCode::TwinDisagrees)
        .expect("a doubt");
    assert!(
        twin.message.contains("300 g") && twin.message.contains("120–145 g"),
        "{}",
        twin.message
    );
    // A count is said with what it counts: '3' alone is nothing to a baker.
    let read = Reader::new(&larder, Locale::Us).line("3 medium leeks (about 1 lb), sliced");
    let (_, doubts) = weigh::line(&read, &larder, Locale::Us);
    let twin = doubts.iter().find(|d| d.code == DoubtCode::TwinDisagrees);
    let told = &twin.expect("a doubt").message;
    assert!(told.contains("'3 medium leeks' is "), "{told}");
}

/// Harm 5: an Australian tablespoon is 20 mL, a third more than the others.
#[test]
fn spoons_differ_by_country() {
    let au = grams("3 tablespoons honey", Locale::Au).1;
    let uk = grams("3 tablespoons honey", Locale::Uk).1;
    assert!((au / uk - 4.0 / 3.0).abs() < 0.01, "{au} against {uk}");
}

/// Harm 6: all water counts, once. Worked example of the trade rules (R5.3): 500 g flour, 240 g
/// milk, 100 g egg, 80 g unsalted butter, 40 g honey hold 308.854 g water by USDA SR28, 61.77 %.
#[test]
fn egg_milk_butter_and_honey_are_water_too() {
    let text =
        "Dough\n\n500 g flour\n240 g whole milk\n100 g egg\n80 g unsalted butter\n40 g honey\n";
    let f = formula(text, Locale::Us);
    let dough = &f.components[0];
    assert!(
        (dough.water.likely().as_grams() - 308.854).abs() < 0.01,
        "{:?}",
        dough.water
    );
    let h = dough.hydration.expect("flour").likely().get();
    assert!((h - 61.77).abs() < 0.01, "{h}");
}

/// Harm 6: the water the rework says is the water its lines hold: nothing added twice or lost.
#[test]
fn the_reworked_water_adds_up() {
    let larder = larder();
    let r = reworked(BUNS);
    let c = &r.components[0];
    let flour = c.reworked.flour.likely().as_grams();
    let water: f64 = c
        .lines
        .iter()
        .filter(|l| l.in_formula && l.kept != recipe::rework::Kept::Dropped)
        .filter_map(|l| {
            let food = l.food?;
            let wet = weigh::counts_as_wet(&larder, food) && !larder.food(food).is_flour_phase();
            let share = larder.composition(food).water.unwrap_or(0.0) / 100.0;
            wet.then(|| l.grams.map(|g| g.likely().as_grams() * share))?
        })
        .sum();
    let expected = c.expected.expect("an expectation").hydration.likely;
    assert!(
        (100.0 * water / flour - expected).abs() < 0.5,
        "{} against {expected}",
        100.0 * water / flour
    );
}

/// Harm 7: a core temperature that cannot be reached, or wheat's as done. At 1,609 m water boils
/// at 94.7 °C (ISA and Antoine), so 98 °C is never asked for without the boiling point.
#[test]
fn a_core_temperature_minds_the_boiling_point() {
    let r = reworked(BUNS);
    let c = &r.components[0];
    let notes: Vec<&str> = c
        .method_notes
        .iter()
        .map(|n| n.text.as_str())
        .filter(|t| t.contains("middle reads"))
        .collect();
    assert!(!notes.is_empty());
    assert!(notes.iter().all(|t| t.contains("boiling")), "{notes:?}");
    let core = c
        .changes
        .iter()
        .find(|x| x.what == "core temperature")
        .expect("a change");
    assert!(core.range.as_ref().is_some_and(|r| r.contains("boiling")));
    let lean = reworked("Loaf\n\n500 g bread flour\n330 g water\n7 g instant yeast\n9 g salt\n");
    let core = lean.components[0]
        .changes
        .iter()
        .find(|x| x.what == "core temperature")
        .expect("a change");
    let likely: f64 = core.to.trim_end_matches(" °C").parse().expect("degrees");
    assert!(
        likely > 93.0,
        "wheat's 88–93 °C leaves a raw middle: {likely}"
    );
}

/// Harm 8: over-proofing. No doubling, no second rise, no knocking back.
#[test]
fn the_dough_is_not_over_proofed() {
    let c = &reworked(BUNS).components[0];
    let end = c
        .changes
        .iter()
        .find(|x| x.what == "end of the rise")
        .expect("a change");
    let to: f64 = end
        .to
        .split(' ')
        .next()
        .and_then(|n| n.parse().ok())
        .expect("a number");
    assert!(to < 2.0, "{}", end.to);
    let rises = c
        .changes
        .iter()
        .find(|x| x.what == "rises")
        .expect("two rises become one");
    assert_eq!((rises.from.as_str(), rises.to.as_str()), ("2", "1"));
    assert!(c.method_notes.iter().any(|n| n.text.contains("knock")));
}

/// Harm 9: an egg and milk dough held cold carries the limits (Food Code and USDA advice, seen).
#[test]
fn an_overnight_egg_dough_is_held_cold_and_not_long() {
    let c = &reworked(BUNS).components[0];
    let cold: Vec<&str> = c
        .method_notes
        .iter()
        .map(|n| n.text.as_str())
        .filter(|t| t.contains("5 °C"))
        .collect();
    assert!(
        cold.iter()
            .any(|t| t.contains("24 hours") && t.contains("local rules")),
        "{:?}",
        c.method_notes.iter().map(|n| &n.text).collect::<Vec<_>>()
    );
}

/// Harm 10: every change carries its source, every figure its range.
#[test]
fn nothing_is_changed_without_a_source() {
    let r = reworked(BUNS);
    for c in &r.components {
        assert!(!c.changes.is_empty());
        for x in &c.changes {
            assert!(
                !x.source.trim().is_empty() && !x.rule.trim().is_empty(),
                "{x:?}"
            );
        }
        let water = c
            .changes
            .iter()
            .find(|x| x.what == "water")
            .expect("a change");
        assert!(water.range.is_some());
        let h = c.reworked.hydration.expect("flour");
        assert!(h.low().get() < h.likely().get() && h.likely().get() < h.high().get());
    }
}

/// Harm 6: a starter at equal weights is half flour, half water (common practice, no source):
/// 100 g of it with 100 g flour and 100 g water make 150 g flour and 150 g water.
#[test]
fn a_starter_is_flour_and_water() {
    let f = formula(
        "Loaf\n\n100 g sourdough starter\n100 g flour\n100 g water\n",
        Locale::Us,
    );
    let c = &f.components[0];
    assert!((c.flour.likely().as_grams() - 150.0).abs() < 1e-9);
    assert!((c.hydration.expect("flour").likely().get() - 100.0).abs() < 0.2);
}

/// Harm 6: a poolish is part of the dough: 100 g flour and 100 g water of it, with 400 g flour and
/// 230 g water more, make 500 g flour at 66 %, before and after weighing by parts.
#[test]
fn a_preferment_belongs_to_the_dough() {
    let text = "Loaf\n\nPoolish:\n100 g bread flour\n100 g water\n\nFinal dough:\nall of the poolish\n400 g bread flour\n230 g water\n7 g instant yeast\n9 g salt\n";
    let f = formula(text, Locale::Us);
    let dough = &f.components[1];
    assert!(
        (dough.flour.likely().as_grams() - 500.0).abs() < 1e-6,
        "{:?}",
        dough.flour
    );
    let yeast = 7.0 * 0.0508;
    let h = dough.hydration.expect("flour").likely().get();
    assert!((h - (330.0 + yeast) / 5.0).abs() < 0.15, "{h}");
    let r = rework(f, &larder(), &Options::default());
    let poolish = &r.components[0];
    let wet = |b: &recipe::rework::Balance| b.hydration.expect("flour").likely().get();
    let (before, after) = (wet(&poolish.original), wet(&poolish.reworked));
    assert!(
        (before - after).abs() < 1e-6,
        "a preferment keeps its water: {before} {after}"
    );
    assert!(poolish.reworked.binders.is_empty());
    let dough = &r.components[1];
    assert!((dough.reworked.flour.likely().as_grams() - 500.0).abs() < 1e-6);
    let psyllium = dough.reworked.binders.iter().map(|b| b.1).sum::<f64>();
    assert!(
        psyllium > 4.0,
        "the binder is dosed on all of the flour: {psyllium}"
    );
}

/// Harm 6: a thin cake batter stays thin. In the published pairs no author who swapped flours in a
/// cake, batter, biscuit or choux took away more than a tenth of its water.
#[test]
fn a_named_liquid_is_not_thrown_away() {
    let r = reworked(
        "Chocolate cake\n\n200 g all-purpose flour\n300 g sugar\n60 g cocoa powder\n2 eggs\n100 g oil\n240 g buttermilk\n240 g brewed coffee\n2 tsp baking powder\n1 tsp baking soda\n",
    );
    let c = &r.components[0];
    let (before, after) = (
        c.original.hydration.expect("flour"),
        c.reworked.hydration.expect("flour"),
    );
    let ratio = after.likely().get() / before.likely().get();
    assert!((0.895..=1.1).contains(&ratio), "{ratio}");
}

/// Found by fuzzing: a saved page's recipe, taken without the reader's own refusal, must not make
/// a weight of '201/00 g'.
#[test]
fn an_impossible_number_stays_unweighed() {
    let larder = larder();
    let page = r#"<script type="application/ld+json">{"@type":"Recipe","name":"Tart","recipeIngredient":["201/00 g plain flour","100 g butter"]}</script>"#;
    let read = recipe::read::page(page, &Reader::new(&larder, Locale::Us)).expect("a recipe");
    let f = weigh::formula(read, &larder, Locale::Us).expect("a formula");
    assert!(f.components[0].items[0].grams.is_none());
    assert_eq!(f.components[0].unweighed, 1);
}

/// Harm 10: a weight in brackets behind a container can be of one or of all. A packet of dry yeast
/// weighs 7 g (USDA SR28 18375: 7.2 g), so 14 g is both packets; half a jar's 170 g is the half's.
#[test]
fn a_bracket_behind_a_container_is_not_multiplied_blindly() {
    assert!((grams("2 packets (14 g) instant yeast", Locale::Us).1 - 14.0).abs() < 1e-9);
    assert!((grams("half a jar (about 170 g) cherry jam", Locale::Us).1 - 170.0).abs() < 1e-9);
    assert!((grams("2 cans (400 g each) tomatoes", Locale::Uk).1 - 800.0).abs() < 1e-9);
    let larder = larder();
    let read = Reader::new(&larder, Locale::Us).line("2 jars (340 g) apricot jam");
    assert!(read.doubts(DoubtCode::SizeOnLabel), "{:?}", read.doubts);
}

/// Harm 10: a packet of yeast is its printed 7 g, however its spoons are written beside it; by the
/// spoon, dry yeast is no quarter too heavy. The range still holds the published 4 g a teaspoon.
#[test]
fn a_packet_of_yeast_weighs_what_is_printed_on_it() {
    for text in [
        "1 pkg. active dry yeast",
        "1 pkg. (2 1/4 tsp) active dry yeast",
        "1 package (2 1/4 teaspoons) active dry yeast",
        "1 packet (1/4 oz) active dry yeast",
        "2 1/4 tsp (1 packet) active dry yeast",
        "1 sachet (2 1/4 tsp) instant yeast",
    ] {
        let (low, likely, high) = grams(text, Locale::Us);
        assert!((likely - 7.0).abs() < 0.1, "{text}: {likely}");
        assert!(high - low <= 1.0, "{text}: {low}-{high}");
    }
    let two = grams("2 packages (4 1/2 tsp) active dry yeast", Locale::Us).1;
    assert!((two - 14.0).abs() < 0.1, "{two}");
    let (low, likely, high) = grams("1 tsp active dry yeast", Locale::Us);
    assert!((likely - 3.15).abs() < 0.01 && low < 3.0 && high >= 4.0);
    // Spoons that are no such packet's stand as written, with a question.
    let larder = larder();
    let read = Reader::new(&larder, Locale::Us).line("1 packet (2 tbsp) active dry yeast");
    let (weighed, doubts) = weigh::line(&read, &larder, Locale::Us);
    let likely = weighed[0].grams.expect("weighed").likely().as_grams();
    assert!((likely - 18.9).abs() < 0.1, "{likely}");
    assert!(
        doubts.iter().any(|d| d.code == DoubtCode::TwinDisagrees),
        "{doubts:?}"
    );
}

/// A cube of stock or yeast and a sachet of gelatine are as the country's shops sell them.
#[test]
fn a_piece_is_the_country_s_own() {
    for (text, us, uk) in [
        ("1 stock cube", 4.8, 10.0),
        ("2 chicken stock cubes", 9.6, 20.0),
        ("1 sachet gelatine", 7.0, 12.0),
        // An American cake, 0.6 oz (USDA SR28 18374); a European cube (42 g printed on it).
        ("1 cake fresh yeast", 17.0, 42.0),
        ("1/2 cube of fresh yeast", 8.5, 21.0),
    ] {
        assert!((grams(text, Locale::Us).1 - us).abs() < 0.1, "{text}");
        for locale in [Locale::Uk, Locale::Au] {
            let got = grams(text, locale).1;
            assert!((got - uk).abs() < 0.1, "{text}: {got}");
        }
    }
    // A can of beer: 12 fl oz (USDA SR28 14003), 440 mL, 375 mL.
    for (locale, can) in [
        (Locale::Us, 356.0),
        (Locale::Uk, 442.0),
        (Locale::Au, 377.0),
    ] {
        let got = grams("1/2 can of beer", locale).1;
        assert!((got - can / 2.0).abs() < 0.5, "{locale:?}: {got}");
    }
}

/// Harm 5: 'plus 1 white' is the white of an egg, 33 g (USDA SR28 01124), not an egg.
#[test]
fn a_bare_white_is_of_an_egg() {
    let larder = larder();
    let read = Reader::new(&larder, Locale::Us).line("2 large eggs plus 1 white");
    let (weighed, _) = weigh::line(&read, &larder, Locale::Us);
    let all: f64 = weighed
        .iter()
        .filter_map(|w| w.grams)
        .map(|g| g.likely().as_grams())
        .sum();
    assert!((all - 133.0).abs() < 0.5, "{all}");
}

/// Harm 10: a measure nobody knows is not one piece. A sleeve of crackers is no cracker.
#[test]
fn an_unknown_measure_is_not_one_piece() {
    let larder = larder();
    for text in [
        "1 sleeve saltines",
        "1 frail raisins",
        "2 punnets strawberries",
    ] {
        let read = Reader::new(&larder, Locale::Us).line(text);
        let (weighed, _) = weigh::line(&read, &larder, Locale::Us);
        assert!(weighed[0].food.is_some(), "{text}");
        assert!(weighed[0].grams.is_none(), "{text}: {:?}", weighed[0].grams);
        assert!(
            read.doubts(DoubtCode::LooseMeasure),
            "{text}: {:?}",
            read.doubts
        );
    }
    assert!((grams("2 Bramley apples", Locale::Uk).1 - 300.0).abs() < 120.0);
}

/// Harm 1: a line that carries gluten never stays without a way out. Every food of the larder that
/// holds gluten goes into a recipe as a topping of its own: it is replaced by something that does
/// not hold it, or a doubt says what to do.
#[test]
fn each_carrier_of_gluten_has_a_way_out() {
    let larder = larder();
    let carriers: Vec<&larder::Food> = larder
        .ids()
        .map(|id| larder.food(id))
        .filter(|f| f.gluten == larder::Gluten::Contains)
        .collect();
    assert!(carriers.len() > 80, "only {} carriers", carriers.len());
    let lines: Vec<String> = carriers
        .iter()
        .map(|f| format!("50 g {}", f.name))
        .collect();
    let text = format!(
        "Plain cake\n\nCake\n250 g plain flour\n200 g sugar\n4 eggs\n\nTopping\n{}\n",
        lines.join("\n")
    );
    let r = reworked(&text);
    let screened = r.screen(&larder);
    let mut silent: Vec<String> = Vec::new();
    for food in carriers {
        let left = screened.findings.iter().any(|f| {
            f.component == 1
                && f.verdict == larder::Gluten::Contains
                && f.food.is_some_and(|id| larder.food(id).key == food.key)
        });
        let told = r.components[1].doubts.iter().any(|d| {
            d.code == DoubtCode::NoReplacement
                && d.message
                    .starts_with(&format!("{} contains gluten", food.name))
                // The words for a food of the kitchen's own, of which nothing more is known.
                && !d.message.ends_with("find a version labelled gluten-free")
        });
        if left != told {
            silent.push(food.key.clone());
        }
    }
    // Wheat starch made for gluten-free baking stays, with its own caution.
    silent.retain(|k| k != "wheat_starch_gf");
    assert!(silent.is_empty(), "without a way out: {silent:?}");
}

/// Harm 1 and 3: what the larder does not know, but whose name holds a carrier of gluten, is told
/// from what merely is unknown; and what it may bring is looked for on its label.
#[test]
fn an_unknown_food_is_judged_by_the_names_in_it() {
    let larder = larder();
    let f = formula(
        "Cake\n\n250 g plain flour\n200 g sugar\n1 tbsp soy sauce caramel\n1 tbsp zumblefruit\n",
        Locale::Us,
    );
    let s = recipe::screen::screen(&f, &larder, None);
    let of = |words: &str| {
        s.findings
            .iter()
            .find(|f| f.words.contains(words))
            .unwrap_or_else(|| panic!("no finding of {words}"))
    };
    assert!(
        of("caramel").reason.contains("'soy sauce'"),
        "{:?}",
        of("caramel")
    );
    assert!(of("caramel").reason.contains("take it to hold gluten"));
    assert_eq!(
        of("zumblefruit").reason,
        "not in the larder: check the label"
    );
    let soy = s
        .allergens
        .iter()
        .find(|a| a.allergen == larder::Allergen::Soy);
    assert!(
        soy.is_some_and(|a| a.from.iter().any(|w| w.contains("soy sauce caramel"))),
        "{soy:?}"
    );
}

/// Harm 3: an allergen that the rework brings in is said, with what brings it; one that was there
/// before is not news.
#[test]
fn an_allergen_that_the_rework_brings_is_said() {
    // The kitchen's molasses is sulphured; of any other only the label can tell.
    let sulphured = larder::OwnEntry {
        key: "molasses".to_owned(),
        allergens: vec!["sulphites".to_owned()],
        ..larder::OwnEntry::default()
    };
    let ours = larder().with_own(&[sulphured]).expect("a good entry");
    let brought = |more: &str, larder: &Larder| {
        let text = format!(
            "Cake\n\n250 g plain flour\n200 g sugar\n200 g butter\n4 eggs\n50 g malt extract\n{more}"
        );
        let read = recipe(&text, &Reader::new(larder, Locale::Us)).expect("a recipe");
        let f = weigh::formula(read, larder, Locale::Us).expect("a formula");
        let r = rework(f, larder, &Options::default());
        let before = recipe::screen::screen(&r.formula, larder, None);
        r.screen(larder).brought(&before)
    };
    assert_eq!(brought("", &ours), ["sulphites (molasses)"]);
    assert!(brought("20 g molasses\n", &ours).is_empty());
    assert!(brought("", &larder()).is_empty());
}

/// Harm 2: flours free by nature, milled beside wheat, give a recipe no clean verdict (7 of 22
/// unlabelled samples above 20 ppm: Thompson, Lee, Grace 2010); what nobody mills gives one.
#[test]
fn unlabelled_flours_are_no_clearance() {
    let larder = larder();
    let told = |text: &str| reworked(text).screen(&larder).told(&larder);
    let shortbread = "Shortbread\n\n200 g white rice flour\n100 g butter\n50 g sugar\n";
    assert_eq!(told(shortbread), "buy milled foods labelled");
    assert_eq!(
        told("Syrup\n\n100 g sugar\n100 g water\n"),
        "free by nature"
    );
    assert_eq!(
        told("Broth\n\n100 g seitan\n100 g water\n"),
        "contains gluten"
    );
    assert_eq!(
        told("Cake\n\n100 g sorghum flour\n4 eggs\n"),
        "check the label"
    );
}

/// Milk that is only 'enough to make a dough' was counted as none, and the yogurt went from 100 to 410 g to make up
/// for it.
#[test]
fn a_liquid_without_a_weight_moves_no_other() {
    let naan = |milk: &str| {
        let text = format!(
            "Naan\n\n500 g plain flour\n1 tsp baking powder\n1 tsp salt\n100 g yogurt\n{milk}Mix all with enough milk to make a soft dough. Rest 1 hour and bake at 250 °C for 6 minutes.\n"
        );
        let r = reworked(&text);
        let water = r.components[0].changes.iter().find(|c| c.what == "water");
        let line = |key: &str| {
            let mut lines = r.components[0].lines.iter();
            let line = lines.find(|l| l.name.contains(key)).expect(key);
            line.grams.map(|g| g.likely().as_grams())
        };
        (line("yogurt"), water.expect("a change").rule.clone())
    };
    for milk in ["\n", "1 katori milk\n\n"] {
        let (yogurt, why) = naan(milk);
        assert!((yogurt.expect("weighed") - 100.0).abs() < 0.1, "{yogurt:?}");
        assert!(why.contains("milk has no weight"), "{why}");
    }
    // Weighed, the liquid follows the style as ever.
    let (_, why) = naan("200 g milk\n\n");
    assert!(!why.contains("no weight"), "{why}");
}
