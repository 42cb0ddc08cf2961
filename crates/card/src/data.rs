//! The card as schema.org data.

use crate::CardOptions;
use crate::claim::hushed;
use crate::measure::capital;
use crate::view::{View, tidy};
use quantity::listed;
use serde_json::{Map, Value, json};

/// The Recipe.
pub(crate) fn recipe(view: &View<'_>) -> Value {
    let mut out = Map::new();
    let mut put = |key: &str, value: Value| {
        out.insert(key.to_owned(), quiet(value));
    };
    put("@context", json!("https://schema.org"));
    put("@type", json!("Recipe"));
    put("name", json!(view.title));
    put("description", json!(description(view)));
    put("inLanguage", json!("en"));
    put("recipeYield", json!(view.makes));
    let lines: Vec<String> = view
        .parts
        .iter()
        .flat_map(|p| &p.lines)
        .map(|line| line.words())
        .collect();
    put("recipeIngredient", json!(lines));
    let steps = sections(view);
    if !steps.is_empty() {
        put("recipeInstructions", Value::Array(steps));
    }
    put("creditText", json!(view.credit()));
    if let Some(original) = original(view) {
        put("isBasedOn", original);
    }
    if view.can_say {
        put(
            "suitableForDiet",
            json!("https://schema.org/GlutenFreeDiet"),
        );
    }
    if let Some(writer) = &view.options.writer {
        put("author", json!({ "@type": "Person", "name": tidy(writer) }));
    }
    if let Some(day) = view.options.today.as_deref().filter(|d| is_date(d)) {
        put("datePublished", json!(day));
    }
    if let Some(url) = view.options.url.as_deref().filter(|u| is_web(u)) {
        put("url", json!(url));
    }
    Value::Object(out)
}

/// The data as the inside of a script element: nothing in it can end the element.
pub(crate) fn block(view: &View<'_>) -> String {
    // '</' is written '<\/'; a '<' before anything else could open a comment or a script.
    let text = recipe(view).to_string();
    let mut out = String::with_capacity(text.len() + 64);
    let mut chars = text.chars().peekable();
    while let Some(c) = chars.next() {
        match c {
            '<' if chars.next_if_eq(&'/').is_some() => out.push_str("<\\/"),
            '<' => out.push_str("\\u003c"),
            '\u{2028}' => out.push_str("\\u2028"),
            '\u{2029}' => out.push_str("\\u2029"),
            other => out.push(other),
        }
    }
    out
}

/// Whether an address leads to a web page and to nothing that runs.
pub(crate) fn is_web(url: &str) -> bool {
    let lower = url.to_ascii_lowercase();
    (lower.starts_with("https://") || lower.starts_with("http://"))
        && !url.contains(|c: char| c.is_whitespace() || c.is_control())
}

fn is_date(day: &str) -> bool {
    let parts: Vec<&str> = day.split('-').collect();
    let number = |i: usize, digits: usize| -> Option<u32> {
        let part = parts.get(i).filter(|p| p.len() == digits)?;
        part.bytes()
            .all(|b| b.is_ascii_digit())
            .then(|| part.parse().ok())?
    };
    parts.len() == 3
        && number(0, 4).is_some()
        && number(1, 2).is_some_and(|m| (1..=12).contains(&m))
        && number(2, 2).is_some_and(|d| (1..=31).contains(&d))
}

fn description(view: &View<'_>) -> String {
    let (verdict, _) = view.verdict();
    let contains = view.screening.statement(view.options.regime).contains;
    let allergens = if contains.is_empty() {
        String::new()
    } else {
        format!(" Contains {}.", listed(&contains))
    };
    format!(
        "A rework of a wheat recipe. {}. Gluten: {}{allergens}{}",
        tried(view.options),
        verdict.to_lowercase(),
        view.written_for
            .as_ref()
            .map_or(String::new(), |w| format!(" {w}"))
    )
}

/// How far it has been tried, and whether with these figures.
pub(crate) fn tried(options: &CardOptions) -> String {
    let bakes = match options.bakes {
        0 => return "Untested conversion: 0 test bakes logged".to_owned(),
        1 => "1 test bake logged".to_owned(),
        n => format!("{n} test bakes logged"),
    };
    let others = options.bakes_of.len() as u32;
    let mut of: Vec<String> = options.bakes_of.iter().map(|w| tidy(w)).collect();
    of.sort_unstable();
    of.dedup();
    match others {
        0 => bakes,
        n if n >= options.bakes => format!("{bakes}, of {}; this version has none", listed(&of)),
        n => format!(
            "{bakes}: {} of this version, {n} of {}",
            options.bakes - n,
            listed(&of)
        ),
    }
}

fn sections(view: &View<'_>) -> Vec<Value> {
    let section = |name: &str, steps: Vec<Value>| json!({ "@type": "HowToSection", "name": name, "itemListElement": steps });
    let step = |text: &str| json!({ "@type": "HowToStep", "text": text });
    let mut out = Vec::new();
    for mix in &view.mixes {
        out.push(section(&capital(&mix.name), vec![step(&mix.step())]));
    }
    if !view.own.is_empty() {
        let with_steps = view.own.iter().filter(|s| !s.steps.is_empty());
        out.extend(with_steps.map(|s| {
            let name = s.heading.as_deref().unwrap_or("Method");
            section(name, s.steps.iter().map(|t| step(t)).collect())
        }));
        return out;
    }
    if let Some(follow) = follow(view) {
        out.push(section("Method", vec![step(&follow)]));
    }
    for part in view.parts.iter().filter(|p| !p.notes.is_empty()) {
        let name = if view.parts.len() == 1 {
            "Differences"
        } else {
            &part.name
        };
        out.push(section(name, part.notes.iter().map(|n| step(n)).collect()));
    }
    out
}

/// Where the method stands, for it is not ours to print; `None` where nobody knows.
pub(crate) fn follow(view: &View<'_>) -> Option<String> {
    let source = &view.rework.formula.recipe.source;
    source.words()?;
    let url = source.url.as_deref().filter(|u| is_web(u));
    let place = match url {
        Some(url) => format!("at {url}"),
        None => "in its own book or on its own page".to_owned(),
    };
    let differences = if !view.named.is_empty() {
        "with the differences noted here and without the gluten that the gluten section names"
    } else if view.noted() {
        "with the differences noted here"
    } else {
        "no difference is noted here"
    };
    Some(format!(
        "Follow the source’s method {place}, {differences}."
    ))
}

/// The recipe it was made from; of another type than ours, for a page holds one recipe.
fn original(view: &View<'_>) -> Option<Value> {
    let recipe = &view.rework.formula.recipe;
    let mut out = Map::new();
    if let Some(title) = &recipe.title {
        out.insert("name".to_owned(), json!(tidy(title)));
    }
    if let Some(author) = &recipe.source.author {
        out.insert(
            "author".to_owned(),
            json!({ "@type": "Person", "name": tidy(author) }),
        );
    }
    if let Some(publisher) = &recipe.source.publisher {
        let publisher = json!({ "@type": "Organization", "name": tidy(publisher) });
        out.insert("publisher".to_owned(), publisher);
    }
    if let Some(url) = recipe.source.url.as_deref().filter(|u| is_web(u)) {
        out.insert("url".to_owned(), json!(url));
    }
    if out.is_empty() {
        return None;
    }
    out.insert("@type".to_owned(), json!("CreativeWork"));
    Some(Value::Object(out))
}

/// Every string without claims that must not be made.
fn quiet(value: Value) -> Value {
    match value {
        Value::String(s) => Value::String(hushed(&s)),
        Value::Array(list) => Value::Array(list.into_iter().map(quiet).collect()),
        Value::Object(map) => Value::Object(map.into_iter().map(|(k, v)| (k, quiet(v))).collect()),
        other => other,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_real_dates_and_web_addresses_pass() {
        assert!(is_date("2026-11-25"));
        for wrong in ["25 Nov 2026", "2026-13-01", "2026-1-1", "", "2026-11-2٣"] {
            assert!(!is_date(wrong), "{wrong}");
        }
        assert!(is_web("https://example.org/a"));
        for wrong in ["javascript:alert(1)", "https://a b", "data:text/html,x"] {
            assert!(!is_web(wrong), "{wrong}");
        }
    }
}
