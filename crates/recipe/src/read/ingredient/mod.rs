//! Reading one line: is it an ingredient, a heading or a note, and what does it say.

mod amounts;
mod choices;
mod doubts;
mod halves;
mod heading;
mod item;
mod joined;
mod kept;
mod kinds;
mod list;
mod marks;
mod name;
mod parts;
mod prose;
mod purpose;
mod several;
mod shared;
#[cfg(test)]
mod tests;

use super::amount::Walk;
use super::lex::{Kind, Token, lex};
use super::words::{Word, Words};
use crate::line::{Amount, Line, LineKind, Purpose, Role};
use crate::{Doubt, DoubtCode};
pub(crate) use doubts::is_fillet;
pub(crate) use heading::{component_name, is_part_noun, may_be_bought};
use larder::Larder;
pub(crate) use marks::list_number;
use marks::{is_opening, strip_bullet, strip_marks};
pub(crate) use prose::is_span_of_time;
use quantity::Locale;

/// A line's words without the bullet, number or tick box that it was pasted with.
#[must_use]
pub fn unmarked(text: &str) -> &str {
    text[strip_bullet(text).0..].trim_end()
}

/// Reads ingredient lines. Build one and keep it: the word tables are made once.
#[derive(Debug)]
pub struct Reader<'a> {
    pub(crate) larder: &'a Larder,
    pub(crate) locale: Locale,
    pub(crate) words: &'static Words,
}
/// Longest line that is read as an ingredient; longer ones are notes.
const LONGEST_LINE: usize = 400;
/// Most items of one line.
const MOST_ITEMS: usize = 12;

impl<'a> Reader<'a> {
    /// A reader of texts in one locale's measures.
    #[must_use]
    pub fn new(larder: &'a Larder, locale: Locale) -> Self {
        Self {
            larder,
            locale,
            words: Words::all(),
        }
    }

    /// Reads one line of an ingredient list.
    ///
    /// # Returns
    /// The line with every amount, the food and all doubts. Nothing is thrown away: the text
    /// stays, and spans say where each value stood.
    #[must_use]
    pub fn line(&self, text: &str) -> Line {
        let text = text.trim_end_matches(['\r', '\n']);
        let clean = super::entities::decode(text);
        let mut line = Line {
            text: text.to_owned(),
            clean,
            number: 0,
            kind: LineKind::Note,
            heading: None,
            items: Vec::new(),
            doubts: Vec::new(),
            read_as: None,
            over: None,
            settled: Vec::new(),
        };
        if line.clean.trim().is_empty() {
            return line;
        }
        let clean = std::mem::take(&mut line.clean);
        self.read(&clean, &mut line);
        line.clean = clean;
        line
    }

    /// Reads a line whose place says that it is no heading.
    pub(crate) fn ingredient(&self, text: &str) -> Line {
        // Behind a comma no name is a heading; the comma is then taken off the text again.
        let mut line = self.line(&format!("{},", text.trim_end()));
        line.text = text.to_owned();
        line.clean.pop();
        line
    }

    pub(super) fn read(&self, text: &str, line: &mut Line) {
        let (from, mut marked) = strip_bullet(text);
        let body = text[from..].trim_end();
        let (inner, emphasised) = strip_marks(body);
        marked |= emphasised;
        let inner_at = inner.as_ptr() as usize - text.as_ptr() as usize;
        if inner.is_empty() {
            return;
        }
        if inner.len() > LONGEST_LINE {
            line.doubts.push(Doubt::new(
                DoubtCode::NotRead,
                format!(
                    "a line of {} letters is kept as a note: break it up if it holds ingredients",
                    inner.len()
                ),
            ));
            return;
        }
        if let Some(name) = self.heading(inner, marked) {
            line.kind = LineKind::Heading;
            line.heading = Some(name);
            return;
        }
        let need = self.need(inner);
        if need.is_none() && is_opening(inner) && !self.optional_item(inner) {
            return;
        }
        let mut start = inner_at + need.unwrap_or(0);
        if let Some((label, rest)) = self.part_of_one_line(inner) {
            line.heading = Some(component_name(label));
            start = inner_at + (inner.len() - rest.len());
        } else if let Some(rest) = self.listed_in_brackets(inner) {
            start = inner_at + (inner.len() - rest.len());
        }
        let mut tokens = Vec::with_capacity(24);
        lex(&text[start..], self.locale, &mut tokens);
        for t in &mut tokens {
            t.start += start;
            t.end += start;
        }
        if self.is_note(text, start, &tokens) {
            return;
        }
        line.kind = LineKind::Ingredient;
        let mut walk = Walk {
            text,
            tokens: &tokens,
            words: self.words,
            at: 0,
        };
        self.items(&mut walk, line);
        let minus = inner.starts_with(['-', '−', '–'])
            && inner.chars().nth(1).is_some_and(char::is_numeric);
        if minus {
            line.doubts.push(Doubt::new(
                DoubtCode::MinusSign,
                "a minus stands before the amount: read as a bullet; put a space behind it, or take it off",
            ));
        }
        self.after(text, line);
    }

    /// The doubt about a line that is too long to be read and begins as an ingredient does.
    pub(crate) fn unread(&self, line: &str) -> Option<Doubt> {
        let (from, _) = strip_bullet(line);
        let body = line.get(from..).unwrap_or_default().trim_end();
        let head: String = body.chars().take(60).collect();
        (body.len() > LONGEST_LINE && self.starts_with_amount(&head)).then(|| {
            let head: Vec<&str> = head.split_whitespace().take(6).collect();
            Doubt::new(
                DoubtCode::NotRead,
                format!(
                    "'{} …' begins with an amount but is {} letters long: kept as a note, not used; break it up, one ingredient a line",
                    head.join(" "),
                    body.chars().count()
                ),
            )
        })
    }

    /// Whether a line begins with an amount, behind bullets.
    pub(crate) fn begins_with_amount(&self, line: &str) -> bool {
        let (from, _) = strip_bullet(line);
        self.starts_with_amount(line.get(from..).unwrap_or(""))
    }

    /// Whether a line begins with a food it knows.
    pub(crate) fn begins_with_food(&self, line: &str) -> bool {
        let (from, _) = strip_bullet(line);
        self.larder
            .find(line.get(from..).unwrap_or(""), self.locale)
            .is_some_and(|m| m.certainty == larder::Certainty::Sure && m.span.start < 24)
    }

    pub(super) fn starts_with_amount(&self, rest: &str) -> bool {
        let mut tokens = Vec::new();
        lex(rest, self.locale, &mut tokens);
        let mut walk = Walk {
            text: rest,
            tokens: &tokens,
            words: self.words,
            at: 0,
        };
        walk.amount(Role::Main).is_some()
    }

    /// Bytes of 'you need' before an amount of a food.
    fn need(&self, text: &str) -> Option<usize> {
        let lead = [
            "so you need ",
            "so u need ",
            "you need ",
            "u need ",
            "you'll need ",
            "you will need ",
        ]
        .iter()
        .find(|l| {
            text.get(..l.len())
                .is_some_and(|t| t.eq_ignore_ascii_case(l))
        })?;
        let rest = text.get(lead.len()..)?;
        (self.starts_with_amount(rest) && self.begins_with_food(rest)).then_some(lead.len())
    }

    /// 'Optional: 1 tbsp rum' is an ingredient, 'Optional: serve with cream.' is not.
    pub(super) fn optional_item(&self, text: &str) -> bool {
        let rest = text
            .get(8..)
            .unwrap_or("")
            .trim_start_matches([':', ' ', '-']);
        text.to_ascii_lowercase().starts_with("optional") && self.starts_with_amount(rest)
    }

    /// Prose, yields and remarks.
    pub(super) fn is_note(&self, text: &str, start: usize, tokens: &[Token]) -> bool {
        let trimmed = text.get(start..).unwrap_or_default().trim();
        let words = tokens.iter().filter(|t| t.kind == Kind::Word).count();
        let begins = Walk {
            text,
            tokens,
            words: self.words,
            at: 0,
        }
        .amount(Role::Main);
        if prose::is_span_of_time(trimmed) || prose::opens_sentence(trimmed) {
            return true;
        }
        if let Some(first) = begins {
            // 'three of us, and is better cold' counts no food.
            return first.bare && prose::is_sentence(trimmed) && !self.begins_with_food(trimmed);
        }
        let sentence = trimmed.ends_with(['.', '!', '?']);
        if sentence && words >= 4 {
            return true;
        }
        let numbers = tokens.iter().any(|t| {
            matches!(
                t.kind,
                Kind::Whole(_) | Kind::Fraction(_) | Kind::Decimal(_)
            )
        });
        if !numbers && prose::is_sentence(trimmed) && !self.lists_food(trimmed) {
            return true;
        }
        words >= 9
            && !numbers
            && self
                .larder
                .find(trimmed, self.locale)
                .is_none_or(|m| m.span.start > 20)
    }

    /// Whether a line names a food and only then says more of it: 'Salt, a pinch is plenty'.
    fn lists_food(&self, line: &str) -> bool {
        self.larder.find(line, self.locale).is_some_and(|m| {
            let behind = line.get(m.span.end..).unwrap_or_default();
            m.certainty == larder::Certainty::Sure
                && m.span.start == 0
                && behind.trim_start().starts_with([',', ';', '('])
        })
    }

    /// Reads the items of an ingredient line.
    pub(super) fn items(&self, walk: &mut Walk<'_>, line: &mut Line) {
        let text = walk.text;
        let listed = line.heading.is_some();
        let whole = self.shared_out(walk, line);
        if let Some(items) = whole.or_else(|| self.parts_measured(walk)) {
            line.items = items;
            walk.at = walk.tokens.len();
            return;
        }
        let mut carried: Option<Vec<Amount>> = None;
        // An item that is mixed with the next one.
        let mut shared: Option<usize> = None;
        let mut strewn = false;
        while walk.peek().is_some() && line.items.len() < MOST_ITEMS {
            let back = walk.at;
            let mut amounts = self.amounts(walk);
            let each = self.skip_each(walk);
            if let Some(parts) = self.parts_of(walk, &amounts) {
                line.items.extend(parts);
            } else {
                let end = self.name_end(walk, &mut amounts, listed);
                if amounts.is_empty()
                    && let Some(c) = carried.clone()
                {
                    amounts = c;
                }
                let before = line.items.len();
                self.named(text, end.name, amounts.clone(), each, &end.blanks, line);
                walk.at = end.stop;
                let new = line.items.get_mut(before).filter(|_| strewn);
                if let Some(item) = new {
                    item.purpose = Purpose::Dusting;
                }
                strewn = end.strewn;
                if let Some(first) = std::mem::take(&mut shared)
                    && let Some(purpose) = line.items.get(before).map(|i| i.purpose)
                    && let Some(item) = line.items.get_mut(first)
                    && item.purpose == Purpose::Formula
                {
                    item.purpose = purpose;
                }
                if end.shares_purpose {
                    shared = line.items.len().checked_sub(1);
                }
            }
            carried = None;
            // What joins a further item is skipped.
            while walk
                .sign(0)
                .is_some_and(|c| matches!(c, ',' | ';' | '&' | '+' | '/'))
                || matches!(walk.word_at(0), Some(Word::And | Word::Plus))
            {
                walk.at += 1;
            }
            if walk.at == back {
                break;
            }
        }
        if line.items.len() > 1 {
            self.share_wash(&mut line.items);
            self.share_coating(&mut line.items);
        }
        self.share_bath(text, &mut line.items);
        self.set_apart(text, &mut line.items);
    }

    /// 'each of', 'each': the amount holds for every name that follows.
    pub(super) fn skip_each(&self, walk: &mut Walk<'_>) -> bool {
        if matches!(walk.word_at(0), Some(Word::Each)) {
            walk.at += 1;
            if matches!(walk.word_at(0), Some(Word::Of)) {
                walk.at += 1;
            }
            return true;
        }
        false
    }
}
