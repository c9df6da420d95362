//! What is counted, for whoever watches the hub. Nothing here names a record, a phone or a person.

use prometheus_client::encoding::EncodeLabelSet;
use prometheus_client::encoding::text::encode;
use prometheus_client::metrics::counter::Counter;
use prometheus_client::metrics::family::Family;
use prometheus_client::metrics::gauge::Gauge;
use prometheus_client::metrics::histogram::{Histogram, exponential_buckets};
use prometheus_client::registry::Registry;

use crate::exchange::Taken;

/// A request's route and status.
#[derive(Debug, Clone, PartialEq, Eq, Hash, EncodeLabelSet)]
pub struct Answered {
    /// The route as it is written in the table of routes, never as it was asked.
    pub route: String,
    /// The status.
    pub status: u16,
}

/// Counters.
#[derive(Debug)]
pub struct Counts {
    registry: Registry,
    /// Requests.
    pub requests: Family<Answered, Counter>,
    /// How long they took, in seconds.
    pub seconds: Histogram,
    /// Entries that were new.
    pub new: Counter,
    /// Entries that wait for a certificate.
    pub parked: Counter,
    /// Entries that were not taken.
    pub refused: Counter,
    /// Places found forked.
    pub forks: Counter,
    /// Bytes of photos that came.
    pub photo_bytes: Counter,
    /// Sign-ins that failed.
    pub not_signed_in: Counter,
    /// Visits worked out again that gave other numbers.
    pub differs: Gauge,
    /// Visits that wait to be worked out again.
    pub waiting: Gauge,
    /// Phones that are trusted, and not looked through since the hub was restored.
    pub to_look_through: Gauge,
}

impl Default for Counts {
    fn default() -> Counts {
        let mut counts = Counts {
            registry: Registry::with_prefix("headmark_hub"),
            requests: Family::default(),
            seconds: Histogram::new(exponential_buckets(0.001, 4.0, 10)),
            new: Counter::default(),
            parked: Counter::default(),
            refused: Counter::default(),
            forks: Counter::default(),
            photo_bytes: Counter::default(),
            not_signed_in: Counter::default(),
            differs: Gauge::default(),
            waiting: Gauge::default(),
            to_look_through: Gauge::default(),
        };
        counts.register();
        counts
    }
}

impl Counts {
    fn register(&mut self) {
        let registry = &mut self.registry;
        registry.register("requests", "Requests by route and status", self.requests.clone());
        registry.register("request_seconds", "How long requests took", self.seconds.clone());
        registry.register("entries_new", "Entries that were new", self.new.clone());
        registry.register("entries_parked", "Entries that wait for a certificate", self.parked.clone());
        registry.register("entries_refused", "Entries that were not taken", self.refused.clone());
        registry.register("forks", "Places of logs found forked", self.forks.clone());
        registry.register("photo_bytes", "Bytes of photos that came", self.photo_bytes.clone());
        registry.register("sign_ins_failed", "Sign-ins that failed", self.not_signed_in.clone());
        registry.register("visits_differing", "Visits that give other numbers here", self.differs.clone());
        registry.register("visits_waiting", "Visits that wait to be worked out again", self.waiting.clone());
        registry.register(
            "phones_to_look_through",
            "Phones that are trusted and were not looked through since the hub was restored",
            self.to_look_through.clone(),
        );
    }

    /// Counts what an exchange or a file brought.
    pub fn took(&self, taken: &Taken) {
        self.new.inc_by(taken.new);
        self.parked.inc_by(taken.parked);
        self.forks.inc_by(taken.forks);
        self.refused.inc_by(taken.refused.len() as u64 + taken.not_entries);
    }

    /// Writes all of it in the text form that Prometheus reads.
    #[must_use]
    pub fn text(&self) -> String {
        let mut text = String::new();
        // A text takes everything.
        let _ = encode(&mut text, &self.registry);
        text
    }
}
