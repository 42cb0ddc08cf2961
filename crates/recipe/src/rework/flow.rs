//! The whole rework: components in order, and what each uses of the others.

use super::blend;
use super::engine::{Given, Kept, Options, Rework, ReworkedComponent, Work};
use super::pins::{Pins, said};
use super::steps::steps_of;
use crate::weigh::Formula;
use larder::Larder;
use quantity::{Mass, Spread};

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
    let given = Given {
        formula: &formula,
        larder,
        options,
        blends: &blends,
        owners: &owners,
    };
    let alone = formula.components.len() == 1;
    let mut done: Vec<Option<ReworkedComponent>> = vec![None; formula.components.len()];
    // Parts first: a dough counts the flour and water of its preferment.
    for &c in &formula.order {
        let pins = Pins::of(options, &formula.components[c].name, alone);
        let mut component = Work::new(c, &given, &done, pins.clone()).run();
        for i in 0..component.lines.len() {
            let line = &component.lines[i];
            if !line.held {
                continue;
            }
            // What the line would be without this one pin.
            let free = Work::new(c, &given, &done, pins.without(&line.key)).run();
            let would = free.lines.iter().find(|l| l.key == line.key);
            component.lines[i].pinned = would.and_then(|l| l.grams);
            let change = said(&component, &component.lines[i], larder);
            component.changes.push(change);
        }
        done[c] = Some(component);
    }
    let mut components: Vec<ReworkedComponent> = done.into_iter().flatten().collect();
    flow(&mut components);
    let idle_pins = options
        .pins
        .iter()
        .filter(|p| {
            !components.iter().any(|c| {
                (c.name == p.component || alone && p.component.is_empty())
                    && c.lines.iter().any(|l| l.held && l.key == p.line)
            })
        })
        .cloned()
        .collect();
    Rework {
        formula,
        components,
        idle_pins,
    }
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
        let makes = components[c].makes;
        let less = |a: Mass, b: Mass| Mass::grams((a - b).as_grams().max(0.0));
        components[c].left = Some(Spread::new(
            less(makes.low(), used.high()),
            less(makes.likely(), used.likely()),
            less(makes.high(), used.low()),
        ));
        components[c].used = Some(used);
    }
}
