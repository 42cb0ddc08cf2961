//! Planning: the tasks of a batch, and when each is done.
//!
//! ```text
//! Worked + Sheet ──tasks──▶ Task list ──schedule (with a Kitchen, a time)──▶ Plan
//! ```
//!
//! A [`Task`] is a stretch of work and the wait that follows it. Its minutes are the method's own,
//! those of the rework, the baker's, or a guess from the table of practice
//! (`data/step_times.tsv`), and it says which. Times of day are minutes from any moment the caller
//! likes: the domain has no clock and no calendar.

mod activity;
mod ask;
mod before_baking;
mod build;
mod clash;
mod cooked;
mod cool;
mod deed;
mod deeds;
mod explain;
mod folds;
mod follow;
mod frozen;
mod in_turn;
mod join;
mod late;
mod mixed;
mod model;
mod next;
mod noted;
mod on_hot;
mod order;
mod ordinal;
mod ovens;
mod own;
mod page_step;
mod pans;
mod piece;
mod put_in;
mod puts;
mod share;
mod solve;
mod stands;
mod step;
mod stores;
mod stove;
mod strand;
mod stretch;
mod table;
mod taken;
mod takes;
mod task;
mod tasks;
mod told;
mod too_long;
mod unsaid;
mod waits;
mod warm;

pub use ask::{Ask, Begun, Job, Kitchen, LONGEST_CHANGE, MOST_OF_ANY, Minute, Quiet, nightly};
pub use build::tasks;
pub(crate) use deed::verbs as clause_verbs;
pub use deeds::{Deeds, InNotes};
pub use explain::{Impossible, Limited, Short};
pub use next::{Stage, stages};
pub use noted::Handwork;
pub use own::{AddedStep, OwnStep, StepChange, minutes_words, span_words};
pub use page_step::LeftToPage;
pub use pans::{OwnPans, PanUse, uncounted as uncounted_pans};
pub use solve::{Held, Plan, Row, kept, plan};
pub use stands::{Breach, Caution, Shorter, cautions};
pub use stores::changes_heat;
pub use strand::by_own_method;
pub(crate) use table::usual_wait;
pub use task::{Basis, Place, Span, Task, Wait, kept_after, kept_in};
pub use tasks::Tasks;
pub use warm::{FRIDGE_WORDS, Limit, WARM_LIMIT, WARM_WALL, WARM_WORDS, Warm};
