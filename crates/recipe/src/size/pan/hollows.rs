//! Tins of many hollows by how many they have.

use super::error::PanError;
use super::words::called;
use super::{Pan, all};

/// A muffin, bun or friand tin by how many hollows it has: `12-hole muffin tin`, `muffin tin of 6`. `None` of
/// words with other figures.
pub(super) fn by_hollows(words: &str) -> Option<Result<Pan, PanError>> {
    let plain = words.to_lowercase();
    let text: Vec<&str> = plain
        .split(|c: char| !c.is_alphanumeric())
        .filter(|w| !w.is_empty())
        .collect();
    let is = |at: Option<usize>, list: &[&str]| {
        at.and_then(|i| text.get(i))
            .is_some_and(|w| list.contains(w))
    };
    let mut figures =
        (0..text.len()).filter(|i| text[*i].starts_with(|c: char| c.is_ascii_digit()));
    let (at, None) = (figures.next()?, figures.next()) else {
        return None;
    };
    let counts = is(
        Some(at + 1),
        &["hole", "holes", "cup", "cups", "hollow", "hollows"],
    ) || is(at.checked_sub(1), &["of"]);
    let of = |name: &str| named(&text).any(|one| name.contains(one));
    let number: u32 = text[at].parse().ok().filter(|_| counts)?;
    // 'Small muffin tin of 24', 'large muffin tin of 6'.
    let size = SIZED.iter().find(|s| text.contains(&s.0)).map(|s| s.1);
    let sized = |p: &&Pan| size.is_none_or(|s| p.name.starts_with(s));
    let all = all().iter().filter(|p| p.hollows == number && of(&p.name));
    let found: Vec<&Pan> = all.filter(sized).collect();
    match found.as_slice() {
        [] => number_of_hollows(words, &text, number),
        // Where one of them may hold as much as the others do, it is that.
        [first, rest @ ..] if rest.iter().all(|p| as_charted(first, p)) => {
            Some(Ok((*first).clone()))
        }
        several => Some(Err(PanError::Several {
            words: words.to_owned(),
            names: called(several),
            keys: several.iter().map(|p| p.key.clone()).collect(),
        })),
    }
}

/// Words for the size of hollows, and what tins of them are called in the table.
const SIZED: [(&str, &str); 5] = [
    ("mini", "small"),
    ("small", "small"),
    ("large", "large"),
    ("jumbo", "large"),
    ("giant", "large"),
];
/// Tins of many hollows in the table.
const HOLLOWED: [&str; 3] = ["muffin", "bun", "friand"];

/// What tins of many hollows words name.
fn named<'t>(text: &'t [&'t str]) -> impl Iterator<Item = &'t str> {
    let one = text.iter().map(|w| w.strip_suffix('s').unwrap_or(w));
    one.map(|w| if w == "cupcake" { "muffin" } else { w })
        .filter(|w| HOLLOWED.contains(w))
}

/// Why a tin of so many hollows is not known; `None` of words that say nothing of hollows. The cups of a muffin
/// tin are its hollows; one or two are what it holds.
fn number_of_hollows(words: &str, text: &[&str], number: u32) -> Option<Result<Pan, PanError>> {
    let begins = |with: &str| text.iter().any(|w| w.starts_with(with));
    let cups = number > 2 && named(text).next().is_some();
    (begins("hole") || begins("hollow") || cups).then(|| {
        Err(PanError::Hollows {
            words: words.to_owned(),
            number,
        })
    })
}

/// Whether a hollow of one pan may hold what one of another is charted to.
fn as_charted(one: &Pan, other: &Pan) -> bool {
    let charted = one.charted.zip(other.charted);
    charted.is_some_and(|(a, b)| a.holds(b.likely()))
}
