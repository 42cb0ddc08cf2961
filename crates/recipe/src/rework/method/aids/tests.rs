//! Counts over `cases/method`: sentences of our own, and what is to be found in each.

use super::*;

/// Finds that are right, wrong and missed, with a line about each that is not right.
#[derive(Debug, Default)]
struct Score {
    right: usize,
    wrong: Vec<String>,
    missed: Vec<String>,
    sentences: usize,
    silent: usize,
}

impl Score {
    fn of(text: &'static str) -> Self {
        let mut score = Self::default();
        for case in rows(text) {
            let (text, cell) = (case.get("text"), case.get("finds"));
            let style = Style::from_key(case.get("style")).expect("a style");
            let finds = find(text, style);
            score.sentences += 1;
            score.silent += usize::from(cell == "-");
            let mut wanted: Vec<(&str, &str)> = cell
                .split(';')
                .filter_map(|w| w.trim().split_once('='))
                .collect();
            for f in &finds {
                assert!(text.get(f.span.clone()).is_some_and(|w| !w.is_empty()));
                // The right kind, and its span shares words with the one asked for.
                let at = wanted.iter().position(|(key, words)| {
                    let from = text.find(words).expect("its own words");
                    *key == f.row.found && f.span.start < from + words.len() && from < f.span.end
                });
                match at {
                    Some(at) => {
                        wanted.remove(at);
                        score.right += 1;
                    }
                    None => score.wrong.push(format!(
                        "{}: ‘{}’ in: {text}",
                        f.row.found,
                        &text[f.span.clone()]
                    )),
                }
            }
            let missed = wanted.iter().map(|(key, _)| format!("{key} in: {text}"));
            score.missed.extend(missed);
        }
        score
    }

    fn precision(&self) -> f64 {
        self.right as f64 / (self.right + self.wrong.len()).max(1) as f64
    }

    fn recall(&self) -> f64 {
        self.right as f64 / (self.right + self.missed.len()).max(1) as f64
    }
}

#[test]
fn known_sentences() {
    let score = Score::of(include_str!("../../../../../../cases/method/known.tsv"));
    println!("{score:#?} {} {}", score.precision(), score.recall());
    assert!(score.sentences >= 120 && score.silent * 5 >= score.sentences * 2);
    assert!(score.wrong.is_empty() && score.missed.is_empty(), "{score:#?}");
}
