//! From a worked sheet to the tasks of a batch.

use super::before_baking::counted_back;
use super::cooked;
use super::cool;
use super::deed::Objects;
use super::follow::{apply_own, bypass, heat_for_own, keys, said};
use super::frozen;
use super::in_turn;
use super::join;
use super::late;
use super::mixed::goes_unmixed;
use super::noted::handwork;
use super::ovens;
use super::page_step;
use super::pans;
use super::piece;
use super::put_in::{
    chill_flat, hot_for_frying, ready_for_the_bake, rest_after_mixing, take_out, yeast_stood,
};
use super::step::{Cut, Draft, racks, uses_mixer};
use super::stove::simmers;
use super::strand::{self, Strand, by_own_method, chains, read_apart, strands};
use super::table;
use super::taken;
use super::task::{Basis, Place, Span, Task, Wait};
use super::tasks::{Tasks, gluten, once, unknown};
use super::told::{Aside, asides, is_behind};
use super::unsaid::Unsaid;
use super::warm::{self, limits, until_mixed};
use crate::keeping::MOIST;
use crate::recipe::{Activity, FactKind, Recipe, Step};
use crate::rework::timing::{BakeTime, bakes};
use crate::rework::{Kept, ReworkedComponent, is_folded_in, owners};
use crate::sheet::{Sheet, Worked};
use std::collections::BTreeMap;

/// With waits shorter than this together a part is made on the day it is weighed (common practice, no source).
const SAME_DAY: f64 = 120.0;
/// A pan's worth of rounding before one more rack is taken.
pub(super) const NEARLY: f64 = 0.25;

/// A stretch and the step it stands in.
#[derive(Clone)]
pub(super) struct Placed {
    pub step: Option<usize>,
    pub draft: Draft,
    pub mixer: bool,
    pub racks: u32,
    /// See [`Task::cooks`].
    pub cooks: bool,
    /// See [`Task::simmers`].
    pub simmers: bool,
}

/// The tasks of a worked sheet, for so many times the recipe.
///
/// # Arguments
/// * `factor` — times the recipe, above 0; what is not is taken as 1.
///
/// # Returns
/// Every figure says what it rests on. A recipe without a method gets what its styles need, as
/// guesses. A bake in another tin or oven takes the time that [`Worked::bake`] has for it.
#[must_use]
pub fn tasks(w: &Worked, sheet: &Sheet, factor: f64) -> Tasks {
    let factor = if factor.is_finite() && factor > 0.0 {
        factor
    } else {
        1.0
    };
    let (recipe, own_method) = by_own_method(w, sheet);
    let tasks = with(w, (&recipe, own_method), factor, |build| build.run(sheet));
    let mut tasks = match &w.bake {
        Some(e) => tasks.with_heat(e),
        None => tasks,
    };
    super::ordinal::told_apart(&mut tasks.list);
    tasks
}

/// Gives what is made of a method, the page's or the baker's own.
pub(super) fn with<T>(
    w: &Worked,
    (recipe, own_method): (&Recipe, bool),
    factor: f64,
    make: impl FnOnce(&Build<'_>) -> T,
) -> T {
    let owners = owners(recipe);
    let chains = chains(w, recipe, &owners);
    let bakes = bakes(recipe);
    let strands = strands(recipe, &chains);
    make(&Build {
        w,
        recipe,
        owners: &owners,
        chains: &chains,
        strands: &strands,
        bakes: &bakes,
        factor,
        own_method,
    })
}

/// The bake of a part that was baked blind before is that of the filled case.
fn filled(list: &mut [Task]) {
    for i in 0..list.len() {
        let blind = |t: &Task| t.component == list[i].component && t.name.starts_with("Bake blind");
        if list[i].name == "Bake" && list[..i].iter().any(blind) {
            "Bake filled".clone_into(&mut list[i].name);
        }
    }
}

/// By component, the names of the foods that make it spoil.
fn spoiling(parts: &[ReworkedComponent]) -> BTreeMap<usize, String> {
    let names = |c: &ReworkedComponent| {
        let lines = c.lines.iter().filter(|l| l.kept != Kept::Dropped);
        let spoils = lines.filter(|l| l.food.is_some_and(|f| c.spoils.contains(&f)));
        once(spoils.map(|l| l.name.clone())).join(", ")
    };
    let all = parts.iter().map(names).enumerate();
    all.filter(|(_, names)| !names.is_empty()).collect()
}

/// The tasks of all parts in their order.
pub(super) struct Laid {
    pub list: Vec<Task>,
    /// By component, its tasks.
    pub chains: Vec<Vec<usize>>,
    /// See [`taken::before_it_is_taken`].
    pub given: Vec<Option<usize>>,
}

pub(super) struct Build<'a> {
    pub w: &'a Worked,
    pub recipe: &'a Recipe,
    /// The component each step is about, whose rework it follows.
    pub owners: &'a [usize],
    /// The component each step stands with in the order of work; see [`chains`].
    pub chains: &'a [usize],
    /// The work of each step beside its own; see [`strands`].
    pub strands: &'a [Option<Strand>],
    pub bakes: &'a [BakeTime],
    pub factor: f64,
    pub own_method: bool,
}

impl Build<'_> {
    /// The tasks of all parts in their order, those of parts that the method does not speak of with
    /// them.
    pub fn laid(&self, unsaid: &Unsaid) -> Laid {
        let mut list: Vec<Task> = Vec::new();
        let mut chains: Vec<Vec<usize>> = vec![Vec::new(); self.w.rework.components.len()];
        // Where each stands in its step.
        let mut places: Vec<usize> = Vec::new();
        for &c in &self.w.formula.order {
            let Some(component) = self.w.rework.components.get(c) else {
                continue;
            };
            if unsaid.put(c, &mut list, &mut chains[c]) {
                places.resize(list.len(), 0);
                continue;
            }
            let all = self.component(c, component);
            // The last that is not done beside a wait, and what is done beside that.
            let (mut last, mut beside) = (None::<usize>, Vec::new());
            for (n, placed) in all.iter().enumerate() {
                let at = list.len();
                let goes_on = all[n..].iter().any(|p| !p.draft.beside);
                let waits = last.is_some_and(|l| list[l].wait.is_some());
                let mut after: Vec<usize> = last.into_iter().collect();
                if placed.draft.beside && waits && goes_on {
                    // What is weighed does not stand for a night.
                    let waited = chains[c].iter().filter_map(|&t| list[t].wait);
                    let day = waited.map(|w| w.span.least).sum::<f64>() < SAME_DAY;
                    let first = chains[c]
                        .first()
                        .filter(|&&t| day && list[t].what == "weigh");
                    after = beside.last().or(first).copied().into_iter().collect();
                    beside.push(at);
                } else {
                    after.append(&mut beside);
                    last = Some(at);
                }
                list.push(self.task(c, component, placed.clone(), after));
                places.push(placed.draft.at);
                chains[c].push(at);
            }
        }
        let given = taken::before_it_is_taken(self, &mut list, &chains);
        strand::joined(self, &mut list, &chains, &places);
        join::parts(self, &mut list, &mut chains, unsaid);
        in_turn::in_turn(self, &mut list, &chains);
        in_turn::by_way_of_others(&mut list);
        join::baked_with_another(self, &mut list, &chains);
        frozen::shares(self, &mut list);
        unsaid.order(&mut list, &chains);
        Laid {
            list,
            chains,
            given,
        }
    }

    fn run(&self, sheet: &Sheet) -> Tasks {
        let unsaid = Unsaid::of(self);
        let Laid {
            mut list,
            chains,
            given,
        } = self.laid(&unsaid);
        let left_to_page = page_step::fill(self, &unsaid, &mut list, &chains);
        let unsaid = unsaid.words(&list);
        ovens::heated(self, &mut list);
        cool::before_cutting(self, &mut list, &chains);
        cool::before_it_goes_on(self, &mut list, &chains);
        let parts = &self.w.rework.components;
        let perishable = |c: usize| {
            parts
                .get(c)
                .is_some_and(|c| c.holds_egg_or_milk && !c.keeps)
        };
        let flourless = |c: &ReworkedComponent| {
            let (flour, total) = (c.reworked.flour.likely(), c.reworked.total.likely());
            flour.as_grams() <= MOIST * total.as_grams()
        };
        // A wash on a bread spoils no more than that; meat in a batter does.
        let spoils = |c: &ReworkedComponent| flourless(c) || !c.meat.is_empty();
        let stays_moist = |c: &ReworkedComponent| spoils(c) || c.holds_its_filling;
        let moist = |c: usize| given[c].is_none() && parts.get(c).is_some_and(stays_moist);
        let is_dough = |c: usize| parts.get(c).is_some_and(|c| !spoils(c));
        let grams = |c: &ReworkedComponent| c.makes.likely().as_grams();
        let all: f64 = parts.iter().map(grams).sum();
        for c in 0..parts.len() {
            let (meat, egg) = (!parts[c].meat.is_empty(), perishable(c));
            let wraps = |t: &Task| t.component == c && parts[c].holds_its_filling;
            let of_dough = |t: &Task| is_dough(t.component) && !wraps(t);
            let cooked = |list: &[Task]| {
                let share = parts[c].spoils_once_cooked?;
                let much = share * grams(&parts[c]) >= cooked::MUCH * all;
                let path = cooked::before_it_is_mixed(list, c, given[c], of_dough, much);
                path.filter(|_| given[c].is_none())
            };
            if moist(c) && (egg || meat) || cooked(&list).is_some() {
                let path = |list: &[Task]| match cooked(list) {
                    Some(path) if !meat && !egg => path,
                    _ => warm::path(list, c, given[c]),
                };
                let now = path(&list);
                cooked::cold_between(&mut list, &now);
                let now = path(&list);
                cooked::in_the_fridge(&mut list, &now);
            }
            if moist(c) && meat {
                let path = warm::path(&list, c, given[c]);
                cooked::stands_briefly(&mut list, &path, true);
            } else if let Some(path) = cooked(&list) {
                cooked::stands_briefly(&mut list, &path, false);
            }
        }
        keys(&mut list);
        filled(&mut list);
        let says = said(self.recipe);
        let idle = apply_own(&mut list, sheet, &says);
        bypass(&mut list);
        heat_for_own(&mut list, sheet, &idle);
        let spoil: Vec<_> = (0..parts.len())
            .map(|c| taken::spoils_from(self, c))
            .collect();
        let before = |t: &Task| t.step.zip(spoil[t.component]).is_some_and(|(s, at)| s < at);
        let bare = |t: &Task| self.is_bare(t);
        // What is kneaded into a dough is dough.
        let mixed_in = |g: usize| {
            let task = &list[g];
            matches!(task.what, "mix" | "paste" | "knead" | "rub_in") && is_dough(task.component)
        };
        let doughs: Vec<bool> = (0..parts.len())
            .map(|c| is_dough(c) || given[c].is_some_and(mixed_in))
            .collect();
        let dough = |c: usize| doughs[c];
        let mut hours = limits(&mut list, perishable, moist, dough, before, bare, &given);
        let keeps = |c: &usize| parts[*c].holds_egg_or_milk && parts[*c].keeps;
        let mixed = (0..parts.len()).filter(keeps);
        let mixed = mixed.filter_map(|c| until_mixed(&list, c, given[c]));
        hours.limits.extend(mixed);
        late::told(self, &mut list, &chains);
        let sized = sheet.size.as_ref().map(|s| &s.target);
        let pans = pans::uses(self, &list, sized);
        pans::other_tin(self, &mut list, sized);
        Tasks {
            title: self.recipe.title.clone().unwrap_or_default(),
            list,
            limits: hours.limits,
            warm: hours.warm,
            breaches: hours.breaches,
            spoils: spoiling(parts),
            gluten: gluten(self.w),
            meat: once(self.w.rework.components.iter().flat_map(|c| c.meat.clone())),
            unknown: unknown(self.w),
            pans,
            own_method: self.own_method,
            unsaid,
            left_to_page,
            idle,
            says,
            factor: self.factor,
        }
    }

    /// The reworked component, where its method is the original's.
    fn reworked<'c>(&self, c: &'c ReworkedComponent) -> Option<&'c ReworkedComponent> {
        (!self.own_method).then_some(c)
    }

    /// The stretches of one component, in order.
    fn component(&self, c: usize, component: &ReworkedComponent) -> Vec<Placed> {
        let mut out: Vec<Placed> = Vec::new();
        let lines = component
            .lines
            .iter()
            .filter(|l| l.kept != Kept::Dropped && l.in_formula)
            .count();
        if lines > 0 {
            let mut weigh = Draft::usual(table::of("weigh"), "Weigh out");
            weigh.hands = weigh.hands.times(lines as f64);
            out.push(placed(None, weigh));
        }
        let noted = |rule: &str| component.method_notes.iter().any(|n| n.rule == rule);
        let noted = noted("hydrate the psyllium") && !self.own_method;
        let gel = component.gel.filter(|_| noted);
        let gels = gel.map(|gel| {
            let mut d = Draft::usual(table::of("hydrate"), "Let the psyllium gel");
            (d.hands_basis, d.wait_basis) = (Basis::Reworked, Basis::Reworked);
            let span = Span::from(gel.minutes);
            d.wait = d.wait.map(|w| Wait { span, ..w });
            (gel.after, placed(None, d))
        });
        let weighed = out.len();
        let (mut any, mut told) = (false, Vec::new());
        let steps = self.recipe.steps.iter().zip(self.owners).zip(self.chains);
        let steps = steps.zip(self.strands);
        for ((((step, &owner), &chain), aside), n) in steps.zip(0..) {
            let strand = aside.as_ref().map(|s| s.of);
            if chain != c && strand != Some(c) {
                continue;
            }
            let owner = if chain == c { owner } else { c };
            let about = self.w.rework.components.get(owner).unwrap_or(component);
            let earlier: Option<&Step> = self.recipe.steps[..n].last();
            let cut = Cut {
                earlier,
                begun: any,
                beside: aside.as_ref().map(|s| &s.beside),
                reworked: self.reworked(about),
                bakes: self.bakes,
                perishable: about.holds_egg_or_milk || component.holds_egg_or_milk,
                factor: self.factor,
                pieces: self.pieces(),
                objects: &Objects::of(about, &self.w.rework.components),
                folded: self
                    .recipe
                    .components
                    .iter()
                    .any(|c| is_folded_in(self.recipe, &c.name)),
            };
            let wide = racks(&step.text);
            if chain == c {
                told.extend(asides(step, any, is_behind(self.bakes, step)));
            }
            let step = &read_apart(step, aside.as_ref());
            let mut drafts = cut.step(step);
            let undone = handwork(step, &mut drafts);
            if let Some(last) = out.last_mut().filter(|_| chain == c) {
                last.draft.handwork.then.extend(undone);
            }
            let mut ends: Vec<usize> = drafts.iter().skip(1).map(|d| d.at).collect();
            ends.push(step.text.len());
            for (mut draft, end) in drafts.into_iter().zip(ends) {
                // Work beside a wait goes with its own part.
                let of = strand.filter(|_| draft.beside).unwrap_or(chain);
                if of != c {
                    continue;
                }
                any = true;
                // Beside a wait of another part: in its turn among its own.
                draft.beside &= strand == Some(chain);
                let simmers = simmers(about, &step.text, &draft, end);
                let (draft, cooks) = self.over_heat(about, step, draft, end);
                out.push(Placed {
                    step: Some(step.number),
                    draft,
                    mixer: uses_mixer(&step.text),
                    racks: wide,
                    cooks,
                    simmers,
                });
            }
        }
        let gelled = gels.is_some();
        if let Some((after, gels)) = gels {
            out.insert(
                after.map_or(weighed, |s| yeast_stood(&out, s, weighed)),
                gels,
            );
        }
        if !any && lines > 0 {
            self.without_method(c, component, &mut out);
        } else if goes_unmixed(component, &out, || taken::is_mixed(self, c)) {
            let mix = placed(None, Draft::usual(table::of("mix"), "Mix"));
            out.insert(weighed + usize::from(gelled), mix);
        } else if let Some((at, step)) = self.only_told(c, &out) {
            out.insert(
                at,
                placed(Some(step), Draft::usual(table::of("mix"), "Mix")),
            );
        }
        if !self.own_method {
            rest_after_mixing(component, self.recipe, &mut out);
            chill_flat(component, &mut out);
        }
        self.ripens(c, &mut out);
        ready_for_the_bake(&mut out);
        hot_for_frying(&mut out);
        take_out(&mut out);
        counted_back(self.recipe, &mut out);
        frozen::thaws_first(&mut out);
        piece::by_size(self.recipe, component, &mut out);
        for aside in told {
            let (at, words) = match aside {
                Aside::After(words) => (out.last_mut(), words),
                Aside::Before(words) => (out.first_mut(), words),
            };
            if let Some(p) = at {
                p.draft.notes.push(words);
            }
        }
        out
    }

    /// Times the room that the method takes: by the pans of the batch where it is sized for some, a larger tart is
    /// one tart; else by how often the recipe is made.
    fn pans_times(&self) -> f64 {
        let batch = &self.w.batch;
        let Some(sized) = &batch.pans else {
            return self.factor;
        };
        let said = self.w.rework.panful_round(batch.main).said.as_ref();
        let own = said.map_or(1, |s| s.count.max(1));
        let more = self.factor / batch.factor.max(f64::EPSILON);
        f64::from(sized.count) / f64::from(own) * more
    }

    /// The pieces that the recipe makes once; servings and weights are none.
    fn pieces(&self) -> Option<f64> {
        const NONE: [&str; 14] = [
            "serve", "serving", "feed", "people", "person", "portion", "g", "kg", "lb", "oz", "ml",
            "cup", "litre", "liter",
        ];
        let makes = self.recipe.makes.as_ref()?;
        let words = crate::sentences::words(&makes.text);
        let none = words.iter().any(|w| NONE.contains(&w.as_str()));
        makes.count.filter(|_| !none).map(|(_, most)| most)
    }

    /// One stretch as a task.
    fn task(&self, c: usize, of: &ReworkedComponent, p: Placed, after: Vec<usize>) -> Task {
        let d = p.draft;
        let racks = match d.wait.map(|w| w.place) {
            Some(Place::Oven | Place::Fridge | Place::Freezer) => {
                (f64::from(p.racks) * self.pans_times() - NEARLY)
                    .ceil()
                    .max(1.0) as u32
            }
            _ => 1,
        };
        Task {
            key: String::new(),
            component: c,
            of: of.name.clone(),
            name: d.name,
            what: d.what,
            step: p.step,
            at: d.at,
            hands: d.hands,
            hands_basis: d.hands_basis,
            wait: d.wait,
            wait_basis: d.wait_basis,
            longest_ours: d.longest_ours,
            mixer: p.mixer && d.wait.is_none(),
            racks,
            after,
            soon: Vec::new(),
            soon_within: join::HOT,
            cooks: p.cooks,
            simmers: p.simmers,
            stands: d.stands,
            spoils: None,
            optional: d.optional,
            left_out: false,
            notes: d.notes,
            source: d.source,
            was: d.was,
            handwork: d.handwork,
        }
    }
}

pub(super) fn placed(step: Option<usize>, draft: Draft) -> Placed {
    Placed {
        step,
        draft,
        mixer: false,
        racks: 1,
        cooks: true,
        simmers: false,
    }
}

/// Whether a step heats the oven, and the minutes it says.
pub(super) fn heats(facts: &[crate::recipe::Fact]) -> Option<Option<Span>> {
    facts.iter().find_map(|f| match &f.kind {
        FactKind::Doing(Activity::Preheat) => Some(None),
        FactKind::Duration {
            value,
            doing: Some(Activity::Preheat),
        } => Some(Some(Span::from(*value))),
        _ => None,
    })
}
