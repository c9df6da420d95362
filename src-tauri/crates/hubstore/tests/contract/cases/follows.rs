//! What follows from an entry that the hub signs: with it in one step.

use bodies::{HubRole, PersonId};
use hubstore::{
    Access, AnyStore, Arrival, Changed, Error, Follows, HubPerson, Ledger, Logs, Meta, Moment, People,
    Purpose, Put, Putting, Register, Row, Rows, Standing, Token, Version,
};

use crate::writer::{Writer, batch};

fn row(says: &str) -> Row {
    Row { tag: "LT-1".into(), area: "north".into(), bytes: says.as_bytes().to_vec() }
}

fn session(holder: &Writer) -> Token {
    Token {
        purpose: Purpose::Session,
        hash: [1; 32],
        holder: holder.log().0.to_vec(),
        content: Vec::new(),
        expires: Moment(1_000),
    }
}

pub(crate) async fn what_follows_stands_with_its_entry_or_neither_does(store: &AnyStore) {
    let (mut hub, mut phone) = (Writer::number(7), Writer::number(1));
    let lost = phone.say(90, "lost");
    store.ingest(batch(&[&hub, &phone], std::slice::from_ref(&lost))).await.unwrap();
    store.put_rows(Rows::Some(vec![row("old")])).await.unwrap();
    store.put_token(&session(&phone)).await.unwrap();
    let stands = Standing::Revoked(Some((lost.id.seq, lost.id.payload)));
    let follows = |was: &str| Follows {
        rows: vec![Changed { was: row(was), is: row("new") }],
        standings: vec![(phone.log(), stands)],
        ..Follows::default()
    };
    let back = hub.link;
    let said = hub.say(90, "decided");
    let stale = store.append_with(vec![said.clone()], follows("older")).await;
    assert!(matches!(stale, Err(Error::OutOfStep { entry }) if entry == said.id), "{stale:?}");
    assert_eq!(store.newest().await.unwrap(), Arrival(1), "the entry is not in either");
    assert_eq!(store.log(phone.log()).await.unwrap().unwrap().standing, Standing::Known);
    assert!(store.look_token(Purpose::Session, [1; 32], Moment(1)).await.unwrap().is_some());

    hub.link = back;
    let said = hub.say(90, "decided");
    store.append_with(vec![said.clone()], follows("old")).await.unwrap();
    assert!(store.entry(said.id).await.unwrap().is_some());
    assert_eq!(store.row("LT-1").await.unwrap(), Some(row("new")));
    assert_eq!(store.log(phone.log()).await.unwrap().unwrap().standing, stands);
    assert!(store.look_token(Purpose::Session, [1; 32], Moment(1)).await.unwrap().is_none());
    // What was read is gone meanwhile; so is a row that never was.
    let late = store.append_with(vec![hub.say(90, "late")], follows("old")).await;
    assert!(matches!(late, Err(Error::OutOfStep { .. })), "{late:?}");
    assert_eq!(store.row("LT-1").await.unwrap(), Some(row("new")));
}

pub(crate) async fn a_log_nobody_knows_keeps_the_entry_out(store: &AnyStore) {
    let (mut hub, stranger) = (Writer::number(7), Writer::number(9));
    store.ingest(batch(&[&hub], &[])).await.unwrap();
    let follows =
        Follows { standings: vec![(stranger.log(), Standing::Revoked(None))], ..Follows::default() };
    let log = stranger.log();
    let said = store.append_with(vec![hub.say(90, "revoked")], follows).await;
    assert_eq!(said, Err(Error::UnknownLog { log }));
    assert_eq!(store.newest().await.unwrap(), Arrival(0));
}

fn of(tag: &str, says: &str) -> Row {
    Row { tag: tag.into(), area: "north".into(), bytes: says.as_bytes().to_vec() }
}

pub(crate) async fn an_import_comes_to_what_its_entry_says_or_nothing_is_done(store: &AnyStore) {
    let mut hub = Writer::number(7);
    store.ingest(batch(&[&hub], &[])).await.unwrap();
    store.put_rows(Rows::Some(vec![of("LT-1", "a"), of("LT-2", "b")])).await.unwrap();
    let rows = Rows::All(vec![of("LT-1", "A"), of("LT-3", "c")]);
    let put = store.would_put(&rows).await.unwrap();
    assert_eq!(put, Put { added: 1, changed: 1, removed: 1, version: Version(5), ..Put::default() });
    assert_eq!(put.before(), Version(2));
    assert_eq!(store.would_put(&rows).await.unwrap(), put, "asking changes nothing");
    assert_eq!(store.rows("", 9).await.unwrap(), [of("LT-1", "a"), of("LT-2", "b")]);
    let follows = |rows: &Rows, put| Follows {
        import: Some(Putting { rows: rows.clone(), put }),
        ..Follows::default()
    };

    // Another process was first: it would come to the same counts, and to another number.
    store.put_rows(Rows::Some(vec![of("LT-2", "B")])).await.unwrap();
    let back = hub.link;
    let said = hub.say(90, "imported");
    let stale = store.append_with(vec![said.clone()], follows(&rows, put)).await;
    assert_eq!(stale, Err(Error::OutOfStep { entry: said.id }));
    assert_eq!(store.newest().await.unwrap(), Arrival(0), "the entry is not in either");
    assert_eq!(store.rows("", 9).await.unwrap(), [of("LT-1", "a"), of("LT-2", "B")]);
    assert_eq!(store.history("LT-1").await.unwrap().len(), 1);

    hub.link = back;
    let put = store.would_put(&rows).await.unwrap();
    assert_eq!(put.version, Version(6));
    store.append_with(vec![hub.say(90, "imported")], follows(&rows, put)).await.unwrap();
    assert_eq!(store.newest().await.unwrap(), Arrival(1));
    assert_eq!(store.rows("", 9).await.unwrap(), [of("LT-1", "A"), of("LT-3", "c")]);
    assert_eq!(store.would_put(&rows).await.unwrap(), Put { same: 2, version: Version(6), ..Put::default() });
}

fn named(id: u8, name: &str, secret: &str) -> HubPerson {
    HubPerson { id: PersonId([id; 16]), name: name.into(), secret: secret.into(), role: HubRole::Read }
}

fn sign_in(of: &HubPerson) -> Token {
    Token {
        purpose: Purpose::SignIn,
        hash: of.id.0.repeat(2).try_into().unwrap(),
        holder: of.id.0.to_vec(),
        content: Vec::new(),
        expires: Moment(1_000),
    }
}

async fn is_signed_in(store: &AnyStore, person: &HubPerson) -> bool {
    let token = sign_in(person);
    store.look_token(Purpose::SignIn, token.hash, Moment(1)).await.unwrap().is_some()
}

pub(crate) async fn people_change_with_their_entry_or_not_at_all(store: &AnyStore) {
    let mut hub = Writer::number(7);
    store.ingest(batch(&[&hub], &[])).await.unwrap();
    let (ada, ben) = (named(1, "Ada", "one"), named(2, "Ben", "two"));
    let change = async |hub: &mut Writer, was: Option<&HubPerson>, is: Option<&HubPerson>| {
        let people = vec![Changed { was: was.cloned(), is: is.cloned() }];
        let back = hub.link;
        let done =
            store.append_with(vec![hub.say(90, "person")], Follows { people, ..Follows::default() }).await;
        if done.is_err() {
            hub.link = back;
        }
        done
    };
    for person in [&ada, &ben] {
        change(&mut hub, None, Some(person)).await.unwrap();
        store.put_token(&sign_in(person)).await.unwrap();
    }
    assert_eq!(store.persons().await.unwrap(), [ada.clone(), ben.clone()]);
    assert_eq!(store.people_version().await.unwrap(), Version(2));

    let as_ada = HubPerson { name: "Ada".into(), ..ben.clone() };
    assert_eq!(change(&mut hub, Some(&ben), Some(&as_ada)).await, Err(Error::NameTaken));
    let ida = HubPerson { name: "Ida".into(), ..ada.clone() };
    let moved_on = [
        change(&mut hub, None, Some(&ida)).await,
        change(&mut hub, Some(&ida), None).await,
        change(&mut hub, Some(&named(3, "Cy", "")), None).await,
    ];
    for refused in moved_on {
        assert!(matches!(refused, Err(Error::OutOfStep { .. })), "{refused:?}");
    }
    assert_eq!(store.newest().await.unwrap(), Arrival(2), "what was refused left no entry");
    assert_eq!(store.persons().await.unwrap(), [ada.clone(), ben.clone()]);
    assert_eq!(store.people_version().await.unwrap(), Version(2));

    change(&mut hub, Some(&ada), Some(&ida)).await.unwrap();
    assert_eq!(store.person_named("Ida").await.unwrap(), Some(ida.clone()));
    assert!(is_signed_in(store, &ada).await, "another name is no other password");
    let anew = HubPerson { secret: "three".into(), ..ida.clone() };
    change(&mut hub, Some(&ida), Some(&anew)).await.unwrap();
    assert!(!is_signed_in(store, &ada).await && is_signed_in(store, &ben).await);
    change(&mut hub, Some(&ben), None).await.unwrap();
    assert_eq!(store.persons().await.unwrap(), [anew]);
    assert!(!is_signed_in(store, &ben).await);
    assert_eq!(store.newest().await.unwrap(), Arrival(5));
    assert_eq!(store.people_version().await.unwrap(), Version(5));
}

pub(crate) async fn a_setting_changes_with_its_entry_or_not_at_all(store: &AnyStore) {
    let mut hub = Writer::number(7);
    store.ingest(batch(&[&hub], &[])).await.unwrap();
    let follows = |was: Option<&str>, is: Option<&str>| {
        let bytes = |text: Option<&str>| text.map(|text| text.as_bytes().to_vec());
        let settings = vec![("sensors".to_owned(), Changed { was: bytes(was), is: bytes(is) })];
        Follows { settings, ..Follows::default() }
    };
    store.append_with(vec![hub.say(90, "set")], follows(None, Some("one"))).await.unwrap();
    let back = hub.link;
    let stale = store.append_with(vec![hub.say(90, "set")], follows(None, Some("two"))).await;
    assert!(matches!(stale, Err(Error::OutOfStep { .. })), "{stale:?}");
    assert_eq!(store.newest().await.unwrap(), Arrival(1));
    assert_eq!(store.setting("sensors").await.unwrap(), Some(b"one".to_vec()));
    hub.link = back;
    store.append_with(vec![hub.say(90, "gone")], follows(Some("one"), None)).await.unwrap();
    assert_eq!(store.setting("sensors").await.unwrap(), None);
}
