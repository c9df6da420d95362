//! Data that earlier versions left on a phone, opened by this one. `upgrade/README.md` says what it holds.
#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "a panic here is the message"
)]

use std::path::Path;

use domain::visit::Choice;
use exchange::session::Ledger;
use field::host::{HostEntropy, KeyFolder};
use field::view::CodeOutcome;
use field::{Opening, Phone, Ports};
use kit::Hands;
use record::{PayloadHash, Seq, read_export};
use store::{Place, Stands};
use tempfile::TempDir;

/// The log that stands in the file.
const LOG: &str = "bd8d863f29585ba2b34268b9c213302d7bf43b7c903513c8fedfb8dc632f1cef";
/// Payloads of its five entries.
const PAYLOADS: [&str; 5] = [
    "646073181ff3c0930856dadb5a3a44f2a467be96e538254c6c34de9663afe621",
    "aeea15a6d6337edf30d5a204955d2e8a8cbf6600abd815cb970d26e6c98f625d",
    "366104900988f3eef03f2c2cb45fa5fdadd41c3e4a6a14fcc970328c99887ef0",
    "81545fbd025b8ac5950214b0bcc59f5da1fee4f7c4adaab82927039525373069",
    "65b88ec5b1c2aa42f21701ed5ed94aceb4b4e2ac292d6b75a63cd00100e1885c",
];

fn fixture(name: &str) -> std::path::PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("upgrade/format-1").join(name)
}

/// A copy of the phone: the fixture itself is never opened.
fn phone_data() -> TempDir {
    let folder = tempfile::tempdir().unwrap();
    std::fs::copy(fixture("headmark.db"), folder.path().join("headmark.db")).unwrap();
    std::fs::create_dir(folder.path().join("keys")).unwrap();
    for key in std::fs::read_dir(fixture("keys")).unwrap() {
        let key = key.unwrap();
        std::fs::copy(key.path(), folder.path().join("keys").join(key.file_name())).unwrap();
    }
    folder
}

fn open(folder: &Path) -> Phone {
    let ports = Ports {
        clock: Box::new(Hands::default()),
        keys: Box::new(KeyFolder::at(folder.join("keys"))),
        entropy: Box::new(HostEntropy),
    };
    Phone::open(Opening::at(folder.join("headmark.db")), folder.join("exports"), ports).unwrap()
}

fn thirty_two(digits: &str) -> [u8; 32] {
    std::array::from_fn(|at| u8::from_str_radix(&digits[2 * at..2 * at + 2], 16).unwrap())
}

fn log() -> store::LogId {
    store::LogId(thirty_two(LOG))
}

#[test]
fn everything_a_person_had_is_there() {
    let folder = phone_data();
    let phone = open(folder.path());
    let home = phone.home().unwrap();
    assert_eq!((home.technician.as_str(), home.instruments), ("Asha Renn", 5));
    assert_eq!(home.register, "Marrowby District Water, level instruments, 2026-11-20");
    let signed: Vec<(&str, &str)> =
        home.signed.iter().map(|line| (line.tag.as_str(), line.verdict.as_str())).collect();
    let not_proved = "Trimmed, not independently proved";
    let expected = [("LT-3107", not_proved), ("LT-3107", not_proved), ("LT-2041", "Within tolerance")];
    assert_eq!(signed, expected);
    assert_eq!(home.drafts.len(), 1);
    assert_eq!((home.drafts[0].tag.as_str(), home.drafts[0].step.as_str()), ("LT-2041", "as_left"));
    phone.visit_open(&home.drafts[0].id).unwrap();
    for line in &home.signed {
        assert_eq!(phone.record(&line.id).unwrap().proof, "Signature checked");
    }
}

#[test]
fn lists_and_proposals_come_from_tables_of_their_own() {
    let folder = phone_data();
    let phone = open(folder.path());
    let work: Vec<(String, String)> =
        phone.lists().unwrap().work.into_iter().map(|hit| (hit.tag, hit.beside)).collect();
    let expected = [("LT-3107", "Due 2026-12-09"), ("LT-4012", "Reads low after the pump was changed")];
    assert_eq!(work, expected.map(|(tag, beside)| (tag.to_owned(), beside.to_owned())));
    // LT-2041 stands at 39.2043, -98.9127.
    let near = phone.near(Some([39.2043, -98.9127]), 5.0).unwrap();
    assert_eq!((near.sites[0].site.as_str(), near.sites[0].away.as_str()), ("Sedge Hill", "0 ft away"));
    let CodeOutcome::Found { tag, .. } = phone.find_code("MDW/ASSET/40117").unwrap() else {
        panic!("not found")
    };
    assert_eq!(tag, "LT-3107");
    assert_eq!(phone.search("LT-3107").unwrap()[0].serial, "MW-30-77001");
}

#[test]
fn entries_stand_to_the_byte_and_their_chain_is_one_run() {
    let folder = phone_data();
    let store = Opening::at(folder.path().join("headmark.db")).open().unwrap();
    for (place, name) in [(1, "visit-1"), (2, "visit-2"), (4, "visit-4")] {
        let file = std::fs::read(fixture(&format!("{name}.headmark"))).unwrap();
        let export = read_export(&file).unwrap();
        let kept = store.entry(Place { log: log(), seq: store::Seq(place) }).unwrap().unwrap();
        assert!(kept.entry.bytes == export.entries[0].bytes, "{name}");
        assert_eq!(store.public_key(log()).unwrap(), Some(export.key));
    }
    for (place, payload) in (1..).zip(PAYLOADS) {
        let place = Place { log: log(), seq: store::Seq(place) };
        assert_eq!(store.entry(place).unwrap().unwrap().entry.hash.0, thirty_two(payload));
        assert_eq!(store.stands(place).unwrap(), Some(Stands::Here));
    }
    let runs = store.runs(log()).unwrap();
    let [run] = runs.all() else { panic!("{runs:?}") };
    assert_eq!((run.from, run.to, run.rooted), (Seq::FIRST, Seq::new(5).unwrap(), true));
    assert_eq!(run.end, PayloadHash(thirty_two(PAYLOADS[4])));
    assert_eq!(Ledger::have(&store).unwrap().0.len(), 1);
    assert_eq!((store.counts().unwrap().visits, store.counts().unwrap().entries_waiting), (3, 5));
}

#[test]
fn the_same_log_goes_on() {
    let folder = phone_data();
    let phone = open(folder.path());
    let CodeOutcome::Unknown { code, .. } = phone.find_code("MDW/ASSET/9").unwrap() else { panic!("known") };
    phone.link("LT-4012", &code).unwrap();
    phone.suspend().unwrap();
    let store = Opening::at(folder.path().join("headmark.db")).open().unwrap();
    assert_eq!(store.tip(log()).unwrap().unwrap().seq, store::Seq(6));
}

#[test]
fn a_phone_restored_from_a_backup_of_the_old_file_begins_a_new_log() {
    let folder = phone_data();
    std::fs::remove_dir_all(folder.path().join("keys")).unwrap();
    let phone = open(folder.path());
    assert_eq!(phone.home().unwrap().drafts.len(), 1);
    phone.visit_begin("LT-4012", Choice::ByList, "").unwrap();
    drop(phone);
    let store = Opening::at(folder.path().join("headmark.db")).open().unwrap();
    let own = store.own_logs().unwrap();
    assert_eq!((own.len(), own[0]), (2, log()));
}

/// An upgrade that does not fit leaves the file as it was, format and all.
#[test]
fn an_upgrade_without_room_changes_nothing_and_is_made_up_for() {
    let folder = phone_data();
    let path = folder.path().join("headmark.db");
    let pages = u32::try_from(std::fs::metadata(&path).unwrap().len() / 4096).unwrap();
    let error = Opening::at(&path).most_pages(pages + 3).open().err().unwrap();
    assert!(matches!(error, store::Error::Full), "{error}");
    let plain = rusqlite::Connection::open(&path).unwrap();
    let format: u32 = plain.query_row("PRAGMA user_version", [], |row| row.get(0)).unwrap();
    assert_eq!(format, 1);
    drop(plain);
    let store = Opening::at(&path).open().unwrap();
    assert_eq!(store.runs(log()).unwrap().all().len(), 1);
}

/// A damaged file of the old format is taken over into one of the new.
#[test]
fn a_damaged_old_file_is_taken_over() {
    let folder = phone_data();
    let path = folder.path().join("headmark.db");
    let mut bytes = std::fs::read(&path).unwrap();
    // The first page holds the map to all others.
    bytes[..4096].fill(0);
    std::fs::write(&path, bytes).unwrap();
    let phone = open(folder.path());
    let home = phone.home().unwrap();
    assert_eq!((home.signed.len(), home.drafts.len(), home.instruments), (3, 1, 5));
    assert_eq!(home.technician, "Asha Renn");
    let said = home.messages.iter().find(|message| message.code == "store.put_aside").unwrap();
    assert!(said.text.contains("5 signed records, 1 open visit, 5 instruments"), "{}", said.text);
    for line in &home.signed {
        assert_eq!(phone.record(&line.id).unwrap().proof, "Signature checked");
    }
    // Its end may be lost, so nothing is written behind it: the key is still there and is not used.
    drop(phone);
    let store = Opening::at(&path).open().unwrap();
    let own = store.own_logs().unwrap();
    assert_eq!((own.len(), own[0]), (2, log()));
    assert_eq!(store.identity().unwrap().unwrap().log, own[1]);
}
