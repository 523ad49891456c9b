//! A short number for each request, in the log and on the page of a failure.
//!
//! Ours always: an id that a visitor sends could write into the log.

use axum::extract::Request;
use axum::http::HeaderValue;
use axum::middleware::Next;
use axum::response::Response;
use data_encoding::BASE32_NOPAD;

/// The id of the request at hand, 8 characters that can be read out on the phone.
#[derive(Clone, Debug)]
pub(crate) struct RequestId(String);

impl RequestId {
    pub(crate) fn text(&self) -> &str {
        &self.0
    }
}

/// Gives the request an id and writes it on the response.
pub(crate) async fn give(mut request: Request, next: Next) -> Response {
    let mut bytes = [0; 5];
    // Without random bytes ids repeat, which is no reason to refuse a page.
    let _ = getrandom::fill(&mut bytes);
    let id = RequestId(BASE32_NOPAD.encode(&bytes));
    request.extensions_mut().insert(id.clone());
    let mut response = next.run(request).await;
    if let Ok(value) = HeaderValue::from_str(id.text()) {
        response.headers_mut().insert("x-request-id", value);
    }
    response
}

/// The id that [`give`] put into the request.
pub(crate) fn of(request: &axum::http::Extensions) -> String {
    request
        .get::<RequestId>()
        .map_or_else(String::new, |id| id.text().to_owned())
}
