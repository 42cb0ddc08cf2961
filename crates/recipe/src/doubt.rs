//! Doubts: what was read, weighed or judged with less than certainty, and why.

use std::ops::Range;

macro_rules! codes {
    ($($(#[$m:meta])* $variant:ident = $code:literal),* $(,)?) => {
        /// The kinds of doubt. The code is stable; the message is for people.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub enum DoubtCode { $($(#[$m])* $variant),* }
        impl DoubtCode {
            /// Every code.
            pub const ALL: &'static [Self] = &[$(Self::$variant),*];
            /// The stable code in machine-readable output.
            #[must_use]
            pub fn code(self) -> &'static str { match self { $(Self::$variant => $code),* } }
            /// The kind with this code.
            #[must_use]
            pub fn from_code(code: &str) -> Option<Self> {
                Self::ALL.iter().copied().find(|c| c.code() == code)
            }
        }
    };
}

codes! {
    /// No food of the larder has this name.
    UnknownIngredient = "unknown_ingredient",
    /// The food is known but stands beside words that are not.
    NamePartlyKnown = "name_partly_known",
    /// Two foods answer to the name.
    NameTie = "name_tie",
    /// The nearest name is a letter away.
    NameNear = "name_near",
    /// The same words mean another food in another country.
    NameByLocale = "name_by_locale",
    /// No amount stands on the line.
    NoAmount = "no_amount",
    /// A number without a unit, of a food that is not counted.
    MissingUnit = "missing_unit",
    /// A measure without a fixed size: knob, handful, bunch.
    LooseMeasure = "loose_measure",
    /// An old measure whose size books disagree about.
    OldMeasure = "old_measure",
    /// Heaped, scant, generous.
    LooseFilling = "loose_filling",
    /// Far more of it for the flour than any published formula has.
    UnlikelyAmount = "unlikely_amount",
    /// A number that cannot be.
    ImpossibleNumber = "impossible_number",
    /// A minus before an amount: a bullet, or a slip.
    MinusSign = "minus_sign",
    /// A range written backwards.
    BackwardRange = "backward_range",
    /// Ounces of a liquid: weight or fluid?
    OunceOfLiquid = "ounce_of_liquid",
    /// T or t in capitals: tablespoon or teaspoon?
    SpoonLetter = "spoon_letter",
    /// 'butter or margarine'.
    Alternative = "alternative",
    /// Two ingredients share one amount.
    SharedAmount = "shared_amount",
    /// Two ingredients stand on one line.
    TwoOnLine = "two_on_line",
    /// A weight may be as bought, or of what is left once stones or peel are off.
    WeightAsBought = "weight_as_bought",
    /// Two stated amounts of one line disagree.
    TwinDisagrees = "twin_disagrees",
    /// The packet's or can's size is on its label.
    SizeOnLabel = "size_on_label",
    /// The larder has no weight for this measure of this food.
    NoWeight = "no_weight",
    /// For dusting, greasing, serving: not part of the formula.
    NotInFormula = "not_in_formula",
    /// The method alone says that it is brushed on, boiled in or put on after the bake: not part of the formula.
    AsideByMethod = "aside_by_method",
    /// To taste, or as needed.
    ToTaste = "to_taste",
    /// Optional.
    Optional = "optional",
    /// A component is asked for that the recipe does not have.
    ComponentMissing = "component_missing",
    /// More of a component is used than is made.
    ComponentShort = "component_short",
    /// A preferment that no line of its dough names.
    ComponentUnlisted = "component_unlisted",
    /// Two components bear one name.
    ComponentTwice = "component_twice",
    /// Part of a line or step could not be read.
    NotRead = "not_read",
    /// The method makes the last lines of a list by themselves, under no heading of their own.
    PartByMethod = "part_by_method",
    /// A line behind the ingredients may be a step of the method.
    MaybeMethod = "maybe_method",
    /// The method takes an amount of a food that stands on no line.
    InMethodOnly = "in_method_only",
    /// The method takes an amount out of a line for one thing, and the rest of it is for another.
    LineInTwo = "line_in_two",
    /// The recipe has no flour.
    NoFlour = "no_flour",
    /// The style is a guess between near ones.
    StyleUnsure = "style_unsure",
    /// A figure lies outside the published range.
    OutOfRange = "out_of_range",
    /// A bought mix may hold gum already.
    GumInMix = "gum_in_mix",
    /// No gluten-free replacement is known.
    NoReplacement = "no_replacement",
    /// A temperature without a scale.
    TemperatureScale = "temperature_scale",
    /// The words are of another country than the measures chosen.
    LocaleUnsure = "locale_unsure",
}

/// A doubt, at the line it belongs to.
#[derive(Debug, Clone, PartialEq)]
pub struct Doubt {
    /// The kind.
    pub code: DoubtCode,
    /// What is unsure and what was done, in plain words.
    pub message: String,
    /// Bytes of the line it is about, where there are such.
    pub span: Option<Range<usize>>,
    /// Amounts that may have been meant, as they would be written, the likely one first.
    pub meant: Vec<String>,
}

impl Doubt {
    /// A doubt about a whole line or recipe.
    #[must_use]
    pub fn new(code: DoubtCode, message: impl Into<String>) -> Self {
        Self {
            code,
            message: message.into(),
            span: None,
            meant: Vec::new(),
        }
    }
    /// The same doubt, about these bytes of the line.
    #[must_use]
    pub fn at(mut self, span: Range<usize>) -> Self {
        self.span = Some(span);
        self
    }
}
