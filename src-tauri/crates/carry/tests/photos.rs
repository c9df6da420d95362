//! The lane of photos: in pieces, from where the hub stands, and one that will not go stops no other.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)]

use std::cell::{Cell, RefCell};
use std::collections::BTreeMap;
use std::convert::Infallible;

use carry::photos::{AtHub, Carried, KeptBy, PIECE, PhotoLink, PhotoName, Photos, Waiting, carry};
use carry::{Around, LinkError, Progress, Stage};

/// Photos of a phone, by name. It gives all there is of a photo; what is too long for the lane is cut there.
struct Shelf(BTreeMap<PhotoName, Vec<u8>>);

impl Shelf {
    fn keeper(&self) -> impl Photos<Error = Infallible> {
        KeptBy {
            waiting: || {
                Ok::<_, Infallible>(
                    self.0.iter().map(|(photo, bytes)| (*photo, bytes.len() as u64)).collect(),
                )
            },
            piece: |photo, at| {
                let at = usize::try_from(at).unwrap();
                Ok::<_, Infallible>(self.0.get(&photo).map(|bytes| bytes.iter().skip(at).copied().collect()))
            },
        }
    }
}

/// A hub that keeps what comes; a photo of zeros comes out wrong, and one of nines is cited by nothing.
#[derive(Default)]
struct Hub {
    held: RefCell<BTreeMap<PhotoName, Vec<u8>>>,
    pieces: RefCell<Vec<(u8, u64)>>,
    /// How many pieces come through before the link breaks.
    breaks_after: Cell<Option<u32>>,
}

impl Hub {
    fn at(&self, photo: PhotoName, whole: u64) -> AtHub {
        let held = self.held.borrow();
        let bytes = held.get(&photo).map_or(&[][..], Vec::as_slice);
        if bytes.len() as u64 == whole { AtHub::Whole } else { AtHub::UpTo(bytes.len() as u64) }
    }
}

impl PhotoLink for Hub {
    fn held(&self, photo: PhotoName) -> Result<AtHub, LinkError> {
        Ok(if photo[0] == 9 { AtHub::NotWanted } else { self.at(photo, u64::MAX) })
    }

    fn put(&self, of: Waiting, at: u64, piece: Vec<u8>) -> Result<AtHub, LinkError> {
        if let Some(left) = self.breaks_after.get() {
            self.breaks_after.set(left.checked_sub(1));
            if left == 0 {
                return Err(LinkError::Broken);
            }
        }
        self.pieces.borrow_mut().push((of.photo[0], at));
        let mut held = self.held.borrow_mut();
        let bytes = held.entry(of.photo).or_default();
        assert_eq!(bytes.len() as u64, at, "a piece was not asked for");
        bytes.extend(piece);
        if of.photo[0] == 0 && bytes.len() as u64 == of.length {
            bytes.clear();
        }
        drop(held);
        Ok(self.at(of.photo, of.length))
    }
}

#[derive(Default)]
struct Told(RefCell<Vec<Progress>>, Cell<bool>);

impl Around for Told {
    fn told(&self, progress: &Progress) {
        self.0.borrow_mut().push(*progress);
    }

    fn is_stopped(&self) -> bool {
        self.1.get()
    }
}

fn shelf(photos: &[(u8, usize)]) -> Shelf {
    Shelf(photos.iter().map(|(name, length)| ([*name; 32], vec![*name; *length])).collect())
}

#[test]
fn a_photo_goes_in_pieces_and_is_told() {
    let (photos, hub, told) = (shelf(&[(1, 2 * PIECE + 5), (2, 7)]), Hub::default(), Told::default());
    let carried = carry(&photos.keeper(), &hub, &told, &Progress::default()).unwrap();
    assert_eq!(carried, Carried { whole: 2, ..Carried::default() });
    assert_eq!(*hub.held.borrow(), photos.0);
    let places = [(1, 0), (1, PIECE as u64), (1, 2 * PIECE as u64), (2, 0)];
    assert_eq!(*hub.pieces.borrow(), places);
    let told = told.0.borrow();
    let (first, last) = (told.first().unwrap(), told.last().unwrap());
    assert_eq!((first.stage, first.photos_left), (Stage::Photos, 2));
    assert_eq!(first.bytes_left, Some(2 * PIECE as u64 + 12));
    assert_eq!((last.photos_sent, last.photos_left, last.bytes_left), (2, 0, Some(0)));
    assert_eq!(last.bytes_sent, 2 * PIECE as u64 + 12);
}

#[test]
fn a_photo_goes_on_where_the_hub_stands() {
    let (photos, hub, told) = (shelf(&[(1, 3 * PIECE)]), Hub::default(), Told::default());
    hub.breaks_after.set(Some(2));
    let broken = carry(&photos.keeper(), &hub, &told, &Progress::default()).unwrap_err();
    assert!(broken.gave_way());
    carry(&photos.keeper(), &hub, &told, &Progress::default()).unwrap();
    assert_eq!(*hub.held.borrow(), photos.0);
    assert_eq!(hub.pieces.borrow().len(), 3, "no piece went twice");
}

#[test]
fn one_that_will_not_go_stops_no_other() {
    let (photos, hub, told) = (shelf(&[(0, PIECE + 1), (9, 10), (3, 10)]), Hub::default(), Told::default());
    let carried = carry(&photos.keeper(), &hub, &told, &Progress::default()).unwrap();
    assert_eq!(carried, Carried { whole: 1, left_out: 1, wrong: 1, refused: None });
}

#[test]
fn it_stops_at_a_border_between_two_pieces() {
    let (photos, hub, told) = (shelf(&[(1, PIECE)]), Hub::default(), Told::default());
    told.1.set(true);
    assert!(carry(&photos.keeper(), &hub, &told, &Progress::default()).unwrap_err().is_stopped());
    assert_eq!(*hub.pieces.borrow(), []);
}

/// A hub that refuses one photo when it is asked for it, and another after its first piece.
struct Picky {
    hub: Hub,
    refusals: BTreeMap<u8, LinkError>,
}

impl PhotoLink for Picky {
    fn held(&self, photo: PhotoName) -> Result<AtHub, LinkError> {
        match self.refusals.get(&photo[0]) {
            Some(refusal) if photo[0] % 2 == 1 => Err(refusal.clone()),
            _ => self.hub.held(photo),
        }
    }

    fn put(&self, of: Waiting, at: u64, piece: Vec<u8>) -> Result<AtHub, LinkError> {
        match self.refusals.get(&of.photo[0]) {
            Some(refusal) if at > 0 => Err(refusal.clone()),
            _ => self.hub.put(of, at, piece),
        }
    }
}

fn refused(status: u16, wait: Option<u32>) -> LinkError {
    LinkError::Refused { status, word: "hubstore.photo_too_long".into(), wait }
}

#[test]
fn a_refusal_of_one_photo_stops_no_other_and_is_told_in_the_end() {
    let photos = shelf(&[(1, 10), (2, 2 * PIECE), (3, 10), (4, PIECE + 1), (5, 20)]);
    let refusals = [(1, refused(413, None)), (2, refused(500, None))].into();
    let (link, told) = (Picky { hub: Hub::default(), refusals }, Told::default());
    let carried = carry(&photos.keeper(), &link, &told, &Progress::default()).unwrap();
    let first = Some(refused(413, None));
    assert_eq!(carried, Carried { whole: 3, left_out: 2, wrong: 0, refused: first });
    let whole: Vec<u8> = link
        .hub
        .held
        .borrow()
        .iter()
        .filter(|(name, bytes)| photos.0[*name] == **bytes)
        .map(|(name, _)| name[0])
        .collect();
    assert_eq!(whole, [3, 4, 5]);
    let last = *told.0.borrow().last().unwrap();
    assert_eq!((last.photos_sent, last.photos_left, last.bytes_left), (3, 0, Some(0)));
}

#[test]
fn what_is_said_of_all_photos_ends_the_lane() {
    let full = [refused(507, None), refused(429, Some(60)), refused(500, Some(5)), refused(503, None)];
    let gone = [LinkError::Unreachable, LinkError::Broken, LinkError::TimedOut, LinkError::Stopped];
    for error in full.into_iter().chain(gone) {
        let photos = shelf(&[(1, 10), (3, 10)]);
        let link = Picky { hub: Hub::default(), refusals: [(1, error.clone())].into() };
        let ended = carry(&photos.keeper(), &link, &Told::default(), &Progress::default()).unwrap_err();
        assert!(matches!(ended, carry::Error::Link(told) if told == error), "{error:?}");
        assert!(link.hub.held.borrow().is_empty());
    }
}

/// A hub that takes nothing and says where to go on: always there, or there and back by turns.
struct Refusing {
    places: Vec<u64>,
    asked: RefCell<Vec<u64>>,
}

impl PhotoLink for Refusing {
    fn held(&self, _: PhotoName) -> Result<AtHub, LinkError> {
        Ok(AtHub::UpTo(self.places[0]))
    }

    fn put(&self, _: Waiting, at: u64, _: Vec<u8>) -> Result<AtHub, LinkError> {
        let mut asked = self.asked.borrow_mut();
        asked.push(at);
        Ok(AtHub::UpTo(self.places[asked.len() % self.places.len()]))
    }
}

#[test]
fn what_the_hub_does_not_take_is_not_brought_again_and_again() {
    const ONE: u64 = PIECE as u64;
    let brought = |places: &[u64]| {
        let hub = Refusing { places: places.to_vec(), asked: RefCell::default() };
        let photos = shelf(&[(1, 8 * PIECE)]);
        let carried = carry(&photos.keeper(), &hub, &Told::default(), &Progress::default()).unwrap();
        assert_eq!(carried, Carried { wrong: 1, ..Carried::default() });
        hub.asked.take()
    };
    assert_eq!(brought(&[0]), [0], "the same piece once");
    assert_eq!(brought(&[3 * ONE]), [3 * ONE]);
    // Back to an earlier piece once, from which on all may go again.
    assert_eq!(brought(&[2 * ONE, ONE]), [2 * ONE, ONE, 2 * ONE]);
    assert_eq!(brought(&[2 * ONE, 0, 0]), [2 * ONE, 0]);
}
