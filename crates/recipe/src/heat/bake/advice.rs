//! What to mind of a bake.

use super::piece::Piece;
use super::{Bake, Baked};
use crate::heat::pan::Make;
use crate::heat::{Advice, PRACTICE, clock};
use crate::rework::style::Style;
use crate::shape::against_rim;
use quantity::{Mass, Spread};

/// What every answer says first.
pub const PROBE: &str = "check with a probe: core";

/// What a piece of the dough weighs when baked, by the style's loss.
pub(super) fn weighs(b: &Bake) -> Option<Spread<Mass>> {
    let dough = b.dough?;
    let loss = b.style?.range("bake_loss")?.value;
    let left = |p: f64| dough * (1.0 - p / 100.0);
    Some(Spread::new(
        left(loss.high().get()),
        left(loss.likely().get()),
        left(loss.low().get()),
    ))
}

/// A depth that changes by more than this asks for more than a new time (project rule R16.4).
const DEPTH_CHANGES: f64 = 0.25;
/// The fit is doubted outside these.
const SPEEDS: (f64, f64) = (0.4, 2.5);

pub(super) fn advice(b: &Bake, out: &Baked, known: Piece, new: Piece) -> Vec<Advice> {
    let mut all = Vec::new();
    let t = &out.target;
    if let Some(pan) = b.pan.to_fit()
        && let Some(rim) = against_rim(&b.body, &pan)
    {
        let mut words = format!("In the new pan, {}: {}", b.pan.read, rim.words);
        if new.over {
            words.push_str(" Use less, or a larger pan: the time counts only what stands in it");
        }
        all.push(Advice::new(
            words.trim_end_matches('.'),
            "geometry, with the density of what goes in and how much it grows (common practice, no source)",
        ));
    }
    if b.pans > 1
        && let Some(dough) = b.known_dough
    {
        all.push(Advice::new(
            format!(
                "The known bake is shared over {} {}: {:.0} g in each. For another number give the dough of one",
                b.pans,
                b.known_pan.are(),
                dough.as_grams()
            ),
            "the known bake",
        ));
    }
    let least = if b.meat {
        "74 °C (165 °F)"
    } else {
        "71 °C (160 °F)"
    };
    if b.meat && !b.sets {
        all.push(Advice::new(
            format!("There is meat, poultry or fish in it: the middle of the filling reaches at least {least}, whatever the crumb beside it says. Local rules come first"),
            "foodsafety.gov, casseroles (copies seen)",
        ));
    }
    if b.sets {
        let own = b.core.map_or(String::new(), |c| {
            format!(" Your core of {:.0} °C ends the time.", c.as_celsius())
        });
        all.push(Advice::new(
            format!("A filling with egg or milk sets, it is no crumb: at least {least} in the middle, then by eye: the edge firm, the middle still trembling. From about 82 °C (180 °F) on it curdles and weeps.{own} Local rules come first"),
            t.source.clone(),
        ));
    }
    let mut probe = format!("Whatever the clock says, {PROBE} {}", t.words());
    if let Some(asked) = t.capped {
        probe.push_str(&format!(
            ". Water boils at {:.1} °C at {:.0} m: {asked:.0} °C cannot be reached here",
            t.boiling, b.metres
        ));
    }
    probe.push_str(
        ". Probe the middle, in the bottom third of a tall loaf; a wet, gummy core is not done.",
    );
    if !b.sets {
        all.push(Advice::new(probe, t.source.clone()));
    }
    if b.style.is_some_and(Style::is_done_by_colour) {
        all.push(Advice::new(
            "Colour and a set edge say when this style is done, before the core does: take the time as the latest",
            PRACTICE,
        ));
    }
    let look = out.time.low().as_minutes() * 0.9;
    all.push(Advice::new(
        format!("Look in from {} on", clock(look.floor().max(1.0))),
        PRACTICE,
    ));
    if b.sets {
        all.push(Advice::new(
            "The model is one of crumb: a filling in its pastry warms otherwise, so take this time as rough",
            "this model",
        ));
    } else if !(SPEEDS.0..=SPEEDS.1).contains(&out.speed) {
        all.push(Advice::new(
            format!(
                "The known bake does not fit a piece of its size: the model expected {} and was told {}. See that its pan, depth, grams, oven and time are of one bake",
                clock(out.speed * b.known_time.likely().as_minutes()),
                clock(b.known_time.likely().as_minutes())
            ),
            "this model",
        ));
    }
    let depth = new.depth / known.depth - 1.0;
    if depth.abs() > DEPTH_CHANGES {
        let oven = if depth > 0.0 {
            ": set the oven 10 °C (20 °F) lower if the top browns before the middle is done"
        } else {
            ": it may be done in the middle before it has browned"
        };
        all.push(Advice::new(
            format!(
                "It stands {:.0} mm deep, {:.0} mm before{oven}",
                new.depth * 1000.0,
                known.depth * 1000.0
            ),
            PRACTICE,
        ));
    }
    if b.pan.make != b.known_pan.make && matches!(b.pan.make, Make::Dark | Make::Glass) {
        all.push(Advice::new(
            format!(
                "A {} pan browns faster: set the oven 14 °C (25 °F) lower than for light metal",
                b.pan.make.word()
            ),
            PRACTICE,
        ));
    }
    if b.pan.lid != b.known_pan.lid {
        let (under, as_to) = if b.pan.lid {
            ("Under a lid", "stays near boiling for longer and pale")
        } else {
            ("Without its lid", "dries and browns sooner")
        };
        all.push(Advice::new(
            format!("{under} the top {as_to}: counted as heat through metal, as at the sides. Steam of the first minutes is not, nor a lid that comes off half way"),
            "this model; our own judgement, no source",
        ));
    }
    let hotter = b.oven.as_celsius() - b.known_oven.as_celsius();
    if hotter > 15.0 {
        all.push(Advice::new(
            "Hotter, the crust colours sooner than the middle warms: have foil ready to cover it",
            PRACTICE,
        ));
    } else if hotter < -15.0 {
        all.push(Advice::new(
            "Cooler, the crust stays paler and thicker for the same core",
            PRACTICE,
        ));
    }
    if let (Some(dough), Some(w)) = (b.dough, out.weighs) {
        all.push(Advice::new(
            format!(
                "Baked, {:.0} g should weigh {:.0}–{:.0} g: heavier is under-baked",
                dough.as_grams(),
                w.low().as_grams(),
                w.high().as_grams()
            ),
            b.style
                .and_then(|s| s.range("bake_loss"))
                .map_or_else(String::new, |r| r.cited()),
        ));
    }
    all
}
