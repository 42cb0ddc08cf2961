//! Temperatures and gas marks.

use super::super::lex::Kind;
use super::words::Tag;
use super::{Group, Number, SAME_HEAT, Scale, Scan, bit};
use crate::recipe::{Activity, FactKind, Heat};
use crate::{Doubt, DoubtCode};
use quantity::{GasMark, Spread, Temperature};

/// Oven words and the °C they stand for: low, likely, high. Tables differ, so the spreads are
/// wide.
///
/// # Source
/// Common practice, no source: very cool 110–120, cool 140–150, moderate 180, moderately hot
/// 190–200, hot 220–230, very hot 240 and more.
const OVEN_WORDS: &[(&str, &str, [f64; 3])] = &[
    ("very", "cool", [100.0, 115.0, 130.0]),
    ("very", "slow", [100.0, 115.0, 130.0]),
    ("very", "moderate", [150.0, 165.0, 180.0]),
    ("very", "hot", [230.0, 240.0, 260.0]),
    ("fairly", "hot", [185.0, 195.0, 210.0]),
    ("moderately", "hot", [185.0, 195.0, 210.0]),
    ("", "cool", [130.0, 145.0, 160.0]),
    ("", "slow", [130.0, 145.0, 160.0]),
    ("", "moderate", [165.0, 180.0, 195.0]),
    ("", "hot", [205.0, 225.0, 240.0]),
    ("", "quick", [205.0, 225.0, 240.0]),
];

/// So many facts from a time its heat may stand.
const NEAR: usize = 4;
/// So long, min, no fat or sugar is kept on the stove as hot as this, °C (common practice, no source).
const PAN_LONGEST: f64 = 25.0;
const PAN_HOTTEST: f64 = 130.0;

/// What the middle of a bake comes to, °C: meat and custards at the low end (common practice, no source).
const BAKED_THROUGH: [f64; 2] = [60.0, 102.0];

impl Scan<'_> {
    /// 'a moderate oven', with the word 'oven' at `i`: a temperature with a wide spread and a
    /// doubt. 'The hot oven' is only the one that was heated; a number beside it says more.
    pub(super) fn oven_word(&mut self, i: usize) {
        let is = |j: usize, w: &str| self.word(j).eq_ignore_ascii_case(w);
        let found = i.checked_sub(1).and_then(|at| {
            OVEN_WORDS.iter().find(|(first, word, _)| {
                is(at, word) && (first.is_empty() || at > 0 && is(at - 1, first))
            })
        });
        let Some((first, word, [low, likely, high])) = found else {
            return;
        };
        let from = if first.is_empty() { i - 1 } else { i - 2 };
        let known =
            matches!(self.back(from, 1), Tag::The) && *word != "moderate" && *word != "slow";
        let numbered = (i + 1..i + 7).take_while(|&j| !self.stops(j)).any(|j| {
            self.is_number(j) && self.scale_at(j + 1, 100.0).is_some() || self.tag(j) == Tag::Gas
        });
        let said = self.facts.iter().any(|f| {
            matches!(
                f.kind,
                FactKind::Temperature {
                    of: Heat::Oven | Heat::FanOven,
                    ..
                }
            )
        });
        if known || numbered || said && !self.turns_oven(i) {
            return;
        }
        let words = &self.text[self.span(from, i + 1)];
        let message = format!(
            "'{words}' is read as about {likely:.0} °C ({low:.0}–{high:.0}): oven tables differ (common practice, no source)"
        );
        let span = self.span(from, i + 1);
        self.doubts
            .push(Doubt::new(DoubtCode::TemperatureScale, message).at(span));
        let to = Temperature::celsius;
        let value = Spread::new(to(*low), to(*likely), to(*high));
        let of = Heat::Oven;
        self.push(FactKind::Temperature { value, of }, from, i + 1);
    }

    /// 'Reduce to a slow oven': another heat than the one before. 'For the last half hour' is left: it may be within the
    /// time before.
    fn turns_oven(&self, i: usize) -> bool {
        const TURNS: [&str; 8] = [
            "decrease", "drop", "finish", "increase", "lower", "raise", "reduce", "turn",
        ];
        let is = |j: usize| TURNS.iter().any(|w| self.word(j).eq_ignore_ascii_case(w));
        let ends = |j: usize| {
            let word = self.word(j);
            word.eq_ignore_ascii_case("last") || word.eq_ignore_ascii_case("final")
        };
        let mut rest = (i..self.t.len()).take_while(|&j| !self.stops(j));
        (self.opens.1..i).any(is) && !rest.any(ends)
    }

    /// A degree sign and scale at `i`: the scale, and the piece behind.
    pub(super) fn scale_at(&self, i: usize, n: f64) -> Option<(Option<Scale>, usize)> {
        let raised = i
            .checked_sub(1)
            .is_some_and(|j| self.word(j).ends_with('⁰'));
        let mut j = i;
        let mut degree = raised;
        if self.dash(j) && matches!(self.tag(j + 1), Tag::Degree | Tag::LetterF | Tag::LetterC) {
            j += 1;
        }
        while self.tag(j) == Tag::Degree && j < i + 3 {
            (degree, j) = (true, j + 1);
        }
        let letter = degree
            || n >= 30.0
                && (self.joined(j) || self.word(j).starts_with(char::is_uppercase) || n >= 90.0);
        match self.tag(j) {
            Tag::Fahrenheit => Some((Some(Scale::F), j + 1)),
            Tag::Celsius => Some((Some(Scale::C), j + 1)),
            Tag::LetterF if letter => Some((Some(Scale::F), j + 1)),
            Tag::LetterC if letter => Some((Some(Scale::C), j + 1)),
            _ => degree.then_some((None, j)),
        }
    }

    pub(super) fn temperature(&mut self, i: usize) -> Option<usize> {
        let mut n = self.number(i)?;
        let mut found = self.scale_at(n.next, n.last.abs());
        if found.is_none() || n.first > n.last || self.back(i, 1) == Tag::From {
            // '200 to 180': two settings; '350 / 180 C': the first may stand bare.
            let one = self.single(i)?;
            let own = self.scale_at(one.next, one.first.abs());
            if own.is_some() || found.is_none() || one.next == n.next {
                found = own;
            } else {
                found = found.map(|(s, _)| (s, one.next));
            }
            n = one;
        }
        let minus = i > 0
            && self.dash(i - 1)
            && self.joined(i)
            && (i == 1 || !self.joined(i - 1))
            && found.is_some();
        let (scale, mut end) = match found {
            Some(f) => f,
            None if self.bare(i, n) => (None, n.next),
            None => return None,
        };
        let (low, likely, high) = n.spread(1.0, 1500.0)?;
        let celsius = |s: Scale, v: f64| {
            let v = if minus { -v } else { v };
            if s == Scale::F {
                Temperature::fahrenheit(v).as_celsius()
            } else {
                v
            }
        };
        let fan = self.fan_behind(end);
        let before = self.fan.take().is_some_and(|f| i - f <= 6);
        let twin = if scale.is_none() {
            self.twin(likely, end)
        } else {
            None
        };
        let guess = scale
            .or(twin)
            .unwrap_or_else(|| self.guess(likely, end, fan.is_some() || before));
        let mid = celsius(guess, likely);
        let of = if fan.is_some() || before {
            Heat::FanOven
        } else {
            self.heat_of(mid, i, end)
        };
        end = fan.unwrap_or(end);
        if scale.is_some() {
            self.scale = scale;
        } else if twin.is_none() && self.scale != Some(guess) {
            self.scale_doubt(likely, guess, of, i, end);
        }
        self.add_heat(
            [celsius(guess, low), mid, celsius(guess, high)],
            of,
            guess,
            i,
            end,
        );
        Some(end)
    }

    /// Whether a number without any degree is a temperature: 'oven to 350'.
    pub(super) fn bare(&self, i: usize, n: Number) -> bool {
        if n.first != n.last || !(90.0..=600.0).contains(&n.first) || n.first.fract() != 0.0 {
            return false;
        }
        let named = matches!(
            self.tag(n.next),
            Tag::None | Tag::Mass | Tag::Time(..) | Tag::Length(_)
        ) && self
            .t
            .get(n.next)
            .is_some_and(|p| p.kind == Kind::Word || p.tag != Tag::None);
        if named
            || matches!(self.tag(n.next), Tag::Percent | Tag::X | Tag::Times)
            || self.is_number(n.next)
        {
            return false;
        }
        let after = matches!(self.back(i, 1), Tag::To | Tag::At | Tag::Oven | Tag::Fan)
            || self.back(i, 2) == Tag::Oven && self.sign(i - 1) == Some(':');
        let oven = matches!(self.heat, Some(Heat::Oven));
        oven && (after
            || self
                .group
                .is_some_and(|g| i - g.end <= 2 && self.sign(i - 1) == Some('/')))
            || self.tag(n.next) == Tag::Fan && self.group.is_some()
    }

    /// The scale of `n` when the temperature behind a slash is the same in the other one.
    fn twin(&self, n: f64, end: usize) -> Option<Scale> {
        if !matches!(self.sign(end), Some('/' | '(')) {
            return None;
        }
        let other = self.single(end + 1)?;
        let (scale, _) = self.scale_at(other.next, other.first)?;
        let agree =
            |f: f64, c: f64| (Temperature::fahrenheit(f).as_celsius() - c).abs() <= SAME_HEAT;
        match scale {
            Some(Scale::C) if agree(n, other.first) => Some(Scale::F),
            Some(Scale::F) if agree(other.first, n) => Some(Scale::C),
            _ => None,
        }
    }

    /// The scale of a number without one, by its size.
    pub(super) fn guess(&self, n: f64, end: usize, fan: bool) -> Scale {
        let oven = fan || self.heat == Some(Heat::Oven) || self.heat.is_none() && n >= 140.0;
        if let Some(s) = self.scale
            && (if s == Scale::F {
                n >= 200.0 || !oven
            } else {
                n <= 260.0
            })
        {
            return s;
        }
        let core = self.heat == Some(Heat::Core) || self.ahead(end, 3, |t| t == Tag::Core);
        let top = if oven && !core {
            260.0
        } else if core {
            106.0
        } else {
            61.0
        };
        if n >= top { Scale::F } else { Scale::C }
    }

    pub(super) fn scale_doubt(&mut self, n: f64, guess: Scale, of: Heat, i: usize, end: usize) {
        let unclear = match of {
            Heat::Oven | Heat::FanOven => (200.0..=300.0).contains(&n),
            Heat::Core => (90.0..=110.0).contains(&n),
            Heat::Other => n > 45.0,
        };
        if unclear {
            let (name, other) = if guess == Scale::F {
                ("Fahrenheit", "Celsius")
            } else {
                ("Celsius", "Fahrenheit")
            };
            let message = format!("{n} degrees is read as {name}; it may be {other}");
            let span = self.span(i, end);
            self.doubts
                .push(Doubt::new(DoubtCode::TemperatureScale, message).at(span));
        }
    }

    /// 'fan' right behind a temperature, and not the start of the next one.
    pub(super) fn fan_behind(&self, end: usize) -> Option<usize> {
        let mut j = end;
        let open = self.sign(j) == Some('(');
        if open || self.sign(j) == Some(',') {
            j += 1;
        }
        if self.tag(j) != Tag::Fan {
            return None;
        }
        j += 1;
        while matches!(self.tag(j), Tag::OvenKind | Tag::Oven)
            || self.dash(j) && self.tag(j + 1) == Tag::OvenKind
        {
            j += 1;
        }
        let next = if self.tag(j) == Tag::To || matches!(self.sign(j), Some(':' | '-')) {
            j + 1
        } else {
            j
        };
        (!self.is_number(next)).then(|| {
            if open && self.sign(j) == Some(')') {
                j + 1
            } else {
                j
            }
        })
    }

    /// 'Bake 60 minutes to 205 °F': what is baked comes to that, no oven stands so low.
    fn baked_to(&self, c: f64, i: usize) -> bool {
        const OVENS: [&str; 8] = [
            "down",
            "heated",
            "lower",
            "lowered",
            "preheated",
            "reduced",
            "set",
            "turned",
        ];
        let of_oven = |j: usize| {
            self.tag(j) == Tag::Oven || OVENS.iter().any(|w| self.word(j).eq_ignore_ascii_case(w))
        };
        (BAKED_THROUGH[0]..=BAKED_THROUGH[1]).contains(&c)
            && self.back(i, 1) == Tag::To
            && self.clause == Some(Activity::Bake)
            && !(self.begin..i).any(of_oven)
    }

    /// What a temperature, at piece `i` up to `end`, is of: by the words before it, then those just after.
    pub(super) fn heat_of(&self, c: f64, i: usize, end: usize) -> Heat {
        if self.baked_to(c, i) {
            return Heat::Core;
        }
        let mut heat = self
            .heat
            .unwrap_or(if c >= 120.0 { Heat::Oven } else { Heat::Other });
        for j in end..end + 5 {
            let t = self.tag(j);
            let over =
                self.stops(j) || self.is_number(j) || matches!(self.sign(j), Some(',' | ';'));
            if over || matches!(t, Tag::And | Tag::Until | Tag::Then) {
                break;
            }
            match t {
                Tag::Core if c >= 35.0 => heat = Heat::Core,
                Tag::Liquid if c < 100.0 && j < end + 3 => heat = Heat::Other,
                Tag::Oven if c >= 45.0 => heat = Heat::Oven,
                _ => continue,
            }
            break;
        }
        match heat {
            Heat::Core if c > 125.0 => Heat::Oven,
            Heat::Core if c < 30.0 => Heat::Other,
            Heat::Oven if c < 45.0 => Heat::Other,
            // 'Heat the fat in a skillet at 425°. Pour in. Bake': no fat on a stove is so hot.
            Heat::Other if c >= 205.0 && self.bakes_after(end) => Heat::Oven,
            h => h,
        }
    }

    fn bakes_after(&self, end: usize) -> bool {
        (end..self.t.len()).any(|j| self.tag(j) == Tag::Verb(Activity::Bake))
    }

    /// Whether a verb is of what is done in an oven as well as on the stove.
    pub(super) fn goes_into_an_oven(&self, i: usize) -> bool {
        const EITHER: [&str; 4] = ["braise", "cook", "poach", "stew"];
        EITHER.iter().any(|w| self.word(i).eq_ignore_ascii_case(w))
    }

    /// Takes such verbs, and 'simmer', from a piece on for the bake that follows.
    pub(super) fn cooks_there(&mut self, from: usize) {
        let doing = std::mem::take(&mut self.doing);
        let (there, rest): (Vec<_>, Vec<_>) = doing.into_iter().partition(|d| {
            let simmers = self.word(d.1).eq_ignore_ascii_case("simmer");
            d.1 >= from && (simmers || self.goes_into_an_oven(d.1))
        });
        self.doing = rest;
        self.seen &= !there.iter().fold(0, |bits, d| bits | bit(d.0));
    }

    /// What a sentence does at the heat of an oven is a bake, whatever it is called: 'braise at 160 °C for 2 hours'. No
    /// pan is kept so hot for long but in one.
    pub(super) fn bakes_by_its_heat(&mut self) {
        use Activity as A;
        let (first, begin) = self.opens;
        for at in first..self.facts.len() {
            let FactKind::Duration { value, doing } = self.facts[at].kind else {
                continue;
            };
            let waits = [
                A::Bake,
                A::Preheat,
                A::Melt,
                A::Rest,
                A::Rise,
                A::Chill,
                A::Freeze,
                A::Cool,
            ];
            if doing.is_some_and(|a| waits.contains(&a)) {
                continue;
            }
            let long = value.low().as_minutes() >= PAN_LONGEST;
            let near = at.saturating_sub(NEAR).max(first)..(at + NEAR + 1).min(self.facts.len());
            let heats: Vec<usize> = near
                .filter(|&h| self.is_oven_heat(h, long) && self.stands_with(h, at))
                .collect();
            if heats.is_empty() {
                continue;
            }
            for h in heats {
                if let FactKind::Temperature { of, .. } = &mut self.facts[h].kind
                    && *of == Heat::Other
                {
                    *of = Heat::Oven;
                }
            }
            self.name_time(at, A::Bake);
            self.cooks_there(begin);
        }
    }

    /// Whether a fact is the heat of an oven that something is kept at.
    fn is_oven_heat(&self, fact: usize, long: bool) -> bool {
        let FactKind::Temperature { value, of } = self.facts[fact].kind else {
            return false;
        };
        match of {
            Heat::Oven | Heat::FanOven => true,
            Heat::Other => long && value.low().as_celsius() >= PAN_HOTTEST,
            Heat::Core => false,
        }
    }

    /// Whether a heat, 'at' it, and a time stand side by side.
    fn stands_with(&self, heat: usize, time: usize) -> bool {
        let (h, t) = (&self.facts[heat].span, &self.facts[time].span);
        let (from, to) = (h.start.min(t.start), h.end.max(t.end));
        let between = self.text.get(h.end.min(t.end)..h.start.max(t.start));
        // The same heat in another scale stands there at most.
        let plain = |w: &str| {
            matches!(
                w,
                "" | "at"
                    | "for"
                    | "about"
                    | "around"
                    | "another"
                    | "fan"
                    | "gas"
                    | "or"
                    | "c"
                    | "f"
            )
        };
        let words = |s: &str| {
            let all = s.split(|c: char| !c.is_alphabetic());
            all.map(str::to_lowercase).all(|w| plain(&w))
        };
        let mut others = self.facts[heat.min(time)..heat.max(time)].iter();
        let other = others.any(|f| {
            from < f.span.start
                && f.span.end < to
                && !matches!(f.kind, FactKind::Temperature { .. })
        });
        let before = self.text[..h.start].trim_end();
        let at = before.rsplit(|c: char| !c.is_alphabetic()).next() == Some("at");
        at && !other && between.is_some_and(|b| !b.contains(['.', ';']) && words(b))
    }

    /// Adds a temperature, or joins it to the one beside it that it repeats.
    pub(super) fn add_heat(
        &mut self,
        [low, likely, high]: [f64; 3],
        of: Heat,
        scale: Scale,
        i: usize,
        end: usize,
    ) {
        let group = self.group.filter(|g| {
            i - g.end <= 5
                && self.facts.len() - g.from < 8
                && (g.end..i).all(|j| {
                    matches!(
                        self.sign(j),
                        Some('/' | '(' | ')' | ',' | '-' | '–' | '—' | '|' | '[' | ']' | ':' | '~')
                    ) || matches!(
                        self.tag(j),
                        Tag::Or
                            | Tag::To
                            | Tag::Fan
                            | Tag::Oven
                            | Tag::OvenKind
                            | Tag::Gas
                            | Tag::Mark
                    )
                })
        });
        let to = Temperature::celsius;
        let value = Spread::new(to(low), to(likely), to(high));
        if let Some(g) = group {
            let range = i > g.end && (g.end..i).all(|j| self.dash(j) || self.tag(j) == Tag::To);
            let from = self.back(i, 4) == Tag::From || self.span_starts_from(g.from);
            let whole = self.span(i, end);
            let count = self.facts.len();
            for (k, fact) in self.facts.iter_mut().enumerate().skip(g.from) {
                let FactKind::Temperature {
                    value: old,
                    of: kind,
                } = &mut fact.kind
                else {
                    continue;
                };
                if *kind != of {
                    continue;
                }
                let gap = likely - old.likely().as_celsius();
                let joins = if range && scale == g.scale && gap > 0.0 {
                    let (a, b) = (old.low(), to(high));
                    let span = !from;
                    if span {
                        *old = Spread::new(a, to(f64::midpoint(a.as_celsius(), high)), b);
                    }
                    span
                } else {
                    let words = (g.end..i).any(|j| self.t.get(j).is_some_and(|p| p.tag == Tag::To));
                    !words && gap.abs() <= SAME_HEAT && (scale != g.scale || gap == 0.0)
                };
                if joins {
                    if k + 1 == count {
                        fact.span.end = fact.span.end.max(whole.end);
                    }
                    self.group = Some(Group { end, scale, ..g });
                    self.floor = self.floor.max(end);
                    return;
                }
            }
        }
        let from = group.map_or(self.facts.len(), |g| g.from);
        self.push(FactKind::Temperature { value, of }, i, end);
        self.group = Some(Group { from, end, scale });
    }
    /// Whether 'from' stands just before this fact.
    pub(super) fn span_starts_from(&self, fact: usize) -> bool {
        let start = self.facts.get(fact).map_or(0, |f| f.span.start);
        self.text
            .get(..start)
            .is_some_and(|s| s.trim_end().ends_with("from"))
    }

    /// 'gas mark 4', 'gas 4–5', 'mark 4'.
    pub(super) fn gas(&mut self, i: usize) -> Option<usize> {
        let mut j = i + 1;
        if self.tag(i) == Tag::Gas && self.tag(j) == Tag::Mark {
            j += 1;
        }
        if self.dash(j) || self.sign(j) == Some(':') {
            j += 1;
        }
        let mut n = self.number(j)?;
        if GasMark::new(n.last).is_none() || self.scale_at(n.next, n.last).is_some() {
            n = self.single(j)?;
        }
        let timed = matches!(
            self.tag(n.next),
            Tag::Time(..) | Tag::Length(_) | Tag::Mass | Tag::M
        );
        let (a, b) = (
            GasMark::new(n.first)?.temperature(),
            GasMark::new(n.last)?.temperature(),
        );
        if timed {
            return None;
        }
        let (a, b) = (a.as_celsius(), b.as_celsius());
        self.heat = Some(Heat::Oven);
        self.fan = None;
        self.add_heat(
            [a.min(b), f64::midpoint(a, b), a.max(b)],
            Heat::Oven,
            Scale::Gas,
            i,
            n.next,
        );
        Some(n.next)
    }
}
