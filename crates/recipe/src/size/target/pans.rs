//! Times the recipe that fill a pan, and how full it is then.

use super::lining::Lining;
use super::{Aim, Found, g, is_yeast_dough};
use crate::household::percent;
use crate::rework::Panful;
use crate::size::ask::{Pans, Pieces, likely, plain};
use crate::size::error::{SizeError, positive};
use crate::size::pan::{Basis, Depth, Pan, Said, is_flat};
use quantity::{Mass, Ratio, Spread};

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
    /// What of the recipe's parts counts less than whole in that, in a sentence.
    pub not_counted: Option<String>,
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
    /// Share of its own pan that the recipe once fills, where the method names one.
    pub own_fill: Option<f64>,
    /// It is a filling that sets in a tin or a case: it hardly rises.
    pub set: bool,
}

impl Filled {
    /// What goes into each of them.
    #[must_use]
    pub fn each(&self) -> Mass {
        self.grams * (1.0 / f64::from(self.count.max(1)))
    }
}

/// Pans that are to be filled.
#[derive(Debug, Clone)]
pub(in crate::size) struct PansToFill {
    pan: Pan,
    count: u32,
    suits: Spread<Mass>,
    depth_change: Option<f64>,
}

impl Found {
    /// Whether what the method bakes in hollows, as muffins are, goes into a pan that has none: it makes no such pieces.
    pub(in crate::size) fn out_of_hollows(&self, own: &Panful) -> bool {
        let hollows = |pan: &Pan| pan.hollows > 1;
        let named = |words: &String| {
            let words = words.to_lowercase();
            ["muffin", "cupcake"].iter().any(|w| words.contains(w))
        };
        let whole = self.pans.as_ref().is_some_and(|into| !hollows(&into.pan));
        whole
            && (own.said.as_ref().is_some_and(|s| hollows(&s.pan))
                || own.pan_words.as_ref().is_some_and(named))
    }
}

impl Aim<'_> {
    /// What goes into so many pans at so many times the recipe.
    pub(in crate::size) fn filled(&self, into: PansToFill, times: f64) -> Filled {
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
        let own_fill = panful.own().map(|(own, n)| {
            let holds = likely(own.volume()) * f64::from(n);
            once.iter().sum::<f64>() / (density * holds)
        });
        Filled {
            own_fill,
            set: panful.set,
            count: into.count,
            grams: Mass::grams(grams),
            what: panful.words(self.rework),
            not_counted: panful.not_counted(self.rework),
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

    pub(super) fn pan(&self, pans: &Pans) -> Result<Found, SizeError> {
        let pan = Self::checked(pans)?;
        let part = self.part();
        if self.lines() && pans.fill.is_none() {
            // From the tin that the method lines with it, where it has measures.
            let round = self.rework.panful_round(self.flow.part);
            let said = round.said.as_ref().filter(|s| s.depth != Depth::Unsaid);
            let Some(said) = said else {
                return Err(SizeError::Lined { pan: pan.words() });
            };
            return self.out_of_said(said, pans, &pan, "", false);
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
        let filled = pans.full || pans.fill.is_some();
        if let Some((own, n)) = panful.own()
            && !filled
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
        // Of a tin whose depth no one says the area is known: there it stands as thick as before.
        let areas = |s: &Said| s.pan.area().is_some() && pan.area().is_some();
        let whole = panful.rest_in.is_none();
        let by_area =
            |s: &Said| whole && panful.own().is_none() && s.depth == Depth::Usual && areas(s);
        let said = panful.said.as_ref();
        let said = said.filter(|s| panful.own().is_some() || by_area(s));
        // What lies on a sheet says nothing of how full a tin is.
        let said = said.filter(|s| panful.set || !is_flat(&s.pan.name));
        if let Some(said) = said.filter(|_| !filled) {
            // Bars and biscuits in a tin are as thick as before: how full it is says nothing of them.
            let flat = part.style.is_some_and(|s| s.style.is_done_by_colour());
            let known = said.depth != Depth::Unsaid && areas(said);
            let keep_depth = known && (flat || by_area(said));
            let thick = if keep_depth {
                ", as thick as before"
            } else {
                ""
            };
            let with = format!(", with {} g of {name}{thick}", g(one));
            let mut found = self.out_of_said(said, pans, &pan, &with, keep_depth)?;
            let most = said.pan.takes(yeast, density).high().as_grams() * f64::from(said.count);
            let of = panful.of_own(self.rework, most);
            if of < 1.0 && !panful.set && !keep_depth {
                found.times *= of;
                found.range = found.range.map(|(low, high)| (low * of, high * of));
                found.sums.push(format!(
                    "there it is more than the original's {} g, and more than suits that pan: × {}",
                    g(panful.before(self.rework)),
                    plain(of)
                ));
            }
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

    /// From the tin that the method names; with the range of its depth where that is a guess.
    ///
    /// # Inputs
    /// - `with`: words behind the tin.
    /// - `keep_depth`: by the area: as deep as it was.
    fn out_of_said(
        &self,
        said: &Said,
        to: &Pans,
        pan: &Pan,
        with: &str,
        keep_depth: bool,
    ) -> Result<Found, SizeError> {
        let own = &said.pan;
        let from = Pans::plain(own, said.count);
        let mut found = self.between_pans(&from, to, keep_depth)?;
        let depths = said
            .depths()
            .filter(|_| own.depth != pan.depth && !keep_depth);
        if let Some((low, high)) = depths {
            let times = |depth| {
                let own = Pan {
                    depth: Some(depth),
                    charted: None,
                    ..own.clone()
                };
                let found = self.between((&from, own), (to, pan.clone()), false);
                found.map(|f| f.times)
            };
            let (low, high) = (times(high)?, times(low)?);
            let range = found.range.unwrap_or((found.times, found.times));
            found.range = Some((range.0.min(low), range.1.max(high)));
            found.sums.push(format!(
                "as deep as such tins are it is × {} to × {} (common practice, no source). Measure yours and say the tin with it ('in place of the pan' on the Size page, --from-pan in the terminal)",
                plain(low),
                plain(high)
            ));
        }
        let assumed = said
            .assumed()
            .filter(|_| !keep_depth)
            .map_or(String::new(), |a| format!(": {a}"));
        let words = format!(
            "in place of the tin that the method names, {}{with}{assumed}",
            own.called()
        );
        found.sums.insert(0, words);
        Ok(found)
    }

    pub(super) fn between_pans(
        &self,
        from: &Pans,
        to: &Pans,
        keep_depth: bool,
    ) -> Result<Found, SizeError> {
        let (a, b) = (Self::checked(from)?, Self::checked(to)?);
        self.between((from, a), (to, b), keep_depth)
    }

    fn between(
        &self,
        (from, a): (&Pans, Pan),
        (to, mut b): (&Pans, Pan),
        keep_depth: bool,
    ) -> Result<Found, SizeError> {
        let lining = self.lining((&a, from.count), (&b, to.count), keep_depth);
        if lining.is_some() {
            // A case is filled as far as it was in the other tin.
            b.fill = a.fill;
        }
        let suited = lining.as_ref().filter(|_| to.full);
        let suited = suited.and_then(|l| self.suits_a_case(l, &b, to.count));
        let counts = f64::from(to.count) / f64::from(from.count);
        let area = |pan: &Pan| {
            pan.area()
                .ok_or_else(|| SizeError::NoArea { pan: pan.words() })
        };
        let (times, range, sum) = if let Some((times, sum)) = suited {
            (times, None, sum)
        } else if keep_depth {
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
        let change = match (a.area(), b.area()) {
            (Some(x), Some(y)) => Some(times * x / y / counts),
            _ => None,
        };
        let (times, range, shares, sums) = match lining {
            None => (times, range, Vec::new(), vec![sum]),
            Some(lining) => {
                let (asked, shares) = lining.beside(times);
                let range = range.filter(|_| asked == times);
                (asked, range, shares, lining.sums(sum))
            }
        };
        let panful = self.round().unwrap_or(self.panful());
        let density = panful.density(self.rework, &self.flow.factors(times));
        let suits = b
            .takes(is_yeast_dough(self.part()), density)
            .scaled(f64::from(to.count));
        let suits = with_volume(suits, &b);
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
            sums,
            pans,
            shares,
            ..Found::default()
        })
    }

    /// Times at which what fills a case leaves the tin as full as suits it, the case with it; nothing where the
    /// case alone fills it so far, or nothing is known to fill it.
    ///
    /// # Formula
    /// (V · n · fill · density − g of the lining) ÷ g of the filling in the recipe.
    fn suits_a_case(&self, lining: &Lining, pan: &Pan, count: u32) -> Option<(f64, String)> {
        let round = self.round()?;
        let density = round.density(self.rework, &self.flow.factors(1.0));
        let suits = likely(pan.takes(false, density)) * f64::from(count);
        let (lines, fills) = lining.grams(&round.grams(self.rework));
        let room = suits - lines;
        let times = room / fills;
        let sum = format!(
            "{:.0} mL × {} filled × {:.2} g/mL, less {} g of what lines it = {} g ÷ {} g in the recipe = × {}",
            likely(pan.volume()) * f64::from(count),
            percent(100.0 * likely(pan.fill)),
            likely(density),
            g(lines),
            g(room),
            g(fills),
            plain(times)
        );
        (fills > 0.0 && room > 0.0).then_some((times, sum))
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
}

impl Found {
    /// Says which depths are assumed, of the pan that is filled and the one it comes from.
    pub(super) fn assuming(mut self, to: &Pans, from: Option<&Pans>) -> Self {
        for said in [from.and_then(Pans::assumed), to.assumed()]
            .into_iter()
            .flatten()
        {
            let assumed = said.assumed().unwrap_or_default();
            self.sums.push(format!(
                "{}: {assumed}, common practice, no source. Measure yours and write it behind, as in '{}, 2 cm deep'",
                said.pan.words(),
                said.words
            ));
        }
        self
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
            full: false,
        }
    }
}

/// A tin of many hollows makes as many pieces.
pub(super) fn in_hollows(mut found: Found) -> Found {
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

/// Volumes of two pans on the same footing, mL, and the words for it: both by arithmetic where they are of one shape
/// with upright walls, as charts are read in whole and half cups; else both charted, else both by arithmetic, else as
/// each is known best.
fn alike(a: &Pan, b: &Pan) -> (f64, f64, &'static str) {
    let ml = |pan: &Pan| likely(pan.volume());
    let geometric = |pan: &Pan| pan.geometric().map(quantity::Volume::as_millilitres);
    let upright = |pan: &Pan| pan.base.is_none() && pan.hollows == 1;
    let shape = |pan: &Pan| std::mem::discriminant(&pan.outline);
    let one_shape = upright(a) && upright(b) && shape(a) == shape(b);
    match (a.basis(), b.basis(), geometric(a), geometric(b)) {
        (Basis::Charted, Basis::Charted, Some(x), Some(y)) if one_shape => {
            (x, y, "both by arithmetic")
        }
        (Basis::Charted, Basis::Charted, ..) => (ml(a), ml(b), "both charted"),
        (Basis::Water, Basis::Water, ..) => (ml(a), ml(b), "both measured with water"),
        (Basis::Water, ..) | (_, Basis::Water, ..) => {
            (ml(a), ml(b), "one measured with water, one not")
        }
        (Basis::Stated, Basis::Stated, ..) => (ml(a), ml(b), "both as stated"),
        (Basis::Stated, ..) | (_, Basis::Stated, ..) => (ml(a), ml(b), "one as stated, one not"),
        // One volume of a pan is said: what its result takes it at.
        (_, Basis::Geometric, Some(x), Some(y)) => {
            let holds = ml(b) / y;
            (
                holds * x,
                ml(b),
                "both by arithmetic, less what slopes and corners take",
            )
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
