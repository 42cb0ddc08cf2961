//! Figures with units as bakers type them.

use super::proof::Leg;
use super::{HeatError, wrong};
use quantity::typed::{front, mass};
use quantity::{GasMark, Mass, OvenSetting, Spread, Temperature, Time, figure};

#[derive(Clone, Copy, PartialEq)]
enum Degrees {
    Celsius,
    Fahrenheit,
}

fn degrees(unit: &str) -> Option<Degrees> {
    let plain: String = unit
        .to_lowercase()
        .chars()
        .filter(|c| c.is_alphabetic())
        .collect();
    match plain
        .strip_prefix("degrees")
        .or(plain.strip_prefix("deg"))
        .unwrap_or(&plain)
    {
        "c" | "celsius" | "centigrade" => Some(Degrees::Celsius),
        "f" | "fahrenheit" => Some(Degrees::Fahrenheit),
        _ => None,
    }
}

/// Minutes in words, as exact as they are known: '35 min', '1 h 35 min', '12 h'.
#[must_use]
pub fn clock(minutes: f64) -> String {
    let whole = minutes.round();
    if whole < 90.0 {
        return format!("{whole:.0} min");
    }
    let step = if whole > 300.0 { 15.0 } else { 5.0 };
    let m = (whole / step).round() * step;
    let (h, m) = ((m / 60.0).floor(), m % 60.0);
    if m == 0.0 {
        format!("{h:.0} h")
    } else {
        format!("{h:.0} h {m:.0} min")
    }
}

/// A temperature in words, as it is typed: whole degrees of one scale.
#[must_use]
pub fn degrees_words(celsius: f64, fahrenheit: bool) -> String {
    if fahrenheit {
        format!("{:.0} °F", Temperature::celsius(celsius).as_fahrenheit())
    } else {
        format!("{celsius:.0} °C")
    }
}

/// An oven in words, as its dial shows it.
#[must_use]
pub fn oven_words(t: Temperature, fahrenheit: bool) -> String {
    let dial = OvenSetting(t);
    if fahrenheit {
        format!("{} °F", dial.beside_celsius())
    } else {
        format!("{} °C", dial.dial_celsius())
    }
}

/// From here on a temperature of an example is an oven's, °C.
const OVENS: f64 = 120.0;

/// An example's °C in °F.
pub(super) fn in_fahrenheit(example: &str) -> String {
    let mut out = String::new();
    let mut rest = example;
    while let Some(at) = rest.find(" °C") {
        let before = &rest[..at];
        let from = before.rfind(' ').map_or(0, |i| i + 1);
        out.push_str(&before[..from]);
        match before[from..].parse::<f64>() {
            Ok(c) if c >= OVENS => out.push_str(&oven_words(Temperature::celsius(c), true)),
            Ok(c) => out.push_str(&degrees_words(c, true)),
            Err(_) => out.push_str(&rest[from..at + " °C".len()]),
        }
        rest = &rest[at + " °C".len()..];
    }
    out.push_str(rest);
    out
}

/// A temperature: `26 C`, `78F`, `4 °C`; with the other scale beside it as pages show it, `180 °C (355 °F)`,
/// the first counts.
///
/// # Errors
/// [`HeatError`] without a unit, or outside −40 to 400 °C.
///
/// # Example
/// ```
/// use recipe::heat::temperature;
/// assert!((temperature("78 F")?.as_celsius() - 25.56).abs() < 0.01);
/// assert!(temperature("78").is_err());
/// # Ok::<(), recipe::heat::HeatError>(())
/// ```
pub fn temperature(text: &str) -> Result<Temperature, HeatError> {
    let t = degrees_of(text)?;
    if (-40.0..=400.0).contains(&t.as_celsius()) {
        Ok(t)
    } else {
        wrong(format!(
            "'{}' is out of range: write from −40 °C to 400 °C",
            text.trim()
        ))
    }
}

/// The same of any height.
fn degrees_of(text: &str) -> Result<Temperature, HeatError> {
    if let Some((first, second)) = text.split_once(['(', '/'])
        && let (Ok(one), Ok(other)) = (
            degrees_of(first),
            degrees_of(second.trim_end_matches([' ', ')'])),
        )
    {
        let apart = (one.as_celsius() - other.as_celsius()).abs();
        return if apart <= TWINS {
            Ok(one)
        } else {
            wrong(format!(
                "'{}' says two temperatures: write one",
                text.trim()
            ))
        };
    }
    let (number, unit) = front(text);
    let Some(n) = number else {
        return wrong(format!(
            "'{}' is no temperature: write a figure with its unit, as in 26 °C or 78 °F",
            text.trim()
        ));
    };
    match degrees(unit) {
        Some(Degrees::Celsius) => Ok(Temperature::celsius(n)),
        Some(Degrees::Fahrenheit) => Ok(Temperature::fahrenheit(n)),
        None => wrong(format!(
            "'{}' has no unit: write {n} °C or {n} °F",
            text.trim()
        )),
    }
}

/// °C between one temperature on two dials: 180 °C stands beside 350 °F, which is 177.
const TWINS: f64 = 6.0;

/// An oven's temperature, as of a still oven: `175 C`, `350 F`, `gas 4`, `fan 160 C`.
///
/// # Errors
/// [`HeatError`] for what is no setting of an oven, or outside 60–400 °C.
pub fn oven_temperature(text: &str) -> Result<Temperature, HeatError> {
    let text = text.trim();
    let lower = text.to_lowercase();
    let gas = lower
        .strip_prefix("gas mark")
        .or_else(|| lower.strip_prefix("gas"))
        .or_else(|| lower.strip_prefix("mark"));
    if let Some(mark) = gas {
        return match figure(mark.trim()).and_then(GasMark::new) {
            Some(mark) => Ok(mark.temperature()),
            None => wrong(format!(
                "'{}' is no gas mark: the marks are ¼, ½ and 1 to 10",
                text.trim()
            )),
        };
    }
    let fan = lower.starts_with("fan") || lower.ends_with("fan");
    let plain = lower.strip_prefix("fan").unwrap_or(&lower);
    let plain = plain.strip_suffix("fan").unwrap_or(plain);
    let more = Temperature::celsius(if fan { 20.0 } else { 0.0 });
    let t = match front(plain).0 {
        Some(_) => Some(degrees_of(plain)? + more),
        None => None,
    };
    match t {
        Some(t) if (60.0..=400.0).contains(&t.as_celsius()) => Ok(t),
        _ => wrong(format!(
            "'{text}' is no oven temperature: write from 60 °C to 400 °C (140–750 °F), or gas 4, or fan 160 °C"
        )),
    }
}

/// A difference of temperatures, K: `2 C`, `10 F`. A degree Fahrenheit is 5/9, without the 32 of a
/// temperature.
///
/// # Errors
/// [`HeatError`] without a unit, below 0 or above 60 K.
///
/// # Example
/// ```
/// assert!((recipe::heat::difference("9 F")? - 5.0).abs() < 1e-12);
/// # Ok::<(), recipe::heat::HeatError>(())
/// ```
pub fn difference(text: &str) -> Result<f64, HeatError> {
    let (number, unit) = front(text);
    let Some(n) = number else {
        return wrong(format!(
            "'{}' is no difference of temperatures: write 2 °C or 4 °F",
            text.trim()
        ));
    };
    let k = match degrees(unit) {
        Some(Degrees::Celsius) => n,
        Some(Degrees::Fahrenheit) => n * 5.0 / 9.0,
        None => {
            return wrong(format!(
                "'{}' has no unit: write {n} °C or {n} °F",
                text.trim()
            ));
        }
    };
    if (0.0..=60.0).contains(&k) {
        Ok(k)
    } else {
        wrong(format!(
            "'{}' is out of range: mixing warms a dough by 0–60 °C",
            text.trim()
        ))
    }
}

/// A weight as [`mass`] reads it: `900`, `1.2 kg`, `2 lb 12 oz`.
///
/// # Errors
/// [`HeatError`] for no weight, or outside 1 g to 100 kg.
pub fn grams(text: &str) -> Result<Mass, HeatError> {
    match mass(text) {
        Some(m) if (1.0..=100_000.0).contains(&m.as_grams()) => Ok(m),
        Some(_) => wrong(format!(
            "'{}' is out of range: write from 1 g to 100 kg",
            text.trim()
        )),
        None => wrong(format!(
            "'{}' is no weight: write grams, as in 900 g, or 2 lb",
            text.trim()
        )),
    }
}

/// Hours of a text without a range: `35`, `35 min`, `1.5 h`, `1 h 10 min`. `bare` is what a figure
/// without a unit counts, h.
fn hours(text: &str, bare: f64) -> Option<f64> {
    let mut rest = text.trim();
    let mut sum = None;
    while !rest.is_empty() {
        let (n, after) = front(rest);
        let n = n.filter(|n| *n >= 0.0)?;
        let word: String = after.chars().take_while(|c| c.is_alphabetic()).collect();
        rest = after[word.len()..].trim_start_matches(['.', ',', ' ']);
        let each = match word.to_lowercase().as_str() {
            "" if sum.is_some() => 1.0 / 60.0,
            "" => bare,
            "min" | "mins" | "minute" | "minutes" | "m" => 1.0 / 60.0,
            "h" | "hr" | "hrs" | "hour" | "hours" => 1.0,
            _ => return None,
        };
        sum = Some(sum.unwrap_or(0.0) + n * each);
    }
    sum
}

/// Minutes, or a range of them: `35`, `35–40 min`, `1 h 10 min`, `1.5 h`.
///
/// # Errors
/// [`HeatError`] for no time, a range that runs backwards, or outside 1 minute to 48 hours.
pub fn minutes(text: &str) -> Result<Spread<Time>, HeatError> {
    let clean = text.trim().replace(" to ", "–").replace(['-', '—'], "–");
    let (a, b) = match clean.split_once('–') {
        Some((a, b)) => (a.to_owned(), b.to_owned()),
        None => (clean.clone(), clean.clone()),
    };
    let unit: String = b
        .trim()
        .chars()
        .rev()
        .take_while(|c| c.is_alphabetic())
        .collect::<Vec<_>>()
        .into_iter()
        .rev()
        .collect();
    // '1–2 h': the first figure takes the unit of the second.
    let bare_low = if unit.to_lowercase().starts_with('h') {
        1.0
    } else {
        1.0 / 60.0
    };
    let times = (hours(&a, bare_low), hours(&b, 1.0 / 60.0));
    let (Some(low), Some(high)) = times else {
        return wrong(format!(
            "'{}' is no time: write minutes, as in 35, 35–40 or 1 h 10 min",
            text.trim()
        ));
    };
    if low > high {
        return wrong(format!(
            "'{}' runs backwards: write the shorter time first",
            text.trim()
        ));
    }
    if low * 60.0 < 1.0 || high > 48.0 {
        return wrong(format!(
            "'{}' is out of range: write from 1 minute to 48 hours",
            text.trim()
        ));
    }
    let of = |h: f64| Time::minutes(60.0 * h);
    Ok(Spread::new(of(low), of(f64::midpoint(low, high)), of(high)))
}

/// Most stays of one proof.
const MOST_LEGS: usize = 12;

/// Places that are named instead of their temperature: words, what they are called, °C there
/// (common practice, no source).
const PLACES: &[(&[&str], &str, f64)] = &[
    (&["fridge", "refrigerator"], "fridge", 4.0),
    (&["room", "bench", "counter"], "room", 21.0),
    (&["warm"], "warm place", 27.0),
];

/// Words beside a place that say nothing of the time there.
const BESIDE: &[&str] = &["in", "on", "at", "the", "a", "place", "spot", "temperature"];

/// The place that words name, and what they say beside it: its time.
fn place(words: &str) -> Option<(&'static str, f64, String)> {
    let all: Vec<&str> = words.split_whitespace().collect();
    let (names, called, celsius) = PLACES
        .iter()
        .find(|(names, _, _)| all.iter().any(|w| names.contains(w)))?;
    let beside: Vec<&str> = all
        .into_iter()
        .filter(|w| !names.contains(w) && !BESIDE.contains(w))
        .collect();
    Some((called, *celsius, beside.join(" ")))
}

/// What commas, semicolons and lines part; the comma of '2,5 h' parts nothing.
pub(super) fn apart(text: &str) -> Vec<&str> {
    let digit = |c: Option<char>| c.is_some_and(|c| c.is_ascii_digit());
    let mut out = Vec::new();
    let mut from = 0;
    for (at, sign) in text.match_indices([',', ';', '\n']) {
        let (before, behind) = (
            text[..at].chars().next_back(),
            text[at + 1..].chars().next(),
        );
        if sign == "," && digit(before) && digit(behind) {
            continue;
        }
        out.push(&text[from..at]);
        from = at + 1;
    }
    out.push(&text[from..]);
    out
}

/// A temperature history: stays parted by commas or 'then', the last one without a time until the
/// dough is ready: `1 h at 22 C, 12 h at 4 C, then 27 C`. A fridge, the room or a warm place stand
/// for 4, 21 and 27 °C where no temperature is said.
///
/// # Errors
/// [`HeatError`] for an empty history, a stay that is not understood, one outside −5 to 50 °C, or a
/// stay without a time that is not the last.
pub fn legs(text: &str) -> Result<Vec<Leg>, HeatError> {
    const EXAMPLE: &str = "1 h at 22 °C, 12 h in the fridge, then 27 °C";
    let clean = text.to_lowercase().replace(" then ", ", ");
    let mut out = Vec::new();
    let parts: Vec<&str> = apart(&clean)
        .into_iter()
        .map(|p| p.trim().trim_start_matches("then ").trim())
        .filter(|p| !p.is_empty())
        .collect();
    if parts.is_empty() {
        return wrong(format!("no stay is given: write, for example, {EXAMPLE}"));
    }
    if parts.len() > MOST_LEGS {
        return wrong(format!("{} stays: write at most {MOST_LEGS}", parts.len()));
    }
    for (i, part) in parts.iter().enumerate() {
        let (time, at) = match part.split_once(" at ").or_else(|| part.split_once('@')) {
            Some((time, at)) => (Some(time), at),
            None => (None, *part),
        };
        let at = at.trim().trim_start_matches("at ");
        let (time, celsius, named) = match (temperature(at), place(part)) {
            (Ok(t), _) => {
                let beside = time.and_then(place).map(|p| p.2);
                let time = beside.or_else(|| time.map(str::to_owned));
                (time, t.as_celsius(), None)
            }
            (Err(_), Some((called, celsius, time))) => (Some(time), celsius, Some(called)),
            (Err(e), None) => {
                // A figure that only lacks its unit is told that.
                let why = if front(at).0.is_some() && front(at).1.is_empty() {
                    e.to_string()
                } else {
                    format!("'{part}' says neither a temperature nor a place: write 22 °C or 72 °F")
                };
                return wrong(format!(
                    "stay {}: {why}, or fridge, room or warm place; the whole is written {EXAMPLE}",
                    i + 1
                ));
            }
        };
        if !(-5.0..=50.0).contains(&celsius) {
            return wrong(format!(
                "stay {}: a dough proofs from −5 °C to 50 °C, and '{at}' is outside",
                i + 1
            ));
        }
        let time = time.as_deref().map(str::trim).filter(|t| !t.is_empty());
        let hours = match time {
            None if i + 1 == parts.len() => None,
            None => {
                return wrong(format!(
                    "stay {} has no time: only the last may be left open, as in {EXAMPLE}",
                    i + 1
                ));
            }
            Some("overnight") => Some(OVERNIGHT),
            Some(t) => match hours(t, 1.0 / 60.0) {
                Some(h) if (0.0..=120.0).contains(&h) => Some(h),
                _ => {
                    return wrong(format!(
                        "stay {}: '{t}' is no time up to 120 hours: write 90 min or 12 h",
                        i + 1
                    ));
                }
            },
        };
        out.push(Leg {
            hours,
            celsius,
            place: named,
        });
    }
    Ok(out)
}

/// What 'overnight' counts, h (common practice, no source: 8–18).
const OVERNIGHT: f64 = 12.0;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hours_and_minutes() {
        assert_eq!(clock(34.6), "35 min");
        assert_eq!(clock(70.0), "70 min");
        assert_eq!(clock(122.0), "2 h");
        assert_eq!(clock(131.0), "2 h 10 min");
    }

    #[test]
    fn temperatures_need_a_unit() {
        let c = |t: &str| oven_temperature(t).map(|t| t.as_celsius().round());
        assert_eq!(c("175 °C"), Ok(175.0));
        assert_eq!(c("350F"), Ok(177.0));
        assert_eq!(c("180 °C (350 °F)"), Ok(180.0));
        assert_eq!(c("350 °F / 180 °C"), Ok(177.0));
        assert!(c("180 °C (450 °F)").is_err_and(|e| e.to_string().contains("two")));
        assert_eq!(c("gas mark 4"), Ok(177.0));
        assert_eq!(c("fan 160 C"), Ok(180.0));
        assert_eq!(c("160C fan"), Ok(180.0));
        for bad in [
            "175", "gas 12", "hot", "", "20 C", "900 F", "NaN C", "1e9 C",
        ] {
            assert!(oven_temperature(bad).is_err(), "{bad}");
        }
        // One range, whichever end is missed: 60 × 9/5 + 32 is 140, 400 × 9/5 + 32 is 752.
        let says = |t: &str| oven_temperature(t).expect_err(t).to_string();
        assert_eq!(says("900C").replace("900C", "20C"), says("20C"));
        assert_eq!(says("hot").replace("hot", "20C"), says("20C"));
        assert!(says("900C").contains("'900C' is no oven temperature: write from 60 °C to 400 °C"));
        assert_eq!(temperature("-18 C").map(|t| t.as_celsius()), Ok(-18.0));
    }

    /// A friction of 35 °F is 19.4 °C: 35 × 5/9, with nothing taken off.
    #[test]
    fn a_difference_in_fahrenheit_has_no_32() {
        assert_eq!(difference("35 F").map(|k| (k * 10.0).round()), Ok(194.0));
        assert!(difference("-3 C").is_err() && difference("3").is_err());
    }

    #[test]
    fn times_and_ranges() {
        let m = |t: &str| {
            minutes(t).map(|s| (s.low().as_minutes().round(), s.high().as_minutes().round()))
        };
        assert_eq!(m("35"), Ok((35.0, 35.0)));
        assert_eq!(m("35-40 min"), Ok((35.0, 40.0)));
        assert_eq!(m("35 to 40"), Ok((35.0, 40.0)));
        assert_eq!(m("1 h 10 min"), Ok((70.0, 70.0)));
        assert_eq!(m("1 h 10"), Ok((70.0, 70.0)));
        assert_eq!(m("1–2 h"), Ok((60.0, 120.0)));
        assert_eq!(m("1½ hours"), Ok((90.0, 90.0)));
        for bad in ["", "soon", "40-35", "0", "60 h", "35 apples", "-5"] {
            assert!(m(bad).is_err(), "{bad}");
        }
    }

    #[test]
    fn weights() {
        let g = |t: &str| grams(t).map(|m| m.as_grams().round());
        assert_eq!(g("900"), Ok(900.0));
        assert_eq!(g("1.2 kg"), Ok(1200.0));
        assert_eq!(g("2 lb"), Ok(907.0));
        for bad in ["", "0", "-5 g", "5 cups", "1e300"] {
            assert!(g(bad).is_err(), "{bad}");
        }
    }

    #[test]
    fn histories() {
        let l = legs("1 h at 22 C, 12 h at 4 C, then 27 C").expect("a history");
        assert_eq!(l.len(), 3);
        assert_eq!(
            l[1],
            Leg {
                hours: Some(12.0),
                celsius: 4.0,
                place: None
            }
        );
        assert_eq!(l[2].hours, None);
        assert_eq!(
            legs("overnight at 4 C; 80F").expect("a history")[0].hours,
            Some(12.0)
        );
        assert_eq!(legs("90 min @ 30C").expect("a history")[0].hours, Some(1.5));
        let l = legs("2,5 h at 22,5 C,then 27 C").expect("a history");
        assert_eq!((l.len(), l[0].hours, l[0].celsius), (2, Some(2.5), 22.5));
        for (said, hours, celsius, place) in [
            ("12 h in the fridge", Some(12.0), 4.0, Some("fridge")),
            (
                "overnight in the refrigerator",
                Some(12.0),
                4.0,
                Some("fridge"),
            ),
            ("1 h at room temperature", Some(1.0), 21.0, Some("room")),
            ("in a warm place", None, 27.0, Some("warm place")),
            ("12 h in the fridge at 3 C", Some(12.0), 3.0, None),
        ] {
            let want = Leg {
                hours,
                celsius,
                place,
            };
            assert_eq!(legs(said), Ok(vec![want]), "{said}");
        }
        for (bad, why) in [
            ("1 h at 22", "write 22 °C or 22 °F"),
            (
                "40 min in the larder",
                "says neither a temperature nor a place",
            ),
        ] {
            let e = legs(bad).expect_err(bad).to_string();
            assert!(e.contains(why), "{e}");
        }
        for bad in [
            "",
            "soon in the fridge",
            "22 C, 3 h at 4 C",
            "1 h at 22",
            "1 h at 90 C",
            "x",
            "-1 h at 20 C",
        ] {
            assert!(legs(bad).is_err(), "{bad}");
        }
    }
}
