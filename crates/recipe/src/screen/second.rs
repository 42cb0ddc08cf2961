//! The second look: words of gluten grain in a line that no finding calls by its name yet.

use super::allergens::Gathered;
use super::beside::{beside, is_stated};
use super::evidence::known;
use super::judge::KEEP;
use super::sum::Sum;
use super::words::{self, Force, Hit};
use super::{Entry, Finding, What, maker};
use larder::{Allergen, Certainty, FoodId, Gluten, Larder};
use quantity::Locale;
use std::ops::Range;

/// The second look: words of gluten grain in a line that no finding calls by its name yet.
pub(super) fn look(
    entries: &[Entry<'_>],
    larder: &Larder,
    locale: Locale,
    findings: &mut Vec<Finding>,
    allergens: &mut Gathered,
    sum: &mut Sum,
) {
    let mut done: Vec<(usize, usize, &str)> = Vec::new();
    for e in entries.iter().filter(|e| e.what != What::Pasted) {
        if done.contains(&(e.component, e.line, e.text)) {
            continue;
        }
        done.push((e.component, e.line, e.text));
        let same: Vec<&Entry<'_>> = entries
            .iter()
            .filter(|o| (o.component, o.line, o.text) == (e.component, e.line, e.text))
            .filter(|o| o.what != What::Pasted)
            .collect();
        let note = same.iter().all(|o| o.what == What::Note);
        // A line that holds gluten needs no second word for it; another grain is an allergen of
        // its own.
        let contains = !note
            && findings.iter().any(|f| {
                (f.component, f.line) == (e.component, e.line) && f.verdict == Gluten::Contains
            });
        let mut grains: Vec<Allergen> = findings
            .iter()
            .filter(|f| (f.component, f.line) == (e.component, e.line))
            .filter_map(|f| f.food)
            .flat_map(|f| &larder.food(f).allergens)
            .map(|(a, _)| *a)
            .collect();
        // Words inside the sure name of a food are the larder's business.
        let known: Vec<Range<usize>> = same
            .iter()
            .filter(|o| o.certainty == Certainty::Sure)
            .filter_map(|o| {
                let food = o.food()?;
                if !o.span.is_empty() {
                    return Some(o.span.clone());
                }
                let m = larder.find(o.text, locale)?;
                (m.food == food && m.certainty == Certainty::Sure).then_some(m.span)
            })
            .collect();
        let flour = same
            .iter()
            .any(|o| o.food().is_some_and(|f| larder.food(f).is_flour_phase()));
        let purified = same.iter().any(|o| {
            o.food()
                .is_some_and(|f| PURIFIED.contains(&larder.food(f).key.as_str()))
        });
        let mut hits: Vec<Hit> = words::scan(e.text)
            .into_iter()
            .filter(|h| {
                !known
                    .iter()
                    .any(|k| k.start <= h.span.start && h.span.end <= k.end)
            })
            .collect();
        hits.sort_by_key(|h| h.force != Force::Contains);
        for h in hits {
            let told = contains
                || !note
                    && findings.iter().any(|f| {
                        (f.component, f.line) == (e.component, e.line)
                            && f.verdict == Gluten::Contains
                    });
            let other = h.force == Force::Contains
                && !h.sold_free
                && h.allergen.is_some_and(|a| !grains.contains(&a));
            // 'For the tempura batter' says what is made.
            if told && !other || note && h.word == "tempura" {
                continue;
            }
            grains.extend(h.allergen);
            let breath = words::breath(e.text, &h.span);
            let labelled = h.sold_free && words::labelled(e.text, &h.span, &breath);
            let (verdict, reason) = match h.force {
                _ if note => (
                    Gluten::Check,
                    format!(
                        "a note names '{}', which holds gluten: see what is meant",
                        h.word
                    ),
                ),
                Force::Contains if labelled => (Gluten::Check, format!("'{}': {KEEP}", h.word)),
                Force::Contains if purified => (
                    Gluten::Check,
                    format!("made from {}, purified since: check the label", h.word),
                ),
                Force::Contains => (
                    Gluten::Contains,
                    format!("the line says '{}', which holds gluten", h.word),
                ),
                Force::Check => (
                    Gluten::Check,
                    format!("the line says '{}': check the label", h.word),
                ),
                Force::BareFlour if labelled => continue,
                Force::BareFlour if flour => (
                    Gluten::Check,
                    "'flour' without its kind is wheat flour: say which is meant".to_owned(),
                ),
                Force::BareFlour => (
                    Gluten::Contains,
                    "the line says 'flour' without its kind, which is wheat flour".to_owned(),
                ),
            };
            if let Some(a) = h.allergen {
                let place = if note { "in a note" } else { "on the line" };
                allergens.add(
                    a,
                    &format!("'{}' {place}", h.word),
                    verdict == Gluten::Contains || purified,
                    false,
                );
            }
            match verdict {
                Gluten::Contains => sum.gluten = true,
                _ if note => sum.unweighed_note(&h.word),
                _ if labelled => {}
                _ => sum.no_bound(Some(format!("'{}': only a label can tell", h.word))),
            }
            findings.push(Finding {
                component: e.component,
                line: e.line,
                words: h.word,
                food: None,
                verdict,
                reason,
                labelled,
                open: !(labelled && h.sold_free && h.force == Force::Contains && !note),
                note: None,
            });
        }
        if !note {
            // What the line offers as a choice has been told.
            let known = |name: &str| {
                same.iter()
                    .any(|o| o.strangers.iter().any(|s| s.contains(name)))
            };
            for span in maker::beside(e.text, larder) {
                let named = &e.text[span.clone()];
                if same
                    .iter()
                    .any(|o| o.span.start < span.end && span.start < o.span.end)
                    || known(named)
                {
                    continue;
                }
                sum.no_bound(Some(format!("'{named}': only its label can tell")));
                findings.push(Finding {
                    component: e.component,
                    line: e.line,
                    words: named.to_owned(),
                    food: None,
                    verdict: Gluten::Check,
                    reason: "the line names it, and the larder does not know it: check its label"
                        .to_owned(),
                    labelled: false,
                    open: true,
                    note: None,
                });
            }
            for (food, span) in beside_the_items(&same, larder, locale) {
                add_beside(e, food, span, larder, findings, allergens, sum);
            }
        }
        if note
            && let Some(m) = larder.find(e.text, locale)
            && larder.food(m.food).gluten == Gluten::Contains
        {
            let named = e.text.get(m.span.clone()).unwrap_or_default();
            let labelled = words::labelled(e.text, &m.span, &words::breath(e.text, &m.span));
            if !labelled {
                sum.unweighed_note(named);
                for (a, _) in &larder.food(m.food).allergens {
                    allergens.add(*a, &format!("'{named}' in a note"), false, false);
                }
                findings.push(Finding {
                    component: e.component,
                    line: e.line,
                    words: named.to_owned(),
                    food: Some(m.food),
                    verdict: Gluten::Check,
                    reason: format!(
                        "a note names {}, which holds gluten: see what is meant",
                        larder.food(m.food).name
                    ),
                    labelled,
                    open: true,
                    note: None,
                });
            }
        }
    }
}

/// The foods of a line that none of its entries is.
fn beside_the_items(
    same: &[&Entry<'_>],
    larder: &Larder,
    locale: Locale,
) -> Vec<(FoodId, Range<usize>)> {
    let Some(first) = same.first() else {
        return Vec::new();
    };
    // What brackets list of a thing nobody knows was not read.
    let of_name = |o: &&Entry<'_>| match o.what {
        What::Unknown => {
            let name = first.text.get(o.span.clone()).unwrap_or_default();
            let end = name.find(['(', '[', ':']).unwrap_or(name.len());
            o.span.start..o.span.start + end
        }
        _ => o.span.clone(),
    };
    let read: Vec<Range<usize>> = same.iter().map(of_name).collect();
    let foods = same
        .iter()
        .flat_map(|o| o.food().into_iter().chain(o.rivals.iter().copied()));
    let here: Vec<FoodId> = foods
        .chain(same.iter().flat_map(|o| o.alternatives.iter().copied()))
        .collect();
    beside(first.text, &read, &here, larder, locale)
}

/// Tells of a food that a line names beside its ingredients, unless a word of it was told already.
fn add_beside(
    e: &Entry<'_>,
    food: FoodId,
    span: Range<usize>,
    larder: &Larder,
    findings: &mut Vec<Finding>,
    allergens: &mut Gathered,
    sum: &mut Sum,
) {
    let stated = is_stated(e.text, &span);
    let named = e.text.get(span).unwrap_or_default();
    let is = larder.food(food);
    let judged = known(larder, food, Certainty::Sure, false, true).judged;
    for (a, maybe) in &is.allergens {
        if !maybe || judged.verdict != Gluten::Free {
            let certain = stated && !maybe;
            allergens.add(*a, &format!("'{named}' on the line"), certain, e.optional);
        }
    }
    let of_line = |f: &&Finding| (f.component, f.line) == (e.component, e.line);
    let told = findings
        .iter()
        .filter(of_line)
        .any(|f| f.food.is_none() && named.contains(&f.words));
    if judged.verdict == Gluten::Free || !judged.open || told {
        return;
    }
    let holds = if judged.verdict == Gluten::Contains {
        ", which holds gluten: see what is meant, and give it a line of its own if it goes in"
    } else {
        ": check the label"
    };
    sum.no_bound(Some(format!(
        "'{named}': named on the line without an amount"
    )));
    findings.push(Finding {
        component: e.component,
        line: e.line,
        words: named.to_owned(),
        food: Some(food),
        verdict: Gluten::Check,
        reason: format!("the line also names '{named}'{holds}"),
        labelled: false,
        open: true,
        note: None,
    });
}

/// Foods whose glucose or dextrin may be made from wheat and is purified since.
const PURIFIED: [&str; 5] = [
    "glucose_syrup",
    "dextrose",
    "maltodextrin",
    "dextrin",
    "caramel_colour",
];
