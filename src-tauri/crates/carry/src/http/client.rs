//! Questions over one kept connection.

use std::error::Error as _;
use std::time::Duration;

use reqwest::header::{ACCEPT, CONTENT_TYPE, HeaderMap, HeaderName, HeaderValue};
use reqwest::redirect::Policy;
use tokio::runtime::Handle;

use super::pins::{self, Pins, Shown};
use crate::{Cancel, LinkError};

/// How long a hub may take to accept a connection.
const TO_CONNECT: Duration = Duration::from_secs(20);
/// How long nothing at all may come: a link that slow is as good as broken.
const SILENCE: Duration = Duration::from_secs(45);
/// How long one question may take in all, on the slowest link worth using: 1 MiB at 50 kbit/s takes three minutes.
const ONE_QUESTION: Duration = Duration::from_secs(8 * 60);
/// How long a connection is kept when nobody asks anything.
const KEPT: Duration = Duration::from_secs(30);

/// Where a hub is reached.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Address(reqwest::Url);

impl Address {
    /// Reads an address: `host`, `host:port`, or either behind `https://`.
    #[must_use]
    pub fn read(text: &str) -> Option<Address> {
        let text = text.trim();
        let text = if text.contains("://") { text.to_owned() } else { format!("https://{text}") };
        let url = reqwest::Url::parse(&text).ok()?;
        let plain = url.scheme() == "https"
            && url.has_host()
            && url.username().is_empty()
            && url.password().is_none()
            && url.query().is_none()
            && url.fragment().is_none();
        plain.then_some(Address(url))
    }

    fn at(&self, path: &str) -> reqwest::Url {
        let mut url = self.0.clone();
        let under = url.path().trim_end_matches('/').to_owned();
        url.set_path(&format!("{under}{path}"));
        url
    }
}

/// What is done at a path.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Method {
    /// Fetch.
    Get,
    /// Look without fetching.
    Head,
    /// Ask.
    Post,
    /// Bring.
    Put,
}

/// A question.
#[derive(Debug)]
pub struct Request<'a> {
    /// What is done.
    pub method: Method,
    /// Where, from `/` on.
    pub path: &'a str,
    /// What the body is; empty for none.
    pub media: &'static str,
    /// The body.
    pub body: Vec<u8>,
    /// Further headers.
    pub headers: &'a [(&'static str, &'a str)],
    /// The most bytes of an answer.
    pub most: usize,
}

/// What came back.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Answer {
    /// The status.
    pub status: u16,
    /// The headers, in the order in which they came.
    headers: HeaderMap,
    /// The body.
    pub body: Vec<u8>,
}

impl Answer {
    /// Returns a header.
    #[must_use]
    pub fn header(&self, name: &str) -> Option<&str> {
        self.headers.get(name)?.to_str().ok()
    }

    /// Returns the body of an answer that went well, or what the hub refused with.
    ///
    /// # Errors
    ///
    /// [`LinkError::Refused`].
    pub fn good(self) -> Result<Vec<u8>, LinkError> {
        if (200..300).contains(&self.status) { Ok(self.body) } else { Err(self.refusal()) }
    }

    pub(super) fn refusal(&self) -> LinkError {
        LinkError::Refused {
            status: self.status,
            word: word(&self.body),
            wait: self.header("retry-after").and_then(|seconds| seconds.trim().parse().ok()),
        }
    }
}

/// The word that a hub gives with a refusal: a `code` in JSON. Nothing else of a stranger's text is passed on.
fn word(body: &[u8]) -> String {
    let text = String::from_utf8_lossy(body.get(..body.len().min(1000)).unwrap_or_default());
    let after = text.split_once("\"code\"").and_then(|(_, rest)| rest.split('"').nth(1));
    let plain = |word: &&str| {
        word.len() <= 60 && word.bytes().all(|byte| byte.is_ascii_lowercase() || b"._".contains(&byte))
    };
    after.filter(plain).unwrap_or_default().to_owned()
}

/// A hub at an address. Its calls block, on a thread that is no worker of the runtime.
#[derive(Debug)]
pub struct Client {
    http: reqwest::Client,
    address: Address,
    shown: Shown,
    runtime: Handle,
    cancel: Cancel,
}

impl Client {
    /// Prepares a client; nothing is connected yet.
    ///
    /// # Errors
    ///
    /// [`LinkError::Unreachable`] where this machine has no way to speak TLS at all.
    pub fn new(address: Address, pins: Pins, runtime: Handle, cancel: Cancel) -> Result<Client, LinkError> {
        let shown = Shown::default();
        let tls = pins::config(pins, shown.clone()).map_err(|error| no_client(&error))?;
        let http = reqwest::Client::builder()
            .use_preconfigured_tls(tls)
            .https_only(true)
            .http1_only()
            .no_proxy()
            .redirect(Policy::none())
            .referer(false)
            .tcp_nodelay(true)
            .connect_timeout(TO_CONNECT)
            .read_timeout(SILENCE)
            .timeout(ONE_QUESTION)
            .pool_idle_timeout(KEPT)
            .pool_max_idle_per_host(1)
            .build()
            .map_err(|error| no_client(&error))?;
        Ok(Client { http, address, shown, runtime, cancel })
    }

    /// Returns what the server has shown.
    #[must_use]
    pub fn shown(&self) -> &Shown {
        &self.shown
    }

    /// Asks, and returns whatever the hub answers.
    ///
    /// # Errors
    ///
    /// [`LinkError`].
    pub fn ask(&self, request: Request<'_>) -> Result<Answer, LinkError> {
        let most = request.most;
        let sending = self.prepared(request)?;
        self.runtime.block_on(async {
            tokio::select! {
                answer = self.answered(sending, most) => answer,
                () = self.cancel.stopped() => Err(LinkError::Stopped),
            }
        })
    }

    fn prepared(&self, request: Request<'_>) -> Result<reqwest::Request, LinkError> {
        let method = match request.method {
            Method::Get => reqwest::Method::GET,
            Method::Head => reqwest::Method::HEAD,
            Method::Post => reqwest::Method::POST,
            Method::Put => reqwest::Method::PUT,
        };
        // Any type will do, and saying so would cost bytes in every question; an empty value is the shortest that keeps
        // the client from adding its own.
        let mut sending = self.http.request(method, self.address.at(request.path)).header(ACCEPT, "");
        if !request.media.is_empty() {
            sending = sending.header(CONTENT_TYPE, request.media).body(request.body);
        }
        for (name, value) in request.headers {
            let value = HeaderValue::from_str(value).map_err(|_| LinkError::Broken)?;
            sending = sending.header(HeaderName::from_static(name), value);
        }
        sending.build().map_err(|_| LinkError::Unreachable)
    }

    async fn answered(&self, sending: reqwest::Request, most: usize) -> Result<Answer, LinkError> {
        let mut answer = self.http.execute(sending).await.map_err(|error| self.told(&error))?;
        let status = answer.status().as_u16();
        let headers = answer.headers().clone();
        let mut body = Vec::new();
        while let Some(piece) = answer.chunk().await.map_err(|error| self.told(&error))? {
            if body.len() + piece.len() > most {
                return Err(LinkError::TooLong);
            }
            body.extend_from_slice(&piece);
        }
        Ok(Answer { status, headers, body })
    }

    fn told(&self, error: &reqwest::Error) -> LinkError {
        // The address is in the sentence; the cause below it says more and names nobody.
        let cause = error.source().map(ToString::to_string).unwrap_or_default();
        tracing::info!(cause, "the link gave an error");
        if error.is_connect() && self.shown.was_turned_away() {
            LinkError::WrongServer
        } else if error.is_timeout() {
            LinkError::TimedOut
        } else if error.is_connect() {
            LinkError::Unreachable
        } else {
            LinkError::Broken
        }
    }
}

fn no_client(error: &dyn std::error::Error) -> LinkError {
    tracing::error!(%error, "no client for HTTPS could be made");
    LinkError::Unreachable
}
