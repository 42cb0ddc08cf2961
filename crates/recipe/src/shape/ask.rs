//! What is asked of a shape, in the baker's own words: a kind, and what was typed for each of its
//! fields.

use super::cutouts::{CutOutsAsk, Cutter, cut_outs};
use super::fit::{FitAsk, FitPan, Growing, Grows, Pieces, fit, fit_volume};
use super::kind::{CM, Entry, Kind, filling};
use super::lattice::{LatticeAsk, Strips, lattice};
use super::layers::{Between, LayersAsk, layers};
use super::practice::practice;
use super::rounds::{RingAsk, RingBy, RoundAsk, Share, ring, round, usual_growth};
use super::sheet::{SheetAsk, sheet};
use super::spiral::{Cut, Filling, RollAsk, roll};
use super::strands::{PlaitAsk, PlaitBy, plait};
use super::tin::{LiningAsk, Outline, Tin, lining};
use super::{Dough, ShapeError, Shaped, cautions, mm, typed};
use crate::density;
use crate::size::pan::{self, OwnPan};
use quantity::{Length, Mass, Quantity, Ratio, Spread};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// What is asked of a shape.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct ShapeAsk {
    /// The kind, by its key.
    pub shape: String,
    /// What was typed, by the field's key.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub says: BTreeMap<String, String>,
}

/// A hollow of a pan, inside; `None` where it has no measures.
pub(crate) fn tin_of(of: &pan::Pan) -> Option<Tin> {
    let rim = match of.outline {
        pan::Outline::Round { across } | pan::Outline::Ring { across, .. } => {
            Outline::Round(across)
        }
        pan::Outline::Oblong { long, wide } => Outline::Sides(long, wide),
        pan::Outline::Basin => return None,
    };
    let tin = match (rim, of.base) {
        (Outline::Round(_), Some(base)) => {
            Tin::sloped(Outline::Round(base), rim, of.depth?).ok()?
        }
        _ => Tin::straight(rim, of.depth?),
    };
    Some(of.tube().map_or(tin, |tube| tin.round_a_tube(tube)))
}

/// A pan's inside, what it holds, and how its words were read: as [`crate::size::pan::find`] reads it, the
/// one reader of pans.
pub(super) fn pan_of(text: &str, own: &[OwnPan]) -> Result<FitPan, ShapeError> {
    let found = pan::find(text, own).map_err(|e| {
        let words = e.to_string();
        match words.rsplit_once(": ") {
            Some((what, mend)) => ShapeError::new(what, mend),
            None => ShapeError::new(words, "give its inside measures, round 23x5cm or 30x20x5cm"),
        }
    })?;
    let Some(tin) = tin_of(&found) else {
        return Err(ShapeError::new(
            format!("the inside measures of '{}' are not known", found.name),
            "give a pan with a plain base, or measures: round 23x5cm or 30x20x5cm",
        ));
    };
    let tube = tin.tube;
    let hollow = if found.hollows > 1 {
        ", one hollow"
    } else {
        ""
    };
    Ok(FitPan {
        tin,
        holds: found.volume().scaled(1.0 / f64::from(found.hollows)),
        words: match tube {
            Some(tube) => format!(
                "{}, its tube taken as {} wide and upright, so that it holds that: measure yours",
                found.words(),
                mm(tube.as_millimetres())
            ),
            None => format!("{}{hollow}", found.words()),
        },
    })
}

impl ShapeAsk {
    /// A shape of which nothing is said.
    #[must_use]
    pub fn new(kind: Kind) -> Self {
        Self {
            shape: kind.key().to_owned(),
            says: BTreeMap::new(),
        }
    }
    /// Says a field.
    #[must_use]
    pub fn with(mut self, key: &str, text: &str) -> Self {
        self.says.insert(key.to_owned(), text.to_owned());
        self
    }
    /// What was typed in a field, where something was.
    #[must_use]
    pub fn says(&self, key: &str) -> Option<&str> {
        self.says
            .get(key)
            .map(|s| s.trim())
            .filter(|s| !s.is_empty())
    }
    /// The kind.
    ///
    /// # Errors
    /// [`ShapeError`] for a shape of a later program.
    pub fn kind(&self) -> Result<Kind, ShapeError> {
        Kind::from_key(&self.shape).ok_or_else(|| {
            let all: Vec<&str> = Kind::ALL.iter().map(|k| k.key()).collect();
            ShapeError::new(
                format!("no shape is called '{}'", self.shape),
                format!("the shapes are {}", all.join(", ")),
            )
        })
    }

    /// Works the shape out.
    ///
    /// # Inputs
    /// - `given`: the dough as the recipe makes it; a weight or density said in the ask goes
    ///   before it.
    ///
    /// # Errors
    /// [`ShapeError`]: what cannot be read, is missing, or cannot be made.
    ///
    /// # Example
    /// ```
    /// use recipe::shape::{Dough, Kind, ShapeAsk};
    /// let ask = ShapeAsk::new(Kind::Sheet)
    ///     .with("dough", "600 g")
    ///     .with("length", "40 cm")
    ///     .with("width", "30 cm")
    ///     .with("density", "1.1");
    /// let got = ask.shaped(&Dough::new(None, recipe::density::of_style(None).value))?;
    /// assert_eq!(got.measure("thick").map(|m| m.likely()).as_deref(), Some("4.5 mm"));
    /// # Ok::<(), recipe::shape::ShapeError>(())
    /// ```
    pub fn shaped(&self, given: &Dough) -> Result<Shaped, ShapeError> {
        self.shaped_in(given, &[])
    }

    /// The same in a kitchen with pans of its own, by their names.
    ///
    /// # Errors
    /// As [`ShapeAsk::shaped`].
    pub fn shaped_in(&self, given: &Dough, own: &[OwnPan]) -> Result<Shaped, ShapeError> {
        let kind = self.kind()?;
        for f in kind.fields() {
            if let Some(text) = self.says(f.key)
                && f.entry != Entry::Pan
            {
                f.check(text)?;
            }
        }
        let dough = Dough {
            grams: self.weight("dough")?.map(Spread::exact).or(given.grams),
            density: self.dense("density")?.unwrap_or(given.density),
            raised: given.raised,
            rising: given.rising,
        };
        let mut out = match kind {
            Kind::Sheet => sheet(&dough, &self.sheet()?)?.shaped(),
            Kind::Roll => self.roll(&dough, own)?,
            Kind::Plait => plait(&dough, &self.plait()?)?.shaped(),
            Kind::Round => round(&dough, &self.round()?)?.shaped(),
            Kind::Ring => ring(&dough, &self.ring()?)?.shaped(),
            Kind::Lattice => lattice(&dough, &self.lattice()?)?.shaped(),
            Kind::CutOuts => cut_outs(&dough, &self.cut_outs()?)?.shaped(),
            Kind::Lining => lining(&dough, &self.lining()?)?.shaped(),
            Kind::Layers => layers(&self.layers()?)?.shaped(),
            Kind::Fit => fit(&dough, &self.fit(&dough, own)?)?.shaped(),
        };
        cautions::add(self, dough.raised, &mut out);
        Ok(out)
    }

    fn wants(&self, key: &'static str) -> ShapeError {
        let f = self.kind().ok().and_then(|k| k.field(key));
        let (name, hint) = f.map_or((key, ""), |f| (f.name, f.hint));
        ShapeError::new(
            format!("{} is not known", name.to_lowercase()),
            format!("give it: {hint}"),
        )
        .of(key)
    }
    /// The length of a field, as the kind's table reads it.
    fn length(&self, key: &'static str) -> Result<Option<Length>, ShapeError> {
        let entry = self.kind()?.field(key).map(|f| f.entry);
        let of = |text: &str| match entry {
            Some(Entry::LengthOrNone(bare)) => typed::length_or_none(text, bare),
            Some(Entry::Length(bare)) => typed::length(text, bare),
            _ => typed::length(text, CM),
        };
        self.says(key).map(of).transpose().map_err(|e| e.of(key))
    }
    fn length_or(&self, key: &'static str, usual: f64) -> Result<Length, ShapeError> {
        Ok(self.length(key)?.unwrap_or(Length::of(usual)))
    }
    fn sides(&self, key: &'static str) -> Result<Option<Vec<Length>>, ShapeError> {
        let sides = self.says(key).map(|t| typed::sides(t, CM));
        sides.transpose().map_err(|e| e.of(key))
    }
    fn outline(&self, key: &'static str) -> Result<Option<Outline>, ShapeError> {
        let sides = self.sides(key)?;
        sides
            .map(|s| Outline::of(&s))
            .transpose()
            .map_err(|e| e.of(key))
    }
    fn weight(&self, key: &'static str) -> Result<Option<Mass>, ShapeError> {
        let read = self.says(key).map(typed::grams).transpose();
        read.map_err(|e| e.of(key))
    }
    fn dense(&self, key: &'static str) -> Result<Option<Spread<Ratio>>, ShapeError> {
        let read = self.says(key).map(typed::density).transpose();
        read.map_err(|e| e.of(key))
    }
    fn grown(&self, key: &'static str) -> Result<Option<Spread<Ratio>>, ShapeError> {
        let read = self.says(key).map(typed::growth).transpose();
        read.map_err(|e| e.of(key))
    }
    fn whole(&self, key: &'static str) -> Result<Option<u32>, ShapeError> {
        let Some(Entry::Count(least, most)) = self.kind()?.field(key).map(|f| f.entry) else {
            return Ok(None);
        };
        let read = self.says(key).map(|t| typed::count(t, least, most));
        read.transpose().map_err(|e| e.of(key))
    }
    fn one_of<T>(
        &self,
        a: (&'static str, Option<T>),
        b: (&'static str, Option<T>),
    ) -> Result<Option<T>, ShapeError> {
        match (a.1, b.1) {
            (Some(_), Some(_)) => Err(ShapeError::new(
                format!("both {} and {} are given", a.0, b.0),
                "one follows from the other: leave one empty",
            )
            .of(b.0)),
            (one, other) => Ok(one.or(other)),
        }
    }

    fn sheet(&self) -> Result<SheetAsk, ShapeError> {
        Ok(SheetAsk {
            length: self.length("length")?,
            width: self.length("width")?,
            thick: self.length("thick")?,
        })
    }
    fn fill_density(&self) -> Result<Spread<Ratio>, ShapeError> {
        let usual = density::named("filling").map(|d| d.value);
        let usual = usual.unwrap_or(Spread::exact(Ratio::new(1.1)));
        Ok(self.dense("filling-density")?.unwrap_or(usual))
    }
    fn roll(&self, dough: &Dough, own: &[OwnPan]) -> Result<Shaped, ShapeError> {
        let filled = match self.says("filling") {
            Some(text) => filling(text).map_err(|e| e.of("filling"))?,
            None => Filling::None,
        };
        let margin = match (filled, self.length("margin")?) {
            (_, Some(m)) => m,
            (Filling::None, None) => Length::of(0.0),
            (_, None) => Length::of(practice("margin").value.likely().get()),
        };
        let slices = self.whole("slices")?.map(Cut::Slices);
        let wide = self.length("slice")?.map(Cut::Wide);
        let ask = RollAsk {
            sheet: self.sheet()?,
            filling: filled,
            filling_density: self.fill_density()?,
            margin,
            trim: self.length_or("trim", 0.0)?,
            core: self.length_or("core", 0.0)?,
            cut: self
                .one_of(("slices", slices), ("slice", wide))?
                .unwrap_or(Cut::Whole),
        };
        let made = roll(dough, &ask)?;
        let mut out = made.shaped();
        if let Some(pan) = self.pan(own)? {
            if ask.cut == Cut::Whole && pan.tin.tube.is_some() {
                let growing = self.growing(dough)?;
                let log = made.log();
                let ask = FitAsk {
                    pan,
                    pieces: None,
                    growing,
                };
                fit_volume(log, &ask).put(&mut out);
                return Ok(out);
            }
            if ask.cut == Cut::Whole {
                return Err(ShapeError::new(
                    "how many slices go into the pan is not known",
                    "give slices or the width of one",
                )
                .of("slices"));
            }
            let fit = fit(
                dough,
                &FitAsk {
                    pan,
                    pieces: Some(Pieces {
                        count: made.slices,
                        across: made.across,
                        high: made.slice_wide,
                        full: 1.0,
                    }),
                    growing: self.growing(dough)?,
                },
            )?;
            fit.put(&mut out);
        }
        Ok(out)
    }
    fn growing(&self, dough: &Dough) -> Result<Growing, ShapeError> {
        let raised = dough.raised;
        let usual = Growing::usual(raised).of_share(dough.rising);
        Ok(Growing {
            proof: self.grown("growth")?.unwrap_or(usual.proof),
            spring: self.grown("spring")?.unwrap_or(usual.spring),
            raised,
            grows: match self.says("grows") {
                Some("all") => Grows::AllSides,
                _ => Grows::Wider,
            },
        })
    }
    fn pan(&self, own: &[OwnPan]) -> Result<Option<FitPan>, ShapeError> {
        let Some(text) = self.says("pan") else {
            return Ok(None);
        };
        let pan = pan_of(text, own).map_err(|e| e.of("pan"))?;
        match self.outline("top")? {
            Some(_) if pan.tin.tube.is_some() => Err(ShapeError::new(
                "a ring tin is taken with upright walls",
                "leave the rim out",
            )
            .of("top")),
            Some(rim) => {
                Tin::sloped(pan.tin.base, rim, pan.tin.deep).map(|tin| Some(FitPan::of(tin)))
            }
            None => Ok(Some(pan)),
        }
    }
    fn plait(&self) -> Result<PlaitAsk, ShapeError> {
        let strand = self.length("strand")?.map(PlaitBy::Strand);
        let finished = self.length("finished")?.map(PlaitBy::Finished);
        let crossing = self
            .says("crossing")
            .map(|t| typed::number(t, 5.0, 60.0))
            .transpose()
            .map_err(|e| e.of("crossing"))?;
        Ok(PlaitAsk {
            strands: self.whole("strands")?.unwrap_or(3),
            by: self
                .one_of(("strand", strand), ("finished", finished))?
                .ok_or_else(|| self.wants("strand"))?,
            crossing,
        })
    }
    fn share(&self) -> Result<Share, ShapeError> {
        Ok(Share {
            pieces: self.whole("pieces")?,
            each: self.weight("each")?,
        })
    }
    fn round(&self) -> Result<RoundAsk, ShapeError> {
        Ok(RoundAsk {
            share: self.share()?,
            thick: self.length("thick")?,
            across: self.length("across")?,
            growth: self.grown("growth")?.unwrap_or(usual_growth()),
        })
    }
    fn ring(&self) -> Result<RingAsk, ShapeError> {
        let outer = self.length("outer")?.map(RingBy::Outer);
        let hole = self.length("hole")?.map(RingBy::Hole);
        let strand = self.length("strand")?.map(RingBy::Strand);
        let first = self.one_of(("outer", outer), ("hole", hole))?;
        Ok(RingAsk {
            share: self.share()?,
            by: self
                .one_of(("across or the hole", first), ("strand", strand))?
                .ok_or_else(|| self.wants("outer"))?,
            growth: self.grown("growth")?.unwrap_or(usual_growth()),
        })
    }
    fn lattice(&self) -> Result<LatticeAsk, ShapeError> {
        let strip = self.length("strip")?.ok_or_else(|| self.wants("strip"))?;
        let count = self.whole("strips")?.map(Strips::Count);
        let gap = self.length("gap")?.map(Strips::Gap);
        Ok(LatticeAsk {
            over: self.outline("over")?.ok_or_else(|| self.wants("over"))?,
            strip,
            strips: self
                .one_of(("strips", count), ("gap", gap))?
                .unwrap_or(Strips::Gap(strip)),
            thick: self.length("thick")?,
            overhang: self.length_or("overhang", 0.0)?,
        })
    }
    fn cut_outs(&self) -> Result<CutOutsAsk, ShapeError> {
        let cutter = match self
            .outline("cutter")?
            .ok_or_else(|| self.wants("cutter"))?
        {
            Outline::Round(d) => Cutter::Round(d),
            Outline::Sides(a, b) => Cutter::Sides(a, b),
        };
        let lost = self.says("lost").map(|t| typed::number(t, 0.0, 90.0));
        let lost = lost.transpose().map_err(|e| e.of("lost"))?;
        Ok(CutOutsAsk {
            sheet: self.sheet()?,
            cutter,
            gap: self.length_or("gap", 2.0)?,
            rounds: self.whole("rounds")?.unwrap_or(2),
            lost: lost.unwrap_or(practice("lost").value.likely().get()),
        })
    }
    fn lining(&self) -> Result<LiningAsk, ShapeError> {
        let base = self.outline("base")?.ok_or_else(|| self.wants("base"))?;
        let deep = self.length("deep")?.ok_or_else(|| self.wants("deep"))?;
        let usual = |key: &str| practice(key).value.likely().get();
        Ok(LiningAsk {
            tin: match self.outline("top")? {
                Some(rim) => Tin::sloped(base, rim, deep)?,
                None => Tin::straight(base, deep),
            },
            thick: self.length("thick")?,
            overhang: self.length_or("overhang", usual("overhang"))?,
            overlap: self.length_or("overlap", usual("overlap"))?,
            above: self.length_or("above", usual("above"))?,
        })
    }
    fn layers(&self) -> Result<LayersAsk, ShapeError> {
        let filling_density = self.fill_density()?;
        let filling = match self.says("filling").map(filling).transpose() {
            Ok(None) => Between::Thick(Length::of(0.0)),
            Ok(Some(Filling::Weight(w))) => Between::Weight(w),
            Ok(Some(Filling::Thick(t))) => Between::Thick(t),
            // g/cm² over g/mL is cm.
            Ok(Some(Filling::OnArea(on))) => {
                Between::Thick(Length::of(10.0 * on / filling_density.likely().get()))
            }
            Ok(Some(Filling::None)) => Between::Thick(Length::of(0.0)),
            Err(e) => return Err(e.of("filling")),
        };
        Ok(LayersAsk {
            across: self
                .outline("across")?
                .ok_or_else(|| self.wants("across"))?,
            cake: self.length("cake")?.ok_or_else(|| self.wants("cake"))?,
            level: self.length_or("level", 0.0)?,
            layers: self.whole("layers")?.unwrap_or(2),
            filling,
            filling_density,
            coat: self.length_or("coat", 0.0)?,
            coat_density: self.dense("coat-density")?.unwrap_or(filling_density),
            tall: self.length("tall")?,
            board: self.length_or("board", practice("board").value.likely().get())?,
        })
    }
    fn fit(&self, dough: &Dough, own: &[OwnPan]) -> Result<FitAsk, ShapeError> {
        let pan = self.pan(own)?.ok_or_else(|| self.wants("pan"))?;
        let (across, high) = (self.length("across")?, self.length("high")?);
        let pieces = match self.whole("pieces")? {
            None => None,
            Some(count) => {
                let share = |thick, across| {
                    round(
                        dough,
                        &RoundAsk {
                            share: Share {
                                pieces: Some(count),
                                each: None,
                            },
                            thick,
                            across,
                            growth: usual_growth(),
                        },
                    )
                };
                Some(match (across, high) {
                    (Some(d), Some(h)) => Pieces {
                        count,
                        across: Spread::exact(d),
                        high: Spread::exact(h),
                        full: 1.0,
                    },
                    (d, h) => {
                        let r = share(h, d)?;
                        Pieces {
                            count,
                            across: r.across,
                            high: r.high,
                            full: if r.ball { 2.0 / 3.0 } else { 1.0 },
                        }
                    }
                })
            }
        };
        Ok(FitAsk {
            pan,
            pieces,
            growing: self.growing(dough)?,
        })
    }
}
