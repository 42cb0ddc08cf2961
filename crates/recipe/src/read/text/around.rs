//! Lines read by what stands around them: credit, yield and times near the title, headings.

use super::super::ingredient::{component_name, is_part_noun, list_number, may_be_bought};
use super::super::method::is_pan;
use super::front;
use super::pasted::{Pasted, Raw, Section, section_of};
use super::verbs::{is_purpose, starts_with_verb};
use crate::beforehand::is_begun;
use crate::line::{Item, Line, LineKind};
use crate::sentences::words;
use larder::{Allergen, Food, Function, Gluten};

/// What stands before 'to serve' in a heading.
fn to_serve(bare: &str) -> Option<&str> {
    let ends = [", to serve", ", for serving", ", to finish"];
    let part = ends.iter().find_map(|e| bare.strip_suffix(e))?;
    (part.split_whitespace().count() <= 3 && !part.contains(',')).then_some(part)
}

impl Pasted<'_, '_, '_> {
    /// Credit, yield and times: lines about the whole recipe.
    pub(super) fn about(&mut self, line: &str) -> bool {
        let bare = front::unmarked(line);
        if front::credit(bare, &mut self.recipe.source) {
            return true;
        }
        let mut times = self.recipe.times;
        if self.recipe.makes.is_none()
            && let Some(makes) = front::makes_and_times(line, &mut times)
        {
            (self.recipe.makes, self.recipe.times) = (Some(makes), times);
            return true;
        }
        let makes = front::makes(line);
        let says = makes.is_some();
        if says && self.recipe.makes.is_none() {
            self.recipe.makes = makes;
            return true;
        }
        if self.section == Section::Method || self.section == Section::Notes {
            return false;
        }
        if says {
            // A second yield is kept as a remark.
            self.note(line);
            return true;
        }
        if front::times(bare, &mut self.recipe.times) {
            return true;
        }
        if self.section != Section::Start || self.recipe.title.is_none() || self.has_ingredients() {
            return self.section == Section::Start
                && !self.has_ingredients()
                && bare.len() >= 3
                && bare.get(..3).is_some_and(|b| b.eq_ignore_ascii_case("by "))
                && front::byline(bare, &mut self.recipe.source);
        }
        // 'Plain Flour, page 4' looks like a name and is none.
        let food = self
            .reader
            .larder
            .find(bare, self.reader.locale)
            .is_some_and(|m| m.span.start == 0 && m.certainty == larder::Certainty::Sure);
        if !food
            && let Some((head, makes)) = front::yield_behind(bare)
            && front::byline(head, &mut self.recipe.source)
        {
            self.recipe.makes.get_or_insert(makes);
            return true;
        }
        if self.recipe.source.author.is_none()
            && !food
            && front::byline(bare, &mut self.recipe.source)
        {
            return true;
        }
        if let Some((first, rest)) = bare.split_once(". ")
            && self.recipe.source == crate::recipe::Source::default()
            && front::byline(first, &mut self.recipe.source)
        {
            self.note(rest);
            return true;
        }
        if self.recipe.makes.is_none()
            && let Some(makes) = front::about_so_many(bare)
        {
            self.recipe.makes = Some(makes);
            return true;
        }
        let alone = self.next.is_none_or(|n| n.blank)
            || self.next.is_some_and(|n| {
                section_of(n.text).is_some() || !self.reader.begins_with_amount(n.text)
            });
        if alone
            && self.recipe.makes.is_none()
            && self.recipe.notes.iter().all(|n| is_pan(n))
            && let Some(makes) = front::counted_yield(bare, |word| self.is_what_it_makes(word))
        {
            self.recipe.makes = Some(makes);
            return true;
        }
        false
    }

    /// Whether a counted word under the title is what the recipe makes: the title's own last word
    /// ('Beef empanadas', '12 empanadas'), or right under it something made ('8 pretzels').
    fn is_what_it_makes(&self, word: &str) -> bool {
        let single = |w: &str| w.trim_end_matches(['s', 'S']).to_lowercase();
        let title = self.recipe.title.as_deref().unwrap_or("");
        let titled = single(&last_word(title)) == single(word);
        match self.reader.larder.find(word, self.reader.locale) {
            Some(m) => !self.blank && self.reader.is_made(m.food),
            None => titled,
        }
    }

    /// Makes a line a heading if it is one by what stands around it.
    pub(super) fn head(&self, raw: &str, line: &mut Line) {
        let names = |s: &Self| s.is_last_of_list(raw) || s.is_bought(raw);
        if line.kind == LineKind::Heading && names(self) {
            *line = self.reader.ingredient(raw);
            return;
        }
        if line.kind != LineKind::Heading && self.heads(raw, line) {
            let bare = raw.trim().trim_matches(['#', '*', '_', '=', ' ']);
            line.kind = LineKind::Heading;
            line.heading = Some(component_name(to_serve(bare).unwrap_or(bare)));
            line.items.clear();
            line.doubts.clear();
        }
    }

    /// Whether a line the larder may know as food is a heading after all: marked as one, or a
    /// line alone in capitals or with a capital, with measured ingredients right behind it.
    fn heads(&self, raw: &str, line: &Line) -> bool {
        let Some(next) = self.next else { return false };
        let trimmed = raw.trim();
        let bare = trimmed.trim_matches(['#', '*', '_', '=', ' ', ':']);
        // 'Loaf' is a measure of nothing.
        let measured = (line.items.iter()).any(|i| !i.amounts.is_empty() && !i.name.is_empty());
        let words = bare.split_whitespace().count();
        // 'Custard, to serve' with its own list behind it.
        let alone = self.blank && !next.blank && bare.starts_with(char::is_uppercase);
        if to_serve(bare).is_some() && alone && !measured {
            return self.reader.begins_with_amount(next.text);
        }
        if measured
            || words == 0
            || words > 6
            || bare.contains([',', ';', '.', '!', '?'])
            || bare.starts_with(char::is_numeric)
            || bare.to_lowercase().contains("taste")
            || section_of(next.text).is_some()
        {
            return false;
        }
        let food_next = {
            let read = self.reader.line(next.text);
            read.kind == LineKind::Ingredient && read.items.iter().any(|i| i.food.is_some())
        };
        let amount_next =
            self.reader.begins_with_amount(next.text) || !next.blank && self.is_measured(next.text);
        let pair = |m: &str| {
            trimmed.len() > 2 * m.len()
                && trimmed.starts_with(m)
                && trimmed.trim_end_matches(':').ends_with(m)
        };
        if trimmed.starts_with("# ") || trimmed.starts_with("##") || pair("**") || pair("__") {
            return food_next || amount_next;
        }
        let bullet = trimmed.starts_with(|c: char| !c.is_alphanumeric());
        let capitals = |t: &str| {
            t.chars().filter(|c| c.is_alphabetic()).count() >= 3
                && !t.chars().any(char::is_lowercase)
        };
        // 'Olive oil' is an ingredient whose amount was left out; 'Ginger biscuits' are made.
        let food = self.reader.larder.names().is_name(bare, self.reader.locale);
        if bullet || !amount_next {
            return false;
        }
        let lower = bare.to_lowercase();
        let below = || self.lines.get(self.at..).unwrap_or_default().iter();
        let capital = bare.starts_with(char::is_uppercase);
        // 'Make the custard: …' says it, and so does the title of what is no food.
        if capital && (below().any(|l| makes(l.text, &lower)) || !food && self.is_titled(&lower)) {
            return true;
        }
        if food && capital && self.is_over_itself(bare) {
            return true;
        }
        if food && !self.may_be_made(bare) {
            return false;
        }
        let dish_part = self.has_ingredients()
            && !next.blank
            && bare.starts_with(char::is_uppercase)
            && self.heads_a_dish_part(bare, food);
        // 'To coat' is no food, whatever stands before it.
        if dish_part || is_deed(bare) && bare.starts_with(char::is_uppercase) {
            return true;
        }
        if bare.starts_with(char::is_uppercase) && self.is_over_its_foods(bare, food) {
            return true;
        }
        let made = is_made(bare) || self.is_over_mash(bare) || food && self.is_over_flour(bare);
        if food && !made {
            return false;
        }
        if capitals(bare) {
            return !capitals(next.text);
        }
        if !bare.starts_with(char::is_uppercase) {
            return false;
        }
        // Right under a measured line only what no shop sells: 'Butter block'.
        if !self.blank {
            return self.has_ingredients()
                && !next.blank
                && (is_part(bare) || self.is_made_under(bare, food));
        }
        // In a list with a blank line between all lines, one more says nothing.
        let spaced = next.blank && self.after.is_none_or(|a| a.blank);
        // 'Pasta' alone could be bought: two measured lines behind it say that it is made.
        let two = || {
            let after = self.after.filter(|a| !a.blank);
            after.is_some_and(|a| self.reader.begins_with_amount(a.text))
        };
        let part = is_part(bare) || self.heads_a_dish_part(bare, food);
        let unknown = || (self.reader.larder.find(bare, self.reader.locale)).is_none();
        !spaced && (words >= 2 || part || (made || unknown()) && two())
    }
}

impl Pasted<'_, '_, '_> {
    /// Whether a name right under a list that leaves out no amount is of what is made for a dish and
    /// lists its own ingredients behind it: 'White sauce'. What is also sold needs two of them.
    fn is_made_under(&self, bare: &str, food: bool) -> bool {
        const UNDER: [&str; 10] = [
            "sauce",
            "crust",
            "stuffing",
            "dumplings",
            "base",
            "coating",
            "mash",
            "bath",
            "starter",
            "sponge",
        ];
        UNDER.contains(&last_word(bare).as_str()) && self.is_in_a_measured_list(food)
    }

    /// Whether all lines of the list have their amounts; for the name of a food also the two next.
    pub(super) fn is_in_a_measured_list(&self, food: bool) -> bool {
        let measured = |l: &Line| {
            l.kind != LineKind::Ingredient || l.items.iter().all(|i| !i.amounts.is_empty())
        };
        let list = self.open.and_then(|c| self.recipe.components.get(c));
        let two = self
            .after
            .is_some_and(|a| !a.blank && self.reader.begins_with_amount(a.text));
        list.is_none_or(|c| c.lines.iter().all(measured)) && (!food || two)
    }

    /// Whether one or two words right under a measured line, in a list that leaves out no amount,
    /// name a part of a dish: 'Mousse'. What is also sold needs two measured lines behind it.
    fn heads_a_dish_part(&self, bare: &str, food: bool) -> bool {
        let words = bare.split_whitespace().count();
        DISH_PARTS.contains(&last_word(bare).as_str())
            && (words == 1 || words == 2 && !food)
            && self.is_in_a_measured_list(food)
    }

    /// Whether a name that is also a food's may be that of a part: nothing of it that must be told would be lost,
    /// or the two lines behind it hold what such a food is made of. 'Soy sauce' over '200 g rice pasta' is
    /// an ingredient whose amount was left out, 'White sauce' over '60 g flour' is made.
    fn may_be_made(&self, bare: &str) -> bool {
        let larder = self.reader.larder;
        let Some(sold) = larder.find(bare, self.reader.locale) else {
            return true;
        };
        let sold = larder.food(sold.food);
        let certain = |f: &Food| -> Vec<Allergen> {
            let all = f.allergens.iter().filter(|(_, maybe)| !maybe);
            all.map(|a| a.0).collect()
        };
        // 'Hot sauce' over its own list is a sauce that is hot.
        let heat = ["hot ", "warm ", "cold "];
        let lower = bare.to_lowercase();
        let part = heat.iter().find_map(|h| lower.strip_prefix(h));
        let own = part.is_some_and(is_part_noun) && self.list_behind().nth(1).is_some();
        if own || self.is_over_mash(bare) {
            return true;
        }
        let told = certain(sold);
        if sold.gluten == Gluten::Free && told.is_empty() {
            return true;
        }
        let name = words(bare);
        let sauce = name.last().is_some_and(|w| w == "sauce");
        let makes = |text: &str| {
            let read = self.reader.line(text);
            let foods = read.items.iter().filter_map(|i| i.food.as_ref());
            let mut foods = foods.map(|m| larder.food(m.food));
            let same = |w: &String| name.iter().any(|n| n.len() > 3 && w.starts_with(n));
            words(text).iter().any(same)
                || foods.any(|f| match sold.gluten {
                    Gluten::Free => certain(f).iter().any(|a| told.contains(a)),
                    _ if f.is_flour_phase() || f.gluten == Gluten::Contains => true,
                    // 'Biscuits' over sugar and butter are made of them, 'soy sauce' is not.
                    _ => !sauce && matches!(f.function(), Function::Sugar | Function::Fat),
                })
        };
        if self.holds_all_of(sold, &told) {
            return true;
        }
        // What holds no gluten loses none: the whole list tells what it is made of.
        let told = match sold.gluten {
            Gluten::Free => usize::MAX,
            _ => 2,
        };
        self.list_behind().take(told).any(|l| makes(l.text))
    }

    /// Whether the list behind holds all that must be told of a made food whose gluten is the label's, and the sugar
    /// of a sweet one: 'Vanilla custard' over milk, yolks and sugar. Over cream and berries it is bought.
    fn holds_all_of(&self, sold: &Food, told: &[Allergen]) -> bool {
        let larder = self.reader.larder;
        let read: Vec<Line> = self
            .list_behind()
            .map(|l| self.reader.line(l.text))
            .collect();
        let items = read.iter().flat_map(|l| &l.items);
        let foods: Vec<&Food> = items
            .filter_map(|i| Some(larder.food(i.food.as_ref()?.food)))
            .collect();
        let holds = |a: &Allergen| {
            let certain = |f: &&Food| f.allergens.iter().any(|(is, maybe)| is == a && !maybe);
            foods.iter().any(certain)
        };
        let sugar = |f: &&Food| f.function() == Function::Sugar;
        sold.gluten == Gluten::Check
            && read.len() > 1
            && !told.is_empty()
            && told.iter().all(holds)
            && foods.iter().any(sugar)
    }

    /// Whether a line has an amount for what it names: '3 eggs', 'juice of 2 lemons'.
    fn is_measured(&self, text: &str) -> bool {
        self.reader.begins_with_amount(text) || {
            let read = self.reader.line(text);
            let whole = |i: &Item| i.food.is_some() && !i.amounts.is_empty();
            read.kind == LineKind::Ingredient
                && !read.items.is_empty()
                && read.items.iter().all(whole)
        }
    }

    /// The measured lines right behind, up to the next blank line.
    fn list_behind(&self) -> impl Iterator<Item = &Raw<'_>> {
        let behind = self.lines.get(self.at..).unwrap_or_default();
        let goes_on =
            |(n, l): &(usize, &Raw<'_>)| (*n == 0 || !l.blank) && self.is_measured(l.text);
        behind
            .iter()
            .enumerate()
            .take_while(goes_on)
            .map(|(_, l)| l)
    }

    /// Whether a food in a list that leaves out no amount stands right over its kind, which is all there is below
    /// it, so that nothing is lost: 'Jam' over '200 g raspberry jam', not 'Flour' over '100 g rice flour'.
    fn is_over_itself(&self, bare: &str) -> bool {
        let larder = self.reader.larder;
        let Some(next) = self.next.filter(|n| !n.blank && self.is_measured(n.text)) else {
            return false;
        };
        let read = self.reader.line(next.text);
        let (Some(named), [item]) = (larder.find(bare, self.reader.locale), &read.items[..]) else {
            return false;
        };
        let kind = words(read.words(&item.name)).last() == words(bare).last();
        let Some(next) = item.food.as_ref().filter(|_| kind) else {
            return false;
        };
        let (named, next) = (larder.food(named.food), larder.food(next.food));
        let told = named.allergens.iter().all(|a| next.allergens.contains(a));
        let only = self.list_behind().nth(1).is_none();
        told && only && named.gluten == next.gluten && self.is_in_a_measured_list(false)
    }

    /// Whether a made food stands over flour: 'Shortcrust' over '200 g plain flour'. No gluten is lost with its name.
    fn is_over_flour(&self, bare: &str) -> bool {
        let larder = self.reader.larder;
        let sold = larder.find(bare, self.reader.locale);
        let flour = |text: &str| {
            let read = self.reader.line(text);
            let mut foods = read.items.iter().filter_map(|i| i.food.as_ref());
            foods.any(|m| larder.food(m.food).is_flour_phase())
        };
        sold.is_some_and(|m| self.reader.is_made(m.food))
            && self.list_behind().nth(1).is_some()
            && self.list_behind().any(|l| flour(l.text))
    }

    /// Whether the title is of what a word names: 'Loaf' of 'Marbled loaf with cream'.
    fn is_titled(&self, name: &str) -> bool {
        let title = self.recipe.title.as_deref().unwrap_or_default();
        let title = title.to_lowercase();
        let head = title.split([',', '(']).next().unwrap_or_default();
        let head = head.split(" with ").next().unwrap_or_default();
        words(head).last().is_some_and(|w| w == name) && self.list_behind().nth(1).is_some()
    }

    /// Whether a line without a figure stands over a yield, as a title does: 'Sheet pan peach slab pie' over
    /// 'Serves 16' is no sheet of peach.
    pub(super) fn is_over_a_yield(&self, text: &str) -> bool {
        let said = self.next.is_some_and(|n| front::makes(n.text).is_some());
        said && text.starts_with(char::is_uppercase) && !text.contains(char::is_numeric)
    }

    /// Whether 'Gnocchi' stands over what they are made of: a vegetable that is mashed, then egg or flour.
    fn is_over_mash(&self, bare: &str) -> bool {
        const MASHED: [&str; 4] = ["potato", "sweet_potato", "pumpkin", "butternut"];
        let larder = self.reader.larder;
        let first = |text: &str| {
            let read = self.reader.line(text);
            let food = read.items.first().and_then(|i| i.food.as_ref());
            food.map(|m| larder.food(m.food))
        };
        let after = self.after.filter(|a| !a.blank);
        let both = self
            .next
            .and_then(|n| first(n.text))
            .zip(after.and_then(|a| first(a.text)));
        last_word(bare) == "gnocchi"
            && both.is_some_and(|(mash, then)| {
                let mashed = MASHED.contains(&mash.key.trim_end_matches("_mashed"));
                mashed && (then.is_flour_phase() || then.function() == Function::Egg)
            })
    }

    /// Whether what reads as a heading is something bought, its amount left out: 'tonkatsu sauce'
    /// with no amounts behind it, or right under a line of what is served.
    fn is_bought(&self, raw: &str) -> bool {
        if !may_be_bought(raw.trim()) || !self.has_ingredients() {
            return false;
        }
        let Some(next) = self.next else { return true };
        let read = self.reader.line(next.text);
        let heading = self.pending.as_ref().map(|(name, _)| name.as_str());
        let open = self.open.and_then(|c| self.recipe.components.get(c));
        let under = heading.or(open.map(|c| c.name.as_str())).unwrap_or("");
        let served = !self.blank
            && ["serve", "serving", "garnish"]
                .iter()
                .any(|w| under.contains(w));
        let measured = |l: &Line| l.items.iter().any(|i| !i.amounts.is_empty());
        let made = measured(&read)
            || self
                .after
                .is_some_and(|a| !a.blank && measured(&self.reader.line(a.text)));
        section_of(next.text).is_some()
            || (served || !made)
                && !self.tells(next.text.trim(), &read)
                && list_number(next.text.trim()).is_none()
                && match read.kind {
                    LineKind::Ingredient => !starts_with_verb(next.text.trim()),
                    LineKind::Heading => !next.blank && may_be_bought(next.text.trim()),
                    LineKind::Note => false,
                }
    }

    /// Whether what reads as a heading is the last ingredient of a list, its amount left out:
    /// 'Cream' right under '200 g flour', with nothing behind it.
    fn is_last_of_list(&self, raw: &str) -> bool {
        let bare = raw.trim();
        let ends = self
            .next
            .is_none_or(|n| n.blank || section_of(n.text).is_some());
        ends && !self.blank
            && self.pending.is_none()
            && self.has_ingredients()
            && bare.chars().any(char::is_lowercase)
            && bare.chars().all(|c| c.is_alphabetic() || c == ' ')
            && self.reader.larder.names().is_name(bare, self.reader.locale)
            && !self
                .next
                .is_some_and(|n| self.reader.begins_with_amount(n.text))
    }
}

/// Whether a text makes what is called so, in small letters: 'make the wobble', 'for the wobble, beat'. What is made
/// as its packet says is bought.
pub(crate) fn makes(text: &str, name: &str) -> bool {
    const WAYS: [&str; 4] = ["make the ", "make a ", "prepare the ", "for the "];
    let text = text.to_lowercase();
    let bought = ["packet", "label", "instruction"];
    let says = |(at, way): (usize, &str)| {
        let behind = text[at + way.len()..].strip_prefix(name);
        behind.is_some_and(|b| {
            let whole = !b.starts_with(char::is_alphanumeric);
            whole && (!way.starts_with("for") || b.starts_with([',', ':']))
        })
    };
    let said = WAYS.iter().any(|w| text.match_indices(w).any(says));
    said && !bought.iter().any(|w| text.contains(w))
}

/// Parts of a dish.
const DISH_PARTS: [&str; 30] = [
    "mousse",
    "jelly",
    "syrup",
    "crust",
    "sponge",
    "ganache",
    "compote",
    "dressing",
    "marinade",
    "coulis",
    "curd",
    "praline",
    "caramel",
    "custard",
    "cream",
    "icing",
    "meringue",
    "parfait",
    "puree",
    "purée",
    "streusel",
    "gravy",
    "salsa",
    "crumb",
    "swirl",
    "base",
    "butterscotch",
    "dip",
    "marzipan",
    "pudding",
];

/// Whether a name is of what recipes make as a part of them, by its last word.
pub(crate) fn is_made_part(name: &str) -> bool {
    let last = last_word(name);
    is_made(name) || DISH_PARTS.contains(&last.as_str()) || is_part_noun(&last)
}

/// The last word of a name, lower case.
fn last_word(name: &str) -> String {
    let last = name.split([' ', '/']).rfind(|w| !w.is_empty());
    last.unwrap_or_default().to_lowercase()
}

/// Whether a name is of a part of a recipe that is made for it and seldom bought.
fn is_part(name: &str) -> bool {
    const PARTS: [&str; 21] = [
        "dough",
        "choux",
        "chantilly",
        "block",
        "roux",
        "béchamel",
        "bechamel",
        "pâtissière",
        "patissiere",
        "frangipane",
        "buttercream",
        "frosting",
        "glaze",
        "filling",
        "topping",
        "crumble",
        "batter",
        "meatballs",
        "ragù",
        "ragu",
        "marinade",
    ];
    let last = last_word(name);
    is_begun(&last) || PARTS.contains(&last.as_str())
}

/// Whether words say what the lines behind them are for: 'To coat'.
fn is_deed(name: &str) -> bool {
    is_purpose(name) || ["to coat", "to crumb"].contains(&name.to_lowercase().as_str())
}

/// Whether a name is of something made from other things, by its last word; 'mashed potato' by its first.
fn is_made(name: &str) -> bool {
    const MADE: [&str; 75] = [
        "coating",
        "biscuit",
        "biscuits",
        "cookies",
        "crackers",
        "wafers",
        "pastry",
        "dough",
        "bread",
        "rolls",
        "buns",
        "muffins",
        "pancakes",
        "cake",
        "cakes",
        "cheesecake",
        "sponge",
        "base",
        "crust",
        "crumbs",
        "crumb",
        "crumble",
        "topping",
        "filling",
        "glaze",
        "icing",
        "frosting",
        "ganache",
        "custard",
        "curd",
        "caramel",
        "praline",
        "brittle",
        "meringue",
        "meringues",
        "marshmallow",
        "jam",
        "compote",
        "puree",
        "paste",
        "pesto",
        "sauce",
        "gravy",
        "dressing",
        "mayonnaise",
        "marinade",
        "chutney",
        "relish",
        "salsa",
        "stock",
        "broth",
        "syrup",
        "batter",
        "dumplings",
        "mash",
        "pie",
        "tart",
        "shell",
        "starter",
        "sourdough",
        "streusel",
        "granola",
        "nougat",
        "fondant",
        "noodles",
        "pasta",
        "lasagne",
        "salad",
        "coleslaw",
        "stew",
        "casserole",
        "curry",
        "hummus",
        "guacamole",
        "stuffing",
    ];
    let mashed = name.to_lowercase().starts_with("mashed ");
    is_part(name) || mashed || MADE.contains(&last_word(name).as_str())
}
