//! Entries, in and out.

use exchange::run::Wanted;
use hubstore::{AnyStore, Arrival, Error, Filter, Fork, Ledger, Limit, Outcome, Reading};
use record::{EntryId, Kind, Link, Seq};

use crate::writer::{Writer, batch};

fn seq(number: u64) -> Seq {
    Seq::new(number).unwrap()
}

pub(crate) async fn what_comes_twice_is_in_once(store: &AnyStore) {
    let mut asha = Writer::number(1);
    let entries = [asha.say(90, "one"), asha.say(90, "two")];
    let first = store.ingest(batch(&[&asha], &entries)).await.unwrap();
    assert_eq!(first.outcomes, [Outcome::New(Arrival(1)), Outcome::New(Arrival(2))]);
    let again = [entries[1].clone(), entries[0].clone(), entries[0].clone()];
    let second = store.ingest(batch(&[&asha], &again)).await.unwrap();
    assert_eq!(second.outcomes, [Outcome::Already; 3]);
    let third = asha.say(90, "three");
    let twice = store.ingest(batch(&[], &[third.clone(), third])).await.unwrap();
    assert_eq!(twice.outcomes, [Outcome::New(Arrival(3)), Outcome::Already]);
    assert_eq!(store.newest().await.unwrap(), Arrival(3));
    let all = store.since(Arrival(0), &Filter::default(), Limit::default()).await.unwrap();
    assert_eq!(all.entries.len(), 3);
}

pub(crate) async fn entries_keep_their_bytes(store: &AnyStore) {
    let mut asha = Writer::number(1);
    let entry = asha.say(4_000_000_000, "of a kind nobody knows");
    store.ingest(batch(&[&asha], std::slice::from_ref(&entry))).await.unwrap();
    let kept = store.entry(entry.id).await.unwrap().unwrap();
    assert_eq!((kept.bytes, kept.kind, kept.previous), (entry.bytes, Kind(4_000_000_000), None));
    let other = EntryId { seq: seq(2), ..entry.id };
    assert_eq!(store.entry(other).await.unwrap(), None);
    assert_eq!(store.holds(&[other, entry.id]).await.unwrap(), [false, true]);
    assert_eq!(store.holds(&[]).await.unwrap(), [false; 0]);
    assert_eq!(store.tip(entry.id.log).await.unwrap(), Some((seq(1), entry.id.payload)));
}

pub(crate) async fn a_batch_of_nothing_is_nothing(store: &AnyStore) {
    let done = store.ingest(batch(&[], &[])).await.unwrap();
    assert!(done.outcomes.is_empty() && done.adopted.is_empty());
    assert_eq!(store.newest().await.unwrap(), Arrival(0));
    assert_eq!(store.append(vec![]).await.unwrap(), Arrival(0));
}

/// One log that forks behind place 2: 1 - 2 - 3a - 4a and 3b - 4b.
fn forked() -> (Writer, Vec<hubstore::NewEntry>) {
    let mut asha = Writer::number(1);
    let mut entries = vec![asha.say(90, "1"), asha.say(90, "2")];
    let back = asha.link;
    entries.extend([asha.say(90, "3a"), asha.say(90, "4a")]);
    asha.link = back;
    entries.extend([asha.say(90, "3b"), asha.say(90, "4b")]);
    (asha, entries)
}

pub(crate) async fn forks_are_kept_and_listed(store: &AnyStore) {
    let (asha, entries) = forked();
    let (trunk, rest) = entries.split_at(4);
    store.ingest(batch(&[&asha], trunk)).await.unwrap();
    assert_eq!(store.forks().await.unwrap(), []);
    let done = store.ingest(batch(&[], rest)).await.unwrap();
    assert_eq!(done.outcomes, [Outcome::Fork(Arrival(5)), Outcome::Fork(Arrival(6))]);
    let place = |at: u64, one: usize, other: usize| {
        let mut payloads = vec![entries[one].id.payload, entries[other].id.payload];
        payloads.sort();
        Fork { log: asha.log(), seq: seq(at), payloads }
    };
    assert_eq!(store.forks().await.unwrap(), [place(3, 2, 4), place(4, 3, 5)]);
    let runs = store.runs(&[asha.log()]).await.unwrap().remove(&asha.log()).unwrap();
    assert!(runs.has_fork() && runs.gaps(asha.log()).is_empty());
    assert!(entries.iter().all(|entry| runs.all().iter().any(|run| run.to >= entry.id.seq)));
    let again = store.ingest(batch(&[], &entries)).await.unwrap();
    assert_eq!(again.outcomes, [Outcome::Already; 6]);
}

pub(crate) async fn a_branch_is_walked_past_a_fork(store: &AnyStore) {
    let (asha, entries) = forked();
    store.ingest(batch(&[&asha], &entries)).await.unwrap();
    let branch = async |from: u64, to: u64, end: usize| {
        let wanted = Wanted { log: asha.log(), from: seq(from), to: seq(to), end: entries[end].id.payload };
        store.branch(wanted).await.map(|found| found.iter().map(|entry| entry.id).collect::<Vec<_>>())
    };
    let ids = |places: &[usize]| places.iter().map(|at| entries[*at].id).collect::<Vec<_>>();
    assert_eq!(branch(1, 4, 3).await.unwrap(), ids(&[0, 1, 2, 3]));
    assert_eq!(branch(2, 4, 5).await.unwrap(), ids(&[1, 4, 5]));
    assert_eq!(branch(4, 4, 5).await.unwrap(), ids(&[5]));
    // A payload that stands elsewhere is not at this place.
    assert!(matches!(branch(1, 3, 5).await, Err(Error::Missing { .. })));
}

pub(crate) async fn how_entries_hang_together_is_told_without_their_bytes(store: &AnyStore) {
    let (asha, entries) = forked();
    let mut ben = Writer::number(2);
    store.ingest(batch(&[&asha, &ben], &entries)).await.unwrap();
    store.ingest(batch(&[], &[ben.say(90, "of another log")])).await.unwrap();
    let log = asha.log();
    let links = store.links(log, seq(2), seq(3)).await.unwrap();
    let mut expected: Vec<_> =
        [1, 2, 4].map(|at| (entries[at].id.seq, entries[at].id.payload, entries[at].previous)).into();
    expected.sort();
    assert_eq!(links.iter().map(|link| (link.seq, link.hash, link.previous)).collect::<Vec<_>>(), expected);
    assert_eq!(store.links(log, seq(5), seq(9)).await.unwrap(), []);
    assert_eq!(store.links(log, seq(1), seq(1)).await.unwrap()[0].previous, None);
    assert!(store.links(log, seq(1), seq(10_001)).await.is_err(), "that is too much at once");
    let forked = async |upto: u64| {
        let places = store.forked(log, seq(upto)).await.unwrap();
        places.into_iter().map(Seq::get).collect::<Vec<_>>()
    };
    assert_eq!((forked(2).await, forked(3).await, forked(9).await), (vec![], vec![3], vec![3, 4]));
    assert!(store.forked(ben.log(), seq(9)).await.unwrap().is_empty());
}

pub(crate) async fn a_gap_is_told_by_runs_and_closes(store: &AnyStore) {
    let mut asha = Writer::number(1);
    let entries: Vec<_> = (1..=5).map(|at| asha.say(90, &at.to_string())).collect();
    let some = [entries[4].clone(), entries[0].clone(), entries[3].clone()];
    store.ingest(batch(&[&asha], &some)).await.unwrap();
    let log = asha.log();
    let runs = store.runs(&[log, Writer::number(2).log()]).await.unwrap();
    assert_eq!(runs.len(), 1, "of a log without entries nothing is told");
    let gap = Wanted { log, from: seq(2), to: seq(3), end: entries[2].id.payload };
    assert_eq!(runs[&log].gaps(log), [gap]);
    assert!(matches!(store.branch(gap).await, Err(Error::Missing { .. })));
    store.ingest(batch(&[], &[entries[2].clone(), entries[1].clone()])).await.unwrap();
    let runs = store.runs(&[log]).await.unwrap().remove(&log).unwrap();
    assert_eq!(runs.all().len(), 1);
    assert_eq!((runs.all()[0].from, runs.all()[0].to), (seq(1), seq(5)));
}

pub(crate) async fn two_who_append_do_not_fork(store: &AnyStore) {
    let mut hub = Writer::number(7);
    store.ingest(batch(&[&hub], &[])).await.unwrap();
    let first = hub.say(90, "first");
    assert_eq!(store.append(vec![first.clone()]).await.unwrap(), Arrival(1));
    let back = hub.link;
    let (mine, then) = (hub.say(90, "mine"), hub.say(90, "then"));
    hub.link = back;
    let theirs = hub.say(90, "theirs");
    assert_eq!(store.append(vec![mine, then]).await.unwrap(), Arrival(3));
    let late = store.append(vec![theirs.clone()]).await;
    assert!(
        matches!(&late, Err(error @ Error::OutOfStep { entry }) if *entry == theirs.id && error.is_retryable())
    );
    assert_eq!(store.newest().await.unwrap(), Arrival(3));
    let (seq, payload) = store.tip(hub.log()).await.unwrap().unwrap();
    hub.link = Link::After { seq, payload };
    assert_eq!(store.append(vec![hub.say(90, "theirs")]).await.unwrap(), Arrival(4));
    assert_eq!(store.forks().await.unwrap(), []);
}

pub(crate) async fn an_unknown_log_cannot_be_appended_to(store: &AnyStore) {
    let mut stranger = Writer::number(9);
    let log = stranger.log();
    assert_eq!(store.append(vec![stranger.say(90, "hello")]).await, Err(Error::UnknownLog { log }));
}

pub(crate) async fn the_latest_come_newest_first_by_kind_and_log_and_limit(store: &AnyStore) {
    let (mut asha, mut ben) = (Writer::number(1), Writer::number(2));
    let entries =
        [asha.say(90, "a"), ben.say(91, "b"), asha.say(91, "c"), ben.say(90, "d"), asha.say(92, "e")];
    store.ingest(batch(&[&asha, &ben], &entries)).await.unwrap();
    let asked = async |before: Option<u64>, kinds: &[u32], logs: &[&Writer], entries: u32, bytes: u64| {
        let filter = Filter {
            kinds: kinds.iter().copied().map(Kind).collect(),
            logs: logs.iter().map(|writer| writer.log()).collect(),
        };
        let page = store.latest(before.map(Arrival), &filter, Limit { entries, bytes }).await.unwrap();
        page.iter().map(|entry| entry.arrival.0).collect::<Vec<u64>>()
    };
    let most = u64::MAX;
    assert_eq!(asked(None, &[], &[], 9, most).await, [5, 4, 3, 2, 1]);
    assert_eq!(asked(None, &[], &[], 2, most).await, [5, 4]);
    assert_eq!(asked(Some(4), &[], &[], 2, most).await, [3, 2]);
    assert_eq!(asked(Some(1), &[], &[], 2, most).await, [0; 0]);
    assert_eq!(asked(Some(99), &[91, 92], &[], 9, most).await, [5, 3, 2]);
    assert_eq!(asked(Some(5), &[91, 92], &[], 1, most).await, [3]);
    assert_eq!(asked(None, &[90, 91], &[&asha], 9, most).await, [3, 1]);
    assert_eq!(asked(None, &[90, 91], &[&asha, &ben], 3, most).await, [4, 3, 2]);
    assert_eq!(asked(None, &[7], &[], 9, most).await, [0; 0]);
    // One is always given, however small the measure.
    assert_eq!(asked(None, &[], &[], 9, 1).await, [5]);
    let read = store.latest(None, &Filter::default(), Limit { entries: 1, bytes: most }).await.unwrap();
    assert_eq!((&read[0].bytes, read[0].id), (&entries[4].bytes, entries[4].id));
}

pub(crate) async fn since_goes_by_kind_and_log_and_limit(store: &AnyStore) {
    let (mut asha, mut ben) = (Writer::number(1), Writer::number(2));
    let entries =
        [asha.say(90, "a"), ben.say(91, "b"), asha.say(91, "c"), ben.say(90, "d"), asha.say(92, "e")];
    store.ingest(batch(&[&asha, &ben], &entries)).await.unwrap();
    let asked = async |after: u64, kinds: &[u32], logs: &[&Writer], entries: u32, bytes: u64| {
        let filter = Filter {
            kinds: kinds.iter().copied().map(Kind).collect(),
            logs: logs.iter().map(|writer| writer.log()).collect(),
        };
        let news = store.since(Arrival(after), &filter, Limit { entries, bytes }).await.unwrap();
        let arrivals: Vec<u64> = news.entries.iter().map(|entry| entry.arrival.0).collect();
        (arrivals, news.upto.0, news.more)
    };
    let most = u64::MAX;
    assert_eq!(asked(0, &[], &[], 9, most).await, (vec![1, 2, 3, 4, 5], 5, false));
    assert_eq!(asked(3, &[], &[], 9, most).await, (vec![4, 5], 5, false));
    assert_eq!(asked(0, &[], &[], 2, most).await, (vec![1, 2], 2, true));
    assert_eq!(asked(0, &[], &[], 5, most).await, (vec![1, 2, 3, 4, 5], 5, false));
    assert_eq!(asked(0, &[91, 92], &[], 9, most).await, (vec![2, 3, 5], 5, false));
    assert_eq!(asked(0, &[91, 92], &[], 1, most).await, (vec![2], 2, true));
    assert_eq!(asked(0, &[90, 91], &[&asha], 9, most).await, (vec![1, 3], 5, false));
    assert_eq!(asked(0, &[], &[&ben], 9, most).await, (vec![2, 4], 5, false));
    assert_eq!(asked(5, &[], &[], 9, most).await, (vec![], 5, false));
    assert_eq!(asked(7, &[], &[], 9, most).await, (vec![], 7, false), "a cursor never goes back");
    // One is always given, however small the measure.
    assert_eq!(asked(0, &[], &[], 9, 1).await, (vec![1], 1, true));
}

pub(crate) async fn all_is_read_a_page_at_a_time(store: &AnyStore) {
    let mut asha = Writer::number(1);
    let page = usize::try_from(Limit::default().entries).unwrap();
    let entries: Vec<_> = (0..=2 * page).map(|number| asha.say(90 + number as u32 % 2, "one")).collect();
    store.ingest(batch(&[&asha], &entries)).await.unwrap();
    let read = async |mut reading: Reading| {
        let (mut pages, mut ids) = (Vec::new(), Vec::new());
        while let Some(entries) = reading.next(store).await.unwrap() {
            pages.push(entries.len());
            ids.extend(entries.iter().map(|entry| entry.id));
        }
        assert_eq!(reading.next(store).await.unwrap(), None, "over");
        assert_eq!(reading.upto(), Arrival(2 * page as u64 + 1));
        (pages, ids)
    };
    let all: Vec<EntryId> = entries.iter().map(|entry| entry.id).collect();
    let (pages, ids) = read(Reading::all(Filter::default())).await;
    assert_eq!((pages, &ids), (vec![page, page, 1], &all));
    let some = Filter { kinds: vec![Kind(91)], logs: Vec::new() };
    let (pages, ids) = read(Reading::all(some)).await;
    assert_eq!((pages, &ids[..2]), (vec![page], &[all[1], all[3]][..]));
    let (pages, ids) = read(Reading::after(Arrival(2 * page as u64), Filter::default())).await;
    assert_eq!((pages, &ids[..]), (vec![1], &all[2 * page..]));
}
