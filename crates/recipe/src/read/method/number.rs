//! Looking at pieces, and the numbers they make.

use super::super::lex::Kind;
use super::words::Tag;
use super::{Number, Scan};
use crate::recipe::{Fact, FactKind};

impl<'a> Scan<'a> {
    pub(super) fn tag(&self, i: usize) -> Tag {
        self.t.get(i).map_or(Tag::None, |p| p.tag)
    }
    pub(super) fn back(&self, i: usize, n: usize) -> Tag {
        i.checked_sub(n).map_or(Tag::None, |j| self.tag(j))
    }
    pub(super) fn sign(&self, i: usize) -> Option<char> {
        match self.t.get(i)?.kind {
            Kind::Sign(c) => Some(c),
            _ => None,
        }
    }
    pub(super) fn word(&self, i: usize) -> &'a str {
        self.t.get(i).map_or("", |p| &self.text[p.start..p.end])
    }
    pub(super) fn dash(&self, i: usize) -> bool {
        matches!(self.sign(i), Some('-' | '–' | '—' | '‐' | '‑' | '−'))
    }
    pub(super) fn is_number(&self, i: usize) -> bool {
        self.t.get(i).is_some_and(|p| {
            matches!(
                p.kind,
                Kind::Whole(_) | Kind::Decimal(_) | Kind::Fraction(_)
            )
        })
    }
    /// Whether piece `i` touches the one before it.
    pub(super) fn joined(&self, i: usize) -> bool {
        match (i.checked_sub(1).and_then(|j| self.t.get(j)), self.t.get(i)) {
            (Some(a), Some(b)) => a.end == b.start,
            _ => false,
        }
    }
    /// Whether a sentence ends at piece `i`.
    pub(super) fn stops(&self, i: usize) -> bool {
        match self.sign(i) {
            Some('!' | '?') => true,
            Some('.') => {
                let small = self
                    .t
                    .get(i + 1)
                    .and_then(|p| self.text[p.start..p.end].chars().next())
                    .is_some_and(|c| c.is_lowercase() || matches!(c, ',' | ')' | '-'));
                let short = matches!(
                    self.back(i, 1),
                    Tag::Time(..)
                        | Tag::In
                        | Tag::Length(_)
                        | Tag::Mass
                        | Tag::About
                        | Tag::LetterC
                        | Tag::LetterF
                );
                !(small && short)
            }
            _ => false,
        }
    }
    /// Whether any of the next `n` pieces of the sentence passes.
    pub(super) fn ahead(&self, from: usize, n: usize, test: impl Fn(Tag) -> bool) -> bool {
        (from..from + n)
            .take_while(|&i| !self.stops(i))
            .any(|i| test(self.tag(i)))
    }
    pub(super) fn span(&self, from: usize, to: usize) -> std::ops::Range<usize> {
        let start = self.t.get(from).map_or(0, |p| p.start);
        let end = to
            .checked_sub(1)
            .and_then(|j| self.t.get(j))
            .map_or(start, |p| p.end);
        start..end.max(start)
    }
    pub(super) fn push(&mut self, kind: FactKind, from: usize, to: usize) {
        let span = self.span(from, to);
        self.facts.push(Fact { kind, span });
        self.floor = self.floor.max(to);
    }

    pub(super) fn single(&self, i: usize) -> Option<Number> {
        let p = self.t.get(i)?;
        let small = |j: usize| match self.t.get(j)?.kind {
            Kind::Fraction(f) if f < 1.0 => Some(f),
            _ => None,
        };
        let (mut value, mut next) = match (p.kind, p.tag) {
            (Kind::Whole(n), _) => {
                if let Some(f) = small(i + 1) {
                    return Some(Number::one(n + f, i + 2));
                }
                if self.dash(i + 1)
                    && self.joined(i + 1)
                    && self.joined(i + 2)
                    && self.sign(i + 1) == Some('-')
                    && let Some(f) = small(i + 2)
                {
                    return Some(Number::one(n + f, i + 3));
                }
                // 200⁰C: a raised nought for a degree sign.
                (
                    if self.word(i).ends_with('⁰') {
                        n / 10.0
                    } else {
                        n
                    },
                    i + 1,
                )
            }
            (Kind::Decimal(n) | Kind::Fraction(n), _) => {
                return n.is_finite().then(|| Number::one(n, i + 1));
            }
            (_, Tag::Number(n)) => (n, i + 1),
            (_, Tag::Tens(n)) => {
                let j = if self.dash(i + 1) { i + 2 } else { i + 1 };
                match self.tag(j) {
                    Tag::Number(d) if d < 10.0 => (n + d, j + 1),
                    _ => (n, i + 1),
                }
            }
            (_, Tag::Half) => (0.5, self.article_of(i + 1)),
            (_, Tag::Third) => return Some(Number::one(1.0 / 3.0, i + 1)),
            (_, Tag::Quarter) => (0.25, self.article_of(i + 1)),
            (_, Tag::Few(a, b, c)) => {
                let next = if self.tag(i + 1) == Tag::Of {
                    i + 2
                } else {
                    i + 1
                };
                return Some(Number {
                    first: a,
                    likely: b,
                    last: c,
                    next,
                });
            }
            (_, Tag::Article) => match self.tag(i + 1) {
                Tag::Few(..) | Tag::Half | Tag::Quarter | Tag::Third => {
                    return self.single(i + 1);
                }
                Tag::Time(m, true) if m < 1000.0 => (1.0, i + 1),
                Tag::Time(_, true)
                    if matches!(
                        self.back(i, 1),
                        Tag::Until | Tag::To | Tag::Or | Tag::About | Tag::Up
                    ) =>
                {
                    (1.0, i + 1)
                }
                _ => return None,
            },
            _ => return None,
        };
        if self.tag(next) == Tag::Quarter && value < 4.0 {
            (value, next) = (value / 4.0, self.article_of(next + 1));
        } else if self.tag(next) == Tag::And {
            let j = if self.tag(next + 1) == Tag::Article {
                next + 2
            } else {
                next + 1
            };
            match self.tag(j) {
                Tag::Half => (value, next) = (value + 0.5, j + 1),
                Tag::Quarter => (value, next) = (value + 0.25, j + 1),
                _ => {}
            }
        }
        Some(Number::one(value, next))
    }
    /// Skips 'of', 'a', 'an', 'of an'.
    pub(super) fn article_of(&self, i: usize) -> usize {
        let j = if self.tag(i) == Tag::Of { i + 1 } else { i };
        if self.tag(j) == Tag::Article {
            j + 1
        } else {
            i
        }
    }
    /// Behind the sign or word of a range.
    pub(super) fn range_mark(&self, i: usize) -> Option<usize> {
        let j = if self.dash(i) { i + 1 } else { i };
        match self.tag(j) {
            Tag::To | Tag::Or => Some(j + 1),
            _ => (j > i).then_some(j),
        }
    }
    pub(super) fn number(&self, i: usize) -> Option<Number> {
        let a = self.single(i)?;
        let mark = if self.back(i, 1) == Tag::Between && self.tag(a.next) == Tag::And {
            Some(a.next + 1)
        } else {
            self.range_mark(a.next)
        };
        let b = mark
            .filter(|&j| !matches!(self.tag(j), Tag::Article | Tag::Half | Tag::Few(..)))
            .and_then(|j| self.single(j));
        Some(match b {
            Some(b) => Number {
                first: a.first,
                likely: f64::midpoint(a.first, b.last),
                last: b.last,
                next: b.next,
            },
            None => a,
        })
    }
}
