//! Packs the USDA SR28 tables of `data/sr28` into one block that is read without parsing.
//!
//! Layout (little-endian; `reader` in `src/sr28.rs` is its other half):
//! magic `SR28`, then six u32: foods n, columns c, and the byte lengths of the five parts below
//! but the last. Parts: (1) n × u32 NDB number, ascending; (2) n + 1 × u32 offsets into part 5's
//! text of each food; (3) n + 1 × u32 offsets into part 6; (4) n + 1 × u32 offsets into part 7;
//! (5) text: description, 0x1F, common name, 0x1F, group; (6) nutrients: a bitmap of ⌈c/8⌉ bytes
//! saying which columns are reported, then their values × 1000 as LEB128 numbers; (7) portions:
//! amount × 1000, grams × 1000 and the unit's place in the unit list; (8) unit list, split by
//! 0x1F.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::disallowed_methods,
    reason = "a build script reads files, and stops the build by panicking"
)]

use std::{collections::BTreeMap, env, fs, path::Path};

fn main() {
    println!("cargo:rerun-if-changed=data/sr28");
    println!("cargo:rerun-if-changed=build.rs");
    let foods = read("data/sr28/foods.csv");
    let nutrients = read("data/sr28/nutrients.csv");
    let portions = read("data/sr28/portions.csv");

    let mut units: Vec<String> = Vec::new();
    let mut packed_portions: BTreeMap<u32, Vec<u8>> = BTreeMap::new();
    for row in &portions.1 {
        let unit = units.iter().position(|u| *u == row[3]).unwrap_or_else(|| {
            units.push(row[3].clone());
            units.len() - 1
        });
        let out = packed_portions.entry(row[0].parse().unwrap()).or_default();
        number(out, thousandths(&row[2]));
        number(out, thousandths(&row[4]));
        number(out, unit as u64);
    }
    // Foods' own numbers (refuse, factors) follow the nutrients as further columns.
    let extra: BTreeMap<u32, &Vec<String>> =
        foods.1.iter().map(|r| (r[0].parse().unwrap(), r)).collect();
    let columns = nutrients.0.len() - 1 + 5;
    let mut rows: Vec<&Vec<String>> = nutrients.1.iter().collect();
    rows.sort_by_key(|r| r[0].parse::<u32>().unwrap());

    let (mut ndb, mut text_at, mut nutrient_at, mut portion_at) =
        (vec![], vec![0u32], vec![0u32], vec![0u32]);
    let (mut text, mut values, mut measures) = (Vec::new(), Vec::new(), Vec::new());
    for row in rows {
        let key: u32 = row[0].parse().unwrap();
        let food = extra[&key];
        ndb.push(key);
        text.extend_from_slice(format!("{}\x1f{}\x1f{}", food[2], food[3], food[1]).as_bytes());
        let cells: Vec<&String> = row[1..].iter().chain(&food[4..9]).collect();
        assert_eq!(cells.len(), columns);
        let mut bitmap = vec![0u8; columns.div_ceil(8)];
        let mut numbers = Vec::new();
        for (i, cell) in cells.iter().enumerate().filter(|(_, c)| !c.is_empty()) {
            bitmap[i / 8] |= 1 << (i % 8);
            number(&mut numbers, thousandths(cell));
        }
        values.extend_from_slice(&bitmap);
        values.extend_from_slice(&numbers);
        if let Some(p) = packed_portions.get(&key) {
            measures.extend_from_slice(p);
        }
        text_at.push(text.len() as u32);
        nutrient_at.push(values.len() as u32);
        portion_at.push(measures.len() as u32);
    }

    let mut block = b"SR28".to_vec();
    for n in [ndb.len(), columns, text.len(), values.len(), measures.len()] {
        block.extend_from_slice(&(n as u32).to_le_bytes());
    }
    for list in [&ndb, &text_at, &nutrient_at, &portion_at] {
        for n in list {
            block.extend_from_slice(&n.to_le_bytes());
        }
    }
    for part in [text, values, measures, units.join("\x1f").into_bytes()] {
        block.extend_from_slice(&part);
    }
    let out = Path::new(&env::var("OUT_DIR").unwrap()).join("sr28.bin");
    fs::write(out, block).unwrap();
}

/// A CSV file's header and rows.
fn read(path: &str) -> (Vec<String>, Vec<Vec<String>>) {
    let mut reader = csv::Reader::from_path(path).unwrap();
    let strings = |r: &csv::StringRecord| r.iter().map(str::to_owned).collect::<Vec<_>>();
    let header = strings(reader.headers().unwrap());
    (
        header,
        reader.records().map(|r| strings(&r.unwrap())).collect(),
    )
}

/// A decimal with up to three places as whole thousandths, exactly.
fn thousandths(cell: &str) -> u64 {
    let (whole, part) = cell.split_once('.').unwrap_or((cell, ""));
    assert!(part.len() <= 3, "more than three decimals: {cell}");
    let whole: u64 = if whole.is_empty() {
        0
    } else {
        whole.parse().unwrap()
    };
    whole * 1000 + format!("{part:0<3}").parse::<u64>().unwrap()
}

/// LEB128, seven bits a byte.
fn number(out: &mut Vec<u8>, mut n: u64) {
    while n >= 0x80 {
        out.push((n as u8 & 0x7f) | 0x80);
        n >>= 7;
    }
    out.push(n as u8);
}
