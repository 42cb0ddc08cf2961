//! The timers on offer: the source's own, and those of the rework in their place.

use super::Offer;
use super::words::minutes;
use crate::web::recipe::component_name;
use recipe::rework::{Change, MethodNote, ReworkedComponent};
use recipe::{Activity, FactKind, Recipe, Step};

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

/// Timers of the rework: its rest and its bake, a look at the rise, the cooling.
pub fn ours(c: &ReworkedComponent, theirs: &[Offer]) -> Vec<Offer> {
    let mut out = of_changes(&c.changes);
    let at = out
        .iter()
        .position(|o| o.label.starts_with("Bake"))
        .unwrap_or(out.len());
    // It is to grow about half as far: so is the time until somebody looks.
    let rise = theirs
        .iter()
        .rfind(|o| o.label == "Rise" && !left_out(c, o));
    if let (Some(rise), true) = (
        rise,
        c.method_notes.iter().any(|n| n.rule == "end of the rise"),
    ) {
        out.insert(
            at,
            Offer {
                label: "Rise, as reworked: look from".to_owned(),
                minutes: tidy(rise.minutes / 2.0),
                most: None,
                step: None,
            },
        );
    }
    if c.method_notes
        .iter()
        .any(|n| n.rule == "cool before cutting")
    {
        for (what, minutes, most) in COOLING {
            out.push(Offer {
                label: format!("Cool before cutting, as reworked: {what}"),
                minutes,
                most: Some(most),
                step: None,
            });
        }
    }
    out
}

/// Minutes until the middle is below 35 °C, as the method note of cooling has them.
const COOLING: [(&str, f64, f64); 2] = [("rolls", 45.0, 60.0), ("a loaf", 180.0, 240.0)];

/// Whether the rework leaves this rise out.
fn left_out(c: &ReworkedComponent, offer: &Offer) -> bool {
    let Some(step) = offer.step else { return false };
    let ways = [
        format!("leave out that of step {step},"),
        format!("leave out the warm one of step {step};"),
    ];
    let said = |n: &MethodNote| n.rule == "one rise" && ways.iter().any(|w| n.text.contains(w));
    c.method_notes.iter().any(said)
}

/// So many minutes above 5 °C are the limit for what holds egg or milk, and so many are near it.
const LIMIT: f64 = 120.0;
const NEAR: f64 = 90.0;

/// How near the source's warm rises and rests come to the limit for what holds egg or milk.
pub fn warm(c: &ReworkedComponent, steps: &[&Step]) -> Option<String> {
    if !c.holds_egg_or_milk {
        return None;
    }
    let does = |s: &Step, what: Activity| {
        s.facts
            .iter()
            .any(|f| matches!(f.kind, FactKind::Duration { doing: Some(a), .. } if a == what))
    };
    let raw = steps
        .iter()
        .take_while(|s| !does(s, Activity::Bake))
        .copied()
        .collect::<Vec<_>>();
    let baking = steps.get(raw.len()).copied();
    let raw: Vec<&Step> = raw.into_iter().chain(baking).collect();
    let warm: Vec<Offer> = offers(&raw)
        .into_iter()
        .filter(|o| matches!(o.label.as_str(), "Rise" | "Rest") && !left_out(c, o))
        .filter(|o| {
            let step = raw.iter().find(|s| Some(s.number) == o.step);
            !step.is_some_and(|s| in_the_cold(&s.text))
        })
        .collect();
    let least: f64 = warm.iter().map(|o| o.minutes).sum();
    let most: f64 = warm.iter().map(|o| o.most.unwrap_or(o.minutes)).sum();
    if most < NEAR {
        return None;
    }
    let told = if most > least {
        format!("{} to {}", minutes(least), minutes(most))
    } else {
        minutes(most)
    };
    let so = if most > LIMIT {
        "longer than"
    } else if most >= LIMIT - 1.0 {
        "all of"
    } else {
        "most of"
    };
    Some(format!(
        "Egg or milk is in it, and their warm rise and rest take {told}: {so} the 2 hours it may stay above 5 °C / 41 °F, mixing and shaping included. Look early, or let it rise in the cold (your local rules come first)."
    ))
}

fn in_the_cold(text: &str) -> bool {
    let text = text.to_lowercase();
    ["fridge", "refrigerat", "chill", "in the cold"]
        .iter()
        .any(|w| text.contains(w))
}

/// Timers for what the rework changes: its rest, its bake.
fn of_changes(changes: &[Change]) -> Vec<Offer> {
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

/// Timers of the source, those that the rework has a time of its own for marked as the source's.
pub fn as_theirs(mut timers: Vec<Offer>, c: &ReworkedComponent) -> Vec<Offer> {
    for change in &c.changes {
        if of_changes(std::slice::from_ref(change)).is_empty() {
            continue;
        }
        let label = if change.what == "oven" {
            "Bake"
        } else {
            "Rest"
        };
        let from = spans(&change.from);
        timers.retain(|t| {
            let same = |s: &(f64, f64)| (tidy(s.0) - t.minutes).abs() < 0.51;
            t.label != label || !from.iter().any(same)
        });
    }
    let ruled = |rule: &str| c.method_notes.iter().any(|n| n.rule == rule);
    let (rise, cool) = (ruled("end of the rise"), ruled("cool before cutting"));
    for t in &mut timers {
        match t.label.as_str() {
            "Rise" if left_out(c, t) => "Rise that the rework leaves out".clone_into(&mut t.label),
            "Rise" if rise => "Rise, as with wheat".clone_into(&mut t.label),
            "Cool" if cool => "Cool, as with wheat".clone_into(&mut t.label),
            _ => {}
        }
    }
    timers
}

/// Timers with their steps called as the page calls them.
pub fn as_the_page_has_it(mut timers: Vec<Offer>, recipe: &Recipe) -> Vec<Offer> {
    for t in &mut timers {
        let Some(step) = t.step else { continue };
        let label = recipe.step_label(step);
        if t.label == format!("Step {step}") {
            t.label = format!("Step {label}");
        }
        t.step = label.parse().ok();
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
    use super::super::example::{named, planned, worked};
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
            of_changes(&[change(what, to, range)])
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
                        of_changes(std::slice::from_ref(change)).is_empty(),
                        kept,
                        "{}",
                        change.to
                    );
                }
            }
        }
    }

    #[test]
    fn rise_and_cooling_are_offered_as_reworked_beside_the_sources() {
        let told = |text: &str| {
            let plan = planned(&worked(text), 1.0);
            let c = plan.components.into_iter().next().expect("a component");
            let each = |o: &Offer| format!("{} {}", o.label, minutes(o.minutes));
            let all: Vec<String> = c.ours.iter().chain(&c.timers).map(each).collect();
            (all, c.warm)
        };
        let buns = "Milk buns\n\n500 g strong white flour\n7 g fast-action yeast\n60 g sugar\n7 g salt\n280 g milk\n2 eggs\n60 g butter\n\nMethod\n            1. Mix and knead for 8 minutes.\n2. Let rise for 1 hour.\n3. Shape into 12 rolls.\n            4. Let rise for 90 minutes, until doubled.\n5. Bake at 190 °C for 25 minutes. Cool for 20 minutes.\n";
        let (all, warm) = told(buns);
        for want in [
            "Rise, as reworked: look from 45 min",
            "Cool before cutting, as reworked: rolls 45 min",
            "Cool before cutting, as reworked: a loaf 3 h",
            "Rise that the rework leaves out 1 h",
            "Rise, as with wheat 1 h 30 min",
            "Cool, as with wheat 20 min",
        ] {
            assert!(all.iter().any(|o| o == want), "{want}: {all:?}");
        }
        let warm = warm.expect("egg and milk stand warm");
        assert!(
            warm.contains("take 1 h 30 min: most of the 2 hours"),
            "{warm}"
        );
        // In the cold, short, or without egg and milk there is nothing to warn of.
        for (from, to) in [
            (
                "Let rise for 90 minutes",
                "Let rise in the fridge for 90 minutes",
            ),
            ("Let rise for 90 minutes", "Let rise for 30 minutes"),
            ("280 g milk\n2 eggs\n", "330 g water\n"),
        ] {
            let text = buns.replace(from, to).replace("60 g butter", "60 g oil");
            assert_eq!(told(&text).1, None, "{to}");
        }
    }
}
