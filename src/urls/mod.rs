//! Every address of the server. Templates, redirects and tests call these; nothing else writes
//! a path. The constants are the patterns that routers register.

use crate::pages::static_files;

mod bench;
mod classes;
mod projects;

pub use bench::*;
pub use classes::*;
pub use projects::*;

/// GET: what to do next.
#[must_use]
pub fn home() -> String {
    HOME.to_owned()
}

/// Pattern of [`home`].
pub const HOME: &str = "/";

/// GET: all classes.
#[must_use]
pub fn classes() -> String {
    CLASSES.to_owned()
}

/// Pattern of [`classes`].
pub const CLASSES: &str = "/classes";

/// GET, POST: sign in.
#[must_use]
pub fn sign_in() -> String {
    SIGN_IN.to_owned()
}

/// Pattern of [`sign_in`].
pub const SIGN_IN: &str = "/sign-in";

/// GET: sign in, and then go on to `next`, a path of this server.
#[must_use]
pub fn sign_in_then(next: &str) -> String {
    match serde_html_form::to_string([("next", next)]) {
        Ok(query) if next != HOME => format!("{SIGN_IN}?{query}"),
        _ => sign_in(),
    }
}

/// POST: sign out.
#[must_use]
pub fn sign_out() -> String {
    SIGN_OUT.to_owned()
}

/// Pattern of [`sign_out`].
pub const SIGN_OUT: &str = "/sign-out";

/// GET, POST: the one-time link that is printed at the start.
#[must_use]
pub fn welcome(token: &str) -> String {
    format!("/welcome/{token}")
}

/// Pattern of [`welcome`].
pub const WELCOME: &str = "/welcome/{token}";

/// GET: the instructor's account.
#[must_use]
pub fn account() -> String {
    ACCOUNT.to_owned()
}

/// Pattern of [`account`].
pub const ACCOUNT: &str = "/account";

/// GET: the instructor's account, after the password was changed.
#[must_use]
pub fn account_password_changed() -> String {
    format!("{ACCOUNT}?done=password")
}

/// GET, POST: change the password.
#[must_use]
pub fn account_password() -> String {
    ACCOUNT_PASSWORD.to_owned()
}

/// Pattern of [`account_password`].
pub const ACCOUNT_PASSWORD: &str = "/account/password";

/// What the addresses of attendee links start with.
pub const ATTENDEE_LINKS: &str = "/a/";

/// What the addresses of host links start with.
pub const HOST_LINKS: &str = "/h/";

/// What the addresses of one-time links start with.
pub const WELCOME_LINKS: &str = "/welcome/";

/// GET: a static file; the address changes with its bytes.
#[must_use]
pub fn static_file(name: &str) -> String {
    format!("/static/{}/{name}", static_files::fingerprint(name))
}

/// Pattern of [`static_file`].
pub const STATIC_FILE: &str = "/static/{fingerprint}/{name}";

/// GET: what search engines may read.
pub const ROBOTS: &str = "/robots.txt";

/// Whether a path that a visitor brought is one of ours to go on to, and no other server's.
/// Browsers read a backslash as a slash and skip tabs and newlines, so both are refused.
#[must_use]
pub fn is_own_path(path: &str) -> bool {
    let mut bytes = path.bytes();
    bytes.next() == Some(b'/')
        && bytes.next() != Some(b'/')
        && path.bytes().all(|b| b > b' ' && b < 0x7f && b != b'\\')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_own_paths_are_gone_on_to() {
        for good in ["/", "/bench", "/projects/3?edit=1"] {
            assert!(is_own_path(good), "{good}");
        }
        let bad = [
            "",
            "bench",
            "//other.example",
            "/\\other.example",
            "/\t/other.example",
            "https://other.example",
            "/a b",
        ];
        for path in bad {
            assert!(!is_own_path(path), "{path}");
        }
    }

    #[test]
    fn the_way_back_is_encoded_in_the_sign_in_address() {
        assert_eq!(
            sign_in_then("/projects/3?edit=1"),
            "/sign-in?next=%2Fprojects%2F3%3Fedit%3D1"
        );
        assert_eq!(sign_in_then("/"), "/sign-in");
    }
}
