//! What the notes say of heat, cold and cutting, and the developer's own method does not.
//!
//! Where the method is the developer's, the notes are not printed for the reader: what can hurt
//! somebody stands under Cautions instead, unless the method itself holds it. In doubt it is said
//! twice.

use crate::measure::capital;
use crate::view::tidy;
use quantity::both_scales;
use recipe::own_method::{Steps, steps};
use recipe::rework::{MethodNote, Rework, ReworkedComponent};
use recipe::{Activity, FactKind, Heat};

/// A note that the own method leaves out.
#[derive(Debug, PartialEq)]
pub(crate) struct Unsaid {
    /// The components it is about; none where there is one alone.
    pub(crate) of: Vec<String>,
    pub(crate) text: String,
    pub(crate) source: String,
}

impl Unsaid {
    /// The note as one line.
    pub(crate) fn words(&self) -> String {
        if self.of.is_empty() {
            self.text.clone()
        } else {
            let mut letters = self.text.chars();
            let first = letters.next().map(char::to_lowercase);
            let rest = letters.as_str();
            let text: String = first.into_iter().flatten().chain(rest.chars()).collect();
            format!("{}: {text}", self.of.join(", "))
        }
    }
}

/// Notes on cold, core temperature and cutting that a method does not hold.
pub(crate) fn unsaid(own: &[Steps], rework: &Rework) -> Vec<Unsaid> {
    let mut out: Vec<Unsaid> = Vec::new();
    let many = rework.components.len() > 1;
    for component in &rework.components {
        for note in &component.method_notes {
            let Some(text) = left_out(note, own) else {
                continue;
            };
            let text = both_scales(&text);
            let name = capital(&tidy(&component.name));
            let at = out.iter().position(|u| u.text == text);
            let at = at.unwrap_or_else(|| {
                out.push(Unsaid {
                    of: Vec::new(),
                    text,
                    source: note.source.clone(),
                });
                out.len() - 1
            });
            if many && !name.is_empty() && !out[at].of.contains(&name) {
                out[at].of.push(name);
            }
        }
    }
    out
}

/// What the card says under Cautions because the developer's method does not; nothing where no
/// method is written.
///
/// # Inputs
/// - `method`: the developer's words.
#[must_use]
pub fn left_unsaid(method: &str, rework: &Rework) -> Vec<String> {
    let own = steps(method);
    if own.is_empty() {
        return Vec::new();
    }
    unsaid(&own, rework).iter().map(Unsaid::words).collect()
}

/// That the developer's method of something baked names no heat of the oven, with that of the
/// rework where it has one.
///
/// # Inputs
/// - `method`: the developer's words.
#[must_use]
pub fn names_no_oven(method: &str, rework: &Rework) -> Option<String> {
    let own = steps(method);
    let recipe = &rework.formula.recipe;
    let facts = || recipe.steps.iter().flat_map(|s| &s.facts);
    let bakes = facts().any(|f| match &f.kind {
        FactKind::Temperature { of, .. } => matches!(of, Heat::Oven | Heat::FanOven),
        FactKind::Doing(what) => *what == Activity::Bake,
        FactKind::Duration { doing, .. } => *doing == Some(Activity::Bake),
        _ => false,
    });
    let is_baked =
        |c: &ReworkedComponent| c.is_dough() && c.style.is_some_and(|s| s.style.is_baked());
    let baked = bakes || recipe.steps.is_empty() && rework.components.iter().any(is_baked);
    if own.is_empty() || !baked || all(&own).any(names_oven) {
        return None;
    }
    let mut changes = rework.components.iter().flat_map(|c| &c.changes);
    let to = changes
        .rfind(|c| c.what == "oven")
        .map_or(String::new(), |c| format!(" (the rework: {})", tidy(&c.to)));
    Some(format!("Your method names no oven heat{to}."))
}

fn all(own: &[Steps]) -> impl Iterator<Item = &str> {
    own.iter().flat_map(|s| &s.steps).map(String::as_str)
}

/// A note of those that must not be lost, without its step; `None` for another, and where the
/// method says it.
fn left_out(note: &MethodNote, own: &[Steps]) -> Option<String> {
    const COLD: &str = "with egg or milk in it";
    let text = tidy(&note.text);
    if let Some(at) = text.find(COLD) {
        let end = text[at..].find('.').map_or(text.len(), |n| at + n);
        let whole = all(own).collect::<Vec<_>>().join(" ");
        let cold = heats(&whole).iter().any(|c| (-30.0..=5.5).contains(c));
        let hours = |n: f64| times(&whole).contains(&n);
        return (!(cold && hours(24.0) && hours(2.0)))
            .then(|| format!("{}.", capital(&text[at..end])));
    }
    match note.rule {
        "core temperature" | "probe, do not tap" => {
            let heat = core_heat(&text);
            let heat = heat.split(" Look for").next().unwrap_or(heat);
            let low = heat
                .split_once('(')
                .and_then(|(_, range)| range.split(['–', ')', ' ']).next()?.parse().ok())
                .unwrap_or(90.0);
            (!all(own).any(|s| names_core(s, low)))
                .then(|| format!("Done when the middle reads {heat}"))
        }
        "cool before cutting" => {
            let cut = |s: &str| {
                has(s, &["cut", "cutting", "slice", "slicing"])
                    && heats(s).iter().any(|c| (20.0..=36.0).contains(c))
            };
            let from = text.find("cut when").unwrap_or(0);
            (!all(own).any(cut)).then(|| capital(&text[from..]))
        }
        _ => None,
    }
}

/// What a note says from the heat of the middle on: 'reads' and 'look for' lead up to other words
/// too.
fn core_heat(text: &str) -> &str {
    let heat = |lead: &&str| {
        let behind = text
            .match_indices(*lead)
            .map(|(at, l)| &text[at + l.len()..]);
        behind
            .filter(|b| b.starts_with(|c: char| c.is_ascii_digit()))
            .max_by_key(|b| b.len())
    };
    let leads = ["reads ", "look for ", "Probe the middle: "];
    leads
        .iter()
        .filter_map(heat)
        .max_by_key(|b| b.len())
        .unwrap_or(text)
}

fn has(text: &str, any: &[&str]) -> bool {
    words(text)
        .iter()
        .any(|w| matches!(w, Word::Name(n) if any.contains(&n.as_str())))
}

/// Whether a step names a heat that only an oven has.
fn names_oven(step: &str) -> bool {
    const OVEN: f64 = 115.0;
    let words = words(step);
    let gas = words.iter().enumerate().any(|(i, w)| {
        let next = |n: usize| words.get(i + n);
        let number = |n: usize| matches!(next(n), Some(Word::Number(_)));
        let mark = matches!(next(1), Some(Word::Name(m)) if m == "mark");
        matches!(w, Word::Name(g) if g == "gas") && (number(1) || mark && number(2))
    });
    gas || heats(step).iter().any(|c| *c >= OVEN)
}

/// Whether a step says what the middle reads when it is done, no lower than it should be.
fn names_core(step: &str, low: f64) -> bool {
    const INSIDE: [&str; 9] = [
        "middle",
        "inside",
        "core",
        "centre",
        "center",
        "internal",
        "internally",
        "probe",
        "thermometer",
    ];
    let reads = |c: f64| (low - 1.0..=104.0).contains(&c);
    has(step, &INSIDE) && heats(step).iter().any(|c| reads(*c)) || baked_to(step, reads)
}

/// Whether a step bakes to a heat that is meant: 'bake 60 minutes to 205 °F'.
fn baked_to(step: &str, meant: impl Fn(f64) -> bool) -> bool {
    const TO: [&str; 5] = ["to", "reads", "reach", "reaches", "until"];
    if !has(step, &["bake", "baked", "done", "oven"]) {
        return false;
    }
    let words = words(step);
    let led = |at: usize| matches!(words.get(at), Some(Word::Name(n)) if TO.contains(&n.as_str()));
    (1..words.len()).any(|i| led(i - 1) && heat(&words, i).is_some_and(&meant))
}

/// A word or a number of a step; a degree sign is a word.
#[derive(Debug, PartialEq)]
enum Word {
    Number(f64),
    Name(String),
}

fn words(text: &str) -> Vec<Word> {
    let mut out = Vec::new();
    let mut now = String::new();
    let mut put = |now: &mut String| {
        let word = std::mem::take(now);
        let bare = word.trim_end_matches('.');
        if let Ok(n) = bare.parse() {
            out.push(Word::Number(n));
        } else if !bare.is_empty() {
            out.push(Word::Name(bare.to_owned()));
        }
    };
    for c in text.to_lowercase().chars() {
        let digit = c.is_ascii_digit();
        let in_number = now.starts_with(|c: char| c.is_ascii_digit());
        let goes_on = if in_number {
            digit || c == '.' && !now.contains('.')
        } else {
            c.is_alphabetic()
        };
        if !goes_on {
            put(&mut now);
        }
        match c {
            '°' | 'º' | '˚' | '℃' | '℉' => {
                let name = match c {
                    '℃' => "c",
                    '℉' => "f",
                    _ => "°",
                };
                now.push_str(name);
                put(&mut now);
            }
            _ if c.is_alphabetic() || digit => now.push(c),
            '.' if goes_on => now.push(c),
            _ => {}
        }
    }
    put(&mut now);
    out
}

/// The temperatures a text names, °C: `180–190 °C`, `350F`, `200 degrees`.
fn heats(text: &str) -> Vec<f64> {
    let words = words(text);
    (0..words.len()).filter_map(|i| heat(&words, i)).collect()
}

/// The temperature that the word at a place is, °C.
fn heat(words: &[Word], at: usize) -> Option<f64> {
    /// No oven has hotter degrees Celsius: more are Fahrenheit.
    const MOST: f64 = 290.0;
    let Word::Number(n) = words.get(at)? else {
        return None;
    };
    let fahrenheit = match scale(&words[at + 1..])? {
        Scale::Celsius => false,
        Scale::Fahrenheit => true,
        Scale::Unsaid => *n > MOST,
    };
    Some(if fahrenheit { (n - 32.0) / 1.8 } else { *n })
}

enum Scale {
    Celsius,
    Fahrenheit,
    Unsaid,
}

/// The scale of the number before these words; the numbers of a range have that of the last.
fn scale(after: &[Word]) -> Option<Scale> {
    let mut degrees = false;
    for word in after {
        match word {
            Word::Number(_) if !degrees => {}
            Word::Number(_) => break,
            Word::Name(name) => match name.as_str() {
                "c" | "celsius" | "centigrade" => return Some(Scale::Celsius),
                "f" | "fahrenheit" => return Some(Scale::Fahrenheit),
                "°" | "degrees" | "degree" | "deg" => degrees = true,
                "to" | "or" if !degrees => {}
                _ => break,
            },
        }
    }
    degrees.then_some(Scale::Unsaid)
}

/// The hours a text names.
fn times(text: &str) -> Vec<f64> {
    let words = words(text);
    let hour = |w: &Word| matches!(w, Word::Name(n) if matches!(n.as_str(), "hours" | "hour" | "hrs" | "hr" | "h"));
    words
        .windows(2)
        .filter(|pair| hour(&pair[1]))
        .filter_map(|pair| match pair[0] {
            Word::Number(n) => Some(n),
            Word::Name(_) => None,
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn heats_as_people_write_them() {
        for (text, want) in [
            ("Bake at 180–190 °C.", vec![180.0, 190.0]),
            ("Heat to 212F; 2 cups", vec![100.0]),
            ("200 degrees for 30 minutes", vec![200.0]),
            ("at 392 degrees, 3 hours", vec![200.0]),
            ("180C/160C fan, 4.5 °c", vec![180.0, 160.0, 4.5]),
            ("Bake it for 30 minutes.", vec![]),
        ] {
            assert_eq!(heats(text), want, "{text}");
        }
        assert_eq!(times("24 hours, 2 h, 30 minutes"), [24.0, 2.0]);
    }

    #[test]
    fn the_heat_of_the_middle_is_found_among_other_words() {
        for (text, want) in [
            (
                "Step 9 is done at 88 °C inside: look for 95 °C (91–98). Probe beside the filling: a soft one never reads like the crumb.",
                "95 °C (91–98). Probe beside the filling: a soft one never reads like the crumb.",
            ),
            (
                "Done when the middle reads 98 °C (96–98).",
                "98 °C (96–98).",
            ),
            (
                "Probe the middle: 95 °C. Look for a dry crumb.",
                "95 °C. Look for a dry crumb.",
            ),
        ] {
            assert_eq!(core_heat(text), want);
        }
    }

    #[test]
    fn an_oven_is_no_middle() {
        assert!(names_oven("Bake at gas mark 4.") && names_oven("Gas 6") && names_oven("350 °F"));
        assert!(!names_oven("Warm the milk to 40 °C.") && !names_oven("gas hob, 2 pans"));
        assert!(names_core("Done at 97 °C in the middle.", 96.0));
        assert!(names_core("Until a probe reads 208F.", 96.0));
        assert!(names_core("Bake 55 to 65 minutes to 205°F. Cool.", 96.0));
        assert!(!names_core("Bake at 205 °C for 20 minutes.", 96.0));
        assert!(!names_core("Done at 71 °C in the middle.", 96.0));
        assert!(!names_core("Keep the water at 98 °C.", 96.0));
        assert!(!names_core("Done when the middle springs back.", 96.0));
    }
}
