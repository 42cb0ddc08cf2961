//! What words name in a reworked component, and why it is as it is.

use super::hold::{BINDER, HYDRATION};
use super::reworked::{Change, Kept, ReworkedComponent, ReworkedLine};
use larder::{Function, Larder};
use std::error::Error;
use std::fmt;

/// Words that name nothing in a component, or several things: a sentence with what there is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AskError(String);

impl fmt::Display for AskError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl Error for AskError {}

/// Whether words stand in a text as a whole: `egg` is in `100 g egg (20 %)`, not in `egg white`.
fn stands_in(text: &str, name: &str) -> bool {
    text.match_indices(name).any(|(at, _)| {
        let before = text[..at].chars().next_back();
        let after = &text[at + name.len()..];
        before.is_none_or(|c| c == ' ')
            && ["", ",", " (", " added", " and ", ";"].iter().any(|end| {
                if end.is_empty() {
                    after.is_empty()
                } else {
                    after.starts_with(end)
                }
            })
    })
}

impl ReworkedComponent {
    fn live(&self) -> impl Iterator<Item = &ReworkedLine> {
        self.lines.iter().filter(|l| l.kept != Kept::Dropped)
    }

    /// The key of the line or figure that words name.
    ///
    /// # Inputs
    /// A line's key, the name shown, a word that only one line has; [`HYDRATION`], [`BINDER`]; or
    /// a binder of the larder that the component has not.
    ///
    /// # Errors
    /// [`AskError`]: no such line, with those there are; or several.
    pub fn named(&self, words: &str, larder: &Larder) -> Result<String, AskError> {
        let words = words.trim().to_lowercase();
        match words.as_str() {
            "hydration" | "wetness" => return Ok(HYDRATION.to_owned()),
            "binder" | "binders" => return Ok(BINDER.to_owned()),
            "starch" | "starch share" | "starch_share" => return Ok("starch".to_owned()),
            "flour" => return Ok("blend".to_owned()),
            _ => {}
        }
        let all = || {
            let lines = self.lines.iter();
            lines.filter(|l| l.kept != Kept::Dropped || self.holds.contains_key(&l.key))
        };
        let exact = all()
            .find(|l| l.key == words)
            .or_else(|| all().find(|l| l.name.to_lowercase() == words));
        if let Some(line) = exact {
            return Ok(line.key.clone());
        }
        if self.holds.contains_key(&words) {
            return Ok(words);
        }
        let one = words.strip_suffix('s').unwrap_or(&words);
        let parts = |l: &ReworkedLine| -> Vec<String> {
            let name = l.name.to_lowercase();
            let parts = name.split([' ', ',']).chain(l.key.split(['_', ' ']));
            parts.map(str::to_owned).collect()
        };
        let having: Vec<&ReworkedLine> = all()
            .filter(|l| !l.blend && parts(l).iter().any(|p| *p == words || *p == one))
            .collect();
        match having.as_slice() {
            [line] => return Ok(line.key.clone()),
            [] => {}
            several => {
                let keys: Vec<&str> = several.iter().map(|l| l.key.as_str()).collect();
                return Err(AskError(format!(
                    "'{words}' may be {}: write which",
                    keys.join(" or ")
                )));
            }
        }
        let food = larder.by_key(&words).or_else(|| larder.named(&words));
        if let Some(food) = food.map(|f| larder.food(f))
            && food.function() == Function::Binder
        {
            return Ok(food.key.clone());
        }
        let lines: Vec<String> = self
            .live()
            .map(|l| format!("{} ({})", l.key, l.name))
            .collect();
        Err(AskError(format!(
            "no line is called '{words}'{}: the lines are {}",
            if self.name.is_empty() {
                String::new()
            } else {
                format!(" in '{}'", self.name)
            },
            lines.join(", ")
        )))
    }

    /// The changes that made a line what it is.
    #[must_use]
    pub fn whys_of(&self, line: &ReworkedLine) -> Vec<&Change> {
        let held = format!("{} held at ", line.name);
        self.changes
            .iter()
            .filter(|c| match c.what.as_str() {
                // The bench and the pan share names with the dough, not its figures.
                _ if !line.in_formula => c.to == line.name,
                "pin" => c.rule.starts_with(&held),
                "flour" | "blend" | "self-raising flour" | "starter" if line.blend => true,
                _ => stands_in(&c.to, &line.name),
            })
            .collect()
    }

    /// The changes that words ask about: a line as in [`Self::named`], a figure of the balance,
    /// or what a change is about, such as `oven`.
    ///
    /// # Returns
    /// None where the line is as it was.
    ///
    /// # Errors
    /// [`AskError`]: the words name neither.
    pub fn whys(&self, words: &str, larder: &Larder) -> Result<Vec<&Change>, AskError> {
        let asked = words.trim().to_lowercase();
        let of = |what: &[&str]| -> Vec<&Change> {
            self.changes
                .iter()
                .filter(|c| {
                    what.contains(&c.what.as_str())
                        || c.what == "pin"
                            && what
                                .iter()
                                .any(|w| c.rule.starts_with(&format!("{w} held at ")))
                })
                .collect()
        };
        let found = match asked.as_str() {
            "hydration" | "wetness" | "water" => of(&["water", "hydration"]),
            "starch" | "starch share" | "flour" => of(&["flour", "blend"]),
            asked => of(&[asked]),
        };
        if !found.is_empty() {
            return Ok(found);
        }
        let key = self.named(&asked, larder)?;
        Ok(self
            .lines
            .iter()
            .find(|l| l.key == key)
            .map_or(Vec::new(), |l| self.whys_of(l)))
    }
}

#[cfg(test)]
mod tests {
    use super::stands_in;

    #[test]
    fn a_name_is_found_whole() {
        for (text, name, yes) in [
            ("100 g egg (20 %)", "egg", true),
            ("15 g egg white powder (3 %)", "egg", false),
            ("86 % hydration, 310 g whole milk", "whole milk", true),
            ("77 % hydration, 12 g water added", "water", true),
            ("12 g buttermilk", "milk", false),
        ] {
            assert_eq!(stands_in(text, name), yes, "{text}");
        }
    }
}
