//! The one type through which forms change something.

use std::future::poll_fn;
use std::pin::Pin;

use axum::body::{Body, HttpBody};
use axum::extract::{FromRequest, Request};
use axum::http::{HeaderMap, header};
use serde::de::DeserializeOwned;

use crate::app::BODY_LIMIT;
use crate::error::PageError;
use crate::layers::csrf::FromOwnPage;

/// How much of a form that is too large is read away, so that the browser gets to read the
/// answer instead of a broken connection.
const READ_AWAY: usize = 8 * 1024 * 1024;

/// A form that one of our own pages sent. Fields are `String`s: exactly what was typed.
#[derive(Clone, Debug)]
pub struct ProtectedForm<T>(pub T);

impl<S, T> FromRequest<S> for ProtectedForm<T>
where
    S: Send + Sync,
    T: DeserializeOwned,
{
    type Rejection = PageError;

    async fn from_request(request: Request, _: &S) -> Result<Self, PageError> {
        if request.extensions().get::<FromOwnPage>().is_none() {
            return Err(PageError::internal("a form outside the layers of the app"));
        }
        if !is_form(request.headers()) {
            return Err(bad_form("What was sent is not a form."));
        }
        let body = read(request.into_body()).await?;
        if !is_utf8_encoded(&body) {
            return Err(bad_form("What was sent is not text in UTF-8."));
        }
        serde_html_form::from_bytes(&body)
            .map(Self)
            .map_err(|_| bad_form("A field of the form is missing or does not belong there."))
    }
}

fn bad_form(what: &str) -> PageError {
    PageError::bad_request(
        what,
        "Nothing was saved. Open the page again and send the form from there.",
    )
}

fn is_form(headers: &HeaderMap) -> bool {
    let kind = headers
        .get(header::CONTENT_TYPE)
        .and_then(|kind| kind.to_str().ok())
        .and_then(|kind| kind.split(';').next());
    kind.is_some_and(|kind| {
        kind.trim()
            .eq_ignore_ascii_case("application/x-www-form-urlencoded")
    })
}

async fn read(mut body: Body) -> Result<Vec<u8>, PageError> {
    let (mut kept, mut seen) = (Vec::new(), 0_usize);
    while let Some(frame) = poll_fn(|cx| Pin::new(&mut body).poll_frame(cx)).await {
        let frame = frame.map_err(|_| bad_form("The form arrived in part only."))?;
        let Some(data) = frame.data_ref() else {
            continue;
        };
        seen = seen.saturating_add(data.len());
        if seen <= BODY_LIMIT {
            kept.extend_from_slice(data);
        } else {
            kept = Vec::new();
        }
        if seen > READ_AWAY {
            break;
        }
    }
    if seen > BODY_LIMIT {
        return Err(PageError::TooLarge);
    }
    Ok(kept)
}

/// Whether the text is UTF-8 once its percent signs are resolved; the parser would replace
/// what is not, and so lose something typed.
fn is_utf8_encoded(body: &[u8]) -> bool {
    let digit = |at: usize| body.get(at).and_then(|b| char::from(*b).to_digit(16));
    let (mut bytes, mut at) = (Vec::with_capacity(body.len()), 0);
    while let Some(&byte) = body.get(at) {
        match (byte, digit(at + 1), digit(at + 2)) {
            (b'%', Some(high), Some(low)) => {
                bytes.push((high * 16 + low) as u8);
                at += 3;
            }
            _ => {
                bytes.push(byte);
                at += 1;
            }
        }
    }
    std::str::from_utf8(&bytes).is_ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_utf_8_is_taken() {
        for good in ["", "a=b", "a=%C3%A9&b=100%", "a=%F0%9F%8C%B1", "a=%zz"] {
            assert!(is_utf8_encoded(good.as_bytes()), "{good}");
        }
        for bad in ["a=%E9", "a=%ff", "a=%C3"] {
            assert!(!is_utf8_encoded(bad.as_bytes()), "{bad}");
        }
        assert!(!is_utf8_encoded(b"a=\xe9"));
    }
}
