//! Counts over `cases/method`: sentences of our own, and what is to be found in each.

use super::*;

/// Finds that are right, wrong and missed, with a line about each that is not right.
#[derive(Debug, Default)]
struct Score {
    right: usize,
    wrong: Vec<String>,
    missed: Vec<String>,
    /// Of the wrong: the right kind, at other words of the sentence.
    elsewhere: usize,
    /// Finds in sentences that hold none.
    false_alarms: usize,
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
                    None => {
                        let kind = wanted.iter().any(|(key, _)| *key == f.row.found);
                        score.elsewhere += usize::from(kind);
                        score.false_alarms += usize::from(cell == "-");
                        let words = &text[f.span.clone()];
                        score
                            .wrong
                            .push(format!("{}: ‘{words}’ in: {text}", f.row.found));
                    }
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
    assert!(
        score.wrong.is_empty() && score.missed.is_empty(),
        "{score:#?}"
    );
}

/// Counted, not tuned on: what is found may grow, what is wrong may not.
#[test]
fn unseen_sentences() {
    let score = Score::of(include_str!("../../../../../../cases/method/unseen.tsv"));
    println!("{score:#?} {} {}", score.precision(), score.recall());
    assert!(score.sentences >= 80 && score.silent * 2 >= score.sentences);
    // Most of what counts as wrong is the right kind at other words of the sentence.
    assert!(score.precision() >= 36.0 / 45.0, "{score:#?}");
    assert!(score.recall() >= 36.0 / 43.0, "{score:#?}");
    assert!(
        score.right + score.elsewhere >= 42 && score.false_alarms == 0,
        "{score:#?}"
    );
}

#[test]
fn rows_are_whole() {
    for r in ROWS.iter() {
        assert!(!r.does.is_empty() && !r.instead.is_empty() && !r.look_for.is_empty());
        assert!(
            r.instead.ends_with(['.', '}']) && !r.look_for.ends_with('.'),
            "{}",
            r.instead
        );
        let known = |s: &str| s == "*" || Style::from_key(s).is_some();
        assert!(r.styles.iter().all(|s| known(s)), "{:?}", r.styles);
        // Of one cue there may be several rows, by what follows.
        let found = match r.found {
            "roll_flat" | "roll_cut" => "roll_out",
            other => other,
        };
        assert!(CUES.iter().any(|c| c.found == found), "{}", r.found);
        assert!(!r.rule.is_empty() && r.source == "common practice, no source");
    }
    for c in CUES.iter() {
        assert!(ROWS.iter().any(|r| r.found == c.found), "{}", c.found);
        let Some(Part::Word(first)) = c.parts.first() else {
            panic!("begins with a gap: {c:?}");
        };
        assert!(
            first.iter().all(|(w, stem)| !stem || w.len() >= 3),
            "{first:?}"
        );
        assert!(matches!(c.parts.last(), Some(Part::Word(_))));
    }
}

proptest::proptest! {
    /// Whatever the text, spans lie in it, on the borders of characters, and part from each other.
    #[test]
    fn spans_lie_inside(text in "(knead|fold|Stretch|dough|twice|the|size|flour|’|é|\\.|,|-|\n| |ß|İ|½){0,40}") {
        for style in Style::all() {
            let finds = find(&text, style);
            for f in &finds {
                proptest::prop_assert!(text.get(f.span.clone()).is_some_and(|w| !w.is_empty()));
            }
            for pair in finds.windows(2) {
                proptest::prop_assert!(pair[0].span.end <= pair[1].span.start);
            }
        }
    }
}
