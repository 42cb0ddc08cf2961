//! The original's steps with the words that only wheat needs marked, and what to do instead.

use maud::{Markup, html};
use quantity::{Locale, scales_of};
use recipe::rework::{MethodNote, ReworkedComponent};
use recipe::{Recipe, Step};
use std::ops::Range;

/// The notes of the component at place `i`, those of a step beside its words.
pub fn notes(i: usize, c: &ReworkedComponent, recipe: &Recipe, home: Locale) -> Markup {
    let texts: Vec<String> = card::notes(c, recipe)
        .iter()
        .map(|n| scales_of(n, home))
        .collect();
    let all: Vec<(&MethodNote, &str)> = c
        .method_notes
        .iter()
        .zip(texts.iter().map(String::as_str))
        .collect();
    if all.is_empty() {
        return html! {};
    }
    let first = all.iter().position(|(n, _)| n.step.is_some());
    let (before, rest) = all.split_at(first.unwrap_or(all.len()));
    let after: Vec<_> = rest
        .iter()
        .filter(|(n, _)| n.step.is_none())
        .copied()
        .collect();
    let of = |s: &&Step| rest.iter().any(|(n, _)| n.step == Some(s.number));
    html! {
        details open[i == 0] {
            summary { "What to do differently (" (all.len()) ")" }
            (whole(before))
            @if first.is_some() {
                p.hint { "Words of the original that ask for what only wheat does are marked and numbered; the note with the number answers them." }
                ol.steps {
                    @for s in recipe.steps.iter().filter(of) {
                        @let (_, method) = recipe.step_in_method(s.number);
                        li data-k={ "s" (i) "-" (s.number) } {
                            (step(&recipe.step_label(s.number), method, s, rest))
                        }
                    }
                }
            }
            (whole(&after))
        }
    }
}

fn whole(notes: &[(&MethodNote, &str)]) -> Markup {
    html! { @if !notes.is_empty() { ul { @for (_, text) in notes { li { (text) } } } } }
}

fn step(number: &str, method: Option<&str>, s: &Step, notes: &[(&MethodNote, &str)]) -> Markup {
    let mine = || notes.iter().filter(|(n, _)| n.step == Some(s.number));
    let mut spans: Vec<Range<usize>> = mine()
        .filter_map(|(n, _)| Some(n.aid.as_ref()?.span.clone()))
        .collect();
    spans.sort_by_key(|s| (s.start, s.end));
    let place = |n: &MethodNote| {
        let aid = n.aid.as_ref()?;
        spans.iter().position(|s| *s == aid.span).map(|at| at + 1)
    };
    let mut sorted: Vec<_> = mine().collect();
    sorted.sort_by_key(|(n, _)| place(n).unwrap_or(usize::MAX));
    html! {
        p.was {
            strong { @if let Some(m) = method { "‘" (m) "’, step " } @else { "Step " } (number) }
            br;
            (marked(&s.text, &spans))
        }
        ul {
            @for (n, text) in sorted {
                li {
                    @match place(n) {
                        Some(at) => {
                            @let (what, look) = text.rsplit_once(" Look for ").unwrap_or((text, ""));
                            strong { (at) } " "
                            @if let Some(words) = n.aid.as_ref().and_then(|a| s.text.get(a.span.clone())) { "‘" (words) "’. " }
                            (what)
                            @if !look.is_empty() { br; strong { "Look for " } (look) }
                        }
                        None => { (text) }
                    }
                }
            }
        }
    }
}

/// A text with spans marked and numbered; spans are in order. One that begins in another gives
/// its number alone.
fn marked(text: &str, spans: &[Range<usize>]) -> Markup {
    let mut at = 0;
    html! {
        @for (i, s) in spans.iter().enumerate() {
            (text.get(at..s.start).unwrap_or_default())
            @let words = text.get(s.start.max(at)..s.end).unwrap_or_default();
            @if words.is_empty() { sup { (i + 1) } } @else { mark { (words) sup { (i + 1) } } }
            @let end = s.end.max(at);
            ({ at = end; "" })
        }
        (text.get(at..).unwrap_or_default())
    }
}

#[cfg(test)]
mod tests {
    use super::marked;

    #[test]
    fn all_of_a_text_is_shown_once() {
        for (spans, want) in [
            (&[][..], "Knead it well."),
            (
                &[0..5, 9..13],
                "<mark>Knead<sup>1</sup></mark> it <mark>well<sup>2</sup></mark>.",
            ),
            (
                &[0..8, 6..13],
                "<mark>Knead it<sup>1</sup></mark><mark> well<sup>2</sup></mark>.",
            ),
            (
                &[0..8, 0..8],
                "<mark>Knead it<sup>1</sup></mark><sup>2</sup> well.",
            ),
        ] {
            assert_eq!(marked("Knead it well.", spans).into_string(), want);
        }
    }
}
