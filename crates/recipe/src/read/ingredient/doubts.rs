//! What is unsure about a line, once all of it is read.

use super::super::words::is_container;
use super::Reader;
use super::amounts::vague_before;
use crate::line::{Amount, Filling, Item, Line, LineKind, Purpose, Role, Share};
use crate::{Doubt, DoubtCode};
use larder::{Certainty, FoodId, Match};
use quantity::{Locale, Unit, UnitKind};

/// Numbers above this are no kitchen amount.
const MOST: f64 = 1e5;

/// Words that only Britain and Australia write, of which US ones are another food.
const ABROAD: [&str; 1] = ["cornflour"];

/// Whether a name is a fillet of something that is not known: of fish, most often, but also of meat.
pub(crate) fn is_fillet(name: &str) -> bool {
    let mut words = name.split(|c: char| !c.is_alphabetic());
    words.any(|w| ["fillet", "fillets", "filet", "filets"].contains(&&*w.to_lowercase()))
}

impl Reader<'_> {
    /// The food that a name is in Britain, where US measures are read and it may be meant: cornstarch for
    /// 'cornflour'.
    fn abroad(&self, text: &str, m: &Match) -> Option<FoodId> {
        let words = text.get(m.span.clone())?.to_lowercase();
        let asked = self.locale == Locale::Us && m.certainty == Certainty::Sure;
        if !asked || !ABROAD.contains(&&*words) {
            return None;
        }
        let there = self.larder.find(&words, Locale::Uk)?.food;
        (there != m.food).then_some(there)
    }

    /// 'milk plus 1 tbsp quorbel': what is added is counted as the first, and nobody knows what it is.
    fn unknown_behind_plus(&self, text: &str, item: &Item, first: &Match) -> Option<Doubt> {
        let plus = |a: &&Amount| a.role == Role::Plus && !a.aside && a.of.is_none();
        let mut added = item.amounts.iter().filter(plus);
        let last = added.rfind(|a| a.span.start >= item.name.start)?;
        let rest = text.get(last.span.end..)?;
        let part = rest.split([',', ';', '(']).next().unwrap_or(rest);
        let words = part.trim();
        let at = last.span.end + (part.len() - part.trim_start().len());
        // 'plus 1 tsp at the end' says when, not what.
        let when = ["at", "on", "in", "if", "when", "as", "over", "from"];
        let lead = words.split_whitespace().next()?.to_lowercase();
        let names = words.starts_with(char::is_alphabetic) && !when.contains(&&*lead);
        names.then(|| {
            let counted = &self.larder.food(first.food).name;
            Doubt::new(
                DoubtCode::UnknownIngredient,
                format!("'{words}' is not in the larder and is counted as {counted}: write it on a line of its own; check its label for gluten"),
            )
            .at(at..at + words.len())
        })
    }

    /// Doubts that need the whole line.
    pub(super) fn after(&self, text: &str, line: &mut Line) {
        let mut doubts = Vec::new();
        if line.items.is_empty() {
            line.kind = LineKind::Note;
            return;
        }
        let to_taste = line.items.iter().any(|i| i.amounts.is_empty()) && {
            let lower = text.to_ascii_lowercase();
            ["taste", "needed", "as required"]
                .iter()
                .any(|w| lower.contains(w))
        };
        let unweighed = to_taste && line.items.iter().all(|i| i.amounts.is_empty());
        // One amount for both: that is told.
        let shared = line.items.len() == 2 && line.doubts(DoubtCode::SharedAmount);
        // '4 eggs, plus 1 for glazing' is one ingredient.
        let pairs = line.items.windows(2);
        let again = pairs.filter(|p| p[0].name == p[1].name && p[1].purpose != Purpose::Formula);
        let count = line.items.len() - again.count();
        if count > 1 && !unweighed && !shared {
            doubts.push(Doubt::new(
                DoubtCode::TwoOnLine,
                format!("{count} ingredients stand on one line: check that each has its amount"),
            ));
        }
        for item in &mut line.items {
            if let Some(m) = &mut item.food
                && let Some(other) = self.abroad(text, m)
            {
                m.rivals = vec![other];
            }
        }
        for item in &line.items {
            let shown = text.get(item.name.clone()).unwrap_or_default().trim();
            for a in &item.amounts {
                self.amount_doubts(text, a, item, &mut doubts);
            }
            match (&item.food, &item.reference) {
                (None, None) => doubts.push(
                    Doubt::new(
                        DoubtCode::UnknownIngredient,
                        if shown.is_empty() {
                            "no ingredient is named: write what the amount is of".to_owned()
                        } else if is_fillet(shown) {
                            format!("'{shown}': write which fish or meat it is; until then only a stated weight is known of it, and it may be fish")
                        } else {
                            format!("'{shown}' is not in the larder: only a stated weight is known of it; check its label for gluten")
                        },
                    )
                    .at(item.name.clone()),
                ),
                (Some(m), _) => {
                    self.match_doubt(text, m, &mut doubts);
                    doubts.extend(self.unknown_behind_plus(text, item, m));
                }
                _ => {}
            }
            for name in &item.strangers {
                let words = text.get(name.clone()).unwrap_or_default();
                doubts.push(
                    Doubt::new(
                        DoubtCode::UnknownIngredient,
                        format!("the line offers '{words}' too, which is not in the larder: check its label for gluten, or take it off the line"),
                    )
                    .at(name.clone()),
                );
            }
            let purpose = item.purpose.words();
            let vague = vague_before(text, item.name.start)
                .filter(|_| item.amounts.is_empty() && purpose.is_none() && !to_taste);
            if let Some(span) = vague {
                let words = text.get(span.clone()).unwrap_or_default();
                doubts.push(
                    Doubt::new(
                        DoubtCode::LooseMeasure,
                        format!("'{words}' has no fixed size: weigh it once and write the grams"),
                    )
                    .at(span),
                );
            } else if item.amounts.is_empty()
                && item.reference.is_none()
                && purpose.is_none()
                && !shared
            {
                let code = if to_taste {
                    DoubtCode::ToTaste
                } else {
                    DoubtCode::NoAmount
                };
                doubts.push(
                    Doubt::new(
                        code,
                        format!("no amount stands with '{shown}': it is not weighed"),
                    )
                    .at(item.name.clone()),
                );
            }
            if let Some(purpose) = purpose {
                doubts.push(Doubt::new(
                    DoubtCode::NotInFormula,
                    format!("'{shown}' is {purpose}: screened, but not counted in the formula"),
                ));
            }
            if item.optional {
                doubts.push(Doubt::new(
                    DoubtCode::Optional,
                    format!("'{shown}' is optional: where it stays in, it is counted and screened"),
                ));
            }
        }
        line.doubts.extend(doubts);
    }

    pub(super) fn match_doubt(&self, text: &str, m: &Match, doubts: &mut Vec<Doubt>) {
        let name = |f: FoodId| self.larder.food(f).name.as_str();
        let words: Vec<&str> = m
            .unknown
            .iter()
            .filter_map(|r| text.get(r.clone()))
            .collect();
        let doubt = match m.certainty {
            Certainty::Sure if m.rivals.is_empty() => return,
            Certainty::Sure => Doubt::new(
                DoubtCode::NameByLocale,
                format!(
                    "is {} in US words and {} in British ones: say which",
                    name(m.food),
                    name(m.rivals[0])
                ),
            ),
            Certainty::Partly => Doubt::new(
                DoubtCode::NamePartlyKnown,
                format!(
                    "read as {}; '{}' is not understood",
                    name(m.food),
                    words.join(", ")
                ),
            ),
            Certainty::Tie => {
                let others: Vec<&str> = m.rivals.iter().map(|f| name(*f)).collect();
                Doubt::new(
                    DoubtCode::NameTie,
                    format!(
                        "could be {} or {}: say which",
                        name(m.food),
                        others.join(" or ")
                    ),
                )
            }
            Certainty::Near => Doubt::new(
                DoubtCode::NameNear,
                format!(
                    "'{}' is not known; read as {}",
                    words.join(", "),
                    name(m.food)
                ),
            ),
        };
        doubts.push(doubt.at(m.span.clone()));
    }

    /// The misspelt unit an amount's words end with, and the unit it is read as.
    fn misspelt<'t>(&self, shown: &'t str) -> Option<(&'t str, &'static str)> {
        let word = shown
            .rsplit(|c: char| !c.is_alphabetic())
            .find(|w| !w.is_empty())?;
        Some((word, self.words.near_unit(word)?.unit?.code()))
    }

    pub(super) fn amount_doubts(
        &self,
        text: &str,
        a: &Amount,
        item: &Item,
        doubts: &mut Vec<Doubt>,
    ) {
        let shown = text.get(a.span.clone()).unwrap_or_default().trim();
        // '1 oz' beside the knob, '20 g' beside the heaped spoon: the weight decides.
        let weight_beside = item.amounts.iter().any(|o| {
            !std::ptr::eq(o, a)
                && matches!(o.role, Role::Main | Role::Twin | Role::Size)
                && o.unit.is_some_and(|u| u.kind() == UnitKind::Mass)
        });
        let mut say =
            |code, message: String| doubts.push(Doubt::new(code, message).at(a.span.clone()));
        if !a.low.is_finite()
            || !a.high.is_finite()
            || a.high > MOST
            || a.high <= 0.0
            || a.low < 0.0
        {
            say(
                DoubtCode::ImpossibleNumber,
                format!(
                    "'{shown}' is no amount that can be measured: write a number above 0 and below 100,000"
                ),
            );
        }
        if let Some((word, meant)) = self.misspelt(shown) {
            say(DoubtCode::NotRead, format!("'{word}' is read as {meant}"));
        }
        if a.backward {
            say(
                DoubtCode::BackwardRange,
                format!("'{shown}' runs from high to low: read as the range between"),
            );
        }
        if a.old_millilitres.is_some() {
            say(
                DoubtCode::OldMeasure,
                format!("'{shown}' is an old measure: books differ about its size"),
            );
        } else if let Some(loose) = &a.loose
            && (item.reference.as_ref()).is_none_or(|r| r.share == Share::Amount)
            && !weight_beside
        {
            say(
                DoubtCode::LooseMeasure,
                format!("'{loose}' has no fixed size: weigh it once and write the grams"),
            );
        }
        if a.filling != Filling::Level && !weight_beside {
            say(
                DoubtCode::LooseFilling,
                format!("'{shown}': how full differs from hand to hand; the range is wider"),
            );
        }
        if a.bare && item.reference.is_none() && a.unit.is_none() && a.loose.is_none() {
            say(
                DoubtCode::MissingUnit,
                format!("'{shown}' has no unit: write grams, cups or pieces"),
            );
        }
        if a.unit == Some(Unit::Oz)
            && a.role != Role::Size
            && let Some(m) = &item.food
            && self.larder.food(m.food).density.is_some()
            && !item
                .amounts
                .iter()
                .any(|o| matches!(o.unit, Some(Unit::G | Unit::Ml | Unit::FlOz)))
        {
            say(
                DoubtCode::OunceOfLiquid,
                format!("'{shown}' of a liquid: read as weight; many books mean fluid ounces"),
            );
        }
        if a.unit == Some(Unit::Tbsp)
            && shown.ends_with('T')
            && !text.contains(|c: char| c.is_lowercase())
        {
            say(
                DoubtCode::SpoonLetter,
                format!("'{shown}' in capitals could be table- or teaspoons: read as tablespoons"),
            );
        }
        // '2 packets (14 g)': of each, or of both?
        let times = |o: &Amount| {
            let between = text.get(a.span.end..o.span.start).unwrap_or_default();
            between.contains(['x', 'X', '×', '*'])
        };
        let mut sizes = item.amounts.iter().filter(|o| o.role == Role::Size);
        let behind = sizes.find(|o| o.span.start >= a.span.end && !times(o));
        if is_container(a.unit)
            && a.role == Role::Main
            && a.low > 1.0
            && let Some(size) = behind
            && !text.to_ascii_lowercase().contains("each")
        {
            let size = text.get(size.span.clone()).unwrap_or_default().trim();
            say(
                DoubtCode::SizeOnLabel,
                format!(
                    "'{shown}': '{size}' could be of each or of all: write 'each', or give the weight of all first"
                ),
            );
        }
        if is_container(a.unit)
            && a.role == Role::Main
            && !item.amounts.iter().any(|o| o.role == Role::Size)
        {
            let known = item.food.as_ref().is_some_and(|m| {
                self.larder
                    .weigh(
                        m.food,
                        Unit::Packet,
                        None,
                        larder::State::Usual,
                        self.locale,
                    )
                    .is_some()
                    && a.unit == Some(Unit::Packet)
            });
            if !known && !item.amounts.iter().any(|o| o.role == Role::Twin) {
                say(
                    DoubtCode::SizeOnLabel,
                    format!("'{shown}': its size is on the label; write it in brackets"),
                );
            }
        }
    }
}
