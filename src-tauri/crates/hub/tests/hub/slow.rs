//! Who connects and says nothing, or says it a letter at a time; and who connects too often.

use std::io::{Read, Write};
use std::time::{Duration, Instant};

use hub::api::Limits;
use reqwest::StatusCode;
use tokio::task::spawn_blocking;

use crate::server::{Raw, Server};

const HEADER: Duration = Duration::from_millis(400);

/// Reads until the hub closes, and returns what it said.
fn until_closed(mut raw: Raw) -> String {
    let mut said = Vec::new();
    // Where the hub closes without a word of TLS that is an error, and closed all the same.
    let _ = raw.read_to_end(&mut said);
    String::from_utf8_lossy(&said).into_owned()
}

#[tokio::test]
async fn whoever_does_not_say_what_it_asks_is_closed_and_others_are_answered() {
    let server = Server::with(Limits { header: HEADER, ..Limits::default() }).await;
    let connect = server.connector();
    let begun = Instant::now();
    let (silent, slow, idle) = (connect.clone(), connect.clone(), connect);
    let silent = spawn_blocking(move || until_closed(silent().unwrap()));
    let slow = spawn_blocking(move || {
        let mut raw = slow().unwrap();
        // A letter at a time, for ever: each comes well within the time, the whole never does.
        let letters = b"GET /health HTTP/1.1\r\nhost: hub\r\nx-more: ".iter().chain(std::iter::repeat(&b'a'));
        for letter in letters {
            if raw.write_all(&[*letter]).and_then(|()| raw.flush()).is_err() || begun.elapsed() > 20 * HEADER
            {
                break;
            }
            std::thread::sleep(HEADER / 8);
        }
        begun.elapsed()
    });
    let idle = spawn_blocking(move || {
        let mut raw = idle().unwrap();
        raw.write_all(b"GET /health HTTP/1.1\r\nhost: hub\r\n\r\n").unwrap();
        until_closed(raw)
    });
    assert_eq!(server.get("/health").send().await.unwrap().status(), StatusCode::OK);
    assert!(!silent.await.unwrap().contains("200 OK"));
    assert!(slow.await.unwrap() < 20 * HEADER, "a letter at a time was listened to for ever");
    assert!(idle.await.unwrap().starts_with("HTTP/1.1 200"), "what was asked is answered before");
    assert_eq!(server.get("/health").send().await.unwrap().status(), StatusCode::OK);
    server.stop().await;
}

#[tokio::test]
async fn one_connection_too_many_is_closed_and_the_open_ones_go_on() {
    let server = Server::with(Limits { connections: 8, connections_of_one: 3, ..Limits::default() }).await;
    let connect = server.connector();
    let more = connect.clone();
    let mut open: Vec<Raw> = spawn_blocking(move || (0..3).map(|_| more().unwrap()).collect()).await.unwrap();
    let one_more = connect.clone();
    let refused = spawn_blocking(move || one_more().is_err()).await.unwrap();
    assert!(refused, "the fourth of one address was let in");
    // Those that are open are answered, and an ended one gives its place to the next.
    let answered = spawn_blocking(move || {
        let mut first = open.remove(0);
        first.write_all(b"GET /health HTTP/1.1\r\nhost: hub\r\nconnection: close\r\n\r\n").unwrap();
        let said = until_closed(first);
        let let_in = (0..100).any(|_| {
            std::thread::sleep(Duration::from_millis(50));
            connect().is_ok()
        });
        (said, let_in, open.len())
    });
    let (said, let_in, left) = answered.await.unwrap();
    assert!(said.starts_with("HTTP/1.1 200") && let_in && left == 2, "{said}");
    server.stop().await;
}
