//! In front of the whole router: a page that is in memory goes out with its headers as they were
//! written, and everything else goes in. The routes and layers behind cost as much as nothing for
//! a form, and twice the rest for a hall of phones.

use std::convert::Infallible;
use std::future::Future;
use std::pin::Pin;
use std::sync::Arc;
use std::task::{Context, Poll};

use axum::body::{Body, Bytes, HttpBody};
use axum::http::{HeaderMap, Method, Request, Response};
use axum::{BoxError, Router};
use http_body_util::{Either, Full};
use hyper::service::Service;
use tower::ServiceExt;

use crate::app::App;
use crate::pages::whole::Whole;

/// The server: links that are ready, then the routes.
#[derive(Clone, Debug)]
pub struct AtOnce {
    app: App,
    routes: Router,
}

/// What goes out: bytes that are in memory, or whatever a route makes.
type Sent = Response<Either<Full<Bytes>, Body>>;

/// An answer that is there, or on its way.
pub enum Answer {
    /// From memory; taken by the first who asks.
    Ready(Option<Sent>),
    /// From a route.
    Coming(Pin<Box<dyn Future<Output = Result<Response<Body>, Infallible>> + Send>>),
}

impl AtOnce {
    /// In front of `routes`.
    pub(crate) const fn before(app: App, routes: Router) -> Self {
        Self { app, routes }
    }

    /// The whole answer to a GET that asks for a page in memory, at an address without a query.
    pub(crate) fn whole(&self, path: &str, headers: &HeaderMap) -> Option<Arc<Whole>> {
        let now = self.app.clock().now();
        let (_, place) = self.app.published().find((path, None), headers, now)?;
        place.get()?.codings.whole(headers, now)
    }

    fn ready<B>(&self, request: &Request<B>) -> Option<Response<Bytes>> {
        let uri = Some(request.uri()).filter(|_| request.method() == Method::GET)?;
        let (at, now) = ((uri.path(), uri.query()), self.app.clock().now());
        let (asked, place) = self.app.published().find(at, request.headers(), now)?;
        Some(asked.answer(&place.get()?.codings))
    }
}

impl<B> Service<Request<B>> for AtOnce
where
    B: HttpBody<Data = Bytes> + Send + 'static,
    B::Error: Into<BoxError>,
{
    type Response = Sent;
    type Error = Infallible;
    type Future = Answer;

    fn call(&self, request: Request<B>) -> Answer {
        match self.ready(&request) {
            Some(page) => Answer::Ready(Some(page.map(|bytes| Either::Left(Full::new(bytes))))),
            None => Answer::Coming(Box::pin(self.routes.clone().oneshot(request))),
        }
    }
}

impl Future for Answer {
    type Output = Result<Sent, Infallible>;

    fn poll(mut self: Pin<&mut Self>, context: &mut Context<'_>) -> Poll<Self::Output> {
        match &mut *self {
            Self::Ready(page) => page
                .take()
                .map_or(Poll::Pending, |page| Poll::Ready(Ok(page))),
            Self::Coming(page) => page
                .as_mut()
                .poll(context)
                .map_ok(|it| it.map(Either::Right)),
        }
    }
}
