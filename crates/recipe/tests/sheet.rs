//! The sheet: what follows from it, its changes and the answers to its doubts.

#[path = "sheet/answer.rs"]
mod answer;
#[path = "sheet/change.rs"]
mod change;
mod common;
#[path = "sheet/grain.rs"]
mod grain;

use answer::doubts;
use common::{EXAMPLES, larder};
use larder::Gluten;
use quantity::Locale;
use recipe::rework::Hold;
use recipe::sheet::{Change, LineKey, PartUse, Sheet, Worked, answers, key_of, work};
use recipe::weigh::Basis;
use recipe::{Doubt, DoubtCode, Line, Recipe};

const MORE: [&str; 1] = [include_str!("../../../cases/good/old-book.txt")];

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
    for text in EXAMPLES.into_iter().chain(MORE) {
        let w = worked(&Sheet::new(text, Locale::Us));
        let reader = recipe::read::Reader::new(larder(), Locale::Us);
        let read = recipe::read::recipe(text, &reader).expect("reads");
        let mut formula = recipe::weigh::formula(read, larder(), Locale::Us).expect("weighs");
        // The command line lists what the workbench asks about once.
        let once = |d: &(usize, usize, Doubt)| {
            d.2.code != DoubtCode::NoWeight || w.formula.doubts.contains(d)
        };
        formula.doubts.retain(once);
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
fn a_line_can_be_no_ingredient() {
    let words = "malted milk tin, lined";
    let mut sheet = of(&["200 g rice flour", words]);
    let before = sheet.clone();
    let w = worked(&sheet);
    let (c, l) = place(&w.formula.recipe, words);
    let found = &line(&w, words).doubts;
    let doubt = found.iter().find(|d| d.code == DoubtCode::NoAmount);
    let doubt = doubt.expect("a doubt");
    let given = answers(doubt, &w.formula.recipe, c, l, larder(), Locale::Us);
    let at = given.iter().position(|a| a.words == "it is no ingredient");
    let answer = &given[at.filter(|at| *at > 0).expect("offered, not first")];
    assert_eq!(answer.change.words(), format!("no ingredient: {words}"));
    let back = answer.change.inverse(&sheet);
    change(&mut sheet, answer.change.clone());
    assert_eq!(answer.change.value_in(&sheet), "no ingredient");
    assert_eq!(answer.change.value_in(&before), "as pasted");
    let now = worked(&sheet);
    let kept = line(&now, words);
    assert_eq!(kept.kind, recipe::LineKind::Note);
    assert_eq!((kept.text.as_str(), kept.clean.as_str()), (words, words));
    assert!(kept.items.is_empty() && kept.doubts.is_empty());
    assert_eq!(grams(&now, words), None);
    assert_ne!(verdict(&now, words), Gluten::Free);
    assert!(now.stale.is_empty());
    let json = serde_json::to_string(&sheet).expect("writes");
    assert_eq!(serde_json::from_str::<Sheet>(&json).expect("reads"), sheet);
    for b in back {
        change(&mut sheet, b);
    }
    assert_eq!(sheet, before);
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
                place: 0,
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
            place: 0,
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
            place: 0,
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
        ("330 ml beer", "330 ml water"),
        ("a little beer", "a little milk"),
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
            Change::ReadAs {
                line: at.clone(),
                text: Some(String::new()),
            },
            Change::Food {
                line: at.clone(),
                place: 0,
                food: Some(food),
            },
        ];
        for c in changes {
            let mut sheet = plain.clone();
            change(&mut sheet, c.clone());
            let w = worked(&sheet);
            assert!(verdict(&w, pasted) <= before, "{pasted}: {c:?}");
            assert!(!w.screening.can_say_gluten_free);
            // What the rework keeps as it is, it keeps with its words.
            let reworked = w.rework_screening.verdict;
            let kept = w.rework.components[0].lines.iter().any(|l| {
                l.kept == recipe::rework::Kept::Same && l.origin.is_some_and(|o| o.0 == 1)
            });
            assert!(!kept || reworked <= before, "{pasted}: {c:?}");
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
fn one_thing_is_asked_once() {
    for words in [
        "a handful of nuts",
        "1 knob of butter",
        "2 handfuls walnuts",
    ] {
        let mut sheet = of(&["500 g bread flour", words]);
        let asked = |sheet: &Sheet| -> Vec<DoubtCode> {
            doubts(&worked(sheet)).iter().map(|d| d.2.code).collect()
        };
        assert_eq!(asked(&sheet), [DoubtCode::LooseMeasure], "{words}");
        // Left unweighed, it is not asked about on the next page either; opened again, it is.
        for (yes, left) in [(true, 0), (false, 1)] {
            let (line, code) = (key(&sheet, words), "loose_measure".to_owned());
            change(&mut sheet, Change::Accept { line, code, yes });
            assert_eq!(asked(&sheet).len(), left, "{words}");
        }
    }
    // Two things stay two questions.
    let sheet = of(&["500 g bread flour", "a handful of honeycomb"]);
    assert_eq!(doubts(&worked(&sheet)).len(), 2);
}

#[test]
fn a_decision_on_a_line_that_is_gone_waits() {
    let mut sheet = of(&["200 g plain flour", "1 knob butter"]);
    let at = key(&sheet, "butter");
    change(
        &mut sheet,
        Change::Grams {
            line: at.clone(),
            place: 0,
            grams: Some(20.0),
        },
    );
    let text = sheet.text.replace("1 knob butter", "2 knobs butter");
    change(&mut sheet, Change::Text { text });
    assert_eq!(worked(&sheet).stale, [at]);
}

/// The same egg under a heading is the same egg: what was weighed of it stands, and can be changed and taken
/// back there. Where the words stand twice no one can tell which of the two was meant.
#[test]
fn a_decision_follows_its_line_under_a_heading() {
    let mut sheet = of(&[
        "200 g plain flour",
        "100 g water",
        "1 knob butter",
        "1 big egg",
    ]);
    for (words, g) in [("butter", 20.0), ("egg", 63.0)] {
        let line = key(&sheet, words);
        let (place, grams) = (0, Some(g));
        change(&mut sheet, Change::Grams { line, place, grams });
    }
    let decided = sheet.lines.clone();
    let moved = sheet
        .text
        .replace("1 big egg", "\nFor the glaze:\n1 big egg");
    change(&mut sheet, Change::Text { text: moved });
    assert_eq!(key(&sheet, "egg").component, "glaze");
    let w = worked(&sheet);
    assert!(w.stale.is_empty());
    assert_eq!(grams(&w, "egg"), Some(63.0));
    // A further decision there goes with the first, and is taken back.
    let line = key(&sheet, "egg");
    let (place, grams_now) = (0, Some(58.0));
    let again = Change::Grams {
        line: line.clone(),
        place,
        grams: grams_now,
    };
    let back = again.inverse(&sheet);
    change(&mut sheet, again);
    assert_eq!(sheet.lines.len(), 2);
    assert_eq!(grams(&worked(&sheet), "egg"), Some(58.0));
    back.into_iter().for_each(|b| change(&mut sheet, b));
    assert_eq!(sheet.lines, decided);
    let twice = sheet
        .text
        .replace("1 big egg", "1 big egg\n\nFor the filling:\n1 big egg");
    change(&mut sheet, Change::Text { text: twice });
    assert_eq!(
        worked(&sheet).stale,
        [decided
            .iter()
            .find(|d| d.line.text == "1 big egg")
            .expect("kept")
            .line
            .clone()]
    );
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
            place: 0,
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
    let w = work(&sheet, &[part.clone().into()], larder(), &[]).expect("works");
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
    // What is taken in is made first.
    assert_eq!(steps[..2], [(1, Some(2)), (2, Some(2))]);
    let of = |n| w.formula.recipe.step_in_method(n);
    assert_eq!(
        [of(1), of(2), of(3)],
        [(1, Some("Nut crumbs")), (2, Some("Nut crumbs")), (1, None)]
    );
    // This sheet's decision stands over the part's.
    let (c, l) = place(&w.formula.recipe, "1 knob");
    let line = key_of(&w.formula.recipe, c, l);
    change(
        &mut sheet,
        Change::Grams {
            line,
            place: 0,
            grams: Some(70.0),
        },
    );
    let w = work(&sheet, &[part.into()], larder(), &[]).expect("works");
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
    let w = work(&sheet, &[part.into()], larder(), &[]).expect("works");
    let f = &w.formula;
    let names: Vec<&str> = f.components.iter().map(|c| c.name.as_str()).collect();
    assert_eq!(names, ["dough", "case", "dough 2", "case 2"]);
    assert_eq!(f.components[3].items[0].component, Some(2));
    let cup = |w: &Worked, c: usize| w.formula.components[c].items[0].grams;
    assert_eq!(cup(&w, 2), cup(&alone, 0));
    assert_ne!(cup(&w, 2), cup(&w, 0));
}

/// Method, credit and yield in the baker's own words: kept, checked, and over what was read.
#[test]
fn own_words_stand_over_what_was_read() {
    let text = "Rolls

By Ottilie Fenn
Source: https://example.org/rolls
Makes a dozen rolls

200 g plain flour
100 g water

Method
1. Mix.
";
    let mut sheet = Sheet::new(text, Locale::Us);
    let own = |t: &str| Some(t.to_owned());
    let all = [
        Change::Credit {
            text: own("Imre Vasko"),
        },
        Change::Makes {
            text: own("Makes 8 big rolls"),
        },
        Change::Method {
            text: own("Whisk.\n\nLet it stand."),
        },
        Change::Keeping {
            text: own("Two days, wrapped"),
        },
    ];
    let before = sheet.clone();
    let back: Vec<Change> = all.iter().flat_map(|c| c.inverse(&sheet)).collect();
    for c in &all {
        change(&mut sheet, c.clone());
    }
    assert_eq!(all[0].words(), "credit: Imre Vasko");
    assert_eq!(all[1].words(), "what it makes: Makes 8 big rolls");
    assert_eq!(all[2].words(), "your method: 2 lines");
    let fields: Vec<String> = all.iter().map(Change::field).collect();
    assert_eq!(fields, ["credit", "makes", "method", "keeping"]);
    assert_eq!(all[3].words(), "how it keeps: Two days, wrapped");
    assert_eq!(all[3].value_in(&sheet), "Two days, wrapped");
    assert_eq!(all[2].value_in(&sheet), "Whisk.\n\nLet it stand.");

    let kept = serde_json::to_string(&sheet).expect("JSON");
    assert_eq!(
        serde_json::from_str::<Sheet>(&kept).expect("a sheet"),
        sheet
    );
    let recipe = worked(&sheet).formula.recipe;
    assert_eq!(recipe.source.author.as_deref(), Some("Imre Vasko"));
    assert_eq!(
        recipe.source.url.as_deref(),
        Some("https://example.org/rolls")
    );
    let makes = recipe.makes.expect("a yield");
    assert_eq!(
        (makes.text.as_str(), makes.count),
        ("Makes 8 big rolls", Some((8.0, 8.0)))
    );

    for c in back {
        change(&mut sheet, c);
    }
    assert_eq!(sheet, before);
    let bad = [
        Change::Credit {
            text: own("two\nlines"),
        },
        Change::Makes {
            text: Some("x".repeat(401)),
        },
        Change::Method { text: own(" \n ") },
        Change::Method {
            text: Some("x".repeat(40_001)),
        },
    ];
    for c in bad {
        assert!(sheet.change(&c).is_err(), "{c:?}");
        assert_eq!(sheet, before);
    }
}

/// Styles, blends and pins mean the component they name, and no other.
#[test]
fn wishes_are_for_one_component() {
    let text = "Loaf cake\n\n200 g plain flour\n100 g butter\n100 g sugar\n2 eggs\n\nFor the crumble:\n100 g plain flour\n50 g butter\n50 g sugar\n";
    let mut sheet = Sheet::new(text, Locale::Us);
    let plain = worked(&sheet);
    let style = |w: &Worked, c: usize| w.rework.components[c].style.expect("a style").style.key();
    let blend = |w: &Worked, c: usize| w.rework.components[c].blend.clone().expect("a blend");
    assert_ne!(style(&plain, 0), "pasta");
    let house = recipe::rework::blend::house(larder());
    let mut own = house[0].clone();
    own.key = "own_7".into();
    own.own = true;
    own.styles.clear();
    change(
        &mut sheet,
        Change::Style {
            component: String::new(),
            style: Some("pasta".to_owned()),
        },
    );
    change(
        &mut sheet,
        Change::Blend {
            component: "crumble".to_owned(),
            blend: Some("own_7".to_owned()),
        },
    );
    let key = "blend".to_owned();
    let pin = |grams| Change::Pin {
        component: "crumble".to_owned(),
        line: key.clone(),
        hold: Some(Hold::Grams(grams)),
    };
    assert!(sheet.change(&pin(0.0)).is_err());
    change(&mut sheet, pin(123.0));
    let w = work(&sheet, &[], larder(), &[own]).expect("works");
    assert_eq!(style(&w, 0), "pasta");
    assert_eq!(style(&w, 1), style(&plain, 1));
    assert_eq!(blend(&w, 1).key, "own_7");
    assert!(blend(&w, 0).key != "own_7");
    let held = w.rework.components[1].lines.iter().find(|l| l.key == key);
    let grams = held.and_then(|l| l.grams).expect("a weight");
    assert!((grams.likely().as_grams() - 123.0).abs() < 1e-9);
    assert!(w.rework.idle_pins.is_empty());
    // As a part of another recipe it keeps them, under its own names there.
    let mut whole = Sheet::new(
        "Trifle\n\nFor the crumble:\n100 g plain flour\n50 g butter\n\nFor the base:\nall of the loaf cake\n",
        Locale::Us,
    );
    change(
        &mut whole,
        Change::TakePart {
            part: PartUse {
                recipe: "r1".to_owned(),
                version: 1,
                title: "Loaf cake".to_owned(),
            },
        },
    );
    let t = work(&whole, &[sheet.into()], larder(), &[]).expect("works");
    let names: Vec<&str> = t
        .formula
        .components
        .iter()
        .map(|c| c.name.as_str())
        .collect();
    assert_eq!(names, ["crumble", "base", "loaf cake", "crumble 2"]);
    assert_eq!(style(&t, 2), "pasta");
    let pinned = |c: usize| t.rework.components[c].lines.iter().any(|l| l.held);
    assert!(pinned(3) && !pinned(0));
}

const BUNS: &str = "Buns\n\nFor the dough:\n200 g plain flour\n1 knob butter\n1 knob butter\n8 oz milk\n2 (14 g) packets yeast\n\nFor the glaze:\n1 cup butter or margarine\nhalf of the dough\n";

/// Each ingredient of a line is weighed by itself, taken back by itself, and kept when saved.
#[test]
fn every_ingredient_of_a_line_can_be_weighed() {
    for (text, weights) in [
        ("2 eggs + 1 yolk", [91.0, 21.0]),
        ("zest and juice of 1 lemon", [5.0, 38.0]),
        ("½ tsp each of cinnamon and nutmeg", [1.5, 1.0]),
        ("salt and pepper to taste", [4.0, 0.5]),
    ] {
        let mut sheet = of(&["200 g plain flour", text]);
        let line = key(&sheet, text);
        let shown = |sheet: &Sheet| -> Vec<Option<f64>> {
            let w = worked(sheet);
            let items = &w.formula.components[0].items;
            let of = items.iter().filter(|i| i.line == 1);
            of.map(|i| i.grams.map(|g| g.likely().as_grams())).collect()
        };
        let before = shown(&sheet);
        assert_eq!(before.len(), 2, "{text}");
        let weigh = |place, grams| Change::Grams {
            line: line.clone(),
            place,
            grams,
        };
        let back = weigh(1, Some(1.0)).inverse(&sheet);
        change(&mut sheet, weigh(1, Some(weights[1])));
        assert_eq!(shown(&sheet), [before[0], Some(weights[1])], "{text}");
        let saved = serde_json::to_string(&sheet).expect("saves");
        assert_eq!(serde_json::from_str::<Sheet>(&saved).expect("reads"), sheet);
        change(&mut sheet, weigh(0, Some(weights[0])));
        assert_eq!(shown(&sheet), weights.map(Some), "{text}");
        // What was weighed is asked about no more.
        let w = worked(&sheet);
        let asked = w.formula.recipe.components[0].lines[1].doubts.iter();
        let asked: Vec<_> = asked.filter(|d| d.code == DoubtCode::NoAmount).collect();
        assert!(asked.is_empty(), "{text}: {asked:?}");
        assert_ne!(weigh(0, None).field(), weigh(1, None).field());
        for one in back {
            change(&mut sheet, one);
        }
        assert_eq!(shown(&sheet), [Some(weights[0]), before[1]], "{text}");
        change(&mut sheet, weigh(0, None));
        assert!(sheet.lines.is_empty(), "{text}");
    }
}
