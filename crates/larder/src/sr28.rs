//! The USDA National Nutrient Database for Standard Reference, release 28, packed into the
//! program by `build.rs`. Nothing is parsed at start-up: look-ups read the block in place.
//!
//! # Source
//! US Department of Agriculture, Agricultural Research Service, SR28 (2015, public domain).

static BLOCK: &[u8] = include_bytes!(concat!(env!("OUT_DIR"), "/sr28.bin"));

macro_rules! nutrients {
    ($($(#[$meta:meta])* $name:ident = $code:literal),* $(,)?) => {
        /// A column of the nutrient table, per 100 g of the edible part.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
        pub enum Nutrient { $($(#[$meta])* #[doc = concat!("`", $code, "`.")] $name),* }
        impl Nutrient {
            /// Every column, in table order.
            pub const ALL: &'static [Self] = &[$(Self::$name),*];
            /// The column's name in the table, unit last.
            #[must_use]
            pub fn code(self) -> &'static str {
                match self { $(Self::$name => $code),* }
            }
        }
    };
}
nutrients! {
    Water = "water_g", EnergyKcal = "energy_kcal", EnergyKj = "energy_kj", Protein = "protein_g",
    Fat = "fat_g", Ash = "ash_g", Carbohydrate = "carbohydrate_by_difference_g",
    Fibre = "fibre_g", Sugars = "sugars_g", Starch = "starch_g", Alcohol = "alcohol_g",
    Saturated = "saturated_fat_g", Monounsaturated = "monounsaturated_fat_g",
    Polyunsaturated = "polyunsaturated_fat_g", Trans = "trans_fat_g",
    Cholesterol = "cholesterol_mg", Sodium = "sodium_mg", Potassium = "potassium_mg",
    Calcium = "calcium_mg", Iron = "iron_mg", Magnesium = "magnesium_mg",
    Phosphorus = "phosphorus_mg", Zinc = "zinc_mg", Copper = "copper_mg",
    Manganese = "manganese_mg", Selenium = "selenium_ug", VitaminA = "vitamin_a_rae_ug",
    VitaminD = "vitamin_d_ug", VitaminE = "vitamin_e_mg", VitaminK = "vitamin_k_ug",
    VitaminC = "vitamin_c_mg", Thiamin = "thiamin_mg", Riboflavin = "riboflavin_mg",
    Niacin = "niacin_mg", PantothenicAcid = "pantothenic_acid_mg", VitaminB6 = "vitamin_b6_mg",
    Folate = "folate_dfe_ug", VitaminB12 = "vitamin_b12_ug", Choline = "choline_mg",
    Caffeine = "caffeine_mg", RefusePercent = "refuse_percent",
    NitrogenFactor = "nitrogen_factor", ProteinKcalFactor = "protein_kcal_factor",
    FatKcalFactor = "fat_kcal_factor", CarbohydrateKcalFactor = "carbohydrate_kcal_factor",
}

/// A household portion of a food: so many of a measure weigh so many grams.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Portion {
    /// How many of the measure.
    pub amount: f64,
    /// The measure in the table's words.
    pub unit: &'static str,
    /// Their weight in grams.
    pub grams: f64,
}

/// One food of the table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Sr28Food {
    at: usize,
}

/// Places of the parts in the block.
struct Parts {
    foods: usize,
    columns: usize,
    text: usize,
    values: usize,
    portions: usize,
    units: usize,
}

fn u32_at(at: usize) -> usize {
    let bytes = &BLOCK[at..at + 4];
    u32::from_le_bytes([bytes[0], bytes[1], bytes[2], bytes[3]]) as usize
}

fn parts() -> Parts {
    let [foods, columns, text, values, portions] = [4, 8, 12, 16, 20].map(u32_at);
    let start = 24 + 4 * foods + 3 * 4 * (foods + 1);
    Parts {
        foods,
        columns,
        text: start,
        values: start + text,
        portions: start + text + values,
        units: start + text + values + portions,
    }
}

/// Reads a LEB128 number and moves on.
fn number(at: &mut usize) -> u64 {
    let (mut n, mut shift) = (0, 0);
    loop {
        let byte = BLOCK[*at];
        *at += 1;
        n |= u64::from(byte & 0x7f) << shift;
        if byte < 0x80 {
            return n;
        }
        shift += 7;
    }
}

/// How many foods the table holds.
#[must_use]
pub fn count() -> usize {
    parts().foods
}

/// Every food, by ascending NDB number.
pub fn all() -> impl Iterator<Item = Sr28Food> {
    (0..count()).map(|at| Sr28Food { at })
}

/// The food with an NDB number.
#[must_use]
pub fn food(ndb: u32) -> Option<Sr28Food> {
    let (mut low, mut high) = (0, count());
    while low < high {
        let mid = usize::midpoint(low, high);
        if u32_at(24 + 4 * mid) < ndb as usize {
            low = mid + 1
        } else {
            high = mid
        }
    }
    (low < count() && u32_at(24 + 4 * low) == ndb as usize).then_some(Sr28Food { at: low })
}

impl Sr28Food {
    /// Start and end of this food's stretch in one of the parts behind the offset lists.
    fn stretch(self, list: usize, part: usize) -> (usize, usize) {
        let n = count();
        let offsets = 24 + 4 * n + list * 4 * (n + 1);
        (
            part + u32_at(offsets + 4 * self.at),
            part + u32_at(offsets + 4 * self.at + 4),
        )
    }
    fn text(self, field: usize) -> &'static str {
        let (from, to) = self.stretch(0, parts().text);
        let text = std::str::from_utf8(&BLOCK[from..to]).unwrap_or_default();
        text.split('\x1f').nth(field).unwrap_or_default()
    }
    /// The NDB number.
    #[must_use]
    pub fn ndb(self) -> u32 {
        u32_at(24 + 4 * self.at) as u32
    }
    /// The table's description.
    #[must_use]
    pub fn description(self) -> &'static str {
        self.text(0)
    }
    /// The table's common name, often empty.
    #[must_use]
    pub fn common_name(self) -> &'static str {
        self.text(1)
    }
    /// The food group.
    #[must_use]
    pub fn group(self) -> &'static str {
        self.text(2)
    }
    /// A column's value, or `None` where the table reports none (not the same as zero).
    #[must_use]
    pub fn get(self, nutrient: Nutrient) -> Option<f64> {
        let parts = parts();
        let (from, _) = self.stretch(1, parts.values);
        let wanted = nutrient as usize;
        let has = |i: usize| BLOCK[from + i / 8] & (1 << (i % 8)) != 0;
        if !has(wanted) {
            return None;
        }
        let mut at = from + parts.columns.div_ceil(8);
        for _ in (0..wanted).filter(|&i| has(i)) {
            number(&mut at);
        }
        Some(number(&mut at) as f64 / 1000.0)
    }
    /// The household portions, in the table's order.
    pub fn portions(self) -> impl Iterator<Item = Portion> {
        let parts = parts();
        let (mut at, end) = self.stretch(2, parts.portions);
        std::iter::from_fn(move || {
            if at >= end {
                return None;
            }
            let amount = number(&mut at) as f64 / 1000.0;
            let grams = number(&mut at) as f64 / 1000.0;
            let unit = unit_name(number(&mut at) as usize);
            Some(Portion {
                amount,
                unit,
                grams,
            })
        })
    }
}

fn unit_name(index: usize) -> &'static str {
    let text = std::str::from_utf8(&BLOCK[parts().units..]).unwrap_or_default();
    text.split('\x1f').nth(index).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::HashMap;

    fn rows(text: &'static str) -> Vec<csv::StringRecord> {
        csv::Reader::from_reader(text.as_bytes())
            .records()
            .map(|r| r.expect("a row"))
            .collect()
    }

    /// Every cell of the source tables comes back exactly, and nothing more.
    #[test]
    fn the_block_says_what_the_tables_say() {
        let nutrients = rows(include_str!("../data/sr28/nutrients.csv"));
        let foods = rows(include_str!("../data/sr28/foods.csv"));
        assert_eq!(count(), nutrients.len());
        assert_eq!(count(), foods.len());
        let mut portions: HashMap<u32, Vec<(f64, String, f64)>> = HashMap::new();
        for r in rows(include_str!("../data/sr28/portions.csv")) {
            let f = |i: usize| r[i].parse::<f64>().expect("a number");
            portions
                .entry(r[0].parse().expect("ndb"))
                .or_default()
                .push((f(2), r[3].into(), f(4)));
        }
        for r in &nutrients {
            let food = food(r[0].parse().expect("ndb")).expect("the food");
            for (i, n) in Nutrient::ALL[..40].iter().enumerate() {
                assert_eq!(
                    food.get(*n),
                    r[i + 1].parse::<f64>().ok(),
                    "{} {}",
                    &r[0],
                    n.code()
                );
            }
            let got: Vec<_> = food
                .portions()
                .map(|p| (p.amount, p.unit.to_owned(), p.grams))
                .collect();
            assert_eq!(got, portions.remove(&food.ndb()).unwrap_or_default());
        }
        for r in &foods {
            let food = food(r[0].parse().expect("ndb")).expect("the food");
            assert_eq!(
                (food.group(), food.description(), food.common_name()),
                (&r[1], &r[2], &r[3])
            );
            assert_eq!(food.get(Nutrient::RefusePercent), r[4].parse::<f64>().ok());
            assert_eq!(
                food.get(Nutrient::CarbohydrateKcalFactor),
                r[8].parse::<f64>().ok()
            );
        }
        assert!(portions.is_empty());
        assert_eq!(food(99_999_999), None);
    }

    /// The column order here is the header's order.
    #[test]
    fn columns_are_named_as_in_the_header() {
        let header = include_str!("../data/sr28/nutrients.csv")
            .lines()
            .next()
            .expect("a header");
        let names: Vec<_> = header.split(',').skip(1).collect();
        assert_eq!(
            names,
            Nutrient::ALL[..40]
                .iter()
                .map(|n| n.code())
                .collect::<Vec<_>>()
        );
    }
}
