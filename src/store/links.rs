//! Links for attendees and hosts. The token is shown once; its SHA-256 is what is stored.

use data_encoding::HEXLOWER;
use jiff::Timestamp;
use sqlx::{FromRow, SqliteExecutor};

use super::{StoreResult, from_text, to_text};
use crate::token::TokenHash;

/// Who a link is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, sqlx::Type)]
#[sqlx(rename_all = "snake_case")]
pub enum LinkRole {
    /// Step cards on a phone.
    Attendee,
    /// The host's lists.
    Host,
}

impl LinkRole {
    /// Both, in the order of the form.
    pub const ALL: [Self; 2] = [Self::Attendee, Self::Host];

    /// The word in forms.
    #[must_use]
    pub const fn slug(self) -> &'static str {
        match self {
            Self::Attendee => "attendee",
            Self::Host => "host",
        }
    }

    /// What such a link shows.
    #[must_use]
    pub const fn label(self) -> &'static str {
        match self {
            Self::Attendee => "Attendees: all step cards, for phones",
            Self::Host => "Host: the host's list and all packs, for printing",
        }
    }
}

/// A link as the instructor sees it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Link {
    /// Row id.
    pub id: i64,
    /// Who it is for.
    pub role: LinkRole,
    /// When it was made.
    pub created_at: Timestamp,
    /// When it stops.
    pub expires_at: Timestamp,
    /// When it was ended by hand.
    pub revoked_at: Option<Timestamp>,
}

/// What a working link opens: the newest published revision of one class.
#[derive(Clone, Copy, Debug, PartialEq, Eq, FromRow)]
pub struct OpenLink {
    /// Row of the class.
    pub class_id: i64,
    /// Row of the revision.
    pub revision_id: i64,
}

#[derive(FromRow)]
struct LinkRow {
    id: i64,
    role: LinkRole,
    created_at: String,
    expires_at: String,
    revoked_at: Option<String>,
}

/// What the token opens now: nothing if it is unknown, for another role, expired, revoked, or its
/// class was never published.
///
/// # Errors
/// When the database fails.
pub async fn find_open_class(
    db: impl SqliteExecutor<'_>,
    hash: &TokenHash,
    role: LinkRole,
    now: Timestamp,
) -> StoreResult<Option<OpenLink>> {
    sqlx::query_as(
        "SELECT link.class_id, revision.id AS revision_id
         FROM link JOIN revision ON revision.class_id = link.class_id
         WHERE token_hash = ?1 AND role = ?2 AND revoked_at IS NULL AND expires_at > ?3
         ORDER BY revision.number DESC LIMIT 1",
    )
    .bind(HEXLOWER.encode(hash))
    .bind(role)
    .bind(to_text(now))
    .fetch_optional(db)
    .await
}

/// The links of a class, the newest first.
///
/// # Errors
/// When the database fails.
pub async fn list_links(db: impl SqliteExecutor<'_>, class_id: i64) -> StoreResult<Vec<Link>> {
    let rows: Vec<LinkRow> = sqlx::query_as(
        "SELECT id, role, created_at, expires_at, revoked_at FROM link
         WHERE class_id = ?1 ORDER BY id DESC",
    )
    .bind(class_id)
    .fetch_all(db)
    .await?;
    let read = |row: LinkRow| {
        Ok(Link {
            id: row.id,
            role: row.role,
            created_at: from_text(&row.created_at)?,
            expires_at: from_text(&row.expires_at)?,
            revoked_at: row.revoked_at.as_deref().map(from_text).transpose()?,
        })
    };
    rows.into_iter().map(read).collect()
}

/// The link of a class with this token.
///
/// # Errors
/// When the database fails.
pub async fn find_link(
    db: impl SqliteExecutor<'_>,
    class_id: i64,
    hash: &TokenHash,
) -> StoreResult<Option<i64>> {
    sqlx::query_scalar("SELECT id FROM link WHERE class_id = ?1 AND token_hash = ?2")
        .bind(class_id)
        .bind(HEXLOWER.encode(hash))
        .fetch_optional(db)
        .await
}

/// Stores a new link.
///
/// # Errors
/// When the database fails.
pub async fn insert_link(
    db: impl SqliteExecutor<'_>,
    class_id: i64,
    role: LinkRole,
    hash: &TokenHash,
    now: Timestamp,
    expires_at: Timestamp,
) -> StoreResult<()> {
    sqlx::query(
        "INSERT INTO link (class_id, role, token_hash, created_at, expires_at)
         VALUES (?1, ?2, ?3, ?4, ?5)",
    )
    .bind(class_id)
    .bind(role)
    .bind(HEXLOWER.encode(hash))
    .bind(to_text(now))
    .bind(to_text(expires_at))
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

#[cfg(test)]
mod tests {
    use super::super::class_lists::sample;
    use super::super::{Store, revisions};
    use super::*;
    use crate::demo::class;

    const HASH: TokenHash = [7; 32];

    fn at(text: &str) -> Timestamp {
        text.parse().unwrap()
    }

    async fn with_link() -> (Store, i64) {
        let store = Store::temporary().await.unwrap();
        let id = sample::class(&store).await;
        let mut change = store.change().await.unwrap();
        let (now, ends) = (at("2026-11-01T10:00:00Z"), at("2026-12-05T12:00:00Z"));
        insert_link(&mut *change, id, LinkRole::Attendee, &HASH, now, ends)
            .await
            .unwrap();
        change.commit().await.unwrap();
        (store, id)
    }

    async fn opens(store: &Store, role: LinkRole, now: &str) -> Option<OpenLink> {
        find_open_class(store.read(), &HASH, role, at(now))
            .await
            .unwrap()
    }

    #[tokio::test]
    async fn a_link_opens_the_newest_revision_until_it_expires() {
        let (store, id) = with_link().await;
        let day = "2026-11-28T10:00:00Z";
        assert_eq!(
            opens(&store, LinkRole::Attendee, day).await,
            None,
            "unpublished"
        );
        let facts = class(3);
        for number in 1..=2 {
            let mut change = store.change().await.unwrap();
            let made = revisions::insert_revision(&mut change, id, &facts, at(day)).await;
            assert_eq!(made.unwrap(), number);
            change.commit().await.unwrap();
        }
        let open = opens(&store, LinkRole::Attendee, day).await.unwrap();
        assert_eq!(
            open,
            OpenLink {
                class_id: id,
                revision_id: 2
            }
        );
        assert_eq!(opens(&store, LinkRole::Host, day).await, None, "other role");
        assert!(
            opens(&store, LinkRole::Attendee, "2026-12-05T11:59:59Z")
                .await
                .is_some()
        );
        assert_eq!(
            opens(&store, LinkRole::Attendee, "2026-12-05T12:00:00Z").await,
            None
        );
    }

    #[tokio::test]
    async fn a_revoked_link_opens_nothing_and_keeps_its_first_end() {
        let (store, id) = with_link().await;
        let mut change = store.change().await.unwrap();
        let day = at("2026-11-28T10:00:00Z");
        revisions::insert_revision(&mut change, id, &class(3), day)
            .await
            .unwrap();
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
        let found = async |class, hash| find_link(store.read(), class, &hash).await.unwrap();
        assert_eq!(found(id, HASH).await, Some(links[0].id));
        assert_eq!(found(id + 1, HASH).await, None, "of another class");
        assert_eq!(found(id, [8; 32]).await, None, "unknown");
        assert_eq!(
            opens(&store, LinkRole::Attendee, "2026-11-28T10:00:00Z").await,
            None
        );
    }
}
