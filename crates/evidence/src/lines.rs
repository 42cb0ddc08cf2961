//! How well ingredient lines are read: the test sets of `cases/lines`, scored.

use larder::Larder;
use quantity::{Locale, Unit};
use recipe::read::Reader;
use recipe::{Line, Role};

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
    for (n, row) in text.lines().enumerate().skip(1).filter(|(_, l)| !l.trim().is_empty() && !l.starts_with("# ")) {
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
                let unit = if unit == "-" { "-" } else { Unit::from_code(unit)?.code() };
                Some((role.to_owned(), low.parse().ok()?, high.parse().ok()?, unit.to_owned()))
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
            got.iter().any(|g| g.0 == want.0 && close(g.1, want.1) && close(g.2, want.2) && g.3 == want.3)
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
        let name = |f: Option<larder::FoodId>| f.map_or("none".to_owned(), |f| larder.food(f).key.clone());
        misses.ingredient = Some(format!("{} for '{}' ({})", name(food), case.ingredient, name(want)));
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
    Score { lines: cases.len(), amount: amount as f64 / n, ingredient: ingredient as f64 / n }
}

/// Whether an amount is the line's own.
#[must_use]
pub fn is_main(role: Role) -> bool {
    role == Role::Main
}
