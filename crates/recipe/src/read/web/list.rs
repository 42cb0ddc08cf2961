//! The ingredient list of a data block.

use super::graph::{Graph, get};
use super::markup::{self, pieces};
use crate::line::{Line, LineKind};
use crate::read::Reader;
use crate::read::ingredient::{component_name, may_be_bought};
use crate::read::text::MOST_LINES;
use crate::{Doubt, DoubtCode, Recipe};
use serde_json::{Map, Value};

/// Where the list may stand.
pub(super) const KEYS: [&str; 3] = ["recipeIngredient", "ingredients", "supply"];
/// Most entries looked at, lists among them.
const MOST_ENTRIES: usize = 5000;
/// Deepest nesting of lists followed.
const MOST_DEPTH: usize = 16;

/// Reads the list into components, split at its headings as in pasted text; the key it stood under.
pub(super) fn read(
    o: &Map<String, Value>,
    graph: &Graph<'_>,
    reader: &Reader<'_>,
    recipe: &mut Recipe,
) -> Option<&'static str> {
    let mut used = None;
    let mut list = List {
        graph,
        reader,
        recipe,
        open: None,
        pending: None,
        number: 0,
        left: MOST_ENTRIES,
        full: false,
    };
    for key in KEYS {
        if let Some(value) = get(o, key) {
            list.entry(value, true, 0);
        }
        if list.number > 0 {
            used = Some(key);
            break;
        }
    }
    list.drop_heading();
    if list.full {
        list.recipe.doubts.push(Doubt::new(
            DoubtCode::NotRead,
            format!("the ingredient list is longer than {MOST_LINES} lines or nested too deep: the rest was not read"),
        ));
    }
    used
}

struct List<'a, 'g, 'r, 'l> {
    graph: &'a Graph<'g>,
    reader: &'r Reader<'l>,
    recipe: &'a mut Recipe,
    /// The component that lines go to.
    open: Option<usize>,
    /// A heading whose lines have not come yet: its name, its words.
    pending: Option<(String, String)>,
    number: usize,
    /// Entries that may still be looked at.
    left: usize,
    full: bool,
}

impl List<'_, '_, '_, '_> {
    /// One entry; `alone` when nothing stands beside it, so that its line breaks part lines.
    fn entry(&mut self, value: &Value, alone: bool, depth: usize) {
        if depth > MOST_DEPTH || self.number >= MOST_LINES || self.left == 0 {
            self.full = true;
            return;
        }
        self.left -= 1;
        match value {
            Value::Null => {}
            Value::String(text) => {
                for piece in pieces(text, alone) {
                    if piece.heading {
                        self.heading(&piece.text);
                    } else {
                        self.line(&piece.text);
                    }
                }
            }
            Value::Array(all) => {
                for v in all {
                    self.entry(v, alone && all.len() == 1, depth + 1);
                }
            }
            Value::Object(o) => self.object(o, alone, depth),
            other => {
                let words = self.graph.words(Some(other));
                self.line(&words);
            }
        }
    }

    fn object(&mut self, o: &Map<String, Value>, alone: bool, depth: usize) {
        let Some(o) = self.graph.resolve(o) else {
            let id = self.graph.words(o.get("@id"));
            self.recipe.doubts.push(Doubt::new(
                DoubtCode::NotRead,
                format!(
                    "an ingredient points to '{id}', which is not in the page: copy it by hand"
                ),
            ));
            return;
        };
        let inner = ["@value", "@list", "@set", "item"]
            .iter()
            .find_map(|k| get(o, k));
        if let Some(v) = inner {
            return self.entry(v, alone, depth + 1);
        }
        let name = self.graph.words(get(o, "name"));
        if let Some(list) = ["itemListElement", "recipeIngredient", "ingredients"]
            .iter()
            .find_map(|k| get(o, k))
        {
            if !name.is_empty() {
                self.heading(&name);
            }
            return self.entry(list, true, depth + 1);
        }
        let text = self.graph.words(get(o, "text"));
        if !text.is_empty() {
            return self.line(&text);
        }
        // '200', 'g', 'flour' of a property with a value.
        let amount = ["value", "amount", "quantity", "requiredQuantity"]
            .iter()
            .find_map(|k| get(o, k))
            .map(|v| super::quantity(v, self.graph))
            .unwrap_or_default();
        let unit = ["unitText", "unit", "unitCode"]
            .iter()
            .map(|k| self.graph.words(get(o, k)))
            .find(|w| !w.is_empty())
            .unwrap_or_default();
        let name = if name.is_empty() {
            self.graph.words(get(o, "description"))
        } else {
            name
        };
        self.line(&markup::squeeze(&format!("{amount} {unit} {name}")));
    }

    /// A heading with nothing under it is a remark, or something bought: 'tonkatsu sauce'.
    fn drop_heading(&mut self) {
        let Some((_, unused)) = self.pending.take() else {
            return;
        };
        if may_be_bought(&unused) && self.open.is_some() {
            let mut line = self.reader.ingredient(&unused);
            line.number = self.number;
            self.ingredient(line);
        } else {
            self.recipe.notes.push(unused);
        }
    }

    fn heading(&mut self, words: &str) {
        self.drop_heading();
        self.pending = Some((component_name(words), words.to_owned()));
    }

    fn line(&mut self, text: &str) {
        if text.is_empty() {
            return;
        }
        if self.number >= MOST_LINES {
            self.full = true;
            return;
        }
        self.number += 1;
        if let Some(doubt) = self.reader.unread(text) {
            self.recipe.doubts.push(doubt);
            self.recipe.notes.push(text.to_owned());
            return;
        }
        let mut line = self.reader.line(text);
        line.number = self.number;
        match line.kind {
            LineKind::Heading => {
                let name = line.heading.take().unwrap_or_default();
                self.drop_heading();
                self.pending = Some((name, text.to_owned()));
            }
            LineKind::Note => match self.open.filter(|_| self.pending.is_none()) {
                Some(c) => self.keep(c, line),
                None => self.recipe.notes.push(text.to_owned()),
            },
            LineKind::Ingredient => {
                let bare = line.items.iter().all(|i| i.amounts.is_empty());
                if bare && self.pending.as_ref().is_some_and(|(_, h)| may_be_bought(h)) {
                    self.drop_heading();
                }
                self.ingredient(line);
            }
        }
    }

    fn ingredient(&mut self, line: Line) {
        // 'Egg wash: 1 egg' has a part of its own; the lines after it go on where they were.
        if let Some(name) = line.heading.clone() {
            let place = self
                .recipe
                .component(&name)
                .unwrap_or_else(|| self.recipe.open(name, None));
            return self.keep(place, line);
        }
        if let Some((name, heading)) = self.pending.take() {
            self.open = Some(self.recipe.open(name, Some(heading)));
        }
        let place = match self.open {
            Some(place) => place,
            None => self.recipe.open(String::new(), None),
        };
        self.open = Some(place);
        self.keep(place, line);
    }

    fn keep(&mut self, place: usize, line: Line) {
        if let Some(component) = self.recipe.components.get_mut(place) {
            component.lines.push(line);
        }
    }
}
