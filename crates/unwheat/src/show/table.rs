//! Tables that fit 80 columns: cells wrap between words, figures line up on the right.

use unicode_width::{UnicodeWidthChar, UnicodeWidthStr};

/// The width everything is set to.
pub const WIDTH: usize = 80;

/// Which side a column leans to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// Words.
    Left,
    /// Figures.
    Right,
}

/// Breaks text between words to lines of at most `width`; a longer word is cut.
pub fn wrap(text: &str, width: usize) -> Vec<String> {
    let width = width.max(4);
    let mut lines: Vec<String> = Vec::new();
    let mut line = String::new();
    // A figure and its unit stay together.
    let text = super::plain(text)
        .replace(" %", "\u{a0}%")
        .replace(" g ", "\u{a0}g ")
        .replace(" °C", "\u{a0}°C")
        .replace(" °F", "\u{a0}°F");
    for word in text.split([' ', '\n', '\t']).filter(|w| !w.is_empty()) {
        let wide = word.width();
        if !line.is_empty() && line.width() + 1 + wide > width {
            lines.push(std::mem::take(&mut line));
        }
        if wide > width {
            // A word longer than the line is cut where the line is full.
            let mut used = 0;
            for c in word.chars() {
                let w = c.width().unwrap_or(0);
                if used + w > width {
                    lines.push(std::mem::take(&mut line));
                    used = 0;
                }
                line.push(c);
                used += w;
            }
            continue;
        }
        if !line.is_empty() {
            line.push(' ');
        }
        line.push_str(word);
    }
    if !line.is_empty() || lines.is_empty() {
        lines.push(line);
    }
    lines
}

/// A paragraph with a hanging indent.
pub fn paragraph(lead: &str, text: &str) -> String {
    let indent = lead.width();
    let mut out = String::new();
    for (i, line) in wrap(text, WIDTH - indent).into_iter().enumerate() {
        let gap = " ".repeat(indent);
        out.push_str(if i == 0 { lead } else { &gap });
        out.push_str(&line);
        out.push('\n');
    }
    out
}

/// Rows under a head. `widths` are the most each column may take; columns take no more than
/// they need.
pub fn table(head: &[&str], sides: &[Side], widths: &[usize], rows: &[Vec<String>]) -> String {
    let mut need: Vec<usize> = head.iter().map(|h| h.width()).collect();
    for row in rows {
        for (n, cell) in need.iter_mut().zip(row) {
            *n = (*n).max(cell.width());
        }
    }
    let widths: Vec<usize> = need.iter().zip(widths).map(|(n, w)| (*n).min(*w)).collect();
    let mut out = String::new();
    let mut put = |cells: &[String]| {
        let wrapped: Vec<Vec<String>> = cells
            .iter()
            .zip(&widths)
            .map(|(c, w)| wrap(c, *w))
            .collect();
        let height = wrapped.iter().map(Vec::len).max().unwrap_or(0);
        for i in 0..height {
            let mut line = String::new();
            for ((cell, width), side) in wrapped.iter().zip(&widths).zip(sides) {
                let text = cell.get(i).map_or("", String::as_str);
                let pad = " ".repeat(width.saturating_sub(text.width()));
                match side {
                    Side::Left => line.push_str(&format!("{text}{pad}  ")),
                    Side::Right => line.push_str(&format!("{pad}{text}  ")),
                }
            }
            out.push_str(line.trim_end());
            out.push('\n');
        }
    };
    put(&head.iter().map(|h| (*h).to_owned()).collect::<Vec<_>>());
    let rule: Vec<String> = widths.iter().map(|w| "─".repeat(*w)).collect();
    put(&rule);
    for row in rows {
        put(row);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_is_wider_than_it_may_be() {
        let text =
            "a long remark about flour that must wrap and anextraordinarilylongwordthatmustbecut";
        assert!(wrap(text, 20).iter().all(|l| l.width() <= 20));
        let rows = vec![vec![text.to_owned(), "1,234 g (1,000–1,400)".to_owned()]; 3];
        let t = table(
            &["words", "figure"],
            &[Side::Left, Side::Right],
            &[50, 26],
            &rows,
        );
        assert!(t.lines().all(|l| l.width() <= WIDTH));
    }
}
