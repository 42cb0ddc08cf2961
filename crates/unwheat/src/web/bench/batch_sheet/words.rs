//! Figures in words: grams, minutes, degrees in both scales.

use quantity::{OvenSetting, Spread, Temperature, Time};

pub use recipe::plan::minutes_words as minutes;

/// Grams in the fewest digits: `312`, `2.4`, `0.25`.
#[must_use]
pub fn grams(g: f64) -> String {
    let text = format!("{:.2}", g);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// Grams more or less: `+15 g`, `−2.5 g`; nothing where nothing changed, to a tenth.
#[must_use]
pub fn more_or_less(d: f64) -> String {
    let d = (d * 10.0).round() / 10.0;
    match d {
        0.0 => String::new(),
        d if d > 0.0 => format!("+{} g", grams(d)),
        d => format!("−{} g", grams(-d)),
    }
}

/// A time, or its least and most.
pub fn span(t: Spread<Time>) -> String {
    let (low, high) = (t.low().as_minutes(), t.high().as_minutes());
    if high > low * 1.001 {
        format!("{} to {}", minutes(low), minutes(high))
    } else {
        minutes(low)
    }
}

/// An oven's heat in both scales, as dials show it: 200 °C for 400 °F.
pub fn oven(t: Spread<Temperature>) -> String {
    let dial = |t: Temperature| f64::from(OvenSetting(t).dial_celsius());
    both_of(t, dial, |t| f64::from(OvenSetting(t).beside_celsius()))
}

/// Both scales to a degree, as probes show them.
pub fn degrees(t: Spread<Temperature>) -> String {
    both_of(t, |t| t.as_celsius().round(), |t| t.as_fahrenheit().round())
}

fn both_of(
    t: Spread<Temperature>,
    celsius: impl Fn(Temperature) -> f64,
    fahrenheit: impl Fn(Temperature) -> f64,
) -> String {
    let both = |of: &dyn Fn(Temperature) -> f64| {
        let (low, high) = (of(t.low()), of(t.high()));
        if low == high {
            format!("{low:.0}")
        } else {
            format!("{low:.0}–{high:.0}")
        }
    };
    format!("{} °C ({} °F)", both(&celsius), both(&fahrenheit))
}

/// Words with minutes above 10 in whole ones: nobody stops a clock at 16.5.
pub fn whole_minutes(text: &str) -> String {
    let words: Vec<&str> = text.split(' ').collect();
    let whole = |n: &str| match n.parse::<f64>() {
        Ok(v) if v > 10.0 && v.fract() != 0.0 => format!("{:.0}", v.round()),
        _ => n.to_owned(),
    };
    let told: Vec<String> = words
        .iter()
        .enumerate()
        .map(|(i, w)| {
            if words.get(i + 1).is_some_and(|next| next.starts_with("min")) {
                w.split('–').map(whole).collect::<Vec<_>>().join("–")
            } else {
                (*w).to_owned()
            }
        })
        .collect();
    told.join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_change_has_its_sign_and_unit() {
        for (d, words) in [
            (15.0, "+15 g"),
            (-25.0, "−25 g"),
            (-2.46, "−2.5 g"),
            (0.04, ""),
            (-0.04, ""),
        ] {
            assert_eq!(more_or_less(d), words);
        }
    }

    #[test]
    fn minutes_in_words() {
        for (m, want) in [
            (35.0, "35 min"),
            (90.0, "1 h 30 min"),
            (480.0, "8 h"),
            (0.5, "30 s"),
            (2.5, "2.5 min"),
            (16.5, "17 min"),
        ] {
            assert_eq!(minutes(m), want);
        }
        assert_eq!(
            whole_minutes("Step 4 bakes for 15: 16.5–19 minutes; dip 2.5 minutes, 16.5 g."),
            "Step 4 bakes for 15: 17–19 minutes; dip 2.5 minutes, 16.5 g."
        );
    }
}
