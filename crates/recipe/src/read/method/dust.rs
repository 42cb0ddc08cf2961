//! Flour on the bench, fat in the pan: words that are orders only beside others.

use super::Scan;
use super::words::Tag;
use crate::recipe::{Activity, FactKind};

/// What flour is strewn on so that dough does not stick.
const SURFACES: &[&str] = &[
    "bench",
    "board",
    "counter",
    "countertop",
    "worktop",
    "surface",
    "table",
    "pin",
    "mat",
    "peel",
    "hands",
    "basket",
    "banneton",
    "cloth",
];
/// Words before 'flour' that say it is not wheat's.
const OTHER_FLOURS: &[&str] = &[
    "rice", "corn", "maize", "potato", "tapioca", "almond", "coconut", "chickpea", "free",
];
const FRYING: &[&str] = &[
    "skillet",
    "skillets",
    "griddle",
    "girdle",
    "bakestone",
    "fry",
    "frying",
    "flip",
    "wok",
    "frypan",
];

impl Scan<'_> {
    fn is(&self, i: usize, list: &[&str]) -> bool {
        list.iter().any(|w| self.word(i).eq_ignore_ascii_case(w))
    }

    fn is_surface(&self, i: usize) -> bool {
        self.is(i, SURFACES) || matches!(self.tag(i), Tag::Pan | Tag::PanAlone)
    }

    /// Flour at `i` that may be wheat's.
    fn is_wheat(&self, i: usize) -> bool {
        self.tag(i) == Tag::Flour && !(1..=2).any(|n| i >= n && self.is(i - n, OTHER_FLOURS))
    }

    /// The rest of the sentence, at most `n` pieces.
    fn rest(&self, from: usize, n: usize) -> impl Iterator<Item = usize> {
        (from..self.t.len().min(from + n))
            .take_while(|&j| !self.stops(j) && self.tag(j) != Tag::Then)
    }

    /// Whether 'dust' at `i` is for the bench, the board, the tin or the dough, with flour. Not
    /// 'dust with icing sugar', not the flour dusted into a sauce.
    pub(super) fn dusts(&self, i: usize) -> bool {
        let with = self.rest(i + 1, 16).find(|&j| self.is(j, &["with"]));
        if let Some(with) = with {
            return self.rest(with + 1, 6).any(|j| self.is_wheat(j));
        }
        let flour = self.rest(i + 1, 6).find(|&j| self.tag(j) == Tag::Flour);
        match flour {
            Some(j) => self.is_wheat(j) && self.strewn(j),
            None => self.rest(i + 1, 6).any(|j| self.is_surface(j)),
        }
    }

    /// 'flour over the counter'.
    fn strewn(&self, i: usize) -> bool {
        self.is(i + 1, &["over", "on", "onto"])
            && self
                .rest(i + 2, 4)
                .any(|j| self.is(j, SURFACES) || self.tag(j) == Tag::Pan)
    }

    /// 'flour the board', 'a floured counter', 'the counter with flour'.
    pub(super) fn floured(&self, i: usize, fresh: bool) -> bool {
        if self.tag(i) == Tag::Floured {
            return self.rest(i + 1, 4).any(|j| self.is_surface(j));
        }
        let fresh = fresh
            || i == self.begin + 1
                && self.is(i - 1, &["lightly", "well", "generously", "liberally"]);
        let next = matches!(
            self.tag(i + 1),
            Tag::The | Tag::Article | Tag::Number(_) | Tag::PanKind
        ) || self.is_number(i + 1);
        if fresh && next {
            return true;
        }
        if !self.is_wheat(i) {
            return false;
        }
        let with = (1..=4).find(|&n| i >= n && self.is(i - n, &["with"]));
        let before = with.is_some_and(|n| {
            let at = i - n;
            (at.saturating_sub(4).max(self.begin)..at).any(|j| self.is(j, SURFACES))
        });
        before || self.strewn(i)
    }

    /// 'rub the pan with a little butter' greases; 'rub the butter into the flour' does not.
    pub(super) fn greases(&self, i: usize) -> bool {
        let into = self.rest(i + 1, 12).any(|j| {
            matches!(self.tag(j), Tag::In | Tag::Into) || self.is(j, &["together", "through"])
        });
        let with = self.rest(i + 1, 8).find(|&j| self.is(j, &["with"]));
        !into && with.is_some_and(|w| self.rest(w + 1, 4).any(|j| self.tag(j) == Tag::Fat))
    }

    pub(super) fn is_frying_pan(&self, i: usize) -> bool {
        let before = |list: &[&str]| i > 0 && self.is(i - 1, list);
        // A waffle iron; no cast iron pot.
        let iron = self.is(i, &["iron", "irons"]) && !before(&["cast", "wrought"]);
        self.is(i, FRYING) || iron || self.is(i, &["maker"]) && before(&["waffle"])
    }

    /// Whether 'heat' at `i` is done to fat in the oven: 'heat the dripping in a tin in the oven', 'put the oil in
    /// the tin and heat in the oven'.
    pub(super) fn heats_fat_in_oven(&self, i: usize) -> bool {
        let into = |j: usize| (1..=3).any(|n| matches!(self.back(j, n), Tag::In | Tag::Into));
        let mut rest = self.rest(i + 1, 16);
        let oven = rest.any(|j| self.tag(j) == Tag::Oven && into(j));
        let mut said = self.sentence_at(i)..(i + 6).min(self.t.len());
        // 'In each hole of a muffin tin and heat': such a tin stands on no stove.
        let tin = said
            .clone()
            .any(|j| self.is(j, &["muffin", "hole", "holes", "patty"]));
        (oven || tin) && said.any(|j| self.is_fat(j))
    }

    fn is_fat(&self, i: usize) -> bool {
        self.tag(i) == Tag::Fat || self.is(i, &["dripping", "fat", "ghee", "lard", "suet"])
    }

    /// Whether 'cook' at `i` means frying: in a skillet, in fat melted just before, or one side and then
    /// the other.
    pub(super) fn fries(&self, i: usize) -> bool {
        const EACH: [&str; 6] = ["a", "both", "each", "other", "per", "second"];
        let mut rest = self.rest(i + 1, 16);
        let mut sides = || rest.any(|j| self.is(j, &["side", "sides"]) && self.is(j - 1, &EACH));
        self.is(i, &["cook"]) && (self.frying || self.hot_fat || sides())
    }

    /// Whether a time is longer than one stands over a pan for: what is done for less has a verb of its own, as 'brown the
    /// butter over a medium heat, 6 minutes' (common practice, no source: 20 minutes).
    pub(super) fn is_long(&self, at: usize) -> bool {
        matches!(self.facts[at].kind, FactKind::Duration { value, .. } if value.high().as_minutes() > 20.0)
    }

    /// Whether the sentence that ends before `end` sets something over a heat: 'soften the leeks over a low heat, about
    /// 25 minutes'.
    pub(super) fn is_over_heat(&self, end: usize) -> bool {
        let heat = |j: usize| {
            self.is(j, &["heat", "flame"])
                && (2..=4).any(|n| j >= self.opens.1 + n && self.is(j - n, &["on", "over"]))
        };
        (self.opens.1..end.min(self.t.len())).any(heat)
    }

    /// Whether 'bake' at `i` is done on the stove: its step speaks of a griddle and of no oven, and it has no heat.
    pub(super) fn bakes_on_a_stone(&self, i: usize) -> bool {
        const STONES: [&str; 3] = ["griddle", "girdle", "bakestone"];
        let all = 0..self.t.len();
        let oven = all.clone().any(|j| self.tag(j) == Tag::Oven);
        let mut rest = self.rest(i + 1, 8);
        let heat = rest.any(|j| self.tag(j) == Tag::At && self.is_number(j + 1));
        !oven && !heat && all.into_iter().any(|j| self.is(j, &STONES))
    }

    /// Takes note of fat that is melted or heated, and of liquid that ends the frying.
    pub(super) fn note_fat(&mut self, i: usize) {
        match self.tag(i) {
            Tag::Fat if matches!(self.last, Some(Activity::Melt | Activity::Fry)) => {
                self.hot_fat = true;
            }
            Tag::Liquid => self.hot_fat = false,
            _ => {}
        }
    }
}
