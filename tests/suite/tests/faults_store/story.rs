//! The story: what a phone does in a day, as a list of deeds.

use store::{
    Claimed, Draft, Error, InstrumentRow, Kind, Listed, LogId, NewEntry, PayloadHash, Place, RegisterName,
    Seq, SignedVisit, Store, TagKey,
};

/// The log that the story writes.
pub(crate) const LOG: LogId = LogId([0x5e; 32]);

/// One call to the store.
#[derive(Debug, Clone)]
pub(crate) enum Deed {
    Save(Draft),
    Discard(String),
    Sign(String, Box<(NewEntry, SignedVisit)>),
    Set(String, String),
    Load(RegisterName, Vec<InstrumentRow>),
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
            Deed::Load(name, rows) => store.load_register(name, rows.iter().cloned()).map(drop),
            Deed::Checkpoint => store.checkpoint(),
            Deed::Suspend => store.suspend(),
        }
    }
}

/// Returns the story: drafts that grow, visits signed, a register replaced, suspends and checkpoints between.
pub(crate) fn day() -> Vec<Deed> {
    let mut deeds = vec![Deed::Set("technician".into(), "A. Marsh".into()), register(1, 12)];
    for visit in 1..=4u8 {
        for input in 0..4 {
            deeds.push(Deed::Save(draft(visit, input)));
        }
        deeds.push(sign(visit));
        match visit {
            1 => deeds.push(Deed::Checkpoint),
            2 => deeds.push(Deed::Suspend),
            3 => deeds.extend([register(2, 9), Deed::Set("theme".into(), "sun".into())]),
            _ => {}
        }
    }
    deeds.extend([
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

/// The entry of a visit; its hash stands for a real one, which the store takes as given.
pub(crate) fn entry(visit: u8) -> NewEntry {
    NewEntry {
        place: Place { log: LOG, seq: Seq(visit.into()) },
        hash: PayloadHash([visit; 32]),
        previous: (visit > 1).then(|| PayloadHash([visit - 1; 32])),
        kind: Kind(1),
        bytes: (0..1_500u32).map(|at| (at.wrapping_mul(31) ^ u32::from(visit)) as u8).collect(),
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
