//! The kitchen's own entries in reading, weighing and screening: evidence settles what only a
//! label could tell, and never makes a food free that contains gluten.

use larder::allergen::Regime;
use larder::{Allergen, Evidence, EvidenceKind, Gluten, Larder, OwnEntry, ReadThrough};
use proptest::prelude::*;
use quantity::{Locale, Mass, Spread};
use recipe::screen::{Entry, Screening, lines, screen};
use std::sync::OnceLock;

const DATE: &str = "2026-11-20";

fn built_in() -> &'static Larder {
    static LARDER: OnceLock<Larder> = OnceLock::new();
    LARDER.get_or_init(|| Larder::built_in().expect("the built-in tables"))
}

fn own(key: &str, kind: Option<EvidenceKind>) -> OwnEntry {
    OwnEntry {
        key: key.to_owned(),
        gluten: kind.map(|kind| Evidence {
            kind,
            date: DATE.to_owned(),
            note: "lot 4".to_owned(),
        }),
        ..OwnEntry::default()
    }
}

fn new(name: &str, kind: Option<EvidenceKind>) -> OwnEntry {
    OwnEntry {
        name: Some(name.to_owned()),
        function: Some("flour".to_owned()),
        ..own("own_mix", kind)
    }
}

fn with(entries: &[OwnEntry]) -> Larder {
    built_in().with_own(entries).expect("good entries")
}

fn of(ingredients: &str, larder: &Larder) -> Screening {
    let reader = recipe::read::Reader::new(larder, Locale::Us);
    let text = format!("Test kitchen bake\n\nIngredients\n{ingredients}\n");
    let read = recipe::read::recipe(&text, &reader).expect("reads");
    let formula = recipe::weigh::formula(read, larder, Locale::Us).expect("weighs");
    screen(&formula, larder, None)
}

const LABELLED: Option<EvidenceKind> = Some(EvidenceKind::Labelled);
const CERTIFICATE: Option<EvidenceKind> = Some(EvidenceKind::Certificate);
const NAMES: Option<EvidenceKind> = Some(EvidenceKind::NamesGluten);
fn test(ppm: f64) -> Option<EvidenceKind> {
    Some(EvidenceKind::Test { ppm })
}

#[test]
fn a_new_food_is_read_and_weighed() {
    let larder = with(&[OwnEntry {
        weights: [("cup".to_owned(), 118.0)].into(),
        ..new("Harrow mill crumble mix", None)
    }]);
    let reader = recipe::read::Reader::new(&larder, Locale::Us);
    let text = "Test kitchen bake\n\nIngredients\n2 cups Harrow mill crumble mix\n100 g butter\n";
    let read = recipe::read::recipe(text, &reader).expect("reads");
    let formula = recipe::weigh::formula(read, &larder, Locale::Us).expect("weighs");
    let item = &formula.components[0].items[0];
    assert_eq!(item.food, larder.by_key("own_mix"));
    let grams = item.grams.expect("weighed").likely().as_grams();
    assert!((grams - 236.0).abs() < 0.5, "{grams}");
    let basis = format!("{:?}", item.basis);
    assert!(basis.contains("weighed in this kitchen"), "{basis}");
}

#[test]
fn a_new_food_without_evidence_is_to_check() {
    let s = of(
        "100 g Harrow mill crumble mix",
        &with(&[new("Harrow mill crumble mix", None)]),
    );
    let f = &s.findings[0];
    assert_eq!((f.verdict, f.open), (Gluten::Check, true));
    assert!(!s.can_say_gluten_free && s.ppm.high.is_none());
    assert_eq!(s.whole_labels, ["Harrow mill crumble mix"]);
}

#[test]
fn a_list_of_allergens_is_taken_in() {
    let larder = with(&[OwnEntry {
        allergens: vec!["almond".to_owned()],
        ..new("Harrow mill crumble mix", None)
    }]);
    let s = of("100 g Harrow mill crumble mix", &larder);
    assert!(s.whole_labels.is_empty(), "{:?}", s.whole_labels);
    assert!(
        s.allergens
            .iter()
            .any(|a| a.allergen == Allergen::Almond && a.certain)
    );
}

#[test]
fn an_allergen_of_the_name_is_looked_for() {
    let larder = with(&[OwnEntry {
        allergens: vec!["milk".to_owned()],
        ..new("Harrow mill ground almonds blend", None)
    }]);
    let s = of("100 g Harrow mill ground almonds blend", &larder);
    assert!(
        s.allergens
            .iter()
            .any(|a| a.allergen == Allergen::Almond && !a.certain)
    );
}

/// Evidence gives what 'labelled gluten-free' on the line gives, with its date.
#[test]
fn evidence_settles_what_only_the_label_could_tell() {
    for (kind, says) in [
        (
            LABELLED,
            "label says gluten-free, read on 2026-11-20: lot 4",
        ),
        (CERTIFICATE, "certificate seen on 2026-11-20: lot 4"),
        (
            test(5.0),
            "tested 5 ppm on 2026-11-20: lot 4 (one test of one lot)",
        ),
    ] {
        for entry in [
            own("baking_powder", kind),
            new("Harrow mill crumble mix", kind),
        ] {
            let larder = with(std::slice::from_ref(&entry));
            let name = entry.name.as_deref().unwrap_or("baking powder");
            let s = of(&format!("100 g {name}"), &larder);
            let labelled = of(&format!("100 g gluten-free {name}"), &larder);
            let (f, l) = (&s.findings[0], &labelled.findings[0]);
            assert_eq!((f.verdict, f.open), (l.verdict, l.open), "{name} {l:?}");
            assert_eq!((f.verdict, f.open), (Gluten::Check, false), "{name}");
            assert!(f.reason.contains(says), "{}", f.reason);
            assert!(
                f.reason
                    .contains("labels change: read it again on each new pack")
            );
            assert!(s.can_say_gluten_free, "{name}: {:#?}", s.findings);
        }
    }
}

#[test]
fn a_test_bounds_the_estimate_only_below_20() {
    let high = |kind, line: &str| {
        let s = of(line, &with(&[own("baking_powder", kind)]));
        (s.ppm.high, s.ppm.words(), s)
    };
    assert_eq!(high(LABELLED, "100 g baking powder").0, Some(20.0));
    let (five, words, _) = high(test(5.0), "100 g baking powder");
    assert_eq!(five, Some(5.0));
    assert!(
        words.contains("one test of one lot") && words.contains(DATE),
        "{words}"
    );
    let (none, _, s) = high(test(20.0), "100 g baking powder");
    assert_eq!(none, None);
    assert!(s.findings[0].open && s.findings[0].verdict == Gluten::Check);
    assert!(
        s.findings[0]
            .note
            .as_deref()
            .is_some_and(|n| n.contains("20 ppm"))
    );
    let (none, words, s) = high(test(20.1), "100 g baking powder");
    assert_eq!(none, None);
    assert_eq!(s.verdict, Gluten::Contains);
    assert!(s.findings[0].reason.contains("above 20 ppm"), "{words}");
    // Free by nature, but the test found some: that is the bound, not nothing.
    let s = of("100 g salt", &with(&[own("table_salt", test(3.0))]));
    assert_eq!(s.ppm.high, Some(3.0));
    let s = of("100 g salt", &with(&[own("table_salt", test(20.0))]));
    assert_eq!(
        (s.verdict, s.ppm.high, s.can_say_gluten_free),
        (Gluten::Check, None, false)
    );
}

/// A grain on a label is an allergen, under every law.
#[test]
fn gluten_on_the_label_is_an_allergen() {
    use larder::allergen::Regime;
    let said = |note: &str, kind| {
        let mut entry = own("cinnamon", kind);
        if let Some(e) = &mut entry.gluten {
            e.note = note.to_owned();
        }
        of("1 tbsp ground cinnamon\n100 g butter", &with(&[entry]))
    };
    let how = "(named on the label of ground cinnamon)";
    let s = said("Tern, 40 g jar; may contain wheat and barley", NAMES);
    for (law, words) in [
        (Regime::Us, vec!["wheat"]),
        (
            Regime::Eu,
            vec![
                "cereals containing gluten: wheat",
                "cereals containing gluten: barley",
            ],
        ),
        (
            Regime::Ca,
            vec!["wheat", "gluten (wheat)", "gluten (barley)"],
        ),
        (Regime::Anz, vec!["wheat", "barley", "gluten"]),
    ] {
        let contains = s.statement(law).contains;
        for word in words {
            let word = format!("{word} {how}");
            assert!(contains.contains(&word), "{word}: {contains:?}");
        }
    }
    // No grain noted: wheat, and it says that it is taken for it.
    let eu = said("Tern, 40 g jar", NAMES).statement(Regime::Eu).contains;
    assert!(
        eu.iter().any(
            |w| w.starts_with("cereals containing gluten: wheat (the label of ground cinnamon")
        ),
        "{eu:?}"
    );
    let oats = said("Tern; oats", NAMES).statement(Regime::Eu).contains;
    assert!(
        oats.contains(&format!("cereals containing gluten: oats {how}")),
        "{oats:?}"
    );
    let test = said("lot 4", test(25.0)).statement(Regime::Us).contains;
    assert!(
        test.iter().any(|w| w.starts_with("wheat (a test of")),
        "{test:?}"
    );
    // A label that denies it names nothing.
    let free = said("Tern, no wheat", LABELLED).statement(Regime::Us);
    assert!(
        !free.contains.iter().any(|w| w.starts_with("wheat")),
        "{free:?}"
    );
    // Wheat that is in it anyway needs no label.
    let entry = own("baking_powder", NAMES);
    let s = of("100 g plain flour\n1 tsp baking powder", &with(&[entry]));
    assert!(
        s.statement(Regime::Us)
            .contains
            .contains(&"wheat".to_owned())
    );
    assert_eq!(
        s.statement(Regime::Us)
            .contains
            .iter()
            .filter(|w| w.starts_with("wheat"))
            .count(),
        1
    );
}

#[test]
fn gluten_on_the_label_stands_against_every_word() {
    for line in [
        "100 g baking powder",
        "100 g gluten-free baking powder",
        "100 g baking powder, labelled gluten-free",
    ] {
        for kind in [NAMES, test(25.0)] {
            let s = of(line, &with(&[own("baking_powder", kind)]));
            assert_eq!(s.verdict, Gluten::Contains, "{line}");
            assert!(
                s.findings[0].reason.contains(DATE),
                "{}",
                s.findings[0].reason
            );
            assert!(s.findings[0].open && !s.can_say_gluten_free && s.ppm.high.is_none());
        }
    }
    let s = of(
        "100 g granulated white rice flour",
        &with(&[own("white_rice_flour", NAMES)]),
    );
    assert_eq!(s.verdict, Gluten::Contains);
}

#[test]
fn evidence_about_one_food_settles_no_other() {
    // A name known in part, and one that fits two foods.
    let s = of(
        "100 g vegan baking powder",
        &with(&[own("baking_powder", LABELLED)]),
    );
    assert!(s.findings[0].open, "{:?}", s.findings[0]);
    let other = OwnEntry {
        key: "own_other".to_owned(),
        ..new("Harrow mill crumble mix", None)
    };
    let larder = with(&[new("Harrow mill crumble mix", LABELLED), other]);
    let s = of("100 g Harrow mill crumble mix", &larder);
    assert!(s.findings[0].open, "{:?}", s.findings[0]);
}

#[test]
fn oats_stay_open_and_no_test_speaks_for_fermented_food() {
    for kind in [LABELLED, CERTIFICATE, test(5.0)] {
        let s = of("100 g rolled oats", &with(&[own("rolled_oats", kind)]));
        assert!(s.findings[0].open && s.verdict == Gluten::Check);
        let s = of(
            "100 g Harrow mill oat flakes",
            &with(&[new("Harrow mill oat flakes", kind)]),
        );
        assert!(
            s.findings[0].open && s.verdict == Gluten::Check,
            "{:?}",
            s.findings
        );
    }
    for (entry, line) in [
        (own("miso", test(5.0)), "100 g miso"),
        (new("Harrow mill miso", test(5.0)), "100 g Harrow mill miso"),
    ] {
        let s = of(line, &with(&[entry]));
        assert!(s.findings[0].open && s.ppm.high.is_none(), "{line}");
        assert!(
            s.findings[0]
                .note
                .as_deref()
                .is_some_and(|n| n.contains("fermented"))
        );
    }
}

/// A gluten grain in the kitchen's own name is not hidden by the name being known.
#[test]
fn a_name_that_says_gluten_contains_it() {
    for name in [
        "Harrow mill barley crumble",
        "Harrow mill malted mix",
        "Harrow strong white flour",
        "Harrow spelt blend",
    ] {
        for kind in [None, LABELLED, CERTIFICATE, test(1.0)] {
            let s = of(&format!("100 g {name}"), &with(&[new(name, kind)]));
            assert_eq!(s.verdict, Gluten::Contains, "{name}: {:?}", s.findings);
        }
        // Another name of the same food.
        let mut entry = new("Harrow house mix", LABELLED);
        entry.also = vec![name.to_owned()];
        let s = of("100 g Harrow house mix", &with(&[entry]));
        assert_eq!(s.verdict, Gluten::Contains, "{name}");
    }
    for name in [
        "Harrow wheat-free mix",
        "Harrow gluten-free bread flour",
        "Harrow buckwheat crumble",
    ] {
        let s = of(&format!("100 g {name}"), &with(&[new(name, LABELLED)]));
        assert_eq!(s.verdict, Gluten::Check, "{name}: {:?}", s.findings);
    }
}

#[test]
fn an_alternative_has_its_own_evidence() {
    let entry = own("tamari", LABELLED);
    let s = of("2 tbsp coconut aminos or tamari", &with(&[entry]));
    let of_tamari = s.findings.iter().find(|f| f.reason.contains(DATE));
    assert!(of_tamari.is_none_or(|f| f.verdict == Gluten::Check));
}

/// Every food of the larder under every kind of evidence, plain and labelled on the line.
#[test]
fn no_evidence_lowers_any_food() {
    let grams = Some(Spread::exact(Mass::grams(100.0)));
    let run = |larder: &Larder, key: &str, labelled: bool| {
        let id = larder.by_key(key).expect("a food");
        let text = larder.food(id).name.as_str();
        lines(
            [Entry::new(text, id, grams).labelled(labelled)],
            larder,
            None,
        )
    };
    for kind in [
        LABELLED,
        CERTIFICATE,
        NAMES,
        test(0.0),
        test(19.9),
        test(20.0),
        test(20.1),
    ] {
        let all: Vec<OwnEntry> = built_in()
            .ids()
            .map(|id| own(&built_in().food(id).key, kind))
            .collect();
        let larder = with(&all);
        let gluten = kind == NAMES || kind == test(20.1);
        for id in built_in().ids() {
            let food = built_in().food(id);
            for labelled in [false, true] {
                let before = run(built_in(), &food.key, labelled);
                let after = run(&larder, &food.key, labelled);
                let said = format!("{} {kind:?} {labelled}: {:?}", food.key, after.findings);
                assert!(after.verdict <= before.verdict, "{said}");
                if gluten {
                    assert_eq!(after.verdict, Gluten::Contains, "{said}");
                    assert!(
                        after.ppm.high.is_none() && !after.can_say_gluten_free,
                        "{said}"
                    );
                }
                if food.gluten == Gluten::Contains {
                    assert!(
                        before.can_say_gluten_free || !after.can_say_gluten_free,
                        "{said}"
                    );
                }
                // At best what the same food labelled on the line is given.
                let best = run(built_in(), &food.key, true);
                assert!(
                    !after.can_say_gluten_free
                        || best.can_say_gluten_free
                        || before.can_say_gluten_free,
                    "{said}"
                );
                if food.gluten == Gluten::Check {
                    assert!(
                        after.findings[0].reason.contains(DATE)
                            || after.findings[0]
                                .note
                                .as_deref()
                                .is_some_and(|n| n.contains(DATE)),
                        "{said}"
                    );
                }
            }
        }
    }
    // New foods: with evidence never better than 'check the label', never milder than without.
    for name in [
        "Harrow mill crumble mix",
        "Harrow panko",
        "Harrow mill malted mix",
        "Harrow oat mix",
    ] {
        let without = of(&format!("100 g {name}"), &with(&[new(name, None)]));
        for kind in [
            LABELLED,
            CERTIFICATE,
            NAMES,
            test(0.0),
            test(20.0),
            test(20.1),
        ] {
            let s = of(&format!("100 g {name}"), &with(&[new(name, kind)]));
            assert!(
                s.verdict <= without.verdict && s.verdict != Gluten::Free,
                "{name} {kind:?}"
            );
        }
    }
}

fn kinds() -> impl Strategy<Value = EvidenceKind> {
    prop_oneof![
        Just(EvidenceKind::Labelled),
        Just(EvidenceKind::Certificate),
        Just(EvidenceKind::NamesGluten),
        (0.0..200.0f64).prop_map(|ppm| EvidenceKind::Test { ppm }),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(100))]

    /// Evidence never lowers a verdict, whatever the food: at best it settles it.
    #[test]
    fn evidence_never_lowers_a_verdict(
        at in any::<prop::sample::Index>(), kind in kinds(), labelled in any::<bool>(), named in any::<bool>()
    ) {
        let ids: Vec<_> = built_in().ids().collect();
        let food = built_in().food(ids[at.index(ids.len())]);
        let larder = with(&[own(&food.key, Some(kind))]);
        let id = larder.by_key(&food.key).expect("its food");
        let text = if named { format!("{}, labelled gluten-free", food.name) } else { food.name.clone() };
        let grams = Some(Spread::exact(Mass::grams(100.0)));
        let run = |l: &Larder, on: bool| lines([Entry::new(&text, id, grams).labelled(on)], l, None);
        let (before, after) = (run(built_in(), labelled), run(&larder, labelled));
        prop_assert!(after.verdict <= before.verdict, "{} {:?} {:?}", food.key, kind, after.findings);
        if food.gluten == Gluten::Contains {
            prop_assert_eq!(after.can_say_gluten_free, before.can_say_gluten_free && after.can_say_gluten_free);
            prop_assert!(!after.can_say_gluten_free || before.can_say_gluten_free);
            prop_assert!(!after.ppm.high.is_some_and(|h| before.ppm.high.is_none_or(|b| h < b)));
        }
        // Never more than the same line labelled gluten-free would be given.
        let best = run(built_in(), true);
        prop_assert!(!after.can_say_gluten_free || best.can_say_gluten_free || before.can_say_gluten_free);
        for (a, b) in [(&before, &after)] {
            for x in &a.allergens {
                prop_assert!(b.allergens.iter().any(|y| y.allergen == x.allergen && (y.certain || !x.certain)));
            }
        }
        for f in &after.findings {
            prop_assert!(!f.reason.to_lowercase().contains("safe for"));
        }
    }
}

/// Read on the label and typed on the line are the same: in the recipe and in its rework.
#[test]
fn a_label_the_kitchen_read_settles_as_the_line_does() {
    let text = |powder: &str| {
        format!(
            "Lemon cake\n\nIngredients\n200 g butter\n200 g flour\n200 g sugar\n4 eggs\n2 tsp {powder}\n"
        )
    };
    let worked = |text: &str, larder: &Larder| {
        let sheet = recipe::sheet::Sheet::new(text.to_owned(), Locale::Us);
        recipe::sheet::work(&sheet, &[], larder, &[]).expect("works")
    };
    let of = |s: &Screening, larder: &Larder| {
        let powder = larder.by_key("baking_powder");
        let f = s.findings.iter().find(|f| f.food == powder);
        let f = f.expect("the powder");
        (f.verdict, f.labelled, f.open)
    };
    let bare = worked(&text("baking powder"), built_in());
    assert_eq!(
        of(&bare.screening, built_in()),
        (Gluten::Check, false, true)
    );
    let typed = worked(&text("gluten-free baking powder"), built_in());
    let settled = (Gluten::Check, true, false);
    assert_eq!(of(&typed.screening, built_in()), settled);
    assert_eq!(of(&typed.rework_screening, built_in()), settled);
    for kind in [LABELLED, CERTIFICATE] {
        let larder = with(&[own("baking_powder", kind)]);
        let read = worked(&text("baking powder"), &larder);
        for s in [&read.screening, &read.rework_screening] {
            assert_eq!(of(s, &larder), settled);
            // For a wheat allergy the label has still to be read: below 20 ppm is not none.
            let wheat = s.allergens.iter().find(|a| a.allergen == Allergen::Wheat);
            let from = &wheat.expect("wheat").from;
            assert!(
                from.iter().any(|f| f == "baking powder (check the label)"),
                "{from:?}"
            );
        }
        let line = read.rework.components[0].lines.iter();
        let line = line.clone().find(|l| l.name == "baking powder");
        assert!(line.expect("kept").labelled);
    }
    // A test is no label, and a label that names gluten is no label either.
    for kind in [test(5.0), NAMES] {
        let larder = with(&[own("baking_powder", kind)]);
        let read = worked(&text("baking powder"), &larder);
        let line = read.rework.components[0].lines.iter();
        assert!(
            line.filter(|l| l.name == "baking powder")
                .all(|l| !l.labelled)
        );
        assert!(!of(&read.screening, &larder).1);
    }
}

/// Ground almonds whose pack warns of wheat stay almonds: another pack is bought. They are no wheat
/// flour, for which a blend would stand in.
#[test]
fn a_pack_with_gluten_is_no_wheat_flour() {
    let larder = with(&[own("almond_flour", Some(EvidenceKind::NamesGluten))]);
    let almonds = larder.by_key("almond_flour").expect("almonds");
    assert!(larder.is_by_pack(almonds) && !built_in().is_by_pack(almonds));
    let wheat = larder.by_key("all_purpose_flour").expect("flour");
    assert!(!larder.is_by_pack(wheat));
    let text =
        "Frangipane\n\n125 g ground almonds\n25 g plain flour\n125 g butter\n125 g sugar\n2 eggs\n";
    let read = recipe::read::recipe(text, &recipe::read::Reader::new(&larder, Locale::Uk));
    let formula = recipe::weigh::formula(read.expect("a recipe"), &larder, Locale::Uk);
    let r = recipe::rework::rework(
        formula.expect("a formula"),
        &larder,
        &recipe::rework::Options::default(),
    );
    let c = &r.components[0];
    let line = c
        .lines
        .iter()
        .find(|l| l.food == Some(almonds))
        .expect("almonds");
    assert_eq!(line.kept, recipe::rework::Kept::Same);
    let blend = c
        .lines
        .iter()
        .find(|l| l.blend)
        .and_then(|l| l.grams)
        .expect("a blend");
    assert!((blend.likely().as_grams() - 25.0).abs() < 0.5, "{blend:?}");
    let told = c.doubts.iter().any(|d| d.message.contains("buy another"));
    assert!(told, "{:?}", c.doubts);
    assert_eq!(r.screen(&larder).verdict, Gluten::Contains);
}

/// Oats whose label says gluten-free have nothing left to read, and still allow no claim.
#[test]
fn oats_whose_label_was_read_are_settled_but_for_the_claim() {
    let line = "100 g rolled oats";
    let larder = with(&[own("rolled_oats", LABELLED)]);
    let s = of(line, &larder);
    let finding = &s.findings[0];
    assert_eq!(finding.verdict, Gluten::Check);
    assert_eq!(finding.settled(&larder), Some("label says gluten-free"));
    assert!(!s.can_say_gluten_free);
    assert_eq!(s.ppm.high.map(f64::round), Some(20.0), "{:?}", s.ppm);
    let s = of(line, built_in());
    assert_eq!(s.findings[0].settled(built_in()), None);
}

fn read_through(key: &str, law: &str, allergens: &[&str]) -> OwnEntry {
    OwnEntry {
        allergens: allergens.iter().map(|a| (*a).to_owned()).collect(),
        read_through: Some(ReadThrough {
            date: DATE.to_owned(),
            who: "Maud Ferris".to_owned(),
            law: law.to_owned(),
        }),
        ..own(key, LABELLED)
    }
}

/// Only labels can tell wheat, milk, soy, lupin and almond of a bought blend. A label of the EU names each of
/// them, one of the United States all but lupin.
#[test]
fn what_a_label_read_through_does_not_name_is_asked_about_no_more() {
    let line = "100 g gluten-free flour blend";
    let asked = |larder: &Larder, law: Regime| of(line, larder).statement(law).check.join("; ");
    let before = asked(
        &with(&[own("gluten_free_flour_blend", LABELLED)]),
        Regime::Eu,
    );
    for a in ["wheat", "milk", "soy", "lupin", "almond"] {
        assert!(before.contains(a), "{a}: {before}");
    }
    let eu = with(&[read_through("gluten_free_flour_blend", "eu", &["milk"])]);
    assert_eq!(asked(&eu, Regime::Eu), "");
    assert_eq!(of(line, &eu).statement(Regime::Eu).contains, ["milk"]);
    let us = with(&[read_through("gluten_free_flour_blend", "us", &[])]);
    assert_eq!(asked(&us, Regime::Us), "");
    let left = asked(&us, Regime::Eu);
    assert!(left.starts_with("lupin: gluten-free flour blend"), "{left}");
    assert!(!left.contains("wheat") && !left.contains("milk"), "{left}");
    // What the program is not sure is that food has not been read.
    let partly = of("100 g crunchy gluten-free flour blend lumps", &eu);
    assert!(
        partly
            .allergens
            .iter()
            .any(|a| a.allergen == Allergen::Wheat)
    );
}

/// Almonds hold almond whatever is ticked, and oats hold oats: a label takes away what may be in it, no more.
#[test]
fn a_label_read_through_takes_nothing_away_that_is_in_it() {
    for (key, line, has) in [
        ("almond_flour", "100 g almond flour", Allergen::Almond),
        ("rolled_oats", "100 g rolled oats", Allergen::Oats),
        ("amaretti", "100 g amaretti", Allergen::Egg),
    ] {
        let larder = with(&[read_through(key, "eu", &[])]);
        let s = of(line, &larder);
        let found = s.allergens.iter().find(|a| a.allergen == has);
        assert!(
            found.is_some_and(|a| a.certain),
            "{line}: {:?}",
            s.allergens
        );
    }
}

/// A compound food's whole label is asked for once; where a country's labels need not name what another's
/// must, that is said by name: mustard and celery of a label of the United States.
#[test]
fn a_whole_label_is_asked_for_as_far_as_its_law_goes() {
    let line = "100 g Harrow mill crumble mix";
    let mix = |law: &str| {
        let kept = read_through("own_mix", law, &[]);
        with(&[OwnEntry {
            name: Some("Harrow mill crumble mix".to_owned()),
            function: Some("flour".to_owned()),
            ..kept
        }])
    };
    assert_eq!(of(line, &mix("us")).statement(Regime::Us).check, [""; 0]);
    let eu = of(line, &mix("us")).statement(Regime::Eu).check;
    assert_eq!(
        eu,
        [
            "Harrow mill crumble mix: a label by the law of the United States need not name rye, barley, oats, mustard, celery, lupin, mollusc"
        ]
    );
}

/// Corn is on no allergen list: a label read through for allergens says nothing of it.
#[test]
fn a_label_read_through_tells_of_allergens_alone() {
    use recipe::LeftOut;
    let told = |what: LeftOut, law| what.is_told_by(law);
    assert!(told(LeftOut::Dairy, Regime::Us) && told(LeftOut::Oats, Regime::Eu));
    assert!(!told(LeftOut::Oats, Regime::Us) && !told(LeftOut::Corn, Regime::Eu));
}
