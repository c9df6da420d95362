//! What counts after a revocation: in lists, in findings, in what is decided; and how a revoked hub's own log is judged.

use bodies::{
    CERTIFICATE, CERTIFICATE_VERSION, Certificate, Certified, Confirmed, Decision, HubRole, LastTrusted,
    PROPOSAL, PROPOSAL_VERSION, PersonId, Proposal, Proposed, REVOCATION, REVOCATION_VERSION, RegisterRow,
    Review, Revocation, Technician,
};
use exchange::trust::Standing;
use hub::counting::{Counting, standing};
use hub::deciding::{review, revoke};
use hub::names::entry_name;
use hub::recompute::work_off;
use hubstore::{Batch, Ledger, Logs, NewEntry, Register, Row, Rows};
use minicbor::bytes::ByteVec;
use record::{Claimed, EntryId, Kind, Link, PublicKey, Seq, Signature, Signer, open, seal};
use serde_json::Value;

use crate::phone::Phone;
use crate::restored::{backed_up, restored};
use crate::server::{Server, Session, json};
use crate::visit::{finished, sign};
use crate::world::{World, key};

const WHO: PersonId = PersonId([5; 16]);

fn last(id: EntryId) -> LastTrusted {
    LastTrusted { seq: id.seq, payload: id.payload }
}

async fn decides(world: &World, subject: EntryId, decision: Decision) -> Result<EntryId, hub::Error> {
    review(&world.hub, &Review { subject, decision, note: "no".into(), person: WHO }).await
}

async fn listed(server: &Server, session: &Session, path: &str) -> Value {
    json(session.on(server.get(path)).send().await.unwrap()).await
}

/// The names and standings of a list.
fn standings(list: &Value) -> Vec<(String, String)> {
    let text = |value: &Value| value.as_str().unwrap().to_owned();
    list.as_array().unwrap().iter().map(|one| (text(&one["id"]), text(&one["standing"]))).collect()
}

#[tokio::test]
async fn lists_say_of_each_record_whether_it_counts() {
    let server = Server::start().await;
    server.world.person("Ada", HubRole::Read).await;
    let (mut phone, mut forger) = (Phone::with(1, 0), Phone::with(1, 0));
    let visit = finished();
    (0..4).for_each(|_| sign(&mut phone, visit.clone()));
    sign(&mut forger, visit.clone());
    let mut other = visit;
    other.model = 1;
    sign(&mut forger, other);
    server.world.enrol(&phone, &[]).await;
    phone.sends(&server.world).await;
    forger.sends(&server.world).await;
    let ids: Vec<EntryId> = phone.entries.iter().map(|entry| entry.id).collect();
    revoke(&server.world.hub, phone.log(), Some(last(ids[2])), "lost", WHO).await.unwrap();
    let session = server.sign_in("Ada").await;
    let named = |ids: &[(EntryId, &str)]| -> Vec<(String, String)> {
        ids.iter().map(|(id, word)| (entry_name(id), (*word).to_owned())).collect()
    };
    let forged = forger.entries[1].id;
    let list = listed(&server, &session, "/records").await;
    let rest = [(ids[2], "counts"), (ids[1], "counts"), (ids[0], "counts")];
    let expected = [&[(forged, "after_revocation"), (ids[3], "after_revocation")][..], &rest].concat();
    assert_eq!(standings(&list["items"]), named(&expected));
    decides(&server.world, ids[3], Decision::Adopted).await.unwrap();
    let list = listed(&server, &session, "/records?limit=2").await;
    assert_eq!(standings(&list["items"]), named(&[(forged, "after_revocation"), (ids[3], "adopted")]));
    server.stop().await;
}

#[tokio::test]
async fn findings_are_of_what_counts() {
    let server = Server::start().await;
    server.world.person("Ada", HubRole::Read).await;
    let mut phone = Phone::with(1, 0);
    let mut changed = finished();
    sign(&mut phone, changed.clone());
    let line = changed.results.iter_mut().find(|line| line.key == domain::visit::ResultKey::Shift).unwrap();
    line.value.value.mantissa += 10_i64.pow(4);
    (0..3).for_each(|_| sign(&mut phone, changed.clone()));
    server.world.enrol(&phone, &[]).await;
    phone.sends(&server.world).await;
    work_off(&server.world.hub.store, &server.world.clock).await.unwrap();
    let session = server.sign_in("Ada").await;
    let names = |list: &Value| standings(list).into_iter().map(|(id, _)| id).collect::<Vec<_>>();
    let name = |place: usize| entry_name(&phone.entries[place - 1].id);
    assert_eq!(names(&listed(&server, &session, "/findings").await), [name(4), name(3), name(2)]);
    let trusted = Some(last(phone.entries[1].id));
    revoke(&server.world.hub, phone.log(), trusted, "lost", WHO).await.unwrap();
    assert_eq!(names(&listed(&server, &session, "/findings").await), [name(2)]);
    assert_eq!(names(&listed(&server, &session, "/findings?limit=1").await), [name(2)], "whatever the page");
    let all = listed(&server, &session, "/findings?all=true").await;
    assert_eq!(standings(&all)[0], (name(4), "after_revocation".to_owned()));
    assert_eq!(names(&all).len(), 3);
    decides(&server.world, phone.entries[3].id, Decision::Adopted).await.unwrap();
    let list = listed(&server, &session, "/findings").await;
    assert_eq!(standings(&list), [(name(4), "adopted".to_owned()), (name(2), "counts".to_owned())]);
    server.stop().await;
}

#[tokio::test]
async fn a_proposal_that_counts_in_nothing_changes_no_register() {
    let world = World::new().await;
    let mut phone = Phone::with(1, 1);
    let proposal = Proposal {
        technician: Technician { person: WHO, confirmed: Confirmed::None },
        app: "0.1.0".into(),
        register: "Marrowby".into(),
        tag: "LT-2041".into(),
        what: Proposed::Code("MDW/ASSET/40117".into()),
    };
    phone.sign(PROPOSAL, PROPOSAL_VERSION, &proposal.encode().unwrap());
    sign(&mut phone, finished());
    world.enrol(&phone, &[]).await;
    phone.sends(&world).await;
    let row = RegisterRow(finished().instrument).encode().unwrap();
    let row = Row { tag: "LT-2041".into(), area: String::new(), bytes: row };
    world.hub.store.put_rows(Rows::Some(vec![row.clone()])).await.unwrap();
    let [proposed, visit] = [phone.entries[1].id, phone.entries[2].id];
    revoke(&world.hub, phone.log(), Some(last(phone.entries[0].id)), "lost", WHO).await.unwrap();
    for (subject, decision) in [(proposed, Decision::Accepted), (visit, Decision::Approved)] {
        let refused = decides(&world, subject, decision).await.unwrap_err().to_string();
        assert!(refused.contains("Adopt it first"), "{refused}");
    }
    assert_eq!(world.hub.store.row("LT-2041").await.unwrap().unwrap(), row);
    decides(&world, visit, Decision::Returned).await.unwrap();
    decides(&world, proposed, Decision::Adopted).await.unwrap();
    decides(&world, proposed, Decision::Accepted).await.unwrap();
    let RegisterRow(instrument) =
        RegisterRow::decode(&world.hub.store.row("LT-2041").await.unwrap().unwrap().bytes).unwrap();
    assert!(instrument.codes.contains(&"MDW/ASSET/40117".to_owned()));
}

/// Signs nothing: what it makes goes into the store without being verified, as what was verified does.
struct Unsigned(PublicKey);

impl Signer for Unsigned {
    fn public(&self) -> &PublicKey {
        &self.0
    }

    fn sign(&self, _: &[u8]) -> Result<Signature, record::Error> {
        Ok(Signature([0; 64]))
    }
}

/// So many entries behind one another; the text tells branches apart.
fn chain(by: &Unsigned, mut link: Link, count: usize, text: u8) -> Vec<NewEntry> {
    let claimed = Claimed { millis: 0, offset_minutes: 0 };
    let mut entries = Vec::with_capacity(count);
    for _ in 0..count {
        let new = record::NewEntry { link, kind: Kind(4_000), body_version: 1, claimed, boot: None };
        let sealed = seal(&new, &[0x61, text], by).unwrap();
        link = sealed.next();
        entries.push(NewEntry::of(&open(&sealed.bytes).unwrap()));
    }
    entries
}

#[tokio::test]
async fn honest_records_count_however_far_below_the_last_trusted_one() {
    let (world, phone) = (World::new().await, Phone::with(1, 0));
    world.enrol(&phone, &[]).await;
    let by = Unsigned(phone.key.public().clone());
    let honest = chain(&by, Link::First, 10_050, b'h');
    let end = honest[10_049].id;
    world.hub.store.ingest(Batch { entries: honest.clone(), ..Batch::default() }).await.unwrap();
    revoke(&world.hub, phone.log(), Some(last(end)), "lost", WHO).await.unwrap();
    for at in [0, 1, 40, 10_049] {
        assert_eq!(standing(&world.hub, &honest[at].id).await.unwrap(), Standing::Counts, "{at}");
    }
    // A branch of the same length beside it: each place is forked, and each is told apart.
    let from = honest[1].id;
    let forged = chain(&by, Link::After { seq: from.seq, payload: from.payload }, 10_060, b'f');
    world.hub.store.ingest(Batch { entries: forged.clone(), ..Batch::default() }).await.unwrap();
    let mut counting = Counting::at(&world.hub).await.unwrap();
    for at in (0..10_050).step_by(50) {
        assert_eq!(counting.standing(&honest[at].id).await.unwrap(), Standing::Counts, "{at}");
        assert_eq!(counting.standing(&forged[at].id).await.unwrap(), Standing::AfterRevocation, "{at}");
    }
}

#[tokio::test]
async fn below_a_gap_nothing_can_be_vouched_for() {
    let (world, phone) = (World::new().await, Phone::with(1, 0));
    world.enrol(&phone, &[]).await;
    let by = Unsigned(phone.key.public().clone());
    let entries = chain(&by, Link::First, 6, b'h');
    let held: Vec<NewEntry> = [0, 1, 3, 4, 5].map(|at: usize| entries[at].clone()).into();
    world.hub.store.ingest(Batch { entries: held, ..Batch::default() }).await.unwrap();
    revoke(&world.hub, phone.log(), Some(last(entries[4].id)), "lost", WHO).await.unwrap();
    let stands = async |at: usize| standing(&world.hub, &entries[at].id).await.unwrap().counts();
    assert_eq!(
        [stands(0).await, stands(3).await, stands(4).await, stands(5).await],
        [false, true, true, false]
    );
    let missing = vec![entries[2].clone()];
    world.hub.store.ingest(Batch { entries: missing, ..Batch::default() }).await.unwrap();
    assert_eq!([stands(0).await, stands(2).await], [true, true], "it came");
}

#[tokio::test]
async fn a_certificate_forged_below_the_cut_of_a_revoked_hub_enrols_nobody() {
    let world = World::new().await;
    let (mut honest, thief) = (Phone::with(1, 1), Phone::with(2, 1));
    world.enrol(&honest, &[]).await;
    for _ in 0..2 {
        honest.sends(&world).await;
        honest.note();
    }
    let old = key(0x77);
    let (seq, payload) = world.hub.store.tip(old.public().log()).await.unwrap().unwrap();
    let first = world.hub.store.links(old.public().log(), Seq::FIRST, Seq::FIRST).await.unwrap()[0];
    let backup = backed_up(&world, "backup.db").await;
    let mut world = restored(world, &backup).await;
    // The old hub's key was stolen with its disk: the organisation revokes it where its backup ends.
    let revocation = Revocation {
        log: old.public().log(),
        last: Some(LastTrusted { seq, payload }),
        reason: "disk stolen".into(),
        person: WHO,
    };
    let body = revocation.encode().unwrap();
    let claimed = world.clock.now().claimed();
    let revoked = world.organisation.sign(REVOCATION, REVOCATION_VERSION, claimed, &body).unwrap();
    let certified = Certified::Device { person: WHO, areas: [].into() };
    let certificate = Certificate { key: thief.key.public().clone(), label: "a phone".into(), certified };
    let link = Link::After { seq: first.seq, payload: first.hash };
    let new =
        record::NewEntry { link, kind: CERTIFICATE, body_version: CERTIFICATE_VERSION, claimed, boot: None };
    let forged = seal(&new, &certificate.encode().unwrap(), &old).unwrap();
    assert!(forged.id.seq < seq, "below the cut by its place");
    for bytes in [revoked.bytes, forged.bytes] {
        let mut message = thief.pushing(thief.greets(&world).await.session);
        message.keys.push(ByteVec::from(old.public().cose().to_vec()));
        message.entries.push(bytes.into());
        thief.pushes(&world, &message).await.unwrap();
    }
    assert!(world.trusts(honest.log()).await, "what stands on the branch that is trusted counts");
    assert!(!world.trusts(thief.log()).await, "what was forged beside it does not");
    assert!(world.hub.store.parked().await.unwrap().iter().any(|parked| parked.log == thief.log()));
}
