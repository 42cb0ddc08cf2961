//! A card with the baker's own method.

use super::{MERINGUE, SQUARES, assert_balanced, data, larder, made, options, page, seen};
use card::{CardOptions, json_ld};
use larder::Larder;
use quantity::Locale;
use recipe::rework::Rework;
use recipe::screen::Screening;

/// The card with plain spaces; that a figure and its unit stay together is tested where it is done.
pub(super) fn html(
    rework: &Rework,
    screening: &Screening,
    larder: &Larder,
    options: &CardOptions,
) -> String {
    card::html(rework, screening, larder, options).replace('\u{a0}', " ")
}

/// Options of a developer who has written the method and the yield.
fn written() -> CardOptions {
    CardOptions {
        method: Some(
            "For the dough:\n1. Stir <everything> together.\nLet it stand.\n\nTo finish:\nBake it for 30 minutes.".to_owned(),
        ),
        makes: Some("Cuts into 12 neat squares".to_owned()),
        ..options()
    }
}

/// The reader's sheet and the developer's, as they are seen.
pub(super) fn sheets(page: &str) -> (String, String) {
    let text = seen(page);
    let (first, second) = text.split_once("Developer’s sheet").expect("two sheets");
    (first.to_owned(), second.to_owned())
}

#[test]
fn an_own_method_is_printed_and_the_notes_are_the_developers() {
    let m = made(SQUARES);
    let out = html(&m.rework, &m.screening, larder(), &written());
    assert_balanced(&out);
    assert!(out.contains("<ol start=\"3\"><li>Bake it for 30 minutes.</li></ol>"));
    let (first, second) = sheets(&out);
    assert!(first.contains("For the dough") && first.contains("Stir <everything> together."));
    assert!(first.contains("Cuts into 12 neat squares"));
    for gone in ["Follow the source", "Step 2", "No method written"] {
        assert!(!first.contains(gone), "{gone}");
    }
    assert!(second.contains("What to do differently from the source"));
    assert!(
        second.contains("The original’s step 2"),
        "not that of the own method"
    );
    assert!(!second.contains("Step 2"));

    let data = json_ld(&m.rework, &m.screening, larder(), &written());
    let all = data["recipeInstructions"].as_array().expect("sections");
    let last = all.last().expect("a section");
    assert_eq!(last["name"], "To finish");
    assert_eq!(
        last["itemListElement"][0]["text"],
        "Bake it for 30 minutes."
    );
    assert!(!data.to_string().contains("Follow the source"));
    assert_eq!(data["recipeYield"], "Cuts into 12 neat squares");

    // Without one the notes stay with the reader and nothing is said twice.
    let (first, second) = sheets(&page(&m));
    assert!(first.contains("Follow the source’s method at") && first.contains("Step 2"));
    assert!(!second.contains("What to do differently"));
}

/// An enriched dough that stands in the cold overnight.
const OVERNIGHT: &str = "Overnight buns

By Ottilie Fenn

Ingredients
500 g strong white flour
7 g instant yeast
60 g sugar
8 g salt
250 ml whole milk
2 eggs
100 g butter

Method
1. Knead everything for 8 minutes. Cover and leave overnight in the fridge, 8-12 hours.
2. Shape into 12 buns, and let rise for 1 hour.
3. Bake at 190 °C for 25 minutes.
";

/// The notes leave the reader's card with an own method; what can hurt stays there.
#[test]
fn what_an_own_method_leaves_out_stands_under_cautions() {
    let m = made(OVERNIGHT);
    let with = |method: &str| {
        let options = CardOptions {
            method: Some(method.to_owned()),
            ..options()
        };
        sheets(&html(&m.rework, &m.screening, larder(), &options)).0
    };
    let (cold, core, cut) = (
        "With egg or milk in it keep it at 41 °F / 5 °C or below and no longer than 24 hours; time above 41 °F / 5 °C counts towards a limit of 2 hours",
        "Done when the middle reads ",
        "Cut when the middle is below 95 °F / 35 °C",
    );
    let bare = with("Mix it, shape it and bake it.");
    let cautions = bare.split("Cautions").nth(1).unwrap_or("");
    for words in [cold, core, cut] {
        assert!(cautions.contains(words), "{words}: {cautions}");
    }
    assert!(!cautions.contains("Step "), "{cautions}");
    // A method that says them itself is not doubled; one that says them wrongly is.
    let full = "Keep the dough at 4 °C, 24 hours at most and 2 hours out of the fridge in all.\nBake it at 180 °C until the middle reads 97 °C.\nCut it below 35 °C.";
    let held = with(full);
    for words in [cold, core, cut] {
        assert!(!held.contains(words), "{words}: {held}");
    }
    assert!(with(&full.replace("97", "75")).contains(core));
    assert!(with(&full.replace("4 °C", "12 °C")).contains(cold));
    // Also where the note answers words of the source.
    let tapped = made(&OVERNIGHT.replace(
        "25 minutes.",
        "25 minutes, until it sounds hollow when tapped.",
    ));
    let said = card::left_unsaid("Mix it, shape it and bake it.", &tapped.rework);
    let middle = said.iter().find(|s| s.contains(core)).expect("the middle");
    assert!(
        middle.contains("reads 95 °C (91–98) / 203 °F (196–208)"),
        "{middle}"
    );
    // Without one the notes are there, and are not said twice.
    let none = sheets(&page(&m)).0;
    assert_eq!(none.matches("with egg or milk in it").count(), 1, "{none}");
    assert!(!none.contains(cold));

    let short = "Mix it, shape it and bake it.";
    let said = card::left_unsaid(short, &m.rework);
    assert!(said.iter().any(|s| s.contains(core)), "{said:?}");
    let oven = card::names_no_oven(short, &m.rework);
    assert_eq!(
        oven.as_deref(),
        Some(
            "Your method names no oven heat (the rework: 180 °C to 190 °C (fan 160–170 °C, gas 4–5), 28–31 minutes)."
        )
    );
    assert_eq!(card::names_no_oven(full, &m.rework), None);
    // What is fried wants none.
    let fried =
        made(&OVERNIGHT.replace("Bake at 190 °C for 25 minutes", "Fry in oil for 4 minutes"));
    assert_eq!(card::names_no_oven(short, &fried.rework), None);
    assert_eq!(card::left_unsaid(full, &m.rework), [""; 0]);
    assert_eq!(card::left_unsaid(" ", &m.rework), [""; 0]);
}

#[test]
fn gluten_in_an_own_method_is_not_passed_over() {
    let m = made(MERINGUE);
    let options = CardOptions {
        method: Some("Strew semolina over the tray.".to_owned()),
        ..options()
    };
    let data = json_ld(&m.rework, &m.screening, larder(), &options);
    assert!(data.get("suitableForDiet").is_none());
    let name = data["name"].as_str().expect("a name");
    assert!(name.contains("its method names gluten"), "{name}");
    let (first, _) = sheets(&html(&m.rework, &m.screening, larder(), &options));
    assert!(first.contains("semolina"), "{first}");
}

#[test]
fn a_method_nobody_knows_of_is_not_pointed_to() {
    let text = SQUARES
        .replace("By Ottilie Fenn\n", "")
        .replace("Source: https://example.org/plum-squares\n", "");
    let m = made(&text);
    let (first, _) = sheets(&page(&m));
    assert!(first.contains("No method written yet."), "{first}");
    assert!(!first.contains("Follow the source") && !first.contains("own book"));
    assert!(!data(&m).to_string().contains("Follow the source"));
}

/// A step of a recipe taken in has its number there, not one of two methods run together.
#[test]
fn steps_of_a_part_keep_their_own_numbers() {
    use recipe::sheet::{Change, PartUse, Sheet, work};
    let mut sheet = Sheet::new(
        "Plum tart

By Ottilie Fenn

300 g plums
200 g of the hazel biscuits

Method
1. Cut the plums.
2. Lay them on the biscuits.
3. Serve it.
",
        Locale::Us,
    );
    let part = Sheet::new(
        "Hazel biscuits

200 g plain flour
100 g butter
80 g sugar

Method
1. Rub everything together.
2. Bake for 12 minutes at 170 °C.
",
        Locale::Us,
    );
    let taken = PartUse {
        recipe: "r1".to_owned(),
        version: 1,
        title: "Hazel biscuits".to_owned(),
    };
    sheet
        .change(&Change::TakePart { part: taken })
        .expect("taken in");
    let w = work(&sheet, &[part.into()], larder(), &[]).expect("works");
    let page = html(&w.rework, &w.rework_screening, larder(), &options());
    let (first, _) = sheets(&page);
    for needed in [
        "Step 2 bakes for 12 minutes",
        "steps of ‘Hazel biscuits’",
        "Step numbers are those of each recipe’s own method.",
    ] {
        assert!(first.contains(needed), "{needed}: {first}");
    }
    assert!(!first.contains("Step 5"));
}

/// A case that its own recipe bakes and the tart bakes again: each note says whose step it is of.
#[test]
fn notes_on_steps_of_two_methods_say_whose_they_are() {
    use recipe::sheet::{PartUse, Sheet, work};
    let mut sheet = Sheet::new(
        "Plum tart\n\n1 quantity shortcrust\n500 g plums\n50 g sugar\n\nMethod\n1. Line a 23 cm tart tin with the shortcrust. Fill with plums and sugar and bake 40 minutes at 190 °C.\n",
        Locale::Uk,
    );
    let case = "Base shortcrust\n\nFor the shortcrust\n250 g plain flour\n125 g cold butter\n40 g water\n\nMethod\n1. Rub in the butter, add the water, roll out and bake at 190 °C for 20 minutes.\n";
    sheet.parts.push(PartUse {
        recipe: "r1".to_owned(),
        version: 1,
        title: "Base shortcrust".to_owned(),
    });
    let part = Sheet::new(case, Locale::Uk).into();
    let w = work(&sheet, &[part], larder(), &[]).expect("works");
    let (first, _) = sheets(&html(&w.rework, &w.rework_screening, larder(), &options()));
    assert!(
        first.contains("In ‘Base shortcrust’: Step 1 bakes for 20 minutes"),
        "{first}"
    );
    assert!(
        first.contains("In this recipe: Step 1 bakes for 40 minutes"),
        "{first}"
    );
    assert!(!first.contains("steps of ‘Base shortcrust’"), "{first}");
}

/// The list of a part that no step names stands on the reader's sheet; why, on the developer's.
#[test]
fn a_part_that_the_own_method_leaves_out_is_told_the_developer() {
    let m = made(SQUARES);
    let told = "Your method does not say where the egg wash goes: write a step for it.";
    let options = CardOptions {
        no_step: [(0, told.to_owned())].into(),
        ..written()
    };
    let (first, second) = sheets(&html(&m.rework, &m.screening, larder(), &options));
    assert!(second.contains(told) && !first.contains(told), "{second}");
    let (_, second) = sheets(&html(&m.rework, &m.screening, larder(), &written()));
    assert!(!second.contains("does not say where"));
}
