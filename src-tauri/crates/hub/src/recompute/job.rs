//! The queue of visits to be worked out again: rows claimed for a time, safe to be done twice.

use std::time::Duration;

use hubstore::{Found, HubStore, Job, Moment};
use tokio::sync::watch;

use super::compare;
use crate::Error;
use crate::clock::Clock;

/// How many visits are claimed at once.
const AT_ONCE: u32 = 32;
/// For how long; who does not finish by then loses them to the next.
const CLAIM_SECONDS: i64 = 120;
/// How often a visit may be claimed before it is said that it cannot be worked out.
const TRIES: u32 = 5;
/// How long to wait where nothing waits.
const PAUSE: Duration = Duration::from_secs(2);

/// Works off what is in the queue now and returns how many visits that were.
///
/// # Errors
///
/// What the store says; what was claimed comes up again.
pub async fn work_off(store: &impl HubStore, clock: &Clock) -> Result<u64, Error> {
    let mut done = 0;
    loop {
        let now = clock.now();
        let until = Moment(now.after_seconds(CLAIM_SECONDS).0);
        let jobs = store.claim(Moment(now.0), until, AT_ONCE).await?;
        if jobs.is_empty() {
            return Ok(done);
        }
        done += jobs.len() as u64;
        let mut found = Vec::with_capacity(jobs.len());
        for job in jobs {
            found.push((job.arrival, one(store, job).await?));
        }
        store.finish(&found).await?;
    }
}

async fn one(store: &impl HubStore, job: Job) -> Result<Found, Error> {
    if job.tries > TRIES {
        return Ok(Found::Unreadable("Working it out was broken off again and again.".into()));
    }
    let Some(stored) = store.entry(job.id).await? else {
        return Ok(Found::Unreadable("The entry is not held.".into()));
    };
    let compared = tokio::task::spawn_blocking(move || {
        let entry = record::open(&stored.bytes).ok()?;
        compare(&entry)
    });
    // A panic in the maths is a finding about this visit and must not stop the others.
    let found = compared.await.unwrap_or_else(|_| Some(Found::Unreadable("Working it out failed.".into())));
    Ok(found.unwrap_or_else(|| Found::Unreadable("The entry is no visit.".into())))
}

/// Works on the queue until told to stop. What waited for a newer hub comes up again first: this may be one.
pub async fn work_through(store: &impl HubStore, clock: &Clock, mut stop: watch::Receiver<bool>) {
    if let Err(error) = store.requeue(Found::NewerModel(0).word()).await {
        tracing::warn!(%error, "visits of newer apps were not looked at again; they are at the next start");
    }
    while !*stop.borrow() {
        if let Err(error) = work_off(store, clock).await {
            tracing::warn!(%error, "visits could not be worked out again; it is tried again");
        }
        tokio::select! {
            () = tokio::time::sleep(PAUSE) => {}
            changed = stop.changed() => if changed.is_err() { return },
        }
    }
}
