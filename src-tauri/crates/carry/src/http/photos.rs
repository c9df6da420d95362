//! Photos over HTTPS: how much of one is there, and the next piece.

use super::{Answer, Client, Method, Request};
use crate::LinkError;
use crate::photos::{AtHub, PhotoLink, PhotoName, Waiting};

/// Says how many bytes from the photo's start are there.
const OFFSET: &str = "x-headmark-offset";
/// Says whether all of it is there and was found right.
const WHOLE: &str = "x-headmark-whole";
/// Answers here are short.
const MOST: usize = 64 * 1024;

impl PhotoLink for Client {
    fn held(&self, photo: PhotoName) -> Result<AtHub, LinkError> {
        let path = path(photo);
        let request = Request {
            method: Method::Head,
            path: &path,
            media: "",
            body: Vec::new(),
            headers: &[],
            most: MOST,
        };
        at_hub(&self.ask(request)?)
    }

    fn put(&self, of: Waiting, at: u64, piece: Vec<u8>) -> Result<AtHub, LinkError> {
        let path = path(of.photo);
        let range = format!("bytes {at}-{}/{}", at + (piece.len() as u64).saturating_sub(1), of.length);
        let request = Request {
            method: Method::Put,
            path: &path,
            media: "application/octet-stream",
            body: piece,
            headers: &[("content-range", &range)],
            most: MOST,
        };
        at_hub(&self.ask(request)?)
    }
}

fn path(photo: PhotoName) -> String {
    let name: String = photo.iter().map(|byte| format!("{byte:02x}")).collect();
    format!("/photos/{name}")
}

fn at_hub(answer: &Answer) -> Result<AtHub, LinkError> {
    match answer.status {
        404 => Ok(AtHub::NotWanted),
        // What stood at the place was other bytes: the hub says where to go on.
        200..300 | 409 | 416 if answer.header(WHOLE) == Some("true") => Ok(AtHub::Whole),
        200..300 | 409 | 416 => {
            let offset = answer.header(OFFSET).and_then(|offset| offset.parse().ok());
            offset.map(AtHub::UpTo).ok_or_else(|| answer.refusal())
        }
        _ => Err(answer.refusal()),
    }
}
