//! What was last worked out on a reading connection, for the next who asks the same.
//! Never what is written down: it goes with the connection.
//! Invariant: it is good for the very state of the register it was made from, and for no other.

use crate::error::Result;
use rusqlite::Connection;
use std::any::Any;
use std::sync::Arc;

/// One thing, by its key; the newest takes the place of the one before.
#[derive(Debug, Default)]
pub struct Kept(Option<Made>);

#[derive(Debug)]
struct Made {
    /// SQLite's own number of the state that this connection sees: another after any commit by another connection.
    version: i64,
    key: Box<dyn Any + Send>,
    what: Arc<dyn Any + Send + Sync>,
}

impl Kept {
    /// What was made for this key from the register as it stands, or makes it. `conn`: the reading connection this
    /// belongs to, in the transaction of the asking.
    ///
    /// # Errors
    /// Those of `make`, or the register's own.
    pub fn get<K, M>(&mut self, conn: &Connection, key: K, make: impl FnOnce() -> Result<M>) -> Result<Arc<M>>
    where
        K: PartialEq + Send + 'static,
        M: Send + Sync + 'static,
    {
        let version = conn.query_row("PRAGMA data_version", [], |r| r.get(0))?;
        if let Some(made) = &self.0
            && made.version == version
            && made.key.downcast_ref() == Some(&key)
            && let Ok(what) = Arc::clone(&made.what).downcast()
        {
            return Ok(what);
        }
        let what = Arc::new(make()?);
        self.0 = Some(Made { version, key: Box::new(key), what: what.clone() });
        Ok(what)
    }
}
