//! A pastry or a base that lines a tin: it goes by what it covers, not by what the tin holds.

use super::Aim;
use crate::shape::tin_of;
use crate::size::ask::{likely, plain};
use crate::size::pan::{Outline, Pan};
use quantity::listed;

/// Tins that are lined: one, and how many of it.
pub(super) type Tins<'p> = (&'p Pan, u32);

/// What a lining goes by, beside what fills it.
pub(super) struct Lining {
    /// The times of the lining.
    times: f64,
    /// Whether a part lines the tin, or goes with one that does, by place.
    lines: Vec<bool>,
    /// The arithmetic in words.
    sum: String,
    /// The figure asked for is of the lining.
    is_asked: bool,
}

impl Lining {
    /// The times that are asked for, and for each part its times over them.
    ///
    /// # Inputs
    /// - `filled`: times of what fills the tin.
    pub(super) fn beside(&self, filled: f64) -> (f64, Vec<f64>) {
        let (asked, of_lining, of_filling) = if self.is_asked {
            (self.times, 1.0, filled / self.times)
        } else {
            (filled, self.times / filled, 1.0)
        };
        let share = |lines: &bool| if *lines { of_lining } else { of_filling };
        (asked, self.lines.iter().map(share).collect())
    }

    /// Of the grams of each part in the recipe, those of the lining at its size, and those of what fills it.
    pub(super) fn grams(&self, once: &[f64]) -> (f64, f64) {
        let of = |lines: bool| -> f64 {
            let all = once.iter().zip(&self.lines);
            all.filter(|(_, l)| **l == lines).map(|(g, _)| g).sum()
        };
        (of(true) * self.times, of(false))
    }

    /// The arithmetic, the one of the figure asked for first.
    pub(super) fn sums(self, filled: String) -> Vec<String> {
        if self.lines.iter().all(|l| *l) {
            vec![self.sum]
        } else if self.is_asked {
            vec![self.sum, format!("what fills it: {filled}")]
        } else {
            vec![filled, self.sum]
        }
    }
}

impl Aim<'_> {
    /// The times of the parts that line a tin, from one tin to another.
    ///
    /// # Inputs
    /// - `keep_depth`: the case stands as high as before.
    ///
    /// # Formula
    /// A₂ · n₂ ÷ (A₁ · n₁), as thick as before. A of a pastry is base + side ([`crate::shape::Tin::side_area`]);
    /// of what is called a base the base alone, but where a step has it up the sides. What hangs over the rim
    /// is left out. Of basins, which have no measures, (V₂ ÷ V₁)^⅔ · n₂ ÷ n₁: they are taken as of one shape,
    /// whose surface goes with the square of its width and its volume with the cube.
    ///
    /// # Returns
    /// `None` where nothing that is made lines a tin, or a tin has no measures.
    pub(super) fn lining(
        &self,
        (from, m): Tins<'_>,
        (to, n): Tins<'_>,
        keep_depth: bool,
    ) -> Option<Lining> {
        let factors = self.flow.factors(1.0);
        let made = |c: &usize| factors[*c] > 0.0 && self.rework.lines_a_tin(*c);
        let linings: Vec<usize> = (0..factors.len()).filter(made).collect();
        let first = *linings
            .iter()
            .find(|c| **c == self.flow.part)
            .or(linings.first())?;
        let sides = self.rework.lines_the_sides(first);
        let high = from.depth.filter(|_| keep_depth);
        let covers = |pan: &Pan| {
            let mut tin = tin_of(pan).filter(|t| t.tube.is_none())?;
            tin.deep = high.unwrap_or(tin.deep);
            let side = if sides { tin.side_area() } else { 0.0 };
            Some((tin.base.area() + side) / 100.0 * f64::from(pan.hollows))
        };
        let basin = |pan: &Pan| pan.outline == Outline::Basin;
        let (m, n) = (f64::from(m), f64::from(n));
        let shown = |x: f64| plain(x.round());
        let (times, by) = if sides && basin(from) && basin(to) {
            let (x, y) = (likely(from.volume()), likely(to.volume()));
            let count = if m == n {
                String::new()
            } else {
                format!(" × {} ÷ {}", plain(n), plain(m))
            };
            let (shown_x, shown_y) = (shown(x), shown(y));
            (
                (y / x).powf(2.0 / 3.0) * n / m,
                format!("({shown_y} mL ÷ {shown_x} mL)^(2/3){count} of a basin of the same shape"),
            )
        } else {
            let (x, y) = (covers(from)? * m, covers(to)? * n);
            let what = if sides { "base and side" } else { "base" };
            let (shown_x, shown_y) = (shown(x), shown(y));
            (y / x, format!("{shown_y} cm² ÷ {shown_x} cm² of {what}"))
        };
        let lines = self.with_their_own(&linings);
        let is_asked = lines.iter().zip(&factors).all(|(l, f)| *l || *f <= 0.0)
            || self.flow.is_named && lines[self.flow.part];
        let names = linings
            .iter()
            .map(|c| match self.rework.components[*c].name.as_str() {
                "" => "mixture",
                name => name,
            });
        let names: Vec<&str> = names.collect();
        let lid = if self.rework.has_a_lid() {
            "; a lid is not in it"
        } else {
            ""
        };
        let sum = format!(
            "the {}, as thick as before: {by} = × {}, nothing added for the rim{lid}",
            listed(&names),
            plain(times)
        );
        Some(Lining {
            times,
            lines,
            sum,
            is_asked,
        })
    }

    /// Parts and those that only they use, by place.
    fn with_their_own(&self, parts: &[usize]) -> Vec<bool> {
        let all = &self.rework.components;
        let mut own: Vec<bool> = (0..all.len()).map(|c| parts.contains(&c)).collect();
        for &c in self.rework.formula.order.iter().rev() {
            let users = || {
                let uses = |u: &usize| all[*u].lines.iter().any(|l| l.component == Some(c));
                (0..all.len()).filter(uses)
            };
            own[c] = own[c] || users().next().is_some() && users().all(|u| own[u]);
        }
        own
    }
}
