//! Times of a data block: ISO 8601 durations and plain words.

use crate::{Doubt, DoubtCode};
use quantity::{Time, fraction};

/// Longest time a recipe states, in minutes: a year.
const MOST_MINUTES: f64 = 366.0 * 24.0 * 60.0;

/// Reads a time.
///
/// # Returns
/// The time, and a doubt when there is none or it was not plainly said. `label` names it.
pub(super) fn read(label: &str, text: &str) -> (Option<Time>, Option<Doubt>) {
    let trimmed = text.trim();
    let how = "write it like PT1H30M or '90 min'";
    let doubt = |code, said: String| (None, Some(Doubt::new(code, said)));
    if trimmed.is_empty() {
        return doubt(
            DoubtCode::NotRead,
            format!("the {label} is empty and is left out; {how}"),
        );
    }
    let Some(found) = iso(trimmed).or_else(|| words(trimmed)) else {
        return doubt(
            DoubtCode::NotRead,
            format!(
                "the {label} '{}' is no length of time and is left out; {how}",
                short(trimmed)
            ),
        );
    };
    if found.minutes < 0.0 || found.minutes > MOST_MINUTES || !found.minutes.is_finite() {
        return doubt(
            DoubtCode::ImpossibleNumber,
            format!(
                "the {label} '{}' cannot be and is left out; {how}",
                short(trimmed)
            ),
        );
    }
    let range = found.range.then(|| {
        Doubt::new(
            DoubtCode::NotRead,
            format!(
                "the {label} '{}' is a range: the longer time is kept",
                short(trimmed)
            ),
        )
    });
    (Some(Time::minutes(found.minutes)), range)
}

/// At most 60 letters, for a message.
pub(super) fn short(text: &str) -> String {
    let mut out: String = text.chars().take(60).collect();
    if out.len() < text.len() {
        out.push('…');
    }
    out
}

#[derive(Debug, Clone, Copy, PartialEq)]
struct Found {
    minutes: f64,
    range: bool,
}

/// `P[nW]` or `P[nD][T[nH][nM][nS]]`; years and months are no kitchen time.
fn iso(text: &str) -> Option<Found> {
    let upper: String = text
        .chars()
        .filter(|c| !c.is_whitespace())
        .map(|c| c.to_ascii_uppercase())
        .collect();
    let (sign, rest) = match upper.strip_prefix(['-', '−', '–']) {
        Some(rest) => (-1.0, rest),
        None => (1.0, upper.strip_prefix('+').unwrap_or(&upper)),
    };
    let mut rest = rest.strip_prefix('P')?;
    let mut timed = false;
    let mut rank = 0;
    let mut minutes = 0.0;
    let mut negative = false;
    while !rest.is_empty() {
        if let Some(after) = rest.strip_prefix('T') {
            if timed {
                return None;
            }
            timed = true;
            rest = after;
            continue;
        }
        if let Some(after) = rest.strip_prefix(['-', '−']) {
            negative = true;
            rest = after;
        }
        let end = rest
            .bytes()
            .take_while(|b| b.is_ascii_digit() || matches!(b, b'.' | b','))
            .count();
        let number: f64 = rest[..end].replace(',', ".").parse().ok()?;
        let unit = rest[end..].chars().next()?;
        let (place, size) = match (timed, unit) {
            (false, 'W') => (1, 7.0 * 1440.0),
            (false, 'D') => (2, 1440.0),
            (true, 'H') => (3, 60.0),
            (true, 'M') => (4, 1.0),
            (true, 'S') => (5, 1.0 / 60.0),
            _ => return None,
        };
        if place <= rank {
            return None;
        }
        rank = place;
        minutes += number * size;
        rest = &rest[end + 1..];
    }
    let minutes = if negative {
        -minutes.abs()
    } else {
        sign * minutes
    };
    (rank > 0).then_some(Found {
        minutes,
        range: false,
    })
}

/// Minutes in a unit's word.
fn unit(word: &str) -> Option<f64> {
    Some(match word {
        "d" | "day" | "days" => 1440.0,
        "h" | "hr" | "hrs" | "hour" | "hours" => 60.0,
        "m" | "min" | "mins" | "minute" | "minutes" => 1.0,
        "s" | "sec" | "secs" | "second" | "seconds" => 1.0 / 60.0,
        _ => return None,
    })
}

/// '30 min', '1 hour 20 minutes', '1½ h', '30 to 40 min'.
fn words(text: &str) -> Option<Found> {
    let lower = text.to_lowercase();
    let (sign, mut rest) = match lower.strip_prefix(['-', '−']) {
        Some(rest) => (-1.0, rest.trim_start()),
        None => (1.0, lower.as_str()),
    };
    let mut minutes = 0.0;
    let mut last: Option<f64> = None;
    let mut range = false;
    loop {
        rest = rest.trim_start_matches(|c: char| c.is_whitespace() || matches!(c, ',' | '&' | '+'));
        rest = rest.strip_prefix("and ").unwrap_or(rest).trim_start();
        rest = rest
            .strip_prefix("about ")
            .or_else(|| rest.strip_prefix("approx. "))
            .unwrap_or(rest);
        if rest.is_empty() {
            break;
        }
        let (mut value, after) = number(rest)?;
        rest = after.trim_start();
        let upper = rest
            .strip_prefix(['-', '–', '—'])
            .or_else(|| rest.strip_prefix("to "));
        if let Some(after) = upper {
            let (high, after) = number(after.trim_start())?;
            value = value.max(high);
            range = true;
            rest = after.trim_start();
        }
        let end = rest
            .find(|c: char| !c.is_alphabetic())
            .unwrap_or(rest.len());
        let size = match unit(&rest[..end]) {
            Some(size) => size,
            // '1 h 30'
            None if rest.is_empty() && last == Some(60.0) => 1.0,
            None => return None,
        };
        if last.is_some_and(|l| l <= size) {
            return None;
        }
        last = Some(size);
        minutes += value * size;
        rest = rest[end..].trim_start_matches('.');
    }
    last?;
    Some(Found {
        minutes: sign * minutes,
        range,
    })
}

/// A number at the start: `30`, `1.5`, `1,5`, `1/2`, `1 1/2`, `1½`.
fn number(text: &str) -> Option<(f64, &str)> {
    let end = text.bytes().take_while(u8::is_ascii_digit).count();
    let part = |s: &str| {
        let c = s.chars().next()?;
        Some((fraction(c)?, c.len_utf8()))
    };
    if end == 0 {
        let (value, len) = part(text)?;
        return Some((value, &text[len..]));
    }
    let whole: f64 = text[..end].parse().ok()?;
    let rest = &text[end..];
    let digits = |s: &str| s.bytes().take_while(u8::is_ascii_digit).count();
    if let Some(after) = rest.strip_prefix(['.', ',']) {
        let n = digits(after);
        if n > 0 {
            let value = format!("{}.{}", &text[..end], &after[..n]).parse().ok()?;
            return Some((value, &after[n..]));
        }
    }
    if let Some(after) = rest.strip_prefix('/') {
        let n = digits(after);
        let under: f64 = after[..n].parse().ok().filter(|u| *u > 0.0)?;
        return Some((whole / under, &after[n..]));
    }
    let spaced = rest.trim_start();
    if let Some((value, len)) = part(spaced) {
        return Some((whole + value, &spaced[len..]));
    }
    let n = digits(spaced);
    if n > 0
        && let Some(after) = spaced[n..].strip_prefix('/')
    {
        let m = digits(after);
        let over: f64 = spaced[..n].parse().ok()?;
        let under: f64 = after[..m].parse().ok().filter(|u| *u > 0.0)?;
        return Some((whole + over / under, &after[m..]));
    }
    Some((whole, rest))
}

#[cfg(test)]
mod tests {
    use super::read;

    #[test]
    fn durations() {
        for (text, minutes) in [
            ("PT30M", Some(30.0)),
            ("PT90M", Some(90.0)),
            ("pt1h30m", Some(90.0)),
            ("P0DT1H30M", Some(90.0)),
            ("P1DT2H", Some(1560.0)),
            ("P1W", Some(10080.0)),
            ("PT0S", Some(0.0)),
            ("PT1.5H", Some(90.0)),
            ("PT1,5H", Some(90.0)),
            ("30 min", Some(30.0)),
            ("1 hour 20 minutes", Some(80.0)),
            ("1h30", Some(90.0)),
            ("1 1/2 hours", Some(90.0)),
            ("1½ hrs.", Some(90.0)),
            ("30 to 40 min", Some(40.0)),
            ("PT", None),
            ("P", None),
            ("", None),
            ("-PT10M", None),
            ("PT-10M", None),
            ("-10 min", None),
            ("P30M", None),
            ("P1Y", None),
            ("PT1H30", None),
            ("overnight", None),
            ("90", None),
            ("PT99999999H", None),
            ("PT1M1H", None),
        ] {
            let (time, doubt) = read("total time", text);
            assert_eq!(time.map(|t| t.as_minutes()), minutes, "{text}");
            assert_eq!(
                doubt.is_some(),
                minutes.is_none() || text.contains("to"),
                "{text}"
            );
        }
    }
}
