//! `kill -9` while visits are being filled in and signed.
//!
//! The test starts this test program again as a child that saves and signs as fast as it can, saying each
//! thing once the store has acknowledged it. The child is killed at a random moment, thirty times on one file, or more often
//! where a busy machine lets it do little in a life; each time all that it had said must be there.

use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Duration;

use faults_vfs::chance::Chance;
use store::{Appended, Draft, NewEntry, Opening, PayloadHash, Place, Seq, SignedVisit, Store, TagKey};

use crate::story::{LOG, draft, entry};

/// Tells the child where its file is.
const FILE: &str = "HEADMARK_TEST_CHILD_FILE";

/// How often the child is killed, at the least.
const LIVES: u32 = 30;

/// How many visits have to be signed in all of its lives for the test to have tried anything.
const ENOUGH: u64 = 30;

/// Inputs to a visit before it is signed.
const INPUTS: u64 = 5;

#[test]
fn nothing_said_to_be_saved_is_lost_when_the_process_is_killed() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("headmark.db");
    let mut chance = Chance::from(9);
    let mut said = Said::default();
    let mut lives = 0;
    while lives < LIVES || (said.signed <= ENOUGH && lives < 10 * LIVES) {
        lives += 1;
        let now = one_life(&path, Duration::from_millis(chance.below(60)));
        said = Said { signed: now.signed.max(said.signed), input: now.input.or(said.input) };
        let store = Opening::at(&path).open().unwrap();
        said.must_be_in(&store, lives);
    }
    println!("{} visits signed over {lives} lives", said.signed);
    assert!(said.signed > ENOUGH, "the children hardly did anything: {} visits", said.signed);
}

/// What the child said last of each kind.
#[derive(Default)]
struct Said {
    signed: u64,
    /// The visit and its input.
    input: Option<(u64, u64)>,
}

impl Said {
    fn must_be_in(&self, store: &Store, round: u32) {
        let chain = store.entries(Place { log: *LOG, seq: Seq::FIRST }, u32::MAX).unwrap();
        assert!(chain.len() as u64 >= self.signed, "round {round}: a signed visit is gone");
        for (pair, seq) in chain.windows(2).zip(2..) {
            assert_eq!(pair[1].entry.place.seq, Seq(seq));
            assert_eq!(pair[1].entry.previous, Some(pair[0].entry.hash));
        }
        assert_eq!(store.signed_count().unwrap() as usize, chain.len(), "round {round}");
        let Some((visit, input)) = self.input else { return };
        if visit > chain.len() as u64 {
            let kept = store.draft(&visit.to_string()).unwrap().unwrap();
            assert!(kept.saved_at.0 >= input as i64, "round {round}: input {input} of visit {visit} is gone");
        }
    }
}

/// Starts a child, kills it this long after its first word, and returns what it had said.
fn one_life(path: &Path, time: Duration) -> Said {
    let mut child = Command::new(std::env::current_exe().unwrap())
        .args(["--exact", "kill::the_child", "--ignored", "--nocapture", "--test-threads=1"])
        .env(FILE, path)
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let mut lines = BufReader::new(child.stdout.take().unwrap()).lines().map(Result::unwrap);
    let _ready = lines.find(|line| line.ends_with("ready")).unwrap();
    std::thread::sleep(time);
    child.kill().unwrap();
    let mut said = Said::default();
    for line in lines {
        // The last line may be cut short by the kill; it was acknowledged all the same only if it is whole.
        match line.split(' ').collect::<Vec<_>>()[..] {
            ["signed", visit, "."] => said.signed = visit.parse().unwrap(),
            ["saved", visit, input, "."] => {
                said.input = Some((visit.parse().unwrap(), input.parse().unwrap()))
            }
            _ => {}
        }
    }
    child.wait().unwrap();
    said
}

#[test]
#[ignore = "the child of the test above, which starts it by name"]
fn the_child() {
    let path = std::env::var_os(FILE).unwrap();
    let store = Opening::at(path).open().unwrap();
    say("ready");
    let mut visit = store.tip(*LOG).unwrap().map_or(0, |tip| tip.seq.0);
    loop {
        visit += 1;
        let kept = store.draft(&visit.to_string()).unwrap().map_or(0, |draft| draft.saved_at.0 as u64);
        for input in kept + 1..=INPUTS {
            store.save_draft(&numbered(visit, input)).unwrap();
            say(&format!("saved {visit} {input} ."));
        }
        let signed = store.sign(&visit.to_string(), &chained(visit), &line(visit)).unwrap();
        assert!(matches!(signed, Appended::New(_)));
        say(&format!("signed {visit} ."));
    }
}

fn say(what: &str) {
    let mut out = std::io::stdout().lock();
    writeln!(out, "{what}").unwrap();
    out.flush().unwrap();
}

fn numbered(visit: u64, input: u64) -> Draft {
    Draft { id: visit.to_string(), saved_at: store::Claimed(input as i64), ..draft(1, input as usize) }
}

fn hash(visit: u64) -> PayloadHash {
    let mut hash = [0; 32];
    hash[..8].copy_from_slice(&visit.to_be_bytes());
    PayloadHash(hash)
}

fn chained(visit: u64) -> NewEntry {
    NewEntry {
        place: Place { log: *LOG, seq: Seq(visit) },
        hash: hash(visit),
        previous: (visit > 1).then(|| hash(visit - 1)),
        ..entry(1)
    }
}

fn line(visit: u64) -> SignedVisit {
    SignedVisit {
        place: Place { log: *LOG, seq: Seq(visit) },
        tag_key: TagKey("lt201".into()),
        tag: "LT-201".into(),
        service: String::new(),
        site: String::new(),
        signed_at: store::Claimed(0),
        verdict: String::new(),
    }
}
