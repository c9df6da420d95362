//! The screens that send, and that make a phone belong to a hub.

use anyhow::Result;
use bodies::{Grade, PhotoHash};
use domain::visit::Step;
use field::view::{Message, Network};
use field::{Stage, Under};
use kit::Office;
use serde_json::Value;

use crate::scene::Scene;
use crate::screens::{Screens, screen};
use crate::still::Still;

/// Returns the screens by their names.
pub(crate) fn screens() -> Result<Screens> {
    let mut all = sending()?;
    all.extend(freeing()?);
    all.extend(enrolling()?);
    Ok(all)
}

fn sending() -> Result<Screens> {
    let still = two_records()?;
    let office = Office::new()?;
    let phone = still.core.phone();
    let idle = Under::default();
    let nowhere = screen("send", phone.sending_view(&idle, None)?)?;
    office.enrols(phone)?;
    office.receives(phone, 1)?;
    let waits = screen("send", phone.sending_view(&idle, None)?)?;
    let under = Under {
        stage: Stage::Records,
        records: (12, 38),
        bytes_left: Some(312_000),
        network: Network::Metered,
        ..idle
    };
    let under_way = screen("send", phone.sending_view(&under, None)?)?;
    let status = serde_json::to_value(phone.sending_status(&under)?)?;
    let failed = Under { stage: Stage::Waiting, seconds: 64, refused: 1, ..idle };
    let trouble = screen("send", phone.sending_view(&failed, Some(unreachable()))?)?;
    phone.pause_sending(true)?;
    let paused = screen("send", phone.sending_view(&idle, None)?)?;
    phone.pause_sending(false)?;
    office.received_of_a_copy(phone, 2)?;
    let copied = screen("send", phone.sending_view(&idle, None)?)?;
    Ok(Screens::from([
        ("send", waits),
        ("send-no-hub", nowhere),
        ("send-under-way", under_way),
        ("send-trouble", trouble),
        ("send-paused", paused),
        ("send-copied", copied),
        ("status", status),
    ]))
}

/// A phone with three photos, two of which the hub has in its backup.
fn freeing() -> Result<Screens> {
    let still = Still::ready()?;
    let office = Office::new()?;
    let phone = still.core.phone();
    office.enrols(phone)?;
    Scene::of(&kit::known_empty()).signed(&still)?;
    let visit = Scene::of(&kit::dip()).play(&still, Step::Evidence)?;
    for label in ["label-lt-2041.jpg", "label-lt-3107.jpg", "no-code.jpg"] {
        let upload = still.core.upload(&std::fs::read(kit::photo(label))?)?;
        phone.photo_add(&visit.id, &upload)?;
    }
    let photos: Vec<_> = phone.photos_to_send()?.into_iter().map(|(photo, _)| PhotoHash(photo)).collect();
    let (safe, _) = photos.split_at(2);
    office.received(phone, 4, Grade::BackedUp, safe)?;
    let idle = Under::default();
    let before = screen("send", phone.sending_view(&idle, None)?)?;
    phone.photos_free()?;
    let after = screen("send", phone.sending_view(&idle, None)?)?;
    Ok(Screens::from([("send-photos", before), ("send-freed", after)]))
}

fn enrolling() -> Result<Screens> {
    let still = Still::ready()?;
    let office = Office::new()?;
    let phone = still.core.phone();
    let begin = screen("enrol", phone.enrol_view()?)?;
    let invited = phone.enrol_begin(&office.invitation())?;
    let waiting: Value = screen("enrol", phone.enrol_asked(&invited, &office.met())?)?;
    let (keys, entries) = office.confirms(&invited.key)?;
    let enrolled = screen("enrol", phone.enrol_confirmed(&keys, &entries)?)?;
    Ok(Screens::from([("enrol", begin), ("enrol-waiting", waiting), ("enrol-done", enrolled)]))
}

/// A phone on which two visits were signed.
fn two_records() -> Result<Still> {
    let still = Still::ready()?;
    Scene::of(&kit::known_empty()).signed(&still)?;
    Scene::of(&kit::dip()).signed(&still)?;
    Scene::of(&kit::vented()).play(&still, Step::Evidence)?;
    Ok(still)
}

/// What is told where nobody answers: the carrier's own sentence.
fn unreachable() -> Message {
    Message {
        code: "link.unreachable".into(),
        grade: field::view::Grade::Warning,
        text: "The hub cannot be reached. Records stay here and go when there is signal.".into(),
        remedy: String::new(),
        reason: None,
    }
}
