//! What people change at the hub itself: each change an entry, with it in one step, and nothing personal in it.

use bodies::{
    CHANGE, Change, ChangeMade, FileHash, HubRole, Import, PersonChange, PersonId, RowsChanged, Table,
};
use domain::visit::SensorRange;
use exchange::trust::Standing;
use hub::changes::{Line, changes};
use hub::changing::{PersonTo, TakenIn, change_person, import, write_down};
use hub::enrol::confirm;
use hub::home::Hub;
use hub::people::{Password, hash_password};
use hub::register::sensors;
use hub::saying::Say;
use hubstore::{Arrival, Filter, HubPerson, Ledger, Limit, Memory, People, Register, Row, Rows, StoredEntry};
use reqwest::{Method, StatusCode};
use serde_json::{Value, json};

use crate::phone::Phone;
use crate::restored::{backed_up, giving, of_hub, restored};
use crate::server::{Server, Session, json};
use crate::world::World;

const FILE: FileHash = FileHash([0xf1; 32]);
const WHO: PersonId = PersonId([5; 16]);
const NAME: &str = "Ottilie Quarmby";
const OTHER_NAME: &str = "Ottilie Quarmby-Lund";
const PASSWORD: &str = "three dry words";

fn row(tag: &str, area: &str, says: u8) -> Row {
    Row { tag: tag.into(), area: area.into(), bytes: vec![says] }
}

fn ranges(name: &str) -> Vec<SensorRange> {
    let range = json!({ "name": name, "lrl": "-25 kPa", "url": "25 kPa", "max_working": "10 MPa",
        "accuracy": "0.1 %" });
    vec![serde_json::from_value(range).unwrap()]
}

/// The entries that the hub keeps of its own changes, oldest first.
async fn entries(store: &impl Ledger) -> Vec<StoredEntry> {
    let filter = Filter { kinds: vec![CHANGE], logs: Vec::new() };
    store.since(Arrival(0), &filter, Limit::default()).await.unwrap().entries
}

async fn said(store: &impl Ledger) -> Vec<Change> {
    let read = |entry: &StoredEntry| Change::of_entry(&record::open(&entry.bytes).unwrap()).unwrap();
    entries(store).await.iter().map(read).collect()
}

async fn comes_in(world: &World, by: Option<PersonId>, rows: Rows) -> TakenIn {
    import(&world.hub, by, FILE, (rows, Vec::new())).await.unwrap()
}

fn of_instruments(before: u64, after: u64, rows: RowsChanged) -> ChangeMade {
    ChangeMade::Imported(Import { table: Table::Instruments, file: FILE, before, after, rows })
}

#[tokio::test]
async fn an_import_is_one_entry_that_says_what_it_came_to() {
    let world = World::new().await;
    let first = vec![row("LT-1", "north", 1), row("LT-2", "north", 1), row("LT-3", "north", 1)];
    comes_in(&world, None, Rows::Some(first.clone())).await;
    let then = vec![row("LT-1", "north", 1), row("LT-2", "north", 2), row("LT-3", "south", 1)];
    comes_in(&world, Some(WHO), Rows::Some([&then[..], &[row("LT-4", "north", 1)]].concat())).await;
    comes_in(&world, Some(WHO), Rows::All(then.clone())).await;
    let rows = |added, changed, moved, removed| RowsChanged { added, changed, moved, removed };
    let expected = [
        Change { by: None, made: of_instruments(0, 3, rows(3, 0, 0, 0)) },
        // The row that moved takes two numbers: gone from the one area, whole in the other.
        Change { by: Some(WHO), made: of_instruments(3, 7, rows(1, 1, 1, 0)) },
        Change { by: Some(WHO), made: of_instruments(7, 8, rows(0, 0, 0, 1)) },
    ];
    assert_eq!(said(&world.hub.store).await, expected);
    let taken = comes_in(&world, None, Rows::All(then)).await;
    assert_eq!((taken.put.same, taken.sensors), (3, false));
    assert_eq!(said(&world.hub.store).await.len(), 3, "what changes nothing is no entry");
    assert!(entries(&world.hub.store).await.iter().all(|entry| entry.id.log == world.hub.identity.log));
}

#[tokio::test]
async fn a_file_with_two_tables_is_two_entries_in_one_step() {
    let world = World::new().await;
    let came = (Rows::Some(vec![row("LT-1", "", 1)]), ranges("low"));
    assert!(import(&world.hub, None, FILE, came.clone()).await.unwrap().sensors);
    let rows = RowsChanged { added: 1, ..RowsChanged::default() };
    let of_sensors = Import { table: Table::Sensors, file: FILE, before: 0, after: 1, rows };
    let expected = [of_instruments(0, 1, rows), ChangeMade::Imported(of_sensors)];
    let made: Vec<ChangeMade> = said(&world.hub.store).await.iter().map(|change| change.made).collect();
    assert_eq!(made, expected);
    assert!(!import(&world.hub, None, FILE, came).await.unwrap().sensors);
    let other = (Rows::Some(Vec::new()), ranges("high"));
    import(&world.hub, None, FILE, other).await.unwrap();
    let rows = RowsChanged { added: 1, removed: 1, ..RowsChanged::default() };
    let last = said(&world.hub.store).await.pop().unwrap();
    assert_eq!(last.made, ChangeMade::Imported(Import { before: 1, after: 2, rows, ..of_sensors }));
}

/// All that a hub holds of what is changed here.
async fn all_of(store: &Memory) -> (usize, Vec<Row>, Vec<HubPerson>, Option<Vec<u8>>) {
    let table = sensors(store).await.unwrap().map(|sensors| sensors.value);
    (entries(store).await.len(), store.rows("", 99).await.unwrap(), store.persons().await.unwrap(), table)
}

#[tokio::test]
async fn where_nothing_can_be_written_nothing_is_changed_and_nothing_said() {
    let store = Memory::new();
    let world = World::over(store.clone().into()).await;
    let ada = HubPerson { id: WHO, name: NAME.into(), secret: String::new(), role: HubRole::Read };
    write_down(&world.hub, None, &ada).await.unwrap();
    let before = all_of(&store).await;
    assert_eq!(before.0, 1);
    for full in [true, false] {
        if full {
            store.full_after(Some(0))
        } else {
            store.stop_after(Some(0))
        }
        let came = (Rows::Some(vec![row("LT-1", "", 1)]), ranges("low"));
        import(&world.hub, None, FILE, came).await.unwrap_err();
        for to in [PersonTo::Name(OTHER_NAME.into()), PersonTo::Role(HubRole::Supervise), PersonTo::Erased] {
            change_person(&world.hub, None, WHO, &to).await.unwrap_err();
        }
        let other = HubPerson { id: PersonId([6; 16]), name: OTHER_NAME.into(), ..ada.clone() };
        write_down(&world.hub, None, &other).await.unwrap_err();
        store.stop_after(None);
        assert_eq!(all_of(&store).await, before);
    }
}

#[tokio::test]
async fn a_change_that_is_refused_leaves_no_entry() {
    let world = World::new().await;
    let person = |id: u8, name: &str| HubPerson {
        id: PersonId([id; 16]),
        name: name.into(),
        secret: String::new(),
        role: HubRole::Read,
    };
    write_down(&world.hub, None, &person(1, "Ada")).await.unwrap();
    write_down(&world.hub, None, &person(2, "Ben")).await.unwrap();
    let to = |name: &str| PersonTo::Name(name.to_owned());
    let refused = [
        write_down(&world.hub, None, &person(1, "Cy")).await.unwrap_err(),
        write_down(&world.hub, None, &person(3, "Ada")).await.unwrap_err(),
        write_down(&world.hub, None, &person(3, " ")).await.unwrap_err(),
        change_person(&world.hub, None, PersonId([2; 16]), &to("Ada")).await.unwrap_err(),
        change_person(&world.hub, None, PersonId([2; 16]), &to("two\nlines")).await.unwrap_err(),
        change_person(&world.hub, None, PersonId([9; 16]), &PersonTo::Erased).await.unwrap_err(),
    ];
    for error in refused {
        let text = error.to_string();
        assert!(matches!(error, hub::Error::Asked(_)), "{text}");
        assert!(["Give", "Tell", "Write", "Take"].iter().any(|what| text.contains(what)), "{text}");
    }
    assert_eq!(said(&world.hub.store).await.len(), 2);
    // What somebody is already is no change.
    for to in [to("Ben"), PersonTo::Role(HubRole::Read), PersonTo::NoSignIn] {
        assert_eq!(change_person(&world.hub, None, PersonId([2; 16]), &to).await.unwrap(), None);
    }
    assert_eq!(said(&world.hub.store).await.len(), 2);
}

/// Two processes of a hub that change the same at once: both changes stand, one behind the other, and each entry says what
/// its own came to.
#[tokio::test(flavor = "multi_thread", worker_threads = 4)]
async fn two_at_once_take_turns_and_each_says_its_own() {
    let world = World::new().await;
    let (one, other) = (&world.hub, world.once_more().await);
    let take = async |hub: &Hub<hub::Store>, tag: &str| {
        for says in 1..=8 {
            let came = (Rows::Some(vec![row(tag, "", says), row("LT-0", "", says)]), Vec::new());
            import(hub, None, FILE, came).await.unwrap();
        }
    };
    tokio::join!(take(one, "LT-1"), take(&other, "LT-2"));
    let mut at = 0;
    for change in said(&one.store).await {
        let ChangeMade::Imported(Import { before, after, rows, .. }) = change.made else {
            panic!("{change:?}")
        };
        assert_eq!((before, after - before), (at, rows.added + rows.changed), "none between, none left out");
        at = after;
    }
    assert_eq!(one.store.areas().await.unwrap()[0].1.0, at);
}

/// The certificate and who confirmed it are one step: a cut leaves both or neither.
#[tokio::test]
async fn who_confirmed_a_phone_is_said_in_the_step_of_its_certificate() {
    let store = Memory::new();
    let world = World::over(store.clone().into()).await;
    let phone = Phone::with(1, 1);
    let (code, made_for) = ([7; 16], hub::enrol::Offer { person: [9; 16], ..Default::default() });
    hub::enrol::offer(&world.hub, &code, &made_for).await.unwrap();
    let waits = world.ask(&phone, &code).await.unwrap();
    store.stop_after(Some(0));
    confirm(&world.hub, Some(WHO), phone.log(), &waits.digits).await.unwrap_err();
    store.stop_after(None);
    assert!(said(&store).await.is_empty() && !world.trusts(phone.log()).await);
    store.stop_after(Some(1));
    confirm(&world.hub, Some(WHO), phone.log(), &waits.digits).await.unwrap_err();
    store.stop_after(None);
    let confirmed = Change { by: Some(WHO), made: ChangeMade::PhoneConfirmed(phone.log()) };
    assert_eq!(said(&store).await, [confirmed]);
    assert!(world.trusts(phone.log()).await);
    // It waits on, since the queue lets it go last; whoever confirms it again says so again.
    let certificate = confirm(&world.hub, None, phone.log(), &waits.digits).await.unwrap();
    let again = Change { by: None, ..confirmed };
    assert_eq!(said(&store).await, [confirmed, again]);
    let entry = entries(&store).await.pop().unwrap();
    assert_eq!(entry.previous, Some(certificate.payload), "right behind the certificate");
    // Other digits confirm nothing, and leave nothing.
    let other = Phone::with(2, 1);
    hub::enrol::offer(&world.hub, &code, &made_for).await.unwrap();
    world.ask(&other, &code).await.unwrap();
    confirm(&world.hub, Some(WHO), other.log(), "none").await.unwrap_err();
    assert_eq!(said(&store).await.len(), 2);
}

#[tokio::test]
async fn a_page_of_changes_reads_no_more_than_it_shows() {
    let store = Memory::new();
    let world = World::over(store.clone().into()).await;
    for says in 0..200 {
        comes_in(&world, None, Rows::Some(vec![row("LT-1", "", says)])).await;
    }
    // What a newer program wrote is read and not shown.
    let newer = Say { kind: CHANGE, version: u32::MAX, body: vec![0xa0] };
    world.hub.say(&[newer]).await.unwrap();
    world.hub.trusted().await.unwrap();
    let read = async |before: Option<Arrival>, most: usize| {
        let given = store.given();
        let lines = changes(&world.hub, before, most).await.unwrap();
        (lines, store.given() - given)
    };
    let (lines, given) = read(None, 20).await;
    assert_eq!((lines.len(), given), (20, 21));
    let mut numbers: Vec<u64> = lines.iter().map(|line| line.arrival.0).collect();
    let (next, given) = read(Some(lines[19].arrival), 20).await;
    assert_eq!((next.len(), given), (20, 20));
    numbers.extend(next.iter().map(|line| line.arrival.0));
    assert!(numbers.is_sorted_by(|one, other| *one == other + 1), "none left out, none twice: {numbers:?}");
    let (all, given) = read(None, 5_000).await;
    assert_eq!((all.len(), given), (200, 201));
}

/// Looks through all bytes of the hub's log for texts.
async fn in_the_log(store: &impl Ledger, texts: &[&str]) -> Vec<String> {
    let all = store.since(Arrival(0), &Filter::default(), Limit::default()).await.unwrap().entries;
    let bytes: Vec<u8> = all.into_iter().flat_map(|entry| entry.bytes).collect();
    let found = texts.iter().filter(|text| bytes.windows(text.len()).any(|part| part == text.as_bytes()));
    found.map(|text| (*text).to_owned()).collect()
}

#[tokio::test]
async fn what_is_changed_about_people_names_nobody_but_by_number() {
    let world = World::new().await;
    let secret = hash_password(Password::typed(PASSWORD.into())).await.unwrap();
    let person = HubPerson { id: WHO, name: NAME.into(), secret: secret.clone(), role: HubRole::Read };
    write_down(&world.hub, None, &person).await.unwrap();
    let anew = hash_password(Password::typed("four drier words yet".into())).await.unwrap();
    for to in [
        PersonTo::Name(OTHER_NAME.into()),
        PersonTo::Role(HubRole::Administer),
        PersonTo::Password(anew.clone()),
        PersonTo::NoSignIn,
        PersonTo::Erased,
    ] {
        change_person(&world.hub, Some(WHO), WHO, &to).await.unwrap().unwrap();
    }
    let made: Vec<_> =
        said(&world.hub.store).await.into_iter().map(|change| (change.by, change.made)).collect();
    let about = |change| ChangeMade::Person(WHO, change);
    let expected = [
        (None, about(PersonChange::Added { role: HubRole::Read, signs_in: true })),
        (Some(WHO), about(PersonChange::Renamed)),
        (Some(WHO), about(PersonChange::Role(HubRole::Administer))),
        (Some(WHO), about(PersonChange::Password)),
        (Some(WHO), about(PersonChange::NoSignIn)),
        (Some(WHO), about(PersonChange::Erased)),
    ];
    assert_eq!(made, expected);
    assert_eq!(world.hub.store.persons().await.unwrap(), []);
    // Their parts too: a name and a hash are made of several.
    let personal =
        [NAME, "Ottilie", "Quarmby", "Lund", PASSWORD, "dry words", "drier", &secret, &anew, "argon2"];
    assert_eq!(in_the_log(&world.hub.store, &personal).await, Vec::<String>::new());
    assert_eq!(in_the_log(&world.hub.store, &["person_renamed"]).await, ["person_renamed"], "it does look");
}

#[tokio::test]
async fn phones_are_told_nothing_of_it_and_what_a_phone_says_of_it_counts_for_nothing() {
    let (world, mut phone) = (World::new().await, Phone::with(1, 1));
    world.enrol(&phone, &[]).await;
    comes_in(&world, None, Rows::Some(vec![row("LT-1", "", 0xa0)])).await;
    let forged = Change { by: None, made: ChangeMade::Person(WHO, PersonChange::Erased) };
    phone.sign(CHANGE, 1, &forged.encode().unwrap());
    let (answer, taken) = phone.sends(&world).await;
    assert_eq!((taken.new, taken.refused.len()), (2, 0), "it is kept, like any other");
    let told = answer.entries.iter().filter_map(|entry| Change::of_entry(&record::open(entry).unwrap()).ok());
    let confirmed = Change { by: None, made: ChangeMade::PhoneConfirmed(phone.log()) };
    assert_eq!(
        told.collect::<Vec<_>>(),
        [confirmed],
        "that goes with its certificate, and nothing else does"
    );
    let lines = changes(&world.hub, None, 9).await.unwrap();
    assert_eq!(lines.len(), 2);
    assert!(lines.iter().all(|line| line.id.log == world.hub.identity.log));
}

#[tokio::test]
async fn what_was_changed_after_the_backup_comes_back_only_as_a_record() {
    let world = World::new().await;
    let phone = Phone::with(1, 2);
    world.enrol(&phone, &[]).await;
    phone.sends(&world).await;
    comes_in(&world, None, Rows::Some(vec![row("LT-1", "", 0xa0)])).await;
    let backup = backed_up(&world, "backup.db").await;
    comes_in(&world, Some(WHO), Rows::Some(vec![row("LT-1", "", 0xa1)])).await;
    // A phone that was given all of the hub's log, as by a file.
    let (have, lost) = of_hub(&world).await;
    let world = restored(world, &backup).await;
    let of = |lines: Vec<Line>| {
        let made = lines.into_iter().map(|line| line.change.made);
        made.filter(|made| matches!(made, ChangeMade::Imported(_))).collect::<Vec<_>>()
    };
    let added = of_instruments(0, 1, RowsChanged { added: 1, ..RowsChanged::default() });
    let changed = of_instruments(1, 2, RowsChanged { changed: 1, ..RowsChanged::default() });
    assert_eq!(of(changes(&world.hub, None, 9).await.unwrap()), [added], "what the backup held is there");
    let mut message = phone.pushing(phone.greets(&world).await.session);
    message.have = Some(have);
    let (answer, _) = phone.pushes(&world, &message).await.unwrap();
    phone.pushes(&world, &giving(&phone, answer.session, &lost)).await.unwrap();
    let lines = changes(&world.hub, None, 9).await.unwrap();
    assert!(lines.iter().all(|line| line.standing == Standing::Counts));
    assert_eq!(of(lines), [changed, added]);
    assert_eq!(world.hub.store.row("LT-1").await.unwrap(), Some(row("LT-1", "", 0xa0)), "the register stays");
}

async fn asks(
    server: &Server,
    session: &Session,
    method: Method,
    path: &str,
    body: &Value,
) -> (StatusCode, Value) {
    let body = serde_json::to_vec(body).unwrap();
    let request = server.ask(method, path).header("content-type", "application/json").body(body);
    let answer = session.on(request).send().await.unwrap();
    (answer.status(), json(answer).await)
}

#[tokio::test]
async fn people_are_changed_over_the_network_by_whoever_runs_the_hub() {
    let server = Server::start().await;
    let world = &server.world;
    let cy = world.person("Cy", HubRole::Administer).await;
    world.person("Ben", HubRole::Supervise).await;
    let (session, ben) = (server.sign_in("Cy").await, server.sign_in("Ben").await);
    let adding = json!({ "name": NAME, "role": "read", "password": PASSWORD });
    let (status, _) = asks(&server, &ben, Method::POST, "/people", &adding).await;
    assert_eq!(status, StatusCode::FORBIDDEN);
    let (status, made) = asks(&server, &session, Method::POST, "/people", &adding).await;
    assert_eq!(status, StatusCode::CREATED, "{made}");
    let path = format!("/people/{}", made["number"].as_str().unwrap());
    let theirs = server.sign_in(NAME).await;
    let patched = async |body: Value| asks(&server, &session, Method::PATCH, &path, &body).await;
    for (body, status) in [
        (json!({ "name": OTHER_NAME }), StatusCode::OK),
        (json!({ "role": "supervise" }), StatusCode::OK),
        (json!({ "role": "rule" }), StatusCode::BAD_REQUEST),
        (json!({ "name": "Ben" }), StatusCode::CONFLICT),
        (json!({ "password": "short" }), StatusCode::BAD_REQUEST),
        (json!({ "signs_in": true }), StatusCode::BAD_REQUEST),
    ] {
        let (found, answer) = patched(body.clone()).await;
        assert_eq!(found, status, "{body}: {answer}");
        assert!(found == StatusCode::OK || answer["text"].is_string(), "{answer}");
    }
    let me = server.get("/me");
    assert_eq!(json(theirs.on(me).send().await.unwrap()).await["role"], "supervise");
    assert_eq!(patched(json!({ "password": "four drier words yet" })).await.0, StatusCode::OK);
    let out = theirs.on(server.get("/me")).send().await.unwrap().status();
    assert_eq!(out, StatusCode::UNAUTHORIZED, "another password ends what the old one began");
    assert_eq!(patched(json!({ "signs_in": false })).await.0, StatusCode::OK);
    assert_eq!(patched(json!({ "signs_in": false })).await.1["entry"], Value::Null, "it is so already");
    let (_, people) = asks(&server, &session, Method::GET, "/people", &Value::Null).await;
    assert_eq!(
        people[2],
        json!({ "number": made["number"], "name": OTHER_NAME, "role": "supervise", "signs_in": false })
    );
    assert_eq!(asks(&server, &session, Method::DELETE, &path, &Value::Null).await.0, StatusCode::OK);
    assert_eq!(asks(&server, &session, Method::DELETE, &path, &Value::Null).await.0, StatusCode::CONFLICT);

    let (_, page) = asks(&server, &session, Method::GET, "/changes?limit=2", &Value::Null).await;
    let (_, rest) = {
        let next = format!("/changes?after={}", page["next"].as_str().unwrap());
        asks(&server, &session, Method::GET, &next, &Value::Null).await
    };
    assert_eq!(rest["next"], Value::Null);
    let items: Vec<&Value> =
        [&page, &rest].iter().flat_map(|page| page["items"].as_array().unwrap()).collect();
    let what: Vec<&str> = items.iter().map(|item| item["what"].as_str().unwrap()).collect();
    let newest_first = [
        "person_erased",
        "person_no_sign_in",
        "person_password",
        "person_role",
        "person_renamed",
        "person_added",
    ];
    assert_eq!(what[..6], newest_first);
    for item in &items[..6] {
        assert_eq!(item["by"], json!({ "number": hub::names::hex(&cy.0), "name": "Cy" }));
        assert_eq!(item["person"], json!({ "number": made["number"], "name": null }), "the name is gone");
    }
    assert_eq!((&items[3]["role"], &items[5]["signs_in"]), (&json!("supervise"), &json!(true)));
    let personal = [NAME, OTHER_NAME, "Quarmby", PASSWORD, "drier", "argon2"];
    assert_eq!(in_the_log(&world.hub.store, &personal).await, Vec::<String>::new());
    server.stop().await;
}
