//! Packing with zstd, and unpacking what a stranger packed.
//!
//! Messages go small rounds over slow links: packing hard costs a phone less than sending does. Unpacking is
//! bounded twice: by the bytes that come out, and by the memory that a frame may ask for.

use std::fmt;
use std::io::{self, Read, Write};

use crate::Error;

/// How hard messages are packed.
const LEVEL: i32 = 19;
/// How hard a whole ledger is packed, which goes to a disk: `LEVEL` would take many times as long.
const QUICK: i32 = 9;
/// The most memory that a frame may ask for, as a power of two: 8 MiB, which is what `LEVEL` itself uses.
const WINDOW: u32 = 23;

/// Packs bytes.
///
/// # Errors
///
/// [`Error::Writing`] when there is no memory for it.
pub fn pack(bytes: &[u8]) -> Result<Vec<u8>, Error> {
    zstd::bulk::compress(bytes, LEVEL).map_err(|error| Error::Writing(error.to_string()))
}

/// Packs what is longer than memory should hold, on its way to where it goes.
pub struct Packer<W: Write>(zstd::stream::write::Encoder<'static, W>);

impl<W: Write> Packer<W> {
    /// Begins.
    ///
    /// # Errors
    ///
    /// When there is no memory for it.
    pub fn over(out: W) -> io::Result<Packer<W>> {
        let mut packer = zstd::stream::write::Encoder::new(out, QUICK)?;
        packer.window_log(WINDOW)?;
        Ok(Packer(packer))
    }

    /// Packs the next bytes.
    ///
    /// # Errors
    ///
    /// What the target says.
    pub fn put(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.0.write_all(bytes)
    }

    /// Ends, and gives the target back.
    ///
    /// # Errors
    ///
    /// What the target says.
    pub fn done(self) -> io::Result<W> {
        self.0.finish()
    }
}

impl<W: Write> fmt::Debug for Packer<W> {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.debug_struct("Packer").finish_non_exhaustive()
    }
}

/// Unpacks bytes.
///
/// # Errors
///
/// [`Error::TooLarge`] as soon as more than `most` bytes come out, [`Error::Damaged`] for what cannot be unpacked.
pub fn unpack(bytes: &[u8], most: usize) -> Result<Vec<u8>, Error> {
    let mut from = zstd::stream::read::Decoder::with_buffer(bytes).map_err(|_| Error::Damaged)?;
    from.window_log_max(WINDOW).map_err(|_| Error::Damaged)?;
    let mut out = Vec::with_capacity(bytes.len().saturating_mul(4).min(most));
    let bound = u64::try_from(most).unwrap_or(u64::MAX).saturating_add(1);
    from.take(bound).read_to_end(&mut out).map_err(|_| Error::Damaged)?;
    if out.len() > most { Err(Error::TooLarge { most }) } else { Ok(out) }
}

/// Unpacks as much as came whole of a file that may have been cut; says whether that was all of it.
///
/// # Errors
///
/// [`Error::TooLarge`] as soon as more than `most` bytes come out, [`Error::Damaged`] where nothing does.
pub fn unpack_what_came(bytes: &[u8], most: usize) -> Result<(Vec<u8>, bool), Error> {
    let mut from = zstd::stream::read::Decoder::with_buffer(bytes).map_err(|_| Error::Damaged)?;
    from.window_log_max(WINDOW).map_err(|_| Error::Damaged)?;
    let (mut out, mut piece) = (Vec::new(), vec![0; 64 * 1024]);
    loop {
        match from.read(&mut piece) {
            Ok(0) => return Ok((out, true)),
            Ok(came) => out.extend_from_slice(piece.get(..came).unwrap_or_default()),
            Err(_) if out.is_empty() => return Err(Error::Damaged),
            Err(_) => return Ok((out, false)),
        }
        if out.len() > most {
            return Err(Error::TooLarge { most });
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn what_is_packed_comes_out_again(bytes in proptest::collection::vec(any::<u8>(), 0..5000)) {
            prop_assert_eq!(unpack(&pack(&bytes).unwrap(), bytes.len()).unwrap(), bytes);
        }

        #[test]
        fn what_was_never_packed_is_an_error(bytes in proptest::collection::vec(any::<u8>(), 1..200)) {
            prop_assert!(unpack(&bytes, 1000).is_err());
        }
    }

    #[test]
    fn what_is_packed_on_its_way_comes_out_again() {
        let bytes: Vec<u8> = (0u32..200_000).flat_map(|at| (at / 7).to_be_bytes()).collect();
        let mut packer = Packer::over(Vec::new()).unwrap();
        bytes.chunks(777).for_each(|chunk| packer.put(chunk).unwrap());
        let packed = packer.done().unwrap();
        assert_eq!(unpack(&packed, bytes.len()).unwrap(), bytes);
        assert_eq!(unpack_what_came(&packed, bytes.len()).unwrap(), (bytes, true));
    }

    #[test]
    fn a_bomb_is_refused_once_it_is_too_large() {
        let bomb = pack(&vec![0; 50_000_000]).unwrap();
        assert!(bomb.len() < 5_000, "{}", bomb.len());
        assert_eq!(unpack(&bomb, 1_000_000), Err(Error::TooLarge { most: 1_000_000 }));
    }

    #[test]
    fn of_a_file_that_was_cut_what_came_whole_is_given() {
        // Nothing repeats, so that the frame has several blocks of at most 128 KiB.
        let bytes: Vec<u8> =
            (0u32..100_000).flat_map(|at| at.wrapping_mul(2_654_435_761).to_be_bytes()).collect();
        let packed = pack(&bytes).unwrap();
        assert_eq!(unpack_what_came(&packed, bytes.len()), Ok((bytes.clone(), true)));
        let (came, all) = unpack_what_came(&packed[..packed.len() - 1], bytes.len()).unwrap();
        assert!(!all && came.len() >= 128 * 1024 && bytes.starts_with(&came), "{}", came.len());
        assert_eq!(unpack_what_came(&packed[..3], bytes.len()), Err(Error::Damaged));
        let bomb = pack(&vec![0; 50_000_000]).unwrap();
        assert_eq!(unpack_what_came(&bomb, 1_000_000), Err(Error::TooLarge { most: 1_000_000 }));
    }

    #[test]
    fn a_packed_text_that_was_cut_or_changed_is_damaged() {
        let packed = pack(&[7; 1000]).unwrap();
        for cut in 0..packed.len() {
            assert!(unpack(&packed[..cut], 2000).is_err(), "{cut}");
        }
    }
}
