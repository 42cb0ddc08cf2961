//! How the middle of a bake warms, and how a dough rises along where it stands.

use maud::{Markup, html};

use super::svg::{Frame, Hang, WIDTH, at, known, line, text};

/// A bake's core against time.
#[derive(Debug, Clone, PartialEq)]
pub struct Warming {
    /// Minutes and °C of the new bake, likely.
    pub curve: Vec<(f64, f64)>,
    /// Minutes and °C of the known bake.
    pub known: Vec<(f64, f64)>,
    /// The shortest and longest time, over the likely one.
    pub range: (f64, f64),
    /// The core that ends it, °C.
    pub target: f64,
    /// Water boils, °C.
    pub boiling: f64,
    /// Its kitchen reads °F.
    pub fahrenheit: bool,
}

/// What a kitchen's thermometer shows, and its sign.
fn shown(celsius: f64, fahrenheit: bool) -> (f64, &'static str) {
    if fahrenheit {
        (celsius * 1.8 + 32.0, "°F")
    } else {
        (celsius, "°C")
    }
}

/// Marks of an axis at round figures of the kitchen's own scale: °C, and what stands there.
fn degrees(marks: (&[f64], &[f64]), fahrenheit: bool) -> Vec<(f64, String)> {
    let of = if fahrenheit { marks.1 } else { marks.0 };
    let celsius = |v: f64| if fahrenheit { (v - 32.0) / 1.8 } else { v };
    of.iter()
        .map(|v| (celsius(*v), format!("{v:.0}")))
        .collect()
}

const LEFT: f64 = 34.0;
const RIGHT: f64 = WIDTH - 6.0;
const TOP: f64 = 14.0;
const HIGH: f64 = 150.0;

fn sound(points: &[(f64, f64)]) -> Vec<(f64, f64)> {
    points
        .iter()
        .copied()
        .filter(|(x, y)| known(*x).is_some() && y.is_finite() && y.abs() < 1e4)
        .collect()
}

/// A path through points.
fn curve(class: &str, points: impl Iterator<Item = (f64, f64)>) -> Markup {
    let all: Vec<String> = points
        .map(|(x, y)| format!("{},{}", at(x), at(y)))
        .collect();
    html! { polyline class=(class) points=(all.join(" ")) {} }
}

/// A round step of time for some four marks.
fn step(most: f64, steps: &[f64]) -> f64 {
    steps
        .iter()
        .copied()
        .find(|s| most / s <= 5.0)
        .unwrap_or(most)
        .max(1e-9)
}

/// The core of a bake against time: the new bake with the range of its time, the known bake
/// dashed, the core that ends it and the boiling point as lines.
pub fn warming(id: &str, w: &Warming) -> Markup {
    let (new, old) = (sound(&w.curve), sound(&w.known));
    let (Some(target), Some(boiling)) = (known(w.target), known(w.boiling)) else {
        return html! {};
    };
    let (low, high) = (
        known(w.range.0).unwrap_or(1.0).clamp(0.1, 1.0),
        known(w.range.1).unwrap_or(1.0).clamp(1.0, 10.0),
    );
    let end = |p: &[(f64, f64)]| p.last().map_or(0.0, |l| l.0);
    let most = (end(&new) * high).max(end(&old));
    if new.len() < 2 || most <= 0.0 {
        return html! {};
    }
    let floor = new
        .iter()
        .chain(&old)
        .map(|p| p.1)
        .fold(20.0_f64, f64::min)
        .min(20.0);
    let x = |m: f64| LEFT + (RIGHT - LEFT) * (m / most).min(1.0);
    let y = |c: f64| TOP + HIGH * (boiling + 4.0 - c) / (boiling + 4.0 - floor);
    let each = step(most, &[5.0, 10.0, 20.0, 30.0, 60.0, 120.0]);
    let marks: Vec<f64> = (0..=20)
        .map(|i| f64::from(i) * each)
        .take_while(|m| *m <= most)
        .collect();
    let (goal, unit) = shown(target, w.fahrenheit);
    let boils = shown(boiling, w.fahrenheit).0;
    let desc = format!(
        "The core reaches {goal:.0} {unit} after {:.0} to {:.0} minutes, likely {:.0}. {}Water boils at {boils:.1} {unit}.",
        end(&new) * low,
        end(&new) * high,
        end(&new),
        if old.len() > 1 {
            format!("The known bake took {:.0}. ", end(&old))
        } else {
            String::new()
        }
    );
    let bottom = TOP + HIGH;
    let band: Vec<String> = new
        .iter()
        .map(|(m, c)| (m * low, *c))
        .chain(new.iter().rev().map(|(m, c)| (m * high, *c)))
        .map(|(m, c)| format!("{},{}", at(x(m)), at(y(c))))
        .collect();
    Frame {
        id,
        kind: "warming",
        height: bottom + 40.0,
        title: "The core's temperature against time",
        desc: &desc,
    }
    .draw(&html! {
        polygon.pic-band points=(band.join(" ")) {}
        @for (c, mark) in degrees((&[40.0, 60.0, 80.0], &[100.0, 140.0, 180.0]), w.fahrenheit) {
            (line("pic-rule", (LEFT, y(c)), (RIGHT, y(c))))
            (text("pic-small", LEFT - 5.0, y(c) + 4.0, Hang::End, &mark))
        }
        (line("pic-rule", (LEFT, y(boiling)), (RIGHT, y(boiling))))
        (line("pic-dash", (LEFT, y(target)), (RIGHT, y(target))))
        (text("pic-strong", LEFT - 5.0, y(target) + 5.0, Hang::End, &format!("{goal:.0}")))
        (line("pic-axis", (LEFT, bottom), (RIGHT, bottom)))
        @for m in &marks {
            (line("pic-axis", (x(*m), bottom), (x(*m), bottom + 4.0)))
            (text("pic-small", x(*m), bottom + 17.0, if x(*m) > RIGHT - 14.0 { Hang::End } else { Hang::Middle }, &format!("{m:.0}")))
        }
        @if old.len() > 1 { (curve("pic-curve pic-before", old.iter().map(|(m, c)| (x(*m), y(*c))))) }
        (curve("pic-curve", new.iter().map(|(m, c)| (x(*m), y(*c)))))
        (text("pic-small", RIGHT, bottom + 34.0, Hang::End, "minutes"))
    })
}

/// A dough where it stands: hours, its °C, percent of the proof done.
pub fn rising(id: &str, points: &[(f64, f64, f64)], fahrenheit: bool) -> Markup {
    let points: Vec<(f64, f64, f64)> = points
        .iter()
        .copied()
        .filter(|p| known(p.0).is_some() && p.1.is_finite() && p.2.is_finite())
        .collect();
    let most = points.last().map_or(0.0, |p| p.0);
    if points.len() < 2 || most <= 0.0 {
        return html! {};
    }
    let hottest = points
        .iter()
        .map(|p| p.1)
        .fold(30.0_f64, f64::max)
        .min(60.0);
    let done = points
        .iter()
        .map(|p| p.2)
        .fold(100.0_f64, f64::max)
        .min(400.0);
    const HALF: f64 = 84.0;
    const SECOND: f64 = TOP + HALF + 34.0;
    let x = |h: f64| LEFT + (RIGHT - LEFT) * (h / most).min(1.0);
    let warm = |c: f64| TOP + HALF * (hottest - c.clamp(0.0, hottest)) / hottest;
    let grown = |p: f64| SECOND + HALF * (done - p.clamp(0.0, done)) / done;
    let each = step(most, &[0.25, 0.5, 1.0, 2.0, 4.0, 6.0, 12.0, 24.0]);
    let marks: Vec<f64> = (0..=20)
        .map(|i| f64::from(i) * each)
        .take_while(|m| *m <= most)
        .collect();
    let last = points[points.len() - 1];
    let ((from, unit), (to, _)) = (shown(points[0].1, fahrenheit), shown(last.1, fahrenheit));
    let desc = format!(
        "Over {most:.1} hours the dough goes from {from:.0} to {to:.0} {unit}; {:.0} % of the proof is done by growth at the end.",
        last.2
    );
    let bottom = SECOND + HALF;
    Frame {
        id,
        kind: "rising",
        height: bottom + 26.0,
        title: "The dough's temperature, and how much of the proof is done",
        desc: &desc,
    }
    .draw(&html! {
        (text("pic-small", LEFT, TOP - 4.0, Hang::Start, &format!("{unit} of the dough")))
        @for (c, mark) in degrees((&[0.0, 10.0, 20.0, 30.0], &[32.0, 50.0, 68.0, 86.0]), fahrenheit) {
            (line("pic-rule", (LEFT, warm(c)), (RIGHT, warm(c))))
            (text("pic-small", LEFT - 5.0, warm(c) + 4.0, Hang::End, &mark))
        }
        (curve("pic-curve", points.iter().map(|p| (x(p.0), warm(p.1)))))
        (text("pic-small", LEFT, SECOND - 7.0, Hang::Start, "% of the proof, likely"))
        @for p in [0.0, 50.0, 100.0] {
            (line(if p == 100.0 { "pic-dash" } else { "pic-rule" }, (LEFT, grown(p)), (RIGHT, grown(p))))
            (text("pic-small", LEFT - 5.0, grown(p) + 4.0, Hang::End, &format!("{p:.0}")))
        }
        (curve("pic-curve", points.iter().map(|p| (x(p.0), grown(p.2)))))
        (line("pic-axis", (LEFT, bottom), (RIGHT, bottom)))
        @for m in &marks {
            (line("pic-axis", (x(*m), bottom), (x(*m), bottom + 4.0)))
            (text("pic-small", x(*m), bottom + 17.0, if x(*m) > RIGHT - 14.0 { Hang::End } else { Hang::Middle }, &format!("{m} h")))
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_drawn_is_said() {
        let w = Warming {
            curve: vec![(0.0, 25.0), (20.0, 70.0), (40.0, 97.0)],
            known: vec![(0.0, 25.0), (55.0, 97.0)],
            range: (0.9, 1.2),
            target: 97.0,
            boiling: 100.0,
            fahrenheit: false,
        };
        let drawn = warming("w", &w).into_string();
        assert!(
            drawn.contains("after 36 to 48 minutes, likely 40"),
            "{drawn}"
        );
        assert!(drawn.contains("The known bake took 55."), "{drawn}");
        // 97 °C is 206.6 °F; the axis goes by round °F.
        let us = Warming {
            fahrenheit: true,
            ..w.clone()
        };
        let drawn = warming("w", &us).into_string();
        for has in [
            "reaches 207 °F",
            "Water boils at 212.0 °F",
            ">140<",
            ">207<",
        ] {
            assert!(drawn.contains(has), "{has}: {drawn}");
        }
        assert!(!drawn.contains("°C") && !drawn.contains(">60<"), "{drawn}");
        let none = Warming {
            curve: vec![(f64::NAN, 1.0)],
            ..w
        };
        assert_eq!(warming("w", &none).into_string(), "");
        let drawn = rising("r", &[(0.0, 26.0, 0.0), (2.0, 20.0, 80.0)], true).into_string();
        assert!(drawn.contains("80 % of the proof"), "{drawn}");
        assert!(
            drawn.contains("from 79 to 68 °F") && !drawn.contains("°C"),
            "{drawn}"
        );
        assert_eq!(rising("r", &[], false).into_string(), "");
    }
}
