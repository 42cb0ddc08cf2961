//! What a recipe itself says of its heat: where every field begins.

use super::pan::Pan;
use crate::plan::clause_verbs;
use crate::recipe::{Activity, Fact, FactKind, Step};
use crate::rework::style::Style;
use crate::rework::timing::{longer, sets_a_custard};
use crate::rework::{Rework, Setting, of_bake, owners, settings};
use crate::shape::{Dough, Kind, dough_of};
use crate::size::{Batch, part_named};
use larder::{Function, Larder};
use quantity::{Mass, OvenSetting, Spread, Temperature, Time};

/// A bake, a rise and a dough as the recipe has them. `None` where it does not say.
#[derive(Debug, Clone, PartialEq)]
pub struct Given {
    /// The component that is baked, by place.
    pub component: usize,
    /// Its name.
    pub name: String,
    /// Its style.
    pub style: Option<Style>,
    /// Yeast raises it.
    pub yeast: bool,
    /// The oven, as a still oven's.
    pub oven: Option<Temperature>,
    /// The time in it, as written for wheat.
    pub written: Option<Spread<Time>>,
    /// The same a tenth to a quarter longer, as usual without gluten (common practice); as written where a
    /// custard sets in it.
    pub time: Option<Spread<Time>>,
    /// A custard sets in it.
    pub custard: bool,
    /// The pan, where its measures are written.
    pub pan: Option<Pan>,
    /// What of it is not written but the usual, in words.
    pub pan_assumed: Option<String>,
    /// The pan's words.
    pub pan_words: Option<String>,
    /// The words of another pan that takes the rest: how much goes into this one no one says.
    pub rest_in: Option<String>,
    /// So many pans of this kind the method names, 'two 9-inch pans'; of a tin of many hollows, these.
    pub pans: u32,
    /// The pan that the batch's size was asked for, and how many of it.
    pub sized: Option<(Pan, u32)>,
    /// What goes into the oven is no crumb but a filling with egg or milk that sets.
    pub sets: bool,
    /// There is meat, poultry or fish in a part of the recipe that is made.
    pub meat: bool,
    /// The parts that are baked in the pan together, by place, that part first: the recipe's
    /// [`crate::rework::Panful`].
    pub parts: Vec<usize>,
    /// Their names in words: `dough and date filling`.
    pub what: String,
    /// So many times the recipe the batch makes of it.
    pub times: f64,
    /// All that goes into the pan, of the batch.
    pub makes: Mass,
    /// The same of the recipe once: what its own pan and time are for.
    pub once: Mass,
    /// The part alone, of the batch: what is mixed and rises.
    pub dough: Mass,
    /// What goes into one pan of the batch, as it is fitted into a pan.
    pub body: Dough,
    /// A rise with its time, longest first.
    pub rise: Option<Spread<Time>>,
    /// Its flour phase.
    pub flour: Mass,
    /// Its water or milk, the part that can be warmed; zero where there is none.
    pub water: Mass,
    /// That liquid is water, into which ice may go.
    pub liquid_is_water: bool,
    /// What else goes in, and the share of it that is water.
    pub other: Mass,
    /// Share of water in it, 0–1.
    pub other_water: f64,
    /// Something in the pan holds egg or milk; `None` where that is not known.
    pub perishable: Option<bool>,
    /// The work on it until it is heated, mixing and shaping, of what holds egg or milk: set by
    /// [`Given::with_work`].
    pub work: Option<Time>,
    /// Lines of all in the pan without a weight: what it makes is too little by what they weigh.
    pub unweighed: usize,
    /// The same of the recipe once, with the parts that the batch does not make.
    pub once_unweighed: usize,
    /// The same of the part alone.
    pub dough_unweighed: usize,
    /// Bakes that the method names one after another; the longest is taken.
    pub stages: usize,
    /// That bake's times one after another, each with its oven. Its oven is their mean by time.
    pub stretches: Vec<Stretch>,
}

/// A time in the oven, of one bake that may have several.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stretch {
    /// How long.
    pub time: Spread<Time>,
    /// The oven, as a still oven's; `None` where the method does not say.
    pub oven: Option<Temperature>,
}

/// A first time in the oven that is no more than this share of the whole is a start, to set or to brown: it stays as
/// it is where the whole takes longer (our own judgement, no source).
const START: f64 = 1.0 / 3.0;

impl Given {
    /// What the bake is where it goes through several ovens or times: '10 min at 220 °C, then 25 min at 180 °C'.
    #[must_use]
    pub fn staged(&self) -> Option<String> {
        let several = self.stretches.len() > 1;
        several.then(|| staged_words(&self.stretches))
    }

    /// The same with the work that the plan counts towards the hours of egg and milk.
    #[must_use]
    pub fn with_work(mut self, tasks: &crate::plan::Tasks) -> Self {
        let mine = tasks
            .warm
            .iter()
            .filter(|w| self.parts.contains(&w.component));
        let most = mine.map(|w| w.work).reduce(f64::max);
        self.work = most.map(Time::minutes);
        self
    }
}

/// The times of a bake that takes so long in all: the same in proportion. Where it takes longer than written, and
/// its first is only a start, that stays as said and the others take the rest.
pub(super) fn stretched(written: &[Stretch], whole: Spread<Time>) -> Vec<Stretch> {
    let times = written.iter().map(|s| s.time.likely().as_minutes());
    let all: f64 = times.sum();
    let start = match written {
        [first, _, ..] => first.time,
        _ => Spread::exact(Time::minutes(0.0)),
    };
    let begun = start.likely().as_minutes();
    let stays = begun > 0.0 && begun <= all * START && whole.low().as_minutes() >= all;
    let kept = if stays { begun } else { 0.0 };
    let share = |s: &Stretch| s.time.likely().as_minutes() / (all - kept);
    let part = |t: Time, share: f64| Time::minutes((t.as_minutes() - kept) * share);
    let of = |(i, s): (usize, &Stretch)| {
        if stays && i == 0 {
            return *s;
        }
        let time = Spread::new(
            part(whole.low(), share(s)),
            part(whole.likely(), share(s)),
            part(whole.high(), share(s)),
        );
        Stretch { time, ..*s }
    };
    written.iter().enumerate().map(of).collect()
}

/// Water of a food whose composition is not known, by share (from memory).
const USUAL_WATER: f64 = 0.3;

/// Reads what a recipe says.
///
/// # Arguments
/// * `name` — the component meant; without it what the method bakes last of those that the batch makes
///   ([`Rework::last_baked`]).
///
/// # Returns
/// `None` where nothing that is made is baked, or no component has this name.
#[must_use]
pub fn given(rework: &Rework, batch: &Batch, larder: &Larder, name: Option<&str>) -> Option<Given> {
    let made = |i: usize| batch.components.get(i).is_some_and(|c| c.factor > 0.0);
    let (at, mut panful) = match name {
        Some(n) => {
            let at = part_named(rework, n).ok()?;
            (at, rework.panful(at).clone())
        }
        None => {
            let last = rework.last_baked(made);
            let round = last.map(|at| (at, rework.panful_round(at).clone()));
            round.or_else(|| rework.baked_by_a_step(made))?
        }
    };
    let unweighed = |parts: &[usize]| {
        let each = parts.iter().map(|c| rework.components[*c].unweighed());
        each.sum()
    };
    let once = panful.grams(rework).iter().sum();
    let once_unweighed = unweighed(&panful.parts);
    panful.parts.retain(|c| *c == at || made(*c));
    let sets = rework.sets(at);
    let c = &rework.components[at];
    let sized = batch.components.get(at)?;
    let style = c.style.as_ref().map(|s| s.style);
    let recipe = &rework.formula.recipe;
    let mut rise = None;
    let longest = |old: Option<Spread<Time>>, new: Spread<Time>| match old {
        Some(o) if o.likely() >= new.likely() => Some(o),
        _ => Some(new),
    };
    // What other parts bake and raise in steps of their own is not this one's.
    let owners = owners(recipe);
    let lasts = |s: &Step, what: Activity| {
        let is =
            |f: &Fact| matches!(f.kind, FactKind::Duration { doing: Some(a), .. } if a == what);
        s.facts.iter().any(is)
    };
    let here = |what: Activity| {
        let mut steps = recipe.steps.iter().zip(&owners);
        steps.any(|(s, o)| *o == at && lasts(s, what))
    };
    let (bakes_here, rises_here) = (here(Activity::Bake), here(Activity::Rise));
    for (step, owner) in recipe.steps.iter().zip(&owners) {
        for fact in step.facts.iter() {
            if let FactKind::Duration {
                value,
                doing: Some(Activity::Rise),
            } = &fact.kind
                && (*owner == at || !rises_here)
            {
                rise = longest(rise, *value);
            }
        }
    }
    let ovens = settings(recipe);
    let ours = recipe.steps.iter().zip(&owners).filter(|(s, owner)| {
        let theirs = **owner != at && bakes_here && lasts(s, Activity::Bake);
        !theirs
    });
    let ours: Vec<&Step> = ours.map(|(s, _)| s).collect();
    let bakes = bakes_of(ours, &ovens).into_iter();
    let bakes = bakes.map(|b| {
        let custard = sets_a_custard(recipe, b.last, b.end);
        (b, custard)
    });
    let bakes: Vec<(Bakes<'_>, bool)> = bakes.collect();
    let longest = bakes
        .iter()
        .reduce(|a, b| if b.0.likely() > a.0.likely() { b } else { a });
    let (longest_bake, custard) = (longest.map(|b| &b.0), longest.is_some_and(|b| b.1));
    let written = longest_bake.map(Bakes::time);
    let oven = longest_bake
        .and_then(Bakes::oven)
        .or_else(|| ovens.last().map(|s| s.temperature));
    let time = written.map(|t| if custard { t } else { longer(t) });
    let parts = parts(rework, batch, at, larder);
    let said = panful.said.as_ref();
    Some(Given {
        component: at,
        name: c.name.clone(),
        style,
        yeast: style.is_some_and(Style::is_yeast_dough),
        oven,
        written,
        time,
        custard,
        pan: said.and_then(Pan::of_method),
        pan_assumed: said.and_then(|s| s.assumed()),
        pan_words: panful.pan_words.clone(),
        rest_in: panful.rest_in.clone(),
        pans: said.map_or(1, |s| s.count * s.pan.hollows),
        sized: batch
            .pans
            .as_ref()
            .filter(|_| panful.parts.contains(&batch.main))
            .and_then(|p| Some((Pan::of_size(&p.pan)?, p.count * p.pan.hollows))),
        sets,
        meat: (0..rework.components.len())
            .any(|i| made(i) && !rework.components[i].meat.is_empty()),
        what: panful.words(rework),
        times: sized.factor,
        makes: panful
            .parts
            .iter()
            .map(|c| batch.components[*c].makes.likely() * panful.share(*c))
            .sum(),
        once: Mass::grams(once),
        dough: sized.makes.likely(),
        body: dough_of(rework, batch, at, Kind::Fit),
        rise,
        flour: sized.flour.likely(),
        water: Mass::grams(parts.water),
        liquid_is_water: parts.is_water,
        other: Mass::grams(parts.other),
        other_water: if parts.other > 0.0 {
            parts.wet / parts.other
        } else {
            USUAL_WATER
        },
        perishable: any_of(panful.parts.iter().map(|c| rework.egg_or_milk(*c))),
        work: None,
        unweighed: unweighed(&panful.parts),
        once_unweighed,
        dough_unweighed: c.unweighed(),
        parts: panful.parts,
        stages: bakes.len(),
        stretches: longest_bake.map_or(Vec::new(), Bakes::stretches),
    })
}

/// Whether any is; not known where one may be and none is known to.
fn any_of(mut all: impl Iterator<Item = Option<bool>> + Clone) -> Option<bool> {
    if all.clone().any(|is| is == Some(true)) {
        return Some(true);
    }
    all.all(|is| is == Some(false)).then_some(false)
}

/// One bake: its times one after another, each with its oven.
pub(super) struct Bakes<'a> {
    times: Vec<(Spread<Time>, Option<Setting>)>,
    /// The step in which it ends.
    last: &'a Step,
    /// The byte of that step at which it ends.
    end: usize,
}

impl Bakes<'_> {
    fn likely(&self) -> f64 {
        self.times
            .iter()
            .map(|(t, _)| t.likely().as_minutes())
            .sum()
    }

    pub fn time(&self) -> Spread<Time> {
        let sum = |of: fn(Spread<Time>) -> Time| self.times.iter().map(|(t, _)| of(*t)).sum();
        Spread::new(sum(Spread::low), sum(Spread::likely), sum(Spread::high))
    }

    /// The mean of its ovens by time; nothing where one is not said.
    fn oven(&self) -> Option<Temperature> {
        let mut sum = 0.0;
        for (time, oven) in &self.times {
            sum += time.likely().as_minutes() * oven.as_ref()?.temperature.as_celsius();
        }
        let one = self.times.first()?.1?.temperature;
        let mean = Temperature::celsius(sum / self.likely());
        Some(if self.times.len() == 1 { one } else { mean })
    }

    pub fn stretches(&self) -> Vec<Stretch> {
        let each = self.times.iter().map(|(time, oven)| Stretch {
            time: *time,
            oven: oven.map(|s| s.temperature),
        });
        each.collect()
    }
}

fn staged_words(all: &[Stretch]) -> String {
    let each = all.iter().map(|s| {
        let minutes = super::clock(s.time.likely().as_minutes());
        match s.oven {
            Some(oven) => {
                let dial = OvenSetting(oven);
                let (c, f) = (dial.dial_celsius(), dial.beside_celsius());
                format!("{minutes} at {c} °C ({f} °F)")
            }
            None => minutes,
        }
    });
    each.collect::<Vec<_>>().join(", then ")
}

/// Words that lead from one time of a bake to its next.
const NEXT: &[&str] = &[
    "then", "lower", "reduce", "turn", "raise", "increase", "drop", "remove", "take", "uncover",
    "more", "further", "another", "longer",
];

/// What is baked after it is another piece.
const ANOTHER_BATCH: &[&str] = &["tray", "trays", "batch", "batches", "second", "rest"];

/// Words by which a step brings something else to the bake, beside the verbs of a plan.
const PUTS: &[&str] = &["add", "place", "put", "stir", "top"];

/// Whether a time of the next step goes on with a bake that ends at a byte of a step: 'Bake for 15 minutes.', 'Reduce
/// the oven to 190 °C and bake for 25 minutes more.' Between the two nothing is done but with the oven.
fn goes_on((before, end): (&Step, usize), step: &Step, fact: &Fact) -> bool {
    let (at, to) = (fact.span.start, fact.span.end);
    let others = |s: &Step, from: usize, to: usize| {
        let said = s.text.get(from..to).unwrap_or("");
        let does = |f: &Fact| {
            let what = match f.kind {
                FactKind::Doing(a) => Some(a),
                FactKind::Duration { doing, .. } => doing,
                _ => None,
            };
            let oven = what.is_none_or(|a| matches!(a, Activity::Bake | Activity::Preheat));
            f.span.start >= from && f.span.start < to && !oven
        };
        let puts = |w: &str| PUTS.contains(&w.to_lowercase().as_str());
        let mut words = said.split(|c: char| !c.is_alphabetic());
        // 'Cover with foil' is no other thing.
        let foil = |w: &str| w == "cover";
        s.facts.iter().any(does)
            || words.any(puts)
            || clause_verbs(said).iter().any(|v| !foil(&v.1))
    };
    let between = step.text.get(..at).unwrap_or("");
    before.number + 1 == step.number
        && leads_on(between, step.text.get(to..).unwrap_or(""))
        && !others(before, end, before.text.len())
        && !others(step, 0, at)
}

/// Whether words lead from one time of a bake to its next. '10 minutes more': the word may stand right behind the time,
/// too.
fn leads_on(between: &str, behind: &str) -> bool {
    let words = between.split(|c: char| !c.is_alphabetic());
    let next = behind
        .split(|c: char| !c.is_alphabetic())
        .find(|w| !w.is_empty());
    let all: Vec<String> = words.chain(next).map(str::to_lowercase).collect();
    let any = |list: &[&str]| all.iter().any(|w| list.contains(&w.as_str()));
    any(NEXT) && !any(ANOTHER_BATCH)
}

/// The bakes of some steps: times that a word like 'then' leads on to are one bake, others are apart.
pub(super) fn bakes_of<'a>(
    steps: impl IntoIterator<Item = &'a Step>,
    ovens: &[Setting],
) -> Vec<Bakes<'a>> {
    let mut out: Vec<Bakes<'a>> = Vec::new();
    for step in steps {
        for (fact, time) in step.timed_bakes() {
            let one = (time, of_bake(ovens, step, fact));
            let (from, to) = (fact.span.start, fact.span.end);
            let goes_on = |b: &&mut Bakes<'_>| {
                let behind = step.text.get(to..).unwrap_or("");
                match step.text.get(b.end..from) {
                    Some(between) if b.last.number == step.number => leads_on(between, behind),
                    _ => goes_on((b.last, b.end), step, fact),
                }
            };
            match out.last_mut().filter(goes_on) {
                Some(bakes) => {
                    bakes.times.push(one);
                    (bakes.last, bakes.end) = (step, to);
                }
                None => out.push(Bakes {
                    times: vec![one],
                    last: step,
                    end: to,
                }),
            }
        }
    }
    out
}

struct Parts {
    water: f64,
    is_water: bool,
    other: f64,
    wet: f64,
}

/// Water that can be warmed: of all free liquids the heaviest, with water itself first.
fn parts(rework: &Rework, batch: &Batch, at: usize, larder: &Larder) -> Parts {
    let lines = batch.components.get(at).map_or(&[][..], |c| &c.lines[..]);
    let weighed: Vec<_> = lines
        .iter()
        .filter(|l| l.in_formula)
        .filter_map(|l| Some((l, l.grams?.likely().as_grams())))
        .collect();
    let free = |f: larder::FoodId| {
        let food = larder.food(f);
        matches!(food.function(), Function::Water | Function::Liquid)
            || food.function() == Function::Dairy
                && larder.composition(f).water.is_some_and(|w| w > 85.0)
    };
    let tempered = weighed
        .iter()
        .filter(|(l, _)| l.food.is_some_and(free))
        .max_by(|a, b| {
            let is_water = |l: &&crate::size::BatchLine| {
                l.food
                    .is_some_and(|f| larder.food(f).function() == Function::Water)
            };
            is_water(&a.0)
                .cmp(&is_water(&b.0))
                .then(a.1.total_cmp(&b.1))
        })
        .map(|(l, g)| {
            let water = l
                .food
                .is_some_and(|f| larder.food(f).function() == Function::Water);
            (l.key.clone(), *g, water)
        });
    let lines_of = &rework.components[at].lines;
    let (mut other, mut wet) = (0.0, 0.0);
    for (l, g) in &weighed {
        let blend = lines_of.get(l.at).is_some_and(|x| x.blend);
        let flour = l.food.is_some_and(|f| larder.food(f).is_flour_phase());
        if blend || flour || tempered.as_ref().is_some_and(|(key, _, _)| *key == l.key) {
            continue;
        }
        other += g;
        let share = l
            .food
            .and_then(|f| larder.composition(f).water)
            .map_or(USUAL_WATER, |w| w / 100.0);
        wet += g * share;
    }
    Parts {
        water: tempered.as_ref().map_or(0.0, |t| t.1),
        is_water: tempered.is_none_or(|t| t.2),
        other,
        wet,
    }
}
