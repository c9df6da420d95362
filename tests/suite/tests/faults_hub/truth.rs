//! All that a hub's store says of itself.

use hubstore::{Arrival, Error, Fork, HubStore, Item, Memory, ParkedLog, PhotoRow, Tally};
use tokio::sync::mpsc::channel;

use crate::story::{Deed, PHOTO};

/// What is there. Whatever stands in a dump, and what is worked out beside it and found by itself.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Truth {
    items: Vec<Item>,
    newest: Arrival,
    forks: Vec<Fork>,
    parked: Vec<ParkedLog>,
    photo: Option<PhotoRow>,
    visits: u64,
    tally: Tally,
    areas: Vec<(String, hubstore::Version)>,
    runs: usize,
}

impl Truth {
    /// What a store says.
    pub(crate) async fn of(store: &impl HubStore) -> Result<Truth, Error> {
        let (to, mut from) = channel(64);
        let listen = async {
            let mut items = Vec::new();
            while let Some(item) = from.recv().await {
                items.push(item);
            }
            items
        };
        let (dumped, items) = tokio::join!(store.dump(to), listen);
        dumped?;
        let logs: Vec<_> = store.logs(None, 100).await?.into_iter().map(|row| row.log).collect();
        let runs = store.runs(&logs).await?.values().map(|runs| runs.all().len()).sum();
        Ok(Truth {
            items,
            newest: store.newest().await?,
            forks: store.forks().await?,
            parked: store.parked().await?,
            photo: store.photo(PHOTO).await?,
            visits: store.visit_count().await?,
            tally: store.tally().await?,
            areas: store.areas().await?,
            runs,
        })
    }

    /// What must be there before the first deed and after each.
    pub(crate) async fn along(deeds: &[Deed]) -> Vec<Truth> {
        let model = Memory::new();
        let mut truths = vec![Truth::of(&model).await.unwrap()];
        for deed in deeds {
            deed.on(&model).await.unwrap();
            truths.push(Truth::of(&model).await.unwrap());
        }
        truths
    }
}
