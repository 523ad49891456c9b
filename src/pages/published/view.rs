//! How a phone shows its page: chosen by links, remembered in a cookie of that page alone.

use axum::http::{HeaderMap, HeaderValue, header};

/// Name of the cookie.
const COOKIE: &str = "view";

/// A year, in seconds.
const REMEMBERED: u32 = 31_536_000;

/// What an attendee chose.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct View {
    /// Measures in the other system first.
    pub other_units: bool,
    /// Pictures and words for left-handers.
    pub left_handed: bool,
    /// Larger print.
    pub large: bool,
}

impl View {
    /// What the address asks for; `None` where it says nothing of it.
    pub(in crate::pages) fn of_query(query: &str) -> Option<Self> {
        let mut view = None::<Self>;
        let mut chosen = |set: &dyn Fn(&mut Self)| set(view.get_or_insert_default());
        for (name, value) in query.split('&').filter_map(|pair| pair.split_once('=')) {
            match name {
                "units" => chosen(&|view| view.other_units = value == "other"),
                "hand" => chosen(&|view| view.left_handed = value == "left"),
                "print" => chosen(&|view| view.large = value == "large"),
                _ => {}
            }
        }
        view
    }

    /// What this phone chose before.
    pub(super) fn of_cookie(headers: &HeaderMap) -> Self {
        headers
            .get_all(header::COOKIE)
            .iter()
            .filter_map(|value| value.to_str().ok())
            .flat_map(|line| line.split(';'))
            .filter_map(|pair| pair.trim().split_once('='))
            .find(|(name, _)| *name == COOKIE)
            .map_or_else(Self::default, |(_, kept)| Self {
                other_units: kept.contains('u'),
                left_handed: kept.contains('h'),
                large: kept.contains('p'),
            })
    }

    /// The cookie that remembers it, for this page alone.
    pub(super) fn cookie(self, path: &str) -> Option<HeaderValue> {
        let letters = [
            (self.other_units, 'u'),
            (self.left_handed, 'h'),
            (self.large, 'p'),
        ];
        let kept = letters
            .iter()
            .filter(|(on, _)| *on)
            .map(|(_, letter)| letter);
        let kept: String = kept.collect();
        let text =
            format!("{COOKIE}={kept}; Path={path}; Max-Age={REMEMBERED}; HttpOnly; SameSite=Lax");
        HeaderValue::from_str(&text).ok()
    }

    /// The part of an address that asks for it.
    #[must_use]
    pub fn query(self) -> String {
        let one = |on, yes, no| if on { yes } else { no };
        format!(
            "?units={}&hand={}&print={}",
            one(self.other_units, "other", "own"),
            one(self.left_handed, "left", "right"),
            one(self.large, "large", "normal"),
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const ALL: [bool; 2] = [false, true];

    #[test]
    fn a_view_is_read_back_from_its_address_and_from_its_cookie() {
        for (other_units, left_handed, large) in ALL
            .iter()
            .flat_map(|&a| ALL.iter().flat_map(move |&b| ALL.map(|c| (a, b, c))))
        {
            let view = View {
                other_units,
                left_handed,
                large,
            };
            let query = view.query();
            assert_eq!(View::of_query(query.trim_start_matches('?')), Some(view));
            let cookie = view.cookie("/a/x").unwrap();
            let sent = cookie.to_str().unwrap().split(';').next().unwrap();
            let sent = format!("other=hup; {sent}; more=u");
            let headers =
                HeaderMap::from_iter([(header::COOKIE, HeaderValue::from_str(&sent).unwrap())]);
            assert_eq!(View::of_cookie(&headers), view, "{sent}");
        }
    }

    #[test]
    fn an_address_without_a_choice_leaves_it_to_the_cookie() {
        assert_eq!(View::of_query(""), None);
        assert_eq!(View::of_query("x"), None);
        assert_eq!(View::of_query("from=elsewhere&x=print"), None);
        assert_eq!(
            View::of_query("units=%00&hand=&print=huge"),
            Some(View::default())
        );
    }
}
