//! The strict reading of CBOR, against the examples of RFC 8949 and against random bytes.

use proptest::prelude::*;
use record::cbor::{Fault, Flaw, MAX_DEPTH, check, first};
use rstest::rstest;

/// Examples of RFC 8949, appendix A, that are deterministic and within this format.
#[rstest]
#[case::zero(b"\x00")]
#[case::twenty_three(b"\x17")]
#[case::twenty_four(b"\x18\x18")]
#[case::hundred(b"\x18\x64")]
#[case::thousand(b"\x19\x03\xe8")]
#[case::million(b"\x1a\x00\x0f\x42\x40")]
#[case::trillion(b"\x1b\x00\x00\x00\xe8\xd4\xa5\x10\x00")]
#[case::largest(b"\x1b\xff\xff\xff\xff\xff\xff\xff\xff")]
#[case::least(b"\x3b\xff\xff\xff\xff\xff\xff\xff\xff")]
#[case::minus_hundred(b"\x38\x63")]
#[case::no(b"\xf4")]
#[case::yes(b"\xf5")]
#[case::null(b"\xf6")]
#[case::tagged_text(
    b"\xc0\x74\x32\x30\x31\x33\x2d\x30\x33\x2d\x32\x31\x54\x32\x30\x3a\x30\x34\x3a\x30\x30\x5a"
)]
#[case::encoded_within(b"\xd8\x18\x45\x64\x49\x45\x54\x46")]
#[case::no_bytes(b"\x40")]
#[case::four_bytes(b"\x44\x01\x02\x03\x04")]
#[case::no_text(b"\x60")]
#[case::umlaut(b"\x62\xc3\xbc")]
#[case::outside_the_basic_plane(b"\x64\xf0\x90\x85\x91")]
#[case::no_array(b"\x80")]
#[case::nested(b"\x83\x01\x82\x02\x03\x82\x04\x05")]
#[case::no_map(b"\xa0")]
#[case::numbers_as_keys(b"\xa2\x01\x02\x03\x04")]
#[case::texts_as_keys(b"\xa2\x61\x61\x01\x61\x62\x82\x02\x03")]
// Section 4.2.1 gives this order of keys: 10, 100, -1, "z", "aa", [100], [-1], false.
#[case::keys_of_all_types(
    b"\xa8\x0a\x00\x18\x64\x00\x20\x00\x61\x7a\x00\x62\x61\x61\x00\x81\x18\x64\x00\x81\x20\x00\xf4\x00"
)]
// Section 3.4.4: 273.15 as a decimal fraction.
#[case::decimal_fraction(b"\xc4\x82\x21\x19\x6a\xb3")]
fn passes(#[case] bytes: &[u8]) {
    assert_eq!(check(bytes), Ok(()));
}

#[rstest]
#[case::nothing(b"", 0, Flaw::CutShort)]
#[case::cut_number(b"\x19\x03", 0, Flaw::CutShort)]
#[case::cut_text(b"\x62\xc3", 0, Flaw::CutShort)]
#[case::cut_array(b"\x82\x01", 0, Flaw::CutShort)]
#[case::cut_map(b"\xa1\x01", 0, Flaw::CutShort)]
#[case::length_beyond_memory(b"\x5b\xff\xff\xff\xff\xff\xff\xff\xff", 0, Flaw::CutShort)]
#[case::count_beyond_memory(b"\x9b\xff\xff\xff\xff\xff\xff\xff\xff", 0, Flaw::CutShort)]
#[case::map_beyond_memory(b"\xbb\xff\xff\xff\xff\xff\xff\xff\xff", 0, Flaw::CutShort)]
#[case::two_items(b"\x01\x02", 1, Flaw::Trailing)]
#[case::one_in_two_bytes(b"\x18\x01", 0, Flaw::NotShortest)]
#[case::one_in_three(b"\x19\x00\xff", 0, Flaw::NotShortest)]
#[case::one_in_five(b"\x1a\x00\x00\xff\xff", 0, Flaw::NotShortest)]
#[case::one_in_nine(b"\x1b\x00\x00\x00\x00\xff\xff\xff\xff", 0, Flaw::NotShortest)]
#[case::long_text_length(b"\x78\x01\x61", 0, Flaw::NotShortest)]
#[case::long_array_length(b"\x98\x01\x01", 0, Flaw::NotShortest)]
#[case::long_tag(b"\xd8\x04\x82\x20\x01", 0, Flaw::NotShortest)]
#[case::inner_number(b"\x82\x01\x18\x02", 2, Flaw::NotShortest)]
#[case::open_bytes(b"\x5f\x42\x01\x02\xff", 0, Flaw::Indefinite)]
#[case::open_text(b"\x7f\x61\x61\xff", 0, Flaw::Indefinite)]
#[case::open_array(b"\x9f\x01\xff", 0, Flaw::Indefinite)]
#[case::open_map(b"\xbf\x01\x02\xff", 0, Flaw::Indefinite)]
#[case::lone_break(b"\xff", 0, Flaw::Indefinite)]
#[case::keys_downwards(b"\xa2\x03\x04\x01\x02", 3, Flaw::KeyOrder)]
#[case::key_twice(b"\xa2\x01\x02\x01\x03", 3, Flaw::KeyOrder)]
// The order of RFC 7049 put shorter keys first; 4.2.1 goes by the bytes alone.
#[case::order_of_the_old_standard(b"\xa2\x20\x00\x18\x64\x00", 3, Flaw::KeyOrder)]
#[case::half_float(b"\xf9\x3c\x00", 0, Flaw::Float)]
#[case::single_float(b"\xfa\x47\xc3\x50\x00", 0, Flaw::Float)]
#[case::double_float(b"\xfb\x3f\xf1\x99\x99\x99\x99\x99\x9a", 0, Flaw::Float)]
#[case::big_number(b"\xc2\x49\x01\x00\x00\x00\x00\x00\x00\x00\x00", 0, Flaw::BigNumber)]
#[case::big_negative(b"\xc3\x49\x01\x00\x00\x00\x00\x00\x00\x00\x00", 0, Flaw::BigNumber)]
#[case::undefined(b"\xf7", 0, Flaw::Simple)]
#[case::simple_16(b"\xf0", 0, Flaw::Simple)]
#[case::simple_255(b"\xf8\xff", 0, Flaw::Simple)]
#[case::reserved(b"\x1c", 0, Flaw::Reserved)]
#[case::not_text(b"\x61\xff", 0, Flaw::NotText)]
#[case::half_a_pair(b"\x63\xed\xa0\x80", 0, Flaw::NotText)]
fn refuses(#[case] bytes: &[u8], #[case] at: usize, #[case] flaw: Flaw) {
    assert_eq!(check(bytes), Err(Fault { at, flaw }));
}

#[rstest]
#[case::arrays(0x81)]
#[case::tags(0xc6)]
fn counts_levels(#[case] level: u8) {
    let nested = |levels: usize| [vec![level; levels], vec![0x00]].concat();
    assert_eq!(check(&nested(MAX_DEPTH)), Ok(()));
    assert_eq!(check(&nested(MAX_DEPTH + 1)), Err(Fault { at: MAX_DEPTH, flaw: Flaw::TooDeep }));
    // Far deeper than any stack: refused at the same place.
    assert_eq!(check(&nested(1_000_000)), Err(Fault { at: MAX_DEPTH, flaw: Flaw::TooDeep }));
}

#[test]
fn goes_through_a_sequence() {
    let (one, rest) = first(b"\x82\x01\x02\x61\x61").unwrap();
    assert_eq!(one, b"\x82\x01\x02");
    let (two, rest) = first(rest).unwrap();
    assert_eq!((two, rest), (&b"\x61\x61"[..], &b""[..]));
}

proptest! {
    #[test]
    fn random_bytes_never_panic(bytes in proptest::collection::vec(any::<u8>(), 0..300)) {
        if let Ok((item, rest)) = first(&bytes) {
            prop_assert_eq!(item.len() + rest.len(), bytes.len());
            prop_assert_eq!(check(item), Ok(()));
        }
    }

    /// Random bytes are mostly refused at once; bytes near the heads of containers get further in.
    #[test]
    fn near_cbor_never_panics(bytes in proptest::collection::vec(
        prop_oneof![Just(0x82u8), Just(0xa1), Just(0x18), Just(0x41), Just(0x61), Just(0xc4), 0u8..30, any::<u8>()],
        0..300,
    )) {
        let passed = check(&bytes).is_ok();
        // A generous reader takes everything that the strict one takes.
        let mut generous = minicbor::Decoder::new(&bytes);
        let read = generous.skip().is_ok() && generous.position() == bytes.len();
        prop_assert!(!passed || read);
    }

    /// What passes cut short anywhere no longer passes.
    #[test]
    fn nothing_cut_passes(texts in proptest::collection::vec(".{0,40}", 1..8)) {
        let mut out = minicbor::Encoder::new(Vec::new());
        out.array(texts.len() as u64).unwrap();
        for text in &texts {
            out.str(text).unwrap();
        }
        let whole = out.into_writer();
        prop_assert_eq!(check(&whole), Ok(()));
        for end in 0..whole.len() {
            prop_assert!(check(&whole[..end]).is_err());
        }
    }
}
