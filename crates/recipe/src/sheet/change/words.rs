//! A change in words: the field's name, what the change does, and what the field is now.

use super::Change;
use crate::LeftOut;
use crate::heat::{HeatField, HeatNotes};
use crate::plan::StepChange;
use crate::read::unmarked;
use crate::rework::Hold;
use crate::sheet::answer::country;
use crate::sheet::{LineKey, PartUse, Sheet, shapes};
use crate::size::Ask;
use crate::the_part;

impl Change {
    /// Its name in plain words, without the value: 'weight of 1 cup milk'.
    #[must_use]
    pub fn name(&self) -> String {
        match self {
            Self::Text { .. } => "the text".to_owned(),
            Self::Title { .. } => "title".to_owned(),
            Self::Credit { .. } => "credit".to_owned(),
            Self::Makes { .. } => "what it makes".to_owned(),
            Self::Keeping { .. } => "how it keeps".to_owned(),
            Self::Method { .. } => "your method".to_owned(),
            Self::MethodSuits { .. } => "size that your method suits".to_owned(),
            Self::Locale { .. } => "whose measures".to_owned(),
            Self::ReadAs { line, .. } => format!("words of {}", unmarked(&line.text)),
            Self::Food { line, place, .. } => {
                format!("{}food of {}", ordinal(*place), unmarked(&line.text))
            }
            Self::Grams { line, place, .. } => {
                format!("{}weight of {}", ordinal(*place), unmarked(&line.text))
            }
            Self::Accept { line, .. } => format!("answer about {}", unmarked(&line.text)),
            Self::AcceptWhole { .. } => "answer about the recipe".to_owned(),
            Self::Style { component, .. } => format!("style of {}", the_part(component)),
            Self::Blend { component, .. } => format!("blend of {}", the_part(component)),
            Self::Pin {
                component, line, ..
            } => format!("{} held in {}", said(line), the_part(component)),
            Self::LeaveOut { what, .. } => named(what),
            Self::Size { .. } => "size".to_owned(),
            Self::SetHeat { what, .. } => {
                HeatField::from_key(what).map_or_else(|| said(what), |f| f.words().to_owned())
            }
            Self::KnownBake { .. } => "known bake".to_owned(),
            Self::SetShape { component, .. } => format!("shape of {}", the_part(component)),
            Self::ShapeSays {
                component, what, ..
            } => format!(
                "{} of {}’s shape",
                shapes::name_of(what),
                the_part(component)
            ),
            Self::Unpin => "held figures".to_owned(),
            Self::SetStep { step, to, .. } => {
                format!("step {}, {}", step_words(step), to.words().0)
            }
            Self::TakePart { part } => format!("part '{}'", part.title),
            Self::LeavePart { .. } => "part".to_owned(),
        }
    }

    /// What it does, in plain words: 'weight of 1 cup milk: 240 g'.
    #[must_use]
    pub fn words(&self) -> String {
        let value = match self {
            Self::Text { text } => {
                return format!("the text: {}", counted(written(text).count()));
            }
            Self::Method { text: Some(text) } => counted(written(text).count()),
            Self::Method { text: None } => "none".to_owned(),
            Self::Keeping { text } => text.clone().unwrap_or_else(|| "nothing".to_owned()),
            Self::Title { title: text } | Self::Credit { text } | Self::Makes { text } => {
                text.clone().unwrap_or_else(|| "as read".to_owned())
            }
            Self::Locale { locale } => measures(locale),
            Self::ReadAs {
                line,
                text: Some(t),
            } if t.trim().is_empty() => {
                return format!("no ingredient: {}", unmarked(&line.text));
            }
            Self::ReadAs { text, .. } => text.clone().unwrap_or_else(|| "as pasted".to_owned()),
            Self::Food { food, .. } => food.as_deref().map_or("as read".to_owned(), said),
            Self::Grams { grams: g, .. } => grams(*g),
            Self::Accept { yes, .. } | Self::AcceptWhole { yes, .. } => settled(*yes),
            Self::Style { style, .. } => style.as_deref().map_or("as guessed".to_owned(), said),
            Self::Blend { blend, .. } => blend.as_deref().map_or("by style".to_owned(), said),
            Self::Pin { hold, .. } => held(hold.as_ref()),
            Self::LeaveOut { yes, .. } => left(*yes),
            Self::Size { ask } => sized(ask.as_ref()),
            Self::MethodSuits { size: None } => "not said".to_owned(),
            Self::MethodSuits { size } => sized(size.as_ref()),
            Self::SetHeat { text, .. } => text.clone().unwrap_or_else(|| "as read".to_owned()),
            Self::KnownBake { says } => known_bake(says),
            Self::SetShape { shape, .. } => shapes::shape_name(shape.as_deref()),
            Self::ShapeSays { text, .. } => shapes::typed(text.as_deref()),
            Self::Unpin => "let go".to_owned(),
            Self::SetStep { to, .. } => to.words().1,
            Self::TakePart { part } => format!("version {}", part.version),
            Self::LeavePart { .. } => "taken out".to_owned(),
        };
        if let Self::Pin { line, hold, .. } = self {
            return match hold {
                Some(_) => format!("{} held at {value}", said(line)),
                None => format!("{} let go", said(line)),
            };
        }
        if let Self::SetStep {
            step,
            to: StepChange::LeftOut(yes),
            ..
        } = self
        {
            let how = if *yes { "left out" } else { "put back" };
            return format!("step {} {how}", step_words(step));
        }
        if let Self::SetStep {
            step,
            to: StepChange::Added(None),
            ..
        } = self
            && !step.starts_with("own:")
        {
            return format!("what was decided for step {}: dropped", step_words(step));
        }
        format!("{}: {value}", self.name())
    }

    /// What it does to a sheet that it has not been made to yet: of a text the lines that differ,
    /// 'the text: 'Streusel' put in'.
    #[must_use]
    pub fn words_on(&self, before: &Sheet) -> String {
        match self {
            Self::Text { text } => format!("the text: {}", rewritten(&before.text, text)),
            Self::Method { text: Some(text) } if before.method.is_some() => {
                let was = before.method.as_deref().unwrap_or_default();
                format!("{}: {}", self.name(), rewritten(was, text))
            }
            other => other.words(),
        }
    }

    /// What the field is in a sheet now, in words; the same words only for the same value.
    #[must_use]
    pub fn value_in(&self, sheet: &Sheet) -> String {
        let decision = |line: &LineKey| sheet.decision(line);
        match self {
            Self::Text { .. } => sheet.text.clone(),
            Self::Title { .. } => sheet.title.clone().unwrap_or_else(|| "as read".to_owned()),
            Self::Credit { .. } => sheet.credit.clone().unwrap_or_else(|| "as read".to_owned()),
            Self::Makes { .. } => sheet.makes.clone().unwrap_or_else(|| "as read".to_owned()),
            Self::Keeping { .. } => sheet
                .keeping
                .clone()
                .unwrap_or_else(|| "nothing".to_owned()),
            Self::Method { .. } => sheet.method.clone().unwrap_or_else(|| "none".to_owned()),
            Self::Locale { .. } => measures(&sheet.locale),
            Self::ReadAs { line, .. } => {
                decision(line)
                    .and_then(|d| d.read_as.clone())
                    .map_or("as pasted".to_owned(), |t| {
                        if t.trim().is_empty() {
                            "no ingredient".to_owned()
                        } else {
                            t
                        }
                    })
            }
            Self::Food { line, place, .. } => decision(line)
                .and_then(|d| d.food_at(*place))
                .map_or("as read".to_owned(), |f| said(f)),
            Self::Grams { line, place, .. } => {
                grams(decision(line).and_then(|d| d.grams_at(*place)))
            }
            Self::Accept { line, code, .. } => {
                settled(decision(line).is_some_and(|d| d.accepted.contains(code)))
            }
            Self::AcceptWhole { code, .. } => settled(sheet.accepted.contains(code)),
            Self::Style { component, .. } => sheet
                .styles
                .get(component)
                .map_or("as guessed".to_owned(), |s| said(s)),
            Self::Blend { component, .. } => sheet
                .blends
                .get(component)
                .map_or("by style".to_owned(), |s| said(s)),
            Self::Pin {
                component, line, ..
            } => held(sheet.pin(component, line)),
            Self::LeaveOut { what, .. } => left(sheet.left_out.contains(what)),
            Self::Size { .. } => sized(sheet.size.as_ref()),
            Self::MethodSuits { .. } => match &sheet.method_suits {
                None => "not said".to_owned(),
                size => sized(size.as_ref()),
            },
            Self::SetHeat { what, .. } => sheet
                .heat
                .get(what)
                .cloned()
                .unwrap_or_else(|| "as read".to_owned()),
            Self::KnownBake { .. } => known_bake(&sheet.heat),
            Self::SetShape { component, .. } => {
                let ask = sheet.shapes.get(component);
                shapes::shape_name(ask.map(|a| a.shape.as_str()))
            }
            Self::ShapeSays {
                component, what, ..
            } => shapes::typed(sheet.shape_says(component, what)),
            Self::SetStep { step, to, .. } => {
                let here = sheet.steps.iter().find(|s| s.step == *step);
                to.words_in(here).1
            }
            Self::Unpin => {
                let pins: Vec<String> = sheet
                    .pins
                    .iter()
                    .map(|p| {
                        format!(
                            "{} of {}: {}",
                            said(&p.line),
                            the_part(&p.component),
                            p.hold
                        )
                    })
                    .collect();
                if pins.is_empty() {
                    "none".to_owned()
                } else {
                    pins.join("; ")
                }
            }
            Self::TakePart {
                part: PartUse { recipe, .. },
            }
            | Self::LeavePart { recipe } => sheet
                .parts
                .iter()
                .find(|p| p.recipe == *recipe)
                .map_or("not taken in".to_owned(), |p| {
                    format!("version {}", p.version)
                }),
        }
    }
}

/// Lines that say something.
fn written(text: &str) -> impl Iterator<Item = &str> {
    text.lines().map(str::trim).filter(|l| !l.is_empty())
}

fn counted(lines: usize) -> String {
    let s = if lines == 1 { "" } else { "s" };
    format!("{lines} line{s}")
}

/// What was done to a text, by the lines between those that stay at either end.
fn rewritten(was: &str, now: &str) -> String {
    let (was, now): (Vec<&str>, Vec<&str>) = (written(was).collect(), written(now).collect());
    let same = |(a, b): &(&&str, &&str)| a == b;
    let head = was.iter().zip(&now).take_while(same).count();
    let (was, now) = (&was[head..], &now[head..]);
    let tail = was
        .iter()
        .rev()
        .zip(now.iter().rev())
        .take_while(same)
        .count();
    let (out, put) = (&was[..was.len() - tail], &now[..now.len() - tail]);
    match (out, put) {
        ([], []) => "only the gaps between its lines".to_owned(),
        ([], [line]) => format!("{} put in", quoted(line)),
        ([], [first, ..]) => format!("{} put in, from {}", counted(put.len()), quoted(first)),
        ([line], []) => format!("{} taken out", quoted(line)),
        ([first, ..], []) => format!("{} taken out, from {}", counted(out.len()), quoted(first)),
        ([line], [new]) => format!("{} is now {}", quoted(line), quoted(new)),
        ([first, ..], _) => format!("changed from {} on", quoted(first)),
    }
}

/// A line in quotation marks; of a long one its first words.
fn quoted(line: &str) -> String {
    const LONGEST: usize = 40;
    let line = unmarked(line);
    if line.chars().count() <= LONGEST {
        return format!("'{line}'");
    }
    let cut: String = line.chars().take(LONGEST).collect();
    let words = cut
        .rsplit_once(' ')
        .map_or(cut.as_str(), |(words, _)| words);
    format!("'{words} …'")
}

/// The figures of a known bake in words.
fn known_bake(says: &HeatNotes) -> String {
    let all: Vec<&str> = HeatField::KNOWN
        .iter()
        .filter_map(|f| says.get(f.key()))
        .map(String::as_str)
        .collect();
    if all.is_empty() {
        "as read".to_owned()
    } else {
        all.join(", ")
    }
}

/// `240 g`, with as many decimals as were written.
fn grams(grams: Option<f64>) -> String {
    grams.map_or_else(|| "as reckoned".to_owned(), |g| format!("{g} g"))
}

fn held(hold: Option<&Hold>) -> String {
    hold.map_or_else(|| "as reckoned".to_owned(), Hold::to_string)
}

/// Which of a line's weights, where it is not the first.
fn ordinal(place: usize) -> String {
    match place {
        0 => String::new(),
        1 => "second ".to_owned(),
        2 => "third ".to_owned(),
        n => format!("{}th ", n + 1),
    }
}

/// A task's key in words: `'rise' of the dough`.
#[must_use]
pub fn step_words(key: &str) -> String {
    // Which of two of one kind: 'chill#2'.
    let of = key.rsplit_once(':').map(|(component, what)| {
        let kind = what.split_once('#').map_or(what, |(kind, _)| kind);
        (component, kind)
    });
    match of {
        Some(("own", _)) | None => "of your own".to_owned(),
        // A step of no kind that is known is said by its words.
        Some(("", "other")) => "of the recipe".to_owned(),
        Some((component, "other")) => format!("of {}", the_part(component)),
        Some(("", what)) => format!("'{}'", said(what)),
        Some((component, what)) => format!("'{}' of {}", said(what), the_part(component)),
    }
}

fn said(code: &str) -> String {
    code.replace('_', " ")
}

fn settled(yes: bool) -> String {
    if yes { "taken as read" } else { "open" }.to_owned()
}

fn left(out: bool) -> String {
    if out { "left out" } else { "left in" }.to_owned()
}

fn sized(ask: Option<&Ask>) -> String {
    ask.map_or_else(|| "the recipe once".to_owned(), Ask::to_string)
}

/// What a word of what is left out is called on screens.
fn named(what: &str) -> String {
    LeftOut::from_word(what).map_or_else(|| what.to_owned(), |l| l.name().to_owned())
}

/// Whose measures a key of a locale stands for.
fn measures(key: &str) -> String {
    key.parse()
        .map_or_else(|_| key.to_owned(), |l| country(l).to_owned())
}

#[cfg(test)]
mod tests {
    use super::rewritten;

    /// Worked by hand: which lines of the one text the other has not.
    #[test]
    fn a_text_says_which_of_its_lines_were_changed() {
        let was = "Loaf\n\n\u{2022} 500 g flour\n\u{2022} 7 g yeast\n";
        let said = |now: &str| rewritten(was, now);
        assert_eq!(
            said("Loaf\n\nDough:\n\u{2022} 500 g flour\n\u{2022} 7 g yeast"),
            "'Dough:' put in"
        );
        assert_eq!(
            said("Loaf\n\u{2022} 500 g flour\n\u{2022} 8 g yeast"),
            "'7 g yeast' is now '8 g yeast'"
        );
        assert_eq!(said("Loaf\n\u{2022} 7 g yeast"), "'500 g flour' taken out");
        assert_eq!(said("Loaf"), "2 lines taken out, from '500 g flour'");
        assert_eq!(
            said("Loaf\n\u{2022} 500 g flour\n\n\n\u{2022} 7 g yeast"),
            "only the gaps between its lines"
        );
        assert_eq!(
            said(&format!("{was}2 eggs\nBake.")),
            "2 lines put in, from '2 eggs'"
        );
        assert_eq!(
            said("Bread\n\u{2022} 1 kg flour\n\u{2022} 7 g yeast"),
            "changed from 'Loaf' on"
        );
        // Words are never cut in two.
        let long = format!("{was}Mix everything to a soft dough and let it stand for an hour\n");
        assert_eq!(
            said(&long),
            "'Mix everything to a soft dough and let …' put in"
        );
        // The same line twice: what is taken out is one of the two.
        assert_eq!(rewritten("1 egg\n1 egg", "1 egg"), "'1 egg' taken out");
    }
}
