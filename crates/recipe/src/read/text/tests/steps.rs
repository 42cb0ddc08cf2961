//! Lines of the method, and lines that only look like it.

use super::{lines, read};
use crate::DoubtCode;
use crate::recipe::{FactKind, Recipe};

#[test]
fn a_line_that_opens_with_a_verb_is_method() {
    let r = read(
        "Loaf\n3 bananas, 225g flour\nmash bananas then mix in the butter n 2 eggs, fold in flour. 2lb loaf tin lined, 180 abt 50 mins\n",
    );
    assert_eq!((lines(&r).len(), r.steps.len()), (1, 1));
    let r = read(
        "Loaf\n\n200 g flour\n100 g sugar\n\nWhisk 3 eggs with 50 g sugar until pale.\n2lb loaf tin lined. 180 for 50 minutes.\n",
    );
    assert_eq!((lines(&r).len(), r.steps.len()), (2, 2));
    let r =
        read("Loaf\n\n200 g flour\njuice of 1 lemon\noil for frying\nbutter, for the loaf tin\n");
    assert_eq!((lines(&r).len(), r.steps.len()), (4, 0));
}

#[test]
fn steps_numbered_without_a_dot_are_steps() {
    let r = read(
        "Crumble\n\n800g rhubarb\n2 ginger nut biscuits, crushed\n\n1 Heat oven to 200C.\n2 Toss the rhubarb with sugar.\n3 Using a knife, rub the butter into the flour.\n4 Eggs go in last.\n",
    );
    assert_eq!((lines(&r).len(), r.steps.len()), (2, 4), "{r:#?}");
    assert_eq!(r.steps[0].text, "Heat oven to 200C.");
    assert_eq!(r.steps[3].text, "Eggs go in last.");
    let r = read("Bread\n\n200 g flour\n\nMethod\n1 Mix it all\nuntil smooth.\n2 Bake it\n");
    assert_eq!(r.steps.len(), 2);
    assert_eq!(r.steps[0].text, "Mix it all until smooth.");
    // Amounts of food are none.
    let r = read("Pie\n\n200 g flour\n1 Whisk\n2 Roast chickens\n1 cream cheese\n1 wrap, torn\n");
    assert_eq!(r.steps.len(), 0);
}

/// A method told by days begins behind the list, with or without a heading of its own.
#[test]
fn days_behind_the_list_are_method() {
    let told = |days: &str| {
        let r = read(&format!(
            "Two-day loaf\n\n500 g strong white flour\n350 g water\n3 g yeast\n{days}\n"
        ));
        let steps: Vec<String> = r.steps.into_iter().map(|s| s.text).collect();
        let lines = r.components.iter().map(|c| c.lines.len()).sum::<usize>();
        (lines, steps)
    };
    let steps = |all: &[&str]| (3, all.iter().map(|s| (*s).to_owned()).collect());
    assert_eq!(
        told(
            "\nDay 1. Make the dough and leave it in the fridge.\nDay 2. Shape the loaf. Bake it."
        ),
        steps(&[
            "Day 1. Make the dough and leave it in the fridge.",
            "Day 2. Shape the loaf. Bake it."
        ])
    );
    let two = [
        "Mix everything, cover and chill overnight.",
        "Shape the loaf. Bake at 230 C.",
    ];
    assert_eq!(
        told(&format!(
            "Day 1. Make the dough\n{}\nDay 2. Bake it\n{}",
            two[0], two[1]
        )),
        steps(&two)
    );
    assert_eq!(
        told(&format!("\nDAY ONE\n{}\n\nDAY TWO\n{}", two[0], two[1])),
        steps(&two)
    );
    // Over an amount a day heads what goes in on it.
    let (lines, none) = told("\nDay 2\n100 g raisins\n50 g honey");
    assert_eq!((lines, none.len()), (5, 0));
}

#[test]
fn the_ovens_heat_above_the_method_is_a_step() {
    let heat = |r: &Recipe| {
        let facts = r.steps.iter().flat_map(|s| &s.facts);
        facts
            .filter(|f| matches!(f.kind, FactKind::Temperature { .. }))
            .count()
    };
    let r = read(
        "Scones\n\n8 oz flour\n2 oz marg\n\nOven 425 deg F, Gas 7\nRub fat into flour and salt. Bake 12 mins.\n",
    );
    assert_eq!((r.steps.len(), r.notes.len()), (2, 0), "{r:#?}");
    assert!(heat(&r) > 0);
    let r = read(
        "Scones\n\n8 oz flour\n2 eggs\n\nOven 220C\n\nRub the fat into the flour with\nyour fingers.\n",
    );
    assert_eq!(r.steps.len(), 2, "{r:#?}");
    let r = read("Cake\n\nOven: 180C\n\n200 g flour\n2 eggs\n\nMethod\nMix. Bake 20 minutes.\n");
    assert_eq!((r.steps.len(), heat(&r)), (2, 1));
    assert_eq!(lines(&r).len(), 2);
}

/// An old amount that opens with a word which is also a verb swallowed the lines behind it.
#[test]
fn butter_the_size_of_an_egg_is_a_line() {
    let r = read(
        "Honey cake\n\n8 oz flour\nbutter the size of an egg\n2 eggs\n1 tsp baking powder\n\nButter the tin. Beat all and bake.\n",
    );
    let lines: Vec<&str> = r.components[0]
        .lines
        .iter()
        .map(|l| l.text.as_str())
        .collect();
    assert_eq!(
        lines,
        [
            "8 oz flour",
            "butter the size of an egg",
            "2 eggs",
            "1 tsp baking powder"
        ]
    );
    assert_eq!(r.steps.len(), 1);
}

/// Steps right under the last ingredient, in as many words as cooks have for them.
#[test]
fn a_method_without_a_blank_line_above_it_is_read_as_one() {
    for method in [
        "Cream, mix, drop on a sheet, bake at 375 F for 12 minutes",
        "Cream, mix, drop on a sheet, bake at 375 F for 12 minutes.",
        "cream, mix, chill, then bake",
        "then bake at 375 F for 12 minutes",
        "Bake for 12 minutes",
        "Bake 12 min",
        "Bake 350",
        "Mix well",
        "Moderate oven, 20 minutes",
        "375 F for 10-12 minutes",
        "375°F, 12 min",
        "12 minutes at 190 C",
        "Gas 5, 15 minutes",
        "Two trays, 180 °C, 12 minutes",
        "Roll thin; cut; bake at 350 F",
        "Drop by spoonfuls, 375 F 10 min",
        "Everything into a bowl, then into the oven at 180 C for 25 min",
        "Eggs and sugar whisked, flour in, bake at 350 F 40 minutes",
        "Cream fat and sugar, beat in eggs, 180C 20 mins",
        "Spoon into cases: 200 C, 15 minutes",
        "Butter a sheet and bake",
        "Whisk",
        "Knead",
        "Line a tin with paper",
        "Oil a tin",
        "Flour the bench and roll",
        "Sieve flour",
        "Zest the lemons.",
        "Cream fat & sugar; add egg.",
        "First, cream the butter and sugar.",
        "Using a mixer, cream butter.",
        "With the mixer on low, add sugar.",
        "To make the dough, mix everything.",
        "The night before, mix the sponge",
        "Day 1: mix the sponge",
    ] {
        let r = read(&format!(
            "Drops\n\n1 cup butter\n2 cups flour\n1 tsp vanilla\n{method}\n"
        ));
        let steps: Vec<&str> = r.steps.iter().map(|s| s.text.as_str()).collect();
        assert_eq!(
            steps,
            [method],
            "notes {:?}, lines {:?}",
            r.notes,
            lines(&r)
        );
        assert_eq!((lines(&r).len(), r.notes.len()), (3, 0), "{method}");
    }
}

/// A '1.' behind a list without numbers begins the method, whatever words follow it.
#[test]
fn a_numbered_line_behind_a_bare_list_is_a_step() {
    for step in ["Egg whites first.", "Sponge, overnight", "Zest lemons"] {
        for (parts, last) in [(1, "salt"), (2, "salt"), (1, "1 egg"), (2, "50 g sugar")] {
            let list = ["Dough\n2 cups flour\n", "Filling\n1 cup sugar\n"][..parts].join("\n");
            for mark in ['.', ')'] {
                let r = read(&format!(
                    "Drops\n\n{list}{last}\n1{mark} {step}\n2{mark} Bake.\n"
                ));
                assert_eq!(r.steps.len(), 2, "{step} {parts} {last}: {:?}", lines(&r));
                assert_eq!(r.components.len(), parts);
            }
        }
    }
    // A list with numbers goes on, and so does a measured line.
    for list in ["1. 2 cups flour\n2. 1 egg\n", "2 cups flour\n1. 1 egg\n"] {
        let r = read(&format!("Drops\n\n{list}"));
        assert_eq!((lines(&r).len(), r.steps.len()), (2, 0), "{list}");
    }
}

#[test]
fn ingredients_that_tell_of_heat_or_time_stay_ingredients() {
    for line in [
        "1 cup warm water (110 F)",
        "2 cups crumbs, toasted at 350 F for 10 minutes",
        "Butter, left out for 1 hour",
        "Butter, leave out 1 hour",
        "Breadcrumbs toasted at 350 F for 10 minutes",
        "Potatoes, peel and grate",
        "Walnuts, toast and chop",
        "Cream",
        "Water, 300 g, warm to 40 °C",
        "Flour to dust",
        "Flour for the bench and for the rolling pin",
        "Sugar on top",
        "Zest of a lemon",
        "Stoned dates",
        "Sifted flour",
        "Cream",
        "To serve: whipped cream",
        "For brushing, melted butter",
        "Whipped cream",
        "Grated zest of 1 lemon",
        "3 eggs, beat well, rest 10 minutes",
        "Mashed potatoes",
    ] {
        let r = read(&format!("Drops\n\n1 cup butter\n2 cups flour\n{line}\n"));
        assert_eq!(
            (lines(&r).len(), r.steps.len()),
            (3, 0),
            "{line}: {:?}",
            r.notes
        );
    }
}

#[test]
fn a_line_behind_the_ingredients_that_may_be_a_step_is_asked_about() {
    let text = "Drops\n\n1 cup butter\n2 cups flour\nGrandmother would always cream, and beat\n";
    let r = read(text);
    let asked: Vec<_> = r.doubts.iter().map(|d| d.code).collect();
    assert_eq!(
        asked,
        [DoubtCode::MaybeMethod],
        "{:?} {:?}",
        r.notes,
        r.steps
    );
    let span = r.doubts[0].span.clone().expect("its place in the text");
    assert_eq!(&text[span], "Grandmother would always cream, and beat");
    // With the word above it, it is a step.
    let r = read(&text.replace("Grandmother", "Method\nGrandmother"));
    assert_eq!((r.steps.len(), r.doubts.len()), (1, 0));
    // What tells nothing is set aside without a question.
    let r = read("Drops\n\n1 cup butter\n2 cups flour\nFrom a tin in the attic, much loved\n");
    assert!(r.doubts.is_empty(), "{:?}", r.doubts);
}

/// Under the list, without a blank line between.
#[test]
fn a_step_may_say_who_does_it() {
    for line in [
        "You start by creaming the butter and sugar until pale.",
        "First, cream the butter.",
        "First you cream the butter with the sugar.",
        "To make the dough, mix the butter with the flour.",
        "You will then rub the butter into the flour.",
        "We first melt the butter.",
        "I like to start with the butter, beaten for 5 minutes.",
        "Begin by beating the butter.",
    ] {
        let r = read(&format!("Drops\n\n1 cup butter\n2 cups flour\n{line}\n"));
        let steps: Vec<&str> = r.steps.iter().map(|s| s.text.as_str()).collect();
        assert_eq!((steps, r.notes.len()), (vec![line], 0), "{:?}", r.notes);
        assert_eq!(lines(&r).len(), 2);
    }
    // What is only told of is asked about, what is no doing is not.
    for (line, asked) in [
        ("Creaming the butter and sugar comes first.", 1),
        ("I cream the butter with the sugar.", 1),
        ("You may leave out the nuts, says my aunt.", 0),
        ("I had these at a fair, you would love them.", 0),
        ("You need a good oven.", 0),
    ] {
        let r = read(&format!("Drops\n\n1 cup butter\n2 cups flour\n{line}\n"));
        assert_eq!((lines(&r).len(), r.steps.len()), (2, 0), "{line}");
        let codes: Vec<_> = r.doubts.iter().map(|d| d.code).collect();
        assert_eq!(codes, vec![DoubtCode::MaybeMethod; asked], "{line}");
    }
}

/// The number of a step on a line of its own.
#[test]
fn a_step_below_its_number_is_a_step() {
    let r = read(
        "Cake\n\n200 g flour\n100 g sugar\n\nStep 1\nMix the flour and sugar\nStep 2\nBake it.\n",
    );
    let steps: Vec<&str> = r.steps.iter().map(|s| s.text.as_str()).collect();
    assert_eq!(steps, ["Mix the flour and sugar", "Bake it."]);
    assert_eq!(lines(&r).len(), 2);
}
