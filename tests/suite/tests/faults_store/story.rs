//! The story: what a phone does in a day, as a list of deeds.

use std::sync::LazyLock;

use bodies::RegisterRow;
use exchange::page::{Page, SignedPage, Upsert};
use exchange::session::{Ledger, Taken};
use record::{Sealed, Signer};
use store::{
    Claimed, Draft, Error, Hub, Identity, InstrumentRow, Listed, LogId, NewEntry, RegisterName, SignedVisit,
    Store, TagKey,
};

use crate::people::{EPOCH, SIGNED, arrived, kept};

/// The log that the story writes.
pub(crate) static LOG: LazyLock<LogId> = LazyLock::new(|| SIGNED.own.log());

/// One call to the store.
#[derive(Debug, Clone)]
pub(crate) enum Deed {
    Save(Draft),
    Discard(String),
    Sign(String, Box<(NewEntry, SignedVisit)>),
    Set(String, String),
    Load(RegisterName, Vec<InstrumentRow>),
    /// Begins to write the log.
    Identify,
    /// Belongs to the hub from now on.
    Join,
    /// Somebody brings entries of the other phone.
    Bring(Vec<NewEntry>),
    /// Appends an entry to the own log.
    Append(NewEntry),
    /// An answer of the hub is taken.
    Take(Box<Taken>),
    Checkpoint,
    Suspend,
}

impl Deed {
    /// Does it.
    pub(crate) fn on(&self, store: &Store) -> Result<(), Error> {
        match self {
            Deed::Save(draft) => store.save_draft(draft),
            Deed::Discard(id) => store.discard(id),
            Deed::Sign(id, signed) => store.sign(id, &signed.0, &signed.1).map(drop),
            Deed::Set(name, value) => store.set(&[(name, value)]),
            Deed::Identify => {
                store.keep_keys(&[SIGNED.own.key.public().clone()])?;
                store.add_identity(&Identity { log: *LOG, sealed_key: vec![7; 48] })
            }
            Deed::Join => store.join(&hub()),
            Deed::Bring(entries) => store.take_in("a colleague", entries).map(drop),
            Deed::Append(entry) => store.append(entry).map(drop),
            Deed::Take(taken) => Ledger::take(store, taken).map(drop),
            Deed::Load(name, rows) => store.load_register(name, rows.iter().cloned()).map(drop),
            Deed::Checkpoint => store.checkpoint(),
            Deed::Suspend => store.suspend(),
        }
    }
}

/// Returns the story: drafts that grow, visits signed, a register replaced, suspends and checkpoints between.
pub(crate) fn day() -> Vec<Deed> {
    let mut deeds =
        vec![Deed::Identify, Deed::Set("technician".into(), "A. Marsh".into()), register(1, 12), Deed::Join];
    for visit in 1..=4u8 {
        for input in 0..4 {
            deeds.push(Deed::Save(draft(visit, input)));
        }
        deeds.push(sign(visit));
        match visit {
            1 => deeds.push(Deed::Checkpoint),
            2 => deeds.extend([bring(&[2, 0]), Deed::Suspend]),
            3 => deeds.extend([register(2, 9), Deed::Set("theme".into(), "sun".into())]),
            _ => {}
        }
    }
    deeds.extend([
        take(&[&SIGNED.certificates[..], &SIGNED.receipts[..1]].concat(), 3, &[]),
        bring(&[1, 3]),
        Deed::Append(kept(&SIGNED.observation)),
        take(&SIGNED.receipts[1..], 5, &[page(0, 2, "MW-1"), page(2, 3, "MW-2")]),
        Deed::Save(draft(8, 0)),
        Deed::Save(draft(9, 0)),
        Deed::Discard("visit-8".into()),
        Deed::Checkpoint,
        Deed::Save(draft(9, 1)),
        Deed::Suspend,
        Deed::Save(draft(9, 2)),
    ]);
    deeds
}

/// A draft after so many inputs: some fit a page, some need several.
pub(crate) fn draft(visit: u8, inputs: usize) -> Draft {
    Draft {
        id: format!("visit-{visit}"),
        tag: format!("LT-20{visit}"),
        body: format!("{{\"inputs\":{inputs},\"dips\":\"{}\"}}", "22 ft 7.5 in; ".repeat(60 + 150 * inputs)),
        saved_at: Claimed(1_772_000_000_000 - inputs as i64),
    }
}

/// The entry of a visit.
pub(crate) fn entry(visit: u8) -> NewEntry {
    kept(&SIGNED.own_entries[usize::from(visit) - 1])
}

/// The hub that the phone belongs to.
pub(crate) fn hub() -> Hub {
    Hub {
        organisation: SIGNED.organisation.log(),
        addresses: vec!["https://hub.marrowby.example".into(), "https://10.0.0.5".into()],
        pins: vec![[9; 32], [8; 32]],
    }
}

fn bring(numbers: &[usize]) -> Deed {
    Deed::Bring(numbers.iter().map(|number| kept(&SIGNED.other_entries[*number])).collect())
}

pub(crate) fn take(entries: &[Sealed], news: u64, pages: &[Page]) -> Deed {
    let keys = [&SIGNED.organisation, &SIGNED.hub].map(|writer| writer.key.public().clone()).to_vec();
    let hub = SIGNED.hub.log().of_record();
    Deed::Take(Box::new(Taken {
        epoch: EPOCH,
        keys,
        entries: entries.iter().map(arrived).collect(),
        pages: pages.iter().map(|page| SignedPage { hub, page: page.clone() }).collect(),
        news: Some(news),
        given_back: false,
    }))
}

/// A page of the feed: two instruments; the later one changes the first and takes the second out.
fn page(from: u64, to: u64, serial: &str) -> Page {
    let row = |place: usize, serial: &str| {
        let mut row = kit::instrument(["LT-2041", "LT-3107"][place]).unwrap();
        row.serial = serial.into();
        let upsert = RegisterRow(row.clone()).encode().unwrap();
        Upsert { tag: row.tag, row: upsert.into() }
    };
    let mut upserts = vec![row(0, serial)];
    upserts.extend((from == 0).then(|| row(1, serial)));
    let removals = if from == 0 { Vec::new() } else { vec!["LT-3107".to_owned()] };
    Page {
        epoch: EPOCH,
        area: "north".into(),
        from,
        to,
        snapshot: from == 0,
        upserts,
        removals,
        sensors: None,
        people: None,
    }
}

fn sign(visit: u8) -> Deed {
    let line = SignedVisit {
        place: entry(visit).place,
        tag_key: TagKey(format!("lt20{visit}")),
        tag: format!("LT-20{visit}"),
        service: "Clear water tank level".into(),
        site: "Tarn Lane".into(),
        signed_at: Claimed(1_772_000_000_000),
        verdict: "As left within tolerance".into(),
    };
    Deed::Sign(format!("visit-{visit}"), Box::new((entry(visit), line)))
}

fn register(edition: u32, instruments: u32) -> Deed {
    let row = |number: u32| InstrumentRow {
        listed: Listed {
            key: TagKey(format!("lt{number:03}")),
            tag: format!("LT-{number:03}"),
            service: format!("Level {number}"),
            site: "Sedge Hill".into(),
            serial: format!("{edition}-{number}"),
        },
        codes: vec![format!("https://example.invalid/{edition}/{number}"), "twin".into()],
        body: format!("{{\"edition\":{edition},\"note\":\"{}\"}}", "x".repeat(40 * number as usize)),
    };
    let name = RegisterName { name: "Marrowby District Water".into(), dated: format!("2026-0{edition}-01") };
    Deed::Load(name, (1..=instruments).map(row).collect())
}
