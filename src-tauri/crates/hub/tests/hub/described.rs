//! The description of the routes that is checked in, beside the routes.

use std::collections::{BTreeMap, BTreeSet};

use reqwest::{Method, Response, StatusCode};
use serde_json::Value;

use crate::server::Server;

/// What stands for every part of a path that is left open: a name of the right form, of nothing that is here.
const NAME: &str = "abababababababababababababababababababababababababababababababab";

/// Where this fails, routes have changed: write the file anew with `HEADMARK_WRITE=1`, look at the difference, and
/// commit it with the change.
#[test]
fn the_description_is_the_one_checked_in() {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("openapi.json");
    let now = hub::api::openapi().unwrap();
    if std::env::var_os("HEADMARK_WRITE").is_some() {
        std::fs::write(&path, &now).unwrap();
    }
    let kept = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(kept == now, "openapi.json is not what the routes say");
}

/// One route as it is described.
struct Operation {
    path: String,
    method: Method,
    /// The media types of each status.
    answers: BTreeMap<String, Vec<String>>,
}

fn described() -> Vec<Operation> {
    let text = hub::api::openapi().unwrap();
    let described: Value = serde_json::from_str(&text).unwrap();
    let mut operations = Vec::new();
    for (path, methods) in described["paths"].as_object().unwrap() {
        for (method, operation) in methods.as_object().unwrap() {
            let method = Method::from_bytes(method.to_uppercase().as_bytes()).unwrap();
            let answers = operation["responses"].as_object().unwrap().iter();
            let answers = answers.filter_map(|(status, answer)| {
                let media = answer["content"].as_object()?.keys().cloned().collect();
                Some((status.clone(), media))
            });
            operations.push(Operation { path: path.clone(), method, answers: answers.collect() });
        }
    }
    operations
}

/// Asked without a sign-in and with nothing to say, none is told that there is no such route or method; what is answered
/// is of the media type that is described for it; and the route that answered is the one that is described.
#[tokio::test]
async fn every_described_route_answers_as_it_is_described() {
    let server = Server::start().await;
    let media = |answer: &Response| {
        let media = answer.headers().get("content-type").map(|media| media.to_str().unwrap().to_owned());
        media.map(|media| media.split(';').next().unwrap().to_owned())
    };
    // How it looks where there is no route: a handler's own "not found" says what to do.
    let nowhere = server.get("/nowhere").send().await.unwrap();
    assert_eq!((nowhere.status(), media(&nowhere)), (StatusCode::NOT_FOUND, None));
    let mut routes = BTreeSet::from(["GET none".to_owned(), "GET /metrics".to_owned()]);
    for Operation { path, method, answers } in described() {
        let name = format!("{method} {path}");
        let asked: Vec<&str> =
            path.split('/').map(|part| if part.starts_with('{') { NAME } else { part }).collect();
        let answer = server.ask(method, &asked.join("/")).send().await.unwrap();
        let (status, media) = (answer.status(), media(&answer));
        assert_ne!(status, StatusCode::METHOD_NOT_ALLOWED, "{name}");
        assert!(status != StatusCode::NOT_FOUND || media.is_some(), "{name} is described and not there");
        assert!(!status.is_server_error(), "{name}: {status}");
        if let Some(described) = answers.get(status.as_str()) {
            let media = media.unwrap_or_default();
            assert!(described.contains(&media), "{name}, {status}: {media} and not {described:?}");
        }
        routes.insert(name);
    }
    let counted = server.get("/metrics").send().await.unwrap().bytes().await.unwrap();
    let counted = String::from_utf8(counted.to_vec()).unwrap();
    let counted =
        counted.lines().filter_map(|line| line.split_once("requests_total{route=\"")?.1.split('"').next());
    assert_eq!(counted.map(str::to_owned).collect::<BTreeSet<_>>(), routes);
    server.stop().await;
}
