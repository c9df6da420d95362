//! What a stranger may send: too large, too deep, packed to burst, with paths that lead elsewhere.

use std::collections::BTreeSet;

use bodies::{Grade, RECEIPT, RECEIPT_RUNS, Receipt};
use exchange::have::HaveSet;
use exchange::message::About;
use exchange::packed;
use hub::exchange::{PushError, hello};
use record::{Claimed, Kind, Link, NewEntry, PayloadHash, Seq, seal};
use reqwest::{Method, StatusCode};

use crate::phone::Phone;
use crate::server::{Server, json};
use crate::world::World;

async fn status(server: &Server, path: &str, body: Vec<u8>) -> (StatusCode, String) {
    let request = server.ask(Method::POST, path).header("content-type", "application/cbor");
    let answer = request.body(body).send().await.unwrap();
    let status = answer.status();
    let text = String::from_utf8_lossy(&answer.bytes().await.unwrap()).into_owned();
    (status, text)
}

#[tokio::test]
async fn a_body_that_is_too_large_is_refused() {
    let server = Server::start().await;
    let large = |bytes: usize| vec![0x5a; bytes];
    assert_eq!(
        status(&server, "/exchange/hello", large((1 << 20) + 1)).await.0,
        StatusCode::PAYLOAD_TOO_LARGE
    );
    assert_eq!(
        status(&server, "/exchange/push", large((4 << 20) + 1)).await.0,
        StatusCode::PAYLOAD_TOO_LARGE
    );
    let name = format!("{{\"name\":\"{}\",\"password\":\"\"}}", "x".repeat(70_000));
    let answer = server.ask(Method::POST, "/sign-in").header("content-type", "application/json").body(name);
    assert_eq!(answer.send().await.unwrap().status(), StatusCode::PAYLOAD_TOO_LARGE);
    server.stop().await;
}

#[tokio::test]
async fn what_unpacks_to_far_more_is_refused_without_unpacking_it_all() {
    let server = Server::start().await;
    let bomb = packed::pack(&vec![0; 200_000_000]).unwrap();
    assert!(bomb.len() < 100_000, "{}", bomb.len());
    let (code, text) = status(&server, "/exchange/push", bomb.clone()).await;
    assert_eq!(code, StatusCode::PAYLOAD_TOO_LARGE);
    assert!(text.contains("exchange.too_large"), "{text}");
    assert_eq!(status(&server, "/exchange/hello", bomb).await.0, StatusCode::PAYLOAD_TOO_LARGE);
    server.stop().await;
}

#[tokio::test]
async fn what_is_nested_without_end_is_refused() {
    let server = Server::start().await;
    let deep = vec![0x81; 1_000_000];
    for path in ["/exchange/hello", "/exchange/push"] {
        let (code, text) = status(&server, path, packed::pack(&deep).unwrap()).await;
        assert_eq!(code, StatusCode::BAD_REQUEST, "{path} {text}");
    }
    let nested = format!("{}1{}", "[".repeat(20_000), "]".repeat(20_000));
    let answer = server.ask(Method::POST, "/enrol").header("content-type", "application/json").body(nested);
    assert!(answer.send().await.unwrap().status().is_client_error());
    // A deep entry in a good push stops nothing.
    let phone = Phone::with(1, 1);
    let mut message = phone.pushing(phone.greets(&server.world).await.session);
    message.entries.push(vec![0x81; 10_000].into());
    let (_, taken) = phone.pushes(&server.world, &message).await.unwrap();
    assert_eq!((taken.parked, taken.not_entries), (1, 1));
    server.stop().await;
}

#[tokio::test]
async fn what_is_not_packed_or_no_message_is_refused_with_a_code() {
    let server = Server::start().await;
    for body in [Vec::new(), b"hello".to_vec(), packed::pack(b"hello").unwrap()] {
        let (code, text) = status(&server, "/exchange/push", body).await;
        assert_eq!(code, StatusCode::BAD_REQUEST);
        assert!(text.contains("\"code\":\"exchange."), "{text}");
    }
    server.stop().await;
}

#[tokio::test]
async fn names_lead_nowhere_else() {
    let server = Server::start().await;
    let small = "0".repeat(64);
    for path in [
        "/photos/..%2f..%2f..%2fetc%2fpasswd".to_owned(),
        "/photos/%2e%2e%2fhub.db".to_owned(),
        format!("/photos/{}", small.replace('0', "G")),
        format!("/photos/{}", &small[1..]),
        format!("/photos/{small}%00"),
        format!("/photos/{}", "A".repeat(64)),
    ] {
        for method in [Method::HEAD, Method::PUT] {
            let answer = server
                .ask(method.clone(), &path)
                .header("content-range", "bytes 0-0/1")
                .body("x")
                .send()
                .await
                .unwrap();
            assert!(answer.status().is_client_error(), "{method} {path} {}", answer.status());
        }
    }
    let answer = server.get("/enrol/..%2f..%2fhub.json").send().await.unwrap();
    assert_eq!(answer.status(), StatusCode::BAD_REQUEST);
    assert_eq!(json(answer).await["code"], "hub.bad_request");
    server.stop().await;
}

/// Entries of a phone's log with a gap behind each; the entries in the gaps were never signed.
fn full_of_gaps(phone: &Phone, many: u64) -> Vec<Vec<u8>> {
    let claimed = Claimed { millis: 1_795_600_000_000, offset_minutes: 0 };
    let entry = |at: u64| {
        let link = Link::After { seq: Seq::new(2 * at).unwrap(), payload: PayloadHash([7; 32]) };
        let new = NewEntry { link, kind: Kind(4_000), body_version: 1, claimed, boot: None };
        seal(&new, b"\x65hello", &phone.key).unwrap().bytes
    };
    (1..=many).map(entry).collect()
}

#[tokio::test]
async fn a_log_full_of_gaps_keeps_no_other_from_its_receipt() {
    let (world, honest, faulty) = (World::new().await, Phone::with(1, 3), Phone::with(2, 0));
    world.enrol(&honest, &[]).await;
    world.enrol(&faulty, &[]).await;
    let mut message = honest.pushing(honest.greets(&world).await.session);
    // More runs than an entry could hold: 6,500 of 43 bytes at the least.
    message.entries.extend(full_of_gaps(&faulty, 6_500).into_iter().map(Into::into));
    message.about.push(About { log: faulty.log(), receipts: Vec::new() });
    let (answer, taken) = honest.pushes(&world, &message).await.unwrap();
    assert_eq!(taken.new, 6_503);
    let mut told = BTreeSet::new();
    for bytes in &answer.entries {
        let entry = record::open(bytes).unwrap();
        if entry.header.kind == RECEIPT {
            let receipt = Receipt::of_entry(&entry).unwrap();
            assert_eq!(receipt.grade, Grade::Stored);
            told.insert((receipt.log == honest.log(), receipt.runs.len()));
        }
    }
    assert_eq!(told, [(true, 1), (false, RECEIPT_RUNS)].into());
}

#[tokio::test]
async fn a_question_that_names_more_than_anybody_holds_is_refused() {
    let (world, phone) = (World::new().await, Phone::with(1, 1));
    let mut asked = phone.hello();
    let run = asked.have.0[&phone.log()][0];
    asked.have = HaveSet([(phone.log(), vec![run; 20_001])].into());
    let refused = hello(&world.hub, &asked, [0; 32]).await;
    assert!(matches!(refused, Err(PushError::Exchange(exchange::Error::TooLarge { .. }))));
}
