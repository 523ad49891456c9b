//! Every migration runs on a database that the ones before it filled.
//!
//! `tests/migrations/NNNN_name.sql` holds sample rows for the tables as they are after migration
//! NNNN; the next migrations must carry them along.

#![expect(clippy::unwrap_used, reason = "a step that cannot go on has failed")]

use sqlx::migrate::Migrator;
use sqlx::sqlite::{SqliteConnectOptions, SqlitePoolOptions};
use sqlx::{AssertSqlSafe, SqlitePool};
use tablefold::store::MIGRATOR;

async fn upgraded_step_by_step() -> (SqlitePool, tempfile::TempDir) {
    let folder = tempfile::tempdir().unwrap();
    let options = SqliteConnectOptions::new()
        .filename(folder.path().join("upgrade.db"))
        .create_if_missing(true)
        .foreign_keys(true);
    let pool = SqlitePoolOptions::new()
        .connect_with(options)
        .await
        .unwrap();
    for count in 1..=MIGRATOR.iter().count() {
        let so_far: Vec<_> = MIGRATOR.iter().take(count).cloned().collect();
        let last = so_far.last().unwrap().clone();
        Migrator::with_migrations(so_far).run(&pool).await.unwrap();
        let name = last.description.replace(' ', "_");
        let file = format!("tests/migrations/{:04}_{name}.sql", last.version);
        let rows = std::fs::read_to_string(&file).unwrap_or_else(|error| {
            panic!(
                "migration {} needs sample rows in {file}: {error}",
                last.version
            )
        });
        sqlx::raw_sql(AssertSqlSafe(rows))
            .execute(&pool)
            .await
            .unwrap();
    }
    (pool, folder)
}

#[tokio::test]
async fn every_migration_carries_the_rows_before_it_along() {
    let (pool, _folder) = upgraded_step_by_step().await;
    let sound: String = sqlx::query_scalar("PRAGMA integrity_check")
        .fetch_one(&pool)
        .await
        .unwrap();
    assert_eq!(sound, "ok");
    let dangling = sqlx::query("PRAGMA foreign_key_check")
        .fetch_all(&pool)
        .await
        .unwrap();
    assert_eq!(dangling.len(), 0);
    let (name, sessions): (String, i64) =
        sqlx::query_as("SELECT name, (SELECT COUNT(*) FROM session) FROM instructor")
            .fetch_one(&pool)
            .await
            .unwrap();
    assert_eq!((name.as_str(), sessions), ("Ines", 1));
    let spools: Vec<String> =
        sqlx::query_scalar("SELECT spools FROM supply WHERE id IN (1, 9) ORDER BY id")
            .fetch_all(&pool)
            .await
            .unwrap();
    assert_eq!(spools, ["[]", "[2000000000]"]);
    let sizes: Vec<(String, Option<i64>)> =
        sqlx::query_as("SELECT name, same_as FROM paper ORDER BY id")
            .fetch_all(&pool)
            .await
            .unwrap();
    let sizes: Vec<_> = sizes.iter().map(|(n, of)| (n.as_str(), *of)).collect();
    assert_eq!(sizes, [("Moss card", None), ("Moss card A4", Some(1))]);
    let attendees: Vec<(i64, String, i64)> = sqlx::query_as(
        "SELECT id, name, (SELECT COUNT(*) FROM link WHERE attendee_id = attendee.id)
         FROM attendee ORDER BY id",
    )
    .fetch_all(&pool)
    .await
    .unwrap();
    let attendees: Vec<_> = attendees.iter().map(|(id, n, l)| (*id, &**n, *l)).collect();
    // The revision of the sample rows knows an attendee 7, who is gone.
    assert_eq!(attendees, [(1, "Seat 1", 1), (8, "Seat 2", 0)]);
}

#[tokio::test]
async fn every_table_is_strict_and_sampled() {
    let (pool, _folder) = upgraded_step_by_step().await;
    let tables: Vec<(String, bool)> = sqlx::query_as(
        "SELECT name, strict FROM pragma_table_list
         WHERE schema = 'main' AND type = 'table' AND name NOT LIKE 'sqlite_%'
           AND name NOT LIKE '_sqlx_%'",
    )
    .fetch_all(&pool)
    .await
    .unwrap();
    assert!(tables.len() >= 3, "{tables:?}");
    for (table, strict) in tables {
        assert!(strict, "{table} is not STRICT");
        let count = AssertSqlSafe(format!("SELECT COUNT(*) FROM \"{table}\""));
        let rows: i64 = sqlx::query_scalar(count).fetch_one(&pool).await.unwrap();
        assert!(rows > 0, "{table} has no sample rows");
    }
}
