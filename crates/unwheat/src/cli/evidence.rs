//! `unwheat evidence`: what stands behind each style, and how well it holds.

use super::json;
use crate::show;
use crate::show::{Side, table};
use clap::Args;
use recipe::evidence::{Quantity, Rule, Told, is_thin, shipped};
use serde::Serialize;

/// Say how far the figures can be trusted, style by style
#[derive(Debug, Args)]
#[command(
    after_help = "Every published formula is foretold by a fit that has seen nothing of its source. How it is measured: docs/evidence.md.\n\nExample:\n  unwheat evidence\n  unwheat evidence --json"
)]
pub struct Evidence {
    /// Print JSON (docs/json.md) in place of words
    #[arg(long)]
    json: bool,
}

#[derive(Debug, Serialize)]
struct Out {
    styles: Vec<StyleOut>,
    all: CalibrationOut,
    pairs: Vec<PairOut>,
    errors_on_pairs: Vec<ErrorsOut>,
    binder_errors_on_formulas: Vec<ErrorsOut>,
}

#[derive(Debug, Serialize)]
struct StyleOut {
    style: &'static str,
    formulas: usize,
    pairs: usize,
    thin_evidence: bool,
    calibration: Option<CalibrationOut>,
    binder: BinderOut,
}

#[derive(Debug, Serialize)]
struct CalibrationOut {
    median_error_ln: f64,
    bias_ln: f64,
    held_of_90_percent: f64,
    width_ln: f64,
}

#[derive(Debug, Serialize)]
struct BinderOut {
    formulas: usize,
    with_binder: usize,
    median_percent: Option<f64>,
    usual_dose_percent: f64,
}

#[derive(Debug, Serialize)]
struct PairOut {
    id: &'static str,
    style: &'static str,
    hydration_percent: ToldOut,
    egg_percent: ToldOut,
    binder_percent: ToldOut,
    source: &'static str,
    status: &'static str,
}

#[derive(Debug, Serialize)]
struct ToldOut {
    wheat: f64,
    published: f64,
    engine: f64,
}

#[derive(Debug, Serialize)]
struct ErrorsOut {
    quantity: &'static str,
    rule: &'static str,
    n: usize,
    median: f64,
    mean: f64,
    root_mean_square: f64,
    nearer: usize,
    farther: usize,
}

impl Evidence {
    pub fn run(self) -> String {
        if self.json { json(&out()) } else { words() }
    }
}

fn calibration(c: recipe::evidence::Calibration) -> CalibrationOut {
    CalibrationOut {
        median_error_ln: c.miss,
        bias_ln: c.bias,
        held_of_90_percent: c.held,
        width_ln: c.width,
    }
}

fn errors(all: &[recipe::evidence::Errors]) -> Vec<ErrorsOut> {
    all.iter()
        .map(|e| ErrorsOut {
            quantity: e.quantity.word(),
            rule: e.rule.word(),
            n: e.n,
            median: e.median,
            mean: e.mean,
            root_mean_square: e.rms,
            nearer: e.nearer,
            farther: e.farther,
        })
        .collect()
}

fn out() -> Out {
    let e = shipped();
    let told = |t: Told| ToldOut {
        wheat: t.wheat,
        published: t.published,
        engine: t.engine,
    };
    Out {
        styles: e
            .styles
            .iter()
            .map(|s| StyleOut {
                style: s.style.key(),
                formulas: s.formulas,
                pairs: s.pairs,
                thin_evidence: is_thin(s.formulas),
                calibration: s.calibration.map(calibration),
                binder: BinderOut {
                    formulas: s.binder.formulas,
                    with_binder: s.binder.with,
                    median_percent: s.binder.median,
                    usual_dose_percent: s.binder.dose,
                },
            })
            .collect(),
        all: calibration(e.all),
        pairs: e
            .pairs
            .iter()
            .map(|p| PairOut {
                id: p.id,
                style: p.style.key(),
                hydration_percent: told(p.hydration),
                egg_percent: told(p.egg),
                binder_percent: told(p.binder),
                source: p.source,
                status: p.status,
            })
            .collect(),
        errors_on_pairs: errors(&e.on_pairs),
        binder_errors_on_formulas: errors(&e.on_formulas),
    }
}

fn words() -> String {
    use Side::{Left, Right};
    let e = shipped();
    let mut out = show::paragraph(
        "",
        "Water of published gluten-free formulas, each foretold from the formulas of other authors.",
    );
    let figures = |c: Option<recipe::evidence::Calibration>| -> Vec<String> {
        c.map_or_else(
            || vec!["–".to_owned(); 4],
            |c| {
                vec![
                    format!("{:.0} %", c.off_percent()),
                    c.lean(),
                    format!("{:.0} %", 100.0 * c.held),
                    format!("{:.1} ×", c.times()),
                ]
            },
        )
    };
    let mut rows: Vec<Vec<String>> = Vec::new();
    for s in &e.styles {
        let mut row = vec![
            s.style.name().to_owned(),
            s.formulas.to_string(),
            s.pairs.to_string(),
        ];
        row.extend(figures(s.calibration));
        row.push(if is_thin(s.formulas) {
            "thin".to_owned()
        } else {
            String::new()
        });
        rows.push(row);
    }
    let mut all = vec![
        "all".to_owned(),
        e.formulas().to_string(),
        e.pairs.len().to_string(),
    ];
    all.extend(figures(Some(e.all)));
    all.push(String::new());
    rows.push(all);
    out.push_str(&table(
        &[
            "style", "formulas", "pairs", "off by", "leans", "held", "range", "",
        ],
        &[Left, Right, Right, Right, Right, Right, Right, Left],
        &[19, 8, 5, 6, 8, 5, 5, 4],
        &rows,
    ));
    for words in [
        "off by: half of the published figures lie farther from what was foretold. leans: what is foretold is usually wetter or drier than published. held: published figures inside the range that promises nine of ten. range: the high end over the low end.",
        "thin: thin evidence, fewer than 6 published formulas.",
    ] {
        out.push_str(&show::paragraph("", words));
    }
    out.push('\n');
    out.push_str(&show::paragraph(
        "",
        &format!(
            "{} published pairs, wheat and gluten-free: the wheat side reworked with the flours of the other, against 'swap weight for weight, change nothing'.",
            e.pairs.len()
        ),
    ));
    let mut rows = Vec::new();
    for quantity in Quantity::ALL {
        for rule in [Rule::Engine, Rule::Nothing] {
            let Some(x) = e.errors(quantity, rule) else {
                continue;
            };
            let shown = |v: f64| match quantity {
                Quantity::Hydration => format!("{:.1} %", 100.0 * v.exp_m1()),
                Quantity::Egg => format!("{v:.1}"),
                Quantity::Binder => format!("{v:.2}"),
            };
            rows.push(vec![
                quantity.word().to_owned(),
                match rule {
                    Rule::Nothing => "change nothing".to_owned(),
                    _ => "rework".to_owned(),
                },
                shown(x.median),
                shown(x.mean),
                shown(x.rms),
                if rule == Rule::Nothing {
                    String::new()
                } else {
                    format!("{} / {}", x.nearer, x.farther)
                },
            ]);
        }
    }
    out.push_str(&table(
        &["", "", "median", "mean", "rms", "nearer / farther"],
        &[Left, Left, Right, Right, Right, Right],
        &[10, 15, 8, 8, 8, 16],
        &rows,
    ));
    out.push_str(&show::paragraph(
        "",
        "How far off, egg and binder in points of per cent of the flour. rms: root mean square, in which the far misses count most. nearer / farther: in how many pairs the rework is nearer to the published figure than changing nothing, and farther.",
    ));
    for quantity in Quantity::ALL {
        out.push_str(&show::paragraph(
            "  • ",
            &format!(
                "{}: {}",
                quantity.word(),
                e.verdict(quantity, Rule::Engine).words()
            ),
        ));
    }
    out.push_str(&show::paragraph(
        "",
        "These are published habits, not tests of which is best: many authors swap the flour and change nothing else. Sources and every pair: docs/evidence.md.",
    ));
    out
}
