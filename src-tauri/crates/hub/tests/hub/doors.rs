//! The exchange and enrolment over TLS, as a phone does them.

use base64::Engine;
use base64::engine::general_purpose::{STANDARD, URL_SAFE_NO_PAD};
use bodies::HubRole;
use exchange::message::{self, Answer, Welcome};
use exchange::packed;
use hub::enrol::{Invitation, six_digits};
use hub::names::hex;
use record::{LogId, Signer};
use reqwest::{Method, StatusCode};
use serde_json::json;

use crate::phone::Phone;
use crate::server::{Server, json};

async fn packed_post(server: &Server, path: &str, body: &[u8]) -> (StatusCode, Vec<u8>) {
    let request = server.ask(Method::POST, path).header("content-type", "application/cbor");
    let answer = request.body(packed::pack(body).unwrap()).send().await.unwrap();
    let status = answer.status();
    (status, answer.bytes().await.unwrap().to_vec())
}

fn unpacked(bytes: &[u8]) -> Vec<u8> {
    packed::unpack(bytes, 1 << 24).unwrap()
}

#[tokio::test]
async fn a_phone_is_enrolled_and_sends_over_the_network() {
    let server = Server::start().await;
    let cy = server.world.person("Cy", HubRole::Administer).await;
    let session = server.sign_in("Cy").await;
    let offering = json!({ "label": "M-07", "person": "09".repeat(16), "areas": ["north"] });
    let offered = json(session.on(server.post("/enrolments", &offering)).send().await.unwrap()).await;
    let invitation = Invitation::read(offered["invitation"].as_str().unwrap()).unwrap();

    // The phone: whose hub is it, then the code.
    let phone = Phone::with(1, 3);
    let trust = json(server.get("/trust").send().await.unwrap()).await;
    let organisation = STANDARD.decode(trust["organisation"].as_str().unwrap()).unwrap();
    assert_eq!(LogId::of(&organisation), invitation.organisation);
    let proof = phone.enrol_proof(invitation.organisation, &invitation.code, "phone");
    let asking = json!({
        "key": STANDARD.encode(phone.key.public().cose()),
        "code": URL_SAFE_NO_PAD.encode(invitation.code),
        "label": "phone",
        "proof": STANDARD.encode(proof),
    });
    let asked = server.post("/enrol", &asking).send().await.unwrap();
    assert_eq!(asked.status(), StatusCode::ACCEPTED);
    let id = json(asked).await["id"].as_str().unwrap().to_owned();
    let again = server.post("/enrol", &asking).send().await.unwrap();
    assert_eq!(
        (again.status(), json(again).await["code"].clone()),
        (StatusCode::FORBIDDEN, json!("enrol.code"))
    );
    let stands = json(server.get(&format!("/enrol/{id}")).send().await.unwrap()).await;
    assert_eq!(stands, json!({ "state": "waiting" }), "the digits are not told to who asks");

    // The supervisor compares digits.
    let digits = six_digits(server.world.hub.identity.log, phone.log(), &invitation.code);
    let waiting = json(session.on(server.get("/enrolments")).send().await.unwrap()).await;
    assert_eq!(waiting[0]["digits"], digits.as_str());
    let wrong = format!("{:06}", (digits.parse::<u32>().unwrap() + 1) % 1_000_000);
    let confirm = |digits: &str| {
        session.on(server.post(&format!("/enrolments/{id}/confirm"), &json!({ "digits": digits })))
    };
    assert_eq!(confirm(&wrong).send().await.unwrap().status(), StatusCode::CONFLICT);
    assert_eq!(confirm(&digits).send().await.unwrap().status(), StatusCode::CREATED);
    let stands = json(server.get(&format!("/enrol/{id}")).send().await.unwrap()).await;
    assert_eq!(stands["state"], "enrolled");
    assert_eq!(stands["chain"]["entries"].as_array().unwrap().len(), 2);
    let changes = json(session.on(server.get("/changes?limit=1")).send().await.unwrap()).await;
    let (changed, by) = (&changes["items"][0], json!({ "number": hex(&cy.0), "name": "Cy" }));
    assert_eq!(
        (&changed["what"], &changed["phone"], &changed["by"]),
        (&json!("phone_confirmed"), &json!(id), &by)
    );

    // Two round trips bring everything.
    let (status, welcome) =
        packed_post(&server, "/exchange/hello", &message::write(&phone.hello()).unwrap()).await;
    assert_eq!(status, StatusCode::OK);
    let welcome: Welcome = message::read(&unpacked(&welcome)).unwrap();
    let (status, answer) =
        packed_post(&server, "/exchange/push", &phone.proved(&phone.pushing(welcome.session))).await;
    assert_eq!(status, StatusCode::OK);
    let answer: Answer = message::read(&unpacked(&answer)).unwrap();
    assert_eq!((answer.refused.len(), answer.wanted.len(), answer.more), (0, 0, false));
    assert_eq!(server.world.held(&phone).await, (1..=3).collect());
    server.stop().await;
}

#[tokio::test]
async fn health_and_counters_answer_and_say_nothing_of_anybody() {
    let server = Server::start().await;
    let phone = Phone::with(1, 2);
    let (_, welcome) =
        packed_post(&server, "/exchange/hello", &message::write(&phone.hello()).unwrap()).await;
    let welcome: Welcome = message::read(&unpacked(&welcome)).unwrap();
    packed_post(&server, "/exchange/push", &phone.proved(&phone.pushing(welcome.session))).await;
    let health = server.get("/health").send().await.unwrap();
    assert!(health.headers().contains_key("x-request-id"));
    assert_eq!(json(health).await["state"], "up");
    let text = server.get("/metrics").send().await.unwrap().text().await.unwrap();
    assert!(text.contains("headmark_hub_entries_parked_total 2"), "{text}");
    assert!(text.contains("route=\"POST /exchange/push\",status=\"200\""), "{text}");
    assert!(!text.contains(&hub::names::hex(&phone.log().0)));
    server.stop().await;
}

#[tokio::test]
async fn told_to_stop_it_finishes_what_runs_and_takes_no_more() {
    let server = Server::start().await;
    let phone = Phone::with(1, 400);
    server.world.enrol(&phone, &[]).await;
    let (_, welcome) =
        packed_post(&server, "/exchange/hello", &message::write(&phone.hello()).unwrap()).await;
    let welcome: Welcome = message::read(&unpacked(&welcome)).unwrap();
    let body = phone.proved(&phone.pushing(welcome.session));
    let push = packed_post(&server, "/exchange/push", &body);
    let stop = async {
        tokio::time::sleep(std::time::Duration::from_millis(20)).await;
        server.tell_to_stop();
    };
    let ((status, _), ()) = tokio::join!(push, stop);
    assert_eq!(status, StatusCode::OK, "the push that ran was finished and answered");
    assert_eq!(server.world.held(&phone).await, (1..=400).collect());
    let later = server.get("/health");
    server.ended().await;
    assert!(later.send().await.is_err(), "nobody answers any more");
}
