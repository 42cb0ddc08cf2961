//! The figures as text.

use super::figures::{Figures, mean, own_range, root_mean_square};
use super::fit::Follow;
use super::formulas::Data;
use numeric::quantile::median;
use std::collections::BTreeSet;
use std::error::Error;
use std::fmt::Write;

/// Everything that `evidence hydration` prints.
pub(crate) fn report(data: &Data, figures: &Figures) -> Result<String, Box<dyn Error>> {
    let mut out = String::new();
    let all = figures.foretold.len();
    writeln!(
        out,
        "Hydration of {all} gluten-free formulas from {} sources; each foretold by a fit that has seen\n\
         none of its source. Misses are |ln(expected / published)|; widths are ln(high / low).\n",
        data.sources().len()
    )?;
    styles(&mut out, data, figures)?;
    overall(&mut out, data, figures)?;
    alternatives(&mut out, data, figures)?;
    pairs(&mut out, figures)?;
    Ok(out)
}

fn styles(out: &mut String, data: &Data, figures: &Figures) -> Result<(), Box<dyn Error>> {
    writeln!(
        out,
        "{:<20}{:>4}{:>10}{:>10}{:>8}{:>8}{:>12}",
        "style", "n", "miss", "median's", "held %", "width", "own 5-95"
    )?;
    for style in data.styles() {
        let some = Some(style);
        let n = figures.of(some).count();
        let own = own_range(data, style, &BTreeSet::new())?;
        writeln!(
            out,
            "{style:<20}{n:>4}{:>10.3}{:>10.3}{:>8.0}{:>8.2}{:>12.2}",
            figures.median_miss(some)?,
            median(&figures.of(some).map(|f| f.median_miss).collect::<Vec<_>>())?,
            100.0 * figures.coverage(some),
            mean(figures.of(some).map(|f| f.width)),
            own[2] - own[0],
        )?;
    }
    Ok(())
}

/// Mean width over formulas of the styles' own ranges, as drawn from all their formulas.
pub(crate) fn own_width(data: &Data) -> Result<f64, Box<dyn Error>> {
    let mut widths = Vec::new();
    for formula in &data.formulas {
        let own = own_range(data, &formula.style, &BTreeSet::new())?;
        widths.push(own[2] - own[0]);
    }
    Ok(mean(widths.into_iter()))
}

fn overall(out: &mut String, data: &Data, figures: &Figures) -> Result<(), Box<dyn Error>> {
    let of_median: Vec<f64> = figures.of(None).map(|f| f.median_miss).collect();
    let of_model: Vec<f64> = figures.of(None).map(|f| f.miss).collect();
    writeln!(
        out,
        "\nall {:>20} {:>8} {:>8}",
        "median miss", "mean", "rms"
    )?;
    for (name, misses) in [("model", &of_model), ("style's median", &of_median)] {
        writeln!(
            out,
            "  {name:<16}{:>6.3} {:>8.3} {:>8.3}",
            median(misses)?,
            mean(misses.iter().copied()),
            root_mean_square(misses)
        )?;
    }
    let width = mean(figures.of(None).map(|f| f.width));
    let by_style: Vec<f64> = data
        .styles()
        .iter()
        .map(|s| mean(figures.of(Some(s)).map(|f| f.width)))
        .collect();
    writeln!(
        out,
        "90 % intervals hold {:.1} % of formulas not seen; mean width {width:.2} (over styles {:.2})",
        100.0 * figures.coverage(None),
        mean(by_style.into_iter()),
    )?;
    writeln!(
        out,
        "style's own 5th-95th percentile: width {:.2}, holding {:.1} % of formulas not seen;\n\
         stretched to hold as many as the intervals: width {:.2}",
        own_width(data)?,
        100.0 * mean(figures.of(None).map(|f| f64::from(u8::from(f.own_held)))),
        figures.own_width_at_equal_coverage(),
    )?;
    Ok(())
}

fn alternatives(out: &mut String, data: &Data, figures: &Figures) -> Result<(), Box<dyn Error>> {
    writeln!(
        out,
        "\nstyles that follow absorption {:>14} {:>8} {:>8}",
        "median miss", "mean", "rms"
    )?;
    for (name, follow) in [
        ("none", Follow::None),
        ("yeast doughs (kept)", Follow::YeastDoughs),
        ("and poured batters", Follow::AndBatters),
        ("and pasta", Follow::AndPasta),
    ] {
        let other;
        let shown = if follow == figures.follow {
            figures
        } else {
            other = Figures::measure(data, follow)?;
            &other
        };
        let misses: Vec<f64> = shown.of(None).map(|f| f.miss).collect();
        writeln!(
            out,
            "  {name:<34}{:>8.3} {:>8.3} {:>8.3}",
            median(&misses)?,
            mean(misses.iter().copied()),
            root_mean_square(&misses)
        )?;
    }
    Ok(())
}

fn pairs(out: &mut String, figures: &Figures) -> Result<(), Box<dyn Error>> {
    writeln!(
        out,
        "\n{:<18}{:>8}{:>10}{:>10}{:>18}{:>8}{:>10}{:>10}",
        "pair", "wheat", "published", "expected", "interval", "miss", "nothing's", "median's"
    )?;
    for pair in &figures.pairs {
        writeln!(
            out,
            "{:<18}{:>8.1}{:>10.1}{:>10.1}{:>18}{:>8.3}{:>10.3}{:>10.3}{}",
            pair.id,
            pair.wheat,
            pair.published,
            pair.expected.likely,
            format!("{:.0}-{:.0}", pair.expected.low, pair.expected.high),
            pair.miss[0],
            pair.miss[1],
            pair.miss[2],
            if pair.from_memory {
                "  one side from memory"
            } else {
                ""
            },
        )?;
    }
    writeln!(
        out,
        "\n{} pairs {:>20} {:>8} {:>8}",
        figures.pairs.len(),
        "median miss",
        "mean",
        "rms"
    )?;
    for (kind, name) in ["model", "change nothing", "style's median"]
        .iter()
        .enumerate()
    {
        let misses = figures.pair_misses(kind);
        writeln!(
            out,
            "  {name:<20}{:>8.3} {:>8.3} {:>8.3}",
            median(&misses)?,
            mean(misses.iter().copied()),
            root_mean_square(&misses)
        )?;
    }
    let nearer = figures
        .pairs
        .iter()
        .filter(|p| p.miss[0] < p.miss[1])
        .count();
    let held = figures
        .pairs
        .iter()
        .filter(|p| p.expected.low <= p.published && p.published <= p.expected.high)
        .count();
    writeln!(
        out,
        "nearer than changing nothing in {nearer} of {}; the interval holds {held}",
        figures.pairs.len()
    )?;
    Ok(())
}
