//! A walk down pasted text, line by line.

mod place;
mod says;

use super::super::ingredient::{component_name, is_span_of_time, list_number};
use super::super::method::is_pan;
use super::super::{Reader, step};
use super::same_part;
use super::verbs::{led_up_to, orders, starts_with_pan, starts_with_verb, tells_of_doing};
use super::{front, wrap};
use crate::keeping::is_remark;
use crate::line::{Line, LineKind};
use crate::recipe::{Recipe, Step};
use crate::{Doubt, DoubtCode};
use says::{
    bare_number, heat_and_time, is_bare_step, is_labelled_note, is_part_of_one_line, is_switch,
    numbers_of_the_page, sets_oven, step_word,
};

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Section {
    Start,
    Ingredients,
    Method,
    Notes,
}

/// A line as pasted.
#[derive(Debug, Clone, Copy)]
pub(super) struct Raw<'t> {
    pub(super) text: &'t str,
    /// From 1.
    pub(super) number: usize,
    /// The line above is blank.
    pub(super) blank: bool,
}

/// A walk down pasted text.
pub(super) struct Pasted<'r, 'l, 't> {
    pub(super) reader: &'r Reader<'l>,
    pub(super) recipe: Recipe,
    /// The whole text.
    pub(super) text: &'t str,
    pub(super) section: Section,
    /// The component that ingredient lines go to.
    pub(super) open: Option<usize>,
    /// A heading whose ingredients have not come yet.
    pub(super) pending: Option<(String, String)>,
    /// The component whose steps are read.
    pub(super) under: Option<usize>,
    /// Steps as text, with the component they stand under.
    pub(super) steps: Vec<(String, Option<usize>)>,
    /// The page's own number of each step, where it has one.
    pub(super) own_numbers: Vec<Option<usize>>,
    /// The line above is blank.
    pub(super) blank: bool,
    /// The next line that is not blank.
    pub(super) next: Option<Raw<'t>>,
    /// The one after it.
    pub(super) after: Option<Raw<'t>>,
    /// All lines that are not blank.
    pub(super) lines: Vec<Raw<'t>>,
    /// The place of the next one among them.
    pub(super) at: usize,
    /// The last step bore a number.
    pub(super) numbered: bool,
    /// The number of the last step that bore one without a dot: '1 Heat the oven'.
    pub(super) counted: usize,
    /// The last step is whole: no line goes on with it.
    pub(super) closed: bool,
    /// The last line of the method was a remark, and the next may go on with it.
    pub(super) kept: bool,
}

pub(super) fn section_of(line: &str) -> Option<Section> {
    let word = line
        .trim()
        .trim_matches(|c: char| matches!(c, '#' | '*' | ':' | '=' | '_' | '-') || c.is_whitespace())
        .to_lowercase()
        .replace('’', "'");
    // 'For this you will need', 'For this recipe you'll need'.
    let for_this = word.strip_prefix("for this ").and_then(|of| {
        let need = of.find("you")?;
        (of[..need].split_whitespace().count() < 3).then_some(&of[need..])
    });
    match for_this.unwrap_or(&word) {
        "ingredients" | "ingredient list" | "you will need" | "you'll need" | "what you need"
        | "you need" => Some(Section::Ingredients),
        "method" | "methods" | "directions" | "instructions" | "preparation" | "steps"
        | "procedure" | "how to make it" | "to make" | "making" | "process" => {
            Some(Section::Method)
        }
        "notes" | "note" | "tips" | "tip" | "recipe notes" | "cook's notes" | "storage"
        | "baker's notes" | "to store" => Some(Section::Notes),
        _ => None,
    }
}

impl<'r, 'l, 't> Pasted<'r, 'l, 't> {
    pub(super) fn new(reader: &'r Reader<'l>) -> Self {
        Self {
            reader,
            recipe: Recipe::default(),
            text: "",
            section: Section::Start,
            open: None,
            pending: None,
            under: None,
            steps: Vec::new(),
            own_numbers: Vec::new(),
            blank: true,
            next: None,
            after: None,
            lines: Vec::new(),
            at: 0,
            numbered: false,
            counted: 0,
            closed: false,
            kept: false,
        }
    }

    pub(super) fn read(mut self, text: &'t str) -> Recipe {
        self.text = text;
        let mut blank = true;
        for (i, line) in text.lines().enumerate() {
            if line.trim().is_empty() {
                blank = true;
                continue;
            }
            self.lines.push(Raw {
                text: line,
                number: i + 1,
                blank,
            });
            blank = false;
        }
        while let Some(&first) = self.lines.get(self.at) {
            self.blank = first.blank;
            self.at += 1;
            let mut joined = None;
            while let Some(next) = self.lines.get(self.at).filter(|n| !n.blank)
                && self.wraps(first.text, joined.as_deref(), next.text)
            {
                let whole = joined.get_or_insert_with(|| first.text.trim_end().to_owned());
                whole.push(' ');
                whole.push_str(next.text.trim());
                self.at += 1;
            }
            self.next = self.lines.get(self.at).copied();
            self.after = self.lines.get(self.at + 1).copied();
            self.line(joined.as_deref().unwrap_or(first.text), first.number);
        }
        if self.recipe.makes.is_none()
            && let Some((last, _)) = self.steps.last()
        {
            self.recipe.makes = front::makes_within(last);
        }
        if self.recipe.makes.is_none()
            && let Some(title) = &self.recipe.title
        {
            self.recipe.makes = front::makes_in_title(title);
        }
        if let Some((_, heading)) = self.pending.take() {
            self.recipe.notes.push(heading);
        }
        let own = numbers_of_the_page(&self.own_numbers);
        self.recipe.steps = self
            .steps
            .iter()
            .enumerate()
            .map(|(i, (text, component))| Step {
                on_page: own.get(i).copied().flatten(),
                ..step(i + 1, text, *component)
            })
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
            && !(orders(next).sure > 0 && self.tells(next, &self.reader.line(next)))
            && wrap::continues(self.reader, line, joined.unwrap_or(line), next)
    }

    pub(super) fn has_ingredients(&self) -> bool {
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
            self.counted = 0;
            return;
        }
        let trimmed = raw.trim();
        if self.has_ingredients() && is_bare_step(trimmed) {
            self.open_method();
            (self.numbered, self.closed) = (false, true);
            return;
        }
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
    pub(super) fn note(&mut self, text: &str) {
        let text = front::unmarked(text);
        if self.recipe.makes.is_none() && !self.has_ingredients() {
            self.recipe.makes = front::makes_within(text);
        }
        self.recipe.notes.push(text.to_owned());
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
        let marker = list_number(trimmed)
            .or_else(|| step_word(trimmed))
            .or_else(|| self.counted_step(trimmed));
        let body = marker.map_or(trimmed, |n| trimmed[n..].trim_start());
        if self.heads_a_day(trimmed) {
            self.recipe.notes.push(trimmed.to_owned());
            self.closed = true;
            return;
        }
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
        let remark = self.blank && is_remark(trimmed) || is_labelled_note(trimmed);
        if marker.is_none() && !self.steps.is_empty() && remark {
            self.note(trimmed);
            self.kept = true;
            return;
        }
        let kept = std::mem::take(&mut self.kept);
        if kept
            && marker.is_none()
            && !self.blank
            && (trimmed.starts_with(char::is_lowercase)
                || is_span_of_time(trimmed) && orders(trimmed).sure == 0
                || is_remark(trimmed))
            && let Some(last) = self.recipe.notes.last_mut()
        {
            last.push(' ');
            last.push_str(trimmed);
            self.kept = true;
            return;
        }
        let closed = std::mem::take(&mut self.closed);
        let continues = marker.is_none()
            && !self.blank
            && !closed
            && (self.numbered
                || self
                    .steps
                    .last()
                    .is_some_and(|(t, _)| !t.ends_with(['.', '!', ':'])));
        if continues && let Some((last, _)) = self.steps.last_mut() {
            last.push(' ');
            last.push_str(body);
        } else {
            let digits = |c: char| !c.is_ascii_digit();
            let own = marker.and_then(|n| trimmed[..n].trim_matches(digits).parse().ok());
            self.own_numbers.resize(self.steps.len(), None);
            self.own_numbers.push(own);
            self.steps.push((
                body.trim_start_matches(['-', '•', '*', ' ']).to_owned(),
                self.under,
            ));
            self.numbered = marker.is_some();
        }
        if marker.is_some() {
            self.counted = bare_number(trimmed).map_or(self.counted, |(n, _)| n);
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
                    .any(|i| !i.amounts.is_empty() && i.food.is_some())
                && (self.reader.begins_with_amount(raw) || self.lists_amounts_last(&line))
                && !self.counts_in_title(trimmed, &line)
                && !self.is_over_a_yield(trimmed);
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
                || body.split_whitespace().count() > 10
                || self.begins_numbers(trimmed);
            if step_like && self.has_ingredients() {
                self.open_method();
                self.in_method(raw, number);
                return;
            }
        }
        if self.is_of_a_day(trimmed)
            || self.has_ingredients() && self.counted_step(trimmed).is_some()
        {
            self.open_method();
            self.in_method(raw, number);
            return;
        }
        if let Some(doubt) = self.reader.unread(raw) {
            self.recipe.doubts.push(doubt);
            self.note(trimmed);
            return;
        }
        let words = trimmed.split_whitespace().count();
        let verb = starts_with_verb(led_up_to(trimmed).unwrap_or(trimmed));
        let mut line = self.reader.line(raw);
        self.head(raw, &mut line);
        if self.names_the_list(trimmed, &line) {
            line.kind = LineKind::Heading;
            line.heading = Some(component_name(trimmed));
        }
        let prose = verb && (words >= 6 || trimmed.ends_with('.') && words >= 3)
            || words >= 6 && trimmed.ends_with('.') && trimmed.len() > 60
            || words >= 3 && starts_with_pan(trimmed);
        if self.has_ingredients() && line.kind != LineKind::Heading && !is_part_of_one_line(&line) {
            let amount_first = line
                .items
                .iter()
                .flat_map(|i| &i.amounts)
                .any(|a| a.span.start < 4);
            let told = prose && (!amount_first || starts_with_pan(trimmed));
            if told || self.tells(trimmed, &line) {
                self.open_method();
                self.in_method(raw, number);
                return;
            }
        }
        if sets_oven(trimmed) {
            // 'Oven 425 deg F' above the list or the method is a step; the list goes on.
            let body = front::unmarked(trimmed).trim_start_matches(['-', '•', ' ']);
            self.steps.push((body.to_owned(), None));
            self.numbered = false;
            self.closed = true;
            return;
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
                    _ => {
                        self.ask_if_method(trimmed, number);
                        self.note(trimmed);
                    }
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
                // Before any list has begun, a bare phrase is a headnote, not food; 'all of the dough'
                // is none.
                let bare = line
                    .items
                    .iter()
                    .all(|i| i.amounts.is_empty() && i.reference.is_none());
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
                let headnote = self.section == Section::Start
                    && !self.has_ingredients()
                    && self.pending.is_none()
                    && (!known && (bare || self.is_above_the_list()) || remark_like);
                if headnote || is_pan(trimmed) || is_switch(trimmed) {
                    self.note(trimmed);
                    return;
                }
                self.section = Section::Ingredients;
                self.ingredient(line, number);
            }
        }
    }

    /// Asks about a line behind ingredients that may be a step and is set aside; the doubt's
    /// span is the line's place in the whole text.
    fn ask_if_method(&mut self, text: &str, number: usize) {
        let told = orders(text);
        let (oven, time) = heat_and_time(text);
        let may = oven || told.sure > 0 || time && told.all > 0 || tells_of_doing(text);
        if !may || !self.has_ingredients() || is_remark(text) {
            return;
        }
        let all = text.split_whitespace().count();
        let head: Vec<&str> = text.split_whitespace().take(8).collect();
        let cut = if head.len() < all { " …" } else { "" };
        let before = self.text.split_inclusive('\n').take(number - 1);
        let at: usize = before.map(str::len).sum();
        let doubt = Doubt::new(
            DoubtCode::MaybeMethod,
            format!(
                "'{}{cut}' stands behind the ingredients and is not used: if it is part of the method, write 'Method' on a line above it",
                head.join(" ")
            ),
        );
        self.recipe.doubts.push(doubt.at(at..at + text.len()));
    }

    fn last_line_open(&self) -> bool {
        self.open
            .and_then(|c| self.recipe.components[c].lines.last())
            .is_some_and(|l| l.text.trim_end().ends_with(','))
    }

    /// The method begins; a heading without ingredients before a step names the part the steps are for.
    fn open_method(&mut self) {
        self.section = Section::Method;
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
            let place = self.recipe.open(name, None);
            self.recipe.components[place].lines.push(line);
            if self.open.is_none() {
                self.open = None;
            }
            return;
        }
        if let Some((name, heading)) = self.pending.take() {
            let place = self.recipe.open(name, Some(heading));
            self.open = Some(place);
        }
        let place = match self.open {
            Some(p) => p,
            None => {
                let p = self.recipe.open(String::new(), None);
                self.open = Some(p);
                p
            }
        };
        self.recipe.components[place].lines.push(line);
    }
}

#[cfg(test)]
mod tests;
