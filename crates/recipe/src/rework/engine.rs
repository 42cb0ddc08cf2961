//! The rework of a formula, component by component.

use super::balance::Balance;
use super::blend::Blend;
use super::custard::{COATS, SET_BY_EGG};
use super::foods::{foods, names_meat};
use super::hold::{BINDER, HYDRATION};
use super::hydration;
use super::left_out::NoWay;
use super::method::{About, Gel, notes};
use super::pins::{HeldFigure, PinError, Pins};
use super::reworked::{Change, Kept, Options, ReworkedComponent, ReworkedLine, SURE, StyleChoice};
use super::style::{Guess, Ratios, Style, guess};
use super::timing::RestTime;
use crate::household::{is_fine, percent, weight};
use crate::recipe::Step;
use crate::weigh::{Formula, Weighed, WeighedComponent};
use crate::{Beforehand, Doubt, DoubtCode, LeftOut};
use larder::{FoodId, Function, Larder};
use quantity::{Mass, Quantity, Spread};
use std::cell::OnceCell;

/// What a live starter counts for where the style is guessed, percent of the flour as dry yeast: well
/// inside the range of a bread (common practice, no source).
const LIKE_YEAST: f64 = 0.8;
/// The most that is believed of a style's guess where the component is no dough or batter.
pub(super) const UNSURE: f64 = 0.3;

/// The rework of one component, under way.
pub(super) struct Work<'a> {
    pub(super) at: usize,
    pub(super) formula: &'a Formula,
    pub(super) weighed: &'a WeighedComponent,
    /// The dough that takes it, where it is a preferment: it goes by that one's style and blend.
    ripens_for: Option<usize>,
    pub(super) larder: &'a Larder,
    pub(super) blend: Option<&'a Blend>,
    pub(super) style: Option<StyleChoice>,
    pub(super) lines: Vec<ReworkedLine>,
    pub(super) original: Balance,
    pub(super) changes: Vec<Change>,
    pub(super) rest_time: Option<RestTime>,
    pub(super) doubts: Vec<Doubt>,
    /// Original flour over the flour that is in it: above 1 where self-raising flour held powder.
    pub(super) flour_scale: f64,
    /// Components reworked before this one.
    pub(super) done: &'a [Option<ReworkedComponent>],
    pub(super) steps: Vec<&'a Step>,
    pub(super) pins: Pins,
    /// In place of the shipped hydration model.
    pub(super) model: Option<&'a hydration::Model>,
    pub(super) left_out: &'a [LeftOut],
    pub(super) no_way: Vec<NoWay>,
    /// Whether the lines have their keys.
    pub(super) keyed: bool,
    /// The flour phase that held percentages are of, g.
    pub(super) pin_flour: f64,
    /// Binders that are held and that the engine would not add.
    pub(super) extra: Vec<FoodId>,
    /// What cannot be held.
    pub(super) clashes: Vec<PinError>,
}

/// A percentage outside a range, with as many decimals as it takes to read as outside it.
pub(super) fn beyond_percent(value: f64, low: f64, high: f64) -> String {
    let outside = |s: &String| {
        let figure = s.trim_end_matches(" %").parse();
        figure.is_ok_and(|v: f64| v < low || v > high)
    };
    std::iter::once(percent(value))
        .chain((1..=2).map(|d| format!("{value:.d$} %")))
        .find(outside)
        .unwrap_or_else(|| {
            if value < low {
                format!("a trace under {low} %")
            } else {
                format!("a trace over {high} %")
            }
        })
}

/// What the components are reworked with.
pub(super) struct Given<'a> {
    pub(super) formula: &'a Formula,
    pub(super) larder: &'a Larder,
    pub(super) options: &'a Options,
    /// The house's and the kitchen's.
    pub(super) blends: &'a [Blend],
    /// The component of every step.
    pub(super) owners: &'a [usize],
    /// Blends that have to be made, by component.
    pub(super) made: &'a [OnceCell<Option<Blend>>],
}

impl<'a> Work<'a> {
    pub(super) fn new(
        at: usize,
        whole: &Given<'a>,
        done: &'a [Option<ReworkedComponent>],
        pins: Pins,
    ) -> Self {
        let &Given {
            formula,
            larder,
            options,
            blends,
            owners,
            made,
        } = whole;
        let weighed = &formula.components[at];
        let takes_it = |c: &WeighedComponent| c.items.iter().any(|w| w.component == Some(at));
        let ripens_for =
            formula
                .components
                .iter()
                .position(takes_it)
                .filter(|_| match weighed.beforehand {
                    Some(Beforehand::Ferment) => true,
                    // A soaker is steeped, not thickened: it is its dough's.
                    Some(Beforehand::Paste) => weighed.name.contains("soaker"),
                    None => false,
                });
        let original = Balance::of(&foods(formula, at), larder);
        let recipe = &formula.recipe;
        let alone = recipe.components.len() == 1;
        let own: Vec<&Step> = recipe
            .steps
            .iter()
            .zip(owners)
            .filter(|(_, c)| **c == at)
            .map(|(s, _)| s)
            .collect();
        let mut work = Self {
            at,
            formula,
            weighed,
            ripens_for,
            larder,
            blend: None,
            style: None,
            lines: Vec::new(),
            original,
            changes: Vec::new(),
            rest_time: None,
            doubts: Vec::new(),
            flour_scale: 1.0,
            done,
            steps: own,
            pins,
            model: options.model.as_ref(),
            left_out: &options.left_out,
            no_way: Vec::new(),
            keyed: false,
            pin_flour: 0.0,
            extra: Vec::new(),
            clashes: Vec::new(),
        };
        let given = options
            .styles
            .iter()
            .rev()
            .find(|(name, _)| options.means(name, &weighed.name));
        let foam = given.is_none() && work.is_meringue();
        if work.original.flour.likely().value() > 0.0 && !foam {
            let of_dough = ripens_for
                .filter(|_| given.is_none())
                .and_then(|c| Work::new(c, whole, done, Pins::default()).style);
            let told = work.told();
            let choice = match (given, of_dough, told) {
                (_, Some(choice), _) => choice,
                (Some((_, style)), ..) => StyleChoice {
                    style: *style,
                    confidence: 1.0,
                    next: None,
                    named: true,
                    fits_none: None,
                },
                (None, None, Some(choice)) => choice,
                (None, None, None) => {
                    let title = recipe.title.clone().unwrap_or_default();
                    let near = if weighed.name.is_empty() {
                        title.clone()
                    } else {
                        weighed.name.clone()
                    };
                    // The title is of what comes first, but for what begins it.
                    let mut wholes = formula.components.iter();
                    let first = wholes.position(|c| c.beforehand.is_none());
                    let about = if alone || first == Some(at) {
                        title
                    } else {
                        String::new()
                    };
                    let far: String = work
                        .steps
                        .iter()
                        .map(|s| s.text.as_str())
                        .collect::<Vec<_>>()
                        .join(" ")
                        + " "
                        + &about;
                    let Guess {
                        style,
                        confidence,
                        next,
                    } = work.as_called(work.guessed(&foods(formula, at), &near, &far), &near);
                    let by_egg = Style::from_key("filling").filter(|_| work.is_set_by_egg(style));
                    // Ratios speak of the flour; here there is next to none.
                    let most = if by_egg.is_some() || work.no_batter(style).is_some() {
                        UNSURE
                    } else if work.has_unpublished_egg(style) {
                        SURE
                    } else {
                        1.0
                    };
                    let coats = Style::from_key("filling")
                        .filter(|_| !style.is_thickened() && work.coats_meat());
                    let none = coats.map(|s| (s, COATS));
                    let none = none.or(by_egg.map(|s| (s, SET_BY_EGG)));
                    StyleChoice {
                        style: none.map_or(style, |n| n.0),
                        confidence: if coats.is_some() {
                            confidence.min(UNSURE)
                        } else {
                            confidence.min(most)
                        },
                        next: Some(if none.is_some() { style } else { next }),
                        named: work.is_named(style, &format!("{near} {about}")),
                        fits_none: none.map(|n| n.1),
                    }
                }
            };
            work.style = Some(choice);
            let chosen = work.choose_blend(choice, options, blends);
            work.blend = chosen.map(|b| work.fitting(b, blends, &made[at]));
        }
        work
    }

    /// The style by all that is in it, or, where that is surer, by what is left without its fruit.
    fn guessed(&self, lines: &[(FoodId, Spread<Mass>)], near: &str, far: &str) -> Guess {
        // Meat lies in it: its fat is none of the batter's.
        let is_meat = |f: FoodId| self.larder.food(f).function() == Function::Meat;
        let lines: Vec<_> = lines.iter().copied().filter(|l| !is_meat(l.0)).collect();
        let ratios = Balance::of(&lines, self.larder).ratios();
        let whole = guess(&self.risen(ratios), near, far);
        let bare = Balance::ratios_without_fruit(&lines, self.larder);
        let bare = bare.map(|ratios| guess(&self.risen(ratios), near, far));
        bare.filter(|b| b.confidence > whole.confidence)
            .unwrap_or(whole)
    }

    /// Ratios in which a live starter counts as a little yeast: a dough that it raises is a yeast
    /// dough, and no line says how much yeast is in it.
    pub(super) fn risen(&self, ratios: Ratios) -> Ratios {
        let ripe = self.weighed.items.iter().filter(|w| w.in_formula).any(|w| {
            let part = w.component.map(|c| &self.formula.components[c]);
            part.is_some_and(|p| p.beforehand == Some(Beforehand::Ferment))
                || w.food.is_some_and(|f| self.larder.food(f).is_starter())
        });
        let yeast = if ripe { LIKE_YEAST } else { 0.0 };
        Ratios {
            yeast: ratios.yeast.max(yeast),
            ..ratios
        }
    }

    /// The blend asked for; else the kitchen's own for the style; else the house's.
    fn choose_blend(
        &mut self,
        choice: StyleChoice,
        options: &Options,
        blends: &'a [Blend],
    ) -> Option<&'a Blend> {
        let style = choice.style;
        let whole = self.whole_grain_share() >= 0.4
            && !style.is_thickened()
            && !matches!(style.key(), "sponge_cake" | "choux" | "pasta");
        let by_key = |key: &str| blends.iter().find(|b| b.key == key);
        let usual = blends
            .iter()
            .find(|b| b.own && b.styles.contains(&style))
            .or_else(|| by_key("plain").filter(|_| choice.is_left_alone()))
            .or_else(|| by_key("wholegrain").filter(|_| whole))
            .or_else(|| Blend::for_style(blends, style));
        let asked_for = |c: &WeighedComponent| {
            let mut asked = options.blends.iter().rev();
            asked.find(|(name, _)| options.means(name, &c.name))
        };
        let dough = self.ripens_for.map(|c| &self.formula.components[c]);
        let asked = asked_for(self.weighed).or_else(|| dough.and_then(asked_for));
        let Some((_, key)) = asked else { return usual };
        let found = by_key(key);
        if found.is_none()
            && let Some(usual) = usual
        {
            self.change(
                "blend",
                format!("'{key}'"),
                usual.name.to_string(),
                None,
                "the blend that was asked for is not there any more: the style's usual one in its place",
                "the kitchen's blends",
            );
        }
        found.or(usual)
    }

    pub(super) fn run(mut self) -> ReworkedComponent {
        if let Some(choice) = self.style
            && choice.is_asked()
            && self.ripens_for.is_none()
            && let Some(next) = choice.next
        {
            let name = self.name();
            self.doubts.push(Doubt::new(
                DoubtCode::StyleUnsure,
                match choice.fits_none {
                    Some(what) => format!(
                        "no style fits '{name}': {what}. It is taken as a filling: its flour is swapped, all else stays. Say that it is one, or what else it is"
                    ),
                    None => format!(
                        "'{name}' looks most like {}, perhaps {}: say which it is, or that it is no dough{}",
                        choice.style.name(),
                        next.name(),
                        if choice.is_left_alone() {
                            "; until then only its flour is swapped, and water, binder, raising and steps stay as they are"
                        } else {
                            ""
                        }
                    ),
                },
            ));
        }
        let wheat = self.flours();
        self.others();
        self.leave_out();
        self.hold_lines();
        let mut expected = None;
        if wheat > 0.0
            && let Some(beforehand) = self.weighed.beforehand
        {
            let (what, why) = match beforehand {
                Beforehand::Ferment => (
                    "preferment",
                    "a preferment takes no binder: that goes into the dough; it ripens sooner without gluten, so go by bubbles and smell",
                ),
                Beforehand::Paste => (
                    "paste",
                    "what is cooked or steeped beforehand takes no binder: that goes into the dough; go by its thickness, for other starches thicken at other heats",
                ),
            };
            self.change(
                what,
                "wheat flour".to_owned(),
                "the blend, with the water and time as they were".to_owned(),
                None,
                why,
                "common practice, no source",
            );
            self.hold_binder(None);
            self.hold_hydration();
        } else if wheat > 0.0
            && let Some(choice) = self.style
        {
            self.binders(choice.style);
            self.hold_binder(Some(choice.style));
            if !choice.is_left_alone() {
                self.leavening(choice.style);
                self.even_out(choice.style);
                self.protein(choice.style);
            }
            expected = self.water(choice.style);
            self.hold_hydration();
            if !choice.is_left_alone() {
                self.process(choice.style);
            }
        } else if let Some(choice) = self.style {
            expected = self.expect(choice.style, None);
            self.hold_binder(Some(choice.style));
            self.hold_hydration();
        } else {
            self.hold_binder(None);
            self.hold_hydration();
        }
        let reworked = self.balance();
        if let Some(choice) = self.style
            && wheat > 0.0
            && self.weighed.beforehand.is_none()
            && !choice.is_left_alone()
        {
            self.check(choice.style, &reworked, expected.as_ref());
            self.check_binders(choice.style, &reworked);
        }
        let binding = self.bind();
        let flour = reworked.flour;
        for line in &mut self.lines {
            if line.kept != Kept::Dropped && line.in_formula {
                line.percent = line
                    .grams
                    .filter(|_| flour.likely().value() > 0.0)
                    .map(|g| g.scaled(100.0 / flour.likely().value()).map(|v| v));
            }
        }
        let live = self.lines.iter().filter(|l| l.kept != Kept::Dropped);
        let spoils: Vec<FoodId> = live
            .filter_map(|l| l.food)
            .filter(|&f| self.larder.food(f).spoils())
            .collect();
        let live = self.lines.iter().filter(|l| l.kept != Kept::Dropped);
        let is_meat = |l: &&ReworkedLine| match l.food {
            Some(f) => self.larder.food(f).does(Function::Meat),
            None => l.component.is_none() && names_meat(&l.name),
        };
        let meat: Vec<String> = live.filter(is_meat).map(|l| l.name.clone()).collect();
        let keeps = self.keeps(&spoils);
        let spoils_once_cooked = crate::keeping::spoils_once_cooked(self.as_read());
        // A flan in one list looks like a sauce.
        let moist = |s: &StyleChoice| s.style.key() == "pie_pastry" || s.style.is_thickened();
        let holds_its_filling =
            self.style.as_ref().is_some_and(moist) && crate::keeping::is_filled(self.as_read());
        let perishable = !spoils.is_empty();
        let (powder, husk) = (self.holds("psyllium_powder"), self.holds("psyllium_husk"));
        let gel = Gel::of(powder, husk, &self.steps);
        let method_notes = match self.style {
            Some(choice) if wheat > 0.0 => notes(&About {
                recipe: &self.formula.recipe,
                component: self.at,
                steps: &self.steps,
                style: choice.style,
                left_alone: choice.is_left_alone(),
                gel,
                held_back: self.held_back(),
                holds_yolk: self.holds_yolk(),
                set_by_egg: choice.style.is_thickened() && self.is_set_by_egg(choice.style),
                binder: self.is_bound(),
                hydration: self.balance().hydration.map(|h| h.likely().get()),
                raised: self.raised(),
                holds_egg_or_milk: perishable,
                meat: self.bakes_meat(),
                before: self.weighed.makes.likely().as_grams(),
                after: self
                    .lines
                    .iter()
                    .filter(|l| l.in_formula && l.kept != Kept::Dropped)
                    .filter_map(|l| l.grams)
                    .map(|g| g.likely().as_grams())
                    .sum(),
            }),
            _ => Vec::new(),
        };
        let still_holds = self.still_holds();
        let makes = Spread::sum_independent(
            self.lines
                .iter()
                .filter(|l| l.in_formula && l.kept != Kept::Dropped)
                .filter_map(|l| l.grams),
        );
        let figures = self.figures();
        ReworkedComponent {
            softens: self.softens().is_some(),
            gel,
            holds: self.pins.all(),
            wetness_held: self.pins.hydration().is_some() || self.holds_liquid(),
            figures,
            clashes: self.clashes,
            name: self.weighed.name.clone(),
            beforehand: self.weighed.beforehand,
            style: self.style,
            blend: self.blend.filter(|_| wheat > 0.0).cloned(),
            lines: self.lines,
            original: self.original,
            reworked,
            expected,
            binding,
            still_holds,
            changes: self.changes,
            method_notes,
            rest: self.rest_time,
            holds_egg_or_milk: perishable,
            spoils,
            meat,
            spoils_once_cooked,
            holds_its_filling,
            keeps,
            makes,
            used: None,
            left: None,
            doubts: self.doubts,
        }
    }

    /// See [`ReworkedComponent::keeps`].
    fn keeps(&self, spoils: &[FoodId]) -> bool {
        let egg = |f: &FoodId| self.larder.food(*f).function() == Function::Egg;
        let (mut sugar, mut all) = (0.0, 0.0);
        for line in self.lines.iter().filter(|l| l.kept != Kept::Dropped) {
            let grams = line.grams.map_or(0.0, |g| g.likely().as_grams());
            all += grams;
            let food = line.food.map(|f| self.larder.food(f).function());
            if food == Some(Function::Sugar) {
                sugar += grams;
            }
        }
        !spoils.iter().any(egg) && sugar >= 0.6 * all && all > 0.0
    }

    /// What it is made of as it was read, with the grams: its flour is one there yet.
    fn as_read(&self) -> impl Iterator<Item = (Option<&larder::Food>, f64)> {
        let made = self.weighed.items.iter().filter(|i| i.in_formula);
        made.map(|i| {
            let grams = i.grams.map_or(0.0, |g| g.likely().as_grams());
            (i.food.map(|f| self.larder.food(f)), grams)
        })
    }

    /// Adds a binder that is held and that the engine would not add.
    pub(super) fn adding(mut self, binders: Vec<FoodId>) -> Self {
        self.extra = binders;
        self
    }

    /// The figures that are held; what each would be is asked later.
    fn figures(&self) -> Vec<HeldFigure> {
        [HYDRATION, BINDER]
            .into_iter()
            .filter_map(|what| {
                Some(HeldFigure {
                    what,
                    hold: self.pins.get(what)?.clone(),
                    would: None,
                    binders: Vec::new(),
                    xanthan: self.larder.by_key("xanthan_gum"),
                })
            })
            .collect()
    }

    fn name(&self) -> &str {
        if self.weighed.name.is_empty() {
            "the recipe"
        } else {
            &self.weighed.name
        }
    }

    /// Whether a line of it, in the larder's words, is this food.
    fn holds(&self, word: &str) -> bool {
        let lines = self.lines.iter().filter(|l| l.kept != Kept::Dropped);
        let mut foods = lines.filter_map(|l| l.food);
        foods.any(|f| self.larder.food(f).key.contains(word))
    }

    /// Grams of a food as the table beside shows them; of a blend without one.
    pub(super) fn grams(&self, food: impl Into<Option<FoodId>>, m: Mass) -> String {
        weight(m, food.into().is_some_and(|f| is_fine(self.larder, f)))
    }

    pub(super) fn words(&self, w: &Weighed) -> String {
        let line = &self.formula.recipe.components[self.at].lines[w.line];
        let item = &line.items[w.item];
        match w.food {
            Some(f) => self.larder.food(f).name.clone(),
            None => match &item.reference {
                Some(r) => r.name.clone(),
                None => line.words(&item.name).trim().to_owned(),
            },
        }
    }

    /// Notes a change; `.sums([…])` behind it puts its arithmetic to it, written with
    /// [`super::sums`].
    pub(super) fn change(
        &mut self,
        what: &str,
        from: String,
        to: String,
        range: Option<String>,
        rule: &str,
        source: &str,
    ) -> &mut Change {
        let at = self.changes.len();
        self.changes.push(Change {
            what: what.to_owned(),
            from,
            to,
            range,
            rule: rule.to_owned(),
            source: source.to_owned(),
            sums: Vec::new(),
        });
        &mut self.changes[at]
    }

    /// Doubts where the result leaves the style's published ranges.
    fn check(&mut self, style: Style, b: &Balance, expected: Option<&hydration::Expectation>) {
        // Its liquid and its thickener stay: there is nothing to hold to a range.
        if style.is_thickened() {
            return;
        }
        let why = self.why_outside(style, b, expected);
        let mut out = |name: &str, value: f64, parameter: &str, why: &str| {
            if let Some(r) = style.range(parameter)
                && !(r.value.low().get() - 1e-9..=r.value.high().get() + 1e-9).contains(&value)
            {
                self.doubts.push(Doubt::new(
                    DoubtCode::OutOfRange,
                    format!(
                        "{name} {} is outside the {} range of {}, {}–{} % ({}){why}",
                        beyond_percent(value, r.value.low().get(), r.value.high().get()),
                        r.kind(),
                        style.name(),
                        r.value.low().get(),
                        r.value.high().get(),
                        r.cited()
                    ),
                ));
            }
        };
        out(
            "hydration",
            b.hydration.map_or(0.0, |h| h.likely().get()),
            "hydration_eff",
            &why,
        );
        out("starch share", b.starch_share, "starch_share", "");
    }
}

#[cfg(test)]
mod tests {
    use super::beyond_percent;

    #[test]
    fn a_figure_outside_a_range_reads_as_outside() {
        for (value, low, high, shown) in [
            (24.6, 25.0, 70.0, "24.6 %"),
            (24.96, 25.0, 70.0, "24.96 %"),
            (24.999, 25.0, 70.0, "a trace under 25 %"),
            (70.4, 25.0, 70.0, "70.4 %"),
            (71.2, 25.0, 70.0, "71 %"),
            (94.1, 95.0, 160.0, "94 %"),
            (0.98, 1.0, 3.0, "0.98 %"),
            (1.04, 0.2, 1.0, "1.04 %"),
        ] {
            assert_eq!(beyond_percent(value, low, high), shown);
        }
    }
}
