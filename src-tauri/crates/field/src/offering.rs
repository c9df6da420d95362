//! What an instrument is likely to be meant for, known before anything is typed: it is due, it is near, or it was visited.
//!
//! A search leans on it whether or not a person looked at those lists: what is due and what was visited this phone knows by
//! itself. What is near it knows from the last time that somebody asked, because only then it is told where it is.

use std::sync::Arc;

use crate::search::Offered;
use crate::view::{Hit, ListsView};
use crate::{Error, Phone};

/// What is held of it while the app runs.
#[derive(Default)]
pub(crate) struct Offers {
    near: Offered,
    /// All of it; none until a search asks, and again once something may have changed.
    all: Option<Arc<Offered>>,
}

impl Phone {
    /// Returns what is due, was near or was visited.
    pub(crate) fn offered(&self) -> Arc<Offered> {
        let mut offers = self.offers();
        if let Some(all) = &offers.all {
            return Arc::clone(all);
        }
        let lists = match self.read_lists() {
            Ok(lists) => lists,
            Err(error) => {
                // It only sets an order: a search must not fail with a list that cannot be read.
                tracing::warn!(code = error.code(), "a search goes without what is due and was visited");
                return Arc::new(offers.near.clone());
            }
        };
        let all = Arc::new(offers.near.with(lists.work.iter().chain(&lists.recent)));
        offers.all = Some(Arc::clone(&all));
        all
    }

    pub(crate) fn read_lists(&self) -> Result<ListsView, Error> {
        Ok(ListsView { work: self.work_list()?, recent: self.recent()? })
    }

    /// Keeps what is near, in place of what was.
    pub(crate) fn offer_near<'a>(&self, hits: impl IntoIterator<Item = &'a Hit>) {
        *self.offers() = Offers { near: Offered::of(hits), all: None };
    }

    /// A visit, the register or the day changed what is due or was visited.
    pub(crate) fn forget_offered(&self) {
        self.offers().all = None;
    }
}
