//! What a person sees: width, escape codes.

use crate::run::{examples, files, locale_of, root, run, unwheat, with_input};
use unicode_width::UnicodeWidthStr;

#[track_caller]
fn fits(what: &str, text: &str) {
    for (i, line) in text.lines().enumerate() {
        let width = line.width();
        assert!(
            width <= 80,
            "{what}, line {}: {width} columns: {line}",
            i + 1
        );
    }
}

#[test]
fn every_line_fits_80_columns() {
    let mut inputs: Vec<(String, &str)> = examples()
        .into_iter()
        .map(|e| {
            let locale = locale_of(&e);
            (e, locale)
        })
        .collect();
    inputs.extend(
        files("cases/good/web")
            .into_iter()
            .filter(|f| f.ends_with(".html"))
            .map(|f| (f, "us")),
    );
    inputs.extend(
        files("cases/good")
            .into_iter()
            .filter(|f| f.ends_with(".txt"))
            .map(|f| (f, "uk")),
    );
    for (file, locale) in inputs {
        for command in ["read", "weigh", "screen", "rework", "size", "shop"] {
            let ran = unwheat(&[command, &file, "--locale", locale]);
            fits(&ran.what, &ran.out);
        }
    }
    fits("size --pans", &unwheat(&["size", "--pans"]).done());
    for command in [
        "read",
        "weigh",
        "screen",
        "rework",
        "size",
        "shop",
        "hydration",
        "help",
    ] {
        fits(command, &unwheat(&[command, "--help"]).out);
    }
    for formula in files("examples").iter().filter(|f| f.ends_with(".json")) {
        fits(formula, &unwheat(&["hydration", formula]).done());
    }
    // Every known line, alone: names, sources and doubts of all kinds.
    let rows = std::fs::read_to_string(root().join("cases/lines/known.tsv")).expect("the cases");
    let lines: Vec<&str> = rows
        .lines()
        .skip(1)
        .filter_map(|r| r.split('\t').next())
        .collect();
    let out = with_input(&["weigh", "--lines"], lines.join("\n").as_bytes()).done();
    fits("weigh --lines", &out);
}

/// Names and headings of any width are broken or cut, not run over the edge.
#[test]
fn long_names_fit_too() {
    let long = "extraordinarily-long-unbroken-ingredient-name-of-a-hundred-letters-and-more-that-nobody-would-ever-type-but-somebody-pastes";
    let wide = "全粒粉の長い名前".repeat(12);
    for name in [long, wide.as_str()] {
        let text = format!(
            "{name}\n\nFor the {name}:\n250 g plain flour\n100 g {name}\n100 g butter\n\nMethod\n1. Mix the {name} in and bake at 180 °C for 20 minutes.\n"
        );
        for command in ["read", "weigh", "screen", "rework", "shop"] {
            let ran = with_input(&[command], text.as_bytes());
            fits(&ran.what, &ran.out);
        }
    }
}

/// Neither a pipe nor NO_COLOR may bring escape codes.
#[test]
fn no_escape_codes_in_a_pipe() {
    let file = "examples/apricot-almond-buns.txt";
    let settings: [&[(&str, &str)]; 3] = [&[], &[("NO_COLOR", "1")], &[("TERM", "xterm-256color")]];
    for setting in settings {
        for command in ["read", "weigh", "screen", "rework", "shop"] {
            let ran = run(&[command, file], b"", setting);
            assert!(!ran.out.contains('\u{1b}'), "{command} {setting:?}");
        }
        let ran = run(&["rework", file, "--style", "x"], b"", setting);
        assert!(!ran.err.contains('\u{1b}'), "{setting:?}: {:?}", ran.err);
    }
}

/// What is pasted may hold escape codes; they may not reach the terminal.
#[test]
fn escape_codes_of_the_text_do_not_reach_the_terminal() {
    let text = "Cake\n\n250 g \u{1b}[31mflour\u{1b}[0m\n100 g butter\u{7}\n";
    for command in ["read", "weigh", "screen", "rework"] {
        let ran = run(&[command], text.as_bytes(), &[]);
        assert!(
            !ran.out.contains(['\u{1b}', '\u{7}']) && !ran.err.contains(['\u{1b}', '\u{7}']),
            "{command}: {:?}{:?}",
            ran.out,
            ran.err
        );
    }
}

/// The words that are never said, on any screen of any example.
#[test]
fn no_promise_is_made() {
    for file in examples() {
        for command in ["screen", "rework"] {
            let out = unwheat(&[command, &file, "--locale", locale_of(&file)]).done();
            let low = out.to_lowercase();
            for word in [
                "safe for",
                "coeliac-safe",
                "celiac-safe",
                "suitable for coeliac",
            ] {
                assert!(!low.contains(word), "{command} {file}: '{word}'");
            }
        }
    }
}

/// °F stands beside every °C of a US kitchen, and none in a British one.
#[test]
fn sizes_and_shapes_are_told_in_the_kitchens_degrees() {
    let tart = "examples/leek-and-cheddar-tart.txt";
    let size = |locale| vec!["size", tart, "--times", "2", "--locale", locale];
    let layers = "shape layers --across 20cm --cake 6cm --filling 5mm";
    for (args, us) in [
        (size("us"), true),
        (size("uk"), false),
        (layers.split(' ').collect(), true),
    ] {
        let told = unwheat(&args).done();
        let told: Vec<&str> = told.split_whitespace().collect();
        let told = told.join(" ").replace('\u{a0}', " ");
        assert!(told.contains("°C"), "{told}");
        let before: Vec<&str> = told.split("°C").collect();
        for words in &before[..before.len() - 1] {
            let figure = words.trim_end_matches(|c: char| c.is_ascii_digit() || "–− ".contains(c));
            let beside = figure.ends_with("°F /") || figure.ends_with("°F (");
            assert_eq!(beside, us, "{args:?}: …{figure}");
        }
    }
}
