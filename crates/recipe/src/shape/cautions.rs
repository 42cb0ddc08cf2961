//! Which cautions stand beside a shape.

use super::practice::practice;
use super::{Caution, Kind, Raised, ShapeAsk, Shaped};

/// Adds what to mind for a shape.
pub(super) fn add(ask: &ShapeAsk, raised: Raised, shaped: &mut Shaped) {
    let mut keys: Vec<&str> = Vec::new();
    let thick = shaped.measure("thick").map(|m| m.value.likely().get());
    let tears = practice("tears").value.likely().get();
    if thick.is_some_and(|t| t < tears) && shaped.kind != Kind::Layers {
        keys.push("tears");
    }
    match shaped.kind {
        Kind::Roll => keys.extend(["roll_chill", "roll_cut", "dry_seam"]),
        Kind::Plait => keys.push("plait_weak"),
        Kind::CutOuts | Kind::Lattice => keys.push("cut_cold"),
        Kind::Layers => keys.extend(["cake_cold", "cream_cold"]),
        Kind::Round | Kind::Ring | Kind::Sheet | Kind::Lining | Kind::Fit => {}
    }
    // What is baked as long as it is shaped; a log that is cut is not.
    let baked = match shaped.kind {
        Kind::Plait => shaped.measure("long"),
        Kind::Ring => shaped.measure("outer_risen"),
        Kind::Roll if ask.says("slices").is_none() && ask.says("slice").is_none() => {
            shaped.measure("width")
        }
        _ => None,
    };
    let tray = 10.0 * practice("tray").value.low().get();
    if baked.is_some_and(|m| m.value.likely().get() > tray) {
        keys.push("tray");
    }
    let as_one = shaped.kind == Kind::Fit && ask.says("pieces").is_none();
    if as_one && raised == Raised::Oven {
        keys.push("rise_oven");
    }
    if raised != Raised::Yeast {
        // Of proofs and loaves nothing holds.
    } else if matches!(shaped.kind, Kind::Round | Kind::Ring | Kind::Fit)
        || shaped.kind == Kind::Roll && ask.says("pan").is_some()
    {
        keys.push("proof");
    }
    if matches!(shaped.kind, Kind::Fit) || shaped.kind == Kind::Roll && ask.says("pan").is_some() {
        keys.push("support");
    }
    if as_one {
        keys.retain(|k| *k != "support");
        if raised == Raised::Yeast {
            keys.push("headroom");
        }
    }
    if shaped.kind == Kind::Roll && ask.says("filling").is_some() {
        keys.push("cream_cold");
    }
    if shaped.kind != Kind::Layers {
        keys.push("raw");
    }
    shaped.cautions.extend(keys.into_iter().map(Caution::of));
}
