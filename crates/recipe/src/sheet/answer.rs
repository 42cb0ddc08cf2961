//! One-click answers to a doubt: what a baker would say to it, the likely one first.
//!
//! Every answer is tried out on the line before it is offered: one that would leave the doubt
//! standing is left out.

mod measure;
mod text;
mod whole;

pub(super) use whole::country;
pub use whole::{answers_gum, answers_rework, answers_whole};

use super::work::decide;
use super::{Change, LineDecision, LineKey, key_of};
use crate::household::Scale;
use crate::line::{Amount, Item, Line};
use crate::read::{self, Reader};
use crate::weigh;
use crate::{Doubt, DoubtCode, Recipe};
use larder::{FoodId, Gluten, Larder};
use quantity::{Locale, Mass};
use std::collections::BTreeSet;
use text::splice;

/// An answer to a doubt.
#[derive(Debug, Clone, PartialEq)]
pub struct Answer {
    /// The words on the button.
    pub words: String,
    /// What it changes.
    pub change: Change,
    /// What speaks for it, or what follows from it.
    pub why: Option<String>,
}

/// Answers to a doubt of a line.
///
/// # Arguments
/// * `doubt` — one of the line's, of reading or of weighing.
/// * `recipe` — the recipe as worked: of [`super::Worked::formula`].
/// * `component`, `line` — the line's place in it.
///
/// # Returns
/// The likely answer first, 'take it as read' last, but for 'it is no ingredient', which is never
/// first, and where the method has answered already. Empty when there is no such line.
#[must_use]
pub fn answers(
    doubt: &Doubt,
    recipe: &Recipe,
    component: usize,
    line: usize,
    larder: &Larder,
    locale: Locale,
) -> Vec<Answer> {
    let Some(read) = recipe
        .components
        .get(component)
        .and_then(|c| c.lines.get(line))
    else {
        return Vec::new();
    };
    let asked = Asked {
        doubt,
        line: read,
        item: item_of(doubt, read),
        key: key_of(recipe, component, line),
        larder,
        reader: Reader::new(larder, locale),
        locale,
    };
    let mut out: Vec<Answer> = Vec::new();
    for answer in asked.offers(recipe) {
        if !out.iter().any(|a| a.change == answer.change) && asked.settles(&answer.change) {
            out.push(answer);
        }
    }
    let accept = asked.accept();
    // The method has answered already.
    if doubt.code == DoubtCode::AsideByMethod {
        out.insert(0, accept);
        out.extend(asked.no_ingredient());
        return out;
    }
    match asked.no_ingredient() {
        // Never the first to be offered.
        Some(none) if out.is_empty() => out.extend([accept, none]),
        none => out.extend(none.into_iter().chain([accept])),
    }
    out
}

/// The place on its line of the ingredient a doubt is about, from 0.
#[must_use]
pub fn item_of(doubt: &Doubt, line: &Line) -> usize {
    let Some(at) = doubt.span.as_ref().map(|s| s.start) else {
        return 0;
    };
    let before = line.items.iter().filter(|i| i.start() <= at).count();
    before.saturating_sub(1)
}

/// Place, among all that is weighed on the line, of what a doubt is about.
#[must_use]
pub fn place_of(doubt: &Doubt, line: &Line) -> usize {
    let item = item_of(doubt, line);
    let of_further = |a: &Amount| {
        doubt
            .span
            .as_ref()
            .is_some_and(|s| a.span.start <= s.start && s.end <= a.span.end)
    };
    let part = line
        .items
        .get(item)
        .and_then(|i| i.further().position(|(_, a)| of_further(a)))
        .map_or(0, |further| further + 1);
    line.place_of(item, part)
}

/// A doubt and the line it is about.
struct Asked<'a> {
    doubt: &'a Doubt,
    line: &'a Line,
    item: usize,
    key: LineKey,
    larder: &'a Larder,
    reader: Reader<'a>,
    locale: Locale,
}

impl Asked<'_> {
    /// Whether the doubt is gone from the line once the change is made.
    fn settles(&self, change: &Change) -> bool {
        let mut decision = LineDecision::new(self.key.clone());
        match change {
            Change::ReadAs { text, .. } => decision.read_as.clone_from(text),
            Change::Food { place, food, .. } => decision.set_food(*place, food.clone()),
            Change::Grams { grams, place, .. } => match (place, grams) {
                (0, _) => decision.grams = *grams,
                (n, g) => decision.also.extend(g.map(|g| (*n, g))),
            },
            _ => return true,
        }
        if change.check().is_err() {
            return false;
        }
        let mut line = self.line.clone();
        if !decide(&mut line, &decision, &self.reader) || line.items.is_empty() {
            return false;
        }
        let (_, weighing) = weigh::line(&line, self.larder, self.locale);
        // Another ingredient of the line may be asked about likewise.
        let of_an_item = matches!(change, Change::Food { .. });
        !line
            .doubts
            .iter()
            .chain(&weighing)
            .any(|d| d.code == self.doubt.code && (!of_an_item || d.span == self.doubt.span))
    }

    fn read_as(&self, words: impl Into<String>, text: impl Into<String>) -> Answer {
        Answer {
            words: words.into(),
            change: Change::ReadAs {
                line: self.key.clone(),
                text: Some(text.into().trim().to_owned()),
            },
            why: None,
        }
    }

    fn food(&self, food: FoodId) -> Answer {
        let is = self.larder.food(food);
        Answer {
            words: is.name.clone(),
            change: Change::Food {
                line: self.key.clone(),
                place: self.item,
                food: Some(is.key.clone()),
            },
            why: (is.gluten != Gluten::Free).then(|| is.gluten.words().to_owned()),
        }
    }

    fn grams(&self, grams: f64, words: impl Into<String>, why: &str) -> Option<Answer> {
        let grams = tidy(grams);
        (grams > 0.0).then(|| Answer {
            words: words.into(),
            change: Change::Grams {
                line: self.key.clone(),
                place: place_of(self.doubt, self.line),
                grams: Some(grams),
            },
            why: (!why.is_empty()).then(|| why.to_owned()),
        })
    }

    fn item(&self) -> Option<&Item> {
        self.line.items.get(self.item)
    }

    /// The words the doubt is about.
    fn shown(&self) -> &str {
        self.doubt
            .span
            .as_ref()
            .map_or("", |s| self.line.words(s).trim())
    }

    /// The amount the doubt is about.
    fn amount(&self) -> Option<&Amount> {
        let span = self.doubt.span.as_ref()?;
        let all = self.line.items.iter().flat_map(|i| &i.amounts);
        all.into_iter().find(|a| a.span == *span)
    }

    /// The line with the doubt's words replaced.
    fn replaced(&self, words: &str) -> Option<String> {
        let span = self.doubt.span.clone()?;
        let old = self.line.words(&span);
        let lead = &old[..old.len() - old.trim_start().len()];
        let tail = &old[old.trim_end().len()..];
        splice(&self.line.clean, span, &format!("{lead}{words}{tail}"))
    }

    /// What a baker might say, the likely first; not tried out yet.
    fn offers(&self, recipe: &Recipe) -> Vec<Answer> {
        use DoubtCode as D;
        match self.doubt.code {
            D::NameTie | D::NameNear | D::NameByLocale | D::NamePartlyKnown | D::Alternative => {
                self.foods()
            }
            D::OunceOfLiquid => self.ounces(),
            D::SpoonLetter => ["tablespoons", "teaspoons"]
                .into_iter()
                .filter_map(|spoon| {
                    let number = self.shown().strip_suffix(['T', 't'])?.trim_end();
                    let text = self.replaced(&format!("{number} {spoon}"))?;
                    Some(self.read_as(format!("{number} {spoon}"), text))
                })
                .collect(),
            D::MissingUnit => self.units(),
            D::SizeOnLabel => match self.sizes() {
                sizes if sizes.is_empty() => self.usual(),
                sizes => sizes,
            },
            D::OldMeasure | D::LooseMeasure | D::NoWeight => [self.loose(), self.usual()].concat(),
            D::LooseFilling => self.level().into_iter().collect(),
            D::TwinDisagrees => self.twins(),
            D::WeightAsBought => self.as_bought(),
            D::BackwardRange => self.swapped().into_iter().collect(),
            D::MinusSign => {
                let text = self.line.clean.trim_start();
                let text = text.trim_start_matches(['-', '−', '–']).trim_start();
                vec![self.read_as(text, text)]
            }
            D::ComponentMissing => self.components(recipe),
            D::SharedAmount => self.half_each().into_iter().collect(),
            D::UnlikelyAmount => {
                let named = |meant: &String| {
                    let name = self.line.words(&self.item()?.name);
                    let words = format!("{meant} {}", name.trim());
                    Some(self.read_as(words, self.replaced(&format!("{meant} "))?))
                };
                self.doubt.meant.iter().filter_map(named).collect()
            }
            D::AsideByMethod => {
                let text = format!("{}, {}", self.line.clean.trim(), read::IN_THE_DOUGH);
                vec![self.read_as("it goes into the dough", text)]
            }
            _ => Vec::new(),
        }
    }

    /// Half of the one amount for each of two foods.
    fn half_each(&self) -> Option<Answer> {
        let [first, second] = self.line.items.as_slice() else {
            return None;
        };
        let amount = first
            .amounts
            .first()
            .filter(|_| second.amounts.is_empty())?;
        let amount = self.line.words(&amount.span).trim();
        let foods = |items: &[Item]| -> Option<BTreeSet<FoodId>> {
            items.iter().map(|i| Some(i.food.as_ref()?.food)).collect()
        };
        let cut = |item: &Item| Some(self.line.words(&item.name).split(',').next()?.trim());
        let bare = |item: &Item| Some(self.line.words(&item.food.as_ref()?.span).trim());
        let (as_cut, plain) = ((cut(first)?, cut(second)?), (bare(first)?, bare(second)?));
        // With how they are cut, where that is read as the same foods; a noun that stands last, as in 'butter
        // and sugar', would be one of both.
        [as_cut, plain, (as_cut.1, as_cut.0), (plain.1, plain.0)]
            .iter()
            .map(|(a, b)| format!("{amount} half {a} and half {b}"))
            .find(|text| {
                let read = self.reader.line(text);
                let halved = read.items.iter().all(|i| !i.amounts.is_empty());
                halved && foods(&read.items) == foods(&self.line.items)
            })
            .map(|text| self.read_as("half each", text))
    }

    fn foods(&self) -> Vec<Answer> {
        let Some(item) = self.item() else {
            return Vec::new();
        };
        let Some(found) = &item.food else {
            return Vec::new();
        };
        let all = [found.food]
            .into_iter()
            .chain(found.rivals.iter().copied())
            .chain(item.alternatives.iter().copied());
        all.map(|f| self.food(f)).collect()
    }

    /// The recipe's own components in place of one that is not there.
    fn components(&self, recipe: &Recipe) -> Vec<Answer> {
        let Some(reference) = self.item().and_then(|i| i.reference.as_ref()) else {
            return Vec::new();
        };
        recipe
            .components
            .iter()
            .filter(|c| !c.name.is_empty() && c.name != self.key.component)
            .filter_map(|c| {
                let text = splice(&self.line.clean, reference.span.clone(), &c.name)?;
                let read = self.reader.line(&text);
                let uses = |i: &Item| i.reference.as_ref().is_some_and(|r| r.name == c.name);
                read.items
                    .iter()
                    .any(uses)
                    .then(|| self.read_as(format!("the {}", c.name), text))
            })
            .collect()
    }

    /// 'It is no ingredient', of a line that may be a remark, or that was written for the baker.
    fn no_ingredient(&self) -> Option<Answer> {
        use DoubtCode as D;
        let (words, why) = match self.doubt.code {
            D::UnknownIngredient | D::NoAmount | D::NamePartlyKnown => (
                "it is no ingredient",
                "the line is kept as a note; its words are still screened",
            ),
            D::ComponentUnlisted => (
                "it does not go in",
                "its flour and water are then none of this part's",
            ),
            _ => return None,
        };
        Some(Answer {
            words: words.to_owned(),
            change: Change::ReadAs {
                line: self.key.clone(),
                text: Some(String::new()),
            },
            why: Some(why.to_owned()),
        })
    }

    /// 'Take it as read', in words that say what follows.
    fn accept(&self) -> Answer {
        use DoubtCode as D;
        let weighed = {
            let (all, _) = weigh::line(self.line, self.larder, self.locale);
            all.iter()
                .find(|w| w.item == self.item)
                .is_some_and(|w| w.grams.is_some())
        };
        let component = self.item().is_some_and(|i| i.reference.is_some());
        let unweighed = !weighed && !component;
        let food = self.item().and_then(|i| i.food.as_ref());
        let named = food.map(|m| self.larder.food(m.food).name.as_str());
        let (words, why) = match self.doubt.code {
            D::ImpossibleNumber => ("leave it unweighed", None),
            D::UnknownIngredient if unweighed => (
                "leave it unweighed",
                Some(
                    "it counts for nothing in the formula; the screen goes on asking for its label",
                ),
            ),
            D::UnknownIngredient => (
                "keep its weight only",
                Some("nothing else is known of it; the screen goes on asking for its label"),
            ),
            D::NoWeight
            | D::NoAmount
            | D::ToTaste
            | D::MissingUnit
            | D::LooseMeasure
            | D::OldMeasure
            | D::SizeOnLabel
                if unweighed =>
            {
                (
                    "leave it unweighed",
                    Some("it counts for nothing in the formula; it is screened"),
                )
            }
            D::ComponentMissing if unweighed => (
                "leave it unweighed",
                Some("it counts for nothing in the formula"),
            ),
            D::UnlikelyAmount => ("it is meant so", None),
            D::WeightAsBought => ("leave it open", Some("it counts as prepared, with a range")),
            D::ComponentUnlisted => ("all of it goes in", None),
            D::NotInFormula | D::AsideByMethod => ("keep it out of the formula", None),
            D::Optional => ("count it", None),
            D::TwoOnLine | D::SharedAmount => ("take it as read", None),
            D::NameTie | D::NameNear | D::NamePartlyKnown | D::NameByLocale => (
                "take it as read",
                Some("the name stays unsure, and the screen goes on asking for its label"),
            ),
            _ => ("take it as read", None),
        };
        let words = match (self.doubt.code, named) {
            (D::NameTie | D::NameNear | D::NamePartlyKnown, Some(n))
                if words.starts_with("take") =>
            {
                format!("take it as read, {n}")
            }
            _ => words.to_owned(),
        };
        Answer {
            words,
            change: Change::Accept {
                line: self.key.clone(),
                code: self.doubt.code.code().to_owned(),
                yes: true,
            },
            why: why.map(str::to_owned),
        }
    }
}

/// A weight as a scale shows it.
fn tidy(grams: f64) -> f64 {
    Scale::default().rounded(Mass::grams(grams), false)
}
