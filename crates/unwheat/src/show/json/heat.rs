//! `heat … --json`.

use super::{Three, three, tidy};
use recipe::heat::{
    Advice, Bake, Baked, Dough, Figures, HeatField, OvenFact, Proof, Proofed, Wait, Water,
};
use recipe::leaven::Altitude;
use serde::Serialize;

#[derive(Debug, Serialize)]
pub struct FigureOut {
    figure: &'static str,
    value: String,
    from: &'static str,
    because: Option<String>,
}

#[derive(Debug, Serialize)]
pub struct AdviceOut {
    words: String,
    source: String,
}

#[derive(Debug, Serialize)]
pub struct CoreOut {
    celsius: [f64; 3],
    boiling_celsius: f64,
    asked_but_out_of_reach: Option<f64>,
    source: String,
}

#[derive(Debug, Serialize)]
pub struct PointOut {
    minutes: f64,
    celsius: f64,
}

#[derive(Debug, Serialize)]
pub struct BakeOut {
    figures: Vec<FigureOut>,
    pan: String,
    pan_read_as: String,
    known_pan_read_as: String,
    pans: u32,
    oven_celsius: f64,
    minutes: Three,
    by_conduction_minutes: Three,
    by_thickness_minutes: Option<[f64; 2]>,
    heat_speed: f64,
    depth_mm: f64,
    known_depth_mm: f64,
    core: CoreOut,
    baked_weight_g: Option<Three>,
    core_curve: Vec<PointOut>,
    advice: Vec<AdviceOut>,
}

fn figures(f: &Figures<'_>, fields: &[HeatField]) -> Vec<FigureOut> {
    fields
        .iter()
        .filter_map(|field| f.value(*field))
        .filter(|v| f.counts(v.field))
        .map(|v| FigureOut {
            figure: v.field.key(),
            value: v.words,
            from: match v.origin {
                recipe::heat::Origin::Typed => "typed",
                recipe::heat::Origin::Recipe => "recipe",
                recipe::heat::Origin::Worked => "worked_out",
                recipe::heat::Origin::Known => "known_bake",
                recipe::heat::Origin::Usual => "usual",
            },
            because: v.why,
        })
        .collect()
}

fn advice(all: &[Advice]) -> Vec<AdviceOut> {
    all.iter()
        .map(|a| AdviceOut {
            words: a.words.clone(),
            source: a.source.clone(),
        })
        .collect()
}

/// `heat bake --json`.
pub fn bake(f: &Figures<'_>, ask: &Bake, b: &Baked) -> BakeOut {
    use HeatField as F;
    BakeOut {
        figures: figures(
            f,
            &[
                F::KnownPan,
                F::KnownOven,
                F::KnownTime,
                F::KnownDough,
                F::Pan,
                F::Oven,
                F::PanDough,
                F::Start,
                F::Core,
            ],
        ),
        pan: ask.pan.in_cm(),
        pan_read_as: ask.pan.read.clone(),
        known_pan_read_as: ask.known_pan.read.clone(),
        pans: ask.pans,
        oven_celsius: tidy(ask.oven.as_celsius()),
        minutes: three(b.time),
        by_conduction_minutes: three(b.model),
        by_thickness_minutes: b
            .by_thickness
            .map(|(a, c)| [tidy(a.as_minutes()), tidy(c.as_minutes())]),
        heat_speed: tidy(b.speed),
        depth_mm: tidy(1000.0 * b.depths.1),
        known_depth_mm: tidy(1000.0 * b.depths.0),
        core: CoreOut {
            celsius: b.target.celsius.map(tidy),
            boiling_celsius: tidy(b.target.boiling),
            asked_but_out_of_reach: b.target.capped,
            source: b.target.source.clone(),
        },
        baked_weight_g: b.weighs.map(three),
        core_curve: b
            .curve
            .points
            .iter()
            .map(|(m, c)| PointOut {
                minutes: tidy(*m),
                celsius: tidy(*c),
            })
            .collect(),
        advice: advice(&[f.remarks(false), b.advice.clone()].concat()),
    }
}

#[derive(Debug, Serialize)]
pub struct StayOut {
    place: Option<&'static str>,
    around_celsius: f64,
    hours: Option<f64>,
    percent_of_proof: [f64; 2],
    dough_at_end_celsius: Option<[f64; 2]>,
    cold: bool,
}

#[derive(Debug, Serialize)]
pub struct ProofOut {
    figures: Vec<FigureOut>,
    stays: Vec<StayOut>,
    answer: &'static str,
    last_stay_minutes: Option<Three>,
    done_percent: Option<Three>,
    volume_times: [f64; 2],
    hours_towards_the_limit: f64,
    hours_above_5_celsius: Three,
    holds_egg_or_milk: Option<bool>,
    advice: Vec<AdviceOut>,
}

/// `heat proof --json`.
pub fn proof(f: &Figures<'_>, ask: &Proof, p: &Proofed) -> ProofOut {
    use HeatField as F;
    let pair = |(a, b): (f64, f64)| [tidy(a), tidy(b)];
    ProofOut {
        figures: figures(
            f,
            &[F::ProofTime, F::ProofAt, F::DoughWanted, F::ProofPiece],
        ),
        stays: p
            .legs
            .iter()
            .map(|l| StayOut {
                place: l.leg.place,
                around_celsius: l.leg.celsius,
                hours: l.leg.hours,
                percent_of_proof: pair(l.share),
                dough_at_end_celsius: l.leg.hours.map(|_| pair(l.ends_at)),
                cold: l.cold,
            })
            .collect(),
        answer: match p.wait {
            Wait::For(_) => "time",
            Wait::Done(..) => "done",
            Wait::Fridge => "fridge",
            Wait::TooCold => "too_cold",
        },
        last_stay_minutes: match p.wait {
            Wait::For(t) => Some(three(t)),
            _ => None,
        },
        done_percent: match p.wait {
            Wait::Done(low, likely, high) => Some(Three {
                low: tidy(low),
                likely: tidy(likely),
                high: tidy(high),
            }),
            _ => None,
        },
        volume_times: pair(p.volume),
        hours_towards_the_limit: tidy(p.warm),
        hours_above_5_celsius: Three {
            low: tidy(p.above_5[0]),
            likely: tidy(p.above_5[1]),
            high: tidy(p.above_5[2]),
        },
        holds_egg_or_milk: ask.perishable,
        advice: advice(&p.advice),
    }
}

#[derive(Debug, Serialize)]
pub struct IceOut {
    ice_g: f64,
    tap_g: f64,
}

#[derive(Debug, Serialize)]
pub struct DoughOut {
    figures: Vec<FigureOut>,
    rule_of: usize,
    rule_water_celsius: f64,
    friction_celsius: f64,
    balance_water_celsius: Three,
    mixing_warms_celsius: [f64; 3],
    answer: &'static str,
    ice: Option<IceOut>,
    dough_instead_celsius: Option<f64>,
    hydration_percent: f64,
    advice: Vec<AdviceOut>,
}

/// `heat dough --json`.
pub fn dough(f: &Figures<'_>, d: &Dough) -> DoughOut {
    use HeatField as F;
    DoughOut {
        figures: figures(
            f,
            &[
                F::DoughWanted,
                F::FlourMass,
                F::WaterMass,
                F::OtherMass,
                F::Room,
                F::Flour,
                F::Other,
                F::Preferment,
                F::Tap,
                F::Friction,
                F::Measured,
            ],
        ),
        rule_of: d.n,
        rule_water_celsius: tidy(d.rule),
        friction_celsius: tidy(d.friction),
        balance_water_celsius: three(d.balance),
        mixing_warms_celsius: d.mixing.map(tidy),
        answer: match d.water {
            Water::At(_) => "water",
            Water::Chilled(_) => "chilled",
            Water::Iced { .. } => "ice",
            Water::TooCold => "too_cold",
            Water::TooHot => "too_hot",
        },
        ice: match d.water {
            Water::Iced { ice, tap, .. } => Some(IceOut {
                ice_g: tidy(ice),
                tap_g: tidy(tap),
            }),
            _ => None,
        },
        dough_instead_celsius: d.instead.map(|c| tidy(c.dough)),
        hydration_percent: tidy(d.wetness),
        advice: advice(&d.advice),
    }
}

#[derive(Debug, Serialize)]
pub struct HeightOut {
    metres: f64,
    pressure_kpa: f64,
    boiling_celsius: f64,
    highest_core_celsius: f64,
    words: String,
    source: &'static str,
}

#[derive(Debug, Serialize)]
pub struct FactOut {
    key: &'static str,
    when: &'static str,
    what: &'static str,
    words: &'static str,
    source: String,
}

#[derive(Debug, Serialize)]
pub struct FactsOut {
    height: Option<HeightOut>,
    facts: Vec<FactOut>,
}

/// `heat facts --json`.
pub fn facts(all: &[&OvenFact], at: Option<&Altitude>) -> FactsOut {
    FactsOut {
        height: at.map(|a| HeightOut {
            metres: a.metres,
            pressure_kpa: tidy(a.pressure),
            boiling_celsius: tidy(a.boiling),
            highest_core_celsius: tidy(a.boiling - recipe::heat::BELOW_BOILING),
            words: crate::show::heat::height(a),
            source: Altitude::source(),
        }),
        facts: all
            .iter()
            .map(|f| FactOut {
                key: f.key,
                when: f.when,
                what: f.what,
                words: f.words,
                source: f.source.clone(),
            })
            .collect(),
    }
}
