//! A relay's receipt: this phone says what it now holds of others' logs, so that their phones can say "also on another
//! phone". It is an entry of this phone's log and travels like any other.

use std::collections::BTreeSet;

use bodies::{Grade, RECEIPT, RECEIPT_VERSION, Receipt};
use exchange::receipt;
use record::LogId;

use super::covered::Receipts;
use crate::{Error, Phone};

impl Phone {
    /// Signs a receipt for each of these logs of which more is held now than the last one said. Own logs and the hub's
    /// need none.
    pub(super) fn relay(&self, new: &BTreeSet<LogId>) -> Result<(), Error> {
        let store = self.store();
        let own: BTreeSet<LogId> = store.own_logs()?.into_iter().map(store::LogId::of_record).collect();
        let hubs: BTreeSet<LogId> = store.hub_logs()?.iter().map(|hub| hub.log.of_record()).collect();
        let signs = self.exchange_log()?;
        let receipts = Receipts::of(store)?;
        for log in new.iter().filter(|log| !own.contains(log) && !hubs.contains(log)) {
            let now = Receipt {
                epoch: None,
                log: *log,
                runs: receipt::runs(&store.runs(store::LogId::of(*log))?),
                // A bundle carries no photos, so of another's photos nothing is here.
                photos: BTreeSet::new(),
                grade: Grade::Relayed,
            };
            if receipt::says_more(receipts.relayed(signs, *log), &now) {
                self.append((RECEIPT, RECEIPT_VERSION), &now.encode()?)?;
            }
        }
        Ok(())
    }

    fn exchange_log(&self) -> Result<LogId, Error> {
        Ok(record::Signer::public(&self.exchange_key()?).log())
    }
}
