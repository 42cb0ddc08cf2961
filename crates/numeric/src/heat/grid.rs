//! The cells of a body.

use super::{Face, Shape};
use std::f64::consts::PI;

/// Cells on three axes; an axis without heat has one cell. Place of a cell:
/// `x + nx (y + ny z)`.
pub(super) struct Grid {
    pub n: [usize; 3],
    /// m³.
    pub volume: Vec<f64>,
    /// Per axis, for the face towards the next cell: area over distance on this side and on the
    /// other, m. Zero at the end.
    pub inner: [Vec<(f64, f64)>; 3],
    /// Faces of the body: cell, area (m²), distance from the middle of the cell (m), which face.
    pub outer: Vec<(usize, f64, f64, Side)>,
}

/// A face of the body.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Side {
    Bottom,
    Top,
    Around,
}

/// Widths from the middle (first) to the surface (last), in ratio `grading`.
fn from_middle(whole: f64, cells: usize, grading: f64) -> Vec<f64> {
    let shares: Vec<f64> = (0..cells)
        .rev()
        .map(|i| grading.powi(i32::try_from(i).unwrap_or(0)))
        .collect();
    let sum: f64 = shares.iter().sum();
    shares.iter().map(|s| whole * s / sum).collect()
}

/// Widths from one surface to the other, narrow at both.
fn between(whole: f64, cells: usize, grading: f64) -> Vec<f64> {
    let place = |i: usize| i.min(cells - 1 - i);
    let shares: Vec<f64> = (0..cells)
        .map(|i| grading.powi(i32::try_from(place(i)).unwrap_or(0)))
        .collect();
    let sum: f64 = shares.iter().sum();
    shares.iter().map(|s| whole * s / sum).collect()
}

impl Grid {
    pub(super) fn new(shape: Shape, across: usize, down: usize, grading: f64) -> Self {
        let edges = |widths: &[f64]| -> Vec<f64> {
            let mut at = 0.0;
            let mut out = vec![0.0];
            for w in widths {
                at += w;
                out.push(at);
            }
            out
        };
        let (x, y, z, round) = match shape {
            Shape::Slab { depth } => (vec![1.0], vec![1.0], between(depth, down, grading), false),
            Shape::Cylinder { radius, depth } => (
                from_middle(radius, across, grading),
                vec![1.0],
                between(depth, down, grading),
                true,
            ),
            Shape::Ring {
                hole,
                radius,
                depth,
            } => (
                between(radius - hole, 2 * across - 1, grading),
                vec![1.0],
                between(depth, down, grading),
                true,
            ),
            Shape::Ball { radius } => (
                from_middle(radius, across, grading),
                vec![1.0],
                vec![1.0],
                true,
            ),
            Shape::Block {
                length,
                width,
                depth,
            } => (
                from_middle(length / 2.0, across, grading),
                from_middle(width / 2.0, across, grading),
                between(depth, down, grading),
                false,
            ),
        };
        let slab = matches!(shape, Shape::Slab { .. });
        let (nx, ny, nz) = (x.len(), y.len(), z.len());
        let hole = match shape {
            Shape::Ring { hole, .. } => hole,
            _ => 0.0,
        };
        let r: Vec<f64> = edges(&x).iter().map(|at| hole + at).collect();
        // A quarter of a block stands for four; a cylinder is whole, a slab is a square metre.
        let times = if matches!(shape, Shape::Block { .. }) {
            4.0
        } else {
            1.0
        };
        let ball = matches!(shape, Shape::Ball { .. });
        let base = |i: usize, j: usize| {
            if ball {
                4.0 / 3.0 * PI * (r[i + 1].powi(3) - r[i].powi(3))
            } else if round {
                PI * (r[i + 1] * r[i + 1] - r[i] * r[i])
            } else {
                x[i] * y[j] * times
            }
        };
        let cells = nx * ny * nz;
        let mut grid = Self {
            n: [nx, ny, nz],
            volume: vec![0.0; cells],
            inner: [
                vec![(0.0, 0.0); cells],
                vec![(0.0, 0.0); cells],
                vec![(0.0, 0.0); cells],
            ],
            outer: Vec::new(),
        };
        for k in 0..nz {
            for j in 0..ny {
                for i in 0..nx {
                    let at = i + nx * (j + ny * k);
                    grid.volume[at] = base(i, j) * z[k];
                    let area = if ball {
                        4.0 * PI * r[i + 1] * r[i + 1]
                    } else if round {
                        2.0 * PI * r[i + 1] * z[k]
                    } else {
                        y[j] * z[k] * times
                    };
                    if i + 1 < nx {
                        grid.inner[0][at] = (area / (x[i] / 2.0), area / (x[i + 1] / 2.0));
                    } else if !slab {
                        grid.outer.push((at, area, x[i] / 2.0, Side::Around));
                    }
                    if i == 0 && hole > 0.0 {
                        let area = 2.0 * PI * hole * z[k];
                        grid.outer.push((at, area, x[0] / 2.0, Side::Around));
                    }
                    if !round && !slab {
                        let area = x[i] * z[k] * times;
                        if j + 1 < ny {
                            grid.inner[1][at] = (area / (y[j] / 2.0), area / (y[j + 1] / 2.0));
                        } else {
                            grid.outer.push((at, area, y[j] / 2.0, Side::Around));
                        }
                    }
                    if ball {
                        continue;
                    }
                    let area = base(i, j);
                    if k + 1 < nz {
                        grid.inner[2][at] = (area / (z[k] / 2.0), area / (z[k + 1] / 2.0));
                    } else {
                        grid.outer.push((at, area, z[k] / 2.0, Side::Top));
                    }
                    if k == 0 {
                        grid.outer.push((at, area, z[k] / 2.0, Side::Bottom));
                    }
                }
            }
        }
        grid
    }
}

/// W/K from a cell's middle through a face of the body, and what is around, °C.
pub(super) fn through(face: Face, area: f64, distance: f64, k: f64) -> (f64, f64) {
    match face {
        Face::Closed => (0.0, 0.0),
        Face::Film {
            conductance,
            around,
        } => {
            let g = if conductance > 0.0 {
                area / (distance / k + 1.0 / conductance)
            } else {
                0.0
            };
            (g, around)
        }
        Face::Held(t) => (area * k / distance, t),
    }
}
