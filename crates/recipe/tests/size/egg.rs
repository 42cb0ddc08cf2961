//! Eggs of a batch: whole ones, beaten grams, and what whole ones cost.

use super::{buns, larder, makes, near, sized, worked};
use quantity::Locale;
use recipe::sheet::{Sheet, work};
use recipe::size::{Ask, Have, Pieces, Target};

/// A large egg of the UK is heavier than one of the US: three of them are three, whatever they weigh.
#[test]
fn eggs_that_are_counted_are_counted_so() {
    let text =
        "Plain cake\n\n200 g plain flour\n200 g caster sugar\n3 large eggs\n\nBeat and bake.\n";
    for locale in [Locale::Uk, Locale::Us] {
        let sheet = Sheet::new(text, locale);
        let w = work(&sheet, &[], larder(), &[]).expect("worked");
        let batch = sized(&w, Ask::times(1.0));
        let eggs: Vec<f64> = batch.eggs.iter().map(|e| e.count).collect();
        assert_eq!(eggs.len(), 1);
        assert!((eggs[0] - 3.0).abs() < 1e-9, "{locale:?}: {eggs:?}");
        assert!(batch.whole_eggs.is_none());
    }
}

/// One statement of eggs: those of a batch are said as on their line, as large as the recipe's. 2.92 eggs
/// are three, by hand 0.08 of one too many; 3 large eggs of the UK are 3.9 of them at × 1.3, not 4 medium.
#[test]
fn eggs_are_said_one_way() {
    let text =
        "Plain cake\n\n200 g plain flour\n200 g caster sugar\n3 large eggs\n\nBeat and bake.\n";
    for (locale, times) in [
        (Locale::Us, 0.975),
        (Locale::Uk, 1.3),
        (Locale::Uk, 0.8),
        (Locale::Au, 1.05),
        (Locale::Us, 1.3),
    ] {
        let w = work(&Sheet::new(text, locale), &[], larder(), &[]).expect("worked");
        let batch = sized(&w, Ask::times(times));
        let [eggs] = batch.eggs.as_slice() else {
            panic!("{:?}", batch.eggs);
        };
        near(eggs.count, 3.0 * times, 1e-9);
        let line = batch.components[0]
            .lines
            .iter()
            .find(|l| l.food == Some(eggs.food));
        let drawer = recipe::household::Drawer::from(locale);
        let told = batch.household(&w.rework, 0, line.expect("eggs"), larder(), drawer);
        assert_eq!(told, Some(eggs.household()), "{locale:?}");
        if times < 1.0 && locale == Locale::Us {
            assert_eq!(eggs.household().words, "3 large eggs");
            near(eggs.household().error, 3.0 / (3.0 * times) - 1.0, 1e-9);
            assert!(eggs.is_whole() && batch.whole_eggs.is_none());
        }
        assert!(eggs.household().words.contains("large egg"));
        assert_eq!(
            eggs.is_whole(),
            !eggs.household().words.contains("beaten"),
            "{times}"
        );
    }
}

#[test]
fn eggs_for_brushing_are_counted_and_need_not_be_whole() {
    let text = "Rolls\n\n500 g bread flour\n240 g milk\n2 large eggs\n7 g instant yeast\n1 large egg, for brushing\n\nMix, rise and bake.\n";
    let batch = sized(&worked(text), Target::Times(1.5));
    let eggs: Vec<(f64, Option<&str>)> = batch.eggs.iter().map(|e| (e.count, e.beside)).collect();
    let [(dough, None), (wash, Some("for brushing"))] = eggs[..] else {
        panic!("{eggs:?}");
    };
    near(dough, 3.0, 1e-9);
    near(wash, 1.5, 1e-9);
    assert!(batch.whole_eggs.is_none(), "the dough's are whole");
}

#[test]
fn whole_eggs_and_what_they_cost() {
    let ask = Ask::times(1.3);
    let batch = sized(buns(), ask.clone());
    near(batch.eggs[0].count, 2.6, 1e-9);
    let whole = batch.whole_eggs.expect("a size near");
    near(whole.factor, 1.5, 1e-9);
    near(whole.off, 1.5 / 1.3 - 1.0, 1e-9);
    let moved = sized(
        buns(),
        Ask {
            whole_eggs: true,
            ..ask
        },
    );
    near(moved.factor, 1.5, 1e-9);
    near(moved.moved.expect("moved"), 1.5 / 1.3 - 1.0, 1e-9);
    assert!(moved.eggs[0].is_whole());
    let twice = sized(buns(), Ask::times(2.0));
    assert_eq!(twice.whole_eggs, None);
}

/// 2 whole eggs and 2 yolks: of n eggs a half is taken apart, however many there are.
#[test]
fn eggs_are_shared_out_however_many_there_are() {
    let w = worked("Custard\n\n200 g whole milk\n2 large eggs\n2 large egg yolks\n50 g sugar\n");
    let egg = larder().by_key("egg").expect("egg");
    let one = larder()
        .measure(egg, "large", larder::State::Usual)
        .expect("a large egg");
    for (eggs, times) in [
        (2.0, 0.5),
        (3.0, 0.5),
        (7.0, 1.5),
        (50.0, 12.5),
        (1200.0, 300.0),
    ] {
        let batch = sized(
            &w,
            Target::Have(vec![Have {
                what: "egg".to_owned(),
                grams: eggs * one.grams.likely().as_grams(),
                count: None,
            }]),
        );
        near(batch.factor, times, 1e-9 * times);
    }
}

/// What is at hand is above nothing: '-210 g butter' was 210 g of it.
#[test]
fn nothing_and_less_are_not_at_hand() {
    let read = |words: &str| Have::read(words, larder(), quantity::Locale::Uk);
    for words in ["-210 g butter", "−3 eggs", "0 eggs", "0 g butter", "butter"] {
        assert!(read(words).is_err(), "{words}: {:?}", read(words));
    }
    let said = read("0 eggs").expect_err("nothing").to_string();
    assert!(said.contains("0 is no weight at hand"), "{said}");
    assert_eq!(read("- 210 g butter").map(|h| h.grams), Ok(210.0));
}

/// Six large eggs of a sponge and two of no size in a curd are not seven large ones and a beaten rest.
#[test]
fn eggs_of_two_sizes_are_counted_apart() {
    let text = "Gateau\n\nFor the sponge\n300 g plain flour\n300 g caster sugar\n6 large eggs\n\nFor the curd\n150 g caster sugar\n75 g butter\n2 eggs\n2 egg yolks\n\nFor the filling\n1 large egg\n100 g cream cheese\n";
    let w = work(&Sheet::new(text, Locale::Uk), &[], larder(), &[]).expect("worked");
    let told = |times: f64| {
        let batch = sized(&w, Ask::times(times));
        let words = batch.eggs.iter().map(|e| e.household().words);
        (words.collect::<Vec<_>>(), batch.whole_eggs)
    };
    let (words, whole) = told(1.0);
    assert_eq!(
        words,
        ["7 large eggs", "2 medium eggs", "2 medium egg yolks"]
    );
    assert!(whole.is_none());
    // By hand: 10.5, 3 and 3.
    let (words, _) = told(1.5);
    assert_eq!(words[1..], ["3 medium eggs", "3 medium egg yolks"]);
    assert!(words[0].starts_with("10 large eggs + "), "{}", words[0]);
}

/// 3 eggs × 0.7 are 2.1: two eggs are two thirds of the recipe, 4.8 % less.
#[test]
fn who_asks_for_whole_eggs_gets_them() {
    let w = worked(
        "Cake\n\n200 g plain flour\n150 g butter\n150 g sugar\n3 large eggs\n2 tsp baking powder\n\nMix and bake for 40 minutes.\n",
    );
    let ask = |times: f64, whole_eggs: bool| Ask {
        whole_eggs,
        ..Ask::times(times)
    };
    let moved = sized(&w, ask(0.7, true));
    near(moved.factor, 2.0 / 3.0, 1e-9);
    near(moved.moved.expect("moved"), 2.0 / 2.1 - 1.0, 1e-9);
    // Who does not ask for them stays; so does who has them.
    near(sized(&w, ask(0.7, false)).factor, 0.7, 1e-9);
    let twice = sized(&w, ask(2.0, true));
    near(twice.factor, 2.0, 1e-9);
    assert_eq!(twice.moved, None);
}

/// There is no half of a bun.
#[test]
fn pieces_are_counted_in_whole_ones() {
    let pieces = |count: f64| {
        let (count, each, baked) = (Some(count), None, false);
        Ask::from(Target::Pieces(Pieces { count, each, baked })).check()
    };
    assert_eq!(pieces(12.0), Ok(()));
    let told = pieces(2.5).expect_err("half a piece").to_string();
    assert!(told.contains("whole number"), "{told}");
}

/// Eggs at hand of no size are the recipe's own: 3 of a recipe with 2 large ones make × 1.5, whatever those
/// weigh; 3 medium ones of the UK, 50 g to the 56 g of a large one, make 150 ÷ 112 (sizes: UK egg grades).
#[test]
fn eggs_at_hand_are_of_the_recipes_size() {
    let sheet = Sheet::new(
        "Cake\n\n200 g plain flour\n200 g butter\n200 g sugar\n2 large eggs\n",
        Locale::Uk,
    );
    let w = work(&sheet, &[], larder(), &[]).expect("worked");
    let times = |words: &str| {
        let have = Have::read(words, larder(), Locale::Uk).expect("read");
        sized(&w, Target::Have(vec![have])).factor
    };
    near(times("3 eggs"), 1.5, 1e-9);
    near(times("3 large eggs"), 1.5, 1e-9);
    near(times("3 medium eggs"), 150.0 / 112.0, 0.01);
    let have = Have::read("3 eggs", larder(), Locale::Uk).expect("read");
    assert_eq!(have.words(), "3 eggs");
}

/// Whole eggs and yolks come out of the same shells, whatever an egg weighs: 4 whole and 4 for their yolks are the 8 at
/// hand, × 1, and large ones of the UK weigh 56 g, 448 g in all; with 5, half the recipe opens 2 and 2, 224 g.
#[test]
fn shells_are_counted_by_the_recipes_own_eggs() {
    let text = "Cake\n\n200 g plain flour\n4 large eggs\n4 egg yolks\n\nMix and bake.\n";
    for locale in [Locale::Uk, Locale::Us] {
        let w = work(&Sheet::new(text, locale), &[], larder(), &[]).expect("worked");
        for (words, times, opened) in [("8 eggs", 1.0, 8.0), ("5 eggs", 0.5, 4.0)] {
            let have = Have::read(words, larder(), locale).expect("read");
            let batch = sized(&w, Target::Have(vec![have]));
            near(batch.factor, times, 1e-9);
            let egg = if locale == Locale::Uk { 56.0 } else { 50.0 };
            near(batch.at_hand[0].takes.as_grams(), opened * egg, 0.01);
        }
    }
}

/// 200 g flour, 7 g yeast, 250 g milk, 50 g egg and 20 g butter are 527 g, 24 pieces of 527 ÷ 1.02 ÷ 24 = 21.5 g. Thirty
/// are × 1.25; whole eggs move that to × 1, and each of the thirty to 527 ÷ 1.02 ÷ 30 = 17.2 g: 24 are as heavy as before.
#[test]
fn pieces_that_whole_eggs_make_lighter_are_told() {
    let w = worked(
        "Blini\nMakes 24 blini\n\n200 g plain flour\n7 g instant yeast\n250 g milk\n1 large egg\n20 g butter\n\nMethod\n1. Whisk all to a batter, leave 1 hour. Fry spoonfuls in a pan 2 minutes a side.\n",
    );
    let ask = |whole_eggs| Ask {
        whole_eggs,
        ..Ask::from(Target::Pieces(Pieces {
            count: Some(30.0),
            ..Pieces::default()
        }))
    };
    let said = |b: &recipe::size::Batch| {
        let told = b.cautions.iter().find(|c| c.code == "pieces");
        told.map(|c| c.text.clone())
    };
    let moved = sized(&w, ask(true));
    let each = moved.pieces.as_ref().expect("pieces").each.as_grams();
    near(each, makes(&moved.components[0]) / 1.02 / 30.0, 0.05);
    let told = said(&moved).expect("a word");
    assert!(
        told.contains("30 pieces") && told.ends_with("it makes 24."),
        "{told}"
    );
    assert_eq!(said(&sized(&w, ask(false))), None);
}
