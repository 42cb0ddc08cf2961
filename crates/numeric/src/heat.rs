//! Heat into a body by conduction, with a front at which water boils away: finite volumes on a
//! slab, a finite cylinder, a ring, a block or a ball, implicit in time.
//!
//! # Equations
//! Each cell of volume `V` (m³) holds the enthalpy `H` (J/m³, from 0 °C):
//!
//! `V dH/dt = Σ G (T_neighbour − T)`, `G = A / (d₁/k₁ + d₂/k₂)` (W/K),
//!
//! with the area `A` of a face, the distances `d` of the two cells' middles from it and their
//! conductivities `k` (W/m K). At a face of the body `G = A / (d/k + 1/h)` towards what is around,
//! `h` (W/m² K) holding convection, radiation and the wall of a pan together; `1/h = 0` where the
//! face is held at a temperature.
//!
//! Water is an enthalpy method with the temperature capped while it boils off:
//!
//! | state | temperature |
//! | --- | --- |
//! | wet, `H ≤ C_w T_b` | `T = H / C_w` |
//! | boiling, up to `C_w T_b + L` | `T = T_b` |
//! | dry | `T = T_b + (H − C_w T_b − L) / C_d` |
//!
//! `C` (J/m³ K) are heat capacities, `T_b` (°C) the boiling point, `L` (J/m³) the heat that boils
//! off the water above the residual a dry crust keeps. Steam is taken to leave at once. That is a
//! melting front: checked against its similarity solution (Neumann).
//!
//! # Method
//! Backward Euler; every step is solved by over-relaxed Gauss–Seidel on the temperatures, every
//! other cell in turn, each cell's own piecewise straight equation exactly. Enthalpies then follow from the fluxes, so that
//! what came through the faces is what is in the body. Conductivities are those of the state at the
//! step's beginning. Blocks are worked on a quarter, cylinders and rings on radius and height.

mod grid;
mod run;

pub use run::{Run, Until, heat};

/// What is heated: a shape, in metres. Top and bottom differ; all sides are alike.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Shape {
    /// Wide against its depth: heat comes through the top and the bottom alone.
    Slab {
        /// Top to bottom, m.
        depth: f64,
    },
    /// Round.
    Cylinder {
        /// Middle to side, m.
        radius: f64,
        /// Top to bottom, m.
        depth: f64,
    },
    /// Round with a hole through it: heat comes through the side and through the hole's wall.
    Ring {
        /// Middle to the wall of the hole, m.
        hole: f64,
        /// Middle to side, m.
        radius: f64,
        /// Top to bottom, m.
        depth: f64,
    },
    /// A ball: its face is the side.
    Ball {
        /// Middle to face, m.
        radius: f64,
    },
    /// With four upright sides.
    Block {
        /// The long side, m.
        length: f64,
        /// The short side, m.
        width: f64,
        /// Top to bottom, m.
        depth: f64,
    },
}

impl Shape {
    /// Its volume, m³; for a slab that of a square metre.
    #[must_use]
    pub fn volume(self) -> f64 {
        match self {
            Self::Slab { depth } => depth,
            Self::Cylinder { radius, depth } => std::f64::consts::PI * radius * radius * depth,
            Self::Ring {
                hole,
                radius,
                depth,
            } => std::f64::consts::PI * (radius * radius - hole * hole) * depth,
            Self::Ball { radius } => 4.0 / 3.0 * std::f64::consts::PI * radius.powi(3),
            Self::Block {
                length,
                width,
                depth,
            } => length * width * depth,
        }
    }
}

/// Where water boils away.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Front {
    /// The boiling point, °C.
    pub boiling: f64,
    /// Heat that boils off the water of a volume, J/m³: grams that leave × 2.26 kJ/g.
    pub latent: f64,
    /// Conductivity of what is left, W/m K.
    pub dry_conductivity: f64,
    /// Heat capacity of what is left, J/m³ K.
    pub dry_capacity: f64,
}

/// What it is made of.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Material {
    /// Conductivity, W/m K.
    pub conductivity: f64,
    /// Heat capacity of a volume, J/m³ K.
    pub capacity: f64,
    /// The front of boiling water; `None` where nothing boils.
    pub front: Option<Front>,
}

/// What a face of the body meets.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Face {
    /// No heat passes.
    Closed,
    /// Air, or a pan in air.
    Film {
        /// Convection, radiation and the pan's wall together, W/m² K.
        conductance: f64,
        /// Temperature around, °C.
        around: f64,
    },
    /// Held at a temperature, °C: perfect contact.
    Held(f64),
}

/// The faces of a body.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Faces {
    /// Below.
    pub bottom: Face,
    /// Above.
    pub top: Face,
    /// All around; a slab has none.
    pub side: Face,
}

/// A body in the heat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Body {
    /// Its shape.
    pub shape: Shape,
    /// What it is made of.
    pub material: Material,
    /// What its faces meet.
    pub faces: Faces,
    /// Its temperature at the beginning, °C.
    pub start: f64,
}

/// How finely it is worked.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fineness {
    /// Cells from the middle to a side, of a ring to either wall, 2–200.
    pub across: usize,
    /// Cells from top to bottom, 3–401; an odd number has one in the middle.
    pub down: usize,
    /// How much wider each cell is than its neighbour nearer the surface: 1 for equal cells, up
    /// to 2.
    pub grading: f64,
    /// The first step, s.
    pub first_step: f64,
    /// The longest step, s. Steps grow by a tenth up to it.
    pub longest_step: f64,
}

impl Default for Fineness {
    /// For a bake: the core within a half degree of four times as many cells and steps.
    fn default() -> Self {
        Self {
            across: 9,
            down: 15,
            grading: 1.25,
            first_step: 4.0,
            longest_step: 20.0,
        }
    }
}
