//! The method of a data block, in every shape it is written in.

use super::graph::{Graph, get, kind};
use super::markup::{self, pieces};
use crate::line::LineKind;
use crate::read::ingredient::list_number;
use crate::read::{Reader, same_part, step};
use crate::{Doubt, DoubtCode, Recipe};
use serde_json::{Map, Value};

/// Deepest nesting of sections followed.
const MOST_DEPTH: usize = 16;
/// Most entries looked at, and so most steps.
const MOST_ENTRIES: usize = 5000;

/// Reads the method into the recipe, whose components must be there already.
pub(super) fn read(method: &Value, graph: &Graph<'_>, reader: &Reader<'_>, recipe: &mut Recipe) {
    let mut walk = Walk {
        graph,
        reader,
        recipe,
        steps: Vec::new(),
        under: None,
        open: Vec::new(),
        left: MOST_ENTRIES,
        full: false,
    };
    walk.entry(method, true, 0);
    let full = walk.full;
    let steps = std::mem::take(&mut walk.steps);
    recipe.steps.extend(
        steps
            .iter()
            .enumerate()
            .map(|(i, (text, component))| step(i + 1, text, *component)),
    );
    if full {
        recipe.doubts.push(Doubt::new(
            DoubtCode::NotRead,
            format!("the method is longer than {MOST_ENTRIES} entries or nested too deep: the rest was not read"),
        ));
    }
}

struct Walk<'a, 'g, 'r, 'l> {
    graph: &'a Graph<'g>,
    reader: &'r Reader<'l>,
    recipe: &'a mut Recipe,
    steps: Vec<(String, Option<usize>)>,
    /// The component the steps stand under.
    under: Option<usize>,
    /// References being followed.
    open: Vec<String>,
    left: usize,
    full: bool,
}

impl Walk<'_, '_, '_, '_> {
    /// One entry; `alone` when nothing stands beside it, so that its lines are the steps.
    fn entry(&mut self, value: &Value, alone: bool, depth: usize) {
        if depth > MOST_DEPTH || self.left == 0 {
            self.full = true;
            return;
        }
        self.left -= 1;
        match value {
            Value::String(text) => self.text(text, alone),
            Value::Array(all) => {
                for v in ordered(all) {
                    self.entry(v, alone && all.len() == 1, depth + 1);
                }
            }
            Value::Object(o) => self.object(o, alone, depth),
            Value::Null => {}
            Value::Bool(_) | Value::Number(_) => self.push(&value.to_string()),
        }
    }

    fn object(&mut self, o: &Map<String, Value>, alone: bool, depth: usize) {
        let Some(full) = self.graph.resolve(o) else {
            let id = self.graph.words(o.get("@id"));
            self.recipe.doubts.push(Doubt::new(
                DoubtCode::NotRead,
                format!(
                    "a step points to '{id}', which is not in the page: copy that step by hand"
                ),
            ));
            return;
        };
        let id = full.get("@id").and_then(Value::as_str);
        if let Some(id) = id {
            if self.open.iter().any(|open| open == id) {
                return;
            }
            self.open.push(id.to_owned());
        }
        self.resolved(full, alone, depth);
        if id.is_some() {
            self.open.pop();
        }
    }

    fn resolved(&mut self, o: &Map<String, Value>, alone: bool, depth: usize) {
        if let Some(v) = ["@value", "@list", "@set"].iter().find_map(|k| o.get(*k)) {
            return self.entry(v, alone, depth + 1);
        }
        let kinds = kind(o);
        let is = |name: &str| kinds.iter().any(|k| k.eq_ignore_ascii_case(name));
        let list = ["itemListElement", "steps", "step"]
            .iter()
            .find_map(|k| get(o, k));
        let name = self.graph.words(get(o, "name"));
        if is("HowToTip") {
            let tip = self.own_words(o);
            if !tip.is_empty() {
                self.recipe.notes.push(format!("Tip: {tip}"));
            }
            return;
        }
        if let (Some(item), None) = (get(o, "item"), list) {
            return self.entry(item, alone, depth + 1);
        }
        match list {
            Some(list) if is("HowToStep") && !self.holds_steps(list) => {
                let mut parts: Vec<String> = Vec::new();
                let own = self.graph.words(get(o, "text"));
                if !own.is_empty() {
                    parts.push(own);
                }
                self.parts(list, &mut parts, depth + 1);
                let text = if parts.is_empty() {
                    name.clone()
                } else {
                    parts.join(" ")
                };
                self.name_note(&name, &text);
                self.push(&text);
            }
            Some(list) => {
                let before = self.under;
                if !name.is_empty() {
                    self.part(&name);
                }
                for key in ["text", "description"] {
                    let words = self.graph.words(get(o, key));
                    if !words.is_empty() {
                        self.recipe.notes.push(words);
                    }
                }
                self.entry(list, false, depth + 1);
                self.under = before;
            }
            None => {
                let text = ["text", "description"]
                    .iter()
                    .find_map(|k| get(o, k).filter(|v| !self.graph.words(Some(v)).is_empty()));
                match text {
                    Some(Value::String(text)) => {
                        let plain = markup::line(text);
                        self.name_note(&name, &plain);
                        self.text(text, alone);
                    }
                    Some(other) => {
                        let words = self.graph.words(Some(other));
                        self.name_note(&name, &words);
                        self.push(&words);
                    }
                    None if is("HowToSection") => self.part(&name),
                    None => self.text(&name, false),
                }
            }
        }
    }

    /// A tip's or direction's words.
    fn own_words(&self, o: &Map<String, Value>) -> String {
        ["text", "name", "description", "itemListElement"]
            .iter()
            .map(|k| self.graph.words(get(o, k)))
            .find(|w| !w.is_empty())
            .unwrap_or_default()
    }

    /// Whether a step's list holds steps of their own rather than directions and tips.
    fn holds_steps(&self, list: &Value) -> bool {
        let all = match list {
            Value::Array(all) => all.as_slice(),
            other => std::slice::from_ref(other),
        };
        all.iter()
            .filter_map(Value::as_object)
            .filter_map(|o| self.graph.resolve(o))
            .any(|o| {
                kind(o).iter().any(|k| {
                    k.eq_ignore_ascii_case("HowToStep") || k.eq_ignore_ascii_case("HowToSection")
                })
            })
    }

    /// The directions and tips of one step, in order.
    fn parts(&mut self, list: &Value, parts: &mut Vec<String>, depth: usize) {
        if depth > MOST_DEPTH || self.left == 0 {
            self.full = true;
            return;
        }
        self.left -= 1;
        match list {
            Value::Array(all) => {
                for v in ordered(all) {
                    self.parts(v, parts, depth + 1);
                }
            }
            Value::Object(o) => {
                let Some(o) = self.graph.resolve(o) else {
                    return;
                };
                if let Some(item) = get(o, "item") {
                    return self.parts(item, parts, depth + 1);
                }
                let words = self.own_words(o);
                let tip = kind(o).iter().any(|k| k.eq_ignore_ascii_case("HowToTip"));
                if !words.is_empty() && !parts.contains(&words) {
                    parts.push(if tip { format!("Tip: {words}") } else { words });
                }
            }
            other => {
                let words = self.graph.words(Some(other));
                if !words.is_empty() && !parts.contains(&words) {
                    parts.push(words);
                }
            }
        }
    }

    /// Keeps a step's name where its text does not say the same.
    fn name_note(&mut self, name: &str, text: &str) {
        let bare = name.trim_end_matches(['.', '…', ' ', ':']).to_lowercase();
        let number = bare.strip_prefix("step").unwrap_or(&bare).trim();
        if number.chars().all(|c| c.is_ascii_digit()) || text.to_lowercase().contains(&bare) {
            return;
        }
        self.recipe
            .notes
            .push(format!("Step {}: {name}", self.steps.len() + 1));
    }

    /// A string: one step, or all of them when it stands alone.
    fn text(&mut self, text: &str, alone: bool) {
        let all = pieces(text, alone);
        // Beside other steps, only list items and headings part a string.
        if !alone && !all.iter().any(|p| p.heading) && !text.to_ascii_lowercase().contains("<li") {
            let words: Vec<&str> = all.iter().map(|p| p.text.as_str()).collect();
            let words = words.join(" ");
            return if self.is_heading(&words) {
                self.part(&words)
            } else {
                self.push(&words)
            };
        }
        for piece in all {
            if piece.heading || self.is_heading(&piece.text) {
                self.part(&piece.text);
            } else {
                self.push(&piece.text);
            }
        }
    }

    /// Whether words among the steps only name a part.
    fn is_heading(&self, text: &str) -> bool {
        let lower = text.to_lowercase();
        let plain = text.ends_with(':')
            || lower.starts_with("for the ")
            || lower.starts_with("to make the ")
            || text.starts_with("**");
        plain && self.reader.line(text).kind == LineKind::Heading
    }

    /// The steps that follow stand under this name.
    fn part(&mut self, name: &str) {
        let name = name.trim().trim_matches('*').trim_end_matches([':', ' ']);
        let generic = matches!(
            name.to_lowercase().as_str(),
            "" | "method"
                | "directions"
                | "instructions"
                | "preparation"
                | "steps"
                | "how to make it"
        );
        self.under = None;
        if generic {
            return;
        }
        let exact = self
            .recipe
            .component(&crate::read::ingredient::component_name(name));
        let components = &self.recipe.components;
        self.under = exact.or_else(|| {
            components
                .iter()
                .position(|c| !c.name.is_empty() && same_part(&c.name, name))
        });
        if self.under.is_none() {
            let from = self.steps.len() + 1;
            self.recipe
                .notes
                .push(format!("Part of the method, from step {from}: {name}"));
        }
    }

    fn push(&mut self, text: &str) {
        let text = text.trim();
        let cut = list_number(text).or_else(|| step_word(text)).unwrap_or(0);
        let text = text[cut..].trim_start_matches(['•', '·', ' ', '\u{a0}']);
        if text.is_empty() {
            return;
        }
        if self.steps.len() >= MOST_ENTRIES {
            self.full = true;
            return;
        }
        self.steps.push((text.to_owned(), self.under));
    }
}

/// 'Step 3:' before a step's words; bytes of it.
fn step_word(text: &str) -> Option<usize> {
    let word = text.get(..5).filter(|w| w.eq_ignore_ascii_case("step "))?;
    let rest = &text[word.len()..];
    let digits = rest.bytes().take_while(u8::is_ascii_digit).count();
    let after = &rest[digits..];
    let sign = after.len()
        - after
            .trim_start_matches([':', '.', ')', '-', '–', ' '])
            .len();
    (digits > 0 && sign > 0 && after.len() > sign).then_some(word.len() + digits + sign)
}

/// A list by its stated positions, where every entry has one of its own.
fn ordered(all: &[Value]) -> Vec<&Value> {
    let mut placed: Vec<(f64, &Value)> = Vec::with_capacity(all.len());
    for v in all {
        let position = v.as_object().and_then(|o| get(o, "position"));
        let number = position.and_then(|p| {
            p.as_f64()
                .or_else(|| p.as_str().and_then(|s| s.trim().parse().ok()))
        });
        match number {
            Some(n) if n.is_finite() => placed.push((n, v)),
            _ => return all.iter().collect(),
        }
    }
    placed.sort_by(|a, b| a.0.total_cmp(&b.0));
    if placed.windows(2).any(|w| w[0].0 == w[1].0) {
        return all.iter().collect();
    }
    placed.into_iter().map(|(_, v)| v).collect()
}
