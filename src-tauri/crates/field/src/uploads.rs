//! Files that come from a page in small pieces.
//!
//! Some platforms send what a command is given as text, so a photo comes as base64 in pieces, each starting
//! where the one before it ended. There is one upload at a time: beginning another drops the one before, so
//! that a page that was closed half way holds no memory for long. Using an upload takes it away.

use base64::Engine;
use base64::engine::general_purpose::STANDARD;

use crate::Error;

/// The largest file that is taken in.
pub const MOST_BYTES: u32 = 64 * 1024 * 1024;
/// The largest piece, before it became base64.
pub const MOST_PIECE: u32 = 48 * 1024;

// What is taken in can also be brought to the hub.
const _: () = assert!(MOST_BYTES as u64 <= bodies::PHOTO_BYTES);

/// The upload there is, if any.
#[derive(Debug, Default)]
pub(crate) struct Uploads {
    current: Option<Upload>,
    begun: u32,
}

#[derive(Debug)]
struct Upload {
    id: String,
    size: u32,
    bytes: Vec<u8>,
}

impl Uploads {
    /// Begins an upload of this many bytes in place of any other, and returns its id.
    pub(crate) fn begin(&mut self, size: u32) -> Result<String, Error> {
        if size > MOST_BYTES {
            return Err(Error::FileTooLarge { most: MOST_BYTES });
        }
        self.begun = self.begun.wrapping_add(1);
        let id = format!("upload-{}", self.begun);
        // Room is made as pieces come: a size that was only claimed takes no memory.
        self.current = Some(Upload { id: id.clone(), size, bytes: Vec::new() });
        Ok(id)
    }

    /// Adds a piece. The same piece again, after an answer that was lost, changes nothing.
    pub(crate) fn piece(&mut self, id: &str, at: u32, base64: &str) -> Result<(), Error> {
        let upload = self.current.as_mut().filter(|upload| upload.id == id).ok_or(Error::NoUpload)?;
        // Four letters of base64 carry three bytes: what is too long is refused before it is decoded.
        if base64.len() > MOST_PIECE.div_ceil(3) as usize * 4 {
            return Err(Error::BadPiece);
        }
        let piece = STANDARD.decode(base64).map_err(|_| Error::BadPiece)?;
        let at = at as usize;
        if let Some(held) = upload.bytes.get(at..at + piece.len())
            && held == piece
        {
            return Ok(());
        }
        if at != upload.bytes.len() || at + piece.len() > upload.size as usize {
            return Err(Error::PieceOutOfPlace);
        }
        upload.bytes.extend_from_slice(&piece);
        Ok(())
    }

    /// Drops an upload; one that is gone already is no error.
    pub(crate) fn drop_one(&mut self, id: &str) {
        self.current.take_if(|upload| upload.id == id);
    }

    /// Takes a whole upload out. One that is not whole is gone too: it would never become so.
    pub(crate) fn take(&mut self, id: &str) -> Result<Vec<u8>, Error> {
        let upload = self.current.take_if(|upload| upload.id == id).ok_or(Error::NoUpload)?;
        if upload.bytes.len() != upload.size as usize {
            return Err(Error::PieceMissing);
        }
        Ok(upload.bytes)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn text(bytes: &[u8]) -> String {
        STANDARD.encode(bytes)
    }

    #[test]
    fn pieces_in_order_become_the_file_once() {
        let mut uploads = Uploads::default();
        let id = uploads.begin(5).unwrap();
        uploads.piece(&id, 0, &text(b"abc")).unwrap();
        uploads.piece(&id, 0, &text(b"abc")).unwrap();
        uploads.piece(&id, 3, &text(b"de")).unwrap();
        assert_eq!(uploads.take(&id).unwrap(), b"abcde");
        assert!(matches!(uploads.take(&id), Err(Error::NoUpload)));
    }

    #[test]
    fn a_gap_an_overrun_and_nonsense_are_refused() {
        let mut uploads = Uploads::default();
        let id = uploads.begin(5).unwrap();
        assert!(matches!(uploads.piece(&id, 1, &text(b"a")), Err(Error::PieceOutOfPlace)));
        assert!(matches!(uploads.piece(&id, 0, &text(b"abcdef")), Err(Error::PieceOutOfPlace)));
        assert!(matches!(uploads.piece(&id, 0, "not base64!"), Err(Error::BadPiece)));
        uploads.piece(&id, 0, &text(b"abc")).unwrap();
        assert!(matches!(uploads.piece(&id, 0, &text(b"abX")), Err(Error::PieceOutOfPlace)));
        assert!(matches!(uploads.piece(&id, u32::MAX, &text(b"a")), Err(Error::PieceOutOfPlace)));
    }

    #[test]
    fn the_largest_piece_passes_and_a_larger_one_does_not() {
        let mut uploads = Uploads::default();
        let id = uploads.begin(MOST_BYTES).unwrap();
        uploads.piece(&id, 0, &text(&vec![1; MOST_PIECE as usize])).unwrap();
        let more = text(&vec![1; MOST_PIECE as usize + 1]);
        assert!(matches!(uploads.piece(&id, MOST_PIECE, &more), Err(Error::BadPiece)));
        assert!(matches!(uploads.begin(MOST_BYTES + 1), Err(Error::FileTooLarge { .. })));
    }

    #[test]
    fn a_second_upload_drops_the_first() {
        let mut uploads = Uploads::default();
        let first = uploads.begin(1).unwrap();
        let second = uploads.begin(1).unwrap();
        assert!(matches!(uploads.piece(&first, 0, &text(b"a")), Err(Error::NoUpload)));
        uploads.drop_one(&first);
        assert!(matches!(uploads.take(&second), Err(Error::PieceMissing)));
    }
}
