//! What is asked of a rework, and what comes of it.

use super::balance::Balance;
use super::binder::Binding;
use super::blend::Blend;
use super::hold::Hold;
use super::hydration;
use super::left_out::StillHolds;
use super::method::{Gel, MethodNote};
use super::panful::Panful;
use super::pins::{HeldFigure, PinError, PinnedLine};
use super::style::Style;
use super::timing::RestTime;
use crate::weigh::{CountsAs, Formula, counted};
use crate::{Beforehand, Doubt, LeftOut, read::same_part};
use larder::{FoodId, Larder};
use quantity::{Mass, Ratio, Spread};
use std::collections::BTreeMap;

/// What the baker asks for.
#[derive(Debug, Clone, Default)]
pub struct Options {
    /// Styles given by hand: component name and style. An empty name means every component.
    pub styles: Vec<(String, Style)>,
    /// Blends given by hand: component name and key. An empty name means every component; the
    /// later of two for one component counts.
    pub blends: Vec<(String, String)>,
    /// The kitchen's own blends, looked up beside the house blends.
    pub own: Vec<Blend>,
    /// Lines and figures that are held; see [`Options::check`].
    pub pins: Vec<PinnedLine>,
    /// What is left out besides gluten, in every component.
    pub left_out: Vec<LeftOut>,
    /// A name means the one component that bears it, an empty one the component without a name.
    pub exact: bool,
    /// A hydration model in place of the shipped one: for measuring a fit that has not seen a
    /// source. `None` for the shipped one.
    pub model: Option<hydration::Model>,
}

impl Options {
    /// Whether a name given by hand means a component.
    pub(super) fn means(&self, given: &str, component: &str) -> bool {
        given == component || !self.exact && (given.is_empty() || same_part(given, component))
    }
}

/// The style a component was reworked as.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StyleChoice {
    /// The style.
    pub style: Style,
    /// 0 to 1; 1 when given by hand.
    pub confidence: f64,
    /// The next best guess.
    pub next: Option<Style>,
    /// Whether what it is called speaks for it, not its ratios alone.
    pub named: bool,
    /// What it is, where no style fits it; the style is then one that leaves it as it is.
    pub fits_none: Option<&'static str>,
}

/// A guess surer than this is taken; below it a doubt asks. By ratios alone 25 of the 60 guesses below it are right,
/// of published formulas, and 80 of the 100 above (`evidence -- styles`).
pub(super) const SURE: f64 = 0.6;

impl StyleChoice {
    /// Whether the baker is asked for the style.
    #[must_use]
    pub fn is_asked(&self) -> bool {
        self.next.is_some() && self.confidence < SURE
    }
    /// Whether nothing but the flour is changed until the baker has said the style: by its ratios it is as likely wrong as
    /// right, no name speaks for it, and the next best would be set otherwise.
    #[must_use]
    pub fn is_left_alone(&self) -> bool {
        let other = |next: Style| !self.style.is_kin_of(next);
        self.is_asked() && !self.named && self.fits_none.is_none() && self.next.is_some_and(other)
    }
    /// What it was taken for and how surely, in words.
    #[must_use]
    pub fn words(&self) -> String {
        let name = self.style.name();
        if let Some(what) = self.fits_none {
            return format!("no style fits: {what}. Taken as a filling");
        }
        let Some(next) = self.next else {
            return format!("{name} (as you said)");
        };
        let sure = (self.confidence * 100.0).round();
        if self.is_left_alone() {
            format!(
                "not sure: most like {name} ({sure:.0} % sure), perhaps {}. Until you say it only the flour is changed",
                next.name()
            )
        } else if sure < 90.0 {
            format!("{name} ({sure:.0} % sure; else {})", next.name())
        } else {
            name.to_owned()
        }
    }
}

/// One change, as data.
#[derive(Debug, Clone, PartialEq)]
pub struct Change {
    /// What was changed: `flour`, `water`, `binder`, `yeast` …
    pub what: String,
    /// What it was.
    pub from: String,
    /// What it is.
    pub to: String,
    /// The range it may move in, where the style has one.
    pub range: Option<String>,
    /// The rule in one sentence.
    pub rule: String,
    /// Where the rule and its figures come from.
    pub source: String,
    /// The arithmetic, a line each, with the figures in it: `308.9 g ÷ 500 g = 61.8 %`. Every
    /// figure is one that is shown or follows from those before it; see [`super::sums`].
    pub sums: Vec<String>,
}

impl Change {
    /// Puts the arithmetic to it, a line each; after those it has.
    pub(super) fn sums(&mut self, lines: impl IntoIterator<Item = String>) -> &mut Self {
        self.sums.extend(lines);
        self
    }
}

/// Whether a line is the original's or new.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kept {
    /// As it was.
    Same,
    /// Another food or another amount.
    Changed,
    /// Not in the original.
    New,
    /// In the original only: left out, or merged into another line.
    Dropped,
}

/// A line of the reworked component.
#[derive(Debug, Clone, PartialEq)]
pub struct ReworkedLine {
    /// Its key inside the component, the same however the recipe is solved: `blend`, the food's
    /// key in the larder, `use:NAME` for a component, else its words in lower case; a second line
    /// of one key ends in `#2`.
    pub key: String,
    /// The original line and item, where there is one.
    pub origin: Option<(usize, usize)>,
    /// What became of it.
    pub kept: Kept,
    /// Its name.
    pub name: String,
    /// The food; `None` for a blend, a component or what the larder does not know.
    pub food: Option<FoodId>,
    /// The component used.
    pub component: Option<usize>,
    /// The line is the house blend.
    pub blend: bool,
    /// Grams; `None` where the original could not be weighed.
    pub grams: Option<Spread<Mass>>,
    /// Times the original's words: other than 1 only in a batch of another size, for a line that has
    /// no grams to be sized.
    pub times: f64,
    /// Its grams are held by the baker.
    pub held: bool,
    /// Of a held line: what it would be if it were not held. `None` where it has no weight then.
    pub pinned: Option<Spread<Mass>>,
    /// Percent of the flour phase.
    pub percent: Option<Spread<Ratio>>,
    /// Part of the formula, or only for the bench and the pan.
    pub in_formula: bool,
    /// Bought labelled gluten-free.
    pub labelled: bool,
    /// A remark for the baker.
    pub note: Option<String>,
    /// What its food counts as in the balance, where the method changes it first: butter that is browned.
    pub counts_as: Option<CountsAs>,
}

impl ReworkedLine {
    /// A line that the original does not have, in the formula.
    pub(super) fn added(food: FoodId, grams: Option<Spread<Mass>>, larder: &Larder) -> Self {
        Self {
            key: String::new(),
            origin: None,
            kept: Kept::New,
            name: larder.food(food).name.clone(),
            food: Some(food),
            component: None,
            blend: false,
            grams,
            times: 1.0,
            held: false,
            pinned: None,
            percent: None,
            in_formula: true,
            labelled: false,
            note: None,
            counts_as: None,
        }
    }

    /// The food and the grams of it that count in the balance.
    #[must_use]
    pub fn counted(&self) -> Option<(FoodId, Spread<Mass>)> {
        Some(counted(self.food?, self.grams?, self.counts_as))
    }

    /// The words of an amount that has no grams, in the size of the batch: `2 × 1 tsp`.
    #[must_use]
    pub fn sized(&self, words: String) -> String {
        if (self.times - 1.0).abs() < 1e-9 {
            return words;
        }
        let times = (self.times * 1000.0).round() / 1000.0;
        format!("{times} × {words}")
    }

    /// Marks that its amount moved; what is new stays new.
    pub(super) fn was_changed(&mut self) {
        if self.kept == Kept::Same {
            self.kept = Kept::Changed;
        }
    }
}

/// A component, reworked.
#[derive(Debug, Clone, PartialEq)]
pub struct ReworkedComponent {
    /// Its name.
    pub name: String,
    /// What of a dough is begun with it, where it is a preferment or the like.
    pub beforehand: Option<Beforehand>,
    /// Its style; `None` without flour.
    pub style: Option<StyleChoice>,
    /// The blend in it.
    pub blend: Option<Blend>,
    /// Its lines, dropped ones among them.
    pub lines: Vec<ReworkedLine>,
    /// The balance before.
    pub original: Balance,
    /// The balance after.
    pub reworked: Balance,
    /// What the fitted model expects, where there is flour.
    pub expected: Option<hydration::Expectation>,
    /// What holds it together; `None` without flour, and of sauces and fillings.
    pub binding: Option<Binding>,
    /// What still holds, or may hold, what is left out.
    pub still_holds: Vec<StillHolds>,
    /// What was changed and why.
    pub changes: Vec<Change>,
    /// What to do differently.
    pub method_notes: Vec<MethodNote>,
    /// How its psyllium gels; `None` where it has none.
    pub gel: Option<Gel>,
    /// The rest it is to have, as figures; `None` where its style has none.
    pub rest: Option<RestTime>,
    /// Whether what is raw in it is perishable: egg or milk is in it.
    pub holds_egg_or_milk: bool,
    /// The foods in it that make it so.
    pub spoils: Vec<FoodId>,
    /// Names of its lines of meat and fish, whose hours no plan counts.
    pub meat: Vec<String>,
    /// The share of it that is grain, pulses, potatoes or other vegetables, where that is so much that it spoils in the warm
    /// once it is cooked; in a dough only until that is mixed.
    pub spoils_once_cooked: Option<f64>,
    /// A pastry whose filling stands in its own list: vegetables and the like, or much egg and milk. It stays moist.
    pub holds_its_filling: bool,
    /// It keeps for hours all the same, as it is: no egg, and three fifths of it or more are sugar,
    /// as in a glaze with a spoon of milk (common practice, no source).
    pub keeps: bool,
    /// Its soda softens fruit that is soaked with it: it stays as it is.
    pub softens: bool,
    /// What it makes, raw.
    pub makes: Spread<Mass>,
    /// What other components use of it.
    pub used: Option<Spread<Mass>>,
    /// What is left over.
    pub left: Option<Spread<Mass>>,
    /// Doubts of this component's rework.
    pub doubts: Vec<Doubt>,
    /// What its lines and figures are held at, by key; those that are not there among them.
    pub holds: BTreeMap<String, Hold>,
    /// Its held figures.
    pub figures: Vec<HeldFigure>,
    /// Whether the baker holds the hydration or a liquid: the wetness is not ours then.
    pub wetness_held: bool,
    /// What is held and cannot be, or not together.
    pub clashes: Vec<PinError>,
}

/// A recipe, reworked.
#[derive(Debug, Clone, PartialEq)]
pub struct Rework {
    /// The formula it started from.
    pub formula: Formula,
    /// Its components, in the recipe's order.
    pub components: Vec<ReworkedComponent>,
    /// What was to be left out besides gluten, each once; see [`Rework::left_out`].
    pub left_out: Vec<LeftOut>,
    /// Held lines that are not there any more.
    pub idle_pins: Vec<PinnedLine>,
    /// What goes into a pan with each component, by place.
    pub(super) panfuls: Vec<Panful>,
}

impl Rework {
    /// What is held and cannot be, or not together, each as one sentence that names both sides.
    /// Where lines clash with a figure, the lines are kept.
    pub fn clashes(&self) -> impl Iterator<Item = &PinError> {
        self.components.iter().flat_map(|c| &c.clashes)
    }
}
