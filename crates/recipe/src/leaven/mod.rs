//! Leavening: the gas of each leavener, the soda that acids neutralise, what is left of either,
//! swaps between leaveners, yeast against sugar and salt, and altitude.
//!
//! All of it is arithmetic on weights; nothing here knows a recipe's text. Whether a figure was
//! read in a published document or is from memory stands beside it, in `data/leaveners.tsv` and
//! `data/acids.tsv`.
//!
//! What it cannot know: how much gas a batter holds, and the acid of one certain pot of yoghurt.
//! Acids therefore have a low, a likely and a high value, and a verdict that hangs on which of
//! them is true says so.

mod acid;
mod altitude;
mod balance;
mod gas;
mod report;
mod swap;
mod yeast;

pub use acid::{Acid, How, acid_named, acid_of, acids};
pub use altitude::{
    Altitude, AltitudeError, Correction, HIGHEST, LEAST, boiling_celsius, expansion, pressure_kpa,
};
pub(crate) use balance::tenth;
pub use balance::{Leavening, Part, Verdict};
pub(crate) use gas::status;
pub use gas::{
    BAKING, Leavener, ROOM, SODA_GRAMS_PER_MOLE, leavener_of, leaveners, millilitres_per_mole,
};
pub use report::{Corrected, Report, YeastSwap, at_altitude, lines_of};
pub use swap::{CREAM_OF_TARTAR, Swap, acid_for, powder_for_soda, soda_for_powder, soda_in_powder};
pub use yeast::{
    SALT_SLOWS, SUGAR_SLOWS, SWEET_DOUGH, YeastCaution, YeastKind, cap, cautions, convert,
};
