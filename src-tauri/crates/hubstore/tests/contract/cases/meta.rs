//! Identity and settings.

use bodies::Epoch;
use hubstore::{Access, AnyStore, Counted, Identity, Meta, Moment, Purpose, Token, Version};
use record::LogId;

pub(crate) async fn an_epoch_ends_what_was_open(store: &AnyStore) {
    assert_eq!(store.identity().await.unwrap(), None);
    let first = Identity { epoch: Epoch([1; 16]), log: LogId([2; 32]), organisation: vec![3; 42] };
    store.begin_epoch(&first, &[]).await.unwrap();
    assert_eq!(store.identity().await.unwrap(), Some(first.clone()));
    for purpose in [Purpose::Session, Purpose::Code, Purpose::SignIn] {
        let token =
            Token { purpose, hash: [4; 32], holder: vec![], content: vec![], expires: Moment(i64::MAX) };
        store.put_token(&token).await.unwrap();
    }
    let second = Identity { epoch: Epoch([9; 16]), log: LogId([8; 32]), ..first };
    store.put_setting("kept", Some(b"of before")).await.unwrap();
    store.put_setting("noted", Some(b"of before")).await.unwrap();
    store.begin_epoch(&second, &[("noted", b"with it"), ("also", b"")]).await.unwrap();
    assert_eq!(store.identity().await.unwrap(), Some(second));
    let noted = [("kept", &b"of before"[..]), ("noted", b"with it"), ("also", b"")];
    for (name, value) in noted {
        assert_eq!(store.setting(name).await.unwrap().as_deref(), Some(value), "{name}");
    }
    for purpose in [Purpose::Session, Purpose::Code, Purpose::SignIn] {
        assert_eq!(store.look_token(purpose, [4; 32], Moment(0)).await.unwrap(), None, "{purpose:?}");
    }
}

pub(crate) async fn settings_are_set_and_removed(store: &AnyStore) {
    assert_eq!(store.setting("name").await.unwrap(), None);
    store.put_setting("name", Some(b"one")).await.unwrap();
    store.put_setting("name", Some(b"two")).await.unwrap();
    store.put_setting("empty", Some(b"")).await.unwrap();
    assert_eq!(store.setting("name").await.unwrap(), Some(b"two".to_vec()));
    assert_eq!(store.setting("empty").await.unwrap(), Some(vec![]));
    store.put_setting("name", None).await.unwrap();
    store.put_setting("name", None).await.unwrap();
    assert_eq!(store.setting("name").await.unwrap(), None);
}

pub(crate) async fn a_setting_is_read_with_the_number_of_its_changes(store: &AnyStore) {
    let one = Counted { version: Version(2), value: b"one".to_vec() };
    assert_eq!(store.counted("table").await.unwrap(), None);
    store.put_setting("table", Some(&one.kept())).await.unwrap();
    assert_eq!(store.counted("table").await.unwrap(), Some(one));
    // As hubs keep it: the number in eight bytes, then the value.
    assert_eq!(store.setting("table").await.unwrap(), Some(b"\0\0\0\0\0\0\0\x02one".to_vec()));
    store.put_setting("table", Some(b"short")).await.unwrap();
    assert!(store.counted("table").await.is_err());
}
