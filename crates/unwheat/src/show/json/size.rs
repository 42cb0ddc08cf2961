//! `size --json`.

use super::{Ingredient, Three, ingredient, three, tidy};
use crate::show::size::Sized;
use recipe::size::{Caution, PieceCount};
use serde::Serialize;

#[derive(Debug, Serialize)]
pub struct SizeOut {
    title: Option<String>,
    asked: String,
    factor: f64,
    factor_range: Option<[f64; 2]>,
    sums: Vec<String>,
    makes_count: Option<[f64; 2]>,
    makes_servings: bool,
    pieces: Option<PiecesOut>,
    pans: Option<PansOut>,
    at_hand: Vec<AtHandOut>,
    eggs: Vec<EggsOut>,
    whole_eggs: Option<WholeOut>,
    moved_percent: Option<f64>,
    components: Vec<ComponentOut>,
    cautions: Vec<CautionOut>,
}

#[derive(Debug, Serialize)]
pub struct PiecesOut {
    count: f64,
    each_g: f64,
    baked_g: Option<Three>,
    over_g: f64,
    whole_g: Option<Three>,
    whole_baked_g: Option<Three>,
}

#[derive(Debug, Serialize)]
pub struct PansOut {
    pan: String,
    name: String,
    count: u32,
    volume_ml: Three,
    volume_basis: &'static str,
    grams: f64,
    grams_each: f64,
    what: String,
    not_counted: Option<String>,
    fill_percent: Three,
    suits_g: Three,
    depth_mm: Option<f64>,
    depth_change: Option<f64>,
    source: &'static str,
}

#[derive(Debug, Serialize)]
pub struct AtHandOut {
    name: String,
    have_g: f64,
    takes_g: f64,
    runs_out_first: bool,
}

#[derive(Debug, Serialize)]
pub struct EggsOut {
    name: String,
    one_g: f64,
    count: f64,
    whole: bool,
    beside: Option<&'static str>,
}

#[derive(Debug, Serialize)]
pub struct WholeOut {
    factor: f64,
    off_percent: f64,
}

#[derive(Debug, Serialize)]
pub struct ComponentOut {
    name: String,
    factor: f64,
    flour_g: Three,
    makes_g: Three,
    used_g: Option<Three>,
    left_g: Option<Three>,
    short_g: Option<f64>,
    keeping: Option<KeepingOut>,
    lines: Vec<LineOut>,
}

#[derive(Debug, Serialize)]
pub struct KeepingOut {
    text: &'static str,
    source: &'static str,
}

#[derive(Debug, Serialize)]
pub struct LineOut {
    key: String,
    name: String,
    ingredient: Option<Ingredient>,
    uses_component: Option<String>,
    in_formula: bool,
    gluten: &'static str,
    grams: Option<Three>,
    scale_g: Option<f64>,
    pinch: bool,
    finer_than_scale: bool,
    off_g: f64,
    off_percent_of_flour: Option<f64>,
    household: Option<String>,
    household_error_percent: Option<f64>,
    weigh_this: bool,
}

#[derive(Debug, Serialize)]
pub struct CautionOut {
    code: &'static str,
    text: String,
    source: &'static str,
}

fn caution(c: &Caution) -> CautionOut {
    CautionOut {
        code: c.code,
        text: c.text.clone(),
        source: c.source,
    }
}

fn pieces(p: PieceCount) -> PiecesOut {
    PiecesOut {
        count: tidy(p.count),
        each_g: tidy(p.each.as_grams()),
        baked_g: p.baked.map(three),
        over_g: tidy(p.over.as_grams()),
        whole_g: p.whole.map(|w| three(w.raw)),
        whole_baked_g: p.whole.and_then(|w| w.baked).map(three),
    }
}

/// A batch.
pub fn size(s: &Sized<'_>) -> SizeOut {
    let b = s.batch;
    SizeOut {
        title: s.rework.formula.recipe.title.clone(),
        asked: b.asked.clone(),
        factor: tidy(b.factor),
        factor_range: b.range.map(|(low, high)| [tidy(low), tidy(high)]),
        sums: b.sums.clone(),
        makes_count: b.count.map(|(low, high)| [tidy(low), tidy(high)]),
        makes_servings: b.servings,
        pieces: b.pieces.map(pieces),
        pans: b.pans.as_ref().map(|p| PansOut {
            pan: p.pan.key.clone(),
            name: p.pan.words(),
            count: p.count,
            volume_ml: three(p.pan.volume()),
            volume_basis: p.pan.basis().words(),
            grams: tidy(p.grams.as_grams()),
            grams_each: tidy(p.each().as_grams()),
            what: p.what.clone(),
            not_counted: p.not_counted.clone(),
            fill_percent: three(p.fill.scaled(100.0)),
            suits_g: three(p.suits),
            depth_mm: p.depth.map(tidy),
            depth_change: p.depth_change.map(tidy),
            source: p.pan.source,
        }),
        at_hand: b
            .at_hand
            .iter()
            .map(|h| AtHandOut {
                name: h.name.clone(),
                have_g: tidy(h.have.as_grams()),
                takes_g: tidy(h.takes.as_grams()),
                runs_out_first: h.limits,
            })
            .collect(),
        eggs: b
            .eggs
            .iter()
            .map(|e| EggsOut {
                name: e.name.clone(),
                one_g: tidy(e.one.weighs.as_grams()),
                count: tidy(e.count),
                whole: e.is_whole(),
                beside: e.beside,
            })
            .collect(),
        whole_eggs: b.whole_eggs.map(|w| WholeOut {
            factor: tidy(w.factor),
            off_percent: tidy(w.off * 100.0),
        }),
        moved_percent: b.moved.map(|m| tidy(m * 100.0)),
        components: (0..b.components.len())
            .filter(|c| s.rework.components[*c].is_listed())
            .map(|c| component(s, c))
            .collect(),
        cautions: b.cautions.iter().map(caution).collect(),
    }
}

fn component(s: &Sized<'_>, c: usize) -> ComponentOut {
    let of = &s.batch.components[c];
    let lines = of.lines.iter().zip(of.on(&s.scale, s.larder));
    ComponentOut {
        name: of.name.clone(),
        factor: tidy(of.factor),
        flour_g: three(of.flour),
        makes_g: three(of.makes),
        used_g: of.used.map(three),
        left_g: of.left.map(three),
        short_g: of.short().map(|m| tidy(m.as_grams())),
        keeping: of.keeping.map(|k| KeepingOut {
            text: k.text,
            source: k.source,
        }),
        lines: lines
            .map(|(l, on)| {
                let household = s.batch.household(s.rework, c, l, s.larder, s.drawer);
                let other = l.component.and_then(|x| s.batch.components.get(x));
                LineOut {
                    key: l.key.clone(),
                    name: l.name.clone(),
                    ingredient: l.food.map(|f| ingredient(f, s.larder)),
                    uses_component: other.map(|o| o.name.clone()),
                    in_formula: l.in_formula,
                    gluten: match other {
                        Some(_) => "see that component",
                        None => l.gluten.words(),
                    },
                    grams: l.grams.map(three),
                    scale_g: on.grams.map(tidy),
                    pinch: on.pinch,
                    finer_than_scale: on.finer,
                    off_g: tidy(on.off),
                    off_percent_of_flour: on.off_percent.map(tidy),
                    weigh_this: household.is_none() && on.grams.is_some() && other.is_none(),
                    household_error_percent: household.as_ref().map(|h| tidy(h.error * 100.0)),
                    household: household.map(|h| h.words),
                }
            })
            .collect(),
    }
}

#[derive(Debug, Serialize)]
pub struct PanOut {
    key: String,
    name: &'static str,
    size: String,
    hollows: u32,
    volume_ml: Three,
    volume_basis: &'static str,
    geometric_ml: Option<f64>,
    charted_ml: Option<Three>,
    fill_percent: Three,
    usual_in: Vec<&'static str>,
    source: &'static str,
    status: &'static str,
    note: &'static str,
}

/// The pans.
pub fn pans() -> Vec<PanOut> {
    recipe::size::pan::all()
        .iter()
        .map(|p| PanOut {
            key: p.key.clone(),
            name: &p.name,
            size: p.size(),
            hollows: p.hollows,
            volume_ml: three(p.volume()),
            volume_basis: p.basis().words(),
            geometric_ml: p.geometric().map(|v| tidy(v.as_millilitres())),
            charted_ml: p.charted.map(|c| three(c.scaled(f64::from(p.hollows)))),
            fill_percent: three(p.fill.scaled(100.0)),
            usual_in: p.usual_in.split(' ').collect(),
            source: p.source,
            status: p.status.words(),
            note: p.note,
        })
        .collect()
}
