//! Links for attendees and hosts. What is stored is the SHA-256 of the token, and the seed it follows
//! from with a key that is not in the database.

use data_encoding::HEXLOWER;
use jiff::Timestamp;
use sqlx::{FromRow, SqliteExecutor};

use super::saved::damaged;
use super::{StoreResult, from_text, to_text};
use crate::token::{LinkSeed, TokenHash};

/// Who a link is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, sqlx::Type)]
#[sqlx(rename_all = "snake_case")]
pub enum LinkRole {
    /// Step cards on a phone.
    Attendee,
    /// The host's lists.
    Host,
}

/// A link as the instructor sees it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Link {
    /// Row id.
    pub id: i64,
    /// Who it is for.
    pub role: LinkRole,
    /// Row of the attendee whose own it is.
    pub attendee_id: Option<i64>,
    /// What its token follows from; `None` for one that was shown once.
    pub seed: Option<LinkSeed>,
    /// SHA-256 of its token.
    pub hash: TokenHash,
    /// When it was made.
    pub created_at: Timestamp,
    /// When it stops.
    pub expires_at: Timestamp,
    /// When it was ended by hand.
    pub revoked_at: Option<Timestamp>,
}

impl Link {
    /// Whether it still opens its class.
    #[must_use]
    pub fn works(&self, now: Timestamp) -> bool {
        self.revoked_at.is_none() && self.expires_at > now
    }
}

/// A link that is to be stored.
#[derive(Clone, Debug)]
pub struct NewLink {
    /// Who it is for.
    pub role: LinkRole,
    /// Row of the attendee whose own it is.
    pub attendee_id: Option<i64>,
    /// What its token follows from.
    pub seed: LinkSeed,
    /// SHA-256 of its token.
    pub hash: TokenHash,
    /// When it is made.
    pub created_at: Timestamp,
    /// When it stops.
    pub expires_at: Timestamp,
}

/// What a link opens until it expires: the newest published revision of one class.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct OpenLink {
    /// Who it is for.
    pub role: LinkRole,
    /// Row of the class.
    pub class_id: i64,
    /// Row of the attendee whose own it is.
    pub attendee_id: Option<i64>,
    /// Row of the revision.
    pub revision_id: i64,
    /// When it stops.
    pub expires_at: Timestamp,
}

#[derive(FromRow)]
struct LinkRow {
    id: i64,
    role: LinkRole,
    attendee_id: Option<i64>,
    seed: Option<String>,
    token_hash: String,
    created_at: String,
    expires_at: String,
    revoked_at: Option<String>,
}

#[derive(FromRow)]
struct OpenRow {
    token_hash: String,
    role: LinkRole,
    class_id: i64,
    attendee_id: Option<i64>,
    revision_id: i64,
    expires_at: String,
}

/// All links that are not revoked and whose class was published, whether expired or not.
///
/// # Errors
/// When the database fails.
pub async fn list_open_links(
    db: impl SqliteExecutor<'_>,
) -> StoreResult<Vec<(TokenHash, OpenLink)>> {
    let rows: Vec<OpenRow> = sqlx::query_as(
        "SELECT token_hash, role, link.class_id, attendee_id, expires_at,
                MAX(revision.number) AS number, revision.id AS revision_id
         FROM link JOIN revision ON revision.class_id = link.class_id
         WHERE revoked_at IS NULL GROUP BY link.id",
    )
    .fetch_all(db)
    .await?;
    let read = |row: OpenRow| {
        let open = OpenLink {
            role: row.role,
            class_id: row.class_id,
            attendee_id: row.attendee_id,
            revision_id: row.revision_id,
            expires_at: from_text(&row.expires_at)?,
        };
        Ok((hash(&row.token_hash)?, open))
    };
    rows.into_iter().map(read).collect()
}

/// The links of a class, the newest first.
///
/// # Errors
/// When the database fails.
pub async fn list_links(db: impl SqliteExecutor<'_>, class_id: i64) -> StoreResult<Vec<Link>> {
    let rows: Vec<LinkRow> = sqlx::query_as(
        "SELECT id, role, attendee_id, seed, token_hash, created_at, expires_at, revoked_at FROM link
         WHERE class_id = ?1 ORDER BY id DESC",
    )
    .bind(class_id)
    .fetch_all(db)
    .await?;
    let read = |row: LinkRow| {
        Ok(Link {
            id: row.id,
            role: row.role,
            attendee_id: row.attendee_id,
            seed: row.seed.map(LinkSeed::stored),
            hash: hash(&row.token_hash)?,
            created_at: from_text(&row.created_at)?,
            expires_at: from_text(&row.expires_at)?,
            revoked_at: row.revoked_at.as_deref().map(from_text).transpose()?,
        })
    };
    rows.into_iter().map(read).collect()
}

/// Stores a new link of a class.
///
/// # Errors
/// When the database fails.
pub async fn insert_link(
    db: impl SqliteExecutor<'_>,
    class_id: i64,
    link: &NewLink,
) -> StoreResult<()> {
    sqlx::query(
        "INSERT INTO link (class_id, role, attendee_id, seed, token_hash, created_at, expires_at)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)",
    )
    .bind(class_id)
    .bind(link.role)
    .bind(link.attendee_id)
    .bind(link.seed.text())
    .bind(HEXLOWER.encode(&link.hash))
    .bind(to_text(link.created_at))
    .bind(to_text(link.expires_at))
    .execute(db)
    .await?;
    Ok(())
}

/// Ends a link of a class; false when the class has none of that id. Ending it twice is no error.
///
/// # Errors
/// When the database fails.
pub async fn update_link_revoked(
    db: impl SqliteExecutor<'_>,
    class_id: i64,
    id: i64,
    now: Timestamp,
) -> StoreResult<bool> {
    let done = sqlx::query(
        "UPDATE link SET revoked_at = COALESCE(revoked_at, ?3) WHERE id = ?2 AND class_id = ?1",
    )
    .bind(class_id)
    .bind(id)
    .bind(to_text(now))
    .execute(db)
    .await?;
    Ok(done.rows_affected() == 1)
}

fn hash(text: &str) -> StoreResult<TokenHash> {
    let bytes = HEXLOWER.decode(text.as_bytes());
    let hash = bytes.ok().and_then(|bytes| bytes.try_into().ok());
    hash.ok_or_else(|| damaged("link.token_hash", text))
}

#[cfg(test)]
mod tests {
    use super::super::class_lists::{self, sample};
    use super::super::{Store, revisions};
    use super::*;
    use crate::demo::class;

    const HASH: TokenHash = [7; 32];

    fn at(text: &str) -> Timestamp {
        text.parse().unwrap()
    }

    fn link(attendee_id: Option<i64>, hash: TokenHash) -> NewLink {
        NewLink {
            role: LinkRole::Attendee,
            attendee_id,
            seed: LinkSeed::stored("00ff".to_owned()),
            hash,
            created_at: at("2026-11-01T10:00:00Z"),
            expires_at: at("2026-12-05T12:00:00Z"),
        }
    }

    async fn with_link() -> (Store, i64) {
        let store = Store::temporary().await.unwrap();
        let id = sample::class(&store).await;
        let mut change = store.change().await.unwrap();
        insert_link(&mut *change, id, &link(None, HASH))
            .await
            .unwrap();
        change.commit().await.unwrap();
        (store, id)
    }

    async fn publish(store: &Store, id: i64) {
        let mut change = store.change().await.unwrap();
        let day = at("2026-11-28T10:00:00Z");
        revisions::insert_revision(&mut change, id, &class(3), day)
            .await
            .unwrap();
        change.commit().await.unwrap();
    }

    async fn open(store: &Store) -> Vec<(TokenHash, OpenLink)> {
        list_open_links(store.read()).await.unwrap()
    }

    #[tokio::test]
    async fn a_link_opens_the_newest_revision_of_a_published_class() {
        let (store, id) = with_link().await;
        assert_eq!(open(&store).await, [], "unpublished");
        for _ in 0..2 {
            publish(&store, id).await;
        }
        let opens = OpenLink {
            role: LinkRole::Attendee,
            class_id: id,
            attendee_id: None,
            revision_id: 2,
            expires_at: at("2026-12-05T12:00:00Z"),
        };
        assert_eq!(open(&store).await, [(HASH, opens)]);
    }

    #[tokio::test]
    async fn a_revoked_link_opens_nothing_and_keeps_its_first_end() {
        let (store, id) = with_link().await;
        publish(&store, id).await;
        let mut change = store.change().await.unwrap();
        let day = at("2026-11-28T10:00:00Z");
        assert!(
            !update_link_revoked(&mut *change, id + 1, 1, day)
                .await
                .unwrap()
        );
        for now in [day, at("2026-11-29T10:00:00Z")] {
            assert!(update_link_revoked(&mut *change, id, 1, now).await.unwrap());
        }
        change.commit().await.unwrap();
        let links = list_links(store.read(), id).await.unwrap();
        assert_eq!(links[0].revoked_at, Some(day));
        assert!(!links[0].works(at("2026-11-02T10:00:00Z")));
        assert_eq!(open(&store).await, []);
    }

    #[tokio::test]
    async fn a_link_of_ones_own_goes_with_the_attendee() {
        let (store, id) = with_link().await;
        publish(&store, id).await;
        let attendees = class_lists::list_attendees(store.read(), id).await.unwrap();
        let attendee = attendees[0].id;
        let mut change = store.change().await.unwrap();
        insert_link(&mut *change, id, &link(Some(attendee), [8; 32]))
            .await
            .unwrap();
        change.commit().await.unwrap();
        let links = list_links(store.read(), id).await.unwrap();
        assert_eq!(links[0].attendee_id, Some(attendee));
        assert_eq!(links[0].seed, Some(LinkSeed::stored("00ff".to_owned())));
        assert_eq!(links[0].hash, [8; 32]);
        assert_eq!(open(&store).await.len(), 2);
        let mut change = store.change().await.unwrap();
        class_lists::delete_attendee(&mut *change, id, attendee)
            .await
            .unwrap();
        change.commit().await.unwrap();
        assert_eq!(open(&store).await.len(), 1);
    }
}
