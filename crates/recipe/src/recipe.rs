//! A recipe as read: what stands in the text, before anything is weighed.

use crate::line::{Item, Reference, Share};
use crate::{Doubt, DoubtCode, Line};
use quantity::{Length, Spread, Temperature, Time};
use std::borrow::Cow;
use std::ops::Range;

/// More parts than any recipe has.
pub(crate) const MOST_COMPONENTS: usize = 100;

/// Where a recipe comes from. Given credit to, never copied from.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Source {
    /// The author's name.
    pub author: Option<String>,
    /// Book, paper or site.
    pub publisher: Option<String>,
    /// Address of the page.
    pub url: Option<String>,
}

impl Source {
    /// The credit in one line, or `None` when nothing is known.
    #[must_use]
    pub fn words(&self) -> Option<String> {
        let parts: Vec<&str> = [&self.author, &self.publisher, &self.url]
            .into_iter()
            .flatten()
            .map(String::as_str)
            .collect();
        (!parts.is_empty()).then(|| parts.join(", "))
    }
}

/// What the recipe says it makes.
#[derive(Debug, Clone, PartialEq)]
pub struct Yield {
    /// The words as written: '12 rolls', 'Serves 4–6'.
    pub text: String,
    /// The number of pieces or servings, low and high.
    pub count: Option<(f64, f64)>,
}

/// Times stated for the whole recipe.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Times {
    /// Preparation.
    pub prep: Option<Time>,
    /// Cooking.
    pub cook: Option<Time>,
    /// All of it.
    pub total: Option<Time>,
}

/// A part of a recipe with ingredients of its own: dough, filling, glaze.
#[derive(Debug, Clone, PartialEq)]
pub struct Component {
    /// Its name, lower case; empty when the recipe has one part and no heading.
    pub name: String,
    /// The heading as written.
    pub heading: Option<String>,
    /// Its ingredient lines, notes among them where they stood.
    pub lines: Vec<Line>,
}

/// A component's name inside a sentence: `the dough`; `'to finish'` in quotes, as it takes no
/// article; `the recipe` where the one part has no name.
///
/// # Example
/// ```
/// assert_eq!(recipe::the_part("dough"), "the dough");
/// assert_eq!(recipe::the_part("to finish"), "'to finish'");
/// assert_eq!(recipe::the_part(""), "the recipe");
/// ```
#[must_use]
pub fn the_part(name: &str) -> String {
    match name {
        "" => "the recipe".to_owned(),
        _ if name.starts_with("to ") => format!("'{name}'"),
        _ => format!("the {name}"),
    }
}

/// What is done in a step.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Activity {
    /// Knead, work the dough.
    Knead,
    /// Stir, mix, combine.
    Mix,
    /// Whip, whisk to foam, beat egg whites.
    Whip,
    /// Cream butter and sugar.
    Cream,
    /// Rub or cut fat into flour.
    RubIn,
    /// Fold dough or batter.
    Fold,
    /// Rest, stand, soak.
    Rest,
    /// Rise, prove, proof, ferment.
    Rise,
    /// Knock back, punch down.
    KnockBack,
    /// Chill, refrigerate.
    Chill,
    /// Freeze.
    Freeze,
    /// Roll out.
    Roll,
    /// Shape, form, pipe, divide.
    Shape,
    /// Heat the oven.
    Preheat,
    /// Bake, roast.
    Bake,
    /// Fry, griddle.
    Fry,
    /// Boil, simmer, cook on the stove.
    Boil,
    /// Melt.
    Melt,
    /// Let cool.
    Cool,
    /// Dust with flour.
    Dust,
    /// Grease or line a pan.
    Grease,
    /// Brush, glaze, egg wash.
    Brush,
    /// Test for the windowpane.
    Windowpane,
}

impl Activity {
    /// The word on screens.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Knead => "knead",
            Self::Mix => "mix",
            Self::Whip => "whip",
            Self::Cream => "cream",
            Self::RubIn => "rub in",
            Self::Fold => "fold",
            Self::Rest => "rest",
            Self::Rise => "rise",
            Self::KnockBack => "knock back",
            Self::Chill => "chill",
            Self::Freeze => "freeze",
            Self::Roll => "roll",
            Self::Shape => "shape",
            Self::Preheat => "heat the oven",
            Self::Bake => "bake",
            Self::Fry => "fry",
            Self::Boil => "boil",
            Self::Melt => "melt",
            Self::Cool => "cool",
            Self::Dust => "dust",
            Self::Grease => "grease",
            Self::Brush => "brush",
            Self::Windowpane => "windowpane",
        }
    }
}

/// What a temperature is the temperature of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Heat {
    /// A still oven.
    Oven,
    /// A fan oven.
    FanOven,
    /// The middle of the bake.
    Core,
    /// A liquid, dough, syrup or the fridge.
    Other,
}

/// A fact read from a step.
#[derive(Debug, Clone, PartialEq)]
pub enum FactKind {
    /// A temperature.
    Temperature {
        /// Low, likely, high.
        value: Spread<Temperature>,
        /// Of what.
        of: Heat,
    },
    /// A length of time, and what is done for it.
    Duration {
        /// Low, likely, high.
        value: Spread<Time>,
        /// What is done for so long, where the step says.
        doing: Option<Activity>,
    },
    /// Something done, said without a time.
    Doing(Activity),
    /// A pan or tin.
    Pan {
        /// Its words: '9-inch round tin', 'loaf tin'.
        words: String,
        /// Its measures, longest first as written.
        sizes: Vec<Length>,
    },
    /// Rolled or spread this thick.
    Thickness(Spread<Length>),
    /// Rises to so many times its volume.
    RiseTo(f64),
}

/// A fact and where it stands in its step.
#[derive(Debug, Clone, PartialEq)]
pub struct Fact {
    /// The fact.
    pub kind: FactKind,
    /// Bytes of the step's text.
    pub span: Range<usize>,
}

impl Fact {
    /// Whether it says that this is done, with or without a time.
    #[must_use]
    pub fn does(&self, what: Activity) -> bool {
        match &self.kind {
            FactKind::Doing(a) => *a == what,
            FactKind::Duration { doing, .. } => *doing == Some(what),
            _ => false,
        }
    }
}

/// One step of the method.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// Its number in the method, from 1.
    pub number: usize,
    /// The page's own number of it, where the page numbers its steps.
    pub on_page: Option<usize>,
    /// Its words, private to the developer: never printed on a card.
    pub text: String,
    /// The component it stands under, by place in the recipe, where a heading says so.
    pub component: Option<usize>,
    /// What was read of it.
    pub facts: Vec<Fact>,
    /// What is unsure.
    pub doubts: Vec<Doubt>,
}

impl Step {
    /// Its bakes that have a time, in their order.
    pub(crate) fn timed_bakes(&self) -> impl Iterator<Item = (&Fact, Spread<Time>)> {
        self.facts.iter().filter_map(|fact| match fact.kind {
            FactKind::Duration {
                value,
                doing: Some(Activity::Bake),
            } => Some((fact, value)),
            _ => None,
        })
    }
}

/// A recipe as read.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Recipe {
    /// Its title.
    pub title: Option<String>,
    /// Whom to credit.
    pub source: Source,
    /// What it makes.
    pub makes: Option<Yield>,
    /// Times for the whole.
    pub times: Times,
    /// Its parts, in order.
    pub components: Vec<Component>,
    /// Its method.
    pub steps: Vec<Step>,
    /// Everything else that was written, in order.
    pub notes: Vec<String>,
    /// Doubts about the recipe as a whole.
    pub doubts: Vec<Doubt>,
    /// Doubts about the whole, and about steps, that are taken as read.
    pub settled: Vec<Doubt>,
    /// Methods of other recipes taken in, in the order of the work: the title, and the number of its
    /// last step. What is taken in is made first, so this recipe's own method follows them.
    pub methods: Vec<(String, usize)>,
    /// How many components are its own, where those of other recipes taken in follow.
    pub own_components: Option<usize>,
}

impl Recipe {
    /// A step's number in its own method, and the other recipe's title where it was taken in.
    #[must_use]
    pub fn step_in_method(&self, number: usize) -> (usize, Option<&str>) {
        let at = self.methods.iter().position(|m| number <= m.1);
        let before = |m: usize| m.checked_sub(1).map_or(0, |m| self.methods[m].1);
        match at {
            Some(m) => (number - before(m), Some(&self.methods[m].0)),
            None => (number - before(self.methods.len()), None),
        }
    }

    /// The recipe with its own components and steps alone, without those that it takes in.
    #[must_use]
    pub fn alone(&self) -> Cow<'_, Self> {
        let Some(own) = self.own_components else {
            return Cow::Borrowed(self);
        };
        let mut alone = self.clone();
        alone.own_components = None;
        alone.components.truncate(own);
        let theirs = alone.methods.last().map_or(0, |m| m.1);
        alone.methods.clear();
        alone.steps.drain(..theirs);
        alone.number_steps();
        Cow::Owned(alone)
    }

    /// The component each step stands with in the order of work, from the one it is about: what a
    /// recipe's own method does to what it takes in stands with its own component that uses it, for
    /// it comes after the other's method.
    ///
    /// # Inputs
    /// - `about`: the component each step is about.
    /// - `user`: the own component that uses one taken in, among so many own ones.
    pub(crate) fn in_order_of_work(
        &self,
        about: &[usize],
        user: impl Fn(usize, usize) -> Option<usize>,
    ) -> Vec<usize> {
        let (Some(own), Some((_, end))) = (self.own_components, self.methods.last()) else {
            return about.to_vec();
        };
        let moved = about.iter().enumerate().map(|(step, &of)| {
            let theirs = step < *end || of < own;
            if theirs {
                of
            } else {
                user(of, own).unwrap_or(of)
            }
        });
        moved.collect()
    }

    /// What a step is called: the page's own number where it has one, else 'before 1', 'after 5'
    /// among numbered ones, else its number in its own method.
    #[must_use]
    pub fn step_label(&self, number: usize) -> String {
        let (counted, _) = self.step_in_method(number);
        let first = number - counted;
        let mut ends = self.methods.iter().map(|m| m.1);
        let end = ends.find(|end| number <= *end).unwrap_or(usize::MAX);
        let mine = |s: &&Step| s.number > first && s.number <= end;
        let method = || self.steps.iter().filter(mine);
        if let Some(own) = method()
            .find(|s| s.number == number)
            .and_then(|s| s.on_page)
        {
            return own.to_string();
        }
        let mut before = method()
            .filter(|s| s.number < number)
            .filter_map(|s| s.on_page);
        if let Some(n) = before.next_back() {
            return format!("after {n}");
        }
        match method().find_map(|s| s.on_page) {
            Some(n) => format!("before {n}"),
            None => counted.to_string(),
        }
    }

    /// The component of this name, by place.
    #[must_use]
    pub fn component(&self, name: &str) -> Option<usize> {
        self.components.iter().position(|c| c.name == name)
    }

    /// Opens a component; a name already taken gets a number and a doubt. Past
    /// [`MOST_COMPONENTS`] the last one stays open, with a doubt.
    pub(crate) fn open(&mut self, name: String, heading: Option<String>) -> usize {
        if self.components.len() >= MOST_COMPONENTS {
            if !self.doubts.iter().any(|d| d.code == DoubtCode::NotRead) {
                self.doubts.push(Doubt::new(
                    DoubtCode::NotRead,
                    format!("more than {MOST_COMPONENTS} components: the rest is read as part of the last; cut out the one recipe"),
                ));
            }
            return self.components.len() - 1;
        }
        let mut unique = name.clone();
        let mut n = 1;
        while self.component(&unique).is_some() {
            n += 1;
            unique = if name.is_empty() {
                format!("part {n}")
            } else {
                format!("{name} {n}")
            };
        }
        if n > 1 && !name.is_empty() {
            self.doubts.push(Doubt::new(
                DoubtCode::ComponentTwice,
                format!("two components are called '{name}': the later one is '{unique}' here; give it a name of its own"),
            ));
        }
        self.components.push(Component {
            name: unique,
            heading,
            lines: Vec::new(),
        });
        self.components.len() - 1
    }

    /// Takes in another recipe's components, steps and notes as parts of this one.
    ///
    /// # Arguments
    /// * `part` — the other recipe. Its uses of its own components go on meaning those, whatever
    ///   they are called here.
    /// * `title` — the name for a component that has none.
    ///
    /// # Returns
    /// For each component of the part, its place here and the place of its first line.
    pub(crate) fn append(
        &mut self,
        mut part: Self,
        title: &str,
        owners: &[usize],
    ) -> Vec<(usize, usize)> {
        self.own_components.get_or_insert(self.components.len());
        let names: Vec<String> = part.components.iter().map(|c| c.name.clone()).collect();
        let mut places = Vec::new();
        for component in &mut part.components {
            let name = if component.name.is_empty() {
                crate::read::component_name(title)
            } else {
                component.name.clone()
            };
            let name = if name.is_empty() {
                title.to_lowercase()
            } else {
                name
            };
            let heading = component.heading.take();
            let at = self.open(name, heading.or_else(|| Some(title.to_owned())));
            places.push((at, self.components[at].lines.len()));
            self.components[at].lines.append(&mut component.lines);
        }
        for (own, &(at, first)) in places.iter().enumerate() {
            let here: Vec<String> = places
                .iter()
                .map(|&(p, _)| self.components[p].name.clone())
                .collect();
            for line in &mut self.components[at].lines[first..] {
                for item in &mut line.items {
                    let words = line.clean.get(item.name.clone()).unwrap_or_default();
                    keep_use(item, words, own, &names, &here);
                }
            }
        }
        let before = self.methods.last().map_or(0, |m| m.1);
        // What it takes in itself is made before it.
        let inner = part.methods.last().map_or(0, |m| m.1);
        let theirs = part.methods.drain(..);
        self.methods
            .extend(theirs.map(|(title, end)| (title, before + end)));
        let more = part.steps.len();
        if more > inner {
            self.methods.push((title.to_owned(), before + more));
        }
        let theirs = part.steps.into_iter().enumerate().map(|(i, step)| Step {
            component: step
                .component
                .or_else(|| owners.get(i).copied())
                .and_then(|c| places.get(c))
                .map(|&(at, _)| at),
            ..step
        });
        self.steps.splice(before..before, theirs);
        self.number_steps();
        self.notes.append(&mut part.notes);
        let from = |d: Doubt| Doubt {
            message: format!("in '{title}': {}", d.message),
            ..d
        };
        self.doubts.extend(part.doubts.into_iter().map(from));
        self.settled.extend(part.settled.into_iter().map(from));
        places
    }

    fn number_steps(&mut self) {
        for (i, step) in self.steps.iter_mut().enumerate() {
            step.number = i + 1;
        }
    }

    /// The recipe as plain text that reads back as the same recipe.
    #[must_use]
    pub fn to_text(&self) -> String {
        use std::fmt::Write;
        let mut out = String::new();
        if let Some(title) = &self.title {
            let _ = writeln!(out, "{title}\n");
        }
        if let Some(author) = &self.source.author {
            let _ = writeln!(out, "By {author}");
        }
        if let Some(url) = &self.source.url {
            let _ = writeln!(out, "Source: {url}");
        } else if let Some(publisher) = &self.source.publisher {
            let _ = writeln!(out, "Source: {publisher}");
        }
        if let Some(makes) = &self.makes {
            // '12 rolls' of a data page would not read back as a yield.
            let lead = if crate::read::says_yield(&makes.text) {
                ""
            } else {
                "Makes "
            };
            let _ = writeln!(out, "{lead}{}", makes.text);
        }
        let _ = writeln!(out, "\nIngredients");
        for component in &self.components {
            if let Some(heading) = &component.heading {
                let _ = writeln!(out, "\n{heading}");
            }
            for line in &component.lines {
                let _ = writeln!(out, "{}", line.text);
            }
        }
        if !self.steps.is_empty() {
            let _ = writeln!(out, "\nMethod");
            let mut under = None;
            for step in &self.steps {
                if step.component != under {
                    under = step.component;
                    if let Some(c) = under.and_then(|i| self.components.get(i)) {
                        let _ = writeln!(out, "\nFor the {}:", c.name);
                    }
                }
                let _ = writeln!(out, "{}. {}", step.number, step.text);
            }
        }
        if !self.notes.is_empty() {
            let _ = writeln!(out, "\nNotes");
            for note in &self.notes {
                let _ = writeln!(out, "{note}");
            }
        }
        out
    }
}

/// A use of a component of a part goes on meaning that component under its new name.
fn keep_use(item: &mut Item, words: &str, own: usize, names: &[String], here: &[String]) {
    let find = |f: &dyn Fn(&str) -> bool| names.iter().position(|n| !n.is_empty() && f(n));
    if let Some(reference) = &mut item.reference {
        let name = reference.name.clone();
        let found = find(&|n| n == name).or_else(|| find(&|n| crate::read::same_part(n, &name)));
        if let Some(new) = found.and_then(|at| here.get(at)) {
            reference.name.clone_from(new);
        }
        return;
    }
    let plain = words
        .split([',', '('])
        .next()
        .unwrap_or(words)
        .trim()
        .to_lowercase();
    let found = names
        .iter()
        .position(|n| !n.is_empty() && *n == plain)
        .filter(|at| *at != own);
    if let Some(at) = found
        && let Some(new) = here.get(at).filter(|h| **h != names[at])
    {
        item.reference = Some(Reference {
            name: new.clone(),
            share: if item.amounts.is_empty() {
                Share::Part(1.0)
            } else {
                Share::Amount
            },
            span: item.name.clone(),
        });
    }
}
