//! From the figure that is asked for to times the recipe.

use super::ask::{Pans, Pieces, Target, likely, plain};
use super::error::{SizeError, check_factor, positive, whole};
use super::flow::Flow;
use super::limit::{AtHand, limited};
use super::pan::{Basis, Pan};
use crate::household::{percent, scale_grams};
use crate::rework::{Kept, Panful, Rework, ReworkedComponent};
use crate::shape::{THICKEST, THINNEST};
use larder::Larder;
use quantity::{Mass, Ratio, Spread};
use std::cell::OnceCell;

/// What stays in the bowl and on hands, of a dough that is divided: 2 % on top (R18.2 of the
/// project's rules: common practice, no source).
pub const BOWL: f64 = 1.02;
/// Pieces that a batch's dough is divided into.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PieceCount {
    /// How many.
    pub count: f64,
    /// The weight of each on the bench.
    pub each: Mass,
    /// The weight of each out of the oven, where the style's loss is known.
    pub baked: Option<Spread<Mass>>,
    /// Dough over after them.
    pub over: Mass,
    /// With the other parts that go into each, where there are any and all have a weight.
    pub whole: Option<WholePiece>,
}

/// A piece with its filling, topping and what else the recipe has parts for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WholePiece {
    /// On the bench.
    pub raw: Spread<Mass>,
    /// Out of the oven, the parts together: what is baked with the dough loses what that loses, an icing
    /// and what is known of no loss are taken as they are.
    pub baked: Option<Spread<Mass>>,
}

/// Pans that a batch fills.
#[derive(Debug, Clone, PartialEq)]
pub struct Filled {
    /// The pan.
    pub pan: Pan,
    /// How many of it.
    pub count: u32,
    /// All that goes into them: the part that is sized, with the filling in it and the crumbs on it.
    pub grams: Mass,
    /// Its parts in words: `dough and date filling`.
    pub what: String,
    /// Grams that suit all of them.
    pub suits: Spread<Mass>,
    /// Share of their volume that is filled, where the density is known: low–likely–high by the
    /// doubt of the volume.
    pub fill: Spread<Ratio>,
    /// How deep it stands in them, mm, where they have measures: as much of their depth as is filled, more
    /// where they slope.
    pub depth: Option<f64>,
    /// That over the depth in the pan it comes from.
    pub depth_change: Option<f64>,
}

impl Filled {
    /// What goes into each of them.
    #[must_use]
    pub fn each(&self) -> Mass {
        self.grams * (1.0 / f64::from(self.count.max(1)))
    }
}

/// Times the recipe, and what else was found on the way.
#[derive(Debug, Clone, Default)]
pub(super) struct Found {
    pub(super) times: f64,
    /// The times between which the figure's own doubt leaves it.
    pub(super) range: Option<(f64, f64)>,
    pub(super) sums: Vec<String>,
    pub(super) pans: Option<PansToFill>,
    pub(super) at_hand: Vec<AtHand>,
    pub(super) divided: Option<Pieces>,
}

/// Pans that are to be filled.
#[derive(Debug, Clone)]
pub(super) struct PansToFill {
    pan: Pan,
    count: u32,
    suits: Spread<Mass>,
    depth_change: Option<f64>,
}

/// Density of a component, g/mL.
fn density(c: &ReworkedComponent) -> Spread<Ratio> {
    crate::density::of_style(c.style.map(|s| s.style)).value
}

/// What a component loses in the oven, of 1.
pub(super) fn bake_loss(c: &ReworkedComponent) -> Option<Spread<Ratio>> {
    let style = c.style.filter(|s| s.style.is_baked())?.style;
    Some(style.range("bake_loss")?.value.scaled(0.01))
}

fn is_yeast_dough(c: &ReworkedComponent) -> bool {
    c.style.is_some_and(|s| s.style.is_yeast_dough())
}

fn g(grams: f64) -> String {
    scale_grams(Mass::grams(grams), false)
}

/// How many a recipe says it makes: the count, and whether it is of servings.
pub(super) fn makes(rework: &Rework) -> Option<(f64, f64, bool)> {
    let said = rework.formula.recipe.makes.as_ref()?;
    let (low, high) = said.count?;
    // 'Makes 15 rolls. Serves 8': the count is that of the first.
    let first = sentences(&said.text).find(|s| counts(s));
    let servings = of_servings(first.unwrap_or(&said.text));
    (low > 0.0 && high >= low).then_some((low, high, servings))
}

fn of_servings(text: &str) -> bool {
    let text = text.to_lowercase();
    let words = ["serv", "portion", "people", "person"];
    words.iter().any(|w| text.contains(w))
}

/// Sentences and clauses; the point of '1.5' ends none.
fn sentences(text: &str) -> impl Iterator<Item = &str> {
    text.split(". ").flat_map(|s| s.split([';', ',']))
}

fn counts(text: &str) -> bool {
    crate::read::count_in(text).is_some()
}

/// How many a recipe says it serves, low and high, beside what it says it makes: in the same line
/// or in a line of its own, which the reader keeps as a remark.
pub(super) fn serves(rework: &Rework) -> Option<(f64, f64)> {
    let recipe = &rework.formula.recipe;
    let makes = recipe.makes.iter().flat_map(|m| sentences(&m.text));
    let notes = recipe.notes.iter().map(String::as_str).filter(|n| {
        let lower = n.trim().to_lowercase();
        lower.starts_with("serves") || lower.starts_with("servings")
    });
    let mut all = makes.chain(notes).filter(|s| of_servings(s));
    let (low, high) = all.find_map(crate::read::count_in)?;
    (low > 0.0 && high >= low).then_some((low, high))
}

pub(super) struct Aim<'a> {
    pub(super) rework: &'a Rework,
    pub(super) larder: &'a Larder,
    pub(super) flow: &'a Flow<'a>,
    /// What goes into a pan with the part, of what is made, once it is asked for.
    panful: OnceCell<Panful>,
}

impl<'a> Aim<'a> {
    pub(super) fn of(rework: &'a Rework, larder: &'a Larder, flow: &'a Flow<'a>) -> Self {
        Self {
            rework,
            larder,
            flow,
            panful: OnceCell::new(),
        }
    }

    /// What goes into a pan with the part.
    fn panful(&self) -> &Panful {
        self.panful.get_or_init(|| {
            let factors = self.flow.factors(1.0);
            let mut panful = self.rework.panful(self.flow.part).clone();
            // The part asked about stays, though none of it is made: that is refused where it is solved.
            let made = |c: &usize| *c == self.flow.part || factors[*c] > 0.0;
            panful.parts.retain(made);
            panful
        })
    }

    fn part(&self) -> &ReworkedComponent {
        &self.rework.components[self.flow.part]
    }

    fn name(&self) -> &str {
        match self.part().name.as_str() {
            "" => "mixture",
            name => name,
        }
    }

    /// Whether the part lines a tin.
    fn lines(&self) -> bool {
        self.rework.lines_a_tin(self.flow.part)
    }

    /// What goes into the tin with a part that lines it; `None` where that is not known, and of other parts.
    fn round(&self) -> Option<&Panful> {
        let round = self.rework.panful_round(self.flow.part);
        let filled = self.lines() && round.set && self.flow.factors(1.0)[round.parts[0]] > 0.0;
        filled.then_some(round)
    }

    pub(super) fn find(&self, target: &Target) -> Result<Found, SizeError> {
        let mut found = match target {
            Target::Times(times) => {
                check_factor(*times)?;
                Found {
                    times: *times,
                    ..Found::default()
                }
            }
            Target::Pieces(pieces) => self.pieces(pieces)?,
            Target::Servings(n) => self.servings(positive("number of servings", *n, "8")?)?,
            Target::Makes(grams) => self.makes(positive("weight", *grams, "900 g")?)?,
            Target::Flour(grams) => self.flour(positive("weight of flour", *grams, "400 g")?)?,
            Target::Line { line, grams } => {
                self.line(line, positive("weight of a line", *grams, "210 g")?)?
            }
            Target::Pan(pans) => in_hollows(self.pan(pans)?),
            Target::FromPan {
                from,
                to,
                keep_depth,
            } => in_hollows(self.between_pans(from, to, *keep_depth)?),
            Target::Sheet {
                long, wide, thick, ..
            } => self.sheet(*long, *wide, *thick)?,
            Target::Have(have) => {
                let (times, at_hand) = limited(have, self.flow, self.rework, self.larder)?;
                let first = at_hand.iter().find(|h| h.limits);
                let sums = first.map(|h| {
                    format!(
                        "{} runs out first: {} g of it make × {}",
                        h.name,
                        g(h.have.as_grams()),
                        plain(times)
                    )
                });
                Found {
                    times,
                    sums: sums.into_iter().collect(),
                    at_hand,
                    ..Found::default()
                }
            }
        };
        check_factor(found.times)?;
        if let Some((low, high)) = found.range {
            let (low, high) = (low.min(found.times), high.max(found.times));
            // Equal ends are one figure.
            found.range = (plain(low) != plain(high)).then_some((low, high));
        }
        Ok(found)
    }

    /// Times at which the part makes so many grams.
    fn to_make(&self, grams: f64) -> Result<f64, SizeError> {
        let makes = likely(self.part().makes);
        let weights = self.flow.only_of(self.flow.part, makes);
        self.flow.solve(&weights, grams, "weight")
    }

    fn makes(&self, grams: f64) -> Result<Found, SizeError> {
        let times = self.to_make(grams)?;
        Ok(Found {
            times,
            sums: vec![self.over(grams, likely(self.part().makes), self.name(), times)],
            ..Found::default()
        })
    }

    /// `734 g ÷ 1021 g of dough = × 0.72`, where the factor is that quotient.
    fn over(&self, wanted: f64, one: f64, what: &str, times: f64) -> String {
        format!(
            "{} g ÷ {} g of {what} in the recipe = × {}",
            g(wanted),
            g(one),
            plain(times)
        )
    }

    fn flour(&self, grams: f64) -> Result<Found, SizeError> {
        let flour = likely(self.part().reworked.flour);
        let weights = self.flow.only_of(self.flow.part, flour);
        let times = self.flow.solve(&weights, grams, "flour")?;
        Ok(Found {
            times,
            sums: vec![self.over(grams, flour, "flour", times)],
            ..Found::default()
        })
    }

    fn line(&self, key: &str, grams: f64) -> Result<Found, SizeError> {
        let part = self.part();
        let lines = || part.lines.iter().filter(|l| l.kept != Kept::Dropped);
        let line = lines()
            .find(|l| l.key == key)
            .ok_or_else(|| SizeError::NoLine {
                what: key.replace('_', " "),
                near: lines().map(|l| l.name.clone()).collect(),
            })?;
        let one = line.grams.map_or(0.0, likely);
        let weights = self.flow.only_of(self.flow.part, one);
        let times = self
            .flow
            .solve(&weights, grams, "weighed line of that name")?;
        Ok(Found {
            times,
            sums: vec![self.over(grams, one, &line.name, times)],
            ..Found::default()
        })
    }

    fn servings(&self, n: f64) -> Result<Found, SizeError> {
        if let Some((low, high)) = serves(self.rework) {
            return Ok(counted(n, low, high));
        }
        let (low, high, servings) =
            makes(self.rework).ok_or(SizeError::NoCount { what: "servings" })?;
        let mid = f64::midpoint(low, high);
        let mut found = counted(n, low, high);
        if !servings {
            found.sums.push(format!(
                "the recipe says what it makes, {}, not whom it serves: one of them is taken as a serving",
                plain(mid)
            ));
        }
        Ok(found)
    }

    /// Grams of the part that pieces are made of, at one time the recipe: all of it, or what another
    /// part takes of it.
    fn divided(&self) -> f64 {
        let all = likely(self.part().makes);
        match self.part().used {
            Some(used) if !self.flow.is_enough() => likely(used).min(all),
            _ => all,
        }
    }

    fn pieces(&self, pieces: &Pieces) -> Result<Found, SizeError> {
        let count = |n| whole("number of pieces", n, "12, and 1 at least");
        let each = match pieces.each {
            Some(each) => Some(positive("weight of a piece", each, "60 g")?),
            None => None,
        };
        let raw = match each {
            Some(each) if pieces.baked => {
                let loss = bake_loss(self.part()).ok_or_else(|| SizeError::NoBakeLoss {
                    part: self.part().name.clone(),
                })?;
                Some(each / (1.0 - likely(loss)))
            }
            each => each,
        };
        let dough = self.divided();
        let mut found = match (pieces.count, raw) {
            (Some(n), Some(raw)) => {
                let need = count(n)? * raw * BOWL;
                let weights = self.flow.only_of(self.flow.part, dough);
                let times = self.flow.solve(&weights, need, "weight")?;
                let mut sums = Vec::new();
                if let (true, Some(each)) = (pieces.baked, each) {
                    sums.push(format!(
                        "{} g baked ÷ (1 − {} lost in the oven) = {} g on the bench",
                        g(each),
                        percent(100.0 * (1.0 - each / raw)),
                        g(raw)
                    ));
                }
                sums.push(format!(
                    "{} × {} g × {BOWL} (2 % stays in the bowl) = {} g of {}",
                    plain(n),
                    g(raw),
                    g(need),
                    self.name()
                ));
                sums.push(self.over(need, dough, self.name(), times));
                Found {
                    times,
                    sums,
                    ..Found::default()
                }
            }
            (Some(n), None) => {
                let (low, high, _) =
                    makes(self.rework).ok_or(SizeError::NoCount { what: "pieces" })?;
                counted(count(n)?, low, high)
            }
            (None, Some(raw)) => {
                if raw * BOWL > dough {
                    return Err(if dough > 0.0 {
                        SizeError::PieceTooHeavy { each: raw, dough }
                    } else {
                        SizeError::Without {
                            part: self.part().name.clone(),
                            what: "weight",
                        }
                    });
                }
                let n = (dough / (raw * BOWL) + 1e-9).floor();
                Found {
                    times: 1.0,
                    sums: vec![format!(
                        "{} g of {} ÷ ({} g × {BOWL}) = {} pieces",
                        g(dough),
                        self.name(),
                        g(raw),
                        plain(n)
                    )],
                    ..Found::default()
                }
            }
            (None, None) => {
                return Err(SizeError::Figure {
                    what: "number or weight of pieces",
                    value: 0.0,
                    such_as: "12, or 60 g each",
                });
            }
        };
        found.divided = Some(Pieces {
            each: raw,
            baked: false,
            ..*pieces
        });
        Ok(found)
    }

    /// What goes into so many pans at so many times the recipe.
    pub(super) fn filled(&self, into: PansToFill, times: f64) -> Filled {
        let factors = self.flow.factors(times);
        let mut panful = self.round().unwrap_or(self.panful()).clone();
        let first = panful.parts[0];
        panful.parts.retain(|c| *c == first || factors[*c] > 0.0);
        let density = likely(panful.density(self.rework, &factors));
        let once = panful.grams(self.rework);
        let grams: f64 = once.iter().zip(&factors).map(|(g, f)| g * f).sum();
        let count = f64::from(into.count);
        let volume = into.pan.volume();
        let fill = |v: quantity::Volume| Ratio::new(grams / (density * v.as_millilitres() * count));
        Filled {
            count: into.count,
            grams: Mass::grams(grams),
            what: panful.words(self.rework),
            suits: into.suits,
            fill: Spread::new(
                fill(volume.high()),
                fill(volume.likely()),
                fill(volume.low()),
            ),
            depth: into.pan.height_of(fill(volume.likely()).get()),
            depth_change: into.depth_change,
            pan: into.pan,
        }
    }

    /// Times at which so many grams go into a pan.
    fn to_fill(&self, grams: f64) -> Result<f64, SizeError> {
        self.flow
            .solve(&self.panful().grams(self.rework), grams, "weight")
    }

    fn checked(pans: &Pans) -> Result<Pan, SizeError> {
        positive("number of pans", f64::from(pans.count), "2")?;
        let pan = pans.pan()?;
        if let Some(fill) = pans.fill {
            positive("share of a pan", fill, "55 %")?;
            if fill > 1.0 {
                return Err(SizeError::Overfull {
                    fill,
                    pan: pan.words(),
                });
            }
        }
        Ok(pan)
    }

    fn pan(&self, pans: &Pans) -> Result<Found, SizeError> {
        let pan = Self::checked(pans)?;
        let part = self.part();
        if self.lines() && pans.fill.is_none() {
            // From the tin that the method lines with it, where its depth is no guess of ours or is that of
            // the new one.
            let round = self.rework.panful_round(self.flow.part);
            let known = round.said.as_ref().is_some_and(|s| s.depth.is_known());
            let Some((own, n)) = round
                .own()
                .filter(|(own, _)| known || own.depth == pan.depth)
            else {
                return Err(SizeError::Lined { pan: pan.words() });
            };
            let mut found = self.between_pans(&Pans::plain(own, n), pans, false)?;
            let assumed = round.said.as_ref().and_then(|s| s.depth.assumed());
            let assumed = assumed.map_or(String::new(), |a| format!(": {a}"));
            let words = format!(
                "from the tin that the method names, {}{assumed}",
                own.called()
            );
            found.sums.insert(0, words);
            return Ok(found);
        }
        let panful = self.panful();
        let name = panful.words(self.rework);
        let density = panful.density(self.rework, &self.flow.factors(1.0));
        let volume = likely(pan.volume());
        let count = f64::from(pans.count);
        let yeast = is_yeast_dough(part);
        let (suits, how) = match pans.fill {
            Some(fill) => {
                let grams = density.scaled(volume * fill * count);
                let how = format!(
                    "{volume:.0} mL × {} × {:.2} g/mL",
                    percent(100.0 * fill),
                    likely(density)
                );
                (grams.map(|g| g), how)
            }
            None => {
                let suits = pan.takes(yeast, density).scaled(count);
                let how = if yeast {
                    format!(
                        "{volume:.0} mL × {:.3} g of yeast dough to the mL",
                        likely(suits) / count / volume
                    )
                } else {
                    format!(
                        "{volume:.0} mL × {} filled × {:.2} g/mL",
                        percent(100.0 * likely(pan.fill)),
                        likely(density)
                    )
                };
                (suits, how)
            }
        };
        let suits = with_volume(suits, &pan);
        let into = |pan| PansToFill {
            pan,
            count: pans.count,
            suits,
            depth_change: None,
        };
        let once = panful.grams(self.rework);
        let one: f64 = once.iter().sum();
        if let Some((own, n)) = panful.own()
            && pans.fill.is_none()
            && own.is_as(&pan)
        {
            let per = count / f64::from(n);
            let of = panful.of_own(self.rework, suits.high().as_grams() / per);
            let mut sums = vec![format!(
                "the recipe's own pan, with {} g of {name} in the recipe: × {}",
                g(one),
                plain(per)
            )];
            if of < 1.0 {
                sums.push(format!(
                    "more than the original's {} g, and more than suits the pan: × {}",
                    g(panful.before(self.rework)),
                    plain(of)
                ));
            }
            return Ok(Found {
                times: per * of,
                sums,
                pans: Some(into(pan)),
                ..Found::default()
            });
        }
        if let Some((own, n)) = panful.own().filter(|_| panful.set && pans.fill.is_none()) {
            let mut found = self.between_pans(&Pans::plain(own, n), pans, false)?;
            let words = format!(
                "from the recipe's own pan, {}, with {} g of {name}",
                own.called(),
                g(one)
            );
            found.sums.insert(0, words);
            return Ok(found);
        }
        let grams = likely(suits);
        let times = self.to_fill(grams)?;
        let range = (
            self.to_fill(suits.low().as_grams())?,
            self.to_fill(suits.high().as_grams())?,
        );
        let many = if pans.count == 1 {
            String::new()
        } else {
            format!("{} × ", pans.count)
        };
        Ok(Found {
            times,
            range: Some(range),
            sums: vec![
                format!("{many}{how} = {} g of {name}", g(grams)),
                self.over(grams, one, &name, times),
            ],
            pans: Some(into(pan)),
            ..Found::default()
        })
    }

    fn between_pans(&self, from: &Pans, to: &Pans, keep_depth: bool) -> Result<Found, SizeError> {
        let (a, b) = (Self::checked(from)?, Self::checked(to)?);
        let counts = f64::from(to.count) / f64::from(from.count);
        let area = |pan: &Pan| {
            pan.area()
                .ok_or_else(|| SizeError::NoArea { pan: pan.words() })
        };
        let (times, range, sum) = if keep_depth {
            let (x, y) = (area(&a)?, area(&b)?);
            let times = y / x * counts;
            let sum = format!(
                "{} cm² ÷ {} cm² of opening = × {}",
                plain((y * f64::from(to.count)).round()),
                plain((x * f64::from(from.count)).round()),
                plain(times)
            );
            (times, None, sum)
        } else {
            let share = |pans: &Pans, pan: &Pan| pans.fill.unwrap_or(likely(pan.fill));
            let fills = share(to, &b) / share(from, &a) * counts;
            let (x, y, basis) = alike(&a, &b);
            let times = y / x * fills;
            let all = ratios(&a, &b).into_iter().map(|r| r * fills);
            let (low, high) = all.fold((times, times), |(l, h), r| (l.min(r), h.max(r)));
            let sum = format!(
                "{:.0} mL × {} ÷ ({:.0} mL × {}) = × {} ({basis})",
                y * f64::from(to.count),
                percent(100.0 * share(to, &b)),
                x * f64::from(from.count),
                percent(100.0 * share(from, &a)),
                plain(times)
            );
            (times, Some((low, high)), sum)
        };
        let panful = self.round().unwrap_or(self.panful());
        let density = panful.density(self.rework, &self.flow.factors(times));
        let suits = b
            .takes(is_yeast_dough(self.part()), density)
            .scaled(f64::from(to.count));
        let suits = with_volume(suits, &b);
        let change = match (a.area(), b.area()) {
            (Some(x), Some(y)) => Some(times * x / y / counts),
            _ => None,
        };
        // A pastry lines its tin: how full it is says nothing without what is in it.
        let tells = !self.lines() || self.round().is_some();
        let pans = tells.then_some(PansToFill {
            pan: b,
            count: to.count,
            suits,
            depth_change: change,
        });
        Ok(Found {
            times,
            range,
            sums: vec![sum],
            pans,
            ..Found::default()
        })
    }

    fn sheet(&self, long: f64, wide: f64, thick: f64) -> Result<Found, SizeError> {
        let side = |v| positive("side of a sheet", v, "40 cm");
        let (long, wide) = (side(long)?, side(wide)?);
        let thick = positive("thickness", thick, "5 mm")?;
        if thick < THINNEST {
            return Err(SizeError::TooThin { thick });
        }
        if thick > THICKEST {
            return Err(SizeError::TooThick { thick });
        }
        let density = density(self.part());
        let grams = density.scaled(long * wide * thick / 10.0);
        let need = likely(grams);
        let times = self.to_make(need)?;
        let range = (
            self.to_make(grams.low().get())?,
            self.to_make(grams.high().get())?,
        );
        Ok(Found {
            times,
            range: Some(range),
            sums: vec![
                format!(
                    "{} cm × {} cm × {} mm × {:.2} g/mL = {} g of {}, nothing added for trimming",
                    plain(long),
                    plain(wide),
                    plain(thick),
                    likely(density),
                    g(need),
                    self.name()
                ),
                self.over(need, likely(self.part().makes), self.name(), times),
            ],
            ..Found::default()
        })
    }
}

impl Pans {
    /// So many of a pan, filled as is usual.
    fn plain(pan: &Pan, count: u32) -> Self {
        Self {
            pan: pan.called(),
            water: None,
            count,
            fill: None,
        }
    }
}

/// A tin of many hollows makes as many pieces.
fn in_hollows(mut found: Found) -> Found {
    let hollows = found.pans.as_ref().map_or(1, |p| p.pan.hollows * p.count);
    if found.pans.as_ref().is_some_and(|p| p.pan.hollows > 1) {
        found.divided = Some(Pieces {
            count: Some(f64::from(hollows)),
            ..Pieces::default()
        });
    }
    found
}

/// Grams that suit a pan of the likely volume, with the doubt of the volume too: relative doubts
/// as the root of the sum of their squares.
fn with_volume(suits: Spread<Mass>, pan: &Pan) -> Spread<Mass> {
    let (v, g) = (pan.volume(), likely(suits));
    if likely(v) <= 0.0 || g <= 0.0 {
        return suits;
    }
    let off = |v: f64, m: f64| (v.powi(2) + m.powi(2)).sqrt();
    let down = off(
        1.0 - v.low().as_millilitres() / likely(v),
        1.0 - suits.low().as_grams() / g,
    );
    let up = off(
        v.high().as_millilitres() / likely(v) - 1.0,
        suits.high().as_grams() / g - 1.0,
    );
    Spread::new(
        Mass::grams(g * (1.0 - down).max(0.0)),
        Mass::grams(g),
        Mass::grams(g * (1.0 + up)),
    )
}

/// Times of a count that the recipe states, low to high.
fn counted(n: f64, low: f64, high: f64) -> Found {
    let mid = f64::midpoint(low, high);
    let times = n / mid;
    let of = if low < high {
        format!("{} ({}–{})", plain(mid), plain(low), plain(high))
    } else {
        plain(mid)
    };
    Found {
        times,
        range: (low < high).then(|| (n / high, n / low)),
        sums: vec![format!(
            "{} ÷ the recipe's {of} = × {}",
            plain(n),
            plain(times)
        )],
        ..Found::default()
    }
}

/// Volumes of two pans on the same footing, mL: both charted, else both by arithmetic, else as
/// each is known best; and the words for it.
fn alike(a: &Pan, b: &Pan) -> (f64, f64, &'static str) {
    let ml = |pan: &Pan| likely(pan.volume());
    let geometric = |pan: &Pan| pan.geometric().map(quantity::Volume::as_millilitres);
    match (a.basis(), b.basis(), geometric(a), geometric(b)) {
        (Basis::Charted, Basis::Charted, ..) => (ml(a), ml(b), "both charted"),
        (Basis::Water, Basis::Water, ..) => (ml(a), ml(b), "both measured with water"),
        (Basis::Water, ..) | (_, Basis::Water, ..) => {
            (ml(a), ml(b), "one measured with water, one not")
        }
        (_, _, Some(x), Some(y)) => (x, y, "both by arithmetic"),
        _ => (ml(a), ml(b), "one charted, one by arithmetic"),
    }
}

/// Every ratio of two pans' volumes that their figures give.
fn ratios(a: &Pan, b: &Pan) -> Vec<f64> {
    let mut out = vec![likely(b.volume()) / likely(a.volume())];
    if let (Some(x), Some(y)) = (a.geometric(), b.geometric()) {
        out.push(y / x);
    }
    out
}
