//! Proposals to the register: side by side until somebody decides, and what then stands where.

use bodies::{
    Confirmed, Decision, HubRole, PROPOSAL, PROPOSAL_VERSION, PersonId, Proposal, Proposed, RegisterRow,
    Review, Technician, UnitFitted,
};
use domain::visit::Instrument;
use hub::deciding::{review, revoke};
use hub::proposals::{Line, proposals};
use hubstore::{HubPerson, People, Register, Row, Rows};
use record::{EntryId, PayloadHash};
use serde_json::json;

use crate::phone::Phone;
use crate::server::{Server, json};
use crate::world::World;

const WHO: PersonId = PersonId([5; 16]);
const CODE: &str = "MDW/ASSET/40117";

pub(crate) fn instrument(tag: &str, codes: &[&str]) -> Instrument {
    let mut row = crate::visit::finished().instrument;
    row.tag = tag.into();
    row.codes = codes.iter().map(|code| (*code).to_owned()).collect();
    row.offset_on_record = "1.20".into();
    row.offset_date = "2025-11-20".into();
    row
}

pub(crate) async fn register(world: &World, rows: &[Instrument]) {
    let row = |instrument: &Instrument| Row {
        tag: instrument.tag.clone(),
        area: String::new(),
        bytes: RegisterRow(instrument.clone()).encode().unwrap(),
    };
    world.hub.store.put_rows(Rows::Some(rows.iter().map(row).collect())).await.unwrap();
}

pub(crate) async fn stands(world: &World, tag: &str) -> Instrument {
    let row = world.hub.store.row(tag).await.unwrap().unwrap();
    RegisterRow::decode(&row.bytes).unwrap().0
}

pub(crate) fn propose(phone: &mut Phone, tag: &str, what: Proposed) -> EntryId {
    let technician = Technician { person: PersonId([9; 16]), confirmed: Confirmed::None };
    let register = "Marrowby, 2026-11-01".to_owned();
    let proposal = Proposal { technician, app: "0.1.0".into(), register, tag: tag.into(), what };
    phone.sign(PROPOSAL, PROPOSAL_VERSION, &proposal.encode().unwrap());
    phone.entries.last().unwrap().id
}

fn unit(before: &str, serial: &str, url: &str) -> Proposed {
    let mut limits = crate::visit::finished().instrument.limits;
    limits.url = url.into();
    let visit = PayloadHash([3; 32]);
    Proposed::Unit(Box::new(UnitFitted { before: before.into(), serial: serial.into(), limits, visit }))
}

fn code(text: &str) -> Proposed {
    Proposed::Code(text.into())
}

pub(crate) fn decision(subject: EntryId, decision: Decision, note: &str) -> Review {
    Review { subject, decision, note: note.into(), person: WHO }
}

async fn open(world: &World) -> Vec<Line> {
    proposals(&world.hub, false).await.unwrap()
}

fn named(lines: &[Line]) -> Vec<(EntryId, Vec<EntryId>, Vec<&str>)> {
    let holders = |line: &Line| line.holders.len();
    assert!(lines.iter().all(|line| holders(line) < 3));
    lines
        .iter()
        .map(|line| (line.id, line.rivals.clone(), line.holders.iter().map(String::as_str).collect()))
        .collect()
}

async fn with_two_phones() -> (World, Phone, Phone) {
    let (world, one, other) = (World::new().await, Phone::with(1, 0), Phone::with(2, 0));
    world.enrol(&one, &[]).await;
    world.enrol(&other, &[]).await;
    (world, one, other)
}

#[tokio::test]
async fn two_that_contradict_each_other_stand_side_by_side_until_one_is_decided() {
    let (world, mut asha, mut ben) = with_two_phones().await;
    register(&world, &[instrument("LT-1", &[]), instrument("LT-2", &[]), instrument("LT-3", &[CODE])]).await;
    let first = propose(&mut asha, "LT-1", code(CODE));
    let between = propose(&mut asha, "LT-2", unit("A1", "B7", "60 psi"));
    let second = propose(&mut ben, "LT-2", code(CODE));
    asha.sends(&world).await;
    ben.sends(&world).await;
    let lines = open(&world).await;
    let both = vec!["LT-3"];
    let expected =
        [(first, vec![second], both.clone()), (second, vec![first], both), (between, vec![], vec![])];
    assert_eq!(named(&lines), expected, "beside its rival, though it came later");
    let changes: Vec<_> =
        lines[2].changes.iter().map(|one| [&*one.field, &*one.from, &*one.to].join("|")).collect();
    let url = "limits.url|50 psi|60 psi";
    assert_eq!(changes, [url, "offset_date|2025-11-20|", "offset_on_record|1.20|", "serial|A1|B7"]);

    review(&world.hub, &decision(second, Decision::Declined, "It is LT-1's.")).await.unwrap();
    review(&world.hub, &decision(first, Decision::Accepted, "")).await.unwrap();
    assert_eq!(named(&open(&world).await), [(between, vec![], vec![])]);
    assert_eq!(stands(&world, "LT-1").await.codes, [CODE]);
    assert!(stands(&world, "LT-2").await.codes.is_empty());
    let all = proposals(&world.hub, true).await.unwrap();
    let words: Vec<_> = all.iter().filter_map(|line| line.decided.as_ref()).map(|one| one.decision).collect();
    assert_eq!(words, [Decision::Accepted, Decision::Declined]);
}

#[tokio::test]
async fn a_code_is_one_whatever_spaces_stand_around_it() {
    let (world, mut asha, mut ben) = with_two_phones().await;
    let spaced = format!(" {CODE} ");
    register(&world, &[instrument("LT-1", &[&spaced]), instrument("LT-2", &[])]).await;
    let first = propose(&mut asha, "LT-1", code(CODE));
    let second = propose(&mut ben, "LT-2", code(&spaced));
    asha.sends(&world).await;
    ben.sends(&world).await;
    let lines = open(&world).await;
    assert_eq!(named(&lines), [(first, vec![second], vec![]), (second, vec![first], vec!["LT-1"])]);
    assert_eq!(lines[0].changes, [], "the register says it");
    review(&world.hub, &decision(first, Decision::Accepted, "")).await.unwrap();
    assert_eq!(stands(&world, "LT-1").await.codes, [spaced], "and not twice");
}

#[tokio::test]
async fn a_unit_that_is_accepted_takes_the_old_ones_offset_out() {
    let (world, mut asha, mut ben) = with_two_phones().await;
    register(&world, &[instrument("LT-1", &[])]).await;
    let one = propose(&mut asha, "LT-1", unit("A1", "B7", "60 psi"));
    let other = propose(&mut ben, "LT-1", unit("A1", "C9", "70 psi"));
    asha.sends(&world).await;
    ben.sends(&world).await;
    assert_eq!(open(&world).await.len(), 2);
    review(&world.hub, &decision(one, Decision::Accepted, "")).await.unwrap();
    let row = stands(&world, "LT-1").await;
    assert_eq!((row.serial.as_str(), row.limits.url.as_str()), ("B7", "60 psi"));
    assert_eq!((row.offset_on_record.as_str(), row.offset_date.as_str()), ("", ""));
    let lines = open(&world).await;
    assert_eq!(lines.iter().map(|line| line.id).collect::<Vec<_>>(), [other]);
    assert!(lines[0].obstacle.contains("third serial number"), "{}", lines[0].obstacle);
    let refused = review(&world.hub, &decision(other, Decision::Accepted, "")).await.unwrap_err();
    assert!(refused.to_string().contains("third serial number"), "{refused}");
}

#[tokio::test]
async fn what_was_accepted_and_the_register_does_not_say_is_open_again() {
    let (world, mut asha, _) = with_two_phones().await;
    register(&world, &[instrument("LT-1", &[])]).await;
    let id = propose(&mut asha, "LT-1", code(CODE));
    asha.sends(&world).await;
    review(&world.hub, &decision(id, Decision::Accepted, "")).await.unwrap();
    assert!(open(&world).await.is_empty());
    let late = review(&world.hub, &decision(id, Decision::Declined, "no")).await.unwrap_err();
    assert!(late.to_string().contains("import"), "{late}");
    // As after a restore from before, or an import without the code.
    register(&world, &[instrument("LT-1", &[])]).await;
    assert_eq!(named(&open(&world).await), [(id, vec![], vec![])]);
    review(&world.hub, &decision(id, Decision::Declined, "It was taken down.")).await.unwrap();
    assert!(open(&world).await.is_empty());
}

#[tokio::test]
async fn only_what_can_be_decided_is_and_whoever_is_told_no_is_told_why() {
    let (world, mut asha, _) = with_two_phones().await;
    register(&world, &[instrument("LT-1", &[])]).await;
    let id = propose(&mut asha, "LT-1", code(CODE));
    let gone = propose(&mut asha, "LT-9", code("elsewhere"));
    crate::visit::sign(&mut asha, crate::visit::finished());
    let visit = asha.entries.last().unwrap().id;
    asha.sends(&world).await;
    for (subject, word, note, says) in [
        (id, Decision::Approved, "", "list of visits"),
        (visit, Decision::Accepted, "", "list of proposals"),
        (id, Decision::Declined, " ", "Say why"),
        (visit, Decision::Returned, "", "Say why"),
        (gone, Decision::Accepted, "", "no such instrument"),
    ] {
        let refused = review(&world.hub, &decision(subject, word, note)).await.unwrap_err();
        assert!(refused.to_string().contains(says), "{refused}");
    }
    review(&world.hub, &decision(visit, Decision::Returned, "Dip once more.")).await.unwrap();
    revoke(&world.hub, asha.log(), None, "lost", WHO).await.unwrap();
    let refused = review(&world.hub, &decision(id, Decision::Accepted, "")).await.unwrap_err();
    assert!(refused.to_string().contains("Adopt it first"), "{refused}");
    review(&world.hub, &decision(id, Decision::Adopted, "honest")).await.unwrap();
    review(&world.hub, &decision(id, Decision::Accepted, "")).await.unwrap();
    assert_eq!(stands(&world, "LT-1").await.codes, [CODE]);
}

#[tokio::test]
async fn the_route_gives_names_changes_and_conflicts() {
    let server = Server::start().await;
    let world = &server.world;
    world.person("Ben", HubRole::Supervise).await;
    let asha =
        HubPerson { id: PersonId([9; 16]), name: "Asha".into(), secret: String::new(), role: HubRole::Read };
    world.hub.store.put_person(&asha).await.unwrap();
    let mut phone = Phone::with(1, 0);
    world.enrol(&phone, &[]).await;
    register(world, &[instrument("LT-1", &[]), instrument("LT-2", &[CODE])]).await;
    let id = propose(&mut phone, "LT-1", code(CODE));
    phone.sends(world).await;
    let session = server.sign_in("Ben").await;
    let list = json(session.on(server.get("/proposals")).send().await.unwrap()).await;
    let name = hub::names::entry_name(&id);
    let claimed = phone.entries[0].header.claimed.millis;
    let one = json!({
        "id": name, "tag": "LT-1", "field": "codes", "value": CODE, "register": "Marrowby, 2026-11-01",
        "changes": [{ "field": "codes", "from": "", "to": CODE }], "standing": "counts", "open": true,
        "by": { "number": "09".repeat(16), "name": "Asha" }, "claimed": claimed, "decision": null,
        "holders": ["LT-2"], "rivals": [], "obstacle": null,
    });
    assert_eq!(list, json!([one]));
    let body = json!({ "subject": name, "decision": "declined", "note": "It is LT-2's." });
    let made = session.on(server.post("/reviews", &body)).send().await.unwrap();
    assert_eq!(made.status(), reqwest::StatusCode::CREATED);
    assert_eq!(json(session.on(server.get("/proposals")).send().await.unwrap()).await, json!([]));
    let all = json(session.on(server.get("/proposals?all=true")).send().await.unwrap()).await;
    assert_eq!(
        (&all[0]["decision"]["decision"], &all[0]["decision"]["note"]),
        (&"declined".into(), &"It is LT-2's.".into())
    );
    assert_eq!(all[0]["decision"]["by"]["name"], "Ben");
    // The phone is told with the next answer.
    let (answer, _) = phone.sends(world).await;
    let kinds: Vec<_> = answer.entries.iter().map(|entry| record::open(entry).unwrap().header.kind).collect();
    assert!(kinds.contains(&bodies::REVIEW));
    server.stop().await;
}
