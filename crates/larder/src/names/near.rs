//! Names mistyped by a letter.

use super::{Match, Names, Token, follow, normal};
use crate::Certainty;
use quantity::Locale;

impl Names {
    /// A name that is one letter away from a word of the text.
    pub(super) fn near(&self, text: &str, tokens: &[Token], locale: Locale) -> Option<Match> {
        let mut buffer = String::new();
        for t in tokens
            .iter()
            .filter(|t| !t.purpose && t.end - t.start >= 5)
            .take(6)
        {
            if self.classes.contains_key(&t.hash) || self.vocabulary.contains_key(&t.hash) {
                continue;
            }
            normal(&text[t.start as usize..t.end as usize], &mut buffer);
            let mut close: Vec<&String> = self
                .vocabulary
                .values()
                .filter(|w| one_letter_apart(w, &buffer) && is_slip(w, &buffer))
                .collect();
            close.sort();
            for word in close {
                let mended = format!(
                    "{}{word}{}",
                    &text[..t.start as usize],
                    &text[t.end as usize..]
                );
                let tokens = self.tokens(&mended);
                if !tokens
                    .iter()
                    .any(|m| self.phrases.contains_key(&follow(0, m.hash)))
                    && tokens.len() < 2
                {
                    continue;
                }
                if let Some(found) = self.find(&mended, locale) {
                    let inside = found.span.start <= t.start as usize
                        && found.span.end >= t.start as usize + word.len();
                    if inside {
                        return Some(Match {
                            certainty: Certainty::Near,
                            span: t.start as usize..t.end as usize,
                            unknown: std::iter::once(t.start as usize..t.end as usize).collect(),
                            ..found
                        });
                    }
                }
            }
        }
        None
    }
}

/// Whether one letter put in, left out, changed or swapped makes one word the other.
pub(crate) fn one_letter_apart(a: &str, b: &str) -> bool {
    let (a, b) = (a.as_bytes(), b.as_bytes());
    let (short, long) = if a.len() <= b.len() { (a, b) } else { (b, a) };
    if long.len() - short.len() > 1 || short.is_empty() || a[0] != b[0] {
        return false;
    }
    let head = short.iter().zip(long).take_while(|(x, y)| x == y).count();
    let tail = short[head..]
        .iter()
        .rev()
        .zip(long.iter().rev())
        .take_while(|(x, y)| x == y)
        .count();
    let (s, l) = (short.len() - head - tail, long.len() - head - tail);
    l <= 1 && s <= 1
        || (s == 2 && l == 2 && short[head] == long[head + 1] && short[head + 1] == long[head])
}

/// Whether two words one letter apart are more likely one, mistyped, than two: long ones, or letters
/// swapped or doubled, a vowel more, less or another. 'Dashi' is no dahi.
fn is_slip(a: &str, b: &str) -> bool {
    const LONG: usize = 8;
    let (short, long) = if a.len() <= b.len() {
        (a.as_bytes(), b.as_bytes())
    } else {
        (b.as_bytes(), a.as_bytes())
    };
    if short.len() >= LONG {
        return true;
    }
    let at = short.iter().zip(long).take_while(|(x, y)| x == y).count();
    let vowel = |w: &[u8]| w.get(at).is_some_and(|c| b"aeiouy".contains(c));
    if short.len() < long.len() {
        let beside = |i: usize| long.get(i) == Some(&long[at]);
        return vowel(long) || at.checked_sub(1).is_some_and(beside) || beside(at + 1);
    }
    let swapped = short.get(at + 1) != long.get(at + 1);
    swapped || vowel(short) && vowel(long)
}

#[cfg(test)]
mod tests {
    use crate::Larder;
    use quantity::Locale;

    #[test]
    fn a_short_name_of_another_thing_is_no_slip() {
        let larder = Larder::built_in().expect("the built-in tables");
        let near = |t: &str| {
            larder
                .find(t, Locale::Uk)
                .map(|m| larder.food(m.food).key.clone())
        };
        for text in ["30 ml barlet", "stosk"] {
            assert_eq!(near(text), None, "{text}");
        }
        for text in ["buter", "suger", "vanila"] {
            assert!(near(text).is_some(), "{text}");
        }
    }
}
