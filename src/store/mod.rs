//! All SQL lives here: one SQLite file, one file of functions a table group.
//!
//! Functions are named `find_` (Option), `list_`, `insert_`, `update_`, `delete_` and take an
//! executor, so that several calls join one transaction:
//!
//! ```text
//! let row = store::instructor::find_instructor(app.store().read()).await?;
//! let mut change = app.store().change().await?;
//! store::session::insert_session(&mut *change, ..).await?;
//! change.commit().await?;
//! ```

pub mod bench;
pub mod class_facts;
pub mod class_lists;
pub mod class_money;
pub mod class_project;
pub mod classes;
pub mod form_use;
pub mod instructor;
pub mod label_sheet;
pub mod left_overs;
mod link_key;
pub mod links;
pub mod one_time_link;
pub mod project_facts;
pub mod projects;
pub mod revisions;
mod saved;
pub mod session;
mod time;

use std::path::Path;
use std::sync::Arc;
use std::time::Duration;

use sqlx::migrate::Migrator;
use sqlx::sqlite::{
    SqliteConnectOptions, SqliteJournalMode, SqlitePool, SqlitePoolOptions, SqliteSynchronous,
};
use sqlx::{Sqlite, Transaction};

use crate::token::LinkKey;

pub use saved::{Saved, Update};
pub use time::{from_text, to_text};

/// Every migration, embedded: one binary to copy.
pub static MIGRATOR: Migrator = sqlx::migrate!();

/// What a call to the store gives.
pub type StoreResult<T> = Result<T, sqlx::Error>;

/// A transaction that has taken the write lock.
pub type Change = Transaction<'static, Sqlite>;

/// Name of the database file in the data folder.
pub const FILE_NAME: &str = "tablefold.db";

/// The database could not be opened.
#[derive(Debug, thiserror::Error)]
pub enum OpenError {
    /// The file cannot be read or written, or is no database.
    #[error("the database does not open: {0}")]
    Database(#[from] sqlx::Error),
    /// The tables cannot be brought up to date, for example after a newer Tablefold.
    #[error("the tables cannot be brought up to date: {0}")]
    Migration(#[from] sqlx::migrate::MigrateError),
    /// The key of the links cannot be read or made.
    #[error("the key of the links: {0}")]
    LinkKey(std::io::Error),
    /// There is no room for a temporary folder.
    #[error("no temporary folder: {0}")]
    Folder(#[from] std::io::Error),
}

/// The open database. Cheap to clone.
#[derive(Clone, Debug)]
pub struct Store {
    readers: SqlitePool,
    /// One connection: writers queue here and never meet a busy database.
    writer: SqlitePool,
    link_key: Arc<LinkKey>,
    /// Keeps a temporary folder until the last clone is gone.
    _folder: Option<Arc<tempfile::TempDir>>,
}

impl Store {
    /// Opens the database in the folder `data`, which exists, and brings its tables up to date.
    ///
    /// # Errors
    /// When the file does not open or its tables are newer than this program.
    pub async fn open(data: &Path) -> Result<Self, OpenError> {
        let options = options(&data.join(FILE_NAME));
        let link_key = link_key::open(data).map_err(OpenError::LinkKey)?;
        // The writer comes first: it creates the file and sets WAL once.
        let writer = SqlitePoolOptions::new()
            .max_connections(1)
            .connect_with(options.clone())
            .await?;
        MIGRATOR.run(&writer).await?;
        let readers = SqlitePoolOptions::new()
            .max_connections(4)
            .connect_with(options)
            .await?;
        Ok(Self {
            readers,
            writer,
            link_key: Arc::new(link_key),
            _folder: None,
        })
    }

    /// A database in a folder of its own that is deleted with the last clone: demo and tests.
    ///
    /// # Errors
    /// As [`Store::open`], and when there is no temporary folder.
    pub async fn temporary() -> Result<Self, OpenError> {
        let folder = tempfile::Builder::new().prefix("tablefold-").tempdir()?;
        let store = Self::open(folder.path()).await?;
        Ok(Self {
            _folder: Some(Arc::new(folder)),
            ..store
        })
    }

    /// What tokens of links follow from.
    #[must_use]
    pub fn link_key(&self) -> &LinkKey {
        &self.link_key
    }

    /// For single reads.
    #[must_use]
    pub const fn read(&self) -> &SqlitePool {
        &self.readers
    }

    /// Starts a change: `BEGIN IMMEDIATE`, because a plain BEGIN that turns into a write fails
    /// on a busy snapshot. Nothing is kept unless it is committed.
    ///
    /// # Errors
    /// When the database stays busy for 5 s or is gone.
    pub async fn change(&self) -> StoreResult<Change> {
        self.writer.begin_with("BEGIN IMMEDIATE").await
    }

    /// Closes all connections, so that the write-ahead log is folded into the file.
    pub async fn close(&self) {
        self.readers.close().await;
        self.writer.close().await;
    }
}

/// `None` where the table refuses a second row with a name that must be the only one.
fn unless_taken<T>(done: StoreResult<T>) -> StoreResult<Option<T>> {
    match done {
        Ok(value) => Ok(Some(value)),
        Err(sqlx::Error::Database(error)) if error.is_unique_violation() => Ok(None),
        Err(error) => Err(error),
    }
}

fn options(file: &Path) -> SqliteConnectOptions {
    SqliteConnectOptions::new()
        .filename(file)
        .create_if_missing(true)
        .journal_mode(SqliteJournalMode::Wal)
        // What people typed survives a power cut.
        .synchronous(SqliteSynchronous::Full)
        .foreign_keys(true)
        .busy_timeout(Duration::from_secs(5))
}

#[cfg(test)]
mod tests {
    use super::*;

    async fn pragma(store: &Store, sql: &'static str) -> String {
        let mut values = Vec::new();
        for pool in [&store.readers, &store.writer] {
            let value: String = sqlx::query_scalar(sql).fetch_one(pool).await.unwrap();
            values.push(value);
        }
        assert_eq!(values[0], values[1], "{sql}");
        values.remove(0)
    }

    /// Expected values: sqlite.org, "PRAGMA synchronous" (2 is FULL) and "PRAGMA journal_mode".
    #[tokio::test]
    async fn every_connection_is_durable_and_checks_references() {
        let store = Store::temporary().await.unwrap();
        assert_eq!(
            pragma(&store, "SELECT journal_mode FROM pragma_journal_mode").await,
            "wal"
        );
        let full = "SELECT CAST(synchronous AS TEXT) FROM pragma_synchronous";
        assert_eq!(pragma(&store, full).await, "2");
        let keys = "SELECT CAST(foreign_keys AS TEXT) FROM pragma_foreign_keys";
        assert_eq!(pragma(&store, keys).await, "1");
    }

    #[tokio::test]
    async fn a_change_that_is_dropped_leaves_nothing() {
        let store = Store::temporary().await.unwrap();
        {
            let mut change = store.change().await.unwrap();
            let insert = "INSERT INTO one_time_link (purpose, token_hash, expires_at)
                          VALUES ('setup', x'00', '2026-11-28T10:00:00Z')";
            sqlx::query(insert).execute(&mut *change).await.unwrap();
        }
        let count: i64 = sqlx::query_scalar("SELECT COUNT(*) FROM one_time_link")
            .fetch_one(store.read())
            .await
            .unwrap();
        assert_eq!(count, 0);
    }

    #[tokio::test]
    async fn forty_writers_at_once_all_get_their_turn() {
        let store = Store::temporary().await.unwrap();
        let mut tasks = tokio::task::JoinSet::new();
        for number in 0..40_i64 {
            let store = store.clone();
            tasks.spawn(async move {
                let mut change = store.change().await?;
                sqlx::query(
                    "INSERT INTO one_time_link (purpose, token_hash, expires_at)
                     VALUES ('setup', ?1, '2026-11-28T10:00:00Z')",
                )
                .bind(number.to_be_bytes().to_vec())
                .execute(&mut *change)
                .await?;
                change.commit().await
            });
        }
        for outcome in tasks.join_all().await {
            outcome.unwrap();
        }
        let count: i64 = sqlx::query_scalar("SELECT COUNT(*) FROM one_time_link")
            .fetch_one(store.read())
            .await
            .unwrap();
        assert_eq!(count, 40);
    }

    #[tokio::test]
    async fn a_temporary_database_is_deleted_at_the_end() {
        let store = Store::temporary().await.unwrap();
        let folder = store._folder.as_ref().unwrap().path().to_owned();
        assert!(folder.join(FILE_NAME).exists());
        store.close().await;
        drop(store);
        assert!(!folder.exists());
    }
}
