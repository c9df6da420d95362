//! Photos and receipts beside each other on a storage that loses its power at any write.
//!
//! Files and database lie on one storage here, so that their writes are cut in the order they were made. Whatever the
//! cut left: a photo that was said to be kept is there whole; one that is called here is whole; nothing that an entry
//! names was tidied away; and no photo is freed that the hub does not have.

use std::io;
use std::sync::Arc;

use faults_vfs::chance::Chance;
use faults_vfs::cut::Storage;
use faults_vfs::{Files, Mounted, Op, Plain};
use store::{Opening, PhotoState, Shelf, Store, photo_hash};

use crate::people::{SIGNED, kept};
use crate::story::{Deed, take};

/// The photos' folder on the same storage as the database.
#[derive(Debug)]
struct Beside(Plain);

fn named(name: &str) -> String {
    format!("photos/{name}")
}

impl Shelf for Beside {
    fn length(&self, name: &str) -> io::Result<Option<u64>> {
        Ok(self.0.length(&named(name)))
    }

    fn read(&self, name: &str, at: u64, most: usize) -> io::Result<Vec<u8>> {
        self.0.read(&named(name), at as usize, most)
    }

    fn write(&self, name: &str, at: u64, bytes: &[u8]) -> io::Result<()> {
        self.0.write(&named(name), at as usize, bytes)
    }

    fn sync(&self, name: &str) -> io::Result<()> {
        self.0.sync(&named(name))
    }

    fn rename(&self, from: &str, to: &str) -> io::Result<()> {
        self.0.rename(&named(from), &named(to))
    }

    fn remove(&self, name: &str) -> io::Result<()> {
        self.0.remove(&named(name))
    }

    fn names(&self) -> io::Result<Vec<(String, u64)>> {
        let names = self.0.names("photos/").into_iter();
        Ok(names.map(|(name, length)| (name["photos/".len()..].to_owned(), length)).collect())
    }
}

/// What was said to be done, in this order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Said {
    Nothing,
    /// The phone's own photo is kept.
    Kept,
    /// Its observation is signed.
    Named,
    /// A colleague's photo is kept, which an entry named before.
    Theirs,
    /// The hub's receipts came.
    Received,
    /// The own photo's space was freed.
    Freed,
}

const SAID: [Said; 6] = [Said::Nothing, Said::Kept, Said::Named, Said::Theirs, Said::Received, Said::Freed];

fn open(mounted: &Mounted) -> Store {
    let shelf = Arc::new(Beside(mounted.plain()));
    Opening::at("headmark.db").through(mounted.name()).photos_on(shelf).open().unwrap()
}

/// Plays the day and returns all that was done to the storage, with what was said in between.
fn play(mounted: &Mounted) -> Vec<Op> {
    mounted.replace(Files::new());
    let store = open(mounted);
    [Deed::Identify, Deed::Join].iter().for_each(|deed| deed.on(&store).unwrap());
    let say = |said: Said| mounted.disk().acknowledge(said as u64);
    take(&SIGNED.certificates, 1, &[]).on(&store).unwrap();
    for sealed in &SIGNED.own_entries {
        store.append(&kept(sealed)).unwrap();
    }
    store.keep_photo(&SIGNED.photo, "image/jpeg").unwrap();
    say(Said::Kept);
    store.append(&kept(&SIGNED.observation)).unwrap();
    say(Said::Named);
    store.take_in("a colleague", &[kept(&SIGNED.other_photo)]).unwrap();
    store.suspend().unwrap();
    store.keep_photo(&SIGNED.long_photo, "image/jpeg").unwrap();
    say(Said::Theirs);
    take(&SIGNED.receipts, 2, &[]).on(&store).unwrap();
    say(Said::Received);
    assert_eq!(store.free_photos().unwrap().photos, 1);
    say(Said::Freed);
    drop(store);
    mounted.disk().ops().to_vec()
}

/// Opens what a cut left and compares it with what had been said.
fn compare(mounted: &Mounted, left: Files, said: Said) -> Result<(), String> {
    mounted.replace(left);
    let store = open(mounted);
    let tidied = store.tidy_photos().unwrap();
    let check =
        |holds: bool, what: &str| if holds { Ok(()) } else { Err(format!("{said:?}: {what}, {tidied:?}")) };
    check(tidied.lost == 0, "the database called a photo here that is not")?;
    let (own, theirs) = (&SIGNED.photo, &SIGNED.long_photo);
    for (photo, since) in [(own, Said::Kept), (theirs, Said::Theirs)] {
        let state = store.photo_state(photo_hash(photo)).unwrap();
        match state {
            Some(PhotoState::Here) => {
                check(store.photo(photo_hash(photo)).is_ok_and(|bytes| bytes == *photo), "it is not whole")?;
            }
            Some(PhotoState::Freed) => {
                check(photo == own && said >= Said::Received, "it was freed before the hub had it")?;
            }
            Some(PhotoState::Awaited) | None => check(said < since, "a photo that was kept is gone")?,
        }
    }
    if said == Said::Freed {
        let freed = store.photo_state(photo_hash(own)).unwrap();
        // The file may come back when the power goes right then; it is here again, and may be freed again.
        check(matches!(freed, Some(PhotoState::Freed | PhotoState::Here)), "it was freed")?;
    }
    // Work goes on from where it stands.
    for photo in [own, theirs] {
        let hash = store.keep_photo(photo, "image/jpeg").unwrap();
        check(store.photo(hash).is_ok_and(|found| found == *photo), "it cannot be kept any more")?;
    }
    Ok(())
}

#[test]
fn no_photo_is_lost_or_half_there_after_a_power_cut() {
    let mounted = Mounted::named("photos");
    let ops = play(&mounted);
    let mut storage = Storage::holding(&Files::new());
    let (mut said, mut wrong) = (Said::Nothing, Vec::new());
    let mut reached = 0;
    for (place, op) in (1u64..).zip(&ops) {
        storage.follow(op);
        if let Op::Acknowledged(number) = op {
            said = SAID[*number as usize];
            reached += 1;
        }
        for toss in 0..2 {
            let left = storage.survivors(&mut Chance::from(place * 1_000 + toss));
            if let Err(what) = compare(&mounted, left, said) {
                wrong.push(format!("after operation {place}, toss {toss}: {what}"));
            }
        }
        if let Err(what) = compare(&mounted, storage.as_written(), said) {
            wrong.push(format!("killed after operation {place}: {what}"));
        }
    }
    println!("{} operations, 3 ways each", ops.len());
    assert_eq!(reached, SAID.len() - 1);
    assert!(wrong.is_empty(), "{} of the cuts did harm:\n{}", wrong.len(), wrong.join("\n"));
}
