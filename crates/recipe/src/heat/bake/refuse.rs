//! Bakes that cannot be, and what to write instead.

use super::Bake;
use super::goal::CoreTarget;
use crate::heat::pan::Pan;
use crate::heat::{HeatError, clock, wrong};
use quantity::{Mass, Ratio, Spread, Temperature};

/// Hotter than this no bake of twenty minutes or more is (our own judgement, no source).
const SCORCHES: (f64, f64) = (275.0, 20.0);

/// The hottest oven that the model is used for, °C: what home ovens reach; in hotter ones a crust chars before heat
/// comes through (our own judgement, no source).
const HOTTEST: f64 = 300.0;

/// A known bake that heats up so many times as fast as the model's middle figures, or as slowly, is no bake of this
/// pan (our own judgement, no source).
const ABSURD: f64 = 8.0;

/// Refuses a known bake that cannot be of its pan.
///
/// # Inputs
/// - `speed`: how fast heat gets in, over the model's middle figures.
pub(super) fn fits(b: &Bake, speed: f64) -> Result<(), HeatError> {
    if b.sets || (1.0 / ABSURD..=ABSURD).contains(&speed) {
        return Ok(());
    }
    let minutes = b.known_time.likely().as_minutes();
    wrong(format!(
        "the known bake, {} in a {}, cannot be: a piece of that size takes about {}. See that its pan, depth, grams, oven and time are of one bake",
        clock(minutes),
        b.known_pan.read,
        clock(minutes * speed)
    ))
}

impl Pan {
    /// Whether a dough does not go into it, even before it rises; never of a piece without a pan.
    ///
    /// # Inputs
    /// - `density`: of the dough.
    /// - `known`: a bake of it that is known: what fills this pan as far goes in, whatever its density says.
    #[must_use]
    pub fn overfull(
        &self,
        dough: Mass,
        density: Spread<Ratio>,
        known: Option<(Mass, &Self)>,
    ) -> bool {
        let Some(holds) = self.holds else {
            return false;
        };
        let by_density = holds.high().as_millilitres() * density.likely().get();
        let as_known = known.and_then(|(dough, pan)| {
            let times = holds.likely().as_millilitres() / pan.holds?.likely().as_millilitres();
            Some(dough.as_grams() * times * AS_FULL)
        });
        dough.as_grams() > by_density.max(as_known.unwrap_or(0.0))
    }
}

/// Two pans are as full as one another within this: volumes are charted or worked out (our own judgement, no source).
const AS_FULL: f64 = 1.05;

/// No dough, batter or filling is heavier, g/mL: a known bake of more was never in its pan (from memory).
const HEAVIEST: f64 = 1.35;

/// Refuses a dough that does not go into its pan, even before it rises; of the known bake, which was in its pan, one
/// of which nothing of that weight would go in.
pub(super) fn goes_in(b: &Bake) -> Result<(), HeatError> {
    let density = b.body.density;
    let heaviest = Spread::exact(Ratio::new(HEAVIEST.max(density.likely().get())));
    if let Some(dough) = b.known_dough
        && b.known_pan.overfull(dough, heaviest, None)
    {
        return too_much(&b.known_pan, dough, density);
    }
    let known = b.known_dough.map(|d| (d, &b.known_pan));
    match b.dough {
        Some(dough) if b.pan.overfull(dough, density, known) => too_much(&b.pan, dough, density),
        _ => Ok(()),
    }
}

fn too_much(pan: &Pan, dough: Mass, density: Spread<Ratio>) -> Result<(), HeatError> {
    let holds = pan.holds.map_or(0.0, |h| h.likely().as_millilitres());
    let round = |g: f64| {
        if g < 1000.0 {
            g.round()
        } else {
            (g / 10.0).round() * 10.0
        }
    };
    wrong(format!(
        "{:.0} g do not go into one {}: it holds {holds:.0} mL to the rim, about {:.0} g of this before it rises. If yours is deeper, type it with its depth; else give what goes into one pan, or a larger pan",
        dough.as_grams(),
        pan.read,
        round(holds * density.likely().get())
    ))
}

pub(super) fn check(b: &Bake, target: &CoreTarget) -> Result<(), HeatError> {
    let core = b.core.map_or(target.celsius[1], Temperature::as_celsius);
    if !(40.0..=105.0).contains(&core) {
        return wrong(format!(
            "a core of {core:.0} °C: write 40–105 °C; breads end at 96–98 °C"
        ));
    }
    let start = b.start.as_celsius();
    if start >= core || !(-30.0..=60.0).contains(&start) {
        return wrong(format!(
            "a dough of {start:.0} °C: write from −30 °C to 60 °C, below the core of {core:.0} °C"
        ));
    }
    for (what, oven) in [("known", b.known_oven), ("new", b.oven)] {
        let t = oven.as_celsius();
        let minutes = b.known_time.likely().as_minutes();
        if t >= SCORCHES.0 && what == "known" && minutes >= SCORCHES.1 {
            return wrong(format!(
                "{t:.0} °C for {} burns: if {t:.0} °F ({:.0} °C) is meant: write {t:.0} F",
                clock(minutes),
                Temperature::fahrenheit(t).as_celsius()
            ));
        }
        if t > HOTTEST {
            let meant = Temperature::fahrenheit(t).as_celsius();
            let meant = if meant <= HOTTEST {
                format!(". If {t:.0} °F ({meant:.0} °C) is meant, write {t:.0} F")
            } else {
                String::new()
            };
            return wrong(format!(
                "the {what} oven, {t:.0} °C, is out of what is worked out here: bakes up to {HOTTEST:.0} °C (570 °F), as home ovens have them. Hotter, a crust chars before the middle is done{meant}"
            ));
        }
        if t < core + 5.0 {
            return wrong(format!(
                "the {what} oven, {t:.0} °C, is not hotter than the core is to be, {core:.0} °C: give a hotter oven"
            ));
        }
    }
    Ok(())
}
