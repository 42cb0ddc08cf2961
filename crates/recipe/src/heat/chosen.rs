//! The bake of a sheet in the tin and the oven that are chosen for it: the one time of it that notes, plan, bench
//! and card have.

use super::ask::{Figures, Place};
use super::given::{Given, Stretch, bakes_of, given, stretched};
use super::notes::HeatField;
use crate::own_method;
use crate::plan::by_own_method;
use crate::rework::{ChosenBake, SAME_OVEN, settings};
use crate::sheet::{Sheet, Worked};
use crate::size::pan::{OwnPan, Said};
use larder::Larder;
use quantity::{Spread, Temperature, Time};

/// What the Heat page makes of a bake.
#[derive(Debug, Clone, PartialEq)]
pub struct Estimate {
    /// What is baked together, by place in the recipe.
    pub parts: Vec<usize>,
    /// How long it takes.
    pub time: Spread<Time>,
    /// The oven, as a still oven's.
    pub oven: Temperature,
    /// That oven is another than the method's, and one for all of the bake.
    pub in_one: bool,
    /// What the baker's own method says of it, which stands: see [`own_minutes`].
    pub own: Option<Spread<Time>>,
    /// Its times one after another, each with its oven: one, but where the method bakes in several.
    pub stretches: Vec<Stretch>,
    /// The same over the times of the baker's own method, where it names one bake.
    pub own_stretches: Vec<Stretch>,
}

/// The bake of the baker's own method.
#[derive(Debug, Clone, PartialEq)]
pub struct OwnBake {
    /// Its times one after another, each with its oven.
    pub stretches: Vec<Stretch>,
    /// They are for the tin that the batch is sized for: they stand.
    pub stands: bool,
}

impl OwnBake {
    fn minutes(&self) -> Option<Spread<Time>> {
        let sum = |of: fn(Spread<Time>) -> Time| self.stretches.iter().map(|s| of(s.time)).sum();
        let time = || Spread::new(sum(Spread::low), sum(Spread::likely), sum(Spread::high));
        self.stands.then(time)
    }
}

impl Figures<'_> {
    /// How long what is baked takes in the pan and the oven chosen; nothing where none is chosen, or too little is
    /// known.
    ///
    /// # Inputs
    /// - `own`: what the baker's own method says.
    #[must_use]
    pub fn estimate(&self, own: Option<&OwnBake>) -> Option<Estimate> {
        let b = self.bake().ok()??;
        let given = self.given?;
        let time = super::bake(&b).ok()?.time;
        let whole = Stretch {
            time,
            oven: Some(b.oven),
        };
        // One oven for all of it, where another is chosen than the method's.
        let in_one = (b.oven - b.known_oven).as_celsius().abs() >= SAME_OVEN;
        let over = |all: &[Stretch]| match stretched(all, time) {
            all if all.len() < 2 => vec![whole],
            all if in_one => {
                let each = all.into_iter().map(|s| Stretch {
                    time: s.time,
                    ..whole
                });
                each.collect()
            }
            all => all,
        };
        Some(Estimate {
            parts: given.parts.clone(),
            time,
            oven: b.oven,
            in_one,
            own: own.and_then(OwnBake::minutes),
            stretches: over(&given.stretches),
            own_stretches: own.map_or(Vec::new(), |own| over(&own.stretches)),
        })
    }
}

/// What a sheet bakes: the part that is chosen on it; where that is no more, what is baked last.
#[must_use]
pub fn chosen(w: &Worked, sheet: &Sheet, larder: &Larder) -> Option<Given> {
    let part = sheet.heat.get(HeatField::Part.key());
    let found = |part| given(&w.rework, &w.batch, larder, part);
    part.and_then(|c| found(Some(c))).or_else(|| found(None))
}

/// The minutes that the baker's own method has for the bake, where they are for the tin that the batch is sized for.
#[must_use]
pub fn own_minutes(w: &Worked, sheet: &Sheet) -> Option<Spread<Time>> {
    own_bake(w, sheet).and_then(|own| own.minutes())
}

/// The bake of the baker's own method, where it names one. It stands where it names no tin but the one that the batch
/// is sized for.
fn own_bake(w: &Worked, sheet: &Sheet) -> Option<OwnBake> {
    let (recipe, is_own) = by_own_method(w, sheet);
    let all = bakes_of(&recipe.steps, &settings(&recipe));
    let [bake] = &all[..] else {
        return None;
    };
    let own = own_method::steps(sheet.method.as_deref().unwrap_or_default());
    let of_another = w.batch.pans.as_ref().is_some_and(|now| {
        let said = Said::of_steps(&own);
        !said.is_empty() && !said.iter().any(|s| s.pan.is_as_wide_as(&now.pan))
    });
    is_own.then(|| OwnBake {
        stretches: bake.stretches(),
        stands: !of_another,
    })
}

impl Worked {
    /// Takes the time that Heat works out for the tin and the oven chosen: from here on it is that of the notes, the
    /// changes and the plan. As it is where no other tin, oven or weight is chosen.
    #[must_use]
    pub fn with_heat(
        mut self,
        sheet: &Sheet,
        larder: &Larder,
        place: Place,
        pans: &[OwnPan],
    ) -> Self {
        let given = chosen(&self, sheet, larder);
        let figures = Figures {
            notes: &sheet.heat,
            given: given.as_ref(),
            place,
            style: None,
            pans,
        };
        let Some(e) = figures.estimate(own_bake(&self, sheet).as_ref()) else {
            return self;
        };
        let once = given.filter(|g| g.stages == 1 && g.written.is_some());
        if let Some(g) = once {
            let bake = ChosenBake {
                written: g.stretches.iter().map(|s| s.time).collect(),
                time: e.time,
                oven: e.oven,
                in_one: e.in_one,
                own: e.own,
                stretches: e.stretches.iter().map(|s| s.time).collect(),
            };
            self.rework.with_bake(&e.parts, &bake);
        }
        self.bake = Some(e);
        self
    }
}
