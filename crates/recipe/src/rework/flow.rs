//! The whole rework: components in order, and what each uses of the others.

use super::blend;
use super::engine::{Given, Work};
use super::hold::{HYDRATION, is_figure};
use super::pins::{Pins, said, said_figure, slip, slip_of_figure};
use super::reworked::{Kept, Options, Rework, ReworkedComponent};
use super::steps::steps_of;
use crate::weigh::Formula;
use larder::{FoodId, Larder};
use quantity::{Mass, Spread};
use std::cell::OnceCell;

/// Reworks a formula.
///
/// # Inputs
/// - `formula`: weighed, with or without flour.
/// - `options`: styles, blends and held lines given by hand; [`Options::check`] first.
///
/// # Returns
/// Every component with its lines, balance, changes, notes and doubts. Nothing is silently left
/// out: lines that were dropped or merged stay, marked so.
#[must_use]
pub fn rework(formula: Formula, larder: &Larder, options: &Options) -> Rework {
    let mut blends = blend::house(larder);
    blends.extend(options.own.iter().cloned());
    let owners = steps_of(&formula.recipe);
    let made: Vec<OnceCell<Option<blend::Blend>>> =
        formula.components.iter().map(|_| OnceCell::new()).collect();
    let given = Given {
        formula: &formula,
        larder,
        options,
        blends: &blends,
        owners: &owners,
        made: &made,
    };
    let alone = formula.components.len() == 1;
    let mut done: Vec<Option<ReworkedComponent>> = vec![None; formula.components.len()];
    // Parts first: a dough counts the flour and water of its preferment.
    for &c in &formula.order {
        let pins = Pins::of(options, &formula.components[c].name, alone);
        let mut component = Work::new(c, &given, &done, pins.clone()).run();
        let extra = pins.new_binders(&component, larder);
        let run =
            |pins: Pins, extra: Vec<FoodId>| Work::new(c, &given, &done, pins).adding(extra).run();
        if !extra.is_empty() {
            component = run(pins.clone(), extra.clone());
        }
        // What each would be without this one pin.
        let without = |key: &str| {
            let rest = extra.iter().copied();
            let rest = rest.filter(|f| larder.food(*f).key != key).collect();
            run(pins.without(key), rest)
        };
        for i in 0..component.lines.len() {
            let line = &component.lines[i];
            if !line.held {
                continue;
            }
            let free = without(&line.key);
            let would = free.lines.iter().find(|l| l.key == line.key);
            component.lines[i].pinned = would.and_then(|l| l.grams);
            let change = said(&component, &component.lines[i], larder);
            component.changes.push(change);
            component.doubts.extend(slip(&component.lines[i], larder));
        }
        for i in 0..component.figures.len() {
            let what = component.figures[i].what;
            let free = without(what).reworked;
            component.figures[i].would = match what {
                HYDRATION => free.hydration.map(|h| h.likely().get()),
                _ => Some(free.binder_percent()),
            };
            component.figures[i].binders = free.binders;
            let change = said_figure(&component, &component.figures[i]);
            component.changes.push(change);
            component
                .doubts
                .extend(slip_of_figure(&component, &component.figures[i]));
        }
        done[c] = Some(component);
    }
    let mut components: Vec<ReworkedComponent> = done.into_iter().flatten().collect();
    flow(&mut components);
    let mut left_out = options.left_out.clone();
    left_out.sort_unstable();
    left_out.dedup();
    let idle_pins = options
        .pins
        .iter()
        .filter(|p| {
            !components.iter().any(|c| {
                (c.name == p.component || alone && p.component.is_empty())
                    && (is_figure(&p.line) || c.lines.iter().any(|l| l.held && l.key == p.line))
            })
        })
        .cloned()
        .collect();
    let mut rework = Rework {
        formula,
        components,
        left_out,
        idle_pins,
        panfuls: Vec::new(),
    };
    rework.fill_pans(&owners);
    rework.say_own_pans();
    rework
}

/// What is left of a component after its uses: never less than nothing.
pub(crate) fn left(makes: Spread<Mass>, used: Spread<Mass>) -> Spread<Mass> {
    let less = |a: Mass, b: Mass| Mass::grams((a - b).as_grams().max(0.0));
    Spread::new(
        less(makes.low(), used.high()),
        less(makes.likely(), used.likely()),
        less(makes.high(), used.low()),
    )
}

/// What each component uses of the others after the rework, and what is left over.
fn flow(components: &mut [ReworkedComponent]) {
    for c in 0..components.len() {
        let uses: Vec<Spread<Mass>> = components
            .iter()
            .flat_map(|x| &x.lines)
            .filter(|l| l.component == Some(c) && l.kept != Kept::Dropped)
            .filter_map(|l| l.grams)
            .collect();
        if uses.is_empty() {
            continue;
        }
        let used = Spread::sum_independent(uses);
        components[c].left = Some(left(components[c].makes, used));
        components[c].used = Some(used);
    }
}
