//! The schema, one numbered file per step. Files are added, never edited.

use crate::StoreError;
use rusqlite::{Connection, TransactionBehavior};

/// Written into every kitchen's header: "unwh".
const APPLICATION: i64 = 0x756e_7768;

const STEPS: [&str; 6] = [
    include_str!("../sql/001.sql"),
    include_str!("../sql/002.sql"),
    include_str!("../sql/003.sql"),
    include_str!("../sql/004.sql"),
    include_str!("../sql/005.sql"),
    include_str!("../sql/006.sql"),
];

/// The schema that this program writes.
pub(crate) const SCHEMA: i64 = STEPS.len() as i64;

fn pragma(db: &Connection, name: &str) -> Result<i64, StoreError> {
    Ok(db.pragma_query_value(None, name, |row| row.get(0))?)
}

/// Refuses what is newer or no kitchen, without writing.
pub(crate) fn refuse_strange(db: &Connection) -> Result<i64, StoreError> {
    let found = pragma(db, "user_version")?;
    let tables: i64 = db.query_row("SELECT count(*) FROM sqlite_schema", [], |row| row.get(0))?;
    if tables > 0 && pragma(db, "application_id")? != APPLICATION {
        return Err(StoreError::Damaged(
            "it is a database of something else".to_owned(),
        ));
    }
    if found > SCHEMA {
        return Err(StoreError::Newer {
            found,
            known: SCHEMA,
        });
    }
    Ok(found)
}

/// Brings the schema up to date, all of it or nothing.
pub(crate) fn migrate(db: &mut Connection) -> Result<(), StoreError> {
    if refuse_strange(db)? == SCHEMA {
        return Ok(());
    }
    let tx = db.transaction_with_behavior(TransactionBehavior::Immediate)?;
    // Another program may have been first.
    let found = refuse_strange(&tx)?;
    for (step, sql) in (1_i64..).zip(STEPS) {
        if step > found {
            tx.execute_batch(sql)?;
        }
    }
    tx.pragma_update(None, "application_id", APPLICATION)?;
    tx.pragma_update(None, "user_version", SCHEMA)?;
    tx.commit()?;
    Ok(())
}
