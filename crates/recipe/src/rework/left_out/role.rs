//! What an ingredient does in the recipe: an egg that binds is another thing than one that raises.

use crate::Purpose;
use crate::rework::engine::Work;
use crate::sentences::each;
use larder::Function;

/// More egg than so many percent of the flour, and the crumb is another without it: 2 eggs of 50 g
/// to 250 g.
///
/// # Source
/// Common practice, no source.
pub(super) const MUCH_EGG: f64 = 40.0;
/// More egg than this, and there is no doing without: 4 eggs of 50 g to 250 g of flour.
const TOO_MUCH_EGG: f64 = 80.0;

macro_rules! roles {
    ($($(#[$m:meta])* $variant:ident = $word:literal),* $(,)?) => {
        /// What an ingredient does here.
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        pub(crate) enum Role { $($(#[$m])* $variant),* }
        impl Role {
            pub(super) fn from_word(word: &str) -> Option<Self> {
                match word { $($word => Some(Self::$variant),)* _ => None }
            }
        }
    };
}

roles! {
    /// Egg holds the crumb together.
    Binding = "binding",
    /// Whites or egg beaten, a little of it.
    Foam = "foam",
    /// Egg alone raises it.
    Leavening = "leavening",
    /// Egg beside fruit in a moist crumb.
    Moisture = "moisture",
    /// Brushed on.
    Wash = "wash",
    /// Egg sets it: custard, curd, filling.
    Setting = "setting",
    /// A sponge or choux.
    Sponge = "sponge",
    /// So much egg that it is the structure.
    Structure = "structure",
    /// Much egg, beaten to a foam.
    FoamStructure = "foam_structure",
    /// Fat beaten with sugar.
    Creamed = "creamed",
    /// Cold fat in pieces.
    CutIn = "cut_in",
    /// Fat melted.
    Melted = "melted",
    /// Fat between layers.
    Laminated = "laminated",
    /// Fat worked or spread soft.
    Spread = "spread",
    /// For the tin or the pan.
    Pan = "pan",
    /// Milk as liquid.
    Liquid = "liquid",
    /// Cream whipped.
    Whipped = "whipped",
    /// Cream poured in.
    Poured = "poured",
    /// Part of the flour.
    Flour = "flour",
    /// For the bench.
    Dusting = "dusting",
    /// Raises a flatbread.
    Flatbread = "flatbread",
    /// Anything else.
    Other = "other",
}

impl Role {
    /// The words for it after a food: 'butter, creamed'; empty where there is nothing to say.
    pub(super) fn words(self) -> &'static str {
        match self {
            Self::Binding => " that binds",
            Self::Foam | Self::FoamStructure => " beaten to a foam",
            Self::Leavening => " that raises",
            Self::Moisture => " that moistens",
            Self::Wash => " to brush",
            Self::Setting => " that sets it",
            Self::Creamed => ", creamed",
            Self::CutIn => ", cut in cold",
            Self::Melted => ", melted",
            Self::Laminated => " for layers",
            Self::Pan => " for the pan",
            Self::Whipped => ", whipped",
            Self::Dusting => " for dusting",
            _ => "",
        }
    }
}

const BEATEN: [&str; 7] = [
    "stiff",
    "soft peak",
    "firm peak",
    "to peaks",
    "foamy",
    "ribbon",
    "frothy",
];

impl Work<'_> {
    /// What a line does here, from the style, the shares, the line's words and the steps.
    pub(super) fn role(&self, i: usize) -> Role {
        let line = &self.lines[i];
        let Some(food) = line.food.map(|f| self.larder.food(f)) else {
            return Role::Other;
        };
        let read = line
            .origin
            .and_then(|(l, _)| self.formula.recipe.components[self.at].lines.get(l));
        let item = line.origin.and_then(|(_, i)| read?.items.get(i));
        let purpose = item.map_or(Purpose::Formula, |i| i.purpose);
        let words = read.map_or(String::new(), |l| l.clean.to_lowercase());
        let says = |any: &[&str]| any.iter().any(|w| words.contains(w));
        let brushed =
            purpose == Purpose::Brushing || says(&["egg wash", "to brush", "for brushing"]);
        let style = self.style.map(|s| s.style);
        let key = food.key.as_str();
        if food.does(Function::Egg) {
            return if brushed || !line.in_formula {
                Role::Wash
            } else {
                self.egg_role(key, says(&["separated", "whipped", "beaten to", "stiffly"]))
            };
        }
        if food.does(Function::Yeast) {
            return match style {
                Some(s) if s.key() == "pizza_flatbread" => Role::Flatbread,
                _ => Role::Other,
            };
        }
        if food.is_flour_phase() {
            return if line.in_formula {
                Role::Flour
            } else {
                Role::Dusting
            };
        }
        if food.function() == Function::Fat && !key.contains("cream") {
            return self.fat_role(purpose, &words);
        }
        if key.contains("cream") && food.does(Function::Dairy) {
            let whipped = says(&["whipped", "to whip", "whipping"]) && !says(&["whipping cream"])
                || self.steps_say("cream", &["whip", "whisk the cream", "peak"]);
            return if whipped { Role::Whipped } else { Role::Poured };
        }
        match food.does(Function::Liquid) {
            true if brushed => Role::Wash,
            true => Role::Liquid,
            false => Role::Other,
        }
    }

    fn egg_role(&self, key: &str, separated: bool) -> Role {
        let b = &self.original;
        let white = key == "egg_white";
        let beaten = separated
            || self.steps_say("white", &BEATEN)
            || white && self.steps_say("egg", &BEATEN);
        let Some(style) = self.style.map(|s| s.style).filter(|s| {
            b.flour.likely().as_grams() > 0.0 && !s.is_thickened() && self.no_batter(*s).is_none()
        }) else {
            return if beaten && white {
                Role::Foam
            } else {
                Role::Setting
            };
        };
        if style.is_egg_raised() {
            return Role::Sponge;
        }
        if b.egg > TOO_MUCH_EGG {
            return Role::Structure;
        }
        let beaten = beaten || self.steps_say("egg", &["ribbon", "stiff", "until thick and pale"]);
        if beaten && key != "egg_yolk" {
            return if b.egg > MUCH_EGG {
                Role::FoamStructure
            } else {
                Role::Foam
            };
        }
        let quick = matches!(style.key(), "butter_cake" | "muffin_quick_bread");
        if quick && b.leavening <= 0.0 && b.yeast <= 0.0 {
            return Role::Leavening;
        }
        let fruit = self.lines.iter().any(|l| {
            l.in_formula
                && l.food
                    .is_some_and(|f| self.larder.food(f).function() == Function::Fruit)
                && l.grams
                    .is_some_and(|g| g.likely().as_grams() > 0.2 * b.flour.likely().as_grams())
        });
        if style.key() == "muffin_quick_bread" && fruit {
            return Role::Moisture;
        }
        Role::Binding
    }

    fn fat_role(&self, purpose: Purpose, words: &str) -> Role {
        match purpose {
            Purpose::Pan => return Role::Pan,
            Purpose::Brushing => return Role::Melted,
            _ => {}
        }
        let says = |any: &[&str]| any.iter().any(|w| words.contains(w));
        let style = self.style.map_or("", |s| s.style.key());
        if says(&["melted"]) {
            return Role::Melted;
        }
        if style == "laminated" {
            return Role::Laminated;
        }
        if says(&["cold", "chilled", "fridge"]) {
            return Role::CutIn;
        }
        if says(&["soft", "room temp"]) {
            return match style {
                "lean_bread" | "enriched_dough" | "" => Role::Spread,
                _ => Role::Creamed,
            };
        }
        if self.steps_say("butter", &["melt"]) {
            return Role::Melted;
        }
        if self.steps_say("butter", &["rub", "cut in", "crumbs", "breadcrumb"]) {
            return Role::CutIn;
        }
        match style {
            "pie_pastry" | "cracker" | "crumb_streusel" => Role::CutIn,
            "butter_cake" | "drop_cookie" | "rolled_cookie" | "frangipane" => Role::Creamed,
            "muffin_quick_bread" | "pancake_crepe" | "roux_sauce" | "choux" | "sponge_cake" => {
                Role::Melted
            }
            _ => Role::Spread,
        }
    }

    /// Whether a sentence of the component's steps names a thing together with one of these words.
    fn steps_say(&self, thing: &str, words: &[&str]) -> bool {
        self.steps
            .iter()
            .map(|s| s.text.to_lowercase())
            .any(|text| {
                each(&text).any(|s| s.contains(thing) && words.iter().any(|w| s.contains(w)))
            })
    }
}
