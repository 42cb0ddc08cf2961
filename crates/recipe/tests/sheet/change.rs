//! Changes: checked, named, taken back, and told apart in words.

use super::{BUNS, change, larder, of, worked};
use proptest::prelude::*;
use proptest::sample::select;
use quantity::Locale;
use recipe::DoubtCode;
use recipe::rework::Hold;
use recipe::sheet::{Change, LineDecision, LineKey, PartUse, Sheet, work};
use recipe::size::{Ask, Have, Pans, PartSize, Pieces, Target};

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
            text: Some("1 cup milk\n2 eggs".to_owned()),
        },
        Change::Food {
            line: line.clone(),
            place: 0,
            food: Some("A b".to_owned()),
        },
    ];
    let weights = [f64::NAN, f64::INFINITY, -1.0, 100_001.0].map(|g| Change::Grams {
        line: line.clone(),
        place: 0,
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
        place: 0,
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

/// Holds that can be, and some that cannot.
fn a_hold() -> impl Strategy<Value = Hold> {
    prop_oneof![
        (-1.0..200.0f64).prop_map(Hold::Grams),
        (-1.0..200.0f64).prop_map(Hold::Percent),
        (0u8..4, select(vec!["eggs", "egg", "pieces", "zorbs"])).prop_map(|(n, of)| Hold::Count {
            number: f64::from(n),
            of: of.to_owned()
        }),
        Just(Hold::None),
    ]
}

/// Names of components, lines and the rest that a change may be about: some of them are there.
fn a_line() -> impl Strategy<Value = LineKey> {
    (
        select(vec!["", "dough", "glaze", "a/b"]),
        select(vec![
            "200 g plain flour",
            "1 knob butter",
            "8 oz milk",
            "1 cup butter or margarine",
            "2 (14 g) packets yeast",
            "half of the dough",
            "gone",
        ]),
        0usize..3,
    )
        .prop_map(|(component, text, nth)| LineKey {
            component: component.to_owned(),
            text: text.to_owned(),
            nth,
        })
}

pub(super) fn words() -> impl Strategy<Value = String> {
    prop_oneof![
        select(vec![
            "1 cup rice flour",
            "",
            "half of the dough",
            "all of the glaze",
            "1e9 kg of it",
            "For the dough:",
            "9999999999999999999999 cups milk plus 2 eggs",
            "2 eggs plus 1 yolk",
        ])
        .prop_map(str::to_owned),
        ".{1,40}",
    ]
}

fn an_ask() -> impl Strategy<Value = Ask> {
    let figure = || prop_oneof![Just(0.0), Just(-1.0), Just(f64::NAN), 0.001..5000.0];
    let pans = || {
        (
            select(vec!["round_9x2", "loaf 9x5", "round 9x0", "no pan"]),
            0u32..3,
        )
            .prop_map(|(pan, count)| Pans {
                pan: pan.to_owned(),
                water: None,
                count,
                fill: None,
                full: false,
            })
    };
    let target = prop_oneof![
        figure().prop_map(Target::Times),
        figure().prop_map(Target::Servings),
        figure().prop_map(Target::Makes),
        figure().prop_map(Target::Flour),
        (figure(), figure(), any::<bool>()).prop_map(|(n, g, baked)| Target::Pieces(Pieces {
            count: Some(n),
            each: Some(g),
            baked
        })),
        (words(), figure()).prop_map(|(line, grams)| Target::Line { line, grams }),
        (figure(), figure(), figure()).prop_map(|(long, wide, thick)| Target::Sheet {
            long,
            wide,
            thick,
            typed: String::new()
        }),
        pans().prop_map(Target::Pan),
        (pans(), pans(), any::<bool>()).prop_map(|(from, to, keep_depth)| Target::FromPan {
            from,
            to,
            keep_depth
        }),
        proptest::collection::vec((words(), figure()), 0..3).prop_map(|list| Target::Have(
            list.into_iter()
                .map(|(what, grams)| Have {
                    what,
                    grams,
                    count: None
                })
                .collect()
        )),
    ];
    let part = proptest::option::of(select(vec!["dough", "glaze", ""]));
    let of_part = proptest::option::of(prop_oneof![
        Just(PartSize::Enough),
        figure().prop_map(PartSize::Times)
    ]);
    (target, part, of_part, any::<bool>(), any::<bool>()).prop_map(
        |(target, part, of_part, only, whole_eggs)| Ask {
            target,
            part: part.map(str::to_owned),
            only,
            parts: of_part
                .into_iter()
                .map(|p| ("dough".to_owned(), p))
                .collect(),
            whole_eggs,
        },
    )
}

fn a_change() -> impl Strategy<Value = Change> {
    let component = || select(vec!["", "dough", "glaze", "none"]).prop_map(str::to_owned);
    let grams = || proptest::option::of(prop_oneof![Just(0.0), 0.0..1000.0, Just(100_000.0)]);
    let code = || select(DoubtCode::ALL).prop_map(|c| c.code().to_owned());
    let key = || {
        proptest::option::of(select(vec![
            "unsalted_butter",
            "white_rice_flour",
            "all_purpose_flour",
            "egg",
            "no_food",
        ]))
        .prop_map(|k| k.map(str::to_owned))
    };
    prop_oneof![
        Just(Change::Unpin),
        (
            component(),
            proptest::option::of(select(vec!["sheet", "roll", "ring"]))
        )
            .prop_map(|(component, shape)| Change::SetShape {
                component,
                shape: shape.map(str::to_owned),
            }),
        (
            component(),
            select(vec!["length", "slices", "hole", "dough"]),
            proptest::option::of(select(vec!["12", "3 cm", "600 g"]))
        )
            .prop_map(|(component, what, text)| Change::ShapeSays {
                component,
                what: what.to_owned(),
                text: text.map(str::to_owned),
            }),
        proptest::option::of(an_ask()).prop_map(|ask| Change::Size { ask }),
        words().prop_map(|title| Change::Title { title: Some(title) }),
        Just(Change::Title { title: None }),
        proptest::option::of(words()).prop_map(|text| Change::Credit { text }),
        proptest::option::of(words()).prop_map(|text| Change::Makes { text }),
        proptest::option::of(words()).prop_map(|text| Change::Method { text }),
        proptest::option::of(an_ask()).prop_map(|size| Change::MethodSuits { size }),
        select(&["us", "metric", "uk", "au"][..]).prop_map(|l| Change::Locale {
            locale: l.to_owned()
        }),
        (a_line(), proptest::option::of(words()))
            .prop_map(|(line, text)| Change::ReadAs { line, text }),
        (a_line(), 0_usize..3, key()).prop_map(|(line, place, food)| Change::Food {
            line,
            place,
            food
        }),
        (a_line(), 0..4usize, grams()).prop_map(|(line, place, grams)| Change::Grams {
            line,
            place,
            grams
        }),
        (a_line(), code(), any::<bool>()).prop_map(|(line, code, yes)| Change::Accept {
            line,
            code,
            yes
        }),
        (code(), any::<bool>()).prop_map(|(code, yes)| Change::AcceptWhole { code, yes }),
        (
            select(vec!["175 C", "350 F", "gas 4"]),
            proptest::option::of(any::<bool>())
        )
            .prop_map(|(words, yes)| Change::SetHeat {
                what: if yes == Some(true) {
                    "oven"
                } else {
                    "known_oven"
                }
                .to_owned(),
                text: yes.map(|_| words.to_owned()),
            }),
        (select(vec!["egg", "dairy", "tree_nuts"]), any::<bool>()).prop_map(|(what, yes)| {
            Change::LeaveOut {
                what: what.to_owned(),
                yes,
            }
        }),
        (
            component(),
            proptest::option::of(select(vec!["enriched_dough", "sponge_cake", "choux"]))
        )
            .prop_map(|(component, s)| Change::Style {
                component,
                style: s.map(str::to_owned)
            }),
        (
            component(),
            proptest::option::of(select(vec!["rice_free", "gum_free", "own_1"]))
        )
            .prop_map(|(component, b)| Change::Blend {
                component,
                blend: b.map(str::to_owned)
            }),
        (
            component(),
            prop_oneof![
                select(vec!["blend", "hydration", "binder", "egg", "starch"])
                    .prop_map(str::to_owned),
                "[a-z_]{1,12}"
            ],
            proptest::option::of(a_hold())
        )
            .prop_map(|(component, line, hold)| Change::Pin {
                component,
                line,
                hold
            }),
        ("r[12]", 1u32..4).prop_map(|(recipe, version)| Change::TakePart {
            part: PartUse {
                recipe,
                version,
                title: "Nut crumbs".to_owned()
            }
        }),
        "r[12]".prop_map(|recipe| Change::LeavePart { recipe }),
    ]
}

/// Whether a change is about a line whose decision stands under another heading: it is listed there.
fn follows(change: &Change, sheet: &Sheet) -> bool {
    match change {
        Change::ReadAs { line, .. }
        | Change::Food { line, .. }
        | Change::Grams { line, .. }
        | Change::Accept { line, .. } => sheet.lines.iter().all(|d| d.line != *line),
        _ => false,
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(128))]

    /// Changes taken back, last first, leave the sheet as it was; whatever is decided, a sheet
    /// works or says why not.
    #[test]
    fn changes_taken_back_restore_the_sheet(changes in proptest::collection::vec(a_change(), 1..20)) {
        let before = Sheet::new(BUNS, Locale::Us);
        let part = Sheet::new("Crumbs\n\n200 g plain flour\n1 knob butter\nhalf of the dough\n", Locale::Uk);
        let mut sheet = before.clone();
        let mut back = Vec::new();
        for c in &changes {
            let inverse = c.inverse(&sheet);
            let (old, was) = (c.value_in(&sheet), sheet.clone());
            if sheet.change(c).is_ok() {
                if c.value_in(&sheet) == old {
                    prop_assert_eq!(&sheet, &was, "{:?}", c);
                }
                back.push(inverse);
            } else {
                prop_assert_eq!(&sheet, &was);
            }
        }
        let parts = vec![part.into(); sheet.parts.len()];
        if let Err(e) = work(&sheet, &parts, larder(), &[]) {
            prop_assert!(!e.to_string().is_empty());
        }
        // What two sheets differ in is listed field by field.
        let differences = before.differences(&sheet);
        prop_assert_eq!(differences.is_empty(), sheet == before);
        for c in changes.iter().filter(|c| !matches!(c, Change::Unpin | Change::LeavePart { .. })) {
            let moved = !follows(c, &sheet) && c.value_in(&before) != c.value_in(&sheet);
            let listed = differences.iter().filter(|d| d.field == c.field()).count();
            prop_assert!(listed >= usize::from(moved), "{:?}", c);
        }
        for inverse in back.iter().rev() {
            for c in inverse {
                change(&mut sheet, c.clone());
            }
        }
        prop_assert_eq!(sheet, before);
    }
}

/// What is asked for stands on the sheet, in words, is saved and taken back; once the recipe is
/// nothing asked.
#[test]
fn a_size_is_asked_for_and_taken_back() {
    let mut sheet = of(&["200 g plain flour", "100 g butter"]);
    let before = sheet.clone();
    assert!(
        !serde_json::to_string(&sheet)
            .expect("saves")
            .contains("size")
    );
    let asks = |ask| Change::Size { ask: Some(ask) };
    let ask = asks(Target::Flour(600.0).into());
    let back = ask.inverse(&sheet);
    assert_eq!(ask.words(), "size: 600 g of flour");
    change(&mut sheet, ask.clone());
    assert_eq!(ask.value_in(&sheet), "600 g of flour");
    let saved = serde_json::to_string(&sheet).expect("saves");
    assert!(
        saved.contains(r#""size":{"target":{"flour":600.0}}"#),
        "{saved}"
    );
    assert_eq!(serde_json::from_str::<Sheet>(&saved).expect("reads"), sheet);
    assert_eq!(worked(&sheet).batch.factor, 3.0);
    for c in back {
        change(&mut sheet, c);
    }
    assert_eq!(sheet, before);
    change(&mut sheet, asks(Ask::times(2.0)));
    change(&mut sheet, asks(Ask::times(1.0)));
    assert_eq!(sheet, before);
    let wrong = sheet.change(&asks(Ask::times(f64::NAN)));
    assert!(
        wrong
            .expect_err("no figure")
            .to_string()
            .contains("ask for")
    );
}

/// What a bake on record took is one change: figures that it does not have are as read again, and
/// one change takes all of it back.
#[test]
fn a_bake_on_record_becomes_the_known_one_at_once() {
    let mut sheet = Sheet::new("Loaf\n\n500 g flour\n", Locale::Metric);
    let says = |all: &[(&str, &str)]| Change::KnownBake {
        says: all
            .iter()
            .map(|(k, v)| ((*k).to_owned(), (*v).to_owned()))
            .collect(),
    };
    for (k, v) in [("known_dough", "900 g"), ("pan", "20x10x6 cm")] {
        let one = Change::SetHeat {
            what: k.to_owned(),
            text: Some(v.to_owned()),
        };
        sheet.change(&one).expect("a figure");
    }
    let before = sheet.clone();
    let bake = says(&[("known_oven", "175 °C"), ("known_time", "38 min")]);
    let back = bake.inverse(&sheet);
    assert_eq!(bake.words(), "known bake: 175 °C, 38 min");
    sheet.change(&bake).expect("a bake");
    assert_eq!(sheet.heat.len(), 3, "{:?}", sheet.heat);
    assert!(!sheet.heat.contains_key("known_dough"));
    for change in back {
        sheet.change(&change).expect("taken back");
    }
    assert_eq!(sheet, before);
    assert!(sheet.change(&says(&[("pan", "20x10x6 cm")])).is_err());
    assert!(sheet.change(&says(&[("known_time", "soon")])).is_err());
}

#[test]
fn figures_of_heat_are_kept_checked_and_taken_back() {
    let mut sheet = Sheet::new("Loaf\n\n500 g flour\n", Locale::Metric);
    let set = |text: Option<&str>| Change::SetHeat {
        what: "known_oven".to_owned(),
        text: text.map(str::to_owned),
    };
    sheet.change(&set(Some("gas 4"))).expect("a gas mark");
    assert_eq!(
        sheet.heat.get("known_oven").map(String::as_str),
        Some("gas 4")
    );
    assert_eq!(set(Some("gas 4")).words(), "oven of the known bake: gas 4");
    let e = sheet
        .change(&set(Some("175")))
        .expect_err("no unit")
        .to_string();
    assert!(e.contains("write 175 °C or 175 °F"), "{e}");
    let unknown = Change::SetHeat {
        what: "moon".to_owned(),
        text: None,
    };
    assert!(sheet.change(&unknown).is_err());
    let json = serde_json::to_string(&sheet).expect("json");
    assert_eq!(serde_json::from_str::<Sheet>(&json).expect("back"), sheet);
    sheet.change(&set(None)).expect("taken back");
    assert!(
        !serde_json::to_string(&sheet)
            .expect("json")
            .contains("heat")
    );
}

/// A comparison speaks as bakers do, and says what of a method changed.
#[test]
fn what_two_sheets_differ_in_is_told_in_bakers_words() {
    let mut before = of(&["500 g plain flour", "320 g water", "7 g yeast"]);
    let method = |text: &str| Change::Method {
        text: Some(text.to_owned()),
    };
    let chill = |out: bool| Change::SetStep {
        step: ":chill".to_owned(),
        words: Some("Chill for 1 hour.".to_owned()),
        to: recipe::plan::StepChange::LeftOut(out),
    };
    let hold = |hold: Option<Hold>| Change::Pin {
        component: String::new(),
        line: "water".to_owned(),
        hold,
    };
    change(
        &mut before,
        method("Mix.\nChill for 1 hour.\nBake for 20 minutes."),
    );
    change(&mut before, hold(Some(Hold::Grams(320.0))));
    let mut after = before.clone();
    change(&mut after, hold(None));
    change(&mut after, chill(true));
    change(
        &mut after,
        method("Mix.\nChill for 1 hour.\nBake for 25 minutes.\nCool."),
    );
    let told = |a: &Sheet, b: &Sheet| -> Vec<String> {
        let all = a.differences(b);
        all.iter()
            .map(|d| {
                let lines = d.lines.iter().map(|l| {
                    let (was, is) = (l.was.as_deref(), l.is.as_deref());
                    format!("{} → {}", was.unwrap_or("-"), is.unwrap_or("-"))
                });
                let said: Vec<String> = d.from.iter().chain(&d.to).cloned().chain(lines).collect();
                format!("{}: {}", d.name, said.join("; "))
            })
            .collect()
    };
    assert_eq!(
        told(&before, &after),
        [
            "Your method: Bake for 20 minutes. → Bake for 25 minutes.; - → Cool.",
            "Water: held at 320 g; reckoned",
            "Step 2, Chill: left out",
        ]
    );
    assert!(told(&after, &before).contains(&"Step 2, Chill: put back".to_owned()));
    let mut text = after.clone();
    text.text = text.text.replace("7 g yeast", "9 g yeast");
    assert_eq!(told(&after, &text), ["The text: 7 g yeast → 9 g yeast"]);
    let mut none = after.clone();
    change(&mut none, Change::Method { text: None });
    assert_eq!(told(&after, &none), ["Your method: taken out"]);
}

/// The undo button says what was done to a step as a baker would.
#[test]
fn a_step_left_out_is_said_in_words() {
    let said = |yes| {
        let to = recipe::plan::StepChange::LeftOut(yes);
        let step = "dough:chill".to_owned();
        Change::SetStep {
            step,
            words: None,
            to,
        }
        .words()
    };
    assert_eq!(said(true), "step 'chill' of the dough left out");
    assert_eq!(said(false), "step 'chill' of the dough put back");
}

/// The words of Compare and of conflicts are those of the screens: a figure is held, a step left out or done,
/// and a step of no known kind is said by its words.
#[test]
fn names_of_changes_are_plain() {
    let held = Change::Pin {
        component: "dough".to_owned(),
        line: "water".to_owned(),
        hold: None,
    };
    assert_eq!(held.name(), "water held in the dough");
    assert_eq!(Change::Unpin.name(), "held figures");
    let step = |step: &str| Change::SetStep {
        step: step.to_owned(),
        words: None,
        to: recipe::plan::StepChange::LeftOut(true),
    };
    assert_eq!(
        step("dough:other").name(),
        "step of the dough, whether it is done"
    );
}

/// Whose measures is said in the words of the question, not by a key.
#[test]
fn measures_are_named() {
    let uk = Change::Locale {
        locale: "uk".to_owned(),
    };
    assert_eq!(uk.words(), "whose measures: British");
    assert_eq!(uk.value_in(&Sheet::new("Buns", Locale::Au)), "Australian");
}

/// Said of these words in this size: with others of either it is to be said anew, and undo gives it back.
#[test]
fn that_the_method_suits_is_said_of_its_words_and_of_its_size() {
    let mut sheet = Sheet::new(BUNS, Locale::Us);
    let method = |text: &str| Change::Method {
        text: Some(text.to_owned()),
    };
    change(&mut sheet, method("Mix.\nBake."));
    assert!(!sheet.method_suits_size(), "nothing was said");
    let size = Some(Ask::times(1.5));
    change(&mut sheet, Change::Size { ask: size.clone() });
    change(&mut sheet, Change::MethodSuits { size: size.clone() });
    assert!(sheet.method_suits_size());
    let said = sheet.clone();
    change(&mut sheet, method("Mix.\nBake."));
    assert!(sheet.method_suits_size(), "the same words");
    let other = method("Mix well.\nBake.");
    let back = other.inverse(&sheet);
    change(&mut sheet, other);
    assert!(!sheet.method_suits_size());
    for b in back {
        change(&mut sheet, b);
    }
    assert_eq!(sheet, said);
    change(
        &mut sheet,
        Change::Size {
            ask: Some(Ask::times(2.0)),
        },
    );
    assert!(!sheet.method_suits_size());
}
