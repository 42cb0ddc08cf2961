//! Every field of an own food that is wrong is named.

use super::*;

#[test]
fn every_wrong_field_is_named() {
    let flower = wrong(
        OwnEntry {
            function: Some("flower".to_owned()),
            ..mix()
        },
        "function",
    );
    assert!(flower.mend.contains("'flour'"), "{flower}");
    wrong(
        OwnEntry {
            function: None,
            ..mix()
        },
        "function",
    );
    wrong(
        OwnEntry {
            name: None,
            ..mix()
        },
        "name",
    );
    wrong(
        OwnEntry {
            name: Some("  ".to_owned()),
            ..mix()
        },
        "name",
    );
    wrong(
        OwnEntry {
            name: Some("freshly chopped".to_owned()),
            ..mix()
        },
        "name",
    );
    let near = wrong(entry("bread_flower"), "key");
    assert!(near.mend.contains("bread_flour"), "{near}");
    wrong(entry(""), "key");
    wrong(
        OwnEntry {
            key: "own_".to_owned(),
            ..mix()
        },
        "key",
    );
    wrong(
        OwnEntry {
            key: "own_Crumble mix".to_owned(),
            ..mix()
        },
        "key",
    );
    wrong(
        OwnEntry {
            function: Some("sugar".to_owned()),
            ..entry("bread_flour")
        },
        "function",
    );
    for g in [0.0, -3.0, f64::NAN, f64::INFINITY, 2.0, 5000.0] {
        wrong(
            OwnEntry {
                weights: [("cup".to_owned(), g)].into(),
                ..mix()
            },
            "weights.cup",
        );
    }
    wrong(
        OwnEntry {
            weights: [("bucket".to_owned(), 9.0)].into(),
            ..mix()
        },
        "weights.bucket",
    );
    let nut = wrong(
        OwnEntry {
            allergens: vec!["hazlenut".to_owned()],
            ..mix()
        },
        "allergens",
    );
    assert!(nut.mend.contains("'hazelnut'"), "{nut}");
    let read = |date: &str, who: &str, law: &str| OwnEntry {
        read_through: Some(ReadThrough {
            date: date.to_owned(),
            who: who.to_owned(),
            law: law.to_owned(),
        }),
        ..mix()
    };
    wrong(read("25 November", "Maud", "eu"), "read_through.date");
    wrong(read("2026-11-25", " ", "eu"), "read_through.who");
    let law = wrong(read("2026-11-25", "Maud", "gb"), "read_through.law");
    assert!(law.mend.contains("eu"), "{law}");
    let label = |l: Label| OwnEntry {
        label: Some(l),
        ..mix()
    };
    wrong(
        label(Label {
            protein: Some(-1.0),
            ..Label::default()
        }),
        "label.protein",
    );
    wrong(
        label(Label {
            fat: Some(f64::NAN),
            ..Label::default()
        }),
        "label.fat",
    );
    wrong(
        label(Label {
            protein: Some(50.0),
            carbohydrate: Some(60.0),
            ..Label::default()
        }),
        "label",
    );
    wrong(
        label(Label {
            carbohydrate: Some(10.0),
            sugars: Some(20.0),
            ..Label::default()
        }),
        "label.sugars",
    );
    wrong(
        OwnEntry {
            label: Some(Label {
                protein: Some(60.0),
                ..Label::default()
            }),
            ..entry("bread_flour")
        },
        "label",
    );
    for date in [
        "",
        "25.11.2026",
        "2026-02-29",
        "2026-13-01",
        "2026-1-1",
        "yesterday",
        "2026-11-25T10",
    ] {
        let mut own = mix();
        own.gluten = evidence(EvidenceKind::Labelled);
        own.gluten.as_mut().expect("set").date = date.to_owned();
        wrong(own, "gluten.date");
        wrong(
            OwnEntry {
                price: Some(Price {
                    date: date.to_owned(),
                    ..price()
                }),
                ..mix()
            },
            "price.date",
        );
    }
    wrong(
        OwnEntry {
            gluten: evidence(EvidenceKind::Test { ppm: -1.0 }),
            ..mix()
        },
        "gluten.ppm",
    );
    for c in ["", "gbp", "POUND", "£"] {
        wrong(
            OwnEntry {
                price: Some(Price {
                    currency: c.to_owned(),
                    ..price()
                }),
                ..mix()
            },
            "price.currency",
        );
    }
    wrong(
        OwnEntry {
            price: Some(Price {
                amount: 0.0,
                ..price()
            }),
            ..mix()
        },
        "price.amount",
    );
    wrong(
        OwnEntry {
            price: Some(Price {
                pack_grams: -1.0,
                ..price()
            }),
            ..mix()
        },
        "price.pack_grams",
    );
    wrong(
        OwnEntry {
            note: "Safe for coeliacs".to_owned(),
            ..mix()
        },
        "note",
    );
    let twice = larder().with_own(&[mix(), mix()]).expect_err("twice");
    assert_eq!(twice.field, "key");
    let egg = OwnEntry {
        weights: [("each".to_owned(), 50.0)].into(),
        ..entry("egg")
    };
    if larder().by_key("egg").is_some() {
        wrong(egg, "weights.each");
    }
}
