//! What a change of an own entry changed, in words.

use super::form::{does, short};
use super::measure::{self, measure_words};
use larder::{EvidenceKind, Function, Label, OwnEntry, Price};
use quantity::Locale;
use recipe::shop::money;
use std::collections::BTreeSet;

/// What differs between two states of an entry, a sentence part each; nothing for no difference.
///
/// # Arguments
/// * `home` — in whose cups and spoons weights are told.
pub fn changes(before: Option<&OwnEntry>, after: Option<&OwnEntry>, home: Locale) -> Vec<String> {
    let (before, after) = match (before, after) {
        (_, None) => return vec!["built-in figures taken again".to_owned()],
        (before, Some(after)) => (before.cloned().unwrap_or_default(), after),
    };
    let (before, after) = (
        measure::weights(&before, home),
        &measure::weights(after, home),
    );
    let mut out = Vec::new();
    step(&mut out, "name", before.name.clone(), after.name.clone());
    step(
        &mut out,
        "other names",
        list(&before.also),
        list(&after.also),
    );
    let plain = |w: &Option<String>| {
        w.as_deref()
            .map(|w| Function::from_word(w).map_or_else(|| w.to_owned(), |f| does(f).to_owned()))
    };
    step(
        &mut out,
        "what it does",
        plain(&before.function),
        plain(&after.function),
    );
    let words: BTreeSet<&String> = before.weights.keys().chain(after.weights.keys()).collect();
    for word in words {
        let grams = |e: &OwnEntry| e.weights.get(word).map(|g| format!("{g} g"));
        step(
            &mut out,
            &measure_words(word, home),
            grams(&before),
            grams(after),
        );
    }
    label(&mut out, before.label.as_ref(), after.label.as_ref());
    step(
        &mut out,
        "gluten",
        before.gluten.as_ref().map(larder::Evidence::words),
        after.gluten.as_ref().map(larder::Evidence::words),
    );
    step(
        &mut out,
        "allergens",
        list(&before.allergens),
        list(&after.allergens),
    );
    let read = |e: &OwnEntry| e.read_through.as_ref().map(larder::ReadThrough::words);
    step(&mut out, "allergens, label", read(&before), read(after));
    step(
        &mut out,
        "price",
        before.price.as_ref().map(price),
        after.price.as_ref().map(price),
    );
    let packs = |e: &OwnEntry| {
        let all: Vec<String> = e.packs.iter().map(price).collect();
        (!all.is_empty()).then(|| all.join("; "))
    };
    step(&mut out, "other packs", packs(&before), packs(after));
    let stock = |e: &OwnEntry| {
        let s = e.stock.as_ref()?;
        Some(format!("{} g on {}", short(s.grams), s.date))
    };
    step(&mut out, "in stock", stock(&before), stock(after));
    let trim = |e: &OwnEntry| e.trim.map(|t| format!("{t} %"));
    step(&mut out, "thrown away", trim(&before), trim(after));
    let note = |e: &OwnEntry| Some(e.note.trim().to_owned()).filter(|n| !n.is_empty());
    step(&mut out, "note", note(&before), note(after));
    out
}

fn step(out: &mut Vec<String>, what: &str, before: Option<String>, after: Option<String>) {
    match (before, after) {
        (Some(a), Some(b)) if a != b => out.push(format!("{what}: {a} → {b}")),
        (None, Some(b)) => out.push(format!("{what}: {b}")),
        (Some(a), None) => out.push(format!("{what}: {a}, taken out")),
        _ => {}
    }
}

fn list(words: &[String]) -> Option<String> {
    (!words.is_empty()).then(|| words.join(", ").replace('_', " "))
}

fn label(out: &mut Vec<String>, before: Option<&Label>, after: Option<&Label>) {
    let none = Label::default();
    let (a, b) = (before.unwrap_or(&none), after.unwrap_or(&none));
    for (what, x, y) in [
        ("water", a.water, b.water),
        ("protein", a.protein, b.protein),
        ("fat", a.fat, b.fat),
        ("carbohydrate", a.carbohydrate, b.carbohydrate),
        ("fibre", a.fibre, b.fibre),
        ("sugars", a.sugars, b.sugars),
    ] {
        let grams = |v: Option<f64>| v.map(|v| format!("{v} g"));
        step(out, &format!("label, {what}"), grams(x), grams(y));
    }
    if before.is_some() && after.is_some() && a.with_fibre != b.with_fibre {
        out.push(if b.with_fibre {
            "label: its carbohydrate counts fibre".to_owned()
        } else {
            "label: its carbohydrate leaves fibre out".to_owned()
        });
    }
}

/// A price in words.
pub fn price(p: &Price) -> String {
    let grams = format!("{} g", short(p.pack_grams));
    let pack = if p.pack.is_empty() {
        grams
    } else {
        format!("{} ({grams})", p.pack)
    };
    format!(
        "{} for {pack} on {}",
        money::amount(&p.currency, p.amount),
        p.date
    )
}

/// The word of a kind of evidence in forms.
pub fn kind_word(kind: EvidenceKind) -> &'static str {
    match kind {
        EvidenceKind::Labelled => "labelled",
        EvidenceKind::Certificate => "certificate",
        EvidenceKind::Test { .. } => "test",
        EvidenceKind::NamesGluten => "names_gluten",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use larder::Evidence;

    #[test]
    fn differences_in_words() {
        let mut a = OwnEntry {
            key: "sorghum_flour".to_owned(),
            ..OwnEntry::default()
        };
        a.weights.insert("cup".to_owned(), 120.0);
        a.weights.insert("tsp".to_owned(), 2.5);
        assert_eq!(
            changes(None, Some(&a), Locale::Us),
            ["US cup: 120 g", "US teaspoon: 2.5 g"]
        );
        let mut b = a.clone();
        b.weights.insert("cup".to_owned(), 124.5);
        b.weights.remove("tsp");
        b.label = Some(Label {
            protein: Some(9.0),
            ..Label::default()
        });
        b.gluten = Some(Evidence {
            kind: EvidenceKind::Labelled,
            date: "2026-11-25".to_owned(),
            note: "lot 4".to_owned(),
        });
        b.price = Some(Price {
            pack_grams: 1000.0,
            amount: 4.2,
            currency: "EUR".to_owned(),
            date: "2026-11-25".to_owned(),
            pack: String::new(),
        });
        assert_eq!(
            changes(Some(&a), Some(&b), Locale::Us),
            [
                "US cup: 120 g → 124.5 g",
                "US teaspoon: 2.5 g, taken out",
                "label, protein: 9 g",
                "gluten: label says gluten-free, read on 2026-11-25: lot 4",
                "price: 4.20 EUR for 1000 g on 2026-11-25",
            ]
        );
        assert!(changes(Some(&b), Some(&b), Locale::Us).is_empty());
        assert_eq!(
            changes(Some(&b), None, Locale::Us),
            ["built-in figures taken again"]
        );
    }
}
