//! What a person sees: width, escape codes.

use crate::run::{examples, files, locale_of, run, unwheat};
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
        for command in ["read", "weigh", "screen", "rework"] {
            let ran = unwheat(&[command, &file, "--locale", locale]);
            fits(&ran.what, &ran.out);
        }
    }
    for command in ["read", "weigh", "screen", "rework", "hydration", "help"] {
        fits(command, &unwheat(&[command, "--help"]).out);
    }
}

/// Neither a pipe nor NO_COLOR may bring escape codes.
#[test]
fn no_escape_codes_in_a_pipe() {
    let file = "examples/apricot-almond-buns.txt";
    let settings: [&[(&str, &str)]; 3] = [&[], &[("NO_COLOR", "1")], &[("TERM", "xterm-256color")]];
    for setting in settings {
        for command in ["read", "weigh", "screen", "rework"] {
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
