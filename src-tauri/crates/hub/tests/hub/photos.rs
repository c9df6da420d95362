//! Photos over the network: in pieces, from where the hub stands, and never under a wrong name.

use bodies::{
    Confirmed, HubRole, OBSERVATION, OBSERVATION_VERSION, Observation, Observed, PHOTO_BYTES, PersonId,
    Photo, PhotoHash, Technician,
};
use hubstore::{Photos, photo_hash, photo_name};
use reqwest::{Method, Response, StatusCode};

use crate::phone::Phone;
use crate::server::Server;

const PIECE: usize = 256 * 1024;

fn picture(length: usize) -> Vec<u8> {
    (0..length).map(|at| u8::try_from(at * 31 % 251).unwrap()).collect()
}

/// A phone whose record cites a photo, enrolled and sent.
async fn cited(server: &Server, bytes: &[u8]) -> (Phone, String) {
    let hash = photo_hash(bytes);
    let phone = citing(server, 1, hash, bytes.len() as u64).await;
    (phone, format!("/photos/{}", photo_name(hash)))
}

/// The phone of this number, enrolled; its record says that a photo has this length.
async fn citing(server: &Server, number: u8, hash: PhotoHash, length: u64) -> Phone {
    let observation = Observation {
        app: "0.1.0".into(),
        technician: Technician { person: PersonId([9; 16]), confirmed: Confirmed::Pin },
        tag: "LT-2041".into(),
        what: Observed::Photo,
        photo: Some(Photo { hash, length, media_type: "image/jpeg".into() }),
        readings: Vec::new(),
        note: String::new(),
        made_for: String::new(),
    };
    let mut phone = Phone::with(number, 0);
    phone.sign(OBSERVATION, OBSERVATION_VERSION, &observation.encode().unwrap());
    server.world.enrol(&phone, &[]).await;
    phone.sends(&server.world).await;
    phone
}

async fn put(server: &Server, path: &str, whole: &[u8], at: usize) -> Response {
    let piece = &whole[at..whole.len().min(at + PIECE)];
    put_as(server, path, format!("bytes {at}-{}/{}", at + piece.len() - 1, whole.len()), piece).await
}

async fn put_as(server: &Server, path: &str, range: String, piece: &[u8]) -> Response {
    server.ask(Method::PUT, path).header("content-range", range).body(piece.to_vec()).send().await.unwrap()
}

fn stands(answer: &Response) -> (u16, &str, &str) {
    let header = |name: &str| answer.headers()[name].to_str().unwrap();
    (answer.status().as_u16(), header("x-headmark-offset"), header("x-headmark-whole"))
}

#[tokio::test]
async fn a_photo_comes_in_pieces_and_goes_on_where_it_stopped() {
    let server = Server::start().await;
    server.world.person("Ada", HubRole::Read).await;
    let whole = picture(2 * PIECE + 100);
    let (phone, path) = cited(&server, &whole).await;
    let head = server.ask(Method::HEAD, &path).send().await.unwrap();
    assert_eq!(stands(&head), (200, "0", "false"));
    // The third piece first: what counts is what is there without a gap.
    assert_eq!(stands(&put(&server, &path, &whole, 2 * PIECE).await), (200, "0", "false"));
    assert_eq!(stands(&put(&server, &path, &whole, 0).await), (200, "262144", "false"));
    assert_eq!(stands(&put(&server, &path, &whole, 0).await), (200, "262144", "false"), "twice does no harm");
    let before = phone.sends(&server.world).await.0;
    let session = server.sign_in("Ada").await;
    let early = session.on(server.get(&path)).send().await.unwrap();
    assert_eq!(early.status(), StatusCode::NOT_FOUND, "no half photo is given out");
    let length = whole.len().to_string();
    assert_eq!(stands(&put(&server, &path, &whole, PIECE).await), (200, length.as_str(), "true"));
    assert_eq!(
        stands(&server.ask(Method::HEAD, &path).send().await.unwrap()),
        (200, length.as_str(), "true")
    );
    let answer = session.on(server.get(&path)).send().await.unwrap();
    assert_eq!(answer.headers()["content-type"], "image/jpeg");
    assert!(answer.bytes().await.unwrap() == whole);
    assert_eq!(server.get(&path).send().await.unwrap().status(), StatusCode::UNAUTHORIZED);
    // The next receipt names it.
    let photos = |answer: &exchange::message::Answer| {
        let entries = answer.entries.iter().map(|entry| record::open(entry).unwrap());
        let receipts = entries.filter_map(|entry| bodies::Receipt::of_entry(&entry).ok());
        receipts.collect::<Vec<_>>().last().unwrap().photos.len()
    };
    assert_eq!(photos(&before), 0);
    assert_eq!(photos(&phone.sends(&server.world).await.0), 1);
    server.stop().await;
}

#[tokio::test]
async fn bytes_that_are_not_the_photo_are_dropped_and_asked_for_anew() {
    let server = Server::start().await;
    let whole = picture(PIECE + 10);
    let (_, path) = cited(&server, &whole).await;
    put(&server, &path, &whole, 0).await;
    let mut other = whole.clone();
    other[PIECE + 3] ^= 1;
    assert_eq!(stands(&put(&server, &path, &other, PIECE).await), (409, "0", "false"));
    put(&server, &path, &whole, 0).await;
    assert_eq!(stands(&put(&server, &path, &whole, PIECE).await).2, "true");
    server.stop().await;
}

#[tokio::test]
async fn what_is_not_cited_not_a_piece_or_too_large_is_not_kept() {
    let server = Server::start().await;
    let whole = picture(PIECE + 10);
    let (_, path) = cited(&server, &whole).await;
    let stranger = format!("/photos/{}", photo_name(photo_hash(b"another")));
    assert_eq!(put(&server, &stranger, &whole, 0).await.status(), StatusCode::NOT_FOUND);
    assert_eq!(server.ask(Method::HEAD, &stranger).send().await.unwrap().status(), StatusCode::NOT_FOUND);
    let unaligned = put_as(&server, &path, format!("bytes 5-14/{}", whole.len()), &whole[5..15]).await;
    assert_eq!(stands(&unaligned), (416, "0", "false"));
    let longer = put_as(&server, &path, format!("bytes 0-9/{}", whole.len() + 1), &whole[..10]).await;
    assert_eq!(longer.status(), StatusCode::CONFLICT, "it is cited with another length");
    let lies = put_as(&server, &path, format!("bytes 0-99/{}", whole.len()), &whole[..10]).await;
    assert_eq!(lies.status(), StatusCode::CONFLICT);
    let bare = server.ask(Method::PUT, &path).body(whole[..10].to_vec()).send().await.unwrap();
    assert_eq!(bare.status(), StatusCode::BAD_REQUEST);
    let large = put_as(&server, &path, format!("bytes 0-{PIECE}/{}", whole.len()), &whole[..=PIECE]).await;
    assert_eq!(large.status(), StatusCode::PAYLOAD_TOO_LARGE);
    assert_eq!(stands(&server.ask(Method::HEAD, &path).send().await.unwrap()), (200, "0", "false"));
    server.stop().await;
}

#[tokio::test]
async fn a_photo_of_any_length_can_be_cited_and_none_beyond_the_bound_is_taken() {
    let server = Server::start().await;
    let piece = picture(PIECE);
    for (number, length, taken) in [(1, 1 << 62, false), (2, PHOTO_BYTES + 1, false), (3, PHOTO_BYTES, true)]
    {
        let hash = PhotoHash([number; 32]);
        let phone = citing(&server, number, hash, length).await;
        let path = format!("/photos/{}", photo_name(hash));
        for announced in [length, 1 << 62] {
            let range = format!("bytes 0-{}/{announced}", PIECE - 1);
            let answer = put_as(&server, &path, range, &piece).await;
            if taken && announced == length {
                assert_eq!(stands(&answer), (200, "262144", "false"));
                continue;
            }
            assert_eq!(answer.status(), StatusCode::PAYLOAD_TOO_LARGE, "{length} announced as {announced}");
            let text = answer.text().await.unwrap();
            assert!(text.contains("hubstore.photo_too_long") && text.contains("256 MiB"), "{text}");
        }
        let head = server.ask(Method::HEAD, &path).send().await.unwrap();
        assert_eq!(head.status() == StatusCode::OK, taken, "told before a piece goes out for nothing");
        // The record that cites it is a record like any other.
        let (answer, said) = phone.sends(&server.world).await;
        assert_eq!((said.refused.len(), answer.wanted.len()), (0, 0));
        assert_eq!(server.world.hub.store.photo(hash).await.unwrap().unwrap().cited.length, length);
    }
    // Nor does such a record keep the photo of another from coming.
    let hash = PhotoHash([1; 32]);
    citing(&server, 8, hash, 2 * PIECE as u64).await;
    let path = format!("/photos/{}", photo_name(hash));
    let range = format!("bytes 0-{}/{}", PIECE - 1, 2 * PIECE);
    assert_eq!(stands(&put_as(&server, &path, range, &piece).await), (200, "262144", "false"));
    let head = server.ask(Method::HEAD, &path).send().await.unwrap();
    assert_eq!(stands(&head), (200, "262144", "false"));
    server.stop().await;
}

/// A phone that names another's photo first, with another length, and brings pieces of that all the time.
#[tokio::test]
async fn a_photo_comes_home_whatever_length_somebody_said_before() {
    let server = Server::start().await;
    let whole = picture(2 * PIECE + 100);
    let hash = photo_hash(&whole);
    let path = format!("/photos/{}", photo_name(hash));
    let mut other = picture(2 * PIECE + 101);
    other.reverse();
    citing(&server, 7, hash, other.len() as u64).await;
    assert_eq!(stands(&put(&server, &path, &other, 0).await), (200, "262144", "false"));
    // Nobody said this length yet, and what is here of another is none of it.
    assert_eq!(stands(&put(&server, &path, &whole, 0).await), (409, "0", "false"));
    citing(&server, 1, hash, whole.len() as u64).await;
    let head = server.ask(Method::HEAD, &path).send().await.unwrap();
    assert_eq!(stands(&head), (200, "0", "false"), "of the one length nothing is here");
    for (at, next) in [(0, "262144"), (PIECE, "524288")] {
        assert_eq!(stands(&put(&server, &path, &whole, at).await), (200, next, "false"));
        assert_eq!(put(&server, &path, &other, at).await.status(), StatusCode::OK);
    }
    let head = server.ask(Method::HEAD, &path).send().await.unwrap();
    assert_eq!(stands(&head), (200, "524288", "false"));
    assert_eq!(stands(&put(&server, &path, &other, 2 * PIECE).await), (409, "0", "false"));
    let length = whole.len().to_string();
    assert_eq!(stands(&put(&server, &path, &whole, 2 * PIECE).await), (200, length.as_str(), "true"));
    let head = server.ask(Method::HEAD, &path).send().await.unwrap();
    assert_eq!(stands(&head), (200, length.as_str(), "true"));
    server.stop().await;
}

/// How many photos the newest receipt for a phone names.
async fn named(server: &Server, phone: &Phone) -> usize {
    let (answer, _) = phone.sends(&server.world).await;
    let entries = answer.entries.iter().map(|entry| record::open(entry).unwrap());
    let receipts = entries.filter_map(|entry| bodies::Receipt::of_entry(&entry).ok());
    let mut stored = receipts.filter(|receipt| receipt.grade == bodies::Grade::Stored);
    stored.next_back().unwrap().photos.len()
}

async fn bring(server: &Server, path: &str, whole: &[u8]) {
    for at in (0..whole.len()).step_by(PIECE) {
        assert_eq!(put(server, path, whole, at).await.status(), StatusCode::OK);
    }
    let head = server.ask(Method::HEAD, path).send().await.unwrap();
    assert_eq!(stands(&head).2, "true");
}

async fn is_asked_for(server: &Server, path: &str) {
    let head = server.ask(Method::HEAD, path).send().await.unwrap();
    assert_eq!(stands(&head), (200, "0", "false"));
}

#[tokio::test]
async fn a_photo_that_is_found_lost_or_spoilt_is_asked_for_again() {
    let server = Server::start().await;
    server.world.person("Ada", HubRole::Read).await;
    let session = server.sign_in("Ada").await;
    let whole = picture(2 * PIECE + 100);
    let (phone, path) = cited(&server, &whole).await;
    let photo = photo_name(photo_hash(&whole));
    let file = |folder: &std::path::Path| folder.join("photos/photos").join(&photo[..2]).join(&photo);
    let kept = file(server.world.folder.path());
    let spoil = || {
        let mut spoilt = whole.clone();
        spoilt[PIECE + 3] ^= 1;
        std::fs::write(&kept, spoilt).unwrap();
    };
    bring(&server, &path, &whole).await;
    assert_eq!(named(&server, &phone).await, 1);

    // Spoilt: whoever looks is not given it to its end.
    spoil();
    let answer = session.on(server.get(&path)).send().await.unwrap();
    assert!(answer.bytes().await.is_err());
    is_asked_for(&server, &path).await;
    assert_eq!(named(&server, &phone).await, 0);
    bring(&server, &path, &whole).await;
    assert_eq!(named(&server, &phone).await, 1);
    assert!(session.on(server.get(&path)).send().await.unwrap().bytes().await.unwrap() == whole);

    // Gone.
    std::fs::remove_file(&kept).unwrap();
    let answer = session.on(server.get(&path)).send().await.unwrap();
    assert_eq!(answer.status(), StatusCode::NOT_FOUND);
    let text = answer.text().await.unwrap();
    for word in [photo.as_str(), "LT-2041", "have phone phone send"] {
        assert!(text.contains(word) && !text.contains("freed"), "{text}");
    }
    is_asked_for(&server, &path).await;
    bring(&server, &path, &whole).await;

    // A backup takes the server's keys along; no other command needs them.
    server.world.says(&["status"]);
    for key in ["tls.key.pem", "tls-next.key.pem", "tls.cert.pem"] {
        std::fs::write(server.world.folder.path().join("keys").join(key), "a key").unwrap();
    }
    // Found out by a backup, after an earlier one for which phones may have freed it.
    let backup = |name: &str| {
        let to = server.world.folder.path().join(name);
        (server.world.says(&["backup", to.to_str().unwrap()]), to)
    };
    let (said, safe) = backup("safe");
    assert!(!said.contains("lost"), "{said}");
    spoil();
    let (said, _) = backup("later");
    for word in [photo.as_str(), "LT-2041", "lost or spoilt", "may have freed it"] {
        assert!(said.contains(word), "{said}");
    }
    is_asked_for(&server, &path).await;
    assert_eq!(named(&server, &phone).await, 0);
    // No phone has it any more, and the earlier backup does.
    std::fs::copy(file(&safe), &kept).unwrap();
    let stray = server.world.folder.path().join("photos/pieces").join("ab".repeat(32)).join("5/0");
    std::fs::create_dir_all(stray.parent().unwrap()).unwrap();
    std::fs::write(&stray, "stray").unwrap();
    let (said, _) = backup("mended");
    assert!(said.contains("lie in their place again") && !said.contains("lost"), "{said}");
    assert_eq!(named(&server, &phone).await, 1);
    assert!(!stray.exists(), "a backup clears what nobody waits for");
    server.stop().await;
}
