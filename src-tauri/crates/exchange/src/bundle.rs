//! The bundle file: anyone's entries, keys and register pages, and where its writer stands; for a cable, a share sheet or a
//! memory card.
//!
//! Before packing it is a CBOR sequence (RFC 8742): a text that names the form, then pieces `[what, bytes]`. Each piece
//! stands for itself, so that what came whole of a bundle that was cut can be used.

use minicbor::{Decoder, Encoder};
use record::{MAX_HEADER, MAX_SIGNED};

use crate::Error;

const FORM: &str = "headmark/bundle/1";

/// The most bytes that a bundle may unpack to.
pub const MOST: usize = 512 * 1024 * 1024;

/// The most bytes that a phone writes into one bundle, before packing: what an old phone can hold in memory. The rest
/// goes into the next one.
pub const MOST_OF_PHONE: usize = 48 * 1024 * 1024;

/// The most bytes that a phone unpacks: more than phones write, and no more than one can hold beside its other work.
pub const MOST_ON_PHONE: usize = 56 * 1024 * 1024;

/// The longest piece: a page of the register may be longer than an entry.
const LONGEST: usize = MAX_HEADER + MAX_SIGNED;

/// How many pieces a bundle of any length may have, and how many bytes each further one needs. An entry alone has a
/// signature of 64 bytes, so no honest bundle comes near; of a file full of empty pieces the list would need many times
/// the memory of the file.
const PIECES: usize = 4096;
const BYTES_A_PIECE: usize = 64;

/// A piece of a bundle.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Piece<'b> {
    /// A log's COSE_Key.
    Key(&'b [u8]),
    /// An entry.
    Entry(&'b [u8]),
    /// A signed page of the register feed.
    Page(&'b [u8]),
    /// Where the phone stands that wrote the bundle: a [`Standpoint`](crate::standpoint::Standpoint), signed.
    Standpoint(&'b [u8]),
    /// Something of a later version: passed over.
    Other(u32),
}

/// Writes a bundle.
#[derive(Debug)]
pub struct Writer {
    out: Encoder<Vec<u8>>,
    /// How much of it was taken out already.
    drained: usize,
}

impl Default for Writer {
    fn default() -> Writer {
        Writer::new()
    }
}

impl Writer {
    /// Begins.
    #[must_use]
    pub fn new() -> Writer {
        let mut out = Encoder::new(Vec::new());
        // A vector takes everything.
        let _ = out.str(FORM);
        Writer { out, drained: 0 }
    }

    /// Puts a log's COSE_Key in; it stands before the log's entries.
    pub fn key(&mut self, key: &[u8]) {
        self.piece(1, key);
    }

    /// Puts an entry in.
    pub fn entry(&mut self, entry: &[u8]) {
        self.piece(2, entry);
    }

    /// Puts a signed page in.
    pub fn page(&mut self, page: &[u8]) {
        self.piece(3, page);
    }

    /// Puts in where the writer stands, signed.
    pub fn standpoint(&mut self, standpoint: &[u8]) {
        self.piece(4, standpoint);
    }

    /// Returns how long the bundle would be with further pieces of so many bytes.
    #[must_use]
    pub fn length_with(&self, pieces: impl IntoIterator<Item = usize>) -> usize {
        // Of an array of two, a number below 24 and a byte string the heads take seven bytes at the most.
        let longer = |sum: usize, bytes: usize| sum.saturating_add(bytes).saturating_add(7);
        pieces.into_iter().fold(self.waiting().saturating_add(self.drained), longer)
    }

    /// Returns how many bytes wait to be taken out.
    #[must_use]
    pub fn waiting(&self) -> usize {
        self.out.writer().len()
    }

    /// Takes out what was written so far, not packed, for one that is longer than memory should hold. The next pieces go
    /// behind it.
    #[must_use]
    pub fn drain(&mut self) -> Vec<u8> {
        let bytes = std::mem::take(self.out.writer_mut());
        self.drained = self.drained.saturating_add(bytes.len());
        bytes
    }

    /// Returns the bundle, not packed; of one that was drained the rest.
    #[must_use]
    pub fn done(self) -> Vec<u8> {
        self.out.into_writer()
    }

    fn piece(&mut self, what: u8, bytes: &[u8]) {
        // A vector takes everything.
        let _ = self.out.array(2).and_then(|out| out.u8(what)).and_then(|out| out.bytes(bytes));
    }
}

/// Reads a bundle that was unpacked. The pieces that came whole are given even where the last one broke off; then the
/// error says so beside them.
///
/// # Errors
///
/// [`Error::NotABundle`] for another file.
pub fn read(bytes: &[u8]) -> Result<(Vec<Piece<'_>>, Option<Error>), Error> {
    let mut from = Decoder::new(bytes);
    if from.str().ok() != Some(FORM) {
        return Err(Error::NotABundle("it does not begin as one"));
    }
    let mut pieces = Vec::new();
    while from.position() < bytes.len() {
        if pieces.len() >= PIECES + bytes.len() / BYTES_A_PIECE {
            return Err(Error::NotABundle("it has more pieces than records would make"));
        }
        match piece(&mut from) {
            Ok(Some(piece)) => pieces.push(piece),
            Ok(None) => return Err(Error::NotABundle("a piece of it is too long")),
            Err(error) if error.is_end_of_input() => {
                let whole = pieces.len();
                return Ok((pieces, Some(Error::CutShort { whole })));
            }
            Err(_) => return Err(Error::NotABundle("something in it is no piece of one")),
        }
    }
    Ok((pieces, None))
}

fn piece<'b>(from: &mut Decoder<'b>) -> Result<Option<Piece<'b>>, minicbor::decode::Error> {
    if from.array()? != Some(2) {
        return Err(minicbor::decode::Error::message("no piece"));
    }
    let what = from.u32()?;
    let bytes = from.bytes()?;
    if bytes.len() > LONGEST {
        return Ok(None);
    }
    Ok(Some(match what {
        1 => Piece::Key(bytes),
        2 => Piece::Entry(bytes),
        3 => Piece::Page(bytes),
        4 => Piece::Standpoint(bytes),
        other => Piece::Other(other),
    }))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn two() -> Vec<u8> {
        let mut bundle = Writer::new();
        bundle.key(b"key");
        bundle.entry(b"entry");
        bundle.done()
    }

    #[test]
    fn what_was_put_in_comes_out() {
        assert_eq!(read(&two()).unwrap(), (vec![Piece::Key(b"key"), Piece::Entry(b"entry")], None));
    }

    #[test]
    fn cut_anywhere_the_whole_pieces_come_out_and_the_cut_is_said() {
        let whole = two();
        let first = FORM.len() + 1 + 3 + b"key".len();
        for cut in FORM.len() + 2..whole.len() {
            let (pieces, error) = read(&whole[..cut]).unwrap();
            let expected = usize::from(cut >= first);
            assert_eq!(pieces.len(), expected, "{cut}");
            let clean = cut == first;
            assert_eq!(error, (!clean).then_some(Error::CutShort { whole: expected }), "{cut}");
        }
    }

    #[test]
    fn one_that_is_taken_out_piece_by_piece_is_the_same() {
        let (mut bundle, mut drained) = (Writer::new(), Vec::new());
        bundle.key(b"key");
        let told = bundle.length_with([5]);
        drained.extend(bundle.drain());
        assert_eq!((bundle.waiting(), bundle.length_with([5])), (0, told), "what was taken out counts");
        bundle.entry(b"entry");
        drained.extend(bundle.drain());
        assert_eq!([drained, bundle.done()].concat(), two());
    }

    #[test]
    fn the_length_told_beforehand_is_never_too_short() {
        for length in [0, 23, 24, 255, 256, 65_535, 65_536] {
            let mut bundle = Writer::new();
            let told = bundle.length_with([length]);
            bundle.entry(&vec![0; length]);
            let whole = bundle.done().len();
            assert!((whole..=whole + 5).contains(&told), "{length}: {told} for {whole}");
        }
    }

    #[test]
    fn a_file_full_of_empty_pieces_is_refused_before_its_list_fills_the_memory() {
        let mut bundle = Writer::new();
        for _ in 0..PIECES {
            bundle.key(b"");
        }
        let few = bundle.done();
        assert_eq!(read(&few).unwrap().0.len(), PIECES);
        let mut many = few;
        for _ in 0..200_000 {
            many.extend_from_slice(&[0x82, 0x01, 0x40]);
        }
        let error = Error::NotABundle("it has more pieces than records would make");
        assert_eq!(read(&many), Err(error));
    }

    #[test]
    fn another_file_is_no_bundle() {
        assert!(matches!(read(b"PK\x03\x04 something"), Err(Error::NotABundle(_))));
        assert!(matches!(read(b""), Err(Error::NotABundle(_))));
    }
}
