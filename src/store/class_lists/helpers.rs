//! Who helps with what before a class.

use std::collections::BTreeMap;

use sqlx::{SqliteConnection, SqliteExecutor};

use crate::store::StoreResult;

/// Names of helpers, by operation or fence setting.
///
/// # Errors
/// When the database fails.
pub async fn list_helpers(
    db: impl SqliteExecutor<'_>,
    class_id: i64,
) -> StoreResult<BTreeMap<String, String>> {
    let rows: Vec<(String, String)> =
        sqlx::query_as("SELECT key, name FROM prep_helper WHERE class_id = ?1")
            .bind(class_id)
            .fetch_all(db)
            .await?;
    Ok(rows.into_iter().collect())
}

/// Stores these names; an empty one takes its row away. Names of what is not said stay, so that
/// a batch that is gone for a while comes back with its helper.
///
/// # Errors
/// When the database fails, or the class does not exist.
pub async fn update_helpers(
    db: &mut SqliteConnection,
    class_id: i64,
    names: &BTreeMap<String, String>,
) -> StoreResult<()> {
    for (key, name) in names {
        sqlx::query("DELETE FROM prep_helper WHERE class_id = ?1 AND key = ?2")
            .bind(class_id)
            .bind(key)
            .execute(&mut *db)
            .await?;
        if name.is_empty() {
            continue;
        }
        sqlx::query("INSERT INTO prep_helper (class_id, key, name) VALUES (?1, ?2, ?3)")
            .bind(class_id)
            .bind(key)
            .bind(name)
            .execute(&mut *db)
            .await?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::super::sample;
    use super::*;
    use crate::store::Store;
    use crate::store::classes::delete_class;

    fn names(rows: &[(&str, &str)]) -> BTreeMap<String, String> {
        let own = |&(key, name): &(&str, &str)| (key.to_owned(), name.to_owned());
        rows.iter().map(own).collect()
    }

    #[tokio::test]
    async fn an_empty_name_takes_a_helper_off_and_others_stay() {
        let store = Store::temporary().await.unwrap();
        let id = sample::class(&store).await;
        let mut change = store.change().await.unwrap();
        let first = names(&[("p1.tag-stamp", "Robin"), ("p1.mat-stamp", "Robin")]);
        update_helpers(&mut change, id, &first).await.unwrap();
        let later = names(&[("p1.tag-stamp", ""), ("cut-25400000", "Wren")]);
        update_helpers(&mut change, id, &later).await.unwrap();
        let stored = list_helpers(&mut *change, id).await.unwrap();
        assert_eq!(
            stored,
            names(&[("p1.mat-stamp", "Robin"), ("cut-25400000", "Wren")])
        );
    }

    #[tokio::test]
    async fn helpers_go_with_their_class() {
        let store = Store::temporary().await.unwrap();
        let id = sample::class(&store).await;
        let mut change = store.change().await.unwrap();
        let helper = names(&[("p1.tag-stamp", "Robin")]);
        update_helpers(&mut change, id, &helper).await.unwrap();
        assert!(delete_class(&mut change, id).await.unwrap());
        let left = list_helpers(&mut *change, id).await.unwrap();
        assert_eq!(left.len(), 0);
    }
}
