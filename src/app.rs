//! What handlers share, the route table and the layers around it.

use std::sync::Arc;
use std::time::Duration;

use axum::Router;
use axum::extract::DefaultBodyLimit;
use axum::http::StatusCode;
use axum::middleware::{from_fn, from_fn_with_state};
use tower::ServiceBuilder;
use tower_http::catch_panic::CatchPanicLayer;
use tower_http::compression::CompressionLayer;
use tower_http::timeout::TimeoutLayer;
use tower_http::trace::TraceLayer;

use crate::accounts::{PasswordHasher, Throttle};
use crate::clock::Clock;
use crate::config::Config;
use crate::error::PageError;
use crate::layers::{csrf, error_pages, headers, request_id, span};
use crate::pages;
use crate::pages::published::{AtOnce, Published};
use crate::planner::CutPlanner;
use crate::store::Store;

/// The largest form, in bytes: a megabyte pasted into one field by mistake still comes back with
/// all that was typed, and the length that would do.
pub const BODY_LIMIT: usize = 2 * 1024 * 1024;

const TIME_LIMIT: Duration = Duration::from_secs(30);

/// What every handler may use. Cheap to clone.
#[derive(Clone, Debug)]
pub struct App(Arc<Shared>);

#[derive(Debug)]
struct Shared {
    config: Config,
    store: Store,
    clock: Clock,
    throttle: Throttle,
    passwords: PasswordHasher,
    published: Published,
    planner: CutPlanner,
}

impl App {
    /// An app on an open database, with the machine's clock.
    #[must_use]
    pub fn new(config: Config, store: Store) -> Self {
        Self::with_clock(config, store, Clock::machine())
    }

    /// An app whose time is told by `clock`.
    #[must_use]
    pub fn with_clock(config: Config, store: Store, clock: Clock) -> Self {
        Self::with_planner(config, store, clock, CutPlanner::default())
    }

    /// An app whose cut plans come from `planner`.
    #[must_use]
    pub fn with_planner(config: Config, store: Store, clock: Clock, planner: CutPlanner) -> Self {
        Self(Arc::new(Shared {
            config,
            store,
            clock,
            throttle: Throttle::default(),
            passwords: PasswordHasher::default(),
            published: Published::default(),
            planner,
        }))
    }

    /// What the person who started the server decided.
    #[must_use]
    pub fn config(&self) -> &Config {
        &self.0.config
    }

    /// The database.
    #[must_use]
    pub fn store(&self) -> &Store {
        &self.0.store
    }

    /// The only source of "now".
    #[must_use]
    pub fn clock(&self) -> &Clock {
        &self.0.clock
    }

    /// The pause after wrong passwords.
    #[must_use]
    pub fn throttle(&self) -> &Throttle {
        &self.0.throttle
    }

    /// Hashes passwords.
    #[must_use]
    pub fn passwords(&self) -> &PasswordHasher {
        &self.0.passwords
    }

    /// Cut plans, as they are asked for.
    #[must_use]
    pub fn planner(&self) -> &CutPlanner {
        &self.0.planner
    }

    /// Pages of published classes, as bytes.
    #[must_use]
    pub fn published(&self) -> &Published {
        &self.0.published
    }
}

/// The whole server as one service.
#[must_use]
pub fn service(app: App) -> AtOnce {
    AtOnce::before(app.clone(), router(app))
}

fn router(app: App) -> Router {
    let routes = Router::new()
        .merge(pages::home::router())
        .merge(pages::account::router())
        .merge(pages::bench::router())
        .merge(pages::projects::router())
        .merge(pages::static_files::router())
        .merge(pages::classes::router())
        .merge(pages::phone::router())
        .merge(pages::host::router())
        // Before the layers, or they do not see the page for unknown addresses.
        .fallback(async || PageError::NotFound);
    with_layers(routes, app)
}

/// Outermost first: a request passes them from top to bottom, its response from bottom to top.
fn with_layers(routes: Router<App>, app: App) -> Router {
    let layers = ServiceBuilder::new()
        // First, because everything below names the request by it.
        .layer(from_fn(request_id::give))
        // Failures are logged with their cause by the error pages, once.
        .layer(
            TraceLayer::new_for_http()
                .make_span_with(span::RequestSpan)
                .on_failure(()),
        )
        // Outside the error pages, so that those get the headers too.
        .layer(from_fn_with_state(app.clone(), headers::close_doors))
        .layer(CompressionLayer::new().br(true).gzip(true))
        .layer(from_fn(error_pages::render))
        .layer(CatchPanicLayer::custom(error_pages::of_panic))
        .layer(TimeoutLayer::with_status_code(
            StatusCode::REQUEST_TIMEOUT,
            TIME_LIMIT,
        ))
        .layer(from_fn(csrf::guard))
        .layer(csrf::layer())
        // For every extractor but our form, which counts for itself and reads the rest away.
        .layer(DefaultBodyLimit::max(BODY_LIMIT));
    routes.layer(layers).with_state(app)
}

#[cfg(test)]
mod tests {
    use axum::body::{Body, to_bytes};
    use axum::http::{HeaderMap, Request};
    use axum::routing::{get, post};
    use tower::ServiceExt;

    use super::*;
    use crate::config::BaseUrl;
    use crate::error::PageResult;
    use crate::pages::extract::ProtectedForm;
    use crate::workshop::Currency;

    async fn app() -> App {
        let config = Config {
            base_url: BaseUrl::read("http://class.example").unwrap(),
            demo: false,
            currency: Currency::NONE,
        };
        App::new(config, Store::temporary().await.unwrap())
    }

    async fn answer(router: Router, request: Request<Body>) -> (StatusCode, HeaderMap, String) {
        let response = router.oneshot(request).await.unwrap();
        let (parts, body) = response.into_parts();
        let bytes = to_bytes(body, 1_000_000).await.unwrap();
        let text = String::from_utf8(bytes.to_vec()).unwrap();
        (parts.status, parts.headers, text)
    }

    fn opening(path: &str) -> Request<Body> {
        Request::get(path).body(Body::empty()).unwrap()
    }

    fn sending() -> Request<Body> {
        Request::post("/form")
            .header("sec-fetch-site", "same-origin")
            .header("content-type", "application/x-www-form-urlencoded")
            .body(Body::from("a=b"))
            .unwrap()
    }

    fn panicking() -> Router<App> {
        async fn fail() -> &'static str {
            panic!("the secret cause")
        }
        Router::new().route("/fail", get(fail))
    }

    #[tokio::test]
    async fn a_panic_becomes_a_page_with_the_number_of_the_request() {
        let router = with_layers(panicking(), app().await);
        let (status, headers, page) = answer(router, opening("/fail")).await;
        assert_eq!(status, StatusCode::INTERNAL_SERVER_ERROR);
        assert!(
            page.contains(headers["x-request-id"].to_str().unwrap()),
            "{page}"
        );
        assert!(page.contains("Something broke on our side"), "{page}");
        assert!(!page.contains("secret"), "{page}");
    }

    #[tokio::test]
    async fn an_answer_that_takes_too_long_becomes_a_page() {
        let late = Router::new().route("/late", get(async || StatusCode::REQUEST_TIMEOUT));
        let router = with_layers(late, app().await);
        let (status, _, page) = answer(router, opening("/late")).await;
        assert_eq!(status, StatusCode::SERVICE_UNAVAILABLE);
        assert!(page.contains("gave up after 30 seconds"), "{page}");
    }

    async fn read(ProtectedForm(form): ProtectedForm<Vec<(String, String)>>) -> PageResult<String> {
        Ok(format!("{form:?}"))
    }

    #[tokio::test]
    async fn forms_are_read_only_behind_the_layers() {
        let routes = || Router::new().route("/form", post(read));
        let inside = with_layers(routes(), app().await);
        let (status, _, text) = answer(inside, sending()).await;
        assert_eq!((status, text.as_str()), (StatusCode::OK, r#"[("a", "b")]"#));

        let outside = routes().with_state(app().await);
        let (status, _, _) = answer(outside, sending()).await;
        assert_eq!(status, StatusCode::INTERNAL_SERVER_ERROR);
    }
}
