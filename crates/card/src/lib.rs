//! The card: what is published of a rework.
//!
//! One web page that needs nothing else: sheet 1 for the reader, sheet 2 for the developer, and
//! the schema.org data of sheet 1. It prints on A4 and US Letter; gluten and allergens stand under
//! the title, so that whoever holds the first page alone holds what can hurt.
//!
//! What this crate does not do: it judges nothing. Weights come from the rework, gluten and
//! allergens from the screening; where the two disagree the more careful one is printed. The
//! source's own step texts are never printed. No clock, no disk, no network.

mod claim;
mod data;
mod developer;
mod makes;
mod measure;
mod mix;
mod own;
mod reader;
mod sized;
mod title;
mod together;
mod unsaid;
mod view;

pub use own::{borrowed, worded_alike};
pub use title::quiet;
pub use together::together;
pub use unsaid::{left_unsaid, names_no_oven};

use larder::Larder;
use larder::allergen::Regime;
use maud::{DOCTYPE, Markup, PreEscaped, html as markup};
use quantity::Locale;
use recipe::Recipe;
use recipe::household::{Drawer, Scale};
use recipe::rework::{Rework, ReworkedComponent};
use recipe::screen::Screening;
use recipe::size::Batch;
use std::collections::BTreeMap;
use view::View;

/// The card's style, for whoever serves it beside the page.
pub const STYLE: &str = include_str!("card.css");

/// Where a card's style stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Look<'a> {
    /// In the page, which then needs nothing else.
    Inside,
    /// At this address, holding [`STYLE`]: for a server that allows no style in pages.
    Linked(&'a str),
}

/// How a card is made out.
#[derive(Debug, Clone, PartialEq)]
pub struct CardOptions {
    /// Whose measures the recipe is in.
    pub locale: Locale,
    /// The cups and spoons that amounts are worked out in; the usual ones of `locale` when left out.
    pub drawer: Option<Drawer>,
    /// The country whose degrees stand first, the kitchen's; the recipe's where left out.
    pub home: Option<Locale>,
    /// The scales that the grams are for.
    pub scale: Scale,
    /// The law whose allergen words are used.
    pub regime: Regime,
    /// The day, `2026-11-25`; printed as given, in the data only when it has that form.
    pub today: Option<String>,
    /// The recipe developer's name.
    pub writer: Option<String>,
    /// Address the card will have.
    pub url: Option<String>,
    /// Test bakes on record.
    pub bakes: u32,
    /// What those of them were bakes of that had other figures than the card's, one each:
    /// `version 1`.
    pub bakes_of: Vec<String>,
    /// What it makes, in the developer's words; else only the count that was read is printed.
    pub makes: Option<String>,
    /// How it keeps, in the developer's words; the source's are never printed.
    pub keeping: Option<String>,
    /// The size that the reader's sheet is for; the recipe once where left out. The developer's
    /// sheet is always of the recipe once.
    pub batch: Option<Batch>,
    /// The developer's own method, one step a line; the source's is never printed.
    pub method: Option<String>,
    /// The developer says that the own method suits the batch.
    pub method_suits: bool,
    /// What is to be said to the developer of each component that the own method leaves out, by its place.
    pub no_step: BTreeMap<usize, String>,
    /// The reader's sheet alone, without the developer's.
    pub readers_only: bool,
}

impl Default for CardOptions {
    fn default() -> Self {
        Self {
            locale: Locale::Us,
            drawer: None,
            home: None,
            scale: Scale::default(),
            regime: Regime::Us,
            today: None,
            writer: None,
            url: None,
            bakes: 0,
            bakes_of: Vec::new(),
            makes: None,
            keeping: None,
            batch: None,
            method: None,
            method_suits: false,
            no_step: BTreeMap::new(),
            readers_only: false,
        }
    }
}

impl CardOptions {
    /// The rework in the size of the reader's sheet; nothing where that is the recipe once.
    fn sized(&self, rework: &Rework) -> Option<Rework> {
        let batch = self.batch.as_ref().filter(|b| !b.is_plain())?;
        Some(batch.rework(rework))
    }
    fn drawer(&self) -> Drawer {
        let drawer = self.drawer.unwrap_or_else(|| self.locale.into());
        drawer.beside(self.scale)
    }
}

/// The card as one HTML page.
///
/// # Inputs
/// - `screening`: that of the rework, as [`Rework::screen`] makes it. Another one only makes the
///   card more careful: whatever the lines themselves hold is counted too.
///
/// # Returns
/// A page without outside parts; the only script is the data of [`json_ld`]. The same inputs
/// give the same bytes.
#[must_use]
pub fn html(
    rework: &Rework,
    screening: &Screening,
    larder: &Larder,
    options: &CardOptions,
) -> String {
    html_with(rework, screening, larder, options, Look::Inside)
}

/// The card, its style inside or linked.
///
/// # Inputs
/// As for [`html`].
#[must_use]
pub fn html_with(
    rework: &Rework,
    screening: &Screening,
    larder: &Larder,
    options: &CardOptions,
    look: Look<'_>,
) -> String {
    let once = View::new(rework, screening, larder, options, false);
    let sized = options.sized(rework);
    let view = match &sized {
        Some(sized) => &View::new(sized, screening, larder, options, true),
        None => &once,
    };
    let home = options.home.unwrap_or(options.locale);
    let page = markup! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                title { (view.title) }
                @match look {
                    Look::Inside => style { (PreEscaped(STYLE)) },
                    Look::Linked(address) => link rel="stylesheet" href=(address);,
                }
                script type="application/ld+json" { (PreEscaped(data::block(view))) }
            }
            body {
                main {
                    (read_in(reader::sheet(view), home))
                    @if !options.readers_only { (read_in(developer::sheet(&once), home)) }
                }
            }
        }
    };
    together(&claim::hushed(&page.into_string()))
}

/// A card goes to strangers, so both scales stand on it; from an American kitchen its own first.
fn read_in(sheet: Markup, locale: Locale) -> Markup {
    match locale {
        Locale::Us => PreEscaped(quantity::scales_of(&sheet.into_string(), Locale::Us)),
        _ => sheet,
    }
}

/// What size and tin the method is written for, where the batch is of another; the card says it before the
/// method.
///
/// # Inputs
/// - `method`: the developer's own method, empty where there is none.
#[must_use]
pub fn written_for(method: &str, batch: &Batch, rework: &Rework) -> Option<String> {
    sized::written_for(batch, rework, &recipe::own_method::steps(method))
}

/// What the card says is to be done differently in a component.
///
/// # Inputs
/// - `recipe`: the recipe the component was reworked from.
#[must_use]
pub fn notes(component: &ReworkedComponent, recipe: &Recipe) -> Vec<String> {
    view::notes(component, recipe, false)
}

/// The data of the card as a schema.org Recipe.
///
/// # Inputs
/// As for [`html`].
///
/// # Returns
/// `suitableForDiet` only when nothing contains gluten and no label is left to check;
/// instructions from the developer's own method, or from our method notes alone; no nutrition, rating or picture is made up.
///
/// # Source
/// schema.org Recipe, HowToSection, HowToStep, RestrictedDiet.
#[must_use]
pub fn json_ld(
    rework: &Rework,
    screening: &Screening,
    larder: &Larder,
    options: &CardOptions,
) -> serde_json::Value {
    match options.sized(rework) {
        Some(sized) => data::recipe(&View::new(&sized, screening, larder, options, true)),
        None => data::recipe(&View::new(rework, screening, larder, options, false)),
    }
}
