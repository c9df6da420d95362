//! The bytes of one of each kind, written by hand from `BODIES.md`.

use bodies::{ChangeMade, HubRole, PersonChange};
use rstest::rstest;

use crate::plain;

/// A byte string of thirty-two times the same.
fn hash(byte: u8) -> Vec<u8> {
    [&[0x58, 0x20][..], &[byte; 32]].concat()
}

fn text(text: &str) -> Vec<u8> {
    assert!(text.len() < 24, "longer texts have a longer head");
    [&[0x60 + u8::try_from(text.len()).unwrap()], text.as_bytes()].concat()
}

fn person() -> Vec<u8> {
    [&[0x50][..], b"invented person!"].concat()
}

fn technician() -> Vec<u8> {
    [vec![0x82], person(), text("pin")].concat()
}

/// `[log, 300, payload]`.
fn subject() -> Vec<u8> {
    [vec![0x83], hash(0xaa), vec![0x19, 0x01, 0x2c], hash(0xbb)].concat()
}

fn epoch() -> Vec<u8> {
    [&[0x50][..], &[0x0e; 16]].concat()
}

/// A list of two.
fn two(one: &[u8], other: &[u8]) -> Vec<u8> {
    [&[0x82], one, other].concat()
}

fn map(fields: &[(u8, Vec<u8>)]) -> Vec<u8> {
    let head = 0xa0 + u8::try_from(fields.len()).unwrap();
    let fields = fields.iter().flat_map(|(key, value)| [&[*key], &value[..]].concat());
    std::iter::once(head).chain(fields).collect()
}

fn observation() -> Vec<u8> {
    // 70,000 is 0x11170; 1.525 is 1525 times ten to the -3, with 1525 as 0x5f5.
    let photo = map(&[(1, hash(0xcc)), (2, vec![0x1a, 0, 1, 0x11, 0x70]), (3, text("image/jpeg"))]);
    let number = vec![0xc4, 0x82, 0x22, 0x19, 0x05, 0xf5];
    let readings = [vec![0x81, 0x83], text("1.525 m"), number, text("m")].concat();
    map(&[
        (1, text("0.2.0")),
        (2, technician()),
        (3, text("LT-2041")),
        (4, text("dip")),
        (5, photo),
        (6, readings),
        (7, text("ripples")),
        (8, text("v7")),
    ])
}

fn amendment() -> Vec<u8> {
    let changes = [vec![0x81, 0x83], text("Dip 1"), text("1.52 m"), text("1.25 m")].concat();
    map(&[(1, text("0.2.0")), (2, technician()), (3, subject()), (4, text("typed wrong")), (5, changes)])
}

fn review() -> Vec<u8> {
    map(&[(1, subject()), (2, text("returned")), (3, text("dip again")), (4, person())])
}

fn receipt() -> Vec<u8> {
    let runs = two(
        &[vec![0x83, 1, 0x18, 30], hash(0xb1)].concat(),
        &[vec![0x83, 0x18, 32, 0x18, 40], hash(0xb2)].concat(),
    );
    let photos = two(&hash(0xcc), &hash(0xcd));
    map(&[(1, epoch()), (2, hash(0xaa)), (3, runs), (4, photos), (5, text("backed_up"))])
}

/// The COSE_Key of the secret key of thirty-two bytes a5: the head of `FORMAT.md` and the public key as the library that
/// makes Ed25519 keys gives it.
fn key() -> Vec<u8> {
    let head = [0xa4, 0x01, 0x01, 0x03, 0x27, 0x20, 0x06, 0x21, 0x58, 0x20];
    [&[0x58, 42][..], &head, &plain::key().cose()[10..]].concat()
}

fn hub() -> Vec<u8> {
    map(&[
        (1, text("hub")),
        (2, key()),
        (3, two(&hash(0x51), &hash(0x50))),
        (4, epoch()),
        (5, hash(0xaa)),
        (7, text("Marrowby")),
    ])
}

fn device() -> Vec<u8> {
    map(&[
        (1, text("device")),
        (2, key()),
        (6, person()),
        (7, text("van 4")),
        (8, two(&text("north"), &text("west"))),
    ])
}

fn organisation() -> Vec<u8> {
    map(&[(1, text("organisation")), (2, key()), (7, text("Marrowby"))])
}

fn revocation() -> Vec<u8> {
    map(&[(1, hash(0xaa)), (2, vec![0x19, 0x01, 0x2c]), (3, hash(0xbb)), (4, text("lost")), (5, person())])
}

/// Nothing is trusted: the place is nought and there is no hash.
fn revocation_of_all() -> Vec<u8> {
    map(&[(1, hash(0xaa)), (2, vec![0]), (4, text("lost")), (5, person())])
}

/// 40, 300, 200, 20, 15, 10: the numbers from 24 on have a byte of their own, 300 two.
fn imported() -> Vec<u8> {
    let rows = vec![0x84, 0x18, 200, 20, 15, 10];
    map(&[
        (1, text("imported")),
        (2, person()),
        (3, text("instruments")),
        (4, hash(0xf1)),
        (5, two(&[0x18, 40], &[0x19, 0x01, 0x2c])),
        (6, rows),
    ])
}

/// By nobody who was named; true is f5.
fn added() -> Vec<u8> {
    map(&[(1, text("person_added")), (7, person()), (8, text("supervise")), (9, vec![0xf5])])
}

fn given_a_role() -> Vec<u8> {
    map(&[(1, text("person_role")), (7, person()), (8, text("administer"))])
}

fn person_and_no_more(word: &str) -> Vec<u8> {
    map(&[(1, text(word)), (7, person())])
}

fn phone_confirmed() -> Vec<u8> {
    map(&[(1, text("phone_confirmed")), (2, person()), (10, hash(0xaa))])
}

fn phones_looked_through() -> Vec<u8> {
    map(&[(1, text("phones_looked_through")), (2, person())])
}

#[rstest]
#[case::observation(plain::observation().encode(), observation())]
#[case::amendment(plain::amendment().encode(), amendment())]
#[case::review(plain::review().encode(), review())]
#[case::receipt(plain::receipt().encode(), receipt())]
#[case::hub(plain::hub().encode(), hub())]
#[case::device(plain::device().encode(), device())]
#[case::organisation(plain::organisation().encode(), organisation())]
#[case::revocation(plain::revocation().encode(), revocation())]
#[case::revocation_of_all(
    bodies::Revocation { last: None, ..plain::revocation() }.encode(),
    revocation_of_all()
)]
#[case::imported(plain::change().encode(), imported())]
#[case::added(plain::added().encode(), added())]
#[case::given_a_role(plain::changed(PersonChange::Role(HubRole::Administer)).encode(), given_a_role())]
#[case::renamed(plain::changed(PersonChange::Renamed).encode(), person_and_no_more("person_renamed"))]
#[case::erased(plain::changed(PersonChange::Erased).encode(), person_and_no_more("person_erased"))]
#[case::password(plain::changed(PersonChange::Password).encode(), person_and_no_more("person_password"))]
#[case::phone_confirmed(plain::phone_confirmed().encode(), phone_confirmed())]
#[case::looked_through(plain::of_phones(ChangeMade::PhonesLookedThrough).encode(), phones_looked_through())]
#[case::no_sign_in(plain::changed(PersonChange::NoSignIn).encode(), person_and_no_more("person_no_sign_in"))]
fn is_written_as_by_hand(#[case] ours: Result<Vec<u8>, bodies::Error>, #[case] by_hand: Vec<u8>) {
    assert_eq!(ours.unwrap(), by_hand);
}
