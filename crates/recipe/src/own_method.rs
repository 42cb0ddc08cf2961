//! The baker's own method: its headings and its steps.

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
}
