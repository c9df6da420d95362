//! What the register says to find an instrument by, gathered when it is loaded: positions and the work list.
//!
//! It lies beside the register as a whole, so that a list needs not read every sheet; loaded with it in one step, and gone
//! with the next one.

use domain::quantity::{LengthSystem, Position};
use domain::visit::Instrument;
use serde::{Deserialize, Serialize};
use store::TagKey;

use crate::{Error, Phone, tag};

/// The setting it is kept under.
pub(crate) const SETTING: &str = "register.whereabouts";

/// Where an instrument stands and what is to be done there.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(crate) struct Whereabouts {
    /// The tag, folded.
    pub(crate) key: String,
    /// As the register writes it.
    pub(crate) position: String,
    /// The day its next visit is due.
    pub(crate) due: String,
    /// Why it stands on the work list.
    pub(crate) work: String,
    /// True where people count in feet.
    pub(crate) feet: bool,
}

impl Whereabouts {
    /// Returns what a row says; none where it says nothing.
    pub(crate) fn of(row: &Instrument) -> Option<Whereabouts> {
        let text = |text: &str| text.trim().to_owned();
        let whereabouts = Whereabouts {
            key: tag::key(&row.tag).0,
            position: text(&row.position),
            due: text(&row.due),
            work: text(&row.work),
            feet: LengthSystem::from_word(row.site.lengths.trim()) == Some(LengthSystem::Feet),
        };
        let says =
            !(whereabouts.position.is_empty() && whereabouts.due.is_empty() && whereabouts.work.is_empty());
        says.then_some(whereabouts)
    }

    /// Returns the position.
    pub(crate) fn position(&self) -> Option<Position> {
        Position::read(&self.position)
    }

    /// Returns the folded tag.
    pub(crate) fn key(&self) -> TagKey {
        TagKey(self.key.clone())
    }
}

impl Phone {
    /// Returns what the register that is loaded says of where its instruments stand.
    pub(crate) fn whereabouts(&self) -> Result<Vec<Whereabouts>, Error> {
        let Some(text) = self.store().setting(SETTING)? else { return Ok(Vec::new()) };
        serde_json::from_str(&text).map_err(|_| Error::UnreadableInstrument)
    }
}
