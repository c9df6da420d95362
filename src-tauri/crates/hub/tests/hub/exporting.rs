//! An export that is longer than one file may be.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use exchange::bundle::{self, MOST, Piece};
use exchange::intake;
use exchange::packed;
use exchange::trust::Trust;
use hubstore::{Arrival, Filter, Ledger, Limit};
use record::{EntryId, Kind, LogId, Strict};

use crate::phone::Phone;
use crate::world::World;

const MIB: usize = 1 << 20;

/// A hub with three phones, of which each has signed so many long records.
async fn long(each: u8) -> (World, Vec<Phone>) {
    let world = World::new().await;
    let mut phones: Vec<Phone> = [1, 2, 3].map(|byte| Phone::with(byte, 0)).into();
    for phone in &mut phones {
        world.enrol(phone, &[]).await;
        for number in 0..each {
            // A text of 200 KiB: CBOR's head, then letters.
            let body = [&[0x7a, 0x00, 0x03, 0x20, 0x00][..], &vec![b'a' + number % 26; 0x0003_2000]].concat();
            phone.sign(Kind(4_000), 1, &body);
        }
        phone.sends(&world).await;
    }
    (world, phones)
}

async fn held(world: &World) -> BTreeSet<EntryId> {
    let (all, much) = (Filter::default(), Limit { entries: 9_999, bytes: 1 << 30 });
    let news = world.hub.store.since(Arrival(0), &all, much).await.unwrap();
    news.entries.into_iter().map(|entry| entry.id).collect()
}

/// What is in a file: how long it is unpacked, each record with how often it is there, and whom it lets trust.
fn opened(file: &Path, root: LogId) -> (usize, BTreeMap<EntryId, usize>, Trust) {
    let unpacked = packed::unpack(&std::fs::read(file).unwrap(), MOST).unwrap();
    let (pieces, cut) = bundle::read(&unpacked).unwrap();
    assert_eq!(cut, None);
    assert!(pieces.iter().any(|piece| matches!(piece, Piece::Key(_))));
    let intake = intake::bundle(&pieces, |_| None, &Strict);
    assert!(intake.bad.is_empty(), "{:?}", intake.bad);
    let mut trust = Trust::rooted_in(root);
    trust.learn(&intake.entries);
    let mut ids = BTreeMap::new();
    intake.entries.iter().for_each(|entry| *ids.entry(entry.id).or_default() += 1);
    (unpacked.len(), ids, trust)
}

#[tokio::test]
async fn what_is_longer_than_the_bound_goes_into_files_that_prove_by_themselves() {
    let (world, phones) = long(4).await;
    let at = |name: &str| world.folder.path().join(name);
    let file = at("all.bundle");
    let said = world.says(&["export", file.to_str().unwrap(), "--most", "1"]);
    let files: Vec<_> =
        (1..).map(|number| at(&format!("all-{number}.bundle"))).take_while(|file| file.exists()).collect();
    assert!(files.len() >= 3 && !file.exists() && !at("all.bundle.part").exists(), "{said}");
    assert!(said.contains(&format!("in these {} files", files.len())), "{said}");
    let root = world.hub.organisation().log();
    let mut all = BTreeSet::new();
    for file in &files {
        assert!(said.contains(file.to_str().unwrap()), "{said}");
        let (length, ids, trust) = opened(file, root);
        assert!(length <= MIB, "{length}");
        assert!(ids.values().all(|times| *times == 1), "none stands twice in one file");
        for log in ids.keys().map(|id| id.log).filter(|log| phones.iter().any(|phone| phone.log() == *log)) {
            assert!(trust.device(log).is_some(), "what vouches for {log} is in the same file");
        }
        all.extend(ids.into_keys());
        let proved = world.says(&["verify", file.to_str().unwrap()]);
        assert!(proved.contains("Nothing fails."), "{proved}");
    }
    assert_eq!(all, held(&world).await, "together they are all of it");

    // Another hub of the organisation would take each alone; this one has all already.
    let taken = world.says(&["import", files[1].to_str().unwrap()]);
    assert!(taken.starts_with("0 records are new"), "{taken}");

    // One that is short is one file under its own name, and what lies there from before is named.
    let said = world.says(&["export", file.to_str().unwrap()]);
    assert!(said.contains("all-1.bundle lies there from before"), "{said}");
    let (_, ids, _) = opened(&file, root);
    assert_eq!(ids.keys().copied().collect::<BTreeSet<_>>(), held(&world).await);
}

#[tokio::test]
async fn an_export_of_one_phone_has_what_vouches_for_it_and_no_other_phone() {
    let (world, phones) = long(1).await;
    let file = world.folder.path().join("one.bundle");
    let log = hub::names::hex(&phones[1].log().0);
    let said = world.says(&["export", file.to_str().unwrap(), "--log", &log]);
    assert!(said.starts_with("1 records of 1 logs"), "{said}");
    let (_, ids, trust) = opened(&file, world.hub.organisation().log());
    assert!(trust.device(phones[1].log()).is_some() && trust.device(phones[0].log()).is_none());
    let of_phones: Vec<_> =
        ids.keys().filter(|id| phones.iter().any(|phone| phone.log() == id.log)).collect();
    assert_eq!(of_phones, [&phones[1].entries[0].id]);
}

#[tokio::test]
async fn a_bound_that_verify_would_refuse_is_refused() {
    let (world, _) = long(1).await;
    let refused = world.command(&["export", "all.bundle", "--most", "600"]);
    assert!(!refused.status.success() && String::from_utf8(refused.stderr).unwrap().contains("448"));
    let nowhere = world.command(&["export", "/nowhere/all.bundle"]);
    assert!(String::from_utf8(nowhere.stderr).unwrap().contains("could not be written"));
}
