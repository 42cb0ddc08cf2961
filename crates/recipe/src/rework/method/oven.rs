//! The oven, setting by setting through the whole method, and the one each bake stands in.

use crate::recipe::{Fact, FactKind, Heat, Recipe, Step};
use quantity::{GasMark, OvenSetting, Spread, Temperature, Time};

/// An oven setting of the method.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Setting {
    /// The still oven's temperature.
    pub temperature: Temperature,
    /// Its gas mark is written, alone or beside degrees.
    pub gas: bool,
    /// Only a word stands for it: 'a moderate oven'.
    pub rough: bool,
    /// Its step's number.
    step: usize,
    /// Bytes of the step's text.
    start: usize,
    end: usize,
    fan: bool,
}

impl Setting {
    /// The same setting at another heat.
    pub(super) fn at(self, temperature: Temperature) -> Self {
        Self {
            temperature,
            rough: false,
            ..self
        }
    }

    /// What a rework allows: from 10 °C cooler to the setting itself, as dials show them.
    pub(in crate::rework) fn allowed(self) -> (Temperature, Temperature) {
        let hottest = OvenSetting(self.temperature).dialled();
        (hottest - Temperature::celsius(COOLER), hottest)
    }
}

/// A rework bakes up to this much cooler, in °C.
const COOLER: f64 = 10.0;
/// A spread at least this wide, in °C, comes from a word.
const ROUGH: f64 = 25.0;
/// A fan oven runs this much cooler, in °C (NSW Health, seen).
const FAN: f64 = 20.0;

fn setting(step: &Step, fact: &Fact) -> Option<Setting> {
    let FactKind::Temperature { value, of } = &fact.kind else {
        return None;
    };
    let fan = match of {
        Heat::Oven => false,
        Heat::FanOven => true,
        Heat::Core | Heat::Other => return None,
    };
    let more = Temperature::celsius(if fan { FAN } else { 0.0 });
    Some(Setting {
        temperature: value.likely() + more,
        gas: gas_mark(step, fact).is_some(),
        rough: (value.high() - value.low()).as_celsius() >= ROUGH,
        step: step.number,
        start: fact.span.start,
        end: fact.span.end,
        fan,
    })
}

/// The gas mark that is written of an oven setting, alone or beside its degrees: '190 °C, fan
/// 170 °C, Gas 5'.
#[must_use]
pub fn gas_mark(step: &Step, fact: &Fact) -> Option<GasMark> {
    /// So many letters behind a figure may still be about it.
    const NEAR: usize = 40;
    let from = step.text.get(fact.span.start..)?;
    let least = fact.span.len();
    let own = |w: &str| {
        w.starts_with(|c: char| c.is_ascii_digit()) || {
            let w = w.trim_matches(|c: char| !c.is_alphabetic());
            w.is_empty() || BETWEEN.iter().any(|x| x.eq_ignore_ascii_case(w))
        }
    };
    let mut end = 0;
    for word in from.split_inclusive(|c: char| c.is_whitespace() || "/,()[]".contains(c)) {
        let sentence = word.trim_end().ends_with(['.', ';']);
        if end > least + NEAR || end >= least && !own(word) {
            break;
        }
        end += word.len();
        if sentence && end >= least {
            break;
        }
    }
    let words: Vec<String> = from[..end]
        .to_lowercase()
        .split(|c: char| !c.is_alphanumeric())
        .filter(|w| !w.is_empty())
        .map(str::to_owned)
        .collect();
    words.windows(2).find_map(|w| {
        let named = matches!(w[0].as_str(), "gas" | "mark" | "gm");
        let mark = quantity::figure(&w[1])?;
        GasMark::new(mark).filter(|_| named)
    })
}

/// Words that may stand between two figures of one setting.
const BETWEEN: &[&str] = &[
    "fan",
    "gas",
    "mark",
    "or",
    "oven",
    "c",
    "f",
    "degrees",
    "forced",
    "assisted",
    "convection",
    "conventional",
    "about",
];

/// Whether two settings of a step are one said twice: only 'fan', 'gas mark', 'or' between.
fn said_twice(step: &Step, a: usize, b: usize) -> bool {
    let Some(between) = step.text.get(a..b) else {
        return false;
    };
    between
        .split(|c: char| !c.is_alphabetic())
        .filter(|w| !w.is_empty())
        .all(|w| BETWEEN.iter().any(|x| x.eq_ignore_ascii_case(w)))
        && between.len() <= 40
        && !between.contains('.')
}

/// Every setting in the order of the method.
pub(crate) fn settings(recipe: &Recipe) -> Vec<Setting> {
    let mut out: Vec<Setting> = Vec::new();
    for step in &recipe.steps {
        for new in step.facts.iter().filter_map(|f| setting(step, f)) {
            let twin = out
                .last_mut()
                .filter(|old| old.step == step.number && said_twice(step, old.end, new.start));
            match twin {
                // A still oven's figure says more than a fan oven's; the first of two stands.
                Some(old) if old.fan && !new.fan => *old = new,
                Some(old) => old.end = new.end,
                None => out.push(new),
            }
        }
    }
    out
}

/// The setting a bake of a step stands in: the one said with it, else the last before it.
pub(crate) fn of_bake(settings: &[Setting], step: &Step, bake: &Fact) -> Option<Setting> {
    const ANOTHER: &[&str] = &[
        "then", "lower", "reduce", "turn", "raise", "increase", "drop", "before", "until", "down",
        "up", "remove", "take",
    ];
    // Settings stand in the order of the text.
    let next = settings.partition_point(|s| (s.step, s.start) < (step.number, bake.span.end));
    let with = settings
        .get(next)
        .filter(|s| s.step == step.number)
        .filter(|s| {
            let between = step.text.get(bake.span.end..s.start).unwrap_or(".");
            let another = between
                .split(|c: char| !c.is_alphabetic())
                .any(|w| ANOTHER.iter().any(|x| x.eq_ignore_ascii_case(w)));
            between.len() <= 30 && !between.contains(['.', ';']) && !another
        });
    let before = settings.partition_point(|s| (s.step, s.start) < (step.number, bake.span.start));
    with.or_else(|| settings.get(before.checked_sub(1)?))
        .copied()
}

/// Times that follow one another in the same oven.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::rework) struct Stage {
    /// Each time.
    pub times: Vec<Spread<Time>>,
    /// The oven, where one is set.
    pub oven: Option<Setting>,
}

/// The stages of the bake through some steps: bakes in the same oven are one. `counts`: whether a bake at
/// a byte of a step's text is among them.
pub(in crate::rework) fn stages<'s>(
    settings: &[Setting],
    steps: impl IntoIterator<Item = &'s Step>,
    counts: impl Fn(&Step, usize) -> bool,
) -> Vec<Stage> {
    let mut out: Vec<Stage> = Vec::new();
    for step in steps {
        for (fact, time) in step.timed_bakes() {
            if !counts(step, fact.span.start) {
                continue;
            }
            let oven = of_bake(settings, step, fact);
            match out.last_mut() {
                Some(last) if last.oven == oven => last.times.push(time),
                _ => out.push(Stage {
                    times: vec![time],
                    oven,
                }),
            }
        }
    }
    out
}
