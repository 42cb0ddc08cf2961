//! `unwheat screen`: what may hold gluten, and allergens.

use super::heading;
use crate::show::Style;
use crate::show::table::{Side, paragraph, table};
use larder::allergen::Regime;
use larder::{Gluten, Larder};
use quantity::{Locale, degrees_in};
use recipe::screen::Screening;

use Side::Left;

/// `unwheat screen`.
pub fn screening(
    s: &Screening,
    components: &[&str],
    title: Option<&str>,
    larder: &Larder,
    locale: Locale,
    style: &Style,
) -> String {
    let mut out = String::new();
    if let Some(t) = title {
        out.push_str(&heading(t, style));
    }
    out.push_str(&findings(s, components, larder, locale, style, None));
    out
}

/// Gluten and allergens, shared by screen and rework.
///
/// # Arguments
/// * `before` — the screening of the original, for a rework: what it brings is said, the rest short.
pub fn findings(
    s: &Screening,
    components: &[&str],
    larder: &Larder,
    locale: Locale,
    style: &Style,
    before: Option<&Screening>,
) -> String {
    let short = before.is_some();
    let mut out = format!(
        "\n{}: {}\n",
        style.heading("GLUTEN"),
        style.mark(s.told(larder))
    );
    let shown: Vec<_> = s
        .findings
        .iter()
        .filter(|f| !short || f.verdict != Gluten::Free)
        .collect();
    let free = s.findings.len() - shown.len();
    let rows: Vec<Vec<String>> = {
        let mut sorted = shown;
        sorted.sort_by_key(|f| f.verdict);
        sorted
            .iter()
            .map(|f| {
                let part = components.get(f.component).copied().unwrap_or("");
                let words = if part.is_empty() {
                    f.words.clone()
                } else {
                    format!("{} ({part})", f.words)
                };
                let reason = match &f.note {
                    Some(n) => format!("{}; {n}", f.reason),
                    None => f.reason.clone(),
                };
                vec![f.verdict.words().to_owned(), words, reason]
            })
            .collect()
    };
    if !rows.is_empty() {
        out.push_str(&table(
            &["verdict", "line", "why"],
            &[Left, Left, Left],
            &[15, 28, 33],
            &rows,
        ));
    }
    if free > 0 {
        out.push_str(&format!(
            "{free} other {} free by nature.\n",
            if free == 1 {
                "ingredient is"
            } else {
                "ingredients are"
            }
        ));
    }
    let milled = s.milled(larder);
    if !milled.is_empty() {
        out.push_str(&paragraph(
            "",
            &format!(
                "Free by nature, but milled or packed beside wheat; buy labelled gluten-free: {}.",
                milled.join(", ")
            ),
        ));
    }
    for m in &s.method {
        out.push_str(&paragraph("  ! ", m));
    }
    out.push_str(
        &paragraph("Gluten of the finished food: ", &s.ppm.words())
            .replace("                             ", "  "),
    );
    let most = if short { 3 } else { s.ppm.unknown.len() };
    for u in s.ppm.unknown.iter().take(most) {
        out.push_str(&paragraph("  ? ", u));
    }
    if s.ppm.unknown.len() > most {
        let more = s.ppm.unknown.len() - most;
        out.push_str(&format!("  ? and {more} more: see unwheat screen\n"));
    }
    out.push_str(&format!("\n{}\n", style.heading("ALLERGENS")));
    for &r in Regime::ALL {
        let st = s.statement(r);
        let contains = if st.contains.is_empty() {
            "nothing on its list is certain".to_owned()
        } else {
            st.contains.join(", ")
        };
        out.push_str(&paragraph("  ", &format!("{}: {contains}.", r.name())));
        if !short {
            for c in &st.check {
                out.push_str(&paragraph("    ? ", c));
            }
            for n in &st.notes {
                out.push_str(&paragraph("    · ", n));
            }
        }
    }
    if let Some(before) = before {
        let brought = s.brought(before);
        if !brought.is_empty() {
            out.push_str(&paragraph(
                "  ! ",
                &format!("not in the original: {}", brought.join(", ")),
            ));
        }
        let st = s.statement(Regime::Eu);
        if !st.check.is_empty() {
            out.push_str(&paragraph(
                "  ? ",
                &format!(
                    "check labels, for what {} list: {}",
                    Regime::Eu.name(),
                    st.check.join("; ")
                ),
            ));
        }
    }
    if !s.cautions.is_empty() {
        out.push_str(&format!("\n{}\n", style.heading("CAUTIONS")));
        for c in &s.cautions {
            out.push_str(&paragraph("  ! ", &degrees_in(c.text, locale)));
        }
    }
    out
}
