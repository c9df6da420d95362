//! The bridge leaves nothing behind: no exception, no attached thread, no reference.

use std::sync::Arc;

use field::KeysError;
use jni::JavaVM;
use keystore::KeyStore;
use keystore::java::{JavaKeyStore, Machine};

use crate::machine::{Alias, vm};

const SECRET: [u8; 32] = [7; 32];

/// A thread that is attached all the time, as the one of a window is, must find nothing thrown after any of it.
#[test]
fn nothing_stays_thrown_and_a_thread_stays_as_it_was() {
    let alias = Alias("thrown");
    let vm = vm();
    let here = vm.attach_current_thread().unwrap();
    let store = alias.store();
    let nothing_thrown = || assert!(!here.exception_check().unwrap());
    let sealed = store.seal(&SECRET, b"bound").unwrap();
    nothing_thrown();
    for mood in ["busy", ""] {
        alias.mood(mood);
        for bound_to in [&b"bound"[..], b"other"] {
            let opened = store.open(&sealed, bound_to);
            assert_eq!(opened.is_ok(), mood.is_empty() && bound_to == b"bound");
            nothing_thrown();
        }
    }
    alias.mood("no chip");
    alias.forget();
    store.seal(&SECRET, b"bound").unwrap();
    nothing_thrown();
    assert!(vm.get_env().is_ok(), "a thread that was attached before is so still");
    drop(here);
    std::thread::spawn(move || {
        store.seal(&SECRET, b"bound").unwrap();
        assert_eq!(store.open(&sealed, b"bound").unwrap_err(), KeysError::Lost);
        assert!(vm.get_env().is_err(), "a thread that was not attached is so no more");
    })
    .join()
    .unwrap();
}

/// On one thread that stays attached, references are given back by the frames alone. The machine checks how many there are
/// at the end: the stage looks for its complaint.
#[test]
fn references_do_not_pile_up() {
    let alias = Alias("references");
    let vm = vm();
    let _attached = vm.attach_current_thread().unwrap();
    let store = alias.store();
    for number in 0..200 {
        let sealed = store.seal(&[number; 32], b"bound").unwrap();
        assert_eq!(store.open(&sealed, b"bound").unwrap().as_slice(), [number; 32]);
        assert_eq!(store.open(&sealed, b"other"), Err(KeysError::Lost));
    }
}

#[test]
fn without_a_machine_it_is_refused() {
    struct Nowhere;
    impl Machine for Nowhere {
        fn vm(&self) -> Result<Arc<JavaVM>, String> {
            Err("the window is not there yet".to_owned())
        }
    }
    let sealed = JavaKeyStore::of_android(Nowhere).seal(&SECRET, b"bound");
    assert_eq!(sealed, Err(KeysError::Refused { what: "the window is not there yet".to_owned() }));
}
