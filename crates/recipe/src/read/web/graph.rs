//! The objects of a page, found by type and by `@id`.

use super::markup;
use serde_json::{Map, Value};
use std::collections::{BTreeMap, BTreeSet};

type Object = Map<String, Value>;

/// Keys under which a page's main thing may lie.
const WAYS: [&str; 9] = [
    "@graph",
    "mainEntity",
    "mainEntityOfPage",
    "hasPart",
    "itemListElement",
    "item",
    "about",
    "subjectOf",
    "@set",
];
/// Kinds listed in a message.
const MOST_KINDS: usize = 12;
/// Deepest nesting followed for plain words.
const MOST_DEPTH: usize = 6;
/// Most values joined into one run of words.
const MOST_WORDS: usize = 2000;

/// A property, by its plain name or with the vocabulary's address before it.
pub(super) fn get<'v>(o: &'v Object, key: &str) -> Option<&'v Value> {
    let prefixed = |k: &str| {
        let before = k.strip_suffix(key);
        before
            .is_some_and(|b| matches!(b, "schema:" | "https://schema.org/" | "http://schema.org/"))
    };
    o.get(key)
        .or_else(|| o.iter().find(|(k, _)| prefixed(k)).map(|(_, v)| v))
        .filter(|v| !v.is_null())
}

/// The last word of an address or prefixed name.
pub(super) fn tail(name: &str) -> &str {
    let name = name.trim().trim_end_matches('/');
    name.rsplit(['/', '#', ':']).next().unwrap_or(name)
}

/// The types of an object, without their addresses.
pub(super) fn kind(o: &Object) -> Vec<&str> {
    match o.get("@type").or_else(|| o.get("type")) {
        Some(Value::String(s)) => vec![tail(s)],
        Some(Value::Array(all)) => all.iter().filter_map(Value::as_str).map(tail).collect(),
        _ => Vec::new(),
    }
}

/// Every object of the page's data that can be pointed to.
pub(super) struct Graph<'v> {
    index: BTreeMap<&'v str, &'v Object>,
}

/// Whether an object only points to another.
fn is_pointer(o: &Object) -> bool {
    o.contains_key("@id") && o.keys().all(|k| matches!(k.as_str(), "@id" | "@type"))
}

impl<'v> Graph<'v> {
    /// Indexes all values; of two objects with one `@id`, the one that says more counts.
    pub(super) fn new(values: &'v [Value]) -> Self {
        let mut graph = Self {
            index: BTreeMap::new(),
        };
        for v in values {
            graph.add(v);
        }
        graph
    }

    fn add(&mut self, value: &'v Value) {
        match value {
            Value::Array(all) => all.iter().for_each(|v| self.add(v)),
            Value::Object(o) => {
                if let Some(id) = o.get("@id").and_then(Value::as_str)
                    && !is_pointer(o)
                    && self.index.get(id).is_none_or(|old| old.len() < o.len())
                {
                    self.index.insert(id, o);
                }
                o.values().for_each(|v| self.add(v));
            }
            _ => {}
        }
    }

    /// The object itself, or the one it points to; `None` when that is not in the page.
    pub(super) fn resolve<'a>(&self, o: &'a Object) -> Option<&'a Object>
    where
        'v: 'a,
    {
        if !is_pointer(o) {
            return Some(o);
        }
        o.get("@id")
            .and_then(Value::as_str)
            .and_then(|id| self.index.get(id).copied())
    }

    /// The words of a value on one line: its text, name or what it points to.
    pub(super) fn words(&self, value: Option<&Value>) -> String {
        let mut left = MOST_WORDS;
        value
            .map(|v| self.words_at(v, 0, &mut left))
            .unwrap_or_default()
    }

    fn words_at(&self, value: &Value, depth: usize, left: &mut usize) -> String {
        if depth > MOST_DEPTH || *left == 0 {
            return String::new();
        }
        *left -= 1;
        match value {
            Value::Null => String::new(),
            Value::Bool(b) => if *b { "yes" } else { "no" }.to_owned(),
            Value::Number(n) => number(n),
            Value::String(s) => markup::line(s),
            Value::Array(all) => {
                let mut parts: Vec<String> = Vec::new();
                for v in all {
                    let words = self.words_at(v, depth + 1, left);
                    if !words.is_empty() && !parts.contains(&words) {
                        parts.push(words);
                    }
                }
                parts.join(", ")
            }
            Value::Object(o) => {
                let o = self.resolve(o).unwrap_or(o);
                [
                    "@value",
                    "@list",
                    "@set",
                    "text",
                    "name",
                    "value",
                    "item",
                    "itemListElement",
                ]
                .iter()
                .chain(&["description", "url", "@id"])
                .filter_map(|k| get(o, k))
                .map(|v| self.words_at(v, depth + 1, left))
                .find(|w| !w.is_empty())
                .unwrap_or_default()
            }
        }
    }
}

/// A number as it is said: `8`, not `8.0`.
fn number(n: &serde_json::Number) -> String {
    match n.as_f64() {
        Some(f) if f.abs() < 1e15 => f.to_string(),
        _ => n.to_string(),
    }
}

/// The recipes of a page in order, and the types of all else.
#[derive(Default)]
pub(super) struct Search<'v> {
    pub recipes: Vec<&'v Object>,
    pub kinds: BTreeSet<String>,
    /// Objects that list ingredients but do not call themselves recipes.
    pub alike: Vec<&'v Object>,
}

impl<'v> Search<'v> {
    pub(super) fn look(&mut self, value: &'v Value) {
        match value {
            Value::Array(all) => all.iter().for_each(|v| self.look(v)),
            Value::Object(o) => {
                let kinds = kind(o);
                if kinds.iter().any(|k| k.eq_ignore_ascii_case("Recipe")) && !is_pointer(o) {
                    self.recipes.push(o);
                } else if get(o, "recipeIngredient")
                    .or_else(|| get(o, "ingredients"))
                    .is_some()
                {
                    self.alike.push(o);
                }
                for k in kinds {
                    if self.kinds.len() < MOST_KINDS {
                        self.kinds.insert(k.chars().take(40).collect());
                    }
                }
                WAYS.iter()
                    .filter_map(|k| get(o, k))
                    .for_each(|v| self.look(v));
            }
            _ => {}
        }
    }
}
