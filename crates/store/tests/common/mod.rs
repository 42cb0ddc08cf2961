//! What the tests share.
#![allow(dead_code)]

use quantity::Locale;
use recipe::sheet::{PartUse, Sheet};
use store::{Kitchen, Later, Summary};

/// What came into a kitchen with each old schema: its tables, and rows of that time.
pub const SCHEMAS: [&str; 5] = [
    include_str!("../fixtures/schema-1.sql"),
    include_str!("../fixtures/schema-2.sql"),
    include_str!("../fixtures/schema-3.sql"),
    include_str!("../fixtures/schema-4.sql"),
    include_str!("../fixtures/schema-5.sql"),
];

/// A kitchen of an old schema, as SQL.
pub fn old_schema(schema: usize) -> String {
    SCHEMAS[..schema].concat()
}

pub const BUNS: &str = "Seed buns\n\n500 g flour\n7 g yeast\n350 ml water\n";

/// A summary as a caller would make it: title of the first line, foods of the rest.
pub fn summarise(sheet: &Sheet) -> Summary {
    let mut lines = sheet.text.lines();
    Summary {
        title: sheet
            .title
            .clone()
            .unwrap_or_else(|| lines.next().unwrap_or_default().to_owned()),
        stage: "read".to_owned(),
        styles: sheet.styles.values().cloned().collect(),
        to_check: 0,
        components: Vec::new(),
        words: String::new(),
    }
}

pub fn sheet(text: &str) -> Sheet {
    Sheet::new(text, Locale::Metric)
}

pub fn add(kitchen: &Kitchen, uid: &str, text: &str) -> i64 {
    let sheet = sheet(text);
    kitchen
        .add_recipe(uid, text, &sheet, &summarise(&sheet), "Maud", 100)
        .expect("a new recipe")
}

/// Changes the draft's text; gives the new rev.
pub fn put(kitchen: &Kitchen, id: i64, rev: u64, text: &str, field: &str, join: bool) -> u64 {
    let sheet = Sheet {
        text: text.to_owned(),
        ..kitchen.draft(id).expect("a draft").sheet
    };
    put_sheet(kitchen, id, rev, &sheet, field, join)
}

pub fn put_sheet(
    kitchen: &Kitchen,
    id: i64,
    rev: u64,
    sheet: &Sheet,
    field: &str,
    join: bool,
) -> u64 {
    let words = format!("change {}", sheet.text.lines().last().unwrap_or_default());
    let summary = summarise(sheet);
    kitchen
        .put_draft(id, rev, sheet, &words, field, join, &summary, 200)
        .expect("a change")
}

pub fn save(kitchen: &Kitchen, id: i64, why: &str) -> u32 {
    let rev = kitchen.draft(id).expect("a draft").rev;
    let figures = serde_json::json!({"hydration": 0.7, "why": why});
    kitchen
        .save_version(id, rev, "Maud", why, &figures, "unwheat 0.1.0", 300)
        .expect("a version")
}

pub fn part(uid: &str, version: u32) -> PartUse {
    PartUse {
        recipe: uid.to_owned(),
        version,
        title: format!("{uid} as it was"),
    }
}

pub fn note(at: i64, text: &str) -> Later {
    Later {
        at,
        who: "Bram".to_owned(),
        text: text.to_owned(),
        counts: None,
    }
}
