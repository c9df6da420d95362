//! The two questions of an exchange, over HTTPS.

use exchange::session::Route;

use super::{Client, Method, Request};
use crate::once::MOST_ANSWER;
use crate::{Link, LinkError};

/// What messages are.
const CBOR: &str = "application/cbor";

impl Link for Client {
    fn ask(&self, route: Route, question: &[u8]) -> Result<Vec<u8>, LinkError> {
        let path = match route {
            Route::Hello => "/exchange/hello",
            Route::Push => "/exchange/push",
        };
        let request = Request {
            method: Method::Post,
            path,
            media: CBOR,
            body: question.to_vec(),
            headers: &[],
            // Packing never makes more than a few bytes more of it.
            most: MOST_ANSWER + 64 * 1024,
        };
        Client::ask(self, request)?.good()
    }
}
