//! The gate: gluten, ppm and allergens of whole recipes, against the project's tables.

#[path = "screen/beside.rs"]
mod beside;
#[path = "screen/choice.rs"]
mod choice;
mod common;
#[path = "screen/hidden.rs"]
mod hidden;
#[path = "screen/names.rs"]
mod names;
#[path = "screen/oats.rs"]
mod oats;
#[path = "screen/ppm.rs"]
mod ppm;
#[path = "screen/stove.rs"]
mod stove;
#[path = "screen/table.rs"]
mod table;
#[path = "screen/words.rs"]
mod words;

use common::larder;
use larder::allergen::Regime;
use larder::{Allergen, Certainty, FoodId, Gluten, Larder};
use quantity::{Locale, Mass, Ratio, Spread};
use recipe::screen::{Entry, Portion, Screening, lines, screen};

/// What a food is called in a country changes nothing of what is judged of it.
#[test]
fn judgements_are_the_same_in_every_countrys_words() {
    type Judged<'a> = (Gluten, Vec<(larder::Allergen, bool)>, Vec<&'a str>);
    fn judged(s: &Screening) -> Judged<'_> {
        let allergens = s.allergens.iter().map(|a| (a.allergen, a.certain));
        let cautions = s.cautions.iter().map(|c| c.code).collect();
        (s.verdict, allergens.collect(), cautions)
    }
    let plain = larder();
    let buns = include_str!("../../../examples/apricot-almond-buns.txt");
    let cake = include_str!("../../../examples/lemon-yoghurt-cake.txt");
    for locale in Locale::ALL {
        let there = plain.clone().in_words_of(locale);
        for id in plain.ids() {
            let of = |l: &Larder| lines([Entry::new(&l.food(id).name, id, None)], l, None);
            let (here, other) = (of(plain), of(&there));
            assert_eq!(judged(&here), judged(&other), "{}", there.food(id).name);
        }
        // A whole recipe: the same grams of the same foods, the same bounds.
        for text in [buns, cake] {
            let worked = |l: &Larder| {
                let sheet = recipe::sheet::Sheet::new(text, locale);
                recipe::sheet::work(&sheet, &[], l, &[]).expect("works")
            };
            let (here, other) = (worked(plain), worked(&there));
            for (a, b) in [
                (&here.screening, &other.screening),
                (&here.rework_screening, &other.rework_screening),
            ] {
                assert_eq!(judged(a), judged(b), "{locale:?}");
                assert_eq!((a.ppm.low, a.ppm.high), (b.ppm.low, b.ppm.high));
            }
            let grams = |w: &recipe::sheet::Worked| -> Vec<(String, Option<Spread<Mass>>)> {
                let lines = w.rework.components.iter().flat_map(|c| &c.lines);
                lines.map(|l| (l.key.clone(), l.grams)).collect()
            };
            assert_eq!(grams(&here), grams(&other));
        }
    }
}

/// Screens ingredient lines as a recipe.
fn of(ingredients: &str) -> Screening {
    of_text(
        &format!("Test kitchen bake\n\nIngredients\n{ingredients}\n"),
        None,
    )
}

fn of_text(text: &str, loss: Option<Spread<Ratio>>) -> Screening {
    let larder = larder();
    let reader = recipe::read::Reader::new(larder, Locale::Us);
    let read = recipe::read::recipe(text, &reader).expect("reads");
    let formula = recipe::weigh::formula(read, larder, Locale::Us).expect("weighs");
    screen(&formula, larder, loss)
}

fn loss(part: f64) -> Option<Spread<Ratio>> {
    Some(Spread::exact(Ratio::new(part)))
}

fn grams(g: f64) -> Spread<Mass> {
    Spread::exact(Mass::grams(g))
}

fn portion(g: f64, low: f64, high: f64) -> Portion {
    Portion {
        grams: grams(g),
        low,
        high: Some(high),
    }
}

#[track_caller]
fn near(found: Option<f64>, expected: f64, tolerance: f64) {
    let found = found.expect("a bound");
    assert!(
        (found - expected).abs() <= tolerance,
        "{found} is not {expected}"
    );
}

fn class(words: &str) -> Gluten {
    of(&format!("100 g {words}")).verdict
}

#[track_caller]
fn verdict(line: &str, expected: Gluten) -> Screening {
    let s = of(line);
    assert_eq!(s.verdict, expected, "{line}: {:#?}", s.findings);
    s
}

fn food(larder: &Larder, key: &str) -> FoodId {
    larder.by_key(key).expect(key)
}

fn has(s: &Screening, allergen: Allergen) -> Option<bool> {
    s.allergens
        .iter()
        .find(|a| a.allergen == allergen)
        .map(|a| a.certain)
}

// ---- finished-food ppm ----

// ---- harm 1: passing a gluten line ----

#[test]
fn harm_1_no_gluten_line_passes() {
    for line in [
        "2 tbsp soy sauce",
        "50 g barley miso",
        "100 g spelt flour",
        "100 g kamut flour",
        "100 g fine semolina",
        "100 g sourdough starter",
        "baking spray with flour, for the tin",
        "2 tbsp malt extract",
        "100 g crispy malt puffs",
        "30 g frobnicated rye nuggets",
        "1 tbsp malt vinegar",
        "100 g rice flour, plus wheat flour for dusting",
        "100 g butter, and flour for the tin",
        "100 g malted chocolate",
        "2 tbsp Triticum dust",
        "200 g rice flour or spelt flour",
        "1 pack couscous (optional)",
        "plain flour, for dusting",
        "25 g gluten-free wheat flour",
        "1 tbsp gluten-free barley malt syrup",
        "2 tbsp soy sauce or gluten-free tamari",
        "2 tbsp gluten-free tamari or soy sauce",
        "2 tbsp soy sauce, gluten-free if needed",
        "2 tbsp soy sauce (not gluten-free)",
        "2 tbsp certified organic soy sauce",
        "200 g plain flour (gluten-free works too)",
        "200 g self-raising flour (I use gluten free)",
        "200 g flour (gluten-free or regular)",
        "200 g regular or gluten-free plain flour",
        "2 tbsp soy sauce (for gluten-free guests use tamari)",
        "75 g panko",
        "2 tbsp barleycup powder",
        "100 g Dinkelmehl",
        "1 cup cream of wheat",
        "1 tbsp brewer's yeast",
        "no-knead wheat dough, 200 g",
        "100 g blend of rice, spelt and tapioca",
    ] {
        let s = of(&format!("200 g sugar\n{line}"));
        assert_eq!(s.verdict, Gluten::Contains, "{line}: {:#?}", s.findings);
        assert!(!s.can_say_gluten_free, "{line}");
        assert_eq!(s.ppm.high, None, "{line}");
        assert_eq!(s.ppm.if_labelled, None, "{line}");
        assert!(s.ppm.basis.contains("contains gluten and fails"), "{line}");
    }
    // Crisped rice may hold malt: never free.
    verdict("100 g crisped rice cereal", Gluten::Check);
}

/// An allergen list alone misses malt: the US list has no barley, the findings have.
#[test]
fn harm_1_barley_shows_beside_the_us_list() {
    let s = of("2 tbsp malt extract");
    let us = s.statement(Regime::Us);
    assert!(us.contains.is_empty(), "{us:?}");
    assert!(
        us.notes
            .iter()
            .any(|n| n.contains("barley") && n.contains("holds gluten")),
        "{us:?}"
    );
    assert!(
        us.notes
            .iter()
            .any(|n| n.contains("list of the United States")),
        "{us:?}"
    );
    // No figure is said once.
    assert_eq!(
        s.ppm.words(),
        "no figure (it contains gluten and fails at any amount)"
    );
    assert!(
        s.statement(Regime::Ca)
            .contains
            .contains(&"gluten (barley)".to_owned())
    );
}

#[test]
fn the_method_is_searched() {
    let text = "Test buns\n\nIngredients\n200 g sugar\n\nMethod\n1. Dust the bench with semolina and stir in the sugar.\n2. Dust the tin with flour.\n";
    let s = of_text(text, None);
    assert_eq!(s.verdict, Gluten::Check, "{s:#?}");
    assert_eq!(s.method.len(), 2, "{:?}", s.method);
    assert!(!s.can_say_gluten_free);
}

/// What is told under gluten is among the allergens too, as a thing to check: one word, a bare 'flour',
/// bought pastry, a note among the lines.
#[test]
fn gluten_outside_the_lines_is_an_allergen_to_check() {
    let list = "200 g sugar\n100 g butter";
    for (list, method, allergen) in [
        (list, "Dust the bench with semolina.", Allergen::Wheat),
        (list, "Serve with couscous.", Allergen::Wheat),
        (list, "Stir in a spoon of malt.", Allergen::Barley),
        (list, "Scatter with pumpernickel.", Allergen::Rye),
        (list, "Dust the tin with flour.", Allergen::Wheat),
        (list, "Flour the board and roll out.", Allergen::Wheat),
        (list, "Roll out on a floured board.", Allergen::Wheat),
        (list, "Spoon into a bought pie crust.", Allergen::Wheat),
        (list, "Crush the digestive biscuits.", Allergen::Wheat),
        (
            "200 g sugar\nNote: goes well on rye toast",
            "Mix.",
            Allergen::Rye,
        ),
    ] {
        let text = format!("Test bake\n\nIngredients\n{list}\n\nMethod\n1. {method}\n");
        let s = of_text(&text, None);
        assert_eq!(s.verdict, Gluten::Check, "{method}: {:?}", s.method);
        assert_eq!(has(&s, allergen), Some(false), "{method}: {s:#?}");
    }
    // What a line holds for certain stays certain.
    let s = of_text(
        "Buns\n\nIngredients\n200 g bread flour\n\nMethod\n1. Dust with semolina.\n",
        None,
    );
    assert_eq!(has(&s, Allergen::Wheat), Some(true));
    // A comparison names nothing.
    let s = of_text(
        "Bake\n\nIngredients\n200 g sugar\n\nMethod\n1. Rub in until it looks like fresh breadcrumbs.\n",
        None,
    );
    assert_eq!(
        (has(&s, Allergen::Wheat), s.method.len()),
        (None, 0),
        "{:?}",
        s.method
    );
}

/// A food judged to hold gluten may bring a grain of it, and one that is free brings none.
#[test]
fn gluten_and_allergens_of_each_food_agree() {
    let larder = larder();
    let grains = [Allergen::Wheat, Allergen::Rye, Allergen::Barley];
    for id in larder.ids() {
        let food = larder.food(id);
        let grain = food.allergens.iter().any(|(a, _)| grains.contains(a));
        match food.gluten {
            Gluten::Contains => assert!(grain, "{} holds gluten of what?", food.key),
            Gluten::Free => assert!(!grain, "{} is free and brings a grain", food.key),
            Gluten::Check => {}
        }
    }
}

// ---- harm 2: claims ----

#[test]
fn harm_2_unlabelled_grain_is_never_safe() {
    for words in [
        "millet flour",
        "soy flour",
        "buckwheat flour",
        "rolled oats",
        "sorghum flour",
    ] {
        let s = of_text(
            &format!("Test\n\nIngredients\n100 g {words}\n100 g water\n"),
            loss(0.1),
        );
        assert_eq!(s.verdict, Gluten::Check, "{words}");
        assert!(!s.can_say_gluten_free, "{words}");
        assert_eq!(s.ppm.high, None, "{words}");
        near(s.ppm.if_labelled.map(|x| x.1), 20.0 * 100.0 / 180.0, 1e-9);
    }
    let s = of("100 g soy flour");
    assert!(s.ppm.unknown[0].contains("2925"), "{:?}", s.ppm.unknown);
}

#[test]
fn harm_2_no_claim_is_printed() {
    for line in [
        "100 g rice flour, labelled gluten-free",
        "100 g sugar",
        "100 g plain flour",
    ] {
        let s = of_text(&format!("Test\n\nIngredients\n{line}\n"), loss(0.1));
        let mut said = format!("{s:?} {}", s.ppm.words());
        for r in Regime::ALL {
            said.push_str(&format!("{:?}", s.statement(*r)));
        }
        let said = said.to_lowercase();
        for never in [
            "safe for",
            "safe to eat",
            "complies",
            "certified",
            "tested gluten-free",
            "coeliac-safe",
        ] {
            assert!(!said.contains(never), "{line}: {never}");
        }
    }
}

#[test]
fn the_claim_needs_everything_settled() {
    assert!(of("200 g white rice flour\n100 g sugar\n50 g butter\n2 eggs").can_say_gluten_free);
    assert!(!of("200 g white rice flour\n2 tsp baking powder").can_say_gluten_free);
    let s = of("200 g white rice flour\n2 tsp gluten-free baking powder");
    assert!(s.can_say_gluten_free, "{s:#?}");
    assert!(!of("200 g white rice flour\n1 cup florble powder").can_say_gluten_free);
    assert!(!of("200 g white rice flour\n1 cup gluten-free florble powder").can_say_gluten_free);
    assert!(!of("200 g white rice flour\n100 g gluten-free rolled oats").can_say_gluten_free);
    assert!(!of("200 g white rice flour\nsprinkles, to decorate (optional)").can_say_gluten_free);
    assert!(!of("200 g white rice flour, plus flour for dusting").can_say_gluten_free);
    for line in [
        "100 g digestive biscuits (gluten-free)",
        "100 g gluten-free digestive biscuits",
        "200 g plain gluten-free flour",
        "2 tbsp soy sauce, make sure it is gluten-free",
        "100 g buckwheat flour (pure, labelled gluten-free)",
        "100 g gluten-free panko",
    ] {
        let s = of(line);
        assert!(
            s.can_say_gluten_free && s.verdict == Gluten::Check,
            "{line}: {s:#?}"
        );
    }
    let nothing = lines([], larder(), None);
    assert!(!nothing.can_say_gluten_free && nothing.verdict == Gluten::Check);
}

// ---- harm 3: wrong allergens ----

#[test]
fn harm_3_allergens_of_every_line() {
    let s = of(
        "200 g almond flour\n1 egg, for the wash\nbutter, for the tin\n100 g coconut flour\n50 g sesame seeds, to serve (optional)\n200 ml oat milk or soy milk",
    );
    assert_eq!(has(&s, Allergen::Almond), Some(true));
    assert_eq!(has(&s, Allergen::Egg), Some(true));
    assert_eq!(has(&s, Allergen::Milk), Some(true));
    assert_eq!(has(&s, Allergen::Soy), Some(true));
    assert_eq!(has(&s, Allergen::Sesame), Some(true));
    assert_eq!(has(&s, Allergen::Oats), Some(true));
    let soy = s
        .allergens
        .iter()
        .find(|a| a.allergen == Allergen::Soy)
        .expect("soy");
    assert!(soy.if_used && soy.from[0].contains("if used"), "{soy:?}");
    let us = s.statement(Regime::Us);
    assert!(us.contains.contains(&"almond".to_owned()), "{us:?}");
    assert!(
        us.contains.contains(&"soybean (if used)".to_owned()),
        "{us:?}"
    );
    // Off the FDA's list since January 2025, named all the same.
    assert!(us.notes.iter().any(|n| n.starts_with("coconut")), "{us:?}");
    let chestnut = of("100 g chestnut flour").statement(Regime::Us);
    assert!(
        chestnut.contains.is_empty() && chestnut.notes.iter().any(|n| n.starts_with("chestnut"))
    );
}

#[test]
fn harm_3_wheat_starch_is_wheat() {
    let s = verdict("100 g gluten-free wheat starch", Gluten::Check);
    assert_eq!(has(&s, Allergen::Wheat), Some(true));
    assert!(s.cautions.iter().any(|c| c.code == "wheat_starch"));
    assert!(
        s.statement(Regime::Us)
            .contains
            .contains(&"wheat".to_owned())
    );
    assert!(!s.can_say_gluten_free);
    verdict("100 g wheat starch", Gluten::Contains);
    // Gluten-free soy sauce: soy for sure, wheat only the label knows.
    let s = verdict("2 tbsp gluten-free soy sauce", Gluten::Check);
    assert_eq!(has(&s, Allergen::Soy), Some(true));
    assert_ne!(has(&s, Allergen::Wheat), Some(true));
    assert!(
        s.findings[0].reason.contains("keep the label"),
        "{:?}",
        s.findings
    );
}

#[test]
fn harm_3_unknown_is_not_none() {
    let s = of("100 g florble powder\n50 g sprinkles");
    assert!(
        s.findings
            .iter()
            .any(|f| f.reason.contains("not in the larder"))
    );
    for r in Regime::ALL {
        let said = s.statement(*r).check.join("; ");
        assert!(
            said.contains("florble powder") && said.contains("sprinkles"),
            "{said}"
        );
    }
}

// ---- harm 4: names ----

#[test]
fn harm_4_names_alike() {
    use Gluten::{Check, Contains, Free};
    for (words, expected) in [
        ("glutinous rice flour", Free),
        ("corn gluten meal", Free),
        ("buckwheat flour", Check),
        ("maltodextrin", Check),
        ("potato flour", Free),
        ("potato starch", Free),
        ("tapioca pearls", Free),
        ("cream of tartar", Free),
        ("gram flour", Check),
        ("graham flour", Contains),
        ("wheaten cornflour", Contains),
        ("cornflour", Free),
        ("wheatgrass powder", Check),
        ("corn starch (wheat-free, malt-free)", Free),
        ("corn starch (contains no wheat, no rye)", Free),
        ("corn starch, not wheat starch", Free),
        ("free-range eggs", Free),
        ("grated cheese", Check),
        ("cheddar, in one piece", Free),
        ("vinegar", Check),
        ("white vinegar", Free),
        ("psyllium husk from a bulk bin", Check),
        ("single malt whisky", Check),
        ("glucose syrup (from wheat)", Check),
    ] {
        assert_eq!(
            class(words),
            expected,
            "{words}: {:#?}",
            of(&format!("100 g {words}")).findings
        );
    }
}

/// A name known in part, or a letter away, is never free.
#[test]
fn an_unsure_name_is_never_free() {
    let larder = larder();
    let sugar = food(larder, "white_sugar");
    for certainty in [Certainty::Partly, Certainty::Tie, Certainty::Near] {
        let entry = Entry {
            certainty,
            ..Entry::new("sugar", sugar, Some(grams(10.0)))
        };
        let s = lines([entry], larder, None);
        assert_eq!(s.verdict, Gluten::Check, "{certainty:?}");
        assert!(s.ppm.high.is_none() && !s.can_say_gluten_free);
    }
    let tied = vec![food(larder, "semolina")];
    let entry = Entry {
        certainty: Certainty::Tie,
        rivals: tied,
        ..Entry::new("x", sugar, None)
    };
    assert_eq!(lines([entry], larder, None).verdict, Gluten::Contains);
}

#[test]
fn a_reworked_formula_goes_through_the_same_gate() {
    let larder = larder();
    let entries = [
        Entry::new(
            "gluten-free flour blend",
            food(larder, "gluten_free_flour_blend"),
            Some(grams(300.0)),
        )
        .labelled(true),
        Entry::new(
            "psyllium husk",
            food(larder, "psyllium_husk"),
            Some(grams(15.0)),
        )
        .labelled(true)
        .at(0, 1),
        Entry::new("honey", food(larder, "honey"), Some(grams(20.0))).at(0, 2),
        Entry::new("water", food(larder, "water"), Some(grams(300.0))).at(0, 3),
    ];
    let s = lines(entries, larder, loss(0.12));
    assert_eq!(s.verdict, Gluten::Check);
    assert!(s.can_say_gluten_free, "{s:#?}");
    near(s.ppm.high, 315.0 * 20.0 / (635.0 * 0.88), 1e-9);
    let codes: Vec<&str> = s.cautions.iter().map(|c| c.code).collect();
    assert_eq!(codes, ["cross_contact", "raw_flour", "honey", "psyllium"]);
}

/// A caller that took the larder's label words at their word is put right.
#[test]
fn a_false_label_from_a_caller_does_not_pass() {
    let larder = larder();
    for text in [
        "soy sauce, gluten-free if needed",
        "certified organic soy sauce",
        "soy sauce or gluten-free tamari",
        "soy sauce (not gluten-free)",
    ] {
        let entry = Entry {
            span: text.find("soy sauce").map_or(0..0, |at| at..at + 9),
            ..Entry::new(text, food(larder, "soy_sauce"), Some(grams(30.0))).labelled(true)
        };
        let s = lines([entry], larder, None);
        assert_eq!(s.verdict, Gluten::Contains, "{text}");
        let reader = recipe::read::Reader::new(larder, Locale::Us);
        assert!(
            !recipe::screen::is_labelled(&reader.line(&format!("30 g {text}")), 0),
            "{text}"
        );
    }
}

#[test]
fn cautions_follow_the_food() {
    let codes = |s: &Screening| s.cautions.iter().map(|c| c.code).collect::<Vec<_>>();
    let s = of("2 eggs\n100 g gluten-free rolled oats\n2 tbsp gluten-free soy sauce");
    let found = codes(&s);
    for code in ["cross_contact", "oats", "raw_egg", "fermented"] {
        assert!(found.contains(&code), "{code}: {found:?}");
    }
    assert_eq!(codes(&of("100 g sugar")), ["cross_contact"]);
}

#[test]
fn an_oats_note_goes_with_labelled_oats() {
    let s = verdict("100 g gluten-free rolled oats", Gluten::Check);
    let note = s.findings[0].note.clone().expect("a note");
    assert!(s.findings[0].labelled && note.contains("not all do") && note.contains("Australia"));
}

// ---- the project's tables ----

// ---- outside the lines ----

/// A figure beside gluten of unknown weight would be false: neither bound stands.
#[test]
fn gluten_outside_the_list_leaves_no_upper_bound() {
    let lines = "Ingredients\n100 g rice flour, labelled gluten-free\n100 g butter\n";
    let plain = of_text(&format!("Squares\n\n{lines}\nMethod\n1. Mix.\n"), None);
    assert!(plain.ppm.high.is_some(), "{:?}", plain.ppm);
    for text in [
        format!("Squares\n\n{lines}\nMethod\n1. Dust with wheat germ.\n"),
        format!("Squares\n\n{lines}\nMethod\n1. Mix.\n\nNotes\nServe with rye bread.\n"),
        format!("Squares\n\n{lines}\nMethod\n1. Dust the tin with wheat flour.\n"),
    ] {
        let s = of_text(&text, loss(0.1));
        assert!(!s.method.is_empty(), "{text}");
        assert_eq!((s.ppm.high, s.ppm.if_labelled), (None, None), "{text}");
        assert!(s.ppm.words().starts_with("no figure"), "{}", s.ppm.words());
        let why = s.ppm.unknown.join("; ");
        assert!(why.contains("outside the ingredient list"), "{why}");
        assert!(!s.can_say_gluten_free);
        assert_eq!(s.verdict, Gluten::Check);
    }
}

/// What was not read may hold anything.
#[test]
fn what_was_not_read_leaves_no_upper_bound() {
    let known = "100 g rice flour, labelled gluten-free\n100 g butter";
    assert!(of(known).ppm.high.is_some());
    let long = format!("{known}\nall {}", "soft and light ".repeat(300));
    let s = of(&long);
    assert_eq!((s.ppm.high, s.ppm.if_labelled), (None, None));
    assert!(s.ppm.unknown.iter().any(|u| u.contains("not all was read")));
    assert!(!s.can_say_gluten_free && s.verdict != Gluten::Free);
    let s = of(&format!("{known}\n20 g zorblax"));
    assert_eq!(s.ppm.high, None, "{:?}", s.ppm);
    assert!(!s.can_say_gluten_free);
}

/// One food, one finding; a word for another grain is kept, and its allergen with it.
#[test]
fn a_food_is_found_once_and_another_grain_beside_it_too() {
    for line in [
        "100 g spelt flour (dinkel, a wheat)",
        "100 g wheat flakes, whole wheat",
        "1 tbsp stock with barley malt",
    ] {
        let s = of(line);
        let found = s.findings.iter();
        let count = found.filter(|f| f.verdict == Gluten::Contains).count();
        assert_eq!(count, 1, "{line}: {:#?}", s.findings);
    }
    let s = of("100 g spelt, barley flakes");
    assert_eq!(has(&s, Allergen::Wheat), Some(true));
    assert_eq!(has(&s, Allergen::Barley), Some(true), "{:#?}", s.findings);
    let s = of("500 g bread flour with rye and malted barley in it");
    for grain in [Allergen::Wheat, Allergen::Rye, Allergen::Barley] {
        assert_eq!(has(&s, grain), Some(true), "{grain:?}: {:#?}", s.findings);
    }
}

/// Source of the hours: USDA consumer advice (seen).
#[test]
fn a_filling_left_out_of_the_fridge_has_a_caution() {
    let says = |list: &str, method: &str| {
        let text = format!("Test bake\n\nIngredients\n{list}\n\nMethod\n1. {method}\n");
        let s = of_text(&text, None);
        s.cautions.iter().any(|c| c.code == "cooling")
    };
    let custard = "500 ml milk\n5 egg yolks\n100 g sugar\n40 g cornstarch";
    for out in [
        "Cook until thick. Cool at room temperature overnight.",
        "Let cool on the counter overnight.",
        "Leave to rest at room temperature for 5 hours.",
        "Cool at room temperature for 2 to 3 hours.",
    ] {
        assert!(says(custard, out), "{out}");
    }
    for kept in [
        "Cool at room temperature for 30 minutes, then refrigerate overnight.",
        "Chill overnight. Serve at room temperature.",
        "Cool at room temperature for 1 hour. Rest in the fridge overnight.",
        "Do not leave at room temperature for 3 hours.",
        "Cool overnight in the fridge.",
    ] {
        assert!(!says(custard, kept), "{kept}");
    }
    let dough = "500 g flour\n300 ml milk\n7 g yeast";
    assert!(!says(dough, "Rest at room temperature for 3 hours."));
    let jam = "500 g plums\n300 g sugar";
    assert!(!says(jam, "Cool at room temperature overnight."));
}

/// Where the figures of a food come from is no reason of its verdict.
#[test]
fn notes_on_figures_stay_out_of_the_reasons() {
    let s = of("250 g cake flour\n50 g rolled wheat\n50 g kamut flour\n20 g quinoa flakes\n");
    for f in &s.findings {
        let told = format!("{} {}", f.reason, f.note.clone().unwrap_or_default());
        assert!(
            !told.contains("SR28") && !told.contains("composition"),
            "{told}"
        );
    }
    let khorasan = s
        .findings
        .iter()
        .any(|f| f.note.as_deref().is_some_and(|n| n.contains("khorasan")));
    assert!(khorasan, "{:?}", s.findings);
}

/// A filling of egg and milk is told to be kept cold whatever its steps say; a dough, a milk glaze
/// and an egg wash are not.
#[test]
fn a_cream_filling_is_told_to_be_kept_cold() {
    let told = |text: &str| {
        let s = of_text(text, None);
        s.cautions.iter().any(|c| c.code == "keep_cold")
    };
    let dough = "Buns\n\nDough\n500 g plain flour\n250 g milk\n2 eggs\n7 g instant yeast\n";
    assert!(!told(dough));
    assert!(told(&format!(
        "{dough}\nPastry cream\n500 g milk\n4 egg yolks\n100 g sugar\n40 g cornflour\n"
    )));
    assert!(!told(&format!(
        "{dough}\nGlaze\n200 g icing sugar\n15 g milk\n"
    )));
    assert!(!told(&format!("{dough}\nEgg wash\n1 egg\n15 g milk\n")));
}

/// What is said of yeast is said where there is yeast.
#[test]
fn cinnamon_slows_no_yeast_in_crumbs() {
    let larder = larder();
    for (more, told) in [("", false), ("7 g instant yeast\n", true)] {
        let text = format!("Crumbs\n\n200 g rice flour\n1 tsp cinnamon\n100 g butter\n{more}");
        let formula = common::formula(&text);
        let found = screen(&formula, larder, None);
        let cinnamon = found.findings.iter().find(|f| f.words.contains("cinnamon"));
        let note = cinnamon.expect("cinnamon").note.clone();
        assert_eq!(note.is_some_and(|n| n.contains("yeast")), told, "{more}");
    }
}

/// What is cooked on the stove and cools is told to be cooled shallow: meat, also of a name the larder lacks, rice,
/// potatoes; not jam, not raw potatoes in a dough.
#[test]
fn cooked_food_that_cools_is_told_to_be_kept_cold() {
    let told = |list: &str, method: &str| {
        let s = of_text(&format!("Filling\n\n{list}\n\nMethod\n1. {method}\n"), None);
        s.cautions.iter().any(|c| c.code == "cooling_cooked")
    };
    for (list, method) in [
        (
            "200 g rice\n500 g water",
            "Boil the rice in the water for 15 minutes. Cool.",
        ),
        (
            "500 g potatoes",
            "Boil the potatoes for 20 minutes and mash them. Leave to cool.",
        ),
        (
            "400 g zebra mince\n1 onion",
            "Fry the mince and the onion for 10 minutes. Leave to cool overnight.",
        ),
    ] {
        assert!(told(list, method), "{list}");
    }
    assert!(!told(
        "500 g plums\n300 g sugar",
        "Simmer the plums with the sugar for 20 minutes. Cool."
    ));
    assert!(!told(
        "500 g potatoes\n500 g flour",
        "Mix the grated potatoes and the flour. Fry for 10 minutes. Cool."
    ));
}
