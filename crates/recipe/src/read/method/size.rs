//! Thicknesses, rises and pans.

use super::Scan;
use super::words::Tag;
use crate::recipe::{Activity, Fact, FactKind, Heat};
use quantity::{Length, Spread};

impl Scan<'_> {
    pub(super) fn length(&self, i: usize) -> Option<((f64, f64, f64), usize)> {
        let n = self.number(i)?;
        let j = if self.dash(n.next) {
            n.next + 1
        } else {
            n.next
        };
        let unit = match self.tag(j) {
            Tag::Length(mm) => mm,
            Tag::In if j > n.next || self.joined(j) || self.sign(j + 1) == Some('.') => 25.4,
            Tag::In if self.tag(j + 1) == Tag::Thick || self.sign(j + 1) == Some('(') => 25.4,
            _ => return None,
        };
        let mut next = j + 1;
        if self.sign(next) == Some('.') && !self.stops(next) {
            next += 1;
        }
        Some((n.spread(unit, 5000.0)?, next))
    }

    pub(super) fn thickness(&mut self, i: usize) -> Option<usize> {
        let ((low, likely, high), mut end) = self.length(i)?;
        // A twin in brackets or behind a slash.
        let open = self.sign(end) == Some('(');
        if open || self.sign(end) == Some('/') {
            let j = if self.tag(end + 1) == Tag::About {
                end + 2
            } else {
                end + 1
            };
            if let Some((_, next)) = self.length(j) {
                end = if open && self.sign(next) == Some(')') {
                    next + 1
                } else {
                    next
                };
            }
        }
        let j = if self.dash(end) || self.tag(end) == Tag::In {
            end + 1
        } else {
            end
        };
        let thick = self.tag(j) == Tag::Thick;
        let back = |n| {
            if self.back(i, 1) == Tag::About {
                self.back(i, n + 1)
            } else {
                self.back(i, n)
            }
        };
        let said = back(1) == Tag::Thick || back(2) == Tag::Thick && back(1) == Tag::Of;
        let rolled = high <= 30.0
            && matches!(self.last, Some(Activity::Roll))
            && (back(1) == Tag::To || back(1) == Tag::Article && back(2) == Tag::To)
            && !matches!(self.tag(end), Tag::X | Tag::By)
            && !self.ahead(end, 3, |t| {
                matches!(t, Tag::Outline | Tag::PanKind | Tag::Pan)
            });
        if !(thick || said || rolled) {
            return None;
        }
        let end = if thick { j + 1 } else { end };
        let to = Length::millimetres;
        self.push(
            FactKind::Thickness(Spread::new(to(low), to(likely), to(high))),
            i,
            end,
        );
        Some(end)
    }

    /// 'by half', 'by 50%', '1.5 times its size'; `i` at the number.
    pub(super) fn growth(&mut self, i: usize) -> Option<usize> {
        let n = self.number(i)?;
        let (factor, end) = match self.tag(n.next) {
            Tag::Percent if self.grow && (1..=2).any(|k| self.back(i, k) == Tag::By) => {
                (1.0 + n.likely / 100.0, n.next + 1)
            }
            Tag::Times if self.ahead(n.next + 1, 4, |t| t == Tag::Size) => (n.likely, n.next + 1),
            _ if self.grow && n.likely < 1.0 && (1..=2).any(|k| self.back(i, k) == Tag::By) => {
                (1.0 + n.likely, n.next)
            }
            _ => return None,
        };
        if !(1.0..=10.0).contains(&factor) {
            return None;
        }
        self.risen(factor, i, end);
        Some(end)
    }
    pub(super) fn risen(&mut self, factor: f64, i: usize, end: usize) {
        self.push(FactKind::RiseTo(factor), i, end);
        if let Some((at, _)) = self.resting.take() {
            self.name_time(at, Activity::Rise);
        }
    }

    /// 'let it puff up', 'leave until puffy': a rise, where nothing is in the oven or the pan, and it is
    /// no pastry, no gelatine and no yeast in its water that does.
    pub(super) fn puffing(&mut self, i: usize) {
        let here = self.t[i].start;
        let stops = ['.', ';', '\n'];
        let from = self.text[..here].rfind(stops).map_or(0, |at| at + 1);
        let to = self.text[here..]
            .find(stops)
            .map_or(self.text.len(), |n| here + n);
        let said = self.text[from..to].to_lowercase();
        let other = ["gelatin", "yeast", "chia", "linseed"];
        if self.word(i + 1).eq_ignore_ascii_case("pastry")
            || matches!(self.heat, Some(Heat::Oven))
            || other.iter().any(|w| said.contains(w))
        {
            return;
        }
        if let Some((at, _)) = self.resting.take() {
            self.name_time(at, Activity::Rise);
            self.last = Some(Activity::Rise);
        } else if self.weak || self.last.is_none() {
            let told = |w: &str| said.contains(w);
            if self.weak || ["let ", "allow ", "cover ", "until "].into_iter().any(told) {
                self.act(i, Activity::Rise, true);
            }
        }
    }

    /// 'doubled', 'double in size', 'twice its volume'.
    pub(super) fn doubling(&mut self, i: usize) -> usize {
        let t = self.tag(i);
        let size = (i + 1..i + 4).find(|&j| self.tag(j) == Tag::Size);
        let hedge = matches!(self.back(i, 1), Tag::Until | Tag::About | Tag::To)
            || ["almost", "nearly", "just"]
                .iter()
                .any(|w| i > 0 && self.word(i - 1).eq_ignore_ascii_case(w));
        let next = self.word(i + 1);
        let amount = [
            "recipe",
            "batch",
            "quantity",
            "quantities",
            "cream",
            "boiler",
            "layer",
            "the",
        ]
        .iter()
        .any(|w| next.eq_ignore_ascii_case(w));
        let ok = match t {
            Tag::Doubled | Tag::Triple => size.is_some() || !amount,
            Tag::Double => size.is_some() || hedge && !amount,
            _ => size.is_some(),
        };
        if !ok {
            return i + 1;
        }
        let end = size.map_or(i + 1, |j| j + 1);
        self.risen(if t == Tag::Triple { 3.0 } else { 2.0 }, i, end);
        end
    }

    /// A pan whose noun is at `i`.
    pub(super) fn pan(&mut self, i: usize) -> usize {
        if self.tag(i) == Tag::Pan && matches!(self.tag(i + 1), Tag::Pan | Tag::PanAlone) {
            return i + 1; // 'sheet pan', 'springform tin': the last noun carries it
        }
        if self.tag(i) == Tag::PanAlone && self.tag(i + 1) == Tag::Pan {
            return i + 1;
        }
        let mut from = i;
        while from > self.floor && i - from < 18 {
            let j = from - 1;
            let fits = match self.tag(j) {
                Tag::PanKind
                | Tag::PanLook
                | Tag::PanAlone
                | Tag::Pan
                | Tag::Hole
                | Tag::Mass
                | Tag::X
                | Tag::By => true,
                Tag::Half | Tag::Quarter | Tag::Number(_) | Tag::Tens(_) | Tag::Length(_) => true,
                Tag::Ing(Activity::Bake | Activity::Fry)
                | Tag::Done(Activity::Grease)
                | Tag::Oven => true,
                Tag::In => j > 0 && (self.is_number(j - 1) || self.dash(j - 1)),
                Tag::Roll => matches!(
                    self.word(j.saturating_sub(1)),
                    "Swiss" | "swiss" | "jelly" | "Jelly"
                ),
                _ => {
                    self.is_number(j)
                        || self.dash(j)
                        || matches!(self.sign(j), Some('/' | '(' | ')' | ','))
                        || self.sign(j) == Some('.') && !self.stops(j)
                }
            };
            if !fits {
                break;
            }
            from = j;
        }
        while from < i
            && (matches!(
                self.tag(from),
                Tag::Done(_) | Tag::By | Tag::X | Tag::In | Tag::PanLook
            ) || self.sign(from).is_some() && !matches!(self.tag(from), Tag::Length(_)))
        {
            from += 1;
        }
        let mut end = i + 1;
        let mut sizes = self.sizes(from, i);
        if sizes.is_empty() {
            sizes = self.bare_sides(from, i);
        }
        let kind = (from..i).any(|j| match self.tag(j) {
            Tag::PanKind
            | Tag::PanAlone
            | Tag::Pan
            | Tag::Hole
            | Tag::Ing(_)
            | Tag::Oven
            | Tag::Roll => true,
            Tag::Half | Tag::Quarter => self.tag(j + 1) == Tag::Pan,
            _ => false,
        });
        // 'cake tin (20 cm)', 'pan, about 9 x 5 inches'
        let mut j = end;
        while j < end + 3
            && (matches!(self.sign(j), Some('(' | ',')) || matches!(self.tag(j), Tag::About))
        {
            j += 1;
        }
        if sizes.is_empty() && j > end {
            let last = (j..j + 10).take_while(|&k| self.dimension(k)).last();
            if let Some(last) = last {
                let more = self.sizes(j, last + 1);
                if !more.is_empty() && self.tag(last + 1) != Tag::Thick {
                    (sizes, end) = (more, last + 1);
                    if self.sign(end) == Some(')') {
                        end += 1;
                    }
                }
            }
        }
        let alone = self.tag(i) == Tag::PanAlone;
        let food = self.tag(i + 1) == Tag::Of && sizes.is_empty();
        let named = alone || kind && !food;
        if !named && sizes.is_empty() {
            return i + 1;
        }
        let words = &self.text[self.span(from, end)];
        let known = |f: &Fact| matches!(&f.kind, FactKind::Pan { words: w, .. } if w == words);
        // Only the last few are compared: a step names few pans.
        if !self.facts.iter().rev().take(16).any(known) {
            self.push(
                FactKind::Pan {
                    words: words.to_owned(),
                    sizes,
                },
                from,
                end,
            );
        }
        self.floor = self.floor.max(end);
        end
    }
    /// The sides of a pan without a unit, '9x13 pan', longest first: inches up to 18, as pans are typed.
    fn bare_sides(&self, from: usize, to: usize) -> Vec<Length> {
        const MOST_INCHES: f64 = 18.0;
        const MOST_CM: f64 = 60.0;
        let mut all = Vec::new();
        let mut i = from;
        while let Some(number) = self.single(i).filter(|n| i < to && n.next <= to) {
            all.push(number.first);
            i = number.next;
            if !matches!(self.tag(i), Tag::X | Tag::By) {
                break;
            }
            i += 1;
        }
        let most = all.iter().copied().fold(0.0, f64::max);
        if !(2..=3).contains(&all.len()) || most > MOST_CM || all.iter().any(|n| *n < 1.0) {
            return Vec::new();
        }
        all.sort_by(|a, b| b.total_cmp(a));
        let one = if most <= MOST_INCHES { 25.4 } else { 10.0 };
        let sides = all.into_iter();
        sides.map(|n| Length::millimetres(n * one)).collect()
    }

    pub(super) fn dimension(&self, k: usize) -> bool {
        self.is_number(k)
            || matches!(self.tag(k), Tag::Length(_) | Tag::X | Tag::By)
            || self.dash(k)
            || self.sign(k) == Some('/')
            || self.tag(k) == Tag::In && self.joined(k)
    }

    /// The lengths between two pieces, longest first; a twin in another unit counts once.
    pub(super) fn sizes(&self, from: usize, to: usize) -> Vec<Length> {
        let mut out: Vec<f64> = Vec::new();
        let mut i = from;
        while i < to {
            let (mut chain, mut scale, mut j) = ([0.0; 4], None, i);
            let mut n = 0;
            while n < 4 && j < to {
                let Some(number) = self.single(j) else { break };
                (chain[n], j) = (number.first, number.next);
                n += 1;
                let k = if self.dash(j) { j + 1 } else { j };
                match self.tag(k) {
                    Tag::Length(mm) => (scale, j) = (Some(mm), k + 1),
                    Tag::In if k < to => (scale, j) = (Some(25.4), k + 1),
                    Tag::X | Tag::By => j = k,
                    _ => {}
                }
                if !matches!(self.tag(j), Tag::X | Tag::By) {
                    break;
                }
                j += if self.dash(j + 1) { 2 } else { 1 };
            }
            let Some(mm) = scale.filter(|_| n > 0) else {
                i = j.max(i + 1);
                continue;
            };
            i = j.max(i + 1);
            let new = || chain.iter().take(n).map(|v| v * mm);
            let twin = out.len() == n
                && new()
                    .zip(&out)
                    .all(|(a, b)| (a - b).abs() <= 0.1 * a.max(*b));
            if !twin && new().all(|v| v.is_finite() && v > 0.0 && v < 5000.0) && out.len() < 8 {
                out.extend(new());
            }
        }
        out.sort_by(|a, b| b.total_cmp(a));
        out.into_iter().map(Length::millimetres).collect()
    }
}
