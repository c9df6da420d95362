//! What the store says it does, on a real file.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a panic here is the message")]

use rstest::{fixture, rstest};
use store::{
    Appended, Claimed, Draft, Error, Identity, InstrumentRow, Kind, Listed, LogId, NewEntry, Opening,
    PayloadHash, Place, RegisterName, Seq, SignedVisit, Store, TagKey,
};

const LOG: LogId = LogId([7; 32]);

/// A store in a folder of its own.
struct Phone {
    folder: tempfile::TempDir,
    store: Store,
}

impl Phone {
    fn path(&self) -> std::path::PathBuf {
        self.folder.path().join("headmark.db")
    }
}

#[fixture]
fn phone() -> Phone {
    let folder = tempfile::tempdir().unwrap();
    let store = Opening::at(folder.path().join("headmark.db")).open().unwrap();
    Phone { folder, store }
}

fn hash(of: u8) -> PayloadHash {
    PayloadHash([of; 32])
}

/// The entry at a place; `payload` stands for what it says.
fn entry(seq: u64, payload: u8, previous: Option<u8>) -> NewEntry {
    NewEntry {
        place: Place { log: LOG, seq: Seq(seq) },
        hash: hash(payload),
        previous: previous.map(hash),
        kind: Kind(1),
        bytes: vec![payload; 40],
    }
}

fn draft(id: &str, body: &str) -> Draft {
    Draft { id: id.into(), tag: "LT-201".into(), body: body.into(), saved_at: Claimed(1) }
}

fn visit(seq: u64, key: &str) -> SignedVisit {
    SignedVisit {
        place: Place { log: LOG, seq: Seq(seq) },
        tag_key: TagKey(key.into()),
        tag: key.to_uppercase(),
        service: "Level".into(),
        site: "Sedge Hill".into(),
        signed_at: Claimed(5),
        verdict: "within tolerance".into(),
    }
}

fn instrument(key: &str, codes: &[&str]) -> InstrumentRow {
    InstrumentRow {
        listed: Listed {
            key: TagKey(key.into()),
            tag: key.to_uppercase(),
            service: "Level".into(),
            site: "Cold Ash".into(),
            serial: format!("S-{key}"),
        },
        codes: codes.iter().map(|&code| code.into()).collect(),
        body: format!("{{\"tag\":\"{key}\"}}"),
    }
}

fn register() -> RegisterName {
    RegisterName { name: "Marrowby District Water".into(), dated: "2026-03-02".into() }
}

#[rstest]
fn a_chain_grows_and_is_read_back_exactly(phone: Phone) {
    let first = entry(1, 1, None);
    let second = entry(2, 2, Some(1));
    assert!(matches!(phone.store.append(&first).unwrap(), Appended::New(_)));
    assert!(matches!(phone.store.append(&second).unwrap(), Appended::New(_)));
    assert_eq!(phone.store.tip(LOG).unwrap().unwrap().seq, Seq(2));
    assert_eq!(phone.store.tip(LogId([8; 32])).unwrap(), None);
    assert_eq!(phone.store.entry(second.place).unwrap().unwrap().entry, second);
    let chain: Vec<_> = phone.store.entries(first.place, 9).unwrap().into_iter().map(|e| e.entry).collect();
    assert_eq!(chain, [first, second]);
    let newest = phone.store.newest(None, 1).unwrap();
    assert_eq!(newest[0].entry.place.seq, Seq(2));
    assert_eq!(phone.store.newest(Some(newest[0].arrival), 9).unwrap()[0].entry.place.seq, Seq(1));
}

#[rstest]
#[case::a_gap(entry(3, 3, Some(1)))]
#[case::another_previous(entry(2, 3, Some(9)))]
#[case::no_previous(entry(2, 3, None))]
fn an_entry_that_does_not_follow_is_refused(phone: Phone, #[case] wrong: NewEntry) {
    phone.store.append(&entry(1, 1, None)).unwrap();
    let error = phone.store.append(&wrong).unwrap_err();
    assert!(matches!(error, Error::OutOfStep { expected: Seq(2) }), "{error}");
    assert_eq!(phone.store.newest(None, 9).unwrap().len(), 1);
}

#[rstest]
#[case::at_a_later_place(entry(2, 1, None))]
#[case::with_a_previous(entry(1, 1, Some(1)))]
#[case::at_place_nought(entry(0, 1, None))]
fn a_log_begins_at_its_first_place(phone: Phone, #[case] wrong: NewEntry) {
    let error = phone.store.append(&wrong).unwrap_err();
    assert!(matches!(error, Error::OutOfStep { expected: Seq::FIRST }), "{error}");
}

#[rstest]
fn the_same_entry_twice_is_there_once_and_another_at_its_place_is_refused(phone: Phone) {
    let first = phone.store.append(&entry(1, 1, None)).unwrap();
    let again = phone.store.append(&entry(1, 1, None)).unwrap();
    assert_eq!(again, Appended::Already(first.arrival()));
    let error = phone.store.append(&entry(1, 2, None)).unwrap_err();
    assert!(matches!(error, Error::Taken { .. }), "{error}");
    assert_eq!(phone.store.entry(entry(1, 1, None).place).unwrap().unwrap().entry.hash, hash(1));
}

#[rstest]
#[case::update("UPDATE entry SET kind = 2")]
#[case::delete("DELETE FROM entry")]
#[case::replace(
    "INSERT OR REPLACE INTO entry (arrival, log, seq, hash, previous, kind, bytes, seal) \
     SELECT arrival, log, seq, hash, previous, 2, bytes, seal FROM entry"
)]
fn no_sql_changes_or_removes_an_entry(phone: Phone, #[case] sql: &str) {
    phone.store.append(&entry(1, 1, None)).unwrap();
    phone.store.suspend().unwrap();
    let other = rusqlite::Connection::open(phone.path()).unwrap();
    other.pragma_update(None, "recursive_triggers", true).unwrap();
    let error = other.execute(sql, []).unwrap_err();
    assert!(error.to_string().contains("an entry of the log is never"), "{error}");
}

#[rstest]
fn drafts_stand_in_the_order_they_were_saved_whatever_the_clock_says(phone: Phone) {
    phone.store.save_draft(&Draft { saved_at: Claimed(900), ..draft("a", "1") }).unwrap();
    phone.store.save_draft(&Draft { saved_at: Claimed(-5), ..draft("b", "2") }).unwrap();
    let ids = |phone: &Phone| phone.store.drafts().unwrap().into_iter().map(|d| d.id).collect::<Vec<_>>();
    assert_eq!(ids(&phone), ["b", "a"]);
    phone.store.save_draft(&draft("a", "3")).unwrap();
    assert_eq!(ids(&phone), ["a", "b"]);
    assert_eq!(phone.store.draft("a").unwrap(), Some(draft("a", "3")));
    phone.store.discard("a").unwrap();
    assert_eq!(phone.store.draft("a").unwrap(), None);
    assert!(matches!(phone.store.discard("a").unwrap_err(), Error::NoDraft { .. }));
}

#[rstest]
fn signing_moves_a_visit_from_the_drafts_to_the_log(phone: Phone) {
    phone.store.save_draft(&draft("a", "1")).unwrap();
    phone.store.sign("a", &entry(1, 1, None), &visit(1, "lt201")).unwrap();
    assert_eq!(phone.store.drafts().unwrap(), []);
    assert_eq!(phone.store.signed(9).unwrap(), [visit(1, "lt201")]);
    assert_eq!(phone.store.signed_of(&TagKey("lt201".into()), 9).unwrap(), [visit(1, "lt201")]);
    assert_eq!(phone.store.signed_of(&TagKey("lt202".into()), 9).unwrap(), []);
    assert_eq!(phone.store.signed_at(entry(1, 1, None).place).unwrap(), Some(visit(1, "lt201")));
    let again = phone.store.sign("a", &entry(1, 1, None), &visit(1, "lt201")).unwrap();
    assert!(matches!(again, Appended::Already(_)));
    assert_eq!(phone.store.signed_count().unwrap(), 1);
}

#[rstest]
#[case::out_of_step("a", entry(2, 2, None))]
#[case::no_such_draft("b", entry(1, 1, None))]
fn a_refused_signature_changes_nothing(phone: Phone, #[case] id: &str, #[case] new: NewEntry) {
    phone.store.save_draft(&draft("a", "1")).unwrap();
    phone.store.sign(id, &new, &visit(new.place.seq.0, "lt201")).unwrap_err();
    assert_eq!(phone.store.drafts().unwrap(), [draft("a", "1")]);
    assert_eq!(phone.store.newest(None, 9).unwrap(), []);
    assert_eq!(phone.store.signed(9).unwrap(), []);
}

#[rstest]
fn the_list_of_signed_visits_is_made_anew_from_the_log(phone: Phone) {
    for seq in 1..=3u8 {
        let id = format!("d{seq}");
        phone.store.save_draft(&draft(&id, "1")).unwrap();
        let previous = (seq > 1).then(|| seq - 1);
        phone.store.sign(&id, &entry(seq.into(), seq, previous), &visit(seq.into(), "old")).unwrap();
    }
    let rows = phone
        .store
        .rebuild_signed(|entry| {
            let seq = entry.entry.place.seq.0;
            (seq != 2).then(|| visit(seq, "new"))
        })
        .unwrap();
    assert_eq!(rows, 2);
    assert_eq!(phone.store.signed(9).unwrap(), [visit(3, "new"), visit(1, "new")]);
}

#[rstest]
fn a_register_is_found_by_tag_and_by_code(phone: Phone) {
    let rows = [
        instrument("lt202", &["https://example.invalid/q?7", "shared"]),
        instrument("lt201", &["shared", "shared"]),
    ];
    assert_eq!(phone.store.register_name().unwrap(), None);
    assert_eq!(phone.store.load_register(&register(), rows.clone()).unwrap(), 2);
    assert_eq!(phone.store.register_name().unwrap(), Some(register()));
    assert_eq!(phone.store.instrument_count().unwrap(), 2);
    let [second, first] = rows;
    assert_eq!(phone.store.instrument(&first.listed.key).unwrap(), Some(first.body));
    assert_eq!(phone.store.instrument(&TagKey("lt20".into())).unwrap(), None);
    assert_eq!(phone.store.listed().unwrap(), [first.listed, second.listed]);
    assert_eq!(phone.store.tags_of_code("https://example.invalid/q?7").unwrap(), ["LT202"]);
    assert_eq!(phone.store.tags_of_code("shared").unwrap(), ["LT201", "LT202"]);
    for near in ["Shared", "shared ", "share", ""] {
        assert_eq!(phone.store.tags_of_code(near).unwrap(), [""; 0], "{near:?}");
    }
}

#[rstest]
fn a_register_is_replaced_whole_or_not_at_all(phone: Phone) {
    phone.store.load_register(&register(), [instrument("lt201", &["one"])]).unwrap();
    let twice = [instrument("lt300", &["two"]), instrument("lt300", &[])];
    let error = phone.store.load_register(&register(), twice).unwrap_err();
    assert!(matches!(&error, Error::TagTwice { tag } if tag == "LT300"), "{error}");
    assert_eq!(phone.store.tags_of_code("one").unwrap(), ["LT201"]);
    phone.store.load_register(&register(), [instrument("lt400", &["four"])]).unwrap();
    assert_eq!(phone.store.tags_of_code("one").unwrap(), [""; 0]);
    assert_eq!(phone.store.instrument_count().unwrap(), 1);
}

#[rstest]
fn what_belongs_to_a_register_comes_and_fails_with_it(phone: Phone) {
    let rows = [instrument("lt201", &["one"])];
    phone.store.load_register_with(&register(), rows, &[("sensors", "old")]).unwrap();
    let twice = [instrument("lt300", &["two"]), instrument("lt300", &[])];
    phone.store.load_register_with(&register(), twice, &[("sensors", "new")]).unwrap_err();
    assert_eq!(phone.store.setting("sensors").unwrap().as_deref(), Some("old"));
    let rows = [instrument("lt400", &[])];
    phone.store.load_register_with(&register(), rows, &[("sensors", "new")]).unwrap();
    assert_eq!(phone.store.setting("sensors").unwrap().as_deref(), Some("new"));
}

#[rstest]
fn settings_and_the_identity_outlive_a_suspend(phone: Phone) {
    assert_eq!(phone.store.setting("theme").unwrap(), None);
    phone.store.set(&[("theme", "sun"), ("technician", "")]).unwrap();
    phone.store.set(&[("theme", "dark")]).unwrap();
    assert_eq!(phone.store.identity().unwrap(), None);
    for log in [1, 2] {
        let identity = Identity { log: LogId([log; 32]), sealed_key: vec![log; 48] };
        phone.store.add_identity(&identity).unwrap();
    }
    phone.store.suspend().unwrap();
    phone.store.suspend().unwrap();
    assert_eq!(phone.store.setting("theme").unwrap().as_deref(), Some("dark"));
    assert_eq!(phone.store.setting("technician").unwrap().as_deref(), Some(""));
    assert_eq!(phone.store.identity().unwrap().unwrap().log, LogId([2; 32]));
}

#[rstest]
fn a_suspend_leaves_one_plain_file(phone: Phone) {
    phone.store.save_draft(&draft("a", "1")).unwrap();
    phone.store.checkpoint().unwrap();
    phone.store.suspend().unwrap();
    let names: Vec<_> =
        std::fs::read_dir(phone.folder.path()).unwrap().map(|file| file.unwrap().file_name()).collect();
    assert_eq!(names, ["headmark.db"]);
}

#[rstest]
fn threads_share_one_store(phone: Phone) {
    std::thread::scope(|scope| {
        for thread in 0..4 {
            let store = &phone.store;
            scope.spawn(move || {
                for round in 0..20 {
                    store.save_draft(&draft(&format!("{thread}"), &format!("{round}"))).unwrap();
                }
            });
        }
    });
    assert!(phone.store.drafts().unwrap().iter().all(|draft| draft.body == "19"));
}

#[rstest]
fn a_second_process_is_told_that_the_data_is_open(phone: Phone) {
    let error = Opening::at(phone.path()).open().err().unwrap();
    assert!(matches!(error, Error::Busy), "{error}");
    phone.store.suspend().unwrap();
    Opening::at(phone.path()).open().unwrap();
}

#[rstest]
fn a_folder_that_is_not_there_is_an_error_of_the_storage(phone: Phone) {
    let error = Opening::at(phone.folder.path().join("no/such.db")).open().err().unwrap();
    assert!(matches!(error, Error::Io { .. }), "{error}");
}
