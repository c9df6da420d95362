//! A copied key: from where its log parts nothing counts, on either branch, until somebody decides.

use bodies::{Decision, HubRole, LastTrusted, PersonId, Review};
use exchange::trust::Standing;
use hub::counting::standing;
use hub::deciding::{review, revoke};
use hub::names::{entry_name, hex};
use hub::recompute::work_off;
use record::EntryId;
use serde_json::{Value, json};

use crate::phone::Phone;
use crate::server::{Server, Session, json};
use crate::visit::{finished, sign};
use crate::world::World;

const WHO: PersonId = PersonId([5; 16]);

/// A phone with four visits, and a copy of it that went another way after the second.
fn copied() -> (Phone, Phone) {
    let (mut phone, mut copy) = (Phone::with(1, 0), Phone::with(1, 0));
    (0..4).for_each(|_| sign(&mut phone, finished()));
    (0..2).for_each(|_| sign(&mut copy, finished()));
    let mut other = finished();
    other.results.retain(|line| line.key != domain::visit::ResultKey::Shift);
    (0..2).for_each(|_| sign(&mut copy, other.clone()));
    assert_eq!(copy.entries[1].id, phone.entries[1].id);
    (phone, copy)
}

fn id(phone: &Phone, place: usize) -> EntryId {
    phone.entries[place - 1].id
}

async fn listed(server: &Server, session: &Session, path: &str) -> Value {
    json(session.on(server.get(path)).send().await.unwrap()).await
}

/// What lists say of each place of the phone, and of the copy from the third on.
async fn stand(world: &World, phone: &Phone, copy: &Phone) -> Vec<Standing> {
    let mut stand = Vec::new();
    for id in [id(phone, 1), id(phone, 2), id(phone, 3), id(phone, 4), id(copy, 3), id(copy, 4)] {
        stand.push(standing(&world.hub, &id).await.unwrap());
    }
    stand
}

async fn decides(world: &World, subject: EntryId, decision: Decision) -> Result<EntryId, hub::Error> {
    review(&world.hub, &Review { subject, decision, note: "no".into(), person: WHO }).await
}

#[tokio::test]
async fn from_where_a_log_parts_neither_branch_counts_until_somebody_decides() {
    use Standing::{Adopted, AfterRevocation, Counts, Forked};
    let (world, (phone, copy)) = (World::new().await, copied());
    world.enrol(&phone, &[]).await;
    phone.sends(&world).await;
    assert_eq!(standing(&world.hub, &id(&phone, 4)).await.unwrap(), Counts, "nobody knows of the copy yet");
    copy.sends(&world).await;
    assert_eq!(stand(&world, &phone, &copy).await, [Counts, Counts, Forked, Forked, Forked, Forked]);
    let refused = decides(&world, id(&phone, 3), Decision::Approved).await.unwrap_err().to_string();
    assert!(refused.contains("forked") && refused.contains("Adopt this record first"), "{refused}");
    decides(&world, id(&phone, 2), Decision::Approved).await.unwrap();
    decides(&world, id(&copy, 4), Decision::Adopted).await.unwrap();
    assert_eq!(stand(&world, &phone, &copy).await, [Counts, Counts, Forked, Forked, Forked, Adopted]);
    let EntryId { log, seq, payload } = id(&phone, 3);
    revoke(&world.hub, log, Some(LastTrusted { seq, payload }), "copied", WHO).await.unwrap();
    let decided = [Counts, Counts, Counts, AfterRevocation, AfterRevocation, Adopted];
    assert_eq!(stand(&world, &phone, &copy).await, decided, "what leads to the last trusted one counts");
}

#[tokio::test]
async fn lists_say_of_a_fork_what_is_undecided() {
    let (server, (phone, copy)) = (Server::start().await, copied());
    server.world.person("Ada", HubRole::Supervise).await;
    server.world.enrol(&phone, &[]).await;
    phone.sends(&server.world).await;
    copy.sends(&server.world).await;
    work_off(&server.world.hub.store, &server.world.clock).await.unwrap();
    let session = server.sign_in("Ada").await;
    let of = |id: EntryId, standing: &str| json!({ "id": entry_name(&id), "standing": standing });
    let pairs = |list: &Value| -> Vec<Value> {
        let list = list.as_array().unwrap().iter();
        list.map(|one| json!({ "id": one["id"], "standing": one["standing"] })).collect()
    };
    let records = listed(&server, &session, "/records").await;
    let expected = [(id(&copy, 4), "forked"), (id(&copy, 3), "forked"), (id(&phone, 4), "forked")];
    let expected = expected.into_iter().chain([(id(&phone, 3), "forked"), (id(&phone, 2), "counts")]);
    let expected: Vec<Value> =
        expected.chain([(id(&phone, 1), "counts")]).map(|(id, word)| of(id, word)).collect();
    assert_eq!(pairs(&records["items"]), expected);
    // Findings are of what counts: an agreement of the forked ones is none.
    assert_eq!(pairs(&listed(&server, &session, "/findings?found=agrees").await), expected[4..]);
    let forks = listed(&server, &session, "/forks").await;
    assert_eq!(
        (forks[0]["seq"].as_u64(), forks[1]["seq"].as_u64(), &forks[2]),
        (Some(3), Some(4), &Value::Null)
    );
    let mut third = vec![of(id(&phone, 3), "forked"), of(id(&copy, 3), "forked")];
    third.sort_by_key(|one| one["id"].as_str().unwrap().to_owned());
    assert_eq!(pairs(&forks[0]["records"]), third);
    decides(&server.world, id(&phone, 3), Decision::Adopted).await.unwrap();
    let forks = listed(&server, &session, "/forks").await;
    let adopted = pairs(&forks[0]["records"]).into_iter().find(|one| one["standing"] == "adopted").unwrap();
    assert_eq!(adopted["id"], entry_name(&id(&phone, 3)));
    server.stop().await;
}

#[tokio::test]
async fn a_fork_is_decided_on_the_command_line() {
    let (world, (phone, copy)) = (World::new().await, copied());
    world.person("Ada", HubRole::Supervise).await;
    world.enrol(&phone, &[]).await;
    phone.sends(&world).await;
    copy.sends(&world).await;
    let (log, name) = (hex(&phone.log().0), |phone: &Phone, place| entry_name(&id(phone, place)));
    let status = world.says(&["status"]);
    let line = |id: &str, says: &str| status.lines().any(|line| line.contains(id) && line.contains(says));
    for id in [name(&phone, 3), name(&copy, 3), name(&phone, 4), name(&copy, 4)] {
        assert!(line(&id, "counts in nothing yet"), "{id}: {status}");
    }
    let revoke =
        |last: &str| world.command(&["revoke", &log, "--last", last, "--reason", "copied", "--by", "Ada"]);
    let anothers = name(&phone, 4).replacen(&log, &"ab".repeat(32), 1);
    for (last, says) in [
        ("4", "forked at that place"),
        ("9", "Nothing of this log"),
        ("four", "LOG-PLACE-HASH"),
        (anothers.as_str(), "of another log"),
    ] {
        let said = String::from_utf8(revoke(last).stderr).unwrap();
        assert!(said.contains(says), "{last}: {said}");
    }
    assert!(revoke(&name(&phone, 4)).status.success());
    let visits = world.says(&["visits"]);
    let says = |id: String| {
        let below = visits.lines().skip_while(|line| !line.contains(&id)).nth(1);
        below.unwrap_or_else(|| panic!("{id}: {visits}")).trim().to_owned()
    };
    assert!(says(name(&phone, 4)).starts_with("counts; "), "{visits}");
    assert!(
        says(name(&copy, 3))
            .starts_with("counts in nothing: signed after its phone was revoked, or on another branch; ")
    );
}
