//! The timers on offer: the source's own, and those of the rework in their place.

use super::Offer;
use crate::web::recipe::component_name;
use recipe::rework::Change;
use recipe::{Activity, FactKind, Step};

/// Timers of the source's method.
pub fn offers(steps: &[&Step]) -> Vec<Offer> {
    let mut out: Vec<Offer> = Vec::new();
    for step in steps {
        for fact in &step.facts {
            let FactKind::Duration { value, doing } = &fact.kind else {
                continue;
            };
            // A dough without gluten is not kneaded to the clock.
            if matches!(
                doing,
                Some(Activity::Knead | Activity::KnockBack | Activity::Windowpane)
            ) {
                continue;
            }
            let (low, high) = (value.low().as_minutes(), value.high().as_minutes());
            if !(0.1..=2880.0).contains(&low) {
                continue;
            }
            let offer = Offer {
                label: doing.map_or_else(
                    || format!("Step {}", step.number),
                    |d| component_name(d.word()),
                ),
                minutes: tidy(low),
                most: (high > low * 1.001).then_some(high.round()),
                step: Some(step.number),
            };
            // 'overnight, or at least 8 hours' is one chill.
            let twin = out.iter_mut().find(|o| {
                o.label == offer.label && o.minutes == offer.minutes && o.step == offer.step
            });
            match twin {
                Some(twin) => twin.most = twin.most.or(offer.most),
                None => out.push(offer),
            }
        }
    }
    out
}

/// Timers for what the rework changes: its rest, its bake.
pub fn ours(changes: &[Change]) -> Vec<Offer> {
    let mut out = Vec::new();
    for c in changes {
        let label = match c.what.as_str() {
            // What stays is among the source's own.
            "rest" if !c.to.ends_with("as it was") => "Rest",
            "oven" => "Bake",
            _ => continue,
        };
        let mut times = spans(&c.to);
        if let ("rest", [(low, high)]) = (c.what.as_str(), times.as_mut_slice()) {
            // The change names the usual rest; its range says how long it may be.
            if let Some((_, most)) = c.range.as_deref().and_then(|r| spans(r).pop()) {
                *high = most.max(*low);
            }
        }
        let several = times.len() > 1;
        for (i, (low, high)) in times.into_iter().enumerate() {
            let (low, high) = (tidy(low), tidy(high));
            out.push(Offer {
                label: if several {
                    format!("{label}, as reworked, part {}", i + 1)
                } else {
                    format!("{label}, as reworked")
                },
                minutes: low,
                most: (high > low * 1.001).then_some(high),
                step: None,
            });
        }
    }
    out
}

/// Timers of the source but those the rework has a time of its own for.
pub fn without_reworked(mut timers: Vec<Offer>, changes: &[Change]) -> Vec<Offer> {
    for c in changes {
        if ours(std::slice::from_ref(c)).is_empty() {
            continue;
        }
        let label = if c.what == "oven" { "Bake" } else { "Rest" };
        let from = spans(&c.from);
        timers.retain(|t| {
            let same = |s: &(f64, f64)| (tidy(s.0) - t.minutes).abs() < 0.51;
            t.label != label || !from.iter().any(same)
        });
    }
    timers
}

/// Minutes as the bench counts them: whole above 10.
fn tidy(m: f64) -> f64 {
    if m > 10.0 {
        m.round()
    } else {
        (m * 60.0).round() / 60.0
    }
}

/// The times in the words of a change, minutes from and to: `170 °C to 180 °C, 39–50 minutes`.
fn spans(words: &str) -> Vec<(f64, f64)> {
    words
        .split(", ")
        .flat_map(|p| p.split(" and then "))
        .map(|p| p.trim().trim_start_matches("then "))
        .filter_map(|p| match p.split_once(" to ") {
            Some((from, to)) => Some((one_span(from)?.0, one_span(to)?.1)),
            None => one_span(p),
        })
        .filter(|(low, _)| (0.1..=2880.0).contains(low))
        .collect()
}

/// `45 seconds`, `39–50 minutes`, `1½ hours`, `2 hours 25`, in minutes.
fn one_span(words: &str) -> Option<(f64, f64)> {
    let mut words = words.split_whitespace();
    let (figure, unit) = (words.next()?, words.next()?);
    let unit = match unit.trim_end_matches('s') {
        "second" => 1.0 / 60.0,
        "minute" => 1.0,
        "hour" => 60.0,
        _ => return None,
    };
    let number = |t: &str| -> Option<f64> {
        match t.strip_suffix('½') {
            Some("") => Some(0.5),
            Some(whole) => Some(whole.parse::<f64>().ok()? + 0.5),
            None => t.parse().ok(),
        }
    };
    let (low, high) = figure.split_once('–').unwrap_or((figure, figure));
    let more = words.next().and_then(|w| w.parse().ok()).unwrap_or(0.0);
    Some((number(low)? * unit + more, number(high)? * unit + more))
}

#[cfg(test)]
mod tests {
    use super::super::example::named;
    use super::super::minutes;
    use super::*;

    #[test]
    fn the_times_of_a_change_are_timers() {
        let change = |what: &str, to: &str, range: Option<&str>| Change {
            what: what.to_owned(),
            from: "none stated".to_owned(),
            to: to.to_owned(),
            range: range.map(str::to_owned),
            rule: String::new(),
            source: String::new(),
            sums: Vec::new(),
        };
        let told = |what: &str, to: &str, range: Option<&str>| {
            ours(&[change(what, to, range)])
                .iter()
                .map(|o| {
                    let most = o
                        .most
                        .map_or(String::new(), |m| format!(" to {}", minutes(m)));
                    format!("{}: {}{most}", o.label, minutes(o.minutes))
                })
                .collect::<Vec<_>>()
                .join("; ")
        };
        for (what, to, range, want) in [
            (
                "rest",
                "30 minutes, after mixing",
                Some("20–40 minutes"),
                "Rest, as reworked: 30 min to 40 min",
            ),
            (
                "rest",
                "10 minutes at most, after mixing",
                Some("0–10 minutes"),
                "Rest, as reworked: 10 min",
            ),
            (
                "rest",
                "1 hour, as it was",
                Some("30 minutes to 2 hours"),
                "",
            ),
            (
                "rest",
                "1½ hours, chilled",
                Some("1–2 hours"),
                "Rest, as reworked: 1 h 30 min to 2 h",
            ),
            (
                "oven",
                "170 °C to 180 °C, 39–50 minutes",
                None,
                "Bake, as reworked: 39 min to 50 min",
            ),
            (
                "oven",
                "16.5–19 minutes",
                None,
                "Bake, as reworked: 17 min to 19 min",
            ),
            (
                "oven",
                "210 °C to 220 °C, 11 minutes, then 170 °C to 180 °C, 1 hour 50 to 2 hours 5",
                None,
                "Bake, as reworked, part 1: 11 min; Bake, as reworked, part 2: 1 h 50 min to 2 h 5 min",
            ),
            ("core temperature", "96 °C", None, ""),
        ] {
            assert_eq!(told(what, to, range), want, "{to}");
        }
    }

    #[test]
    fn every_rest_and_bake_of_a_rework_is_a_timer() {
        for text in [
            "apricot-almond-buns",
            "lemon-yoghurt-cake",
            "leek-and-cheddar-tart",
            "ginger-crumb-cheesecake",
        ] {
            let (w, ..) = named(text);
            for c in &w.rework.components {
                for change in c
                    .changes
                    .iter()
                    .filter(|c| matches!(c.what.as_str(), "rest" | "oven"))
                {
                    let kept = change.to.ends_with("as it was");
                    assert_eq!(
                        ours(std::slice::from_ref(change)).is_empty(),
                        kept,
                        "{}",
                        change.to
                    );
                }
            }
        }
    }
}
