//! One run of the model: the films at the faces of a piece, the grid in it, and how long its core takes.

use super::Bake;
use super::crumb::{
    BOILS_OFF, CRUST, DRY_HEAT, LATENT, POROSITY, WET_HEAT, crumb_density, crumb_diffusivity,
};
use super::goal::CoreTarget;
use super::piece::Piece;
use crate::heat::HeatError;
use crate::heat::pan::{Make, Pan};
use numeric::heat::{Body, Face, Faces, Fineness, Front, Material, Run, Shape, Until, heat};

/// W/m² K: low, middle, high.
const TOP: [f64; 3] = [12.0, 20.0, 30.0];
const THROUGH_PAN: [f64; 3] = [10.0, 15.0, 22.0];
const FAN: f64 = 1.3;
/// Cells of the runs that only give ratios.
const COARSE: (usize, usize) = (7, 11);
/// Most of a bake, s.
const MOST: f64 = 12.0 * 3600.0;

fn times_of_make(make: Make) -> [f64; 3] {
    match make {
        Make::Light => [1.0, 1.0, 1.0],
        Make::Dark => [1.0, 1.15, 1.4],
        Make::Glass => [1.0, 1.1, 1.3],
        Make::Silicone => [0.6, 0.8, 1.0],
    }
}

/// Which figures a run takes: films and pan, 0 low, 1 middle, 2 high.
#[derive(Clone, Copy)]
pub(super) struct Figures {
    pub(super) films: usize,
    pub(super) make: usize,
}

pub(super) fn run(
    piece: Piece,
    in_pan: &Pan,
    oven: f64,
    b: &Bake,
    target: &CoreTarget,
    f: Figures,
    about: f64,
) -> Result<Run, HeatError> {
    let rho = crumb_density(POROSITY);
    let capacity = rho * WET_HEAT;
    let fan = if b.fan { FAN } else { 1.0 };
    let film = |h: f64| Face::Film {
        conductance: h * fan,
        around: oven,
    };
    let pan = film(THROUGH_PAN[f.films] * times_of_make(in_pan.make)[f.make]);
    let top = if in_pan.lid { pan } else { film(TOP[f.films]) };
    let free = matches!(piece.shape, Shape::Ball { .. });
    let body = Body {
        shape: piece.shape,
        material: Material {
            conductivity: crumb_diffusivity(POROSITY) * capacity,
            capacity,
            front: Some(Front {
                boiling: target.boiling,
                latent: rho * BOILS_OFF * LATENT,
                dry_conductivity: CRUST,
                dry_capacity: rho * (1.0 - BOILS_OFF) * DRY_HEAT,
            }),
        },
        faces: Faces {
            bottom: pan,
            top,
            side: if free { top } else { pan },
        },
        start: b.start.as_celsius(),
    };
    // The curves are drawn from the middle figures; the others only give ratios, in which what a
    // coarser grid is off by cancels.
    let usual = Fineness::default();
    let (steps, across, down) = if (f.films, f.make) == (1, 1) {
        (100.0, usual.across, usual.down)
    } else {
        (50.0, COARSE.0, COARSE.1)
    };
    let longest = (about / steps).clamp(1.0, 120.0);
    let fine = Fineness {
        across,
        down,
        first_step: longest / 5.0,
        longest_step: longest,
        ..usual
    };
    heat(
        &body,
        &fine,
        Until::Core {
            celsius: target.celsius[1],
            at_most: MOST,
        },
    )
    .map_err(|e| HeatError(format!("this bake cannot be worked out: {e}")))
}

/// A guess at a run's length, s: a slab's with half the heat of the crust.
pub(super) fn about(piece: Piece) -> f64 {
    let half = piece.thin / 2.0;
    (half * half / crumb_diffusivity(POROSITY) + half * 20_000.0).clamp(150.0, MOST)
}

/// At most this many points of a curve.
const POINTS: usize = 48;

/// Points of a curve, minutes and °C, times a scale, up to where the core reaches the goal.
pub(super) fn thin_out(
    times: &[f64],
    core: &[f64],
    reached: Option<f64>,
    goal: f64,
    scale: f64,
) -> Vec<(f64, f64)> {
    let end = reached.unwrap_or(f64::INFINITY);
    let all: Vec<(f64, f64)> = times
        .iter()
        .zip(core)
        .filter(|(t, _)| **t < end)
        .map(|(t, c)| (t * scale, *c))
        .collect();
    let every = all.len().div_ceil(POINTS).max(1);
    let mut out: Vec<(f64, f64)> = all.into_iter().step_by(every).collect();
    if let Some(t) = reached {
        out.push((t * scale, goal));
    }
    out
}
