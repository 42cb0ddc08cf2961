//! `leaven --json`, and the leavening of `rework --json`.

use super::{Ingredient, Three, ingredient, three, tidy};
use larder::Larder;
use quantity::Mass;
use recipe::leaven::{Altitude, Corrected, Leavening, Report, Swap};
use serde::Serialize;

#[derive(Debug, Serialize)]
pub struct LeaveningOut {
    verdict: &'static str,
    sure: bool,
    uncounted: Vec<String>,
    words: String,
    parts: Vec<PartOut>,
    soda_g: Three,
    acid_takes_g: Three,
    neutralised_g: Three,
    left_over_g: Three,
    idle_g: Three,
    powder_g: Three,
    powder_percent: f64,
    yeast_as_instant_g: f64,
    gas_25c_ml: Three,
    gas_95c_ml: Three,
    gas_by_heat_ml: Three,
    gas_ml_per_g_flour: Option<f64>,
}

#[derive(Debug, Serialize)]
pub struct PartOut {
    ingredient: Ingredient,
    grams: Three,
    needs_acid_for_g: Three,
    takes_g: Three,
    gas_25c_ml: Three,
    source: String,
}

#[derive(Debug, Serialize)]
pub struct Grams {
    key: &'static str,
    grams: f64,
}

#[derive(Debug, Serialize)]
pub struct SwapOut {
    from: String,
    to: Vec<Grams>,
    leaves_acid_g: f64,
    rule: String,
    source: String,
}

#[derive(Debug, Serialize)]
pub struct YeastOut {
    from: &'static str,
    grams: f64,
    to: &'static str,
    to_grams: f64,
    water_g: f64,
}

#[derive(Debug, Serialize)]
pub struct CautionOut {
    what: &'static str,
    words: String,
    source: &'static str,
}

#[derive(Debug, Serialize)]
pub struct SyrupOut {
    sugar_g: Three,
    water_g: Three,
    strength_percent: Option<Three>,
    water_activity: Option<f64>,
    undissolved_g: f64,
    decides: Option<&'static str>,
}

#[derive(Debug, Serialize)]
pub struct FatOut {
    butter_g: f64,
    oil_g: f64,
    water_g: f64,
    is_oil: bool,
}

#[derive(Debug, Serialize)]
pub struct CorrectedOut {
    what: String,
    from_g: f64,
    to_g: Three,
}

#[derive(Debug, Serialize)]
pub struct ComponentOut {
    name: String,
    leavening: LeaveningOut,
    swaps: Vec<SwapOut>,
    yeast: Vec<YeastOut>,
    cautions: Vec<CautionOut>,
    syrup: SyrupOut,
    butter: Option<FatOut>,
    at_altitude: Vec<CorrectedOut>,
}

#[derive(Debug, Serialize)]
pub struct AltitudeOut {
    metres: f64,
    pressure_kpa: f64,
    boiling_celsius: f64,
    gas_expansion: f64,
    oven_hotter_celsius: Option<[f64; 2]>,
    beyond_table: bool,
    source: &'static str,
}

#[derive(Debug, Serialize)]
pub struct LeavenOut {
    title: Option<String>,
    altitude: Option<AltitudeOut>,
    components: Vec<ComponentOut>,
}

/// The leavening of a component of `rework --json`.
#[derive(Debug, Serialize)]
pub struct RaisingOut {
    before: LeaveningOut,
    after: LeaveningOut,
    cautions: Vec<CautionOut>,
    syrup: SyrupOut,
}

/// Before and after.
pub fn raising(r: &recipe::rework::Raising, larder: &Larder) -> RaisingOut {
    RaisingOut {
        before: leavening(&r.before, larder),
        after: leavening(&r.after.leavening, larder),
        cautions: cautions(&r.after),
        syrup: syrup(&r.after),
    }
}

/// The balance alone.
pub fn leavening(l: &Leavening, larder: &Larder) -> LeaveningOut {
    LeaveningOut {
        verdict: l.verdict().word(),
        sure: l.is_sure(),
        uncounted: l.uncounted.clone(),
        words: l.words(),
        parts: l
            .parts
            .iter()
            .map(|p| PartOut {
                ingredient: ingredient(p.food, larder),
                grams: three(p.grams),
                needs_acid_for_g: three(p.base),
                takes_g: three(p.acid),
                gas_25c_ml: three(p.gas),
                source: p.source.clone(),
            })
            .collect(),
        soda_g: three(l.soda),
        acid_takes_g: three(l.acid),
        neutralised_g: three(l.neutralised),
        left_over_g: three(l.left_over),
        idle_g: three(l.idle),
        powder_g: three(l.powder),
        powder_percent: tidy(l.powder_percent()),
        yeast_as_instant_g: g(l.yeast),
        gas_25c_ml: three(l.gas),
        gas_95c_ml: three(l.gas_hot()),
        gas_by_heat_ml: three(l.gas_by_heat),
        gas_ml_per_g_flour: l.gas_per_flour().map(tidy),
    }
}

fn g(m: Mass) -> f64 {
    tidy(m.as_grams())
}

fn swap(s: &Swap) -> SwapOut {
    SwapOut {
        from: s.from.clone(),
        to: s
            .to
            .iter()
            .map(|(key, m)| Grams { key, grams: g(*m) })
            .collect(),
        leaves_acid_g: g(s.leaves_acid),
        rule: s.rule.clone(),
        source: s.source.clone(),
    }
}

/// The cautions of yeast and syrup.
fn cautions(r: &Report) -> Vec<CautionOut> {
    let yeast = r.cautions.iter().map(|c| CautionOut {
        what: c.what,
        words: c.words.clone(),
        source: c.source,
    });
    let syrup = r.remarks.iter().map(|c| CautionOut {
        what: "syrup",
        words: c.words.clone(),
        source: c.source,
    });
    yeast.chain(syrup).collect()
}

fn syrup(r: &Report) -> SyrupOut {
    use recipe::syrup::Use;
    SyrupOut {
        sugar_g: three(r.syrup.sugar),
        water_g: three(r.syrup.water),
        strength_percent: r.syrup.strength.map(three),
        water_activity: r.syrup.water_activity.map(tidy),
        undissolved_g: tidy(r.syrup.undissolved),
        decides: r.decides.map(|d| match d {
            Use::Sweet => "sweet",
            Use::Cake => "cake",
            Use::Dough => "dough",
        }),
    }
}

/// `leaven --json`.
pub fn leaven(
    title: Option<&str>,
    parts: &[(String, Report, Vec<Corrected>)],
    altitude: Option<&Altitude>,
    larder: &Larder,
) -> LeavenOut {
    LeavenOut {
        title: title.map(str::to_owned),
        altitude: altitude.map(|a| AltitudeOut {
            metres: a.metres,
            pressure_kpa: tidy(a.pressure),
            boiling_celsius: tidy(a.boiling),
            gas_expansion: tidy(a.expansion),
            oven_hotter_celsius: a.correction.map(|c| [c.oven.0, c.oven.1]),
            beyond_table: a.correction.is_some_and(|c| c.beyond),
            source: Altitude::source(),
        }),
        components: parts
            .iter()
            .map(|(name, r, up)| ComponentOut {
                name: name.clone(),
                leavening: leavening(&r.leavening, larder),
                swaps: r.swaps.iter().map(swap).collect(),
                yeast: r
                    .yeast
                    .iter()
                    .map(|y| YeastOut {
                        from: y.from.key(),
                        grams: g(y.grams),
                        to: y.to.key(),
                        to_grams: g(y.other),
                        water_g: g(y.water),
                    })
                    .collect(),
                cautions: cautions(r),
                syrup: syrup(r),
                butter: r.fat.map(|f| FatOut {
                    butter_g: g(f.butter),
                    oil_g: g(f.oil),
                    water_g: g(f.water),
                    is_oil: r.fat_is_oil,
                }),
                at_altitude: up
                    .iter()
                    .map(|c| CorrectedOut {
                        what: c.what.clone(),
                        from_g: g(c.from),
                        to_g: three(c.to),
                    })
                    .collect(),
            })
            .collect(),
    }
}
