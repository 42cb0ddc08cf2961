//! Reading pasted text: title, components, ingredient lines, method, notes.

mod front;
mod verbs;
mod wrap;

use super::ingredient::{component_name, list_number};
use super::{Reader, step, web};
use crate::line::{Line, LineKind};
use crate::recipe::{Component, Recipe};
use crate::{Doubt, DoubtCode};
pub(crate) use front::{count_in, says_yield};
use std::fmt;
use verbs::{starts_with_pan, starts_with_verb};

/// Bytes a recipe may have; far above any recipe, far below a book.
pub const MOST_BYTES: usize = 1_000_000;
/// Bytes a saved page may have.
pub const MOST_PAGE_BYTES: usize = 20_000_000;

/// Why a text could not be read as a recipe.
#[derive(Debug, Clone, PartialEq)]
pub enum ReadError {
    /// Nothing but spaces.
    Empty,
    /// Not text: a picture, a document.
    Binary {
        /// Line, from 1.
        line: usize,
        /// Column in characters, from 1.
        column: usize,
    },
    /// Not UTF-8.
    NotUtf8 {
        /// Line, from 1.
        line: usize,
        /// Column in characters, from 1.
        column: usize,
    },
    /// Larger than a recipe can be.
    TooLarge {
        /// Bytes found.
        bytes: usize,
        /// Bytes allowed.
        most: usize,
    },
    /// No line reads as an ingredient.
    NoIngredients {
        /// Lines of text found.
        lines: usize,
    },
    /// A number that cannot be an amount.
    ImpossibleNumber {
        /// Line, from 1; 0 inside a data block.
        line: usize,
        /// Column in characters, from 1.
        column: usize,
        /// The words.
        text: String,
    },
    /// A saved page without usable recipe data.
    Page(web::PageError),
}

impl fmt::Display for ReadError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty => f.write_str("line 1, column 1: the text is empty\n  paste or type a recipe: a title, its ingredients one a line, then the method"),
            Self::Binary { line, column } => write!(f, "line {line}, column {column}: this is not text\n  save the recipe as plain text (.txt) or as a web page (.html)"),
            Self::NotUtf8 { line, column } => write!(f, "line {line}, column {column}: the text is not in UTF-8\n  save it again with the encoding UTF-8"),
            Self::TooLarge { bytes, most } => write!(
                f,
                "line 1, column 1: {:.1} MB is more than a recipe can be (at most {:.0} MB)\n  cut out the one recipe and save it alone",
                *bytes as f64 / 1e6,
                *most as f64 / 1e6
            ),
            Self::NoIngredients { lines } => write!(
                f,
                "line 1, column 1: no ingredient found in {lines} {}\n  write one ingredient a line, amount first: 250 g flour",
                if *lines == 1 { "line" } else { "lines" }
            ),
            Self::ImpossibleNumber { line, column, text } => write!(
                f,
                "line {line}, column {column}: '{text}' is no amount that can be measured\n  write a number above 0 and below 100,000"
            ),
            Self::Page(e) => e.fmt(f),
        }
    }
}
impl std::error::Error for ReadError {}

/// Reads a recipe from the bytes of a file: plain text, or a saved web page with recipe data.
///
/// # Errors
/// [`ReadError`], with line and column and what to do.
pub fn bytes(bytes: &[u8], reader: &Reader<'_>) -> Result<Recipe, ReadError> {
    let page_like = bytes.len() > MOST_BYTES && bytes.iter().take(2000).any(|b| *b == b'<');
    let most = if page_like {
        MOST_PAGE_BYTES
    } else {
        MOST_BYTES
    };
    if bytes.len() > most {
        return Err(ReadError::TooLarge {
            bytes: bytes.len(),
            most,
        });
    }
    if let Some(at) = bytes.iter().position(|b| *b == 0) {
        let (line, column) = place(bytes, at);
        return Err(ReadError::Binary { line, column });
    }
    match std::str::from_utf8(bytes) {
        Ok(text) => recipe(text, reader),
        Err(e) => {
            let (line, column) = place(bytes, e.valid_up_to());
            let strange = bytes.iter().filter(|b| **b < 9).count();
            Err(if strange > 0 {
                ReadError::Binary { line, column }
            } else {
                ReadError::NotUtf8 { line, column }
            })
        }
    }
}

fn place(bytes: &[u8], at: usize) -> (usize, usize) {
    let before = &bytes[..at];
    let line = before.iter().filter(|b| **b == b'\n').count() + 1;
    let start = before
        .iter()
        .rposition(|b| *b == b'\n')
        .map_or(0, |i| i + 1);
    (
        line,
        String::from_utf8_lossy(&before[start..]).chars().count() + 1,
    )
}

/// Reads a recipe from text.
///
/// # Errors
/// [`ReadError`], with line and column and what to do.
pub fn recipe(text: &str, reader: &Reader<'_>) -> Result<Recipe, ReadError> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    if text.trim().is_empty() {
        return Err(ReadError::Empty);
    }
    let recipe = if web::is_page(text) {
        web::page(text, reader).map_err(ReadError::Page)?
    } else {
        if text.len() > MOST_BYTES {
            return Err(ReadError::TooLarge {
                bytes: text.len(),
                most: MOST_BYTES,
            });
        }
        Pasted::new(reader).read(text)
    };
    check(recipe, text)
}

/// Refuses what cannot be worked with.
fn check(recipe: Recipe, text: &str) -> Result<Recipe, ReadError> {
    for line in recipe.components.iter().flat_map(|c| &c.lines) {
        if let Some(doubt) = line
            .doubts
            .iter()
            .find(|d| d.code == DoubtCode::ImpossibleNumber)
        {
            let span = doubt.span.clone().unwrap_or_default();
            let column = line
                .clean
                .get(..span.start)
                .map_or(1, |s| s.chars().count() + 1);
            return Err(ReadError::ImpossibleNumber {
                line: line.number,
                column,
                text: line.words(&span).trim().to_owned(),
            });
        }
    }
    if !recipe
        .components
        .iter()
        .flat_map(|c| &c.lines)
        .any(|l| l.kind == LineKind::Ingredient)
    {
        return Err(ReadError::NoIngredients {
            lines: text.lines().filter(|l| !l.trim().is_empty()).count(),
        });
    }
    Ok(recipe)
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Section {
    Start,
    Ingredients,
    Method,
    Notes,
}

/// A line as pasted.
#[derive(Debug, Clone, Copy)]
struct Raw<'t> {
    text: &'t str,
    /// From 1.
    number: usize,
    /// The line above is blank.
    blank: bool,
}

/// A walk down pasted text.
struct Pasted<'r, 'l, 't> {
    reader: &'r Reader<'l>,
    recipe: Recipe,
    section: Section,
    /// The component that ingredient lines go to.
    open: Option<usize>,
    /// A heading whose ingredients have not come yet.
    pending: Option<(String, String)>,
    /// The component whose steps are read.
    under: Option<usize>,
    /// Steps as text, with the component they stand under.
    steps: Vec<(String, Option<usize>)>,
    /// The line above is blank.
    blank: bool,
    /// The next line that is not blank.
    next: Option<Raw<'t>>,
    /// The one after it.
    after: Option<Raw<'t>>,
    /// The last step bore a number.
    numbered: bool,
}

fn section_of(line: &str) -> Option<Section> {
    let word = line
        .trim()
        .trim_matches(|c: char| matches!(c, '#' | '*' | ':' | '=' | '_' | '-') || c.is_whitespace())
        .to_lowercase();
    match word.as_str() {
        "ingredients" | "ingredient list" | "you will need" | "what you need" | "you need" => {
            Some(Section::Ingredients)
        }
        "method" | "methods" | "directions" | "instructions" | "preparation" | "steps"
        | "procedure" | "how to make it" | "to make" | "making" | "process" => {
            Some(Section::Method)
        }
        "notes" | "note" | "tips" | "tip" | "recipe notes" | "cook's notes" | "storage"
        | "to store" => Some(Section::Notes),
        _ => None,
    }
}

impl<'r, 'l, 't> Pasted<'r, 'l, 't> {
    fn new(reader: &'r Reader<'l>) -> Self {
        Self {
            reader,
            recipe: Recipe::default(),
            section: Section::Start,
            open: None,
            pending: None,
            under: None,
            steps: Vec::new(),
            blank: true,
            next: None,
            after: None,
            numbered: false,
        }
    }

    fn read(mut self, text: &'t str) -> Recipe {
        let mut lines = Vec::new();
        let mut blank = true;
        for (i, line) in text.lines().enumerate() {
            if line.trim().is_empty() {
                blank = true;
                continue;
            }
            lines.push(Raw {
                text: line,
                number: i + 1,
                blank,
            });
            blank = false;
        }
        let mut at = 0;
        while let Some(&first) = lines.get(at) {
            self.blank = first.blank;
            at += 1;
            let mut joined = None;
            while let Some(next) = lines.get(at).filter(|n| !n.blank)
                && self.wraps(first.text, joined.as_deref(), next.text)
            {
                let whole = joined.get_or_insert_with(|| first.text.trim_end().to_owned());
                whole.push(' ');
                whole.push_str(next.text.trim());
                at += 1;
            }
            self.next = lines.get(at).copied();
            self.after = lines.get(at + 1).copied();
            self.line(joined.as_deref().unwrap_or(first.text), first.number);
        }
        if self.recipe.makes.is_none()
            && let Some((last, _)) = self.steps.last()
        {
            self.recipe.makes = front::makes_within(last);
        }
        if let Some((_, heading)) = self.pending.take() {
            self.recipe.notes.push(heading);
        }
        self.recipe.steps = self
            .steps
            .iter()
            .enumerate()
            .map(|(i, (text, component))| step(i + 1, text, *component))
            .collect();
        let (full, empty): (Vec<_>, Vec<_>) = self
            .recipe
            .components
            .into_iter()
            .partition(|c| !c.lines.is_empty());
        self.recipe.components = full;
        self.recipe
            .notes
            .extend(empty.into_iter().filter_map(|c| c.heading));
        self.recipe
    }

    /// Whether the next line goes on with the one being read.
    fn wraps(&self, line: &str, joined: Option<&str>, next: &str) -> bool {
        let listed = match self.section {
            Section::Ingredients => true,
            // The first line is the title: it stands alone.
            Section::Start => self.recipe.title.is_some(),
            Section::Method | Section::Notes => false,
        };
        listed
            && section_of(line).is_none()
            && section_of(next).is_none()
            && wrap::continues(self.reader, line, joined.unwrap_or(line), next)
    }

    fn has_ingredients(&self) -> bool {
        self.recipe.components.iter().any(|c| !c.lines.is_empty())
    }

    fn line(&mut self, raw: &str, number: usize) {
        if let Some(section) = section_of(raw) {
            if let Some((_, heading)) = self.pending.take() {
                self.recipe.notes.push(heading);
            }
            self.section = section;
            self.under = None;
            self.numbered = false;
            return;
        }
        let trimmed = raw.trim();
        if self.about(trimmed) {
            return;
        }
        match self.section {
            Section::Method => self.in_method(raw, number),
            Section::Notes => self.in_notes(raw, number),
            Section::Start | Section::Ingredients => self.in_ingredients(raw, number),
        }
    }

    /// Keeps a remark, without the marks around it.
    fn note(&mut self, text: &str) {
        let text = front::unmarked(text);
        if self.recipe.makes.is_none() && !self.has_ingredients() {
            self.recipe.makes = front::makes_within(text);
        }
        self.recipe.notes.push(text.to_owned());
    }

    /// Credit, yield and times: lines about the whole recipe.
    fn about(&mut self, line: &str) -> bool {
        let bare = front::unmarked(line);
        if front::credit(bare, &mut self.recipe.source) {
            return true;
        }
        if self.recipe.makes.is_none()
            && let Some(makes) = front::makes(line)
        {
            self.recipe.makes = Some(makes);
            return true;
        }
        if self.section == Section::Method || self.section == Section::Notes {
            return false;
        }
        if front::times(bare, &mut self.recipe.times) {
            return true;
        }
        if self.section != Section::Start || self.recipe.title.is_none() || self.has_ingredients() {
            return self.section == Section::Start
                && !self.has_ingredients()
                && bare.len() >= 3
                && bare.get(..3).is_some_and(|b| b.eq_ignore_ascii_case("by "))
                && front::byline(bare, &mut self.recipe.source);
        }
        if self.recipe.source.author.is_none() && front::byline(bare, &mut self.recipe.source) {
            return true;
        }
        if let Some((first, rest)) = bare.split_once(". ")
            && self.recipe.source == crate::recipe::Source::default()
            && front::byline(first, &mut self.recipe.source)
        {
            self.note(rest);
            return true;
        }
        let alone = self.next.is_none_or(|n| n.blank)
            || self.next.is_some_and(|n| {
                section_of(n.text).is_some() || !self.reader.begins_with_amount(n.text)
            });
        if alone
            && self.recipe.makes.is_none()
            && self.recipe.notes.is_empty()
            && let Some(makes) = front::counted_yield(bare)
        {
            self.recipe.makes = Some(makes);
            return true;
        }
        false
    }

    /// Makes a line a heading if it is one by what stands around it.
    fn head(&self, raw: &str, line: &mut Line) {
        if line.kind != LineKind::Heading && self.heads(raw, line) {
            let bare = raw.trim().trim_matches(['#', '*', '_', '=', ' ']);
            line.kind = LineKind::Heading;
            line.heading = Some(component_name(bare));
            line.items.clear();
            line.doubts.clear();
        }
    }

    /// Whether a line the larder may know as food is a heading after all: marked as one, or a
    /// line alone in capitals or with a capital, with measured ingredients right behind it.
    fn heads(&self, raw: &str, line: &Line) -> bool {
        let Some(next) = self.next else { return false };
        let trimmed = raw.trim();
        let bare = trimmed.trim_matches(['#', '*', '_', '=', ' ', ':']);
        let measured = line.items.iter().any(|i| !i.amounts.is_empty());
        let words = bare.split_whitespace().count();
        if measured
            || words == 0
            || words > 6
            || bare.contains([',', ';', '.', '!', '?'])
            || bare.starts_with(char::is_numeric)
            || bare.to_lowercase().contains("taste")
            || section_of(next.text).is_some()
        {
            return false;
        }
        let food_next = {
            let read = self.reader.line(next.text);
            read.kind == LineKind::Ingredient && read.items.iter().any(|i| i.food.is_some())
        };
        let amount_next = self.reader.begins_with_amount(next.text);
        let pair = |m: &str| {
            trimmed.len() > 2 * m.len()
                && trimmed.starts_with(m)
                && trimmed.trim_end_matches(':').ends_with(m)
        };
        if trimmed.starts_with("# ") || trimmed.starts_with("##") || pair("**") || pair("__") {
            return food_next || amount_next;
        }
        let bullet = trimmed.starts_with(|c: char| !c.is_alphanumeric());
        let capitals = |t: &str| {
            t.chars().filter(|c| c.is_alphabetic()).count() >= 3
                && !t.chars().any(char::is_lowercase)
        };
        // 'Olive oil' is an ingredient whose amount was left out; 'Ginger biscuits' are made.
        let food = self.reader.larder.names().is_name(bare, self.reader.locale);
        if bullet || !amount_next || food && !is_made(bare) {
            return false;
        }
        if capitals(bare) {
            return !capitals(next.text);
        }
        // In a list with a blank line between all lines, one more says nothing.
        let spaced = next.blank && self.after.is_none_or(|a| a.blank);
        self.blank && !spaced && words >= 2 && bare.starts_with(char::is_uppercase)
    }

    fn in_notes(&mut self, raw: &str, number: usize) {
        // A heading with ingredients behind it opens the list again.
        if self.pending.is_some() || self.reader.line(raw).kind == LineKind::Heading {
            let back = self.recipe.notes.len();
            self.in_ingredients(raw, number);
            if self.section == Section::Ingredients || self.pending.is_some() {
                return;
            }
            self.recipe.notes.truncate(back);
        }
        self.note(raw);
    }

    fn in_method(&mut self, raw: &str, number: usize) {
        let trimmed = raw.trim();
        let marker = list_number(trimmed).or_else(|| step_word(trimmed));
        let body = marker.map_or(trimmed, |n| trimmed[n..].trim_start());
        if marker.is_none() {
            let mut line = self.reader.line(raw);
            if trimmed.starts_with(['#', '*', '_']) {
                self.head(raw, &mut line);
            }
            if line.kind == LineKind::Heading {
                let name = line.heading.unwrap_or_default();
                match self.component_like(&name) {
                    Some(c) => self.under = Some(c),
                    None => self.pending = Some((name, trimmed.to_owned())),
                }
                self.numbered = false;
                return;
            }
            let measured = line.kind == LineKind::Ingredient
                && line.items.iter().any(|i| {
                    i.food.is_some()
                        && i.amounts
                            .first()
                            .is_some_and(|a| a.unit.is_some() && a.span.start <= 6)
                })
                && !trimmed.ends_with('.')
                && trimmed.split_whitespace().count() <= 12;
            if measured && (self.pending.is_some() || self.blank && !starts_with_verb(trimmed)) {
                self.section = Section::Ingredients;
                self.ingredient(line, number);
                return;
            }
        }
        if let Some((_, heading)) = self.pending.take() {
            self.recipe.notes.push(heading);
        }
        let continues = marker.is_none()
            && !self.blank
            && (self.numbered
                || self
                    .steps
                    .last()
                    .is_some_and(|(t, _)| !t.ends_with(['.', '!', ':'])));
        if continues && let Some((last, _)) = self.steps.last_mut() {
            last.push(' ');
            last.push_str(body);
        } else {
            self.steps.push((
                body.trim_start_matches(['-', '•', '*', ' ']).to_owned(),
                self.under,
            ));
            self.numbered = marker.is_some();
        }
    }

    fn in_ingredients(&mut self, raw: &str, number: usize) {
        let trimmed = raw.trim();
        if self.section == Section::Start && self.recipe.title.is_none() && !self.has_ingredients()
        {
            let line = self.reader.line(raw);
            let amount_first = line.kind == LineKind::Ingredient
                && line
                    .items
                    .iter()
                    .any(|i| !i.amounts.is_empty() && i.food.is_some());
            let part = trimmed.to_lowercase().starts_with("for the ");
            if !amount_first && !part && trimmed.chars().count() <= 120 {
                let title =
                    trimmed.trim_matches(|c: char| matches!(c, '#' | '*' | '=' | '_' | ' '));
                self.recipe.title = Some(title.to_owned());
                return;
            }
        }
        if let Some(n) = list_number(trimmed).or_else(|| step_word(trimmed)) {
            let body = trimmed[n..].trim_start();
            let step_like = starts_with_verb(body)
                || self.reader.line(body).kind == LineKind::Note
                || body.split_whitespace().count() > 10;
            if step_like && self.has_ingredients() {
                self.section = Section::Method;
                self.take_pending_as_part();
                self.in_method(raw, number);
                return;
            }
        }
        let words = trimmed.split_whitespace().count();
        let verb = starts_with_verb(trimmed);
        let mut line = self.reader.line(raw);
        self.head(raw, &mut line);
        let prose = verb && (words >= 6 || trimmed.ends_with('.') && words >= 3)
            || words >= 6 && trimmed.ends_with('.') && trimmed.len() > 60
            || words >= 3 && starts_with_pan(trimmed);
        if self.has_ingredients() && prose && line.kind != LineKind::Heading {
            let amount_first = line
                .items
                .iter()
                .flat_map(|i| &i.amounts)
                .any(|a| a.span.start < 4);
            if !amount_first || starts_with_pan(trimmed) {
                self.section = Section::Method;
                self.take_pending_as_part();
                self.in_method(raw, number);
                return;
            }
        }
        match line.kind {
            LineKind::Heading => {
                if let Some((_, heading)) = self.pending.take() {
                    self.recipe.notes.push(heading);
                }
                self.pending = Some((line.heading.take().unwrap_or_default(), trimmed.to_owned()));
            }
            LineKind::Note => {
                line.number = number;
                let in_list = self.section == Section::Ingredients && self.pending.is_none();
                match self.open.filter(|_| in_list) {
                    Some(c) if !line.doubts.is_empty() => {
                        self.recipe.components[c].lines.push(line)
                    }
                    _ => self.note(trimmed),
                }
            }
            LineKind::Ingredient => {
                // '… flour,' / 'sifted': the rest of a broken line.
                let remark = !self.blank
                    && self.pending.is_none()
                    && line.items.iter().all(|i| i.amounts.is_empty())
                    && (self.reader.larder.names().is_remark(trimmed)
                        || trimmed.starts_with(char::is_lowercase)
                            && self.last_line_open()
                            && !self.reader.begins_with_food(trimmed));
                if remark
                    && let Some(c) = self.open
                    && let Some(last) = self.recipe.components[c].lines.last_mut()
                {
                    let joined = format!("{} {trimmed}", last.text.trim_end());
                    let at = last.number;
                    *last = self.reader.line(&joined);
                    last.number = at;
                    return;
                }
                // Before any list has begun, a bare phrase is a headnote, not food.
                let bare = line.items.iter().all(|i| i.amounts.is_empty());
                let known = line.items.iter().any(|i| {
                    i.food
                        .as_ref()
                        .is_some_and(|m| m.certainty == larder::Certainty::Sure)
                });
                // 'A loaf for the week, plain and good.' measures nothing.
                let remark_like = words >= 6
                    && trimmed.ends_with(['.', '!', '?'])
                    && !line
                        .items
                        .iter()
                        .any(|i| i.food.is_some() && i.amounts.iter().any(|a| a.unit.is_some()));
                if self.section == Section::Start
                    && !self.has_ingredients()
                    && self.pending.is_none()
                    && (bare && !known || remark_like)
                {
                    self.note(trimmed);
                    return;
                }
                self.section = Section::Ingredients;
                self.ingredient(line, number);
            }
        }
    }

    fn last_line_open(&self) -> bool {
        self.open
            .and_then(|c| self.recipe.components[c].lines.last())
            .is_some_and(|l| l.text.trim_end().ends_with(','))
    }

    /// A heading without ingredients before a step names the part the steps are for.
    fn take_pending_as_part(&mut self) {
        if let Some((name, heading)) = self.pending.take() {
            match self.component_like(&name) {
                Some(c) => self.under = Some(c),
                None => self.recipe.notes.push(heading),
            }
        }
    }

    /// The component a name means: the same name, or one inside the other.
    fn component_like(&self, name: &str) -> Option<usize> {
        let all = &self.recipe.components;
        self.recipe.component(name).or_else(|| {
            all.iter()
                .position(|c| !c.name.is_empty() && same_part(&c.name, name))
        })
    }

    fn ingredient(&mut self, mut line: Line, number: usize) {
        line.number = number;
        if let Some(name) = line.heading.clone() {
            let place = self.place(name, None);
            self.recipe.components[place].lines.push(line);
            if self.open.is_none() {
                self.open = None;
            }
            return;
        }
        if let Some((name, heading)) = self.pending.take() {
            let place = self.place(name, Some(heading));
            self.open = Some(place);
        }
        let place = match self.open {
            Some(p) => p,
            None => {
                let p = self.place(String::new(), None);
                self.open = Some(p);
                p
            }
        };
        self.recipe.components[place].lines.push(line);
    }

    /// Opens a component; a name already taken gets a number and a doubt.
    fn place(&mut self, name: String, heading: Option<String>) -> usize {
        let mut unique = name.clone();
        let mut n = 1;
        while self.recipe.component(&unique).is_some() {
            n += 1;
            unique = if name.is_empty() {
                format!("part {n}")
            } else {
                format!("{name} {n}")
            };
        }
        if n > 1 && !name.is_empty() {
            self.recipe.doubts.push(Doubt::new(
                DoubtCode::ComponentTwice,
                format!("two components are called '{name}': the later one is '{unique}' here; give it a name of its own"),
            ));
        }
        self.recipe.components.push(Component {
            name: unique,
            heading,
            lines: Vec::new(),
        });
        self.recipe.components.len() - 1
    }
}

/// Whether a name is of something made from other things, by its last word.
fn is_made(name: &str) -> bool {
    const MADE: [&str; 64] = [
        "biscuit",
        "biscuits",
        "cookies",
        "crackers",
        "wafers",
        "pastry",
        "dough",
        "bread",
        "rolls",
        "buns",
        "muffins",
        "pancakes",
        "cake",
        "cakes",
        "cheesecake",
        "sponge",
        "base",
        "crust",
        "crumbs",
        "crumb",
        "crumble",
        "topping",
        "filling",
        "glaze",
        "icing",
        "frosting",
        "ganache",
        "custard",
        "curd",
        "caramel",
        "praline",
        "brittle",
        "meringue",
        "meringues",
        "marshmallow",
        "jam",
        "compote",
        "puree",
        "paste",
        "pesto",
        "sauce",
        "gravy",
        "dressing",
        "mayonnaise",
        "marinade",
        "chutney",
        "relish",
        "salsa",
        "stock",
        "broth",
        "syrup",
        "batter",
        "dumplings",
        "mash",
        "pie",
        "tart",
        "shell",
        "starter",
        "sourdough",
        "streusel",
        "granola",
        "nougat",
        "fondant",
        "noodles",
    ];
    name.split_whitespace()
        .next_back()
        .is_some_and(|w| MADE.iter().any(|m| w.eq_ignore_ascii_case(m)))
}

/// 'Step 3:' before a step's words; bytes of it.
fn step_word(text: &str) -> Option<usize> {
    let rest = text
        .strip_prefix("Step ")
        .or_else(|| text.strip_prefix("STEP "))?;
    let digits = rest.bytes().take_while(u8::is_ascii_digit).count();
    let after = &rest[digits..];
    let sign = after.len() - after.trim_start_matches([':', '.', ')', '-', ' ']).len();
    (digits > 0 && sign > 0 && after.len() > sign).then_some(5 + digits + sign)
}

/// Whether two names mean one part: one holds the other's last word.
pub(crate) fn same_part(a: &str, b: &str) -> bool {
    let (a, b) = (component_name(a), component_name(b));
    let head = |s: &str| {
        s.split_whitespace()
            .next_back()
            .map(|w| w.trim_end_matches('s').to_owned())
    };
    !a.is_empty()
        && !b.is_empty()
        && (a == b
            || head(&a) == head(&b)
                && (a.ends_with(&*b) || b.ends_with(&*a) || !a.contains(' ') || !b.contains(' ')))
}

#[cfg(test)]
mod tests;
