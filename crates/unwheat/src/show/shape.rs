//! A shape as text and as JSON.

use super::Style;
use super::json::Three;
use super::table::{Side, paragraph, table};
use quantity::{Locale, Mass, Spread, degrees_in, lengths_alone_in, lengths_in};
use recipe::density::Density;
use recipe::shape::{Mark, Measure, Shaped, Unit};
use serde::Serialize;

/// A shape with what its dough's weight and density rest on.
pub struct Seen<'a> {
    /// The shape.
    pub shaped: &'a Shaped,
    /// The weight, where a recipe gives it.
    pub grams: Option<Spread<Mass>>,
    /// Of what the weight is.
    pub from: Option<&'a str>,
    /// The density, where the baker did not say it.
    pub density: Option<&'a Density>,
    /// In whose degrees it is told.
    pub locale: Locale,
}

/// `unwheat shape --json`.
#[derive(Debug, Serialize)]
pub struct Data<'a> {
    shape: &'static str,
    dough_g: Option<Three>,
    dough_from: Option<&'a str>,
    density: Option<DensityOut>,
    measures: Vec<MeasureOut<'a>>,
    verdicts: Vec<VerdictOut<'a>>,
    notes: &'a [String],
    cautions: Vec<CautionOut<'a>>,
    drawings: Vec<DrawingOut<'a>>,
}

#[derive(Debug, Serialize)]
struct DensityOut {
    g_per_ml: Three,
    of: &'static str,
    source: String,
}

#[derive(Debug, Serialize)]
struct MeasureOut<'a> {
    key: &'static str,
    name: &'a str,
    unit: &'static str,
    low: f64,
    likely: f64,
    high: f64,
}

#[derive(Debug, Serialize)]
struct VerdictOut<'a> {
    outcome: &'static str,
    words: &'a str,
}

#[derive(Debug, Serialize)]
struct CautionOut<'a> {
    words: &'a str,
    source: &'a str,
}

#[derive(Debug, Serialize)]
struct DrawingOut<'a> {
    key: &'static str,
    title: &'a str,
    description: &'a str,
    width_mm: f64,
    height_mm: f64,
}

/// A figure to six digits: what arithmetic adds behind them is no measure.
fn six(v: f64) -> f64 {
    if v == 0.0 || !v.is_finite() {
        return 0.0;
    }
    let scale = 10f64.powf(5.0 - v.abs().log10().floor());
    (v * scale).round() / scale
}

/// A shape as data.
pub fn data<'a>(seen: &Seen<'a>) -> Data<'a> {
    let s = seen.shaped;
    let of = |l: f64, m: f64, h: f64| Three {
        low: six(l),
        likely: six(m),
        high: six(h),
    };
    Data {
        shape: s.kind.key(),
        dough_g: seen.grams.map(|g| {
            of(
                g.low().as_grams(),
                g.likely().as_grams(),
                g.high().as_grams(),
            )
        }),
        dough_from: seen.from,
        density: seen.density.map(|d| DensityOut {
            g_per_ml: of(
                d.value.low().get(),
                d.value.likely().get(),
                d.value.high().get(),
            ),
            of: d.name,
            source: d.cited(),
        }),
        measures: s
            .measures
            .iter()
            .map(|m| MeasureOut {
                key: m.key,
                name: &m.name,
                unit: m.unit.key(),
                low: six(m.value.low().get()),
                likely: six(m.value.likely().get()),
                high: six(m.value.high().get()),
            })
            .collect(),
        verdicts: s
            .verdicts
            .iter()
            .map(|v| VerdictOut {
                outcome: v.outcome.key(),
                words: &v.words,
            })
            .collect(),
        notes: &s.notes,
        cautions: s
            .cautions
            .iter()
            .map(|c| CautionOut {
                words: &c.words,
                source: &c.source,
            })
            .collect(),
        drawings: s
            .drawings
            .iter()
            .map(|d| DrawingOut {
                key: d.key,
                title: &d.title,
                description: &d.desc,
                width_mm: six(d.wide),
                height_mm: six(d.high),
            })
            .collect(),
    }
}

/// A shape with its words in the lengths and degrees of a kitchen.
pub fn told_in(shaped: &Shaped, home: Locale) -> Shaped {
    let told = |text: &mut String| *text = lengths_in(&degrees_in(text, home), home);
    let mut s = shaped.clone();
    s.verdicts.iter_mut().for_each(|v| told(&mut v.words));
    s.notes.iter_mut().for_each(told);
    for c in &mut s.cautions {
        told(&mut c.words);
        told(&mut c.source);
    }
    for d in &mut s.drawings {
        told(&mut d.title);
        told(&mut d.desc);
        for mark in &mut d.marks {
            if let Mark::Words { words, .. } | Mark::Side { words, .. } = mark {
                *words = lengths_alone_in(words, home);
            }
        }
    }
    s
}

/// A measure's likely figure in the lengths of a kitchen: `12 in (30.5 cm)`.
pub fn likely(m: &Measure, home: Locale) -> String {
    lengths_in(&m.likely(), home)
}

/// Its range: `11⅜–12¼ in` where the likely figure has inches and the ends differ in them, else in its own unit.
pub fn range(m: &Measure, home: Locale) -> Option<String> {
    let range = m.range()?;
    let likely = m.likely();
    let unit = likely.rsplit_once(' ').map_or("", |(_, unit)| unit);
    let own = format!("{range} {unit}");
    let told = lengths_alone_in(&own, home);
    Some(match told.strip_suffix(" in").map(|r| r.split_once('–')) {
        // Too near to one another for a ruler.
        Some(Some((low, high))) if low == high => own,
        Some(_) => told,
        None => range,
    })
}

/// The density in words, with its source.
pub fn density_words(d: &Density) -> String {
    format!(
        "Density {:.2} g/mL ({:.2}–{:.2}), that of {}; {}.",
        d.value.likely().get(),
        d.value.low().get(),
        d.value.high().get(),
        d.name,
        d.cited()
    )
}

/// A shape as text for 80 columns.
pub fn words(seen: &Seen<'_>, style: &Style) -> String {
    let s = &told_in(seen.shaped, seen.locale);
    let mut out = format!("{}\n", style.heading(&s.kind.name().to_uppercase()));
    if let (Some(grams), Some(from)) = (seen.grams, seen.from) {
        let dough = Measure::new("dough", "Dough", grams, Unit::Grams);
        out.push_str(&paragraph(
            "",
            &format!("{}: {}.", dough.shown(), lengths_in(from, seen.locale)),
        ));
    }
    if let Some(d) = seen.density {
        out.push_str(&paragraph("", &density_words(d)));
    }
    out.push('\n');
    let rows: Vec<Vec<String>> = s
        .measures
        .iter()
        .map(|m| {
            let range = range(m, seen.locale).unwrap_or_default();
            vec![m.name.clone(), likely(m, seen.locale), range]
        })
        .collect();
    out.push_str(&table(
        &["", "likely", "low–high"],
        &[Side::Left, Side::Right, Side::Right],
        &[32, 22, 20],
        &rows,
    ));
    if !s.verdicts.is_empty() {
        out.push('\n');
    }
    for v in &s.verdicts {
        out.push_str(&paragraph(&format!("{}: ", v.outcome.word()), &v.words));
    }
    out.push('\n');
    for n in &s.notes {
        out.push_str(&paragraph("", n));
    }
    for c in &s.cautions {
        let words = format!("{} ({})", c.words, c.source);
        out.push_str(&paragraph("  ! ", &words));
    }
    out
}
