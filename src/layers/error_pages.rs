//! Turns every failure into a page: what handlers return, what libraries answer with a bare
//! status, and panics. Logs a failure of ours once, under the request id.

use std::any::Any;
use std::error::Error;

use axum::extract::Request;
use axum::http::StatusCode;
use axum::middleware::Next;
use axum::response::{Html, IntoResponse, Response};

use super::{is_link_page, request_id};
use crate::error::{self, ErrorPage, PageError};
use crate::pages::Page;

/// Renders the error that a response carries.
pub(crate) async fn render(request: Request, next: Next) -> Response {
    let id = request_id::of(request.extensions());
    let on_link_page = is_link_page(request.uri().path());
    let mut response = next.run(request).await;
    let Some(error) = error::carried(&mut response) else {
        return response;
    };
    if let PageError::Internal(cause) = &*error {
        tracing::error!(id, cause = causes(&**cause), "a request failed");
    }
    if matches!(*error, PageError::SignIn { .. }) {
        return response;
    }
    let page = Page::with_status(error.status(), ErrorPage::new(&error, &id, on_link_page));
    match page.render() {
        Ok((status, html)) => {
            let (mut parts, _) = response.into_parts();
            parts.status = status;
            // Length and kind of the body that is replaced.
            parts.headers.remove(axum::http::header::CONTENT_LENGTH);
            parts.headers.remove(axum::http::header::CONTENT_TYPE);
            (parts.status, parts.headers, Html(html)).into_response()
        }
        Err(cause) => {
            tracing::error!(id, cause = causes(&cause), "the error page failed");
            StatusCode::INTERNAL_SERVER_ERROR.into_response()
        }
    }
}

/// The page of a request whose handler panicked.
pub(crate) fn of_panic(panic: Box<dyn Any + Send>) -> Response {
    let text = panic
        .downcast_ref::<String>()
        .map(String::as_str)
        .or_else(|| panic.downcast_ref::<&str>().copied())
        .unwrap_or("no message");
    PageError::internal(format!("panic: {text}")).into_response()
}

/// An error and all that caused it, in one line.
fn causes(error: &dyn Error) -> String {
    let mut text = error.to_string();
    let mut next = error.source();
    while let Some(cause) = next {
        text.push_str(": ");
        text.push_str(&cause.to_string());
        next = cause.source();
    }
    text
}
