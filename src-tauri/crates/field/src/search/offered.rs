//! What may be meant before anything is typed: what is due, near, or was visited before.

use std::collections::BTreeSet;

use store::{Listed, TagKey};

use crate::tag;
use crate::view::Hit;

/// Instruments, and their sites.
#[derive(Debug, Clone, Default)]
pub(crate) struct Offered {
    instruments: BTreeSet<TagKey>,
    sites: BTreeSet<String>,
}

/// Where an instrument stands among what was offered, the likeliest first.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Standing {
    /// It was offered itself.
    Offered,
    /// Another one of its site was.
    AtItsSite,
    /// Neither was.
    Elsewhere,
}

impl Offered {
    /// Returns these instruments as offered.
    pub(crate) fn of<'a>(hits: impl IntoIterator<Item = &'a Hit>) -> Offered {
        Offered::default().with(hits)
    }

    /// Returns these and more instruments.
    pub(crate) fn with<'a>(&self, hits: impl IntoIterator<Item = &'a Hit>) -> Offered {
        let mut offered = self.clone();
        for hit in hits {
            offered.instruments.insert(tag::key(&hit.tag));
            offered.sites.insert(hit.site.clone());
        }
        offered
    }

    pub(super) fn standing(&self, listed: &Listed) -> Standing {
        if self.instruments.contains(&listed.key) {
            Standing::Offered
        } else if self.sites.contains(&listed.site) {
            Standing::AtItsSite
        } else {
            Standing::Elsewhere
        }
    }
}
