//! Components of other recipes: sheets taken in, and those that they take in themselves.

use super::work::{Accepted, SheetError, decide_all, settle_whole};
use super::{LineKey, PartUse, Sheet};
use crate::Recipe;
use crate::read::{self, Reader};
use crate::rework::blend::Blend;
use crate::rework::style::Style;
use crate::rework::{self, Options, PinnedLine};
use crate::weigh::uses;
use larder::Larder;

/// The sheet of another recipe at a version, with the sheets that it takes in itself.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// The sheet.
    pub sheet: Sheet,
    /// Those of its [`Sheet::parts`], in that order.
    pub parts: Vec<Part>,
}

impl From<Sheet> for Part {
    /// A sheet that takes in nothing.
    fn from(sheet: Sheet) -> Self {
        Self {
            sheet,
            parts: Vec::new(),
        }
    }
}

/// A sheet read with everything that it takes in, decisions applied.
pub(super) struct Gathered<'s> {
    pub(super) recipe: Recipe,
    /// Doubts of lines taken as read.
    pub(super) accepted: Accepted<'s>,
    pub(super) wishes: Wishes,
    /// Its own decisions on lines that are not there.
    pub(super) stale: Vec<LineKey>,
}

/// Reads a sheet and what it takes in. Each part comes as it is by itself: its decisions, those on
/// what it takes in among them, are made before this sheet's.
pub(super) fn gather<'s>(
    sheet: &'s Sheet,
    parts: &'s [Part],
    larder: &Larder,
) -> Result<Gathered<'s>, SheetError> {
    within(sheet, parts, larder, &mut Vec::new())
}

fn within<'s>(
    sheet: &'s Sheet,
    parts: &'s [Part],
    larder: &Larder,
    above: &mut Vec<&'s PartUse>,
) -> Result<Gathered<'s>, SheetError> {
    let reader = Reader::new(larder, sheet.locale());
    let recipe = read::bytes(sheet.text.as_bytes(), &reader).map_err(SheetError::Read)?;
    let mut whole = Gathered {
        recipe,
        accepted: Vec::new(),
        wishes: Wishes::default(),
        stale: Vec::new(),
    };
    for (i, used) in sheet.parts.iter().enumerate() {
        let title = || used.title.clone();
        if above.iter().any(|a| a.recipe == used.recipe) {
            return Err(SheetError::PartRing { title: title() });
        }
        let part = parts.get(i).ok_or_else(|| SheetError::PartMissing {
            title: title(),
            version: used.version,
        })?;
        above.push(used);
        let taken = within(&part.sheet, &part.parts, larder, above);
        above.pop();
        let taken = taken.map_err(|e| match e {
            SheetError::Read(error) => SheetError::Part {
                title: title(),
                error,
            },
            e => e,
        })?;
        whole.take_in(taken, &part.sheet, used, sheet);
    }
    let (own, stale) = decide_all(&mut whole.recipe, sheet, &reader);
    whole.accepted.extend(own);
    whole.stale = stale;
    settle_whole(&mut whole.recipe, &sheet.accepted);
    whole
        .wishes
        .add(Wishes::of(sheet), |name| Some(name.to_owned()));
    Ok(whole)
}

/// The component of each step.
fn owners(recipe: &Recipe) -> Vec<usize> {
    let names: Vec<String> = recipe.components.iter().map(|c| c.name.clone()).collect();
    recipe.in_order_of_work(&rework::owners(recipe), |taken, own| {
        (0..own).find(|&c| {
            recipe.components[c].lines.iter().any(|line| {
                line.items.iter().any(|item| {
                    let words = line.words(&item.name);
                    uses(&names, c, item, words) == Some(Some(taken))
                })
            })
        })
    })
}

impl<'s> Gathered<'s> {
    /// Appends a part.
    fn take_in(&mut self, part: Gathered<'s>, sheet: &Sheet, used: &PartUse, here: &Sheet) {
        let mut read = part.recipe;
        if sheet.locale() != here.locale() {
            // Its cups stay the cups it was written in.
            let items = read.components.iter_mut().flat_map(|c| &mut c.lines);
            for amount in items
                .flat_map(|l| &mut l.items)
                .flat_map(|i| &mut i.amounts)
            {
                amount.locale.get_or_insert(sheet.locale());
            }
        }
        let names: Vec<String> = read.components.iter().map(|c| c.name.clone()).collect();
        let owners = owners(&read);
        let places = self.recipe.append(read, &used.title, &owners);
        self.accepted
            .extend(part.accepted.into_iter().filter_map(|(c, l, code)| {
                let (at, first) = places.get(c)?;
                Some((*at, first + l, code))
            }));
        let recipe = &self.recipe;
        self.wishes.add(part.wishes, |name| {
            let at = names.iter().position(|n| n == name)?;
            let (place, _) = places.get(at)?;
            Some(recipe.components.get(*place)?.name.clone())
        });
    }
}

/// Styles, blends and pins by component; later ones stand over earlier ones.
#[derive(Default)]
pub(super) struct Wishes {
    styles: Vec<(String, Style)>,
    blends: Vec<(String, String)>,
    pins: Vec<PinnedLine>,
}

impl Wishes {
    /// What a sheet says of its own components.
    fn of(sheet: &Sheet) -> Self {
        let style = |(c, key): (&String, &String)| Some((c.clone(), Style::from_key(key)?));
        let held = sheet.pins.iter().filter(|p| p.hold.check(&p.line).is_ok());
        Self {
            styles: sheet.styles.iter().filter_map(style).collect(),
            blends: sheet.blends.clone().into_iter().collect(),
            pins: held
                .map(|pin| PinnedLine {
                    component: pin.component.clone(),
                    line: pin.line.clone(),
                    hold: pin.hold.clone(),
                })
                .collect(),
        }
    }

    /// Adds those of another sheet; `name` says what a component of its is called here.
    fn add(&mut self, other: Self, name: impl Fn(&str) -> Option<String>) {
        for (component, style) in other.styles {
            if let Some(component) = name(&component) {
                self.styles.retain(|(c, _)| *c != component);
                self.styles.push((component, style));
            }
        }
        for (component, key) in other.blends {
            if let Some(component) = name(&component) {
                self.blends.retain(|(c, _)| *c != component);
                self.blends.push((component, key));
            }
        }
        for pin in other.pins {
            if let Some(component) = name(&pin.component) {
                self.pins
                    .retain(|p| (&p.component, &p.line) != (&component, &pin.line));
                self.pins.push(PinnedLine { component, ..pin });
            }
        }
    }

    pub(super) fn options(self, blends: &[Blend]) -> Options {
        Options {
            styles: self.styles,
            blends: self.blends,
            own: blends.to_vec(),
            pins: self.pins,
            left_out: Vec::new(),
            exact: true,
            ..Options::default()
        }
    }
}
