//! After a start: what a damaged file still held is taken over, and photos' files are compared with the database.
//!
//! Neither stops the start. What fails is logged and tried again at the next one; the damaged file stays where it is.

use bodies::Visit;
use store::{Claimed, Salvaged, SignedVisit, Store};

use crate::{show, tag};

/// Takes over what damaged files beside this one hold.
pub(crate) fn take_over(store: &Store) {
    let taken = store.unsalvaged().and_then(|files| {
        for file in files {
            let Salvaged { entries, drafts, instruments, unproved, .. } = store.salvage(&file)?;
            tracing::warn!(entries, drafts, instruments, unproved, "a damaged file's content was taken over");
            list(store)?;
        }
        Ok(())
    });
    if let Err(error) = taken {
        tracing::error!(%error, "a damaged file's content could not be taken over");
    }
}

/// Lists the visits of this phone that were lost with a damaged file and came back from the hub.
pub(crate) fn list_returned(store: &Store) {
    let listed = store.has_unlisted().and_then(|unlisted| if unlisted { list(store) } else { Ok(()) });
    if let Err(error) = listed {
        tracing::error!(%error, "visits that came back could not be listed");
    }
}

/// Puts the files of photos and the database right with each other.
pub(crate) fn tidy(store: &Store) {
    match store.tidy_photos() {
        Ok(tidied) if tidied == store::Tidied::default() => {}
        Ok(store::Tidied { removed, found, lost }) => {
            tracing::warn!(removed, found, lost, "photos were tidied")
        }
        Err(error) => tracing::error!(%error, "photos could not be tidied"),
    }
}

/// Makes the list of signed visits anew.
fn list(store: &Store) -> Result<(), store::Error> {
    let own = store.own_logs()?;
    store.rebuild_signed(|kept| own.contains(&kept.entry.place.log).then(|| line(kept)).flatten())?;
    Ok(())
}

fn line(kept: &store::Entry) -> Option<SignedVisit> {
    let entry = record::open(&kept.entry.bytes).ok()?;
    let visit = Visit::of_entry(&entry).ok()?;
    let instrument = &visit.finished.instrument;
    Some(SignedVisit {
        place: kept.entry.place,
        tag_key: tag::key(&instrument.tag),
        tag: instrument.tag.clone(),
        service: instrument.service.clone(),
        site: instrument.site.name.clone(),
        signed_at: Claimed(entry.header.claimed.millis),
        verdict: show::short_verdict(&visit.finished.verdict).to_owned(),
    })
}
