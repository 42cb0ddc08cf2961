//! Lengths of time, and what is done for them.

use super::Scan;
use super::words::Tag;
use crate::recipe::{Activity, Fact, FactKind};
use quantity::{Spread, Time};

/// A night, in minutes.
const NIGHT: (f64, f64, f64) = (480.0, 600.0, 720.0);

/// So many facts, and pieces, before a time its oven may be named.
const NEAR: usize = 8;
const FAR: usize = 60;
/// An oven that bakes for a night is no hotter, °C (common practice, no source).
const SLOW_OVEN: f64 = 130.0;

impl Scan<'_> {
    /// What stands or is chilled 'the night before', with no time of its own, is left a night.
    pub(super) fn of_the_night(&self, a: Activity, i: usize) -> Option<FactKind> {
        let from = self.sentence_at(i);
        let is =
            |j: usize, list: &[&str]| list.iter().any(|w| self.word(j).eq_ignore_ascii_case(w));
        let night = is(from, &["the"])
            && is(from + 1, &["night", "evening", "day"])
            && is(from + 2, &["before"]);
        let (low, likely, high) = NIGHT;
        let time = Time::minutes;
        (night && matches!(a, Activity::Rest | Activity::Chill)).then(|| FactKind::Duration {
            value: Spread::new(time(low), time(likely), time(high)),
            doing: Some(a),
        })
    }

    /// A number and its unit, with smaller units behind it.
    pub(super) fn stretch(&self, i: usize) -> Option<((f64, f64, f64), f64, usize)> {
        let n = self.number(i)?;
        let mut k = n.next;
        if self.dash(k) {
            k += 1;
        }
        for _ in 0..2 {
            if self.tag(k) == Tag::Filler {
                k += 1;
            }
        }
        let Tag::Time(unit, _) = self.tag(k) else {
            return None;
        };
        if self.tag(i) == Tag::Article && self.is_one_more(k) {
            return None;
        }
        let (mut low, mut likely, mut high) = n.spread(unit, 1e6)?;
        k += 1;
        if self.sign(k) == Some('.') && !self.stops(k) {
            k += 1;
        }
        let mut add =
            |(a, b, c): (f64, f64, f64)| (low, likely, high) = (low + a, likely + b, high + c);
        let and = self.tag(k) == Tag::And;
        let part = if and && self.tag(k + 1) == Tag::Article {
            self.tag(k + 2)
        } else {
            Tag::None
        };
        if let Tag::Half | Tag::Quarter = part {
            let share = if part == Tag::Half {
                unit / 2.0
            } else {
                unit / 4.0
            };
            add((share, share, share));
            return Some(((low, likely, high), unit, k + 3));
        }
        if self.tag(k) == Tag::Or
            && n.first == 1.0
            && let Tag::Number(more) = self.tag(k + 1)
            && !matches!(self.tag(k + 2), Tag::Time(..))
        {
            let high = more * unit;
            return Some(((unit, f64::midpoint(unit, high), high), unit, k + 2));
        }
        // 1 hour 20 minutes, 1 hr and 20 min, 1h20
        let j = if and || self.sign(k) == Some(',') {
            k + 1
        } else {
            k
        };
        if n.first == n.last
            && let Some(m) = self.number(j).filter(|m| m.first < 60.0 && m.last < 60.0)
        {
            let close = if self.dash(m.next) {
                m.next + 1
            } else {
                m.next
            };
            let smaller = match self.tag(close) {
                Tag::Time(u, _) if u < unit => Some((u, close + 1)),
                Tag::M if unit == 60.0 => Some((1.0, close + 1)),
                _ if unit == 60.0 && j == k && self.joined(j) => Some((1.0, m.next)),
                _ => None,
            };
            if let Some((u, next)) = smaller
                && let Some(part) = m.spread(u, 1e6)
            {
                add(part);
                k = next;
            }
        }
        Some(((low, likely, high), unit, k))
    }

    /// Whether 'second' counts something: 'bake a second one', 'for a second time', not 'blend for a second'.
    fn is_one_more(&self, k: usize) -> bool {
        let ends = k + 1 >= self.t.len()
            || self.stops(k + 1)
            || self.sign(k + 1).is_some()
            || matches!(
                self.tag(k + 1),
                Tag::And | Tag::Or | Tag::Then | Tag::Until | Tag::Before
            );
        self.word(k).eq_ignore_ascii_case("second") && !ends
    }

    /// 'bake 5 minutes at 220 °C, then reduce to 180 °C and bake 15 more': minutes too.
    fn some_more(&self, i: usize) -> Option<((f64, f64, f64), usize)> {
        let n = self.number(i)?;
        let is = |list: &[&str]| {
            list.iter()
                .any(|w| self.word(n.next).eq_ignore_ascii_case(w))
        };
        let more = is(&["more", "longer"]);
        // '18 minutes, then 6 without the beans'.
        let then = self.back(i, 1) == Tag::Then && is(&["without", "uncovered", "unlidded"]);
        let after = if more { n.next + 1 } else { n.next };
        let ends = then
            || self.stops(after)
            || matches!(self.sign(after), Some(',' | ';' | ')'))
            || after >= self.t.len()
            || self.tag(after) == Tag::Until;
        let more = more || then;
        let baked = self.facts.iter().any(|f| {
            matches!(f.kind, FactKind::Duration { value, doing: Some(Activity::Bake) } if value.high().as_minutes() < 120.0)
        });
        let again = self.last == Some(Activity::Bake);
        (more && ends && baked && again && n.first >= 1.0 && n.last <= 120.0)
            .then_some(((n.first, n.likely, n.last), after))
    }

    /// Behind ', or up to', 'to', '–' between two times.
    pub(super) fn range_between(&self, i: usize) -> Option<usize> {
        let up = self.sign(i) == Some('(') && self.tag(i + 1) == Tag::Up;
        let j = if up || self.sign(i) == Some(',') {
            i + 1
        } else {
            i
        };
        let k = if matches!(self.tag(j), Tag::And | Tag::Or) {
            j + 1
        } else {
            j
        };
        if self.tag(k) == Tag::Up && self.tag(k + 1) == Tag::To {
            return Some(k + 2);
        }
        if j == i || self.tag(j) == Tag::Or {
            self.range_mark(j)
        } else {
            None
        }
    }

    /// The other end of a range of times, and the piece behind it.
    fn range_up_to(&self, i: usize) -> Option<((f64, f64, f64), usize)> {
        let j = self.range_between(i)?;
        let j = if self.tag(j) == Tag::About { j + 1 } else { j };
        if self.tag(j) == Tag::Overnight {
            return Some((NIGHT, j + 1));
        }
        let (value, _, end) = self.stretch(j)?;
        Some((value, end))
    }

    /// Behind the least time, the one that is aimed at and the piece behind it: '4 hours, preferably overnight', '1 hour,
    /// or better still 2 hours', '4 hours; overnight is best'.
    fn aimed_at(&self, i: usize) -> Option<((f64, f64, f64), usize)> {
        const RATHER: [&str; 5] = ["preferably", "ideally", "better", "best", "rather"];
        const BEST: [&str; 5] = ["best", "better", "ideal", "preferable", "preferred"];
        let is =
            |j: usize, list: &[&str]| list.iter().any(|w| self.word(j).eq_ignore_ascii_case(w));
        let joins = |j: usize| {
            matches!(self.sign(j), Some(',' | ';' | '('))
                || matches!(self.tag(j), Tag::And | Tag::Or)
        };
        let mut j = (i..i + 3).find(|&j| !joins(j) && !is(j, &["but"]))?;
        let rather = is(j, &RATHER);
        if rather {
            j = (j + 1..j + 4).find(|&j| !is(j, &["still", "yet", "for", "about", "of", "all"]))?;
        }
        let (value, end) = if self.tag(j) == Tag::Overnight {
            (NIGHT, j + 1)
        } else {
            let (value, _, end) = self.stretch(j)?;
            (value, end)
        };
        if rather {
            return Some((value, end));
        }
        let best = j > i && is(end, &["is"]) && (end + 1..end + 4).any(|k| is(k, &BEST));
        best.then_some((value, end + 2))
    }

    /// 'Bake 30 minutes, covering with foil after 20', 'uncovered for the last 10 minutes': a moment of the bake
    /// before, not another.
    fn within_a_bake(&self, i: usize, likely: f64) -> bool {
        let about = usize::from(self.back(i, 1) == Tag::About);
        let Some(before) = i.checked_sub(1 + about) else {
            return false;
        };
        let is = |list: &[&str]| {
            list.iter()
                .any(|w| self.word(before).eq_ignore_ascii_case(w))
        };
        let bake = self.facts.iter().rposition(|f| {
            matches!(f.kind, FactKind::Duration { value, doing: Some(Activity::Bake) } if likely <= value.high().as_minutes())
        });
        // 'At 180 °C for the last 10 minutes' may be more than the time before.
        let turned = |at: usize| {
            let later = &self.facts[at + 1..];
            later
                .iter()
                .any(|f| matches!(f.kind, FactKind::Temperature { .. }))
        };
        let last = is(&["last", "final"]);
        (last || is(&["after"])) && bake.is_some_and(|at| !last || !turned(at))
    }

    /// Whether a night here is none of a bake or a frying that the sentence ordered before: in another clause, with no
    /// oven or a hot one: 'Bake at 180 °C, wrap overnight'.
    fn is_past(&self, a: Activity) -> bool {
        let hot = matches!(a, Activity::Bake | Activity::Fry);
        let slow = |f: &Fact| matches!(f.kind, FactKind::Temperature { value, .. } if value.likely().as_celsius() <= SLOW_OVEN);
        let slow = self.facts[self.opens.0..].iter().rev().take(NEAR).any(slow);
        let from = self.opens.1.max(self.floor.saturating_sub(FAR));
        let oven = (from..self.floor).any(|j| self.tag(j) == Tag::Oven);
        hot && self.clause != Some(a) && !slow && !oven
    }

    pub(super) fn duration(&mut self, i: usize) -> Option<usize> {
        let overnight = self.tag(i) == Tag::Overnight;
        let ((mut low, mut likely, mut high), mut end) = if overnight {
            (NIGHT, i + 1)
        } else {
            let (value, end) = self
                .stretch(i)
                .map(|(value, _, end)| (value, end))
                .or_else(|| self.some_more(i))?;
            (value, end)
        };
        if overnight && self.sign(end) == Some('(') {
            // 'overnight (8–12 hours)': the figures say how long.
            let j = (end + 1..end + 3)
                .find(|&j| self.is_number(j))
                .unwrap_or(end + 1);
            if let Some((value, _, next)) = self.stretch(j) {
                ((low, likely, high), end) = (value, next);
            }
        } else if let Some(((a, _, c), next)) = self.range_up_to(end) {
            (low, high) = (low.min(a), high.max(c));
            (likely, end) = (f64::midpoint(low, high), next);
        } else if let Some((aim, next)) = self.aimed_at(end).filter(|(aim, _)| aim.0 > high) {
            (likely, high, end) = (aim.1, aim.2, next);
        }
        let skip = self.back(i, 1) == Tag::Every
            || self.tag(end) == Tag::Interval
            || self.within_a_bake(i, likely);
        if skip {
            self.floor = self.floor.max(end);
            return Some(end);
        }
        let time = Time::minutes;
        let value = Spread::new(time(low), time(likely), time(high));
        let at = self.facts.len();
        self.push(FactKind::Duration { value, doing: None }, i, end);
        // 'a 20-minute rest', '10 minutes of kneading', 'kneaded for 10 minutes'.
        let of = self.tag(end) == Tag::Of;
        let single = matches!(self.back(end, 1), Tag::Time(_, true));
        let noun = match self.tag(if of { end + 1 } else { end }) {
            Tag::Verb(a) | Tag::Ing(a) if of || single => Some(a),
            _ => None,
        };
        let done = (1..=3)
            .map(|n| self.back(i, n))
            .find(|t| !matches!(t, Tag::Until | Tag::About | Tag::At));
        match (noun, done) {
            (Some(a), _) => self.name_time(at, a),
            (None, Some(Tag::Done(a))) => self.name_time(at, a),
            // 'give two folds, chilling 30 minutes after each'.
            (None, Some(Tag::Ing(a @ (Activity::Chill | Activity::Rest | Activity::Freeze)))) => {
                self.name_time(at, a);
            }
            _ if self.weak => {
                self.name_time(at, Activity::Rest);
                self.resting = Some((at, true));
            }
            _ => match self.last {
                Some(a) if low >= NIGHT.0 / 2.0 && self.is_past(a) => {
                    self.name_time(at, Activity::Rest);
                }
                Some(a) => self.name_time(at, a),
                None if self.tag(end) != Tag::Before && high >= 1.0 => self.waiting.push(at),
                None => {}
            },
        }
        Some(end)
    }
    pub(super) fn name_time(&mut self, at: usize, a: Activity) {
        if let Some(Fact {
            kind: FactKind::Duration { doing, .. },
            ..
        }) = self.facts.get_mut(at)
        {
            *doing = Some(a);
        }
    }
}
