//! Who signs and who is behind a number: before a phone is enrolled, from then on, and once the hub erased a name.

use bodies::{PersonId, Visit};
use kit::Office;
use record::read_export;

use crate::desk::Desk;
use crate::records::sign;

/// The person of the certificate that the office gives, and the supervisor.
const OWNER: PersonId = PersonId([7; 16]);

/// Signs a visit and returns who signed it, by number and as its page shows it.
fn signed(desk: &Desk) -> (PersonId, String) {
    let record = sign(desk, &kit::dip());
    let file = std::fs::read(desk.phone.record_export(&record.id).unwrap()).unwrap();
    let visit = Visit::of_entry(read_export(&file).unwrap().entries.last().unwrap()).unwrap();
    (visit.technician.person, record.technician)
}

#[test]
fn from_the_enrolment_on_the_phones_owner_signs_with_the_number_of_its_certificate() {
    let (desk, office) = (Desk::ready(), Office::new().unwrap());
    let (drawn, name) = signed(&desk);
    assert_eq!(name, "Asha Renn");
    assert_ne!(drawn, OWNER);
    office.enrols(&desk.phone).unwrap();
    let desk = desk.restarted();
    assert_eq!(signed(&desk), (OWNER, "Asha Renn".to_owned()));
    // Somebody else who borrows it has another number; a person whom the hub knows has the hub's.
    desk.phone.set_technician("Ben Okoro").unwrap();
    let (ben, _) = signed(&desk);
    assert!(ben != OWNER && ben != drawn);
    office.names(&desk.phone, 1, &[(7, "Asha Renn"), (9, "Cy Marsh")]).unwrap();
    desk.phone.set_technician("Cy Marsh").unwrap();
    assert_eq!(signed(&desk).0, PersonId([9; 16]));
    desk.phone.set_technician("Asha Renn").unwrap();
    assert_eq!(signed(&desk).0, OWNER);
}

#[test]
fn a_name_is_typed_after_the_enrolment_too() {
    let (desk, office) = (Desk::new(), Office::new().unwrap());
    desk.phone.register_load(&desk.upload(kit::register())).unwrap();
    office.enrols(&desk.phone).unwrap();
    desk.phone.set_technician("Asha Renn").unwrap();
    assert_eq!(signed(&desk).0, OWNER);
}

#[test]
fn the_hub_names_people_and_a_name_that_it_erased_is_gone_from_the_phone() {
    let (desk, office) = (Desk::ready(), Office::new().unwrap());
    let before = sign(&desk, &kit::known_empty());
    office.enrols(&desk.phone).unwrap();
    let record = sign(&desk, &kit::dip());
    office.names(&desk.phone, 1, &[(7, "A. Renn-Moor"), (0x55, "Tom Achterberg")]).unwrap();
    assert_eq!(desk.phone.record(&record.id).unwrap().technician, "A. Renn-Moor");
    office.returns(&desk.phone, 2, "Dip once more.").unwrap();
    let text = desk.phone.record(&record.id).unwrap().decision.unwrap().text;
    assert!(text.starts_with("Returned by Tom Achterberg, "), "{text}");
    office.names(&desk.phone, 2, &[(0x55, "Tom Achterberg")]).unwrap();
    let desk = desk.restarted();
    for id in [&record.id, &before.id] {
        let shown = desk.phone.record(id).unwrap().technician;
        assert!(shown.contains("no name here"), "{shown}");
    }
    assert_eq!(desk.phone.home().unwrap().technician, "", "whoever works with it now is asked");
    // The next who works with it is not taken for whoever was erased.
    desk.phone.set_technician("Ben Okoro").unwrap();
    assert_ne!(signed(&desk).0, OWNER);
}
