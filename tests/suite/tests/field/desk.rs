//! A phone whose clock and key store the test holds in its hand.

use std::path::Path;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use field::host::{HostEntropy, KeyFolder};
use field::{Error, MOST_PIECE, Opening, Phone, Ports};
pub(crate) use kit::Hands;
use tempfile::TempDir;

pub(crate) struct Desk {
    pub(crate) folder: TempDir,
    pub(crate) clock: Hands,
    pub(crate) phone: Phone,
}

impl Desk {
    /// A fresh phone.
    pub(crate) fn new() -> Desk {
        let folder = tempfile::tempdir().unwrap();
        let clock = Hands::default();
        let phone = open(folder.path(), &clock, None).unwrap();
        Desk { folder, clock, phone }
    }

    /// A phone with somebody who works with it and the invented utility's register.
    pub(crate) fn ready() -> Desk {
        let desk = Desk::new();
        desk.phone.set_technician("Asha Renn").unwrap();
        let report = desk.phone.register_load(&desk.upload(kit::register())).unwrap();
        assert_eq!(report.problems, []);
        desk
    }

    /// A copy of this phone, key and all, as it is now.
    pub(crate) fn copied(&self) -> Desk {
        self.phone.suspend().unwrap();
        let folder = tempfile::tempdir().unwrap();
        copy(self.folder.path(), folder.path());
        let clock = Hands::default();
        let phone = open(folder.path(), &clock, None).unwrap();
        Desk { folder, clock, phone }
    }

    /// The same phone after its app was ended and started again.
    pub(crate) fn restarted(self) -> Desk {
        let Desk { folder, clock, phone } = self;
        drop(phone);
        let phone = open(folder.path(), &clock, None).unwrap();
        Desk { folder, clock, phone }
    }

    /// Sends a file as the pages do.
    pub(crate) fn upload(&self, bytes: &[u8]) -> String {
        let size = u32::try_from(bytes.len()).unwrap();
        let upload = self.phone.upload_begin(size).unwrap();
        let mut at = 0;
        for piece in bytes.chunks(MOST_PIECE as usize) {
            self.phone.upload_piece(&upload, at, &STANDARD.encode(piece)).unwrap();
            at += u32::try_from(piece.len()).unwrap();
        }
        upload
    }

    /// How many entries the log holds.
    pub(crate) fn entries(&self) -> usize {
        self.phone.suspend().unwrap();
        let store = Opening::at(self.folder.path().join("headmark.db")).open().unwrap();
        store.newest(None, 99).unwrap().len()
    }

    /// Every file that holds this phone's data, as one text: what a leak would show up in.
    pub(crate) fn on_storage(&self) -> Vec<u8> {
        self.phone.suspend().unwrap();
        std::fs::read(self.folder.path().join("headmark.db")).unwrap()
    }
}

/// Opens the phone in a folder, with a limit on its data file if one is given.
pub(crate) fn open(folder: &Path, clock: &Hands, most_pages: Option<u32>) -> Result<Phone, Error> {
    let ports = Ports {
        clock: Box::new(clock.clone()),
        keys: Box::new(KeyFolder::at(folder.join("keys"))),
        entropy: Box::new(HostEntropy),
    };
    let mut opening = Opening::at(folder.join("headmark.db"));
    if let Some(pages) = most_pages {
        opening = opening.most_pages(pages);
    }
    Phone::open(opening, folder.join("exports"), ports)
}

fn copy(from: &Path, to: &Path) {
    std::fs::create_dir_all(to).unwrap();
    for entry in std::fs::read_dir(from).unwrap() {
        let (entry, to) = (entry.as_ref().unwrap(), to.join(entry.as_ref().unwrap().file_name()));
        if entry.file_type().unwrap().is_dir() {
            copy(&entry.path(), &to);
        } else {
            std::fs::copy(entry.path(), to).unwrap();
        }
    }
}

/// Whether some bytes stand somewhere in others.
pub(crate) fn holds(bytes: &[u8], part: &[u8]) -> bool {
    bytes.windows(part.len()).any(|window| window == part)
}
