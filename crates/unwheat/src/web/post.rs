//! What a form sends: fields by name, at most one file, sealed by our own page.

use super::app::Shared;
use super::fault::Fault;
use super::guard;
use axum::body::Bytes;
use axum::extract::{FromRequest, Multipart, Request};
use axum::http::header;

/// Fields that a page, its buttons or its scripts put in themselves, and that nobody types.
const OURS: [&str; 37] = [
    "seal",
    "state",
    "rev",
    "leaf",
    "change",
    "join",
    "sent",
    "over",
    "base",
    "item",
    "part",
    "anchor",
    "begun",
    "shown",
    "done",
    "day",
    "since",
    "made",
    "unmade",
    "again",
    "way",
    "ticked",
    "ask",
    "asked",
    "back",
    "component",
    "counts",
    "do",
    "like",
    "measures",
    "number",
    "place",
    "recipe",
    "row",
    "seen",
    "stop",
    "what",
];

/// A sent form.
#[derive(Debug, Default)]
pub struct Post {
    fields: Vec<(String, String)>,
    /// A file with its name.
    pub file: Option<(String, Bytes)>,
    /// Sent by the page's script, which patches the page with the answer.
    pub live: bool,
}

impl Post {
    /// A field's words, trimmed; empty when it was not sent.
    pub fn text(&self, name: &str) -> &str {
        self.raw(name).trim()
    }
    /// A field as sent.
    pub fn raw(&self, name: &str) -> &str {
        self.fields
            .iter()
            .rev()
            .find(|f| f.0 == name)
            .map_or("", |f| f.1.as_str())
    }
    /// A field that says something.
    pub fn some(&self, name: &str) -> Option<&str> {
        Some(self.text(name)).filter(|t| !t.is_empty())
    }
    /// Whether a box was ticked or a field was sent.
    pub fn has(&self, name: &str) -> bool {
        self.fields.iter().any(|f| f.0 == name)
    }
    /// Puts a value in place of what was sent.
    pub fn set(&mut self, name: &str, value: impl Into<String>) {
        self.fields.retain(|f| f.0 != name);
        self.fields.push((name.to_owned(), value.into()));
    }
    /// All values of a field that stands more than once.
    pub fn all(&self, name: &str) -> Vec<&str> {
        self.fields
            .iter()
            .filter(|f| f.0 == name)
            .map(|f| f.1.trim())
            .collect()
    }
    /// That the form is of a page from before the kitchen went back to a backup, with what was typed in it.
    pub fn went_back(&self) -> Fault {
        Fault::WentBack(self.typed())
    }
    /// What a reader typed or chose, by field: all but what the page itself put in.
    fn typed(&self) -> Vec<(String, String)> {
        let typed = |f: &&(String, String)| !OURS.contains(&f.0.as_str()) && !f.1.trim().is_empty();
        self.fields.iter().filter(typed).cloned().collect()
    }
    /// A figure; `what` names it in the message.
    pub fn figure(&self, name: &str, what: &str) -> Result<Option<f64>, Fault> {
        figure(self.text(name), what)
    }
}

/// A figure as people write it: '310', '2.5 g', '2,5', '1 1/2', '½'. Nothing written is `None`.
pub fn figure(text: &str, what: &str) -> Result<Option<f64>, Fault> {
    let wrong = || {
        Fault::bad(format!(
            "'{}' is no figure for {what}: write it like 310 or 2.5",
            text.trim()
        ))
    };
    let mut words = text.trim().to_lowercase();
    if words.is_empty() {
        return Ok(None);
    }
    for unit in ["grams", "gram", "°c", "°f", "min", "%", "g", "×"] {
        if let Some(rest) = words.strip_suffix(unit) {
            words = rest.trim_end().to_owned();
        }
    }
    quantity::figure(&words).map(Some).ok_or_else(wrong)
}

impl FromRequest<Shared> for Post {
    type Rejection = Fault;

    async fn from_request(request: Request, app: &Shared) -> Result<Self, Fault> {
        let post = Self::read(request, app).await?;
        if post.raw("state") != &*app.kitchen.state() {
            return Err(post.went_back());
        }
        Ok(post)
    }
}

/// A form that names what it is of so that no number alone is trusted: it is good also after the
/// kitchen went back to a backup, where that is still there.
pub struct Named(pub Post);

impl FromRequest<Shared> for Named {
    type Rejection = Fault;

    async fn from_request(request: Request, app: &Shared) -> Result<Self, Fault> {
        Post::read(request, app).await.map(Self)
    }
}

impl Post {
    /// Reads a form of a page of ours.
    async fn read(request: Request, app: &Shared) -> Result<Self, Fault> {
        let live = request.headers().contains_key("x-live");
        let multipart = request
            .headers()
            .get(header::CONTENT_TYPE)
            .and_then(|v| v.to_str().ok())
            .is_some_and(|t| t.starts_with("multipart/form-data"));
        let mut post = Self {
            live,
            ..Self::default()
        };
        if multipart {
            let mut parts = Multipart::from_request(request, app).await.map_err(|e| {
                Fault::bad(format!(
                    "the form did not arrive whole ({e}): send it again"
                ))
            })?;
            while let Some(field) = parts.next_field().await.map_err(too_large)? {
                let name = field.name().unwrap_or_default().to_owned();
                match field.file_name().map(str::to_owned) {
                    Some(file) => {
                        let bytes = field.bytes().await.map_err(too_large)?;
                        // Without a name none was chosen; an empty one may have been.
                        if !file.is_empty() {
                            post.file = Some((file, bytes));
                        }
                    }
                    None => {
                        let text = field.text().await.map_err(too_large)?;
                        post.fields.push((name, text));
                    }
                }
            }
        } else {
            let bytes = Bytes::from_request(request, app).await.map_err(|e| {
                Fault::bad(format!(
                    "the form did not arrive whole ({e}): send it again"
                ))
            })?;
            post.fields = form_urlencoded::parse(&bytes).into_owned().collect();
        }
        if post.raw("seal") != app.seal {
            return Err(Fault::Refused(
                "This form is not from a page of this kitchen, or the page is from an older kitchen. Load the page again and send it once more.".to_owned(),
            ));
        }
        if let Some(form) = guard::came_in() {
            let _ = form.typed.set(post.typed());
        }
        Ok(post)
    }
}

fn too_large(e: axum::extract::multipart::MultipartError) -> Fault {
    Fault::bad(format!(
        "the file did not arrive whole ({}): a recipe page is at most 20 MB, a kitchen archive 200 MB",
        e.body_text()
    ))
}

#[cfg(test)]
mod tests {
    use super::{OURS, figure};
    use std::collections::BTreeSet;
    use std::path::Path;

    /// All that is written in some of our files.
    fn written(folder: &Path, end: &str) -> String {
        let files = std::fs::read_dir(folder).expect("a folder");
        let all = files.map(|file| {
            let path = file.expect("a file").path();
            match path.to_string_lossy() {
                _ if path.is_dir() => written(&path, end),
                name if name.ends_with(end) => std::fs::read_to_string(path).expect("a text"),
                _ => String::new(),
            }
        });
        all.collect()
    }

    /// What stands between some words and the next quotation mark.
    fn between<'t>(text: &'t str, before: &str) -> impl Iterator<Item = &'t str> {
        let all = text.split(before).skip(1);
        all.filter_map(|s| s.split_once('"').map(|(name, _)| name))
    }

    #[test]
    fn what_the_pages_put_into_forms_is_told_from_what_is_typed() {
        let root = Path::new(env!("CARGO_MANIFEST_DIR"));
        let pages = written(&root.join("src/web"), ".rs");
        let scripts = written(&root.join("assets"), ".js");
        let (mut ours, mut typed) = (BTreeSet::new(), BTreeSet::new());
        // Forms that are questions in an address are not posted: none of theirs is shown.
        for line in pages.lines() {
            let hidden = line.contains("type=\"hidden\"");
            for name in between(line, "name=\"") {
                let button = line.contains(&format!(" name=\"{name}\" value"))
                    && line.contains("button")
                    && !line.contains("input");
                if hidden || button {
                    ours.insert(name);
                } else {
                    typed.insert(name);
                }
            }
        }
        for before in ["data.set(\"", "body.set(\"", "data.append(\""] {
            ours.extend(between(&scripts, before));
        }
        for before in ["(select(\"", "(words(t, \""] {
            typed.extend(between(&pages, before));
        }
        let missing: Vec<_> = ours
            .iter()
            .filter(|n| !typed.contains(*n) && !OURS.contains(n))
            .collect();
        assert!(
            missing.is_empty(),
            "not in OURS, and typed nowhere: {missing:?}"
        );
        let is_text = |l: &&str| {
            l.contains("textarea")
                || l.contains("input")
                    && !l.contains("type=\"checkbox\"")
                    && !l.contains("type=\"hidden\"")
        };
        let texts: BTreeSet<&str> = pages
            .lines()
            .filter(is_text)
            .flat_map(|l| between(l, "name=\""))
            .collect();
        let wrong: Vec<_> = OURS.iter().filter(|n| texts.contains(*n)).collect();
        assert!(wrong.is_empty(), "in OURS, and typed somewhere: {wrong:?}");
        let set = |n: &str| scripts.contains(&format!(" {n}: "));
        let gone: Vec<_> = OURS
            .iter()
            .filter(|n| !ours.contains(*n) && !set(n))
            .collect();
        assert!(gone.is_empty(), "in OURS, and written nowhere: {gone:?}");
    }

    #[test]
    fn figures_as_people_write_them() {
        for (text, value) in [
            ("310", 310.0),
            (" 2.5 g ", 2.5),
            ("2,5", 2.5),
            ("1½", 1.5),
            ("1 1/2", 1.5),
            ("3/4", 0.75),
            ("0", 0.0),
            ("200 °C", 200.0),
        ] {
            let got = figure(text, "x").ok().flatten();
            assert_eq!(got, Some(value), "{text}");
        }
        assert!(matches!(figure("  ", "x"), Ok(None)));
        for text in ["31o", "1 2", "1/0", "NaN", "inf", "1 2 3", "g"] {
            assert!(figure(text, "x").is_err(), "{text}");
        }
    }
}
