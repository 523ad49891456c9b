//! Pages as bytes, each rendered by the first who asks for it.

use std::collections::HashMap;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use jiff::Timestamp;
use tokio::sync::OnceCell;

use super::View;
use crate::pages::codings::Codings;
use crate::store::links::{LinkRole, OpenLink};

/// So many bytes of pages stay in memory; then all make room at once. A page of 15 steps
/// has about 130 kB, and its two compressed copies 50 kB.
const MOST_BYTES: usize = 128 * 1024 * 1024;

/// The pages of published classes.
#[derive(Debug, Default)]
pub(super) struct Pages(Mutex<HashMap<PageKey, Place>>);

/// Which page: however long its link works, whoever asks.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(super) struct PageKey {
    class_id: i64,
    revision_id: i64,
    role: LinkRole,
    attendee_id: Option<i64>,
    view: View,
}

/// Where a page is, or comes to be. Whoever finds it empty renders, and the others wait. A place
/// that was taken out meanwhile is filled for those who wait, and for nobody after them.
pub(super) type Place = Arc<OnceCell<Kept>>;

/// A page.
#[derive(Debug)]
pub(super) struct Kept {
    pub(super) codings: Codings,
    /// When something that stands on it ends.
    pub(super) until: Option<Timestamp>,
}

impl Kept {
    fn is_over(&self, now: Timestamp) -> bool {
        self.until.is_some_and(|until| until <= now)
    }
}

impl PageKey {
    /// What a link shows in a view.
    pub(super) const fn of(open: OpenLink, view: View) -> Self {
        Self {
            class_id: open.class_id,
            revision_id: open.revision_id,
            role: open.role,
            attendee_id: open.attendee_id,
            view,
        }
    }
}

impl Pages {
    /// The page, if it is there.
    pub(super) fn find(&self, key: &PageKey, now: Timestamp) -> Option<Place> {
        let place = self.lock().get(key).cloned()?;
        let is_good = place.get().is_some_and(|kept| !kept.is_over(now));
        is_good.then_some(place)
    }

    /// The place of a page; a new one where that which was there is over.
    pub(super) fn place(&self, key: PageKey, now: Timestamp) -> Place {
        let mut pages = self.lock();
        let place = pages.entry(key).or_default();
        if place.get().is_some_and(|kept| kept.is_over(now)) {
            *place = Place::default();
        }
        Arc::clone(place)
    }

    /// Forgets all pages when they have become too many.
    pub(super) fn make_room(&self) {
        let mut pages = self.lock();
        let kept = pages.values().filter_map(|place| place.get());
        if kept.map(|kept| kept.codings.size()).sum::<usize>() > MOST_BYTES {
            pages.clear();
        }
    }

    /// Forgets the pages of a class.
    pub(super) fn forget(&self, class: i64) {
        self.lock().retain(|key, _| key.class_id != class);
    }

    /// A panic while the lock was held leaves the map whole: places go in and out one by one.
    fn lock(&self) -> MutexGuard<'_, HashMap<PageKey, Place>> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

#[cfg(test)]
mod tests {
    use axum::http::HeaderMap;

    use super::*;

    fn key(class_id: i64) -> PageKey {
        let open = OpenLink {
            role: LinkRole::Host,
            class_id,
            attendee_id: None,
            revision_id: 1,
            expires_at: Timestamp::MAX,
        };
        PageKey::of(open, View::default())
    }

    fn kept(until: Option<i64>) -> Kept {
        Kept {
            codings: Codings::new("Seed tin".to_owned(), &HeaderMap::new()).unwrap(),
            until: until.map(at),
        }
    }

    fn at(second: i64) -> Timestamp {
        Timestamp::from_second(second).unwrap()
    }

    #[test]
    fn all_who_come_before_it_is_there_wait_for_one_page() {
        let pages = Pages::default();
        let (first, second) = (pages.place(key(1), at(0)), pages.place(key(1), at(0)));
        assert!(pages.find(&key(1), at(0)).is_none());
        first.set(kept(None)).unwrap();
        assert!(second.get().is_some());
        assert!(pages.find(&key(1), at(0)).is_some());
    }

    #[test]
    fn a_page_that_was_begun_before_a_change_is_not_shown_after_it() {
        let pages = Pages::default();
        let (begun, other) = (pages.place(key(1), at(0)), pages.place(key(2), at(0)));
        pages.forget(1);
        begun.set(kept(None)).unwrap();
        other.set(kept(None)).unwrap();
        assert!(pages.find(&key(1), at(0)).is_none());
        assert!(pages.place(key(1), at(0)).get().is_none());
        assert!(pages.find(&key(2), at(0)).is_some());
    }

    #[test]
    fn a_page_is_made_anew_when_what_stands_on_it_has_ended() {
        let pages = Pages::default();
        let place = pages.place(key(1), at(0));
        place.set(kept(Some(10))).unwrap();
        assert!(pages.find(&key(1), at(9)).is_some());
        assert!(pages.find(&key(1), at(10)).is_none());
        assert!(pages.place(key(1), at(10)).get().is_none());
    }
}
