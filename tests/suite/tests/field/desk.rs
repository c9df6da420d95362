//! A phone whose clock and key store the test holds in its hand.

use std::path::Path;
use std::sync::{Arc, Mutex};
use std::time::Duration;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use domain::visit::Moment;
use field::host::{HostEntropy, KeyFolder};
use field::{Clock, Error, MOST_PIECE, Now, Opening, Phone, Ports, SinceBoot};
use tempfile::TempDir;

/// 2026-11-25T10:42:07Z, by `date -u -d 2026-11-25T10:42:07Z +%s`.
pub(crate) const START: i64 = 1_795_603_327_000;

/// A clock that stands until it is moved.
#[derive(Clone, Default)]
pub(crate) struct Hands(Arc<Mutex<i64>>, Arc<Mutex<Ticks>>);

/// The ticks: how far they have come, and how far they go on each time somebody looks.
#[derive(Default)]
struct Ticks {
    at: Duration,
    pace: Duration,
}

impl Hands {
    pub(crate) fn move_by(&self, millis: i64) {
        *self.0.lock().unwrap() += millis;
    }

    /// Lets so much time pass between two looks at the ticks.
    pub(crate) fn tick_by(&self, pace: Duration) {
        self.1.lock().unwrap().pace = pace;
    }
}

impl Clock for Hands {
    fn now(&self) -> Now {
        let since_boot = Some(SinceBoot { elapsed: Duration::from_secs(60), mark: [9; 16] });
        let wall = Moment(START + *self.0.lock().unwrap());
        Now { wall, offset_minutes: 60, since_boot }
    }

    fn ticks(&self) -> Duration {
        let mut ticks = self.1.lock().unwrap();
        let pace = ticks.pace;
        ticks.at += pace;
        ticks.at
    }
}

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

/// Whether some bytes stand somewhere in others.
pub(crate) fn holds(bytes: &[u8], part: &[u8]) -> bool {
    bytes.windows(part.len()).any(|window| window == part)
}
