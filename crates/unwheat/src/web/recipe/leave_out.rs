//! 'Leave out as well' on the Rework page: what a reader leaves out besides gluten, and what could
//! not be replaced.

use super::{Leaf, Open, change_to, component_name, fields};
use crate::web::app::App;
use crate::web::page::sentence;
use maud::{Markup, html};
use recipe::LeftOut;
use recipe::rework::Rework;
use recipe::sheet::Change;

/// The group of tick boxes and what can be said of it. Each box is a button of one form, so that it
/// works without scripts.
pub fn panel(app: &App, o: &Open, r: &Rework) -> Markup {
    let out = o.draft.sheet.left_out();
    let change = |what: LeftOut| {
        let change = Change::LeaveOut {
            what: what.word().to_owned(),
            yes: !out.contains(&what),
        };
        serde_json::to_string(&change).unwrap_or_default()
    };
    html! {
        section.sheet aria-labelledby="out-h" data-k="leave-out" {
            form method="post" action=(change_to(o)) data-live {
                (fields(app, o, Leaf::Rework))
                fieldset.ticks {
                    legend #out-h { "Leave out as well" }
                    @for what in LeftOut::ALL {
                        button.tickbox id={ "out-" (what.word()) } name="change" value=(change(what)) role="checkbox" aria-checked=(out.contains(&what)) { (what.name()) }
                    }
                }
            }
            @if let Some(summary) = r.left_out() {
                @let named = r.components.len() > 1;
                @if !summary.still.is_empty() {
                    p.mid { strong { "Not replaced:" } }
                    @for (c, s) in &summary.still {
                        p.trouble {
                            (sentence(&format!("{} still holds {}: {}", s.name, s.what.plain(), s.why)))
                            @if named { " (" (component_name(&r.components[*c].name)) ")" }
                        }
                    }
                }
                @if let Some(made) = summary.made() { p.mid { (sentence(&made)) } }
                @if let Some(steps) = summary.steps() { p.hint { (sentence(&steps)) } }
            }
        }
    }
}
