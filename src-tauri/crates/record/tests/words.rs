//! What a person may read says "record" and "key", and not how they are kept.
#![allow(clippy::unwrap_used, reason = "a panic here is the message")]

use record::cbor::Flaw;
use record::{EntryId, Error, LogId, Part, PayloadHash, Seq, open, open_signed, read_export, sign_bytes};

/// Every error there is, with each part that it may name.
fn errors() -> Vec<Error> {
    let log = LogId([7; 32]);
    let entry = EntryId { log, seq: Seq::FIRST, payload: PayloadHash([1; 32]) };
    let parts = [Part::Entry, Part::Header, Part::Payload, Part::Body, Part::Export, Part::Signed];
    let of_parts = parts.into_iter().flat_map(|part| {
        [
            Error::Cbor { part, at: 3, flaw: Flaw::CutShort },
            Error::Malformed { part, what: "what" },
            Error::TooLong { part, length: 2, limit: 1 },
        ]
    });
    let others = [
        Error::BodyChanged(entry),
        Error::NotAKey("why"),
        Error::OtherKey { entry, key: log },
        Error::BadSignature(entry),
        Error::OtherSigner { signed: log, key: log },
        Error::SignatureOf(log),
        Error::NotSigned("why".into()),
        Error::OtherLog { expected: log, found: entry },
        Error::OutOfOrder { after: Seq::FIRST, found: entry },
        Error::BrokenChain(entry),
        Error::LogFull,
        Error::Writing("why".into()),
    ];
    let key = record::SecretKey::take(&mut [0xa5; 32]);
    let cose = record::Signer::public(&key).cose().to_vec();
    let found = [
        open(b"\x80").unwrap_err(),
        open(&sign_bytes(b"headmark/page/1", b"\x01", &key).unwrap()).unwrap_err(),
        open_signed(b"headmark/entry/1", b"\x80").unwrap_err(),
        open_signed(b"headmark/page/1", b"\x80").unwrap_err(),
        read_export(&cose).unwrap_err(),
    ];
    of_parts.chain(others).chain(found).collect()
}

#[test]
fn no_sentence_says_how_records_are_kept() {
    for error in errors() {
        let text = error.to_string();
        let mut words = text.split(|letter: char| !letter.is_alphabetic());
        assert!(
            !words.any(|word| ["entry", "entries", "log", "logs", "ledger"].contains(&&*word.to_lowercase())),
            "{text}"
        );
    }
}
