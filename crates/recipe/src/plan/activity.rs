//! One activity of a step as a stretch: how it is called, its minutes, and where it waits.

use super::deed::greases;
use super::step::{Cut, Draft, capital, clause_at, has, named, stops};
use super::stove::of_the_stove;
use super::stretch::join;
use super::table;
use super::task::{Basis, Span, Wait};
use super::waits::of_both_sides;
use crate::recipe::{Activity, Step};
use crate::sentences::{sentence, words};

/// Where fat is heated in the oven: in it, or in a tin that stands on no stove.
const IN_THE_OVEN: [&str; 6] = [
    "in the oven",
    "into the oven",
    "in the hot oven",
    "muffin",
    "hole",
    "patty tin",
];

/// What warm liquid is to cool to.
const LUKEWARM: [&str; 4] = ["lukewarm", "tepid", "hand-hot", "blood heat"];

/// What is said of what need not be cold.
const SLIGHTLY: [&str; 5] = [
    "cool a little",
    "cool slightly",
    "slightly cool",
    "cool briefly",
    "cool a bit",
];

/// What boils or steams so long, min, is left to it but for a glance (common practice, no source).
const GLANCES: f64 = 25.0;

/// An unnamed time longer than this is no work.
const LONG_WORK: f64 = 20.0;

impl Cut<'_> {
    /// A time that no activity is said for: work where it is short, else a wait.
    pub(super) fn unnamed(&self, out: &mut Vec<Draft>, stated: Option<Span>, at: usize) {
        let Some(span) = stated else { return };
        let mut draft = Draft::usual(table::of("other"), "");
        draft.at = at;
        if span.most <= LONG_WORK {
            draft.hands = span;
            draft.hands_basis = Basis::Said;
        } else {
            draft = Draft::usual(table::of("rest"), "Wait");
            draft.at = at;
            draft.wait = draft.wait.map(|w| Wait { span, ..w });
            draft.wait_basis = Basis::Said;
        }
        join(out, draft);
    }

    /// One activity.
    pub(super) fn stretch(
        &self,
        step: &Step,
        a: Activity,
        stated: Option<Span>,
        at: usize,
    ) -> Draft {
        let said = sentence(&step.text, at);
        let word = of_the_stove(&step.text, at).filter(|_| a == Activity::Boil);
        let name = word.map_or_else(|| named(a), capital);
        let mut d = Draft::usual(table::of(table::key(a)), &name);
        d.at = at;
        if d.is_work() {
            let (begin, end) = stops(step);
            let (from, to) = clause_at(&step.text, at, (&begin, &end));
            // What a verb is done to stands behind it; a time stands behind both.
            let from = if stated.is_none() { at } else { from };
            let clause = step.text.get(from..to).unwrap_or(said);
            d.name = match a {
                Activity::Grease => greases(&step.text, at, clause),
                Activity::Brush if words(clause).iter().any(|w| w == "twice") => {
                    format!("{} twice", self.objects.with(&d.name, clause))
                }
                _ => self.objects.with(&d.name, clause),
            };
        }
        if a == Activity::Melt && has(said, &IN_THE_OVEN) {
            return self.fat_in_the_oven(step, (said, at), stated);
        }
        if beats_flat(a, said) {
            d = Draft::usual(table::of("roll"), "Beat butter flat");
            d.at = at;
        }
        if a == Activity::Grease && self.lines_with(said) {
            d = Draft::usual(table::of("assemble"), &self.objects.with("Line", said));
        }
        // Milk for a dough: a pan of it, not a bake.
        if a == Activity::Cool && has(said, &LUKEWARM) {
            d = Draft::usual(table::of("cool_liquid"), &named(a));
            d.at = at;
        }
        if a == Activity::Cool && stated.is_none() && has(said, &SLIGHTLY) {
            d = Draft::usual(table::of("cool_slightly"), "Cool a little");
            d.at = at;
        }
        if a == Activity::Shape
            && has(
                said,
                &["divide between", "divide among", "divide the batter"],
            )
        {
            d = Draft::usual(table::of("other"), &self.divides(said));
        }
        if let Some(fresh) = self.kneading(step, a, stated) {
            return Draft { at, ..fresh };
        }
        let mut stated = stated;
        if let Some(one) = stated.filter(|_| a == Activity::Boil)
            && let Some((all, words)) = self.in_panfuls(said, of_both_sides(said, one))
        {
            stated = Some(all);
            d.notes.push(words);
        }
        if let Some(span) = stated.filter(|s| a == Activity::Boil && s.least >= GLANCES) {
            self.left_on_the_stove(&mut d, step, span);
            return d;
        }
        match (&mut d.wait, stated) {
            (None, Some(span)) if a == Activity::Fry => self.fry(&mut d, said, span),
            (None, Some(span)) => {
                d.hands = span;
                d.hands_basis = Basis::Said;
            }
            (Some(wait), Some(span)) => {
                wait.span = span;
                d.wait_basis = Basis::Said;
            }
            _ => {}
        }
        let fried = a == Activity::Fry && stated.is_some();
        if table::of(d.what).grows && d.hands_basis == Basis::Guess && !fried {
            d.hands = d.hands.times(self.factor.max(0.5));
        }
        match a {
            Activity::Rise => self.rise(&mut d, step, stated),
            Activity::Rest | Activity::Chill | Activity::Freeze => {
                self.rest(&mut d, step, a, stated, said);
            }
            Activity::Cool => self.cool(&mut d, step, stated, said),
            Activity::Bake => self.bake(&mut d, step, at),
            _ => {}
        }
        d
    }

    /// 'Heat the dripping in the oven for 5 minutes': it waits there, in the oven of the next bake.
    fn fat_in_the_oven(
        &self,
        step: &Step,
        (said, at): (&str, usize),
        stated: Option<Span>,
    ) -> Draft {
        const FATS: [&str; 7] = ["butter", "dripping", "fat", "ghee", "lard", "oil", "suet"];
        let words = words(said);
        let fat = words.iter().find(|w| FATS.contains(&w.as_str()));
        let name = format!("Heat the {} in the oven", fat.map_or("fat", String::as_str));
        let mut d = Draft::usual(table::of("heat_fat"), &name);
        d.at = at;
        let next = self
            .bakes
            .iter()
            .find(|b| (b.step, b.at) > (step.number, at));
        if let Some(wait) = &mut d.wait {
            wait.oven = next.and_then(|b| b.oven).map(|t| t.as_celsius());
            if let Some(span) = stated {
                (wait.span, d.wait_basis) = (span, Basis::Said);
            }
        }
        d
    }

    /// What is divided stands before 'between': 'Divide the batter among the cups and top with the streusel'.
    fn divides(&self, said: &str) -> String {
        let said = said.to_lowercase();
        let what = said.split_once("divide ").map_or("", |(_, what)| what);
        let what = what.split(" between ").next().unwrap_or_default();
        let what = what.split(" among ").next().unwrap_or_default();
        let batter = words(what).iter().any(|w| w == "batter");
        match self.objects.with("Divide", what) {
            bare if bare == "Divide" && batter => "Divide batter".to_owned(),
            named => named,
        }
    }

    /// 'Line the dish with two thirds of the pastry': the pastry goes in, not paper.
    fn lines_with(&self, said: &str) -> bool {
        let said = said.to_lowercase();
        let with = said
            .split_once("line ")
            .and_then(|(_, rest)| rest.split_once(" with "));
        let on = with.map_or("", |(_, on)| on);
        let on = on.split([',', ';']).next().unwrap_or_default();
        has(on, &["pastry", "dough", "crust"])
    }

    /// A dough without gluten is mixed, not kneaded.
    fn kneading(&self, step: &Step, a: Activity, stated: Option<Span>) -> Option<Draft> {
        if a != Activity::Knead || !self.ruled("no kneading", step.number) {
            return None;
        }
        let mut d = if self.yeast_dough() {
            Draft::usual(table::of("paste"), "Mix to a paste")
        } else {
            Draft::usual(table::of("fold"), "Bring together")
        };
        d.hands_basis = Basis::Reworked;
        d.was = Some(stated.map_or("knead".to_owned(), |s| {
            format!("knead, {}", super::own::span_words(s))
        }));
        Some(d)
    }
}

/// A butter that is folded in is beaten flat, not mixed.
pub(super) fn beats_flat(a: Activity, said: &str) -> bool {
    const FLAT: [&str; 5] = ["square", "rectangle", "slab", "block", " flat"];
    a == Activity::Mix && has(said, &["butter"]) && has(said, &FLAT)
}

/// What is fried in deep oil waits until that is hot; nobody leaves it meanwhile.
pub(super) fn heats_oil(text: &str, out: &mut Vec<Draft>) {
    let Some(fry) = out.iter().position(|d| d.what == "fry") else {
        return;
    };
    let to = sentence(text, out[fry].at);
    let to = to.as_ptr() as usize - text.as_ptr() as usize + to.len();
    let said = words(&text[..to]);
    let hot = said.windows(2).any(|w| {
        let degrees = w[0].parse::<u32>().is_ok_and(|n| n >= 120);
        degrees && matches!(w[1].as_str(), "c" | "f" | "degree")
    });
    let glued = said.iter().any(|w| {
        let degrees = w.strip_suffix(['c', 'f']);
        degrees
            .and_then(|n| n.parse::<u32>().ok())
            .is_some_and(|n| n >= 120)
    });
    let fat = said
        .iter()
        .any(|w| matches!(w.as_str(), "oil" | "fat" | "lard" | "dripping"));
    let deep = said.iter().any(|w| w == "deep");
    let in_oven = said.iter().any(|w| w == "oven");
    // 'Heat the oil' may be told there as work already.
    let told = |d: &Draft| has(&d.name, &["heat oil", "heat the oil"]);
    if out[..fry].iter().any(told) {
        return;
    }
    if in_oven || !(deep || fat && (hot || glued)) {
        return;
    }
    let mut d = Draft::usual(table::of("heat_oil"), "Heat the oil");
    d.at = out[fry].at.saturating_sub(1);
    out.insert(fry, d);
}
