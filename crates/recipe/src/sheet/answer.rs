//! One-click answers to a doubt: what a baker would say to it, the likely one first.
//!
//! Every answer is tried out on the line before it is offered: one that would leave the doubt
//! standing is left out.

use super::work::decide;
use super::{Change, LineDecision, LineKey, key_of};
use crate::household::Scale;
use crate::line::{Amount, Item, Line, Role};
use crate::read::Reader;
use crate::rework::style::Style;
use crate::rework::{ReworkedComponent, is_crumb};
use crate::weigh;
use crate::{Doubt, DoubtCode, Recipe};
use larder::{FoodId, Function, Gluten, Larder};
use quantity::{Locale, Mass, Unit, UnitKind};
use std::ops::Range;

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
/// first. Empty when there is no such line.
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
    match asked.no_ingredient() {
        // Never the first to be offered.
        Some(none) if out.is_empty() => out.extend([accept, none]),
        none => out.extend(none.into_iter().chain([accept])),
    }
    out
}

/// Answers to a doubt about the whole recipe, or about a step of it.
#[must_use]
pub fn answers_whole(doubt: &Doubt, recipe: &Recipe, locale: Locale) -> Vec<Answer> {
    let mut out = Vec::new();
    // A doubt about a part is not settled by this recipe's measures.
    let own = !doubt.message.starts_with("in '");
    if doubt.code == DoubtCode::LocaleUnsure && own {
        let looks = if doubt.message.contains("Australian") {
            Locale::Au
        } else {
            Locale::Uk
        };
        out.push(Answer {
            words: format!("read it in {} measures", country(looks)),
            change: Change::Locale {
                locale: looks.key().to_owned(),
            },
            why: Some(format!(
                "cups, spoons and pints differ; {} are used now",
                country(locale)
            )),
        });
    }
    let words = match doubt.code {
        DoubtCode::LocaleUnsure => format!("keep {} measures", country(locale)),
        DoubtCode::MaybeMethod => "it is no step".to_owned(),
        DoubtCode::InMethodOnly => "it is not part of the food".to_owned(),
        DoubtCode::ComponentTwice => {
            let last = recipe.components.last().map_or("", |c| c.name.as_str());
            if last.is_empty() {
                "keep both".to_owned()
            } else {
                "keep both, numbered".to_owned()
            }
        }
        _ => "take it as read".to_owned(),
    };
    out.push(Answer {
        words,
        change: Change::AcceptWhole {
            code: doubt.code.code().to_owned(),
            yes: true,
        },
        why: None,
    });
    out
}

/// Answers to a doubt that came up in the rework of a component.
#[must_use]
pub fn answers_rework(doubt: &Doubt, component: &ReworkedComponent) -> Vec<Answer> {
    let mut out = Vec::new();
    if doubt.code == DoubtCode::StyleUnsure
        && let Some(choice) = component.style
    {
        let is = |style: Style| Answer {
            words: style.name().to_owned(),
            change: Change::Style {
                component: component.name.clone(),
                style: Some(style.key().to_owned()),
            },
            why: None,
        };
        let filling = Style::from_key("filling");
        let guessed = [Some(choice.style), choice.next].into_iter().flatten();
        out.extend(guessed.filter(|s| Some(*s) != filling).map(is));
        // The likely answer first: what is called so, or has hardly any flour. What is called a
        // crumb and looks like one has a style of its own.
        let crumb = choice.style.key() == "crumb_streusel" && is_crumb(&component.name);
        let likely = !crumb && (!component.is_dough() || component.goes_on_a_bake());
        if let Some(filling) = filling {
            let at = if likely { 0 } else { out.len() };
            out.insert(
                at,
                Answer {
                    why: Some(
                        "nothing of it is baked as dough: hidden gluten and what thickens it are swapped, the rest stays"
                            .to_owned(),
                    ),
                    ..is(filling)
                },
            );
        }
    }
    let (words, why) = match doubt.code {
        DoubtCode::StyleUnsure => ("leave it a guess", None),
        DoubtCode::NoWeight => (
            "leave it unweighed",
            Some("it is not replaced weight for weight"),
        ),
        DoubtCode::GumInMix => ("leave it so", None),
        DoubtCode::NoReplacement => (
            "I will see to it",
            Some("the line stays, and the screen goes on saying what is in it"),
        ),
        _ => ("take it as it is", None),
    };
    out.push(Answer {
        words: words.to_owned(),
        change: Change::AcceptWhole {
            code: doubt.code.code().to_owned(),
            yes: true,
        },
        why: why.map(str::to_owned),
    });
    out
}

/// Answers to whether a bought mix holds gum: what its label says is written behind it.
///
/// # Arguments
/// * `recipe` — the recipe as worked: of [`super::Worked::formula`].
/// * `at` — the component's place in it.
#[must_use]
pub fn answers_gum(
    doubt: &Doubt,
    recipe: &Recipe,
    at: usize,
    component: &ReworkedComponent,
) -> Vec<Answer> {
    let mix = component.binding.as_ref().and_then(|b| b.asks());
    let line = mix
        .and_then(|m| component.lines.get(m.line?)?.origin)
        .and_then(|(l, _)| Some((l, recipe.components.get(at)?.lines.get(l)?)))
        .filter(|(_, line)| line.items.len() == 1);
    let mut out = Vec::new();
    if let Some((l, line)) = line {
        let says = |words: &str, behind: &str, why: &str| Answer {
            words: words.to_owned(),
            change: Change::ReadAs {
                line: key_of(recipe, at, l),
                text: Some(format!("{}, {behind}", line.clean.trim())),
            },
            why: Some(why.to_owned()),
        };
        out.push(says(
            "it holds gum",
            "with gum in it",
            "no gum is added for its share of the flour",
        ));
        out.push(says(
            "it holds none",
            "without gum",
            "the binder is worked out on all of the flour",
        ));
    }
    out.extend(answers_rework(doubt, component));
    out
}

fn country(locale: Locale) -> &'static str {
    match locale {
        Locale::Us => "US",
        Locale::Metric => "metric",
        Locale::Uk => "British",
        Locale::Au => "Australian",
    }
}

/// The place of the ingredient a doubt is about.
fn item_of(doubt: &Doubt, line: &Line) -> usize {
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
            Change::Food { food, .. } => decision.food.clone_from(food),
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
        !line
            .doubts
            .iter()
            .chain(&weighing)
            .any(|d| d.code == self.doubt.code)
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
            D::BackwardRange => self.swapped().into_iter().collect(),
            D::MinusSign => {
                let text = self.line.clean.trim_start();
                let text = text.trim_start_matches(['-', '−', '–']).trim_start();
                vec![self.read_as(text, text)]
            }
            D::ComponentMissing => self.components(recipe),
            D::UnlikelyAmount => {
                let named = |meant: &String| {
                    let name = self.line.words(&self.item()?.name);
                    let words = format!("{meant} {}", name.trim());
                    Some(self.read_as(words, self.replaced(&format!("{meant} "))?))
                };
                self.doubt.meant.iter().filter_map(named).collect()
            }
            _ => Vec::new(),
        }
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
        if self.item == 0 {
            return all.map(|f| self.food(f)).collect();
        }
        // A decision's food is that of the first ingredient: others are named in words.
        all.filter_map(|f| {
            let name = &self.larder.food(f).name;
            let text = splice(&self.line.clean, item.name.clone(), &format!("{name} "))?;
            Some(self.read_as(name, text))
        })
        .collect()
    }

    fn ounces(&self) -> Vec<Answer> {
        let Some(amount) = self.amount() else {
            return Vec::new();
        };
        let shown = self.line.words(&amount.span).trim();
        let cut = shown
            .char_indices()
            .rev()
            .take_while(|(_, c)| c.is_alphabetic() || *c == '.')
            .last()
            .map_or(shown.len(), |(i, _)| i);
        let number = shown[..cut].trim_end_matches([' ', '-']);
        let mut out = Vec::new();
        let grams = |n: f64| tidy(n * 28.349_523_125);
        let weight = if amount.low < amount.high {
            format!("{}-{} g", grams(amount.low), grams(amount.high))
        } else {
            format!("{} g", grams(amount.low))
        };
        if let Some(text) = self.replaced(&weight) {
            let words = format!("{number} oz by weight, {weight}");
            out.push(self.read_as(words, text));
        }
        if let Some(text) = self.replaced(&format!("{number} fl oz")) {
            let mut answer = self.read_as(format!("{number} fl oz"), text);
            answer.why = Some("many books mean fluid ounces of a liquid".to_owned());
            out.push(answer);
        }
        out
    }

    /// Units for a bare number, by what the food does.
    fn units(&self) -> Vec<Answer> {
        use Function as F;
        let bare = self
            .item()
            .and_then(|i| i.amounts.iter().find(|a| a.bare && a.unit.is_none()));
        let Some(number) = bare.map(Amount::middle) else {
            return Vec::new();
        };
        let function = self
            .item()
            .and_then(|i| i.food.as_ref())
            .map(|m| self.larder.food(m.food).function());
        let large = number > 12.0;
        let units: &[&str] = match function {
            Some(F::Liquid | F::Water | F::Dairy | F::Alcohol) if large => &["ml", "g"],
            Some(F::Liquid | F::Water | F::Dairy | F::Alcohol) => &["cup", "tbsp", "dl"],
            _ if large => &["g", "ml"],
            Some(
                F::Leavening
                | F::Yeast
                | F::Salt
                | F::Spice
                | F::Flavour
                | F::Binder
                | F::Acid
                | F::Colour,
            ) => &["tsp", "tbsp", "g"],
            Some(F::Fat) => &["tbsp", "cup", "oz"],
            Some(F::Syrup) => &["tbsp", "cup"],
            _ => &["cup", "tbsp", "oz"],
        };
        let shown = self.shown().to_owned();
        units
            .iter()
            .filter_map(|unit| {
                let many = *unit == "cup" && number > 1.0;
                let words = format!("{shown} {unit}{}", if many { "s" } else { "" });
                let text = self.replaced(&format!("{words} "))?;
                Some(self.read_as(words, text))
            })
            .collect()
    }

    /// Spoons and cups for a measure without a size, to choose from.
    fn loose(&self) -> Vec<Answer> {
        let (loose, count) = match self.amount() {
            Some(a) => (a.loose.as_deref().unwrap_or_default(), a.middle()),
            // 'a little', 'some': no amount at all, and little of it.
            None if self.doubt.code == DoubtCode::LooseMeasure => ("splash", 1.0),
            None => return Vec::new(),
        };
        if count.fract() != 0.0 || !(1.0..=4.0).contains(&count) {
            return Vec::new();
        }
        let spoons = [
            "knob", "glug", "splash", "dollop", "drizzle", "pat", "lump", "spoonful", "blob",
        ];
        let measures: &[(f64, &str)] = match loose.trim_end_matches('s') {
            w if spoons.contains(&w) => &[(1.0, "tbsp"), (1.0, "tsp")],
            "handful" => &[(0.25, "cup"), (0.5, "cup")],
            _ => &[],
        };
        measures
            .iter()
            .filter_map(|(one, unit)| {
                let measure = match one * count {
                    n if n.fract() == 0.0 => format!("{n} {unit}"),
                    0.25 => format!("1/4 {unit}"),
                    0.5 => format!("1/2 {unit}"),
                    0.75 => format!("3/4 {unit}"),
                    n => format!("{n} {unit}"),
                };
                let text = self.replaced(&format!("{measure} "))?;
                let (weighed, _) = weigh::line(&self.reader.line(&text), self.larder, self.locale);
                let first = weighed.first()?;
                let grams = tidy(first.grams?.likely().as_grams());
                let mut answer = self.read_as(format!("as {measure}, {grams} g"), text);
                answer.why = first.basis.as_ref().map(weigh::Basis::words);
                Some(answer)
            })
            .collect()
    }

    /// A size behind several packets: of all, or of each.
    fn sizes(&self) -> Vec<Answer> {
        let sized = self.item().zip(self.amount()).and_then(|(i, a)| {
            let size = i.amounts.iter().find(|s| s.role == Role::Size)?;
            Some((a, size))
        });
        let Some((amount, size)) = sized else {
            return Vec::new();
        };
        let text = &self.line.clean;
        let words = self.line.words(&size.span).trim().to_owned();
        let rest = without(text, vec![amount.span.clone(), size.span.clone()]);
        let all = self.read_as(format!("{words} in all"), format!("{words} {rest}"));
        let each = splice(text, size.span.clone(), &format!("{words} each"))
            .map(|text| self.read_as(format!("{words} each"), text));
        std::iter::once(all).chain(each).collect()
    }

    /// The measure without 'heaped' or 'scant'.
    fn level(&self) -> Option<Answer> {
        let kept: Vec<&str> = self
            .shown()
            .split_whitespace()
            .filter(|w| {
                let w = w.to_lowercase();
                !["heap", "scant", "generous", "round", "brimming", "good"]
                    .iter()
                    .any(|f| w.starts_with(f))
            })
            .collect();
        let words = kept.join(" ");
        let text = self.replaced(&format!("{words} "))?;
        Some(self.read_as(format!("{words}, level"), text))
    }

    /// Weights the larder knows, for a measure that has none of its own.
    fn usual(&self) -> Vec<Answer> {
        let Some(item) = self.item() else {
            return Vec::new();
        };
        let (weighed, _) = weigh::line(self.line, self.larder, self.locale);
        let mut out = Vec::new();
        let at = self.line.at_place(place_of(self.doubt, self.line));
        if let Some(w) = weighed.iter().find(|w| Some((w.item, w.part)) == at)
            && let Some(g) = w.grams
            && w.basis != Some(weigh::Basis::Own)
        {
            let why = w.basis.as_ref().map_or(String::new(), weigh::Basis::words);
            let g = tidy(g.likely().as_grams());
            out.extend(self.grams(g, format!("{g} g"), &why));
            return out;
        }
        if at.is_some_and(|(_, part)| part > 0) {
            return out;
        }
        let (Some(food), Some(amount)) = (&item.food, item.amounts.first()) else {
            return out;
        };
        let count = if amount.middle().is_finite() {
            amount.middle()
        } else {
            1.0
        };
        let words: &[&str] = match amount.unit {
            Some(Unit::Packet) => &["packet", "sachet"],
            Some(Unit::Can) => &["can"],
            Some(u) if u.kind() != UnitKind::Piece => &[],
            // A bunch is no sprig and a knob no stick.
            None if amount.loose.is_some() => &[],
            _ => &[
                "each", "medium", "large", "small", "slice", "sprig", "stick",
            ],
        };
        for word in words {
            let Some(m) = self.larder.measure_in(food.food, word, self.locale) else {
                continue;
            };
            let g = tidy(m.grams.likely().as_grams() * count);
            let one = match *word {
                "each" => "one".to_owned(),
                "medium" | "large" | "small" => format!("a {word} one"),
                w => format!("a {w}"),
            };
            let why = format!(
                "{one} weighs {} g, {}",
                tidy(m.grams.likely().as_grams()),
                m.source
            );
            out.extend(self.grams(g, format!("{g} g"), &why));
            if out.len() == 3 {
                break;
            }
        }
        out
    }

    /// Each of two stated amounts, alone.
    fn twins(&self) -> Vec<Answer> {
        let Some(item) = self.item() else {
            return Vec::new();
        };
        let text = &self.line.clean;
        let twin = |a: &&Amount| a.role == Role::Twin;
        let others: Vec<Range<usize>> = item
            .amounts
            .iter()
            .filter(|a| !twin(a))
            .map(|a| a.span.clone())
            .collect();
        let mut out = Vec::new();
        let twins: Vec<&str> = item
            .amounts
            .iter()
            .filter(twin)
            .map(|t| self.line.words(&t.span).trim())
            .collect();
        if !twins.is_empty() {
            // Alone, it stands before the name. '1 lb 8 oz' is one amount.
            let spans = item.amounts.iter().map(|a| a.span.clone());
            let words = twins.join(" ");
            let rest = without(text, spans.collect());
            out.push(self.read_as(format!("go by {words}"), format!("{words} {rest}")));
        }
        if !others.is_empty() {
            let spans = item.amounts.iter().filter(twin).map(|a| a.span.clone());
            let rest = without(text, spans.collect());
            let words: Vec<&str> = others.iter().map(|s| self.line.words(s).trim()).collect();
            out.push(self.read_as(format!("go by {}", words.join(" ")), rest));
        }
        // Two main amounts: each without the other.
        let mains: Vec<&Amount> = item
            .amounts
            .iter()
            .filter(|a| a.role == Role::Main)
            .collect();
        if mains.len() > 1 {
            for keep in &mains {
                let cut = mains
                    .iter()
                    .filter(|a| !std::ptr::eq(**a, *keep))
                    .map(|a| a.span.clone());
                let words = self.line.words(&keep.span).trim();
                let rest = without(text, cut.collect());
                out.push(self.read_as(format!("go by {words}"), rest));
            }
        }
        let mass = |a: &Answer| {
            let w = a.words.trim_end();
            w.ends_with('g') || w.ends_with("grams")
        };
        out.sort_by_key(|a| !mass(a));
        out
    }

    /// '5–4 cups' as '4–5 cups'.
    fn swapped(&self) -> Option<Answer> {
        let shown = self.shown();
        let unit = |s: &str| {
            s.rfind(|c: char| c.is_numeric()).map_or(s.len(), |i| {
                i + s[i..].chars().next().map_or(0, char::len_utf8)
            })
        };
        for divider in ["–", "—", "-", " to ", " or "] {
            let Some((left, right)) = shown.split_once(divider) else {
                continue;
            };
            let end = unit(right);
            let (right, rest) = (right[..end].trim(), &right[end..]);
            // '5 cups to 4 cups': the unit goes with its number.
            let left_end = unit(left);
            let (left, first) = (left[..left_end].trim(), left[left_end..].trim_end());
            let words = format!("{right}{first}{divider}{left}{rest}");
            let text = self.replaced(&words)?;
            return Some(self.read_as(words, text));
        }
        None
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

    /// 'It is no ingredient', of a line that may be a remark.
    fn no_ingredient(&self) -> Option<Answer> {
        use DoubtCode as D;
        let may = matches!(
            self.doubt.code,
            D::UnknownIngredient | D::NoAmount | D::NamePartlyKnown
        );
        may.then(|| Answer {
            words: "it is no ingredient".to_owned(),
            change: Change::ReadAs {
                line: self.key.clone(),
                text: Some(String::new()),
            },
            why: Some("the line is kept as a note; its words are still screened".to_owned()),
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
            D::NotInFormula => ("keep it out of the formula", None),
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

/// A text with a part replaced; `None` where the part is not whole characters of it.
fn splice(text: &str, span: Range<usize>, words: &str) -> Option<String> {
    let before = text.get(..span.start)?;
    let after = text.get(span.end..)?;
    let joined = format!("{before}{words}{after}");
    Some(joined.split_whitespace().collect::<Vec<_>>().join(" "))
}

/// A text without some parts of it, and without brackets and dividers left empty.
fn without(text: &str, mut spans: Vec<Range<usize>>) -> String {
    spans.sort_by_key(|s| std::cmp::Reverse(s.start));
    let mut out = text.to_owned();
    for span in spans {
        if out.get(span.clone()).is_some() {
            out.replace_range(span, " ");
        }
    }
    let mut last = String::new();
    while last != out {
        last.clone_from(&out);
        out = out.split_whitespace().collect::<Vec<_>>().join(" ");
        for (empty, whole) in [
            ("( )", " "),
            ("()", " "),
            ("[ ]", " "),
            ("[]", " "),
            ("(/ ", "("),
            (" /)", ")"),
            ("(, ", "("),
            (" / ", " "),
            (" = ", " "),
            (" | ", " "),
        ] {
            out = out.replace(empty, whole);
        }
        let ends = |c: char| matches!(c, '/' | '=' | '|' | ',' | ';' | ' ' | '–' | '-');
        out = out.trim_start_matches(ends).to_owned();
        out = out.trim_end_matches(ends).to_owned();
    }
    out
}
