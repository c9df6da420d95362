//! Photos, in a lane of their own: after the records, in pieces, going on where the hub stopped.
//!
//! A photo is named by its BLAKE3. The hub alone decides that it is whole: it hashes all of it, and only a receipt that
//! names it says that it arrived. What the hub does not want (nothing cites it yet) is left for another time, and so is what
//! it does not take: every piece costs whoever pays for the link.

use crate::progress::{Around, Progress, Stage};
use crate::{Error, LinkError};

/// Bytes in one piece.
pub const PIECE: usize = 256 * 1024;

/// A photo's name: its BLAKE3.
pub type PhotoName = [u8; 32];

/// A photo that is here and, as far as is known here, not at the hub.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Waiting {
    /// Its name.
    pub photo: PhotoName,
    /// Its length in bytes.
    pub length: u64,
}

/// What is kept of photos here.
pub trait Photos {
    /// What can go wrong.
    type Error: std::error::Error;

    /// Returns the photos that wait.
    ///
    /// # Errors
    ///
    /// What the keeper gives.
    fn waiting(&self) -> Result<Vec<Waiting>, Self::Error>;

    /// Returns up to `most` bytes of a photo from a place on; none where the photo is not here any more.
    ///
    /// # Errors
    ///
    /// What the keeper gives.
    fn piece(&self, photo: PhotoName, at: u64, most: usize) -> Result<Option<Vec<u8>>, Self::Error>;
}

/// Photos of a keeper that gives them by two functions: what waits, by name and length, and a piece from a place on.
#[derive(Debug)]
pub struct KeptBy<W, P> {
    /// What waits.
    pub waiting: W,
    /// A piece, of any length; none where the photo is not here any more.
    pub piece: P,
}

impl<E, W, P> Photos for KeptBy<W, P>
where
    E: std::error::Error,
    W: Fn() -> Result<Vec<(PhotoName, u64)>, E>,
    P: Fn(PhotoName, u64) -> Result<Option<Vec<u8>>, E>,
{
    type Error = E;

    fn waiting(&self) -> Result<Vec<Waiting>, E> {
        let waiting = (self.waiting)()?;
        Ok(waiting.into_iter().map(|(photo, length)| Waiting { photo, length }).collect())
    }

    fn piece(&self, photo: PhotoName, at: u64, most: usize) -> Result<Option<Vec<u8>>, E> {
        let mut piece = (self.piece)(photo, at)?;
        piece.iter_mut().for_each(|piece| piece.truncate(most));
        Ok(piece)
    }
}

/// What the hub has of a photo.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AtHub {
    /// All of it, hashed and found right.
    Whole,
    /// This many bytes from its start.
    UpTo(u64),
    /// Nothing, and it takes nothing: no record that it holds cites it.
    NotWanted,
}

/// A way to the hub for photos.
pub trait PhotoLink {
    /// Asks how much of a photo is there.
    ///
    /// # Errors
    ///
    /// [`LinkError`].
    fn held(&self, photo: PhotoName) -> Result<AtHub, LinkError>;

    /// Brings a piece, and returns how much is there then.
    ///
    /// # Errors
    ///
    /// [`LinkError`].
    fn put(&self, of: Waiting, at: u64, piece: Vec<u8>) -> Result<AtHub, LinkError>;
}

/// What came of the lane.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Carried {
    /// Photos that are whole at the hub now.
    pub whole: u32,
    /// Photos that the hub refused or does not want yet, or that are not here any more.
    pub left_out: u32,
    /// Photos that came out wrong at the hub and go again next time.
    pub wrong: u32,
    /// With what the hub refused the first that it refused.
    pub refused: Option<LinkError>,
}

/// Brings the photos that wait, one after the other; one that will not go, or that the hub refuses, stops no other.
///
/// # Errors
///
/// What the link and the keeper give, but for what is said of one photo alone. What arrived stays there.
pub fn carry<P: Photos>(
    photos: &P,
    link: &(impl PhotoLink + ?Sized),
    around: &(impl Around + ?Sized),
    records: &Progress,
) -> Result<Carried, Error<P::Error>> {
    let waiting = photos.waiting().map_err(Error::Ledger)?;
    let mut carried = Carried::default();
    let mut told = Progress {
        stage: Stage::Photos,
        photos_left: u32::try_from(waiting.len()).unwrap_or(u32::MAX),
        bytes_left: Some(waiting.iter().map(|photo| photo.length).sum()),
        ..*records
    };
    for one in waiting {
        around.told(&told);
        let before = told;
        match bring(photos, link, around, one, &mut told) {
            Ok(AtHub::Whole) => carried.whole += 1,
            Ok(AtHub::NotWanted) => carried.left_out += 1,
            Ok(AtHub::UpTo(_)) => carried.wrong += 1,
            Err(Error::Link(refused)) if refused.is_of_this_alone() => {
                tracing::warn!(%refused, "the hub refused a photo; the others go on");
                carried.left_out += 1;
                carried.refused.get_or_insert(refused);
            }
            Err(error) => return Err(error),
        }
        told.photos_sent = carried.whole;
        told.photos_left = before.photos_left.saturating_sub(1);
        told.bytes_left = before.bytes_left.map(|left| left.saturating_sub(one.length));
    }
    around.told(&told);
    Ok(carried)
}

/// Brings one photo; returns what the hub has of it in the end.
fn bring<P: Photos>(
    photos: &P,
    link: &(impl PhotoLink + ?Sized),
    around: &(impl Around + ?Sized),
    one: Waiting,
    told: &mut Progress,
) -> Result<AtHub, Error<P::Error>> {
    let mut there = link.held(one.photo)?;
    // A hub that moves on by little would be fed for ever.
    let mut pieces = one.length.div_ceil(PIECE as u64).saturating_mul(2).saturating_add(2);
    let mut may_go_back = true;
    while let AtHub::UpTo(at) = there
        && pieces > 0
    {
        if around.is_stopped() {
            return Err(LinkError::Stopped.into());
        }
        let Some(piece) = photos.piece(one.photo, at, PIECE).map_err(Error::Ledger)? else {
            return Ok(AtHub::NotWanted);
        };
        if piece.is_empty() {
            break;
        }
        let length = piece.len() as u64;
        there = link.put(one, at, piece)?;
        told.bytes_sent = told.bytes_sent.saturating_add(length);
        told.bytes_left = told.bytes_left.map(|left| left.saturating_sub(length));
        around.told(told);
        pieces -= 1;
        if let AtHub::UpTo(to) = there
            && to <= at
        {
            // What was refused once is refused again. An earlier piece may be missing, or have been another's: once.
            if to == at || !may_go_back {
                break;
            }
            may_go_back = false;
        }
    }
    Ok(there)
}
