//! What the plan takes from a method: the baker's own steps, the source's oven, the notes of the
//! rework.

use super::words::{both_scales, degrees, oven as oven_heat, span, whole_minutes};
use super::{Figure, Note};
use crate::web::kitchen::oven_words;
use recipe::rework::ReworkedComponent;
use recipe::{Activity, FactKind, Heat, Step};
use store::Settings;

/// The baker's own method, a step a line, without numbers of their own.
pub fn own_method(text: &str) -> Vec<String> {
    text.lines()
        .map(|l| {
            let l = l.trim();
            let rest = l.trim_start_matches(|c: char| c.is_ascii_digit());
            match rest.strip_prefix(['.', ')']) {
                Some(step) if rest.len() < l.len() && step.starts_with(' ') => step.trim(),
                _ => l,
            }
        })
        .filter(|l| !l.is_empty())
        .map(str::to_owned)
        .collect()
}

/// The scales of the source's temperatures: `F`, `both`, or nothing where it has none but °C.
pub fn stated(steps: &[Step]) -> Option<&'static str> {
    let (mut c, mut f) = (false, false);
    for (step, fact) in steps
        .iter()
        .flat_map(|s| s.facts.iter().map(move |x| (s, x)))
    {
        let FactKind::Temperature { value, .. } = &fact.kind else {
            continue;
        };
        let words = step.text.get(fact.span.clone()).unwrap_or_default();
        let figures = words
            .split(|x: char| !x.is_ascii_digit() && x != '.')
            .filter_map(|n| n.parse::<f64>().ok());
        for n in figures {
            for t in [value.low(), value.likely(), value.high()] {
                c |= (t.as_celsius() - n).abs() < 0.6;
                f |= (t.as_fahrenheit() - n).abs() < 0.6;
            }
        }
        // The other scale may stand in words beside the fact.
        let upper = words.to_uppercase();
        c |= upper.contains("°C") || upper.ends_with('C');
        f |= upper.contains("°F") || upper.ends_with('F');
    }
    match (c, f) {
        (_, false) => None,
        (false, true) => Some("F"),
        (true, true) => Some("both"),
    }
}

/// Oven and other figures of these steps, with the oven of another step where they bake without
/// one.
pub fn heat(all: &[Step], steps: &[&Step], settings: &Settings) -> Vec<Figure> {
    let mut out: Vec<Figure> = Vec::new();
    let mut say = |what: &str, value: String| {
        let figure = Figure {
            what: what.to_owned(),
            value,
        };
        if !out.contains(&figure) {
            out.push(figure);
        }
    };
    let bakes = steps.iter().any(|s| does(s, Activity::Bake));
    let oven = |s: &&Step| {
        s.facts.iter().any(|f| {
            matches!(
                f.kind,
                FactKind::Temperature {
                    of: Heat::Oven | Heat::FanOven,
                    ..
                }
            )
        })
    };
    let elsewhere: Vec<&Step> = all
        .iter()
        .filter(|_| bakes && !steps.iter().any(oven))
        .filter(oven)
        .take(1)
        .collect();
    let shown = elsewhere.iter().chain(steps);
    for (step, fact) in shown.flat_map(|s| s.facts.iter().map(move |f| (*s, f))) {
        match &fact.kind {
            FactKind::Temperature { value, of } => match of {
                Heat::Oven => {
                    let own = oven_words(settings, value.likely().as_celsius());
                    let own = own.map_or(String::new(), |w| format!(", {}", both_scales(&w)));
                    // A gas mark stays beside it, as it was written.
                    let words = step.text.get(fact.span.clone()).unwrap_or_default();
                    let gas = words.to_lowercase().starts_with("gas");
                    let gas = if gas {
                        format!(", {}", words.to_lowercase())
                    } else {
                        String::new()
                    };
                    say("Oven", format!("{}{gas}{own}", oven_heat(*value)));
                }
                Heat::FanOven => say("Fan oven", oven_heat(*value)),
                Heat::Core => say("In the middle", degrees(*value)),
                Heat::Other => {}
            },
            FactKind::Duration {
                value,
                doing: Some(Activity::Bake),
            } => say("Bake", span(*value)),
            _ => {}
        }
    }
    out
}

fn does(step: &Step, what: Activity) -> bool {
    step.facts.iter().any(|f| match &f.kind {
        FactKind::Duration { doing, .. } => *doing == Some(what),
        FactKind::Doing(doing) => *doing == what,
        _ => false,
    })
}

/// What to do differently in a component, for so many times the recipe.
pub fn notes(c: &ReworkedComponent, factor: f64) -> Vec<Note> {
    c.method_notes
        .iter()
        // What one time the recipe makes says nothing of another size.
        .filter(|n| (factor - 1.0).abs() < 1e-9 || !of_the_size(&n.text))
        .map(|n| Note {
            text: both_scales(&whole_minutes(&n.text)),
            source: n.source.clone(),
        })
        .collect()
}

/// Whether a note speaks of how much one time the recipe makes.
fn of_the_size(note: &str) -> bool {
    note.starts_with("Makes ") && note.contains(" than the original")
}

#[cfg(test)]
mod tests {
    use super::super::example::{named, planned, worked};

    #[test]
    fn the_scale_of_the_source_is_known() {
        for (step, want) in [
            ("Bake at 350°F for 30 minutes.", Some("F")),
            ("Bake at 350 degrees F for 30 minutes.", Some("F")),
            ("Bake at 180 °C for 30 minutes.", None),
            ("Bake at 350°F (175°C) for 30 minutes.", Some("both")),
            ("Bake for 30 minutes.", None),
        ] {
            let text = worked(&format!(
                "Tea cake\n\n200 g plain flour\n100 g butter\n100 g sugar\n2 eggs\n\nMethod\n1. Mix.\n2. {step}\n"
            ));
            let plan = planned(&text, 1.0);
            assert_eq!(plan.degrees.as_deref(), want, "{step}");
        }
    }

    #[test]
    fn an_oven_is_shown_as_its_dial_with_the_gas_mark_beside() {
        for (step, want) in [
            ("Bake at Gas 6 for 30 minutes.", "200 °C (400 °F), gas 6"),
            (
                "Bake at gas mark 4 for 30 minutes.",
                "180 °C (350 °F), gas mark 4",
            ),
            ("Bake at 350°F for 30 minutes.", "180 °C (350 °F)"),
            ("Bake at 175 °C for 30 minutes.", "175 °C (345 °F)"),
        ] {
            let text = worked(&format!(
                "Tea cake\n\n200 g plain flour\n100 g butter\n100 g sugar\n2 eggs\n\nMethod\n1. Mix.\n2. {step}\n"
            ));
            let plan = planned(&text, 1.0);
            let heat = plan.components.iter().flat_map(|c| &c.heat);
            let oven: Vec<&str> = heat
                .filter(|f| f.what == "Oven")
                .map(|f| f.value.as_str())
                .collect();
            assert_eq!(oven, [want], "{step}");
        }
    }

    #[test]
    fn how_much_it_makes_is_said_of_one_time_alone() {
        let larger = |factor: f64| {
            let mut notes = 0;
            for text in [
                "apricot-almond-buns",
                "lemon-yoghurt-cake",
                "sunday-pancakes",
                "leek-and-cheddar-tart",
            ] {
                let plan = planned(&named(text), factor);
                notes += plan
                    .components
                    .iter()
                    .flat_map(|c| &c.notes)
                    .filter(|n| n.text.contains("more than the original"))
                    .count();
            }
            notes
        };
        assert!(larger(1.0) > 0);
        assert_eq!(larger(0.5), 0);
    }
}
