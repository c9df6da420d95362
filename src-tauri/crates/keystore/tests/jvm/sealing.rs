//! What is sealed opens, and only where it should.

use field::host::PrivateFolder;
use field::{Keys, KeysError};
use keystore::java::JavaKeyStore;
use keystore::{Ciphered, KeyStore, SealedFolder};
use rstest::rstest;

use crate::machine::{Alias, Here};

const SECRET: [u8; 32] = [7; 32];
const BOUND: &[u8] = b"this install";

fn refused(given: Result<impl std::fmt::Debug, KeysError>) -> String {
    match given {
        Err(KeysError::Refused { what }) => what,
        other => panic!("not refused: {other:?}"),
    }
}

fn opened(store: &impl KeyStore, sealed: &Ciphered) -> Result<Vec<u8>, KeysError> {
    store.open(sealed, BOUND).map(|secret| secret.to_vec())
}

#[test]
fn what_is_sealed_opens_and_shows_nothing() {
    let store = Alias("plain").store();
    let sealed = store.seal(&SECRET, BOUND).unwrap();
    assert_eq!(opened(&store, &sealed), Ok(SECRET.to_vec()));
    assert_eq!(sealed.text.len(), 48);
    assert!(!sealed.text.windows(4).any(|bytes| bytes == [7; 4]));
    let again = store.seal(&SECRET, BOUND).unwrap();
    assert!(again.nonce != sealed.nonce && again.text != sealed.text);
    assert_eq!(opened(&Alias("plain").store(), &again), Ok(SECRET.to_vec()));
}

#[test]
fn the_key_is_made_once_and_may_do_no_more_than_it_must() {
    let alias = Alias("once");
    for _ in 0..3 {
        alias.store().seal(&SECRET, BOUND).unwrap();
    }
    let told = "purposes 3, modes GCM, paddings NoPadding, bits 256, randomized true, strong box true";
    assert_eq!(alias.made(), [told]);
}

/// Sixteen threads that find no key: one of them makes it, and all that they seal opens.
#[test]
fn many_threads_make_one_key() {
    let alias = Alias("threads");
    let store = alias.store();
    std::thread::scope(|threads| {
        let seal = |number: u8| {
            let store = &store;
            threads.spawn(move || (number, store.seal(&[number; 32], BOUND).unwrap()))
        };
        let sealing: Vec<_> = (0..16).map(seal).collect();
        for (number, sealed) in sealing.into_iter().map(|thread| thread.join().unwrap()) {
            assert_eq!(opened(&store, &sealed), Ok(vec![number; 32]));
        }
    });
    assert_eq!(alias.made().len(), 1);
}

#[rstest]
#[case::without_a_chip(Alias("no chip"), "no chip")]
#[case::before_there_were_any(Alias("old"), "old")]
fn without_a_security_chip_the_platform_keeps_the_key(#[case] alias: Alias, #[case] mood: &str) {
    alias.mood(mood);
    let sealed = alias.store().seal(&SECRET, BOUND).unwrap();
    assert_eq!(opened(&alias.store(), &sealed), Ok(SECRET.to_vec()));
    assert_eq!(alias.made(), ["purposes 3, modes GCM, paddings NoPadding, bits 256, randomized true"]);
}

#[test]
fn what_was_touched_is_lost() {
    let store = Alias("touched").store();
    let sealed = store.seal(&SECRET, BOUND).unwrap();
    for at in 0..sealed.text.len() {
        let mut other = sealed.clone();
        other.text[at] ^= 1;
        assert_eq!(opened(&store, &other), Err(KeysError::Lost), "byte {at}");
    }
    for at in 0..sealed.nonce.len() {
        let mut other = sealed.clone();
        other.nonce[at] ^= 1;
        assert_eq!(opened(&store, &other), Err(KeysError::Lost), "byte {at} of the nonce");
    }
    assert_eq!(opened(&store, &sealed), Ok(SECRET.to_vec()));
}

#[test]
fn what_was_bound_to_another_install_is_lost() {
    let store = Alias("bound").store();
    let sealed = store.seal(&SECRET, BOUND).unwrap();
    assert_eq!(store.open(&sealed, b"that install"), Err(KeysError::Lost));
    assert_eq!(store.open(&sealed, b""), Err(KeysError::Lost));
}

#[test]
fn without_its_key_it_is_lost_and_none_is_made_to_open_it() {
    let (alias, other) = (Alias("gone"), Alias("gone elsewhere"));
    let sealed = alias.store().seal(&SECRET, BOUND).unwrap();
    assert_eq!(opened(&other.store(), &sealed), Err(KeysError::Lost));
    assert_eq!(other.made(), Vec::<String>::new());
    alias.forget();
    assert_eq!(opened(&alias.store(), &sealed), Err(KeysError::Lost));
    // A new key is another key.
    let next = alias.store().seal(&SECRET, BOUND).unwrap();
    assert_eq!(opened(&alias.store(), &sealed), Err(KeysError::Lost));
    assert_eq!(opened(&alias.store(), &next), Ok(SECRET.to_vec()));
}

#[rstest]
#[case::invalid(Alias("invalid"), "invalid")]
#[case::unrecoverable(Alias("unrecoverable"), "unrecoverable")]
fn a_key_that_is_invalid_for_good_is_lost_and_another_takes_its_place(
    #[case] alias: Alias,
    #[case] how: &str,
) {
    let store = alias.store();
    let sealed = store.seal(&SECRET, BOUND).unwrap();
    alias.spoil(how);
    assert_eq!(opened(&store, &sealed), Err(KeysError::Lost));
    let next = store.seal(&SECRET, BOUND).unwrap();
    assert_eq!(opened(&store, &next), Ok(SECRET.to_vec()));
    assert_eq!(alias.made().len(), 2);
}

#[test]
fn a_key_store_that_is_busy_refuses_and_loses_nothing() {
    let alias = Alias("busy");
    let store = alias.store();
    let sealed = store.seal(&SECRET, BOUND).unwrap();
    alias.mood("busy");
    let what = "java.security.UnrecoverableKeyException: not just now; because of \
                java.lang.IllegalStateException: the store is starting";
    assert_eq!(refused(opened(&store, &sealed)), what);
    assert_eq!(refused(store.seal(&SECRET, BOUND)), what);
    alias.mood("");
    assert_eq!(opened(&store, &sealed), Ok(SECRET.to_vec()));
    assert_eq!(alias.made().len(), 1);
}

#[test]
fn what_nobody_foresaw_is_refused_in_its_own_words() {
    let alias = Alias("unfit");
    let store = alias.store();
    let sealed = store.seal(&SECRET, BOUND).unwrap();
    alias.spoil("unfit");
    assert_eq!(refused(opened(&store, &sealed)), "java.security.InvalidKeyException: it does not suit");
    assert_eq!(refused(store.seal(&SECRET, BOUND)), "java.security.InvalidKeyException: it does not suit");
    assert_eq!(alias.made().len(), 1, "a key that may open again is not replaced");

    let full = Alias("full");
    full.mood("no key");
    let what = "java.security.ProviderException: no key today; because of \
                java.lang.IllegalStateException: the store is full";
    assert_eq!(refused(full.store().seal(&SECRET, BOUND)), what);

    let nowhere = JavaKeyStore::named(Here, "NoSuchKeyStore", "any");
    assert!(refused(nowhere.seal(&SECRET, BOUND)).contains("NoSuchKeyStore"));
    assert!(refused(opened(&nowhere, &sealed)).contains("NoSuchKeyStore"));
}

/// The same bytes were worked out with another program (AESGCM of Python's cryptography): key 00 01 .. 1f, nonce 64 65 ..
/// 6f, the secret 32 times 07, bound to `headmark/sealed-key/1` and 16 times 09. Frozen: a phone's file looks like this.
#[test]
fn a_file_of_the_frozen_form_opens() {
    const FILE: &str = "016465666768696a6b6c6d6e6f4f1cd9617eee5199396558efdd626dfa45c5010d8c6bf475a0d6ab4ffca4a24\
                        fafb285d4c2857f79816fe41e087733eb";
    let bytes: Vec<u8> =
        (0..FILE.len()).step_by(2).map(|at| u8::from_str_radix(&FILE[at..at + 2], 16).unwrap()).collect();
    let alias = Alias("frozen");
    alias.plant(&std::array::from_fn(|at| u8::try_from(at).unwrap()));
    let here = tempfile::tempdir().unwrap();
    let folder = PrivateFolder::at(here.path());
    folder.write("install.marker", &[9; 16]).unwrap();
    folder.write("000102030405060708090a0b0c0d0e0f.sealed", &bytes).unwrap();
    let keys = SealedFolder::at(here.path(), alias.store());
    assert_eq!(keys.open(b"key-file:000102030405060708090a0b0c0d0e0f"), Ok(SECRET));
}
