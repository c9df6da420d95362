//! Signing in, roles, and what a foreign page cannot do.

use bodies::HubRole;
use reqwest::{Method, StatusCode};
use serde_json::json;

use crate::phone::Phone;
use crate::server::{Server, json};

#[tokio::test]
async fn nobody_looks_without_signing_in() {
    let server = Server::start().await;
    for path in [
        "/records",
        "/forks",
        "/parked",
        "/register/rows",
        "/proposals",
        "/enrolments",
        "/me",
        "/findings",
        "/people",
        "/changes",
    ] {
        let answer = server.get(path).send().await.unwrap();
        assert_eq!(answer.status(), StatusCode::UNAUTHORIZED, "{path}");
    }
    server.stop().await;
}

#[tokio::test]
async fn a_wrong_password_and_a_wrong_name_look_the_same() {
    let server = Server::start().await;
    server.world.person("Ada", HubRole::Read).await;
    let mut answers = Vec::new();
    for (name, password) in [("Ada", "three dry wolds"), ("Nobody", "three dry words")] {
        let body = json!({ "name": name, "password": password });
        let answer = server.post("/sign-in", &body).send().await.unwrap();
        assert_eq!(answer.status(), StatusCode::UNAUTHORIZED);
        answers.push(json(answer).await);
    }
    assert_eq!(answers[0], answers[1]);
    server.stop().await;
}

#[tokio::test]
async fn a_change_without_the_second_secret_is_refused() {
    let server = Server::start().await;
    server.world.person("Ada", HubRole::Administer).await;
    let session = server.sign_in("Ada").await;
    let body = json!({ "label": "M-07", "person": "09".repeat(16), "areas": [] });
    let missing = session.cookie_only(server.post("/enrolments", &body)).send().await.unwrap();
    assert_eq!(missing.status(), StatusCode::FORBIDDEN);
    assert_eq!(json(missing).await["code"], "hub.csrf");
    let wrong =
        session.cookie_only(server.post("/enrolments", &body)).header("x-headmark-csrf", "A".repeat(43));
    assert_eq!(wrong.send().await.unwrap().status(), StatusCode::FORBIDDEN);
    let right = session.on(server.post("/enrolments", &body)).send().await.unwrap();
    assert_eq!(right.status(), StatusCode::CREATED);
    let looks = session.cookie_only(server.get("/enrolments")).send().await.unwrap();
    assert_eq!(looks.status(), StatusCode::OK, "looking asks for the cookie alone");
    server.stop().await;
}

#[tokio::test]
async fn each_role_may_what_it_may() {
    let server = Server::start().await;
    for (name, role) in [("Ada", HubRole::Read), ("Ben", HubRole::Supervise), ("Cy", HubRole::Administer)] {
        server.world.person(name, role).await;
    }
    let offering = json!({ "person": "09".repeat(16) });
    let review = json!({ "subject": "x", "decision": "approved" });
    for (name, look, decide, run) in [
        ("Ada", StatusCode::OK, StatusCode::FORBIDDEN, StatusCode::FORBIDDEN),
        // The review itself names no record, which is found out only behind the door.
        ("Ben", StatusCode::OK, StatusCode::BAD_REQUEST, StatusCode::FORBIDDEN),
        ("Cy", StatusCode::OK, StatusCode::BAD_REQUEST, StatusCode::CREATED),
    ] {
        let session = server.sign_in(name).await;
        let status = |answer: reqwest::Response| answer.status();
        assert_eq!(session.on(server.get("/records")).send().await.map(status).unwrap(), look, "{name}");
        assert_eq!(
            session.on(server.post("/reviews", &review)).send().await.map(status).unwrap(),
            decide,
            "{name}"
        );
        assert_eq!(
            session.on(server.post("/enrolments", &offering)).send().await.map(status).unwrap(),
            run,
            "{name}"
        );
    }
    server.stop().await;
}

#[tokio::test]
async fn a_sign_in_ends_by_signing_out_and_by_time() {
    let server = Server::start().await;
    server.world.person("Ada", HubRole::Read).await;
    let (first, second) = (server.sign_in("Ada").await, server.sign_in("Ada").await);
    let out = first.on(server.post("/sign-out", &json!(null))).send().await.unwrap();
    assert_eq!(out.status(), StatusCode::NO_CONTENT);
    assert_eq!(first.on(server.get("/me")).send().await.unwrap().status(), StatusCode::UNAUTHORIZED);
    assert_eq!(second.on(server.get("/me")).send().await.unwrap().status(), StatusCode::OK);
    server.world.clock.move_by_seconds(hub::people::SIGNED_IN_SECONDS + 1);
    assert_eq!(second.on(server.get("/me")).send().await.unwrap().status(), StatusCode::UNAUTHORIZED);
    server.stop().await;
}

#[tokio::test]
async fn trying_passwords_is_slowed_down() {
    let server = Server::start().await;
    server.world.person("Ada", HubRole::Read).await;
    let body = json!({ "name": "Ada", "password": "guess" });
    let mut statuses = Vec::new();
    for _ in 0..12 {
        let answer = server.post("/sign-in", &body).send().await.unwrap();
        statuses.push((answer.status(), answer.headers().contains_key("retry-after")));
    }
    assert!(statuses[..10].iter().all(|one| *one == (StatusCode::UNAUTHORIZED, false)), "{statuses:?}");
    assert_eq!(statuses[10], (StatusCode::TOO_MANY_REQUESTS, true));
    server.world.clock.move_by_seconds(60);
    let answer = server.post("/sign-in", &body).send().await.unwrap();
    assert_eq!(answer.status(), StatusCode::UNAUTHORIZED, "the next minute begins anew");
    server.stop().await;
}

#[tokio::test]
async fn what_people_decide_is_an_entry_that_names_them_by_number() {
    let server = Server::start().await;
    let ben = server.world.person("Ben", HubRole::Supervise).await;
    let mut phone = Phone::with(1, 0);
    crate::visit::sign(&mut phone, crate::visit::finished());
    server.world.enrol(&phone, &[]).await;
    phone.sends(&server.world).await;
    let session = server.sign_in("Ben").await;
    let list = json(session.on(server.get("/records")).send().await.unwrap()).await;
    let id = list["items"][0]["id"].as_str().unwrap().to_owned();
    assert_eq!(
        (&list["items"][0]["tag"], &list["items"][0]["confirmed"]),
        (&json!("LT-2041"), &json!("pin"))
    );
    let body = json!({ "subject": id, "decision": "approved", "note": "in order" });
    let made = json(session.on(server.post("/reviews", &body)).send().await.unwrap()).await;
    let entry = hub::names::read_entry_name(made["entry"].as_str().unwrap()).unwrap();
    let kept = hubstore::Ledger::entry(&server.world.hub.store, entry).await.unwrap().unwrap();
    let review = bodies::Review::of_entry(&record::open(&kept.bytes).unwrap()).unwrap();
    assert_eq!((review.subject, review.person), (phone.entries[0].id, ben));
    let one = json(session.on(server.get(&format!("/records/{id}"))).send().await.unwrap()).await;
    assert_eq!(
        (one["standing"].as_str(), one["visit"]["instrument"]["tag"].as_str(), one["confirmed"].as_str()),
        (Some("counts"), Some("LT-2041"), Some("pin"))
    );
    let body = json!({ "log": hub::names::hex(&phone.log().0), "reason": "lost" });
    let revoked = session.on(server.post("/revocations", &body)).send().await.unwrap();
    assert_eq!(revoked.status(), StatusCode::CREATED);
    let one = json(session.on(server.get(&format!("/records/{id}"))).send().await.unwrap()).await;
    assert_eq!(one["standing"], "after_revocation");
    server.stop().await;
}

#[tokio::test]
async fn pages_of_a_list_join_without_overlap() {
    let server = Server::start().await;
    server.world.person("Ada", HubRole::Read).await;
    let mut phone = Phone::with(1, 0);
    let visit = crate::visit::finished();
    for _ in 0..5 {
        crate::visit::sign(&mut phone, visit.clone());
    }
    server.world.enrol(&phone, &[]).await;
    phone.sends(&server.world).await;
    let session = server.sign_in("Ada").await;
    let (mut seen, mut next) = (Vec::new(), String::new());
    loop {
        let page =
            json(session.on(server.get(&format!("/records?limit=2{next}"))).send().await.unwrap()).await;
        seen.extend(
            page["items"].as_array().unwrap().iter().map(|item| item["id"].as_str().unwrap().to_owned()),
        );
        match page["next"].as_str() {
            Some(token) => next = format!("&after={token}"),
            None => break,
        }
    }
    let newest_first: Vec<_> =
        phone.entries.iter().rev().map(|entry| hub::names::entry_name(&entry.id)).collect();
    assert_eq!(seen, newest_first);
    for wrong in ["/records?after=%20", "/records?after=AAAA", "/records/..%2F..%2Fetc", "/records?limit=x"] {
        let status = session.on(server.ask(Method::GET, wrong)).send().await.unwrap().status();
        assert_eq!(status, StatusCode::BAD_REQUEST, "{wrong}");
    }
    server.stop().await;
}
