//! Photo files: every way a phone can be held, and files that are not what they say.

use camera::{Scene, jpeg, jpeg_turned, png};
use proptest::prelude::*;
use rstest::rstest;
use tagcode::photo::{PhotoError, decode};
use tagcode::{Effort, Gray};

use crate::view::{LINK, printed, seen, texts};

/// A photo in which no way of turning it looks like another.
fn photo() -> Gray {
    Scene { at: (0.35, 0.4), wide: 0.5, ..Scene::clear(640, 480) }.shot(Some(&printed(LINK)))
}

/// How far two pictures are apart, in shades a pixel.
fn apart(one: &Gray, other: &Gray) -> f64 {
    assert_eq!((one.width(), one.height()), (other.width(), other.height()));
    let sum: u64 = one.pixels().iter().zip(other.pixels()).map(|(a, b)| u64::from(a.abs_diff(*b))).sum();
    sum as f64 / one.pixels().len() as f64
}

#[rstest]
fn a_photo_stands_upright_however_the_phone_was_held(#[values(1, 2, 3, 4, 5, 6, 7, 8)] orientation: u16) {
    let upright = decode(&jpeg(&photo(), 90)).unwrap();
    let file = jpeg_turned(&photo(), 90, orientation);
    for file in [intel(&file, orientation), file] {
        let turned = decode(&file).unwrap();
        assert!(apart(&upright, &turned) < 2.0, "{orientation}: {} apart", apart(&upright, &turned));
        assert_eq!(texts(&seen(&turned, Effort::Photo)), [LINK]);
    }
}

/// The same file with its EXIF in the byte order of Intel, as most phones write it.
fn intel(file: &[u8], orientation: u16) -> Vec<u8> {
    let start = file.windows(8).position(|bytes| bytes == b"Exif\0\0MM").unwrap() + 6;
    let mut exif = b"II\x2a\0\x08\0\0\0\x01\0\x12\x01\x03\0\x01\0\0\0".to_vec();
    exif.extend(orientation.to_le_bytes());
    let mut file = file.to_vec();
    file[start..start + exif.len()].copy_from_slice(&exif);
    file
}

#[rstest]
#[case::none(0)]
#[case::beyond(9)]
#[case::far_beyond(65535)]
fn an_orientation_that_is_none_leaves_the_photo_as_it_is(#[case] orientation: u16) {
    let upright = decode(&jpeg(&photo(), 90)).unwrap();
    assert_eq!(decode(&jpeg_turned(&photo(), 90, orientation)).unwrap(), upright);
}

#[test]
fn a_png_is_a_photo_too() {
    assert_eq!(decode(&png(&photo())), Ok(photo()));
}

#[rstest]
#[case::good(90)]
#[case::poor(20)]
fn a_packed_photo_is_read(#[case] quality: u8) {
    let photo = decode(&jpeg(&photo(), quality)).unwrap();
    assert_eq!(texts(&seen(&photo, Effort::Photo)), [LINK]);
}

#[rstest]
#[case::nothing(b"")]
#[case::words(b"LT-2041")]
#[case::a_page(b"<svg xmlns=\"http://www.w3.org/2000/svg\"/>")]
#[case::another_kind(b"GIF89a\x01\0\x01\0\0\0\0;")]
#[case::a_document(b"%PDF-1.7\n")]
fn what_is_no_photo_is_refused(#[case] file: &[u8]) {
    assert_eq!(decode(file), Err(PhotoError::NotAPhoto));
}

#[test]
fn a_file_cut_short_in_its_head_is_damaged() {
    for (whole, head) in [(jpeg(&photo(), 90), [3, 12, 150]), (png(&photo()), [9, 20, 40])] {
        for kept in head {
            assert_eq!(decode(&whole[..kept]), Err(PhotoError::Damaged), "{kept}");
        }
    }
}

#[test]
fn a_png_cut_short_is_damaged_and_a_jpeg_shows_what_came() {
    let file = png(&photo());
    assert_eq!(decode(&file[..file.len() / 2]), Err(PhotoError::Damaged));
    let file = jpeg(&photo(), 90);
    // Whichever way it is taken, a part of a code is never read as a code.
    match decode(&file[..file.len() / 3]) {
        Ok(part) => assert_eq!(texts(&seen(&part, Effort::Photo)), Vec::<&str>::new()),
        Err(error) => assert_eq!(error, PhotoError::Damaged),
    }
}

/// A PNG of a header and nothing else (W3C PNG, section 11.2.1).
fn png_head(width: u32, height: u32, depth: u8, colour: u8) -> Vec<u8> {
    let mut chunk = b"IHDR".to_vec();
    chunk.extend(width.to_be_bytes());
    chunk.extend(height.to_be_bytes());
    chunk.extend([depth, colour, 0, 0, 0]);
    let check = crc(&chunk);
    let mut file = b"\x89PNG\r\n\x1a\n\0\0\0\x0d".to_vec();
    file.extend(chunk);
    file.extend(check.to_be_bytes());
    // An empty piece of picture data, so that only the header can be what is refused.
    file.extend(b"\0\0\0\0IDAT");
    file.extend(crc(b"IDAT").to_be_bytes());
    file
}

/// The check of a PNG's chunk (W3C PNG, annex D).
fn crc(bytes: &[u8]) -> u32 {
    !bytes.iter().fold(!0u32, |crc, byte| {
        (0..8).fold(
            crc ^ u32::from(*byte),
            |crc, _| if crc & 1 == 1 { crc >> 1 ^ 0xEDB8_8320 } else { crc >> 1 },
        )
    })
}

#[test]
fn the_check_is_the_published_one() {
    // Every PNG ends with these twelve bytes.
    assert_eq!(crc(b"IEND").to_be_bytes(), [0xAE, 0x42, 0x60, 0x82]);
}

#[rstest]
#[case::far_too_many_pixels(60_000, 60_000, 8, 0)]
#[case::just_too_many_pixels(8_001, 8_000, 8, 0)]
#[case::one_long_row(64_000_001, 1, 1, 0)]
#[case::too_many_bytes(8_000, 7_999, 16, 6)]
fn a_picture_too_large_is_refused_by_its_head_alone(
    #[case] width: u32,
    #[case] height: u32,
    #[case] depth: u8,
    #[case] colour: u8,
) {
    // There is no picture behind the head: were anything decoded, the file would be damaged instead.
    assert_eq!(decode(&png_head(width, height, depth, colour)), Err(PhotoError::TooLarge { width, height }));
}

#[test]
fn a_head_of_an_allowed_size_without_a_picture_is_damaged() {
    assert_eq!(decode(&png_head(8_000, 8_000, 8, 0)), Err(PhotoError::Damaged));
}

#[test]
fn a_jpeg_that_says_it_is_huge_is_refused() {
    let mut file = jpeg(&photo(), 90);
    // Start of frame: length, precision, then height and width (ITU-T T.81, B.2.2).
    let frame = file.windows(2).position(|bytes| bytes == [0xFF, 0xC0]).unwrap();
    file[frame + 5..frame + 9].copy_from_slice(&[0xFF; 4]);
    assert_eq!(decode(&file), Err(PhotoError::TooLarge { width: 65535, height: 65535 }));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(256))]

    #[test]
    fn bytes_behind_a_head_never_bring_it_down(kind in 0..3usize, bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        let mut file = [&b"\xFF\xD8\xFF"[..], b"\x89PNG\r\n\x1a\n", b""][kind].to_vec();
        file.extend(bytes);
        let _ = decode(&file);
    }

    #[test]
    fn a_damaged_photo_is_refused_or_read_but_never_as_another_text(
        packed in any::<bool>(),
        hits in prop::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..12),
    ) {
        let small = Scene::clear(200, 150).shot(Some(&printed(LINK)));
        let mut file = if packed { jpeg(&small, 80) } else { png(&small) };
        for (at, byte) in hits {
            let at = at.index(file.len());
            file[at] = byte;
        }
        if let Ok(picture) = decode(&file) {
            prop_assume!(picture.pixels().len() < 1_000_000);
            for text in texts(&seen(&picture, Effort::Frame)) {
                prop_assert_eq!(text, LINK);
            }
        }
    }
}
