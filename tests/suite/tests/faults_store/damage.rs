//! Damage to the file itself: each page in turn, in several ways.
//!
//! Opening must not panic and must not begin anew in silence. Either it says that the file is damaged and
//! keeps it, byte for byte, under another name; or it opens, and then each answer is the truth or an error.

use std::path::Path;

use faults_vfs::chance::Chance;
use rstest::rstest;
use store::{Error, Opening};

use crate::story::{Deed, day, draft};
use crate::taken_over::{self, Tally};
use crate::truth::Truth;

const PAGE: usize = 4096;

/// Plays the day on a real file and returns its bytes with what they hold.
fn a_day_old_file() -> (Vec<u8>, Truth) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("headmark.db");
    let store = Opening::at(&path).open().unwrap();
    let deeds = day();
    deeds.iter().for_each(|deed| deed.on(&store).unwrap());
    store.suspend().unwrap();
    let truth = Truth::along(&deeds).pop().unwrap();
    assert_eq!(Truth::of(&store).unwrap(), truth);
    store.suspend().unwrap();
    (std::fs::read(&path).unwrap(), truth)
}

/// Plays the day and returns the file and its write-ahead log as they are while the store is open.
fn a_file_in_use() -> (Vec<u8>, Vec<u8>) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("headmark.db");
    let store = Opening::at(&path).open().unwrap();
    // Without the last suspends, so that the log is long and the file lacks much.
    for deed in day().iter().filter(|deed| !matches!(deed, Deed::Suspend | Deed::Checkpoint)) {
        deed.on(&store).unwrap();
    }
    store.checkpoint().unwrap();
    for inputs in 0..6 {
        store.save_draft(&draft(9, inputs)).unwrap();
    }
    (std::fs::read(&path).unwrap(), std::fs::read(folder.path().join("headmark.db-wal")).unwrap())
}

/// Opens a file of these bytes; returns whether it was put aside.
fn survive(bytes: &[u8], truth: &Truth, what: &str) -> bool {
    survived(bytes, truth, &mut Tally::default(), what)
}

/// The same, noting what could not be taken over.
fn survived(bytes: &[u8], truth: &Truth, tally: &mut Tally, what: &str) -> bool {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("headmark.db");
    std::fs::write(&path, bytes).unwrap();
    match Opening::at(&path).open() {
        Ok(store) => {
            truth.errors_of(&store, what);
            false
        }
        Err(Error::Damaged { kept_at, .. }) => {
            assert!(std::fs::read(&kept_at).unwrap() == bytes, "{what}: it was not kept as it was");
            begins_anew(&path, what);
            taken_over::compare(&path, &kept_at, truth, tally, what);
            assert!(std::fs::read(&kept_at).unwrap() == bytes, "{what}: taking over changed it");
            true
        }
        Err(Error::Newer { .. }) => {
            assert!(std::fs::read(&path).unwrap() == bytes, "{what}: a newer file was touched");
            false
        }
        Err(other) => panic!("{what}: {other}"),
    }
}

fn begins_anew(path: &Path, what: &str) {
    let fresh = Opening::at(path).open().unwrap();
    assert_eq!(Truth::of(&fresh).unwrap(), Truth::default(), "{what}");
}

#[rstest]
#[case::zeros(|page: &mut [u8], _: &mut Chance| page.fill(0))]
#[case::ones(|page: &mut [u8], _: &mut Chance| page.fill(0xff))]
#[case::noise(|page: &mut [u8], chance: &mut Chance| chance.noise(page))]
#[case::a_torn_half(|page: &mut [u8], chance: &mut Chance| chance.noise(&mut page[PAGE / 2..]))]
#[case::a_lost_sector(|page: &mut [u8], chance: &mut Chance| {
    let at = 512 * chance.below(8) as usize;
    page[at..at + 512].fill(0);
})]
fn a_page_overwritten_is_noticed_or_does_no_harm(#[case] hurt: fn(&mut [u8], &mut Chance)) {
    let (bytes, truth) = a_day_old_file();
    let mut kept = 0;
    let mut tally = Tally::default();
    for page in 0..bytes.len() / PAGE {
        let mut hurt_bytes = bytes.clone();
        let mut chance = Chance::from(page as u64);
        hurt(&mut hurt_bytes[page * PAGE..(page + 1) * PAGE], &mut chance);
        kept += usize::from(survived(&hurt_bytes, &truth, &mut tally, &format!("page {page}")));
    }
    println!("{kept} of {} damaged files were put aside", bytes.len() / PAGE);
    assert!(kept > 5, "only {kept} were put aside");
    tally.nothing_lost_that_could_be_read();
}

/// A page that is sound in itself but belongs elsewhere: what a storage does that writes to the wrong place.
#[test]
fn a_page_that_holds_another_page_is_noticed_or_does_no_harm() {
    let (bytes, truth) = a_day_old_file();
    let pages = bytes.len() / PAGE;
    for page in 0..pages {
        for other in [(page + 1) % pages, (page * 7 + 3) % pages] {
            let mut hurt = bytes.clone();
            hurt.copy_within(other * PAGE..(other + 1) * PAGE, page * PAGE);
            survive(&hurt, &truth, &format!("page {page} holding page {other}"));
        }
    }
}

/// A tree without a row is one page that holds nothing. Where that page is of the wrong sort SQLite's check says nothing, and
/// every use of the tree fails, at each start again.
#[test]
fn an_empty_tree_of_the_wrong_sort_is_put_aside() {
    const SORTS: [u8; 2] = [0x0a, 0x0d];
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("headmark.db");
    Opening::at(&path).open().unwrap().suspend().unwrap();
    let bytes = std::fs::read(&path).unwrap();
    let mut tried = 0;
    for at in (PAGE..bytes.len()).step_by(PAGE) {
        let mut hurt = bytes.clone();
        let Some(sort) = SORTS.iter().position(|sort| *sort == hurt[at]) else { continue };
        hurt[at] = SORTS[1 - sort];
        assert!(survive(&hurt, &Truth::default(), "fresh"), "page {} was not noticed", at / PAGE + 1);
        tried += 1;
    }
    assert!(tried > 40, "only {tried} trees");
}

/// Single letters that turn, which no check of SQLite's sees inside a row.
#[test]
fn a_bit_that_turned_is_noticed_or_does_no_harm() {
    let (bytes, truth) = a_day_old_file();
    let mut chance = Chance::from(77);
    for page in 0..bytes.len() / PAGE {
        for _ in 0..12 {
            let at = page * PAGE + chance.below(PAGE as u64) as usize;
            let mut hurt = bytes.clone();
            hurt[at] ^= 1 << chance.below(8);
            survive(&hurt, &truth, &format!("byte {at}"));
        }
    }
}

#[test]
fn a_damaged_file_in_use_is_put_aside_with_its_log() {
    let (file, log) = a_file_in_use();
    let (mut kept, mut newest) = (0, 0);
    for page in 0..file.len() / PAGE {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("headmark.db");
        let mut hurt = file.clone();
        hurt[page * PAGE..(page + 1) * PAGE].fill(0xff);
        std::fs::write(&path, &hurt).unwrap();
        std::fs::write(folder.path().join("headmark.db-wal"), &log).unwrap();
        match Opening::at(&path).open() {
            // The log holds a later copy of the page, or nothing uses it.
            Ok(store) => assert_eq!(store.draft("visit-9").unwrap(), Some(draft(9, 5)), "page {page}"),
            Err(Error::Damaged { kept_at, what }) => {
                kept += 1;
                let log_at = folder.path().join("headmark.db.damaged-1-wal");
                assert_eq!(kept_at, folder.path().join("headmark.db.damaged-1"));
                assert!(std::fs::read(kept_at).unwrap() == hurt, "page {page}: the file was touched, {what}");
                assert!(std::fs::read(log_at).unwrap() == log, "page {page}: the log was touched");
                let store = Opening::at(&path).open().unwrap();
                store.salvage(&folder.path().join("headmark.db.damaged-1")).unwrap();
                newest += usize::from(store.draft("visit-9").unwrap() == Some(draft(9, 5)));
            }
            Err(other) => panic!("page {page}: {other}"),
        }
    }
    assert!(kept > 5, "only {kept} were put aside");
    // Its newest pages stand in the log, which was not hurt.
    assert_eq!(newest, kept, "the draft that was saved last is in the log");
}

/// SQLite cannot tell a spoilt log from one that a power cut left short: it reads up to the spoilt place. So
/// what is there is what was there after some earlier save, whole; the limit is stated where the store begins.
#[test]
fn a_spoilt_log_ends_at_a_whole_earlier_save() {
    let (file, log) = a_file_in_use();
    let frame = 24 + PAGE;
    let mut seen = std::collections::BTreeSet::new();
    for at in (32..log.len()).step_by(frame) {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("headmark.db");
        let mut hurt = log.clone();
        hurt[at + 100] ^= 0x10;
        std::fs::write(&path, &file).unwrap();
        std::fs::write(folder.path().join("headmark.db-wal"), &hurt).unwrap();
        let store = Opening::at(&path).open().unwrap();
        let found = store.draft("visit-9").unwrap().unwrap();
        let inputs = (0..6).find(|&inputs| found == draft(9, inputs));
        seen.insert(inputs.unwrap_or_else(|| panic!("byte {at}: no draft that was ever saved")));
    }
    assert!(seen.len() > 3, "the log was never cut in between: {seen:?}");
}

#[test]
fn a_file_cut_short_is_put_aside() {
    let (bytes, truth) = a_day_old_file();
    for pages in 1..bytes.len() / PAGE {
        assert!(survive(&bytes[..pages * PAGE], &truth, &format!("{pages} pages")), "{pages} pages");
    }
}

#[rstest]
#[case::a_letter(b"Dear colleague, this is no database. It has more than a hundred bytes, as SQLite reads so many \
                   of them before it says that a file is none of its own.".to_vec())]
#[case::another_programs_database(foreign())]
fn a_file_that_is_none_of_ours_is_put_aside(#[case] bytes: Vec<u8>) {
    assert!(survive(&bytes, &Truth::default(), "foreign"));
}

fn foreign() -> Vec<u8> {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("other.db");
    let other = rusqlite::Connection::open(&path).unwrap();
    other.execute_batch("CREATE TABLE draft (id INTEGER); PRAGMA user_version = 1;").unwrap();
    drop(other);
    std::fs::read(path).unwrap()
}

#[test]
fn a_file_of_a_newer_version_is_left_alone() {
    let (mut bytes, truth) = a_day_old_file();
    // SQLite's file format: the user version stands at byte 60, most significant byte first.
    bytes[60..64].copy_from_slice(&7u32.to_be_bytes());
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("headmark.db");
    std::fs::write(&path, &bytes).unwrap();
    let error = Opening::at(&path).open().err().unwrap();
    assert!(matches!(error, Error::Newer { found: 7, known: 2 }), "{error}");
    assert!(!survive(&bytes, &truth, "newer"));
}

/// A newer version may describe a table in words that this one's SQLite does not know.
#[test]
fn a_newer_file_that_cannot_be_understood_is_left_alone_too() {
    let (mut bytes, truth) = a_day_old_file();
    bytes[60..64].copy_from_slice(&7u32.to_be_bytes());
    let words = b"CREATE TABLE setting";
    let at = bytes.windows(words.len()).position(|window| window == words).unwrap();
    bytes[at..at + words.len()].copy_from_slice(b"CREATE FABLE setting");
    assert!(!survive(&bytes, &Truth::default(), "newer and strange"));
    bytes[60..64].copy_from_slice(&2u32.to_be_bytes());
    assert!(survive(&bytes, &truth, "strange"), "without the newer number it is damage");
}
