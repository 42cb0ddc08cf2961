//! Stepping through time.

use super::grid::{Grid, Side, through};
use super::{Body, Face, Fineness, Front, Shape};
use crate::NumericError;

/// How long.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Until {
    /// So many seconds.
    Time(f64),
    /// The core has a temperature, °C, or so many seconds have passed.
    Core {
        /// °C.
        celsius: f64,
        /// s.
        at_most: f64,
    },
}

/// What happened.
#[derive(Debug, Clone, PartialEq)]
pub struct Run {
    /// Ends of the steps, s, from 0.
    pub times: Vec<f64>,
    /// The coldest cell at these times, °C; the hottest in a body that cools.
    pub core: Vec<f64>,
    /// The mean temperature at the end, by volume, °C.
    pub mean: f64,
    /// How much of the water that can boil off has gone, 0–1.
    pub dried: f64,
    /// Heat that came through the faces, J.
    pub came_in: f64,
    /// Heat that is in the body more than at the beginning, J.
    pub kept: f64,
    /// When the core had the temperature asked for, s; `None` where it did not, or was not asked.
    pub reached: Option<f64>,
}

/// Temperatures settle to this, °C.
const SETTLED: f64 = 5e-4;
/// Sweeps after which a step is given up.
const SWEEPS: usize = 2_000;
/// Most steps.
const STEPS: usize = 200_000;
/// Each step is longer than the last by this, up to the longest.
const GROWTH: f64 = 1.1;

/// Heats a body.
///
/// # Inputs
/// As [`Body`], [`Fineness`] and [`Until`] say: lengths, conductivities, capacities and times
/// above zero, all finite.
///
/// # Errors
/// - [`NumericError::Value`]: a figure out of its range.
/// - [`NumericError::NotSettled`]: a step did not settle.
///
/// # Source
/// Finite volumes: S. V. Patankar, Numerical Heat Transfer and Fluid Flow (1980), ch. 4 (from
/// memory); enthalpy: V. Alexiades and A. Solomon, Mathematical Modeling of Melting and Freezing
/// Processes (1993), ch. 4 (from memory). Checked in `tests/heat.rs`.
///
/// # Example
/// ```
/// use numeric::heat::{Body, Face, Faces, Fineness, Material, Shape, Until, heat};
/// // A slab of 20 mm held at 100 °C on both faces from 0 °C. After a Fourier number of 0.5 its
/// // middle lacks 4/π exp(−π²/8) = 37.1 % of the difference.
/// let body = Body {
///     shape: Shape::Slab { depth: 0.02 },
///     material: Material { conductivity: 0.4, capacity: 4e6, front: None },
///     faces: Faces { bottom: Face::Held(100.0), top: Face::Held(100.0), side: Face::Closed },
///     start: 0.0,
/// };
/// let fine = Fineness { down: 41, grading: 1.0, first_step: 1.0, longest_step: 1.0, ..Fineness::default() };
/// let run = heat(&body, &fine, Until::Time(500.0))?;
/// assert!((run.core[run.core.len() - 1] - 62.9).abs() < 0.3);
/// # Ok::<(), numeric::NumericError>(())
/// ```
pub fn heat(body: &Body, fine: &Fineness, until: Until) -> Result<Run, NumericError> {
    check(body, fine, until)?;
    let grid = Grid::new(body.shape, fine.across, fine.down, fine.grading);
    Solver::new(body, &grid).run(body, fine, until)
}

fn above(what: &'static str, value: f64) -> Result<(), NumericError> {
    within(what, value, f64::MIN_POSITIVE, f64::MAX)
}

fn within(what: &'static str, value: f64, low: f64, high: f64) -> Result<(), NumericError> {
    if (low..=high).contains(&value) {
        Ok(())
    } else {
        Err(NumericError::Value {
            what,
            index: 0,
            found: value,
        })
    }
}

fn check(body: &Body, fine: &Fineness, until: Until) -> Result<(), NumericError> {
    match body.shape {
        Shape::Slab { depth } => above("depth", depth)?,
        Shape::Ball { radius } => above("radius", radius)?,
        Shape::Ring {
            hole,
            radius,
            depth,
        } => {
            above("hole", hole)?;
            within("radius", radius, hole * (1.0 + 1e-9), f64::MAX)?;
            above("depth", depth)?;
        }
        Shape::Cylinder { radius, depth } => {
            above("radius", radius)?;
            above("depth", depth)?;
        }
        Shape::Block {
            length,
            width,
            depth,
        } => {
            above("length", length)?;
            above("width", width)?;
            above("depth", depth)?;
        }
    }
    let m = &body.material;
    above("conductivity", m.conductivity)?;
    above("capacity", m.capacity)?;
    within("start", body.start, -273.15, 1e4)?;
    if let Some(f) = m.front {
        within("boiling", f.boiling, body.start, 1e4)?;
        within("latent", f.latent, 0.0, f64::MAX)?;
        above("dry_conductivity", f.dry_conductivity)?;
        above("dry_capacity", f.dry_capacity)?;
    }
    for face in [body.faces.bottom, body.faces.top, body.faces.side] {
        match face {
            Face::Closed => {}
            Face::Film {
                conductance,
                around,
            } => {
                within("conductance", conductance, 0.0, f64::MAX)?;
                within("around", around, -273.15, 1e4)?;
            }
            Face::Held(t) => within("held", t, -273.15, 1e4)?,
        }
    }
    let count =
        |what, n: usize, low: usize, high: usize| within(what, n as f64, low as f64, high as f64);
    count("across", fine.across, 2, 200)?;
    count("down", fine.down, 3, 401)?;
    within("grading", fine.grading, 1.0, 2.0)?;
    above("first_step", fine.first_step)?;
    within("longest_step", fine.longest_step, fine.first_step, f64::MAX)?;
    let time = match until {
        Until::Time(s) | Until::Core { at_most: s, .. } => s,
    };
    above("time", time)?;
    within("time", time, 0.0, fine.first_step * STEPS as f64)?;
    if let Until::Core { celsius, .. } = until {
        within("core", celsius, -273.15, 1e4)?;
    }
    Ok(())
}

/// One cell in one step.
struct Part {
    /// What it has and what comes from around, W.
    constant: f64,
    /// Sum of its conductances, W/K.
    sum: f64,
    /// One over the sum with its capacity, wet and dry, K/W.
    over_wet: f64,
    over_dry: f64,
    /// Volume over the step, m³/s.
    volume: f64,
}

struct Solver<'g> {
    grid: &'g Grid,
    front: Option<Front>,
    wet: f64,
    conductivity: f64,
    faces: [Face; 3],
    /// Cells before the first and behind the last, never counted: a neighbour's place always is one.
    pad: usize,
    /// °C, padded.
    t: Vec<f64>,
    /// °C a step earlier, padded.
    before: Vec<f64>,
    /// J/m³.
    h: Vec<f64>,
    /// W/K towards the next and from the previous cell on the three axes, one record a cell.
    g: Vec<[f64; 6]>,
    /// W/K to what is around, and that times what is around.
    out: Vec<(f64, f64)>,
    /// Has any conductivity changed?
    stale: bool,
}

impl<'g> Solver<'g> {
    fn new(body: &Body, grid: &'g Grid) -> Self {
        let cells = grid.volume.len();
        let pad = grid.n[0] * grid.n[1];
        let t = vec![body.start; cells + 2 * pad];
        Self {
            grid,
            front: body.material.front,
            wet: body.material.capacity,
            conductivity: body.material.conductivity,
            faces: [body.faces.bottom, body.faces.top, body.faces.side],
            pad,
            before: t.clone(),
            t,
            h: vec![body.material.capacity * body.start; cells],
            g: vec![[0.0; 6]; cells],
            out: vec![(0.0, 0.0); cells],
            stale: true,
        }
    }

    /// How much of the water that can boil off has gone at this enthalpy, 0–1.
    fn dried(&self, h: f64) -> f64 {
        match self.front {
            Some(f) if f.latent > 0.0 => ((h - self.wet * f.boiling) / f.latent).clamp(0.0, 1.0),
            Some(f) if h > self.wet * f.boiling => 1.0,
            _ => 0.0,
        }
    }

    /// A cell that boils is wet and dry in a row.
    fn k(&self, cell: usize) -> f64 {
        match (self.front, self.dried(self.h[cell])) {
            (Some(f), dry) if dry > 0.0 => {
                1.0 / (dry / f.dry_conductivity + (1.0 - dry) / self.conductivity)
            }
            _ => self.conductivity,
        }
    }

    /// Conductances from the states as they are.
    fn conductances(&mut self) {
        let steps = [1, self.grid.n[0], self.pad];
        for cell in 0..self.h.len() {
            let k = self.k(cell);
            for (axis, step) in steps.iter().enumerate() {
                let (here, there) = self.grid.inner[axis][cell];
                if here > 0.0 {
                    let other = cell + step;
                    let g = 1.0 / (1.0 / (k * here) + 1.0 / (self.k(other) * there));
                    self.g[cell][2 * axis + 1] = g;
                    self.g[other][2 * axis] = g;
                }
            }
            self.out[cell] = (0.0, 0.0);
        }
        for (cell, area, distance, side) in &self.grid.outer {
            let face = match side {
                Side::Bottom => self.faces[0],
                Side::Top => self.faces[1],
                Side::Around => self.faces[2],
            };
            let (g, around) = through(face, *area, *distance, self.k(*cell));
            self.out[*cell].0 += g;
            self.out[*cell].1 += g * around;
        }
        self.stale = false;
    }

    /// One step of `dt` seconds; `guess` is the last step's change over this one's. Returns the
    /// heat that came in, J.
    fn step(&mut self, dt: f64, guess: f64) -> Result<f64, NumericError> {
        if self.stale {
            self.conductances();
        }
        let cells = self.h.len();
        let (boiling, dry) = self
            .front
            .map_or((f64::INFINITY, self.wet), |f| (f.boiling, f.dry_capacity));
        let row = self.grid.n[0];
        let mut parts: Vec<Part> = Vec::with_capacity(cells);
        let mut jacobi: f64 = 0.0;
        for cell in 0..cells {
            let v = self.grid.volume[cell] / dt;
            let inner: f64 = self.g[cell].iter().sum();
            let sum = inner + self.out[cell].0;
            jacobi = jacobi.max(inner / (sum + v * self.wet.min(dry)));
            parts.push(Part {
                constant: v * self.h[cell] + self.out[cell].1,
                sum,
                over_wet: 1.0 / (v * self.wet + sum),
                over_dry: 1.0 / (v * dry + sum),
                volume: v,
            });
        }
        let relax = 2.0 / (1.0 + (1.0 - jacobi * jacobi).max(1e-6).sqrt());
        let old = self.t.clone();
        for cell in 0..cells {
            let at = cell + self.pad;
            let ahead = old[at] + guess * (old[at] - self.before[at]);
            if (old[at] - boiling) * (ahead - boiling) > 0.0 || boiling.is_infinite() {
                self.t[at] = ahead;
            }
        }
        let mut settled = false;
        for _ in 0..SWEEPS {
            // Every other cell, then the rest: neighbours do not wait for one another.
            let odd = self.sweep(0, &parts, relax);
            let even = self.sweep(1, &parts, relax);
            let moved = odd.max(even);
            if moved < SETTLED {
                settled = true;
                break;
            }
        }
        if !settled {
            return Err(NumericError::NotSettled { rounds: SWEEPS });
        }
        self.before = old;
        Ok(self.take_up(dt, row))
    }

    /// Renews every other cell, as on a board of chess. Returns how far the furthest moved, °C.
    fn sweep(&mut self, colour: usize, parts: &[Part], relax: f64) -> f64 {
        let (boiling, latent) = self
            .front
            .map_or((f64::INFINITY, 0.0), |f| (f.boiling, f.latent));
        let [nx, ny, nz] = self.grid.n;
        let mut moved: f64 = 0.0;
        for k in 0..nz {
            for j in 0..ny {
                let first = nx * (j + ny * k);
                for i in ((colour + j + k) % 2..nx).step_by(2) {
                    let cell = first + i;
                    let at = cell + self.pad;
                    let (g, p, t) = (&self.g[cell], &parts[cell], &self.t);
                    let right = p.constant
                        + (g[0] * t[at - 1] + g[1] * t[at + 1])
                        + (g[2] * t[at - nx] + g[3] * t[at + nx])
                        + (g[4] * t[at - self.pad] + g[5] * t[at + self.pad]);
                    let mut next = right * p.over_wet;
                    if next > boiling {
                        let over =
                            right - p.volume * (self.wet * boiling + latent) - p.sum * boiling;
                        next = boiling + (over * p.over_dry).max(0.0);
                    }
                    let was = t[at];
                    let mut goal = was + relax * (next - was);
                    // Over-relaxing does not carry a cell through the boiling point.
                    if (next > boiling) != (goal > boiling) || next == boiling {
                        goal = next;
                    }
                    moved = moved.max((goal - was).abs());
                    self.t[at] = goal;
                }
            }
        }
        moved
    }

    /// Enthalpies from the fluxes of the settled temperatures. Returns the heat that came in, J.
    fn take_up(&mut self, dt: f64, row: usize) -> f64 {
        let mut came = 0.0;
        let mut stale = false;
        for cell in 0..self.h.len() {
            let at = cell + self.pad;
            let (g, t) = (&self.g[cell], &self.t);
            let here = t[at];
            let out = self.out[cell].1 - self.out[cell].0 * here;
            let flux = g[0] * (t[at - 1] - here)
                + g[1] * (t[at + 1] - here)
                + g[2] * (t[at - row] - here)
                + g[3] * (t[at + row] - here)
                + g[4] * (t[at - self.pad] - here)
                + g[5] * (t[at + self.pad] - here)
                + out;
            came += out * dt;
            let was = self.dried(self.h[cell]);
            self.h[cell] += flux * dt / self.grid.volume[cell];
            stale |= was != self.dried(self.h[cell]);
        }
        self.stale = stale;
        came
    }

    fn run(mut self, body: &Body, fine: &Fineness, until: Until) -> Result<Run, NumericError> {
        let (end, goal) = match until {
            Until::Time(s) => (s, None),
            Until::Core { celsius, at_most } => (at_most, Some(celsius)),
        };
        let cells = self.h.len();
        let warms = [body.faces.bottom, body.faces.top, body.faces.side]
            .iter()
            .any(|f| match f {
                Face::Closed => false,
                Face::Film { around, .. } => *around > body.start,
                Face::Held(t) => *t > body.start,
            });
        let mut run = Run {
            times: vec![0.0],
            core: vec![body.start],
            mean: body.start,
            dried: 0.0,
            came_in: 0.0,
            kept: 0.0,
            reached: None,
        };
        let (mut now, mut dt, mut last) = (0.0, fine.first_step, 0.0);
        while now < end * (1.0 - 1e-12) {
            let this = dt.min(end - now);
            let guess = if last > 0.0 { this / last } else { 0.0 };
            run.came_in += self.step(this, guess)?;
            let (t0, c0) = (now, run.core[run.core.len() - 1]);
            now += this;
            last = this;
            dt = (dt * GROWTH).min(fine.longest_step);
            let inside = &self.t[self.pad..self.pad + cells];
            let core = if warms {
                inside.iter().copied().fold(f64::INFINITY, f64::min)
            } else {
                inside.iter().copied().fold(f64::NEG_INFINITY, f64::max)
            };
            run.times.push(now);
            run.core.push(core);
            if let Some(goal) = goal {
                let there = if warms { core >= goal } else { core <= goal };
                if there {
                    let share = if (core - c0).abs() > 0.0 {
                        ((goal - c0) / (core - c0)).clamp(0.0, 1.0)
                    } else {
                        1.0
                    };
                    run.reached = Some(t0 + share * (now - t0));
                    break;
                }
            }
        }
        let volume: f64 = self.grid.volume.iter().sum();
        let (mut mean, mut dried) = (0.0, 0.0);
        for cell in 0..cells {
            let v = self.grid.volume[cell];
            mean += v * self.t[cell + self.pad];
            run.kept += v * (self.h[cell] - self.wet * body.start);
            dried += v * self.dried(self.h[cell]);
        }
        run.mean = mean / volume;
        run.dried = dried / volume;
        Ok(run)
    }
}
