mod wrong;

use super::check::OwnError;
use super::*;
use crate::{Allergen, Certainty, Function, Gluten, Larder, State, Status};
use proptest::prelude::*;
use quantity::{Locale, Unit};
use std::sync::OnceLock;

fn larder() -> &'static Larder {
    static LARDER: OnceLock<Larder> = OnceLock::new();
    LARDER.get_or_init(|| Larder::built_in().expect("the built-in tables"))
}

fn entry(key: &str) -> OwnEntry {
    OwnEntry {
        key: key.to_owned(),
        ..OwnEntry::default()
    }
}

fn mix() -> OwnEntry {
    OwnEntry {
        name: Some("Harrow mill crumble mix".to_owned()),
        function: Some("flour".to_owned()),
        weights: [("cup".to_owned(), 118.0)].into(),
        ..entry("own_crumble_mix")
    }
}

fn evidence(kind: EvidenceKind) -> Option<Evidence> {
    Some(Evidence {
        kind,
        date: "2026-11-20".to_owned(),
        note: "lot 4".to_owned(),
    })
}

fn price() -> Price {
    Price {
        pack_grams: 1000.0,
        amount: 2.4,
        currency: "GBP".to_owned(),
        date: "2026-11-25".to_owned(),
        pack: String::new(),
    }
}

#[track_caller]
fn with(own: &[OwnEntry]) -> Larder {
    larder().with_own(own).expect("good entries")
}

#[track_caller]
fn wrong(own: OwnEntry, field: &str) -> OwnError {
    let e = larder()
        .with_own(std::slice::from_ref(&own))
        .expect_err(field);
    assert_eq!(own.check(larder()), Err(e.clone()));
    assert_eq!(
        (e.entry.as_str(), e.field.as_str()),
        (own.key.as_str(), field),
        "{e}"
    );
    for part in [&e.found, &e.expected, &e.mend] {
        assert!(!part.is_empty(), "{e:?}");
    }
    e
}

#[test]
fn nothing_own_changes_nothing() {
    assert!(with(&[]) == *larder());
}

#[test]
fn a_new_food_is_found_in_words_and_not_judged() {
    let l = with(&[OwnEntry {
        also: vec!["mill mix".to_owned(), "ground rice".to_owned()],
        ..mix()
    }]);
    let id = l.by_key("own_crumble_mix").expect("the new food");
    for words in [
        "Harrow mill crumble mix",
        "harrow mill crumble mix, sifted",
        "Mill mixes",
        "ground rice",
    ] {
        let m = l.find(words, Locale::Us).expect(words);
        assert_eq!((m.food, m.certainty), (id, Certainty::Sure), "{words}");
    }
    let food = l.food(id);
    assert_eq!(
        (food.gluten, food.function()),
        (Gluten::Check, Function::Flour)
    );
    assert!(l.is_own(id) && l.own(id).is_some());
    assert_eq!(l.also(id), ["mill mix", "ground rice"]);
    // The built-in larder is as it was.
    let before = larder()
        .find("ground rice", Locale::Us)
        .expect("built in")
        .food;
    assert_ne!(before, id);
    assert!(!l.is_own(before) && l.own(before).is_none());
}

#[test]
fn two_own_foods_of_one_name_are_a_tie() {
    let other = OwnEntry {
        key: "own_other".to_owned(),
        ..mix()
    };
    let l = with(&[mix(), other]);
    let m = l
        .find("harrow mill crumble mix", Locale::Us)
        .expect("found");
    assert_eq!(m.certainty, Certainty::Tie);
}

#[test]
fn own_weights_win_and_spoons_follow_the_cup() {
    let id = larder()
        .by_key("rice_flour")
        .or_else(|| larder().by_key("white_rice_flour"));
    let key = larder().food(id.expect("rice flour")).key.clone();
    let l = with(&[OwnEntry {
        weights: [("cup".to_owned(), 200.0)].into(),
        ..entry(&key)
    }]);
    let id = l.by_key(&key).expect("rice flour");
    let w = |u| {
        l.weigh(id, u, None, State::Usual, Locale::Us)
            .expect("a weight")
    };
    let cup = w(Unit::Cup);
    assert!((cup.grams.likely().as_grams() - 200.0).abs() < 1e-6);
    assert!((cup.grams.low().as_grams() - 190.0).abs() < 1e-6);
    assert!((cup.grams.high().as_grams() - 210.0).abs() < 1e-6);
    assert!(cup.source.contains("weighed in this kitchen"));
    assert!(cup.source.contains("common practice, no source"));
    assert_eq!(cup.status, Status::CommonPractice);
    for (unit, share) in [(Unit::Tbsp, 16.0), (Unit::Tsp, 48.0)] {
        let spoon = w(unit).grams.likely().as_grams();
        assert!((spoon - 200.0 / share).abs() < 0.05, "{unit:?} {spoon}");
    }
    // An own spoon stands by itself, and one that agrees keeps the table's row.
    let cup_now = larder()
        .measure(id, "cup", State::Usual)
        .expect("a row")
        .grams
        .likely()
        .as_grams();
    let l = with(&[OwnEntry {
        weights: [("cup".to_owned(), cup_now)].into(),
        ..entry(&key)
    }]);
    if let Some(row) = larder().measure(id, "tbsp", State::Usual)
        && row.grams.holds(quantity::Mass::grams(cup_now / 16.0))
    {
        assert_eq!(l.measure(id, "tbsp", State::Usual), Some(row));
    }
}

#[test]
fn an_own_piece_stands_over_a_country_s() {
    let l = with(&[OwnEntry {
        weights: [("each".to_owned(), 9.0)].into(),
        ..entry("stock_cube")
    }]);
    let id = l.by_key("stock_cube").expect("known");
    for locale in Locale::ALL {
        let one = l.weigh(id, Unit::Count, None, State::Usual, locale);
        assert_eq!(one.map(|w| w.grams.likely().as_grams()), Some(9.0));
    }
}

#[test]
fn label_figures_win_and_the_rest_stays() {
    let l = with(&[OwnEntry {
        label: Some(Label {
            protein: Some(12.5),
            ..Label::default()
        }),
        ..entry("bread_flour")
    }]);
    let id = l.by_key("bread_flour").expect("bread flour");
    let (now, before) = (l.composition(id), larder().composition(id));
    assert_eq!(now.protein, Some(12.5));
    assert_eq!(
        (now.fat, now.carbohydrate, now.fibre, now.ash),
        (before.fat, before.carbohydrate, before.fibre, before.ash)
    );
    assert!(now.water <= before.water);
    assert_eq!(l.food(id).gluten, Gluten::Contains);
}

#[test]
fn carbohydrate_counts_fibre_and_water_is_what_is_left() {
    let label = Label {
        protein: Some(7.0),
        fat: Some(1.0),
        carbohydrate: Some(75.0),
        fibre: Some(4.0),
        sugars: Some(0.5),
        ..Label::default()
    };
    let of = |label: Label| {
        let l = with(&[OwnEntry {
            label: Some(label),
            ..mix()
        }]);
        *l.composition(l.by_key("own_crumble_mix").expect("the new food"))
    };
    let eu = of(label);
    assert_eq!((eu.carbohydrate, eu.water), (Some(79.0), Some(13.0)));
    assert_eq!(eu.starch, Some(74.5));
    let us = of(Label {
        with_fibre: true,
        ..label
    });
    assert_eq!((us.carbohydrate, us.water), (Some(75.0), Some(17.0)));
    // No fibre known: neither the carbohydrate by difference nor the water can be told.
    let none = of(Label {
        fibre: None,
        ..label
    });
    assert_eq!(
        (none.carbohydrate, none.water, none.protein),
        (None, None, Some(7.0))
    );
    let wet = of(Label {
        water: Some(10.0),
        ..label
    });
    assert_eq!(wet.water, Some(10.0));
}

#[test]
fn gluten_named_makes_any_food_contain_it() {
    for kind in [EvidenceKind::NamesGluten, EvidenceKind::Test { ppm: 20.5 }] {
        for key in ["caster_sugar", "oat_flour", "bread_flour"] {
            let l = with(&[OwnEntry {
                gluten: evidence(kind),
                ..entry(key)
            }]);
            let food = l.food(l.by_key(key).expect(key));
            assert_eq!(food.gluten, Gluten::Contains, "{key}");
            assert!(
                food.gluten_reason.contains("2026-11-20"),
                "{}",
                food.gluten_reason
            );
        }
    }
    let l = with(&[OwnEntry {
        allergens: vec!["barley".to_owned()],
        gluten: evidence(EvidenceKind::Labelled),
        ..mix()
    }]);
    let food = l.food(l.by_key("own_crumble_mix").expect("the new food"));
    assert_eq!(food.gluten, Gluten::Contains);
}

#[test]
fn own_allergens_are_added_and_never_taken_away() {
    let id = larder().by_key("dark_chocolate").expect("dark chocolate");
    let l = with(&[OwnEntry {
        allergens: vec!["hazelnut".to_owned(), "milk".to_owned()],
        ..entry("dark_chocolate")
    }]);
    let now = &l.food(id).allergens;
    for a in [Allergen::Hazelnut, Allergen::Milk] {
        assert!(now.contains(&(a, false)), "{now:?}");
    }
    for (a, maybe) in &larder().food(id).allergens {
        assert!(now.contains(&(*a, *maybe)) || now.contains(&(*a, false)));
    }
}

#[test]
fn a_price_is_kept() {
    let l = with(&[OwnEntry {
        price: Some(price()),
        ..entry("bread_flour")
    }]);
    let id = l.by_key("bread_flour").expect("bread flour");
    assert_eq!(l.price(id), Some(&price()));
    assert_eq!(larder().price(id), None);
}

/// The kitchen's words beside a built-in name leave that food what it is.
#[test]
fn an_own_word_hides_no_built_in_food() {
    let l = with(&[mix()]);
    for text in [
        "soy sauce Harrow",
        "bread flour Harrow mill",
        "Harrow mill bread flour",
    ] {
        let m = l.find(text, Locale::Us).expect(text);
        assert_eq!(l.food(m.food).gluten, Gluten::Contains, "{text}");
        assert_eq!(Some(m), larder().find(text, Locale::Us), "{text}");
    }
    wrong(
        OwnEntry {
            name: Some("for Harrow crumbles".to_owned()),
            ..mix()
        },
        "name",
    );
}

/// A recipe's 'plain flour' must not turn into something to check.
#[test]
fn no_own_food_takes_a_name_of_a_food_with_gluten() {
    for name in ["Plain flour", "flour, plain", "soy sauce", "semolina"] {
        wrong(
            OwnEntry {
                name: Some(name.to_owned()),
                ..mix()
            },
            "name",
        );
        wrong(
            OwnEntry {
                also: vec![name.to_owned()],
                ..entry("brown_rice_flour")
            },
            "also",
        );
    }
    let l = with(&[OwnEntry {
        name: Some("plain flour".to_owned()),
        gluten: evidence(EvidenceKind::NamesGluten),
        ..mix()
    }]);
    let m = l.find("plain flour", Locale::Us).expect("found");
    assert_eq!(l.food(m.food).key, "own_crumble_mix");
}

#[test]
fn a_search_puts_the_best_first() {
    let l = with(&[mix()]);
    let keys = |words: &str| -> Vec<&str> {
        l.search(words, 8)
            .into_iter()
            .map(|id| l.food(id).key.as_str())
            .collect()
    };
    assert_eq!(keys("crumble mi").first(), Some(&"own_crumble_mix"));
    assert_eq!(keys("bread flour").first(), Some(&"bread_flour"));
    assert_eq!(
        keys("tapioka").first().map(|k| k.contains("tapioca")),
        Some(true)
    );
    assert_eq!(keys("caster").first(), Some(&"caster_sugar"));
    assert!(keys("cornfl").contains(&"corn_starch"));
    assert!(keys("zzzz").is_empty() && keys("!?").is_empty());
    assert_eq!(l.search("flour", 3).len(), 3);
    let all = l.search("", usize::MAX);
    assert_eq!(all.len(), l.ids().count());
    // By name, whether or not it begins with a capital: Greek yogurt between grapes and green lentils.
    let built_in = all.iter().filter(|id| !l.is_own(**id));
    let names: Vec<String> = built_in.map(|id| l.food(*id).name.to_lowercase()).collect();
    assert!(names.is_sorted());
    // Every food is found by its own name, among the first.
    for id in l.ids() {
        assert!(
            l.search(&l.food(id).name, 3).contains(&id),
            "{}",
            l.food(id).name
        );
    }
}

#[test]
fn other_names_are_given_without_their_country() {
    let id = larder().by_key("corn_starch").expect("corn starch");
    let also = larder().also(id);
    assert!(also.contains(&"cornflour"), "{also:?}");
}

fn any_entry() -> impl Strategy<Value = OwnEntry> {
    let figure = prop_oneof![
        3 => 0.0..100.0f64,
        1 => prop::num::f64::ANY
    ];
    let some = || prop::option::of(figure.clone());
    let text = "[ -~äé]{0,24}";
    let kind = prop_oneof![
        Just(EvidenceKind::Labelled),
        Just(EvidenceKind::Certificate),
        Just(EvidenceKind::NamesGluten),
        prop::num::f64::ANY.prop_map(|ppm| EvidenceKind::Test { ppm }),
        (0.0..60.0f64).prop_map(|ppm| EvidenceKind::Test { ppm }),
    ];
    let label = (
        some(),
        some(),
        some(),
        some(),
        some(),
        some(),
        any::<bool>(),
    )
        .prop_map(
            |(water, protein, fat, carbohydrate, fibre, sugars, with_fibre)| Label {
                water,
                protein,
                fat,
                carbohydrate,
                with_fibre,
                fibre,
                sugars,
            },
        );
    let keys: Vec<String> = larder()
        .ids()
        .map(|id| larder().food(id).key.clone())
        .collect();
    let key = prop_oneof![
        prop::sample::select(keys),
        Just("own_mix".to_owned()),
        text.prop_map(String::from)
    ];
    (
        (
            key,
            prop::option::of(text),
            prop::collection::vec(text, 0..3),
        ),
        prop::option::of(prop_oneof![
            Just("flour".to_owned()),
            text.prop_map(String::from)
        ]),
        prop::collection::btree_map(
            prop_oneof![
                Just("cup".to_owned()),
                Just("each".to_owned()),
                Just("tsp".to_owned())
            ],
            figure.clone(),
            0..3,
        ),
        prop::option::of(label),
        prop::option::of((
            kind,
            prop_oneof![Just("2026-11-25".to_owned()), text.prop_map(String::from)],
        )),
        prop::collection::vec(
            prop_oneof![Just("milk".to_owned()), Just("wheat".to_owned())],
            0..2,
        ),
    )
        .prop_map(
            |((key, name, also), function, weights, label, gluten, allergens)| OwnEntry {
                key,
                name,
                also,
                function,
                weights,
                label,
                gluten: gluten.map(|(kind, date)| Evidence {
                    kind,
                    date,
                    note: String::new(),
                }),
                allergens,
                read_through: None,
                price: None,
                packs: Vec::new(),
                stock: None,
                trim: None,
                note: String::new(),
            },
        )
}

#[test]
fn packs_stock_and_trim_are_looked_at() {
    let pack = |pack_grams: f64, amount: f64| Price {
        pack_grams,
        amount,
        ..price()
    };
    let good = OwnEntry {
        price: Some(pack(500.0, 1.4)),
        packs: vec![pack(1500.0, 3.3)],
        stock: Some(Stock {
            grams: 320.0,
            date: "2026-11-28".to_owned(),
        }),
        trim: Some(0.0),
        ..mix()
    };
    let l = with(std::slice::from_ref(&good));
    let id = l.by_key(&good.key).expect("its food");
    let packs: Vec<f64> = l.packs(id).map(|p| p.pack_grams).collect();
    assert_eq!(packs, [500.0, 1500.0]);
    assert_eq!(l.stock(id).map(|s| s.grams), Some(320.0));
    for (field, own) in [
        (
            "price",
            OwnEntry {
                price: None,
                ..good.clone()
            },
        ),
        (
            "packs.0.amount",
            OwnEntry {
                packs: vec![pack(10.0, -1.0)],
                ..good.clone()
            },
        ),
        (
            "packs",
            OwnEntry {
                packs: vec![pack(10.0, 1.0); 6],
                ..good.clone()
            },
        ),
        (
            "stock.grams",
            OwnEntry {
                stock: Some(Stock {
                    grams: -3.0,
                    date: "2026-11-28".to_owned(),
                }),
                ..good.clone()
            },
        ),
        (
            "stock.date",
            OwnEntry {
                stock: Some(Stock {
                    grams: 3.0,
                    date: "today".to_owned(),
                }),
                ..good.clone()
            },
        ),
        (
            "trim",
            OwnEntry {
                trim: Some(100.0),
                ..good.clone()
            },
        ),
    ] {
        wrong(own, field);
    }
}

#[test]
fn a_day_is_of_the_years_2000_to_today() {
    let of = |date: &str| OwnEntry {
        price: Some(Price {
            date: date.to_owned(),
            ..price()
        }),
        ..entry("butter")
    };
    for (day, can_be) in [
        ("1890-05-01", false),
        ("1999-12-31", false),
        ("2000-01-01", true),
        ("2026-11-30", true),
        ("2026-12-01", false),
        ("2030-01-01", false),
    ] {
        let said = of(day).check_days("2026-11-30");
        assert_eq!(said.is_ok(), can_be, "{day}");
        if let Err(e) = said {
            assert_eq!(e.field, "price.date");
            assert!(e.to_string().contains("to today, 2026-11-30"), "{e}");
        }
    }
    let stock = OwnEntry {
        stock: Some(Stock {
            grams: 3.0,
            date: "2031-01-01".to_owned(),
        }),
        ..of("2026-11-30")
    };
    let e = stock.check_days("2026-11-30").expect_err("a day to come");
    assert_eq!(e.field, "stock.date");
}

#[test]
fn an_own_trim_stands_over_the_table() {
    let own = |trim| OwnEntry {
        trim: Some(trim),
        ..entry("banana")
    };
    let banana = |l: &Larder| l.trim(l.by_key("banana").expect("banana"));
    assert_eq!(banana(larder()).map(|t| t.percent), Some(36.0));
    assert_eq!(banana(&with(&[own(30.0)])).map(|t| t.percent), Some(30.0));
    assert_eq!(banana(&with(&[own(0.0)])), None);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    /// Whatever is written, it is refused with a reason or taken in whole: no panic, no figure
    /// outside its range, no food with gluten made milder, no allergen lost.
    #[test]
    fn any_entry_is_refused_or_sound(own in any_entry()) {
        match larder().with_own(std::slice::from_ref(&own)) {
            Err(e) => prop_assert!(!e.mend.is_empty() && !e.expected.is_empty()),
            Ok(l) => {
                let id = l.by_key(&own.key).expect("its food");
                for m in l.measures(id) {
                    prop_assert!(m.grams.low().as_grams() > 0.0);
                }
                let c = l.composition(id);
                for v in [c.water, c.protein, c.fat, c.carbohydrate, c.fibre, c.sugars, c.starch].into_iter().flatten() {
                    prop_assert!((0.0..=105.0).contains(&v), "{v} of {own:?}");
                }
                for before in larder().ids() {
                    prop_assert!(l.food(before).gluten <= larder().food(before).gluten);
                    for (a, maybe) in &larder().food(before).allergens {
                        prop_assert!(l.food(before).allergens.iter().any(|(b, m)| a == b && (!m || *maybe)));
                    }
                }
            }
        }
    }
}
