//! The fields of the Heat page, laid out in sentences as in a bench book.

use super::Page;
use crate::web::recipe::read::says;
use crate::web::recipe::{Leaf, change_to, fields};
use maud::{Markup, html};
use recipe::heat::{CoreTarget, HeatField, Origin};
use recipe::sheet::Change;

/// A piece of a sentence.
pub enum Bit {
    /// Words.
    Say(&'static str),
    /// Words of the recipe's.
    Words(String),
    /// A field by its label.
    Ask(HeatField, &'static str),
}

/// The narrowest and the widest field, in letters.
const LETTERS: (usize, usize) = (6, 40);

impl Page<'_> {
    /// A sentence with its fields, and below it what those rest on that are not typed.
    pub fn sentence(&self, bits: &[Bit]) -> Markup {
        html! {
            div.sentence {
                @for bit in bits {
                    @match bit {
                        Bit::Say(words) => { span { (words) } },
                        Bit::Words(words) => { span { (words) } },
                        Bit::Ask(field, label) => { (self.slot(*field, label)) },
                    }
                }
            }
            (self.whence(bits))
        }
    }

    /// A figure's own form: what is typed stands in it, greyed what counts without that.
    fn slot(&self, field: HeatField, label: &str) -> Markup {
        let id = format!("heat-{}", field.key());
        let own = self.figures.notes.get(field.key());
        let grey = self.grey(field);
        let letters = own.or(grey.as_ref()).map_or(0, |w| w.chars().count());
        let hint = self.why(field).map(|_| format!("{id}-hint"));
        let change = Change::SetHeat {
            what: field.key().to_owned(),
            text: None,
        };
        html! {
            form method="post" action=(change_to(self.o)) data-live data-k=(id) {
                (fields(self.app, self.o, Leaf::Heat))
                (says(&change))
                label.unseen for=(id) { (label) }
                input id=(id) name="value" value=(own.map_or("", String::as_str)) placeholder=[grey] size=(letters.clamp(LETTERS.0, LETTERS.1)) autocomplete="off" aria-describedby=[hint] data-typed data-empties;
                noscript { button.small { "Take" span.unseen { ": " (label) } } }
            }
        }
    }

    /// What counts where nothing is typed, as it is shown.
    fn grey(&self, field: HeatField) -> Option<String> {
        if let Some(v) = self.figures.value(field) {
            return Some(v.shown());
        }
        match field {
            HeatField::Core => {
                let metres = self.figures.place.metres;
                let given = self.figures.given;
                let filling = given.map_or((false, false), |g| (g.sets, g.meat));
                let style = given.and_then(|g| g.style);
                let core = CoreTarget::for_bake(filling, style, None, metres);
                core.ok().map(|c| self.told(&c.words()))
            }
            HeatField::KnownPan
            | HeatField::KnownOven
            | HeatField::KnownTime
            | HeatField::KnownDough
            | HeatField::ProofTime => Some("not known".to_owned()),
            // A piece without a pan weighs what its size says.
            HeatField::PanDough if self.figures.value(HeatField::KnownDough).is_some() => {
                Some("as its size".to_owned())
            }
            HeatField::PanDough => Some("as full".to_owned()),
            HeatField::Friction => Some("as usual".to_owned()),
            HeatField::Preferment | HeatField::Measured => Some("none".to_owned()),
            _ => None,
        }
    }

    /// What an untyped figure rests on, where its sentence does not say it.
    fn why(&self, field: HeatField) -> Option<String> {
        use HeatField::{FlourMass, OtherMass, ProofPiece, WaterMass};
        // The weights of the batch are no news.
        if matches!(field, FlourMass | OtherMass | ProofPiece | WaterMass) {
            return None;
        }
        let v = self.figures.value(field)?;
        let told = matches!(v.origin, Origin::Recipe | Origin::Worked);
        told.then(|| v.from().to_owned())
    }

    fn whence(&self, bits: &[Bit]) -> Markup {
        let told: Vec<_> = bits
            .iter()
            .filter_map(|bit| match bit {
                Bit::Ask(field, label) => Some((field, label, self.why(*field)?)),
                Bit::Say(_) | Bit::Words(_) => None,
            })
            .collect();
        html! {
            @if !told.is_empty() {
                p.hint {
                    @for (field, label, why) in &told {
                        span id={ "heat-" (field.key()) "-hint" } { (label) ": " (why) ". " }
                    }
                }
            }
        }
    }
}
