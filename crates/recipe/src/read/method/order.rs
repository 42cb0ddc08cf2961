//! Orders: what is done.

use super::words::Tag;
use super::{Scan, bit};
use crate::recipe::{Activity, Heat};

impl Scan<'_> {
    /// What a word orders, and whether it stands as an order. What the step forbids ('do not
    /// knead') is no order.
    pub(super) fn order(&self, i: usize) -> Option<(Activity, bool)> {
        let said = self.worded(i);
        said.filter(|_| !self.forbidden(i) && !self.is_why(i))
            .map(|(a, order)| (a, order && !self.is_aim(i)))
    }

    /// 'To bake the frozen rolls, thaw overnight and bake as above': what the sentence is about is ordered behind that.
    fn is_aim(&self, i: usize) -> bool {
        let opens = i == self.opens.1 + 1 && self.back(i, 1) == Tag::To;
        let same = |j: usize| self.word(j).eq_ignore_ascii_case(self.word(i));
        opens
            && (i + 1..self.t.len())
                .take_while(|&j| !self.stops(j))
                .any(same)
    }

    /// 'Make the syrup first so it can cool while you bake: …' says why it is made first.
    fn is_why(&self, i: usize) -> bool {
        let is =
            |j: usize, list: &[&str]| list.iter().any(|w| self.word(j).eq_ignore_ascii_case(w));
        let so = (i.saturating_sub(8).max(self.begin)..i).any(|j| {
            is(j, &["so"])
                && (j + 1..i).any(|k| {
                    is(k, &["it", "they"])
                        && is(k + 1, &["can", "could", "will", "has", "have", "may"])
                })
        });
        let mut rest =
            (i..self.t.len()).take_while(|&j| !self.stops(j) && self.sign(j) != Some(':'));
        so && is(self.sentence_at(i), &["make", "prepare", "start", "begin"])
            && !rest.any(|j| self.is_number(j))
    }

    /// 'do not knead', 'without kneading', 'no need to knead', but not 'do not bake for more
    /// than'.
    fn forbidden(&self, i: usize) -> bool {
        const NO: &[&str] = &[
            "not",
            "never",
            "without",
            "no",
            "avoid",
            "don't",
            "don’t",
            "dont",
            "needn't",
            "needn’t",
            "cannot",
        ];
        let any =
            |j: usize, list: &[&str]| list.iter().any(|w| self.word(j).eq_ignore_ascii_case(w));
        let from = i.saturating_sub(4).max(self.begin);
        let Some(no) = (from..i).rev().find(|&j| any(j, NO)) else {
            return false;
        };
        let still = (no + 1..i).any(|j| any(j, &["stop", "forget", "only", "but"]));
        let limit = any(i + 1, &["for", "longer", "more", "past", "beyond", "until"]);
        !still && !limit
    }

    /// 'Leave to get completely cold', 'let it go cold', not 'leave in a cold place' or 'leave in the cold'.
    fn goes_cold(&self, i: usize) -> bool {
        const LETS: [&str; 4] = ["let", "allow", "leave", "until"];
        let ends = i + 1 >= self.t.len()
            || self.stops(i + 1)
            || self.sign(i + 1).is_some()
            || matches!(self.tag(i + 1), Tag::And | Tag::Then | Tag::Before);
        let left = (self.begin..i).any(|j| {
            self.tag(j) == Tag::Weak || LETS.iter().any(|w| self.word(j).eq_ignore_ascii_case(w))
        });
        let idle = self.clause.is_none_or(|a| a == Activity::Rest);
        ends && left && idle && !matches!(self.back(i, 1), Tag::The | Tag::Article)
    }

    fn worded(&self, i: usize) -> Option<(Activity, bool)> {
        use Activity as A;
        let before = self.back(i, 1);
        let next = self.tag(i + 1);
        let fresh = i == self.begin
            || matches!(before, Tag::And | Tag::Then | Tag::To | Tag::Or)
            || self.sign(i.wrapping_sub(1)) == Some('-');
        let noun = matches!(before, Tag::The | Tag::Article)
            || (1..=3).any(|n| self.back(i, n) == Tag::Before && i >= self.begin + n);
        let floured = next == Tag::And
            && matches!(
                self.tag(i + 2),
                Tag::Flour | Tag::Line | Tag::Done(A::Grease)
            );
        let object = floured
            || matches!(
                next,
                Tag::The | Tag::Article | Tag::Number(_) | Tag::PanKind | Tag::Ing(A::Bake)
            )
            || self.is_number(i + 1) && matches!(self.tag(i), Tag::Line);
        Some(match self.tag(i) {
            Tag::Verb(a) => match (a, next) {
                (A::Rest, Tag::Of | Tag::Thing) => return None,
                (A::Rest, _) if self.remains(i) || self.stands_in(i) => return None,
                (A::Cool, Tag::Thing | Tag::Liquid | Tag::Oven) => return None,
                (A::Rise, _)
                    if before == Tag::Oven || self.back(i, 2) == Tag::Oven && self.joined(i) =>
                {
                    return None;
                }
                (A::Rise, _) if self.ahead(i + 1, 2, |t| t == Tag::Liquid) => (A::Rest, !noun),
                (A::Boil, _) if self.back(i, 2) == Tag::To => (a, true),
                (A::Boil, _) if self.fries(i) => (A::Fry, !noun),
                (A::Bake, _) if self.bakes_on_a_stone(i) => (A::Fry, !noun),
                (A::RubIn, _) if self.greases(i) => (A::Grease, !noun),
                (A::Dust, _) => return self.dusts(i).then_some((a, true)),
                (A::Windowpane, _) => (a, true),
                _ => (a, !noun),
            },
            Tag::Ing(_)
                if matches!(
                    next,
                    Tag::Thing | Tag::Pan | Tag::PanKind | Tag::Cream | Tag::Liquid
                ) =>
            {
                return None;
            }
            Tag::Ing(a) => (a, false),
            Tag::Start(A::Boil) if self.word(i).eq_ignore_ascii_case("heat") && fresh => {
                // 'Put a skillet in the oven and heat to 425'.
                let stands = self.tag(i + 1) == Tag::To
                    && self.is_number(i + 2)
                    && (self.sentence_at(i)..i).any(|j| self.tag(j) == Tag::Oven);
                let oven = stands || self.ahead(i + 1, 4, |t| matches!(t, Tag::Oven));
                // 'Heat slowly until the butter has melted' fries nothing.
                let until = |j: usize| self.word(j).eq_ignore_ascii_case("until");
                let pan = (i + 1..i + 5)
                    .take_while(|&j| !self.stops(j) && self.tag(j) != Tag::Liquid && !until(j))
                    .any(|j| self.is_frying_pan(j) || self.tag(j) == Tag::Fat);
                let what = if self.heats_fat_in_oven(i) {
                    A::Melt
                } else if oven {
                    A::Preheat
                } else if pan {
                    A::Fry
                } else {
                    A::Boil
                };
                (what, true)
            }
            Tag::Stretch
                if fresh
                    && !self.ahead(i + 1, 8, |t| {
                        matches!(t, Tag::Verb(A::Fold) | Tag::Ing(A::Fold) | Tag::Window)
                    }) =>
            {
                (A::Shape, true)
            }
            Tag::GoneCold if self.goes_cold(i) => (A::Cool, true),
            Tag::Start(a) if fresh && self.sign(i + 1) != Some(':') => (a, true),
            Tag::Beat if noun => (A::Mix, false),
            Tag::Beat => {
                let near = |f: fn(Tag) -> bool| self.ahead(i + 1, 12, f);
                let foam = near(|t| t == Tag::Foam);
                let butter = near(|t| t == Tag::Fat);
                (
                    if foam && butter {
                        A::Cream
                    } else if foam {
                        A::Whip
                    } else {
                        A::Mix
                    },
                    true,
                )
            }
            Tag::Cream if before != Tag::The && matches!(next, Tag::The | Tag::Fat) => {
                (A::Cream, true)
            }
            Tag::Cream if fresh && self.word(i + 1).eq_ignore_ascii_case("together") => {
                (A::Cream, true)
            }
            Tag::Roll if next == Tag::Up => (A::Shape, true),
            Tag::Roll
                if !matches!(next, Tag::Pan)
                    && (fresh || self.word(i + 1).eq_ignore_ascii_case("out")) =>
            {
                (A::Roll, !noun)
            }
            Tag::Line if object && !noun => (A::Grease, true),
            Tag::Fat
                if object
                    && (fresh || self.word(i.wrapping_sub(1)).eq_ignore_ascii_case("lightly")) =>
            {
                (A::Grease, true)
            }
            Tag::Flour | Tag::Floured => return self.floured(i, fresh).then_some((A::Dust, true)),
            Tag::Cut if next == Tag::In && matches!(self.tag(i + 2), Tag::The | Tag::Fat) => {
                (A::RubIn, true)
            }
            Tag::Form if !noun && matches!(next, Tag::Into | Tag::The) => (A::Shape, true),
            Tag::Work if next == Tag::The && self.word(i + 2).eq_ignore_ascii_case("dough") => {
                (A::Knead, true)
            }
            Tag::Knock if !noun => {
                let down = (i + 1..i + 5).any(|j| {
                    ["back", "down", "dough", "air", "out"]
                        .iter()
                        .any(|w| self.word(j).eq_ignore_ascii_case(w))
                });
                return down.then_some((A::KnockBack, true));
            }
            Tag::Wash if i > 0 && self.word(i - 1).eq_ignore_ascii_case("egg") => (A::Brush, true),
            Tag::Pane => {
                let apart =
                    before == Tag::Window || self.back(i, 2) == Tag::Window && self.joined(i);
                return apart.then_some((A::Windowpane, true));
            }
            _ => return None,
        })
    }

    /// Whether 'rest' is what remains: 'stir in rest', 'stir rest', 'bake the rest at 160 °C', 'add the eggs one at a
    /// time, then rest.'
    fn remains(&self, i: usize) -> bool {
        let is =
            |j: usize, list: &[&str]| list.iter().any(|w| self.word(j).eq_ignore_ascii_case(w));
        if !is(i, &["rest"]) {
            return false;
        }
        let before = i.wrapping_sub(1);
        let does = |j: usize| is(j, &["in", "add", "stir", "fold", "mix", "whisk", "beat"]);
        // 'Bake the rest', not 'after the rest'.
        let object = i > 1 && is(before, &["the"]) && {
            let verb = self.tag(i - 2);
            does(i - 2)
                || matches!(verb, Tag::Verb(_) | Tag::Beat | Tag::Roll | Tag::Cut)
                || is(i - 2, &["over", "spoon", "pour", "spread", "use", "with"])
        };
        let put = does(before) || object;
        // No time: with one it is a wait.
        let ends = i + 1 >= self.t.len() || self.stops(i + 1) || self.sign(i + 1) == Some(',');
        let mut said = self.sentence_at(i)..before;
        let bit_by_bit = |j: usize| {
            is(j, &["one"]) && is(j + 1, &["at"]) || is(j, &["half", "third", "gradually"])
        };
        let puts = |j: usize| is(j, &["add", "in"]);
        put || ends && is(before, &["then"]) && said.clone().any(puts) && said.any(bit_by_bit)
    }

    /// 'Divide among the ramekins, stand in a roasting tin': where they are put, and no wait.
    fn stands_in(&self, i: usize) -> bool {
        let is =
            |j: usize, list: &[&str]| list.iter().any(|w| self.word(j).eq_ignore_ascii_case(w));
        let begins = i == self.begin || matches!(self.back(i, 1), Tag::And | Tag::Then);
        let named = is(i + 1, &["the", "them", "each", "it"]);
        let on = if named { i + 2..i + 4 } else { i + 1..i + 2 };
        let on = on.into_iter().find(|&j| is(j, &["in", "on", "inside"]));
        let tin = |j: usize| matches!(self.tag(j), Tag::Pan | Tag::PanAlone | Tag::PanKind);
        begins && is(i, &["stand"]) && on.is_some_and(|on| (on + 2..on + 5).any(tin))
    }

    /// Where the sentence of a piece begins.
    pub(super) fn sentence_at(&self, i: usize) -> usize {
        let begins = |j: &usize| self.stops(*j) || self.sign(*j) == Some(';');
        (0..i).rev().find(begins).map_or(0, |j| j + 1)
    }

    /// Takes note of an order or of an '-ing'.
    pub(super) fn act(&mut self, i: usize, a: Activity, order: bool) {
        let before = self.back(i, 1);
        let after_comma = i > 0 && self.sign(i - 1) == Some(',');
        let aside = !order && (after_comma || matches!(before, Tag::Before | Tag::Until));
        let names = !matches!(
            a,
            Activity::Windowpane | Activity::Dust | Activity::KnockBack
        );
        if names && (self.last.is_none() || !aside) {
            self.last = Some(a);
            self.weak = false;
            self.clause = Some(a);
        }
        if names {
            for at in std::mem::take(&mut self.waiting) {
                self.name_time(at, a);
            }
            if let Some((at, true)) = self.resting
                && matches!(
                    a,
                    Activity::Rise
                        | Activity::Rest
                        | Activity::Chill
                        | Activity::Cool
                        | Activity::Freeze
                )
            {
                self.name_time(at, a);
                self.resting = None;
            }
        }
        match a {
            Activity::Bake | Activity::Preheat => self.heat = Some(Heat::Oven),
            Activity::Fry | Activity::Melt if order => self.heat = Some(Heat::Other),
            Activity::Boil if order && !self.goes_into_an_oven(i) => self.heat = Some(Heat::Other),
            Activity::Rise => self.grow = true,
            _ => {}
        }
        if order {
            self.note(
                a,
                if a == Activity::Windowpane && self.tag(i) == Tag::Pane {
                    i - 1
                } else {
                    i
                },
                i + 1,
            );
        }
    }
    pub(super) fn note(&mut self, a: Activity, from: usize, to: usize) {
        if self.seen & bit(a) == 0 {
            self.seen |= bit(a);
            self.doing.push((a, from, to));
        }
    }

    /// Whether the oven at `i` is off or open: 'leave in the oven with the door ajar', 'Turn off the oven. Leave in
    /// the oven'.
    fn oven_cools(&self, i: usize) -> bool {
        const TURNS: [&str; 8] = [
            "turn", "turned", "turning", "switch", "switched", "oven", "heat", "it",
        ];
        const OPEN: [&str; 5] = ["open", "opened", "cracked", "propped", "wedged"];
        const NOT: [&str; 5] = ["not", "never", "without", "don't", "don’t"];
        let is =
            |j: usize, list: &[&str]| list.iter().any(|w| self.word(j).eq_ignore_ascii_case(w));
        let begin = self.sentence_at(i);
        let end = (i..self.t.len())
            .find(|&j| self.stops(j))
            .unwrap_or(self.t.len());
        let off = |j: usize| {
            is(j, &["off"]) && ((j > 0 && is(j - 1, &TURNS)) || is(j + 1, &["the", "oven", "heat"]))
        };
        let before = self.sentence_at(begin.saturating_sub(1))..begin;
        let mut said = begin..end;
        let door = said.clone().any(|j| is(j, &["door"])) && !said.clone().any(|j| is(j, &NOT));
        before.into_iter().any(off)
            || said.any(|j| off(j) || is(j, &["ajar", "cooling"]) || door && is(j, &OPEN))
    }

    /// 'in the fridge', 'into the oven': a place that says what is done.
    pub(super) fn place(&mut self, i: usize, a: Activity) {
        // 'Return to the turned-off oven': it dries there.
        let off = i > 0 && self.word(i - 1).to_lowercase().ends_with("off");
        let put = (1..=6).any(|n| matches!(self.back(i, n), Tag::In | Tag::Into | Tag::To));
        let left = self.weak && self.oven_cools(i);
        if a == Activity::Bake && (off || left) && put {
            self.act(i, Activity::Rest, true);
            return;
        }
        let at = (1..=3)
            .map(|n| self.back(i, n))
            .find(|t| !matches!(t, Tag::The | Tag::Article | Tag::None | Tag::Done(_)));
        if !matches!(at, Some(Tag::In | Tag::Into | Tag::To)) {
            return;
        }
        let kept = match a {
            Activity::Bake => self.clause.is_some_and(|c| {
                matches!(
                    c,
                    Activity::Rise
                        | Activity::Rest
                        | Activity::Cool
                        | Activity::Preheat
                        | Activity::Melt
                        | Activity::Chill
                )
            }),
            _ => self.clause.is_some_and(|c| {
                matches!(
                    c,
                    Activity::Rise
                        | Activity::Rest
                        | Activity::Cool
                        | Activity::Freeze
                        | Activity::Chill
                )
            }),
        };
        if kept && !self.weak {
            if a != Activity::Bake {
                self.note(a, i, i + 1);
            }
            return;
        }
        if a == Activity::Bake {
            // 'Cook in the oven' is a bake and nothing on the stove before.
            if self.clause == Some(Activity::Boil) {
                self.cooks_there(self.begin);
            }
            (self.last, self.weak) = (Some(a), false);
            for at in std::mem::take(&mut self.waiting) {
                self.name_time(at, a);
            }
        } else {
            self.act(i, a, true);
        }
    }
}
