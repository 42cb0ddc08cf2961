//! Inputs that cannot be worked with, or only with doubts.

use crate::run::{files, names_a_place, root, unwheat, with_input};
use std::time::{Duration, Instant};

/// What `cases/bad/README.md` says must come of a file.
fn outcome(file: &str, readme: &str) -> Option<String> {
    let name = file.rsplit('/').next()?;
    readme.lines().find_map(|line| {
        let mut cells = line.split('|').map(str::trim).skip(1);
        (cells.next()? == name).then(|| cells.next().unwrap_or_default().to_owned())
    })
}

/// Refused with place and advice, or worked with a doubt on the screen.
#[test]
fn every_bad_case_is_refused_or_doubted() {
    let readme = std::fs::read_to_string(root().join("cases/bad/README.md")).expect("the README");
    let mut seen = 0;
    for file in files("cases/bad") {
        if file.ends_with("README.md") {
            continue;
        }
        let outcome = outcome(&file, &readme);
        assert!(outcome.is_some(), "{file} is not in cases/bad/README.md");
        let outcome = outcome.unwrap_or_default();
        for command in ["weigh", "rework", "screen"] {
            let ran = unwheat(&[command, &file]);
            if ran.code == 0 {
                assert_ne!(outcome, "refuse", "{command} {file} was accepted");
                assert_eq!(ran.err, "", "{command} {file}");
                let json = unwheat(&[command, "--json", &file]).json();
                let doubts = json["doubts"].as_array().map_or(0, Vec::len);
                assert!(
                    outcome == "accept" || doubts > 0 || command == "screen",
                    "{command} {file}: worked without a doubt"
                );
            } else {
                let said = ran.refused();
                assert!(names_a_place(&said), "{command} {file}: no place: {said}");
                assert!(said.contains(&file), "{said}");
            }
            seen += 1;
        }
    }
    assert!(seen >= 50, "{seen}");
}

#[track_caller]
fn refused_at(text: &str, place: &str) {
    let said = with_input(&["weigh"], text.as_bytes()).refused();
    assert!(said.contains(place), "{text:?}: {said}");
    assert!(said.contains("standard input"), "{said}");
}

#[test]
fn places_are_counted_from_one_in_lines_and_characters() {
    refused_at(
        "Cake\n\n100 g butter\n1e300 g flour\n",
        "line 4, column 1: '1e300 g'",
    );
    refused_at("1/0 cup flour\n100 g butter\n", "line 1, column 1");
    refused_at("", "line 1, column 1");
    let mut bytes = "½ cup sugar\n½ cup é".as_bytes().to_vec();
    bytes.push(0xff);
    let said = with_input(&["weigh"], &bytes).refused();
    assert!(said.contains("line 2, column 8"), "{said}");
}

/// No number, however long, becomes infinity, a panic or a weight.
#[test]
fn numbers_beyond_any_kitchen() {
    let nines = "9".repeat(400);
    let mut lines = Vec::new();
    for number in [
        "1e300",
        "1e308",
        "1e400",
        "-1e300",
        "99999999999999999999",
        "1/0",
        "0/0",
        "0.0000000000000000000001",
        "1 1/0",
        "1e-300",
        "NaN",
        "inf",
        nines.as_str(),
    ] {
        for unit in ["g", "cups", "kg", "", "x 400 g tins"] {
            lines.push(format!("{number} {unit} flour"));
        }
    }
    let out = with_input(&["weigh", "--lines", "--json"], lines.join("\n").as_bytes()).done();
    assert_eq!(out.lines().count(), lines.len());
    for (line, said) in lines.iter().zip(out.lines()) {
        let json: serde_json::Value = serde_json::from_str(said).expect("JSON");
        let grams = &json["grams"]["likely"];
        assert!(
            grams.is_null() || grams.as_f64().is_some_and(|g| (0.0..1e9).contains(&g)),
            "{line}: {json}"
        );
        if line.contains(" cups ") {
            with_input(
                &["rework"],
                format!("Cake\n\n{line}\n100 g butter\n").as_bytes(),
            );
        }
    }
}

/// Ten megabytes are answered in seconds: refused as one recipe, weighed as lines.
#[test]
fn ten_megabytes() {
    let mut text = String::with_capacity(10_000_100);
    while text.len() < 10_000_000 {
        text.push_str("250 g plain flour and so on and so forth, sifted\n");
    }
    let start = Instant::now();
    let said = with_input(&["rework"], text.as_bytes()).refused();
    assert!(names_a_place(&said) && said.contains("MB"), "{said}");
    assert!(start.elapsed() < Duration::from_secs(10));
    // One line of ten megabytes, and ten megabytes of nothing but brackets.
    let one = text.replace('\n', " ");
    with_input(&["weigh"], one.as_bytes()).refused();
    with_input(&["weigh"], "(".repeat(10_000_000).as_bytes()).refused();
    with_input(&["weigh"], "<".repeat(10_000_000).as_bytes()).refused();
}

/// Long lines below the limit of size may not take long either.
#[test]
fn one_very_long_line_is_read_in_time() {
    for piece in [
        "1 cup flour, ",
        "(",
        "1/2 ",
        "flour ",
        "½",
        "1-",
        "<b>",
        "&amp;",
        "é",
    ] {
        let text = piece.repeat(60_000 / piece.len());
        let start = Instant::now();
        let ran = with_input(&["weigh"], text.as_bytes());
        assert!(matches!(ran.code, 0 | 1), "{piece}: {}", ran.code);
        let took = start.elapsed();
        assert!(took < Duration::from_secs(20), "{piece:?} took {took:?}");
    }
}

/// The same among other lines, where it is also shown.
#[test]
fn one_long_word_is_shown_in_time() {
    for piece in ["½", "1/2", "flour", "é"] {
        let word = piece.repeat(8_000 / piece.len());
        let text = format!("Cake\n\n250 g flour\n{word}\n100 g butter\n");
        let start = Instant::now();
        let ran = with_input(&["read"], text.as_bytes());
        assert_eq!(ran.code, 0, "{piece}: {}", ran.err);
        let took = start.elapsed();
        assert!(took < Duration::from_secs(5), "{piece:?} took {took:?}");
    }
}

#[test]
fn a_path_that_cannot_be_read() {
    let said = unwheat(&["weigh", "no/such/file.txt"]).refused();
    assert!(said.contains("no/such/file.txt"), "{said}");
    let said = unwheat(&["read", "examples"]).refused();
    assert!(said.contains("examples"), "{said}");
    let said = unwheat(&["hydration", "no-such.json"]).refused();
    assert!(said.contains("no-such.json"), "{said}");
    let said = unwheat(&[
        "rework",
        "examples/sunday-pancakes.txt",
        "--card",
        "no/such/folder/card.html",
    ]);
    assert_eq!(said.code, 1, "{}", said.err);
    assert!(
        said.err.contains("no/such/folder/card.html"),
        "{}",
        said.err
    );
}

/// Every prefix of a page and of a recipe is answered, whatever it breaks off in.
#[test]
fn what_breaks_off_is_answered() {
    for file in [
        "cases/good/web/03_graph.html",
        "examples/ginger-crumb-cheesecake.txt",
    ] {
        let bytes = std::fs::read(root().join(file)).expect("the case");
        for end in (0..bytes.len()).step_by(bytes.len() / 12 + 1) {
            let ran = with_input(&["rework"], &bytes[..end]);
            assert!(matches!(ran.code, 0 | 1), "{file} to {end}: {}", ran.err);
            if ran.code == 1 {
                assert!(names_a_place(&ran.refused()), "{file} to {end}");
            }
        }
    }
}

/// A whole book in one file is refused in time, by every command.
#[test]
fn a_book_is_refused_in_time() {
    let inputs = [
        format!("Book\n\n{}", "A:\n1 g butter\n".repeat(8_000)),
        format!("Book\n\n{}", "flour\n".repeat(20_000)),
        format!(
            "Book\n\n1 cup flour\n\nMethod\n{}",
            "1. Mix well.\n".repeat(10_000)
        ),
    ];
    for text in &inputs {
        for command in ["weigh", "screen", "rework"] {
            let start = Instant::now();
            let said = with_input(&[command], text.as_bytes()).refused();
            assert!(
                names_a_place(&said) && said.contains("one recipe"),
                "{said}"
            );
            let took = start.elapsed();
            assert!(took < Duration::from_secs(60), "{command} took {took:?}");
        }
    }
}
