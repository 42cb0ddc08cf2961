//! The steps of a batch: the tasks of its plan in the order of the work, with the timers they
//! offer and the hours they are planned at.

use super::words::{self, minutes};
use super::{BatchSheet, Offer, Ring, Task, method};
use crate::day::clock::Clock;
use crate::web::kitchen::oven_words;
use crate::web::page::capital;
use quantity::{Spread, Temperature, both_scales};
use recipe::own_method;
use recipe::plan::{self, Basis, Place, Plan, Tasks};
use recipe::sheet::{Sheet, Worked};
use recipe::{Activity, FactKind};
use std::collections::BTreeSet;
use store::Settings;

/// What its key begins with among the batch's marks.
pub const MARK: &str = "step:";

/// The tasks of the components that are made, what comes first before what follows it.
///
/// # Arguments
/// * `places` — the components of the batch, by place in the recipe.
pub fn steps(
    w: &Worked,
    sheet: &Sheet,
    tasks: &Tasks,
    places: &[usize],
    settings: &Settings,
) -> Vec<Task> {
    let made = |t: &plan::Task| !t.left_out && places.contains(&t.component);
    let own = own_method::steps(sheet.method.as_deref().unwrap_or_default());
    let own: Vec<String> = own.into_iter().flat_map(|s| s.steps).collect();
    let mut told: BTreeSet<usize> = BTreeSet::new();
    in_order(tasks)
        .into_iter()
        .filter(|&i| made(&tasks.list[i]))
        .map(|i| {
            let t = &tasks.list[i];
            let component = places.iter().position(|c| *c == t.component).unwrap_or(0);
            let after = comes_after(tasks, i)
                .into_iter()
                .filter(|&a| made(&tasks.list[a]))
                .map(|a| format!("{MARK}{}", tasks.list[a].key))
                .collect();
            let texts = Texts {
                w,
                own: tasks.own_method.then_some(&own),
            };
            let first = t.step.is_none_or(|s| told.insert(s));
            let wait = t.wait.map(|w| w.span);
            Task {
                item: format!("{MARK}{}", t.key),
                component,
                what: t.what.to_owned(),
                name: t.name.clone(),
                step: t.step.map(|n| texts.label(n)),
                words: texts.of(t, first),
                hands: t.hands.usual,
                hands_rests: t.hands_basis.word().to_owned(),
                least: wait.map(|s| s.least),
                most: wait.map(|s| s.most),
                may: t.wait.is_some_and(|w| w.may),
                wait_rests: t.wait.map(|_| t.wait_basis.word().to_owned()),
                place: t.wait.map(|w| w.place.key().to_owned()),
                heat: heat(w, t, sheet, settings),
                notes: t.notes.iter().map(|n| both_scales(n)).collect(),
                was: t.was.clone(),
                optional: t.optional.clone(),
                after,
                timers: timers(w, tasks, t),
                ..Task::default()
            }
        })
        .collect()
}

/// When an oven is lit: so that it is hot when the last work before its bake is done, and not before.
#[derive(Default)]
struct Lit {
    /// What is done before it may be.
    after: Vec<usize>,
    /// What stands above it in the list.
    behind: Vec<usize>,
    /// What is done while it heats.
    beside: Vec<usize>,
}

impl Lit {
    fn of(tasks: &Tasks, oven: usize) -> Self {
        let mut out = Self::default();
        let heats = tasks.list[oven].wait.map_or(0.0, |w| w.span.usual);
        let bakes = tasks.list.iter().enumerate();
        for (bake, _) in bakes.filter(|(_, b)| !b.left_out && b.after.contains(&oven)) {
            out.back(tasks, (oven, heats), bake, 0.0);
        }
        for list in [&mut out.after, &mut out.behind] {
            list.extend(&tasks.list[oven].after);
            list.sort_unstable();
            list.dedup();
        }
        out
    }

    /// Goes back from a task, so many minutes before the bake, until the oven has its time.
    fn back(&mut self, tasks: &Tasks, (oven, heats): (usize, f64), from: usize, minutes: f64) {
        let list = &tasks.list;
        for &a in list[from].after.iter().filter(|a| **a != oven) {
            let t = &list[a];
            let wait = t.wait.map_or(0.0, |w| w.span.least);
            let takes = minutes + t.hands.usual + wait;
            if wait >= heats {
                // In the last of a rise, and once what rises is shaped no more.
                self.behind.push(a);
                let last = list[from].what == "bake" || t.component != list[from].component;
                let end = if last { &t.after[..] } else { &[a][..] };
                self.after.extend(end);
                continue;
            }
            // What is weighed may stand.
            if t.what == "weigh" {
                self.behind.push(a);
                self.after.push(a);
                continue;
            }
            self.beside.push(a);
            if takes >= heats {
                self.behind.extend(&t.after);
                self.after.extend(&t.after);
            } else {
                self.back(tasks, (oven, heats), a, takes);
            }
        }
    }
}

/// What comes before a task.
fn comes_after(tasks: &Tasks, i: usize) -> Vec<usize> {
    if tasks.list[i].what == "preheat" {
        Lit::of(tasks, i).after
    } else {
        tasks.list[i].after.clone()
    }
}

/// Every task after all that it follows; parts in their order, the oven so long before its bake as it takes to heat.
fn in_order(tasks: &Tasks) -> Vec<usize> {
    fn put(tasks: &Tasks, i: usize, seen: &mut [bool], out: &mut Vec<usize>) {
        if tasks.list[i].what == "preheat" || std::mem::replace(&mut seen[i], true) {
            return;
        }
        for &a in &tasks.list[i].after {
            put(tasks, a, seen, out);
        }
        out.push(i);
    }
    let mut out = Vec::new();
    let mut seen = vec![false; tasks.list.len()];
    for i in 0..tasks.list.len() {
        put(tasks, i, &mut seen, &mut out);
    }
    for oven in (0..tasks.list.len()).filter(|&i| tasks.list[i].what == "preheat") {
        let lit = Lit::of(tasks, oven);
        let bake = tasks.list.iter().position(|t| t.after.contains(&oven));
        let behind = lit.behind.iter().filter_map(|t| place(&out, *t)).max();
        let mine =
            |t: &&usize| bake.is_some_and(|b| tasks.list[**t].component == tasks.list[b].component);
        let beside = lit
            .beside
            .iter()
            .filter(mine)
            .filter_map(|t| place(&out, *t))
            .min();
        let bake = bake.and_then(|b| place(&out, b));
        let at = behind.map(|b| b + 1).or(beside).or(bake);
        out.insert(at.unwrap_or(out.len()), oven);
    }
    out
}

fn place(order: &[usize], task: usize) -> Option<usize> {
    order.iter().position(|t| *t == task)
}

/// Minutes from the beginning of each step to the end of all that follows it, work at its usual length and waits at
/// their shortest.
pub fn lead(tasks: &[Task]) -> Vec<f64> {
    let mut out = vec![0.0; tasks.len()];
    // What follows stands behind.
    for i in (0..tasks.len()).rev() {
        let wait = match (tasks[i].may, tasks[i].most) {
            (false, Some(most)) => most,
            _ => tasks[i].least.unwrap_or(0.0),
        };
        let follows = (i + 1..tasks.len()).filter(|&f| tasks[f].after.contains(&tasks[i].item));
        let next = follows.map(|f| out[f]).fold(0.0, f64::max);
        out[i] = tasks[i].hands + wait + next;
    }
    out
}

/// The words of the method's steps.
struct Texts<'a> {
    w: &'a Worked,
    /// The baker's own method, where the plan is read from it.
    own: Option<&'a Vec<String>>,
}

impl Texts<'_> {
    fn label(&self, step: usize) -> String {
        match self.own {
            Some(_) => step.to_string(),
            None => self.w.formula.recipe.step_label(step),
        }
    }
    /// The step's words, with its first task.
    fn of(&self, t: &plan::Task, first: bool) -> Option<String> {
        let at = t.step.filter(|_| first)?.checked_sub(1)?;
        let words = match self.own {
            Some(own) => own.get(at),
            None => self.w.formula.recipe.steps.get(at).map(|s| &s.text),
        };
        words.filter(|s| **s != t.name).cloned()
    }
}

/// The oven of a bake or of heating it up: the baker's own figure, that of the rework, or the
/// method's.
fn heat(w: &Worked, t: &plan::Task, sheet: &Sheet, settings: &Settings) -> Option<String> {
    let wait = t.wait.filter(|w| w.place == Place::Oven)?;
    let own = sheet
        .steps
        .iter()
        .any(|s| s.step == t.key && s.oven.is_some());
    let c = w.rework.components.get(t.component).filter(|_| !own);
    if let Some(ours) = c.and_then(|c| method::our_oven(c, wait.oven, settings)) {
        return Some(ours);
    }
    let t = wait.oven?;
    let here = oven_words(settings, t).map(|w| both_scales(&w));
    let here = here.map_or(String::new(), |w| format!(", {w}"));
    let exact = Spread::exact(Temperature::celsius(t));
    Some(format!("{}{here}", words::oven(exact)))
}

/// The timers of a task: its wait; work that the method times. Nothing is kneaded to the clock.
fn timers(w: &Worked, tasks: &Tasks, t: &plan::Task) -> Vec<Offer> {
    let title = t.title();
    if let Some(wait) = t.wait {
        let s = wait.span;
        let look = t.what == "rise" && t.wait_basis == Basis::Reworked;
        // What may only be short is timed to its end.
        if wait.may && s.least < 0.1 {
            return offer(&title, s.most, s.most)
                .map(|o| Offer {
                    ring: Ring::Latest,
                    ..o
                })
                .into_iter()
                .collect();
        }
        let ring = match look {
            false => Ring::Over,
            true if minutes(tidy(s.least)) == minutes(tidy(s.most)) => Ring::LookAt,
            true => Ring::LookFrom,
        };
        // A wait of nothing is not timed; one that may last longer is over at its least.
        return offer(&title, s.least, s.most)
            .map(|o| Offer {
                longer: wait.may,
                ring,
                ..o
            })
            .into_iter()
            .collect();
    }
    let name = t.name.to_lowercase();
    let kneads = ["knead", "paste", "windowpane"]
        .iter()
        .any(|k| name.contains(k));
    if kneads || t.what == "weigh" {
        return Vec::new();
    }
    // Minutes a side: the plan counts the whole work, the clock one panful.
    let fries = name.contains("fry");
    let step = t.step.filter(|_| fries && !tasks.own_method);
    let fried = step.and_then(|n| w.formula.recipe.steps.get(n - 1));
    let mut out: Vec<Offer> = fried
        .iter()
        .flat_map(|s| &s.facts)
        .filter_map(|f| match &f.kind {
            FactKind::Duration {
                value,
                doing: Some(Activity::Fry) | None,
            } => offer(&title, value.low().as_minutes(), value.high().as_minutes()),
            _ => None,
        })
        .collect();
    out.dedup();
    if out.is_empty() && t.hands_basis == Basis::Said {
        out.extend(offer(&title, t.hands.least, t.hands.most));
    }
    out
}

fn offer(label: &str, least: f64, most: f64) -> Option<Offer> {
    let (low, high) = (tidy(least), tidy(most));
    (0.1..=2880.0).contains(&low).then(|| Offer {
        label: label.to_owned(),
        minutes: low,
        most: (high > low * 1.001).then_some(high),
        ..Offer::default()
    })
}

/// Minutes as the bench counts them: whole above 10.
fn tidy(m: f64) -> f64 {
    if m > 10.0 {
        m.round()
    } else {
        (m * 60.0).round() / 60.0
    }
}

/// So many minutes above 5 °C are near the limit for what holds egg or milk.
const NEAR: f64 = 90.0;

/// How near the warm time of a component comes to the limit for what holds egg or milk, as the plan
/// counts it.
pub fn warm(tasks: &Tasks, place: usize) -> Option<String> {
    let warm = tasks.warm.iter().find(|w| w.component == place)?;
    if !warm.waits || warm.most < NEAR {
        return None;
    }
    let (from, to) = (minutes(warm.least), minutes(warm.most));
    let told = if from == to {
        to
    } else {
        format!("{from} to {to}")
    };
    let so = if warm.most > plan::WARM_LIMIT {
        "longer than the limit"
    } else if warm.most >= plan::WARM_LIMIT - 1.0 {
        "all of the limit"
    } else {
        "near the limit"
    };
    let (until, way) = if warm.heated {
        (" to the heat", "Look early, or let it rise in the cold")
    } else {
        (
            " until it is served or chilled",
            "It is not heated any more: keep it in the fridge",
        )
    };
    let mut breaches = tasks.breaches.iter();
    let breach = breaches.find(|b| !b.cold && b.leg == (place, 0));
    let way = breach.map_or_else(
        || way.to_owned(),
        |b| format!("To keep within it, {}", b.mended(&tasks.list)),
    );
    Some(both_scales(&format!(
        "It stands above 5 °C for {told} from the end of its weighing, what spoils weighed last,{until}, slow work included: {so}. {}. {way}.",
        capital(plan::WARM_WORDS)
    )))
}

/// Puts the hours of a plan in: when each task begins, how late it may, when it ends. Unix seconds.
pub fn timed(made: &mut BatchSheet, tasks: &Tasks, plan: &Plan, clock: &Clock) {
    for row in plan.rows.iter().filter(|r| r.job == 0) {
        let item = format!("{MARK}{}", tasks.list[row.task].key);
        if let Some(t) = made.tasks.iter_mut().find(|t| t.item == item) {
            t.begin = Some(clock.unix(row.start));
            t.by = Some(clock.unix(row.start + row.slack));
            t.end = Some(clock.unix(row.end));
        }
    }
    made.settle();
}

/// Steps in the order of their hours, where all have them.
pub(super) fn settle(list: &mut [Task]) {
    if list.iter().any(|t| t.begin.is_none()) {
        return;
    }
    // A task begins no sooner than what it needs is over.
    list.sort_by_key(|t| t.begin);
    let ends: Vec<(String, usize, Option<i64>)> = list
        .iter()
        .map(|t| (t.item.clone(), t.component, t.end))
        .collect();
    for (at, t) in list.iter_mut().enumerate() {
        // A task of no minutes is over when it begins, and behind those of that minute that stand before it.
        let over: Vec<_> = ends[..at].iter().filter(|e| e.2 <= t.begin).collect();
        let last = |of: Option<usize>| {
            let mine = over.iter().filter(|e| of.is_none_or(|c| e.1 == c));
            mine.max_by_key(|e| e.2).map(|e| e.0.clone())
        };
        // The oven is heated when the plan says so, whatever is still under way then.
        if t.what == "preheat" {
            t.after.retain(|a| over.iter().any(|e| e.0 == *a));
            let before = last(Some(t.component)).filter(|l| !t.after.contains(l));
            t.after.extend(before);
        }
        // A part is begun when the plan begins it: egg and milk stay in the fridge until then.
        t.behind = last(None).filter(|_| t.after.is_empty());
    }
}

#[cfg(test)]
mod tests {
    use super::super::example::{named, planned, worked};
    use super::*;
    use larder::Larder;
    use recipe::plan::StepChange;
    use recipe::sheet::{Change, work};

    /// Timers of a batch, in the order of the work.
    fn timers_of(plan: &BatchSheet) -> Vec<String> {
        let most = |o: &Offer| {
            o.most
                .map_or(String::new(), |m| format!(" to {}", minutes(m)))
        };
        let each = |o: &Offer| format!("{} {}{}", o.words(), minutes(o.minutes), most(o));
        plan.tasks
            .iter()
            .flat_map(|t| &t.timers)
            .map(each)
            .collect()
    }

    const BUNS: &str = "Milk buns\n\n500 g strong white flour\n7 g fast-action yeast\n60 g sugar\n7 g salt\n280 g milk\n2 eggs\n60 g butter\n\nMethod\n1. Mix and knead for 8 minutes.\n2. Let rise for 1 hour.\n3. Shape into 12 rolls.\n4. Let rise for 90 minutes, until doubled.\n5. Bake at 190 °C for 25 minutes. Cool for 20 minutes.\n";

    /// 'Heat the oven' stood behind the brushing that its time runs beside.
    #[test]
    fn the_oven_heats_before_the_last_work_on_a_bake() {
        let text = BUNS.replace("5. Bake", "5. Brush with milk. Bake");
        let plan = planned(&worked(&text), 1.0);
        let at = |what: &str| plan.tasks.iter().position(|t| t.what == what).expect(what);
        assert!(
            at("rise") < at("preheat"),
            "not while the dough rises for an hour"
        );
        assert!(at("preheat") < at("brush") && at("brush") < at("bake"));
        // Without work before the bake it stands right before that.
        let plan = planned(&worked(BUNS), 1.0);
        let at = |what: &str| plan.tasks.iter().position(|t| t.what == what).expect(what);
        assert_eq!(at("preheat") + 1, at("bake"));
    }

    /// A batter with soda does not wait for the oven: by the table of step times weighing, greasing and mixing
    /// take the 20 minutes that it heats.
    #[test]
    fn the_oven_is_lit_before_a_batter_is_mixed() {
        let text = "Soda cake\n\n250 g plain flour\n1 tsp baking soda\n200 g sugar\n2 eggs\n250 ml buttermilk\n\nMethod\n1. Heat the oven to 180 °C and grease a 20 cm round tin.\n2. Mix everything. Scrape the batter into the tin.\n3. Bake for 40 minutes.\n";
        let plan = planned(&worked(text), 1.0);
        let at = |what: &str| plan.tasks.iter().position(|t| t.what == what).expect(what);
        assert!(at("preheat") < at("mix") && at("mix") < at("bake"));
        let oven = &plan.tasks[at("preheat")];
        assert!(!oven.after.contains(&plan.tasks[at("mix")].item));
    }

    #[test]
    fn timers_come_from_the_plan() {
        let plan = planned(&worked(BUNS), 1.0);
        let all = timers_of(&plan);
        for want in [
            // The shortest is half of 90. By hand, min: slow work 3 + 15 + 2 + 20 + 3 + 3 = 46, waits at their
            // shortest 1 + 15 + 45 = 61; of the 13 left of two hours 5 are play: 45 + 8.
            "Rise: look from 45 min to 53 min",
            "Bake 28 min to 31 min",
            "Cool before cutting 45 min to 12 h",
        ] {
            assert!(all.iter().any(|o| o == want), "{want}: {all:?}");
        }
        // The first rise is left out, and nothing is kneaded to the clock.
        let rises = all.iter().filter(|o| o.starts_with("Rise")).count();
        assert_eq!(rises, 1, "{all:?}");
        assert!(all.iter().all(|o| !o.contains(" 8 min")), "{all:?}");
        let cool = plan.tasks.iter().find(|t| t.name == "Cool before cutting");
        assert!(cool.is_some_and(|t| t.may && t.timers[0].longer));
        let cools = plan.tasks.iter().filter(|t| t.what.starts_with("cool"));
        assert_eq!(cools.count(), 1);
        let mix = plan.tasks.iter().find(|t| t.name.contains("paste"));
        let mix = mix.expect("it is mixed to a paste");
        assert_eq!(mix.was.as_deref(), Some("knead, 8 min"));
        assert_eq!(mix.words.as_deref(), Some("Mix and knead for 8 minutes."));
        assert_eq!(mix.step.as_deref(), Some("1"));
        // A loaf takes longer to cool than rolls.
        let loaf = planned(
            &worked(&BUNS.replace("buns", "loaf").replace("12 rolls", "a loaf")),
            1.0,
        );
        let all = timers_of(&loaf);
        assert!(
            all.iter().any(|o| o.starts_with("Cool before cutting 3 h")),
            "{all:?}"
        );
    }

    #[test]
    fn a_rise_with_no_play_is_looked_at_once() {
        // With milk and egg 2 hours are the limit: a long rest leaves the rise its least alone.
        let mut sheet = worked(BUNS).1;
        let larder = Larder::built_in().expect("the built-in tables");
        for (step, m) in [(":rest", 20.0), (":shape", 32.0)] {
            let to = match step {
                ":rest" => StepChange::Least(Some(m)),
                _ => StepChange::Hands(Some(m)),
            };
            let step = step.to_owned();
            sheet
                .change(&Change::SetStep {
                    step,
                    words: None,
                    to,
                })
                .expect("a change");
        }
        let w = work(&sheet, &[], &larder, &[]).expect("a recipe");
        let plan = planned(&(w, sheet, larder), 1.0);
        let rise = plan
            .tasks
            .iter()
            .find(|t| t.what == "rise")
            .expect("a rise");
        assert_eq!(rise.least, rise.most, "{rise:?}");
        assert_eq!(rise.timers[0].words(), "Rise: look at");
        let told = rise.notes.join(" ");
        assert!(
            told.contains("Look at 45 min: ready") && !told.contains("Look from"),
            "{told}"
        );
    }

    #[test]
    fn a_rest_that_may_only_be_short_is_timed_to_its_end() {
        let plan = planned(&named("lemon-yoghurt-cake"), 1.0);
        let all = timers_of(&plan);
        assert!(
            all.iter().any(|o| o == "Rest: no longer than 10 min"),
            "{all:?}"
        );
    }

    #[test]
    fn a_panful_is_timed_as_the_method_says() {
        let plan = planned(&named("sunday-pancakes"), 1.0);
        let fry = plan
            .tasks
            .iter()
            .find(|t| t.name.to_lowercase().contains("fry"));
        let fry = fry.expect("pancakes are fried");
        assert!(!fry.timers.is_empty(), "{fry:?}");
        assert!(fry.timers.iter().all(|o| o.minutes <= 5.0), "{fry:?}");
    }

    #[test]
    fn what_is_never_heated_is_kept_cold_not_left_to_rise() {
        let filling = "Soft cheese filling\n\n300 g cream cheese\n2 egg yolks\n60 g sugar\n\nMethod\n1. Whisk the yolks and the sugar. Stir in the cheese.\n2. Leave to stand for 90 minutes.\n";
        let plan = planned(&worked(filling), 1.0);
        let warm = plan.components[0].warm.clone().expect("it stands warm");
        assert!(
            warm.contains("until it is served or chilled")
                && warm.contains("keep it in the fridge")
                && !warm.contains("to the heat")
                && !warm.contains("rise"),
            "{warm}"
        );
        let baked = planned(&worked(BUNS), 1.0).components[0].warm.clone();
        assert!(baked.is_some_and(|w| w.contains("to the heat")));
    }

    #[test]
    fn warm_hours_of_egg_and_milk_are_told() {
        let told = |text: &str| {
            let plan = planned(&worked(text), 1.0);
            plan.components.into_iter().next().and_then(|c| c.warm)
        };
        let warm = told(BUNS).expect("egg and milk stand warm");
        assert!(
            warm.contains("limit of 2 hours") && warm.contains("5 °C / 41 °F"),
            "{warm}"
        );
        // In the cold, short, or without egg and milk there is nothing to warn of.
        for (from, to) in [
            (
                "Let rise for 90 minutes",
                "Let rise in the fridge for 90 minutes",
            ),
            ("Let rise for 90 minutes", "Let rise for 20 minutes"),
            ("280 g milk\n2 eggs\n", "330 g water\n"),
        ] {
            // The one rise that is left takes no longer than the shorter of these two.
            let text = BUNS.replace("rise for 1 hour", "rise for 20 minutes");
            let text = text.replace(from, to).replace("60 g butter", "60 g oil");
            assert_eq!(told(&text), None, "{to}");
        }
        // Longer than it may, however it is planned.
        let long = BUNS.replace("for 90 minutes", "for 4 hours");
        let warm = told(&long).expect("longer than it may");
        assert!(warm.contains("longer than the limit"), "{warm}");
    }

    #[test]
    fn every_step_comes_after_what_it_needs() {
        for text in [
            "apricot-almond-buns",
            "lemon-yoghurt-cake",
            "leek-and-cheddar-tart",
            "ginger-crumb-cheesecake",
            "sunday-pancakes",
        ] {
            let plan = planned(&named(text), 1.0);
            assert!(plan.tasks.len() > 3, "{text}");
            let place = |item: &str| plan.tasks.iter().position(|t| t.item == item);
            for (i, t) in plan.tasks.iter().enumerate() {
                for a in &t.after {
                    assert!(
                        place(a).is_some_and(|at| at < i),
                        "{text}: {} after {a}",
                        t.item
                    );
                }
                let lone = plan.tasks.iter().filter(|x| x.item == t.item).count();
                assert_eq!(lone, 1, "{text}: {}", t.item);
            }
            // From the first step to the last, each done as it is offered.
            let mut done: Vec<&str> = Vec::new();
            while let Some(&i) = plan.next(|k| done.contains(&k)).first() {
                done.push(&plan.tasks[i].item);
            }
            assert_eq!(done.len(), plan.tasks.len(), "{text}");
            // Heating the oven is not the first thing of the day.
            let first = plan.next(|_| false);
            assert!(
                first.iter().all(|&i| plan.tasks[i].what != "preheat"),
                "{text}"
            );
        }
    }

    #[test]
    fn a_batch_that_is_older_than_its_steps_still_opens() {
        let old: BatchSheet = serde_json::from_value(serde_json::json!({
            "components": [{
                "name": "dough",
                "lines": [{ "item": "0:milk", "name": "milk", "grams": 300.0 }],
                "ours": [{ "label": "Bake, as reworked", "minutes": 28.0 }],
                "timers": [{ "label": "Rise, as with wheat", "minutes": 60.0, "step": 2 }]
            }]
        }))
        .expect("an old batch");
        assert!(old.tasks.is_empty() && old.next(|_| false).is_empty());
        assert_eq!(old.components[0].timers[0].label, "Rise, as with wheat");
    }
}
