//! Reading a saved web page that carries schema.org Recipe data.
//!
//! Only the data blocks are read (`<script type="application/ld+json">`), or a file of such data
//! alone. Nothing is run and nothing is fetched.

mod block;
mod duration;
mod graph;
mod list;
mod markup;
mod steps;

use super::text::count_in;
use super::{MOST_PAGE_BYTES, Reader};
use crate::recipe::{Recipe, Source, Times, Yield};
use crate::{Doubt, DoubtCode};
use block::Block;
use duration::short;
use graph::{Graph, Search, get, tail};
use serde_json::{Map, Value};
use std::fmt;

/// Why a saved page could not be read as a recipe.
#[derive(Debug, Clone, PartialEq)]
pub enum PageError {
    /// Larger than a page can be.
    TooLarge {
        /// Bytes found.
        bytes: usize,
        /// Bytes allowed.
        most: usize,
    },
    /// The page has no data block.
    NoData {
        /// Script elements looked at.
        scripts: usize,
        /// The page marks a recipe within its text, a form that is not read.
        marked: bool,
    },
    /// A data block cannot be read, and no other holds a recipe.
    Broken {
        /// Line of the page, from 1.
        line: usize,
        /// Column in characters, from 1.
        column: usize,
        /// What is wrong there.
        what: String,
    },
    /// The data is sound but is about other things.
    NoRecipe {
        /// The types found, in order of the alphabet.
        types: Vec<String>,
    },
}

impl fmt::Display for PageError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooLarge { bytes, most } => write!(
                f,
                "line 1, column 1: {:.1} MB is more than a page can be (at most {:.0} MB)\n  save the page without its pictures, or paste the recipe as text",
                *bytes as f64 / 1e6,
                *most as f64 / 1e6
            ),
            Self::NoData { scripts, marked } => {
                write!(
                    f,
                    "line 1, column 1: no recipe data in the page: none of its {scripts} script blocks is of type application/ld+json\n  "
                )?;
                f.write_str(if *marked {
                    "the recipe stands in the page's text only: copy its ingredients and method and paste them as text"
                } else {
                    "save the page's source from the browser, or paste the ingredients and method as text"
                })
            }
            Self::Broken { line, column, what } => write!(
                f,
                "line {line}, column {column}: the recipe data cannot be read: {what}\n  save the whole page again, mend that place, or paste the ingredients and method as text"
            ),
            Self::NoRecipe { types } => {
                f.write_str("line 1, column 1: no recipe in the page: an object of type Recipe was expected, ")?;
                if types.is_empty() {
                    f.write_str("the data names no type")?;
                } else {
                    write!(f, "the data holds {}", types.join(", "))?;
                }
                f.write_str("\n  save the page of the recipe itself, or paste the ingredients and method as text")
            }
        }
    }
}
impl std::error::Error for PageError {}

/// Whether a text is a web page or recipe data rather than a recipe in plain words.
#[must_use]
pub fn is_page(text: &str) -> bool {
    let text = text.trim_start_matches(|c: char| c == '\u{feff}' || c.is_whitespace());
    if is_data(text) {
        return true;
    }
    let head: String = text.chars().take(16).flat_map(char::to_lowercase).collect();
    if let Some(tag) = head.strip_prefix('<') {
        let name: String = tag
            .chars()
            .take_while(char::is_ascii_alphanumeric)
            .collect();
        let page = matches!(
            name.as_str(),
            "html"
                | "head"
                | "body"
                | "script"
                | "meta"
                | "link"
                | "title"
                | "style"
                | "main"
                | "article"
        );
        if page || tag.starts_with("!doctype") || tag.starts_with("!--") || tag.starts_with("?xml")
        {
            return true;
        }
    }
    holds(text, "<script") && holds(text, "ld+json")
        || holds(text, "</html>")
        || holds(text, "</body>")
}

/// Whether a text is data without a page around it.
fn is_data(text: &str) -> bool {
    let next = |rest: &str, starts: &[&str]| {
        let rest = rest.trim_start();
        starts.iter().any(|s| rest.starts_with(s))
    };
    match (text.strip_prefix('{'), text.strip_prefix('[')) {
        (Some(rest), _) => next(rest, &["\"", "&quot;", "&#34;"]),
        (_, Some(rest)) => next(
            rest,
            &["{\"", "{\n", "{\r", "{ ", "{\t", "{&quot;", "{&#34;"],
        ),
        _ => false,
    }
}

/// Whether ASCII words stand in a text in any case.
fn holds(text: &str, words: &str) -> bool {
    text.as_bytes()
        .windows(words.len())
        .any(|w| w.eq_ignore_ascii_case(words.as_bytes()))
}

/// Reads the recipe of a saved page, or of a file of recipe data.
///
/// # Inputs
/// - `text`: HTML, or JSON alone; at most [`MOST_PAGE_BYTES`].
/// - `reader`: reads the ingredient lines.
///
/// # Returns
/// The recipe. Lines bear their place in the list as their number. What is said of the recipe
/// beside lines, steps and times stands in its notes; what could not be read, in its doubts.
/// Ingredients may be missing: the caller checks.
///
/// # Errors
/// - [`PageError::TooLarge`]: more bytes than allowed.
/// - [`PageError::NoData`]: no data block.
/// - [`PageError::Broken`]: no recipe, and a block that cannot be read; says where.
/// - [`PageError::NoRecipe`]: the data is about other things; says which.
pub fn page(text: &str, reader: &Reader<'_>) -> Result<Recipe, PageError> {
    if text.len() > MOST_PAGE_BYTES {
        return Err(PageError::TooLarge {
            bytes: text.len(),
            most: MOST_PAGE_BYTES,
        });
    }
    let start = text.len()
        - text
            .trim_start_matches(|c: char| c == '\u{feff}' || c.is_whitespace())
            .len();
    let found = if is_data(&text[start..]) {
        block::Found {
            blocks: vec![Block {
                text: text[start..].to_owned(),
                start,
            }],
            scripts: 0,
            marked: false,
        }
    } else {
        block::find(text)
    };
    if found.blocks.is_empty() {
        return Err(PageError::NoData {
            scripts: found.scripts,
            marked: found.marked,
        });
    }
    let mut values: Vec<Value> = Vec::new();
    let mut broken: Vec<PageError> = Vec::new();
    for block in &found.blocks {
        let parsed = block::parse(&block.text);
        values.extend(parsed.values);
        if let Some((at, what)) = parsed.broken {
            let (line, column) = place(text, block.start + at);
            let error = PageError::Broken { line, column, what };
            // The block that was to hold the recipe is the one to tell of.
            let first = block.text.contains("Recipe");
            broken.insert(if first { 0 } else { broken.len() }, error);
        }
    }
    let graph = Graph::new(&values);
    let mut search = Search::default();
    values.iter().for_each(|v| search.look(v));
    let untyped = search.recipes.is_empty();
    let all = if untyped {
        &search.alike
    } else {
        &search.recipes
    };
    // The fullest; of equals, the first.
    let best = all.iter().rev().max_by_key(|o| worth(o)).copied();
    // A recipe of nothing but a name, beside a broken block, is a link to another page.
    let Some(best) = best.filter(|o| worth(o) > 0 || broken.is_empty()) else {
        return Err(match broken.into_iter().next() {
            Some(e) => e,
            None => PageError::NoRecipe {
                types: search.kinds.into_iter().collect(),
            },
        });
    };
    let mut recipe = fill(best, &graph, reader);
    for e in broken {
        if let PageError::Broken { line, column, what } = e {
            recipe.doubts.push(Doubt::new(
                DoubtCode::NotRead,
                format!("a data block of the page cannot be read at line {line}, column {column}: {what}"),
            ));
        }
    }
    if untyped {
        recipe.doubts.push(Doubt::new(
            DoubtCode::NotRead,
            "the page lists ingredients but does not call them a recipe: check that they are one",
        ));
    }
    others(all, best, &graph, &mut recipe);
    Ok(recipe)
}

/// A doubt about the recipes of the page that were not read.
fn others(
    all: &[&Map<String, Value>],
    best: &Map<String, Value>,
    graph: &Graph<'_>,
    recipe: &mut Recipe,
) {
    let title = |o: &Map<String, Value>| graph.words(get(o, "name").or_else(|| get(o, "headline")));
    let own = title(best);
    let mut names: Vec<String> = Vec::new();
    for o in all.iter().filter(|o| worth(o) > 0) {
        let name = title(o);
        if name != own && !names.contains(&name) && names.len() < 12 {
            names.push(name);
        }
    }
    if !names.is_empty() {
        let names: Vec<String> = names.iter().map(|n| format!("'{}'", short(n))).collect();
        recipe.doubts.push(Doubt::new(
            DoubtCode::NotRead,
            format!(
                "the page holds more than one recipe: not read are {}; save each alone to read it",
                names.join(", ")
            ),
        ));
    }
}

/// How much of a recipe an object holds.
fn worth(o: &Map<String, Value>) -> u8 {
    let full = |v: &Value| match v {
        Value::Array(a) => !a.is_empty(),
        Value::String(s) => !s.trim().is_empty(),
        Value::Object(_) => true,
        _ => false,
    };
    let has = |keys: &[&str]| keys.iter().filter_map(|k| get(o, k)).any(full);
    2 * u8::from(has(&list::KEYS)) + u8::from(has(&METHOD))
}

/// Line and column of a byte, both from 1.
fn place(text: &str, at: usize) -> (usize, usize) {
    let mut at = at.min(text.len());
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    let before = &text[..at];
    let start = before.rfind('\n').map_or(0, |i| i + 1);
    let line = before.bytes().filter(|b| *b == b'\n').count() + 1;
    let column = before[start..].chars().filter(|c| *c != '\u{feff}').count() + 1;
    (line, column)
}

/// Where the method may stand.
const METHOD: [&str; 4] = ["recipeInstructions", "instructions", "step", "steps"];
/// Where the yield may stand.
const YIELD: [&str; 3] = ["recipeYield", "yield", "servings"];
/// Properties with a place of their own, and those that say nothing about the recipe itself.
const KNOWN: [&str; 35] = [
    "name",
    "headline",
    "author",
    "creator",
    "publisher",
    "url",
    "mainEntityOfPage",
    "mainEntity",
    "prepTime",
    "cookTime",
    "totalTime",
    "recipeYield",
    "yield",
    "servings",
    "description",
    "suitableForDiet",
    "keywords",
    "nutrition",
    "image",
    "thumbnailUrl",
    "thumbnail",
    "video",
    "review",
    "reviews",
    "aggregateRating",
    "comment",
    "commentCount",
    "interactionStatistic",
    "potentialAction",
    "isPartOf",
    "hasPart",
    "subjectOf",
    "sameAs",
    "mentions",
    "type",
];

fn fill(o: &Map<String, Value>, graph: &Graph<'_>, reader: &Reader<'_>) -> Recipe {
    let some = |words: String| (!words.is_empty()).then_some(words);
    let words = |key: &str| some(graph.words(get(o, key)));
    let mut recipe = Recipe {
        title: words("name").or_else(|| words("headline")),
        source: source(o, graph),
        ..Recipe::default()
    };
    if let Some(headline) = words("headline").filter(|h| recipe.title.as_ref() != Some(h)) {
        recipe.notes.push(headline);
    }
    recipe.times = times(o, graph, &mut recipe.doubts);
    let listed = list::read(o, graph, reader, &mut recipe);
    if let Some(Value::String(text)) = get(o, "description") {
        recipe
            .notes
            .extend(markup::pieces(text, true).into_iter().map(|p| p.text));
    } else if let Some(text) = words("description") {
        recipe.notes.push(text);
    }
    makes(o, graph, &mut recipe);
    let method = METHOD
        .iter()
        .find(|k| get(o, k).is_some_and(|v| !is_empty(v)))
        .copied();
    if let Some(method) = method.and_then(|k| get(o, k)) {
        steps::read(method, graph, reader, &mut recipe);
    }
    // The same list or method under an older name is not said twice.
    let used: Vec<(&str, String)> = [listed, method]
        .into_iter()
        .flatten()
        .map(|k| (k, graph.words(get(o, k))))
        .collect();
    let diet = diets(o, graph);
    if !diet.is_empty() {
        let diet = diet.join(", ");
        recipe
            .notes
            .push(format!("Diet as the page states it, not checked: {diet}"));
    }
    if let Some(keywords) = words("keywords") {
        recipe.notes.push(format!("Keywords: {keywords}"));
    }
    if let Some(nutrition) = get(o, "nutrition") {
        let facts = facts(nutrition, graph);
        if !facts.is_empty() {
            recipe
                .notes
                .push(format!("Nutrition as the page states it: {facts}"));
        }
    }
    for (key, value) in o {
        let plain = tail(key);
        if key.starts_with('@') || KNOWN.contains(&plain) {
            continue;
        }
        let said = graph.words(Some(value));
        let again = used.iter().any(|(k, words)| *k == plain || *words == said);
        if !said.is_empty() && !again {
            recipe
                .notes
                .push(format!("{}: {said}", sentence(&spaced(plain))));
        }
    }
    recipe
}

fn is_empty(v: &Value) -> bool {
    match v {
        Value::Null => true,
        Value::String(s) => s.trim().is_empty(),
        Value::Array(a) => a.is_empty(),
        Value::Object(o) => o.is_empty(),
        _ => false,
    }
}

fn source(o: &Map<String, Value>, graph: &Graph<'_>) -> Source {
    // A person that is only pointed to and not in the page has no name here.
    let names = |key: &str| {
        let value = get(o, key)?;
        let all = match value {
            Value::Array(all) => all.as_slice(),
            one => std::slice::from_ref(one),
        };
        let mut names: Vec<String> = Vec::new();
        for v in all {
            let name = match v {
                Value::Object(p) => graph
                    .resolve(p)
                    .and_then(|p| get(p, "name").or_else(|| p.get("@value")))
                    .map(|n| graph.words(Some(n)))
                    .unwrap_or_default(),
                other => graph.words(Some(other)),
            };
            if !name.is_empty() && !names.contains(&name) {
                names.push(name);
            }
        }
        (!names.is_empty()).then(|| names.join(", "))
    };
    let address = |v: &Value| {
        let found = match v {
            Value::String(s) => Some(s.as_str()),
            Value::Object(p) => ["url", "@id"]
                .iter()
                .find_map(|k| get(p, k))
                .and_then(Value::as_str),
            _ => None,
        };
        found
            .map(str::trim)
            .filter(|s| is_address(s))
            .map(markup::line)
    };
    let url = ["url", "mainEntityOfPage", "@id"]
        .iter()
        .filter_map(|k| get(o, k))
        .find_map(address);
    Source {
        author: names("author").or_else(|| names("creator")),
        publisher: names("publisher"),
        url,
    }
}

fn is_address(text: &str) -> bool {
    let lower = text.get(..8).unwrap_or(text).to_ascii_lowercase();
    lower.starts_with("http://") || lower.starts_with("https://") || lower.starts_with("www.")
}

fn times(o: &Map<String, Value>, graph: &Graph<'_>, doubts: &mut Vec<Doubt>) -> Times {
    let mut read = |key: &str, label: &str| {
        let value = get(o, key)?;
        // Of several the first that reads counts.
        let all = match value {
            Value::Array(all) => all.as_slice(),
            one => std::slice::from_ref(one),
        };
        let mut first = None;
        for v in all {
            let (time, doubt) = duration::read(label, &graph.words(Some(v)));
            if time.is_some() {
                doubts.extend(doubt);
                return time;
            }
            first = first.or(doubt);
        }
        doubts.extend(first);
        None
    };
    let prep = read("prepTime", "preparation time");
    let cook = read("cookTime", "cooking time");
    let mut total = read("totalTime", "total time");
    if total.is_some_and(|t| t.as_minutes() <= 0.0) {
        total = None;
        doubts.push(Doubt::new(
            DoubtCode::ImpossibleNumber,
            "the total time is nought and is left out",
        ));
    }
    Times { prep, cook, total }
}

/// The yield in its fullest form; the other forms become notes.
fn makes(o: &Map<String, Value>, graph: &Graph<'_>, recipe: &mut Recipe) {
    let mut forms: Vec<String> = Vec::new();
    for value in YIELD.iter().filter_map(|k| get(o, k)) {
        let all = match value {
            Value::Array(all) => all.as_slice(),
            one => std::slice::from_ref(one),
        };
        for v in all {
            let form = quantity(v, graph);
            if !form.is_empty() && !forms.contains(&form) {
                forms.push(form);
            }
        }
    }
    let has_words = |s: &str| s.chars().any(char::is_alphabetic);
    let best = forms
        .iter()
        .rev()
        .max_by_key(|f| (has_words(f), f.chars().count()))
        .cloned();
    let Some(text) = best else { return };
    for other in forms.iter().filter(|f| **f != text) {
        if has_words(other) || !text.contains(other.as_str()) {
            recipe
                .notes
                .push(format!("Yield, said another way: {other}"));
        }
    }
    recipe.makes = Some(Yield {
        count: count_in(&text),
        text,
    });
}

/// '10 buns' of `{value: 10, unitText: "buns"}`, or the words of anything else.
fn quantity(value: &Value, graph: &Graph<'_>) -> String {
    let Some(o) = value.as_object().and_then(|o| graph.resolve(o)) else {
        return graph.words(Some(value));
    };
    let words = |key: &str| graph.words(get(o, key));
    let mut number = words("value");
    if number.is_empty() {
        let (low, high) = (words("minValue"), words("maxValue"));
        number = if low.is_empty() || high.is_empty() {
            low + &high
        } else {
            format!("{low}–{high}")
        };
    }
    if number.is_empty() {
        return graph.words(Some(value));
    }
    let unit = ["unitText", "unitCode", "name"]
        .iter()
        .map(|k| words(k))
        .find(|w| !w.is_empty());
    match unit {
        Some(unit) => format!("{number} {unit}"),
        None => number,
    }
}

/// Diets in plain words: 'gluten free' of `https://schema.org/GlutenFreeDiet`.
fn diets(o: &Map<String, Value>, graph: &Graph<'_>) -> Vec<String> {
    let all = match get(o, "suitableForDiet") {
        Some(Value::Array(all)) => all.as_slice(),
        Some(one) => std::slice::from_ref(one),
        None => return Vec::new(),
    };
    let mut out: Vec<String> = Vec::new();
    for v in all {
        for word in graph.words(Some(v)).split(',') {
            let word = spaced(tail(word));
            let word = word.strip_suffix(" diet").unwrap_or(&word).to_owned();
            if !word.is_empty() && !out.contains(&word) {
                out.push(word);
            }
        }
    }
    out
}

/// 'calories 220, serving size 1 muffin' of a nutrition object, or its words.
fn facts(value: &Value, graph: &Graph<'_>) -> String {
    let Some(o) = value.as_object().and_then(|o| graph.resolve(o)) else {
        return graph.words(Some(value));
    };
    let mut facts: Vec<String> = Vec::new();
    for (key, v) in o.iter().filter(|(k, _)| !k.starts_with('@')) {
        let said = graph.words(Some(v));
        if !said.is_empty() {
            facts.push(format!("{} {said}", spaced(tail(key))));
        }
    }
    facts.join(", ")
}

/// 'serving size' of `servingSize`.
fn spaced(name: &str) -> String {
    let mut out = String::with_capacity(name.len() + 4);
    let mut small = false;
    for c in name.trim().chars() {
        if c.is_uppercase() && small {
            out.push(' ');
        }
        small = c.is_lowercase();
        out.extend(c.to_lowercase());
    }
    out
}

fn sentence(text: &str) -> String {
    let mut chars = text.chars();
    chars
        .next()
        .map(|c| c.to_uppercase().chain(chars).collect())
        .unwrap_or_default()
}
