//! From a sheet to everything that follows from it.

use super::part::{Gathered, Part, gather};
use super::{LineDecision, LineKey, Sheet};
use crate::doubt::{Doubt, DoubtCode};
use crate::heat::Estimate;
use crate::line::{Line, LineKind};
use crate::own_method;
use crate::read::{self, ReadError, Reader};
use crate::rework::blend::Blend;
use crate::rework::{Options, Rework};
use crate::screen::{self, Screening};
use crate::size::{self, Ask, Batch, SizeError};
use crate::weigh::{self, Formula, WeighError};
use crate::{Recipe, rework};
use larder::{Certainty, Larder, Match};
use quantity::Mass;
use std::collections::HashMap;
use std::fmt;

/// All that follows from a sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Worked {
    /// The recipe in grams, decisions applied.
    pub formula: Formula,
    /// The screen of the recipe as it is.
    pub screening: Screening,
    /// The gluten-free version.
    pub rework: Rework,
    /// The screen of the gluten-free version.
    pub rework_screening: Screening,
    /// The gluten-free version at the size that is asked for; as it stands, × 1, where that cannot
    /// be had.
    pub batch: Batch,
    /// Why the size that is asked for cannot be had.
    pub size_refused: Option<SizeError>,
    /// The bake in the tin and the oven chosen, where others are than the recipe's: see [`Worked::with_heat`].
    pub bake: Option<Estimate>,
    /// Lines that were decided about and stand in the text no more, or whose food the larder
    /// does not have. Their decisions wait, unused.
    pub stale: Vec<LineKey>,
}

impl Worked {
    /// The gluten-free version at another size, by the screen it has already.
    ///
    /// # Errors
    /// [`SizeError`] when the ask cannot be met, with what to do about it.
    pub fn batch_at(&self, ask: &Ask, larder: &Larder) -> Result<Batch, SizeError> {
        size::size_screened(&self.rework, &self.rework_screening, ask, larder)
    }
}

/// Why nothing follows from a sheet.
#[derive(Debug, Clone, PartialEq)]
pub enum SheetError {
    /// The text cannot be read.
    Read(ReadError),
    /// The text of a part cannot be read.
    Part {
        /// The part's title.
        title: String,
        /// Why.
        error: ReadError,
    },
    /// A part's sheet was not given.
    PartMissing {
        /// The part's title.
        title: String,
        /// Its version.
        version: u32,
    },
    /// A part takes in, through others, what takes it in.
    PartRing {
        /// The part's title.
        title: String,
    },
    /// The recipe cannot be weighed.
    Weigh(WeighError),
}

impl fmt::Display for SheetError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Read(e) => e.fmt(f),
            Self::Part { title, error } => write!(f, "the part '{title}', {error}"),
            Self::PartMissing { title, version } => write!(
                f,
                "the part '{title}', version {version}: it is no longer in the kitchen\n  bring it back from the bin, or take the part out of this recipe"
            ),
            Self::PartRing { title } => write!(
                f,
                "the part '{title}' takes in, through others, a recipe that takes it in\n  take it out of one of them: nothing is made of itself"
            ),
            Self::Weigh(e) => e.fmt(f),
        }
    }
}
impl std::error::Error for SheetError {}

/// The key of a line of a recipe.
///
/// # Arguments
/// * `recipe` — the recipe as worked: of [`Worked::formula`].
/// * `component` — the component's place.
/// * `line` — the line's place in it.
#[must_use]
pub fn key_of(recipe: &Recipe, component: usize, line: usize) -> LineKey {
    let Some(c) = recipe.components.get(component) else {
        return LineKey {
            component: String::new(),
            text: String::new(),
            nth: 0,
        };
    };
    let text = c.lines.get(line).map_or("", |l| l.text.as_str());
    LineKey {
        component: c.name.clone(),
        text: text.to_owned(),
        nth: c.lines.iter().take(line).filter(|l| l.text == text).count(),
    }
}

/// Reads, weighs, screens and reworks a sheet.
///
/// # Arguments
/// * `parts` — the sheets of [`Sheet::parts`], in that order, each with its own.
/// * `blends` — the kitchen's own blends.
///
/// # Errors
/// [`SheetError`] when a text cannot be read, a part is missing, or components use one another in
/// a ring. A recipe without flour is no error: its rework is the recipe as it is.
pub fn work(
    sheet: &Sheet,
    parts: &[Part],
    larder: &Larder,
    blends: &[Blend],
) -> Result<Worked, SheetError> {
    let Gathered {
        mut recipe,
        accepted,
        wishes,
        stale,
    } = gather(sheet, parts, larder)?;
    if let Some(title) = &sheet.title {
        recipe.title = Some(title.clone());
    }
    credit(sheet, &mut recipe);
    let mut formula = weigh::formula(recipe, larder, sheet.locale()).map_err(SheetError::Weigh)?;
    for (c, l, code) in accepted {
        settle(&mut formula, c, l, code);
    }
    ask_once(&mut formula);
    let screening = screen::screen(&formula, larder, None);
    let options = Options {
        left_out: sheet.left_out(),
        ..wishes.options(blends)
    };
    let mut rework = rework::rework(formula.clone(), larder, &options);
    let mut settled = Vec::new();
    for component in &mut rework.components {
        let name = component.name.clone();
        let (done, open) = part_by(std::mem::take(&mut component.doubts), &sheet.accepted);
        component.doubts = open;
        settled.extend(done.into_iter().map(|d| Doubt {
            message: if name.is_empty() {
                d.message
            } else {
                format!("{name}: {}", d.message)
            },
            ..d
        }));
    }
    formula.recipe.settled.extend(settled.iter().cloned());
    rework.formula.recipe.settled.extend(settled);
    let own = own_method::steps(sheet.method.as_deref().unwrap_or_default());
    let rework_screening = rework.screen_by(&own, larder);
    let (batch, size_refused) = sized(&rework, &rework_screening, sheet.size.as_ref(), larder);
    Ok(Worked {
        formula,
        screening,
        rework,
        rework_screening,
        batch,
        size_refused,
        bake: None,
        stale,
    })
}

/// The batch that is asked for, else the recipe as it stands and why.
fn sized(
    rework: &Rework,
    screening: &Screening,
    ask: Option<&Ask>,
    larder: &Larder,
) -> (Batch, Option<SizeError>) {
    let of = |ask: &Ask| size::size_screened(rework, screening, ask, larder);
    let plain = || of(&Ask::default()).unwrap_or_default();
    match ask.map(of) {
        Some(Ok(batch)) => (batch, None),
        Some(Err(refused)) => (plain(), Some(refused)),
        None => (plain(), None),
    }
}

/// Whom to credit and what it makes, where the baker says.
fn credit(sheet: &Sheet, recipe: &mut Recipe) {
    if let Some(credit) = &sheet.credit {
        recipe.source.author = Some(credit.clone());
        recipe.source.publisher = None;
        // An address in the credit is not said twice.
        recipe.source.url.take_if(|url| credit.contains(&**url));
    }
    if let Some(makes) = &sheet.makes {
        recipe.makes = Some(crate::Yield {
            count: read::count_of_yield(makes),
            text: makes.clone(),
        });
    }
}

/// Most grams that anything is weighed at.
pub(super) const MOST_GRAMS: f64 = 100_000.0;

/// Whether a weight can be worked with.
pub(super) fn sound(grams: f64) -> bool {
    grams.is_finite() && (0.0..=MOST_GRAMS).contains(&grams)
}

/// A line's place and the code of a doubt taken as read there.
pub(super) type Accepted<'s> = Vec<(usize, usize, &'s str)>;

/// Applies decisions to the lines they are about. Returns what is accepted where, and the lines
/// that are not there.
pub(super) fn decide_all<'s>(
    recipe: &mut Recipe,
    sheet: &'s Sheet,
    reader: &Reader<'_>,
) -> (Accepted<'s>, Vec<LineKey>) {
    let (mut accepted, mut stale) = (Vec::new(), Vec::new());
    if sheet.lines.is_empty() {
        return (accepted, stale);
    }
    let mut places = HashMap::new();
    for (c, component) in recipe.components.iter().enumerate() {
        for l in 0..component.lines.len() {
            if let Some(decision) = sheet.decision(&key_of(recipe, c, l)) {
                places.insert(&decision.line, (c, l));
            }
        }
    }
    for decision in &sheet.lines {
        let Some(&(c, l)) = places.get(&decision.line) else {
            stale.push(decision.line.clone());
            continue;
        };
        if !decide(&mut recipe.components[c].lines[l], decision, reader) {
            stale.push(decision.line.clone());
        }
        accepted.extend(decision.accepted.iter().map(|code| (c, l, code.as_str())));
    }
    let owners = crate::rework::owners(recipe);
    read::beside_the_dough(recipe, &owners, reader);
    (accepted, stale)
}

/// Codes that a weight of the baker's settles.
const OF_THE_WEIGHT: [DoubtCode; 15] = [
    DoubtCode::NoAmount,
    DoubtCode::ToTaste,
    DoubtCode::MissingUnit,
    DoubtCode::LooseMeasure,
    DoubtCode::OldMeasure,
    DoubtCode::LooseFilling,
    DoubtCode::MinusSign,
    DoubtCode::BackwardRange,
    DoubtCode::OunceOfLiquid,
    DoubtCode::SpoonLetter,
    DoubtCode::TwinDisagrees,
    DoubtCode::WeightAsBought,
    DoubtCode::SizeOnLabel,
    DoubtCode::NoWeight,
    DoubtCode::ComponentShort,
];

/// Applies a decision to its line. `false` when its food is not in the larder.
pub(super) fn decide(line: &mut Line, decision: &LineDecision, reader: &Reader<'_>) -> bool {
    if let Some(words) = &decision.read_as
        && words.trim().is_empty()
    {
        // No ingredient: a note. Its words are screened as a note's are, and as those under any
        // decision are: what was pasted as wheat stays wheat.
        line.kind = LineKind::Note;
        line.clean = read::entities::decode(&line.text);
        line.over = Some(line.clean.clone());
        line.heading = None;
        line.items.clear();
        line.doubts.clear();
        line.read_as = Some(String::new());
    } else if let Some(words) = &decision.read_as {
        let mut read = reader.line(words);
        read.text = std::mem::take(&mut line.text);
        read.number = line.number;
        read.settled = std::mem::take(&mut line.settled);
        read.read_as = Some(words.clone());
        read.over = Some(read::entities::decode(&read.text));
        // The baker has said how much of each.
        if words.matches("half ").count() > 1 {
            read.doubts.retain(|d| d.code != DoubtCode::SharedAmount);
        }
        *line = read;
    }
    let mut known = true;
    let first = decision.food.iter().map(|key| (0, key));
    let further = decision.foods.iter().map(|(place, key)| (*place, key));
    for (place, key) in first.chain(further) {
        match reader.larder.by_key(key) {
            Some(food) => name(line, place, food),
            None => known = false,
        }
    }
    let first = decision.grams.map(|g| (0, g));
    let further = decision.also.iter().map(|(place, g)| (*place, *g));
    for (place, grams) in first.into_iter().chain(further) {
        if sound(grams)
            && let Some((item, part)) = line.at_place(place)
        {
            line.items[item].own_grams.insert(part, Mass::grams(grams));
            drop_of_weight(line, item, part);
        }
    }
    known
}

/// Makes a food that of the ingredient at a place.
fn name(line: &mut Line, place: usize, food: larder::FoodId) {
    let Some(item) = line.items.get_mut(place) else {
        return;
    };
    let span = match &item.food {
        // The words of the food found name that one; they say nothing of another.
        Some(m) if m.food == food => m.span.clone(),
        Some(m) => m.span.end..m.span.end,
        None => item.name.end..item.name.end,
    };
    item.food = Some(Match {
        food,
        certainty: Certainty::Sure,
        span,
        unknown: Vec::new(),
        rivals: Vec::new(),
    });
    // What was offered instead is put aside; its words stay on the line and are screened.
    item.alternatives.clear();
    item.strangers.clear();
    item.reference = None;
    line.over
        .get_or_insert_with(|| read::entities::decode(&line.text));
    line.drop_doubts_of_name(place);
}

/// Drops doubts about the weight of one food of an item.
fn drop_of_weight(line: &mut Line, item: usize, part: usize) {
    let reach = line.reach(item);
    let Some(read) = line.items.get(item) else {
        return;
    };
    let further: Vec<_> = read.further().map(|(_, a)| a.span.clone()).collect();
    line.doubts.retain(|d| {
        let at = d.span.as_ref().map_or(0, |s| s.start);
        let its = match further
            .iter()
            .position(|s| d.span.is_some() && s.contains(&at))
        {
            Some(of) => of + 1 == part,
            None => part == 0 && reach.contains(&at),
        };
        !its || !OF_THE_WEIGHT.contains(&d.code)
    });
}

/// Those of these codes, and the others.
fn part_by(doubts: Vec<Doubt>, codes: &[String]) -> (Vec<Doubt>, Vec<Doubt>) {
    doubts
        .into_iter()
        .partition(|d| codes.iter().any(|c| c == d.code.code()))
}

/// Settles doubts about the whole and about steps.
pub(super) fn settle_whole(recipe: &mut Recipe, codes: &[String]) {
    if codes.is_empty() {
        return;
    }
    let (done, open) = part_by(std::mem::take(&mut recipe.doubts), codes);
    recipe.doubts = open;
    recipe.settled.extend(done);
    for step in &mut recipe.steps {
        let (done, open) = part_by(std::mem::take(&mut step.doubts), codes);
        step.doubts = open;
        recipe.settled.extend(done.into_iter().map(|d| Doubt {
            message: format!("step {}: {}", step.number, d.message),
            span: None,
            ..d
        }));
    }
}

/// Codes of reading whose question holds that of a missing weight: it takes grams, or leaves the
/// line unweighed.
const OF_NO_WEIGHT: [DoubtCode; 4] = [
    DoubtCode::LooseMeasure,
    DoubtCode::OldMeasure,
    DoubtCode::MissingUnit,
    DoubtCode::SizeOnLabel,
];

/// One thing, one question: an amount asked about in reading, or left unweighed there, is not
/// asked about again for having no weight.
fn ask_once(formula: &mut Formula) {
    let components = &formula.recipe.components;
    formula.doubts.retain(|(c, l, d)| {
        let line = &components[*c].lines[*l];
        let mut read = line.doubts.iter().chain(&line.settled);
        d.code != DoubtCode::NoWeight
            || !read.any(|x| OF_NO_WEIGHT.contains(&x.code) && x.span == d.span)
    });
}

/// Settles the doubts of a code on a line, those of weighing too.
fn settle(formula: &mut Formula, c: usize, l: usize, code: &str) {
    let Some(line) = formula
        .recipe
        .components
        .get_mut(c)
        .and_then(|x| x.lines.get_mut(l))
    else {
        return;
    };
    let of = |d: &Doubt| d.code.code() == code;
    line.settled.extend(line.doubts.extract_if(.., |d| of(d)));
    let weighing = formula
        .doubts
        .extract_if(.., |(dc, dl, d)| (*dc, *dl) == (c, l) && of(d));
    line.settled.extend(weighing.map(|(_, _, d)| d));
}
