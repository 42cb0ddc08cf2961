//! `docs/evidence.md` from the table.

use recipe::evidence::{Errors, Evidence, Quantity, Rule, is_thin};

const HEAD: &str = "# The evidence

Written by `cargo run -p evidence -- report --write` with the table that ships, `crates/recipe/data/evidence.tsv`; do not edit. A test measures both again. `unwheat evidence` prints the same, and the workbench has it at /evidence. How the hydration model is made: [hydration-model.md](hydration-model.md).

## Each style

Each published gluten-free formula is foretold by a fit that has seen nothing of its source. With r = ln(expected hydration / published hydration): *error* is the median of |r|, *bias* the median of r (above 0: the engine expects wetter), *held* the share of published figures inside the interval that promises nine of ten, *width* the mean of ln(high / low). Below 6 formulas the evidence is thin, and the program says so wherever it shows a figure of the style.

| style | formulas | pairs | error | bias | held | width | |
|---|---|---|---|---|---|---|---|
";

const RANGES: &str = "
## The ranges of a recipe

The range of the expected hydration, and of the free liquid that is set by it, is made of two doubts. The first is the fit's: the residuals above, or those of the pairs where the style has one, cut to the style's published range. The second is the weighing of the recipe at hand: a cup of flour is less sure than 250 g. They are independent, so each half of the range is sqrt(a² + b²) in natural logarithms. The likely figure is the same either way. The hydration shown of the reworked formula is that of its lines: the liquid with this range, and every other line with its own.

A liquid outside yeast doughs gives a tenth at the most, as in the pairs; the low end of its range lies below that by the weighing's doubt.
";

const PAIRS: &str = "
## The pairs

Published wheat formulas with their gluten-free counterparts. The wheat side goes through the whole engine (read, weighed, reworked, water set where there is a free liquid), with the flours of the gluten-free side as the blend and a hydration fit that has seen neither side. It is compared with 'swap weight for weight, change nothing'. Water, egg and binder are per cent of the flour phase as the larder counts them; errors of hydration are |ln(foretold / published)|, of egg and binder points of per cent.

| quantity | rule | median | mean | root mean square | nearer than changing nothing | farther |
|---|---|---|---|---|---|---|
";

const VERDICT: &str = "
*Nearer* or *farther* is said where median, mean and root mean square do not contradict one another. What the fitted water and the egg that goes with it gain, they gain on one sponge cake (egg 123 → 200 % of the flour): with one pair less there is nothing in it. So the engine leaves egg alone and says so.

What was not held out: the style ranges, and the rule that a liquid gives a tenth at the most, were chosen with these pairs in sight. The hydration figures of the engine are the better for it, if anything. The model alone, before the engine asks whether there is a free liquid to move, is in [hydration-model.md](hydration-model.md).

";

fn number(v: f64, places: usize) -> String {
    format!("{v:.places$}")
}

fn row(out: &mut String, x: &Errors) {
    out.push_str(&format!(
        "| {} | {} | {} | {} | {} | {} of {} | {} |\n",
        x.quantity.word(),
        x.rule.says(x.quantity),
        number(x.median, 3),
        number(x.mean, 3),
        number(x.rms, 3),
        x.nearer,
        x.n,
        x.farther
    ));
}

/// The whole page.
pub(crate) fn docs(e: &Evidence) -> String {
    let mut out = HEAD.to_owned();
    for s in &e.styles {
        let thin = if is_thin(s.formulas) { "thin" } else { "" };
        let figures = s.calibration.map_or("– | – | – | –".to_owned(), |c| {
            format!(
                "{} | {:+.3} | {:.0} % | {}",
                number(c.miss, 3),
                c.bias,
                100.0 * c.held,
                number(c.width, 2)
            )
        });
        out.push_str(&format!(
            "| {} | {} | {} | {figures} | {thin} |\n",
            s.style.name(),
            s.formulas,
            s.pairs
        ));
    }
    out.push_str(&format!(
        "| all | {} | {} | {} | {:+.3} | {:.0} % | {} | |\n",
        e.formulas(),
        e.pairs.len(),
        number(e.all.miss, 3),
        e.all.bias,
        100.0 * e.all.held,
        number(e.all.width, 2)
    ));
    out.push_str(RANGES);
    out.push_str(PAIRS);
    e.on_pairs.iter().for_each(|x| row(&mut out, x));
    out.push('\n');
    for quantity in Quantity::ALL {
        for rule in [Rule::Engine, Rule::Learnt, Rule::Fit] {
            if e.errors(quantity, rule).is_none() {
                continue;
            }
            let counts = e
                .errors(quantity, rule)
                .map_or((0, 0), |x| (x.nearer, x.farther));
            out.push_str(&format!(
                "- {}, {}: **{}**; nearer in {} pairs, farther in {}.\n",
                quantity.word(),
                rule.says(quantity),
                e.verdict(quantity, rule).words(),
                counts.0,
                counts.1
            ));
        }
    }
    out.push_str(VERDICT);
    out.push_str("| style | hydration: wheat → published (engine) | egg | binder | seen at |\n|---|---|---|---|---|\n");
    for p in &e.pairs {
        let told = |t: &recipe::evidence::Told, places: usize| {
            format!(
                "{} → {} ({})",
                number(t.wheat, places),
                number(t.published, places),
                number(t.engine, places)
            )
        };
        out.push_str(&format!(
            "| {} | {} | {} | {} | {}{} |\n",
            p.style.name(),
            told(&p.hydration, 0),
            told(&p.egg, 0),
            told(&p.binder, 2),
            p.source,
            if p.status == "seen" {
                ""
            } else {
                "; one side from memory"
            }
        ));
    }
    out.push_str("\n## Binder in the published formulas\n\nFormulas whose ingredients are seen whole; gums as they are, psyllium at 2.5 to 1 of xanthan (common practice, no source). 'Usual dose' is the engine's for the style.\n\n| style | formulas | with a binder | their middle dose, % | usual dose, % |\n|---|---|---|---|---|\n");
    for s in &e.styles {
        let b = s.binder;
        out.push_str(&format!(
            "| {} | {} | {} | {} | {} |\n",
            s.style.name(),
            b.formulas,
            b.with,
            b.median.map_or("–".to_owned(), |m| number(m, 2)),
            number(b.dose, 2)
        ));
    }
    out.push_str("\nErrors of three rules on these formulas, points of per cent, each style's middle from other sources:\n\n| quantity | rule | median | mean | root mean square | nearer than none | farther |\n|---|---|---|---|---|---|---|\n");
    e.on_formulas.iter().for_each(|x| row(&mut out, x));
    out.push_str(BINDER);
    out
}

const BINDER: &str = "
Outside yeast doughs most authors print no binder. That is a habit, not a test: egg binds for them, ready blends with gum in them are not told apart, and a published formula says nothing of how it crumbled. The dose of the style stays a starting point for a test bake; the figures here say that it is on the high side of what is published wherever fewer than half of the formulas have one.
";
