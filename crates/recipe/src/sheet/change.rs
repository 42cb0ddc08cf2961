//! One change of one field of a sheet.

use super::work::{MOST_GRAMS, sound};
use super::{LineDecision, LineKey, PartUse, Pin, Sheet, shapes};
use crate::data::rows;
use crate::heat::{HeatField, HeatNotes};
use crate::plan::{OwnStep, StepChange};
use crate::read::MOST_PAGE_BYTES;
use crate::rework::Hold;
use crate::rework::style::Style;
use crate::size::Ask;
use crate::{DoubtCode, LeftOut};
use quantity::{Locale, UnknownLocale};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use std::fmt;

/// A change of one field. `None` takes the decision back.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "field", rename_all = "snake_case")]
pub enum Change {
    /// The whole text.
    Text {
        /// The new text.
        text: String,
    },
    /// The title.
    Title {
        /// In place of the one read.
        title: Option<String>,
    },
    /// Whom to credit.
    Credit {
        /// In place of what the text says.
        text: Option<String>,
    },
    /// What it makes.
    Makes {
        /// In place of what the text says.
        text: Option<String>,
    },
    /// The method in the baker's own words.
    Method {
        /// One step a line.
        text: Option<String>,
    },
    /// Whose cups and spoons.
    Locale {
        /// `us`, `metric`, `uk`, `au`.
        locale: String,
    },
    /// Read a line as other words.
    ReadAs {
        /// The line.
        line: LineKey,
        /// The words; empty where the line is no ingredient.
        text: Option<String>,
    },
    /// The food of a line.
    Food {
        /// The line.
        line: LineKey,
        /// Its larder key.
        food: Option<String>,
    },
    /// The grams of an ingredient of a line, weighed by the baker.
    Grams {
        /// The line.
        line: LineKey,
        /// Place of the ingredient among all that are weighed on the line, from 0.
        #[serde(default, skip_serializing_if = "is_first")]
        place: usize,
        /// Grams.
        grams: Option<f64>,
    },
    /// A doubt of a line is taken as read, or open again.
    Accept {
        /// The line.
        line: LineKey,
        /// The doubt's code.
        code: String,
        /// Taken as read.
        yes: bool,
    },
    /// A doubt of the whole recipe is taken as read, or open again.
    AcceptWhole {
        /// The doubt's code.
        code: String,
        /// Taken as read.
        yes: bool,
    },
    /// The style of a component.
    Style {
        /// The component's name.
        component: String,
        /// The style's key.
        style: Option<String>,
    },
    /// The blend of a component.
    Blend {
        /// The component's name.
        component: String,
        /// The blend's key.
        blend: Option<String>,
    },
    /// A reworked line or a figure, held.
    Pin {
        /// The component's name.
        component: String,
        /// The reworked line's key, or `hydration` or `binder`.
        line: String,
        /// What it is held at.
        hold: Option<Hold>,
    },
    /// What is left out besides gluten, or left in again.
    LeaveOut {
        /// Its word, see [`LeftOut::word`].
        what: String,
        /// Left out.
        yes: bool,
    },
    /// How much of it is made.
    Size {
        /// The figure that the rest follows from.
        ask: Option<Ask>,
    },
    /// A figure of heat: of the known bake, the new pan, the proof or the dough.
    SetHeat {
        /// Its key, see [`crate::heat::HeatField`].
        what: String,
        /// As typed.
        text: Option<String>,
    },
    /// The known bake of heat, all its figures at once: what a bake on record took.
    KnownBake {
        /// Its figures as typed, by the keys of [`crate::heat::HeatField::KNOWN`]; what is not
        /// there is as read.
        says: HeatNotes,
    },
    /// The shape of a component.
    SetShape {
        /// The component's name.
        component: String,
        /// The shape's key, see [`crate::shape::Kind`].
        shape: Option<String>,
    },
    /// A field of a component's shape.
    ShapeSays {
        /// The component's name.
        component: String,
        /// The field's key.
        what: String,
        /// As typed.
        text: Option<String>,
    },
    /// Every pin of the sheet let go.
    Unpin,
    /// A figure of a step, for the plan.
    SetStep {
        /// The task's key, see [`crate::plan::Task::key`].
        step: String,
        /// The words of the method's step, see [`OwnStep::words`].
        #[serde(default, skip_serializing_if = "Option::is_none")]
        words: Option<String>,
        /// What is changed.
        #[serde(flatten)]
        to: StepChange,
    },
    /// A component of another recipe, taken in at a version or moved to another version.
    TakePart {
        /// The use.
        part: PartUse,
    },
    /// A component of another recipe, taken out.
    LeavePart {
        /// The other recipe's id.
        recipe: String,
    },
}

fn is_first(place: &usize) -> bool {
    *place == 0
}

/// Why a change cannot be made. Says what was expected.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ChangeError(pub(super) String);

impl fmt::Display for ChangeError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}
impl std::error::Error for ChangeError {}

fn wrong<T>(what: impl Into<String>) -> Result<T, ChangeError> {
    Err(ChangeError(what.into()))
}

/// More ingredients than any line has.
const MOST_ON_A_LINE: usize = 1_000;

/// Longest title, and longest words for one line, in bytes.
const LONGEST: usize = 400;

/// Longest method of one's own, in bytes.
const LONGEST_METHOD: usize = 40_000;

fn check_grams(grams: Option<f64>) -> Result<(), ChangeError> {
    match grams {
        Some(g) if !sound(g) => wrong(format!(
            "{g} g cannot be weighed: write grams from 0 to {MOST_GRAMS:.0}"
        )),
        _ => Ok(()),
    }
}

fn check_code(code: &str) -> Result<(), ChangeError> {
    if DoubtCode::from_code(code).is_some() {
        return Ok(());
    }
    wrong(format!(
        "no doubt is called '{code}': the codes are {}",
        DoubtCode::ALL
            .iter()
            .map(|c| c.code())
            .collect::<Vec<_>>()
            .join(", ")
    ))
}

/// Keys of foods and blends: small letters, digits and '_'.
fn is_key(key: &str) -> bool {
    !key.is_empty()
        && key.len() <= 80
        && key
            .bytes()
            .all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'_')
}

fn check_blend(key: &str) -> Result<(), ChangeError> {
    let house: Vec<&str> = rows(include_str!("../../data/blends.tsv"))
        .map(|r| r.get("key"))
        .collect();
    if house.contains(&key) || is_key(key) && key.starts_with("own_") {
        return Ok(());
    }
    wrong(format!(
        "no blend is called '{key}': write {} or the key of a blend of your own",
        house.join(", ")
    ))
}

/// One line of words: neither empty nor too long.
fn check_words(words: Option<&str>, what: &str) -> Result<(), ChangeError> {
    match words {
        Some(w) if w.trim().is_empty() => wrong(format!(
            "{what} has no words: write some, or take the decision back"
        )),
        Some(w) if w.len() > LONGEST => wrong(format!(
            "{what} is {} letters long: write at most {LONGEST}",
            w.chars().count()
        )),
        Some(w) if w.contains(['\n', '\r']) => {
            wrong(format!("{what} runs over two lines: write one line"))
        }
        _ => Ok(()),
    }
}

/// The figures of a known bake in words.
fn known_bake(says: &HeatNotes) -> String {
    let all: Vec<&str> = HeatField::KNOWN
        .iter()
        .filter_map(|f| says.get(f.key()))
        .map(String::as_str)
        .collect();
    if all.is_empty() {
        "as read".to_owned()
    } else {
        all.join(", ")
    }
}

/// A figure of heat: a known key, and words that it can be read from.
fn check_heat(what: &str, words: Option<&str>) -> Result<(), ChangeError> {
    let Some(field) = HeatField::from_key(what) else {
        return wrong(format!(
            "no figure of heat is called '{what}': the keys are {}",
            HeatField::ALL
                .iter()
                .map(|f| f.key())
                .collect::<Vec<_>>()
                .join(", ")
        ));
    };
    check_words(words, field.words())?;
    // A pan of the kitchen's own goes by any name: what is none is said where it is worked out.
    if matches!(field, HeatField::KnownPan | HeatField::Pan)
        && words.is_some_and(crate::heat::Pan::may_be_named)
    {
        return Ok(());
    }
    match words.map(|w| field.check(w)) {
        Some(Err(e)) => wrong(format!("{}: {e}", field.words())),
        _ => Ok(()),
    }
}

/// A method: neither empty nor too long; it may run over many lines.
fn check_method(words: Option<&str>) -> Result<(), ChangeError> {
    match words {
        Some(w) if w.trim().is_empty() => {
            wrong("the method has no words: write some, or take it back")
        }
        Some(w) if w.len() > LONGEST_METHOD => wrong(format!(
            "the method is {} letters long: write at most {LONGEST_METHOD}",
            w.chars().count()
        )),
        _ => Ok(()),
    }
}

impl Sheet {
    /// Makes a change.
    ///
    /// # Errors
    /// [`ChangeError`] when its value is none the field can have. The sheet is then as it was.
    pub fn change(&mut self, change: &Change) -> Result<(), ChangeError> {
        change.check()?;
        match change {
            Change::Text { text } => self.text.clone_from(text),
            Change::Title { title } => self.title.clone_from(title),
            Change::Credit { text } => self.credit.clone_from(text),
            Change::Makes { text } => self.makes.clone_from(text),
            Change::Method { text } => self.method.clone_from(text),
            Change::Locale { locale } => self.locale.clone_from(locale),
            Change::ReadAs { line, text } => {
                self.decide(line, |d| d.read_as.clone_from(text));
            }
            Change::Food { line, food } => self.decide(line, |d| d.food.clone_from(food)),
            Change::Grams { line, place, grams } => {
                self.decide(line, |d| match (place, grams) {
                    (0, _) => d.grams = *grams,
                    (n, Some(g)) => {
                        d.also.insert(*n, *g);
                    }
                    (n, None) => {
                        d.also.remove(n);
                    }
                });
            }
            Change::Accept { line, code, yes } => {
                self.decide(line, |d| put(&mut d.accepted, code, *yes));
            }
            Change::AcceptWhole { code, yes } => put(&mut self.accepted, code, *yes),
            Change::Style { component, style } => set(&mut self.styles, component, style.as_ref()),
            Change::Blend { component, blend } => set(&mut self.blends, component, blend.as_ref()),
            Change::Pin {
                component,
                line,
                hold,
            } => self.hold(component, line, hold.as_ref()),
            Change::LeaveOut { what, yes } => put(&mut self.left_out, what, *yes),
            Change::Size { ask } => self.size = ask.clone().filter(|a| !a.is_plain()),
            Change::SetHeat { what, text } => set(&mut self.heat, what, text.as_ref()),
            Change::KnownBake { says } => {
                for f in HeatField::KNOWN {
                    set(&mut self.heat, f.key(), says.get(f.key()));
                }
            }
            Change::SetShape { component, shape } => self.set_shape(component, shape.as_deref()),
            Change::ShapeSays {
                component,
                what,
                text,
            } => self.say_shape(component, what, text.as_deref())?,
            Change::Unpin => self.pins.clear(),
            Change::SetStep { step, words, to } => self.set_step(step, words.as_deref(), to),
            Change::TakePart { part } => {
                match self.parts.iter_mut().find(|p| p.recipe == part.recipe) {
                    Some(here) => here.clone_from(part),
                    None => {
                        let at = self.parts.partition_point(|p| p.recipe < part.recipe);
                        self.parts.insert(at, part.clone());
                    }
                }
            }
            Change::LeavePart { recipe } => self.parts.retain(|p| p.recipe != *recipe),
        }
        Ok(())
    }

    /// Changes the decision on a line; one that decides nothing goes.
    fn decide(&mut self, line: &LineKey, how: impl FnOnce(&mut LineDecision)) {
        let order = |k: &LineKey| (k.component.clone(), k.text.clone(), k.nth);
        let at = match self.lines.iter().position(|d| d.line == *line) {
            Some(at) => at,
            None => {
                let here = order(line);
                let at = self.lines.partition_point(|d| order(&d.line) < here);
                self.lines.insert(at, LineDecision::new(line.clone()));
                at
            }
        };
        how(&mut self.lines[at]);
        if self.lines[at].is_empty() {
            self.lines.remove(at);
        }
    }

    /// Changes a step's figure; a step of which nothing is decided goes, and so do figures that were
    /// put to another step of that name.
    fn set_step(&mut self, step: &str, words: Option<&str>, to: &StepChange) {
        let at = self.steps.partition_point(|s| s.step.as_str() < step);
        if self.steps.get(at).is_none_or(|s| s.step != step) {
            self.steps.insert(at, OwnStep::new(step));
        }
        let own = &mut self.steps[at];
        if own.is_of_another(words) {
            *own = OwnStep::new(step);
        }
        own.change(to);
        own.words = words.map(str::to_owned);
        if own.is_empty() {
            self.steps.remove(at);
        }
    }

    fn hold(&mut self, component: &str, line: &str, hold: Option<&Hold>) {
        let here = |p: &Pin| p.component == component && p.line == line;
        let Some(hold) = hold else {
            self.pins.retain(|p| !here(p));
            return;
        };
        match self.pins.iter_mut().find(|p| here(p)) {
            Some(pin) => pin.hold = hold.clone(),
            None => {
                let order = (component, line);
                let at = self
                    .pins
                    .partition_point(|p| (p.component.as_str(), p.line.as_str()) < order);
                let pin = Pin {
                    component: component.to_owned(),
                    line: line.to_owned(),
                    hold: hold.clone(),
                };
                self.pins.insert(at, pin);
            }
        }
    }
}

impl LineDecision {
    /// A decision that decides nothing yet.
    #[must_use]
    pub fn new(line: LineKey) -> Self {
        Self {
            line,
            read_as: None,
            food: None,
            grams: None,
            also: BTreeMap::new(),
            accepted: Vec::new(),
        }
    }

    /// Whether nothing is decided.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.read_as.is_none()
            && self.food.is_none()
            && self.grams.is_none()
            && self.also.is_empty()
            && self.accepted.is_empty()
    }
}

/// Puts a code into a list in order, or takes it out.
fn put(codes: &mut Vec<String>, code: &str, yes: bool) {
    codes.retain(|c| c != code);
    if yes {
        let at = codes.partition_point(|c| c.as_str() < code);
        codes.insert(at, code.to_owned());
    }
}

fn set(map: &mut BTreeMap<String, String>, component: &str, value: Option<&String>) {
    match value {
        Some(v) => {
            map.insert(component.to_owned(), v.clone());
        }
        None => {
            map.remove(component);
        }
    }
}

/// A slash inside a name is no divider.
fn part(name: &str) -> String {
    name.replace('%', "%25").replace('/', "%2F")
}

fn at(line: &LineKey) -> String {
    format!("{}/{}/{}", part(&line.component), line.nth, line.text)
}

/// `240 g`, with as many decimals as were written.
fn grams(grams: Option<f64>) -> String {
    grams.map_or_else(|| "as reckoned".to_owned(), |g| format!("{g} g"))
}

fn held(hold: Option<&Hold>) -> String {
    hold.map_or_else(|| "as reckoned".to_owned(), Hold::to_string)
}

/// Which of a line's weights, where it is not the first.
fn ordinal(place: usize) -> String {
    match place {
        0 => String::new(),
        1 => "second ".to_owned(),
        2 => "third ".to_owned(),
        n => format!("{}th ", n + 1),
    }
}

/// A task's key in words: `'rise' of the dough`.
#[must_use]
pub fn step_words(key: &str) -> String {
    match key.rsplit_once(':') {
        Some(("own", _)) | None => "of your own".to_owned(),
        Some(("", what)) => format!("'{}'", said(what)),
        Some((component, what)) => format!("'{}' of the {component}", said(what)),
    }
}

fn said(code: &str) -> String {
    code.replace('_', " ")
}

/// `the dough`, or `the recipe` where the one part has no name.
fn of(component: &str) -> String {
    if component.is_empty() {
        "the recipe".to_owned()
    } else {
        format!("the {component}")
    }
}

impl Change {
    /// Whether the value is one that the field can have.
    ///
    /// # Errors
    /// [`ChangeError`], with what was expected.
    pub fn check(&self) -> Result<(), ChangeError> {
        match self {
            Self::Text { text } if text.len() > MOST_PAGE_BYTES => wrong(format!(
                "{:.0} MB is more than a recipe can be: cut out the one recipe",
                text.len() as f64 / 1e6
            )),
            Self::Title { title } => check_words(title.as_deref(), "the title"),
            Self::Credit { text } => check_words(text.as_deref(), "the credit"),
            Self::Makes { text } => check_words(text.as_deref(), "what it makes"),
            Self::Method { text } => check_method(text.as_deref()),
            Self::Locale { locale } => match Locale::ALL.iter().any(|l| l.key() == locale) {
                true => Ok(()),
                false => wrong(UnknownLocale(locale.clone()).to_string()),
            },
            // No words at all: the line is no ingredient.
            Self::ReadAs { text, .. } => {
                let words = text.as_deref().filter(|t| !t.trim().is_empty());
                check_words(words, "the line")
            }
            Self::Food { food: Some(f), .. } if !is_key(f) => wrong(format!(
                "'{f}' is no key of a food: choose one of the larder"
            )),
            Self::Pin {
                line,
                hold: Some(hold),
                ..
            } => hold.check(line).map_err(|e| ChangeError(e.to_string())),
            Self::Grams { place, .. } if *place >= MOST_ON_A_LINE => {
                wrong("no line has so many ingredients")
            }
            Self::Grams { grams, .. } => check_grams(*grams),
            Self::Accept { code, .. } | Self::AcceptWhole { code, .. } => check_code(code),
            Self::LeaveOut { what, .. } if !LeftOut::ALL.iter().any(|l| l.word() == what) => {
                wrong(format!(
                    "nothing that can be left out is called '{what}': the words are {}",
                    LeftOut::ALL.map(LeftOut::word).join(", ")
                ))
            }
            Self::SetHeat { what, text } => check_heat(what, text.as_deref()),
            Self::KnownBake { says } => {
                if let Some(other) = says
                    .keys()
                    .find(|k| HeatField::KNOWN.iter().all(|f| f.key() != **k))
                {
                    return wrong(format!("'{other}' is no figure of a known bake"));
                }
                says.iter()
                    .try_for_each(|(what, words)| check_heat(what, Some(words)))
            }
            Self::Style { style: Some(s), .. } if Style::from_key(s).is_none() => wrong(format!(
                "no style is called '{s}': the styles are {}",
                Style::all().map(Style::key).collect::<Vec<_>>().join(", ")
            )),
            Self::Blend { blend: Some(b), .. } => check_blend(b),
            Self::SetShape { shape: Some(s), .. } => shapes::check_shape(s),
            Self::ShapeSays { what, text, .. } => shapes::check_says(what, text.as_deref()),
            Self::Size { ask: Some(ask) } => ask.check().map_err(|e| ChangeError(e.to_string())),
            Self::SetStep { step, .. } if step.is_empty() || step.len() > LONGEST => {
                wrong("the change names no step of the plan")
            }
            Self::SetStep { to, .. } => to.check().map_err(ChangeError),
            Self::TakePart { part } if part.recipe.is_empty() || part.version == 0 => {
                wrong("a part needs a saved recipe and one of its versions, from 1")
            }
            _ => Ok(()),
        }
    }

    /// The field it touches: the same words for the same field, always.
    #[must_use]
    pub fn field(&self) -> String {
        match self {
            Self::Text { .. } => "text".to_owned(),
            Self::Title { .. } => "title".to_owned(),
            Self::Credit { .. } => "credit".to_owned(),
            Self::Makes { .. } => "makes".to_owned(),
            Self::Method { .. } => "method".to_owned(),
            Self::Locale { .. } => "locale".to_owned(),
            Self::ReadAs { line, .. } => format!("read_as:{}", at(line)),
            Self::Food { line, .. } => format!("food:{}", at(line)),
            Self::Grams { line, place: 0, .. } => format!("grams:{}", at(line)),
            Self::Grams { line, place, .. } => format!("grams_{place}:{}", at(line)),
            Self::Accept { line, code, .. } => format!("accept:{code}:{}", at(line)),
            Self::AcceptWhole { code, .. } => format!("accept_whole:{code}"),
            Self::Style { component, .. } => format!("style:{component}"),
            Self::Blend { component, .. } => format!("blend:{component}"),
            Self::Pin {
                component, line, ..
            } => format!("pin:{}/{line}", part(component)),
            Self::LeaveOut { what, .. } => format!("left_out:{what}"),
            Self::Size { .. } => "size".to_owned(),
            Self::SetHeat { what, .. } => format!("heat:{what}"),
            Self::KnownBake { .. } => "heat:known".to_owned(),
            Self::SetShape { component, .. } => format!("shape:{component}"),
            Self::ShapeSays {
                component, what, ..
            } => format!("shape:{}/{what}", part(component)),
            Self::Unpin => "pins".to_owned(),
            Self::SetStep { step, to, .. } => format!("step:{}/{}", part(step), to.what()),
            Self::TakePart { part } => format!("part:{}", part.recipe),
            Self::LeavePart { recipe } => format!("part:{recipe}"),
        }
    }

    /// Its name in plain words, without the value: 'weight of 1 cup milk'.
    #[must_use]
    pub fn name(&self) -> String {
        match self {
            Self::Text { .. } => "the text".to_owned(),
            Self::Title { .. } => "title".to_owned(),
            Self::Credit { .. } => "credit".to_owned(),
            Self::Makes { .. } => "what it makes".to_owned(),
            Self::Method { .. } => "your method".to_owned(),
            Self::Locale { .. } => "whose measures".to_owned(),
            Self::ReadAs { line, .. } => format!("words of {}", line.text.trim()),
            Self::Food { line, .. } => format!("food of {}", line.text.trim()),
            Self::Grams { line, place, .. } => {
                format!("{}weight of {}", ordinal(*place), line.text.trim())
            }
            Self::Accept { line, code, .. } => {
                format!("doubt '{}' of {}", said(code), line.text.trim())
            }
            Self::AcceptWhole { code, .. } => format!("doubt '{}' of the recipe", said(code)),
            Self::Style { component, .. } => format!("style of {}", of(component)),
            Self::Blend { component, .. } => format!("blend of {}", of(component)),
            Self::Pin {
                component, line, ..
            } => format!("pin on {} of {}", said(line), of(component)),
            Self::LeaveOut { what, .. } => named(what),
            Self::Size { .. } => "size".to_owned(),
            Self::SetHeat { what, .. } => {
                HeatField::from_key(what).map_or_else(|| said(what), |f| f.words().to_owned())
            }
            Self::KnownBake { .. } => "known bake".to_owned(),
            Self::SetShape { component, .. } => format!("shape of {}", of(component)),
            Self::ShapeSays {
                component, what, ..
            } => format!("{} of {}’s shape", shapes::name_of(what), of(component)),
            Self::Unpin => "pins".to_owned(),
            Self::SetStep { step, to, .. } => {
                format!("{} of step {}", to.words().0, step_words(step))
            }
            Self::TakePart { part } => format!("part '{}'", part.title),
            Self::LeavePart { .. } => "part".to_owned(),
        }
    }

    /// What it does, in plain words: 'weight of 1 cup milk: 240 g'.
    #[must_use]
    pub fn words(&self) -> String {
        let value = match self {
            Self::Text { text } => {
                let lines = text.lines().filter(|l| !l.trim().is_empty()).count();
                let s = if lines == 1 { "" } else { "s" };
                return format!("the text: {lines} line{s}");
            }
            Self::Method { text: Some(text) } => {
                let lines = text.lines().filter(|l| !l.trim().is_empty()).count();
                let s = if lines == 1 { "" } else { "s" };
                format!("{lines} line{s}")
            }
            Self::Method { text: None } => "none".to_owned(),
            Self::Title { title: text } | Self::Credit { text } | Self::Makes { text } => {
                text.clone().unwrap_or_else(|| "as read".to_owned())
            }
            Self::Locale { locale } => locale.clone(),
            Self::ReadAs {
                line,
                text: Some(t),
            } if t.trim().is_empty() => {
                return format!("no ingredient: {}", line.text.trim());
            }
            Self::ReadAs { text, .. } => text.clone().unwrap_or_else(|| "as pasted".to_owned()),
            Self::Food { food, .. } => food.as_deref().map_or("as read".to_owned(), said),
            Self::Grams { grams: g, .. } => grams(*g),
            Self::Accept { yes, .. } | Self::AcceptWhole { yes, .. } => settled(*yes),
            Self::Style { style, .. } => style.as_deref().map_or("as guessed".to_owned(), said),
            Self::Blend { blend, .. } => blend.as_deref().map_or("by style".to_owned(), said),
            Self::Pin { hold, .. } => held(hold.as_ref()),
            Self::LeaveOut { yes, .. } => left(*yes),
            Self::Size { ask } => sized(ask.as_ref()),
            Self::SetHeat { text, .. } => text.clone().unwrap_or_else(|| "as read".to_owned()),
            Self::KnownBake { says } => known_bake(says),
            Self::SetShape { shape, .. } => shapes::shape_name(shape.as_deref()),
            Self::ShapeSays { text, .. } => shapes::typed(text.as_deref()),
            Self::Unpin => "let go".to_owned(),
            Self::SetStep { to, .. } => to.words().1,
            Self::TakePart { part } => format!("version {}", part.version),
            Self::LeavePart { .. } => "taken out".to_owned(),
        };
        if let Self::Pin { line, hold, .. } = self {
            return match hold {
                Some(_) => format!("{} held at {value}", said(line)),
                None => format!("{} let go", said(line)),
            };
        }
        if let Self::SetStep {
            step,
            to: StepChange::LeftOut(yes),
            ..
        } = self
        {
            let how = if *yes { "left out" } else { "put back" };
            return format!("step {} {how}", step_words(step));
        }
        format!("{}: {value}", self.name())
    }

    /// What the field is in a sheet now, in words; the same words only for the same value.
    #[must_use]
    pub fn value_in(&self, sheet: &Sheet) -> String {
        let decision = |line: &LineKey| sheet.decision(line);
        match self {
            Self::Text { .. } => sheet.text.clone(),
            Self::Title { .. } => sheet.title.clone().unwrap_or_else(|| "as read".to_owned()),
            Self::Credit { .. } => sheet.credit.clone().unwrap_or_else(|| "as read".to_owned()),
            Self::Makes { .. } => sheet.makes.clone().unwrap_or_else(|| "as read".to_owned()),
            Self::Method { .. } => sheet.method.clone().unwrap_or_else(|| "none".to_owned()),
            Self::Locale { .. } => sheet.locale.clone(),
            Self::ReadAs { line, .. } => {
                decision(line)
                    .and_then(|d| d.read_as.clone())
                    .map_or("as pasted".to_owned(), |t| {
                        if t.trim().is_empty() {
                            "no ingredient".to_owned()
                        } else {
                            t
                        }
                    })
            }
            Self::Food { line, .. } => decision(line)
                .and_then(|d| d.food.as_deref())
                .map_or("as read".to_owned(), said),
            Self::Grams { line, place, .. } => {
                grams(decision(line).and_then(|d| d.grams_at(*place)))
            }
            Self::Accept { line, code, .. } => {
                settled(decision(line).is_some_and(|d| d.accepted.contains(code)))
            }
            Self::AcceptWhole { code, .. } => settled(sheet.accepted.contains(code)),
            Self::Style { component, .. } => sheet
                .styles
                .get(component)
                .map_or("as guessed".to_owned(), |s| said(s)),
            Self::Blend { component, .. } => sheet
                .blends
                .get(component)
                .map_or("by style".to_owned(), |s| said(s)),
            Self::Pin {
                component, line, ..
            } => held(sheet.pin(component, line)),
            Self::LeaveOut { what, .. } => left(sheet.left_out.contains(what)),
            Self::Size { .. } => sized(sheet.size.as_ref()),
            Self::SetHeat { what, .. } => sheet
                .heat
                .get(what)
                .cloned()
                .unwrap_or_else(|| "as read".to_owned()),
            Self::KnownBake { .. } => known_bake(&sheet.heat),
            Self::SetShape { component, .. } => {
                let ask = sheet.shapes.get(component);
                shapes::shape_name(ask.map(|a| a.shape.as_str()))
            }
            Self::ShapeSays {
                component, what, ..
            } => shapes::typed(sheet.shape_says(component, what)),
            Self::SetStep { step, to, .. } => {
                let here = sheet.steps.iter().find(|s| s.step == *step);
                to.words_in(here).1
            }
            Self::Unpin => {
                let pins: Vec<String> = sheet
                    .pins
                    .iter()
                    .map(|p| format!("{} of {}: {}", said(&p.line), of(&p.component), p.hold))
                    .collect();
                if pins.is_empty() {
                    "none".to_owned()
                } else {
                    pins.join("; ")
                }
            }
            Self::TakePart {
                part: PartUse { recipe, .. },
            }
            | Self::LeavePart { recipe } => sheet
                .parts
                .iter()
                .find(|p| p.recipe == *recipe)
                .map_or("not taken in".to_owned(), |p| {
                    format!("version {}", p.version)
                }),
        }
    }

    /// The changes that take this one back, in a sheet that it has not been made to yet. One,
    /// except where it lets go several pins.
    #[must_use]
    pub fn inverse(&self, sheet: &Sheet) -> Vec<Self> {
        let decision = |line: &LineKey| sheet.decision(line);
        let one = match self {
            Self::Text { .. } => Self::Text {
                text: sheet.text.clone(),
            },
            Self::Title { .. } => Self::Title {
                title: sheet.title.clone(),
            },
            Self::Credit { .. } => Self::Credit {
                text: sheet.credit.clone(),
            },
            Self::Makes { .. } => Self::Makes {
                text: sheet.makes.clone(),
            },
            Self::Method { .. } => Self::Method {
                text: sheet.method.clone(),
            },
            Self::Locale { .. } => Self::Locale {
                locale: sheet.locale.clone(),
            },
            Self::ReadAs { line, .. } => Self::ReadAs {
                line: line.clone(),
                text: decision(line).and_then(|d| d.read_as.clone()),
            },
            Self::Food { line, .. } => Self::Food {
                line: line.clone(),
                food: decision(line).and_then(|d| d.food.clone()),
            },
            Self::Grams { line, place, .. } => Self::Grams {
                line: line.clone(),
                place: *place,
                grams: decision(line).and_then(|d| d.grams_at(*place)),
            },
            Self::Accept { line, code, .. } => Self::Accept {
                line: line.clone(),
                code: code.clone(),
                yes: decision(line).is_some_and(|d| d.accepted.contains(code)),
            },
            Self::AcceptWhole { code, .. } => Self::AcceptWhole {
                code: code.clone(),
                yes: sheet.accepted.contains(code),
            },
            Self::Style { component, .. } => Self::Style {
                component: component.clone(),
                style: sheet.styles.get(component).cloned(),
            },
            Self::Blend { component, .. } => Self::Blend {
                component: component.clone(),
                blend: sheet.blends.get(component).cloned(),
            },
            Self::Pin {
                component, line, ..
            } => Self::Pin {
                component: component.clone(),
                line: line.clone(),
                hold: sheet.pin(component, line).cloned(),
            },
            Self::LeaveOut { what, .. } => Self::LeaveOut {
                what: what.clone(),
                yes: sheet.left_out.contains(what),
            },
            Self::Size { .. } => Self::Size {
                ask: sheet.size.clone(),
            },
            Self::SetHeat { what, .. } => Self::SetHeat {
                what: what.clone(),
                text: sheet.heat.get(what).cloned(),
            },
            Self::KnownBake { .. } => Self::KnownBake {
                says: sheet
                    .heat
                    .iter()
                    .filter(|(k, _)| HeatField::KNOWN.iter().any(|f| f.key() == *k))
                    .map(|(k, v)| (k.clone(), v.clone()))
                    .collect(),
            },
            Self::SetShape { component, .. } => return sheet.shape_again(component),
            Self::ShapeSays {
                component, what, ..
            } => Self::ShapeSays {
                component: component.clone(),
                what: what.clone(),
                text: sheet.shape_says(component, what).map(str::to_owned),
            },
            Self::SetStep { step, words, to } => {
                let here = sheet.steps.iter().find(|s| s.step == *step);
                let all = here.is_some_and(|h| h.is_of_another(words.as_deref()));
                let back = to.back(here, all).into_iter().map(|to| Self::SetStep {
                    step: step.clone(),
                    words: here.map_or_else(|| words.clone(), |h| h.words.clone()),
                    to,
                });
                return back.collect();
            }
            Self::Unpin => {
                let pins = sheet.pins.iter().map(|p| Self::Pin {
                    component: p.component.clone(),
                    line: p.line.clone(),
                    hold: Some(p.hold.clone()),
                });
                return pins.collect();
            }
            Self::TakePart {
                part: PartUse { recipe, .. },
            }
            | Self::LeavePart { recipe } => {
                match sheet.parts.iter().find(|p| p.recipe == *recipe) {
                    Some(p) => Self::TakePart { part: p.clone() },
                    None => Self::LeavePart {
                        recipe: recipe.clone(),
                    },
                }
            }
        };
        vec![one]
    }
}

fn settled(yes: bool) -> String {
    if yes { "taken as read" } else { "open" }.to_owned()
}

fn left(out: bool) -> String {
    if out { "left out" } else { "left in" }.to_owned()
}

fn sized(ask: Option<&Ask>) -> String {
    ask.map_or_else(|| "the recipe once".to_owned(), Ask::to_string)
}

/// What a word of what is left out is called on screens.
fn named(what: &str) -> String {
    LeftOut::from_word(what).map_or_else(|| what.to_owned(), |l| l.name().to_owned())
}
