//! What is said where two different records stand at one place of a phone's records: each was signed, both are kept, and
//! which of them counts is for people to decide.

use std::collections::BTreeSet;

use store::LogId;

use crate::message::saying;
use crate::view::{Grade, Message};
use crate::{Error, Phone};

impl Phone {
    /// Returns what there is to say of forks that this phone knows of.
    pub(crate) fn fork_messages(&self) -> Result<Vec<Message>, Error> {
        let mut forked: BTreeSet<LogId> = self.store().forked()?.into_iter().collect();
        let writes = self.store().identity()?.map(|identity| identity.log);
        let own = writes.is_some_and(|log| forked.remove(&log)) || self.store().is_copied()?;
        let mut messages = Vec::new();
        messages.extend(own.then(copied));
        messages.extend((!forked.is_empty()).then(|| others(forked.len())));
        Ok(messages)
    }
}

/// Of this phone's own records.
fn copied() -> Message {
    let text = "Records were signed with this phone's key that are not this phone's: a copy of the phone is in use, or \
                its data was put back from an older copy. All of them are kept, and from where the two part none counts until \
                your supervisor has decided.";
    let remedy =
        "Tell your supervisor, who decides which of them count. Until then sign with one of the two only.";
    saying("records.copied", Grade::Warning, text, remedy)
}

/// Of records that other phones signed, or this one before its data was lost.
fn others(phones: usize) -> Message {
    let whose = if phones == 1 { "one phone".to_owned() } else { format!("{phones} phones") };
    let text = format!(
        "Among the records of {whose} two different ones stand at the same place: somebody signed with a copied key. \
         Both are kept and passed on, and from there on none counts until your supervisor has decided."
    );
    let remedy = "Tell your supervisor, who decides which of them count.";
    saying("records.forked", Grade::Warning, &text, remedy)
}

/// Of what a file brought.
pub(crate) fn in_file(new: bool) -> Option<Message> {
    let text = "The file holds a record that stands where a different one of the same phone is kept here: somebody \
                signed with a copied key. Both are kept.";
    let remedy = "Tell your supervisor, who decides which of them count. This stays to be read under Records to the hub.";
    new.then(|| saying("bundle.forked", Grade::Warning, text, remedy))
}
