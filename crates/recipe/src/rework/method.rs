//! Notes for the method: what to do differently at which step, in our words.

use crate::recipe::{Activity, Fact, FactKind, Heat, Step};
use crate::rework::style::Style;
use quantity::{OvenSetting, Spread, Temperature, Time};

/// A note for the method.
#[derive(Debug, Clone, PartialEq)]
pub struct MethodNote {
    /// The step of the original it is about.
    pub step: Option<usize>,
    /// What to do.
    pub text: String,
    /// The rule it follows.
    pub rule: &'static str,
    /// Where the rule comes from.
    pub source: String,
}

const PRACTICE: &str = "common practice, no source";

/// Minutes as people say them: `10 minutes`, `1–2 hours`, `15 minutes to 12 hours`.
pub(crate) fn minutes(t: Spread<Time>) -> String {
    let say = |m: f64| {
        let (n, unit) = if m >= 90.0 || m == 60.0 {
            (m / 60.0, "hour")
        } else {
            (m, "minute")
        };
        let n = (n * 4.0).round() / 4.0;
        let number = if n.fract() == 0.0 {
            format!("{n:.0}")
        } else {
            format!("{n}")
        };
        (number, format!("{unit}{}", if n == 1.0 { "" } else { "s" }))
    };
    let ((low, low_unit), (high, high_unit)) =
        (say(t.low().as_minutes()), say(t.high().as_minutes()));
    if low == high && low_unit == high_unit {
        format!("{low} {low_unit}")
    } else if low_unit.trim_end_matches('s') == high_unit.trim_end_matches('s') {
        format!("{low}–{high} {high_unit}")
    } else {
        format!("{low} {low_unit} to {high} {high_unit}")
    }
}

/// The notes for a component's steps.
///
/// # Inputs
/// - `steps`: the steps that are about this component (or all, when none says).
/// - `style`: its style.
/// - `psyllium`: whether psyllium is in the reworked component.
/// - `holds_egg_or_milk`: whether the raw dough is perishable.
#[must_use]
pub fn notes(
    steps: &[&Step],
    style: Style,
    psyllium: bool,
    holds_egg_or_milk: bool,
) -> Vec<MethodNote> {
    let mut notes: Vec<MethodNote> = Vec::new();
    let mut say = |step: Option<usize>, rule: &'static str, source: &str, text: String| {
        if !notes
            .iter()
            .any(|n| n.rule == rule && (n.step == step || step.is_none()))
        {
            notes.push(MethodNote {
                step,
                text,
                rule,
                source: source.to_owned(),
            });
        }
    };
    let range = |p: &str| style.range(p);
    if psyllium {
        say(None, "hydrate the psyllium", PRACTICE, "Before anything else: whisk the psyllium into all of the water or milk and let it gel, 1–3 minutes for powder, 5–15 for whole husk.".to_owned());
    }
    if style.is_yeast_dough() || style.key() == "pie_pastry" {
        say(
            None,
            "hold back a tenth",
            PRACTICE,
            "Hold back a tenth of the liquid; add it by feel and write down what went in."
                .to_owned(),
        );
    }
    let mut rises = 0;
    for step in steps {
        let n = step.number;
        let has = |a: Activity| doing(step, a);
        if let Some(time) = has(Activity::Knead) {
            let how = time.map_or("kneads".to_owned(), |t| {
                format!("kneads for {}", minutes(t))
            });
            say(
                Some(n),
                "no kneading",
                PRACTICE,
                format!(
                    "Step {n} {how}: there is no gluten to develop. Mix with a paddle or spoon for 3–5 minutes, until even."
                ),
            );
        }
        if has(Activity::Windowpane).is_some() {
            say(
                Some(n),
                "no windowpane",
                PRACTICE,
                format!(
                    "Step {n} looks for a windowpane: this dough will not stretch to one. Go by an even, thick dough that holds a spoon mark."
                ),
            );
        }
        if has(Activity::KnockBack).is_some() {
            say(
                Some(n),
                "no knocking back",
                PRACTICE,
                format!(
                    "Step {n} knocks the dough back: leave that out, the gas does not come back."
                ),
            );
        }
        if has(Activity::Rise).is_some() && style.is_yeast_dough() {
            rises += 1;
            if rises > 1 {
                say(
                    Some(n),
                    "one rise",
                    PRACTICE,
                    format!(
                        "Step {n} lets it rise again: one rise is enough; shape first, then rise once, and bake."
                    ),
                );
            }
            if let Some(time) = has(Activity::Rise).flatten()
                && time.high().as_minutes() >= 300.0
            {
                let keep = if holds_egg_or_milk {
                    "with egg or milk in it keep it at 5 °C or below and no longer than 24 hours; time above 5 °C counts towards a limit of 2 hours (follow your local rules)"
                } else {
                    "keep it at 3–5 °C, 8–18 hours, with half to seven tenths of the yeast"
                };
                say(
                    Some(n),
                    "cold overnight",
                    PRACTICE,
                    format!(
                        "Step {n} rises for {}: {keep}. Do not go by a clock: bake when it has grown as far as said below.",
                        minutes(time)
                    ),
                );
            }
        }
        for f in &step.facts {
            match &f.kind {
                FactKind::RiseTo(x) if style.is_yeast_dough() => {
                    if let Some(r) = range("proof_x") {
                        let (l, h) = (r.value.low().get(), r.value.high().get());
                        if *x > r.value.likely().get() {
                            say(
                                Some(n),
                                "end of the rise",
                                &r.cited(),
                                format!(
                                    "Step {n} waits for {x:.1} times the volume: stop at {l:.1}–{h:.1} times, when a dent fills half way and pinholes show. Past that it falls."
                                ),
                            );
                        }
                    }
                }
                FactKind::Temperature {
                    value,
                    of: Heat::Core,
                } => {
                    if let Some(r) = range("core_c").filter(|_| style.is_baked()) {
                        say(
                            Some(n),
                            "core temperature",
                            &r.cited(),
                            core_words(
                                &format!(
                                    "Step {n} is done at {:.0} °C inside: ",
                                    value.likely().as_celsius()
                                ),
                                r,
                            ),
                        );
                    }
                }
                _ => {}
            }
        }
        if has(Activity::Dust).is_some() {
            say(
                Some(n),
                "no bench flour",
                PRACTICE,
                format!(
                    "Step {n} dusts with flour: oil the bench, pin and hands instead, or roll between two sheets. Dry flour makes seams that do not close."
                ),
            );
        }
        if has(Activity::Roll).is_some() && style.key() == "enriched_dough" {
            say(
                Some(n),
                "roll cold",
                PRACTICE,
                format!(
                    "Step {n} rolls the dough: roll to 5–7 mm between oiled sheets, chill the flat sheet 15–30 minutes, then fill and roll up; cut with thread."
                ),
            );
        }
        if has(Activity::Roll).is_some()
            && matches!(style.key(), "rolled_cookie" | "pie_pastry" | "pasta")
        {
            say(
                Some(n),
                "roll between sheets",
                PRACTICE,
                format!(
                    "Step {n} rolls out: roll between two sheets and move it on the sheet. Rerolling does no harm; patch cracks cold."
                ),
            );
        }
        if let Some(time) = baked(step)
            && style.is_baked()
        {
            let oven = step
                .facts
                .iter()
                .chain(steps.iter().flat_map(|s| &s.facts))
                .find_map(oven);
            let from = oven.map_or(String::new(), |o| format!(" at {}", degrees(o)));
            let to = oven.map_or(String::new(), |o| {
                let cooler = o - Temperature::celsius(10.0);
                format!(" at {} to {}", degrees(cooler), degrees(o))
            });
            let longer = Spread::new(
                Time::minutes(time.low().as_minutes() * 1.1),
                Time::minutes(time.likely().as_minutes() * 1.175),
                Time::minutes(time.high().as_minutes() * 1.25),
            )
            .map(|m| {
                if m > 20.0 {
                    m.round()
                } else {
                    (m * 2.0).round() / 2.0
                }
            });
            say(
                Some(n),
                "bake longer",
                PRACTICE,
                format!(
                    "Step {n} bakes for {}{from}: allow {}{to}, 10–25 % longer. The time is a guess; the core temperature decides.",
                    minutes(time),
                    minutes(longer)
                ),
            );
        }
    }
    if let Some(r) =
        range("rest_min").filter(|r| r.value.high().get() > 0.0 && r.value.likely().get() > 0.0)
    {
        let t = Spread::new(
            Time::minutes(r.value.low().get()),
            Time::minutes(r.value.likely().get()),
            Time::minutes(r.value.high().get()),
        );
        say(
            None,
            "rest",
            &r.cited(),
            format!(
                "Rest {}: {}, usually {}. It takes the grit away and lets the binder drink.",
                r.unit.trim_start_matches("min").trim_start(),
                minutes(t),
                minutes(Spread::exact(t.likely()))
            )
            .replace("Rest : ", "Rest after mixing: "),
        );
    }
    if style.is_yeast_dough()
        && let Some(r) = range("proof_x")
    {
        say(
            None,
            "end of the rise",
            &r.cited(),
            format!(
                "One rise, to {:.1}–{:.1} times the volume; a dent half returns, pinholes show. Never to double unless the tin holds it.",
                r.value.low().get(),
                r.value.high().get()
            ),
        );
    }
    if style.is_baked()
        && let Some(r) = range("core_c")
    {
        say(
            None,
            "core temperature",
            &r.cited(),
            core_words("Done when the middle reads ", r),
        );
    }
    if matches!(style.key(), "lean_bread" | "enriched_dough") {
        say(None, "cool before cutting", PRACTICE, "Out of the tin after 10 minutes; cut when the middle is below 35 °C: rolls 45–60 minutes, loaves 3–4 hours. Cut hot, it is gummy.".to_owned());
    }
    if style.key() == "roux_sauce" {
        say(None, "boil cereal starch", PRACTICE, "Bring it to the boil while stirring: rice and corn thicken only near 95 °C; root starches thicken from 70 °C and thin when boiled on.".to_owned());
    }
    notes
}

fn core_words(lead: &str, r: &crate::rework::style::StyleRange) -> String {
    let v = r.value;
    format!(
        "{lead}look for {:.0} °C ({:.0}–{:.0}); above 900 m not more than 1.5 °C below your boiling point, which may be lower than that.",
        v.likely().get(),
        v.low().get(),
        v.high().get()
    )
    .replace("reads look for", "reads")
}

/// Whether a step does something, and for how long when it says.
#[allow(
    clippy::option_option,
    reason = "done without a time is not the same as not done"
)]
fn doing(step: &Step, what: Activity) -> Option<Option<Spread<Time>>> {
    let timed = step.facts.iter().find_map(|f| match &f.kind {
        FactKind::Duration {
            value,
            doing: Some(a),
        } if *a == what => Some(Some(*value)),
        _ => None,
    });
    timed.or_else(|| {
        step.facts
            .iter()
            .any(|f| f.kind == FactKind::Doing(what))
            .then_some(None)
    })
}

fn baked(step: &Step) -> Option<Spread<Time>> {
    doing(step, Activity::Bake).flatten()
}

fn oven(f: &Fact) -> Option<Temperature> {
    match &f.kind {
        FactKind::Temperature {
            value,
            of: Heat::Oven,
        } => Some(value.likely()),
        FactKind::Temperature {
            value,
            of: Heat::FanOven,
        } => Some(value.likely() + Temperature::celsius(20.0)),
        _ => None,
    }
}

fn degrees(t: Temperature) -> String {
    let o = OvenSetting(t);
    let exact = (t.as_fahrenheit() / 5.0).round() * 5.0;
    format!("{} °C / {exact:.0} °F", o.dial_celsius())
}
