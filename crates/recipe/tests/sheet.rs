//! The sheet: what follows from it, its changes and the answers to its doubts.

use larder::{Gluten, Larder};
use quantity::Locale;
use recipe::sheet::{Change, LineDecision, LineKey, PartUse, Sheet, Worked, key_of, work};
use recipe::weigh::Basis;
use recipe::{DoubtCode, Line, Recipe};
use std::sync::OnceLock;

fn larder() -> &'static Larder {
    static LARDER: OnceLock<Larder> = OnceLock::new();
    LARDER.get_or_init(|| Larder::built_in().expect("the built-in tables"))
}

const EXAMPLES: [&str; 7] = [
    include_str!("../../../examples/apricot-almond-buns.txt"),
    include_str!("../../../examples/ginger-crumb-cheesecake.txt"),
    include_str!("../../../examples/leek-and-cheddar-tart.txt"),
    include_str!("../../../examples/lemon-yoghurt-cake.txt"),
    include_str!("../../../examples/mushroom-stout-sauce.txt"),
    include_str!("../../../examples/sunday-pancakes.txt"),
    include_str!("../../../cases/good/old-book.txt"),
];

fn worked(sheet: &Sheet) -> Worked {
    work(sheet, &[], larder(), &[])
        .map_err(|e| format!("{e}\n{}", sheet.text))
        .expect("works")
}

/// A sheet of a recipe with these lines.
fn of(lines: &[&str]) -> Sheet {
    let text = format!("Harrow Lane test\n\nIngredients\n{}\n", lines.join("\n"));
    Sheet::new(text, Locale::Us)
}

/// The place of a line by its words.
fn place(recipe: &Recipe, words: &str) -> (usize, usize) {
    recipe
        .components
        .iter()
        .enumerate()
        .find_map(|(c, x)| Some((c, x.lines.iter().position(|l| l.text.contains(words))?)))
        .expect("the line")
}

fn key(sheet: &Sheet, words: &str) -> LineKey {
    let recipe = worked(sheet).formula.recipe;
    let (c, l) = place(&recipe, words);
    key_of(&recipe, c, l)
}

fn line<'w>(w: &'w Worked, words: &str) -> &'w Line {
    let (c, l) = place(&w.formula.recipe, words);
    &w.formula.recipe.components[c].lines[l]
}

fn grams(w: &Worked, words: &str) -> Option<f64> {
    let (c, l) = place(&w.formula.recipe, words);
    let item = w.formula.components[c].items.iter().find(|i| i.line == l)?;
    item.grams.map(|g| g.likely().as_grams())
}

fn verdict(w: &Worked, words: &str) -> Gluten {
    let (c, l) = place(&w.formula.recipe, words);
    let found = w.screening.findings.iter();
    found
        .filter(|f| (f.component, f.line) == (c, l))
        .map(|f| f.verdict)
        .min()
        .expect("a finding")
}

fn change(sheet: &mut Sheet, c: Change) {
    sheet.change(&c).expect("a sound change");
}

#[test]
fn examples_work_as_on_the_command_line() {
    for text in EXAMPLES {
        let w = worked(&Sheet::new(text, Locale::Us));
        let reader = recipe::read::Reader::new(larder(), Locale::Us);
        let read = recipe::read::recipe(text, &reader).expect("reads");
        let formula = recipe::weigh::formula(read, larder(), Locale::Us).expect("weighs");
        assert_eq!(w.formula, formula);
        assert_eq!(
            w.screening,
            recipe::screen::screen(&formula, larder(), None)
        );
        assert!(w.stale.is_empty());
    }
    let none = worked(&of(&["200 g sugar", "100 g butter"]));
    assert!(none.rework.components[0].style.is_none());
}

#[test]
fn a_line_reads_as_other_words() {
    let mut sheet = of(&["200 g plain flour", "2 glugs oyl"]);
    let line_key = key(&sheet, "oyl");
    change(
        &mut sheet,
        Change::ReadAs {
            line: line_key.clone(),
            text: Some("2 tbsp vegetable oil".to_owned()),
        },
    );
    let w = worked(&sheet);
    let l = line(&w, "oyl");
    assert_eq!(
        (l.text.as_str(), l.clean.as_str()),
        ("2 glugs oyl", "2 tbsp vegetable oil")
    );
    assert!(l.doubts.is_empty(), "{:?}", l.doubts);
    assert!(grams(&w, "oyl").is_some_and(|g| (g - 27.0).abs() < 2.0));
    assert_eq!(key(&sheet, "oyl"), line_key);
}

#[test]
fn a_weight_of_ones_own_is_exact() {
    let mut sheet = of(&["200 g plain flour", "1 knob butter", "a good glug of milk"]);
    for (words, g) in [("butter", 23.5), ("milk", 48.0)] {
        let line = key(&sheet, words);
        change(
            &mut sheet,
            Change::Grams {
                line,
                grams: Some(g),
            },
        );
        let w = worked(&sheet);
        let (c, l) = place(&w.formula.recipe, words);
        let item = w.formula.components[c].items.iter().find(|i| i.line == l);
        let item = item.expect("weighed");
        let spread = item.grams.expect("grams");
        assert_eq!(item.basis, Some(Basis::Own));
        assert!((spread.likely().as_grams() - g).abs() < 1e-9);
        assert_eq!(spread.low(), spread.high());
        assert!(w.formula.recipe.components[c].lines[l].doubts.is_empty());
        assert!(!w.formula.doubts.iter().any(|d| (d.0, d.1) == (c, l)));
    }
}

#[test]
fn an_own_weight_of_a_used_component_holds() {
    let text = "Slice\n\nFor the crumbs:\n200 g plain flour\n100 g butter\n\nFor the base:\nhalf of the crumbs\n50 g butter\n";
    let mut sheet = Sheet::new(text, Locale::Us);
    assert!(grams(&worked(&sheet), "half of").is_some_and(|g| (g - 150.0).abs() < 0.1));
    let line = key(&sheet, "half of");
    change(
        &mut sheet,
        Change::Grams {
            line,
            grams: Some(120.0),
        },
    );
    let w = worked(&sheet);
    assert!(grams(&w, "half of").is_some_and(|g| (g - 120.0).abs() < 1e-9));
    let used = w.formula.components[0].used.expect("used");
    assert!((used.likely().as_grams() - 120.0).abs() < 1e-9);
}

#[test]
fn a_food_said_is_sure() {
    let mut sheet = of(&["200 g plain flour", "50 g quux fat"]);
    assert!(!line(&worked(&sheet), "quux").doubts.is_empty());
    let at = key(&sheet, "quux");
    change(
        &mut sheet,
        Change::Food {
            line: at,
            food: Some("unsalted_butter".to_owned()),
        },
    );
    let w = worked(&sheet);
    let item = &line(&w, "quux").items[0];
    let food = item.food.as_ref().expect("a food");
    assert_eq!(food.certainty, larder::Certainty::Sure);
    assert!(line(&w, "quux").doubts.is_empty());
}

/// No decision makes the verdict on a line better than its words.
#[test]
fn words_of_gluten_outlive_decisions() {
    let lines = [
        ("100 g wheat flakes", "100 g rice flour"),
        ("2 tbsp malt syrup", "2 tbsp honey"),
        ("100 g pearl barley", "100 g white rice"),
        ("100 g barley crunchies", "100 g white rice"),
        ("100 g digestive biscuits", "100 g white rice"),
        ("200 g plain flour", "200 g white rice flour"),
        ("1 cup couscous", "1 cup white rice"),
        ("3 tbsp soy sauce", "3 tbsp water"),
        ("100 g malted dark chocolate", "100 g dark chocolate"),
        ("1 cup milk or beer", "1 cup milk"),
    ];
    for (pasted, other) in lines {
        let plain = of(&["200 g sugar", pasted]);
        let before = verdict(&worked(&plain), pasted);
        assert_ne!(before, Gluten::Free, "{pasted}");
        let at = key(&plain, pasted);
        let read = worked(&of(&["100 g sugar", other])).formula.recipe;
        let food = line_food(&read, other);
        let changes = [
            Change::ReadAs {
                line: at.clone(),
                text: Some(other.to_owned()),
            },
            Change::ReadAs {
                line: at.clone(),
                text: Some("For the rest:".to_owned()),
            },
            Change::Food {
                line: at.clone(),
                food: Some(food),
            },
        ];
        for c in changes {
            let mut sheet = plain.clone();
            change(&mut sheet, c.clone());
            let w = worked(&sheet);
            assert!(verdict(&w, pasted) <= before, "{pasted}: {c:?}");
            assert!(!w.screening.can_say_gluten_free);
            let accepted: Vec<String> = DoubtCode::ALL.iter().map(|c| c.code().into()).collect();
            sheet.lines[0].accepted = accepted;
            assert!(verdict(&worked(&sheet), pasted) <= before, "{pasted}");
        }
    }
}

fn line_food(recipe: &Recipe, words: &str) -> String {
    let (c, l) = place(recipe, words);
    let item = &recipe.components[c].lines[l].items[0];
    let food = item.food.as_ref().expect("a food").food;
    larder().food(food).key.clone()
}

/// A decision on words without gluten adds nothing.
#[test]
fn decisions_on_plain_words_screen_as_the_new_words() {
    let mut sheet = of(&["200 g rice flour", "100 g oyl"]);
    for (words, other) in [
        ("rice flour", "200 g white rice flour"),
        ("oyl", "100 g honey"),
    ] {
        let line = key(&sheet, words);
        change(
            &mut sheet,
            Change::ReadAs {
                line,
                text: Some(other.to_owned()),
            },
        );
        let plain = worked(&of(&["100 g sugar", other]));
        assert_eq!(verdict(&worked(&sheet), words), verdict(&plain, other));
    }
}

#[test]
fn accepted_doubts_stay_visible() {
    let mut sheet = of(&["200 g plain flour", "1 zylop butter", "1 bunch honey"]);
    let w = worked(&sheet);
    let recipe = &w.formula.recipe;
    for words in ["butter", "honey"] {
        let (c, l) = place(recipe, words);
        let mut codes: Vec<DoubtCode> = recipe.components[c].lines[l]
            .doubts
            .iter()
            .map(|d| d.code)
            .collect();
        let weighing = w.formula.doubts.iter().filter(|d| (d.0, d.1) == (c, l));
        codes.extend(weighing.map(|d| d.2.code));
        assert!(!codes.is_empty());
        for code in &codes {
            let line = key_of(recipe, c, l);
            let code = code.code().to_owned();
            change(
                &mut sheet,
                Change::Accept {
                    line,
                    code,
                    yes: true,
                },
            );
        }
        let after = worked(&sheet);
        let l2 = line(&after, words);
        assert!(l2.doubts.is_empty());
        assert!(!after.formula.doubts.iter().any(|d| (d.0, d.1) == (c, l)));
        assert_eq!(l2.settled.len(), codes.len());
    }
}

#[test]
fn a_decision_on_a_line_that_is_gone_waits() {
    let mut sheet = of(&["200 g plain flour", "1 knob butter"]);
    let at = key(&sheet, "butter");
    change(
        &mut sheet,
        Change::Grams {
            line: at.clone(),
            grams: Some(20.0),
        },
    );
    let text = sheet.text.replace("1 knob butter", "2 knobs butter");
    change(&mut sheet, Change::Text { text });
    assert_eq!(worked(&sheet).stale, [at]);
}

#[test]
fn parts_come_in_with_their_decisions() {
    let mut part = Sheet::new(
        "Nut crumbs\n\n100 g plain flour\n1 knob butter\n\nMethod\n1. Rub together.\n2. Bake for 10 minutes.\n",
        Locale::Us,
    );
    let at = key(&part, "butter");
    change(
        &mut part,
        Change::Grams {
            line: at,
            grams: Some(60.0),
        },
    );
    let mut sheet = Sheet::new(
        "Pear slice\n\nFor the base:\nall of the nut crumbs\n40 g butter\n\nFor the filling:\n300 g pears\n\nMethod\n1. Press the crumbs into a tin.\n",
        Locale::Us,
    );
    change(
        &mut sheet,
        Change::TakePart {
            part: PartUse {
                recipe: "r1".to_owned(),
                version: 2,
                title: "Nut crumbs".to_owned(),
            },
        },
    );
    let missing = work(&sheet, &[], larder(), &[]).expect_err("a part is missing");
    assert!(missing.to_string().contains("'Nut crumbs', version 2"));
    let w = work(&sheet, &[part.clone()], larder(), &[]).expect("works");
    let names: Vec<&str> = w
        .formula
        .components
        .iter()
        .map(|c| c.name.as_str())
        .collect();
    assert_eq!(names, ["base", "filling", "nut crumbs"]);
    assert!(grams(&w, "all of the").is_some_and(|g| (g - 160.0).abs() < 1e-9));
    let steps: Vec<(usize, Option<usize>)> = w
        .formula
        .recipe
        .steps
        .iter()
        .map(|s| (s.number, s.component))
        .collect();
    assert_eq!(steps[1..], [(2, Some(2)), (3, Some(2))]);
    // This sheet's decision stands over the part's.
    let (c, l) = place(&w.formula.recipe, "1 knob");
    let line = key_of(&w.formula.recipe, c, l);
    change(
        &mut sheet,
        Change::Grams {
            line,
            grams: Some(70.0),
        },
    );
    let w = work(&sheet, &[part], larder(), &[]).expect("works");
    assert!(grams(&w, "1 knob").is_some_and(|g| (g - 70.0).abs() < 1e-9));
    assert!(grams(&w, "all of the").is_some_and(|g| (g - 170.0).abs() < 1e-9));
}

#[test]
fn a_part_keeps_its_own_names_and_cups() {
    let part = Sheet::new(
        "Pear tart\n\nFor the dough:\n1 cup plain flour\n50 g butter\n\nFor the case:\nhalf of the dough\n",
        Locale::Au,
    );
    let mut sheet = Sheet::new(
        "Two tarts\n\nFor the dough:\n1 cup plain flour\n\nFor the case:\nall of the dough\n",
        Locale::Us,
    );
    change(
        &mut sheet,
        Change::TakePart {
            part: PartUse {
                recipe: "r1".to_owned(),
                version: 1,
                title: "Pear tart".to_owned(),
            },
        },
    );
    let alone = worked(&part);
    let w = work(&sheet, &[part], larder(), &[]).expect("works");
    let f = &w.formula;
    let names: Vec<&str> = f.components.iter().map(|c| c.name.as_str()).collect();
    assert_eq!(names, ["dough", "case", "dough 2", "case 2"]);
    assert_eq!(f.components[3].items[0].component, Some(2));
    let cup = |w: &Worked, c: usize| w.formula.components[c].items[0].grams;
    assert_eq!(cup(&w, 2), cup(&alone, 0));
    assert_ne!(cup(&w, 2), cup(&w, 0));
}

#[test]
fn changes_are_checked_named_and_taken_back() {
    let line = LineKey {
        component: "dough".to_owned(),
        text: "1 cup milk".to_owned(),
        nth: 0,
    };
    let bad = [
        Change::Locale {
            locale: "mars".to_owned(),
        },
        Change::Style {
            component: String::new(),
            style: Some("cloud".to_owned()),
        },
        Change::Blend {
            component: String::new(),
            blend: Some("cloud".to_owned()),
        },
        Change::Accept {
            line: line.clone(),
            code: "cloud".to_owned(),
            yes: true,
        },
        Change::ReadAs {
            line: line.clone(),
            text: Some(" ".to_owned()),
        },
        Change::Food {
            line: line.clone(),
            food: Some("A b".to_owned()),
        },
    ];
    let weights = [f64::NAN, f64::INFINITY, -1.0, 100_001.0].map(|g| Change::Grams {
        line: line.clone(),
        grams: Some(g),
    });
    let mut sheet = of(&["200 g plain flour"]);
    let before = sheet.clone();
    for c in bad.iter().chain(&weights) {
        let said = sheet.change(c).expect_err("refused").to_string();
        assert!(said.len() > 20, "{said}");
        assert_eq!(sheet, before);
    }
    let c = Change::Grams {
        line,
        grams: Some(240.0),
    };
    assert_eq!(c.field(), "grams:dough/0/1 cup milk");
    assert_eq!(c.words(), "weight of 1 cup milk: 240 g");
    assert_eq!(c.value_in(&sheet), "as reckoned");
    let back = c.inverse(&sheet);
    change(&mut sheet, c.clone());
    assert_eq!(c.value_in(&sheet), "240 g");
    for b in back {
        change(&mut sheet, b);
    }
    assert_eq!(sheet, before);
    assert!(
        LineDecision::new(LineKey {
            component: String::new(),
            text: String::new(),
            nth: 0
        })
        .is_empty()
    );
}
