//! Soda against acid in the gluten-free version.

use super::engine::Work;
use super::foods::{foods, reworked_foods, uncounted, uncounted_of};
use super::method::rest::Raised;
use super::reworked::{Kept, Rework};
use super::soaked;
use super::style::Style;
use super::sums::{self, figure};
use crate::leaven::{
    Altitude, Corrected, Leavening, Report, Verdict, at_altitude, leavener_of, soda_in_powder,
    tenth,
};
use larder::{FoodId, Larder};
use quantity::{Mass, Quantity, Spread};

/// The most baking powder, percent of the flour phase (project rule R8.1, common practice).
const MOST_POWDER: f64 = 6.0;
/// The least that a bench scale of 0.1 g weighs well enough, g: below it no line is begun.
const LEAST: f64 = 0.3;
/// The least that is worth moving, percent of the flour phase.
const LEAST_SHARE: f64 = 0.1;
/// Where left-over soda is meant, for colour and spread (common practice, no source).
const MEANT: [&str; 5] = [
    "drop_cookie",
    "rolled_cookie",
    "pie_pastry",
    "cracker",
    "crumb_streusel",
];
/// Batters: where soda is there to raise.
const BATTERS: [&str; 4] = [
    "butter_cake",
    "sponge_cake",
    "muffin_quick_bread",
    "pancake_crepe",
];

/// The leavening of a component before and after.
#[derive(Debug, Clone, PartialEq)]
pub struct Raising {
    /// Of the original.
    pub before: Leavening,
    /// Of the gluten-free version, with swaps, cautions and syrup.
    pub after: Report,
    /// Left-over soda is meant: in biscuits and crusts it browns and spreads them.
    pub left_is_meant: bool,
    /// It softens fruit that is soaked with it.
    pub softens: bool,
}

impl Raising {
    /// What the block is called: by what it holds.
    #[must_use]
    pub fn title(&self) -> &'static str {
        let l = &self.after.leavening;
        if l.is_leavened() || l.yeast.value() > 0.0 || self.before.is_leavened() {
            "Leavening"
        } else {
            "Syrup"
        }
    }

    /// Where the figures of the sentences come from, food by food; empty without sentences.
    #[must_use]
    pub fn figures(&self, larder: &Larder) -> String {
        let l = &self.after.leavening;
        if !l.is_leavened() {
            return String::new();
        }
        let of = |p: &crate::leaven::Part| {
            let counts = p.acid.likely().value() > 0.0 || p.gas.likely().value() > 0.0;
            counts.then(|| format!("{}: {}", larder.food(p.food).name, p.source))
        };
        let all: Vec<String> = l.parts.iter().filter_map(of).collect();
        all.join(". ")
    }

    /// What is said of soda and acid, each a sentence: the original's where it was another, the
    /// version's with its arithmetic, the gas of both. Empty where neither is leavened but by
    /// yeast.
    #[must_use]
    pub fn sentences(&self) -> Vec<String> {
        let (was, is) = (&self.before, &self.after.leavening);
        let mut all = Vec::new();
        if !was.is_leavened() && !is.is_leavened() {
            return all;
        }
        if was.soda.likely().value() > 0.0 && was.verdict() != is.verdict() {
            all.push(format!("original: {}", was.words()));
        }
        let meant = match is.verdict() {
            Verdict::SodaLeft if self.softens => {
                "; it softens the fruit that is soaked with it, and that is meant"
            }
            Verdict::SodaLeft if self.left_is_meant => {
                "; in biscuits and crusts that is meant, for colour and spread"
            }
            _ => "",
        };
        all.push(format!("{}{meant}", is.words()));
        let ml = |l: &Leavening| (l.gas.likely() + l.gas_by_heat.likely()).as_millilitres();
        let per = |l: &Leavening| {
            let f = l.flour.as_grams();
            (f > 0.0).then(|| format!("{:.1} for a gram of flour", ml(l) / f))
        };
        if ml(was) > 0.0 || ml(is) > 0.0 {
            all.push(format!(
                "gas at 25 °C: before {:.0} mL{}; now {:.0} mL, {:.0}–{:.0}{}; at 95 °C it takes {:.2} times the room",
                ml(was),
                per(was).map_or_else(String::new, |p| format!(", {p}")),
                ml(is),
                (is.gas.low() + is.gas_by_heat.low()).as_millilitres(),
                (is.gas.high() + is.gas_by_heat.high()).as_millilitres(),
                per(is).map_or_else(String::new, |p| format!(", {p}")),
                is.swelling()
            ));
        }
        all
    }
}

impl Rework {
    /// The leavening of a component, before and after.
    ///
    /// # Inputs
    /// - `at`: index of the component.
    ///
    /// # Returns
    /// `None` where there is nothing to say: no leavener, no yeast, no syrup that decides.
    #[must_use]
    pub fn raising(&self, at: usize, larder: &Larder) -> Option<Raising> {
        if at >= self.components.len() || at >= self.formula.components.len() {
            return None;
        }
        let before = Leavening::of(&foods(&self.formula, at), larder).beside(uncounted(
            &self.formula,
            at,
            larder,
        ));
        let uncounted_now = uncounted_of(&self.components[at].lines, larder);
        let mut after =
            Report::beside(&reworked_foods(&self.components, at), uncounted_now, larder);
        let style = self.components[at].style.map(|s| s.style.key());
        // Sugar and egg weigh about the same there, and no crumb of starch sets.
        if style == Some("frangipane") {
            after.remarks.clear();
        }
        let said = !after.is_empty() || before.is_leavened();
        said.then_some(Raising {
            before,
            after,
            left_is_meant: style.is_some_and(|s| MEANT.contains(&s)),
            softens: self.components[at].softens,
        })
    }

    /// The amounts of a component of the rework at a height, as [`at_altitude`] has them.
    #[must_use]
    pub fn up_there(&self, at: usize, larder: &Larder, height: &Altitude) -> Vec<Corrected> {
        if at >= self.components.len() {
            return Vec::new();
        }
        at_altitude(&reworked_foods(&self.components, at), larder, height)
    }
}

impl Work<'_> {
    /// What of the reworked lines raises at once.
    pub(super) fn raised(&self) -> Raised {
        let has = |key: &str| {
            let food = self.larder.by_key(key);
            let mut live = self.lines.iter().filter(|l| l.kept != Kept::Dropped);
            food.is_some() && live.any(|l| l.food == food)
        };
        Raised {
            // On fruit it has given off its gas before the batter is mixed.
            soda: has("baking_soda") && self.softens().is_none(),
            powder: has("baking_powder"),
        }
    }

    /// The step whose fruit its one line of soda softens.
    pub(super) fn softens(&self) -> Option<usize> {
        let soda = self.larder.by_key("baking_soda");
        let live = |l: &&super::reworked::ReworkedLine| l.food == soda && l.kept != Kept::Dropped;
        let one = self.lines.iter().filter(live).count() == 1;
        soaked::soda_on_fruit(&self.steps).filter(|_| one)
    }

    /// That soda stays which softens fruit.
    fn leave_on_fruit(&mut self, step: usize, soda: FoodId) {
        let name = self.larder.food(soda).name.clone();
        let mut lines = self.lines.iter().filter(|l| l.food == Some(soda));
        let Some(had) = lines.find_map(|l| l.grams) else {
            return;
        };
        let all = format!("{} {name}", self.grams(soda, had.likely()));
        self.change(
            "soda",
            all.clone(),
            format!("{all}, as it is"),
            None,
            &format!(
                "step {step} softens the fruit with it: it is not there to raise, and no acid has to take it"
            ),
            "common practice, no source",
        );
    }

    /// Where soda is left over for certain, baking powder takes its place; where powder is at its
    /// cap and acid is idle, soda makes it up.
    pub(super) fn even_out(&mut self, style: Style) {
        if !BATTERS.contains(&style.key()) {
            return;
        }
        let before = Leavening::of(&foods(self.formula, self.at), self.larder);
        let after = Leavening::of(&self.foods(), self.larder)
            .beside(uncounted_of(&self.lines, self.larder));
        let flour = after.flour.as_grams();
        let (Some(soda), Some(powder)) = (
            self.larder.by_key("baking_soda"),
            self.larder.by_key("baking_powder"),
        ) else {
            return;
        };
        if flour <= 0.0 {
            return;
        }
        if let Some(step) = self.softens() {
            if after.verdict() == Verdict::SodaLeft {
                self.leave_on_fruit(step, soda);
            }
            return;
        }
        let share = soda_in_powder(Mass::grams(1.0)).likely().as_grams();
        let room = (MOST_POWDER / 100.0 * flour - after.powder.likely().as_grams()).max(0.0);
        if after.verdict() == Verdict::SodaLeft && after.is_sure() {
            self.powder_for_left_over(&before, &after, [soda, powder], share, room);
        } else if room < LEAST_SHARE / 100.0 * flour && !self.is_held(soda) {
            self.soda_beyond_cap(style, &before, &after, soda, share);
        }
    }

    /// The least of a food that is worth adding, g: more where it would begin a line.
    fn worth(&self, food: FoodId, after: &Leavening) -> f64 {
        let least = LEAST_SHARE / 100.0 * after.flour.as_grams();
        let here = |l: &super::reworked::ReworkedLine| {
            l.food == Some(food) && l.in_formula && l.kept != Kept::Dropped
        };
        if self.lines.iter().any(here) {
            least
        } else {
            least.max(LEAST)
        }
    }

    fn powder_for_left_over(
        &mut self,
        before: &Leavening,
        after: &Leavening,
        [soda, powder]: [FoodId; 2],
        share: f64,
        room: f64,
    ) {
        let is_soda = |l: &super::reworked::ReworkedLine| {
            l.food == Some(soda) && l.in_formula && l.kept != Kept::Dropped && !l.held
        };
        let Some(at) = self.lines.iter().position(is_soda) else {
            return;
        };
        let Some(had) = self.lines[at].grams else {
            return;
        };
        let left = after
            .left_over
            .likely()
            .as_grams()
            .min(had.likely().as_grams());
        let keep = had.likely().as_grams() - left;
        // What the soda gave: all of what met acid, half of the rest by heat.
        let (met, rest) = (
            before.neutralised.likely().as_grams(),
            before.left_over.likely().as_grams(),
        );
        let now = after.neutralised.likely().as_grams();
        let gave = met + rest / 2.0;
        let wanted = (gave - now).max(0.0) / share;
        let mut more = wanted.min(room);
        if more < self.worth(powder, after) || self.is_held(powder) {
            more = 0.0;
        }
        // A line that keeps next to nothing goes.
        let least = LEAST_SHARE / 100.0 * after.flour.as_grams();
        let keep = if keep < least { 0.0 } else { keep };
        if keep > 0.0 {
            let by = keep / had.likely().as_grams();
            self.lines[at].grams = Some(had.scaled(by));
            self.lines[at].was_changed();
        } else {
            self.lines[at].kept = Kept::Dropped;
        }
        if more > 0.0 {
            self.add(powder, Spread::within(Mass::grams(more), 0.2), None);
        }
        let (soda_name, powder_name) = (
            self.larder.food(soda).name.clone(),
            self.larder.food(powder).name.clone(),
        );
        let soda_now = if keep > 0.0 {
            format!("{} {soda_name}", self.grams(soda, Mass::grams(keep)))
        } else {
            format!("no {soda_name}")
        };
        let to = if more > 0.0 {
            format!(
                "{soda_now} and {} more {powder_name}",
                self.grams(powder, Mass::grams(more))
            )
        } else {
            soda_now
        };
        let acid = format!(
            "the acids take {} g of soda ({}–{}), so {} g would be left over, soapy and brown",
            tenth(after.acid.likely()),
            tenth(after.acid.low()),
            tenth(after.acid.high()),
            tenth(Mass::grams(left))
        );
        let rule = if more > 0.0 {
            let capped = if wanted > more + 0.05 {
                format!(", held to {MOST_POWDER} % of the flour")
            } else {
                String::new()
            };
            format!(
                "{acid}; powder gives the gas in its place: ({} g that met acid + half of {} g by heat − {} g kept) ÷ {share:.2} = {} g{capped}",
                tenth(Mass::grams(met)),
                tenth(Mass::grams(rest)),
                tenth(Mass::grams(now)),
                tenth(Mass::grams(wanted))
            )
        } else {
            acid
        };
        let sums = if more > 0.0 {
            vec![
                format!(
                    "{} g + {} g ÷ 2 − {} g = {} g",
                    figure(met),
                    figure(rest),
                    figure(now),
                    figure(gave - now)
                ),
                format!("÷ {} = {} g", figure(share), figure(wanted)),
            ]
        } else {
            Vec::new()
        };
        let source = format!(
            "neutralising by weight; {}; cap of baking powder: common practice, no source",
            leavener_of("baking_powder").map_or_else(String::new, crate::leaven::Leavener::cited)
        );
        self.change(
            "soda",
            format!("{} {soda_name}", self.grams(soda, had.likely())),
            to,
            Some(format!(
                "{:.1}–{:.1} g of soda meet acid",
                after.neutralised.low().as_grams(),
                after.neutralised.high().as_grams()
            )),
            &rule,
            &source,
        )
        .sums(sums);
    }

    /// Powder at its cap, less than the style would have: soda on acid that has none.
    fn soda_beyond_cap(
        &mut self,
        style: Style,
        before: &Leavening,
        after: &Leavening,
        soda: FoodId,
        share: f64,
    ) {
        let mult = style
            .range("leavening_mult")
            .map_or(1.0, |r| r.value.likely().get());
        let wanted = before.powder.likely().as_grams() * mult;
        let short = (wanted - after.powder.likely().as_grams()) * share;
        let more = short.min(after.idle.low().as_grams());
        if more < self.worth(soda, after) || before.powder.likely().value() <= 0.0 {
            return;
        }
        let m = Mass::grams(more);
        let name = self.larder.food(soda).name.clone();
        // The original may have more than the cap: that stays.
        let powder = 100.0 * after.powder.likely().as_grams() / after.flour.as_grams();
        let stands = if powder > MOST_POWDER + 0.05 {
            format!("{}, above", sums::percent(powder))
        } else {
            "at".to_owned()
        };
        if !self.add(soda, Spread::within(m, 0.2), None) {
            return;
        }
        self.change(
            "soda",
            format!("{} {name}", self.grams(soda, before.soda.likely())),
            format!("{} more {name}", self.grams(soda, m)),
            None,
            &format!(
                "baking powder is {stands} its cap of {MOST_POWDER} %; the acids can take {:.1} g of soda at least, which gives the gas that is short",
                after.idle.low().as_grams()
            ),
            "neutralising by weight; cap of baking powder: common practice, no source",
        );
    }
}
