//! In front of the whole router: a page that is in memory goes out with its headers as they were
//! written, and everything else goes in. The routes and layers behind cost as much as nothing for
//! a form, and twice the rest for a hall of phones.

use std::convert::Infallible;
use std::future::Future;
use std::pin::Pin;
use std::task::{Context, Poll};

use axum::Router;
use axum::body::Body;
use axum::http::{Method, Request};
use axum::response::Response;
use tower::Service;

use super::Asked;
use crate::app::App;
use crate::store::links::LinkRole;
use crate::urls;

/// The server: links that are ready, then the routes.
#[derive(Clone, Debug)]
pub struct AtOnce {
    app: App,
    routes: Router,
}

impl AtOnce {
    /// In front of `routes`.
    pub(crate) const fn before(app: App, routes: Router) -> Self {
        Self { app, routes }
    }

    fn ready(&self, request: &Request<Body>) -> Option<Response> {
        let (path, query) = (request.uri().path(), request.uri().query());
        let (token, role) = link(path).filter(|_| request.method() == Method::GET)?;
        let asked = Asked {
            token,
            role,
            query: query.unwrap_or_default(),
            headers: request.headers(),
        };
        let now = self.app.clock().now();
        self.app.published().ready(&asked, now)
    }
}

fn link(path: &str) -> Option<(&str, LinkRole)> {
    let of = |prefix, role| path.strip_prefix(prefix).map(|token| (token, role));
    of(urls::ATTENDEE_LINKS, LinkRole::Attendee).or_else(|| of(urls::HOST_LINKS, LinkRole::Host))
}

impl Service<Request<Body>> for AtOnce {
    type Response = Response;
    type Error = Infallible;
    type Future = Pin<Box<dyn Future<Output = Result<Response, Infallible>> + Send>>;

    fn poll_ready(&mut self, context: &mut Context<'_>) -> Poll<Result<(), Infallible>> {
        Service::<Request<Body>>::poll_ready(&mut self.routes, context)
    }

    fn call(&mut self, request: Request<Body>) -> Self::Future {
        match self.ready(&request) {
            Some(response) => Box::pin(std::future::ready(Ok(response))),
            None => Box::pin(self.routes.call(request)),
        }
    }
}
