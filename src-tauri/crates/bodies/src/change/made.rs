//! What was changed.

use record::LogId;

use super::Import;
use crate::{HubRole, PersonId};

/// What was changed about somebody who is written down at the hub. Never what: no name, no password and nothing made of
/// one stands in an entry, where it could not be erased.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PersonChange {
    /// The person was written down.
    Added {
        /// What the person may do.
        role: HubRole,
        /// Whether with a password, and so may sign in.
        signs_in: bool,
    },
    /// The person has another name.
    Renamed,
    /// The name was erased, and with it all that the hub knew of the person.
    Erased,
    /// The person may do something else from then on.
    Role(HubRole),
    /// The person has another password.
    Password,
    /// The person signs in no more.
    NoSignIn,
}

/// What was changed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ChangeMade {
    /// A table came in from a file.
    Imported(Import),
    /// Something about a person.
    Person(PersonId, PersonChange),
    /// A phone that waited was confirmed, by its log. Its certificate is the entry before. Since version 2.
    PhoneConfirmed(LogId),
    /// The phones were looked through after the hub was restored: which of them are to be trusted. Since version 2.
    PhonesLookedThrough,
}

impl ChangeMade {
    /// Returns the word in the body.
    #[must_use]
    pub fn word(&self) -> &'static str {
        self.what().word()
    }

    pub(super) fn what(&self) -> What {
        match self {
            ChangeMade::Imported(_) => What::Imported,
            ChangeMade::Person(_, PersonChange::Added { .. }) => What::Added,
            ChangeMade::Person(_, PersonChange::Renamed) => What::Renamed,
            ChangeMade::Person(_, PersonChange::Erased) => What::Erased,
            ChangeMade::Person(_, PersonChange::Role(_)) => What::Role,
            ChangeMade::Person(_, PersonChange::Password) => What::Password,
            ChangeMade::Person(_, PersonChange::NoSignIn) => What::NoSignIn,
            ChangeMade::PhoneConfirmed(_) => What::PhoneConfirmed,
            ChangeMade::PhonesLookedThrough => What::PhonesLookedThrough,
        }
    }
}

/// What was changed, without what belongs to it. The words are frozen: none ever gets a second meaning.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum What {
    Imported,
    Added,
    Renamed,
    Erased,
    Role,
    Password,
    NoSignIn,
    PhoneConfirmed,
    PhonesLookedThrough,
}

const WHATS: [What; 9] = [
    What::Imported,
    What::Added,
    What::Renamed,
    What::Erased,
    What::Role,
    What::Password,
    What::NoSignIn,
    What::PhoneConfirmed,
    What::PhonesLookedThrough,
];

impl What {
    pub(super) fn word(self) -> &'static str {
        match self {
            What::Imported => "imported",
            What::Added => "person_added",
            What::Renamed => "person_renamed",
            What::Erased => "person_erased",
            What::Role => "person_role",
            What::Password => "person_password",
            What::NoSignIn => "person_no_sign_in",
            What::PhoneConfirmed => "phone_confirmed",
            What::PhonesLookedThrough => "phones_looked_through",
        }
    }

    /// The version of the body that the word came with: in an older one nobody has written it.
    fn since(self) -> u32 {
        match self {
            What::PhoneConfirmed | What::PhonesLookedThrough => 2,
            _ => 1,
        }
    }

    pub(super) fn from_word(word: &str, version: u32) -> Option<What> {
        WHATS.into_iter().find(|what| what.word() == word && what.since() <= version)
    }
}
