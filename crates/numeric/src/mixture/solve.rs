//! One choice of parts: a convex programme, solved by Clarabel.

use super::{Bind, Blend, Goal, Limit, Mixture, TOLERANCE};
use crate::NumericError;
use clarabel::algebra::CscMatrix;
use clarabel::solver::{
    DefaultSettings, DefaultSolution, DefaultSolver, IPSolver, NonnegativeConeT, SecondOrderConeT,
    SolverStatus, SupportedConeT, ZeroConeT,
};

/// What the solver is given to settle in.
const ROUNDS: u32 = 100;
/// A price below this is none.
const NO_PRICE: f64 = 1e-6;

/// What a solve came to.
pub(super) enum Solved {
    /// The optimum, with the prices of the caps and the cone's dual.
    Best {
        /// The blend.
        blend: Blend,
        /// The price of every cap.
        caps: Vec<f64>,
        /// The dual of the distance: first the price of its bound, then one for each property.
        cone: Vec<f64>,
    },
    /// No shares keep all limits; the certificate's part of caps and distance.
    Impossible {
        /// By cap.
        caps: Vec<f64>,
        /// As in `Best`.
        cone: Vec<f64>,
    },
}

/// Entries of a matrix, row by row, turned into compressed columns.
struct Rows {
    columns: Vec<Vec<(usize, f64)>>,
    b: Vec<f64>,
}

impl Rows {
    fn new(n: usize) -> Self {
        Self {
            columns: vec![Vec::new(); n],
            b: Vec::new(),
        }
    }

    fn push(&mut self, row: impl IntoIterator<Item = (usize, f64)>, b: f64) {
        let at = self.b.len();
        for (column, value) in row {
            if value != 0.0 {
                self.columns[column].push((at, value));
            }
        }
        self.b.push(b);
    }

    fn matrix(&self) -> CscMatrix<f64> {
        compressed(self.b.len(), &self.columns)
    }
}

fn compressed(rows: usize, columns: &[Vec<(usize, f64)>]) -> CscMatrix<f64> {
    let mut start = vec![0];
    let (mut row, mut value) = (Vec::new(), Vec::new());
    for column in columns {
        row.extend(column.iter().map(|e| e.0));
        value.extend(column.iter().map(|e| e.1));
        start.push(row.len());
    }
    CscMatrix::new(rows, columns.len(), start, row, value)
}

fn settings() -> DefaultSettings<f64> {
    DefaultSettings {
        verbose: false,
        max_iter: ROUNDS,
        tol_gap_abs: 1e-9,
        tol_gap_rel: 1e-9,
        tol_feas: 1e-9,
        // A linear system of a dozen unknowns needs no scaling of its own.
        presolve_enable: false,
        ..DefaultSettings::default()
    }
}

impl Mixture {
    /// The best mixture of given parts, each used with its least share or more.
    ///
    /// # Inputs
    /// Places of parts, each once.
    ///
    /// # Returns
    /// The optimum with what binds it; `None` where the limits clash.
    ///
    /// # Errors
    /// [`NumericError`]: lengths that disagree, figures that are not finite, or a programme that
    /// the solver does not settle.
    pub fn of_parts(&self, parts: &[usize]) -> Result<Option<Blend>, NumericError> {
        self.check()?;
        let mut parts = parts.to_vec();
        parts.sort_unstable();
        parts.dedup();
        if parts.is_empty() {
            return Err(NumericError::Empty { what: "parts" });
        }
        Ok(match self.solve(&parts, true)? {
            Solved::Best { blend, .. } => Some(blend),
            Solved::Impossible { .. } => None,
        })
    }

    /// Solves for given parts; `least` holds each at its least share, else it may be nothing.
    pub(super) fn solve(&self, parts: &[usize], least: bool) -> Result<Solved, NumericError> {
        let sum = |of: &[f64]| parts.iter().map(|&p| of[p]).sum::<f64>();
        if sum(&self.high) < 1.0 - TOLERANCE || least && sum(&self.low) > 1.0 + TOLERANCE {
            return Ok(Solved::Impossible {
                caps: Vec::new(),
                cone: Vec::new(),
            });
        }
        let found = self.programme(parts, least, false)?;
        let prices = |found: &DefaultSolution<f64>| {
            let (caps, cone) = found.z[1 + 2 * parts.len()..].split_at(self.caps.len());
            (caps.to_vec(), cone.to_vec())
        };
        match found.status {
            // What is almost solved has lost its last digits to rounding, no more.
            SolverStatus::Solved | SolverStatus::AlmostSolved => {
                let (caps, cone) = prices(&found);
                let blend = self.blend(parts, &found.x, &found.z, least);
                Ok(Solved::Best { blend, caps, cone })
            }
            // By how much must the limits give? The prices of that say which of them clash.
            _ => {
                let room = self.programme(parts, least, true)?;
                let solved = matches!(
                    room.status,
                    SolverStatus::Solved | SolverStatus::AlmostSolved
                );
                if !solved || room.obj_val < TOLERANCE {
                    return Err(NumericError::NotSettled {
                        rounds: ROUNDS as usize,
                    });
                }
                let (caps, cone) = prices(&room);
                Ok(Solved::Impossible { caps, cone })
            }
        }
    }

    /// Sets the programme up and solves it. With `room`, what is minimised is one number by which
    /// caps and distance are widened; it is below 0 where they are kept with room to spare.
    fn programme(
        &self,
        parts: &[usize],
        least: bool,
        room: bool,
    ) -> Result<DefaultSolution<f64>, NumericError> {
        let n = parts.len();
        let width = n + usize::from(room);
        let give = room.then_some((n, -1.0));
        let each = |row: &[f64]| -> Vec<(usize, f64)> {
            parts
                .iter()
                .enumerate()
                .map(|(i, &p)| (i, row[p]))
                .collect()
        };
        let mut rows = Rows::new(width);
        rows.push((0..n).map(|i| (i, 1.0)), 1.0);
        for (i, &p) in parts.iter().enumerate() {
            rows.push([(i, 1.0)], self.high[p]);
        }
        for (i, &p) in parts.iter().enumerate() {
            rows.push([(i, -1.0)], if least { -self.low[p] } else { 0.0 });
        }
        for cap in &self.caps {
            rows.push(each(&cap.row).into_iter().chain(give), cap.at_most);
        }
        let mut cones: Vec<SupportedConeT<f64>> =
            vec![ZeroConeT(1), NonnegativeConeT(2 * n + self.caps.len())];
        let mut quadratic: Vec<Vec<(usize, f64)>> = vec![Vec::new(); width];
        let mut linear: Vec<f64> = parts.iter().map(|&p| self.cost[p]).collect();
        if room {
            linear = vec![0.0; n];
            linear.push(1.0);
        }
        match self.goal {
            Goal::Nearest if room => {}
            Goal::Nearest => {
                for (j, &q) in parts.iter().enumerate() {
                    for (i, &p) in parts.iter().enumerate().take(j + 1) {
                        let entry: f64 = self.properties.iter().map(|a| a[p] * a[q]).sum();
                        if entry != 0.0 {
                            quadratic[j].push((i, entry));
                        }
                    }
                    let pull = self.properties.iter().zip(&self.targets);
                    linear[j] -= pull.map(|(a, t)| a[q] * t).sum::<f64>();
                }
            }
            Goal::Cheapest { within } => {
                rows.push(give, within);
                for (a, t) in self.properties.iter().zip(&self.targets) {
                    rows.push(each(a), *t);
                }
                cones.push(SecondOrderConeT(1 + self.properties.len()));
            }
        }
        let mut solver = DefaultSolver::new(
            &compressed(width, &quadratic),
            &linear,
            &rows.matrix(),
            &rows.b,
            &cones,
            settings(),
        )
        .map_err(|_| NumericError::NotSettled {
            rounds: ROUNDS as usize,
        })?;
        solver.solve();
        Ok(solver.solution)
    }

    /// The blend of a solution; `z` are the prices in the order of the rows.
    fn blend(&self, parts: &[usize], x: &[f64], z: &[f64], least: bool) -> Blend {
        let n = parts.len();
        // The solver stops a hair inside its limits.
        let within = |i: usize| {
            let low = if least { self.low[parts[i]] } else { 0.0 };
            x[i].max(low).min(self.high[parts[i]])
        };
        let shares: Vec<f64> = (0..n).map(within).collect();
        let limits = (0..n)
            .map(|i| Limit::High(parts[i]))
            .chain((0..n).map(|i| Limit::Low(parts[i])))
            .chain((0..self.caps.len()).map(Limit::Cap));
        let mut binds: Vec<Bind> = limits
            .chain(matches!(self.goal, Goal::Cheapest { .. }).then_some(Limit::Within))
            .zip(&z[1..])
            .filter(|(_, price)| **price > NO_PRICE)
            .map(|(limit, &price)| Bind { limit, price })
            .collect();
        binds.sort_by(|a, b| b.price.total_cmp(&a.price));
        let mut blend = Blend {
            parts: parts.to_vec(),
            shares,
            value: 0.0,
            binds,
        };
        blend.value = self.cost_of(&blend)
            + match self.goal {
                Goal::Nearest => 0.5 * self.distance(&blend).powi(2),
                Goal::Cheapest { .. } => 0.0,
            };
        blend
    }

    /// Whether shares of a blend keep every limit, to [`TOLERANCE`].
    #[must_use]
    pub fn keeps_limits(&self, blend: &Blend) -> bool {
        let sum: f64 = blend.shares.iter().sum();
        let each = blend
            .parts
            .iter()
            .zip(&blend.shares)
            .all(|(&p, s)| (self.low[p] - TOLERANCE..=self.high[p] + TOLERANCE).contains(s));
        let caps = self.caps.iter().all(|cap| {
            let parts = blend.parts.iter().zip(&blend.shares);
            let sum: f64 = parts.map(|(&p, s)| cap.row[p] * s).sum();
            sum <= cap.at_most + TOLERANCE
        });
        let near = match self.goal {
            Goal::Nearest => true,
            Goal::Cheapest { within } => self.distance(blend) <= within + TOLERANCE,
        };
        (sum - 1.0).abs() <= TOLERANCE && each && caps && near
    }
}
