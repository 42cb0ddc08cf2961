//! A card at a size: what it makes, its lines and its tin.

use super::own_method::sheets;
use super::{SQUARES, data, larder, made, options, page};
use card::CardOptions;

#[test]
fn of_the_sources_yield_only_the_count_is_printed() {
    for (words, printed) in [
        ("Makes 12 glossy little squares", "Makes 12 squares"),
        ("Serves 4–6 hungry walkers", "Serves 4–6"),
        ("Makes 1 9-inch cake", "Makes 1 cake"),
        ("Makes 20 rolls, serves 10", "Makes 20 rolls"),
        ("Makes 30 puffs", "Makes 30"),
        ("Makes 2 plaits, 16 slices", "Makes 2 plaits, 16 slices"),
        ("Makes 2 stars, serves 10", "Makes 2"),
        (
            // What is counted is what it is cut into: of one cake there are no 12 cakes.
            "Makes one 9-by-13-inch cake, 12 to 15 generous squares",
            "Makes 12–15 squares",
        ),
        (
            "Makes one 9-by-13 pan, 12 to 15 squares",
            "Makes 12–15 squares",
        ),
        ("Makes enough for the whole street", "About"),
    ] {
        let m = made(&SQUARES.replace("Makes 12 squares", words));
        let (first, _) = sheets(&page(&m));
        assert!(first.contains(printed), "{words}: {printed}");
        for prose in ["glossy", "hungry", "9-", "generous", "puffs", "street"] {
            assert!(!first.contains(prose), "{words}");
        }
    }
}

/// At another size the count is of whole pieces; one crown at × 1.33 is no 1.3 slices.
#[test]
fn a_yield_at_another_size_counts_whole_things() {
    let larder = larder::Larder::built_in().expect("the built-in tables");
    for (words, times, says) in [
        (
            "Makes 1 crown, about 12 slices",
            4.0 / 3.0,
            "Makes 16 slices, about",
        ),
        ("Makes 1 crown, about 12 slices", 2.0, "24 slices"),
        ("Makes 1 loaf", 1.5, "about"),
        ("Makes 1 loaf", 2.0, "Makes 2 loaves"),
        ("Makes 2 loaves", 0.443, "Makes about 1 loaf"),
        ("Makes 12 cookies", 1.0 / 12.0, "Makes 1 cookie"),
        ("Serves 8", 1.233, "Serves about 10"),
        ("Makes 12 buns", 1.5, "Makes 18 buns"),
        ("Makes 12 buns", 0.7, "Makes about 8 buns"),
    ] {
        let text = format!(
            "Plain bread\n\n{words}\n\n500 g bread flour\n300 g water\n10 g salt\n7 g instant yeast\n"
        );
        let sheet = recipe::sheet::Sheet::new(&text, quantity::Locale::Us);
        let w = recipe::sheet::work(&sheet, &[], &larder, &[]).expect("worked");
        let ask = recipe::size::Ask::times(times);
        let batch = recipe::size::size(&w.rework, &ask, &larder).expect("a batch");
        let options = CardOptions {
            batch: Some(batch),
            ..CardOptions::default()
        };
        let data = card::json_ld(&w.rework, &w.rework_screening, &larder, &options);
        let got = data["recipeYield"].as_str().unwrap_or_default();
        assert!(got.contains(says), "{words} × {times}: {got}");
        assert!(!got.contains("1.3") && !got.contains("9.9"), "{got}");
    }
}

/// Worked by hand: of 1 to 2 tablespoons of honey the middle is weighed, 1½ × 21 g of SR28's tablespoon; those
/// words stand beside it, not the range.
#[test]
fn the_measure_of_a_range_is_that_of_its_weight() {
    let text = "Plain buns\n\n500 g bread flour\n300 g water\n1-2 tablespoons honey\n1-2 tsp salt\n7 g instant yeast\n";
    let lines = data(&made(text))["recipeIngredient"].to_string();
    for says in [
        "32 g (1½ tablespoons) honey",
        "9 g (1½ teaspoons) table salt",
    ] {
        assert!(lines.contains(says), "{says}: {lines}");
    }
    assert!(!lines.contains("1-2"), "{lines}");
}

/// The reader's sheet is for the size that is asked for and says so; the developer's stays once.
#[test]
fn a_card_of_another_size_says_so() {
    let larder = larder::Larder::built_in().expect("the built-in tables");
    let text = "Plain buns\n\nMakes 12 buns\n\n500 g bread flour\n300 g water\n10 g salt\n7 g instant yeast\n";
    let sheet = recipe::sheet::Sheet::new(text, quantity::Locale::Us);
    let w = recipe::sheet::work(&sheet, &[], &larder, &[]).expect("worked");
    let ask = recipe::size::Ask::times(1.5);
    let batch = recipe::size::size(&w.rework, &ask, &larder).expect("a batch");
    let options = CardOptions {
        makes: Some("12 soft buns".to_owned()),
        batch: Some(batch),
        ..CardOptions::default()
    };
    let page = crate::html(&w.rework, &w.rework_screening, &larder, &options);
    assert!(page.contains("Makes 18 buns"), "{page}");
    assert!(page.contains("× 1.5 of the recipe"));
    assert!(page.contains("This sheet is for the recipe once"));
    assert!(!page.contains("12 soft buns"));
    let data = card::json_ld(&w.rework, &w.rework_screening, &larder, &options);
    assert_eq!(data["recipeYield"], "Makes 18 buns");
    let lines = data["recipeIngredient"].to_string();
    assert!(lines.contains("750 g"), "{lines}");
    assert!(lines.contains("15 g"), "{lines}");
    // Once, nothing is said of a size.
    let once = CardOptions {
        batch: None,
        ..options
    };
    let page = crate::html(&w.rework, &w.rework_screening, &larder, &once);
    assert!(page.contains("12 soft buns") && !page.contains("of the recipe ·"));
}

/// A card for a 20 cm tin said 'line a 23 cm tin', from the method, and nothing else.
#[test]
fn a_card_for_another_tin_says_what_the_method_is_written_for() {
    let larder = larder::Larder::built_in().expect("the built-in tables");
    let text = "Seed cake\n\nServes 8\n\n250 g plain flour\n150 g butter\n150 g sugar\n3 eggs\n2 tsp baking powder\n\n1. Mix all, fill a 23 x 5 cm round tin and bake at 180 C for 40 minutes.\n";
    let sheet = recipe::sheet::Sheet::new(text, quantity::Locale::Uk);
    let w = recipe::sheet::work(&sheet, &[], &larder, &[]).expect("worked");
    let pans = |words| recipe::size::Pans::read(words, &[]).expect("a pan");
    let ask = recipe::size::Target::FromPan {
        from: pans("round 23x5 cm"),
        to: pans("round 20x5 cm"),
        keep_depth: false,
    };
    let size =
        |ask: &recipe::size::Ask| recipe::size::size(&w.rework, ask, &larder).expect("a batch");
    let (tin, times) = (size(&ask.into()), size(&recipe::size::Ask::times(0.443)));
    let three = size(&recipe::size::Target::Pan(pans("3 x round 20x5 cm")).into());
    let said = |batch: &recipe::size::Batch, method: &str| {
        let options = CardOptions {
            batch: Some(batch.clone()),
            method: Some(method.to_owned()),
            ..CardOptions::default()
        };
        let page = crate::html(&w.rework, &w.rework_screening, &larder, &options);
        let words = card::written_for(method, batch, &w.rework);
        assert_eq!(
            words.is_some(),
            page.contains("method is written for × 1"),
            "{method}"
        );
        words.unwrap_or_default()
    };
    let own = "Whisk.\nScrape it into a greased 22 cm x 5 cm round tin and bake for 35 minutes at 180 °C.";
    for (batch, method, want) in [
        (
            &tin,
            "",
            "The recipe’s method is written for × 1, in a 23 cm (9 in) round tin; this is sized for a 20 cm (8 in) round tin.",
        ),
        (
            &tin,
            own,
            "× 1, in a 22 cm (8½ in) round tin; this is sized for a 20 cm (8 in) round tin.",
        ),
        (
            &tin,
            "Mix.\nBake.",
            "for × 1; this is sized for a 20 cm (8 in) round tin.",
        ),
        (
            &three,
            "Mix.\nBake.",
            "this is sized for 3 × 20 cm (8 in) round tin.",
        ),
        (
            &times,
            own,
            "× 1, in a 22 cm (8½ in) round tin; this is × 0.443 of it.",
        ),
    ] {
        let words = said(batch, method);
        assert!(words.contains(want), "{words}");
    }
    // The developer's answer is of words of the developer's own.
    for (method, says) in [(own, false), ("", true)] {
        let options = CardOptions {
            batch: Some(times.clone()),
            method: Some(method.to_owned()),
            method_suits: true,
            ..CardOptions::default()
        };
        let page = crate::html(&w.rework, &w.rework_screening, &larder, &options);
        assert_eq!(page.contains("method is written for × 1"), says, "{method}");
    }
    let new = own.replace("22 cm x 5 cm", "20 cm x 5 cm");
    assert_eq!(said(&tin, &new), "", "written for this tin");
}

/// What has no weight cannot be sized: its words stay, with how many times they count.
#[test]
fn a_line_without_a_weight_says_how_many_times_it_counts() {
    let larder = larder::Larder::built_in().expect("the built-in tables");
    let text = "Plain buns\n\nMakes 12 buns\n\n500 g bread flour\n300 g water\n1 tsp quorbel powder\n7 g instant yeast\n";
    let sheet = recipe::sheet::Sheet::new(text, quantity::Locale::Us);
    let w = recipe::sheet::work(&sheet, &[], &larder, &[]).expect("worked");
    let ask = recipe::size::Ask::times(2.0);
    let batch = recipe::size::size(&w.rework, &ask, &larder).expect("a batch");
    let options = CardOptions {
        batch: Some(batch),
        ..CardOptions::default()
    };
    let page = crate::html(&w.rework, &w.rework_screening, &larder, &options);
    assert!(page.contains("2 × 1 teaspoon"), "{page}");
    let data = card::json_ld(&w.rework, &w.rework_screening, &larder, &options);
    let lines = data["recipeIngredient"].to_string();
    assert!(lines.contains("2 × 1 teaspoon"), "{lines}");
}

/// The flours of a blend on the card are those of the size page, and add up to what is printed
/// below them.
#[test]
fn the_flours_of_a_blend_add_up_to_it() {
    for flour in [333.0, 417.0, 1001.0] {
        let text = format!(
            "Seed cake\n\n{flour} g plain flour\n2 tsp baking powder\n180 g butter\n170 g sugar\n3 eggs\n\nMethod\nMix. Bake at 180 °C for 40 minutes.\n"
        );
        let m = made(&text);
        let c = &m.rework.components[0];
        let scale = recipe::household::Scale::default();
        let blend = c.blend.as_ref().expect("a blend");
        let portions = blend.weighed_out(&scale, flour);
        assert_eq!(portions, c.blend_weighed(&scale));
        assert_eq!(portions.iter().map(|p| p.grams).sum::<f64>(), flour);
        let words: Vec<String> = portions
            .iter()
            .map(|p| format!("{} g {}", p.grams, larder().food(p.food).name))
            .collect();
        let step = data(&m)["recipeInstructions"][0]["itemListElement"][0]["text"].to_string();
        assert!(step.contains(&words.join(", ")), "{step} {words:?}");
        assert!(step.contains(&format!("Makes {flour} g.")), "{step}");
    }
}

/// Cups and spoons are as near as the other pages say, and a line that is further off says by how
/// much, in the same words.
#[test]
fn a_line_says_how_far_its_spoons_are_off() {
    let m = made(SQUARES);
    let page = page(&m);
    assert!(
        page.contains(&recipe::household::come_within(options().locale)),
        "the sentence"
    );
    let mut off = 0;
    for (c, component) in m.rework.components.iter().enumerate() {
        for line in &component.lines {
            let back = m.rework.household(c, line, larder(), options().locale);
            if let Some(words) = back.as_ref().and_then(recipe::household::Household::off) {
                assert!(
                    page.contains(&format!("({words})")),
                    "{}: {words}",
                    line.name
                );
                off += 1;
            }
        }
    }
    assert_eq!(off, page.matches(" the weight)").count());
    assert!(off > 0, "a line that is off");
}

/// A title or a house all in capitals is not shouted in our words.
#[test]
fn a_credit_is_said_quietly() {
    let text = SQUARES.replacen("Plum crumb squares", "PLUM CRUMB SQUARES", 1);
    assert_ne!(text, SQUARES);
    let text = text.replace("Ottilie Fenn", "OTTILIE FENN");
    let page = page(&made(&text));
    assert!(
        page.contains("Adapted from ‘Plum Crumb Squares’, Ottilie Fenn"),
        "{page}"
    );
}

/// The developer's sheet of a recipe went over to a page of a few lines: a line's doubts are one row.
#[test]
fn a_lines_doubts_are_one_row() {
    let text = SQUARES.replace("Ingredients\n", "Ingredients\nnutmeg, salt and pepper\n");
    let page = page(&made(&text));
    let (_, doubts) = page.split_once("<h3>Doubts</h3>").expect("doubts");
    let rows: Vec<&str> = doubts
        .split("<tr>")
        .filter(|r| r.contains("nutmeg"))
        .collect();
    assert_eq!(rows.len(), 1, "{rows:?}");
    assert!(
        rows[0].contains("'salt'") && rows[0].contains("'pepper'"),
        "{}",
        rows[0]
    );
}

/// A line above the parts that the baker says is no ingredient makes no table of its own.
#[test]
fn a_part_without_a_line_is_not_printed() {
    let text = SQUARES.replace("Ingredients\n", "Ingredients\n\n3 blue ribbons\n");
    let mut sheet = recipe::sheet::Sheet::new(text, quantity::Locale::Metric);
    let printed = |sheet: &recipe::sheet::Sheet| {
        let w = recipe::sheet::work(sheet, &[], larder(), &[]).expect("worked");
        card::html(&w.rework, &w.rework_screening, larder(), &options())
    };
    assert!(printed(&sheet).contains("Main part"));
    let line = recipe::sheet::LineKey {
        component: String::new(),
        text: "3 blue ribbons".to_owned(),
        nth: 0,
    };
    sheet
        .change(&recipe::sheet::Change::ReadAs {
            line,
            text: Some(String::new()),
        })
        .expect("a change");
    let after = printed(&sheet);
    assert!(!after.contains("Main part"));
}
