//! Choices that one line offers: 'a or b', 'a, b or c', 'a (or b)', 'a/b'.

use super::super::words::Word;
use super::Reader;
use super::list::find_or;
use larder::{Certainty, FoodId, Match};
use std::ops::Range;

/// What a line offers.
#[derive(Default)]
pub(super) struct Choices {
    /// What is counted.
    pub food: Option<Match>,
    /// Foods that may be taken instead.
    pub others: Vec<FoodId>,
    /// Names of choices that the larder does not know.
    pub strange: Vec<Range<usize>>,
}

/// Words of a choice that name nothing: 'or similar', 'or so'.
const NO_NAME: [&str; 14] = [
    "so",
    "similar",
    "both",
    "whichever",
    "whatever",
    "another",
    "equivalent",
    "same",
    "none",
    "omit",
    "skip",
    "either",
    "combination",
    "mixture",
];

impl Reader<'_> {
    /// The choices of a name; `None` where it offers none.
    ///
    /// # Arguments
    /// * `words` — the name, without its amounts.
    /// * `whole` — the food that all of it names, as found.
    pub(super) fn choices(&self, words: &str, whole: Option<&Match>) -> Option<Choices> {
        let lower = words.to_ascii_lowercase();
        let (at, skip) = find_or(&lower)?;
        // 'Hundreds or thousands': one name.
        if whole.is_some_and(|m| m.span.start < at && m.span.end > at) {
            return None;
        }
        let mut rest = at + skip..words.len();
        let mut behind = Vec::new();
        while let Some((at, skip)) = find_or(&lower[rest.clone()]) {
            behind.push(rest.start..rest.start + at);
            rest.start += at + skip;
        }
        behind.push(rest);
        for piece in &mut behind {
            *piece = self.named_in(words, piece.clone());
        }
        let mut pieces = self.listed(words, 0..at, &behind)?;
        pieces.extend(behind);
        let find = |r: &Range<usize>| {
            let m = self.larder.find(&words[r.clone()], self.locale)?;
            let on = |s: Range<usize>| r.start + s.start..r.start + s.end;
            Some(Match {
                span: on(m.span),
                unknown: m.unknown.into_iter().map(on).collect(),
                ..m
            })
        };
        let mut out = Choices::default();
        // 'Zingo (or custard powder)': what a bracket offers instead of a thing nobody knows is not that thing.
        let bracket = lower[at..].starts_with(['(', '[']);
        let inside = |m: &Match| bracket && !words[at..m.span.end].contains([')', ']']);
        let mut unknown = false;
        // What is said behind the first may be more of its name: 'flour, plain, or oats'.
        let first = pieces[0].clone();
        let in_first = |m: &Match| m.span.start < first.end;
        for (n, piece) in pieces.iter().enumerate() {
            let found = (n == 0).then(|| find(&(0..at)).filter(in_first)).flatten();
            let found = found.or_else(|| find(piece));
            let head = |r: &Range<usize>| words[find(r)?.span].split_whitespace().last();
            let joined = || {
                let heads = pieces[n + 1..].iter().chain(pieces[..n].iter().rev());
                self.with_a_head(words, piece, heads.filter_map(head).next()?)
            };
            let Some(m) = found.or_else(joined) else {
                let strange = self.strange(words, piece);
                unknown |= n == 0 && strange.is_some();
                out.strange.extend(strange);
                continue;
            };
            match &out.food {
                None if unknown && inside(&m) => out.others.push(m.food),
                None => out.food = Some(m),
                Some(first) => {
                    // What is counted tells of its own unknown words.
                    let of_name = m.unknown.iter().chain([&m.span]);
                    let all = of_name
                        .clone()
                        .map(|r| r.start)
                        .min()
                        .zip(of_name.map(|r| r.end).max());
                    out.strange.extend(
                        all.filter(|_| !m.unknown.is_empty())
                            .map(|(from, to)| from..to),
                    );
                    if first.food != m.food && !out.others.contains(&m.food) {
                        out.others.push(m.food);
                    }
                }
            }
        }
        if unknown && out.food.is_none() && !out.strange.is_empty() {
            // The line is read as unknown itself.
            out.strange.remove(0);
        }
        (out.food.is_some() || !out.others.is_empty()).then_some(out)
    }

    /// A choice without its amount, up to what is added to it: of '1 cup oats + 1 tsp salt' 'oats'.
    fn named_in(&self, words: &str, piece: Range<usize>) -> Range<usize> {
        let mut from = piece.start;
        loop {
            let rest = &words[from..piece.end];
            let cut = rest.len() - rest.trim_start_matches(|c: char| !c.is_alphabetic()).len();
            let word = rest[cut..].split(|c: char| !c.is_alphabetic()).next();
            let word = word.unwrap_or_default();
            let unit = self.words.get(&word.to_lowercase());
            if cut == 0 || !matches!(unit, Some(Word::Unit(_))) {
                from += cut;
                break;
            }
            from += cut + word.len();
        }
        let rest = &words[from..piece.end];
        let to = rest.find(|c: char| c == '+' || c.is_ascii_digit());
        from..from + to.unwrap_or(rest.len())
    }

    /// The choices before 'or': 'jam, honey' are two, 'butter, softened' is one. `None` where 'or' stands
    /// in what is said behind a comma: 'onion, sliced or diced'.
    fn listed(
        &self,
        words: &str,
        left: Range<usize>,
        behind: &[Range<usize>],
    ) -> Option<Vec<Range<usize>>> {
        let said = words[left.clone()].trim_end();
        let ends = said.ends_with([',', '(']);
        let said = said.trim_end_matches([',', '(', ' ']);
        let mut sections = said.split(',').map(|s| {
            let from = s.as_ptr() as usize - words.as_ptr() as usize;
            from..from + s.len()
        });
        let mut out = vec![sections.next()?];
        let rest: Vec<Range<usize>> = sections.collect();
        if rest.is_empty() {
            return Some(out);
        }
        let names = |r: &Range<usize>| {
            let piece = words[r.clone()].trim();
            let capital = piece.starts_with(char::is_uppercase);
            capital && self.strange(words, r).is_some()
                || self.larder.names().is_name(piece, self.locale)
        };
        let lists = rest.iter().chain(behind).any(names);
        if !lists && !ends {
            return None;
        }
        let further = rest.into_iter().filter(|r| {
            self.larder.find(&words[r.clone()], self.locale).is_some()
                || lists && self.strange(words, r).is_some()
        });
        out.extend(further);
        Some(out)
    }

    /// 'Dark or milk chocolate', 'bread flour or all-purpose': the word with the head of another choice.
    fn with_a_head(&self, words: &str, piece: &Range<usize>, head: &str) -> Option<Match> {
        let word = words[piece.clone()].trim_matches(|c: char| !c.is_alphanumeric());
        let joined = format!("{word} {head}");
        let joined = self.larder.find(&joined, self.locale)?;
        let whole = joined.certainty == Certainty::Sure && joined.span.start == 0;
        whole.then(|| Match {
            span: piece.clone(),
            ..joined
        })
    }

    /// The words of a choice that nothing explains.
    fn strange(&self, words: &str, piece: &Range<usize>) -> Option<Range<usize>> {
        let found = self.larder.names().unexplained(&words[piece.clone()])?;
        let found = piece.start + found.start..piece.start + found.end;
        let names = words[found.clone()]
            .split(|c: char| !c.is_alphanumeric())
            .any(|w| {
                let w = w.to_lowercase();
                w.len() > 1 && !NO_NAME.contains(&&*w) && self.words.get(&w).is_none()
            });
        names.then_some(found)
    }
}
