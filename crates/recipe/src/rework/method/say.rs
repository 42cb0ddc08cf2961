//! Times and oven settings in words.

use super::facts::longer;
use super::oven::{Setting, Stage};
use crate::plan::usual_wait;
use quantity::{GasMark, OvenSetting, Spread, Temperature, Time, fan_equivalent};

/// Times as people say them: `10 seconds`, `10 minutes`, `1–2 hours`, `83–90 minutes`,
/// `2 hours 25 to 3 hours`, `15 minutes to 12 hours`.
pub(super) fn minutes(t: Spread<Time>) -> String {
    let tidy = |m: f64| {
        if m > 10.0 {
            m.round()
        } else {
            (m * 4.0).round() / 4.0
        }
    };
    if t.high().as_minutes() < 0.99 {
        let seconds = |m: f64| (m * 60.0).round();
        let (low, high) = (
            seconds(t.low().as_minutes()),
            seconds(t.high().as_minutes()),
        );
        return if low == high {
            format!("{low} seconds")
        } else {
            format!("{low}–{high} seconds")
        };
    }
    let (low, high) = (tidy(t.low().as_minutes()), tidy(t.high().as_minutes()));
    let halves = |m: f64| m >= 60.0 && m % 30.0 == 0.0;
    if halves(low) && halves(high) {
        let many = if high > 60.0 { "s" } else { "" };
        return if low == high {
            format!("{} hour{many}", half(low))
        } else {
            format!("{}–{} hours", half(low), half(high))
        };
    }
    let round_hours = low < 60.0 && high >= 60.0 && high % 60.0 == 0.0;
    if high <= 120.0 && !round_hours {
        let many = if high == 1.0 { "" } else { "s" };
        return if low == high {
            format!("{low} minute{many}")
        } else {
            format!("{low}–{high} minutes")
        };
    }
    if low == high {
        one(low)
    } else {
        format!("{} to {}", one(low), one(high))
    }
}

/// How long bakes cool before they are cut, by the plan's table: `cakes 1–2 hours, loaves 3–4 hours`.
pub(super) fn cools(kinds: &[&str]) -> String {
    const ROWS: [(&str, &str); 3] = [
        ("rolls", "cool_rolls"),
        ("cakes", "cool_cake"),
        ("loaves", "cool_loaf"),
    ];
    let rows = ROWS.iter().filter(|(kind, _)| kinds.contains(kind));
    let each = rows.filter_map(|(kind, row)| {
        let wait = usual_wait(row)?;
        let span = Spread::new(wait.low(), wait.likely(), wait.likely());
        Some(format!("{kind} {}", minutes(span)))
    });
    each.collect::<Vec<_>>().join(", ")
}

/// Hours with a half: `2`, `1½`.
fn half(m: f64) -> String {
    let hours = (m / 60.0).floor();
    if m % 60.0 == 0.0 {
        format!("{hours:.0}")
    } else {
        format!("{hours:.0}½")
    }
}

/// `45 minutes`, `1 hour`, `2½ hours`, `2 hours 25`.
fn one(m: f64) -> String {
    if m < 60.0 {
        return format!("{m} minute{}", if m == 1.0 { "" } else { "s" });
    }
    let m = if m > 720.0 {
        (m / 30.0).round() * 30.0
    } else {
        m.round()
    };
    let hours = (m / 60.0).floor();
    let many = if hours == 1.0 { "" } else { "s" };
    match m % 60.0 {
        0.0 => format!("{hours:.0} hour{many}"),
        30.0 => format!("{hours:.0}½ hours"),
        rest => format!("{hours:.0} hour{many} {rest:.0}"),
    }
}

/// Times that follow one another: `15 minutes`, `15 minutes and 10 minutes`.
pub(in crate::rework) fn all_minutes(times: &[Spread<Time>]) -> String {
    let each: Vec<String> = times.iter().map(|t| minutes(*t)).collect();
    match each.split_last() {
        Some((last, first)) if !first.is_empty() => {
            format!("{} and then {last}", first.join(", "))
        }
        _ => each.join(""),
    }
}

/// A setting as people set it: °C and °F, and the gas mark where that is all that is written.
pub(super) fn degrees(s: Setting, cooler: f64) -> String {
    let less = Temperature::celsius(cooler);
    let t = s.temperature - less;
    let dialled = OvenSetting(s.temperature).dialled() - less;
    let as_set = if cooler > 0.0 { dialled } else { t };
    let fahrenheit = OvenSetting(as_set).beside_celsius();
    let celsius = dialled.as_celsius();
    let mut out = format!("{celsius:.0} °C / {fahrenheit} °F");
    if s.gas
        && let Some(mark) = GasMark::nearest(t)
    {
        out.push_str(&format!(" / gas {mark}"));
    }
    out
}

/// What a rework allows in other ovens than the still one: `fan 160–170 °C, gas 4–5`.
pub(in crate::rework) fn others(s: Setting, gas: bool) -> String {
    let (low, high) = s.allowed();
    let fan = |t| fan_equivalent(t).as_celsius();
    let mut out = format!("fan {:.0}–{:.0} °C", fan(low), fan(high));
    if let (true, Some(gas)) = (gas, GasMark::range(low, high)) {
        out.push_str(&format!(", gas {gas}"));
    }
    out
}

/// Stages one after another.
pub(super) fn joined(stages: &[Stage], word: impl Fn(&Stage) -> String) -> String {
    let each: Vec<String> = stages.iter().map(word).collect();
    each.join(", then ")
}

fn about(oven: Setting) -> &'static str {
    if oven.rough { "about " } else { "" }
}

/// `15 minutes at 220 °C / 425 °F`.
pub(super) fn stage_stated(stage: &Stage) -> String {
    let oven = stage.oven.map_or(String::new(), |s| {
        format!(" at {}{}", about(s), degrees(s, 0.0))
    });
    format!("{}{oven}", all_minutes(&stage.times))
}

/// `17–19 minutes at 210 °C / 410 °F to 220 °C / 425 °F`.
pub(super) fn stage_allowed(stage: &Stage) -> String {
    let times: Vec<Spread<Time>> = stage.times.iter().map(|t| longer(*t)).collect();
    format!("{}{}", all_minutes(&times), oven_allowed(stage))
}

/// ` at 210 °C / 410 °F to 220 °C / 425 °F (…)`; nothing where no oven is set.
pub(super) fn oven_allowed(stage: &Stage) -> String {
    stage.oven.map_or(String::new(), |s| {
        format!(
            " at {}{} to {} ({})",
            about(s),
            degrees(s, 10.0),
            degrees(s, 0.0),
            others(s, !s.gas)
        )
    })
}
