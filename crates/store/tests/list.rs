//! Lists, search, the bin.

mod common;

use common::{add, put, sheet, summarise};
use proptest::prelude::*;
use store::{Kitchen, Later, Query, Summary, Way};

fn find(kitchen: &Kitchen, words: &str) -> Vec<String> {
    let query = Query {
        words: words.to_owned(),
        limit: 50,
        ..Query::default()
    };
    let page = kitchen.list(&query).expect("a list");
    assert_eq!(page.total as usize, page.rows.len());
    page.rows.into_iter().map(|r| r.uid).collect()
}

fn three() -> Kitchen {
    let kitchen = Kitchen::in_memory().expect("a kitchen");
    add(
        &kitchen,
        "custard",
        "Crème slice\n300 g \"double\" cream\n4 eggs",
    );
    add(&kitchen, "loaf", "Daily loaf\n500 g flour\n10 g salt");
    let text = sheet("Rye-style rolls\n200 g flour");
    let summary = Summary {
        components: vec!["Slow soaker".to_owned()],
        words: "psyllium husk sorghum".to_owned(),
        styles: vec!["lean_bread".to_owned()],
        stage: "reworked".to_owned(),
        to_check: 3,
        ..summarise(&text)
    };
    kitchen
        .add_recipe("rolls", &text.text, &text, &summary, "Maud", 150)
        .expect("a recipe");
    kitchen
}

#[test]
fn what_can_be_taken_in_has_a_version_and_is_no_bin() {
    let kitchen = three();
    let row = |uid: &str| {
        let page = kitchen
            .list(&Query {
                limit: 9,
                ..Query::default()
            })
            .expect("a list");
        page.rows
            .into_iter()
            .find(|r| r.uid == uid)
            .expect("listed")
    };
    let offered = |but: i64| -> Vec<(String, u32, String)> {
        let all = kitchen.parts_on_offer(but, 9).expect("offers");
        all.into_iter()
            .map(|p| (p.recipe, p.version, p.title))
            .collect()
    };
    assert!(offered(0).is_empty());
    for (uid, at) in [("custard", 300), ("loaf", 310)] {
        kitchen
            .save_version(
                row(uid).id,
                1,
                "Maud",
                "",
                &serde_json::Value::Null,
                "test",
                at,
            )
            .expect("a version");
    }
    let of = |uid: &str| (uid.to_owned(), 1, row(uid).title);
    assert_eq!(offered(row("rolls").id), [of("loaf"), of("custard")]);
    assert_eq!(offered(row("loaf").id), [of("custard")]);
    let custard = of("custard");
    kitchen.bin_recipe(row("loaf").id, 320).expect("binned");
    assert_eq!(offered(0), [custard]);
}

#[test]
fn words_are_found_by_their_beginnings() {
    let kitchen = three();
    assert_eq!(find(&kitchen, "creme"), ["custard"]);
    assert_eq!(find(&kitchen, "CRÈME sl"), ["custard"]);
    assert_eq!(find(&kitchen, "cre\u{300}me"), ["custard"]);
    assert_eq!(find(&kitchen, "flo sal"), ["loaf"]);
    assert_eq!(find(&kitchen, "sorg"), ["rolls"]);
    assert_eq!(find(&kitchen, "soaker psyll"), ["rolls"]);
    assert_eq!(find(&kitchen, "rye-style"), ["rolls"]);
    assert_eq!(find(&kitchen, "flour nothing"), Vec::<String>::new());
    assert_eq!(find(&kitchen, "  "), ["rolls", "loaf", "custard"]);
}

#[test]
fn nothing_typed_is_syntax() {
    let kitchen = three();
    for odd in [
        "\"",
        "\"\"",
        "*",
        "(",
        ")",
        "NEAR(",
        "AND",
        "flour OR",
        "NOT flour",
        "title:",
        "-",
        "^",
        "flour*",
        "{a b}",
        "a\0b",
        "+",
        "'; DROP TABLE recipe; --",
        "\u{200d}",
        "\u{301}",
        "🍞",
        "%",
        "_",
        "\\",
        "title : flour",
        "\u{0345}",
        "\u{24b6}",
        "½",
    ] {
        find(&kitchen, odd);
    }
    assert_eq!(find(&kitchen, "\"double\" crea"), ["custard"]);
    assert_eq!(find(&kitchen, &"flour ".repeat(5000)).len(), 2);
    assert_eq!(find(&kitchen, &"f".repeat(100_000)), Vec::<String>::new());
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]
    #[test]
    fn any_words_can_be_looked_for(words in any::<String>()) {
        find(three_once(), &words);
    }
}

fn three_once() -> &'static Kitchen {
    static KITCHEN: std::sync::OnceLock<Kitchen> = std::sync::OnceLock::new();
    KITCHEN.get_or_init(three)
}

#[test]
fn a_title_counts_most() {
    let kitchen = Kitchen::in_memory().expect("a kitchen");
    add(
        &kitchen,
        "b",
        "Rolls\nflour, seed, water, and a long list of other things",
    );
    add(&kitchen, "a", "Seed rolls\nflour");
    add(&kitchen, "c", "Cakes\nseed seed seed");
    assert_eq!(find(&kitchen, "seed")[0], "a");
}

#[test]
fn search_follows_the_draft_and_the_summary() {
    let kitchen = three();
    let id = kitchen.by_uid("loaf").expect("read").expect("the loaf").id;
    put(
        &kitchen,
        id,
        1,
        "Daily loaf\n500 g buckwheat",
        "text",
        false,
    );
    assert_eq!(find(&kitchen, "buckwheat"), ["loaf"]);
    assert_eq!(find(&kitchen, "salt"), Vec::<String>::new());
    kitchen.walk(id, 2, Way::Undo, summarise, 1).expect("undo");
    assert_eq!(find(&kitchen, "salt"), ["loaf"]);
    let summary = Summary {
        title: "Sunday loaf".to_owned(),
        words: "tapioca".to_owned(),
        ..Summary::default()
    };
    kitchen.refresh_summary(id, &summary).expect("refreshed");
    assert_eq!(find(&kitchen, "tapioca sunday salt"), ["loaf"]);
    assert_eq!(find(&kitchen, "dailyx"), Vec::<String>::new());
    assert!(kitchen.refresh_summary(99, &summary).is_err());
}

#[test]
fn filters_pages_and_bin() {
    let kitchen = three();
    let all = Query {
        limit: 2,
        ..Query::default()
    };
    let page = kitchen.list(&all).expect("a list");
    assert_eq!(
        (page.total, page.rows.len(), page.rows[0].uid.as_str()),
        (3, 2, "rolls")
    );
    let rest = Query {
        offset: 2,
        ..all.clone()
    };
    assert_eq!(kitchen.list(&rest).expect("a list").rows[0].uid, "custard");
    for query in [
        Query {
            style: Some("lean_bread".to_owned()),
            ..all.clone()
        },
        Query {
            stage: Some("reworked".to_owned()),
            ..all.clone()
        },
        Query {
            to_check: true,
            ..all.clone()
        },
        Query {
            words: "flour".to_owned(),
            style: Some("lean_bread".to_owned()),
            stage: Some("reworked".to_owned()),
            to_check: true,
            ..all.clone()
        },
    ] {
        let page = kitchen.list(&query).expect("a list");
        assert_eq!(
            (page.total, page.rows[0].uid.as_str()),
            (1, "rolls"),
            "{query:?}"
        );
        assert_eq!(page.rows[0].components, ["Slow soaker"]);
    }
    let id = page.rows[0].id;
    kitchen.bin_recipe(id, 500).expect("binned");
    kitchen.bin_recipe(id, 600).expect("binned again");
    assert_eq!(kitchen.list(&all).expect("a list").total, 2);
    assert_eq!(find(&kitchen, "rolls"), Vec::<String>::new());
    let bin = Query {
        binned: true,
        ..all
    };
    let binned = kitchen.list(&bin).expect("the bin");
    assert_eq!((binned.total, binned.rows[0].binned), (1, Some(500)));
    kitchen.unbin_recipe(id, 700).expect("back");
    assert_eq!(find(&kitchen, "rolls"), ["rolls"]);
    assert!(kitchen.bin_recipe(99, 1).is_err());
    assert!(kitchen.unbin_recipe(99, 1).is_err());
}

/// Words of more than a thousand recipes give the newest first, page by page, as a list without words does.
#[test]
fn common_words_give_the_newest_page_by_page() {
    let kitchen = Kitchen::in_memory().expect("a kitchen");
    let text = sheet("Oat loaf\n500 g flour");
    let summary = summarise(&text);
    // Changed in an order of their own, some in the same second.
    for n in 0..1100_i64 {
        let at = n * 7 % 1100 / 2;
        let uid = format!("r{n}");
        kitchen
            .add_recipe(&uid, &text.text, &text, &summary, "Maud", at)
            .expect("a recipe");
    }
    for offset in [0, 3, 1098, 1200] {
        let all = Query {
            limit: 3,
            offset,
            ..Query::default()
        };
        let found = Query {
            words: "oat lo".to_owned(),
            ..all.clone()
        };
        let (all, found) = (kitchen.list(&all), kitchen.list(&found));
        let (all, found) = (all.expect("a list"), found.expect("a list"));
        assert_eq!(found.total, 1100);
        assert_eq!(found, all, "from {offset}");
    }
}

#[test]
fn search_stays_whole_through_many_changes() {
    let folder = tempfile::tempdir().expect("a folder");
    let kitchen = Kitchen::open(folder.path()).expect("a kitchen");
    let text = |n: u64, round: u64| {
        let mut text = format!("Recipe batch{n}\n");
        for word in 0..60 {
            let number = n * 31 + word * 17 + round;
            text.push_str(&format!("{} g food{} mixed\n", number % 900, number % 113));
        }
        text
    };
    for n in 0..60 {
        add(&kitchen, &format!("r{n}"), &text(n, 0));
    }
    for round in 1..=6 {
        for n in 0..60 {
            let id = i64::try_from(n).expect("small") + 1;
            put(&kitchen, id, round, &text(n, round), "text", true);
        }
        // The connection that looks has searched before.
        assert_eq!(find(&kitchen, "batch7").len(), 1);
        assert_eq!(kitchen.check(), Ok(()), "round {round}");
    }
    assert_eq!(find(&kitchen, "batch7").len(), 1);
}

/// A recipe is found by its bakes, wherever it stands; what was put away unmade, or finished by mistake, is none.
#[test]
fn what_was_baked_is_found_whatever_is_open() {
    let kitchen = three();
    let id = |uid: &str| kitchen.by_uid(uid).expect("a list").expect("there").id;
    let baked = || -> Vec<String> {
        let query = Query {
            baked: true,
            limit: 9,
            ..Query::default()
        };
        let page = kitchen.list(&query).expect("a list");
        assert_eq!(page.total as usize, page.rows.len());
        page.rows.into_iter().map(|r| r.uid).collect()
    };
    let finish = |uid: &str, record: serde_json::Value| {
        let plan = serde_json::json!([]);
        let batch = kitchen
            .start_batch(id(uid), None, 1.0, &plan, "Maud", 200)
            .expect("a batch");
        assert!(!baked().contains(&uid.to_owned()), "only begun");
        kitchen.finish_batch(batch, &record, 210).expect("finished");
        batch
    };
    finish("rolls", serde_json::json!({ "height": 7 }));
    finish("loaf", serde_json::json!({ "unmade": true }));
    let slip = finish("custard", serde_json::json!({}));
    assert_eq!(baked(), ["rolls", "custard"]);
    let note = |at, counts| Later {
        at,
        who: "Maud".to_owned(),
        text: "A slip.".to_owned(),
        counts: Some(counts),
    };
    kitchen.add_later(slip, &note(220, false)).expect("added");
    assert_eq!(baked(), ["rolls"]);
    kitchen.add_later(slip, &note(230, true)).expect("added");
    assert_eq!(baked(), ["rolls", "custard"]);
}
