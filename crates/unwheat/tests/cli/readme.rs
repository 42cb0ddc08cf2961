//! The README is a promise: its commands run, and print what it shows.

use crate::run::{root, unwheat, with_input};
use std::path::Path;

const CALL: &str = "cargo run --release -- ";

/// The fenced blocks of a text: their language and lines.
fn blocks(text: &str) -> Vec<(String, Vec<String>)> {
    let mut all = Vec::new();
    let mut open: Option<(String, Vec<String>)> = None;
    for line in text.lines() {
        match (line.trim_start().strip_prefix("```"), &mut open) {
            (Some(language), None) => open = Some((language.trim().to_owned(), Vec::new())),
            (Some(_), Some(_)) => all.extend(open.take()),
            (None, Some((_, lines))) => lines.push(line.to_owned()),
            (None, None) => {}
        }
    }
    all
}

/// The words of a command, with quotes; `None` where a shell is needed.
pub fn words(command: &str) -> Option<Vec<String>> {
    let (mut all, mut quote) = (vec![String::new()], None);
    for c in command.chars() {
        match (quote, c) {
            (Some(q), c) if q == c => quote = None,
            (None, '\'' | '"') => quote = Some(c),
            (None, ' ') => all.push(String::new()),
            (None, '>' | '|' | '<' | '$' | '`' | ';' | '&') => return None,
            (None, '#') if all.last()?.is_empty() => break,
            (_, c) => all.last_mut()?.push(c),
        }
    }
    all.retain(|w| !w.is_empty());
    Some(all)
}

/// Runs one command of a README, with `echo '…' |` before it where it has that. Output files
/// go to a folder of the build.
fn runs(command: &str) -> String {
    let command = command.trim_start_matches("$ ");
    let (input, call) = match command.split_once(" | ") {
        Some((echo, call)) if echo.starts_with("echo ") => {
            let said = words(&echo[5..]).unwrap_or_default().join(" ");
            (format!("{said}\n"), call)
        }
        _ => (String::new(), command),
    };
    let call = call.trim().strip_prefix(CALL).unwrap_or(call);
    let parsed = words(call);
    assert!(parsed.is_some(), "the README asks for a shell: {command}");
    let mut parsed = parsed.unwrap_or_default();
    if let Some(at) = parsed.iter().position(|w| w == "--card" || w == "--svg")
        && let Some(file) = parsed.get_mut(at + 1)
    {
        *file = Path::new(env!("CARGO_TARGET_TMPDIR"))
            .join(&*file)
            .display()
            .to_string();
    }
    let arguments: Vec<&str> = parsed.iter().map(String::as_str).collect();
    with_input(&arguments, input.as_bytes()).done()
}

/// Whether the shown lines stand in the output in this order; `…` or `...` alone on a line
/// skips lines.
#[track_caller]
fn shows(command: &str, shown: &[String], out: &str) {
    let mut rest = out.lines().map(str::trim_end);
    let mut skip = true;
    for want in shown.iter().map(|l| l.trim_end()) {
        if matches!(want.trim(), "…" | "..." | "[…]") {
            skip = true;
            continue;
        }
        let found = if skip {
            rest.any(|line| line == want)
        } else {
            rest.next() == Some(want)
        };
        skip = false;
        assert!(
            found,
            "{command}: the README shows '{want}', the output is:\n{out}"
        );
    }
}

fn pages() -> Vec<String> {
    ["README.md", "ARCHITECTURE.md", "CONTRIBUTING.md"]
        .into_iter()
        .filter(|p| root().join(p).exists())
        .map(str::to_owned)
        .collect()
}

#[test]
fn the_commands_of_the_readme_run_and_print_what_it_shows() {
    let mut ran = 0;
    for page in pages() {
        let text = std::fs::read_to_string(root().join(&page)).expect("the page");
        let blocks = blocks(&text);
        for (i, (_, lines)) in blocks.iter().enumerate() {
            let is_call = |l: &str| {
                let l = l.trim_start_matches("$ ");
                l.starts_with(CALL) || l.starts_with("echo ") && l.contains(CALL)
            };
            let mut at = 0;
            while at < lines.len() {
                if !is_call(&lines[at]) {
                    at += 1;
                    continue;
                }
                // Long commands go on after a backslash.
                let mut command = lines[at].clone();
                at += 1;
                while command.ends_with('\\') && at < lines.len() {
                    command.pop();
                    command.push_str(lines[at].trim_start());
                    at += 1;
                }
                let out = runs(&command);
                ran += 1;
                assert!(!out.is_empty(), "{command}");
                // Output stands below in the same block after a '$ ' call, or alone in the next block
                // without a language (or 'text').
                let prompted = command.starts_with("$ ");
                let below: Vec<String> = lines[at..]
                    .iter()
                    .take_while(|l| !is_call(l))
                    .cloned()
                    .collect();
                if prompted && !below.is_empty() {
                    shows(&command, &below, &out);
                } else if lines.len() == 1
                    && let Some((language, shown)) = blocks.get(i + 1)
                    && matches!(language.as_str(), "" | "text" | "console")
                    && shown.first().is_some_and(|l| !is_call(l))
                {
                    shows(&command, shown, &out);
                }
            }
        }
    }
    assert!(ran > 0, "no command of the README was run");
}

/// Files that the pages name are there.
#[test]
fn the_files_the_readme_names_are_there() {
    for page in pages() {
        let text = std::fs::read_to_string(root().join(&page)).expect("the page");
        for (_, rest) in text
            .match_indices("](")
            .map(|(at, _)| text.split_at(at + 2))
        {
            let target = rest.split([')', '#', ' ']).next().unwrap_or_default();
            if target.is_empty() || target.contains("://") || target.starts_with("mailto:") {
                continue;
            }
            assert!(
                root().join(target).exists(),
                "{page}: {target} is not there"
            );
        }
    }
}

/// The first command anybody types.
#[test]
fn the_first_command_prints_a_formula() {
    let out = unwheat(&["rework", "examples/apricot-almond-buns.txt"]).done();
    assert!(out.contains(" g"), "{out}");
}
