//! What people changed at the hub itself: of no use to a phone, and kept and passed on like all that was signed.

use bodies::{
    CHANGE, Change, ChangeMade, FileHash, HubRole, Import, PersonChange, PersonId, RowsChanged, Table,
};
use kit::Office;

use crate::desk::Desk;
use crate::records::sign;
use crate::sending::{IDLE, made};

/// A change of each kind, about the phone's own person among others.
fn changes() -> Vec<Change> {
    let rows = RowsChanged { added: 5, changed: 1, moved: 0, removed: 2 };
    let import = Import { table: Table::Instruments, file: FileHash([3; 32]), before: 0, after: 8, rows };
    let owner = |change| ChangeMade::Person(PersonId([7; 16]), change);
    let made = [
        ChangeMade::Imported(import),
        owner(PersonChange::Added { role: HubRole::Read, signs_in: true }),
        owner(PersonChange::Renamed),
        owner(PersonChange::Role(HubRole::Supervise)),
        owner(PersonChange::Password),
        owner(PersonChange::NoSignIn),
        owner(PersonChange::Erased),
        ChangeMade::PhoneConfirmed(record::LogId([4; 32])),
        ChangeMade::PhonesLookedThrough,
    ];
    made.into_iter().map(|made| Change { by: Some(PersonId([0x55; 16])), made }).collect()
}

/// What the screens are given, and how the phone would say it.
fn shown(desk: &Desk, record: &str) -> String {
    let phone = &desk.phone;
    format!(
        "{:#?}{:#?}{:#?}{:#?}{:#?}",
        phone.home().unwrap(),
        phone.record(record).unwrap(),
        phone.instrument("LT-2041").unwrap(),
        phone.sending_view(&IDLE, None).unwrap(),
        phone.sending_status(&IDLE).unwrap(),
    )
}

/// The changes that a phone holds.
fn held(desk: &Desk) -> Vec<Change> {
    let kept = desk.phone.ledger().of_kind(store::Kind(u64::from(CHANGE.0))).unwrap();
    kept.iter().map(|kept| Change::of_entry(&record::open(&kept.entry.bytes).unwrap()).unwrap()).collect()
}

#[test]
fn what_was_changed_at_the_hub_is_kept_and_passed_on_and_shows_nowhere() {
    let (desk, office) = (Desk::ready(), Office::new().unwrap());
    office.enrols(&desk.phone).unwrap();
    office.names(&desk.phone, 1, &[(7, "A. Renn-Moor"), (0x55, "Tom Achterberg")]).unwrap();
    let record = sign(&desk, &kit::dip()).id;
    office.approves(&desk.phone, 1).unwrap();
    office.receives(&desk.phone, 1).unwrap();
    let before = shown(&desk, &record);
    assert!(before.contains("A. Renn-Moor") && before.contains("The record is at the hub"), "{before}");
    for change in changes() {
        office.changed(&desk.phone, &change).unwrap();
    }
    assert_eq!(shown(&desk, &record), before);
    assert_eq!(held(&desk), changes());
    let desk = desk.restarted();
    assert_eq!(shown(&desk, &record), before, "nor after the app was started again");

    let other = Desk::ready();
    office.enrols(&other.phone).unwrap();
    let report = other.phone.bundle_take(&other.upload(&made(&desk))).unwrap();
    assert_eq!(report.messages, []);
    assert_eq!(held(&other), changes(), "by a file too");
}
