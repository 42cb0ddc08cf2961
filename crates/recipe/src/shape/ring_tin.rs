//! A roll or strand of dough laid round the tube of a ring tin, its ends joined.

use super::drawing::{Drawing, Look, Mark};
use super::fit::Growing;
use super::tin::Tin;
use super::{Outcome, Shaped, Unit, Verdict, ends, mm, three};
use quantity::{Length, Quantity, Ratio, Spread};
use std::f64::consts::{PI, TAU};

/// A roll laid as a ring.
#[derive(Debug, Clone, PartialEq)]
pub struct Laid {
    /// The line midway between tube and wall: how long the roll is to be.
    pub long: Length,
    /// How thick the roll then is.
    pub thick: Spread<Length>,
    /// How thick it comes to be proofed, where it touches nothing.
    pub risen: Spread<Length>,
    /// The width between tube and wall.
    pub channel: Length,
}

/// Lays a volume of dough round the tube of a ring tin; `None` for a tin without a tube.
///
/// # Inputs
/// - `volume`: mm³, above 0.
///
/// # Formula
/// A ring of round cross-section holds 2 π R · π d² / 4, R to the middle of the strand. Growing by a
/// factor x of its volume, its middle line held, it is √x thicker.
///
/// # Source
/// The second theorem of Pappus; growth as [`Growing`] has it.
#[must_use]
pub fn laid_round(volume: Spread<Ratio>, tin: &Tin, growing: &Growing) -> Option<Laid> {
    let (channel, radius) = tin.channel()?;
    let long = TAU * radius;
    let thick = ends(volume).map(|v| (4.0 * v / (PI * long)).sqrt());
    let x = ends(growing.proof);
    Some(Laid {
        long: Length::millimetres(long),
        thick: three(thick),
        risen: three([0, 1, 2].map(|i| thick[i] * x[i].sqrt())),
        channel: Length::millimetres(channel),
    })
}

impl Laid {
    /// Its measures and what is to be said of it.
    pub(crate) fn put(&self, out: &mut Shaped) {
        out.exact(
            "ring_long",
            "Roll round the tube, long",
            self.long.value(),
            Unit::Millimetres,
        );
        out.put("ring_thick", "Roll thick", self.thick, Unit::Millimetres);
        out.put(
            "ring_risen",
            "Roll thick, proofed",
            self.risen,
            Unit::Millimetres,
        );
        out.exact(
            "channel",
            "Between tube and wall",
            self.channel.value(),
            Unit::Millimetres,
        );
        out.verdicts.push(self.verdict());
    }

    fn verdict(&self) -> Verdict {
        let (room, laid) = (self.channel.value(), self.thick.likely().value());
        let [low, likely, high] = ends(self.risen);
        let touches = |words: String| Verdict {
            outcome: Outcome::Touches,
            words,
        };
        let gap = |d: f64| mm((room - d) / 2.0);
        if laid > room {
            touches(format!(
                "As a roll {} long it is {} thick, more than the {} between tube and wall: it is pressed in.",
                mm(self.long.value()),
                mm(laid),
                mm(room)
            ))
        } else if likely >= room {
            let sure = if low >= room {
                "touches"
            } else {
                "most likely touches"
            };
            touches(format!(
                "As a roll {} long, its ends joined, it lies {} from tube and wall and {sure} both when proofed: then it only rises.",
                mm(self.long.value()),
                gap(laid)
            ))
        } else if high >= room {
            touches(format!(
                "As a roll {} long, its ends joined, it touches tube and wall only where it grows most; else {} are left on either side.",
                mm(self.long.value()),
                gap(likely)
            ))
        } else {
            Verdict {
                outcome: Outcome::Fits,
                words: format!(
                    "As a roll {} long, its ends joined, it is {} thick proofed and does not touch: {} are left on either side.",
                    mm(self.long.value()),
                    mm(likely),
                    gap(likely)
                ),
            }
        }
    }

    /// The tin from above with the roll in it.
    pub(crate) fn above(&self, tin: &Tin) -> Drawing {
        let across = tin.rim.sides().0;
        let middle = across / 2.0;
        let mut d = Drawing::new("above", "The ring tin, from above", across, across);
        d.circle(Look::Pan, (middle, middle), middle);
        let room = self.channel.value();
        let radius = self.long.value() / TAU;
        let band = |wide: f64, look| Mark::Band {
            points: (0..=73)
                .map(|i| (PI * f64::from(i) / 36.0).sin_cos())
                .map(|(s, k)| (middle + radius * k, middle + radius * s))
                .collect(),
            wide,
            look,
        };
        let (laid, risen) = (self.thick.likely().value(), self.risen.likely().value());
        for half in [-0.5, 0.5] {
            d.circle(
                Look::Risen,
                (middle, middle),
                radius + half * risen.min(room),
            );
        }
        d.marks.push(band(laid.min(room), Look::Dough));
        d.circle(Look::Pan, (middle, middle), radius - room / 2.0);
        d.side((0.0, 0.0), (across, 0.0), mm(across));
        d.desc = format!(
            "A roll {} thick lies round the tube of a ring tin {} across; proofed it is {} thick. Between tube and wall are {}.",
            mm(laid),
            mm(across),
            mm(risen.min(room)),
            mm(room)
        );
        d
    }
}
