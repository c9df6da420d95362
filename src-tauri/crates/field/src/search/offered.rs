//! What a person was offered without searching: what is due, near, or was visited before.

use std::collections::BTreeSet;

use store::{Listed, TagKey};

use crate::tag;
use crate::view::Hit;

/// The instruments last offered, and their sites.
#[derive(Debug, Default)]
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
        let mut offered = Offered::default();
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
