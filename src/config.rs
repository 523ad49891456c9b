//! What the person who starts the server decides.

use std::fmt;
use std::net::SocketAddr;

use axum::http::Uri;

use crate::workshop::Currency;

/// The settings that pages need to know.
#[derive(Clone, Debug)]
pub struct Config {
    /// Where visitors reach the server; links that go on paper or to phones start with it.
    pub base_url: BaseUrl,
    /// The database is an invented one that goes away at the end.
    pub demo: bool,
    /// What money is counted in. Prices are stored in its minor units.
    pub currency: Currency,
}

/// The address before the path, without a slash at the end: `https://class.example`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BaseUrl {
    https: bool,
    text: String,
}

/// A base address that cannot work.
#[derive(Debug, PartialEq, Eq, thiserror::Error)]
#[error(
    "\"{given}\" {wrong}. Type the address that visitors use, like http://192.168.1.20:8080 or https://class.example."
)]
pub struct BaseUrlError {
    given: String,
    wrong: &'static str,
}

impl BaseUrl {
    /// Reads an address like `https://class.example` or `http://192.168.1.20:8080/`.
    ///
    /// # Errors
    /// Without http or https, without a host, or with a path, a query or a user name.
    pub fn read(text: &str) -> Result<Self, BaseUrlError> {
        let refuse = |wrong| BaseUrlError {
            given: crate::forms::quoted_part(text),
            wrong,
        };
        let uri: Uri = text
            .trim()
            .parse()
            .map_err(|_| refuse("is not an address"))?;
        let https = match uri.scheme_str() {
            Some("https") => true,
            Some("http") => false,
            _ => return Err(refuse("does not start with http:// or https://")),
        };
        let authority = uri.authority().ok_or_else(|| refuse("names no host"))?;
        if authority.as_str().contains('@') {
            return Err(refuse("holds a user name, which does not belong there"));
        }
        if uri.path() != "/" || uri.query().is_some() {
            return Err(refuse(
                "has a path, and Tablefold needs an address of its own",
            ));
        }
        let scheme = if https { "https" } else { "http" };
        Ok(Self {
            https,
            text: format!("{scheme}://{}", authority.as_str().to_ascii_lowercase()),
        })
    }

    /// The address of a server that listens at `at`, seen from the same machine.
    #[must_use]
    pub fn of_listener(at: SocketAddr) -> Self {
        let text = if at.ip().is_unspecified() {
            format!("http://localhost:{}", at.port())
        } else {
            format!("http://{at}")
        };
        Self { https: false, text }
    }

    /// Whether browsers reach the server encrypted, so that cookies can be `Secure`.
    #[must_use]
    pub const fn is_https(&self) -> bool {
        self.https
    }

    /// The whole address of a path that [`crate::urls`] gave.
    #[must_use]
    pub fn with_path(&self, path: &str) -> String {
        format!("{}{path}", self.text)
    }
}

impl fmt::Display for BaseUrl {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.text)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn refusal(text: &str) -> String {
        BaseUrl::read(text).unwrap_err().to_string()
    }

    #[test]
    fn a_base_address_is_kept_without_its_slash() {
        let base = BaseUrl::read("https://Class.Example/").unwrap();
        assert!(base.is_https());
        assert_eq!(base.with_path("/bench"), "https://class.example/bench");
    }

    #[test]
    fn each_wrong_base_address_says_what_would_do() {
        insta::assert_snapshot!(refusal("class.example"), @r#""class.example" does not start with http:// or https://. Type the address that visitors use, like http://192.168.1.20:8080 or https://class.example."#);
        insta::assert_snapshot!(refusal("ftp://class.example"), @r#""ftp://class.example" does not start with http:// or https://. Type the address that visitors use, like http://192.168.1.20:8080 or https://class.example."#);
        insta::assert_snapshot!(refusal("https://class.example/craft"), @r#""https://class.example/craft" has a path, and Tablefold needs an address of its own. Type the address that visitors use, like http://192.168.1.20:8080 or https://class.example."#);
        insta::assert_snapshot!(refusal("https://me@class.example"), @r#""https://me@class.example" holds a user name, which does not belong there. Type the address that visitors use, like http://192.168.1.20:8080 or https://class.example."#);
        insta::assert_snapshot!(refusal("not an address"), @r#""not an address" is not an address. Type the address that visitors use, like http://192.168.1.20:8080 or https://class.example."#);
    }

    #[test]
    fn a_server_that_listens_everywhere_is_reached_as_localhost() {
        let at: SocketAddr = "0.0.0.0:8080".parse().unwrap();
        assert_eq!(
            BaseUrl::of_listener(at).to_string(),
            "http://localhost:8080"
        );
    }
}
