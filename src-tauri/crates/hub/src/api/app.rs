//! What every handler reaches.

use std::sync::Arc;
use std::time::Duration;

use hubstore::PhotoStore;
use tokio::sync::Semaphore;

use super::Counts;
use crate::Store;
use crate::home::Hub;

/// How much is taken at once. Every route has its own bound of bytes and of time.
#[derive(Debug, Clone)]
pub struct Limits {
    /// The most bytes of a packed push.
    pub push: usize,
    /// The most bytes of an unpacked push.
    pub push_unpacked: usize,
    /// The most bytes of a packed hello.
    pub hello: usize,
    /// The most bytes of an unpacked hello.
    pub hello_unpacked: usize,
    /// The most bytes of a piece of a photo.
    pub piece: usize,
    /// The most bytes of any other body.
    pub body: usize,
    /// How many pushes are worked on at once; the others wait with their bytes still packed.
    pub pushes: usize,
    /// How many connections may be open at once; below the files that most systems let a program open.
    pub connections: usize,
    /// How many of them from one address.
    pub connections_of_one: usize,
    /// How long a request may take to say what it asks; a connection on which nothing is asked is closed after as long.
    /// Phones close theirs before that.
    pub header: Duration,
    /// How long an exchange may take, its way over a slow link included.
    pub slow: Duration,
    /// How long anything else may take.
    pub usual: Duration,
    /// Requests a minute from one address to what costs much: signing in, enrolling.
    pub dear_a_minute: u64,
    /// Requests a minute from one address to anything else.
    pub usual_a_minute: u64,
}

impl Default for Limits {
    fn default() -> Limits {
        Limits {
            push: 4 << 20,
            push_unpacked: 4 << 20,
            hello: 1 << 20,
            hello_unpacked: 4 << 20,
            piece: 256 << 10,
            body: 64 << 10,
            pushes: 4,
            connections: 768,
            connections_of_one: 128,
            header: Duration::from_secs(60),
            slow: Duration::from_secs(10 * 60),
            usual: Duration::from_secs(30),
            dear_a_minute: 10,
            usual_a_minute: 1_200,
        }
    }
}

/// What every handler reaches.
#[derive(Debug, Clone)]
pub struct App(pub(super) Arc<Inside>);

#[derive(Debug)]
pub(super) struct Inside {
    pub(super) hub: Hub<Store>,
    pub(super) photos: PhotoStore,
    pub(super) address: String,
    pub(super) limits: Limits,
    pub(super) counts: Counts,
    pub(super) pushes: Semaphore,
}

impl App {
    /// Puts a hub behind its doors. `address` is where phones reach it.
    #[must_use]
    pub fn new(hub: Hub<Store>, photos: PhotoStore, address: String, limits: Limits) -> App {
        let pushes = Semaphore::new(limits.pushes);
        App(Arc::new(Inside { hub, photos, address, limits, counts: Counts::default(), pushes }))
    }

    /// Returns the hub.
    #[must_use]
    pub fn hub(&self) -> &Hub<Store> {
        &self.0.hub
    }

    /// Returns where the bytes of photos are.
    #[must_use]
    pub fn photos(&self) -> &PhotoStore {
        &self.0.photos
    }

    /// Returns what is counted.
    #[must_use]
    pub fn counts(&self) -> &Counts {
        &self.0.counts
    }

    pub(crate) fn limits(&self) -> &Limits {
        &self.0.limits
    }
}
