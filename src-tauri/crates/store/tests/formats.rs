//! Files that earlier formats left, opened by this version.
//!
//! Each file under `formats/` was written once, by the version that had that format, and is never made anew: a
//! phone in a drawer holds one like it. What it holds is said here in words, not by the code that wrote it.
#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "a panic here is the message")]

use store::{Claimed, LogId, Opening, PayloadHash, Place, Seq, TagKey};

#[test]
fn format_1() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("headmark.db");
    std::fs::write(&path, include_bytes!("formats/1.db")).unwrap();
    let store = Opening::at(&path).open().unwrap();

    assert_eq!(store.setting("technician").unwrap().as_deref(), Some("A. Marsh"));
    let identity = store.identity().unwrap().unwrap();
    assert_eq!((identity.log, identity.sealed_key), (LogId([7; 32]), vec![9; 48]));

    let name = store.register_name().unwrap().unwrap();
    assert_eq!((name.name.as_str(), name.dated.as_str()), ("Marrowby District Water", "2026-03-02"));
    let listed = store.listed().unwrap();
    assert_eq!(listed.len(), 1);
    assert_eq!((listed[0].tag.as_str(), listed[0].serial.as_str()), ("LT-201", "S-7"));
    assert_eq!(store.instrument(&TagKey("lt201".into())).unwrap().as_deref(), Some(r#"{"tag":"LT-201"}"#));
    assert_eq!(store.tags_of_code("https://example.invalid/q?7").unwrap(), ["LT-201"]);

    let drafts = store.drafts().unwrap();
    assert_eq!(drafts.len(), 1);
    assert_eq!((drafts[0].id.as_str(), drafts[0].saved_at), ("open", Claimed(1_772_000_000_000)));
    assert_eq!(drafts[0].body, r#"{"step":"shift"}"#);

    let second = Place { log: LogId([7; 32]), seq: Seq(2) };
    let entry = store.entry(second).unwrap().unwrap().entry;
    assert_eq!((entry.hash, entry.previous), (PayloadHash([2; 32]), Some(PayloadHash([1; 32]))));
    assert_eq!((entry.kind.0, entry.bytes), (1, b"the second entry".to_vec()));
    let signed = store.signed(9).unwrap();
    assert_eq!(signed.len(), 1);
    assert_eq!((signed[0].place, signed[0].verdict.as_str()), (second, "as left within tolerance"));
}
