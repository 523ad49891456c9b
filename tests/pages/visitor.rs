//! A server in memory and the people who visit it.

use std::sync::LazyLock;
use std::time::Duration;

use axum::body::{Body, to_bytes};
use axum::http::{HeaderMap, Method, Request, StatusCode, header};
use hyper::service::Service as _;
use jiff::{SignedDuration, Timestamp};
use tablefold::accounts;
use tablefold::app::{self, App};
use tablefold::clock::Clock;
use tablefold::config::{BaseUrl, Config};
use tablefold::demo;
use tablefold::pages::published::AtOnce;
use tablefold::planner::CutPlanner;
use tablefold::store::{self, Store};
use tablefold::workshop::{ClassFacts, Currency};

use crate::builders::{insert_bench, insert_class_on};

/// The password of [`Server::with_instructor`].
pub(crate) const PASSWORD: &str = "four paper seed tins";
/// The name of [`Server::with_instructor`].
pub(crate) const NAME: &str = "Ines";

/// One planner for all tests, so that each question is answered once; and a patient one, so that
/// no page depends on how busy the machine is.
static PLANNER: LazyLock<CutPlanner> =
    LazyLock::new(|| CutPlanner::patient(Duration::from_secs(300)));

/// An app on a temporary database whose clock stands still.
pub(crate) struct Server {
    pub(crate) app: App,
    pub(crate) clock: Clock,
    router: AtOnce,
}

impl Server {
    /// A server that nobody has set up.
    pub(crate) async fn empty() -> Self {
        Self::at("http://class.example:8080").await
    }

    /// A server that nobody has set up, reached at `base`.
    pub(crate) async fn at(base: &str) -> Self {
        Self::started(base, Currency::NONE, PLANNER.clone()).await
    }

    /// A server that nobody has set up, whose prices are in `currency`.
    pub(crate) async fn in_currency(currency: Currency) -> Self {
        Self::started("http://class.example:8080", currency, PLANNER.clone()).await
    }

    /// A server whose pages do not wait for cut plans at all.
    pub(crate) async fn impatient() -> Self {
        let planner = CutPlanner::patient(Duration::ZERO);
        Self::started("http://class.example:8080", Currency::NONE, planner).await
    }

    async fn started(base: &str, currency: Currency, planner: CutPlanner) -> Self {
        let config = Config {
            base_url: BaseUrl::read(base).unwrap(),
            demo: false,
            currency,
        };
        let start: Timestamp = "2026-11-28T10:00:00Z".parse().unwrap();
        let clock = Clock::held(start);
        let store = Store::temporary().await.unwrap();
        let app = App::with_planner(config, store, clock.clone(), planner);
        let router = app::service(app.clone());
        Self { app, clock, router }
    }

    /// Adds the instructor [`NAME`], whose password is [`PASSWORD`].
    pub(crate) async fn with_instructor(self) -> Self {
        let hash = self.app.passwords().hash(PASSWORD).await.unwrap();
        let mut change = self.app.store().change().await.unwrap();
        store::instructor::insert_instructor(&mut *change, NAME, &hash, self.clock.now())
            .await
            .unwrap();
        change.commit().await.unwrap();
        self
    }

    /// Stores the seed-swap class of so many attendees, after `change`; gives its row number.
    pub(crate) async fn with_class(
        &self,
        attendees: usize,
        change: impl FnOnce(&mut ClassFacts),
    ) -> i64 {
        let mut facts = demo::class(attendees);
        change(&mut facts);
        let mut change = self.app.store().change().await.unwrap();
        let bench = insert_bench(&mut change, &facts).await;
        let (_, id) = insert_class_on(&mut change, &bench, &facts).await;
        change.commit().await.unwrap();
        id
    }

    pub(crate) fn wait(&self, by: SignedDuration) {
        self.clock.advance(by);
    }

    /// Someone with an empty browser.
    pub(crate) fn anonymous(&self) -> Visitor<'_> {
        Visitor {
            server: self,
            cookie: None,
        }
    }

    /// The instructor, signed in; needs [`Server::with_instructor`].
    pub(crate) async fn signed_in(&self) -> Visitor<'_> {
        let mut change = self.app.store().change().await.unwrap();
        let token = accounts::start(&mut change, 1, self.clock.now())
            .await
            .unwrap();
        change.commit().await.unwrap();
        let name = if self.app.config().base_url.is_https() {
            "__Host-tablefold"
        } else {
            "tablefold"
        };
        Visitor {
            server: self,
            cookie: Some(format!("{name}={}", token.text())),
        }
    }

    /// Sends a request as it is.
    pub(crate) async fn send(&self, request: Request<Body>) -> Answer {
        let response = self.router.call(request).await.unwrap().map(Body::new);
        let (parts, body) = response.into_parts();
        let bytes = to_bytes(body, 16 * 1024 * 1024).await.unwrap();
        Answer {
            status: parts.status,
            headers: parts.headers,
            text: String::from_utf8_lossy(&bytes).into_owned(),
            bytes: bytes.into(),
        }
    }
}

/// A browser with its cookie.
pub(crate) struct Visitor<'a> {
    server: &'a Server,
    pub(crate) cookie: Option<String>,
}

impl Visitor<'_> {
    /// Opens an address.
    pub(crate) async fn get(&mut self, url: &str) -> Answer {
        self.request(Method::GET, url, &[], Body::empty()).await
    }

    /// Sends a form as a browser on plain http does: with Origin, without Sec-Fetch headers.
    pub(crate) async fn post(&mut self, url: &str, fields: &[(&str, &str)]) -> Answer {
        let origin = self.server.app.config().base_url.to_string();
        let headers = [
            ("origin", origin.as_str()),
            ("content-type", "application/x-www-form-urlencoded"),
        ];
        let form = serde_html_form::to_string(fields).unwrap();
        self.request(Method::POST, url, &headers, Body::from(form))
            .await
    }

    /// Sends any request with the visitor's cookie, and keeps the cookie that comes back.
    pub(crate) async fn request(
        &mut self,
        method: Method,
        url: &str,
        headers: &[(&str, &str)],
        body: Body,
    ) -> Answer {
        let base = self.server.app.config().base_url.to_string();
        let host = base.split_once("://").unwrap().1;
        let mut request = Request::builder()
            .method(method)
            .uri(url)
            .header("host", host);
        if let Some(cookie) = &self.cookie {
            request = request.header(header::COOKIE, cookie);
        }
        for (name, value) in headers {
            request = request.header(*name, *value);
        }
        let answer = self.server.send(request.body(body).unwrap()).await;
        if let Some(set) = answer.headers.get(header::SET_COOKIE) {
            let pair = set.to_str().unwrap().split(';').next().unwrap();
            self.cookie = (!pair.ends_with('=')).then(|| pair.to_owned());
        }
        answer
    }
}

/// What came back.
#[derive(Debug)]
pub(crate) struct Answer {
    pub(crate) status: StatusCode,
    pub(crate) headers: HeaderMap,
    pub(crate) text: String,
    /// The same as it came, for files.
    pub(crate) bytes: Vec<u8>,
}

impl Answer {
    /// A header, or nothing.
    pub(crate) fn header(&self, name: &str) -> &str {
        self.headers
            .get(name)
            .map_or("", |value| value.to_str().unwrap())
    }

    /// Where a redirect goes.
    pub(crate) fn location(&self) -> &str {
        self.header("location")
    }

    /// Checks the status; a failure prints the page.
    #[track_caller]
    pub(crate) fn expect(self, status: u16) -> Self {
        assert_eq!(self.status.as_u16(), status, "{}", self.text);
        self
    }

    /// Checks that the page holds a piece of text or markup; a failure prints the page.
    #[track_caller]
    pub(crate) fn shows(self, piece: &str) -> Self {
        assert!(self.text.contains(piece), "no {piece:?} in:\n{}", self.text);
        self
    }

    /// Checks that the page does not hold a piece.
    #[track_caller]
    pub(crate) fn hides(self, piece: &str) -> Self {
        assert!(!self.text.contains(piece), "{piece:?} in:\n{}", self.text);
        self
    }

    /// The text between the first `from` and the next `to`.
    #[track_caller]
    pub(crate) fn between(&self, from: &str, to: &str) -> &str {
        let found = self
            .text
            .split_once(from)
            .and_then(|(_, rest)| rest.split_once(to));
        found
            .unwrap_or_else(|| panic!("no {from:?}…{to:?} in:\n{}", self.text))
            .0
    }
}
