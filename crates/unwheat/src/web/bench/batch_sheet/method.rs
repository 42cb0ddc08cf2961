//! What the plan takes from a method: the source's oven, the notes of the rework.

use super::words::{degrees, oven as oven_heat, span, whole_minutes};
use super::{Figure, Note};
use crate::web::kitchen::{oven_range, oven_words};
use quantity::{OvenSetting, Temperature, both_scales};
use recipe::rework::{ReworkedComponent, gas_mark};
use recipe::{Activity, FactKind, Heat, Recipe, Step};
use store::Settings;

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
    let fan = elsewhere.iter().chain(steps).any(|s| {
        let fan = |f: &recipe::Fact| {
            matches!(
                f.kind,
                FactKind::Temperature {
                    of: Heat::FanOven,
                    ..
                }
            )
        };
        s.facts.iter().any(fan)
    });
    let shown = elsewhere.iter().chain(steps);
    for (step, fact) in shown.flat_map(|s| s.facts.iter().map(move |f| (*s, f))) {
        match &fact.kind {
            FactKind::Temperature { value, of } => match of {
                Heat::Oven => {
                    // What the source says of the kitchen's own kind of oven stands for itself.
                    let gas = gas_mark(step, fact);
                    let said = match settings.oven.as_str() {
                        "fan" => fan,
                        "gas" => gas.is_some(),
                        _ => false,
                    };
                    let own = oven_words(settings, value.likely().as_celsius());
                    let own = own.filter(|_| !said);
                    let own = own.map_or(String::new(), |w| format!(", {}", both_scales(&w)));
                    let gas = gas.map_or(String::new(), |g| format!(", gas mark {g}"));
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

/// The oven of the rework, stage by stage, with the figure of the kitchen's own oven.
pub fn our_heat(c: &ReworkedComponent, settings: &Settings) -> Vec<Figure> {
    let mut out: Vec<Figure> = Vec::new();
    for oven in c.method_notes.iter().flat_map(|n| &n.ovens) {
        let figure = Figure {
            what: "Oven, as reworked".to_owned(),
            value: dial(*oven, settings),
        };
        if !out.contains(&figure) {
            out.push(figure);
        }
    }
    out
}

/// The oven of the rework for what the method bakes at so many °C; where it says none, the only one
/// there is.
pub fn our_oven(c: &ReworkedComponent, at: Option<f64>, settings: &Settings) -> Option<String> {
    let ovens: Vec<_> = c.method_notes.iter().flat_map(|n| &n.ovens).collect();
    let of = |t: f64| {
        let holds = |o: &&&(Temperature, Temperature)| {
            o.0.as_celsius() - 0.6 <= t && t <= o.1.as_celsius() + 0.6
        };
        ovens.iter().find(holds).copied()
    };
    let found = match at {
        Some(t) => of(t),
        None => ovens
            .first()
            .filter(|f| ovens.iter().all(|o| o == *f))
            .copied(),
    };
    found.map(|o| dial(*o, settings))
}

fn dial((low, high): (Temperature, Temperature), settings: &Settings) -> String {
    let (from, to) = (low.as_celsius(), high.as_celsius());
    let own = oven_range(settings, from, to);
    let own = own.map_or(String::new(), |w| format!(", {w}"));
    let own = both_scales(&own);
    let f = |t| OvenSetting(t).beside_celsius();
    if low == high {
        return format!("{from:.0} °C / {} °F{own}", f(low));
    }
    format!("{from:.0}–{to:.0} °C / {}–{} °F{own}", f(low), f(high))
}

fn does(step: &Step, what: Activity) -> bool {
    step.facts.iter().any(|f| match &f.kind {
        FactKind::Duration { doing, .. } => *doing == Some(what),
        FactKind::Doing(doing) => *doing == what,
        _ => false,
    })
}

/// What to do differently in a component.
///
/// # Arguments
/// * `own` — beside the baker's own method, whose steps have numbers of their own.
pub fn notes(c: &ReworkedComponent, recipe: &Recipe, own: bool) -> Vec<Note> {
    let all = &c.method_notes;
    all.iter()
        .map(|n| Note {
            text: both_scales(&whole_minutes(&n.told(all, recipe, own))),
            source: n.source.clone(),
        })
        .collect()
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
            (
                "Bake at Gas 6 for 30 minutes.",
                "200 °C (400 °F), gas mark 6",
            ),
            (
                "Bake at gas mark 4 for 30 minutes.",
                "180 °C (350 °F), gas mark 4",
            ),
            ("Bake at 350°F for 30 minutes.", "180 °C (350 °F)"),
            (
                "Bake at 190°C/fan 170°C/Gas 5 for 30 minutes.",
                "190 °C (375 °F), gas mark 5",
            ),
            (
                "Heat the oven to 190 °C (170 °C fan), Gas 5. Bake for 30 minutes.",
                "190 °C (375 °F), gas mark 5",
            ),
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

    /// Beside the baker's own method, 'Step 2 chills' was step 2 of the source.
    #[test]
    fn a_note_beside_an_own_method_is_of_the_originals_step() {
        let text = "Tea cake\n\n200 g plain flour\n100 g butter\n100 g sugar\n2 eggs\n\nMethod\n1. Mix.\n2. Bake at 180 °C for 30 minutes.\n";
        let (_, mut sheet, larder) = worked(text);
        let mut told = |method: Option<&str>| {
            sheet.method = method.map(str::to_owned);
            let w = recipe::sheet::work(&sheet, &[], &larder, &[]).expect("worked");
            let settings = store::Settings::default();
            let plan = super::super::batch_sheet(&w, &sheet, &larder, &settings, &w.batch);
            let notes = plan.components.into_iter().flat_map(|c| c.notes);
            notes.map(|n| n.text).collect::<Vec<_>>().join(" ")
        };
        let theirs = told(None);
        assert!(theirs.contains("Step 2 bakes"), "{theirs}");
        let own = told(Some("Weigh.\nMix.\nBake at 180 °C for 40 minutes."));
        assert!(own.contains("The original’s step 2 bakes"), "{own}");
        assert!(!own.contains("Step 2"), "{own}");
    }

    #[test]
    fn each_oven_has_one_figure_for_the_kitchens_own() {
        let text = worked(
            "Tea cake\n\n200 g plain flour\n100 g butter\n100 g sugar\n2 eggs\n\nMethod\n1. Mix.\n2. Bake at 190°C/170°C fan/Gas 5 for 30 minutes.\n",
        );
        let told = |oven: &str| {
            let settings = store::Settings {
                oven: oven.to_owned(),
                ..store::Settings::default()
            };
            let (w, sheet, larder) = &text;
            let plan = super::super::batch_sheet(w, sheet, larder, &settings, &w.batch);
            let c = &plan.components[0];
            c.heat
                .iter()
                .chain(&c.our_heat)
                .map(|f| format!("{}: {}", f.what, f.value))
                .collect::<Vec<_>>()
                .join("; ")
        };
        let page = "Oven: 190 °C (375 °F), gas mark 5; Fan oven: 170 °C (340 °F); Bake: 30 min; ";
        let ours = "Oven, as reworked: 180–190 °C / 350–375 °F";
        assert_eq!(told("still"), format!("{page}{ours}"));
        assert_eq!(
            told("fan"),
            format!("{page}{ours}, in your fan oven 160–170 °C / 325–340 °F")
        );
        assert_eq!(
            told("gas"),
            format!("{page}{ours}, in your gas oven mark 4–5")
        );
    }

    /// It is the conversion's, not the size's: said alike at any size.
    #[test]
    fn how_much_more_the_conversion_makes_is_said_at_any_size() {
        let said = |factor: f64| -> Vec<String> {
            let plan = planned(&named("apricot-almond-buns"), factor);
            let notes = plan.components.iter().flat_map(|c| &c.notes);
            let more = notes.filter(|n| n.text.contains("more than the original, at any size"));
            more.map(|n| n.text.clone()).collect()
        };
        assert!(!said(1.0).is_empty());
        assert_eq!(said(0.5), said(1.0));
        assert_eq!(said(3.0), said(1.0));
    }

    #[test]
    fn a_part_that_the_own_method_leaves_out_is_told_at_the_bench() {
        let text = "Wreath\n\nDough\n500 g strong white flour\n7 g fast-action yeast\n7 g salt\n250 g milk\n\nEgg wash\n1 egg\n1 tbsp milk\n\nMethod\n1. Mix the dough and let rise for 1 hour.\n2. Brush with the egg wash and bake at 190 °C for 30 minutes.\n";
        let told = |method: &str| -> Vec<String> {
            let (w, mut sheet, larder) = worked(text);
            sheet.method = Some(method.to_owned());
            let plan = planned(&(w, sheet, larder), 1.0);
            let notes = plan.components.into_iter().flat_map(|c| c.notes);
            let said = notes.map(|n| n.text);
            said.filter(|n| n.contains("does not say where")).collect()
        };
        assert_eq!(
            told("Mix the dough. Let rise for 1 hour.\nBake at 190 °C for 30 minutes."),
            ["Your method does not say where the egg wash goes: write a step for it."]
        );
        let whole = "Mix the dough. Let rise for 1 hour.\nBrush with the egg wash and bake at 190 °C for 30 minutes.";
        assert!(told(whole).is_empty());
    }

    /// A case that its own recipe bakes and the tart bakes again: the words of the card.
    #[test]
    fn a_note_of_two_methods_says_whose_step_it_is_of() {
        let tart = "Quince tart\n\n1 quantity sweet crust\n500 g quinces\n50 g sugar\n\nMethod\n1. Line a 23 cm tart tin with the sweet crust. Fill with quinces and sugar and bake 40 minutes at 190 °C.\n";
        let case = "Base crust\n\nFor the sweet crust\n250 g plain flour\n125 g cold butter\n40 g water\n\nMethod\n1. Rub in the butter, add the water, roll out and bake at 190 °C for 20 minutes.\n";
        let (_, mut sheet, larder) = worked(tart);
        sheet.parts.push(recipe::sheet::PartUse {
            recipe: "r1".to_owned(),
            version: 1,
            title: "Base crust".to_owned(),
        });
        let part = recipe::sheet::Sheet::new(case, sheet.locale()).into();
        let w = recipe::sheet::work(&sheet, &[part], &larder, &[]).expect("worked");
        let plan = planned(&(w, sheet, larder), 1.0);
        let notes = plan.components.into_iter().flat_map(|c| c.notes);
        let said = notes.map(|n| n.text).collect::<Vec<_>>().join(" ");
        for words in [
            "In ‘Base crust’: Step 1 bakes for 20 minutes",
            "In this recipe: Step 1 bakes for 40 minutes",
        ] {
            assert!(said.contains(words), "{said}");
        }
    }
}
