//! Help and wrong usage.

use crate::run::{unwheat, with_input};

const COMMANDS: &[&str] = &[
    "read",
    "weigh",
    "screen",
    "rework",
    "size",
    "shop",
    "blend",
    "leaven",
    "shape",
    "heat",
    "plan",
    "hydration",
    "evidence",
];

#[test]
fn every_command_helps_with_an_example() {
    let all = unwheat(&["--help"]).done();
    for command in COMMANDS {
        assert!(all.contains(command), "{all}");
        let help = unwheat(&[command, "--help"]).done();
        assert!(help.contains("Example"), "{command}: {help}");
        assert!(
            help.contains(&format!("unwheat {command} "))
                || help.contains(&format!("unwheat {command}\n")),
            "{command}: no example call in {help}"
        );
    }
}

/// The examples of the help are real: what they name as an example file is there.
#[test]
fn the_examples_of_the_help_run() {
    for command in COMMANDS {
        let help = unwheat(&[command, "--help"]).done();
        for line in help.lines().map(str::trim) {
            let Some(rest) = line.strip_prefix("unwheat ") else {
                continue;
            };
            let parsed = crate::readme::words(rest).unwrap_or_default();
            let words: Vec<&str> = parsed.iter().map(String::as_str).collect();
            if words.iter().any(|w| w.starts_with("examples/")) {
                let ran = unwheat(&words);
                assert_eq!(ran.code, 0, "{line}: {}", ran.err);
                assert!(!ran.out.is_empty(), "{line}");
            }
        }
    }
}

#[test]
fn wrong_usage_ends_with_2() {
    let file = "examples/sunday-pancakes.txt";
    for arguments in [
        vec!["bake"],
        vec!["--port", "many"],
        vec!["--share", "read", file],
        vec!["read", "--loud"],
        vec!["weigh", file, "--locale", "mars"],
        vec!["weigh", "one.txt", "two.txt"],
        vec!["rework", file, "--style", "batter=no_such_style"],
        vec!["rework", file, "--style", "no such part=pancake_crepe"],
        vec!["rework", file, "--blend", "no_such_blend"],
        vec!["rework", file, "--regime", "moon"],
        vec!["rework", file, "--style"],
        vec!["size", file, "--times", "many"],
        vec!["size", file, "--times", "2", "--flour", "400g"],
        vec!["size", file, "--sheet", "40x30cm"],
        vec!["size", file, "--fill", "50%"],
        vec!["hydration", "--locale", "us"],
        vec!["shape"],
        vec!["shape", "knot", "--dough", "600g"],
        vec!["shape", "sheet", "--dough", "much"],
        vec!["shape", "sheet", "--sheet", "40x30cm", "--length", "40cm"],
        vec!["shape", "sheet", "--part", "dough"],
    ] {
        unwheat(&arguments).misused();
    }
}

/// A wrong word is answered with the right ones.
#[test]
fn wrong_words_are_answered_with_the_right_ones() {
    let file = "examples/sunday-pancakes.txt";
    let said = unwheat(&["rework", file, "--style", "x"]).misused();
    assert!(said.contains("pancake_crepe"), "{said}");
    let said = unwheat(&["rework", file, "--blend", "x"]).misused();
    assert!(said.contains("rice_free"), "{said}");
    let said = unwheat(&["weigh", file, "--locale", "x"]).misused();
    assert!(said.contains("metric"), "{said}");
}

#[test]
fn the_version_is_said() {
    let said = unwheat(&["--version"]).done();
    assert_eq!(said.trim(), concat!("unwheat ", env!("CARGO_PKG_VERSION")));
}

/// Help promises standard input, with and without '-'.
#[test]
fn standard_input_is_the_file_that_is_not_named() {
    let text = std::fs::read(crate::run::root().join("examples/sunday-pancakes.txt"))
        .expect("the example");
    for command in ["read", "weigh", "screen", "rework", "leaven"] {
        let named = unwheat(&[command, "examples/sunday-pancakes.txt"]).done();
        assert_eq!(with_input(&[command], &text).done(), named);
        assert_eq!(with_input(&[command, "-"], &text).done(), named);
    }
}
