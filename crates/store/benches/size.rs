//! A large kitchen: how long the things take that a baker waits for.
//!
//! `cargo bench -p store` builds 10,000 recipes of 20 versions once, in the system's folder for
//! temporary files (a few minutes), and uses them again. `UNWHEAT_BENCH_RECIPES=500` makes fewer.
//! Every change is written to the disk as in use.
//!
//! Middle figures of 2026-11-25 with 2,600 recipes, on one of two cores that others were using
//! heavily: list 0.15 ms, search 0.04 to 3.1 ms, draft 0.06 ms, version 0.15 ms, put_draft 0.24 ms
//! with a new text and 0.09 ms without, save_version 0.8 ms, check 0.4 s, backup 0.8 s; the
//! slowest of a hundred put_drafts took 12 ms.

use quantity::Locale;
use recipe::sheet::{LineDecision, LineKey, Pin, Sheet};
use serde_json::{Value, json};
use std::path::Path;
use std::time::{Duration, Instant};
use store::{Kitchen, Query, Settings, StoreError, Summary, Way};

const VERSIONS: u32 = 20;
const FOODS: [&str; 12] = [
    "rice flour",
    "sorghum flour",
    "tapioca starch",
    "potato starch",
    "psyllium husk",
    "butter",
    "eggs",
    "whole milk",
    "caster sugar",
    "crème fraîche",
    "ground almonds",
    "dried yeast",
];
const DISHES: [&str; 8] = [
    "buns",
    "loaf",
    "sponge",
    "tart",
    "pancakes",
    "crackers",
    "flatbread",
    "rolls",
];

fn main() -> Result<(), StoreError> {
    let recipes: u32 = std::env::var("UNWHEAT_BENCH_RECIPES")
        .ok()
        .and_then(|n| n.parse().ok())
        .unwrap_or(10_000);
    let folder = std::env::temp_dir().join(format!("unwheat-store-bench-{recipes}"));
    let kitchen = Kitchen::open(&folder)?;
    let first = kitchen.list(&Query::default())?.total;
    let started = Instant::now();
    for from in (first..recipes).step_by(100) {
        fill(&kitchen, from, (from + 100).min(recipes))?;
    }
    if first < recipes {
        println!("built in {:.0} s", started.elapsed().as_secs_f64());
    }
    let bytes = std::fs::metadata(folder.join("kitchen.db")).map_or(0, |m| m.len());
    println!(
        "{recipes} recipes, {VERSIONS} versions each: {} MB",
        bytes >> 20
    );
    reads(&kitchen, recipes)?;
    writes(&kitchen, recipes)?;
    whole(&kitchen, &folder)
}

fn once<T>(took: &mut Vec<Duration>, work: impl FnOnce() -> T) -> T {
    let started = Instant::now();
    let done = work();
    took.push(started.elapsed());
    done
}

fn say(what: &str, mut took: Vec<Duration>) {
    took.sort_unstable();
    let at = |share: f64| {
        let place = (took.len() as f64 * share) as usize;
        took[place.min(took.len() - 1)].as_secs_f64() * 1000.0
    };
    println!(
        "{what:<40} p50 {:>8.2} ms   p99 {:>8.2} ms   n {}",
        at(0.5),
        at(0.99),
        took.len()
    );
}

fn reads(kitchen: &Kitchen, recipes: u32) -> Result<(), StoreError> {
    let page = Query {
        limit: 50,
        ..Query::default()
    };
    let asked = [
        ("list, first page", page.clone()),
        (
            "list, of one style, to check",
            Query {
                style: Some("lean_bread".to_owned()),
                to_check: true,
                ..page.clone()
            },
        ),
        (
            "list, last page",
            Query {
                offset: recipes - 50.min(recipes),
                ..page.clone()
            },
        ),
        (
            "search, one recipe",
            Query {
                words: "batch4321".to_owned(),
                ..page.clone()
            },
        ),
        (
            "search, two words of many",
            Query {
                words: "creme alm".to_owned(),
                ..page.clone()
            },
        ),
        (
            "search, one letter, all",
            Query {
                words: "b".to_owned(),
                ..page
            },
        ),
    ];
    for (what, query) in asked {
        let mut took = Vec::new();
        for _ in 0..100 {
            once(&mut took, || kitchen.list(&query))?;
        }
        say(what, took);
    }
    let (mut drafts, mut versions) = (Vec::new(), Vec::new());
    for n in 0..1000 {
        let id = i64::from(n * 37 % recipes) + 1;
        once(&mut drafts, || kitchen.draft(id))?;
        once(&mut versions, || kitchen.version(id, n % VERSIONS + 1))?;
    }
    say("draft", drafts);
    say("version, with figures", versions);
    Ok(())
}

fn writes(kitchen: &Kitchen, recipes: u32) -> Result<(), StoreError> {
    let (mut typed, mut pinned, mut saved, mut undone) =
        <(Vec<_>, Vec<_>, Vec<_>, Vec<_>)>::default();
    for n in 0..1000 {
        let id = i64::from(n * 7 % recipes) + 1;
        let mut draft = kitchen.draft(id)?;
        draft.sheet.text.push_str(" more");
        let said = summary(n, &draft.sheet);
        let rev = once(&mut typed, || {
            kitchen.put_draft(id, draft.rev, &draft.sheet, "type", "text", true, &said, 1)
        })?;
        draft.sheet.pins.push(Pin {
            component: String::new(),
            line: format!("water {rev}"),
            hold: recipe::rework::Hold::Grams(f64::from(n)),
        });
        let rev = once(&mut pinned, || {
            kitchen.put_draft(id, rev, &draft.sheet, "pin", "pin", false, &said, 1)
        })?;
        if n % 5 == 0 {
            let figures = figures(n, 99);
            once(&mut saved, || {
                kitchen.save_version(id, rev, "Maud", "more", &figures, "bench", 1)
            })?;
        }
        once(&mut undone, || {
            kitchen.walk(id, rev, Way::Undo, |sheet| summary(n, sheet), 1)
        })?;
    }
    say("put_draft, text", typed);
    say("put_draft, a decision", pinned);
    say("save_version", saved);
    say("undo", undone);
    Ok(())
}

fn whole(kitchen: &Kitchen, folder: &Path) -> Result<(), StoreError> {
    let copy = folder.join("kitchen-bench.db");
    drop(std::fs::remove_file(&copy));
    for (what, work) in [
        (
            "open again",
            &(|| Kitchen::open(folder).map(drop)) as &dyn Fn() -> Result<(), StoreError>,
        ),
        ("check", &|| kitchen.check()),
        ("tidy", &|| kitchen.tidy().map(drop)),
        ("backup", &|| kitchen.backup_to(&copy)),
    ] {
        let mut took = Vec::new();
        once(&mut took, work)?;
        say(what, took);
    }
    drop(std::fs::remove_file(&copy));
    Ok(())
}

fn text(n: u32, edit: u32) -> String {
    let dish = DISHES[n as usize % DISHES.len()];
    let mut text = format!("Harrow Lane {dish} batch{n}\n\nMakes {}\n\n", n % 20 + 4);
    for (line, food) in FOODS.iter().enumerate() {
        let grams = (n as usize * 31 + line * 17 + edit as usize) % 900;
        text.push_str(&format!("{grams} g {food}, sifted or soft as need be\n"));
    }
    for step in 0..8 {
        text.push_str(&format!(
            "{step}. Mix what was weighed, rest it for {} minutes, and look at it again.\n",
            n % 30 + step
        ));
    }
    text
}

fn sheet(n: u32, version: u32) -> Sheet {
    // The text changes now and then, the decisions with every version.
    let mut sheet = Sheet::new(text(n, version / 5), Locale::Metric);
    for line in 0..version.min(8) {
        sheet.lines.push(LineDecision {
            line: LineKey {
                component: String::new(),
                text: format!("{line} g {}", FOODS[line as usize]),
                nth: 0,
            },
            read_as: None,
            food: Some(FOODS[line as usize].to_owned()),
            foods: std::collections::BTreeMap::new(),
            grams: Some(f64::from(n % 500 + version) / 3.0),
            also: std::collections::BTreeMap::new(),
            accepted: vec!["old_measure".to_owned()],
        });
    }
    sheet
}

/// About as long as those of a whole rework: 30 kB.
fn figures(n: u32, version: u32) -> Value {
    let lines: Vec<Value> = (0..100)
        .map(|line| {
            let grams = f64::from(n % 1000 + line * 7 + version * (line % 9)) / 3.0;
            json!({
                "line": line, "text": format!("{grams:.0} g {}", FOODS[line as usize % 12]),
                "grams": grams, "low": grams * 0.93, "high": grams * 1.08, "basis": "weighed",
                "water": grams * 0.31, "fat": grams * 0.02, "protein": grams * 0.07,
                "source": "household table", "status": "common practice", "doubts": [],
            })
        })
        .collect();
    json!({"title": format!("batch{n}"), "lines": lines})
}

fn summary(n: u32, sheet: &Sheet) -> Summary {
    Summary {
        title: sheet.text.lines().next().unwrap_or_default().to_owned(),
        stage: "reworked".to_owned(),
        styles: vec![["lean_bread", "butter_cake", "choux"][n as usize % 3].to_owned()],
        to_check: n % 4,
        components: vec!["Dough".to_owned(), "Glaze".to_owned()],
        words: FOODS.join(" "),
    }
}

/// Takes recipes in as an archive brings them: all of them in one go.
fn fill(kitchen: &Kitchen, from: u32, to: u32) -> Result<(), StoreError> {
    let mut files = vec![(
        "kitchen.json".to_owned(),
        json!({
            "format": store::FORMAT, "format_version": store::FORMAT_VERSION,
            "settings": Settings::default()
        })
        .to_string(),
    )];
    for n in from..to {
        let versions: Vec<Value> = (1..=VERSIONS)
            .map(|v| {
                json!({
                    "number": v, "who": "Maud", "at": v, "why": format!("try {v}"),
                    "sheet": sheet(n, v), "figures": figures(n, v), "program": "bench",
                })
            })
            .collect();
        let draft = sheet(n, VERSIONS);
        let recipe = json!({
            "uid": format!("r{n}"), "original": text(n, 0), "who": "Maud", "created": n,
            "changed": n, "summary": summary(n, &draft), "draft": draft, "based_on": VERSIONS,
            "versions": versions,
        });
        files.push((format!("recipes/r{n}.json"), recipe.to_string()));
    }
    kitchen.import_files(files, 1).map(drop)
}
