//! Tokens, enrolments, counters.

use hubstore::{Access, AnyStore, Enrolment, Moment, Purpose, Token};
use record::LogId;

fn token(purpose: Purpose, hash: u8, expires: i64) -> Token {
    Token { purpose, hash: [hash; 32], holder: vec![1], content: vec![hash, 9], expires: Moment(expires) }
}

pub(crate) async fn a_token_is_taken_once(store: &AnyStore) {
    let session = token(Purpose::Session, 1, 100);
    store.put_token(&session).await.unwrap();
    let (one, other) = tokio::join!(
        store.take_token(Purpose::Session, [1; 32], Moment(50)),
        store.take_token(Purpose::Session, [1; 32], Moment(50))
    );
    let mut got = [one.unwrap(), other.unwrap()];
    got.sort_by_key(Option::is_some);
    assert_eq!(got, [None, Some(session)]);
    assert_eq!(store.take_token(Purpose::Session, [1; 32], Moment(50)).await.unwrap(), None);
}

pub(crate) async fn a_token_of_one_purpose_is_none_for_another(store: &AnyStore) {
    store.put_token(&token(Purpose::Code, 1, 100)).await.unwrap();
    assert_eq!(store.take_token(Purpose::Session, [1; 32], Moment(0)).await.unwrap(), None);
    assert_eq!(store.look_token(Purpose::SignIn, [1; 32], Moment(0)).await.unwrap(), None);
    assert!(store.take_token(Purpose::Code, [1; 32], Moment(0)).await.unwrap().is_some());
}

pub(crate) async fn an_expired_token_is_none(store: &AnyStore) {
    store.put_token(&token(Purpose::Session, 1, 100)).await.unwrap();
    store.put_token(&token(Purpose::SignIn, 2, 100)).await.unwrap();
    assert!(store.look_token(Purpose::SignIn, [2; 32], Moment(99)).await.unwrap().is_some());
    assert_eq!(store.look_token(Purpose::SignIn, [2; 32], Moment(100)).await.unwrap(), None);
    assert_eq!(store.take_token(Purpose::Session, [1; 32], Moment(100)).await.unwrap(), None);
    // It was taken out all the same: a clock set back does not bring it back.
    assert_eq!(store.take_token(Purpose::Session, [1; 32], Moment(1)).await.unwrap(), None);
    assert_eq!(store.sweep(Moment(99), 0).await.unwrap(), 0);
    assert_eq!(store.sweep(Moment(100), 0).await.unwrap(), 1);
}

pub(crate) async fn a_sign_in_is_looked_at_and_renewed(store: &AnyStore) {
    store.put_token(&token(Purpose::SignIn, 1, 100)).await.unwrap();
    let renewed = token(Purpose::SignIn, 1, 200);
    store.put_token(&renewed).await.unwrap();
    for _ in 0..2 {
        assert_eq!(
            store.look_token(Purpose::SignIn, [1; 32], Moment(150)).await.unwrap(),
            Some(renewed.clone())
        );
    }
}

fn phone(log: u8) -> Enrolment {
    Enrolment {
        log: LogId([log; 32]),
        key: vec![7; 42],
        label: "Asha's phone".into(),
        content: vec![],
        digits: "042917".into(),
        asked: Moment(i64::from(log)),
    }
}

pub(crate) async fn a_code_enrols_one_phone(store: &AnyStore) {
    store.put_token(&token(Purpose::Code, 1, 100)).await.unwrap();
    assert_eq!(store.enrol_with([2; 32], Moment(1), &phone(1)).await.unwrap(), None, "an unknown code");
    let waits = Enrolment { content: vec![1, 9], ..phone(2) };
    assert_eq!(store.enrol_with([1; 32], Moment(1), &phone(2)).await.unwrap(), Some(waits.clone()));
    assert_eq!(store.enrol_with([1; 32], Moment(1), &phone(3)).await.unwrap(), None, "a spent code");
    store.put_token(&token(Purpose::Code, 4, 100)).await.unwrap();
    assert_eq!(store.enrol_with([4; 32], Moment(100), &phone(3)).await.unwrap(), None, "an old code");
    assert_eq!(store.enrolments().await.unwrap(), [waits]);
    assert!(store.drop_enrolment(LogId([2; 32])).await.unwrap());
    assert!(!store.drop_enrolment(LogId([2; 32])).await.unwrap());
    assert_eq!(store.enrolments().await.unwrap(), []);
}

pub(crate) async fn strikes_count_by_window(store: &AnyStore) {
    assert_eq!(store.strike("a", 10).await.unwrap(), 1);
    assert_eq!(store.strike("a", 10).await.unwrap(), 2);
    assert_eq!(store.strike("b", 10).await.unwrap(), 1);
    assert_eq!(store.strike("a", 11).await.unwrap(), 1);
    assert_eq!(store.sweep(Moment(0), 11).await.unwrap(), 1);
    assert_eq!(store.strike("a", 11).await.unwrap(), 2);
    assert_eq!(store.strike("b", 10).await.unwrap(), 1);
}
