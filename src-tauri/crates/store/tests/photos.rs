//! Photos on a real storage: whole or not at all, freed only when the hub has them safe.
#![allow(clippy::unwrap_used, clippy::indexing_slicing, missing_docs, reason = "a panic here is the message")]

mod people;

use bodies::{Epoch, Grade, PhotoHash};
use people::{EPOCH, Phone, Writer, as_hub};
use store::{CHUNK, Error, Freed, Opening, PhotoState, Space, Tidied, photo_hash};

fn picture(seed: u32, length: usize) -> Vec<u8> {
    (0..length as u32).map(|at| (at.wrapping_add(seed).wrapping_mul(2_654_435_761) >> 24) as u8).collect()
}

/// A phone that waits for a photo, and the photo.
fn waiting_for(length: usize) -> (Phone, Vec<u8>, PhotoHash) {
    let mut phone = Phone::new();
    let bytes = picture(1, length);
    let observation = phone.own.photo(&bytes, "d");
    phone.append(&observation);
    let hash = photo_hash(&bytes);
    (phone, bytes, hash)
}

fn files(phone: &Phone) -> Vec<String> {
    let root = phone.folder.path().join("photos");
    let mut files = Vec::new();
    for folder in std::fs::read_dir(&root).into_iter().flatten() {
        let folder = folder.unwrap();
        for file in std::fs::read_dir(folder.path()).unwrap() {
            files.push(format!(
                "{}/{}",
                folder.file_name().to_string_lossy(),
                file.unwrap().file_name().to_string_lossy()
            ));
        }
    }
    files.sort();
    files
}

#[test]
fn a_photo_is_kept_by_its_hash_and_read_back() {
    let phone = Phone::new();
    let bytes = picture(2, 700_000);
    let hash = phone.store.keep_photo(&bytes, "image/jpeg").unwrap();
    assert_eq!(phone.store.keep_photo(&bytes, "image/jpeg").unwrap(), hash);
    let digits: String = hash.0.iter().map(|byte| format!("{byte:02x}")).collect();
    assert_eq!(files(&phone), [format!("{}/{digits}", &digits[..2])]);
    assert_eq!(phone.store.photo(hash).unwrap(), bytes);
    assert_eq!(phone.store.photo_piece(hash, CHUNK as u64).unwrap(), bytes[CHUNK..2 * CHUNK]);
    assert_eq!(phone.store.photo_piece(hash, 2 * CHUNK as u64).unwrap(), bytes[2 * CHUNK..]);
    let here = Freed { photos: 1, bytes: 700_000 };
    assert_eq!(phone.store.photo_space().unwrap(), Space { here, may_go: Freed::default() });
    // A cell of the storage that turned is noticed.
    let path = phone.folder.path().join("photos").join(&files(&phone)[0]);
    let mut worn = bytes.clone();
    worn[4_711] ^= 1;
    std::fs::write(path, worn).unwrap();
    assert!(matches!(phone.store.photo(hash).unwrap_err(), Error::Unreadable { .. }));
}

#[test]
fn space_is_freed_only_for_what_the_hub_has_in_its_backup_now() {
    let mut phone = Phone::new();
    let bytes = picture(3, 5_000);
    let hash = phone.store.keep_photo(&bytes, "image/jpeg").unwrap();
    let observation = phone.own.photo(&bytes, "d");
    phone.append(&observation);
    let runs = [(&observation, &observation)];
    let refused = |phone: &Phone| matches!(phone.store.free_photo(hash), Err(Error::NotBackedUp));
    assert!(refused(&phone));
    let stored = phone.hub.receipt(Some(EPOCH), &runs, &[hash], Grade::Stored);
    phone.take(EPOCH, &[&stored]);
    assert!(refused(&phone), "stored is not in the backup");
    let without = phone.hub.receipt(Some(EPOCH), &runs, &[], Grade::BackedUp);
    phone.take(EPOCH, &[&without]);
    assert!(refused(&phone), "the record is in the backup, and the photo is not");
    let safe = phone.hub.receipt(Some(EPOCH), &runs, &[hash], Grade::BackedUp);
    phone.take(EPOCH, &[&safe]);
    // In another epoch that is history.
    let later = Epoch([0xe2; 16]);
    let restored = Writer::of(4);
    let certificate = phone.organisation.certify(&restored, as_hub(later, Some(&phone.hub)));
    phone.take(later, &[&certificate]);
    assert!(refused(&phone), "the hub was restored since, perhaps from before");
    assert_eq!(phone.store.free_photos().unwrap(), Freed::default());
    phone.hub = restored;
    let safe = phone.hub.receipt(Some(later), &runs, &[hash], Grade::BackedUp);
    phone.take(later, &[&safe]);
    let gone = Freed { photos: 1, bytes: 5_000 };
    assert_eq!(phone.store.photo_space().unwrap().may_go, gone);
    assert_eq!(phone.store.free_photos().unwrap(), gone);
    assert_eq!((files(&phone), phone.store.photo_state(hash).unwrap()), (vec![], Some(PhotoState::Freed)));
    assert!(matches!(phone.store.photo(hash).unwrap_err(), Error::NoPhoto));
    // Taken again, it is here again.
    phone.store.keep_photo(&bytes, "image/jpeg").unwrap();
    assert_eq!(phone.store.photo(hash).unwrap(), bytes);
}

/// A shelf on which a removal waits for somebody to take the photo again, for a while.
#[derive(Debug)]
struct Slow {
    disk: store::Disk,
    removing: std::sync::mpsc::Sender<()>,
    taken: std::sync::Mutex<std::sync::mpsc::Receiver<()>>,
}

impl store::Shelf for Slow {
    fn length(&self, name: &str) -> std::io::Result<Option<u64>> {
        self.disk.length(name)
    }

    fn read(&self, name: &str, at: u64, most: usize) -> std::io::Result<Vec<u8>> {
        self.disk.read(name, at, most)
    }

    fn write(&self, name: &str, at: u64, bytes: &[u8]) -> std::io::Result<()> {
        self.disk.write(name, at, bytes)
    }

    fn sync(&self, name: &str) -> std::io::Result<()> {
        self.disk.sync(name)
    }

    fn rename(&self, from: &str, to: &str) -> std::io::Result<()> {
        self.disk.rename(from, to)
    }

    fn remove(&self, name: &str) -> std::io::Result<()> {
        self.removing.send(()).unwrap();
        // Nobody comes where the store lets nobody between.
        let _ = self.taken.lock().unwrap().recv_timeout(std::time::Duration::from_millis(400));
        self.disk.remove(name)
    }

    fn names(&self) -> std::io::Result<Vec<(String, u64)>> {
        self.disk.names()
    }
}

#[test]
fn a_photo_taken_again_while_it_is_freed_is_here_or_gone_and_never_half() {
    let mut phone = Phone::new();
    let bytes = picture(3, 5_000);
    let hash = phone.store.keep_photo(&bytes, "image/jpeg").unwrap();
    let observation = phone.own.photo(&bytes, "d");
    phone.append(&observation);
    let safe = phone.hub.receipt(Some(EPOCH), &[(&observation, &observation)], &[hash], Grade::BackedUp);
    phone.take(EPOCH, &[&safe]);
    let Phone { folder, store, .. } = phone;
    drop(store);
    let ((removing, is_removing), (again, taken)) = (std::sync::mpsc::channel(), std::sync::mpsc::channel());
    let disk = store::Disk::at(folder.path().join("photos"));
    let slow = Slow { disk, removing, taken: std::sync::Mutex::new(taken) };
    let opening = Opening::at(folder.path().join("headmark.db")).photos_on(std::sync::Arc::new(slow));
    let store = opening.open().unwrap();
    std::thread::scope(|scope| {
        scope.spawn(|| store.free_photo(hash).unwrap());
        is_removing.recv().unwrap();
        store.keep_photo(&bytes, "image/jpeg").unwrap();
        // The other may have gone on already.
        let _ = again.send(());
    });
    assert_eq!(store.photo_state(hash).unwrap(), Some(PhotoState::Here));
    assert_eq!(store.photo(hash).unwrap(), bytes);
}

#[test]
fn a_start_puts_files_and_database_right_and_removes_nothing_that_is_named() {
    let (phone, bytes, hash) = waiting_for(9_000);
    let put = |name: &str, content: &[u8]| {
        let path = phone.folder.path().join("photos").join(name);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, content).unwrap();
    };
    let digits = |hash: PhotoHash| hash.0.iter().map(|byte| format!("{byte:02x}")).collect::<String>();
    let name = |hash: PhotoHash| format!("{}/{}", &digits(hash)[..2], digits(hash));
    // Killed between the rename and the commit; an orphan; a part that nobody waits for; somebody else's file.
    let orphan = photo_hash(b"orphan");
    put(&name(hash), &bytes);
    put(&name(orphan), b"orphan");
    put(&format!("part/{}", digits(orphan)), b"orp");
    put("notes/read me", b"hands off");
    let kept = phone.store.keep_photo(b"kept, and not named yet", "image/jpeg").unwrap();
    assert_eq!(phone.store.tidy_photos().unwrap(), Tidied { removed: 2, found: 1, lost: 0 });
    assert_eq!(phone.store.photo(hash).unwrap(), bytes);
    let mut expected = [name(hash), name(kept), "notes/read me".into()];
    expected.sort();
    assert_eq!(files(&phone), expected);
    // A file that went is awaited again.
    std::fs::remove_file(phone.folder.path().join("photos").join(name(hash))).unwrap();
    assert_eq!(phone.store.tidy_photos().unwrap(), Tidied { removed: 0, found: 0, lost: 1 });
    assert_eq!(phone.store.photo_state(hash).unwrap(), Some(PhotoState::Awaited));
}

#[test]
fn a_photo_that_is_found_is_as_long_as_it_is() {
    let mut phone = Phone::new();
    let mut other = Writer::of(30);
    let entry = other.photo_of(b"theirs", 9_000, "d");
    let certificate = phone.hub.certify(&other, people::as_device());
    phone.take(EPOCH, &[&certificate]);
    phone.store.take_in("a colleague", &[people::kept(&entry)]).unwrap();
    let hash = photo_hash(b"theirs");
    let digits: String = hash.0.iter().map(|byte| format!("{byte:02x}")).collect();
    let folder = phone.folder.path().join("photos").join(&digits[..2]);
    std::fs::create_dir_all(&folder).unwrap();
    std::fs::write(folder.join(&digits), b"theirs").unwrap();
    assert_eq!(phone.store.tidy_photos().unwrap(), Tidied { found: 1, ..Tidied::default() });
    assert_eq!(phone.store.photo(hash).unwrap(), b"theirs");
    assert_eq!(
        phone.store.tidy_photos().unwrap(),
        Tidied::default(),
        "it is not called lost at the next start"
    );
}

#[test]
fn where_entries_are_missing_no_photo_is_an_orphan() {
    let mut phone = Phone::new();
    let mut other = Writer::of(30);
    let entries = [other.something(1), other.photo(b"theirs", ""), other.something(3)];
    let certificate = phone.hub.certify(&other, people::as_device());
    phone.take(EPOCH, &[&certificate]);
    phone.store.take_in("a colleague", &[people::kept(&entries[0]), people::kept(&entries[2])]).unwrap();
    let hash = photo_hash(b"theirs");
    let digits: String = hash.0.iter().map(|byte| format!("{byte:02x}")).collect();
    let folder = phone.folder.path().join("photos").join(&digits[..2]);
    std::fs::create_dir_all(&folder).unwrap();
    std::fs::write(folder.join(&digits), b"theirs").unwrap();
    assert_eq!(phone.store.tidy_photos().unwrap(), Tidied::default());
    phone.store.take_in("a colleague", &[people::kept(&entries[1])]).unwrap();
    assert_eq!(phone.store.tidy_photos().unwrap(), Tidied { found: 1, ..Tidied::default() });
    assert_eq!(phone.store.photo(hash).unwrap(), b"theirs");
}
