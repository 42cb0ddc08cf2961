//! Reading one line: is it an ingredient, a heading or a note, and what does it say.

use super::amount::{Walk, continues, is_measured};
use super::lex::{Kind, Token, lex};
use super::words::{Word, Words, is_container};
use crate::line::{Amount, Filling, Item, Line, LineKind, Purpose, Reference, Role, Share};
use crate::{Doubt, DoubtCode};
use larder::{Certainty, FoodId, Larder, Match};
use quantity::{Locale, Unit};
use std::ops::Range;

/// Reads ingredient lines. Build one and keep it: the word tables are made once.
#[derive(Debug)]
pub struct Reader<'a> {
    pub(crate) larder: &'a Larder,
    pub(crate) locale: Locale,
    pub(crate) words: Words,
}

/// Numbers above this are no kitchen amount.
const MOST: f64 = 1e5;
/// Longest line that is read as an ingredient; longer ones are notes.
const LONGEST_LINE: usize = 400;

/// Nouns a component is called by; a line of nothing but such a name is a heading, and 'the
/// crumbs' is one of them rather than a food.
const COMPONENT_NOUNS: [&str; 45] = [
    "dough",
    "filling",
    "topping",
    "glaze",
    "crumbs",
    "crumb",
    "crust",
    "pastry",
    "batter",
    "frosting",
    "icing",
    "streusel",
    "syrup",
    "sauce",
    "custard",
    "ganache",
    "sponge",
    "base",
    "cake",
    "caramel",
    "mixture",
    "starter",
    "preferment",
    "poolish",
    "biga",
    "sponge",
    "wash",
    "drizzle",
    "layer",
    "assembly",
    "decoration",
    "garnish",
    "shell",
    "case",
    "crumble",
    "compote",
    "brine",
    "marinade",
    "dressing",
    "cream",
    "roux",
    "meringue",
    "biscuits",
    "soaker",
    "levain",
];

impl<'a> Reader<'a> {
    /// A reader of texts in one locale's measures.
    #[must_use]
    pub fn new(larder: &'a Larder, locale: Locale) -> Self {
        Self {
            larder,
            locale,
            words: Words::new(),
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
        };
        if line.clean.trim().is_empty() {
            return line;
        }
        let clean = std::mem::take(&mut line.clean);
        self.read(&clean, &mut line);
        line.clean = clean;
        line
    }

    fn read(&self, text: &str, line: &mut Line) {
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
        if is_opening(inner) && !self.optional_item(inner) {
            return;
        }
        // 'Egg wash: 1 egg': the label names a component, or the food itself ('Flour: 500 g').
        let mut start = inner_at;
        if let Some((label, rest)) = inner.split_once(':')
            && !label.contains(|c: char| c.is_ascii_digit())
            && label.split_whitespace().count() <= 5
            && rest.chars().any(char::is_alphanumeric)
            && !self.larder.names().is_name(label, self.locale)
            && self.starts_with_amount(rest)
        {
            line.heading = Some(component_name(label));
            start = inner_at + label.len() + 1;
        }
        let mut tokens = Vec::with_capacity(24);
        lex(&text[start..], self.locale, &mut tokens);
        for t in &mut tokens {
            t.start += start;
            t.end += start;
        }
        if self.is_note(&text[start..], &tokens) {
            return;
        }
        line.kind = LineKind::Ingredient;
        let mut walk = Walk {
            text,
            tokens: &tokens,
            words: &self.words,
            at: 0,
        };
        self.items(&mut walk, line);
        self.after(text, line);
    }

    fn starts_with_amount(&self, rest: &str) -> bool {
        let mut tokens = Vec::new();
        lex(rest, self.locale, &mut tokens);
        let mut walk = Walk {
            text: rest,
            tokens: &tokens,
            words: &self.words,
            at: 0,
        };
        walk.amount(Role::Main).is_some()
    }

    /// The component a line names, if it is a heading.
    fn heading(&self, text: &str, marked: bool) -> Option<String> {
        let bare = text.trim_end_matches([':', ' ']);
        let colon = bare.len() < text.trim_end().len();
        let words = bare.split_whitespace().count();
        if words == 0 || words > 9 {
            return None;
        }
        let lower = bare.to_lowercase();
        let for_the = lower.starts_with("for the ") || lower.starts_with("to make the ");
        let digit_first = bare.starts_with(|c: char| c.is_numeric());
        if digit_first {
            return None;
        }
        let amount = bare.contains(|c: char| c.is_numeric()) && !is_numbered_name(bare);
        let without = bare.split('(').next().unwrap_or(bare);
        let amount =
            amount && without.contains(|c: char| c.is_numeric()) && !is_numbered_name(without);
        if amount {
            return None;
        }
        let prose = bare.ends_with(['.', '!', '?'])
            || lower.starts_with("makes ")
            || lower.starts_with("serves ");
        if prose {
            return None;
        }
        let letters = bare.chars().filter(|c| c.is_alphabetic()).count();
        let capitals = letters >= 3 && !bare.chars().any(char::is_lowercase);
        let food = self.larder.names().is_name(bare, self.locale);
        let last = lower
            .split(|c: char| !c.is_alphabetic())
            .rfind(|w| !w.is_empty())
            .unwrap_or("");
        let noun = COMPONENT_NOUNS.contains(&last);
        let single = COMPONENT_NOUNS.contains(&lower.as_str());
        let whole = matches!(
            lower.as_str(),
            "to finish" | "to serve" | "to assemble" | "to decorate" | "to glaze"
        ) || last == "ingredients" && words <= 3;
        let for_purpose = lower.starts_with("for ") && colon;
        let amountless = !lower.contains(" to taste") && !lower.contains(',');
        let is = whole
            || (colon && !bare.contains(": "))
            || for_the && (words <= 6) && amountless
            || for_purpose
            || (marked && !food)
            || (capitals && (!food || single) && amountless && words <= 5)
            || (noun
                && words <= 4
                && (!food || single)
                && amountless
                && !lower.starts_with("the ")
                && !self.refers(&lower));
        is.then(|| component_name(bare))
    }

    /// Whether words use a component rather than name one: 'half the dough'.
    fn refers(&self, lower: &str) -> bool {
        [
            "half ",
            "remaining ",
            "rest ",
            "reserved ",
            "all ",
            "leftover ",
            "a ",
            "one ",
            "of ",
        ]
        .iter()
        .any(|w| lower.starts_with(w))
            || lower.contains(" the ")
            || lower.contains(" of ")
    }

    /// 'Optional: 1 tbsp rum' is an ingredient, 'Optional: serve with cream.' is not.
    fn optional_item(&self, text: &str) -> bool {
        let rest = text
            .get(8..)
            .unwrap_or("")
            .trim_start_matches([':', ' ', '-']);
        text.to_ascii_lowercase().starts_with("optional") && self.starts_with_amount(rest)
    }

    /// Prose, yields and remarks.
    fn is_note(&self, text: &str, tokens: &[Token]) -> bool {
        let trimmed = text.trim();
        let words = tokens.iter().filter(|t| t.kind == Kind::Word).count();
        let begins = {
            let mut walk = Walk {
                text,
                tokens: &[],
                words: &self.words,
                at: 0,
            };
            let mut shifted: Vec<Token> = Vec::new();
            if tokens.first().is_some_and(|t| t.start >= text.len()) || !tokens.is_empty() {
                let base = tokens.first().map_or(0, |t| t.start)
                    - (text.len() - text.trim_start().len())
                        .min(tokens.first().map_or(0, |t| t.start));
                shifted = tokens
                    .iter()
                    .take(6)
                    .map(|t| Token {
                        start: t.start - base,
                        end: t.end - base,
                        ..*t
                    })
                    .collect();
            }
            walk.tokens = &shifted;
            shifted.last().is_none_or(|t| t.end <= text.len()) && walk.amount(Role::Main).is_some()
        };
        if begins {
            return false;
        }
        let sentence = trimmed.ends_with(['.', '!', '?']);
        if sentence && words >= 4 {
            return true;
        }
        words >= 9
            && !tokens.iter().any(|t| {
                matches!(
                    t.kind,
                    Kind::Whole(_) | Kind::Fraction(_) | Kind::Decimal(_)
                )
            })
            && self
                .larder
                .find(trimmed, self.locale)
                .is_none_or(|m| m.span.start > 20)
    }

    /// Reads the items of an ingredient line.
    fn items(&self, walk: &mut Walk<'_>, line: &mut Line) {
        let text = walk.text;
        let mut carried: Option<Vec<Amount>> = None;
        while walk.peek().is_some() && line.items.len() < 8 {
            let back = walk.at;
            let mut amounts = self.amounts(walk);
            let each = self.skip_each(walk);
            if let Some(parts) = self.parts_of(walk, &amounts) {
                line.items.extend(parts);
            } else {
                let (name, end) = self.name_end(walk, &mut amounts);
                if amounts.is_empty()
                    && let Some(c) = carried.clone()
                {
                    amounts = c;
                }
                self.named(text, name, amounts.clone(), each, line);
                walk.at = end;
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
    }

    /// 'each of', 'each': the amount holds for every name that follows.
    fn skip_each(&self, walk: &mut Walk<'_>) -> bool {
        if matches!(walk.word_at(0), Some(Word::Each)) {
            walk.at += 1;
            if matches!(walk.word_at(0), Some(Word::Of)) {
                walk.at += 1;
            }
            return true;
        }
        false
    }

    /// The amounts before the name.
    fn amounts(&self, walk: &mut Walk<'_>) -> Vec<Amount> {
        let mut amounts: Vec<Amount> = Vec::new();
        let Some(mut first) = walk.amount(Role::Main) else {
            // 'an onion'
            if matches!(walk.word_at(0), Some(Word::Article)) && self.is_counted(walk) {
                let t = walk.tokens[walk.at];
                amounts.push(one(t.start..t.end));
                walk.at += 1;
            }
            return amounts;
        };
        if first.bare && (walk.is_word("grains") || walk.is_word("grain")) && first.low < first.high
        {
            // 'few grains salt' is less than can be measured.
            walk.at += 1;
            return amounts;
        }
        // '300 g to 350 g'
        let upper = walk.attempt(|w| {
            let range = matches!(w.word_at(0), Some(Word::To))
                || matches!(w.sign(0), Some('-' | '–' | '—'));
            w.at += 1;
            let a = w.amount(Role::Main)?;
            (range && !a.bare && a.unit == first.unit && a.low > first.high).then_some(a)
        });
        if let Some(a) = upper {
            first.high = a.high;
            first.span.end = a.span.end;
        }
        amounts.push(first);
        self.container(walk, &mut amounts);
        loop {
            let back = walk.at;
            if let Some(c) = walk.sign(0) {
                match c {
                    '(' | '[' => {
                        if !self.bracket(walk, &mut amounts) {
                            break;
                        }
                        self.container(walk, &mut amounts);
                        continue;
                    }
                    '/' | '|' | '=' | ',' | '+' | '–' | '—' | '-' | ';' | '•' => {
                        walk.at += 1;
                        let role = if c == '+' { Role::Plus } else { Role::Twin };
                        if let Some(a) = walk.amount(role).filter(|a| !a.bare) {
                            self.join(walk, a, &mut amounts);
                            continue;
                        }
                        walk.at = back;
                        break;
                    }
                    _ => break,
                }
            }
            match walk.word_at(0) {
                Some(Word::Plus) => {
                    walk.at += 1;
                    if let Some(a) = walk.amount(Role::Plus).filter(|a| !a.bare) {
                        amounts.push(a);
                        continue;
                    }
                }
                Some(Word::And) => {
                    walk.at += 1;
                    if let Some(a) = walk.amount(Role::Plus).filter(is_measured) {
                        amounts.push(a);
                        continue;
                    }
                }
                Some(Word::Or) => {
                    walk.at += 1;
                    if let Some(a) = walk.amount(Role::Twin).filter(is_measured) {
                        amounts.push(a);
                        continue;
                    }
                }
                Some(Word::Minus) => {
                    walk.at += 1;
                    if let Some(a) = walk.amount(Role::Plus).filter(is_measured)
                        && let Some(last) = amounts.last_mut()
                        && subtract(last, &a, self.locale)
                    {
                        last.span.end = a.span.end;
                        continue;
                    }
                }
                _ => {
                    // '1 lb 4 oz'; and '225g 8oz' is a twin.
                    if let Some(a) = walk
                        .amount(Role::Plus)
                        .filter(|a| is_measured(a) && a.low != 1.0 || !a.bare && is_measured(a))
                    {
                        let first = amounts.last().and_then(|f| f.unit);
                        if continues(first, a.unit, self.locale)
                            && !same_amount(amounts.last(), &a, self.locale)
                        {
                            amounts.push(a);
                            continue;
                        }
                        if first.is_some()
                            && a.unit.is_some()
                            && a.span.len() > 1
                            && starts_with_digit(walk.text, &a)
                        {
                            amounts.push(Amount {
                                role: Role::Twin,
                                ..a
                            });
                            continue;
                        }
                    }
                }
            }
            walk.at = back;
            break;
        }
        amounts
    }

    /// Whether the words behind an article name something that is counted.
    fn is_counted(&self, walk: &Walk<'_>) -> bool {
        let Some(t) = walk.ahead(1) else { return false };
        let part = walk.text[t.start..]
            .split([',', ';', '('])
            .next()
            .unwrap_or("");
        self.larder.find(part, self.locale).is_some_and(|m| {
            m.certainty == Certainty::Sure
                && self
                    .larder
                    .weigh(m.food, Unit::Count, None, larder::State::Usual, self.locale)
                    .is_some()
        })
    }

    /// Puts a further amount in place: a size when a container follows, else as it is.
    fn join(&self, walk: &mut Walk<'_>, a: Amount, amounts: &mut Vec<Amount>) {
        amounts.push(a);
        self.container(walk, amounts);
    }

    /// After '2 (14-ounce)', '2 x 400 g', '1 8-oz' or '7g': a can or packet makes the weight a
    /// size and the number its count.
    fn container(&self, walk: &mut Walk<'_>, amounts: &mut Vec<Amount>) {
        if matches!(walk.word_at(0), Some(Word::Times))
            || walk.sign(0) == Some('×')
            || walk.sign(0) == Some('*')
        {
            let found = walk.attempt(|w| {
                w.at += 1;
                w.amount(Role::Size)
            });
            if let (Some(size), Some(first)) = (found.filter(|a| !a.bare), amounts.last_mut())
                && first.bare
            {
                first.bare = false;
                first.unit = Some(Unit::Count);
                amounts.push(size);
            }
        }
        if amounts.len() == 1 && amounts[0].bare && amounts[0].low.fract() == 0.0 {
            // '1 14-oz can', '1 #2 can', 'two 15-ounce cans'.
            let found = walk.attempt(|w| {
                if w.sign(0) == Some('#') {
                    w.at += 2;
                    return matches!(w.word_at(0), Some(Word::Unit(u)) if is_container(u.unit))
                        .then_some(None);
                }
                let a = w.amount(Role::Size).filter(is_measured)?;
                matches!(w.word_at(0), Some(Word::Unit(u)) if is_container(u.unit))
                    .then_some(Some(a))
            });
            if let Some(size) = found {
                amounts.extend(size);
            }
        } else if amounts.len() == 1 && amounts[0].bare && amounts[0].low.fract() != 0.0 {
            // 'half a 400 g tin'.
            let found = walk.attempt(|w| {
                if matches!(w.word_at(0), Some(Word::Article)) {
                    w.at += 1;
                }
                let a = w.amount(Role::Size).filter(is_measured)?;
                matches!(w.word_at(0), Some(Word::Unit(u)) if is_container(u.unit)).then_some(a)
            });
            amounts.extend(found);
        }
        let Some(Word::Unit(u)) = walk.word_at(0) else {
            return;
        };
        if !is_container(u.unit) || amounts.is_empty() {
            return;
        }
        let measured = amounts.iter().any(is_measured);
        let counted = amounts
            .iter()
            .any(|a| a.bare || a.unit == Some(Unit::Count));
        if !measured && !counted {
            return;
        }
        // A block of butter by weight keeps its weight; '400g tin' is one tin.
        walk.at += 1;
        if walk.sign(0) == Some('.') {
            walk.at += 1;
        }
        let end = walk.behind();
        if counted {
            for a in amounts.iter_mut() {
                if a.bare || a.unit == Some(Unit::Count) {
                    a.bare = false;
                    a.unit = u.unit;
                } else if is_measured(a) {
                    a.role = Role::Size;
                }
            }
        } else {
            let span = end - 1..end;
            for a in amounts.iter_mut().filter(|a| is_measured(a)) {
                a.role = Role::Size;
            }
            let one = Amount {
                low: 1.0,
                high: 1.0,
                unit: u.unit,
                role: Role::Main,
                span,
                ..amounts[0].clone()
            };
            amounts.insert(0, one);
        }
    }

    /// Amounts in brackets. `false` leaves the bracket to the name.
    fn bracket(&self, walk: &mut Walk<'_>, amounts: &mut Vec<Amount>) -> bool {
        let inner = walk.attempt(|w| {
            w.at += 1;
            if matches!(w.word_at(0), Some(Word::Or)) {
                return None;
            }
            let mut found: Vec<Amount> = Vec::new();
            let mut each = false;
            loop {
                match w.sign(0) {
                    Some(')' | ']') => {
                        w.at += 1;
                        break;
                    }
                    Some('/' | ',' | ';' | '|' | '=' | '.') => w.at += 1,
                    _ if matches!(w.word_at(0), Some(Word::Or | Word::And)) => w.at += 1,
                    _ if matches!(w.word_at(0), Some(Word::Each)) => {
                        each = true;
                        w.at += 1;
                    }
                    _ if matches!(w.word_at(0), Some(Word::Plus)) => {
                        w.at += 1;
                        let a = w.amount(Role::Plus)?;
                        // '(1 cup plus 2 tbsp)' is one twin in two parts.
                        found.push(a);
                    }
                    Some(_) => return None,
                    None => {
                        w.peek()?;
                        if let Some(a) = w.amount(Role::Twin) {
                            // '(2 cm)', '(70%)' are no amounts.
                            if a.bare && w.peek().is_some() && !matches!(w.sign(0), Some(')' | ']'))
                            {
                                return None;
                            }
                            found.push(a);
                        } else if found.is_empty() {
                            return None;
                        } else {
                            // '(50 g out of shell)', '(about 3)': words behind the amount.
                            while !matches!(w.sign(0), Some(')' | ']') | None)
                                || w.peek().is_some() && w.sign(0).is_none()
                            {
                                w.at += 1;
                            }
                        }
                    }
                }
            }
            if found.iter().all(|a| a.bare) && !found.is_empty() {
                // '(about 3)' counts pieces when the main amount is a weight.
                for a in &mut found {
                    a.bare = false;
                    a.unit = Some(Unit::Count);
                }
            }
            (!found.is_empty() && found.len() <= 6).then_some((found, each))
        });
        let Some((mut found, each)) = inner else {
            return false;
        };
        let main = amounts.first();
        let containerish = main.is_some_and(|m| is_container(m.unit)) || each;
        let one_container = main.is_some_and(|m| is_container(m.unit));
        if containerish {
            for a in found.iter_mut().filter(|a| is_measured(a)) {
                if one_container || each {
                    a.role = Role::Size;
                }
            }
        }
        if main.is_some_and(is_measured) {
            found.retain(|a| a.unit != Some(Unit::Count) || a.low < 100.0);
        }
        amounts.extend(found);
        true
    }

    /// 'juice of 1 lemon', 'whites of 3 eggs', 'zest and juice of 1 lime'.
    fn parts_of(&self, walk: &mut Walk<'_>, before: &[Amount]) -> Option<Vec<Item>> {
        const PARTS: [&str; 10] = [
            "juice", "zest", "rind", "peel", "white", "whites", "yolk", "yolks", "seeds", "pulp",
        ];
        let text = walk.text;
        let larder = self.larder;
        let locale = self.locale;
        walk.attempt(|w| {
            let start = w.peek()?.start;
            if before.iter().any(is_measured) {
                return None;
            }
            let mut parts: Vec<&str> = Vec::new();
            let (mut steps, mut of) = (0, false);
            loop {
                let t = w.peek()?;
                if t.kind != Kind::Word {
                    if matches!(t.kind, Kind::Sign('&' | ',')) && !parts.is_empty() {
                        w.at += 1;
                        continue;
                    }
                    break;
                }
                let lower = w.str(t).to_ascii_lowercase();
                if let Some(p) = PARTS.iter().find(|p| **p == lower) {
                    parts.push(p);
                } else if matches!(lower.as_str(), "of" | "from") && !parts.is_empty() {
                    of = true;
                    w.at += 1;
                    break;
                } else if !matches!(
                    lower.as_str(),
                    "the"
                        | "finely"
                        | "freshly"
                        | "grated"
                        | "strained"
                        | "squeezed"
                        | "and"
                        | "fresh"
                ) {
                    // 'yolks 6 eggs' and 'grated rind ½ lemon' leave out the 'of'.
                    break;
                }
                w.at += 1;
                steps += 1;
                if steps > 8 {
                    return None;
                }
            }
            if parts.is_empty() {
                return None;
            }
            let mut amount = match w.amount(Role::Main) {
                Some(a) if a.unit.is_none() || a.unit == Some(Unit::Count) => a,
                Some(_) => return None,
                None => {
                    // 'juice of a lemon', 'juice of lemon'
                    let t = w.peek()?;
                    let article = matches!(w.word_at(0), Some(Word::Article));
                    w.at += usize::from(article);
                    if !of || !article && before.is_empty() {
                        return None;
                    }
                    before
                        .first()
                        .cloned()
                        .unwrap_or_else(|| one(t.start..t.end))
                }
            };
            if matches!(w.word_at(0), Some(Word::Article)) {
                w.at += 1;
            }
            amount.unit = Some(Unit::Count);
            amount.bare = false;
            let from = w.peek()?.start;
            let rest_end = text[from..]
                .find([',', ';', '('])
                .map_or(text.len(), |i| from + i);
            let whole = larder.find(&text[from..rest_end], locale)?;
            let noun = &larder.food(whole.food).name;
            let span_end = from + whole.span.end;
            while w.peek().is_some() {
                w.at += 1;
            }
            parts
                .iter()
                .map(|p| {
                    let p = match *p {
                        "rind" | "peel" => "zest",
                        "whites" => "white",
                        "yolks" => "yolk",
                        other => other,
                    };
                    let found = larder.find(&format!("{noun} {p}"), locale)?;
                    Some(Item {
                        amounts: vec![amount.clone()],
                        name: start..span_end,
                        food: Some(Match {
                            span: start..span_end,
                            ..found
                        }),
                        alternatives: Vec::new(),
                        qualities: larder.names().qualities(&text[from..]),
                        purpose: Purpose::Formula,
                        reference: None,
                        optional: false,
                    })
                })
                .collect()
        })
    }

    /// Where the name ends: at the end of the line or where another amount with its own name
    /// begins. Twins and sizes inside the name are taken out. Returns the name's bytes and the
    /// token to go on from.
    fn name_end(&self, walk: &mut Walk<'_>, amounts: &mut Vec<Amount>) -> (Range<usize>, usize) {
        let text = walk.text;
        let start = walk.peek().map_or(text.len(), |t| t.start);
        let first = walk.at;
        let mut end = text.trim_end().len();
        let mut stop = walk.tokens.len();
        let mut depth = 0;
        while let Some(t) = walk.peek() {
            let at = walk.at;
            match t.kind {
                Kind::Sign('(' | '[') => {
                    if self.bracket(walk, amounts) {
                        if let Some(first) = amounts.first_mut().filter(|a| a.role != Role::Main) {
                            // 'butter (113 g)': the only amount stands in brackets.
                            first.role = Role::Main;
                        }
                        continue;
                    }
                    depth += 1;
                }
                Kind::Sign(')' | ']') => depth -= 1,
                Kind::Sign(',' | ';' | '–' | '—' | '-' | ':' | '=' | '|' | '/' | '.')
                    if depth <= 0 && at > first =>
                {
                    // ', 125 g' is a twin; ', 1 tsp salt' another item; ', or 1 cup' a choice.
                    walk.at += 1;
                    if matches!(walk.word_at(0), Some(Word::Or)) {
                        continue;
                    }
                    while matches!(walk.word_at(0), Some(Word::And)) {
                        walk.at += 1;
                    }
                    let plus = matches!(walk.word_at(0), Some(Word::Plus));
                    if plus {
                        walk.at += 1;
                    }
                    if let Some(a) = walk.amount(if plus { Role::Plus } else { Role::Twin }) {
                        if self.follows_name(walk, &a)
                            && !plus
                            && amounts.iter().any(|a| !a.bare || a.low > 0.0)
                        {
                            end = t.start;
                            stop = at;
                            break;
                        }
                        self.take_inside(walk, a, amounts);
                        if plus {
                            end = end.min(t.start);
                        }
                        continue;
                    }
                    walk.at = at;
                }
                Kind::Word if depth <= 0 && at > first => match walk.word_at(0) {
                    Some(Word::Plus) => {
                        walk.at += 1;
                        if let Some(a) = walk.amount(Role::Plus) {
                            self.take_inside(walk, a, amounts);
                            end = end.min(t.start);
                            continue;
                        }
                        walk.at = at;
                    }
                    Some(Word::Or) => {
                        // 'or 1¾ cups sweet milk': the amount of another choice.
                        walk.at += 1;
                        if walk
                            .amount(Role::Twin)
                            .is_some_and(|a| self.follows_name(walk, &a))
                        {
                            stop = walk.tokens.len();
                            break;
                        }
                        walk.at = at;
                    }
                    Some(Word::And) => {
                        walk.at += 1;
                        if let Some(a) = walk.amount(Role::Main)
                            && (!a.bare || self.follows_name(walk, &a))
                            && starts_with_digit(text, &a)
                        {
                            end = t.start;
                            stop = at;
                            break;
                        }
                        walk.at = at;
                    }
                    Some(Word::Each) if amounts.len() == 1 => {}
                    _ => {}
                },
                Kind::Whole(_) | Kind::Decimal(_) | Kind::Fraction(_)
                    if depth <= 0 && at > first =>
                {
                    let previous = walk.tokens[at - 1];
                    let word = text[previous.start..previous.end].to_ascii_lowercase();
                    let about_it = matches!(
                        word.as_str(),
                        "into"
                            | "with"
                            | "in"
                            | "at"
                            | "type"
                            | "t"
                            | "note"
                            | "about"
                            | "of"
                            | "for"
                            | "size"
                            | "approx"
                            | "until"
                            | "per"
                            | "no"
                            | "after"
                            | "within"
                            | "step"
                            | "or"
                    );
                    if !about_it {
                        if let Some(a) = walk.amount(Role::Twin) {
                            if amounts.is_empty() {
                                amounts.push(Amount {
                                    role: Role::Main,
                                    ..a
                                });
                                self.container(walk, amounts);
                                continue;
                            }
                            if !a.bare && is_measured(&a) {
                                amounts.push(a);
                                continue;
                            }
                        }
                        walk.at = at;
                    }
                }
                Kind::Sign('+') if depth <= 0 && at > first => {
                    walk.at += 1;
                    if let Some(a) = walk.amount(Role::Plus) {
                        self.take_inside(walk, a, amounts);
                        end = end.min(t.start);
                        continue;
                    }
                    walk.at = at;
                }
                _ => {}
            }
            walk.at = at + 1;
        }
        walk.at = first;
        (start.min(end)..end, stop)
    }

    /// Whether the words behind an amount name a food of their own.
    fn follows_name(&self, walk: &Walk<'_>, amount: &Amount) -> bool {
        let from = walk.behind().max(amount.span.end);
        let rest = &walk.text[from..];
        let part = rest.split([',', ';', '(']).next().unwrap_or(rest);
        let lower = part.trim_start().to_ascii_lowercase();
        if lower.starts_with("for ")
            || lower.starts_with("extra")
            || lower.starts_with("more")
            || lower.is_empty()
        {
            return false;
        }
        self.larder
            .find(part, self.locale)
            .is_some_and(|m| m.certainty == Certainty::Sure)
    }

    /// An amount inside the name: a twin, a size, or a plus with its own food or purpose.
    fn take_inside(&self, walk: &mut Walk<'_>, mut a: Amount, amounts: &mut Vec<Amount>) {
        let rest = &walk.text[a.span.end.max(walk.behind())..];
        let part = rest.split([',', ';', '(']).next().unwrap_or(rest);
        if a.role == Role::Plus {
            let lower = part.to_ascii_lowercase();
            a.aside = lower.trim_start().starts_with("for ")
                || lower.trim_start().starts_with("to ")
                || lower.trim_start().starts_with("extra")
                || lower.trim_start().starts_with("more");
            if !a.aside
                && let Some(m) = self.larder.find(part, self.locale)
            {
                a.of = Some(m.food);
                if a.bare {
                    a.bare = false;
                    a.unit = Some(Unit::Count);
                }
            }
        } else if a.bare {
            // 'cut into 3': no amount.
            return;
        }
        if amounts.is_empty() {
            a.role = Role::Main;
        }
        amounts.push(a);
        if amounts.len() == 1 {
            self.container(walk, amounts);
        }
    }

    /// Makes the item (or items) of a name.
    fn named(
        &self,
        text: &str,
        name: Range<usize>,
        amounts: Vec<Amount>,
        each: bool,
        line: &mut Line,
    ) {
        let name = trim_name(text, name);
        if name.is_empty() && amounts.is_empty() {
            return;
        }
        // The name without the amounts inside it, same length so that spans hold.
        let mut scratch = text[name.clone()].to_owned();
        for a in amounts
            .iter()
            .filter(|a| a.span.start >= name.start && a.span.end <= name.end)
        {
            let inside = a.span.start - name.start..a.span.end - name.start;
            scratch.replace_range(inside.clone(), &" ".repeat(inside.len()));
        }
        if each || scratch.to_ascii_lowercase().contains(" each") {
            let split: Vec<Range<usize>> = split_list(&scratch);
            if split.len() > 1
                && split
                    .iter()
                    .all(|r| self.larder.find(&scratch[r.clone()], self.locale).is_some())
            {
                for r in split {
                    let piece = name.start + r.start..name.start + r.end;
                    let item = self.item(text, &scratch[r], piece, amounts.clone(), line);
                    line.items.push(item);
                }
                return;
            }
        }
        if let Some((left, right)) = split_and(&scratch) {
            let whole = self.larder.find(&scratch, self.locale);
            let l = self.larder.find(&scratch[left.clone()], self.locale);
            let r = self.larder.find(&scratch[right.clone()], self.locale);
            if let (Some(l), Some(r)) = (&l, &r)
                && l.food != r.food
                && whole.is_none_or(|w| w.span.end <= left.end || w.span.start >= right.start)
                && r.certainty != Certainty::Near
                && !self.larder.names().is_remark(&scratch[right.clone()])
                && !self.larder.names().is_remark(&scratch[left.clone()])
                && starts_with_food(&scratch[right.clone()], r)
            {
                let shared = !amounts.is_empty();
                let a = name.start + left.start..name.start + left.end;
                let b = name.start + right.start..name.start + right.end;
                let first = self.item(text, &scratch[left], a, amounts.clone(), line);
                let second = self.item(text, &scratch[right], b, Vec::new(), line);
                if shared {
                    line.doubts.push(
                        Doubt::new(
                            DoubtCode::SharedAmount,
                            format!(
                                "one amount stands before '{}' and '{}': it is counted for the first; give each its own",
                                &text[first.name.clone()], &text[second.name.clone()]
                            ),
                        )
                        .at(name),
                    );
                }
                line.items.push(first);
                line.items.push(second);
                return;
            }
        }
        let item = self.item(text, &scratch, name, amounts, line);
        line.items.push(item);
    }

    fn item(
        &self,
        text: &str,
        words: &str,
        name: Range<usize>,
        mut amounts: Vec<Amount>,
        line: &mut Line,
    ) -> Item {
        // ASCII only: places in it are places in the words.
        let lower = words.to_ascii_lowercase();
        let larder = self.larder;
        let mut alternatives = Vec::new();
        let shift = |m: Match| Match {
            span: name.start + m.span.start..name.start + m.span.end,
            unknown: m
                .unknown
                .iter()
                .map(|r| name.start + r.start..name.start + r.end)
                .collect(),
            ..m
        };
        let reference = self.reference(&lower, &name, &amounts);
        let mut food = None;
        if reference.is_none() {
            food = larder.find(words, self.locale);
            if let Some((at, skip)) = find_or(&lower)
                && at <= words.len()
            {
                let (a, b) = (&words[..at], &words[(at + skip).min(words.len())..]);
                let left = larder.find(a, self.locale);
                let right = larder.find(b, self.locale);
                let whole_holds_or = food
                    .as_ref()
                    .is_some_and(|m| m.span.start < at && m.span.end > at);
                if !whole_holds_or {
                    match (left, right) {
                        (Some(l), Some(r)) if l.food != r.food => {
                            alternatives.push(r.food);
                            food = Some(l);
                        }
                        (Some(l), _) => food = Some(l),
                        (None, Some(r)) => {
                            // 'dark or milk chocolate': the left word with the right one's head.
                            let head = b[r.span.clone()].split_whitespace().last().unwrap_or("");
                            let joined = larder.find(&format!("{} {head}", a.trim()), self.locale);
                            match joined
                                .filter(|j| j.certainty == Certainty::Sure && j.food != r.food)
                            {
                                Some(j) => {
                                    alternatives.push(r.food);
                                    food = Some(Match {
                                        span: 0..words.len(),
                                        ..j
                                    });
                                }
                                None => {
                                    food = Some(Match {
                                        span: at + skip + r.span.start..at + skip + r.span.end,
                                        unknown: Vec::new(),
                                        ..r
                                    });
                                }
                            }
                        }
                        (None, None) => {}
                    }
                }
                if !alternatives.is_empty() {
                    let (l, r) = (food.as_ref().map(|m| m.food), alternatives.first());
                    line.doubts.push(
                        Doubt::new(
                            DoubtCode::Alternative,
                            format!(
                                "'{}' offers a choice: {} is counted, {} is screened too",
                                words.trim(),
                                l.map_or("", |f| larder.food(f).name.as_str()),
                                r.map_or("", |f| larder.food(*f).name.as_str()),
                            ),
                        )
                        .at(name.clone()),
                    );
                }
            }
        }
        // '1 lemon, juice only', '6 eggs, whites only'.
        if let Some(m) = &food {
            let counted = amounts
                .iter()
                .any(|a| a.bare || a.unit == Some(Unit::Count));
            for (say, part) in [
                ("juice only", "juice"),
                ("juiced", "juice"),
                ("zest only", "zest"),
                ("zested", "zest"),
                ("rind only", "zest"),
                ("whites only", "white"),
                ("white only", "white"),
                ("yolks only", "yolk"),
                ("yolk only", "yolk"),
            ] {
                let both = lower.contains("zest") && lower.contains("juice");
                if counted && lower.contains(say) && !both {
                    let noun = words[m.span.clone()].to_owned();
                    if let Some(f) = larder.find(&format!("{noun} {part}"), self.locale)
                        && f.certainty == Certainty::Sure
                    {
                        food = Some(Match {
                            span: m.span.clone(),
                            ..f
                        });
                    }
                    break;
                }
            }
        }
        // '3 garlic cloves', '4 bacon rashers', '2 rosemary sprigs': the piece behind the name.
        if let (Some(m), Some(a)) = (&food, amounts.iter_mut().find(|a| a.bare)) {
            let behind = words[m.span.end.min(words.len())..].trim_start();
            let inside = words[m.span.clone()]
                .split_whitespace()
                .last()
                .unwrap_or("");
            for word in [
                behind
                    .split(|c: char| !c.is_alphabetic())
                    .next()
                    .unwrap_or(""),
                inside,
            ] {
                if let Some(Word::Unit(u)) = self.words.get(&word.to_ascii_lowercase())
                    && matches!(u.unit, Some(Unit::Clove | Unit::Slice | Unit::Sprig))
                    && larder
                        .measure(m.food, u.unit.map_or("", Unit::code), larder::State::Usual)
                        .is_some()
                {
                    a.unit = u.unit;
                    a.bare = false;
                    break;
                }
            }
        }
        let piece_food = food.as_ref().map(|m| m.food);
        for a in amounts.iter_mut().filter(|a| a.bare) {
            let counted = match piece_food {
                Some(f) => {
                    larder
                        .weigh(f, Unit::Count, None, larder::State::Usual, self.locale)
                        .is_some()
                        || larder.measures(f).is_empty()
                }
                None => reference.is_none() && a.low.fract() == 0.0,
            };
            if counted {
                a.unit = Some(Unit::Count);
            }
            a.bare = !counted;
        }
        let purpose = purpose_of(&lower);
        Item {
            amounts,
            qualities: larder.names().qualities(words),
            food: food.map(shift),
            alternatives,
            purpose,
            reference,
            optional: lower.contains("optional")
                || text.to_ascii_lowercase().starts_with("optional"),
            name,
        }
    }

    /// A use of another component.
    fn reference(&self, lower: &str, name: &Range<usize>, amounts: &[Amount]) -> Option<Reference> {
        let mut rest = lower.trim_start();
        let mut share = None;
        let mut determined = false;
        let strip = |s: &mut &str, p: &str| {
            let hit = s.strip_prefix(p).map(str::trim_start);
            if let Some(r) = hit {
                *s = r;
            }
            hit.is_some()
        };
        for (word, is) in [
            ("remaining ", Share::Rest),
            ("the remaining ", Share::Rest),
            ("rest of ", Share::Rest),
            ("the rest of ", Share::Rest),
            ("leftover ", Share::Rest),
            ("reserved ", Share::Rest),
            ("the reserved ", Share::Rest),
            ("all of ", Share::Part(1.0)),
            ("all the ", Share::Part(1.0)),
            ("all ", Share::Part(1.0)),
        ] {
            if strip(&mut rest, word) {
                share = Some(is);
                determined = true;
                break;
            }
        }
        let of = strip(&mut rest, "of ");
        let the = strip(&mut rest, "the ");
        determined |= the;
        let loose = amounts.iter().any(|a| {
            matches!(
                a.loose.as_deref(),
                Some("batch" | "quantity" | "recipe" | "portion" | "batches")
            )
        });
        determined |= loose;
        let part = amounts.iter().any(|a| a.unit.is_none() && a.low < 1.0);
        if !(determined || of && part) {
            return None;
        }
        let noun = rest.split([',', '(', ';']).next().unwrap_or(rest).trim();
        let noun = noun.split(" from ").next().unwrap_or(noun);
        let noun = noun.split(" for ").next().unwrap_or(noun).trim();
        let component = noun
            .split_whitespace()
            .any(|w| COMPONENT_NOUNS.contains(&w));
        // 'the butter' is butter, unless this recipe has such a component; 'the crumbs' is one.
        let food = self.larder.names().is_name(noun, self.locale);
        if noun.is_empty()
            || (!component && food)
            || (!component && !loose && self.larder.find(noun, self.locale).is_some())
        {
            return None;
        }
        let share = share.unwrap_or_else(|| match amounts.first() {
            Some(a) if loose => Share::Part(a.middle()),
            Some(a) if a.unit.is_none() => Share::Part(a.middle()),
            Some(_) => Share::Amount,
            None => Share::Part(1.0),
        });
        let at = lower.find(noun).unwrap_or(0);
        let span = name.start + at..(name.start + at + noun.len()).min(name.end);
        Some(Reference {
            name: noun.to_owned(),
            share,
            span,
        })
    }

    /// Doubts that need the whole line.
    fn after(&self, text: &str, line: &mut Line) {
        let mut doubts = Vec::new();
        if line.items.is_empty() {
            line.kind = LineKind::Note;
            return;
        }
        if line.items.len() > 1 {
            doubts.push(Doubt::new(
                DoubtCode::TwoOnLine,
                format!(
                    "{} ingredients stand on one line: check that each has its amount",
                    line.items.len()
                ),
            ));
        }
        for item in &line.items {
            let shown = text.get(item.name.clone()).unwrap_or_default().trim();
            for a in &item.amounts {
                self.amount_doubts(text, a, item, &mut doubts);
            }
            match (&item.food, &item.reference) {
                (None, None) => doubts.push(
                    Doubt::new(
                        DoubtCode::UnknownIngredient,
                        if shown.is_empty() {
                            "no ingredient is named: write what the amount is of".to_owned()
                        } else {
                            format!("'{shown}' is not in the larder: it stays unweighed; check its label for gluten")
                        },
                    )
                    .at(item.name.clone()),
                ),
                (Some(m), _) => self.match_doubt(text, m, &mut doubts),
                _ => {}
            }
            let lower = shown.to_ascii_lowercase();
            let whole = text.to_ascii_lowercase();
            if item.amounts.is_empty() && item.reference.is_none() {
                let code = if lower.contains("taste")
                    || lower.contains("needed")
                    || whole.contains("to taste")
                {
                    DoubtCode::ToTaste
                } else {
                    DoubtCode::NoAmount
                };
                doubts.push(
                    Doubt::new(
                        code,
                        format!("no amount stands with '{shown}': it is not weighed"),
                    )
                    .at(item.name.clone()),
                );
            }
            if item.purpose != Purpose::Formula {
                doubts.push(Doubt::new(
                    DoubtCode::NotInFormula,
                    format!("'{shown}' is for dusting, the pan or serving: screened, but not counted in the formula"),
                ));
            }
            if item.optional {
                doubts.push(Doubt::new(
                    DoubtCode::Optional,
                    format!("'{shown}' is optional: it is counted and screened"),
                ));
            }
        }
        line.doubts.extend(doubts);
    }

    fn match_doubt(&self, text: &str, m: &Match, doubts: &mut Vec<Doubt>) {
        let name = |f: FoodId| self.larder.food(f).name.as_str();
        let words: Vec<&str> = m
            .unknown
            .iter()
            .filter_map(|r| text.get(r.clone()))
            .collect();
        let doubt = match m.certainty {
            Certainty::Sure => return,
            Certainty::Partly => Doubt::new(
                DoubtCode::NamePartlyKnown,
                format!(
                    "read as {}; '{}' is not understood",
                    name(m.food),
                    words.join(", ")
                ),
            ),
            Certainty::Tie => {
                let others: Vec<&str> = m.rivals.iter().map(|f| name(*f)).collect();
                Doubt::new(
                    DoubtCode::NameTie,
                    format!(
                        "could be {} or {}: say which",
                        name(m.food),
                        others.join(" or ")
                    ),
                )
            }
            Certainty::Near => Doubt::new(
                DoubtCode::NameNear,
                format!(
                    "'{}' is not known; read as {}",
                    words.join(", "),
                    name(m.food)
                ),
            ),
        };
        doubts.push(doubt.at(m.span.clone()));
    }

    fn amount_doubts(&self, text: &str, a: &Amount, item: &Item, doubts: &mut Vec<Doubt>) {
        let shown = text.get(a.span.clone()).unwrap_or_default().trim();
        let mut say =
            |code, message: String| doubts.push(Doubt::new(code, message).at(a.span.clone()));
        if !a.low.is_finite()
            || !a.high.is_finite()
            || a.high > MOST
            || a.high <= 0.0
            || a.low < 0.0
        {
            say(
                DoubtCode::ImpossibleNumber,
                format!(
                    "'{shown}' is no amount that can be measured: write a number above 0 and below 100,000"
                ),
            );
        }
        if a.backward {
            say(
                DoubtCode::BackwardRange,
                format!("'{shown}' runs from high to low: read as the range between"),
            );
        }
        if a.old_millilitres.is_some() {
            say(
                DoubtCode::OldMeasure,
                format!("'{shown}' is an old measure: books differ about its size"),
            );
        } else if let Some(loose) = &a.loose
            && item.reference.is_none()
        {
            say(
                DoubtCode::LooseMeasure,
                format!("'{loose}' has no fixed size: weigh it once and write the grams"),
            );
        }
        if a.filling != Filling::Level {
            say(
                DoubtCode::LooseFilling,
                format!("'{shown}': how full differs from hand to hand; the range is wider"),
            );
        }
        if a.bare && item.reference.is_none() && a.unit.is_none() && a.loose.is_none() {
            say(
                DoubtCode::MissingUnit,
                format!("'{shown}' has no unit: write grams, cups or pieces"),
            );
        }
        if a.unit == Some(Unit::Oz)
            && a.role != Role::Size
            && let Some(m) = &item.food
            && self.larder.food(m.food).density.is_some()
            && !item
                .amounts
                .iter()
                .any(|o| matches!(o.unit, Some(Unit::G | Unit::Ml | Unit::FlOz)))
        {
            say(
                DoubtCode::OunceOfLiquid,
                format!("'{shown}' of a liquid: read as weight; many books mean fluid ounces"),
            );
        }
        if a.unit == Some(Unit::Tbsp)
            && shown.ends_with('T')
            && !text.contains(|c: char| c.is_lowercase())
        {
            say(
                DoubtCode::SpoonLetter,
                format!("'{shown}' in capitals could be table- or teaspoons: read as tablespoons"),
            );
        }
        if is_container(a.unit)
            && a.role == Role::Main
            && !item.amounts.iter().any(|o| o.role == Role::Size)
        {
            let known = item.food.as_ref().is_some_and(|m| {
                self.larder
                    .weigh(
                        m.food,
                        Unit::Packet,
                        None,
                        larder::State::Usual,
                        self.locale,
                    )
                    .is_some()
                    && a.unit == Some(Unit::Packet)
            });
            if !known && !item.amounts.iter().any(|o| o.role == Role::Twin) {
                say(
                    DoubtCode::SizeOnLabel,
                    format!("'{shown}': its size is on the label; write it in brackets"),
                );
            }
        }
    }
}

/// One of something, for an article.
fn one(span: Range<usize>) -> Amount {
    Amount {
        low: 1.0,
        high: 1.0,
        unit: None,
        role: Role::Main,
        filling: Filling::Level,
        old_millilitres: None,
        loose: None,
        locale: None,
        of: None,
        bare: true,
        backward: false,
        aside: false,
        span,
    }
}

/// Whether a line begins with a word that no ingredient begins with.
fn is_opening(text: &str) -> bool {
    const OPENINGS: [&str; 26] = [
        "makes", "serves", "yield", "yields", "note", "notes", "tip", "tips", "adapted", "source",
        "preheat", "heat", "bake", "prep", "cook", "recipe", "optional", "adjust", "oven", "our",
        "you", "we", "tin", "pan", "total", "time",
    ];
    let first: String = text
        .trim()
        .chars()
        .take_while(|c| c.is_alphabetic())
        .flat_map(char::to_lowercase)
        .collect();
    let known = OPENINGS.contains(&first.as_str());
    known && !(first == "tin" && text[3..].trim_start().starts_with("of "))
}

/// Takes a bullet, a number or a tick box off. Returns where the text begins and whether the
/// line was marked as a heading by '#' or '='.
fn strip_bullet(text: &str) -> (usize, bool) {
    let mut at = text.len() - text.trim_start().len();
    let mut marked = false;
    loop {
        let rest = &text[at..];
        let Some(c) = rest.chars().next() else { break };
        let next = rest[c.len_utf8()..].chars().next();
        let bullet = matches!(
            c,
            '•' | '·'
                | '◦'
                | '▪'
                | '■'
                | '□'
                | '☐'
                | '☑'
                | '☒'
                | '✓'
                | '✔'
                | '►'
                | '▢'
                | '▸'
                | '‣'
                | '●'
                | '○'
                | '>'
                | '†'
                | '‡'
        ) || (matches!(c, '-' | '–' | '—' | '+')
            && next.is_some_and(char::is_whitespace))
            || (c == '*' && next != Some('*'));
        if bullet {
            at += c.len_utf8();
        } else if c == '#' && next.is_some_and(|n| n == '#' || n.is_whitespace()) || c == '=' {
            at += c.len_utf8();
            marked = true;
        } else if let Some(r) = rest
            .strip_prefix("[ ]")
            .or(rest.strip_prefix("[x]"))
            .or(rest.strip_prefix("[]"))
        {
            at = text.len() - r.len();
        } else if let Some(n) = list_number(rest) {
            at += n;
        } else {
            break;
        }
        at += text[at..].len() - text[at..].trim_start().len();
    }
    (at, marked)
}

/// Bytes of a list number '1. ' or '2) ' before something else than a unit.
pub(crate) fn list_number(text: &str) -> Option<usize> {
    let digits = text.bytes().take_while(u8::is_ascii_digit).count();
    if digits == 0 || digits > 2 {
        return None;
    }
    let rest = &text[digits..];
    let mark = rest.starts_with(['.', ')']);
    (mark && rest[1..].starts_with([' ', '\t', '\u{a0}']) && rest.trim().len() > 2)
        .then_some(digits + 1)
}

/// Takes `**bold**`, `__`, `<b>` and trailing `==` off; says whether it was so marked.
fn strip_marks(text: &str) -> (&str, bool) {
    let mut inner = text.trim();
    let mut marked = false;
    for (open, close) in [
        ("**", "**"),
        ("__", "__"),
        ("<b>", "</b>"),
        ("<strong>", "</strong>"),
        ("<h3>", "</h3>"),
        ("_", "_"),
        ("*", "*"),
    ] {
        if let Some(x) = inner.strip_prefix(open).and_then(|x| {
            x.strip_suffix(close)
                .or_else(|| x.strip_suffix(&format!("{close}:")))
        }) && !x.is_empty()
        {
            inner = x.trim();
            marked = true;
        }
    }
    if let Some(x) = inner.strip_suffix("==") {
        inner = x.trim_end_matches('=').trim();
    }
    (inner.trim_end_matches(['#', ' ']), marked)
}

/// 'Layer 2', 'Part 1': a name with a number that is no amount.
fn is_numbered_name(text: &str) -> bool {
    let mut words = text.split_whitespace().rev();
    let number = words
        .next()
        .is_some_and(|w| w.chars().all(|c| c.is_ascii_digit()));
    number
        && words.next().is_some_and(|w| {
            matches!(
                w.to_ascii_lowercase().as_str(),
                "layer" | "part" | "step" | "stage" | "day"
            )
        })
}

/// The name of a component from its heading: 'For the Lemon glaze (optional):' is 'lemon glaze'.
pub(crate) fn component_name(heading: &str) -> String {
    let mut name = heading
        .split('(')
        .next()
        .unwrap_or(heading)
        .trim()
        .trim_end_matches([':', '-', ' '])
        .to_lowercase();
    for lead in ["for the ", "for ", "to make the ", "to make ", "the "] {
        if let Some(rest) = name.strip_prefix(lead) {
            name = rest.to_owned();
            break;
        }
    }
    for tail in [" ingredients", " mixture"] {
        if let Some(rest) = name.strip_suffix(tail)
            && !rest.is_empty()
        {
            name = rest.to_owned();
        }
    }
    name.trim().to_owned()
}

fn starts_with_digit(text: &str, a: &Amount) -> bool {
    text[a.span.clone()]
        .trim_start()
        .starts_with(|c: char| c.is_numeric())
        || text[a.span.clone()]
            .trim_start()
            .to_ascii_lowercase()
            .starts_with("one ")
}

/// Whether two measured amounts are the same but for rounding: '225g 8oz'.
fn same_amount(first: Option<&Amount>, second: &Amount, locale: Locale) -> bool {
    use quantity::Hold;
    let size = |a: &Amount| match a.unit.map(|u| u.hold(locale)) {
        Some(Hold::Mass(m)) => Some(m.as_grams() * a.low),
        Some(Hold::Volume(v)) => Some(v.likely().as_millilitres() * a.low),
        _ => None,
    };
    match (first.and_then(size), size(second)) {
        (Some(a), Some(b)) => (a / b - 1.0).abs() < 0.12,
        _ => false,
    }
}

/// '1 cup minus 1 tbsp', in the first amount's unit.
fn subtract(from: &mut Amount, a: &Amount, locale: Locale) -> bool {
    use quantity::Hold;
    let size = |u: Option<Unit>| match u.map(|u| u.hold(locale)) {
        Some(Hold::Mass(m)) => Some((0, m.as_grams())),
        Some(Hold::Volume(v)) => Some((1, v.likely().as_millilitres())),
        _ => None,
    };
    let (Some((k, x)), Some((l, y))) = (size(from.unit), size(a.unit)) else {
        return false;
    };
    let less = a.low * y / x;
    if k != l || less >= from.low {
        return false;
    }
    from.low -= less;
    from.high -= less;
    true
}

/// The place of ' or ' (or a slash between words) in the first part of a name.
fn find_or(lower: &str) -> Option<(usize, usize)> {
    let cut = [" for ", " to serve", " as ", " more"]
        .iter()
        .filter_map(|c| lower.find(c))
        .min()
        .unwrap_or(lower.len());
    if let Some(at) = lower.find(" or ").filter(|at| *at < cut) {
        return Some((at, 4));
    }
    let at = lower.find('/').filter(|at| *at < cut)?;
    let before = lower[..at].chars().next_back()?;
    let after = lower[at + 1..].chars().next()?;
    (before.is_alphabetic() && after.is_alphabetic() && !lower.contains("and/or"))
        .then_some((at, 1))
}

/// The two sides of the first ' and ' or '&'.
fn split_and(text: &str) -> Option<(Range<usize>, Range<usize>)> {
    for sign in [" and ", " & ", " AND ", " And "] {
        if let Some(at) = text.find(sign) {
            return Some((0..at, at + sign.len()..text.len()));
        }
    }
    None
}

/// Whether the food stands at the start of its words, not behind other ones ('beaten and
/// mixed with milk').
fn starts_with_food(words: &str, m: &Match) -> bool {
    !words[..m.span.start]
        .split_whitespace()
        .any(|w| matches!(w, "with" | "in" | "into" | "for" | "to"))
}

/// Splits 'cinnamon, nutmeg and cloves' into its parts.
fn split_list(text: &str) -> Vec<Range<usize>> {
    let mut parts = Vec::new();
    let mut from = 0;
    let mut push = |from: usize, to: usize| {
        let part = &text[from..to];
        let lead = part.len() - part.trim_start().len();
        let body = part.trim();
        if !body.is_empty() && body != "each" {
            parts.push(from + lead..from + lead + body.len());
        }
    };
    let mut at = 0;
    while at < text.len() {
        let rest = &text[at..];
        let skip = [", and ", " and ", " & ", ", ", "; "]
            .iter()
            .find(|s| rest.starts_with(**s));
        if let Some(s) = skip {
            push(from, at);
            at += s.len();
            from = at;
        } else {
            at += rest.chars().next().map_or(1, char::len_utf8);
        }
    }
    push(from, text.len());
    parts
}

/// Takes 'of', dots, stars and signs off the ends of a name.
fn trim_name(text: &str, name: Range<usize>) -> Range<usize> {
    let (mut start, mut end) = (name.start, name.end);
    loop {
        let rest = &text[start..end];
        let cut = rest.trim_start_matches([
            ' ', '\u{a0}', '\t', ',', '.', ':', ';', '-', '–', '—', '*', '|', '=', ')', ']',
        ]);
        start += rest.len() - cut.len();
        let lower: String = cut.chars().take(3).flat_map(char::to_lowercase).collect();
        if lower == "of " && !cut.to_ascii_lowercase().starts_with("of the ") {
            start += 3;
            continue;
        }
        break;
    }
    let rest = &text[start..end];
    end = start
        + rest
            .trim_end_matches([
                ' ', '\u{a0}', '\t', ',', '.', ':', ';', '-', '*', '†', '‡', '(', '|', '=', '+',
            ])
            .len();
    start..end.max(start)
}

fn purpose_of(lower: &str) -> Purpose {
    let after = |words: &[&str]| words.iter().any(|w| lower.contains(w));
    if after(&[
        "for dusting",
        "for rolling",
        "for kneading",
        "for flouring",
        "for the work",
        "for the bench",
        "for the board",
        "to dust",
        "for sprinkling the",
        "for coating",
        "for dredging",
    ]) {
        Purpose::Dusting
    } else if after(&[
        "for greasing",
        "for the pan",
        "for the tin",
        "for the dish",
        "for brushing the tin",
        "to grease",
        "for frying",
        "for deep",
        "for oiling",
        "for the griddle",
        "for the bowl",
        "for brushing",
        "egg wash",
        "eggwash",
        "for glazing",
        "to glaze",
        "for the wash",
    ]) {
        Purpose::Pan
    } else if after(&[
        "to serve",
        "for serving",
        "to decorate",
        "for decoration",
        "to garnish",
        "for garnish",
        "to finish",
        "for sprinkling",
        "for decorating",
    ]) {
        Purpose::Serving
    } else {
        Purpose::Formula
    }
}
