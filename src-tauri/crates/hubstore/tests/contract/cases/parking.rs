//! Entries of logs that nobody vouches for.

use hubstore::{
    AnyStore, Arrival, Batch, Error, Ledger, Logs, NewEntry, Outcome, PARKED_BESIDE, ParkedLog,
    ParkingLimits, Refusal, Standing,
};
use record::LogId;

use crate::writer::{Writer, batch};

fn from_stranger(stranger: &Writer, entries: &[NewEntry]) -> Batch {
    Batch { keys: vec![stranger.known()], carrier: [3; 32], entries: entries.to_vec(), ..Batch::default() }
}

pub(crate) async fn strangers_wait_until_somebody_vouches(store: &AnyStore) {
    let mut stranger = Writer::number(5);
    let entries = [stranger.visit("LT-201", "Sedge Hill"), stranger.say(90, "two")];
    let done = store.ingest(from_stranger(&stranger, &entries)).await.unwrap();
    assert_eq!(done.outcomes, [Outcome::Parked; 2]);
    let again = store.ingest(from_stranger(&stranger, &entries)).await.unwrap();
    assert_eq!(again.outcomes, [Outcome::Parked; 2]);
    assert_eq!(store.newest().await.unwrap(), Arrival(0));
    assert_eq!(store.holds(&[entries[0].id]).await.unwrap(), [false]);
    let bytes = entries.iter().map(|entry| entry.bytes.len() as u64).sum();
    assert_eq!(store.parked().await.unwrap(), [ParkedLog { log: stranger.log(), entries: 2, bytes }]);
    assert_eq!(store.log(stranger.log()).await.unwrap().unwrap().standing, Standing::Parked);

    let third = stranger.say(90, "three");
    let done = store.ingest(batch(&[&stranger], &[third])).await.unwrap();
    assert_eq!(done.adopted, [entries[0].id, entries[1].id]);
    assert_eq!(done.outcomes, [Outcome::New(Arrival(3))], "behind what had waited");
    assert_eq!(store.parked().await.unwrap(), []);
    let row = store.log(stranger.log()).await.unwrap().unwrap();
    assert_eq!((row.standing, row.key), (Standing::Known, stranger.known().key));
    assert_eq!(store.runs(&[stranger.log()]).await.unwrap()[&stranger.log()].all().len(), 1);
    let kept = store.entry(entries[0].id).await.unwrap().unwrap();
    assert_eq!((kept.arrival, &kept.bytes), (Arrival(1), &entries[0].bytes));
    assert_eq!(hubstore::Visits::visit_count(store).await.unwrap(), 1);
}

pub(crate) async fn a_log_and_a_carrier_have_limits(store: &AnyStore) {
    let mut stranger = Writer::number(5);
    let entries: Vec<NewEntry> = (0..4).map(|at| stranger.say(90, &at.to_string())).collect();
    let parking = ParkingLimits { entries_of_log: 3, ..ParkingLimits::default() };
    let done = store.ingest(Batch { parking, ..from_stranger(&stranger, &entries) }).await.unwrap();
    let refused = Outcome::Refused(Refusal::LogParked);
    assert_eq!(done.outcomes, [Outcome::Parked, Outcome::Parked, Outcome::Parked, refused]);

    let mut other = Writer::number(6);
    let more = [other.say(90, "a"), other.say(90, "b")];
    let carried: u64 = entries[..3].iter().map(|entry| entry.bytes.len() as u64).sum();
    let parking =
        ParkingLimits { bytes_of_carrier: carried + more[0].bytes.len() as u64, ..ParkingLimits::default() };
    let full = Batch { parking, ..from_stranger(&other, &more) };
    let done = store.ingest(full.clone()).await.unwrap();
    assert_eq!(done.outcomes, [Outcome::Parked, Outcome::Refused(Refusal::CarrierFull)]);
    // Another carrier brings it.
    let done = store.ingest(Batch { carrier: [4; 32], ..full }).await.unwrap();
    assert_eq!(done.outcomes, [Outcome::Parked; 2]);
    // What a known log says has no limit.
    let parking = ParkingLimits { entries_of_log: 0, bytes_of_carrier: 0, bytes_in_all: 0 };
    let done = store.ingest(Batch { parking, ..batch(&[&stranger], &entries) }).await.unwrap();
    assert_eq!(done.adopted.len(), 3);
    assert_eq!(done.outcomes[3], Outcome::New(Arrival(4)));
}

pub(crate) async fn all_carriers_together_have_a_limit(store: &AnyStore) {
    let mut strangers: Vec<Writer> = (5..9).map(Writer::number).collect();
    let entries: Vec<NewEntry> = strangers.iter_mut().map(|stranger| stranger.say(90, "a")).collect();
    // Two entries fit, each with what it takes beside its bytes.
    let two: u64 = entries[..2].iter().map(|entry| entry.bytes.len() as u64 + PARKED_BESIDE).sum();
    let parking = ParkingLimits { bytes_in_all: two, ..ParkingLimits::default() };
    let full = Outcome::Refused(Refusal::ParkingFull);
    for (at, outcome) in [Outcome::Parked, Outcome::Parked, full, full].into_iter().enumerate() {
        let carrier = [u8::try_from(at).unwrap(); 32];
        let alone = from_stranger(&strangers[at], &entries[at..=at]);
        let done = store.ingest(Batch { parking, carrier, ..alone }).await.unwrap();
        assert_eq!(done.outcomes, [outcome], "carrier {at}");
    }
    // What is there already takes no room, and of what was refused not even the key is kept.
    let again = from_stranger(&strangers[0], &entries[..1]);
    assert_eq!(store.ingest(Batch { parking, ..again }).await.unwrap().outcomes, [Outcome::Parked]);
    assert!(store.log(strangers[1].log()).await.unwrap().is_some());
    assert_eq!(store.log(strangers[2].log()).await.unwrap(), None);
    // One of them is enrolled: its entry leaves, and there is room again.
    let none: &[NewEntry] = &[];
    store.ingest(batch(&[&strangers[0]], none)).await.unwrap();
    let waits = from_stranger(&strangers[2], &entries[2..3]);
    assert_eq!(store.ingest(Batch { parking, ..waits }).await.unwrap().outcomes, [Outcome::Parked]);
}

pub(crate) async fn a_revoked_log_is_kept_and_marked(store: &AnyStore) {
    let mut asha = Writer::number(1);
    let log = asha.log();
    assert_eq!(store.set_standing(log, Standing::Known).await, Err(Error::UnknownLog { log }));
    let first = asha.visit("LT-201", "Sedge Hill");
    store.ingest(batch(&[&asha], std::slice::from_ref(&first))).await.unwrap();
    let revoked = Standing::Revoked(Some((first.id.seq, first.id.payload)));
    store.set_standing(log, revoked).await.unwrap();
    assert_eq!(store.log(log).await.unwrap().unwrap().standing, revoked);
    // Being vouched for again by an old certificate does not undo a revocation.
    let after = asha.say(90, "after");
    let done = store.ingest(batch(&[&asha], &[after])).await;
    assert_eq!(done.unwrap().outcomes, [Outcome::New(Arrival(2))]);
    assert_eq!(store.log(log).await.unwrap().unwrap().standing, revoked);
    store.set_standing(log, Standing::Revoked(None)).await.unwrap();
    assert_eq!(store.logs(None, 9).await.unwrap()[0].standing, Standing::Revoked(None));
    assert_eq!(store.logs(Some(log), 9).await.unwrap(), []);
    let row = store.log(log).await.unwrap().unwrap();
    assert_eq!(store.logs_named(&[LogId([0; 32]), log]).await.unwrap(), [(log, row)].into());
    assert!(store.logs_named(&[]).await.unwrap().is_empty());
    assert!(store.set_standing(log, Standing::Parked).await.is_err());
}
