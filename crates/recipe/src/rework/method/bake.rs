//! Notes on baking: its time, the heat of the middle, and how to know that it is done.

use super::baked_in::NotedBake;
use super::facts::{doing, is_called_custard, sets_a_custard};
use super::oven::{self, Stage};
use super::say::{cools, joined, stage_stated};
use super::{Notes, PRACTICE};
use crate::blind::{fills, since_empty};
use crate::recipe::{Activity, Fact, FactKind, Heat, Step};
use crate::rework::custard::ON_THE_STOVE;
use crate::rework::owners;
use crate::rework::panful::goes_in;
use crate::rework::steps::is_filling;

/// The rule of a note on a bake that takes longer.
const LONGER: &str = "bake longer";
/// The rule of one on a bake that does not.
const AS_BEFORE: &str = "bake as before";
/// When a custard is done.
const WOBBLES: &str = " Done when the edge is set and the middle still wobbles.";

impl Notes<'_> {
    /// Whether the method gives a time to cool in the tin.
    fn cools_in_its_tin(&self) -> bool {
        const IN: [&str; 4] = ["in the tin", "in the pan", "in its tin", "in their tins"];
        let cools = |f: &Fact| {
            let cool = Some(Activity::Cool);
            matches!(&f.kind, FactKind::Duration { doing, .. } if *doing == cool)
        };
        self.about.recipe.steps.iter().any(|s| {
            let text = s.text.to_lowercase();
            s.facts.iter().any(cools) && IN.iter().any(|w| text.contains(w))
        })
    }

    /// Whether a filling of the recipe holds egg, milk or meat.
    fn filling_spoils(&self) -> bool {
        const SPOILS: [&str; 8] = [
            "egg", "yolk", "milk", "cream", "cheese", "ricotta", "quark", "custard",
        ];
        let mut fillings = self.about.recipe.components.iter();
        self.about.meat
            || fillings.any(|c| {
                let mut lines = c.lines.iter().map(|l| l.clean.to_lowercase());
                is_filling(&c.name) && lines.any(|l| SPOILS.iter().any(|w| l.contains(w)))
            })
    }

    /// Whether the method names a tin that holds what is baked.
    fn bakes_in_a_tin(&self) -> bool {
        let flat = ["sheet", "tray", "stone", "steel", "dutch"];
        self.about.recipe.steps.iter().any(|s| {
            s.facts.iter().any(|f| match &f.kind {
                FactKind::Pan { words, .. } => {
                    let words = words.to_lowercase();
                    !flat.iter().any(|w| words.contains(w))
                }
                _ => false,
            })
        })
    }

    /// How to know that a filling is done: by its meat or fish, else by the egg in it.
    fn set(&self, steps: &[&Step]) -> &'static str {
        // A batter that puffs or a sponge is no custard; a clafoutis that puffs is one.
        const RISES: [&[&str]; 7] = [
            &["puff"],
            &["puffs"],
            &["puffed"],
            &["puffy"],
            &["well", "risen"],
            &["springs", "back"],
            &["swiss", "roll"],
        ];
        const CALLED: [&[&str]; 10] = [
            &["pancake"],
            &["pancakes"],
            &["popover"],
            &["popovers"],
            &["dutch", "baby"],
            &["roulade"],
            &["souffle"],
            &["soufflé"],
            &["soufflés"],
            &["sponge"],
        ];
        let says = |text: &str, list: &[&[&str]]| {
            let text = text.to_lowercase().replace("puff pastry", "");
            let words = text.split(|c: char| !c.is_alphanumeric());
            let words: Vec<&str> = words.filter(|w| !w.is_empty()).collect();
            let said = |phrase: &&[&str]| words.windows(phrase.len()).any(|w| w == *phrase);
            list.iter().any(said) && !text.contains("wobbl")
        };
        let title = self.about.recipe.title.as_deref().unwrap_or_default();
        let rises = !is_called_custard(title)
            && (steps.iter().any(|s| says(&s.text, &RISES)) || says(title, &CALLED));
        if self.about.meat {
            " The middle of the meat or fish in it decides: probe it."
        } else if self.about.holds_yolk && rises {
            " Done when it has risen, is brown at the edge and dry in the middle."
        } else if self.about.holds_yolk {
            WOBBLES
        } else {
            ""
        }
    }

    pub(super) fn bake(&mut self, step: &Step) {
        let n = step.number;
        let custard = |s: &Step, at: usize| sets_a_custard(self.about.recipe, s, at);
        let stages = oven::stages(&self.ovens, [step], |_, _| true);
        if stages.is_empty() {
            return;
        }
        if self.about.style.is_thickened() {
            let set = self.set(&[step]);
            let why = format!(": no longer than before, a filling holds little flour.{set}");
            self.as_before(n, stages, &why);
            return;
        }
        let set = oven::stages(&self.ovens, [step], custard);
        let stages = oven::stages(&self.ovens, [step], |s, at| !custard(s, at));
        if !set.is_empty() {
            let filled = if stages.is_empty() {
                ""
            } else {
                ", once it is filled"
            };
            let done = self.set(&[step]);
            let why = format!(
                "{filled}: no longer than before, for egg sets what is in it, and curdles when it is baked on.{done}"
            );
            self.as_before(n, set, &why);
        }
        if stages.is_empty() || !self.about.style.is_baked() {
            return;
        }
        let decides = if self.about.meat && since_empty(&step.text).is_none_or(fills) {
            "the middle of the meat or fish in it decides, not the colour"
        } else if self.by_colour() && self.holds_another(n) {
            "colour and crispness decide, and what is in it being set"
        } else if self.by_colour() {
            "colour and crispness decide"
        } else {
            "the core temperature decides"
        };
        let ovens = stages.iter().filter_map(|s| Some(s.oven?.allowed()));
        let ovens = ovens.collect();
        let bake = NotedBake {
            stages,
            decides: Some(decides),
        };
        self.say(Some(n), LONGER, PRACTICE, bake.longer(n));
        if let Some(note) = self
            .list
            .iter_mut()
            .rfind(|x| x.rule == LONGER && x.step == Some(n))
        {
            note.ovens = ovens;
            note.bake = Some(bake);
        }
    }

    /// That a step bakes no longer than before: why, and what shows that it is done.
    fn as_before(&mut self, n: usize, stages: Vec<Stage>, why: &str) {
        let stated = joined(&stages, stage_stated);
        let text = format!("Step {n} bakes for {stated}{why}");
        self.say(Some(n), AS_BEFORE, PRACTICE, text);
        if let Some(note) = self
            .list
            .iter_mut()
            .rfind(|x| x.rule == AS_BEFORE && x.step == Some(n))
        {
            note.bake = Some(NotedBake {
                stages,
                decides: None,
            });
        }
    }

    pub(super) fn stated_core(&mut self, step: &Step) {
        let stated = step.facts.iter().find_map(|f| match &f.kind {
            FactKind::Temperature {
                value,
                of: Heat::Core,
            } => Some(value.likely()),
            _ => None,
        });
        if let Some(t) = stated
            && let Some((core, r)) = self.about.style.core()
        {
            let n = step.number;
            let lead = format!(
                "Step {n} is done at {:.0} °C / {:.0} °F inside: look for ",
                t.as_celsius(),
                t.as_fahrenheit()
            );
            let text = self.core_words(&lead, core);
            self.say(Some(n), "core temperature", &r.cited(), text);
        }
    }

    /// The heat of the middle; what it means up high is said once.
    pub(super) fn core_words(&mut self, lead: &str, [low, likely, high]: [f64; 3]) -> String {
        let up = if self.boiling {
            ""
        } else {
            " Above 900 m, no more than 1.5 °C below your boiling point."
        };
        let beside = if !self.boiling && self.bakes_a_filling() {
            " Probe beside the filling: a soft one never reads like the crumb."
        } else {
            ""
        };
        self.boiling = true;
        format!("{lead}{likely:.0} °C ({low:.0}–{high:.0}).{beside}{up}")
    }

    /// How to know that it is risen, done, cool.
    pub(super) fn end(&mut self) {
        let style = self.about.style;
        if self.yeasted()
            && let Some(r) = style.range("proof_x")
        {
            self.say(
                None,
                "end of the rise",
                &r.cited(),
                format!(
                    "One rise, to {:.1}–{:.1} times the volume; a dent half returns, pinholes show. Never to double unless the tin holds it.",
                    r.value.low().get(),
                    r.value.high().get()
                ),
            );
        }
        if self.by_colour() {
            let mut text = match style.key() {
                "cracker" => "Done when dry and crisp to the middle: cool one and break it. If it bends, dry the rest 5–15 minutes more in the oven as it cools.",
                _ => "Done when golden at the edge and dry to the touch; it crisps as it cools.",
            }
            .to_owned();
            if self.about.meat {
                text.push_str(" Golden says nothing of the meat or fish in it: probe the middle.");
            }
            self.say(None, "colour and crispness", PRACTICE, text);
        } else if let Some((core, r)) = style.core()
            && !self
                .list
                .iter()
                .any(|n| matches!(n.rule, "core temperature" | "probe, do not tap"))
        {
            let text = self.core_words("Done when the middle reads ", core);
            self.say(None, "core temperature", &r.cited(), text);
        }
        let layered = style.key() == "laminated" && self.yeasted();
        if layered || matches!(style.key(), "lean_bread" | "enriched_dough") {
            // Where the method has it cool in its tin for a time, that is the time.
            let out = if self.cools_in_its_tin() {
                "Out of the tin when the method says so; cut"
            } else if self.bakes_in_a_tin() {
                "Out of the tin after 10 minutes; cut"
            } else {
                "Cool on a rack; cut"
            };
            let cold = if self.filling_spoils() {
                " With a filling of egg, milk or meat, 2 hours of that in the room at most, the rest in the fridge."
            } else {
                ""
            };
            let text = format!(
                "{out} when the middle is below 35 °C: {}. Cut hot, it is gummy.{cold}",
                cools(&["rolls", "loaves"])
            );
            self.say(None, "cool before cutting", PRACTICE, text);
        }
        let hot = || self.steps_say(&ON_THE_STOVE) || self.steps_say(&["cook", "heat", "over a"]);
        let heated = self.about.steps.is_empty() || hot();
        let baked = self.list.iter().any(|n| n.rule == AS_BEFORE);
        if self.about.set_by_egg {
            if !baked {
                let text = "Egg sets it in the oven: bake it no longer than before, it holds little flour.";
                self.say(
                    None,
                    AS_BEFORE,
                    PRACTICE,
                    format!("{text}{}", self.set(self.about.steps)),
                );
            }
        } else if style.is_thickened() && heated {
            self.say(None, "boil cereal starch", PRACTICE, "Bring it to the boil while stirring: rice and corn thicken only near 95 °C; root starches thicken from 70 °C and thin when boiled on.".to_owned());
        }
    }

    pub(super) fn by_colour(&self) -> bool {
        self.about.style.is_done_by_colour()
    }

    /// Whether another part came between this one's steps, before step `n`: it is filled.
    fn holds_another(&self, n: usize) -> bool {
        let steps = self.about.steps;
        let first = steps.first().map_or(n, |s| s.number);
        let between = |s: &&Step| s.number > first && s.number < n;
        let all = self.about.recipe.steps.iter().filter(between).count();
        all > steps.iter().copied().filter(between).count()
    }

    /// Whether a filling of the recipe is in or on this component while it bakes: a step of another part has it so,
    /// by its name or by what fills; none that is made or put on after the bake.
    fn bakes_a_filling(&self) -> bool {
        const FILLS: [&str; 6] = ["filling", "fill ", "custard", "jam", "curd", "compote"];
        let (recipe, part) = (self.about.recipe, self.about.component);
        let owners = owners(recipe);
        let bakes = |s: &Step| doing(s, Activity::Bake).is_some();
        let last = self.about.steps.iter().rev().find(|s| bakes(s));
        let fills = |other: usize| {
            let mut steps = recipe.steps.iter().zip(&owners);
            last.is_some_and(|last| {
                steps.any(|(s, owner)| {
                    let text = s.text.to_lowercase();
                    *owner != other
                        && s.number <= last.number
                        && FILLS.iter().any(|w| text.contains(w))
                })
            })
        };
        let mut others = recipe.components.iter().enumerate();
        others.any(|(i, c)| {
            let named = || goes_in(recipe, &owners, part, (i, &c.name));
            i != part && is_filling(&c.name) && named().unwrap_or_else(|| fills(i))
        })
    }
}
