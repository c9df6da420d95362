//! What a hub does in a day, a deed after the other. Each is one call that says when it is committed.

use bodies::{Epoch, Grade, HubRole, PersonId, PhotoHash};
use hubstore::{
    Arrival, Batch, Changed, Device, Error, Follows, Found, HubPerson, HubStore, Identity, Row, Rows,
    Standing,
};

use crate::writer::{Writer, batch};

/// The photo that is cited.
pub(crate) const PHOTO: PhotoHash = PhotoHash([6; 32]);
const LENGTH: u64 = 400_000;

/// One call.
#[derive(Debug, Clone)]
pub(crate) enum Deed {
    Epoch(Identity, Vec<u8>),
    Ingest(Batch),
    Say(Vec<hubstore::NewEntry>, Follows),
    Piece(u32),
    Whole,
    Rows(Rows),
    Person(HubPerson),
    Device(Device),
    Finish(Arrival),
}

impl Deed {
    /// Does it.
    pub(crate) async fn on(&self, store: &impl HubStore) -> Result<(), Error> {
        match self {
            Deed::Epoch(identity, note) => store.begin_epoch(identity, &[("note", &note[..])]).await,
            Deed::Ingest(batch) => store.ingest(batch.clone()).await.map(drop),
            Deed::Say(entries, follows) => {
                store.append_with(entries.clone(), follows.clone()).await.map(drop)
            }
            Deed::Piece(piece) => store.piece_came(PHOTO, LENGTH, *piece).await,
            Deed::Whole => store.came_whole(PHOTO, LENGTH).await,
            Deed::Rows(rows) => store.put_rows(rows.clone()).await.map(drop),
            Deed::Person(person) => store.put_person(person).await,
            Deed::Device(device) => store.put_device(device).await,
            Deed::Finish(visit) => store.finish(&[(*visit, Found::Differs("by much".into()))]).await,
        }
    }
}

fn row(tag: &str, area: &str, byte: u8) -> Row {
    Row { tag: tag.into(), area: area.into(), bytes: vec![byte; 300] }
}

/// A setting that changes with what is said.
fn table(was: Option<&[u8]>, is: &[u8]) -> Follows {
    let changed = Changed { was: was.map(<[u8]>::to_vec), is: Some(is.to_vec()) };
    Follows { settings: vec![("table".into(), changed)], ..Follows::default() }
}

/// A day with something of everything that stands together in one step.
pub(crate) fn day() -> Vec<Deed> {
    let (mut hub, mut asha, mut stranger) = (Writer::number(7), Writer::number(1), Writer::number(5));
    let identity = Identity { epoch: Epoch([1; 16]), log: hub.log(), organisation: vec![3; 42] };
    let mut first = vec![asha.visit("LT-201", "Sedge Hill"), asha.photo(PHOTO, LENGTH)];
    let parted = asha.link;
    first.push(asha.say(90, "one branch"));
    let came = Deed::Ingest(batch(&[&hub, &asha], &first));
    let said = vec![hub.review(first[0].id), hub.receipt(asha.log(), Grade::Stored)];
    let waits = Batch {
        keys: vec![stranger.known()],
        carrier: [3; 32],
        entries: vec![stranger.visit("LT-202", "Cold Ash"), stranger.say(90, "waits")],
        ..Batch::default()
    };
    let heard = stranger.say(90, "heard");
    asha.link = parted;
    let mut many = vec![asha.say(90, "another branch")];
    let long = [&[0x59, 0x07, 0xd0][..], &[7; 2_000]].concat();
    many.extend((0..30).map(|_| asha.write(record::Kind(90), 1, &long)));
    let last = many[0].id;
    let revoked = vec![(asha.log(), Standing::Revoked(Some((last.seq, last.payload))))];
    let okoro =
        HubPerson { id: PersonId([1; 16]), name: "N. Okoro".into(), secret: "x".into(), role: HubRole::Read };
    let phone = Device { log: asha.log(), label: "M-07".into(), person: None, areas: vec!["north".into()] };
    vec![
        Deed::Epoch(identity, b"restored".to_vec()),
        came.clone(),
        Deed::Piece(0),
        Deed::Say(said, Follows::default()),
        Deed::Ingest(waits),
        Deed::Rows(Rows::Some(vec![row("LT-201", "north", 1), row("LT-202", "north", 2)])),
        Deed::Whole,
        Deed::Person(okoro),
        Deed::Device(phone),
        Deed::Say(vec![hub.say(90, "a table came")], table(None, b"one")),
        Deed::Ingest(batch(&[&asha], &many)),
        // What is here already changes nothing.
        came,
        Deed::Rows(Rows::All(vec![row("LT-201", "south", 1)])),
        Deed::Ingest(batch(&[&stranger], &[heard])),
        Deed::Say(vec![hub.say(90, "revoked")], Follows { standings: revoked, ..Follows::default() }),
        Deed::Say(vec![hub.say(90, "another came")], table(Some(b"one"), b"two")),
        Deed::Finish(Arrival(1)),
    ]
}

/// One more deed, for a hub that has to go on, and the log it is in.
pub(crate) fn afterwards() -> (Deed, record::EntryId) {
    let mut other = Writer::number(9);
    let entry = other.say(90, "life goes on");
    (Deed::Ingest(batch(&[&other], std::slice::from_ref(&entry))), entry.id)
}
