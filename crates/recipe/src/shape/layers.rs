//! Layers of cake with filling between and a coat round it.

use super::drawing::{Drawing, Look};
use super::tin::Outline;
use super::{Dough, Kind, Outcome, ShapeError, Shaped, Unit, Verdict, mm, volume};
use quantity::{Length, Mass, Quantity, Ratio, Spread};

/// How much filling lies between layers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Between {
    /// So thick each.
    Thick(Length),
    /// So much in all.
    Weight(Mass),
}

/// What is known of a layered cake.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LayersAsk {
    /// The cake from above.
    pub across: Outline,
    /// Height of the cake to be split, or of all cakes on one another.
    pub cake: Length,
    /// Cut off the top to level it.
    pub level: Length,
    /// Layers of cake.
    pub layers: u32,
    /// Filling between them.
    pub filling: Between,
    /// Its density, g/mL.
    pub filling_density: Spread<Ratio>,
    /// Thickness of the coat on top and sides; 0 for none.
    pub coat: Length,
    /// Its density, g/mL.
    pub coat_density: Spread<Ratio>,
    /// Most height there is: a box, a ring, a shelf.
    pub tall: Option<Length>,
    /// Board that shows round the cake.
    pub board: Length,
}

/// A layered cake.
#[derive(Debug, Clone, PartialEq)]
pub struct Layers {
    /// Each layer of cake.
    pub split: Length,
    /// Each filling.
    pub filling_thick: Spread<Length>,
    /// All filling.
    pub filling: Spread<Mass>,
    /// All coat, mL.
    pub coat_volume: f64,
    /// All coat.
    pub coat: Spread<Mass>,
    /// Height in all.
    pub tall: Spread<Length>,
    /// The board.
    pub board: Outline,
    ask: LayersAsk,
}

/// Splits, fills and coats.
///
/// # Formula
/// Split = (cake − level) / n; n − 1 fillings of area × thickness × density; height = cake − level
/// + (n − 1) f + c; coat = (A(wider by c) − A) × (height − c) + A(wider by c) × c.
///
/// # Source
/// Geometry; densities of `data/densities.tsv`.
///
/// # Errors
/// [`ShapeError`] for layers under 5 mm, or nothing left after levelling.
pub fn layers(ask: &LayersAsk) -> Result<Layers, ShapeError> {
    let cake = ask.cake.value() - ask.level.value();
    if cake <= 0.0 {
        return Err(ShapeError::new(
            format!(
                "{} off the top leaves nothing of a cake of {}",
                mm(ask.level.value()),
                mm(ask.cake.value())
            ),
            "cut off less",
        )
        .of("level"));
    }
    let n = f64::from(ask.layers.max(1));
    let split = cake / n;
    if split < 5.0 {
        return Err(ShapeError::new(
            format!(
                "{} layers of a cake of {} are {} thick",
                ask.layers,
                mm(cake),
                mm(split)
            ),
            "make fewer: a layer under 5 mm breaks",
        )
        .of("layers"));
    }
    let between = n - 1.0;
    let area = ask.across.area();
    let (thick, filling): (Spread<Length>, Spread<Mass>) = match ask.filling {
        Between::Thick(f) => (
            Spread::exact(f),
            Dough::new(None, ask.filling_density)
                .weight(Spread::exact(Ratio::new(area * f.value() * between))),
        ),
        Between::Weight(w) if between > 0.0 => (
            volume(Spread::exact(w), ask.filling_density).map(|v| v / (area * between)),
            Spread::exact(w),
        ),
        Between::Weight(_) => (Spread::exact(Length::of(0.0)), Spread::exact(Mass::of(0.0))),
    };
    let c = ask.coat.value();
    let stack = thick.map::<Length>(|f| cake + between * f);
    let wide = ask.across.wider(c).area();
    let coat_mm3 = |stack: f64| (wide - area) * stack + wide * c;
    let coat = stack.map::<Ratio>(coat_mm3);
    Ok(Layers {
        split: Length::millimetres(split),
        filling_thick: thick,
        filling,
        coat_volume: coat.likely().get() / 1000.0,
        coat: Dough::new(None, ask.coat_density).weight(coat),
        tall: stack.map(|s| s + c),
        board: ask.across.wider(c + ask.board.value()),
        ask: *ask,
    })
}

impl Layers {
    /// Everything said of it.
    #[must_use]
    pub fn shaped(&self) -> Shaped {
        let mut out = Shaped::new(Kind::Layers);
        let ask = &self.ask;
        out.put("tall", "Height in all", self.tall, Unit::Millimetres);
        out.exact(
            "split",
            "Each layer of cake",
            self.split.value(),
            Unit::Millimetres,
        );
        if ask.layers > 1 {
            out.put(
                "filling_thick",
                "Each filling",
                self.filling_thick,
                Unit::Millimetres,
            );
            out.put("filling", "Filling in all", self.filling, Unit::Grams);
            let each = 1.0 / f64::from(ask.layers - 1);
            out.put(
                "filling_each",
                "On each layer",
                self.filling.scaled(each),
                Unit::Grams,
            );
        }
        if ask.coat.value() > 0.0 {
            out.exact("coat_volume", "Coat", self.coat_volume, Unit::Millilitres);
            out.put("coat", "Coat weighs", self.coat, Unit::Grams);
        }
        let (a, b) = self.board.sides();
        out.exact("board", "Board", a, Unit::Millimetres);
        if (a - b).abs() > 0.05 {
            out.exact("board_other", "Board the other way", b, Unit::Millimetres);
        }
        if let Some(limit) = ask.tall {
            let (limit, high) = (limit.value(), self.tall);
            let over = high.likely().value() - limit;
            out.verdicts.push(if over > 0.05 {
                Verdict {
                    outcome: Outcome::Overflows,
                    words: format!("It stands {} above the {} there are.", mm(over), mm(limit)),
                }
            } else if high.high().value() > limit {
                Verdict {
                    outcome: Outcome::Touches,
                    words: format!(
                        "It just fits under {}; with a light filling it may stand above.",
                        mm(limit)
                    ),
                }
            } else {
                Verdict {
                    outcome: Outcome::Fits,
                    words: format!("It fits under {} with {} to spare.", mm(limit), mm(-over)),
                }
            });
        }
        out.notes.push("A cake's weight presses soft fillings thinner: leave a few millimetres of the edge bare.".to_owned());
        out.drawings.push(self.side());
        out
    }

    fn side(&self) -> Drawing {
        let ask = &self.ask;
        let a = ask.across.sides().0;
        let board = self.board.sides().0;
        let c = ask.coat.value();
        let tall = self.tall.likely().value();
        let under = 4.0;
        let mut d = Drawing::new("side", "The cake, cut through", board, tall + under);
        let x = (board - a) / 2.0;
        if c > 0.0 {
            d.rect(Look::Filling, x - c, 0.0, a + 2.0 * c, tall);
        }
        let (split, f) = (self.split.value(), self.filling_thick.likely().value());
        let mut y = c;
        for i in 0..ask.layers {
            d.rect(Look::Cake, x, y, a, split);
            y += split;
            if i + 1 < ask.layers && f > 0.0 {
                d.rect(Look::Filling, x, y, a, f);
                y += f;
            }
        }
        d.rect(Look::Board, 0.0, tall, board, under);
        d.side((board, 0.0), (board, tall), mm(tall));
        d.side((x, 0.0), (x + a, 0.0), mm(a));
        d.desc = format!(
            "{} layers of {}, with {} of filling between, {} high in all, on a board of {}.",
            ask.layers,
            mm(split),
            mm(f),
            mm(tall),
            mm(board)
        );
        d
    }
}
