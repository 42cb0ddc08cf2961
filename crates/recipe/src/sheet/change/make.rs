//! A change made to a sheet.

use super::{Change, ChangeError};
use crate::heat::HeatField;
use crate::plan::{OwnStep, StepChange};
use crate::rework::Hold;
use crate::sheet::{LineDecision, LineKey, Pin, Sheet};
use std::collections::BTreeMap;

impl Sheet {
    /// Makes a change.
    ///
    /// # Errors
    /// [`ChangeError`] when its value is none the field can have. The sheet is then as it was.
    pub fn change(&mut self, change: &Change) -> Result<(), ChangeError> {
        change.check()?;
        match change {
            Change::Text { text } => self.text.clone_from(text),
            Change::Title { title } => self.title.clone_from(title),
            Change::Credit { text } => self.credit.clone_from(text),
            Change::Makes { text } => self.makes.clone_from(text),
            Change::Keeping { text } => self.keeping.clone_from(text),
            Change::Method { text } => {
                if self.method != *text {
                    self.method_suits = None;
                }
                self.method.clone_from(text);
            }
            Change::MethodSuits { size } => self.method_suits.clone_from(size),
            Change::Locale { locale } => self.locale.clone_from(locale),
            Change::ReadAs { line, text } => {
                self.decide(line, |d| d.read_as.clone_from(text));
            }
            Change::Food { line, place, food } => {
                self.decide(line, |d| d.set_food(*place, food.clone()));
            }
            Change::Grams { line, place, grams } => {
                self.decide(line, |d| match (place, grams) {
                    (0, _) => d.grams = *grams,
                    (n, Some(g)) => {
                        d.also.insert(*n, *g);
                    }
                    (n, None) => {
                        d.also.remove(n);
                    }
                });
            }
            Change::Accept { line, code, yes } => {
                self.decide(line, |d| put(&mut d.accepted, code, *yes));
            }
            Change::AcceptWhole { code, yes } => put(&mut self.accepted, code, *yes),
            Change::Style { component, style } => set(&mut self.styles, component, style.as_ref()),
            Change::Blend { component, blend } => set(&mut self.blends, component, blend.as_ref()),
            Change::Pin {
                component,
                line,
                hold,
            } => self.hold(component, line, hold.as_ref()),
            Change::LeaveOut { what, yes } => put(&mut self.left_out, what, *yes),
            Change::Size { ask } => self.size = ask.clone().filter(|a| !a.is_plain()),
            Change::SetHeat { what, text } => set(&mut self.heat, what, text.as_ref()),
            Change::KnownBake { says } => {
                for f in HeatField::KNOWN {
                    set(&mut self.heat, f.key(), says.get(f.key()));
                }
            }
            Change::SetShape { component, shape } => self.set_shape(component, shape.as_deref()),
            Change::ShapeSays {
                component,
                what,
                text,
            } => self.say_shape(component, what, text.as_deref())?,
            Change::Unpin => self.pins.clear(),
            Change::SetStep { step, words, to } => self.set_step(step, words.as_deref(), to),
            Change::TakePart { part } => {
                match self.parts.iter_mut().find(|p| p.recipe == part.recipe) {
                    Some(here) => here.clone_from(part),
                    None => {
                        let at = self.parts.partition_point(|p| p.recipe < part.recipe);
                        self.parts.insert(at, part.clone());
                    }
                }
            }
            Change::LeavePart { recipe } => self.parts.retain(|p| p.recipe != *recipe),
        }
        Ok(())
    }

    /// Changes the decision on a line; one that decides nothing goes.
    fn decide(&mut self, line: &LineKey, how: impl FnOnce(&mut LineDecision)) {
        let order = |k: &LineKey| (k.component.clone(), k.text.clone(), k.nth);
        let at = match self.decided(line) {
            Some(at) => at,
            None => {
                let here = order(line);
                let at = self.lines.partition_point(|d| order(&d.line) < here);
                self.lines.insert(at, LineDecision::new(line.clone()));
                at
            }
        };
        how(&mut self.lines[at]);
        if self.lines[at].is_empty() {
            self.lines.remove(at);
        }
    }

    /// Changes a step's figure; a step of which nothing is decided goes, and so do figures that were
    /// put to another step of that name.
    fn set_step(&mut self, step: &str, words: Option<&str>, to: &StepChange) {
        let at = self.steps.partition_point(|s| s.step.as_str() < step);
        if self.steps.get(at).is_none_or(|s| s.step != step) {
            self.steps.insert(at, OwnStep::new(step));
        }
        let own = &mut self.steps[at];
        if own.is_of_another(words) {
            *own = OwnStep::new(step);
        }
        own.change(to);
        own.words = words.map(str::to_owned);
        if own.is_empty() {
            self.steps.remove(at);
        }
    }

    fn hold(&mut self, component: &str, line: &str, hold: Option<&Hold>) {
        let here = |p: &Pin| p.component == component && p.line == line;
        let Some(hold) = hold else {
            self.pins.retain(|p| !here(p));
            return;
        };
        match self.pins.iter_mut().find(|p| here(p)) {
            Some(pin) => pin.hold = hold.clone(),
            None => {
                let order = (component, line);
                let at = self
                    .pins
                    .partition_point(|p| (p.component.as_str(), p.line.as_str()) < order);
                let pin = Pin {
                    component: component.to_owned(),
                    line: line.to_owned(),
                    hold: hold.clone(),
                };
                self.pins.insert(at, pin);
            }
        }
    }
}

/// Puts a code into a list in order, or takes it out.
fn put(codes: &mut Vec<String>, code: &str, yes: bool) {
    codes.retain(|c| c != code);
    if yes {
        let at = codes.partition_point(|c| c.as_str() < code);
        codes.insert(at, code.to_owned());
    }
}

fn set(map: &mut BTreeMap<String, String>, component: &str, value: Option<&String>) {
    match value {
        Some(v) => {
            map.insert(component.to_owned(), v.clone());
        }
        None => {
            map.remove(component);
        }
    }
}
