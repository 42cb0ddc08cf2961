//! What changes in time and heat: rest, rises, oven, core temperature, as data. How to do it at
//! which step is the method notes' part.

use super::engine::Work;
use super::method::{of_bake, settings};
use super::style::{Style, StyleRange};
use crate::recipe::{Activity, Fact, FactKind, Heat};
use quantity::{OvenSetting, Spread, Temperature, Time};

const PRACTICE: &str = "common practice, no source";

impl Work<'_> {
    /// Adds the changes of rest, rises, oven and core temperature.
    pub(super) fn process(&mut self, style: Style) {
        self.rest(style);
        if style.is_yeast_dough() {
            self.rises(style);
        }
        if style.is_baked() {
            self.oven();
            self.core(style);
        }
    }

    fn facts(&self) -> impl Iterator<Item = &Fact> {
        self.steps.iter().flat_map(|s| &s.facts)
    }

    fn lasting(&self, what: Activity) -> Vec<Spread<Time>> {
        self.facts()
            .filter_map(|f| match &f.kind {
                FactKind::Duration {
                    value,
                    doing: Some(a),
                } if *a == what => Some(*value),
                _ => None,
            })
            .collect()
    }

    fn rest(&mut self, style: Style) {
        let Some(r) = style
            .range("rest_min")
            .filter(|r| r.value.likely().get() > 0.0)
        else {
            return;
        };
        let stated = self.lasting(Activity::Rest);
        let from = stated
            .first()
            .map_or("none stated".to_owned(), |t| minutes(*t));
        let to = minutes(r.value.map(|v| v));
        let likely = minutes(Spread::exact(Time::minutes(r.value.likely().get())));
        let when = r.unit.trim_start_matches("min").trim();
        let when = if when.is_empty() {
            "after mixing"
        } else {
            when
        };
        self.change(
            "rest",
            from,
            format!("{likely} {when}"),
            Some(to),
            "the binder drinks and the grit goes while it rests",
            &r.cited(),
        );
    }

    fn rises(&mut self, style: Style) {
        let count = self
            .steps
            .iter()
            .filter(|s| {
                s.facts.iter().any(|f| {
                    matches!(
                        &f.kind,
                        FactKind::Doing(Activity::Rise)
                            | FactKind::Duration {
                                doing: Some(Activity::Rise),
                                ..
                            }
                            | FactKind::RiseTo(_)
                    )
                })
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
        let mut found: Option<(Option<Temperature>, Spread<Time>)> = None;
        for step in &self.steps {
            for fact in &step.facts {
                let FactKind::Duration {
                    value,
                    doing: Some(Activity::Bake),
                } = &fact.kind
                else {
                    continue;
                };
                let longer = found
                    .as_ref()
                    .is_none_or(|(_, t)| value.likely().as_minutes() > t.likely().as_minutes());
                if longer {
                    let heat = of_bake(&settings, step, fact).map(|s| s.temperature);
                    found = Some((heat, *value));
                }
            }
        }
        let Some((heat, time)) = found else { return };
        let dial = |t: Temperature| format!("{} °C", OvenSetting(t).dial_celsius());
        let (from, to) = match heat {
            Some(t) => (
                format!("{}, {}", dial(t), minutes(time)),
                format!("{} to {}, ", dial(t - Temperature::celsius(10.0)), dial(t)),
            ),
            None => (minutes(time), String::new()),
        };
        let longer = |t: Time, by: f64| Time::minutes((t.as_minutes() * by).round());
        let span = Spread::new(
            longer(time.low(), 1.1),
            longer(time.likely(), 1.175),
            longer(time.high(), 1.25),
        );
        self.change(
            "oven",
            from,
            format!("{to}{}", minutes(span)),
            Some("0 to −10 °C, 10–25 % longer".to_owned()),
            "starch sets late and the crumb holds more water; doneness decides, not the clock",
            PRACTICE,
        );
    }

    fn core(&mut self, style: Style) {
        // The middle of a biscuit or a crumb is no place for a probe.
        if matches!(
            style.key(),
            "drop_cookie" | "rolled_cookie" | "crumb_streusel" | "pie_pastry"
        ) {
            return;
        }
        let Some(r) = style.range("core_c") else {
            return;
        };
        let stated = self.facts().find_map(|f| match &f.kind {
            FactKind::Temperature {
                value,
                of: Heat::Core,
            } => Some(value.likely()),
            _ => None,
        });
        let v = r.value;
        self.change(
            "core temperature",
            stated.map_or("not said".to_owned(), |t| {
                format!("{:.0} °C", t.as_celsius())
            }),
            format!("{:.0} °C", v.likely().get()),
            Some(format!(
                "{:.0}–{:.0} °C, never above your boiling point less 1.5 °C",
                v.low().get(),
                v.high().get()
            )),
            "the middle is done when its starch has set; higher up water boils cooler",
            &r.cited(),
        );
    }
}

fn whole(r: &StyleRange) -> String {
    let (l, h) = (r.value.low().get(), r.value.high().get());
    if l == h {
        format!("{l:.0}")
    } else {
        format!("{l:.0}–{h:.0}")
    }
}

fn minutes(t: Spread<Time>) -> String {
    super::method::minutes(t)
}
