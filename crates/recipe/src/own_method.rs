//! The baker's own method: its headings and its steps.

use std::collections::BTreeSet;

/// Steps under a heading, or without one.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Steps {
    /// What it is about, without its colon.
    pub heading: Option<String>,
    /// Number of its first step, from 1.
    pub from: usize,
    /// The steps, without numbers of their own.
    pub steps: Vec<String>,
}

/// The steps of a method, one a line; a short line that ends in a colon is a heading: the card, the
/// plan and the bench number them alike.
#[must_use]
pub fn steps(method: &str) -> Vec<Steps> {
    let mut out: Vec<Steps> = Vec::new();
    let mut number = 1;
    let lines: Vec<String> = method.lines().map(tidy).filter(|l| !l.is_empty()).collect();
    for (i, line) in lines.iter().enumerate() {
        let more = lines.get(i + 1).is_some();
        if let Some(heading) = line.strip_suffix(':')
            && more
            && unnumbered(line) == line
            && heading.split_whitespace().count() <= 6
        {
            out.push(Steps {
                heading: Some(heading.to_owned()),
                from: number,
                steps: Vec::new(),
            });
            continue;
        }
        let step = unnumbered(line);
        if step.is_empty() {
            continue;
        }
        if out.is_empty() {
            out.push(Steps {
                heading: None,
                from: number,
                steps: Vec::new(),
            });
        }
        if let Some(last) = out.last_mut() {
            last.steps.push(step.to_owned());
            number += 1;
        }
    }
    out
}

/// Lines with so much in common are one, rewritten: half of their words.
pub(crate) const ALIKE: f64 = 0.5;

/// How much of the words of two lines is in both, 0 to 1.
pub(crate) fn likeness(a: &str, b: &str) -> f64 {
    let words = |text: &str| -> BTreeSet<String> {
        text.split(|c: char| !c.is_alphanumeric())
            .filter(|w| !w.is_empty())
            .map(str::to_lowercase)
            .collect()
    };
    let (a, b) = (words(a), words(b));
    let all = a.union(&b).count();
    if all == 0 {
        return 0.0;
    }
    a.intersection(&b).count() as f64 / all as f64
}

/// A line that one of two texts does not have, or has in other words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Differing {
    /// The heading it stands under.
    pub heading: Option<String>,
    /// What stood there; `None` where the line was added.
    pub was: Option<String>,
    /// What stands there; `None` where the line was taken out.
    pub is: Option<String>,
}

/// The steps that differ between two methods, in their order, headings looked at too.
#[must_use]
pub fn differing_steps(old: &str, new: &str) -> Vec<Differing> {
    let lines = |method: &str| -> Vec<(Option<String>, String)> {
        let under = |s: Steps| {
            let heading = s.heading;
            s.steps.into_iter().map(move |step| (heading.clone(), step))
        };
        steps(method).into_iter().flat_map(under).collect()
    };
    differing(&lines(old), &lines(new))
}

/// The lines that differ between two texts, in their order.
#[must_use]
pub fn differing_lines(old: &str, new: &str) -> Vec<Differing> {
    let lines = |text: &str| -> Vec<(Option<String>, String)> {
        let all = text.lines().map(tidy).filter(|l| !l.is_empty());
        all.map(|l| (None, l)).collect()
    };
    differing(&lines(old), &lines(new))
}

type Under = (Option<String>, String);

/// Goes along the longest run of lines that both have; what stands between two of them differs.
fn differing(old: &[Under], new: &[Under]) -> Vec<Differing> {
    let (n, m) = (old.len(), new.len());
    // Lines in common from here to the end.
    let mut common = vec![vec![0_usize; m + 1]; n + 1];
    for i in (0..n).rev() {
        for j in (0..m).rev() {
            common[i][j] = if old[i] == new[j] {
                common[i + 1][j + 1] + 1
            } else {
                common[i + 1][j].max(common[i][j + 1])
            };
        }
    }
    let mut out = Vec::new();
    let (mut i, mut j) = (0, 0);
    let (mut gone, mut come): (Vec<&Under>, Vec<&Under>) = (Vec::new(), Vec::new());
    while i < n || j < m {
        if i < n && j < m && old[i] == new[j] {
            paired(&mut gone, &mut come, &mut out);
            (i, j) = (i + 1, j + 1);
        } else if j == m || i < n && common[i + 1][j] >= common[i][j + 1] {
            gone.push(&old[i]);
            i += 1;
        } else {
            come.push(&new[j]);
            j += 1;
        }
    }
    paired(&mut gone, &mut come, &mut out);
    out
}

/// Of lines that went and lines that came in one place, those alike are one line in other words,
/// and so is the only one of each.
fn paired(gone: &mut Vec<&Under>, come: &mut Vec<&Under>, out: &mut Vec<Differing>) {
    let alone = gone.len() == 1 && come.len() == 1;
    let mut come: std::collections::VecDeque<&Under> = std::mem::take(come).into();
    let added = |l: &Under| Differing {
        heading: l.0.clone(),
        was: None,
        is: Some(l.1.clone()),
    };
    for old in std::mem::take(gone) {
        let like = |new: &&Under| alone || likeness(&old.1, &new.1) >= ALIKE;
        let at = come.iter().position(like);
        let is = at.and_then(|at| {
            out.extend(come.drain(..at).map(added));
            come.pop_front()
        });
        out.push(Differing {
            heading: is.map_or(&old.0, |l| &l.0).clone(),
            was: Some(old.1.clone()),
            is: is.map(|l| l.1.clone()),
        });
    }
    out.extend(come.into_iter().map(added));
}

/// A text without control signs, one space between its words.
fn tidy(text: &str) -> String {
    let plain = text.replace(char::is_control, " ");
    plain.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A line without the number or mark it begins with: the card numbers its steps itself.
fn unnumbered(line: &str) -> &str {
    let bare = line.trim_start_matches(['-', '–', '•', '*', ' ']);
    let rest = bare.trim_start_matches(|c: char| c.is_ascii_digit());
    let digits = bare.len() - rest.len();
    match rest.strip_prefix(['.', ')']) {
        // '1.5 cups' is no number of a step.
        Some(after)
            if (1..=2).contains(&digits) && (after.is_empty() || after.starts_with(' ')) =>
        {
            after.trim_start()
        }
        _ => bare,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_is_a_step_and_a_short_one_with_a_colon_a_heading() {
        let got =
            steps("For the dough:\n1. Whisk  it.\n\n2) Let it stand:\nFor the glaze:\n- Stir.\n");
        let section = |heading: &str, from, all: &[&str]| Steps {
            heading: Some(heading.to_owned()),
            from,
            steps: all.iter().map(|s| (*s).to_owned()).collect(),
        };
        assert_eq!(
            got,
            [
                section("For the dough", 1, &["Whisk it.", "Let it stand:"]),
                section("For the glaze", 3, &["Stir."]),
            ]
        );
        let plain = steps("Warm the milk.\n1.5 cups go in.\n 3.\nBake it:");
        assert_eq!(plain.len(), 1);
        assert_eq!(
            plain[0].steps,
            ["Warm the milk.", "1.5 cups go in.", "Bake it:"]
        );
        assert!(steps(" \n ").is_empty());
    }

    #[test]
    fn what_differs_is_told_line_by_line() {
        let one = |heading: Option<&str>, was: Option<&str>, is: Option<&str>| Differing {
            heading: heading.map(str::to_owned),
            was: was.map(str::to_owned),
            is: is.map(str::to_owned),
        };
        let old =
            "Dough:\nMix for 5 minutes.\nChill overnight.\nBake for 20 minutes.\nGlaze:\nStir.";
        let new = "Dough:\nMix for 5 minutes.\nShape.\nBake for 25 minutes.\nCool.\nGlaze:\nStir.";
        let dough = Some("Dough");
        assert_eq!(
            differing_steps(old, new),
            [
                one(dough, Some("Chill overnight."), None),
                one(dough, None, Some("Shape.")),
                one(
                    dough,
                    Some("Bake for 20 minutes."),
                    Some("Bake for 25 minutes.")
                ),
                one(dough, None, Some("Cool.")),
            ]
        );
        assert!(differing_steps(old, &format!("{old}\n\n")).is_empty());
        // The same step under another heading, and words that have nothing in common.
        assert_eq!(
            differing_steps("Mix.\nStir it.", "Mix.\nTop:\nStir it."),
            [one(Some("Top"), Some("Stir it."), Some("Stir it."))]
        );
        assert_eq!(
            differing_lines("2 eggs\n\n1 cup milk", "2 eggs\n240 g water"),
            [one(None, Some("1 cup milk"), Some("240 g water"))]
        );
        assert_eq!(differing_steps("", "Mix."), [one(None, None, Some("Mix."))]);
    }
}
