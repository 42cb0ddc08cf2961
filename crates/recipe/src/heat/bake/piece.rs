//! The piece in the oven: as large as it stands when baked.

use crate::heat::pan::{Outline, Pan};
use crate::rework::style::Style;
use numeric::heat::Shape;
use quantity::{Mass, Ratio, Spread};

/// A baked piece stands at most this far above its pan, in depths of it.
const DOME: f64 = 1.2;
/// How much a dough rises in the oven, and a batter in all (common practice).
const SPRING: f64 = 1.1;
const BATTER: f64 = 1.5;

/// A piece in the oven.
#[derive(Clone, Copy)]
pub(super) struct Piece {
    pub(super) shape: Shape,
    pub(super) depth: f64,
    /// The thinnest way through, m.
    pub(super) thin: f64,
    /// It stands above what the pan lets it.
    pub(super) over: bool,
}

fn expansion(style: Option<Style>) -> f64 {
    let rise = style
        .and_then(|s| s.range("proof_x"))
        .map_or(1.0, |r| r.value.likely().get());
    if style.is_none_or(Style::is_yeast_dough) {
        rise * SPRING
    } else {
        BATTER
    }
}

impl Piece {
    pub(super) fn of(
        pan: &Pan,
        dough: Option<Mass>,
        fill: f64,
        (style, density): (Option<Style>, Spread<Ratio>),
    ) -> Self {
        // m³ when baked; a density of 1 g/mL is 1e-6 m³ for a gram.
        let density = density.likely().get();
        let baked = dough.map(|m| m.as_grams() * 1e-6 / density * expansion(style));
        if let Outline::Free { across } = pan.outline {
            let radius = baked.map_or(across / 2.0, |v| {
                (3.0 * v / (4.0 * std::f64::consts::PI)).cbrt()
            });
            return Self {
                shape: Shape::Ball { radius },
                depth: 2.0 * radius,
                thin: 2.0 * radius,
                over: false,
            };
        }
        let asked = baked.map_or(fill * pan.depth, |v| v / pan.area());
        let depth = asked.min(DOME * pan.depth);
        let shape = match pan.outline {
            Outline::Round { across } | Outline::Free { across } => Shape::Cylinder {
                radius: across / 2.0,
                depth,
            },
            Outline::Ring { across, hole } => Shape::Ring {
                hole: hole / 2.0,
                radius: across / 2.0,
                depth,
            },
            Outline::Square { length, width } => Shape::Block {
                length,
                width,
                depth,
            },
        };
        Self {
            shape,
            depth,
            thin: depth.min(pan.width()),
            over: asked > DOME * pan.depth * 1.001,
        }
    }
}
