//! The project's tables of gates, gluten classes and allergens.

use super::{class, has, larder, of};
use larder::allergen::{Regime, declared};
use larder::{Allergen, Certainty, Gluten};
use quantity::Locale;
use recipe::screen::{Entry, lines};

/// Source: the project's checks, section I, 'Gluten gate fixtures'.
///
/// DEPARTURE: `check` here, free there, because sources differ and the more careful is taken:
/// maltodextrin, active dry yeast, caramel colour, distilled vinegar's like are marked so.
#[test]
fn gate_fixtures() {
    use Gluten::{Check, Contains, Free};
    for (words, expected, departure) in [
        ("malted milk powder", Contains, ""),
        ("barley malt syrup", Contains, ""),
        (
            "maltodextrin",
            Free,
            "DEPARTURE: the gluten table says check, wheat dextrin",
        ),
        ("soy sauce", Contains, ""),
        (
            "tamari, labelled gluten-free",
            Free,
            "DEPARTURE: settled by its label, but kept as check",
        ),
        ("black licorice", Contains, ""),
        ("brewer's yeast", Contains, ""),
        (
            "active dry yeast",
            Free,
            "DEPARTURE: some dried lots are grown or cut with wheat",
        ),
        ("glutinous rice flour", Free, ""),
        ("buckwheat flour", Check, ""),
        ("corn gluten meal", Free, ""),
        ("wheat starch", Contains, ""),
        ("spelt", Contains, ""),
        ("rolled oats", Check, ""),
        (
            "gluten-free rolled oats",
            Free,
            "DEPARTURE: stays check, with the oats note",
        ),
        (
            "caramel colour",
            Free,
            "DEPARTURE: the gluten table says check",
        ),
        ("graham crackers", Contains, ""),
        ("panko", Contains, ""),
        ("baking spray with flour", Contains, ""),
        ("self-rising flour", Contains, ""),
        ("cream of tartar", Free, ""),
        ("cornflour", Free, ""),
        ("soba noodles", Contains, ""),
        ("couscous", Contains, ""),
        ("cocoa powder", Free, ""),
        ("sprinkles", Check, ""),
        ("beer", Contains, ""),
        ("distilled vinegar", Free, ""),
        ("malt vinegar", Contains, ""),
        ("blue cheese", Check, ""),
        ("imitation crab", Check, ""),
    ] {
        let found = class(words);
        if departure.is_empty() {
            assert_eq!(found, expected, "{words}");
        } else {
            assert_eq!(found, Check, "{words}: {departure}");
        }
    }
    // Coconut: no US allergen, still named; hazelnut: a tree nut.
    let s = of("100 g coconut flour\n100 g hazelnuts");
    let us = s.statement(Regime::Us);
    assert_eq!(us.contains, ["hazelnut"]);
    assert!(us.notes.iter().any(|n| n.starts_with("coconut")));
}

/// Each body of law names the same set in its own words.
#[test]
fn one_set_four_statements() {
    let s = of("100 g plain flour\n50 g rye flour\n50 g mustard\n100 g dark chocolate");
    let says = |r: Regime| s.statement(r).contains;
    assert_eq!(says(Regime::Us), ["wheat", "soybean"]);
    let eu = says(Regime::Eu);
    assert!(
        eu.contains(&"cereals containing gluten: rye".to_owned()),
        "{eu:?}"
    );
    assert!(eu.contains(&"mustard".to_owned()), "{eu:?}");
    let ca = says(Regime::Ca);
    for w in ["wheat", "gluten (wheat)", "gluten (rye)", "mustard"] {
        assert!(ca.contains(&w.to_owned()), "{w}: {ca:?}");
    }
    let anz = says(Regime::Anz);
    assert_eq!(anz.iter().filter(|w| *w == "gluten").count(), 1, "{anz:?}");
    let check = s.statement(Regime::Us).check;
    assert!(
        check
            .iter()
            .any(|c| c.starts_with("milk: dark chocolate (check the label)")),
        "{check:?}"
    );
}

#[test]
fn a_word_for_another_product_is_not_a_label() {
    // One ingredient's label is not the other's.
    let s = of("100 g gluten-free panko and 2 tbsp soy sauce");
    assert_eq!(s.verdict, Gluten::Contains, "{:#?}", s.findings);
    // Wheat starch in a labelled blend is still wheat.
    let s = of("100 g gluten-free flour blend (contains wheat starch)");
    assert_eq!(has(&s, Allergen::Wheat), Some(true));
    assert!(!s.can_say_gluten_free);
}

/// The cells of a comma-separated line, quotes read.
fn cells(line: &str) -> Vec<String> {
    let (mut out, mut cell, mut quoted) = (Vec::new(), String::new(), false);
    for c in line.chars() {
        match c {
            '"' => quoted = !quoted,
            ',' if !quoted => out.push(std::mem::take(&mut cell)),
            c => cell.push(c),
        }
    }
    out.push(cell);
    out
}

fn table(text: &str) -> Vec<Vec<String>> {
    text.lines()
        .filter(|l| !l.starts_with('#'))
        .skip(1)
        .map(cells)
        .collect()
}

/// Names in a table's first cell: the whole, and the parts between commas, slashes, brackets.
fn names(cell: &str) -> Vec<String> {
    let mut out = vec![cell.to_owned()];
    out.extend(
        cell.split([',', '/', '(', ')', ':', ';'])
            .map(|p| p.trim().to_owned())
            .filter(|p| !p.is_empty()),
    );
    out.dedup();
    out
}

/// Our class must not be milder than the table's for any name the larder knows for sure.
#[test]
fn gluten_classes_are_never_milder_than_the_table() {
    let larder = larder();
    // DEPARTURE: names the table means otherwise than its words, or on which its rows disagree.
    let departures = [
        (
            "wheatgrass powder with grain",
            "DEPARTURE: the larder's is the grass alone, check in the table's own reason",
        ),
        (
            "grits",
            "DEPARTURE: barley grits in that row; alone the word means maize grits",
        ),
        (
            "cream cheese/yoghurt with fillings",
            "DEPARTURE: plain cream cheese is free in another row",
        ),
        ("cream cheese", "DEPARTURE: the row is about filled ones"),
        (
            "yoghurt with fillings",
            "DEPARTURE: what stands behind 'with' is a line item of its own",
        ),
        (
            "flax",
            "DEPARTURE: the row is about open bins; free in another row",
        ),
        (
            "distilled vinegar / spirits (whisky, gin)",
            "DEPARTURE: rows disagree; plain spirit vinegar is free in another row and in the fixtures of section I",
        ),
        (
            "distilled vinegar",
            "DEPARTURE: as above; spirits themselves are check here",
        ),
        (
            "tapioca",
            "DEPARTURE: the row is about mills that mill wheat; free in another row",
        ),
    ];
    let (mut compared, mut milder) = (0, Vec::new());
    for row in table(include_str!("../../../../checks/gluten_ingredients.csv")) {
        let expected = match row[1].as_str() {
            "contains gluten" => Gluten::Contains,
            "may contain - check label" => Gluten::Check,
            "gluten-free by nature" => Gluten::Free,
            other => unreachable!("class {other}"),
        };
        for name in names(&row[0]) {
            let Some(m) = larder.find(&name, Locale::Us) else {
                continue;
            };
            if m.certainty != Certainty::Sure {
                continue;
            }
            compared += 1;
            let s = lines([Entry::new(&name, m.food, None)], larder, None);
            if s.verdict > expected && !departures.iter().any(|d| d.0 == name) {
                milder.push(format!(
                    "{name} ({}): {:?}, table {expected:?}",
                    row[0], s.verdict
                ));
            }
        }
    }
    assert!(
        milder.is_empty(),
        "{compared} compared; milder:\n{}",
        milder.join("\n")
    );
    assert!(compared > 150, "{compared} compared");
}

/// Allergens named in a cell of the table.
fn listed(cell: &str) -> Vec<Allergen> {
    use Allergen as A;
    let words = [
        ("wheat", A::Wheat),
        ("rye", A::Rye),
        ("barley", A::Barley),
        ("oats", A::Oats),
        ("egg", A::Egg),
        ("milk", A::Milk),
        ("soy", A::Soy),
        ("peanut", A::Peanut),
        ("almond", A::Almond),
        ("hazelnut", A::Hazelnut),
        ("walnut", A::Walnut),
        ("cashew", A::Cashew),
        ("pecan", A::Pecan),
        ("brazil nut", A::BrazilNut),
        ("pistachio", A::Pistachio),
        ("macadamia", A::Macadamia),
        ("pine nut", A::PineNut),
        ("sesame", A::Sesame),
        ("mustard", A::Mustard),
        ("celery", A::Celery),
        ("lupin", A::Lupin),
        ("sulphite", A::Sulphites),
        ("sulfiting", A::Sulphites),
        ("fish +", A::Fish),
        ("crustacean", A::Crustacean),
        ("mollusc", A::Mollusc),
    ];
    // 'none (legume; peanut-allergic caution)': a remark, not a listed allergen.
    let cell = cell
        .to_lowercase()
        .replace("(legume; peanut-allergic caution)", "");
    let mut out = Vec::new();
    for part in cell.split("; ") {
        let part = part.trim();
        if part.starts_with("none") || part.starts_with("exempt") || part.starts_with("assess") {
            continue;
        }
        if part == "fish" || part.starts_with("fish (") {
            out.push(A::Fish);
        }
        out.extend(
            words
                .iter()
                .filter(|(w, _)| part.contains(w))
                .map(|(_, a)| *a),
        );
    }
    out
}

/// Every allergen the table lists for a body of law must be found by us, for sure or as a thing
/// to check; ours may be more.
#[test]
fn allergens_against_the_table() {
    let larder = larder();
    // DEPARTURE: where ours lists less.
    let departures = [(
        "salt",
        "DEPARTURE: celery salt in that row; table salt alone",
    )];
    // DEPARTURE: where ours lists more, which only errs on the careful side.
    let more_by_us = [
        ("triticale flour", "wheat and rye named beside triticale"),
        (
            "almond extract",
            "the words do not say whether it is made of kernels or almonds",
        ),
        (
            "black walnuts",
            "Annex II names one walnut species, readers mean all",
        ),
        ("butter", "sunflower butter in that row"),
    ];
    let (mut compared, mut missing, mut more) = (0, Vec::new(), Vec::new());
    for row in table(include_str!("../../../../checks/allergens.csv")) {
        for name in names(&row[0]) {
            let Some(m) = larder.find(&name, Locale::Us) else {
                continue;
            };
            if m.certainty != Certainty::Sure || departures.iter().any(|d| d.0 == name) {
                continue;
            }
            compared += 1;
            let s = lines([Entry::new(&name, m.food, None)], larder, None);
            for (regime, cell) in [Regime::Us, Regime::Eu, Regime::Ca, Regime::Anz]
                .into_iter()
                .zip(&row[1..])
            {
                let expected = listed(cell);
                for a in &expected {
                    if has(&s, *a).is_none() || declared(*a, regime).is_none() {
                        missing.push(format!("{name} ({}) {}: {a:?}", row[0], regime.word()));
                    }
                }
                for f in s.allergens.iter().filter(|f| f.certain) {
                    let known = more_by_us.iter().any(|d| name.starts_with(d.0));
                    if !known
                        && declared(f.allergen, regime).is_some()
                        && !expected.contains(&f.allergen)
                    {
                        more.push(format!(
                            "{name} ({}) {}: {:?}",
                            row[0],
                            regime.word(),
                            f.allergen
                        ));
                    }
                }
            }
        }
    }
    assert!(
        more.is_empty(),
        "{compared} compared; ours lists more:\n{}",
        more.join("\n")
    );
    assert!(
        missing.is_empty(),
        "{compared} compared; missing:\n{}",
        missing.join("\n")
    );
    assert!(compared > 120, "{compared} compared");
}
