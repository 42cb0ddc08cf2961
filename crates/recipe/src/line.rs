//! What was read of one line.

use crate::{Doubt, DoubtCode};
use larder::{FoodId, Match, Qualities};
use quantity::{Locale, Mass, Unit, UnitKind};
use std::collections::BTreeMap;
use std::ops::Range;

/// What a line of the ingredient list is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LineKind {
    /// One or more ingredients.
    Ingredient,
    /// The name of a component.
    Heading,
    /// Anything else: kept, not used.
    Note,
}

impl LineKind {
    /// The word in machine-readable output.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Ingredient => "ingredient",
            Self::Heading => "heading",
            Self::Note => "note",
        }
    }
}

/// What an amount is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Role {
    /// The amount itself.
    Main,
    /// Added to the main amount: 'plus 2 tablespoons'.
    Plus,
    /// The same amount said another way: '(120 g)'.
    Twin,
    /// The size of one can, packet or piece: '2 (14-ounce) cans'.
    Size,
}

impl Role {
    /// The word in machine-readable output.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Main => "main",
            Self::Plus => "plus",
            Self::Twin => "twin",
            Self::Size => "size",
        }
    }
}

/// How full a measure is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Filling {
    /// Level, or not said.
    Level,
    /// A little short.
    Scant,
    /// A little over.
    Generous,
    /// Heaped.
    Heaped,
    /// Rounded.
    Rounded,
}

/// An amount as read.
#[derive(Debug, Clone, PartialEq)]
pub struct Amount {
    /// The lower number.
    pub low: f64,
    /// The higher number; the same unless a range was written.
    pub high: f64,
    /// The unit; `None` for loose measures ('a knob') and numbers of what is not counted.
    pub unit: Option<Unit>,
    /// What it is for.
    pub role: Role,
    /// How full the measure is.
    pub filling: Filling,
    /// Millilitres of one, where an old measure is not the unit's own volume.
    pub old_millilitres: Option<f64>,
    /// The loose measure's word: `knob`, `bunch`, `square`.
    pub loose: Option<String>,
    /// Measures of another country named on the line: 'imperial pint', 'metric cup'.
    pub locale: Option<Locale>,
    /// Another food than the line's: '3 eggs plus 1 yolk'.
    pub of: Option<FoodId>,
    /// The number stands before a name of food without a unit.
    pub bare: bool,
    /// The range was written from high to low.
    pub backward: bool,
    /// Not part of the formula: 'plus 2 tbsp for dusting'.
    pub aside: bool,
    /// Bytes of the line.
    pub span: Range<usize>,
}

impl Amount {
    /// One of something, at these bytes of a line.
    pub(crate) fn one(span: Range<usize>) -> Self {
        Self {
            low: 1.0,
            high: 1.0,
            unit: None,
            role: Role::Main,
            filling: Filling::Level,
            old_millilitres: None,
            loose: None,
            locale: None,
            of: None,
            bare: false,
            backward: false,
            aside: false,
            span,
        }
    }
    /// The middle of the range.
    #[must_use]
    pub fn middle(&self) -> f64 {
        f64::midpoint(self.low, self.high)
    }
}

/// What an ingredient is for, beside being in the component.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Purpose {
    /// It is part of the formula.
    Formula,
    /// Dusting the bench, rolling, coating.
    Dusting,
    /// Greasing, brushing the tin, frying.
    Pan,
    /// Brushing or glazing the bake: egg wash.
    Brushing,
    /// Put on or in after the bake: jam, cream, icing.
    Finishing,
    /// To serve or decorate.
    Serving,
}

/// What a line beside the formula is for where its words do not say.
pub const BESIDE: &str = "for the bench or the pan";

impl Purpose {
    /// The words on screens; `None` for what is part of the formula.
    #[must_use]
    pub fn words(self) -> Option<&'static str> {
        match self {
            Self::Formula => None,
            Self::Dusting => Some("for dusting"),
            Self::Pan => Some("for the pan"),
            Self::Brushing => Some("for brushing"),
            Self::Finishing => Some("to finish"),
            Self::Serving => Some("to serve"),
        }
    }
}

/// A use of another component: '75 g of the crumbs', 'half the dough', 'remaining glaze'.
#[derive(Debug, Clone, PartialEq)]
pub struct Reference {
    /// The words that name the component.
    pub name: String,
    /// How much of it.
    pub share: Share,
    /// Bytes of the line.
    pub span: Range<usize>,
}

/// How much of a component is used.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Share {
    /// The line's own amounts say.
    Amount,
    /// A part of what the component makes; 1 is all of it.
    Part(f64),
    /// What is left after the other uses.
    Rest,
}

/// One ingredient of a line.
#[derive(Debug, Clone, PartialEq)]
pub struct Item {
    /// Amounts in the order written.
    pub amounts: Vec<Amount>,
    /// Bytes of the line that name it.
    pub name: Range<usize>,
    /// The food found, with its span in the line.
    pub food: Option<Match>,
    /// Foods offered instead.
    pub alternatives: Vec<FoodId>,
    /// Bytes of the line that name choices which the larder does not know.
    pub strangers: Vec<Range<usize>>,
    /// State, size and label words.
    pub qualities: Qualities,
    /// What it is for.
    pub purpose: Purpose,
    /// A use of another component.
    pub reference: Option<Reference>,
    /// 'optional' stands on the line.
    pub optional: bool,
    /// What the baker weighed, over all amounts written: the ingredient itself at 0, then the
    /// further foods of its amounts, in their order.
    pub own_grams: BTreeMap<usize, Mass>,
}

impl Item {
    /// Its amounts of further foods: the yolk of '3 eggs plus 1 yolk'.
    pub fn further(&self) -> impl Iterator<Item = (FoodId, &Amount)> {
        let plus = |a: &&Amount| a.role == Role::Plus && !a.aside;
        let amounts = self.amounts.iter().filter(plus);
        amounts.filter_map(|a| Some((a.of?, a)))
    }
    /// Whether it is a known food whose first amount is a weight or a volume.
    pub(crate) fn is_measured(&self) -> bool {
        let unit = self.amounts.first().and_then(|a| a.unit);
        let measures = |u: Unit| matches!(u.kind(), UnitKind::Mass | UnitKind::Volume);
        self.food.is_some() && unit.is_some_and(measures)
    }
    /// How many times all that a component makes it is: 1 of '1 quantity', a half of '½ batch'.
    pub(crate) fn whole_parts(&self) -> Option<f64> {
        let [only] = self.amounts.as_slice() else {
            return None;
        };
        let whole = |w: &str| {
            matches!(
                w,
                "batch" | "batches" | "quantity" | "quantities" | "recipe" | "recipes"
            )
        };
        only.loose
            .as_deref()
            .is_some_and(whole)
            .then(|| only.middle())
    }
    /// Where its words begin.
    pub(crate) fn start(&self) -> usize {
        let amounts = self.amounts.iter().map(|a| a.span.start);
        amounts.chain([self.name.start]).min().unwrap_or(0)
    }
}

/// Doubts about which food a name means.
const OF_THE_NAME: [DoubtCode; 6] = [
    DoubtCode::UnknownIngredient,
    DoubtCode::NamePartlyKnown,
    DoubtCode::NameTie,
    DoubtCode::NameNear,
    DoubtCode::NameByLocale,
    DoubtCode::Alternative,
];

/// One line, read. Its text is kept for ever.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// The text as pasted.
    pub text: String,
    /// The text that spans point into: HTML entities read, otherwise the same.
    pub clean: String,
    /// Line number in the pasted text, from 1; 0 when it came from a data block.
    pub number: usize,
    /// What it is.
    pub kind: LineKind,
    /// The component a heading names, or the one an ingredient line names for itself
    /// ('Egg wash: 1 egg').
    pub heading: Option<String>,
    /// Its ingredients; empty for headings and notes.
    pub items: Vec<Item>,
    /// What is unsure.
    pub doubts: Vec<Doubt>,
    /// The words the baker had it read as, in place of the text.
    pub read_as: Option<String>,
    /// The text with its entities read, where a decision on its words or its food stands over
    /// it. Screening looks at these words too.
    pub over: Option<String>,
    /// Doubts taken as read, of reading and of weighing.
    pub settled: Vec<Doubt>,
}

impl Line {
    /// Where each thing to weigh on the line stands, in order: the item's place, and which of its
    /// foods it is, 0 for the item's own.
    fn weighable(&self) -> impl Iterator<Item = (usize, usize)> {
        let items = self.items.iter().enumerate();
        items.flat_map(|(i, item)| (0..=item.further().count()).map(move |part| (i, part)))
    }
    /// The place, among all that is weighed on the line, of an item's food.
    #[must_use]
    pub fn place_of(&self, item: usize, part: usize) -> usize {
        let mut all = self.weighable();
        all.position(|at| at == (item, part)).unwrap_or(0)
    }
    /// The item and the food of it at a place.
    #[must_use]
    pub fn at_place(&self, place: usize) -> Option<(usize, usize)> {
        self.weighable().nth(place)
    }
    /// The bytes in which doubts are about an item: up to the next one's words; the first has those
    /// before it too.
    pub(crate) fn reach(&self, item: usize) -> Range<usize> {
        // Two foods of one amount, 'half rice and half wheat', begin at their names.
        let shares = |i: usize| {
            let before = i.checked_sub(1).and_then(|b| self.items.get(b));
            before.is_some_and(|b| b.start() == self.items[i].start())
        };
        let start = |i: usize| {
            let item = self.items.get(i)?;
            Some(if shares(i) {
                item.name.start
            } else {
                item.start()
            })
        };
        let from = if item == 0 { Some(0) } else { start(item) };
        from.unwrap_or(usize::MAX)..start(item + 1).unwrap_or(usize::MAX)
    }
    /// Drops doubts about which food an item's name means, once that is known.
    pub(crate) fn drop_doubts_of_name(&mut self, item: usize) {
        let reach = self.reach(item);
        self.doubts.retain(|d| {
            let at = d.span.as_ref().map_or(0, |s| s.start);
            !(OF_THE_NAME.contains(&d.code) && reach.contains(&at))
        });
    }
    /// Drops the doubt about a measure of no fixed size that counts a component.
    pub(crate) fn drop_doubts_of_whole_parts(&mut self, item: usize) {
        let reach = self.reach(item);
        if self.items.get(item).and_then(Item::whole_parts).is_none() {
            return;
        }
        self.doubts.retain(|d| {
            let at = d.span.as_ref().map_or(0, |s| s.start);
            d.code != DoubtCode::LooseMeasure || !reach.contains(&at)
        });
    }
    /// The text without the mark of a list before it: '500 g plums' of '- 500 g plums'.
    #[must_use]
    pub fn bare(&self) -> &str {
        let mark =
            |c: char| c.is_whitespace() || matches!(c, '•' | '·' | '-' | '–' | '*' | '☐' | '▢');
        self.clean.trim_start_matches(mark).trim_end()
    }
    /// The words of a span.
    #[must_use]
    pub fn words(&self, span: &Range<usize>) -> &str {
        self.clean.get(span.clone()).unwrap_or_default()
    }

    /// The names of its ingredients, as written: 'jam and cream'.
    pub(crate) fn named(&self) -> String {
        let names = self.items.iter().map(|i| self.words(&i.name).trim());
        names.collect::<Vec<_>>().join(" and ")
    }

    /// Sets items beside the formula, as the method does, and asks about it.
    pub(crate) fn set_aside(&mut self, items: Range<usize>, purpose: Purpose, says: String) {
        for item in &mut self.items[items] {
            item.purpose = purpose;
        }
        self.doubts.push(Doubt::new(DoubtCode::AsideByMethod, says));
    }

    /// Whether a doubt of this code stands on the line.
    #[must_use]
    pub fn doubts(&self, code: DoubtCode) -> bool {
        self.doubts.iter().any(|d| d.code == code)
    }

    /// Whether a doubt of this code was found on the line, settled since or not.
    #[must_use]
    pub fn found(&self, code: DoubtCode) -> bool {
        self.doubts(code) || self.settled.iter().any(|d| d.code == code)
    }
}
