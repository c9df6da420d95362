//! A phone brings entries and is told what is new.

use std::collections::BTreeSet;

use ::exchange::message::{Answer, Push, read_push, session_of};
use ::exchange::run::Wanted;
use ::exchange::{Error as Refused, intake};
use bodies::Grade;
use hubstore::HubStore;
use record::{LogId, Signer};
use thiserror::Error as Thrown;

use super::feed::{Feed, feed};
use super::hello::wanted;
use super::news::{Asked, News, news};
use super::session::{GivingBack, Session};
use super::{Came, Taken, give_receipts};
use crate::Error;
use crate::home::Hub;

/// Why an exchange stopped.
#[derive(Debug, Thrown)]
pub enum PushError {
    /// What came cannot be answered; it is the sender's to do something.
    #[error(transparent)]
    Exchange(#[from] Refused),
    /// The hub could not; the sender tries again.
    #[error(transparent)]
    Hub(#[from] Error),
}

impl From<hubstore::Error> for PushError {
    fn from(error: hubstore::Error) -> PushError {
        PushError::Hub(error.into())
    }
}

/// The most logs that one push may ask about.
pub(super) const MOST_ABOUT: usize = 1_000;
/// The most bytes of register pages in one answer.
const MOST_PAGES: usize = 1 << 20;
/// The most gaps that one answer asks to be filled.
const MOST_WANTED: usize = 1_000;

/// Answers a push, given unpacked. `session` are 32 random bytes for the next one.
///
/// A phone that met this epoch just now is told nothing before it has given back what this hub lost of hubs' logs: no
/// news, no receipts, no pages.
///
/// # Errors
///
/// [`Refused::NotProved`] for a session that was used, expired or given to another key; what the store says.
pub async fn push<S, K, P>(
    hub: &Hub<S, K, P>,
    bytes: &[u8],
    session: [u8; 32],
) -> Result<(Answer, Taken), PushError>
where
    S: HubStore,
    K: Signer + Send + Sync,
    P: record::Proof + Clone + Send + Sync + 'static,
{
    let (Session { key, giving_back }, mut push) = proved(hub, bytes).await?;
    push.about.truncate(MOST_ABOUT);
    let came = Came {
        carrier: key.log().0,
        keys: intake::keys(push.keys.iter().map(|key| key.as_slice())),
        entries: std::mem::take(&mut push.entries).into_iter().map(Vec::from).collect(),
    };
    let taken = hub.take(came).await?;
    let lacking = lacking(hub, &push, &taken).await?;
    let giving_back = giving_back.after(&push, lacking.of_hubs);
    let (news, feed) = if giving_back == GivingBack::Ended {
        give_receipts(hub, &owed(hub, &push, &taken).await?, Grade::Stored).await?;
        let lacks = push.lacks.as_deref().unwrap_or_default();
        let asked = Asked { after: push.news, about: &push.about, lacks };
        let news = news(hub, key.log(), asked).await?;
        (news, feed(hub, key.log(), &push.areas, MOST_PAGES).await?)
    } else {
        (News { upto: push.news, ..News::default() }, Feed::default())
    };
    Session { key, giving_back }.give(hub, session).await?;
    let answer = Answer {
        session,
        refused: taken.refused.clone(),
        wanted: lacking.wanted,
        keys: news.keys,
        entries: news.entries,
        news: news.upto,
        pages: feed.pages,
        more: news.more || news.receipts_left || feed.more,
    };
    Ok((answer, taken))
}

/// Spends the session and checks that the key which it was given to made the push.
async fn proved<S, K, P>(hub: &Hub<S, K, P>, bytes: &[u8]) -> Result<(Session, Push), PushError>
where
    S: HubStore,
    K: Signer + Send + Sync,
    P: record::Proof + Clone + Send + Sync + 'static,
{
    let session = Session::spend(hub, session_of(bytes)?).await?;
    let push = read_push(bytes, |_| Some(session.key.clone()), &hub.signing.proof)?;
    Ok((session, push))
}

/// The logs that a receipt may be owed for: those that grew, and those that the phone asks about, since photos come
/// by their own way.
async fn owed<S, K, P>(hub: &Hub<S, K, P>, push: &Push, taken: &Taken) -> Result<BTreeSet<LogId>, Error>
where
    S: HubStore,
    K: Signer + Send + Sync,
    P: record::Proof + Clone + Send + Sync + 'static,
{
    let about = push.about.iter().map(|about| about.log);
    of_devices(hub, about.chain(taken.grown.iter().copied())).await
}

/// Receipts are for phones; what hubs and the organisation said is not theirs to be acknowledged.
pub(super) async fn of_devices<S, K, P>(
    hub: &Hub<S, K, P>,
    logs: impl Iterator<Item = LogId>,
) -> Result<BTreeSet<LogId>, Error>
where
    S: HubStore,
    K: Signer + Send + Sync,
    P: record::Proof + Clone + Send + Sync + 'static,
{
    let trusted = hub.trusted().await?;
    Ok(logs.filter(|log| trusted.trust().device(*log).is_some()).collect())
}

/// What is lacking still.
struct Lacking {
    wanted: Vec<Wanted>,
    /// Whether some of it is of a hub's log or the organisation's.
    of_hubs: bool,
}

/// What is lacking still: gaps under what came, and what the phone holds of hubs' logs that this hub lost.
async fn lacking<S, K, P>(hub: &Hub<S, K, P>, push: &Push, taken: &Taken) -> Result<Lacking, Error>
where
    S: HubStore,
    K: Signer + Send + Sync,
    P: record::Proof + Clone + Send + Sync + 'static,
{
    let logs: Vec<LogId> = taken.touched.iter().copied().collect();
    let runs = hub.store.runs(&logs).await?;
    let mut lacking: Vec<Wanted> = runs.iter().flat_map(|(log, runs)| runs.gaps(*log)).collect();
    let trusted = hub.trusted().await?;
    let is_hub = |log| trusted.trust().hub(log).is_some() || trusted.trust().is_organisation(log);
    let mut of_hubs = lacking.iter().any(|wanted| is_hub(wanted.log));
    if let Some(have) = &push.have {
        let lost = wanted(hub, have).await?;
        of_hubs |= !lost.is_empty();
        lacking.extend(lost);
    }
    lacking.sort_unstable();
    lacking.dedup();
    lacking.truncate(MOST_WANTED);
    Ok(Lacking { wanted: lacking, of_hubs })
}
