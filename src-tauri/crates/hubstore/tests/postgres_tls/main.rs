//! PostgreSQL over TLS: who is spoken to, and who is not.
//!
//! Needs a server of its own, since it changes how that one speaks:
//! `tests/lib/postgres.sh cargo test -p hubstore --features postgres-tests --test postgres_tls`.
#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "a panic here is the message"
)]

mod between;
mod certificates;
mod offered;
mod secured;
#[path = "../contract/writer.rs"]
#[allow(dead_code, reason = "these tests ask for a part of it")]
mod writer;

use hubstore::{Error, Ledger};
use rstest::rstest;

use certificates::NAME;
use secured::{SPEAKS, Secured};
use writer::{Writer, batch};

/// What is written over a connection is read over it.
async fn carries(store: &hubstore::Postgres) {
    let mut asha = Writer::number(1);
    // Longer than a record of TLS holds.
    let long = [&[0x59, 0xea, 0x60][..], &[7; 60_000]].concat();
    let entries = [asha.say(90, "kept"), asha.write(record::Kind(90), 1, &long)];
    store.ingest(batch(&[&asha], &entries)).await.unwrap();
    for entry in &entries {
        assert_eq!(store.entry(entry.id).await.unwrap().unwrap().bytes, entry.bytes);
    }
}

#[tokio::test]
async fn who_has_to_come_by_tls_is_told_so_when_coming_plainly() {
    let (server, _speaks) = (Secured::server().await, SPEAKS.read().await);
    let error = server.connecting("sealed", NAME, "sslmode=disable").open().await.unwrap_err();
    assert!(
        matches!(error, Error::NotPrivate { .. }) && error.to_string().contains("by TLS only"),
        "{error}"
    );
    // As is said to this machine's own database where nothing is asked for.
    let error = server.connecting("sealed", NAME, "connect_timeout=5").open().await.unwrap_err();
    assert!(matches!(error, Error::NotPrivate { .. }), "{error}");
}

#[rstest]
#[case::with_anybody("sealed", NAME, "sslmode=require")]
#[case::where_it_is_offered("sealed", NAME, "sslmode=prefer")]
#[case::whatever_the_name("sealed", "elsewhere.example", "sslmode=require")]
#[case::verified("sealed", NAME, "sslmode=verify-full&sslrootcert=AUTHORITY")]
#[case::tied_to_a_password("bound:dry%20words", NAME, "sslmode=require&channel_binding=require")]
#[tokio::test]
async fn a_private_connection_carries(#[case] user: &str, #[case] host: &str, #[case] asks: &str) {
    let (server, _speaks) = (Secured::server().await, SPEAKS.read().await);
    carries(&server.connecting(user, host, asks).open().await.unwrap()).await;
}

#[rstest]
#[case::another_authority(NAME, "STRANGER", "no authority in sslrootcert signed it")]
#[case::another_of_the_same_name(NAME, "NAMESAKE", "not that of the authority it names")]
#[case::another_name("elsewhere.example", "AUTHORITY", "not valid for name \"elsewhere.example\"")]
#[case::an_address("127.0.0.1", "AUTHORITY", "not valid for name \"127.0.0.1\"")]
#[tokio::test]
async fn a_server_that_is_another_is_refused(
    #[case] host: &str,
    #[case] authority: &str,
    #[case] says: &str,
) {
    let (server, _speaks) = (Secured::server().await, SPEAKS.read().await);
    let asks = format!("sslmode=verify-full&sslrootcert={authority}");
    let error = server.connecting("sealed", host, &asks).open().await.unwrap_err();
    assert!(matches!(error, Error::NotPrivate { .. }) && error.to_string().contains(says), "{error}");
    assert!(error.is_retryable(), "the server's certificate may be put right");
}

#[tokio::test]
async fn a_password_that_is_wrong_is_refused() {
    let (server, _speaks) = (Secured::server().await, SPEAKS.read().await);
    let error = server.connecting("bound:wet", NAME, "sslmode=require").open().await.unwrap_err();
    assert!(matches!(error, Error::Io { .. }) && error.to_string().contains("password"), "{error}");
}

#[tokio::test]
async fn an_authority_that_cannot_be_read_is_named() {
    let (server, _speaks) = (Secured::server().await, SPEAKS.read().await);
    let asks = "sslmode=verify-full&sslrootcert=/not/there.pem";
    let error = server.connecting("sealed", NAME, asks).open().await.unwrap_err();
    assert!(
        matches!(error, Error::Address { .. }) && error.to_string().contains("/not/there.pem"),
        "{error}"
    );
}
