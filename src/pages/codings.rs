//! Bytes that are sent often: plain and compressed once, each with an ETag of its own and all its
//! headers.

use std::io::Write;
use std::sync::{Arc, Mutex, PoisonError};

use axum::body::Bytes;
use axum::http::header;
use axum::http::{HeaderMap, HeaderValue, Response, StatusCode};
use data_encoding::HEXLOWER;
use jiff::Timestamp;
use sha2::{Digest, Sha256};

use super::whole::Whole;
use crate::error::Cause;

/// Of 11: the last two cost ten times as long for a few hundred bytes.
const BROTLI_QUALITY: i32 = 9;
const BROTLI_WINDOW: i32 = 18;

/// A document in all codings.
#[derive(Debug)]
pub(super) struct Codings {
    plain: Coded,
    gzip: Coded,
    brotli: Coded,
}

/// A document in one coding, and the headers that go with it.
#[derive(Debug)]
struct Coded {
    etag: HeaderValue,
    headers: HeaderMap,
    bytes: Bytes,
    whole: Mutex<Option<(i64, Arc<Whole>)>>,
}

impl Codings {
    /// Compresses a text; `headers` go out with it.
    pub(super) fn new(text: String, headers: &HeaderMap) -> Result<Self, Cause> {
        let hash = HEXLOWER.encode(&Sha256::digest(&text)[..16]);
        let coded = |coding, bytes| Coded::new((&hash, coding), bytes, headers.clone());
        Ok(Self {
            gzip: coded("gzip", gzip(text.as_bytes())?)?,
            brotli: coded("br", brotli(text.as_bytes())?)?,
            plain: coded("", text.into_bytes())?,
        })
    }

    /// How much memory it takes at most, in bytes: each coding also as a [`Whole`].
    pub(super) fn size(&self) -> usize {
        let all = [&self.plain, &self.gzip, &self.brotli];
        all.iter().map(|coded| 2 * coded.bytes.len()).sum()
    }

    /// The document and its head in one, dated `now`; for whoever has no copy yet.
    pub(super) fn whole(&self, asked: &HeaderMap, now: Timestamp) -> Option<Arc<Whole>> {
        self.best(asked).whole(now)
    }

    /// The document, or word that the browser has it already.
    pub(super) fn answer(&self, asked: &HeaderMap) -> Response<Bytes> {
        let coded = self.best(asked);
        let has_it = has_it(asked, &coded.etag);
        let body = if has_it {
            Bytes::new()
        } else {
            coded.bytes.clone()
        };
        let mut response = Response::new(body);
        *response.headers_mut() = coded.headers.clone();
        if has_it {
            *response.status_mut() = StatusCode::NOT_MODIFIED;
            response.headers_mut().remove(header::CONTENT_ENCODING);
            response.headers_mut().remove(header::CONTENT_TYPE);
        }
        response
    }

    fn best(&self, asked: &HeaderMap) -> &Coded {
        if accepts(asked, "br") {
            &self.brotli
        } else if accepts(asked, "gzip") {
            &self.gzip
        } else {
            &self.plain
        }
    }
}

impl Coded {
    /// Written anew each second that somebody asks for it.
    fn whole(&self, now: Timestamp) -> Option<Arc<Whole>> {
        let mut newest = self.whole.lock().unwrap_or_else(PoisonError::into_inner);
        match &*newest {
            Some((second, whole)) if *second == now.as_second() => Some(Arc::clone(whole)),
            _ => {
                let whole = Arc::new(Whole::new(&self.headers, &self.bytes, now).ok()?);
                *newest = Some((now.as_second(), Arc::clone(&whole)));
                Some(whole)
            }
        }
    }

    fn new(
        (hash, coding): (&str, &'static str),
        bytes: Vec<u8>,
        mut headers: HeaderMap,
    ) -> Result<Self, Cause> {
        // Strong, so one of its own for each coding (RFC 9110, 8.8.1).
        let dash = if coding.is_empty() { "" } else { "-" };
        let etag = HeaderValue::from_str(&format!("\"{hash}{dash}{coding}\""))?;
        headers.insert(header::ETAG, etag.clone());
        headers.insert(header::VARY, vary(&headers)?);
        if !coding.is_empty() {
            let coding = HeaderValue::from_static(coding);
            headers.insert(header::CONTENT_ENCODING, coding);
        }
        Ok(Self {
            etag,
            headers,
            bytes: bytes.into(),
            whole: Mutex::default(),
        })
    }
}

/// In one line: a second one of the same name costs each answer an allocation.
fn vary(headers: &HeaderMap) -> Result<HeaderValue, Cause> {
    let coding = "accept-encoding";
    Ok(match headers.get(header::VARY) {
        Some(more) => HeaderValue::from_str(&format!("{}, {coding}", more.to_str()?))?,
        None => HeaderValue::from_static(coding),
    })
}

fn gzip(text: &[u8]) -> Result<Vec<u8>, Cause> {
    let mut writer = flate2::write::GzEncoder::new(Vec::new(), flate2::Compression::best());
    writer.write_all(text)?;
    Ok(writer.finish()?)
}

fn brotli(text: &[u8]) -> Result<Vec<u8>, Cause> {
    let params = brotli::enc::BrotliEncoderParams {
        quality: BROTLI_QUALITY,
        lgwin: BROTLI_WINDOW,
        ..Default::default()
    };
    let mut bytes = Vec::new();
    brotli::BrotliCompress(&mut &*text, &mut bytes, &params)?;
    Ok(bytes)
}

/// Whether the browser takes a coding: named, and not with a weight of zero (RFC 9110, 12.5.3).
fn accepts(headers: &HeaderMap, coding: &str) -> bool {
    headers
        .get_all(header::ACCEPT_ENCODING)
        .iter()
        .filter_map(|value| value.to_str().ok())
        .flat_map(|list| list.split(','))
        .any(|entry| {
            let mut parts = entry.split(';').map(str::trim);
            let named = parts
                .next()
                .is_some_and(|name| name.eq_ignore_ascii_case(coding));
            let (q, weight) = parts
                .find_map(|part| part.split_once('='))
                .unwrap_or_default();
            let is_none = q.eq_ignore_ascii_case("q") && weight.parse() == Ok(0.0_f32);
            named && !is_none
        })
}

/// Whether the browser holds this page already (RFC 9110, 13.1.2: weak comparison).
fn has_it(headers: &HeaderMap, etag: &HeaderValue) -> bool {
    headers
        .get_all(header::IF_NONE_MATCH)
        .iter()
        .filter_map(|value| value.to_str().ok())
        .flat_map(|list| list.split(','))
        .map(|tag| tag.trim().trim_start_matches("W/"))
        .any(|tag| tag == "*" || tag.as_bytes() == etag.as_bytes())
}

#[cfg(test)]
mod tests {
    use std::io::Read;

    use axum::http::header::HeaderName;

    use super::*;

    fn asking(name: HeaderName, value: &'static str) -> HeaderMap {
        HeaderMap::from_iter([(name, HeaderValue::from_static(value))])
    }

    #[test]
    fn a_browser_that_has_the_page_gets_no_second_copy() {
        let etag = HeaderValue::from_static("\"abc\"");
        let with = |value| asking(header::IF_NONE_MATCH, value);
        for value in ["\"abc\"", "W/\"abc\"", "\"x\", \"abc\"", "*"] {
            assert!(has_it(&with(value), &etag), "{value}");
        }
        for value in ["\"ab\"", "abc", ""] {
            assert!(!has_it(&with(value), &etag), "{value}");
        }
    }

    #[cfg(target_os = "linux")]
    #[test]
    fn a_whole_answer_is_kept_for_a_second() {
        let kept = Codings::new("Seed tin".to_owned(), &HeaderMap::new()).unwrap();
        let at = |second| {
            let now = Timestamp::from_second(second).unwrap();
            kept.whole(&HeaderMap::new(), now).unwrap()
        };
        let first = at(1);
        assert!(Arc::ptr_eq(&first, &at(1)));
        assert!(!Arc::ptr_eq(&first, &at(2)));
    }

    #[test]
    fn each_coding_is_the_same_page_under_an_etag_of_its_own() {
        let html = "<p>Seed tin</p>".repeat(500);
        let headers = asking(header::VARY, "cookie");
        let kept = Codings::new(html.clone(), &headers).unwrap();
        let mut etags = Vec::new();
        for (accepted, coding) in [
            ("gzip, br", "br"),
            ("gzip;Q=0.000, br;Q=1", "br"),
            ("deflate, GZIP;q=0.5, br;q=0", "gzip"),
            ("identity", ""),
            ("br;q=0.0", ""),
        ] {
            let asked = asking(header::ACCEPT_ENCODING, accepted);
            let answer = kept.answer(&asked);
            let headers = answer.headers().clone();
            assert_eq!(headers[header::VARY], "cookie, accept-encoding");
            let named = headers.get(header::CONTENT_ENCODING);
            assert_eq!(named.map_or("", |name| name.to_str().unwrap()), coding);
            let sent = answer.into_body();
            let mut read = Vec::new();
            match coding {
                "br" => brotli::BrotliDecompress(&mut &*sent, &mut read).unwrap(),
                "gzip" => {
                    let mut reader = flate2::read::GzDecoder::new(&*sent);
                    reader.read_to_end(&mut read).unwrap();
                }
                _ => read.extend(&sent),
            }
            assert_eq!(String::from_utf8(read).unwrap(), html, "{accepted}");
            let mut asked = asked;
            asked.insert(header::IF_NONE_MATCH, headers[header::ETAG].clone());
            let again = kept.answer(&asked);
            assert_eq!(again.status(), StatusCode::NOT_MODIFIED);
            etags.push(headers[header::ETAG].clone());
        }
        etags.dedup();
        assert_eq!(etags.len(), 3);
    }
}
