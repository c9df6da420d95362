//! A hub on a storage that can lose its power, fill up and fail.

use faults_vfs::Mounted;
use hubstore::{Error, Flush, Opening, Sqlite};
use tokio::runtime::{Builder, Runtime};

use crate::story::{Deed, day};
use crate::truth::Truth;

/// The storage, the day that is played on it, and what must be there along the day.
pub(crate) struct Machine {
    pub(crate) mounted: Mounted,
    pub(crate) runtime: Runtime,
    pub(crate) deeds: Vec<Deed>,
    pub(crate) truths: Vec<Truth>,
}

impl Machine {
    pub(crate) fn named(name: &str) -> Machine {
        let runtime = Builder::new_current_thread().build().unwrap();
        let deeds = day();
        let truths = runtime.block_on(Truth::along(&deeds));
        Machine { mounted: Mounted::named(name), runtime, deeds, truths }
    }

    pub(crate) fn open(&self, flush: Flush) -> Result<Sqlite, Error> {
        Opening::at("hub.db").through(self.mounted.name()).flush(flush).open()
    }
}
