//! What is left out besides gluten: never silently there, and the figures follow.
//!
//! Amounts: the project's rules table, section 12, with its tags: S seen, C common practice without
//! a source, D worked out by weight from SR28.

mod common;

use common::{EXAMPLES, formula, larder};
use larder::Allergen;
use recipe::rework::{Kept, Options, Rework, rework};
use recipe::{Holds, LeftOut};

fn without(text: &str, left_out: &[LeftOut]) -> Rework {
    let options = Options {
        left_out: left_out.to_vec(),
        ..Options::default()
    };
    rework(formula(text), larder(), &options)
}

fn hydration(r: &Rework, component: usize) -> f64 {
    let h = r.components[component].reworked.hydration;
    h.map_or(f64::NAN, |h| h.likely().get())
}

/// Certain allergens of the rework.
fn certain(r: &Rework) -> Vec<Allergen> {
    let found = r.screen(larder()).allergens;
    found
        .iter()
        .filter(|a| a.certain)
        .map(|a| a.allergen)
        .collect()
}

/// The change that leaves something out, as 'from → to: rule'.
#[track_caller]
fn swap(text: &str, what: LeftOut, from: &str) -> String {
    let r = without(text, &[what]);
    let all: Vec<String> = r
        .components
        .iter()
        .flat_map(|c| &c.changes)
        .filter(|c| c.what == format!("without {}", what.plain()))
        .map(|c| format!("{} → {}: {}", c.from, c.to, c.rule))
        .collect();
    let found = all.iter().find(|c| c.contains(from));
    assert!(found.is_some(), "no change of '{from}': {all:?}");
    found.cloned().unwrap_or_default()
}

#[track_caller]
fn says(text: &str, what: LeftOut, from: &str, to: &str) {
    let got = swap(text, what, from);
    assert!(got.contains(to), "'{got}' has no '{to}'");
}

/// For everything that can be left out and every example: what a line surely holds is said in
/// words, on the line and on top, and nothing is called made without it.
#[test]
fn what_is_left_out_is_gone_or_said_to_be_there() {
    for text in EXAMPLES {
        for what in LeftOut::ALL {
            let r = without(text, &[what]);
            let summary = r.left_out().expect("something is left out");
            let mut there = false;
            for (c, component) in r.components.iter().enumerate() {
                for line in component.lines.iter().filter(|l| l.kept != Kept::Dropped) {
                    let blend = component.blend.as_ref().filter(|_| line.blend);
                    let parts = blend.map_or(Vec::new(), |b| b.parts.iter().map(|p| p.0).collect());
                    for food in line.food.into_iter().chain(parts) {
                        if what.in_food(food, larder()) != Holds::Yes {
                            continue;
                        }
                        there = true;
                        let name = &larder().food(food).name;
                        let said = summary.still.iter();
                        let why =
                            said.filter(|(x, s)| *x == c && s.name == *name && s.what == what);
                        let why: Vec<&str> = why.map(|(_, s)| s.why.as_str()).collect();
                        assert!(why.iter().any(|w| w.len() > 10), "{what}: {name} {why:?}");
                        let note = line.note.as_deref().unwrap_or_default();
                        assert!(note.contains("still holds"), "{what}: {name}: '{note}'");
                    }
                }
            }
            if there {
                assert!(!summary.made_without.contains(&what), "{what}");
            }
            for said in summary.sentences() {
                assert!(
                    !said.contains("free from") && !said.contains("safe"),
                    "{said}"
                );
            }
        }
    }
}

/// Two things at once: no line that is new or changed brings either in.
#[test]
fn no_swap_brings_in_what_is_left_out_as_well() {
    for text in EXAMPLES {
        let before = without(text, &[]);
        for a in LeftOut::ALL {
            for b in [
                LeftOut::TreeNuts,
                LeftOut::Dairy,
                LeftOut::Soy,
                LeftOut::Rice,
            ] {
                let r = without(text, &[a, b]);
                let parts = r.components.iter().zip(&before.components);
                for (component, old) in parts {
                    for line in &component.lines {
                        let was = |f| old.lines.iter().any(|l| l.food == Some(f));
                        let Some(food) = line.food.filter(|f| !was(*f)) else {
                            continue;
                        };
                        for what in [a, b] {
                            let name = &larder().food(food).name;
                            assert_ne!(
                                what.in_food(food, larder()),
                                Holds::Yes,
                                "{a} and {b}: {name}"
                            );
                        }
                    }
                }
            }
        }
    }
}

#[test]
fn without_milk_there_is_no_milk_among_the_allergens_and_the_water_stays() {
    let text = EXAMPLES[5];
    let (with, free) = (without(text, &[]), without(text, &[LeftOut::Dairy]));
    assert!(certain(&with).contains(&Allergen::Milk));
    assert!(!certain(&free).contains(&Allergen::Milk));
    let moved = (hydration(&with, 0) - hydration(&free, 0)).abs();
    assert!(moved < 5.0, "hydration moved by {moved}");
    let summary = free.left_out().expect("left out");
    assert_eq!(summary.made_without, [LeftOut::Dairy]);
    let said = summary.sentences().join(" ");
    assert!(
        said.starts_with("made without milk; check every label"),
        "{said}"
    );
}

#[test]
fn without_egg_its_water_protein_and_fat_are_accounted_for() {
    let text = EXAMPLES[5];
    let (with, free) = (without(text, &[]), without(text, &[LeftOut::Egg]));
    assert!(certain(&with).contains(&Allergen::Egg));
    assert!(!certain(&free).contains(&Allergen::Egg));
    let moved = (hydration(&with, 0) / hydration(&free, 0)).ln().abs();
    assert!(moved < 0.1, "hydration moved by {moved}");
    // An egg of 50 g: 38 g water, 6.3 g protein, 4.8 g fat (SR28 01123, S).
    says(
        MUFFIN,
        LeftOut::Egg,
        "50 g egg",
        "38.1 g water, 6.3 g protein and 4.8 g fat go",
    );
    // No egg white is put in for protein.
    let bread = "Bread\n\n500 g bread flour\n350 g water\n7 g instant yeast\n9 g salt\n\nKnead the dough. Bake the bread.\n";
    let options = Options {
        left_out: vec![LeftOut::Egg],
        blends: vec![(String::new(), "light".to_owned())],
        ..Options::default()
    };
    let r = rework(formula(bread), larder(), &options);
    assert!(!certain(&r).contains(&Allergen::Egg));
    assert!(
        r.components[0]
            .changes
            .iter()
            .any(|c| c.rule.contains("egg is left out"))
    );
}

const MUFFIN: &str = "Plain muffins\n\n250 g all-purpose flour\n240 g buttermilk\n50 g egg\n100 g butter, melted\n100 g sugar\n10 g baking powder\n20 g milk powder\n\nWhisk the buttermilk, egg and melted butter. Stir into the flour.\n";

/// Dairy rows: D (butter by SR28 01145), C.
#[test]
fn milk_by_the_rules() {
    // The oil is D, and needs the butter to be melted.
    says(
        MUFFIN,
        LeftOut::Dairy,
        "butter, melted",
        "80 g sunflower oil and 18 g water",
    );
    says(
        MUFFIN,
        LeftOut::Dairy,
        "240 g buttermilk",
        "225 g plant milk, kind not said and 15 g white vinegar",
    );
    says(MUFFIN, LeftOut::Dairy, "milk powder", "→ left out");
    let cake = "Butter cake\n\n300 g all-purpose flour\n200 g unsalted butter, softened\n200 g sugar\n50 g egg\n200 g whole milk\n10 g baking powder\n100 g cream cheese\n\nCream the butter and sugar.\n";
    says(
        cake,
        LeftOut::Dairy,
        "200 g unsalted butter, creamed",
        "200 g plant butter block",
    );
    says(cake, LeftOut::Dairy, "200 g whole milk", "200 g plant milk");
    says(
        cake,
        LeftOut::Dairy,
        "100 g cream cheese",
        "100 g plant cream cheese",
    );
    says(
        "Cheese scones\n\n250 g self-raising flour\n50 g butter, cold\n100 g cheddar\n120 g milk\n",
        LeftOut::Dairy,
        "cheddar",
        "no good substitute",
    );
}

/// Egg rows: S for the tablespoons, C for the limits.
#[test]
fn egg_by_the_rules() {
    says(
        MUFFIN,
        LeftOut::Egg,
        "50 g egg that binds",
        "7 g ground flaxseed and 45 g water",
    );
    let plain = "Butter cake\n\n300 g all-purpose flour\n150 g butter, softened\n150 g sugar\n50 g egg\n200 g milk\n";
    says(
        plain,
        LeftOut::Egg,
        "egg that raises",
        "9 g baking powder, 5 g sunflower oil and 30 g water",
    );
    let banana = "Banana muffins\n\n250 g all-purpose flour\n300 g banana, mashed\n50 g egg\n80 g oil\n100 g sugar\n8 g baking powder\n";
    says(
        banana,
        LeftOut::Egg,
        "egg that moistens",
        "55 g applesauce, unsweetened",
    );
    let fluffy = "Pancakes\n\n200 g all-purpose flour\n250 g milk\n60 g egg whites\n8 g baking powder\n\nBeat the whites until stiff and fold them in.\n";
    says(fluffy, LeftOut::Egg, "beaten to a foam", "54 g aquafaba");
    let rich = "Butter cake\n\n250 g all-purpose flour\n200 g butter, softened\n200 g sugar\n150 g egg\n100 g milk\n10 g baking powder\n";
    says(
        rich,
        LeftOut::Egg,
        "150 g egg",
        "more than 2 eggs to 250 g flour",
    );
    says(
        &rich.replace("150 g egg", "250 g egg"),
        LeftOut::Egg,
        "250 g egg",
        "no good substitute: more than 4 eggs",
    );
    let sponge = "Sponge cake\n\n120 g all-purpose flour\n200 g eggs\n120 g sugar\n\nWhisk the eggs and sugar until thick and pale. Fold in the flour.\n";
    says(
        sponge,
        LeftOut::Egg,
        "200 g egg",
        "sponge and choux without egg: refused",
    );
    let buns = EXAMPLES[0];
    says(buns, LeftOut::Egg, "50 g egg to brush", "plant milk");
    let tart = EXAMPLES[2];
    says(tart, LeftOut::Egg, "egg that sets it", "no good substitute");
}

/// Nuts, gums, psyllium, corn, rice, soy, nightshade starch, yeast: all C.
#[test]
fn the_other_rows() {
    let cake = "Butter cake\n\n200 g all-purpose flour\n100 g almond flour\n150 g butter, softened\n150 g sugar\n100 g egg\n100 g milk\n3 g baking soda\n30 g walnuts\n";
    says(
        cake,
        LeftOut::TreeNuts,
        "almond flour",
        "100 g sunflower seed flour",
    );
    says(cake, LeftOut::TreeNuts, "walnut", "sunflower seeds");
    let drop = "Cookies\n\n250 g all-purpose flour\n4 g xanthan gum\n50 g corn starch\n20 g soy flour\n20 g potato starch\n60 g white rice flour\n6 g soy lecithin\n150 g butter, softened\n150 g white sugar\n50 g egg\n";
    says(
        drop,
        LeftOut::Gum,
        "4 g xanthan gum",
        "10 g psyllium husk powder and 40 g water",
    );
    says(drop, LeftOut::Corn, "50 g corn", "50 g arrowroot");
    says(drop, LeftOut::Soy, "soy flour", "20 g chickpea flour");
    says(drop, LeftOut::Soy, "lecithin", "6 g sunflower lecithin");
    says(
        drop,
        LeftOut::Nightshade,
        "potato starch",
        "20 g corn starch",
    );
    says(
        drop,
        LeftOut::Rice,
        "60 g white rice flour",
        "30 g sorghum flour and 30 g millet flour",
    );
    let psyllium = drop.replace("4 g xanthan gum", "10 g psyllium husk powder");
    says(&psyllium, LeftOut::Psyllium, "psyllium", "4 g xanthan gum");
    let bread = "Bread\n\n500 g bread flour\n350 g water\n7 g instant yeast\n9 g salt\n\nKnead the dough.\n";
    says(bread, LeftOut::Yeast, "instant yeast", "no good substitute");
    let pizza = format!("Pizza dough\n{}", &bread[5..])
        .replace("350 g water", "350 g water\n15 g olive oil");
    says(
        &pizza,
        LeftOut::Yeast,
        "instant yeast",
        "21 g baking powder",
    );
}

/// The almond is never the mend of milk for a reader without nuts.
#[test]
fn milk_is_not_mended_with_nuts_or_soy() {
    let left_out = [
        LeftOut::Dairy,
        LeftOut::TreeNuts,
        LeftOut::Soy,
        LeftOut::Oats,
        LeftOut::Rice,
    ];
    for text in EXAMPLES {
        let r = without(text, &left_out);
        let new = [
            Allergen::Almond,
            Allergen::Coconut,
            Allergen::Cashew,
            Allergen::Soy,
        ];
        let before = certain(&without(text, &[]));
        for allergen in certain(&r) {
            assert!(
                !new.contains(&allergen) || before.contains(&allergen),
                "{allergen:?}"
            );
        }
    }
}

#[test]
fn the_blend_and_its_binder_follow() {
    let keys = |r: &Rework| -> Vec<String> {
        let c = &r.components[0];
        let lines = c.lines.iter().filter(|l| l.kept != Kept::Dropped);
        let foods = lines.filter_map(|l| l.food).chain(
            c.blend
                .iter()
                .flat_map(|b| b.parts.iter().chain(&b.binders))
                .map(|p| p.0),
        );
        foods.map(|f| larder().food(f).key.clone()).collect()
    };
    let bread = "Bread\n\n500 g bread flour\n350 g water\n7 g instant yeast\n9 g salt\n\nKnead the dough.\n";
    let rice = without(bread, &[LeftOut::Rice]);
    assert!(!keys(&rice).iter().any(|k| k.contains("rice")));
    let change = rice.components[0]
        .changes
        .iter()
        .find(|c| c.what == "blend");
    assert!(change.is_some_and(|c| c.rule.contains("it holds brown rice flour")));
    let psyllium = without(bread, &[LeftOut::Psyllium]);
    let held = keys(&psyllium);
    assert!(!held.iter().any(|k| k.contains("psyllium")), "{held:?}");
    assert!(held.iter().any(|k| k == "xanthan_gum"), "{held:?}");
    let neither = keys(&without(bread, &[LeftOut::Psyllium, LeftOut::Gum]));
    assert!(
        !neither
            .iter()
            .any(|k| k.contains("psyllium") || k.contains("gum")),
        "{neither:?}"
    );
    assert!(
        neither.iter().any(|k| k == "flaxseed_ground"),
        "{neither:?}"
    );
    // No house blend is without all of these: one is formulated.
    let made = without(bread, &[LeftOut::Rice, LeftOut::Nightshade, LeftOut::Corn]);
    assert_eq!(
        made.components[0].blend.as_ref().map(|b| &*b.key),
        Some("made")
    );
    assert!(made.left_out().is_some_and(|s| s.made_without.len() == 3));
}

/// Cookies get no free liquid that they never had: the water of the flax is all.
#[test]
fn a_cookie_is_not_watered_because_egg_is_left_out() {
    let cookie = "Drop cookies\n\n280 g all-purpose flour\n225 g butter, softened\n200 g light brown sugar\n50 g egg\n5 g baking soda\n";
    let (with, free) = (without(cookie, &[]), without(cookie, &[LeftOut::Egg]));
    let moved = (hydration(&with, 0) - hydration(&free, 0)).abs();
    assert!(moved < 5.0, "hydration moved by {moved}");
}
