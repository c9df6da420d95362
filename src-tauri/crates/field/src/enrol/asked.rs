//! Asking to belong to a hub, and what is kept of it until a supervisor confirms.

use exchange::enrol::{Invitation, six_digits, to_prove};
use record::{LogId, Signer};
use serde::{Deserialize, Serialize};
use tagcode::safe_text;

use crate::identity::{from_hex, hex};
use crate::view::EnrolView;
use crate::{Error, Phone, identity};

/// The setting that holds what is waited for.
const PENDING: &str = "enrol.pending";

/// What a carrier brings to the hub, and only to a hub that the organisation certified.
#[derive(Debug, Clone)]
pub struct Invited {
    /// Where the hub is.
    pub address: String,
    /// The log of the organisation's key, which must have certified the hub.
    pub organisation: LogId,
    /// The one-time code: said to nobody else.
    pub code: [u8; 16],
    /// This phone's COSE_Key.
    pub key: Vec<u8>,
    /// What this phone calls itself. It says no person's name.
    pub label: String,
    /// The proof that the key is this phone's.
    pub proof: [u8; 64],
}

/// The hub that was met, and that the organisation's entries vouch for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Met {
    /// Its log.
    pub hub: LogId,
    /// SHA-256 of the public keys that its server may show.
    pub pins: Vec<[u8; 32]>,
}

/// What is kept while a supervisor has not confirmed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub(super) struct Pending {
    pub(super) address: String,
    organisation: String,
    hub: String,
    pins: Vec<String>,
    /// The log that was asked for; a phone that lost its key meanwhile waits for nothing.
    log: String,
    pub(super) digits: String,
}

impl Pending {
    pub(super) fn organisation(&self) -> Option<LogId> {
        Some(LogId(from_hex(&self.organisation)?.try_into().ok()?))
    }

    pub(super) fn log(&self) -> Option<LogId> {
        Some(LogId(from_hex(&self.log)?.try_into().ok()?))
    }

    pub(super) fn met(&self) -> Option<Met> {
        let hub = LogId(from_hex(&self.hub)?.try_into().ok()?);
        let pins = self.pins.iter().map(|pin| from_hex(pin)?.try_into().ok());
        Some(Met { hub, pins: pins.collect::<Option<_>>()? })
    }
}

impl Phone {
    /// Takes up the hub's code, scanned or typed, and returns what to bring to that hub.
    ///
    /// # Errors
    ///
    /// [`Error::NotAnInvitation`], [`Error::Key`], and what the store says.
    pub fn enrol_begin(&self, text: &str) -> Result<Invited, Error> {
        // A page is given a code made safe to show, and shortened; what was scanned is kept whole.
        let scanned = self.scanned();
        let text = if safe_text(&scanned) == text { &scanned } else { text };
        let invitation = Invitation::read(text).map_err(|_| Error::NotAnInvitation)?;
        let key = identity::signer(self.store(), self.ports())?;
        let log = key.public().log();
        let label = format!("phone {}", hex(log.0.get(..4).unwrap_or_default()));
        Ok(Invited {
            proof: key.sign(&to_prove(invitation.organisation, &invitation.code, &label))?.0,
            key: key.public().cose().to_vec(),
            label,
            address: invitation.address,
            organisation: invitation.organisation,
            code: invitation.code,
        })
    }

    /// The hub took the code: from now on this phone shows its digits and waits.
    ///
    /// # Errors
    ///
    /// What the store says.
    pub fn enrol_asked(&self, invited: &Invited, met: &Met) -> Result<EnrolView, Error> {
        let log = record::PublicKey::from_cose(&invited.key)?.log();
        let pending = Pending {
            address: invited.address.clone(),
            organisation: hex(&invited.organisation.0),
            hub: hex(&met.hub.0),
            pins: met.pins.iter().map(|pin| hex(pin)).collect(),
            log: hex(&log.0),
            digits: six_digits(met.hub, log, &invited.code),
        };
        let text = serde_json::to_string(&pending).map_err(|_| Error::NotAnInvitation)?;
        self.store().set(&[(PENDING, &text)])?;
        self.enrol_view()
    }

    /// Gives up waiting.
    ///
    /// # Errors
    ///
    /// What the store says.
    pub fn enrol_give_up(&self) -> Result<EnrolView, Error> {
        self.forget_enrolment()?;
        self.enrol_view()
    }

    pub(super) fn forget_enrolment(&self) -> Result<(), Error> {
        Ok(self.store().set(&[(PENDING, "")])?)
    }

    /// What is waited for; what cannot be read, or was for another key, is nothing.
    pub(super) fn pending_enrolment(&self) -> Result<Option<Pending>, Error> {
        let Some(text) = self.store().setting(PENDING)?.filter(|text| !text.is_empty()) else {
            return Ok(None);
        };
        let own = self.store().identity()?.map(|identity| identity.log.of_record());
        let pending = serde_json::from_str::<Pending>(&text).ok();
        Ok(pending.filter(|pending| pending.log().is_some() && pending.log() == own))
    }
}
