//! A bundle file from anywhere, packed or not: refused, or read as far as it came whole, and then put together again.
#![no_main]

use exchange::bundle::{self, Piece, Writer};
use exchange::page::Page;
use exchange::standpoint::Standpoint;
use exchange::{intake, packed};
use libfuzzer_sys::fuzz_target;
use record::Strict;

fuzz_target!(|file: &[u8]| {
    read(file);
    if let Ok(unpacked) = packed::unpack(file, 1 << 20) {
        read(&unpacked);
    }
});

fn read(bytes: &[u8]) {
    let Ok((pieces, cut)) = bundle::read(bytes) else { return };
    let intake = intake::bundle(&pieces, |_| None, &Strict);
    let entries = pieces.iter().filter(|piece| matches!(piece, Piece::Entry(_))).count();
    assert_eq!(intake.entries.len() + intake.bad.len(), entries);
    let mut again = Writer::new();
    for piece in &pieces {
        match piece {
            Piece::Key(bytes) => again.key(bytes),
            Piece::Entry(bytes) => again.entry(bytes),
            Piece::Page(bytes) => {
                for key in &intake.keys {
                    let _judged = Page::open(bytes, key, &Strict);
                }
                again.page(bytes);
            }
            Piece::Standpoint(bytes) => {
                for key in &intake.keys {
                    let _judged = Standpoint::open(bytes, key, &Strict);
                }
                again.standpoint(bytes);
            }
            Piece::Other(_) => return,
        }
    }
    let again = again.done();
    assert_eq!(bundle::read(&again).expect("what was written is read"), (pieces, None));
    assert!(cut.is_some() || again.len() <= bytes.len(), "there is a longer form only");
}
