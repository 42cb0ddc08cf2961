//! What stands in a form, and what is wrong with it: shown again as it was typed.

use crate::web::fault::Fault;
use crate::web::page::sentence;
use crate::web::post::{Post, figure};
use maud::{Markup, html};
use std::collections::BTreeMap;

/// The fields of a form by name, with what is wrong with them.
#[derive(Debug, Default, Clone)]
pub struct Typed {
    fields: BTreeMap<String, String>,
    troubles: Vec<(String, String)>,
}

impl Typed {
    /// The fields of these names, as sent. A box that was not ticked is empty.
    pub fn sent<'a>(post: &Post, names: impl IntoIterator<Item = &'a str>) -> Self {
        let mut out = Self::default();
        for name in names {
            out.put(name, post.raw(name).replace("\r\n", "\n"));
        }
        out
    }
    /// Sets a field.
    pub fn put(&mut self, name: &str, value: impl Into<String>) {
        self.fields.insert(name.to_owned(), value.into());
    }
    /// A field's words, trimmed.
    pub fn get(&self, name: &str) -> &str {
        self.fields.get(name).map_or("", |v| v.trim())
    }
    /// A field that says something.
    pub fn some(&self, name: &str) -> Option<&str> {
        Some(self.get(name)).filter(|v| !v.is_empty())
    }
    /// A figure; what cannot be read as one is noted as a trouble.
    pub fn figure(&mut self, name: &str, what: &str) -> Option<f64> {
        let text = self.get(name);
        // A price may be copied with its sign; the currency has a field of its own.
        let money = name.ends_with("amount") || name.starts_with("price");
        let text = if money {
            text.trim_matches(['$', '£', '€', ' '])
        } else {
            text
        };
        match figure(text, what) {
            Ok(value) => value,
            Err(Fault::Bad(words)) => {
                self.wrong(name, words);
                None
            }
            Err(_) => None,
        }
    }
    /// Notes what is wrong with a field; the first word about it stays.
    pub fn wrong(&mut self, field: &str, words: impl Into<String>) {
        if self.trouble(field).is_none() {
            self.troubles
                .push((field.to_owned(), sentence(&words.into())));
        }
    }
    /// What is wrong with a field.
    pub fn trouble(&self, field: &str) -> Option<&str> {
        self.troubles
            .iter()
            .find(|t| t.0 == field)
            .map(|t| t.1.as_str())
    }
    /// All that is wrong: fields and words, in the order they were found.
    pub fn troubles(&self) -> impl Iterator<Item = (&str, &str)> {
        self.troubles.iter().map(|t| (&*t.0, &*t.1))
    }
    /// Whether anything is wrong.
    pub fn is_wrong(&self) -> bool {
        !self.troubles.is_empty()
    }
    /// What stood in a form that was not taken, at its head: each with a way to its field.
    pub fn told(&self) -> Markup {
        html! {
            @if self.is_wrong() {
                div.trouble.unsaved #unsaved role="alert" tabindex="-1" autofocus {
                    strong { "Not saved yet. What you typed is still here." }
                    ul { @for (field, words) in &self.troubles { li { a href={ "#" (id(field)) } { (words) } } } }
                }
            }
        }
    }
}

/// Said at the top of a page one lands on after saving; the way there ends in [`KEPT`].
pub fn kept(query: Option<&str>, words: &str) -> Markup {
    let said =
        form_urlencoded::parse(query.unwrap_or_default().as_bytes()).any(|(k, _)| k == "kept");
    html! { @if said { p.kept #kept role="status" tabindex="-1" { (words) } } }
}

/// What a path ends in where the page says that something was kept.
pub const KEPT: &str = "?kept=1#kept";
/// Where a form that was not taken begins: what is wrong stands there.
pub const UNSAVED: &str = "#unsaved";

/// The id of a field.
pub fn id(name: &str) -> String {
    format!("f-{}", name.replace('.', "-"))
}

/// What is wrong with a field, beside it.
pub fn beside(t: &Typed, name: &str) -> Markup {
    html! { @if let Some(words) = t.trouble(name) { p.wrong id={ (id(name)) "-wrong" } { (words) } } }
}

/// A line of words.
pub fn words(t: &Typed, name: &str, label: &str, hint: &str) -> Markup {
    input(t, name, label, hint, "text")
}

/// A day.
pub fn date(t: &Typed, name: &str, label: &str) -> Markup {
    input(t, name, label, "", "date")
}

fn input(t: &Typed, name: &str, label: &str, hint: &str, kind: &str) -> Markup {
    let id = id(name);
    let described = [
        (!hint.is_empty()).then(|| format!("{id}-hint")),
        t.trouble(name).map(|_| format!("{id}-wrong")),
    ];
    let described: Vec<String> = described.into_iter().flatten().collect();
    html! {
        div.field {
            label for=(id) { (label) }
            input id=(id) name=(name) type=(kind) value=(t.get(name)) maxlength="300" autocomplete="off"
                aria-invalid=[t.trouble(name).map(|_| "true")]
                aria-describedby=[(!described.is_empty()).then(|| described.join(" "))];
            @if !hint.is_empty() { p.hint id={ (id) "-hint" } { (hint) } }
            (beside(t, name))
        }
    }
}

/// A figure with its unit behind it.
pub fn number(t: &Typed, name: &str, label: &str, unit: &str, hint: &str) -> Markup {
    let id = id(name);
    let described = [
        (!hint.is_empty()).then(|| format!("{id}-hint")),
        t.trouble(name).map(|_| format!("{id}-wrong")),
    ];
    let described: Vec<String> = described.into_iter().flatten().collect();
    html! {
        div.field {
            label for=(id) { (label) }
            span.of {
                input.f id=(id) name=(name) inputmode="decimal" value=(t.get(name)) maxlength="20" autocomplete="off"
                    aria-invalid=[t.trouble(name).map(|_| "true")]
                    aria-describedby=[(!described.is_empty()).then(|| described.join(" "))];
                " " (unit)
            }
            @if !hint.is_empty() { p.hint id={ (id) "-hint" } { (hint) } }
            (beside(t, name))
        }
    }
}

/// One of a few.
pub fn choice(t: &Typed, name: &str, label: &str, options: &[(&str, &str)]) -> Markup {
    let id = id(name);
    html! {
        div.field {
            label for=(id) { (label) }
            select id=(id) name=(name) aria-invalid=[t.trouble(name).map(|_| "true")]
                aria-describedby=[t.trouble(name).map(|_| format!("{id}-wrong"))] {
                @for (key, words) in options { option value=(key) selected[t.get(name) == *key] { (words) } }
            }
            (beside(t, name))
        }
    }
}

/// A box to tick.
pub fn tick(t: &Typed, name: &str, label: &str) -> Markup {
    html! { label.tick { input type="checkbox" id=(id(name)) name=(name) value="1" checked[t.get(name) == "1"]; (label) } }
}

/// Marks a field that cannot be left empty.
const NEEDED: &str = "(needed)";

const WHO_NEEDED: &str = "write who saves this: a name or initials";
const WHY_NEEDED: &str = "write in a few words why, for whoever looks later";

/// Who saves and why, with the button.
pub fn signed(t: &Typed, button: &str, reasons: &[&str]) -> Markup {
    html! {
        div.row.signed {
            div.grow {
                label for="f-why" { "Why, in one line " (NEEDED) }
                input #f-why name="why" maxlength="200" required data-needed=(sentence(WHY_NEEDED)) value=(t.get("why")) list="reasons" autocomplete="off"
                    aria-invalid=[t.trouble("why").map(|_| "true")] aria-describedby=[t.trouble("why").map(|_| "f-why-wrong")];
                datalist #reasons { @for r in reasons { option value=(r) {} } }
            }
            div {
                label for="f-who" { "Who " (NEEDED) }
                input #f-who name="who" maxlength="80" required data-needed=(sentence(WHO_NEEDED)) value=(t.get("who"))
                    aria-invalid=[t.trouble("who").map(|_| "true")] aria-describedby=[t.trouble("who").map(|_| "f-who-wrong")];
            }
            button.do name="do" value="save" { (button) }
            (beside(t, "why")) (beside(t, "who"))
        }
        @if t.get("who").is_empty() { p.hint { "Your name or initials; kept for next time." } }
    }
}

/// Notes it where nobody signs.
pub fn unsigned(t: &mut Typed) {
    if t.get("who").is_empty() {
        t.wrong("who", WHO_NEEDED);
    }
    if t.get("why").is_empty() {
        t.wrong("why", WHY_NEEDED);
    }
}

/// A key for something of the kitchen's own, from its name.
pub fn own_key(name: &str, taken: impl Fn(&str) -> bool) -> String {
    let mut slug = String::new();
    for c in name.to_lowercase().chars() {
        let plain = match c {
            'a'..='z' | '0'..='9' => Some(c),
            'à'..='å' => Some('a'),
            'è'..='ë' => Some('e'),
            'ì'..='ï' => Some('i'),
            'ò'..='ö' | 'ø' => Some('o'),
            'ù'..='ü' => Some('u'),
            'ç' => Some('c'),
            'ñ' => Some('n'),
            _ => None,
        };
        match plain {
            Some(c) => slug.push(c),
            None if !slug.is_empty() && !slug.ends_with('_') => slug.push('_'),
            None => {}
        }
    }
    slug.truncate(48);
    let slug = slug.trim_matches('_');
    let base = if slug.is_empty() {
        "own_1".to_owned()
    } else {
        format!("own_{slug}")
    };
    let mut key = base.clone();
    let mut n = 2;
    while taken(&key) {
        key = format!("{base}_{n}");
        n += 1;
    }
    key
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn keys_from_names() {
        let none = |_: &str| false;
        assert_eq!(own_key("Crème brûlée mix", none), "own_creme_brulee_mix");
        assert_eq!(own_key("  ---  ", none), "own_1");
        assert_eq!(own_key("Rice", |k| k == "own_rice"), "own_rice_2");
        assert!(own_key(&"x y".repeat(80), none).len() <= 64);
        assert_eq!(own_key("粉", none), "own_1");
    }

    #[test]
    fn what_is_no_figure_is_noted_and_kept() {
        let mut t = Typed::default();
        t.put("weights.cup", "12o");
        assert_eq!(t.figure("weights.cup", "a cup"), None);
        assert!(t.trouble("weights.cup").is_some_and(|w| w.contains("12o")));
        assert_eq!(t.get("weights.cup"), "12o");
        t.put("weights.cup", "2,5 g");
        assert_eq!(t.figure("weights.cup", "a cup"), Some(2.5));
    }
}
