//! What a food is usually called in a country: 'plain flour' for all-purpose flour.
//!
//! Only the name on screens follows the country. What is known of a food, and every word that
//! finds it, stay the same.

use crate::table::{TableError, rows};
use crate::{FoodId, Larder, locale_bits};
use quantity::Locale;

/// The names of a food by country.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Usual {
    /// The name in the table of foods, for every country without one of its own.
    pub plain: String,
    /// By [`Locale::index`].
    by_locale: [Option<String>; Locale::ALL.len()],
}

impl Larder {
    /// Reads the table of usual names. Each is also a name that finds the food in its countries.
    pub(crate) fn read_usual(&mut self) -> Result<(), TableError> {
        for row in rows("usual.tsv", include_str!("../data/usual.tsv")) {
            let id = self.need(&row)?;
            let (places, name) = (row.need("locales")?, row.need("name")?);
            crate::Status::read(&row, "status")?;
            row.need("source")?;
            let bits = locale_bits(places)
                .ok_or_else(|| row.wrong(format!("locales '{places}' are not known")))?;
            let plain = self.food(id).name.clone();
            let usual = self.usual.entry(id).or_insert_with(|| Usual {
                plain,
                by_locale: Default::default(),
            });
            for locale in Locale::ALL {
                if bits & (1 << locale.index()) == 0 {
                    continue;
                }
                if usual.by_locale[locale.index()].is_some() {
                    return Err(row.wrong(format!("a second usual name for {}", locale.key())));
                }
                usual.by_locale[locale.index()] = Some(name.to_owned());
            }
            self.names.add(name, id, bits);
            self.search.add(id, name, false);
        }
        Ok(())
    }

    /// This larder with the names of foods as they are usual in a country.
    ///
    /// # Arguments
    /// * `locale` — whose words: those of the measures a recipe is written in, or the kitchen's.
    ///
    /// # Returns
    /// The same foods under the same ids and keys; a food the kitchen has named keeps that name.
    ///
    /// # Example
    /// ```
    /// use quantity::Locale;
    /// let larder = larder::Larder::built_in()?.in_words_of(Locale::Uk);
    /// let flour = larder.by_key("all_purpose_flour").expect("a food of the table");
    /// assert_eq!(larder.food(flour).name, "plain flour");
    /// # Ok::<(), larder::TableError>(())
    /// ```
    #[must_use]
    pub fn in_words_of(mut self, locale: Locale) -> Self {
        for (id, usual) in &self.usual {
            let name = usual.by_locale[locale.index()].as_ref();
            self.foods[id.0 as usize]
                .name
                .clone_from(name.unwrap_or(&usual.plain));
        }
        let (foods, usual) = (&self.foods, &self.usual);
        self.search.call(|id| {
            usual
                .contains_key(&id)
                .then(|| foods[id.0 as usize].name.as_str())
        });
        self.locale = locale;
        self
    }

    /// Whose words the names are in, US ones where nothing was said: names that are given back
    /// are read by it.
    #[must_use]
    pub fn locale(&self) -> Locale {
        self.locale
    }

    /// A food's name in no country's words but the table's: what to look for among names kept
    /// in the words of any.
    #[must_use]
    pub fn plain_name(&self, id: FoodId) -> &str {
        let usual = self.usual.get(&id);
        usual.map_or(&self.food(id).name, |u| &u.plain)
    }

    /// The food with exactly this name on screens: here, else in another country.
    #[must_use]
    pub fn named(&self, name: &str) -> Option<FoodId> {
        let is = |n: &str| n.eq_ignore_ascii_case(name);
        self.ids().find(|id| is(&self.food(*id).name)).or_else(|| {
            self.ids().find(|id| {
                self.usual
                    .get(id)
                    .is_some_and(|u| is(&u.plain) || u.by_locale.iter().flatten().any(|n| is(n)))
            })
        })
    }
}
