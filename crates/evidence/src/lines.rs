//! How well ingredient lines are read: the test sets of `cases/lines`, scored.

use larder::Larder;
use quantity::{Locale, Unit};
use recipe::Line;
use recipe::read::Reader;

/// A line of a test set with what should be read from it.
#[derive(Debug, Clone)]
pub struct Case {
    /// The line.
    pub text: String,
    /// Its locale.
    pub locale: Locale,
    /// `ingredient`, `heading` or `note`.
    pub kind: String,
    /// Role, low, high, unit code (`-` for none).
    pub amounts: Vec<(String, f64, f64, String)>,
    /// The plain name of the food; `?` for none, empty for headings and notes.
    pub ingredient: String,
    /// Likely grams, low and high, where a source says.
    pub grams: Option<(f64, f64)>,
    /// Where the expectation comes from.
    pub source: String,
}

/// Reads a test set.
///
/// # Errors
/// The line that does not have the format of `cases/README.md`.
pub fn cases(text: &str) -> Result<Vec<Case>, String> {
    let mut out = Vec::new();
    for (n, row) in text
        .lines()
        .enumerate()
        .skip(1)
        .filter(|(_, l)| !l.trim().is_empty() && !l.starts_with("# "))
    {
        let cells: Vec<&str> = row.split('\t').collect();
        let bad = |what: &str| format!("line {}: {what}: {row}", n + 1);
        let [text, locale, kind, amounts, ingredient, grams, ..] = cells[..] else {
            return Err(bad("fewer than six columns"));
        };
        let amounts = amounts
            .split(';')
            .map(str::trim)
            .filter(|a| !a.is_empty())
            .map(|a| {
                let (role, rest) = a.split_once(':')?;
                let (range, unit) = rest.trim().rsplit_once(' ')?;
                let (low, high) = range.split_once("..")?;
                let unit = if unit == "-" {
                    "-"
                } else {
                    Unit::from_code(unit)?.code()
                };
                Some((
                    role.to_owned(),
                    low.parse().ok()?,
                    high.parse().ok()?,
                    unit.to_owned(),
                ))
            })
            .collect::<Option<Vec<_>>>()
            .ok_or_else(|| bad("an amount is not 'role:low..high unit'"))?;
        let grams = match grams.trim() {
            "" => None,
            g => {
                let (low, high) = g.split_once('-').unwrap_or((g, g));
                Some((
                    low.parse().map_err(|_| bad("grams"))?,
                    high.parse().map_err(|_| bad("grams"))?,
                ))
            }
        };
        out.push(Case {
            text: text.to_owned(),
            locale: locale.parse().map_err(|_| bad("locale"))?,
            kind: kind.to_owned(),
            amounts,
            ingredient: ingredient.to_owned(),
            grams,
            source: cells.get(6).copied().unwrap_or("").to_owned(),
        });
    }
    Ok(out)
}

/// What is wrong with a reading; empty when it is right.
#[derive(Debug, Clone, Default)]
pub struct Misses {
    /// Kind or amounts are not as expected.
    pub amount: Option<String>,
    /// The food is not as expected.
    pub ingredient: Option<String>,
}

/// Compares a reading with what should have been read.
#[must_use]
pub fn compare(case: &Case, line: &Line, larder: &Larder) -> Misses {
    let mut misses = Misses::default();
    let item = line.items.first();
    let got: Vec<(String, f64, f64, String)> = item
        .map(|i| {
            i.amounts
                .iter()
                .map(|a| {
                    let unit = a.unit.map_or("-", Unit::code);
                    (a.role.word().to_owned(), a.low, a.high, unit.to_owned())
                })
                .collect()
        })
        .unwrap_or_default();
    let close = |a: f64, b: f64| (a - b).abs() <= 0.001 * b.abs().max(0.01);
    let same = got.len() == case.amounts.len()
        && case.amounts.iter().all(|want| {
            got.iter()
                .any(|g| g.0 == want.0 && close(g.1, want.1) && close(g.2, want.2) && g.3 == want.3)
        });
    if line.kind.word() != case.kind {
        misses.amount = Some(format!("kind {} for {}", line.kind.word(), case.kind));
    } else if !same {
        misses.amount = Some(format!("{got:?} for {:?}", case.amounts));
    }
    let food = item.and_then(|i| i.food.as_ref()).map(|m| m.food);
    let want = larder.find(&case.ingredient, case.locale).map(|m| m.food);
    let right = match case.ingredient.as_str() {
        "" => item.is_none(),
        "?" => food.is_none(),
        _ => food.is_some() && food == want,
    };
    if !right {
        let name =
            |f: Option<larder::FoodId>| f.map_or("none".to_owned(), |f| larder.food(f).key.clone());
        misses.ingredient = Some(format!(
            "{} for '{}' ({})",
            name(food),
            case.ingredient,
            name(want)
        ));
    }
    misses
}

/// Shares read right.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Score {
    /// How many lines.
    pub lines: usize,
    /// Share right in kind, amounts and units.
    pub amount: f64,
    /// Share right in ingredient.
    pub ingredient: f64,
}

/// Scores a test set; `tell` hears of every miss.
pub fn score(cases: &[Case], larder: &Larder, mut tell: impl FnMut(&Case, &Misses)) -> Score {
    let readers = Locale::ALL.map(|l| Reader::new(larder, l));
    let (mut amount, mut ingredient) = (0, 0);
    for case in cases {
        let line = readers[case.locale.index()].line(&case.text);
        let misses = compare(case, &line, larder);
        amount += usize::from(misses.amount.is_none());
        ingredient += usize::from(misses.ingredient.is_none());
        if misses.amount.is_some() || misses.ingredient.is_some() {
            tell(case, &misses);
        }
    }
    let n = cases.len().max(1) as f64;
    Score {
        lines: cases.len(),
        amount: amount as f64 / n,
        ingredient: ingredient as f64 / n,
    }
}

/// The set whose misses nobody who works on the reader looks at.
const UNSEEN: &str = "unseen";

/// The test sets: name and rows.
const SETS: [(&str, &str); 2] = [
    ("known", include_str!("../../../cases/lines/known.tsv")),
    (UNSEEN, include_str!("../../../cases/lines/unseen.tsv")),
];

/// Prints the scores of both sets and the misses of the known one; with a file, those of that file.
pub fn run(words: &[&str]) -> Result<(), Box<dyn std::error::Error>> {
    let larder = Larder::built_in()?;
    let own;
    let sets: Vec<(&str, &str)> = match words {
        [] => SETS.to_vec(),
        [path] => {
            own = std::fs::read_to_string(path)?;
            vec![(path, own.as_str())]
        }
        _ => return Err("give one file of lines, or none".into()),
    };
    for (name, text) in sets {
        let cases = cases(text)?;
        let s = score(&cases, &larder, |case, m| {
            if name == UNSEEN {
                return;
            }
            println!("{} [{}; {}]", case.text, case.locale.key(), case.source);
            for miss in [&m.amount, &m.ingredient].into_iter().flatten() {
                println!("    {miss}");
            }
        });
        let w = weights(&cases, &larder);
        println!(
            "{name}: {} lines; amount and unit {:.1} %, ingredient {:.1} %; weight inside the source's figure or within 10 % of it: {} of {}\n",
            s.lines,
            100.0 * s.amount,
            100.0 * s.ingredient,
            w.0,
            w.1
        );
    }
    Ok(())
}

/// How many lines with a known weight are weighed near it, and how many there are.
fn weights(cases: &[Case], larder: &Larder) -> (usize, usize) {
    let (mut near, mut all) = (0, 0);
    for case in cases {
        let Some((low, high)) = case.grams else {
            continue;
        };
        let line = Reader::new(larder, case.locale).line(&case.text);
        let (weighed, _) = recipe::weigh::line(&line, larder, case.locale);
        let Some(grams) = weighed.first().and_then(|w| w.grams) else {
            all += 1;
            continue;
        };
        let likely = grams.likely().as_grams();
        all += 1;
        near += usize::from(likely >= low * 0.9 && likely <= high * 1.1);
    }
    (near, all)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn scored(text: &str) -> (Score, Vec<Case>) {
        let larder = Larder::built_in().expect("the built-in tables");
        let cases = cases(text).expect("a test set");
        (score(&cases, &larder, |_, _| {}), cases)
    }

    /// The bar: 97 % in amount and unit, 95 % in ingredient, on 300 lines or more.
    #[test]
    fn known_lines_are_read() {
        let (s, cases) = scored(SETS[0].1);
        assert!(cases.len() >= 300);
        assert!(s.amount >= 0.97 && s.ingredient >= 0.95, "{s:?}");
    }

    /// The same on lines written by somebody who had not seen the reader.
    #[test]
    fn unseen_lines_are_read() {
        let (s, _) = scored(SETS[1].1);
        assert!(s.amount >= 0.97 && s.ingredient >= 0.95, "{s:?}");
    }

    /// A reading that is wrong counts as a miss: the score is no decoration.
    #[test]
    fn a_wrong_expectation_is_a_miss() {
        let larder = Larder::built_in().expect("the built-in tables");
        let text = "text\tlocale\tkind\tamounts\tingredient\tgrams\tsource\n1 cup flour\tus\tingredient\tmain:2..2 cup\tsugar\t\town";
        let cases = cases(text).expect("a test set");
        let s = score(&cases, &larder, |_, _| {});
        assert_eq!((s.amount, s.ingredient), (0.0, 0.0));
    }
}
