//! The settings as typed, and read back.

use super::counted;
use crate::day::clock::Night;
use crate::web::app::locale;
use crate::web::post::Post;
use larder::allergen::Regime;
use quantity::Locale;
use quantity::household::scoops;
use recipe::leaven::Altitude;
use recipe::plan::{LONGEST_CHANGE, MOST_OF_ANY};
use store::Settings;

/// Longest name, in letters.
const LONGEST: usize = 80;

pub const STEPS: [(&str, &str); 4] = [("0.1", "0.1 g"), ("1", "1 g"), ("2", "2 g"), ("5", "5 g")];
pub const FINE: [(&str, &str); 3] = [("0", "none"), ("0.1", "0.1 g"), ("0.01", "0.01 g")];
pub const OVENS: [(&str, &str); 3] = [("still", "still, no fan"), ("fan", "fan"), ("gas", "gas")];
pub const THEMES: [(&str, &str); 3] = [
    ("auto", "as the device has it"),
    ("light", "light"),
    ("dark", "dark"),
];
pub const OFTEN: [(&str, &str); 5] = [
    ("1", "every hour"),
    ("6", "every 6 hours"),
    ("24", "every day"),
    ("72", "every 3 days"),
    ("168", "every week"),
];

/// Something that the kitchen has so many of.
pub struct Count {
    pub id: &'static str,
    pub words: &'static str,
    least: u32,
    most: u32,
    get: fn(&Settings) -> u32,
    put: fn(&mut Settings, u32),
}

pub const COUNTS: [Count; 7] = [
    Count {
        id: "hands",
        words: "Pairs of hands",
        least: 1,
        most: MOST_OF_ANY,
        get: |s| s.hands,
        put: |s, n| s.hands = n,
    },
    Count {
        id: "ovens",
        words: "Ovens",
        least: 0,
        most: MOST_OF_ANY,
        get: |s| s.ovens,
        put: |s, n| s.ovens = n,
    },
    Count {
        id: "oven_racks",
        words: "Racks in each oven",
        least: 1,
        most: MOST_OF_ANY,
        get: |s| s.oven_racks,
        put: |s, n| s.oven_racks = n,
    },
    Count {
        id: "mixers",
        words: "Mixers",
        least: 0,
        most: MOST_OF_ANY,
        get: |s| s.mixers,
        put: |s, n| s.mixers = n,
    },
    Count {
        id: "oven_change",
        words: "Minutes for an oven to change its heat",
        least: 0,
        most: LONGEST_CHANGE,
        get: |s| s.oven_change,
        put: |s, n| s.oven_change = n,
    },
    Count {
        id: "fridge_shelves",
        words: "Free fridge shelves",
        least: 0,
        most: MOST_OF_ANY,
        get: |s| s.fridge_shelves,
        put: |s, n| s.fridge_shelves = n,
    },
    Count {
        id: "freezer_shelves",
        words: "Free freezer shelves",
        least: 0,
        most: MOST_OF_ANY,
        get: |s| s.freezer_shelves,
        put: |s, n| s.freezer_shelves = n,
    },
];

/// What stands in the form, as typed.
pub struct Typed {
    pub kitchen: String,
    pub baker: String,
    pub locale: String,
    pub regime: String,
    pub step: String,
    pub fine: String,
    pub scoops: Vec<String>,
    pub oven: String,
    pub oven_note: String,
    pub altitude: String,
    pub pans: String,
    /// In the order of [`COUNTS`].
    pub counts: Vec<String>,
    pub quiet: String,
    pub currency: String,
    pub theme: String,
    pub keep: String,
    pub often: String,
    /// Field and what is wrong with it.
    pub troubles: Vec<(&'static str, String)>,
}

impl Typed {
    /// The settings as they stand.
    pub fn of(s: &Settings) -> Self {
        Self {
            kitchen: s.kitchen.clone(),
            baker: s.baker.clone(),
            locale: s.locale.clone(),
            regime: s.regime.clone(),
            step: s.scale_step.to_string(),
            fine: s.fine_scale_step.to_string(),
            scoops: s.scoops.clone(),
            oven: s.oven.clone(),
            oven_note: s.oven_note.clone(),
            altitude: s.altitude.to_string(),
            pans: s.pans.join("\n"),
            counts: COUNTS.iter().map(|c| (c.get)(s).to_string()).collect(),
            quiet: s.quiet.clone(),
            currency: s.currency.clone(),
            theme: s.theme.clone(),
            keep: s.backups_keep.to_string(),
            often: s.backup_hours.to_string(),
            troubles: Vec::new(),
        }
    }

    pub fn sent(post: &Post) -> Self {
        let text = |name: &str| post.text(name).to_owned();
        Self {
            kitchen: text("kitchen"),
            baker: text("baker"),
            locale: text("locale"),
            regime: text("regime"),
            step: text("step"),
            fine: text("fine"),
            scoops: post.all("scoop").into_iter().map(str::to_owned).collect(),
            oven: text("oven"),
            oven_note: text("oven_note"),
            // Not sent: as it was. Emptied: at the sea.
            altitude: match (post.has("altitude"), post.text("altitude")) {
                (false, _) => String::new(),
                (true, "") => "0".to_owned(),
                (true, metres) => metres.to_owned(),
            },
            pans: post.raw("pans").replace("\r\n", "\n"),
            counts: COUNTS.iter().map(|c| text(c.id)).collect(),
            quiet: text("quiet"),
            currency: text("currency").to_uppercase(),
            theme: text("theme"),
            keep: text("keep"),
            often: text("often"),
            troubles: Vec::new(),
        }
    }

    /// Whose scoops the form shows.
    pub fn drawer(&self) -> Vec<String> {
        let locale = self.locale.parse().unwrap_or(Locale::Us);
        scoops(locale).iter().map(|s| s.name()).collect()
    }

    /// The settings that this makes of `before`. What the form does not show stays.
    pub fn settings(&mut self, before: &Settings, drawer: &[String]) -> Settings {
        let mut new = before.clone();
        for (field, text, what) in [
            ("kitchen", &self.kitchen, "The kitchen's name"),
            ("baker", &self.baker, "Your name"),
            ("oven_note", &self.oven_note, "The note"),
        ] {
            if text.chars().count() > LONGEST {
                let words = format!("{what} is too long: {LONGEST} letters at most.");
                self.troubles.push((field, words));
            }
        }
        new.kitchen.clone_from(&self.kitchen);
        new.baker.clone_from(&self.baker);
        new.oven_note.clone_from(&self.oven_note);
        let pans = self.pans.lines().map(str::trim).filter(|p| !p.is_empty());
        new.pans = pans.map(str::to_owned).collect();
        if new.pans.len() > 200 || new.pans.iter().any(|p| p.chars().count() > LONGEST) {
            let words =
                format!("Pans: one to a line, {LONGEST} letters each and 200 lines at most.");
            self.troubles.push(("pans", words));
        }
        let mut read = new.pans.iter().map(|line| counted(line));
        if let Some(words) = read.find_map(Result::err) {
            self.troubles.push(("pans", format!("Pans: {words}.")));
        }
        self.plan(&mut new);
        if let Ok(l) = self.locale.parse::<Locale>() {
            new.locale = l.key().to_owned();
        }
        self.law(before, &mut new);
        for (rows, text, into) in [
            (&STEPS[..], &self.step, &mut new.scale_step),
            (&FINE[..], &self.fine, &mut new.fine_scale_step),
        ] {
            if let (true, Ok(v)) = (rows.iter().any(|r| r.0 == text), text.parse()) {
                *into = v;
            }
        }
        for (rows, text, into) in [
            (&OVENS, &self.oven, &mut new.oven),
            (&THEMES, &self.theme, &mut new.theme),
        ] {
            if rows.iter().any(|r| r.0 == text) {
                into.clone_from(text);
            }
        }
        new.scoops.retain(|s| !drawer.contains(s));
        new.scoops
            .extend(drawer.iter().filter(|s| self.scoops.contains(s)).cloned());
        if self.currency.len() == 3 && self.currency.bytes().all(|b| b.is_ascii_uppercase()) {
            new.currency.clone_from(&self.currency);
        } else {
            let words = "A currency has three letters, such as EUR, GBP or AUD.";
            self.troubles.push(("currency", words.to_owned()));
        }
        let height = match self.altitude.as_str() {
            "" => Ok(before.altitude),
            text => Altitude::read(text).map(|a| a.metres),
        };
        match height {
            Ok(metres) => new.altitude = metres,
            Err(_) => {
                let words =
                    "Write metres above the sea, from 0 to 6000, or feet: 5,000 feet are 1524.";
                self.troubles.push(("altitude", words.to_owned()));
            }
        }
        match self.keep.parse::<u32>() {
            Ok(n) if (1..=365).contains(&n) => new.backups_keep = n,
            _ => {
                let words = "Keep from 1 to 365 backups: write a whole number.";
                self.troubles.push(("keep", words.to_owned()));
            }
        }
        if let (true, Ok(n)) = (OFTEN.iter().any(|r| r.0 == self.often), self.often.parse()) {
            new.backup_hours = n;
        }
        new
    }

    /// What days are planned with.
    fn plan(&mut self, new: &mut Settings) {
        // A field that was not sent, or is left empty, stays as it was.
        for (count, text) in COUNTS.iter().zip(&self.counts) {
            if text.trim().is_empty() {
                continue;
            }
            match text.trim().parse::<u32>() {
                Ok(n) if (count.least..=count.most).contains(&n) => {
                    (count.put)(new, n);
                }
                _ => {
                    let words = format!(
                        "{}: write a whole number from {} to {}.",
                        count.words, count.least, count.most
                    );
                    self.troubles.push((count.id, words));
                }
            }
        }
        match Night::read(&self.quiet) {
            Ok(_) if self.quiet.trim().is_empty() => {}
            Ok(night) => new.quiet = night.words(),
            Err(words) => self
                .troubles
                .push(("quiet", format!("Quiet hours: {words}."))),
        }
    }

    /// The label law: as chosen by hand; else the country's own where its measures are chosen for
    /// the first time; else as it was.
    fn law(&self, before: &Settings, new: &mut Settings) {
        let set = has_law(before);
        match Regime::from_word(&self.regime) {
            Some(law) if law.word() != before.regime => choose(new, law),
            _ if !set && new.locale != before.locale => choose(new, Regime::usual(locale(new))),
            _ => {}
        }
    }

    pub fn trouble(&self, field: &str) -> Option<&str> {
        let found = self.troubles.iter().find(|t| t.0 == field);
        found.map(|t| t.1.as_str())
    }
}

/// Whether a kitchen has said whose law it goes by. Of those of before this was kept, what is not the first
/// value was chosen.
pub fn has_law(settings: &Settings) -> bool {
    let first = Settings::default();
    settings.regime_set || (&settings.locale, &settings.regime) != (&first.locale, &first.regime)
}

/// Whether a kitchen has said whose measures it has. The first value counts as said where that country's law was
/// chosen: with the measures, or by hand.
pub fn has_country(settings: &Settings) -> bool {
    let first = Settings::default();
    settings.locale != first.locale || settings.regime_set && settings.regime == first.regime
}

/// Puts a law in force, to stay.
pub fn choose(settings: &mut Settings, law: Regime) {
    law.word().clone_into(&mut settings.regime);
    settings.regime_set = true;
}

/// The words of a choice; itself where it is not offered.
pub fn in_words<'a>(rows: &[(&'a str, &'a str)], now: &'a str) -> &'a str {
    rows.iter().find(|r| r.0 == now).map_or(now, |r| r.1)
}
