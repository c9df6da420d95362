//! Taking a bundle in.

use std::collections::BTreeSet;

use bodies::RECEIPT;
use exchange::bundle::{self, Piece};
use exchange::intake::{self, Arrived};
use exchange::packed;
use exchange::page::Page;
use record::{LogId, Strict};
use store::{Place, Store};

use crate::counted::counted;
use crate::forks::in_file;
use crate::message::saying;
use crate::view::{BundleReport, Grade, Message};
use crate::{Error, Phone};

impl Phone {
    /// Takes in a bundle that was uploaded. Everything in it is verified; what does not hold, and what there is no room for,
    /// is left out and said.
    ///
    /// # Errors
    ///
    /// What the upload says, [`Error::Exchange`] for what is no bundle, and what the store says.
    pub fn bundle_take(&self, upload: &str) -> Result<BundleReport, Error> {
        let packed = self.take_upload(upload)?;
        let (bytes, all_came) = packed::unpack_what_came(&packed, bundle::MOST_ON_PHONE)?;
        drop(packed);
        let (pieces, cut) = bundle::read(&bytes)?;
        let known = |log: LogId| self.store().public_key(store::LogId::of(log)).ok().flatten();
        let intake = intake::bundle(&pieces, known, &Strict);
        let _changing = self.changing();
        let new = new_logs(self.store(), &intake.entries)?;
        let forked = self.store().forked()?;
        let brought = self.store().take_bundle("bundle", &intake.keys, &intake.entries)?;
        let pages = take_pages(self.store(), &pieces)?;
        self.relay(&new)?;
        self.exchanged();
        let mut messages = Vec::new();
        messages.extend((cut.is_some() || !all_came).then(cut_short));
        messages.extend((!intake.bad.is_empty()).then(|| bad(intake.bad.len())));
        messages.extend(in_file(self.store().forked()?.iter().any(|log| !forked.contains(log))));
        messages.extend((brought.no_room > 0).then(|| no_room(brought.no_room)));
        Ok(BundleReport { text: outcome(brought.new, pages), messages })
    }
}

/// The logs of which something comes that is new and no receipt. A receipt for receipts would call for another, for ever.
fn new_logs(store: &Store, entries: &[Arrived]) -> Result<BTreeSet<LogId>, Error> {
    let mut new = BTreeSet::new();
    for arrived in entries.iter().filter(|arrived| arrived.kind != RECEIPT) {
        let place = Place { log: store::LogId::of(arrived.id.log), seq: store::Seq::of(arrived.id.seq) };
        let held = store.entry(place)?.is_some_and(|kept| kept.entry.hash.of_record() == arrived.id.payload);
        if !held {
            new.insert(arrived.id.log);
        }
    }
    Ok(new)
}

/// Applies register pages in their order; only the hub of the page's epoch may have signed one.
fn take_pages(store: &Store, pieces: &[Piece<'_>]) -> Result<u32, Error> {
    let trust = exchange::session::Ledger::trust(store)?;
    let epoch = exchange::session::Ledger::marks(store)?.epoch;
    let mut applied = 0;
    for piece in pieces {
        let Piece::Page(bytes) = piece else { continue };
        let Ok(signer) = Page::signer_of(bytes) else { continue };
        if epoch.and_then(|epoch| trust.hub_of(epoch)) != Some(signer) {
            continue;
        }
        let Some(key) = store.public_key(store::LogId::of(signer))? else { continue };
        let Ok(signed) = Page::open(bytes, &key, &Strict) else { continue };
        if Some(signed.page.epoch) == epoch && store.apply_page(&signed.page)? == store::Applied::Now {
            applied += 1;
        }
    }
    Ok(applied)
}

fn outcome(entries: u32, pages: u32) -> String {
    let register = if pages > 0 { " The register was brought up to date." } else { "" };
    let records = match entries {
        0 => "Nothing in the file was new here.".to_owned(),
        1 => "1 record was new and was taken in.".to_owned(),
        more => format!("{more} records were new and were taken in."),
    };
    format!("{records}{register}")
}

fn cut_short() -> Message {
    let text = "The file breaks off. What came whole of it was taken in.";
    saying(
        "bundle.cut_short",
        Grade::Warning,
        text,
        "Ask for the file again for the rest; taking it in twice does no harm.",
    )
}

fn bad(many: usize) -> Message {
    let were = if many == 1 { "was" } else { "were" };
    let records = counted(many, "record");
    let text = format!("{records} of the file did not hold and {were} left out. All else was taken in.");
    saying("bundle.bad_entries", Grade::Warning, &text, "Ask whoever made the file to make it again.")
}

fn no_room(many: u32) -> Message {
    let were = if many == 1 { "was" } else { "were" };
    let text = format!(
        "{} of phones that nobody has certified yet {were} left out: there is no more room here for such. All else was \
         taken in.",
        counted(many, "record")
    );
    saying(
        "bundle.no_room",
        Grade::Warning,
        &text,
        "Keep the file, or hand it to whoever looks after the hub. Once those phones are enrolled and this one has sent, \
         take it in again.",
    )
}
