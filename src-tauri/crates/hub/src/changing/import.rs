//! Tables that come in from files: the register's instruments, and the sensors that could be fitted.

use bodies::{ChangeMade, FileHash, Import, PersonId, RowsChanged, Table};
use domain::visit::SensorRange;
use hubstore::{Error as StoreError, Follows, HubStore, Put, Putting, Rows};
use record::{Proof, Signer};

use super::entry::entry;
use crate::Error;
use crate::home::Hub;
use crate::register::{SensorsPut, sensors, would_put_sensors};
use crate::saying::TRIES;

/// What came of an import.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TakenIn {
    /// What it came to in the register.
    pub put: Put,
    /// Whether the table of sensors is another one from then on.
    pub sensors: bool,
}

/// Takes in what a file held, all of it or nothing. No sensors leave theirs alone: a table of instruments says nothing
/// about them.
///
/// # Errors
///
/// What the store says; then nothing was taken.
pub async fn import<S, K, P>(
    hub: &Hub<S, K, P>,
    by: Option<PersonId>,
    file: FileHash,
    (rows, ranges): (Rows, Vec<SensorRange>),
) -> Result<TakenIn, Error>
where
    S: HubStore,
    K: Signer + Send + Sync,
    P: Proof + Clone + Send + Sync + 'static,
{
    for _ in 0..TRIES {
        let put = hub.store.would_put(&rows).await?;
        let table = if ranges.is_empty() {
            None
        } else {
            would_put_sensors(sensors(&hub.store).await?.as_ref(), &ranges)?
        };
        let taken = TakenIn { put, sensors: table.is_some() };
        let (mut said, mut follows) = (Vec::new(), Follows::default());
        if put.version > put.before() {
            said.push(entry(by, ChangeMade::Imported(of_instruments(file, put)))?);
            follows.import = Some(Putting { rows: rows.clone(), put });
        }
        if let Some(SensorsPut { rows, before, after, setting }) = table {
            let import = Import { table: Table::Sensors, file, before, after, rows };
            said.push(entry(by, ChangeMade::Imported(import))?);
            follows.settings.push(setting);
        }
        if said.is_empty() || hub.say_once(&said, follows).await?.is_some() {
            return Ok(taken);
        }
    }
    Err(StoreError::Busy.into())
}

fn of_instruments(file: FileHash, put: Put) -> Import {
    let Put { added, changed, moved, removed, .. } = put;
    Import {
        table: Table::Instruments,
        file,
        before: put.before().0,
        after: put.version.0,
        rows: RowsChanged { added, changed, moved, removed },
    }
}
