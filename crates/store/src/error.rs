//! What can go wrong, in plain words.

use rusqlite::ErrorCode;
use std::fmt;

/// Why the kitchen did not do it.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub enum StoreError {
    /// The kitchen was written by a newer program.
    Newer {
        /// Its schema.
        found: i64,
        /// The newest schema that this program knows.
        known: i64,
    },
    /// The file is damaged, or is no kitchen.
    Damaged(String),
    /// The folder or a file cannot be used.
    Folder {
        /// Which.
        path: String,
        /// What the system says.
        why: String,
    },
    /// Another program holds the kitchen.
    Busy,
    /// The disk is full.
    Full,
    /// The kitchen can be read but not written.
    ReadOnly,
    /// There is no such thing.
    Missing {
        /// What was looked for.
        what: String,
    },
    /// The draft was changed in the meantime.
    Moved {
        /// Its rev now.
        now: u64,
    },
    /// There is nothing to undo or redo.
    Nothing,
    /// The batch is finished and stays as it is.
    Finished,
    /// The value cannot be kept.
    Bad(String),
    /// A file of an archive is not what it should be.
    Archive {
        /// The file in the archive.
        file: String,
        /// What was expected, and what was found.
        why: String,
    },
    /// Anything else that the database says.
    Other(String),
}

impl fmt::Display for StoreError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Newer { found, known } => write!(
                f,
                "This kitchen was last opened by a newer program (schema {found}; this program \
                 knows up to {known}). Nothing was changed. Open it with the newer program, or \
                 use a backup from before."
            ),
            Self::Damaged(why) => write!(
                f,
                "The kitchen's file is damaged or is no kitchen: {why}. Put a backup in its \
                 place; keep the damaged file until that works."
            ),
            Self::Folder { path, why } => write!(f, "{path} cannot be used: {why}."),
            Self::Busy => f.write_str(
                "Another program is writing to this kitchen. Nothing was changed; try again.",
            ),
            Self::Full => f.write_str("The disk is full. The last change was not saved."),
            Self::ReadOnly => {
                f.write_str("The kitchen's file may not be written. The last change was not saved.")
            }
            Self::Missing { what } => write!(f, "There is no {what}."),
            Self::Moved { now } => write!(
                f,
                "The draft was changed elsewhere in the meantime (it is at {now} now)."
            ),
            Self::Nothing => f.write_str("There is nothing to take back or to do again."),
            Self::Finished => f.write_str("This batch is finished; its record stays as it is."),
            Self::Bad(why) => f.write_str(why),
            Self::Archive { file, why } => write!(f, "{file}: {why}"),
            Self::Other(why) => write!(f, "The kitchen's database says: {why}"),
        }
    }
}

impl std::error::Error for StoreError {}

impl StoreError {
    pub(crate) fn missing(what: impl Into<String>) -> Self {
        Self::Missing { what: what.into() }
    }
    pub(crate) fn folder(path: &std::path::Path, error: &std::io::Error) -> Self {
        if error.kind() == std::io::ErrorKind::StorageFull {
            return Self::Full;
        }
        Self::Folder {
            path: path.display().to_string(),
            why: error.to_string(),
        }
    }
}

impl From<rusqlite::Error> for StoreError {
    fn from(error: rusqlite::Error) -> Self {
        match &error {
            rusqlite::Error::QueryReturnedNoRows => Self::missing("such entry"),
            rusqlite::Error::FromSqlConversionFailure(..)
            | rusqlite::Error::IntegralValueOutOfRange(..)
            | rusqlite::Error::InvalidColumnType(..) => Self::Damaged(error.to_string()),
            rusqlite::Error::SqliteFailure(e, message) => {
                let said = message.clone().unwrap_or_else(|| e.to_string());
                match e.code {
                    ErrorCode::DatabaseCorrupt | ErrorCode::NotADatabase => Self::Damaged(said),
                    ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked => Self::Busy,
                    ErrorCode::DiskFull => Self::Full,
                    ErrorCode::ReadOnly | ErrorCode::PermissionDenied => Self::ReadOnly,
                    _ => Self::Other(said),
                }
            }
            _ => Self::Other(error.to_string()),
        }
    }
}
