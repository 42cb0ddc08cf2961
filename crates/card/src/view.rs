//! What the card says, worked out once for the page and for the data.

use crate::CardOptions;
use crate::makes::makes;
use crate::measure::{about, beaten_in_spoons, capital, spelled};
use crate::mix::Mix;
use crate::quiet;
use crate::sized::{size_words, written_for};
use crate::unsaid::{Unsaid, unsaid};
use larder::allergen::{declared, plain};
use larder::{Allergen, Food, FoodId, Gluten, Larder};
use quantity::both_scales;
use recipe::household::{Household, is_fine};
use recipe::own_method::{self, Steps};
use recipe::rework::{Kept, MethodNote, Rework, ReworkedComponent, ReworkedLine};
use recipe::screen::{Finding, Screening};
use recipe::{DoubtCode, Item, Recipe};

/// One ingredient as the reader sees it.
pub(crate) struct Line {
    /// Grams on a scale.
    pub(crate) grams: Option<String>,
    /// Household words, spelled; or the source's own amount where nothing was weighed.
    pub(crate) measure: Option<String>,
    /// How far that is off, where it is more than is said of all.
    pub(crate) off: Option<String>,
    /// No cup or spoon comes near enough.
    pub(crate) weigh: bool,
    pub(crate) name: String,
    /// Allergens the law of the card lists, certain ones.
    pub(crate) allergens: Vec<&'static str>,
    /// What must be said about gluten.
    pub(crate) gluten: Option<&'static str>,
    pub(crate) remarks: Vec<String>,
}

impl Line {
    /// The line as one sentence: `250 g (2 cups) plain blend, labelled gluten-free`.
    pub(crate) fn words(&self) -> String {
        let mut out = match (&self.grams, &self.measure) {
            (Some(g), Some(m)) => format!("{g} g ({m}) {}", self.name),
            (Some(g), None) => format!("{g} g {}", self.name),
            (None, Some(m)) => format!("{m} {}", self.name),
            (None, None) => self.name.clone(),
        };
        for more in self
            .gluten
            .into_iter()
            .chain(self.remarks.iter().map(String::as_str))
        {
            out.push_str(", ");
            out.push_str(more);
        }
        out
    }
}

/// A component as the reader sees it.
pub(crate) struct Part {
    pub(crate) name: String,
    pub(crate) lines: Vec<Line>,
    /// What it makes, what others take of it, what is left.
    pub(crate) makes: Vec<String>,
    /// What to do differently, step by step of its source.
    pub(crate) notes: Vec<String>,
    /// The other recipe that its steps are numbered in.
    pub(crate) of: Option<String>,
}

pub(crate) struct View<'a> {
    pub(crate) rework: &'a Rework,
    pub(crate) screening: &'a Screening,
    pub(crate) larder: &'a Larder,
    pub(crate) options: &'a CardOptions,
    pub(crate) title: String,
    pub(crate) makes: String,
    /// Of what size this is, where it is not the recipe once.
    pub(crate) size: Option<String>,
    /// What size the method is for, where that is not the sheet's.
    pub(crate) written_for: Option<String>,
    /// Of what size the other sheet is, where that is not the recipe once.
    pub(crate) other_size: Option<String>,
    pub(crate) contains: bool,
    pub(crate) can_say: bool,
    pub(crate) parts: Vec<Part>,
    pub(crate) mixes: Vec<Mix>,
    /// The developer's own method; empty when none is written.
    pub(crate) own: Vec<Steps>,
    /// What the own method leaves out of the notes that must not be lost.
    pub(crate) unsaid: Vec<Unsaid>,
    /// Gluten that the method printed or pointed to names and no line holds.
    pub(crate) named: Vec<String>,
}

/// What of a line's note tells one something who has the card alone: not what it came from, 'from the self-raising
/// flour', and not how many of the grams of the original it is, which are worked in.
fn for_a_reader(note: &str) -> Option<String> {
    let of_the_original = |said: &str| {
        let said = said.trim_start();
        said.starts_with("from the ") || said.contains("original")
    };
    let mut rest = note;
    let mut out = String::new();
    let mut join = "";
    loop {
        let cut = [": ", "; "]
            .into_iter()
            .filter_map(|c| rest.find(c).map(|at| (at, c)))
            .min();
        let (said, next) = match cut {
            Some((at, c)) => (&rest[..at], Some((&rest[at + c.len()..], c))),
            None => (rest, None),
        };
        if !of_the_original(said) {
            if !out.is_empty() {
                out.push_str(join);
            }
            out.push_str(said);
        }
        match next {
            Some((more, c)) => (rest, join) = (more, c),
            None => break,
        }
    }
    (!out.is_empty()).then_some(out)
}

impl<'a> View<'a> {
    pub(crate) fn new(
        rework: &'a Rework,
        screening: &'a Screening,
        larder: &'a Larder,
        options: &'a CardOptions,
        sized: bool,
    ) -> Self {
        let batch = options.batch.as_ref().filter(|b| !b.is_plain());
        // A screening of something else must not clear a line that holds gluten.
        let live = || {
            rework
                .components
                .iter()
                .flat_map(|c| &c.lines)
                .filter(|l| l.kept != Kept::Dropped)
        };
        let gluten = |g: Gluten| {
            live().any(|l| !l.labelled && l.food.is_some_and(|f| larder.food(f).gluten == g))
        };
        let contains = screening.verdict == Gluten::Contains || gluten(Gluten::Contains);
        let unsure = live().any(|l| l.food.is_none() && l.component.is_none());
        let own = own_method::steps(options.method.as_deref().unwrap_or_default());
        // What is printed in place of the source's method is what is looked through.
        let named = if own.is_empty() {
            screening.method.clone()
        } else {
            rework.screen_by(&own, larder).method
        };
        let unsaid = if own.is_empty() {
            Vec::new()
        } else {
            unsaid(&own, rework)
        };
        let silent = named.is_empty();
        let can_say = silent
            && screening.can_say_gluten_free
            && !contains
            && !gluten(Gluten::Check)
            && !unsure;
        let mut view = Self {
            rework,
            screening,
            larder,
            options,
            title: crate::title::title(
                rework.formula.recipe.title.as_deref(),
                match (contains, silent) {
                    (true, _) => Some("rework in progress: still contains gluten"),
                    (false, false) if own.is_empty() => {
                        Some("rework: its source’s method names gluten")
                    }
                    (false, false) => Some("rework: its method names gluten"),
                    (false, true) => None,
                },
            ),
            makes: makes(rework, options, batch.filter(|_| sized)),
            size: batch.map(size_words).filter(|_| sized),
            written_for: batch
                .filter(|_| sized && (own.is_empty() || !options.method_suits))
                .and_then(|b| written_for(b, rework, &own)),
            other_size: batch.map(size_words).filter(|_| !sized),
            contains,
            can_say,
            parts: Vec::new(),
            mixes: Vec::new(),
            own,
            unsaid,
            named,
        };
        let listed = rework.components.iter().enumerate();
        for (at, _) in listed.filter(|(_, c)| c.is_listed()) {
            let part = view.part(at);
            view.parts.push(part);
        }
        view.mixes = view.mix();
        view
    }

    /// A component's name for people.
    pub(crate) fn name(&self, at: usize) -> String {
        let alone = self.rework.components.len() == 1;
        match self.rework.components.get(at).map(|c| tidy(&c.name)) {
            Some(name) if !name.is_empty() => capital(&name),
            _ if alone => "Ingredients".to_owned(),
            _ => "Main part".to_owned(),
        }
    }

    /// Findings on a line of a component.
    fn findings(&self, c: usize, l: usize) -> impl Iterator<Item = &'a Finding> {
        let found = &self.screening.findings;
        found
            .iter()
            .filter(move |f| (f.component, f.line) == (c, l))
    }

    fn part(&mut self, at: usize) -> Part {
        let component = &self.rework.components[at];
        let batch = self.options.batch.as_ref().filter(|_| self.size.is_some());
        let made = batch.is_none_or(|b| b.factor_of(at) > 0.0);
        let mut lines = Vec::new();
        for (l, line) in component.lines.iter().enumerate().filter(|_| made) {
            if line.kept != Kept::Dropped {
                let line = self.line(at, l, component, line);
                lines.push(line);
            }
        }
        let recipe = &self.rework.formula.recipe;
        let of = match methods(component, recipe).as_slice() {
            [Some(of)] => Some(tidy(of)),
            _ => None,
        };
        Part {
            name: self.name(at),
            lines,
            makes: if made {
                self.flow(at, component)
            } else {
                vec!["Not made in this size.".to_owned()]
            },
            notes: self::notes(component, recipe, !self.own.is_empty()),
            of,
        }
    }

    /// Where steps are numbered, said once before the notes.
    pub(crate) fn numbering(&self) -> &'static str {
        let stepped = self.rework.components.iter().flat_map(|c| &c.method_notes);
        if stepped.filter(|n| n.step.is_some()).count() == 0 {
            ""
        } else if self.rework.formula.recipe.methods.is_empty() {
            "Step numbers are those of the source."
        } else {
            "Step numbers are those of each recipe’s own method."
        }
    }

    /// Whether something is to be done differently.
    pub(crate) fn noted(&self) -> bool {
        self.parts.iter().any(|p| !p.notes.is_empty())
    }

    fn line(&self, c: usize, l: usize, of: &ReworkedComponent, line: &ReworkedLine) -> Line {
        let fine = line.food.is_some_and(|f| is_fine(self.larder, f));
        let scale = self.options.scale;
        let pinch = line.grams.is_some_and(|g| scale.is_pinch(g.likely()));
        let grams = line
            .grams
            .filter(|_| !pinch)
            .map(|g| scale.grams(g.likely(), fine));
        let back = self
            .rework
            .household(c, line, self.larder, self.options.drawer());
        let item = self.rework.source(c, line);
        let measure = match (&back, item) {
            (Some(h), _) => Some(beaten_in_spoons(&spelled(&h.words))),
            _ if pinch => Some("a pinch".to_owned()),
            (None, Some((read, item))) if grams.is_none() => {
                written(read, item).map(|words| line.sized(words))
            }
            _ => None,
        };
        let mut remarks = Vec::new();
        if let Some((read, item)) = item {
            remarks.extend(item.purpose.words().map(str::to_owned));
            if item.optional {
                remarks.push("optional".to_owned());
            }
            if grams.is_none() && measure.is_none() {
                let taste = read.found(DoubtCode::ToTaste);
                remarks.push(if taste { "to taste" } else { "as needed" }.to_owned());
            }
        }
        remarks.extend(
            line.note
                .as_deref()
                .and_then(for_a_reader)
                .map(|n| tidy(&n)),
        );
        let name = tidy(&line.name);
        // '6 plum' beside 'plum' says it twice.
        let measure = measure.map(|m| match m.strip_suffix(&name) {
            Some(count) if !line.blend && count.ends_with(' ') && !m.contains(" plus ") => {
                let count = count.trim_end();
                let one = count == "1" || count.starts_with("1/");
                let size = count.contains(|c: char| c.is_alphabetic());
                let eggs = ["egg yolk", "egg white", "egg"];
                let egg = eggs.into_iter().find(|e| name.ends_with(e));
                let piece = egg.and_then(|e| e.rsplit(' ').next()).unwrap_or("piece");
                match (size, one) {
                    (true, _) => m,
                    (false, true) => format!("{count} {piece}"),
                    (false, false) => format!("{count} {piece}s"),
                }
            }
            _ => m,
        });
        let off = back.as_ref().and_then(Household::off);
        Line {
            weigh: grams.is_some() && measure.is_none() && line.component.is_none(),
            grams,
            measure,
            off,
            allergens: self.allergens(line, of),
            gluten: self
                .gluten(c, l, line)
                .filter(|words| !name.contains(words)),
            name,
            remarks,
        }
    }

    fn gluten(&self, c: usize, l: usize, line: &ReworkedLine) -> Option<&'static str> {
        if line.blend || line.component.is_some() {
            return None;
        }
        let own = line.food.map(|f| self.larder.food(f).gluten);
        let found = self
            .findings(c, l)
            .filter(|f| f.food == line.food || f.food.is_none());
        let worst = found
            .map(|f| f.verdict)
            .chain(own.filter(|_| !line.labelled))
            .min();
        match worst {
            Some(Gluten::Contains) => Some("contains gluten"),
            Some(Gluten::Check) if line.food.is_none() => Some("check the label"),
            Some(Gluten::Check) => Some("labelled gluten-free"),
            Some(Gluten::Free) if line.labelled => Some("labelled gluten-free"),
            Some(Gluten::Free) if line.food.is_some_and(|f| beside_wheat(self.larder.food(f))) => {
                Some("labelled gluten-free")
            }
            _ => None,
        }
    }

    fn allergens(&self, line: &ReworkedLine, of: &ReworkedComponent) -> Vec<&'static str> {
        let foods: Vec<FoodId> = match (&of.blend, line.food) {
            (Some(blend), None) if line.blend => blend.parts.iter().map(|p| p.0).collect(),
            (_, food) => food.into_iter().collect(),
        };
        let mut out = Vec::new();
        for id in foods {
            let named = recipe::screen::on_the_label(self.larder, id).0;
            for a in certain(self.larder.food(id), line.labelled).chain(named) {
                if declared(a, self.options.regime).is_some() && !out.contains(&plain(a)) {
                    out.push(plain(a));
                }
            }
        }
        out
    }

    fn flow(&self, at: usize, component: &ReworkedComponent) -> Vec<String> {
        let makes = component.makes.likely();
        if makes.as_grams() <= 0.0 {
            return Vec::new();
        }
        let mut out = vec![format!("Makes about {} g, raw.", about(makes))];
        let (Some(used), Some(left)) = (component.used, component.left) else {
            return out;
        };
        let by: Vec<String> = (0..self.rework.components.len())
            .filter(|&c| {
                self.rework.components[c]
                    .lines
                    .iter()
                    .any(|l| l.component == Some(at))
            })
            .map(|c| self.name(c).to_lowercase())
            .collect();
        out.push(format!(
            "About {} g is used in: {}.",
            about(used.likely()),
            by.join(", ")
        ));
        out.push(if left.likely().as_grams() < 0.01 * makes.as_grams() {
            "Nothing is left over.".to_owned()
        } else {
            format!("About {} g is left over.", about(left.likely()))
        });
        out
    }

    /// `Adapted from …`.
    pub(crate) fn credit(&self) -> String {
        let recipe = &self.rework.formula.recipe;
        let title = recipe.title.as_deref().map(|t| quiet(&tidy(t)));
        let each = |w: String| w.split(", ").map(quiet).collect::<Vec<_>>().join(", ");
        let whom = recipe.source.words().map(|w| each(tidy(&w)));
        match (title, whom) {
            (Some(t), Some(w)) => format!("Adapted from ‘{t}’, {w}"),
            (None, Some(w)) => format!("Adapted from a recipe by {w}"),
            (Some(t), None) => format!("Adapted from ‘{t}’; its source is not recorded"),
            (None, None) => "Adapted from a recipe whose source is not recorded".to_owned(),
        }
    }

    /// Foods and words to be bought labelled, and those only a label can tell of.
    pub(crate) fn labels(&self) -> (Vec<String>, Vec<String>) {
        let (mut buy, mut read): (Vec<String>, Vec<String>) = (Vec::new(), Vec::new());
        let mut add = |known: bool, word: String| {
            let list = if known { &mut buy } else { &mut read };
            if !list.contains(&word) {
                list.push(word);
            }
        };
        for f in self
            .screening
            .findings
            .iter()
            .filter(|f| f.verdict == Gluten::Check)
        {
            match f.food {
                Some(food) => {
                    let name = self
                        .larder
                        .food(food)
                        .name
                        .replace("labelled gluten-free", "");
                    let name = name.trim().trim_end_matches(',');
                    let instead = if f.words.starts_with("or ") {
                        " (if used instead)"
                    } else {
                        ""
                    };
                    add(true, format!("{name}{instead}"));
                }
                None => add(false, tidy(&f.words)),
            }
        }
        (buy, read)
    }

    /// Foods free by nature that are milled or packed beside wheat.
    pub(crate) fn milled(&self) -> Vec<String> {
        let mut out: Vec<String> = Vec::new();
        for f in self
            .screening
            .findings
            .iter()
            .filter(|f| f.verdict == Gluten::Free)
        {
            let Some(food) = f.food.map(|x| self.larder.food(x)) else {
                continue;
            };
            if beside_wheat(food) && !out.contains(&food.name) {
                out.push(food.name.clone());
            }
        }
        out.sort_unstable();
        out
    }

    /// What contains gluten.
    pub(crate) fn gluten_lines(&self) -> Vec<String> {
        let found = self
            .screening
            .findings
            .iter()
            .filter(|f| f.verdict == Gluten::Contains);
        let mut out: Vec<String> = Vec::new();
        let own = self
            .rework
            .components
            .iter()
            .flat_map(|c| &c.lines)
            .filter(|l| {
                let holds = l
                    .food
                    .is_some_and(|f| self.larder.food(f).gluten == Gluten::Contains);
                // A food that the screening found is named by the line's own words.
                let named = found.clone().any(|f| f.food.is_some() && f.food == l.food);
                l.kept != Kept::Dropped && !l.labelled && holds && !named
            });
        for word in found
            .clone()
            .map(|f| tidy(&f.words))
            .chain(own.map(|l| tidy(&l.name)))
        {
            if !out.contains(&word) {
                out.push(word);
            }
        }
        out
    }

    /// The verdict in a few words, and the sentence after it.
    pub(crate) fn verdict(&self) -> (&'static str, String) {
        let kitchen = "safety for coeliac disease depends on your ingredients and kitchen.";
        if self.contains {
            (
                "Contains gluten.",
                format!(
                    "This rework is not finished: {} must be replaced first.",
                    self.gluten_words()
                ),
            )
        } else if !self.named.is_empty() {
            let whose = if self.own.is_empty() {
                "The source’s method"
            } else {
                "The method"
            };
            (
                "Check the method and the labels.",
                format!(
                    "{whose} names gluten that no line here holds: leave it out or replace it; {kitchen}"
                ),
            )
        } else if self.can_say {
            (
                "No gluten ingredients.",
                format!("This recipe uses no gluten ingredients; {kitchen}"),
            )
        } else {
            (
                "Check the labels.",
                format!(
                    "This recipe is written with ingredients that hold no gluten when you buy them labelled gluten-free; {kitchen}"
                ),
            )
        }
    }

    fn gluten_words(&self) -> String {
        let lines = self.gluten_lines();
        if lines.is_empty() {
            "something in it".to_owned()
        } else {
            quantity::listed(&lines)
        }
    }

    /// Allergens in the rework that the original did not have.
    pub(crate) fn added_allergens(&self) -> Vec<String> {
        let foods = self
            .rework
            .formula
            .components
            .iter()
            .flat_map(|c| &c.items)
            .filter_map(|i| i.food);
        let before: Vec<Allergen> = foods
            .flat_map(|f| self.larder.food(f).allergens.iter().map(|(a, _)| *a))
            .collect();
        let now = self
            .screening
            .allergens
            .iter()
            .filter(|a| !before.contains(&a.allergen));
        now.map(|a| format!("{}: {}", plain(a.allergen), a.from.join(", ")))
            .collect()
    }
}

/// Certain allergens of a food; a gluten grain that a label has cleared is not one.
fn certain(food: &Food, labelled: bool) -> impl Iterator<Item = Allergen> {
    let cleared = labelled && food.key != "wheat_starch_gf";
    let grain = |a: Allergen| matches!(a, Allergen::Wheat | Allergen::Rye | Allergen::Barley);
    food.allergens
        .iter()
        .filter(move |(a, check)| !(*check || cleared && grain(*a)))
        .map(|(a, _)| *a)
}

/// The amounts as the source has them: figures, or a measure without a fixed size ('a good slug'), not prose.
fn written(read: &recipe::Line, item: &Item) -> Option<String> {
    if item.amounts.is_empty() {
        let doubts = || read.doubts.iter().chain(&read.settled);
        let loose = doubts().find(|d| d.code == DoubtCode::LooseMeasure);
        return Some(tidy(read.words(loose?.span.as_ref()?)));
    }
    let words: Vec<String> = item
        .amounts
        .iter()
        .map(|a| tidy(read.words(&a.span)))
        .collect();
    let words = words.join(" ");
    (!words.trim().is_empty()).then(|| spelled(&words))
}

/// Free by nature, but milled or packed where wheat is.
pub(crate) fn beside_wheat(food: &Food) -> bool {
    matches!(food.ppm, larder::PpmBasis::Grain { .. })
}

/// What to do differently: steps numbered as in their source, degrees on both scales.
///
/// # Inputs
/// - `own`: beside the developer's own method, with other numbers.
pub(crate) fn notes(component: &ReworkedComponent, recipe: &Recipe, own: bool) -> Vec<String> {
    let all = &component.method_notes;
    let told = |n: &MethodNote| both_scales(&n.told(all, recipe, own));
    all.iter().map(told).collect()
}

/// The methods whose steps a part's notes are about: `None` for the recipe's own.
fn methods<'r>(component: &ReworkedComponent, recipe: &'r Recipe) -> Vec<Option<&'r str>> {
    let mut out = Vec::new();
    for step in component.method_notes.iter().filter_map(|n| n.step) {
        let of = recipe.step_in_method(step).1;
        if !out.contains(&of) {
            out.push(of);
        }
    }
    out
}

/// One line without control characters and doubled spaces.
pub(crate) fn tidy(text: &str) -> String {
    let plain: String = text
        .chars()
        .map(|c| if c.is_control() { ' ' } else { c })
        .collect();
    plain.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod note_tests {
    use super::for_a_reader;

    /// A reader has neither the self-raising flour nor the original's grams; how it tastes and how long it cooks
    /// stay.
    #[test]
    fn a_note_that_speaks_of_the_original_is_not_for_a_reader() {
        assert_eq!(for_a_reader("from the self-raising flour"), None);
        assert_eq!(
            for_a_reader("less malty, darker: start with three quarters of the original's grams")
                .as_deref(),
            Some("less malty, darker")
        );
        assert_eq!(
            for_a_reader("short-grain brown rice; cooking time differs").as_deref(),
            Some("short-grain brown rice; cooking time differs")
        );
        assert_eq!(
            for_a_reader("packet suet is floured: buy plain suet").as_deref(),
            Some("packet suet is floured: buy plain suet")
        );
    }
}
