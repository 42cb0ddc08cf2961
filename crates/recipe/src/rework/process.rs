//! What changes in time and heat: rest, rises, oven, core temperature, as data. How to do it at
//! which step is the method notes' part.

use super::engine::Work;
use super::method::shape::{Rolled, WET};
use super::method::{
    Setting, Stage, all_minutes, longer, others, rest, sets_a_custard, settings, stages,
};
use super::reworked::Kept;
use super::style::{Style, StyleRange};
use super::sums::figure;
use crate::recipe::{Activity, Fact, FactKind, Heat, Step};
use quantity::{GasMark, OvenSetting, Spread, Temperature, Time};

const PRACTICE: &str = "common practice, no source";
/// More stages than this are batches, not one bake.
const STAGES: usize = 4;

impl Work<'_> {
    /// Adds the changes of rest, rises, oven and core temperature.
    pub(super) fn process(&mut self, style: Style) {
        // A poolish or a starter is mixed and kept, no more.
        if self.weighed.beforehand.is_some() {
            return;
        }
        self.rest(style);
        if style.is_yeast_dough() {
            if self.risen(self.original.ratios()).yeast > 0.0 {
                self.rises(style);
            }
            self.balls();
        }
        if style.is_baked() {
            self.oven();
            self.core(style);
        }
    }

    fn facts(&self) -> impl Iterator<Item = &Fact> {
        self.steps.iter().flat_map(|s| &s.facts)
    }

    fn rest(&mut self, style: Style) {
        let recipe = &self.formula.recipe;
        let rest = rest::of(
            recipe,
            self.at,
            &self.steps,
            style,
            self.is_bound(),
            self.raised(),
            self.spoils(),
        );
        let Some(rest) = rest else { return };
        self.rest_time = Some(rest.time());
        let (from, to, range) = rest.change();
        self.change("rest", from, to, range, rest.why, &rest.source);
    }

    /// Whether egg or milk is in it.
    fn spoils(&self) -> bool {
        let mut live = self.lines.iter().filter(|l| l.kept != Kept::Dropped);
        live.any(|l| l.food.is_some_and(|f| self.larder.food(f).spoils()))
    }

    /// Balls and strands of a dough too wet to roll.
    fn balls(&mut self) {
        let wet = self.balance().hydration.map_or(0.0, |h| h.likely().get());
        let asked = self.steps.iter().find_map(|s| Rolled::of(&s.text));
        if let Some(rolled) = asked.filter(|_| wet > WET) {
            let what = rolled.word();
            self.change(
                "shaping",
                what.to_owned(),
                rolled.instead().to_owned(),
                None,
                &format!("at {wet:.0} % hydration the dough is too soft to roll into {what}"),
                PRACTICE,
            );
        }
    }

    fn rises(&mut self, style: Style) {
        let count = self
            .steps
            .iter()
            .filter(|s| {
                let grows = |f: &Fact| matches!(f.kind, FactKind::RiseTo(_));
                let mut facts = s.facts.iter();
                facts.any(|f| f.does(Activity::Rise) || grows(f))
            })
            .count();
        if let Some(r) = style.range("rises")
            && count > 0
        {
            let to = r.value.likely().get();
            if count as f64 > to {
                self.change(
                    "rises",
                    count.to_string(),
                    format!("{to:.0}"),
                    Some(whole(r)),
                    "gas that is knocked out does not come back: shape, then let it rise once",
                    &r.cited(),
                );
            }
        }
        let asked = self.facts().find_map(|f| match f.kind {
            FactKind::RiseTo(x) => Some(x),
            _ => None,
        });
        if let Some(r) = style.range("proof_x") {
            let v = r.value;
            self.change(
                "end of the rise",
                asked.map_or("not said".to_owned(), |x| {
                    format!("{x:.1} times the volume")
                }),
                format!("{:.1} times the volume", v.likely().get()),
                Some(format!("{:.1}–{:.1} times", v.low().get(), v.high().get())),
                "without gluten a dough tears when it is blown up further",
                &r.cited(),
            );
        }
    }

    fn oven(&mut self) {
        let settings = settings(&self.formula.recipe);
        let recipe = &self.formula.recipe;
        let goes_longer = |s: &Step, at: usize| !sets_a_custard(recipe, s, at);
        let mut all = stages(&settings, self.steps.iter().copied(), goes_longer);
        if all.len() > STAGES {
            let longest = |s: &Stage| s.times.iter().map(|t| t.likely().as_minutes()).sum::<f64>();
            all.sort_by(|a, b| longest(b).total_cmp(&longest(a)));
            all.truncate(1);
        }
        if all.is_empty() {
            return;
        }
        let from: Vec<String> = all
            .iter()
            .map(|s| {
                let times = all_minutes(&s.times);
                s.oven.map_or(times.clone(), |o| {
                    let mark = GasMark::nearest(o.temperature).filter(|_| o.gas);
                    let gas = mark.map_or(String::new(), |m| format!(" (gas {m})"));
                    format!("{}{gas}, {times}", dial(o.temperature))
                })
            })
            .collect();
        let to: Vec<String> = all
            .iter()
            .map(|s| {
                let times: Vec<Spread<Time>> = s.times.iter().map(|t| longer(*t)).collect();
                becomes(s, &all_minutes(&times))
            })
            .collect();
        let arithmetic: Vec<String> = all.iter().flat_map(heat_sums).collect();
        self.change(
            "oven",
            from.join(", then "),
            to.join(", then "),
            Some("oven 0–10 °C lower, 10–25 % longer".to_owned()),
            "starch sets late and the crumb holds more water; doneness decides, not the clock",
            PRACTICE,
        )
        .sums(arithmetic);
    }

    fn core(&mut self, style: Style) {
        let Some(([low, likely, high], r)) = style.core() else {
            return;
        };
        let stated = self.facts().find_map(|f| match &f.kind {
            FactKind::Temperature {
                value,
                of: Heat::Core,
            } => Some(value.likely()),
            _ => None,
        });
        self.change(
            "core temperature",
            stated.map_or("not said".to_owned(), |t| {
                format!("{:.0} °C", t.as_celsius())
            }),
            format!("{likely:.0} °C"),
            Some(format!(
                "{low:.0}–{high:.0} °C, never above your boiling point less 1.5 °C"
            )),
            match style.key() {
                "frangipane" => "egg sets it, and the flour in it; higher up water boils cooler",
                _ => "the middle is done when its starch has set; higher up water boils cooler",
            },
            &r.cited(),
        );
    }
}

fn dial(t: Temperature) -> String {
    format!("{:.0} °C", OvenSetting(t).dialled().as_celsius())
}

/// What a stage in the oven becomes: its oven, and the time it takes then.
pub(super) fn becomes(stage: &Stage, time: &str) -> String {
    stage.oven.map_or(time.to_owned(), |o| {
        let (low, high) = o.allowed();
        let others = others(o, true);
        format!("{} to {} ({others}), {time}", dial(low), dial(high))
    })
}

/// The same in an oven that the baker chose.
pub(super) fn in_another_oven(oven: Setting, time: &str) -> String {
    format!("{}, {time}", dial(oven.temperature))
}

/// What a stage in the oven becomes, in figures.
fn heat_sums(stage: &Stage) -> Vec<String> {
    let mut lines = Vec::new();
    if let Some(o) = stage.oven {
        let (low, dialled) = o.allowed();
        let both = |t: Temperature| {
            let f = OvenSetting(t).beside_celsius();
            format!("{} °C ({f} °F)", figure(t.as_celsius()))
        };
        lines.push(format!("{} − 10 °C = {}", both(dialled), both(low)));
    }
    for t in &stage.times {
        for (m, factor) in [(t.low(), 1.1), (t.high(), 1.25)] {
            let m = m.as_minutes();
            lines.push(format!(
                "{} min × {} = {} min",
                figure(m),
                figure(factor),
                figure(m * factor)
            ));
        }
    }
    lines
}

fn whole(r: &StyleRange) -> String {
    let (l, h) = (r.value.low().get(), r.value.high().get());
    if l == h {
        format!("{l:.0}")
    } else {
        format!("{l:.0}–{h:.0}")
    }
}
